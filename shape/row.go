package shape

import (
	"fmt"
	"math"
)

// outlinePoint is a place on a section's outline.
type outlinePoint struct {
	piece int
	u     float64
}

// apart is how far a point lies from the straight line between two others.
func apart(p, a, b Vec) float64 {
	d := b.Minus(a)
	l := d.Dot(d)
	if l == 0 {
		return p.Minus(a).Norm()
	}
	return p.Minus(a).Minus(d.Times(min(max(p.Minus(a).Dot(d)/l, 0), 1))).Norm()
}

// halved splits an interval in two until each piece is good.
func halved(a, b float64, depth int, good func(a, b float64) bool, add func(a float64)) {
	if depth == 0 || good(a, b) {
		add(a)
		return
	}
	mid := (a + b) / 2
	halved(a, mid, depth-1, good, add)
	halved(mid, b, depth-1, good, add)
}

// outlineFor chooses the points of an outline so that no chord of any of the sections leaves it by more than the tolerance.
func outlineFor(sections []*Section, tolerance float64) []outlinePoint {
	var out []outlinePoint
	for piece := range pieces {
		good := func(a, b float64) bool {
			for _, s := range sections {
				p, q := s.at(piece, a).space(), s.at(piece, b).space()
				for _, x := range [3]float64{0.25, 0.5, 0.75} {
					if apart(s.at(piece, a+(b-a)*x).space(), p, q) > tolerance {
						return false
					}
				}
			}
			return true
		}
		n := 4
		if piece == leadingEdge || piece == trailingEdge {
			n = 2
		}
		for i := range n {
			halved(float64(i)/float64(n), float64(i+1)/float64(n), 8, good, func(a float64) { out = append(out, outlinePoint{piece, a}) })
		}
	}
	return out
}

// stack is a blade cut up for a mesh: the same points of the outline on sections from hub to tip.
type stack struct {
	points   []outlinePoint
	sections []*Section
}

// cut chooses sections and points for a chord tolerance.
func (r *Row) cut(tolerance float64) (*stack, *Fault) { return r.cutBetween(0, 1, tolerance) }

// cutBetween does so from one place of the span to another.
func (r *Row) cutBetween(from, to, tolerance float64) (*stack, *Fault) {
	made := map[float64]*Section{}
	var failed *Fault
	section := func(h float64) *Section {
		if s := made[h]; s != nil {
			return s
		}
		s, fault := r.Section(h)
		if fault != nil {
			failed = fault
			return nil
		}
		made[h] = s
		return s
	}
	var some []*Section
	for _, h := range [5]float64{0, 0.25, 0.5, 0.75, 1} {
		s := section(from + (to-from)*h)
		if failed != nil {
			return nil, failed
		}
		some = append(some, s)
	}
	out := &stack{points: outlineFor(some, tolerance/2)}
	good := func(a, b float64) bool {
		p, q := section(a), section(b)
		var s [3]*Section
		for i := range s {
			s[i] = section(a + (b-a)*float64(i+1)/4)
		}
		if failed != nil {
			return true
		}
		for _, o := range out.points {
			x, y := p.at(o.piece, o.u).space(), q.at(o.piece, o.u).space()
			for i := range s {
				if apart(s[i].at(o.piece, o.u).space(), x, y) > tolerance/2 {
					return false
				}
			}
		}
		return true
	}
	var spans []float64
	for i := range 4 {
		halved(from+(to-from)*float64(i)/4, from+(to-from)*float64(i+1)/4, 6, good, func(a float64) { spans = append(spans, a) })
	}
	for _, h := range append(spans, to) {
		out.sections = append(out.sections, section(h))
	}
	if failed != nil {
		return nil, failed
	}
	return out, nil
}

// loop is the outline of one section of the stack on its stream surface.
func (s *stack) loop(section int, turn float64) []cylindrical {
	out := make([]cylindrical, len(s.points))
	for i, o := range s.points {
		c := s.sections[section].at(o.piece, o.u)
		c.theta += turn
		out[i] = c
	}
	return out
}

// extent is how far along the axis an outline reaches.
func extent(loop []cylindrical) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, c := range loop {
		low, high = min(low, c.z), max(high, c.z)
	}
	return low, high
}

// angular is how much of the circumference an outline takes.
func angular(loop []cylindrical) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, c := range loop {
		low, high = min(low, c.theta), max(high, c.theta)
	}
	return high - low
}

