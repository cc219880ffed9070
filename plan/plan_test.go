package plan

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tolerance {
		t.Errorf("%s is %.10g, want %.10g", what, got, want)
	}
}

// By hand: 1.2 m³ in a tub 1 m wide and 0.5 m deep are 2.4 m long; A = 0.5 m², S = 2·2.4 = 4.8 m², ½·0.005·4.8 = 0.012 m², ½·4·0.25 = 0.5 m²; at 512 N: √(512/(1000·0.512)) = 1 m/s,
// and it gets there with a time of 1000·1.2·1/512 = 2.34375 s.
func TestCoflowExact(t *testing.T) {
	near(t, "the speed", CoflowSpeed(512, 1000, 1, 0.5, 1.2, 4), 1, 1e-12)
	near(t, "the time", SpinUpTime(512, 1000, 1.2, 1), 2.34375, 1e-12)
	near(t, "the loss in still water", CoflowLoss(0, 11, 0.2), 0, 1e-12)
	// with all of the ingested head lost the jet keeps its velocity, and the loss is u/V_j
	near(t, "the loss of a lossy intake", CoflowLoss(1.1, 11, 1), 0.1, 1e-12)
}

// At constant power an ingested 0.3, 0.5 and 1.0 m/s cost about 2.5, 4 and 8 % of the thrust of a small jet
// of 11 to 12 m/s: common practice, no source.
func TestCoflowLossCommonPractice(t *testing.T) {
	for _, c := range []struct{ u, percent float64 }{{0.3, 2.5}, {0.5, 4}, {1.0, 8}} {
		for _, jet := range []float64{11, 11.5, 12} {
			for _, lost := range []float64{0.10, 0.20, 0.30} {
				near(t, "the loss in %", 100*CoflowLoss(c.u, jet, lost), c.percent, 0.12*c.percent)
			}
		}
	}
}

// More speed takes more, more thrust drives faster, more loss slower; all are finite and in their range.
func TestCoflowLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		jet, lost := f("jet", 3, 30), f("lost", 0, 1)
		u := f("u", 0, 0.9*jet)
		a, b := CoflowLoss(u, jet, lost), CoflowLoss(u*1.01, jet, lost)
		if !(a >= 0 && a < 1) || b < a-1e-12 {
			t.Fatalf("loss %g, faster %g", a, b)
		}
		thrust, w, h, v, k := f("T", 1, 5000), f("b", 0.2, 30), f("h", 0.1, 10), f("V", 0.1, 1e4), f("K", 1, 10)
		s := CoflowSpeed(thrust, 1000, w, h, v, k)
		if !(s > 0) || CoflowSpeed(2*thrust, 1000, w, h, v, k) <= s || CoflowSpeed(thrust, 1000, w, h, v, 1.5*k) >= s {
			t.Fatalf("speed %g", s)
		}
	})
}

// The formula is SECOND-HAND (a vendor's page that quotes it). Its shape at two points is COMPUTED: at
// Fr = 1 it asks for 3.3 D; the opening of a small jet, 95 mm at 4.5 m/s, gets 1.11 m, about a metre.
func TestSubmergencePublished(t *testing.T) {
	d := 0.5
	near(t, "the depth at Fr = 1", Submergence(d, math.Sqrt(9.80665*d), 9.80665), 3.3*d, 1e-12)
	near(t, "the depth of a small jet", Submergence(0.095, 4.5, 9.80665), 1.11, 0.01)
}

// A kilowatt-hour warms a cubic metre by 3.6e6/(1000·4200) K.
func TestWarmingExact(t *testing.T) {
	near(t, "the rise", Warming(3.6e6, 1000, 4200, 1), 0.857142857, 1e-9)
}

func TestAirGradeExact(t *testing.T) {
	for _, c := range []struct {
		depth, reach, asked, path float64
		grade                     string
	}{
		{0.2, 0, 1, 0.2, AirLikely},
		{0.2, 0.35, 1, 0.55, AirPossible},
		{0.2, 0.8, 1, 1.0, AirUnlikely},
		{1.2, 0, 1, 1.2, AirUnlikely},
		{-0.01, 2, 1, 1.99, AirLikely}, // an intake in the air draws it, whatever lies above
	} {
		path, grade := AirGrade(c.depth, c.reach, c.asked)
		near(t, "the path", path, c.path, 1e-12)
		if grade != c.grade {
			t.Errorf("%+v is graded %s", c, grade)
		}
	}
}

