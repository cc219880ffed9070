package desk

import (
	"errors"
	"fmt"
	"strings"
	"sync"

	"jetwright/bench"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/notice"
	"jetwright/project"
	"jetwright/quantity"
	"jetwright/reckon"
)

// RankAnswer is every change by what it brings to an aim.
type RankAnswer struct {
	Folder   string
	Ranking  *reckon.Ranking
	Fitted   bool // the drives are those that the readings leave
	Readings int
	Notices  notice.List
	Cautions []Caution
}

// Rank answers which change brings how much. The aim is worded as AimWords has it; without one it is the thrust
// at the duty's speed.
func Rank(p *project.Project, aim string, o Options) (*RankAnswer, error) {
	name, speed, err := readAim(aim, p.Design.Nominal().Duty.Speed)
	if err != nil {
		return nil, err
	}
	if lacks := rideAimLacks(p, name); lacks != nil {
		return nil, lacks
	}
	c, err := calibrate(p, o)
	if err != nil {
		return nil, err
	}
	a := &RankAnswer{Folder: p.Folder, Fitted: c.fit != nil, Readings: c.readings, Notices: c.notices}
	nominal := p.Design.Nominal()
	a.Cautions = cautions(&nominal)
	if a.Ranking, err = rank(c.best(), name, speed); err != nil {
		if errors.Is(err, reckon.ErrNoPlane) {
			return nil, notice.List{{Kind: notice.Error, What: err.Error() + ", so that no change to that aim can be told", WayOut: "ask: --aim hump"}}
		}
		return nil, unsolved(p, err)
	}
	return a, nil
}

// rideAimLacks says what the craft lacks for an aim on the water.
func rideAimLacks(p *project.Project, name string) error {
	switch name {
	case reckon.AimTopSpeed, reckon.AimHump, reckon.AimPlane, reckon.AimRange:
		nominal := p.Design.Nominal()
		if lacks := nominal.Craft.Lacks(); len(lacks) > 0 {
			return rideLacks(p.Design, lacks)
		}
	}
	return nil
}

func rank(s *explore.Sample, name string, speed float64) (*reckon.Ranking, error) {
	aim, err := reckon.NewAim(name, speed, s.Nominal)
	if err != nil {
		return nil, err
	}
	return reckon.Rank(s, aim)
}

// usualAim is the aim of a duty.
func usualAim(d *drive.Drive) (name string, speed float64) {
	if d.Duty.Speed > 0 {
		return reckon.AimUnderWay, d.Duty.Speed
	}
	return reckon.AimThrust, 0
}

// AimWords are the aims as they are typed.
const AimWords = `thrust, "thrust-at 4 m/s", run-time or winding; on the water top-speed, hump, time-to-plane or range`

func readAim(text string, duty float64) (name string, speed float64, err error) {
	name, rest, _ := strings.Cut(strings.TrimSpace(text), " ")
	wrong := func(what, out string) error {
		return notice.List{{Kind: notice.Error, What: fmt.Sprintf("--aim %q %s", text, what), Allowed: "it takes " + AimWords, WayOut: out}}
	}
	switch name {
	case "":
		if duty > 0 {
			return reckon.AimUnderWay, duty, nil
		}
		return reckon.AimThrust, 0, nil
	case reckon.AimUnderWay:
		if strings.TrimSpace(rest) == "" {
			return "", 0, wrong("names no speed", `write --aim "thrust-at 4 m/s"`)
		}
		v, err := quantity.ParseIn(rest, quantity.MustUnit("m/s"))
		if err != nil {
			return "", 0, wrong("names no speed: "+err.Error(), `write --aim "thrust-at 4 m/s"`)
		}
		if !(v.Nominal() > 0) {
			return "", 0, wrong("is not under way", "for thrust at rest: --aim thrust")
		}
		return name, v.Nominal(), nil
	case reckon.AimThrust, reckon.AimRunTime, reckon.AimWinding, reckon.AimTopSpeed, reckon.AimHump, reckon.AimPlane, reckon.AimRange:
		if strings.TrimSpace(rest) != "" {
			return "", 0, wrong("has words too many", "")
		}
		return name, 0, nil
	}
	return "", 0, wrong("is no aim", "")
}

// calibration is a folder's design with what its readings leave of it.
type calibration struct {
	prior    *explore.Sample
	evidence []reckon.Evidence
	days     []*bench.Reduction
	judge    *reckon.Judge
	fit      *reckon.Fit // nil without readings
	readings int
	notices  notice.List
}

// best is the sample that the readings leave, or the design's own.
func (c *calibration) best() *explore.Sample {
	if c.fit == nil {
		return c.prior
	}
	return c.fit.Sample(c.prior)
}

// calibrate reads what was measured and fits the design to it. Without readings there is no fit.
func calibrate(p *project.Project, o Options) (*calibration, error) {
	draws := o.draws(explore.DefaultDraws)
	c := &calibration{notices: append(notice.List(nil), p.Notices...)}
	var faults notice.List
	var reduced sync.WaitGroup
	reduced.Go(func() { c.evidence, c.days, faults = gather(p) })
	defer reduced.Wait()
	var err error
	if c.prior, err = explore.New(p.Design, draws, o.seed()); err != nil {
		return nil, unsolved(p, err)
	}
	reduced.Wait()
	c.notices = append(c.notices, faults...)
	suspicions := reckon.Suspicions(c.prior.Nominal, c.evidence)
	c.notices = append(c.notices, suspicions...)
	if err := reckon.Contradictions(c.prior.Nominal, c.evidence); err != nil {
		return nil, with(err, suspicions)
	}
	c.judge, err = reckon.NewJudge(c.prior, c.evidence, reckon.Options{Draws: draws, Seed: o.seed(), Nominal: o.Nominal})
	if err != nil {
		return nil, with(notice.List{{Kind: notice.Error, What: err.Error(), WayOut: "look at the readings' units and places of power, and at the numbers typed in the design"}}, suspicions)
	}
	c.fit = c.judge.Fit()
	if c.fit != nil {
		c.notices = append(c.notices, c.fit.Notices...)
	}
	for _, e := range c.evidence {
		c.readings += len(e.Plateaus)
	}
	return c, nil
}

// RankIn answers Rank for a folder.
func RankIn(folder, aim string, o Options) (*RankAnswer, error) {
	return in(folder, func(p *project.Project) (*RankAnswer, error) { return Rank(p, aim, o) })
}
