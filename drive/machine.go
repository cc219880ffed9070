package drive

import (
	"math"

	"jetwright/physics/electric"
	"jetwright/physics/heat"
	"jetwright/physics/jet"
	"jetwright/physics/water"
)

// Machine is a Drive worked out: everything that does not depend on the condition is
// computed once. It is never changed after Resolve, and may be used by many goroutines.
type Machine struct {
	Drive  Drive
	Water  water.Properties
	Path   jet.Path
	Chain  electric.Chain
	Design DesignPoint

	estimated     jet.EstimatedPump
	blades        *bladedPump // nil without blades
	bladeMap      *bladeMap
	bladeChanges  []float64 // of the map's numbers
	sealTorque    float64
	transmission  float64     // efficiency of the reduction, 1 without one
	heatCapacity  float64     // of the coolant, J/(m³·K)
	coolant       *heat.Table // nil where no parts are typed
	controllerTop bool        // coolant meets the controller first
	windingBound  float64     // K
	bridgeBound   float64     // K
	held          *held       // temperatures of a march; nil for steady ones
}

// DesignPoint is where the pump has been placed.
type DesignPoint struct {
	Speed           float64 `unit:"m/s" doc:"craft speed of the design point"`
	RotorSpeed      float64 `unit:"rpm" doc:"rotor speed of the design point"`
	Flow            float64 `unit:"m³/s" doc:"flow of the duty"`
	Head            float64 `unit:"m" doc:"head of the duty"`
	FlowCoefficient float64 `unit:"1" doc:"flow coefficient of best efficiency"`
	HeadCoefficient float64 `unit:"1" doc:"head coefficient of best efficiency"`
}

// Resolve works a drive out. The error is an *Unmet, or a plain one that names the keys of
// the motor's constant when that is missing.
func (d Drive) Resolve() (*Machine, error) {
	m := new(Machine)
	if err := d.ResolveInto(m); err != nil {
		return nil, err
	}
	return m, nil
}

// ResolveInto is Resolve into a machine that nothing else uses any longer.
func (d *Drive) ResolveInto(m *Machine) error {
	if err := d.layOut(m); err != nil {
		return err
	}
	if d.Impeller.Grade == GradeTable {
		table, reason := jet.NewTablePump(d.calibratedTable(), m.Path.Medium.Density, m.Path.Medium.Gravity)
		if reason != jet.Solved {
			return &Unmet{Reason: BadTable, Detail: reason.Error()}
		}
		m.Path.Pump = table
		return nil
	}
	if d.Impeller.Grade == GradeBlades {
		return m.layBlades()
	}
	m.Path.Pump = &m.estimated
	if u := m.placeDesignPoint(); u != nil {
		return u
	}
	m.estimated.HeadCoefficient *= math.Exp(d.Calibration.LnHead)
	m.estimated.Efficiency *= math.Exp(-d.Calibration.LnPower)
	return nil
}

// layOut works out all but the pump.
func (d *Drive) layOut(m *Machine) error {
	*m = Machine{Drive: *d, Water: d.Water.Properties()}
	motor := d.calibratedMotor()
	chain, err := electric.NewChain(motor, d.Controller, d.Battery)
	if err != nil {
		return err
	}
	m.Chain = chain
	m.Chain.Flood(m.Water.Density, m.Water.KinematicViscosity)
	medium := jet.Medium{
		Density: m.Water.Density, Viscosity: m.Water.KinematicViscosity,
		VapourPressure: m.Water.VapourPressure, AirPressure: m.Water.AirPressure, Gravity: water.StandardGravity,
	}
	m.Path = jet.NewPath(d.Intake, d.Impeller, d.Stator, d.Nozzle, medium)
	m.Path.CoolantShare = m.coolantShare()
	m.sealTorque = d.Shaft.SealTorque
	m.transmission = 1
	if d.Shaft.Reduction != 1 {
		m.transmission = d.Shaft.ReductionEfficiency
	}
	m.heatCapacity = m.Water.Density * m.Water.SpecificHeat
	m.controllerTop = d.Cooling.First != "motor"
	if len(d.Coolant) > 0 {
		if err := m.layCoolant(); err != nil {
			return err
		}
	}
	m.windingBound = d.Limits.WindingTemperature.Or(m.Chain.WindingBound())
	m.bridgeBound = d.Limits.BridgeTemperature.Or(d.Controller.BridgeLimit)
	return nil
}

