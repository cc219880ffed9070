package heat

import (
	"fmt"
	"math"

	"jetwright/numeric"
)

// Part is one line of the coolant's way as a builder types it, in the order of flow. Of the parts below
// the one that Kind names is used.
type Part struct {
	Kind    string  `doc:"what the part is" choices:"tap|hose|fitting|plate|jacket|pump|keel|outlet"`
	Name    string  `doc:"its name in messages and results; its kind and number if left out"`
	From    string  `doc:"place where a branch begins: a tap, or the name of a junction; the part before it if left out"`
	To      string  `doc:"place where a branch ends: an outlet, or the name of a junction; the part behind it if left out"`
	Tap     Tap     `section:"tap"`
	Hose    Hose    `section:"hose"`
	Fitting Fitting `section:"fitting"`
	Plate   Channel `section:"plate"`
	Jacket  Channel `section:"jacket"`
	Pump    Pump    `section:"pump"`
	Keel    Keel    `section:"keel"`
	Outlet  Outlet  `section:"outlet"`
}

// Keel is the channel of a closed loop behind a plate in the hull.
type Keel struct {
	Channel
	Plate KeelPlate
}

// Kinds of part.
const (
	KindTap     = "tap"
	KindHose    = "hose"
	KindFitting = "fitting"
	KindPlate   = "plate"
	KindJacket  = "jacket"
	KindPump    = "pump"
	KindKeel    = "keel"
	KindOutlet  = "outlet"
)

// element returns the part as an element of a line, nil where it is none.
func (p *Part) element() Element {
	switch p.Kind {
	case KindHose:
		p.Hose.Name = p.Name
		return &p.Hose
	case KindFitting:
		p.Fitting.Name = p.Name
		return &p.Fitting
	case KindPlate:
		p.Plate.Name = p.Name
		return &p.Plate
	case KindJacket:
		p.Jacket.Name = p.Name
		return &p.Jacket
	case KindPump:
		p.Pump.Name = p.Name
		return &p.Pump
	case KindKeel:
		p.Keel.Name = p.Name
		return &p.Keel.Channel
	}
	return nil
}

// Fault is what is wrong with a part of a list.
type Fault struct {
	Part                  int // its index
	What, Allowed, WayOut string
}

// Layout is the circuit that a list of parts makes.
type Layout struct {
	Circuit Circuit
	Parts   []Part // with every part named
	Closed  bool   // a loop without tap and outlet

	plate, jacket, keel spot
	owner               [][]int // part of each element of each line
}

// spot is where a part lies in the circuit; part is -1 where there is none.
type spot struct{ part, line, element int }

// Has tells whether a plate or a jacket is in the circuit.
func (l *Layout) Has(kind string) bool {
	switch kind {
	case KindPlate:
		return l.plate.part >= 0
	case KindJacket:
		return l.jacket.part >= 0
	case KindKeel:
		return l.keel.part >= 0
	}
	return false
}

