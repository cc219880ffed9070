package reckon

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"gonum.org/v1/gonum/stat/distuv"

	"jetwright/bench"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/numeric"
)

// LeftOut is a figure of the highest step beside what the steps below say of it.
type LeftOut struct {
	Run, Name string
	Channel   bench.Channel
	Power     float64 // W, at the battery
	Ratio     float64 // of it over the highest power below
	Read      float64
	Predicted explore.Figure // of what the instrument would show, SI
	Z         float64        // how many standard deviations of the prediction it was read off
	CRPS      float64        // continuous ranked probability score, in the figure's unit
	Interval  float64        // interval score of the 90 % interval, in the figure's unit
	Inside    bool           // of the 90 % interval
}

// LeaveOut is the highest step predicted from those below it.
type LeaveOut struct {
	Why    string // why there is none
	Below  int    // steps below
	Ratio  float64
	Rows   []LeftOut
	Line   explore.Figure // thrust of the highest step by a straight line of logarithms through the steps below, N
	LineOf float64        // thrust read, N
	Lined  bool
}

// Thrust are the rows of thrust.
func (l *LeaveOut) Thrust() []LeftOut {
	var out []LeftOut
	for _, r := range l.Rows {
		if r.Channel == bench.Thrust {
			out = append(out, r)
		}
	}
	return out
}

// leaveDraws are the draws that a prediction of the highest step rests on.
const leaveDraws = 128

// highestStep is the power at the battery above which a plateau belongs to the highest step, W.
func (m *model) highestStep() float64 {
	top := 0.0
	for e := range m.prepared {
		for i := range m.prepared[e] {
			top = math.Max(top, m.prepared[e][i].power)
		}
	}
	return top / driftApart
}

// LeaveHighestOut fits again without the plateaus of the highest step and predicts what their instruments show: the
// drive from the steps below, the discrepancy beyond them, instruments and scatter.
//
//	z = (x − x̄)/s,  CRPS = E|X − x| − ½·E|X − X′|,  interval score = w + (2/0.1)·(distance outside)
//
//	x     figure read;  X, X′  independent draws of the prediction, of mean x̄ and standard deviation s
//	w     width of the 90 % interval
//
// Holds for ladders whose powers were read. A score of one step is one draw from what the interval promises: one in ten is outside.
//
// Source: gneiting-2007. Tests: TestLeaveHighestOutLaw, TestScoresExact.
func LeaveHighestOut(prior *explore.Sample, evidence []Evidence, full *Fit, o Options) *LeaveOut {
	threshold := full.model.highestStep()
	if !(threshold > 0) {
		return &LeaveOut{Why: "no step has both thrust and power"}
	}
	return leaveOut(prior, evidence, full, o, threshold, math.Inf(1))
}

// EachFromBelow predicts each step from those below it, the lowest ones first; each as LeaveHighestOut would have on
// that day.
func (j *Judge) EachFromBelow(o Options) []*LeaveOut {
	f := j.Fit()
	if f == nil {
		return nil
	}
	var powers []float64
	f.model.allOf(func(_ int, x *prepared) {
		if x.power > 0 {
			powers = append(powers, x.power)
		}
	})
	sort.Float64s(powers)
	var out []*LeaveOut
	for i := 1; i < len(powers); i++ {
		if powers[i] < powers[i-1]*driftApart {
			continue
		}
		o.Place, o.Seed = j.placeOfFit(), j.seed
		below := math.Sqrt(powers[i] * powers[i-1])
		if l := leaveOut(j.Prior, j.Evidence, f, o, below, powers[i]*driftApart); len(l.Rows) > 0 {
			out = append(out, l)
		}
	}
	return out
}

// leaveOut fits without the plateaus above a power and predicts those of them up to another one.
func leaveOut(prior *explore.Sample, evidence []Evidence, full *Fit, o Options, threshold, upTo float64) *LeaveOut {
	out := &LeaveOut{}
	o.leave = func(power float64) bool { return power > threshold }
	o.start, o.bare = nil, true
	o.Draws = min(max(o.Draws, 1), leaveDraws)
	m := newModel(prior, evidence, o)
	out.Below = m.steps
	if m.steps == 0 {
		out.Why = "there is one step of power, and nothing below it to predict it from"
		return out
	}
	if len(full.best) >= len(m.coords) {
		o.start = full.best[:len(m.coords)]
	}
	f, err := m.fit(prior, o)
	if err != nil {
		out.Why = "the steps below cannot be met by any drive within reach of the design"
		return out
	}
	out.Rows = f.predictLeft(o.Seed, upTo)
	if len(out.Rows) > 0 {
		out.Ratio = out.Rows[0].Ratio
	}
	out.line(m)
	return out
}

