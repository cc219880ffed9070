package heat

import (
	"errors"
	"math"

	"jetwright/numeric"
)

// Leg is a piece of a run over which powers and flows stay as they are. What jumps, jumps between legs.
type Leg struct {
	Name     string
	Duration float64   // s
	Power    []float64 // W by source, in the network's order; nil as the network has them
	Flow     []float64 // W/K by stream; nil as the network has them
}

// Now is what the feed of a run is told and what it fills.
type Now struct {
	Leg          int
	Time         float64   // s from the start of the run
	Temperatures []float64 // K by node
	Heat         []float64 // to be filled: heat made in each node beside its sources, W; zero before
	Flow         []float64 // may be changed: flow of each stream, W/K
	Stop         bool      // to be set where the run cannot go on to: its end is then sought before it
}

// Bound is a temperature that a node should not reach.
type Bound struct {
	Node  string
	Value float64 // K
}

// Event is a bound that was reached from below, for the first time.
type Event struct {
	Bound int
	Leg   int
	Time  float64 // s
}

// Duty is what a run does.
type Duty struct {
	Legs   []Leg
	Start  []float64 // K by node; nil as the network has them
	Every  float64   // s between the rows of a record; 0 for no rows
	Lag    float64   // s by which the rows after the first come earlier: a run that goes on from another keeps its rows in step
	Feed   func(*Now)
	Bounds []Bound

	Tolerance float64 // K that a step may be wrong; 0.001 if 0
	LongStep  float64 // s that a step is at most; 0 for no such bound
	Ceiling   float64 // K beyond which a node is said to run away; 1500 if 0: copper melts at 1358 K
}

// Energy is the account of a run, J. What goes in is stored or goes out.
type Energy struct {
	In     float64 // made by sources and feed
	Out    float64 // through conductances to fixed nodes, and carried away by streams
	Stored float64
}

// Record is what a run gives. It is used again by the next run that is given it.
type Record struct {
	Times        []float64 // s
	Temperatures []float64 // K, a row of all nodes for each time
	Events       []Event   // in the order of the bounds, those that were reached
	Peak         []float64 // highest temperature by node, K
	PeakTime     []float64 // s
	End          []float64 // K by node
	Energy       Energy
	Steps        int // accepted
	Refused      int
	Calls        int // of the feed
}

// Row is the temperatures of all nodes at one of the record's times.
func (r *Record) Row(i int) []float64 {
	n := len(r.Peak)
	return r.Temperatures[i*n : i*n+n]
}

// Runner runs a system. It holds all the room that a run needs and serves one run after another,
// on one goroutine at a time.
type Runner struct {
	s       *System
	g       []float64 // of each edge at the present flow, W/K; of those by difference the factor
	flow    []float64
	base    []float64 // heat of sources at 0 K by free place, W
	growth  []float64 // W/K
	from    float64   // time at which heat is worth
	heat    []float64 // of the feed, W
	change  []float64 // of the feed, W/s
	bend    []float64 // of the feed, W/s²
	step    float64   // s over which heat bends
	before  []float64 // heat at the beginning of the step before
	span    float64   // of the step before; 0 for none in this leg
	now     Now
	stepper *numeric.StiffStepper
	guess   []float64
	matrix  []float64
	right   []float64
	small   []float64
	hold    []float64
	best    []float64
	lu      *numeric.LU
	in, out [numeric.StiffStages]float64
	reached []bool
	d       *Duty // of the run under way
	rec     *Record
	leg     int
	limit   float64 // K that a step may be wrong
	bounds  []int
}

// NewRunner makes room for runs of a system.
func NewRunner(s *System) *Runner {
	n, all := len(s.free), len(s.Names)
	room := func(k int) []float64 { return make([]float64, k) }
	r := &Runner{
		s: s, g: room(len(s.edges)), flow: room(len(s.flow)), base: room(n), growth: room(n), heat: room(n), change: room(n), bend: room(n), before: room(n),
		stepper: numeric.NewStiffStepper(s.mass), guess: room(n), matrix: room(n * n), right: room(n), small: room(n * n), hold: room(n), best: room(n), lu: numeric.NewLU(n),
	}
	r.now = Now{Temperatures: room(all), Heat: room(all), Flow: room(len(s.flow))}
	return r
}

