package shape

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"jetwright/numeric"
)

// Fitted is the section that comes nearest to points of an outline.
type Fitted struct {
	Form              string
	Inlet, Outlet     float64 // of the camber line from the circumferential direction, rad
	Chord, Thickness  float64 // m
	Leading, Trailing float64 // radii of the edges, m
	// Errors are the standard uncertainties of the six that the scatter of the points leaves, in their order above.
	Errors [6]float64
	// Misfit is the root mean square of the distances of the points from the outline, Worst the largest, m, at point At; outward where positive.
	Misfit, Worst float64
	At            int
}

// leastPoints is how many points a section has to have to be fitted: three for each of its eight numbers.
const leastPoints = 24

// FitSection finds the section of a form that comes nearest to the points of an outline, with the stream surface laid flat: x along
// the circumference, y along the meridional way downstream. Order and start of the points do not matter. turn is −1 where the blades lead
// against x from leading to trailing edge, else 1; a form of "" takes the one that comes nearest. Points that are no section are a *Fault.
//
//	minimise Σ dᵢ², dᵢ = (|n| − t(s))·cos τ beside the camber line, |P − C| − r round the edges
//
//	s, n  place of a point along the camber line, an arc of a circle, and off it, m
//	t, τ  half thickness of the form there and its slope
//	C, r  middle and radius of an edge
//
// Holds for sections that are camber and thickness; another shape shows in the misfit, which is never hidden by more numbers.
//
// Source: own. Tests: TestFitSectionExact, TestFitSectionLaw, TestFitSectionPublished.
func FitSection(points [][2]float64, form string, turn float64) (Fitted, *Fault) {
	if len(points) < leastPoints {
		return Fitted{}, &Fault{What: fmt.Sprintf("%d points of a section", len(points)), Allowed: fmt.Sprintf("%d or more, all round the outline", leastPoints)}
	}
	start, fault := sketch(points, turn)
	if fault != nil {
		return Fitted{}, fault
	}
	forms := []string{form}
	if form == "" {
		forms = Forms()
	}
	best := Fitted{Misfit: math.Inf(1)}
	for _, f := range forms {
		x, failed := fitForm(points, f, turn, start)
		if failed != nil {
			fault = failed
			continue
		}
		if x.Misfit < best.Misfit {
			best = x
		}
	}
	if math.IsInf(best.Misfit, 1) {
		return Fitted{}, fault
	}
	return best, nil
}

// flat is a section laid flat: camber from a leading edge that stands at w, m.
type flat struct {
	w, m, inlet, outlet float64
	half                *half
	turn                float64
}

// The numbers that are sought.
const (
	atW = iota
	atM
	atInlet
	atOutlet
	atLength
	atThickness
	atLeading
	atTrailing
	sought
)

func flatOf(p []float64, form string, turn float64) (*flat, *Fault) {
	h, fault := newHalf(form, p[atLength], p[atThickness], p[atLeading], p[atTrailing])
	if fault != nil {
		return nil, fault
	}
	return &flat{p[atW], p[atM], p[atInlet], p[atOutlet], h, turn}, nil
}

// beside carries a point to its place along the camber line and its distance to the left of it.
func (f *flat) beside(p [2]float64) (s, n float64) {
	x, y := (p[0]-f.w)*f.turn, p[1]-f.m // as if the blade led towards x
	k := (f.outlet - f.inlet) / f.half.length
	sin, cos := math.Sincos(f.inlet)
	along, across := x*cos+y*sin, y*cos-x*sin
	if math.Abs(k*f.half.length) < 1e-7 {
		return along, across
	}
	// the arc's middle lies 1/k to the left of the leading edge
	r := 1 / k
	away := math.Hypot(along, r-across)
	s = math.Atan2(math.Copysign(1, r)*along, math.Copysign(1, r)*(r-across)) * r
	return s, r - math.Copysign(away, r)
}

// off is how far a point lies outside the outline.
func (f *flat) off(p [2]float64) float64 {
	s, n := f.beside(p)
	h := f.half
	if lead := math.Hypot(s-h.edge[0], n); s < h.from {
		return lead - h.edge[0]
	}
	if s > h.to {
		return math.Hypot(s-h.length+h.edge[1], n) - h.edge[1]
	}
	const step = 1e-4
	a, b := max(s-step*h.length, h.from), min(s+step*h.length, h.to)
	slope := (h.height(b) - h.height(a)) / (b - a)
	return (math.Abs(n) - h.height(s)) / math.Sqrt(1+slope*slope)
}

