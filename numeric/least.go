package numeric

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Problem is a nonlinear least-squares problem with exact derivatives.
type Problem struct {
	Parameters, Residuals int
	// Residual writes the residuals at a point.
	Residual func(dst, p []float64) error
	// Jacobian writes the derivatives of residual i by parameter j at (i, j).
	Jacobian func(dst *mat.Dense, p []float64) error
	// Enough ends the search when three steps after one another bring the sum of squares down by no more than this share
	// of it; 0 goes on to where rounding ends it. It is for who wants the sum and not the parameters' last digits.
	Enough float64
}

// Solution of a least-squares problem.
type Solution struct {
	Parameters     []float64
	StandardErrors []float64 // with the residual standard deviation as scale
	Covariance     *mat.SymDense
	SumOfSquares   float64
	ResidualSD     float64 // √(sum/(n − k))
	Iterations     int
}

// Reasons why a fit has no answer.
var (
	ErrIterations   = errors.New("the fit did not settle within the iterations allowed")
	ErrSingular     = errors.New("the data do not determine every parameter")
	ErrNotFinite    = errors.New("the fit met figures that are not finite")
	ErrTooFewPoints = errors.New("the fit has fewer points than parameters")
)

const (
	fitIterations = 5000
	fitTolerance  = 1e-14 // of the relative step
	fitOffset     = 1e-11 // cosine between residuals and the columns of the Jacobian
)

// LevenbergMarquardt minimises a sum of squares from a start. Columns are scaled by their norms,
// the step is found by QR of the stacked matrix, and it has settled when the residuals are
// square to every column of the Jacobian, or the step no longer moves the parameters. Undamped steps
// follow while they shrink.
//
//	minimise ½·Σ rᵢ(p)²,  step = argmin |J·s + r|² + λ·|D·s|²
//
//	r  residuals
//	J  their derivatives by the parameters, exact
//	D  greatest norms of the columns of J so far
//
// Holds for smooth residuals. Standard errors are those of the linear problem at the answer, and wrong
// derivatives make them wrong without a sign.
//
// Source: memory, nist-strd. Tests: TestNonlinearPublished.
func LevenbergMarquardt(pr Problem, start []float64) (*Solution, error) {
	k, n := pr.Parameters, pr.Residuals
	if n < k {
		return nil, ErrTooFewPoints
	}
	p := append([]float64(nil), start...)
	r, trial := make([]float64, n), make([]float64, n)
	if err := pr.Residual(r, p); err != nil {
		return nil, err
	}
	cost := squares(r)
	if math.IsNaN(cost) || math.IsInf(cost, 0) {
		return nil, ErrNotFinite
	}
	jac, ahead := mat.NewDense(n, k, nil), mat.NewDense(n, k, nil)
	norms, normsAhead := make([]float64, k), make([]float64, k)
	lambda := 1e-3
	next := make([]float64, k)
	if err := pr.Jacobian(jac, p); err != nil {
		return nil, err
	}
	if !columnNorms(norms, jac) {
		return nil, ErrSingular
	}
	scale := append([]float64(nil), norms...)
	small := 0 // steps after one another that bring little
	for it := 1; it <= fitIterations; it++ {
		worst := 0.0
		for j := range k {
			worst = math.Max(worst, math.Abs(dot(mat.Col(nil, j, jac), r))/(norms[j]*math.Sqrt(cost)+math.SmallestNonzeroFloat64))
		}
		settled := worst < fitOffset
		for {
			step, err := dampedStep(jac, r, scale, lambda)
			if err != nil {
				return nil, err
			}
			moved := 0.0
			for j := range next {
				next[j] = p[j] + step[j]
				moved = math.Max(moved, math.Abs(step[j])/(math.Abs(p[j])+math.Abs(step[j])+math.SmallestNonzeroFloat64))
			}
			expected := decrease(jac, r, step)
			err = pr.Residual(trial, next)
			c := squares(trial)
			// A step to where a parameter no longer matters is a step too far: nothing leads back from there.
			if err == nil && c <= cost && pr.Jacobian(ahead, next) == nil && columnNorms(normsAhead, ahead) {
				p, next = next, p
				r, trial = trial, r
				jac, ahead = ahead, jac
				norms, normsAhead = normsAhead, norms
				for j := range scale {
					scale[j] = math.Max(scale[j], norms[j])
				}
				lambda = relaxed(lambda, (cost-c)/expected)
				if small++; cost-c > pr.Enough*cost {
					small = 0
				}
				cost = c
				if pr.Enough > 0 && small >= 3 {
					return finish(pr, p, cost, it)
				}
				settled = settled || moved < fitTolerance
				break
			}
			if moved < fitTolerance {
				settled = true
				break
			}
			lambda *= 5
			if lambda > 1e16 {
				settled = true
				break
			}
		}
		if settled {
			p, cost, err := polish(pr, p, cost)
			if err != nil {
				return nil, err
			}
			return finish(pr, p, cost, it)
		}
	}
	return nil, ErrIterations
}

