package report

import (
	"fmt"
	"math"

	"jetwright/desk"
	"jetwright/drive"
)

// Pictures of blades. The water runs down the paper, the rotor to the right.

// rowNames are the rows as headings have them.
var rowNames = [2]string{"Impeller", "Stator"}

// bladesPictures are the pictures of blades at a state, with what is to be seen in them.
func bladesPictures(w *drive.BladeWork, s Style) []titled {
	return []titled{
		{trianglesSVG(w, s), "Velocity triangles at hub, middle and tip, all to one scale: u is the speed of the blade, c the velocity of the water, w the same seen from the blade; 1 ahead of the row, 2 behind it. The water runs downwards, the rotor to the right."},
		{sectionsSVG(w, s), "Sections unrolled at several radii, all to one scale in both directions, two neighbours each: blue is the water ahead of the blade, rust that behind it, both seen from the blade."},
		{spanSVG(w, s), "Loading and angles over the radius. Where the lines of water and blade part at the inlet there is incidence, at the outlet deviation."},
	}
}

// titled is a picture with its caption.
type titled struct{ svg, caption string }

// blades is the pump from its blades, with the sections that the duty asks for.
func (b *binder) blades() []block {
	if b.a.Blades == nil {
		return nil
	}
	room := *b.a.Blades
	room.Notices = nil // they stand at the end of the page
	out := b.taken(func(p *page) { p.bladesRoom(&room) }, true)
	for i := range out {
		if f := out[i].Figure; f != nil {
			out[i] = b.figure(string(f.SVG), f.Caption)
		}
	}
	return out
}

// BladesSVG is the picture of an answer about blades: its curve with the losses where there is one, triangles, sections, loading
// and angles.
func BladesSVG(a *desk.BladesAnswer, s Style) string {
	var list []string
	work, title := a.Work, "The blades at "+desk.Describe(a.Condition)
	if a.Designed != nil {
		work, title = a.Designed.Work(), "Blades found for "+desk.Describe(a.Condition)
	} else {
		list = append(list, bladeCurveSVG(a, s))
	}
	for _, p := range bladesPictures(work, s) {
		list = append(list, p.svg)
	}
	return stacked("blades", title, list...)
}

// dart draws a velocity: a line that ends in a slim head.
func (p *pencil) dart(from, to point, colour, dash string) {
	const head = 8
	l := math.Hypot(to.x-from.x, to.y-from.y)
	if l < 0.5 {
		return
	}
	ux, uy := (to.x-from.x)/l, (to.y-from.y)/l
	n := math.Min(head, 0.6*l)
	p.line(from.x, from.y, to.x-0.7*n*ux, to.y-0.7*n*uy, stroke(colour, 1.8, dash))
	p.area([]point{to, {to.x - n*ux - 0.34*n*uy, to.y - n*uy + 0.34*n*ux}, {to.x - n*ux + 0.34*n*uy, to.y - n*uy - 0.34*n*ux}}, `fill="`+colour+`"`)
}

// turned is the way the rotor of a state turns, 1 or −1: pictures show it to the right.
func turned(w *drive.BladeWork) float64 {
	if w.State.RotorSpeed < 0 {
		return -1
	}
	return 1
}

// behindDash tells what is behind a row from what is ahead of it without colour.
const behindDash = "6 3"

