package shape

import (
	"fmt"
	"math"

	"jetwright/numeric"
)

// The four pieces of a section's outline, run through counterclockwise: back along the left side, round the
// leading edge, out along the right side, round the trailing edge.
const (
	leftSide = iota
	leadingEdge
	rightSide
	trailingEdge
	pieces
)

// A thickness form is a half thickness over its largest against the place on the camber line, symmetric to both sides. The
// tables are of sections a tenth as thick as long, in percent of the chord.
type table struct {
	x, y  []float64
	nose  float64 // radius of its own leading edge over the chord, at a tenth of thickness
	tail  float64
	curve func(x float64) float64
}

var tables = map[string]*table{
	// FROM MEMORY: ordinates of the NACA 65-010 basic thickness form as they are tabulated in cascade reports
	"65-series": {
		x:    []float64{0, 0.5, 0.75, 1.25, 2.5, 5, 7.5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 75, 80, 85, 90, 95, 100},
		y:    []float64{0, 0.772, 0.932, 1.169, 1.574, 2.177, 2.647, 3.040, 3.666, 4.143, 4.503, 4.760, 4.924, 4.996, 4.963, 4.812, 4.530, 4.146, 3.682, 3.156, 2.584, 1.987, 1.385, 0.810, 0.306, 0},
		nose: 0.00687,
	},
	// FROM MEMORY: ordinates of the British C4 form
	"C4": {
		x:    []float64{0, 1.25, 2.5, 5, 7.5, 10, 15, 20, 30, 40, 50, 60, 70, 80, 90, 95, 100},
		y:    []float64{0, 1.65, 2.27, 3.08, 3.62, 4.02, 4.55, 4.83, 5.00, 4.89, 4.57, 4.05, 3.37, 2.54, 1.60, 1.06, 0},
		nose: 0.012, tail: 0.006,
	},
	// The polynomial of the NACA four-digit sections with its trailing edge closed; FROM MEMORY
	"four-digit": {
		curve: func(x float64) float64 {
			return 10 * (0.2969*math.Sqrt(x) + x*(-0.126+x*(-0.3516+x*(0.2843-0.1036*x))))
		},
		nose: 0.0110,
	},
}

func init() {
	for _, t := range tables {
		if t.curve != nil {
			continue
		}
		q, y := make([]float64, len(t.x)), make([]float64, len(t.x)) // smooth in the root of the place, where the nose is round
		for i := range t.x {
			q[i], y[i] = math.Sqrt(t.x[i]/100), t.y[i]/5
		}
		c, err := numeric.NewPCHIP(q, y)
		if err != nil {
			panic(err) // held by TestFormsPublished
		}
		t.curve = func(x float64) float64 { v, _, _ := c.At(math.Sqrt(max(x, 0))); return v }
	}
}

// Forms are the thickness forms that a section may have.
func Forms() []string { return []string{"65-series", "C4", "double arc", "plate", "four-digit"} }

// HalfThickness returns the half thickness of a form over its largest, at a place from 0 at the leading edge to 1, without the
// edges that a process leaves; ok is false for a form that is made of arcs and has none.
func HalfThickness(form string, x float64) (y float64, ok bool) {
	t, ok := tables[form]
	if !ok {
		return 0, false
	}
	return t.curve(x), true
}

// half is the upper half of a section with its camber line straightened: a round leading edge, a side, a round trailing edge,
// each tangent to the next.
type half struct {
	length   float64    // of the camber line
	thick    float64    // half the largest thickness
	edge     [2]float64 // radii of leading and trailing edge
	rise     [2]float64 // angle of the side to the camber line where it leaves the edge
	from, to float64    // where the side begins and ends
	height   func(s float64) float64
	sharp    [2]bool // the form's own edge is rounder than the one asked for
}

