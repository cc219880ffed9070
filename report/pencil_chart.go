package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"
)

// Curve is a line with a band: shared length slices, Low and High may be nil.
type Curve struct {
	Name      string
	X, Y      []float64
	Low, High []float64
	Dashed    bool
}

// Mark is a measured or claimed point with its intervals; an interval without width is not
// drawn. Kinds are "reading", "plateau", "unsettled", "claim" and "foretold".
type Mark struct {
	X, XLow, XHigh float64
	Y, YLow, YHigh float64
	Label, Kind    string
}

// Chart is a picture of curves and marks, in display units.
type Chart struct {
	ID, Title, About string
	XLabel, YLabel   string
	Curves           []Curve
	Marks            []Mark
	Moments          []Moment
	Voids            []Void
	Stacked          bool       // each curve is what is added on the one before; the bands between are tinted
	FromZero         bool       // both axes begin at zero
	Width, Height    float64    // px; 760 by 380 if zero
	Beside           [2]float64 // px left of the plot and right of it, at least: charts below each other share an axis so
}

// Void is a stretch of the horizontal axis in which there is no state, and why.
type Void struct {
	Low, High float64
	Name      string
}

// Moment is a place on the horizontal axis at which something happens.
type Moment struct {
	X    float64
	Name string
}

// A curve is told by colour, lightness and dash together.
var (
	curveColours = []string{blueColour, rustColour, "#00614f", "#67246f", "#3a3f43", "#7a6000"}
	solidDashes  = []string{"", "14 4", "16 3 4 3", "16 3 4 3 4 3"}
	brokenDashes = []string{"6 4", "2 3", "7 3 2 3", "3 7"}
)

// markNames is what the key calls the kinds of marks, in its order.
var markNames = []struct{ kind, name string }{
	{"plateau", "settled plateau"},
	{"reading", "reading"},
	{"unsettled", "not settled"},
	{"claim", "claim"},
	{"foretold", "predicted from the steps below"},
}

// SVG draws the chart.
func (c Chart) SVG() string {
	w, h := c.size()
	if !c.hasData() {
		return nothing(c.ID, c.Title, c.About, w)
	}
	p := newPencil(c.ID, w, h)
	c.draw(p, "", box{0, 0, w, h}, true, true)
	return p.svg(c.Title, c.about())
}

func (c Chart) size() (w, h float64) {
	w, h = c.Width, c.Height
	if !(w >= 120 && w < 1e5) {
		w = 760
	}
	if !(h >= 100 && h < 1e5) {
		h = 380
	}
	return w, h
}

// about describes the chart for those who do not see it.
func (c Chart) about() string {
	if c.About != "" {
		return c.About
	}
	var parts []string
	for _, k := range c.Curves {
		parts = append(parts, k.Name)
	}
	s := c.YLabel + " over " + c.XLabel
	if len(parts) > 0 {
		s += ": " + strings.Join(parts, "; ")
	}
	if n := len(c.Marks); n > 0 {
		s += fmt.Sprintf("; %d points", n)
	}
	for _, m := range c.Moments {
		s += fmt.Sprintf("; %s at %.3g", m.Name, m.X)
	}
	return s
}

func (c Chart) hasData() bool {
	ex, ey := c.extents()
	return !ex.empty() && !ey.empty()
}

// value reads a slice that may be too short.
func value(list []float64, i int) float64 {
	if i < len(list) {
		return list[i]
	}
	return math.NaN()
}

func (c Chart) extents() (ex, ey extent) {
	ex, ey = noExtent(), noExtent()
	for _, k := range c.Curves {
		for i, x := range k.X {
			y := value(k.Y, i)
			if drawable(x, y) {
				ex.show(x)
				ey.show(y)
			}
			if low, high := value(k.Low, i), value(k.High, i); drawable(x, low, high) {
				ex.show(x)
				ey.show(low, high)
			}
		}
	}
	for _, v := range c.Voids {
		ex.show(v.Low, v.High)
	}
	if c.Stacked && !ey.empty() {
		ey.show(0)
	}
	for _, m := range c.Marks {
		if drawable(m.X, m.Y) {
			ex.show(m.X)
			ey.show(m.Y)
			if interval(m.XLow, m.XHigh) {
				ex.show(m.XLow, m.XHigh)
			}
			if interval(m.YLow, m.YHigh) {
				ey.show(m.YLow, m.YHigh)
			}
		}
	}
	return ex, ey
}

func interval(low, high float64) bool { return drawable(low, high) && low < high }

// ending is the label of a curve where it ends.
type ending struct {
	curve  int
	at     point
	y      float64 // baseline
	colour string
}

