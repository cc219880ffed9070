package quantity

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestSnakeCaseExact(t *testing.T) {
	for name, want := range map[string]string{
		"Diameter": "diameter", "TipGap": "tip_gap", "SuctionSpecificSpeed3": "suction_specific_speed_3",
		"NPSHAvailable": "npsh_available", "KV": "kv", "KVHigh": "kv_high", "RotorSpeedRPM": "rotor_speed_rpm",
		"A6": "a_6", "Area6Outlet": "area_6_outlet", "X": "x", "already_snake": "already_snake", "": "",
		"NodeTemperature12": "node_temperature_12", "Höhe": "höhe",
	} {
		if got := SnakeCase(name); got != want {
			t.Errorf("%s: %s, want %s", name, got, want)
		}
	}
}

// nozzle and pump are parts as the program has them.
type nozzle struct {
	Diameter float64  `unit:"mm" doc:"bore at the outlet" range:"5 .. 500" usual:"20 .. 200"`
	Loss     float64  `unit:"1" doc:"head lost per outlet velocity head" range:"0 .. 1" assume:"0.02 .. 0.06" source:"own" was:"loss_factor, pump.nozzle_loss"`
	TipGap   Optional `unit:"mm" doc:"gap at the tip"`
}

type pump struct {
	Blades      int       `doc:"number of blades" range:"1 .. 24" assume:"4" source:"own"`
	Kind        string    `doc:"kind of pump" choices:"axial|mixed" assume:"axial"`
	Note        string    `doc:"free text"`
	Reversed    bool      `doc:"turns left" assume:"false"`
	Flow        []float64 `unit:"L/s" doc:"flow of the table" range:"0 .. 10000"`
	Temperature float64   `unit:"°C" doc:"water temperature" range:"-2 .. 40" assume:"5 .. 25" source:"own"`
	Rise        float64   `unit:"K" doc:"temperature rise" range:"0 .. 40" assume:"5" source:"own"`
	Bore        float64   `unit:"mm" doc:"bore" key:"inner_diameter"`
	Efficiency  float64   `unit:"1" doc:"efficiency" assume:"0.70(2)" source:"own"`
	Secret      float64   `key:"-"`
	//lint:ignore U1000 it is there to be left out
	hidden   float64
	Function func()
}

type machine struct {
	Nozzle nozzle
	Pump   pump    `section:"impeller"`
	Speed  float64 `unit:"m/s" doc:"speed"`
}

