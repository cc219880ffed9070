package drive

import (
	"errors"
	"math"

	"jetwright/physics/heat"
)

// cooled is the coolant's flow in a leg, m³/s. Without a jet there is none but where a pump or a pressure of its own drives it.
func (x *Marcher) cooled(leg *Leg, s *State) float64 {
	left := 1 - leg.Fault.CoolantLost
	switch {
	case x.m.coolant != nil && leg.Fault.HoseOff && x.m.coolant.Layout.Closed:
		return 0
	case leg.Rest || leg.Fault.Dry:
		if x.m.coolant == nil {
			return 0
		}
		return left * x.m.Coolant(0, 0).Flow
	}
	return coolantFlow(s) * left
}

// streams sets the coolant's streams of the network.
func (x *Marcher) streams(n *heat.Now, leg *Leg, s *State) {
	flow := x.cooled(leg, s)
	if math.Abs(flow-x.flow) > sameFlow*x.flow || x.flow < 0 || x.fixed || n.Leg != x.rated {
		x.flow, x.rated = flow, n.Leg
		x.rates = heat.Flows{Coolant: flow * x.m.heatCapacity, Onward: flow * x.m.heatCapacity}
		if leg.Fault.HoseOff {
			x.rates.Onward = 0
		}
		if t := x.m.coolant; t != nil {
			x.rates = t.Flows(s.Jet.JetVelocity, s.Speed, 1-leg.Fault.CoolantLost, leg.Fault.HoseOff, x.plate)
		}
	}
	n.Flow[x.first], n.Flow[x.onward] = x.rates.Coolant, x.rates.Onward
	for i, w := range [...]float64{x.rates.Beside, x.rates.Leaves, x.rates.Return, x.rates.Keel} {
		if x.typed[i] >= 0 {
			n.Flow[x.typed[i]] = w
		}
	}
}

// driven is the drive in a leg at the temperatures held.
func (x *Marcher) driven(leg *Leg, number int) (State, error) {
	c := leg.Condition
	begins := x.started != number
	if !begins && (leg.Hold || leg.Fault.Weed > 0) {
		c.Demand, c.Amount = Throttle, x.share
	}
	if begins {
		x.weeds(0)
	} else {
		x.weeds(leg.Fault.Weed)
	}
	if !begins && leg.Fault.Dry {
		return x.dry()
	}
	s, err := x.m.SolveNear(c, x.near, marchSolve)
	if err != nil && x.near > 0 {
		s, err = x.m.SolveNear(c, 0, marchSolve)
	}
	if err != nil {
		return s, err
	}
	x.near = s.RotorSpeed
	k := &x.m.Drive.Controller
	phase := phaseAs(k.PhaseCurrentConvention, s.Motor)
	if begins {
		x.started, x.share, x.begun = number, x.m.Chain.Throttle(&s.Motor, &s.Supply), phase
		if leg.Fault.Dry {
			return x.dry()
		}
		if leg.Fault.Weed > 0 {
			return x.driven(leg, number)
		}
	}
	if most := x.fold * k.PhaseCurrentLimit.Or(x.begun); x.fold < 1 && phase > most {
		x.left = most / phase
		return x.folded(c, &s, most)
	}
	return s, nil
}

// weeds closes a share of the jet's intake.
//
//	ζ = ζ_duct + ζ_clog(1 − s)·(A_pipe/A_throat)²
//
//	ζ_clog  loss of a place left open to a share of its area, as of a sharp-edged plate, on the velocity head in the throat
//	A       areas of the pump's inlet and of the throat, m²
//
// The design point of the pump stays where it is.
func (x *Marcher) weeds(share float64) {
	if share == x.weed {
		return
	}
	x.weed, x.m.Path = share, x.clean
	if share > 0 {
		ratio := x.clean.InletArea / x.clean.ThroatArea
		x.m.Path.Intake.DuctLoss += heat.Clog(1-share) * ratio * ratio
	}
}

// folded is the drive at a condition's speed with no more phase current than the controller leaves, A in the convention of its limit,
// searched from a state that takes more. Where that does not turn the motor at all its figures are zero.
func (x *Marcher) folded(c Condition, from *State, most float64) (State, error) {
	k := &x.m.Drive.Controller
	s := *from
	c.Demand = RotorSpeed
	high, low := from.RotorSpeed, 0.0
	phase := phaseAs(k.PhaseCurrentConvention, s.Motor)
	slope := 2.0 // of the current's logarithm by the speed's
	for range 60 {
		if math.Abs(phase/most-1) < 1e-9 {
			break
		}
		last, lastPhase := s.RotorSpeed, phase
		c.Amount = last * math.Pow(most/phase, 1/slope)
		if !(c.Amount > low && c.Amount < high) {
			c.Amount = 0.5 * (low + high)
		}
		if c.Amount < leastTurning*from.RotorSpeed {
			return State{}, nil
		}
		var err error
		s, err = x.m.Solve(c)
		if err != nil { // too slow to lift the water to the nozzle
			return State{}, nil
		}
		phase = phaseAs(k.PhaseCurrentConvention, s.Motor)
		if phase > most {
			high = s.RotorSpeed
		} else {
			low = s.RotorSpeed
		}
		if d := math.Log(s.RotorSpeed / last); d != 0 {
			slope = math.Max(0.2, math.Min(4, math.Log(phase/lastPhase)/d))
		}
	}
	return s, nil
}

