package drive

import (
	"errors"
	"fmt"
	"math"

	"jetwright/physics/electric"
	"jetwright/physics/heat"
)

// Sail is what a leg on the water aims at. Until it is reached the craft is driven by the leg's condition, whose speed is the craft's own.
type Sail struct {
	Hold   float64 // speed through the water to be held once it is reached, m/s; 0 for none: full push all the way
	Until  float64 // speed through the water at which the leg ends, m/s; 0 for none
	Metres float64 // way over the ground after which it ends; 0 for none
	Back   bool    // wind and current the other way round
}

// RideLeg is a piece of a ride.
type RideLeg struct {
	Leg
	ToPlane bool // ends where the craft is on the plane
	ToEnd   bool // ends with the battery, or with what else ends a ride
}

// Voyage is a ride over time.
type Voyage struct {
	Legs      []RideLeg
	Every     float64 // s between rows; 0 for none
	Tolerance float64
}

// under is how the craft is under way.
type under struct {
	speed, distance float64
	charge          float64 // taken from the battery, A·s
	account         [mostEntries]float64
	traced          int // points of the trace
}

// mostEntries is how many kinds of energy a ride may have.
const mostEntries = 40

// Under is a moment of a ride.
type Under struct {
	Time     float64 // s
	Speed    float64 // through the water, m/s
	Distance float64 // over the ground, m
	Thrust   float64 // net, N
	Drag     float64 // N
	Power    float64 // at the battery, W
	Leg      int
}

// RideLegDone is what became of a leg.
type RideLegDone struct {
	Start, End float64 // s
	Distance   float64 // over the ground, m
	Speed      float64 // at its end, m/s
	Energy     float64 // at the battery, J
	Reached    bool    // what it aims at was reached
	Begun      bool
	Slow       bool // it ended below the speed that it was to hold, or to reach
}

// Spent is an entry of a ride's account.
type Spent struct {
	Name, Path string
	Energy     float64 // J; what is taken back is negative
}

// Ridden is what a ride gives. It is used again by the next ride that is given it.
type Ridden struct {
	Marched
	Trace    []Under
	Done     []RideLegDone
	Account  []Spent // of the energy at the battery's terminals: every entry from its own formula
	Battery  float64 // J at the battery's terminals
	Distance float64 // over the ground, m
	Planed   Reached // when the craft was on the plane for the first time
}

// Closes returns the energy at the battery's terminals less every entry of a ride's account, over that energy, dimensionless.
//
//	E_battery = Σ E_losses + E_hull + E_appendages + E_air + E_deduction + ΔE_kinetic
//
//	each entry is a sum over steps by its own formula; a step's forces act at the mean of its speeds, m'·(V₁ − V₀) = F·Δt, so that
//	work and kinetic energy agree step by step
//
// Holds for every ride.
//
// Source: own. Tests: TestRideClosesLaw.
func (r *Ridden) Closes() float64 {
	sum := 0.0
	for _, e := range r.Account {
		sum += e.Energy
	}
	return (r.Battery - sum) / r.Battery
}

// Entries of a ride's account that are not a drive's: what becomes of thrust times speed.
var sailEntries = []Spent{
	{Name: "lost to the hull by the jet's suction", Path: "ride.deduction"},
	{Name: "hull", Path: "ride.hull"},
	{Name: "appendages", Path: "ride.appendages"},
	{Name: "air", Path: "ride.air"},
	{Name: "left in the craft's speed", Path: "ride.kinetic"},
}

const (
	sailBattery   = mostEntries - 1 // place of the battery's energy in an account
	longestLeg    = 86400.0         // s
	longestToTop  = 300.0           // s that a craft is given to get onto the plane
	levelled      = 2e-3            // m/s²: below it a craft that should get onto the plane does not
	quickestSail  = 0.02            // s
	slowestSail   = 5.0             // s
	strideOfSpeed = 0.2             // m/s in a step
)

// spend adds the energy of a state over a time to an account.
func (x *Marcher) spend(u *under, s *State, d *CraftState, speed, acceleration, time float64) {
	x.room = s.ledger(x.room)
	for i := range x.room {
		e := &x.room[i]
		if e.Path == "jet.thrust_power" {
			continue
		}
		u.account[x.entry(e.Path, e.Name, i)] += e.Power * time
	}
	for i, f := range [...]float64{x.m.Drive.Craft.ThrustDeduction * s.Thrust, d.HullDrag, d.AppendageDrag, d.AirDrag, x.ride.Hull.Mass() * acceleration} {
		e := &sailEntries[i]
		u.account[x.entry(e.Path, e.Name, i)] += f * speed * time
	}
	u.account[sailBattery] += s.Supply.BatteryPower * time
	u.charge += s.Supply.BatteryCurrent * time
}

