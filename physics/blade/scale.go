package blade

import "math"

// StepUp returns by how much the efficiency of a pump rises from one Reynolds number to another, dimensionless.
//
//	Δη = δ·[(7e6/Re_M)^0.16 − (7e6/Re_P)^0.16],  δ = (1 − η_M)/[(7e6/Re_M)^0.16 + (1 − V)/V]
//
//	η_M         efficiency at Re_M, -
//	Re_M, Re_P  Reynolds numbers D·u/ν of model and prototype, -
//	V           share of the losses that scale: 0.7 radial, 0.8 axial machines
//
// Holds for geometrically similar smooth machines: gap and roughness do not scale in it.
//
// Source: iec-60193. Tests: TestStepUpPublished.
func StepUp(efficiency, model, prototype, scalable float64) float64 {
	m, p := math.Pow(7e6/model, 0.16), math.Pow(7e6/prototype, 0.16)
	return (1 - efficiency) / (m + (1-scalable)/scalable) * (m - p)
}

// CordierDiameter returns the specific diameter at which machines of a specific speed are best, dimensionless.
//
//	Ω_s = 9.0·D_s^(−2.103) for D_s ≤ 2.84,  3.25·D_s^(−1.126) above
//
//	Ω_s  Ω·√Q/(g·H)^0.75, -
//	D_s  D·(g·H)^0.25/√Q, -
//
// Holds as a band for fans and pumps; waterjet pumps lie left of it.
//
// Source: wright-gerhart-2010. Tests: TestCordierPublished.
func CordierDiameter(specificSpeed float64) float64 {
	if d := math.Pow(9.0/specificSpeed, 1/2.103); d <= 2.84 {
		return d
	}
	return math.Pow(3.25/specificSpeed, 1/1.126)
}

// CordierEfficiency returns the total efficiency that good machines reach on that line, dimensionless.
//
//	η = 0.149 + 0.625·D_s − 0.125·D_s² for D_s ≤ 2.5,  0.864 + 0.0031·D_s − 0.0000278·D_s² to 20
//
//	D_s  specific diameter, -
//
// Holds as CordierDiameter does.
//
// Source: wright-gerhart-2010. Tests: TestCordierPublished.
func CordierEfficiency(specificDiameter float64) float64 {
	if specificDiameter <= 2.5 {
		return 0.149 + 0.625*specificDiameter - 0.125*specificDiameter*specificDiameter
	}
	return 0.864 + 0.0031*specificDiameter - 0.0000278*specificDiameter*specificDiameter
}

// CordierSpeed returns the specific speed at which machines of a specific diameter are best, dimensionless.
//
//	Ω_s = 9.0·D_s^(−2.103) for D_s ≤ 2.84,  3.25·D_s^(−1.126) above
//
//	D_s  specific diameter, -
//
// Holds as CordierDiameter does, which it is the inverse of.
//
// Source: wright-gerhart-2010. Tests: TestCordierPublished.
func CordierSpeed(specificDiameter float64) float64 {
	if specificDiameter <= 2.84 {
		return 9.0 * math.Pow(specificDiameter, -2.103)
	}
	return 3.25 * math.Pow(specificDiameter, -1.126)
}
