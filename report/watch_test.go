package report

import (
	"strings"
	"testing"

	"jetwright/bench"
	"jetwright/quantity"
)

// What a forecast says is worded by what is known of it, and the line begins with what matters most.
func TestWatchLine(t *testing.T) {
	some := quantity.Some
	bound := bench.Bound{Name: "winding temperature", Channel: bench.WindingTemperature, Allowed: 426.15}
	for want, f := range map[string]bench.Forecast{
		"winding temperature 153 °C in 4 min (200 s to 7 min)":                {Reaches: some(252), Early: some(200), Late: some(420)},
		"winding temperature 153 °C not before 45 s":                          {Reaches: some(60), Early: some(45)},
		"winding temperature 153 °C not in sight":                             {},
		"winding temperature 153 °C not in sight, settles at 91.9 °C at most": {Bends: true, Settles: some(360), High: some(365)},
	} {
		want = strings.ReplaceAll(want, "200 s", "3 min")
		if got := thermalText(bench.BoundForecast{Bound: bound, Forecast: f, Set: true}, Style{}); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
	s := bench.WatchStatus{
		Time: 12.3, Power: some(2380), Pull: some(240.4), Speed: some(327.7),
		Coefficients: []bench.CoefficientNow{{Name: "power coefficient", Value: 1.02, Reference: 1, Compared: true}, {Name: "static efficiency", Value: 0.466}},
		Nearest:      bench.Nearest{Bound: bound, Left: 0.42, Set: true},
		Doubts:       []bench.DoubtNow{{Channel: bench.BridgeTemperature, Kind: bench.Frozen}},
	}
	want := "12 s | IN DOUBT: bridge temperature frozen | 2380 W | 240 N, tare unknown | 3129 rpm | nearest winding temperature, 42 % left | P/n³ +2.0 % | eff. 0.466"
	if got := WatchLine(s, Style{}); got != want {
		t.Errorf("got  %q\nwant %q", got, want)
	}
}
