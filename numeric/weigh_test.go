package numeric

import (
	"math"
	"testing"
)

// scaled draws two standard normal coordinates from normal ones that are s times as wide, and weighs them.
func scaled(s float64, draws int) Chains {
	return Chains{
		Dimension: 2, Draws: draws, Seed: 11,
		Carry: func(_ int, u, z []float64) float64 {
			w := 0.0
			for j := range u {
				z[j] = s * u[j]
				w += 0.5*u[j]*u[j] - 0.5*z[j]*z[j]
			}
			return w
		},
	}
}

// COMPUTED, by integrals of normal densities: drawing from a normal distribution s times as wide, n independent points are
// worth n·c²/s² of the mean, with c = 2 − 1/s² in one dimension and √c/s less in every further one.
func TestWeighExact(t *testing.T) {
	for _, s := range []float64{1, 1.2, 1.5} {
		out, ok := Weigh(scaled(s, 20000))
		c := 2 - 1/(s*s)
		want := 80000 * c * math.Sqrt(c) / s * math.Sqrt(c) / s
		for j, d := range out.Diagnoses {
			if !ok || math.Abs(d.Bulk/want-1) > 0.03 || math.Abs(d.Mean) > 4*d.Error() || math.Abs(d.SD-1) > 0.02 {
				t.Errorf("s = %g, coordinate %d: %+v, want %.0f; %v", s, j, d, want, ok)
			}
		}
		if out.Evaluations != 80000 {
			t.Errorf("%d points", out.Evaluations)
		}
	}
}

// Weights whose variance has no end are told: drawn from a normal distribution s times as wide the Pareto shape is 1 − s² for s
// below one, by the tail of the normal distribution; and where no point is possible nothing is said.
func TestWeighHeavy(t *testing.T) {
	if out, ok := Weigh(scaled(0.95, 20000)); !ok || out.Shape > 0.3 {
		t.Errorf("a little narrow: shape %.2f, %v", out.Shape, ok)
	}
	if out, ok := Weigh(scaled(0.4, 20000)); ok || out.Shape < 0.5 {
		t.Errorf("far too narrow: shape %.2f, %v", out.Shape, ok)
	}
	never := scaled(1, 100)
	never.Carry = func(int, []float64, []float64) float64 { return math.NaN() }
	if _, ok := Weigh(never); ok {
		t.Error("no point is possible, and something is said")
	}
}

// Systematic choice takes each as often as its weight says, to less than one.
func TestResampledExact(t *testing.T) {
	w := []float64{0.05, 0.5, 0, 0.15, 0.3}
	for _, start := range []float64{0.01, 0.3, 0.99} {
		var count [5]int
		for _, i := range resampled(w, 10, start) {
			count[i]++
		}
		for i, n := range count {
			if math.Abs(float64(n)-10*w[i]) >= 1 {
				t.Errorf("start %g: %v of weights %v", start, count, w)
			}
		}
	}
}