func trianglesSVG(w *drive.BladeWork, s Style) string {
	const width, columns, edge, top = 760.0, 3, 14.0, 62.0
	u := s.unit(unitOf("m/s"))
	rows := w.Rows()
	turn := turned(w)
	// all triangles to one scale
	cell := (width - 2*edge) / columns
	low, high, deep := 0.0, 0.0, 0.0
	for i := range rows {
		for _, t := range w.Triangles(i) {
			for _, k := range []*drive.BladeTriangle{&t.Element.Inlet, &t.Element.Outlet} {
				low, high = math.Min(low, turn*k.Tangential), math.Max(high, math.Max(turn*k.Tangential, turn*k.BladeSpeed))
				deep = math.Max(deep, k.Meridional)
			}
		}
	}
	scale := math.Min((cell-46)/(high-low), 150/deep)
	const words = 76.0 // px under a triangle
	tall := 26 + scale*deep + words
	p := newPencil("blade-triangles", width, top+float64(len(rows))*(tall+22))
	p.text(8, 18, "Velocity triangles", lettering{size: 14, bold: true})
	bar := niceStep(u.FromSI(high-low), 4)
	long := scale * bar / u.FromSI(1)
	p.line(width-edge-long, 38, width-edge, 38, stroke(inkColour, 1.6, ""))
	for _, x := range []float64{width - edge - long, width - edge} {
		p.line(x, 34, x, 42, stroke(inkColour, 1.6, ""))
	}
	p.text(width-edge-long-8, 42, tickText(bar, bar)+" "+u.Symbol, lettering{anchor: "end"})
	x := 8.0
	for _, k := range []struct{ name, colour, dash string }{{"u, blade", greyColour, ""}, {"c₁ and w₁, ahead of the row", blueColour, ""}, {"c₂ and w₂, behind it", rustColour, behindDash}} {
		p.dart(point{x, 38}, point{x + 34, 38}, k.colour, k.dash)
		p.text(x+40, 42, k.name, lettering{})
		x += 40 + textWidth(k.name, 12) + 18
	}
	for i, r := range rows {
		y := top + float64(i)*(tall+22)
		p.text(8, y+10, fmt.Sprintf("%s, %d blades", rowNames[i], r.Row.Blades), lettering{bold: true})
		for j, t := range w.Triangles(i) {
			left := edge + cell*float64(j)
			origin := point{left + 14 - scale*low, y + 38}
			p.field = box{left, y + 14, cell, 24 + scale*deep + 12}
			p.triangle(t.Element, origin, scale, turn, i)
			surface := []int{0, w.State.Radii / 2, w.State.Radii - 1}[j]
			blade, water := w.BladeAngles(i, surface)
			y2 := y + 38 + scale*deep + 24
			letter := "w"
			if i > 0 {
				letter = "c"
			}
			p.text(left+4, y2, t.Name+", radius "+s.placed(t.Element.InletRadius, "mm", 1), lettering{bold: true})
			for k, e := range []*drive.BladeTriangle{&t.Element.Inlet, &t.Element.Outlet} {
				p.text(left+4, y2+15*float64(k+1), fmt.Sprintf("%s%s %s %s at %s°, blade %s°", letter, []string{"₁", "₂"}[k], fixed(u.FromSI(e.Relative), 1), u.Symbol, degrees(water[k]), degrees(blade[k])),
					lettering{colour: []string{blueColour, rustColour}[k]})
			}
		}
	}
	return p.svg("Velocity triangles", "Velocity triangles of "+map[int]string{1: "the impeller", 2: "impeller and stator"}[len(rows)]+" at hub, middle and tip of the span, to one scale.")
}

// triangle draws what a row sees at one radius: u, then c and w ahead and behind.
func (p *pencil) triangle(e *drive.BladeElement, o point, scale, turn float64, row int) {
	p.taken, p.thin = nil, nil
	type named struct {
		text, colour string
		at           point
	}
	var names []named
	put := func(from, to point, colour, dash, name string) {
		p.dart(from, to, colour, dash)
		for k := range 9 {
			f := float64(k) / 8
			p.thin = append(p.thin, point{from.x + f*(to.x-from.x), from.y + f*(to.y-from.y)})
		}
		if math.Hypot(to.x-from.x, to.y-from.y) > 14 {
			names = append(names, named{name, colour, point{(from.x + 2*to.x) / 3, (from.y + 2*to.y) / 3}})
		}
	}
	top := 0.0
	for k, t := range []*drive.BladeTriangle{&e.Inlet, &e.Outlet} {
		colour, dash, n := []string{blueColour, rustColour}[k], []string{"", behindDash}[k], []string{"₁", "₂"}[k]
		c := point{o.x + scale*turn*t.Tangential, o.y + scale*t.Meridional}
		b := point{o.x + scale*turn*t.BladeSpeed, o.y}
		if row == 0 && math.Abs(b.x-top) > 2 { // ahead and behind are one where the channel is a cylinder
			name := "u"
			if top != 0 {
				name = "u₂"
			}
			top = b.x
			put(o, b, greyColour, "", name)
		}
		put(o, c, colour, dash, "c"+n)
		if row == 0 {
			put(b, c, colour, dash, "w"+n)
		}
	}
	for _, n := range names {
		l := lettering{colour: n.colour, halo: true, bold: true}
		if at, ok := p.place(n.text, l, around(n.at.x, n.at.y, 6)); ok {
			l.anchor = at.anchor
			p.text(at.x, at.y, n.text, l)
		}
	}
}

// shownSections are the stream surfaces whose sections are drawn.
func shownSections(n int) []int { return []int{0, n / 4, n / 2, n - 1 - n/4, n - 1} }