func TestAirGradeLaw(t *testing.T) {
	rank := map[string]int{AirLikely: 0, AirPossible: 1, AirUnlikely: 2}
	rapid.Check(t, func(t *rapid.T) {
		f := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		d, r, s := f("d", -0.5, 3), f("r", 0, 3), f("S", 0.1, 3)
		path, grade := AirGrade(d, r, s)
		deeper, better := AirGrade(d+f("more", 0, 1), r+f("further", 0, 1), s)
		if deeper < path || rank[better] < rank[grade] {
			t.Fatalf("%s at %g, %s at %g", grade, path, better, deeper)
		}
	})
}

// With R₂ = 0 next to R₁ the winding is alone: τ = R₁·C_w. With R₁ = 0 next to R₂ both are one: R₂·(C_w + C_h).
func TestSlowestTimeExact(t *testing.T) {
	near(t, "the winding alone", SlowestTime(0.1, 1e-9, 300, 2000), 30, 1e-3)
	near(t, "both as one", SlowestTime(1e-9, 0.02, 300, 2000), 46, 1e-3)
	// by hand: p = 1/30 + (10 + 50)/2000, q = 1/(0.1·0.02·300·2000); τ is 2/(p − √(p² − 4q))
	near(t, "a pair", SlowestTime(0.1, 0.02, 300, 2000), 2/(0.06333333333-math.Sqrt(0.06333333333*0.06333333333-4*0.00083333333333)), 1e-6)
}

// The slowest time is longer than that of either node alone and grows with every part of the network.
func TestSlowestTimeLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		r1, r2, cw, ch := f("r1", 0.001, 5), f("r2", 0.001, 2), f("cw", 1, 5000), f("ch", 1, 50000)
		tau := SlowestTime(r1, r2, cw, ch)
		if !(tau >= r1*cw*(1-1e-9)) || !(tau >= r2*(cw+ch)*(1-1e-9)) || tau > (r1*cw+r2*(cw+ch))*(1+1e-9) {
			t.Fatalf("%g of %g and %g", tau, r1*cw, r2*ch)
		}
	})
}

func rise(tau, span, step, from, by, noise float64, rng *rand.Rand) (time, y []float64) {
	for x := 0.0; x < span; x += step {
		time = append(time, x)
		y = append(y, from+by*(1-math.Exp(-x/tau))+noise*rng.NormFloat64())
	}
	return time, y
}

// A clean rise is found to a thousandth; too little of one, or one that has not bent, is refused.
func TestFitRiseExact(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for _, tau := range []float64{8, 30, 70} {
		time, y := rise(tau, 180, 0.2, 290, 12, 0, rng)
		y[3] = math.NaN()
		got, ok := FitRise(time, y)
		if !ok || math.Abs(got/tau-1) > 1e-3 {
			t.Errorf("τ %g is found as %g, %v", tau, got, ok)
		}
	}
	if tau, ok := FitRise(rise(300, 180, 0.2, 290, 12, 0, rng)); ok {
		t.Errorf("a rise that has not bent is taken for %g s", tau)
	}
	if _, longer, _ := fitRise(rise(300, 180, 0.2, 290, 12, 0, rng)); math.Abs(longer-0.7*180) > 0.2 {
		t.Errorf("a rise of 300 s over 180 s is said to take longer than %g s", longer)
	}
	if _, longer, _ := fitRise(rise(30, 180, 0.2, 290, 12, 0, rng)); longer != 0 {
		t.Errorf("a rise of 30 s over 180 s is said to take longer than %g s", longer)
	}
	if tau, ok := FitRise(rise(30, 180, 0.2, 290, 0.5, 0, rng)); ok {
		t.Errorf("half a kelvin is taken for %g s", tau)
	}
	if _, ok := FitRise(nil, nil); ok {
		t.Error("nothing has a time constant")
	}
	still := make([]float64, 100)
	if tau, ok := FitRise(still, still); ok {
		t.Errorf("no time passes in %g s", tau)
	}
}

// With a sensor's noise it is found to a fifth in nine of ten, and noise alone is refused.
func TestFitRiseSynthetic(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	found, fooled := 0, 0
	for range 100 {
		if tau, ok := FitRise(rise(35, 180, 0.5, 290, 8, 0.3, rng)); ok && math.Abs(tau/35-1) < 0.2 {
			found++
		}
		if _, ok := FitRise(rise(35, 180, 0.5, 290, 0, 0.3, rng)); ok {
			fooled++
		}
	}
	if found < 90 || fooled > 0 {
		t.Errorf("found %d of 100, fooled %d times", found, fooled)
	}
}

