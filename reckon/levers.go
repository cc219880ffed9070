package reckon

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"jetwright/design"
	"jetwright/drive"
	"jetwright/quantity"
)

// How a practical step is counted.
type stepKind int8

const (
	ofItself stepKind = iota // a share of the number's own value
	ofRest                   // a share of what is left to an end that it cannot pass
	inWholes                 // whole pieces
	bySize                   // an amount in SI
	inWords                  // a choice, from the way it is to the next
)

// lever is a number that a builder can change, with a step that is practical for it. All steps are our
// own: what one evening or one order changes, no more.
type lever struct {
	path  string
	kind  stepKind
	step  float64
	ways  int     // 1 up only, -1 down only, 0 both
	end   float64 // that ofRest goes towards
	craft bool    // a typed tolerance says how far workmanship can move it, and narrows the step
	work  string  // workshop, printer, order, bench
	how   string
	why   string // of the step's size
}

// levers are the only numbers that count as changeable. What belongs to water, duty, craft and stand does
// not, nor what no figure of a state depends on.
var levers = []lever{
	{"nozzle.diameter", ofItself, 0.02, 0, 0, false, "workshop", "bore the nozzle out, or make another", "2 % of bore is 4 % of area: more than a print or a lathe scatters, and still the same pump"},
	{"nozzle.loss", ofItself, 0.25, -1, 0, true, "workshop", "smooth the nozzle and round its entry", "sanding and filling take a quarter of a loss, seldom more"},
	{"nozzle.contraction", ofRest, 0.5, 1, 1, true, "workshop", "give the outlet a parallel land", "a land of a quarter of the bore takes about half of what the jet contracts"},
	{"intake.throat_area", ofItself, 0.05, 0, 0, false, "printer", "open or fill the intake throat", "5 % of area can be filed or filled without another intake"},
	{"intake.throat_area_ratio", ofItself, 0.05, 0, 0, false, "printer", "open or fill the intake throat", "5 % of area can be filed or filled without another intake"},
	{"intake.width", ofItself, 0.05, 0, 0, false, "printer", "widen or narrow the intake's opening", "5 % of width can be filed or filled without another intake"},
	{"intake.throat_loss", ofItself, 0.25, -1, 0, true, "workshop", "round the aft lip of the intake", "a lip that is rounded by hand takes a quarter of a loss"},
	{"intake.ingested_loss", ofItself, 0.2, -1, 0, true, "workshop", "fair the ramp and its edges", "fairing takes a fifth of a loss that is mostly the bend's"},
	{"intake.duct_loss", ofItself, 0.25, -1, 0, true, "workshop", "a smoother duct, a faired shaft", "joints filled and sanded, a sleeve on the shaft"},
	{"intake.grid_bar", ofItself, 0.25, -1, 0, false, "workshop", "thinner bars in the intake's grid", "a bar of half the weight is about a quarter thinner"},
	{"intake.grid_gap", ofItself, 0.15, 1, 0, false, "workshop", "wider gaps in the intake's grid, none that a hand or hair gets through", "one bar of seven taken out"},
	{"impeller.diameter", ofItself, 0.02, 0, 0, false, "printer", "print the impeller and its ring larger or smaller", "2 % of diameter is another print of the same drawing"},
	{"impeller.head_coefficient", ofItself, 0.05, 0, 0, false, "printer", "print blades with more or less pitch", "5 % of head is about 2 degrees of blade angle"},
	{"impeller.design_flow_ratio", ofItself, 0.05, 0, 0, false, "printer", "print blades for more or less flow", "5 % of flow is about 1 degree of blade angle at both edges"},
	{"impeller.efficiency", ofRest, 0.08, 1, 1, true, "workshop", "smooth the blades, sharpen their trailing edges, true the ring", "smoothing takes about a twelfth of what a printed pump loses"},
	{"impeller.installed_factor", ofRest, 0.25, 1, 1, true, "workshop", "even the inflow out: longer duct, faired shaft", "a quarter of what uneven inflow takes"},
	{"impeller.suction_specific_speed_3", ofItself, 0.05, 1, 0, true, "workshop", "thin and round the leading edges", "edges dressed by hand move the onset by some per cent"},
	{"shaft.seal_torque", ofItself, 0.25, -1, 0, true, "workshop", "softer or fewer seal lips, water-lubricated bearing eased", "one lip of several, or a lighter spring"},
	{"shaft.reduction", ofItself, 0.05, 0, 0, false, "order", "another pulley or gear", "one tooth in twenty"},
	{"shaft.reduction_efficiency", ofRest, 0.2, 1, 1, true, "workshop", "align the belt, thinner oil", "alignment takes a fifth of a loss"},
	{"motor.speed_constant", ofItself, 0.1, 0, 0, false, "order", "a motor of another winding", "windings of one size come a tenth apart"},
	{"motor.torque_constant", ofItself, 0.1, 0, 0, false, "order", "a motor of another winding", "windings of one size come a tenth apart"},
	{"motor.winding_resistance", ofItself, 0.1, -1, 0, false, "order", "a motor with more copper, shorter leads", "a tenth is one size of wire, or half the leads"},
	{"motor.no_load_current", ofItself, 0.1, -1, 0, true, "workshop", "lighter seals and bearings in the motor", "bearings and seals are about a tenth of it"},
	{"motor.winding_to_jacket", ofItself, 0.2, -1, 0, true, "workshop", "pot the winding, press the stator in with paste", "potting takes a fifth, often more"},
	{"controller.on_resistance", ofItself, 0.2, -1, 0, false, "order", "a controller with more transistors", "five in the place of four"},
	{"controller.switching_frequency", ofItself, 0.2, -1, 0, false, "bench", "set the controller's switching frequency lower", "one notch of most controllers"},
	{"controller.bridge_to_plate", ofItself, 0.2, -1, 0, true, "workshop", "better pad or paste under the bridge", "a thinner pad takes a fifth"},
	{"battery.series", inWholes, 1, 0, 0, false, "order", "a cell more or less in series", "no less than one cell"},
	{"battery.parallel", inWholes, 1, 0, 0, false, "order", "a cell more or less in parallel", "no less than one cell in each group"},
	{"battery.cell_resistance", ofItself, 0.2, -1, 0, false, "order", "cells of a stronger type", "types of one size come a fifth apart"},
	{"battery.cell_capacity", ofItself, 0.1, 1, 0, false, "order", "cells of more capacity", "types of one size come a tenth apart"},
	{"battery.charge", ofRest, 0.5, 1, 1, false, "bench", "charge the battery further before the start", "half of what is missing"},
	{"battery.joint_resistance", ofItself, 0.25, -1, 0, true, "workshop", "double the bars in the pack", "a second bar on the longest joints"},
	{"battery.wiring_resistance", ofItself, 0.25, -1, 0, true, "workshop", "shorter or thicker cable, fewer connectors", "one size of cable"},
	{"battery.cable_area", ofItself, 0.5, 1, 0, false, "workshop", "thicker cable", "one size of cable is about half as much again"},
	{"battery.connector_resistance", ofItself, 0.25, -1, 0, true, "workshop", "better or fewer connectors", "one connector of four"},
	{"cooling.tap_diameter", ofItself, 0.15, 0, 0, false, "workshop", "a wider or narrower hose and tap", "hoses come in steps of about a millimetre"},
	{"cooling.loss_coefficient", ofItself, 0.25, -1, 0, true, "workshop", "shorter hoses, fewer bends", "one bend or fitting of four"},
	{"cooling.plate_to_coolant", ofItself, 0.2, -1, 0, true, "workshop", "more surface or flow in the controller's plate", "a fifth by more or narrower channels"},
	{"cooling.jacket_to_coolant", ofItself, 0.2, -1, 0, true, "workshop", "more surface or flow in the motor's jacket", "a fifth by more or narrower channels"},
}

