package desk

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"jetwright/bench"
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
	if watched != 11 {
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