func sectionsSVG(w *drive.BladeWork, s Style) string {
	const width, edge, gap = 760.0, 12.0, 18.0
	rows := w.Rows()
	list := shownSections(w.State.Radii)
	type drawn struct {
		section     drive.BladeSection
		around      []point
		lead, trail point
		e           *drive.BladeElement
	}
	shapes := make([][]drawn, len(rows))
	wide, tall := make([]float64, len(list)), make([]float64, len(rows)) // m
	for i, r := range rows {
		for j, surface := range list {
			k := w.Section(i, surface)
			outline, trail := k.Outline()
			var a []point
			lead := point{-trail[0] / 2, -trail[1] / 2} // about the middle of the chord
			for _, q := range outline {
				a = append(a, point{lead.x + q[0], lead.y + q[1]})
			}
			shapes[i] = append(shapes[i], drawn{k, a, lead, point{-lead.x, -lead.y}, &r.State.Elements[surface]})
			ex, ey := noExtent(), noExtent()
			for _, q := range a {
				ex.show(q.x)
				ey.show(q.y)
			}
			wide[j] = math.Max(wide[j], ex.high-ex.low+k.Pitch)
			tall[i] = math.Max(tall[i], ey.high-ey.low)
		}
	}
	sum := 0.0
	for _, x := range wide {
		sum += x
	}
	// a column is no narrower than its words
	scale := (width - 2*edge - gap*float64(len(list)-1)) / sum
	const least = 112.0
	for range 4 {
		room, need := width-2*edge-gap*float64(len(list)-1), 0.0
		for _, x := range wide {
			if scale*x < least {
				room -= least
			} else {
				need += x
			}
		}
		if need > 0 {
			scale = math.Min(scale, room/need)
		}
	}
	scale = math.Min(scale, 6500) // 6.5 px/mm
	const head, arrows, words = 52.0, 34.0, 64.0
	height := head
	for _, t := range tall {
		height += 20 + 2*arrows + scale*t + words
	}
	p := newPencil("blade-sections", width, height)
	p.text(8, 18, "Sections, unrolled", lettering{size: 14, bold: true})
	u := s.unit(unitOf("mm"))
	bar := niceStep(u.FromSI(80/scale), 1)
	long := scale * bar / u.FromSI(1)
	p.line(width-edge-long, 34, width-edge, 34, stroke(inkColour, 1.6, ""))
	for _, x := range []float64{width - edge - long, width - edge} {
		p.line(x, 30, x, 38, stroke(inkColour, 1.6, ""))
	}
	p.text(width-edge-long-8, 38, tickText(bar, bar)+" "+u.Symbol+", both ways", lettering{anchor: "end"})
	p.arrow(8, 34, 48, 34, 8, greyColour, 1.6)
	p.text(54, 38, "the rotor turns", lettering{colour: greyColour})
	p.arrow(168, 24, 168, 44, 8, greyColour, 1.6)
	p.text(176, 38, "the water runs", lettering{colour: greyColour})
	y := head
	for i := range rows {
		p.text(8, y+12, rowNames[i], lettering{bold: true})
		y += 20 + arrows
		x := edge
		for j, k := range shapes[i] {
			column := math.Max(scale*wide[j], least)
			ex := noExtent()
			for _, q := range k.around {
				ex.show(q.x)
			}
			pitch := scale * k.section.Pitch
			first := x + (column-scale*(ex.high-ex.low)-pitch)/2 - scale*ex.low
			middle := y + scale*tall[i]/2
			for n := range 2 {
				o := point{first + pitch*float64(n), middle}
				var pts []point
				for _, q := range k.around {
					pts = append(pts, point{o.x + scale*q.x, o.y + scale*q.y})
				}
				p.area(pts, `fill="#c9ced1" `+stroke(inkColour, 1, ""))
			}
			p.streams(k.lead, k.trail, k.e, point{first + pitch/2, middle}, scale, i == 0, turned(w))
			below := y + scale*tall[i] + arrows + 12
			p.text(x, below, "radius "+s.placed(k.section.Radius, "mm", 1), lettering{size: 11, bold: true})
			p.text(x, below+14, "pitch "+s.placed(k.section.Pitch, "mm", 1), lettering{size: 11})
			p.text(x, below+28, "chord "+s.placed(k.section.Chord, "mm", 1), lettering{size: 11})
			p.text(x, below+42, degrees(k.section.Inlet)+"° to "+degrees(k.section.Outlet)+"°", lettering{size: 11})
			x += column + gap
		}
		y += scale*tall[i] + arrows + words
	}
	return p.svg("Blade sections", "Sections of the blades unrolled at five radii, two neighbouring blades each, to one scale in both directions.")
}

