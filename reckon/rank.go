package reckon

import (
	"errors"
	"math"
	"sort"
	"sync"

	"jetwright/drive"
	"jetwright/explore"
	"jetwright/quantity"
)

// ErrNoPlane is of an aim on the plane that a drive without a change does not reach.
var ErrNoPlane = errors.New("it does not get onto the plane")

// RankDraws is how many drives a ranking's intervals rest on; RunTimeDraws is that of a run time, each of which
// is a discharge of its own.
const (
	RankDraws    = 256
	RunTimeDraws = 48
)

// Aims that changes are ranked by.
const (
	AimThrust   = "thrust"    // at rest, from the battery power that the design point takes now
	AimUnderWay = "thrust-at" // the same at a speed
	AimRunTime  = "run-time"  // at the thrust of the design point
	AimWinding  = "winding"   // the coolest winding at that thrust

	// On the water, at the battery power that the design point takes now.
	AimTopSpeed = "top-speed"     // that a craft comes to from rest
	AimHump     = "hump"          // margin of thrust over drag on the way onto the plane
	AimPlane    = "time-to-plane" // from rest
	AimRange    = "range"         // over the ground at the best speed on the plane
)

// Aim is what changes are to bring, and the condition at which they are held against each other.
type Aim struct {
	Name      string
	Speed     float64
	Unit      string // of gains
	Condition drive.Condition

	of   func(*drive.Machine, *drive.State) float64
	sign float64 // of a gain
	ride bool    // a figure of the ride
}

// Of returns the aim's figure in SI: thrust, run time, winding temperature or what a ride gives.
func (a *Aim) Of(m *drive.Machine, s *drive.State) float64 { return a.of(m, s) }

// NewAim sets an aim on a machine: thrusts are held against each other at the battery power that its design
// point takes now, run times and windings at the thrust that it makes there, so that every change has the
// same to do.
func NewAim(name string, speed float64, m *drive.Machine) (Aim, error) {
	duty, err := m.Solve(m.Drive.DutyCondition())
	if err != nil {
		return Aim{}, err
	}
	a := Aim{Name: name, Speed: speed, Unit: "N", sign: 1}
	a.of = func(_ *drive.Machine, s *drive.State) float64 { return s.Thrust }
	a.Condition = drive.Condition{Speed: speed, Demand: drive.BatteryPower, Amount: duty.BatteryPower}
	switch name {
	case AimRunTime:
		a.Unit = "min"
		a.of = func(m *drive.Machine, s *drive.State) float64 { return m.RunTime(s.BatteryPower) }
	case AimWinding:
		a.Unit, a.sign = "K", -1
		a.of = func(_ *drive.Machine, s *drive.State) float64 { return s.Motor.WindingTemperature }
	}
	if ok, err := a.ridden(m, drive.Push{Demand: drive.BatteryPower, Amount: duty.BatteryPower}); ok || err != nil {
		return a, err
	}
	if name == AimRunTime || name == AimWinding {
		a.Condition = drive.Condition{Speed: m.Drive.Duty.Speed, Demand: drive.Thrust, Amount: duty.Thrust}
		a.Speed = m.Drive.Duty.Speed
	}
	return a, nil
}

// ridden makes the aim one of a ride at a push, if it is; the error is why the machine has no such figure.
func (a *Aim) ridden(m *drive.Machine, p drive.Push) (bool, error) {
	var of func(*drive.Ride) float64
	switch a.Name {
	case AimTopSpeed:
		a.Unit, of = "m/s", func(r *drive.Ride) float64 {
			b := r.Balance(p)
			return b.FromRest.Speed
		}
	case AimHump:
		a.Unit, of = "%", func(r *drive.Ride) float64 {
			b := r.Balance(p)
			if b.Why != "" {
				return math.NaN()
			}
			return b.Margin
		}
	case AimPlane:
		a.Unit, a.sign, of = "s", -1, func(r *drive.Ride) float64 {
			t, _ := r.QuickToPlane(p)
			return t
		}
	case AimRange:
		a.Unit, of = "km", func(r *drive.Ride) float64 {
			b := r.Balance(p)
			_, c, ok := r.BestRange(b.Held.Speed)
			if !ok || c.Speed == 0 {
				return 0
			}
			return r.RunTime(c.Drive.BatteryPower) * c.Ground
		}
	default:
		return false, nil
	}
	r, err := m.Afloat()
	if err != nil {
		return false, err
	}
	b := r.Balance(p)
	if b.Why != "" {
		return false, errors.New(b.Why)
	}
	if (a.Name == AimPlane || a.Name == AimRange) && !b.Over() {
		return false, ErrNoPlane
	}
	a.ride, a.Speed = true, b.FromRest.Speed
	a.Condition.Speed = a.Speed
	a.of = func(m *drive.Machine, _ *drive.State) float64 {
		r, err := m.Afloat()
		if err != nil {
			return math.NaN()
		}
		return of(r)
	}
	return true, nil
}

