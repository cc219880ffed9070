package drive

import (
	"errors"
	"fmt"
	"math"

	"jetwright/physics/electric"
	"jetwright/physics/heat"
	"jetwright/physics/jet"
	"jetwright/quantity"
)

// Fault is what is wrong in a leg of a march. The zero value is none.
type Fault struct {
	CoolantLost float64 // share of the coolant's flow that is lost, 0 to 1
	HoseOff     bool    // the hose between the two parts that the coolant meets is off
	Dry         bool    // the pump draws air: no load and no coolant at the throttle of before, and a seal that runs dry
	Weed        float64 // share of the jet's intake that weed closes, 0 to 1: the throttle of before, less water
	Frozen      bool    // sensors show what they showed before: no trip acts, and foldback stays as it was
	NoTrip      bool    // trips are left out, to see what they would keep
}

// Leg is a piece of a march: a condition held for a time.
type Leg struct {
	Seconds   float64
	Condition Condition
	Rest      bool // the motor stands; the condition does not matter
	Hold      bool // the throttle that the leg begins with is held, in place of the condition
	Fault     Fault
	Sail      *Sail          // on the water with the craft: the condition's speed is then the craft's own; nil otherwise
	Text      string         // as typed
	At        quantity.Place // where it was typed
}

// March is what a drive does over time.
type March struct {
	Legs      []Leg
	Soak      float64 // s at rest after the last leg, or after what ended the march before
	Every     float64 // s between rows; 0 for none
	Tolerance float64 // K that a step may be wrong; 0.005 if 0
}

// EndKind is how a march ends. The list is closed.
type EndKind int8

// Ends of a march.
const (
	Finished EndKind = iota // all legs were done
	Empty                   // the battery's charge is used up
	AtCutOff                // the weakest cell's voltage under load is at its cut-off
	Unmeet                  // a leg's condition has no state
	Tripped                 // a temperature at which the controller stops the motor was reached
	RanAway                 // a temperature ran away
	arrived                 // a leg on the water has come to its end
)

// Ending is how a march ended, and when.
type Ending struct {
	Kind   EndKind
	Time   float64 // s
	Leg    int     // from 0
	Legs   int
	Charge float64 // of the battery, 0 to 1
	Short  int     // legs on the water that ended without what they aim at
	Detail string
}

// In tells that a march was cut short in a leg.
func (e Ending) In(leg int) bool { return e.Kind != Finished && e.Leg == leg }

// String words it.
func (e Ending) String() string {
	at := fmt.Sprintf("after %.4g s in leg %d of %d", e.Time, e.Leg+1, e.Legs)
	done := fmt.Sprintf("all %d legs done", e.Legs)
	if e.Legs == 1 {
		at, done = fmt.Sprintf("after %.4g s", e.Time), "done"
	}
	if e.Short > 0 {
		done = fmt.Sprintf("all %d legs over, %d of them short of what it aims at", e.Legs, e.Short)
		if e.Legs == 1 {
			done = "over, short of what it aims at"
		}
	}
	switch e.Kind {
	case Empty:
		return "empty " + at
	case AtCutOff:
		return fmt.Sprintf("at the battery's cut-off %s, with %.3g %% charge left", at, 100*e.Charge)
	case Unmeet:
		return "ends " + at + ": " + e.Detail
	case Tripped:
		return "stopped by the controller " + at + ": " + e.Detail
	case RanAway:
		return "runs away " + at + ": " + e.Detail
	}
	return fmt.Sprintf("%s in %.4g s, with %.3g %% charge left", done, e.Time, 100*e.Charge)
}

// Row is the drive at a time of a march.
type Row struct {
	Time            float64 `unit:"s" doc:"time from the start"`
	Charge          float64 `unit:"%" doc:"charge of the battery"`
	BatteryVoltage  float64 `unit:"V" doc:"voltage at the battery's terminals"`
	BatteryCurrent  float64 `unit:"A" doc:"battery current"`
	BatteryPower    float64 `unit:"W" doc:"power at the battery's terminals"`
	ControllerPower float64 `unit:"W" doc:"power at the controller's output"`
	PhaseCurrent    float64 `unit:"A" doc:"phase current, rms"`
	Thrust          float64 `unit:"N" doc:"gross thrust"`
	RotorSpeed      float64 `unit:"rpm" doc:"rotor speed of the impeller"`
	CoolantFlow     float64 `unit:"L/min" doc:"coolant flow"`
	Fold            float64 `unit:"%" doc:"share of the phase current asked for that foldback leaves; 100 % where it does not bite"`
	Speed           float64 `unit:"m/s" doc:"speed through the water"`
	Distance        float64 `unit:"m" doc:"way over the ground"`
	Leg             int     // from 0; one more than the last for the soak

	under   under // way, on the water
	relaxed electric.Relaxed
	short   bool // the voltage does not reach
}