// streams draws the water ahead and behind, seen from the blade, midway between two blades.
func (p *pencil) streams(lead, trail point, e *drive.BladeElement, o point, scale float64, rotor bool, turn float64) {
	const length = 30
	draw := func(t *drive.BladeTriangle, at point, colour string, from bool) {
		x := turn * t.Tangential
		if rotor {
			x -= turn * t.BladeSpeed
		}
		l := math.Hypot(x, t.Meridional)
		d := point{length * x / l, length * t.Meridional / l}
		a := point{o.x + scale*at.x, o.y + scale*at.y}
		if from {
			p.arrow(a.x, a.y, a.x+d.x, a.y+d.y, 7, colour, 1.6)
		} else {
			p.arrow(a.x-d.x, a.y-d.y, a.x, a.y, 7, colour, 1.6)
		}
	}
	draw(&e.Inlet, lead, blueColour, false)
	draw(&e.Outlet, trail, rustColour, true)
}

func spanSVG(w *drive.BladeWork, s Style) string {
	u := s.unit(unitOf("mm"))
	rows := w.Rows()
	radii := func(i int) []float64 {
		var out []float64
		for j := range w.State.Radii {
			out = append(out, u.FromSI(rows[i].State.Elements[j].InletRadius))
		}
		return out
	}
	x := "radius, " + u.Symbol
	load := Chart{ID: "blade-diffusion", Title: "Diffusion factor", XLabel: x, Height: 260}
	fast := Chart{ID: "blade-fastest", Title: "Fastest velocity over outlet velocity", XLabel: x, Height: 260}
	charts := []Chart{}
	for i, r := range rows {
		name := [2]string{"impeller", "stator"}[i]
		d, f := Curve{Name: name, X: radii(i)}, Curve{Name: name, X: radii(i)}
		in, out, flowIn, flowOut := Curve{Name: "blade in", X: radii(i)}, Curve{Name: "blade out", X: radii(i)}, Curve{Name: "water in", X: radii(i), Dashed: true}, Curve{Name: "water out", X: radii(i), Dashed: true}
		for j := range w.State.Radii {
			e := &r.State.Elements[j]
			d.Y, f.Y = append(d.Y, e.DiffusionFactor), append(f.Y, e.EquivalentDiffusion)
			b, q := w.BladeAngles(i, j)
			in.Y, out.Y, flowIn.Y, flowOut.Y = append(in.Y, b[0]*180/math.Pi), append(out.Y, b[1]*180/math.Pi), append(flowIn.Y, q[0]*180/math.Pi), append(flowOut.Y, q[1]*180/math.Pi)
		}
		load.Curves, fast.Curves = append(load.Curves, d), append(fast.Curves, f)
		charts = append(charts, Chart{ID: "blade-angles-" + name, Title: rowNames[i] + ": angles, °", XLabel: x, Height: 260, Curves: []Curve{in, flowIn, out, flowOut}})
	}
	ends := []float64{load.Curves[0].X[0], load.Curves[0].X[len(load.Curves[0].X)-1]}
	load.Curves = append(load.Curves, Curve{Name: "losses grow fast", X: ends, Y: []float64{0.6, 0.6}, Dashed: true})
	fast.Curves = append(fast.Curves, Curve{Name: "water leaves", X: ends, Y: []float64{2, 2}, Dashed: true})
	return SmallMultiples("blade-span", "Loading and angles over the span", "Diffusion factor, largest over outlet velocity, and the angles of blade and water at inlet and outlet, over the radius.", append([]Chart{load, fast}, charts...), 2)
}

