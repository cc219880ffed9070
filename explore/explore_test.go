package explore

import (
	"math"
	"math/rand/v2"
	"sort"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/samplemv"
	"pgregory.net/rapid"

	"jetwright/design"
	"jetwright/drive"
	"jetwright/numeric"
	"jetwright/quantity"
)

// text is a small design that these tests are made for.
const text = `
[duty]
thrust = "240 N"
[impeller]
diameter = "88 mm ± 0.3 mm"
hub_diameter = "38 mm"
[nozzle]
diameter = "55 mm ± 0.3 mm"
[motor]
speed_constant = "120 rpm/V ± 4 %"
winding_resistance = "13 mΩ"
[battery]
series = 12
parallel = 8
cell_capacity = "4.2 Ah"
[stand]
scale_range = "60 kgf"
rope_strength = "400 kgf"
`

func read(t testing.TB) *design.Design {
	t.Helper()
	d, faults := design.Read("drive.toml", []byte(text))
	if err := faults.Fatal(); err != nil {
		t.Fatal(err)
	}
	return d
}

// value parses a quantity for a test.
func value(t testing.TB, s string) quantity.Value {
	t.Helper()
	v, err := quantity.Parse(s)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// propagate draws a model of typed values and returns its sorted results.
func propagate(t testing.TB, n int, model func(x []float64) float64, typed ...string) []float64 {
	t.Helper()
	values := make([]quantity.Value, len(typed))
	for i, s := range typed {
		values[i] = value(t, s)
	}
	u := Uniform(n, len(typed), 42)
	out := make([]float64, n)
	x := make([]float64, len(typed))
	for i := range out {
		for j := range x {
			x[j] = values[j].Quantile(u[i][j])
		}
		out[i] = model(x)
	}
	sort.Float64s(out)
	return out
}

func sum(x []float64) float64 {
	s := 0.0
	for _, v := range x {
		s += v
	}
	return s
}

// JCGM 101:2008, 9.2: sums of four numbers, drawn as the tool draws typed tolerances. Normal
// sum ± 3.92 (SEEN), four rectangles ± 3.88 (SEEN; exact 3.879406741 COMPUTED), one of them ten
// times wider ± 17.0 (FROM MEMORY, high; exact 17.015814100 COMPUTED).
func TestSumsPublished(t *testing.T) {
	const n = 200000
	for _, c := range []struct {
		name  string
		typed []string
		want  float64
	}{
		{"9.2.2 normal", []string{"0(1)", "0(1)", "0(1)", "0(1)"}, 3.919928},
		{"9.2.3 rectangular", []string{"0 ± 1.7320508075688772", "0 ± 1.7320508075688772", "0 ± 1.7320508075688772", "0 ± 1.7320508075688772"}, 3.879406741},
		{"9.2.4 one ten times wider", []string{"0 ± 1.7320508075688772", "0 ± 1.7320508075688772", "0 ± 1.7320508075688772", "0 ± 17.320508075688772"}, 17.015814100},
	} {
		x := propagate(t, n, sum, c.typed...)
		for _, p := range []float64{0.025, 0.975} {
			got := math.Abs(numeric.Quantile(x, p))
			if math.Abs(got-c.want) > 0.004*c.want {
				t.Errorf("%s: quantile %g is %.4f, want %.4f", c.name, p, got, c.want)
			}
		}
	}
}

// JCGM 101:2008, 9.3: mass calibration. Inputs SEEN; results 1.2341 mg, 0.0754 mg FROM MEMORY
// (high), exact by quadrature COMPUTED: u 0.075479283 mg, symmetric 95 % [1.084434224, 1.383565776] mg.
// The first-order figure of 0.0539 mg would be wrong.
func TestMassCalibrationPublished(t *testing.T) {
	model := func(x []float64) float64 {
		return (x[0]+x[1])*(1+(x[2]-1.2)*(1/x[3]-1/x[4])) - 100000
	}
	x := propagate(t, 400000, model, "100000.000(50)", "1.234(20)", "1.10 .. 1.30", "7000 .. 9000", "7950 .. 8050")
	mean, ss := 0.0, 0.0
	for _, v := range x {
		mean += v / float64(len(x))
	}
	for _, v := range x {
		ss += (v - mean) * (v - mean) / float64(len(x))
	}
	for _, c := range []struct {
		name            string
		got, want, near float64
	}{
		{"mean", mean, 1.2340, 2e-4},
		{"u", math.Sqrt(ss), 0.075479283, 2e-4},
		{"low", numeric.Quantile(x, 0.025), 1.084434224, 1e-3},
		{"high", numeric.Quantile(x, 0.975), 1.383565776, 1e-3},
	} {
		if math.Abs(c.got-c.want) > c.near {
			t.Errorf("%s = %.5f mg, want %.5f within %g", c.name, c.got, c.want, c.near)
		}
	}
}

// The Monte Carlo anchor of F^1.5/(P·√(2ρA)). COMPUTED elsewhere with 1e7 pseudo-random draws:
// mean 0.487648, standard deviation 0.009498, 95 % [0.46928, 0.50651].
func TestStaticEfficiencySpreadPublished(t *testing.T) {
	model := func(x []float64) float64 { return math.Pow(x[0], 1.5) / (x[1] * math.Sqrt(2*x[2]*x[3])) }
	x := propagate(t, 100000, model, "120.0(12)", "1700(20)", "998.2(5)", "0.001260(10)")
	for _, c := range []struct{ p, want float64 }{{0.025, 0.46928}, {0.975, 0.50651}} {
		if got := numeric.Quantile(x, c.p); math.Abs(got-c.want) > 2e-4 {
			t.Errorf("quantile %g is %.5f, want %.5f", c.p, got, c.want)
		}
	}
}

// Each input of a Latin hypercube uses each slice once, whatever its size, and the same seed
// gives the same points.
func TestUniformLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, k := rapid.IntRange(1, 200).Draw(t, "n"), rapid.IntRange(1, 30).Draw(t, "k")
		seed := rapid.Uint64().Draw(t, "seed")
		u, again := Uniform(n, k, seed), Uniform(n, k, seed)
		for j := range k {
			used := make([]bool, n)
			for i := range n {
				if u[i][j] != again[i][j] {
					t.Fatal("the same seed gave other points")
				}
				if !(u[i][j] > 0 && u[i][j] < 1) {
					t.Fatalf("point %g", u[i][j])
				}
				s := int(u[i][j] * float64(n))
				if used[s] {
					t.Fatalf("slice %d of input %d is used twice", s, j)
				}
				used[s] = true
			}
		}
	})
}

