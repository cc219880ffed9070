package heat

import "math"

// flat is the difference in K within which natural convection is taken as conduction.
const flat = 0.01

// setFlow takes flows on; bad names a conductance whose curve gives none.
func (r *Runner) setFlow(flow []float64) (bad string) {
	copy(r.flow, flow)
	for i := range r.s.edges {
		switch e := &r.s.edges[i]; e.law {
		case Constant, ByDifference:
			r.g[i] = e.value
		case ByFlow:
			w := r.flow[e.stream]
			if e.beside >= 0 {
				w += r.flow[e.beside]
			}
			if e.curve != nil {
				if r.g[i] = e.curve(w); !(r.g[i] > 0 && r.g[i] <= largest) {
					bad = e.name
				}
				continue
			}
			r.g[i] = e.remain
			if w > 0 {
				r.g[i] += e.value * math.Pow(w/e.reference, e.exponent)
			}
		}
	}
	return bad
}

// setPower takes powers of the sources on.
func (r *Runner) setPower(power []float64) {
	clear(r.base)
	clear(r.growth)
	for i, p := range r.s.source {
		r.base[p] += power[i] * (1 - r.s.alpha[i]*r.s.refs[i])
		r.growth[p] += power[i] * r.s.alpha[i]
	}
}

// carried is the conductance of an edge at a difference of temperature, and the derivative of its heat.
func (r *Runner) carried(i int, difference float64) (g, slope float64) {
	e := &r.s.edges[i]
	if e.law != ByDifference {
		return r.g[i], r.g[i]
	}
	d2 := difference * difference
	x := d2 + flat*flat
	p := e.value * math.Pow(x/(e.reference*e.reference), 0.5*e.exponent)
	g = e.remain + p
	return g, g + p*e.exponent*d2/x
}

// Linear tells whether heat is linear in the temperatures.
func (r *Runner) Linear() bool { return r.s.straight }

// Rate writes the heat into each free node, W.
func (r *Runner) Rate(dst, y []float64, t float64) {
	dt := t - r.from
	for i := range dst {
		dst[i] = r.base[i] + r.growth[i]*y[i] + r.heat[i] + r.change[i]*dt + r.bend[i]*dt*(dt-r.step)
	}
	for i := range r.s.edges {
		e := &r.s.edges[i]
		var d float64
		if e.to < 0 {
			d = y[e.from] - r.s.held[-1-e.to]
		} else {
			d = y[e.from] - y[e.to]
		}
		q := r.g[i] * d
		if e.law == ByDifference {
			g, _ := r.carried(i, d)
			q = g * d
		}
		dst[e.from] -= q
		if e.to >= 0 {
			dst[e.to] += q
		}
	}
	for _, l := range r.s.links {
		up := 0.0
		if l.up < 0 {
			up = r.s.held[-1-l.up]
		} else {
			up = y[l.up]
		}
		dst[l.down] += r.flow[l.stream] * (up - y[l.down])
	}
}

// Slope writes the derivatives of Rate, row by row.
func (r *Runner) Slope(dst, y []float64, _ float64) {
	n := len(r.base)
	clear(dst)
	for i, g := range r.growth {
		dst[i*n+i] = g
	}
	for i := range r.s.edges {
		e := &r.s.edges[i]
		g := r.g[i]
		if e.law == ByDifference {
			if e.to < 0 {
				_, g = r.carried(i, y[e.from]-r.s.held[-1-e.to])
			} else {
				_, g = r.carried(i, y[e.from]-y[e.to])
			}
		}
		dst[e.from*n+e.from] -= g
		if e.to >= 0 {
			dst[e.to*n+e.to] -= g
			dst[e.from*n+e.to] += g
			dst[e.to*n+e.from] += g
		}
	}
	for _, l := range r.s.links {
		w := r.flow[l.stream]
		dst[l.down*n+l.down] -= w
		if l.up >= 0 {
			dst[l.down*n+l.up] += w
		}
	}
}

// account is the heat made and the heat lost at temperatures y, W.
func (r *Runner) account(y []float64, t float64) (in, out float64) {
	dt := t - r.from
	for i := range r.base {
		in += r.base[i] + r.growth[i]*y[i] + r.heat[i] + r.change[i]*dt + r.bend[i]*dt*(dt-r.step)
	}
	for i := range r.s.edges {
		if e := &r.s.edges[i]; e.to < 0 {
			d := y[e.from] - r.s.held[-1-e.to]
			g, _ := r.carried(i, d)
			out += g * d
		}
	}
	at := func(p int) float64 {
		if p < 0 {
			return r.s.held[-1-p]
		}
		return y[p]
	}
	for i, e := range r.s.ends {
		out += r.flow[i] * (at(e[1]) - at(e[0]))
	}
	return in, out
}