// NewLayout joins parts into a circuit. Parts follow each other in the order of flow: a tap begins a line, an
// outlet ends it; from and to name the places where lines branch and join. Without tap and outlet the last part
// leads back to the first. The faults say what is wrong; with any the layout must not be used.
func NewLayout(parts []Part) (*Layout, []Fault) {
	l := &Layout{Parts: append([]Part(nil), parts...)}
	l.plate.part, l.jacket.part, l.keel.part = -1, -1, -1
	var faults []Fault
	fail := func(i int, what, allowed, out string) { faults = append(faults, Fault{i, what, allowed, out}) }
	count, seen := map[string]int{}, map[string]int{}
	taps, outlets, pumps, first := 0, 0, 0, -1
	for i := range l.Parts {
		p := &l.Parts[i]
		count[p.Kind]++
		if p.Name == "" {
			p.Name = fmt.Sprintf("%s %d", p.Kind, count[p.Kind])
		}
		if j, twice := seen[p.Name]; twice {
			fail(i, fmt.Sprintf("two parts of the coolant are called %q", p.Name), "every part has a name of its own", fmt.Sprintf("rename it; the other is part %d", j+1))
		}
		seen[p.Name] = i
		switch p.Kind {
		case KindTap:
			taps++
			if first < 0 {
				first = i
			}
		case KindOutlet:
			outlets++
		case KindPump:
			pumps++
		}
	}
	l.Closed = taps+outlets == 0
	pushes := pumps > 0
	for i := range l.Parts {
		t := &l.Parts[i].Tap
		pushes = pushes || l.Parts[i].Kind == KindTap && (t.Station != "" || t.Pressure.Or(t.PerKinetic) > 0)
	}
	switch {
	case len(parts) == 0:
		fail(0, "the coolant has no parts", "a tap, a hose and an outlet at least", "")
		return l, faults
	case taps == 0 && pumps == 0:
		fail(0, "nothing drives the coolant: there is neither tap nor pump", "a tap with pressure, or a pump", `add [[coolant]] with kind = "tap" ahead of the first part`)
	case !pushes:
		fail(first, fmt.Sprintf("nothing drives the coolant: %q has no pressure", l.Parts[first].Name), "pressure above 0 at a tap, or a pump", `type station = "nozzle inlet", or another pressure_per_kinetic`)
	case taps > 0 && outlets == 0:
		fail(first, fmt.Sprintf("the coolant of %q has no way out", l.Parts[first].Name), "it leaves by an outlet", `add [[coolant]] with kind = "outlet" behind the last part`)
	case outlets > 0 && taps == 0:
		fail(0, "the outlet gives away coolant that no tap takes in", "a tap ahead of the outlet, or a closed loop without one", `add [[coolant]] with kind = "tap"; a pump that sucks from open water begins at a tap with pressure = "0 kPa"`)
	case l.Closed && count[KindKeel] == 0:
		fail(0, "nothing takes the heat out of the closed loop", "a keel plate gives it to the water outside", `add [[coolant]] with kind = "keel"`)
	}
	for _, kind := range [...]string{KindPlate, KindJacket, KindKeel} {
		if count[kind] > 1 {
			last := 0
			for i := range l.Parts {
				if l.Parts[i].Kind == kind {
					last = i
				}
			}
			fail(last, fmt.Sprintf("the coolant has %d parts of kind %q", count[kind], kind), "one is worked out", "type passages side by side with passages = 2; what takes no heat is a hose or a fitting with its loss")
		}
	}
	if !l.Closed && count[KindKeel] > 0 {
		fail(0, "a keel plate is in a circuit that is not closed", "a keel plate belongs to a closed loop without tap and outlet", "")
	}
	l.join(fail)
	if len(faults) == 0 {
		l.held(fail)
	}
	return l, faults
}

// join makes lines of the parts.
func (l *Layout) join(fail func(i int, what, allowed, out string)) {
	const loop = "beginning of the loop"
	c := &l.Circuit
	var elements []Element
	var owner []int
	place := "" // where the line that is being made begins
	end := func(to string) {
		name := l.Parts[owner[0]].Name
		if len(owner) > 1 {
			name += " to " + l.Parts[owner[len(owner)-1]].Name
		}
		c.Lines = append(c.Lines, Line{Name: name, From: place, To: to, Elements: elements})
		l.owner = append(l.owner, owner)
		elements, owner, place = nil, nil, ""
	}
	open := func(i int) { // what stands before part i must have ended
		if len(owner) > 0 {
			last := owner[len(owner)-1]
			fail(last, fmt.Sprintf("the coolant behind %q goes nowhere: %q begins another way", l.Parts[last].Name, l.Parts[i].Name),
				"a way ends at an outlet or at a place that to names", fmt.Sprintf("type to = \"…\" on %q, or an outlet behind it", l.Parts[last].Name))
			elements, owner = nil, nil
		}
	}
	for i := range l.Parts {
		p := &l.Parts[i]
		switch p.Kind {
		case KindTap:
			open(i)
			t := p.Tap
			t.Name = p.Name
			c.Taps = append(c.Taps, t)
			place = p.Name
			continue
		case KindOutlet:
			x := p.Outlet
			x.Name = p.Name
			c.Outlets = append(c.Outlets, x)
			if len(owner) > 0 {
				end(p.Name)
			}
			place = ""
			continue
		}
		e := p.element()
		if e == nil {
			fail(i, fmt.Sprintf("the kind of part %d is %q", i+1, p.Kind), "tap, hose, fitting, plate, jacket, pump, keel or outlet", "")
			continue
		}
		if p.From != "" {
			open(i)
			place = p.From
		}
		if place == "" {
			place = loop
			if !l.Closed || i > 0 {
				fail(i, fmt.Sprintf("no coolant comes to %q: the part before it ends its way", p.Name), "a way begins at a tap or at a place that from names", `type from = "…" on it`)
			}
		}
		at := spot{i, len(c.Lines), len(owner)}
		switch p.Kind {
		case KindPlate:
			l.plate = at
		case KindJacket:
			l.jacket = at
		case KindKeel:
			l.keel = at
		}
		elements, owner = append(elements, e), append(owner, i)
		if p.To != "" {
			end(p.To)
		}
	}
	if len(owner) == 0 {
		return
	}
	last := owner[len(owner)-1]
	switch {
	case !l.Closed:
		fail(last, fmt.Sprintf("the coolant behind %q goes nowhere: an outlet is missing", l.Parts[last].Name), "a way ends at an outlet or at a place that to names", `add [[coolant]] with kind = "outlet" behind it`)
	case place != loop || len(c.Lines) > 0:
		end(loop)
	case len(owner) == 1:
		fail(last, fmt.Sprintf("the closed loop has %q alone", l.Parts[last].Name), "a pump, a keel plate and what they serve", "")
	default: // a ring is two lines
		const half = "middle of the loop"
		all, whose := elements, owner
		elements, owner = all[:1], whose[:1]
		end(half)
		place, elements, owner = half, all[1:], whose[1:]
		end(loop)
		for _, at := range [...]*spot{&l.plate, &l.jacket, &l.keel} {
			if at.part >= 0 && at.element > 0 {
				at.line, at.element = 1, at.element-1
			}
		}
	}
}

