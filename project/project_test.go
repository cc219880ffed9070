package project

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"jetwright/notice"
	"jetwright/quantity"
)

func scene(t *testing.T) (*Project, string) {
	t.Helper()
	folder := filepath.Join(t.TempDir(), "sled")
	if err := New(folder, "rescue-sled"); err != nil {
		t.Fatal(err)
	}
	p, err := Open(folder)
	if err != nil {
		t.Fatal(err)
	}
	return p, folder
}

// snapshot is every file of a folder with its bytes.
func snapshot(t *testing.T, folder string) string {
	t.Helper()
	var b strings.Builder
	err := filepath.WalkDir(folder, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, _ := filepath.Rel(folder, path)
		fmt.Fprintf(&b, "%s\n", rel)
		if !d.IsDir() {
			raw, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			b.Write(raw)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestSchemas(t *testing.T) {
	RunSchema()
	if len(ReadingSchema().Fields()) < 15 {
		t.Error("a reading has lost its keys")
	}
}

// The scene opens without a fault, and its readings are there.
func TestScene(t *testing.T) {
	p, _ := scene(t)
	if len(p.Runs) != 2 || len(p.Runs[0].Plateaus) < 4 || len(p.Runs[1].Logs) != 2 || len(p.Design.Claims()) != 1 {
		t.Errorf("the scene has %d runs", len(p.Runs))
	}
	for _, n := range p.Notices {
		t.Errorf("the scene is doubtful: %v", n)
	}
	if p.Runs[0].Setup.Empty() {
		t.Error("the run's own water was lost")
	}
}

// A reading is added behind the others, everything that stood there is kept, and it is read
// back as it will be used.
func TestNote(t *testing.T) {
	p, folder := scene(t)
	path := filepath.Join(folder, RunsFolder, "2026-05-03-ladder", RunFile)
	before, _ := os.ReadFile(path)
	n := len(p.Runs[0].Plateaus)
	plateau, _, err := p.Note("2026-05-03-ladder", []Pair{{"power", "4 kW"}, {"place", "battery"}, {"thrust", "35 kgf"}})
	if err != nil {
		t.Fatal(err)
	}
	after, _ := os.ReadFile(path)
	if !bytes.HasPrefix(after, bytes.TrimRight(before, "\n")) {
		t.Error("what stood in the run's file was not kept")
	}
	if w, _ := plateau.Figure("power"); w.Value != 4000 {
		t.Errorf("the reading came back as %+v", plateau)
	}
	again, err := Open(folder)
	if err != nil || len(again.Runs[0].Plateaus) != n+1 {
		t.Errorf("%v, %d readings after %d", err, len(again.Runs[0].Plateaus), n)
	}
}

// Whatever goes wrong, the folder is as it was and the sentence is plain.
func TestNothingChangesOnFailure(t *testing.T) {
	p, folder := scene(t)
	want := snapshot(t, folder)
	for _, c := range []struct {
		run   string
		pairs []Pair
	}{
		{"new-run", []Pair{{"power", "4 kN"}, {"place", "battery"}}},
		{"new-run", []Pair{{"thrust", "20 kgf"}}},
		{"new-run", []Pair{{"power", "1 kW"}, {"place", "engine"}}},
		{"2026-05-03-ladder", []Pair{{"powr", "1 kW"}}},
		{"../elsewhere", []Pair{{"power", "1 kW"}}},
	} {
		if _, _, err := p.Note(c.run, c.pairs); err == nil {
			t.Errorf("%+v was taken", c)
		}
	}
	if err := p.Set("nozzle.diameter", "1 kg"); err == nil {
		t.Error("a bore of a kilogram was taken")
	}
	if got := snapshot(t, folder); got != want {
		t.Error("a refused input changed the folder")
	}
}

// roomless names the folder that a child of TestDiskFull works in.
const roomless = "JETWRIGHT_TEST_ROOMLESS"

// A disk without room: the write fails, the old file stands, nothing else is left behind.
func TestDiskFull(t *testing.T) {
	if folder := os.Getenv(roomless); folder != "" {
		writeWithoutRoom(folder)
		return
	}
	_, folder := scene(t)
	put(t, filepath.Join(filepath.Dir(folder), "more.csv"), "time [s],power [W]\n0,1\n1,2\n2,3\n")
	put(t, filepath.Join(folder, "report.html"), "the old report")
	want := snapshot(t, folder)
	child := exec.Command(os.Args[0], "-test.run=^TestDiskFull$")
	child.Env = append(os.Environ(), roomless+"="+folder)
	out, err := child.CombinedOutput()
	if err != nil {
		t.Errorf("%v: %s", err, out)
	}
	if got := snapshot(t, folder); got != want {
		t.Error("a failed write changed the folder")
	}
}

// writeWithoutRoom tries every kind of write under a limit of 64 bytes a file, which is the
// system's own way of saying that there is no room, and leaves the process.
func writeWithoutRoom(folder string) {
	signal.Ignore(syscall.SIGXFSZ)
	fail := func(what ...any) {
		fmt.Println(what...)
		os.Exit(1)
	}
	p, err := Open(folder)
	if err != nil {
		fail(err)
	}
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: 64, Max: 64}); err != nil {
		fail(err)
	}
	_, _, noteErr := p.Note("2026-05-03-ladder", []Pair{{"power", "4 kW"}, {"place", "battery"}})
	_, _, newErr := p.Note("new-run", []Pair{{"power", "4 kW"}, {"place", "battery"}, {"note", strings.Repeat("long ", 40)}})
	setErr := p.Set("nozzle.diameter", "59 mm")
	_, addErr := p.Adopt("2026-05-16-logs", []string{filepath.Join(filepath.Dir(folder), "more.csv")}, nil)
	_, addNewErr := p.Adopt("a-new-run", []string{filepath.Join(filepath.Dir(folder), "more.csv")}, nil)
	saveErr := Save(filepath.Join(folder, "report.html"), make([]byte, 100))
	tablesErr := SaveIn(filepath.Join(folder, "tables"), []File{{"short.csv", []byte("x")}, {"long.csv", make([]byte, 100)}})
	startErr := New(filepath.Join(folder, "below", "another"), "rescue-sled")
	for _, err := range []error{noteErr, newErr, setErr, addErr, addNewErr, saveErr, tablesErr, startErr} {
		var l notice.List
		if !errors.As(err, &l) || !strings.Contains(err.Error(), "nothing was changed") || !strings.Contains(err.Error(), "bytes were to go there") {
			fail("without room:", err)
		}
	}
	os.Exit(0)
}

// A folder that cannot be written to: a file stands where the runs should be.
func TestFolderUnwritable(t *testing.T) {
	p, folder := scene(t)
	if err := os.RemoveAll(filepath.Join(folder, RunsFolder)); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(folder, RunsFolder), []byte("x"), 0o644); err != nil {
		t.Fatal(err)
	}
	want := snapshot(t, folder)
	if _, _, err := p.Note("a", []Pair{{"power", "4 kW"}, {"place", "battery"}}); err == nil {
		t.Error("a run was written below a file")
	}
	if got := snapshot(t, folder); got != want {
		t.Error("a failed write changed the folder")
	}
	if os.Geteuid() == 0 {
		return // what root may not write cannot be said by permissions
	}
	if err := os.Chmod(folder, 0o555); err != nil {
		t.Fatal(err)
	}
	defer func() { _ = os.Chmod(folder, 0o755) }()
	if err := p.Set("nozzle.diameter", "59 mm"); err == nil || !strings.Contains(err.Error(), "permission") {
		t.Errorf("a read-only folder: %v", err)
	}
}

