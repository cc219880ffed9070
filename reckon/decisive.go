package reckon

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"jetwright/design"
)

// Rules of the cheapest decisive test. Our own.
const (
	decisiveChance = 0.8 // of closing the verdict, from which a test counts as decisive
	decisivePowers = 14  // that are looked at
	decisiveFrom   = 0.3 // of the highest settled power: the lowest that is looked at
	decisiveDraws  = 256
)

// Instruments that a test is tried with where those at hand cannot decide.
const (
	FreshScale = "load cell"
	FreshMeter = "shunt"
)

// decisiveRepeats are the numbers of plateaus that are looked at; more is another bench day.
var decisiveRepeats = []int{1, 2, 3, 5, 8, 12}

// Decisive is the cheapest test that is expected to close the verdict on a claim.
type Decisive struct {
	Found   bool
	Power   float64 // W
	Place   string
	Repeats int
	Chance  float64 // that the verdict is closed after it
	Held    float64 // that it is closed as supported
	New     bool    // beyond the highest settled power
	Fresh   bool    // only with other instruments than those that have read so far: a load cell and a calibrated shunt
	Why     string  // why there is none
}

// Decisive looks for the lowest power within the rules of the next step at which a measurement, read by the instruments of
// the highest plateau, is expected to close an open or unlikely verdict. most is the largest power that the rules and the
// limits allow.
//
//	chance = ∫ [P'(z) ≥ 0.90 or P'(z) ≤ 0.05, also with the discrepancy doubled]·φ(z) dz
//	P'(z) = P(claim | mean moved by found·z, doubt left)
//
//	found  standard deviation of where the mean comes to lie   [StepLesson]
//
// Holds as StepLesson does; a claim at a place that readings do not say is taken at each of them and is not settled by a test.
//
// Source: own. Tests: TestDecisiveLaw.
func (j *Judge) Decisive(v ClaimVerdict, next NextStep, most float64) *Decisive {
	if v.Verdict == Supported || v.Verdict == Refuted {
		return nil
	}
	d := &Decisive{Place: next.Place}
	switch v.Claim.What {
	case "speed":
		d.Why = "none at rest can: a pull while towed at that speed would, with the power read; and the craft's drag there, towed with the drive off"
		return d
	case "run time":
		d.Why = "no step of power can: a run from full to empty at that load would, or the cells' capacity from a slow discharge"
		return d
	}
	if _, ok := claimable[v.Claim.What]; !ok || len(v.Cases) == 0 {
		d.Why = "none at rest can: " + v.Why
		return d
	}
	if len(v.Cases) > 1 {
		d.Why = "no measurement can before the place of power is said: type it beside the claim or the readings"
		return d
	}
	like, ok := j.top()
	if !ok || !(next.From > 0) {
		d.Why = "not known before a first reading has settled"
		return d
	}
	if j.Fit() != nil && len(j.Fit().Strained) > 0 {
		d.Why = "none before the readings agree with what can be assumed; see what strains them"
		return d
	}
	k := v.Cases[0]
	q := questionOf(v.Claim, k.ClaimPlace)
	s := thinned(j.calibrated(k.ReadingPlace), decisiveDraws)
	other := s
	if w, ok := v.Claim.OtherWater(); ok {
		var err error
		if other, err = s.Adjusted(w.Apply); err != nil {
			d.Why = "the drive has no design point in the claim's water: " + err.Error()
			return d
		}
	}
	aims := solveEach(other.Machines, k.Condition, q.of)
	top := math.Max(most, next.From)
	low := decisiveFrom * next.From
	for _, fresh := range []bool{false, true} {
		best := 0.0
		for i := range decisivePowers {
			power := low * math.Pow(top/low, float64(i)/(decisivePowers-1))
			l := j.gapped(s, lesson{
				aim: k.Condition, factor: q.exponent, power: power, place: next.Place, like: like,
				aims: aims, fresh: fresh, scale: FreshScale, meter: FreshMeter,
			})
			p, ok := prepare(s, l)
			if !ok {
				continue
			}
			for _, n := range decisiveRepeats {
				l, ok := p.expect(n)
				if !ok {
					continue
				}
				chance, held := closes(v.Claim, p.y, l)
				if chance >= decisiveChance {
					return &Decisive{Found: true, Power: power, Place: next.Place, Repeats: n, Chance: chance, Held: held, New: power > next.From*(1+1e-9), Fresh: fresh}
				}
				best = math.Max(best, chance)
			}
		}
		d.Chance = math.Max(d.Chance, best)
	}
	d.Why = none(k, top, d.Chance)
	return d
}

// none says why no test at rest is decisive.
func none(k Case, top, best float64) string {
	text := fmt.Sprintf("none at rest up to %.0f W would, by the instruments that have read so far or by a load cell and a calibrated shunt: the best closes it in %.0f of 100 cases", top, 100*best)
	if k.Condition.Speed > 0 {
		text += "; it is claimed under way, and a pull while towed at that speed could"
	}
	return text
}

// closes returns the chance that a verdict is closed after a lesson, and that it is closed as supported.
func closes(c design.Claim, logs []float64, l StepLesson) (closed, held float64) {
	mean := 0.0
	for _, y := range logs {
		mean += y / float64(len(logs))
	}
	const points = 201
	for i := range points {
		z := distuv.UnitNormal.Quantile((float64(i) + 0.5) / points)
		x := math.Exp(mean + l.found*z)
		p := holds(c, x, math.Max(math.Hypot(l.model, l.gap), 1e-9), math.Inf(1))
		wide := holds(c, x, math.Max(math.Hypot(l.model, 2*l.gap), 1e-9), math.Inf(1))
		switch {
		case p >= supportedFrom:
			closed += 1.0 / points
			held += 1.0 / points
		case p <= refutedTo && wide <= refutedTo:
			closed += 1.0 / points
		}
	}
	return closed, held
}
