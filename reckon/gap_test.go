package reckon

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"jetwright/numeric"
)

// The scores are Student's t of the same rank, and the drift has the standard deviation that is stated.
func TestGapExact(t *testing.T) {
	for _, freedom := range []float64{gapFreedom, gapFreedom + 1} {
		student := distuv.StudentsT{Sigma: 1, Nu: freedom}
		for z := -6.9; z < 7; z += 0.0731 {
			want := student.Quantile(distuv.UnitNormal.CDF(z))
			if z > 0 {
				want = -student.Quantile(distuv.UnitNormal.CDF(-z))
			}
			if got := studentsTAt(z, freedom); math.Abs(got-want) > 1e-7*(1+math.Abs(want)) {
				t.Errorf("%g of %g degrees: %.10f, exact %.10f", z, freedom, got, want)
			}
		}
	}
	if got := driftOf(distuv.UnitNormal.Quantile(0.95)); math.Abs(got-0.05*math.Sqrt(4.0/6)*1.9431802805153) > 1e-9 {
		t.Errorf("95 %% of the drift: %.12f", got) // t of 0.95 with 6 degrees of freedom is 1.943 in every table
	}
	b := beyondAt(4000, 1000, false, nil)
	if b.deviation != Discrepancy(4000, 1000, false) || math.Abs(b.whole()-0.13) > 1e-12 {
		t.Errorf("without a ladder: %+v, whole %.6f", b, b.whole())
	}
	b = beyondAt(4000, 1000, false, []float64{0})
	if want := math.Sqrt(0.13*0.13 - 0.1*0.1); math.Abs(b.deviation-want) > 1e-12 {
		t.Errorf("what is new beside a drift: %.6f, want %.6f", b.deviation, want)
	}
	if loss := b.breakLoss(math.Exp(-0.1), 0.5); math.Abs(loss-0.5*math.Ln2) > 1e-12 { // begins one doubling on, of two
		t.Errorf("a break: %.6f", loss)
	}
	if steps, ratio := ladderSteps([]float64{1000, 1020, 2000, 3000, 2980}); steps != 3 || ratio != 3 {
		t.Errorf("%d steps over %g", steps, ratio)
	}
}

// The size after a drift is known, against plain drawing: κ² inverse gamma, drifts near to the one that was seen.
func TestGapSizeLaw(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 9))
	for _, drift := range []float64{0, 0.05, 0.12} {
		var square, count float64
		for range 2_000_000 {
			k2 := 2 / (distuv.Gamma{Alpha: 3, Beta: 1, Src: rng}).Rand()
			if d := 0.05 * math.Sqrt(k2) * rng.NormFloat64(); math.Abs(math.Abs(d)-drift) < 0.002 {
				square += k2
				count++
			}
		}
		got, want := sizeAfter(drift).standardDeviation(), math.Sqrt(square/count)
		if math.Abs(got/want-1) > 0.03 {
			t.Errorf("a drift of %g: size %.4f, drawn %.4f from %.0f", drift, got, want, count)
		}
	}
}

// The "simple machine" of Brynjarsdóttir and O'Hagan: work 0.65·x/(1 + x/20) for an effort x, modelled as θ·x, learned from
// efforts up to 4 and asked at 6. SEEN in two repositories; σ = 0.01 and 11 points FROM MEMORY (medium to high); the least squares of
// the noiseless points, 0.5625992723, and the naive prediction 3.3756 ± 0.0147 COMPUTED. Without a discrepancy the interval misses
// the truth by far, and with ours it holds it.
func TestSimpleMachinePublished(t *testing.T) {
	const sigma, at, truth = 0.01, 6.0, 3.0
	var x, y []float64
	for i := range 11 {
		x = append(x, 0.2+3.8*float64(i)/10)
		y = append(y, 0.65*x[i]/(1+x[i]/20))
	}
	highest := x[len(x)-1]
	// θ is given a wide normal prior; efficiency is work over effort, so the discrepancy is of its logarithm.
	theta := func(z float64) float64 { return 0.6 + 10*z }
	fit := func(gap bool) (*numeric.MAPSolution, func(z []float64, x float64) float64) {
		work := func(z []float64, x float64) float64 {
			w := theta(z[0]) * x
			if gap {
				w *= math.Exp(driftOf(z[1]) * math.Log2(x/highest))
			}
			return w
		}
		residual := func(dst, z []float64) error {
			for i := range x {
				dst[i] = (work(z, x[i]) - y[i]) / sigma
			}
			return nil
		}
		sol, err := numeric.GaussNewtonMAP(numeric.MAPProblem{
			Dimension: 2, Residuals: len(x), Residual: residual,
			Jacobian: func(dst *mat.Dense, z []float64) error {
				const h = 1e-6
				up, down := make([]float64, len(x)), make([]float64, len(x))
				for j := range 2 {
					p := append([]float64(nil), z...)
					p[j] += h
					_ = residual(up, p)
					p[j] -= 2 * h
					_ = residual(down, p)
					for i := range x {
						dst.Set(i, j, (up[i]-down[i])/(2*h))
					}
				}
				return nil
			},
		})
		if err != nil {
			t.Fatal(err)
		}
		return sol, work
	}
	plain, work := fit(false)
	if got := theta(plain.Z[0]); math.Abs(got-0.5625992723) > 1e-6 {
		t.Errorf("the fit without a discrepancy: %.9f, least squares 0.5625992723", got)
	}
	sd := at * 10 * math.Sqrt(plain.Covariance.At(0, 0))
	if p := work(plain.Z, at); math.Abs(p-3.3756) > 1e-4 || math.Abs(1.96*sd-0.0147) > 2e-4 {
		t.Errorf("the naive prediction is %.4f ± %.4f, published 3.3756 ± 0.0147", p, 1.96*sd)
	} else if off := (p - truth) / sd; off < 20 {
		t.Errorf("without a discrepancy the truth is only %.1f standard deviations off", off)
	}
	with, work := fit(true)
	rng := rand.New(rand.NewPCG(6, 11))
	const n = 4000
	drawn, drifts := make([]float64, n), make([]float64, n)
	for i := range drawn {
		z := with.Draw([]float64{rng.NormFloat64(), rng.NormFloat64()})
		drawn[i], drifts[i] = theta(z[0])*at, driftOf(z[1])
	}
	gap := beyondAt(at, highest, false, drifts)
	for i := range drawn {
		mean, scale, freedom := gap.shift(i, false)
		drawn[i] *= math.Exp(mean + scale*studentsTAt(rng.NormFloat64(), freedom) - gap.breakLoss(rng.Float64(), rng.Float64()))
	}
	d := numeric.Diagnose([][]float64{drawn})
	below := 0.0
	for _, w := range drawn {
		if w < truth {
			below += 1.0 / n
		}
	}
	t.Logf("without a discrepancy %.3f ± %.3f, with one %.3f ± %.3f; truth %.3f at %.1f %% of it", work(plain.Z, at), sd, d.Mean, d.SD, truth, 100*below)
	if below < 0.05 || below > 0.95 {
		t.Errorf("with a discrepancy the truth lies at %.1f %% of the prediction", 100*below)
	}
}
