package heat

import (
	"math"
	"strings"

	"jetwright/numeric"
	"jetwright/physics/water"
)

// Streams is what the coolant does for the parts at a moment. Rates are heat carried away by degree, what the parts lose to their
// surroundings without coolant in them.
type Streams struct {
	Flow            float64 // out of all taps, or of the pumps of a closed loop, m³/s
	Tapped          float64 // of it taken from the jet, m³/s
	Carried         float64 // of all coolant, W/K
	PlateRate       float64 // of the coolant past the plate, W/K
	JacketRate      float64 // of the coolant past the jacket, W/K
	PlateToCoolant  float64 // thermal resistance to the coolant's mean, K/W
	JacketToCoolant float64 // K/W
	ToJacket        float64 // share of the plate's heat that reaches the jacket's inlet
	ToPlate         float64 // share of the jacket's heat that reaches the plate's inlet
	Return          float64 // rise of the coolant at the beginning of a closed loop by its heat, K/W; 0 of tapped water
}

// Steady returns the steady temperatures of plate, jacket and outlet under a load, of which it takes inlet and heats.
//
//	T_part = T_0 + f·P_other/C_part + P·(R + 1/(2C_part)),  T_out = T_0 + ΣP/C,  T_0 = T_in + r·ΣP
//
//	C, C_part  heat carried away by degree, of all coolant and of that past the part, W/K
//	f          share of the other part's heat that reaches the part's inlet
//	P          heat of a part, W
//	R          thermal resistance between part and coolant, K/W
//	r          rise of the coolant at the beginning of a closed loop, K/W
//
// Holds in the steady state.
//
// Source: incropera-2007. Tests: TestSteadyExact, TestStreamsExact.
func (s Streams) Steady(l Load) State {
	inlet := l.Inlet + s.Return*(l.Motor+l.Controller)
	plate := inlet + s.ToPlate*l.Motor/s.PlateRate
	jacket := inlet + s.ToJacket*l.Controller/s.JacketRate
	return State{
		CoolantFlow:       s.Flow,
		CoolantOutlet:     inlet + (l.Motor+l.Controller)/s.Carried,
		BridgeTemperature: plate + l.Controller*(l.BridgeToPlate+s.PlateToCoolant+0.5/s.PlateRate),
		JacketTemperature: jacket + l.Motor*(s.JacketToCoolant+0.5/s.JacketRate),
	}
}

// Setting is what a table of a circuit is made for.
type Setting struct {
	Water     water.Water
	Gravity   float64 // m/s²
	StillLoss float64 // W/K, of Cooling
	Cooling   Cooling // its resistances hold for a plate or a jacket that is not among the parts
}

// Table is a circuit solved beforehand over the velocity of the jet: what its flow and its exchange of heat are between the
// points is read off straight pieces, which keep the order of two circuits. It is never changed and may be used by many goroutines.
type Table struct {
	Layout    *Layout
	Fluid     Fluid
	Operating Operating // without the kinetic pressure
	Filled    float64   // least jet velocity at which coolant flows in every line, m/s; infinite if in none
	Cleared   float64   // least jet velocity that drives out air from every fall as well, m/s
	Filling   float64   // pressure that fills, over the water's surface, Pa
	AirLock   float64   // pressure that clears, Pa

	setting    Setting
	v          []float64
	rows       [][columns]float64
	curve      *numeric.Polyline    // of the flow; nil where nothing is taken from the jet
	walls      [3]*numeric.Polyline // conductance from the wall to the coolant of plate, jacket and keel plate in W/K over their flow in m³/s
	parallel   bool                 // plate and jacket lie side by side
	perKinetic float64              // highest tap's pressure over the jet's
	fixed      float64              // the part of the driving pressure that does not go with the jet, Pa
}

// columns of a table.
const (
	colFlow   = iota
	colTapped // of it from taps whose pressure the jet makes
	colPlateFlow
	colJacketFlow
	colKeelFlow
	colSpeed               // fastest in the circuit, m/s
	fromRest               // the columns before it stand by the jet's velocity and are zero at rest
	colToJacket = iota - 1 // shares of heat
	colToPlate
	colLowest // lowest absolute pressure at a high point, Pa
	columns
)

