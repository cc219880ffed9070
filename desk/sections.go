package desk

import (
	"cmp"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"jetwright/drive"
	"jetwright/notice"
	"jetwright/project"
	"jetwright/quantity"
	"jetwright/shape"
)

// SectionsAnswer is what points of blade sections were read as.
type SectionsAnswer struct {
	Folder, File, Part string
	Sections           []SectionRead
	Keys, Texts        []string // what goes into the design, and its values as they are typed there
	Written            bool
	Notices            notice.List
}

// SectionRead is one section: as it was fitted, and as it is drawn at the same radius.
type SectionRead struct {
	Number, Radius, Span float64
	Points               int
	Fitted               shape.Fitted
	Drawn                *shape.Section // nil where no sections are typed
	Flare                float64        // of the root, taken off the fitted thickness, m
	WorstLine            int            // of the file
}

// SectionsFlags are what points are to be read as, as typed.
type SectionsFlags struct {
	File  string
	Part  string // impeller or stator
	Write bool
}

// misfitTold is the root mean square of the distances of points beyond which another form is tried, m.
const misfitTold = 50e-6

// Sections reads points of blade sections, fits angles, chord and thickness to them, holds them against what is drawn, and writes
// them to the design where that is asked for: to [built] where sections are drawn, else as the sections themselves.
func Sections(p *project.Project, f SectionsFlags) (*SectionsAnswer, error) {
	if f.Part != "impeller" && f.Part != "stator" {
		return nil, notice.List{{Kind: notice.Error, What: fmt.Sprintf("--of is %q", f.Part), Allowed: "it takes impeller or stator"}}
	}
	read, told, err := project.ReadSections(f.File)
	if err != nil {
		return nil, err
	}
	d := p.Design.Nominal()
	a := &SectionsAnswer{Folder: p.Folder, File: filepath.ToSlash(f.File), Part: f.Part, Notices: append(append(notice.List{}, p.Notices...), told...)}
	row, drawn, err := rowOf(p, &d, f.Part)
	if err != nil {
		return nil, err
	}
	for _, s := range read {
		span, spread, hub, tip := spanOf(&s, &row)
		x := SectionRead{Number: s.Number, Radius: s.Radius, Span: span, Points: len(s.Points)}
		at := notice.Notice{Kind: notice.Error, Place: quantity.Place{File: a.File, Line: s.Line, Column: 1}}
		if x.Span < -0.02 || x.Span > 1.02 {
			at.What = fmt.Sprintf("section %v lies at a radius of %.4g mm", s.Number, 1e3*s.Radius)
			at.Allowed = fmt.Sprintf("between hub and tip of the %s, %.4g to %.4g mm", f.Part, 1e3*hub, 1e3*tip)
			at.WayOut = "is it the other row (--of), another unit, or does z not begin where the drive's does?"
			return nil, notice.List{at}
		}
		form := row.Form
		if !drawn {
			form = ""
		}
		fit, fault := fitEitherWay(s.Points, form)
		if fault != nil {
			at.What, at.Allowed, at.WayOut = fmt.Sprintf("section %v: %s", s.Number, fault.What), fault.Allowed, fault.WayOut
			return nil, notice.List{at}
		}
		if form != "" && fit.Misfit > misfitTold {
			if other, fault := fitEitherWay(s.Points, ""); fault == nil && other.Form != form && other.Misfit < 0.6*fit.Misfit {
				a.Notices = append(a.Notices, notice.Notice{
					Kind: notice.Warning, Place: at.Place, What: fmt.Sprintf("section %v is %.2g mm off the form %s, and %.2g mm off %s", s.Number, 1e3*fit.Misfit, form, 1e3*other.Misfit, other.Form),
					WayOut: "if that is its form, set " + f.Part + ".form and read the points again",
				})
			}
		}
		if math.Abs(s.Widens) > 0.1 {
			a.Notices = append(a.Notices, notice.Notice{
				Kind: notice.Warning, Place: at.Place, What: fmt.Sprintf("the surface of section %v widens by %.0f %% along the blade; laying it flat adds to its misfit", s.Number, 100*s.Widens),
			})
		}
		if spread > 0.05 {
			a.Notices = append(a.Notices, notice.Notice{
				Kind: notice.Warning, Place: at.Place, What: fmt.Sprintf("the points of section %v spread over %.0f %% of the span", s.Number, 100*spread),
				Allowed: "points on one stream surface between hub and casing", WayOut: "let z begin where the drive's does, and cut the blade along the channel",
			})
		}
		x.Fitted, x.WorstLine = fit, s.Lines[fit.At]
		if drawn {
			at, fault := row.Section(math.Min(math.Max(x.Span, 0), 1))
			if fault != nil {
				return nil, misshapen(p, fault)
			}
			x.Drawn = at
			straight := math.Abs(fit.Inlet-at.Inlet) + math.Abs(fit.Outlet-at.Outlet)
			if turned := math.Abs(fit.Inlet-at.Outlet) + math.Abs(fit.Outlet-at.Inlet); straight > 10*math.Pi/180 && turned < straight/4 {
				a.Notices = append(a.Notices, notice.Notice{
					Kind: notice.Warning, Place: quantity.Place{File: a.File, Line: s.Line, Column: 1}, What: fmt.Sprintf("section %v is the drawn one with its ends exchanged", s.Number),
					Allowed: "z, or downstream, from the intake to the jet", WayOut: "turn the part about in CAD, and read the points again before they are written",
				})
			}
			more := at.Flared()
			x.Fitted.Thickness -= more
			x.Fitted.Leading -= more / 2
			x.Fitted.Trailing -= more / 2
			x.Flare = more
			if s.Space != nil && math.Abs(s.Widens) > 1e-3 {
				if fault := x.relate(at, form); fault != nil {
					return nil, misshapen(p, fault)
				}
			}
		}
		a.Sections = append(a.Sections, x)
	}
	slices.SortStableFunc(a.Sections, func(x, y SectionRead) int { return cmp.Compare(x.Span, y.Span) })
	a.keys(&row, drawn)
	if f.Write {
		if err := p.SetAll(a.Keys, a.Texts); err != nil {
			return nil, err
		}
		a.Written = true
	}
	return a, nil
}

