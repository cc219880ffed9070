package numeric

import (
	"math"
	"math/rand/v2"
	"path/filepath"
	"testing"
)

// Stopping distances over speed (data SEEN; intervals COMPUTED with R 4.2.2's predict.lm), 95 % unless said, and
// temperature and pressure (data SEEN in a mirror of the NIST/SEMATECH e-Handbook, 4.5.2.1; its intervals FROM MEMORY, high
// confidence, COMPUTED again from the data): to six digits of the width, or as many as are printed.
func TestNextPublished(t *testing.T) {
	cars := columns(t, filepath.Join("testdata", "data", "cars.csv"))
	line, err := StraightLine(cars["speed"], cars["dist"], nil)
	if err != nil {
		t.Fatal(err)
	}
	exact := func(what string, got, want, tolerance float64) {
		t.Helper()
		if !(math.Abs(got-want) <= tolerance) {
			t.Errorf("%s: %.9f, published %.9f", what, got, want)
		}
	}
	exact("slope", line.B, 3.932408759, 1e-9)
	exact("intercept", line.A, -17.579094891, 1e-9)
	exact("scatter", line.ResidualSpread, 15.37958675, 1e-8)
	exact("its uncertainty", line.SB, 0.4155127767, 1e-10)
	for _, c := range []struct{ speed, probability, low, high, tolerance float64 }{
		{4, 0.95, -34.499842453, 30.800922745, 1e-8},
		{10, 0.95, -9.809600788, 53.299586190, 1e-8},
		{15, 0.95, 10.174820505, 72.639252490, 1e-8},
		{21, 0.95, 33.422573640, 96.580404463, 1e-8},
		{21, 0.99, 22.8749448, 107.128033, 1e-6},
		{30, 0.95, 66.865293341, 133.921042430, 1e-8},
		{40, 0.95, 102.331140524, 177.103370422, 1e-8},
	} {
		_, low, high := line.Next(c.speed, c.probability)
		exact("low", low, c.low, c.tolerance)
		exact("high", high, c.high, c.tolerance)
	}
	pt := columns(t, filepath.Join("testdata", "data", "ehandbook_pressure_temperature.csv"))
	if line, err = StraightLine(pt["T"], pt["P"], nil); err != nil {
		t.Fatal(err)
	}
	exact("scatter", line.ResidualSpread, 4.299098908, 1e-8)
	y, u := line.At(25)
	exact("at 25", y, 106.0025083, 1e-7)
	exact("its uncertainty", u, 1.1976162, 1e-7)
	for _, c := range []struct{ at, low, high float64 }{{25, 96.96805, 115.0370}, {45, 175.7939, 193.4167}, {65, 254.1479, 272.2683}} {
		_, low, high := line.Next(c.at, 0.95)
		exact("low", low, c.low, 5e-5)
		exact("high", high, c.high, 5e-5)
	}
}

// Twelve points on 1 to 6, the next value at 9 (COMPUTED: 200,000 sets of another program, 0.9498 inside; 0.8440 where
// the leverage is forgotten).
func TestNextCoverageLaw(t *testing.T) {
	rng := rand.New(rand.NewPCG(12, 9))
	const sets = 20000
	inside, forgotten := 0.0, 0.0
	x, y := make([]float64, 12), make([]float64, 12)
	for range sets {
		for i := range x {
			x[i] = 1 + 5*float64(i)/11
			y[i] = 2 + 3*x[i] + rng.NormFloat64()
		}
		line, err := StraightLine(x, y, nil)
		if err != nil {
			t.Fatal(err)
		}
		next := 2 + 3*9 + rng.NormFloat64()
		at, low, high := line.Next(9, 0.95)
		if low <= next && next <= high {
			inside += 1.0 / sets
		}
		_, u := line.At(9)
		narrow := (high - at) * line.ResidualSpread / math.Hypot(line.ResidualSpread, u)
		if math.Abs(next-at) <= narrow {
			forgotten += 1.0 / sets
		}
	}
	if math.Abs(inside-0.95) > 4*math.Sqrt(0.95*0.05/sets) {
		t.Errorf("%.4f of the next values inside, want 0.95", inside)
	}
	if math.Abs(forgotten-0.844) > 4*math.Sqrt(0.844*0.156/sets) {
		t.Errorf("without leverage %.4f inside, computed elsewhere 0.8440", forgotten)
	}
}
