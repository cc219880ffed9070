package numeric

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

func TestPCHIPExact(t *testing.T) {
	x, y := []float64{0, 1, 3, 4}, []float64{1, 3, 7, 9} // a straight line
	p, err := NewPCHIP(x, y)
	if err != nil {
		t.Fatal(err)
	}
	for _, at := range []float64{-1, 0, 0.3, 1, 2.2, 3, 4, 6} {
		v, slope, outside := p.At(at)
		if math.Abs(v-(1+2*at)) > 1e-12 || math.Abs(slope-2) > 1e-12 || outside != (at < 0 || at > 4) {
			t.Errorf("at %g: %g, slope %g, outside %v", at, v, slope, outside)
		}
	}
	for _, bad := range [][2][]float64{{{1}, {1}}, {{1, 1}, {1, 2}}, {{2, 1}, {1, 2}}, {{1, math.NaN()}, {1, 2}}, {{1, 2}, {1, math.Inf(1)}}} {
		if _, err := NewPCHIP(bad[0], bad[1]); err == nil {
			t.Errorf("%v was taken", bad)
		}
	}
}

// Between two points the interpolant stays between their values, meets them, and its slope is the
// difference of its values.
func TestPCHIPLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 9).Draw(t, "n")
		x, y := make([]float64, n), make([]float64, n)
		for i := range x {
			x[i] = float64(i) + rapid.Float64Range(0, 0.8).Draw(t, "x")
			y[i] = rapid.Float64Range(-5, 5).Draw(t, "y")
		}
		p, err := NewPCHIP(x, y)
		if err != nil {
			t.Fatal(err)
		}
		i := rapid.IntRange(0, n-2).Draw(t, "piece")
		u := rapid.Float64Range(0.01, 0.99).Draw(t, "u")
		at := x[i] + u*(x[i+1]-x[i])
		v, slope, _ := p.At(at)
		if lo, hi := math.Min(y[i], y[i+1]), math.Max(y[i], y[i+1]); v < lo-1e-9 || v > hi+1e-9 {
			t.Fatalf("%g between %g and %g", v, lo, hi)
		}
		const h = 1e-6
		a, _, _ := p.At(at - h)
		b, _, _ := p.At(at + h)
		if math.Abs((b-a)/(2*h)-slope) > 1e-4*(1+math.Abs(slope)) {
			t.Fatalf("slope %g, differences say %g", slope, (b-a)/(2*h))
		}
		if v, _, _ := p.At(x[i]); math.Abs(v-y[i]) > 1e-12 {
			t.Fatalf("a point is missed: %g for %g", v, y[i])
		}
	})
}

// A linear measurement of one unknown: the textbook posterior of a normal mean.
func TestMAPExact(t *testing.T) {
	// y = a·z + noise of sd s, y measured 3: posterior variance 1/(1 + a²/s²), mean a·3/s² of that
	const a, s = 2.0, 0.5
	p := MAPProblem{
		Dimension: 2, Residuals: 1,
		Residual: func(dst, z []float64) error { dst[0] = (a*z[0] - 3) / s; return nil },
		Jacobian: func(dst *mat.Dense, _ []float64) error { dst.Set(0, 0, a/s); dst.Set(0, 1, 0); return nil },
	}
	sol, err := GaussNewtonMAP(p)
	if err != nil {
		t.Fatal(err)
	}
	v := 1 / (1 + a*a/(s*s))
	if math.Abs(sol.Z[0]-v*a*3/(s*s)) > 1e-9 || math.Abs(sol.Covariance.At(0, 0)-v) > 1e-12 {
		t.Errorf("mean %g, variance %g", sol.Z[0], sol.Covariance.At(0, 0))
	}
	if sol.Z[1] != 0 || math.Abs(sol.Covariance.At(1, 1)-1) > 1e-12 {
		t.Errorf("what was not measured moved: %g, variance %g", sol.Z[1], sol.Covariance.At(1, 1))
	}
	// failing residuals are reported, failing steps are shortened
	p.Residual = func([]float64, []float64) error { return errors.New("no state") }
	if _, err := GaussNewtonMAP(p); err == nil {
		t.Error("a residual that fails at the start was taken")
	}
}

// At the answer the gradient vanishes, and draws have the covariance that is stated.
func TestMAPLaw(t *testing.T) {
	f := func(z []float64) [3]float64 {
		return [3]float64{10 * (math.Exp(0.3*z[0]+0.1*z[1]) - 1.5), 4 * (z[0]*z[1] - 0.2), 2 * (z[2] - z[0]*z[0])}
	}
	p := MAPProblem{
		Dimension: 3, Residuals: 3,
		Residual: func(dst, z []float64) error { r := f(z); copy(dst, r[:]); return nil },
		Jacobian: func(dst *mat.Dense, z []float64) error {
			const h = 1e-6
			for j := range 3 {
				at := append([]float64(nil), z...)
				at[j] += h
				up := f(at)
				at[j] -= 2 * h
				down := f(at)
				for i := range 3 {
					dst.Set(i, j, (up[i]-down[i])/(2*h))
				}
			}
			return nil
		},
	}
	sol, err := GaussNewtonMAP(p)
	if err != nil {
		t.Fatal(err)
	}
	jac := mat.NewDense(3, 3, nil)
	_ = p.Jacobian(jac, sol.Z)
	for j := range 3 {
		g := sol.Z[j]
		for i := range 3 {
			g += jac.At(i, j) * sol.Residuals[i]
		}
		if math.Abs(g) > 1e-5 {
			t.Errorf("the gradient by %d is %g", j, g)
		}
	}
	rng := rand.New(rand.NewPCG(1, 2))
	const n = 40000
	var c [3][3]float64
	for range n {
		z := sol.Draw([]float64{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()})
		for a := range 3 {
			for b := range 3 {
				c[a][b] += (z[a] - sol.Z[a]) * (z[b] - sol.Z[b]) / n
			}
		}
	}
	for a := range 3 {
		for b := range 3 {
			if math.Abs(c[a][b]-sol.Covariance.At(a, b)) > 0.03 {
				t.Errorf("draws have covariance %g at %d, %d, stated %g", c[a][b], a, b, sol.Covariance.At(a, b))
			}
		}
	}
}

