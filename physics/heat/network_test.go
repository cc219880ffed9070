package heat

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"jetwright/notice"

	"pgregory.net/rapid"
)

func system(t testing.TB, n Network) *System {
	t.Helper()
	s, err := NewSystem(n)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// example is the motor of the published worked example as a network, at a current.
func example(current float64) Network {
	const zero = 273.15
	return Network{
		Nodes: []Node{
			{Name: "winding", Capacity: 4.12 / 0.74, Start: zero + 25},
			{Name: "housing", Capacity: 968 / 8.96, Start: zero + 25},
			{Name: "air", Fixed: true, Start: zero + 25},
		},
		Conductances: []Conductance{{Name: "winding to housing", From: "winding", To: "housing", Value: 1 / 0.74}, {Name: "housing to air", From: "housing", To: "air", Value: 1 / 8.96}},
		Sources:      []Source{{Name: "copper", Node: "winding", Power: current * current * 0.836, Alpha: 0.0039, Reference: zero + 25}},
	}
}

// exampleMotor is the same as two nodes in closed form.
func exampleMotor() TwoNode {
	const zero = 273.15
	return TwoNode{
		WindingCapacity: 4.12 / 0.74, HousingCapacity: 968 / 8.96, WindingToHousing: 0.74, HousingToAmbient: 8.96,
		Resistance: 0.836, ResistanceAt: zero + 25, Alpha: 0.0039, Ambient: zero + 25,
	}
}

// The worked example of johnson-cmu (SEEN: 183.180 °C, 10.75 s, 18.25 s) in its own explicit steps stands in
// TestTwoNodePublished. Converged, COMPUTED with Euler steps of 0.001 s: 183.166 °C, 10.728 s, 18.095 s; the
// closed form says to more digits what the network has to meet.
func TestTwoNodeConvergedPublished(t *testing.T) {
	const zero = 273.15
	current := 24.0 / 80 / 0.0261
	s := system(t, example(current))
	d := Duty{
		Legs:   []Leg{{Name: "load", Duration: 30}, {Name: "off", Duration: 70, Power: []float64{0}}},
		Bounds: []Bound{{"winding", zero + 130}, {"winding", zero + 155}, {"winding", zero + 200}}, Tolerance: 1e-7,
	}
	var rec Record
	if err := NewRunner(s).Run(&d, &rec); err != nil {
		t.Fatal(err)
	}
	if len(rec.Events) != 2 {
		t.Fatalf("events %v", rec.Events)
	}
	near(t, "peak", rec.Peak[0]-zero, 183.166, 2e-3)
	near(t, "130 °C", rec.Events[0].Time, 10.728, 2e-3)
	near(t, "155 °C", rec.Events[1].Time, 18.095, 2e-3)
	m := exampleMotor()
	peak, housing := m.At(m.Ambient, m.Ambient, current, 30)
	near(t, "peak in closed form", rec.Peak[0], peak, 1e-6)
	near(t, "time of the peak", rec.PeakTime[0], 30, 0)
	for i, level := range []float64{zero + 130, zero + 155} {
		w, _ := m.At(m.Ambient, m.Ambient, current, rec.Events[i].Time)
		near(t, "winding at the event", w, level, 1e-5)
	}
	w, h := m.At(peak, housing, 0, 70)
	near(t, "winding at the end", rec.End[0], w, 1e-6)
	near(t, "housing at the end", rec.End[1], h, 1e-6)
	t.Logf("converged: peak %.4f °C, 130 °C at %.4f s, 155 °C at %.4f s, %d steps", rec.Peak[0]-zero, rec.Events[0].Time, rec.Events[1].Time, rec.Steps)
}

// With less and less tolerance the run comes to the closed form, at every second.
func TestRowsExact(t *testing.T) {
	s := system(t, example(8))
	m := exampleMotor()
	r := NewRunner(s)
	for _, tolerance := range []float64{1e-2, 1e-3, 1e-5, 1e-7} {
		var rec Record
		if err := r.Run(&Duty{Legs: []Leg{{Duration: 300}}, Every: 1, Tolerance: tolerance}, &rec); err != nil {
			t.Fatal(err)
		}
		if len(rec.Times) != 301 || rec.Times[300] != 300 {
			t.Fatalf("%d rows, the last at %g s", len(rec.Times), rec.Times[len(rec.Times)-1])
		}
		worst := 0.0
		for i, at := range rec.Times {
			w, h := m.At(m.Ambient, m.Ambient, 8, at)
			worst = math.Max(worst, math.Max(math.Abs(rec.Row(i)[0]-w), math.Abs(rec.Row(i)[1]-h)))
		}
		if worst > 10*tolerance {
			t.Errorf("tolerance %g K: %g K off", tolerance, worst)
		}
		t.Logf("tolerance %g K: off by %.2g K, %d steps, %d refused", tolerance, worst, rec.Steps, rec.Refused)
	}
}

func TestOneNodeExact(t *testing.T) {
	n := OneNode{Capacity: 200, Conductance: 2, Surroundings: 290, Power: 100, Reference: 290}
	near(t, "one time constant", n.At(290, 100), 290+50*(1-math.Exp(-1)), 1e-10)
	at, ok := n.TimeTo(290, 315)
	if !ok {
		t.Fatal("half of the rise is not reached")
	}
	near(t, "half of the rise", at, 100*math.Ln2, 1e-10)
	if _, ok := n.TimeTo(290, 340); ok {
		t.Error("the end is reached")
	}
	n.Alpha = 0.02 // the loss grows as fast as the cooling
	near(t, "straight line", n.At(290, 100), 340, 1e-9)
	n.Alpha = 0.04
	near(t, "growth", n.Growth(), 0.01, 1e-15)
	at, ok = n.TimeTo(290, 400)
	near(t, "runaway", at, 100*math.Log1p(0.01*110/0.5), 1e-9)
	near(t, "there", n.At(290, at), 400, 1e-9)
	// the network runs away at the same time
	s := system(t, Network{
		Nodes:        []Node{{Name: "winding", Capacity: 200, Start: 290}, {Name: "water", Fixed: true, Start: 290}},
		Conductances: []Conductance{{Name: "g", From: "winding", To: "water", Value: 2}},
		Sources:      []Source{{Name: "copper", Node: "winding", Power: 100, Alpha: 0.04, Reference: 290}},
	})
	r := NewRunner(s)
	var rec Record
	err := r.Run(&Duty{Legs: []Leg{{Duration: 1e4}}, Bounds: []Bound{{"winding", 400}}, Tolerance: 1e-6}, &rec)
	var u *Unsolved
	if !errors.As(err, &u) || u.Reason != Runaway || u.Node != "winding" || !ok {
		t.Fatalf("a runaway ended in %v", err)
	}
	near(t, "event", rec.Events[0].Time, at, 1e-5)
	if _, err := r.Steady(nil, nil, nil, nil, 0); !errors.As(err, &u) || u.Reason != Runaway || u.Node != "winding" {
		t.Errorf("a runaway settled: %v", err)
	}
}

func TestTwoNodeExact(t *testing.T) {
	m := exampleMotor()
	for _, current := range []float64{0, 3, 8, 14} {
		w, h := m.Ambient+10, m.Ambient+3
		for range 400000 { // 40 s in steps that are short enough to be second to none
			w, h = m.Step(w, h, current, 1e-4)
		}
		cw, ch := m.At(m.Ambient+10, m.Ambient+3, current, 40)
		near(t, "winding", cw, w, 1e-5*(w-m.Ambient)+1e-6)
		near(t, "housing", ch, h, 1e-5*(h-m.Ambient)+1e-6)
	}
	// at the current beyond which no steady state is there, the larger growth is zero
	edge := math.Sqrt(1 / ((m.WindingToHousing + m.HousingToAmbient) * m.Resistance * m.Alpha))
	fast, slow := m.Growths(edge)
	near(t, "growth at the edge", fast, 0, 1e-15)
	if slow > -0.01 {
		t.Errorf("the fast mode grows by %g", slow)
	}
	above, _ := m.Growths(1.01 * edge)
	below, _ := m.Growths(0.99 * edge)
	if above <= 0 || below >= 0 {
		t.Errorf("growths %g and %g", above, below)
	}
}

// A coolant that passes two nodes without capacity: what they take is what the water carries away.
func TestSteadyNetworkExact(t *testing.T) {
	n := Network{
		Nodes: []Node{
			{Name: "water", Fixed: true, Start: 290},
			{Name: "plate", Capacity: 300, Start: 290},
			{Name: "motor", Capacity: 2000, Start: 290},
			{Name: "coolant at plate", Start: 290},
			{Name: "coolant at motor", Start: 290},
		},
		Conductances: []Conductance{
			{Name: "plate to coolant", From: "plate", To: "coolant at plate", Value: 50, Law: ByFlow, Stream: "coolant", Reference: 100, Exponent: 0.8},
			{Name: "motor to coolant", From: "motor", To: "coolant at motor", Value: 100, Law: ByFlow, Stream: "coolant", Reference: 100, Exponent: 0.8},
		},
		Streams: []Stream{{Name: "coolant", Flow: 200, Path: []string{"water", "coolant at plate", "coolant at motor"}}},
		Sources: []Source{{Name: "bridge", Node: "plate", Power: 200}, {Name: "copper", Node: "motor", Power: 1000, Alpha: 0.004, Reference: 293}},
	}
	s := system(t, n)
	r := NewRunner(s)
	y, err := r.Steady(nil, nil, nil, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	f := math.Pow(2, 0.8)
	near(t, "coolant at the plate", y[3], 291, 1e-9)
	near(t, "plate", y[1], 291+200/(50*f), 1e-9)
	rise := 1/(100*f) + 1/200.0
	motor := (291 + rise*1000*(1-0.004*293)) / (1 - rise*4)
	near(t, "motor", y[2], motor, 1e-9)
	near(t, "coolant at the motor", y[4], motor-1000*(1+0.004*(motor-293))/(100*f), 1e-9)
	// the run comes to the same, and what jumps at once is solved at once
	var rec Record
	if err := r.Run(&Duty{Legs: []Leg{{Duration: 4000}}, Every: 1000}, &rec); err != nil {
		t.Fatal(err)
	}
	for i, want := range y {
		near(t, "in the end, "+s.Names[i], rec.End[i], want, 2e-3)
	}
	// without flow the coolant holds nothing
	_, err = r.Steady(nil, []float64{0}, nil, nil, 0)
	if err == nil {
		t.Error("a motor without flow settled")
	}
	var u *Unsolved
	if err := r.Run(&Duty{Legs: []Leg{{Duration: 10, Flow: []float64{0}}}}, &rec); !errors.As(err, &u) || u.Reason != NoFlow {
		t.Errorf("coolant that stands and touches nothing: %v", err)
	}
}

// A closed loop carries the heat of one part to a plate in the keel and keeps the rest going round.
func TestClosedLoopExact(t *testing.T) {
	for _, capacity := range []float64{0, 150} {
		s := system(t, Network{
			Nodes:        []Node{{Name: "sea", Fixed: true, Start: 285}, {Name: "coolant at the motor", Capacity: capacity, Start: 285}, {Name: "coolant at the keel", Capacity: capacity, Start: 300}},
			Conductances: []Conductance{{Name: "keel plate", From: "coolant at the keel", To: "sea", Value: 60}},
			Streams:      []Stream{{Name: "loop", Flow: 200, Path: []string{"coolant at the motor", "coolant at the keel", "coolant at the motor"}}},
			Sources:      []Source{{Name: "motor", Node: "coolant at the motor", Power: 600}},
		})
		r := NewRunner(s)
		y, err := r.Steady(nil, nil, nil, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "keel", y[2], 285+600.0/60, 1e-9)
		near(t, "motor", y[1], y[2]+600.0/200, 1e-9)
		var rec Record
		if err := r.Run(&Duty{Legs: []Leg{{Duration: 100}}, Tolerance: 1e-6}, &rec); err != nil {
			t.Fatal(err)
		}
		closes(t, &rec)
		if capacity > 0 {
			// all the heat that is stored lies above what it began with
			near(t, "stored", rec.Energy.Stored, capacity*(rec.End[1]-285+rec.End[2]-300), 1e-6)
		}
	}
}

// Natural convection: q = G·(ΔT/ref)^¼·ΔT, so that ΔT = ref·(q/(G·ref))^(4/5).
func TestNaturalConvectionExact(t *testing.T) {
	s := system(t, Network{
		Nodes:        []Node{{Name: "controller", Capacity: 500, Start: 290}, {Name: "air", Fixed: true, Start: 290}},
		Conductances: []Conductance{{Name: "to the air", From: "controller", To: "air", Value: 0.5, Law: ByDifference, Reference: 20, Exponent: 0.25}},
		Sources:      []Source{{Name: "loss", Node: "controller", Power: 30}},
	})
	r := NewRunner(s)
	want := 290 + 20*math.Pow(30/(0.5*20), 0.8)
	y, err := r.Steady(nil, nil, nil, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "steady", y[0], want, 1e-6)
	var rec Record
	if err := r.Run(&Duty{Legs: []Leg{{Duration: 30000}}}, &rec); err != nil {
		t.Fatal(err)
	}
	near(t, "in the end", rec.End[0], want, 5e-3)
	closes(t, &rec)
	// cooling alone: dΔ/dt = −(G/C)·Δ^1.25/ref^0.25 has the solution Δ^−¼ = Δ₀^−¼ + G·t/(4·C·ref^¼)
	if err := r.Run(&Duty{Legs: []Leg{{Duration: 2000, Power: []float64{0}}}, Start: []float64{340, 290}, Tolerance: 1e-7}, &rec); err != nil {
		t.Fatal(err)
	}
	x := math.Pow(50, -0.25) + 0.5*2000/(4*500*math.Pow(20, 0.25))
	near(t, "cooling", rec.End[0], 290+math.Pow(x, -4), 1e-5)
}

func closes(t testing.TB, rec *Record) {
	t.Helper()
	e := rec.Energy
	scale := math.Max(math.Max(math.Abs(e.In), math.Abs(e.Out)), math.Abs(e.Stored))
	if miss := e.In - e.Out - e.Stored; math.Abs(miss) > 1e-9*scale {
		t.Errorf("in %g, out %g, stored %g J: %g J is missing", e.In, e.Out, e.Stored, miss)
	}
}

// A feed whose heat is the copper's comes to the same as the source that knows it.
func TestFeedExact(t *testing.T) {
	const zero = 273.15
	s := system(t, example(9))
	free := example(9)
	free.Sources = nil
	fed := system(t, free)
	feed := func(n *Now) { n.Heat[0] = 81 * 0.836 * (1 + 0.0039*(n.Temperatures[0]-zero-25)) }
	legs := []Leg{{Duration: 40}, {Duration: 50}}
	for _, tolerance := range []float64{1e-3, 1e-5} {
		var a, b Record
		if err := NewRunner(s).Run(&Duty{Legs: legs, Every: 1, Tolerance: 1e-8}, &a); err != nil {
			t.Fatal(err)
		}
		if err := NewRunner(fed).Run(&Duty{Legs: legs, Every: 1, Tolerance: tolerance, Feed: feed}, &b); err != nil {
			t.Fatal(err)
		}
		worst := 0.0
		for i := range a.Times {
			worst = math.Max(worst, math.Abs(a.Row(i)[0]-b.Row(i)[0]))
		}
		if worst > 10*tolerance {
			t.Errorf("tolerance %g K: %g K off", tolerance, worst)
		}
		closes(t, &b)
		if b.Calls > b.Steps+b.Refused+2 {
			t.Errorf("%d calls for %d steps", b.Calls, b.Steps)
		}
		t.Logf("tolerance %g K: off by %.2g K, %d steps, %d refused, %d calls", tolerance, worst, b.Steps, b.Refused, b.Calls)
	}
	m := exampleMotor()
	for _, current := range []float64{2, 3.262, 4.4} {
		one := func(n *Now) { n.Heat[0] = current * current * 0.836 * (1 + 0.0039*(n.Temperatures[0]-zero-25)) }
		y, err := NewRunner(fed).Steady(nil, nil, nil, one, 2500)
		if err != nil {
			t.Fatal(current, err)
		}
		near(t, "steady current", m.ContinuousCurrent(y[0]), current, 1e-7)
	}
	far := func(n *Now) { n.Heat[0] = 49 * 0.836 * (1 + 0.0039*(n.Temperatures[0]-zero-25)) }
	var u *Unsolved
	if _, err := NewRunner(fed).Steady(nil, nil, nil, far, 0); !errors.As(err, &u) || u.Reason != Runaway || u.Node != "winding" {
		t.Errorf("7 A settled: %v", err)
	}
	bad := func(n *Now) { n.Heat[0] = math.NaN() }
	var rec Record
	if err := NewRunner(fed).Run(&Duty{Legs: legs, Feed: bad}, &rec); !errors.As(err, &u) || u.Reason != NotFinite || u.Node != "winding" {
		t.Errorf("a heat that is not a number: %v", err)
	}
}

// Flows that the feed changes act as those of legs do, and energy closes.
func TestFeedFlowExact(t *testing.T) {
	n := Network{
		Nodes:        []Node{{Name: "water", Fixed: true, Start: 290}, {Name: "motor", Capacity: 800, Start: 290}, {Name: "coolant", Start: 290}},
		Conductances: []Conductance{{Name: "wet", From: "motor", To: "coolant", Value: 40, Still: 1, Law: ByFlow, Stream: "coolant", Reference: 50, Exponent: 0.8}},
		Streams:      []Stream{{Name: "coolant", Flow: 50, Path: []string{"water", "coolant"}}},
		Sources:      []Source{{Name: "copper", Node: "motor", Power: 900, Alpha: 0.004, Reference: 293}},
	}
	s := system(t, n)
	r := NewRunner(s)
	var legs, fed Record
	if err := r.Run(&Duty{Legs: []Leg{{Duration: 60}, {Duration: 60, Flow: []float64{10}}, {Duration: 80, Flow: []float64{70}}}, Every: 1}, &legs); err != nil {
		t.Fatal(err)
	}
	feed := func(n *Now) {
		switch {
		case n.Time < 60:
			n.Flow[0] = 50
		case n.Time < 120:
			n.Flow[0] = 10
		default:
			n.Flow[0] = 70
		}
	}
	if err := r.Run(&Duty{Legs: []Leg{{Duration: 200}}, Every: 1, LongStep: 0.1, Feed: feed}, &fed); err != nil {
		t.Fatal(err)
	}
	closes(t, &legs)
	closes(t, &fed)
	worst := 0.0
	for i := range legs.Times {
		worst = math.Max(worst, math.Abs(legs.Row(i)[1]-fed.Row(i)[1]))
	}
	if worst > 0.3 { // the feed is heard at ends of steps: a tenth of a second late, at 1.1 K/s at most
		t.Errorf("%g K apart", worst)
	}
}

// random makes a network that may be solved: every node has a way to the water.
func random(r *rand.Rand) Network {
	var n Network
	size := 2 + r.IntN(14)
	name := func(i int) string { return fmt.Sprintf("node %d", i) }
	n.Nodes = append(n.Nodes, Node{Name: "water", Fixed: true, Start: 285})
	capacities := false
	for i := range size {
		c := math.Exp(7*r.Float64() - 1)
		if r.IntN(5) == 0 && (capacities || i < size-1) {
			c = 0
		} else {
			capacities = true
		}
		n.Nodes = append(n.Nodes, Node{Name: name(i), Capacity: c, Start: 285 + 40*r.Float64()})
		to := "water"
		if i > 0 {
			to = name(r.IntN(i))
		}
		n.Conductances = append(n.Conductances, Conductance{Name: fmt.Sprint("tree ", i), From: name(i), To: to, Value: math.Exp(6*r.Float64() - 2)})
		if i > 1 && r.IntN(2) == 0 {
			to := name(r.IntN(i - 1))
			x := Conductance{Name: fmt.Sprint("loop ", i), From: name(i), To: to, Value: math.Exp(4*r.Float64() - 2)}
			if r.IntN(3) == 0 {
				x.Law, x.Reference, x.Exponent = ByDifference, 20, 0.25+0.1*r.Float64()
			}
			n.Conductances = append(n.Conductances, x)
		}
		if r.IntN(2) == 0 {
			n.Sources = append(n.Sources, Source{Name: fmt.Sprint("heat ", i), Node: name(i), Power: 20 * r.Float64(), Alpha: 0.004 * float64(r.IntN(2)), Reference: 293})
		}
	}
	if size > 3 {
		n.Streams = append(n.Streams, Stream{Name: "coolant", Flow: 10 * r.Float64(), Path: []string{"water", name(1), name(2), name(3)}})
	}
	return n
}

// In any network what goes in is stored or goes out, at the end of any run; the steady state is
// that in which a run stays; heat spreads: without sources no temperature leaves those of the start.
func TestNetworkLaw(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		rnd := rand.New(rand.NewPCG(rapid.Uint64().Draw(rt, "seed"), 7))
		n := random(rnd)
		s, err := NewSystem(n)
		if err != nil {
			rt.Fatal(err)
		}
		run := NewRunner(s)
		var rec Record
		d := Duty{Every: 7}
		for range 1 + rnd.IntN(4) {
			p := s.Powers()
			for i := range p {
				p[i] *= 2 * rnd.Float64()
			}
			f := s.Flows()
			for i := range f {
				f[i] *= 2 * rnd.Float64()
			}
			d.Legs = append(d.Legs, Leg{Duration: math.Exp(6 * rnd.Float64()), Power: p, Flow: f})
		}
		if rnd.IntN(2) == 0 {
			k := s.free[rnd.IntN(len(s.free))]
			d.Feed = func(n *Now) { n.Heat[k] = 5 + 0.01*n.Temperatures[k] }
		}
		var u *Unsolved
		if err := run.Run(&d, &rec); err != nil && (!errors.As(err, &u) || u.Reason != Runaway) {
			rt.Fatal(err)
		}
		e := rec.Energy
		scale := math.Max(1, math.Max(math.Max(math.Abs(e.In), math.Abs(e.Out)), math.Abs(e.Stored))) // a run that ends at once moves rounding alone
		if miss := e.In - e.Out - e.Stored; math.Abs(miss) > 1e-9*scale {
			rt.Fatalf("in %g, out %g, stored %g J: %g J is missing", e.In, e.Out, e.Stored, miss)
		}
		y, err := run.Steady(nil, nil, nil, nil, 0)
		if err == nil {
			if err := run.Run(&Duty{Legs: []Leg{{Duration: 1000}}, Start: y}, &rec); err != nil {
				rt.Fatal(err)
			}
			for i := range y {
				if math.Abs(rec.End[i]-y[i]) > 1e-5 {
					rt.Fatalf("%s is steady at %g K and goes to %g K", s.Names[i], y[i], rec.End[i])
				}
			}
		} else if !errors.As(err, &u) || u.Reason != Runaway {
			rt.Fatal(err)
		}
		none := s.Powers()
		clear(none)
		if err := run.Run(&Duty{Legs: []Leg{{Duration: 500, Power: none}}}, &rec); err != nil {
			rt.Fatal(err)
		}
		low, high := 285.0, 285.0
		for _, x := range n.Nodes {
			low, high = math.Min(low, x.Start), math.Max(high, x.Start)
		}
		for i := range rec.Peak {
			if rec.Peak[i] > high+5e-3 || rec.End[i] < low-5e-3 {
				rt.Fatalf("%s from %g to %g K leaves %g to %g K", s.Names[i], rec.End[i], rec.Peak[i], low, high)
			}
		}
	})
}

