package numeric

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// MAPProblem asks for the most probable point of standardised unknowns.
type MAPProblem struct {
	Dimension, Residuals int
	// Residual writes residuals in units of their own standard deviation.
	Residual func(dst, z []float64) error
	// Jacobian writes their derivatives.
	Jacobian func(dst *mat.Dense, z []float64) error
	// Start is where the search begins, the prior's middle if nil.
	Start []float64
	// Tolerance of the last step, in prior standard deviations; 1e-6 if 0.
	Tolerance float64
}

// MAPSolution is the most probable point and the normal distribution round it.
type MAPSolution struct {
	Z          []float64
	Residuals  []float64
	Covariance *mat.SymDense // (I + JᵀJ)⁻¹
	Iterations int
	root       mat.TriDense // lower Cholesky factor of the covariance
	jacobian   *mat.Dense   // at Z
	gain       *mat.Dense   // Jᵀ(JJᵀ + I)⁻¹
}

// Settle moves a drawn point onto what the data allow. Draw is exact where the residuals are
// linear; where they bend, its points miss the residuals that the linear problem gives them, and
// Settle takes that back by steps with the Jacobian at Z: on return the point's residuals are
// those of its linear image, or it is where the steps ended. residual must allow points from
// many goroutines.
//
//	z ← z + Jᵀ(JJᵀ + I)⁻¹·[r_Z + J·(z₀ − Z) − r(z)]
//
//	z₀   the drawn point
//	r_Z  residuals at Z
//
// Holds where one answer is near; a step at which residual fails is not taken.
//
// Source: own. Tests: TestSettleLaw.
func (s *MAPSolution) Settle(z []float64, residual func(dst, z []float64) error) {
	n := len(s.Residuals)
	if n == 0 {
		return
	}
	k := len(z)
	target, r := mat.NewVecDense(n, nil), mat.NewVecDense(n, nil)
	moved, step := mat.NewVecDense(k, nil), mat.NewVecDense(k, nil)
	for j := range k {
		moved.SetVec(j, z[j]-s.Z[j])
	}
	target.MulVec(s.jacobian, moved)
	target.AddVec(target, mat.NewVecDense(n, append([]float64(nil), s.Residuals...)))
	next := append([]float64(nil), z...)
	last := math.Inf(1)
	var mix mixer
	for range settleSteps {
		if residual(r.RawVector().Data, next) != nil {
			return
		}
		r.SubVec(target, r)
		size := mat.Norm(r, math.Inf(1))
		if !(size < last) {
			return
		}
		copy(z, next)
		last = size
		if size < settleTolerance {
			return
		}
		step.MulVec(s.gain, r)
		if size < settleLast {
			// The last step takes most of so little back; looking whether it did would cost as much again.
			for j := range z {
				z[j] += step.AtVec(j)
			}
			return
		}
		mix.next(next, step.RawVector().Data)
	}
}

// mixer speeds up a search that steps by what it misses: the next point is the one at which
// the last steps, taken as linear, would miss least (Anderson's mixing, two steps deep).
type mixer struct {
	point, step   []float64    // the last ones
	dPoint, dStep [2][]float64 // last differences, the newest first
	have          int
}

// next moves a point on by its step, mixed.
func (m *mixer) next(point, step []float64) {
	if m.point != nil {
		m.dPoint[1], m.dStep[1] = m.dPoint[0], m.dStep[0]
		m.dPoint[0], m.dStep[0] = minus(point, m.point), minus(step, m.step)
		m.have = min(2, m.have+1)
	}
	m.point, m.step = append([]float64(nil), point...), append([]float64(nil), step...)
	var g [2]float64
	switch a := dot(m.dStep[0], m.dStep[0]); {
	case m.have == 0 || a == 0:
	case m.have == 1:
		g[0] = dot(m.dStep[0], step) / a
	default:
		b, c := dot(m.dStep[0], m.dStep[1]), dot(m.dStep[1], m.dStep[1])
		u, v := dot(m.dStep[0], step), dot(m.dStep[1], step)
		if det := a*c - b*b; det > 1e-6*a*c {
			g[0], g[1] = (u*c-v*b)/det, (v*a-u*b)/det
		} else {
			g[0] = u / a
		}
	}
	for j := range point {
		point[j] += step[j]
		for i := range m.have {
			point[j] -= g[i] * (m.dPoint[i][j] + m.dStep[i][j])
		}
	}
}

