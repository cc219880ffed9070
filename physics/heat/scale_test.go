package heat

import (
	"math"
	"testing"

	"jetwright/quantity"
)

// units are factors by which metre, kilogram, second, ampere and kelvin are changed.
type units struct{ metre, kilogram, second, ampere, kelvin float64 }

func (u units) of(d quantity.Dim) float64 {
	return math.Pow(u.metre, float64(d.Length)) * math.Pow(u.kilogram, float64(d.Mass)) * math.Pow(u.second, float64(d.Time)) *
		math.Pow(u.ampere, float64(d.Current)) * math.Pow(u.kelvin, float64(d.Temperature))
}

func resize(t *testing.T, ptr any, u units) {
	t.Helper()
	schema, err := quantity.SchemaOf(ptr)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range schema.Fields() {
		if f.Kind != quantity.KindNumber && f.Kind != quantity.KindOptional {
			continue
		}
		if x, ok := schema.Get(ptr, f); ok {
			schema.Set(ptr, f, x*u.of(f.Unit.Dim))
		}
	}
}

// circuitUnits are the inputs of a circuit that carry units.
type circuitUnits struct {
	Hose    Hose
	Channel Channel
	Outlet  Outlet
	Fluid   Fluid
	Keel    KeelPlate
	Path    WaterPath
	Kinetic float64 `unit:"Pa" doc:"pressure"`
	Gravity float64 `unit:"m/s²" doc:"gravity"`
	Air     float64 `unit:"Pa" doc:"air"`
	Speed   float64 `unit:"m/s" doc:"speed"`
	Voltage float64 `unit:"V" doc:"voltage"`
}

type circuitOut struct {
	Circuit  CircuitState
	Transfer Transfer
	Cost     TapCost
	Drop     float64 `unit:"Pa" doc:"drop"`
	Keel     float64 `unit:"W/K" doc:"conductance"`
	Path     float64 `unit:"Ω" doc:"resistance"`
	Leak     float64 `unit:"A" doc:"current"`
}

func circuitIn(t *testing.T, u *units) *circuitOut {
	in := circuitUnits{
		Hose:   Hose{Name: "hose", Length: 1, Bore: 0.008, Roughness: 3e-6, Loss: 2, HighPoint: 0.1, Rise: quantity.Some(0.3)},
		Outlet: Outlet{Name: "side", Bore: 0.007, Height: 0.05}, Fluid: Fluid{999, 1.1e-3, 0.59, 4190},
		Channel: Channel{Name: "plate", Shape: "rectangular", Width: 0.01, Depth: 0.004, Length: 0.8, Passages: 1, Turns: 4, TurnLoss: 1.5, Loss: 2, Roughness: 5e-6, Heated: 0.5},
		Keel:    KeelPlate{Length: 0.3, Width: 0.1, Thickness: 0.003, Conductivity: 150, StillTransfer: 300}, Path: WaterPath{Length: 1, Bore: 0.008, Resistivity: 0.2},
		Kinetic: 60000, Gravity: 9.8, Air: 1e5, Speed: 3, Voltage: 50,
	}
	if u != nil {
		resize(t, &in, *u)
	}
	c := Circuit{
		Taps: []Tap{{Name: "tap", PerKinetic: 1}}, Outlets: []Outlet{in.Outlet},
		Lines: []Line{{Name: "main", From: "tap", To: "side", Elements: []Element{&in.Hose, &in.Channel}}},
	}
	s, err := c.Solve(Operating{Kinetic: in.Kinetic, Gravity: in.Gravity, AirPressure: in.Air}, in.Fluid)
	if err != nil {
		t.Fatal(err)
	}
	return &circuitOut{
		Circuit: s, Transfer: in.Channel.Transfer(s.Flow, in.Fluid), Cost: NewTapCost(in.Fluid.Density, s.Flow, TapSpeeds{4 * in.Speed, in.Speed, 0}, in.Kinetic),
		Drop: LaminarDrop(in.Fluid.Viscosity, in.Hose.Length, s.Flow, in.Hose.Bore), Keel: in.Keel.Outside(in.Speed, in.Fluid), Path: in.Path.Resistance(), Leak: in.Path.Leak(in.Voltage),
	}
}

