package project

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"jetwright/design"
)

// A frozen copy holds the design to the byte, line ends too; reads back with note and day; and is never written over.
func TestFreeze(t *testing.T) {
	for _, eol := range []string{"\n", "\r\n"} {
		folder := filepath.Join(t.TempDir(), "sled")
		if err := New(folder, "rescue-sled"); err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(folder, DesignFile)
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		text := strings.ReplaceAll(string(data), "\n", eol)
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		p, err := Open(folder)
		if err != nil {
			t.Fatal(err)
		}
		const note = `"sharp" edges, 0.4 mm \ thinner`
		file, err := p.Freeze(12, design.Frozen{Note: note, Date: "2026-07-01"})
		if err != nil || file != "revisions/012.toml" {
			t.Fatal(file, err)
		}
		whole, err := os.ReadFile(filepath.Join(folder, file))
		if err != nil || !strings.HasPrefix(string(whole), text) {
			t.Errorf("the copy does not begin with the design: %v", err)
		}
		if strings.Count(string(whole), "\n") != strings.Count(string(whole), eol) {
			t.Error("the copy mixes line ends")
		}
		list, said, err := p.Revisions()
		if err != nil || len(said) > 0 || len(list) != 1 || list[0].Note != note || list[0].Date != "2026-07-01" || list[0].Design == nil {
			t.Fatalf("%+v %v %v", list, said, err)
		}
		if d := p.Design.Differences(list[0].Design); len(d) > 0 {
			t.Errorf("the copy differs: %v", d)
		}
		if n := p.NextRevision(list); n != 13 {
			t.Errorf("the next number is %d", n)
		}
		if n := p.NextRevision(nil); n != 4 { // runs name 003
			t.Errorf("without copies the next number is %d", n)
		}
		if _, err := p.Freeze(12, design.Frozen{Note: "other", Date: "2026-07-02"}); err == nil {
			t.Error("a revision was written over")
		}
		if again, _ := os.ReadFile(filepath.Join(folder, file)); string(again) != string(whole) {
			t.Error("the copy has changed")
		}
		entries, _ := os.ReadDir(filepath.Join(folder, RevisionsFolder))
		if len(entries) != 1 {
			t.Errorf("something was left beside it: %v", entries)
		}
		// what another program changed meanwhile is not frozen
		if err := os.WriteFile(path, []byte(text+"# later"+eol), 0o644); err != nil {
			t.Fatal(err)
		}
		if _, err := p.Freeze(13, design.Frozen{Note: "x", Date: "2026-07-02"}); err == nil {
			t.Error("a design that is no longer on the disk was frozen")
		}
	}
}

// The same number in other words is no difference; built and drawn are told apart.
func TestDifferences(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "sled")
	if err := New(folder, "rescue-sled"); err != nil {
		t.Fatal(err)
	}
	p, err := Open(folder)
	if err != nil {
		t.Fatal(err)
	}
	was := p.Design
	is := was
	for _, kv := range [][2]string{{"nozzle.diameter", "6.00 cm ± 200 µm"}, {"nozzle.length", "81 mm"}, {"built.nozzle.diameter", "60.1 mm ± 0.02 mm"}, {"impeller.blades", "5"}} {
		if is, err = is.With(kv[0], kv[1]); err != nil {
			t.Fatal(err)
		}
	}
	got := is.Differences(was)
	if len(got) != 3 {
		t.Fatalf("%v", got)
	}
	for _, d := range got {
		if (d.Path == "nozzle.diameter") != d.Built || d.Path == "nozzle.diameter" && d.Was != "" {
			t.Errorf("%+v", d)
		}
	}
	if back := was.Differences(is); len(back) != 3 {
		t.Errorf("backwards %v", back)
	}
}
