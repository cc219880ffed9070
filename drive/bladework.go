package drive

import (
	"math"

	"jetwright/notice"
	"jetwright/physics/blade"
	"jetwright/physics/jet"
	"jetwright/physics/water"
	"jetwright/shape"
)

// What the blades are shown by.
type (
	BladeElement    = blade.Element
	BladeTriangle   = blade.Triangle
	BladeCavitation = blade.RadiusCavitation
	BladeRow        = blade.Row
	BladeRowState   = blade.RowState
	BladeLoss       = blade.Loss
	BladeHole       = blade.Hole
	BladePoint      = blade.Point
	BladeDuty       = blade.Duty
	SwirlCase       = blade.SwirlCase
)

// FurtherTurned is by how much a stator is turned further to see what over-turning does, rad.
const FurtherTurned = 5 * math.Pi / 180

// BladeWork is the blades at a state, solved in full, with the curve that the state was found on.
type BladeWork struct {
	Pump       blade.Pump
	State      blade.State
	Cavitation blade.Cavitation
	ByRadius   []BladeCavitation
	Swirl      [3]SwirlCase // with the stator, without, turned further; one alone without a stator
	Doubts     []notice.Notice
	// PerDegree is by what share of itself the head rises where an edge stands a degree steeper: the impeller's leading and
	// trailing edges, the stator's.
	PerDegree [4]float64
	// HeadOff and PowerOff are what the map is off this full solve, over it; HeadError and PowerError the largest between its
	// flows, over the design's.
	HeadOff, PowerOff, HeadError, PowerError float64
	Solves, Borrowed                         int
	Checks                                   []MapCheck // the map against full solves at several places
	Holes                                    []BladeHole
	Curve                                    []CurvePoint
	Diameter                                 float64    // that the coefficients of the holes are made with, m
	Band                                     [2]float64 // efficiencies that good full-size pumps reach at this flow and type number
	Cordier                                  float64    // specific diameter over that of the best machines of this specific speed
	Installed                                float64    // power of the state, with installed factor, scatter and what was measured, over that of these blades alone
	HalfSpeed                                [2]float64 // head and efficiency at half the rotor speed over those on the curve, less one
	OtherSpeed                               float64    // a second craft speed that the demand is shown for, m/s; NaN without
}

// CurvePoint is the pump's curve at the rotor speed of a state, at one flow, and what the nozzle asks for there.
type CurvePoint struct {
	Flow       float64 // m³/s
	Asked      float64 // head that nozzle, intake and duct ask for, m
	AskedOther float64 // the same at the other craft speed, m
	Head       float64 // m
	Power      float64 // W
	Efficiency float64
	Onset      float64 // NPSH, m
	Breakdown  float64 // m
	Point      BladePoint
	Unit       float64 // W, of the power coefficients in Point
}

// curvePoints is how many points of a curve are shown.
const curvePoints = 33

