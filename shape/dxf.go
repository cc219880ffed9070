package shape

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
)

// Layer groups what belongs together in a drawing; a CAD program shows and hides it as one.
type Layer struct {
	Name   string
	Colour int // index of colour: 1 red … 5 blue, 7 black or white
	Dashed bool
}

// Drawing2D is a flat drawing: lines, arcs, circles, open and closed polylines and texts, in metres, each on a layer. It is written
// in millimetres.
type Drawing2D struct {
	layers   []Layer
	entities []entity
}

type entity struct {
	layer  string
	points [][2]float64
	closed bool
	radius float64    // of a circle or an arc about its first point
	angles [2]float64 // of an arc, rad, counter-clockwise from the first to the second
	text   string     // at its first point
	height float64    // of the text, m
	turned float64    // of the text, rad
	kind   byte       // p, c, a, t
}

// Layer adds a layer; what is drawn on one that was never added is an error when it is written.
func (d *Drawing2D) Layer(l Layer) { d.layers = append(d.layers, l) }

// Polyline joins points by straight lines.
func (d *Drawing2D) Polyline(layer string, points [][2]float64, closed bool) {
	d.entities = append(d.entities, entity{layer: layer, points: points, closed: closed, kind: 'p'})
}

// Circle is drawn whole.
func (d *Drawing2D) Circle(layer string, centre [2]float64, radius float64) {
	d.entities = append(d.entities, entity{layer: layer, points: [][2]float64{centre}, radius: radius, kind: 'c'})
}

// Arc runs counter-clockwise between two angles, rad.
func (d *Drawing2D) Arc(layer string, centre [2]float64, radius, from, to float64) {
	d.entities = append(d.entities, entity{layer: layer, points: [][2]float64{centre}, radius: radius, angles: [2]float64{from, to}, kind: 'a'})
}

// Text stands at a point, turned by an angle, rad; its height is in metres.
func (d *Drawing2D) Text(layer string, at [2]float64, height, turned float64, text string) {
	d.entities = append(d.entities, entity{layer: layer, points: [][2]float64{at}, text: text, height: height, turned: turned, kind: 't'})
}

// WriteDXF writes the drawing as text DXF of release 12 (AC1009), which every CAD program reads, in millimetres. What is not finite, lies
// on no layer, or is an empty polyline is an error.
func (d *Drawing2D) WriteDXF(w io.Writer, about About) error {
	known := map[string]bool{}
	for _, l := range d.layers {
		if !plainName(l.Name) {
			return fmt.Errorf("DXF: the layer name %q has other signs than letters, digits, _ and -", l.Name)
		}
		known[l.Name] = true
	}
	low, high := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for i, e := range d.entities {
		if !known[e.layer] {
			return fmt.Errorf("DXF: entity %d lies on no layer that is there: %q", i, e.layer)
		}
		if e.kind == 'p' && len(e.points) < 2 {
			return fmt.Errorf("DXF: entity %d is a line of %d points", i, len(e.points))
		}
		for _, p := range e.points {
			for k := range 2 {
				if math.IsNaN(p[k]) || math.IsInf(p[k], 0) {
					return fmt.Errorf("DXF: entity %d has a point that is no number", i)
				}
				low[k], high[k] = math.Min(low[k], p[k]-e.radius), math.Max(high[k], p[k]+e.radius)
			}
		}
		if (e.kind == 'c' || e.kind == 'a') && !(e.radius > 0) {
			return fmt.Errorf("DXF: entity %d has a radius of %v m", i, e.radius)
		}
	}
	if len(d.entities) == 0 {
		return errors.New("DXF: there is nothing to draw")
	}
	o := dxf{bufio.NewWriterSize(w, 1<<16)}
	for _, line := range append([]string{about.Title}, about.Lines...) {
		o.text(999, line)
	}
	o.text(0, "SECTION")
	o.text(2, "HEADER")
	o.text(9, "$ACADVER")
	o.text(1, "AC1009")
	o.text(9, "$INSUNITS") // millimetres; newer readers ask for it
	o.text(70, "4")
	o.text(9, "$EXTMIN")
	o.point(10, low)
	o.number(30, 0)
	o.text(9, "$EXTMAX")
	o.point(10, high)
	o.number(30, 0)
	o.text(0, "ENDSEC")
	o.text(0, "SECTION")
	o.text(2, "TABLES")
	o.text(0, "TABLE")
	o.text(2, "LTYPE")
	o.text(70, "2")
	o.lineType("CONTINUOUS", "solid")
	o.lineType("DASHDOT", "long, short", 12, -3, 0, -3)
	o.text(0, "ENDTAB")
	o.text(0, "TABLE")
	o.text(2, "LAYER")
	o.text(70, fmt.Sprint(len(d.layers)+1))
	for _, l := range append([]Layer{{Name: "0", Colour: 7}}, d.layers...) {
		o.text(0, "LAYER")
		o.text(2, l.Name)
		o.text(70, "0")
		o.text(62, fmt.Sprint(l.Colour))
		o.text(6, map[bool]string{false: "CONTINUOUS", true: "DASHDOT"}[l.Dashed])
	}
	o.text(0, "ENDTAB")
	o.text(0, "TABLE")
	o.text(2, "STYLE")
	o.text(70, "1")
	for _, p := range []struct {
		code int
		text string
	}{{0, "STYLE"}, {2, "STANDARD"}, {70, "0"}, {40, "0"}, {41, "1"}, {50, "0"}, {71, "0"}, {42, "2.5"}, {3, "txt"}, {4, ""}} {
		o.text(p.code, p.text)
	}
	o.text(0, "ENDTAB")
	o.text(0, "ENDSEC")
	o.text(0, "SECTION")
	o.text(2, "ENTITIES")
	for _, e := range d.entities {
		o.entity(e)
	}
	o.text(0, "ENDSEC")
	o.text(0, "EOF")
	return o.Flush() // it holds the first error of all that was written
}

