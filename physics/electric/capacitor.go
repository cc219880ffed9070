package electric

import "math"

// CapacitorRipple returns the rms current of a bridge's input capacitors in A, for a sine.
//
//	I_C = I·√{2·M·[√3/(4π) + cos²φ·(√3/π − 9·M/16)]}
//
//	I      phase current, rms, A
//	M      modulation index, peak of the phase voltage over half the bus voltage, 0 to 2/√3
//	cos φ  power factor of the fundamental
//
// Holds for a switching frequency far above the electrical one, a smooth sine and a battery that
// takes none of the ripple. It is highest near M = 0.61, with 0.65 of the phase current, and does
// not depend on the capacitance.
//
// Source: kolar-2006. Tests: TestCapacitorRipplePublished, TestCapacitorRippleExact.
func CapacitorRipple(phase, modulation, powerFactor float64) float64 {
	c := powerFactor * powerFactor
	x := 2 * modulation * (math.Sqrt(3)/(4*math.Pi) + c*(math.Sqrt(3)/math.Pi-9*modulation/16))
	if x <= 0 { // at most 4 % beyond the range, where the bridge no longer switches
		return 0
	}
	return math.Abs(phase) * math.Sqrt(x)
}

// SixStepRipple returns the rms current of a bridge's input capacitors in A, for flat tops of which
// one leg chops.
//
//	I_C = I·√[d·(1 − d)]
//
//	I  current of the flat top, A
//	d  duty: voltage of the motor over that of the bus
//
// Holds for 0 ≤ d ≤ 1, without the ripple of the current itself; at d = 1 nothing switches.
//
// Source: memory. Tests: TestSixStepRippleExact.
func SixStepRipple(current, duty float64) float64 {
	if x := duty * (1 - duty); x > 0 {
		return math.Abs(current) * math.Sqrt(x)
	}
	return 0
}

// CapacitorCore returns the steady temperature of a capacitor's core in K.
//
//	t = t_s + I_C²·ESR·R
//
//	t_s  temperature round it, K                   [Controller.CapacitorSurroundings]
//	I_C  ripple current, rms, A
//	ESR  series resistance, Ω                      [Controller.CapacitorResistance]
//	R    thermal resistance to the surroundings, K/W   [Controller.CapacitorToAir]
//
// Holds in the steady state with the series resistance of the warm part at the switching frequency.
//
// Source: memory. Tests: TestCapacitorCoreExact.
func CapacitorCore(surroundings, ripple, series, thermal float64) float64 {
	return surroundings + ripple*ripple*series*thermal
}

// CapacitorLife returns how long an electrolytic capacitor lasts in s.
//
//	L = L₀·2^[(t₀ − t)/10 K]
//
//	L₀  life at its rated core temperature, s
//	t₀  rated core temperature, K
//	t   core temperature, K
//
// Holds as a rule of thumb between 40 °C and the rated temperature; its makers cap it at about 15
// years.
//
// Source: memory. Tests: TestCapacitorLifeExact.
func CapacitorLife(rated, ratedTemperature, temperature float64) float64 {
	return rated * math.Exp2((ratedTemperature-temperature)/10)
}

// CapacitorCoreFor returns the core temperature in K at which an electrolytic capacitor lasts a time in s: CapacitorLife
// turned round.
//
//	t = t₀ + 10 K·log₂(L₀/L)
//
//	L₀, t₀  life in s at its rated core temperature in K
//	L       time that it is to last, s
//
// Holds as CapacitorLife does.
//
// Source: memory. Tests: TestCapacitorLifeExact.
func CapacitorCoreFor(rated, ratedTemperature, life float64) float64 {
	return ratedTemperature + 10*math.Log2(rated/life)
}

// PreCharge is the charging of a controller's capacitors through a resistor before the main switch
// closes.
type PreCharge struct {
	Voltage     float64 `unit:"V" doc:"battery voltage" range:"1 .. 1500" usual:"20 .. 130"`
	Capacitance float64 `unit:"µF" doc:"input capacitors, all together" range:"1 .. 1000000" usual:"200 .. 20000"`
	Resistance  float64 `unit:"Ω" doc:"pre-charge resistor" range:"0.1 .. 100000" usual:"5 .. 1000"`
	Load        float64 `unit:"A" doc:"what the controller draws in the meantime" range:"0 .. 10" usual:"0 .. 0.5"`
}

// PreChargeState is what a pre-charge comes to.
type PreChargeState struct {
	PeakCurrent float64 // A, in the first moment
	PeakPower   float64 // W, in the resistor in the first moment
	Energy      float64 // J, that the resistor takes up while the capacitors charge
	Reached     float64 // V, on the capacitors in the end
	Time        float64 // s, until the main switch finds less than the share of the voltage that was asked for
	Possible    bool    // the load does not hold the voltage down for good
}

// Charge returns what the pre-charge comes to; the main switch closes when a share of the battery
// voltage is left across it.
//
//	Î = V/R,  E = ½·C·V_∞²,  V_∞ = V − R·I_L,  t = R·C·ln[V_∞/(s·V − R·I_L)]
//
//	V, C, R, I_L  voltage, capacitance, resistor and load   [PreCharge]
//	s             share left, 0 to 1
//
// Holds for a resistor and capacitors that do not change; the load is taken as constant, and E
// leaves out what it makes in the resistor. Possible is false where the load alone keeps more than
// the share across the resistor; the time is then 0.
//
// Source: memory. Tests: TestPreChargeExact.
func (p PreCharge) Charge(share float64) PreChargeState {
	s := PreChargeState{PeakCurrent: p.Voltage / p.Resistance, Reached: p.Voltage - p.Resistance*p.Load}
	s.PeakPower = p.Voltage * s.PeakCurrent
	s.Energy = p.Capacitance * s.Reached * s.Reached / 2
	if left := share*p.Voltage - p.Resistance*p.Load; left > 0 && s.Reached > 0 {
		s.Possible = true
		s.Time = math.Max(0, p.Resistance*p.Capacitance*math.Log(s.Reached/left))
	}
	return s
}

// InrushCurrent returns the peak current in A into discharged capacitors without a pre-charge.
//
//	Î = V·√(C/L)·e^(−θ/tan θ),  cos θ = (R/2)·√(C/L);  V/R as L goes to nothing
//
//	V, C  voltage, V, and capacitance, F
//	L, R  inductance, H, and resistance, Ω, of the loop
//
// Holds for a loop that rings, R < 2·√(L/C); one that does not stays below V/R, which is given.
//
// Source: memory. Tests: TestInrushExact.
func InrushCurrent(voltage, capacitance, inductance, resistance float64) float64 {
	c := resistance / 2 * math.Sqrt(capacitance/inductance)
	if c >= 1 {
		return voltage / resistance
	}
	theta := math.Acos(c)
	return voltage * math.Sqrt(capacitance/inductance) * math.Exp(-theta/math.Tan(theta))
}

// BleedTime returns how long capacitors take in s to fall from one voltage to another through a
// resistance, once battery and motor are off them.
//
//	t = R·C·ln(V₁/V₂)
//
//	R, C    bleed resistance, Ω, and capacitance, F
//	V₁, V₂  from and to, V
//
// Holds while nothing else charges them: a propeller that water turns does. Measure before touching.
//
// Source: memory. Tests: TestBleedExact.
func BleedTime(resistance, capacitance, from, to float64) float64 {
	return resistance * capacitance * math.Log(from/to)
}