// A measurement whose error is bounded: drawn points keep within the bound, which the linear
// problem's do not, and have the mean and spread that direct sampling gives.
func TestSettleLaw(t *testing.T) {
	cdf := func(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }
	// ln x = 0.3·z₀ is read as 0.1 with an error of at most ± 0.1, uniform by z₁, and scatter 0.002
	residual := func(dst, z []float64) error {
		dst[0] = (0.3*z[0] + 0.1*(2*cdf(z[1])-1) - 0.1) / 0.002
		return nil
	}
	p := MAPProblem{Dimension: 2, Residuals: 1, Residual: residual, Jacobian: func(dst *mat.Dense, z []float64) error {
		dst.Set(0, 0, 0.3/0.002)
		dst.Set(0, 1, 0.2*math.Exp(-z[1]*z[1]/2)/math.Sqrt(2*math.Pi)/0.002)
		return nil
	}}
	sol, err := GaussNewtonMAP(p)
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(3, 4))
	const n = 20000
	mean, spread, outside := 0.0, 0.0, 0
	for range n {
		z := sol.Draw([]float64{rng.NormFloat64(), rng.NormFloat64()})
		sol.Settle(z, residual)
		x := 0.3 * z[0]
		mean += x / n
		spread += (x - 0.1) * (x - 0.1) / n
		if x < -0.02 || x > 0.22 {
			outside++
		}
	}
	if outside > n/500 {
		t.Errorf("%d of %d points lie outside of what the error allows", outside, n)
	}
	// direct: x = 0.1 − e with e uniform in ± 0.1, weighted by the prior exp(−x²/(2·0.3²))
	want, wantSpread, total := 0.0, 0.0, 0.0
	for e := -0.1; e <= 0.1; e += 1e-4 {
		x := 0.1 - e
		w := math.Exp(-x * x / (2 * 0.09))
		want, wantSpread, total = want+w*x, wantSpread+w*(x-0.1)*(x-0.1), total+w
	}
	if math.Abs(mean-want/total) > 0.006 || math.Abs(math.Sqrt(spread)-math.Sqrt(wantSpread/total)) > 0.006 {
		t.Errorf("mean %.4f, spread %.4f; direct sampling gives %.4f, %.4f", mean, math.Sqrt(spread), want/total, math.Sqrt(wantSpread/total))
	}
}

func TestQuantileExact(t *testing.T) {
	x := []float64{1, 2, 3, 4, 5}
	for _, c := range []struct{ p, want float64 }{{0, 1}, {0.25, 2}, {0.5, 3}, {0.55, 3.2}, {1, 5}} {
		if got := Quantile(x, c.p); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("quantile %g is %g, want %g", c.p, got, c.want)
		}
	}
}

// An output that is a rising function of one input is explained by it alone.
func TestRankSharesExact(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	in := make([][]float64, 3)
	for j := range in {
		in[j] = make([]float64, 400)
	}
	out := make([]float64, 400)
	for i := range out {
		for j := range 2 {
			in[j][i] = rng.Float64()
		}
		in[2][i] = 7 // does not vary
		out[i] = math.Exp(3 * in[0][i])
	}
	s, rest, err := RankShares(in, out)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(s[0]-1) > 1e-9 || math.Abs(s[1]) > 1e-9 || s[2] != 0 || rest > 1e-9 {
		t.Errorf("shares %v, rest %g", s, rest)
	}
	if _, _, err := RankShares(in, make([]float64, 400)); err == nil {
		t.Error("an output that does not vary was explained")
	}
}

// A sum of independent inputs is explained by the squares of their weights, and shares and rest
// sum to one.
func TestRankSharesLaw(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	w := []float64{3, 2, 1, 0}
	const n = 6000
	in := make([][]float64, len(w))
	out := make([]float64, n)
	for j := range in {
		in[j] = make([]float64, n)
		for i := range n {
			in[j][i] = rng.NormFloat64()
			out[i] += w[j] * in[j][i]
		}
	}
	s, rest, err := RankShares(in, out)
	if err != nil {
		t.Fatal(err)
	}
	total := rest
	for j := range w {
		total += s[j]
		if want := w[j] * w[j] / 14; math.Abs(s[j]-want) > 0.03 {
			t.Errorf("input %d has a share of %.3f, want %.3f", j, s[j], want)
		}
	}
	if math.Abs(total-1) > 1e-9 {
		t.Errorf("shares and rest sum to %g", total)
	}
}
