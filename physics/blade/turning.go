package blade

import "math"

// CarterDeviation returns by how much the flow falls short of the trailing edge at the nominal
// incidence, in rad.
//
//	δ = m·θ·√(s/c),  m = 0.23·(2a/c)² + (κ₂ + δ)/500 (degrees)
//
//	θ    camber, rad
//	κ₂   blade angle at the trailing edge from the axis, rad
//	s/c  spacing over chord, -
//	a/c  place of the largest camber, 0.5 for a circular arc, -
//
// Holds for outlet angles of 0° to about 50°, s/c 0.5 to 1.5; pump tips at 60° to 75° are extrapolated.
// The outlet angle in m is itself the flow's, so δ is solved for, in closed form.
//
// Source: howell-1945, carter-1950, dixon-hall-2010, ex. 3.1. Tests: TestCarterDeviationPublished.
func CarterDeviation(camber, outletAngle, spacing, place float64) float64 {
	root := math.Sqrt(spacing) * camber
	return root * (0.23*4*place*place + outletAngle/degree/500) / (1 - root/degree/500)
}

// ConstantDeviation returns the deviation by the oldest of the rules, in rad.
//
//	δ = 0.26·θ·√(s/c)
//
//	θ    camber, rad
//	s/c  spacing over chord, -
//
// Holds roughly, at moderate stagger; shown beside the others only.
//
// Source: brennen-1994, eq. 3.19. Tests: TestConstantDeviationPublished.
func ConstantDeviation(camber, spacing float64) float64 { return 0.26 * camber * math.Sqrt(spacing) }

// HowellInletAngle returns the inlet flow angle from the axis, in rad, at which a cascade turns by
// its nominal deflection, four fifths of that at which it stalls.
//
//	tan β₁ = tan β₂ + 1.55/(1 + 1.5·s/c)
//
//	β₂   outlet flow angle from the axis, rad
//	s/c  spacing over chord, -
//
// Holds for β₂ of 0° to 40°; beyond it is extrapolated.
//
// Source: howell-1945. Tests: TestHowellPublished.
func HowellInletAngle(outletAngle, spacing float64) float64 {
	return math.Atan(math.Tan(outletAngle) + 1.55/(1+1.5*spacing))
}

// Lieblein is what Lieblein's correlation says of a section: incidence of least loss and deviation
// there, both in rad.
type Lieblein struct{ Incidence, Deviation float64 }

// LiebleinReference works out incidence of least loss and deviation at an inlet flow angle.
//
//	i* = K_sh·K_it·(i₀)₁₀ + n·θ,  δ* = K_sh·K_δt·(δ₀)₁₀ + m₁₀·θ/σ^b
//	(i₀)₁₀ = β₁^p/(5+46·e^(−2.3σ)) − 0.1·σ³·e^((β₁−70)/4),  p = 0.914 + σ³/160
//	n = 0.025σ − 0.06 − (β₁/90)^(1+1.2σ)/(1.5+0.43σ)
//	(δ₀)₁₀ = 0.01σβ₁ + (0.74σ^1.9+3σ)·(β₁/90)^(1.67+1.09σ)
//	K_it = (10t/c)^q, q = 0.28/(0.1+(t/c)^0.3),  K_δt = 6.25t/c + 37.5(t/c)²
//	m₁₀ = 0.17 − 0.0333x + 0.333x² (65-series), 0.249 + 0.074x − 0.132x² + 0.316x³ (arc),  x = β₁/100
//	b = 0.9625 − 0.17x − 0.85x³
//
//	β₁    inlet flow angle from the axis, degrees here, rad as given
//	θ     camber, rad
//	σ     solidity c/s, -
//	t/c   thickness over chord, -
//	K_sh  1 for the 65-series, 1.1 for C4, 0.7 for double arcs
//
// Holds for β₁ 0° to 70°, σ 0.4 to 2, t/c 0.03 to 0.14. Beyond 70° it is extrapolated.
//
// Source: lieblein-1960, aungier-2003. Tests: TestLiebleinPublished.
func LiebleinReference(inletAngle, camber, solidity, thickness, shape float64, arc bool) Lieblein {
	b1 := math.Abs(inletAngle) / degree
	s := solidity
	s3 := s * s * s
	i10 := math.Pow(b1, 0.914+s3/160)/(5+46*math.Exp(-2.3*s)) - 0.1*s3*math.Exp((b1-70)/4)
	slope := 0.025*s - 0.06 - math.Pow(b1/90, 1+1.2*s)/(1.5+0.43*s)
	kit := math.Pow(10*thickness, 0.28/(0.1+math.Pow(thickness, 0.3)))
	d10 := 0.01*s*b1 + (0.74*math.Pow(s, 1.9)+3*s)*math.Pow(b1/90, 1.67+1.09*s)
	kdt := 6.25*thickness + 37.5*thickness*thickness
	x := b1 / 100
	m := 0.17 - 0.0333*x + 0.333*x*x
	if arc {
		m = 0.249 + 0.074*x - 0.132*x*x + 0.316*x*x*x
	}
	b := 0.9625 - 0.17*x - 0.85*x*x*x
	return Lieblein{
		Incidence: shape*kit*i10*degree + slope*camber,
		Deviation: shape*kdt*d10*degree + m*camber/math.Pow(s, b),
	}
}

