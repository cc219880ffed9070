package reckon

import (
	"fmt"
	"math"

	"jetwright/design"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/physics/jet"
)

// Finding is one sentence of an audit with the numbers behind it.
type Finding struct {
	Topic   string // "momentum", "pump efficiency", "cavitation", "place of power", "mesh"
	Grade   Grade
	Text    string
	Figures []FindingFigure
}

// FindingFigure is a number of a finding.
type FindingFigure struct {
	Name, Unit string
	Value      float64 // SI
}

// Grade says how a finding bears on the promise.
type Grade string

// Grades of findings.
const (
	Sound    Grade = "sound"
	Doubtful Grade = "doubtful"
	Breaks   Grade = "breaks"
	Unsaid   Grade = "unsaid"
)

// Audit is a promise examined before any test.
type Audit struct {
	Claim    design.Claim
	Findings []Finding
}

// attainableMargin is how far above the best published figure an implied efficiency may
// lie before the promise breaks: the two correlations differ by 2 to 6 points.
const attainableMargin = 0.03

// Examine audits one claim against momentum, attainable efficiency and cavitation.
func Examine(prior *explore.Sample, c design.Claim) Audit {
	a := Audit{Claim: c}
	m := prior.Nominal
	if w, ok := c.OtherWater(); ok {
		d := m.Drive
		w.Apply(&d)
		if other, err := d.Resolve(); err == nil {
			m = other
		}
	}
	thrust, power := c.Value, c.Power
	switch c.What {
	case "thrust":
	case "power":
		thrust, power = c.Thrust, c.Value
	default:
		a.Findings = append(a.Findings, Finding{Topic: "scope", Grade: Unsaid, Text: fmt.Sprintf("an audit of %s needs a thrust and a power; this claim has none to hold against momentum", c.What)})
		return a
	}
	x := examination{m: m, c: c, thrust: thrust, power: power}
	x.momentum(&a)
	x.efficiency(&a)
	x.cavitation(&a)
	x.place(&a)
	x.simulation(&a)
	return a
}

type examination struct {
	m             *drive.Machine
	c             design.Claim
	thrust, power float64

	jet, flow, head float64 // that the thrust takes through this nozzle
	ok              bool
}

// momentum finds the jet that the thrust takes through the nozzle, and compares a flow that
// was claimed with it.
func (x *examination) momentum(a *Audit) {
	p := &x.m.Path
	way := p.Way(x.c.Speed, x.m.Drive.Shaft.Height)
	lo, hi := 0.0, 10*(x.c.Speed+math.Sqrt(x.thrust/(p.Medium.Density*p.JetArea)))
	for range 200 {
		mid := 0.5 * (lo + hi)
		if p.GrossThrust(&way, mid) < x.thrust {
			lo = mid
		} else {
			hi = mid
		}
	}
	x.jet = 0.5 * (lo + hi)
	x.head, x.flow = p.Head(&way, x.jet)
	x.ok = x.head > 0
	figures := []FindingFigure{{"jet velocity", "m/s", x.jet}, {"flow", "L/s", x.flow}, {"head", "m", x.head}}
	text := fmt.Sprintf("%.4g N through this nozzle takes a jet of %.3g m/s, a flow of %.3g L/s and a pump head of %.3g m", x.thrust, x.jet, 1000*x.flow, x.head)
	if !x.c.Flow.Set {
		a.Findings = append(a.Findings, Finding{"momentum", Unsaid, text + "; the promise gives no flow to hold against that", figures})
		return
	}
	// Momentum of the claimed flow through the nozzle as drawn, without contraction as the upper bound.
	q := x.c.Flow.Value
	low := p.Medium.Density * q * (q/p.NozzleArea - x.c.Speed)
	high := p.Medium.Density * q * (q/p.JetArea - x.c.Speed)
	figures = append(figures, FindingFigure{"claimed flow", "L/s", q}, FindingFigure{"thrust of the claimed flow", "N", high})
	f := Finding{"momentum", Sound, "", figures}
	claimed := fmt.Sprintf("the claimed flow of %.3g L/s through this nozzle carries a thrust of %.4g to %.4g N (ρQV)", 1000*q, low, high)
	switch {
	case x.thrust > 1.03*high:
		f.Grade = Breaks
		f.Text = claimed + fmt.Sprintf(", not %.4g N: the promise does not obey momentum for this nozzle; %s", x.thrust, text)
	case x.thrust < 0.97*low:
		f.Grade = Doubtful
		f.Text = claimed + fmt.Sprintf(", more than the %.4g N promised: another nozzle, or losses counted into the thrust", x.thrust)
	default:
		f.Text = claimed + fmt.Sprintf("; it agrees with %.4g N", x.thrust)
	}
	a.Findings = append(a.Findings, f)
}

