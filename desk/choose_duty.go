package desk

import (
	"math"

	"jetwright/design"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/project"
	"jetwright/quantity"
)

// SetCourse is a set of parts over the duty's steps, nominal.
type SetCourse struct {
	Ending  drive.Ending
	Short   drive.Reached // from when on the voltage does not reach
	Limit   string        // the one reached first, or nearest to its bound
	Why     string
	Peak    Figure
	Bound   float64 // K
	Left    float64 // share of the way from the water to the bound
	Reached drive.Reached
	None    string // why there is no course
}

// Keeps tells whether the duty is done with every temperature kept and the voltage reaching.
func (c *SetCourse) Keeps() bool {
	return c.None == "" && c.Ending.Kind == drive.Finished && !c.Short.Ever && !c.Reached.Ever
}

// overDuty marches every set of parts over the duty's steps where they are typed, the pump placed as in the design.
func (c *chooser) overDuty(p *project.Project, a *ChooseAnswer, m *drive.Machine) {
	steps := p.Design.Steps()
	if len(steps) == 0 {
		return
	}
	a.Steps = steps
	st, err := m.Solve(c.condition)
	if err != nil {
		return
	}
	parts := map[[2]string]drive.Drive{}
	kinds := [...]string{"motor", "controller", "battery"}
	c.each(func(kind int, part design.Part) { parts[[2]string{kinds[kind], part.Name}] = part.Design.Nominal() })
	explore.Parallel(len(a.Sets), func(i int) {
		s := &a.Sets[i]
		d := m.Drive
		d.Motor, d.Controller, d.Battery = parts[[2]string{"motor", s.Motor}].Motor, parts[[2]string{"controller", s.Controller}].Controller, parts[[2]string{"battery", s.Battery}].Battery
		d.Duty.Thrust, d.Duty.Power = quantity.Some(st.Thrust), quantity.Optional{} // the pump is the design's
		s.Over = courseOf(d, steps)
	})
}

func courseOf(d drive.Drive, steps []drive.Leg) *SetCourse {
	out := &SetCourse{}
	m, err := d.Resolve()
	if err != nil {
		out.None = err.Error()
		return out
	}
	x, err := drive.NewMarcher(m)
	if err != nil {
		out.None = err.Error()
		return out
	}
	var march drive.Marched
	if err := x.Run(drive.March{Legs: steps}, &march); err != nil {
		out.None = err.Error()
		return out
	}
	out.Ending, out.Short, out.Left = march.Ending, march.Short, math.Inf(1)
	for i, l := range x.Limits {
		peak := march.Peak[x.Node(l.Node)]
		left := (l.Allowed - peak) / (l.Allowed - d.Water.Temperature)
		if l.Allowed <= d.Water.Temperature {
			left = -1
		}
		sooner := march.Reached[i].Ever && (!out.Reached.Ever || march.Reached[i].Time < out.Reached.Time)
		if sooner || !out.Reached.Ever && left < out.Left {
			out.Limit, out.Why, out.Bound, out.Left, out.Reached = l.Name, l.Why, l.Allowed, left, march.Reached[i]
			out.Peak = figure(l.Name, "°C", peak)
		}
	}
	return out
}