// sketch guesses the numbers from the points: the chord between the two that are farthest apart, camber and thickness from what lies to
// either side of it.
func sketch(points [][2]float64, turn float64) ([]float64, *Fault) {
	var a, b [2]float64
	most := 0.0
	for i, p := range points {
		for _, c := range p {
			if math.IsNaN(c) || math.IsInf(c, 0) {
				return nil, &Fault{What: fmt.Sprintf("point %d is no number", i+1), Allowed: "finite numbers"}
			}
		}
		for _, q := range points[:i] {
			if d := math.Hypot(p[0]-q[0], p[1]-q[1]); d > most {
				most, a, b = d, q, p
			}
		}
	}
	if most == 0 {
		return nil, &Fault{What: "all points of the section are one", Allowed: "points all round the outline"}
	}
	if a[1] > b[1] {
		a, b = b, a // the leading edge is ahead
	}
	sin, cos := (b[1]-a[1])/most, (b[0]-a[0])/most*turn
	const bins = 12
	var high, low [bins]float64
	for i := range bins {
		high[i], low[i] = math.Inf(-1), math.Inf(1)
	}
	for _, p := range points {
		x, y := (p[0]-a[0])*turn, p[1]-a[1]
		along, across := (x*cos+y*sin)/most, (y*cos-x*sin)/most
		i := min(max(int(along*bins), 0), bins-1)
		high[i], low[i] = max(high[i], across), min(low[i], across)
	}
	thickness, sum, weight := 0.0, 0.0, 0.0
	for i := range bins {
		if math.IsInf(low[i], 1) || i == 0 || i == bins-1 {
			continue
		}
		thickness = max(thickness, high[i]-low[i])
		x := (float64(i) + 0.5) / bins
		shape := x * (1 - x) // of the camber of a flat arc
		sum += shape * (high[i] + low[i]) / 2
		weight += shape * shape
	}
	if weight == 0 || thickness <= 1e-4 {
		return nil, &Fault{What: "the points of the section lie on one line", Allowed: "points all round the outline, on both sides"}
	}
	bend := 2 * sum / weight // camber y = bend/2·x(1 − x): it leaves the chord line at bend/2 on either side
	stagger := math.Atan2(sin, cos)
	half := math.Sin(bend / 2)
	length := most
	if half != 0 {
		length *= bend / 2 / half
	}
	return []float64{atW: a[0], atM: a[1], atInlet: stagger + bend/2, atOutlet: stagger - bend/2, atLength: length, atThickness: thickness * most, atLeading: 0.2 * thickness * most, atTrailing: 0.15 * thickness * most}, nil
}

// fitForm fits one form.
func fitForm(points [][2]float64, form string, turn float64, start []float64) (Fitted, *Fault) {
	var broken *Fault
	residual := func(dst, p []float64) error {
		f, fault := flatOf(p, form, turn)
		if fault != nil {
			broken = fault
			return numeric.ErrNotFinite
		}
		for i, q := range points {
			dst[i] = f.off(q) / start[atLength]
		}
		return nil
	}
	size := make([]float64, sought)
	for j := range size {
		size[j] = start[atLength]
	}
	size[atInlet], size[atOutlet] = 1, 1
	scaled := func(q []float64) []float64 {
		p := make([]float64, sought)
		for j := range p {
			p[j] = q[j] * size[j]
		}
		// an edge is at most as thick as the blade, and has some radius: the fit may try others on its way
		for _, j := range []int{atLeading, atTrailing} {
			p[j] = min(max(p[j], 1e-4*size[j]), p[atThickness]/2)
		}
		return p
	}
	more := make([]float64, len(points))
	problem := numeric.Problem{
		Parameters: sought, Residuals: len(points), Enough: 1e-7,
		Residual: func(dst, q []float64) error { return residual(dst, scaled(q)) },
		Jacobian: func(dst *mat.Dense, q []float64) error {
			less := make([]float64, len(points))
			for j := range sought {
				h := 1e-5
				up, down := append([]float64{}, q...), append([]float64{}, q...)
				up[j] += h
				down[j] -= h
				if err := residual(more, scaled(up)); err != nil {
					return err
				}
				if err := residual(less, scaled(down)); err != nil {
					return err
				}
				for i := range points {
					dst.Set(i, j, (more[i]-less[i])/(2*h))
				}
			}
			return nil
		},
	}
	begin := make([]float64, sought)
	for j := range begin {
		begin[j] = start[j] / size[j]
	}
	s, err := numeric.LevenbergMarquardt(problem, begin)
	if err != nil {
		if broken != nil {
			return Fitted{}, broken
		}
		return Fitted{}, &Fault{What: fmt.Sprintf("no section of the form %s comes near the points: %v", form, err), Allowed: "points all round one section"}
	}
	p := scaled(s.Parameters)
	f, fault := flatOf(p, form, turn)
	if fault != nil {
		return Fitted{}, fault
	}
	bend := (p[atOutlet] - p[atInlet]) / 2
	shorter := 1.0
	if bend != 0 {
		shorter = math.Sin(bend) / bend
	}
	out := Fitted{Form: form, Inlet: p[atInlet], Outlet: p[atOutlet], Chord: p[atLength] * shorter, Thickness: p[atThickness], Leading: f.half.edge[0], Trailing: f.half.edge[1]}
	for i, j := range []int{atInlet, atOutlet, atLength, atThickness, atLeading, atTrailing} {
		out.Errors[i] = s.StandardErrors[j] * size[j]
	}
	for i, q := range points {
		d := f.off(q)
		out.Misfit += d * d / float64(len(points))
		if math.Abs(d) > math.Abs(out.Worst) {
			out.Worst, out.At = d, i
		}
	}
	out.Misfit = math.Sqrt(out.Misfit)
	return out, nil
}
