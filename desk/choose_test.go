package desk

import (
	"math"
	"testing"

	"jetwright/project"
)

// The scene's own parts, typed again in its file of parts, take what the scene's drive takes: choosing and solving
// are one model. Only that the controller warms the motor's water is left out.
func TestChooseOwnPartsLaw(t *testing.T) {
	dir := t.TempDir() + "/sled"
	if err := project.New(dir, "rescue-sled"); err != nil {
		t.Fatal(err)
	}
	p, err := project.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	a, err := Choose(p, "parts.toml", 900, Options{Nominal: true})
	if err != nil {
		t.Fatal(err)
	}
	if len(a.Sets) != 12 {
		t.Fatalf("%d sets of 3 × 2 × 2", len(a.Sets))
	}
	d, err := Limits(p, Options{Nominal: true})
	if err != nil {
		t.Fatal(err)
	}
	own := a.Sets[0]
	if own.Motor != "88 mm, 135 rpm/V" || own.Controller != "300 A peak, sine" || own.Battery != "12s10p" || own.Fit != FitsWell {
		t.Fatalf("first comes %s, %s, %s: %s", own.Motor, own.Controller, own.Battery, own.Fit)
	}
	if want := d.State.Of("battery_power").Value; math.Abs(own.BatteryPower.Value/want-1) > 1e-3 {
		t.Errorf("the set takes %g W, the drive %g W", own.BatteryPower.Value, want)
	}
	if math.Abs(own.Energy-900*own.BatteryPower.Value) > 1 {
		t.Errorf("%g J in 900 s at %g W", own.Energy, own.BatteryPower.Value)
	}
	limits := map[string]Limit{}
	for _, l := range d.Limits {
		limits[l.Name] = l
	}
	for _, l := range append(append([]SetLimit{own.First}, own.Next...), own.NotJudged...) {
		if l.Name == "energy for the duty" {
			continue
		}
		m, ok := limits[l.Name]
		if !ok {
			t.Errorf("%s is no limit of the drive", l.Name)
		} else if l.NotJudged == "" && math.Abs(m.JudgedLimit.Margin-l.Margin) > 2e-3 {
			t.Errorf("%s: %g left here, %g at the drive", l.Name, l.Margin, m.JudgedLimit.Margin)
		}
	}
	for i, s := range a.Sets {
		if i > 0 && s.Fit < a.Sets[i-1].Fit {
			t.Error("a better set stands behind a worse one")
		}
	}
}

// Draws move a set as they move its parts: the share that keeps all falls as the nominal margin does, and a set that
// fits has its bad ends within.
func TestChooseDrawsLaw(t *testing.T) {
	dir := t.TempDir() + "/sled"
	if err := project.New(dir, "rescue-sled"); err != nil {
		t.Fatal(err)
	}
	p, err := project.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	a, err := Choose(p, "parts.toml", 0, Options{Draws: 64})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range a.Sets {
		if s.Fit == FitsWell && (s.Keeps < 0.9 || s.First.Bad < 0) {
			t.Errorf("%s, %s, %s fits with %g of the draws and %g at the bad end", s.Motor, s.Controller, s.Battery, s.Keeps, s.First.Bad)
		}
		if s.First.Bad > s.First.Margin+1e-12 && s.First.Bad-s.First.Margin > 0.05 {
			t.Errorf("the bad end %g is better than the nominal %g", s.First.Bad, s.First.Margin)
		}
	}
}
