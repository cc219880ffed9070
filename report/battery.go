package report

import (
	"fmt"
	"strings"

	"jetwright/desk"
)

// battery writes what the battery gives and how it is wired.
func (p *page) battery(a *desk.BatteryAnswer) {
	p.heading(fmt.Sprintf("Battery: %d in series, %d side by side, %s", a.Series, a.Parallel, a.Class))
	p.line("  %s", p.interval(a.Draws))
	p.failed(a.Failed, a.Draws)
	var rows [][]string
	for _, f := range a.Build {
		rows = append(rows, []string{f.Doc, p.text(f)})
	}
	p.grid(nil, rows)
	p.prose("  ", "    ", capital(a.Touch)+".")
	p.batteryCold(a)
	p.batteryCharges(a)
	p.batteryUse(a)
	p.batteryRecovery(a)
	p.batteryWiring(a)
	p.limits(a.Limits, a.WaterTemp, a.Fine())
	p.notices(a.Notices)
	p.cautions(a.Cautions)
}

// batteryCells are the figures of a row; three dashes where the power is not passed.
func (p *page) batteryCells(r desk.BatteryRow) []string {
	out := []string{p.rounded(r.At.Value, r.At.Unit.Symbol), p.text(r.Rest), p.text(r.Resistance)}
	if r.Passes {
		out = append(out, p.text(r.Voltage), p.text(r.Weakest), p.text(r.Loss))
	} else {
		out = append(out, "breaks down", "", "")
	}
	return append(out, p.text(r.Most))
}

var batteryHead = []string{"at rest", "resistance", "under load", "weakest cell", "lost in it", "most, above the cut-off"}

func (p *page) batteryCold(a *desk.BatteryAnswer) {
	p.heading(fmt.Sprintf("Cold and warm, at its charge and %s at the terminals", p.about(a.Power, "W")))
	var rows [][]string
	for _, r := range a.Cold {
		rows = append(rows, append(p.batteryCells(r), p.text(r.Use.Energy), p.text(r.Use.Time)))
	}
	p.grid(append(append([]string{"cells"}, batteryHead...), "energy", "lasts"), rows)
	p.prose("  ", "    ", fmt.Sprintf("Steady voltages, of what %s takes; a cell's cut-off is %s. Energy and time are those at that power from the charge it has, the cells warming from where they begin.", desk.Describe(a.Condition), p.rounded(a.Cutoff, "V")))
	p.lost(a.Cold)
}

// lost says how many draws do not pass the power.
func (p *page) lost(rows []desk.BatteryRow) {
	for _, r := range rows {
		if r.Lost > 0 {
			p.line("  at %s %.0f %% of the draws break down before that power", p.rounded(r.At.Value, r.At.Unit.Symbol), 100*r.Lost)
		}
	}
}

func (p *page) batteryCharges(a *desk.BatteryAnswer) {
	p.heading(fmt.Sprintf("Over charge, at its temperature and %s", p.about(a.Power, "W")))
	var rows [][]string
	for _, r := range a.Charges {
		rows = append(rows, p.batteryCells(r))
	}
	p.grid(append([]string{"charge"}, batteryHead...), rows)
	p.lost(a.Charges)
}

func (p *page) batteryUse(a *desk.BatteryAnswer) {
	p.heading("Usable at a constant power, from its charge and temperature on")
	var rows [][]string
	for _, u := range a.Usable {
		rows = append(rows, []string{p.about(u.Power, "W"), p.text(u.Energy), p.text(u.Time), p.text(u.Charge), p.text(u.Cells), u.End})
	}
	p.grid([]string{"power", "energy", "lasts", "charge left", "cells then", "ends by"}, rows)
}

