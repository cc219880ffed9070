package design

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"
	"pgregory.net/rapid"

	"jetwright/quantity"
)

const mixed = "\ufeff# head\r\ntitle = \"a\" # first\r\n\r\n[nozzle]\r\n  diameter\t= \"64 mm ± 0.2 mm\"   # bore, wärmer\r\nloss = 0.03\r\n[built]\r\nnozzle.diameter = '63.9 mm'\r\nimpeller = { diameter = \"99 mm\", \"odd key\" = 1 }\r\n[[claim]]\r\nwhat = \"thrust\"\r\nlist = [ \"1 L/s\", # one\r\n  \"2 L/s\" ]\r\n[[claim]]\r\nwhat = \"power\"\r\ntext = \"\"\"two\r\nlines\"\"\"\r\n[water]\r\nkind = \"sea\""

func parse(t testing.TB, text string) *Document {
	t.Helper()
	d, faults := ParseDocument("drive.toml", []byte(text))
	if err := faults.Fatal(); err != nil {
		t.Fatal(err)
	}
	return d
}

func find(d *Document, path string) (Entry, bool) {
	for _, e := range d.Entries() {
		if e.Path == path && e.Kind != TableHeader {
			return e, true
		}
	}
	return Entry{}, false
}

// Every key has its path however it was written, its value, and its place in characters.
func TestEntries(t *testing.T) {
	d := parse(t, mixed)
	for _, c := range []struct {
		path, value  string
		kind         EntryKind
		line, column int
	}{
		{"title", "a", String, 2, 9},
		{"nozzle.diameter", "64 mm ± 0.2 mm", String, 5, 14},
		{"nozzle.loss", "0.03", Float, 6, 8},
		{"built.nozzle.diameter", "63.9 mm", String, 8, 19},
		{"built.impeller.diameter", "99 mm", String, 9, 25},
		{"built.impeller.odd key", "1", Integer, 9, 46},
		{"claim[0].what", "thrust", String, 11, 8},
		{"claim[1].text", "two\r\nlines", String, 16, 8},
		{"water.kind", "sea", String, 19, 8},
	} {
		e, ok := find(d, c.path)
		if !ok || e.Value != c.value || e.Kind != c.kind || e.ValuePlace.Line != c.line || e.ValuePlace.Column != c.column {
			t.Errorf("%s: %v %+v, want %+v", c.path, ok, e, c)
		}
	}
	list, _ := find(d, "claim[0].list")
	if len(list.Elements) != 2 || list.Elements[1].Value != "2 L/s" || list.Elements[1].Place.Line != 13 {
		t.Errorf("the list is %+v", list)
	}
	if d.Count("claim") != 2 || string(d.Bytes()) != mixed {
		t.Error("the text was not kept")
	}
	if p, line := d.ItemPlace("claim", 1); p.Line != 14 || line != "[[claim]]" {
		t.Errorf("the second claim is at %v: %q", p, line)
	}
}

// Setting a value changes that value's bytes and no other; setting it to what it is changes nothing.
func TestSetInPlace(t *testing.T) {
	d := parse(t, mixed)
	for _, c := range []struct{ path, value, want string }{
		{"nozzle.diameter", "62 mm", strings.Replace(mixed, "64 mm ± 0.2 mm", "62 mm", 1)},
		{"built.nozzle.diameter", "63 mm", strings.Replace(mixed, "'63.9 mm'", "\"63 mm\"", 1)},
		{"built.impeller.diameter", "98 mm", strings.Replace(mixed, "\"99 mm\"", "\"98 mm\"", 1)},
		{"claim[1].what", "thrust", strings.Replace(mixed, "\"power\"", "\"thrust\"", 1)},
		{"water.kind", "fresh \"x\"\\", strings.Replace(mixed, "\"sea\"", `"fresh \"x\"\\"`, 1)},
		{"nozzle.length", "80 mm", strings.Replace(mixed, "loss = 0.03", "loss = 0.03\r\nlength = \"80 mm\"", 1)},
		{"water.altitude", "20 m", mixed + "\r\naltitude = \"20 m\""},
		{"claim[0].sense", "about", strings.Replace(mixed, "\"2 L/s\" ]", "\"2 L/s\" ]\r\nsense = \"about\"", 1)},
		{"stand.water", "pool", mixed + "\r\n\r\n[stand]\r\nwater = \"pool\"\r\n"},
		{"built.stator.length", "9 mm", strings.Replace(mixed, "\"odd key\" = 1 }", "\"odd key\" = 1 }\r\nstator.length = \"9 mm\"", 1)},
		{"note", "x", strings.Replace(mixed, "# first", "# first\r\nnote = \"x\"", 1)},
	} {
		out, err := d.Set(c.path, c.value, String)
		if err != nil {
			t.Errorf("%s: %v", c.path, err)
			continue
		}
		if got := string(out.Bytes()); got != c.want {
			t.Errorf("%s:\n%q\nwant\n%q", c.path, got, c.want)
		}
		if e, ok := find(out, c.path); !ok || e.Value != c.value {
			t.Errorf("%s is %q afterwards", c.path, e.Value)
		}
	}
	same, err := d.Set("nozzle.diameter", "64 mm ± 0.2 mm", String)
	if err != nil || string(same.Bytes()) != mixed {
		t.Error("setting a value to what it is changed the text")
	}
	if string(d.Bytes()) != mixed {
		t.Error("the old document changed")
	}
}

