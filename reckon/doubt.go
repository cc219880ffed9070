package reckon

import (
	"fmt"
	"math"
	"sort"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"jetwright/bench"
	"jetwright/notice"
	"jetwright/quantity"
)

// Doubt is a reading that stands off what the rest says of it.
type Doubt struct {
	Place     quantity.Place
	Run, Name string
	Channel   bench.Channel
	Read      float64
	Expected  float64 // by the rest
	U         float64 // standard uncertainty of the difference
	Sigmas    float64
}

// How rare a reading must be before it is named: the bound for all of them together.
const doubtProbability = 0.001

// doubts finds readings that contradict all others and the design together.
//
//	z = r/√(1 − h),  h = (J·(I + JᵀJ)⁻¹·Jᵀ)_ii
//
//	r  residual of the reading at the most probable point, in units of its scatter;  h  its own part in that point
//	J  derivatives of the residuals
//
// So that z is how far the reading lies from what the others say of it. Named beyond the bound that 1 day in 1,000 of sound
// readings passes, corrected for their number.
//
// Source: own. Tests: TestDoubtsLaw.
func (f *Fit) doubts() []Doubt {
	sol := f.solution
	n := len(sol.Residuals)
	if n == 0 {
		return nil
	}
	j := sol.Jacobian()
	var half mat.Dense
	half.Mul(j, sol.Covariance)
	return f.model.far(func(i int) (off, u float64) {
		h := 0.0
		for k := range f.names {
			h += half.At(i, k) * j.At(i, k)
		}
		rest := math.Max(1-h, 1e-9)
		return sol.Residuals[i] / rest, 1 / math.Sqrt(rest)
	})
}

// Rest is how far a reading lies from what the others and the design say of it.
type Rest struct {
	Run, Name string
	Channel   bench.Channel
	Power     float64 // at the battery as read, W; 0 where none was read
	Sigmas    float64
}

// Rests are those of all readings.
func (f *Fit) Rests() []Rest {
	sol, m := f.solution, f.model
	if len(sol.Residuals) == 0 {
		return nil
	}
	j := sol.Jacobian()
	var half mat.Dense
	half.Mul(j, sol.Covariance)
	var out []Rest
	i := 0
	m.allOf(func(_ int, x *prepared) {
		for _, r := range x.rows {
			h := mat.Dot(half.RowView(i), j.RowView(i))
			out = append(out, Rest{x.plateau.Run, x.plateau.Name, r.figure.Channel, x.power, -sol.Residuals[i] / math.Sqrt(math.Max(1-h, 1e-9))})
			i++
		}
	})
	return out
}

// excluded finds readings that the design's tolerances do not allow for, whatever the others say.
//
//	z = r₀/√(1 + Σ J₀²)
//
//	r₀, J₀  residual and derivatives in the middle of all that is assumed
//
// Source: own. Tests: TestDoubtsLaw.
func (m *model) excluded(zero []float64, jacobian *mat.Dense) []Doubt {
	return m.far(func(i int) (off, u float64) {
		square := 1.0
		for k := range m.coords {
			square += jacobian.At(i, k) * jacobian.At(i, k)
		}
		return zero[i], math.Sqrt(square)
	})
}

// far collects rows that are off by more than chance, off and u in units of their own scatter.
func (m *model) far(at func(i int) (off, u float64)) []Doubt {
	var out []Doubt
	bound := -distuv.UnitNormal.Quantile(doubtProbability / 2 / float64(max(m.residuals, 1)))
	i := 0
	m.allOf(func(_ int, x *prepared) {
		if x.left {
			return
		}
		for _, r := range x.rows {
			off, u := at(i)
			i++
			if math.Abs(off)/u < bound {
				continue
			}
			out = append(out, Doubt{
				Place: x.plateau.Place, Run: x.plateau.Run, Name: x.plateau.Name, Channel: r.figure.Channel, Read: r.figure.Value,
				Expected: r.figure.Value + off*r.repeat, U: u * r.repeat, Sigmas: -off / u,
			})
		}
	})
	sort.SliceStable(out, func(a, b int) bool { return math.Abs(out[a].Sigmas) > math.Abs(out[b].Sigmas) })
	return out
}

// doubtNotices names the reading that is furthest off, and how many more are: they may be off because of that one.
func doubtNotices(list []Doubt, against, wayOut string) notice.List {
	if len(list) == 0 {
		return nil
	}
	d := list[0]
	unit := bench.UnitOf(d.Channel)
	rest := ""
	switch n := len(list) - 1; {
	case n == 1:
		rest = "; one more figure is off as well, which may be because of this one"
	case n > 1:
		rest = fmt.Sprintf("; %d more figures are off as well, which may be because of this one", n)
	}
	return notice.List{{
		Kind: notice.Warning, Place: d.Place, Path: "reading",
		What: fmt.Sprintf("the %s of %s contradicts %s by %.1f standard deviations: %s was read where %s is expected%s", d.Channel, d.Name, against, math.Abs(d.Sigmas),
			quantity.Format(d.Read, unit), quantity.Format(d.Expected, unit), rest),
		WayOut: wayOut,
	}}
}

// few says what one reading, or none that can be used, leaves open.
func (m *model) few() notice.List {
	held := 0
	m.allOf(func(_ int, x *prepared) {
		if !x.left {
			held++
		}
	})
	switch {
	case held == 0:
		return notice.List{{
			Kind: notice.Warning, What: "no plateau has both a power or rotor speed and another figure that the model predicts; nothing is learned and every figure stands on the assumptions alone",
			WayOut: "read power and thrust, better rotor speed too, at the same time",
		}}
	case held == 1:
		return notice.List{{
			Kind: notice.Remark, What: "one plateau stands: it tells a level, and nothing shows that it holds at another power; the discrepancy beyond it has its full size",
			WayOut: "read two more steps of power, at least a factor of 2 apart",
		}}
	}
	return nil
}
