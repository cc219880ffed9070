package reckon

import (
	"errors"
	"math"
	"sort"
	"strings"

	"gonum.org/v1/gonum/mat"

	"jetwright/bench"
	"jetwright/design"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/numeric"
	"jetwright/quantity"
)

// Rules of learning heat from runs. Our own.
const (
	heatScatter   = 0.5   // K that the network may stand beside a temperature at one moment and not at the next, standard, and
	heatShare     = 0.03  // of its rise over the start
	heatElectric  = 0.01  // of a phase current, a rotor speed or a thrust
	heatStand     = 0.05  // of a thrust: what moving water and the carriage may take from it, one run as the other
	heatStartStep = 1.0   // K, standard: what a run began with, beside what its sensors showed then
	heatSteps     = 300.0 // rows of a run's march
	heatMove      = 0.05  // prior standard deviations that a coordinate is moved for its derivative
	heatStill     = 0.03  // residuals that a coordinate must move by one standard deviation to be asked again
	heatNear      = 0.15  // prior standard deviations within which slopes serve again
	heatStep      = 0.01  // K that a step of these marches may be wrong
	heatMisfit    = 2.5   // squares by row beyond which the network does not follow the runs, and nothing is taken from them
	heatLearned   = 0.85  // of a number's prior standard deviation that must be left at most to be shown as learned
)

// HeatRow is what one instrument of a run showed at a moment: a temperature, a phase current (rms), a rotor speed or a thrust.
type HeatRow struct {
	Channel  bench.Channel
	Source   string // instrument: what shares its limits
	Plateau  string // at whose end it was; empty for the moments between
	Power    float64
	Time     float64 // s from the beginning of the run's march
	Value    float64 // SI
	Scatter  float64 // of the instrument alone, SI
	Limits   float64 // half-width, SI
	Standard bool    // Limits is a standard uncertainty
}

// HeatRun is a run as the network can follow it.
type HeatRun struct {
	Name   string
	Legs   []drive.Leg
	Rows   []HeatRow
	Adjust func(*drive.Drive) // what of the drive was different; may be nil
	Start  quantity.Optional  // K that its sensors showed before the load; the water's temperature if not set
	Gain   float64            // relative standard uncertainty that all of its powers share
	Why    string             // why it has no legs
}

// node is where a channel's temperature stands in the network; empty of what is no temperature.
func heatNode(c bench.Channel) string {
	switch c {
	case bench.WindingTemperature:
		return drive.NodeWinding
	case bench.CaseTemperature:
		return drive.NodeJacket
	case bench.BridgeTemperature:
		return drive.NodeJunction
	}
	return ""
}

// Taught is a number of the design that the runs' temperatures have narrowed.
type Taught struct {
	Input      design.Input
	Value      float64 // SI
	Low, High  float64 // 90 % interval
	BeforeLow  float64 // 90 % interval as typed or assumed
	BeforeHigh float64
	Left       float64 // share of its standard uncertainty that is left
}

// HeatFit is the network of heat as runs have taught it.
type HeatFit struct {
	Sample    *explore.Sample // drives as taught; the prior itself where nothing could be learned
	Used      bool
	Why       string // why it is not used
	Numbers   []Taught
	Told      float64 // numbers that the runs tell apart, as a sum of what is gone of each one's variance
	ChiSquare float64
	Rows      int
}

// heatModel maps coordinates to residuals.
type heatModel struct {
	prior  *explore.Sample
	runs   []HeatRun
	n      int // inputs
	gain   []int
	start  []int
	sensor map[string]int
	size   int
	rows   int
}

