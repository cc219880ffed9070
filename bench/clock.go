package bench

import (
	"errors"
	"math"
	"sort"

	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/stat"

	"jetwright/numeric"
)

// LogClock turns the time of a log into the run's: t_log = Offset + (1 + Drift)·t_run.
type LogClock struct {
	Offset, Drift float64 // s, -; the lag of a slow instrument is part of the offset that was found
	Lag           float64 // s, typed; taken off on top of a typed offset
	UOffset       float64 // standard uncertainty of the offset in the middle of the run, s
	UDrift        float64 // standard uncertainty of the drift, -
	Typed         bool    // typed, not found
	Shared        string  // what it was found from
	Correlation   float64 // of what the two share, at the best offset
	Windows       int     // stretches that carried the line
}

// Run returns the run's time of a log's time, s.
func (c LogClock) Run(log float64) float64 { return (log - c.Lag - c.Offset) / (1 + c.Drift) }

// Log returns the log's time of a run's time, s.
func (c LogClock) Log(run float64) float64 { return c.Offset + c.Lag + (1+c.Drift)*run }

// Limits of what counts as shared.
const (
	clockBlur        = 3.0   // s, over which both are averaged three times before they are laid on each other
	tapLook          = 0.021 // s between two values, up to which a clock from one quantity is told by more than its looks
	tapLag           = 0.06  // s between the best shift of steps and that of what is blurred, up to which no lag to speak of stands between
	tapUnknown       = 0.006 // s, standard uncertainty of what is left of a lag
	clockWindow      = 30.0  // s, stretch within which the two are a straight line of each other
	clockLeast       = 20.0  // rows that such a stretch holds at least
	sharedLeast      = 0.35  // least correlation of their changes
	peakShare        = 0.5   // of the best correlation of changes, from which an offset is looked at
	peaksMost        = 12    // offsets that are looked at
	levelsApart      = 1.5   // by which the next offset must fit worse, as unexplained variance
	clockOverlap     = 0.25  // least share of the shorter log that must lie within the other
	driftUsual       = 5e-4  // standard uncertainty of the drift of a clock that nothing is known of: quartz holds 1e-4, a ceramic resonator 5e-3
	coarseLeast      = 0.1   // s, finest step of the first search
	clockIterations  = 40
	clockInformation = 0.02 // windows that hold less than this share of the best window's information are left out
)

// errNothingShared says that two logs have nothing in common to set their clocks by.
var errNothingShared = errors.New("nothing in them moves together")

// FindClock finds the clock of a second log from a signal that moves with one of the first.
//
//	minimise Σ_windows Σ (y(t_log) − a_w − b_w·x(t_run))²,  t_run = (t_log − o)/(1 + d)
//
//	o, d      offset in s and drift
//	a_w, b_w  straight line between the two signals within a window of 30 s
//
// The start comes from the correlation of their changes over all offsets. The uncertainty is
// that of the windows taken as independent, so scatter that hangs together within one does
// not make it too small. The error says that nothing is shared.
//
// Holds where the one follows the other without delay; a lag of the second is part of the offset.
//
// Source: rhudy-2014. Tests: TestClockPublished, TestClockLaw.
func FindClock(tx, x, ty, y []float64) (LogClock, error) {
	c, s, err := coarseClock(tx, x, ty, y)
	if err != nil {
		return c, err
	}
	return fineClock(c, s.tx, smoothed(s.x), s.ty, s.y, 0)
}

// pair are two signals, thinned to about the same rate.
type pair struct{ tx, x, ty, y []float64 }

// coarseClock finds where the search for a clock begins.
func coarseClock(tx, x, ty, y []float64) (LogClock, pair, error) {
	tx, x = present(tx, x)
	ty, y = present(ty, y)
	if len(x) < 20 || len(y) < 20 {
		return LogClock{}, pair{}, errNothingShared
	}
	// A log that is written much more often than the other says no more than its means do.
	stepX, stepY := (tx[len(tx)-1]-tx[0])/float64(len(tx)-1), (ty[len(ty)-1]-ty[0])/float64(len(ty)-1)
	tx, x = thinned(tx, x, int(stepY/stepX/2))
	ty, y = thinned(ty, y, int(stepX/stepY/2))
	if len(x) < 20 || len(y) < 20 {
		return LogClock{}, pair{}, errNothingShared
	}
	offset, r, err := coarseOffset(tx, x, ty, y)
	return LogClock{Offset: offset, Correlation: r}, pair{tx, x, ty, y}, err
}