// efficiency holds the implied pump efficiency against what good pumps of that size reach.
func (x *examination) efficiency(a *Audit) {
	if !x.ok || x.power <= 0 {
		return
	}
	p := &x.m.Path
	hydraulic := p.Medium.Density * x.m.Path.Medium.Gravity * x.flow * x.head
	omega := x.rotorSpeed()
	ns := jet.SpecificSpeed(omega, x.flow, x.m.Path.Medium.Gravity, x.head)
	b, g := jet.AttainableEfficiencyBulten(x.flow, ns), jet.AttainableEfficiencyGuelich(x.flow, ns)
	low, high := math.Min(b, g), math.Max(b, g)
	placesToTry := []string{x.c.Place}
	if x.c.Place == "" {
		placesToTry = []string{"shaft", "battery"}
	}
	for _, place := range placesToTry {
		share := x.shaftShare(place)
		shaft := share * x.power
		how := "at the shaft"
		switch place {
		case "battery":
			how = fmt.Sprintf("at the battery (%.0f %% of it reaches the shaft)", 100*share)
		case "controller":
			how = fmt.Sprintf("at the controller's output (%.0f %% of it reaches the shaft)", 100*share)
		}
		implied := hydraulic / shaft
		f := Finding{Topic: "pump efficiency", Grade: Sound, Figures: []FindingFigure{
			{"implied pump efficiency", "1", implied},
			{"attainable, low", "1", low},
			{"attainable, high", "1", high},
			{"hydraulic power", "W", hydraulic},
			{"specific speed", "1", ns},
			{"shaft power", "W", shaft},
		}}
		f.Text = fmt.Sprintf("with the power %s the pump must turn %.0f %% of it into head; good pumps of this flow and type reach %.0f to %.0f %% (extrapolated to this size)", how, 100*implied, 100*low, 100*high)
		switch {
		case implied >= 1:
			f.Grade = Breaks
			f.Text += "; that is more than all of it"
		case implied > high+attainableMargin:
			f.Grade = Breaks
			f.Text += "; the promise asks for more than that"
		case implied > low || implied > x.m.Drive.Impeller.Efficiency*x.m.Drive.Impeller.InstalledFactor*1.1:
			f.Grade = Doubtful
			f.Text += fmt.Sprintf("; a home-made pump behind an intake is assumed at %.0f %%", 100*x.m.Drive.Impeller.Efficiency*x.m.Drive.Impeller.InstalledFactor)
		}
		a.Findings = append(a.Findings, f)
	}
	if x.c.Head.Set && math.Abs(x.c.Head.Value/x.head-1) > 0.10 {
		a.Findings = append(a.Findings, Finding{
			"head", Doubtful,
			fmt.Sprintf("the promise gives a head of %.3g m; nozzle, intake and duct ask for %.3g m at this thrust", x.c.Head.Value, x.head),
			[]FindingFigure{{"claimed head", "m", x.c.Head.Value}, {"head", "m", x.head}},
		})
	}
}

