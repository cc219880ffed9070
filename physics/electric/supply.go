package electric

import "math"

// Reason says why the electric side has no state. The list is closed.
type Reason int8

// Reasons.
const (
	Solved        Reason = iota
	BeyondBattery        // more power than battery and wiring can pass at any voltage
)

// Chain is motor, controller and battery with all that does not depend on the operating point
// worked out once.
type Chain struct {
	motor       Motor
	controller  Controller
	battery     Battery
	cell        cell
	constant    float64 // V·s
	resistance  float64 // between lines at the reference temperature, Ω
	alpha       float64
	noLoadPower float64
	noLoadSpeed float64
	openCircuit float64 // of the pack
	packOhms    float64
	wiring      float64 // of the wiring; with a cable, when it is cold, Ω
	sixStep     bool
	switching   float64 // W per ampere of direct current and volt

	// What only some designs type.
	beside              bool // no-load loss is not that of a single point in a dry gap
	split               bool // by several points
	noLoad              NoLoadSplit
	wet                 Gap
	density, viscosity  float64
	magnet, magnetAt    float64 // 1/K, K
	reactance           float64 // reactive voltage per rad/s and ampere of direct current, H
	weakening           float64 // highest current against the magnets, peak, A; 0 for none
	dead                float64 // W per ampere of direct current
	cable               Cable
	cableAir            float64 // K
	connectors          float64 // Ω
	fullCell            float64 // V
	relax               Relaxation
	weakCharge, weakOhm float64 // of the weakest group: open-circuit voltage less than the mean's, V; resistance above it, Ω
	aside               float64 // W that others take behind the battery's wiring
	coupled             bool    // capacitors or cable hang on the current that they carry
}

// NewChain works a chain out. The error says which number of the motor is missing or impossible.
func NewChain(m Motor, c Controller, b Battery) (Chain, error) {
	ch := Chain{motor: m, controller: c, battery: b, sixStep: c.Commutation == "six-step"}
	var err error
	if ch.constant, err = m.Constants(); err != nil {
		return ch, err
	}
	ch.resistance = m.lineResistance()
	if len(m.NoLoadVoltages) > 0 {
		if ch.noLoad, err = m.NoLoadSplit(); err != nil {
			return ch, err
		}
		ch.split, ch.beside = true, true
	}
	ch.alpha = CopperAlpha(m.ResistanceTemperature)
	drop := m.NoLoadCurrent * ch.resistance
	if !ch.split && m.NoLoadVoltage <= drop {
		return ch, ErrNoLoad
	}
	ch.noLoadPower = m.NoLoadCurrent * (m.NoLoadVoltage - drop)
	ch.noLoadSpeed = (m.NoLoadVoltage - drop) / ch.constant
	ch.resistance *= m.ACFactor.Or(1)
	ch.magnet, ch.magnetAt = m.MagnetCoefficient.Or(0), m.ConstantTemperature.Or(magnetReference)
	if m.PolePairs.Set && m.PhaseInductance.Set && !ch.sixStep {
		ch.reactance = 2 * m.PolePairs.Value * m.PhaseInductance.Value
		ch.weakening = c.WeakeningCurrent.Or(0)
	}
	if err := ch.takeBattery(b); err != nil {
		return ch, err
	}
	ch.takeBridge(c)
	return ch, nil
}

// takeBattery works out what belongs to the battery and its cable.
func (c *Chain) takeBattery(b Battery) error {
	var err error
	if c.cell, err = b.cell(); err != nil {
		return err
	}
	if err := c.Recharge(b.Charge, b.Temperature); err != nil {
		return err
	}
	c.fullCell = c.cell.class.full
	c.relax = b.Relaxation()
	c.wiring = b.WiringResistance
	if b.CableArea.Set && b.CableLength.Set {
		c.cableAir = b.CableSurroundings.Or(b.Temperature)
		c.cable = NewCable(b.CableArea.Value, b.CableLength.Value, c.cableAir, b.CableLimit.Or(cableBound))
		c.connectors = b.ConnectorResistance.Or(0)
		c.coupled = true
		c.wiring = c.cable.Resistance(c.cableAir) + c.connectors
	}
	return nil
}

// Aside lets others take a power in W behind the battery's wiring, such as a coolant's pump. It is no loss of the controller.
func (c *Chain) Aside(power float64) { c.aside = power }

