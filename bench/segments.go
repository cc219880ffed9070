package bench

import (
	"math"
	"sort"

	"jetwright/numeric"
)

// Rules of finding plateaus. Our own.
const (
	segmentLeast   = 5     // blocks, shortest stretch between two changes
	restless       = 0.05  // scatter of the load over blocks as a share of its level, above which nothing was held
	rampShare      = 0.008 // by which a short stretch at the end of a plateau belongs to the ramp
	sameLevel      = 0.025 // neighbours within this share of each other's level are one plateau
	idleShare      = 0.02  // of the greatest load: below, nothing pulls
	plateauLeast   = 10.0  // s
	zeroLeast      = 3.0   // s
	trendShare     = 0.02  // change over a plateau, as a share of its mean, from which it had not settled
	trendEvidence  = 3.0   // and times the standard uncertainty of that change
	settleEvidence = 3.0   // times the standard uncertainty by which the beginning must differ to be cut
)

// stretch is a run of blocks at one level, [from, to).
type stretch struct {
	from, to int
	level    float64 // of the load
	idle     bool
	parts    []stretch // between changes, of which it was joined
}

// stretches finds the runs of blocks at one level of the load, exactly, with all witnesses judged
// together, each in units of its own scatter.
//
//	minimise Σ_k Σ_t ((x_k(t) − mean)/σ_k)² + β·changes,  β = 3·(d + 1)/2·ln n
//
//	d  number of witnesses,  n  number of blocks
//
// Stretches next to each other within 2.5 % are then joined: so slow a change is a plateau that
// has not settled, which is judged later.
//
// Source: killick-2012, own. Tests: TestReduceSynthetic.
func stretches(load *channel, witnesses []*channel) ([]stretch, error) {
	n := len(load.track)
	scaled := make([][]float64, 0, len(witnesses))
	for _, w := range witnesses {
		s := noise(w.track, w.resolution)
		if !(s > 0) {
			continue
		}
		x := make([]float64, n)
		for i, v := range w.track {
			x[i] = v / s
		}
		scaled = append(scaled, x)
	}
	values, _ := finite(load.track, 0, n)
	if len(scaled) == 0 || len(values) == 0 {
		return []stretch{{from: 0, to: n, idle: true}}, nil
	}
	penalty := 1.5 * float64(len(scaled)+1) * math.Log(float64(n))
	starts, _, err := numeric.Changes(scaled, penalty, segmentLeast)
	if err != nil {
		return nil, err
	}
	starts = append([]int{0}, append(starts, n)...)
	sort.Float64s(values)
	full := numeric.Quantile(values, 0.99)
	var out []stretch
	for i := 0; i+1 < len(starts); i++ {
		v, _ := finite(load.track, starts[i], starts[i+1])
		level, _ := numeric.Median(v)
		s := stretch{from: starts[i], to: starts[i+1], level: level, idle: level < idleShare*full}
		s.parts = []stretch{s}
		out = append(out, s)
	}
	return joined(out), nil
}

// joined joins neighbours at one level, the nearest first, until none are within 2.5 %.
func joined(list []stretch) []stretch {
	apart := func(a, b stretch) float64 {
		switch {
		case a.idle != b.idle:
			return math.Inf(1)
		case a.idle:
			return 0
		}
		return math.Abs(a.level-b.level) / math.Max(math.Abs(a.level), math.Abs(b.level))
	}
	for {
		nearest, at := sameLevel, -1
		for i := 0; i+1 < len(list); i++ {
			if d := apart(list[i], list[i+1]); d <= nearest && (at < 0 || d < nearest) {
				nearest, at = d, i
			}
		}
		if at < 0 {
			return list
		}
		p, q := list[at], list[at+1]
		a, b := float64(p.to-p.from), float64(q.to-q.from)
		p.level = (a*p.level + b*q.level) / (a + b)
		p.to = q.to
		p.parts = append(append([]stretch(nil), p.parts...), q.parts...)
		list = append(list[:at], list[at+1:]...)
		list[at] = p
	}
}

