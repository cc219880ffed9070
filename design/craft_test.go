package design

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"jetwright/notice"
)

// afloatText is the rescue sled as a craft that can be ridden.
func afloatText(t *testing.T, more string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "examples", "rescue-sled", "drive.toml"))
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	from := strings.Index(text, "[craft]")
	to := from + strings.Index(text[from:], "[stand]")
	return text[:from] + "[craft]\nmass = \"38 kg\"\nrider_mass = \"80 kg\"\nlength = \"1.7 m\"\n" + more + "\n" + text[to:]
}

// What is wrong with a craft is named with its place, and with what would be right.
func TestCraftFaultsExact(t *testing.T) {
	for _, c := range []struct{ typed, path, what, allowed string }{
		{`gravity_centre = "-0.2 m"`, "craft.gravity_centre", "behind the transom", "0.51 m .. 0.85 m"},
		{`gravity_centre = "-0.1 m .. 0.4 m"`, "craft.gravity_centre", "the aft end of its band, -0.1 m,", "ahead of the transom"},
		{`gravity_centre = "1.8 m"`, "craft.gravity_centre", "1.7 m long", "between transom and bow"},
		{`deadrise = "-5 deg"`, "craft.deadrise", "falls from keel to chine", "0 for a flat bottom"},
		{`volume = "30 L"`, "craft.volume", "sink", "float the rider"},
		{`tow_speeds = ["2 m/s", "4 m/s"]`, "craft.tow_pulls", "0 towed pulls for 2 speeds", "one pull for each speed"},
		{"tow_speeds = [\"4 m/s\", \"2 m/s\"]\ntow_pulls = [\"90 N\", \"80 N\"]", "craft.tow_speeds", "value 2", "rise"},
	} {
		_, faults := Read("drive.toml", []byte(afloatText(t, c.typed)))
		found := false
		for _, n := range faults {
			if n.Kind == notice.Error && n.Path == c.path {
				found = true
				if !strings.Contains(n.What, c.what) || !strings.Contains(n.Allowed, c.allowed) || n.Place.Line == 0 {
					t.Errorf("%s: %q, %q at %v", c.typed, n.What, n.Allowed, n.Place)
				}
			}
		}
		if !found {
			t.Errorf("%s is taken: %v", c.typed, faults)
		}
	}
	d, faults := Read("drive.toml", []byte(afloatText(t, `volume = "90 L"`)))
	if d == nil || len(faults) == 0 || !strings.Contains(faults[0].What, "prone and awash") {
		t.Errorf("a board that does not float its rider: %v", faults)
	}
}

// The drag area in air is assumed by the posture, and the towed drag of a claim of speed is one of the craft's.
func TestCraftPlacedExact(t *testing.T) {
	d, faults := Read("drive.toml", []byte(afloatText(t, "posture = \"prone\"\ntow_speeds = [\"4 m/s\"]\ntow_pulls = [\"190 N\"]")+"\n[[claim]]\nwhat = \"speed\"\nsense = \"at least\"\nvalue = \"3 m/s\"\npower = \"3 kW\"\nplace = \"battery\"\ndrag = \"120 N\"\n"))
	if d == nil {
		t.Fatal(faults)
	}
	c := d.Nominal().Craft
	if c.DragArea.Value != 0.16 || len(c.TowSpeeds) != 2 || c.TowSpeeds[0] != 3 || c.TowPulls[0] != 120 || c.TowPulls[1] != 190 {
		t.Errorf("area %v, towed %v at %v", c.DragArea, c.TowPulls, c.TowSpeeds)
	}
	for _, in := range d.Uncertain() {
		if strings.HasPrefix(in.Path, "craft.") && in.Path != "craft.thrust_deduction" {
			t.Error(in.Path, "is drawn where nothing rides")
		}
	}
	ridden := map[string]bool{}
	for _, in := range d.Riding() {
		ridden[in.Path] = true
	}
	if !ridden["craft.drag_area"] || !ridden["craft.method_error"] || !ridden["craft.gravity_height"] {
		t.Error("rides draw from", ridden)
	}
}