// DeviationSlope returns how the deviation grows with incidence near that of least loss, dimensionless.
//
//	dδ/di = [1 + (σ + 0.25σ⁴)·(β₁/53)^2.5]/e^(3.1σ)
//
//	β₁  inlet flow angle from the axis, degrees here, rad as given
//	σ   solidity, -
//
// Holds near the incidence of least loss. Recalled, confidence medium.
//
// Source: lieblein-1960, aungier-2003. Tests: TestDeviationSlopeExact.
func DeviationSlope(inletAngle, solidity float64) float64 {
	s2 := solidity * solidity
	return (1 + (solidity+0.25*s2*s2)*math.Pow(math.Abs(inletAngle)/degree/53, 2.5)) / math.Exp(3.1*solidity)
}

// DiffusionFactor returns the loading of a section, dimensionless.
//
//	D = 1 − w₂/w₁ + |Δw_θ|/(2σ·w₁)
//
//	w₁, w₂  relative velocities ahead and behind, m/s
//	Δw_θ    change of tangential velocity, m/s
//	σ       solidity, -
//
// Holds by definition; losses grow fast beyond about 0.6.
//
// Source: lieblein-1953, brennen-1994, eq. 3.20. Tests: TestDiffusionFactorPublished.
func DiffusionFactor(inlet, outlet, change, solidity float64) float64 {
	return 1 - outlet/inlet + math.Abs(change)/(2*solidity*inlet)
}

// EquivalentDiffusion returns the largest velocity on the blade over that behind it, dimensionless.
//
//	D_eq = (w₁/w₂)·[1.12 + k·|i − i*|^1.43 + 0.61·(cos²β₁/σ)·|Δ(r·w_θ)|/(r₁·v_m1)]
//
//	w₁/w₂   relative velocity ahead over behind, -
//	i − i*  incidence beyond that of least loss, degrees here, rad as given
//	k       0.0117 for the 65-series, 0.007 for C4 and arcs
//	σ       solidity, -
//	turning |Δ(r·w_θ)|/(r₁·v_m1), tan β₁ − tan β₂ in a plane cascade, -
//
// Holds for i above i*, in a plane cascade; that it grows alike below i* is our own.
//
// Source: lieblein-1959. Tests: TestEquivalentDiffusionPublished.
func EquivalentDiffusion(velocityRatio, inletCosine, turning, solidity, offIncidence, k float64) float64 {
	return velocityRatio * suction(inletCosine, turning, solidity, offIncidence, k)
}

// suction is the largest velocity on the blade over that ahead of it.
func suction(inletCosine, turning, solidity, offIncidence, k float64) float64 {
	d := math.Abs(offIncidence) / degree
	return 1.12 + k*math.Pow(d, 1.43) + 0.61*inletCosine*inletCosine/solidity*math.Abs(turning)
}

