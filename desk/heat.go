package desk

import (
	"fmt"
	"maps"
	"math"
	"sort"
	"strings"

	"jetwright/bench"
	"jetwright/design"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/notice"
	"jetwright/project"
	"jetwright/quantity"
	"jetwright/reckon"
)

// HeatFlags are what a question about heat is asked with, as typed.
type HeatFlags struct {
	Duty   []string // steps in place of the design's
	Run    string   // run whose measured power is the duty
	Water  string   // of the what-ifs
	WhatIf []string // names; all if empty

	AsDesigned bool // what the runs teach of the network is left out
}

// HeatAnswer is how hot the drive gets: now, steady, over time, and what if.
type HeatAnswer struct {
	Folder, Name string
	Steps        []drive.Leg
	From         string // where the duty comes from
	Seconds      float64
	Now          *HeatNow
	Learned      *HeatLearned // nil where no run shows a temperature, or where it was left out
	Courses      []Course     // the duty as typed first
	Steady       []NodeSteady
	SteadyAt     string
	SteadyWhy    string // why there is none
	Trips        []Trip
	WarmWater    float64 // K
	Draws        int
	Failed       map[string]int
	Assumed      []design.Input // numbers that only temperatures over time depend on, not typed
	Notices      notice.List
	Cautions     []Caution

	blocked drive.March // what a trip is tried on
}

// HeatNow is the newest reading that shows a temperature, beside what the network says of it.
type HeatNow struct {
	Run, Reading string
	Condition    drive.Condition
	Held         float64 // s; 0 if nothing says
	Water        float64 // K
	Lines        []NowLine
	Why          string // why there is no prediction
}

// NowLine is a temperature of a reading.
type NowLine struct {
	Channel  bench.Channel
	Measured Figure
	Node     string
	Then     Figure // by the network after the time that the reading was held
	Steady   Figure
	HasThen  bool
}

// Course is a march with its intervals, and the limits that it was held against.
type Course struct {
	Name, Means string
	Water       float64 // K
	Seconds     float64 // that the verdicts hold for
	FaultAt     float64 // s; below 0 for none
	Ending      drive.Ending
	Ends        map[string]int // of the draws, by kind
	EndTime     Figure
	Charge      Figure
	Energy      Figure // at the battery's terminals
	Folds       bool   // the controller's foldback bites, of the nominal drive or of a draw
	FoldTime    Figure // s until it does: from the fault on where there is one; +Inf for never
	FoldLeast   Figure // share of the phase current asked for that it leaves at least
	Nodes       []NodeCourse
	Limits      []HeatVerdict
	Times       []float64 // s
	Rows        []drive.Row
	Soak        float64 // s at rest in the end of Times
	Draws       int
	Why         string // why there is no course
}

// NodeCourse is a node's temperatures over a course.
type NodeCourse struct {
	Name             string
	Value, Low, High []float64 // K by time
	Peak             Figure
	PeakTime         float64 // s
	AtEnd            Figure  // when the motor stopped
}

// HeatVerdict is a limit over a course.
type HeatVerdict struct {
	drive.HeatLimit
	State   explore.LimitState
	Peak    Figure
	Margin  float64 // share left of the way from the water to the bound
	Bad     float64 // at the bad end, the bound's own tolerance counted
	Reached bool    // by the nominal drive
	Time    Figure  // s until it is reached: from the fault on where there is one; the high end is +Inf where a twentieth of the draws never do
	Share   float64 // of the draws that reach it
	Sensed  float64 // K that its sensor shows a reaction time before, the lowest tenth of the draws left out; +Inf where it is not reached
}

// NodeSteady is what a node comes to.
type NodeSteady struct {
	Name string
	Figure
	Allowed float64 // K of the nearest limit on it; 0 for none
}

// Trip is what a sensor should be set to so that no limit behind it is passed.
type Trip struct {
	Sensor  string // node
	Key     string // of the design
	Value   float64
	For     string // limit that decides
	In      string // course that decides
	Normal  Figure // peak of the sensor over the duty
	Serves  bool   // the duty passes below it
	Reached bool   // some limit is reached at all
}

