package report

import (
	"math"
	"sort"
	"strings"

	"jetwright/desk"
	"jetwright/drive"
	"jetwright/explore"
)

// SectionMark is a place of the section that a limit of strength is about.
type SectionMark struct {
	Limit string // its name
	Text  string
	Aft   bool // on the shaft it is about the aft bearing
	Heavy bool // it is broken
}

// strengthMarks are the weakest place that was judged, and what of the blades is unproven.
func strengthMarks(list []desk.Limit, s Style) []SectionMark {
	var out []SectionMark
	unproven := false
	for _, l := range list {
		if !drive.HoldsTogether(l.Name) {
			continue
		}
		aft := strings.Contains(l.Why, "aft bearing")
		switch {
		case l.NotJudged == "" && (len(out) == 0 || out[0].Limit == ""):
			out = append([]SectionMark{{Limit: l.Name, Text: "weakest: " + l.Name + ", " + s.left(l) + " left", Aft: aft, Heavy: l.State == explore.Broken}}, out...)
		case strings.HasPrefix(l.NotJudged, "unproven") && !unproven:
			unproven = true
			out = append(out, SectionMark{Text: "blades unproven: guarded spin test"})
		}
	}
	return out
}

// bearings returns where the shaft's bearings stand, mm; ok is false where that is not typed.
func (g *drafter) bearings() (front, aft float64, ok bool) {
	b := &g.drive.ShaftBuild
	if !b.BearingSpan.Set || !b.Overhang.Set {
		return 0, 0, false
	}
	aft = g.x4/2 - 1000*b.Overhang.Value
	if b.Support == "stator" {
		aft = g.x4/2 + 1000*b.Overhang.Value
	}
	front = aft - 1000*b.BearingSpan.Value
	return front, aft, front > g.motorX-0.5*g.motorLength && !g.broken
}

// drawBearings draws the bearings, where they are typed, as crossed boxes.
func (g *drafter) drawBearings() {
	front, aft, ok := g.bearings()
	if !ok {
		return
	}
	w, h := math.Max(5, 0.45*g.shaft*g.scale), math.Max(5, 0.4*g.shaft*g.scale)
	for _, x := range []float64{front, aft} {
		for _, side := range []float64{1, -1} {
			q := g.at(x, side*g.shaft/2)
			b := box{q.x - w, q.y, 2 * w, h}
			if side > 0 {
				b.y -= h
			}
			g.rect(b, `class="bearing" fill="#fff" `+stroke(inkColour, 1.2, ""))
			g.line(b.x, b.y, b.x+b.w, b.y+b.h, stroke(inkColour, 1, ""))
			g.line(b.x, b.y+b.h, b.x+b.w, b.y, stroke(inkColour, 1, ""))
		}
	}
}

// markPlace is where a limit of strength is at home on the section, mm.
func (g *drafter) markPlace(m SectionMark) point {
	middle := g.x4 / 2
	front, aft, known := g.bearings()
	if !known {
		front, aft = g.motorX, -math.Min(0.9*g.hub, 0.5*g.intake)
	}
	switch m.Limit {
	case "fatigue of the shaft", "shaft with the impeller jammed", "impeller's seat on the shaft":
		if m.Aft {
			return point{aft, -g.shaft / 2}
		}
		return point{middle, -g.shaft / 2}
	case "shaft's critical speed":
		return point{(front + aft) / 2, -g.shaft / 2}
	case "bearing load for its life":
		return point{front, -g.shaft / 2}
	case "load on the plain aft bearing":
		return point{aft, -g.shaft / 2}
	case "rubbing speed of the seal", "torque on the coupling", "speed of the coupling":
		return point{front, -g.shaft / 2}
	case "blade tip to its casing":
		return point{middle, -g.tip / 2}
	case "containment of a blade":
		return point{middle, -g.tip/2 - g.gap - g.wall/2}
	case "stress in the stator's vanes":
		return point{g.x4 + 0.5*g.stator, -g.hub / 2}
	case "stress in the nozzle's wall":
		x := g.x5 + 0.3*g.length
		return point{x, heightAt(g.pumpWall(-1), x) - g.wall/2}
	case "bolts of the housing":
		return point{g.x5, -g.shell/2 - g.gap - g.wall/2}
	}
	return point{0.15 * g.x4, -g.hub / 2} // of the blades
}

// marks draws a ring about each marked place, with words below the hull: the foremost place lowest, so that no line runs through
// words.
func (g *drafter) marks(list []SectionMark) {
	type placed struct {
		SectionMark
		at point
	}
	var all []placed
	for _, m := range list {
		q := g.markPlace(m)
		all = append(all, placed{m, g.at(q.x, q.y)})
	}
	sort.SliceStable(all, func(a, b int) bool { return all[a].at.x > all[b].at.x })
	y, last := g.hull+19, math.Inf(1)
	for _, m := range all {
		width := 1.6
		if m.Heavy {
			width = 2.6
		}
		g.add(`<circle class="weak" cx="%s" cy="%s" r="9" fill="none" %s/>`, px(m.at.x), px(m.at.y), stroke(rustColour, width, ""))
		x := math.Max(m.at.x, g.at(g.lip, 0).x+12) // ahead of the lip water streams
		x = math.Min(math.Min(x, g.w-22-textWidth(m.Text, 12.5)), last-10)
		last = x
		g.polyline([]point{{m.at.x, m.at.y + 9}, {m.at.x, math.Max(m.at.y+9, g.hull-10)}, {x, g.hull + 4}, {x, y - 4}, {x + 6, y - 4}}, stroke(rustColour, 1.2, ""))
		g.text(x+9, y, m.Text, lettering{size: 12.5, bold: m.Heavy, colour: rustColour, halo: true})
		y += 16
	}
}
