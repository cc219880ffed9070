package numeric

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Leaper proposes points of the posterior of a MAPProblem: a random disturbance of prior and data is met by the whole
// model, and what the proposal's density differs from the posterior is known.
type Leaper struct {
	s        *MAPSolution
	residual func(dst, z []float64) error
	along    func(dst *mat.Dense, r, z []float64, directions *mat.Dense) error
	inverse  mat.SymDense // of H
	upper    mat.TriDense
	centre   []float64 // ŵ

	directions *mat.Dense // k × ρ, right singular vectors of Ĵ
	left       *mat.Dense // ρ × n, left ones times their values
}

// NewLeaper makes a proposal of what is found round the most probable point. along writes the residuals and their derivatives in the
// directions of the columns, which are always the same. Both functions must allow calls from many goroutines.
func NewLeaper(s *MAPSolution, residual func(dst, z []float64) error, along func(dst *mat.Dense, r, z []float64, directions *mat.Dense) error) (*Leaper, bool) {
	n := len(s.Residuals)
	if n == 0 {
		return nil, false
	}
	l := &Leaper{s: s, residual: residual, along: along}
	k := len(s.Z)
	h := mat.NewSymDense(k, nil)
	l.centre = append([]float64(nil), s.Z...)
	h.SymOuterK(1, s.jacobian.T())
	var g mat.VecDense
	g.MulVec(s.jacobian.T(), mat.NewVecDense(n, s.Residuals))
	for j := range k {
		l.centre[j] += g.AtVec(j)
		h.SetSym(j, j, h.At(j, j)+1)
	}
	var root mat.Cholesky
	if !root.Factorize(h) || root.InverseTo(&l.inverse) != nil {
		return nil, false
	}
	root.UTo(&l.upper)
	var svd mat.SVD
	if !svd.Factorize(s.jacobian, mat.SVDThin) {
		return nil, false
	}
	var u, v mat.Dense
	svd.UTo(&u)
	svd.VTo(&v)
	values := svd.Values(nil)
	rank := 0
	for rank < len(values) && values[rank] > leapSmall {
		rank++
	}
	if rank == 0 {
		return nil, false
	}
	l.directions = mat.DenseCopyOf(v.Slice(0, k, 0, rank))
	l.left = mat.NewDense(rank, n, nil)
	for i := range rank {
		for r := range n {
			l.left.Set(i, r, values[i]*u.At(r, i))
		}
	}
	return l, true
}

const (
	leapSteps     = 60
	leapTolerance = 1e-2 // of the last step but one, in prior standard deviations
	leapSmall     = 0.2  // singular value below which a direction is left out: it changes the determinant by the square of that, at most
)

// Leap writes the point that standard normal numbers stand for and returns the logarithm of the posterior over the proposal.
//
//	y + Ĵᵀ·r(y) = ŵ + w,  w ~ N(0, H),  H = I + ĴᵀĴ
//	ln p(y) − ln q(y) = −½·|y|² − ½·|r|² + ½·wᵀH⁻¹w − ln det(I + J(y)·Ĵᵀ)
//
//	det(I + J(y)·Ĵᵀ) = det(I + S·Uᵀ·J(y)·V),  Ĵ = U·S·Vᵀ
//
//	Ĵ     derivatives at the most probable point;  J(y)  at the point proposed;  ŵ  the left side at the most probable point
//	r     residuals;  y  standardised unknowns
//
// so that derivatives are needed in as many directions alone as Ĵ has singular values that are not small. Where residuals are linear every point is a draw of the posterior; where they bend the excess says by how much it is not. Found
// by steps with H⁻¹, mixed; a point that they do not find is none.
//
// Source: bardsley-2014. Tests: TestLeapLaw.
func (l *Leaper) Leap(z, normal []float64) (excess float64, ok bool) {
	if !l.Point(z, normal, leapTolerance) {
		return 0, false
	}
	return l.Excess(z)
}

// Point writes the point that standard normal numbers stand for, found until a step is smaller than the tolerance, in prior
// standard deviations. It is not ok where none is found.
func (l *Leaper) Point(z, normal []float64, tolerance float64) (ok bool) {
	k, n := len(z), len(l.s.Residuals)
	// w = Uᵀ·v has the covariance H
	var w mat.VecDense
	w.MulVec(l.upper.T(), mat.NewVecDense(k, append([]float64(nil), normal...)))
	for j := range k {
		w.SetVec(j, w.AtVec(j)+l.centre[j])
	}
	var start mat.VecDense
	start.MulVec(&l.inverse, sub(&w, l.centre))
	for j := range k {
		z[j] = l.s.Z[j] + start.AtVec(j)
	}
	r := make([]float64, n)
	miss, step := mat.NewVecDense(k, nil), mat.NewVecDense(k, nil)
	var mix mixer
	last := math.Inf(1)
	for range leapSteps {
		if l.residual(r, z) != nil {
			return false
		}
		l.leftSide(miss, z, r)
		miss.SubVec(&w, miss)
		step.MulVec(&l.inverse, miss)
		size := mat.Norm(step, math.Inf(1))
		if math.IsNaN(size) || size > 1e3 {
			return false
		}
		if size < tolerance {
			for j := range z {
				z[j] += step.AtVec(j)
			}
			return true
		}
		if size > 4*last {
			return false
		}
		last = math.Min(last, size)
		mix.next(z, step.RawVector().Data)
	}
	return false
}

func sub(w *mat.VecDense, c []float64) *mat.VecDense {
	var out mat.VecDense
	out.SubVec(w, mat.NewVecDense(len(c), append([]float64(nil), c...)))
	return &out
}

// leftSide is y + Ĵᵀ·r.
func (l *Leaper) leftSide(dst *mat.VecDense, z, r []float64) {
	dst.MulVec(l.s.jacobian.T(), mat.NewVecDense(len(r), r))
	for j, v := range z {
		dst.SetVec(j, dst.AtVec(j)+v)
	}
}

// Excess is the logarithm of the posterior over the proposal at a point, up to a constant.
func (l *Leaper) Excess(z []float64) (float64, bool) {
	k, n := len(z), len(l.s.Residuals)
	r := make([]float64, n)
	_, rank := l.directions.Dims()
	along := mat.NewDense(n, rank, nil)
	if l.along(along, r, z, l.directions) != nil {
		return 0, false
	}
	w := mat.NewVecDense(k, nil)
	l.leftSide(w, z, r)
	w = sub(w, l.centre)
	var inner mat.Dense
	inner.Mul(l.left, along)
	for i := range rank {
		inner.Set(i, i, inner.At(i, i)+1)
	}
	var lu mat.LU
	lu.Factorize(&inner)
	det, sign := lu.LogDet()
	if sign <= 0 {
		return 0, false
	}
	return -0.5*squares(z) - 0.5*squares(r) + 0.5*mat.Inner(w, &l.inverse, w) - det, true
}
