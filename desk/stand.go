package desk

import (
	"errors"

	"jetwright/drive"
	"jetwright/explore"
	"jetwright/notice"
	"jetwright/plan"
	"jetwright/project"
	"jetwright/quantity"
)

// StandAnswer is the plan of a bench day.
type StandAnswer struct {
	*plan.Plan
	Folder, Name string
	Drive        *drive.Drive // nominal, as typed and assumed
	Settled      int          // readings and plateaus that it rests on
	Sources      []Source
}

// Stand answers how the next bench day goes: the ladder, what the stand must hold, where to stop.
func Stand(p *project.Project, o Options) (*StandAnswer, error) {
	r, err := Reckon(p, o)
	if err != nil {
		return nil, err
	}
	s, err := explore.New(p.Design, o.draws(explore.DefaultDraws), o.seed())
	if err != nil {
		return nil, unsolved(p, err)
	}
	in := plan.Input{Prior: s, Rule: r.Next, Days: r.Days, Seed: o.seed()}
	if r.Fit != nil {
		in.Calibrated = r.Fit.Sample(s)
	}
	for _, pl := range r.Plateaus {
		in.Plateaus = append(in.Plateaus, pl.Plateau)
	}
	made, err := plan.Make(in)
	if err != nil {
		var u *drive.Unmet
		if errors.As(err, &u) {
			return nil, notice.List{{
				Kind: notice.Error, Place: quantity.Place{File: project.DesignFile},
				What: "no ladder can be planned: " + err.Error(), WayOut: "look at [duty], [battery] and stand.shaft_height, and at: jetwright limits",
			}}
		}
		return nil, err
	}
	nominal := p.Design.Nominal()
	a := &StandAnswer{Plan: made, Folder: p.Folder, Name: folderName(p.Folder), Drive: &nominal, Settled: len(in.Plateaus)}
	a.Notices = append(a.Notices, p.Notices...)
	a.Sources = standSources(made)
	return a, nil
}

// standSources are the sources that a plan names.
func standSources(p *plan.Plan) []Source {
	used := map[string]bool{}
	for _, list := range [][]plan.Word{p.Air, p.Tub, p.Before, p.After, p.Safety} {
		for _, w := range list {
			used[w.Source] = true
		}
	}
	for _, list := range [][]plan.Check{p.Stand, p.Hardware} {
		for _, c := range list {
			used[c.Source] = true
		}
	}
	var out []Source
	for _, s := range Sources() {
		if used[s.Key] {
			out = append(out, s)
		}
	}
	return out
}

// StandIn answers Stand for a folder.
func StandIn(folder string, o Options) (*StandAnswer, error) {
	return in(folder, func(p *project.Project) (*StandAnswer, error) { return Stand(p, o) })
}

// Fine tells whether every limit was judged at the highest step and none is broken.
func (a *StandAnswer) Fine() bool {
	for _, list := range [][]plan.Check{a.Plan.Stand, a.Hardware} {
		for _, k := range list {
			if k.State == plan.Broken || k.State == plan.NotJudged {
				return false
			}
		}
	}
	return len(a.Open) == 0
}
