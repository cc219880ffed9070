package numeric

import (
	"errors"
	"math"
	"sort"
)

// errTail says that a tail cannot be fitted.
var errTail = errors.New("a tail takes twenty different values beyond its threshold")

// tailShare is the share of the values that a tail is fitted to, and tailLeast how many they must be.
const (
	tailShare = 0.1
	tailLeast = 20
)

// TailQuantile returns a high quantile of a sample by a generalised Pareto distribution fitted to its highest tenth by
// probability-weighted moments.
//
//	x_p = u + σ/k·(1 − [(1−p)/φ]^k),  k = a_0/(a_0 − 2a_1) − 2,  σ = 2a_0·a_1/(a_0 − 2a_1)
//	a_0 = mean of y,  a_1 = Σ (1 − (i − 0.35)/n)·y_(i)/n,  y = x − u > 0
//
//	u  the value below which 1 − φ of the sample lies;  φ  a tenth
//	n  values beyond u;  i  their rank from below
//
// Holds for p beyond 1 − φ, tails with k above −0.5. Needs 200 values.
//
// Source: hosking-wallis-1987. Tests: TestTailQuantileExact, TestTailQuantileSynthetic.
func TailQuantile(values []float64, p float64) (float64, error) {
	x := append([]float64(nil), values...)
	sort.Float64s(x)
	n := int(math.Round(tailShare * float64(len(x))))
	if n < tailLeast || !(p > 1-tailShare) || !(p < 1) {
		return 0, errTail
	}
	u := 0.5 * (x[len(x)-n-1] + x[len(x)-n])
	y := x[len(x)-n:]
	a0, a1 := paretoMoments(y, u)
	scale := math.Max(math.Abs(x[0]), math.Abs(x[len(x)-1]))
	if !(a0 > 1e-13*scale) || !(a0 > 2*a1) {
		if a0 <= 1e-13*scale {
			return x[len(x)-1], nil // the highest tenth is one value
		}
		return 0, errTail
	}
	k, sigma := paretoOf(a0, a1)
	q := (1 - p) / (float64(n) / float64(len(x)))
	if math.Abs(k) < 1e-9 {
		return u - sigma*math.Log(q), nil
	}
	return u + sigma/k*(1-math.Pow(q, k)), nil
}

// paretoMoments are the probability-weighted moments a_0 and a_1 of rising values over a threshold.
func paretoMoments(y []float64, u float64) (a0, a1 float64) {
	n := float64(len(y))
	for i, v := range y {
		a0 += (v - u) / n
		a1 += (1 - (float64(i+1)-0.35)/n) * (v - u) / n
	}
	return a0, a1
}

func paretoOf(a0, a1 float64) (k, sigma float64) {
	return a0/(a0-2*a1) - 2, 2 * a0 * a1 / (a0 - 2*a1)
}
