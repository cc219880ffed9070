package heat

import "math"

// InfraredReading returns what an infrared thermometer shows of a surface, in K.
//
//	shown⁴ = [ε·T⁴ + (1 − ε)·T_s⁴ − (1 − ε_set)·T_s⁴]/ε_set
//
//	ε      emissivity of the surface (bare aluminium 0.05 to 0.3, matt tape 0.95), -
//	T      temperature of the surface, K
//	T_s    temperature of what is reflected, K
//	ε_set  emissivity that the instrument is set to, -
//
// Holds for total radiation; an instrument that sees 8 to 14 µm shows a few kelvin less on hot,
// bright metal. Physical where the right side is positive.
//
// Source: incropera-2007. Tests: TestInfraredReadingPublished, TestInfraredLaw.
func InfraredReading(surface, surroundings, emissivity, setting float64) float64 {
	s := math.Pow(surroundings, 4)
	return math.Pow((emissivity*math.Pow(surface, 4)+(setting-emissivity)*s)/setting, 0.25)
}

// SurfaceFromInfrared returns the temperature of a surface in K from what was shown; ok is false
// where no surface could have shown it.
//
//	T⁴ = [ε_set·shown⁴ − (ε_set − ε)·T_s⁴]/ε
//
//	ε, ε_set, T_s  as in InfraredReading
//
// Holds as InfraredReading does. At a low emissivity it magnifies every error of the reading by 1/ε.
//
// Source: incropera-2007. Tests: TestInfraredLaw.
func SurfaceFromInfrared(shown, surroundings, emissivity, setting float64) (temperature float64, ok bool) {
	x := (setting*math.Pow(shown, 4) - (setting-emissivity)*math.Pow(surroundings, 4)) / emissivity
	if x <= 0 {
		return 0, false
	}
	return math.Pow(x, 0.25), true
}