// Nearer is the limit that a change brings nearer than any other.
type Nearer struct {
	Limit         quantity.Limit // as changed
	Before, After float64        // share left of the way to the bound
}

// Change is a change with what it brings.
type Change struct {
	Move
	Gain    explore.Figure // of the whole step, SI
	Slope   float64        // gain by the derivative, for the whole step
	Settled bool           // the derivative is the same for two step sizes; whole pieces have none
	Bends   bool           // the whole step brings something else than the derivative says
	Sure    float64        // share of the draws in which it gains; 1 or 0 without draws
	Nearer  Nearer         // no limit with a name where none comes nearer
	Without int            // draws that have no state when changed
	Why     string         // why there is no state when changed
}

// Joined is two changes that bring more together than one by one.
type Joined struct {
	A, B     Move
	Alone    [2]float64     // gain of each alone, SI
	Gain     explore.Figure // of both
	Together explore.Figure // of both, beyond the sum of each alone
	OnlyPair bool           // neither gains alone
}

// Ranking is every change by what it brings.
type Ranking struct {
	Aim      Aim
	Now      explore.Figure // the aim's figure as it is
	Changes  []Change
	Still    float64 // gain below which a change counts as moving nothing, SI
	StillAt  []Move  // that move the aim by no more than that
	Unranked []Unranked
	Pairs    []Joined
	Draws    int
	Bladed   bool // blades are worked out as they are changed; another pump is kept
}

// Rules of the ranking. Our own.
const (
	settledWithin = 0.01 // share by which two step sizes may differ in the derivative
	bendsFrom     = 0.25 // share by which a whole step may differ from it
	stillShare    = 1e-5 // of the aim's figure, below which a change does not move it
	stillKelvin   = 5e-3 // K, the same of a temperature
	pairShare     = 0.05 // of the pair's gain, from which being together counts
	pairLeast     = 0.1  // of the best change, from which a pair is worth naming
	pairsShown    = 5
)

// Rank works out what every change brings to an aim on a sample, which may be calibrated or not.
//
//	gain = s·[f(x + Δ) − f(x)]
//	slope = s·(4·D(h/2) − D(h))/3·Δ,  D(h) = [f(x + h·Δ) − f(x − h·Δ)]/(2h·Δ)
//
//	f  the aim's figure at its condition
//	x  the number that is changed;  Δ  its practical step
//	s  1 where more is better, −1 where less is
//
// The slope is Richardson's from two central differences and counts as settled where they agree within one per
// cent. The interval of a gain comes from making the same change to every draw, from the draw's own number, so that what
// base and change share cancels. The pump is kept (see drive.Machine.Changed).
//
// Source: own. Tests: TestRankLaw, TestRankExact.
func Rank(s *explore.Sample, aim Aim) (*Ranking, error) {
	r := &Ranking{Aim: aim, Bladed: s.Nominal.Bladed()}
	k := ranker{aim: &r.Aim, machine: s.Nominal}
	var err error
	if k.base, err = s.Nominal.Solve(aim.Condition); err != nil {
		return nil, err
	}
	k.now = aim.of(s.Nominal, &k.base)
	k.still = stillShare * math.Abs(k.now)
	if aim.Name == AimWinding {
		k.still = stillKelvin
	}
	r.Still = k.still
	k.limits = s.Nominal.Limits(nil, k.base)
	var more []lever
	if aim.ride {
		more = craftLevers
	}
	list, left := moves(s.Design, s.Nominal, more...)
	r.Unranked = left
	changes := make([]Change, len(list))
	explore.Parallel(len(list), func(i int) { changes[i] = k.change(list[i]) })
	k.pick(changes, r)
	many := RankDraws
	if aim.Name == AimRunTime || aim.ride {
		many = RunTimeDraws
	}
	drawn := k.drawn(thinned(s, many).Machines)
	r.Draws = len(drawn)
	var nows []float64
	for _, d := range drawn {
		nows = append(nows, d.now)
	}
	r.Now = explore.Interval(k.now, nows)
	explore.Parallel(len(r.Changes), func(i int) { k.spread(&r.Changes[i], drawn) })
	r.Pairs = k.pairs(changes, drawn)
	sort.SliceStable(r.Changes, func(a, b int) bool {
		x, y := &r.Changes[a], &r.Changes[b]
		if (x.Why == "") != (y.Why == "") {
			return x.Why == ""
		}
		// a gain that may be a loss stands behind those that are gains in nearly every drive
		if sure := x.Sure >= supportedFrom; sure != (y.Sure >= supportedFrom) {
			return sure
		}
		return x.Gain.Value > y.Gain.Value
	})
	return r, nil
}