// LearnHeat fits the network of heat, and the drive that heats it, to what the instruments of runs showed.
//
//	minimise Σ [(T(t_i; y) + ε·y_s − T_i)/σ_i]² + Σ y²,  σ² = u² + (0.5 K)² + (3 % of the rise)²
//
//	y    every number of the design that is not exact, standard normal within its tolerance or its assumed range; pump head, pump power and
//	     torque constant beside theirs; each sensor's offset, each run's gain of power and its temperature at the start
//	T    temperature of the sensor's node in a march over the run's power, K
//	ε    standard uncertainty of an instrument's limits, which all its rows share
//	u    scatter of the instrument
//
// The answer is the most probable point with the normal distribution round it; drives are drawn from that. A number that the runs do not tell
// stays as wide as it was. Phase current, rotor speed and thrust, where they were read, hold the heat itself to the runs.
// Where the squares are more than 2.5 by row, network and runs contradict each other and nothing is taken.
//
// Holds for runs with the set-up that the design has; a drive that was changed between runs teaches a mixture.
//
// Source: own. Tests: TestLearnHeatSynthetic, TestLearnHeatLaw.
func LearnHeat(prior *explore.Sample, runs []HeatRun, draws int, seed uint64) (*HeatFit, error) {
	m := &heatModel{prior: prior, n: len(prior.Inputs), sensor: map[string]int{}}
	for _, r := range runs {
		if len(r.Legs) > 0 && len(r.Rows) > 0 {
			m.runs = append(m.runs, r)
		}
	}
	f := &HeatFit{Sample: prior}
	if len(m.runs) == 0 {
		f.Why = "no run shows a temperature over a known power and time"
		return f, nil
	}
	at := m.n + 3
	for _, r := range m.runs {
		m.gain, m.start = append(m.gain, at), append(m.start, at+1)
		at += 2
		for _, row := range r.Rows {
			key := string(row.Channel) + " by " + row.Source
			if _, ok := m.sensor[key]; !ok {
				m.sensor[key] = at
				at++
			}
		}
		m.rows += len(r.Rows)
	}
	m.size, f.Rows = at, m.rows
	var still []bool
	var kept *mat.Dense
	var taken []float64 // point at which slopes were taken
	sol, err := numeric.GaussNewtonMAP(numeric.MAPProblem{
		Dimension: m.size, Residuals: m.rows, Residual: m.residuals,
		Jacobian: func(dst *mat.Dense, y []float64) error {
			if still == nil {
				still, kept = make([]bool, m.size), mat.NewDense(m.rows, m.size, nil)
			}
			if taken == nil || distance(y, taken) > heatNear {
				if err := m.slopes(kept, y, still); err != nil {
					return err
				}
				taken = append(taken[:0], y...)
			}
			dst.Copy(kept)
			return nil
		},
	})
	if err != nil {
		f.Why = "the network cannot follow the runs: " + err.Error()
		return f, nil
	}
	for _, r := range sol.Residuals {
		f.ChiSquare += r * r
	}
	if f.ChiSquare > heatMisfit*float64(max(1, m.rows)) {
		f.Why = "network and runs contradict each other by more than their doubt allows: a sensor that lies, another set-up, or heat that the network does not know"
		return f, nil
	}
	out := &explore.Sample{Design: prior.Design, Inputs: prior.Inputs, Failed: map[string]int{}}
	if out.Nominal, err = m.drive(sol.Z).Resolve(); err != nil {
		f.Why = "the drive that fits best cannot be worked out: " + err.Error()
		return f, nil
	}
	if draws > 0 {
		z := explore.Normal(draws, m.size, seed)
		out.Machines = make([]*drive.Machine, draws)
		failed := make([]string, draws)
		explore.Parallel(draws, func(i int) {
			y := sol.Draw(z[i])
			sol.Settle(y, m.residuals)
			machine, err := m.drive(y).Resolve()
			if err != nil {
				failed[i] = explore.Kind(err)
				return
			}
			out.Machines[i] = machine
		})
		for _, k := range failed {
			if k != "" {
				out.Failed[k]++
			}
		}
	}
	f.Sample, f.Used = out, true
	for j, in := range prior.Inputs {
		left := math.Sqrt(sol.Covariance.At(j, j))
		f.Told += 1 - left*left
		if left > heatLearned {
			continue
		}
		v := in.Value
		f.Numbers = append(f.Numbers, Taught{
			Input: in, Value: v.Quantile(design.Rank(sol.Z[j])), Low: v.Quantile(design.Rank(sol.Z[j] - warmthZ*left)), High: v.Quantile(design.Rank(sol.Z[j] + warmthZ*left)),
			BeforeLow: v.Quantile(explore.LowShare), BeforeHigh: v.Quantile(explore.HighShare), Left: left,
		})
	}
	sort.SliceStable(f.Numbers, func(i, j int) bool { return f.Numbers[i].Left < f.Numbers[j].Left })
	return f, nil
}