// Everything wrong is said at once, with its name and what would be right.
func TestNetworkFaultsExact(t *testing.T) {
	n := Network{
		Nodes: []Node{
			{Name: "water", Fixed: true, Start: 290},
			{Name: "winding", Capacity: -3, Start: 290},
			{Name: "lonely", Capacity: 5, Start: 290},
			{Name: "winding", Capacity: 3, Start: 290},
			{Name: "", Start: 290},
			{Name: "cold", Start: -4},
		},
		Conductances: []Conductance{{Name: "a", From: "winding", To: "watr", Value: 1}, {Name: "b", From: "winding", To: "water"}, {Name: "b", From: "winding", To: "winding", Value: -1}},
		Streams:      []Stream{{Name: "coolant", Flow: -1, Path: []string{"water"}}},
		Sources:      []Source{{Name: "s", Node: "water", Power: math.Inf(1)}},
	}
	_, err := NewSystem(n)
	var list notice.List
	if !errors.As(err, &list) {
		t.Fatal(err)
	}
	text := err.Error()
	for _, want := range []string{
		`node "winding" has a heat capacity of -3 J/K`, `two of node "winding"`, `node 5 has no name`, `"cold" starts at -4 K`,
		`names node "watr", which there is none of; one of`, `conductance "b" is 0 W/K`, `two of conductance "b"`, `joins node "winding" to itself`, `conductance "b" is -1 W/K`,
		`stream "coolant" flows with -1`, `goes through 1 nodes`, `heats node "water", which is held`, `makes +Inf W`,
	} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not said in\n%s", want, text)
		}
	}
	n = example(1)
	n.SetNode(Node{Name: "lonely", Capacity: 5, Start: 290})
	if _, err = NewSystem(n); err == nil || !strings.Contains(err.Error(), `nothing cools node "lonely"`) {
		t.Errorf("a lonely node: %v", err)
	}
	n.SetConductance(Conductance{Name: "lonely to housing", From: "lonely", To: "housing", Value: 1})
	if _, err = NewSystem(n); err != nil {
		t.Error(err)
	}
	for name, d := range map[string]Duty{
		"no legs": {}, "a leg of nothing": {Legs: []Leg{{}}}, "too few powers": {Legs: []Leg{{Duration: 1, Power: []float64{}}}},
		"a bound nowhere": {Legs: []Leg{{Duration: 1}}, Bounds: []Bound{{"nowhere", 3}}}, "a short start": {Legs: []Leg{{Duration: 1}}, Start: []float64{300}},
		"a negative tolerance": {Legs: []Leg{{Duration: 1}}, Tolerance: -1},
	} {
		var rec Record
		if err := NewRunner(system(t, example(1))).Run(&d, &rec); err == nil {
			t.Errorf("%s was taken", name)
		}
	}
}