const degree = math.Pi / 180

// bladeLevers are those of blades that are drawn.
var bladeLevers = []lever{
	{"impeller.tip_gap", ofItself, 0.25, -1, 0, true, "workshop", "bore a new ring closer to the tips, and true", "a quarter of a gap is what a bored ring gains on a printed one"},
	{"impeller.leading_radius", ofItself, 0.3, -1, 0, true, "workshop", "dress the impeller's leading edges", "a third off an edge is an hour with file and template"},
	{"impeller.trailing_radius", ofItself, 0.3, -1, 0, true, "workshop", "thin the impeller's trailing edges from the side of low pressure", "a third off an edge is an hour with file and template"},
	{"stator.leading_radius", ofItself, 0.3, -1, 0, true, "workshop", "dress the stator's leading edges", "a third off an edge is an hour with file and template"},
	{"stator.trailing_radius", ofItself, 0.3, -1, 0, true, "workshop", "thin the stator's trailing edges", "a third off an edge is an hour with file and template"},
	{"impeller.inlet_angle_offset", bySize, degree, 0, 0, false, "printer", "print the impeller's leading edges steeper or flatter, all along the span", "a degree is twice what a print is off by"},
	{"impeller.outlet_angle_offset", bySize, degree, 0, 0, false, "printer", "print the impeller's trailing edges steeper or flatter, all along the span", "a degree is twice what a print is off by"},
	{"stator.inlet_angle_offset", bySize, degree, 0, 0, false, "printer", "print the stator's leading edges steeper or flatter, all along the span", "a degree is twice what a print is off by"},
	{"stator.outlet_angle_offset", bySize, degree, 0, 0, false, "printer", "print the stator's trailing edges steeper or flatter, all along the span", "a degree is twice what a print is off by"},
	{"impeller.chord_factor", ofItself, 0.05, 0, 0, false, "printer", "print the impeller's blades longer or shorter", "5 % of chord is another print of the same drawing"},
	{"stator.chord_factor", ofItself, 0.05, 0, 0, false, "printer", "print the stator's blades longer or shorter", "5 % of chord is another print of the same drawing"},
	{"impeller.thickness_factor", ofItself, 0.1, -1, 0, false, "printer", "print the impeller's blades thinner, if their roots bear it", "a tenth is one line of most printers' nozzles"},
	{"stator.thickness_factor", ofItself, 0.1, -1, 0, false, "printer", "print the stator's blades thinner", "a tenth is one line of most printers' nozzles"},
	{"impeller.blades", inWholes, 1, 0, 0, false, "printer", "print the impeller with another number of blades", "the next number that shares no factor with the stator's"},
	{"stator.blades", inWholes, 1, 0, 0, false, "printer", "print the stator with another number of blades", "the next number that shares no factor with the impeller's"},
	{"impeller.roughness", ofItself, 0.5, -1, 0, true, "workshop", "sand or fill the impeller's blades", "each finer paper about halves what is left"},
	{"stator.roughness", ofItself, 0.5, -1, 0, true, "workshop", "sand or fill the stator's blades", "each finer paper about halves what is left"},
}

