package numeric

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Cusum is a two-sided chart of cumulative sums of standardised values: it tells that their mean
// has moved.
type Cusum struct {
	K, H     float64
	Up, Down float64 // the sums; begun at a head start, the chart tells sooner what is there from the beginning
	Rising   int     // values since the upper sum was last zero
	Falling  int     // values since the lower sum was last zero
}

// Add takes a value and tells whether one of the sums has passed the decision value.
//
//	S⁺ ← max(0, S⁺ + z − k),  S⁻ ← max(0, S⁻ − z − k),  a sum above h tells
//
//	z  value, standard deviations
//	k  reference value, half of the shift that it is quickest for, standard deviations
//	h  decision value, standard deviations
//
// Holds for independent values of standard deviation 1; its run lengths are those of CusumRunLength.
//
// Source: page-1954. Tests: TestCusumSynthetic.
func (c *Cusum) Add(z float64) bool { return c.AddWithin(z, z) }

// AddWithin is Add for a mean that may lie anywhere between two bounds: z as it stands against the upper bound and
// against the lower one.
func (c *Cusum) AddWithin(above, below float64) bool {
	c.Up, c.Rising = step(c.Up+above-c.K, c.Rising)
	c.Down, c.Falling = step(c.Down-below-c.K, c.Falling)
	return c.Up > c.H || c.Down > c.H
}

func step(sum float64, since int) (float64, int) {
	if sum <= 0 {
		return 0, 0
	}
	return sum, since + 1
}

// Start sets both sums, to 0 or to a head start, and counts anew.
func (c *Cusum) Start(head float64) { c.Up, c.Down, c.Rising, c.Falling = head, head, 0, 0 }

// cusumNodes is how many points carry the integral equation: at h = 20 a hundred and at h = 4 forty give
// nine digits.
const cusumNodes = 100

// CusumRunLength returns how many values a one-sided chart takes on average until it tells, from a head start.
//
//	L(s) = 1 + L(0)·Φ(k − s − δ) + ∫₀ʰ L(y)·φ(y + k − s − δ) dy
//
//	δ  mean of the values, standard deviations;  k, h  reference and decision value
//	s  head start, 0 to h
//
// Holds for independent normal values. Solved on Gauss-Legendre points. The error says what cannot be.
//
// Source: vance-1986, lucas-crosier-1982. Tests: TestCusumRunLengthPublished.
func CusumRunLength(shift, k, h, head float64) (float64, error) {
	at, err := cusumLengths(shift, k, h, head)
	return at[1], err
}

// cusumLengths returns the run lengths of a one-sided chart from zero and from a head start.
func cusumLengths(shift, k, h, head float64) (at [2]float64, err error) {
	if !(h > 0) || !(k >= 0) || !(head >= 0) || head > h || shift != shift || math.IsInf(shift, 0) || math.IsInf(h+k, 0) {
		return at, errors.New("a chart needs a decision value above 0, a reference value of 0 or more and a head start between 0 and the decision value")
	}
	const n = cusumNodes
	var y, w [n]float64
	quad.Legendre{}.FixedLocations(y[:], w[:], 0, h)
	// The last unknown is the length from zero, which the sum meets with a probability of its own.
	row := func(s float64, out []float64) {
		for j := range n {
			out[j] = w[j] * distuv.UnitNormal.Prob(y[j]+k-s-shift)
		}
		out[n] = distuv.UnitNormal.CDF(k - s - shift)
	}
	a := mat.NewDense(n+1, n+1, nil)
	one := mat.NewVecDense(n+1, nil)
	r := make([]float64, n+1)
	for i := range n + 1 {
		s := 0.0
		if i < n {
			s = y[i]
		}
		row(s, r)
		for j := range r {
			a.Set(i, j, -r[j])
		}
		a.Set(i, i, 1+a.At(i, i))
		one.SetVec(i, 1)
	}
	var l mat.VecDense
	if err := l.SolveVec(a, one); err != nil {
		var bad mat.Condition
		if !errors.As(err, &bad) || math.IsInf(float64(bad), 1) {
			return at, errors.New("the chart hardly ever tells; its run length is beyond what can be worked out")
		}
	}
	row(head, r)
	at[0], at[1] = l.AtVec(n), 1
	for j := range r {
		at[1] += r[j] * l.AtVec(j)
	}
	if !(at[0] >= 1) || !(at[1] >= 1) {
		return at, errors.New("the chart hardly ever tells; its run length is beyond what can be worked out")
	}
	return at, nil
}

// CusumRunLengthBoth returns how many values a two-sided chart takes on average until it tells, both
// sums from one head start.
//
//	L = (L⁺(s)·L⁻(0) + L⁻(s)·L⁺(0) − L⁺(0)·L⁻(0))/(L⁺(0) + L⁻(0))
//
// Holds where the one sum cannot tell before the other is back at zero: head starts of h/2 and any k of ordinary size.
//
// Source: lucas-crosier-1982. Tests: TestCusumRunLengthPublished.
func CusumRunLengthBoth(shift, k, h, head float64) (float64, error) {
	up, err := cusumLengths(shift, k, h, head)
	if err != nil {
		return 0, err
	}
	down, err := cusumLengths(-shift, k, h, head)
	if err != nil {
		// A sum that is driven away from its bound never tells: the other one alone does.
		if math.Abs(shift) > 0 {
			return up[1], nil
		}
		return 0, err
	}
	return (up[1]/up[0] + down[1]/down[0] - 1) / (1/up[0] + 1/down[0]), nil
}

// CusumDecision returns the decision value at which a chart that nothing moves tells once in so many
// values on average.
//
// Holds for 2 to 1e9 values. The error says what cannot be.
//
// Source: vance-1986. Tests: TestCusumRunLengthPublished.
func CusumDecision(k, length float64, bothSides bool) (float64, error) {
	if !(length >= 2) || length > 1e9 || !(k > 0) {
		return 0, errors.New("a chart tells once in 2 to 1e9 values, and its reference value is above 0")
	}
	if bothSides {
		length *= 2 // each side tells half of the times
	}
	// The logarithm of the length is nearly straight in h: a secant held between two bounds.
	want := math.Log(length)
	low, high := 0.0, math.Inf(1)
	h, before, was := 1.0, 0.0, -math.Log(distuv.UnitNormal.Survival(k))
	for range 100 {
		l, err := CusumRunLength(0, k, h, 0)
		if err != nil {
			return 0, err
		}
		now := math.Log(l)
		if now < want {
			low = h
		} else {
			high = h
		}
		next := h + (want-now)*(h-before)/(now-was)
		if !(next > low && next < high) {
			next = 0.5 * (low + min(high, 2*low+2))
		}
		if math.Abs(next-h) <= 1e-9*h {
			return next, nil
		}
		before, was, h = h, now, next
	}
	return 0, errors.New("the decision value did not settle")
}