// fitPolish is how many undamped steps follow at the end, at most, and how much larger the sum of squares may be by
// rounding after one.
const (
	fitPolish        = 40
	fitPolishRounded = 1e-9
)

// polish takes undamped steps while they shrink: near the answer the sum of squares no longer tells two
// points apart, and the steps still do.
func polish(pr Problem, p []float64, cost float64) ([]float64, float64, error) {
	k, n := pr.Parameters, pr.Residuals
	jac, norms := mat.NewDense(n, k, nil), make([]float64, k)
	r, next := make([]float64, n), make([]float64, k)
	last := math.Inf(1)
	for range fitPolish {
		if err := pr.Residual(r, p); err != nil {
			return nil, 0, err
		}
		if err := pr.Jacobian(jac, p); err != nil {
			return nil, 0, err
		}
		if !columnNorms(norms, jac) {
			return nil, 0, ErrSingular
		}
		step, err := dampedStep(jac, r, norms, 0)
		if err != nil {
			return nil, 0, err
		}
		moved := 0.0
		for j := range next {
			next[j] = p[j] + step[j]
			moved = math.Max(moved, math.Abs(step[j])*norms[j]/(math.Sqrt(cost)+math.SmallestNonzeroFloat64))
		}
		if !(moved < last) || pr.Residual(r, next) != nil {
			break
		}
		c := squares(r)
		if !(c <= cost*(1+fitPolishRounded)) {
			break
		}
		p, next, last, cost = next, p, moved, c
		if moved < fitTolerance {
			break
		}
	}
	return p, cost, nil
}

// decrease is by how much the sum of squares of the linear problem falls by a step.
func decrease(jac *mat.Dense, r, step []float64) float64 {
	var moved mat.VecDense
	moved.MulVec(jac, mat.NewVecDense(len(step), step))
	sum := 0.0
	for i, v := range r {
		at := v + moved.AtVec(i)
		sum += v*v - at*at
	}
	return sum
}

// relaxed is the damping after a step that brought a share of what the linear problem promised.
func relaxed(lambda, share float64) float64 {
	switch {
	case share < 0.25:
		return 4 * lambda
	case share < 0.75:
		return lambda
	}
	return math.Max(lambda*0.2, 1e-16)
}

// columnNorms writes the lengths of the columns; it is not ok where one is 0 or not finite.
func columnNorms(dst []float64, a *mat.Dense) bool {
	ok := true
	for j := range dst {
		dst[j] = math.Sqrt(squares(mat.Col(nil, j, a)))
		ok = ok && dst[j] > 0 && !math.IsInf(dst[j], 0)
	}
	return ok
}

// dampedStep solves the stacked least-squares problem in scaled parameters.
func dampedStep(jac *mat.Dense, r, norms []float64, lambda float64) ([]float64, error) {
	n, k := jac.Dims()
	a := mat.NewDense(n+k, k, nil)
	b := mat.NewVecDense(n+k, nil)
	for i := range n {
		for j := range k {
			a.Set(i, j, jac.At(i, j)/norms[j])
		}
		b.SetVec(i, -r[i])
	}
	root := math.Sqrt(lambda)
	for j := range k {
		a.Set(n+j, j, root)
	}
	var qr mat.QR
	qr.Factorize(a)
	var s mat.VecDense
	if err := qr.SolveVecTo(&s, false, b); err != nil {
		var c mat.Condition
		if !errors.As(err, &c) {
			return nil, ErrSingular
		}
	}
	step := make([]float64, k)
	for j := range step {
		step[j] = s.AtVec(j) / norms[j]
	}
	return step, nil
}

// finish works out the covariance at the answer.
func finish(pr Problem, p []float64, cost float64, iterations int) (*Solution, error) {
	n, k := pr.Residuals, pr.Parameters
	jac := mat.NewDense(n, k, nil)
	if err := pr.Jacobian(jac, p); err != nil {
		return nil, err
	}
	s := &Solution{Parameters: p, SumOfSquares: cost, Iterations: iterations}
	if n > k {
		s.ResidualSD = math.Sqrt(cost / float64(n-k))
	}
	cov, err := covariance(jac)
	if err != nil {
		return nil, err
	}
	s.Covariance = cov
	s.Covariance.ScaleSym(s.ResidualSD*s.ResidualSD, cov)
	s.StandardErrors = make([]float64, k)
	for j := range k {
		s.StandardErrors[j] = math.Sqrt(s.Covariance.At(j, j))
	}
	return s, nil
}

