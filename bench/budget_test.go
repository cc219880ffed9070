package bench

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
)

func within(t *testing.T, name string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.9g, want %.9g", name, got, want)
	}
}

// JCGM 100:2008, H.1 (end gauge), G.4.1 and H.1.6: combined uncertainty, effective degrees of
// freedom by Welch and Satterthwaite, expanded uncertainty. Inputs and results SEEN in the
// Guide; more digits COMPUTED from its inputs with SciPy.
func TestBudgetPublished(t *testing.T) {
	// Standard: 25 nm (18); difference of repeats 5.8 (24), of the comparator 3.9 (5) and 6.7 (8);
	// expansion 2.9 (50) and temperature 16.6 (2), all nm.
	gauge := []Component{{U: 25, Freedom: 18}, {U: math.Sqrt(5.8*5.8 + 3.9*3.9 + 6.7*6.7), Freedom: 25.6}, {U: 2.9, Freedom: 50}, {U: 16.6, Freedom: 2}}
	u, nu := Combined(gauge)
	within(t, "H.1 u in nm", u, 32, 0.5)
	within(t, "H.1 ν", nu, 16.7, 0.1)
	within(t, "H.1 k of 99 %", CoverageFactor(0.99, nu), 2.92, 0.005)
	within(t, "H.1 U of 99 % in nm", CoverageFactor(0.99, nu)*32, 93, 0.5)
	d, nd := Combined([]Component{{U: 5.8, Freedom: 24}, {U: 3.9, Freedom: 5}, {U: 6.7, Freedom: 8}})
	within(t, "H.1 u(d) in nm", d, 9.7, 0.05)
	within(t, "H.1 ν(d)", nd, 25.6, 0.2)

	// G.4.1 in other textbooks: 0.57 with 9 degrees of freedom and 0.25 known from elsewhere. SEEN.
	_, nu = Combined([]Component{{U: 0.57, Freedom: 9}, {U: 0.25, Freedom: math.Inf(1)}})
	within(t, "ν of a mean and a limit", nu, 12.795649, 1e-6)

	// A ratio X1/X2·Yu of 0.1820(0.00093; 9), 0.1823(0.00058; 19), 0.6978(0.0026; 19). SEEN.
	y := 0.1820 / 0.1823 * 0.6978
	u, nu = Combined([]Component{{U: y * 0.00093 / 0.1820, Freedom: 9}, {U: y * 0.00058 / 0.1823, Freedom: 19}, {U: y * 0.0026 / 0.6978, Freedom: 19}})
	within(t, "ratio", y, 0.6967, 5e-5)
	within(t, "ratio's u", u, 0.00494, 1.5e-5) // the published inputs are rounded to two digits
	within(t, "ratio's ν", nu, 27.7, 0.3)
	within(t, "ratio's U of 95 %", CoverageFactor(0.95, nu)*u, 0.0101, 5e-5)
	within(t, "normal k of 95 %", CoverageFactor(0.95, math.Inf(1)), 1.959963985, 1e-9)
}

