package drive

import (
	"math"

	"jetwright/physics/electric"
	"jetwright/physics/heat"
	"jetwright/physics/jet"
)

// electrics is the electric side at an operating point, temperatures included.
type electrics struct {
	motor  electric.MotorState
	supply electric.SupplyState
	heat   heat.State
}

// supply works out motor, controller, battery and temperatures at a motor torque and speed.
// The winding's temperature and its copper loss hang together in closed form; the little
// that the controller's heat adds to the coolant is iterated.
func (m *Machine) supply(way *jet.Way, torque, speed, jetVelocity float64) (electrics, Reason) {
	var e electrics
	if m.held != nil {
		return m.supplyHeld(way, torque, speed, jetVelocity)
	}
	d := &m.Drive
	coolant := m.Coolant(jetVelocity, way.Speed)
	inlet := d.Water.Temperature
	current := m.Chain.Current(torque, speed)
	copper, alpha, reference := m.Chain.Copper(current)
	winding := heat.Winding{
		// the coolant's mean lies half the motor's own rise above its inlet
		Resistance: d.Motor.WindingToJacket + coolant.JacketToCoolant + 0.5/coolant.JacketRate + coolant.Return,
		OtherHeat:  m.Chain.NoLoadLoss(speed), CopperAtReference: copper, Alpha: alpha, Reference: reference,
	}
	controllerHeat := m.Chain.ControllerHeat(current)
	turns := heatTurns
	if m.Chain.Coupled() {
		turns++ // the first guess leaves out what is coupled
	}
	warmed := coolant.ToJacket > 0 || coolant.Return > 0 // the controller warms the motor's coolant
	bridge, settled := inlet, inlet
	weak, weakens := 0.0, m.Chain.Weakens()
	if m.Chain.BridgeMatters() || weakens {
		turns = bridgeTurns
	}
	for range turns {
		winding.CopperAtReference = copper + weak
		winding.Coolant = inlet
		if warmed {
			winding.Coolant += coolant.ToJacket*controllerHeat/coolant.JacketRate + coolant.Return*controllerHeat
		}
		// A winding that would settle above its bound, or not at all, is taken at the moment when
		// it reaches that bound: its resistance is the one there, and the temperature shown is where
		// that loss would lead.
		t, at := m.settle(winding)
		if m.Chain.MagnetsMatter() {
			t, at = m.settleMagnets(&winding, copper, weak, settled)
			settled = at
		}
		e.motor = m.Chain.Motor(torque, speed, at, winding.Coolant)
		if at != t {
			e.motor.WindingTemperature = t
			e.motor.MagnetTemperature += d.Motor.MagnetRiseShare * (t - at)
		}
		var reason electric.Reason
		e.supply, reason = m.Chain.SupplyAt(&e.motor, bridge)
		if reason != electric.Solved {
			return e, BeyondBattery
		}
		last, lastHeat := bridge, controllerHeat
		controllerHeat = e.supply.Heat()
		done := !warmed
		if m.Chain.BridgeMatters() {
			bridge = math.Min(m.heat(&e, coolant).BridgeTemperature, m.bridgeBound)
			done = math.Abs(bridge-last) < 1e-12*bridge
		} else if weakens {
			done = done || math.Abs(controllerHeat-lastHeat) < 1e-12*controllerHeat
		}
		if weakens {
			// what the current against the magnets makes of heat, with the winding at its reference
			more := e.motor.WeakeningLoss() / (1 + alpha*(at-reference))
			done = done && math.Abs(more-weak) <= 1e-12*(copper+more)
			weak = more
		}
		if done {
			break
		}
	}
	e.heat = m.heat(&e, coolant)
	return e, Solved
}

// supplyHeld is supply at temperatures that are held, as on a march.
func (m *Machine) supplyHeld(way *jet.Way, torque, speed, jetVelocity float64) (electrics, Reason) {
	var e electrics
	e.motor = m.Chain.MotorAt(torque, speed, m.held.winding, m.held.magnets)
	var ok bool
	if e.supply, ok = m.supplied(&e.motor); !ok {
		return e, BeyondBattery
	}
	e.heat.CoolantFlow = m.Coolant(jetVelocity, way.Speed).Flow
	e.heat.BridgeTemperature = m.held.bridge
	return e, Solved
}

// supplied is controller and battery at the temperature held.
func (m *Machine) supplied(s *electric.MotorState) (electric.SupplyState, bool) {
	out, reason := m.Chain.SupplyAt(s, m.held.bridge)
	return out, reason == electric.Solved
}

