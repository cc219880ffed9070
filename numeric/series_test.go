package numeric

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

// near fails unless got is want within tolerance.
func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.12g, want %.12g ± %.2g", what, got, want, tolerance)
	}
}

// sample reads a column of a file of testdata.
func sample(t testing.TB, path, column string) []float64 {
	t.Helper()
	return columns(t, filepath.Join("testdata", path))[column]
}

// NIST StRD univariate problems (SEEN, see testdata/nist): mean, standard deviation and lag-1
// autocorrelation to the digits that two passes in double precision reach.
func TestUnivariatePublished(t *testing.T) {
	for _, p := range []struct {
		name                  string
		mean, sd, correlation float64 // digits
	}{
		{"Lew", 14, 14, 13},
		{"Lottery", 14, 14, 13},
		{"Mavro", 14, 12, 12},
		{"Michelso", 14, 12, 12},
		{"NumAcc1", 14, 14, 14},
		{"NumAcc2", 14, 14, 13},
		{"NumAcc3", 14, 9, 8},
		{"NumAcc4", 14, 8, 7},
	} {
		var certified struct {
			Mean, SD    string
			Correlation string `json:"autocorr_lag1"`
		}
		raw, err := os.ReadFile(filepath.Join("testdata", "nist", p.name+".json"))
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(raw, &certified); err != nil {
			t.Fatal(err)
		}
		x := sample(t, "nist/"+p.name+".csv", "y")
		mean, sd := MeanSD(x)
		for _, c := range []struct {
			what, want string
			got, least float64
		}{
			{"mean", certified.Mean, mean, p.mean},
			{"sd", certified.SD, sd, p.sd},
			{"autocorrelation", certified.Correlation, Autocorrelation(x, 1), p.correlation},
		} {
			if d := digits(c.got, c.want); d < c.least {
				t.Errorf("%s: %s %.17g has %.1f digits of %s, want %g", p.name, c.what, c.got, d, c.want, c.least)
			}
		}
	}
}

// An AR(1) series is worth n·(1 − φ)/(1 + φ) samples (closed form): 0.333, 0.0526 and 0.0101 of n
// at φ = 0.5, 0.9 and 0.98.
func TestEffectiveSizeExact(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 11))
	for _, phi := range []float64{0, 0.5, 0.9, 0.98} {
		const n, days = 20000, 20
		sum := 0.0
		for range days {
			x := make([]float64, n)
			for i := 1; i < n; i++ {
				x[i] = phi*x[i-1] + random.NormFloat64()
			}
			sum += EffectiveSize(x) / n
		}
		near(t, "share of samples", sum/days, (1-phi)/(1+phi), 0.06*(1-phi)/(1+phi)+0.001)
	}
	if got := EffectiveSize([]float64{1, 1, 1, 1}); got != 4 {
		t.Errorf("equal readings are worth %g, want 4", got)
	}
	alternating := make([]float64, 100)
	for i := range alternating {
		alternating[i] = float64(i%2) - 0.5
	}
	if got := EffectiveSize(alternating); got != 100 {
		t.Errorf("alternating readings are worth %g, want no more than 100", got)
	}
}

func TestRobustSDExact(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 5))
	x := make([]float64, 100001)
	for i := range x {
		x[i] = 40 + 2*random.NormFloat64()
	}
	for i := 0; i < len(x); i += 10 {
		x[i] = 1e6 // one in ten is wild
	}
	near(t, "robust scatter", RobustSD(x), 2, 0.35)
	if m, ok := Median([]float64{3, math.NaN(), 1, 2}); !ok || m != 2 {
		t.Errorf("median %g, want 2", m)
	}
}

// A start that decays from a known length onto a steady level is cut near its end; a steady series
// is not cut by much.
func TestSettledExact(t *testing.T) {
	random := rand.New(rand.NewPCG(2, 9))
	x := make([]float64, 400)
	for i := range x {
		x[i] = 10 - 5*math.Exp(-float64(i)/10) + 0.05*random.NormFloat64()
	}
	if c := Settled(x); c < 25 || c > 90 {
		t.Errorf("cut at %d, want some 30 to 70 (three to seven time constants)", c)
	}
	for i := range x {
		x[i] = float64(i)
	}
	if c := Settled(x); c < 200 {
		t.Errorf("a ramp is cut at %d: it never settles, so the cut must lie in its second half", c)
	}
}

func copied(i []int) []int { return append([]int(nil), i...) }

