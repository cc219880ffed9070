package reckon

import (
	"math"

	"jetwright/drive"
	"jetwright/numeric"
	"jetwright/quantity"
)

// Rules of freeing a time constant. Our own.
const (
	freedMost = 3.5 // share of the freed part in place of the design's own, at most; at least none of it
	freedGrid = 60  // time constants that a search begins with
	freedFar  = 100.0
)

// freed frees the time constant of a driven fit of one term from what the law of the heat says of one load against another: the heat
// is taken as two parts, each with a rise of its own and both with one time constant. Where the record has one load the
// two cannot be told apart and the constant stays.
//
// For a time constant everything else is linear, so that the least squares by it are a curve in one unknown, and the interval is where that
// curve lies below the 90 % bound.
func freed(tr drive.Trace, part []float64, r *drive.Response) {
	if len(r.Terms) != 1 {
		return
	}
	f := &freedFit{tr: tr, part: part, lu: numeric.NewLU(3), left: make([]float64, len(tr.Times))}
	for i := range tr.Times {
		f.one, f.two = append(f.one, 0), append(f.two, 0)
		f.rest = append(f.rest, tr.Heat[i]-part[i])
	}
	n := float64(len(tr.Times))
	span := tr.Times[len(tr.Times)-1] - tr.Times[0]
	low, high := math.Log(span/2000), math.Log(freedFar*span)
	pitch := (high - low) / (freedGrid - 1)
	at, least := low, math.Inf(1)
	for k := range freedGrid {
		if x := low + pitch*float64(k); f.squares(x) < least {
			at, least = x, f.squares(x)
		}
	}
	if at > math.Log(4*span) {
		return // too short a record: the one term's own interval says so
	}
	a, b := at-pitch, at+pitch
	const golden = 0.6180339887498949
	for range 40 {
		p, q := b-golden*(b-a), a+golden*(b-a)
		if f.squares(p) < f.squares(q) {
			b = q
		} else {
			a = p
		}
	}
	at = 0.5 * (a + b)
	least = f.squares(at)
	variance := math.Max(least/(n-4), tr.Step*tr.Step/12)
	rho := math.Max(0, math.Min(0.95, numeric.Autocorrelation(f.left, 1)))
	variance *= (1 + rho) / (1 - rho)
	bound := least + warmthZ*warmthZ*variance
	end := func(way float64) quantity.Optional {
		var out float64
		in, step := at, 0.01
		for {
			out = in + way*step
			if out < low || out > high {
				return quantity.Optional{}
			}
			if f.squares(out) > bound {
				break
			}
			in = out
			step = math.Min(2*step, pitch)
		}
		for range 30 {
			if mid := 0.5 * (in + out); f.squares(mid) > bound {
				out = mid
			} else {
				in = mid
			}
		}
		return quantity.Some(math.Exp(0.5 * (in + out)))
	}
	t := &r.Terms[0]
	t.TimeConstant, t.Low, t.High = math.Exp(at), end(-1), end(1)
	if t.Low.Set && t.High.Set {
		t.Error = 0.5 * (t.High.Value - t.Low.Value) / warmthZ
	}
}

// freedFit is the fit of two parts of a heat with one time constant.
type freedFit struct {
	tr         drive.Trace
	part, rest []float64 // W
	one, two   []float64 // responses to rest and part, W
	left       []float64
	lu         *numeric.LU
}

// respondTo fills the response to a heat that is straight between its values.
func respondTo(dst, times, heat []float64, tau float64) {
	dst[0] = 0
	for i := 1; i < len(times); i++ {
		dt := times[i] - times[i-1]
		keep, gone := math.Exp(-dt/tau), -math.Expm1(-dt/tau)
		slope := (heat[i] - heat[i-1]) / dt
		dst[i] = dst[i-1]*keep + heat[i-1]*gone + slope*(dt-tau*gone)
	}
}

// squares are the least that a time constant leaves, by its logarithm.
func (f *freedFit) squares(logTau float64) float64 {
	tau := math.Exp(logTau)
	respondTo(f.one, f.tr.Times, f.rest, tau)
	respondTo(f.two, f.tr.Times, f.part, tau)
	p, ok := f.solve(func(i int) (float64, float64) { return f.one[i], f.two[i] })
	if share := p[2] / p[1]; !ok || !(p[1] > 0) || share < 0 || share > freedMost {
		best := math.Inf(1)
		for _, s := range [...]float64{0, 1, freedMost} { // at an end of what the share may be, or the design's own
			q, ok := f.solve(func(i int) (float64, float64) { return f.one[i] + s*f.two[i], 0 })
			if sum := f.misses(func(i int) float64 { return q[0] + q[1]*(f.one[i]+s*f.two[i]) }); ok && sum < best {
				best, p = sum, [3]float64{q[0], q[1], s * q[1]}
			}
		}
	}
	return f.misses(func(i int) float64 { return p[0] + p[1]*f.one[i] + p[2]*f.two[i] })
}

func (f *freedFit) misses(model func(i int) float64) float64 {
	sum := 0.0
	for i, y := range f.tr.Temperatures {
		f.left[i] = y - model(i)
		sum += f.left[i] * f.left[i]
	}
	return sum
}

// solve finds constant and two factors by least squares; the second column may be nothing.
func (f *freedFit) solve(columns func(i int) (a, b float64)) (p [3]float64, ok bool) {
	m := f.lu.Matrix()
	clear(m)
	var right [3]float64
	mean := f.tr.Temperatures[0]
	for i, y := range f.tr.Temperatures {
		a, b := columns(i)
		row := [3]float64{1, a, b}
		for j := range row {
			for k := range row {
				m[3*j+k] += row[j] * row[k]
			}
			right[j] += row[j] * (y - mean)
		}
	}
	if m[8] == 0 {
		m[8] = 1
	}
	for j := range right {
		m[4*j] *= 1 + 1e-10 // two parts of one course are split evenly
	}
	if !f.lu.Factor() {
		return p, false
	}
	f.lu.Solve(right[:])
	return [3]float64{right[0] + mean, right[1], right[2]}, true
}
