package quantity

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// A number that is moved keeps the notation that it was typed in.
func TestMovedExact(t *testing.T) {
	for _, c := range []struct {
		text, unit string
		by, step   float64
		want       string
	}{
		{"64 mm ± 0.2 mm", "mm", 0.0005, 0.0005, "64.5 mm ± 0.2 mm"},
		{"64.00 mm", "mm", 0.0005, 0.0005, "64.50 mm"},
		{"0.9 m .. 1.1 m", "m", 0.02, 0.01, "0.92 .. 1.12 m"},
		{"0.60 .. 0.78", "1", -0.05, 0.01, "0.55 .. 0.73"},
		{"0.520(12)", "1", 0.01, 0.01, "0.530(12)"},
		{"135 rpm/V ± 3 %", "rpm/V", 2 * math.Pi / 60, 2 * math.Pi / 60, "136 rpm/V ± 3 %"},
		{"14 °C ± 1 K", "°C", 2, 1, "16 °C ± 1 K"},
		{"0 m/s", "m/s", 0.1, 0.1, "0.1 m/s"},
		{"4", "1", 1, 1, "5"},
	} {
		v, err := ParseIn(c.text, MustUnit(c.unit))
		if err != nil {
			t.Fatal(err)
		}
		if got := v.Moved(v.Nominal()+c.by, c.step); got != c.want {
			t.Errorf("%q moved by %g is %q, want %q", c.text, c.by, got, c.want)
		}
	}
}

// What is moved is read again as the number it was moved to, with the tolerance it had.
func TestMovedLaw(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		text := rapid.SampledFrom([]string{"64 mm ± 0.2 mm", "0.9 m .. 1.1 m", "310 mm", "12.50(20) mm", "98 mm ± 2 %", "30 cm ± 4 mm"}).Draw(r, "text")
		v, err := ParseIn(text, MustUnit("mm"))
		if err != nil {
			r.Fatal(err)
		}
		step := v.Step()
		n := rapid.IntRange(-40, 40).Draw(r, "steps")
		to := v.Nominal() + float64(n)*step
		w, err := ParseIn(v.Moved(to, step), MustUnit("mm"))
		if err != nil {
			r.Fatal(err)
		}
		if math.Abs(w.Nominal()-to) > 0.51*step {
			r.Fatalf("%q moved to %g reads %g", text, to, w.Nominal())
		}
		if v.Spread() != SpreadNone && text != "98 mm ± 2 %" && math.Abs((w.High()-w.Low())-(v.High()-v.Low())) > 1e-9 {
			r.Fatalf("%q moved to %g has another tolerance: %s", text, to, w)
		}
	})
}
