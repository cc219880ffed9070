package numeric

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

func unitRoot(k int) mat.Matrix {
	m := mat.NewTriDense(k, mat.Lower, nil)
	for j := range k {
		m.SetTri(j, j, 1)
	}
	return m
}

// within holds the mean of a figure of the points against its exact value: within so many sampling errors.
func within(t *testing.T, what string, d Diagnosis, want, times float64) float64 {
	t.Helper()
	off := math.Abs(d.Mean-want) / d.Error()
	t.Logf("%-22s %.5g, exact %.5g, off by %.2f sampling errors (%.2g); effective size %.0f, tails %.0f, R-hat %.4f", what, d.Mean, want, off, d.Error(), d.Bulk, d.Tail, d.RHat)
	if !(off <= times) {
		t.Errorf("%s: %.6g, exact %.6g, off by %.2f sampling errors", what, d.Mean, want, off)
	}
	return off
}

// The posterior of mean and scale of normal values, the flow of the Nile 1871 to 1898, with the prior 1/σ²: exact by
// Student's t and χ² (COMPUTED from data SEEN: 28 values of mean 1097.75 and standard deviation 134.996193). The seeds were
// taken before the first run. Of all figures one in twenty may lie beyond twice its sampling error; none beyond three times.
func TestSampleNormalPublished(t *testing.T) {
	var beyond, total int
	for seed := range uint64(4) {
		b, n := nile(t, seed+1)
		beyond, total = beyond+b, total+n
	}
	t.Logf("%d of %d figures beyond twice the sampling error, where one in twenty is", beyond, total)
	if beyond > 4 { // of 32 more than 4 are beyond by chance in 2 % of cases
		t.Errorf("%d of %d figures beyond twice the sampling error", beyond, total)
	}
}

func nile(t *testing.T, seed uint64) (beyond, total int) {
	const n, mean, s = 28.0, 1097.75, 134.996193
	mu := func(z []float64) float64 { return mean + 30*z[0] }
	sigma := func(z []float64) float64 { return s * math.Exp(0.15*z[1]) }
	out := Sample(Chains{
		Dimension: 2, Centre: []float64{0, 0}, Root: unitRoot(2), Widen: 1.2, Warm: 50, Draws: 2000, Effective: 4000, Most: 20000, Seed: seed,
		Density: func(_ int, z []float64) float64 {
			d := mu(z) - mean
			v := sigma(z) * sigma(z)
			return -0.5*n*math.Log(v) - ((n-1)*s*s+n*d*d)/(2*v)
		},
	})
	below := func(f func([]float64) float64, bound float64) Diagnosis {
		return Diagnose(out.Of(func(z []float64) float64 {
			if f(z) < bound {
				return 1
			}
			return 0
		}))
	}
	square := func(f func([]float64) float64, about float64) Diagnosis {
		return Diagnose(out.Of(func(z []float64) float64 { return (f(z) - about) * (f(z) - about) }))
	}
	next := Diagnose(out.Of(func(z []float64) float64 { return distuv.Normal{Mu: mu(z), Sigma: sigma(z)}.CDF(815.857845) }))
	for _, c := range []struct {
		what string
		got  Diagnosis
		want float64
	}{
		{"mean", Diagnose(out.Of(mu)), mean},
		{"its variance", square(mu, mean), 26.512726 * 26.512726},
		{"its 2.5 % quantile", below(mu, 1045.403941), 0.025},
		{"its 97.5 % quantile", below(mu, 1150.096059), 0.975},
		{"variance of a value", square(sigma, 0), 19681.89},
		{"scale, 2.5 % quantile", below(sigma, 106.730642), 0.025},
		{"scale, 97.5 % quantile", below(sigma, 183.748253), 0.975},
		{"next value, 2.5 %", next, 0.025},
	} {
		if within(t, c.what, c.got, c.want, 3) > 2 {
			beyond++
		}
		total++
	}
	return beyond, total
}

