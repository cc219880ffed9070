package desk

import (
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"jetwright/design"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/notice"
	"jetwright/project"
	"jetwright/quantity"
)

// SizeFlags are what a drive is to be sized for, as typed.
type SizeFlags struct {
	Thrust, UnderWay, Voltage, Diameter, Wall              string
	BatteryPower, BatteryCurrent, PhaseCurrent, MotorSpeed string
	MotorMass, Water, With                                 string
}

// usualWall is what duct wall and tip gap take on each side where it is not typed.
const usualWall = "5 mm"

// SizeAnswer holds proposals for a duty, or why there are none.
type SizeAnswer struct {
	Folder         string // that they were written to; empty if nothing was
	Need           drive.Need
	Outside, Wall  float64 // m
	Series         int
	HalfFull, Full float64 // V
	Result         explore.SizeResult
	Proposals      []SizeProposal
	Draws          int
	Notices        notice.List
	Cautions       []Caution
}

// SizeProposal is one drive, read back from its text and solved.
type SizeProposal struct {
	Name    string
	Text    []byte
	Sized   *drive.Sized
	Drive   drive.Drive
	Rest    Figures
	Way     Figures
	Winding SetLimit // where less is left to it
	Meets   float64  // share of the drawn drives that give both thrusts
	Nearest []SizeLimit
	Broken  []SizeLimit // that the need settles, such as the full battery's voltage
	Open    []string    // limits that were not judged
	Why     []string    // what sets it apart
	Ends    []SizeEnd
	Blades  *drive.DesignedBlades // that the duty at rest asks for, with the channel as sized; nil where there are none
	WhyNot  string                // why there are none
	Instead []string              // with what there are, the least change first
}

// SizeEnd is where a proposal ends, nominal.
type SizeEnd struct {
	Kind   SizeEndKind
	Power  float64 // at the battery, W
	Thrust float64 // N
	Speed  float64 // m/s
	Limit  string  // or the reason, that ends it
}

// SizeEndKind is in what a proposal ends.
type SizeEndKind int8

// Ends.
const (
	EndOfPower  SizeEndKind = iota // more power at rest breaks a limit
	EndOfSpeed                     // beyond that speed the thrust that is asked for under way is not there
	EndOfCharge                    // near the end of the battery its voltage reaches for no more power
)

// SizeLimit is a limit at the condition where less of it is left.
type SizeLimit struct {
	SetLimit
	Way bool
}

// sizeLimits is how many limits of a proposal are told.
const sizeLimits = 3

// Size answers which drives do what is asked; with a folder they are written there.
func Size(folder string, f SizeFlags, o Options) (*SizeAnswer, error) {
	a := &SizeAnswer{Draws: o.draws(DrawsAPoint)}
	known, err := a.read(f)
	if err != nil {
		return nil, err
	}
	if folder != "" {
		if err := project.Vacant(folder); err != nil {
			return nil, err
		}
	}
	a.Result = explore.Size(a.Need)
	if a.Full > 60 {
		fewer := int(60 / (a.Full / float64(a.Series)))
		a.Notices = append(a.Notices, notice.Notice{
			Kind: notice.Caution, What: fmt.Sprintf("%d cells in series stand at %.1f V when full, above 60 V DC, where a circuit is hazardous even dry; limits will call it broken", a.Series, a.Full),
			WayOut: fmt.Sprintf("%d cells stay below: --voltage \"%.3g V\"", fewer, a.HalfFull/float64(a.Series)*float64(fewer)),
		})
	}
	if a.Result.Unmet != nil {
		return a, nil
	}
	a.Cautions = motorCautions(&a.Need.Base)
	var files []project.File
	for i, s := range a.Result.Proposals {
		p, err := a.propose(string(rune('a'+i)), s, known, o)
		if err != nil {
			return nil, err
		}
		a.Proposals = append(a.Proposals, *p)
		files = append(files, project.File{Name: p.Name, Data: p.Text})
	}
	a.tellApart()
	if len(a.Proposals) < explore.FewestProposals {
		a.Notices = append(a.Notices, notice.Notice{
			Kind: notice.Warning, What: fmt.Sprintf("the bounds leave room for no more than %d: others that meet the duty differ from it by less than %.0f %% in diameter, rotor speed and loading, or are worse in everything", len(a.Proposals), 100*explore.Apart),
			WayOut: "ask for less thrust, or widen a bound",
		})
	}
	if folder != "" && len(files) > 0 {
		if err := project.NewSet(folder, files); err != nil {
			return nil, err
		}
		a.Folder = folder
	}
	return a, nil
}

