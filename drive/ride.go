package drive

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"jetwright/physics/craft"
	"jetwright/physics/water"
	"jetwright/quantity"
)

// AirDragArea is the usual range of a rider's drag area in air by posture; see craft.AirDragArea.
func AirDragArea(posture string) (low, high float64, ok bool) { return craft.AirDragArea(posture) }

// CraftState is the craft at a speed; see craft.Hull.
type CraftState = craft.State

// Ashore is the error of a drive whose craft has no drag: what is missing or wrong with it.
type Ashore struct {
	Reason craft.Reason
	Lacks  []string // paths
}

// Error words it.
func (a *Ashore) Error() string {
	if len(a.Lacks) > 0 {
		return "a ride takes " + strings.Join(a.Lacks, ", ")
	}
	return a.Reason.Error()
}

// Ride is a machine with its craft on the water. It is never changed after it is made.
type Ride struct {
	*Machine
	Hull *craft.Hull
}

// Afloat puts a machine's craft on its water. The error is an *Ashore.
func (m *Machine) Afloat() (*Ride, error) {
	c := m.Drive.Craft
	if lacks := c.Lacks(); len(lacks) > 0 {
		return nil, &Ashore{Reason: craft.Lacking, Lacks: lacks}
	}
	const gasConstant = 287.05 // of dry air, J/(kg·K); the air is taken as warm as the water
	h, r := craft.NewHull(c, craft.Medium{
		Density: m.Water.Density, Viscosity: m.Water.KinematicViscosity, Gravity: water.StandardGravity,
		AirDensity: m.Water.AirPressure / (gasConstant * m.Drive.Water.Temperature),
	})
	if r != craft.Solved {
		return nil, &Ashore{Reason: r}
	}
	return &Ride{m, h}, nil
}

// Bare is the craft of a drive in its water, with all else left out: what is asked of it is its drag. The error is an *Ashore.
func (d *Drive) Bare() (*Ride, error) {
	return (&Machine{Drive: *d, Water: d.Water.Properties()}).Afloat()
}

// Net is the thrust that a state leaves for the craft, N: under way always, since a craft that rides is never held.
func (r *Ride) Net(s *State) float64 { return (1 - r.Drive.Craft.ThrustDeduction) * s.Thrust }

// Drag is the craft at a speed through the water, on the way out or back.
func (r *Ride) Drag(speed float64, back bool) CraftState {
	return r.Hull.At(speed, r.Ground(speed, back)+sign(back)*r.Drive.Craft.Wind)
}

// Ground is the speed over the ground at one through the water, m/s.
func (r *Ride) Ground(speed float64, back bool) float64 {
	return speed + sign(back)*r.Drive.Craft.Current
}

func sign(back bool) float64 {
	if back {
		return -1
	}
	return 1
}

// Push is how hard the drive pushes.
type Push struct {
	Demand Demand
	Amount float64
}

func (p Push) at(speed float64) Condition {
	return Condition{Speed: speed, Demand: p.Demand, Amount: p.Amount}
}

// Crossed is a speed at which thrust and drag meet.
type Crossed struct {
	Speed float64 // m/s
	Drive State
	Craft CraftState
}

// Balance is thrust against drag at a push.
type Balance struct {
	Push       Push
	PlaneSpeed float64 // from which the craft is said to plane, m/s
	HumpSpeed  float64 // where the least thrust is left up to there, m/s
	Margin     float64 // net thrust over drag there, less 1
	HumpThrust float64 // N
	Hump       CraftState
	FromRest   Crossed // where a craft that starts from rest comes to
	Held       Crossed // the greatest speed that is held once it is reached
	Why        string  // why there is no balance
}

// Over tells that the craft gets onto the plane from rest.
func (b *Balance) Over() bool { return b.Why == "" && b.Margin > 0 }

// What a balance is looked at with.
const (
	balanceStep = 0.25 // m/s
	fastest     = 30.0 // m/s beyond which no drive here goes
	surely      = 0.15 // margin from which a craft surely gets onto the plane
	afloatSolve = 1e-9
)