// What a march is made with.
const (
	soakTime     = 900.0  // s after the duty
	faultTime    = 600.0  // s that a fault lasts
	holdTime     = 3600.0 // s that a throttle is held at most
	restTime     = 600.0  // s of the duty where none is typed
	reactionTime = 2.0    // s from a trip to no current
	fewestRows   = 300.0
	warmDefault  = 25 + zeroCelsius
	longestDuty  = 86400.0
	zeroCelsius  = 273.15
)

// WhatIfs are the names of what may go wrong, in their order, with what they mean.
var WhatIfs = []struct {
	Name, Means string
	Closed      string // what it means with a closed loop, where that differs
}{
	{"warm water", "the duty in warmer water", ""},
	{"coolant clogged", "weed or sand leaves a third of the coolant; the jet has all of its water", "a third of the coolant is left: a worn pump, air in the loop"},
	{"coolant blocked", "the coolant's tap is blocked: none flows, and the jet goes on at full load", "the loop's pump stands: no coolant flows, and the jet goes on at full load"},
	{"weed at intake", "weed leaves half of the jet's own intake open, at the throttle of before: less water for jet and coolant, a pump that may cavitate. Wholly shut it leaves no coolant either: then as \"coolant blocked\", or worse, since a pump that churns may take more current", "weed leaves half of the jet's intake open, at the throttle of before: less water for the jet, whose pump may cavitate; the loop goes on"},
	{"hose off", "the hose between the first part and the second is off: the second gets none, and the water runs into the hull", "a hose of the loop is off: it loses all of its water"},
	{"pump dry", "the jet's pump draws air at the throttle of before: no load, no coolant, a seal that runs dry", "the jet's pump draws air at the throttle of before: no load, a seal that runs dry; the loop goes on"},
	{"sensor frozen", "no coolant flows, and a sensor that stands still keeps every trip and foldback asleep", ""},
	{"throttle held", "the hardest step is held at its throttle until the battery ends, an hour at most", ""},
}

// HeatIn answers Heat for a folder.
func HeatIn(folder string, f HeatFlags, o Options) (*HeatAnswer, error) {
	return in(folder, func(p *project.Project) (*HeatAnswer, error) { return Heat(p, f, o) })
}

// Heat answers how hot the drive gets.
func Heat(p *project.Project, f HeatFlags, o Options) (*HeatAnswer, error) {
	s, err := explore.NewOverTime(p.Design, o.draws(DrawsAPoint), o.seed())
	if err != nil {
		return nil, unsolved(p, err)
	}
	nominal := p.Design.Nominal()
	a := &HeatAnswer{Folder: p.Folder, Name: folderName(p.Folder), Draws: len(s.Machines), Failed: s.Failed, Notices: p.Notices, WarmWater: math.Max(warmDefault, nominal.Water.Temperature)}
	if f.Water != "" {
		v, err := quantity.ParseIn(f.Water, quantity.MustUnit("°C"))
		if err != nil {
			if v, err = quantity.ParseIn(f.Water+" °C", quantity.MustUnit("°C")); err != nil {
				return nil, flagFault("--water %q: %v", f.Water, err)
			}
		}
		if a.WarmWater = v.Nominal(); !(a.WarmWater >= 271.15 && a.WarmWater <= 313.15) {
			return nil, flagFault("--water is %q; it takes -2 to 40 °C", f.Water)
		}
	}
	names := map[string]bool{}
	for _, n := range f.WhatIf {
		known := false
		for _, w := range WhatIfs {
			known = known || w.Name == n
		}
		if !known && n != "none" {
			var all []string
			for _, w := range WhatIfs {
				all = append(all, w.Name)
			}
			return nil, flagFault("--what-if is %q; it takes %s, or none", n, strings.Join(all, ", "))
		}
		names[n] = true
	}
	if err := a.duty(p, f, s.Nominal); err != nil {
		return nil, err
	}
	for _, in := range p.Design.OverTime() {
		if in.Assumed {
			a.Assumed = append(a.Assumed, in)
		}
	}
	a.Cautions = heatCautions(&nominal)
	if !f.AsDesigned {
		s = a.learn(p, s, o)
	}
	base, err := marched(s, drive.March{Legs: a.Steps, Soak: soakTime})
	if err != nil {
		return nil, unsolved(p, err)
	}
	a.Failed = alsoLost(s.Failed, base.failed, "no network of heat")
	a.Courses = append(a.Courses, base.course("the duty", "as typed", -1, s))
	a.Notices = append(a.Notices[:len(a.Notices):len(a.Notices)], emptied(p, &nominal, a.Steps, base.nominal.Ending)...)
	a.Notices = append(a.Notices, shortOf(p, a.Steps, &base.nominal)...)
	a.Notices = append(a.Notices, fused(p, a.Steps, &base.nominal)...)
	a.steady(s, base)
	a.now(p, s)
	warm := s
	if a.WarmWater != nominal.Water.Temperature {
		if warm, err = s.Adjusted(func(d *drive.Drive) { d.Water.Temperature = a.WarmWater }); err != nil {
			return nil, unsolved(p, err)
		}
	}
	a.whatIfs(warm, base, names)
	for _, c := range a.Courses[1:] {
		if c.Why == "" && (c.Name == "coolant blocked" || c.Name == "sensor frozen") {
			a.trips(warm.Nominal)
			break
		}
	}
	return a, nil
}

