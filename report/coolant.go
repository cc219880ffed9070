package report

import (
	"fmt"
	"math"

	"jetwright/desk"
)

// coolantColumns are the figures of a table over power or over clogging.
var coolantColumns = []struct{ path, label string }{
	{"heat.coolant_flow", "coolant flow"},
	{"coolant.velocity", "where fastest"},
	{"heat.coolant_outlet", "at its outlet"},
	{"heat.bridge_temperature", "bridge"},
	{"motor.winding_temperature", "winding"},
	{"jet.coolant_loss", "power it takes"},
	{"coolant.thrust_lost", "thrust it takes"},
}

// coolantCells are the figures of a state in the order of the columns that it has.
func (s Style) coolantCells(f desk.Figures) []string {
	var out []string
	for _, c := range coolantColumns {
		if g, ok := f.Lookup(c.path); ok {
			out = append(out, s.text(g))
		}
	}
	return out
}

func coolantHead(f desk.Figures, first string) []string {
	head := []string{first}
	for _, c := range coolantColumns {
		if _, ok := f.Lookup(c.path); ok {
			head = append(head, c.label)
		}
	}
	return head
}

// coolant writes the coolant's way.
func (p *page) coolant(a *desk.CoolantAnswer) {
	p.heading("Coolant at the design point: " + desk.Describe(a.Condition))
	p.line("  %s; steady, for water at %s", p.interval(a.Draws), p.about(a.WaterTemp, "°C"))
	p.failed(a.Failed, a.Draws)
	var rows [][]string
	for _, c := range []struct{ path, label string }{
		{"heat.coolant_flow", "coolant flow"},
		{"coolant.pressure", "pressure that drives it"},
		{"coolant.velocity", "velocity where it is fastest"},
		{"coolant.plate_transfer", "heat transfer in the plate"},
		{"coolant.plate_to_coolant", "plate to coolant"},
		{"coolant.jacket_transfer", "heat transfer in the jacket"},
		{"coolant.jacket_to_coolant", "jacket to coolant"},
		{"heat.coolant_outlet", "coolant at its outlet"},
		{"heat.bridge_temperature", "bridge"},
		{"heat.jacket_temperature", "jacket"},
		{"motor.winding_temperature", "winding"},
	} {
		if g, ok := a.Duty.Lookup(c.path); ok && (g.Value != 0 || c.path == "heat.coolant_flow") {
			rows = append(rows, []string{c.label, p.text(g)})
		}
	}
	p.grid(nil, rows)
	for _, x := range a.Shut {
		p.prose("  no flow in ", "    ", x)
	}
	if !a.Typed {
		p.prose("  ", "    ", "The coolant's way is not typed part by part: flow and resistances are those of [cooling] alone, and when it fills, what is lost where, and its conducting path are not judged. Type its parts as [[coolant]]; docs/keys.md lists them.")
	}
	p.coolantCost(a)
	if len(a.Elements) > 0 {
		p.heading("Part by part, nominal")
		rows = nil
		for _, e := range a.Elements {
			rows = append(rows, []string{e.Name, p.text(e.Flow), p.text(e.Velocity), p.text(e.Reynolds), e.Regime, p.text(e.Drop)})
		}
		p.grid([]string{"", "flow", "velocity", "Reynolds number", "", "pressure lost"}, rows, 3)
		if a.PumpPower.Value > 0 {
			p.prose("  ", "    ", fmt.Sprintf("The pump gives the coolant %s and takes %s from the battery; that stands in the ledger and is heat of the compartment's air on a march.", p.text(a.PumpPower), p.text(a.PumpTakes)))
		}
	}
	p.coolantFills(a)
	p.heading("Over power at the battery, at rest")
	rows = nil
	var notes []string
	head := coolantHead(a.Duty, "power")
	for _, pt := range a.Points {
		name := p.about(pt.Condition.Amount, "W")
		if pt.Why != "" {
			notes = append(notes, name+": "+pt.Why)
			continue
		}
		rows = append(rows, append([]string{name}, p.coolantCells(pt.State)...))
	}
	p.grid(head, rows)
	for _, n := range notes {
		p.prose("  ", "    ", n)
	}
	if !a.Closed {
		p.prose("  ", "    ", "With the jet off no coolant flows: what is hot then goes on warming what touches it, so cool the drive down at low power before it stops.")
	}
	p.coolantClogged(a)
	p.limits(a.Limits, a.WaterTemp, a.Fine())
	p.notices(a.Notices)
	p.cautions(a.Cautions)
}

func (p *page) coolantCost(a *desk.CoolantAnswer) {
	power, _ := a.Duty.Lookup("jet.coolant_loss")
	if a.Closed {
		p.prose("  ", "    ", "A closed loop takes no water from the jet and costs no thrust.")
		return
	}
	text := fmt.Sprintf("The coolant takes %s that the pump has put into it", p.text(power))
	if lost, ok := a.Duty.Lookup("coolant.thrust_lost"); ok {
		text += fmt.Sprintf(", and %s of thrust that it would have given through the nozzle", p.text(lost))
	}
	if drag, ok := a.Duty.Lookup("coolant.momentum_drag"); ok && drag.Value != 0 {
		text += fmt.Sprintf("; taking it along is a drag of %s", p.text(drag))
	}
	p.prose("  ", "    ", text+". The power is in the ledger and the state already.")
}