// Penalties and places as computed by R's changepoint 2.3 (SEEN in its tests, rerun: COMPUTED) and,
// for the Nile, by strucchange (COMPUTED).
func TestChangesPublished(t *testing.T) {
	unit := func(x []float64) [][]float64 { return [][]float64{x} }
	n := func(x []float64) float64 { return math.Log(float64(len(x))) }
	three := sample(t, "changepoint/sim_mean_3cp_50_100_150.csv", "x")
	for _, c := range []struct {
		what    string
		x       []float64
		penalty float64
		want    []int
		cost    float64
	}{
		{"three changes, 3 log n", three, 15.894952, []int{50, 100, 150}, 534.3443469},
		{"three changes, 2 log n", three, 10.596635, []int{50, 100, 150}, 534.3443469},
		{"three changes, 4 log log n", three, 6.669557, []int{50, 100, 150}, 534.3443469},
		{"three changes, AIC, which over-segments", three, 4, []int{50, 96, 100, 133, 150, 159, 180}, 512.2249326},
		{"one change", sample(t, "changepoint/sim_mean_1cp_100.csv", "x"), 15.894952, []int{100}, -1},
	} {
		got, cost, err := Changes(unit(c.x), c.penalty, 1)
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: changes %v, want %v", c.what, got, c.want)
		}
		if c.cost > 0 {
			// The published cost is minus twice the log likelihood with one variance for all.
			n := float64(len(c.x))
			likelihood := n * (math.Log(2*math.Pi) + 1 + math.Log(cost/n))
			near(t, c.what+", cost", likelihood, c.cost, 1e-6)
		}
	}
	none := sample(t, "changepoint/sim_mean_0cp.csv", "x")
	for _, penalty := range []float64{2 * n(none), 3 * n(none)} {
		if got, _, _ := Changes(unit(none), penalty, 1); len(got) > 0 {
			t.Errorf("no change: found %v", got)
		}
	}
	// The Nile, 1871 to 1970: one break after the 28th year, means 1097.75 and 849.9722222.
	nile := sample(t, "changepoint/nile.csv", "flow")
	_, total := MeanSD(nile)
	scatter := math.Sqrt(1597457.194 / 98)
	scaled := make([]float64, len(nile))
	for i, v := range nile {
		scaled[i] = v / scatter
	}
	got, cost, _ := Changes(unit(scaled), 3*n(nile), 1)
	if !slices.Equal(got, []int{28}) {
		t.Fatalf("the Nile changes at %v, want 28", got)
	}
	before, _ := MeanSD(nile[:28])
	after, _ := MeanSD(nile[28:])
	near(t, "mean before", before, 1097.75, 1e-9)
	near(t, "mean after", after, 849.9722222, 1e-6)
	near(t, "squares with the break", cost*scatter*scatter, 1597457.194, 1e-2)
	near(t, "squares without", total*total*99, 2835156.75, 1e-6)
	// Quality control series with a known change (TCPD, MIT): 1 has trends as well, so only that
	// its step is among the changes; 5 has none. Scatter from differences.
	for name, want := range map[string]int{"quality_control_1": 146, "quality_control_5": -1} {
		x := sample(t, "changepoint/tcpd_"+name+".csv", "x")
		d := make([]float64, len(x)-1)
		for i := range d {
			d[i] = x[i+1] - x[i]
		}
		s := RobustSD(d) / math.Sqrt2
		for i := range x {
			x[i] /= s
		}
		got, _, _ := Changes(unit(x), 3*n(x), 1)
		near := slices.ContainsFunc(got, func(g int) bool { return g >= want-3 && g <= want+3 })
		if want >= 0 && !near || want < 0 && len(got) > 0 {
			t.Errorf("%s: changes %v, want %d", name, got, want)
		}
	}
	// Well log (TCPD, MIT): every mark that the annotators share, by 3 log n and differences.
	well := sample(t, "changepoint/tcpd_well_log.csv", "x")
	d := make([]float64, len(well)-1)
	for i := range d {
		d[i] = well[i+1] - well[i]
	}
	s := RobustSD(d) / math.Sqrt2
	for i := range well {
		well[i] /= s
	}
	got, _, _ = Changes(unit(well), 3*n(well), 1)
	if want := []int{2, 4, 173, 179, 202, 204, 238, 239, 255, 281, 311, 343, 402, 412, 422, 432, 462, 464, 658, 661}; !slices.Equal(got, want) {
		t.Errorf("well log: %v, want %v", got, want)
	}
}

// The search is as good as the full one, whatever the series, penalty and least length.
func TestChangesLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 40).Draw(t, "n")
		k := rapid.IntRange(1, 3).Draw(t, "series")
		least := rapid.IntRange(1, 5).Draw(t, "least")
		penalty := rapid.Float64Range(0, 30).Draw(t, "penalty")
		series := make([][]float64, k)
		for s := range series {
			series[s] = make([]float64, n)
			for i := range series[s] {
				series[s][i] = float64(rapid.IntRange(-6, 6).Draw(t, "x"))
				if rapid.IntRange(0, 9).Draw(t, "missing") == 0 {
					series[s][i] = math.NaN()
				}
			}
		}
		starts, cost, err := Changes(series, penalty, least)
		if err != nil {
			t.Fatal(err)
		}
		sums := make([][]moments, k)
		for s := range series {
			sums[s] = runningMoments(series[s])
		}
		full := make([]float64, n+1)
		for j := 1; j <= n; j++ {
			full[j] = math.Inf(1)
			for i := 0; i+least <= j; i++ {
				if i > 0 && math.IsInf(full[i], 1) {
					continue
				}
				v := segmentCost(sums, i, j)
				if i > 0 {
					v += full[i] + penalty
				}
				full[j] = min(full[j], v)
			}
		}
		want := full[n]
		if n < least {
			want = segmentCost(sums, 0, n)
		}
		if got := cost + penalty*float64(len(starts)); math.Abs(got-want) > 1e-9*(1+want) {
			t.Fatalf("penalised cost %g at %v, the full search finds %g", got, copied(starts), want)
		}
		from := 0
		for _, s := range append(copied(starts), n) {
			if s-from < least && n >= least && len(starts) > 0 {
				t.Fatalf("a segment of %d samples, least is %d", s-from, least)
			}
			from = s
		}
	})
}