// alsoLost counts draws that were lost beside those that failed before, by a kind of their own.
func alsoLost(failed map[string]int, lost int, kind string) map[string]int {
	if lost -= sum(failed); lost <= 0 {
		return failed
	}
	out := maps.Clone(failed)
	out[kind] = lost
	return out
}

func sum(counts map[string]int) int {
	n := 0
	for _, k := range counts {
		n += k
	}
	return n
}

func flagFault(format string, args ...any) error {
	return notice.List{{Kind: notice.Error, What: fmt.Sprintf(format, args...)}}
}

// duty finds what the drive does: steps of a flag, of a run, of the design, or its design point for ten minutes.
func (a *HeatAnswer) duty(p *project.Project, f HeatFlags, m *drive.Machine) error {
	switch {
	case len(f.Duty) > 0 && f.Run != "":
		return flagFault("--duty and --run are both given; give one of them")
	case len(f.Duty) > 0:
		a.From = "--duty"
		for _, text := range f.Duty {
			leg, what, allowed := p.Design.ReadStep(text)
			if what != "" {
				return notice.List{{Kind: notice.Error, What: "--duty: " + what, Allowed: allowed, WayOut: `write --duty "60 s at 3 kW, 30 s at 4 kW, 5 min rest"`}}
			}
			a.Steps = append(a.Steps, leg)
		}
	case f.Run != "":
		legs, err := runDuty(p, f.Run)
		if err != nil {
			return err
		}
		a.Steps, a.From = legs, "the measured power of run "+f.Run
	case len(p.Design.Steps()) > 0:
		a.Steps, a.From = p.Design.Steps(), "duty.steps"
	default:
		c := m.Drive.DutyCondition()
		a.From = "the design point, since no duty.steps are typed"
		a.Steps = []drive.Leg{{Seconds: restTime, Condition: c, Text: fmt.Sprintf("10 min at %s", Describe(c))}}
	}
	for _, l := range a.Steps {
		a.Seconds += l.Seconds
	}
	if a.Seconds > longestDuty {
		return flagFault("the duty lasts %.4g h; a day at most can be worked out", a.Seconds/3600)
	}
	return nil
}

// runDuty is what the logs of a run say of power over time, as steps of a few seconds.
func runDuty(p *project.Project, name string) ([]drive.Leg, error) {
	var known []string
	for i := range p.Runs {
		r := &p.Runs[i]
		known = append(known, r.Name)
		if r.Name != name {
			continue
		}
		if len(r.Logs) == 0 {
			return readingsDuty(r)
		}
		day, err := p.Reduce(r)
		if err != nil {
			return nil, err
		}
		return logDuty(day, r)
	}
	return nil, notice.List{{Kind: notice.Error, What: fmt.Sprintf("there is no run %q", name), Allowed: "one of " + strings.Join(known, ", ")}}
}

func logDuty(day *bench.Reduction, r *project.Run) ([]drive.Leg, error) {
	out, ok := reckon.LogLegs(day)
	if !ok {
		return nil, notice.List{{Kind: notice.Error, Place: r.Place, What: fmt.Sprintf("the logs of run %q show no power over time", r.Name), Allowed: "a channel of power, or battery voltage and battery current"}}
	}
	for i := range out {
		out[i].Text, out[i].At = "log of "+r.Name, r.Place
	}
	return out, nil
}

