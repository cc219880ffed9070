package desk

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"jetwright/drive"
	"jetwright/project"
)

// The design's own parts over its duty's steps are what heat says of them, to rounding; a duty that the battery does not last
// for fits with none, and is said with its place by heat; without steps nothing is judged over time.
func TestChooseOverDutyLaw(t *testing.T) {
	open := func(steps string) *project.Project {
		dir := filepath.Join(t.TempDir(), "sled")
		if err := project.New(dir, "rescue-sled"); err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(dir, "drive.toml")
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		typed := strings.Replace(string(text), "[duty]\n", "[duty]\n"+steps, 1)
		part := "[[controller]]\nname = \"again\"\ncommutation = \"sinusoidal\"\nbattery_current_limit = \"200 A\"\nphase_current_limit = \"300 A\"\nphase_current_convention = \"peak\"\nmax_voltage = \"60 V\"\n"
		for name, x := range map[string]string{file: typed, filepath.Join(dir, "one.toml"): part} {
			if err := os.WriteFile(name, []byte(x), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		p, err := project.Open(dir)
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	ask := func(p *project.Project) (*ChooseAnswer, *HeatAnswer) {
		a, err := Choose(p, "one.toml", 0, Options{Nominal: true})
		if err != nil {
			t.Fatal(err)
		}
		h, err := Heat(p, HeatFlags{WhatIf: []string{"none"}, AsDesigned: true}, Options{Nominal: true})
		if err != nil {
			t.Fatal(err)
		}
		return a, h
	}
	a, h := ask(open("steps = [\"5 min at 3 kW\", \"4 min at 5 kW\", \"2 min rest\"]\n"))
	over, course := a.Sets[0].Over, h.Courses[0]
	if over == nil || !over.Keeps() || over.Ending.Kind != course.Ending.Kind || math.Abs(over.Ending.Charge-course.Ending.Charge) > 1e-5 || a.Sets[0].Fit > FitsNear {
		t.Fatalf("%s, %+v; by heat %+v", a.Sets[0].Fit, over, course.Ending)
	}
	for _, l := range course.Limits {
		if l.Name == over.Limit {
			if math.Abs(l.Peak.Value-over.Peak.Value) > 0.05 || math.Abs(l.Margin-over.Left) > 1e-3 {
				t.Errorf("%s: %g K with %g left, by heat %g K with %g left", over.Limit, over.Peak.Value, over.Left, l.Peak.Value, l.Margin)
			}
		}
		if l.Margin < over.Left-1e-3 {
			t.Errorf("%s is nearer than %s", l.Name, over.Limit)
		}
	}
	for _, n := range h.Notices {
		if strings.Contains(n.What, "the battery is") {
			t.Errorf("a battery that lasts: %s", n.What)
		}
	}
	a, h = ask(open("steps = [\"5 min at 3 kW\", \"40 min at 4 kW\"]\n"))
	if x := a.Sets[0]; x.Over.Keeps() || x.Fit != FitsNot || x.Over.Ending.Kind != drive.AtCutOff || x.Over.Ending.Leg != 1 {
		t.Errorf("a battery that does not last: %s, %+v", x.Fit, x.Over.Ending)
	}
	found := false
	for _, n := range h.Notices {
		if strings.Contains(n.What, "the battery is at its cut-off") {
			found = true
			if !strings.HasSuffix(n.Place.String(), ":5:27") && n.Place.Column != 27 || !strings.Contains(n.What, "step 2 of 2") || !strings.Contains(n.WayOut, "battery.parallel = ") {
				t.Errorf("%s: %s; %s", n.Place, n.What, n.WayOut)
			}
		}
	}
	if !found {
		t.Error("a battery that is empty before the end is not told")
	}
	if a, _ = ask(open("")); a.Sets[0].Over != nil || len(a.Steps) != 0 {
		t.Error("judged over a duty that nobody typed")
	}
}

// A voltage that does not reach is told with its place and the time, and not where it does.
func TestShortVoltageIsTold(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "sled")
	if err := project.New(dir, "rescue-sled"); err != nil {
		t.Fatal(err)
	}
	p, err := project.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		kv   string
		told bool
	}{{"135 rpm/V", false}, {"85 rpm/V", true}} {
		if p.Design, err = p.Design.With("motor.speed_constant", c.kv); err != nil {
			t.Fatal(err)
		}
		h, err := Heat(p, HeatFlags{WhatIf: []string{"none"}, AsDesigned: true, Duty: []string{"10 min at 330 N"}}, Options{Nominal: true})
		if err != nil {
			t.Fatal(err)
		}
		told := false
		for _, n := range h.Notices {
			if strings.Contains(n.What, "voltage does not reach") {
				told = true
				if n.Place.Line == 0 || n.WayOut == "" {
					t.Errorf("without a place or a way out: %+v", n)
				}
			}
		}
		if told != c.told {
			t.Errorf("at %s told: %v", c.kv, told)
		}
	}
}
