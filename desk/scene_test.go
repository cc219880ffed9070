package desk

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"jetwright/bench"
	"jetwright/project"
	"jetwright/reckon"
)

// truth is what the generator recorded of the scene's bench day.
type truth struct {
	Steps []struct {
		From             float64 `json:"from_s"`
		To               float64 `json:"to_s"`
		Direction        string  `json:"direction"`
		Power            float64 `json:"battery_power_W"`
		Thrust           float64 `json:"thrust_N"`
		Pull             float64 `json:"pull_N"`
		RotorSpeed       float64 `json:"rotor_speed_rpm"`
		PhaseCurrent     float64 `json:"phase_current_rms_A"`
		Torque           float64 `json:"shaft_torque_N_m"`
		Shaft            float64 `json:"shaft_power_W"`
		StaticEfficiency float64 `json:"static_efficiency_at_battery"`
	} `json:"steps"`
	Friction       float64 `json:"friction_N"`
	TareBegin      float64 `json:"tare_begin_N"`
	TareSlope      float64 `json:"tare_slope_N_per_s"`
	Offset         float64 `json:"scale_clock_offset_s"`
	Drift          float64 `json:"scale_clock_drift_ppm"`
	ThrustConstant float64 `json:"thrust_constant"`
	PowerConstant  float64 `json:"power_constant"`
	Density        float64 `json:"density_kg_per_m3"`
	Diameter       float64 `json:"rotor_diameter_m"`
	Faults         []struct {
		Channel string  `json:"channel"`
		Kind    string  `json:"kind"`
		From    float64 `json:"from_s"`
		To      float64 `json:"to_s"`
	} `json:"faults"`
}

func sceneTruth(t *testing.T) truth {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "synth", "testdata", "rescue-sled-truth.json"))
	if err != nil {
		t.Fatal(err)
	}
	var x truth
	if err := json.Unmarshal(data, &x); err != nil {
		t.Fatal(err)
	}
	if len(x.Steps) == 0 || x.ThrustConstant == 0 {
		t.Fatal("the record of the truth is empty")
	}
	return x
}

