package report

import "math"

// Bar is a gain with its interval.
type Bar struct {
	Name             string // what is changed
	Note             string // the step, small behind the name
	Value, Low, High float64
	Text             string // the figure as the text has it
	Unsure           bool   // drawn open: it may be a loss
}

// Bars are gains below each other on one scale: a bar to the gain, a line over its interval.
type Bars struct {
	ID, Title, About string
	XLabel           string
	List             []Bar
}

// SVG draws them.
func (c Bars) SVG() string {
	const width, row, left, right = 760.0, 30.0, 306.0, 128.0
	list := c.List[:0:0]
	ex := noExtent()
	ex.show(0)
	for _, b := range c.List {
		if drawable(b.Value, b.Low, b.High) {
			list = append(list, b)
			ex.show(b.Value, b.Low, b.High)
		}
	}
	if len(list) == 0 {
		return nothing(c.ID, c.Title, c.About, width)
	}
	ex = ex.opened()
	step := niceStep(ex.high-ex.low, 6)
	p := newPencil(c.ID, width, row*float64(len(list))+58)
	ax := axis{ex, left, width - right}
	bottom := 10 + row*float64(len(list))
	for _, t := range ticksOf(ex, step) {
		x := ax.at(t)
		p.line(x, 6, x, bottom, stroke("#dde1e3", 1.2, ""))
		p.line(x, bottom, x, bottom+5, stroke(inkColour, 1.2, ""))
		p.text(x, bottom+18, tickText(t, step), lettering{anchor: "middle"})
	}
	p.line(left, bottom, width-right, bottom, stroke(inkColour, 1.4, ""))
	for i, b := range list {
		y := 10 + row*(float64(i)+0.5)
		name := shortened(b.Name, 12, left-14)
		p.text(left-8, y-2, name, lettering{anchor: "end"})
		p.text(left-8, y+11, shortened(b.Note, 10, left-14), lettering{anchor: "end", size: 10, colour: greyColour})
		from, to := math.Min(ax.at(0), ax.at(b.Value)), math.Max(ax.at(0), ax.at(b.Value))
		paint := `fill="` + blueColour + `"`
		switch {
		case b.Unsure:
			paint = `fill="#fff" ` + stroke(blueColour, 1.3, "")
		case b.Value < 0:
			paint = `fill="` + rustColour + `"`
		}
		p.rect(box{from, y - 6, math.Max(to-from, 0.8), 12}, paint)
		if interval(b.Low, b.High) {
			lo, hi := ax.at(b.Low), ax.at(b.High)
			p.line(lo, y, hi, y, stroke("#fff", 3.6, ""))
			p.line(lo, y, hi, y, stroke(inkColour, 1.6, ""))
			p.line(lo, y-4, lo, y+4, stroke(inkColour, 1.6, ""))
			p.line(hi, y-4, hi, y+4, stroke(inkColour, 1.6, ""))
		}
		p.text(width-right+8, y+4, shortened(b.Text, 11, right-8), lettering{size: 11})
	}
	p.line(ax.at(0), 6, ax.at(0), bottom, stroke(greyColour, 1.2, ""))
	p.text((left+width-right)/2, bottom+36, c.XLabel, lettering{anchor: "middle", colour: greyColour})
	return p.svg(c.Title, c.About)
}
