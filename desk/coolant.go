package desk

import (
	"fmt"
	"math"
	"sort"

	"jetwright/drive"
	"jetwright/explore"
	"jetwright/notice"
	"jetwright/project"
	"jetwright/quantity"
)

// CoolantAnswer is the coolant's way: its flow over power, when it fills, what is lost where, what it costs, and what
// clogging does.
type CoolantAnswer struct {
	Folder    string
	Condition drive.Condition // of the design point
	Typed     bool            // part by part; else [cooling] alone says it
	Closed    bool            // a closed loop
	Duty      Figures         // the state at the design point
	Draws     int
	Failed    map[string]int
	WaterTemp float64
	Fills     *CoolantFills // nil where no parts are typed
	Elements  []CoolantElement
	Shut      []string // lines without flow at the design point, and why
	Points    []Point  // over power at rest
	Clogged   []CoolantClogged
	Narrowest string // the place that is clogged
	Paths     []drive.WaterPath
	PumpPower Figure // hydraulic power of the loop's pumps; zero without one
	PumpTakes Figure // electric power of them
	Limits    []Limit
	Notices   notice.List
	Cautions  []Caution
}

// CoolantFills says what it takes to fill the coolant's way for the first time.
type CoolantFills struct {
	Pressure, AirLock Figure // that lifts the water over the highest point, and that drives air out of every fall
	Power, Cleared    Figure // least battery power at rest for each
	Why, WhyCleared   string // why there is none
}

// CoolantElement is an element at the design point, nominal.
type CoolantElement struct {
	Line, Name               string
	Flow                     Figure
	Velocity, Reynolds, Drop Figure
	Regime                   string // laminar, turbulent, or between; still without flow
}

// CoolantClogged is the design point with the narrowest place partly closed.
type CoolantClogged struct {
	Closed float64 // share of the area
	State  Figures
	Why    string // why there is no state
}

// Reynolds numbers between which flow goes over from laminar to turbulent.
const laminarEnd, turbulentStart = 2300, 4000

func regime(re float64) string {
	switch {
	case re == 0:
		return "still"
	case re < laminarEnd:
		return "laminar"
	case re < turbulentStart:
		return "between"
	}
	return "turbulent"
}

func figure(doc, unit string, x float64) Figure {
	return Figure{Doc: doc, Value: x, Low: x, High: x, Unit: quantity.MustUnit(unit)}
}

// Coolant answers what the coolant does over power, when it fills, what it costs and what clogging does.
func Coolant(p *project.Project, o Options) (*CoolantAnswer, error) {
	s, err := explore.New(p.Design, o.draws(DrawsAPoint), o.seed())
	if err != nil {
		return nil, unsolved(p, err)
	}
	nominal := p.Design.Nominal()
	c := nominal.DutyCondition()
	r := s.Solve(c)
	if r.Err != nil {
		return nil, unsolved(p, r.Err)
	}
	a := &CoolantAnswer{
		Folder: p.Folder, Condition: c, Duty: spread(r), Draws: r.Draws, Failed: r.Failed, WaterTemp: nominal.Water.Temperature,
		Notices: p.Notices, Cautions: cautions(&nominal), Paths: nominal.WaterPaths(), Typed: r.Nominal.HasCoolant(),
	}
	for _, l := range r.Limits(s) {
		switch {
		case l.Part == "coolant", l.Part == "cooling", l.Name == "winding temperature", l.Name == "bridge temperature":
			a.Limits = append(a.Limits, shownLimit(l))
		}
	}
	if err := a.elements(s.Nominal, &r.Nominal); err != nil {
		return nil, unsolved(p, err)
	}
	a.fills(s)
	for _, w := range ladder(topPower(s.Nominal, &nominal, drive.BatteryPower)) {
		at := drive.Condition{Demand: drive.BatteryPower, Amount: w}
		r := s.Solve(at)
		pt := Point{Condition: at, Failed: r.Failed, Draws: r.Draws}
		if r.Err != nil {
			pt.Why = r.Err.Error()
		} else {
			pt.State = spread(r)
		}
		a.Points = append(a.Points, pt)
	}
	for _, closed := range []float64{0.25, 0.5, 0.75} {
		row := CoolantClogged{Closed: closed}
		sample, place, err := clogged(s, 1-closed)
		if err != nil {
			row.Why = err.Error()
		} else if r := sample.Solve(c); r.Err != nil {
			row.Why = r.Err.Error()
		} else {
			row.State = spread(r)
		}
		if place != "" {
			a.Narrowest = place
		}
		a.Clogged = append(a.Clogged, row)
	}
	return a, nil
}