// bladeCurveSVG draws head, efficiency and losses over the flow coefficient at the rotor speed of the state.
func bladeCurveSVG(a *desk.BladesAnswer, s Style) string {
	w := a.Work
	const width = 760.0
	head, watt := s.unit(unitOf("m")), s.unit(unitOf("W"))
	now := a.State.Of("jet.flow_coefficient").Value
	perFlow := now / a.State.Of("jet.flow").Value // of the flow in m³/s
	var x []float64
	for _, c := range w.Curve {
		x = append(x, perFlow*c.Flow)
	}
	var voids []Void
	room := 0.22 * (x[len(x)-1] - x[0])
	for _, h := range a.Holes() {
		v := Void{perFlow * h.Low, perFlow * h.High, h.Why}
		if h.Above {
			v.Low, v.High = math.Max(v.Low, x[len(x)-1]), math.Min(v.High, x[len(x)-1]+room)
		} else {
			v.Low, v.High = math.Max(v.Low, x[0]-room), math.Min(v.High, x[0])
		}
		voids = append(voids, v)
	}
	label := fmt.Sprintf("flow coefficient Q/(ΩD³); %s is %s at %s", fixed(now, 3), s.bare(a.State.Of("jet.flow")), s.rounded(w.State.RotorSpeed, "rpm"))
	banded := len(a.Bands) == len(w.Curve) && a.Draws > 0
	heads := Curve{Name: "head of the pump", X: x}
	asked := Curve{Name: "the nozzle's demand " + s.atSpeed(a.Condition.Speed), X: x, Dashed: true}
	other := Curve{X: x, Dashed: true}
	best := Curve{Name: "efficiency", X: x}
	for i, c := range w.Curve {
		heads.Y, asked.Y, best.Y = append(heads.Y, head.FromSI(c.Head)), append(asked.Y, head.FromSI(c.Asked)), append(best.Y, 100*c.Efficiency)
		other.Y = append(other.Y, head.FromSI(c.AskedOther))
		if banded {
			b := a.Bands[i]
			heads.Low, heads.High = append(heads.Low, head.FromSI(b.Head.Low)), append(heads.High, head.FromSI(b.Head.High))
			best.Low, best.High = append(best.Low, 100*b.Efficiency.Low), append(best.High, 100*b.Efficiency.High)
		}
	}
	point := func(f desk.Figure, by float64, name string) Mark {
		phi := a.State.Of("jet.flow_coefficient")
		return Mark{X: phi.Value, XLow: phi.Low, XHigh: phi.High, Y: by * f.Value, YLow: by * f.Low, YHigh: by * f.High, Label: name, Kind: "plateau"}
	}
	hf := a.State.Of("jet.head")
	hf.Value, hf.Low, hf.High = head.FromSI(hf.Value), head.FromSI(hf.Low), head.FromSI(hf.High)
	charts := []Chart{
		{ID: "blade-head", Title: "Head", YLabel: head.Symbol, Curves: []Curve{heads, asked}, Marks: []Mark{point(hf, 1, "works here")}},
		{ID: "blade-efficiency", Title: "Efficiency of the pump", YLabel: "%", Curves: []Curve{best}, Marks: []Mark{point(a.State.Of("jet.pump_efficiency"), 100, "works here")}},
		{ID: "blade-losses", Title: "Where the pump's watts go", YLabel: watt.Symbol, XLabel: label, Stacked: true},
	}
	if !math.IsNaN(w.OtherSpeed) {
		other.Name = "the same " + s.atSpeed(w.OtherSpeed)
		charts[0].Curves = append(charts[0].Curves, other)
	}
	var under []float64
	for range x {
		under = append(under, 0)
	}
	for k, l := range stack(w.Curve[0]) {
		c := Curve{Name: l.name, X: x}
		for i, q := range w.Curve {
			under[i] += watt.FromSI(stack(q)[k].power)
			c.Y = append(c.Y, under[i])
		}
		charts[2].Curves = append(charts[2].Curves, c)
	}
	right := 0.0
	for _, c := range charts {
		for _, k := range c.Curves {
			right = math.Max(right, textWidth(k.Name, 12)+26)
		}
	}
	if banded {
		charts[0].YLabel += fmt.Sprintf("; the band holds 90 %% of %d drawn pumps, the method's scatter against water in it", a.Draws)
	}
	heights := []float64{280, 230, 370}
	p := newPencil("blade-curve", width, 0)
	for i, h := range heights {
		c := charts[i]
		c.Voids, c.Beside = voids, [2]float64{62, right}
		c.draw(p, fmt.Sprintf("part%d-", i), box{0, p.h, width, h}, true, false)
		p.h += h + 6
	}
	return p.svg("Head, efficiency and losses of the pump", fmt.Sprintf("Head, efficiency and stacked losses of the pump over its flow coefficient at %s, with what the nozzle asks for.", s.rounded(w.State.RotorSpeed, "rpm")))
}

// bladeCurveCaption says what is to be seen in the picture of the curve.
func bladeCurveCaption(a *desk.BladesAnswer) string {
	t := "Head, efficiency and losses of the pump over its flow coefficient, at the rotor speed of the design point; the losses are stacked and make what the shaft gives less what is in the water. "
	if a.Draws > 0 {
		t += "The bands hold nine in ten of the drawn pumps, tolerances and the method's scatter against water in them; they end where fewer than that have a state. "
	}
	return t + "Where it is hatched the blades have none, for the reason that stands there."
}

// atSpeed words a craft speed.
func (s Style) atSpeed(v float64) string {
	if v == 0 {
		return "at rest"
	}
	return "at " + s.rounded(v, "m/s")
}
