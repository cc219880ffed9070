package desk

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"jetwright/project"
)

func bookIn(t testing.TB) (*Book, string) {
	t.Helper()
	folder := filepath.Join(t.TempDir(), "sled")
	if err := New(folder, "rescue-sled"); err != nil {
		t.Fatal(err)
	}
	b, err := OpenBook(folder)
	if err != nil {
		t.Fatal(err)
	}
	return b, filepath.Join(folder, "drive.toml")
}

func read(t testing.TB, file string) string {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func mustEdit(t testing.TB, b *Book, path, text string) {
	t.Helper()
	if err := b.Edit(path, text); err != nil {
		t.Fatal(err)
	}
}

func textOf(t testing.TB, b *Book, path string) string {
	t.Helper()
	p, _, err := b.Project()
	if err != nil {
		t.Fatal(err)
	}
	s, _ := typedText(p.Design, path)
	return s
}

// Changes are kept beside the file until they are saved; undo and redo give back the very bytes; saving keeps
// comments, order and notation.
func TestBookEdits(t *testing.T) {
	b, file := bookIn(t)
	first := read(t, file)
	mustEdit(t, b, "nozzle.diameter", "62 mm ± 0.1 mm")
	mustEdit(t, b, "nozzle.loss", "0.03 .. 0.05") // not typed before
	mustEdit(t, b, "impeller.blades", "5")
	if read(t, file) != first {
		t.Fatal("a change was written before it was saved")
	}
	if p := b.Page(); len(p.Unsaved) != 3 || p.Undo != "impeller.blades" || p.Redo != "" {
		t.Fatalf("the page says %+v", p)
	}
	if err := b.Edit("nozzle.diameter", "wide"); err == nil || !strings.Contains(err.Error(), "wide") {
		t.Fatalf("nonsense was taken: %v", err)
	}
	for range 3 {
		if ok, err := b.Undo(); !ok || err != nil {
			t.Fatal(ok, err)
		}
	}
	if p, _, _ := b.Project(); string(p.Design.Document().Bytes()) != first {
		t.Fatal("undo does not give back the bytes")
	}
	if ok, _ := b.Undo(); ok {
		t.Fatal("there was something to undo before the first change")
	}
	for range 3 {
		if ok, err := b.Redo(); !ok || err != nil {
			t.Fatal(ok, err)
		}
	}
	if err := b.Save(); err != nil {
		t.Fatal(err)
	}
	saved := read(t, file)
	for _, want := range []string{`diameter    = "62 mm ± 0.1 mm"`, `loss = "0.03 .. 0.05"`, "blades       = 5", "# measured with a paper template", `contraction = "0.97 .. 1.00"     # 15 mm parallel land`} {
		if !strings.Contains(saved, want) {
			t.Errorf("the saved text lacks %q", want)
		}
	}
	if len(b.Page().Unsaved) != 0 {
		t.Error("something is unsaved after saving")
	}
	if ok, err := b.Undo(); !ok || err != nil {
		t.Fatal("saving ended the undoing", err)
	}
	if err := b.Clear("nozzle.loss"); err != nil {
		t.Fatal(err)
	}
	if err := b.Save(); err != nil {
		t.Fatal(err)
	}
	if s := read(t, file); strings.Contains(s, "0.03 .. 0.05") || !strings.Contains(s, "blades       = 4") {
		t.Error("a key that was taken out still stands, or undo did not")
	}
}

// A change of the file by a text editor is taken in beside the own ones; a key changed in both is asked about,
// and nothing is written before that is settled.
func TestBookMerges(t *testing.T) {
	b, file := bookIn(t)
	mustEdit(t, b, "nozzle.diameter", "62 mm")
	mustEdit(t, b, "motor.length", "130 mm")
	other := strings.Replace(read(t, file), `"98 mm"`, `"97 mm" # planed`, 1)
	other = strings.Replace(other, `length              = "128 mm"`, `length              = "129 mm"`, 1)
	if err := os.WriteFile(file, []byte(other), 0o644); err != nil {
		t.Fatal(err)
	}
	if changed, err := b.Look(); !changed || err != nil {
		t.Fatal(changed, err)
	}
	if textOf(t, b, "intake.width") != "97 mm" || textOf(t, b, "nozzle.diameter") != "62 mm" || textOf(t, b, "motor.length") != "130 mm" {
		t.Fatal("the two were not merged")
	}
	p := b.Page()
	if len(p.Conflicts) != 1 || p.Conflicts[0] != (Conflict{"motor.length", "128 mm", "129 mm", "130 mm", true}) {
		t.Fatalf("asked about: %+v", p.Conflicts)
	}
	if err := b.Save(); err == nil || !strings.Contains(err.Error(), "motor.length was changed here and in the file") {
		t.Fatalf("saved over a question: %v", err)
	}
	if read(t, file) != other {
		t.Fatal("the file was written")
	}
	if err := b.Settle("motor.length", false); err != nil {
		t.Fatal(err)
	}
	if textOf(t, b, "motor.length") != "129 mm" {
		t.Fatal("the file's text was not taken")
	}
	if err := b.Save(); err != nil {
		t.Fatal(err)
	}
	if s := read(t, file); !strings.Contains(s, `"62 mm"`) || !strings.Contains(s, `"97 mm" # planed`) || !strings.Contains(s, `"129 mm"`) {
		t.Error("saving lost something")
	}
	// undo goes back key by key where the texts no longer fit
	for range 3 {
		if _, err := b.Undo(); err != nil {
			t.Fatal(err)
		}
	}
	if textOf(t, b, "nozzle.diameter") != "60 mm ± 0.2 mm" || textOf(t, b, "intake.width") != "97 mm" {
		t.Error("undo after a merge went wrong")
	}
}

// Every number can be moved by hand: whole ones, those that may be left out, and those that were measured on the part, which go
// before what was drawn. It ends where the range of what is possible ends, tolerance and all.
func TestMovedExact(t *testing.T) {
	b, file := bookIn(t)
	if err := os.WriteFile(file, []byte(read(t, file)+"\n[built]\nnozzle.diameter = \"60.3 mm ± 0.05 mm\"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := b.Look(); err != nil {
		t.Fatal(err)
	}
	p, _, err := b.Project()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		path      string
		steps     float64
		key, text string
	}{
		{"impeller.tip_gap", 1, "impeller.tip_gap", "0.605 mm ± 0.2 mm"},
		{"impeller.blades", 1, "impeller.blades", "5"},
		{"impeller.blades", -9, "impeller.blades", "1"},
		{"battery.series", -2, "battery.series", "10"},
		{"nozzle.diameter", 1, "built.nozzle.diameter", "60.8 mm ± 0.05 mm"},
		{"nozzle.contraction", 1, "nozzle.contraction", "0.970 .. 1.000"},
		{"intake.width", 1e9, "intake.width", "2000.0 mm"},
	} {
		key, text, err := NudgedBy(p, c.path, c.steps)
		if err != nil || key != c.key || text != c.text {
			t.Errorf("%s by %g steps: %s %q %v, want %s %q", c.path, c.steps, key, text, err, c.key, c.text)
			continue
		}
		if _, err := b.Try(key, text); err != nil {
			t.Error(err)
		}
	}
	if key, text, err := MovedBy(p, "nozzle.diameter", -1); err != nil || key != "built.nozzle.diameter" || text != "5.05 mm ± 0.05 mm" {
		t.Errorf("a metre inwards: %s %q %v", key, text, err)
	}
	if _, _, err := NudgedBy(p, "motor.max_speed", 1); err == nil || !strings.Contains(err.Error(), "type its first value") {
		t.Errorf("a number that nothing stands for: %v", err)
	}
	for _, f := range Sheet(p).Fields {
		if f.Path == "impeller.tip_gap" && f.Kind != "number" {
			t.Errorf("%s is a %s", f.Path, f.Kind)
		}
	}
}

// A question stays until it is answered: a further change of the file, a reading, and the end of the program leave it.
func TestBookAsksAgain(t *testing.T) {
	b, file := bookIn(t)
	mustEdit(t, b, "motor.length", "130 mm")
	other := strings.Replace(read(t, file), `length              = "128 mm"`, `length              = "129 mm"`, 1)
	write := func(text string) {
		t.Helper()
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	look := func(b *Book, after string, want ...Conflict) {
		t.Helper()
		if _, err := b.Look(); err != nil {
			t.Fatal(err)
		}
		if got := b.Page().Conflicts; !slices.Equal(got, want) {
			t.Errorf("after %s it asks about %+v, want %+v", after, got, want)
		}
	}
	question := Conflict{"motor.length", "128 mm", "129 mm", "130 mm", true}
	write(other)
	look(b, "the file's change", question)
	write(other + "# a word\n")
	look(b, "a word elsewhere in the file", question)
	if _, err := b.Note("", []Typed{{"power", "1 kW"}, {"place", "battery"}, {"thrust", "100 N"}}); err != nil {
		t.Fatal(err)
	}
	look(b, "a reading", question)
	again, err := OpenBook(b.Folder())
	if err != nil {
		t.Fatal(err)
	}
	look(again, "the next start", question)
	if err := again.Save(); err == nil || !strings.Contains(read(t, file), `"129 mm"`) {
		t.Errorf("the file's text was written over: %v", err)
	}
	// another own text stands in the question, and one that agrees with the file ends it
	mustEdit(t, b, "motor.length", "131 mm")
	question.Own = "131 mm"
	look(b, "another own text", question)
	mustEdit(t, b, "motor.length", "129 mm")
	look(b, "the file's text typed here")
	if err := b.Save(); err != nil {
		t.Error(err)
	}
	// once answered it is not asked again
	if err := again.Settle("motor.length", true); err != nil {
		t.Fatal(err)
	}
	write(other + "# another word\n")
	look(again, "the answer")
}

// While the file cannot be read the last state that could stays, with what is wrong; own changes come back on top
// once it can.
func TestBookBroken(t *testing.T) {
	b, file := bookIn(t)
	good := read(t, file)
	mustEdit(t, b, "nozzle.diameter", "62 mm")
	if err := os.WriteFile(file, []byte(strings.Replace(good, `"4.2 Ah"`, `"4.2 kg"`, 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := b.Look(); err != nil {
		t.Fatal(err)
	}
	if p := b.Page(); !p.Open || len(p.Faults) == 0 || textOf(t, b, "nozzle.diameter") != "62 mm" {
		t.Fatalf("the last good state went: %+v", p)
	}
	if err := b.Save(); err == nil {
		t.Fatal("a file that cannot be read was written over")
	}
	if err := os.WriteFile(file, []byte(strings.Replace(good, `"4.2 Ah"`, `"4.4 Ah"`, 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := b.Look(); err != nil {
		t.Fatal(err)
	}
	if p := b.Page(); len(p.Faults) != 0 || textOf(t, b, "nozzle.diameter") != "62 mm" || textOf(t, b, "battery.cell_capacity") != "4.4 Ah" {
		t.Fatalf("it did not recover: %+v", p)
	}
	if err := os.Remove(file); err != nil {
		t.Fatal(err)
	}
	if _, err := b.Look(); err == nil || len(b.Page().Faults) == 0 {
		t.Error("a file that is gone is not told of")
	}
}

// Whatever is edited, cleared, undone and redone: undoing all gives back the bytes, and what is saved is read again.
func TestBookLaw(t *testing.T) {
	b, file := bookIn(t)
	texts := map[string][]string{
		"nozzle.diameter": {"61 mm", "60.5 mm ± 0.1 mm", "nonsense"}, "impeller.blades": {"3", "5"}, "water.kind": {"sea", "fresh"},
		"nozzle.loss": {"0.02 .. 0.05"}, "battery.charge": {"50 %"}, "craft.mass": {"40 kg"},
	}
	var paths []string
	for p := range texts {
		paths = append(paths, p)
	}
	rapid.Check(t, func(r *rapid.T) {
		first := read(t, file)
		for b.Page().Undo != "" {
			if _, err := b.Undo(); err != nil {
				r.Fatal(err)
			}
		}
		p, _, _ := b.Project()
		start := string(p.Design.Document().Bytes())
		for range rapid.IntRange(1, 12).Draw(r, "changes") {
			path := rapid.SampledFrom(paths).Draw(r, "path")
			switch rapid.IntRange(0, 4).Draw(r, "act") {
			case 0:
				_ = b.Clear(path)
			case 1:
				_, _ = b.Undo()
			case 2:
				_, _ = b.Redo()
			default:
				_ = b.Edit(path, rapid.SampledFrom(texts[path]).Draw(r, "text"))
			}
		}
		for b.Page().Undo != "" {
			if _, err := b.Undo(); err != nil {
				r.Fatal(err)
			}
		}
		p, _, _ = b.Project()
		if string(p.Design.Document().Bytes()) != start || read(t, file) != first {
			r.Fatal("undoing all does not give back the bytes")
		}
		for b.Page().Redo != "" {
			if _, err := b.Redo(); err != nil {
				r.Fatal(err)
			}
		}
	})
}

// A file that could not be read for a while is held against what it said before: what was saved already is no change of the
// page's, and a key that both changed is asked about.
func TestBookBrokenBetween(t *testing.T) {
	for _, saved := range []bool{true, false} {
		b, file := bookIn(t)
		mustEdit(t, b, "nozzle.diameter", "62 mm")
		if saved {
			if err := b.Save(); err != nil {
				t.Fatal(err)
			}
		}
		good := read(t, file)
		look := func(text string) {
			t.Helper()
			if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
			if _, err := b.Look(); err != nil {
				t.Fatal(err)
			}
		}
		look(strings.Replace(good, "[nozzle]", "[nozzle", 1))
		if n := len(b.Page().Unsaved); saved != (n == 0) {
			t.Errorf("saved %v: %d changes while it cannot be read", saved, n)
		}
		was, own := "60 mm ± 0.2 mm", "62 mm"
		if saved {
			was = own
		}
		look(strings.Replace(good, `"`+was+`"`, `"63 mm"`, 1))
		p := b.Page()
		switch {
		case saved && (len(p.Conflicts)+len(p.Unsaved) != 0 || textOf(t, b, "nozzle.diameter") != "63 mm"):
			t.Errorf("what was saved stands against the file: %+v", p)
		case !saved && (len(p.Conflicts) != 1 || p.Conflicts[0] != (Conflict{"nozzle.diameter", was, "63 mm", own, true})):
			t.Errorf("both changed it, and it asks about %+v", p.Conflicts)
		}
	}
}

// Links out of the folder are not followed, whatever they are at.
func TestBookLinks(t *testing.T) {
	b, file := bookIn(t)
	folder, away := filepath.Dir(file), t.TempDir()
	secret := filepath.Join(away, "secret.csv")
	if err := os.WriteFile(secret, []byte("time,power\n0,1\n1,2\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	link := filepath.Join(folder, "runs", "2026-05-16-logs", "more.csv")
	if err := os.Symlink(secret, link); err != nil {
		t.Skip("links cannot be made here")
	}
	if _, err := b.Look(); err != nil {
		t.Fatal(err)
	}
	p := b.Page()
	if len(p.Faults) != 1 || p.Faults[0].Place.File != "runs/2026-05-16-logs/more.csv" || !strings.Contains(p.Faults[0].What, "link out of the folder") {
		t.Fatalf("a link out of the folder is told as %v", p.Faults)
	}
	if err := os.Remove(link); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(filepath.Join(folder, "drive.toml"), link); err != nil {
		t.Fatal(err)
	}
	if _, err := b.Look(); err != nil || len(b.Page().Faults) != 0 {
		t.Fatalf("a link within the folder is refused: %v", b.Page().Faults)
	}
}

// Nothing is written through a link out of the folder, and no table is read through one.
func TestBookLinksWritten(t *testing.T) {
	b, file := bookIn(t)
	folder, away := filepath.Dir(file), t.TempDir()
	log := filepath.Join(t.TempDir(), "day.csv")
	for path, text := range map[string]string{log: "t s,power W,pull N\n0,1,2\n1,2,3\n2,3,4\n", filepath.Join(away, "kept.json"): "[]\n", filepath.Join(away, "table.csv"): "shaft power [kW];thrust [N]\n1;90\n"} {
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	before := listing(t, away)
	for _, c := range []struct{ link, to string }{{"runs/away", away}, {"revisions", away}, {project.UnsavedFile, filepath.Join(away, "kept.json")}} {
		link := filepath.Join(folder, filepath.FromSlash(c.link))
		if err := os.Symlink(c.to, link); err != nil {
			t.Skip("links cannot be made here")
		}
		_, noted := b.Note("away", []Typed{{"power", "1 kW"}, {"place", "battery"}, {"thrust", "100 N"}})
		_, frozen := b.Freeze("a word")
		_, adopted := b.Adopt("away", []string{log}, nil)
		for what, err := range map[string]error{"a reading": noted, "a revision": frozen, "a log": adopted, "a change": b.Edit("nozzle.diameter", "61 mm")} {
			if err == nil || !strings.Contains(err.Error(), "link out of the folder") {
				t.Errorf("%s with %s a link out of the folder: %v", what, c.link, err)
			}
		}
		if err := os.Remove(link); err != nil {
			t.Fatal(err)
		}
	}
	if after := listing(t, away); after != before {
		t.Errorf("beyond the folder stands\n%s\nand stood\n%s", after, before)
	}
	if err := os.Symlink(filepath.Join(away, "table.csv"), filepath.Join(folder, "table.csv")); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte(read(t, file)+"\n[[claim]]\ntable = \"table.csv\"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := b.Look(); err != nil {
		t.Fatal(err)
	}
	if p := b.Page(); len(p.Faults) != 1 || p.Faults[0].Place.File != "table.csv" {
		t.Errorf("a table out of the folder is told as %v", p.Faults)
	}
}

// listing is what stands below a folder, with the bytes.
func listing(t testing.TB, folder string) string {
	t.Helper()
	var out strings.Builder
	err := filepath.WalkDir(folder, func(path string, e os.DirEntry, err error) error {
		if err == nil && !e.IsDir() {
			out.WriteString(path + "\n" + read(t, path))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// What was typed and not saved stands again when the book is opened the next time; a key that the file changed meanwhile is asked about,
// and a record that cannot be read is put aside, never written over.
func TestBookKept(t *testing.T) {
	b, file := bookIn(t)
	folder := filepath.Dir(file)
	kept := filepath.Join(folder, project.UnsavedFile)
	there := func() bool { _, err := os.Stat(kept); return err == nil }
	first := read(t, file)
	again := func() *Book {
		t.Helper()
		b, err := OpenBook(folder)
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	if there() {
		t.Fatal("a record of nothing")
	}
	mustEdit(t, b, "nozzle.diameter", "62 mm ± 0.1 mm")
	mustEdit(t, b, "nozzle.loss", "0.03 .. 0.05")
	mustEdit(t, b, "impeller.blades", "5")
	if ok, err := b.Undo(); !ok || err != nil {
		t.Fatal(err)
	}
	b = again()
	page := b.Page()
	if len(page.Unsaved) != 2 || textOf(t, b, "nozzle.diameter") != "62 mm ± 0.1 mm" || textOf(t, b, "nozzle.loss") != "0.03 .. 0.05" || len(page.Kept) != 1 || !strings.Contains(page.Kept[0].What, "2 changes") {
		t.Fatalf("%+v", page)
	}
	if read(t, file) != first {
		t.Fatal("a change that was not saved stands in the file")
	}
	// one by one they are undone, and the record goes with the last
	for range 2 {
		if ok, err := b.Undo(); !ok || err != nil {
			t.Fatal(ok, err)
		}
	}
	if there() || len(b.Page().Unsaved) != 0 {
		t.Errorf("after undoing: %+v", b.Page())
	}
	if ok, err := b.Redo(); !ok || err != nil {
		t.Fatal(ok, err)
	}
	// the file changes while the program is away
	other := strings.Replace(first, `"60 mm ± 0.2 mm"`, `"59 mm ± 0.2 mm"`, 1)
	if err := os.WriteFile(file, []byte(other), 0o644); err != nil {
		t.Fatal(err)
	}
	b = again()
	if page = b.Page(); len(page.Conflicts) != 1 || page.Conflicts[0].File != "59 mm ± 0.2 mm" || page.Conflicts[0].Own != "62 mm ± 0.1 mm" || page.Conflicts[0].Was != "60 mm ± 0.2 mm" {
		t.Fatalf("%+v", page)
	}
	if err := b.Settle("nozzle.diameter", true); err != nil {
		t.Fatal(err)
	}
	if err := b.Save(); err != nil {
		t.Fatal(err)
	}
	if there() || !strings.Contains(read(t, file), `"62 mm ± 0.1 mm"`) || len(b.Page().Kept) != 0 {
		t.Errorf("after saving: %+v", b.Page())
	}
	// a design that cannot be read when it is opened: the record waits for it
	mustEdit(t, b, "nozzle.loss", "0.04")
	whole := read(t, file)
	if err := os.WriteFile(file, []byte("[nozzle\n"+whole), 0o644); err != nil {
		t.Fatal(err)
	}
	b = again()
	if b.Page().Open || !there() {
		t.Fatalf("%+v", b.Page())
	}
	if err := os.WriteFile(file, []byte(whole), 0o644); err != nil {
		t.Fatal(err)
	}
	if changed, err := b.Look(); !changed || err != nil || textOf(t, b, "nozzle.loss") != "0.04" || !there() {
		t.Errorf("mended: %v %v %+v", changed, err, b.Page())
	}
	// a record that cannot be read
	if err := os.WriteFile(kept, []byte("[{"), 0o644); err != nil {
		t.Fatal(err)
	}
	b = again()
	if page = b.Page(); !page.Open || len(page.Kept) != 1 || !strings.Contains(page.Kept[0].WayOut, project.UnsavedFile+".1") || read(t, kept+".1") != "[{" {
		t.Errorf("%+v", page)
	}
}

// The page writes parts into the folder and through no link out of it.
func TestBookExportsThroughNoLink(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "lake")
	if err := New(folder, "lake-sled"); err != nil {
		t.Fatal(err)
	}
	away := t.TempDir()
	if err := os.Symlink(away, filepath.Join(folder, shapesFolder)); err != nil {
		t.Skip("links cannot be made here")
	}
	b, err := OpenBook(folder)
	if err != nil {
		t.Fatal(err)
	}
	if _, err = b.Export(); err == nil || !strings.Contains(err.Error(), "link out of the folder") {
		t.Errorf("parts were written through a link: %v", err)
	}
	if files, _ := os.ReadDir(away); len(files) > 0 {
		t.Errorf("%d files lie outside", len(files))
	}
	if err = os.Remove(filepath.Join(folder, shapesFolder)); err != nil {
		t.Fatal(err)
	}
	if a, err := b.Export(); err != nil || !a.Written {
		t.Errorf("into the folder itself nothing was written: %v", err)
	}
}
