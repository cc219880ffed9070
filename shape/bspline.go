package shape

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Curve is a B-spline: of a degree, with clamped knots, one more than degree and control points together.
type Curve struct {
	Degree  int
	Knots   []float64
	Control []Vec
}

// Patch is a B-spline surface; Control[i][j] goes with knot i of the first and j of the second parameter.
type Patch struct {
	Degree  [2]int
	Knots   [2][]float64
	Control [][]Vec
}

// spline interpolates at parameters; the matrix is factored once and serves every row of points.
type spline struct {
	degree int
	knots  []float64
	lu     mat.LU
}

// newSpline takes ascending parameters from 0 to 1. The degree is three where there are points enough. Knots are means of
// parameters: Piegl and Tiller, The NURBS Book, equation 9.8 (FROM MEMORY), with which the matrix is never singular.
func newSpline(at []float64) (*spline, error) {
	n := len(at)
	if n < 2 || at[0] != 0 || at[n-1] != 1 {
		return nil, fmt.Errorf("%d parameters, which do not run from 0 to 1", n)
	}
	for i := 1; i < n; i++ {
		if !(at[i] > at[i-1]) {
			return nil, fmt.Errorf("parameter %d, %v, does not lie beyond the one before, %v", i, at[i], at[i-1])
		}
	}
	s := &spline{degree: min(3, n-1)}
	p := s.degree
	s.knots = make([]float64, n+p+1)
	for i := range p + 1 {
		s.knots[n+i] = 1
	}
	for j := 1; j < n-p; j++ {
		sum := 0.0
		for i := j; i < j+p; i++ {
			sum += at[i]
		}
		s.knots[j+p] = sum / float64(p)
	}
	m := mat.NewDense(n, n, nil)
	var basis [4]float64
	for i, t := range at {
		k := span(s.knots, p, n, t)
		basisAt(s.knots, p, k, t, &basis)
		for j := range p + 1 {
			m.Set(i, k-p+j, basis[j])
		}
	}
	s.lu.Factorize(m)
	return s, nil
}

// through returns the control points of curves through rows of points: rows[i] is the point of each curve at parameter i.
func (s *spline) through(rows [][]Vec) ([][]Vec, error) {
	n, k := len(rows), len(rows[0])
	right := mat.NewDense(n, 3*k, nil)
	for i, row := range rows {
		if len(row) != k {
			return nil, fmt.Errorf("row %d has %d points, the first has %d", i, len(row), k)
		}
		for j, p := range row {
			for c := range 3 {
				right.Set(i, 3*j+c, p[c])
			}
		}
	}
	var x mat.Dense
	if err := s.lu.SolveTo(&x, false, right); err != nil {
		return nil, fmt.Errorf("no spline through the points: %w", err)
	}
	out := make([][]Vec, n)
	for i := range out {
		out[i] = make([]Vec, k)
		for j := range out[i] {
			out[i][j] = Vec{x.At(i, 3*j), x.At(i, 3*j+1), x.At(i, 3*j+2)}
		}
	}
	// the ends are met exactly
	copy(out[0], rows[0])
	copy(out[n-1], rows[n-1])
	return out, nil
}

// InterpolateCurve returns the cubic through points at ascending parameters from 0 to 1; of fewer than four points a lower degree.
func InterpolateCurve(points []Vec, at []float64) (Curve, error) {
	if len(points) != len(at) {
		return Curve{}, fmt.Errorf("%d points at %d parameters", len(points), len(at))
	}
	s, err := newSpline(at)
	if err != nil {
		return Curve{}, err
	}
	rows := make([][]Vec, len(points))
	for i, p := range points {
		rows[i] = []Vec{p}
	}
	c, err := s.through(rows)
	if err != nil {
		return Curve{}, err
	}
	out := Curve{Degree: s.degree, Knots: s.knots}
	for _, r := range c {
		out.Control = append(out.Control, r[0])
	}
	return out, nil
}

