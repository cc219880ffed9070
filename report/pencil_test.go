package report

import (
	"encoding/xml"
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

func waves(n int) ([]float64, []float64) {
	t, v := make([]float64, n), make([]float64, n)
	for i := range t {
		t[i] = 900 * float64(i) / float64(n)
		v[i] = 100*math.Floor(t[i]/150) + 8*math.Sin(3*t[i]) + 5*math.Sin(77*t[i])
	}
	return t, v
}

func exampleTraces(n int) Traces {
	t, v := waves(n)
	tr := Traces{ID: "log", Title: "2026-05-03 ladder, as logged", Spans: []Span{
		{5, 40, "", "zero"}, {60, 140, "1", "plateau"}, {160, 290, "2", "plateau"}, {310, 380, "", "unsettled"}, {400, 440, "3", "plateau"}, {460, 590, "4", "plateau"}, {860, 898, "", "zero"},
	}}
	for i, name := range []string{"thrust", "battery current", "battery voltage", "rotor speed", "phase current", "winding temperature"} {
		w := append([]float64{}, v...)
		for j := range w {
			w[j] *= 1 + float64(i)
		}
		if i == 1 {
			for j := n / 2; j < n/2+n/20; j++ {
				w[j] = math.NaN()
			}
		}
		p := TracePanel{Name: name, Unit: []string{"N", "A", "V", "rpm", "A", "°C"}[i], Time: t, Value: w}
		if i == 0 {
			p.Means = []TraceMean{{60, 140, 0, -3, 4, "0.5 N"}, {160, 290, 100, 96, 104, "100 N"}, {460, 590, 300, 290, 312, "300 N"}}
		}
		if i == 2 {
			p.Doubted = []Span{{600, 760, "frozen", "doubt"}}
		}
		tr.Panels = append(tr.Panels, p)
	}
	return tr
}

func exampleChart(marks int) Chart {
	c := Chart{ID: "thrust", Title: "Thrust against power, at rest", XLabel: "power at the battery, W", YLabel: "thrust, N", FromZero: true}
	var k, law Curve
	k.Name, law.Name, law.Dashed = "predicted", "power to the 2/3", true
	for x := 0.0; x <= 7000; x += 100 {
		y := 1.35 * math.Pow(x, 2.0/3) * (1 - x/90000)
		k.X, k.Y, k.Low, k.High = append(k.X, x), append(k.Y, y), append(k.Low, 0.85*y), append(k.High, 1.12*y)
		law.X, law.Y = append(law.X, x), append(law.Y, 1.4*math.Pow(x, 2.0/3))
	}
	c.Curves = []Curve{k, law}
	for i := range marks {
		x := 600 + 400*float64(i)
		y := 1.3 * math.Pow(x, 2.0/3)
		kind := []string{"reading", "plateau", "unsettled"}[i%3]
		c.Marks = append(c.Marks, Mark{x, 0.95 * x, 1.05 * x, y, 0.94 * y, 1.05 * y, string(rune('1' + i)), kind})
	}
	if marks > 1 {
		c.Marks = append(c.Marks, Mark{X: 6600, Y: 650, YLow: 640, YHigh: 660, Label: "simulation: at least 650 N", Kind: "claim"})
	}
	return c
}

// exampleLedger is that of the rescue sled, at rest or under way.
func exampleLedger(way bool) ([]LedgerBar, float64) {
	list := []LedgerBar{
		{"wiring", "19 W [11, 37]", 19.4, "loss"},
		{"bridge, conduction", "30 W [12, 62]", 30.1, "loss"},
		{"bridge, switching", "28 W [12, 53]", 28.2, "loss"},
		{"electronics", "12 W [6, 19]", 12.5, "loss"},
		{"winding", "150 W [90, 280]", 149, "loss"},
		{"iron, windage, bearings", "84 W [67, 110]", 83.7, "loss"},
		{"reduction", "0 W", 0, "loss"},
		{"seals", "70 W [20, 120]", 69.5, "loss"},
		{"pump", "1400 W [700, 2400]", 1357, "loss"},
		{"intake", "90 W [30, 160]", 93, "loss"},
		{"duct", "22 W [10, 34]", 22, "loss"},
		{"nozzle", "63 W [39, 87]", 63, "loss"},
		{"coolant", "3.9 W [3.1, 6.2]", 3.9, "loss"},
	}
	if way {
		list = append(list, LedgerBar{"left in the jet", "980 W [940, 1010]", 980, "loss"}, LedgerBar{"taken back from the hull's wake", "−140 W", -140, "gain"}, LedgerBar{"thrust times speed", "957 W", 957, "thrust"})
	} else {
		list = append(list, LedgerBar{"left in the jet", "1797 W [1783, 1810]", 1797, "loss"}, LedgerBar{"thrust times speed", "0 W", 0, "thrust"})
	}
	sum := 0.0
	for _, l := range list {
		sum += l.Watts
	}
	return list, sum
}

// pictures are examples of every kind, by the name of their golden file.
func pictures() map[string]string {
	long := exampleChart(8)
	long.Curves[1].Name = "a name far too long to stand at the end of a curve in the margin"
	long.Curves[1].Low, long.Curves[1].High = long.Curves[0].Low, long.Curves[0].High
	rest, restTotal := exampleLedger(false)
	way, wayTotal := exampleLedger(true)
	return map[string]string{
		"ledger-rest": LedgerSVG("ledger-rest", rest, restTotal),
		"ledger-way":  LedgerSVG("ledger-way", way, wayTotal),
		"chart-0":     exampleChart(0).SVG(),
		"chart-1":     exampleChart(1).SVG(),
		"chart-8":     exampleChart(8).SVG(),
		"chart-long":  long.SVG(),
		"chart-none":  Chart{ID: "none", Title: "Nothing yet"}.SVG(),
		"multiples":   SmallMultiples("multi", "The ladder", "", []Chart{exampleChart(0), exampleChart(1), exampleChart(8), {Title: "None"}}, 2),
		"log":         exampleTraces(4000).SVG(),
	}
}

// hostile are pictures of data that nobody would wish for.
func hostile() map[string]string {
	nan, inf := math.NaN(), math.Inf(1)
	bad := "<script>alert(\"1\")</script> & 'x' \x00\x1b ]]> \xff\n"
	odd := []float64{nan, 1, inf, -inf, 2, nan, 1e300, 3}
	charts := []Chart{
		{ID: bad, Title: bad, About: bad, XLabel: bad, YLabel: bad, Curves: []Curve{{bad, odd, odd, odd, odd, true}}, Marks: []Mark{{1, nan, inf, 2, -inf, nan, bad, bad}, {nan, 1, 2, 3, 4, 5, bad, "claim"}}},
		{ID: "short", Curves: []Curve{{X: []float64{1, 2, 3}, Y: []float64{4}}}},
		{ID: "one", Curves: []Curve{{Name: "n", X: []float64{5}, Y: []float64{0}}}, Width: nan, Height: inf},
		{ID: "same", Curves: []Curve{{Name: "n", X: []float64{5, 5}, Y: []float64{7, 7}}}},
		{ID: "near", Curves: []Curve{{Name: "n", X: []float64{1, 1 + 1e-16}, Y: []float64{1e-310, 2e-310}}}},
		{ID: "large", Curves: []Curve{{Name: "n", X: []float64{-1e99, 1e99}, Y: []float64{1e99, -1e99}}}},
		{ID: "empty"},
	}
	out := map[string]string{}
	for _, c := range charts {
		out["chart "+c.ID] = c.SVG()
	}
	out["multiples"] = SmallMultiples(bad, bad, bad, charts, 3)
	out["no multiples"] = SmallMultiples("", "", "", nil, 0)
	traces := Traces{ID: bad, Title: bad, About: bad, Panels: []TracePanel{
		{bad, bad, odd, odd, []TraceMean{{nan, inf, 1, 2, 3, bad}, {1, 2, 3, nan, inf, bad}}, []Span{{nan, 1, bad, bad}, {1, 2, bad, "doubt"}}},
		{Time: []float64{1, 2, 3}, Value: []float64{nan, nan, nan}},
		{Time: []float64{3, 2, 1}, Value: []float64{1, 2}},
	}, Spans: []Span{{1, 2, bad, bad}, {-inf, inf, "", "zero"}, {2, 1, "", "plateau"}}, Width: inf}
	out["traces"] = traces.SVG()
	out["no ledger"] = LedgerSVG("", nil, nan)
	out["odd ledger"] = LedgerSVG(bad, []LedgerBar{{bad, bad, 3, bad}, {bad, bad, nan, bad}, {bad, bad, -1, "loss"}, {bad, bad, 1, "gain"}, {bad, bad, -2, "thrust"}}, inf)
	out["bare ledger"] = LedgerSVG("", []LedgerBar{{Watts: 3}}, 5)
	out["no traces"] = Traces{}.SVG()
	return out
}

var (
	anyID    = regexp.MustCompile(` id="([^"]*)"`)
	decimals = regexp.MustCompile(`\d\.\d{3}`)
)

// wellFormed reads a picture as XML and holds it to the rules of all pictures.
func wellFormed(t *testing.T, name, svg string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(svg))
	var path []string
	title, desc := "", ""
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Errorf("%s: %v", name, err)
			return
		}
		switch e := token.(type) {
		case xml.StartElement:
			path = append(path, e.Name.Local)
			if e.Name.Local == "script" {
				t.Errorf("%s: a script got in", name)
			}
			for _, a := range e.Attr {
				if a.Name.Local == "style" || strings.HasPrefix(a.Name.Local, "on") {
					t.Errorf("%s: %s has the attribute %s", name, e.Name.Local, a.Name.Local)
				}
				if s := a.Value; a.Name.Local != "aria-labelledby" && (strings.Contains(s, "NaN") || strings.Contains(s, "Inf")) {
					t.Errorf("%s: %s=%q", name, a.Name.Local, s)
				}
				if decimals.MatchString(a.Value) {
					t.Errorf("%s: %s=%q has more than two decimals", name, a.Name.Local, a.Value)
				}
			}
		case xml.EndElement:
			path = path[:len(path)-1]
		case xml.CharData:
			switch path := strings.Join(path, "/"); path {
			case "svg/title":
				title += string(e)
			case "svg/desc":
				desc += string(e)
			}
			if strings.Contains(string(e), "NaN") || strings.Contains(string(e), "Inf") {
				t.Errorf("%s: the text %q", name, e)
			}
		}
	}
	if title == "" || desc == "" || !strings.Contains(svg, ` role="img"`) || !strings.Contains(svg, ` viewBox="0 0 `) {
		t.Errorf("%s: no title, description, role or view box", name)
	}
	seen := map[string]bool{}
	for _, m := range anyID.FindAllStringSubmatch(svg, -1) {
		if seen[m[1]] {
			t.Errorf("%s: the id %q is there twice", name, m[1])
		}
		seen[m[1]] = true
	}
	for _, m := range regexp.MustCompile(`url\(#([^)]*)\)`).FindAllStringSubmatch(svg, -1) {
		if !seen[m[1]] {
			t.Errorf("%s: nothing has the id %q", name, m[1])
		}
	}
}