// WakeThickness returns the momentum thickness of the wake over the chord, dimensionless, of a smooth
// blade.
//
//	θ/c = 0.004/(1 − 1.17·ln(w_max/w₂))
//
//	w_max/w₂  largest velocity on the blade over that behind it, -
//
// Holds from 1 to 2, where separation begins. The formula has a pole at 2.35 that no blade has: from 2 on it goes
// straight on here, which is our own. A row of which sections beyond stallDiffusion carry stalledShare of the
// flow is called stalled and has no state.
//
// Source: lieblein-1959, dixon-hall-2010, ex. 3.4. Tests: TestWakeThicknessPublished.
func WakeThickness(diffusion float64) float64 {
	if diffusion > wakeEnd {
		return 0.004/(1-1.17*math.Log(wakeEnd)) + wakeSlope(wakeEnd)*(diffusion-wakeEnd)
	}
	return 0.004 / (1 - 1.17*math.Log(diffusion))
}

// wakeSlope is how the wake grows with the diffusion ratio.
func wakeSlope(diffusion float64) float64 {
	x := math.Min(diffusion, wakeEnd)
	d := 1 - 1.17*math.Log(x)
	return 0.004 * 1.17 / (x * d * d)
}

const (
	wakeEnd        = 2.0  // end of the range that the wake formula rests on
	stallDiffusion = 2.2  // equivalent diffusion ratio beyond which a section counts as stalled; own
	stalledShare   = 0.25 // share of the flow that stalled sections carry in a row that counts as stalled; own
)

// WakeLoss returns the loss of total pressure over the velocity head behind the row, dimensionless,
// of wakes mixed out.
//
//	ζ₂ = 2·(θ/c)·σ/cos β₂,  ω₁ = ζ₂·(cos β₁/cos β₂)²
//
//	θ/c  wake momentum thickness over chord, -
//	σ    solidity, -
//	β₂   outlet flow angle from the axis, rad
//
// Holds to leading order in θ/c. Referred to the velocity head ahead it is ω₁ at constant meridional velocity.
//
// Source: lieblein-1959. Tests: TestDragPublished.
func WakeLoss(thickness, solidity, outletCosine float64) float64 {
	return 2 * thickness * solidity / outletCosine
}

// DragFromLoss returns the drag coefficient on the vector-mean velocity, dimensionless.
//
//	C_D = ω₁·(s/c)·cos³β_m/cos²β₁,  tan β_m = (tan β₁ + tan β₂)/2
//
//	ω₁   loss of total pressure over the velocity head ahead, -
//	s/c  spacing over chord, -
//	β    flow angles from the axis, rad
//
// Holds by definition, at constant meridional velocity. Some books write C_D = 2(θ/c)·cos²β_m/cos²β₂,
// which differs from it by cos β_m/cos β₂.
//
// Source: dixon-hall-2010. Tests: TestDragPublished.
func DragFromLoss(loss, spacing, inletAngle, outletAngle float64) float64 {
	cm := math.Cos(MeanAngle(inletAngle, outletAngle))
	c1 := math.Cos(inletAngle)
	return loss * spacing * cm * cm * cm / (c1 * c1)
}

// MeanAngle returns the angle of the vector-mean velocity from the axis, in rad.
//
//	tan β_m = (tan β₁ + tan β₂)/2
//
// Holds at constant meridional velocity.
//
// Source: dixon-hall-2010. Tests: TestHowellPublished.
func MeanAngle(inletAngle, outletAngle float64) float64 {
	return math.Atan((math.Tan(inletAngle) + math.Tan(outletAngle)) / 2)
}

// LiftCoefficient returns the lift coefficient on the vector-mean velocity, dimensionless.
//
//	C_L = 2·(s/c)·cos β_m·(tan β₁ − tan β₂) − C_D·tan β_m
//
//	s/c  spacing over chord, -
//	C_D  drag coefficient, -
//
// Holds at constant meridional velocity.
//
// Source: dixon-hall-2010. Tests: TestHowellPublished.
func LiftCoefficient(spacing, inletAngle, outletAngle, drag float64) float64 {
	m := MeanAngle(inletAngle, outletAngle)
	return 2*spacing*math.Cos(m)*(math.Tan(inletAngle)-math.Tan(outletAngle)) - drag*math.Tan(m)
}