// heat is the circuit at an operating point.
func (m *Machine) heat(e *electrics, coolant heat.Streams) heat.State {
	return coolant.Steady(heat.Load{
		Inlet: m.Drive.Water.Temperature,
		Motor: e.motor.CopperLoss + e.motor.NoLoadLoss, Controller: e.supply.Heat(), BridgeToPlate: m.Drive.Controller.BridgeToPlate,
	})
}

// bridgeTurns is how often the switches' temperature and their resistance are exchanged, at most: like
// the winding's, that resistance stops at the bound.
const bridgeTurns = 40

// settle returns the winding's temperature that is shown and the one that its resistance is taken at.
func (m *Machine) settle(w heat.Winding) (shown, at float64) {
	t, ok := heat.SteadyWinding(w)
	if ok && t <= m.windingBound {
		return t, t
	}
	at = m.windingBound
	return w.Coolant + w.Resistance*(w.OtherHeat+w.CopperAtReference*(1+w.Alpha*(at-w.Reference))), at
}

// settleMagnets is settle where warmer magnets take more current, which heats the winding further.
// The winding's temperature is the unknown, and each turn gains a digit. The copper loss is that with
// the magnets at their reference, to which that of a current against them is added; the search begins at a winding temperature.
func (m *Machine) settleMagnets(w *heat.Winding, copper, weakening, begin float64) (shown, at float64) {
	at = begin
	for range magnetTurns {
		weaker := m.Chain.Constant() / m.Chain.ConstantAt(m.Chain.MagnetTemperature(at, w.Coolant))
		w.CopperAtReference = copper*weaker*weaker + weakening
		last := at
		shown, at = m.settle(*w)
		if math.Abs(at-last) < 1e-11*at {
			break
		}
	}
	return shown, at
}

// magnetTurns is how often the current and the magnets' temperature are exchanged, at most.
const magnetTurns = 60

// heatTurns is how often the controller's heat and the winding's temperature are exchanged. The
// first guess is within a few per cent and each turn gains five digits, so that the temperature
// is good to 1e-10; the power balance closes whatever is left.
const heatTurns = 2

// Solve finds the state at a condition. The error is an *Unmet.
//
// Rotor speed is the unknown: at each trial pump and nozzle are balanced, then the demanded
// figure is compared. It rises with rotor speed everywhere but for thrust beyond the
// breakdown of the pump's head, which ends in a named reason with the largest thrust there is.
func (m *Machine) Solve(c Condition) (State, error) { return m.SolveNear(c, 0, 0) }

// SolveNear is Solve begun at a rotor speed in rad/s that is known to be near, such as that of
// a machine that differs little; 0 if none is known. A tolerance, as a share of the demand, ends
// the search sooner; with 0 the state is that of Solve.
func (m *Machine) SolveNear(c Condition, near, tolerance float64) (State, error) {
	return m.solve(c, near, 0, tolerance)
}

// SolveBeside is SolveNear begun at a state that is known to be near, its jet as well.
func (m *Machine) SolveBeside(c Condition, beside *State, tolerance float64) (State, error) {
	if !(beside.RotorSpeed > 0) {
		return m.solve(c, 0, 0, tolerance)
	}
	return m.solve(c, beside.RotorSpeed, beside.Jet.JetVelocity/beside.RotorSpeed, tolerance)
}

// solve is SolveNear with the jet velocity for each rad/s that the search begins at; 0 if none is known.
func (m *Machine) solve(c Condition, near, jetRatio, tolerance float64) (State, error) {
	if !(c.Amount > 0) || math.IsInf(c.Amount, 0) || math.IsNaN(c.Speed) || math.IsInf(c.Speed, 0) {
		return State{}, &Unmet{Reason: BadCondition, Condition: c, Detail: "a condition needs a positive " + c.Demand.String() + " and a finite speed"}
	}
	way := m.Path.Way(c.Speed, m.height(c))
	omega, jetVelocity, reason, most := m.find(&way, c, near, jetRatio, tolerance)
	if reason != Solved {
		return State{}, &Unmet{Reason: reason, Condition: c, Most: most, Charge: m.Drive.Battery.Charge}
	}
	s, reason := m.state(&way, c, omega, jetVelocity)
	if reason == BeyondBattery {
		return State{}, &Unmet{Reason: reason, Condition: c, Most: m.most(&way, c, omega, jetVelocity), Charge: m.Drive.Battery.Charge}
	}
	if reason != Solved {
		return State{}, &Unmet{Reason: reason, Condition: c, Charge: m.Drive.Battery.Charge}
	}
	return s, nil
}

