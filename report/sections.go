package report

import (
	"fmt"
	"math"
	"strings"

	"jetwright/desk"
)

// sections writes what points of blade sections were read as.
func (p *page) sections(a *desk.SectionsAnswer) {
	p.heading("Sections of the " + a.Part + ", as read from " + a.File)
	p.line("  angles from the circumferential direction, °; in parentheses: standard uncertainty of the last digits, from the scatter of the points")
	drawn := len(a.Sections) > 0 && a.Sections[0].Drawn != nil
	head := []string{"section", "radius", "of the span", "points", "blade in", "blade out", "chord", "thickness", "edges", "form", "misfit", "at worst"}
	var rows [][]string
	for _, s := range a.Sections {
		f := &s.Fitted
		rows = append(rows, []string{
			fmt.Sprintf("%.6g", s.Number), p.placed(s.Radius, "mm", 1), fmt.Sprintf("%.0f %%", math.Round(100*s.Span)+0), fmt.Sprint(s.Points),
			uncertainDegrees(f.Inlet, f.Errors[0]), uncertainDegrees(f.Outlet, f.Errors[1]), p.placed(f.Chord, "mm", 2), p.placed(f.Thickness, "mm", 2),
			p.placed(f.Leading, "mm", 2) + ", " + p.placed(f.Trailing, "mm", 2), f.Form, p.placed(f.Misfit, "mm", 3), fmt.Sprintf("%s, line %d", p.placed(f.Worst, "mm", 3), s.WorstLine),
		})
	}
	p.grid(head, rows, 0, 1, 2, 3, 4, 5, 6, 7)
	if drawn {
		rows = nil
		for _, s := range a.Sections {
			f, d := &s.Fitted, s.Drawn
			rows = append(rows, []string{
				fmt.Sprintf("%.6g", s.Number), signedDegrees(f.Inlet - d.Inlet), signedDegrees(f.Outlet - d.Outlet), p.placed(f.Chord-d.Chord, "mm", 2), p.placed(f.Thickness-d.Thickness, "mm", 2),
			})
		}
		p.line("  more than drawn:")
		p.grid([]string{"section", "blade in", "blade out", "chord", "thickness"}, rows, 0, 1, 2, 3, 4)
		for _, s := range a.Sections {
			if s.Flare > 0.05e-3 {
				p.prose("  ", "  ", fmt.Sprintf("section %.6g lies in the flare of the root: the %s that it adds are taken off its thickness, and half of that off its edges", s.Number, p.placed(s.Flare, "mm", 2)))
			}
		}
	}
	what := "To type into drive.toml"
	if a.Written {
		what = "Written to drive.toml"
	}
	p.heading(what)
	for i, k := range a.Keys {
		table, key, _ := strings.Cut(k, ".")
		if i == 0 {
			p.line("  [%s]", table)
		}
		t := a.Texts[i]
		if !strings.HasPrefix(t, "[") {
			t = fmt.Sprintf("%q", t)
		}
		p.line("  %s = %s", key, t)
	}
	if drawn {
		p.prose("  ", "  ", "what was read moves the drawn sections by its differences, in proportion between the sections read, and as at the nearest beyond them")
	}
}

func signedDegrees(x float64) string { return fmt.Sprintf("%+.2f", x*180/math.Pi) }

// uncertainDegrees writes an angle with its standard uncertainty in its last digits.
func uncertainDegrees(x, u float64) string {
	x, u = x*180/math.Pi, u*180/math.Pi
	digits := 2
	if n := math.Round(u * 100); n >= 1 && n < 100 {
		return fmt.Sprintf("%.*f(%.0f)", digits, x, n)
	}
	if u >= 1 {
		return fmt.Sprintf("%.1f(%.0f)", x, math.Round(u*10))
	}
	return fmt.Sprintf("%.*f", digits, x)
}

// sectionsObject is the answer as JSON.
func (s Style) sectionsObject(a *desk.SectionsAnswer) object {
	numbers := func(in, out, chord, thickness float64) object {
		return object{
			{"inlet_angle_deg", round(in*180/math.Pi, 6)},
			{"outlet_angle_deg", round(out*180/math.Pi, 6)},
			{"chord_mm", round(1e3*chord, 6)},
			{"thickness_mm", round(1e3*thickness, 6)},
		}
	}
	list := []object{}
	for _, x := range a.Sections {
		f := &x.Fitted
		fitted := numbers(f.Inlet, f.Outlet, f.Chord, f.Thickness)
		fitted.add("leading_radius_mm", round(1e3*f.Leading, 6))
		fitted.add("trailing_radius_mm", round(1e3*f.Trailing, 6))
		fitted.add("form", f.Form)
		fitted.add("inlet_angle_uncertainty_deg", round(f.Errors[0]*180/math.Pi, 6))
		fitted.add("outlet_angle_uncertainty_deg", round(f.Errors[1]*180/math.Pi, 6))
		o := object{
			{"section", x.Number},
			{"radius_mm", round(1e3*x.Radius, 6)},
			{"span", round(x.Span, 6)},
			{"points", x.Points},
			{"fitted", fitted},
			{"misfit_mm", round(1e3*f.Misfit, 6)},
			{"worst_mm", round(1e3*f.Worst, 6)},
			{"worst_line", x.WorstLine},
		}
		if d := x.Drawn; d != nil {
			o.add("flare_mm", round(1e3*x.Flare, 6))
			o.add("drawn", numbers(d.Inlet, d.Outlet, d.Chord, d.Thickness))
		}
		list = append(list, o)
	}
	keys := object{}
	for i, k := range a.Keys {
		keys.add(k, a.Texts[i])
	}
	return object{
		{"folder", a.Folder},
		{"file", a.File},
		{"part", a.Part},
		{"sections", list},
		{"keys", keys},
		{"written", a.Written},
		{"notices", notices(a.Notices)},
	}
}