// The comparison behind the choice of points: at the inputs of a real design and 512 draws the
// Latin hypercube misses the mean and the ends of the interval by less than scrambled Halton
// points do, against a reference of 32768 draws. Errors are averaged over seeds.
func TestLatinHypercubeAgainstHalton(t *testing.T) {
	d := read(t)
	k := len(d.Uncertain())
	if k < 20 {
		t.Fatalf("the design has %d uncertain inputs, too few for the comparison", k)
	}
	figures := func(u [][]float64) [3]float64 {
		x := make([]float64, len(u))
		Parallel(len(u), func(i int) {
			m, err := d.Draw(u[i]).Resolve()
			if err != nil {
				return
			}
			if s, err := m.Solve(m.Drive.DutyCondition()); err == nil {
				x[i] = s.BatteryPower
			}
		})
		sort.Float64s(x)
		return [3]float64{sum(x) / float64(len(x)), numeric.Quantile(x, 0.05), numeric.Quantile(x, 0.95)}
	}
	want := figures(Uniform(32768, k, 1))
	halton := func(n int, seed uint64) [][]float64 {
		dense := mat.NewDense(n, k, nil)
		samplemv.Halton{Kind: samplemv.Owen, Q: unitCube{k}, Src: rand.NewPCG(seed, 9)}.Sample(dense)
		u := make([][]float64, n)
		for i := range u {
			u[i] = mat.Row(nil, i, dense)
			for j := range u[i] {
				u[i][j] = math.Min(math.Max(u[i][j], 1e-12), 1-1e-12)
			}
		}
		return u
	}
	var latin, owen [3]float64
	const seeds = 24
	for s := range uint64(seeds) {
		a, b := figures(Uniform(512, k, s+10)), figures(halton(512, s+10))
		for i := range want {
			latin[i] += math.Pow(a[i]/want[i]-1, 2) / seeds
			owen[i] += math.Pow(b[i]/want[i]-1, 2) / seeds
		}
	}
	t.Logf("%d inputs, 512 draws, rms relative error of mean, 5 %%, 95 %%: Latin hypercube %.2e %.2e %.2e, scrambled Halton %.2e %.2e %.2e",
		k, math.Sqrt(latin[0]), math.Sqrt(latin[1]), math.Sqrt(latin[2]), math.Sqrt(owen[0]), math.Sqrt(owen[1]), math.Sqrt(owen[2]))
	if latin[0] > owen[0] {
		t.Errorf("scrambled Halton points are the better choice for the mean: %g against %g", owen[0], latin[0])
	}
}

// unitCube maps the unit cube onto itself.
type unitCube struct{ k int }

