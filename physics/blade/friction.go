package blade

import "math"

// PlateFriction returns the friction coefficient of a plate wetted on one side, turbulent from its leading
// edge, dimensionless.
//
//	smooth:  C_s = 0.455/(log₁₀ Re)^2.58
//	rough:   C_r = (1.89 + 1.62·log₁₀(l/k))^(−2.5)
//	C = (C_s^8 + C_r^8)^(1/8)
//
//	Re  Reynolds number on the length, -
//	l   length, m
//	k   equivalent sand roughness, m
//
// The two ends hold for Re 1e5 to 1e9 and l/k 100 to 1e6. That the larger of the two counts is the usual
// rule; the eighth power that smooths the corner is our own and adds up to 9 % there.
//
// Source: prandtl-schlichting-1934. Tests: TestPlateFrictionPublished, TestPlateFrictionLaw.
func PlateFriction(reynolds, length, roughness float64) float64 {
	s := SmoothPlateFriction(reynolds)
	if roughness <= 0 {
		return s
	}
	r := math.Pow(1.89+1.62*math.Log10(length/roughness), -2.5) / s
	r2 := r * r
	r4 := r2 * r2
	return s * math.Sqrt(math.Sqrt(math.Sqrt(1+r4*r4)))
}

// SmoothPlateFriction returns the friction coefficient of a smooth plate, dimensionless.
//
//	C = 0.455/(log₁₀ Re)^2.58;  1.328/√Re below Re = 12000, where the two meet
//
//	Re  Reynolds number on the length, -
//
// Holds for turbulent flow from the leading edge on, Re 1e5 to 1e9, and laminar below 12000. Between them a blade may be
// laminar for a stretch, which is left out.
//
// Source: prandtl-schlichting-1934. Tests: TestPlateFrictionPublished.
func SmoothPlateFriction(reynolds float64) float64 {
	if reynolds < 12000 {
		return 1.328 / math.Sqrt(reynolds)
	}
	return 0.455 * math.Pow(math.Log10(reynolds), -2.58)
}

// AdmissibleRoughness returns the roughness up to which a plate is as good as smooth, in m.
//
//	k = 100·ν/w
//
//	ν  kinematic viscosity, m²/s
//	w  velocity, m/s
//
// Holds for turbulent plates and blades.
//
// Source: prandtl-schlichting-1934. Tests: TestAdmissibleRoughnessExact.
func AdmissibleRoughness(viscosity, velocity float64) float64 { return 100 * viscosity / velocity }

// referenceReynolds is the Reynolds number on the chord of the cascade tests behind WakeThickness.
const referenceReynolds = 3e5

// EdgeLoss returns what a blunt trailing edge adds to the loss, over the velocity head behind the row,
// dimensionless.
//
//	ζ₂ = −C_pb·t/w + [(δ + t)² − δ²]/w²,  w = s·cos β₂
//
//	t     thickness of the trailing edge, m
//	w     width of the stream between two edges, m
//	δ     displacement thickness of the wake, m
//	C_pb  −0.15, base pressure
//
// Holds for edges thin against the spacing; recalled, confidence high for the form, medium for C_pb.
//
// Source: denton-1993. Tests: TestEdgeLossExact.
func EdgeLoss(edge, width, displacement float64) float64 {
	t, d := edge/width, displacement/width
	return 0.15*t + t*(2*d+t)
}

// NoseLoss returns what a blunt leading edge adds to the loss, over the velocity head ahead, dimensionless.
//
//	ω = 0.02·2R·σ/(c·cos β₁)
//
//	R   radius of the leading edge, m
//	c   chord, m
//	σ   solidity, -
//	β₁  inlet flow angle from the axis, rad
//
// Our own: a drag of 0.02 on the nose's frontal area, for the separation bubble behind a round nose.
//
// Source: own. Tests: TestNoseLossExact.
func NoseLoss(radius, chord, solidity, inletCosine float64) float64 {
	return 0.02 * 2 * radius / chord * solidity / inletCosine
}

