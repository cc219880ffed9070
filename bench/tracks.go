package bench

import (
	"math"
	"sort"

	"jetwright/numeric"
)

// Rules of reading a channel. Our own.
const (
	blockLeast     = 0.2                // s, over which samples are averaged before plateaus are sought
	burstMost      = 1.0                // s from the edge of a burst that may belong to it
	spikeLeast     = 0.02               // of the channel's range, below which a jump is no spike
	spikeFactor    = 12                 // times the usual distance from the neighbours' median
	quietPart      = 0.3                // of the changes from block to block, by which the noise is told
	quietNormal    = 0.3853204664075677 // that quantile of a standard normal number without its sign
	sampleForScale = 20000              // samples that the usual distance is taken from
)

// channel is one column of one log on the run's clock.
type channel struct {
	Channel
	source     int
	file       string
	time       []float64 // run's time of each row, s
	raw        []float64 // as logged, SI
	interval   float64   // usual distance of two values, s
	resolution float64   // smallest step, 0 if none is seen
	jitter     float64   // usual change from one value to the next over √2
	spikes     []int     // rows that jump away and back
	values     int       // rows that hold a number
	track      []float64 // means over blocks
	derived    bool      // power, from voltage and current
	low, high  float64   // least and greatest value, once they were asked for
	haveEnds   bool
}

// newChannel looks at a column: how often it is written, its smallest step, its usual scatter and
// the rows that jump away and back.
func newChannel(c Channel, source int, file string, time, raw []float64) *channel {
	x := &channel{Channel: c, source: source, file: file, time: time, raw: raw}
	stride := max(1, len(raw)/sampleForScale)
	var steps, apart []float64
	last := math.NaN()
	for i := 0; i < len(raw); i++ {
		v := raw[i]
		if v != v {
			continue
		}
		x.values++
		if d := math.Abs(v - last); d == d && i%stride == 0 {
			steps = append(steps, d)
			if r, ok := fromNeighbours(raw, i); ok {
				apart = append(apart, math.Abs(r))
			}
		}
		last = v
	}
	if x.values == 0 {
		return x
	}
	first, end := math.Inf(1), math.Inf(-1)
	for _, t := range time { // a clock may step back, and rows without one stand far before
		if t < -1e11 {
			continue
		}
		first, end = math.Min(first, t), math.Max(end, t)
	}
	if x.interval = (end - first) / float64(max(1, x.values-1)); !(x.interval >= 0) || math.IsInf(x.interval, 0) {
		x.interval, x.values = 0, 0 // no row of it has a place in the run
		return x
	}
	x.resolution = resolution(steps, raw)
	if m, ok := numeric.Median(steps); ok {
		x.jitter = 1.4826 * m / math.Sqrt2
	}
	usual := 0.0
	if len(apart) > 0 { // nine of ten values: steps of an instrument may be rarer than every other
		sort.Float64s(apart)
		usual = math.Max(1.4826*numeric.Quantile(apart, 0.5), numeric.Quantile(apart, 0.9)/1.645)
	}
	low, high := x.ends()
	x.haveEnds = false
	limit := math.Max(spikeFactor*math.Max(usual, math.Max(x.resolution, x.jitter)), spikeLeast*(high-low))
	if !(limit > 0) {
		return x
	}
	for i := 2; i+2 < len(raw); i++ {
		if math.Abs(raw[i]-raw[i-1]) <= limit && math.Abs(raw[i+1]-raw[i]) <= limit {
			continue
		}
		if r, ok := fromNeighbours(raw, i); ok && math.Abs(r) > math.Max(limit, spikeFactor*apartNear(raw, i)) {
			x.spikes = append(x.spikes, i)
		}
	}
	x.growBursts(limit)
	return x
}

// growBursts takes in what lies between the edges of a burst: rows beside a spike that stand as
// far from what is usual around, up to a second in all.
func (x *channel) growBursts(limit float64) {
	if len(x.spikes) == 0 {
		return
	}
	const around = 5.0 // s
	seen := map[int]bool{}
	for _, i := range x.spikes {
		seen[i] = true
	}
	for _, i := range append([]int(nil), x.spikes...) {
		first, last := sort.SearchFloat64s(x.time, x.time[i]-around), sort.SearchFloat64s(x.time, x.time[i]+around)
		usual, ok := numeric.Median(x.raw[first:last])
		if !ok {
			continue
		}
		for _, way := range []int{-1, 1} {
			for k := i + way; k >= 0 && k < len(x.raw) && math.Abs(x.time[k]-x.time[i]) <= burstMost; k += way {
				if math.Abs(x.raw[k]-usual) > limit && !seen[k] {
					seen[k] = true
					x.spikes = append(x.spikes, k)
				} else if !(math.Abs(x.raw[k]-usual) > limit) {
					break
				}
			}
		}
	}
	sort.Ints(x.spikes)
}