// BladeWorkAt works the blades of a drive out at one of its states. ok is false where the drive has no blades, or they have no
// state there.
func (m *Machine) BladeWorkAt(s *State) (w *BladeWork, ok bool) {
	if m.blades == nil {
		return nil, false
	}
	b := m.blades
	w = &BladeWork{Pump: m.Drive.Pump()}
	c := m.bladeCondition(s.Jet.RotorSpeed, s.Jet.Flow)
	stage, reason := blade.NewStage(&w.Pump, BladeRadii)
	if reason != blade.Solved || stage.Solve(c, &w.State) != blade.Solved {
		return nil, false
	}
	w.ByRadius = make([]BladeCavitation, BladeRadii)
	w.Cavitation = w.State.Cavitation(blade.Inlet{NPSH: s.Jet.NPSHAvailable}, m.Drive.Terms.BreakdownFactor, w.ByRadius)
	w.Swirl = w.Pump.SwirlCases(c, BladeRadii, FurtherTurned, math.Sqrt(m.Path.JetArea/math.Pi))
	w.Doubts = w.State.Doubts([2]string{"impeller", "stator"})
	w.PerDegree = perDegree(&w.Pump, c, &w.State)
	plain := *m
	pump := *b
	plain.blades = &pump
	made := m.bladeMap.map_
	made.Settle(&pump.Curve, m.bladeChanges, blade.NominalTerms())
	psi, _ := pump.Head(s.Jet.FlowCoefficient)
	d := m.Path.Impeller.Diameter
	u2 := c.RotorSpeed * c.RotorSpeed * d * d
	w.HeadOff = psi*u2/c.Gravity/w.State.Head - 1
	w.PowerOff = pump.Power(s.Jet.FlowCoefficient)*c.Density*u2*c.RotorSpeed*d*d*d/w.State.ShaftPower - 1
	w.HeadError, w.PowerError, w.Solves, w.Borrowed, w.Holes = made.Error.Head, made.Error.Power, made.Solves, made.Borrowed, made.Holes
	w.Checks = m.mapChecks(&w.Pump, c)
	w.Diameter = b.k1 * d
	w.Installed = s.Jet.ImpellerPower / w.State.ShaftPower
	half := c
	half.RotorSpeed, half.Flow = c.RotorSpeed/2, c.Flow/2
	var slow blade.State
	if stage.Solve(half, &slow) == blade.Solved {
		w.HalfSpeed = [2]float64{4*slow.Head/w.State.Head - 1, slow.Efficiency - w.State.Efficiency}
	}
	omega := jet.SpecificSpeed(c.RotorSpeed, c.Flow, c.Gravity, w.State.Head)
	w.Band = [2]float64{jet.AttainableEfficiencyGuelich(c.Flow, omega), jet.AttainableEfficiencyBulten(c.Flow, omega)}
	w.Cordier = d * math.Pow(c.Gravity*w.State.Head, 0.25) / math.Sqrt(c.Flow) / blade.CordierDiameter(omega)
	m.bladeCurve(w, s)
	return w, true
}

// perDegree is by what share of itself the head of a state rises where an edge stands a degree steeper, in the order of BladeWork.PerDegree;
// not a number where the blades have no state then.
func perDegree(pump *blade.Pump, c blade.Condition, at *blade.State) (out [4]float64) {
	for i := range out {
		p := *pump
		offset := []*float64{&p.Impeller.InletAngleOffset, &p.Impeller.OutletAngleOffset, &p.Stator.InletAngleOffset, &p.Stator.OutletAngleOffset}[i]
		*offset += math.Pi / 180
		var st blade.State
		if other, r := blade.NewStage(&p, at.Radii); r == blade.Solved && other.Solve(c, &st) == blade.Solved {
			out[i] = st.Head/at.Head - 1
		} else {
			out[i] = math.NaN()
		}
	}
	return out
}

func (m *Machine) bladeCondition(rotorSpeed, flow float64) blade.Condition {
	return blade.Condition{
		RotorSpeed: rotorSpeed, Flow: flow, Density: m.Water.Density, Viscosity: m.Water.KinematicViscosity, Gravity: water.StandardGravity,
	}
}

// bladeCurve fills in the curve at a state's rotor speed, and the demand on it.
func (m *Machine) bladeCurve(w *BladeWork, s *State) {
	b := m.blades
	low, high := b.Ends()
	d := m.Path.Impeller.Diameter
	omega := s.RotorSpeed
	g := m.Path.Medium.Gravity
	head := b.k2 * omega * omega * d * d / g
	power := b.k5 * m.Path.Medium.Density * omega * omega * omega * d * d * d * d * d
	w.OtherSpeed = m.Drive.Duty.TopSpeed.Or(math.NaN())
	if s.Speed > 0 {
		w.OtherSpeed = 0
	}
	way, other := m.Path.Way(s.Speed, m.height(Condition{})), m.Path.Way(w.OtherSpeed, m.height(Condition{}))
	for i := range curvePoints {
		phi := low + (high-low)*float64(i)/(curvePoints-1)
		p := CurvePoint{Flow: phi * omega * d * d * d, Unit: power}
		b.At(phi/b.k3, &p.Point)
		p.Head, p.Power = p.Point.HeadCoefficient*head, p.Point.PowerCoefficient*power
		p.Efficiency = m.Path.Medium.Density * g * p.Flow * p.Head / p.Power
		p.Onset, p.Breakdown = p.Point.OnsetNPSH*head, p.Point.BreakdownNPSH*head
		jetVelocity := p.Flow / m.Path.JetArea / (1 + m.Path.CoolantShare)
		if m.Path.Coolant != nil {
			for range 20 {
				jetVelocity *= p.Flow / (m.Path.JetArea*jetVelocity + m.Path.CoolantFlow(jetVelocity))
			}
		}
		p.Asked, _ = m.Path.Head(&way, jetVelocity)
		p.AskedOther, _ = m.Path.Head(&other, jetVelocity)
		w.Curve = append(w.Curve, p)
	}
}

