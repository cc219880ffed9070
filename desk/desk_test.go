package desk

import (
	"math"
	"strings"
	"testing"

	"jetwright/drive"
	"jetwright/project"
)

func sled(t *testing.T) *project.Project {
	t.Helper()
	folder := t.TempDir() + "/sled"
	if err := New(folder, "rescue-sled"); err != nil {
		t.Fatal(err)
	}
	p, err := project.Open(folder)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestStateSchema(t *testing.T) {
	if n := len(StateSchema().Fields()); n < 60 {
		t.Errorf("a state has %d figures", n)
	}
	for _, e := range (drive.State{}).Ledger() {
		if _, ok := StateSchema().Lookup(e.Path); !ok {
			t.Errorf("the ledger's %s is no figure of the state", e.Path)
		}
	}
}

// The ledger of an answer sums to its battery power, and every limit has one of four states with
// those that are not judged among the first.
func TestLimitsAnswer(t *testing.T) {
	a, err := Limits(sled(t), Options{Draws: 128})
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for _, l := range a.Ledger {
		sum += l.Value
	}
	if battery := a.State.Of("battery_power").Value; math.Abs(sum/battery-1) > 1e-9 {
		t.Errorf("the ledger sums to %g of %g W", sum, battery)
	}
	clear := false
	for _, l := range a.Limits {
		switch l.State.String() {
		case "clear", "near":
			clear = true
		default:
			if clear {
				t.Errorf("%s (%v) stands behind what is clear", l.Name, l.State)
			}
		}
		if l.Why == "" {
			t.Errorf("%s does not say why it matters", l.Name)
		}
	}
	if a.Fine {
		t.Error("fine, although limits were not judged")
	}
}

// A prediction without arguments has at least eight powers at rest and then speeds up to the
// duty's top speed, and thrust falls with speed.
func TestPredictAnswer(t *testing.T) {
	a, err := Predict(sled(t), PredictAt{}, Options{Draws: 32})
	if err != nil {
		t.Fatal(err)
	}
	rest, last := 0, 0.0
	for _, p := range a.Points {
		if p.Condition.Speed == 0 {
			rest++
			continue
		}
		if p.Condition.Speed <= last {
			t.Error("speeds do not rise")
		}
		last = p.Condition.Speed
	}
	if rest < 8 || math.Abs(last-7) > 1e-9 {
		t.Errorf("%d powers at rest, speeds up to %g m/s", rest, last)
	}
	n := len(a.Points)
	if a.Points[n-1].State.Of("thrust").Value >= a.Points[rest-1].State.Of("thrust").Value {
		t.Error("thrust does not fall with speed")
	}
}

func TestLadder(t *testing.T) {
	for _, top := range []float64{37, 800, 999.5, 1000, 3730, 5000, 12345, 25000} {
		l := ladder(top)
		if len(l) < restPoints || l[len(l)-1] != top {
			t.Errorf("up to %g: %v", top, l)
		}
		for i := 1; i < len(l); i++ {
			if l[i] <= l[i-1] {
				t.Errorf("up to %g: %v does not rise", top, l)
			}
		}
	}
}

// A reading that breaks momentum, and a claim beyond the battery, are refused with a sentence.
func TestRefusals(t *testing.T) {
	p := sled(t)
	if _, _, err := p.Note("x", []project.Pair{{Key: "power", Value: "100 W"}, {Key: "place", Value: "battery"}, {Key: "thrust", Value: "60 kgf"}}); err != nil {
		t.Fatal(err)
	}
	p, err := project.Open(p.Folder)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Reckon(p, Options{Draws: 32}); err == nil || !strings.Contains(err.Error(), "contradicts momentum") || !strings.Contains(err.Error(), "run.toml:1:1") {
		t.Errorf("a reading that breaks momentum: %v", err)
	}
	p = sled(t)
	d, err := p.Design.With("battery.parallel", "1")
	if err != nil {
		t.Fatal(err)
	}
	p.Design = d
	if _, err := Audit(p, Options{}); err == nil || !strings.Contains(err.Error(), "beyond the battery") {
		t.Errorf("a claim beyond the battery: %v", err)
	}
}
