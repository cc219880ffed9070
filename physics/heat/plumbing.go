package heat

import (
	"fmt"
	"math"
	"slices"

	"jetwright/numeric"
)

// plumbing is a circuit by numbers.
type plumbing struct {
	places  []string
	at      map[string]int
	fixed   []float64 // pressure of each place, NaN where it is to be found
	air     []bool    // an outlet to the air
	from    []int
	to      []int
	outlets map[int]*Outlet
	near    []float64 // flows of each line that are known to be near, m³/s; nil if none are
}

// Solve returns the state of the circuit at an operating point. The error is a notice.List with everything
// that is wrong with the circuit, or an *Unsolved.
//
//	Σ Q = 0 at every junction,  P_from − P_to = Σ Δp(Q) along every line,  P = p + ρ·v²/2 + ρ·g·z
//
//	Q   flow of a line, m³/s
//	P   pressure of the place at rest, counted from the water's surface, Pa
//	Δp  loss of an element, Pa; of a pump below 0
//
// Flows and pressures are found together by Newton's method, whose matrix is symmetric; since
// every loss rises with its flow there is one answer. An outlet to the air sucks none in: where water
// would come back through it, or the pressure does not lift the water over a high point, the line is shut and says so.
//
// Source: todini-pilati-1988. Tests: TestCircuitExact, TestCircuitLaw, TestPipePublished.
func (c *Circuit) Solve(o Operating, w Fluid) (CircuitState, error) {
	p, err := c.number(o, w)
	if err != nil {
		return CircuitState{}, err
	}
	return c.solve(p, o, w)
}

// solve is Solve of a circuit that has been numbered, at its taps' pressures.
func (c *Circuit) solve(p *plumbing, o Operating, w Fluid) (CircuitState, error) {
	var s CircuitState
	for i := range c.Taps {
		t := &c.Taps[i]
		p.fixed[p.at[t.Name]] = t.Pressure.Or(t.PerKinetic * o.Kinetic)
	}
	shut := make([]string, len(c.Lines))
	flow := make([]float64, len(c.Lines))
	pressure := make([]float64, len(p.places))
	perMetre := w.Density * o.Gravity
	c.drive(&s, p, o, perMetre)
	for i, l := range c.Lines { // what is not filled does not flow
		if top, ok := highest(l); ok && len(c.Taps) > 0 && top*perMetre > s.Driving*(1+1e-12) {
			shut[i] = fmt.Sprintf("the water is not lifted to its highest point at %.0f mm; the pressure lifts it to %.0f mm", 1000*top, 1000*s.Dynamic)
		}
	}
	for turn := 0; ; turn++ {
		if err := c.newton(p, w, shut, flow, pressure); err != nil {
			return s, err
		}
		again := false
		for i := range c.Lines {
			if shut[i] != "" {
				continue
			}
			for _, end := range [2]struct {
				place int
				flow  float64
			}{{p.from[i], flow[i]}, {p.to[i], -flow[i]}} {
				if p.air[end.place] && end.flow > 0 {
					shut[i] = fmt.Sprintf("the pressure does not reach the outlet %q", p.places[end.place])
					again = true
				}
			}
		}
		if !again {
			break
		}
	}
	for i, l := range c.Lines {
		ls := LineState{Name: l.Name, Flow: flow[i], Shut: shut[i]}
		at := pressure[p.from[i]]
		ls.Lowest = math.Inf(1)
		for _, e := range l.Elements {
			d, _ := e.drop(flow[i], w)
			v, re := e.inside(flow[i], w)
			if z, _, ok := e.high(); ok {
				ls.Lowest = math.Min(ls.Lowest, o.AirPressure+math.Min(at, at-d)-perMetre*z-0.5*w.Density*v*v)
			}
			at -= d
			ls.Elements = append(ls.Elements, ElementState{Name: e.label(), Velocity: v, Reynolds: re, Drop: d})
		}
		if math.IsInf(ls.Lowest, 1) {
			ls.Lowest = o.AirPressure + math.Min(at, pressure[p.from[i]])
		}
		ls.Boils = ls.Lowest < o.Vapour
		s.Lines = append(s.Lines, ls)
		if len(c.Taps) == 0 {
			for _, e := range l.Elements {
				if _, ok := e.(*Pump); ok {
					s.Flow += math.Abs(flow[i])
					break
				}
			}
		}
	}
	for i := range c.Taps {
		k := p.at[c.Taps[i].Name]
		for j := range c.Lines {
			if p.from[j] == k {
				s.Flow += flow[j]
			}
			if p.to[j] == k {
				s.Flow -= flow[j]
			}
		}
	}
	return s, nil
}

