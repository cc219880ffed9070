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
	d := newDrawnDay(plateaus, c)
	random := rand.New(rand.NewPCG(seed, 102))
	out := make([][]float64, draws)
	for i := range out {
		out[i] = make([]float64, len(plateaus))
		d.draw(out[i], make([]float64, d.shared), random)
	}
	return out
}

// drawnDay is one channel over the plateaus of a day, ready to be drawn together.
type drawnDay struct {
	values []float64
	parts  []drawnPart // of one plateau after the other
	shared int         // parts that plateaus share
}

// drawnPart is a component of one figure; what it shares with others is drawn at its first, for all.
type drawnPart struct {
	Component
	plateau int
	shared  int // index, −1 if it is the figure's alone
	first   bool
}

func newDrawnDay(plateaus []Plateau, c Channel) *drawnDay {
	d := &drawnDay{values: make([]float64, len(plateaus))}
	names := map[string]int{}
	for a, p := range plateaus {
		f, ok := p.Figure(c)
		if !ok {
			continue
		}
		d.values[a] = f.Value
		for _, x := range f.components() {
			part := drawnPart{Component: x, plateau: a, shared: -1, first: true}
			if x.Shared != "" {
				k, have := names[x.Shared]
				if !have {
					k = len(names)
					names[x.Shared] = k
				}
				part.shared, part.first = k, !have
			}
			d.parts = append(d.parts, part)
		}
	}
	d.shared = len(names)
	return d
}

// draw draws a day into a row; shared is room for what plateaus share.
func (d *drawnDay) draw(row, shared []float64, random *rand.Rand) {
	copy(row, d.values)
	for i := range d.parts {
		x := &d.parts[i]
		w := 0.0
		if x.shared < 0 || x.first {
			switch {
			case x.Rectangle:
				w = math.Sqrt(3) * (2*random.Float64() - 1)
			case !math.IsInf(x.Freedom, 1) && x.Freedom > 2 && x.Freedom < 100:
				w = distuv.StudentsT{Sigma: 1, Nu: x.Freedom, Src: random}.Rand()
			default:
				w = random.NormFloat64()
			}
		}
		if x.shared >= 0 {
			if x.first {
				shared[x.shared] = w
			}
			w = shared[x.shared]
		}
		row[x.plateau] += x.signed() * w
	}
}

// NumericalTolerance returns what a standard uncertainty that is given to a number of digits leaves open,
// in its own unit.
//
//	u = c·10^l,  δ = 10^l/2
//
//	c  the whole number of so many digits that u is rounded to
//
// Holds for 0 < u.
//
// Source: jcgm-101, 7.9.2. Tests: TestNumericalTolerancePublished.
func NumericalTolerance(u float64, digits int) float64 {
	l := math.Floor(math.Log10(u)) - float64(digits-1)
	if math.Round(u/math.Pow(10, l)) >= math.Pow(10, float64(digits)) {
		l++
	}
	return math.Pow(10, l) / 2
}

// Verdicts of a comparison.
const (
	Agrees  = "agrees"
	Differs = "differs"
	Open    = "open" // the draws do not tell which
)

// Validation holds the interval of a figure's budget against that of the whole day drawn together.
type Validation struct {
	Plateau             int     // index
	Low, High           float64 // by the budget, SI
	DrawnLow, DrawnHigh float64 // SI
	ULow, UHigh         float64 // standard uncertainties of the drawn ends, SI
	Tolerance           float64 // by which the ends may differ, SI
	Verdict             string
	Draws               int
}

// Share is the drawn interval's width over that of the budget.
func (v Validation) Share() float64 { return (v.DrawnHigh - v.DrawnLow) / (v.High - v.Low) }

// How a comparison is drawn. Our own.
const (
	validationBlock = 5000 // draws of a block, each of which gives the ends of every interval once
	validationLot   = 8    // blocks that are drawn at once
	validationMost  = 48   // blocks
	validationZ     = 2.0  // standard uncertainties of a drawn end by which it must be clear
)

// Validate holds the interval of every figure's budget at the level p against that of the whole day
// drawn together.
//
//	d_low = |y − U_p − y_low|,  d_high = |y + U_p − y_high|,  agrees if both are at most δ
//
//	U_p  half-width by the budget;  y_low, y_high  ends that leave (1 − p)/2 of the draws outside on either side
//	δ    what two digits of the standard uncertainty leave open
//
// Draws are added until every end is clear of δ by twice its own standard uncertainty, 240 000 at most; what is not
// clear by then is open. Figures without an uncertainty are left out.
//
// Source: jcgm-101, 7.9 and 8. Tests: TestValidatePublished, TestValidateLaw.
func Validate(plateaus []Plateau, c Channel, p float64, seed uint64) []Validation {
	d := newDrawnDay(plateaus, c)
	var out []Validation
	for a, pl := range plateaus {
		f, ok := pl.Figure(c)
		if !ok {
			continue
		}
		u, freedom := Combined(f.components())
		if !(u > 0) {
			continue
		}
		half := CoverageFactor(p, freedom) * u
		out = append(out, Validation{Plateau: a, Low: f.Value - half, High: f.Value + half, Tolerance: NumericalTolerance(u, 2), Verdict: Open})
	}
	ends := make([][][2]float64, 0, validationMost) // block × figure
	for len(out) > 0 && len(ends) < validationMost {
		lot := make([][][2]float64, validationLot)
		numeric.Parallel(validationLot, func(k int) {
			random := rand.New(rand.NewPCG(seed, uint64(1000+len(ends)+k)))
			columns := make([][]float64, len(out))
			for i := range columns {
				columns[i] = make([]float64, validationBlock)
			}
			row, shared := make([]float64, len(plateaus)), make([]float64, d.shared)
			for j := range validationBlock {
				d.draw(row, shared, random)
				for i := range out {
					columns[i][j] = row[out[i].Plateau]
				}
			}
			lot[k] = make([][2]float64, len(out))
			for i, x := range columns {
				sort.Float64s(x)
				lot[k][i] = [2]float64{numeric.Quantile(x, (1-p)/2), numeric.Quantile(x, (1+p)/2)}
			}
		})
		ends = append(ends, lot...)
		clear := true
		for i := range out {
			out[i].judge(ends, i)
			clear = clear && out[i].Verdict != Open
		}
		if clear {
			break
		}
	}
	return out
}

// judge compares the ends by all blocks.
func (v *Validation) judge(blocks [][][2]float64, i int) {
	low, high := make([]float64, len(blocks)), make([]float64, len(blocks))
	for k, b := range blocks {
		low[k], high[k] = b[i][0], b[i][1]
	}
	n := math.Sqrt(float64(len(blocks)))
	v.Draws = len(blocks) * validationBlock
	v.DrawnLow, v.ULow = numeric.MeanSD(low)
	v.DrawnHigh, v.UHigh = numeric.MeanSD(high)
	v.ULow, v.UHigh = v.ULow/n, v.UHigh/n
	dl, dh := math.Abs(v.Low-v.DrawnLow), math.Abs(v.High-v.DrawnHigh)
	switch {
	case dl-validationZ*v.ULow > v.Tolerance || dh-validationZ*v.UHigh > v.Tolerance:
		v.Verdict = Differs
	case dl+validationZ*v.ULow <= v.Tolerance && dh+validationZ*v.UHigh <= v.Tolerance:
		v.Verdict = Agrees
	default:
		v.Verdict = Open
	}
}
