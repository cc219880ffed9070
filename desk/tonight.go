package desk

import (
	"jetwright/bench"
	"jetwright/notice"
	"jetwright/plan"
	"jetwright/project"
	"jetwright/reckon"
)

// TonightAnswer is the three next acts.
type TonightAnswer struct {
	Folder   string
	Aim      *reckon.Aim
	Readings int
	Acts     []plan.Act
	Looked   int // acts that they were chosen from
	Notices  notice.List
	Cautions []Caution
}

// firstShare is at which share of the design point's battery power a first ladder is taken to teach.
const firstShare = 0.5

// freshRepeats are the plateaus that other instruments are taken to read.
const freshRepeats = 3

// Tonight answers what to do next: on the bench, in the workshop or at the desk.
func Tonight(p *project.Project, o Options) (*TonightAnswer, error) {
	r, err := Reckon(p, o)
	if err != nil {
		return nil, err
	}
	best := r.judge.Calibrated("")
	name, speed := usualAim(&best.Nominal.Drive)
	aim, err := reckon.NewAim(name, speed, best.Nominal)
	if err != nil {
		return nil, unsolved(p, err)
	}
	in := plan.TonightInput{Rule: r.Next, Reach: r.Reach, Claims: r.Claims, Tests: r.Tests, Readings: len(r.Plateaus)}
	for _, l := range r.Limits {
		in.Limits = append(in.Limits, l.JudgedLimit)
	}
	for _, d := range r.Days {
		for _, x := range d.Doubts {
			if x.Drops || x.Kind == bench.Disagreeing || x.Kind == bench.Drifting {
				in.Doubts = append(in.Doubts, plan.RunDoubt{Run: d.Run, Doubt: x})
			}
		}
	}
	if r.Fit != nil {
		in.Strained = r.Fit.Strained
	}
	tonightLessons(&in, r, aim)
	if in.Ranking, err = reckon.Rank(best, aim); err != nil {
		return nil, unsolved(p, err)
	}
	if r.Fit == nil {
		for _, s := range r.Shares {
			in.Shares = append(in.Shares, plan.Dominant{Path: s.Path, Share: s.Share, Assumed: s.Assumed})
		}
	}
	if err := remembered(p, &in, r); err != nil {
		return nil, err
	}
	nominal := p.Design.Nominal()
	a := &TonightAnswer{Folder: p.Folder, Aim: &in.Ranking.Aim, Readings: in.Readings, Notices: r.Notices, Cautions: cautions(&nominal)}
	a.Acts, a.Looked = plan.Tonight(in)
	return a, nil
}

// tonightLessons asks what bench days would teach of the aim.
func tonightLessons(in *plan.TonightInput, r *ReckonAnswer, aim reckon.Aim) {
	if in.Readings == 0 {
		half := aim.Condition.Amount * firstShare
		if l, ok := r.judge.StepTeaches(aim.Condition, reckon.Measurement{Power: half, Place: "battery", Scale: "hanging scale", Meter: "controller"}); ok {
			in.First, in.Half = &l, l.Before
		}
		return
	}
	from := in.Rule.From
	if !(from > 0) {
		return
	}
	step := reckon.SettledStep * from
	if in.Reach != nil && in.Reach.Power > 0 {
		step = in.Reach.Power
	}
	if l, ok := r.judge.StepTeaches(aim.Condition, reckon.Measurement{Power: step, Place: in.Rule.Place}); ok {
		in.Step, in.Half = &l, l.Before
	}
	if l, ok := r.judge.StepTeaches(aim.Condition, reckon.Measurement{Power: from, Place: in.Rule.Place, Repeats: freshRepeats, Scale: reckon.FreshScale, Meter: reckon.FreshMeter}); ok {
		in.Fresh = &l
	}
}

// remembered looks at what is frozen and what the bench has not resolved between revisions.
func remembered(p *project.Project, in *plan.TonightInput, r *ReckonAnswer) error {
	v, err := revisions(p, Options{Nominal: true}, r.judge.Evidence, r.Days)
	if err != nil {
		return err
	}
	in.Frozen, in.Changed = v.Against, len(v.Now)
	for _, x := range v.List {
		if x.File == "" && len(x.Runs) > 0 {
			in.Ran = x.Name
		}
		if x.Measured != nil && len(x.Measured.Figures) > 0 && x.Measured.Figures[0].Levels > 0 {
			in.Compared = append(in.Compared, plan.Undecided{Was: x.Measured.Against, Is: x.Name, RevisionFigure: x.Measured.Figures[0]})
		}
	}
	return nil
}

// TonightIn answers Tonight for a folder.
func TonightIn(folder string, o Options) (*TonightAnswer, error) {
	return in(folder, func(p *project.Project) (*TonightAnswer, error) { return Tonight(p, o) })
}