// Recharge puts the battery at a charge, 0 to 1, and its cells at a temperature in K, as they come to while it
// is discharged. What the cable's surroundings are stays as it was.
func (c *Chain) Recharge(charge, temperature float64) error {
	b := &c.battery
	rest := c.cell.voltage(charge)
	factor := c.cell.factor(charge, temperature)
	if !(factor > 0) { // a table that was carried on below 0
		return ErrResistanceTable
	}
	b.Charge, b.Temperature = charge, temperature
	c.openCircuit = float64(b.Series) * (rest + b.OpenCircuitOffset)
	c.packOhms = b.packOhms(factor)
	if b.ChargeImbalance.Set {
		c.weakCharge = rest - c.cell.voltage(charge-b.ChargeImbalance.Value)
	}
	c.weakOhm = b.ResistanceImbalance.Or(0) * b.CellResistance * factor / float64(b.Parallel)
	return nil
}

// takeBridge works out what the controller's losses are by ampere and volt.
func (c *Chain) takeBridge(b Controller) {
	dead := 2 * b.DeadTime.Or(0)
	if c.sixStep {
		c.switching = SixStepSwitchingLoss(b.SwitchingFrequency, 1, 1, b.SwitchingTime)
		c.dead = SixStepDeadTimeLoss(b.SwitchingFrequency, b.DiodeVoltage.Or(diodeVoltage), 1, dead)
	} else {
		c.switching = SwitchingLoss(b.SwitchingFrequency, 1, peakPerDC, b.SwitchingTime)
		c.dead = DeadTimeLoss(b.SwitchingFrequency, b.DiodeVoltage.Or(diodeVoltage), peakPerDC, dead)
	}
	c.coupled = c.coupled || b.CapacitorResistance.Or(0) > 0
}

// Constant returns the motor constant in V·s.
func (c *Chain) Constant() float64 { return c.constant }

// OpenCircuit returns the pack's open-circuit voltage in V.
func (c *Chain) OpenCircuit() float64 { return c.openCircuit }

// Copper returns the copper loss at the reference temperature in W for a current in A, the
// coefficient of resistance there in 1/K, and that temperature in K.
func (c *Chain) Copper(current float64) (loss, alpha, reference float64) {
	return current * current * c.resistance, c.alpha, c.motor.ResistanceTemperature
}

// ConductionLoss returns the loss of the bridge's six switches in W, both ways conducting
// through the channel.
//
//	P = 2·R·I²,  which is 3·R·I_rms² of a sine
//
//	R  resistance of a switch, Ω                              [Controller.OnResistance]
//	I  current of the equivalent direct-current motor, A
//
// Holds with synchronous rectification, whatever modulation and power factor.
//
// Source: graovac-2006. Tests: TestSixTransistorPublished.
func ConductionLoss(resistance, current float64) float64 { return 2 * resistance * current * current }

// TransistorConduction returns the conduction losses of one switch and of its reverse path in W.
//
//	P = R·Î²·[1/8 ± m·cos φ/(3π)]
//
//	R      resistance of the switch, Ω
//	Î      peak phase current, A
//	m      modulation index, -
//	cos φ  power factor, -
//
// Holds for a sinusoidal current and synchronous rectification.
//
// Source: graovac-2006. Tests: TestSixTransistorPublished.
func TransistorConduction(resistance, peak, modulation, powerFactor float64) (active, reverse float64) {
	a := modulation * powerFactor / (3 * math.Pi)
	return resistance * peak * peak * (0.125 + a), resistance * peak * peak * (0.125 - a)
}

// SwitchingLoss returns the switching loss of the bridge in W.
//
//	P = 6·f·V·(Î/π)·t/2
//
//	f  switching frequency, Hz                    [Controller.SwitchingFrequency]
//	V  voltage of the bus, V
//	Î  peak phase current, A
//	t  rise and fall time together, s             [Controller.SwitchingTime]
//
// Holds for hard switching; reverse recovery and the gates are not in it.
//
// Source: graovac-2006. Tests: TestSwitchingExact.
func SwitchingLoss(frequency, voltage, peak, time float64) float64 {
	return 6 * frequency * voltage * peak / math.Pi * time / 2
}

