package report

import (
	"fmt"
	"math"
	"strconv"
)

// LedgerBar is one entry of the watt ledger. Kinds are "loss", "gain" and "thrust"; a gain,
// or a negative loss, gives power back.
type LedgerBar struct {
	Name, Text string
	Watts      float64
	Kind       string
}

const (
	ribbonHeight = 46.0
	ribbonDrop   = 7.0 // of a loss out of the ribbon
	foldHeight   = 20.0
	layerPitch   = ribbonHeight + ribbonDrop + foldHeight + 8
	tagPitch     = 15.0
)

// piece is a cut of the ribbon, in watts from the left.
type piece struct {
	LedgerBar
	from, to float64 // to < from for what is given back
	level    int
	top      float64
	x, w     float64
	inside   bool     // its label stands with it
	beside   []string // the name of what is given back, where the ribbon has ended
}

// tag is a label below the ribbon with its leader.
type tag struct {
	x     float64
	lines []string
	from  float64 // where the leader begins
	span  box     // of the pieces that it gathers
	row   int
	left  bool // the text stands to the left of its leader
	width float64
}

// LedgerSVG draws where the watts go as a ribbon cut into pieces: it begins with all of the
// battery's power on the left, loss after loss drops out of it, and what is left at the
// right is thrust power. What is given back folds the ribbon, so that the pieces on each
// layer and the folds always come to the total.
func LedgerSVG(id string, lines []LedgerBar, total float64) string {
	const width, margin = 760.0, 14.0
	const title = "Where the watts go, battery to thrust"
	pieces, total := cutRibbon(lines, total)
	if len(pieces) == 0 {
		return nothing(id, title, "", width)
	}
	end, levels := total, 0
	for _, c := range pieces {
		end, levels = math.Max(end, math.Max(c.from, c.to)), max(levels, c.level)
	}
	scale := (width - 2*margin) / end
	const top = 50.0
	under := top + ribbonHeight + float64(levels)*layerPitch + 12
	for i := range pieces {
		c := &pieces[i]
		c.x, c.w = margin+scale*math.Min(c.from, c.to), scale*math.Abs(c.to-c.from)
		c.top = top + float64(c.level)*layerPitch
		if c.to < c.from {
			c.top -= foldHeight + 4
		}
		need := math.Max(textWidth(c.Name, 12.5), textWidth(c.Text, 12)) + 14
		c.inside = c.w >= need && c.to >= c.from
		if c.to < c.from {
			c.beside = wrapped(c.Name, 12, width-margin-c.x-c.w-10)
			c.inside = width-margin-c.x-c.w > 100 && len(c.beside) <= 3
		}
	}
	tags := tagsOf(pieces, width-margin)
	rows := 0
	for _, g := range tags {
		rows = max(rows, g.row+len(g.lines))
	}
	p := newPencil(id, width, under+float64(rows)*tagPitch+12)

	// the tape along the top edge
	p.text(margin, 16, "battery, "+wattText(total), lettering{bold: true})
	p.text(width-margin, 16, "thrust power", lettering{bold: true, anchor: "end"})
	middle := (margin + textWidth("battery, "+wattText(total), 13) + width - margin - textWidth("thrust power", 13)) / 2
	half := textWidth("every watt, in the order in which it is lost", 11)/2 + 6
	p.line(margin+textWidth("battery, "+wattText(total), 13)+10, 12, middle-half, 12, stroke(greyColour, 1.2, ""))
	p.arrow(middle+half, 12, width-margin-textWidth("thrust power", 13)-8, 12, 8, greyColour, 1.2)
	p.text(middle, 16, "every watt, in the order in which it is lost", lettering{size: 11, anchor: "middle", colour: greyColour})
	step := niceStep(end, 8)
	for k := 0; float64(k)*step/5 <= end*(1+1e-9); k++ {
		x, l := margin+scale*float64(k)*step/5, 4.0
		if k%5 == 0 {
			l = 8
			s := tickText(float64(k)*step/5, step)
			at := math.Max(margin+textWidth(s, 11)/2, math.Min(width-margin-textWidth(s+" W", 11)/2, x))
			if k > 0 {
				s += " W"
			}
			p.text(at, top-14, s, lettering{size: 11, anchor: "middle", colour: greyColour})
		}
		p.line(x, top-2, x, top-2-l, stroke(greyColour, 1.2, ""))
	}
	p.line(margin, top-2, margin+scale*end, top-2, stroke(greyColour, 1.2, ""))

	for i, c := range pieces {
		p.piece(i, c)
	}
	for _, g := range tags {
		g.draw(p, under)
	}
	about := "battery " + wattText(total)
	for _, c := range pieces {
		about += "; " + c.Name + " " + c.Text
	}
	return p.svg(title, about)
}