func TestAppend(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"", "[[reading]]\npower = \"1 kW\"\n"},
		{"date = \"x\"", "date = \"x\"\n\n[[reading]]\npower = \"1 kW\"\n"},
		{"[[reading]]\na = 1\n", "[[reading]]\na = 1\n\n[[reading]]\npower = \"1 kW\"\n"},
		{"[[reading]]\na = 1 # one\n\n[stand]\nb = 2\n", "[[reading]]\na = 1 # one\n\n[[reading]]\npower = \"1 kW\"\n\n[stand]\nb = 2\n"},
	} {
		out, err := parse(t, c.text).Append("reading", []Pair{{Key: "power", Value: "1 kW"}})
		if err != nil || string(out.Bytes()) != c.want {
			t.Errorf("%q: %v\n%q\nwant\n%q", c.text, err, out.Bytes(), c.want)
		}
	}
}

// Every line that cannot be read is reported, with its place.
func TestFaultyLines(t *testing.T) {
	_, faults := ParseDocument("drive.toml", []byte("[duty]\nthrust = 5 N\n\n[nozzle\ndiameter = \"1 mm\"\nloss = \"x\nlength = \"2 mm\"\nlength = \"3 mm\"\n"))
	lines := map[int]bool{}
	for _, f := range faults {
		lines[f.Place.Line] = true
		if f.Excerpt == "" || f.What == "" {
			t.Errorf("a fault without words: %+v", f)
		}
	}
	for _, l := range []int{2, 4, 6, 8} {
		if !lines[l] {
			t.Errorf("line %d is not reported: %v", l, faults)
		}
	}
	if _, faults := ParseDocument("x", []byte{'a', '=', 0xff}); faults.Fatal() == nil {
		t.Error("text that is not UTF-8 was taken")
	}
	if d, faults := ParseDocument("x", nil); faults.Fatal() != nil || len(d.Entries()) != 0 {
		t.Error("an empty text is no document")
	}
}

// document makes a random valid document.
func document(t *rapid.T) string {
	var b strings.Builder
	eol := rapid.SampledFrom([]string{"\n", "\r\n"}).Draw(t, "line end")
	keys := []string{"alpha", "beta", "gamma", "delta_2", "\"odd key\"", "a.b", "c.d.e"}
	value := func() string {
		return rapid.SampledFrom([]string{
			`"64 mm ± 0.2 mm"`, `'literal \ text'`, `12`, `-0.5e3`, `true`, `["1 L/s", "2 L/s"]`, "[ 1, # one" + eol + " 2 ]",
			`{ x = 1, y = "two" }`, `"say \"so\" \\ \u00e4"`, `""`, "\"\"\"" + eol + "long" + eol + "text\"\"\"", `1979-05-27`,
		}).Draw(t, "value")
	}
	body := func() {
		for _, i := range rapid.Permutation([]int{0, 1, 2, 3, 4, 5, 6}).Draw(t, "keys")[:rapid.IntRange(0, 4).Draw(t, "n")] {
			fmt.Fprintf(&b, "%s%s%s=%s%s", rapid.SampledFrom([]string{"", "  ", "\t"}).Draw(t, "indent"), keys[i], rapid.SampledFrom([]string{"", " "}).Draw(t, "blank"), rapid.SampledFrom([]string{" ", "", "\t"}).Draw(t, "blank"), value())
			b.WriteString(rapid.SampledFrom([]string{"", " # why", "   #"}).Draw(t, "comment") + eol)
		}
	}
	body()
	for i := range rapid.IntRange(0, 4).Draw(t, "sections") {
		if rapid.Bool().Draw(t, "array") {
			b.WriteString("[[item]]" + eol)
		} else {
			fmt.Fprintf(&b, "# section%s[s%d]%s", eol, i, eol)
		}
		body()
	}
	return b.String()
}

