package strength

import "math"

// KeyStress returns shear and crushing stress of a parallel key, in Pa.
//
//	τ = 2·T/(d·b·l),  p = 4·T/(d·h·l)
//
//	T     torque, N·m
//	d     diameter of the shaft, m
//	b, h  width and height, m
//	l     length that carries, m     [Shaft.SeatLength]
//
// Holds for a key that lies half in the shaft and half in the hub. Crushing, and twice the shear, are held against the yield strength of
// the softest part by a factor of 2.5   [Shaft.KeyYield].
//
// Source: wentzell. Tests: TestKeyPublished.
func KeyStress(torque, diameter, width, height, length float64) (shear, crushing float64) {
	return 2 * torque / (diameter * width * length), 4 * torque / (diameter * height * length)
}

// FlatPressure returns the largest pressure on a flat that carries a torque, in Pa.
//
//	p = 12·T/(w²·l),  w = 2·√(t·(d − t))
//
//	T  torque, N·m
//	w  width of the flat, m
//	t  depth of the flat, m
//	d  diameter of the shaft, m
//	l  length that carries, m         [Shaft.SeatLength]
//
// Holds without friction for a hub that fits: the pressure grows straight from the flat's middle to the edge that
// is pressed, so that its resultant lies a third of the width from the middle.
//
// Source: own. Tests: TestFlatPressureExact.
func FlatPressure(torque, diameter, depth, length float64) float64 {
	w := 2 * math.Sqrt(depth*(diameter-depth))
	return 12 * torque / (w * w * length)
}

// sealSpeeds are the speeds of rubbing at which seals begin to burn, m/s. In oil nitrile lips stand some 12 to 14 and fluororubber
// twice or more (recalled, medium); splashed by water or greased, less: our own.
var sealSpeeds = map[string]float64{"nitrile lip": 8, "fluororubber lip": 15, "face": 20, "packing": 8}

// SealSpeed returns the speed in m/s at which a seal rubs on the shaft.
//
//	v = Ω·d/2
//
//	Ω  speed of the shaft, rad/s
//	d  diameter of the shaft, m    [Shaft.Seal]
//
// Holds by definition.
//
// Source: own. Tests: TestSealSpeedExact.
func SealSpeed(diameter, speed float64) float64 { return speed * diameter / 2 }
