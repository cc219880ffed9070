package report

import (
	"testing"

	"jetwright/desk"
	"jetwright/quantity"
)

// Two digits are two digits, at the ends of a decade and in other units as well.
func TestTwoDigitsExact(t *testing.T) {
	n := quantity.MustUnit("N")
	for x, want := range map[float64]string{0: "0 N", 5.5: "5.5 N", 9.96: "10 N", 0.0996: "0.10 N", 12.4: "12 N", 99.6: "100 N", 437: "440 N", 9960: "10000 N"} {
		if got := (Style{}).twoDigits(desk.Figure{Value: x, Low: x, High: x, Unit: n}); got != want {
			t.Errorf("%g N is written %s, not %s", x, got, want)
		}
	}
	if got := (Style{Inch: true}).twoDigits(desk.Figure{Value: 440, Low: 390, High: 520, Unit: n}); got != "99 lbf [88, 120]" {
		t.Error(got)
	}
}
