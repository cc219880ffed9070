package heat

import (
	"math"
	"strings"
	"testing"

	"jetwright/physics/water"
	"jetwright/quantity"

	"pgregory.net/rapid"
)

// way makes parts of kinds with the sizes of a small drive.
func way(kinds ...string) []Part {
	var parts []Part
	for _, k := range kinds {
		parts = append(parts, Part{
			Kind: k,
			Tap:  Tap{PerKinetic: 1.03}, Outlet: Outlet{Bore: 0.008, Height: -0.05},
			Hose:    Hose{Length: 0.6, Bore: 0.007, Roughness: 3e-6, Loss: 2, HighPoint: -0.02},
			Fitting: Fitting{Bore: 0.006, Loss: 16},
			Plate:   Channel{Shape: "rectangular", Width: 0.01, Depth: 0.004, Length: 0.8, Passages: 1, Turns: 4, TurnLoss: 1.5, Loss: 2, Roughness: 5e-6, Heated: 0.6, HighPoint: -0.02},
			Jacket:  Channel{Shape: "ring", Width: 0.09, Depth: 0.002, Length: 0.1, Passages: 1, Loss: 2, Roughness: 5e-6, Heated: 0.5, HighPoint: -0.02},
			Pump:    Pump{Shutoff: 30e3, MaxFlow: 2e-4, Power: 14},
			Keel: Keel{
				Channel: Channel{Shape: "rectangular", Width: 0.012, Depth: 0.005, Length: 1.5, Passages: 1, Loss: 2, Roughness: 5e-6, Heated: 0.5, HighPoint: -0.02},
				Plate:   KeelPlate{Length: 0.3, Width: 0.12, Thickness: 0.003, Conductivity: 160, StillTransfer: 250},
			},
		})
	}
	return parts
}

var fresh = water.Water{Kind: "fresh", Temperature: 288.15}

func lay(t testing.TB, parts []Part, still float64) *Table {
	t.Helper()
	l, faults := NewLayout(parts)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	table, err := NewTable(l, Setting{Water: fresh, Gravity: 9.80665, StillLoss: still, Cooling: Cooling{PlateToCoolant: 0.02, JacketToCoolant: 0.01, First: "controller"}})
	if err != nil {
		t.Fatal(err)
	}
	return table
}

// One narrow place of loss K and an outlet of the same bore pass what Cooling.Flow says of K + 1, at every speed
// of the jet, and plate and jacket that are not typed keep their resistances.
func TestOnePlaceIsCoolingExact(t *testing.T) {
	parts := way(KindTap, KindFitting, KindOutlet)
	parts[2].Outlet.Bore = parts[1].Fitting.Bore
	table := lay(t, parts, 2)
	c := Cooling{TapDiameter: 0.006, LossCoefficient: 17, PlateToCoolant: 0.02, JacketToCoolant: 0.01, First: "controller", StillLoss: 2}
	rho := table.Fluid.Density
	for v := 1.0; v < 60; v *= 1.07 {
		q := c.Flow(1.03*rho/2*v*v, rho)
		s := table.At(v, 0)
		re := rho * q / area(0.006) * 0.006 / table.Fluid.Viscosity
		near(t, "Q", s.Flow/q, 1, 26/(re*re)+1e-7) // the loss is smoothed round Reynolds number 10: (10/Re)²/4 is left of it
		carried := q*rho*table.Fluid.SpecificHeat + 2
		l := Load{CoolantFlow: q, Carried: carried, Inlet: 288, Motor: 500, Controller: 90, BridgeToPlate: 0.05}
		near(t, "bridge", s.Steady(l).BridgeTemperature, c.Steady(l).BridgeTemperature, 1e-3)
		near(t, "jacket", s.Steady(l).JacketTemperature, c.Steady(l).JacketTemperature, 1e-3)
	}
	if table.Filled != 0 || table.At(0, 0).Flow != 0 {
		t.Errorf("at rest %g m³/s flow; filled at %g m/s", table.At(0, 0).Flow, table.Filled)
	}
}