// find returns rotor speed and jet velocity of a condition, or a reason with the largest
// amount of the demand that was met on the way.
func (m *Machine) find(way *jet.Way, c Condition, near, jetRatio, tolerance float64) (omega, jetVelocity float64, reason Reason, most float64) {
	if c.Demand == RotorSpeed {
		v, r := m.Path.Balance(way, c.Amount, jetRatio*c.Amount)
		return c.Amount, v, fromJet(r), 0
	}
	var w walk
	omega, slope := m.guess(c)
	if near > 0 {
		omega = near
	}
	w.start(math.Log(omega), slope)
	w.tolerance = tolerance
	last, lastOmega := jetRatio*omega, omega
	failed := NotConverged
	for range 120 {
		omega = math.Exp(w.x)
		v, r := m.Path.Balance(way, omega, last*omega/lastOmega)
		if r == jet.NoFlow {
			failed = NoFlow
			if !w.low() {
				break
			}
			continue
		}
		if r != jet.Solved {
			return 0, 0, fromJet(r), 0
		}
		last, lastOmega = v, omega
		value, reason := m.measure(way, c, omega, v)
		if reason != Solved {
			failed = reason
			if !w.high() {
				break
			}
			continue
		}
		if c.Demand == Thrust && value < c.Amount && w.bestVal > 0 && omega > math.Exp(w.bestX) && value <= w.bestVal {
			return m.peak(way, c, w.bestX-1, w.x+0.2)
		}
		if w.done(value, c.Amount) {
			// thrust under way is a small difference of two momenta, each with its own rounding
			rounding := 0.0
			if c.Demand == Thrust {
				rounding = 1e-12 * m.Water.Density * m.Path.JetArea * v * v
			}
			if math.Abs(value-c.Amount) > math.Max(1e-10, tolerance)*c.Amount+rounding {
				break
			}
			return omega, v, Solved, 0
		}
		if c.Demand != Thrust && w.x < math.Log(m.Design.RotorSpeed+1)-16 {
			return 0, 0, BelowIdle, 0
		}
	}
	return 0, 0, failed, w.bestVal
}

// guess returns a rotor speed to start from and the slope of the demand over it in
// logarithms.
func (m *Machine) guess(c Condition) (omega, slope float64) {
	d := m.Path.Impeller.Diameter
	slope = 3.0
	jetPower := c.Amount / 2
	switch c.Demand {
	case Thrust:
		slope = 2
		v := math.Sqrt(c.Amount/(m.Water.Density*m.Path.JetArea)) + 0.5*math.Abs(c.Speed)
		return 1.6 * v / d, slope
	case Throttle:
		slope = 1
		return math.Max(0.5*c.Amount, 0.01) * m.Chain.OpenCircuit() / m.Chain.Constant() / m.Drive.Shaft.Reduction, slope
	}
	v := math.Cbrt(2*jetPower/(m.Water.Density*m.Path.JetArea)) + 0.5*math.Abs(c.Speed)
	if m.Design.RotorSpeed > 0 {
		// similarity with the design point's jet velocity
		vd := m.Design.Flow / (m.Path.JetArea * (1 + m.Path.CoolantShare))
		return m.Design.RotorSpeed * v / vd, slope
	}
	return 2 * v / d, slope
}