type dxf struct{ *bufio.Writer }

func (o dxf) text(code int, value string) {
	fmt.Fprintf(o, "%3d\r\n%s\r\n", code, oneLine(value))
}

func (o dxf) number(code int, value float64) { o.text(code, fmt.Sprintf("%.6g", value)) }

// point writes a point of metres in millimetres.
func (o dxf) point(code int, p [2]float64) {
	var b []byte
	for k := range 2 {
		b = appendMillimetres(b[:0], p[k])
		o.text(code+10*k, string(b))
	}
}

func (o dxf) lineType(name, meaning string, pattern ...float64) {
	o.text(0, "LTYPE")
	o.text(2, name)
	o.text(70, "0")
	o.text(3, meaning)
	o.text(72, "65")
	o.text(73, fmt.Sprint(len(pattern)))
	total := 0.0
	for _, p := range pattern {
		total += math.Abs(p)
	}
	o.number(40, total)
	for _, p := range pattern {
		o.number(49, p)
	}
}

func (o dxf) entity(e entity) {
	switch e.kind {
	case 'p':
		o.text(0, "POLYLINE")
		o.text(8, e.layer)
		o.text(66, "1")
		o.point(10, [2]float64{})
		o.number(30, 0)
		o.text(70, map[bool]string{false: "0", true: "1"}[e.closed])
		for _, p := range e.points {
			o.text(0, "VERTEX")
			o.text(8, e.layer)
			o.point(10, p)
			o.number(30, 0)
		}
		o.text(0, "SEQEND")
		o.text(8, e.layer)
	case 'c', 'a':
		o.text(0, map[byte]string{'c': "CIRCLE", 'a': "ARC"}[e.kind])
		o.text(8, e.layer)
		o.point(10, e.points[0])
		o.number(30, 0)
		o.text(40, string(appendMillimetres(nil, e.radius)))
		if e.kind == 'a' {
			o.number(50, e.angles[0]*180/math.Pi)
			o.number(51, e.angles[1]*180/math.Pi)
		}
	case 't':
		o.text(0, "TEXT")
		o.text(8, e.layer)
		o.point(10, e.points[0])
		o.number(30, 0)
		o.text(40, string(appendMillimetres(nil, e.height)))
		o.text(1, e.text)
		o.number(50, e.turned*180/math.Pi)
	}
}

// oneLine keeps a text on its line, and within the signs that release 12 has: others are written by their numbers.
func oneLine(text string) string {
	var b strings.Builder
	for _, r := range text {
		switch {
		case r == '°':
			b.WriteString("%%d")
		case r == '±':
			b.WriteString("%%p")
		case r == 'Ø' || r == 'ø' || r == '⌀':
			b.WriteString("%%c")
		case r < ' ':
			b.WriteByte(' ')
		case r < 127:
			b.WriteRune(r)
		default:
			fmt.Fprintf(&b, "\\U+%04X", r)
		}
	}
	return b.String()
}

func plainName(name string) bool {
	for _, r := range name {
		if !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '_' || r == '-') {
			return false
		}
	}
	return name != ""
}