// By hand: a wall of one temperature lies P/(C·ε) above its inlet, the jacket behind the plate begins P/C warmer; water that stands
// gives all heat to the surroundings.
func TestStreamsExact(t *testing.T) {
	table := lay(t, way(KindTap, KindHose, KindPlate, KindHose, KindJacket, KindOutlet), 2)
	l := Load{Inlet: 288.15, Motor: 500, Controller: 90, BridgeToPlate: 0.05}
	s := table.At(9, 0)
	c := s.Flow*table.Fluid.Density*table.Fluid.SpecificHeat + 2
	state, err := table.Solve(9)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "table against solve", s.Flow/state.Flow, 1, 1e-3)
	plate := table.Layout.Parts[2].Plate
	jacket := table.Layout.Parts[4].Jacket
	g := func(ch Channel) float64 { return ch.Transfer(s.Flow, table.Fluid).Conductance }
	st := s.Steady(l)
	near(t, "bridge", st.BridgeTemperature, 288.15+90*(0.05+1/(c*(1-math.Exp(-g(plate)/c)))), 2e-4)
	near(t, "jacket", st.JacketTemperature, 288.15+90/c+500/(c*(1-math.Exp(-g(jacket)/c))), 1e-2)
	near(t, "outlet", st.CoolantOutlet, 288.15+590/c, 1e-9)
	near(t, "still jacket", table.At(0, 0).Steady(l).JacketTemperature, 288.15+590.0/2, 1e-3) // the wall itself takes a little

	// turned round, the motor warms the controller
	table = lay(t, way(KindTap, KindHose, KindJacket, KindHose, KindPlate, KindOutlet), 2)
	if s = table.At(9, 0); s.ToPlate != 1 || s.ToJacket != 0 {
		t.Errorf("shares %g and %g", s.ToPlate, s.ToJacket)
	}

	// a closed loop: what the keel plate gives away is what came in
	table = lay(t, way(KindPump, KindPlate, KindHose, KindJacket, KindHose, KindKeel), 1e-9)
	for _, craft := range []float64{0, 4} {
		s = table.At(7, craft)
		rate := s.Flow * table.Fluid.Density * table.Fluid.SpecificHeat
		st = s.Steady(l)
		keel := table.Layout.Parts[5].Keel
		u := 1 / (1/keel.Transfer(s.Flow, table.Fluid).Conductance + 1/keel.Plate.Outside(craft, table.Fluid))
		near(t, "given away", rate*Effectiveness(u/rate)*(st.CoolantOutlet-288.15), 590, 0.06) // the wall's conductance is read off straight pieces
		if s.Tapped != 0 || !(s.Return > 0) || table.Curve() != nil {
			t.Errorf("a closed loop takes %g m³/s from the jet", s.Tapped)
		}
	}
}

// Of two branches each takes its own part, and what joins again is mixed.
func TestBranchesExact(t *testing.T) {
	parts := way(KindTap, KindHose, KindPlate, KindHose, KindFitting, KindJacket, KindOutlet)
	parts[1].To = "split"
	parts[2].From, parts[2].To = "split", "join"
	parts[3].From, parts[3].To = "split", "join"
	parts[4].From = "join"
	table := lay(t, parts, 1e-9)
	s := table.At(10, 0)
	state, err := table.Solve(10)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "branches", (state.Lines[1].Flow+state.Lines[2].Flow)/state.Flow, 1, 1e-9)
	near(t, "to the jacket", s.ToJacket, 1, 1e-9)
	near(t, "back to the plate", s.ToPlate, 0, 1e-12)
	per := table.Fluid.Density * table.Fluid.SpecificHeat
	near(t, "plate's stream", s.PlateRate/(state.Lines[1].Flow*per), 1, 1e-3)
	near(t, "jacket's stream", s.JacketRate/(state.Flow*per), 1, 1e-3)

	// side by side neither warms the other
	parts = way(KindTap, KindHose, KindPlate, KindJacket, KindHose, KindOutlet)
	parts[1].To = "split"
	parts[2].From, parts[2].To = "split", "join"
	parts[3].From, parts[3].To = "split", "join"
	parts[4].From = "join"
	s = lay(t, parts, 1e-9).At(10, 0)
	if s.ToJacket != 0 || s.ToPlate != 0 {
		t.Errorf("shares %g and %g side by side", s.ToJacket, s.ToPlate)
	}
	// the plate ahead of a fork gives the jacket's branch its share
	parts = way(KindTap, KindPlate, KindJacket, KindHose, KindHose, KindOutlet)
	parts[1].To = "split"
	parts[2].From, parts[2].To = "split", "join"
	parts[3].From, parts[3].To = "split", "join"
	parts[4].From = "join"
	table = lay(t, parts, 1e-9)
	state, _ = table.Solve(10)
	near(t, "share of the branch", table.At(10, 0).ToJacket, state.Lines[1].Flow/state.Flow, 1e-3)
}

