package desk

import (
	"errors"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"jetwright/drive"
	"jetwright/project"
)

// What explain says of a degree is what blades says of it, of an effect that it is turned back by its opposite, and of a drive without blades nothing.
func TestExplainBladesLaw(t *testing.T) {
	p, err := project.Open(filepath.Join("..", "examples", "lake-sled"))
	if err != nil {
		t.Fatal(err)
	}
	w, err := Blades(p, Options{Nominal: true})
	if err != nil {
		t.Fatal(err)
	}
	for i, path := range []string{"impeller.inlet_angle", "impeller.outlet_angle", "stator.inlet_angle_offset", "stator.outlet_angle"} {
		a, err := Explain(p, path, Options{Nominal: true})
		if err != nil {
			t.Fatal(err)
		}
		if len(a.Effects) != 2 || len(a.Cards) == 0 {
			t.Fatalf("%s: %d effects, %d cards", path, len(a.Effects), len(a.Cards))
		}
		up, down := a.Effects[0], a.Effects[1]
		if math.Abs(up.Head-w.Work.PerDegree[i]) > 1e-9 {
			t.Errorf("%s: a degree moves the head by %g, blades says %g", path, up.Head, w.Work.PerDegree[i])
		}
		if math.Abs(up.Head+down.Head) > 0.2*math.Abs(up.Head)+2e-3 {
			t.Errorf("%s: a degree up moves %g, down %g", path, up.Head, down.Head)
		}
	}
	for path, want := range map[string]int{"impeller.surface": 3, "impeller.form": 3, "terms.deviation": 1, "stator.blades": 2, "impeller.tip_gap": 2, "terms.gap_factor": 2, "nozzle.diameter": 0, "impeller.diameter": 0} {
		a, err := Explain(p, path, Options{Nominal: true})
		if err != nil {
			t.Fatal(err)
		}
		if len(a.Effects) != want {
			t.Errorf("%s has %d effects", path, len(a.Effects))
		}
	}
	smooth, err := Explain(p, "impeller.surface", Options{Nominal: true})
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range smooth.Effects {
		if better := e.Words == "filled" || e.Words == "machined"; (e.Head > 0) != better || (e.Efficiency > 0) != better {
			t.Errorf("a %s surface: head %g, efficiency %g", e.Words, e.Head, e.Efficiency)
		}
	}
	none, err := project.Open(filepath.Join("..", "examples", "rescue-sled"))
	if err != nil {
		t.Fatal(err)
	}
	if a, err := Explain(none, "impeller.tip_gap", Options{Nominal: true}); err != nil || len(a.Effects) > 0 {
		t.Errorf("without blades the gap has effects: %v, %v", a, err)
	}
	if a, err := Explain(none, "blades.gap_loss", Options{Nominal: true}); err == nil {
		t.Errorf("without blades the gap loses %v", a.Figure)
	}
}

// From the widest nozzle to one that no blades serve, a duty gets blades that have sections and meet its head, or is told in words that there are none.
func TestBladesFoundOrNotLaw(t *testing.T) {
	p, err := project.Open(filepath.Join("..", "examples", "rescue-sled"))
	if err != nil {
		t.Fatal(err)
	}
	counts := [3]int{}
	for mm := 76.0; mm >= 30; mm -= 4 {
		d := p.Design.Nominal()
		d.Nozzle.Diameter = mm * 1e-3
		m, err := d.Resolve()
		if err != nil {
			continue
		}
		found, err := m.DesignBlades(drive.UsualBladeDuty(), false, 0)
		var none *drive.NoBlades
		switch {
		case errors.As(err, &none):
			counts[2]++
			for _, o := range none.Instead {
				if o.Found == nil || o.Found.Reason != "" {
					t.Errorf("%v mm: blades that are no blades are named in their place", mm)
				}
			}
		case err != nil:
			var unmet *drive.Unmet
			if !errors.As(err, &unmet) {
				t.Errorf("%v mm: %v", mm, err)
			}
		default:
			if found.Reason == "" {
				counts[0]++
			} else {
				counts[1]++
			}
			for i, h := range found.Pump.Impeller.Span { // the stator stands clear of the impeller all along the span
				r := &found.Pump.Impeller
				if reach := r.Start + r.Chord[i]*math.Sin((r.InletAngle[i]+r.OutletAngle[i])/2); found.Pump.Stator.Start < reach+5e-3 {
					t.Errorf("%v mm: at %.2f of the span the impeller reaches %.1f mm, the stator begins at %.1f mm", mm, h, 1e3*reach, 1e3*found.Pump.Stator.Start)
				}
			}
			if len(found.Pump.Impeller.OutletAngle) == 0 || !(math.Abs(found.State.Head/found.Duty.Head-1) < 5e-3) {
				t.Errorf("%v mm: %d sections give %v m, asked %v m (%s)", mm, len(found.Pump.Impeller.OutletAngle), found.State.Head, found.Duty.Head, found.Reason)
			}
		}
	}
	t.Logf("sound %d, stalled %d, none %d", counts[0], counts[1], counts[2])
	if counts[0] == 0 || counts[2] == 0 {
		t.Errorf("sound %d, none %d: the nozzles reach from neither to the other", counts[0], counts[2])
	}
}