// mostSteps is how many steps a run may take.
const mostSteps = 1_000_000

// show puts free temperatures among those of all nodes.
func (r *Runner) show(y []float64) {
	for i, k := range r.s.free {
		r.now.Temperatures[k] = y[i]
	}
	for i, k := range r.s.fixed {
		r.now.Temperatures[k] = r.s.held[i]
	}
}

// stopped is what is bad where the feed said stop, and stopWithin how near in s that end is found.
const (
	stopped    = "the feed"
	stopWithin = 1e-3
)

// ask calls the feed; flowed tells that a flow was changed. An empty name is well.
func (r *Runner) ask(t float64, y, heat []float64) (flowed bool, bad string) {
	r.rec.Calls++
	r.show(y)
	clear(r.now.Heat)
	copy(r.now.Flow, r.flow)
	r.now.Leg, r.now.Time, r.now.Stop = r.leg, t, false
	r.d.Feed(&r.now)
	if r.now.Stop {
		return false, stopped
	}
	for i, k := range r.s.free {
		heat[i] = r.now.Heat[k]
		if !finite(heat[i]) {
			return false, r.s.Names[k]
		}
	}
	for i, w := range r.now.Flow {
		if !finite(w) || w < 0 {
			for name, k := range r.s.streams {
				if k == i {
					bad = name
				}
			}
			return false, bad
		}
		flowed = flowed || w != r.flow[i]
	}
	return flowed, ""
}

// Errors of a duty.
var (
	ErrLegs     = errors.New("every leg needs a finite duration above 0 s, and powers and flows as many as there are sources and streams, finite, flows not below 0")
	ErrStarting = errors.New("the start needs a temperature above 0 K and at most 5000 K for every node")
	ErrBound    = errors.New("a bound names a node that is not there or is held, or is not a number")
	ErrRows     = errors.New("the record would have more than a hundred million figures; rows less often")
	ErrRunning  = errors.New("rows, their lag, tolerance, longest step and ceiling are finite and not negative; the lag is at most the time between rows")
)

func (r *Runner) check(d *Duty) error {
	if len(d.Legs) == 0 {
		return ErrLegs
	}
	for i := range d.Legs {
		l := &d.Legs[i]
		if !finite(l.Duration) || l.Duration <= 0 || l.Power != nil && len(l.Power) != len(r.s.power) || l.Flow != nil && len(l.Flow) != len(r.s.flow) {
			return ErrLegs
		}
		for _, x := range l.Power {
			if !finite(x) {
				return ErrLegs
			}
		}
		for _, x := range l.Flow {
			if !finite(x) || x < 0 {
				return ErrLegs
			}
		}
	}
	if d.Start != nil && len(d.Start) != len(r.s.Names) {
		return ErrStarting
	}
	for _, x := range d.Start {
		if !(x > 0 && x <= hottestStart) {
			return ErrStarting
		}
	}
	if d.Lag > d.Every {
		return ErrRunning
	}
	for _, x := range [...]float64{d.Every, d.Lag, d.Tolerance, d.LongStep, d.Ceiling} {
		if !finite(x) || x < 0 {
			return ErrRunning
		}
	}
	r.bounds = r.bounds[:0]
	for _, b := range d.Bounds {
		k, ok := r.s.at[b.Node]
		if !ok || r.s.place[k] < 0 || !finite(b.Value) {
			return ErrBound
		}
		r.bounds = append(r.bounds, r.s.place[k])
	}
	return nil
}

// again gives a slice of a length, in its own room where that is enough.
func again(x []float64, n int) []float64 {
	if cap(x) < n {
		return make([]float64, n)
	}
	return x[:n]
}

