package electric

import "math"

// copperResistivity is that of annealed copper at 20 °C, Ω·m: a standard of 100 % conductivity.
const copperResistivity = 1.7241e-8

// CopperRatio returns the resistance of copper at a temperature over that at another, both in K,
// by the constant of the older rating practice, dimensionless.
//
//	R₂/R₁ = (234.5 °C + t₂)/(234.5 °C + t₁)
//
//	t₁, t₂  temperatures, °C
//
// Holds for copper between −40 and 200 °C. It agrees with CopperAlpha to 1e-4, since
// 1/(234.5 + 20) = 0.003929; rating standards write 235.
//
// Source: memory. Tests: TestCopperBothStandardsPublished.
func CopperRatio(from, to float64) float64 {
	const zero = 234.5 - zeroCelsius
	return (zero + to) / (zero + from)
}

// SkinDepth returns how deep a current of a frequency in Hz reaches into copper of a temperature in
// K, in m.
//
//	δ = √[ρ/(π·f·µ₀)],  ρ = 1.7241e-8 Ω·m·[1 + α₂₀·(t − 20 °C)]
//
//	f  electrical frequency, pole pairs times revolutions a second, Hz
//	t  temperature, K
//
// Holds for a conductor that is thick against δ.
//
// Source: iec-60028, memory. Tests: TestSkinPublished.
func SkinDepth(frequency, temperature float64) float64 {
	rho := copperResistivity * (1 + annealedCopper*(temperature-copperZero))
	return math.Sqrt(rho / (math.Pi * frequency * vacuumPermeability))
}

// SkinFactor returns the resistance of a single round wire over that with direct current, from its
// diameter and the skin depth in m, dimensionless.
//
//	R/R_0 = 1 + (d/δ)⁴/768
//
//	d  diameter of the wire, m
//	δ  skin depth, m
//
// Holds to 1 % up to d = 2·δ; above it is too high. Wires side by side in a slot lose more by each
// other's field (proximity), by ten times and more with many layers: Motor.ACFactor takes in all
// of it, as an assumption.
//
// Source: memory. Tests: TestSkinExact.
func SkinFactor(diameter, depth float64) float64 {
	x := diameter / depth
	return 1 + x*x*x*x/768
}

// SkinStrand returns the diameter in m of a round strand whose resistance a frequency in Hz raises by a share, at a temperature in K.
//
//	d = δ·(768·s)^(1/4)
//
//	δ  SkinDepth, m
//	s  share, small against 1
//
// Holds as SkinFactor does, whose inverse it is.
//
// Source: memory. Tests: TestSkinExact.
func SkinStrand(frequency, temperature, share float64) float64 {
	return SkinDepth(frequency, temperature) * math.Sqrt(math.Sqrt(768*share))
}
