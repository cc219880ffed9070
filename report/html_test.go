package report

import (
	"bytes"
	"math"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"jetwright/bench"
	"jetwright/desk"
	"jetwright/notice"
	"jetwright/quantity"
	"jetwright/reckon"
)

func reportAnswer(t testing.TB, o desk.Options) *desk.ReportAnswer {
	t.Helper()
	folder := filepath.Join(t.TempDir(), "sled")
	if err := desk.New(folder, "rescue-sled"); err != nil {
		t.Fatal(err)
	}
	o.Gaussian = true // walking is held in reckon
	a, err := desk.ReportIn(folder, o)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func pageOf(t testing.TB, a *desk.ReportAnswer, s Style) string {
	t.Helper()
	var b bytes.Buffer
	if err := HTML(&b, a, s); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// exampleDay is a bench day with two logs, a tare that drifts, a step that did not settle and a
// winding temperature that froze.
func exampleDay(run string) *bench.Reduction {
	const duration, block = 900.0, 2.0
	steps := []float64{0, 90, 150, 200, 255, 300}
	d := &bench.Reduction{
		Run: run, Duration: duration, Block: block,
		Clocks:   []bench.SourceClock{{Source: "scale.csv", LogClock: bench.LogClock{Shared: bench.OwnClock, Typed: true}}, {Source: "controller.csv", LogClock: bench.LogClock{Offset: 12.4, UOffset: 0.2, Drift: 4e-5, UDrift: 1e-5, Shared: "rotor speed and pull", Correlation: 0.93, Windows: 17}}},
		Tare:     bench.Tare{Known: true, Start: 3.2, UStart: 0.4, Drift: 0.0015, UDrift: 0.0004, Windows: 2},
		Friction: bench.Friction{Known: true, Force: 2.4, U: 0.9, Steps: 2},
		Zeros:    []bench.Zero{{Span: bench.Span{From: 5, To: 60}, Pull: 3.3, U: 0.3}, {Span: bench.Span{From: 860, To: 895}, Pull: 4.5, U: 0.4, Typed: true}},
		Doubts:   []bench.Doubt{{Channel: bench.WindingTemperature, Source: "controller.csv", Kind: bench.Frozen, Span: bench.Span{From: 420, To: 760}, Evidence: "41.0 °C to the last digit for 340 s while the phase current rose from 66 to 99 A", Drops: true}},
		Notices:  notice.List{{Kind: notice.Warning, What: "the winding temperature stood still"}},
	}
	track := func(c bench.Channel, source string, of func(at float64, step int) float64) {
		t := bench.Track{Channel: c, Source: source, Step: block}
		for at := block / 2; at < duration; at += block {
			k := 0
			if at > 80 && at < 850 {
				k = 1 + min(4, int((at-80)/150))
			}
			t.Values = append(t.Values, of(at, k))
		}
		d.Tracks = append(d.Tracks, t)
	}
	watts := []float64{0, 630, 1180, 1830, 2660, 3380}
	track(bench.Thrust, "scale.csv", func(at float64, k int) float64 { return steps[k] + 3.2 + 0.0015*at + 2*math.Sin(at) })
	track(bench.Power, "controller.csv", func(at float64, k int) float64 { return watts[k] * (1 + 0.01*math.Sin(3*at)) })
	track(bench.RotorSpeed, "controller.csv", func(at float64, k int) float64 {
		return 62 * math.Sqrt(steps[k]) / 3 * (1 + 0.002*math.Sin(2*at))
	})
	track(bench.BatteryVoltage, "controller.csv", func(at float64, k int) float64 {
		if at > 300 && at < 330 {
			return math.NaN()
		}
		return 49 - 0.001*watts[k]
	})
	track(bench.PhaseCurrent, "controller.csv", func(_ float64, k int) float64 { return 0.33 * steps[k] })
	track(bench.WindingTemperature, "controller.csv", func(at float64, _ int) float64 { return 287 + 25*(1-math.Exp(-math.Min(at, 420)/400)) })
	track(bench.BridgeTemperature, "controller.csv", func(at float64, _ int) float64 { return 287 + 6*(1-math.Exp(-at/200)) })
	for k := 1; k <= 5; k++ {
		from := 80 + 150*float64(k-1)
		p := bench.Plateau{Name: run + ", plateau " + string(rune('0'+k)), Run: run, PowerPlace: "battery", Span: bench.Span{From: from + 30, To: from + 145}, Held: quantity.Some(115), Direction: "up"}
		add := func(c bench.Channel, v, u float64) {
			p.Figures = append(p.Figures, bench.Figure{Channel: c, Value: v, Limits: u, Repeat: u / 2, Standard: true, Cleared: true, Budget: []bench.Component{{Name: "scatter", U: u}}})
		}
		add(bench.Thrust, steps[k], 2)
		add(bench.Power, watts[k], 0.02*watts[k])
		add(bench.RotorSpeed, 62*math.Sqrt(steps[k])/3, 0.4)
		add(bench.BatteryVoltage, 49-0.001*watts[k], 0.1)
		add(bench.PhaseCurrent, 0.33*steps[k], 1)
		if k < 3 {
			add(bench.WindingTemperature, 287+5*float64(k), 1)
		}
		add(bench.BridgeTemperature, 290+float64(k), 1)
		if k == 3 {
			p.Unsettled = "the pull was still rising by 1.2 N a minute"
			p.Figures[0].Unsettled = true
		}
		d.Plateaus = append(d.Plateaus, p)
	}
	return d
}

var pageSections = []string{
	"The drive, and its state at the design point", "Where the watts go", "Limits, nearest first", "Bench days", "Thrust against power", "Similarity along the ladder",
	"Claims, and what the readings say", "The next step", "What is assumed, and what it matters", "Sources", "Cautions",
}

var loads = regexp.MustCompile(`(?i)<script|<link|<iframe|<img|<object|<embed|@import|src\s*=|href="[^#]|url\([^#]|\son\w+=`)

// checkPage holds a page to what every page must be: whole, without anything to load, ids once,
// no number that is none.
func checkPage(t *testing.T, page string) *html.Node {
	t.Helper()
	root, err := html.Parse(strings.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	if m := loads.FindString(page); m != "" {
		t.Errorf("the page loads or runs something: %q", m)
	}
	for _, m := range regexp.MustCompile(`https?://[^" ]*`).FindAllString(page, -1) {
		if m != "http://www.w3.org/2000/svg" {
			t.Errorf("the page names %q", m)
		}
	}
	ids := map[string]int{}
	var words strings.Builder
	open := 0
	var walk func(n *html.Node)
	walk = func(n *html.Node) {
		for _, a := range n.Attr {
			if a.Key == "id" {
				ids[a.Val]++
			}
		}
		if n.Type == html.TextNode {
			words.WriteString(n.Data + "\n")
		}
		if n.Type == html.ElementNode && n.Data == "svg" {
			open++
		}
		for c := n.FirstChild; c != nil; c = c.NextSibling {
			walk(c)
		}
	}
	walk(root)
	for id, n := range ids {
		if n > 1 {
			t.Errorf("the id %q is there %d times", id, n)
		}
	}
	if open < 3 {
		t.Errorf("the page has %d pictures", open)
	}
	for _, bad := range []string{"NaN", "Inf", "%!", "<nil>", "<no value>", "ZgotmplZ", "not known by"} {
		if strings.Contains(words.String(), bad) || strings.Contains(page, "ZgotmplZ") {
			t.Errorf("the page prints %q", bad)
		}
	}
	for _, ref := range regexp.MustCompile(`href="#([^"]+)"|url\(#([^)]+)\)|aria-labelledby="([^"]+)"`).FindAllStringSubmatch(page, -1) {
		for _, id := range strings.Fields(ref[1] + ref[2] + ref[3]) {
			if ids[id] == 0 {
				t.Errorf("nothing has the id %q that the page refers to", id)
			}
		}
	}
	return root
}

func TestPage(t *testing.T) {
	a := reportAnswer(t, desk.Options{Draws: 64})
	for _, s := range []Style{{}, {Inch: true, Colour: true}} {
		page := pageOf(t, a, s)
		checkPage(t, page)
		for _, title := range pageSections {
			if !strings.Contains(page, ">"+title+"</h2>") {
				t.Errorf("the page has no section %q", title)
			}
		}
		for _, words := range []string{"refuted", "Next test at rest:", "2/3 law", "before any reading", "Our own form or range", "Audit of the promise", "Readings beside the prediction", "impeller.efficiency"} {
			if !strings.Contains(page, words) {
				t.Errorf("the page does not say %q", words)
			}
		}
		if page != pageOf(t, a, s) {
			t.Error("the same answer gives another page")
		}
	}
	if inch := pageOf(t, a, Style{Inch: true}); !strings.Contains(inch, "lbf") || strings.Contains(inch, "thrust at rest, N") {
		t.Error("the page in inches is not in inches")
	}
	nominal := pageOf(t, reportAnswer(t, desk.Options{Nominal: true}), Style{})
	checkPage(t, nominal)
	if !strings.Contains(nominal, "Nominal values, no intervals") {
		t.Error("a page without intervals does not say so")
	}
}

// A day of logs is drawn, its frozen temperature named with its evidence.
func TestPageOfADay(t *testing.T) {
	a := reportAnswer(t, desk.Options{Draws: 64})
	a.Days = nil
	bare := pageOf(t, a, Style{})
	a.Days = []*bench.Reduction{exampleDay("2026-05-10-ladder"), {Run: "empty"}, exampleDay("2026-05-11-ladder")}
	page := pageOf(t, a, Style{})
	checkPage(t, page)
	for _, words := range []string{
		`id="log-1-1"`, "3, not settled", "had not settled are drawn", `id="log-3-1"`, ">frozen<", "41.0\u00a0°C to the last digit", "7:00 to 12:40", "not used", "the pull was still rising", "thrust, tare taken off, N",
		"Tare in 2 zero windows", "Carriage friction 2.4", "controller.csv was set to it by its rotor speed and pull", "scale.csv gives the run&#39;s clock", "winding temperature", "No plateau was found",
	} {
		if !strings.Contains(page, words) {
			t.Errorf("the page of a day does not say %q", words)
		}
	}
	if strings.Contains(bare, "Tare in") || !strings.Contains(bare, "No logs were reduced") || strings.Contains(page, "No logs were reduced") {
		t.Error("days are told where there are none, or not where there are")
	}
}

// What a stranger may have typed is escaped, in the page and in its pictures.
func TestPageEscapes(t *testing.T) {
	const evil = `<b>&"'</style><script>alert(1)</script>`
	a := reportAnswer(t, desk.Options{Draws: 20})
	a.Name = evil
	a.Days = []*bench.Reduction{exampleDay(evil)}
	a.Days[0].Doubts[0].Evidence, a.Days[0].Doubts[0].Kind = evil, evil
	a.Days[0].Clocks[1].Source, a.Days[0].Tracks[0].Source, a.Days[0].Tracks[1].Source = evil, evil, evil
	a.Days[0].Tracks[1].Channel = evil
	a.Claims[0].Claim.Text, a.Claims[0].Claim.From = evil, evil
	for i := range a.Curves[0].Claims {
		a.Curves[0].Claims[i].Claim.Text = evil
	}
	a.Plateaus[0].Plateau.Name = evil
	a.Notices = append(a.Notices, notice.Notice{Kind: notice.Warning, What: evil, WayOut: evil})
	a.Ledger[0].Name = evil
	page := pageOf(t, a, Style{})
	checkPage(t, page)
	if strings.Contains(page, "<b>&") || strings.Contains(page, "alert(1)</script>") || !strings.Contains(page, "&lt;b&gt;") {
		t.Error("what was typed stands in the page unescaped")
	}
}

// Many readings stand in rows, so that the page does not grow a page for every two of them.
func TestPageOfManyReadings(t *testing.T) {
	a := reportAnswer(t, desk.Options{Draws: 20})
	for range 2 {
		a.Plateaus = append(a.Plateaus, a.Plateaus...)
		a.Powers = append(a.Powers, a.Powers...)
	}
	page := pageOf(t, a, Style{})
	checkPage(t, page)
	if !strings.Contains(page, "without their intervals, rounded by them") || !strings.Contains(page, `<th scope="row">20</th>`) || strings.Contains(page, `class="group"`) {
		t.Error("many readings do not stand in rows")
	}
}

// Readings at several places of power get a picture each, and claims stand beside all of them.
func TestPageOfPlaces(t *testing.T) {
	a := reportAnswer(t, desk.Options{Draws: 20})
	second := a.Curves[0]
	second.Place = "shaft"
	second.Absent = []string{"nothing"}
	a.Curves = append(a.Curves, second)
	a.Plateaus[0].Plateau.PowerPlace = "shaft"
	page := pageOf(t, a, Style{})
	checkPage(t, page)
	for _, words := range []string{`id="thrust-1"`, `id="thrust-2"`, "power at the motor shaft, W", "The same against power at the motor shaft", "Left out here, since power was read at another place: 1 reading."} {
		if !strings.Contains(page, words) {
			t.Errorf("the page does not say %q", words)
		}
	}
}

// A drive without claims and readings has a page too.
func TestPageOfNothing(t *testing.T) {
	a := reportAnswer(t, desk.Options{Draws: 20})
	a.Claims, a.Audits, a.Plateaus, a.Powers, a.Fit, a.Next = nil, nil, nil, nil, nil, reckon.NextStep{Reasons: []string{"no reading stands"}}
	for i := range a.Curves {
		a.Curves[i].Claims = nil
		for k := range a.Curves[i].Points {
			a.Curves[i].Points[k].HasAfter = false
		}
	}
	page := pageOf(t, a, Style{})
	checkPage(t, page)
	for _, words := range []string{"the design holds none", "no further step yet", "nothing was read yet"} {
		if !strings.Contains(page, words) {
			t.Errorf("the page does not say %q", words)
		}
	}
}

// Single pictures are whole SVG files.
func TestSinglePictures(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "sled")
	if err := desk.New(folder, "rescue-sled"); err != nil {
		t.Fatal(err)
	}
	for _, o := range []desk.Options{{Draws: 20}, {Nominal: true}} {
		for _, at := range []desk.PredictAt{{}, {Place: "shaft"}, {Speeds: []float64{1, 2, 4}}} {
			a, err := desk.PredictIn(folder, at, o)
			if err != nil {
				t.Fatal(err)
			}
			svg := PredictSVG(a, Style{})
			wellFormed(t, "prediction", svg)
			want := "Thrust against power"
			if at.Speeds != nil {
				want = "Thrust against craft speed"
			}
			if !strings.Contains(svg, want) || strings.Contains(svg, "no data") {
				t.Errorf("the picture of %+v is not of %q", at, want)
			}
		}
		d, err := desk.LimitsIn(folder, o)
		if err != nil {
			t.Fatal(err)
		}
		svg := DutySVG(d, Style{})
		wellFormed(t, "duty", svg)
		if !strings.Contains(svg, `id="section"`) || !strings.Contains(svg, `id="ledger"`) {
			t.Error("the picture of a drive lacks its section or its ledger")
		}
	}
}

func BenchmarkPage(b *testing.B) {
	a := reportAnswer(b, desk.Options{})
	a.Days = []*bench.Reduction{exampleDay("2026-05-10-ladder")}
	for b.Loop() {
		pageOf(b, a, Style{})
	}
}
