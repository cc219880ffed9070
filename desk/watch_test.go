package desk

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf16"

	"jetwright/bench"
	"jetwright/project"
)

// grower is a log that a test appends to, and its watch with a clock of its own.
type grower struct {
	t    *testing.T
	path string
	w    *Watching
	now  float64
	row  int
	got  []bench.Alarm
}

func newGrower(t *testing.T, head string, ask WatchAsk) *grower {
	g := &grower{t: t, path: filepath.Join(t.TempDir(), "esc.csv")}
	if err := os.WriteFile(g.path, []byte(head), 0o644); err != nil {
		t.Fatal(err)
	}
	ask.Folder, ask.Log = filepath.Join("..", "examples", "rescue-sled"), g.path
	w, err := OpenWatch(ask)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(w.Close)
	g.w = w
	return g
}

func (g *grower) poll(seconds float64) {
	g.t.Helper()
	g.now += seconds
	a, err := g.w.Poll(g.now)
	if err != nil {
		g.t.Fatal(err)
	}
	g.got = append(g.got, a...)
}

func (g *grower) write(text string) {
	g.t.Helper()
	f, err := os.OpenFile(g.path, os.O_APPEND|os.O_WRONLY, 0o644)
	if err != nil {
		g.t.Fatal(err)
	}
	defer f.Close()
	if _, err := f.WriteString(text); err != nil {
		g.t.Fatal(err)
	}
}

// rows writes rows of a calm drive with its winding at a temperature, one every 0.1 s.
func (g *grower) rows(n int, winding float64) {
	for range n {
		g.row++
		g.write(fmt.Sprintf("%.1f,%d,%d,%.1f\n", 0.1*float64(g.row), 600+g.row%3, 1950+g.row%5, winding+0.1*float64(g.row%4)))
		g.poll(0.1)
	}
}

func (g *grower) kinds() string {
	var s []string
	for _, a := range g.got {
		s = append(s, a.Kind)
	}
	return strings.Join(s, ", ")
}

const watchHead = "time [s],power [W],rotor speed [rpm],winding temp [°C]\n"

// A log of which only the header is there is waited for; half a line is no line; a stall is told
// within two seconds by the watch's clock.
func TestWatchGrows(t *testing.T) {
	g := newGrower(t, watchHead+"0.0,60", WatchAsk{})
	g.poll(0.1)
	if g.w.Answer != nil {
		t.Error("it knows a layout without a row")
	}
	g.write("0,1950,20.0\n")
	g.rows(30, 20)
	if g.w.Answer == nil || !g.w.Begun() || len(g.got) > 0 {
		t.Fatalf("it does not watch: %s", g.kinds())
	}
	if s := g.w.Status(); s.Rows != 31 || math.Abs(s.Time-3) > 1e-9 {
		t.Errorf("%+v", s)
	}
	g.write("3.1,600,19")
	before := g.now
	for len(g.got) == 0 && g.now < before+5 {
		g.poll(0.1)
	}
	if g.kinds() != bench.Stalled || g.now-before > 2 {
		t.Errorf("%s after %.1f s", g.kinds(), g.now-before)
	}
}

