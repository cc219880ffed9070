package reckon

import (
	"fmt"
	"math"
	"sort"

	"gonum.org/v1/gonum/stat/distuv"

	"jetwright/explore"
	"jetwright/notice"
	"jetwright/numeric"
)

// Sampling is how a sampled answer came about and how it stands beside the Gaussian one.
type Sampling struct {
	Chains, Points int
	Evaluations    int
	Least          float64 // effective size of the unknown that has least, for its middle
	LeastOf        string
	Tails          float64 // least effective size for the 5 % and 95 % quantiles
	RHat           float64 // greatest of all unknowns
	RHatOf         string
	Enough         bool // every unknown has the effective size asked for
	Asked          float64
	Weighted       bool    // drawn and weighed; walked by chains where the weights do not allow it
	Shape          float64 // of the weights' Pareto tail
	Unknowns       []Walked
	Compared       []Compared
}

// Walked is what the chains are worth for one unknown.
type Walked struct {
	Name             string
	Bulk, Tail, RHat float64
}

// Compared is a figure by both answers.
type Compared struct {
	Name, Unit        string
	Gaussian, Sampled explore.Figure
	Error             float64 // greatest of the interval's ends, by sampling, of the difference
	Differ            bool    // an end lies further off than sampling explains
}

// Rules of the sampled answer.
const (
	sampledChains    = 4
	sampledWarm      = 40
	sampledDraws     = 300
	sampledMost      = 3000
	sampledEffective = 1000
	sampledWiden     = 1.05 // a normal distribution narrower than what is walked would be left too seldom
	sampledDiffer    = 3.0  // sampling errors by which an end must be off: of some fifty ends one in ten is off by 2.9
)

// Sampled walks the posterior itself, without taking it as normal, and draws the same number of drives from that.
//
//	p(y | readings) ∝ exp(−½·Σ r² − ½·Σ y²)
//
// Points are drawn by the disturbed problem and weighed by the whole model, in four streams, until every unknown has an effective
// size of 1,000 for its middle and for the ends of its 90 % interval. Where the weights fall off too slowly it is walked by elliptical
// slices in four chains instead.
//
// Source: bardsley-2014, vehtari-2024, murray-2010, vehtari-2021. Tests: TestSampledLaw, TestSampledDaysLaw.
func (f *Fit) Sampled(prior *explore.Sample, o Options) *Fit {
	if o.Seed == 0 {
		o.Seed = explore.DefaultSeed
	}
	if o.Draws == 0 {
		o.Draws = max(len(f.points), 1)
	}
	if o.effective == 0 {
		o.effective = sampledEffective
	}
	m, sol := f.model, f.solution
	chains := numeric.Chains{
		Dimension: len(m.coords), Centre: sol.Z, Root: sol.Root(), Widen: sampledWiden, Chains: sampledChains, Warm: sampledWarm, Draws: min(sampledDraws, int(o.effective)/2),
		Most: sampledMost, Effective: o.effective, Seed: o.Seed, Density: m.density,
	}
	var walked *numeric.Sampled
	sound := false
	if leaper, ok := m.leaper(sol, weakShare); ok {
		chains.Carry = func(_ int, u, y []float64) float64 {
			if excess, ok := leaper.Leap(y, u); ok {
				return excess
			}
			return math.Inf(-1)
		}
		walked, sound = numeric.Weigh(chains)
	}
	if !sound {
		walked = numeric.Sample(chains)
	}
	out := &Fit{
		Best: f.Best, Machine: f.Machine, ChiSquare: f.ChiSquare, Residuals: f.Residuals, Strained: f.Strained, Notices: f.Notices, Doubts: f.Doubts, Excluded: f.Excluded,
		names: f.names, physicals: f.physicals, best: f.best, model: m, solution: sol,
	}
	s := &Sampling{Chains: sampledChains, Points: len(walked.Points[0]), Evaluations: walked.Evaluations, Enough: walked.Reached, Asked: o.effective, Weighted: walked.Weighted, Shape: walked.Shape, Least: math.Inf(1), Tails: math.Inf(1)}
	for j, d := range walked.Diagnoses {
		s.Unknowns = append(s.Unknowns, Walked{f.names[j], d.Bulk, d.Tail, d.RHat})
		if d.Bulk < s.Least {
			s.Least, s.LeastOf = d.Bulk, f.names[j]
		}
		s.Tails = math.Min(s.Tails, d.Tail)
		if d.RHat > s.RHat {
			s.RHat, s.RHatOf = d.RHat, f.names[j]
		}
	}
	// Draws are taken evenly from all chains.
	total := sampledChains * s.Points
	points := make([][]float64, min(o.Draws, total))
	for i := range points {
		k := i * total / len(points)
		points[i] = walked.Points[k/s.Points][k%s.Points]
	}
	out.drawn(prior, points, false)
	out.whole(walked)
	out.Sampling = s
	s.compare(f, out, walked)
	if !s.Enough {
		out.Notices = append(out.Notices, notice.Notice{
			Kind: notice.Warning, What: fmt.Sprintf("the sampled answer has an effective size of %.0f for %s, not %.0f", s.Least, s.LeastOf, s.Asked),
			WayOut: "the readings bend the answer strongly; more of them, over more powers, straighten it",
		})
	}
	return out
}