// newHalf puts a form between two round edges.
//
//	arc:   R = (a² + T² − r²)/(2·(T − r)),  tangent to the edge of radius r and to the largest half thickness T, a behind the edge's centre
//	table: the form, or the common tangent of form and edge where that lies outside
//
// Holds for edges no thicker than the section.
func newHalf(form string, length, thickness, leading, trailing float64) (*half, *Fault) {
	h := &half{length: length, thick: thickness / 2, edge: [2]float64{leading, trailing}}
	if !(length > 0) || !(thickness > 0) {
		return nil, &Fault{What: fmt.Sprintf("a section with a chord of %s and a thickness of %s", mm(length), mm(thickness)), Allowed: "positive numbers"}
	}
	for i, r := range h.edge {
		if r > h.thick*(1+1e-9) {
			return nil, &Fault{What: fmt.Sprintf("the %s edge, %s thick, is thicker than the blade, %s", [2]string{"leading", "trailing"}[i], mm(2*r), mm(thickness)), Allowed: "an edge no thicker than the blade", WayOut: "thicken the section there, or thin the edge if the process can make it"}
		}
		h.edge[i] = min(r, h.thick)
	}
	if room := length - h.edge[0] - h.edge[1]; room <= 0.1*length {
		return nil, &Fault{What: fmt.Sprintf("the two edges take the whole chord of %s", mm(length)), Allowed: "a chord of several times the edges", WayOut: "lengthen the chord, or thin the edges"}
	}
	switch form {
	case "double arc":
		h.arcs(length/2, length/2)
	case "plate":
		h.arcs(h.edge[0]+min(length/4, 8*h.thick), h.edge[1]+min(length/4, 8*h.thick))
	default:
		t, ok := tables[form]
		if !ok {
			return nil, &Fault{What: fmt.Sprintf("there is no section form %q", form), Allowed: "65-series, C4, double arc, plate or four-digit"}
		}
		h.hull(t)
	}
	return h, nil
}

// arcs makes the side out of an arc off each edge, and what lies straight between them; a and b are how far their tops stand from
// the ends.
func (h *half) arcs(a, b float64) {
	tops := [2]float64{a, h.length - b}
	var radius [2]float64
	for i, r := range h.edge {
		reach := [2]float64{a, b}[i] - r
		if h.thick-r < 1e-9*h.thick {
			radius[i] = math.Inf(1)
			continue
		}
		radius[i] = (reach*reach + h.thick*h.thick - r*r) / (2 * (h.thick - r))
		h.rise[i] = math.Asin(min(1, reach/(radius[i]-r)))
	}
	h.from = h.edge[0] * (1 - math.Sin(h.rise[0]))
	h.to = h.length - h.edge[1]*(1-math.Sin(h.rise[1]))
	h.height = func(s float64) float64 {
		for i, top := range tops {
			d := s - top
			if i == 1 {
				d = -d
			}
			if d < 0 && !math.IsInf(radius[i], 1) {
				// R − √(R² − d²) without the loss of figures
				return h.thick - d*d/(radius[i]+math.Sqrt(max(0, radius[i]*radius[i]-d*d)))
			}
		}
		return h.thick
	}
}

// hull puts a form from a table between two edges.
func (h *half) hull(t *table) {
	ratio := h.thick / h.length / 0.05 // over a tenth of thickness
	law := func(s float64) float64 { return h.thick * t.curve(min(max(s/h.length, 0), 1)) }
	const n = 2000
	var touch [2]float64
	for i, own := range [2]float64{t.nose, t.tail} {
		if i == 0 {
			own *= ratio * ratio * h.length
		} else {
			own *= ratio * h.length
		}
		if h.edge[i] < 1.1*own {
			h.edge[i], h.sharp[i] = min(1.1*own, h.thick), true
		}
		r := h.edge[i]
		place := func(x float64) float64 {
			if i == 1 {
				return h.length - x
			}
			return x
		}
		// the steepest line off the edge that leaves the form below it
		var xs, ys [n]float64
		for k := range n {
			xs[k] = r + (h.length/2-r)*float64(k)/(n-1)
			ys[k] = law(place(xs[k]))
		}
		over := func(phi float64) (float64, float64) {
			sin, cos := math.Sincos(phi)
			most, at := math.Inf(-1), 0.0
			for k, x := range xs {
				if y := ys[k]*cos - (x-r)*sin; y > most {
					most, at = y, x
				}
			}
			return most - r, at
		}
		low, high := 0.0, math.Pi/2
		if x, _ := over(low); x <= 0 {
			high = 0 // the edge is as thick as the form
		}
		for range 50 {
			mid := (low + high) / 2
			if x, _ := over(mid); x > 0 {
				low = mid
			} else {
				high = mid
			}
		}
		h.rise[i] = high
		_, touch[i] = over(high)
	}
	h.from = h.edge[0] * (1 - math.Sin(h.rise[0]))
	h.to = h.length - h.edge[1]*(1-math.Sin(h.rise[1]))
	h.height = func(s float64) float64 {
		for i, r := range h.edge {
			x := s
			if i == 1 {
				x = h.length - s
			}
			if x < touch[i] {
				return r/math.Cos(h.rise[i]) + (x-r)*math.Tan(h.rise[i])
			}
		}
		return law(s)
	}
}