// By hand: 361 kg on rubber hold 0.30·361·9.81/2 N at factor 2, at most; the pull shows it, and a bound on it lies below. An arm
// of 720 mm to the jet and 360 mm to the rope shows twice the thrust.
func TestWatchStandByHand(t *testing.T) {
	watched := func(keys map[string]string) (WatchedLimit, bench.WatchOptions) {
		folder := filepath.Join(t.TempDir(), "sled")
		if err := project.New(folder, "rescue-sled"); err != nil {
			t.Fatal(err)
		}
		for path, value := range keys {
			if err := SetIn(folder, path, value); err != nil {
				t.Fatal(err)
			}
		}
		p, err := project.Open(folder)
		if err != nil {
			t.Fatal(err)
		}
		layout, faults := bench.GuessLayout("log.csv", []byte("time [s],rotor speed [rpm],pull [N]\n0.0,0,1.0\n0.1,0,1.1\n0.2,0,1.2\n"))
		if faults.Fatal() != nil {
			t.Fatal(faults)
		}
		a := &WatchAnswer{Layout: layout}
		o, err := Watch(p, nil, a, &bench.Source{})
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range a.Limits {
			if l.Name == "sliding of the stand" {
				return l, o
			}
		}
		t.Fatal("the stand does not slide")
		return WatchedLimit{}, o
	}
	held := 0.30 * 361 * 9.81 / 2
	l, o := watched(nil)
	if !l.Watched || l.Channel != bench.Thrust || math.Abs(l.Stated/held-1) > 0.002 || l.Stop >= l.Bad || l.Bad > l.Stated || math.Abs(o.Along-1) > 1e-12 {
		t.Errorf("it slides at %+v, along by %g", l, o.Along)
	}
	l, o = watched(map[string]string{"stand.kind": "pivot", "stand.pivot_height": "300 mm", "stand.rope_height": "660 mm"})
	if !l.Watched || math.Abs(l.Stated/(2*held)-1) > 0.002 || math.Abs(o.Along-0.5) > 1e-12 {
		t.Errorf("on an arm it slides at %+v, along by %g", l, o.Along)
	}
}

