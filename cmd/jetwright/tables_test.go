package main

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"jetwright/bench"
	"jetwright/desk"
)

// The tables that reduce writes are logs that run add reads: the plateaus are found again, with
// the place of the power, the convention of the current, and no tare left in the pull.
func TestTablesAreReadBack(t *testing.T) {
	sled, tables := filepath.Join(t.TempDir(), "sled"), filepath.Join(t.TempDir(), "a", "tables")
	must := func(args ...string) string {
		t.Helper()
		var out, errs bytes.Buffer
		if code := run(args, &out, &errs); code != exitAnswered {
			t.Fatalf("%v: exit %d: %s", args, code, errs.String())
		}
		return out.String()
	}
	must("new", sled)
	if out := must("reduce", sled, "--csv", tables); !strings.Contains(out, "2026-05-16-logs-channels.csv holds 8 channels") || !strings.Contains(out, "holds 8 plateaus") {
		t.Error(out)
	}
	channels, plateaus := filepath.Join(tables, "2026-05-16-logs-channels.csv"), filepath.Join(tables, "2026-05-16-logs-plateaus.csv")
	for _, f := range []string{channels, plateaus} {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		if bytes.Contains(b, []byte("NaN")) || bytes.Contains(b, []byte("Inf")) {
			t.Errorf("%s holds what is no number", f)
		}
	}
	must("run", "add", channels, "--run", "back", "--in", sled)
	added := must("run", "add", plateaus, "--run", "steps", "--in", sled)
	for _, want := range []string{"time, elapsed", "winding temperature, 5 missing"} {
		if !strings.Contains(added, want) {
			t.Errorf("the plateaus read back do not say %q:\n%s", want, added)
		}
	}
	was, err := desk.ReduceIn(sled, "2026-05-16-logs")
	if err != nil {
		t.Fatal(err)
	}
	is, err := desk.ReduceIn(sled, "back")
	if err != nil {
		t.Fatal(err)
	}
	a, b := was.Days[0].Plateaus, is.Days[0].Plateaus
	if len(a) != len(b) {
		t.Fatalf("%d plateaus were read back as %d", len(a), len(b))
	}
	for i := range a {
		if a[i].PowerPlace != b[i].PowerPlace || a[i].Convention != b[i].Convention || a[i].Direction != b[i].Direction {
			t.Errorf("%s is at %q, %q, %q, read back %q, %q, %q", a[i].Name, a[i].PowerPlace, a[i].Convention, a[i].Direction, b[i].PowerPlace, b[i].Convention, b[i].Direction)
		}
		for _, f := range a[i].Figures {
			g, ok := b[i].Figure(f.Channel)
			if !ok || math.Abs(g.Value-f.Value) > 0.2*desk.Half(f) {
				t.Errorf("%s: %s %g ± %g was read back as %g", a[i].Name, f.Channel, f.Value, desk.Half(f), g.Value)
			}
		}
	}
	if is.Days[0].Tare.Start > 0.1 {
		t.Errorf("a tare of %g N is left", is.Days[0].Tare.Start)
	}
	frozen := false
	for _, d := range is.Days[0].Doubts {
		frozen = frozen || d.Channel == bench.WindingTemperature && d.Kind == bench.Frozen
	}
	if !frozen {
		t.Error("the frozen winding is not seen again")
	}

	// what cannot be written is named
	block := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(block, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{"--csv", block}, {"--csv", filepath.Join(block, "below")}, {"--csv", tables, "--json"}, {"--csv", tables, "--plateau", "2"}, {"--csv", ""}} {
		var out, errs bytes.Buffer
		if code := run(append([]string{"reduce", sled, "--run", "back"}, args...), &out, &errs); code != exitUnusable || errs.Len() == 0 || out.Len() > 0 {
			t.Errorf("%v: exit %d, %q", args, code, errs.String())
		} else if args[1] == block && !strings.Contains(errs.String(), block) {
			t.Errorf("%v does not name it: %s", args, errs.String())
		}
	}
}
