package blade

import (
	"math"

	"jetwright/numeric"
)

// Condition is what a stage of blades is solved at, SI.
type Condition struct {
	RotorSpeed float64 `unit:"rad/s" doc:"rotor speed, negative the other way round"`
	Flow       float64 `unit:"m³/s" doc:"flow through the pump"`
	Density    float64 `unit:"kg/m³" doc:"density"`
	Viscosity  float64 `unit:"m²/s" doc:"kinematic viscosity"`
	Gravity    float64 `unit:"m/s²" doc:"gravity"`
}

const spanPoints = 17 // of the table of a row over its span

// section is what a row is at one place of its span; angles are cascade angles from the axis, rad.
type section struct {
	inlet, outlet, chord, thickness float64
	incidence, deviation            float64 // of least loss, Lieblein
	carterInlet, carterDeviation    float64 // nominal inlet flow angle and deviation, Howell and Carter
	slope                           float64 // of the deviation over incidence
}

// row is a Row made ready.
type row struct {
	Row
	rotor     bool
	at        [2]place // leading and trailing edge
	table     [spanPoints]section
	form      form
	roughness float64
}

// Stage is a pump made ready to be solved: everything that does not depend on flow and speed. It is
// never changed after it is made.
type Stage struct {
	Pump  Pump
	radii int
	rows  [2]row
	count int
	// lenient lets a row pass that has stalled: a search for angles starts from such rows
	lenient bool
	// aim, where it is set, is the swirl that each row is to leave at a radius, m/s: the blade angles are then
	// not read, and the incidence is given
	aim       func(rotor bool, radius float64) float64
	incidence float64
}

// NewStage makes a pump ready on a number of stream surfaces, 7 to MaxRadii.
func NewStage(p *Pump, radii int) (*Stage, Reason) {
	if radii < 7 || radii > MaxRadii {
		return nil, NoRow
	}
	s := &Stage{Pump: *p, radii: radii, count: 1}
	if p.Stator.Blades > 0 {
		s.count = 2
	}
	for i := range s.count {
		r := &s.rows[i]
		if i == 0 {
			r.Row, r.rotor = p.Impeller, true
		} else {
			r.Row = p.Stator
		}
		if !r.ready(&p.Channel) {
			return nil, NoRow
		}
	}
	return s, Solved
}

// along makes a curve of a list over the span or along the axis; one number holds throughout.
func along(x, y []float64, factor float64) func(float64) float64 {
	if len(y) == 0 {
		return nil
	}
	if len(y) == 1 {
		return func(float64) float64 { return y[0] * factor }
	}
	c, err := numeric.NewPCHIP(x, y)
	if err != nil {
		return nil
	}
	return func(at float64) float64 { v, _, _ := c.At(at); return v * factor }
}

// at returns the channel at a position; its walls are straight between the points.
func (c *Channel) at(x float64) (place, bool) {
	wall := func(r []float64) (y, slope float64, ok bool) {
		if len(r) == 1 {
			return r[0], 0, true
		}
		l, err := numeric.NewPolyline(c.Axial, r)
		if err != nil {
			return 0, 0, false
		}
		y, slope, _ = l.At(x)
		return y, slope, true
	}
	var p place
	var a, b bool
	p.hub, p.hubSlope, a = wall(c.HubRadius)
	p.tip, p.tipSlope, b = wall(c.TipRadius)
	if !a || !b || !(p.hub > 0) || !(p.tip > p.hub) {
		return p, false
	}
	p.growth = 2 * (p.tip*p.tipSlope - p.hub*p.hubSlope) / (p.tip*p.tip - p.hub*p.hub)
	return p, true
}

// End returns where the trailing edge stands along the axis at mid span, in m; the leading edge's place for a row without sections.
//
//	x = x₁ + c·cos γ,  γ = 90° − (α₁ + α₂)/2
//
//	x₁  leading edge, m [Row.Start]
//	c   chord, m
//	α   angles of the camber line at the edges from the circumferential direction, rad
//
// Holds for arcs of little camber.
//
// Source: own. Tests: TestRowEndExact.
func (r *Row) End() float64 {
	in, out, chord := along(r.Span, r.InletAngle, 1), along(r.Span, r.OutletAngle, 1), along(r.Span, r.Chord, r.ChordFactor)
	if in == nil || out == nil || chord == nil {
		return r.Start
	}
	return r.Start + chord(0.5)*math.Cos(FromAxis((in(0.5)+r.InletAngleOffset+out(0.5)+r.OutletAngleOffset)/2))
}

