package report

import (
	"fmt"
	"strings"

	"jetwright/plan"
	"jetwright/quantity"
	"jetwright/reckon"
)

// reach says what holds the next step back, which limits are nearest there, where to stop and what it teaches.
func (p *page) reach(r *plan.Reach) {
	if r == nil {
		return
	}
	if r.By != "" {
		p.prose("  ", "    ", fmt.Sprintf("held back by the %s: %s", r.By, r.Why))
	}
	if len(r.Tight) > 0 {
		var words []string
		for _, k := range r.Tight {
			words = append(words, p.keptText(k))
		}
		at := "there"
		if r.Power == 0 {
			at = "at the power that has settled"
		}
		p.prose("  nearest limits "+at+": ", "    ", strings.Join(words, "; "))
		p.prose("  ", "    ", "limits of the hardware hold in 99 of 100 drives, by "+r.Sure+"; what can hurt people with every tolerance at its bad end")
	}
	if len(r.Open) > 0 {
		p.prose("  not judged, and so not held: ", "    ", strings.Join(r.Open, ", "))
	}
	if len(r.Stops) > 0 {
		var rows [][]string
		beyond := false
		for _, x := range r.Stops {
			rows = append(rows, p.stopCells(x))
			beyond = beyond || x.Beyond
		}
		p.grid([]string{"stop limits of that step", "expected", "stop", "since", "read by"}, rows)
		if beyond {
			p.prose("  ", "    ", "! the end of what is expected lies beyond the stop: come up to it slowly, and stop there")
		}
	}
	if r.Teach != nil {
		p.prose("  ", "    ", p.lesson(r.Teach))
	}
}

func (s Style) lesson(l *reckon.StepLesson) string {
	at := ""
	if l.Aim.Speed > 0 {
		at = " at " + s.rounded(l.Aim.Speed, "m/s")
	}
	return fmt.Sprintf("it is expected to narrow the thrust%s from %s at the battery from ± %.1f %% to ± %.1f %%", at, s.rounded(l.Aim.Amount, "W"), 100*l.Before, 100*l.After)
}

func (s Style) keptText(k plan.Kept) string {
	u := s.unit(unitOf(k.Unit))
	sign := "at most"
	if k.AtLeast {
		sign = "at least"
	}
	number := func(x float64) string { return quantity.Format(x, u) }
	return fmt.Sprintf("%s %s, %s at the bad end, %s %s", k.Name, number(k.Value), number(k.Bad), sign, number(k.Allowed))
}

// decisive says which test would close a claim that is open.
func (p *page) decisive(list []*reckon.Decisive, i int) {
	if i >= len(list) || list[i] == nil {
		return
	}
	p.prose("  cheapest decisive test: ", "    ", p.decisiveText(list[i]))
}

func (s Style) decisiveText(d *reckon.Decisive) string {
	if !d.Found {
		return d.Why
	}
	at := ""
	if d.Place != "" {
		at = " " + placed[d.Place]
	}
	by := "read as the highest step was,"
	if d.Fresh {
		by = "read by another scale (load cell, 0.2 % of full scale) and another power meter (calibrated shunt, 1 %),"
	}
	t := fmt.Sprintf("%s at %s%s, "+strings.ReplaceAll(by, "%", "%%")+" would close it in %.0f of 100 cases (%.0f of them as supported)", count(d.Repeats, "plateau"), s.rounded(d.Power, "W"), at, 100*d.Chance, 100*d.Held)
	if d.Fresh {
		t += "; with the instruments that have read so far none would, since they are off by the same again"
	}
	if d.New {
		return t + "; that is a step beyond what has settled"
	}
	return t + "; that is no more power than has settled before"
}

func (s Style) decisiveObject(d *reckon.Decisive) object {
	o := object{{"found", d.Found}}
	if d.Found {
		o.add("power_W", round(d.Power, 4))
		o.add("place", d.Place)
		o.add("plateaus", d.Repeats)
		o.add("beyond_settled_power", d.New)
		o.add("with_other_instruments", d.Fresh)
		o.add("chance", round(d.Chance, 3))
		o.add("chance_supported", round(d.Held, 3))
	}
	o.add("text", s.decisiveText(d))
	return o
}

func (s Style) addReach(o *object, r *plan.Reach) {
	if r == nil {
		return
	}
	o.add("rule_W", s.exact(r.Rule, "W"))
	o.add("held_back_by", r.By)
	if r.By != "" {
		o.add("held_back_because", r.Why)
	}
	list := []object{}
	for _, k := range r.Tight {
		u := unitOf(k.Unit)
		list = append(list, object{
			{"limit", k.Name},
			{key("nominal", u), s.exact(k.Value, k.Unit)},
			{key("bad_end", u), s.exact(k.Bad, k.Unit)},
			{key("allowed", u), s.exact(k.Allowed, k.Unit)},
			{"hazard", k.Hazard},
			{"margin", round(k.Left, 4)},
			{"margin_bad_end", round(k.Worse, 4)},
		})
	}
	o.add("nearest_limits", list)
	o.add("ninety_nine_per_cent_by", r.Sure)
	o.add("not_judged", append([]string{}, r.Open...))
	o.add("stops", s.stopObjects(r.Stops))
	if r.Teach != nil {
		o.add("teaches", object{{"text", s.lesson(r.Teach)}, {"thrust_half_width_before_pct", round(100*r.Teach.Before, 3)}, {"thrust_half_width_after_pct", round(100*r.Teach.After, 3)}})
	}
}
