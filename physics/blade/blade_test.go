package blade

import (
	"math"
	"testing"

	"jetwright/quantity"
)

func near(t *testing.T, name string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Max(math.Abs(want), 1e-300)) {
		t.Errorf("%s = %.10g, want %.10g within %.0e", name, got, want, tolerance)
	}
}

func within(t *testing.T, name string, got, low, high float64) {
	t.Helper()
	if !(got >= low && got <= high) {
		t.Errorf("%s = %.6g, want between %.6g and %.6g", name, got, low, high)
	}
}

var fresh = Condition{RotorSpeed: 377, Flow: 0.095, Density: 998.2, Viscosity: 1.004e-6, Gravity: 9.80665}

// blank is a channel with rows of which all but the sections is known.
func blank() Pump {
	row := Row{
		Form: "double arc", LeadingRadius: 0.5e-3, TrailingRadius: 0.4e-3, Surface: "filled", RoughnessPlace: 0.5,
		ChordFactor: 1, ThicknessFactor: 1,
	}
	p := Pump{Channel: Channel{HubRadius: []float64{0.032}, TipRadius: []float64{0.07}}, Impeller: row, Stator: row, Terms: NominalTerms()}
	p.Impeller.Blades, p.Impeller.TipGap, p.Impeller.GapEccentricity = 5, 0.5e-3, 0.2e-3
	p.Stator.Blades, p.Stator.Start = 8, 0.08
	return p
}

var duty = Duty{Head: 6.2, Vortex: 0.2, Incidence: 1.5 * degree, Diffusion: 0.5, StatorLoad: 0.5, LeastSolidity: 0.7, StatorSolidity: 1, LargestSolidity: 1.8, LeastThickness: 2e-3, ThicknessRatio: 0.05}

func designed(t testing.TB) Designed {
	t.Helper()
	d, reason := Design(blank(), duty, fresh, 9)
	if reason != Solved {
		t.Fatal(reason)
	}
	return d
}

func TestSchemas(t *testing.T) {
	for _, m := range []any{&Pump{}, &State{}, &Element{}, &Duty{}, &Condition{}, &Designed{}, &JetSwirl{}} {
		if _, err := quantity.SchemaOf(m); err != nil {
			t.Error(err)
		}
	}
}

// A hub section of 60 mm at 60° to the circumferential direction reaches 51.96 mm, a tip section of 40 mm at 30° 20 mm.
func TestReachExact(t *testing.T) {
	r := Row{
		Start: 5e-3, Span: []float64{0, 1}, InletAngle: []float64{50 * degree, 20 * degree}, OutletAngle: []float64{70 * degree, 40 * degree},
		Chord: []float64{0.06, 0.04}, ChordFactor: 1,
	}
	near(t, "reach", r.Reach(), 5e-3+0.06*math.Sin(60*degree), 1e-12)
	r.Chord, r.InletAngle, r.OutletAngle = []float64{0.04, 0.06}, []float64{20 * degree, 50 * degree}, []float64{40 * degree, 70 * degree}
	near(t, "at the tip", r.Reach(), 5e-3+0.06*math.Sin(60*degree), 1e-12)
	near(t, "no sections", (&Row{Start: 3e-3}).Reach(), 3e-3, 0)
}
