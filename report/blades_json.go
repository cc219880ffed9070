package report

import (
	"math"

	"jetwright/desk"
	"jetwright/drive"
)

// known writes a number that may not be known.
func known(x float64, digits int) any {
	if math.IsNaN(x) {
		return nil
	}
	return round(x, digits)
}

func (s Style) bladesObject(a *desk.BladesAnswer) object {
	o := object{{"condition", s.condition(a.Condition)}}
	if a.Designed != nil {
		s.designedObject(&o, a.Designed)
		var hold []object
		for _, h := range a.Holds {
			hold = append(hold, object{{"path", h.Path}, {"text", h.Text}})
		}
		o.add("to_hold", hold)
	} else {
		o.add("draws", a.Draws)
		s.workObject(&o, a)
	}
	o.add("notices", notices(a.Notices))
	o.add("cautions", cautionTexts(a.Cautions))
	return o
}

// degreeObject is what a degree at each edge moves.
func degreeObject(perDegree [4]float64) object {
	var o object
	for i, k := range []string{"impeller_leading", "impeller_trailing", "stator_leading", "stator_trailing"} {
		o.add(k, known(perDegree[i], 4))
	}
	return o
}

func deg(x float64) float64 { return round(x*180/math.Pi, 5) }

func (s Style) workObject(o *object, a *desk.BladesAnswer) {
	w := a.Work
	state := object{}
	jet, blades := object{}, object{}
	for _, f := range a.State.List {
		field, _ := desk.StateSchema().Lookup(f.Path)
		switch field.Section {
		case "jet":
			jet.add(field.JSONKey(), s.figure(f))
		case "blades":
			blades.add(field.JSONKey(), s.figure(f))
		}
	}
	state.add("rotor_speed_rpm", s.figure(a.State.Of("rotor_speed")))
	state.add("jet", jet)
	state.add("blades", blades)
	o.add("state", state)
	o.add("rows", s.rowObjects(w))
	var losses []object
	power := a.State.Of("jet.impeller_power").Value
	for _, l := range bladeLosses {
		f := a.State.Of(l.path)
		losses = append(losses, object{{"name", l.label}, {"path", l.path}, {"power_W", s.figure(f)}, {"share", round(f.Value/power, 4)}})
	}
	o.add("losses", losses)
	o.add("blades_alone", object{{"power_W", round(w.State.ShaftPower, 5)}, {"efficiency", round(w.State.Efficiency, 5)}, {"installed_over_alone", round(w.Installed, 5)}})
	sw := w.State.Swirl
	swirl := object{{"given_deg", deg(sw.GivenAngle)}, {"given_W", round(sw.Given, 5)}, {"recovered_W", round(sw.Recovered, 5)}, {"left_deg", deg(sw.LeftAngle)}, {"left_W", round(sw.Left, 5)}}
	var cases []object
	for _, c := range w.Swirl {
		k := object{{"name", c.Name}}
		if c.Reason != 0 {
			k.add("why", c.Reason.Error())
		} else {
			k = append(k, object{
				{"head_m", round(c.Head, 5)},
				{"efficiency", round(c.Efficiency, 5)},
				{"left_deg", deg(c.Swirl.LeftAngle)},
				{"left_W", round(c.Swirl.Left, 5)},
				{"jet_rim_deg", deg(c.Jet.Angle)},
				{"jet_W", round(c.Jet.Power, 5)},
				{"jet_thrust_lost_N", round(c.Jet.Thrust, 5)},
			}...)
		}
		cases = append(cases, k)
	}
	swirl.add("cases", cases)
	o.add("swirl", swirl)
	cav := object{{"eye_flow_coefficient", round(w.Cavitation.EyeFlow, 4)}, {"best_eye_flow_coefficient", round(w.Cavitation.BestEyeFlow, 4)}}
	var radii []object
	for _, r := range w.ByRadius {
		radii = append(radii, object{{"radius_mm", round(1e3*r.Radius, 5)}, {"number", round(r.Number, 4)}, {"onset", round(r.Onset, 4)}, {"breakdown", round(r.Breakdown, 4)}})
	}
	cav.add("by_radius", radii)
	o.add("cavitation", cav)
	var curve []object
	for i, c := range w.Curve {
		losses := object{}
		for _, l := range stack(c) {
			losses.add(l.name, round(l.power, 4))
		}
		x := object{
			{"flow_L_s", round(1e3*c.Flow, 5)},
			{"head_m", round(c.Head, 5)},
			{"asked_m", round(c.Asked, 5)},
			{"power_W", round(c.Power, 5)},
			{"efficiency", round(c.Efficiency, 5)},
			{"onset_npsh_m", round(c.Onset, 5)},
			{"breakdown_npsh_m", round(c.Breakdown, 5)},
			{"losses_W", losses},
		}
		if b := a.Bands[i]; a.Draws > 0 && !math.IsNaN(b.Head.Low) {
			x.add("head_90_m", []float64{round(b.Head.Low, 4), round(b.Head.High, 4)})
			x.add("efficiency_90", []float64{round(b.Efficiency.Low, 4), round(b.Efficiency.High, 4)})
		}
		if !math.IsNaN(w.OtherSpeed) {
			x.add("asked_other_m", round(c.AskedOther, 5))
		}
		curve = append(curve, x)
	}
	o.add("other_speed_m_s", known(w.OtherSpeed, 5))
	var flows []object
	for _, f := range a.Flows {
		flows = append(flows, object{{"speed_m_s", round(f.Speed, 5)}, {"flow_coefficient", round(f.FlowCoefficient, 5)}})
	}
	o.add("flow_coefficients", flows)
	o.add("curve", curve)
	o.add("holes", s.holeTexts(a))
	o.add("head_share_by_a_degree", degreeObject(w.PerDegree))
	trust := object{
		{"map_off_head", round(w.HeadOff, 3)},
		{"map_off_power", round(w.PowerOff, 3)},
		{"map_largest_error_head", round(w.HeadError, 3)},
		{"map_largest_error_power", round(w.PowerError, 3)},
		{"solves", w.Solves},
		{"half_speed_head", round(w.HalfSpeed[0], 3)},
		{"half_speed_efficiency", round(w.HalfSpeed[1], 3)},
		{"attainable_efficiency", []float64{round(min(w.Band[0], w.Band[1]), 3), round(max(w.Band[0], w.Band[1]), 3)}},
		{"diameter_over_best", round(w.Cordier, 3)},
	}
	var checks []object
	for i := range w.Checks {
		c := &w.Checks[i]
		x := object{{"at", s.checkText(c)}}
		if c.Reason != "" {
			x.add("why_not", c.Reason)
		} else {
			x.add("head", round(c.Head, 5))
			x.add("power", round(c.Power, 5))
		}
		checks = append(checks, x)
	}
	trust.add("map_against_full_solves", checks)
	for _, x := range a.Scatter {
		trust.add(x.Path, x.Text)
	}
	o.add("trust", trust)
	var doubts []string
	for _, n := range w.Doubts {
		doubts = append(doubts, n.Path+": "+n.What)
	}
	o.add("doubts", append([]string{}, doubts...))
}