// apart is the greatest difference of two points.
func distance(a, b []float64) float64 {
	most := 0.0
	for i := range a {
		most = math.Max(most, math.Abs(a[i]-b[i]))
	}
	return most
}

// drive draws the drive of a point.
func (m *heatModel) drive(y []float64) drive.Drive {
	u := make([]float64, m.n)
	for j := range u {
		u[j] = design.Rank(y[j])
	}
	d := m.prior.Design.DrawOf(m.prior.Inputs, u)
	d.Calibration.LnHead = priorLnHead * y[m.n]
	d.Calibration.LnPower = priorLnPower * y[m.n+1]
	d.Calibration.LnTorqueConstant = priorLnTorqueConstant * y[m.n+2]
	return d
}

// residuals marches every run at a point.
func (m *heatModel) residuals(dst, y []float64) error {
	base := m.drive(y)
	at := 0
	for i := range m.runs {
		r := &m.runs[i]
		shown, err := r.follow(base, 1+r.Gain*y[m.gain[i]], heatStartStep*y[m.start[i]])
		if err != nil {
			return err
		}
		for k := range r.Rows {
			row := &r.Rows[k]
			half := row.Limits
			if !row.Standard {
				half /= math.Sqrt(3)
			}
			x := shown[k] + half*y[m.sensor[string(row.Channel)+" by "+row.Source]]
			dst[at] = (x - row.Value) / r.scatter(row)
			at++
		}
	}
	return nil
}

// scatter is how far a row may stand beside the network by itself.
func (r *HeatRun) scatter(row *HeatRow) float64 {
	if heatNode(row.Channel) == "" {
		return math.Hypot(row.Scatter, heatElectric*row.Value)
	}
	return math.Hypot(math.Hypot(row.Scatter, heatScatter), heatShare*math.Max(0, row.Value-r.Start.Or(row.Value)))
}

// slopes takes derivatives by moving each coordinate a little, those that moved nothing at the first point not again.
func (m *heatModel) slopes(dst *mat.Dense, y []float64, still []bool) error {
	base := make([]float64, m.rows)
	if err := m.residuals(base, y); err != nil {
		return err
	}
	errs := make([]error, m.size)
	explore.Parallel(m.size, func(j int) {
		if still[j] {
			return
		}
		moved, r := append([]float64(nil), y...), make([]float64, m.rows)
		step := heatMove
		moved[j] += step
		if errs[j] = m.residuals(r, moved); errs[j] != nil {
			step = -heatMove
			moved[j] = y[j] + step
			errs[j] = m.residuals(r, moved)
		}
		most := 0.0
		for i := range r {
			d := (r[i] - base[i]) / step
			dst.Set(i, j, d)
			most = math.Max(most, math.Abs(d))
		}
		still[j] = most < heatStill
	})
	return errors.Join(errs...)
}

// follow marches a drive over the run with its powers scaled and its start moved by K, and returns what each row would show.
func (r *HeatRun) follow(d drive.Drive, gain, warmer float64) ([]float64, error) {
	if r.Adjust != nil {
		r.Adjust(&d)
	}
	if r.Start.Set {
		d.Thermal.Start = quantity.Some(r.Start.Value + warmer)
	} else {
		d.Thermal.Start = quantity.Some(d.Water.Temperature + warmer)
	}
	machine, err := d.Resolve()
	if err != nil {
		return nil, err
	}
	x, err := drive.NewMarcher(machine)
	if err != nil {
		return nil, err
	}
	total := 0.0
	legs := make([]drive.Leg, len(r.Legs))
	for i, l := range r.Legs {
		l.Fault.Frozen = true // the power is that of the log, whatever a sensor made of it
		switch l.Condition.Demand {
		case drive.BatteryPower, drive.ControllerPower, drive.ShaftPower:
			l.Condition.Amount *= gain
		}
		legs[i] = l
		total += l.Seconds
	}
	var out drive.Marched
	if err := x.Run(drive.March{Legs: legs, Every: math.Max(1, total/heatSteps), Tolerance: heatStep}, &out); err != nil {
		return nil, err
	}
	if out.Ending.Kind != drive.Finished {
		return nil, errors.New("the march over run " + r.Name + " " + out.Ending.String())
	}
	shown := make([]float64, len(r.Rows))
	for k := range r.Rows {
		row := &r.Rows[k]
		switch name := heatNode(row.Channel); {
		case name != "":
			node := x.Node(name)
			shown[k] = along(&out, row.Time, func(i int) float64 { return out.Temperature(i, node) })
		case row.Channel == bench.Thrust:
			shown[k] = along(&out, row.Time, func(i int) float64 { return out.Rows[i].Thrust })
		case row.Channel == bench.PhaseCurrent:
			shown[k] = along(&out, row.Time, func(i int) float64 { return out.Rows[i].PhaseCurrent })
		default:
			shown[k] = along(&out, row.Time, func(i int) float64 { return out.Rows[i].RotorSpeed })
		}
	}
	return shown, nil
}

