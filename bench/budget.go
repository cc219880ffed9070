package bench

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Combined returns the combined standard uncertainty of independent components and its
// effective degrees of freedom.
//
//	u = √Σu_i²,  ν = u⁴/Σ(u_i⁴/ν_i)
//
//	u_i  standard uncertainty of a component, in the unit of the result
//	ν_i  its degrees of freedom; infinite where it is known from elsewhere than a sample
//
// Holds for independent components; where few degrees of freedom and large shares meet, ν is itself rough.
//
// Source: jcgm-100, G.4.1. Tests: TestBudgetPublished.
func Combined(components []Component) (u, freedom float64) {
	square, fourth := 0.0, 0.0
	for _, c := range components {
		square += c.U * c.U
		if c.Freedom > 0 && !math.IsInf(c.Freedom, 1) {
			fourth += c.U * c.U * c.U * c.U / c.Freedom
		}
	}
	if fourth == 0 {
		return math.Sqrt(square), math.Inf(1)
	}
	return math.Sqrt(square), square * square / fourth
}

// CoverageFactor returns the factor that widens a standard uncertainty to a two-sided interval.
//
//	k = t_(1+p)/2(⌊ν⌋)
//
//	p  level of confidence, -
//	ν  effective degrees of freedom, cut to the whole number below
//
// Holds where the result is near to normal; 1 ≤ ν.
//
// Source: jcgm-100, G.3.4 and G.6.4. Tests: TestBudgetPublished.
func CoverageFactor(p, freedom float64) float64 {
	if math.IsInf(freedom, 1) || freedom > 1e6 {
		return distuv.UnitNormal.Quantile((1 + p) / 2)
	}
	return distuv.StudentsT{Sigma: 1, Nu: math.Max(1, math.Floor(freedom))}.Quantile((1 + p) / 2)
}

// Propagate returns a result's value and standard uncertainty from its inputs and their
// covariance, by central differences.
//
//	u² = Σ_i Σ_j ∂f/∂x_i·∂f/∂x_j·u(x_i, x_j)
//
// Holds where f is near to straight over the inputs' uncertainty. The error says that the
// shapes do not match.
//
// Source: jcgm-100, 5.2.2. Tests: TestPropagatePublished.
func Propagate(f func([]float64) float64, x []float64, covariance mat.Symmetric) (y, u float64, err error) {
	g, err := gradient(f, x, covariance)
	if err != nil {
		return 0, 0, err
	}
	v := mat.NewVecDense(len(x), g)
	return f(x), math.Sqrt(math.Max(0, mat.Inner(v, covariance, v))), nil
}

// PropagatedCovariance returns the covariance of two results of the same inputs.
//
//	u(f, g) = Σ_i Σ_j ∂f/∂x_i·∂g/∂x_j·u(x_i, x_j)
//
// Holds as Propagate does.
//
// Source: jcgm-100, F.1.2.3 and H.2.3. Tests: TestPropagatePublished.
func PropagatedCovariance(f, g func([]float64) float64, x []float64, covariance mat.Symmetric) (float64, error) {
	a, err := gradient(f, x, covariance)
	if err != nil {
		return 0, err
	}
	b, err := gradient(g, x, covariance)
	if err != nil {
		return 0, err
	}
	return mat.Inner(mat.NewVecDense(len(x), a), covariance, mat.NewVecDense(len(x), b)), nil
}

func gradient(f func([]float64) float64, x []float64, covariance mat.Symmetric) ([]float64, error) {
	if covariance.SymmetricDim() != len(x) {
		return nil, errors.New("the covariance has another size than the inputs")
	}
	g := make([]float64, len(x))
	at := append([]float64(nil), x...)
	for i := range x {
		// A thousandth of the uncertainty is small against the bend of f, and a millionth of the value is
		// large against rounding.
		h := 1e-3 * math.Sqrt(covariance.At(i, i))
		if h == 0 {
			continue
		}
		h = math.Max(h, 1e-6*math.Abs(x[i]))
		at[i] = x[i] + h
		up := f(at)
		at[i] = x[i] - h
		g[i] = (up - f(at)) / (2 * h)
		at[i] = x[i]
	}
	return g, nil
}

// Covariance returns the covariance of one channel's figures over plateaus: what shares an
// instrument, a tare or the carriage's friction moves together.
//
//	u(x_a, x_b) = Σ_c s_ac·s_bc·u_ac·u_bc over shared c,  u(x_a, x_a) = Σ_c u_ac²
//
//	u_ac  standard uncertainty that c gives figure a, SI;  s  its sign, 1 or −1
//
// Plateaus without the channel have a row of zeros.
//
// Source: jcgm-100, F.1.2.3. Tests: TestCovarianceExact.
func Covariance(plateaus []Plateau, c Channel) *mat.SymDense {
	if len(plateaus) == 0 {
		return nil
	}
	out := mat.NewSymDense(len(plateaus), nil)
	for a := range plateaus {
		fa, ok := plateaus[a].Figure(c)
		if !ok {
			continue
		}
		out.SetSym(a, a, fa.StandardUncertainty()*fa.StandardUncertainty())
		for b := a + 1; b < len(plateaus); b++ {
			fb, ok := plateaus[b].Figure(c)
			if !ok {
				continue
			}
			sum := 0.0
			for _, x := range fa.components() {
				for _, y := range fb.components() {
					if x.Shared != "" && x.Shared == y.Shared {
						sum += x.signed() * y.signed()
					}
				}
			}
			out.SetSym(a, b, sum)
		}
	}
	return out
}

// MovingWater joins what the plateaus of a run say of moving water, weighted by their uncertainty.
func MovingWater(plateaus []Plateau) Moving {
	var sum, weight float64
	for _, p := range plateaus {
		if m := p.Moving; m.Known && m.U > 0 {
			sum += m.Change / (m.U * m.U)
			weight += 1 / (m.U * m.U)
		}
	}
	if weight == 0 {
		return Moving{}
	}
	return Moving{true, sum / weight, 1 / math.Sqrt(weight)}
}

// signed returns the component with its sign.
func (c Component) signed() float64 {
	if c.Against {
		return -c.U
	}
	return c.U
}

// components returns what a figure's uncertainty is made of; that of a typed reading is its
// instrument and its own scatter.
func (f Figure) components() []Component {
	if f.Budget != nil {
		return f.Budget
	}
	u := f.Limits / math.Sqrt(3)
	if f.Standard {
		u = f.Limits
	}
	return []Component{
		{Name: "instrument", Rectangle: !f.Standard, U: u, Freedom: math.Inf(1), Shared: f.SharedName()},
		{Name: "scatter", U: f.Repeat, Freedom: math.Inf(1)},
	}
}

// instrumentWord begins the name of a component that is the limits of an instrument.
const instrumentWord = "instrument"

// SharedName names the instrument whose limits all figures of one channel share.
func (f Figure) SharedName() string { return string(f.Channel) + " by " + f.Instrument }