// Jet velocities that a table spans, m/s, how many points it has between, and how much faster than at the first flow the
// jet is where the flow is taken for whole: between the two nobody knows it, and it rises smoothly.
const (
	tableLow, tableHigh = 0.7, 45.0
	leastShare          = 0.03 // of the lowest velocity: what fills below it counts as filled at rest
	tablePoints         = 36
	fillingBand         = 1.05
)

// afterFilling are the jet velocities of points behind one at which a line fills, over that one: there the flow bends most.
var afterFilling = [...]float64{fillingBand, 1.065, 1.08, 1.1, 1.13, 1.17, 1.22, 1.27, 1.33, 1.4, 1.47, 1.55}

// NewTable solves a layout over the velocity of the jet. The error is a notice.List or an *Unsolved.
func NewTable(l *Layout, s Setting) (*Table, error) {
	p := s.Water.Properties()
	t := &Table{Layout: l, Fluid: NewFluid(s.Water), setting: s, Operating: Operating{Gravity: s.Gravity, AirPressure: p.AirPressure, Vapour: p.VapourPressure}}
	c := &l.Circuit
	plumb, err := c.number(t.Operating, t.Fluid)
	if err != nil {
		return nil, err
	}
	for i := range c.Taps {
		if c.Taps[i].Pressure.Set {
			t.fixed = math.Max(t.fixed, c.Taps[i].Pressure.Value)
		} else {
			t.perKinetic = math.Max(t.perKinetic, c.Taps[i].PerKinetic)
		}
	}
	var rows [][columns]float64
	lastV := 0.0
	at := func(v float64) (row [columns]float64, shut string, err error) {
		o := t.Operating
		o.Kinetic = t.Fluid.Density / 2 * v * v
		for i := range plumb.near { // flows go about with the jet's speed
			plumb.near[i] *= v / lastV
		}
		state, err := c.solve(plumb, o, t.Fluid)
		if err != nil {
			return row, "", err
		}
		plumb.near, lastV = plumb.near[:0], v
		for i := range state.Lines {
			plumb.near = append(plumb.near, state.Lines[i].Flow)
		}
		if v == 0 || t.still() {
			plumb.near = nil
		}
		t.Filling, t.AirLock = state.Filling, state.AirLock
		return t.row(&state, v), pattern(&state), nil
	}
	add := func(v float64, row [columns]float64) { t.v, rows = append(t.v, v), append(rows, row) }
	for i, x := range [...]spot{l.plate, l.jacket, l.keel} {
		if x.part >= 0 {
			if t.walls[i], err = c.Lines[x.line].Elements[x.element].(*Channel).wall(t.Fluid); err != nil {
				return nil, err
			}
		}
	}
	top, full, err := at(tableHigh)
	if err != nil {
		return nil, err
	}
	t.parallel = top[colToJacket] == 0 && top[colToPlate] == 0 && l.Has(KindPlate) && l.Has(KindJacket)
	_, shut, err := at(tableLow * leastShare) // a film of water lies on the way at rest
	if err != nil {
		return nil, err
	}
	if strings.Contains(full, "x") {
		t.Filled = math.Inf(1)
	}
	if len(c.Taps) == 0 || t.perKinetic <= 0 {
		add(0, top)
		add(tableHigh, top)
	} else {
		step := math.Pow(tableHigh/tableLow, 1/float64(tablePoints))
		first, filled, after := true, 0.0, 0
		for v, last := tableLow, leastShare*tableLow; v < tableHigh*(1+1e-9); {
			next, now, err := at(v)
			if err != nil {
				return nil, err
			}
			if now != shut {
				lo, hi, low, err := t.fills(at, shut, last, v)
				if err != nil {
					return nil, err
				}
				if lo > last && lo < hi {
					if first {
						low, _, err = at(lo)
						if err != nil {
							return nil, err
						}
						add(0, low)
						first = false
					}
					if lo > t.v[len(t.v)-1] {
						add(lo, low)
					}
				}
				if _, now, err = at(hi * (1 + 1e-9)); err != nil {
					return nil, err
				}
				shut, v = now, hi*afterFilling[0]
				filled, after = hi, 1
				if now == full && !strings.Contains(full, "x") {
					t.Filled = hi
				}
				if next, _, err = at(v); err != nil {
					return nil, err
				}
			}
			if first {
				zero := next
				for k := range fromRest {
					zero[k] = 0
				}
				add(0, zero)
				first = false
			}
			if v > t.v[len(t.v)-1] {
				add(v, next)
			}
			last = v
			v = math.Max(v*step, tableLow)
			if after > 0 && after < len(afterFilling) {
				v = filled * afterFilling[after]
				after++
			}
		}
	}
	t.Cleared = t.Filled
	if short := t.AirLock - t.fixed - t.pumps(); short > 0 && t.perKinetic > 0 {
		t.Cleared = math.Max(t.Cleared, math.Sqrt(2*short/(t.Fluid.Density*t.perKinetic)))
	} else if short > 0 {
		t.Cleared = math.Inf(1)
	}
	t.rows = rows
	if top[colTapped] != 0 {
		y := make([]float64, len(rows))
		for i := range rows {
			y[i] = rows[i][colTapped]
		}
		if t.curve, err = numeric.NewPolyline(t.v, y); err != nil {
			return nil, err
		}
	}
	return t, nil
}

