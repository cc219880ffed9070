package numeric

import (
	"errors"
	"math"
)

// Changes returns where the means of several series change, all at once: the first index of
// each new segment, and the least penalised cost, exact. The series are of one length, each in
// units of its own scatter; a missing sample is NaN and counts for nothing.
//
//	minimise Σ_segments Σ_series Σ (x − x̄)² + β·(number of changes)
//
//	β  penalty for a change
//
// Holds for changes of the mean with independent scatter of known size; a slope is cut into stairs,
// and scatter that hangs together must be scaled by its long-run size. No segment is shorter than
// least, which guards against cuts around two equal readings. Found by dynamic programming that
// drops starts which can no longer be best; the result is that of the full search.
//
// Source: killick-2012. Tests: TestChangesPublished, TestChangesLaw.
func Changes(series [][]float64, penalty float64, least int) (starts []int, cost float64, err error) {
	if len(series) == 0 || !(penalty >= 0) || least < 1 {
		return nil, 0, errors.New("changes need a series, a penalty of 0 or more and a least length of 1 or more")
	}
	n := len(series[0])
	sums := make([][]moments, len(series))
	for k, x := range series {
		if len(x) != n {
			return nil, 0, errors.New("the series differ in length")
		}
		sums[k] = runningMoments(x)
	}
	if n < 2*least {
		return nil, segmentCost(sums, 0, n), nil
	}
	best := make([]float64, n+1) // least cost of the first t samples, each segment charged once
	last := make([]int, n+1)     // start of the last segment
	best[0] = -penalty
	type candidate struct{ at, until int }
	candidates := make([]candidate, 0, n)
	kept := make([]float64, 0, n)
	for t := 1; t <= n; t++ {
		best[t], last[t] = math.Inf(1), 0
		if t < least {
			continue
		}
		if from := t - least; from == 0 || from >= least {
			candidates = append(candidates, candidate{from, math.MaxInt})
		}
		kept = kept[:0]
		for _, c := range candidates {
			v := best[c.at] + segmentCost(sums, c.at, t)
			kept = append(kept, v)
			if v+penalty < best[t] {
				best[t], last[t] = v+penalty, c.at
			}
		}
		// A start that is worse now than a cut here stays worse once a cut here is allowed.
		live := candidates[:0]
		for i, c := range candidates {
			if kept[i] >= best[t] {
				c.until = min(c.until, t+least)
			}
			if t+1 < c.until {
				live = append(live, c)
			}
		}
		candidates = live
	}
	for t := n; last[t] > 0; t = last[t] {
		starts = append([]int{last[t]}, starts...)
	}
	return starts, best[n] - penalty*float64(len(starts)), nil
}

// moments are running sums up to a sample.
type moments struct{ n, sum, square float64 }

// runningMoments sums about the mean of the whole, so that a large offset costs no digits.
func runningMoments(x []float64) []moments {
	m, count := 0.0, 0.0
	for _, v := range x {
		if v == v {
			count++
			m += (v - m) / count
		}
	}
	out := make([]moments, len(x)+1)
	for i, v := range x {
		out[i+1] = out[i]
		if v == v {
			d := v - m
			out[i+1].n++
			out[i+1].sum += d
			out[i+1].square += d * d
		}
	}
	return out
}

// segmentCost is the sum of squares about the mean over samples from, …, to−1.
func segmentCost(sums [][]moments, from, to int) float64 {
	c := 0.0
	for _, s := range sums {
		a, b := s[from], s[to]
		if n := b.n - a.n; n > 0 {
			d := b.sum - a.sum
			c += max(0, b.square-a.square-d*d/n)
		}
	}
	return c
}
