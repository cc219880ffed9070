package plan

import (
	"fmt"
	"math"
	"sort"

	"jetwright/drive"
	"jetwright/explore"
	"jetwright/numeric"
	"jetwright/quantity"
	"jetwright/reckon"
)

// Rules of the next step's limits. Our own.
const (
	sureShare    = 0.99 // of the drives that must keep a limit of the hardware
	sureDraws    = 4096 // from which the draws themselves say it
	reachTell    = 1e-3 // share of the power to which the largest step is found
	reachNearest = 4    // limits that are told
)

// Reach is how far the next step may go with every limit kept.
type Reach struct {
	Rule  float64 // W, by the rules of the next step
	Power float64 // W, the largest that also keeps the limits; 0 where even the settled power does not
	Place string
	By    string // the limit that holds it back; empty where the rules do
	Why   string // of that limit
	Sure  string // what the 99 % rest on
	Tight []Kept // the nearest limits at that power
	Open  []string
	Stops []Stop
	Teach *reckon.StepLesson // nil where it cannot be said
}

// Kept is a limit at the step.
type Kept struct {
	Name, Unit  string
	Value       float64 // nominal, SI
	Bad         float64 // in 99 of 100 drives no worse; of a hazard with every tolerance at its bad end
	Allowed     float64
	AtLeast     bool
	Hazard      bool
	Left, Worse float64 // share of the way to the bound, nominal and at the bad end
}

// Next finds the largest step that the rules allow and at which every limit that can be judged holds: what can hurt
// people with every tolerance at its bad end, the rest in 99 of 100 drives. Margins fall with power, so it is halved in.
func Next(in Input) (*Reach, error) {
	if !in.Rule.Allowed {
		return nil, nil
	}
	m := &maker{Input: in, Plan: &Plan{Next: in.Rule, Place: in.Rule.Place}}
	m.sample = in.Prior
	if in.Calibrated != nil && in.Calibrated.Nominal != nil {
		m.sample, m.Fitted = in.Calibrated, true
	}
	m.drive = &in.Prior.Nominal.Drive
	if m.Place == "" {
		m.Place = "battery"
	}
	m.demand, _ = drive.Place(m.Place)
	m.From = in.Rule.From
	r := &Reach{Rule: in.Rule.Power, Place: m.Place}
	top := m.kept(in.Rule.Power)
	settled := m.kept(in.Rule.From)
	r.Power = in.Rule.Power
	switch {
	case settled.broken() != nil || settled.why != "":
		r.Power = 0
		r.say(settled)
	case top.broken() != nil || top.why != "":
		good, bad := in.Rule.From, in.Rule.Power
		r.say(top)
		for bad-good > reachTell*in.Rule.Power {
			mid := (good + bad) / 2
			if at := m.kept(mid); at.broken() != nil || at.why != "" {
				bad = mid
				r.say(at)
			} else {
				good = mid
			}
		}
		r.Power = floored(good)
	}
	at := settled
	if r.Power > 0 {
		at = m.kept(r.Power)
	}
	if at.result == nil {
		return r, nil
	}
	r.Sure, r.Open = at.sure, at.open
	list := at.list
	for len(list) > 0 && len(r.Tight) < reachNearest {
		least := 0
		for i := range list {
			if list[i].Worse < list[least].Worse {
				least = i
			}
		}
		r.Tight = append(r.Tight, list[least])
		list = append(list[:least:least], list[least+1:]...)
	}
	if r.Power > 0 {
		m.top = at.result
		m.Steps = []Step{{Kind: New, Power: r.Power}}
		if err := m.ask(0, 1); err != nil {
			return nil, err
		}
		m.Stand = m.standChecks(m.top, at.judged)
		m.stops()
		r.Stops = m.Stops
	}
	return r, nil
}

// floored rounds a power down to the digits that it is shown with.
func floored(p float64) float64 {
	step := math.Pow(10, math.Floor(math.Log10(p))-2)
	return step * math.Floor(p/step)
}

// say takes what holds a step back.
func (r *Reach) say(at *keeping) {
	if at.why != "" {
		r.By, r.Why = "the drive itself", at.why
		return
	}
	k := at.broken()
	r.By = k.Name
	unit, _ := quantity.LookupUnit(k.Unit)
	how := "in one of a hundred drives it would be at " + quantity.Format(k.Bad, unit)
	if k.Hazard {
		how = "with every tolerance at its bad end it would be at " + quantity.Format(k.Bad, unit)
	}
	r.Why = how + ", allowed is " + quantity.Format(k.Allowed, unit)
}

