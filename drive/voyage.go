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
	strideOfSpeed = 0.12            // m/s in a step
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

// driving is the drive at a speed of a leg on the water, at a push of its own where one is given; coasting where the leg rests.
func (x *Marcher) driving(leg *Leg, number int, c Condition) (State, error) {
	if leg.Rest {
		s := x.resting()
		s.Speed = c.Speed
		return s, nil
	}
	l := *leg
	l.Condition = c
	return x.driven(&l, number)
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

// sail takes the craft through a time at the temperatures held, and returns the drive at its end. A step's forces are those at the mean
// of its speeds (the implicit midpoint rule), which keeps the account of energy exact. The feed's end is asked for where ok is false.
func (x *Marcher) sail(n *heat.Now, leg *Leg, u *under, left float64) (s State, ok bool) {
	a := leg.Sail
	x.trace = x.trace[:u.traced]
	r := x.ride
	mass := r.Hull.Mass()
	begun := x.set // where the legs at hand began
	fail := func(err error) (State, bool) {
		kind := Unmeet
		var unmet *Unmet
		if errors.As(err, &unmet) && unmet.Reason == BeyondBattery {
			kind = AtCutOff
		}
		x.stop(n, kind, err.Error())
		return s, false
	}
	now := n.Time - left
	note := func(s *State, d *CraftState) {
		x.trace = append(x.trace, Under{Time: x.since + now, Speed: u.speed, Distance: u.distance, Thrust: r.Net(s), Drag: d.Drag, Power: s.Supply.BatteryPower, Leg: x.base})
		u.traced = len(x.trace)
	}
	full := leg.Condition
	pull := 0.0 // acceleration at the end of the last step
	for left > 0 {
		if a.Hold > 0 && u.speed == a.Hold && !leg.Rest {
			d := r.Drag(u.speed, a.Back)
			c := Condition{Speed: u.speed, Demand: Thrust, Amount: d.Drag / (1 - x.m.Drive.Craft.ThrustDeduction)}
			s, err := x.driving(leg, n.Leg, c)
			if err != nil {
				return fail(err)
			}
			if math.Abs(r.Net(&s)-d.Drag) < 1e-6*d.Drag {
				x.spend(u, &s, &d, u.speed, (r.Net(&s)-d.Drag)/mass, left)
				u.distance += r.Ground(u.speed, a.Back) * left
				now += left
				note(&s, &d)
				left = 0
				break
			}
		}
		rest := *leg
		rest.Rest = leg.Rest || a.Hold > 0 && u.speed > a.Hold // too fast: let it run out
		// how long: by the acceleration at the beginning
		full.Speed = u.speed
		s, err := x.driving(&rest, n.Leg, full)
		if err != nil {
			return fail(err)
		}
		d := r.Drag(u.speed, a.Back)
		pull = (r.Net(&s) - d.Drag) / mass
		if u.speed == 0 && pull <= 0 {
			x.spend(u, &s, &d, 0, 0, left)
			u.distance += r.Ground(0, a.Back) * left
			now += left
			note(&s, &d)
			break
		}
		step := math.Min(left, math.Max(quickestSail, math.Min(slowestSail, strideOfSpeed/math.Max(math.Abs(pull), 1e-9))))
		if left-step < 0.1*step {
			step = left
		}
		force := func(speed float64) (float64, error) {
			var err error
			full.Speed = speed
			if s, err = x.driving(&rest, n.Leg, full); err != nil {
				return 0, err
			}
			d = r.Drag(speed, a.Back)
			return r.Net(&s) - d.Drag, nil
		}
		// mean speed v: v = u + step/(2m)·F(v), by secants
		v0 := u.speed
		g0 := -0.5 * step * pull // v − u − step/(2m)·F at v = u
		v1 := math.Max(v0-g0, 0)
		var f float64
		for range 30 {
			if f, err = force(v1); err != nil {
				return fail(err)
			}
			g1 := v1 - u.speed - 0.5*step*f/mass
			if math.Abs(g1) <= 1e-13*(1+v1) || v1 == v0 {
				break
			}
			next := v1 - g1*(v1-v0)/(g1-g0)
			if !(next >= 0) || math.IsInf(next, 0) {
				next = math.Max(v1-g1, 0)
			}
			v0, g0, v1 = v1, g1, next
		}
		after := u.speed + step*f/mass
		target := a.Hold // or standing still: nothing here drifts backward
		if after < 0 {
			target = 0
		}
		if after < 0 || target > 0 && (u.speed-target)*(after-target) < 0 { // it lies within the step
			ends := 0.5 * (u.speed + target)
			g, err := force(ends)
			if err != nil {
				return fail(err)
			}
			if short := mass * (target - u.speed) / g; short > 0 && short <= 2*step && short <= left {
				step, after = short, target
			} else if _, err = force(v1); err != nil { // the state there counts
				return fail(err)
			}
		}
		acceleration := (after - u.speed) / step
		mean := 0.5 * (u.speed + after)
		x.spend(u, &s, &d, mean, acceleration, step)
		u.distance += r.Ground(mean, a.Back) * step
		u.speed = after
		left -= step
		now += step
		if left < 1e-12*(1+n.Time) {
			left = 0
		}
		note(&s, &d)
	}
	switch {
	case a.Until > 0 && u.speed >= a.Until*(1-1e-9), a.Metres > 0 && u.distance-begun.distance >= a.Metres:
		x.stop(n, arrived, "")
		return s, false
	case a.Until > 0 && n.Time > 1 && math.Abs(pull) < levelled:
		x.stop(n, arrived, "levels")
		return s, false
	}
	c := leg.Condition
	c.Speed = u.speed
	if a.Hold > 0 && u.speed == a.Hold && !leg.Rest {
		c.Demand, c.Amount = Thrust, r.Drag(u.speed, a.Back).Drag/(1-x.m.Drive.Craft.ThrustDeduction)
	}
	rest := *leg
	rest.Rest = leg.Rest || a.Hold > 0 && u.speed > a.Hold
	s, err := x.driving(&rest, n.Leg, c)
	if err != nil {
		return fail(err)
	}
	if s.ControllerPower == 0 && !rest.Rest {
		x.stop(n, Tripped, "nothing is left of its current")
		return s, false
	}
	if x.m.Chain.WeakestCell(s.Supply.BatteryVoltage, s.Supply.BatteryCurrent) < x.m.Drive.Battery.CutOff {
		x.stop(n, AtCutOff, "")
		return s, false
	}
	return s, true
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
	now := 0.0
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
		if kind != Finished && kind != arrived {
			done.Reached = p.Legs[i].ToEnd && (kind == AtCutOff || kind == Empty)
			break
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
	x.ending.Charge = last.Charge
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