// SupplyState is battery, wiring and controller at an operating point.
type SupplyState struct {
	BatteryVoltage      float64 `unit:"V" doc:"voltage at the battery's terminals"`
	BatteryCurrent      float64 `unit:"A" doc:"battery current"`
	BatteryPower        float64 `unit:"W" doc:"power at the battery's terminals"`
	ControllerVoltage   float64 `unit:"V" doc:"voltage at the controller's input"`
	WiringLoss          float64 `unit:"W" doc:"power lost in the wiring from battery to controller"`
	ConductionLoss      float64 `unit:"W" doc:"power lost by conduction in the bridge"`
	SwitchingLoss       float64 `unit:"W" doc:"power lost by switching in the bridge"`
	DeadTimeLoss        float64 `unit:"W" doc:"power lost in the bridge's reverse paths during the dead time"`
	CapacitorLoss       float64 `unit:"W" doc:"power lost in the input capacitors"`
	StandbyLoss         float64 `unit:"W" doc:"power of the electronics"`
	BatteryInternalLoss float64 `unit:"W" doc:"power lost inside the battery, ahead of its terminals"`
	Modulation          float64 `unit:"1" doc:"voltage of the motor over that at the controller's input"`
	CapacitorRipple     float64 `unit:"A" doc:"ripple current of the input capacitors, rms"`
	CellCurrent         float64 `unit:"A" doc:"current of one cell"`
}

// LoadVoltage returns the voltage in V at a load that draws fixed watts and watts by volt, behind
// a resistance; ok is false where no voltage passes that much.
//
//	V = {(V_oc − R·k) + √[(V_oc − R·k)² − 4·R·P]}/2
//
//	V_oc  open-circuit voltage, V
//	R     resistance of battery and wiring, Ω
//	P     power that does not depend on the voltage, W
//	k     power that grows with the voltage, W/V
//
// Holds in the steady state; the higher of the two voltages is the stable one.
//
// Source: memory. Tests: TestLoadVoltageLaw.
func LoadVoltage(openCircuit, resistance, fixed, byVolt float64) (voltage float64, ok bool) {
	v := openCircuit - resistance*byVolt
	d := v*v - 4*resistance*fixed
	if d < 0 || v <= 0 {
		return 0, false
	}
	return 0.5 * (v + math.Sqrt(d)), true
}

// ControllerHeat returns the heat of the controller in W at a current in A of the equivalent
// direct-current motor, as it would be at the open-circuit voltage: a first guess.
//
//	P = 2·R·I² + 6·f·V_oc·(Î/π)·t/2 + P_dead + P_0
//
//	V_oc    open-circuit voltage of the pack, V
//	P_dead  loss in the dead time, W
//	P_0     power of the electronics, W       [Controller.StandbyPower]
//
// Holds within the battery's sag, a few per cent of the switching loss; the capacitors are left out.
//
// Source: graovac-2006. Tests: TestControllerHeatLaw.
func (c *Chain) ControllerHeat(current float64) float64 {
	i := math.Abs(current)
	return ConductionLoss(c.controller.OnResistance, current) + c.switching*i*c.openCircuit + c.dead*i + c.controller.StandbyPower
}

// Heat returns the heat of the controller in W.
//
//	P = P_conduction + P_switching + P_dead + P_capacitor + P_0
//
//	P  the losses of the state, W
//
// Holds for every state. Where it is taken as the bridge's heat, the capacitors' part of it makes the
// bridge a little too hot.
//
// Source: own. Tests: TestControllerHeatLaw.
func (s *SupplyState) Heat() float64 {
	return s.ConductionLoss + s.SwitchingLoss + s.StandbyLoss + s.DeadTimeLoss + s.CapacitorLoss
}

// supplyTurns is how often the capacitors' loss and the cable's resistance are exchanged with the
// current that they hang on, at most. Each turn gains a digit or more; the power balance closes
// whatever is left.
const supplyTurns = 30

// BridgeMatters tells whether the switches' resistance changes with their temperature.
func (c *Chain) BridgeMatters() bool { return c.controller.OnResistanceCoefficient.Or(0) > 0 }

// onResistance is a switch's at a temperature in K.
func (c *Chain) onResistance(bridge float64) float64 {
	k := &c.controller
	if !k.OnResistanceCoefficient.Set {
		return k.OnResistance
	}
	return HotResistance(k.OnResistance, k.OnResistanceCoefficient.Value, bridge-k.OnResistanceTemperature.Or(warmJunction)+warmJunction)
}