func minus(a, b []float64) []float64 {
	out := make([]float64, len(a))
	for i := range a {
		out[i] = a[i] - b[i]
	}
	return out
}

const (
	settleSteps     = 10
	settleTolerance = 0.5 // of a residual's standard deviation
	settleLast      = 1.5 // below which one step more ends it
)

// Jacobian are the derivatives of the residuals at Z; nil without residuals.
func (s *MAPSolution) Jacobian() *mat.Dense { return s.jacobian }

// Root is the lower Cholesky factor of the covariance.
func (s *MAPSolution) Root() mat.Matrix { return &s.root }

// Draw returns the point that independent standard normal numbers stand for.
func (s *MAPSolution) Draw(normal []float64) []float64 {
	z := make([]float64, len(s.Z))
	root := s.root.RawTriangular()
	for i := range z {
		z[i] = s.Z[i] + dot(root.Data[i*root.Stride:i*root.Stride+i+1], normal)
	}
	return z
}

const (
	mapIterations = 200
	mapShort      = 0.1  // of a step, in prior standard deviations, below which derivatives serve on
	mapTolerance  = 1e-6 // of the step, in prior standard deviations
)

// GaussNewtonMAP finds the most probable point by damped Gauss–Newton steps from the prior's
// middle, or from Start. It ends where a step or what it gains has become small. A step at which Residual fails is shortened.
//
//	minimise ½·Σ r(z)² + ½·Σ z²,  covariance = (I + JᵀJ)⁻¹ at the answer
//
//	z  unknowns, standard normal before the data
//	r  residuals in units of their standard deviation
//	J  derivatives of r by z
//
// Holds where residuals are smooth; the covariance is that of the linear problem at the answer.
//
// Source: memory. Tests: TestMAPExact, TestMAPLaw.
func GaussNewtonMAP(p MAPProblem) (*MAPSolution, error) {
	k, n := p.Dimension, p.Residuals
	z, r := make([]float64, k), make([]float64, n)
	copy(z, p.Start)
	tolerance := p.Tolerance
	if tolerance == 0 {
		tolerance = mapTolerance
	}
	gain := 0.1 * tolerance * tolerance
	if err := p.Residual(r, z); err != nil {
		return nil, err
	}
	cost := squares(r) + squares(z)
	if math.IsNaN(cost) || math.IsInf(cost, 0) {
		return nil, ErrNotFinite
	}
	jac := mat.NewDense(max(n, 1), k, nil)
	trial, next := make([]float64, n), make([]float64, k)
	lambda, moved, again := 0.0, math.Inf(1), false
	var mix mixer
	hessian := mat.NewSymDense(k, nil)
	for it := 1; it <= mapIterations; it++ {
		gradient := mat.NewVecDense(k, nil)
		// Derivatives are taken anew until steps are short; then they serve on, since residuals alone say where it is.
		fresh := moved > mapShort || lambda > 0
		if fresh {
			hessian = mat.NewSymDense(k, nil)
			if n > 0 {
				if err := p.Jacobian(jac, z); err != nil {
					return nil, err
				}
				hessian.SymOuterK(1, jac.T())
			}
			for j := range k {
				hessian.SetSym(j, j, hessian.At(j, j)+1)
			}
		}
		if n > 0 {
			gradient.MulVec(jac.T(), mat.NewVecDense(n, r))
		}
		for j := range k {
			gradient.SetVec(j, -gradient.AtVec(j)-z[j])
		}
		settled := false
		for {
			damped := mat.NewSymDense(k, nil)
			damped.CopySym(hessian)
			for j := range k {
				damped.SetSym(j, j, hessian.At(j, j)*(1+lambda))
			}
			var chol mat.Cholesky
			if !chol.Factorize(damped) {
				return nil, ErrNotFinite
			}
			var step mat.VecDense
			if err := chol.SolveVecTo(&step, gradient); err != nil {
				return nil, ErrSingular
			}
			size := mat.Norm(&step, math.Inf(1))
			moved = size
			// Where residuals bend, steps shorten by the same share again and again; mixing them
			// foresees where they lead. It is taken if it lowers the sum of squares.
			if lambda > 0 {
				mix = mixer{}
			} else {
				copy(next, z)
				if mix.next(next, step.RawVector().Data); mix.have > 0 && p.Residual(trial, next) == nil {
					if c := squares(trial) + squares(next); c <= cost {
						z, next = next, z
						r, trial = trial, r
						settled = size < tolerance || cost-c < gain*(1+c)
						cost = c
						break
					}
				}
			}
			for j := range next {
				next[j] = z[j] + step.AtVec(j)
			}
			err := p.Residual(trial, next)
			if c := squares(trial) + squares(next); err == nil && c <= cost {
				z, next = next, z
				r, trial = trial, r
				last := cost
				cost = c
				settled = size < tolerance || last-c < gain*(1+c)
				// How much of the promised gain came says whether the next step may be bolder.
				switch promised := promise(hessian, gradient, &step); {
				case last-c < 0.25*promised:
					lambda = math.Max(4*lambda, 0.1)
				case last-c > 0.75*promised:
					lambda *= 0.2
					if lambda < 1e-6 {
						lambda = 0
					}
				}
				break
			}
			if size < tolerance || lambda > 1e12 {
				settled = true
				break
			}
			lambda = math.Max(5*lambda, 1e-3)
		}
		switch {
		case settled && fresh && moved < tolerance:
			return mapFinish(p, z, r, it, jac) // as good as taken at the answer
		case settled && fresh && !again:
			return mapFinish(p, z, r, it, nil)
		case settled:
			again = !fresh
			moved = math.Inf(1) // old derivatives may end it too soon
		}
	}
	return nil, ErrIterations
}

