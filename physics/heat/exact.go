package heat

import "math"

// OneNode is a single heat capacity that loses heat to its surroundings and is heated by a loss that
// grows with its temperature.
type OneNode struct {
	Capacity     float64 // J/K
	Conductance  float64 // W/K
	Surroundings float64 // K
	Power        float64 // W at the reference temperature
	Alpha        float64 // 1/K
	Reference    float64 // K
}

// Growth returns the rate in 1/s at which a difference of temperature grows; below 0 it dies away.
//
//	b = (P·α − G)/C
//
//	P  power at the reference temperature, W
//	α  its growth, 1/K
//	G  conductance, W/K
//	C  heat capacity, J/K
//
// Holds for a loss linear in temperature. Above 0 the node runs away.
//
// Source: own. Tests: TestOneNodeExact.
func (n OneNode) Growth() float64 { return (n.Power*n.Alpha - n.Conductance) / n.Capacity }

// Rate returns the change of temperature in K/s at a temperature in K.
//
//	dT/dt = [P·(1 + α(T − T₀)) − G·(T − T_s)]/C
//
//	T₀   reference temperature, K
//	T_s  surroundings, K
//
// Holds for a loss linear in temperature.
//
// Source: incropera-2007. Tests: TestOneNodeExact.
func (n OneNode) Rate(temperature float64) float64 {
	return (n.Power*(1+n.Alpha*(temperature-n.Reference)) - n.Conductance*(temperature-n.Surroundings)) / n.Capacity
}

// At returns the temperature in K a time in s after a start in K.
//
//	T(t) = T(0) + dT/dt(0)·(e^(b·t) − 1)/b
//
//	b  growth, 1/s; for b → 0 a straight line
//
// Holds for any sign of b.
//
// Source: incropera-2007. Tests: TestOneNodeExact.
func (n OneNode) At(start, t float64) float64 {
	return start + n.Rate(start)*grown(n.Growth(), t)
}

// grown is (e^(bt) − 1)/b.
func grown(b, t float64) float64 {
	if b*t == 0 {
		return t
	}
	return math.Expm1(b*t) / b
}

// TimeTo returns the time in s from a start to a level, both in K; ok is false where it is never reached.
//
//	t = ln[1 + b·(T − T(0))/(dT/dt(0))]/b
//
// Holds for any sign of the growth b; with b above 0 it is the time that a runaway takes.
//
// Source: own. Tests: TestOneNodeExact.
func (n OneNode) TimeTo(start, level float64) (t float64, ok bool) {
	way, rate, b := level-start, n.Rate(start), n.Growth()
	if way == 0 {
		return 0, true
	}
	if rate == 0 || way/rate < 0 {
		return 0, false
	}
	x := b * way / rate
	if x <= -1 {
		return 0, false
	}
	if x == 0 {
		return way / rate, true
	}
	return math.Log1p(x) / b, true
}

// slopes are the derivatives of both rates by both temperatures at a current.
func (n TwoNode) slopes(current float64) (ww, wh, hw, hh float64) {
	g1, g2 := 1/n.WindingToHousing, 1/n.HousingToAmbient
	return (current*current*n.Resistance*n.Alpha - g1) / n.WindingCapacity, g1 / n.WindingCapacity, g1 / n.HousingCapacity, -(g1 + g2) / n.HousingCapacity
}

// Growths returns the two rates in 1/s at which differences of temperature grow at a current in A, the
// larger one first; where it is above 0 the winding runs away.
//
//	b = m ± √(m² − D),  m half the trace and D the determinant of d(dT/dt)/dT
//
// Holds for a copper loss linear in temperature.
//
// Source: own. Tests: TestTwoNodeExact.
func (n TwoNode) Growths(current float64) (fast, slow float64) {
	a, b, c, d := n.slopes(current)
	half := 0.5 * (a - d)
	root := math.Sqrt(half*half + b*c)
	return 0.5*(a+d) + root, 0.5*(a+d) - root
}

// At returns winding and housing temperatures in K a time in s after a start, at a steady current.
//
//	T(t) = T(0) + [g(b₁)·1 + (g(b₂) − g(b₁))/(b₂ − b₁)·(A − b₁·1)]·dT/dt(0)
//
//	A      derivatives of dT/dt by T, 1/s; b₁, b₂ its growths
//	g(b)   (e^(b·t) − 1)/b, s
//
// Holds for any growths.
//
// Source: own. Tests: TestTwoNodeExact, TestTwoNodeConvergedPublished.
func (n TwoNode) At(winding, housing, current, t float64) (float64, float64) {
	b1, b2 := n.Growths(current)
	g := grown(b1, t)
	between := (grown(b2, t) - g) / (b2 - b1)
	if b1 == b2 {
		between = t*math.Exp(b1*t)/b1 - g/b1
	}
	w, h := n.Step(winding, housing, current, 1)
	rw, rh := w-winding, h-housing
	a, b, c, d := n.slopes(current)
	return winding + g*rw + between*((a-b1)*rw+b*rh), housing + g*rh + between*(c*rw+(d-b1)*rh)
}
