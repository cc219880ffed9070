package design

import (
	"bytes"
	"io/fs"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"jetwright/drive"
	"jetwright/examples"
	"jetwright/notice"
)

func bladedText(t testing.TB) []byte {
	t.Helper()
	b, err := fs.ReadFile(examples.Scenes, "lake-sled/drive.toml")
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func bladed(t testing.TB, change ...string) *Design {
	t.Helper()
	text := strings.NewReplacer(change...).Replace(string(bladedText(t)))
	d, faults := Read("drive.toml", []byte(text))
	if d == nil {
		t.Fatal(faults)
	}
	return d
}

// The drive's state on the map of its blades is what a search with full solves of the blades finds, that knows nothing of
// the map: within the map's own error, for the nominal drive and for drawn ones.
func TestBladedStateLaw(t *testing.T) {
	d := bladed(t)
	plain := func(dr drive.Drive) drive.Drive { // the method's own scatter is no part of the blades
		dr.Terms.HeadFactor, dr.Terms.EfficiencyOffset, dr.Terms.BreakdownFactor = 1, 0, 1
		dr.Impeller.InstalledFactor = 1
		return dr
	}
	random := rand.New(rand.NewPCG(8, 2))
	worst := [2]float64{}
	for i := range 25 {
		u := make([]float64, len(d.Uncertain()))
		for j := range u {
			if u[j] = 0.5; i > 0 {
				u[j] = 0.25 + 0.5*random.Float64()
			}
		}
		m, err := plain(d.Draw(u)).Resolve()
		if err != nil {
			t.Fatal(err)
		}
		at := m.Drive.DutyCondition()
		s, err := m.Solve(at)
		if err != nil {
			continue
		}
		if math.Abs(s.PowerResidual) > 1e-9 || math.Abs(s.DemandResidual) > 1e-9 {
			t.Errorf("draw %d does not close: %g, %g", i, s.PowerResidual, s.DemandResidual)
		}
		speed, power, ok := m.BladesAlone(&s)
		if !ok {
			continue // the drawn blades have no state where the map has one
		}
		off := [2]float64{math.Abs(speed/s.RotorSpeed - 1), math.Abs(power/s.Jet.ImpellerPower - 1)}
		bound := [2]float64{0.01, 0.02}
		if i == 0 {
			bound = [2]float64{5e-4, 1e-3}
			t.Logf("nominal: rotor speed %.1e, power %.1e off", off[0], off[1])
		}
		for k := range off {
			worst[k] = max(worst[k], off[k])
			if off[k] > bound[k] {
				t.Errorf("draw %d: full solves give %g rad/s and %g W, the map %g and %g", i, speed, power, s.RotorSpeed, s.Jet.ImpellerPower)
			}
		}
	}
	t.Logf("drawn: rotor speed %.1e, power %.1e off at most", worst[0], worst[1])
}

// What was measured acts on the named terms: head at a flow coefficient and power for the same hydraulic power.
func TestBladedCalibrationExact(t *testing.T) {
	d := bladed(t)
	base, err := d.Nominal().Resolve()
	if err != nil {
		t.Fatal(err)
	}
	moved := d.Nominal()
	moved.Calibration.LnHead, moved.Calibration.LnPower = 0.05, 0.04
	m, err := moved.Resolve()
	if err != nil {
		t.Fatal(err)
	}
	phi := base.Design.FlowCoefficient
	h0, _ := base.Path.Pump.Head(phi)
	h1, _ := m.Path.Pump.Head(phi)
	if math.Abs(math.Log(h1/h0)-0.05) > 2e-3 { // the Reynolds number follows the rotor speed
		t.Errorf("head moved by %g", math.Log(h1/h0))
	}
	if p := math.Log(m.Path.Pump.Power(phi) / base.Path.Pump.Power(phi)); math.Abs(p-0.09) > 4e-3 {
		t.Errorf("power moved by %g", p)
	}
}

// One map serves all drawn drives, and a map that a drive makes for itself says the same.
func TestBladedMapSharedExact(t *testing.T) {
	d := bladed(t)
	alone := d.Nominal()
	alone.KeepBlades(nil)
	a, err := alone.Resolve()
	if err != nil {
		t.Fatal(err)
	}
	b, err := d.Nominal().Resolve()
	if err != nil {
		t.Fatal(err)
	}
	x, _ := a.Solve(a.Drive.DutyCondition())
	y, _ := b.Solve(b.Drive.DutyCondition())
	if x.RotorSpeed == 0 || math.Abs(x.RotorSpeed/y.RotorSpeed-1) > 1e-12 {
		t.Errorf("%g and %g", x.RotorSpeed, y.RotorSpeed)
	}
	changed, err := b.Changed(func(d *drive.Drive) { d.ImpellerRow.OutletAngleOffset += math.Pi / 180 })
	if err != nil {
		t.Fatal(err)
	}
	z, err := changed.Solve(b.Drive.DutyCondition())
	if err != nil || !(z.RotorSpeed < 0.995*y.RotorSpeed) {
		t.Errorf("a degree steeper turns at %g, not slower than %g: %v", z.RotorSpeed, y.RotorSpeed, err)
	}
}

// Bad blades are named where they stand.
func TestBladeFaults(t *testing.T) {
	for _, c := range []struct {
		name, path, says string
		change           []string
	}{
		{"crossing", "impeller.blades", "the blades cross", []string{"blades       = 5", "blades       = 12", `["2.8 mm", "2.8 mm"`, `["6 mm", "2.8 mm"`}},
		{"touching gap", "impeller.tip_gap", "touches", []string{`"0.35 mm ± 0.1 mm"`, `"0.05 mm"`}},
		{"stator ahead", "stator.start", "ahead of the impeller", []string{`start  = "40 mm"`, `start  = "-60 mm"`}},
		{"stalls everywhere", "impeller.inlet_angle", "no state at any flow", []string{
			`outlet_angle = ["88 deg", "54 deg", "42 deg", "35.5 deg", "28 deg"]`, `outlet_angle = ["170 deg", "168 deg", "166 deg", "160 deg", "158 deg"]`, `start  = "40 mm"`, `start  = "60 mm"`,
		}},
		{"a chord too few", "impeller.chord", "4 numbers for 5 sections", []string{`["38 mm", "41 mm", "38 mm", "37 mm", "37 mm"]`, `["38 mm", "41 mm", "38 mm", "37 mm"]`}},
		{"no unit", "impeller.chord", "no unit", []string{`["38 mm", "41 mm", "38 mm", "37 mm", "37 mm"]`, `[38, 41, 38, 37, 37]`}},
		{"not there", "stator", "no sections", nil},
	} {
		text := strings.NewReplacer(c.change...).Replace(string(bladedText(t)))
		if c.change == nil {
			c.path = "impeller.grade"
			text = strings.Replace(text, "[impeller]\n", "[impeller]\ngrade = \"blades\"\n", 1)
			for _, k := range sectionKeys {
				i := strings.Index(text, "\n"+k)
				text = text[:i+1] + text[i+1+strings.IndexByte(text[i+1:], '\n')+1:]
			}
		} else if bytes.Equal([]byte(text), bladedText(t)) {
			t.Fatalf("%s changes nothing", c.name)
		}
		_, faults := Read("drive.toml", []byte(text))
		found := false
		for _, n := range faults {
			if n.Kind == notice.Error && n.Path == c.path && strings.Contains(n.What, c.says) && n.Place.Line > 1 && n.Place.Column > 0 && n.Excerpt != "" {
				found = true
			}
		}
		if !found {
			t.Errorf("%s is not named: %v", c.name, faults)
		}
	}
}

// Sections that are not used enter nothing: the drive is the estimated one.
func TestUnusedBladesExact(t *testing.T) {
	text := strings.Replace(string(bladedText(t)), "[impeller]\n", "[impeller]\ngrade = \"estimated\"\n", 1)
	with, faults := Read("drive.toml", []byte(text))
	if with == nil {
		t.Fatal(faults)
	}
	bare := text
	for _, k := range append([]string{"span"}, sectionKeys...) {
		for {
			i := strings.Index(bare, "\n"+k)
			if i < 0 {
				break
			}
			bare = bare[:i+1] + bare[i+1+strings.IndexByte(bare[i+1:], '\n')+1:]
		}
	}
	without, faults := Read("drive.toml", []byte(bare))
	if without == nil {
		t.Fatal(faults)
	}
	if a, b := len(with.Uncertain()), len(without.Uncertain()); a != b {
		t.Errorf("%d uncertain numbers, %d without the sections", a, b)
	}
	if a, b := len(with.Assumptions()), len(without.Assumptions()); a != b {
		t.Errorf("%d assumptions, %d without the sections", a, b)
	}
	x, err := with.Nominal().Resolve()
	if err != nil {
		t.Fatal(err)
	}
	y, _ := without.Nominal().Resolve()
	if x.Design != y.Design || x.Path.Blades != nil {
		t.Errorf("%+v is not %+v", x.Design, y.Design)
	}
}

// A chain of changes, as on the page, gives at each step bit for bit what a design read anew gives: the map that is kept serves the very same
// blades alone, also after they were changed and changed back.
func TestBladedMapKeptExact(t *testing.T) {
	d := bladed(t)
	solved := func(d *Design) drive.State {
		t.Helper()
		m, err := d.Nominal().Resolve()
		if err != nil {
			t.Fatal(err)
		}
		s, err := m.Solve(m.Drive.DutyCondition())
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	solved(d)
	for _, c := range [][2]string{
		{"nozzle.diameter", "69 mm ± 0.2 mm"},
		{"water.temperature", "9 °C ± 1 K"},
		{"impeller.tip_gap", "0.45 mm ± 0.1 mm"},
		{"motor.speed_constant", "150 rpm/V ± 3 %"},
		{"impeller.tip_gap", "0.35 mm ± 0.1 mm"},
		{"impeller.diameter", "85 mm ± 0.2 mm"},
		{"impeller.hub_diameter", "33 mm"},
		{"terms.head_factor", "0.97(4)"},
		{"impeller.hub_diameter", "32 mm"},
		{"impeller.surface", "filled"},
		{"stator.blades", "8"},
		{"impeller.diameter", "84 mm ± 0.2 mm"},
		{"impeller.outlet_angle_offset", "0.4 deg"},
		{"stator.blades", "7"},
		{"impeller.outlet_angle_offset", "-0.5 deg .. 0.5 deg"},
		{"impeller.surface", "sanded"},
		{"nozzle.diameter", "70 mm ± 0.2 mm"},
	} {
		next, err := d.With(c[0], c[1])
		if err != nil {
			t.Fatalf("%s = %s: %v", c[0], c[1], err)
		}
		d = next
		anew, faults := Read("drive.toml", d.Document().Bytes())
		if anew == nil {
			t.Fatal(faults)
		}
		if a, b := solved(d), solved(anew); a != b {
			t.Errorf("%s = %s: %.12g rad/s and %.12g N, read anew %.12g rad/s and %.12g N", c[0], c[1], a.RotorSpeed, a.Thrust, b.RotorSpeed, b.Thrust)
		}
	}
}

// The map is held against full solves at several places, and what it says of half the rotor speed is what the Reynolds number that it leaves
// out costs, worked out on another way.
func TestBladeChecksLaw(t *testing.T) {
	d := bladed(t)
	m, err := d.Nominal().Resolve()
	if err != nil {
		t.Fatal(err)
	}
	s, err := m.Solve(m.Drive.DutyCondition())
	if err != nil {
		t.Fatal(err)
	}
	w, ok := m.BladeWorkAt(&s)
	if !ok {
		t.Fatal("no work")
	}
	seen := map[string]bool{}
	for _, c := range w.Checks {
		if c.Reason != "" {
			t.Errorf("%s: %s", c.What, c.Reason)
		}
		if math.Abs(c.Head) > 0.015 || math.Abs(c.Power) > 0.01 {
			t.Errorf("%s %s: head off by %g, power by %g", c.What, c.Path, c.Head, c.Power)
		}
		switch {
		case c.What == "here":
			if math.Abs(c.Head-w.HeadOff) > 1e-12 || math.Abs(c.Power-w.PowerOff) > 1e-12 {
				t.Errorf("here the head is off by %g and by %g", c.Head, w.HeadOff)
			}
		case c.What == "half the rotor speed":
			if want := (1+w.HeadOff)/(1+w.HalfSpeed[0]) - 1; math.Abs(c.Head-want) > 1e-9 || want < 1e-3 {
				t.Errorf("at half the speed the head is off by %g, and by %g", c.Head, want)
			}
		case c.Path != "":
			if _, known := d.Value(c.Path); !known || c.Amount == 0 {
				t.Errorf("%s is moved by %g", c.Path, c.Amount)
			}
		}
		seen[c.What] = true
	}
	if len(w.Checks) < 9 || !seen["all toleranced numbers moved at once"] {
		t.Errorf("held at %v", seen)
	}
}

// A nozzle changed on the page: read, first state, the blades as they were.
func BenchmarkBladedEdit(b *testing.B) {
	d := bladed(b)
	if _, err := d.Nominal().Resolve(); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		next, err := d.With("nozzle.diameter", "69 mm ± 0.2 mm")
		if err != nil {
			b.Fatal(err)
		}
		if _, err := next.Nominal().Resolve(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkBladedState(b *testing.B) {
	d := bladed(b)
	m, err := d.Nominal().Resolve()
	if err != nil {
		b.Fatal(err)
	}
	c := m.Drive.DutyCondition()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := m.Solve(c); err != nil {
			b.Fatal(err)
		}
	}
}

// With its map there, a drawn drive is worked out.
func BenchmarkBladedResolve(b *testing.B) {
	d := bladed(b)
	u := make([]float64, len(d.Uncertain()))
	for j := range u {
		u[j] = 0.4
	}
	dr := d.Draw(u)
	if _, err := dr.Resolve(); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := dr.Resolve(); err != nil {
			b.Fatal(err)
		}
	}
}

// Read, map and first state, as after a change on the page.
func BenchmarkBladedRead(b *testing.B) {
	text := bladedText(b)
	for b.Loop() {
		d, _ := Read("drive.toml", text)
		if _, err := d.Nominal().Resolve(); err != nil {
			b.Fatal(err)
		}
	}
}
