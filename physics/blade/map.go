package blade

import (
	"math"
	"sort"
	"strings"
)

// MapFlows is the number of flows that a map is solved at.
const MapFlows = 15

// Columns of a map, all without scale.
const (
	colHead      = iota // gH/(ΩD)², useful
	colTotal            // the same with swirl
	colPower            // P/(ρΩ³D⁵) at the impeller shaft
	colMomentum         // swirl times radius behind the last row/(ΩD²)
	colGiven            // tangent of the swirl's angle behind the impeller
	colLeft             // and behind the last row
	colOnset            // g·NPSH/(ΩD)² at which bubbles appear
	colBreakdown        // and at which the head falls
	colDiffusion        // largest equivalent diffusion ratio on the impeller
	colStator           // and on the stator
	colProfile          // losses, as power coefficients
	colRoughness
	colIncidence
	colEdges
	colGap
	colAnnulus
	colSecondary
	colFriction
	colLeakage
	colMixing
	colSwirl
	columns
)

type nodes [MapFlows][columns]float64

// Parameter is a number of the blades that a map knows the change by. Path names it as in the design file; "rotor_speed"
// is the logarithm of the rotor speed at the same flow coefficient, which moves the Reynolds number alone.
type Parameter struct {
	Path string
	Step float64 // of the one-sided difference, SI
}

// parameters are the numbers that a map can know the change by.
var parameters = map[string]func(*Pump) *float64{
	"impeller.inlet_angle_offset":  func(p *Pump) *float64 { return &p.Impeller.InletAngleOffset },
	"impeller.outlet_angle_offset": func(p *Pump) *float64 { return &p.Impeller.OutletAngleOffset },
	"impeller.tip_gap":             func(p *Pump) *float64 { return &p.Impeller.TipGap },
	"impeller.roughness_place":     func(p *Pump) *float64 { return &p.Impeller.RoughnessPlace },
	"impeller.leading_radius":      func(p *Pump) *float64 { return &p.Impeller.LeadingRadius },
	"impeller.trailing_radius":     func(p *Pump) *float64 { return &p.Impeller.TrailingRadius },
	"impeller.chord_factor":        func(p *Pump) *float64 { return &p.Impeller.ChordFactor },
	"impeller.thickness_factor":    func(p *Pump) *float64 { return &p.Impeller.ThicknessFactor },
	"stator.inlet_angle_offset":    func(p *Pump) *float64 { return &p.Stator.InletAngleOffset },
	"stator.outlet_angle_offset":   func(p *Pump) *float64 { return &p.Stator.OutletAngleOffset },
	"stator.roughness_place":       func(p *Pump) *float64 { return &p.Stator.RoughnessPlace },
	"stator.leading_radius":        func(p *Pump) *float64 { return &p.Stator.LeadingRadius },
	"stator.trailing_radius":       func(p *Pump) *float64 { return &p.Stator.TrailingRadius },
	"stator.chord_factor":          func(p *Pump) *float64 { return &p.Stator.ChordFactor },
	"stator.thickness_factor":      func(p *Pump) *float64 { return &p.Stator.ThicknessFactor },
	"terms.deviation_offset":       func(p *Pump) *float64 { return &p.Terms.DeviationOffset },
	"terms.profile_factor":         func(p *Pump) *float64 { return &p.Terms.ProfileFactor },
	"terms.endwall_factor":         func(p *Pump) *float64 { return &p.Terms.EndwallFactor },
	"terms.gap_factor":             func(p *Pump) *float64 { return &p.Terms.GapFactor },
	"terms.leakage_share":          func(p *Pump) *float64 { return &p.Terms.LeakageShare },
}

// Parameters returns the paths of all numbers that a map can know the change by, sorted, the rotor speed last.
func Parameters() []string {
	var out []string
	for path := range parameters {
		out = append(out, path)
	}
	sort.Strings(out)
	return append(out, "rotor_speed")
}