// held holds the places of a circuit to being met by two lines, and the circuit to being one.
func (l *Layout) held(fail func(i int, what, allowed, out string)) {
	c := &l.Circuit
	known := map[string]int{}
	for i := range l.Parts {
		if k := l.Parts[i].Kind; k == KindTap || k == KindOutlet {
			known[l.Parts[i].Name] = i
		}
	}
	ends, group := map[string]int{}, map[string]string{}
	for i := range c.Lines {
		for _, at := range [...]string{c.Lines[i].From, c.Lines[i].To} {
			ends[at]++
			group[at] = at
		}
	}
	for i := range c.Lines {
		line := &c.Lines[i]
		first, last := l.owner[i][0], l.owner[i][len(l.owner[i])-1]
		if line.From == line.To {
			fail(last, fmt.Sprintf("the way of %q ends where it begins, at %q", line.Name, line.From), "two places", "")
		}
		for _, end := range [...]struct {
			place string
			part  int
			key   string
		}{{line.From, first, "from"}, {line.To, last, "to"}} {
			if _, ok := known[end.place]; !ok && ends[end.place] == 1 {
				fail(end.part, fmt.Sprintf("%s = %q names a place that no other part names", end.key, end.place), "a tap, an outlet, or a junction that another part's from or to names as well", "")
			}
		}
	}
	for name, i := range known {
		if ends[name] == 0 {
			fail(i, fmt.Sprintf("no part leads to or from %q", name), "parts between a tap and an outlet", "")
		}
	}
	for range c.Lines {
		for i := range c.Lines {
			a, b := group[c.Lines[i].From], group[c.Lines[i].To]
			for at, g := range group {
				if g == b {
					group[at] = a
				}
			}
		}
	}
	for i := range c.Lines {
		if group[c.Lines[i].From] != group[c.Lines[0].From] {
			fail(l.owner[i][0], fmt.Sprintf("the way of %q hangs together with no other", c.Lines[i].Name), "one circuit is worked out", "")
			return
		}
	}
}

// Narrowest returns the index of the part with the smallest passage, which is the first to be clogged; -1 where there is none.
func (l *Layout) Narrowest() int {
	part, smallest := -1, math.Inf(1)
	for i := range l.Parts {
		p := &l.Parts[i]
		a := math.Inf(1)
		switch p.Kind {
		case KindHose:
			a = area(p.Hose.Bore)
		case KindFitting:
			a = area(p.Fitting.Bore)
		case KindPlate, KindJacket, KindKeel:
			c := p.element().(*Channel)
			a, _ = c.Section()
			a *= float64(max(1, c.Passages))
		}
		if a < smallest {
			part, smallest = i, a
		}
	}
	return part
}

