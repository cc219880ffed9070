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

// SimulatedDay draws the figures of one channel over the plateaus of a day together: what plateaus
// share is drawn once for all of them. It returns a row a draw, a column a plateau, SI; plateaus
// without the channel stay at zero.
//
//	x_a = x̄_a + Σ_c s_ac·u_ac·w_c + Σ_d u_ad·w_ad
//
//	c  components that plateaus share, each with one draw w_c;  d  those of a figure alone
//
// Holds for any shape and any pattern of sharing; its covariance is that of Covariance.
//
// Source: jcgm-101, 6. Tests: TestSimulatedDayLaw.
func SimulatedDay(plateaus []Plateau, c Channel, draws int, seed uint64) [][]float64 {
	random := rand.New(rand.NewPCG(seed, 102))
	out := make([][]float64, draws)
	draw := func(x Component) float64 {
		switch {
		case x.Rectangle:
			return math.Sqrt(3) * (2*random.Float64() - 1)
		case !math.IsInf(x.Freedom, 1) && x.Freedom > 2 && x.Freedom < 100:
			return distuv.StudentsT{Sigma: 1, Nu: x.Freedom, Src: random}.Rand()
		}
		return random.NormFloat64()
	}
	for i := range out {
		row := make([]float64, len(plateaus))
		shared := map[string]float64{}
		for a, p := range plateaus {
			f, ok := p.Figure(c)
			if !ok {
				continue
			}
			row[a] = f.Value
			for _, x := range f.components() {
				w := 0.0
				if x.Shared == "" {
					w = draw(x)
				} else {
					var have bool
					if w, have = shared[x.Shared]; !have {
						w = draw(x)
						shared[x.Shared] = w
					}
				}
				row[a] += x.signed() * w
			}
		}
		out[i] = row
	}
	return out
}
