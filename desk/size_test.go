package desk

import (
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"jetwright/drive"
	"jetwright/explore"
	"jetwright/notice"
	"jetwright/project"
	"jetwright/quantity"
)

var surfFlags = SizeFlags{Thrust: "380 N", UnderWay: "230 N at 7.5 m/s", Voltage: "46 V", Diameter: "118 mm", Water: "sea"}

// Each written folder, opened and solved by itself, gives the figures that were told, is no better than another in
// everything, stands 15 % or more apart from each, and can be judged, audited and drawn within its tolerances.
func TestSizedFoldersLaw(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "sled")
	a, err := Size(folder, surfFlags, Options{Draws: 60})
	if err != nil {
		t.Fatal(err)
	}
	if len(a.Proposals) < explore.FewestProposals || a.Folder != folder {
		t.Fatalf("%d proposals in %q", len(a.Proposals), a.Folder)
	}
	type read struct {
		aims               [3]float64
		diameter, speed, l float64
	}
	var all []read
	for _, x := range a.Proposals {
		p, err := project.Open(filepath.Join(folder, x.Name))
		if err != nil {
			t.Fatal(err)
		}
		// what is said of its blades is what blades --design says of the folder
		b, err := BladesDesigned(p, UsualBlades())
		if (err == nil && b.Designed.Reason == "") != (x.Blades != nil) || (x.Blades == nil) != (x.WhyNot != "") {
			t.Errorf("%s: blades %v, %q; of the folder: %v", x.Name, x.Blades != nil, x.WhyNot, err)
		}
		if x.Blades != nil && math.Abs(x.Blades.State.Efficiency-b.Designed.State.Efficiency) > 1e-4 {
			t.Errorf("%s: blades of %v, of the folder %v", x.Name, x.Blades.State.Efficiency, b.Designed.State.Efficiency)
		}
		d := p.Design.Nominal()
		if !reflect.DeepEqual(rounded(d), rounded(x.Sized.Drive)) {
			t.Errorf("%s: what was written is not what was judged", x.Name)
		}
		m, err := d.Resolve()
		if err != nil {
			t.Fatal(err)
		}
		rest, err := m.Solve(d.DutyCondition())
		if err != nil {
			t.Fatal(err)
		}
		way, err := m.Solve(drive.Condition{Speed: 7.5, Demand: drive.BatteryPower, Amount: d.Duty.Power.Value})
		if err != nil {
			t.Fatal(err)
		}
		margin := math.Inf(1)
		for _, st := range []drive.State{rest, way} {
			for _, l := range m.Limits(nil, st) {
				if l.Name == "winding temperature" {
					margin = min(margin, l.Margin())
				}
				if l.NotJudged == "" && l.Margin() < 0 {
					t.Errorf("%s: %s is broken", x.Name, l.Name)
				}
			}
		}
		if rest.Thrust < 380 || way.Thrust < 230 || rest.Thrust != x.Rest.Of("thrust").Value || way.Thrust != x.Way.Of("thrust").Value || margin != x.Winding.Margin {
			t.Errorf("%s gives %g N, %g N and leaves %g; told were %g N, %g N and %g", x.Name, rest.Thrust, way.Thrust, margin, x.Rest.Of("thrust").Value, x.Way.Of("thrust").Value, x.Winding.Margin)
		}
		all = append(all, read{[3]float64{rest.Thrust, way.Thrust, margin}, d.Impeller.Diameter, rest.RotorSpeed, rest.Jet.HeadCoefficient})
		duty, err := Limits(p, Options{Draws: 40})
		if err != nil {
			t.Fatal(err)
		}
		if got := duty.State.Of("thrust").Value; got != rest.Thrust {
			t.Errorf("%s: limits says %g N, not %g N", x.Name, got, rest.Thrust)
		}
		// two promises, each with its place of power, and where they come from
		if c := p.Design.Claims(); len(c) != 2 || c[0].Place != "battery" || c[0].Note != "sized from duty" || c[0].Value+c[1].Value != 610 || c[0].Speed+c[1].Speed != 7.5 {
			t.Errorf("%s: claims %+v", x.Name, c)
		}
		if audit, err := Audit(p, Options{Draws: 40}); err != nil || len(audit.Audits) != 2 {
			t.Errorf("%s: %v", x.Name, err)
		}
		if _, err := Predict(p, PredictAt{}, Options{Draws: 20}); err != nil {
			t.Errorf("%s: %v", x.Name, err)
		}
		text, _ := os.ReadFile(filepath.Join(folder, x.Name, "drive.toml"))
		for _, want := range []string{"# Sized from duty: 380 N at rest and 230 N at 7.5 m/s.", "wright-gerhart-2010", "bulten-2006", `kind = "sea"`, "Nothing here was measured"} {
			if !strings.Contains(string(text), want) {
				t.Errorf("%s does not say %q", x.Name, want)
			}
		}
	}
	for i, x := range all {
		for j, y := range all {
			if i == j {
				continue
			}
			if explore.Dominates(x.aims, y.aims) {
				t.Errorf("%d is better than %d in everything", i, j)
			}
			if apart := max(x.diameter/y.diameter, y.diameter/x.diameter, x.speed/y.speed, y.speed/x.speed, x.l/y.l, y.l/x.l); apart < 1.15 {
				t.Errorf("%d and %d differ by %g", i, j, apart)
			}
		}
	}
	before, _ := os.ReadFile(filepath.Join(folder, "a", "drive.toml"))
	if _, err := Size(folder, surfFlags, Options{Nominal: true}); err == nil || !strings.Contains(err.Error(), folder) {
		t.Errorf("a second set: %v", err)
	}
	if after, _ := os.ReadFile(filepath.Join(folder, "a", "drive.toml")); string(after) != string(before) {
		t.Error("a drive was written over")
	}
}