// Pearson's data with York's weights: slope, intercept and the adjusted points' standard errors
// (SEEN in four repositories, COMPUTED by York's iteration and by orthogonal distance regression).
func TestYorkPublished(t *testing.T) {
	c := columns(t, filepath.Join("testdata", "data", "pearson_york.csv"))
	l, err := York(c["x"], c["y"], c["wx"], c["wy"])
	if err != nil {
		t.Fatal(err)
	}
	near(t, "slope", l.B, -0.480533407446, 1e-11)
	near(t, "intercept", l.A, 5.479910224033, 1e-10)
	near(t, "slope's uncertainty", l.SB, 0.0579850090, 1e-9)
	near(t, "intercept's uncertainty", l.SA, 0.2949707355, 1e-9)
	near(t, "correlation", l.Covariance/l.SA/l.SB, -0.963088, 1e-6)
	near(t, "chi-square", l.ChiSquare, 11.8663531941, 1e-9)
	plain, _ := StraightLine(c["x"], c["y"], nil)
	near(t, "slope without weights", plain.B, -0.539577275, 1e-9)
	near(t, "intercept without weights", plain.A, 5.761185193, 5e-9)
	weighted, _ := StraightLine(c["x"], c["y"], c["wy"])
	near(t, "slope, weights in y", weighted.B, -0.61081296, 1e-8)
	near(t, "intercept, weights in y", weighted.A, 6.10010932, 1e-8)
	if _, err := York([]float64{1, 1}, []float64{1, 2}, []float64{1, 1}, []float64{1, 1}); err == nil {
		t.Error("two points at one x make no line")
	}
}

// JCGM 100, H.3: calibration of a thermometer (SEEN; unrounded values COMPUTED).
func TestCalibrationLinePublished(t *testing.T) {
	at := []float64{21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511}
	b := []float64{-.171, -.169, -.166, -.159, -.164, -.165, -.156, -.157, -.159, -.161, -.160}
	x := make([]float64, len(at))
	for i := range at {
		x[i] = at[i] - 20
	}
	l, err := StraightLine(x, b, nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "y1", l.A, -0.171203790, 1e-9)
	near(t, "u(y1)", l.SA, 0.002877598, 1e-9)
	near(t, "y2", l.B, 0.002182698, 1e-9)
	near(t, "u(y2)", l.SB, 0.000667939, 1e-9)
	near(t, "r", l.Covariance/l.SA/l.SB, -0.930430, 1e-6)
	near(t, "s", l.ResidualSpread, 0.003497564, 1e-9)
	y, u := l.At(10)
	near(t, "b(30)", y, -0.149376813, 1e-9)
	near(t, "u(b(30))", u, 0.004138596, 1e-9)
	near(t, "u of a new reading", math.Hypot(u, l.ResidualSpread), 0.005418573, 1e-9)
	if l.Freedom != 9 {
		t.Errorf("%d degrees of freedom, want 9", l.Freedom)
	}
	if _, err := StraightLine(x[:2], b[:2], nil); err == nil {
		t.Error("two points without known scatter say nothing of it")
	}
}

// JCGM 100, table G.2: t factors (SEEN and COMPUTED), as the library that is used gives them.
func TestStudentPublished(t *testing.T) {
	for nu, want := range map[float64]float64{1: 12.71, 2: 4.30, 3: 3.18, 4: 2.78, 5: 2.57, 6: 2.45, 8: 2.31, 10: 2.23, 16: 2.12, 20: 2.09, 50: 2.01} {
		near(t, "t factor", distuv.StudentsT{Mu: 0, Sigma: 1, Nu: nu}.Quantile(0.975), want, 0.006)
	}
	near(t, "99 %, 16", distuv.StudentsT{Mu: 0, Sigma: 1, Nu: 16}.Quantile(0.995), 2.920782, 1e-6)
}

// The search over 18000 blocks of an hour, three series, twenty steps.
func BenchmarkChanges(b *testing.B) {
	random := rand.New(rand.NewPCG(1, 1))
	series := make([][]float64, 3)
	for k := range series {
		series[k] = make([]float64, 18000)
		for i := range series[k] {
			series[k][i] = 8*float64(i/900) + random.NormFloat64()
		}
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, _, err := Changes(series, 40, 5); err != nil {
			b.Fatal(err)
		}
	}
}
