package electric

import "math"

// diodeVoltage is the voltage over a switch's reverse path where none is typed, V.
const diodeVoltage = 0.9

// warmJunction is the temperature that a switch's resistance holds at where none is typed, K.
const warmJunction = 298.15

// HotResistance returns the resistance of a switch at a junction temperature in K from that at
// 25 °C, in Ω.
//
//	R(t) = R₂₅·[1 + a·(t − 25 °C)]
//
//	R₂₅  highest resistance at 25 °C by the sheet, Ω
//	a    temperature coefficient, 1/K; 0.003 to 0.007 for silicon   [Controller.OnResistanceCoefficient]
//	t    junction temperature, K
//
// Holds between 25 and 150 °C for silicon. Controller.OnResistance is that of the hot switch
// where no coefficient is typed.
//
// Source: graovac-2006. Tests: TestHotResistancePublished.
func HotResistance(at25, coefficient, junction float64) float64 {
	return at25 * (1 + coefficient*(junction-warmJunction))
}

// SixStepSwitchingLoss returns the switching loss of the bridge in W where the phases carry flat
// tops and one leg chops at a time.
//
//	P = f·V·I·t/2
//
//	f  switching frequency, Hz              [Controller.SwitchingFrequency]
//	V  voltage of the bus, V
//	I  current of the flat top, which is that of the equivalent direct-current motor, A
//	t  rise and fall time together, s       [Controller.SwitchingTime]
//
// Holds for hard switching of one of the two legs that conduct; where both chop it is twice that.
// A sine of the same torque switches 6·(2/√3)/π = 2.205 times as much, since three legs chop.
//
// Source: graovac-2006. Tests: TestSixStepSwitchingExact.
func SixStepSwitchingLoss(frequency, voltage, current, time float64) float64 {
	return frequency * voltage * current * time / 2
}

// DeadTimeLoss returns the loss of the bridge in W in the reverse paths of its switches while both
// switches of a leg are off, for a sine.
//
//	P = 3·V_f·(2·Î/π)·t_d·f
//
//	V_f  voltage over the reverse path, V                          [Controller.DiodeVoltage]
//	Î    peak phase current, A
//	t_d  dead time of a switching cycle: on both its edges, s      [twice Controller.DeadTime]
//	f    switching frequency, Hz                                   [Controller.SwitchingFrequency]
//
// Holds where the reverse path carries the whole current through the dead time. The channel's loss
// in that time, a hundredth of it, is not taken off, and what the dead time takes of the voltage is not
// in the modulation.
//
// Source: graovac-2006. Tests: TestDeadTimeExact.
func DeadTimeLoss(frequency, diode, peak, deadTime float64) float64 {
	return 3 * diode * 2 * peak / math.Pi * deadTime * frequency
}

// SixStepDeadTimeLoss is DeadTimeLoss for flat tops of which one leg chops.
//
//	P = V_f·I·t_d·f
//
//	I  current of the flat top, A
//
// Holds as DeadTimeLoss does, with synchronous rectification in the leg that chops.
//
// Source: graovac-2006. Tests: TestDeadTimeExact.
func SixStepDeadTimeLoss(frequency, diode, current, deadTime float64) float64 {
	return diode * current * deadTime * frequency
}

// GateLoss returns what the gates of the bridge's switches take in W.
//
//	P = n·Q_g·V_gs·f
//
//	n    switches that switch: six for a sine, two for six-step
//	Q_g  charge of a gate, A·s
//	V_gs voltage of the gate drive, V
//	f    switching frequency, Hz
//
// Holds for full charge and discharge a cycle. It is part of Controller.StandbyPower here.
//
// Source: graovac-2006. Tests: TestGateLossExact.
func GateLoss(switches int, charge, voltage, frequency float64) float64 {
	return float64(switches) * charge * voltage * frequency
}

// TransistorRMS returns the rms current of each of the bridge's six switches in A, both directions
// together, from the rms phase current in A: a phase's current is always in one of its two.
//
//	I_T = I/√2,  Σ₆ I_T² = 3·I²
//
//	I  phase current, rms, A
//
// Holds with synchronous rectification, for every modulation, power factor and waveform that is
// the same in both half waves.
//
// Source: graovac-2006. Tests: TestSixTransistorIdentityExact.
func TransistorRMS(phase float64) float64 { return phase / math.Sqrt2 }
