package shape

import (
	"fmt"
	"math"

	"jetwright/numeric"
)

// Wall is the outline of hub or casing along the axis: straight between its points, and on beyond them. One point
// is the same radius everywhere.
type Wall struct{ Z, R []float64 }

// At returns radius and slope dr/dz at a place.
func (w Wall) At(z float64) (r, slope float64) {
	if len(w.R) == 1 {
		return w.R[0], 0
	}
	i := 0
	for i < len(w.Z)-2 && z > w.Z[i+1] {
		i++
	}
	slope = (w.R[i+1] - w.R[i]) / (w.Z[i+1] - w.Z[i])
	return w.R[i] + slope*(z-w.Z[i]), slope
}

// Plus returns the wall moved outward.
func (w Wall) Plus(d float64) Wall {
	out := Wall{Z: w.Z}
	for _, r := range w.R {
		out.R = append(out.R, r+d)
	}
	return out
}

// within returns the places of the wall's points strictly between two places.
func (w Wall) within(a, b float64) []float64 {
	var out []float64
	for i := 1; i < len(w.Z)-1 && len(w.R) > 1; i++ {
		if w.Z[i] > a && w.Z[i] < b {
			out = append(out, w.Z[i])
		}
	}
	return out
}

// Row is a row of blades between two walls. The lists stand over the span, from 0 at the hub to 1 at the
// tip; one number holds throughout. Angles are those of the camber line from the circumferential direction.
type Row struct {
	Name                          string // impeller or stator, for paths
	Blades                        int
	Span                          []float64
	Inlet, Outlet                 []float64
	Chord, Thickness              []float64
	Form                          string
	LeadingRadius, TrailingRadius float64
	Start                         float64 // place of the leading edge at mid span along the axis
	Sweep                         float64 // of the leading edge to the radius, the tip downstream
	Lean                          float64 // of the line of mid chords to the radius, the tip the way the rotor turns
	Turn                          float64 // the way θ goes from leading to trailing edge: −1 impeller, 1 stator
	Hub, Tip                      Wall
	Flare                         float64 // height over which each side of the blade thickens to the hub, by half of it
	FlareTip                      bool    // and to the tip wall as well
}

// Section is a blade's section on the stream surface at one place of the span.
type Section struct {
	Span                            float64
	Radius                          float64 // at the leading edge
	Inlet, Outlet, Chord, Thickness float64
	Leading, Trailing               float64 // radii of the edges as they are drawn
	row                             *Row
	half                            *half
	lead                            float64   // z of the leading edge
	knots                           []float64 // along the stream surface, m from the leading edge
	knotZ, knotR                    []float64
	wrap                            []float64 // θ of the camber line at even steps of its length, from the leading edge
	shift                           float64
}

// Bare is the row without the flare at its roots: its sections as they are typed.
func (r *Row) Bare() *Row {
	out := *r
	out.Flare = 0
	return &out
}

const wrapSteps = 128

// curve makes a function of a list over the span.
func (r *Row) curve(list []float64) (func(float64) float64, bool) {
	if len(list) == 1 {
		return func(float64) float64 { return list[0] }, true
	}
	c, err := numeric.NewPCHIP(r.Span, list)
	if err != nil {
		return nil, false
	}
	return func(x float64) float64 { v, _, _ := c.At(x); return v }, true
}

