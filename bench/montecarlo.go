package bench

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"sort"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"jetwright/numeric"
)

// InputQuantity is a quantity that a result rests on: its value, and how it is distributed about it.
type InputQuantity struct {
	Value float64
	Component
}

// sampler draws a component in units of its standard uncertainty: a rectangle for limits, Student's t for what a
// few values tell, a normal otherwise.
func (c Component) sampler(random *rand.Rand) func() float64 {
	switch {
	case c.Rectangle:
		return func() float64 { return math.Sqrt(3) * (2*random.Float64() - 1) }
	case !c.normal():
		return distuv.StudentsT{Sigma: 1, Nu: c.Freedom, Src: random}.Rand
	}
	return random.NormFloat64
}

// normal tells whether a component is drawn as a normal: of so many degrees of freedom t is none else, and
// of two or fewer it has no spread.
func (c Component) normal() bool {
	return !c.Rectangle && (math.IsInf(c.Freedom, 1) || !(c.Freedom > 2 && c.Freedom < 100))
}

// DrawOptions say how a result is drawn.
type DrawOptions struct {
	Share  float64 // of the results that the intervals hold
	Seed   uint64
	Draws  int // how many, if that is not left to the results
	Digits int // significant digits of the standard uncertainty that must stand still; 1 if 0
	Most   int // draws at which it ends all the same; a million if 0
}

// Drawing is a result by drawing.
type Drawing struct {
	Value, U            float64 // mean and standard deviation of the results
	Low, High           float64 // ends of the interval with as much below as above
	ShortLow, ShortHigh float64 // ends of the shortest interval
	Draws               int
	Tolerance           float64 // half a unit of the last digit that counts
	Settled             bool    // mean, deviation and ends stand within that tolerance
}

// Draw propagates the distributions of inputs through a model by drawing them. A correlation is that of normal
// inputs; nil where all are independent. Without a number of draws, blocks of them are drawn until nothing moves.
//
//	stops when 2·s(q)/√h ≤ δ for q = mean, deviation and both ends,  δ = ½·10^l,  u = c·10^l
//
//	h     blocks of max(10000, 100/(1 − p)) draws;  s(q)  standard deviation of q over the blocks
//	c, l  the standard uncertainty written with as many digits as count
//
// Holds for any model that gives a number everywhere. The error says what is missing.
//
// Source: jcgm-101, 7.2 to 7.9. Tests: TestDrawPublished, TestDrawLaw.
func Draw(f func([]float64) float64, inputs []InputQuantity, correlation mat.Symmetric, o DrawOptions) (Drawing, error) {
	var out Drawing
	if !(o.Share > 0 && o.Share < 1) {
		return out, fmt.Errorf("an interval holds a share between 0 and 1 of the results, not %g", o.Share)
	}
	random := rand.New(rand.NewPCG(o.Seed, 101))
	draw := make([]func() float64, len(inputs))
	for i, in := range inputs {
		if !(in.U >= 0) || math.IsInf(in.U, 1) || in.Value != in.Value || math.IsInf(in.Value, 0) {
			return out, fmt.Errorf("input %d has the value %g and the standard uncertainty %g", i+1, in.Value, in.U)
		}
		draw[i] = in.sampler(random)
	}
	mix, err := mixing(inputs, correlation)
	if err != nil {
		return out, err
	}
	digits, most := max(1, o.Digits), o.Most
	if most == 0 {
		most = 1000000
	}
	block := max(10000, int(math.Ceil(100/(1-o.Share))))
	if o.Draws > 0 {
		block = o.Draws
	}
	x, w := make([]float64, len(inputs)), make([]float64, len(inputs))
	var y []float64
	var stats [4][]float64 // of each block
	for {
		from := len(y)
		for range block {
			for i := range w {
				w[i] = 0
				if inputs[i].U > 0 {
					w[i] = draw[i]()
				}
			}
			for i, in := range inputs {
				v := w[i]
				if mix != nil {
					v = 0
					for j := 0; j <= i; j++ {
						v += mix.At(i, j) * w[j]
					}
				}
				x[i] = in.Value + in.U*v
			}
			v := f(x)
			if v != v || math.IsInf(v, 0) {
				return out, fmt.Errorf("the model gives %g at %.6g", v, x)
			}
			y = append(y, v)
		}
		out.Draws = len(y)
		if o.Draws > 0 {
			break
		}
		part := append([]float64(nil), y[from:]...)
		sort.Float64s(part)
		m, sd := numeric.MeanSD(part)
		low, high := coverage(part, o.Share)
		for k, v := range [4]float64{m, sd, low, high} {
			stats[k] = append(stats[k], v)
		}
		h := float64(len(stats[0]))
		if h < 2 {
			continue
		}
		_, between := numeric.MeanSD(stats[0])
		within, _ := numeric.MeanSD(stats[1])
		out.Tolerance = NumericalTolerance(math.Hypot(within, between), digits)
		out.Settled = true
		for _, s := range stats {
			_, sd := numeric.MeanSD(s)
			out.Settled = out.Settled && 2*sd/math.Sqrt(h) <= out.Tolerance
		}
		if out.Settled || len(y)+block > most {
			break
		}
	}
	sort.Float64s(y)
	out.Value, out.U = numeric.MeanSD(y)
	if o.Draws > 0 {
		out.Tolerance = NumericalTolerance(out.U, digits)
	}
	out.Low, out.High = coverage(y, o.Share)
	out.ShortLow, out.ShortHigh = shortest(y, o.Share)
	return out, nil
}

