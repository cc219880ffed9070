package heat

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"jetwright/notice"
)

// Node is a lump of one temperature.
type Node struct {
	Name     string
	Capacity float64 // heat capacity, J/K; 0 follows its neighbours at once
	Fixed    bool    // held at Start whatever flows into it: a boundary
	Start    float64 // temperature at the start of a run, or held, K
}

// Law tells what a conductance depends on.
type Law int8

// Laws of a conductance.
const (
	Constant     Law = iota
	ByFlow           // still + value·(flow/reference)^exponent
	ByDifference     // still + value·(|ΔT|/reference)^exponent: natural convection
)

// Conductance carries heat between two nodes by their difference of temperature.
type Conductance struct {
	Name      string
	From, To  string
	Value     float64 // W/K; what it is at the reference of its law
	Law       Law
	Stream    string  // the stream of ByFlow
	Beside    string  // another stream whose flow counts with it; none if empty
	Reference float64 // flow in W/K, or difference in K, at which Value holds
	Exponent  float64
	Still     float64 // what is there without flow or difference, W/K

	// Curve gives the conductance of ByFlow in W/K at a flow in W/K in place of value, reference, exponent
	// and still; it is asked where a flow changes. Channel.Curve makes one.
	Curve func(flow float64) float64 `json:"-"`
}

// Stream is coolant on its way through nodes. Each of them takes the heat flow·(T_before − T); what
// the last one holds leaves with the water. A path that ends where it began is a closed loop.
type Stream struct {
	Name string
	Flow float64 // mass flow times specific heat, W/K
	Path []string
}

// Source makes heat in a node.
type Source struct {
	Name      string
	Node      string
	Power     float64 // W at the reference temperature
	Alpha     float64 // growth with the node's temperature, 1/K
	Reference float64 // K
}

// Network is a circuit of heat: what is typed, or made by Default.
type Network struct {
	Nodes        []Node
	Conductances []Conductance
	Streams      []Stream
	Sources      []Source
}

// SetNode puts a node in the place of the one of its name, or adds it.
func (n *Network) SetNode(x Node) {
	n.Nodes = set(n.Nodes, x, func(y Node) bool { return y.Name == x.Name })
}

// SetConductance puts a conductance in the place of the one of its name, or adds it.
func (n *Network) SetConductance(x Conductance) {
	n.Conductances = set(n.Conductances, x, func(y Conductance) bool { return y.Name == x.Name })
}

// SetStream puts a stream in the place of the one of its name, or adds it.
func (n *Network) SetStream(x Stream) {
	n.Streams = set(n.Streams, x, func(y Stream) bool { return y.Name == x.Name })
}

// SetSource puts a source in the place of the one of its name, or adds it.
func (n *Network) SetSource(x Source) {
	n.Sources = set(n.Sources, x, func(y Source) bool { return y.Name == x.Name })
}

func set[T any](list []T, x T, same func(T) bool) []T {
	for i := range list {
		if same(list[i]) {
			list[i] = x
			return list
		}
	}
	return append(list, x)
}

// faults gathers everything that is wrong with a network or a circuit.
type faults struct{ notice.List }

func (f *faults) add(path, what, allowed, wayOut string) {
	f.List = append(f.List, notice.Notice{Path: path, What: what, Allowed: allowed, WayOut: wayOut})
}

// unique holds the names of a kind to being there once.
func (f *faults) unique(kind string, names []string) map[string]int {
	at := make(map[string]int, len(names))
	for i, name := range names {
		if name == "" {
			f.add(kind, fmt.Sprintf("%s %d has no name", kind, i+1), "every "+kind+" has a name of its own", "")
			continue
		}
		if _, twice := at[name]; twice {
			f.add(kind+"."+name, fmt.Sprintf("there are two of %s %q", kind, name), "every "+kind+" has a name of its own", "rename one of them")
			continue
		}
		at[name] = i
	}
	return at
}

