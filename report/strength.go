package report

import (
	"fmt"
	"math"
	"strings"

	"jetwright/desk"
	"jetwright/drive"
)

// strength writes what holds the drive together.
func (p *page) strength(a *desk.StrengthAnswer) {
	p.heading("Strength at the design point: " + desk.Describe(a.Condition))
	p.line("  %s", p.interval(a.Draws))
	p.failed(a.Failed, a.Draws)
	p.shaftStrength(a)
	p.rotorStrength(a)
	p.materials(a.Work.Materials)
	p.limits(a.Limits, a.WaterTemp, a.Fine)
}

func (p *page) strengthFigures(list []desk.Figure) {
	var rows [][]string
	for _, f := range list {
		rows = append(rows, []string{f.Doc, p.text(f)})
	}
	p.grid(nil, rows)
}

func (p *page) shaftStrength(a *desk.StrengthAnswer) {
	w := a.Work
	p.heading("Shaft")
	if w.ShaftWhy != "" {
		p.prose("  ", "    ", "not worked out: "+w.ShaftWhy)
		return
	}
	p.strengthFigures(a.Shaft)
	var rows [][]string
	for _, s := range w.Sections {
		notch := s.Notch
		if notch == "" {
			notch = "not typed, as a key"
		}
		row := []string{s.Name, notch, p.rounded(s.Stress.Alternating, "MPa"), p.rounded(s.Stress.Mean, "MPa"), p.rounded(s.Strength.Fatigue, "MPa")}
		for _, f := range s.Factors {
			row = append(row, factorText(f))
		}
		rows = append(rows, append(row, p.rounded(s.Yield, "MPa")))
	}
	p.grid([]string{"place", "notch", "alternating", "mean", "fatigue strength", "Goodman", "Gerber", "ASME", "Soderberg", "jammed"}, rows, 3, 4, 5, 6, 7, 8, 9, 10)
	p.prose("  ", "    ", "Safety factors against fatigue at the nominal; limits are held to Goodman's. Stresses hold the notch's factor, by the distortion energy; jammed: while the impeller stands and the motor pulls all it can.")
	t := fmt.Sprintf("The first critical speed lies between %s (Dunkerley) and %s (Rayleigh), with the impeller of %s%s and %s of water moving with it.",
		p.rounded(w.Dunkerley, "rpm"), p.rounded(w.Rayleigh, "rpm"), p.rough(w.Mass, "kg"), p.estimatedText(w), p.rough(w.Carried, "kg"))
	t += fmt.Sprintf(" For the life asked for the front bearing needs C of %s", p.rough(w.NeededFront, "kN"))
	if w.NeededAft > 0 {
		t += fmt.Sprintf(", the aft one %s", p.rough(w.NeededAft, "kN"))
	}
	p.prose("  ", "    ", t+".")
}

func (p *page) estimatedText(w *drive.StrengthWork) string {
	switch {
	case !w.MassEstimated:
		return ""
	case w.DrawnMass > 0:
		return fmt.Sprintf(" (estimated; as drawn for export it has %s: weigh it and type impeller.mass)", p.rough(w.DrawnMass, "kg"))
	}
	return " (estimated: weigh it and type impeller.mass)"
}

// factorText writes a safety factor; one beyond a hundred says no more than that.
func factorText(x float64) string {
	switch {
	case math.IsNaN(x) || x <= 0:
		return ""
	case x >= 100:
		return "over 100"
	}
	return fmt.Sprintf("%.3g", x)
}

// bendsFrom is the share of its chord from which a tip that bends is said to.
const bendsFrom = 0.01

func (p *page) rotorStrength(a *desk.StrengthAnswer) {
	w := a.Work
	p.heading("Impeller, stator, casing")
	if w.BladeWhy != "" {
		p.prose("  ", "    ", "blades not worked out: "+w.BladeWhy)
	}
	p.strengthFigures(a.Rotor)
	if w.BladeWhy != "" {
		return
	}
	var said []string
	if w.Sectioned {
		said = append(said, fmt.Sprintf("The blades solved section by section put %.2f of the mean line's axial and %.2f of its tangential moment on the root; limits stand on the mean line's.", w.SectionAxial, w.SectionTangent))
	} else {
		said = append(said, "Loads are those of a mean line: a pressure that is the same at all radii and a free vortex. They say how large a blade's load is, not how it is spread.")
	}
	if w.Reversed {
		said = append(said, "The blade is wider than long: as a beam its stress is a lower guess in the middle of the root, and its frequency a first guess.")
	}
	if bends := w.State.Rotor.TipDeflection / w.Chord; bends > bendsFrom {
		said = append(said, fmt.Sprintf("The tip bends out of the way by %.1f %% of its chord: its angles, and with them the head, move with the load.", 100*bends))
	}
	if w.SpinTest > 0 {
		said = append(said, fmt.Sprintf("A spin test would go to %s, behind a guard; what it proves is the pull of turning, not the load of the water.", p.rough(w.SpinTest, "rpm")))
	}
	p.prose("  ", "    ", strings.Join(said, " "))
}

