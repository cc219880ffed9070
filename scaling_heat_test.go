package house

import (
	"testing"

	"jetwright/physics/heat"
	"jetwright/quantity"
)

// circuitUnits are the inputs of a circuit that carry units.
type circuitUnits struct {
	Hose    heat.Hose
	Channel heat.Channel
	Outlet  heat.Outlet
	Fluid   heat.Fluid
	Keel    heat.KeelPlate
	Path    heat.WaterPath
	Kinetic float64 `unit:"Pa" doc:"pressure"`
	Gravity float64 `unit:"m/s²" doc:"gravity"`
	Air     float64 `unit:"Pa" doc:"air"`
	Speed   float64 `unit:"m/s" doc:"speed"`
	Voltage float64 `unit:"V" doc:"voltage"`
}

type circuitOut struct {
	Circuit  heat.CircuitState
	Transfer heat.Transfer
	Cost     heat.TapCost
	Drop     float64 `unit:"Pa" doc:"drop"`
	Keel     float64 `unit:"W/K" doc:"conductance"`
	Path     float64 `unit:"Ω" doc:"resistance"`
	Leak     float64 `unit:"A" doc:"current"`
}

func circuitIn(t *testing.T, u *sizes) *circuitOut {
	in := circuitUnits{
		Hose:   heat.Hose{Name: "hose", Length: 1, Bore: 0.008, Roughness: 3e-6, Loss: 2, HighPoint: 0.1, Rise: quantity.Some(0.3)},
		Outlet: heat.Outlet{Name: "side", Bore: 0.007, Height: 0.05}, Fluid: heat.Fluid{Density: 999, Viscosity: 1.1e-3, Conductivity: 0.59, SpecificHeat: 4190},
		Channel: heat.Channel{Name: "plate", Shape: "rectangular", Width: 0.01, Depth: 0.004, Length: 0.8, Passages: 1, Turns: 4, TurnLoss: 1.5, Loss: 2, Roughness: 5e-6, Heated: 0.5},
		Keel:    heat.KeelPlate{Length: 0.3, Width: 0.1, Thickness: 0.003, Conductivity: 150, StillTransfer: 300}, Path: heat.WaterPath{Length: 1, Bore: 0.008, Resistivity: 0.2},
		Kinetic: 60000, Gravity: 9.8, Air: 1e5, Speed: 3, Voltage: 50,
	}
	if u != nil {
		rescale(t, &in, *u)
	}
	c := heat.Circuit{
		Taps: []heat.Tap{{Name: "tap", PerKinetic: 1}}, Outlets: []heat.Outlet{in.Outlet},
		Lines: []heat.Line{{Name: "main", From: "tap", To: "side", Elements: []heat.Element{&in.Hose, &in.Channel}}},
	}
	s, err := c.Solve(heat.Operating{Kinetic: in.Kinetic, Gravity: in.Gravity, AirPressure: in.Air}, in.Fluid)
	if err != nil {
		t.Fatal(err)
	}
	return &circuitOut{
		Circuit: s, Transfer: in.Channel.Transfer(s.Flow, in.Fluid), Cost: heat.NewTapCost(in.Fluid.Density, s.Flow, heat.TapSpeeds{Jet: 4 * in.Speed, Craft: in.Speed}, in.Kinetic),
		Drop: heat.LaminarDrop(in.Fluid.Viscosity, in.Hose.Length, s.Flow, in.Hose.Bore), Keel: in.Keel.Outside(in.Speed, in.Fluid), Path: in.Path.Resistance(), Leak: in.Path.Leak(in.Voltage),
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

func nodeIn(t *testing.T, u *sizes) *nodeOut {
	in := nodeUnits{200, 2, 290, 100, 0.004, 150, 1e-6, 1500}
	if u != nil {
		rescale(t, &in, *u)
	}
	n := heat.OneNode{Capacity: in.Capacity, Conductance: in.Conductance, Surroundings: in.Surroundings, Power: in.Power, Alpha: in.Alpha, Reference: in.Surroundings}
	s, err := heat.NewSystem(heat.Network{
		Nodes:        []heat.Node{{Name: "a", Capacity: n.Capacity, Start: n.Surroundings}, {Name: "b", Fixed: true, Start: n.Surroundings}},
		Conductances: []heat.Conductance{{Name: "g", From: "a", To: "b", Value: n.Conductance}},
		Sources:      []heat.Source{{Name: "p", Node: "a", Power: n.Power, Alpha: n.Alpha, Reference: n.Reference}},
	})
	if err != nil {
		t.Fatal(err)
	}
	r := heat.NewRunner(s)
	var rec heat.Record
	if err := r.Run(&heat.Duty{Legs: []heat.Leg{{Duration: in.Duration}}, Tolerance: in.Tolerance, Ceiling: in.Ceiling}, &rec); err != nil {
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
