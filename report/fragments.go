package report

import (
	"fmt"
	"html/template"
	"strings"

	"jetwright/desk"
	"jetwright/drive"
)

// Fragment is a piece of a page: HTML without style or script, every text in it escaped.
type Fragment struct {
	ID, Title, HTML string
}

var blocksTemplate = template.Must(template.Must(pageTemplate.Clone()).New("piece").Parse(`{{template "blocks" .}}`))

func htmlOf(blocks []block) string {
	setAll(blocks)
	var out strings.Builder
	if err := blocksTemplate.Execute(&out, blocks); err != nil {
		return "" // a builder takes everything, and the template is held by tests
	}
	return out.String()
}

// Fragments writes an answer as the terminal has it, its headings as titles of pieces.
func Fragments(answer any, s Style) ([]Fragment, error) {
	s.Colour = false
	p := &page{Style: s, web: true}
	if err := p.write(answer); err != nil {
		return nil, err
	}
	var out []Fragment
	from, title := 0, ""
	end := func(to int) {
		if to > from || title != "" {
			out = append(out, Fragment{ID: fmt.Sprintf("part-%d", len(out)+1), Title: title, HTML: htmlOf(p.blocks[from:to])})
		}
	}
	for i, b := range p.blocks {
		if b.Heading == "" {
			continue
		}
		end(i)
		title, from = set(b.Heading), i+1
	}
	end(len(p.blocks))
	return out, nil
}

// Pictured writes an answer as Fragments does, its charts first.
func Pictured(answer any, s Style) ([]Fragment, error) {
	list, err := Fragments(answer, s)
	if err != nil {
		return nil, err
	}
	s.Colour = false
	b := &binder{Style: s}
	var charts []block
	switch a := answer.(type) {
	case *desk.HeatAnswer:
		charts = append(b.heatFigures(a), b.blocked(a)...)
	case *desk.MotorAnswer:
		charts = b.motorFigure(a)
	}
	if len(charts) == 0 {
		return list, nil
	}
	return append([]Fragment{{ID: "charts", HTML: htmlOf(charts)}}, list...), nil
}

// BendFragments are the charts of a part: how the drive follows each of its dimensions.
func BendFragments(a *desk.BendAnswer, s Style) []Fragment {
	s.Colour = false
	b := &binder{Style: s}
	unit, what := s.unit(unitOf("W")), "power at the battery"
	if a.Thrust {
		unit, what = s.unit(unitOf("N")), "thrust"
	}
	var charts []block
	for i, k := range a.Curves {
		u := s.unit(k.Unit)
		c := Chart{ID: fmt.Sprintf("bend-%d", i+1), Title: capital(what) + " over " + k.Name, XLabel: k.Name, YLabel: what + ", " + unit.Symbol, Width: 380, Height: 230}
		if u.Symbol != "1" {
			c.XLabel += ", " + u.Symbol
		}
		line := Curve{}
		for j := range k.X {
			line.X, line.Y = append(line.X, u.FromSI(k.X[j])), append(line.Y, unit.FromSI(k.Y[j]))
		}
		c.Curves, c.Moments = []Curve{line}, []Moment{{X: line.X[k.At], Name: "as it stands"}}
		charts = append(charts, b.figure(c.SVG(), fmt.Sprintf("%s alone, ten per cent to either side; %s, nominal.", k.Path, desk.Describe(a.Condition))))
	}
	if len(charts) == 0 {
		return nil
	}
	return []Fragment{{ID: "bends", Title: "What follows its dimensions", HTML: htmlOf(charts)}}
}

// ReportFragments writes the parts of a report, by their ids on its page.
func ReportFragments(a *desk.ReportAnswer, s Style) []Fragment {
	s.Colour = false
	b := &binder{Style: s, a: a}
	sh := b.sheet()
	out := []Fragment{{ID: "short", Title: "In short", HTML: htmlOf(sh.Short)}}
	for _, k := range sh.Sections {
		out = append(out, Fragment{ID: k.ID, Title: k.Title, HTML: htmlOf(k.Blocks)})
	}
	return out
}

// DutyPictures are the long section and the watt ledger of an answer, and what can be chosen and moved on the
// section.
func DutyPictures(a *desk.DutyAnswer, s Style) (section, ledger string, places Places) {
	k := Section{ID: "section", Drive: a.Drive, Figures: stationFigures(a.State, s), Style: s, Assumed: a.Untyped, Marks: strengthMarks(a.Limits, s)}
	return k.SVG(), ledgerSVG("ledger", a), k.Places()
}

// DrivePicture is the long section of a drive that has no state.
func DrivePicture(d *drive.Drive, untyped map[string]bool, s Style) (string, Places) {
	k := Section{ID: "section", Drive: d, Style: s, Assumed: untyped}
	return k.SVG(), k.Places()
}