// UsualParameters returns the ten parameters that move a printed pump most, with the steps of their differences.
func UsualParameters() []Parameter {
	return []Parameter{
		{"impeller.inlet_angle_offset", 0.25 * degree},
		{"impeller.outlet_angle_offset", 0.25 * degree},
		{"impeller.tip_gap", 0.1e-3},
		{"impeller.roughness_place", 0.25},
		{"impeller.trailing_radius", 0.1e-3},
		{"impeller.chord_factor", 0.01},
		{"impeller.thickness_factor", 0.05},
		{"stator.inlet_angle_offset", 0.25 * degree},
		{"stator.outlet_angle_offset", 0.25 * degree},
		{"rotor_speed", 0.1},
	}
}

// StepOf returns the step of the difference by which a map finds the change with a number, SI; false for a number that
// it cannot know the change by.
//
//	a quarter of a degree, a tenth of a millimetre, a twentieth of a factor
//
// Our own: what printing holds, so that the difference is taken over the range in which it is used.
//
// Source: own. Tests: TestStepOfExact.
func StepOf(path string) (float64, bool) {
	if path != "rotor_speed" && parameters[path] == nil {
		return 0, false
	}
	for _, p := range UsualParameters() {
		if p.Path == path {
			return p.Step, true
		}
	}
	switch {
	case strings.HasSuffix(path, "_radius"):
		return 0.1e-3, true
	case path == "terms.deviation_offset":
		return 0.25 * degree, true
	case path == "terms.leakage_share":
		return 2e-3, true
	case strings.HasSuffix(path, "_place"):
		return 0.25, true
	}
	return 0.05, true
}

// Number returns where a pump keeps a number that a map knows the change by; nil for another.
func (p *Pump) Number(path string) *float64 {
	f := parameters[path]
	if f == nil {
		return nil
	}
	return f(p)
}

// Hole is a stretch of flow coefficients, between Low and High, in which the blades have no state that a drive may
// use, and why.
type Hole struct {
	Low, High float64
	Reason    Reason
}

// MapError is how far the map is off full solves, over the value at the design flow.
type MapError struct {
	Head  float64 `unit:"1" doc:"largest error of the head between the flows of the map, over the design head"`
	Power float64 `unit:"1" doc:"the same of the power"`
}

// Map is a pump's blades solved once: everything a drive asks of them against the flow coefficient, and its change with
// each parameter. It is never changed after it is made.
type Map struct {
	Condition  Condition // that the map was made at
	Pump       Pump
	Parameters []Parameter
	Holes      []Hole
	Error      MapError
	Solves     int
	Borrowed   int     // changes that had to be taken from a neighbouring flow
	Diameter   float64 // that the coefficients are made with: the casing's at the leading edge, m
	flows      [MapFlows]float64
	base       nodes
	by         []nodes
	design     float64 // flow coefficient
	radii      int
}

// span of flows that a map tries, over the design flow
const mapLow, mapHigh = 0.55, 1.5

