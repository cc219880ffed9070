package reckon

import (
	"fmt"
	"math"
	"slices"

	"jetwright/explore"
)

// trimmedTried is how many of the readings that are off are tried to be the wrong one, the furthest first.
const trimmedTried = 4

// trimmedMost is the share of the figures that may be left out before they contradict each other too much to say which are
// wrong. Our own.
const trimmedMost = 0.2

// Trimmed is the calibration without the readings that contradict the rest.
type Trimmed struct {
	Left []Doubt // in their order; each as it stood when it was left out
	Fit  *Fit    // nil where what stays contradicts itself as well, or no drive meets it
}

// trim leaves out readings, one at a time, until none contradicts the rest: of those that do, the one without which the
// fewest others still do. It is nil where nothing contradicts.
func trim(prior *explore.Sample, evidence []Evidence, f *Fit, o Options) *Trimmed {
	if len(f.Doubts) == 0 {
		return nil
	}
	t := &Trimmed{}
	most := max(1, int(trimmedMost*float64(f.Residuals)))
	nominal := o
	nominal.Nominal, nominal.bare = true, true
	o.Sampled = false
	for at := f; len(at.Doubts) > 0; {
		if len(t.Left) == most {
			return t
		}
		var best *Fit
		var left Doubt
		nominal.start = at.best
		for _, d := range at.Doubts[:min(len(at.Doubts), trimmedTried)] {
			next, err := Calibrate(prior, without(evidence, d), nominal)
			if err != nil {
				continue
			}
			if best == nil || len(next.Doubts) < len(best.Doubts) || len(next.Doubts) == len(best.Doubts) && next.ChiSquare < best.ChiSquare {
				best, left = next, d
			}
		}
		if best == nil {
			return t
		}
		t.Left, evidence, at = append(t.Left, left), without(evidence, left), best
	}
	if whole, err := Calibrate(prior, evidence, o); err == nil {
		t.Fit = whole
	}
	return t
}

// unheeded is the scatter of a figure that is left out, over itself: its plateau stays a step of the ladder.
const unheeded = 1e4

// without is the evidence with one figure that weighs nothing.
func without(evidence []Evidence, d Doubt) []Evidence {
	out := slices.Clone(evidence)
	for i := range out {
		out[i].Plateaus = slices.Clone(out[i].Plateaus)
		for k := range out[i].Plateaus {
			p := &out[i].Plateaus[k]
			if p.Run != d.Run || p.Name != d.Name || p.Place != d.Place {
				continue
			}
			p.Figures = slices.Clone(p.Figures)
			for n := range p.Figures {
				if f := &p.Figures[n]; f.Channel == d.Channel {
					f.Repeat = unheeded * math.Abs(f.Value)
				}
			}
		}
	}
	return out
}

// words names what was left out.
func (t *Trimmed) words() string {
	d := t.Left[0]
	s := fmt.Sprintf("the %s of %s, %.1f standard deviations off the rest", d.Channel, d.Name, math.Abs(d.Sigmas))
	if n := len(t.Left) - 1; n == 1 {
		s += ", and one more figure"
	} else if n > 1 {
		s += fmt.Sprintf(", and %d more figures", n)
	}
	return s
}

// standing is a verdict with readings that contradict each other taken into account: it is closed only where it stands with
// them and without them.
func (t *Trimmed) standing(v Verdict, why string, without Verdict, whyWithout string) (Verdict, string) {
	switch {
	case t == nil || v == Open:
		return v, why
	case t.Fit == nil:
		return Open, fmt.Sprintf("it would be %s (%s), but the readings contradict each other too much to say which are wrong, first %s", v, why, t.words())
	case without != v:
		return Open, fmt.Sprintf("it hangs on %s: with that %s (%s), without it %s (%s)", t.words(), v, why, without, whyWithout)
	}
	return v, fmt.Sprintf("%s; it stands without %s as well", why, t.words())
}

// Contradicted withholds the next step while a reading of a channel that a limit rests on contradicts the rest.
func (n NextStep) Contradicted(doubts []Doubt) NextStep {
	for _, d := range doubts {
		for _, w := range watched {
			if w.channel != d.Channel {
				continue
			}
			n.Reasons = append(slices.Clone(n.Reasons), fmt.Sprintf("the %s of %s contradicts the rest by %.1f standard deviations; a limit rests on it: read that step again first", w.name, d.Name, math.Abs(d.Sigmas)))
			n.Allowed, n.Power, n.Factor = false, 0, 0
			return n
		}
	}
	return n
}
