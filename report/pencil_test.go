package report

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"jetwright/drive"
	"jetwright/project"
	"jetwright/quantity"
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

// exampleDrive is the rescue sled, every length times a factor.
func exampleDrive(t testing.TB, by float64) *drive.Drive {
	t.Helper()
	p, err := project.Open(filepath.Join("..", "examples", "rescue-sled"))
	if err != nil {
		t.Fatal(err)
	}
	d := p.Design.Nominal()
	for _, x := range []*float64{
		&d.Intake.Width.Value, &d.Intake.Length, &d.Impeller.Diameter, &d.Impeller.HubDiameter, &d.Impeller.Length, &d.Impeller.TipGap.Value,
		&d.Stator.Length, &d.Nozzle.Diameter, &d.Nozzle.Length, &d.Shaft.Length, &d.Shaft.Diameter, &d.Shaft.Height, &d.Motor.Length, &d.Motor.Diameter, &d.Cooling.TapDiameter,
	} {
		*x *= by
	}
	d.Intake.ThroatArea.Value *= by * by
	return &d
}

// exampleFigures stand below the stations.
var exampleFigures = []SectionFigure{
	{0, []string{"0 m/s", "101.1 kPa"}},
	{1, []string{"0.2 m/s", "101.1 kPa"}},
	{2, []string{"4.22 m/s", "91.0 kPa"}},
	{3, []string{"5.35 m/s", "82.4 kPa"}},
	{4, []string{"5.35 m/s", "swirl 4.1 m/s", "149 kPa"}},
	{5, []string{"5.35 m/s", "147 kPa"}},
	{6, []string{"10.75 m/s", "102 kPa"}},
	{7, []string{"10.89 m/s", "101.1 kPa"}},
}

// sections are drives of several sizes, and some that hardly fit together.
func sections(t testing.TB) map[string]string {
	small, large := exampleDrive(t, 0.5), exampleDrive(t, 2)
	odd := exampleDrive(t, 1)
	odd.Intake.RampAngle, odd.Shaft.Length, odd.Nozzle.Diameter, odd.Nozzle.HeightOffset = 0.2, 1.1, 0.04, 0.03
	odd.Cooling.First, odd.Nozzle.Contraction = "motor", 0.6
	short := exampleDrive(t, 1)
	short.Intake.Length, short.Shaft.Length, short.Motor.Diameter, short.Shaft.Height = 0.12, 0.08, 0.2, 0.15
	assumed := map[string]bool{"motor.length": true, "motor.diameter": true, "intake.length": true, "nozzle.length": true, "impeller.length": true}
	return map[string]string{
		"section":       SectionSVG("section", exampleDrive(t, 1), exampleFigures, Style{}),
		"section-small": SectionSVG("section-small", small, exampleFigures, Style{}),
		"section-large": SectionSVG("section-large", large, nil, Style{Inch: true}),
		"section-odd":   Section{ID: "section-odd", Drive: odd, Figures: exampleFigures, Assumed: assumed}.SVG(),
		"section-short": SectionSVG("section-short", short, exampleFigures, Style{}),
	}
}

