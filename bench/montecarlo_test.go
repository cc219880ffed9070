package bench

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"

	"jetwright/quantity"
)

// JCGM 101:2008, 9.2: sums of four normal quantities, of four rectangles, and of four rectangles
// one of which is ten times as wide. Exact ends COMPUTED (by the distribution of the sum), the
// Guide's own figures SEEN for the first two and FROM MEMORY for the third.
func TestSimulatedPublished(t *testing.T) {
	four := func(rectangle bool, last float64) []Component {
		c := make([]Component, 4)
		for i := range c {
			c[i] = Component{U: 1, Freedom: math.Inf(1), Rectangle: rectangle}
		}
		c[3].U = last
		return c
	}
	const draws = 1000000
	for _, c := range []struct {
		name       string
		components []Component
		want       float64
		tolerance  float64
	}{
		{"9.2.2 normal", four(false, 1), 3.919928, 0.012},
		{"9.2.3 rectangles", four(true, 1), 3.879406741, 0.012},
		{"9.2.4 one ten times wider", four(true, 10), 17.015814100, 0.03},
	} {
		low, high := Simulated(c.components, 0.95, draws, 1)
		within(t, c.name+", upper", high, c.want, c.tolerance)
		within(t, c.name+", lower", low, -c.want, c.tolerance)
	}
	// By the budget alone the last is taken for normal, and its interval is 17 % too wide.
	u, _ := Combined(four(true, 10))
	within(t, "9.2.4 by the budget", CoverageFactor(0.95, math.Inf(1))*u, 19.9, 0.05)
	low, high := Simulated([]Component{{U: 1, Freedom: 5}}, 0.95, draws, 2)
	within(t, "t of 5 degrees of freedom", 0.5*(high-low), 2.570582, 0.02)
}

// Drawn together, a day's pulls have the covariance that the budgets say: what is shared moves them
// together, what turns with the direction moves them apart.
func TestSimulatedDayLaw(t *testing.T) {
	r, err := Reduce(usual().sources(), ReduceOptions{Run: "day"})
	if err != nil {
		t.Fatal(err)
	}
	const draws = 20000
	rows := SimulatedDay(r.Plateaus, Thrust, draws, 3)
	want := Covariance(r.Plateaus, Thrust)
	n := len(r.Plateaus)
	mean := make([]float64, n)
	for _, row := range rows {
		for a, v := range row {
			mean[a] += v / draws
		}
	}
	for a := range n {
		for b := range n {
			c := 0.0
			for _, row := range rows {
				c += (row[a] - mean[a]) * (row[b] - mean[b]) / (draws - 1)
			}
			scale := math.Sqrt(want.At(a, a) * want.At(b, b))
			if math.Abs(c-want.At(a, b)) > 0.06*scale { // t of few degrees of freedom spreads a little more
				t.Errorf("covariance of %d and %d is %.4g drawn and %.4g by the budgets", a+1, b+1, c, want.At(a, b))
			}
		}
	}
	f, _ := r.Plateaus[0].Figure(Thrust)
	within(t, "mean", mean[0], f.Value, 4*f.StandardUncertainty()/math.Sqrt(draws))
}

// JCGM 101:2008, 7.9.2, examples: 0.000 22 g to two digits leaves 0.000 005 g open, 2 K to one digit 0.5 K:
// FROM MEMORY (high). What rounds up to another digit: by hand.
func TestNumericalTolerancePublished(t *testing.T) {
	near(t, "0.00022 g", NumericalTolerance(0.00022, 2), 0.000005)
	near(t, "2 K", NumericalTolerance(2, 1), 0.5)
	near(t, "9.96", NumericalTolerance(9.96, 2), 0.5)
	near(t, "9.94", NumericalTolerance(9.94, 2), 0.05)
	near(t, "0.1", NumericalTolerance(0.1, 2), 0.005)
}

