package craft

import "math"

// FrictionITTC returns the friction coefficient of the ITTC's line of 1957, dimensionless.
//
//	C_F = 0.075/(log₁₀ Re − 2)²
//
//	Re  Reynolds number on the wetted length, -
//
// A correlation line for turbulent flow, Re 1e5 to 1e10; no law of a flat plate. Below Re 1e4, where a craft hardly
// moves, the laminar plate's 1.328/√Re is taken.
//
// Source: ittc-1957. Tests: TestFrictionLinePublished, TestFrictionLaw.
func FrictionITTC(re float64) float64 {
	if re < laminar {
		return 1.328 / math.Sqrt(re)
	}
	l := math.Log10(re) - 2
	return 0.075 / (l * l)
}

// laminar is the Reynolds number below which a wetted bottom is taken as laminar.
const laminar = 1e4

// FrictionSchoenherr returns the friction coefficient of Schoenherr's line, dimensionless.
//
//	0.242/√C_F = log₁₀(Re·C_F)
//
//	Re  Reynolds number on the wetted length, -
//
// A smooth plate, turbulent, Re 1e5 to 1e10; below Re 1e4 as FrictionITTC.
//
// Source: savitsky-1964. Tests: TestFrictionSchoenherrExact, TestFrictionLaw.
func FrictionSchoenherr(re float64) float64 {
	if re < laminar {
		return 1.328 / math.Sqrt(re)
	}
	c := FrictionITTC(re)
	for range 8 { // Newton in y = 1/√C: 0.242·y = log₁₀ Re − 2·log₁₀ y
		y := 1 / math.Sqrt(c)
		f := 0.242*y - math.Log10(re) + 2*math.Log10(y)
		next := y - f/(0.242+2/(math.Ln10*y))
		c = 1 / (next * next)
		if math.Abs(next-y) < 1e-14*y {
			break
		}
	}
	return c
}

// FrictionPlate returns the friction coefficient of a smooth plate with transition, dimensionless.
//
//	C_F = 0.455/(log₁₀ Re)^2.58 − 1610/Re
//
//	Re  Reynolds number on the length, -
//
// Prandtl and Schlichting, transition near Re 5e5; Re 5e5 to 1e9. Below 5e5 the laminar plate's 1.328/√Re is taken, which
// it meets within 1 %.
//
// Source: fox-mcdonald. Tests: TestTankerPublished, TestFrictionLaw.
func FrictionPlate(re float64) float64 {
	if re < 5e5 {
		return 1.328 / math.Sqrt(re)
	}
	return 0.455/math.Pow(math.Log10(re), 2.58) - 1610/re
}

// FrictionRough returns the friction coefficient of a fully rough plate, dimensionless.
//
//	C_F = (1.89 + 1.62·log₁₀(L/k))^(−2.5)
//
//	L/k  length over grains of sand, -
//
// Holds for L/k 1e2 to 1e6.
//
// Source: memory. Tests: TestFrictionLaw.
func FrictionRough(ratio float64) float64 {
	return math.Pow(1.89+1.62*math.Log10(ratio), -2.5)
}

// Friction returns the friction coefficient of a bottom with its roughness, dimensionless.
//
//	C_F = (C_smooth⁸ + C_rough⁸)^(1/8)
//
//	C_smooth  by the line chosen, at Re                 [Craft.FrictionLine]
//	C_rough   FrictionRough of length over roughness    [Craft.Roughness]
//
// Our own join of two plates: the larger of both, rounded where they meet. The hump of grains of one size in between, which
// real surfaces do not show, is left out.
//
// Source: own, memory. Tests: TestFrictionLaw.
func (h *Hull) Friction(re, length float64) float64 {
	c := h.smooth(re)
	if h.roughness <= 0 {
		return c
	}
	r := FrictionRough(math.Max(length/h.roughness, 1)) / c // what is rougher than long is no plate any more
	r *= r
	r *= r
	r *= r
	return c * math.Pow(1+r, 0.125)
}
