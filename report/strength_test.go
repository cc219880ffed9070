package report

import (
	"strings"
	"testing"

	"jetwright/desk"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/project"
	"jetwright/quantity"
)

func sceneStrength(t testing.TB, scene string) (*project.Project, *desk.StrengthAnswer) {
	t.Helper()
	p, err := project.Open("../examples/" + scene)
	if err != nil {
		t.Fatal(err)
	}
	a, err := desk.Strength(p, desk.Options{Nominal: true})
	if err != nil {
		t.Fatal(err)
	}
	return p, a
}

// Each limit of strength has a place of its own on the paper, the weakest one is drawn, and both scenes say that their blades
// are unproven.
func TestStrengthMarks(t *testing.T) {
	for _, scene := range []string{"rescue-sled", "lake-sled"} {
		p, a := sceneStrength(t, scene)
		d := p.Design.Nominal()
		marks := strengthMarks(a.Limits, Style{})
		if len(marks) != 2 || marks[1].Text != "blades unproven: guarded spin test" {
			t.Fatalf("%s: marks %+v", scene, marks)
		}
		svg := Section{ID: "s", Drive: &d, Marks: marks}.SVG()
		if n := strings.Count(svg, `class="weak"`); n != 2 {
			t.Errorf("%s: %d rings", scene, n)
		}
		if n := strings.Count(svg, `class="bearing"`); n != 4 {
			t.Errorf("%s: %d bearings are drawn", scene, n)
		}
		for _, m := range marks {
			if !strings.Contains(svg, strings.ReplaceAll(m.Text, "'", "&#39;")) && !strings.Contains(svg, m.Text) {
				t.Errorf("%s: %q is not written", scene, m.Text)
			}
		}
		places := map[point]string{}
		for _, l := range a.Limits {
			g := Section{ID: "s", Drive: &d}.drafter()
			q := g.markPlace(SectionMark{Limit: l.Name})
			at := g.at(q.x, q.y)
			if at.x < 0 || at.x > g.w || at.y < 0 || at.y > g.h {
				t.Errorf("%s: %s stands outside of the paper at %+v", scene, l.Name, at)
			}
			places[at] = l.Name
		}
		if len(places) < 8 {
			t.Errorf("%s: only %d places for %d limits: %v", scene, len(places), len(a.Limits), places)
		}
	}
}

// Of the limits that were judged the nearest is marked, whatever was not judged before it.
func TestWeakestMarkExact(t *testing.T) {
	limit := func(name, why string, margin float64) desk.Limit {
		j := explore.JudgedLimit{Limit: quantity.Limit{Name: name, NotJudged: why, Unit: "1"}, State: explore.Clear, Margin: margin, Bad: margin}
		if why != "" {
			j.State = explore.NotJudged
		}
		return desk.Limit{JudgedLimit: j}
	}
	marks := strengthMarks([]desk.Limit{
		limit("winding temperature", "", 0.1), limit("blade root stress", "unproven: guarded spin test; x", 0), limit("fatigue of the shaft", "", 0.2), limit("shaft with the impeller jammed", "", 0.3),
	}, Style{})
	if len(marks) != 2 || marks[0].Limit != "fatigue of the shaft" || !strings.Contains(marks[0].Text, "20 %") {
		t.Errorf("marks %+v", marks)
	}
	if !drive.HoldsTogether("fatigue of the shaft") || drive.HoldsTogether("winding temperature") {
		t.Error("limits of strength are told apart by their names")
	}
}