// read reads the flags and the file of known keys.
func (a *SizeAnswer) read(f SizeFlags) (*design.Document, error) {
	var faults notice.List
	fault := func(what, allowed string) {
		faults = append(faults, notice.Notice{Kind: notice.Error, What: what, Allowed: allowed})
	}
	number := func(flag, text, unit string, low, high float64, example string) float64 {
		if strings.TrimSpace(text) == "" {
			fault("--"+flag+" is missing", "it takes a number with its unit: "+example)
			return math.NaN()
		}
		u := quantity.MustUnit(unit)
		v, err := quantity.ParseIn(text, u)
		if err != nil {
			fault(fmt.Sprintf("--%s %q: %v", flag, text, err), "")
			return math.NaN()
		}
		if x := u.FromSI(v.Nominal()); !(x >= low && x <= high) {
			fault(fmt.Sprintf("--%s is %s", flag, text), fmt.Sprintf("it lies between %s and %s", quantity.Format(u.ToSI(low), u), quantity.Format(u.ToSI(high), u)))
		}
		if !v.IsExact() {
			fault(fmt.Sprintf("--%s is %s, which carries a tolerance", flag, text), "sizing takes one number; the tolerances are those of the drives that it draws")
		}
		return v.Nominal()
	}
	n := &a.Need
	n.Thrust = number("thrust", f.Thrust, "N", 1, 50000, `--thrust "420 N"`)
	thrust, speed, ok := strings.Cut(f.UnderWay, " at ")
	if strings.TrimSpace(f.UnderWay) == "" || ok {
		if n.WayThrust = number("under-way", thrust, "N", 1, 50000, `--under-way "250 N at 8 m/s"`); ok {
			n.Speed = number("under-way", speed, "m/s", 0.2, 40, `--under-way "250 N at 8 m/s"`)
		}
	} else {
		fault(fmt.Sprintf("--under-way %q does not say at which speed", f.UnderWay), `it takes a thrust at a craft speed: --under-way "250 N at 8 m/s"`)
	}
	voltage := number("voltage", f.Voltage, "V", 5, 1200, `--voltage "50 V"`)
	a.Outside = number("diameter", f.Diameter, "mm", 30, 1000, `--diameter "120 mm"`)
	if f.Wall == "" {
		f.Wall = usualWall
	}
	a.Wall = number("wall", f.Wall, "mm", 0, 100, `--wall "5 mm"`)
	n.Diameter = a.Outside - 2*a.Wall
	if n.Diameter < 0.02 {
		fault(fmt.Sprintf("--diameter %s less a wall of %s on each side leaves %.3g mm for the impeller", f.Diameter, f.Wall, 1000*n.Diameter), "20 mm at the least")
	}
	for _, b := range []struct {
		flag, text, unit string
		low, high        float64
		to               *quantity.Optional
	}{
		{"battery-power", f.BatteryPower, "W", 10, 200000, &n.BatteryPower},
		{"battery-current", f.BatteryCurrent, "A", 1, 5000, &n.BatteryCurrent},
		{"phase-current", f.PhaseCurrent, "A", 1, 5000, &n.PhaseCurrent},
		{"motor-speed", f.MotorSpeed, "rpm", 100, 200000, &n.MotorSpeed},
		{"motor-mass", f.MotorMass, "kg", 0.05, 500, &n.MotorMass},
	} {
		if strings.TrimSpace(b.text) != "" {
			*b.to = quantity.Some(number(b.flag, b.text, b.unit, b.low, b.high, ""))
		}
	}
	name, data := "known", []byte(nil)
	if f.With != "" {
		var err error
		name = f.With
		if data, err = project.KnownKeys(f.With); err != nil {
			faults = append(faults, noticesOf(err)...)
		}
	}
	known, more := design.KnownKeys(name, data)
	faults = append(faults, more...)
	if known != nil && f.Water != "" {
		for _, e := range known.Entries() {
			if e.Path == "water.kind" {
				fault("--water is "+f.Water, "the file given by --with says water.kind as well: keep one of them")
			}
		}
		doc, err := known.Set("water.kind", f.Water, design.String)
		if f.Water != "fresh" && f.Water != "sea" || err != nil {
			fault(fmt.Sprintf("--water is %q", f.Water), "it takes fresh or sea")
		} else {
			known = doc
		}
	}
	if err := faults.Fatal(); err != nil {
		return nil, err
	}
	one, more := design.SizedBase(known, 1)
	if err := more.Fatal(); err != nil {
		return nil, err
	}
	d := one.Nominal()
	a.Series = max(1, d.CellsFor(voltage))
	base, more := design.SizedBase(known, a.Series)
	if err := more.Fatal(); err != nil {
		return nil, err
	}
	n.Base = base.Nominal()
	a.HalfFull, a.Full = n.Base.HalfFull(), n.Base.Battery.FullVoltage()
	return known, nil
}

