package shape

import (
	"bufio"
	"fmt"
	"html"
	"io"
	"math"
)

// svgPens are the widths and dashes by which a layer's lines are told apart in print, in mm; colour carries nothing.
var svgPens = map[string]string{
	"outline": `stroke-width="0.5"`, "centre": `stroke-width="0.18" stroke-dasharray="6 1.5 0 1.5"`, "dimension": `stroke-width="0.18"`, "thin": `stroke-width="0.25"`,
}

// WriteSVG writes the drawing one to one, in millimetres, with a frame and what it says of itself below. Layers named outline, centre,
// dimension and thin are drawn as a technical drawing has them, others thin.
func (d *Drawing2D) WriteSVG(w io.Writer, about About) error {
	low, high := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	grow := func(x, y float64) {
		low[0], low[1], high[0], high[1] = math.Min(low[0], x), math.Min(low[1], y), math.Max(high[0], x), math.Max(high[1], y)
	}
	for _, e := range d.entities {
		for _, p := range e.points {
			grow(p[0]-e.radius, p[1]-e.radius)
			grow(p[0]+e.radius, p[1]+e.radius)
			if e.kind == 't' {
				s, c := math.Sincos(e.turned)
				long := 0.62 * e.height * float64(len([]rune(e.text)))
				grow(p[0]+c*long, p[1]+s*long)
				grow(p[0]-s*e.height, p[1]+c*e.height)
			}
		}
	}
	if !(high[0] >= low[0]) {
		return fmt.Errorf("SVG: there is nothing to draw")
	}
	const edge, line = 8.0, 5.0 // mm
	lines := append([]string{about.Title}, about.Lines...)
	wide := 0.0
	for _, l := range lines {
		wide = math.Max(wide, 2*float64(len([]rune(l))))
	}
	width := math.Max(1e3*(high[0]-low[0]), wide) + 2*edge
	height := 1e3*(high[1]-low[1]) + 2*edge + line*float64(len(lines)) + 4
	o := bufio.NewWriter(w)
	fmt.Fprintf(o, `<svg xmlns="http://www.w3.org/2000/svg" width="%.2fmm" height="%.2fmm" viewBox="0 0 %.2f %.2f" font-family="sans-serif" fill="none" stroke="black" stroke-linecap="round" stroke-linejoin="round">`+"\n", width, height, width, height)
	fmt.Fprintf(o, "<title>%s</title>\n<desc>%s</desc>\n", html.EscapeString(about.Title), html.EscapeString(about.Text()))
	fmt.Fprintf(o, `<rect x="0" y="0" width="%.2f" height="%.2f" fill="white" stroke="none"/><rect x="2" y="2" width="%.2f" height="%.2f" stroke-width="0.35"/>`+"\n", width, height, width-4, height-4)
	at := func(p [2]float64) (x, y float64) { return edge + 1e3*(p[0]-low[0]), edge + 1e3*(high[1]-p[1]) }
	for _, e := range d.entities {
		pen, ok := svgPens[e.layer]
		if !ok {
			pen = svgPens["thin"]
		}
		x, y := at(e.points[0])
		switch e.kind {
		case 'p':
			kind := "polyline"
			if e.closed {
				kind = "polygon"
			}
			fmt.Fprintf(o, `<%s %s points="`, kind, pen)
			for _, p := range e.points {
				x, y := at(p)
				fmt.Fprintf(o, "%.3f,%.3f ", x, y)
			}
			o.WriteString("\"/>\n")
		case 'c':
			fmt.Fprintf(o, `<circle %s cx="%.3f" cy="%.3f" r="%.3f"/>`+"\n", pen, x, y, 1e3*e.radius)
		case 'a':
			end := func(a float64) (float64, float64) { return x + 1e3*e.radius*math.Cos(a), y - 1e3*e.radius*math.Sin(a) }
			x0, y0 := end(e.angles[0])
			x1, y1 := end(e.angles[1])
			large := 0
			if math.Mod(e.angles[1]-e.angles[0]+4*math.Pi, 2*math.Pi) > math.Pi {
				large = 1
			}
			fmt.Fprintf(o, `<path %s d="M%.3f %.3fA%.3f %.3f 0 %d 0 %.3f %.3f"/>`+"\n", pen, x0, y0, 1e3*e.radius, 1e3*e.radius, large, x1, y1)
		case 't':
			fmt.Fprintf(o, `<text x="%.3f" y="%.3f" font-size="%.2f" fill="black" stroke="none" transform="rotate(%.3f %.3f %.3f)">%s</text>`+"\n", x, y, 1e3*e.height*1.35, -e.turned*180/math.Pi, x, y, html.EscapeString(e.text))
		}
	}
	for i, l := range lines {
		fmt.Fprintf(o, `<text x="%.2f" y="%.2f" font-size="%.1f" fill="black" stroke="none">%s</text>`+"\n", edge, height-edge-line*float64(len(lines)-1-i)+3, 3.6, html.EscapeString(l))
	}
	o.WriteString("</svg>\n")
	return o.Flush()
}