// By hand: k = 9000/(0.03·1.5) = 200000 N/m; with 0.02 m of slack and 300 N
// 300 + √(90000 + 2·200000·300·0.02) = 300 + √2490000 = 1877.973 N. Without slack twice the thrust.
func TestTetherByHand(t *testing.T) {
	near(t, "the force", TetherForce(300, 0.02, 9000, 1.5), 1877.973384, 1e-6)
	near(t, "the force without slack", TetherForce(300, 0, 9000, 1.5), 600, 1e-9)
}

func TestTetherLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		thrust, slack, strength, length := f("T", 1, 5000), f("s", 0, 3), f("F", 1000, 1e5), f("L", 0.1, 30)
		force := TetherForce(thrust, slack, strength, length)
		if !(force >= 2*thrust*(1-1e-12)) || TetherForce(thrust, slack+0.1, strength, length) <= force || TetherForce(thrust, slack, strength, 2*length) > force {
			t.Fatalf("%g N", force)
		}
		// the work of the thrust is what the tether holds
		k := strength / (tetherStretch * length)
		if work := thrust * (slack + force/k); math.Abs(work/(force*force/(2*k))-1) > 1e-9 {
			t.Fatalf("work %g", work)
		}
	})
}

// G 6.3 at 3000 rpm allows 20 g·mm a kg, as the chart of the standard shows: FROM MEMORY (high).
func TestBalancePublished(t *testing.T) {
	near(t, "the unbalance", 1e6*Balance(6.3e-3, 3000*math.Pi/30), 20, 0.1)
}

// Rows of table 4 of ISO 13857, slot openings, 14 years and above: SEEN in a consultant's copy.
func TestGuardPublished(t *testing.T) {
	for _, c := range []struct{ slot, distance float64 }{{0.004, 0.002}, {0.005, 0.010}, {0.008, 0.020}, {0.010, 0.080}, {0.012, 0.100}, {0.020, 0.120}, {0.030, 0.850}, {0.100, 0.850}} {
		if d, ok := GuardDistance(c.slot); !ok || d != c.distance {
			t.Errorf("a slot of %g m needs %g m, want %g", c.slot, d, c.distance)
		}
	}
	if _, ok := GuardDistance(0.2); ok {
		t.Error("a slot of 200 mm guards nothing")
	}
}

func TestResolutionExact(t *testing.T) {
	for _, c := range []struct {
		change float64
		word   string
	}{{10, "resolved"}, {-10, "resolved"}, {5, "coarse"}, {3, "not resolved"}} {
		if n, word := Resolution(c.change, 1); word != c.word || n != math.Abs(c.change) {
			t.Errorf("%g divisions are %s", c.change, word)
		}
	}
}

func TestStopAtExact(t *testing.T) {
	near(t, "a temperature", StopAt(287.15, 387.15), 377.15, 1e-9)
	near(t, "a voltage", StopAt(48, 38), 39, 1e-9)
}

func TestPowersExact(t *testing.T) {
	got := Powers(800, 2000, 1.25, 9)
	want := []float64{1000, 1250, 1550, 1900, 2000}
	if len(got) != len(want) {
		t.Fatalf("%v", got)
	}
	for i := range want {
		near(t, "a power", got[i], want[i], 1e-9)
	}
	if len(Powers(2000, 2000, 1.25, 9)) != 0 || len(Powers(1, 1e9, 1.25, 4)) != 4 {
		t.Error("a ladder does not end where it should")
	}
}

// No step is larger than its factor, all rise, and the last is the top or the ladder is full.
func TestPowersLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from := rapid.Float64Range(1, 5000).Draw(t, "from")
		top := from * rapid.Float64Range(1, 30).Draw(t, "reach")
		factor := rapid.Float64Range(1.05, 1.25).Draw(t, "factor")
		p, last := Powers(from, top, factor, 60), from
		for _, x := range p {
			if x <= last || x > last*factor*(1+1e-9) || x > top*(1+1e-12) {
				t.Fatalf("from %g to %g", last, x)
			}
			last = x
		}
		if len(p) < 60 && last < top*(1-1e-9) {
			t.Fatalf("ends at %g of %g", last, top)
		}
	})
}

func TestGuardWords(t *testing.T) {
	if w := guardWords(); !strings.Contains(w, "8 mm") || !strings.Contains(w, "850 mm") {
		t.Error(w)
	}
}

// Magnets that rise by 0.8 of the winding's rise over 290 K are at 350 K when the winding is at 365 K.
func TestWindingForMagnetsExact(t *testing.T) {
	near(t, "the winding", WindingForMagnets(350, 290, 0.8), 365, 1e-9)
}
