package report

import (
	"math"
	"strconv"
)

// Contours is a picture of a figure over two others: lines of equal height, with curves and marks laid
// over it and ranges that are out of bounds hatched.
type Contours struct {
	ID, Title, About string
	Bare             bool // the title is told to readers of the picture only, since it stands above already
	XLabel, YLabel   string
	X, Y             []float64   // of the grid, rising, in display units
	Z                [][]float64 // a row a Y; NaN where there is none
	Levels           []float64
	LevelText        func(float64) string
	Bounds           []Bound // what lies above the lowest of them is hatched
	Line             Curve   // along which the machine runs
	Marks            []Mark
	Width, Height    float64
}

// Bound is a line in the picture beyond which a limit is broken; Y beyond the picture is cut at its edge.
type Bound struct {
	Name string
	Y    []float64 // by the grid's X
	Soft bool      // what lies beyond is not hatched
}

// SVG draws the picture.
func (c Contours) SVG() string {
	w, h := Chart{Width: c.Width, Height: c.Height}.size()
	if c.Height == 0 {
		h = 470
	}
	if len(c.X) < 2 || len(c.Y) < 2 {
		return nothing(c.ID, c.Title, c.About, w)
	}
	p := newPencil(c.ID, w, h)
	top := 8.0
	if c.Title != "" && !c.Bare {
		p.text(8, top+11, shortened(c.Title, 14, w-16), lettering{size: 14, bold: true})
		top += 24
	}
	top = c.key(p, top, w) + 14
	p.text(8, top, shortened(c.YLabel, 12, w-16), lettering{colour: greyColour})
	top += 13
	ex, ey := extent{0, c.X[len(c.X)-1]}, extent{0, c.Y[len(c.Y)-1]}
	yTicks, yStep := niceTicks(ey, 8)
	left := 18.0
	for _, t := range yTicks {
		left = math.Max(left, 18+textWidth(tickText(t, yStep), 12))
	}
	plot := box{left, top, w - left - 16, h - 42 - top}
	xTicks, xStep := niceTicks(ex, int(math.Max(2, math.Min(10, plot.w/62))))
	ax, ay := axis{ex, plot.x, plot.x + plot.w}, axis{ey, plot.y + plot.h, plot.y}
	p.field, p.taken, p.thin = plot, nil, nil

	c.hatch(p, plot, ax, ay)
	Chart{XLabel: c.XLabel}.grid(p, plot, ax, ay, xTicks, yTicks, xStep, yStep)
	p.add(`<clipPath id="%s-field"><rect x="%s" y="%s" width="%s" height="%s"/></clipPath>`, p.id, px(plot.x), px(plot.y), px(plot.w), px(plot.h))
	p.add(`<g clip-path="url(#%s-field)">`, p.id)
	type named struct {
		text string
		pts  []point
	}
	var names []named
	for i, level := range c.Levels {
		width := 1.0
		if i%2 == 0 {
			width = 1.5
		}
		for _, run := range contour(c.X, c.Y, c.Z, level) {
			for k := range run {
				run[k] = point{ax.at(run[k].x), ay.at(run[k].y)}
			}
			p.polyline(run, stroke(blueColour, width, ""))
			names = append(names, named{c.LevelText(level), run})
		}
	}
	for i, b := range c.Bounds {
		p.polyline(boundPoints(c.X, b, ax, ay, plot), c.boundStroke(i))
	}
	var line []point
	for i := range c.Line.X {
		if drawable(c.Line.X[i], value(c.Line.Y, i)) {
			line = append(line, point{ax.at(c.Line.X[i]), ay.at(c.Line.Y[i])})
		}
	}
	p.polyline(line, stroke("#fff", 5.5, ""))
	p.polyline(line, stroke(inkColour, 3, ""))
	p.add(`</g>`)
	for i := 1; i < len(line); i++ { // numbers of lines keep off the running line
		a, b := line[i-1], line[i]
		for s := range 8 {
			f := float64(s) / 8
			q := point{a.x + f*(b.x-a.x), a.y + f*(b.y-a.y)}
			p.thin = append(p.thin, q)
		}
	}
	Chart{Marks: c.Marks}.marks(p, ax, ay)
	for _, n := range names {
		c.levelName(p, n.text, n.pts)
	}
	return p.svg(c.Title, c.About)
}

// levelName writes the number of a line upon it where it lies clear, at the place farthest along.
func (c Contours) levelName(p *pencil, s string, run []point) {
	length := 0.0
	for i := 1; i < len(run); i++ {
		length += math.Hypot(run[i].x-run[i-1].x, run[i].y-run[i-1].y)
	}
	if length < 40 {
		return
	}
	var spots []spot
	for _, f := range []float64{0.5, 0.35, 0.65, 0.2, 0.8} {
		q := run[int(f*float64(len(run)-1))]
		spots = append(spots, spot{q.x, q.y + 4, "middle"})
	}
	l := lettering{size: 11, colour: blueColour, halo: true}
	if at, ok := p.place(s, l, spots); ok {
		l.anchor = at.anchor
		p.text(at.x, at.y, s, l)
	}
}

func (c Contours) boundStroke(i int) string {
	return stroke(rustColour, 2.2, []string{"", "9 4", "2 3", "9 3 2 3"}[i%4])
}