func (s Style) rowObjects(w *drive.BladeWork) []object {
	var rows []object
	for i, r := range w.Rows() {
		var sections []object
		for j := range w.State.Radii {
			e := &r.State.Elements[j]
			blade, water := w.BladeAngles(i, j)
			triangle := func(t *drive.BladeTriangle) object {
				return object{{"blade_m_s", round(t.BladeSpeed, 5)}, {"meridional_m_s", round(t.Meridional, 5)}, {"tangential_m_s", round(t.Tangential, 5)}, {"relative_m_s", round(t.Relative, 5)}}
			}
			sections = append(sections, object{
				{"radius_mm", round(1e3*e.InletRadius, 5)},
				{"blade_inlet_deg", deg(blade[0])},
				{"water_inlet_deg", deg(water[0])},
				{"incidence_deg", deg(e.Incidence)},
				{"least_incidence_deg", deg(e.LeastIncidence)},
				{"blade_outlet_deg", deg(blade[1])},
				{"water_outlet_deg", deg(water[1])},
				{"deviation_Lieblein_deg", deg(e.LiebleinDeviation)},
				{"deviation_Carter_deg", deg(e.CarterDeviation)},
				{"solidity", round(e.Solidity, 4)},
				{"diffusion_factor", round(e.DiffusionFactor, 4)},
				{"equivalent_diffusion", round(e.EquivalentDiffusion, 4)},
				{"deceleration", round(e.Deceleration, 4)},
				{"lift", round(e.Lift, 4)},
				{"reynolds", round(e.Reynolds, 3)},
				{"roughness_ratio", round(e.RoughnessRatio, 3)},
				{"inlet", triangle(&e.Inlet)},
				{"outlet", triangle(&e.Outlet)},
			})
		}
		rows = append(rows, object{{"row", [2]string{"impeller", "stator"}[i]}, {"blades", r.Row.Blades}, {"stalled_share", round(r.State.StalledShare, 3)}, {"sections", sections}})
	}
	return rows
}