// clogged returns the sample with the narrowest place of every drive left open to a share.
func clogged(s *explore.Sample, open float64) (*explore.Sample, string, error) {
	out := *s
	var place string
	var err error
	if out.Nominal, place, err = s.Nominal.Clogged(open); err != nil {
		return nil, place, err
	}
	out.Machines = make([]*drive.Machine, len(s.Machines))
	explore.Parallel(len(s.Machines), func(i int) {
		if s.Machines[i] == nil {
			return
		}
		if m, _, err := s.Machines[i].Clogged(open); err == nil {
			out.Machines[i] = m
		}
	})
	return &out, place, nil
}

// elements lists what is lost where at the design point.
func (a *CoolantAnswer) elements(m *drive.Machine, st *drive.State) error {
	t := m.CoolantTable()
	if t == nil {
		return nil
	}
	a.Closed = t.Layout.Closed
	circuit, err := t.Solve(st.Jet.JetVelocity)
	if err != nil {
		return err
	}
	pumps := 0.0
	for _, line := range circuit.Lines {
		if line.Shut != "" {
			a.Shut = append(a.Shut, fmt.Sprintf("%s: %s", line.Name, line.Shut))
		}
		for _, e := range line.Elements {
			if e.Drop < 0 {
				pumps -= e.Drop * line.Flow
			}
			a.Elements = append(a.Elements, CoolantElement{
				Line: line.Name, Name: e.Name, Flow: figure("flow", "L/min", line.Flow), Velocity: figure("mean velocity in it", "m/s", e.Velocity),
				Reynolds: figure("Reynolds number in it", "1", math.Round(e.Reynolds)), Drop: figure("pressure lost in it; a pump's is negative", "kPa", e.Drop), Regime: regime(e.Reynolds),
			})
		}
	}
	a.PumpPower = figure("hydraulic power of the pumps", "W", pumps)
	a.PumpTakes = figure("electric power of the pumps", "W", t.PumpPower())
	return nil
}

// fills finds the least power that fills the circuit, and the least that drives air out of it, at rest.
func (a *CoolantAnswer) fills(s *explore.Sample) {
	t := s.Nominal.CoolantTable()
	if t == nil {
		return
	}
	f := &CoolantFills{}
	a.Fills = f
	every := func(of func(*drive.Machine) float64) []float64 {
		out := make([]float64, len(s.Machines))
		explore.Parallel(len(out), func(i int) {
			out[i] = math.NaN()
			if s.Machines[i] != nil {
				out[i] = of(s.Machines[i])
			}
		})
		var known []float64
		for _, x := range out {
			if !math.IsNaN(x) {
				known = append(known, x)
			}
		}
		sort.Float64s(known)
		return known
	}
	spreadOf := func(doc, unit string, of func(*drive.Machine) float64) Figure {
		x := explore.Interval(of(s.Nominal), every(of))
		return Figure{Doc: doc, Value: x.Value, Low: x.Low, High: x.High, Unit: quantity.MustUnit(unit)}
	}
	f.Pressure = spreadOf("pressure that lifts the water over the highest point", "kPa", func(m *drive.Machine) float64 { return m.CoolantTable().Filling })
	f.AirLock = spreadOf("pressure that drives air out of every fall", "kPa", func(m *drive.Machine) float64 { return m.CoolantTable().AirLock })
	power := func(doc string, velocity func(*drive.Machine) float64) (Figure, string) {
		v := velocity(s.Nominal)
		if math.IsInf(v, 1) {
			return Figure{}, "no power does: the pressure does not lift the water to its highest point, or drives nothing there"
		}
		at := func(m *drive.Machine) float64 {
			v := velocity(m)
			if v == 0 {
				return 0
			}
			w, err := m.PowerAtRest(v)
			if err != nil {
				return math.NaN()
			}
			return w
		}
		if v > 0 {
			if _, err := s.Nominal.PowerAtRest(v); err != nil {
				return Figure{}, err.Error()
			}
		}
		return spreadOf(doc, "W", at), ""
	}
	f.Power, f.Why = power("least battery power at rest at which coolant flows in every line", func(m *drive.Machine) float64 { return m.CoolantTable().Filled })
	f.Cleared, f.WhyCleared = power("least battery power at rest that drives air out of every fall as well", func(m *drive.Machine) float64 { return m.CoolantTable().Cleared })
}

// CoolantIn answers Coolant for a folder.
func CoolantIn(folder string, o Options) (*CoolantAnswer, error) {
	return in(folder, func(p *project.Project) (*CoolantAnswer, error) { return Coolant(p, o) })
}

// Fine tells whether every limit of the coolant was judged and none is broken.
func (a *CoolantAnswer) Fine() bool {
	for _, l := range a.Limits {
		if l.State == explore.Broken || l.State == explore.NotJudged {
			return false
		}
	}
	return true
}
