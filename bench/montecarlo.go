package bench

import (
	"math"
	"math/rand/v2"
	"sort"

	"gonum.org/v1/gonum/stat/distuv"

	"jetwright/numeric"
)

// Simulated returns the interval that holds the share p of the sum of components about zero, each
// drawn by its own distribution: a rectangle for limits, Student's t for what a few values tell, a
// normal otherwise.
//
//	δ = Σ_c u_c·w_c,  w_c rectangular on ±√3, t(ν_c), or normal
//
// Holds for any shape, where the combined standard uncertainty alone would take a normal one.
//
// Source: jcgm-101, 5 and 6.4. Tests: TestSimulatedPublished.
func Simulated(components []Component, p float64, draws int, seed uint64) (low, high float64) {
	random := rand.New(rand.NewPCG(seed, 101))
	sum := make([]float64, draws)
	for _, c := range components {
		if c.U == 0 {
			continue
		}
		t := distuv.StudentsT{Sigma: 1, Nu: c.Freedom, Src: random}
		for i := range sum {
			switch {
			case c.Rectangle:
				sum[i] += c.U * math.Sqrt(3) * (2*random.Float64() - 1)
			case !math.IsInf(c.Freedom, 1) && c.Freedom > 2 && c.Freedom < 100:
				sum[i] += c.U * t.Rand()
			default:
				sum[i] += c.U * random.NormFloat64()
			}
		}
	}
	sort.Float64s(sum)
	return numeric.Quantile(sum, (1-p)/2), numeric.Quantile(sum, (1+p)/2)
}