// draw puts the chart into a part of the paper. The part's name keeps ids apart; names of
// curves and the key of marks are left out where they stand above several charts.
func (c Chart) draw(p *pencil, part string, frame box, names, marks bool) {
	ex, ey := c.extents()
	if ex.empty() || ey.empty() {
		p.text(frame.x+8, frame.y+18, shortened(c.Title, 14, frame.w-16), lettering{size: 14, bold: true})
		p.text(frame.x+frame.w/2, frame.y+frame.h/2, "no data", lettering{size: 13, anchor: "middle", colour: greyColour})
		return
	}
	if c.FromZero {
		ex.show(0)
		ey.show(0)
	}
	yParts := int(math.Max(2, math.Min(8, frame.h/52)))
	ey = ey.rounded(yParts)
	yTicks, yStep := niceTicks(ey, yParts)
	left := 0.0
	for _, t := range yTicks {
		left = math.Max(left, textWidth(tickText(t, yStep), 12))
	}
	left = math.Max(left+18, c.Beside[0])
	top := frame.y + 8
	if c.Title != "" {
		p.text(frame.x+8, top+11, shortened(c.Title, 14, frame.w-16), lettering{size: 14, bold: true})
		top += 24
	}

	// names of curves: at their ends if they fit, else in a line above
	named, widest := 0, 0.0
	for _, k := range c.Curves {
		if names && k.Name != "" {
			named++
			widest = math.Max(widest, textWidth(k.Name, 12))
		}
	}
	right := 16.0
	atEnds := named > 0 && widest+26 <= 0.3*frame.w && float64(named)*15 <= 0.7*frame.h
	if atEnds {
		right = widest + 26
	}
	right = math.Max(right, c.Beside[1])
	top = c.key(p, frame, top, names && !atEnds, marks)
	top += 14
	if c.YLabel != "" {
		p.text(frame.x+8, top, shortened(c.YLabel, 12, frame.w-16), lettering{colour: greyColour})
	}
	top += 13

	bottom := frame.y + frame.h - 26
	if c.XLabel != "" {
		bottom -= 16
	}
	if bottom-top < 30 {
		bottom = top + 30
	}
	plot := box{frame.x + left, top, frame.w - left - right, bottom - top}
	xParts := int(math.Max(2, math.Min(10, plot.w/62)))
	ex = ex.opened()
	if !c.FromZero || ex.low < 0 {
		if pad := 0.02 * (ex.high - ex.low); ex.low != 0 {
			ex.low -= pad
		}
	}
	ex.high += 0.02 * (ex.high - ex.low)
	ax := axis{ex, plot.x, plot.x + plot.w}
	ay := axis{ey, plot.y + plot.h, plot.y}
	xTicks, xStep := niceTicks(ex, xParts)
	if len(xTicks) < 2 { // one number tells no scale
		xTicks, xStep = niceTicks(ex, 2*xParts)
	}
	c.grid(p, plot, ax, ay, xTicks, yTicks, xStep, yStep)

	c.voids(p, part, plot, ax)
	c.moments(p, plot, ax)
	p.field, p.taken, p.thin = plot, nil, nil
	var ends []ending
	for i, k := range c.Curves {
		c.band(p, part, i, k, ax, ay)
	}
	if c.Stacked {
		c.layers(p, ax, ay)
	}
	for i, k := range c.Curves {
		if at, ok := c.curve(p, i, k, ax, ay); ok && k.Name != "" {
			ends = append(ends, ending{curve: i, at: at, colour: curveColours[i%len(curveColours)]})
		}
	}
	if atEnds && names {
		c.endings(p, ends, plot)
	}
	c.voidNames(p, plot, ax)
	c.marks(p, ax, ay)
}

// moments draws what happens when: an upright line each, named at its foot, a line higher where names would meet.
func (c Chart) moments(p *pencil, plot box, ax axis) {
	list := slices.Clone(c.Moments)
	slices.SortFunc(list, func(a, b Moment) int { return cmp.Compare(a.X, b.X) })
	var ends []float64 // of the names in each line, from the foot
	for _, m := range list {
		if !drawable(m.X) || m.X < ax.low || m.X > ax.high {
			continue
		}
		x := ax.at(m.X)
		p.line(x, plot.y, x, plot.y+plot.h, stroke(greyColour, 1.2, "2 3"))
		from, width := x+5, textWidth(m.Name, 12)
		if from+width > plot.x+plot.w {
			from = x - 5 - width
		}
		row := 0
		for row < len(ends) && ends[row] > from-6 {
			row++
		}
		if row == len(ends) {
			ends = append(ends, 0)
		}
		ends[row] = from + width
		p.text(from, plot.y+plot.h-6-15*float64(row), m.Name, lettering{colour: greyColour})
	}
}