func (q unitCube) Quantile(x, p []float64) []float64 {
	if x == nil {
		x = make([]float64, q.k)
	}
	copy(x, p)
	return x
}

// An interval holds nine tenths of other draws of the same design.
func TestIntervalCoverageLaw(t *testing.T) {
	d := read(t)
	s, err := New(d, DefaultDraws, DefaultSeed)
	if err != nil {
		t.Fatal(err)
	}
	c := drive.Condition{Demand: drive.BatteryPower, Amount: 2500}
	f := s.Solve(c).Figure(func(s *drive.State) float64 { return s.Thrust })
	other, err := New(d, 4000, 99)
	if err != nil {
		t.Fatal(err)
	}
	inside := 0
	col := other.Solve(c).Column(func(s *drive.State) float64 { return s.Thrust })
	for _, x := range col {
		if x >= f.Low && x <= f.High {
			inside++
		}
	}
	if p := float64(inside) / float64(len(col)); math.Abs(p-0.9) > 0.025 {
		t.Errorf("the 90 %% interval holds %.1f %% of other draws", 100*p)
	}
}

// Nearly all of the doubt is explained by ranks at the design point, shares and rest sum to
// one, and the efficiency, which is hardly known, dominates.
func TestContributions(t *testing.T) {
	s, err := New(read(t), DefaultDraws, DefaultSeed)
	if err != nil {
		t.Fatal(err)
	}
	r := s.Solve(s.Nominal.Drive.DutyCondition())
	shares, rest := r.Contributions(s, func(s *drive.State) float64 { return s.BatteryPower })
	total := rest
	for _, x := range shares {
		total += x.Share
	}
	if math.Abs(total-1) > 1e-9 {
		t.Errorf("shares and rest sum to %g", total)
	}
	if shares[0].Path != "impeller.efficiency" || shares[0].Share < 0.6 {
		t.Errorf("the largest share is %+v", shares[0])
	}
	if rest > 0.1 {
		t.Errorf("%.0f %% are unexplained", 100*rest)
	}
}

// A limit's four states, by margins made for them.
func TestJudge(t *testing.T) {
	at := func(value float64, hazard bool) quantity.Limit {
		return quantity.Limit{Value: value, Allowed: 100, Hazard: hazard}
	}
	even := func(low, high float64) []float64 {
		x := make([]float64, 101)
		for i := range x {
			x[i] = low + (high-low)*float64(i)/100
		}
		return x
	}
	for _, c := range []struct {
		name    string
		l       quantity.Limit
		margins []float64
		want    LimitState
	}{
		{"beyond", at(101, false), even(-0.1, 0.1), Broken},
		{"the bad end beyond", at(80, false), even(-0.1, 0.5), Near},
		{"little left", at(95, false), even(0.04, 0.06), Near},
		{"plenty left", at(50, false), even(0.4, 0.6), Clear},
		{"one draw in a hundred beyond", at(60, false), append(even(0.3, 0.5), -0.2), Clear},
		{"the same for what hurts people", at(60, true), append(even(0.3, 0.5), -0.2), Broken},
		{"not judged", quantity.Limit{NotJudged: "no bound"}, nil, NotJudged},
	} {
		if got := judge(c.l, c.margins, c.margins); got.State != c.want {
			t.Errorf("%s: %v, want %v", c.name, got.State, c.want)
		}
	}
}

// The bad corner of a hazard is at least as bad as the worst draw.
func TestCornerLaw(t *testing.T) {
	s, err := New(read(t), DefaultDraws, DefaultSeed)
	if err != nil {
		t.Fatal(err)
	}
	r := s.Solve(drive.Condition{Demand: drive.BatteryPower, Amount: 3000})
	for _, l := range r.Limits(s) {
		if l.Name != "pull on the rope" {
			continue
		}
		worst := 0.0
		for _, st := range r.States {
			worst = math.Max(worst, st.Thrust)
		}
		if l.Worst < worst {
			t.Errorf("the corner pulls %g N, the worst draw %g N", l.Worst, worst)
		}
		return
	}
	t.Error("no limit on the rope")
}

func BenchmarkPredict15(b *testing.B) {
	d := read(b)
	for _, draws := range []int{0, 128} {
		name := "nominal"
		if draws > 0 {
			name = "128 draws"
		}
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				s, err := New(d, draws, DefaultSeed)
				if err != nil {
					b.Fatal(err)
				}
				for i := range 15 {
					s.Solve(drive.Condition{Demand: drive.BatteryPower, Amount: 300 + 200*float64(i)})
				}
			}
		})
	}
}