// Entries are what the library's own decoder sees; setting any scalar keeps every other byte.
func TestDocumentLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := document(t)
		d, faults := ParseDocument("x.toml", []byte(text))
		if err := faults.Fatal(); err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		var tree map[string]any
		if err := toml.Unmarshal([]byte(text), &tree); err != nil {
			t.Fatal(err)
		}
		flat := map[string]any{}
		flatten("", tree, flat)
		n := 0
		for _, e := range d.Entries() {
			if e.Kind == TableHeader || e.Kind == InlineTable {
				continue
			}
			n++
			v, ok := flat[e.Path]
			if !ok {
				t.Fatalf("%q: %s is not in the library's tree", text, e.Path)
			}
			if e.Kind == String && v != e.Value {
				t.Fatalf("%q: %s is %q, the library says %q", text, e.Path, e.Value, v)
			}
			if e.Kind == Bool || e.Kind == Integer || e.Kind == Float || e.Kind == String {
				out, err := d.Set(e.Path, "new", String)
				if err != nil {
					t.Fatalf("%q: set %s: %v", text, e.Path, err)
				}
				got := string(out.Bytes())
				if !strings.HasPrefix(got, text[:e.start]) || !strings.HasSuffix(got, text[e.end:]) || got[e.start:len(got)-len(text)+e.end] != `"new"` {
					t.Fatalf("%q: setting %s gave %q", text, e.Path, got)
				}
			}
		}
		if n != len(flat) {
			t.Fatalf("%q: %d entries, the library sees %d: %v", text, n, len(flat), flat)
		}
	})
}

func flatten(path string, v any, out map[string]any) {
	switch x := v.(type) {
	case map[string]any:
		for k, y := range x {
			at := k
			if path != "" {
				at = path + "." + k
			}
			flatten(at, y, out)
		}
	case []any:
		tables := len(x) > 0
		for _, y := range x {
			if reflect.TypeOf(y) != reflect.TypeFor[map[string]any]() {
				tables = false
			}
		}
		if !tables {
			out[path] = v
			return
		}
		for i, y := range x {
			flatten(fmt.Sprintf("%s[%d]", path, i), y, out)
		}
	default:
		out[path] = v
	}
}

// Nothing panics, bytes are kept, and what can be set can be read again.
func FuzzDocument(f *testing.F) {
	f.Add([]byte(mixed))
	f.Add([]byte(""))
	f.Add([]byte("a=1\n[b]\nc='x'\n[[d]]\n[[d]]\ne={f=[1,2]}"))
	f.Add([]byte("a = \"\"\"x\"\"\"\"\"\nb='''y'''"))
	f.Add([]byte("[a]\n[a.b]\n[[a.c]]\nd.e=1 # x"))
	f.Fuzz(func(t *testing.T, data []byte) {
		d, faults := ParseDocument("x", data)
		if faults.Fatal() != nil {
			return
		}
		if string(d.Bytes()) != string(data) {
			t.Fatal("bytes were not kept")
		}
		for _, e := range d.Entries() {
			if e.Kind != String && e.Kind != Integer {
				continue
			}
			out, err := d.Set(e.Path, "new", String)
			if err != nil {
				t.Fatalf("set %q: %v", e.Path, err)
			}
			if x, ok := find(out, e.Path); !ok || x.Value != "new" {
				t.Fatalf("%q is %q", e.Path, x.Value)
			}
		}
	})
}

// Nothing that can be typed makes the reader of designs panic, and every error has words.
func FuzzDesign(f *testing.F) {
	f.Add([]byte(small))
	f.Add([]byte(strings.Replace(small, "52 mm", "64 mm ± 0.2 mm", 1)))
	f.Add([]byte("[duty]\nthrust = 5\n"))
	f.Add([]byte("[[claim]]\nwhat = \"thrust\"\nvalue = \"1 kW\"\n"))
	f.Add([]byte(typedWay))
	f.Add([]byte(small + "\n[[coolant]]\nkind = \"pump\"\n[[coolant]]\nkind = \"jacket\"\nopen = 0.3\n[[coolant]]\nkind = \"keel\"\nplate.length = \"300 mm\"\n"))
	f.Add([]byte(small + "\n[[coolant]]\nkind = \"tap\"\n[[coolant]]\nkind = \"hose\"\nto = \"a\"\n[[coolant]]\nkind = \"plate\"\nfrom = \"a\"\nto = \"b\"\n[[coolant]]\nkind = \"fitting\"\nfrom = \"a\"\nto = \"b\"\n[[coolant]]\nkind = \"outlet\"\nfrom = \"b\"\n"))
	f.Add([]byte("[coolant]\nkind = \"hose\"\n[[coolant]]\nkind = \"\"\n"))
	f.Add([]byte("[built]\nnozzle.diameter = \"1 mm\""))
	f.Fuzz(func(t *testing.T, data []byte) {
		d, faults := Read("drive.toml", data)
		if d == nil && faults.Fatal() == nil {
			t.Fatal("no design and no reason")
		}
		for _, n := range faults {
			if n.What == "" {
				t.Fatalf("a notice without words: %+v", n)
			}
		}
		if d == nil {
			return
		}
		u := make([]float64, len(d.Uncertain()))
		for i := range u {
			u[i] = 0.3
		}
		if m, err := d.Draw(u).Resolve(); err == nil {
			_, _ = m.Solve(m.Drive.DutyCondition())
		}
	})
}