// nodeUnits are a node, as numbers that carry units, heated for a while.
type nodeUnits struct {
	Capacity     float64 `unit:"J/K" doc:"capacity"`
	Conductance  float64 `unit:"W/K" doc:"conductance"`
	Surroundings float64 `unit:"K" doc:"surroundings"`
	Power        float64 `unit:"W" doc:"power"`
	Alpha        float64 `unit:"1/K" doc:"growth"`
	Duration     float64 `unit:"s" doc:"duration"`
	Tolerance    float64 `unit:"K" doc:"tolerance"`
	Ceiling      float64 `unit:"K" doc:"ceiling"`
}

type nodeOut struct {
	End    float64 `unit:"K" doc:"end"`
	Steady float64 `unit:"K" doc:"steady"`
	In     float64 `unit:"J" doc:"heat"`
	Out    float64 `unit:"J" doc:"heat"`
	At     float64 `unit:"K" doc:"closed form"`
	Growth float64 `unit:"1/s" doc:"growth"`
	To     float64 `unit:"s" doc:"time"`
}

func nodeIn(t *testing.T, u *units) *nodeOut {
	in := nodeUnits{200, 2, 290, 100, 0.004, 150, 1e-6, 1500}
	if u != nil {
		resize(t, &in, *u)
	}
	n := OneNode{Capacity: in.Capacity, Conductance: in.Conductance, Surroundings: in.Surroundings, Power: in.Power, Alpha: in.Alpha, Reference: in.Surroundings}
	s := system(t, Network{
		Nodes:        []Node{{Name: "a", Capacity: n.Capacity, Start: n.Surroundings}, {Name: "b", Fixed: true, Start: n.Surroundings}},
		Conductances: []Conductance{{Name: "g", From: "a", To: "b", Value: n.Conductance}},
		Sources:      []Source{{Name: "p", Node: "a", Power: n.Power, Alpha: n.Alpha, Reference: n.Reference}},
	})
	r := NewRunner(s)
	var rec Record
	if err := r.Run(&Duty{Legs: []Leg{{Duration: in.Duration}}, Tolerance: in.Tolerance, Ceiling: in.Ceiling}, &rec); err != nil {
		t.Fatal(err)
	}
	y, err := r.Steady(nil, nil, nil, nil, in.Ceiling)
	if err != nil {
		t.Fatal(err)
	}
	at := n.At(n.Surroundings, in.Duration)
	to, _ := n.TimeTo(n.Surroundings, at)
	return &nodeOut{rec.End[0], y[0], rec.Energy.In, rec.Energy.Out, at, n.Growth(), to}
}

// With other sizes of the units every output follows its own: nothing has a constant with a unit typed in, but for the
// hundredth of a kelvin of natural convection, the film of still air, and the steps of searches.
func TestHeatScalesLaw(t *testing.T) {
	for name, ask := range map[string]func(u *units) any{
		"circuit": func(u *units) any { return circuitIn(t, u) },
		"node":    func(u *units) any { return nodeIn(t, u) },
	} {
		for i, u := range []units{{1.7, 1, 1, 1, 1}, {1, 0.6, 1, 1, 1}, {1, 1, 1.3, 1, 1}, {1, 1, 1, 2.1, 1}, {1, 1, 1, 1, 1.9}, {1.3, 2.2, 0.7, 0.4, 1.2}} {
			want, got := ask(nil), ask(&u)
			resize(t, want, u)
			schema, err := quantity.SchemaOf(want)
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range schema.Fields() {
				w, ok := schema.Get(want, f)
				g, _ := schema.Get(got, f)
				if ok && math.Abs(g-w) > 1e-7*math.Abs(w) {
					t.Errorf("%s, units %d: %s is %g, its unit says %g", name, i, f.Path, g, w)
				}
			}
		}
	}
}