// known looks a name up and says which there are where there is none.
func (f *faults) known(at map[string]int, kind, path, name string) (int, bool) {
	if i, ok := at[name]; ok {
		return i, true
	}
	names := make([]string, 0, len(at))
	for n := range at {
		names = append(names, n)
	}
	sort.Strings(names)
	f.add(path, fmt.Sprintf("%s names %s %q, which there is none of", path, kind, name), "one of "+strings.Join(names, ", "), "")
	return 0, false
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// What is beyond any machine, and would drown the rest of a network in rounding.
const (
	largest      = 1e12 // of any number in its SI unit
	hottestStart = 5000 // K
)

// sane is finite and not beyond any machine.
func sane(x float64) bool { return math.Abs(x) <= largest }

// edge is a conductance by numbers: free nodes count from 0, fixed ones as −1 − place.
type edge struct {
	from, to                           int
	law                                Law
	stream, beside                     int // beside is -1 where there is none
	value, reference, exponent, remain float64
	curve                              func(float64) float64
	name                               string
}

// link is a piece of a stream.
type link struct{ up, down, stream int }

// System is a network that has been checked and numbered. It is not changed by runs, so that many
// may run on one.
type System struct {
	Names    []string // of the nodes, in the network's order
	at       map[string]int
	sources  map[string]int
	streams  map[string]int
	place    []int // by node: free ones from 0, fixed ones as −1 − place
	free     []int // the node of each free place
	fixed    []int
	held     []float64 // temperatures of the fixed
	start    []float64 // of the free
	mass     []float64
	edges    []edge // a fixed end, if any, is the second one
	links    []link
	ends     [][2]int // of each stream: first and last
	flow     []float64
	power    []float64
	alpha    []float64
	source   []int // node place of each source
	refs     []float64
	straight bool // nothing depends on a difference of temperature but by proportion
}

// NewSystem checks a network. The error is a notice.List of everything that is wrong.
func NewSystem(n Network) (*System, error) {
	var f faults
	s := &System{}
	for _, x := range n.Nodes {
		s.Names = append(s.Names, x.Name)
	}
	s.at = f.unique("node", s.Names)
	fixed := 0
	for i, x := range n.Nodes {
		path := "node." + x.Name
		if !(x.Start > 0 && x.Start <= hottestStart) {
			f.add(path, fmt.Sprintf("node %q starts at %g K", x.Name, x.Start), fmt.Sprintf("a temperature above 0 K, at most %d K", hottestStart), "")
		}
		if x.Fixed {
			fixed++
			s.place = append(s.place, -fixed)
			s.fixed = append(s.fixed, i)
			s.held = append(s.held, x.Start)
			continue
		}
		if !sane(x.Capacity) || x.Capacity < 0 {
			f.add(path, fmt.Sprintf("node %q has a heat capacity of %g J/K", x.Name, x.Capacity), "above 0, or 0 for a node that follows its neighbours at once", "")
		}
		s.place = append(s.place, len(s.free))
		s.free = append(s.free, i)
		s.start = append(s.start, x.Start)
		s.mass = append(s.mass, x.Capacity)
	}
	var names []string
	for _, x := range n.Streams {
		names = append(names, x.Name)
	}
	s.streams = f.unique("stream", names)
	for i, x := range n.Streams {
		path := "stream." + x.Name
		if !sane(x.Flow) || x.Flow < 0 {
			f.add(path, fmt.Sprintf("stream %q flows with %g W/K", x.Name, x.Flow), "0 or above: mass flow times specific heat", "turn the path round for the other direction")
		}
		if len(x.Path) < 2 {
			f.add(path, fmt.Sprintf("stream %q goes through %d nodes", x.Name, len(x.Path)), "at least where it comes from and one node that it meets", "")
			s.ends = append(s.ends, [2]int{})
			s.flow = append(s.flow, x.Flow)
			continue
		}
		var way []int
		for _, name := range x.Path {
			if k, ok := f.known(s.at, "node", path, name); ok {
				way = append(way, s.place[k])
			}
		}
		for k := 1; k < len(way); k++ {
			if way[k] == way[k-1] {
				f.add(path, fmt.Sprintf("stream %q goes from node %q to itself", x.Name, x.Path[k]), "from one node to another", "")
			}
			if way[k] < 0 && k < len(way)-1 {
				f.add(path, fmt.Sprintf("stream %q goes through node %q, which is held at its temperature", x.Name, x.Path[k]), "a fixed node only where it comes from or ends", "")
			}
			if way[k] >= 0 {
				s.links = append(s.links, link{way[k-1], way[k], i})
			}
		}
		if len(way) == len(x.Path) {
			last := way[len(way)-1]
			if last < 0 { // what flows into a fixed node has left
				last = way[len(way)-2]
			}
			s.ends = append(s.ends, [2]int{way[0], last})
		} else {
			s.ends = append(s.ends, [2]int{})
		}
		s.flow = append(s.flow, x.Flow)
	}
	names = nil
	for _, x := range n.Conductances {
		names = append(names, x.Name)
	}
	f.unique("conductance", names)
	s.straight = true
	for _, x := range n.Conductances {
		path := "conductance." + x.Name
		a, fine := f.known(s.at, "node", path, x.From)
		b, good := f.known(s.at, "node", path, x.To)
		if fine && good && a == b {
			f.add(path, fmt.Sprintf("conductance %q joins node %q to itself", x.Name, x.From), "two nodes", "")
			good = false
		}
		e := edge{law: x.Law, value: x.Value, reference: x.Reference, exponent: x.Exponent, remain: x.Still, curve: x.Curve, name: x.Name, beside: -1}
		curved := x.Law == ByFlow && x.Curve != nil
		if !curved && (!sane(x.Value) || x.Value <= 0) {
			f.add(path, fmt.Sprintf("conductance %q is %g W/K", x.Name, x.Value), "above 0, at most 1e12: one over its thermal resistance", "leave it out if no heat goes there")
		}
		if x.Law != Constant && !curved {
			if !sane(x.Reference) || x.Reference <= 0 {
				f.add(path, fmt.Sprintf("conductance %q holds at a reference of %g", x.Name, x.Reference), "above 0: the flow in W/K, or the difference in K, at which its value holds", "")
			}
			if !finite(x.Exponent) || x.Exponent < 0 || x.Exponent > 3 {
				f.add(path, fmt.Sprintf("conductance %q grows with exponent %g", x.Name, x.Exponent), "from 0 to 3; 0.8 in turbulent flow, 0.25 in natural convection", "")
			}
			if !sane(x.Still) || x.Still < 0 {
				f.add(path, fmt.Sprintf("conductance %q is %g W/K when still", x.Name, x.Still), "0 or above", "")
			}
		}
		switch x.Law {
		case Constant:
		case ByFlow:
			e.stream, _ = f.known(s.streams, "stream", path, x.Stream)
			if x.Beside != "" {
				e.beside, _ = f.known(s.streams, "stream", path, x.Beside)
			}
		case ByDifference:
			s.straight = false
		default:
			f.add(path, fmt.Sprintf("conductance %q has law %d, which there is none of", x.Name, x.Law), "constant, by flow or by difference", "")
		}
		if fine && good {
			e.from, e.to = s.place[a], s.place[b]
			if e.from < 0 {
				e.from, e.to = e.to, e.from
			}
			if e.from >= 0 { // between two fixed nodes nothing is to be solved
				s.edges = append(s.edges, e)
			}
		}
	}
	names = nil
	for _, x := range n.Sources {
		names = append(names, x.Name)
	}
	s.sources = f.unique("source", names)
	for _, x := range n.Sources {
		path := "source." + x.Name
		k, ok := f.known(s.at, "node", path, x.Node)
		if ok && s.place[k] < 0 {
			f.add(path, fmt.Sprintf("source %q heats node %q, which is held at its temperature", x.Name, x.Node), "a node that is not fixed", "")
			ok = false
		}
		if !sane(x.Power) || !sane(x.Alpha) || !sane(x.Reference) {
			f.add(path, fmt.Sprintf("source %q makes %g W, growing by %g/K from %g K", x.Name, x.Power, x.Alpha, x.Reference), "finite numbers, at most 1e12", "")
		}
		if ok {
			s.source = append(s.source, s.place[k])
		} else {
			s.source = append(s.source, 0)
		}
		s.power, s.alpha, s.refs = append(s.power, x.Power), append(s.alpha, x.Alpha), append(s.refs, x.Reference)
	}
	if len(f.List) == 0 {
		if len(s.free) == 0 {
			f.add("network", "the network has no node to solve for", "at least one node that is not fixed", "")
		}
		for _, i := range s.uncooled() {
			name := s.Names[s.free[i]]
			f.add("node."+name, fmt.Sprintf("nothing cools node %q", name), "a way by conductances, or against a stream, to a fixed node", "join it to what it loses its heat to")
		}
	}
	if len(f.List) > 0 {
		return nil, f.List
	}
	return s, nil
}

// uncooled lists the free nodes from which no way leads to a fixed one.
func (s *System) uncooled() []int {
	cooled := make([]bool, len(s.free))
	is := func(p int) bool { return p < 0 || cooled[p] }
	for more := true; more; {
		more = false
		mark := func(p int) {
			if p >= 0 && !cooled[p] {
				cooled[p], more = true, true
			}
		}
		for _, e := range s.edges {
			if is(e.from) {
				mark(e.to)
			}
			if is(e.to) {
				mark(e.from)
			}
		}
		for _, l := range s.links {
			if is(l.up) {
				mark(l.down)
			}
		}
	}
	var out []int
	for i, ok := range cooled {
		if !ok {
			out = append(out, i)
		}
	}
	return out
}

// Node is the place of a node in temperatures and heats.
func (s *System) Node(name string) (int, bool) { i, ok := s.at[name]; return i, ok }

// Source is the place of a source in the powers of a leg.
func (s *System) Source(name string) (int, bool) { i, ok := s.sources[name]; return i, ok }

// Stream is the place of a stream in the flows of a leg.
func (s *System) Stream(name string) (int, bool) { i, ok := s.streams[name]; return i, ok }

// Powers are the powers of the sources as the network has them, a copy to change for a leg.
func (s *System) Powers() []float64 { return append([]float64(nil), s.power...) }

// Flows are the flows of the streams as the network has them, a copy to change for a leg.
func (s *System) Flows() []float64 { return append([]float64(nil), s.flow...) }

// Reason names why heat has no answer.
type Reason int8

// Reasons.
const (
	Runaway        Reason = iota + 1 // heat grows faster with temperature than it is taken away
	NoFlow                           // a node without heat capacity has lost its cooling
	NotFinite                        // a heat or a flow that is not a number was given
	NotSettled                       // the search did not settle
	FlowNotSettled                   // the search for the flows of a circuit did not settle
	Stopped                          // the feed of a run said that it cannot go on
)

func (r Reason) String() string {
	return [...]string{"solved", "thermal runaway", "no cooling", "not a number", "not settled", "flow not settled", "stopped"}[r]
}

// Unsolved is why there is no answer, and of which node, or line of a circuit.
type Unsolved struct {
	Reason      Reason
	Node        string
	Time        float64 // s from the start of a run; 0 of a steady state
	Temperature float64 // K that had been reached, 0 if it does not matter
}

func (u *Unsolved) Error() string {
	switch u.Reason {
	case Runaway:
		if u.Time > 0 {
			return fmt.Sprintf("node %q runs away: after %.4g s it is at %.4g K and its heat still changes faster with temperature than its cooling; less power, or more cooling", u.Node, u.Time, u.Temperature)
		}
		return fmt.Sprintf("node %q runs away: its heat grows faster with temperature than its cooling, so that no steady temperature exists; less power, or more cooling", u.Node)
	case NoFlow:
		return fmt.Sprintf("node %q has no heat capacity and nothing cools it at the flow given; give it a capacity, or a conductance that stays when the flow stops", u.Node)
	case NotFinite:
		return fmt.Sprintf("the heat or the flow at %q is not a number at %.4g s", u.Node, u.Time)
	case Stopped:
		return fmt.Sprintf("the run ends after %.4g s, where its heat can no longer be given", u.Time)
	case FlowNotSettled:
		return fmt.Sprintf("the flows of the circuit with line %q did not settle", u.Node)
	}
	return fmt.Sprintf("the temperature of node %q did not settle at %.4g s", u.Node, u.Time)
}
