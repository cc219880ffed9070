package jet

import "math"

// SuctionSpecificSpeed returns S, dimensionless.
//
//	S = Ω·√Q/(g·NPSH)^(3/4)
//
//	Ω     rotor speed, rad/s
//	Q     flow, m³/s
//	g     gravity, m/s²
//	NPSH  net positive suction head, m (positive)
//
// Holds by definition. Multiply by 52.92 for rpm, m³/s, m and by 2733 for rpm, US gpm, ft.
//
// Source: brennen-1994. Tests: TestSuctionSpecificSpeedPublished.
func SuctionSpecificSpeed(rotorSpeed, flow, gravity, npsh float64) float64 {
	return rotorSpeed * math.Sqrt(flow) / math.Pow(gravity*npsh, 0.75)
}

// SpecificSpeed returns the type number of the pump, dimensionless.
//
//	Ω_s = Ω·√Q/(g·H)^(3/4)
//
//	Ω  rotor speed, rad/s
//	Q  flow, m³/s
//	g  gravity, m/s²
//	H  head, m (positive)
//
// Holds by definition. Multiply by 52.92 for n_q in rpm, m³/s, m.
//
// Source: brennen-1994. Tests: TestSpecificSpeedPublished.
func SpecificSpeed(rotorSpeed, flow, gravity, head float64) float64 {
	return rotorSpeed * math.Sqrt(flow) / math.Pow(gravity*head, 0.75)
}

// OptimumEye returns for a suction specific speed and a blade cavitation number the inlet
// that reaches it: flow coefficient V_ax/U at the tip and tip radius in m.
//
//	S² = 3.4201·k/(σ_b·√(1+σ_b)),  φ² = σ_b/(2(1+σ_b)),  r³ = Q/(π·k·Ω·φ)
//
//	σ_b  blade cavitation number (p₁ − p_v)/(½ρw²), -
//	k    1 − (hub/tip)², -
//	Q    flow, m³/s
//	Ω    rotor speed, rad/s
//
// Holds for axial inflow without swirl; it is the optimum of one breakdown criterion, no promise.
//
// Source: dixon-hall-2010, ex. 7.2. Tests: TestOptimumEyePublished.
func OptimumEye(bladeCavitationNumber, hubRatio, flow, rotorSpeed float64) (flowCoefficient, tipRadius float64) {
	k := 1 - hubRatio*hubRatio
	flowCoefficient = math.Sqrt(bladeCavitationNumber / (2 * (1 + bladeCavitationNumber)))
	return flowCoefficient, math.Cbrt(flow / (math.Pi * k * rotorSpeed * flowCoefficient))
}

// BreakdownSuctionSpecificSpeed returns the largest suction specific speed that an inlet can
// have at a given blade cavitation number, dimensionless.
//
//	S² = (π/(0.75^1.5·√2))·k/(σ_b·√(1+σ_b))
//
//	σ_b  blade cavitation number at breakdown, 0.2 to 0.4 for usual blades, -
//	k    1 − (hub/tip)², -
//
// Holds for the optimum flow coefficient of OptimumEye.
//
// Source: dixon-hall-2010, ex. 7.2. Tests: TestOptimumEyePublished.
func BreakdownSuctionSpecificSpeed(bladeCavitationNumber, hubRatio float64) float64 {
	k := 1 - hubRatio*hubRatio
	c := math.Pi / (math.Pow(0.75, 1.5) * math.Sqrt2)
	return math.Sqrt(c * k / (bladeCavitationNumber * math.Sqrt(1+bladeCavitationNumber)))
}

// CavitationFactor returns what cavitation leaves of the head, dimensionless.
//
//	H/H₀ = exp(−0.03·(S/S₃)^m)
//
//	S   suction specific speed, -
//	S₃  suction specific speed at which the head is down 3 %, -   [Impeller.SuctionSpecificSpeed3]
//	m   exponent, -                                               [Impeller.CavitationExponent]
//
// Our own form: smooth and one-sided, 3 % at S₃ by the definition of NPSH3, breakdown beyond.
// It ignores the slight rise of head that some pumps show just before breakdown.
//
// Source: own. Tests: TestCavitationFactorExact, TestCavitationFactorLaw.
func CavitationFactor(s, s3, exponent float64) float64 {
	return math.Exp(-0.03 * math.Pow(s/s3, exponent))
}