// rotorSpeed is the claimed one, or what the pump's head coefficient gives for the head.
func (x *examination) rotorSpeed() float64 {
	if x.c.RotorSpeed.Set {
		return x.c.RotorSpeed.Value
	}
	im := x.m.Drive.Impeller
	psi := im.HeadCoefficient
	if x.m.Design.HeadCoefficient > 0 {
		psi = x.m.Design.HeadCoefficient
	}
	return math.Sqrt(x.m.Path.Medium.Gravity*x.head/psi) / im.Diameter
}

// shaftShare is shaft power over power at a place, by the drive where it has a state nearest to
// the promise.
func (x *examination) shaftShare(place string) float64 {
	demand, _ := drive.Place(place)
	for share := 1.0; share > 0.05; share *= 0.7 {
		s, err := x.m.Solve(drive.Condition{Speed: x.c.Speed, Demand: demand, Amount: share * x.power})
		if err == nil {
			return s.ShaftPower / powerAt(place)(&s)
		}
	}
	return 1
}

// cavitation holds the promise against the onset.
func (x *examination) cavitation(a *Audit) {
	if !x.ok {
		return
	}
	p := &x.m.Path
	way := p.Way(x.c.Speed, x.m.Drive.Shaft.Height)
	omega := x.rotorSpeed()
	npsh := p.NPSH(&way, x.jet)
	if npsh <= 0 {
		a.Findings = append(a.Findings, Finding{"cavitation", Breaks, fmt.Sprintf("at a flow of %.3g L/s this intake leaves no pressure above vapour at the blades", 1000*x.flow), nil})
		return
	}
	s := jet.SuctionSpecificSpeed(omega, x.flow, x.m.Path.Medium.Gravity, npsh)
	s3 := x.m.Drive.Impeller.SuctionSpecificSpeed3
	f := Finding{Topic: "cavitation", Grade: Sound, Figures: []FindingFigure{{"suction specific speed", "1", s}, {"suction specific speed at 3 % loss of head", "1", s3}, {"NPSH", "m", npsh}}}
	f.Text = fmt.Sprintf("at about %.0f rpm the suction specific speed is %.2f, where the head is taken to be down 3 %% at %.2f", omega*60/(2*math.Pi), s, s3)
	switch {
	case s > 1.25*s3:
		f.Grade = Breaks
		f.Text += fmt.Sprintf("; the pump would have lost about %.0f %% of its head", 100*(1-jet.CavitationFactor(s, s3, p.Impeller.CavitationExponent)))
	case s > 0.85*s3:
		f.Grade = Doubtful
		f.Text += "; the promise lies at the onset"
	}
	switch c := x.c.CavitationModelled; {
	case c == nil && f.Grade != Sound:
		f.Text += "; it is not said whether cavitation was modelled"
	case c != nil && !*c && f.Grade != Sound:
		f.Text += "; cavitation was not modelled, so the promise leaves it out"
	case c != nil && *c:
		f.Text += "; cavitation was modelled"
	}
	a.Findings = append(a.Findings, f)
}

// place says at which place the power is.
func (x *examination) place(a *Audit) {
	if x.c.Place == "" {
		a.Findings = append(a.Findings, Finding{
			"place of power", Unsaid,
			fmt.Sprintf("the promise does not say whether its %.4g W are at the battery, the controller's output or the shaft; between battery and shaft lie about %.0f %%", x.power, 100*(1-x.shaftShare("battery"))), nil,
		})
		return
	}
	a.Findings = append(a.Findings, Finding{"place of power", Sound, "the power is at the " + x.c.Place, nil})
}

// simulation says what is known of the promise's numbers.
func (x *examination) simulation(a *Audit) {
	c := x.c
	if !c.Simulated() {
		return
	}
	switch {
	case c.MeshStudy == nil:
		a.Findings = append(a.Findings, Finding{"mesh", Unsaid, "no mesh study is mentioned; without one the figure's own numerical error is unknown", nil})
	case !*c.MeshStudy:
		a.Findings = append(a.Findings, Finding{"mesh", Doubtful, "no mesh study was made; the figure's own numerical error is unknown", nil})
	default:
		a.Findings = append(a.Findings, Finding{"mesh", Sound, "a mesh study was made", nil})
	}
}