// readingsDuty is the typed readings of a run, one after another for as long as each was held.
func readingsDuty(r *project.Run) ([]drive.Leg, error) {
	var out []drive.Leg
	for _, pl := range r.Plateaus {
		if c, ok := readingCondition(pl); ok && pl.Held.Set {
			out = append(out, drive.Leg{Seconds: pl.Held.Value, Condition: c, Text: pl.Name, At: pl.Place})
		}
	}
	if len(out) == 0 {
		return nil, notice.List{{Kind: notice.Error, Place: r.Place, What: fmt.Sprintf("run %q has neither logs nor a reading with a power and how long it was held", r.Name), WayOut: "type held with the readings, or give --duty"}}
	}
	return out, nil
}

// spreadOf is a march of the nominal machine and of every draw.
type spreadOf struct {
	march   drive.March
	nominal drive.Marched
	marcher *drive.Marcher
	drawn   []*drive.Marched
	limits  [][]drive.HeatLimit
	failed  int
}

// marched marches a sample.
func marched(s *explore.Sample, p drive.March) (*spreadOf, error) {
	total := p.Soak
	for _, l := range p.Legs {
		total += l.Seconds
	}
	p.Every = math.Max(1, math.Ceil(total/fewestRows))
	out := &spreadOf{march: p}
	var err error
	if out.marcher, err = drive.NewMarcher(s.Nominal); err != nil {
		return nil, err
	}
	if err := out.marcher.Run(p, &out.nominal); err != nil {
		return nil, err
	}
	out.drawn = make([]*drive.Marched, len(s.Machines))
	out.limits = make([][]drive.HeatLimit, len(s.Machines))
	explore.Parallel(len(s.Machines), func(i int) {
		if s.Machines[i] == nil {
			return
		}
		x, err := drive.NewMarcher(s.Machines[i])
		if err != nil {
			return
		}
		var m drive.Marched
		if x.Run(p, &m) == nil {
			out.drawn[i], out.limits[i] = &m, x.Limits
		}
	})
	for _, m := range out.drawn {
		if m == nil {
			out.failed++
		}
	}
	return out, nil
}

// figure gathers a figure of the nominal march and of the drawn ones.
func (m *spreadOf) figure(unit string, of func(*drive.Marched) float64) Figure {
	return figureOf(of(&m.nominal), columnOf(m.drawn, of), unit)
}

// soonest gathers a time that may never come, +Inf: of the nominal march, and the 5th and the 95th in a hundred of the drawn ones.
func (m *spreadOf) soonest(of func(*drive.Marched) float64) Figure {
	return soonestOf(of(&m.nominal), columnOf(m.drawn, of), "s")
}

// columnOf reads a figure of all draws that there are.
func columnOf[T any](drawn []*T, of func(*T) float64) []float64 {
	var out []float64
	for _, d := range drawn {
		if d != nil {
			out = append(out, of(d))
		}
	}
	return out
}

// soonestOf is a figure that may be infinite with the 5th and the 95th in a hundred of its drawn ones.
func soonestOf(t float64, drawn []float64, unit string) Figure {
	f := Figure{Value: t, Low: t, High: t, Unit: quantity.MustUnit(unit)}
	if n := len(drawn); n > 0 {
		sort.Float64s(drawn)
		f.Low = math.Min(t, drawn[int(explore.LowShare*float64(n))])
		f.High = math.Max(t, drawn[min(n-1, int(explore.HighShare*float64(n)))])
	}
	return f
}

// figureOf is a figure with the interval of its drawn ones.
func figureOf(nominal float64, drawn []float64, unit string) Figure {
	iv := explore.Interval(nominal, drawn)
	return Figure{Value: iv.Value, Low: iv.Low, High: iv.High, Unit: quantity.MustUnit(unit)}
}

// endWords name the ends of a march for counting.
var endWords = map[drive.EndKind]string{
	drive.Finished: "done", drive.Empty: "empty", drive.AtCutOff: "at the cut-off", drive.Unmeet: "cannot be met", drive.Tripped: "stopped by the controller", drive.RanAway: "ran away",
}