// calibratedMotor returns the motor with its constant moved, whichever of the two was typed.
func (d *Drive) calibratedMotor() electric.Motor {
	k := math.Exp(d.Calibration.LnTorqueConstant)
	motor := d.Motor
	motor.TorqueConstant.Value *= k
	motor.SpeedConstant.Value /= k
	return motor
}

// calibratedTable returns the impeller with its pump table moved.
func (d *Drive) calibratedTable() jet.Impeller {
	im := d.Impeller
	head, power := math.Exp(d.Calibration.LnHead), math.Exp(d.Calibration.LnHead+d.Calibration.LnPower)
	im.TableHead, im.TablePower = nil, nil
	for i := range d.Impeller.TableHead {
		im.TableHead = append(im.TableHead, head*d.Impeller.TableHead[i])
	}
	for i := range d.Impeller.TablePower {
		im.TablePower = append(im.TablePower, power*d.Impeller.TablePower[i])
	}
	return im
}

// coolantShare returns coolant flow over nozzle flow: both go with the root of the
// pressure ahead of the nozzle.
func (m *Machine) coolantShare() float64 {
	const unitVelocity = 1.0
	d := m.Drive
	jetArea := d.Nozzle.Contraction * math.Pi / 4 * d.Nozzle.Diameter * d.Nozzle.Diameter
	tap := m.Water.Density / 2 * (1 + d.Nozzle.Loss) * unitVelocity * unitVelocity
	return d.Cooling.Flow(tap, m.Water.Density) / (jetArea * unitVelocity)
}

// DutyCondition is the design point as a condition.
func (d Drive) DutyCondition() Condition {
	c := Condition{Speed: d.Duty.Speed, Demand: Thrust, Amount: d.Duty.Thrust.Value}
	if !d.Duty.Thrust.Set {
		c.Demand, _ = Place(d.Duty.PowerPlace)
		c.Amount = d.Duty.Power.Value
	}
	return c
}

// placeDesignPoint finds the flow that the duty asks for and sets the estimated pump so
// that its best efficiency lies beside it, at a rotor speed given by the head coefficient
// or typed. Cavitation is left out: it is what the design point is then held against.
func (m *Machine) placeDesignPoint() *Unmet {
	d := &m.Drive
	c := d.DutyCondition()
	way := m.Path.Way(c.Speed, m.height(c))
	im := d.Impeller
	q := 1 / im.DesignFlowRatio
	ratio := im.ShutoffRatio - (im.ShutoffRatio-1)*math.Pow(q, im.CurveExponent)
	if ratio <= 0 {
		return &Unmet{Reason: BadDesignPoint, Condition: c, Detail: "the head curve gives no head at the duty's flow"}
	}
	place := func(jetVelocity float64) (omega float64, ok bool) {
		head, flow := m.Path.Head(&way, jetVelocity)
		if head <= 0 {
			return 0, false
		}
		psi := im.HeadCoefficient
		omega = math.Sqrt(water.StandardGravity*head/(ratio*psi)) / im.Diameter
		if d.Duty.RotorSpeed.Set {
			omega = d.Duty.RotorSpeed.Value
			psi = water.StandardGravity * head / (ratio * omega * omega * im.Diameter * im.Diameter)
		}
		m.estimated = jet.EstimatedPump{
			FlowCoefficient: im.DesignFlowRatio * flow / (omega * im.Diameter * im.Diameter * im.Diameter),
			HeadCoefficient: psi, ShutoffRatio: im.ShutoffRatio, CurveExponent: im.CurveExponent,
			Efficiency: im.Efficiency * im.InstalledFactor,
		}
		m.Design = DesignPoint{
			Speed: c.Speed, RotorSpeed: omega, Flow: flow, Head: head,
			FlowCoefficient: m.estimated.FlowCoefficient, HeadCoefficient: psi,
		}
		return omega, true
	}
	var w walk
	v := math.Max(c.Speed, 1)
	if c.Demand == Thrust {
		v += math.Sqrt(c.Amount / (m.Water.Density * m.Path.JetArea))
	} else {
		v += math.Cbrt(c.Amount / (m.Water.Density * m.Path.JetArea))
	}
	w.start(math.Log(v), 2)
	for range 80 {
		v = math.Exp(w.x)
		omega, ok := place(v)
		if !ok {
			w.low()
			continue
		}
		value, reason := m.measure(&way, c, omega, v)
		if reason == BeyondBattery {
			if !w.high() {
				most, _ := m.measure(&way, c, omega, v)
				return &Unmet{Reason: reason, Condition: c, Most: most, Charge: d.Battery.Charge}
			}
			continue
		}
		if w.done(value, c.Amount) {
			return nil
		}
	}
	return &Unmet{Reason: BadDesignPoint, Condition: c, Detail: "no flow gives " + c.Demand.show(c.Amount) + " of " + c.Demand.String()}
}