func schemaOf(t testing.TB, model any) *Schema {
	t.Helper()
	s, err := SchemaOf(model)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func field(t testing.TB, s *Schema, path string) Field {
	t.Helper()
	f, ok := s.Lookup(path)
	if !ok {
		t.Fatalf("no field %s", path)
	}
	return f
}

func TestSchemaExact(t *testing.T) {
	s := schemaOf(t, machine{})
	var paths []string
	for _, f := range s.Fields() {
		paths = append(paths, f.Path)
	}
	want := []string{
		"nozzle.diameter", "nozzle.loss", "nozzle.tip_gap", "impeller.blades", "impeller.kind", "impeller.note", "impeller.reversed",
		"impeller.flow", "impeller.temperature", "impeller.rise", "impeller.inner_diameter", "impeller.efficiency", "speed",
	}
	if !slices.Equal(paths, want) {
		t.Errorf("paths %v", paths)
	}
	if got := s.Sections(); !slices.Equal(got, []string{"nozzle", "impeller", ""}) {
		t.Errorf("sections %q", got)
	}
	if got := s.Section("nozzle"); len(got) != 3 {
		t.Errorf("section nozzle %v", got)
	}

	d := field(t, s, "nozzle.diameter")
	if d.Kind != KindNumber || d.Section != "nozzle" || d.Key != "diameter" || d.Unit.Symbol != "mm" || *d.Range != (Bounds{0.005, 0.5}) ||
		*d.Usual != (Bounds{0.02, 0.2}) || d.Assume != nil || !d.Required() || d.JSONKey() != "diameter_mm" || d.Range.Text(d.Unit) != "5 .. 500 mm" {
		t.Errorf("%+v", d)
	}
	if !d.Range.Contains(0.5) || d.Range.Contains(0.50001) {
		t.Error("bounds")
	}
	l := field(t, s, "nozzle.loss")
	assumed, ok := l.Assumed()
	if !ok || assumed.String() != "0.02 .. 0.06" || assumed.Origin() != (Origin{Kind: Assumed, Source: "own"}) || l.AssumeText != "0.02 .. 0.06" ||
		l.Required() || *l.Assume != (Bounds{0.02, 0.06}) || l.JSONKey() != "loss" {
		t.Errorf("%+v", l)
	}
	if f := field(t, s, "nozzle.tip_gap"); f.Kind != KindOptional || f.Required() {
		t.Errorf("%+v", f)
	}
	if f := field(t, s, "impeller.blades"); f.Kind != KindWhole || *f.Assume != (Bounds{4, 4}) || !f.Unit.IsOne() {
		t.Errorf("%+v", f)
	}
	if f := field(t, s, "impeller.kind"); f.Kind != KindText || !slices.Equal(f.Choices, []string{"axial", "mixed"}) || f.AssumeText != "axial" || f.Assume != nil {
		t.Errorf("%+v", f)
	}
	if f := field(t, s, "impeller.reversed"); f.Kind != KindFlag || f.AssumeText != "false" {
		t.Errorf("%+v", f)
	}
	if f := field(t, s, "impeller.temperature"); *f.Assume != (Bounds{278.15, 298.15}) || !f.assumedText("5 .. 25 °C") {
		t.Errorf("%+v", f)
	}
	if f := field(t, s, "impeller.rise"); *f.Assume != (Bounds{5, 5}) || !f.assumedText("5 K") {
		t.Errorf("%+v", f)
	}
	if f := field(t, s, "impeller.efficiency"); !f.assumedText("0.70(2)") || f.assumed.Spread() != SpreadStandard {
		t.Errorf("%+v", f)
	}
}

func (f Field) assumedText(want string) bool {
	v, ok := f.Assumed()
	return ok && v.String() == want
}

func TestSchemaFormerNamesExact(t *testing.T) {
	s := schemaOf(t, &machine{})
	for old, now := range map[string]string{"nozzle.loss_factor": "nozzle.loss", "pump.nozzle_loss": "nozzle.loss"} {
		f, ok := s.Lookup(old)
		renamed, is := s.Renamed(old)
		if !ok || f.Path != now || !is || renamed != now {
			t.Errorf("%s is now %s, %v", old, f.Path, ok)
		}
	}
	if _, is := s.Renamed("nozzle.loss"); is {
		t.Error("a present name is no former one")
	}
	if _, ok := s.Lookup("nozzle.bore"); ok {
		t.Error("nozzle.bore is found")
	}
}

func TestNearestExact(t *testing.T) {
	s := schemaOf(t, machine{})
	for path, want := range map[string]string{
		"nozzle.diamter":      "nozzle.diameter",
		"nozzle.daimeter":     "nozzle.diameter",
		"nozle.diameter":      "nozzle.diameter",
		"nozzle.Diameter":     "nozzle.diameter",
		"nozzle.TipGap":       "nozzle.tip_gap",
		"nozzle.tip-gap":      "nozzle.tip_gap",
		"nozzle.blades":       "impeller.blades",
		"impeller.loss":       "nozzle.loss",
		"nozzle.los_factor":   "nozzle.loss",
		"spede":               "speed",
		"nozzle.purple_thing": "",
	} {
		got := ""
		if near := s.Nearest(path); len(near) > 0 {
			got = near[0]
		}
		if got != want {
			t.Errorf("%s: %q, want %q (%v)", path, got, want, s.Nearest(path))
		}
	}
	if got := s.NearestSection("impeler"); len(got) != 1 || got[0] != "impeller" {
		t.Errorf("%v", got)
	}
}

// One letter inserted, left out, changed or swapped with its neighbour always finds the
// path back.
func TestNearestLaw(t *testing.T) {
	s := schemaOf(t, machine{})
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.SampledFrom(s.Fields()).Draw(t, "field")
		key := []byte(f.Key)
		i := rapid.IntRange(0, len(key)-2).Draw(t, "at")
		switch rapid.IntRange(0, 3).Draw(t, "slip") {
		case 0:
			key = slices.Insert(key, i, 'x')
		case 1:
			key = slices.Delete(key, i, i+1)
		case 2:
			key[i] = 'x'
		case 3:
			key[i], key[i+1] = key[i+1], key[i]
		}
		if near := s.Nearest(joinPath(f.Section, string(key))); !slices.Contains(near, f.Path) {
			t.Fatalf("%s.%s does not lead to %s: %v", f.Section, key, f.Path, near)
		}
	})
}