func highest(l Line) (top float64, ok bool) {
	top = math.Inf(-1)
	for _, e := range l.Elements {
		if z, _, has := e.high(); has {
			top, ok = math.Max(top, z), true
		}
	}
	return top, ok
}

// drive works out what drives the circuit and what has to be lifted.
func (c *Circuit) drive(s *CircuitState, p *plumbing, o Operating, perMetre float64) {
	most := math.Inf(-1)
	for _, t := range c.Taps {
		most = math.Max(most, p.fixed[p.at[t.Name]])
	}
	if len(c.Taps) == 0 {
		most = 0
	}
	top, climbs := 0.0, 0.0
	for _, l := range c.Lines {
		rise := 0.0
		for _, e := range l.Elements {
			if x, ok := e.(*Pump); ok {
				most += x.Shutoff
			}
			z, r, ok := e.high()
			if ok {
				top = math.Max(top, z)
				rise += r
			}
		}
		if z, ok := highest(l); ok {
			climbs = math.Max(climbs, math.Max(rise, z))
		}
	}
	for i := range c.Outlets {
		top = math.Max(top, c.Outlets[i].Height)
	}
	s.Driving = most
	s.Filling = perMetre * top
	s.AirLock = perMetre * math.Max(climbs, top)
	s.Dynamic = most / perMetre
	s.Fills = most > 0 && most >= s.Filling
	s.Clears = most > 0 && most >= s.AirLock
}

// number checks the circuit and numbers its places.
func (c *Circuit) number(o Operating, w Fluid) (*plumbing, error) {
	var f faults
	p := &plumbing{at: map[string]int{}, outlets: map[int]*Outlet{}}
	place := func(name string) int {
		if i, ok := p.at[name]; ok {
			return i
		}
		p.at[name] = len(p.places)
		p.places = append(p.places, name)
		p.fixed = append(p.fixed, math.NaN())
		p.air = append(p.air, false)
		return len(p.places) - 1
	}
	if !(o.Kinetic >= 0 && o.Kinetic <= largest) || !(o.Gravity > 0) || !(o.AirPressure > 0) || !finite(o.AirPressure*o.Gravity) {
		f.add("circuit", fmt.Sprintf("the circuit is asked at a kinetic pressure of %g Pa, gravity %g m/s² and air of %g Pa", o.Kinetic, o.Gravity, o.AirPressure), "kinetic pressure 0 or above, gravity and air above 0", "")
	}
	for _, x := range [...]float64{w.Density, w.Viscosity, w.Conductivity, w.SpecificHeat} {
		if !finite(x) || x <= 0 {
			f.add("circuit", fmt.Sprintf("the coolant has a property of %g", x), "density, viscosity, conductivity and specific heat above 0", "")
		}
	}
	var names []string
	for i := range c.Taps {
		t := &c.Taps[i]
		names = append(names, t.Name)
		pressure := t.Pressure.Or(t.PerKinetic * o.Kinetic)
		if !sane(pressure) {
			f.add("tap."+t.Name, fmt.Sprintf("tap %q has a pressure of %g Pa", t.Name, pressure), "a finite number, at most 1e12", "")
		}
		p.fixed[place(t.Name)] = pressure
	}
	for i := range c.Outlets {
		x := &c.Outlets[i]
		names = append(names, x.Name)
		path := "outlet " + x.Name
		f.size(path, "bore", x.Bore, narrowest, widest, "m")
		f.real(path, "height", x.Height)
		k := place(x.Name)
		p.fixed[k] = w.Density * o.Gravity * math.Max(0, x.Height)
		p.air[k] = x.Height > 0
		p.outlets[k] = x
	}
	f.unique("tap or outlet", names)
	names = nil
	var parts []string
	for _, l := range c.Lines {
		names = append(names, l.Name)
		path := "line." + l.Name
		if l.From == "" || l.To == "" {
			f.add(path, fmt.Sprintf("line %q goes from %q to %q", l.Name, l.From, l.To), "names of a tap, an outlet or a junction", "")
		}
		if l.From == l.To {
			f.add(path, fmt.Sprintf("line %q ends where it begins, at %q", l.Name, l.From), "two places; a closed loop is two lines", "")
		}
		if len(l.Elements) == 0 {
			f.add(path, fmt.Sprintf("line %q has nothing in it", l.Name), "at least a hose or a fitting", "")
		}
		p.from, p.to = append(p.from, place(l.From)), append(p.to, place(l.To))
		for _, e := range l.Elements {
			parts = append(parts, e.label())
			kind := "hose"
			switch e.(type) {
			case *Fitting:
				kind = "fitting"
			case *Channel:
				kind = "channel"
			case *Pump:
				kind = "pump"
			}
			e.check(&f, fmt.Sprintf("%s %q in line %q", kind, e.label(), l.Name))
		}
	}
	f.unique("line", names)
	f.unique("element", parts)
	if len(c.Lines) == 0 {
		f.add("circuit", "the circuit has no line", "at least one line from a tap to an outlet, or a closed loop", "")
	}
	ends := make([]int, len(p.places))
	for i := range p.from {
		ends[p.from[i]]++
		ends[p.to[i]]++
	}
	for i, n := range ends {
		known := !math.IsNaN(p.fixed[i])
		if n == 0 && known {
			f.add("circuit", fmt.Sprintf("no line goes to %q", p.places[i]), "a tap or an outlet on some line", "")
		}
		if n == 1 && !known {
			f.add("circuit", fmt.Sprintf("%q is on one line only and is neither tap nor outlet: water goes nowhere from there", p.places[i]), "a name that another line shares, or a tap or an outlet of that name", "")
		}
	}
	c.driven(&f, p)
	if len(f.List) > 0 {
		return nil, f.List
	}
	return p, nil
}