// rounded takes the last digits off every number of a drive.
func rounded(d drive.Drive) map[string]float64 {
	out := map[string]float64{}
	s, err := quantity.SchemaOf(drive.Drive{})
	if err != nil {
		panic(err)
	}
	for _, f := range s.Fields() {
		if x, ok := s.Get(&d, f); ok {
			out[f.Path] = float64(float32(x))
		}
	}
	return out
}

// What stands in a file of known keys stands in every proposal, as it was typed.
func TestSizeWithKnownKeys(t *testing.T) {
	file := filepath.Join(t.TempDir(), "known.toml")
	text := "[shaft]\nheight = \"-120 mm ± 10 mm\"\nreduction = 2.5\n\n[battery]\nchemistry = \"iron-phosphate\"\ncell_capacity = \"20 Ah\"\ncell_current_limit = \"60 A\"\ncell_resistance = \"1.5 mΩ .. 2 mΩ\"\ncut_off = \"2.6 V\"\n\n[water]\ntemperature = \"12 °C\" # spring\n"
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	f := surfFlags
	f.With = file
	a, err := Size("", f, Options{Nominal: true})
	if err != nil || !a.Meets() || a.Folder != "" {
		t.Fatalf("%v, %d proposals", err, len(a.Proposals))
	}
	if a.Series != 14 { // 3.3 V a cell, half full
		t.Errorf("%d cells", a.Series)
	}
	for _, x := range a.Proposals {
		for _, want := range []string{`"-120 mm ± 10 mm"`, "2.5", `"iron-phosphate"`, `"20 Ah"`, `"12 °C"`, `"sea"`} {
			if !strings.Contains(string(x.Text), want) {
				t.Errorf("%s does not hold %s", x.Name, want)
			}
		}
		if x.Drive.Shaft.Reduction != 2.5 || x.Drive.Battery.Chemistry != "iron-phosphate" {
			t.Errorf("%s: %+v", x.Name, x.Drive.Shaft)
		}
	}
}

// A duty that nothing meets writes nothing, and says what is in the way.
func TestSizeUnmet(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "sled")
	f := surfFlags
	f.BatteryPower = "2 kW"
	a, err := Size(folder, f, Options{Nominal: true})
	if err != nil {
		t.Fatal(err)
	}
	u := a.Result.Unmet
	if u == nil || a.Meets() || len(u.Enough) == 0 || u.Enough[0].What != "battery power" || u.Enough[0].To < 4000 || !(u.Share > 0.1 && u.Share < 0.9) {
		t.Fatalf("%+v", u)
	}
	if _, err := os.Stat(folder); !os.IsNotExist(err) {
		t.Errorf("something was written: %v", err)
	}
}

// Everything wrong with flags and file is said at once, each by its name.
func TestSizeFaults(t *testing.T) {
	file := filepath.Join(t.TempDir(), "known.toml")
	if err := os.WriteFile(file, []byte("[nozzle]\ndiameter = \"60 mm\"\n[watter]\nkind = \"sea\"\n[water]\ntemperature = 12\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	_, err := Size("", SizeFlags{Thrust: "-3 N", UnderWay: "250 N at 8 kg", Voltage: "", Diameter: "8 mm", MotorMass: "1 W", Water: "salt", With: file}, Options{})
	list, _ := err.(notice.List)
	if len(list) < 9 {
		t.Errorf("%d faults: %v", len(list), err)
	}
	for _, want := range []string{"--thrust is -3 N", "--under-way \"8 kg\"", "--voltage is missing", "--diameter is 8 mm", "leaves -2 mm", "--motor-mass", "--water is \"salt\"", "known.toml:2:1: nozzle.diameter is what sizing finds", "known.toml:4:1", "known.toml:6:15"} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("nothing says %q:\n%v", want, err)
		}
	}
}