// entry is the place of a kind of energy in an account; near is where it may be.
func (x *Marcher) entry(path, name string, near int) int {
	for i := near; i < len(x.names); i++ {
		if x.names[i] == path {
			return i
		}
	}
	for i, n := range x.names {
		if n == path {
			return i
		}
	}
	x.names = append(x.names, path)
	x.words = append(x.words, name)
	return len(x.names) - 1
}

// resting is the drive with its motor standing.
func (x *Marcher) resting() State {
	var s State
	if v := x.m.Chain.OpenCircuit(); v > 0 {
		s.Supply.StandbyLoss = x.m.Drive.Controller.StandbyPower
		s.Supply.BatteryPower, s.Supply.BatteryVoltage = s.Supply.StandbyLoss+x.pumps, v
		s.Supply.BatteryCurrent = s.Supply.BatteryPower / v
		s.Coolant.PumpPower = x.pumps
	}
	return s
}

// sail takes the craft through a time at the temperatures held, and returns the drive at its end. The feed's end is asked for where ok
// is false.
func (x *Marcher) sail(n *heat.Now, leg *Leg, u *under, left float64) (s State, ok bool) {
	x.trace = x.trace[:u.traced]
	h := helm{x: x, leg: leg, number: n.Leg, under: u, now: n.Time - left, mass: x.ride.Hull.Mass(), most: math.Inf(1)}
	for left > 0 {
		took, err := h.step(left)
		if err != nil {
			x.stop(n, endOf(err), err.Error())
			return s, false
		}
		h.now += took
		if left -= took; left < 1e-12*(1+n.Time) {
			left = 0
		}
	}
	a := leg.Sail
	switch {
	case a.Until > 0 && u.speed >= a.Until*(1-1e-9), a.Metres > 0 && u.distance-x.set.distance >= a.Metres:
		x.stop(n, arrived, "")
		return s, false
	case a.Until > 0 && n.Time > 1 && math.Abs(h.pull) < levelled:
		x.stop(n, arrived, "levels")
		return s, false
	}
	c := h.full(u.speed)
	if h.holds() {
		_, c = h.holding()
	}
	s, err := h.driving(c)
	switch {
	case err != nil:
		x.stop(n, endOf(err), err.Error())
	case s.ControllerPower == 0 && !h.coasts():
		x.stop(n, Tripped, "nothing is left of its current")
	case x.m.Chain.WeakestCell(s.Supply.BatteryVoltage, s.Supply.BatteryCurrent) < x.m.Drive.Battery.CutOff:
		x.stop(n, AtCutOff, "")
	default:
		return s, true
	}
	return s, false
}

// endOf is how a ride ends where its drive has no state.
func endOf(err error) EndKind {
	var u *Unmet
	if errors.As(err, &u) && u.Reason == BeyondBattery {
		return AtCutOff
	}
	return Unmeet
}

// helm takes a craft through a leg at the temperatures held.
type helm struct {
	x      *Marcher
	leg    *Leg
	number int
	under  *under
	now    float64 // s from the start of the legs at hand
	mass   float64 // with the water that is speeded up, kg
	pull   float64 // acceleration at the beginning of the last step, m/s²
	most   float64 // s that the next step may take
}

// full is the leg's push at a speed.
func (h *helm) full(speed float64) Condition {
	c := h.leg.Condition
	c.Speed = speed
	return c
}

// holds tells that the craft is at the speed to be held.
func (h *helm) holds() bool {
	a := h.leg.Sail
	return a.Hold > 0 && h.under.speed == a.Hold && !h.leg.Rest
}

// coasts tells that the motor stands: the leg rests, or the craft is faster than it is to be.
func (h *helm) coasts() bool {
	a := h.leg.Sail
	return h.leg.Rest || a.Hold > 0 && h.under.speed > a.Hold
}

// holding is the craft at its speed, and what holds it there.
func (h *helm) holding() (CraftState, Condition) {
	d := h.drag(h.under.speed)
	return d, Condition{Speed: h.under.speed, Demand: Thrust, Amount: d.Drag / (1 - h.x.m.Drive.Craft.ThrustDeduction)}
}