// Section works out the section at a place of the span; below 0 and above 1 it goes on straight.
//
//	α(s) = α₁ + (α₂ − α₁)·s/L,  L = c·(Δα/2)/sin(Δα/2)
//	dm = sin α·ds,  r·dθ = ±cos α·ds
//
//	α     angle of the camber line from the circumferential direction, rad
//	s, L  place on the camber line and its length, m
//	c     chord, m
//	m     way along the stream surface, m
//
// Holds on cylinders and cones, which unroll without stretching: on a cylinder the camber line is a circular arc.
//
// Source: own. Tests: TestSectionExact, TestBladeAngleExact.
func (r *Row) Section(span float64) (*Section, *Fault) {
	var v [4]float64
	for i, l := range [][]float64{r.Inlet, r.Outlet, r.Chord, r.Thickness} {
		f, ok := r.curve(l)
		if !ok {
			return nil, &Fault{Path: r.Name + ".span", What: fmt.Sprintf("the sections of the %s cannot be laid over its span", r.Name), Allowed: "one number, or one for each place of a span that rises"}
		}
		v[i] = f(span)
	}
	s := &Section{Span: span, row: r, Inlet: v[0], Outlet: v[1], Chord: v[2], Thickness: v[3]}
	mid := r.radius(0.5, r.Start)
	tan := math.Tan(r.Sweep)
	s.lead = r.Start
	for range 30 {
		s.lead = r.Start + (r.radius(span, s.lead)-mid)*tan
	}
	s.Radius = r.radius(span, s.lead)
	bend := s.Outlet - s.Inlet
	length := s.Chord
	if x := bend / 2; x != 0 {
		length *= x / math.Sin(x)
	}
	grow := r.flare(span, s.lead)
	h, fault := newHalf(r.Form, length, s.Thickness+2*grow, r.LeadingRadius+grow, r.TrailingRadius+grow)
	if fault != nil {
		fault.Path = r.Name + ".thickness"
		fault.What = fmt.Sprintf("%s, %.0f %% of the span: %s", r.Name, 100*span, fault.What)
		return nil, fault
	}
	s.half = h
	s.Leading, s.Trailing = h.edge[0], h.edge[1]
	s.generatrix()
	s.wrap = make([]float64, wrapSteps+1)
	step := length / wrapSteps
	// Gauss's three points on each step
	gauss := [3][2]float64{{0.5 - math.Sqrt(0.15), 5. / 18}, {0.5, 4. / 9}, {0.5 + math.Sqrt(0.15), 5. / 18}}
	for i := range wrapSteps {
		sum := 0.0
		for _, g := range gauss {
			at := (float64(i) + g[0]) * step
			_, radius, _ := s.stream(s.meridional(at))
			sum += g[1] * math.Cos(s.angle(at)) / radius
		}
		s.wrap[i+1] = s.wrap[i] + r.Turn*sum*step
	}
	_, atMid, _ := s.stream(s.meridional(length / 2))
	s.shift = math.Tan(r.Lean)*math.Log(atMid/mid) - s.wrap[wrapSteps/2]
	return s, nil
}

// radius is that of the stream surface at a place of the span.
func (r *Row) radius(span, z float64) float64 {
	hub, _ := r.Hub.At(z)
	tip, _ := r.Tip.At(z)
	return hub + span*(tip-hub)
}

// flare is what each side of the blade gains near the wall that it stands on.
//
//	δ = (F/2)·(1 − y/F)²
//
//	F  height of the flare, m
//	y  height above the wall, m; below it the parabola goes on
func (r *Row) flare(span, z float64) float64 {
	if r.Flare <= 0 {
		return 0
	}
	hub, _ := r.Hub.At(z)
	tip, _ := r.Tip.At(z)
	height := tip - hub
	out := 0.0
	rise := func(y float64) {
		if y < r.Flare {
			x := 1 - y/r.Flare
			out = max(out, r.Flare/2*x*x)
		}
	}
	rise(span * height)
	if r.FlareTip {
		rise((1 - span) * height)
	}
	return out
}

// generatrix lays the straight pieces of the stream surface end to end, from the leading edge both ways.
func (s *Section) generatrix() {
	z := s.row.Hub.within(math.Inf(-1), math.Inf(1))
	z = append(z, s.row.Tip.within(math.Inf(-1), math.Inf(1))...)
	s.knotZ = append(s.knotZ, s.lead-10*s.Chord)
	for len(z) > 0 {
		least := math.Inf(1)
		for _, x := range z {
			least = min(least, x)
		}
		if least > s.knotZ[0] && least < s.lead+10*s.Chord && least > s.knotZ[len(s.knotZ)-1]+1e-9 {
			s.knotZ = append(s.knotZ, least)
		}
		rest := z[:0]
		for _, x := range z {
			if x > least {
				rest = append(rest, x)
			}
		}
		z = rest
	}
	s.knotZ = append(s.knotZ, s.lead+10*s.Chord)
	at := 0.0
	for i, x := range s.knotZ {
		s.knotR = append(s.knotR, s.row.radius(s.Span, x))
		if i > 0 {
			at += math.Hypot(x-s.knotZ[i-1], s.knotR[i]-s.knotR[i-1])
		}
		s.knots = append(s.knots, at)
	}
	lead := 0.0 // the way to the leading edge
	for i := 1; i < len(s.knotZ); i++ {
		if s.lead <= s.knotZ[i] {
			lead = s.knots[i-1] + (s.knots[i]-s.knots[i-1])*(s.lead-s.knotZ[i-1])/(s.knotZ[i]-s.knotZ[i-1])
			break
		}
	}
	for i := range s.knots {
		s.knots[i] -= lead
	}
}

// stream returns z, radius and the sine of the surface's angle to the axis at a way along it.
func (s *Section) stream(m float64) (z, r, sine float64) {
	i := 0
	for i < len(s.knots)-2 && m > s.knots[i+1] {
		i++
	}
	l := s.knots[i+1] - s.knots[i]
	x := (m - s.knots[i]) / l
	return s.knotZ[i] + x*(s.knotZ[i+1]-s.knotZ[i]), s.knotR[i] + x*(s.knotR[i+1]-s.knotR[i]), (s.knotR[i+1] - s.knotR[i]) / l
}