// driven holds every part of the circuit that hangs together to being driven by something, and gives a
// closed loop a place to count pressure from.
func (c *Circuit) driven(f *faults, p *plumbing) {
	group := make([]int, len(p.places))
	for i := range group {
		group[i] = i
	}
	for more := true; more; {
		more = false
		for i := range p.from {
			a, b := group[p.from[i]], group[p.to[i]]
			if a != b {
				low := min(a, b)
				group[p.from[i]], group[p.to[i]] = low, low
				more = true
			}
		}
	}
	for root, g := range group {
		if g != root {
			continue
		}
		taps, outs, pumps := 0, 0, 0
		var lines []string
		for i := range c.Taps {
			if group[p.at[c.Taps[i].Name]] == g {
				taps++
			}
		}
		for k := range p.outlets {
			if group[k] == g {
				outs++
			}
		}
		for i, l := range c.Lines {
			if group[p.from[i]] != g {
				continue
			}
			lines = append(lines, l.Name)
			for _, e := range l.Elements {
				if _, ok := e.(*Pump); ok {
					pumps++
				}
			}
		}
		if len(lines) == 0 {
			continue
		}
		slices.Sort(lines)
		if taps == 0 && pumps == 0 {
			f.add("circuit", fmt.Sprintf("nothing drives the water in %q: there is neither tap nor pump", lines), "a tap with pressure, or a pump", "")
		}
		if taps+outs == 1 && pumps == 0 && taps == 1 {
			f.add("circuit", fmt.Sprintf("the water of %q has no way out", lines), "an outlet, or a second tap at another pressure", "")
		}
		if taps+outs == 0 {
			p.fixed[root] = 0
		}
	}
}