func (p *page) batteryRecovery(a *desk.BatteryAnswer) {
	p.heading("After a load")
	if !a.Relaxing {
		p.prose("  ", "    ", "How cells relax is not typed (battery.relaxation_fast_share, relaxation_fast_time, relaxation_slow_share, relaxation_slow_time): all of the sag comes and goes at once. That is on the safe side for a load of seconds and for the cut-off, and the voltage after a stop is too high for some minutes.")
		return
	}
	var rows [][]string
	for _, f := range a.Recovery {
		rows = append(rows, []string{f.Doc, p.text(f)})
	}
	p.grid(nil, rows)
	p.prose("  ", "    ", "After a load at the design point's current that has lasted for long; the charge is taken to stand still.")
}

func (p *page) batteryWiring(a *desk.BatteryAnswer) {
	p.heading("Between battery and controller")
	var rows [][]string
	for _, f := range a.Wiring {
		rows = append(rows, []string{f.Doc, p.text(f)})
	}
	p.grid(nil, rows)
	if len(a.Untyped) > 0 {
		p.prose("  ", "    ", "Not typed, so that nothing of it is judged: "+strings.Join(a.Untyped, "; ")+".")
	}
}

func (s Style) batteryObject(a *desk.BatteryAnswer) object {
	figures := func(list []desk.Figure) []object {
		out := []object{}
		for _, f := range list {
			out = append(out, object{{"what", f.Doc}, {key("value", f.Unit), s.figure(f)}})
		}
		return out
	}
	use := func(u desk.BatteryUse) object {
		return object{
			{"power_W", round(u.Power, 6)},
			{"energy_Wh", s.figure(u.Energy)},
			{"lasts_min", s.figure(u.Time)},
			{"charge_left_percent", s.figure(u.Charge)},
			{"cells_then_degC", s.figure(u.Cells)},
			{"ends_by", u.End},
		}
	}
	rows := func(list []desk.BatteryRow, name string) []object {
		out := []object{}
		for _, r := range list {
			o := object{
				{name, s.figure(r.At)},
				{"rest_voltage_V", s.figure(r.Rest)},
				{key("resistance", r.Resistance.Unit), s.figure(r.Resistance)},
				{"passes", r.Passes},
				{"most_power_above_cut_off_W", s.figure(r.Most)},
				{"draws_that_break_down", r.Lost},
			}
			if r.Passes {
				o.add("voltage_V", s.figure(r.Voltage))
				o.add("current_A", s.figure(r.Current))
				o.add("weakest_cell_V", s.figure(r.Weakest))
				o.add("pack_loss_W", s.figure(r.Loss))
			}
			if r.Use != nil {
				o.add("usable", use(*r.Use))
			}
			out = append(out, o)
		}
		return out
	}
	o := object{
		{"condition", s.condition(a.Condition)},
		{"draws", a.Draws},
		{"battery_power_W", round(a.Power, 6)},
		{"series", a.Series},
		{"parallel", a.Parallel},
		{"cells", a.Class},
		{"build", figures(a.Build)},
		{"touch", a.Touch},
		{"by_temperature", rows(a.Cold, "cells_degC")},
		{"by_charge", rows(a.Charges, "charge_percent")},
	}
	usable := []object{}
	for _, u := range a.Usable {
		usable = append(usable, use(u))
	}
	o.add("usable", usable)
	o.add("relaxation_typed", a.Relaxing)
	o.add("recovery", figures(a.Recovery))
	o.add("wiring", figures(a.Wiring))
	o.add("not_typed", append([]string{}, a.Untyped...))
	o.add("limits", s.limits(a.Limits))
	o.add("notices", notices(a.Notices))
	o.add("cautions", cautionTexts(a.Cautions))
	return o
}

// battery is the part of the web page.
func (b *binder) battery() []block {
	a := b.a.Battery
	if a == nil {
		return nil
	}
	return b.taken(func(p *page) {
		p.prose("  ", "    ", capital(a.Touch)+".")
		p.batteryCold(a)
		p.batteryUse(a)
		p.batteryRecovery(a)
		p.batteryWiring(a)
	}, true)
}
