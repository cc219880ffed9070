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

// pair is a controller's log and a scale's that grow together, ten and five rows a second.
type pair struct {
	t               *testing.T
	w               *Watches
	esc, scale      string
	now             float64
	n               int
	got             []bench.Alarm
	frozen, stalled bool
	pull            float64 // kgf at 600 W; that of the folder's earlier steps is 9.5
}

func newPair(t *testing.T, order ...int) *pair {
	p := &pair{t: t, pull: 9.5}
	dir := t.TempDir()
	p.esc, p.scale = filepath.Join(dir, "esc.csv"), filepath.Join(dir, "scale.csv")
	for path, head := range map[string]string{p.esc: watchHead, p.scale: "Zeit [s];Zug [kgf]\n"} {
		if err := os.WriteFile(path, []byte(head), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	logs := []string{p.esc, p.scale}
	w, err := OpenWatches(WatchAsk{Folder: filepath.Join("..", "examples", "rescue-sled")}, []string{logs[order[0]], logs[order[1]]})
	if err != nil {
		t.Fatal(err)
	}
	p.w = w
	t.Cleanup(w.Close)
	return p
}

func (p *pair) run(seconds, power float64) {
	p.t.Helper()
	put := func(path, text string) {
		f, err := os.OpenFile(path, os.O_APPEND|os.O_WRONLY, 0)
		if err != nil {
			p.t.Fatal(err)
		}
		if _, err := f.WriteString(text); err != nil {
			p.t.Fatal(err)
		}
		_ = f.Close()
	}
	for range int(10 * seconds) {
		p.n++
		speed := 1950 * math.Cbrt(power/600)
		pull := p.pull * math.Pow(power/600, 2.0/3)
		put(p.esc, fmt.Sprintf("%.1f,%.0f,%.0f,%.1f\n", 0.1*float64(p.n), power+float64(p.n%3), speed+float64(p.n%5), 20+0.1*float64(p.n%4)))
		if p.n%2 == 0 && !p.stalled {
			shown := 0.3 + pull + 0.05*float64(p.n/2%3)
			if p.frozen {
				shown = p.pull + 0.35
			}
			put(p.scale, strings.ReplaceAll(fmt.Sprintf("%.1f;%.2f\n", 100+0.1*float64(p.n), shown), ".", ","))
		}
		p.now += 0.1
		a, err := p.w.Poll(p.now)
		if err != nil {
			p.t.Fatal(err)
		}
		p.got = append(p.got, a...)
	}
}

// Two logs of one drive are held against each other: the pull of the scale makes coefficients with the speed of
// the controller, a scale that freezes is found by the controller's load, and a scale that stalls is named. It does
// not matter which is named first.
func TestWatchesTogether(t *testing.T) {
	for _, order := range [][]int{{0, 1}, {1, 0}} {
		p := newPair(t, order...)
		p.run(10, 0)
		answers := p.w.Answers()
		if len(answers) != 2 || answers[0].Last || !answers[1].Last || p.w.Name(p.w.main) != "esc.csv" {
			t.Fatalf("%d answers, the main log is %s", len(answers), p.w.Name(p.w.main))
		}
		for i, l := range answers[0].Limits {
			o := answers[1].Limits[i]
			if l.Watched && o.Watched {
				t.Errorf("%s is watched twice", l.Name)
			}
			if l.Watched != (o.Elsewhere != "") || o.Watched != (l.Elsewhere != "") {
				t.Errorf("%s: %+v, %+v", l.Name, l, o)
			}
		}
		p.run(30, 1500)
		if len(p.got) > 0 {
			t.Fatalf("a calm drive: %+v", p.got)
		}
		s := p.w.List[p.w.main].Status()
		names := ""
		for _, c := range s.Coefficients {
			names += c.Name + ", "
		}
		if !strings.Contains(names, "thrust coefficient") || !strings.Contains(names, "static efficiency") {
			t.Errorf("the coefficients are %s", names)
		}
		want := p.pull * math.Pow(1500.0/600, 2.0/3) * 9.80665
		if !s.Pull.Set || !s.TareKnown || math.Abs(s.Pull.Value-want) > 0.02*want {
			t.Errorf("the pull is %+v of %.4g N", s.Pull, want)
		}
		p.frozen = true
		for i := 0; i < 30 && len(p.got) == 0; i++ {
			p.run(2, 600+500*float64(i%3))
		}
		if len(p.got) == 0 || p.got[0].Kind != bench.Frozen || p.got[0].Channel != bench.Thrust {
			t.Errorf("a frozen scale: %+v", p.got)
		}

		p = newPair(t, order...)
		p.pull = 8.5
		p.run(10, 0)
		p.run(30, 1500)
		if len(p.got) == 0 || p.got[0].Kind != bench.Moved || !strings.Contains(p.got[0].What, "thrust coefficient stands -") {
			t.Errorf("a pull that is a tenth too small: %+v", p.got)
		}

		p = newPair(t, order...)
		p.run(12, 600)
		p.stalled = true
		before := p.now
		for p.now < before+3 && len(p.got) == 0 {
			p.run(0.1, 600)
		}
		if len(p.got) != 1 || p.got[0].Kind != bench.Stalled || p.got[0].Log != "scale.csv" || p.now-before > 2 {
			t.Errorf("a scale that stalls, after %.1f s: %+v", p.now-before, p.got)
		}
	}
}