// newton finds flows and pressures with lines that are shut left out.
func (c *Circuit) newton(p *plumbing, w Fluid, shut []string, flow, pressure []float64) error {
	place := make([]int, len(p.places))
	n := 0
	reach := make([]bool, len(p.places)) // hangs on a known pressure by lines that are open
	for i, x := range p.fixed {
		reach[i] = !math.IsNaN(x)
	}
	for more := true; more; {
		more = false
		for i := range c.Lines {
			if shut[i] == "" && reach[p.from[i]] != reach[p.to[i]] {
				reach[p.from[i]], reach[p.to[i]], more = true, true, true
			}
		}
	}
	for i, x := range p.fixed {
		place[i] = -1
		pressure[i] = 0
		if !math.IsNaN(x) {
			pressure[i] = x
		} else if reach[i] {
			place[i] = n
			n++
		}
	}
	live := make([]bool, len(c.Lines))
	for i := range c.Lines {
		live[i] = shut[i] == "" && reach[p.from[i]]
		flow[i] = 0
		if live[i] && p.near != nil {
			flow[i] = p.near[i]
		}
	}
	drop := func(i int, q float64) (d, slope float64) {
		for _, e := range c.Lines[i].Elements {
			a, b := e.drop(q, w)
			d += a
			slope += b
		}
		// the jet out of an outlet keeps its speed
		for _, end := range [2]int{p.from[i], p.to[i]} {
			if x, ok := p.outlets[end]; ok {
				a, b := local(1, q, area(x.Bore), x.Bore, w)
				d += a
				slope += b
			}
		}
		return d, slope
	}
	lu := numeric.NewLU(n)
	right := make([]float64, n)
	next := make([]float64, len(c.Lines))
	drops, slopes := make([]float64, len(c.Lines)), make([]float64, len(c.Lines))
	at := func(flow []float64) {
		for i := range c.Lines {
			if live[i] {
				drops[i], slopes[i] = drop(i, flow[i])
			}
		}
	}
	at(flow)
	for turn := range 300 {
		m := lu.Matrix()
		clear(m)
		clear(right)
		for i := range c.Lines {
			if !live[i] {
				continue
			}
			d := drops[i]
			g := 1 / slopes[i]
			free := flow[i] - g*d // flow at no difference of pressure
			a, b := place[p.from[i]], place[p.to[i]]
			if a >= 0 {
				m[a*n+a] += g
				right[a] -= free
				if b >= 0 {
					m[a*n+b] -= g
				} else {
					right[a] += g * pressure[p.to[i]]
				}
			}
			if b >= 0 {
				m[b*n+b] += g
				right[b] += free
				if a >= 0 {
					m[b*n+a] -= g
				} else {
					right[b] += g * pressure[p.from[i]]
				}
			}
		}
		if n > 0 {
			if !lu.Factor() {
				return &Unsolved{Reason: FlowNotSettled, Node: c.Lines[0].Name}
			}
			lu.Solve(right)
			for i, k := range place {
				if k >= 0 {
					pressure[i] = right[k]
				}
			}
		}
		moved, scale := 0.0, 0.0
		for i := range c.Lines {
			if !live[i] {
				continue
			}
			next[i] = flow[i] + (pressure[p.from[i]]-pressure[p.to[i]]-drops[i])/slopes[i]
			moved, scale = math.Max(moved, math.Abs(next[i]-flow[i])), math.Max(scale, math.Abs(next[i]))
		}
		// The work of all losses falls along the way: where it rises again, its lowest place is sought.
		along := func(u float64) float64 { // of the work along the way
			sum := 0.0
			for i := range c.Lines {
				if live[i] {
					d := drops[i]
					if u != 1 {
						d, _ = drop(i, flow[i]+u*(next[i]-flow[i]))
					}
					sum += (d - (pressure[p.from[i]] - pressure[p.to[i]])) * (next[i] - flow[i])
				}
			}
			return sum
		}
		begin := 0.0
		for i := range c.Lines {
			if live[i] {
				begin -= slopes[i] * (next[i] - flow[i]) * (next[i] - flow[i])
			}
		}
		at(next)
		if end := along(1); (turn > 0 || p.near != nil && moved > 0.3*scale) && end > -0.5*begin && begin < 0 {
			lo, hi := 0.0, 1.0
			for range 30 {
				if mid := 0.5 * (lo + hi); along(mid) > 0 {
					hi = mid
				} else {
					lo = mid
				}
			}
			for i := range next {
				next[i] = flow[i] + 0.5*(lo+hi)*(next[i]-flow[i])
			}
			at(next)
		}
		copy(flow, next)
		if !finite(moved) {
			break
		}
		if moved <= 1e-12*scale || moved < 1e-18 {
			return nil
		}
	}
	return &Unsolved{Reason: FlowNotSettled, Node: c.Lines[0].Name}
}
