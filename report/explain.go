package report

import (
	"fmt"
	"strings"

	"jetwright/desk"
)

// explain writes one number: meaning, value, formula, and what its tolerance comes from.
func (p *page) explain(a *desk.ExplainAnswer) {
	p.heading(a.Path + ": " + a.Doc)
	switch {
	case a.Figure != nil:
		p.line("  %s", p.text(*a.Figure))
	case a.Text != "":
		p.line("  %s", a.Text)
	}
	p.line("  %s", a.Origin)
	if a.Drawn != "" {
		p.line("  drawn: %s", a.Drawn)
	}
	if a.Range != "" {
		p.line("  possible: %s", a.Range)
	}
	if len(a.Choices) > 0 {
		p.line("  choices: %s", strings.Join(a.Choices, ", "))
	}
	if a.Source != "" {
		p.line("  source of the assumption: %s", a.Source)
	}
	for _, c := range a.Cards {
		p.heading(c.Name)
		p.prose("  ", "  ", c.Summary)
		for _, l := range strings.Split(c.Formula, "\n") {
			p.line("      %s", l)
		}
		if c.Holds != "" {
			p.prose("  ", "  ", c.Holds)
		}
		p.line("  source: %s", c.Source)
		p.line("  held by: %s", c.Tests)
	}
	if len(a.Effects) > 0 {
		p.effects(a)
	}
	list := a.Shares
	title := "What dominates its tolerance"
	if a.Key != nil {
		list, title = a.Moves, "What its tolerance contributes, at the design point"
		if len(list) > 0 && strings.HasPrefix(list[0].Path, "ride.") {
			title = "What its tolerance contributes to a ride"
		}
	}
	if len(list) == 0 {
		return
	}
	p.heading(title)
	var rows [][]string
	for i, s := range list {
		if i == doubtRows || (s.Share < 0.005 && a.Key == nil) {
			break
		}
		share := fmt.Sprintf("%.0f %%", 100*s.Share)
		if s.Share < 0.005 {
			share = "under 1 %"
		}
		rows = append(rows, []string{share, s.Path, s.Text})
	}
	p.grid(nil, rows, 1)
	if a.Key == nil {
		p.line("  left unexplained by rank regression: %.0f %%", 100*a.Unexplained)
	}
}
