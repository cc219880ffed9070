package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

const (
	jetColour   = "#b9dcec"
	metalColour = "#f1f1ee"
	hairColour  = "#7b858b"
)

// tint colours the water: below and behind the hull, within the drive, and the jet.
func (g *drafter) tint() {
	const side = 12.0
	g.rect(box{side, g.hull, g.w - 2*side, g.bottom - g.hull}, `fill="`+waterColour+`"`)
	line := g.y0 - g.scale*g.water
	stern := g.at(g.x5+0.3*g.wall, 0).x
	if line < g.hull && !g.dry {
		g.rect(box{stern, line, g.w - side - stern, g.hull - line}, `fill="`+waterColour+`"`)
	}
	inside := append(g.all(g.roof()), g.all(g.pumpWall(1))...)
	floor := append(g.all(g.floor()), g.all(g.pumpWall(-1))...)
	for i := len(floor) - 1; i >= 0; i-- {
		inside = append(inside, floor[i])
	}
	g.area(inside, `fill="`+waterColour+`"`)

	// the jet narrows to station 7
	end := (g.w - side - g.x0) / g.scale
	var upper, lower []point
	for i := 0; i <= 16; i++ {
		t := float64(i) / 16
		r := (g.nozzle + (g.contracted-g.nozzle)*math.Sin(math.Pi/2*t)) / 2
		x := g.x6 + t*(g.x7-g.x6)
		upper, lower = append(upper, g.at(x, g.raise+r)), append(lower, g.at(x, g.raise-r))
	}
	upper, lower = append(upper, g.at(end, g.raise+g.contracted/2)), append(lower, g.at(end, g.raise-g.contracted/2))
	jet := append([]point{}, upper...)
	for i := len(lower) - 1; i >= 0; i-- {
		jet = append(jet, lower[i])
	}
	g.area(jet, `class="jet" fill="`+jetColour+`"`)
	g.polyline(upper, stroke(blueColour, 1.2, ""))
	g.polyline(lower, stroke(blueColour, 1.2, ""))

	if g.dry {
		return
	}
	// the waterline, with its sign behind the stern
	g.line(side, line, g.w-side, line, stroke(blueColour, 1.2, "14 3 2 3"))
	x, y := g.w-side-14, line-5
	g.area([]point{{x, line}, {x - 6, line - 10}, {x + 6, line - 10}}, `fill="#fff" `+stroke(blueColour, 1.2, ""))
	if top := upper[len(upper)-1].y; line > top-4 && y-9 < lower[len(lower)-1].y {
		y = math.Min(y, top-6)
	}
	if math.Abs(y-g.top+14) < 15 { // where the nozzle's bore is written
		y = line + 14
		if bottom := lower[len(lower)-1].y; y > upper[len(upper)-1].y && y-9 < bottom {
			y = bottom + 14
		}
	}
	g.text(x-10, y, "still water", lettering{size: 12.5, anchor: "end", colour: blueColour, halo: true})
}

// walls draws hull, duct, housing and nozzle as cut material.
func (g *drafter) walls() {
	cut := `fill="` + g.hatching("cut", 45, 5, 0.45, "#6c7478", metalColour, false) + `" `
	pen := stroke(inkColour, 1.4, "")
	edge := (12 - g.x0) / g.scale

	inner := append([]point{{edge, -g.depth}}, g.roof()...)
	inner = append(inner, g.pumpWall(1)[1:]...)
	outer := beside(inner, g.wall)
	upper := append([]point{}, inner...)
	for i := len(outer) - 1; i >= 0; i-- {
		upper = append(upper, outer[i])
	}
	g.area(g.all(upper), cut+`stroke="none"`)
	g.innerWall(inner)
	g.polyline(append(g.all(outer), g.all(inner[len(inner)-1:])...), stroke(hairColour, 1.2, ""))

	// below: from the lip to the nozzle, and the hull's plate on to the stern
	inner = append(g.floor(), g.pumpWall(-1)[1:]...)
	outer = beside(inner, -g.wall)
	lower := append([]point{}, inner...)
	var back []point
	for i := len(outer) - 1; i >= 0 && (outer[i].y > -g.depth+g.wall || outer[i].x > g.x5); i-- {
		back = append(back, outer[i])
	}
	if n := len(back); n > 0 {
		back = append(back, point{back[n-1].x, -g.depth + g.wall})
	}
	stern := g.x5 + 0.3*g.wall
	back = append(back, point{stern, -g.depth + g.wall}, point{stern, -g.depth})
	lower = append(append(lower, back...), point{g.lip + 0.4*g.wall, -g.depth})
	g.area(g.all(lower), cut+`stroke="none"`)
	g.innerWall(inner)
	g.polyline(g.all(append([]point{inner[len(inner)-1]}, back...)), stroke(hairColour, 1.2, ""))
	g.polyline(g.all([]point{{stern, -g.depth}, {g.lip, -g.depth}}), pen)

	// the stern is not in the design
	under := g.at(stern, -g.shell/2-g.gap-g.wall)
	if y := g.at(0, -g.depth+g.wall).y; under.y < y {
		g.line(under.x, under.y, under.x, y, stroke(hairColour, 1.2, "5 3"))
	}
	over := g.at(stern, g.shell/2+g.gap+g.wall)
	g.line(over.x, over.y, over.x, math.Min(over.y-14, g.y0-g.scale*g.water-14), stroke(hairColour, 1.2, "5 3"))
}