// New does not write over what is there.
func TestNewKeepsWhatIsThere(t *testing.T) {
	folder := t.TempDir()
	if err := os.WriteFile(filepath.Join(folder, "mine.txt"), []byte("x"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := New(folder, "rescue-sled"); err == nil || !strings.Contains(err.Error(), "not empty") {
		t.Errorf("New into a folder with something in it: %v", err)
	}
	if err := New(filepath.Join(folder, "x"), "no-such-scene"); err == nil || !strings.Contains(err.Error(), "rescue-sled") {
		t.Errorf("an unknown scene: %v", err)
	}
	if _, err := os.Stat(filepath.Join(folder, "x")); err == nil {
		t.Error("an unknown scene left a folder behind")
	}
}

// A run that differs in what it may differ in, and in what it may not.
func TestRunSetup(t *testing.T) {
	_, folder := scene(t)
	path := filepath.Join(folder, RunsFolder, "2026-05-03-ladder", RunFile)
	text := "[stand]\nwater = \"open\"\nscale_range = \"50 kgf\"\n[[reading]]\npower = \"1 kW\"\nplace = \"shaft\"\nthrust = \"15 kgf\"\n"
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	p, err := Open(folder)
	if err != nil {
		t.Fatal(err)
	}
	d := p.Design.Nominal()
	p.Runs[0].Setup.Apply(&d)
	if d.Stand.Water != "open" {
		t.Error("the run's stand was lost")
	}
	f, _ := p.Runs[0].Plateaus[0].Figure("thrust")
	if want := 0.005 * 50 * 9.80665; f.Limits < 0.99*want || f.Limits > 1.01*want {
		t.Errorf("the scale's limits are %g N, want %g", f.Limits, want)
	}
	if err := os.WriteFile(path, []byte(text+"[nozzle]\ndiameter = \"1 mm\"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(folder); err == nil || !strings.Contains(err.Error(), "run.toml:9:") {
		t.Errorf("a nozzle in a run: %v", err)
	}
}

// docs/keys-run.md is the table of a run's keys, from the one declaration of each.
func TestRunKeysFresh(t *testing.T) {
	var b bytes.Buffer
	b.WriteString("# Keys of run.toml\n\nGenerated by `JETWRIGHT_UPDATE=1 go test ./project`. A run may also type keys of `[stand]` and `[water]` again,\nwhere they differed from the design's ([keys.md](keys.md)).\n")
	for _, s := range []struct {
		title  string
		schema *quantity.Schema
	}{{"At the top", RunSchema()}, {"[before]", BeforeSchema()}, {"[motion]", MotionSchema()}, {"[[reading]]", ReadingSchema()}, {"[[log]]", LogSchema()}} {
		fmt.Fprintf(&b, "\n## %s\n\n| key | unit | meaning | if not typed |\n|---|---|---|---|\n", s.title)
		for _, f := range s.schema.Fields() {
			assume := f.AssumeText
			if assume == "" {
				assume = "left out"
			}
			doc := f.Doc
			if len(f.Choices) > 0 {
				doc += " (" + strings.Join(f.Choices, ", ") + ")"
			}
			fmt.Fprintf(&b, "| `%s` | %s | %s | %s |\n", f.Key, f.Unit.Symbol, doc, assume)
		}
		if s.title == "At the top" {
			b.WriteString("| `zero` | s | stretches in which nothing pulled, on the clock of the main log, as in [\"0 s .. 20 s\", \"900 s .. 920 s\"] | found where the load is below 2 % of its highest |\n")
			b.WriteString("| `water_level` | mm | heights of the water over any fixed mark, on the clock of the main log, straight between, as in [\"0 s = 300 mm\", \"900 s = 280 mm ± 2 mm\"] | the level stays |\n")
		}
	}
	b.WriteString("| `channels` |  | the columns in their order, each as \"name [unit] = channel\"; without unit or channel where there is none, \"= words\" for one without numbers; a known tolerance behind the channel, as in \"= thrust ± 0.5 % ± 0.1 kgf\" | must be typed |\n")
	b.WriteString("| `calibration` | kgf | what hung on the scale and what it showed, as in [\"0 kgf = 0.02 kgf\", \"20 kgf = 20.1 kgf\", \"40 kgf = 40.25 kgf\"]; a straight line, or a parabola where the loads tell one | left out |\n")
	b.WriteString("| `calibrations` | the channel's | true values of any other channel and what its instrument showed, as in [\"winding temperature: 0 °C = 0.4 °C, 100 °C = 98.9 °C\", \"battery current: 0 A = 0.3 A\"]; one point is an offset, two a gain as well, from three on a straight line, or a parabola where the points tell one; what is known of a true value or of a reading may stand behind it, as in 100 °C ± 0.5 °C | left out |\n")
	b.WriteString("| `trust` |  | channels that are used although they are in doubt, as in [\"winding temperature\"] | none |\n")
	file := filepath.Join("..", "docs", "keys-run.md")
	if os.Getenv("JETWRIGHT_UPDATE") != "" {
		if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	have, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(have, b.Bytes()) {
		t.Errorf("%s is stale; write it with: JETWRIGHT_UPDATE=1 go test ./project", file)
	}
}