// Run runs a duty. What has been recorded until then stays when it ends in an *Unsolved.
//
// Steps are as long as their error allows, end exactly where legs end, and are looked through for
// bounds and rows. The feed is called once at the end of each step: the step is made with its heat
// drawn on from before, and made again with the heat through beginning and end.
func (r *Runner) Run(d *Duty, rec *Record) error {
	if err := r.check(d); err != nil {
		return err
	}
	n, all := len(r.base), len(r.s.Names)
	tolerance, ceiling := d.Tolerance, d.Ceiling
	if tolerance == 0 {
		tolerance = 1e-3
	}
	if ceiling == 0 {
		ceiling = 1500
	}
	r.d, r.rec, r.limit = d, rec, tolerance
	defer func() { r.d, r.rec = nil, nil }()
	rec.Times, rec.Temperatures, rec.Events = rec.Times[:0], rec.Temperatures[:0], rec.Events[:0]
	rec.Peak, rec.PeakTime, rec.End = again(rec.Peak, all), again(rec.PeakTime, all), again(rec.End, all)
	if d.Every > 0 {
		total := 0.0
		for i := range d.Legs {
			total += d.Legs[i].Duration
		}
		rows := total/d.Every + 2
		if rows*float64(all) > 1e8 {
			return ErrRows
		}
		if cap(rec.Times) < int(rows) {
			rec.Times, rec.Temperatures = make([]float64, 0, int(rows)), make([]float64, 0, int(rows)*all)
		}
	}
	rec.Energy, rec.Steps, rec.Refused, rec.Calls = Energy{}, 0, 0, 0
	if cap(r.reached) < len(d.Bounds) {
		r.reached = make([]bool, len(d.Bounds))
	}
	r.reached = r.reached[:len(d.Bounds)]
	clear(r.reached)
	r.stepper.SetMass(r.s.mass)
	r.stepper.Floor = math.Min(1e-7, 1e-4*tolerance)

	y := r.hold
	copy(y, r.s.start)
	if d.Start != nil {
		for i, k := range r.s.free {
			y[i] = d.Start[k]
		}
	}
	r.show(y)
	for k, x := range r.now.Temperatures {
		rec.Peak[k], rec.PeakTime[k] = x, 0
	}
	start := 0.0
	for i, m := range r.s.mass {
		start -= m * y[i]
	}
	t, row := 0.0, 0
	for i := range d.Legs {
		leg := &d.Legs[i]
		r.leg = i
		power, flow := r.s.power, r.s.flow
		if leg.Power != nil {
			power = leg.Power
		}
		if leg.Flow != nil {
			flow = leg.Flow
		}
		r.setPower(power)
		if bad := r.setFlow(flow); bad != "" {
			r.finish(rec, y, start)
			return &Unsolved{Reason: NotFinite, Node: bad, Time: t}
		}
		clear(r.heat)
		clear(r.change)
		clear(r.bend)
		r.from, r.span = t, 0
		if err := r.restart(t, y, d.Feed != nil); err != nil {
			r.finish(rec, y, start)
			return err
		}
		barrier := math.Inf(1) // where the feed said stop
		if i == 0 {
			r.show(r.stepper.Values())
			for k, x := range r.now.Temperatures {
				rec.Peak[k], rec.PeakTime[k] = x, 0
			}
			if d.Every > 0 {
				rec.Times = append(rec.Times, 0)
				rec.Temperatures = append(rec.Temperatures, r.now.Temperatures...)
				row = 1
			}
		}
		r.jumps(t)
		end := t + leg.Duration
		h := r.firstStep(leg.Duration)
		refusedNow := false
		for t < end {
			if d.LongStep > 0 {
				h = math.Min(h, d.LongStep)
			}
			last := false
			step := h
			switch left := end - t; {
			case step >= left*(1-1e-9):
				step, last = left, true
			case step > 0.5*left:
				step = 0.5 * left
			}
			if !refusedNow {
				r.stepper.Begin()
			}
			if room := barrier - t; room < stopWithin {
				_, values := r.stepper.Stage(0)
				r.finish(rec, values, start)
				return &Unsolved{Reason: Stopped, Time: t}
			} else if step > 0.5*room {
				step, last = 0.5*room, false
			}
			worst, ok := r.try(t, step)
			if worst < 0 && r.now.Stop {
				barrier, refusedNow = t+step, true
				rec.Refused++
				h = 0.5 * step
				continue
			}
			if worst < 0 {
				_, values := r.stepper.Stage(0)
				r.finish(rec, values, start)
				return &Unsolved{Reason: NotFinite, Node: r.bad(), Time: t}
			}
			if !ok || worst > tolerance {
				rec.Refused++
				refusedNow = true
				shrink := 0.25
				if ok {
					shrink = math.Max(0.1, 0.85*math.Pow(tolerance/worst, 0.25))
				}
				h = step * shrink
				if !(h >= 1e-12*(1+t)) || rec.Refused > mostSteps {
					_, values := r.stepper.Stage(0)
					node, hot := r.hottest(values)
					r.finish(rec, values, start)
					reason := NotSettled
					if hot > ceiling {
						reason = Runaway
					}
					return &Unsolved{Reason: reason, Node: node, Time: t, Temperature: hot}
				}
				continue
			}
			refusedNow = false
			if rec.Steps++; rec.Steps > mostSteps {
				node, hot := r.hottest(r.stepper.Values())
				r.finish(rec, r.stepper.Values(), start)
				return &Unsolved{Reason: NotSettled, Node: node, Time: t, Temperature: hot}
			}
			r.stepper.Accept()
			for j := range numeric.StiffStages {
				place, values := r.stepper.Stage(j)
				r.in[j], r.out[j] = r.account(values, t+place*step)
			}
			rec.Energy.In += r.stepper.Integral(&r.in)
			rec.Energy.Out += r.stepper.Integral(&r.out)
			row = r.look(t, step, row)
			values := r.stepper.Values()
			if last {
				t = end
			} else {
				t += step
			}
			node, hot := r.hottest(values)
			if cold, least := r.coldest(values); least <= 0 { // heat that is taken away faster the colder it gets
				node, hot = cold, least
			}
			if hot > ceiling || hot <= 0 || hot != hot {
				r.finish(rec, values, start)
				return &Unsolved{Reason: Runaway, Node: node, Time: t, Temperature: hot}
			}
			factor := 4.0
			if worst > 0 {
				factor = math.Min(4, 0.85*math.Pow(tolerance/worst, 0.25))
			}
			if factor > 1.15 || factor < 0.95 || step != h {
				h = math.Max(h*0.1, step*factor)
			}
			if d.Feed != nil && !last {
				for k := range n {
					r.before[k] = r.heat[k]
					r.heat[k] += r.change[k] * step
				}
				r.span = step
				r.from = t
				if r.flowsChanged() {
					copy(y, values)
					if bad := r.setFlow(r.now.Flow); bad != "" {
						r.finish(rec, values, start)
						return &Unsolved{Reason: NotFinite, Node: bad, Time: t}
					}
					if err := r.restart(t, y, false); err != nil {
						r.finish(rec, y, start)
						return err
					}
				}
			}
		}
		copy(y, r.stepper.Values())
	}
	r.finish(rec, y, start)
	return nil
}