// promise is the decrease of the sum of squares that the linear problem expects of a step.
func promise(hessian *mat.SymDense, gradient, step *mat.VecDense) float64 {
	return 2*mat.Dot(gradient, step) - mat.Inner(step, hessian, step)
}

func mapFinish(p MAPProblem, z, r []float64, iterations int, jac *mat.Dense) (*MAPSolution, error) {
	k, n := p.Dimension, p.Residuals
	s := &MAPSolution{Z: append([]float64(nil), z...), Residuals: append([]float64(nil), r...), Iterations: iterations}
	hessian := mat.NewSymDense(k, nil)
	if n > 0 {
		if jac == nil {
			jac = mat.NewDense(n, k, nil)
			if err := p.Jacobian(jac, z); err != nil {
				return nil, err
			}
		}
		hessian.SymOuterK(1, jac.T())
		s.jacobian = jac
		outer := mat.NewSymDense(n, nil)
		outer.SymOuterK(1, jac)
		for i := range n {
			outer.SetSym(i, i, outer.At(i, i)+1)
		}
		var data mat.Cholesky
		if !data.Factorize(outer) {
			return nil, ErrNotFinite
		}
		var solved mat.Dense
		if err := data.SolveTo(&solved, jac); err != nil {
			return nil, ErrSingular
		}
		s.gain = mat.DenseCopyOf(solved.T())
	}
	for j := range k {
		hessian.SetSym(j, j, hessian.At(j, j)+1)
	}
	var chol mat.Cholesky
	if !chol.Factorize(hessian) {
		return nil, ErrNotFinite
	}
	s.Covariance = mat.NewSymDense(k, nil)
	if err := chol.InverseTo(s.Covariance); err != nil {
		return nil, ErrSingular
	}
	var root mat.Cholesky
	if !root.Factorize(s.Covariance) {
		return nil, ErrNotFinite
	}
	root.LTo(&s.root)
	return s, nil
}