// height returns the height of the shaft line over the water.
func (m *Machine) height(c Condition) float64 {
	if c.OnStand {
		return m.Drive.Stand.ShaftHeight
	}
	return m.Drive.Shaft.Height
}

// measure returns the demanded figure at a rotor speed and jet velocity.
func (m *Machine) measure(w *jet.Way, c Condition, omega, jetVelocity float64) (float64, Reason) {
	switch c.Demand {
	case Thrust:
		return m.Path.GrossThrust(w, jetVelocity) - m.Path.SwirlThrust(omega, jetVelocity), Solved
	case RotorSpeed:
		return omega, Solved
	}
	motorTorque, motorSpeed := m.motor(omega, jetVelocity)
	if c.Demand == ShaftPower {
		return motorTorque * motorSpeed, Solved
	}
	e, reason := m.supply(w, motorTorque, motorSpeed, jetVelocity)
	if reason != Solved {
		return 0, reason
	}
	switch c.Demand {
	case ControllerPower:
		return e.motor.ElectricPower, Solved
	case Throttle:
		return m.Chain.Throttle(&e.motor, &e.supply), Solved
	}
	return e.supply.BatteryPower, Solved
}

// motor returns torque and speed at the motor shaft.
func (m *Machine) motor(omega, jetVelocity float64) (torque, speed float64) {
	impeller := m.Path.ShaftPower(omega, jetVelocity)/omega + m.sealTorque
	r := m.Drive.Shaft.Reduction
	return impeller / (r * m.transmission), omega * r
}

// walk finds a root in the logarithm of a positive unknown, of a figure that rises with it:
// a secant in logarithms, kept inside a bracket.
type walk struct {
	tolerance float64 // share of the target within which it is met, if wider than demandTolerance

	x, slope       float64
	lo, hi         float64
	lastX, lastY   float64
	haveLast       bool
	bestX, bestVal float64
}

func (w *walk) start(x, slope float64) {
	*w = walk{x: x, slope: slope, lo: math.Inf(-1), hi: math.Inf(1)}
}

// next steps to a point, or halves the bracket if the point lies outside of it.
func (w *walk) next(x float64) bool {
	// Far from the answer a secant may point anywhere; a step is at most a factor of 1.6.
	const stride = 0.47
	x = w.x + math.Max(-stride, math.Min(stride, x-w.x))
	if !(x > w.lo && x < w.hi) {
		switch {
		case math.IsInf(w.lo, -1):
			x = w.x - 0.5
		case math.IsInf(w.hi, 1):
			x = w.x + 0.5
		default:
			x = 0.5 * (w.lo + w.hi)
		}
	}
	if x == w.x || w.hi-w.lo < 1e-13 {
		return false
	}
	w.x = x
	return true
}

// low says that the unknown is too small here without a figure to tell by how much.
func (w *walk) low() bool {
	w.lo, w.haveLast = w.x, false
	return w.next(w.x + 0.3)
}

// high says that the unknown is too large here.
func (w *walk) high() bool {
	w.hi, w.haveLast = w.x, false
	return w.next(w.x - 0.1)
}

const demandTolerance = 1e-13

// done takes the figure at the point and steps on, unless it meets the target.
func (w *walk) done(value, target float64) bool {
	if math.Abs(value-target) <= math.Max(demandTolerance, w.tolerance)*target {
		return true
	}
	if value <= 0 {
		w.low()
		return false
	}
	y := math.Log(value / target)
	if w.haveLast && w.x != w.lastX {
		if s := (y - w.lastY) / (w.x - w.lastX); s > 0.05 {
			w.slope = s
		}
	}
	w.lastX, w.lastY, w.haveLast = w.x, y, true
	if y < 0 {
		w.lo = w.x
		w.bestX, w.bestVal = w.x, value
	} else {
		w.hi = w.x
	}
	return !w.next(w.x - y/w.slope)
}