// ranker holds the machine that changes are made to.
type ranker struct {
	aim     *Aim
	machine *drive.Machine
	base    drive.State
	now     float64
	still   float64 // gain below which a change does not move the aim
	limits  []quantity.Limit
}

// figure returns the aim's figure of a machine after parts of steps.
func (k *ranker) figure(m *drive.Machine, near, tolerance float64, parts ...part) (float64, *drive.Machine, drive.State, error) {
	changed, err := m.Changed(func(d *drive.Drive) {
		for _, p := range parts {
			p.move.apply(d, p.t)
		}
	})
	if err != nil {
		return 0, nil, drive.State{}, err
	}
	if k.aim.Condition.Demand == drive.Thrust {
		near = 0
	}
	s, err := changed.SolveNear(k.aim.Condition, near, tolerance)
	if err != nil {
		return 0, nil, s, err
	}
	f := k.aim.of(changed, &s)
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return 0, nil, s, errors.New("it does not get onto the plane then")
	}
	return f, changed, s, nil
}

type part struct {
	move *Move
	t    float64
}

// change works out one change of the machine itself.
func (k *ranker) change(mv Move) Change {
	c := Change{Move: mv}
	m := &c.Move
	f, machine, state, err := k.figure(k.machine, k.base.RotorSpeed, 0, part{m, 1})
	if err != nil {
		c.Why = err.Error()
		return c
	}
	gain := k.aim.sign * (f - k.now)
	c.Gain = explore.Figure{Value: gain, Low: gain, High: gain}
	if gain > 0 {
		c.Sure = 1
	}
	after := machine.Limits(nil, state)
	for i := range after {
		if i >= len(k.limits) || after[i].NotJudged != "" || k.limits[i].NotJudged != "" {
			continue
		}
		b, a := k.limits[i].Margin(), after[i].Margin()
		if b-a > 1e-3 && b-a > c.Nearer.Before-c.Nearer.After {
			c.Nearer = Nearer{after[i], b, a}
		}
	}
	if m.Whole || m.Coarse {
		return c
	}
	const h = 0.2
	difference := func(h float64) (float64, bool) {
		up, _, _, err1 := k.figure(k.machine, k.base.RotorSpeed, 0, part{m, h})
		down, _, _, err2 := k.figure(k.machine, k.base.RotorSpeed, 0, part{m, -h})
		return k.aim.sign * (up - down) / (2 * h), err1 == nil && err2 == nil
	}
	wide, ok1 := difference(h)
	narrow, ok2 := difference(h / 2)
	if !ok1 || !ok2 {
		return c
	}
	c.Slope = (4*narrow - wide) / 3
	size := math.Max(math.Max(math.Abs(c.Slope), math.Abs(gain)), k.still)
	c.Settled = math.Abs(wide-narrow) <= settledWithin*size
	c.Bends = math.Abs(gain-c.Slope) > bendsFrom*math.Max(math.Abs(gain), math.Abs(c.Slope)) && math.Abs(gain-c.Slope) > k.still
	return c
}

// pick takes of each number the direction that brings more.
func (k *ranker) pick(all []Change, r *Ranking) {
	best := map[string]int{}
	for _, c := range all {
		i, seen := best[c.Path]
		if !seen {
			best[c.Path] = len(r.Changes)
			r.Changes = append(r.Changes, c)
			continue
		}
		was := &r.Changes[i]
		if c.Why == "" && (was.Why != "" || c.Gain.Value > was.Gain.Value) {
			r.Changes[i] = c
		}
	}
	kept := r.Changes[:0]
	for _, c := range r.Changes {
		if c.Why == "" && math.Abs(c.Gain.Value) <= k.still {
			r.StillAt = append(r.StillAt, c.Move)
			continue
		}
		kept = append(kept, c)
	}
	r.Changes = kept
}

// draw is a drawn machine at the aim's condition.
type draw struct {
	machine *drive.Machine
	now     float64
	rotor   float64
}

