package heat

import (
	"math"

	"jetwright/numeric"
)

const (
	steadyFloor = 1e-9 // K that a search moves less than when it has settled
	steadyTurns = 400
)

// Steady returns the temperatures of all nodes in K that a system comes to with powers and flows, nil as
// the network has them; start is where the search begins, nil for the network's. The feed, if any, is
// asked until its heat is that of the temperatures it is told. The error is an *Unsolved.
//
//	0 = Σ G·(T_j − T_i) + Σ W·(T_up − T_i) + P·(1 + α(T_i − T₀)) + Q
//
// A state in which a rise of temperature makes more heat than it takes away is none: the search says
// runaway, and which node.
//
// Source: incropera-2007. Tests: TestSteadyNetworkExact, TestNetworkLaw.
func (r *Runner) Steady(power, flow, start []float64, feed func(*Now), ceiling float64) ([]float64, error) {
	one := Duty{Legs: []Leg{{Duration: 1, Power: power, Flow: flow}}, Start: start, Feed: feed, Ceiling: ceiling}
	if err := r.check(&one); err != nil {
		return nil, err
	}
	if ceiling == 0 {
		ceiling = 1500
	}
	if power == nil {
		power = r.s.power
	}
	if flow == nil {
		flow = r.s.flow
	}
	r.setPower(power)
	if bad := r.setFlow(flow); bad != "" {
		return nil, &Unsolved{Reason: NotFinite, Node: bad}
	}
	clear(r.heat)
	clear(r.change)
	clear(r.bend)
	r.from = 0
	n := len(r.base)
	y := make([]float64, n)
	copy(y, r.s.start)
	if start != nil {
		for i, k := range r.s.free {
			y[i] = start[k]
		}
	}
	answer := func() []float64 {
		r.show(y)
		return append([]float64(nil), r.now.Temperatures...)
	}
	if feed == nil {
		if err := r.balance(y, ceiling); err != nil {
			return nil, err
		}
		return answer(), nil
	}
	// Heat asked for is heat given: a fixed point, with each step mixed with the one before
	// (Anderson) so that the change is least.
	r.d, r.rec, r.leg = &one, &Record{}, 0
	defer func() { r.d, r.rec = nil, nil }()
	given, lastGiven, miss := make([]float64, n), make([]float64, n), make([]float64, n)
	ask := func(dst []float64) error {
		flowed, bad := r.ask(0, y, dst)
		if bad != "" {
			return &Unsolved{Reason: NotFinite, Node: bad}
		}
		if flowed {
			if bad := r.setFlow(r.now.Flow); bad != "" {
				return &Unsolved{Reason: NotFinite, Node: bad}
			}
		}
		return nil
	}
	if err := ask(r.heat); err != nil {
		return nil, err
	}
	before := make([]float64, n)
	for turn := range steadyTurns {
		copy(before, y)
		if err := r.balance(y, ceiling); err != nil {
			return nil, err
		}
		moved := 0.0
		for i := range y {
			moved = math.Max(moved, math.Abs(y[i]-before[i]))
		}
		if err := ask(given); err != nil {
			return nil, err
		}
		if turn > 0 && moved < 1e-8 {
			if node, ok := r.calm(y, given); !ok {
				return nil, &Unsolved{Reason: Runaway, Node: node}
			}
			return answer(), nil
		}
		top, bottom := 0.0, 0.0
		for i := range given {
			m := given[i] - r.heat[i]
			d := m - miss[i]
			top += m * d
			bottom += d * d
			miss[i] = m
		}
		mix := 0.0
		if turn > 1 && bottom > 0 {
			mix = math.Max(-2, math.Min(0.9, top/bottom))
		}
		for i := range given {
			r.heat[i] = given[i] - mix*(given[i]-lastGiven[i])
			lastGiven[i] = given[i]
		}
	}
	node, hot := r.hottest(y)
	return nil, &Unsolved{Reason: NotSettled, Node: node, Temperature: hot}
}

// calm tells whether heat of the feed dies away after a nudge: the growth of a small heat through
// temperatures and feed, by a few turns.
func (r *Runner) calm(y, heat []float64) (node string, ok bool) {
	n := len(y)
	nudge, then, more := make([]float64, n), make([]float64, n), make([]float64, n)
	size := 0.0
	for _, q := range heat {
		size = math.Max(size, math.Abs(q))
	}
	if size == 0 {
		return "", true
	}
	for i := range nudge {
		nudge[i] = 1e-4 * size
	}
	growth := 0.0
	for range 10 {
		r.Slope(r.lu.Matrix(), y, 0)
		if !r.lu.Factor() {
			return "", true
		}
		for i := range then {
			then[i] = -nudge[i]
		}
		r.lu.Solve(then)
		for i := range then {
			then[i] += y[i]
		}
		if _, bad := r.ask(0, then, more); bad != "" {
			return bad, false
		}
		a, b := 0.0, 0.0
		at := 0
		for i := range more {
			more[i] -= heat[i]
			a, b = math.Max(a, math.Abs(more[i])), math.Max(b, math.Abs(nudge[i]))
			if more[i] > more[at] {
				at = i
			}
		}
		if a <= 1e-9*b {
			return "", true
		}
		growth = a / b
		node = r.s.Names[r.s.free[at]]
		for i := range nudge {
			nudge[i] = more[i] * (1e-4 * size / a)
		}
	}
	return node, growth < 1
}