// PumpAt returns head in m and efficiency of the pump that a drive with blades works with, calibration and scatter in it, at a
// rotor speed and a flow; ok is false outside of its curve.
func (m *Machine) PumpAt(rotorSpeed, flow float64) (head, efficiency float64, ok bool) {
	d := m.Path.Impeller.Diameter
	phi := flow / (rotorSpeed * d * d * d)
	if m.blades == nil || m.blades.Outside(phi) {
		return 0, 0, false
	}
	psi, _ := m.blades.Head(phi)
	return psi * rotorSpeed * rotorSpeed * d * d / m.Path.Medium.Gravity, phi * psi / m.blades.Power(phi), true
}

// WorkedRow is a row as drawn with what it does.
type WorkedRow struct {
	Row   *BladeRow
	State *BladeRowState
}

// Rows returns the impeller and, where there is one, the stator.
func (w *BladeWork) Rows() []WorkedRow {
	out := []WorkedRow{{&w.Pump.Impeller, &w.State.Impeller}}
	if w.Pump.Stator.Blades > 0 {
		out = append(out, WorkedRow{&w.Pump.Stator, &w.State.Stator})
	}
	return out
}

// BladeSection is a section of a blade as made, unrolled at the radius of a stream surface at the leading edge. Angles in rad from the
// circumferential direction.
type BladeSection struct {
	Radius, Pitch    float64 // m
	Inlet, Outlet    float64
	Chord, Thickness float64 // m
	Leading          float64 // radius of the leading edge, m
	Trailing         float64 // and of the trailing edge
	Form             string
	turn             float64 // the way it goes from leading to trailing edge, 1 as the rotor turns
}

// Section returns the section of a row, 0 the impeller, on a stream surface.
func (w *BladeWork) Section(row, surface int) BladeSection {
	r := w.Rows()[row]
	e := &r.State.Elements
	hub, tip, at := e[0].InletRadius, e[w.State.Radii-1].InletRadius, e[surface].InletRadius
	s := BladeSection{turn: float64(2*row - 1), Radius: at, Pitch: 2 * math.Pi * at / float64(r.Row.Blades), Leading: r.Row.LeadingRadius, Trailing: r.Row.TrailingRadius, Form: r.Row.Form}
	span := (at - hub) / (tip - hub)
	s.Inlet, s.Outlet, _ = r.Row.Angles(span)
	s.Chord, s.Thickness, _ = r.Row.Sizes(span)
	return s
}

// Outline returns the section as parts are made with, from its leading edge, in m: x the way the rotor turns, y along the axis; and the
// end of its camber line. Edges that are thicker than the blade are drawn as thick as it is.
func (s BladeSection) Outline() (around [][2]float64, trail [2]float64) {
	stagger := (s.Inlet + s.Outlet) / 2
	trail = [2]float64{s.turn * s.Chord * math.Cos(stagger), s.Chord * math.Sin(stagger)}
	row := shape.Row{
		Blades: 1, Inlet: []float64{s.Inlet}, Outlet: []float64{s.Outlet}, Chord: []float64{s.Chord}, Thickness: []float64{s.Thickness}, Form: s.Form, Turn: s.turn,
		LeadingRadius: math.Min(s.Leading, s.Thickness/2), TrailingRadius: math.Min(s.Trailing, s.Thickness/2),
		Hub: shape.Wall{R: []float64{s.Radius}}, Tip: shape.Wall{R: []float64{1.1 * s.Radius}},
	}
	section, fault := row.Section(0)
	if fault != nil { // it has no body: its chord stands for it
		return [][2]float64{{}, trail}, trail
	}
	return section.Unrolled(outlinePoints), trail
}