// Balance holds thrust against drag from rest up.
func (r *Ride) Balance(p Push) Balance {
	b := Balance{Push: p, PlaneSpeed: r.Hull.PlaneSpeed(), Margin: math.Inf(1)}
	var s State
	left := func(v float64) (float64, CraftState, bool) {
		var err error
		c := p.at(v)
		if s, err = r.SolveBeside(c, &s, afloatSolve); err != nil {
			if s, err = r.Solve(c); err != nil {
				b.Why = err.Error()
				return 0, CraftState{}, false
			}
		}
		d := r.Drag(v, false)
		return r.Net(&s) - d.Drag, d, true
	}
	last := 0.0
	var speeds, ratios []float64 // up to where planing begins
	for v := balanceStep; v <= fastest; v += balanceStep {
		f, d, ok := left(v)
		if !ok {
			return b
		}
		if v < b.PlaneSpeed {
			speeds, ratios = append(speeds, v), append(ratios, over(f, d))
		}
		if f < 0 && (last >= 0) {
			at, ok := r.meet(left, v-balanceStep, v)
			if !ok {
				return b
			}
			at.Drive = s
			if b.FromRest.Speed == 0 {
				b.FromRest = at
			}
			b.Held = at
		}
		if last = f; f < 0 && v > b.PlaneSpeed && f < -0.5*d.Drag {
			break // far past all that could cross again
		}
	}
	if b.FromRest.Speed == 0 {
		b.Why = fmt.Sprintf("thrust exceeds drag up to %g m/s, beyond all that is known here", fastest)
		return b
	}
	ratio := func(v float64) float64 {
		f, d, ok := left(v)
		if !ok {
			return math.Inf(1)
		}
		return over(f, d)
	}
	speeds, ratios = append(speeds, b.PlaneSpeed), append(ratios, ratio(b.PlaneSpeed))
	// the hump by golden section about each place that is lower than its neighbours
	low := 0.0
	try := func(v, x, from float64) {
		if x < b.Margin {
			b.HumpSpeed, b.Margin, low = v, x, from
		}
	}
	for i, v := range speeds {
		if i > 0 && ratios[i-1] < ratios[i] || i+1 < len(speeds) && ratios[i+1] < ratios[i] {
			continue
		}
		from, to := 0.5*balanceStep, v
		if i > 0 {
			from = speeds[i-1]
		}
		if i+1 < len(speeds) {
			to = speeds[i+1]
		}
		try(v, ratios[i], from)
		at := golden(ratio, from, to)
		try(at, ratio(at), from)
	}
	if b.Why != "" {
		return b
	}
	f, d, ok := left(b.HumpSpeed)
	if !ok {
		return b
	}
	b.Hump, b.HumpThrust, b.Margin = d, f+d.Drag, f/d.Drag
	if b.Margin <= 0 && b.FromRest.Speed > b.HumpSpeed { // the steps went over a dip that is narrower than they are
		at, ok := r.meet(left, low, b.HumpSpeed)
		if !ok {
			return b
		}
		at.Drive = s
		b.FromRest = at
	}
	return b
}

// over is the force left over drag; a wind from behind may push at first, which is no hump.
func over(f float64, d CraftState) float64 {
	if d.Drag <= 0 {
		return math.Inf(1)
	}
	return f / d.Drag
}

// meet finds where a force left over vanishes between two speeds, the first with some left.
func (r *Ride) meet(left func(float64) (float64, CraftState, bool), low, high float64) (Crossed, bool) {
	var c Crossed
	for range 60 {
		v := 0.5 * (low + high)
		f, d, ok := left(v)
		if !ok {
			return c, false
		}
		c.Speed, c.Craft = v, d
		if f > 0 {
			low = v
		} else {
			high = v
		}
		if high-low < 1e-9*high {
			break
		}
	}
	return c, true
}

// golden looks for the place of the least of a function between two.
func golden(f func(float64) float64, a, b float64) float64 {
	const g = 0.6180339887498949
	x1, x2 := b-g*(b-a), a+g*(b-a)
	f1, f2 := f(x1), f(x2)
	for range 24 {
		if f1 < f2 {
			b, x2, f2 = x2, x1, f1
			x1 = b - g*(b-a)
			f1 = f(x1)
		} else {
			a, x1, f1 = x1, x2, f2
			x2 = a + g*(b-a)
			f2 = f(x2)
		}
	}
	return 0.5 * (a + b)
}