// balance moves y to where nothing flows in on balance: Newton's way first, and where that
// does not settle at a state that holds, the way that time would go, in growing steps.
func (r *Runner) balance(y []float64, ceiling float64) error {
	n := len(y)
	copy(r.hold, y)
	for range 40 {
		moved, ok := r.newton(y, 0)
		if !ok {
			break
		}
		if r.s.straight {
			moved, ok = r.newton(y, 0) // rounding only
			if !ok {
				break
			}
		}
		if moved < steadyFloor*10 || r.s.straight {
			if node, ok := r.stable(y); !ok {
				if r.s.straight {
					return &Unsolved{Reason: Runaway, Node: node}
				}
				break
			}
			if node, hot := r.hottest(y); hot > ceiling {
				return &Unsolved{Reason: Runaway, Node: node, Temperature: hot}
			}
			if node, cold := r.coldest(y); cold <= 0 {
				return &Unsolved{Reason: Runaway, Node: node, Temperature: cold}
			}
			return nil
		}
	}
	copy(y, r.hold)
	step := 1.0
	for range 4000 {
		copy(r.best, y)
		r.Slope(r.matrix, y, 0)
		for i := range r.matrix {
			r.matrix[i] = -r.matrix[i]
		}
		for i, m := range r.s.mass {
			r.matrix[i*n+i] += math.Max(m, 1) / step
		}
		if !numeric.RisingAll(n, r.matrix) {
			if step *= 0.25; step < 1e-9 {
				break
			}
			continue
		}
		moved, ok := r.newton(y, 1/step)
		if node, hot := r.hottest(y); hot > ceiling || !ok {
			if !ok || moved > 50 {
				copy(y, r.best)
				if step *= 0.25; step < 1e-9 {
					break
				}
				continue
			}
			return &Unsolved{Reason: Runaway, Node: node, Temperature: hot}
		}
		if moved < steadyFloor && step > 1e8 {
			if node, ok := r.stable(y); !ok {
				return &Unsolved{Reason: Runaway, Node: node}
			}
			return nil
		}
		if moved < 20 {
			step = math.Min(step*2, 1e12)
		} else {
			copy(y, r.best)
			step *= 0.25
		}
	}
	node, hot := r.hottest(y)
	if _, ok := r.stable(y); !ok {
		return &Unsolved{Reason: Runaway, Node: node, Temperature: hot}
	}
	return &Unsolved{Reason: NotSettled, Node: node, Temperature: hot}
}

// newton moves y by one step; drag is one over the length of a step in time, 0 for none.
func (r *Runner) newton(y []float64, drag float64) (moved float64, ok bool) {
	n := len(y)
	m := r.lu.Matrix()
	r.Slope(m, y, 0)
	for i := range m {
		m[i] = -m[i]
	}
	for i, c := range r.s.mass {
		m[i*n+i] += math.Max(c, 1) * drag
	}
	r.Rate(r.right, y, 0)
	if !r.lu.Factor() {
		return 0, false
	}
	r.lu.Solve(r.right)
	for i, d := range r.right {
		y[i] += d
		moved = math.Max(moved, math.Abs(d))
	}
	return moved, finite(moved)
}

// stable tells whether every temperature falls back after a nudge, and names the node that grows
// most if not.
func (r *Runner) stable(y []float64) (node string, ok bool) {
	n := len(y)
	r.Slope(r.matrix, y, 0)
	shift := 0.0
	for i := range r.matrix {
		r.matrix[i] = -r.matrix[i]
		shift = math.Max(shift, math.Abs(r.matrix[i]))
	}
	copy(r.small, r.matrix)
	if numeric.RisingAll(n, r.small) {
		return "", true
	}
	v, w := r.right, r.guess
	for i := range v {
		v[i] = 1
	}
	for range 2000 { // the mode that grows
		top := 0.0
		for i := range w {
			sum := 2 * shift * v[i]
			for j, x := range v {
				sum -= r.matrix[i*n+j] * x
			}
			w[i] = sum
			top = math.Max(top, math.Abs(sum))
		}
		for i := range w {
			v[i] = w[i] / top
		}
	}
	at := 0
	for i := range v {
		if v[i] > v[at] {
			at = i
		}
	}
	return r.s.Names[r.s.free[at]], false
}