// With returns the table for other resistances and another still loss; nothing of the circuit hangs on them.
func (t *Table) With(s Setting) *Table {
	out := *t
	out.setting = s
	return &out
}

// fills returns the ends of a narrow band of jet velocity, between two that are given, in which lines fill, and the row at its lower end.
func (t *Table) fills(at func(float64) ([columns]float64, string, error), shut string, from, to float64) (lo, hi float64, low [columns]float64, err error) {
	lo, hi = from, to
	guess := 0.0
	if top := t.Filling - t.fixed - t.pumps(); top > 0 { // most often it is the highest point
		guess = math.Sqrt(2 * top / (t.Fluid.Density * t.perKinetic))
	}
	const narrow = 1e-5
	for turn := 0; hi-lo > narrow*hi; turn++ {
		mid := 0.5 * (lo + hi)
		switch x := guess * (1 + 0.4*narrow*(2*float64(turn)-1)); {
		case turn < 2 && x > lo && x < hi:
			mid = x
		}
		row, is, err := at(mid)
		if err != nil {
			return 0, 0, low, err
		}
		if is == shut {
			lo, low = mid, row
		} else {
			hi = mid
		}
	}
	if lo == from && lo > 0 {
		low, _, err = at(lo)
	}
	return lo, hi, low, err
}

// pumps is the pressure of all pumps without flow, Pa.
func (t *Table) pumps() float64 {
	sum := 0.0
	for i := range t.Layout.Parts {
		if t.Layout.Parts[i].Kind == KindPump {
			sum += t.Layout.Parts[i].Pump.Shutoff
		}
	}
	return sum
}

// PumpPower returns the electric power of all pumps of the coolant in W.
//
//	P = Σ P_i
//
//	P_i  electric power of a pump, W  [Pump.Power]
//
// Holds while the drive is switched on; that a pump takes less where little flows is left out.
//
// Source: own. Tests: TestTypedFlowsExact.
func (t *Table) PumpPower() float64 {
	sum := 0.0
	for i := range t.Layout.Parts {
		if t.Layout.Parts[i].Kind == KindPump {
			sum += t.Layout.Parts[i].Pump.Power
		}
	}
	return sum
}

// pattern says which lines are shut.
func pattern(s *CircuitState) string {
	b := make([]byte, len(s.Lines))
	for i := range s.Lines {
		b[i] = 'o'
		if s.Lines[i].Shut != "" {
			b[i] = 'x'
		}
	}
	return string(b)
}