// apartNear is the usual distance from the neighbours' median around a row: a pull swings more
// the harder it pulls.
func apartNear(x []float64, i int) float64 {
	const around = 20
	d := make([]float64, 0, 2*around)
	for k := i - around; k <= i+around; k++ {
		if r, ok := fromNeighbours(x, k); ok && k != i {
			d = append(d, math.Abs(r))
		}
	}
	m, _ := numeric.Median(d)
	return 1.4826 * m
}

// fromNeighbours returns how far a value is from the median of itself and two on either side.
func fromNeighbours(x []float64, i int) (float64, bool) {
	if i < 2 || i+2 >= len(x) {
		return 0, false
	}
	w := [5]float64{x[i-2], x[i-1], x[i], x[i+1], x[i+2]}
	for k := 1; k < 5; k++ {
		for j := k; j > 0 && w[j] < w[j-1]; j-- {
			w[j], w[j-1] = w[j-1], w[j]
		}
	}
	r := x[i] - w[2]
	return r, r == r && w[0] == w[0] && w[4] == w[4]
}

// resolution returns the step that all changes are multiples of, 0 if there is none.
func resolution(steps, raw []float64) float64 {
	scale := 0.0
	for i := 0; i < len(raw); i += max(1, len(raw)/1000) {
		if v := math.Abs(raw[i]); v > scale {
			scale = v
		}
	}
	var some []float64
	for _, d := range steps {
		if d > 1e-9*scale {
			some = append(some, d)
		}
	}
	if len(some) < 3 {
		return 0
	}
	sort.Float64s(some)
	d := some[0]
	n, whole := 0, 0
	for _, s := range some {
		if q := s / d; q < 50 {
			n++
			if math.Abs(q-math.Round(q)) < 0.02*math.Max(1, q/10) {
				whole++
			}
		}
	}
	if float64(whole) < 0.97*float64(n) {
		return 0
	}
	return d
}

// blocks averages the channel over blocks of the run's time, spikes left out; NaN where it holds nothing.
func (x *channel) blocks(step float64, n int) {
	x.track = make([]float64, n)
	spike := 0
	k, sum, count := -1, 0.0, 0
	put := func() {
		if k >= 0 && k < n && count > 0 {
			x.track[k] = sum / float64(count)
		}
	}
	for i := range x.track {
		x.track[i] = math.NaN()
	}
	begin := step * float64(k)
	for i, v := range x.raw {
		if spike < len(x.spikes) && x.spikes[spike] == i {
			spike++
			continue
		}
		if v != v {
			continue
		}
		if t := x.time[i]; t < begin || t >= begin+step {
			put()
			k, sum, count = int(math.Floor(t/step)), 0, 0
			begin = step * float64(k)
		}
		sum += v
		count++
	}
	put()
}

// noise returns the standard deviation of a track about its level over blocks, as large as the
// scatter that hangs together over ten blocks makes it look.
func noise(track []float64, resolution float64) float64 {
	x := make([]float64, 0, len(track))
	for _, v := range track {
		if v == v {
			x = append(x, v)
		}
	}
	spread := func(x []float64) float64 {
		d := make([]float64, 0, len(x))
		for i := 1; i < len(x); i++ {
			d = append(d, math.Abs(x[i]-x[i-1]))
		}
		if len(d) == 0 {
			return 0
		}
		// The quieter part tells the noise, even where most of the log moves.
		sort.Float64s(d)
		return numeric.Quantile(d, quietPart) / quietNormal / math.Sqrt2
	}
	const batch = 10
	var means []float64
	for i := 0; i+batch <= len(x); i += batch {
		m, _ := numeric.MeanSD(x[i : i+batch])
		means = append(means, m)
	}
	s := math.Max(spread(x), math.Sqrt(batch)*spread(means))
	s = math.Max(s, resolution/math.Sqrt(12))
	top := 0.0
	for _, v := range x {
		top = math.Max(top, math.Abs(v))
	}
	return math.Max(s, 1e-6*top)
}

// finite returns the numbers of a track between two blocks, and where they stand.
func finite(track []float64, from, to int) (values []float64, at []int) {
	for i := max(0, from); i < min(to, len(track)); i++ {
		if track[i] == track[i] {
			values, at = append(values, track[i]), append(at, i)
		}
	}
	return values, at
}
