package electric

import "math"

// Convention is the motor constant in one of the ways in which the trade writes it.
type Convention struct {
	Name   string
	Value  float64 // SI
	Unit   string
	Factor float64 // Value is the motor constant times this, or this over the motor constant where Inverse
	How    string  // the factor in symbols
	// Inverse tells that the figure falls as the constant grows, as a speed constant does.
	Inverse bool
}

// Conventions returns a motor constant in V·s in every convention of the trade, with what it is
// multiplied by.
//
//	K_v = 1/K,  K_E = K (peak of two lines),  K_E,rms = K/√2 (rms of two lines),  K_E,phase = K/√3 (peak of a phase)
//	K_T,dc = K,  K_T,peak = K·√3/2,  K_T,rms = K·√(3/2)
//
//	K  motor constant, V·s: peak voltage between two lines by rad/s, and N·m by ampere of the
//	   equivalent direct-current motor
//
// Holds for sinusoidal voltages in a star, with phase currents in phase with the voltage they induce; a
// winding in delta has the same figures between its lines.
//
// Source: memory. Tests: TestConventionTableExact, TestConventionsLaw.
func Conventions(constant float64) []Convention {
	list := []Convention{
		{Name: "speed constant, by volt peak between lines", Unit: "rpm/V", Factor: 1, How: "1/K", Inverse: true},
		{Name: "speed constant, by volt rms between lines", Unit: "rpm/V", Factor: math.Sqrt2, How: "√2/K", Inverse: true},
		{Name: "voltage constant, peak between lines", Unit: "V·s", Factor: 1, How: "K"},
		{Name: "voltage constant, rms between lines", Unit: "V·s", Factor: 1 / math.Sqrt2, How: "K/√2"},
		{Name: "voltage constant, peak of a phase", Unit: "V·s", Factor: 1 / math.Sqrt(3), How: "K/√3"},
		{Name: "torque constant, dc: by ampere of the equivalent direct-current motor", Unit: "N·m/A", Factor: 1, How: "K"},
		{Name: "torque constant, peak: by ampere peak of a phase", Unit: "N·m/A", Factor: 1 / peakPerDC, How: "K·√3/2"},
		{Name: "torque constant, rms: by ampere rms of a phase", Unit: "N·m/A", Factor: 1 / rmsPerDC, How: "K·√(3/2)"},
	}
	for i := range list {
		c := &list[i]
		c.Value = c.Factor * constant
		if c.Inverse {
			c.Value = c.Factor / constant
		}
	}
	return list
}

// MotorQuality returns the motor constant over the root of the resistance between lines, in N·m/√W: the
// torque at which the winding loses one watt.
//
//	K_m = K/√R
//
//	K  motor constant, V·s
//	R  resistance between two lines, Ω
//
// Holds at the temperature of the resistance; turns and connection of the winding do not change it.
//
// Source: memory. Tests: TestMotorQualityExact.
func MotorQuality(constant, resistance float64) float64 { return constant / math.Sqrt(resistance) }

// Quality returns MotorQuality of the chain's motor, its winding at a temperature in K.
//
//	K_m = K/√[R·(1 + α·(t − t_ref))]
//
//	R, t_ref  resistance between two lines, Ω, and the temperature at which it holds, K
//	α         coefficient of copper, 1/K
//
// Holds as MotorQuality does.
//
// Source: memory. Tests: TestMotorQualityExact.
func (c *Chain) Quality(winding float64) float64 {
	return MotorQuality(c.constant, c.resistance*(1+c.alpha*(winding-c.motor.ResistanceTemperature)))
}
