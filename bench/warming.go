package bench

import (
	"math"

	"jetwright/quantity"
)

// Rules of warming. Our own.
const (
	warmingLeast = 12                 // values that a forecast rests on
	warmingFar   = 86400.0            // s, beyond which nothing is forecast
	warmingZ     = 1.6448536269514722 // 90 % of a normal
	warmingFit   = 4.0                // variances by which the squares of a rise that fits may be larger
)

// Forecast is when a temperature will reach a bound if nothing else changes, by its own rise. Times
// are in s from its last value.
type Forecast struct {
	Bends   bool              // the rise is seen to bend; else it is taken as straight
	Reaches quantity.Optional // s, the best estimate; not set if it stays below the bound
	Early   quantity.Optional // s, not before; not set if even the steepest rise that fits stays below
	Late    quantity.Optional // s; not set if it may never come
	Settles quantity.Optional // where a bent rise ends, SI
	High    quantity.Optional // the highest end that fits, SI; not set if nothing bounds it
}

// riseFit is a rise of one time constant, fitted.
type riseFit struct {
	tau              float64 // s, +Inf for a straight line
	a, b             float64 // value and slope at the last moment
	vaa, vab, vbb    float64 // their covariance over the variance of a value
	squares, lagged  float64 // of the residuals; of neighbours
	residualsCounted int
}

// rise is the shape of a warming body, s: its slope is one now.
func (f *riseFit) rise(h float64) float64 {
	if math.IsInf(f.tau, 1) {
		return h
	}
	return -f.tau * math.Expm1(-h/f.tau)
}

func fitRise(t, y []float64, tau float64) (riseFit, bool) {
	f := riseFit{tau: tau, residualsCounted: len(t)}
	last := t[len(t)-1]
	n, sx, sy := float64(len(t)), 0.0, 0.0
	for i := range t {
		sx += f.rise(t[i] - last)
		sy += y[i]
	}
	mx, my := sx/n, sy/n
	var sxx, sxy float64
	for i := range t {
		d := f.rise(t[i]-last) - mx
		sxx += d * d
		sxy += d * (y[i] - my)
	}
	if !(sxx > 0) || math.IsInf(sxx, 1) {
		return f, false
	}
	f.b = sxy / sxx
	f.a = my - f.b*mx
	f.vbb = 1 / sxx
	f.vab = -mx / sxx
	f.vaa = 1/n + mx*mx/sxx
	before := 0.0
	for i := range t {
		r := y[i] - f.a - f.b*f.rise(t[i]-last)
		f.squares += r * r
		f.lagged += r * before
		before = r
	}
	return f, true
}

// at is the value h seconds on, z standard deviations up.
func (f *riseFit) at(h, s, z float64) float64 {
	g := f.rise(h)
	return f.a + f.b*g + z*s*math.Sqrt(math.Max(0, f.vaa+2*f.vab*g+f.vbb*g*g))
}

// reaches is when the value, z standard deviations up, first comes to a bound.
func (f *riseFit) reaches(bound, s, z float64) (float64, bool) {
	if f.at(0, s, z) >= bound {
		return 0, true
	}
	low, high := 0.0, 1.0
	for f.at(high, s, z) < bound {
		if low, high = high, 2*high; high > warmingFar {
			return 0, false
		}
	}
	for range 60 {
		if m := 0.5 * (low + high); f.at(m, s, z) < bound {
			low = m
		} else {
			high = m
		}
	}
	return high, true
}

// Warming forecasts when a temperature reaches a bound, from its rise since the load last changed.
// Times are in s and rise; step is the instrument's smallest step.
//
//	T(h) = a + b·τ·(1 − e^(−h/τ)),  T(h) = a + b·h for τ → ∞
//
//	h  time from the last value, s
//	a  temperature now, K
//	b  its slope now, K/s
//	τ  time constant, s
//
// Every τ whose sum of squares lies within four variances of the best one is a rise that fits, and
// the times given hold all of them; where the straight line is among them, the rise does not
// bend yet and the line is the best estimate.
//
// Holds while load and cooling stay; a body behind another warms with a delay that one time constant
// does not know. With fewer than 12 values nothing is said.
//
// Source: own. Tests: TestWarmingExact, TestWarmingLaw.
func Warming(t, y []float64, bound, step float64) (Forecast, bool) {
	var out Forecast
	n := len(t)
	if n < warmingLeast || !(t[n-1] > t[0]) {
		return out, false
	}
	span := t[n-1] - t[0]
	var fits []riseFit
	best := -1
	try := func(tau float64) (riseFit, bool) {
		f, ok := fitRise(t, y, tau)
		if ok {
			fits = append(fits, f)
			if best < 0 || f.squares < fits[best].squares {
				best = len(fits) - 1
			}
		}
		return f, ok
	}
	const steps = 48
	low, high := math.Log(span/12), math.Log(30*span)
	for i := range steps {
		try(math.Exp(low + (high-low)*float64(i)/(steps-1)))
	}
	if best < 0 {
		return out, false
	}
	// between its neighbours the best time constant is found to a thousandth
	pitch := (high - low) / (steps - 1)
	from, to := math.Log(fits[best].tau)-pitch, math.Log(fits[best].tau)+pitch
	const golden = 0.6180339887498949
	p, q := to-golden*(to-from), from+golden*(to-from)
	fp, ok := try(math.Exp(p))
	fq, fine := try(math.Exp(q))
	for i := 0; i < 16 && ok && fine; i++ {
		if fp.squares < fq.squares {
			to, q, fq = q, p, fp
			p = to - golden*(to-from)
			fp, ok = try(math.Exp(p))
		} else {
			from, p, fp = p, q, fq
			q = from + golden*(to-from)
			fq, fine = try(math.Exp(q))
		}
	}
	line, ok := try(math.Inf(1))
	if !ok {
		return out, false
	}
	top := fits[best]
	variance := math.Max(top.squares/float64(n-3), step*step/12)
	scale := math.Max(variance, 1e-18*(1+top.a*top.a)) // rounding of exact data
	if top.squares > 0 {                               // neighbours that err alike say less
		rho := math.Max(0, math.Min(0.9, top.lagged/top.squares))
		scale *= (1 + rho) / (1 - rho)
	}
	s := math.Sqrt(scale)
	fit := func(f riseFit) bool { return f.squares-top.squares <= warmingFit*scale }
	if fit(line) {
		top = line
	} else {
		out.Bends = true
	}
	if h, ok := top.reaches(bound, s, 0); ok && (top.b > 0 || h == 0) {
		out.Reaches = quantity.Some(h)
	}
	never, open := false, false
	highest := math.Inf(-1)
	for _, f := range fits {
		if !fit(f) {
			continue
		}
		if h, ok := f.reaches(bound, s, warmingZ); ok && (!out.Early.Set || h < out.Early.Value) {
			out.Early = quantity.Some(h)
		}
		if h, ok := f.reaches(bound, s, -warmingZ); ok {
			if !out.Late.Set || h > out.Late.Value {
				out.Late = quantity.Some(h)
			}
		} else {
			never = true
		}
		if math.IsInf(f.tau, 1) {
			open = true
		} else {
			highest = math.Max(highest, f.at(warmingFar, s, warmingZ))
		}
	}
	if never {
		out.Late = quantity.Optional{}
	}
	if out.Bends {
		out.Settles = quantity.Some(top.at(warmingFar, s, 0))
		if !open {
			out.High = quantity.Some(highest)
		}
	}
	return out, true
}