// unitColumns scales columns to unit length and returns the lengths.
func unitColumns(a *mat.Dense) (scaled *mat.Dense, norms []float64, err error) {
	n, k := a.Dims()
	scaled, norms = mat.NewDense(n, k, nil), make([]float64, k)
	for j := range k {
		norms[j] = math.Sqrt(squares(mat.Col(nil, j, a)))
		if norms[j] == 0 {
			return nil, nil, ErrSingular
		}
		for i := range n {
			scaled.Set(i, j, a.At(i, j)/norms[j])
		}
	}
	return scaled, norms, nil
}

// Covariance is the inverse of JᵀJ: times the variance of a residual it is the covariance of the parameters.
func Covariance(jac *mat.Dense) (*mat.SymDense, error) { return covariance(jac) }

// covariance is (JᵀJ)⁻¹, through the triangle of the QR of J with scaled columns.
func covariance(jac *mat.Dense) (*mat.SymDense, error) {
	_, k := jac.Dims()
	scaled, norms, err := unitColumns(jac)
	if err != nil {
		return nil, err
	}
	var qr mat.QR
	qr.Factorize(scaled)
	var r mat.Dense
	qr.RTo(&r)
	inv := mat.NewTriDense(k, mat.Upper, nil)
	for j := range k {
		if math.Abs(r.At(j, j)) < 1e-15 {
			return nil, ErrSingular
		}
		inv.SetTri(j, j, 1/r.At(j, j))
		for i := j - 1; i >= 0; i-- {
			sum := 0.0
			for m := i + 1; m <= j; m++ {
				sum += r.At(i, m) * inv.At(m, j)
			}
			inv.SetTri(i, j, -sum/r.At(i, i))
		}
	}
	cov := mat.NewSymDense(k, nil)
	for i := range k {
		for j := i; j < k; j++ {
			sum := 0.0
			for m := j; m < k; m++ {
				sum += inv.At(i, m) * inv.At(j, m)
			}
			cov.SetSym(i, j, sum/(norms[i]*norms[j]))
		}
	}
	return cov, nil
}

// Linear solves a linear least-squares problem with the columns of x.
//
//	minimise Σ (yᵢ − Σⱼ xᵢⱼ·bⱼ)²
//
//	x  columns of known numbers, y what they have to make
//
// Holds for columns that are not linear combinations of each other. Columns are scaled, factored by
// Householder's QR, and the answer is refined once.
//
// Source: memory, nist-strd. Tests: TestLinearPublished.
func Linear(x *mat.Dense, y []float64) (*Solution, error) {
	n, k := x.Dims()
	if n < k || len(y) != n {
		return nil, ErrTooFewPoints
	}
	scaled, norms, err := unitColumns(x)
	if err != nil {
		return nil, err
	}
	var qr mat.QR
	qr.Factorize(scaled)
	b := make([]float64, k)
	r := append([]float64(nil), y...)
	for range 3 {
		var s mat.VecDense
		if err := qr.SolveVecTo(&s, false, mat.NewVecDense(n, append([]float64(nil), r...))); err != nil {
			var c mat.Condition
			if !errors.As(err, &c) {
				return nil, ErrSingular
			}
		}
		for j := range b {
			b[j] += s.AtVec(j) / norms[j]
		}
		for i := range r {
			r[i] = residual(x, y, b, i)
		}
	}
	pr := Problem{Parameters: k, Residuals: n, Jacobian: func(dst *mat.Dense, _ []float64) error { dst.Copy(x); return nil }}
	return finish(pr, b, squares(r), 1)
}

// residual of row i, summed with the rounding of every product kept.
func residual(x *mat.Dense, y, b []float64, i int) float64 {
	sum, low := y[i], 0.0
	for j, c := range b {
		p := -x.At(i, j) * c
		e := math.FMA(-x.At(i, j), c, -p)
		t := sum + p
		z := t - sum
		low += (sum - (t - z)) + (p - z) + e
		sum = t
	}
	return sum + low
}

func squares(x []float64) float64 { return dot(x, x) }

func dot(a, b []float64) float64 {
	s := 0.0
	for i, v := range a {
		s += v * b[i]
	}
	return s
}