// course makes what is shown of a march; a fault, if any, begins at a time.
func (m *spreadOf) course(name, means string, fault float64, s *explore.Sample) Course {
	n := &m.nominal
	c := Course{Name: name, Means: means, Water: s.Nominal.Drive.Water.Temperature, FaultAt: fault, Ending: n.Ending, Ends: map[string]int{}, Rows: n.Rows, Soak: m.march.Soak}
	for _, l := range m.march.Legs {
		c.Seconds += l.Seconds
	}
	for _, d := range m.drawn {
		if d != nil {
			c.Ends[endWords[d.Ending.Kind]]++
			c.Draws++
		}
	}
	c.EndTime = m.figure("s", func(d *drive.Marched) float64 { return d.Ending.Time })
	c.Charge = m.figure("%", func(d *drive.Marched) float64 { return d.Ending.Charge })
	c.Energy = m.figure("Wh", func(d *drive.Marched) float64 { return d.BatteryOut })
	folds := func(d *drive.Marched) float64 {
		if !d.Folded.Bites {
			return math.Inf(1)
		}
		c.Folds = true
		return math.Max(0, d.Folded.Time-math.Max(fault, 0))
	}
	c.FoldTime = m.soonest(folds)
	c.FoldLeast = m.figure("%", func(d *drive.Marched) float64 { return d.Folded.Least })
	for _, r := range n.Rows {
		c.Times = append(c.Times, r.Time)
	}
	celsius := "°C"
	for k, node := range m.marcher.Nodes {
		nc := NodeCourse{Name: node, PeakTime: n.PeakTime[k]}
		nc.Peak = m.figure(celsius, func(d *drive.Marched) float64 { return d.Peak[k] })
		nc.AtEnd = m.figure(celsius, func(d *drive.Marched) float64 { return d.AtEnding[k] })
		drawn := make([]float64, 0, len(m.drawn))
		for i := range n.Rows {
			drawn = drawn[:0]
			for _, d := range m.drawn {
				if d != nil && i < len(d.Rows) && math.Abs(d.Rows[i].Time-n.Rows[i].Time) < 0.5 {
					drawn = append(drawn, d.Temperature(i, k))
				}
			}
			iv := explore.Interval(n.Temperature(i, k), drawn)
			nc.Value, nc.Low, nc.High = append(nc.Value, iv.Value), append(nc.Low, iv.Low), append(nc.High, iv.High)
		}
		c.Nodes = append(c.Nodes, nc)
	}
	c.Limits = m.verdicts(c.Water, math.Max(fault, 0))
	return c
}

// verdicts hold a march against the limits, nearest first.
func (m *spreadOf) verdicts(water, from float64) []HeatVerdict {
	var out []HeatVerdict
	for k, l := range m.marcher.Limits {
		node := m.marcher.Node(l.Node)
		v := HeatVerdict{HeatLimit: l}
		v.Peak = m.figure("°C", func(d *drive.Marched) float64 { return d.Peak[node] })
		span := math.Max(l.Allowed-water, 1)
		v.Margin = (l.Allowed - v.Peak.Value) / span
		drawn := make([]float64, 0, len(m.drawn))
		var times, sensed []float64
		sensor := -1
		if l.Sensor != "" {
			sensor = m.marcher.Node(l.Sensor)
		}
		shows := func(d *drive.Marched) {
			if sensor >= 0 && d.Reached[k].Ever {
				sensed = append(sensed, valueAt(d, sensor, math.Min(d.Reached[k].Time, d.Ending.Time)-reactionTime)) // what soaks back is past stopping
			}
		}
		shows(&m.nominal)
		for i, d := range m.drawn {
			if d == nil {
				continue
			}
			own := m.limits[i][k].Allowed
			drawn = append(drawn, (own-l.Tolerance-d.Peak[node])/span)
			t := math.Inf(1)
			shows(d)
			if d.Reached[k].Ever {
				v.Share++
				t = math.Max(0, d.Reached[k].Time-from)
			}
			times = append(times, t)
		}
		v.Bad = math.Min(v.Margin, (l.Allowed-l.Tolerance-v.Peak.Value)/span)
		v.Reached = m.nominal.Reached[k].Ever
		t := math.Inf(1)
		if v.Reached {
			t = math.Max(0, m.nominal.Reached[k].Time-from)
		}
		v.Sensed = math.Inf(1)
		if n := len(sensed); n > 0 {
			sort.Float64s(sensed)
			v.Sensed = sensed[n/10]
		}
		v.Time = Figure{Value: t, Low: t, High: t, Unit: quantity.MustUnit("s")}
		if n := len(drawn); n > 0 {
			v.Share /= float64(n)
			sort.Float64s(drawn)
			sort.Float64s(times)
			v.Bad = math.Min(v.Bad, drawn[int(explore.LowShare*float64(n))])
			v.Time.Low = math.Min(t, times[int(explore.LowShare*float64(n))])
			v.Time.High = math.Max(t, times[min(n-1, int(explore.HighShare*float64(n)))])
		}
		switch {
		case v.Margin < 0:
			v.State = explore.Broken
		case v.Bad < 0 || v.Margin < 0.1:
			v.State = explore.Near
		default:
			v.State = explore.Clear
		}
		out = append(out, v)
	}
	sort.SliceStable(out, func(i, j int) bool {
		a, b := out[i], out[j]
		if a.Time.Value != b.Time.Value && (a.State == explore.Broken || b.State == explore.Broken) {
			return a.Time.Value < b.Time.Value
		}
		return a.Bad < b.Bad
	})
	return out
}

