package design

import (
	"math"
	"strings"
	"testing"

	"jetwright/quantity"
)

const machine = `
[duty]
thrust = "330 N"

[impeller]
diameter = "94 mm"
hub_diameter = "40 mm"

[nozzle]
diameter = "60 mm"

[motor]
speed_constant = "135 rpm/V"
winding_resistance = "9 mΩ"
resistance_temperature = "21 °C"
no_load_current = "3.1 A"
no_load_voltage = "30 V"

[battery]
series = 12
parallel = 10
cell_capacity = "4.2 Ah"
`

const typedWay = machine + `
# from the nozzle to the plate
[[coolant]]
kind    = "tap"        # a pipe against the flow
station = "nozzle inlet"

[[coolant]]
kind   = "hose"
name   = "to the plate"
length = "600 mm ± 20 mm" # as cut
bore   = "6 mm ± 0.1 mm"

[[coolant]]
kind = "plate"
depth = "4 mm"

[[coolant]]
kind = "outlet"
bore = "6 mm"
`

func read(t testing.TB, text string) *Design {
	t.Helper()
	d, faults := Read("drive.toml", []byte(text))
	if err := faults.Fatal(); err != nil {
		t.Fatal(err)
	}
	return d
}

// Every number of a part is known with its tolerance, drawn with all others, and written back with its comment kept.
func TestCoolantRoundTripExact(t *testing.T) {
	d := read(t, typedWay)
	parts := d.Nominal().Coolant
	if len(parts) != 4 || parts[1].Name != "to the plate" || parts[1].Hose.Length != 0.6 || parts[1].Hose.Bore != 0.006 || parts[2].Plate.Depth != 0.004 || parts[2].Plate.Shape != "rectangular" {
		t.Fatalf("%+v", parts)
	}
	if parts[2].Plate.Passages != 1 || parts[0].Tap.Takes != "stagnation" || parts[0].Tap.Station != "nozzle inlet" {
		t.Errorf("what was not typed is not assumed: %+v", parts)
	}
	if v, ok := d.Value("coolant[1].length"); !ok || v.Low() != 0.58 || v.High() != 0.62 {
		t.Errorf("the length is %v", v)
	}
	uncertain := map[string]int{}
	for i, in := range d.Uncertain() {
		uncertain[in.Path] = i
	}
	at, ok := uncertain["coolant[1].bore"]
	if !ok {
		t.Fatal("the bore is not drawn")
	}
	for _, path := range []string{"cooling.tap_diameter", "cooling.loss_coefficient", "cooling.plate_to_coolant", "coolant[0].pressure_per_kinetic", "coolant[2].depth"} {
		if _, ok := uncertain[path]; ok {
			t.Errorf("%s is drawn and does not enter", path)
		}
	}
	if _, ok := uncertain["cooling.jacket_to_coolant"]; !ok {
		t.Error("the jacket's resistance is not drawn, and no jacket is typed")
	}
	u := make([]float64, len(d.Uncertain()))
	for i := range u {
		u[i] = 0.5
	}
	u[at] = 1 - 1e-12
	drawn := d.Draw(u)
	if math.Abs(drawn.Coolant[1].Hose.Bore-0.0061) > 1e-9 || d.Nominal().Coolant[1].Hose.Bore != 0.006 {
		t.Errorf("drawn at its end the bore is %g, nominal %g", drawn.Coolant[1].Hose.Bore, d.Nominal().Coolant[1].Hose.Bore)
	}

	// written back, typed and untyped keys alike
	e, err := d.With("coolant[1].bore", "7 mm")
	if err != nil {
		t.Fatal(err)
	}
	if want := strings.Replace(typedWay, "6 mm ± 0.1 mm", "7 mm", 1); string(e.Document().Bytes()) != want {
		t.Errorf("written back:\n%s", e.Document().Bytes())
	}
	if e, err = d.With("coolant[2].width", "9 mm"); err != nil {
		t.Fatal(err)
	}
	if want := strings.Replace(typedWay, "depth = \"4 mm\"\n", "depth = \"4 mm\"\nwidth = \"9 mm\"\n", 1); string(e.Document().Bytes()) != want || e.Nominal().Coolant[2].Plate.Width != 0.009 {
		t.Errorf("written back:\n%s", e.Document().Bytes())
	}
	for _, path := range []string{"coolant[1].wall", "coolant[9].bore", "coolant.bore", "coolant[2].bore"} {
		if _, err := d.With(path, "7 mm"); err == nil {
			t.Errorf("%s can be set", path)
		}
	}
	if p, ok := d.TypedAt("coolant[1].bore"); !ok || p.Line != 1+strings.Count(typedWay[:strings.Index(typedWay, "bore")], "\n") {
		t.Errorf("the bore stands at %v", p)
	}
	if f, ok := d.Field("coolant[1].bore"); !ok || f.Unit.Symbol != "mm" || f.Path != "coolant[1].bore" {
		t.Errorf("%+v", f)
	}
	if _, err := d.Nominal().Resolve(); err != nil {
		t.Error(err)
	}
}