// keeping is every limit at a power.
type keeping struct {
	why    string // why there is no state
	sure   string
	list   []Kept
	open   []string
	result *explore.Result
	judged []explore.JudgedLimit
}

func (k *keeping) broken() *Kept {
	var worst *Kept
	for i := range k.list {
		if x := &k.list[i]; x.Worse < 0 && (worst == nil || x.Worse < worst.Worse) {
			worst = x
		}
	}
	return worst
}

// kept judges every limit at a power.
func (m *maker) kept(power float64) *keeping {
	r := m.sample.Solve(m.at(power))
	k := &keeping{}
	if r.Err != nil {
		k.why = r.Err.Error()
		return k
	}
	if n := len(m.sample.Machines); n > 0 && float64(len(r.States)) < sureShare*float64(n) {
		k.why = fmt.Sprintf("%d of %d drives have no state there", n-len(r.States), n)
		return k
	}
	k.result, k.judged = r, r.Limits(m.sample)
	nominal := m.sample.Nominal.Limits(nil, r.Nominal)
	margins := make([][]float64, len(nominal))
	var buf []quantity.Limit
	for i := range r.States {
		buf = m.sample.Machines[r.Rows[i]].Limits(buf[:0], r.States[i])
		for j := range buf {
			if j < len(nominal) && buf[j].NotJudged == "" {
				margins[j] = append(margins[j], buf[j].Margin())
			}
		}
	}
	fitted := false
	for j, l := range nominal {
		if l.NotJudged != "" {
			k.open = append(k.open, l.Name)
			continue
		}
		if l.Part == "stand" {
			continue // with its own corners below
		}
		x := Kept{Name: l.Name, Unit: l.Unit, Value: l.Value, Allowed: l.Allowed, AtLeast: l.Sense == quantity.AtLeast, Hazard: l.Hazard, Left: l.Margin(), Worse: l.Margin()}
		if l.Hazard {
			for _, h := range k.judged {
				if h.Name == l.Name {
					x.Worse = math.Min(x.Worse, h.Bad)
				}
			}
		} else if len(margins[j]) > 0 {
			q, tail := sureMargin(margins[j])
			x.Worse, fitted = math.Min(x.Worse, q), fitted || tail
		}
		x.Bad = atMargin(l, x.Worse)
		k.list = append(k.list, x)
	}
	switch n := len(r.States); {
	case n == 0:
		k.sure = "the nominal drive alone, which says nothing of 99 in 100; leave --nominal away"
	case fitted:
		k.sure = fmt.Sprintf("a tail fitted to the worst tenth of %d drives", n)
	default:
		k.sure = fmt.Sprintf("%d drives", n)
	}
	for _, c := range m.standChecks(r, k.judged) {
		if c.State == NotJudged {
			k.open = append(k.open, c.Name)
			continue
		}
		k.list = append(k.list, Kept{Name: c.Name, Unit: c.Unit, Value: c.Value, Bad: c.Bad, Allowed: c.Allowed, Hazard: true, Left: 1 - c.Value/c.Allowed, Worse: 1 - c.Bad/c.Allowed})
	}
	return k
}

// sureMargin returns the margin that 99 of 100 drives keep: that of the draws themselves where there are 4096 of them, else
// by a tail fitted to the worst tenth.
func sureMargin(margins []float64) (margin float64, fitted bool) {
	less := make([]float64, len(margins))
	worst := math.Inf(-1)
	for i, x := range margins {
		less[i] = -x
		worst = math.Max(worst, -x)
	}
	if len(less) < sureDraws {
		if q, err := numeric.TailQuantile(less, sureShare); err == nil {
			return -q, true
		}
		return -worst, false // too few to fit a tail to: the worst of them
	}
	sort.Float64s(less)
	return -numeric.Quantile(less, sureShare), false
}

// atMargin is the value of a limit at which a margin is left.
func atMargin(l quantity.Limit, margin float64) float64 {
	scale := math.Abs(l.Allowed - l.Zero)
	if scale == 0 {
		scale = 1
	}
	if l.Sense == quantity.AtLeast {
		return l.Allowed + margin*scale
	}
	return l.Allowed - margin*scale
}