func (h *helm) drag(speed float64) CraftState { return h.x.ride.Drag(speed, h.leg.Sail.Back) }

// driving is the drive at a condition, with its motor standing where the craft coasts.
func (h *helm) driving(c Condition) (State, error) {
	if h.coasts() {
		s := h.x.resting()
		s.Speed = c.Speed
		return s, nil
	}
	l := *h.leg
	l.Condition = c
	return h.x.driven(&l, h.number)
}

// spends goes on at a mean speed to a speed, and notes where it is.
func (h *helm) spends(s *State, d *CraftState, mean, after, time float64) {
	u, x := h.under, h.x
	x.spend(u, s, d, mean, (after-u.speed)/time, time)
	u.distance += x.ride.Ground(mean, h.leg.Sail.Back) * time
	u.speed = after
	x.trace = append(x.trace, Under{Time: x.since + h.now + time, Speed: u.speed, Distance: u.distance, Thrust: x.ride.Net(s), Drag: d.Drag, Power: s.Supply.BatteryPower, Leg: x.base})
	u.traced = len(x.trace)
}

// step takes a step of at most the time that is left, s, and returns how long it took. A step's forces are those at the mean of
// its speeds (the implicit midpoint rule), which keeps the account of energy exact.
func (h *helm) step(left float64) (float64, error) {
	u := h.under
	if h.holds() {
		d, c := h.holding()
		s, err := h.driving(c)
		if err != nil {
			return 0, err
		}
		if f := h.x.ride.Net(&s) - d.Drag; math.Abs(f) < 1e-6*d.Drag { // what foldback leaves may be less
			h.spends(&s, &d, u.speed, u.speed, left)
			return left, nil
		}
	}
	var s State
	var d CraftState
	force := func(speed float64) (f float64, err error) {
		if s, err = h.driving(h.full(speed)); err == nil {
			d = h.drag(speed)
			f = h.x.ride.Net(&s) - d.Drag
		}
		return f, err
	}
	f, err := force(u.speed)
	if err != nil {
		return 0, err
	}
	h.pull = f / h.mass
	if u.speed == 0 && f <= 0 { // nothing here drifts backward
		h.spends(&s, &d, 0, 0, left)
		return left, nil
	}
	stride := math.Min(math.Min(left, h.most), math.Max(quickestSail, math.Min(slowestSail, strideOfSpeed/math.Max(math.Abs(h.pull), 1e-9))))
	if left-stride < 0.1*stride && left <= h.most {
		stride = left
	}
	mean, err := h.mean(force, stride)
	if err != nil {
		return 0, err
	}
	after := 2*mean - u.speed
	target := h.leg.Sail.Hold
	if after < 0 {
		target = 0
	}
	if after >= 0 && !(target > 0 && (u.speed-target)*(after-target) < 0) {
		h.most = math.Inf(1)
		h.spends(&s, &d, mean, after, stride)
		return stride, nil
	}
	// the speed to be held, or standing still, lies within the step
	f, err = force(0.5 * (u.speed + target))
	if err != nil {
		return 0, err
	}
	if short := h.mass * (target - u.speed) / f; short > 0 && short <= left {
		h.most = math.Inf(1)
		h.spends(&s, &d, 0.5*(u.speed+target), target, short)
		return short, nil
	}
	h.most = 0.5 * stride
	return 0, nil
}

// mean is the mean speed of a step in s: v = u + step/(2m')·F(v), sought by secants. The force asked for last is the one there.
func (h *helm) mean(force func(float64) (float64, error), step float64) (float64, error) {
	u := h.under.speed
	v0, g0 := u, -0.5*step*h.pull // v − u − step/(2m')·F at v = u
	v1 := math.Max(v0-g0, 0)
	for range 30 {
		f, err := force(v1)
		if err != nil {
			return 0, err
		}
		g1 := v1 - u - 0.5*step*f/h.mass
		if math.Abs(g1) <= 1e-13*(1+v1) || v1 == v0 {
			break
		}
		next := v1 - g1*(v1-v0)/(g1-g0)
		if !(next >= 0) || math.IsInf(next, 0) {
			next = math.Max(v1-g1, 0)
		}
		v0, g0, v1 = v1, g1, next
	}
	return v1, nil
}