// JCGM 101:2008, 9.2.2 and 9.2.4: a sum of normal quantities agrees with its budget, four rectangles one of
// which is ten times as wide do not: [−17.0, 17.0] against ± 19.9 at 95 %. FROM MEMORY (high) for the last; exact
// ends COMPUTED.
func TestValidatePublished(t *testing.T) {
	day := func(rectangle bool, last float64) []Plateau {
		f := Figure{Channel: Thrust, Budget: []Component{}}
		for _, u := range []float64{1, 1, 1, last} {
			f.Budget = append(f.Budget, Component{U: u, Freedom: math.Inf(1), Rectangle: rectangle})
		}
		return []Plateau{{}, {Figures: []Figure{f}}}
	}
	v := Validate(day(false, 1), Thrust, 0.95, 1)
	if len(v) != 1 || v[0].Plateau != 1 || v[0].Verdict != Agrees {
		t.Fatalf("four normal quantities: %+v", v)
	}
	within(t, "tolerance of u = 2.0", v[0].Tolerance, 0.05, 1e-12)
	v = Validate(day(true, 10), Thrust, 0.95, 1)
	if v[0].Verdict != Differs {
		t.Errorf("9.2.4: %+v", v)
	}
	within(t, "by the budget", v[0].High, 19.9, 0.05)
	within(t, "drawn", v[0].DrawnHigh, 17.015814100, 5*v[0].UHigh+0.001)
	within(t, "share", v[0].Share(), 17.0158/19.8914, 0.005)
	if Validate([]Plateau{{}}, Thrust, 0.9, 1) != nil {
		t.Error("nothing agrees with nothing")
	}
}

// A day's verdicts hold with other draws, what is shared or turns with the direction does not change a
// figure's own interval, and every component that a day may have is drawn.
func TestValidateLaw(t *testing.T) {
	d := usual()
	s := d.sources()
	s[0].Corrections = Corrections{RopeAngle: 0.1, URopeAngle: 0.02, Gravity: 9.81, UGravity: 0.01, Pulley: 0.01, Loads: []float64{0, 100, 200, 300, 400, 200, 0}, Readings: []float64{0.2, 100.5, 201, 301, 402, 201.8, 0.6}}
	r, err := Reduce(s, ReduceOptions{
		Run: "day", Setup: Setup{Lever: quantity.Some(0.8), ULever: 0.008}, Motion: Motion{SpeedChange: 1, Mass: 100, Pitch: 0.1},
		Level: Level{Times: []float64{0, 200, 300}, Heights: []float64{0.3, 0.3, 0.28}, Pull: 20, UPull: 10},
	})
	if err != nil {
		t.Fatal(err)
	}
	f, _ := r.Plateaus[3].Figure(Thrust)
	for _, name := range []string{"scatter", "resolution", "tare", "tare drift", "water level", "inertia", "scale calibration", "reversibility of the scale", "gravity", "rope angle", "pitch of the stand", "lever", "pulley", "carriage friction", "instrument"} {
		c := lineOf(t, f, name)
		if !(c.U > 0) && name != "instrument" {
			t.Errorf("%s is nothing", name)
		}
		// Alone, its draws have its standard uncertainty.
		f := Figure{Channel: Thrust, Budget: []Component{c}}
		rows := SimulatedDay([]Plateau{{Figures: []Figure{f}}}, Thrust, 20000, 4)
		square := 0.0
		for _, row := range rows {
			square += row[0] * row[0] / float64(len(rows))
		}
		want := c.U
		if c.Freedom < 100 { // Student's t spreads more
			want *= math.Sqrt(c.Freedom / (c.Freedom - 2))
		}
		if c.Freedom > 4 {
			within(t, name, math.Sqrt(square), want, 0.05*want)
		}
	}
	a, b := Validate(r.Plateaus, Thrust, 0.9, 1), Validate(r.Plateaus, Thrust, 0.9, 2)
	if len(a) != len(r.Plateaus) {
		t.Fatalf("%d of %d plateaus", len(a), len(r.Plateaus))
	}
	for i := range a {
		if a[i].Verdict != b[i].Verdict && a[i].Verdict != Open && b[i].Verdict != Open {
			t.Errorf("plateau %d %s and %s", i+1, a[i].Verdict, b[i].Verdict)
		}
		within(t, "low end", a[i].DrawnLow, b[i].DrawnLow, 5*math.Hypot(a[i].ULow, b[i].ULow))
		f, _ := r.Plateaus[i].Figure(Thrust)
		low, _ := Simulated(f.Budget, 0.9, 200000, 3)
		within(t, "low end alone", f.Value+low, a[i].DrawnLow, 0.02*f.StandardUncertainty())
	}
}

func BenchmarkValidate(b *testing.B) {
	r, err := Reduce(usual().sources(), ReduceOptions{Run: "day"})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if len(Validate(r.Plateaus, Thrust, 0.9, 1)) == 0 {
			b.Fatal("nothing")
		}
	}
}

