package reckon

import (
	"math"

	"jetwright/design"
	"jetwright/drive"
	"jetwright/explore"
)

// Thrust returns the thrust at a condition before any reading and by the calibrated model, as
// a claim there would be judged: beyond the tested powers the calibrated interval is wider by
// the discrepancy. readingPlace is taken for readings that do not say theirs. Without readings
// both are the same but for the discrepancy. At most so many draws are asked, spread evenly over
// all.
func (j *Judge) Thrust(at drive.Condition, readingPlace string, draws int) (before, after Predicted) {
	thrust := questionOf(design.Claim{What: "thrust"}, "")
	any_ := design.Claim{Sense: "at least"} // nothing is claimed
	best, drifts := thinned(j.calibrated(readingPlace), draws), thinnedNumbers(j.drifts(readingPlace), draws)
	before = j.predict(any_, at, thinned(j.Prior, draws), question{of: thrust.of}, beyond{}, false)
	after = j.predict(any_, at, best, thrust, j.beyond(at, best, drifts, readingPlace), false)
	return before, after
}

// ThrustWithout is the calibrated thrust of Thrust with nothing new assumed beyond the tested powers: what of its interval
// the drive and its instruments leave, a drift of the ladder carried on.
func (j *Judge) ThrustWithout(at drive.Condition, readingPlace string, draws int) Predicted {
	best, drifts := thinned(j.calibrated(readingPlace), draws), thinnedNumbers(j.drifts(readingPlace), draws)
	gap := j.beyond(at, best, drifts, readingPlace)
	gap.deviation, gap.unbroken = 0, true
	return j.predict(design.Claim{Sense: "at least"}, at, best, questionOf(design.Claim{What: "thrust"}, ""), gap, false)
}

// PowersAt returns the powers of the calibrated model at several places at a condition, each
// with its 90 % interval; without a state there the first figures are not positive.
func (j *Judge) PowersAt(places []string, at drive.Condition, readingPlace string, draws int) []explore.Figure {
	best := thinned(j.calibrated(readingPlace), draws)
	out := make([]explore.Figure, len(places))
	nominal, err := best.Nominal.Solve(at)
	if err != nil {
		return out
	}
	states := make([]drive.State, len(best.Machines))
	solved := make([]bool, len(best.Machines))
	explore.Parallel(len(best.Machines), func(i int) {
		if best.Machines[i] != nil {
			var err error
			states[i], err = best.Machines[i].Solve(at)
			solved[i] = err == nil
		}
	})
	for k, place := range places {
		of := powerAt(place)
		drawn := make([]float64, 0, len(states))
		for i := range states {
			if v := of(&states[i]); solved[i] && !math.IsNaN(v) {
				drawn = append(drawn, v)
			}
		}
		out[k] = explore.Interval(of(&nominal), drawn)
	}
	return out
}

// calibrated is the sample that the readings leave, or the prior where there are none.
func (j *Judge) calibrated(readingPlace string) *explore.Sample {
	if fit := j.Fits[readingPlace]; fit != nil {
		return fit.Sample(j.Prior)
	}
	if fit := j.Fit(); fit != nil {
		return fit.Sample(j.Prior)
	}
	return j.Prior
}

// Calibrated is the sample that the readings leave, or the prior where there are none.
func (j *Judge) Calibrated(readingPlace string) *explore.Sample { return j.calibrated(readingPlace) }

// drifts are those that the ladder leaves, by draw; none where it says nothing.
func (j *Judge) drifts(readingPlace string) []float64 {
	if fit := j.Fits[readingPlace]; fit != nil {
		return fit.drifts
	}
	if fit := j.Fit(); fit != nil {
		return fit.drifts
	}
	return nil
}

// thinnedNumbers keeps the numbers of the draws that thinned keeps.
func thinnedNumbers(x []float64, draws int) []float64 {
	n := len(x)
	if draws <= 0 || n <= draws {
		return x
	}
	out := make([]float64, draws)
	for i := range out {
		out[i] = x[i*n/draws]
	}
	return out
}

// thinned keeps at most so many draws of a sample.
func thinned(s *explore.Sample, draws int) *explore.Sample {
	n := len(s.Machines)
	if draws <= 0 || n <= draws {
		return s
	}
	out := &explore.Sample{Design: s.Design, Nominal: s.Nominal, Machines: make([]*drive.Machine, draws)}
	for i := range out.Machines {
		out.Machines[i] = s.Machines[i*n/draws]
	}
	return out
}