// Sail rides. The error is of a ride that cannot be begun: an *Ashore, or a leg without an end.
func (x *Marcher) Sail(p Voyage, out *Ridden) error {
	if len(p.Legs) == 0 {
		return ErrNoLegs
	}
	var err error
	if x.ride, err = x.m.Afloat(); err != nil {
		return err
	}
	d := &x.m.Drive
	for i := range x.temps {
		x.temps[i] = d.Thermal.Start.Or(d.Water.Temperature)
	}
	x.temps[x.at.water], x.temps[x.at.cells] = d.Water.Temperature, x.cold
	x.reset(March{Every: p.Every, Tolerance: p.Tolerance}, &out.Marched)
	x.fold, x.begin, x.rested = 1, x.fresh, electric.Relaxed{}
	x.ending = Ending{Legs: len(p.Legs)}
	x.under, x.trace, x.names, x.words = under{}, x.trace[:0], x.names[:0], x.words[:0]
	out.Done, out.Planed = append(out.Done[:0], make([]RideLegDone, len(p.Legs))...), Reached{}
	last := Row{Charge: x.fresh}
	now, short := 0.0, 0
	for i := range p.Legs {
		l := p.Legs[i].Leg
		sail := Sail{}
		if l.Sail != nil {
			sail = *l.Sail
		}
		seconds := l.Seconds
		if p.Legs[i].ToPlane {
			sail.Until = x.ride.Hull.PlaneSpeed()
			if !(seconds > 0) {
				seconds = longestToTop
			}
		}
		if !(seconds > 0) {
			if !p.Legs[i].ToEnd && !(sail.Metres > 0) {
				return ErrNoLegs
			}
			seconds = longestLeg
		}
		l.Sail, l.Seconds = &sail, seconds
		x.base, x.since, x.set = i, now, x.under
		x.legs = append(x.legs[:0], l)
		x.duty.Legs = append(x.duty.Legs[:0], heat.Leg{Duration: seconds})
		done := &out.Done[i]
		*done = RideLegDone{Start: now, Begun: true}
		if sail.Until > 0 && x.under.speed >= sail.Until {
			done.End, done.Speed, done.Reached = now, x.under.speed, true
			continue
		}
		if err := x.run(&out.Marched, now); err != nil {
			return err
		}
		last = x.points[len(x.points)-1]
		x.under, x.begin, x.rested = last.under, last.Charge, last.relaxed
		x.trace = x.trace[:x.under.traced]
		copy(x.temps, x.record.End)
		done.End, done.Distance, done.Speed = last.Time, x.under.distance-x.set.distance, x.under.speed
		done.Energy = x.under.account[sailBattery] - x.set.account[sailBattery]
		now = last.Time
		kind, detail := x.ending.Kind, x.ending.Detail
		done.Reached = kind == arrived && detail == "" || kind == Finished && sail.Until == 0 && sail.Metres == 0 && (sail.Hold == 0 || done.Speed == sail.Hold || l.Rest)
		done.Slow = !l.Rest && done.Speed < math.Max(sail.Until, sail.Hold)*(1-1e-3)
		if kind != Finished && kind != arrived {
			done.Reached = p.Legs[i].ToEnd && (kind == AtCutOff || kind == Empty)
			break
		}
		if !done.Reached {
			short++
		}
		x.ending = Ending{Legs: len(p.Legs)}
	}
	plane := x.ride.Hull.PlaneSpeed()
	for _, t := range x.trace {
		if t.Speed >= plane*(1-1e-9)-2e-3 {
			out.Planed = Reached{Time: t.Time, Leg: t.Leg, Ever: true}
			break
		}
	}
	x.ending.Charge, x.ending.Short = last.Charge, short
	if x.ending.Kind == Finished {
		x.ending.Time, x.ending.Leg = now, len(p.Legs)-1
	}
	out.Ending = x.ending
	out.End = append(out.End[:0], x.record.End...)
	out.AtEnding = append(out.AtEnding[:0], x.record.End...)
	out.Trace = append(out.Trace[:0], x.trace...)
	out.Distance, out.Battery = x.under.distance, x.under.account[sailBattery]
	out.Account = out.Account[:0]
	for i, path := range x.names {
		if e := x.under.account[i]; e != 0 {
			out.Account = append(out.Account, Spent{Name: x.words[i], Path: path, Energy: e})
		}
	}
	x.base = 0
	return nil
}

// String says what became of a leg.
func (d RideLegDone) String() string {
	return fmt.Sprintf("%.4g s, %.4g m, %.3g m/s", d.End-d.Start, d.Distance, d.Speed)
}