// InterpolatePatch returns the surface through grid[i][j] at the parameters u[i] and v[j], cubic in both where there are points enough.
// Its borders are the curves that InterpolateCurve makes of the border points, so that patches that share them meet without a gap.
func InterpolatePatch(grid [][]Vec, u, v []float64) (Patch, error) {
	if len(grid) != len(u) || len(grid) == 0 || len(grid[0]) != len(v) {
		return Patch{}, fmt.Errorf("a grid of %d rows for %d by %d parameters", len(grid), len(u), len(v))
	}
	su, err := newSpline(u)
	if err != nil {
		return Patch{}, err
	}
	sv, err := newSpline(v)
	if err != nil {
		return Patch{}, err
	}
	first, err := su.through(grid)
	if err != nil {
		return Patch{}, err
	}
	second, err := sv.through(turned(first))
	if err != nil {
		return Patch{}, err
	}
	return Patch{Degree: [2]int{su.degree, sv.degree}, Knots: [2][]float64{su.knots, sv.knots}, Control: turned(second)}, nil
}

// turned swaps rows and columns.
func turned(g [][]Vec) [][]Vec {
	out := make([][]Vec, len(g[0]))
	for j := range out {
		out[j] = make([]Vec, len(g))
		for i := range g {
			out[j][i] = g[i][j]
		}
	}
	return out
}

// span is the index of the knot interval that holds t: Piegl and Tiller, algorithm A2.1.
func span(knots []float64, degree, n int, t float64) int {
	k := degree
	for k < n-1 && t >= knots[k+1] {
		k++
	}
	return k
}

// basisAt are the basis functions that are not zero in a span: Piegl and Tiller, algorithm A2.2.
func basisAt(knots []float64, degree, k int, t float64, out *[4]float64) {
	var left, right [4]float64
	out[0] = 1
	for j := 1; j <= degree; j++ {
		left[j], right[j] = t-knots[k+1-j], knots[k+j]-t
		saved := 0.0
		for r := range j {
			x := out[r] / (right[r+1] + left[j-r])
			out[r] = saved + right[r+1]*x
			saved = left[j-r] * x
		}
		out[j] = saved
	}
}

// At is the point at a parameter from 0 to 1.
func (c *Curve) At(t float64) Vec {
	var b [4]float64
	k := span(c.Knots, c.Degree, len(c.Control), t)
	basisAt(c.Knots, c.Degree, k, t, &b)
	var p Vec
	for j := range c.Degree + 1 {
		p = p.Plus(c.Control[k-c.Degree+j].Times(b[j]))
	}
	return p
}

// At is the point at two parameters from 0 to 1.
func (s *Patch) At(u, v float64) Vec {
	var bu, bv [4]float64
	nu, nv := len(s.Control), len(s.Control[0])
	ku, kv := span(s.Knots[0], s.Degree[0], nu, u), span(s.Knots[1], s.Degree[1], nv, v)
	basisAt(s.Knots[0], s.Degree[0], ku, u, &bu)
	basisAt(s.Knots[1], s.Degree[1], kv, v, &bv)
	var p Vec
	for i := range s.Degree[0] + 1 {
		for j := range s.Degree[1] + 1 {
			p = p.Plus(s.Control[ku-s.Degree[0]+i][kv-s.Degree[1]+j].Times(bu[i] * bv[j]))
		}
	}
	return p
}

// slopes are the changes with each parameter, by differences that are exact to some nine digits.
func (s *Patch) slopes(u, v float64) (Vec, Vec) {
	const h = 1e-5
	u0, u1, v0, v1 := math.Max(u-h, 0), math.Min(u+h, 1), math.Max(v-h, 0), math.Min(v+h, 1)
	return s.At(u1, v).Minus(s.At(u0, v)).Times(1 / (u1 - u0)), s.At(u, v1).Minus(s.At(u, v0)).Times(1 / (v1 - v0))
}