// outlinePoints is how many points each side of a section is drawn with.
const outlinePoints = 40

// BladeAngles returns the angles of the camber line of a row, 0 the impeller, at both edges on a stream surface, and those of the
// water relative to it, in rad from the circumferential direction, beyond a right angle where it is turned past the axis.
func (w *BladeWork) BladeAngles(row, surface int) (blade, water [2]float64) {
	r := w.Rows()[row]
	e := &r.State.Elements
	n := w.State.Radii
	place := func(at func(*BladeElement) float64) float64 {
		hub := at(&e[0])
		return (at(&e[surface]) - hub) / (at(&e[n-1]) - hub)
	}
	blade[0], _, _ = r.Row.Angles(place(func(e *BladeElement) float64 { return e.InletRadius }))
	_, blade[1], _ = r.Row.Angles(place(func(e *BladeElement) float64 { return e.OutletRadius }))
	for i, t := range []*BladeTriangle{&e[surface].Inlet, &e[surface].Outlet} {
		against := t.BladeSpeed - t.Tangential
		if row > 0 {
			against = t.Tangential
		}
		water[i] = math.Atan2(t.Meridional, against)
	}
	return blade, water
}

// Omega returns the specific speed of the pump.
func (w *BladeWork) Omega() float64 {
	return jet.SpecificSpeed(w.State.RotorSpeed, w.State.Flow, water.StandardGravity, w.State.Head)
}

// NamedElement is a section by its place over the span.
type NamedElement struct {
	Name    string
	Element *BladeElement
}

// Triangles returns the sections of a row at hub, mid span and tip.
func (w *BladeWork) Triangles(row int) []NamedElement {
	e := &w.Rows()[row].State.Elements
	n := w.State.Radii
	return []NamedElement{{"hub", &e[0]}, {"middle", &e[n/2]}, {"tip", &e[n-1]}}
}

// BladesAlone finds the rotor speed in rad/s and the power in W at which the blades, solved in full at every step and without
// map, calibration and scatter, give the head that a state asks for at its flow. It is what the map is held against. ok is false
// where they have no state within a tenth of the state's rotor speed.
func (m *Machine) BladesAlone(s *State) (rotorSpeed, power float64, ok bool) {
	p := m.Drive.Pump()
	stage, reason := blade.NewStage(&p, BladeRadii)
	if reason != blade.Solved {
		return 0, 0, false
	}
	var st blade.State
	low, high := 0.9*s.RotorSpeed, 1.1*s.RotorSpeed
	for range 40 {
		rotorSpeed = (low + high) / 2
		switch stage.Solve(m.bladeCondition(rotorSpeed, s.Jet.Flow), &st) {
		case blade.Solved:
			cav := st.Cavitation(blade.Inlet{NPSH: s.Jet.NPSHAvailable}, 1, nil)
			left := jet.CavitationFactor(cav.SuctionSpecificSpeed, cav.BreakdownSpeed, m.Path.Impeller.CavitationExponent)
			if st.Head*left < s.Jet.Head {
				low = rotorSpeed
			} else {
				high = rotorSpeed
			}
		case blade.Stalled, blade.HubBackflow, blade.TipBackflow: // too fast for this flow
			high = rotorSpeed
		default:
			return 0, 0, false
		}
	}
	return rotorSpeed, st.ShaftPower, stage.Solve(m.bladeCondition(rotorSpeed, s.Jet.Flow), &st) == blade.Solved
}