// FindClockLag finds the clock of a second log that shows the same quantity as the first through an
// instrument of another lag. The offset holds the whole delay. A lag changes the shape of a step, so
// the best shift of the raw signals is not the difference of the lags; blurred alike over several
// seconds, the two differ by their delay alone.
//
//	minimise as FindClock does, y and x averaged three times over 3 s
//
// Holds for lags of first order that differ by less than 0.7 s; at one second an eighth of it is missed. Taps that
// are read 50 times a second or more, and whose lags differ by little, are told to some hundredths of a second.
//
// Source: own; rhudy-2014. Tests: TestClockLagExact, TestClockSharedTapExact.
func FindClockLag(tx, x, ty, y []float64) (LogClock, error) {
	c, s, err := coarseClock(tx, x, ty, y)
	if err != nil {
		return c, err
	}
	look := math.Max((s.tx[len(s.tx)-1]-s.tx[0])/float64(len(s.tx)), (s.ty[len(s.ty)-1]-s.ty[0])/float64(len(s.ty)))
	tx, x = blurred(s.tx, s.x, look)
	ty, y = blurred(s.ty, s.y, look)
	if len(x) < 20 || len(y) < 20 {
		return c, errNothingShared
	}
	wide, err := fineClock(c, tx, x, ty, y, 0)
	if err != nil || look > tapLook {
		return wide, err
	}
	// Two taps of one quantity that are read often are blurred far beyond their looks. Where the steps
	// themselves lie where the blurred ones do, no lag to speak of stands between.
	sharp, err := fineClock(c, s.tx, smoothed(s.x), s.ty, s.y, 0)
	middle := 0.5 * (ty[0] + ty[len(ty)-1])
	if err != nil || math.Abs(sharp.Run(middle)-wide.Run(middle)) > tapLag {
		return wide, nil
	}
	c, err = fineClock(c, tx, x, ty, y, look)
	c.UOffset = math.Hypot(c.UOffset, tapUnknown)
	return c, err
}

// blurred averages a signal three times over clockBlur, or over three looks of the slower log, which
// is nearly a bell curve, and leaves out what lies so near a gap that the curve would be cut. It
// keeps as many values as are still different. A symmetric curve moves no time.
func blurred(t, x []float64, look float64) (times, values []float64) {
	interval := (t[len(t)-1] - t[0]) / float64(len(t)-1)
	half := int(math.Max(clockBlur, 3*look) / interval / 2)
	if half < 1 {
		return t, x
	}
	wide := 2*half + 1
	for range 3 {
		times, values = make([]float64, 0, len(t)), make([]float64, 0, len(x))
		sumT, sum := 0.0, 0.0
		for i := range t {
			sumT, sum = sumT+t[i]-t[0], sum+x[i]-x[0]
			if i >= wide {
				sumT, sum = sumT-t[i-wide]+t[0], sum-x[i-wide]+x[0]
			}
			if i >= wide-1 && t[i]-t[i-wide+1] < 1.5*float64(wide)*interval {
				times, values = append(times, t[0]+sumT/float64(wide)), append(values, x[0]+sum/float64(wide))
			}
		}
		t, x = times, values
		if len(t) < 2*wide {
			break
		}
	}
	every := max(1, half/3)
	n := 0
	for i := 0; i < len(t); i += every {
		t[n], x[n] = t[i], x[i]
		n++
	}
	return t[:n], x[:n]
}

// thinned averages n samples in a row, and their times.
func thinned(t, x []float64, n int) (times, values []float64) {
	if n < 2 {
		return t, x
	}
	times, values = make([]float64, 0, len(x)/n), make([]float64, 0, len(x)/n)
	for i := 0; i+n <= len(x); i += n {
		at, sum := 0.0, 0.0
		for k := range n {
			at += t[i+k]
			sum += x[i+k]
		}
		times, values = append(times, at/float64(n)), append(values, sum/float64(n))
	}
	return times, values
}

// smoothed weighs neighbours by 1, 4, 6, 4, 1. Straight lines between raw samples carry less noise
// in the middle than at the samples, which would draw the clock there; between these they
// carry nearly the same, and a symmetric weight moves no time.
func smoothed(x []float64) []float64 {
	out := append([]float64(nil), x...)
	for i := 2; i+2 < len(x); i++ {
		out[i] = (x[i-2] + 4*x[i-1] + 6*x[i] + 4*x[i+1] + x[i+2]) / 16
	}
	return out
}

// present drops missing samples, and those whose time stands still or steps back.
func present(t, x []float64) (times, values []float64) {
	times, values = make([]float64, 0, len(x)), make([]float64, 0, len(x))
	for i, v := range x {
		if v == v && (len(times) == 0 || t[i] > times[len(times)-1]) {
			times, values = append(times, t[i]), append(values, v)
		}
	}
	return times, values
}