func boundPoints(x []float64, b Bound, ax, ay axis, plot box) []point {
	var out []point
	for i, t := range b.Y {
		if i < len(x) && drawable(t) {
			out = append(out, point{ax.at(x[i]), math.Max(plot.y-20, ay.at(t))})
		}
	}
	return out
}

// hatch draws what lies above the lowest bound.
func (c Contours) hatch(p *pencil, plot box, ax, ay axis) {
	if len(c.Bounds) == 0 {
		return
	}
	var low []point
	for i, x := range c.X {
		least := math.Inf(1)
		for _, b := range c.Bounds {
			if i < len(b.Y) && !b.Soft {
				least = math.Min(least, b.Y[i])
			}
		}
		low = append(low, point{ax.at(x), math.Max(plot.y, ay.at(math.Min(least, c.Y[len(c.Y)-1])))})
	}
	low = append([]point{{plot.x, low[0].y}}, low...)
	low = append(low, point{plot.x + plot.w, plot.y}, point{plot.x, plot.y})
	p.area(low, `fill="`+p.hatching("beyond", 45, 8, 0.5, "#d9a98f", "#fbf4f0", false)+`"`)
}

// key writes the line above the picture.
func (c Contours) key(p *pencil, top, width float64) float64 {
	x, y := 8.0, top+13
	entry := func(name, pen string) {
		name = shortened(name, 12, width-60)
		w := 36 + textWidth(name, 12) + 18
		if x > 8 && x+w > width {
			x, y = 8, y+18
		}
		p.line(x, y-4, x+30, y-4, pen)
		p.text(x+36, y, name, lettering{})
		x += w
	}
	if c.Line.Name != "" {
		entry(c.Line.Name, stroke(inkColour, 3, ""))
	}
	for i, b := range c.Bounds {
		entry(b.Name, c.boundStroke(i))
	}
	if len(c.Levels) > 0 {
		entry("lines of equal efficiency", stroke(blueColour, 1.5, ""))
	}
	return y + 6
}

// contour returns the lines on which a figure has a height, in the units of its grid: between two
// neighbours of the grid the figure is taken as straight, and squares with a corner missing are left out.
func contour(x, y []float64, z [][]float64, level float64) [][]point {
	type edge struct{ i, j, way int } // from grid point (i, j) along x (0) or along y (1)
	cut := func(e edge) point {
		i2, j2 := e.i+1-e.way, e.j+e.way
		a, b := z[e.j][e.i], z[j2][i2]
		f := (level - a) / (b - a)
		return point{x[e.i] + f*(x[i2]-x[e.i]), y[e.j] + f*(y[j2]-y[e.j])}
	}
	links := map[edge][]edge{}
	var order []edge
	link := func(a, b edge) {
		for _, e := range []edge{a, b} {
			if _, ok := links[e]; !ok {
				order = append(order, e)
			}
		}
		links[a], links[b] = append(links[a], b), append(links[b], a)
	}
	for j := 0; j+1 < len(y); j++ {
		for i := 0; i+1 < len(x); i++ {
			corner := [4]float64{z[j][i], z[j][i+1], z[j+1][i+1], z[j+1][i]}
			if !drawable(corner[:]...) {
				continue
			}
			sides := [4]edge{{i, j, 0}, {i + 1, j, 1}, {i, j + 1, 0}, {i, j, 1}}
			var hit []edge
			for k := range 4 {
				if (corner[k] >= level) != (corner[(k+1)%4] >= level) {
					hit = append(hit, sides[k])
				}
			}
			switch len(hit) {
			case 2:
				link(hit[0], hit[1])
			case 4: // a saddle: its middle says which corners hang together
				if mean := (corner[0] + corner[1] + corner[2] + corner[3]) / 4; (mean >= level) == (corner[0] >= level) {
					link(hit[0], hit[1])
					link(hit[2], hit[3])
				} else {
					link(hit[3], hit[0])
					link(hit[1], hit[2])
				}
			}
		}
	}
	used := map[edge]bool{}
	var out [][]point
	walk := func(from edge) {
		run := []point{cut(from)}
		used[from] = true
		for at, first := from, true; ; first = false {
			var to *edge
			for k := range links[at] {
				if e := links[at][k]; !used[e] {
					to = &e
					break
				}
			}
			if to == nil {
				if !first && len(links[from]) == 2 { // closed: back to where it began
					run = append(run, run[0])
				}
				break
			}
			at = *to
			used[at] = true
			run = append(run, cut(at))
		}
		if len(run) > 1 {
			out = append(out, run)
		}
	}
	for _, e := range order {
		if !used[e] && len(links[e]) == 1 {
			walk(e)
		}
	}
	for _, e := range order {
		if !used[e] {
			walk(e)
		}
	}
	return out
}

// percent words a share as whole or half percent.
func percent(x float64) string { return strconv.FormatFloat(math.Round(1000*x)/10, 'g', 4, 64) + " %" }

// efficiencyLevels are lines that tell a map apart: closer together towards its best.
func efficiencyLevels(best float64) []float64 {
	var out []float64
	for _, l := range []float64{0.5, 0.7, 0.8, 0.85, 0.88, 0.9, 0.91, 0.92, 0.93, 0.94, 0.95, 0.96, 0.97, 0.98} {
		if l < best {
			out = append(out, l)
		}
	}
	return out
}
