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
	constant    float64 // V·s
	resistance  float64 // between lines at the reference temperature, Ω
	alpha       float64
	noLoadPower float64
	noLoadSpeed float64
	openCircuit float64 // of the pack
	packOhms    float64
	totalOhms   float64
	sixStep     bool
	switching   float64 // W per ampere of direct current and volt
}

// NewChain works a chain out. The error says which number of the motor is missing or impossible.
func NewChain(m Motor, c Controller, b Battery) (Chain, error) {
	ch := Chain{motor: m, controller: c, battery: b, sixStep: c.Commutation == "six-step"}
	var err error
	if ch.constant, err = m.Constants(); err != nil {
		return ch, err
	}
	ch.resistance = m.lineResistance()
	ch.alpha = CopperAlpha(m.ResistanceTemperature)
	drop := m.NoLoadCurrent * ch.resistance
	if m.NoLoadVoltage <= drop {
		return ch, ErrNoLoad
	}
	ch.noLoadPower = m.NoLoadCurrent * (m.NoLoadVoltage - drop)
	ch.noLoadSpeed = (m.NoLoadVoltage - drop) / ch.constant
	ch.openCircuit = float64(b.Series) * (OpenCircuitVoltage(b.Charge) + b.OpenCircuitOffset)
	ch.packOhms = b.Resistance()
	ch.totalOhms = ch.packOhms + b.WiringResistance
	ch.switching = SwitchingLoss(c.SwitchingFrequency, 1, peakPerDC, c.SwitchingTime)
	return ch, nil
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

// openCircuitTable is the open-circuit voltage of a cell by tenths of charge from 0 to 1, and its
// slopes for a monotone cubic. Recalled, confidence medium; see Battery.OpenCircuitOffset.
var openCircuitTable = [11]float64{2.95, 3.38, 3.50, 3.58, 3.64, 3.70, 3.79, 3.88, 3.97, 4.06, 4.18}

// OpenCircuitVoltage returns the open-circuit voltage of a lithium cell in V.
//
//	V = monotone cubic through 2.95 3.38 3.50 3.58 3.64 3.70 3.79 3.88 3.97 4.06 4.18 V at 0, 0.1 … 1
//
//	charge  share of the capacity that is left, 0 to 1  [Battery.Charge]
//
// Holds for nickel-rich cells at rest, ± 0.04 V; iron-phosphate cells are another table.
//
// Source: memory. Tests: TestOpenCircuitExact.
func OpenCircuitVoltage(charge float64) float64 {
	const n = len(openCircuitTable) - 1
	x := charge * float64(n)
	i := min(max(int(x), 0), n-1)
	u := x - float64(i)
	y0, y1 := openCircuitTable[i], openCircuitTable[i+1]
	d0, d1 := openCircuitSlope(i), openCircuitSlope(i+1)
	u2, u3 := u*u, u*u*u
	return y0*(2*u3-3*u2+1) + d0*(u3-2*u2+u) + y1*(3*u2-2*u3) + d1*(u3-u2)
}

// openCircuitSlope is the harmonic mean of the neighbouring steps, which keeps the cubic monotone.
func openCircuitSlope(i int) float64 {
	const n = len(openCircuitTable) - 1
	step := func(k int) float64 { return openCircuitTable[k+1] - openCircuitTable[k] }
	switch i {
	case 0:
		return step(0)
	case n:
		return step(n - 1)
	}
	a, b := step(i-1), step(i)
	return 2 * a * b / (a + b)
}

// Resistance returns the pack's resistance in Ω.
//
//	R = (N_s/N_p)·R_cell·k^((25 °C − t)/18 K) + R_joints
//
//	N_s, N_p  cells in series and parallel                [Battery.Series, Battery.Parallel]
//	R_cell    resistance of a cell at 25 °C, Ω            [Battery.CellResistance]
//	k         resistance at 7 °C over that at 25 °C, -    [Battery.ColdFactor]
//	t         temperature of the cells                    [Battery.Temperature]
//	R_joints  joints and bars, Ω                          [Battery.JointResistance]
//
// Holds between −10 and 45 °C and 20 to 100 % charge; below that the cell's resistance rises.
//
// Source: memory. Tests: TestPackResistanceExact.
func (b Battery) Resistance() float64 {
	const warm, span = 298.15, 18
	return float64(b.Series)/float64(b.Parallel)*b.CellResistance*math.Pow(b.ColdFactor, (warm-b.Temperature)/span) + b.JointResistance
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
	StandbyLoss         float64 `unit:"W" doc:"power of the electronics"`
	BatteryInternalLoss float64 `unit:"W" doc:"power lost inside the battery, ahead of its terminals"`
	Modulation          float64 `unit:"1" doc:"voltage of the motor over that at the controller's input"`
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
//	P = 2·R·I² + 6·f·V_oc·(Î/π)·t/2 + P_0
//
//	V_oc  open-circuit voltage of the pack, V
//	P_0   power of the electronics, W       [Controller.StandbyPower]
//
// Holds within the battery's sag, a few per cent of the switching loss.
//
// Source: graovac-2006. Tests: TestControllerHeatLaw.
func (c *Chain) ControllerHeat(current float64) float64 {
	return ConductionLoss(c.controller.OnResistance, current) + c.switching*math.Abs(current)*c.openCircuit + c.controller.StandbyPower
}

// Supply works out controller, wiring and battery for a motor state.
func (c *Chain) Supply(m *MotorState) (SupplyState, Reason) {
	var s SupplyState
	i := m.DCEquivalentCurrent
	s.ConductionLoss = ConductionLoss(c.controller.OnResistance, i)
	s.StandbyLoss = c.controller.StandbyPower
	byVolt := c.switching * math.Abs(i)
	v, ok := LoadVoltage(c.openCircuit, c.totalOhms, m.ElectricPower+s.ConductionLoss+s.StandbyLoss, byVolt)
	if !ok {
		return s, BeyondBattery
	}
	s.ControllerVoltage = v
	s.SwitchingLoss = byVolt * v
	s.BatteryCurrent = (m.ElectricPower + s.ConductionLoss + s.StandbyLoss + s.SwitchingLoss) / v
	s.WiringLoss = s.BatteryCurrent * s.BatteryCurrent * c.battery.WiringResistance
	s.BatteryVoltage = v + s.BatteryCurrent*c.battery.WiringResistance
	s.BatteryPower = s.BatteryVoltage * s.BatteryCurrent
	s.BatteryInternalLoss = s.BatteryCurrent * s.BatteryCurrent * c.packOhms
	s.Modulation = m.TerminalVoltage / v
	s.CellCurrent = s.BatteryCurrent / float64(c.battery.Parallel)
	return s, Solved
}