// Reached is when a limit was reached for the first time.
type Reached struct {
	Time float64 // s
	Leg  int
	Ever bool
}

// Marched is what a march gives. It is used again by the next march that is given it.
type Marched struct {
	Rows         []Row
	Temperatures []float64 // K, a row of all nodes for each of Rows
	Peak         []float64 // highest temperature by node, K
	PeakTime     []float64 // s
	End          []float64 // K by node, at the end of the soak
	AtEnding     []float64 // K by node, when the motor stopped
	Reached      []Reached // by limit of HeatLimits
	Short        Reached   // from when on the battery's voltage does not reach for what a leg asks
	Ending       Ending
	Fuse         Fused
	Energy       heat.Energy // J, the soak included
	BatteryOut   float64     // J at the battery's terminals
	Folded       Folding
	Steps, Calls int
}

// Folding is what the controller's foldback took over a march.
type Folding struct {
	Bites bool
	Time  float64 // s at which it first did
	Least float64 // share of the phase current asked for that it left at least
}

// Temperature is that of a node in a row, K.
func (d *Marched) Temperature(row, node int) float64 { return d.Temperatures[row*len(d.Peak)+node] }

// held are the temperatures that a marching machine works at, in place of steady ones.
type held struct{ winding, magnets, bridge float64 }

// Marcher marches one machine over time. It holds the room that a march needs and serves one after
// another, on one goroutine at a time.
type Marcher struct {
	m      Machine // a copy of its own, with temperatures held
	held   held
	Nodes  []string
	Limits []HeatLimit

	runner *heat.Runner
	duty   heat.Duty
	record heat.Record
	at     nodes
	first  int // stream up to the first part
	onward int
	typed  [4]int  // streams of a typed way: beside, leaves, return, keel; -1 where there is none
	plate  bool    // the coolant meets the plate first
	pumps  float64 // electric power of the coolant's pumps, W: taken as heat of the air about them

	charge  float64 // of the full battery, A·s
	fresh   float64 // share of it at the start
	cold    float64 // temperature of the cells at the start, K
	alpha   float64
	refers  float64 // K
	endTurn float64
	legs    []Leg
	points  []Row
	near    float64
	share   float64 // modulation that a leg began with
	started int     // leg that share belongs to
	ending  Ending
	halt    Ending // why the last step that was asked for could not be taken
	fixed   bool   // charge stands still: a steady state is sought
	begin   float64
	rested  electric.Relaxed // what the cells hold back at the start of the legs at hand
	flow    float64          // in force, m³/s
	rates   heat.Flows
	rated   int // leg that they are of
	clean   jet.Path
	weed    float64 // share of the intake closed in the path at hand
	fold    float64 // share of the phase current that the controller left when its sensors last moved
	left    float64 // share of the phase current asked for that it left in the state at hand
	begun   float64 // phase current that the leg at hand began with, A in the convention of its limit
	temps   []float64

	base  int   // number of the first of the legs at hand
	ride  *Ride // of this machine, with temperatures held; nil ashore
	under under // how the craft was under way at the start of the legs at hand
	trace []Under
	since float64  // s from the start of the ride to that of the legs at hand
	set   under    // the same, while under changes
	names []string // paths of the entries of a ride's account
	words []string
	room  []Entry
}

// nodes are places of the network's nodes.
type nodes struct {
	water, winding, endTurns, iron, magnets, jacket, bearings, junction, plate, capacitor, plateCoolant, jacketCoolant, cells, air, mounts int
}

// coolantFlow is what the march takes as the coolant's flow at a state, m³/s: the one place where heat and
// water path meet over time.
func coolantFlow(s *State) float64 { return s.Heat.CoolantFlow }

