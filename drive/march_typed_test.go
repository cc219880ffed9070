package drive

import (
	"math"
	"testing"

	"jetwright/physics/heat"
)

// ring is the small board with a closed loop, keel plate and pump.
func ring(t testing.TB) Drive {
	d := wet(t)
	keel := heat.Keel{
		Channel: heat.Channel{Shape: "rectangular", Width: 0.012, Depth: 0.005, Length: 1.5, Passages: 1, Loss: 2, Roughness: 5e-6, Heated: 0.5, HighPoint: 0.1},
		Plate:   heat.KeelPlate{Length: 0.3, Width: 0.12, Thickness: 0.003, Conductivity: 160, StillTransfer: 250},
	}
	d.Coolant = append(append([]heat.Part{{Kind: heat.KindPump, Pump: heat.Pump{Shutoff: 30e3, MaxFlow: 2e-4, Power: 14}}}, d.Coolant[1:6]...), heat.Part{Kind: heat.KindKeel, Keel: keel})
	return d
}

// beside is the small board with plate and jacket side by side.
func beside(t testing.TB) Drive {
	d := wet(t)
	c := d.Coolant
	c[1].To = "split"
	c[2].From, c[2].To = "split", "join"
	c[3].From = "split"
	c[4].To = "join"
	c[5].From = "join"
	return d
}

// isolated leaves heat no way out but the coolant.
func isolated(d Drive) Drive {
	d.Battery.Parallel = 40
	d.Cooling.StillLoss = 1e-6
	b := &d.Thermal
	b.EndTurnShare, b.StackShare, b.NoLoadIron, b.NoLoadMagnets, b.SealShare = 1e-3, 0.999, 1, 0, 0
	b.SealToWater, b.BearingToJacket, b.MountArea = 1e9, 1e6, 1e-12
	d.Battery.WiringResistance = 0
	b.CapacitorToPlate, b.PackContact = 1e9, 1
	return d
}

// With a coolant typed part by part a march has the flow of the drive's own state, and its plate and jacket settle where that
// state's exchange puts them: the wall above the part's inlet by P/C·1/(1 − e^(−NTU)), in series, side by side and in a
// closed loop, at rest and under way. Written down before the comparison: in the state motor and controller have the losses of
// its own temperatures, so that the march's own heat is put into the state's exchange.
func TestMarchTypedExact(t *testing.T) {
	for name, d := range map[string]Drive{"in series": wet(t), "side by side": beside(t), "closed": ring(t)} {
		d = isolated(d)
		for _, speed := range []float64{0, 3} {
			c := Condition{Demand: BatteryPower, Amount: 1500, Speed: speed}
			x := marcher(t, d)
			y, err := x.Steady(Leg{Seconds: 1, Condition: c}, d.Battery.Charge, nil)
			if err != nil {
				t.Fatal(err)
			}
			own, err := x.m.Solve(c)
			if err != nil {
				t.Fatal(err)
			}
			want := solve(t, d, c)
			if math.Abs(own.Heat.CoolantFlow/want.Heat.CoolantFlow-1) > 0.01 || !(own.Heat.CoolantFlow > 0) {
				t.Errorf("%s: %g m³/s on the march, %g in the state", name, own.Heat.CoolantFlow, want.Heat.CoolantFlow)
			}
			motor, controller := own.Motor.CopperLoss+own.Motor.NoLoadLoss, own.Supply.Heat()
			s := x.m.Coolant(own.Jet.JetVelocity, speed).Steady(heat.Load{Inlet: d.Water.Temperature, Motor: motor, Controller: controller})
			for _, k := range []struct {
				name       string
				have, want float64
			}{{"plate", y[x.at.plate], s.BridgeTemperature}, {"jacket", y[x.at.jacket], s.JacketTemperature}} {
				if rise := k.want - d.Water.Temperature; math.Abs(k.have-k.want) > 2e-3*rise {
					t.Errorf("%s at %g m/s: %s settles at %.4f K, by the circuit at %.4f K, a rise of %.3f K", name, speed, k.name, k.have, k.want, rise)
				}
			}
		}
	}
}

