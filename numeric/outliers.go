package numeric

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Grubbs returns how far the farthest of values lies from their mean, in standard deviations,
// and the distance that chance passes with probability alpha (two-sided: alpha is shared by both ends).
//
//	G = max|x_i − x̄|/s,  G_c = (n − 1)/√n·√(t²/(n − 2 + t²)),  t = t_{alpha/n or alpha/2n}(n − 2)
//
// Holds for values from a normal distribution with at most one outlier; several mask each
// other. The error says that there are fewer than three values.
//
// Source: grubbs-1969. Tests: TestOutliersPublished.
func Grubbs(x []float64, alpha float64, twoSided bool) (index int, g, critical float64, err error) {
	n := len(x)
	if n < 3 {
		return 0, 0, 0, errors.New("an outlier needs three values or more")
	}
	mean, sd := MeanSD(x)
	for i, v := range x {
		if d := math.Abs(v - mean); d > g {
			g, index = d, i
		}
	}
	if sd > 0 {
		g /= sd
	}
	p := alpha / float64(n)
	if twoSided {
		p /= 2
	}
	t := distuv.StudentsT{Sigma: 1, Nu: float64(n - 2)}.Quantile(1 - p)
	critical = float64(n-1) / math.Sqrt(float64(n)) * math.Sqrt(t*t/(float64(n-2)+t*t))
	return index, g, critical, nil
}

// Rosner returns the indices of up to most outliers by the generalised extreme studentized deviate:
// values are taken away one by one, and as many are outliers as the last one that passes its bound.
//
//	R_i = max|x − x̄|/s of what is left,  λ_i = (n − i)·t/√((n − i − 1 + t²)(n − i + 1)),  t = t_{1−alpha/2(n−i+1)}(n − i − 1)
//
// Holds for values from a normal distribution, n of 25 or more; smaller n are rough.
//
// Source: rosner-1983. Tests: TestOutliersPublished.
func Rosner(x []float64, most int, alpha float64) (outliers []int, r, lambda []float64) {
	n := len(x)
	left := make([]int, n)
	for i := range left {
		left[i] = i
	}
	var order []int
	count := 0
	for i := 1; i <= most && len(left) > 2; i++ {
		v := make([]float64, len(left))
		for k, j := range left {
			v[k] = x[j]
		}
		mean, sd := MeanSD(v)
		far, at := -1.0, 0
		for k := range v {
			if d := math.Abs(v[k] - mean); d > far {
				far, at = d, k
			}
		}
		if !(sd > 0) {
			break
		}
		rest := float64(n - i)
		t := distuv.StudentsT{Sigma: 1, Nu: rest - 1}.Quantile(1 - alpha/(2*(rest+1)))
		r = append(r, far/sd)
		lambda = append(lambda, rest*t/math.Sqrt((rest-1+t*t)*(rest+1)))
		order = append(order, left[at])
		if r[i-1] > lambda[i-1] {
			count = i
		}
		left = append(left[:at:at], left[at+1:]...)
	}
	return order[:count], r, lambda
}

// Huber fits a linear model that outliers pull less: residuals beyond k scales count by their sign.
//
//	minimise Σ ρ(r_i/s),  ρ(u) = u²/2 for |u| ≤ k, k·|u| − k²/2 beyond,  s = median|r|/0.6745
//
//	x  design, a row a value, with a column of ones where the model has a constant
//	k  1.345, which costs 5 % of efficiency where all is normal
//
// The scale is worked out anew at each step, as the common implementations do. The error says that
// the model is not told by the values.
//
// Source: memory. Tests: TestHuberPublished.
func Huber(x *mat.Dense, y []float64) (coefficients, weights []float64, scale float64, err error) {
	const k = 1.345
	n, p := x.Dims()
	weights = make([]float64, n)
	for i := range weights {
		weights[i] = 1
	}
	coefficients = make([]float64, p)
	r := make([]float64, n)
	for range 500 {
		a := mat.NewDense(n, p, nil)
		b := mat.NewVecDense(n, nil)
		for i := range n {
			w := math.Sqrt(weights[i])
			for j := range p {
				a.Set(i, j, w*x.At(i, j))
			}
			b.SetVec(i, w*y[i])
		}
		var beta mat.VecDense
		if err := beta.SolveVec(a, b); err != nil {
			return nil, nil, 0, err
		}
		moved := 0.0
		for j := range p {
			moved = math.Max(moved, math.Abs(beta.AtVec(j)-coefficients[j])/(1e-12+math.Abs(beta.AtVec(j))))
			coefficients[j] = beta.AtVec(j)
		}
		d := make([]float64, n)
		for i := range n {
			fit := 0.0
			for j := range p {
				fit += x.At(i, j) * coefficients[j]
			}
			r[i] = y[i] - fit
			d[i] = math.Abs(r[i])
		}
		m, _ := Median(d)
		scale = m / 0.6745
		if scale == 0 {
			return coefficients, weights, 0, nil
		}
		for i := range n {
			weights[i] = math.Min(1, k*scale/math.Max(d[i], 1e-300))
		}
		if moved < 1e-12 {
			break
		}
	}
	return coefficients, weights, scale, nil
}