func TestEditDistanceExact(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"", "", 0}, {"", "abc", 3}, {"abc", "", 3}, {"abc", "abc", 0}, {"abc", "acb", 1}, {"kitten", "sitting", 3}, {"µm", "um", 1}, {"ca", "abc", 3}} {
		if got := editDistance(c.a, c.b); got != c.want {
			t.Errorf("%s to %s: %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

func TestSchemaAccessExact(t *testing.T) {
	s := schemaOf(t, machine{})
	m := machine{}
	f := field(t, s, "nozzle.diameter")
	s.Set(&m, f, 0.064)
	if x, ok := s.Get(m, f); m.Nozzle.Diameter != 0.064 || x != 0.064 || !ok {
		t.Error("number")
	}
	f = field(t, s, "nozzle.tip_gap")
	if _, ok := s.Get(&m, f); ok {
		t.Error("an optional number is known before it is set")
	}
	s.Set(&m, f, 0.001)
	if x, ok := s.Get(&m, f); m.Nozzle.TipGap != Some(0.001) || x != 0.001 || !ok {
		t.Error("optional number")
	}
	s.Unset(&m, f)
	if m.Nozzle.TipGap != (Optional{}) {
		t.Error("unset")
	}
	f = field(t, s, "impeller.blades")
	s.Set(&m, f, 4.6)
	if x, ok := s.Get(&m, f); m.Pump.Blades != 5 || x != 5 || !ok {
		t.Error("whole number")
	}
	f = field(t, s, "impeller.kind")
	s.SetText(&m, f, "mixed")
	if text, ok := s.Text(&m, f); m.Pump.Kind != "mixed" || text != "mixed" || !ok {
		t.Error("text")
	}
	if _, ok := s.Get(&m, f); ok {
		t.Error("a text is no number")
	}
	f = field(t, s, "impeller.reversed")
	s.SetFlag(&m, f, true)
	if flag, ok := s.Flag(&m, f); !m.Pump.Reversed || !flag || !ok {
		t.Error("flag")
	}
	f = field(t, s, "impeller.flow")
	given := []float64{1, 2}
	s.SetList(&m, f, given)
	given[0] = 9
	list, ok := s.List(&m, f)
	if !ok || !slices.Equal(list, []float64{1, 2}) || !slices.Equal(m.Pump.Flow, list) {
		t.Error("list")
	}
	list[0] = 9
	if m.Pump.Flow[0] != 1 {
		t.Error("a list is shared")
	}
	read := s.Reader(field(t, s, "nozzle.diameter"))
	if read(&m) != 0.064 || read(m) != 0.064 {
		t.Error("reader")
	}
	for name, mistake := range map[string]func(){
		"other model":   func() { s.List(nozzle{}, f) },
		"no pointer":    func() { s.Set(m, field(t, s, "speed"), 1) },
		"other kind":    func() { s.Set(&m, f, 1) },
		"text reader":   func() { s.Reader(f) },
		"nothing":       func() { s.List(nil, f) },
		"nil pointer":   func() { s.List((*machine)(nil), f) },
		"text for bool": func() { s.SetText(&m, field(t, s, "impeller.reversed"), "x") },
	} {
		func() {
			defer func() {
				if r, ok := recover().(string); !ok || !strings.HasPrefix(r, "quantity: ") {
					t.Errorf("%s: %v", name, r)
				}
			}()
			mistake()
		}()
	}
}

// What is set is read back, whatever the field, and nothing else moves.
func TestSchemaAccessLaw(t *testing.T) {
	s := schemaOf(t, machine{})
	rapid.Check(t, func(t *rapid.T) {
		var m machine
		f := rapid.SampledFrom(s.Fields()).Draw(t, "field")
		if f.Kind != KindNumber && f.Kind != KindOptional {
			return
		}
		x := rapid.Float64Range(-1e9, 1e9).Draw(t, "x")
		s.Set(&m, f, x)
		for _, g := range s.Fields() {
			y, known := s.Get(&m, g)
			if g.Path == f.Path && (y != x || !known) || g.Path != f.Path && y != 0 {
				t.Fatalf("set %s to %v, %s is %v", f.Path, x, g.Path, y)
			}
		}
	})
}

func TestSchemaAccessAllocatesNothingLaw(t *testing.T) {
	s := schemaOf(t, machine{})
	m := &machine{}
	f, gap := field(t, s, "nozzle.diameter"), field(t, s, "nozzle.tip_gap")
	read := s.Reader(f)
	if n := testing.AllocsPerRun(100, func() {
		s.Set(m, f, 1)
		s.Set(m, gap, 1)
		s.Get(m, gap)
		read(m)
	}); n > 0 {
		t.Errorf("%v allocations", n)
	}
}

type inner struct {
	Winding float64 `unit:"°C" doc:"winding"`
}

type Common struct {
	Speed float64 `unit:"m/s" doc:"speed"`
}

func TestResultSchemaExact(t *testing.T) {
	type outcome struct {
		Common
		Thrust float64 `unit:"N" doc:"thrust"`
		Heat   struct {
			Motor   inner
			Ambient float64 `unit:"°C" doc:"air"`
		}
		Reason  int8
		Notes   []string
		Place   Place `key:"-"`
		Speeds  map[string]float64
		private inner
	}
	s := schemaOf(t, &outcome{})
	var keys []string
	for _, f := range s.Fields() {
		keys = append(keys, f.Section+"|"+f.JSONKey())
	}
	if want := []string{"|speed_m_s", "|thrust_N", "heat.motor|winding_degC", "heat|ambient_degC"}; !slices.Equal(keys, want) {
		t.Errorf("%q", keys)
	}
	o := outcome{}
	o.private.Winding = 1
	o.Heat.Motor.Winding = 350
	o.Speed = 7
	if got := s.Reader(field(t, s, "heat.motor.winding"))(&o); got != 350 {
		t.Error(got)
	}
	if got := s.Reader(field(t, s, "speed"))(&o); got != 7 {
		t.Error(got)
	}
}

// A mistake in a tag is found when the schema is made, and the field is named.
func TestSchemaErrorsExact(t *testing.T) {
	for _, c := range []struct {
		model any
		says  string
	}{
		{3, "from a struct"},
		{nil, "from a struct"},
		{struct {
			Gap float64 `unit:"mm"`
		}{}, "no tag doc"},
		{struct {
			Gap float64 `doc:"gap"`
		}{}, "no tag unit"},
		{struct {
			Gap float64 `doc:"gap." unit:"mm"`
		}{}, "full stop"},
		{struct {
			Gap float64 `doc:"gap" unit:"mn"`
		}{}, "did you mean"},
		{struct {
			Gap float64 `doc:"gap" unit:"mm" range:"5 to 6"`
		}{}, "range"},
		{struct {
			Gap float64 `doc:"gap" unit:"mm" range:"5"`
		}{}, "5 .. 500"},
		{struct {
			Gap float64 `doc:"gap" unit:"mm" range:"6 .. 5"`
		}{}, "runs down"},
		{struct {
			Gap float64 `doc:"gap" unit:"mm" range:"5 .. 6 N"`
		}{}, "force"},
		{struct {
			Gap float64 `doc:"gap" unit:"mm" range:"5 .. 6" assume:"4 .. 5"`
		}{}, "reaches outside"},
		{struct {
			Gap float64 `doc:"gap" unit:"mm" range:"5 .. 6" usual:"5 .. 7"`
		}{}, "reaches outside"},
		{struct {
			Gap Optional `doc:"gap" unit:"mm" assume:"4 .. 5"`
		}{}, "assumes nothing"},
		{struct {
			Gap int `doc:"gap" assume:"4.5"`
		}{}, "whole"},
		{struct {
			Gap int `doc:"gap" unit:"mm"`
		}{}, "unit 1"},
		{struct {
			Gap string `doc:"gap" choices:"a|b" assume:"c"`
		}{}, "not among"},
		{struct {
			Gap string `doc:"gap" choices:"a||b"`
		}{}, "empty"},
		{struct {
			Gap string `doc:"gap" unit:"mm"`
		}{}, "has no unit"},
		{struct {
			Gap bool `doc:"gap" assume:"yes"`
		}{}, "neither"},
		{struct {
			Gap float64 `doc:"gap" unit:"mm" choices:"a|b"`
		}{}, "choices are for text"},
		{struct {
			Gap float64 `doc:"gap" unit:"mm" was:"a,,b"`
		}{}, "empty name"},
		{struct {
			Gap map[string]int `doc:"gap"`
		}{}, "cannot be declared"},
		{struct {
			Gap  float64 `doc:"gap" unit:"mm"`
			Gap2 float64 `doc:"gap" unit:"mm" key:"gap"`
		}{}, "two fields"},
		{struct {
			Gap  float64 `doc:"gap" unit:"mm"`
			Gap2 float64 `doc:"gap" unit:"mm" was:"gap"`
		}{}, "but that is a field"},
		{struct {
			A float64 `doc:"a" unit:"mm" was:"old"`
			B float64 `doc:"b" unit:"mm" was:"old"`
		}{}, "were called"},
	} {
		_, err := SchemaOf(c.model)
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%v: %v, want a word of %q", reflect.TypeOf(c.model), err, c.says)
			continue
		}
		if typ := reflect.TypeOf(c.model); typ != nil && typ.Kind() == reflect.Struct && !strings.Contains(err.Error(), SnakeCase(typ.Field(0).Name)) {
			t.Errorf("the field is not named: %v", err)
		}
	}
}

func BenchmarkSchemaSet(b *testing.B) {
	s := schemaOf(b, machine{})
	f := field(b, s, "nozzle.diameter")
	m := &machine{}
	b.ReportAllocs()
	for b.Loop() {
		s.Set(m, f, 0.064)
	}
}

func BenchmarkSchemaReader(b *testing.B) {
	s := schemaOf(b, machine{})
	read := s.Reader(field(b, s, "nozzle.diameter"))
	m := &machine{}
	b.ReportAllocs()
	for b.Loop() {
		read(m)
	}
}