// JCGM 100:2008, H.2: resistance, reactance and impedance from voltage, current and phase that
// were read together. Inputs and results SEEN; more digits COMPUTED with SciPy.
func TestPropagatePublished(t *testing.T) {
	v := []float64{5.007, 4.994, 5.005, 4.990, 4.999}
	i := []float64{19.663e-3, 19.639e-3, 19.640e-3, 19.685e-3, 19.678e-3}
	phi := []float64{1.0456, 1.0438, 1.0468, 1.0428, 1.0433}
	x := make([]float64, 3)
	cov := mat.NewSymDense(3, nil)
	all := [][]float64{v, i, phi}
	for a := range all {
		x[a] = meanOf(all[a]).value
	}
	for a := range all {
		for b := a; b < 3; b++ {
			s := 0.0
			for k := range v {
				s += (all[a][k] - x[a]) * (all[b][k] - x[b])
			}
			cov.SetSym(a, b, s/20)
		}
	}
	r := func(a, b int, c mat.Symmetric) float64 { return c.At(a, b) / math.Sqrt(c.At(a, a)*c.At(b, b)) }
	within(t, "r(V, I)", r(0, 1, cov), -0.355311, 1e-5)
	within(t, "r(V, φ)", r(0, 2, cov), 0.857624, 1e-5)
	within(t, "r(I, φ)", r(1, 2, cov), -0.645111, 1e-5)
	resistance := func(x []float64) float64 { return x[0] / x[1] * math.Cos(x[2]) }
	reactance := func(x []float64) float64 { return x[0] / x[1] * math.Sin(x[2]) }
	impedance := func(x []float64) float64 { return x[0] / x[1] }
	for _, c := range []struct {
		name        string
		f           func([]float64) float64
		y, u, alone float64 // alone: wrongly taken without correlation
	}{
		{"R", resistance, 127.732170, 0.0710714, 0.1945},
		{"X", reactance, 219.846512, 0.2955817, 0.2009},
		{"Z", impedance, 254.259702, 0.2363361, 0.2041},
	} {
		y, u, err := Propagate(c.f, x, cov)
		if err != nil {
			t.Fatal(err)
		}
		within(t, c.name, y, c.y, 1e-5)
		within(t, "u of "+c.name, u, c.u, 2e-6)
		diagonal := mat.NewSymDense(3, nil)
		for k := range 3 {
			diagonal.SetSym(k, k, cov.At(k, k))
		}
		_, without, err := Propagate(c.f, x, diagonal)
		if err != nil {
			t.Fatal(err)
		}
		within(t, "u without correlation of "+c.name, without, c.alone, 5e-5)
	}
	corr := func(f, g func([]float64) float64) float64 {
		c, err := PropagatedCovariance(f, g, x, cov)
		if err != nil {
			t.Fatal(err)
		}
		_, a, _ := Propagate(f, x, cov)
		_, b, _ := Propagate(g, x, cov)
		return c / (a * b)
	}
	within(t, "r(R, X)", corr(resistance, reactance), -0.588430, 1e-5)
	within(t, "r(R, Z)", corr(resistance, impedance), -0.485259, 1e-5)
	within(t, "r(X, Z)", corr(reactance, impedance), 0.992512, 1e-5)
	if _, _, err := Propagate(impedance, x[:2], cov); err == nil {
		t.Error("a covariance of another size passes")
	}
}

// Two plateaus share the scale's limits and its tare, and the carriage holds back one and pushes
// the other.
func TestCovarianceExact(t *testing.T) {
	inf := math.Inf(1)
	figure := func(scatter float64, against bool) Plateau {
		return Plateau{Figures: []Figure{{Channel: Thrust, Value: 100, Budget: []Component{
			{Name: "scatter", U: scatter, Freedom: 10},
			{Name: "tare", U: 2, Freedom: inf, Shared: "tare"},
			{Name: "carriage friction", U: 3, Freedom: inf, Shared: "friction", Against: against},
			{Name: "instrument", U: 4, Freedom: inf, Shared: "scale"},
		}}}}
	}
	c := Covariance([]Plateau{figure(1, false), figure(5, true), {}, figure(1, false)}, Thrust)
	near(t, "u² of the first", c.At(0, 0), 1+4+9+16)
	near(t, "u² of the second", c.At(1, 1), 25+4+9+16)
	near(t, "up and down", c.At(0, 1), 4-9+16)
	near(t, "up and up", c.At(0, 3), 4+9+16)
	if c.At(2, 2) != 0 || c.At(0, 2) != 0 {
		t.Error("a plateau without the channel has a covariance")
	}
	// Typed readings share their instrument.
	typed := Plateau{Figures: []Figure{{Channel: Thrust, Value: 100, Limits: 3, Repeat: 1, Instrument: "hanging scale"}}}
	c = Covariance([]Plateau{typed, typed}, Thrust)
	near(t, "typed u²", c.At(0, 0), 4)
	near(t, "typed pair", c.At(0, 1), 3)
	if Covariance(nil, Thrust) != nil {
		t.Error("no plateau has a covariance")
	}
}
