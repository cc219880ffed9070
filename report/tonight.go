package report

import (
	"fmt"

	"jetwright/desk"
)

func (p *page) tonight(a *desk.TonightAnswer) {
	p.heading("Tonight")
	p.prose("  ", "  ", "aim: "+p.aimOf(a.Aim)+"; chosen from "+count(a.Looked, "act")+". What is unsafe or holds everything up goes first; the rest by what it brings for an hour, as a share of the aim gained or gone from the half-width of its interval")
	if len(a.Acts) == 0 {
		p.line("  nothing is left that would teach or bring anything")
	}
	for i, x := range a.Acts {
		p.heading(fmt.Sprintf("%d. %s: %s", i+1, x.Where, x.What))
		p.prose("  because ", "    ", x.Why)
		p.line("  %s", p.worth(x.Hours, x.Brings, x.PerHour, x.First))
		if x.How != "" {
			p.prose("  ", "    ", x.How)
		}
	}
	p.prose("\n  ", "  ", "The hours are assumptions of our own, of one's own time: a first ladder 4, a step 2.5, a change in the workshop 3, a print 2.5, an order 2, a sensor 1, a spin test 3.")
	p.notices(a.Notices)
	p.cautions(a.Cautions)
}

// worth says what an act brings for its time.
func (s Style) worth(hours, brings, each float64, first bool) string {
	t := fmt.Sprintf("about %.2g h", hours)
	switch {
	case first:
		return t + "; before everything else"
	case brings > 0:
		return t + fmt.Sprintf("; %.2g %% of the aim, %.2g %% for each hour", 100*brings, 100*each)
	}
	return t
}

func (s Style) tonightObject(a *desk.TonightAnswer) object {
	acts := []object{}
	for _, x := range a.Acts {
		acts = append(acts, object{
			{"where", x.Where},
			{"what", x.What},
			{"why", x.Why},
			{"how", x.How},
			{"time_h", round(x.Hours, 3)},
			{"before_everything_else", x.First},
			{"brings_share_of_aim", round(x.Brings, 4)},
			{"brings_share_of_aim_each_hour", round(x.PerHour, 4)},
		})
	}
	return object{{"aim", a.Aim.Name}, {"aim_text", s.aimOf(a.Aim)}, {"readings", a.Readings}, {"acts", acts}, {"acts_looked_at", a.Looked}, {"notices", notices(a.Notices)}, {"cautions", cautionTexts(a.Cautions)}}
}