// pictures are examples of every kind, by the name of their golden file.
func pictures(t testing.TB) map[string]string {
	long := exampleChart(8)
	long.Curves[1].Name = "a name far too long to stand at the end of a curve in the margin"
	long.Curves[1].Low, long.Curves[1].High = long.Curves[0].Low, long.Curves[0].High
	rest, restTotal := exampleLedger(false)
	way, wayTotal := exampleLedger(true)
	out := sections(t)
	maps.Copy(out, map[string]string{
		"ledger-rest": LedgerSVG("ledger-rest", rest, restTotal),
		"ledger-way":  LedgerSVG("ledger-way", way, wayTotal),
		"chart-0":     exampleChart(0).SVG(),
		"chart-1":     exampleChart(1).SVG(),
		"chart-8":     exampleChart(8).SVG(),
		"chart-long":  long.SVG(),
		"chart-none":  Chart{ID: "none", Title: "Nothing yet"}.SVG(),
		"multiples":   SmallMultiples("multi", "The ladder", "", []Chart{exampleChart(0), exampleChart(1), exampleChart(8), {Title: "None"}}, 2),
		"log":         exampleTraces(4000).SVG(),
	})
	return out
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
	out["no drive"] = SectionSVG("", nil, nil, Style{})
	out["bare drive"] = SectionSVG(bad, &drive.Drive{}, []SectionFigure{{-1, []string{bad}}, {3, []string{bad, bad}}, {9, []string{bad}}}, Style{})
	broken := drive.Drive{}
	broken.Impeller.Diameter, broken.Impeller.HubDiameter, broken.Nozzle.Diameter, broken.Intake.RampAngle, broken.Shaft.Height = nan, inf, -1, nan, inf
	broken.Intake.Length, broken.Impeller.TipGap, broken.Stator.Blades, broken.Controller.Commutation = 1e9, quantity.Some(nan), 3, bad
	broken.Cooling.TapDiameter = 0.006
	out["broken drive"] = SectionSVG("b", &broken, nil, Style{Inch: true})
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
	var paper box
	var at map[string]string
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
			at = map[string]string{}
			for _, a := range e.Attr {
				at[a.Name.Local] = a.Value
			}
			if e.Name.Local == "svg" {
				_, _ = fmt.Sscanf(at["viewBox"], "0 0 %g %g", &paper.w, &paper.h)
			}
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
			if strings.HasSuffix(strings.Join(path, "/"), "/text") {
				var x, y float64
				l := lettering{anchor: at["text-anchor"]}
				_, _ = fmt.Sscan(at["x"]+" "+at["y"]+" "+at["font-size"]+" 12", &x, &y, &l.size)
				if b := setBox(x, y, string(e), l, at["transform"]); l.size < 11 || b.x < -0.5 || b.x+b.w > paper.w+0.5 || b.y < -0.5 || b.y+b.h > paper.h+0.5 {
					t.Errorf("%s: %q of size %g runs out of the picture: %v in %v", name, e, l.size, b, paper)
				}
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
	folder, again := filepath.Join("testdata", "pencil"), pictures(t)
	for name, svg := range pictures(t) {
		wellFormed(t, name, svg)
		for _, o := range overlaps(svg) {
			t.Errorf("%s: %s", name, o)
		}
		if again[name] != svg {
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

// Dimension lines are as long on paper as the design says at the scale.
func TestSectionToScale(t *testing.T) {
	line := regexp.MustCompile(`data-name="([^"]+)" data-mm="([^"]+)" data-scale="[^"]+" d="M([-\d.]+) ([-\d.]+)L([-\d.]+) ([-\d.]+)"`)
	for _, by := range []float64{0.4, 0.5, 1, 2, 2.5} {
		d := exampleDrive(t, by)
		lengths := map[string]float64{}
		scale := 0.0
		for _, m := range line.FindAllStringSubmatch(SectionSVG("s", d, nil, Style{}), -1) {
			var x [5]float64
			for i := range x {
				x[i], _ = strconv.ParseFloat(m[i+2], 64)
			}
			on := math.Hypot(x[3]-x[1], x[4]-x[2])
			lengths[m[1]] = on
			if m[1] == "intake length" {
				scale = on / x[0]
			}
		}
		for name, want := range map[string]float64{
			"impeller": d.Impeller.Diameter, "hub": d.Impeller.HubDiameter, "nozzle": d.Nozzle.Diameter,
			"intake length": d.Intake.Length, "impeller length": d.Impeller.Length, "stator length": d.Stator.Length, "nozzle length": d.Nozzle.Length,
		} {
			if got := lengths[name] / scale / 1000; math.Abs(got-want) > 0.001*want+0.02/scale/1000 {
				t.Errorf("at %g the %s is drawn %.5f m, the design says %.5f m", by, name, got, want)
			}
		}
	}
}

// Whatever the lengths, the picture is whole and of a handy size.
func TestSectionAnyDrive(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for i := range 300 {
		d := exampleDriveOnce(t)
		spread := 0.3
		if i >= 150 {
			spread = 1.2
		}
		for _, x := range []*float64{
			&d.Intake.Length, &d.Intake.RampAngle, &d.Intake.ThroatArea.Value, &d.Impeller.Diameter, &d.Impeller.HubDiameter, &d.Impeller.Length, &d.Stator.Length,
			&d.Nozzle.Diameter, &d.Nozzle.Length, &d.Shaft.Length, &d.Shaft.Height, &d.Motor.Length, &d.Motor.Diameter,
		} {
			*x *= math.Exp(spread * r.NormFloat64())
		}
		if i%2 == 1 {
			d.Cooling.First = "motor"
		}
		svg := SectionSVG("s", &d, exampleFigures, Style{Inch: i%3 == 0})
		name := fmt.Sprintf("drive %d", i)
		wellFormed(t, name, svg)
		if i < 150 {
			for _, o := range overlaps(svg) {
				t.Errorf("%s: %s", name, o)
			}
		}
		var w, h float64
		if _, err := fmt.Sscanf(svg[strings.Index(svg, "viewBox"):], `viewBox="0 0 %g %g"`, &w, &h); err != nil || w != 1000 || h > 1100 {
			t.Errorf("%s is %g by %g px", name, w, h)
		}
	}
}

// setBox is the room that a text takes as it is set, which may be upright.
func setBox(x, y float64, s string, l lettering, transform string) box {
	b := textBox(x, y, s, l)
	if strings.HasPrefix(transform, "rotate(-90 ") {
		b = box{x + b.y - y, y - (b.x + b.w - x), b.h, b.w}
	}
	return b
}

// overlaps lists texts that cover each other.
func overlaps(svg string) []string {
	type set struct {
		s string
		b box
	}
	var list []set
	var out []string
	d := xml.NewDecoder(strings.NewReader(svg))
	for {
		token, err := d.Token()
		if err != nil {
			return out
		}
		e, ok := token.(xml.StartElement)
		if !ok || e.Name.Local != "text" {
			continue
		}
		at := map[string]string{}
		for _, a := range e.Attr {
			at[a.Name.Local] = a.Value
		}
		next, _ := d.Token()
		words, _ := next.(xml.CharData)
		var x, y float64
		l := lettering{anchor: at["text-anchor"]}
		_, _ = fmt.Sscan(at["x"]+" "+at["y"]+" "+at["font-size"]+" 12", &x, &y, &l.size)
		b := setBox(x, y, string(words), l, at["transform"])
		if b.w *= 0.94; at["transform"] != "" { // the estimate is on the wide side
			b.w, b.h = b.w/0.94, 0.94*b.h
		}
		for _, o := range list {
			if b.overlap(o.b) > 0.12*math.Min(b.w*b.h, o.b.w*o.b.h) {
				out = append(out, fmt.Sprintf("%q on %q", words, o.s))
			}
		}
		list = append(list, set{string(words), b})
	}
}

var exampleOnce *drive.Drive

func exampleDriveOnce(t testing.TB) drive.Drive {
	if exampleOnce == nil {
		exampleOnce = exampleDrive(t, 1)
	}
	return *exampleOnce
}

// The shape keeps what the design says.
func TestSectionShape(t *testing.T) {
	d := exampleDrive(t, 1)
	s := shapeOf(d, nil)
	if len(s.notes) > 0 || len(s.made) > 0 {
		t.Errorf("notes %q, made up %v", s.notes, s.made)
	}
	roof := s.roof()
	steepest := 0.0
	for i := 1; i < len(roof); i++ {
		steepest = math.Max(steepest, math.Atan2(roof[i].y-roof[i-1].y, roof[i].x-roof[i-1].x))
	}
	if math.Abs(steepest-d.Intake.RampAngle) > 1e-6 {
		t.Errorf("the ramp is drawn at %g rad, the design says %g", steepest, d.Intake.RampAngle)
	}
	if got, want := s.throat*d.Intake.Width.Value/1000, d.Intake.ThroatArea.Value; math.Abs(got-want) > 1e-9 {
		t.Errorf("the throat has %g m², the design says %g", got, want)
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

func BenchmarkSection(b *testing.B) {
	d := exampleDrive(b, 1)
	for b.Loop() {
		SectionSVG("section", d, exampleFigures, Style{})
	}
}
