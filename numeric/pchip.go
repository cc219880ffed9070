// Package numeric holds the few solvers that the libraries lack: least squares with exact
// derivatives, a most probable point in standardised unknowns, monotone cubics, rank
// regression.
package numeric

import (
	"errors"
	"math"
	"sort"
)

// PCHIP is a monotone piecewise-cubic interpolant (Fritsch and Carlson, with Brodlie's
// harmonic slopes): between two points it stays between their values.
type PCHIP struct{ x, y, d []float64 }

// Errors of an interpolant's points.
var (
	ErrTooFew    = errors.New("an interpolant needs two points or more")
	ErrNotRising = errors.New("the points of an interpolant rise strictly and are finite")
)

// NewPCHIP makes an interpolant through points whose x rise strictly.
func NewPCHIP(x, y []float64) (*PCHIP, error) {
	n := len(x)
	if n < 2 || len(y) != n {
		return nil, ErrTooFew
	}
	p := &PCHIP{append([]float64(nil), x...), append([]float64(nil), y...), make([]float64, n)}
	h, s := make([]float64, n-1), make([]float64, n-1)
	for i := range h {
		h[i] = x[i+1] - x[i]
		if !(h[i] > 0) || math.IsInf(h[i], 0) || math.IsNaN(y[i]) || math.IsInf(y[i], 0) {
			return nil, ErrNotRising
		}
		s[i] = (y[i+1] - y[i]) / h[i]
	}
	if math.IsNaN(y[n-1]) || math.IsInf(y[n-1], 0) {
		return nil, ErrNotRising
	}
	if n == 2 {
		p.d[0], p.d[1] = s[0], s[0]
		return p, nil
	}
	for i := 1; i < n-1; i++ {
		if s[i-1]*s[i] > 0 {
			a, b := 2*h[i]+h[i-1], h[i]+2*h[i-1]
			p.d[i] = (a + b) / (a/s[i-1] + b/s[i])
		}
	}
	p.d[0] = endSlope(h[0], h[1], s[0], s[1])
	p.d[n-1] = endSlope(h[n-2], h[n-3], s[n-2], s[n-3])
	return p, nil
}

// endSlope is the three-point slope at an end, kept from overshooting.
func endSlope(h0, h1, s0, s1 float64) float64 {
	d := ((2*h0+h1)*s0 - h0*s1) / (h0 + h1)
	switch {
	case d*s0 <= 0:
		return 0
	case s0*s1 <= 0 && math.Abs(d) > 3*math.Abs(s0):
		return 3 * s0
	}
	return d
}

// At returns value and slope, and whether x lies outside the points, where the interpolant goes
// on straight.
//
//	y = y₀·(2u³−3u²+1) + h·d₀·(u³−2u²+u) + y₁·(3u²−2u³) + h·d₁·(u³−u²),  u = (x − x₀)/h
//
//	d₀, d₁  slopes at the ends of the piece
//	h       its length
//
// Holds between the first and the last point.
//
// Source: memory. Tests: TestPCHIPExact, TestPCHIPLaw.
func (p *PCHIP) At(x float64) (y, slope float64, outside bool) {
	n := len(p.x)
	switch {
	case x < p.x[0]:
		return p.y[0] + p.d[0]*(x-p.x[0]), p.d[0], true
	case x > p.x[n-1]:
		return p.y[n-1] + p.d[n-1]*(x-p.x[n-1]), p.d[n-1], true
	}
	i := min(max(sort.SearchFloat64s(p.x, x)-1, 0), n-2)
	h := p.x[i+1] - p.x[i]
	u := (x - p.x[i]) / h
	u2, u3 := u*u, u*u*u
	a, b, da, db := p.y[i], p.y[i+1], h*p.d[i], h*p.d[i+1]
	y = a*(2*u3-3*u2+1) + da*(u3-2*u2+u) + b*(3*u2-2*u3) + db*(u3-u2)
	slope = (6*(a-b)*(u2-u) + da*(3*u2-4*u+1) + db*(3*u2-2*u)) / h
	return y, slope, false
}