// leastTurning is the share of the rotor speed asked for below which a folded current is said not to turn the motor.
const leastTurning = 0.02

// marchSolve is the share of the demand to which a state is met on a march.
const marchSolve = 1e-9

// dry is the motor at the throttle of before without load but its seal's.
func (x *Marcher) dry() (State, error) {
	var s State
	m := &x.m
	r := m.Drive.Shaft.Reduction
	torque := m.sealTorque / (r * m.transmission)
	speed := 0.9 * x.share * m.Chain.OpenCircuit() / m.Chain.Constant()
	for range 12 {
		s.Motor = m.Chain.MotorAt(torque, speed, x.held.winding, x.held.magnets)
		var ok bool
		if s.Supply, ok = m.supplied(&s.Motor); !ok {
			return s, &Unmet{Reason: BeyondBattery, Condition: Condition{Demand: Throttle, Amount: x.share}, Charge: m.Drive.Battery.Charge}
		}
		ratio := x.share / m.Chain.Throttle(&s.Motor, &s.Supply)
		speed *= ratio
		if math.Abs(ratio-1) < 1e-10 {
			break
		}
	}
	s.RotorSpeed, s.MotorSpeed, s.MotorTorque = speed/r, speed, torque
	s.SealLoss, s.ControllerPower = m.sealTorque*speed/r, s.Motor.ElectricPower
	return s, nil
}

// warm gives the losses of a state to the network's nodes, and its coolant to the streams.
func (x *Marcher) warm(n *heat.Now, leg *Leg, s *State) {
	h, t, d := n.Heat, n.Temperatures, &x.m.Drive.Thermal
	slots, ends := 1+x.alpha*(t[x.at.winding]-x.refers), 1+x.alpha*(t[x.at.endTurns]-x.refers)
	mean := slots + x.endTurn*(ends-slots)
	h[x.at.winding] = s.Motor.CopperLoss * (1 - x.endTurn) * slots / mean
	h[x.at.endTurns] = s.Motor.CopperLoss * x.endTurn * ends / mean
	h[x.at.iron] = s.Motor.NoLoadLoss * d.NoLoadIron
	h[x.at.magnets] = s.Motor.NoLoadLoss * d.NoLoadMagnets
	sealed := d.SealShare
	if leg.Fault.Dry {
		sealed = 1 // no water takes it
	}
	h[x.at.bearings] = s.Motor.NoLoadLoss*(1-d.NoLoadIron-d.NoLoadMagnets) + sealed*s.SealLoss
	h[x.at.jacket] = s.ReductionLoss
	h[x.at.junction] = s.Supply.ConductionLoss + s.Supply.SwitchingLoss + s.Supply.DeadTimeLoss
	h[x.at.plate] = s.Supply.StandbyLoss
	h[x.at.capacitor] = s.Supply.CapacitorLoss
	h[x.at.cells] = s.Supply.BatteryInternalLoss
	h[x.at.air] = s.Supply.WiringLoss + x.pumps
	x.streams(n, leg, s)
}

// sameFlow is the share by which the coolant's flow has to change before the network takes it on: a change of flow
// ends a step, and a thousandth moves the coolant by some mK.
const sameFlow = 1e-3

// Steady returns the temperatures in K by node that a leg would come to, with the battery at a charge that
// stands still, searched for from temperatures, nil for the start. The error is a *heat.Unsolved, or an *Unmet.
func (x *Marcher) Steady(leg Leg, charge float64, from []float64) ([]float64, error) {
	if from == nil {
		for i := range x.temps {
			x.temps[i] = x.m.Drive.Thermal.Start.Or(x.m.Drive.Water.Temperature)
		}
		x.temps[x.at.water] = x.m.Drive.Water.Temperature
		from = x.temps
	}
	x.legs = append(x.legs[:0], leg)
	x.begin, x.fixed = charge, true
	defer func() { x.fixed = false }()
	thermal := &x.m.Drive.Thermal
	seek := func(fold float64) ([]float64, error) {
		x.points, x.started, x.near, x.flow, x.halt, x.fold = x.points[:0], -1, 0, -1, Ending{}, fold
		t, err := x.runner.Steady(nil, nil, from, x.ask, 0)
		if err != nil && x.halt.Detail != "" {
			return nil, errors.New(x.halt.Detail)
		}
		return t, err
	}
	t, err := seek(1)
	if !thermal.Folds() || leg.Fault.Frozen || err == nil && thermal.Fold(t[x.at.jacket], t[x.at.plate]) == 1 {
		return t, err
	}
	// the share that is left where the temperatures that it leads to leave as much
	var best []float64
	low, high := 0.0, 1.0
	for range 24 {
		mid := 0.5 * (low + high)
		y, err := seek(mid)
		switch {
		case err == nil && thermal.Fold(y[x.at.jacket], y[x.at.plate]) > mid, err != nil && x.halt.Kind == Tripped:
			low = mid
			if err == nil {
				best = y
			}
		default:
			high = mid
		}
	}
	if best == nil {
		return nil, errors.New("the controller folds its current back until nothing is left of it")
	}
	return best, nil
}

const zeroCelsius = 273.15