// given is what the network of heat is told of a machine. The resistances between parts and coolant are taken as
// those of the design point's flow.
func (m *Machine) given() (heat.Given, error) {
	d := &m.Drive
	g := heat.Given{
		MotorMass: d.Motor.Mass, Length: d.Motor.Length, Diameter: d.Motor.Diameter,
		WindingToJacket: d.Motor.WindingToJacket, BridgeToPlate: d.Controller.BridgeToPlate, CapacitorToAir: d.Controller.CapacitorToAir,
		Cells: d.Battery.Series * d.Battery.Parallel, CellCapacity: d.Battery.CellCapacity,
		Cooling: d.Cooling, Density: m.Water.Density, SpecificHeat: m.Water.SpecificHeat, Water: d.Water.Temperature,
	}
	s, err := m.Solve(d.DutyCondition())
	if err != nil {
		return g, err
	}
	g.Flow = coolantFlow(&s)
	if g.Typed = m.coolant; g.Typed != nil {
		g.Flow = math.Max(g.Flow, leastReference)
	}
	return g, nil
}

// leastReference is the flow in m³/s at which the resistance of a part that is not typed is taken to hold where the design point's
// coolant does not flow at all.
const leastReference = 1e-6

// NewMarcher makes room for marches of a machine. The error is an *Unmet of the design point, at whose coolant
// flow the thermal resistances hold, or a notice.List of what is wrong with the network.
func NewMarcher(m *Machine) (*Marcher, error) {
	g, err := m.given()
	if err != nil {
		return nil, err
	}
	d := &m.Drive
	network := d.Thermal.Network(g)
	for _, e := range d.Elements {
		network.Replace(e)
	}
	sys, err := heat.NewSystem(network)
	if err != nil {
		return nil, err
	}
	x := &Marcher{m: *m, clean: m.Path, Nodes: sys.Names, runner: heat.NewRunner(sys), endTurn: d.Thermal.EndTurnShare}
	x.m.held = &x.held
	x.charge = d.Battery.CellCapacity * float64(d.Battery.Parallel)
	x.fresh, x.cold = d.Battery.Charge, d.Battery.Temperature
	_, x.alpha, x.refers = m.Chain.Copper(0)
	for name, to := range map[string]*int{
		heat.NodeWater: &x.at.water, heat.NodeWinding: &x.at.winding, heat.NodeEndTurns: &x.at.endTurns, heat.NodeIron: &x.at.iron,
		heat.NodeMagnets: &x.at.magnets, heat.NodeJacket: &x.at.jacket, heat.NodeBearings: &x.at.bearings, heat.NodeJunction: &x.at.junction,
		heat.NodePlate: &x.at.plate, heat.NodeCapacitor: &x.at.capacitor, heat.NodePlateCoolant: &x.at.plateCoolant,
		heat.NodeJacketCoolant: &x.at.jacketCoolant, heat.NodeCells: &x.at.cells, heat.NodeAir: &x.at.air, heat.NodeMounts: &x.at.mounts,
	} {
		*to, _ = sys.Node(name)
	}
	x.first, _ = sys.Stream(heat.StreamCoolant)
	x.onward, _ = sys.Stream(heat.StreamOnward)
	for i, name := range [...]string{heat.StreamBeside, heat.StreamLeaves, heat.StreamReturn, heat.StreamKeel} {
		x.typed[i] = -1
		if k, ok := sys.Stream(name); ok {
			x.typed[i] = k
		}
	}
	if m.coolant != nil {
		x.plate, x.pumps = m.coolant.PlateFirst(), m.coolant.PumpPower()
	}
	x.Limits = m.HeatLimits()
	for _, l := range x.Limits {
		x.duty.Bounds = append(x.duty.Bounds, heat.Bound{Node: l.Node, Value: l.Allowed})
	}
	x.temps = make([]float64, len(sys.Names))
	return x, nil
}

// Node is the place of a node by its name.
func (x *Marcher) Node(name string) int {
	for i, n := range x.Nodes {
		if n == name {
			return i
		}
	}
	return -1
}

// ErrNoLegs says that a march has no legs, or one without a duration.
var ErrNoLegs = errors.New("a march needs legs, each longer than 0 s")