func openScene(t *testing.T) *project.Project {
	t.Helper()
	folder := filepath.Join(t.TempDir(), "sled")
	if err := project.New(folder, "rescue-sled"); err != nil {
		t.Fatal(err)
	}
	p, err := project.Open(folder)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// The reduction of the scene's logs finds what the generator, which shares no physics with the
// program, has recorded of that day.
func TestSceneReducedSynthetic(t *testing.T) {
	x := sceneTruth(t)
	a, err := Reduce(openScene(t), "")
	if err != nil {
		t.Fatal(err)
	}
	if len(a.Days) != 1 {
		t.Fatalf("%d days", len(a.Days))
	}
	d := a.Days[0]
	if len(d.Plateaus) != len(x.Steps) {
		t.Fatalf("%d plateaus for %d steps", len(d.Plateaus), len(x.Steps))
	}
	for i, s := range x.Steps {
		p := d.Plateaus[i]
		if math.Abs(p.Span.From-s.From) > 6 || math.Abs(p.Span.To-s.To) > 1.5 || p.Direction != s.Direction || p.Unsettled != "" {
			t.Errorf("plateau %d: %.1f .. %.1f %s %s, true %.1f .. %.1f %s", i+1, p.Span.From, p.Span.To, p.Direction, p.Unsettled, s.From, s.To, s.Direction)
		}
		level := s.Pull + x.Friction // what pulls on the carriage
		if s.Direction == "down" {
			level = s.Pull - x.Friction
		}
		for c, want := range map[bench.Channel]float64{
			bench.Power: s.Power, bench.Thrust: level, bench.RotorSpeed: s.RotorSpeed * math.Pi / 30, bench.PhaseCurrent: s.PhaseCurrent,
		} {
			f, ok := p.Figure(c)
			if !ok || math.Abs(f.Value-want) > Half(f) {
				t.Errorf("plateau %d: %s is %.5g ± %.2g, true %.5g", i+1, c, f.Value, Half(f), want)
			}
		}
	}
	if f := d.Friction; !f.Known || math.Abs(f.Force-x.Friction) > 2*f.U {
		t.Errorf("friction %+v, true %.2f", f, x.Friction)
	}
	if e := d.Tare.Start - x.TareBegin; math.Abs(e) > 3*d.Tare.UStart {
		t.Errorf("tare %+v, true %.3f", d.Tare, x.TareBegin)
	}
	if e := d.Tare.Drift - x.TareSlope; math.Abs(e) > 3*d.Tare.UDrift {
		t.Errorf("tare's drift %.3g ± %.2g, true %.3g N/s", d.Tare.Drift, d.Tare.UDrift, x.TareSlope)
	}
	named := 0
	for _, k := range d.Doubts {
		if k.Channel != bench.WindingTemperature || k.Kind != bench.Frozen || math.Abs(k.Span.From-x.Faults[0].From) > 3 || math.Abs(k.Span.To-x.Faults[0].To) > 3 {
			t.Errorf("doubt %+v, true %+v", k, x.Faults)
			continue
		}
		named++
	}
	if named != 1 {
		t.Errorf("the frozen sensor is named %d times", named)
	}
}

// From the logs and the typed readings the reckoning recovers what readings at rest can tell,
// leaves the rest at its assumption, names the frozen sensor, judges the claim as the truth
// does, and lets nobody go on with a sensor that a limit rests on in doubt.
func TestSceneReckonedSynthetic(t *testing.T) {
	x := sceneTruth(t)
	a, err := Reckon(openScene(t), Options{})
	if err != nil {
		t.Fatal(err)
	}
	top := x.Steps[0]
	for _, s := range x.Steps {
		if s.Power > top.Power {
			top = s
		}
	}
	want := map[string]float64{
		"static efficiency at the battery": top.StaticEfficiency,
		"thrust coefficient T/(ρn²D⁴)":     x.ThrustConstant,
		"shaft torque per rms ampere":      top.Torque / top.PhaseCurrent,
	}
	for _, c := range a.Fit.Combination {
		v, ok := want[c.Name]
		if !ok && (c.Name == "battery resistance" || strings.HasPrefix(c.Name, "bridge above")) {
			continue // the scene's truth records neither
		}
		if !ok {
			t.Errorf("nothing is recorded of %q", c.Name)
			continue
		}
		delete(want, c.Name)
		if v < c.After.Low || v > c.After.High {
			t.Errorf("%s: %.4g [%.4g, %.4g] after, true %.4g", c.Name, c.After.Value, c.After.Low, c.After.High, v)
		}
		if c.After.High-c.After.Low > 0.75*(c.Before.High-c.Before.Low) && c.Name != "shaft torque per rms ampere" {
			t.Errorf("%s: [%.4g, %.4g] after, [%.4g, %.4g] before: nothing was learned", c.Name, c.After.Low, c.After.High, c.Before.Low, c.Before.High)
		}
	}
	if len(want) > 0 {
		t.Errorf("not told: %v", want)
	}
	kept := map[string]bool{"nozzle.loss": true, "intake.duct_loss": true, "impeller.curve_exponent": true, "motor.winding_to_jacket": true, "cooling.loss_coefficient": true, "nozzle.contraction": true}
	for _, l := range a.Fit.Learned {
		if !kept[l.Path] {
			continue
		}
		delete(kept, l.Path)
		if l.After < 0.9 || math.Abs(l.Shift) > 0.3 {
			t.Errorf("%s has doubt %.2f left and moved by %.2f, though nothing tells it", l.Path, l.After, l.Shift)
		}
	}
	if len(kept) > 0 {
		t.Errorf("not listed: %v", kept)
	}
	named := false
	for _, n := range a.Notices {
		named = named || strings.Contains(n.What, "winding temperature") && strings.Contains(n.What, "frozen")
	}
	if !named || a.Next.Allowed {
		t.Errorf("frozen sensor named: %v; next step allowed: %v %v", named, a.Next.Allowed, a.Next.Reasons)
	}
	// The claim: at least 650 N from 6.6 kW at the shaft.
	n := math.Cbrt(6600 / (x.PowerConstant * x.Density * math.Pow(x.Diameter, 5)))
	thrust := x.ThrustConstant * x.Density * n * n * math.Pow(x.Diameter, 4)
	v := a.Claims[0]
	if thrust >= 650 {
		t.Fatalf("the truth gives %.0f N; the scene's claim is no longer false", thrust)
	}
	if v.Verdict != reckon.Refuted && v.Verdict != reckon.Unlikely {
		t.Errorf("true thrust %.0f N, and the claim of 650 N is %s", thrust, v.Verdict)
	}
	c := v.Cases[0].Calibrated.Figure
	if thrust < c.Low || thrust > c.High {
		t.Errorf("true thrust %.0f N outside [%.0f, %.0f]", thrust, c.Low, c.High)
	}
}