// grid draws the bars across the intake as a row of cuts in the hull's plane, closer or wider as typed.
func (g *drafter) grid() {
	in := g.drive.Intake
	if !in.GridBar.Set || !in.GridGap.Set {
		return
	}
	from, to := -g.intake+0.06*g.intake, g.lip
	pitch := 1000 * (in.GridBar.Value + in.GridGap.Value)
	thick := math.Max(1.6, 1000*in.GridBar.Value*g.scale)
	a, b := g.at(from, -g.depth), g.at(to, -g.depth)
	// the bars run along the hull: in the section one is seen from its side, and its fellows as dots below it
	g.line(a.x, a.y, b.x, b.y, `class="bars" `+stroke(inkColour, math.Min(thick, 3.2), ""))
	n := int(math.Min(24, math.Max(2, (to-from)/math.Max(pitch, 4))))
	for i := range n {
		x := a.x + (b.x-a.x)*(float64(i)+0.5)/float64(n)
		g.line(x, a.y-3.5, x, a.y+3.5, stroke(inkColour, 1.2, ""))
	}
	g.text(a.x+4, a.y+46, fmt.Sprintf("grid, bars %s, gaps %s", g.measure(1000*in.GridBar.Value), g.measure(1000*in.GridGap.Value)), lettering{size: 12, colour: greyColour, halo: true})
}

// innerWall draws the wetted wall, dashed where its length was not typed.
func (g *drafter) innerWall(wall []point) {
	parts := []struct {
		to   float64
		dash string
	}{{0, g.dash("intake.length", "intake.ramp_angle")}, {g.x4, g.dash("impeller.length")}, {g.x5, g.dash("stator.length")}, {math.Inf(1), g.dash("nozzle.length")}}
	from := 0
	for _, p := range parts {
		to := from
		for to+1 < len(wall) && wall[to+1].x <= p.to {
			to++
		}
		g.polyline(g.all(wall[from:to+1]), stroke(inkColour, 1.6, p.dash))
		from = to
	}
}