// NewMap solves a pump's blades around a design condition. What cannot be solved becomes a hole; if the design flow
// itself has no state there is no map, and the reason says why.
func NewMap(p *Pump, c Condition, radii int, params []Parameter) (*Map, Reason) {
	m := &Map{Condition: c, Pump: *p, Parameters: params, radii: radii}
	s, reason := NewStage(p, radii)
	if reason != Solved {
		return nil, reason
	}
	for _, q := range params {
		if q.Path != "rotor_speed" && parameters[q.Path] == nil || !(q.Step > 0) {
			return nil, NoRow
		}
	}
	states := make([]State, MapFlows+1)
	st := &states[MapFlows]
	if reason = s.Solve(c, st); reason != Solved {
		return nil, reason
	}
	m.Solves = 1
	m.design, m.Diameter = st.FlowCoefficient, 2*st.tip
	least := 0.1 * st.Head
	// how far down and up the blades work
	end := func(far float64) float64 {
		good := 1.0
		at := func(q float64) bool {
			x := c
			x.Flow *= q
			m.Solves++
			reason = s.Solve(x, &states[0])
			return reason == Solved && states[0].Head > least
		}
		if at(far) {
			return far
		}
		bad, why := far, reason
		for range 9 {
			if q := (good + bad) / 2; at(q) {
				good = q
			} else {
				bad, why = q, reason
			}
		}
		if why == Solved {
			why = NoHead
		}
		h := Hole{far * m.design, good * m.design, why}
		if far > 1 {
			h.Low, h.High = h.High, h.Low
		}
		m.Holes = append(m.Holes, h)
		return good
	}
	low, high := end(mapLow), end(mapHigh)
	for i := range MapFlows {
		// closer about the design flow
		x := 2*float64(i)/(MapFlows-1) - 1
		q := 1 + (high-1)*bunch(x)
		if x < 0 {
			q = 1 + (1-low)*bunch(x)
		}
		at := c
		at.Flow *= q
		m.Solves++
		if reason = s.Solve(at, &states[i]); reason != Solved {
			return nil, reason
		}
		m.flows[i] = states[i].FlowCoefficient
		tabulate(&states[i], &m.base[i])
	}
	m.by = make([]nodes, len(params))
	for k := range params {
		if reason = m.differ(k, states[:MapFlows], st); reason != Solved {
			return nil, reason
		}
	}
	return m, m.examine(st)
}

// differ works out the change of all columns with a parameter. Where the changed blades have no state, at an end of the
// map as a rule, they are changed the other way; where they have none either, the change is that at the next flow
// towards the design's, and Borrowed counts it.
func (m *Map) differ(k int, states []State, st *State) Reason {
	q := m.Parameters[k]
	var missing [MapFlows]bool
	for _, step := range [2]float64{q.Step, -q.Step} {
		moved, changed := m.Pump, m.Condition
		if q.Path == "rotor_speed" {
			changed.RotorSpeed *= math.Exp(step)
			changed.Flow *= math.Exp(step)
		} else {
			*parameters[q.Path](&moved) += step
		}
		s, reason := NewStage(&moved, m.radii)
		if reason != Solved {
			return reason
		}
		s.lenient = true
		again := false
		for i := range MapFlows {
			if step < 0 && !missing[i] {
				continue
			}
			at := changed
			at.Flow *= m.flows[i] / m.design
			m.Solves++
			reason = s.solve(at, st, warmFor(&states[i], q.Path))
			missing[i] = reason != Solved
			again = again || missing[i]
			if missing[i] {
				continue
			}
			tabulate(st, &m.by[k][i])
			for j := range columns {
				m.by[k][i][j] = (m.by[k][i][j] - m.base[i][j]) / step
			}
		}
		if !again {
			return Solved
		}
	}
	const middle = MapFlows / 2
	if missing[middle] {
		return NotConverged
	}
	for d := 1; d <= middle; d++ {
		for _, side := range [2]int{-1, 1} {
			if i := middle + side*d; missing[i] {
				m.by[k][i] = m.by[k][i-side]
				m.Borrowed++
			}
		}
	}
	return Solved
}

// warmFor gives the state to start from; at another speed the velocities are others.
func warmFor(st *State, path string) *State {
	if path == "rotor_speed" {
		return nil
	}
	return st
}

// bunch puts points from −1 to 1 closer about 0.
func bunch(x float64) float64 { return (x + 0.8*x*x*x) / 1.8 }

// examine holds the map's flows against full solves between them.
func (m *Map) examine(st *State) Reason {
	s, reason := NewStage(&m.Pump, m.radii)
	if reason != Solved {
		return reason
	}
	curve := m.With(nil, NominalTerms())
	var p Point
	curve.At(m.design, &p)
	head, power := p.HeadCoefficient, p.PowerCoefficient
	for i := 0; i < MapFlows-1; i += 2 {
		f := (m.flows[i] + m.flows[i+1]) / 2
		c := m.Condition
		c.Flow *= f / m.design
		m.Solves++
		if reason = s.Solve(c, st); reason != Solved {
			return reason
		}
		curve.At(f, &p)
		var row [columns]float64
		tabulate(st, &row)
		m.Error.Head = math.Max(m.Error.Head, math.Abs(p.HeadCoefficient-row[colHead])/math.Abs(head))
		m.Error.Power = math.Max(m.Error.Power, math.Abs(p.PowerCoefficient-row[colPower])/math.Abs(power))
	}
	return Solved
}