// spots are the places of the span that an angle is changed at by itself.
var spots = []struct {
	name string
	at   func(sections int) int
}{
	{"hub", func(int) int { return 0 }}, {"middle", func(n int) int { return n / 2 }}, {"tip", func(n int) int { return n - 1 }},
}

// finer are the surfaces that a surface can be made into.
var finer = map[string][]struct{ to, how, why string }{
	"printed": {{"sanded", "sand", "layer lines of 50 to 200 µm leave 10 to 40"}, {"filled", "fill and sand", "a filled surface is down at 2 to 8 µm"}},
	"sanded":  {{"filled", "fill and sand", "a filled surface is down at 2 to 8 µm"}},
}

// craftLevers are those of the craft, where the aim is a ride.
var craftLevers = []lever{
	{"craft.mass", ofItself, 0.05, -1, 0, false, "workshop", "a lighter craft: lay-up, lids, battery case", "a twentieth can be left out without another hull"},
	{"craft.gravity_centre", ofItself, 0.05, 0, 0, false, "bench", "stand further forward or aft, move the battery", "5 % is half a foot's length"},
	{"craft.beam", ofItself, 0.04, 0, 0, false, "workshop", "a wider or narrower bottom between its edges", "4 % can be planed off or laid on"},
	{"craft.deadrise", ofItself, 0.3, 0, 0, false, "workshop", "a flatter or more veed bottom", "a degree or so of filler"},
	{"craft.roughness", ofItself, 0.5, -1, 0, true, "workshop", "sand and polish the bottom", "wet paper to grain 600 halves what a brush leaves"},
	{"craft.appendages", ofItself, 0.3, -1, 0, true, "workshop", "smaller or thinner fins", "a third of a fin can go before it slides"},
	{"craft.drag_area", ofItself, 0.2, -1, 0, false, "bench", "crouch at speed", "knees bent take a fifth, more is a posture of its own"},
	{"craft.thrust_height", ofItself, 0.3, 0, 0, false, "printer", "a nozzle that sits higher or lower", "some centimetres"},
}