func (r *Runner) finish(rec *Record, y []float64, start float64) {
	rec.Energy.Stored = start
	for i, m := range r.s.mass {
		rec.Energy.Stored += m * y[i]
	}
	r.show(y)
	copy(rec.End, r.now.Temperatures)
}

func (r *Runner) flowsChanged() bool {
	for i, w := range r.now.Flow {
		if w != r.flow[i] {
			return true
		}
	}
	return false
}

// bad names what the feed last made that is not a number.
func (r *Runner) bad() string {
	for k, q := range r.now.Heat {
		if !finite(q) {
			return r.s.Names[k]
		}
	}
	for name, k := range r.s.streams {
		if w := r.now.Flow[k]; !finite(w) || w < 0 {
			return name
		}
	}
	return ""
}

// restart solves what jumps at once, from temperatures y, after asking the feed if there is need.
func (r *Runner) restart(t float64, y []float64, ask bool) error {
	for turn, first := 0, 0.0; ; turn++ {
		if ask {
			flowed, bad := r.ask(t, y, r.heat)
			if r.now.Stop {
				return &Unsolved{Reason: Stopped, Time: t}
			}
			if bad != "" {
				return &Unsolved{Reason: NotFinite, Node: bad, Time: t}
			}
			if flowed {
				if bad := r.setFlow(r.now.Flow); bad != "" {
					return &Unsolved{Reason: NotFinite, Node: bad, Time: t}
				}
			}
		}
		if err := r.stepper.Start(r, t, y); err != nil {
			return &Unsolved{Reason: NoFlow, Node: r.adrift(y), Time: t}
		}
		// the feed has to know the nodes that jump as they are after it
		moved, at := 0.0, 0
		for i, v := range r.stepper.Values() {
			if d := math.Abs(v - y[i]); d > moved {
				moved, at = d, i
			}
			y[i] = v
		}
		if !ask || moved <= 1e-3*r.limit {
			break
		}
		if turn == 0 {
			first = moved
		}
		if turn > 100 || !finite(moved) {
			if !(moved <= first) { // each turn heats it further than the one before
				return &Unsolved{Reason: Runaway, Node: r.s.Names[r.s.free[at]], Time: t}
			}
			return &Unsolved{Reason: NotSettled, Node: r.s.Names[r.s.free[at]], Time: t, Temperature: y[at]}
		}
	}
	if node, ok := r.holds(r.stepper.Values()); !ok {
		return &Unsolved{Reason: Runaway, Node: node, Time: t}
	}
	return nil
}