// predictLeft predicts the figures of the plateaus that were left out.
func (f *Fit) predictLeft(seed uint64, upTo float64) []LeftOut {
	m := f.model
	type shown struct {
		x     *prepared
		row   int
		drawn []float64
	}
	var list []shown
	m.allOf(func(_ int, x *prepared) {
		if x.left && x.power < upTo {
			for r := range x.rows {
				list = append(list, shown{x, r, make([]float64, len(f.points))})
			}
		}
	})
	near := &drive.State{} // the hardest of those that were not left out
	if m.base != nil {
		for k := range m.base.states {
			if s := &m.base.states[k]; s.BatteryPower > near.BatteryPower {
				near = s
			}
		}
	}
	u := explore.Uniform(max(len(f.points), 1), gapNumbers, seed+99)
	noise := explore.Normal(max(len(f.points), 1), max(len(list), 1), seed+98)
	explore.Parallel(len(f.points), func(i int) {
		y := f.points[i]
		for k := range list {
			list[k].drawn[i] = math.NaN()
		}
		_ = m.each(y, func(_ int, x *prepared, machine *drive.Machine) error {
			if !x.left || x.power >= upTo {
				return nil
			}
			s, err := machine.SolveBeside(x.condition(y), near, drawTolerance)
			if err != nil {
				return nil
			}
			gap := beyondAt(math.Max(x.power, m.highest), m.highest, false, f.drifts)
			mean, scale, freedom := gap.shift(i, false)
			gone := mean + scale*studentsTAt(distuv.UnitNormal.Quantile(u[i][0]), freedom) - gap.breakLoss(u[i][1], u[i][2])
			s.Thrust *= math.Exp(thrustExponent * gone)
			for k := range list {
				if list[k].x != x {
					continue
				}
				r := &x.rows[list[k].row]
				list[k].drawn[i] = m.shown(x, r, &s, y, 0) + r.repeat*noise[i][k]
			}
			return nil
		})
	})
	var out []LeftOut
	for _, l := range list {
		r := &l.x.rows[l.row]
		x := finite(l.drawn)
		if len(x) == 0 {
			continue
		}
		sort.Float64s(x)
		o := LeftOut{
			Run: l.x.plateau.Run, Name: l.x.plateau.Name, Channel: r.figure.Channel, Power: l.x.power, Ratio: l.x.power / m.highest, Read: r.figure.Value,
			Predicted: explore.Figure{Value: numeric.Quantile(x, 0.5), Low: numeric.Quantile(x, explore.LowShare), High: numeric.Quantile(x, explore.HighShare)},
		}
		mean, sd := numeric.MeanSD(x)
		if sd > 0 {
			o.Z = (o.Read - mean) / sd
		}
		o.CRPS = crps(x, o.Read)
		o.Interval = intervalScore(o.Predicted, o.Read)
		o.Inside = o.Predicted.Low <= o.Read && o.Read <= o.Predicted.High
		out = append(out, o)
	}
	return out
}

// crps is the continuous ranked probability score of sorted draws.
func crps(sorted []float64, x float64) float64 {
	n := float64(len(sorted))
	var off, apart float64
	for i, v := range sorted {
		off += math.Abs(v-x) / n
		apart += (2*float64(i+1) - n - 1) * v / (n * n)
	}
	return off - apart
}

// intervalScore is that of a 90 % interval: its width, and twenty times what a value lies outside.
func intervalScore(f explore.Figure, x float64) float64 {
	const alpha = 1 - (explore.HighShare - explore.LowShare)
	return f.High - f.Low + 2/alpha*(math.Max(0, f.Low-x)+math.Max(0, x-f.High))
}

// line predicts the thrust of the highest step without any model.
func (l *LeaveOut) line(m *model) {
	var x, y []float64
	var at, read float64
	m.allOf(func(_ int, p *prepared) {
		t, ok := p.plateau.Figure(bench.Thrust)
		if !ok || !(p.power > 0) || !(t.Value > 0) {
			return
		}
		if p.left {
			if p.power > at {
				at, read = p.power, t.Value
			}
			return
		}
		x, y = append(x, math.Log(p.power)), append(y, math.Log(t.Value))
	})
	if at == 0 || m.steps < 3 {
		return
	}
	line, err := numeric.StraightLine(x, y, nil)
	if err != nil {
		return
	}
	value, low, high := line.Next(math.Log(at), explore.HighShare-explore.LowShare)
	l.Line, l.LineOf, l.Lined = explore.Figure{Value: math.Exp(value), Low: math.Exp(low), High: math.Exp(high)}, read, true
}

// Sentence says in words how the highest step came out.
func (l *LeaveOut) Sentence() string {
	if l == nil {
		return ""
	}
	t := l.Thrust()
	switch {
	case l.Why != "":
		return "the highest step cannot be predicted from those below: " + l.Why
	case len(t) == 0:
		return "the highest step has no thrust to predict"
	}
	inside, worst := 0, t[0]
	for _, r := range t {
		if r.Inside {
			inside++
		}
		if math.Abs(r.Z) > math.Abs(worst.Z) {
			worst = r
		}
	}
	how := "it was inside"
	switch {
	case len(t) > 1 && inside == len(t):
		how = fmt.Sprintf("all %d readings of it were inside", len(t))
	case len(t) > 1:
		how = fmt.Sprintf("%d of %d readings of it were inside", inside, len(t))
	case inside == 0:
		how = "it was outside"
	}
	return fmt.Sprintf("the highest step, %.2f times the power of the one below, predicted from those below it: %s, the furthest %s standard deviations off", l.Ratio, how, strings.Replace(fmt.Sprintf("%+.1f", worst.Z), "-", "−", 1))
}