// at returns a point of the outline: how far along the camber line, and how far to its left. u runs from 0 to 1 over the piece.
func (h *half) at(piece int, u float64) (s, n float64) {
	switch piece {
	case leftSide, rightSide:
		if piece == leftSide {
			u = 1 - u
		}
		s = h.from + (h.to-h.from)*(1-math.Cos(math.Pi*u))/2
		n = h.height(s)
		if piece == rightSide {
			n = -n
		}
		return s, n
	case leadingEdge:
		a := math.Pi/2 + h.rise[0] + (math.Pi-2*h.rise[0])*u
		return h.edge[0] * (1 + math.Cos(a)), h.edge[0] * math.Sin(a)
	}
	a := -math.Pi/2 + h.rise[1] + (math.Pi-2*h.rise[1])*u
	return h.length - h.edge[1]*(1-math.Cos(a)), h.edge[1] * math.Sin(a)
}

// Area is what a plane section is to bending: area, middle, and second moments about axes through the middle.
type Area struct {
	Area           float64    `unit:"mm²" doc:"area of the section"`
	Centre         [2]float64 `key:"-"` // m
	XX, YY, XY     float64    `key:"-"` // ∫y², ∫x², ∫xy about the middle, m⁴
	Least, Most    float64    `key:"-"` // about the principal axes, m⁴
	PrincipalAngle float64    `key:"-"` // of the axis about which the moment is least, rad
}

// AreaOf integrates over a polygon; with respect to the polygon it is exact.
//
//	A = ½·Σ cᵢ,  ∫x dA = Σ (xᵢ + xⱼ)·cᵢ/6,  ∫x² dA = Σ (xᵢ² + xᵢxⱼ + xⱼ²)·cᵢ/12,  cᵢ = xᵢyⱼ − xⱼyᵢ
//
//	i, j  a corner and the next
//
// Holds for polygons that do not cross themselves, run counterclockwise.
//
// Source: own. Tests: TestSectionAreaPublished, TestSectionAreaExact.
func AreaOf(outline [][2]float64) Area {
	var a Area
	var sx, sy, xx, yy, xy float64
	o := outline[0]
	for i := range outline {
		p, q := outline[i], outline[(i+1)%len(outline)]
		x0, y0, x1, y1 := p[0]-o[0], p[1]-o[1], q[0]-o[0], q[1]-o[1]
		c := x0*y1 - x1*y0
		a.Area += c / 2
		sx += (x0 + x1) * c / 6
		sy += (y0 + y1) * c / 6
		xx += (y0*y0 + y0*y1 + y1*y1) * c / 12
		yy += (x0*x0 + x0*x1 + x1*x1) * c / 12
		xy += (x0*y1 + 2*x0*y0 + 2*x1*y1 + x1*y0) * c / 24
	}
	cx, cy := sx/a.Area, sy/a.Area
	a.Centre = [2]float64{cx + o[0], cy + o[1]}
	a.XX, a.YY, a.XY = xx-a.Area*cy*cy, yy-a.Area*cx*cx, xy-a.Area*cx*cy
	mean, diff := (a.XX+a.YY)/2, math.Hypot((a.XX-a.YY)/2, a.XY)
	a.Least, a.Most = mean-diff, mean+diff
	a.PrincipalAngle = math.Atan2(2*a.XY, a.YY-a.XX) / 2
	return a
}