// spanOf is where on the span of a row a section lies, by how much its points differ in that, and hub and casing there.
func spanOf(s *project.SectionPoints, row *shape.Row) (span, spread, hub, tip float64) {
	if s.Space == nil {
		hub, _ = row.Hub.At(row.Start)
		tip, _ = row.Tip.At(row.Start)
		return (s.Radius - hub) / (tip - hub), 0, hub, tip
	}
	low, high, n := math.Inf(1), math.Inf(-1), float64(len(s.Space))
	for _, p := range s.Space {
		a, _ := row.Hub.At(p[2])
		b, _ := row.Tip.At(p[2])
		h := (math.Hypot(p[0], p[1]) - a) / (b - a)
		span, hub, tip = span+h/n, hub+a/n, tip+b/n
		low, high = math.Min(low, h), math.Max(high, h)
	}
	return span, high - low, hub, tip
}

// relate takes off what laying a surface flat that is no cylinder does to a section: the drawn one is laid flat and fitted alike, and what
// is read differs from what is drawn by what the two fits differ.
func (x *SectionRead) relate(drawn *shape.Section, form string) *shape.Fault {
	var space [][3]float64
	for _, p := range drawn.Points(sectionPoints, false) {
		space = append(space, p.Space)
	}
	own, fault := fitEitherWay(project.LayFlat(space).Points, form)
	if fault != nil {
		return fault
	}
	f := &x.Fitted
	f.Inlet += drawn.Inlet - own.Inlet
	f.Outlet += drawn.Outlet - own.Outlet
	f.Chord += drawn.Chord - own.Chord
	f.Thickness += drawn.Thickness + x.Flare - own.Thickness
	f.Leading += drawn.Leading - own.Leading
	f.Trailing += drawn.Trailing - own.Trailing
	return nil
}

// rowOf returns the row of a part with its walls; drawn tells whether it has sections.
func rowOf(p *project.Project, d *drive.Drive, part string) (row shape.Row, drawn bool, err error) {
	b := d.Pump()
	drawn = len(b.Impeller.InletAngle) > 0
	if part == "stator" {
		drawn = len(b.Stator.InletAngle) > 0
	}
	if !drawn || d.Impeller.Grade != drive.GradeBlades {
		tip := shape.Wall{Z: b.Channel.Axial, R: b.Channel.TipRadius}
		if len(b.Channel.Axial) < 2 || len(b.Channel.HubRadius) != len(b.Channel.Axial) {
			wall := func(r float64) shape.Wall { return shape.Wall{Z: []float64{0, 1}, R: []float64{r, r}} }
			return shape.Row{Name: part, Hub: wall(d.Impeller.HubDiameter / 2), Tip: wall(d.Impeller.Diameter / 2)}, false, nil
		}
		return shape.Row{Name: part, Hub: shape.Wall{Z: b.Channel.Axial, R: b.Channel.HubRadius}, Tip: tip}, false, nil
	}
	s, err := d.Shapes()
	if err != nil {
		return row, false, misshapen(p, err)
	}
	if part == "stator" {
		return s.Stator.Row, true, nil
	}
	return s.Impeller.Row, true, nil
}