// tabulate writes a state without scale.
func tabulate(st *State, row *[columns]float64) {
	c := &st.condition
	w := math.Abs(c.RotorSpeed)
	d := 2 * st.tip
	head := w * w * d * d / c.Gravity
	power := c.Density * w * w * w * math.Pow(d, 5)
	cav := st.Cavitation(Inlet{}, 1, nil)
	row[colHead], row[colTotal], row[colPower] = st.Head/head, st.TotalHead/head, st.ShaftPower/power
	row[colMomentum] = st.Swirl.Momentum / (w * d * d)
	row[colGiven], row[colLeft] = math.Tan(st.Swirl.GivenAngle), math.Tan(st.Swirl.LeftAngle)
	row[colOnset], row[colBreakdown] = cav.OnsetNPSH/head, cav.BreakdownNPSH/head
	row[colDiffusion], row[colStator] = 0, 0
	for j := range st.Radii {
		row[colDiffusion] = math.Max(row[colDiffusion], st.Impeller.Elements[j].EquivalentDiffusion)
		row[colStator] = math.Max(row[colStator], st.Stator.Elements[j].EquivalentDiffusion)
	}
	l := st.Impeller.Loss
	l.add(&st.Stator.Loss, 1)
	for i, x := range [...]float64{
		l.Profile, l.Roughness, l.Incidence, l.Edges, l.Gap, l.Annulus, l.Secondary,
		st.DiscFriction + st.TipFriction, st.Leakage, st.Mixing, st.Swirl.Left,
	} {
		row[colProfile+i] = x / power
	}
}

// Curve is a map of definite blades: parameters and terms are settled. Its methods do not allocate.
type Curve struct {
	flows     [MapFlows]float64
	y, d      nodes
	holes     []Hole
	best      float64 // efficiency at its best
	breakdown float64 // factor on NPSH
}

// With settles a map: changes of its parameters in their order, in SI (nil for none; the rotor speed's is the logarithm of
// speed over the map's), and the terms by which calibration and scatter act on the result. Of the terms HeadFactor,
// EfficiencyOffset and BreakdownFactor act here; the others are parameters of the blades.
func (m *Map) With(changes []float64, t Terms) *Curve {
	c := new(Curve)
	m.Settle(c, changes, t)
	return c
}

// Settle does what With does, into a curve that is there already, and does not allocate.
func (m *Map) Settle(c *Curve, changes []float64, t Terms) {
	*c = Curve{flows: m.flows, y: m.base, holes: m.Holes, breakdown: math.Pow(t.BreakdownFactor, -4.0/3)}
	for k, x := range changes {
		if x == 0 {
			continue
		}
		for i := range MapFlows {
			for j := range columns {
				c.y[i][j] += x * m.by[k][i][j]
			}
		}
	}
	for i := range MapFlows {
		c.best = math.Max(c.best, c.flows[i]*c.y[i][colHead]/c.y[i][colPower])
	}
	power := t.HeadFactor / (1 + t.EfficiencyOffset/c.best)
	for i := range MapFlows {
		y := &c.y[i]
		y[colHead] *= t.HeadFactor
		y[colTotal] *= t.HeadFactor
		y[colPower] *= power
		y[colBreakdown] *= c.breakdown
		// the losses keep their shares of what is now lost in all
		sum := 0.0
		for j := colProfile; j < columns; j++ {
			sum += y[j]
		}
		if sum != 0 {
			f := (y[colPower] - c.flows[i]*y[colHead]) / sum
			for j := colProfile; j < columns; j++ {
				y[j] *= f
			}
		}
	}
	c.best += t.EfficiencyOffset
	c.slopes()
}

