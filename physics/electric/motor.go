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
	ReactiveVoltage     float64 `unit:"V" doc:"voltage that the phases' inductance takes, square to the motor's; 0 where no phase_inductance is typed"`
	CopperLoss          float64 `unit:"W" doc:"power lost in the winding"`
	NoLoadLoss          float64 `unit:"W" doc:"power lost in iron, windage, bearings and a wet gap"`
	DirectCurrent       float64 `unit:"A" doc:"current against the magnets, peak of a phase; 0 where the field is not weakened"`
	ElectricPower       float64 `unit:"W" doc:"power at the controller's output"`
	WindingTemperature  float64 `unit:"°C" doc:"winding, steady"`
	MagnetTemperature   float64 `unit:"°C" doc:"magnets, steady"`

	ohms, reactance float64 // between two lines at the winding's temperature; 2·p·ω·L, Ω
}

// NoLoadLoss returns the loss in iron, windage and bearings at a motor speed in rad/s, in W.
//
//	P = P₀·[f·x + (1 − f)·x²],  x = ω/ω₀,  P₀ = V₀·I₀ − I₀²·R,  ω₀ = (V₀ − I₀·R)/K
//	or, of several points, t₁·ω + t₂·ω² + t₃·ω³ (SplitNoLoad);  with a wet gap + T_gap·ω (Gap.Drag)
//
//	V₀, I₀  no-load point, V, A                       [Motor.NoLoadVoltage, Motor.NoLoadCurrent]
//	R       winding resistance between lines, Ω       [Motor.WindingResistance]
//	f       share that grows with speed, -            [Motor.LinearShare]
//	K       motor constant, V·s
//
// Holds between standstill and about twice the no-load point's speed; one point cannot split the
// two shares, which is why f is a range. No-load points are taken as measured with a dry gap.
//
// Source: own. Tests: TestNoLoadExact, TestNoLoadPointsExact, TestMotorClosesLaw.
func (c *Chain) NoLoadLoss(speed float64) float64 {
	if c.beside {
		return c.drag(speed) * speed
	}
	x := speed / c.noLoadSpeed
	return c.noLoadPower * (c.motor.LinearShare*x + (1-c.motor.LinearShare)*x*x)
}

// drag is the torque of the no-load loss at a speed, N·m.
func (c *Chain) drag(speed float64) float64 {
	if !c.beside {
		x := speed / c.noLoadSpeed
		return c.noLoadPower / c.noLoadSpeed * (c.motor.LinearShare + (1-c.motor.LinearShare)*x)
	}
	t := 0.0
	if c.split {
		t = c.noLoad.Terms[0] + speed*(c.noLoad.Terms[1]+speed*c.noLoad.Terms[2])
	} else {
		x := speed / c.noLoadSpeed
		t = c.noLoadPower / c.noLoadSpeed * (c.motor.LinearShare + (1-c.motor.LinearShare)*x)
	}
	if c.wet.Length > 0 {
		t += c.wet.Drag(c.density, c.viscosity, speed).Torque
	}
	return t
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
// Holds below magnetic saturation, with magnets at the temperature at which the constant holds;
// CurrentAt takes another. Its limit at standstill is finite.
//
// Source: memory. Tests: TestNoLoadExact, TestMotorClosesLaw.
func (c *Chain) Current(torque, speed float64) float64 {
	return (torque + c.drag(speed)) / c.constant
}

// CurrentAt is Current with the magnets at a temperature in K, where their coefficient is typed.
//
//	I = (T + P_0(ω)/ω)/[K·(1 + α·(t − t_ref))]
//
//	t  temperature of the magnets, K
//
// Holds as Current and MagnetFactor do.
//
// Source: memory. Tests: TestMagnetInChainLaw.
func (c *Chain) CurrentAt(torque, speed, magnet float64) float64 {
	return (torque + c.drag(speed)) / c.ConstantAt(magnet)
}

// ConstantAt returns the motor constant in V·s with the magnets at a temperature in K.
//
//	K = K_ref·(1 + α·(t − t_ref))
//
//	α  coefficient of the magnets, 1/K; 0 where none is typed  [Motor.MagnetCoefficient]
//
// Holds as MagnetFactor does.
//
// Source: magnet-table. Tests: TestMagnetInChainLaw.
func (c *Chain) ConstantAt(magnet float64) float64 {
	if c.magnet == 0 {
		return c.constant
	}
	return c.constant * MagnetFactor(c.magnet, magnet, c.magnetAt)
}

// MagnetsMatter tells whether the motor constant changes with the magnets' temperature.
func (c *Chain) MagnetsMatter() bool { return c.magnet != 0 }

// Coupled tells whether something typed hangs on the current that it changes: magnets, capacitors or
// cable.
func (c *Chain) Coupled() bool { return c.coupled || c.magnet != 0 }

// MagnetTemperature returns the temperature of the magnets in K from those of winding and coolant.
//
//	t_m = t_c + s·(t_w − t_c)
//
//	s  rise of the magnets as a share of the winding's, -   [Motor.MagnetRiseShare]
//
// Holds in the steady state.
//
// Source: own. Tests: TestMagnetInChainLaw.
func (c *Chain) MagnetTemperature(winding, coolant float64) float64 {
	return coolant + c.motor.MagnetRiseShare*(winding-coolant)
}

// Flood puts water of a density in kg/m³ and a kinematic viscosity in m²/s into the motor's gap,
// where a wet gap is typed. What the drag makes of heat counts to the motor's, though part of it leaves
// with the gap's own water.
func (c *Chain) Flood(density, viscosity float64) {
	m := &c.motor
	if m.WetGap.Set && m.RotorDiameter.Set && m.RotorLength.Set {
		c.wet = Gap{Radius: m.RotorDiameter.Value / 2, Width: m.WetGap.Value, Length: m.RotorLength.Value}
		c.density, c.viscosity, c.beside = density, viscosity, true
	}
}

// Motor works out the motor at a shaft torque in N·m, a speed in rad/s, and temperatures of
// winding and coolant in K.
func (c *Chain) Motor(torque, speed, winding, coolant float64) MotorState {
	return c.MotorAt(torque, speed, winding, c.MagnetTemperature(winding, coolant))
}

// MotorAt is Motor with the magnets at a temperature of their own, in K, as they have on the way to a
// steady state.
func (c *Chain) MotorAt(torque, speed, winding, magnet float64) MotorState {
	var s MotorState
	s.MagnetTemperature = magnet
	constant := c.ConstantAt(s.MagnetTemperature)
	drag := c.drag(speed)
	i := (torque + drag) / constant
	s.DCEquivalentCurrent = i
	if c.sixStep {
		s.PhaseCurrentPeak, s.PhaseCurrentRMS = i, rmsPerDC*i
	} else {
		s.PhaseCurrentPeak, s.PhaseCurrentRMS = peakPerDC*i, rmsPerDC*i
	}
	r := c.resistance * (1 + c.alpha*(winding-c.motor.ResistanceTemperature))
	s.CopperLoss = i * i * r
	s.NoLoadLoss = drag * speed
	if !c.beside {
		s.NoLoadLoss = c.NoLoadLoss(speed)
	}
	s.ElectricPower = torque*speed + s.NoLoadLoss + s.CopperLoss
	s.TerminalVoltage = constant*speed + i*r
	if c.reactance != 0 {
		s.reactance = c.reactance * speed
		s.ReactiveVoltage = s.reactance * i
	}
	s.ohms = r
	s.WindingTemperature = winding
	return s
}