// interpolate returns values at rising times, straight between samples; NaN outside.
func interpolate(t, x []float64, at float64, hint *int) float64 {
	i := *hint
	for i > 0 && t[i] > at {
		i--
	}
	for i+2 < len(t) && t[i+1] <= at {
		i++
	}
	*hint = i
	if at < t[i] || at > t[i+1] {
		return math.NaN()
	}
	return x[i] + (x[i+1]-x[i])*(at-t[i])/(t[i+1]-t[i])
}

// evenly samples a signal at even steps; where it holds nothing, straight lines lead on.
func evenly(t, x []float64, step float64) []float64 {
	n := int((t[len(t)-1]-t[0])/step) + 1
	even := make([]float64, n)
	count := make([]float64, n)
	for i, v := range x {
		if k := int((t[i] - t[0]) / step); k >= 0 && k < n {
			even[k] += v
			count[k]++
		}
	}
	hint := 0
	for k := range even {
		if count[k] > 0 {
			even[k] /= count[k]
		} else if v := interpolate(t, x, t[0]+(float64(k)+0.5)*step, &hint); v == v {
			even[k] = v
		} else if k > 0 {
			even[k] = even[k-1]
		}
	}
	return even
}

// changesOf returns the changes of an even signal over a second.
func changesOf(even []float64, step float64) []float64 {
	n := len(even)
	span := max(1, int(1/step+0.5))
	out := make([]float64, n)
	for k := span; k+span < n; k++ {
		before, after := 0.0, 0.0
		for j := range span {
			before += even[k-1-j]
			after += even[k+j]
		}
		out[k] = after - before
	}
	return out
}

// coarseOffset correlates the changes of two signals over all offsets.
func coarseOffset(tx, x, ty, y []float64) (offset, r float64, err error) {
	longest := math.Max(tx[len(tx)-1]-tx[0], ty[len(ty)-1]-ty[0])
	interval := math.Max((tx[len(tx)-1]-tx[0])/float64(len(tx)), (ty[len(ty)-1]-ty[0])/float64(len(ty)))
	step := math.Max(coarseLeast, math.Max(interval, longest/200000))
	a, b := changesOf(evenly(tx, x, step), step), changesOf(evenly(ty, y, step), step)
	size := 1
	for size < len(a)+len(b) {
		size *= 2
	}
	fft := fourier.NewFFT(size)
	pad := func(v []float64) []complex128 {
		p := make([]float64, size)
		copy(p, v)
		return fft.Coefficients(nil, p)
	}
	fa, fb := pad(a), pad(b)
	for i := range fa {
		fa[i] = complex(real(fa[i]), -imag(fa[i])) * fb[i]
	}
	cross := fft.Sequence(nil, fa)
	for i := range cross {
		cross[i] /= float64(size)
	}
	energyA, energyB := running(a), running(b)
	least := int(clockOverlap * float64(min(len(a), len(b))))
	score := func(shift int) (float64, bool) { // b[k+shift] goes with a[k]
		from, to := max(0, -shift), min(len(a), len(b)-shift)
		if to-from < least {
			return 0, false
		}
		e := (energyA[to] - energyA[from]) * (energyB[to+shift] - energyB[from+shift])
		if !(e > 0) {
			return 0, false
		}
		// Energy left outside the overlap counts against the offset.
		whole := math.Sqrt(energyA[len(a)] * energyB[len(b)])
		return cross[(shift+size)%size] / math.Sqrt(math.Sqrt(e)*whole), true
	}
	scores := make(map[int]float64)
	best := 0.0
	for s := -len(a) + least; s <= len(b)-least; s++ {
		if v, ok := score(s); ok {
			scores[s] = v
			best = math.Max(best, v)
		}
	}
	if best < sharedLeast {
		return 0, best, errNothingShared
	}
	at, ok := bestLevels(evenly(tx, x, step), evenly(ty, y, step), peaks(scores, best, int(10/step)+1))
	if !ok {
		return 0, best, errNothingShared
	}
	best = scores[at]
	frac := 0.0
	if l, ok1 := score(at - 1); ok1 {
		if h, ok2 := score(at + 1); ok2 && 2*best-l-h > 0 {
			frac = 0.5 * (h - l) / (2*best - l - h)
		}
	}
	return ty[0] - tx[0] + (float64(at)+frac)*step, best, nil
}