// row reads the columns off a state.
// Flows stand in it by the jet's velocity, since they go about with it.
func (t *Table) row(s *CircuitState, v float64) (r [columns]float64) {
	per := 1.0
	if !t.still() && v > 0 {
		per = 1 / v
	}
	l := t.Layout
	r[colFlow] = math.Max(0, s.Flow) * per
	for i := range l.Circuit.Taps {
		tap := &l.Circuit.Taps[i]
		if tap.Pressure.Set {
			continue
		}
		for j := range l.Circuit.Lines {
			switch tap.Name {
			case l.Circuit.Lines[j].From:
				r[colTapped] += s.Lines[j].Flow * per
			case l.Circuit.Lines[j].To:
				r[colTapped] -= s.Lines[j].Flow * per
			}
		}
	}
	r[colTapped] = math.Max(0, r[colTapped])
	for _, x := range [...]struct {
		at   spot
		flow int
	}{{l.plate, colPlateFlow}, {l.jacket, colJacketFlow}, {l.keel, colKeelFlow}} {
		if x.at.part >= 0 {
			r[x.flow] = math.Abs(s.Lines[x.at.line].Flow) * per
		}
	}
	if l.Has(KindPlate) && l.Has(KindJacket) {
		r[colToJacket], r[colToPlate] = l.reaches(s, l.plate, l.jacket), l.reaches(s, l.jacket, l.plate)
	}
	r[colLowest] = math.Inf(1)
	for i := range s.Lines {
		for _, e := range s.Lines[i].Elements {
			r[colSpeed] = math.Max(r[colSpeed], math.Abs(e.Velocity))
		}
		if s.Lines[i].Shut == "" {
			r[colLowest] = math.Min(r[colLowest], s.Lines[i].Lowest)
		}
	}
	if math.IsInf(r[colLowest], 1) {
		r[colLowest] = t.Operating.AirPressure
	}
	r[colSpeed] *= per
	return r
}

// still tells that the flow does not go with the jet.
func (t *Table) still() bool { return len(t.Layout.Circuit.Taps) == 0 || t.perKinetic <= 0 }

// reaches is the share of the heat that the coolant takes up at one part and brings to another's inlet. Where nothing flows the
// order of the parts decides.
func (l *Layout) reaches(s *CircuitState, from, to spot) float64 {
	share := func(line, element int) (behind bool) { return line == from.line && element > from.element }
	if from.line == to.line {
		q := s.Lines[from.line].Flow
		if ahead := share(to.line, to.element); ahead == (q >= 0) {
			return 1
		}
		if !l.Closed {
			return 0
		}
	}
	heat := map[string]float64{} // at each place, share of the heat by unit of flow
	lines := l.Circuit.Lines
	flows := make([]float64, len(lines))
	still := true
	for i := range lines {
		flows[i] = s.Lines[i].Flow
		still = still && flows[i] == 0
	}
	if still {
		for i := range flows {
			flows[i] = 1
		}
	}
	arrives := 0.0
	for range 2*len(lines) + 2 {
		in := map[string]float64{}
		out := map[string]float64{}
		arrives = 0
		for i := range lines {
			a, b := lines[i].From, lines[i].To
			q := flows[i]
			if q < 0 {
				a, b, q = b, a, -q
			}
			if q == 0 {
				continue
			}
			carried := q * heat[a]
			keel := l.keel.part >= 0 && l.keel.line == i
			ahead := func(x spot) bool { // the keel plate lies ahead of a part of its line
				return keel && (l.keel.element < x.element) == (flows[i] >= 0)
			}
			if to.line == i && to.part >= 0 {
				arrives = carried
				if ahead(to) {
					arrives = 0
				}
			}
			if keel {
				carried = 0
			}
			if from.line == i {
				if !keel || ahead(from) {
					carried++
				}
			}
			in[b] += carried
			out[b] += q
		}
		for b, q := range out {
			heat[b] = in[b] / q
		}
	}
	return math.Min(1, arrives)
}

// Curve returns the flow that is taken from the jet by its velocity, m³/s by m/s, over that velocity; nil where none is.
func (t *Table) Curve() *numeric.Polyline { return t.curve }

// between is the row at a velocity of the jet.
func (t *Table) between(v float64) (row [columns]float64) {
	i := numeric.Piece(t.v, v)
	a, b := &t.rows[i], &t.rows[i+1]
	u := (v - t.v[i]) / (t.v[i+1] - t.v[i])
	for k := range row {
		row[k] = a[k] + u*(b[k]-a[k])
	}
	if !t.still() {
		for k := range fromRest {
			row[k] *= v
		}
	}
	return row
}