// along reads a march at a time, in straight lines between its rows.
func along(d *drive.Marched, t float64, of func(row int) float64) float64 {
	k := sort.Search(len(d.Rows), func(i int) bool { return d.Rows[i].Time >= t })
	switch k {
	case 0:
		return of(0)
	case len(d.Rows):
		return of(k - 1)
	}
	a, b := d.Rows[k-1].Time, d.Rows[k].Time
	return of(k-1) + (t-a)/(b-a)*(of(k)-of(k-1))
}

// Followed is what a sample of drives makes of a run's rows: by row the nominal drive's figure with the 90 % interval of the draws.
func (r *HeatRun) Followed(s *explore.Sample) ([]explore.Figure, error) {
	nominal, err := r.follow(s.Nominal.Drive, 1, 0)
	if err != nil {
		return nil, err
	}
	drawn := make([][]float64, len(s.Machines))
	explore.Parallel(len(s.Machines), func(i int) {
		if s.Machines[i] != nil {
			drawn[i], _ = r.follow(s.Machines[i].Drive, 1, 0)
		}
	})
	out := make([]explore.Figure, len(r.Rows))
	for k := range out {
		var column []float64
		for _, x := range drawn {
			if x != nil {
				column = append(column, x[k])
			}
		}
		out[k] = explore.Interval(nominal[k], column)
	}
	return out, nil
}

// HeatVerdict says whether network and measurement agree at a row: "agree", or which is warmer.
type HeatVerdict string

// Verdicts on a temperature.
const (
	Agree   HeatVerdict = "agree"
	TooWarm HeatVerdict = "network too warm"
	TooCold HeatVerdict = "network too cold"
)

// Judge holds a row against what a network makes of it: they agree where they differ by less than 1.645 of the standard uncertainty that both
// have together.
func (r *HeatRun) Judge(row HeatRow, f explore.Figure) HeatVerdict {
	half := row.Limits
	if !row.Standard {
		half /= math.Sqrt(3)
	}
	u := math.Hypot(math.Hypot(half, r.scatter(&row)), (f.High-f.Low)/2/warmthZ)
	switch d := f.Value - row.Value; {
	case d > warmthZ*u:
		return TooWarm
	case d < -warmthZ*u:
		return TooCold
	}
	return Agree
}