// holds tells whether the nodes without capacity keep their heat in check.
func (r *Runner) holds(y []float64) (node string, ok bool) {
	n := len(r.base)
	r.Slope(r.matrix, y, 0)
	k := 0
	for i, m := range r.s.mass {
		if m != 0 {
			continue
		}
		node = r.s.Names[r.s.free[i]]
		for j, w := range r.s.mass {
			if w == 0 {
				r.small[k] = -r.matrix[i*n+j]
				k++
			}
		}
	}
	root := int(math.Round(math.Sqrt(float64(k))))
	if numeric.RisingAll(root, r.small[:k]) {
		return "", true
	}
	for i, g := range r.growth {
		if r.s.mass[i] == 0 && g > 0 {
			node = r.s.Names[r.s.free[i]]
		}
	}
	return node, false
}

// adrift names a node without capacity that nothing holds.
func (r *Runner) adrift(y []float64) string {
	n := len(r.base)
	r.Slope(r.matrix, y, 0)
	least, at := math.Inf(1), 0
	for i, m := range r.s.mass {
		if m == 0 && -r.matrix[i*n+i] < least {
			least, at = -r.matrix[i*n+i], i
		}
	}
	return r.s.Names[r.s.free[at]]
}

// firstStep is a step whose error should be well below the tolerance, from how fast the slopes change.
func (r *Runner) firstStep(duration float64) float64 {
	y, k := r.stepper.Values(), r.stepper.Slopes()
	n := len(y)
	r.Slope(r.matrix, y, 0)
	fast, bend := 0.0, 0.0
	for i, m := range r.s.mass {
		if m == 0 {
			continue
		}
		sum := 0.0
		for j, v := range k {
			sum += r.matrix[i*n+j] * v
		}
		fast, bend = math.Max(fast, math.Abs(k[i])), math.Max(bend, math.Abs(sum/m))
	}
	if fast == 0 || bend == 0 {
		return duration
	}
	rate := bend / fast
	h := math.Pow(r.limit/(0.05*fast*rate*rate*rate), 0.25)
	if !(h > 1e-9*duration) {
		h = 1e-9 * duration
	}
	return math.Min(duration, h)
}