// At returns what the coolant does at a velocity of the jet and of the craft, m/s.
//
//	R = 1/[C·(1 − e^(−hA/C))] − 1/(2C),  r = 1/[C_k·(e^(U/C_k) − 1)],  1/U = 1/hA_k + 1/G_k
//
//	C     heat carried away by degree past a part, W/K: ρ·c·Q and the still loss
//	hA    conductance from the part's wall to the coolant, W/K
//	C_k   ρ·c·Q of the coolant behind the keel plate, W/K
//	G_k   conductance from the plate's inner face to the water outside, W/K
//
// Holds for walls of one temperature. R is so defined that the wall lies R and half the coolant's own rise above the
// part's inlet; without flow all heat goes by the still loss, of which parts side by side have half each.
//
// Source: incropera-2007. Tests: TestStreamsExact.
func (t *Table) At(jet, craft float64) Streams {
	row := t.between(jet)
	return t.streams(&row, craft)
}

func (t *Table) streams(row *[columns]float64, craft float64) Streams {
	perFlow := t.Fluid.Density * t.Fluid.SpecificHeat
	l := t.Layout
	s := Streams{
		Flow: row[colFlow], Tapped: row[colTapped], PlateToCoolant: t.setting.Cooling.PlateToCoolant, JacketToCoolant: t.setting.Cooling.JacketToCoolant,
		ToJacket: 1,
	}
	still := t.setting.StillLoss
	s.Carried = s.Flow*perFlow + still
	s.PlateRate, s.JacketRate = s.Carried, s.Carried
	if t.setting.Cooling.First == "motor" {
		s.ToJacket, s.ToPlate = 0, 1
	}
	if l.Has(KindPlate) && l.Has(KindJacket) {
		s.ToJacket, s.ToPlate = row[colToJacket], row[colToPlate]
	}
	if t.parallel {
		still *= 0.5
	}
	if l.Has(KindPlate) {
		s.PlateRate = row[colPlateFlow]*perFlow + still
		s.PlateToCoolant = wallToMean(t.wall(0, row[colPlateFlow]), s.PlateRate)
	}
	if l.Has(KindJacket) {
		s.JacketRate = row[colJacketFlow]*perFlow + still
		s.JacketToCoolant = wallToMean(t.wall(1, row[colJacketFlow]), s.JacketRate)
	}
	if rate := row[colKeelFlow] * perFlow; rate > 0 {
		outside := l.Parts[l.keel.part].Keel.Plate.Outside(craft, t.Fluid)
		u := 1 / (1/t.wall(2, row[colKeelFlow]) + 1/outside)
		s.Return = 1 / (rate * math.Expm1(math.Min(u/rate, mixedEnd)))
	}
	return s
}

// wall is the conductance from the wall of a part to its coolant at a flow in m³/s, W/K.
func (t *Table) wall(part int, flow float64) float64 {
	g, _, _ := t.walls[part].At(flow)
	return g
}

// Reynolds numbers between which a channel's conductance is tabulated, the points for each factor of ten, and those while laminar
// flow goes over.
const (
	wallLow, wallHigh       = 5.0, 5e5
	wallPoints, wallBetween = 40, 24
)

// wall tabulates the conductance from the channel's wall to its coolant in W/K over the flow in m³/s.
func (c *Channel) wall(w Fluid) (*numeric.Polyline, error) {
	const unit = 1e-4
	_, per := c.inside(unit, w)
	re := []float64{0}
	step := math.Pow(10, 1.0/wallPoints)
	for x := wallLow; x < wallHigh; x *= step {
		if x < laminarEnd || x > turbulentStart {
			re = append(re, x)
			continue
		}
		for k := range wallBetween + 1 {
			re = append(re, laminarEnd+(turbulentStart-laminarEnd)*float64(k)/wallBetween)
		}
		for x*step < turbulentStart {
			x *= step
		}
	}
	flow, g := make([]float64, len(re)), make([]float64, len(re))
	for i, x := range re {
		flow[i] = x / per * unit
		g[i] = c.Transfer(flow[i], w).Conductance
	}
	return numeric.NewPolyline(flow, g)
}

func wallToMean(conductance, rate float64) float64 {
	return 1/(rate*Effectiveness(conductance/rate)) - 0.5/rate
}