func (p *page) coolantFills(a *desk.CoolantAnswer) {
	f := a.Fills
	if f == nil {
		return
	}
	p.heading("First filling")
	say := func(first, then string, pressure, power desk.Figure, why string) {
		if pressure.Value == 0 {
			p.prose("  ", "    ", first+" nothing: no part lies above the water's surface.")
			return
		}
		text := fmt.Sprintf("%s %s at the tap or the pump", first, p.text(pressure))
		switch {
		case why != "":
			text += "; " + why
		case a.Closed || power.Value == 0:
			text += "; it is there at any power"
		default:
			text += fmt.Sprintf(", which is there from %s at the battery on, at rest", p.text(power))
		}
		p.prose("  ", "    ", text+". "+then)
	}
	say("To lift the water over the highest point takes", "Below it nothing flows until somebody fills the hoses by hand; up to a twentieth faster a jet the flow is not known.", f.Pressure, f.Power, f.Why)
	say("To drive air out of every fall as well takes", "Between the two an air lock may hold the coolant back: look for water at the outlet before every run.", f.AirLock, f.Cleared, f.WhyCleared)
}

func (p *page) coolantClogged(a *desk.CoolantAnswer) {
	if a.Narrowest == "" {
		return
	}
	p.heading(fmt.Sprintf("With %q clogged, at the design point", a.Narrowest))
	rows := [][]string{append([]string{"clean"}, p.coolantCells(a.Duty)...)}
	var notes []string
	for _, c := range a.Clogged {
		name := fmt.Sprintf("%.0f %% closed", 100*c.Closed)
		if c.Why != "" {
			notes = append(notes, name+": "+c.Why)
			continue
		}
		rows = append(rows, append([]string{name}, p.coolantCells(c.State)...))
	}
	p.grid(coolantHead(a.Duty, ""), rows)
	for _, n := range notes {
		p.prose("  ", "    ", n)
	}
	p.line("  it is the narrowest place, which weed and sand close first")
}

// coolantObject is the coolant's way as JSON.
func (s Style) coolantObject(a *desk.CoolantAnswer) object {
	o := object{
		{"interval", "90 %"},
		{"draws", a.Draws},
		{"condition", s.condition(a.Condition)},
		{"typed", a.Typed},
		{"closed_loop", a.Closed},
		{"water_temperature_degC", s.exact(a.WaterTemp, "°C")},
		{"state", s.coolantState(a.Duty)},
		{"draws_without_state", a.Failed},
	}
	if f := a.Fills; f != nil {
		fills := func(pressure, power desk.Figure, why string) object {
			x := object{{"pressure_kPa", s.figure(pressure)}}
			if why != "" {
				x.add("why_not", why)
			} else {
				x.add("battery_power_W", s.figure(power))
			}
			return x
		}
		o.add("first_filling", fills(f.Pressure, f.Power, f.Why))
		o.add("air_lock", fills(f.AirLock, f.Cleared, f.WhyCleared))
	}
	parts := make([]object, len(a.Elements))
	for i, e := range a.Elements {
		parts[i] = object{
			{"line", e.Line},
			{"name", e.Name},
			{key("flow", e.Flow.Unit), s.figure(e.Flow)},
			{key("velocity", e.Velocity.Unit), s.figure(e.Velocity)},
			{"reynolds", s.figure(e.Reynolds)},
			{"regime", e.Regime},
			{key("drop", e.Drop.Unit), s.figure(e.Drop)},
		}
	}
	o.add("parts", parts)
	if a.PumpPower.Value > 0 {
		o.add("pump_power_W", s.figure(a.PumpPower))
	}
	o.add("without_flow", append([]string{}, a.Shut...))
	points := make([]object, len(a.Points))
	for i, pt := range a.Points {
		points[i] = object{{"condition", s.condition(pt.Condition)}}
		if pt.Why != "" {
			points[i].add("why_not", pt.Why)
		} else {
			points[i].add("state", s.coolantState(pt.State))
		}
	}
	o.add("points", points)
	clogged := make([]object, len(a.Clogged))
	for i, c := range a.Clogged {
		clogged[i] = object{{"closed", c.Closed}, {"at", a.Narrowest}}
		if c.Why != "" {
			clogged[i].add("why_not", c.Why)
		} else {
			clogged[i].add("state", s.coolantState(c.State))
		}
	}
	o.add("clogged", clogged)
	ways := make([]object, len(a.Paths))
	for i, w := range a.Paths {
		ways[i] = object{{"part", w.Part}, {"voltage_V", s.exact(w.Voltage, "V")}}
		if math.IsInf(w.Resistance, 1) {
			ways[i].add("none", true)
			continue
		}
		ways[i].add("resistance_ohm", s.exact(w.Resistance, "Ω"))
		ways[i].add("current_A", s.exact(w.Current, "A"))
	}
	o.add("conducting_paths", ways)
	o.add("limits", s.limits(a.Limits))
	o.add("fine", a.Fine())
	o.add("notices", notices(a.Notices))
	o.add("cautions", cautionTexts(a.Cautions))
	return o
}

// coolantState are the figures of a state that have to do with the coolant.
func (s Style) coolantState(f desk.Figures) object {
	var out desk.Figures
	for _, g := range f.List {
		part, _, _ := cut(g.Path)
		switch {
		case part == "coolant", part == "heat", g.Path == "motor.winding_temperature", g.Path == "jet.coolant_loss", g.Path == "jet.jet_velocity", g.Path == "battery_power", g.Path == "thrust":
			out.List = append(out.List, g)
		}
	}
	return s.state(out)
}