// slopes fits parabolas through neighbours.
func (c *Curve) slopes() {
	x := &c.flows
	for j := range columns {
		for i := range MapFlows {
			k := min(max(i, 1), MapFlows-2)
			h0, h1 := x[k]-x[k-1], x[k+1]-x[k]
			s0, s1 := (c.y[k][j]-c.y[k-1][j])/h0, (c.y[k+1][j]-c.y[k][j])/h1
			switch middle := (s0*h1 + s1*h0) / (h0 + h1); {
			case i == k:
				c.d[i][j] = middle
			case i < k:
				c.d[i][j] = 2*s0 - middle
			default:
				c.d[i][j] = 2*s1 - middle
			}
		}
	}
}

// Point is what a map says at a flow coefficient, without scale: heads and NPSH over (ΩD)²/g, powers over ρΩ³D⁵.
type Point struct {
	HeadCoefficient  float64 `unit:"1" doc:"useful head"`
	HeadSlope        float64 `unit:"1" doc:"its slope over the flow coefficient"`
	TotalCoefficient float64 `unit:"1" doc:"head with the swirl that is left"`
	PowerCoefficient float64 `unit:"1" doc:"power at the impeller shaft"`
	PowerSlope       float64 `unit:"1" doc:"its slope over the flow coefficient"`
	SwirlMomentum    float64 `unit:"1" doc:"swirl times radius behind the last row, over ΩD²"`
	GivenAngle       float64 `unit:"deg" doc:"mean angle of the water behind the impeller off the axis"`
	LeftAngle        float64 `unit:"deg" doc:"mean angle of the water behind the last row off the axis"`
	OnsetNPSH        float64 `unit:"1" doc:"NPSH below which bubbles appear"`
	BreakdownNPSH    float64 `unit:"1" doc:"NPSH below which the head falls"`
	Diffusion        float64 `unit:"1" doc:"largest equivalent diffusion ratio on the impeller"`
	StatorDiffusion  float64 `unit:"1" doc:"the same on the stator; 0 without one"`
	Loss             Loss    `key:"-"` // as power coefficients, both rows
	Friction         float64 `unit:"1" doc:"disc and tip friction"`
	Leakage          float64 `unit:"1" doc:"leakage"`
	Mixing           float64 `unit:"1" doc:"mixing behind the last row"`
	Swirl            float64 `unit:"1" doc:"swirl left"`
}

// piece finds the stretch of a flow coefficient. Outside the map the outermost cubic is left along its end's tangent.
func (c *Curve) piece(phi float64) (i int, u float64) {
	i = 0
	for i < MapFlows-2 && phi > c.flows[i+1] {
		i++
	}
	return i, (phi - c.flows[i]) / (c.flows[i+1] - c.flows[i])
}

func (c *Curve) column(j int, phi float64) (y, slope float64) {
	last := MapFlows - 1
	switch {
	case phi < c.flows[0]:
		return c.y[0][j] + c.d[0][j]*(phi-c.flows[0]), c.d[0][j]
	case phi > c.flows[last]:
		return c.y[last][j] + c.d[last][j]*(phi-c.flows[last]), c.d[last][j]
	}
	i, u := c.piece(phi)
	h := c.flows[i+1] - c.flows[i]
	a, b, da, db := c.y[i][j], c.y[i+1][j], h*c.d[i][j], h*c.d[i+1][j]
	e := b - a
	p, q := 3*e-2*da-db, da+db-2*e
	return a + u*(da+u*(p+u*q)), (da + u*(2*p+3*u*q)) / h
}

// Head returns the useful head coefficient and its slope, both dimensionless.
//
//	ψ = gH/(ΩD)², cubic between the flows of the map
//
// Holds between the ends of the map; outside it goes on straight and Outside says so.
//
// Source: own. Tests: TestMapExact, TestMapAgainstSolvesLaw.
func (c *Curve) Head(phi float64) (head, slope float64) { return c.column(colHead, phi) }