// cutRibbon lays the entries end to end. What is not listed gets a piece of its own.
func cutRibbon(lines []LedgerBar, total float64) ([]piece, float64) {
	var list []LedgerBar
	sum, size := 0.0, 0.0
	for _, l := range lines {
		if !drawable(l.Watts) || l.Watts == 0 && l.Kind != "thrust" {
			continue
		}
		if l.Kind == "gain" {
			l.Watts = -math.Abs(l.Watts)
		}
		list = append(list, l)
		sum += l.Watts
		size = math.Max(size, math.Abs(l.Watts))
	}
	if !drawable(total) || total <= 0 {
		total = sum
	}
	if size == 0 || total <= 0 || total < 1e-9*size {
		return nil, 0
	}
	if rest := total - sum; math.Abs(rest) > 1e-9*total {
		extra := LedgerBar{Name: "not listed", Text: wattText(rest), Watts: rest, Kind: "rest"}
		at := len(list)
		for at > 0 && list[at-1].Kind == "thrust" {
			at--
		}
		list = append(list[:at:at], append([]LedgerBar{extra}, list[at:]...)...)
	}
	var out []piece
	x, level := 0.0, 0
	for _, l := range list {
		if l.Watts < 0 {
			level++
		}
		out = append(out, piece{LedgerBar: l, from: x, to: x + l.Watts, level: level})
		x += l.Watts
	}
	return out, total
}

// wattText writes watts to the watt, or to three figures below 10 W.
func wattText(w float64) string {
	switch a := math.Abs(w); {
	case a >= 10:
		return tickText(math.Round(w), 1) + " W"
	default:
		return tickText(w, 0.1) + " W"
	}
}

// piece draws one cut of the ribbon with its width in px for whoever measures it.
func (p *pencil) piece(i int, c piece) {
	drop := 0.0
	paint, edge := "", stroke(inkColour, 1.2, "")
	switch {
	case c.Kind == "thrust":
		paint = blueColour
	case c.to < c.from:
		paint = p.hatching("gain", 0, 6, 0.6, blueColour, "#eef5f9", true)
	case c.Kind == "rest":
		paint, edge = "#fff", stroke(inkColour, 1.2, "3 2")
	case i%2 == 0:
		paint = p.hatching("even", 45, 8, 0.5, "#b9a08f", "#f6ede6", false)
		drop = ribbonDrop
	default:
		paint = p.hatching("odd", -45, 8, 0.5, "#9aa3a8", "#edf0f1", false)
		drop = ribbonDrop
	}
	h := ribbonHeight
	if c.to < c.from {
		h = foldHeight
	}
	if c.w < 3 && c.Kind != "rest" {
		edge = "" // an outline would be wider than the piece
		if c.to >= c.from && c.Kind != "thrust" {
			paint = "#6f7579"
		}
	}
	p.add(`<rect class="%s" data-watts="%s" data-width="%s" x="%s" y="%s" width="%s" height="%s" fill="%s" %s/>`,
		pieceClass(c), strconv.FormatFloat(c.to-c.from, 'f', 2, 64), px(c.w), px(c.x), px(c.top+drop), px(c.w), px(h), paint, edge)
	if c.to < c.from && c.w > 14 {
		p.arrow(c.x+c.w-3, c.top+h/2, c.x+3, c.top+h/2, 7, blueColour, 1.6)
	}
	if c.inside && c.to < c.from {
		for j, s := range c.beside {
			p.text(c.x+c.w+8, c.top+15-float64(len(c.beside)-j)*tagPitch, s, lettering{})
		}
		p.text(c.x+c.w+8, c.top+15, c.Text, lettering{})
		return
	}
	if c.inside {
		l := lettering{size: 12.5, anchor: "middle", bold: true, halo: true}
		if c.Kind == "thrust" {
			l.halo, l.colour = false, "#fff"
		}
		p.text(c.x+c.w/2, c.top+drop+20, c.Name, l)
		l.size, l.bold = 12, false
		p.text(c.x+c.w/2, c.top+drop+36, c.Text, l)
	}
}

