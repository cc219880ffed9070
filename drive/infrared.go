package drive

import "jetwright/physics/heat"

// What an infrared thermometer meets on a motor as it is: bare aluminium, and the setting that such
// instruments come with.
const (
	bareAluminium   = 0.2
	infraredSetting = 0.95
)

// BareSurface returns the temperature in K that a surface of bare aluminium may have where an
// infrared thermometer shows one, with what it reflects at the temperature of the
// surroundings, K; ok is false where no surface could have shown it.
//
//	T⁴ = [ε_set·shown⁴ − (ε_set − ε)·T_s⁴]/ε,  ε = 0.2,  ε_set = 0.95
//
//	shown  what the instrument shows, K
//	T_s    temperature of the surroundings, K
//
// Holds for total radiation; every kelvin of the reading's error becomes about five.
//
// Source: incropera-2007. Tests: TestBareSurfacePublished.
func BareSurface(shown, surroundings float64) (temperature float64, ok bool) {
	return heat.SurfaceFromInfrared(shown, surroundings, bareAluminium, infraredSetting)
}