// Run marches a machine over time from its start: motor, controller and compartment at the start of Thermal, cells
// at the battery's temperature and charge. What ends it before its last leg is in the record's Ending; the error is
// of a march that cannot be begun. The chain is solved once for each step that is tried whole; its charge follows the current by
// the trapezoid through the ends of each step.
//
// Between two steps electric figures of a row are drawn in straight lines, temperatures by the step's own
// polynomial. A step is at most 20 s.
func (x *Marcher) Run(p March, out *Marched) error {
	if len(p.Legs) == 0 {
		return ErrNoLegs
	}
	d := &x.m.Drive
	start := d.Thermal.Start.Or(d.Water.Temperature)
	for i := range x.temps {
		x.temps[i] = start
	}
	x.temps[x.at.water], x.temps[x.at.cells] = d.Water.Temperature, x.cold
	x.legs = append(x.legs[:0], p.Legs...)
	x.duty.Legs = x.duty.Legs[:0]
	for _, l := range p.Legs {
		if !(l.Seconds > 0) {
			return ErrNoLegs
		}
		x.duty.Legs = append(x.duty.Legs, heat.Leg{Duration: l.Seconds})
	}
	x.reset(p, out)
	x.fold, x.base = 1, 0
	x.ending = Ending{Legs: len(p.Legs)}
	x.begin, x.rested = x.fresh, electric.Relaxed{}
	if err := x.run(out, 0); err != nil {
		return err
	}
	last := x.points[len(x.points)-1]
	x.ending.Charge = last.Charge
	if x.ending.Kind == Finished {
		x.ending.Time, x.ending.Leg = last.Time, len(p.Legs)-1
	}
	out.AtEnding = append(out.AtEnding[:0], x.record.End...)
	if p.Soak > 0 && x.ending.Kind != RanAway {
		end := x.ending
		copy(x.temps, x.record.End)
		x.begin, x.rested = last.Charge, last.relaxed
		x.base = len(p.Legs)
		x.legs = append(x.legs[:0], Leg{Seconds: p.Soak, Rest: true})
		x.duty.Legs = append(x.duty.Legs[:0], heat.Leg{Duration: p.Soak})
		if err := x.run(out, last.Time); err != nil {
			return err
		}
		x.ending = end
	}
	out.Ending = x.ending
	out.End = append(out.End[:0], x.record.End...)
	return nil
}

// reset empties a record.
func (x *Marcher) reset(p March, out *Marched) {
	x.duty.Every, x.duty.Tolerance, x.duty.LongStep, x.duty.Feed = p.Every, p.Tolerance, x.longest(), x.ask
	if p.Tolerance == 0 {
		x.duty.Tolerance = 0.005
	}
	x.duty.Start = x.temps
	out.Rows, out.Temperatures = out.Rows[:0], out.Temperatures[:0]
	if p.Every > 0 {
		total := p.Soak
		for _, l := range p.Legs {
			total += l.Seconds
		}
		if rows := total/p.Every + 3; float64(cap(out.Rows)) < rows && rows < mostRows {
			out.Rows, out.Temperatures = make([]Row, 0, int(rows)), make([]float64, 0, int(rows)*len(x.Nodes))
		}
	}
	out.Peak, out.PeakTime, out.Reached = out.Peak[:0], out.PeakTime[:0], out.Reached[:0]
	for range x.Nodes {
		out.Peak, out.PeakTime = append(out.Peak, 0), append(out.PeakTime, 0)
	}
	for range x.Limits {
		out.Reached = append(out.Reached, Reached{})
	}
	out.Energy, out.BatteryOut, out.Steps, out.Calls, out.Short, out.Fuse, out.Folded = heat.Energy{}, 0, 0, 0, Reached{}, Fused{}, Folding{Least: 1}
}

// mostRows is how many rows room is made for beforehand.
const mostRows = 1e6

// longStep is the longest step of a march, s.
const longStep = 20