// Power returns the power coefficient at the impeller shaft, dimensionless.
//
//	π = P/(ρΩ³D⁵), cubic between the flows of the map
//
// Holds as Head does.
//
// Source: own. Tests: TestMapExact, TestMapAgainstSolvesLaw.
func (c *Curve) Power(phi float64) float64 {
	y, _ := c.column(colPower, phi)
	return y
}

// Losses returns what the pump loses at its best efficiency and beyond that, as power coefficients, dimensionless.
//
//	best = φ·ψ·(1/η_best − 1),  off = π − φ·ψ/η_best
//
//	η_best  best efficiency among the flows of the map, -
//
// Holds as Head does.
//
// Source: own. Tests: TestMapExact.
func (c *Curve) Losses(phi float64) (best, offDesign float64) {
	psi, _ := c.column(colHead, phi)
	return phi * psi * (1/c.best - 1), c.Power(phi) - phi*psi/c.best
}

// Outside tells that a flow coefficient lies outside the map: in one of its holes or beyond what was tried.
func (c *Curve) Outside(phi float64) bool { return phi < c.flows[0] || phi > c.flows[MapFlows-1] }

// Breakdown returns the NPSH below which the head falls, over (ΩD)²/g, and its slope over the flow coefficient, both dimensionless.
//
//	N_b = g·NPSH_b/(ΩD)²,  S₃ = √φ/N_b^(3/4)
//
//	S₃  suction specific speed at breakdown, -
//
// Holds as Head does.
//
// Source: own. Tests: TestMapExact.
func (c *Curve) Breakdown(phi float64) (npsh, slope float64) { return c.column(colBreakdown, phi) }

// SwirlLeft returns the swirl times radius left behind the last row, over ΩD², and the power in it as a power coefficient,
// both dimensionless. The head is without that power already.
//
//	L/(ΩD²),  P/(ρΩ³D⁵)
//
//	L  swirl times radius, mean over the flow, m²/s
//	P  kinetic power of the swirl, W
//
// Holds as Head does.
//
// Source: own. Tests: TestMapExact.
func (c *Curve) SwirlLeft(phi float64) (momentum, power float64) {
	momentum, _ = c.column(colMomentum, phi)
	power, _ = c.column(colSwirl, phi)
	return momentum, power
}

// Best returns the best efficiency among the flows of the map, dimensionless.
//
//	η = φ·ψ/π
//
// Holds by definition.
//
// Source: own. Tests: TestMapExact.
func (c *Curve) Best() float64 { return c.best }

// Ends returns the flow coefficients between which the map holds, dimensionless.
//
//	φ = Q/(ΩD³)
//
// Holds by definition.
//
// Source: own. Tests: TestMapExact.
func (c *Curve) Ends() (low, high float64) { return c.flows[0], c.flows[MapFlows-1] }

// At works out everything at a flow coefficient, into p.
func (c *Curve) At(phi float64, p *Point) {
	var y [columns]float64
	for j := range columns {
		y[j], _ = c.column(j, phi)
	}
	*p = Point{
		HeadCoefficient: y[colHead], TotalCoefficient: y[colTotal], PowerCoefficient: y[colPower],
		SwirlMomentum: y[colMomentum], GivenAngle: math.Atan(y[colGiven]), LeftAngle: math.Atan(y[colLeft]),
		OnsetNPSH: y[colOnset], BreakdownNPSH: y[colBreakdown], Diffusion: y[colDiffusion], StatorDiffusion: y[colStator],
		Loss: Loss{
			Profile: y[colProfile], Roughness: y[colRoughness], Incidence: y[colIncidence], Edges: y[colEdges],
			Gap: y[colGap], Annulus: y[colAnnulus], Secondary: y[colSecondary],
		},
		Friction: y[colFriction], Leakage: y[colLeakage], Mixing: y[colMixing], Swirl: y[colSwirl],
	}
	_, p.HeadSlope = c.column(colHead, phi)
	_, p.PowerSlope = c.column(colPower, phi)
}
