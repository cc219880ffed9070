package reckon

import (
	"fmt"
	"math"
	"slices"

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
	"impeller.tip_gap": "no figure depends on the gap yet: its leakage is within the assumed pump efficiency",
	"impeller.blades":  "no figure depends on the number of blades yet: blade rows are not worked out",
	"stator.blades":    "no figure depends on the number of blades yet: blade rows are not worked out",
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

	kind      stepKind
	step, end float64
	part      int // number of the [[coolant]] from 1; 0 of the drive's own
}

// at returns the number that a part t of the step makes of x; 1 is the whole step.
func (m *Move) at(x, t float64) float64 {
	switch m.kind {
	case ofRest:
		return x + t*m.step*(m.end-x)
	case inWholes:
		return x + math.Round(t)*m.step
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
	x, _ := design.Schema().Get(d, m.Field)
	design.Schema().Set(d, m.Field, m.at(x, t))
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

// moves lists what can be changed of a machine's drive, every direction a move of its own, with more levers than the usual ones.
func moves(d *design.Design, at *drive.Drive, more ...lever) (list []Move, left []Unranked) {
	schema := design.Schema()
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