// steady seeks what the last driven step would come to.
func (a *HeatAnswer) steady(s *explore.Sample, base *spreadOf) {
	at := -1
	for i, l := range a.Steps {
		if !l.Rest {
			at = i
		}
	}
	if at < 0 {
		a.SteadyWhy = "the duty has no step that runs"
		return
	}
	leg := a.Steps[at]
	leg.Fault = drive.Fault{}
	a.SteadyAt = leg.Text
	charge := base.nominal.Ending.Charge
	if charge < 0.05 {
		charge = s.Nominal.Drive.Battery.Charge
	}
	nominal, err := base.marcher.Steady(leg, charge, base.nominal.AtEnding)
	if err != nil {
		a.SteadyWhy = err.Error()
		return
	}
	drawn := make([][]float64, len(s.Machines))
	explore.Parallel(len(s.Machines), func(i int) {
		if s.Machines[i] == nil || base.drawn[i] == nil {
			return
		}
		if x, err := drive.NewMarcher(s.Machines[i]); err == nil {
			if y, err := x.Steady(leg, charge, base.drawn[i].AtEnding); err == nil {
				drawn[i] = y
			}
		}
	})
	for k, name := range base.marcher.Nodes {
		var column []float64
		for _, y := range drawn {
			if y != nil {
				column = append(column, y[k])
			}
		}
		iv := explore.Interval(nominal[k], column)
		n := NodeSteady{Name: name, Figure: Figure{Value: iv.Value, Low: iv.Low, High: iv.High, Unit: quantity.MustUnit("°C")}}
		for _, l := range base.marcher.Limits {
			if l.Node == name && (n.Allowed == 0 || l.Allowed < n.Allowed) {
				n.Allowed = l.Allowed
			}
		}
		a.Steady = append(a.Steady, n)
	}
}

// heatCautions are the cautions of what is hot, and the usual ones that bear on it.
func heatCautions(d *drive.Drive) []Caution {
	out := []Caution{
		{"hot parts", "a motor that has stopped gets hotter on its outside for minutes after, while its winding cools into it: keep hands off housing, controller and cables until they have been read, and let no hot part be flooded with cold water.", "own"},
		{"no flow", "without coolant the winding's limit is minutes or seconds away and the water at the outlet is the only witness that no cable can fake: look for it at every start, and stop when it does not come. Steam in a blocked jacket bursts hoses.", "own"},
	}
	for _, c := range cautions(d) {
		if c.Topic == "lithium battery" || c.Topic == "winding and sensors" || c.Topic == "rules" {
			out = append(out, c)
		}
	}
	return out
}

// Fine tells whether the duty is done and no limit is broken over it.
func (a *HeatAnswer) Fine() bool {
	if a.Courses[0].Ending.Kind != drive.Finished {
		return false
	}
	for _, l := range a.Courses[0].Limits {
		if l.State == explore.Broken {
			return false
		}
	}
	return true
}