// By hand: a hose of 600 mm and 7 mm holds 0.6·ϱ/A; two of them side by side halve it; a loop with a keel plate ends there.
func TestWayToSeaExact(t *testing.T) {
	l, _ := NewLayout(way(KindTap, KindHose, KindPlate, KindHose, KindOutlet))
	one := 0.6 * 0.2 / (math.Pi / 4 * 49e-6)
	near(t, "two ways", l.WayToSea(KindPlate, 0.2)/(one/2), 1, 1e-6)
	near(t, "as the formula", WaterPath{Length: 0.6, Bore: 0.007, Resistivity: 0.2}.Resistance(), one, 1e-9)
	l, _ = NewLayout(way(KindTap, KindPlate, KindHose, KindHose, KindOutlet))
	if r := l.WayToSea(KindPlate, 0.2); r > 1e-3 {
		t.Errorf("a plate at the tap stands %g Ω from the sea", r)
	}
	l, _ = NewLayout(way(KindPump, KindHose, KindJacket, KindHose, KindHose, KindKeel))
	near(t, "to the keel", l.WayToSea(KindJacket, 0.2)/(one*2/3), 1, 1e-6) // one hose and the pump's way, two hoses in a row
	if !math.IsInf(l.WayToSea(KindPlate, 0.2), 1) {
		t.Error("a plate that is not there has a way to the sea")
	}
}

func TestLayoutFaults(t *testing.T) {
	for _, row := range []struct {
		kinds []string
		edit  func(p []Part)
		part  int
		want  string
	}{
		{[]string{KindHose, KindPlate}, nil, 0, "nothing drives the coolant"},
		{[]string{KindTap, KindHose, KindOutlet}, func(p []Part) { p[0].Tap.PerKinetic = -0.2 }, 0, "has no pressure"},
		{[]string{KindTap, KindHose}, nil, 0, "no way out"},
		{[]string{KindTap, KindHose}, nil, 1, "an outlet is missing"},
		{[]string{KindPump, KindHose, KindPlate}, nil, 0, "nothing takes the heat out"},
		{[]string{KindPump, KindHose, KindOutlet}, nil, 0, "that no tap takes in"},
		{[]string{KindTap, KindHose, KindKeel, KindOutlet}, nil, 0, "not closed"},
		{[]string{KindTap, KindPlate, KindPlate, KindOutlet}, nil, 2, "2 parts of kind"},
		{[]string{KindTap, KindHose, KindOutlet, KindHose, KindOutlet}, nil, 3, "no coolant comes to"},
		{[]string{KindTap, KindHose, KindHose, KindOutlet}, func(p []Part) { p[2].From = "there" }, 1, "goes nowhere"},
		{[]string{KindTap, KindHose, KindHose, KindOutlet}, func(p []Part) { p[1].To = "here" }, 2, "no coolant comes to"},
		{[]string{KindTap, KindHose, KindHose, KindOutlet}, func(p []Part) { p[1].To, p[2].From = "here", "there" }, 1, "no other part names"},
		{[]string{KindTap, KindHose, KindHose, KindOutlet}, func(p []Part) { p[1].Name, p[2].Name = "a", "a" }, 2, "two parts of the coolant"},
		{[]string{KindTap, KindHose, KindOutlet, KindOutlet}, nil, 3, "no part leads"},
		{[]string{KindTap, KindHose, KindOutlet, KindTap, KindHose, KindOutlet}, nil, 4, "hangs together with no other"},
		{[]string{KindKeel}, nil, 0, "nothing drives the coolant"},
		{[]string{KindTap, "hoze", KindOutlet}, nil, 1, "the kind of part 2"},
		{nil, nil, 0, "no parts"},
	} {
		parts := way(row.kinds...)
		if row.edit != nil {
			row.edit(parts)
		}
		_, faults := NewLayout(parts)
		found := false
		for _, f := range faults {
			found = found || f.Part == row.part && strings.Contains(f.What, row.want)
		}
		if !found {
			t.Errorf("%v: %q of part %d is not said: %v", row.kinds, row.want, row.part, faults)
		}
	}
}