func pieceClass(c piece) string {
	switch {
	case c.to < c.from:
		return "gain"
	case c.Kind == "thrust" || c.Kind == "rest":
		return c.Kind
	}
	return "loss"
}

// tagsOf makes a label for each piece that has no room for its own; three or more slim ones
// side by side share one.
func tagsOf(pieces []piece, right float64) []tag {
	var out []tag
	for i := 0; i < len(pieces); {
		c := pieces[i]
		if c.inside {
			i++
			continue
		}
		n := 1
		slim := func(c piece) bool { return c.w < 7 && c.to >= c.from && c.Kind != "thrust" && c.Kind != "rest" }
		for slim(c) && i+n < len(pieces) && slim(pieces[i+n]) {
			n++
		}
		h := ribbonHeight + ribbonDrop
		switch {
		case c.to < c.from:
			h = foldHeight
		case c.Kind == "thrust" || c.Kind == "rest":
			h = ribbonHeight
		}
		if n < 3 {
			out = append(out, tag{x: c.x + c.w/2, from: c.top + h, lines: []string{labelled(c)}})
			i++
			continue
		}
		g := tag{from: c.top + h}
		sum, last := 0.0, pieces[i+n-1]
		for _, c := range pieces[i : i+n] {
			sum += c.Watts
			g.lines = append(g.lines, "– "+labelled(c))
		}
		g.lines = append([]string{fmt.Sprintf("%d small losses, %s in all", n, wattText(sum))}, g.lines...)
		g.span = box{c.x, g.from, last.x + last.w - c.x, 0}
		g.x = c.x + g.span.w/2
		out = append(out, g)
		i += n
	}
	// the last one takes the top row, the ones before it lower ones: no leader crosses a text
	for i := range out {
		g := &out[i]
		for _, l := range g.lines {
			g.width = math.Max(g.width, textWidth(l, 12)+8)
		}
		g.left = g.x+g.width > right && g.x > g.width
	}
	var placed []*tag
	seat := func(g *tag) {
		for g.row = 0; g.row < 60; g.row++ {
			free := true
			for _, o := range placed {
				free = free && !g.clash(*o)
			}
			if free {
				break
			}
		}
		placed = append(placed, g)
	}
	for i := len(out) - 1; i >= 0; i-- {
		if !out[i].left {
			seat(&out[i])
		}
	}
	for i := range out {
		if out[i].left {
			seat(&out[i])
		}
	}
	return out
}

func labelled(c piece) string {
	if c.Name == "" || c.Text == "" {
		return c.Name + c.Text
	}
	return c.Name + ", " + c.Text
}

// room is what the text covers, in px and rows.
func (g tag) room() box {
	b := box{g.x, float64(g.row), g.width, float64(len(g.lines))}
	if g.left {
		b.x -= g.width
	}
	return b
}

// clash tells whether two labels cover each other or a leader crosses a text.
func (g tag) clash(o tag) bool {
	a, b := g.room(), o.room()
	crosses := func(x float64, row int, r box) bool {
		return x > r.x+0.5 && x < r.x+r.w-0.5 && float64(row) > r.y
	}
	return a.overlap(b) > 0 || crosses(g.x, g.row, b) || crosses(o.x, o.row, a)
}

// draw draws the leader and the text.
func (g tag) draw(p *pencil, under float64) {
	y := under + float64(g.row)*tagPitch
	if g.span.w > 0 {
		p.add(`<path d="M%s %sv4H%sv-4" fill="none" %s/>`, px(g.span.x), px(g.from+2), px(g.span.x+g.span.w), stroke(greyColour, 1.2, ""))
		g.from += 4
	}
	p.line(g.x, g.from+2, g.x, y+8, stroke(greyColour, 1.2, ""))
	l, side := lettering{}, 1.0
	if g.left {
		l.anchor, side = "end", -1
	}
	p.line(g.x, y+8, g.x+4*side, y+8, stroke(greyColour, 1.2, ""))
	for i, s := range g.lines {
		l.bold = len(g.lines) > 1 && i == 0
		p.text(g.x+7*side, y+12+float64(i)*tagPitch, s, l)
	}
}