// angle is that of the camber line from the circumferential direction at a place on it; beyond its ends it goes on straight.
func (s *Section) angle(at float64) float64 {
	return s.Inlet + (s.Outlet-s.Inlet)*at/s.half.length
}

// meridional is the way along the stream surface at a place on the camber line.
func (s *Section) meridional(at float64) float64 {
	k := (s.Outlet - s.Inlet) / s.half.length
	if math.Abs(k*s.half.length) < 1e-7 {
		return at * math.Sin(s.Inlet+k*at/2)
	}
	return (math.Cos(s.Inlet) - math.Cos(s.Inlet+k*at)) / k
}

// turned is θ of the camber line at a place on it.
func (s *Section) turned(at float64) float64 {
	x := at / s.half.length * wrapSteps
	i := min(max(int(x), 0), wrapSteps-1)
	u := x - float64(i)
	step := s.half.length / wrapSteps
	slope := func(i int) float64 {
		a := float64(i) * step
		_, r, _ := s.stream(s.meridional(a))
		return s.row.Turn * math.Cos(s.angle(a)) / r * step
	}
	u2, u3 := u*u, u*u*u
	return s.wrap[i]*(2*u3-3*u2+1) + s.wrap[i+1]*(3*u2-2*u3) + slope(i)*(u3-2*u2+u) + slope(i+1)*(u3-u2)
}

// cylindrical is a point by angle, place along the axis, and radius.
type cylindrical struct{ theta, z, r float64 }

func (c cylindrical) space() Vec { return polar(c.r, c.theta, c.z) }

// place carries a point of the outline onto the stream surface: at a place on the camber line, n to its left, seen from outside with
// the axis upward. A cone is unrolled about its apex for that.
func (s *Section) place(at, n float64) cylindrical {
	m, theta, a := s.meridional(at), s.turned(at)+s.shift, s.angle(at)
	dm := n * s.row.Turn * math.Cos(a)
	dw := -n * math.Sin(a)
	_, r, sine := s.stream(m)
	if math.Abs(sine) > 1e-9 {
		rho := r / sine
		x := rho + dm
		dm = math.Copysign(math.Hypot(x, dw), x) - rho
		theta += math.Atan(dw/x) / sine
	} else {
		theta += dw / r
	}
	z, r, _ := s.stream(m + dm)
	return cylindrical{theta, z, r}
}

// at returns a point of the outline on the stream surface; u runs from 0 to 1 over each of its four pieces.
func (s *Section) at(piece int, u float64) cylindrical {
	return s.place(s.half.at(piece, u))
}

// unroll lays a point of the stream surface flat, as a cone is unrolled that touches it at the leading edge: x along the
// circumference there, y along the meridian from there.
func (s *Section) unroll(c cylindrical) [2]float64 {
	z, r, sine := s.stream(0)
	theta := c.theta - s.turned(0) - s.shift
	m := math.Copysign(math.Hypot(c.z-z, c.r-r), c.z-z)
	if math.Abs(sine) < 1e-9 {
		return [2]float64{r * theta, m}
	}
	rho := r / sine
	sin, cos := math.Sincos(theta * sine)
	return [2]float64{(rho + m) * sin, (rho+m)*cos - rho}
}

// Unrolled returns the outline with the stream surface laid flat: x along the circumference at the leading edge, y along the meridian from
// there; counterclockwise.
func (s *Section) Unrolled(points int) [][2]float64 {
	var out [][2]float64
	for _, p := range s.outline(points) {
		out = append(out, s.unroll(p))
	}
	return out
}

// outline are points of the outline on the stream surface, so many on each side.
func (s *Section) outline(points int) []cylindrical {
	var out []cylindrical
	for piece := range pieces {
		n := points
		if piece == leadingEdge || piece == trailingEdge {
			n = max(6, points/3)
		}
		for i := range n {
			out = append(out, s.at(piece, float64(i)/float64(n)))
		}
	}
	return out
}

// SectionPoint is a point of a section's outline for a table: in space, and with its stream surface laid flat.
type SectionPoint struct {
	Space Vec
	Flat  [2]float64
}

// Points returns the outline as a table has it, counterclockwise seen from outside, so many points on each side; mirrored for the other hand.
func (s *Section) Points(points int, mirror bool) []SectionPoint {
	var out []SectionPoint
	for _, c := range s.outline(points) {
		p := SectionPoint{c.space(), s.unroll(c)}
		if mirror {
			p.Space[1], p.Flat[0] = -p.Space[1], -p.Flat[0]
		}
		out = append(out, p)
	}
	return out
}

// Flared is by how much the section is thicker than drawn, for the flare at a wall; its edges' radii are larger by half of it.
func (s *Section) Flared() float64 { return 2*s.half.thick - s.Thickness }

// Length is that of the camber line.
func (s *Section) Length() float64 { return s.half.length }