// A high point is filled first at the speed whose pressure lifts water there, and no coolant flows below it.
func TestFillingExact(t *testing.T) {
	parts := way(KindTap, KindHose, KindPlate, KindHose, KindOutlet)
	parts[2].Plate.HighPoint = 0.4
	parts[1].Hose.Rise = quantity.Some(0.9)
	table := lay(t, parts, 2)
	want := math.Sqrt(2 * 9.80665 * 0.4 / 1.03)
	near(t, "filled at", table.Filled, want, 1e-4*want)
	near(t, "cleared at", table.Cleared, math.Sqrt(2*9.80665*0.9/1.03), 1e-3)
	near(t, "the pressure is enough there", table.Driving(table.Filled)/table.Filling, 1, 1e-4)
	if q := table.At(0.999*want, 0).Flow; q != 0 {
		t.Errorf("%g m³/s flow before the hose is full", q)
	}
	if q := table.At(fillingBand*1.001*want, 0).Flow; !(q > 1e-5) {
		t.Errorf("%g m³/s flow when it is", q)
	}
	mains := append([]Part(nil), parts...)
	mains[0].Tap.Pressure = quantity.Some(50e3)
	if m := lay(t, mains, 2); m.Filled != 0 || m.Curve() != nil || m.At(0, 0).Tapped != 0 || math.Abs(m.At(0, 0).Flow-m.At(12, 0).Flow) > 1e-15 || !(m.At(0, 0).Flow > 1e-5) {
		t.Errorf("mains water: %+v, filled at %g", m.At(12, 0), m.Filled)
	}
	parts[2].Plate.HighPoint = 2000
	if table = lay(t, parts, 2); !math.IsInf(table.Filled, 1) || table.At(40, 0).Flow != 0 {
		t.Errorf("a hill of 2 km is filled at %g m/s", table.Filled)
	}
}

// The table is what the solve says, at any speed that is off its filling; more bore is never less flow, and a
// clogged place never more, through the whole band from laminar to turbulent.
func TestTableLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		parts := way(KindTap, KindHose, KindPlate, KindFitting, KindJacket, KindHose, KindOutlet)
		between := func(name string, lo, hi float64) float64 {
			return lo * math.Exp(rapid.Float64Range(0, math.Log(hi/lo)).Draw(t, name))
		}
		parts[1].Hose.Bore = between("bore", 0.002, 0.015)
		parts[5].Hose.Bore = between("bore behind", 0.002, 0.015)
		parts[1].Hose.Length = between("length", 0.05, 5)
		parts[2].Plate.Depth = between("depth", 0.001, 0.008)
		parts[3].Fitting.Loss = between("loss", 0.1, 50)
		parts[6].Outlet.Height = rapid.Float64Range(-0.2, 0.5).Draw(t, "height")
		parts[5].Hose.HighPoint = rapid.Float64Range(-0.2, 0.5).Draw(t, "high point")
		lay := func(p []Part) *Table {
			l, faults := NewLayout(p)
			if len(faults) > 0 {
				t.Fatal(faults)
			}
			table, err := NewTable(l, Setting{Water: fresh, Gravity: 9.80665, StillLoss: 2})
			if err != nil {
				t.Fatal(err)
			}
			return table
		}
		table := lay(parts)
		wide := append([]Part(nil), parts...)
		wide[1].Hose.Bore *= between("more", 1.01, 1.5)
		wider := lay(wide)
		k := table.Layout.Narrowest()
		clogged := lay(Clogged(parts, k, rapid.Float64Range(0.05, 0.95).Draw(t, "open")))
		for v := 0.7; v < 45; v *= 1.31 {
			q := table.At(v, 0).Flow
			if v > table.Filled*fillingBand || v < table.Filled*(1-1e-4) {
				state, err := table.Solve(v)
				if err != nil {
					t.Fatal(err)
				}
				bound := 0.006
				for _, line := range state.Lines {
					for _, e := range line.Elements { // where laminar flow goes over, the law itself is good to a quarter
						if e.Reynolds > 1800 && e.Reynolds < 5000 {
							bound = 0.03
						}
					}
				}
				if math.Abs(q-state.Flow) > bound*state.Flow+2e-8 {
					t.Fatalf("at %g m/s the table says %g m³/s, the solve %g; filled at %g", v, q, state.Flow, table.Filled)
				}
			}
			if more := wider.At(v, 0).Flow; more < q*(1-1e-7)-1e-12 {
				t.Fatalf("at %g m/s more bore passes %g m³/s, not %g", v, more, q)
			}
			if less := clogged.At(v, 0).Flow; less > q*(1+1e-7)+1e-12 {
				t.Fatalf("at %g m/s a clogged place passes %g m³/s, clean %g", v, less, q)
			}
			for _, s := range []Streams{table.At(v, 0), clogged.At(v, 3)} {
				for _, x := range []float64{s.Carried, s.PlateRate, s.JacketRate, s.PlateToCoolant, s.JacketToCoolant} {
					if !(x > 0) || math.IsInf(x, 0) {
						t.Fatalf("at %g m/s %+v", v, s)
					}
				}
			}
		}
	})
}

