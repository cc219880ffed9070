package report

import (
	"fmt"
	"math"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"jetwright/desk"
	"jetwright/project"
)

// exampleBlades answers about the lake sled with changed keys.
func exampleBlades(t testing.TB, draws int, keys ...[2]string) *desk.BladesAnswer {
	t.Helper()
	p, err := project.Open(filepath.Join("..", "examples", "lake-sled"))
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range keys {
		d, err := p.Design.With(k[0], k[1])
		if err != nil {
			t.Fatal(err)
		}
		p = p.With(d)
	}
	a, err := desk.Blades(p, desk.Options{Draws: draws, Nominal: draws == 0})
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// withoutStator takes the stator out.
var withoutStator = [][2]string{{"stator.blades", "0"}}

// Two neighbours stand a pitch apart at the scale that the picture's bar says, and they are as long as their chord at that scale.
func TestBladeSectionsToScale(t *testing.T) {
	a := exampleBlades(t, 0)
	svg := sectionsSVG(a.Work, Style{})
	bar := regexp.MustCompile(`>(\d+) mm, both ways<`).FindStringSubmatch(svg)
	line := regexp.MustCompile(`<path d="M([\d.]+) 34L([\d.]+) 34"`).FindStringSubmatch(svg)
	if bar == nil || line == nil {
		t.Fatal("the picture has no scale")
	}
	var mm, from, to float64
	if _, err := fmt.Sscan(bar[1]+" "+line[1]+" "+line[2], &mm, &from, &to); err != nil {
		t.Fatal(err)
	}
	scale := (to - from) / mm
	shapes := regexp.MustCompile(`<path d="(M[^"]*Z)" fill="#c9ced1"`).FindAllStringSubmatch(svg, -1)
	list := shownSections(a.Work.State.Radii)
	if len(shapes) != 4*len(list) {
		t.Fatalf("%d shapes", len(shapes))
	}
	points := func(d string) []point {
		var out []point
		for _, s := range strings.Split(strings.Trim(d, "MZ"), "L") {
			var q point
			if _, err := fmt.Sscan(s, &q.x, &q.y); err != nil {
				t.Fatal(err)
			}
			out = append(out, q)
		}
		return out
	}
	for row := range 2 {
		for j, surface := range list {
			k := a.Work.Section(row, surface)
			first, second := points(shapes[2*(row*len(list)+j)][1]), points(shapes[2*(row*len(list)+j)+1][1])
			if got := (second[0].x - first[0].x) / scale; math.Abs(got-1e3*k.Pitch) > 0.02/scale+0.02 {
				t.Errorf("row %d at %.1f mm: neighbours stand %.2f mm apart, pitch %.2f mm", row, 1e3*k.Radius, got, 1e3*k.Pitch)
			}
			long := 0.0
			for i := range first {
				for _, q := range first[:i] {
					long = math.Max(long, math.Hypot(q.x-first[i].x, q.y-first[i].y)/scale)
				}
			}
			if math.Abs(long-1e3*k.Chord) > 0.004*1e3*k.Chord { // the edges of a bent blade stand out a little
				t.Errorf("row %d at %.1f mm: %.2f mm long, chord %.2f mm", row, 1e3*k.Radius, long, 1e3*k.Chord)
			}
			top, bottom := first[0], first[0] // where the water comes to, and where it leaves
			for _, q := range first {
				if q.y < top.y {
					top = q
				}
				if q.y > bottom.y {
					bottom = q
				}
			}
			if comesFromAhead := top.x > bottom.x; comesFromAhead != (row == 0) {
				t.Errorf("row %d at %.1f mm leans the other way", row, 1e3*k.Radius)
			}
		}
	}
}

// What is stacked at a flow is what the pump takes less what it gives.
func TestBladeStackLaw(t *testing.T) {
	for _, keys := range [][][2]string{nil, withoutStator} {
		w := exampleBlades(t, 0, keys...).Work
		for _, c := range w.Curve {
			sum := 0.0
			for _, l := range stack(c) {
				sum += l.power
			}
			if lost := c.Power * (1 - c.Efficiency); math.Abs(sum-lost) > 2e-3*c.Power {
				t.Errorf("at %.4g m³/s %.4g W are stacked and %.4g W lost", c.Flow, sum, lost)
			}
		}
	}
}

// Bands hold what they surround, the demand at another speed is shown, and a drive without stator is drawn as well.
func TestBladesPictures(t *testing.T) {
	for name, a := range map[string]*desk.BladesAnswer{
		"drawn": exampleBlades(t, 40), "nominal": exampleBlades(t, 0), "alone": exampleBlades(t, 0, withoutStator...), "under way": exampleBlades(t, 0, [2]string{"duty.speed", "3 m/s"}),
	} {
		for _, s := range []Style{{}, {Inch: true}} {
			svg := BladesSVG(a, s)
			wellFormed(t, name, svg)
			for _, one := range append(bladesPictures(a.Work, s), titled{svg: bladeCurveSVG(a, s)}) {
				wellFormed(t, name, one.svg)
				if words := regexp.MustCompile(`>[^<]* (mm|m/s|L/s)[ ,<]`).FindString(one.svg); s.Inch && words != "" {
					t.Errorf("%s: metric words in inches: %s", name, words)
				}
				for _, o := range overlaps(one.svg) {
					t.Errorf("%s: %s", name, o)
				}
			}
		}
		svg := BladesSVG(a, Style{})
		want := []string{"the water runs back", "Where the pump", "demand at rest", "Velocity triangles", "works here"}
		if name == "alone" { // turned less, the tips stall first
			want[0] = "the water leaves the"
		}
		if name == "drawn" {
			want = append(want, "the same at 6 m/s", "the band holds 90 %")
		}
		if name == "under way" {
			want[2] = "demand at 3 m/s"
			want = append(want, "the same at rest")
		}
		for _, words := range want {
			if !strings.Contains(svg, words) {
				t.Errorf("%s: the picture does not say %q", name, words)
			}
		}
		if strings.Contains(svg, "Stator") == (name == "alone") {
			t.Errorf("%s: the stator", name)
		}
	}
	a := exampleBlades(t, 40)
	known := 0
	for i, b := range a.Bands {
		if c := a.Work.Curve[i]; !math.IsNaN(b.Head.Low) {
			known++
			if b.Head.Low > c.Head || b.Head.High < c.Head || b.Efficiency.Low > c.Efficiency || b.Efficiency.High < c.Efficiency || b.Head.High-b.Head.Low < 0.1*c.Head {
				t.Errorf("at %.4g m³/s: head %v in %v, efficiency %v in %v", c.Flow, c.Head, b.Head, c.Efficiency, b.Efficiency)
			}
		}
	}
	if known < len(a.Bands)/2 {
		t.Errorf("%d of %d flows have a band", known, len(a.Bands))
	}
}

// typedIn lays the lines of a drive.toml over its text.
func typedIn(text, lines string) string {
	section := ""
	for _, l := range strings.Split(lines, "\n") {
		key, _, ok := strings.Cut(l, "=")
		key = strings.TrimSpace(key)
		switch {
		case strings.HasPrefix(l, "["):
			section = l
		case ok:
			head, rest, _ := strings.Cut(text, section+"\n")
			own, after, _ := strings.Cut(rest, "\n[")
			own = regexp.MustCompile(`(?m)^`+key+`\s*=.*\n?`).ReplaceAllString(own, "")
			text = head + section + "\n" + l + "\n" + own + "\n[" + after
		}
	}
	return text
}

// What the room says to type is a drive on its own blades that meets its duty, with and without blades before, also in inches.
func TestBladesRoomTypedLaw(t *testing.T) {
	for _, scene := range []string{"rescue-sled", "lake-sled"} {
		for _, s := range []Style{{}, {Inch: true}} {
			folder := filepath.Join(t.TempDir(), scene)
			if err := desk.New(folder, scene); err != nil {
				t.Fatal(err)
			}
			p, err := project.Open(folder)
			if err != nil {
				t.Fatal(err)
			}
			a, err := desk.BladesRoom(p, desk.Options{Draws: 20})
			if err != nil {
				t.Fatal(err)
			}
			list, err := Fragments(a, s)
			if err != nil {
				t.Fatal(err)
			}
			all, lines := "", ""
			for _, f := range list {
				all += f.Title + f.HTML
				if _, rest, ok := strings.Cut(f.HTML, "<pre>"); ok {
					lines, _, _ = strings.Cut(rest, "</pre>")
				}
			}
			lines = strings.NewReplacer("&#34;", `"`, "&amp;", "&").Replace(lines)
			if strings.Contains(all, "NaN") || strings.Contains(all, "%!") || lines == "" {
				t.Fatalf("%s: the room says\n%s", scene, all)
			}
			if own := strings.Contains(all, "section by section"); own != (scene == "lake-sled") || strings.Contains(all, "The blades are not drawn yet") == own {
				t.Errorf("%s: own blades are shown: %t", scene, own)
			}
			text := typedIn(string(p.Design.Document().Bytes()), lines)
			q, err := project.OpenText(folder, []byte(text))
			if err != nil {
				t.Fatalf("%s: %v\n%s", scene, err, text)
			}
			if !q.Design.Bladed() {
				t.Fatalf("%s: the pump is not of blades", scene)
			}
			b, err := desk.Blades(q, desk.Options{Nominal: true})
			if err != nil {
				t.Fatalf("%s: %v", scene, err)
			}
			d := a.Found.Designed
			// the tolerances of the gap are not even about the gap that the sections are for, and the efficiency's are in the nominal
			if off := b.Work.State.Head/d.State.Head - 1; math.Abs(off) > 0.06 {
				t.Errorf("%s: typed in, the pump gives %.3g m at its duty; it was found for %.3g m", scene, b.Work.State.Head, d.State.Head)
			}
			if off := b.Work.State.RotorSpeed/d.Speed - 1; math.Abs(off) > 0.03 {
				t.Errorf("%s: typed in, the pump runs at %.4g rad/s; it was found for %.4g", scene, b.Work.State.RotorSpeed, d.Speed)
			}
		}
	}
}
