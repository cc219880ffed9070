package jet

import "math"

// AttainableEfficiencyBulten returns the pump efficiency that good full-size waterjet pumps
// reach at a flow and type number, dimensionless.
//
//	η = 0.95 − 0.05/Q^(1/3) − 0.125·(log₁₀ Ω_s)²
//
//	Q    flow, m³/s
//	Ω_s  specific speed, -
//
// Holds for 0.1 to 10 m³/s; a board's 0.03 to 0.08 m³/s lies below and is extrapolated.
//
// Source: bulten-2006, eq. 2.26. Tests: TestAttainableEfficiencyPublished.
func AttainableEfficiencyBulten(flow, specificSpeed float64) float64 {
	l := math.Log10(specificSpeed)
	return 0.95 - 0.05/math.Cbrt(flow) - 0.125*l*l
}

// AttainableEfficiencyGuelich returns the pump efficiency that good mixed-flow and axial
// industrial pumps reach, dimensionless.
//
//	η = 1 − 0.095·(Q_ref/Q)^m − 0.09·(log₁₀(n_q/45))^2.5
//	m = 0.1·a·(Q_ref/Q)^0.15·(45/n_q)^0.06
//
//	Q      flow, m³/s
//	Q_ref  1 m³/s
//	n_q    52.92·Ω_s, rpm, m³/s, m
//	a      1 up to 1 m³/s, 0.5 above
//
// Holds for n_q above 45. Formula recalled, confidence medium; it differs from Bulten's by 2 to 6
// points: the two are a band, no target.
//
// Source: guelich-2010, table 3.9. Tests: TestAttainableEfficiencyPublished.
func AttainableEfficiencyGuelich(flow, specificSpeed float64) float64 {
	nq := 52.92 * specificSpeed
	a := 1.0
	if flow > 1 {
		a = 0.5
	}
	m := 0.1 * a * math.Pow(1/flow, 0.15) * math.Pow(45/nq, 0.06)
	l := math.Abs(math.Log10(nq / 45))
	return 1 - 0.095*math.Pow(1/flow, m) - 0.09*math.Pow(l, 2.5)
}

// StaticThrust returns the thrust at rest of a jet through a nozzle, in N.
//
//	T = (ρ·A)^(1/3)·(2·η·P/(1+K))^(2/3)
//
//	ρ  density, kg/m³
//	A  jet area, m²
//	η  pump efficiency, -
//	P  shaft power, W
//	K  all losses on the jet's velocity head, -
//
// Holds at rest, without cavitation.
//
// Source: ittc-waterjet-2005. Tests: TestStaticThrustPublished, TestStaticThrustLaw.
func StaticThrust(density, area, efficiency, power, loss float64) float64 {
	x := math.Cbrt(2 * efficiency * power / (1 + loss))
	return math.Cbrt(density*area) * x * x
}

// StaticEfficiency returns the share of a power that an ideal jet through the nozzle outlet
// would need for the thrust, dimensionless. It is defined at rest and under way alike.
//
//	η_s = T^1.5/(2·√(ρ·A₆)·P)
//
//	T   thrust, N (positive; a negative thrust gives a negative figure)
//	ρ   density, kg/m³
//	A₆  area of the nozzle outlet, m²
//	P   power at the place that is asked about, W (positive)
//
// Holds by definition.
//
// Source: ittc-waterjet-2005. Tests: TestStaticThrustLaw, TestStaticEfficiencyCommonPractice.
func StaticEfficiency(thrust, density, area, power float64) float64 {
	return thrust * math.Sqrt(math.Abs(thrust)) / (2 * math.Sqrt(density*area) * power)
}

// OptimumVelocityRatio returns the ratio of ingested to jet velocity at which the jet's
// efficiency is best, dimensionless.
//
//	μ = (a − √(a² − a·b))/b,  a = 1 + φ,  b = 1 − ε
//
//	φ  nozzle loss coefficient, -
//	ε  intake loss coefficient on the ingested velocity head, - (below 1)
//
// Holds for losses that go with the squares of jet and ingested velocity.
//
// Source: bulten-2006, eq. 2.62. Tests: TestOptimumVelocityRatioPublished.
func OptimumVelocityRatio(nozzleLoss, intakeLoss float64) float64 {
	a, b := 1+nozzleLoss, 1-intakeLoss
	return (a - math.Sqrt(a*a-a*b)) / b
}

// JetEfficiency returns thrust power over pump power at a velocity ratio, dimensionless.
//
//	η = 2μ(1 − μ)/[(1 + φ) − μ²(1 − ε)]
//
//	μ  ingested over jet velocity, -
//	φ  nozzle loss coefficient, -
//	ε  intake loss coefficient, -
//
// Holds at equal levels of hull and nozzle, without wake and thrust deduction.
//
// Source: bulten-2006, eq. 2.62. Tests: TestOptimumVelocityRatioPublished.
func JetEfficiency(velocityRatio, nozzleLoss, intakeLoss float64) float64 {
	return 2 * velocityRatio * (1 - velocityRatio) /
		((1 + nozzleLoss) - velocityRatio*velocityRatio*(1-intakeLoss))
}
