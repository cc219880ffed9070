package design

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"jetwright/drive"
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

// Legs of a ride are read as they are meant, and what is no leg says what is wrong with it.
func TestLegsExact(t *testing.T) {
	d, faults := Read("drive.toml", []byte(afloatText(t, `ride = ["to the plane", "2 km back at 7 m/s", "1 min rest"]`)))
	if d == nil {
		t.Fatal(faults)
	}
	if l := d.Legs(); len(l) != 3 || !l[0].ToPlane || l[1].Sail.Metres != 2000 || l[1].Sail.Hold != 7 || !l[1].Sail.Back || !l[2].Rest || l[2].Seconds != 60 || l[1].At.Line == 0 {
		t.Errorf("%+v", d.Legs())
	}
	for text, want := range map[string]func(drive.RideLeg) bool{
		"5 min at full power":   func(l drive.RideLeg) bool { return l.Seconds == 300 && l.Condition.Amount == 0 && l.Sail.Hold == 0 },
		"to the end at 3 kW":    func(l drive.RideLeg) bool { return l.ToEnd && l.Condition.Amount == 3000 },
		"to the plane at 80 %":  func(l drive.RideLeg) bool { return l.ToPlane && l.Condition.Demand == drive.Throttle },
		"400 m  at  5 kW shaft": func(l drive.RideLeg) bool { return l.Sail.Metres == 400 && l.Condition.Demand == drive.ShaftPower },
		"90 s back at 12 km/h": func(l drive.RideLeg) bool {
			return l.Seconds == 90 && l.Sail.Back && math.Abs(l.Sail.Hold-12/3.6) < 1e-12
		},
	} {
		if l, what, _ := d.ReadLeg(text); what != "" || !want(l) {
			t.Errorf("%q: %s, %+v", text, what, l)
		}
	}
	for text, part := range map[string]string{
		"": "no time and no way", "5 min": "does not say what it is at", "rest": "no time and no way", "2 km rest": "for no time", "-5 min at 3 kW": "lasts", "5 min at 900 m/s": "goes at",
		"5 min at much": "is no power", "to the plane at 6 m/s": "holds a speed", "5 kg at 3 kW": "no time and no way",
	} {
		if _, what, _ := d.ReadLeg(text); !strings.Contains(what, part) {
			t.Errorf("%q: %q", text, what)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOfN(rapid.SampledFrom([]string{"to", "the", "plane", "end", "at", "back", "rest", "5 min", "2 km", "7 m/s", "3 kW", "shaft", "full power", "-1", "%", "é"}), 0, 7).Draw(t, "words")
		text := strings.Join(words, " ")
		leg, what, _ := d.ReadLeg(text)
		if ok := leg.Rest || leg.ToPlane || leg.Sail.Hold > 0 || leg.Condition.Amount > 0 || strings.HasSuffix(text, "full power"); what == "" && (!ok || !(leg.Seconds > 0 || leg.Sail.Metres > 0 || leg.ToPlane || leg.ToEnd)) {
			t.Fatalf("%q is taken as %+v", text, leg)
		}
	})
}