// rotor draws shaft, hub and impeller.
func (g *drafter) rotor() {
	r, h := g.shaft/2, g.hub/2
	metal := `fill="` + metalColour + `" `
	a, b := g.at(g.motorX, r), g.at(0, -r)
	g.rect(box{a.x, a.y, b.x - a.x, b.y - a.y}, metal+stroke(inkColour, 1.2, g.dash("shaft.length", "shaft.diameter")))
	if g.broken {
		x := (a.x + g.at(-g.intake, 0).x) / 2
		g.add(`<path d="M%s %sl6 %sl-6 %s" fill="none" stroke="#fff" stroke-width="6"/>`, px(x), px(a.y-3), px((b.y-a.y)/2+3), px((b.y-a.y)/2+3))
		for _, dx := range []float64{-3, 3} {
			g.add(`<path d="M%s %sl6 %sl-6 %s" fill="none" %s/>`, px(x+dx), px(a.y-3), px((b.y-a.y)/2+3), px((b.y-a.y)/2+3), stroke(inkColour, 1.2, ""))
		}
	}
	// where the shaft passes the roof
	pass := -0.97 * g.intake
	for pass < 0 && g.roofAt(pass) < 0 {
		pass += 0.005 * g.intake
	}
	if pass > g.motorX+1.5*g.wall {
		q := g.at(pass-0.6*g.wall, 0)
		l, w := 2.2*g.wall*g.scale, (r+0.9*g.wall)*g.scale
		g.rect(box{q.x - l, q.y - w, l, 2 * w}, `fill="`+g.hatching("seal", -45, 4, 0.45, "#6c7478", "#fff", false)+`" `+stroke(inkColour, 1.2, "5 3"))
		g.rect(box{q.x - l, q.y - r*g.scale, l, 2 * r * g.scale}, metal+stroke(inkColour, 1.2, ""))
	}
	// nose, hub through the stator, tail: both ends are made up
	nose, tail := math.Min(0.9*g.hub, 0.5*g.intake), math.Min(0.6*g.length, 1.2*g.hub)
	ends := func(side float64) (front, rear []point) {
		front = curveThrough(point{-nose, side * r}, point{-0.8 * nose, side * (r + 0.7*(h-r))}, point{-0.45 * nose, side * h}, point{0, side * h}, 12)
		rear = curveThrough(point{g.x5, side * h}, point{g.x5 + 0.45*tail, side * h}, point{g.x5 + 0.8*tail, side * 0.35 * h}, point{g.x5 + tail, 0}, 12)
		return front, rear
	}
	frontUp, rearUp := ends(1)
	frontDown, rearDown := ends(-1)
	body := append(append([]point{}, frontUp...), rearUp...)
	for i := len(rearDown) - 1; i >= 0; i-- {
		body = append(body, rearDown[i])
	}
	for i := len(frontDown) - 1; i >= 0; i-- {
		body = append(body, frontDown[i])
	}
	g.area(g.all(body), metal+`stroke="none"`)
	for _, e := range [][]point{frontUp, frontDown, rearUp, rearDown} {
		g.polyline(g.all(e), stroke(inkColour, 1.2, "5 3"))
	}
	for _, side := range []float64{1, -1} {
		p, q := g.at(0, side*h), g.at(g.x5, side*h)
		g.line(p.x, p.y, q.x, q.y, stroke(inkColour, 1.4, g.dash("impeller.hub_diameter")))
	}
	p := g.at(g.x4, h)
	g.line(p.x, p.y, p.x, g.at(0, -h).y, stroke(inkColour, 1.2, ""))

	// blades turned into the plane of the section, with lines along which they run
	l, t := g.impeller, g.tip/2
	for _, side := range []float64{1, -1} {
		lead := curveThrough(point{0.12 * l, side * h}, point{0.02 * l, side * (h + 0.35*(t-h))}, point{0.02 * l, side * (h + 0.7*(t-h))}, point{0.10 * l, side * t}, 10)
		trail := curveThrough(point{0.90 * l, side * t}, point{0.94 * l, side * (h + 0.6*(t-h))}, point{0.95 * l, side * (h + 0.3*(t-h))}, point{0.95 * l, side * h}, 10)
		g.area(g.all(append(append([]point{}, lead...), trail...)), `class="impeller" fill="#fff" `+stroke(inkColour, 1.5, g.dash("impeller.length", "impeller.diameter")))
		for _, f := range []float64{0.3, 0.55, 0.8} {
			a, b := g.at((0.06+0.05*math.Abs(f-0.5))*l, side*(h+f*(t-h))), g.at(0.93*l, side*(h+f*(t-h)))
			g.add(`<path d="M%s %sQ%s %s %s %s" fill="none" %s/>`, px(a.x+3), px(a.y), px((a.x+b.x)/2), px(a.y-side*2), px(b.x-3), px(b.y), stroke("#a9b0b4", 1.2, ""))
		}
	}
	s := g.at(-nose-0.1*g.tip, 0)
	g.line(g.at(g.motorX-g.motorLength, 0).x-8, s.y, g.at(g.x7, 0).x, s.y, stroke(hairColour, 1.2, "16 3 3 3"))
}

