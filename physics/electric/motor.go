package electric

import (
	"errors"
	"math"
)

// Conversions between the ampere of the equivalent direct-current motor and those of a sine.
var (
	peakPerDC = 2 / math.Sqrt(3)
	rmsPerDC  = math.Sqrt(2.0 / 3.0)
)

// annealedCopper is α of annealed copper at 20 °C in 1/K, and copperZero that temperature in K.
const (
	annealedCopper = 0.00393
	copperZero     = 293.15
)

// Errors of a motor's numbers.
var (
	ErrNoConstant = errors.New("the motor has neither a speed constant nor a torque constant")
	ErrNoLoad     = errors.New("the motor's no-load voltage does not cover its no-load current times its winding resistance")
)

// ConstantFromSpeed returns the motor constant in V·s, which is N·m per ampere of the
// equivalent direct-current motor.
//
//	K = 1/K_v
//
//	K_v  no-load speed per volt of peak line-to-line voltage, rad/(V·s)  [Motor.SpeedConstant]
//
// Holds for any permanent-magnet motor; in N·m/A it is 9.5493 over K_v in rpm/V.
//
// Source: memory. Tests: TestMotorConstantsPublished, TestConventionsLaw.
func ConstantFromSpeed(speedConstant float64) float64 { return 1 / speedConstant }

// ConstantFromTorque returns the motor constant in N·m per ampere of the equivalent
// direct-current motor from a torque constant in a convention: dc, peak or rms.
//
//	K = K_T (dc),  K = K_T·2/√3 (peak),  K = K_T·√(2/3) (rms)
//
//	K_T  torque per ampere in the convention, N·m/A  [Motor.TorqueConstant]
//
// Holds for sinusoidal phase currents in phase with the voltage they induce.
//
// Source: memory. Tests: TestMotorConstantsPublished, TestConventionsLaw.
func ConstantFromTorque(torqueConstant float64, convention string) float64 {
	switch convention {
	case "peak":
		return torqueConstant * peakPerDC
	case "rms":
		return torqueConstant * rmsPerDC
	}
	return torqueConstant
}

// Constants returns the motor constant in V·s, from whichever constant was typed; the speed
// constant goes first.
func (m Motor) Constants() (float64, error) {
	switch {
	case m.SpeedConstant.Set && m.SpeedConstant.Value > 0:
		return ConstantFromSpeed(m.SpeedConstant.Value), nil
	case m.TorqueConstant.Set && m.TorqueConstant.Value > 0:
		return ConstantFromTorque(m.TorqueConstant.Value, m.TorqueConvention), nil
	}
	return 0, ErrNoConstant
}

// ConstantRatio returns, where both constants were typed, that of the torque over that of the
// speed; 1 otherwise, dimensionless. Far from 1 the convention is another one.
//
//	r = K(K_T)/K(K_v)
//
//	K  motor constant, V·s
//
// Holds by definition.
//
// Source: own. Tests: TestConventionsLaw.
func (m Motor) ConstantRatio() float64 {
	if !m.SpeedConstant.Set || !m.TorqueConstant.Set {
		return 1
	}
	return ConstantFromTorque(m.TorqueConstant.Value, m.TorqueConvention) / ConstantFromSpeed(m.SpeedConstant.Value)
}

// CopperAlpha returns the coefficient of copper's resistance at a reference temperature in K, in 1/K.
//
//	α = α₂₀/[1 + α₂₀·(T_ref − 293.15 K)],  α₂₀ = 0.00393/K
//
//	T_ref  temperature at which the resistance is known, K
//
// Holds for annealed copper between −40 and 200 °C.
//
// Source: iec-60028. Tests: TestCopperPublished.
func CopperAlpha(reference float64) float64 {
	return annealedCopper / (1 + annealedCopper*(reference-copperZero))
}