func (s Style) designedObject(o *object, d *drive.DesignedBlades) {
	*o = append(*o, object{
		{"head_m", round(d.Duty.Head, 5)},
		{"flow_L_s", round(1e3*d.Flow, 5)},
		{"rotor_speed_rpm", round(d.Speed*30/math.Pi, 5)},
		{"closure", round(d.Closure, 3)},
		{"expected_against_water", 0.08},
		{"efficiency", round(d.State.Efficiency, 4)},
		{"head_share_by_a_degree", degreeObject(d.PerDegree)},
		{"breakdown_npsh_m", round(d.Cavitation.BreakdownNPSH, 4)},
		{"suction_specific_speed_3", round(d.Cavitation.BreakdownSpeed, 4)},
		{"npsh_available_m", round(d.Available, 4)},
		{"cavitates", d.Cavitates()},
		{"largest_diffusion", d.Duty.Diffusion},
		{"least_thickness_mm", round(1e3*d.Duty.LeastThickness, 4)},
		{"least_flow_share", round(d.Least, 3)},
		{"sound", d.Reason == ""},
	}...)
	o.add("may_cavitate", d.MayCavitate())
	if d.Reason != "" {
		o.add("why", d.Reason)
	}
	var rows []object
	for i, r := range []*drive.BladeRow{&d.Pump.Impeller, &d.Pump.Stator} {
		if r.Blades == 0 {
			continue
		}
		k := object{{"row", [2]string{"impeller", "stator"}[i]}, {"blades", r.Blades}, {"start_mm", round(1e3*r.Start, 5)}}
		for _, l := range desk.SectionLists(r) {
			var list []float64
			for _, x := range l.List {
				list = append(list, round(l.Unit.FromSI(x), 5))
			}
			name := l.Key
			if !l.Unit.IsOne() {
				name += "_" + l.Unit.Symbol
			}
			k.add(name, list)
		}
		rows = append(rows, k)
	}
	o.add("rows", rows)
}

// lossOfPoint is a part of the power at a point of the curve, W.
type lossOfPoint struct {
	name  string
	power float64
}

// stack are the losses at a point of the curve, as they are stacked; with the power in the water they make the power at the impeller.
func stack(c drive.CurvePoint) []lossOfPoint {
	p := &c.Point
	l := &p.Loss
	return []lossOfPoint{
		{"blade friction", c.Unit * l.Profile},
		{"rough surfaces", c.Unit * l.Roughness},
		{"incidence", c.Unit * l.Incidence},
		{"blunt edges", c.Unit * l.Edges},
		{"tip gap", c.Unit * l.Gap},
		{"walls", c.Unit * (l.Annulus + p.Friction)},
		{"secondary flow", c.Unit * l.Secondary},
		{"leakage, mixing", c.Unit * (p.Leakage + p.Mixing)},
		{"swirl left", c.Unit * p.Swirl},
	}
}