// duty words what was asked for.
func (a *SizeAnswer) duty() string {
	return fmt.Sprintf("%.4g N at rest and %.4g N at %.3g m/s", a.Need.Thrust, a.Need.WayThrust, a.Need.Speed)
}

// propose writes a drive's text, reads it back, and asks it what it does.
func (a *SizeAnswer) propose(name string, s *drive.Sized, known *design.Document, o Options) (*SizeProposal, error) {
	s.Finish()
	gives := fmt.Sprintf("It gives %.0f N at rest and %.0f N at %.3g m/s, nominal, with %s W at the battery.", s.Rest.Thrust, s.Way.Thrust, a.Need.Speed, PlainDigits(s.Power))
	p := &SizeProposal{Name: name, Sized: s}
	p.Text = design.SizedText(s, []string{
		"Sized from duty: " + a.duty() + ".",
		fmt.Sprintf("Proposal %s of %d by jetwright size. %s", name, len(a.Result.Proposals), gives),
		"Nothing here was measured: pump, motor and battery come from statistics of their kinds, with their bands.",
	}, known)
	d, faults := design.Read(filepath.Join(name, project.DesignFile), p.Text)
	if err := faults.Fatal(); err != nil {
		return nil, err
	}
	sample, err := explore.New(d, a.Draws, o.seed())
	if err != nil {
		return nil, err
	}
	p.Drive = d.Nominal()
	rest, way := sample.Solve(p.Drive.DutyCondition()), sample.Solve(a.Need.WayCondition(s.Power))
	for _, r := range []*explore.Result{rest, way} {
		if r.Err != nil {
			return nil, r.Err
		}
	}
	p.Rest, p.Way = spread(rest), spread(way)
	p.meets(rest, way, &a.Need)
	p.limits(sample, rest, way)
	p.ends(sample.Nominal, &a.Need)
	return p, p.blades(sample.Nominal)
}

// blades looks whether blades can do what the pump's statistics promise.
func (p *SizeProposal) blades(m *drive.Machine) error {
	d, err := m.DesignBlades(drive.UsualBladeDuty(), false, 0)
	var none *drive.NoBlades
	switch {
	case errors.As(err, &none):
		p.WhyNot, p.Instead = none.Reason, otherWays(none)
		return nil
	case err != nil:
		return err
	case d.Reason != "":
		p.WhyNot = d.Reason
		return nil
	}
	p.Blades = d
	return nil
}

