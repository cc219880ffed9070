package blade

import "math"

// MaxRadii is the largest number of stream surfaces that a stage is worked out on.
const MaxRadii = 25

// Profile holds one number on each stream surface, hub first.
type Profile [MaxRadii]float64

// Station is the water at one place along the axis, on every stream surface. Energies are per kg.
type Station struct {
	Radius     Profile // m
	Meridional Profile // m/s
	Tangential Profile // m/s, positive the way a positive rotor speed turns
	Total      Profile // total pressure over density, J/kg, over that far ahead of the impeller
	cosine     Profile // of the slope of the stream surface
	bend       Profile // sin λ·cos λ·A′/A, 1/m
}

// place is the channel at one position along the axis.
type place struct {
	hub, tip           float64 // m
	hubSlope, tipSlope float64 // dr/dx
	growth             float64 // (dA/dx)/A, 1/m
}

// slopeAt works out slope terms of a stream surface at a radius.
func (p *place) slopeAt(r float64) (cosine, bend float64) {
	if p.hubSlope == 0 && p.tipSlope == 0 {
		return 1, 0
	}
	t := p.hubSlope + (p.tipSlope-p.hubSlope)*(r-p.hub)/(p.tip-p.hub)
	c2 := 1 / (1 + t*t)
	return math.Sqrt(c2), t * c2 * p.growth
}

// CentrifugalRise returns the rise of pressure over density between two radii that the swirl holds, in J/kg.
//
//	∫ v_θ²/r dr with v_θ = a/r + b·r:  ½a²(1/r₁² − 1/r₂²) + 2ab·ln(r₂/r₁) + ½b²(r₂² − r₁²)
//
//	r₁, r₂  radii, m
//	v_θ     tangential velocities there, m/s, which settle a and b
//
// Exact for free vortex, forced vortex and their sums.
//
// Source: brennen-1994. Tests: TestCentrifugalRiseExact.
func CentrifugalRise(inner, outer, innerSwirl, outerSwirl float64) float64 {
	c11, c12, c22 := riseForm(inner, outer)
	return c11*innerSwirl*innerSwirl + 2*c12*innerSwirl*outerSwirl + c22*outerSwirl*outerSwirl
}

// riseForm returns CentrifugalRise as a quadratic form of the two tangential velocities.
func riseForm(r1, r2 float64) (c11, c12, c22 float64) {
	q1, q2 := r1*r1, r2*r2
	d := q2 - q1
	e, l, b := d/(2*q1*q2), math.Log1p(d/q1), d/2 // l = 2·ln(r₂/r₁)
	a1, a2, b1, b2 := q2/d, -q1/d, -1/d, 1/d
	c11 = q1 * (e*a1*a1 + l*a1*b1 + b*b1*b1)
	c22 = q2 * (e*a2*a2 + l*a2*b2 + b*b2*b2)
	c12 = r1 * r2 * (e*a1*a2 + l*(a1*b2+a2*b1)/2 + b*b1*b2)
	return
}

// balance is what the radial equilibrium behind a row needs to know of it on each stream surface:
//
//	v_θ = swirl + lean·v_m,  p/ρ = energy + work·v_θ + gain·v_m − ½v_m² − ½v_θ²
//
// gain is how the loss falls with the meridional velocity, which speeds up the search.
type balance struct {
	swirl, lean  Profile // m/s, -
	energy, work Profile // J/kg, m/s
	gain         Profile // m/s
}

