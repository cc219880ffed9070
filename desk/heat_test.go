package desk

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	"jetwright/drive"
	"jetwright/explore"
	"jetwright/project"
	"jetwright/quantity"
)

func heatOf(t *testing.T, keys map[string]string, f HeatFlags, o Options) *HeatAnswer {
	t.Helper()
	folder := filepath.Join(t.TempDir(), "sled")
	if err := project.New(folder, "rescue-sled"); err != nil {
		t.Fatal(err)
	}
	for path, value := range keys {
		if err := SetIn(folder, path, value); err != nil {
			t.Fatal(err)
		}
	}
	a, err := HeatIn(folder, f, o)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// Every course says its water and its time, intervals hold their values, and what is broken stands first.
func TestHeatAnswerLaw(t *testing.T) {
	a := heatOf(t, nil, HeatFlags{Duty: []string{"2 min at 3 kW", "2 min at 6 kW shaft", "1 min rest"}}, Options{Draws: 24})
	if len(a.Courses) != 1+len(WhatIfs) || len(a.Trips) != 2 || a.Now == nil {
		t.Fatalf("%d courses, %d trips, now %v", len(a.Courses), len(a.Trips), a.Now)
	}
	inside := func(what string, f Figure) {
		t.Helper()
		if !(f.Low <= f.Value && f.Value <= f.High) {
			t.Errorf("%s: %+v", what, f)
		}
	}
	for i, c := range a.Courses {
		want := a.WarmWater
		if i == 0 {
			want = 14 + zeroCelsius
		}
		if math.Abs(c.Water-want) > 1e-9 || !(c.Seconds > 0) || c.Draws != 24 {
			t.Errorf("%s: water %g K, %g s, %d draws", c.Name, c.Water, c.Seconds, c.Draws)
		}
		worst := explore.Broken
		for _, l := range c.Limits {
			inside(c.Name+", "+l.Name, l.Peak)
			inside(c.Name+", time of "+l.Name, l.Time)
			if (l.State == explore.Broken) != l.Reached && math.Abs(l.Peak.Value-l.Allowed) > 1e-6 {
				t.Errorf("%s: %s is %s and reached is %t", c.Name, l.Name, l.State, l.Reached)
			}
			if l.State < worst {
				t.Errorf("%s: %s, which is %s, stands behind what is %s", c.Name, l.Name, l.State, worst)
			}
			if l.State == explore.Broken || worst != explore.Broken {
				worst = max(worst, explore.Broken)
			}
		}
		for _, n := range c.Nodes {
			inside(c.Name+", "+n.Name, n.Peak)
			for k := range n.Value {
				if !(n.Low[k] <= n.Value[k] && n.Value[k] <= n.High[k]) {
					t.Fatalf("%s, %s at %g s: %g in %g to %g", c.Name, n.Name, c.Times[k], n.Value[k], n.Low[k], n.High[k])
				}
			}
		}
	}
}

// A trip set as it is said to be keeps the limits behind its sensor from being passed when the coolant stops.
func TestHeatTripLaw(t *testing.T) {
	f := HeatFlags{Duty: []string{"4 min at 3 kW", "2 min at 6 kW shaft"}, WhatIf: []string{"coolant blocked"}}
	keys := map[string]string{"battery.parallel": "30", "thermal.mount_material": "PLA"}
	a := heatOf(t, keys, f, Options{Nominal: true})
	broken := 0
	for _, l := range a.Courses[1].Limits {
		if l.State == explore.Broken && l.Sensor != "" {
			broken++
		}
	}
	if broken == 0 {
		t.Fatal("nothing is broken that a trip could keep")
	}
	u := quantity.MustUnit("°C")
	for _, trip := range a.Trips {
		if trip.Reached && trip.Serves {
			keys[trip.Key] = quantity.Format(math.Floor(u.FromSI(trip.Value))+zeroCelsius, u)
		}
	}
	b := heatOf(t, keys, f, Options{Nominal: true})
	c := b.Courses[1]
	if c.Ending.Kind != drive.Tripped || b.Courses[0].Ending.Kind != drive.Finished {
		t.Fatalf("with trips %v the duty is %s, and blocked %s", keys, b.Courses[0].Ending, c.Ending)
	}
	for _, l := range c.Limits {
		if l.State == explore.Broken && l.Sensor != "" {
			t.Errorf("%s is passed: %.4g K with a bound of %.4g K", l.Name, l.Peak.Value, l.Allowed)
		}
	}
}

// What only temperatures over time hang on is drawn after the rest, which stays as it was.
func TestHeatDrawsExact(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "sled")
	if err := project.New(folder, "rescue-sled"); err != nil {
		t.Fatal(err)
	}
	p, err := project.Open(folder)
	if err != nil {
		t.Fatal(err)
	}
	few, err := explore.New(p.Design, 16, 3)
	if err != nil {
		t.Fatal(err)
	}
	many, err := explore.NewOverTime(p.Design, 16, 3)
	if err != nil {
		t.Fatal(err)
	}
	if len(many.Inputs) <= len(few.Inputs) {
		t.Fatal("nothing more is drawn over time")
	}
	for i, m := range few.Machines {
		d := many.Machines[i].Drive
		if d.Thermal == m.Drive.Thermal {
			t.Errorf("draw %d: [thermal] is not drawn", i)
		}
		if d.Motor.WindingResistance != m.Drive.Motor.WindingResistance || d.Cooling != m.Drive.Cooling || d.Battery.CellResistance != m.Drive.Battery.CellResistance {
			t.Errorf("draw %d is another drive", i)
		}
	}
	for _, in := range p.Design.Assumptions() {
		if strings.HasPrefix(in.Path, "thermal.") {
			t.Errorf("%s is listed as an assumption of the steady state", in.Path)
		}
	}
}