// try tries a step; the error is negative where the feed gave what is not a number.
func (r *Runner) try(t, step float64) (worst float64, ok bool) {
	if r.d.Feed == nil {
		return r.stepper.Try(r, step)
	}
	for i := range r.heat {
		r.change[i], r.bend[i] = 0, 0
		if r.span > 0 {
			r.change[i] = (r.heat[i] - r.before[i]) / r.span
		}
	}
	worst, ok = r.stepper.Try(r, step)
	if !ok || worst > r.limit {
		return worst, ok
	}
	values := r.stepper.Values()
	copy(r.guess, values)
	if _, bad := r.ask(t+step, values, r.right); bad != "" {
		return -1, false
	}
	same := true
	r.step = step
	for i := range r.heat {
		c := (r.right[i] - r.heat[i]) / step
		same = same && math.Abs(c-r.change[i])*step <= 1e-12*math.Abs(r.right[i])
		if r.span > 0 {
			r.bend[i] = (c - r.change[i]) / (step + r.span)
		}
		r.change[i] = c
	}
	if same {
		return worst, true
	}
	worst, ok = r.stepper.Again(r)
	if !ok {
		return worst, ok
	}
	// Drawing on is wrong by the second derivative of the heat; the parabola through the end by a
	// small part of that.
	for i, v := range r.stepper.Values() {
		worst = math.Max(worst, 0.1*math.Abs(v-r.guess[i]))
	}
	return worst, true
}

// jumps takes in the temperatures at the beginning of a leg, where nodes without capacity jump.
func (r *Runner) jumps(t float64) {
	d, rec := r.d, r.rec
	y := r.stepper.Values()
	for i, k := range r.s.free {
		if y[i] > rec.Peak[k] {
			rec.Peak[k], rec.PeakTime[k] = y[i], t
		}
	}
	for b, p := range r.bounds {
		if !r.reached[b] && y[p] >= d.Bounds[b].Value {
			r.reached[b] = true
			rec.Events = append(rec.Events, Event{b, r.leg, t})
		}
	}
}

// look goes through a step: rows, peaks, bounds.
func (r *Runner) look(t, step float64, row int) int {
	d, rec := r.d, r.rec
	for i, k := range r.s.free {
		c := r.stepper.Over(i)
		if top, u := c.Peak(); top > rec.Peak[k] {
			rec.Peak[k], rec.PeakTime[k] = top, t+u*step
		}
	}
	for b, p := range r.bounds {
		if r.reached[b] {
			continue
		}
		if u, ok := r.stepper.Over(p).Rises(d.Bounds[b].Value); ok {
			r.reached[b] = true
			rec.Events = append(rec.Events, Event{b, r.leg, t + u*step})
		}
	}
	if d.Every > 0 {
		for {
			at := float64(row)*d.Every - d.Lag
			if at > (t+step)*(1+1e-12) {
				break
			}
			u := math.Min(1, (at-t)/step)
			rec.Times = append(rec.Times, at)
			for _, p := range r.s.place {
				x := 0.0
				if p < 0 {
					x = r.s.held[-1-p]
				} else {
					x = r.stepper.Over(p).At(u)
				}
				rec.Temperatures = append(rec.Temperatures, x)
			}
			row++
		}
	}
	return row
}

func (r *Runner) coldest(y []float64) (string, float64) {
	at := 0
	for i, v := range y {
		if v < y[at] {
			at = i
		}
	}
	return r.s.Names[r.s.free[at]], y[at]
}

func (r *Runner) hottest(y []float64) (string, float64) {
	at := 0
	for i, v := range y {
		if !(v <= y[at]) {
			at = i
		}
	}
	return r.s.Names[r.s.free[at]], y[at]
}