// run runs the legs at hand and adds what they give to a record, as from a time in s.
func (x *Marcher) run(out *Marched, from float64) error {
	x.points, x.started, x.near, x.flow, x.fixed = x.points[:0], -1, 0, -1, false
	x.halt, x.duty.Lag = Ending{}, 0
	if x.duty.Every > 0 {
		x.duty.Lag = math.Mod(from, x.duty.Every)
	}
	err := x.runner.Run(&x.duty, &x.record)
	var u *heat.Unsolved
	switch {
	case errors.As(err, &u):
		x.ending.Time, x.ending.Leg = from+u.Time, x.base+x.legOf(u.Time)
		x.ending.Kind, x.ending.Detail = x.halt.Kind, x.halt.Detail
		if u.Reason != heat.Stopped {
			x.ending.Kind, x.ending.Detail = RanAway, u.Error()
		}
		if len(x.points) == 0 { // nothing was met at all
			x.points = append(x.points, Row{Charge: x.begin, Fold: 1, Speed: x.under.speed, Distance: x.under.distance, under: x.under})
			if len(x.record.End) > 0 {
				copy(x.record.End, x.temps)
			}
		}
	case err != nil:
		return err
	}
	r := &x.record
	for i := 1; i < len(x.points); i++ {
		a, b := &x.points[i-1], &x.points[i]
		if a.short && !out.Short.Ever {
			out.Short = Reached{Time: from + a.Time, Leg: x.base + a.Leg, Ever: true}
		}
		x.m.fuse(&out.Fuse, a, b, from)
		out.BatteryOut += 0.5 * (a.BatteryPower + b.BatteryPower) * (b.Time - a.Time)
	}
	for i := range x.points {
		if p := &x.points[i]; p.Fold < out.Folded.Least {
			if !out.Folded.Bites {
				out.Folded.Bites, out.Folded.Time = true, from+p.Time
			}
			out.Folded.Least = p.Fold
		}
	}
	legs := len(out.Rows) > 0
	for i, k := 0, 0; i < len(r.Times); i++ {
		t := r.Times[i]
		for k+1 < len(x.points) && x.points[k+1].Time <= t {
			k++
		}
		if legs && t <= 0 || t > x.points[len(x.points)-1].Time {
			continue
		}
		row := x.points[k]
		if k+1 < len(x.points) && x.points[k+1].Leg == row.Leg {
			row = between(row, x.points[k+1], t)
		}
		row.Time = from + t
		row.Leg += x.base
		out.Rows = append(out.Rows, row)
		out.Temperatures = append(out.Temperatures, r.Row(i)...)
	}
	for i, peak := range r.Peak {
		if peak > out.Peak[i] {
			out.Peak[i], out.PeakTime[i] = peak, from+r.PeakTime[i]
		}
	}
	for _, e := range r.Events {
		if to := &out.Reached[e.Bound]; !to.Ever {
			*to = Reached{Time: from + e.Time, Leg: x.base + e.Leg, Ever: true}
		}
	}
	out.Energy.In += r.Energy.In
	out.Energy.Out += r.Energy.Out
	out.Energy.Stored += r.Energy.Stored
	out.Steps += r.Steps
	out.Calls += r.Calls
	for i := range x.points {
		x.points[i].Time += from
	}
	return nil
}

// legOf is the leg that a time in s from the start of the legs at hand lies in.
func (x *Marcher) legOf(t float64) int {
	for i, l := range x.legs {
		if t -= l.Seconds; t < -1e-9 {
			return i
		}
	}
	return len(x.legs) - 1
}

// between is a row at a time between two points.
func between(a, b Row, t float64) Row {
	u := (t - a.Time) / (b.Time - a.Time)
	on := func(p, q float64) float64 { return p + u*(q-p) }
	return Row{
		Time: t, Leg: a.Leg, Charge: on(a.Charge, b.Charge), BatteryVoltage: on(a.BatteryVoltage, b.BatteryVoltage),
		BatteryCurrent: on(a.BatteryCurrent, b.BatteryCurrent), BatteryPower: on(a.BatteryPower, b.BatteryPower),
		ControllerPower: on(a.ControllerPower, b.ControllerPower), PhaseCurrent: on(a.PhaseCurrent, b.PhaseCurrent), Thrust: on(a.Thrust, b.Thrust),
		RotorSpeed: on(a.RotorSpeed, b.RotorSpeed), CoolantFlow: on(a.CoolantFlow, b.CoolantFlow), Fold: on(a.Fold, b.Fold), Speed: on(a.Speed, b.Speed), Distance: on(a.Distance, b.Distance),
	}
}

// stop ends the march in the leg at hand.
func (x *Marcher) stop(n *heat.Now, kind EndKind, detail string) {
	n.Stop = true
	x.halt = Ending{Kind: kind, Detail: detail}
}