// fitEitherWay fits a section whichever way its blades lead: their leading edges stand at less than a right angle.
func fitEitherWay(points [][2]float64, form string) (shape.Fitted, *shape.Fault) {
	f, fault := shape.FitSection(points, form, 1)
	if fault == nil && f.Inlet <= math.Pi/2 {
		return f, nil
	}
	g, other := shape.FitSection(points, form, -1)
	if other != nil {
		return f, fault
	}
	return g, nil
}

// keys words the sections as keys. Where sections are drawn, what is measured moves each of them by what the measured ones differ, in
// proportion between these; the scatter of the fit is the tolerance of the angles.
func (a *SectionsAnswer) keys(row *shape.Row, drawn bool) {
	spans := row.Span
	prefix := "built." + a.Part + "."
	if !drawn {
		spans, prefix = nil, a.Part+"."
		for _, s := range a.Sections {
			spans = append(spans, math.Min(math.Max(s.Span, 0), 1))
		}
	}
	values := []struct {
		key, unit string
		fitted    func(*shape.Fitted) float64
		drawn     func(*shape.Section) float64
	}{
		{"inlet_angle", "deg", func(f *shape.Fitted) float64 { return f.Inlet }, func(s *shape.Section) float64 { return s.Inlet }},
		{"outlet_angle", "deg", func(f *shape.Fitted) float64 { return f.Outlet }, func(s *shape.Section) float64 { return s.Outlet }},
		{"chord", "mm", func(f *shape.Fitted) float64 { return f.Chord }, func(s *shape.Section) float64 { return s.Chord }},
		{"thickness", "mm", func(f *shape.Fitted) float64 { return f.Thickness }, func(s *shape.Section) float64 { return s.Thickness }},
	}
	if !drawn {
		var texts []string
		for _, h := range spans {
			texts = append(texts, fmt.Sprintf("%.3g", h))
		}
		a.Keys, a.Texts = append(a.Keys, prefix+"span"), append(a.Texts, "["+strings.Join(texts, ", ")+"]")
	}
	for _, v := range values {
		var texts []string
		for i, h := range spans {
			x := v.fitted(&a.Sections[min(i, len(a.Sections)-1)].Fitted)
			if drawn {
				at, fault := row.Section(h)
				if fault != nil {
					return
				}
				x = v.drawn(at) + a.between(h, func(s *SectionRead) float64 { return v.fitted(&s.Fitted) - v.drawn(s.Drawn) })
			}
			texts = append(texts, fmt.Sprintf("%q", fmt.Sprintf("%.2f %s", quantity.MustUnit(v.unit).FromSI(x), v.unit)))
		}
		a.Keys, a.Texts = append(a.Keys, prefix+v.key), append(a.Texts, "["+strings.Join(texts, ", ")+"]")
	}
	if !drawn {
		return
	}
	for i, key := range []string{"inlet_angle_offset", "outlet_angle_offset"} {
		worst := 0.0
		for _, s := range a.Sections {
			worst = math.Max(worst, s.Fitted.Errors[i])
		}
		hundredths := math.Max(1, math.Ceil(100*quantity.MustUnit("deg").FromSI(worst)))
		a.Keys, a.Texts = append(a.Keys, prefix+key), append(a.Texts, fmt.Sprintf("0.00(%.0f) deg", hundredths))
	}
}

// between is a difference at a place of the span: in proportion between the sections that were read, as at the nearest beyond them.
func (a *SectionsAnswer) between(h float64, of func(*SectionRead) float64) float64 {
	s := a.Sections
	if h <= s[0].Span {
		return of(&s[0])
	}
	for i := 1; i < len(s); i++ {
		if h <= s[i].Span {
			x := (h - s[i-1].Span) / (s[i].Span - s[i-1].Span)
			return (1-x)*of(&s[i-1]) + x*of(&s[i])
		}
	}
	return of(&s[len(s)-1])
}

// SectionsIn answers Sections for a folder.
func SectionsIn(folder string, f SectionsFlags) (*SectionsAnswer, error) {
	return in(folder, func(p *project.Project) (*SectionsAnswer, error) { return Sections(p, f) })
}
