package desk

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"jetwright/project"
)

// G 6.3 at 3000 rpm: e = 6.3 mm/s over 314.16 rad/s is 20.05 µm, so 20.05 g·mm for each kg. COMPUTED from the grade's definition; the
// grade of pump impellers FROM MEMORY of ISO 21940-11.
func TestUnbalancePublished(t *testing.T) {
	if got := 1e6 * UnbalanceAllowed(1, 3000*2*math.Pi/60); math.Abs(got-20.05) > 0.01 {
		t.Errorf("%.3f g·mm", got)
	}
}

// lake is the scene with blades, with changes to its text.
func lake(t *testing.T, change ...string) *project.Project {
	t.Helper()
	folder := filepath.Join(t.TempDir(), "lake")
	if err := New(folder, "lake-sled"); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(folder, project.DesignFile)
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	for i := 0; i+1 < len(change); i += 2 {
		if !strings.Contains(string(text), change[i]) {
			t.Fatalf("the scene has no %q", change[i])
		}
	}
	if err := os.WriteFile(file, []byte(strings.NewReplacer(change...).Replace(string(text))), 0o644); err != nil {
		t.Fatal(err)
	}
	p, err := project.Open(folder)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// What cannot be made is named with its place, its number and what would be right, and leaves no file.
func TestExportFaults(t *testing.T) {
	for _, c := range []struct {
		name, says, right string
		change            []string
	}{
		{"blades overlap", "overlap at the hub", "passage", []string{`root_flare   = "1.5 mm"`, `root_flare = "16 mm"`}},
		{"bore larger than hub", "a bore of 40 mm is larger than the hub, 32 mm", "a bore of 29.6 mm or less", []string{`bore_form    = "keyway"`, `bore = "40 mm"`}},
		{"no wall round the keyway", "between bore and hub", "1.2 mm", []string{`bore_form    = "keyway"`, `bore_form = "keyway"` + "\n" + `bore = "26 mm"`}},
		{"hub too short", "stand from", "beyond the blades", []string{`length       = "42 mm"`, `length = "20 mm"`}},
		{"stator too short", "shorter than its blades", "or more", []string{`length = "44 mm"`, `length = "30 mm"`}},
		{"stator too near", "come nearest", "3.5 mm or more", []string{`start  = "40 mm"`, `start = "33 mm"`}},
		{"edges thicker than the blade", "thicker than the blade", "thick", []string{`density           = "1240 kg/m³"`, `minimum_edge = "4 mm"`}},
		{"bolts outside the flange", "do not fit a flange", "with a wall", []string{"[craft]", "[flange]\ndiameter = \"100 mm\"\n\n[craft]"}},
		{"no entry for flange and tap", "no room for the flange and the boss", "20 mm or more", []string{`length      = "80 mm"`, "length = \"80 mm\"\nentry = \"3 mm\""}},
		{"flanges thicker than the ring", "no room for flanges", "62 mm or more", []string{"[craft]", "[flange]\nthickness = \"30 mm\"\n\n[craft]"}},
		{"nozzle too short", "no room for a contraction", "or more", []string{`length      = "80 mm"`, `length = "25 mm"`}},
		{"holes wider than what is round them", "round the bore", "or less", []string{`hole_compensation = "0.2 mm"`, `hole_compensation = "3 mm"`}},
		{"holes closed", "the coolant's tap of 1.5 mm would be -0.5 mm", "-1.4 mm or more", []string{`hole_compensation = "0.2 mm"`, `hole_compensation = "-2 mm"`, `tap_diameter = "6 mm"`, `tap_diameter = "1.5 mm"`}},
		{"a bore closed to its keyway", "the bore of 3 mm would be 1 mm", "or more", []string{`hole_compensation = "0.2 mm"`, `hole_compensation = "-2 mm"`, `bore_form    = "keyway"`, `bore_form = "keyway"` + "\n" + `bore = "3 mm"`}},
		{"collar wider than the hub", "wider than the hub, 32 mm", "no wider", []string{`bore_form    = "keyway"`, "bore_form = \"clamp\"\nclamp_wall = \"9 mm\""}},
	} {
		p := lake(t, c.change...)
		_, err := Export(p, ExportFlags{})
		if err == nil {
			t.Errorf("%s: no fault", c.name)
			continue
		}
		if said := err.Error(); !strings.Contains(said, c.says) || !strings.Contains(said, c.right) || !strings.Contains(said, "drive.toml") {
			t.Errorf("%s: %s", c.name, said)
		}
		if _, err := os.Stat(filepath.Join(p.Folder, "shapes")); err == nil {
			t.Errorf("%s: a folder was left", c.name)
		}
	}
	for _, tolerance := range []string{"0 mm", "-1 mm", "5 mm", "two"} {
		if _, err := Export(lake(t), ExportFlags{Tolerance: tolerance}); err == nil || !strings.Contains(err.Error(), "--tolerance") {
			t.Errorf("a tolerance of %s: %v", tolerance, err)
		}
	}
}

// The other hand is the mirror image; a clamp, a flat and a round bore can be made; an edge that the process cannot make is
// named.
func TestExportLaw(t *testing.T) {
	right, err := Export(lake(t), ExportFlags{Plan: true, Tolerance: "0.2 mm"})
	if err != nil {
		t.Fatal(err)
	}
	left, err := Export(lake(t), ExportFlags{Plan: true, Tolerance: "0.2 mm", Mirror: true})
	if err != nil {
		t.Fatal(err)
	}
	if left.Label.Hand != "left-handed" || right.Label.Hand != "right-handed" || right.Written {
		t.Errorf("hands %q and %q", left.Label.Hand, right.Label.Hand)
	}
	for i := range right.Parts {
		a, b := right.Parts[i].Properties, left.Parts[i].Properties
		if math.Abs(a.Volume/b.Volume-1) > 1e-12 || math.Abs(a.Centre[1]+b.Centre[1]) > 1e-12 || a.Mass <= 0 {
			t.Errorf("%s: %+v and %+v", right.Parts[i].Name, a, b)
		}
	}
	// the next part is made as drawn, whatever was measured on the last; a form keeps the nose that is its own
	again, err := Export(lake(t, "[craft]", "[built]\nimpeller.diameter = \"83.6 mm\"\nimpeller.thickness = [\"3 mm\", \"3 mm\", \"3 mm\", \"3 mm\", \"3 mm\"]\n\n[craft]"), ExportFlags{Plan: true, Tolerance: "0.2 mm"})
	if err != nil {
		t.Fatal(err)
	}
	if !again.Built || again.Parts[0].Properties != right.Parts[0].Properties || again.Parts[2].Properties != right.Parts[2].Properties {
		t.Errorf("as built %+v, as drawn %+v", again.Parts[0].Properties, right.Parts[0].Properties)
	}
	nose, err := Export(lake(t, `leading_radius  = "0.6 mm ± 0.2 mm"`, "leading_radius = \"0.4 mm\"\nform = \"C4\"", `thickness    = ["2.8 mm", "2.8 mm", "2.6 mm", "2.4 mm", "2.4 mm"]`, `thickness = ["5 mm", "5 mm", "5 mm", "5 mm", "5 mm"]`), ExportFlags{Plan: true, Tolerance: "0.2 mm"})
	if err != nil {
		t.Fatal(err)
	}
	if said := nose.Notices.Error(); !strings.Contains(said, "a rounder leading edge of its own") {
		t.Error(said)
	}
	for _, form := range []string{"round", "flat", "clamp"} {
		if _, err := Export(lake(t, `bore_form    = "keyway"`, `bore_form = "`+form+`"`), ExportFlags{Plan: true, Tolerance: "0.2 mm", Parts: []string{"impeller"}}); err != nil {
			t.Errorf("%s: %v", form, err)
		}
	}
	// no bore; a drive without stator; a channel that bends under the blades
	for _, change := range [][]string{
		{`bore_form    = "keyway"`, `bore = "0 mm"`},
		{`[stator]
blades = 7`, `[stator]
blades = 0`},
		{"[stator]", "[channel]\naxial = [\"-100 mm\", \"10 mm\", \"30 mm\", \"60 mm\", \"200 mm\"]\nhub_radius = [\"16 mm\", \"16 mm\", \"16.5 mm\", \"16.5 mm\", \"16 mm\"]\ntip_radius = [\"42 mm\", \"42 mm\", \"41.5 mm\", \"41 mm\", \"41 mm\"]\n\n[stator]"},
	} {
		a, err := Export(lake(t, change...), ExportFlags{Plan: true, Tolerance: "0.2 mm"})
		if err != nil {
			t.Errorf("%s: %v", change[1], err)
			continue
		}
		if want := map[bool]int{true: 3, false: 4}[strings.Contains(change[1], "blades = 0")]; len(a.Parts) != want {
			t.Errorf("%s: %d parts", change[1], len(a.Parts))
		}
	}
	thin, err := Export(lake(t, `leading_radius  = "0.6 mm ± 0.2 mm"`, `leading_radius = "0.2 mm"`), ExportFlags{Plan: true, Tolerance: "0.2 mm"})
	if err != nil {
		t.Fatal(err)
	}
	said := thin.Notices.Error()
	if !strings.Contains(said, "the leading edge of the impeller, 0.4 mm thick") || !strings.Contains(said, "the leading edge of the stator") {
		t.Error(said)
	}
}