// vanes draws the stator.
func (g *drafter) vanes() {
	if g.drive.Stator.Blades < 1 {
		return
	}
	h, t0, t1 := g.hub/2, g.tip/2+g.gap, g.shell/2+g.gap
	a, b := g.x4+0.10*g.stator, g.x4+0.95*g.stator
	paint := g.hatching("vane", 0, 5, 0.4, "#8a9398", "#fff", false)
	for _, side := range []float64{1, -1} {
		g.area(g.all([]point{{a + 0.03*g.stator, side * h}, {a, side * (t0 + 0.1*(t1-t0))}, {b, side * (t0 + 0.95*(t1-t0))}, {b - 0.05*g.stator, side * h}}),
			`class="vane" fill="`+paint+`" `+stroke(inkColour, 1.3, g.dash("stator.length")))
	}
}

// streams draws the way of the water.
func (g *drafter) streams() {
	roof, floor := g.roof(), g.floor()
	reach := math.Min(0.55*g.throat, 40/g.scale)
	for i, f := range []float64{0.2, 0.8} {
		var path []point
		from, to := -g.intake-0.25*g.tip, -math.Max(0.9*g.hub, 0.22*g.tip)-0.1*g.tip
		for j := 0; j <= 30; j++ {
			x := from + (to-from)*float64(j)/30
			up, low := heightAt(roof, x), heightAt(floor, x)
			if x < g.lip {
				low = -g.depth - reach*(1-math.Exp((x-g.lip)/(0.7*g.tip)))
			}
			path = append(path, point{x, low + f*(up-low)})
		}
		pts := g.all(path)
		g.polyline(pts, `class="stream" `+stroke(blueColour, 1.3, ""))
		n := len(pts) - 1
		g.arrow(pts[n-2].x, pts[n-2].y, pts[n].x, pts[n].y, 9, blueColour, 1.3)
		k := 13 + 3*i
		g.arrow(pts[k-1].x, pts[k-1].y, pts[k].x, pts[k].y, 8, blueColour, 1.3)
	}
	// behind the vanes through the nozzle, then the jet
	up, low := g.pumpWall(1), g.pumpWall(-1)
	for _, f := range []float64{0.16, 0.84} {
		var path []point
		from, to := g.x5+0.1*g.length, g.x6-0.3*g.land
		for j := 0; j <= 20; j++ {
			x := from + (to-from)*float64(j)/20
			path = append(path, point{x, heightAt(low, x) + f*(heightAt(up, x)-heightAt(low, x))})
		}
		pts := g.all(path)
		g.polyline(pts, `class="stream" `+stroke(blueColour, 1.3, ""))
		end := pts[len(pts)-1]
		g.arrow(end.x-2, end.y, end.x+5, end.y, 8, blueColour, 1.3)
	}
	jet := g.at(g.x7+0.25*g.nozzle, g.raise)
	g.arrow(jet.x, jet.y, math.Min(g.w-40, jet.x+0.95*g.nozzle*g.scale), jet.y, 13, blueColour, 2.2)
}

// dimension draws a line with a head at both ends whose length is a length of the design.
func (g *drafter) dimension(name string, mm float64, a, b point) {
	l := math.Hypot(b.x-a.x, b.y-a.y)
	g.add(`<path class="dimension" data-name="%s" data-mm="%s" data-scale="%s" d="M%s %sL%s %s" fill="none" %s/>`, name,
		strconv.FormatFloat(mm, 'f', 2, 64), strconv.FormatFloat(g.scale, 'f', 2, 64), px(a.x), px(a.y), px(b.x), px(b.y), stroke(greyColour, 1.2, ""))
	if l < 4 {
		return
	}
	ux, uy, h := (b.x-a.x)/l, (b.y-a.y)/l, math.Min(7, l/3)
	for _, e := range []struct {
		q point
		s float64
	}{{a, 1}, {b, -1}} {
		g.area([]point{e.q, {e.q.x + e.s*h*ux - 0.28*h*uy, e.q.y + e.s*h*uy + 0.28*h*ux}, {e.q.x + e.s*h*ux + 0.28*h*uy, e.q.y + e.s*h*uy - 0.28*h*ux}}, `fill="`+greyColour+`"`)
	}
}