// JCGM 101:2008, 9.3 (calibration of a mass) and 9.4 (loss by comparison of powers). Inputs SEEN; the
// Guide's results FROM MEMORY (high and medium-high); exact figures COMPUTED by quadrature
// and for 9.4 without correlation in closed form. Tolerances of drawn figures are four standard
// errors: of an end, √(p(1 − p)/n)/g(end) with the density g there.
func TestDrawPublished(t *testing.T) {
	endless := math.Inf(1)
	rectangle := func(low, high float64) InputQuantity {
		return InputQuantity{0.5 * (low + high), Component{U: (high - low) / math.Sqrt(12), Freedom: endless, Rectangle: true}}
	}
	normal := func(x, u float64) InputQuantity { return InputQuantity{x, Component{U: u, Freedom: endless}} }

	// 9.3, mg and kg/m³: conventional mass of a weight less 100 g.
	mass := []InputQuantity{normal(100000, 0.050), normal(1.234, 0.020), rectangle(1.10, 1.30), rectangle(7000, 9000), rectangle(7950, 8050)}
	model := func(x []float64) float64 {
		return (x[0]+x[1])*(1+(x[2]-1.2)*(1/x[3]-1/x[4])) - 100000
	}
	x, cov := make([]float64, len(mass)), mat.NewSymDense(len(mass), nil)
	for i, in := range mass {
		x[i] = in.Value
		cov.SetSym(i, i, in.U*in.U)
	}
	y, u, err := Propagate(model, x, cov)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "9.3 first order, value", y, 1.234, 1e-8)
	within(t, "9.3 first order, u", u, 0.053851648, 2e-9)
	k := CoverageFactor(0.95, endless)
	within(t, "9.3 first order, low as published", y-k*u, 1.1285, 6e-5)
	within(t, "9.3 first order, high as published", y+k*u, 1.3395, 6e-5)
	const many = 4000000
	d, err := Draw(model, mass, nil, DrawOptions{Share: 0.95, Seed: 93, Draws: many, Digits: 2})
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("9.3: %+v", d)
	within(t, "9.3 value", d.Value, 1.234, 4*0.0755/math.Sqrt(many))
	within(t, "9.3 u", d.U, 0.075479283, 4*0.075479283/math.Sqrt(2*many))
	// the density at the ends, COMPUTED, is 0.739 a milligram
	end := 4 * math.Sqrt(0.025*0.975/many) / 0.739
	within(t, "9.3 low", d.Low, 1.084434224, end)
	within(t, "9.3 high", d.High, 1.383565776, end)
	within(t, "9.3 shortest, low", d.ShortLow, 1.084434224, 0.003)
	within(t, "9.3 shortest, high", d.ShortHigh, 1.383565776, 0.003)
	within(t, "9.3 shortest, low as published", d.ShortLow, 1.0834, 0.003)
	within(t, "9.3 shortest, high as published", d.ShortHigh, 1.3825, 0.003)
	if d.Holds(y-k*u, y+k*u) {
		t.Error("9.3: the first order holds against drawing")
	}

	// 9.4: y = x₁² + x₂² with u = 0.005 each, in units of 1e-6.
	loss := func(x []float64) float64 { return 1e6 * (x[0]*x[0] + x[1]*x[1]) }
	const draws = 1000000
	for _, c := range []struct {
		x, r              float64
		value, u, uTo     float64 // exact to the digits of uTo
		low, high, endsTo float64 // shortest, exact to endsTo
		mean, s, from, to float64 // the Guide's, to a unit in the last digit and the noise of its own drawing
		firstOrder        float64
	}{
		{0, 0, 50, 50, 0.25, 0, 149.786614, 1.2, 50, 50, 0, 150, 0},
		{0.010, 0, 150, 111.80, 0.4, 0, 366.1, 3, 150, 112, 0, 367, 100},
		{0.050, 0, 2550, 502.5, 1.5, 1594, 3549, 14, 2551, 502, 1590, 3543, 500},
		{0, 0.9, 50, 67.3, 0.5, 0, 185.0, 2, 50, 67, 0, 185, 0},
		{0.010, 0.9, 150, 120.5, 0.5, 12.8, 397.6, 4, 150, 121, 13, 398, 100},
		{0.050, 0.9, 2550, 504.6, 1.5, 1625.5, 3555.7, 14, 2551, 505, 1628, 3555, 500},
	} {
		in := []InputQuantity{normal(c.x, 0.005), normal(0, 0.005)}
		r := mat.NewSymDense(2, []float64{1, c.r, c.r, 1})
		d, err := Draw(loss, in, r, DrawOptions{Share: 0.95, Seed: 94, Draws: draws})
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("9.4 at %g, r = %g: %+v", c.x, c.r, d)
		within(t, "9.4 value", d.Value, c.value, 4*c.u/math.Sqrt(draws))
		within(t, "9.4 u", d.U, c.u, c.uTo)
		within(t, "9.4 shortest, low", d.ShortLow, c.low, c.endsTo)
		within(t, "9.4 shortest, high", d.ShortHigh, c.high, c.endsTo)
		within(t, "9.4 value as published", d.Value, c.mean, 1.5)
		within(t, "9.4 u as published", d.U, c.s, 1.5)
		within(t, "9.4 low as published", d.ShortLow, c.from, c.endsTo+1)
		within(t, "9.4 high as published", d.ShortHigh, c.to, c.endsTo+1)
		cov := mat.NewSymDense(2, []float64{25e-6, c.r * 25e-6, c.r * 25e-6, 25e-6})
		y, u, err := Propagate(loss, []float64{c.x, 0}, cov)
		if err != nil {
			t.Fatal(err)
		}
		within(t, "9.4 first order, value", y, 1e6*c.x*c.x, 1e-9)
		within(t, "9.4 first order, u", u, c.firstOrder, 1e-6)
		if d.Holds(y-k*u, y+k*u) {
			t.Errorf("9.4 at %g, r = %g: the first order holds against drawing", c.x, c.r)
		}
	}

	// 9.2.2, four normal quantities: the first order holds, and the drawing stops by itself.
	sum := []Component{{U: 1, Freedom: endless}, {U: 1, Freedom: endless}, {U: 1, Freedom: endless}, {U: 1, Freedom: endless}}
	four, err := DrawBudget(sum, DrawOptions{Share: 0.95, Seed: 92, Digits: 2})
	if err != nil {
		t.Fatal(err)
	}
	if !four.Settled || !four.Holds(-k*2, k*2) || four.Tolerance != 0.05 {
		t.Errorf("9.2.2 settled by itself: %+v", four)
	}
}