// passage is the least distance between an outline and the same one a blade further, on the stream surface, and where it is; it is
// negative where they cross.
func passage(loop []cylindrical, blades int) (least, at float64) {
	pitch := 2 * math.Pi / float64(blades)
	flat := func(c cylindrical, shift float64) [2]float64 { return [2]float64{(c.theta + shift) * c.r, c.z} }
	n := len(loop)
	least = math.Inf(1)
	for i := range n {
		a, b := flat(loop[i], 0), flat(loop[(i+1)%n], 0)
		for j := range n {
			p, q := flat(loop[j], pitch), flat(loop[(j+1)%n], pitch)
			if turn(a, b, p)*turn(a, b, q) < 0 && turn(p, q, a)*turn(p, q, b) < 0 {
				return -1, loop[i].z
			}
			dx, dy := b[0]-a[0], b[1]-a[1]
			l := dx*dx + dy*dy
			x := 0.0
			if l > 0 {
				x = min(max(((p[0]-a[0])*dx+(p[1]-a[1])*dy)/l, 0), 1)
			}
			if d := math.Hypot(p[0]-a[0]-x*dx, p[1]-a[1]-x*dy); d < least {
				least, at = d, loop[i].z
			}
		}
	}
	return least, at
}

// apart tells whether the blades keep clear of one another, from the wall that they stand on outward.
func (r *Row) apart(s *stack) *Fault {
	if r.Blades < 2 {
		return nil
	}
	last := len(s.sections) - 1
	for _, i := range [5]int{0, last / 4, last / 2, 3 * last / 4, last} {
		loop := s.loop(i, 0)
		gap, z := passage(loop, r.Blades)
		if gap > 0 {
			continue
		}
		where := fmt.Sprintf("%.0f %% of the span", 100*s.sections[i].Span)
		switch {
		case i == 0:
			where = "the hub"
		case i == last && r.FlareTip:
			where = "the outer ring"
		}
		return &Fault{
			Path: r.Name + ".blades", What: fmt.Sprintf("the %d blades of the %s overlap at %s, %s along the axis, where there are %s of circumference for each", r.Blades, r.Name, where, mm(z), mm(2*math.Pi/float64(r.Blades)*loop[0].r)),
			Allowed: "a passage between any two", WayOut: "fewer or thinner blades, a shorter chord or a steeper angle there, a lower root flare, or a larger hub",
		}
	}
	return nil
}

// hole puts an outline into the plane of a wall, laid for the lines of the body.
func (b *body) hole(loop []cylindrical, s *surface) *ring {
	out := &ring{}
	for _, c := range loop {
		out.at = append(out.at, corner{u: c.theta, v: c.z, id: b.m.add(c.space())})
	}
	b.l.lay(&b.m, out, s)
	return out
}

// ReachAt returns how far along the axis the blades reach at a place of the span.
func (r *Row) ReachAt(span float64) (low, high float64, fault *Fault) {
	s, f := r.Section(span)
	if f != nil {
		return 0, 0, f
	}
	var loop []cylindrical
	for piece := range pieces {
		for i := range 33 {
			loop = append(loop, s.at(piece, float64(i)/32))
		}
	}
	low, high = extent(loop)
	return low, high, nil
}

// Reach returns how far along the axis the blades reach on the walls that they stand on: on the hub, and on the outer ring
// where they flare into it.
func (r *Row) Reach() (low, high float64, fault *Fault) {
	low, high, fault = r.ReachAt(0)
	if fault != nil || !r.FlareTip {
		return low, high, fault
	}
	a, b, fault := r.ReachAt(1)
	return min(low, a), max(high, b), fault
}

// Thinnest returns the least of the sections' largest thicknesses as drawn, and where on the span it is.
func (r *Row) Thinnest() (thickness, span float64) {
	f, ok := r.curve(r.Thickness)
	if !ok {
		return 0, 0
	}
	thickness = math.Inf(1)
	for i := range 101 {
		h := float64(i) / 100
		if x := f(h); x < thickness {
			thickness, span = x, h
		}
	}
	return thickness, span
}

// Rounder returns the largest radii of leading and trailing edge where the form's own is rounder than the one asked for; 0 where it is not.
func (r *Row) Rounder() (edges [2]float64) {
	bare := r.Bare()
	for i := range 9 {
		s, fault := bare.Section(float64(i) / 8)
		if fault != nil {
			return edges
		}
		for k, own := range s.half.sharp {
			if own {
				edges[k] = max(edges[k], s.half.edge[k])
			}
		}
	}
	return edges
}
