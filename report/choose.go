package report

import (
	"fmt"
	"strings"

	"jetwright/desk"
	"jetwright/quantity"
)

// setName is a set of parts in a line.
func setName(s desk.PartSet) string { return s.Motor + ", " + s.Controller + ", " + s.Battery }

// left is what is left to a bound, or what is beyond it, with its bad end.
func left(l desk.SetLimit) string {
	t := fmt.Sprintf("%.0f %%", 100*l.Margin)
	if l.Margin < 0 {
		t = fmt.Sprintf("%.0f %% beyond", -100*l.Margin)
	}
	if fmt.Sprintf("%.0f", 100*l.Bad) != fmt.Sprintf("%.0f", 100*l.Margin) {
		t += fmt.Sprintf(" [%.0f %%]", 100*l.Bad)
	}
	return t
}

func (s Style) bound(l desk.SetLimit) string {
	sign := "at most "
	if l.Sense == quantity.AtLeast {
		sign = "at least "
	}
	return sign + s.rounded(l.Allowed, l.Unit)
}

func (p *page) choose(a *desk.ChooseAnswer) {
	p.heading("Which parts fit: " + desk.Describe(a.Condition))
	held := "no time is given, so steady temperatures stand and no energy is judged; give one with --held \"10 min\""
	if a.Time > 0 {
		held = fmt.Sprintf("held for %.3g min; the table's temperatures are steady ones", a.Time/60)
	}
	p.prose("  ", "  ", fmt.Sprintf("the impeller asks for %s at %s, %s at its shaft, in water at %s; %s", p.text(a.Torque), p.text(a.RotorSpeed), p.text(a.Power), p.rounded(a.WaterTemp, "°C"), held))
	if len(a.Own) > 0 {
		p.prose("  ", "  ", "the file lists no "+strings.Join(a.Own, " and no ")+"; the design's own stands for it")
	}
	p.line("  %s", p.interval(a.Draws))
	var rows [][]string
	for i, s := range a.Sets {
		r := []string{fmt.Sprint(i + 1), s.Fit.String(), s.Motor, s.Controller, s.Battery, "", "", "", "", ""}
		if s.Fit != desk.FitsNever {
			r[5], r[6] = p.text(s.BatteryPower), fmt.Sprintf("%.1f %%", 100*s.Efficiency.Value)
			r[7], r[8] = s.First.Name, left(s.First)
		} else {
			r[7] = "the battery does not pass it"
		}
		if a.Draws > 0 {
			r[9] = fmt.Sprintf("%.0f %%", 100*s.Keeps)
		}
		rows = append(rows, r)
	}
	head := []string{"", "", "motor", "controller", "battery", "battery power", "efficiency", "limits first", "left", "keeps all"}
	if a.Draws == 0 {
		head = head[:9]
		for i := range rows {
			rows[i] = rows[i][:9]
		}
	}
	p.grid(head, rows, 1, 7)
	p.prose("  ", "  ", "left is the share of the way to the bound, at the bad end in brackets; efficiency is from the battery's terminals to the impeller's shaft; keeps all is the share of drives that keep every limit which could be judged")
	if len(a.Steps) == 0 {
		p.prose("  ", "    ", "no duty.steps are typed in drive.toml, so nothing is judged over time: a short duty may stay cooler than the steady temperatures here")
	} else {
		p.prose("  ", "    ", "over time, from duty.steps: "+stepTexts(a.Steps)+"; nominal values. A set that does not last, or passes a temperature, does not fit; steady temperatures stand beside it")
	}
	for i, s := range a.Sets {
		p.set(i+1, s)
	}
}

// overDuty words a set over the duty's steps.
func (s Style) overDuty(c *desk.SetCourse) string {
	if c.None != "" {
		return "no course: " + c.None
	}
	text := c.Ending.String()
	if c.Short.Ever {
		text += fmt.Sprintf("; from %s on the voltage does not reach for what is asked", spoken(c.Short.Time))
	}
	if c.Limit == "" {
		return text
	}
	peak := fmt.Sprintf("%s %s of %s", c.Limit, s.text(c.Peak), s.rounded(c.Bound, "°C"))
	if c.Reached.Ever {
		return fmt.Sprintf("%s; %s, reached after %s: %s", text, peak, spoken(c.Reached.Time), c.Why)
	}
	return fmt.Sprintf("%s; nearest of the temperatures: %s, %.0f %% left", text, peak, 100*c.Left)
}