func BenchmarkTable(b *testing.B) {
	l, _ := NewLayout(way(KindTap, KindHose, KindPlate, KindHose, KindJacket, KindHose, KindOutlet))
	for b.Loop() {
		if _, err := NewTable(l, Setting{Water: fresh, Gravity: 9.80665, StillLoss: 2}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkStreams(b *testing.B) {
	table := lay(b, way(KindTap, KindHose, KindPlate, KindHose, KindJacket, KindHose, KindOutlet), 2)
	b.ReportAllocs()
	for b.Loop() {
		table.At(9, 0)
	}
}

// What a network's streams carry is what the circuit says: past each part its own flow, in a loop as much back as out, and at the keel
// plate what keeps the steady circuit's rise, 1/r.
func TestTypedFlowsExact(t *testing.T) {
	series := lay(t, way(KindTap, KindHose, KindPlate, KindHose, KindJacket, KindOutlet), 2)
	parts := way(KindTap, KindPlate, KindJacket, KindHose, KindHose, KindOutlet) // the jacket on one branch behind the plate
	parts[1].To = "split"
	parts[2].From, parts[2].To = "split", "join"
	parts[3].From, parts[3].To = "split", "join"
	parts[4].From = "join"
	fork := lay(t, parts, 2)
	loop := lay(t, way(KindPump, KindPlate, KindHose, KindJacket, KindHose, KindKeel), 2)
	turned := lay(t, way(KindTap, KindHose, KindJacket, KindHose, KindPlate, KindOutlet), 2)
	for name, table := range map[string]*Table{"in series": series, "forked": fork, "closed": loop, "turned": turned} {
		per := table.Fluid.Density * table.Fluid.SpecificHeat
		s := table.At(9, 2)
		if table.PlateFirst() != (name != "turned") {
			t.Errorf("%s: the plate first is %t", name, table.PlateFirst())
		}
		f := table.Flows(9, 2, 1, false, table.PlateFirst())
		one, two := s.PlateRate-2, s.JacketRate-2 // without the still loss
		if name == "turned" {
			one, two = two, one
		}
		near(t, name+", first part", f.Coolant/one, 1, 1e-12)
		near(t, name+", second part", (f.Onward+f.Beside)/two, 1, 1e-12)
		near(t, name+", onward", f.Onward, math.Min(math.Max(s.ToJacket, s.ToPlate)*f.Coolant, two), 1e-9*two)
		if name == "closed" {
			near(t, "power of the pump", table.PumpPower(), 14, 0)
			near(t, "back in the loop", (f.Leaves+f.Return)/(f.Coolant+f.Beside), 1, 1e-12)
			near(t, "keel plate", f.Keel*s.Return, 1, 1e-3) // the circuit reads the wall's conductance off straight pieces
		} else if table.PumpPower() != 0 || f.Leaves != 0 || f.Return != 0 || f.Keel != 0 {
			t.Errorf("%s: %+v", name, f)
		}
		third := table.Flows(9, 2, 1.0/3, false, table.PlateFirst())
		near(t, name+", a third", third.Coolant/f.Coolant, 1.0/3, 1e-12)
		off := table.Flows(9, 2, 1, true, table.PlateFirst())
		if off.Onward != 0 || off.Beside != 0 || (off.Coolant == 0) != (name == "closed") {
			t.Errorf("%s, hose off: %+v", name, off)
		}
		near(t, name+", flow", s.Flow*per/s.Carried, 1-2/s.Carried, 1e-12)
	}
}
