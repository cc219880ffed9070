package strength

import "math"

// Stress is what a point of a part sees: alternating and mean, each by the distortion energy, Pa.
type Stress struct{ Alternating, Mean float64 }

// Strength is what it stands: amplitude for ever, breaking and yielding, Pa.
type Strength struct{ Fatigue, Tensile, Yield float64 }

// ShaftLoad is what a section of a shaft carries, with the factors of its notch.
type ShaftLoad struct {
	BendingAlternating, BendingMean float64 // moment, N·m
	TorqueAlternating, TorqueMean   float64 // N·m
	Axial                           float64 // mean force, N
	NotchBending, NotchTorsion      float64 // fatigue stress concentration, -; 1 for none
}

// Stress returns the alternating and the mean stress of a round shaft by the distortion energy, in Pa.
//
//	σ = 32·K_f·M/(π·d³) + 4·K_f·F/(π·d²),  τ = 16·K_fs·T/(π·d³)
//	σ′ = √(σ² + 3·τ²)
//
//	M, T, F    bending moment, torque, N·m, and axial force, N; once the alternating, once the mean ones: of the torque's swing
//	           [Shaft.TorqueRipple], of the force that stands still while the shaft turns, and of what turns with it
//	K_f, K_fs  fatigue stress concentration of the notch in bending and torsion, -   [Shaft.AftNotch]
//	d          diameter, m
//
// Holds for a solid, elastic shaft. Factors act on the mean as well, which is safe for a ductile one.
//
// Source: shigley-2008, eq. 7-3 to 7-6. Tests: TestShaftCriteriaPublished, TestShaftStressExact, TestCombinedStressPublished.
func (l *ShaftLoad) Stress(diameter float64) Stress {
	z := math.Pi * diameter * diameter * diameter / 32
	area := math.Pi * diameter * diameter / 4
	mises := func(moment, force, torque float64) float64 {
		s := l.NotchBending * (math.Abs(moment)/z + math.Abs(force)/area)
		t := l.NotchTorsion * torque / (2 * z)
		return math.Sqrt(s*s + 3*t*t)
	}
	return Stress{mises(l.BendingAlternating, 0, l.TorqueAlternating), mises(l.BendingMean, l.Axial, l.TorqueMean)}
}

// Goodman returns the safety factor against fatigue by the modified Goodman line, dimensionless.
//
//	1/n = σ_a/S_e + σ_m/S_ut
//
//	σ_a, σ_m   alternating and mean stress, Pa
//	S_e, S_ut  fatigue and tensile strength, Pa
//
// Holds for a mean stress that pulls; it lies on the safe side of most tests.
//
// Source: shigley-2008, eq. 7-7. Tests: TestShaftCriteriaPublished.
func (s Strength) Goodman(x Stress) float64 {
	return 1 / (x.Alternating/s.Fatigue + x.Mean/s.Tensile)
}

// Gerber returns the safety factor against fatigue by Gerber's parabola, dimensionless.
//
//	n·σ_a/S_e + (n·σ_m/S_ut)² = 1
//
//	σ_a, σ_m   alternating and mean stress, Pa
//	S_e, S_ut  fatigue and tensile strength, Pa
//
// Holds for ductile metals with a mean stress that pulls; it goes through the middle of tests.
//
// Source: shigley-2008, eq. 7-9. Tests: TestShaftCriteriaPublished, TestCriteriaLaw.
func (s Strength) Gerber(x Stress) float64 {
	a, m := x.Alternating/s.Fatigue, x.Mean/s.Tensile
	return 2 / (a + math.Sqrt(a*a+4*m*m))
}

// Elliptic returns the safety factor against fatigue by the ASME ellipse, dimensionless.
//
//	1/n² = (σ_a/S_e)² + (σ_m/S_y)²
//
//	σ_a, σ_m  alternating and mean stress, Pa
//	S_e, S_y  fatigue and yield strength, Pa
//
// Holds for ductile metals; it does not watch yielding between its ends.
//
// Source: shigley-2008, eq. 7-11. Tests: TestShaftCriteriaPublished.
func (s Strength) Elliptic(x Stress) float64 {
	return 1 / math.Hypot(x.Alternating/s.Fatigue, x.Mean/s.Yield)
}

// Soderberg returns the safety factor against fatigue and yielding by Soderberg's line, dimensionless.
//
//	1/n = σ_a/S_e + σ_m/S_y
//
//	σ_a, σ_m  alternating and mean stress, Pa
//	S_e, S_y  fatigue and yield strength, Pa
//
// Holds on the safe side of all others.
//
// Source: shigley-2008, eq. 7-13. Tests: TestShaftCriteriaPublished, TestCriteriaLaw.
func (s Strength) Soderberg(x Stress) float64 {
	return 1 / (x.Alternating/s.Fatigue + x.Mean/s.Yield)
}

// Equivalent returns the alternating stress about no mean that does as much by Goodman's line, in Pa.
//
//	σ = σ_a + σ_m·S_e/S_ut
//
//	σ_a, σ_m   alternating and mean stress, Pa
//	S_e, S_ut  fatigue and tensile strength, Pa
//
// Holds as Goodman's line does: the part lasts while it stays below S_e.
//
// Source: shigley-2008, eq. 7-7. Tests: TestCriteriaLaw.
func (s Strength) Equivalent(x Stress) float64 {
	return x.Alternating + x.Mean*s.Fatigue/s.Tensile
}

// surfaces are Shigley's factor and exponent of the surface, for a tensile strength in MPa (table 6-2; machined was seen, the
// others are recalled, high).
var surfaces = map[string][2]float64{
	"ground": {1.58, -0.085}, "machined": {4.51, -0.265}, "hot rolled": {57.7, -0.718},
}

// Endurance returns the fatigue strength of a shaft as made, in Pa.
//
//	S_e = k_a·k_b·S
//	k_a = a·(S_ut/MPa)^b,  k_b = (d/7.62 mm)^−0.107
//
//	S     fatigue strength of a plain, polished bar in its water, Pa   [Shaft.FatigueStrength]
//	S_ut  tensile strength, Pa                                         [Shaft.TensileStrength]
//	d     diameter, m
//	a, b  1.58, −0.085 ground; 4.51, −0.265 machined; 57.7, −0.718 hot rolled   [Shaft.Surface]
//
// Holds for steel, 2.8 to 51 mm, half of the specimens; goes on smoothly beyond.
//
// Source: shigley-2008, eq. 6-19, 6-20. Tests: TestEndurancePublished.
func Endurance(surface string, bar, tensile, diameter float64) float64 {
	f, ok := surfaces[surface]
	if !ok {
		f = surfaces["machined"]
	}
	return f[0] * math.Pow(tensile/mega, f[1]) * math.Pow(diameter/7.62e-3, -0.107) * bar
}