// set tells of one set what limits it, and what was not judged.
func (p *page) set(n int, s desk.PartSet) {
	p.heading(fmt.Sprintf("%d: %s: %s", n, setName(s), s.Fit))
	if s.Fit == desk.FitsNever {
		p.prose("  ", "    ", s.Why)
		return
	}
	say := func(lead string, l desk.SetLimit) {
		t := fmt.Sprintf("%s%s %s, %s", lead, l.Name, p.text(l.Shown), p.bound(l))
		if l.Margin < 0 {
			t += fmt.Sprintf(": %.0f %% beyond; %s", -100*l.Margin, l.Why)
			if len(l.Moves) > 0 {
				t += "; moved by " + strings.Join(l.Moves, ", ")
			}
		} else {
			t += fmt.Sprintf(": %.0f %% left", 100*l.Margin)
			if l.Bad < 0 {
				t += fmt.Sprintf(", %.0f %% beyond at the bad end", -100*l.Bad)
			}
		}
		p.prose("  ", "    ", t)
	}
	say("first: ", s.First)
	for _, l := range s.Beyond {
		say("also broken: ", l)
	}
	if len(s.Beyond) == 0 {
		for _, l := range s.Next {
			say("then: ", l)
		}
	}
	if s.Over != nil {
		p.prose("  over duty.steps: ", "    ", p.overDuty(s.Over))
		if s.Over.Keeps() && s.First.Margin < 0 && s.First.Unit == "°C" {
			p.prose("  ", "    ", "the temperature that is broken is the steady one; over the steps it is kept")
		}
	}
	if s.Usable > 0 {
		p.line("  the duty takes %s; the battery gives %s at that power", p.rounded(s.Energy, "Wh"), p.rounded(s.Usable, "Wh"))
	}
	var open []string
	for _, l := range s.NotJudged {
		open = append(open, l.Name+" ("+l.NotJudged+")")
	}
	if len(open) > 0 {
		p.prose("  ", "    ", "not judged: "+strings.Join(open, "; "))
	}
}

func (s Style) setLimit(l desk.SetLimit) object {
	o := object{{"limit", l.Name}, {"part", l.Part}}
	if l.NotJudged != "" {
		o.add("not_judged", l.NotJudged)
		return o
	}
	o.add(key("value", l.Shown.Unit), s.figure(l.Shown))
	o.add(key("allowed", l.Shown.Unit), s.exact(l.Allowed, l.Unit))
	o.add("margin", round(l.Margin, 4))
	o.add("margin_bad_end", round(l.Bad, 4))
	o.add("first_in_share_of_draws", l.FirstIn)
	o.add("why", l.Why)
	o.add("moves", append([]string{}, l.Moves...))
	return o
}

func (s Style) chooseObject(a *desk.ChooseAnswer) object {
	o := object{
		{"condition", s.condition(a.Condition)},
		{"torque_N_m", s.figure(a.Torque)},
		{"rotor_speed_rpm", s.figure(a.RotorSpeed)},
		{"shaft_power_at_impeller_W", s.figure(a.Power)},
		{"water_temperature_degC", s.exact(a.WaterTemp, "°C")},
		{"draws", a.Draws},
	}
	if a.Time > 0 {
		o.add("held_s", a.Time)
	}
	o.add("own_parts_stand_for", append([]string{}, a.Own...))
	limits := func(list []desk.SetLimit) []object {
		out := []object{}
		for _, l := range list {
			out = append(out, s.setLimit(l))
		}
		return out
	}
	sets := []object{}
	for i, x := range a.Sets {
		k := object{{"rank", i + 1}, {"fit", x.Fit.String()}, {"motor", x.Motor}, {"controller", x.Controller}, {"battery", x.Battery}}
		if a.Draws > 0 {
			k.add("keeps_all_share_of_draws", x.Keeps)
		}
		if x.Fit == desk.FitsNever {
			k.add("why", x.Why)
			sets = append(sets, k)
			continue
		}
		k.add("battery_power_W", s.figure(x.BatteryPower))
		k.add("efficiency", s.figure(x.Efficiency))
		k.add("first", s.setLimit(x.First))
		k.add("also_broken", limits(x.Beyond))
		k.add("then", limits(x.Next))
		k.add("not_judged", limits(x.NotJudged))
		if c := x.Over; c != nil {
			d := object{{"text", s.overDuty(c)}, {"keeps", c.Keeps()}}
			if c.None == "" {
				d.add("ends_s", round(c.Ending.Time, 5))
				d.add("charge_left", round(c.Ending.Charge, 4))
			}
			if c.Limit != "" {
				d.add("limit", c.Limit)
				d.add("peak_degC", s.figure(c.Peak))
				d.add("margin", round(c.Left, 4))
			}
			if c.Reached.Ever {
				d.add("reached_after_s", round(c.Reached.Time, 5))
			}
			k.add("over_duty_steps", d)
		}
		if x.Usable > 0 {
			k.add("energy_Wh", round(x.Energy/3600, 5))
			k.add("usable_energy_Wh", round(x.Usable/3600, 5))
		}
		sets = append(sets, k)
	}
	o.add("sets", sets)
	o.add("notices", notices(a.Notices))
	o.add("cautions", cautionTexts(a.Cautions))
	return o
}