// voids hatches where there is no state.
func (c Chart) voids(p *pencil, part string, plot box, ax axis) {
	for i, v := range c.Voids {
		if !interval(v.Low, v.High) {
			continue
		}
		b := box{ax.at(v.Low), plot.y, ax.at(v.High) - ax.at(v.Low), plot.h}
		p.rect(b, `fill="`+p.hatching(fmt.Sprintf("%svoid%d", part, i), 45, 8, 0.5, hairColour, "#f4f5f6", false)+`"`)
		edge := v.High
		if v.High >= ax.high-0.05*(ax.high-ax.low) {
			edge = v.Low
		}
		p.line(ax.at(edge), plot.y, ax.at(edge), plot.y+plot.h, stroke(greyColour, 1.4, ""))
	}
}

// voidNames writes the reasons along what is hatched.
func (c Chart) voidNames(p *pencil, plot box, ax axis) {
	for _, v := range c.Voids {
		const pitch = 14.0
		wide := ax.at(v.High) - ax.at(v.Low)
		if v.Name == "" || wide < pitch {
			continue
		}
		lines := wrapped(v.Name, 12, plot.h-12)
		lines = lines[:min(len(lines), int(wide/pitch))]
		x := ax.at((v.Low+v.High)/2) + 4 - pitch/2*float64(len(lines)-1)
		for j, l := range lines {
			p.text(x+pitch*float64(j), plot.y+plot.h/2, l, lettering{anchor: "middle", turn: -90, halo: true})
		}
	}
}

// layers tints what each curve adds on the one before it, light and dark in turn.
func (c Chart) layers(p *pencil, ax, ay axis) {
	for i, k := range c.Curves {
		var low, high []point
		for j, x := range k.X {
			y, under := value(k.Y, j), 0.0
			if i > 0 {
				under = value(c.Curves[i-1].Y, j)
			}
			if drawable(x, y, under) {
				low, high = append(low, point{ax.at(x), ay.at(under)}), append(high, point{ax.at(x), ay.at(y)})
			}
		}
		slices.Reverse(high)
		opacity := []string{"0.34", "0.12"}[i%2]
		p.area(append(low, high...), fmt.Sprintf(`fill="%s" fill-opacity="%s"`, curveColours[i%len(curveColours)], opacity))
	}
}

// grid draws the axes, their hairlines and their numbers.
func (c Chart) grid(p *pencil, plot box, ax, ay axis, xTicks, yTicks []float64, xStep, yStep float64) {
	bottom := plot.y + plot.h
	for _, t := range yTicks {
		y := ay.at(t)
		if math.Abs(y-bottom) > 1 {
			p.line(plot.x, y, plot.x+plot.w, y, stroke("#dde1e3", 1.2, ""))
		}
		p.text(plot.x-7, y+4, tickText(t, yStep), lettering{anchor: "end"})
	}
	clear := math.Inf(-1)
	for _, t := range xTicks {
		x, s := ax.at(t), tickText(t, xStep)
		p.line(x, bottom, x, bottom+5, stroke(inkColour, 1.2, ""))
		half := textWidth(s, 12) / 2
		if x-half > clear {
			p.text(x, bottom+18, s, lettering{anchor: "middle"})
			clear = x + half + 4
		}
	}
	p.line(plot.x, bottom, plot.x+plot.w, bottom, stroke(inkColour, 1.4, ""))
	if ay.low < 0 && ay.high > 0 {
		p.line(plot.x, ay.at(0), plot.x+plot.w, ay.at(0), stroke(greyColour, 1.2, ""))
	}
	if c.XLabel != "" {
		s := shortened(c.XLabel, 12, plot.w+40)
		p.text(plot.x+plot.w/2, bottom+35, s, lettering{anchor: "middle", colour: greyColour})
	}
}

// key writes the line above the plot: kinds of marks, and the curves where their names do
// not fit at their ends. It returns where it ended.
func (c Chart) key(p *pencil, frame box, top float64, curves, marks bool) float64 {
	type entry struct {
		name string
		draw func(x, y float64)
	}
	var list []entry
	if curves {
		for i, k := range c.Curves {
			if k.Name != "" {
				list = append(list, entry{k.Name, func(x, y float64) {
					p.line(x, y-4, x+30, y-4, c.curveStroke(i))
				}})
			}
		}
	}
	present := map[string]bool{}
	for _, m := range c.Marks {
		if drawable(m.X, m.Y) {
			present[markKind(m.Kind)] = true
		}
	}
	for _, n := range markNames {
		if marks && present[n.kind] {
			list = append(list, entry{n.name, func(x, y float64) { drawMark(p, x+15, y-4, n.kind) }})
		}
	}
	x, y := frame.x+8, top
	for i, e := range list {
		if i == 0 {
			y += 13
		}
		name := shortened(e.name, 12, frame.w-60)
		w := 36 + textWidth(name, 12) + 18
		if x > frame.x+8 && x+w > frame.x+frame.w {
			x, y = frame.x+8, y+18
		}
		e.draw(x, y)
		p.text(x+36, y, name, lettering{})
		x += w
	}
	if len(list) > 0 {
		y += 6
	}
	return y
}

