package craft

import (
	"math"
)

// Coefficients of Mercier and Savitsky's regression at eleven volume Froude numbers, recalled with medium to high confidence.
var (
	preFroude = [...]float64{1.0, 1.1, 1.2, 1.3, 1.4, 1.5, 1.6, 1.7, 1.8, 1.9, 2.0}
	preTerms  = [...][11]float64{
		{.06473, .10776, .09483, .03475, .03013, .03163, .03194, .04343, .05036, .05612, .05967}, // 1
		{-.48680, -.88787, -.63720},                   // X
		{-.01030, -.01634, -.01540, -.00978, -.00664}, // U
		{-.06490, -.13444, -.13580, -.05097, -.05540, -.10543, -.08599, -.13289, -.15597, -.18661, -.19758},       // W
		{0, 0, -.16046, -.21880, -.19359, -.20540, -.19442, -.18062, -.17813, -.18288, -.20152},                   // X·Z
		{.10628, .18186, .16803, .10434, .09612, .06007, .06191, .05487, .05099, .04744, .04645},                  // X·U
		{.97310, 1.83080, 1.55972, .43510, .51820, .58230, .52049, .78195, .92859, 1.18569, 1.30026},              // X·W
		{-.00272, -.00389, -.00309, -.00198, -.00215, -.00372, -.00360, -.00332, -.00308, -.00244, -.00212},       // Z·U
		{.01089, .01467, .03481, .04113, .03901, .04794, .04436, .04187, .04111, .04124, .04343},                  // Z·W
		{0, 0, 0, 0, 0, .08317, .07366, .12147, .14928, .18090, .19769},                                           // W²
		{-1.40962, -2.46696, -2.15556, -.92663, -.95276, -.70895, -.72057, -.95929, -1.12178, -1.38644, -1.55127}, // X·W²
		{.29136, .47305, 1.02992, 1.06392, .97757, 1.19737, 1.18119, 1.01562, .93144, .78414, .78282},             // Z·X²
		{.02971, .05877, .05198, .02209, .02413},                                                                  // U·W²
		{-.00150, -.00356, -.00303, -.00105, -.00140},                                                             // W·U²
	}
)

// Form is the form of a hull as the regression of the pre-planing range takes it.
type Form struct {
	X float64 // ∇^⅓ over the length of the waterline
	Z float64 // ∇ over the cube of the chine beam
	U float64 // root of the whole entrance angle in degrees
	W float64 // area of the transom over the greatest section's
}

// PrePlaning returns the drag over the weight of a hull of 100,000 lb at one of eleven volume Froude numbers, dimensionless.
//
//	R/Δ = A₁ + A₂X + A₄U + A₅W + A₆XZ + A₇XU + A₈XW + A₉ZU + A₁₀ZW + A₁₅W² + A₁₈XW² + A₁₉ZX² + A₂₄UW² + A₂₇WU²
//
//	X  ∇^⅓/L;  Z  ∇/b³;  U  √(2·i_E), i_E half the entrance angle in degrees;  W  A_T/A_X
//	A  fourteen coefficients for each volume Froude number 1.0, 1.1 … 2.0
//
// Regression on seven series of hulls: i_E 3.7° to 28.6°, L/b 2.52 to 18.26, W 0 to 1. A blunt board lies
// outside: there Hull.At goes over to a curve of its own, widens its band and says so. The coefficients are recalled, not read.
//
// Source: mercier-savitsky-1973. Tests: TestPrePlaningPublished.
func PrePlaning(i int, f Form) float64 {
	terms := [...]float64{
		1, f.X, f.U, f.W, f.X * f.Z, f.X * f.U, f.X * f.W, f.Z * f.U, f.Z * f.W, f.W * f.W, f.X * f.W * f.W, f.Z * f.X * f.X, f.U * f.W * f.W, f.W * f.U * f.U,
	}
	r := 0.0
	for k, t := range terms {
		r += preTerms[k][i] * t
	}
	return r
}

// WettedSurface returns the wetted surface of a hull at rest over ∇^⅔, dimensionless.
//
//	S/∇^⅔ = 2.262·√(L/∇^⅓)·[1 + 0.046·B/T + 0.00287·(B/T)²]
//
//	L    length of the waterline, m;  ∇ volume, m³
//	B/T  beam over draft, -
//
// Holds for B/T 1.7 to 9.8; a flat board has more, and its band is wider for it.
//
// Source: mercier-savitsky-1973. Tests: TestWettedSurfaceExact.
func WettedSurface(slenderness, beamOverDraft float64) float64 {
	return 2.262 * math.Sqrt(slenderness) * (1 + 0.046*beamOverDraft + 0.00287*beamOverDraft*beamOverDraft)
}

// The hull that the regression holds for: 100,000 lb in sea water of 64 lb/ft³ and 59 °F.
const (
	regressionVolume    = 100000.0 / 64 * 0.028316846592 // m³
	regressionViscosity = 1.2817e-5 * 0.09290304         // m²/s
	regressionGravity   = 9.80665
)

// bluntForm is the drag over the weight of a blunt board, which the regression knows nothing of: about what it gives for boards
// at the edge of its range (lengths of 3 beams, transom as wide as the bottom). Our own; the band of such a form is wide for it.
var bluntForm = [...]float64{.068, .105, .135, .142, .148, .146, .145, .146, .146, .146, .146}

// residuary is what a drag over the weight of the regression's hull leaves beside friction, at one of the eleven volume Froude numbers.
func residuary(i int, drag float64, f Form, surface float64) float64 {
	root := math.Cbrt(regressionVolume)
	speed := preFroude[i] * math.Sqrt(regressionGravity*root)
	cf := FrictionSchoenherr(speed * root / f.X / regressionViscosity)
	return drag - cf*0.5*surface*preFroude[i]*preFroude[i]
}