// The losses that are shown make the power that is shown, and stand to those of the blades alone as the installed factor does.
func TestInstalledLossesLaw(t *testing.T) {
	p, err := project.Open(filepath.Join("..", "examples", "lake-sled"))
	if err != nil {
		t.Fatal(err)
	}
	a, err := Blades(p, Options{Nominal: true})
	if err != nil {
		t.Fatal(err)
	}
	sum := a.State.Of("jet.hydraulic_power").Value + a.State.Of("jet.cavitation_loss").Value
	for _, f := range a.State.List {
		if strings.HasPrefix(f.Path, "blades.") && strings.HasSuffix(f.Path, "_loss") {
			sum += f.Value
		}
	}
	power := a.State.Of("jet.impeller_power").Value
	if math.Abs(sum/power-1) > 1e-5 { // each is interpolated by itself
		t.Errorf("the parts are %v W, the whole %v W", sum, power)
	}
	if d := p.Design.Nominal(); math.Abs(a.Work.Installed*d.Impeller.InstalledFactor-1) > 1e-3 {
		t.Errorf("installed power is %v of the blades' alone, the factor is %v", a.Work.Installed, d.Impeller.InstalledFactor)
	}
}

// Blades that are found in the shallows of their suction say so: more head there than they need, and the same blades high above the sea.
func TestDesignedCavitatesLaw(t *testing.T) {
	p, err := project.Open(filepath.Join("..", "examples", "lake-sled"))
	if err != nil {
		t.Fatal(err)
	}
	at := func(altitude float64) *drive.DesignedBlades {
		d := p.Design.Nominal()
		d.Water.Altitude = altitude
		m, err := d.Resolve()
		if err != nil {
			t.Fatal(err)
		}
		found, err := m.DesignBlades(drive.UsualBladeDuty(), false, 0)
		if err != nil {
			t.Fatal(err)
		}
		return found
	}
	low, high := at(0), at(4000)
	if math.Abs(low.Cavitation.BreakdownNPSH/high.Cavitation.BreakdownNPSH-1) > 0.05 || low.Available < high.Available+3 {
		t.Errorf("needed %v and %v m, there %v and %v m", low.Cavitation.BreakdownNPSH, high.Cavitation.BreakdownNPSH, low.Available, high.Available)
	}
	if low.Cavitates() {
		t.Errorf("at sea %v m are there and %v m needed: no cavitation", low.Available, low.Cavitation.BreakdownNPSH)
	}
	if !high.Cavitates() || !high.MayCavitate() {
		t.Errorf("at 4000 m %v m are there and %v m needed: cavitation", high.Available, high.Cavitation.BreakdownNPSH)
	}
}

// What would be enough for blades is told high above the sea as well, where all of it cavitates, and said to.
func TestOtherBladesCavitateLaw(t *testing.T) {
	p, err := project.Open(filepath.Join("..", "examples", "rescue-sled"))
	if err != nil {
		t.Fatal(err)
	}
	for _, altitude := range []float64{0, 5000} {
		d := p.Design.Nominal()
		d.Water.Altitude = altitude
		m, err := d.Resolve()
		if err != nil {
			t.Fatal(err)
		}
		_, err = m.DesignBlades(drive.UsualBladeDuty(), false, 0)
		var none *drive.NoBlades
		if !errors.As(err, &none) {
			t.Fatalf("at %v m: %v", altitude, err)
		}
		if len(none.Instead) == 0 {
			t.Errorf("at %v m nothing would be enough", altitude)
		}
		for i, w := range otherWays(none) {
			if none.Instead[i].Found.Cavitates() != strings.Contains(w, "which cavitate") {
				t.Errorf("at %v m: %s, cavitates %v", altitude, w, none.Instead[i].Found.Cavitates())
			}
		}
		if altitude > 0 && !none.Instead[0].Found.Cavitates() {
			t.Error("nothing cavitates: the case shows nothing")
		}
	}
}