// curveStroke tells a curve by colour and dash.
func (c Chart) curveStroke(i int) string {
	n := 0
	for _, k := range c.Curves[:i] {
		if k.Dashed == c.Curves[i].Dashed {
			n++
		}
	}
	if c.Stacked {
		return stroke(curveColours[i%len(curveColours)], 1.2, "")
	}
	dash := solidDashes[n%len(solidDashes)]
	if c.Curves[i].Dashed {
		dash = brokenDashes[n%len(brokenDashes)]
	}
	return stroke(curveColours[i%len(curveColours)], 2.2, dash)
}

// band tints what lies between low and high; a second band is hatched, so that two that
// overlap are told apart in print.
func (c Chart) band(p *pencil, part string, i int, k Curve, ax, ay axis) {
	colour := curveColours[i%len(curveColours)]
	var low, high []point
	flush := func() {
		if len(low) > 1 {
			shape := append([]point{}, low...)
			for j := len(high) - 1; j >= 0; j-- {
				shape = append(shape, high[j])
			}
			p.area(shape, fmt.Sprintf(`fill="%s" fill-opacity="0.13"`, colour))
			if i > 0 {
				angle := []float64{45, -45, 20, -20, 70, -70}[i%6]
				p.area(shape, fmt.Sprintf(`fill="%s" fill-opacity="0.3"`, p.hatching(fmt.Sprintf("%sband%d", part, i), angle, 7, 0.6, colour, "", false)))
			}
			edge := stroke(colour, 1.2, "1.5 2.5") + ` stroke-opacity="0.8"`
			p.polyline(low, edge)
			p.polyline(high, edge)
		}
		low, high = nil, nil
	}
	for j, x := range k.X {
		l, h := value(k.Low, j), value(k.High, j)
		if !drawable(x, l, h) {
			flush()
			continue
		}
		low, high = append(low, point{ax.at(x), ay.at(l)}), append(high, point{ax.at(x), ay.at(h)})
	}
	flush()
}

// curve draws the line, broken where it has no number, and returns its end.
func (c Chart) curve(p *pencil, i int, k Curve, ax, ay axis) (end point, ok bool) {
	var run []point
	flush := func() {
		if len(run) == 1 {
			p.add(`<circle cx="%s" cy="%s" r="2.2" fill="%s"/>`, px(run[0].x), px(run[0].y), curveColours[i%len(curveColours)])
		}
		p.polyline(run, c.curveStroke(i))
		for j := 1; j < len(run); j++ {
			a, b := run[j-1], run[j]
			n := int(math.Min(200, math.Ceil(math.Hypot(b.x-a.x, b.y-a.y)/6)))
			for s := 0; s <= n; s++ {
				f := float64(s) / math.Max(1, float64(n))
				p.thin = append(p.thin, point{a.x + f*(b.x-a.x), a.y + f*(b.y-a.y)})
			}
		}
		run = nil
	}
	for j, x := range k.X {
		y := value(k.Y, j)
		if !drawable(x, y) {
			flush()
			continue
		}
		q := point{ax.at(x), ay.at(y)}
		run = append(run, q)
		if !ok || q.x >= end.x {
			end, ok = q, true
		}
	}
	flush()
	return end, ok
}

// endings writes the names at the curves' ends, pushed apart where they would collide.
func (c Chart) endings(p *pencil, ends []ending, plot box) {
	sort.SliceStable(ends, func(i, j int) bool { return ends[i].at.y < ends[j].at.y })
	const pitch = 15
	lowest := plot.y + plot.h - 2
	for i := range ends {
		ends[i].y = math.Min(ends[i].at.y+4, lowest)
		if i > 0 && ends[i].y < ends[i-1].y+pitch {
			ends[i].y = ends[i-1].y + pitch
		}
	}
	for i := len(ends) - 1; i >= 0; i-- {
		limit := lowest - pitch*float64(len(ends)-1-i)
		ends[i].y = math.Min(ends[i].y, limit)
	}
	x := plot.x + plot.w + 12
	for _, e := range ends {
		if math.Abs(e.y-4-e.at.y) > 3 || x-8-e.at.x > 14 {
			p.polyline([]point{{e.at.x + 3, e.at.y}, {x - 8, e.y - 4}, {x - 3, e.y - 4}}, stroke(e.colour, 1.2, "1 3"))
		}
		p.text(x, e.y, c.Curves[e.curve].Name, lettering{colour: e.colour, bold: true})
	}
}