// Eight schools (data and reference draws SEEN in the open collection posteriordb, means and standard deviations exact by
// quadrature, COMPUTED): means and mean squares within twice the sampling error, and the means within twice the error of both samplings of
// the reference draws. The seed was taken before the first run.
func TestSampleEightSchoolsPublished(t *testing.T) {
	raw, err := os.ReadFile(filepath.Join("testdata", "data", "eight_schools.json"))
	if err != nil {
		t.Fatal(err)
	}
	type moments struct {
		Mean  float64
		SD    float64
		Error float64 `json:"mean_mcse_iid"`
	}
	var data struct {
		Y, Sigma  []float64
		Reference map[string]moments
		Exact     map[string]moments `json:"exact_quadrature"`
	}
	if err := json.Unmarshal(raw, &data); err != nil {
		t.Fatal(err)
	}
	mu := func(z []float64) float64 { return 5 * z[8] }
	tau := func(z []float64) float64 { return 5 * math.Tan(math.Pi/2*distuv.UnitNormal.CDF(z[9])) }
	school := func(j int) func([]float64) float64 {
		return func(z []float64) float64 { return mu(z) + tau(z)*z[j] }
	}
	out := Sample(Chains{
		Dimension: 10, Centre: make([]float64, 10), Root: unitRoot(10), Warm: 100, Draws: 2000, Effective: 4000, Most: 40000, Seed: 1,
		Density: func(_ int, z []float64) float64 {
			sum := -0.5 * squares(z)
			for j, y := range data.Y {
				r := (y - school(j)(z)) / data.Sigma[j]
				sum -= 0.5 * r * r
			}
			return sum
		},
	})
	if !out.Reached {
		t.Errorf("the effective size was not reached with %d points a chain", len(out.Points[0]))
	}
	figures := map[string]func([]float64) float64{"mu": mu, "tau": tau}
	for j := range data.Y {
		figures["theta["+string(rune('1'+j))+"]"] = school(j)
	}
	var beyond, total int
	for name, f := range figures {
		d, want := Diagnose(out.Of(f)), data.Exact[name]
		if within(t, name, d, want.Mean, 3) > 2 {
			beyond++
		}
		total++
		if ref := data.Reference[name]; math.Abs(d.Mean-ref.Mean) > 2*math.Hypot(d.Error(), ref.Error) {
			t.Errorf("%s: %.4f, reference draws %.4f", name, d.Mean, ref.Mean)
		}
		if name == "tau" {
			continue // heavy tails: its mean square has no sampling error to speak of
		}
		if within(t, name+" squared", Diagnose(out.Of(func(z []float64) float64 { return f(z) * f(z) })), want.SD*want.SD+want.Mean*want.Mean, 3) > 2 {
			beyond++
		}
		total++
		if d.RHat > 1.01 {
			t.Errorf("%s: R-hat %.4f", name, d.RHat)
		}
	}
	t.Logf("%d of %d figures beyond twice the sampling error, where one in twenty is", beyond, total)
	if beyond > 3 {
		t.Errorf("%d of %d figures beyond twice the sampling error", beyond, total)
	}
}

// A distribution far from the normal one that the walk goes by, with a bound through its middle and a bend, against
// plain rejection; and the same points whatever the number of processors.
func TestSampleLaw(t *testing.T) {
	banana := func(z []float64) float64 {
		if z[0]+z[1] < -0.5 {
			return math.Inf(-1)
		}
		d := (z[1] - z[0]*z[0]) / 0.5
		return -0.5*squares(z) - 0.5*d*d
	}
	c := Chains{
		Dimension: 3, Centre: []float64{0.3, 0.2, 0}, Root: unitRoot(3), Widen: 1.1, Warm: 50, Draws: 1000, Effective: 2000, Most: 20000, Seed: 7,
		Density: func(_ int, z []float64) float64 { return banana(z) },
	}
	out := Sample(c)
	rng := rand.New(rand.NewPCG(3, 4))
	var sums [3]float64
	count := 0.0
	for range 400000 {
		z := []float64{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}
		if w := banana(z) + 0.5*squares(z); math.Log(rng.Float64()) < w {
			for j := range sums {
				sums[j] += z[j]
			}
			count++
		}
	}
	for j := range sums {
		within(t, "coordinate", Diagnose(out.Column(j)), sums[j]/count, 3)
	}
	again := Sample(c)
	for i := range out.Points {
		for k := range out.Points[i] {
			for j, z := range out.Points[i][k] {
				if z != again.Points[i][k][j] {
					t.Fatal("the same seed gives other points")
				}
			}
		}
	}
}