// Reach returns how far along the axis a row's blades reach anywhere from hub to tip, in m; its start without sections.
//
//	z = z_0 + max over the span of c·cos((β_1 + β_2)/2)
//
//	z_0       where the row begins, m            [Row.Start]
//	c         chord as made, m                   [Row.Chord, Row.ChordFactor]
//	β_1, β_2  camber line from the axis, rad     [Row.InletAngle, Row.OutletAngle]
//
// Holds for blades without sweep and lean, which move the edges along; looked for at 41 places.
//
// Source: own. Tests: TestReachExact.
func (r *Row) Reach() float64 {
	in, out, chord := along(r.Span, r.InletAngle, 1), along(r.Span, r.OutletAngle, 1), along(r.Span, r.Chord, r.ChordFactor)
	if in == nil || out == nil || chord == nil {
		return r.Start
	}
	furthest := 0.0
	const places = 40
	for i := range places + 1 {
		h := float64(i) / places
		furthest = math.Max(furthest, chord(h)*math.Cos(FromAxis((in(h)+r.InletAngleOffset+out(h)+r.OutletAngleOffset)/2)))
	}
	return r.Start + furthest
}

// Angles returns the angles of the camber line at both edges as made, at a place of the span from 0 at the hub to 1 at the tip, in rad
// from the circumferential direction; ok is false without sections.
//
//	α = α_drawn + Δα, cubic over the span between the sections
//
//	Δα  what the edge stands steeper as made, rad [Row.InletAngleOffset, Row.OutletAngleOffset]
//
// Holds between hub and tip.
//
// Source: own. Tests: TestRowEndExact.
func (r *Row) Angles(span float64) (inlet, outlet float64, ok bool) {
	in, out := along(r.Span, r.InletAngle, 1), along(r.Span, r.OutletAngle, 1)
	if in == nil || out == nil {
		return 0, 0, false
	}
	return in(span) + r.InletAngleOffset, out(span) + r.OutletAngleOffset, true
}

// Sizes returns chord and largest thickness as made, at a place of the span from 0 at the hub to 1 at the tip, in m; ok is false
// without sections.
//
//	c = f_c·c_drawn,  t = f_t·t_drawn, cubic over the span between the sections
//
//	f_c, f_t  as made over as drawn, -  [Row.ChordFactor, Row.ThicknessFactor]
//
// Holds between hub and tip.
//
// Source: own. Tests: TestRowEndExact.
func (r *Row) Sizes(span float64) (chord, thickness float64, ok bool) {
	c, t := along(r.Span, r.Chord, r.ChordFactor), along(r.Span, r.Thickness, r.ThicknessFactor)
	if c == nil || t == nil {
		return 0, 0, false
	}
	return c(span), t(span), true
}

func (r *row) ready(c *Channel) bool {
	if r.Blades < 1 || len(r.InletAngle) == 0 || len(r.OutletAngle) == 0 || len(r.Chord) == 0 || len(r.Thickness) == 0 {
		return false
	}
	in, out := along(r.Span, r.InletAngle, 1), along(r.Span, r.OutletAngle, 1)
	chord, thick := along(r.Span, r.Chord, r.ChordFactor), along(r.Span, r.Thickness, r.ThicknessFactor)
	if in == nil || out == nil || chord == nil || thick == nil {
		return false
	}
	// the row's length along the axis, at mid span
	stagger := FromAxis((in(0.5) + r.InletAngleOffset + out(0.5) + r.OutletAngleOffset) / 2)
	for i, x := range [2]float64{r.Start, r.Start + chord(0.5)*math.Cos(stagger)} {
		p, ok := c.at(x)
		if !ok {
			return false
		}
		r.at[i] = p
	}
	f, ok := forms[r.Form]
	if !ok {
		return false
	}
	r.form, r.roughness = f, r.SandRoughness()
	for i := range r.table {
		h := float64(i) / (spanPoints - 1)
		e := &r.table[i]
		e.inlet, e.outlet = FromAxis(in(h)+r.InletAngleOffset), FromAxis(out(h)+r.OutletAngleOffset)
		e.chord, e.thickness = chord(h), thick(h)
		if !(e.chord > 0) || !(e.thickness > 0) {
			return false
		}
	}
	for i := range r.table {
		e := &r.table[i]
		radius := r.at[0].hub + (r.at[0].tip-r.at[0].hub)*float64(i)/(spanPoints-1)
		e.reference(r, e.chord*float64(r.Blades)/(2*math.Pi*radius))
		if math.IsNaN(e.incidence + e.deviation + e.carterDeviation + e.carterInlet + e.slope) {
			return false
		}
	}
	return true
}