// What is wrong is said where it stands, with the part named and what would be right.
func TestCoolantBadInput(t *testing.T) {
	head := strings.Count(machine, "\n")
	for _, row := range []struct {
		name, text   string
		line, column int
		want, right  string
	}{
		{"a hose of no bore", "[[coolant]]\nkind = \"tap\"\n[[coolant]]\nkind = \"hose\"\nbore = \"0 mm\"\n[[coolant]]\nkind = \"outlet\"\n", 5, 8, "hose 1 of the coolant: bore reaches 0 mm", "0.5 mm .. 60 mm"},
		{"its name", "[[coolant]]\nkind = \"tap\"\n[[coolant]]\nkind = \"hose\"\nname = \"long one\"\nlength = \"3 kg\"\n[[coolant]]\nkind = \"outlet\"\n", 6, 11, `hose "long one" of the coolant: length`, ""},
		{"no unit", "[[coolant]]\nkind = \"tap\"\n[[coolant]]\nkind = \"hose\"\nbore = 6\n[[coolant]]\nkind = \"outlet\"\n", 5, 8, "has no unit", "6 mm"},
		{"a loop that nothing drives", "[[coolant]]\nkind = \"hose\"\n[[coolant]]\nkind = \"keel\"\n", 1, 1, "nothing drives the coolant", "a pump"},
		{"no outlet", "[[coolant]]\nkind = \"tap\"\n[[coolant]]\nkind = \"hose\"\n", 3, 1, "an outlet is missing", `kind = "outlet"`},
		{"an unknown kind", "[[coolant]]\nkind = \"hoze\"\n", 2, 8, `kind is "hoze"`, `"hose"`},
		{"no kind", "[[coolant]]\nbore = \"6 mm\"\n", 1, 1, "part 1 of the coolant: it does not say what it is", `kind = "hose"`},
		{"a key of another kind", "[[coolant]]\nkind = \"tap\"\nbore = \"6 mm\"\n[[coolant]]\nkind = \"hose\"\n[[coolant]]\nkind = \"outlet\"\n", 3, 1, "tap 1 of the coolant: unknown key bore", "the keys of a tap are"},
		{"a misspelt key", "[[coolant]]\nkind = \"tap\"\n[[coolant]]\nkind = \"hose\"\nboer = \"6 mm\"\n[[coolant]]\nkind = \"outlet\"\n", 5, 1, "unknown key boer", "did you mean bore?"},
		{"single brackets", "[coolant]\nkind = \"tap\"\n", 1, 1, "one part alone", "[[coolant]]"},
		{"a list in a line", "coolant = [{kind = \"tap\"}]\n", 0, 1, "coolant is not a list of parts", "[[coolant]]"},
		{"a place that is named once", "[[coolant]]\nkind = \"tap\"\n[[coolant]]\nkind = \"hose\"\nto = \"here\"\n[[coolant]]\nkind = \"hose\"\nfrom = \"there\"\n[[coolant]]\nkind = \"outlet\"\n", 3, 1, `to = "here" names a place that no other part names`, "junction"},
		{"twice", "[[coolant]]\nkind = \"tap\"\n[[coolant]]\nkind = \"hose\"\nname = \"a\"\n[[coolant]]\nkind = \"hose\"\nname = \"a\"\n[[coolant]]\nkind = \"outlet\"\n", 6, 1, `two parts of the coolant are called "a"`, "rename it"},
		{"a closed loop without a plate in the hull", "[[coolant]]\nkind = \"pump\"\n[[coolant]]\nkind = \"jacket\"\n", 1, 1, "nothing takes the heat out of the closed loop", `kind = "keel"`},
		{"an outlet alone", "[[coolant]]\nkind = \"outlet\"\n", 1, 1, "nothing drives", "tap"},
	} {
		text, first := machine+row.text, head
		if row.line == 0 {
			text, first = row.text+machine, 1
		}
		_, faults := Read("drive.toml", []byte(text))
		if faults.Fatal() == nil {
			t.Errorf("%s is taken", row.name)
			continue
		}
		found := false
		for _, n := range faults {
			if strings.Contains(n.What, row.want) {
				found = true
				if n.Place.Line != first+row.line || n.Place.Column != row.column {
					t.Errorf("%s: said at %v, not %d:%d", row.name, n.Place, first+row.line, row.column)
				}
				if !strings.Contains(n.Allowed+" "+n.WayOut, row.right) {
					t.Errorf("%s: what would be right is %q %q", row.name, n.Allowed, n.WayOut)
				}
			}
		}
		if !found {
			t.Errorf("%s: %v", row.name, faults)
		}
	}
	d := read(t, strings.Replace(typedWay, "[nozzle]", "[cooling]\ntap_diameter = \"6 mm\"\n\n[nozzle]", 1))
	warned := false
	for _, n := range d.Notices() {
		warned = warned || strings.Contains(n.What, "cooling.tap_diameter is not used")
	}
	if !warned {
		t.Error("a tap diameter that is not used is not said")
	}
}

// Every kind is declared with unit, range and source, and its keys do not take the names that all parts share.
func TestCoolantKeysLaw(t *testing.T) {
	for _, kind := range CoolantKinds() {
		keys := coolantKeys(kind)
		if len(keys) == 0 {
			t.Errorf("a %s has no keys", kind)
		}
		for _, key := range keys {
			f, ok := coolantField(3, kind, key)
			if !ok || f.Path != "coolant[3]."+key || f.Doc == "" {
				t.Errorf("%s of a %s: %+v", key, kind, f)
			}
			if f.AssumeText != "" && f.Source == "" || (f.Kind == quantity.KindNumber) && (f.Range == nil || f.Assume == nil) {
				t.Errorf("%s of a %s has no range, no assumption or no source", key, kind)
			}
			if common, ok := CoolantSchema().Lookup(key); ok && common.Section == "" {
				t.Errorf("%s of a %s is a key of every part", key, kind)
			}
		}
	}
}