// WallPower returns the power lost on a wall of the annulus over the length of a row, in W.
//
//	P = C·½ρ·V³·A,  A = 2π·r·c·cos ξ,  C = 0.020/(2·cos 45°) = 0.01414
//
//	V  velocity past the wall, m/s: relative on the turning hub, absolute elsewhere
//	r  radius of the wall, m
//	c  chord there, m
//	ξ  stagger from the axis, rad
//
// Howell's drag for annulus walls, C_Da = 0.020·s/h, put on the two walls of his cascades at a stagger of
// about 45°, so that it follows the walls' own area and velocity where a pump's stagger is 70°; that, and
// that it grows with roughness as the blades' friction does, is our own.
//
// Source: howell-1945, own. Tests: TestEndwallPublished.
func WallPower(density, velocity, radius, chord, staggerCosine float64) float64 {
	return 0.020 / math.Sqrt2 * 0.5 * density * math.Abs(velocity*velocity*velocity) * 2 * math.Pi * radius * chord * staggerCosine
}

// SecondaryDrag returns the drag coefficient for secondary flow, dimensionless.
//
//	C_Ds = 0.018·C_L²
//
//	C_L  lift coefficient on the vector-mean velocity, -
//
// Holds for compressor rows at moderate loading.
//
// Source: howell-1945. Tests: TestEndwallPublished.
func SecondaryDrag(lift float64) float64 { return 0.018 * lift * lift }

// Gap is what the gap at the blade tips does.
type Gap struct {
	Flow  float64 `unit:"kg/s" doc:"mass flow over the tips of all blades"`
	Power float64 `unit:"W" doc:"power lost as it mixes in"`
}

// TipLeak works out the flow over unshrouded blade tips and what it loses as it mixes in.
//
//	Δw = s·|Δw_θ|/c,  ṁ = Z·C_d·ρ·g·c·√(2·w_m·Δw),  P = ṁ·(w_m + Δw/2)·Δw
//
//	Z     blades, -
//	C_d   0.8, discharge
//	g     gap, m
//	c, s  chord and spacing at the tip, m
//	w_m   mean relative velocity at the tip, m/s
//	Δw_θ  change of tangential velocity at the tip, m/s
//
// The velocities on both sides of the blade are taken as w_m ± Δw/2 over the whole chord. Holds for gaps of
// 0.5 % to some 4 % of the height.
//
// Source: denton-1993. Tests: TestTipLeakCommonPractice, TestTipLeakExact.
func TipLeak(blades int, density, gap, chord, spacing, mean, change float64) Gap {
	d := spacing * math.Abs(change) / chord
	flow := float64(blades) * 0.8 * density * gap * chord * math.Sqrt(2*mean*d)
	return Gap{Flow: flow, Power: flow * (mean + d/2) * d}
}

// DiscFriction returns the power that the two faces of a disc lose in a housing, in W.
//
//	P = ½·C_m·ρ·Ω³·r⁵,  C_m = 0.102·(s/r)^0.1·Re^(−0.2),  Re = Ω·r²/ν
//
//	r  radius, m
//	s  axial gap beside the disc, m
//	Ω  speed, rad/s
//	ν  kinematic viscosity, m²/s
//
// Holds for turbulent flow with separate boundary layers, Re above about 3e5; recalled, confidence high.
//
// Source: daily-nece-1960. Tests: TestDiscFrictionExact.
func DiscFriction(density, viscosity, speed, radius, gap float64) float64 {
	w := math.Abs(speed)
	re := w * radius * radius / viscosity
	return 0.5 * 0.102 * math.Pow(gap/radius, 0.1) * math.Pow(re, -0.2) * density * w * w * w * math.Pow(radius, 5)
}

// TipLandFriction returns the power that the blade tips lose by shear in their gap, in W.
//
//	P = Z·t·c·½ρ·U³·C_f,  C_f = 0.455/(log₁₀ Re)^2.58,  Re = U·c/ν
//
//	t, c  thickness and chord at the tip, m
//	U     tip speed, m/s
//
// Our own: the friction of a plate on the tips' faces.
//
// Source: own, prandtl-schlichting-1934. Tests: TestDiscFrictionExact.
func TipLandFriction(blades int, density, viscosity, speed, chord, thickness float64) float64 {
	u := math.Abs(speed)
	return float64(blades) * thickness * chord * 0.5 * density * u * u * u * SmoothPlateFriction(u*chord/viscosity)
}
