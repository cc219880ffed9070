package report

import (
	"bytes"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"jetwright/desk"
	"jetwright/plan"
	"jetwright/quantity"
)

// The page of a plan is whole, reads back, escapes what was typed, and and keeps to one sheet by what it
// holds: no picture, three tables, lists.
func TestStandPage(t *testing.T) {
	folder := t.TempDir() + "/<b>sled"
	if err := desk.New(folder, "rescue-sled"); err != nil {
		t.Fatal(err)
	}
	a, err := desk.StandIn(folder, desk.Options{Draws: 32})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range []Style{{}, {Inch: true}} {
		var b bytes.Buffer
		if err := StandHTML(&b, a, s); err != nil {
			t.Fatal(err)
		}
		page := b.String()
		tree, err := html.Parse(strings.NewReader(page))
		if err != nil {
			t.Fatal(err)
		}
		count := map[string]int{}
		var walk func(*html.Node)
		walk = func(n *html.Node) {
			if n.Type == html.ElementNode {
				count[n.Data]++
			}
			for c := n.FirstChild; c != nil; c = c.NextSibling {
				walk(c)
			}
		}
		walk(tree)
		if count["table"] != 3 || count["script"] != 0 || count["b"] != 0 || count["h2"] < 7 || count["style"] != 2 {
			t.Errorf("the page holds %v", count)
		}
		for _, words := range []string{"&lt;b&gt;sled", "local codes and licensed practice", "second tether", "@page { size: A4"} {
			if !strings.Contains(page, words) {
				t.Errorf("the page does not say %q", words)
			}
		}
		if strings.Contains(page, "NaN") || strings.Contains(page, "%!") || strings.Contains(page, "ZgotmplZ") {
			t.Error("the page holds what it should not")
		}
	}
}

// What is broken or not judged is said before anything else.
func TestStandShort(t *testing.T) {
	a := &desk.StandAnswer{Plan: &plan.Plan{
		Steps: []plan.Step{{Kind: plan.New, Power: 500}}, First: true, Place: "battery", Ends: "here",
		Stand:    []plan.Check{{Name: "sliding of the stand", State: plan.Broken}, {Name: "overturning of the stand", State: plan.NotJudged}},
		Hardware: []plan.Check{{Name: "rotor speed", State: plan.Broken}},
	}}
	text := ""
	for _, w := range standShort(a, Style{}) {
		text += w.Text + "\n"
	}
	for _, words := range []string{"BROKEN at the highest step: sliding of the stand, rotor speed", "Not judged: overturning of the stand"} {
		if !strings.Contains(text, words) {
			t.Errorf("it does not say %q:\n%s", words, text)
		}
	}
}

func TestAboutFigures(t *testing.T) {
	for _, c := range []struct {
		x    float64
		unit string
		want string
	}{{1408.3, "N·m", "1410 N·m"}, {32.04, "N·m", "32.0 N·m"}, {0, "N", "0 N"}, {0.01234, "N", "0.0123 N"}, {414.15, "°C", "141 °C"}} {
		if got := (Style{}).about(c.x, c.unit); got != c.want {
			t.Errorf("%g %s is %q, want %q", c.x, quantity.MustUnit(c.unit).Symbol, got, c.want)
		}
	}
}