// RideMap is net thrust over speed and power beside the drag.
type RideMap struct {
	Speeds []float64 // m/s
	Pushes []Push
	Thrust [][]float64 // a row a push, N, where Solved tells that there is any
	Solved [][]bool
	Craft  []CraftState
}

// Map works thrust and drag out over speeds and pushes.
func (r *Ride) Map(speeds []float64, pushes []Push) *RideMap {
	a := &RideMap{Speeds: speeds, Pushes: pushes, Thrust: make([][]float64, len(pushes)), Solved: make([][]bool, len(pushes)), Craft: make([]CraftState, len(speeds))}
	for i, v := range speeds {
		a.Craft[i] = r.Drag(v, false)
	}
	for k, p := range pushes {
		row, ok := make([]float64, len(speeds)), make([]bool, len(speeds))
		var s State
		for i, v := range speeds {
			var err error
			if s, err = r.SolveBeside(p.at(v), &s, afloatSolve); err != nil {
				if s, err = r.Solve(p.at(v)); err != nil {
					s = State{}
					continue
				}
			}
			row[i], ok[i] = r.Net(&s), true
		}
		a.Thrust[k], a.Solved[k] = row, ok
	}
	return a
}

// EdgeRider returns the greatest mass of a rider in kg with whom a margin over the hump is kept at a push, all else as it is: the
// centre of gravity stays where it is typed. It is 0 where not even no rider keeps it.
func (r *Ride) EdgeRider(p Push, margin float64) float64 {
	// thrust does not know the rider: it is laid out once
	top := 1.6 * r.Hull.PlaneSpeed()
	const points = 48
	var speeds, thrust []float64
	var s State
	for i := range points {
		v := top * (0.15 + 0.85*float64(i)/(points-1))
		var err error
		if s, err = r.SolveBeside(p.at(v), &s, afloatSolve); err != nil {
			if s, err = r.Solve(p.at(v)); err != nil {
				return 0
			}
		}
		speeds, thrust = append(speeds, v), append(thrust, r.Net(&s))
	}
	keeps := func(mass float64) bool {
		c := r.Drive.Craft
		c.RiderMass = quantity.Some(mass)
		h, reason := craft.NewHull(c, r.Hull.Medium())
		if reason != craft.Solved {
			return false
		}
		plane := h.PlaneSpeed()
		for i, v := range speeds {
			if v > plane {
				break
			}
			if thrust[i] < (1+margin)*h.At(v, r.Ground(v, false)+c.Wind).Drag {
				return false
			}
		}
		return true
	}
	low, high := 0.0, 2*r.Drive.Craft.RiderMass.Value+100
	if !keeps(low) {
		return 0
	}
	for range 16 {
		if mid := 0.5 * (low + high); keeps(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// At is the ride with its battery at a charge, 0 to 1.
func (r *Ride) At(charge float64) (*Ride, error) {
	m := *r.Machine
	if err := m.Chain.Recharge(charge, m.Drive.Battery.Temperature); err != nil {
		return nil, err
	}
	m.Drive.Battery.Charge = charge
	return &Ride{&m, r.Hull}, nil
}

// MostPower returns the greatest battery power in W up to a bound that the drive can take at a speed in m/s with the weakest cell above its cut-off, the
// throttle not above full and no current above its typed limit.
func (r *Ride) MostPower(speed, bound float64) float64 {
	k, b := &r.Drive.Controller, &r.Drive.Battery
	takes := func(p float64) bool {
		s, err := r.Solve(Condition{Speed: speed, Demand: BatteryPower, Amount: p})
		return err == nil && !r.short(&s) && r.Chain.WeakestCell(s.Supply.BatteryVoltage, s.Supply.BatteryCurrent) >= b.CutOff &&
			(!k.BatteryCurrentLimit.Set || s.Supply.BatteryCurrent <= k.BatteryCurrentLimit.Value) &&
			(!k.PhaseCurrentLimit.Set || phaseAs(k.PhaseCurrentConvention, s.Motor) <= k.PhaseCurrentLimit.Value)
	}
	if takes(bound) {
		return bound
	}
	low, high := 0.0, bound
	for range 30 {
		if mid := 0.5 * (low + high); takes(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// ClimbAt returns the margin over the hump with the battery at a charge, at the most that it and the controller give there, up to a battery
// power in W; the hump is taken at a speed.
func (r *Ride) ClimbAt(charge, hump, power float64) (margin, given float64, err error) {
	at, err := r.At(charge)
	if err != nil {
		return 0, 0, err
	}
	given = at.MostPower(hump, power)
	if given <= 0 {
		return -1, 0, nil
	}
	s, err := at.Solve(Condition{Speed: hump, Demand: BatteryPower, Amount: given})
	if err != nil {
		return -1, given, nil
	}
	return r.Net(&s)/r.Drag(hump, false).Drag - 1, given, nil
}

// Cruise is a speed that is held.
type Cruise struct {
	Speed  float64 // through the water, m/s
	Ground float64 // m/s
	Drive  State
	Craft  CraftState
	Metre  float64 // energy at the battery for each metre over the ground, J/m
}

// Cruise holds a speed. The error is why it cannot be held.
func (r *Ride) Cruise(speed float64, back bool) (Cruise, error) {
	c := Cruise{Speed: speed, Ground: r.Ground(speed, back), Craft: r.Drag(speed, back)}
	var err error
	c.Drive, err = r.Solve(Condition{Speed: speed, Demand: Thrust, Amount: c.Craft.Drag / (1 - r.Drive.Craft.ThrustDeduction)})
	if err != nil {
		return c, err
	}
	if c.Metre = math.Inf(1); c.Ground > 0 {
		c.Metre = c.Drive.BatteryPower / c.Ground
	}
	return c, nil
}

// BestRange returns the speed up to a bound in m/s at which a metre over the ground takes the least from the battery, planing or not, and the
// best that planes where there is one.
func (r *Ride) BestRange(bound float64) (any, planing Cruise, ok bool) {
	const points = 40
	var list []Cruise
	for i := range points {
		v := bound * (0.1 + 0.9*float64(i)/(points-1))
		if c, err := r.Cruise(v, false); err == nil && !math.IsInf(c.Metre, 0) {
			list = append(list, c)
		}
	}
	if len(list) == 0 {
		return any, planing, false
	}
	sort.SliceStable(list, func(i, j int) bool { return list[i].Metre < list[j].Metre })
	any = list[0]
	for _, c := range list {
		if c.Speed >= r.Hull.PlaneSpeed() {
			planing = c
			break
		}
	}
	return any, planing, true
}

// Craft is the drive's craft; see craft.Craft.
type Craft = craft.Craft

// QuickToPlane returns time in s and way over the ground in m from rest onto the plane at a push, +Inf where it does not get there.
//
//	t = ∫ m'/F dV,  s = ∫ (V + c)·m'/F dV,  F = (1 − t)·T − D
//
//	m'  mass with the water that is speeded up, kg;  F force that is left, N
//	c   current, m/s
//
// Battery and temperatures stay as at the start, which a march does not: it is some per cent shorter.
//
// Source: own. Tests: TestQuickToPlaneLaw.
func (r *Ride) QuickToPlane(p Push) (time, way float64) {
	const pieces = 48
	top := r.Hull.PlaneSpeed()
	var s State
	for i := range pieces {
		v := top * (float64(i) + 0.5) / pieces
		var err error
		if s, err = r.SolveBeside(p.at(v), &s, afloatSolve); err != nil {
			return math.Inf(1), math.Inf(1)
		}
		f := r.Net(&s) - r.Drag(v, false).Drag
		if f <= 0 {
			return math.Inf(1), math.Inf(1)
		}
		t := r.Hull.Mass() * top / pieces / f
		time += t
		way += r.Ground(v, false) * t
	}
	return time, way
}