// Energy closes with typed coolant under every fault, no fault makes plate or jacket cooler, and a loop with its own pump goes on
// cooling at rest where tapped water stops.
func TestMarchTypedLaw(t *testing.T) {
	for name, d := range map[string]Drive{"in series": wet(t), "side by side": beside(t), "closed": ring(t)} {
		d.Battery.Parallel = 40
		x := marcher(t, d)
		c := Condition{Demand: BatteryPower, Amount: 2000}
		var whole *Marched
		for _, f := range []Fault{{}, {CoolantLost: 0.667}, {CoolantLost: 1}, {HoseOff: true}, {Dry: true}} {
			out := march(t, x, March{Every: 1, Soak: 300, Legs: []Leg{{Seconds: 120, Condition: c}, {Seconds: 200, Condition: c, Fault: f}}})
			if e := out.Energy; math.Abs(e.In-e.Out-e.Stored) > 1e-9*e.In {
				t.Errorf("%s, %+v: %.12g J in, %.12g J out, %.12g J stored", name, f, e.In, e.Out, e.Stored)
			}
			if whole == nil {
				whole = out
				flows := out.Rows[len(out.Rows)-1].CoolantFlow > 0
				if flows != x.m.coolant.Layout.Closed {
					t.Errorf("%s: at rest %g m³/s flow", name, out.Rows[len(out.Rows)-1].CoolantFlow)
				}
				continue
			}
			if !f.Dry && out.Peak[x.at.jacket] < whole.Peak[x.at.jacket]-1e-3 {
				t.Errorf("%s, %+v: the jacket peaks at %.3f K, without the fault at %.3f K", name, f, out.Peak[x.at.jacket], whole.Peak[x.at.jacket])
			}
		}
		n := 0.0
		p := March{Legs: []Leg{{Seconds: 600, Condition: c}, {Seconds: 60, Rest: true}}}
		var out Marched
		if err := x.Run(p, &out); err != nil {
			t.Fatal(err)
		}
		if n = testing.AllocsPerRun(2, func() { _ = x.Run(p, &out) }); n > 2 {
			t.Errorf("%s: %g allocations a march", name, n)
		}
	}
}

// Drives that share the tables of their coolant have the states of drives that make their own, to the last bit, whatever is moved
// between them: parts, water, nozzle, resistances, and back again.
func TestKeptCoolantExact(t *testing.T) {
	kept := wet(t)
	kept.KeepCoolant()
	moves := []func(*Drive){
		func(*Drive) {},
		func(d *Drive) { d.Motor.WindingResistance *= 1.1 },
		func(d *Drive) { d.Cooling.StillLoss *= 3 },
		func(d *Drive) { d.Water.Temperature += 7 },
		func(d *Drive) { d.Nozzle.Loss += 0.02 },
		func(d *Drive) {
			d.Coolant = append([]heat.Part(nil), d.Coolant...)
			d.Coolant[1].Hose.Bore *= 0.9
		},
		func(*Drive) {},
	}
	for i, move := range moves {
		a, b := kept, wet(t)
		move(&a)
		move(&b)
		c := Condition{Demand: BatteryPower, Amount: 1500, Speed: 1}
		if x, y := solve(t, a, c), solve(t, b, c); x != y {
			t.Errorf("move %d: %+v with tables kept, %+v without", i, x, y)
		}
	}
	if n := len(kept.laid.list); n != 4 {
		t.Errorf("%d tables were made of 4 circuits", n)
	}
}

// An element typed in the place of the default's is marched with: a winding tied to the water stays as cold as it, and one cut off from
// its iron is hotter.
func TestElementsExact(t *testing.T) {
	d := assumed(t)
	d.Battery.Parallel = 40
	p := March{Legs: []Leg{{Seconds: 300, Condition: Condition{Demand: BatteryPower, Amount: 1500}}}}
	free := march(t, marcher(t, d), p)
	d.Elements = []HeatElement{{Node: NodeWinding, To: NodeWater, Value: 1e6}}
	x := marcher(t, d)
	if tied := march(t, x, p); math.Abs(tied.Peak[x.at.winding]-d.Water.Temperature) > 0.01 {
		t.Errorf("a winding tied to the water peaks at %g K", tied.Peak[x.at.winding])
	}
	d.Elements = []HeatElement{{Node: heat.NodeIron, To: NodeWinding, Value: 0.5}}
	if apart := march(t, marcher(t, d), p); !(apart.Peak[x.at.winding] > free.Peak[x.at.winding]+20) {
		t.Errorf("cut off from its iron the winding peaks at %g K, else at %g K", apart.Peak[x.at.winding], free.Peak[x.at.winding])
	}
}