// ask is the feed: charge first, then the drive at the temperatures of the network, then its losses as heat.
func (x *Marcher) ask(n *heat.Now) {
	leg := &x.legs[n.Leg]
	charge := x.begin
	var before Row
	if !x.fixed {
		// a step that was refused had been asked for a time that is no longer past
		for k := len(x.points); k > 0 && x.points[k-1].Leg == n.Leg && x.points[k-1].Time >= n.Time; k-- {
			x.points = x.points[:k-1]
		}
		if k := len(x.points); k > 0 {
			before = x.points[k-1]
			charge = before.Charge - before.BatteryCurrent*(n.Time-before.Time)/x.charge
		}
	}
	t := n.Temperatures
	thermal := &x.m.Drive.Thermal
	if !leg.Rest && !leg.Fault.Frozen && !leg.Fault.NoTrip && !x.fixed {
		switch {
		case thermal.HousingTrip.Set && t[x.at.jacket] >= thermal.HousingTrip.Value:
			x.stop(n, Tripped, fmt.Sprintf("the motor's housing is at %.3g °C", t[x.at.jacket]-zeroCelsius))
			return
		case thermal.PlateTrip.Set && t[x.at.plate] >= thermal.PlateTrip.Value:
			x.stop(n, Tripped, fmt.Sprintf("its plate is at %.3g °C", t[x.at.plate]-zeroCelsius))
			return
		}
	}
	x.held.winding = t[x.at.winding] + x.endTurn*(t[x.at.endTurns]-t[x.at.winding])
	x.held.magnets, x.held.bridge = t[x.at.magnets], t[x.at.junction]
	if charge <= 0 {
		x.stop(n, Empty, "")
		return
	}
	if err := x.m.Chain.Recharge(charge, t[x.at.cells]); err != nil {
		x.stop(n, Unmeet, err.Error())
		return
	}
	x.m.Drive.Battery.Charge = charge
	relaxing := x.relax(n.Time, &before)
	if thermal.Folds() && !leg.Fault.Frozen && !x.fixed {
		x.fold = thermal.Fold(t[x.at.jacket], t[x.at.plate])
	}
	var s State
	u := x.under
	if len(x.points) > 0 {
		u = before.under
	}
	x.left = 1
	switch {
	case leg.Sail != nil:
		var ok bool
		if s, ok = x.sail(n, leg, &u, n.Time-before.Time); !ok {
			return
		}
	case leg.Rest:
		s = x.resting()
	default:
		var err error
		if s, err = x.driven(leg, n.Leg); err != nil {
			kind := Unmeet
			var u *Unmet
			if k := len(x.points); errors.As(err, &u) && u.Reason == BeyondBattery && k > 0 && x.points[k-1].Leg == n.Leg {
				kind = AtCutOff // it could be met when the leg began
			}
			x.stop(n, kind, err.Error())
			return
		}
		if s.ControllerPower == 0 {
			x.stop(n, Tripped, fmt.Sprintf("nothing is left of its current with the motor's housing at %.3g °C and its plate at %.3g °C", t[x.at.jacket]-zeroCelsius, t[x.at.plate]-zeroCelsius))
			return
		}
		if x.m.Chain.WeakestCell(s.Supply.BatteryVoltage, s.Supply.BatteryCurrent) < x.m.Drive.Battery.CutOff && !x.fixed {
			x.stop(n, AtCutOff, "")
			return
		}
	}
	if !x.fixed {
		if dt := n.Time - before.Time; len(x.points) > 0 && dt > 0 {
			charge = before.Charge - 0.5*(before.BatteryCurrent+s.Supply.BatteryCurrent)*dt/x.charge
			if leg.Sail != nil {
				charge = before.Charge - (u.charge-before.under.charge)/x.charge
			}
		}
		relaxing = x.relaxed(n.Time, &before, relaxing, &s)
		x.points = append(x.points, Row{
			relaxed: relaxing, short: x.m.short(&s), Time: n.Time, Leg: n.Leg, Charge: charge, BatteryVoltage: s.Supply.BatteryVoltage, BatteryCurrent: s.Supply.BatteryCurrent,
			BatteryPower: s.Supply.BatteryPower, ControllerPower: s.ControllerPower, PhaseCurrent: s.Motor.PhaseCurrentRMS, Thrust: s.Thrust, RotorSpeed: s.RotorSpeed, CoolantFlow: x.cooled(leg, &s), Fold: x.left,
			Speed: s.Speed, Distance: u.distance, under: u,
		})
	}
	x.warm(n, leg, &s)
}
