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

// The whole answer of the reckoning of the example, its logs read and reduced anew each time, as the command does.
func BenchmarkReckon(b *testing.B) {
	folder := b.TempDir() + "/sled"
	if err := New(folder, "rescue-sled"); err != nil {
		b.Fatal(err)
	}
	p, err := project.Open(folder)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := Reckon(p, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkReport(b *testing.B) {
	folder := b.TempDir() + "/sled"
	if err := New(folder, "rescue-sled"); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := ReportIn(folder, Options{Gaussian: true}); err != nil {
			b.Fatal(err)
		}
	}
}

// A report has a curve where the readings are, with the claim at the power that the calibrated
// drive takes there, and bands that readings narrow.
func TestReportAnswer(t *testing.T) {
	p := sled(t)
	a, err := Report(p, Options{Draws: 128, Gaussian: true})
	if err != nil {
		t.Fatal(err)
	}
	if a.Name != "sled" || len(a.Curves) != 1 || a.Curves[0].Place != "battery" || len(a.Powers) != len(a.Plateaus) || len(a.Sources) < 5 {
		t.Fatalf("the report of %q has curves %v and %d sources", a.Name, len(a.Curves), len(a.Sources))
	}
	c := a.Curves[0]
	if len(c.Points) < 15 || len(c.Claims) != 1 {
		t.Fatalf("the curve has %d points and %d claims", len(c.Points), len(c.Claims))
	}
	m := c.Claims[0]
	if !m.Moved || m.Place != "shaft" || !(m.Power.Low > m.Claim.Power) || m.Power.Value > 1.2*m.Claim.Power {
		t.Errorf("a claim at the shaft stands at %+v of the battery's power", m.Power)
	}
	for i, pt := range c.Points {
		if !pt.HasBefore || !pt.HasAfter {
			t.Errorf("no thrust at %.0f W", pt.Power)
		}
		if pt.Power > 500 && !(pt.After.High-pt.After.Low < pt.Before.High-pt.Before.Low) {
			t.Errorf("readings do not narrow the thrust at %.0f W", pt.Power)
		}
		if i > 0 && !(pt.After.Value > c.Points[i-1].After.Value) {
			t.Errorf("thrust falls at %.0f W", pt.Power)
		}
	}
	// the band and the verdict say the same of the claim's power, the band on a quarter of the draws
	calibrated := a.Claims[0].Cases[0].Calibrated.Figure
	last := c.Points[len(c.Points)-1]
	for _, pt := range c.Points {
		if math.Abs(pt.Power-m.Power.Value) < math.Abs(last.Power-m.Power.Value) {
			last = pt
		}
	}
	scale := math.Pow(m.Power.Value/last.Power, 2.0/3)
	for _, x := range [][2]float64{{calibrated.Value, last.After.Value}, {calibrated.Low, last.After.Low}, {calibrated.High, last.After.High}} {
		if math.Abs(scale*x[1]/x[0]-1) > 0.04 {
			t.Errorf("the band says %.0f N where the verdict says %.0f N", scale*x[1], x[0])
		}
	}
	for _, w := range a.Powers {
		if !w.Known || !(w.Shaft.Value < w.Battery.Value) {
			t.Errorf("the powers of a reading are %+v", w)
		}
	}
}