// drawn solves the draws as they are; those without a state are left out.
func (k *ranker) drawn(machines []*drive.Machine) []draw {
	all := make([]draw, len(machines))
	near := k.base.RotorSpeed
	if k.aim.Condition.Demand == drive.Thrust {
		near = 0
	}
	explore.Parallel(len(machines), func(i int) {
		if machines[i] == nil {
			return
		}
		if s, err := machines[i].SolveNear(k.aim.Condition, near, explore.DrawTolerance); err == nil {
			all[i] = draw{machines[i], k.aim.of(machines[i], &s), s.RotorSpeed}
		}
	})
	out := all[:0]
	for _, d := range all {
		if d.machine != nil {
			out = append(out, d)
		}
	}
	return out
}

// spread gives a change its interval.
func (k *ranker) spread(c *Change, drawn []draw) {
	if len(drawn) == 0 || c.Why != "" {
		return
	}
	var gains []float64
	up := 0
	for i := range drawn {
		f, _, _, err := k.figure(drawn[i].machine, drawn[i].rotor, explore.DrawTolerance, part{&c.Move, 1})
		if err != nil {
			c.Without++
			continue
		}
		g := k.aim.sign * (f - drawn[i].now)
		gains = append(gains, g)
		if g > 0 {
			up++
		}
	}
	c.Gain = explore.Interval(c.Gain.Value, gains)
	c.Sure = float64(up) / float64(len(drawn))
}

// pairs looks at every two changes in every direction on the machine itself, and gives the best of those that
// bring more together than one by one an interval.
func (k *ranker) pairs(all []Change, drawn []draw) []Joined {
	type two struct{ a, b int }
	var list []two
	for a := range all {
		for b := a + 1; b < len(all); b++ {
			if all[a].Path != all[b].Path && all[a].Why == "" && all[b].Why == "" && !(all[a].Coarse && all[b].Coarse) {
				list = append(list, two{a, b})
			}
		}
	}
	gains := make([]float64, len(list))
	explore.Parallel(len(list), func(i int) {
		gains[i] = math.Inf(-1)
		f, _, _, err := k.figure(k.machine, k.base.RotorSpeed, explore.DrawTolerance, part{&all[list[i].a].Move, 1}, part{&all[list[i].b].Move, 1})
		if err == nil {
			gains[i] = k.aim.sign * (f - k.now)
		}
	})
	together := func(i int) float64 {
		return gains[i] - all[list[i].a].Gain.Value - all[list[i].b].Gain.Value
	}
	best := 0.0
	for i := range all {
		if all[i].Why == "" {
			best = math.Max(best, all[i].Gain.Value)
		}
	}
	var order []int
	for i := range list {
		a, b := all[list[i].a].Gain.Value, all[list[i].b].Gain.Value
		if gains[i] > math.Max(pairLeast*best, math.Max(a, b)) && together(i) > pairShare*gains[i] && together(i) > k.still {
			order = append(order, i)
		}
	}
	sort.SliceStable(order, func(x, y int) bool { return together(order[x]) > together(order[y]) })
	var out []Joined
	for _, i := range order {
		if len(out) == pairsShown {
			break
		}
		p := Joined{A: all[list[i].a].Move, B: all[list[i].b].Move, Alone: [2]float64{all[list[i].a].Gain.Value, all[list[i].b].Gain.Value}}
		p.Gain = explore.Figure{Value: gains[i], Low: gains[i], High: gains[i]}
		p.Together = explore.Figure{Value: together(i), Low: together(i), High: together(i)}
		p.OnlyPair = p.Alone[0] <= 0 && p.Alone[1] <= 0
		k.spreadPair(&p, drawn)
		if p.Together.Low > 0 && p.Gain.Low > 0 {
			out = append(out, p)
		}
	}
	return out
}

func (k *ranker) spreadPair(p *Joined, drawn []draw) {
	var both, beyond []float64
	var mu sync.Mutex
	explore.Parallel(len(drawn), func(i int) {
		x := &drawn[i]
		a, _, _, err1 := k.figure(x.machine, x.rotor, explore.DrawTolerance, part{&p.A, 1})
		b, _, _, err2 := k.figure(x.machine, x.rotor, explore.DrawTolerance, part{&p.B, 1})
		ab, _, _, err3 := k.figure(x.machine, x.rotor, explore.DrawTolerance, part{&p.A, 1}, part{&p.B, 1})
		if err1 != nil || err2 != nil || err3 != nil {
			return
		}
		mu.Lock()
		defer mu.Unlock()
		both = append(both, k.aim.sign*(ab-x.now))
		beyond = append(beyond, k.aim.sign*(ab-a-b+x.now))
	})
	p.Gain = explore.Interval(p.Gain.Value, both)
	p.Together = explore.Interval(p.Together.Value, beyond)
}