// dimensions draws the main bores with leaders to a staircase of texts above the pump, and
// the lengths as a chain below the hull.
func (g *drafter) dimensions() {
	bores := []struct {
		name, text string
		x, r, y    float64
	}{
		{"impeller", "impeller Ø " + g.measure(g.tip) + counted(g.drive.Impeller.Blades, "blade"), 0.42 * g.impeller, g.tip / 2, 0},
		{"hub", "hub Ø " + g.measure(g.hub), g.x4 + 0.5*g.stator, g.hub / 2, 0},
		{"nozzle", "nozzle Ø " + g.measure(g.nozzle), g.x6 - 0.4*g.land, g.nozzle / 2, g.raise},
	}
	row := g.top - 14
	if g.drive.Impeller.TipGap.Set && g.gap > 0 {
		q := g.at(0.16*g.impeller, g.tip/2+g.gap/2)
		g.line(q.x, q.y, q.x, row-4, stroke(greyColour, 1.2, ""))
		g.rowText(q.x, row, "tip gap "+g.measure(g.gap), true)
		row -= 16
	}
	for i, b := range bores {
		a, c := g.at(b.x, b.y+b.r), g.at(b.x, b.y-b.r)
		g.dimension(b.name, 2*b.r, a, c)
		if i == 2 {
			if n := g.drive.Stator.Blades; n > 0 {
				q := g.at(g.x4+0.8*g.stator, g.shell/2+g.gap)
				g.line(q.x, q.y, q.x, row-4, stroke(greyColour, 1.2, ""))
				g.rowText(q.x, row, "stator"+counted(n, "vane"), true)
			}
			row = g.top - 14
		}
		g.line(a.x, a.y, a.x, row-4, stroke(greyColour, 1.2, ""))
		g.rowText(a.x, row, b.text, i < 2)
		row -= 16
	}
	y := g.bottom - 14
	chain := []struct {
		name  string
		a, b  float64
		paths string
	}{{"intake length", -g.intake, 0, "intake.length"}, {"impeller length", 0, g.x4, "impeller.length"}, {"stator length", g.x4, g.x5, "stator.length"}, {"nozzle length", g.x5, g.x6, "nozzle.length"}}
	q := g.at(-g.intake, 0)
	g.line(q.x, g.hull+2, q.x, y+5, stroke(hairColour, 1.2, "2 2"))
	for i, c := range chain {
		a, b := g.at(c.a, 0), g.at(c.b, 0)
		g.dimension(c.name, c.b-c.a, point{a.x, y}, point{b.x, y})
		s := g.measure(c.b - c.a)
		if i == 0 {
			s = "intake " + s
		}
		if g.made[c.paths] {
			s = "(" + s + ")"
		}
		l, mid := lettering{size: 12.5, anchor: "middle", halo: true}, (a.x+b.x)/2
		if i == 0 {
			lip, need := g.at(g.lip, 0).x, textWidth(s, 11)+8
			switch {
			case b.x-lip > need:
				mid = (lip + b.x) / 2
			case lip-a.x > need:
				mid = (a.x + lip) / 2
			}
		}
		mid = math.Min(mid, g.w-6-textWidth(s, 11)/2)
		if textWidth(s, 11) > b.x-a.x-4 {
			g.text(mid, y+[]float64{15, 15, 28, 15}[i], s, l)
		} else {
			g.text(mid, y-5, s, l)
		}
	}
	// the ramp's angle at its foot
	foot := -g.intake + g.bend*math.Tan(g.ramp/2)
	r := math.Max(34, math.Min(0.5*(g.lip-foot)*g.scale, 90))
	c := g.at(foot, -g.depth)
	g.line(c.x, c.y, g.at(g.lip, -g.depth).x, c.y, stroke(greyColour, 1.2, "2 3"))
	g.add(`<path d="M%s %sA%s %s 0 0 0 %s %s" fill="none" %s/>`, px(c.x+r), px(c.y), px(r), px(r), px(c.x+r*math.Cos(g.ramp)), px(c.y-r*math.Sin(g.ramp)), stroke(greyColour, 1.2, ""))
	g.text(c.x+(r+5)*math.Cos(g.ramp/2.6), c.y-(r+5)*math.Sin(g.ramp/2.6)+4, fmt.Sprintf("%.0f°", g.ramp*180/math.Pi), lettering{size: 12.5, halo: true})
}

// counted says how many there are, nothing for none.
func counted(n int, noun string) string {
	switch {
	case n < 1:
		return ""
	case n == 1:
		return ", 1 " + noun
	}
	return fmt.Sprintf(", %d %ss", n, noun)
}

// rowText sets a text beside its leader, on the side where it does not run out.
func (g *drafter) rowText(x, y float64, s string, before bool) {
	side, anchor := 5.0, "start"
	if w := textWidth(s, 12); before && x-w > 12 || x+w+5 > g.w-2 {
		side, anchor = -5, "end"
	}
	g.text(x+side, y, s, lettering{anchor: anchor, halo: true})
}