// peaks are the offsets whose score stands out, the best first, each away from better ones.
func peaks(scores map[int]float64, best float64, away int) []int {
	var all, out []int
	for s, v := range scores {
		if v > peakShare*best {
			all = append(all, s)
		}
	}
	sort.Slice(all, func(i, k int) bool {
		if scores[all[i]] != scores[all[k]] {
			return scores[all[i]] > scores[all[k]]
		}
		return all[i] < all[k]
	})
	for _, s := range all {
		near := false
		for _, p := range out {
			near = near || s > p-away && s < p+away
		}
		if !near {
			out = append(out, s)
		}
		if len(out) == peaksMost {
			break
		}
	}
	return out
}

// bestLevels returns the offset at which the one is the straightest line of the other, not in
// its changes alone: equal steps fit each other at every step. It fails if two do it alike.
func bestLevels(a, b []float64, offsets []int) (at int, ok bool) {
	best, second := math.Inf(1), math.Inf(1)
	for _, s := range offsets {
		from, to := max(0, -s), min(len(a), len(b)-s)
		if to-from < 10 {
			continue
		}
		r := stat.Correlation(a[from:to], b[from+s:to+s], nil)
		rest := 1 - r*r
		if !(r > 0) {
			rest = 1
		}
		if rest < best {
			best, second, at = rest, best, s
		} else {
			second = math.Min(second, rest)
		}
	}
	return at, best < 1 && second > levelsApart*best
}

func running(x []float64) []float64 {
	out := make([]float64, len(x)+1)
	for i, v := range x {
		out[i+1] = out[i] + v*v
	}
	return out
}

// window is what a stretch says of offset and drift.
type window struct {
	gradient    [2]float64    // of half the sum of squares, scaled by its scatter
	information [2][2]float64 // of offset and drift
}

// fineClock improves offset and drift by Gauss and Newton, the straight lines projected out.
func fineClock(c LogClock, tx, x, ty, y []float64, coarse float64) (LogClock, error) {
	middle := 0.5 * (ty[0] + ty[len(ty)-1]) // drift turns about here, so that it and the offset part
	o, d := c.Offset, 0.0
	width := math.Max((tx[len(tx)-1]-tx[0])/float64(len(tx)), (ty[len(ty)-1]-ty[0])/float64(len(ty))) / 2
	if coarse == 0 {
		coarse = 2 * width
	}
	// A stretch holds enough of a slow log to tell a way from scatter.
	stretch := math.Max(clockWindow, clockLeast*(ty[len(ty)-1]-ty[0])/float64(len(ty)))
	n := max(3, int(math.Ceil((ty[len(ty)-1]-ty[0])/stretch)))
	var used []window
	for range clockIterations {
		used = used[:0]
		most := 0.0
		for w := range n {
			from := ty[0] + float64(w)*(ty[len(ty)-1]-ty[0])/float64(n)
			to := ty[0] + float64(w+1)*(ty[len(ty)-1]-ty[0])/float64(n)
			if s, ok := windowAt(tx, x, ty, y, o, d, middle, from, to, width); ok {
				used = append(used, s)
				most = math.Max(most, s.information[0][0])
			}
		}
		kept := used[:0]
		for _, s := range used {
			if s.information[0][0] > clockInformation*most {
				kept = append(kept, s)
			}
		}
		used = kept
		var g [2]float64
		var h [2][2]float64
		for _, s := range used {
			for i := range 2 {
				g[i] += s.gradient[i]
				for j := range 2 {
					h[i][j] += s.information[i][j]
				}
			}
		}
		// No instrument's clock is far off; that carries where the log itself tells no drift.
		h[1][1] += 1 / (driftUsual * driftUsual)
		g[1] += d / (driftUsual * driftUsual)
		det := h[0][0]*h[1][1] - h[0][1]*h[1][0]
		if !(det > 0) {
			return c, errNothingShared
		}
		inverse := [2][2]float64{{h[1][1] / det, -h[0][1] / det}, {-h[1][0] / det, h[0][0] / det}}
		do := -(inverse[0][0]*g[0] + inverse[0][1]*g[1])
		dd := -(inverse[1][0]*g[0] + inverse[1][1]*g[1])
		do = math.Max(-1, math.Min(1, do))
		o += do
		d += dd
		if math.Abs(d) > 0.01 {
			return c, errNothingShared
		}
		if math.Abs(do) < 1e-7 && math.Abs(dd) < 1e-11 {
			break
		}
		// Windows as independent witnesses.
		var meat [2][2]float64
		for _, s := range used {
			for i := range 2 {
				for j := range 2 {
					meat[i][j] += s.gradient[i] * s.gradient[j]
				}
			}
		}
		cov := sandwich(inverse, meat)
		few := 1.0
		if m := len(used); m > 2 {
			few = float64(m) / float64(m-2)
		}
		c.UOffset = math.Sqrt(math.Max(cov[0][0], inverse[0][0]) * few)
		c.UDrift = math.Sqrt(math.Max(cov[1][1], inverse[1][1]) * few)
	}
	c.Windows = len(used)
	// A ramp is seen no better than the slower instrument looks.
	look := coarse / math.Sqrt(12)
	c.UOffset = math.Hypot(c.UOffset, look/math.Sqrt(float64(max(1, len(used)))))
	if arms := armSquare(used); len(used) > 1 && arms > 0 {
		c.UDrift = math.Hypot(c.UDrift, look/math.Sqrt(arms))
	}
	// t_run = (t_log − o)/(1 + d) about the middle: t_log = o + middle·… is turned to the plain form.
	c.Drift = d
	c.Offset = o - d*(middle-o)
	return c, nil
}