// mixing returns the factor by which independent draws get a correlation; nil where there is none.
func mixing(inputs []InputQuantity, correlation mat.Symmetric) (*mat.TriDense, error) {
	if correlation == nil {
		return nil, nil
	}
	n := len(inputs)
	if correlation.SymmetricDim() != n {
		return nil, errors.New("the correlation has another size than the inputs")
	}
	for i := range n {
		for j := range n {
			switch r := correlation.At(i, j); {
			case i == j && math.Abs(r-1) > 1e-9:
				return nil, fmt.Errorf("input %d has the correlation %g with itself", i+1, r)
			case i != j && r != 0 && !inputs[i].normal():
				return nil, fmt.Errorf("input %d is correlated and not normal", i+1)
			}
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(correlation) {
		return nil, errors.New("the correlations cannot all be: their matrix is not positive definite")
	}
	var l mat.TriDense
	chol.LTo(&l)
	return &l, nil
}

// coverage returns the interval of sorted results with as much below as above.
func coverage(sorted []float64, share float64) (low, high float64) {
	return numeric.Quantile(sorted, (1-share)/2), numeric.Quantile(sorted, (1+share)/2)
}

// shortest returns the shortest interval that holds a share of sorted results.
func shortest(sorted []float64, share float64) (low, high float64) {
	n := len(sorted)
	q := min(n-1, int(share*float64(n)+0.5))
	at := 0
	for r := range n - q {
		if sorted[r+q]-sorted[r] < sorted[at+q]-sorted[at] {
			at = r
		}
	}
	return sorted[at], sorted[at+q]
}

// Holds tells whether an interval found otherwise, by its ends, agrees with the drawn one: both ends within
// the tolerance of the digits that count.
//
//	|y − U − y_low| ≤ δ and |y + U − y_high| ≤ δ
//
// Holds for a drawing that settled.
//
// Source: jcgm-101, 8.1. Tests: TestDrawPublished.
func (d Drawing) Holds(low, high float64) bool {
	return math.Abs(low-d.Low) <= d.Tolerance && math.Abs(high-d.High) <= d.Tolerance
}

// DrawBudget draws the sum of independent components about zero until it stands still.
//
//	δ = Σ_c u_c·w_c,  w_c rectangular on ±√3, t(ν_c), or normal
//
// Holds for any shape, where the combined standard uncertainty alone would take a normal one.
//
// Source: jcgm-101, 5 and 6.4. Tests: TestSimulatedPublished.
func DrawBudget(components []Component, o DrawOptions) (Drawing, error) {
	var inputs []InputQuantity
	for _, c := range components {
		if c.U != 0 {
			inputs = append(inputs, InputQuantity{0, c})
		}
	}
	return Draw(func(x []float64) float64 {
		sum := 0.0
		for _, v := range x {
			sum += v
		}
		return sum
	}, inputs, nil, o)
}

// Simulated returns the interval that holds the share p of the sum of components about zero, by so
// many draws, each by its own distribution.
//
// Source: jcgm-101, 5 and 6.4. Tests: TestSimulatedPublished.
func Simulated(components []Component, p float64, draws int, seed uint64) (low, high float64) {
	d, err := DrawBudget(components, DrawOptions{Share: p, Draws: draws, Seed: seed})
	if err != nil {
		return math.Inf(-1), math.Inf(1) // nothing is known of it
	}
	return d.Low, d.High
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
// Holds for 0 < u; 0 for u = 0.
//
// Source: jcgm-101, 7.9.2. Tests: TestNumericalTolerancePublished.
func NumericalTolerance(u float64, digits int) float64 {
	if !(u > 0) {
		return 0
	}
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