// meets counts the drawn drives that give both thrusts.
func (p *SizeProposal) meets(rest, way *explore.Result, n *drive.Need) {
	enough := map[int]int{}
	for i, row := range rest.Rows {
		if rest.States[i].Thrust >= n.Thrust {
			enough[row]++
		}
	}
	good := 0
	for i, row := range way.Rows {
		if way.States[i].Thrust >= n.WayThrust && enough[row] > 0 {
			good++
		}
	}
	if rest.Draws > 0 {
		p.Meets = float64(good) / float64(rest.Draws)
	}
}

// limits judges both conditions and keeps of each limit the one where less is left.
func (p *SizeProposal) limits(sample *explore.Sample, rest, way *explore.Result) {
	var all []SizeLimit
	for k, r := range []*explore.Result{rest, way} {
		for _, l := range r.Limits(sample) {
			if l.NotJudged != "" {
				if text := l.Name; !slices.Contains(p.Open, text) {
					p.Open = append(p.Open, text)
				}
				continue
			}
			u, _ := quantity.LookupUnit(l.Unit)
			x := SizeLimit{SetLimit{Limit: l.Limit, Margin: l.Margin, Bad: l.Bad, Shown: Figure{Doc: l.Name, Value: l.Value, Low: math.Min(l.Value, l.Worst), High: math.Max(l.Value, l.Worst), Unit: u}}, k == 1}
			at := slices.IndexFunc(all, func(y SizeLimit) bool { return y.Name == l.Name })
			switch {
			case at < 0:
				all = append(all, x)
			case x.Margin < all[at].Margin:
				all[at] = x
			}
		}
	}
	slices.SortStableFunc(all, func(x, y SizeLimit) int {
		switch {
		case x.Margin < y.Margin:
			return -1
		case x.Margin > y.Margin:
			return 1
		}
		return 0
	})
	for _, l := range all {
		if l.Name == "winding temperature" {
			p.Winding = l.SetLimit
		}
		if l.Margin < 0 {
			p.Broken = append(p.Broken, l)
		} else if len(p.Nearest) < sizeLimits && !drive.SettledByNeed(&l.Limit) {
			p.Nearest = append(p.Nearest, l)
		}
	}
}

// edge halves between what holds and what does not, to a thousandth.
func edge(good, bad float64, holds func(x float64) bool) float64 {
	for math.Abs(bad-good) > 1e-3*math.Abs(good) {
		mid := (good + bad) / 2
		if holds(mid) {
			good = mid
		} else {
			bad = mid
		}
	}
	return good
}

// ends says where the nominal drive ends.
func (p *SizeProposal) ends(m *drive.Machine, n *drive.Need) {
	power := p.Sized.Power
	kept := map[string]bool{} // limits that are broken already, by what was asked for
	for _, l := range p.Broken {
		kept[l.Name] = true
	}
	// these are what the proposal says has to be bought at the least
	kept["battery current"], kept["phase current, peak"] = !n.BatteryCurrent.Set, !n.PhaseCurrent.Set
	var ends string
	holds := func(x float64) bool {
		st, err := m.Solve(drive.Condition{Demand: drive.BatteryPower, Amount: x})
		if err != nil {
			ends = err.Error()
			return false
		}
		for _, l := range m.Limits(nil, st) {
			if l.NotJudged == "" && l.Part != "stand" && !kept[l.Name] && l.Margin() < 0 {
				ends = l.Name
				return false
			}
		}
		return true
	}
	if !holds(3 * power) {
		x := edge(power, 3*power, holds)
		holds(x * 1.002)
		if st, err := m.Solve(drive.Condition{Demand: drive.BatteryPower, Amount: x}); err == nil {
			p.Ends = append(p.Ends, SizeEnd{Kind: EndOfPower, Power: x, Thrust: st.Thrust, Limit: ends})
		}
	}
	thrust := func(v float64) float64 {
		st, err := m.Solve(drive.Condition{Speed: v, Demand: drive.BatteryPower, Amount: power})
		if err != nil {
			return math.Inf(-1)
		}
		return st.Thrust
	}
	if top := 3 * n.Speed; thrust(top) < n.WayThrust {
		v := edge(n.Speed, top, func(v float64) bool { return thrust(v) >= n.WayThrust })
		p.Ends = append(p.Ends, SizeEnd{Kind: EndOfSpeed, Power: power, Thrust: n.WayThrust, Speed: v})
	}
	low := m.Drive
	low.Battery.Charge = LowCharge
	if lm, err := low.Resolve(); err == nil {
		reaches := func(x float64) bool {
			for _, v := range []float64{0, n.Speed} {
				st, err := lm.Solve(drive.Condition{Speed: v, Demand: drive.BatteryPower, Amount: x})
				if err != nil || st.Supply.Modulation > low.Controller.ModulationLimit || st.Supply.BatteryVoltage < float64(low.Battery.Series)*low.Battery.CutOff {
					return false
				}
			}
			return true
		}
		if !reaches(power) {
			x := edge(0, power, reaches)
			p.Ends = append(p.Ends, SizeEnd{Kind: EndOfCharge, Power: x})
		}
	}
}