// coolantLevers are those of the parts of [[coolant]], by kind and key.
var coolantLevers = map[string][]lever{
	"hose": {
		{"bore", ofItself, 0.15, 0, 0, false, "workshop", "a hose of another bore", "hoses come in steps of about a millimetre"},
		{"length", ofItself, 0.25, -1, 0, false, "workshop", "a shorter hose", "a quarter is what a straighter way saves"},
	},
	"fitting": {{"bore", ofItself, 0.15, 0, 0, false, "order", "a fitting of another bore", "fittings come in steps of about a millimetre"}},
	"plate":   {{"passages", inWholes, 1, 1, 0, false, "workshop", "one passage more in the controller's plate", "no less than one"}},
	"jacket":  {{"passages", inWholes, 1, 1, 0, false, "workshop", "one passage more in the motor's jacket", "no less than one"}},
}

// unrankable are numbers that a builder changes and that no figure of a state depends on yet.
var unrankable = map[string]string{
	"impeller.tip_gap": "no figure depends on the gap: its leakage is within the assumed pump efficiency until blade sections are typed (jetwright blades --design)",
	"impeller.blades":  "no figure depends on the number of blades until blade sections are typed",
	"stator.blades":    "no figure depends on the number of blades until blade sections are typed",
}

// Move is a lever in one direction on one design.
type Move struct {
	Path     string
	Field    quantity.Field
	Up       bool
	Whole    bool    // counted in pieces: it has no derivative
	From, To float64 // of the machine that is ranked, SI
	Narrowed bool    // the step is narrowed by the typed tolerance
	Work     string  // workshop, printer, order, bench
	How, Why string

	Words  [2]string // from and to of a choice
	Coarse bool      // each part of the step is a pump of its own: no derivative is taken

	kind      stepKind
	step, end float64
	part      int // number of the [[coolant]] from 1; 0 of the drive's own
	element   int // number in a list from 1; 0 of a number
}

// at returns the number that a part t of the step makes of x; 1 is the whole step.
func (m *Move) at(x, t float64) float64 {
	switch m.kind {
	case ofRest:
		return x + t*m.step*(m.end-x)
	case inWholes:
		return x + math.Round(t)*m.step
	case bySize:
		return x + t*m.step
	}
	return x * (1 + t*m.step)
}

// apply changes a drive by a part of the step, from the drive's own number.
func (m *Move) apply(d *drive.Drive, t float64) {
	if m.part > 0 {
		d.Coolant = slices.Clone(d.Coolant)
		p := &d.Coolant[m.part-1]
		x, _ := design.CoolantSchema().Get(p, m.Field)
		design.CoolantSchema().Set(p, m.Field, m.at(x, t))
		return
	}
	schema := design.Schema()
	switch {
	case m.kind == inWords:
		if t > 0.5 {
			schema.SetText(d, m.Field, m.Words[1])
		}
	case m.element > 0:
		list, _ := schema.List(d, m.Field)
		list[m.element-1] = m.at(list[m.element-1], t)
		schema.SetList(d, m.Field, list)
	default:
		x, _ := schema.Get(d, m.Field)
		schema.Set(d, m.Field, m.at(x, t))
	}
}

