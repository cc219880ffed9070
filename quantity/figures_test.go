package quantity

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestFormatIntervalExact(t *testing.T) {
	for _, c := range []struct {
		nominal, low, high float64
		unit               string
		want               string
	}{
		{412, 405, 419, "N", "412 N [405, 419]"},
		{412.34, 405.2, 419.1, "N", "412 N [405, 419]"},
		{412.3, 398, 426, "N", "412 N [398, 426]"},
		{412.3, 411.1, 413.6, "N", "412.3 N [411.1, 413.6]"},
		{12345, 11800, 12900, "W", "12300 W [11800, 12900]"},
		{12345, 11800, 12900, "kW", "12.3 kW [11.8, 12.9]"},
		{0.0123, 0.0110, 0.0135, "m", "0.0123 m [0.0110, 0.0135]"},
		{0.69, 0.6, 0.78, "1", "0.69 [0.60, 0.78]"},
		{0.69, 0.6, 0.78, "%", "69 % [60, 78]"},
		{-5, -7, -3, "N", "-5.0 N [-7.0, -3.0]"},
		{-0.01, -1, 1, "N", "0.0 N [-1.0, 1.0]"},
		{0, -40, 40, "N", "0 N [-40, 40]"},
		{298.15, 293.15, 303.15, "°C", "25 °C [20, 30]"},
		{1.2e7, 1.1e7, 1.3e7, "Pa", "1.20e7 Pa [1.10e7, 1.30e7]"},
		{2e-6, 1e-6, 3e-6, "m", "2.0e-6 m [1.0e-6, 3.0e-6]"},
		{0, -2e-6, 2e-6, "m", "0 m [-2.0e-6, 2.0e-6]"},
		{5, 4.04, 5.95, "N", "5.0 N [4.0, 6.0]"}, // half-width 0.955 is 1.0
		{47, 43.4, 50.6, "N", "47 N [43, 51]"},   // from 3.55 on one digit
		{950000, 8e5, 1.1e6, "Pa", "0.95e6 Pa [0.80e6, 1.10e6]"},
		{412, 419, 405, "N", "412 N [405, 419]"}, // ends in either order
		{412, 412, 412, "N", "412 N"},
		{412.6, 412.6, 412.6, "N", "413 N"},
		{64e-3, 64e-3, 64e-3, "mm", "64.0 mm"},
		{1.23456, 1.23456, 1.23456, "m", "1.235 m"},
		{-1.23456, -1.23456, -1.23456, "m", "-1.235 m"},
		{9.996, 9.996, 9.996, "m", "10.00 m"},
		{99960, 99960, 99960, "m", "100000 m"},
		{0.9996, 0.9996, 0.9996, "1", "1.000"},
		{0, 0, 0, "N", "0 N"},
		{math.Copysign(0, -1), 0, 0, "N", "0 N"},
		{12345, 12345, 12345, "W", "12350 W"},
		{2.34567e8, 2.34567e8, 2.34567e8, "Pa", "2.35e8 Pa"},
		{0.00012, 0.00012, 0.00012, "1", "0.0001200"},
		{0.000099, 0.000099, 0.000099, "1", "9.90e-5"},
		{412, 412 - 1e-9, 412 + 1e-9, "N", "412 N"}, // noise of the calculation is no interval
		{math.NaN(), 1, 2, "N", "not known N"},
		{1, math.Inf(-1), 2, "N", "1.000 N"},
	} {
		if got := FormatInterval(c.nominal, c.low, c.high, MustUnit(c.unit)); got != c.want {
			t.Errorf("%v [%v, %v] %s: %q, want %q", c.nominal, c.low, c.high, c.unit, got, c.want)
		}
	}
	if got := FormatNumber(412.34, 405.2, 419.1, MustUnit("N")); got != "412" {
		t.Errorf("number alone %q", got)
	}
	if got := Format(412.34, MustUnit("N")); got != "412 N" {
		t.Errorf("without interval %q", got)
	}
}

// The figures shown differ from the numbers by at most half a unit of the last place
// shown, the half-width has one or two significant digits, all three have the same
// last place, and the text does not depend on the unit of the same size.
func TestFiguresLaw(t *testing.T) {
	places := func(text string) (digits int, exponent string) {
		text, exponent, _ = strings.Cut(text, "e")
		_, fraction, _ := strings.Cut(text, ".")
		return len(fraction), exponent
	}
	rapid.Check(t, func(t *rapid.T) {
		e := rapid.IntRange(-12, 12).Draw(t, "exponent")
		n := rapid.Float64Range(-1, 1).Draw(t, "number") * math.Pow10(e)
		width := rapid.Float64Range(1e-3, 2).Draw(t, "width") * math.Pow10(e)
		share := rapid.Float64Range(0, 1).Draw(t, "share")
		low, high := n-share*width, n+(1-share)*width
		number, from, to := Figures(n, low, high, One)
		if from == "" || number == "" || to == "" {
			t.Fatalf("%v [%v, %v]: no interval", n, low, high)
		}
		half := (high - low) / 2
		step := math.Pow10(placeOf(half))
		if digits := half / step; digits > 36 || digits < 3.4 {
			t.Fatalf("half-width %v in steps of %v", half, step)
		}
		decimals, exponent := -1, ""
		for i, text := range []string{number, from, to} {
			x := []float64{n, low, high}[i]
			shown, err := strconv.ParseFloat(text, 64)
			if err != nil || math.Abs(shown-x) > 0.5000001*step {
				t.Fatalf("%v is shown as %q in steps of %v (%v)", x, text, step, err)
			}
			if strings.HasPrefix(text, "-") && shown == 0 {
				t.Fatalf("%q", text)
			}
			if text == "0" {
				continue
			}
			d, e := places(text)
			if decimals >= 0 && (d != decimals || e != exponent) {
				t.Fatalf("%s [%s, %s]: different last places", number, from, to)
			}
			decimals, exponent = d, e
		}
	})
}

// Without interval the figure keeps three digits, or four after a leading 1.
func TestPlainFigureLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(-10, 10).Draw(t, "x") * math.Pow10(rapid.IntRange(-30, 30).Draw(t, "exponent"))
		text := Format(x, One)
		shown, err := strconv.ParseFloat(text, 64)
		if err != nil {
			t.Fatalf("%v: %q", x, text)
		}
		if math.Abs(shown-x) > 5.001e-3*math.Abs(x) {
			t.Fatalf("%v is shown as %q", x, text)
		}
		if strings.HasPrefix(strings.TrimLeft(text, "-0."), "1") && math.Abs(shown-x) > 5.001e-4*math.Abs(x) {
			t.Fatalf("%v is shown as %q", x, text)
		}
	})
}

func BenchmarkFormatInterval(b *testing.B) {
	u := MustUnit("N")
	b.ReportAllocs()
	for b.Loop() {
		FormatInterval(412.3, 405.2, 419.4, u)
	}
}