func (p *page) materials(list []drive.UsedMaterial) {
	if len(list) == 0 {
		return
	}
	p.heading("Materials as taken")
	var rows [][]string
	for _, m := range list {
		if !m.Known {
			rows = append(rows, []string{m.Part, m.Text, "no data here"})
			continue
		}
		fatigue := "no data"
		if m.Wet > 0 {
			fatigue = p.rounded(m.Wet, "MPa")
			if m.Own {
				fatigue += ", typed"
			}
		}
		softens := ""
		if m.Softens > 0 {
			softens = p.rounded(m.Softens, "°C")
		}
		rows = append(rows, []string{m.Part, m.Text, m.Name, p.rounded(m.Yield, "MPa"), p.rounded(m.Tensile, "MPa"), fatigue, softens, m.HowKnown})
	}
	p.grid([]string{"part", "typed", "taken as", "yield", "tensile", "fatigue, ±, in its water", "softens at", "how known"}, rows, 4, 5, 6)
}

func (b *binder) strength() []block {
	a := b.a.Strength
	if a == nil || a.Work.ShaftWhy != "" && a.Work.BladeWhy != "" {
		return nil
	}
	return b.taken(func(p *page) {
		p.shaftStrength(a)
		p.rotorStrength(a)
		p.materials(a.Work.Materials)
		for _, c := range a.Cautions {
			if c.Topic != "rules" {
				p.prose("  ", "    ", c.Topic+": "+c.Text)
			}
		}
	}, true)
}

func (s Style) strengthObject(a *desk.StrengthAnswer) object {
	w := a.Work
	o := object{{"interval", "90 %"}, {"draws", a.Draws}, {"condition", s.condition(a.Condition)}}
	figures := func(name, why string, list []desk.Figure) object {
		var part object
		if why != "" {
			part.add("not_worked_out", why)
		}
		for _, f := range list {
			_, k, _ := cut(f.Path)
			part.add(key(k, f.Unit), s.figure(f))
		}
		return part
	}
	shaft := figures("shaft", w.ShaftWhy, a.Shaft)
	if w.ShaftWhy == "" {
		sections := []object{}
		for _, x := range w.Sections {
			sections = append(sections, object{
				{"place", x.Name},
				{"notch", x.Notch},
				{"alternating_MPa", s.exact(x.Stress.Alternating, "MPa")},
				{"mean_MPa", s.exact(x.Stress.Mean, "MPa")},
				{"fatigue_strength_MPa", s.exact(x.Strength.Fatigue, "MPa")},
				{"jammed_MPa", s.exact(x.Yield, "MPa")},
				{"factors", object{{"goodman", x.Factors[0]}, {"gerber", x.Factors[1]}, {"asme", x.Factors[2]}, {"soderberg", x.Factors[3]}}},
			})
		}
		shaft.add("sections", sections)
		shaft.add("critical_at_least_rpm", s.exact(w.Dunkerley, "rpm"))
		shaft.add("critical_at_most_rpm", s.exact(w.Rayleigh, "rpm"))
		shaft.add("front_rating_needed_kN", s.exact(w.NeededFront, "kN"))
		if w.NeededAft > 0 {
			shaft.add("aft_rating_needed_kN", s.exact(w.NeededAft, "kN"))
		}
	}
	o.add("shaft", shaft)
	rotor := figures("rotor", w.BladeWhy, a.Rotor)
	rotor.add("impeller_mass_kg", s.exact(w.Mass, "kg"))
	rotor.add("impeller_mass_estimated", w.MassEstimated)
	if w.DrawnMass > 0 {
		rotor.add("impeller_drawn_mass_kg", s.exact(w.DrawnMass, "kg"))
	}
	if w.Sectioned {
		rotor.add("section_by_section", object{{"axial_share", w.SectionAxial}, {"tangential_share", w.SectionTangent}})
	}
	if w.SpinTest > 0 {
		rotor.add("spin_test_rpm", s.exact(w.SpinTest, "rpm"))
	}
	o.add("rotor", rotor)
	materials := []object{}
	for _, m := range w.Materials {
		x := object{{"part", m.Part}, {"typed", m.Text}, {"known", m.Known}}
		if m.Known {
			x.add("taken_as", m.Name)
			x.add("printed", m.Printed)
			x.add("yield_MPa", s.exact(m.Yield, "MPa"))
			x.add("tensile_MPa", s.exact(m.Tensile, "MPa"))
			if m.Wet > 0 {
				x.add("fatigue_in_water_MPa", s.exact(m.Wet, "MPa"))
			}
			x.add("how_known", m.HowKnown)
		}
		materials = append(materials, x)
	}
	o.add("materials", materials)
	o.add("limits", s.limits(a.Limits))
	o.add("fine", a.Fine)
	o.add("notices", notices(a.Notices))
	o.add("cautions", cautionTexts(a.Cautions))
	return o
}