// RowsOf takes rows off a day's logs: each temperature that drives nothing in doubt at a third and at the end of every plateau and at three
// moments after the load, phase current and rotor speed in the middle of each plateau.
func RowsOf(day *bench.Reduction) (rows []HeatRow, start quantity.Optional) {
	first, count := 0.0, 0.0
	for i := range day.Tracks {
		t := &day.Tracks[i]
		if heatNode(t.Channel) == "" {
			continue
		}
		y := sound(day, t)
		limits, standard := 1.0, true // K, where no figure says
		for _, p := range day.Plateaus {
			if f, ok := p.Figure(t.Channel); ok && f.Limits > 0 {
				limits, standard = f.Limits, f.Standard
			}
		}
		mean := func(at float64) (float64, bool) {
			sum, n := 0.0, 0.0
			for k := int((at - 2.5 - t.Begin) / t.Step); k <= int((at+2.5-t.Begin)/t.Step); k++ {
				if k >= 0 && k < len(y) && y[k] == y[k] {
					sum, n = sum+y[k], n+1
				}
			}
			return sum / n, n > 0
		}
		add := func(at float64, plateau string, power float64) {
			if v, ok := mean(at); ok {
				rows = append(rows, HeatRow{Channel: t.Channel, Source: t.Source, Plateau: plateau, Power: power, Time: at, Value: v, Scatter: t.Digit / math.Sqrt(12), Limits: limits, Standard: standard})
			}
		}
		last := 0.0
		for _, p := range day.Plateaus {
			if length := p.Span.Length(); length > 0 {
				w, _ := p.Figure(bench.Power)
				add(p.Span.From+length/3, "", w.Value)
				add(p.Span.To-2.5, p.Name, w.Value)
				last = math.Max(last, p.Span.To)
			}
		}
		if tail := day.Duration - last; last > 0 && tail > 60 {
			for _, u := range [...]float64{0.3, 0.6, 0.95} {
				add(last+u*tail, "", 0)
			}
		}
		if v, ok := mean(2.5); ok && len(day.Plateaus) > 0 && day.Plateaus[0].Span.From > 8 {
			first, count = first+v, count+1
		}
	}
	if count > 0 {
		start = quantity.Some(first / count)
	}
	for _, p := range day.Plateaus {
		if p.Span.Length() <= 0 {
			continue
		}
		rows = append(rows, electricRows(p, 0.5*(p.Span.From+p.Span.To))...)
	}
	return rows, start
}

// electricRows are phase current, rotor speed and thrust of a plateau, said to stand at a time.
func electricRows(p bench.Plateau, at float64) (rows []HeatRow) {
	if f, ok := p.PhaseCurrentRMS(); ok && f.Value > 0 {
		rows = append(rows, HeatRow{Channel: bench.PhaseCurrent, Source: f.Instrument, Time: at, Value: f.Value, Scatter: f.Repeat, Limits: f.Limits, Standard: f.Standard})
	}
	if f, ok := p.Figure(bench.RotorSpeed); ok && f.Value > 0 {
		rows = append(rows, HeatRow{Channel: bench.RotorSpeed, Source: f.Instrument, Time: at, Value: f.Value, Scatter: f.Repeat, Limits: f.Limits, Standard: f.Standard})
	}
	if f, ok := p.Figure(bench.Thrust); ok && f.Value > 0 {
		half := f.Limits
		if f.Standard {
			half *= math.Sqrt(3)
		}
		rows = append(rows, HeatRow{Channel: bench.Thrust, Source: f.Instrument, Time: at, Value: f.Value, Scatter: f.Repeat, Limits: half + heatStand*f.Value})
	}
	return rows
}

// ReadingsRun makes a run of typed readings, one after another for as long as each was held.
func ReadingsRun(name string, readings []bench.Plateau, place string) HeatRun {
	r := HeatRun{Name: name, Gain: heatElectric}
	t := 0.0
	for _, p := range readings {
		c, ok := ReadingCondition(p, place)
		if !ok {
			continue
		}
		if !p.Held.Set {
			r.Legs, r.Rows, r.Why = nil, nil, "nothing says how long "+strings.TrimSpace(p.Name)+" was held"
			return r
		}
		r.Legs = append(r.Legs, drive.Leg{Seconds: p.Held.Value, Condition: c, Text: p.Name, At: p.Place})
		t += p.Held.Value
		for _, f := range p.Figures {
			switch {
			case f.Channel == bench.Power && f.Value > 0:
				r.Gain = math.Max(r.Gain, f.StandardUncertainty()/f.Value)
			case heatNode(f.Channel) != "":
				r.Rows = append(r.Rows, HeatRow{Channel: f.Channel, Source: f.Instrument, Plateau: p.Name, Power: c.Amount, Time: t, Value: f.Value, Scatter: f.Repeat, Limits: f.Limits, Standard: f.Standard})
			}
		}
		r.Rows = append(r.Rows, electricRows(p, t-0.5*p.Held.Value)...)
	}
	if !r.warm() {
		r.Legs, r.Rows, r.Why = nil, nil, "it shows no temperature"
	}
	return r
}

// warm tells whether some row is a temperature.
func (r *HeatRun) warm() bool {
	for _, x := range r.Rows {
		if heatNode(x.Channel) != "" {
			return true
		}
	}
	return false
}