// LowCharge is the charge that a proposal is looked at with near the end of a run.
const LowCharge = 0.2

// tellApart says of each proposal what sets it apart from the others.
func (a *SizeAnswer) tellApart() {
	if len(a.Proposals) < 2 {
		return
	}
	figures := []struct {
		most, least string
		of          func(p *SizeProposal) float64
	}{
		{"most thrust at rest", "", func(p *SizeProposal) float64 { return p.Rest.Of("thrust").Value }},
		{"most thrust under way", "", func(p *SizeProposal) float64 { return p.Way.Of("thrust").Value }},
		{"coolest winding", "", func(p *SizeProposal) float64 { return p.Winding.Margin }},
		{"largest impeller", "smallest impeller", func(p *SizeProposal) float64 { return p.Drive.Impeller.Diameter }},
		{"fastest rotor", "slowest rotor", func(p *SizeProposal) float64 { return p.Rest.Of("rotor_speed").Value }},
		{"most highly loaded blades", "most lightly loaded blades", func(p *SizeProposal) float64 { return p.Rest.Of("jet.head_coefficient").Value }},
		{"widest nozzle", "narrowest nozzle", func(p *SizeProposal) float64 { return p.Drive.Nozzle.Diameter }},
	}
	for i := range a.Proposals {
		p := &a.Proposals[i]
		for _, f := range figures {
			most, least := true, true
			for j := range a.Proposals {
				if j != i {
					most = most && f.of(p) > f.of(&a.Proposals[j])
					least = least && f.of(p) < f.of(&a.Proposals[j])
				}
			}
			if most {
				p.Why = append(p.Why, f.most)
			}
			if least && f.least != "" {
				p.Why = append(p.Why, f.least)
			}
		}
		near, of := math.Inf(1), 0
		for j := range a.Proposals {
			if d := explore.Difference(p.Sized, a.Proposals[j].Sized); j != i && d < near {
				near, of = d, j
			}
		}
		q := &a.Proposals[of]
		text := "against " + q.Name + ", the nearest: "
		for k, d := range []struct {
			name string
			of   func(p *SizeProposal) float64
		}{
			{"impeller", figures[3].of}, {"rotor speed", figures[4].of}, {"loading", figures[5].of},
		} {
			if k > 0 {
				text += ", "
			}
			if x := fmt.Sprintf("%+.0f", 100*(d.of(p)/d.of(q)-1)); x == "+0" || x == "-0" {
				text += d.name + " the same"
			} else {
				text += d.name + " " + x + " %"
			}
		}
		p.Why = append(p.Why, text)
	}
}

// Meets tells whether there is a proposal.
func (a *SizeAnswer) Meets() bool { return len(a.Proposals) > 0 }