func markKind(kind string) string {
	for _, n := range markNames {
		if n.kind == kind {
			return kind
		}
	}
	return "reading"
}

func markColour(kind string) string {
	switch kind {
	case "claim":
		return rustColour
	case "foretold":
		return blueColour
	}
	return inkColour
}

// drawMark draws the sign of a kind; the signs differ in shape and filling.
func drawMark(p *pencil, x, y float64, kind string) {
	colour := markColour(kind)
	switch kind {
	case "plateau":
		p.add(`<circle cx="%s" cy="%s" r="4.5" fill="%s" stroke="#fff" stroke-width="1.2"/>`, px(x), px(y), colour)
	case "unsettled":
		p.area([]point{{x, y - 5.5}, {x + 5.5, y}, {x, y + 5.5}, {x - 5.5, y}}, `fill="#fff" `+stroke(colour, 1.6, "2 1.5"))
	case "claim":
		p.area([]point{{x, y - 6.5}, {x + 6.5, y + 5}, {x - 6.5, y + 5}}, `fill="#fff" `+stroke(colour, 2.2, ""))
	case "foretold":
		p.area([]point{{x - 5, y - 5}, {x + 5, y - 5}, {x + 5, y + 5}, {x - 5, y + 5}}, `fill="#fff" `+stroke(colour, 1.8, ""))
	default:
		p.add(`<circle cx="%s" cy="%s" r="4.2" fill="#fff" stroke="%s" stroke-width="1.8"/>`, px(x), px(y), colour)
	}
}

// marks draws the points with their intervals, then their labels where there is room.
func (c Chart) marks(p *pencil, ax, ay axis) {
	type named struct {
		m    Mark
		x, y float64
	}
	var list []named
	for _, m := range c.Marks {
		if !drawable(m.X, m.Y) {
			continue
		}
		m.Kind = markKind(m.Kind)
		x, y := ax.at(m.X), ay.at(m.Y)
		dash := ""
		if m.Kind == "unsettled" {
			dash = "2 2"
		}
		pen := stroke(markColour(m.Kind), 1.4, dash)
		if interval(m.XLow, m.XHigh) {
			a, b := ax.at(m.XLow), ax.at(m.XHigh)
			p.add(`<path d="M%s %sH%sM%s %sv6M%s %sv6" fill="none" %s/>`, px(a), px(y), px(b), px(a), px(y-3), px(b), px(y-3), pen)
			p.taken = append(p.taken, box{a, y - 1, b - a, 2})
		}
		if interval(m.YLow, m.YHigh) {
			a, b := ay.at(m.YHigh), ay.at(m.YLow)
			p.add(`<path d="M%s %sV%sM%s %sh6M%s %sh6" fill="none" %s/>`, px(x), px(a), px(b), px(x-3), px(a), px(x-3), px(b), pen)
			p.taken = append(p.taken, box{x - 1, a, 2, b - a})
		}
		p.taken = append(p.taken, box{x - 5, y - 5, 10, 10})
		list = append(list, named{m, x, y})
	}
	for _, n := range list {
		drawMark(p, n.x, n.y, n.m.Kind)
	}
	sort.SliceStable(list, func(i, j int) bool { return list[i].m.Kind == "claim" && list[j].m.Kind != "claim" })
	for _, n := range list {
		label := shortened(n.m.Label, 12, 0.7*p.field.w)
		l := lettering{colour: markColour(n.m.Kind), halo: true}
		at, ok := p.place(label, l, around(n.x, n.y, 8))
		if label == "" || !ok && n.m.Kind != "claim" {
			continue // its number is in the table that stands with the chart
		}
		l.anchor = at.anchor
		b := textBox(at.x, at.y, label, l)
		near := point{math.Max(b.x, math.Min(b.x+b.w, n.x)), math.Max(b.y, math.Min(b.y+b.h, n.y))}
		if r := math.Hypot(near.x-n.x, near.y-n.y); r > 14 {
			p.line(n.x+6*(near.x-n.x)/r, n.y+6*(near.y-n.y)/r, near.x, near.y, stroke(hairColour, 1.2, ""))
		}
		p.text(at.x, at.y, label, l)
	}
}