// A log that is cut short or replaced is named, and with Keep the new one is watched as well.
func TestWatchReplaced(t *testing.T) {
	g := newGrower(t, watchHead, WatchAsk{Keep: true})
	g.rows(20, 20)
	if len(g.got) > 0 {
		t.Fatal(g.kinds())
	}
	other := g.path + ".next"
	if err := os.WriteFile(other, []byte(watchHead), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(other, g.path); err != nil {
		t.Fatal(err)
	}
	g.rows(5, 170)
	if g.kinds() != bench.Gone+", "+bench.Crossed {
		t.Errorf("got %s", g.kinds())
	}
	if err := os.Truncate(g.path, 0); err != nil {
		t.Fatal(err)
	}
	g.got = nil
	g.poll(0.1)
	if g.kinds() != bench.Gone || !strings.Contains(g.got[0].What, "cut short") {
		t.Errorf("got %s", g.kinds())
	}
}

// What was there before teaches and alarms nobody; a log that never grows was not watched.
func TestWatchPast(t *testing.T) {
	head := watchHead
	for i := range 40 {
		head += fmt.Sprintf("%.1f,600,1950,%.1f\n", 0.1*float64(i), 170+0.1*float64(i%4))
	}
	g := newGrower(t, head, WatchAsk{})
	g.poll(0.1)
	if len(g.got) > 0 || g.w.Answer == nil || g.w.Begun() {
		t.Fatalf("got %s", g.kinds())
	}
	a, err := g.w.Finish(3)
	if err != nil || len(a) != 1 || a[0].Kind != bench.Gone || !strings.Contains(a[0].What, "nothing was watched") {
		t.Errorf("%v, %v", a, err)
	}
	g.row = 40
	g.rows(3, 170)
	if !strings.Contains(g.kinds(), bench.Crossed) {
		t.Errorf("got %s", g.kinds())
	}
}

// A bound is never on the easy side of the design's limit, stands in the log's own convention, and each
// limit of the design is either watched or said not to be.
func TestWatchBoundsLaw(t *testing.T) {
	head := "time [s],power [W],rpm,winding temp [°C],bridge temp [°C],phase current as peak [A],battery voltage [V],battery current [A],pull [kgf]\n"
	for i := range 10 {
		head += fmt.Sprintf("%.1f,600,1950,20,20,40,48,12,9\n", 0.1*float64(i))
	}
	g := newGrower(t, head, WatchAsk{})
	g.poll(0.1)
	a := g.w.Answer
	if a == nil || a.Convention != "peak" || !a.ConventionTyped || a.Steps < 10 {
		t.Fatalf("%+v", a)
	}
	d, err := LimitsIn(filepath.Join("..", "examples", "rescue-sled"), Options{Nominal: true})
	if err != nil {
		t.Fatal(err)
	}
	if len(d.Limits) != len(a.Limits) {
		t.Errorf("the design has %d limits, the watch %d", len(d.Limits), len(a.Limits))
	}
	watched := 0
	for _, l := range a.Limits {
		if !l.Watched {
			if l.Why == "" {
				t.Errorf("%s is not watched and nothing says why", l.Name)
			}
			continue
		}
		watched++
		hard := l.Stop < l.Bad && l.Bad <= l.Stated
		if l.AtLeast {
			hard = l.Stop > l.Bad && l.Bad >= l.Stated
		}
		if !hard {
			t.Errorf("%s: stated %g, bad end %g, stop %g", l.Name, l.Stated, l.Bad, l.Stop)
		}
	}
	if watched != 14 { // three of the stand by the pull
		t.Errorf("%d limits are watched", watched)
	}
	for _, c := range a.Coefficients {
		if !c.Watched {
			t.Errorf("%s: %s", c.Name, c.Why)
		}
	}
	for _, l := range a.Limits {
		if l.Channel == bench.PhaseCurrent && math.Abs(l.Stated-300) > 1e-9 {
			t.Errorf("%s stands at %g A peak", l.Name, l.Stated)
		}
	}
}

// wide writes text as UTF-16.
func wide(text string, bigEndian, mark bool) string {
	var b strings.Builder
	if mark {
		text = "\ufeff" + text
	}
	for _, u := range utf16.Encode([]rune(text)) {
		x, y := byte(u), byte(u>>8)
		if bigEndian {
			x, y = y, x
		}
		b.WriteByte(x)
		b.WriteByte(y)
	}
	return b.String()
}

// inPieces writes text a few bytes at a time, so that lines, characters and their halves are torn.
func (g *grower) inPieces(text string, seconds float64) {
	g.t.Helper()
	for i, step := 0, 0; i < len(text); i += 1 + step%37 {
		step++
		g.write(text[i:min(len(text), i+1+step%37)])
		g.poll(seconds)
	}
}

// The same hot drive is seen in whatever text its log is written: STOP for the winding and for nothing else.
func TestWatchTexts(t *testing.T) {
	var rows strings.Builder
	for i := range 60 {
		fmt.Fprintf(&rows, "%.1f,%d,%d,%.1f\n", 0.1*float64(i), 600+i%3, 1950+i%5, 150+0.1*float64(i))
	}
	plain := watchHead + rows.String()
	comma := strings.NewReplacer(",", ";", ".", ",").Replace(plain)
	for name, text := range map[string]string{
		"UTF-8":                 plain,
		"UTF-8 with mark, CRLF": "\ufeff" + strings.ReplaceAll(plain, "\n", "\r\n"),
		"Windows-1252":          strings.ReplaceAll(plain, "°", "\xb0"),
		"UTF-16 LE with mark":   wide(strings.ReplaceAll(plain, "\n", "\r\n"), false, true),
		"UTF-16 BE with mark":   wide(plain, true, true),
		"UTF-16 LE":             wide(plain, false, false),
		"UTF-16 BE":             wide(plain, true, false),
		"decimal commas":        comma,
		"commas in UTF-16":      wide(comma, false, true),
		"preamble":              "Instrument 7, Ausgabe 1.4\nDatum: 16.05.2026\n\n" + plain,
		"units below":           "time,power,rotor speed,winding temp\ns,W,rpm,°C\n" + rows.String(),
		"quoted":                strings.NewReplacer(",", `","`).Replace(plain),
		"blank lines":           strings.ReplaceAll(plain, "\n", "\n\n"),
	} {
		if name == "quoted" {
			text = `"` + strings.ReplaceAll(strings.TrimSuffix(text, "\n"), "\n", "\"\n\"") + "\"\n"
		}
		for _, before := range []int{0, len(text) / 2} { // of it is there already
			if before > 0 && !strings.HasPrefix(name, "UTF-16") {
				continue
			}
			g := newGrower(t, text[:before], WatchAsk{})
			g.inPieces(text[before:], 0.02)
			if len(g.got) == 0 || g.got[0].Kind != bench.Crossed || g.got[0].Channel != bench.WindingTemperature {
				t.Errorf("%s, %d bytes there: %+v", name, before, g.got)
			}
		}
	}
}

// What goes wrong with a log while it is watched: the reason, and within two seconds.
func TestWatchMishaps(t *testing.T) {
	row := func(g *grower) string {
		g.row++
		return fmt.Sprintf("%.1f,%d,%d,%.1f\n", 0.1*float64(g.row), 600+g.row%3, 1950+g.row%5, 20+0.1*float64(g.row%4))
	}
	for name, c := range map[string]struct {
		do         func(g *grower)
		kind, what string
	}{
		"half a line, for ever":    {func(g *grower) { g.write("3.1,600,19") }, bench.Stalled, `of the next line "3.1,600,19" has come, without its end`},
		"NUL bytes for ever":       {func(g *grower) { g.write(strings.Repeat("\x00", 100)) }, bench.Stalled, "without its end"},
		"NUL bytes and a line end": {func(g *grower) { g.write(strings.Repeat("\x00", 100) + "\n") }, bench.Unreadable, "line 32"},
		"the header again":         {func(g *grower) { g.write(watchHead) }, bench.Unreadable, "line 32: it is the header again"},
		"its clock set back":       {func(g *grower) { g.row -= 25; g.write(row(g)) }, bench.Stalled, "steps back by 2.4"},
		"its clock set forward":    {func(g *grower) { g.row += 36000; g.write(row(g)) }, bench.ClockOff, "leaps by 3600 s while 0"},
		"its clock set back a little": {func(g *grower) {
			g.row -= 9
			for range 40 {
				g.row -= 1
				g.write(row(g))
				g.poll(0.1)
			}
		}, bench.Stalled, "its time has stood at 2.1 s"},
		"a megabyte without an end": {func(g *grower) { g.write(strings.Repeat("7", 1<<20)) }, bench.Unreadable, "line 32"},
		"cut short":                 {func(g *grower) { _ = os.Truncate(g.path, 0) }, bench.Gone, "cut short and begins anew"},
		"deleted":                   {func(g *grower) { _ = os.Remove(g.path) }, bench.Gone, "moved or deleted"},
		"rotated": {func(g *grower) {
			_ = os.Rename(g.path, g.path+".1")
			if err := os.WriteFile(g.path, []byte(watchHead), 0o644); err != nil {
				g.t.Fatal(err)
			}
		}, bench.Gone, "another file has taken the log's place"},
		"a word where a number was": {func(g *grower) { g.write("3.1,600,fast,20.0\n") }, bench.Unreadable, `column 3, "rotor speed", is no number: "fast"`},
		"another decimal sign":      {func(g *grower) { g.write("3.1,600,1950;20.0\n") }, bench.Unreadable, `is no number: "1950;20.0"`},
	} {
		g := newGrower(t, watchHead, WatchAsk{})
		for range 30 {
			g.write(row(g))
			g.poll(0.1)
		}
		if len(g.got) > 0 {
			t.Fatalf("%s: %+v", name, g.got)
		}
		before := g.now
		c.do(g)
		for len(g.got) == 0 && g.now < before+5 {
			g.poll(0.1)
		}
		if len(g.got) != 1 || g.got[0].Kind != c.kind || !strings.Contains(g.got[0].What, c.what) {
			t.Errorf("%s: %+v", name, g.got)
		}
		if took := g.now - before; took > 2 && name != "its clock set back a little" {
			t.Errorf("%s: STOP after %.1f s", name, took)
		}
	}
}

// A header that comes late, behind a preamble, is waited for; a preamble is not taken for the log.
func TestWatchHeaderLate(t *testing.T) {
	g := newGrower(t, "Instrument 7, Ausgabe 1.4\nSeriennummer: 00417\nDatum: 16.05.2026\n", WatchAsk{})
	for range 50 {
		g.poll(0.1)
	}
	if g.w.Answer != nil || len(g.got) > 0 {
		t.Fatalf("a preamble is watched: %+v, %s", g.w.Answer, g.kinds())
	}
	g.write(watchHead)
	g.poll(0.5)
	g.rows(30, 20)
	if g.w.Answer == nil || g.w.Answer.Layout.HeaderLine != 4 || len(g.got) > 0 {
		t.Fatalf("%+v, %s", g.w.Answer, g.kinds())
	}
	g.rows(5, 170)
	if !strings.HasPrefix(g.kinds(), bench.Crossed) {
		t.Error(g.kinds())
	}
}

// How long a log may stand goes by how often its rows come: rows that come rarely, rows without a time, a
// pause in what was there before, a time in another unit than is thought.
func TestWatchGap(t *testing.T) {
	past := watchHead
	for i := range 40 { // with a pause of an hour in its middle
		past += fmt.Sprintf("%.1f,600,1950,20.%d\n", 0.1*float64(i)+float64(i/20)*3600, i%4)
	}
	for name, c := range map[string]struct {
		head        string
		every       float64 // s
		row         func(i int) string
		rows        int
		least, most float64 // s
	}{
		"once a second":        {watchHead, 1, func(i int) string { return fmt.Sprintf("%d,600,1950,20.%d\n", i, i%4) }, 30, 1.9, 2.2},
		"every three seconds":  {watchHead, 3, func(i int) string { return fmt.Sprintf("%d,600,1950,20.%d\n", 3*i, i%4) }, 30, 5.9, 6.2},
		"a pause before":       {past, 0.1, func(i int) string { return fmt.Sprintf("%.1f,600,1950,20.%d\n", 3604.1+0.1*float64(i), i%4) }, 30, 1.4, 1.7},
		"milliseconds as s":    {watchHead, 0.1, func(i int) string { return fmt.Sprintf("%d,600,1950,20.%d\n", 100*i, i%4) }, 40, 1.4, 1.7},
		"no time, 10 a second": {"power [W],rotor speed [rpm],winding temp [°C]\n", 0.1, func(i int) string { return fmt.Sprintf("600,%d,20.%d\n", 1950+i%3, i%4) }, 40, 1.4, 1.7},
		"no time, two s a row": {"power [W],rotor speed [rpm],winding temp [°C]\n", 2, func(i int) string { return fmt.Sprintf("600,%d,20.%d\n", 1950+i%3, i%4) }, 20, 5.9, 6.3},
	} {
		g := newGrower(t, c.head, WatchAsk{})
		for i := range c.rows {
			g.write(c.row(i))
			for range int(math.Round(10 * c.every)) {
				g.poll(0.1)
			}
		}
		if len(g.got) > 0 {
			t.Errorf("%s: %+v", name, g.got)
			continue
		}
		before := g.now - c.every
		for len(g.got) == 0 && g.now < before+30 {
			g.poll(0.1)
		}
		if took := g.now - before; g.kinds() != bench.Stalled || took < c.least || took > c.most {
			t.Errorf("%s: %s after %.1f s", name, g.kinds(), took)
		}
	}
}

// A run that was made on another stand is watched by that stand's limits.
func TestWatchRunsOwnStandExact(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "sled")
	if err := project.New(folder, "rescue-sled"); err != nil {
		t.Fatal(err)
	}
	stop := func() float64 {
		log := filepath.Join(folder, "runs", "2026-05-16-logs", "scale.csv")
		w, err := OpenWatch(WatchAsk{Folder: folder, Log: log, Run: "2026-05-16-logs"})
		if err != nil {
			t.Fatal(err)
		}
		defer w.Close()
		for now := 0.0; w.Answer == nil && now < 5; now += 0.5 {
			if _, err := w.Poll(now); err != nil {
				t.Fatal(err)
			}
		}
		for _, l := range w.Answer.Limits {
			if l.Name == "pull on the rope" && l.Watched {
				return l.Bad
			}
		}
		t.Fatalf("the rope is not watched: %+v", w.Answer.Limits)
		return 0
	}
	before := stop()
	sheet := filepath.Join(folder, "runs", "2026-05-16-logs", "run.toml")
	data, err := os.ReadFile(sheet)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(sheet, append(data, "\n[stand]\nrope_strength = \"300 kgf\"\n"...), 0o644); err != nil {
		t.Fatal(err)
	}
	after := stop()
	if want := 300 * 9.80665 / 10; math.Abs(after-want) > 0.5 || !(after < before) {
		t.Errorf("the rope is watched to %.1f N, %.1f N before; want %.1f N", after, before, want)
	}
}