// peak looks for the largest thrust, which cavitation sets, between two rotor speeds given by
// their logarithms, one below it and one beyond; if the demand lies below, it is met on the
// rising side.
func (m *Machine) peak(way *jet.Way, c Condition, from, to float64) (omega, jetVelocity float64, reason Reason, most float64) {
	thrust := func(x float64) float64 {
		v, r := m.Path.Balance(way, math.Exp(x), 0)
		if r != jet.Solved {
			return math.Inf(-1)
		}
		return m.Path.GrossThrust(way, v) - m.Path.SwirlThrust(math.Exp(x), v)
	}
	// a coarse look first: deep in breakdown thrust has lost its one peak
	const looks = 48
	best, highest := from, math.Inf(-1)
	for i := range looks + 1 {
		x := from + (to-from)*float64(i)/looks
		if t := thrust(x); t > highest {
			best, highest = x, t
		}
	}
	a, b := best-(to-from)/looks, best+(to-from)/looks
	const golden = 0.6180339887498949
	x1, x2 := b-golden*(b-a), a+golden*(b-a)
	f1, f2 := thrust(x1), thrust(x2)
	for range 60 {
		if f1 > f2 {
			b, x2, f2 = x2, x1, f1
			x1 = b - golden*(b-a)
			f1 = thrust(x1)
		} else {
			a, x1, f1 = x1, x2, f2
			x2 = a + golden*(b-a)
			f2 = thrust(x2)
		}
	}
	top := 0.5 * (a + b)
	most = thrust(top)
	if most < c.Amount {
		return 0, 0, BeyondCavitation, most
	}
	lo, hi := from-5, top
	for range 200 {
		mid := 0.5 * (lo + hi)
		if thrust(mid) < c.Amount {
			lo = mid
		} else {
			hi = mid
		}
		if hi-lo < 1e-15*math.Abs(hi) {
			break
		}
	}
	omega = math.Exp(hi)
	v, r := m.Path.Balance(way, omega, 0)
	return omega, v, fromJet(r), most
}

// most returns the largest amount of a mechanical demand that the battery can still hold, found by halving in rotor speed below a point that is beyond them.
func (m *Machine) most(way *jet.Way, c Condition, omega, jetVelocity float64) float64 {
	lo, hi := math.Log(omega)-8, math.Log(omega)
	best := 0.0
	for range 60 {
		mid := 0.5 * (lo + hi)
		o := math.Exp(mid)
		v, r := m.Path.Balance(way, o, 0)
		if r != jet.Solved {
			lo = mid
			continue
		}
		torque, speed := m.motor(o, v)
		if _, reason := m.supply(way, torque, speed, v); reason != Solved {
			hi = mid
			continue
		}
		lo = mid
		if value, reason := m.measure(way, c, o, v); reason == Solved {
			best = value
		}
	}
	return best
}

// state gathers everything at an operating point.
func (m *Machine) state(way *jet.Way, c Condition, omega, jetVelocity float64) (State, Reason) {
	var s State
	js, r := m.Path.State(way, omega, jetVelocity)
	if r != jet.Solved {
		return s, fromJet(r)
	}
	torque, speed := m.motor(omega, jetVelocity)
	e, reason := m.supply(way, torque, speed, jetVelocity)
	if reason != Solved {
		return s, reason
	}
	s.Jet, s.Motor, s.Supply, s.Heat = js, e.motor, e.supply, e.heat
	if m.coolant != nil {
		s.Coolant = m.coolant.State(jetVelocity, c.Speed)
	}
	if m.blades != nil {
		s.Blades = m.bladeState(&js)
	}
	s.Speed = c.Speed
	s.Thrust = js.GrossThrust
	s.NetThrust = s.Thrust
	if c.Speed != 0 && !c.OnStand {
		s.NetThrust = (1 - m.Drive.Craft.ThrustDeduction) * s.Thrust
	}
	s.BatteryPower = s.Supply.BatteryPower
	s.ControllerPower = s.Motor.ElectricPower
	s.MotorTorque, s.MotorSpeed = torque, speed
	s.ShaftPower = torque * speed
	s.RotorSpeed = omega
	s.SealLoss = m.sealTorque * omega
	s.ReductionLoss = torque * speed * (1 - m.transmission)
	area := m.Path.NozzleArea
	s.StaticEfficiency = jet.StaticEfficiency(s.Thrust, m.Water.Density, area, s.BatteryPower)
	s.StaticEfficiencyShaft = jet.StaticEfficiency(s.Thrust, m.Water.Density, area, s.ShaftPower)
	s.PropulsiveEfficiency = js.ThrustPower / s.BatteryPower
	s.PropulsiveEfficiencyShaft = js.ThrustPower / s.ShaftPower
	n := omega / (2 * math.Pi)
	s.CurrentCoefficient = s.Motor.PhaseCurrentRMS / (n * n)
	value, _ := m.measure(way, c, omega, jetVelocity)
	s.DemandResidual = (value - c.Amount) / c.Amount
	s.PowerResidual = s.PowerBalance()
	return s, Solved
}

func fromJet(r jet.Reason) Reason {
	switch r {
	case jet.Solved:
		return Solved
	case jet.NoFlow:
		return NoFlow
	case jet.NoPressure:
		return NoPressure
	case jet.TableUnusable:
		return BadTable
	}
	return NotConverged
}