func TestPictures(t *testing.T) {
	for name, svg := range hostile() {
		wellFormed(t, name, svg)
	}
	folder := filepath.Join("testdata", "pencil")
	for name, svg := range pictures() {
		wellFormed(t, name, svg)
		if again := pictures()[name]; again != svg {
			t.Errorf("%s is not the same when drawn again", name)
		}
		file := filepath.Join(folder, name+".svg")
		if os.Getenv("JETWRIGHT_UPDATE") == "1" {
			if err := os.MkdirAll(folder, 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(file, []byte(svg), 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if string(want) != svg {
			t.Errorf("%s differs; JETWRIGHT_UPDATE=1 go test ./report writes it anew", file)
		}
	}
}

// Two pictures in one page share no id.
func TestPictureIDs(t *testing.T) {
	a, b := exampleTraces(100), exampleTraces(100)
	b.ID = "log_"
	c, d := exampleChart(2), exampleChart(2)
	d.ID = "thrust "
	wellFormed(t, "joined", `<svg role="img" viewBox="0 0 1 1"><title>t</title><desc>d</desc>`+a.SVG()+b.SVG()+c.SVG()+d.SVG()+`</svg>`)
	if pictureID("a b") == pictureID("a_20_b") {
		t.Error("two ids became one")
	}
}

// Steps are 1, 2 or 5 times a power of ten, and no more than asked for.
func TestTicks(t *testing.T) {
	for _, e := range []extent{{0, 1}, {0, 7000}, {-3, 11}, {1e-7, 3e-7}, {99.5, 100.5}, {-2e9, 5e9}, {0, 0.3}} {
		for parts := 2; parts < 12; parts++ {
			ticks, step := niceTicks(e, parts)
			m := step / math.Pow(10, math.Floor(math.Log10(step)+1e-9))
			if math.Abs(m-1) > 1e-9 && math.Abs(m-2) > 1e-9 && math.Abs(m-5) > 1e-9 {
				t.Errorf("%v in %d parts has the step %g", e, parts, step)
			}
			if len(ticks) < 1 || len(ticks) > parts+1 {
				t.Errorf("%v in %d parts has %d ticks", e, parts, len(ticks))
			}
			for _, x := range ticks {
				if x < e.low-1e-5*step || x > e.high+1e-5*step {
					t.Errorf("%v has a tick at %g", e, x)
				}
			}
		}
	}
	for _, c := range []struct {
		x, step float64
		want    string
	}{{0.30000000000000004, 0.1, "0.3"}, {-20, 10, "−20"}, {12000, 2000, "12\u202f000"}, {-1e-18, 0.5, "0"}, {7000, 1000, "7000"}} {
		if got := tickText(c.x, c.step); got != c.want {
			t.Errorf("%g is written %q, want %q", c.x, got, c.want)
		}
	}
}

// Thinning a log keeps its extreme values and its gaps.
func TestTraceKeepsExtremes(t *testing.T) {
	n := 100_000
	times, values := make([]float64, n), make([]float64, n)
	for i := range times {
		times[i] = float64(i) / 100
		values[i] = math.Sin(float64(i))
	}
	values[33_333], values[66_667] = 40, -40
	for i := 50_000; i < 52_000; i++ {
		values[i] = math.NaN()
	}
	panel := TracePanel{Time: times, Value: values}
	d := string(panel.path(axis{extent{0, 1000}, 0, 700}, axis{extent{-50, 50}, 100, 0}))
	if !strings.Contains(d, "L233.3 10") || !strings.Contains(d, "L466.7 90") {
		t.Error("a peak was lost")
	}
	if strings.Count(d, "M") != 2 {
		t.Errorf("one gap makes %d runs", strings.Count(d, "M"))
	}
	if len(d) > 60_000 {
		t.Errorf("%d bytes for 700 columns", len(d))
	}
}

// The pieces of the ribbon, those given back taken off, come to the battery's power.
func TestLedgerSums(t *testing.T) {
	cut := regexp.MustCompile(`<rect class="(\w+)" data-watts="([^"]+)" data-width="([^"]+)" x="[^"]+" y="[^"]+" width="([^"]+)"`)
	for _, c := range []struct{ way, short bool }{{false, false}, {true, false}, {false, true}} {
		list, total := exampleLedger(c.way)
		if c.short {
			list = list[2:]
		}
		sum, watts, end := 0.0, 0.0, 0.0
		for _, m := range cut.FindAllStringSubmatch(LedgerSVG("l", list, total), -1) {
			w, _ := strconv.ParseFloat(m[2], 64)
			width, _ := strconv.ParseFloat(m[4], 64)
			if m[3] != m[4] || (m[1] == "gain") != (w < 0) {
				t.Errorf("a piece reads %q", m)
			}
			if w < 0 {
				width = -width
			}
			sum, watts = sum+width, watts+w
			end = math.Max(end, watts)
		}
		if scale := 732 / math.Max(end, total); math.Abs(sum-scale*total) > 0.2 || math.Abs(watts-total) > 0.1 {
			t.Errorf("%+v: the pieces come to %g W and %g px, want %g W and %g px", c, watts, sum, total, scale*total)
		}
	}
}

func BenchmarkTraces(b *testing.B) {
	t := exampleTraces(400_000)
	for b.Loop() {
		t.SVG()
	}
}
