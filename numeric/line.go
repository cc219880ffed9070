package numeric

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Line is a straight line y = A + B·x with its uncertainty.
type Line struct {
	A, B           float64
	SA, SB         float64 // standard uncertainties
	Covariance     float64 // of A and B
	ChiSquare      float64 // weighted sum of squared residuals
	Freedom        int
	ResidualSpread float64 // standard deviation of the residuals of a fit without weights; 0 with weights
}

// At returns the line at x with its standard uncertainty.
//
//	y = a + b·x,  u² = u_a² + x²·u_b² + 2x·u_ab
//
// Holds wherever the line does; what a new reading scatters comes on top.
//
// Source: jcgm-100, H.3.3. Tests: TestCalibrationLinePublished.
func (l Line) At(x float64) (y, u float64) {
	v := l.SA*l.SA + x*x*l.SB*l.SB + 2*x*l.Covariance
	return l.A + l.B*x, math.Sqrt(max(0, v))
}

// Next returns the line at x with the interval that holds the next value there, with the given probability: scatter of
// the value and doubt about the line, which grows away from the middle of the points (leverage).
//
//	y = a + b·x ± t_(1+p)/2(n − 2)·√(s² + u²)
//
//	s  standard deviation of the residuals;  u  standard uncertainty of the line at x
//
// Holds for a fit without weights, independent normal scatter, and where the line does; beyond the points nothing but that says so.
//
// Source: nist-ehandbook, 4.5.2. Tests: TestNextPublished, TestNextCoverageLaw.
func (l Line) Next(x, probability float64) (y, low, high float64) {
	y, u := l.At(x)
	t := distuv.StudentsT{Sigma: 1, Nu: float64(l.Freedom)}.Quantile((1 + probability) / 2)
	half := t * math.Hypot(l.ResidualSpread, u)
	return y, y - half, y + half
}

// StraightLine fits a line by least squares. Without weights (nil) the scatter is taken from the
// residuals; with them, 1/u² of each y, it is taken as known.
//
//	b = Σw(x − x̄)(y − ȳ)/Σw(x − x̄)²,  a = ȳ − b·x̄
//
// Holds for exact x and independent scatter in y. The error names what is missing.
//
// Source: jcgm-100, H.3.2. Tests: TestCalibrationLinePublished.
func StraightLine(x, y, weights []float64) (Line, error) {
	n := len(x)
	if len(y) != n || weights != nil && len(weights) != n {
		return Line{}, errors.New("the lists differ in length")
	}
	if n < 2 || weights == nil && n < 3 {
		return Line{}, errors.New("a line needs two points with known scatter, or three")
	}
	w := func(i int) float64 {
		if weights == nil {
			return 1
		}
		return weights[i]
	}
	var sw, mx, my float64
	for i := range x {
		sw += w(i)
		mx += w(i) * x[i]
		my += w(i) * y[i]
	}
	mx, my = mx/sw, my/sw
	var sxx, sxy float64
	for i := range x {
		sxx += w(i) * (x[i] - mx) * (x[i] - mx)
		sxy += w(i) * (x[i] - mx) * (y[i] - my)
	}
	if !(sxx > 0) {
		return Line{}, errors.New("all points stand at one x")
	}
	l := Line{B: sxy / sxx, Freedom: n - 2}
	l.A = my - l.B*mx
	for i := range x {
		r := y[i] - l.A - l.B*x[i]
		l.ChiSquare += w(i) * r * r
	}
	s2 := 1.0
	if weights == nil {
		s2 = l.ChiSquare / float64(n-2)
		l.ResidualSpread = math.Sqrt(s2)
	}
	l.SB = math.Sqrt(s2 / sxx)
	l.SA = math.Sqrt(s2 * (1/sw + mx*mx/sxx))
	l.Covariance = -mx * s2 / sxx
	return l, nil
}

// York fits a line to points that are uncertain both ways, from their weights 1/u² in x and in y.
//
//	minimise Σ W_i·(y_i − a − b·x_i)²,  W = w_x·w_y/(w_x + b²·w_y)
//
// Holds for independent normal errors of known size. The standard uncertainties are those of the
// adjusted points, not scaled by the misfit. The error names what is missing.
//
// Source: york-2004. Tests: TestYorkPublished.
func York(x, y, wx, wy []float64) (Line, error) {
	n := len(x)
	if n < 2 || len(y) != n || len(wx) != n || len(wy) != n {
		return Line{}, errors.New("a line needs two points or more, each with its weights")
	}
	start, err := StraightLine(x, y, wy)
	if err != nil {
		return Line{}, err
	}
	b := start.B
	beta := make([]float64, n)
	w := make([]float64, n)
	var mx, my float64
	const rounds = 200
	settled := false
	for range rounds {
		var sw float64
		mx, my = 0, 0
		for i := range x {
			w[i] = wx[i] * wy[i] / (wx[i] + b*b*wy[i])
			sw += w[i]
			mx += w[i] * x[i]
			my += w[i] * y[i]
		}
		mx, my = mx/sw, my/sw
		var top, bottom float64
		for i := range x {
			u, v := x[i]-mx, y[i]-my
			beta[i] = w[i] * (u/wy[i] + b*v/wx[i])
			top += w[i] * beta[i] * v
			bottom += w[i] * beta[i] * u
		}
		if bottom == 0 {
			return Line{}, errors.New("all points stand at one x")
		}
		next := top / bottom
		settled = math.Abs(next-b) <= 1e-15*(1+math.Abs(next))
		b = next
		if settled {
			break
		}
	}
	if !settled && rounds > 0 && !(math.Abs(b) < math.Inf(1)) {
		return Line{}, errors.New("the line did not settle")
	}
	l := Line{B: b, A: my - b*mx, Freedom: n - 2}
	var sw, mb float64
	for i := range x {
		sw += w[i]
		mb += w[i] * beta[i]
	}
	mb /= sw
	var sbb float64
	for i := range x {
		sbb += w[i] * (beta[i] - mb) * (beta[i] - mb)
		r := y[i] - l.A - b*x[i]
		l.ChiSquare += w[i] * r * r
	}
	adjusted := mx + mb // mean of the adjusted points
	l.SB = 1 / math.Sqrt(sbb)
	l.SA = math.Sqrt(1/sw + adjusted*adjusted*l.SB*l.SB)
	l.Covariance = -adjusted * l.SB * l.SB
	return l, nil
}
