package numeric

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// A bent posterior walked in the coordinates of leaps, against plain rejection; where residuals are straight every leap is a
// draw and its excess the same.
func TestLeapLaw(t *testing.T) {
	residual := func(bend float64) func(dst, z []float64) error {
		return func(dst, z []float64) error {
			dst[0] = (z[1] - bend*z[0]*z[0] + 0.4) / 0.25
			dst[1] = (math.Exp(bend*0.5*z[0]) + z[2] - 1.2) / 0.5
			return nil
		}
	}
	along := func(r func(dst, z []float64) error) func(dst *mat.Dense, z []float64, directions *mat.Dense) error {
		return func(dst *mat.Dense, z []float64, directions *mat.Dense) error {
			const h = 1e-5
			_, n := directions.Dims()
			up, down, at := make([]float64, 2), make([]float64, 2), make([]float64, len(z))
			for d := range n {
				for j := range at {
					at[j] = z[j] + h*directions.At(j, d)
				}
				_ = r(up, at)
				for j := range at {
					at[j] = z[j] - h*directions.At(j, d)
				}
				_ = r(down, at)
				for i := range up {
					dst.Set(i, d, (up[i]-down[i])/(2*h))
				}
			}
			return nil
		}
	}
	make_ := func(bend float64) (*Leaper, *MAPSolution, func(dst, z []float64) error) {
		r := residual(bend)
		unit := mat.NewDense(4, 4, nil)
		for j := range 4 {
			unit.Set(j, j, 1)
		}
		sol, err := GaussNewtonMAP(MAPProblem{
			Dimension: 4, Residuals: 2, Residual: r,
			Jacobian: func(dst *mat.Dense, z []float64) error { return along(r)(dst, z, unit) },
		})
		if err != nil {
			t.Fatal(err)
		}
		l, ok := NewLeaper(sol, r, func(dst *mat.Dense, at, z []float64, directions *mat.Dense) error {
			_ = r(at, z)
			return along(r)(dst, z, directions)
		})
		if !ok {
			t.Fatal("no leaper")
		}
		return l, sol, r
	}
	rng := rand.New(rand.NewPCG(21, 22))
	flat, _, _ := make_(0)
	z := make([]float64, 4)
	first := 0.0
	for i := range 20 {
		e, ok := flat.Leap(z, []float64{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()})
		if i == 0 {
			first = e
		}
		if !ok || math.Abs(e-first) > 1e-5 {
			t.Fatalf("straight residuals: excess %.9f, then %.9f", first, e)
		}
	}
	bent, _, r := make_(0.5)
	chains := Chains{
		Dimension: 4, Warm: 20, Draws: 3000, Effective: 3000, Most: 12000, Seed: 3,
		Carry: func(_ int, u, z []float64) float64 {
			if e, ok := bent.Leap(z, u); ok {
				return e
			}
			return math.Inf(-1)
		},
	}
	out := Sample(chains)
	weighed, ok := Weigh(chains)
	if !ok || !weighed.Reached || !weighed.Weighted {
		t.Errorf("weighed: %v, shape %.2f, %+v", ok, weighed.Shape, weighed.Diagnoses)
	}
	dst := make([]float64, 2)
	var sum, square [4]float64
	count := 0.0
	for count < 20000 {
		z := []float64{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}
		_ = r(dst, z)
		if math.Log(rng.Float64()) < -0.5*squares(dst) {
			for j := range z {
				sum[j] += z[j]
				square[j] += z[j] * z[j]
			}
			count++
		}
	}
	for j := range sum {
		within(t, "coordinate", Diagnose(out.Column(j)), sum[j]/count, 3.5)
		if d := weighed.Diagnoses[j]; math.Abs(d.Mean-sum[j]/count) > 3.5*math.Hypot(d.Error(), d.SD/math.Sqrt(count)) || d.RHat > 1.02 {
			t.Errorf("weighed: mean %.4f ± %.4f, want %.4f; R-hat %.3f", d.Mean, d.Error(), sum[j]/count, d.RHat)
		}
		own := 0.0
		for _, x := range weighed.Of(func(z []float64) float64 { return z[j] * z[j] }) {
			m, _ := MeanSD(x)
			own += m / float64(len(weighed.Points))
		}
		if spread := math.Sqrt2 * square[j] / count / math.Sqrt(weighed.Diagnoses[j].Size); math.Abs(own-square[j]/count) > 4*spread {
			t.Errorf("chosen by weight: mean square %.4f, want %.4f ± %.4f", own, square[j]/count, spread)
		}
		within(t, "its square", Diagnose(out.Of(func(z []float64) float64 { return z[j] * z[j] })), square[j]/count, 3.5)
	}
}