// solveRadial finds the meridional velocities behind a row that hold the radial equilibrium
//
//	(1/ρ)dp/dr = v_θ²/r + v_m²·sin λ·cos λ·A′/A
//
// and pass the flow, with the stream surfaces where s.Radius has them; then it moves the surfaces to
// where each pair of neighbours passes its share. It returns by how much velocities and radii moved.
func solveRadial(s *Station, n int, b *balance, p *place, flow float64) (moved float64, reason Reason) {
	var c11, c12, c22, dr Profile
	for j := range n - 1 {
		c11[j], c12[j], c22[j] = riseForm(s.Radius[j], s.Radius[j+1])
		dr[j] = s.Radius[j+1] - s.Radius[j]
	}
	for j := range n {
		s.cosine[j], s.bend[j] = p.slopeAt(s.Radius[j])
	}
	mid := n / 2
	var v, dv Profile
	// march returns flow and slope for a velocity at mid span
	march := func(x float64) (q, dq float64, reason Reason) {
		v[mid], dv[mid] = x, 1
		for j := mid; j < n-1; j++ { // outward: find j+1
			k := j + 1
			t := b.swirl[j] + b.lean[j]*v[j]
			known := b.energy[j] + b.work[j]*t + b.gain[j]*v[j] - v[j]*v[j]/2 - t*t/2 + c11[j]*t*t + s.bend[j]*v[j]*v[j]*dr[j]/2
			dknown := (b.work[j]-t+2*c11[j]*t)*b.lean[j] + b.gain[j] - v[j] + s.bend[j]*v[j]*dr[j]
			if v[k], dv[k], reason = step(b, k, known, dknown, 2*c12[j]*t, 2*c12[j]*b.lean[j], -c22[j], -s.bend[k]*dr[j]/2, 1, dv[j]); reason != Solved {
				return 0, 0, TipBackflow
			}
		}
		for k := mid - 1; k >= 0; k-- { // inward: find k
			j := k + 1
			t := b.swirl[j] + b.lean[j]*v[j]
			known := b.energy[j] + b.work[j]*t + b.gain[j]*v[j] - v[j]*v[j]/2 - t*t/2 - c22[k]*t*t - s.bend[j]*v[j]*v[j]*dr[k]/2
			dknown := (b.work[j]-t-2*c22[k]*t)*b.lean[j] + b.gain[j] - v[j] - s.bend[j]*v[j]*dr[k]
			if v[k], dv[k], reason = step(b, k, known, dknown, 2*c12[k]*t, 2*c12[k]*b.lean[j], c11[k], s.bend[k]*dr[k]/2, -1, dv[j]); reason != Solved {
				return 0, 0, HubBackflow
			}
		}
		for j := range n - 1 {
			a := math.Pi / 2 * (s.Radius[j+1]*s.Radius[j+1] - s.Radius[j]*s.Radius[j])
			q += a * (v[j]*s.cosine[j] + v[j+1]*s.cosine[j+1])
			dq += a * (dv[j]*s.cosine[j] + dv[j+1]*s.cosine[j+1])
		}
		return q, dq, Solved
	}
	low, high := 0.0, math.Inf(1)
	x := s.Meridional[mid]
	var why Reason
	settled := false
	for range 60 {
		q, dq, r := march(x)
		next := 0.0
		if r != Solved {
			low, why = x, r
			next = 2 * x
		} else {
			if q < flow {
				low, why = x, Solved
			} else {
				high = x
			}
			next = x - (q-flow)/dq
			if math.Abs(next-x) < 1e-15*x || math.Abs(q-flow) < 1e-14*flow {
				settled = true
				break
			}
		}
		if !(next > low && next < high) {
			if math.IsInf(high, 1) {
				next = 2 * x
			} else {
				next = (low + high) / 2
			}
		}
		if high-low < 1e-13*high {
			settled = r == Solved && why == Solved
			break
		}
		x = next
	}
	if !settled {
		if why == Solved {
			why = NotConverged
		}
		return 0, why
	}
	for j := range n {
		moved = math.Max(moved, math.Abs(v[j]-s.Meridional[j])/v[mid])
		s.Meridional[j] = v[j]
	}
	// the surfaces: r² grows by what each share of the flow needs
	q0, span := s.Radius[0]*s.Radius[0], s.Radius[n-1]*s.Radius[n-1]-s.Radius[0]*s.Radius[0]
	sum := 0.0
	var grow Profile
	for j := range n - 1 {
		grow[j] = 2 / (v[j]*s.cosine[j] + v[j+1]*s.cosine[j+1])
		sum += grow[j]
	}
	at := q0
	for j := range n - 2 {
		at += grow[j] / sum * span
		r := math.Sqrt(at)
		moved = math.Max(moved, math.Abs(r-s.Radius[j+1])/r)
		s.Radius[j+1] = r
	}
	return moved, Solved
}

// step solves the equilibrium between a surface that is known and its neighbour k. With outward = 1 the
// neighbour lies outside: P_k − c22·t_k² − 2c12·t·t_k − bend·v_k² = known; with −1 inside, with the signs
// turned by the caller.
func step(b *balance, k int, known, dknown, cross, dcross, square, bend, outward, dv float64) (v, slope float64, reason Reason) {
	a, l, w := b.swirl[k], b.lean[k], b.work[k]
	cross, dcross = cross*outward, dcross*outward
	// f(v) = energy + w·t + gain·v − v²/2 − t²/2 + square·t² + bend·v² − cross·t − known, t = a + l·v
	q2 := -0.5 + bend + (square-0.5)*l*l
	q1 := b.gain[k] + w*l + 2*(square-0.5)*a*l - cross*l
	q0 := b.energy[k] + w*a + (square-0.5)*a*a - cross*a - known
	disc := q1*q1 - 4*q2*q0
	if !(disc > 0) {
		return 0, 0, HubBackflow
	}
	root := math.Sqrt(disc)
	v = (-q1 - root) / (2 * q2)
	if !(v > 0) {
		return 0, 0, HubBackflow
	}
	// df/dv·dv_k = (dknown + dcross·t)·dv_j
	return v, -(dknown + dcross*(a+l*v)) * dv / root, Solved
}