const small = `
[duty]
thrust = "180 N"
[impeller]
diameter = "81 mm"
hub_diameter = "34 mm"
[nozzle]
diameter = "52 mm"
[motor]
speed_constant = "130 rpm/V"
winding_resistance = "22 mΩ"
[battery]
series = 10
parallel = 6
cell_capacity = "4 Ah"
`

// What was measured on the finished part overlays what was drawn, and both stay known.
func TestBuilt(t *testing.T) {
	d, faults := Read("drive.toml", []byte(small+"[built]\nnozzle.diameter = \"51.6 mm ± 0.05 mm\"\n"))
	if err := faults.Fatal(); err != nil {
		t.Fatal(err)
	}
	v, _ := d.Value("nozzle.diameter")
	if d.Nominal().Nozzle.Diameter != 0.0516 || v.Origin().Kind != quantity.Built {
		t.Errorf("the built bore is %v, %v", d.Nominal().Nozzle.Diameter, v.Origin())
	}
	if drawn, ok := d.Drawn("nozzle.diameter"); !ok || drawn.Nominal() != 0.052 {
		t.Errorf("the drawn bore is %v", drawn)
	}
	found := false
	for _, in := range d.Uncertain() {
		found = found || in.Path == "nozzle.diameter"
	}
	if !found {
		t.Error("the gauge's uncertainty is not drawn from")
	}
}

// What does not enter is not drawn from: the estimated pump's numbers beside a table, the
// reduction's efficiency without one, lengths that only a drawing needs.
func TestIdleNumbers(t *testing.T) {
	has := func(list []Input, path string) bool {
		for _, in := range list {
			if in.Path == path {
				return true
			}
		}
		return false
	}
	d, _ := Read("drive.toml", []byte(small))
	if has(d.Uncertain(), "shaft.reduction_efficiency") || has(d.Uncertain(), "nozzle.length") || !has(d.Assumptions(), "nozzle.length") || !has(d.Uncertain(), "impeller.efficiency") {
		t.Error("the lists of a direct drive with an estimated pump are wrong")
	}
	e, err := d.With("shaft.reduction", "1.5")
	if err != nil || !has(e.Uncertain(), "shaft.reduction_efficiency") {
		t.Errorf("a reduction without its efficiency: %v", err)
	}
	if e, err = d.With("duty.rotor_speed", "3000 rpm"); err != nil || has(e.Uncertain(), "impeller.head_coefficient") {
		t.Errorf("a typed rotor speed beside a head coefficient: %v", err)
	}
}

// A design set by path reads as if it had been typed so, and a fault leaves the old one alone.
func TestWith(t *testing.T) {
	d, _ := Read("drive.toml", []byte(small))
	e, err := d.With("nozzle.diameter", "50 mm ± 0.1 mm")
	if err != nil {
		t.Fatal(err)
	}
	if e.Nominal().Nozzle.Diameter != 0.05 || d.Nominal().Nozzle.Diameter != 0.052 {
		t.Error("With changed the wrong design")
	}
	if _, err := d.With("nozzle.diameter", "50 kg"); err == nil {
		t.Error("a bore in kg was taken")
	}
	if _, err := d.With("nozle.diameter", "50 mm"); err == nil || !strings.Contains(err.Error(), "nozzle.diameter") {
		t.Errorf("an unknown path: %v", err)
	}
	if e, err = d.With("battery.series", "11"); err != nil || e.Nominal().Battery.Series != 11 {
		t.Errorf("a count: %v", err)
	}
}

func BenchmarkRead(b *testing.B) {
	text := []byte(small)
	for b.Loop() {
		if d, _ := Read("drive.toml", text); d == nil {
			b.Fatal("no design")
		}
	}
}
