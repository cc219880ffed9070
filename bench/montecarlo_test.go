package bench

import (
	"math"
	"testing"

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