// trimmed takes the ends of ramps off a joined stretch: short parts at either end that the
// search has told from the rest, and whose load differs.
func (s stretch) trimmed(least int) stretch {
	longest := stretch{}
	for _, p := range s.parts {
		if p.to-p.from > longest.to-longest.from {
			longest = p
		}
	}
	ramp := func(p stretch) bool {
		return p.from != longest.from && p.to-p.from < least && math.Abs(p.level-longest.level) > rampShare*math.Abs(longest.level)
	}
	for len(s.parts) > 1 && ramp(s.parts[0]) {
		s.parts = s.parts[1:]
		s.from = s.parts[0].from
	}
	for len(s.parts) > 1 && ramp(s.parts[len(s.parts)-1]) {
		s.parts = s.parts[:len(s.parts)-1]
		s.to = s.parts[len(s.parts)-1].to
	}
	return s
}

// refine moves an edge between two blocks to the raw sample where the load parts best into the
// level before and the level after; the sample's time is returned.
func refine(x *channel, edge int, step float64) float64 {
	at := float64(edge) * step
	first, last := sort.SearchFloat64s(x.time, at-4*step), sort.SearchFloat64s(x.time, at+4*step)
	if last-first < 4 {
		return at
	}
	// Running sums, so that every cut is tried.
	var sum, square, n float64
	for _, v := range x.raw[first:last] {
		if v == v {
			sum, square, n = sum+v, square+v*v, n+1
		}
	}
	best, when := math.Inf(1), at
	var s, q, m float64
	for i := first; i < last-1; i++ {
		v := x.raw[i]
		if v != v {
			continue
		}
		s, q, m = s+v, q+v*v, m+1
		if n-m < 1 {
			break
		}
		cost := q - s*s/m + (square - q) - (sum-s)*(sum-s)/(n-m)
		if t := x.time[i+1]; cost < best && math.Abs(t-at) <= 2*step {
			best, when = cost, t
		}
	}
	return when
}

// settle returns how many of the first blocks of a stretch to cut: those before the cut after
// which the mean is known best, if they differ from the rest by more than chance. Few blocks
// that happen to agree are no evidence: the scatter is at least that from block to block.
func settle(values []float64, resolution float64) int {
	cut := numeric.Settled(values)
	if cut == 0 || len(values)-cut < 3 {
		return 0
	}
	changes := make([]float64, 0, len(values))
	for i := 1; i < len(values); i++ {
		changes = append(changes, math.Abs(values[i]-values[i-1]))
	}
	usual, _ := numeric.Median(changes)
	a, sa := numeric.MeanSD(values[:cut])
	b, _ := numeric.MeanSD(values[cut:])
	half := values[max(cut, len(values)/2):] // says how scatter hangs together
	if len(half) < len(values)/4 {
		half = values[len(values)/2:]
	}
	_, sb := numeric.MeanSD(half)
	sb = math.Max(sb, math.Max(1.4826*usual/math.Sqrt2, resolution/math.Sqrt(12)))
	tau := float64(len(half)) / numeric.EffectiveSize(half)
	u := sb * math.Sqrt(tau*(1/float64(cut)+1/float64(len(values)-cut)))
	if math.Abs(a-b) > settleEvidence*u || cut >= 3 && sa > 2*sb {
		return cut
	}
	return 0
}

// trend returns the change over a stretch by a straight line, and its standard uncertainty.
func trend(values []float64, at []int) (change, u float64) {
	if len(values) < 5 {
		return 0, 0
	}
	x := make([]float64, len(at))
	for i, k := range at {
		x[i] = float64(k)
	}
	line, err := numeric.StraightLine(x, values, nil)
	if err != nil {
		return 0, 0
	}
	rest := make([]float64, len(values))
	for i := range values {
		rest[i] = values[i] - line.A - line.B*x[i]
	}
	long := x[len(x)-1] - x[0]
	grow := math.Sqrt(float64(len(rest)) / numeric.EffectiveSize(rest))
	return line.B * long, line.SB * long * grow
}
