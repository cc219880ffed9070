package jet

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"jetwright/quantity"
)

// Kirschmer's shape factors as Baselt and Malcherek, Water 14 (2022) 2469, p. 10, quote them (SECOND-HAND); the worked
// numbers are COMPUTED from the formula by hand: (4/20)^(4/3) = 0.11696, sin 30° = 0.5.
func TestGridLossPublished(t *testing.T) {
	for form, want := range map[string]float64{"square": 2.42 * 0.0584804, "round nose": 1.83 * 0.0584804, "round": 1.79 * 0.0584804, "faired": 1.67 * 0.0584804} {
		in := Intake{GridBar: quantity.Optional{Value: 4e-3, Set: true}, GridGap: quantity.Optional{Value: 20e-3, Set: true}, GridForm: form, RampAngle: math.Pi / 6}
		if got := in.GridLoss(); math.Abs(got-want) > 1e-5 {
			t.Errorf("%s: %.6f, want %.6f", form, got, want)
		}
	}
	if got := (Intake{RampAngle: 0.5, GridForm: "square"}).GridLoss(); got != 0 {
		t.Errorf("no grid loses %g", got)
	}
}

// Thicker bars, narrower gaps and a steeper ramp lose more, and the balance of the water path still closes.
func TestGridLossLaw(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		opt := func(x float64) quantity.Optional { return quantity.Optional{Value: x, Set: true} }
		bar, gap := rapid.Float64Range(1e-3, 8e-3).Draw(r, "bar"), rapid.Float64Range(10e-3, 50e-3).Draw(r, "gap")
		in := Intake{GridBar: opt(bar), GridGap: opt(gap), GridForm: "round", RampAngle: rapid.Float64Range(0.3, 0.8).Draw(r, "ramp")}
		base := in.GridLoss()
		for name, more := range map[string]Intake{
			"bar":  {GridBar: opt(1.1 * bar), GridGap: opt(gap), GridForm: "round", RampAngle: in.RampAngle},
			"gap":  {GridBar: opt(bar), GridGap: opt(gap / 1.1), GridForm: "round", RampAngle: in.RampAngle},
			"ramp": {GridBar: opt(bar), GridGap: opt(gap), GridForm: "round", RampAngle: in.RampAngle + 0.05},
			"form": {GridBar: opt(bar), GridGap: opt(gap), GridForm: "square", RampAngle: in.RampAngle},
		} {
			if !(more.GridLoss() > base) {
				r.Fatalf("%s: %g is not more than %g", name, more.GridLoss(), base)
			}
		}
	})
}