// stations draws the planes of the stations, and below them their numbers and figures.
func (g *drafter) stations(figures []SectionFigure) {
	lines := map[int][]string{}
	for _, f := range figures {
		lines[f.Station] = append(lines[f.Station], f.Lines...)
	}
	turn := g.bottom + 20
	xs := [8]float64{28, g.at(-g.intake-0.16*g.tip, 0).x, 0, g.at(0, 0).x, g.at(g.x4, 0).x, g.at(g.x5, 0).x, g.at(g.x6, 0).x, g.at(g.x7, 0).x}
	// the throat lies square to the ramp, from the lip
	lip := g.at(g.lip, -g.depth)
	far := g.at(g.lip-g.throat*math.Sin(g.ramp), -g.depth+g.throat*math.Cos(g.ramp))
	xs[2] = lip.x
	for k, x := range xs {
		from := g.hull + 4
		top := 0.0
		switch {
		case k == 2:
			g.line(far.x, far.y, lip.x, lip.y, stroke(rustColour, 1.4, "7 2 2 2"))
		case k == 3, k == 4, k == 5:
			top = g.at(0, math.Max(g.tip, g.shell)/2+g.gap+g.wall).y - 4
		case k == 6:
			top = g.at(0, g.raise+g.nozzle/2+g.wall).y - 4
		case k == 7:
			top = g.at(0, g.raise+g.contracted/2).y - 8
		}
		if top > 0 {
			from = top
		}
		column := 62 + float64(k)*125
		g.polyline([]point{{x, from}, {x, g.bottom + 4}, {column, turn + 8}, {column, turn + 14}}, stroke(rustColour, 1.2, "7 2 2 2"))
		y := turn + 24
		g.add(`<circle cx="%s" cy="%s" r="10" fill="#fff" %s/>`, px(column), px(y), stroke(rustColour, 1.4, ""))
		g.text(column, y+4.5, strconv.Itoa(k), lettering{size: 13, bold: true, anchor: "middle", colour: rustColour})
		g.text(column, y+26, stationNames[k], lettering{size: 13, anchor: "middle", colour: greyColour})
		for i, s := range lines[k] {
			g.text(column, y+45+17*float64(i), shortened(s, 14, 122), lettering{size: 14, anchor: "middle"})
		}
	}
}

// foot draws the scale bar and says what is not to scale or not typed.
func (g *drafter) foot(figures []SectionFigure) {
	rows := map[int]int{}
	most := 0
	for _, f := range figures {
		if f.Station >= 0 && f.Station < 8 {
			rows[f.Station] += len(f.Lines)
			most = max(most, rows[f.Station])
		}
	}
	y := g.bottom + 20 + 24 + 45 + 17*float64(most) + 12
	unit, name := 1.0, "mm"
	if g.style.Inch {
		unit, name = 25.4, "in"
	}
	step := niceStep(170/g.scale/unit, 5)
	n := int(math.Max(1, math.Floor(190/g.scale/unit/step)))
	for i := range n {
		fill := "#fff"
		if i%2 == 0 {
			fill = inkColour
		}
		g.rect(box{20 + float64(i)*step*unit*g.scale, y, step * unit * g.scale, 6}, `fill="`+fill+`" `+stroke(inkColour, 1.2, ""))
	}
	g.text(20, y+20, "0", lettering{size: 12.5, anchor: "middle"})
	end := 20 + float64(n)*step*unit*g.scale
	g.text(end, y+20, tickText(float64(n)*step, step)+" "+name, lettering{size: 12.5, anchor: "middle"})
	notes := "dashed or in brackets: not typed. Walls, bends, hub ends and stern are not in the design and drawn as they may be; battery, controller and lines are not to scale."
	if len(g.notes) > 0 {
		notes += " Note: " + strings.Join(g.notes, "; ") + "."
	}
	x := math.Max(270, end+50)
	text := wrapped(notes, 12.5, g.w-20-x)
	for i, s := range text {
		g.text(x, y+8+16*float64(i), s, lettering{size: 12.5, colour: greyColour})
	}
	g.h = y + 24 + math.Max(0, 16*float64(len(text)-1)) + 8
}