// reference fills in what the correlations say of a section: they ask for the flow's own angle, so they
// are gone through until it stands still. A row that is drawn the other way round is mirrored first.
func (e *section) reference(r *row, solidity float64) {
	in, out := e.inlet, e.outlet
	h := 1.0
	if in+out < 0 {
		in, out, h = -in, -out, -1
	}
	camber := in - out
	ratio := e.thickness / e.chord
	var l Lieblein
	for range 20 {
		last := l.Incidence
		l = LiebleinReference(in+last, camber, solidity, ratio, r.form.shape, r.form.arc)
		if math.Abs(l.Incidence-last) < 1e-10 {
			break
		}
	}
	e.incidence, e.deviation = h*l.Incidence, h*l.Deviation
	e.slope = DeviationSlope(in+l.Incidence, solidity)
	d := CarterDeviation(camber, out, 1/solidity, r.form.camber)
	e.carterDeviation = h * d
	e.carterInlet = h * HowellInletAngle(out+d, 1/solidity)
}

// section returns a row at a place of its span, by cubics through its table.
func (r *row) section(span float64) section {
	x := span * (spanPoints - 1)
	i := min(max(int(x), 0), spanPoints-2)
	u := x - float64(i)
	a, b := &r.table[i], &r.table[i+1]
	l, h := &r.table[max(i-1, 0)], &r.table[min(i+2, spanPoints-1)]
	kl, kh := 0.5, 0.5
	if i == 0 {
		kl = 1
	}
	if i == spanPoints-2 {
		kh = 1
	}
	u2 := u * u
	u3 := u2 * u
	wa, wb, wc, wd := 2*u3-3*u2+1, 3*u2-2*u3, kl*(u3-2*u2+u), kh*(u3-u2)
	cubic := func(l, a, b, h float64) float64 { return wa*a + wb*b + wc*(b-l) + wd*(h-a) }
	return section{
		inlet: cubic(l.inlet, a.inlet, b.inlet, h.inlet), outlet: cubic(l.outlet, a.outlet, b.outlet, h.outlet),
		chord: cubic(l.chord, a.chord, b.chord, h.chord), thickness: cubic(l.thickness, a.thickness, b.thickness, h.thickness),
		incidence: cubic(l.incidence, a.incidence, b.incidence, h.incidence), deviation: cubic(l.deviation, a.deviation, b.deviation, h.deviation),
		carterInlet: cubic(l.carterInlet, a.carterInlet, b.carterInlet, h.carterInlet), carterDeviation: cubic(l.carterDeviation, a.carterDeviation, b.carterDeviation, h.carterDeviation),
		slope: cubic(l.slope, a.slope, b.slope, h.slope),
	}
}

// DesignFlow returns the flow at which the mean incidence on the impeller is that of least loss, in m³/s.
//
//	∫ (β₁ − κ₁ − i*) dA = 0,  tan β₁ = Ω·r/v
//
//	β₁  inlet flow angle, κ₁ blade angle, from the axis, rad
//	i*  incidence of least loss, rad
//	v   Q/A, m/s
//
// Holds for inflow along the axis. ok is false where no flow does it.
//
// Source: own, lieblein-1960. Tests: TestDesignFlowExact.
func (s *Stage) DesignFlow(rotorSpeed float64) (flow float64, ok bool) {
	r := &s.rows[0]
	p := &r.at[0]
	area := math.Pi * (p.tip*p.tip - p.hub*p.hub)
	mean := func(v float64) float64 {
		sum := 0.0
		for j := range s.radii {
			f := (float64(j) + 0.5) / float64(s.radii)
			radius := math.Sqrt(p.hub*p.hub + f*(p.tip*p.tip-p.hub*p.hub))
			e := r.section((radius - p.hub) / (p.tip - p.hub))
			sum += math.Atan(math.Abs(rotorSpeed)*radius/v) - math.Abs(e.inlet+e.incidence)
		}
		return sum
	}
	u := math.Abs(rotorSpeed) * p.tip
	low, high := 0.005*u, 3*u
	if !(mean(low) > 0 && mean(high) < 0) {
		return 0, false
	}
	for range 60 {
		if m := math.Sqrt(low * high); mean(m) > 0 {
			low = m
		} else {
			high = m
		}
	}
	return area * math.Sqrt(low*high), true
}
