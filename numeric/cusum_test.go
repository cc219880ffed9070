package numeric

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Average run lengths of charts of cumulative sums. Table 1 of Lucas and Crosier (1982) and the
// values of Brook and Evans (1972), Vance (1986) and Waldmann SEEN as another package's help
// quotes them; more digits and decision values COMPUTED with R's spc at 100 nodes.
func TestCusumRunLengthPublished(t *testing.T) {
	for _, c := range []struct{ shift, four, four6, head, five6 float64 }{
		{0, 168, 167.683789, 149, 465.443506},
		{0.25, 74.2, 74.2240279, 62.7, 139.49369},
		{0.5, 26.6, 26.6302031, 20.1, 37.9961432},
		{0.75, 13.3, 13.2850884, 8.97, 17.0483259},
		{1, 8.38, 8.38313187, 5.29, 10.3759699},
		{1.5, 4.75, 4.7471682, 2.86, 5.7472177},
		{2, 3.34, 3.34277013, 2.01, 4.00887106},
		{3, 2.19, 2.19448091, 1.32, 2.57325205},
		{4, 1.71, 1.70845716, 1.07, 2.01256752},
	} {
		four, err4 := CusumRunLengthBoth(c.shift, 0.5, 4, 0)
		head, errH := CusumRunLengthBoth(c.shift, 0.5, 4, 2)
		five, err5 := CusumRunLengthBoth(c.shift, 0.5, 5, 0)
		if err4 != nil || errH != nil || err5 != nil {
			t.Fatal(err4, errH, err5)
		}
		nearTo(t, "h = 4 as published", four, c.four, 0.006*c.four)
		nearTo(t, "h = 4", four, c.four6, 5e-8*c.four6)
		nearTo(t, "h = 4 with a head start", head, c.head, 0.006*c.head)
		nearTo(t, "h = 5", five, c.five6, 5e-8*c.five6)
	}
	for _, c := range []struct{ shift, k, h, want, tolerance float64 }{
		{0, 0.5, 4, 335.367578, 5e-7},
		{0, 0.5, 5, 930.887012, 5e-7},
		{0.25, 0.5, 4, 77.0785, 5e-5},
		{0, 0.5, 3, 117.59, 0.006}, // Brook and Evans, a Markov chain
		{1.5, 0.5, 3, 3.75, 0.006},
		{-0.25, 0, 10, 2071.51, 0.1}, // Vance, on few points; the others to his last digit
		{0, 0, 10, 124.66, 0.006},
		{0.25, 0, 10, 36.71, 0.006},
		{0.5, 0, 10, 20.37, 0.006},
		{1, 0, 10, 10.75, 0.006},
		{-0.5, 0.5, 3, 1963, 1}, // Waldmann
		{0, 0.5, 3, 117.4, 0.3},
		{0.5, 0.5, 3, 17.35, 0.01},
	} {
		l, err := CusumRunLength(c.shift, c.k, c.h, 0)
		if err != nil {
			t.Fatal(err)
		}
		nearTo(t, "one-sided", l, c.want, c.tolerance)
	}
	const shewhart = 370.4 // values, as a chart of single ones at three standard deviations
	for _, c := range []struct {
		k, length float64
		both      bool
		want      float64
	}{
		{0.5, shewhart, true, 4.774897},
		{0.5, 500, true, 5.070704},
		{0.5, 1000, true, 5.757350},
		{0.5, 1e4, false, 7.360786},
		{0.5, 1e5, false, 9.661700},
		{0.5, 1e6, false, 11.964077},
		{0.25, shewhart, true, 8.010348},
		{0.75, shewhart, true, 3.339688},
		{1, shewhart, true, 2.516793},
	} {
		h, err := CusumDecision(c.k, c.length, c.both)
		if err != nil {
			t.Fatal(err)
		}
		nearTo(t, "decision value", h, c.want, 1e-6)
	}
	for _, c := range [][4]float64{{0, 0.5, 0, 0}, {0, -1, 4, 0}, {0, 0.5, 4, 5}, {math.NaN(), 0.5, 4, 0}, {-8, 0.5, 30, 0}} {
		if l, err := CusumRunLength(c[0], c[1], c[2], c[3]); err == nil {
			t.Errorf("%v has a run length of %g", c, l)
		}
	}
	if _, err := CusumDecision(0.5, 1, true); err == nil {
		t.Error("a chart may tell at every value")
	}
}

// The chart itself runs as long as the integral equation says: 20000 runs, within 4 standard errors.
func TestCusumSynthetic(t *testing.T) {
	random := rand.New(rand.NewPCG(1982, 28))
	for _, c := range []struct{ shift, h, head float64 }{{0, 4, 0}, {0, 4, 2}, {0.5, 4, 0}, {1, 5, 2.5}, {-1, 5, 0}} {
		const runs = 20000
		lengths := make([]float64, runs)
		for i := range lengths {
			chart := Cusum{K: 0.5, H: c.h}
			chart.Start(c.head)
			for lengths[i] = 1; !chart.Add(c.shift + random.NormFloat64()); lengths[i]++ {
			}
		}
		mean, sd := MeanSD(lengths)
		want, err := CusumRunLengthBoth(c.shift, 0.5, c.h, c.head)
		if err != nil {
			t.Fatal(err)
		}
		nearTo(t, "mean run", mean, want, 4*sd/math.Sqrt(runs))
	}
}

func BenchmarkCusumDecision(b *testing.B) {
	for b.Loop() {
		if _, err := CusumDecision(0.5, 1e6, true); err != nil {
			b.Fatal(err)
		}
	}
}