// armSquare is the sum of squared distances of the stretches from their middle, s².
func armSquare(used []window) float64 {
	var weight, mean float64
	for _, s := range used {
		weight += s.information[0][0]
		mean += s.information[0][1] // the arm times the information
	}
	if weight == 0 {
		return 0
	}
	mean /= weight
	sum := 0.0
	for _, s := range used {
		if s.information[0][0] > 0 {
			d := s.information[0][1]/s.information[0][0] - mean
			sum += d * d
		}
	}
	return sum
}

func sandwich(b, m [2][2]float64) [2][2]float64 {
	var t, out [2][2]float64
	for i := range 2 {
		for j := range 2 {
			for k := range 2 {
				t[i][j] += b[i][k] * m[k][j]
			}
		}
	}
	for i := range 2 {
		for j := range 2 {
			for k := range 2 {
				out[i][j] += t[i][k] * b[k][j]
			}
		}
	}
	return out
}

// windowAt compares the two signals over a stretch, with t_run = t_log − o − d·(t_log − middle)
// to first order in d.
func windowAt(tx, x, ty, y []float64, o, d, middle, from, to, width float64) (window, bool) {
	var xs, ys, slope, arm []float64
	first, last := sort.SearchFloat64s(ty, from), sort.SearchFloat64s(ty, to)
	hint := max(0, min(len(tx)-2, sort.SearchFloat64s(tx, from-o-d*(from-middle))-2))
	low, high := hint, hint
	stride := max(1, (last-first)/3000)
	for i := first; i < last; i += stride {
		at := ty[i] - o - d*(ty[i]-middle)
		v := interpolate(tx, x, at, &hint)
		a := interpolate(tx, x, at-width, &low)
		b := interpolate(tx, x, at+width, &high)
		if v != v || a != a || b != b {
			continue
		}
		xs, ys = append(xs, v), append(ys, y[i])
		slope = append(slope, (b-a)/(2*width))
		arm = append(arm, ty[i]-middle)
	}
	var s window
	n := float64(len(xs))
	if len(xs) < 10 {
		return s, false
	}
	var mx, my float64
	for i := range xs {
		mx += xs[i] / n
		my += ys[i] / n
	}
	var sxx, sxy float64
	for i := range xs {
		sxx += (xs[i] - mx) * (xs[i] - mx)
		sxy += (xs[i] - mx) * (ys[i] - my)
	}
	if !(sxx > 0) {
		return s, false
	}
	gain := sxy / sxx
	jac := [2][]float64{make([]float64, len(xs)), make([]float64, len(xs))}
	for i := range xs {
		jac[0][i] = gain * slope[i] // of the residual y − a − b·x against o
		jac[1][i] = gain * slope[i] * arm[i]
	}
	for _, j := range jac { // take the straight line out of the derivative
		var mj, sjx float64
		for i := range j {
			mj += j[i] / n
		}
		for i := range j {
			sjx += (j[i] - mj) * (xs[i] - mx)
		}
		for i := range j {
			j[i] -= mj + sjx/sxx*(xs[i]-mx)
		}
	}
	rest := 0.0
	r := make([]float64, len(xs))
	for i := range xs {
		r[i] = ys[i] - my - gain*(xs[i]-mx)
		rest += r[i] * r[i]
	}
	variance := rest/(n-3) + 1e-12*(sxy*gain+1e-300)/n
	if !(variance > 0) {
		return s, false
	}
	tau := n / numeric.EffectiveSize(r)
	for a := range 2 {
		for i := range r {
			s.gradient[a] += jac[a][i] * r[i] / variance / tau
		}
		for b := range 2 {
			for i := range r {
				s.information[a][b] += jac[a][i] * jac[b][i] / variance / tau
			}
		}
	}
	return s, true
}