// Clogged returns the parts with one of them left open to a share of its area; a share of 1 is clean.
func Clogged(parts []Part, part int, open float64) []Part {
	out := append([]Part(nil), parts...)
	p := &out[part]
	for _, o := range [...]struct {
		kind string
		open *float64
		set  *bool
	}{
		{KindHose, &p.Hose.Open.Value, &p.Hose.Open.Set},
		{KindFitting, &p.Fitting.Open.Value, &p.Fitting.Open.Set},
		{KindPlate, &p.Plate.Open.Value, &p.Plate.Open.Set},
		{KindJacket, &p.Jacket.Open.Value, &p.Jacket.Open.Set},
		{KindKeel, &p.Keel.Open.Value, &p.Keel.Open.Set},
	} {
		if o.kind == p.Kind {
			*o.open, *o.set = open, true
		}
	}
	return out
}

// WayToSea returns the resistance in Ω of the coolant between the wet metal of a plate or a jacket and the sea, by all ways
// together, at a resistivity of the water in Ω·m. It is infinite where no way of coolant leads there.
//
//	Σ (U_i − U_k)·A/(ϱ·L) = I at every place,  R = U/I
//
//	ϱ     resistivity of the coolant, Ω·m
//	L, A  length and area of each hose and passage, m and m²
//
// Holds for full hoses of walls that do not conduct; tap, outlet and keel plate are the sea, plate and jacket are metal, a
// fitting has no length, and a jet of water from an outlet in the air conducts as if it were whole.
//
// Source: own. Tests: TestWayToSeaExact.
func (l *Layout) WayToSea(kind string, resistivity float64) float64 {
	at := l.plate
	if kind == KindJacket {
		at = l.jacket
	}
	if at.part < 0 {
		return math.Inf(1)
	}
	const live = "live metal"
	node := map[string]int{live: 0}
	number := func(name string) int {
		if k, ok := node[name]; ok {
			return k
		}
		node[name] = len(node)
		return node[name]
	}
	place := func(name string) int { // -1 is the sea
		for i := range l.Parts {
			if k := l.Parts[i].Kind; (k == KindTap || k == KindOutlet) && l.Parts[i].Name == name {
				return -1
			}
		}
		return number(name)
	}
	type edge struct {
		a, b        int
		conductance float64
	}
	var edges []edge
	const metal = 1e4 // S, of what has no length
	for i := range l.Circuit.Lines {
		line := &l.Circuit.Lines[i]
		from := place(line.From)
		for j, e := range line.Elements {
			part := l.owner[i][j]
			to := -2
			if j == len(line.Elements)-1 {
				to = place(line.To)
			} else {
				to = number(fmt.Sprintf("behind part %d", part))
			}
			if part == at.part {
				edges = append(edges, edge{from, 0, metal}, edge{0, to, metal})
				from = to
				continue
			}
			g := metal
			switch x := e.(type) {
			case *Hose:
				g = area(x.Bore) / (resistivity * x.Length)
			case *Channel: // metal in the water: a keel plate is the sea, another is a conductor
				if l.Parts[part].Kind == KindKeel {
					edges = append(edges, edge{from, -1, metal})
				}
			}
			edges = append(edges, edge{from, to, g})
			from = to
		}
	}
	n := len(node)
	lu := numeric.NewLU(n)
	m := lu.Matrix()
	clear(m)
	right := make([]float64, n)
	right[0] = 1
	for i := range n {
		m[i*n+i] = 1e-15 // what hangs on nothing stays solvable
	}
	for _, e := range edges {
		if e.a >= 0 {
			m[e.a*n+e.a] += e.conductance
		}
		if e.b >= 0 {
			m[e.b*n+e.b] += e.conductance
		}
		if e.a >= 0 && e.b >= 0 {
			m[e.a*n+e.b] -= e.conductance
			m[e.b*n+e.a] -= e.conductance
		}
	}
	if !lu.Factor() {
		return math.Inf(1)
	}
	lu.Solve(right)
	if right[0] > 1e12 {
		return math.Inf(1)
	}
	return right[0]
}