// Left to stop by itself, a drawing stands within its tolerance of the truth as often as it says, and
// a model or input that is none is named.
func TestDrawLaw(t *testing.T) {
	off, draws := 0, 0
	const runs = 50
	for seed := range uint64(runs) {
		d, err := DrawBudget([]Component{{U: 3, Freedom: math.Inf(1)}, {U: 4, Freedom: math.Inf(1)}}, DrawOptions{Share: 0.90, Seed: seed, Digits: 2})
		if err != nil || !d.Settled || d.Tolerance != 0.05 {
			t.Fatal(d, err)
		}
		draws += d.Draws
		if !d.Holds(-5*1.6448536, 5*1.6448536) || math.Abs(d.U-5) > d.Tolerance || math.Abs(d.Value) > d.Tolerance {
			off++
		}
	}
	t.Logf("%d of %d are off, of %d draws on average", off, runs, draws/runs)
	if off > runs/5 { // two standard errors for each of four figures, fewer where it stops by chance
		t.Errorf("%d of %d drawings are off by more than their tolerance", off, runs)
	}
	d, err := DrawBudget([]Component{{U: 1, Freedom: 3}}, DrawOptions{Share: 0.999, Digits: 3, Most: 300000})
	if err != nil || d.Settled || d.Draws > 300000 {
		t.Errorf("%+v, %v: three digits of the ends of a long tail stand still", d, err)
	}
	one := []InputQuantity{{0, Component{U: 1, Freedom: math.Inf(1)}}, {0, Component{U: 1, Freedom: math.Inf(1), Rectangle: true}}}
	id := func(x []float64) float64 { return x[0] }
	for words, f := range map[string]func() error{
		"share between 0 and 1": func() error { _, err := Draw(id, one, nil, DrawOptions{}); return err },
		"another size": func() error {
			_, err := Draw(id, one, mat.NewSymDense(1, []float64{1}), DrawOptions{Share: 0.9})
			return err
		},
		"correlated and not normal": func() error {
			_, err := Draw(id, one, mat.NewSymDense(2, []float64{1, 0.5, 0.5, 1}), DrawOptions{Share: 0.9})
			return err
		},
		"not positive definite": func() error {
			_, err := Draw(id, []InputQuantity{one[0], one[0]}, mat.NewSymDense(2, []float64{1, 2, 2, 1}), DrawOptions{Share: 0.9})
			return err
		},
		"the model gives NaN": func() error {
			_, err := Draw(func(x []float64) float64 { return math.Sqrt(x[0]) }, one, nil, DrawOptions{Share: 0.9})
			return err
		},
		"standard uncertainty -1": func() error {
			_, err := DrawBudget([]Component{{U: -1}}, DrawOptions{Share: 0.9})
			return err
		},
	} {
		if err := f(); err == nil || !strings.Contains(err.Error(), words) {
			t.Errorf("%v does not say %q", err, words)
		}
	}
}