// density is the logarithm of the posterior.
func (m *model) density(_ int, y []float64) float64 {
	r := make([]float64, m.residuals)
	if m.evaluateNear(r, y) != nil {
		return math.Inf(-1)
	}
	sum := 0.0
	for _, v := range r {
		sum += v * v
	}
	for _, v := range y {
		sum += v * v
	}
	return -0.5 * sum
}

// whole takes what is left of every unknown from all points and not from the draws alone.
func (f *Fit) whole(w *numeric.Sampled) {
	number := map[string]int{}
	for j, n := range f.names {
		number[n] = j
	}
	for i := range f.Learned {
		l := &f.Learned[i]
		d := w.Diagnoses[number[l.Path]]
		l.After, l.Shift = d.SD, d.Mean
	}
	sort.SliceStable(f.Learned, func(a, b int) bool { return f.Learned[a].After < f.Learned[b].After })
}

// compare holds the two answers to each other where sampling does not explain their difference.
func (s *Sampling) compare(gaussian, sampled *Fit, walked *numeric.Sampled) {
	add := func(name, unit string, a, b []float64, va, vb, size float64) {
		a, b = finite(a), finite(b)
		if len(a) < 2 || len(b) < 2 {
			return
		}
		sort.Float64s(a)
		sort.Float64s(b)
		c := Compared{Name: name, Unit: unit, Gaussian: explore.Interval(va, a), Sampled: explore.Interval(vb, b)}
		for _, p := range []float64{explore.LowShare, explore.HighShare} {
			e := math.Hypot(quantileError(a, p, float64(len(a))), quantileError(b, p, math.Min(size, float64(len(b)))))
			c.Error = math.Max(c.Error, e)
			if math.Abs(numeric.Quantile(a, p)-numeric.Quantile(b, p)) > sampledDiffer*e {
				c.Differ = true
			}
		}
		s.Compared = append(s.Compared, c)
	}
	for g, t := range sampled.tellings {
		if g < len(gaussian.tellingDraws) && g < len(sampled.tellingDraws) {
			add(t.name, t.unit, gaussian.tellingDraws[g], sampled.tellingDraws[g], gaussian.Combination[g].After.Value, sampled.Combination[g].After.Value, s.Tails)
		}
	}
	for j := range sampled.names[:sampled.physicals] {
		var own, all []float64
		for _, y := range gaussian.points {
			own = append(own, y[j])
		}
		for _, chain := range walked.Column(j) {
			all = append(all, chain...)
		}
		add(sampled.names[j], "", own, all, gaussian.best[j], sampled.best[j], walked.Diagnoses[j].Tail)
	}
}

// quantileError is the sampling error of a quantile of sorted draws that are worth n independent ones.
//
//	half the way between the quantiles at the 16 % and 84 % points of a beta distribution of p·n + 1 and (1 − p)·n + 1
//
// Holds for n of 20 or more.
//
// Source: vehtari-2021. Tests: TestQuantileErrorLaw.
func quantileError(sorted []float64, p, n float64) float64 {
	b := distuv.Beta{Alpha: n*p + 1, Beta: n*(1-p) + 1}
	return 0.5 * (numeric.Quantile(sorted, b.Quantile(0.8413447460685429)) - numeric.Quantile(sorted, b.Quantile(0.15865525393145707)))
}

// Differing are the figures on which the two answers differ by more than sampling.
func (s *Sampling) Differing() []Compared {
	var out []Compared
	for _, c := range s.Compared {
		if c.Differ {
			out = append(out, c)
		}
	}
	return out
}
