package bench

import (
	"math"
	"testing"
)

// JCGM 101:2008, 9.2: sums of four normal quantities, of four rectangles, and of four rectangles
// one of which is ten times as wide. Exact ends COMPUTED (by the distribution of the sum), the
// Guide's own figures SEEN for the first two and FROM MEMORY for the third.
func TestSimulatedPublished(t *testing.T) {
	four := func(rectangle bool, last float64) []Component {
		c := make([]Component, 4)
		for i := range c {
			c[i] = Component{U: 1, Freedom: math.Inf(1), Rectangle: rectangle}
		}
		c[3].U = last
		return c
	}
	const draws = 1000000
	for _, c := range []struct {
		name       string
		components []Component
		want       float64
		tolerance  float64
	}{
		{"9.2.2 normal", four(false, 1), 3.919928, 0.012},
		{"9.2.3 rectangles", four(true, 1), 3.879406741, 0.012},
		{"9.2.4 one ten times wider", four(true, 10), 17.015814100, 0.03},
	} {
		low, high := Simulated(c.components, 0.95, draws, 1)
		within(t, c.name+", upper", high, c.want, c.tolerance)
		within(t, c.name+", lower", low, -c.want, c.tolerance)
	}
	// By the budget alone the last is taken for normal, and its interval is 17 % too wide.
	u, _ := Combined(four(true, 10))
	within(t, "9.2.4 by the budget", CoverageFactor(0.95, math.Inf(1))*u, 19.9, 0.05)
	low, high := Simulated([]Component{{U: 1, Freedom: 5}}, 0.95, draws, 2)
	within(t, "t of 5 degrees of freedom", 0.5*(high-low), 2.570582, 0.02)
}

// Drawn together, a day's pulls have the covariance that the budgets say: what is shared moves them
// together, what turns with the direction moves them apart.
func TestSimulatedDayLaw(t *testing.T) {
	r, err := Reduce(usual().sources(), ReduceOptions{Run: "day"})
	if err != nil {
		t.Fatal(err)
	}
	const draws = 20000
	rows := SimulatedDay(r.Plateaus, Thrust, draws, 3)
	want := Covariance(r.Plateaus, Thrust)
	n := len(r.Plateaus)
	mean := make([]float64, n)
	for _, row := range rows {
		for a, v := range row {
			mean[a] += v / draws
		}
	}
	for a := range n {
		for b := range n {
			c := 0.0
			for _, row := range rows {
				c += (row[a] - mean[a]) * (row[b] - mean[b]) / (draws - 1)
			}
			scale := math.Sqrt(want.At(a, a) * want.At(b, b))
			if math.Abs(c-want.At(a, b)) > 0.06*scale { // t of few degrees of freedom spreads a little more
				t.Errorf("covariance of %d and %d is %.4g drawn and %.4g by the budgets", a+1, b+1, c, want.At(a, b))
			}
		}
	}
	f, _ := r.Plateaus[0].Figure(Thrust)
	within(t, "mean", mean[0], f.Value, 4*f.StandardUncertainty()/math.Sqrt(draws))
}