// A network of any names and numbers is refused with reasons or runs to an end or a named reason.
func FuzzNetwork(f *testing.F) {
	f.Add([]byte("water winding 3 housing"), 1.0, 2.0, 3.0)
	f.Add([]byte{0, 1, 2, 3, 4, 5, 6, 7}, 0.0, -1.0, 1e300)
	f.Fuzz(func(t *testing.T, shape []byte, a, b, c float64) {
		names := []string{"a", "b", "c", "d", "e", "", "water"}
		pick := func(i int) string {
			if len(shape) == 0 {
				return "a"
			}
			return names[int(shape[i%len(shape)])%len(names)]
		}
		numbers := []float64{a, b, c, 1, 300, 0.5}
		number := func(i int) float64 {
			if len(shape) == 0 {
				return a
			}
			return numbers[int(shape[i%len(shape)])%len(numbers)]
		}
		n := Network{Nodes: []Node{{Name: "water", Fixed: true, Start: 290}}}
		for i := range min(len(shape), 12) {
			switch shape[i] % 4 {
			case 0:
				n.Nodes = append(n.Nodes, Node{Name: pick(i + 1), Capacity: number(i + 2), Start: number(i + 3)})
			case 1:
				n.Conductances = append(n.Conductances, Conductance{Name: pick(i + 1), From: pick(i + 2), To: pick(i + 3), Value: number(i + 4), Law: Law(shape[i] / 64), Stream: pick(i + 5), Reference: number(i + 5), Exponent: number(i + 6)})
			case 2:
				n.Streams = append(n.Streams, Stream{Name: pick(i + 1), Flow: number(i + 2), Path: []string{pick(i + 3), pick(i + 4), pick(i + 5)}})
			case 3:
				n.Sources = append(n.Sources, Source{Name: pick(i + 1), Node: pick(i + 2), Power: number(i + 3), Alpha: number(i + 4), Reference: number(i + 5)})
			}
		}
		s, err := NewSystem(n)
		if err != nil {
			if err.Error() == "" {
				t.Fatal("refused without a reason")
			}
			return
		}
		r := NewRunner(s)
		var rec Record
		var u *Unsolved
		if err := r.Run(&Duty{Legs: []Leg{{Duration: 10}}, Every: 5}, &rec); err != nil {
			if !errors.As(err, &u) || u.Error() == "" {
				t.Fatal(err)
			}
			return
		}
		for _, x := range rec.End {
			if !finite(x) {
				t.Fatalf("an end of %g", x)
			}
		}
		if y, err := r.Steady(nil, nil, nil, nil, 0); err == nil {
			for _, x := range y {
				if !finite(x) {
					t.Fatalf("steady at %g", x)
				}
			}
		} else if !errors.As(err, &u) {
			t.Fatal(err)
		}
	})
}