// bladeMoves lists what can be changed of drawn blades.
func bladeMoves(d *design.Design, at *drive.Machine) (list []Move) {
	schema := design.Schema()
	dr := &at.Drive
	rows := []string{"impeller", "stator"}
	if !dr.StatorBladed {
		rows = rows[:1]
	}
	numbers := map[string]int{"impeller.blades": dr.Impeller.Blades, "stator.blades": dr.Stator.Blades}
	for _, l := range bladeLevers {
		f, ok := schema.Lookup(l.path)
		x, known := schema.Get(dr, f)
		if !ok || !known || d.Idle(l.path) || x == 0 && l.kind != bySize || strings.HasPrefix(l.path, "stator.") && !dr.StatorBladed {
			continue
		}
		n, counted := numbers[l.path]
		for _, m := range ways(d, l, f, x) {
			if counted {
				other := numbers[map[string]string{"impeller.blades": "stator.blades", "stator.blades": "impeller.blades"}[l.path]]
				way := int(math.Round(m.step))
				to := n + way
				for dr.StatorBladed && to > 2 && !drive.NoCommonFactor(to, other) {
					to += way
				}
				if to < 2 {
					continue
				}
				m.step = float64(to - n)
				m.To = m.at(x, 1)
			}
			m.Coarse = !at.BladesKnow(l.path)
			list = append(list, m)
		}
	}
	for _, row := range rows {
		for _, edge := range []struct{ key, name string }{{"inlet_angle", "leading"}, {"outlet_angle", "trailing"}} {
			f, ok := schema.Lookup(row + "." + edge.key)
			angles, known := schema.List(dr, f)
			if !ok || !known || len(angles) < len(spots) {
				continue
			}
			for _, s := range spots {
				i := s.at(len(angles))
				l := lever{
					fmt.Sprintf("%s.%s[%d]", row, edge.key, i), bySize, degree, 0, 0, false, "printer",
					fmt.Sprintf("print the %s's %s edges a degree steeper or flatter at the %s", row, edge.name, s.name), "a degree is twice what a print is off by; the sections beside it stay",
				}
				for _, m := range ways(d, l, f, angles[i]) {
					m.element, m.Coarse = i+1, true
					list = append(list, m)
				}
			}
		}
		path := row + ".surface"
		f, ok := schema.Lookup(path)
		now, known := schema.Text(dr, f)
		if !ok || !known || d.Idle(path) || d.Idle(row+".roughness_place") {
			continue
		}
		for _, k := range finer[now] {
			list = append(list, Move{
				Path: path, Field: f, Up: true, Work: "workshop", How: k.how + " the " + row + "'s blades, edges and angles as they are", Why: k.why, Words: [2]string{now, k.to}, Coarse: true, kind: inWords,
			})
		}
	}
	return list
}

// ways makes a lever's moves, one a direction.
func ways(d *design.Design, l lever, f quantity.Field, x float64) (list []Move) {
	for _, way := range []int{1, -1} {
		if l.ways == -way {
			continue
		}
		m := Move{Path: l.path, Field: f, Up: way > 0, Whole: l.kind == inWholes, Work: l.work, How: l.how, Why: l.why, kind: l.kind, step: l.step, end: l.end, From: x}
		if l.kind != ofRest {
			m.step *= float64(way)
		}
		m.To = m.at(x, 1)
		if v, ok := d.Value(l.path); ok && l.craft && v.Origin().Kind != quantity.Assumed && !v.IsExact() {
			if room := (v.High() - v.Low()) / 2; room < math.Abs(m.To-x) {
				m.step *= room / math.Abs(m.To-x)
				m.To, m.Narrowed = m.at(x, 1), true
			}
		}
		if f.Range != nil && !f.Range.Contains(m.To) || m.To == m.From {
			continue
		}
		list = append(list, m)
	}
	return list
}

// Unranked is a number that counts as changeable and cannot be ranked.
type Unranked struct{ Path, Why string }

// moves lists what can be changed of a machine, every direction a move of its own, with more levers than the usual ones.
func moves(d *design.Design, m *drive.Machine, more ...lever) (list []Move, left []Unranked) {
	schema := design.Schema()
	at := &m.Drive
	if m.Bladed() {
		list = bladeMoves(d, m)
	}
	for _, l := range slices.Concat(levers, more) {
		f, ok := schema.Lookup(l.path)
		x, known := schema.Get(at, f)
		if !ok || !known || x == 0 || d.Idle(l.path) || l.path == "motor.torque_constant" && at.Motor.SpeedConstant.Set {
			continue
		}
		if l.path == "shaft.reduction" && x == 1 {
			continue // there is none
		}
		list = append(list, ways(d, l, f, x)...)
	}
	for i := range at.Coolant {
		for _, l := range coolantLevers[at.Coolant[i].Kind] {
			l.path = fmt.Sprintf("coolant[%d].%s", i, l.path)
			f, ok := d.Field(l.path)
			x, known := design.CoolantSchema().Get(&at.Coolant[i], f)
			if !ok || !known || x == 0 {
				continue
			}
			for _, m := range ways(d, l, f, x) {
				m.part = i + 1
				list = append(list, m)
			}
		}
	}
	for _, path := range []string{"impeller.tip_gap", "impeller.blades", "stator.blades"} {
		if m.Bladed() {
			break
		}
		f, _ := schema.Lookup(path)
		if _, known := schema.Get(at, f); known {
			left = append(left, Unranked{path, unrankable[path]})
		}
	}
	if at.Impeller.Grade == "table" {
		left = append(left, Unranked{"impeller.table_head", "a typed pump table is what it is; another impeller is another table"})
	}
	return list, left
}