// CoolantState is the typed circuit at an operating point.
type CoolantState struct {
	Pressure       float64 `unit:"kPa" doc:"pressure that drives the coolant: the highest tap's over the water's surface, and all pumps'"`
	Velocity       float64 `unit:"m/s" doc:"velocity of the coolant where it is fastest"`
	Lowest         float64 `unit:"kPa" doc:"lowest absolute pressure at a high point of the coolant's way"`
	PlateFlow      float64 `unit:"L/min" doc:"coolant past the controller's plate"`
	JacketFlow     float64 `unit:"L/min" doc:"coolant past the motor's jacket"`
	PlateReynolds  float64 `unit:"1" doc:"Reynolds number in the plate; below 2300 the coolant is laminar"`
	JacketReynolds float64 `unit:"1" doc:"Reynolds number in the jacket; below 2300 the coolant is laminar"`
	PlateTransfer  float64 `unit:"W/(m²·K)" doc:"heat transfer coefficient in the plate"`
	JacketTransfer float64 `unit:"W/(m²·K)" doc:"heat transfer coefficient in the jacket"`
	PlateToCoolant float64 `unit:"K/W" doc:"thermal resistance from the plate to the coolant's mean"`
	JacketCoolant  float64 `key:"jacket_to_coolant" unit:"K/W" doc:"thermal resistance from the jacket to the coolant's mean"`
	ThrustLost     float64 `unit:"N" doc:"thrust that the coolant would have given through the nozzle"`
	MomentumDrag   float64 `unit:"N" doc:"drag of taking the coolant along with the craft"`
	PowerLost      float64 `unit:"W" doc:"hydraulic power that the coolant has had from the pump"`
	PumpPower      float64 `unit:"W" doc:"electric power of the coolant's own pumps"`
}

// State returns the circuit at a velocity of the jet and of the craft, m/s.
func (t *Table) State(jet, craft float64) CoolantState {
	row := t.between(jet)
	streams := t.streams(&row, craft)
	s := CoolantState{
		PumpPower: t.PumpPower(), Pressure: t.Driving(jet), Velocity: row[colSpeed], Lowest: row[colLowest],
		PlateFlow: streams.Flow, JacketFlow: streams.Flow, PlateToCoolant: streams.PlateToCoolant, JacketCoolant: streams.JacketToCoolant,
	}
	for _, x := range [...]struct {
		at                    spot
		column                int
		flow, reynolds, trans *float64
	}{{t.Layout.plate, colPlateFlow, &s.PlateFlow, &s.PlateReynolds, &s.PlateTransfer}, {t.Layout.jacket, colJacketFlow, &s.JacketFlow, &s.JacketReynolds, &s.JacketTransfer}} {
		if x.at.part < 0 {
			continue
		}
		*x.flow = row[x.column]
		tr := t.Layout.Circuit.Lines[x.at.line].Elements[x.at.element].(*Channel).Transfer(*x.flow, t.Fluid)
		*x.reynolds, *x.trans = tr.Reynolds, tr.Coefficient
	}
	cost := NewTapCost(t.Fluid.Density, streams.Tapped, TapSpeeds{Jet: jet, Craft: craft}, t.Driving(jet))
	s.ThrustLost, s.MomentumDrag, s.PowerLost = cost.ThrustLost, cost.MomentumDrag, cost.PowerLost
	return s
}

// Driving returns the pressure that drives the coolant at a velocity of the jet in m/s, Pa.
//
//	p = max(c·ρ·v²/2, p_tap) + Σ p_pump
//
//	c       pressure of the highest tap over that of the jet's speed, -
//	p_tap   measured pressure of a tap; p_pump of a pump without flow, Pa
//
// Holds before the coolant flows.
//
// Source: own. Tests: TestFillingExact.
func (t *Table) Driving(jet float64) float64 {
	return math.Max(t.perKinetic*t.Fluid.Density/2*jet*jet, t.fixed) + t.pumps()
}

// Solve returns the whole circuit, element by element, at a velocity of the jet in m/s.
func (t *Table) Solve(jet float64) (CircuitState, error) {
	o := t.Operating
	o.Kinetic = t.Fluid.Density / 2 * jet * jet
	return t.Layout.Circuit.Solve(o, t.Fluid)
}