// Supply works out controller, wiring and battery for a motor state, with switches of the resistance
// that is typed.
func (c *Chain) Supply(m *MotorState) (SupplyState, Reason) {
	return c.SupplyAt(m, c.controller.OnResistanceTemperature.Or(warmJunction))
}

// supplied works the supply out with the field weakened as it is.
func (c *Chain) supplied(m *MotorState, bridge float64) (SupplyState, Reason) {
	var s SupplyState
	i := m.Carried()
	s.ConductionLoss = ConductionLoss(c.onResistance(bridge), i)
	s.StandbyLoss = c.controller.StandbyPower
	s.DeadTimeLoss = c.dead * math.Abs(i)
	byVolt := c.switching * math.Abs(i)
	fixed := m.ElectricPower + s.ConductionLoss + s.StandbyLoss + s.DeadTimeLoss + c.aside
	wiring := c.wiring
	reached := m.reached()
	for turn := range supplyTurns {
		v, ok := LoadVoltage(c.openCircuit, c.packOhms+wiring, fixed+s.CapacitorLoss, byVolt)
		if !ok {
			return s, BeyondBattery
		}
		s.ControllerVoltage = v
		s.SwitchingLoss = byVolt * v
		s.BatteryCurrent = (fixed + s.CapacitorLoss + s.SwitchingLoss) / v
		s.Modulation = reached / v
		s.CapacitorRipple = c.ripple(m, s.Modulation, reached)
		if !c.coupled || turn == supplyTurns-1 {
			break
		}
		loss := s.CapacitorRipple * s.CapacitorRipple * c.controller.CapacitorResistance.Or(0)
		ohms := wiring
		if c.cable.Length > 0 {
			_, at := c.cable.Temperature(s.BatteryCurrent)
			ohms = c.connectors + c.cable.Resistance(at)
		}
		if math.Abs(loss-s.CapacitorLoss) <= 1e-14*fixed && math.Abs(ohms-wiring) <= 1e-14*ohms {
			break
		}
		s.CapacitorLoss, wiring = loss, ohms
	}
	s.WiringLoss = s.BatteryCurrent * s.BatteryCurrent * wiring
	s.BatteryVoltage = s.ControllerVoltage + s.BatteryCurrent*wiring
	s.BatteryPower = s.BatteryVoltage * s.BatteryCurrent
	s.BatteryInternalLoss = s.BatteryCurrent * s.BatteryCurrent * c.packOhms
	s.CellCurrent = s.BatteryCurrent / float64(c.battery.Parallel)
	return s, Solved
}

// ripple is the capacitors' ripple current at a motor state.
func (c *Chain) ripple(m *MotorState, modulation, reached float64) float64 {
	if c.sixStep {
		return SixStepRipple(m.DCEquivalentCurrent, modulation)
	}
	powerFactor := 1.0
	if m.ReactiveVoltage != 0 {
		powerFactor = m.TerminalVoltage / reached
		if m.DirectCurrent != 0 {
			powerFactor = m.voltAmperes() / (reached * m.Carried())
		}
	}
	return CapacitorRipple(m.PhaseCurrentRMS, peakPerDC*modulation, powerFactor)
}

// CableTemperature returns the temperature in K of the battery cable's conductor at a battery
// current in A; ok is false where no cable is typed.
//
//	t = Cable.Temperature(I)
//
//	I  battery current, A
//
// Holds as Cable.Temperature does.
//
// Source: own. Tests: TestCableInChainLaw.
func (c *Chain) CableTemperature(current float64) (temperature float64, ok bool) {
	if c.cable.Length == 0 {
		return 0, false
	}
	t, _ := c.cable.Temperature(current)
	return t, true
}

// Ampacity returns the current in A at which the battery's cable settles at its limit; 0 where no cable is typed.
//
//	I = Cable.Ampacity()
//
//	I  current, A
//
// Holds as Cable.Ampacity does.
//
// Source: own, abyc-e11. Tests: TestWiringLimits.
func (c *Chain) Ampacity() float64 {
	if c.cable.Length == 0 {
		return 0
	}
	return c.cable.Ampacity()
}