// Effective size and R-hat where both are known: autocorrelated normal points, chains that stand apart, chains of
// another width, and points that do not move.
func TestDiagnoseLaw(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	walk := func(phi, shift, scale float64, n int) []float64 {
		x := make([]float64, n)
		at := rng.NormFloat64()
		for i := range x {
			at = phi*at + math.Sqrt(1-phi*phi)*rng.NormFloat64()
			x[i] = shift + scale*at
		}
		return x
	}
	for _, phi := range []float64{0, 0.3, 0.6, 0.9, -0.4} {
		var chains [][]float64
		for range 4 {
			chains = append(chains, walk(phi, 0, 1, 5000))
		}
		d := Diagnose(chains)
		want := 20000 * (1 - phi) / (1 + phi)
		most := 0.15
		if phi > 0.8 {
			most = 0.3 // it rests on a thousand independent points, over some twenty lags
		}
		t.Logf("autocorrelation %.1f: %.0f (ranks %.0f, tails %.0f), exact %.0f; R-hat %.4f", phi, d.Size, d.Bulk, d.Tail, want, d.RHat)
		if math.Abs(d.Size/want-1) > most || math.Abs(d.Bulk/want-1) > most || d.RHat > 1.01 {
			t.Errorf("autocorrelation %g: effective size %.0f, exact %.0f", phi, d.Size, want)
		}
	}
	apart := Diagnose([][]float64{walk(0, 0, 1, 1000), walk(0, 1, 1, 1000), walk(0, 0, 1, 1000), walk(0, 0, 1, 1000)})
	if apart.RHat < 1.1 {
		t.Errorf("a chain that stands apart: R-hat %.4f", apart.RHat)
	}
	wide := Diagnose([][]float64{walk(0, 0, 3, 1000), walk(0, 0, 1, 1000), walk(0, 0, 1, 1000), walk(0, 0, 1, 1000)})
	if wide.RHat < 1.05 {
		t.Errorf("a chain that is wider: R-hat %.4f", wide.RHat)
	}
	if d := Diagnose([][]float64{make([]float64, 10), make([]float64, 10)}); d.RHat != 1 || d.Bulk != 20 {
		t.Errorf("points that do not move: %+v", d)
	}
}

// R-hat by hand: two chains of four points are four halves of two. FROM MEMORY of the definition (Gelman and Rubin, split
// as by Vehtari and others), worked out on paper.
func TestDiagnosePublished(t *testing.T) {
	halves := split([][]float64{{1, 3, 2, 4}, {5, 7, 2, 2}})
	// means 2, 3, 6, 2; variances 2, 2, 2, 0: W = 1.5, variance of the means 10.75/3, var⁺ = 0.75 + 3.58333
	if got, want := rHat(halves), math.Sqrt((0.75+10.75/3)/1.5); math.Abs(got-want) > 1e-12 {
		t.Errorf("R-hat %.12f, by hand %.12f", got, want)
	}
	scores := normalScores([]float64{10, 30, 20})
	for i, p := range []float64{(1 - 0.375) / 3.25, (3 - 0.375) / 3.25, (2 - 0.375) / 3.25} {
		if math.Abs(scores[i]-distuv.UnitNormal.Quantile(p)) > 1e-12 {
			t.Errorf("score %d: %g", i, scores[i])
		}
	}
}

func BenchmarkSample(b *testing.B) {
	for b.Loop() {
		Sample(Chains{
			Dimension: 50, Centre: make([]float64, 50), Root: unitRoot(50), Draws: 500, Effective: 1000, Most: 4000, Seed: 1,
			Density: func(_ int, z []float64) float64 { return -0.5 * squares(z) },
		})
	}
}