// lineResistance is the resistance between two lines at its reference temperature.
func (m Motor) lineResistance() float64 {
	if m.ResistanceBetween == "phase" {
		return 2 * m.WindingResistance
	}
	return m.WindingResistance
}

// MotorState is the motor at an operating point.
type MotorState struct {
	DCEquivalentCurrent float64 `unit:"A" doc:"current of the equivalent direct-current motor"`
	PhaseCurrentRMS     float64 `unit:"A" doc:"phase current, rms"`
	PhaseCurrentPeak    float64 `unit:"A" doc:"phase current, peak"`
	TerminalVoltage     float64 `unit:"V" doc:"voltage of the equivalent direct-current motor"`
	CopperLoss          float64 `unit:"W" doc:"power lost in the winding"`
	NoLoadLoss          float64 `unit:"W" doc:"power lost in iron, windage and bearings"`
	ElectricPower       float64 `unit:"W" doc:"power at the controller's output"`
	WindingTemperature  float64 `unit:"°C" doc:"winding, steady"`
	MagnetTemperature   float64 `unit:"°C" doc:"magnets, steady"`
}

// NoLoadLoss returns the loss in iron, windage and bearings at a motor speed in rad/s, in W.
//
//	P = P₀·[f·x + (1 − f)·x²],  x = ω/ω₀,  P₀ = V₀·I₀ − I₀²·R,  ω₀ = (V₀ − I₀·R)/K
//
//	V₀, I₀  no-load point, V, A                       [Motor.NoLoadVoltage, Motor.NoLoadCurrent]
//	R       winding resistance between lines, Ω       [Motor.WindingResistance]
//	f       share that grows with speed, -            [Motor.LinearShare]
//	K       motor constant, V·s
//
// Holds between standstill and about twice the no-load point's speed; one point cannot split the
// two shares, which is why f is a range.
//
// Source: own. Tests: TestNoLoadExact, TestMotorClosesLaw.
func (c *Chain) NoLoadLoss(speed float64) float64 {
	x := speed / c.noLoadSpeed
	return c.noLoadPower * (c.motor.LinearShare*x + (1-c.motor.LinearShare)*x*x)
}

// Current returns the current of the equivalent direct-current motor in A for a shaft torque in
// N·m at a speed in rad/s.
//
//	I = (T + P_0(ω)/ω)/K
//
//	T    shaft torque, N·m
//	P_0  no-load loss at the speed, W
//	K    motor constant, V·s
//
// Holds below magnetic saturation; its limit at standstill is finite.
//
// Source: memory. Tests: TestNoLoadExact, TestMotorClosesLaw.
func (c *Chain) Current(torque, speed float64) float64 {
	x := speed / c.noLoadSpeed
	drag := c.noLoadPower / c.noLoadSpeed * (c.motor.LinearShare + (1-c.motor.LinearShare)*x)
	return (torque + drag) / c.constant
}

// Motor works out the motor at a shaft torque in N·m, a speed in rad/s, and temperatures of
// winding and coolant in K.
func (c *Chain) Motor(torque, speed, winding, coolant float64) MotorState {
	var s MotorState
	i := c.Current(torque, speed)
	s.DCEquivalentCurrent = i
	if c.sixStep {
		s.PhaseCurrentPeak, s.PhaseCurrentRMS = i, rmsPerDC*i
	} else {
		s.PhaseCurrentPeak, s.PhaseCurrentRMS = peakPerDC*i, rmsPerDC*i
	}
	r := c.resistance * (1 + c.alpha*(winding-c.motor.ResistanceTemperature))
	s.CopperLoss = i * i * r
	s.NoLoadLoss = c.NoLoadLoss(speed)
	s.ElectricPower = torque*speed + s.NoLoadLoss + s.CopperLoss
	s.TerminalVoltage = c.constant*speed + i*r
	s.WindingTemperature = winding
	s.MagnetTemperature = coolant + c.motor.MagnetRiseShare*(winding-coolant)
	return s
}
