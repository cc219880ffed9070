package drive

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"jetwright/physics/electric"
	"jetwright/physics/heat"
	"jetwright/quantity"
)

// closed is a drive whose heat has one way out: with the coolant.
func closed(t testing.TB) Drive {
	d := assumed(t)
	d.Battery.Parallel = 40
	d.Cooling.StillLoss = 1e-6
	b := &d.Thermal
	b.EndTurnShare, b.StackShare, b.NoLoadIron, b.NoLoadMagnets, b.SealShare = 1e-3, 0.999, 1, 0, 0
	b.SealToWater, b.BearingToJacket, b.MountArea, b.FlowExponent = 1e9, 1e6, 1e-12, 0
	d.Battery.WiringResistance = 0
	b.CapacitorToPlate, b.PackContact = 1e9, 1
	return d
}

// What a march settles at is the drive's steady state, but for three things that the network knows better. The
// coolant at a part is as warm as it leaves it, so that the jacket is warmer by half of what the coolant gains there;
// iron loss does not pass the slots' liner, so that the winding is cooler by liner share times resistance times
// iron loss; and with it the copper loss is that of the cooler winding. Written down before the comparison. With the
// network's own losses the figures are closed forms; the steady state, which has its own, is met within 3 % of the rise.
func TestMarchSteadyExact(t *testing.T) {
	d := closed(t)
	x := marcher(t, d)
	c := d.DutyCondition()
	s := solve(t, d, c)
	y, err := x.Steady(Leg{Seconds: 1, Condition: c}, d.Battery.Charge, nil)
	if err != nil {
		t.Fatal(err)
	}
	own, err := x.m.Solve(c) // at the temperatures that the network came to
	if err != nil {
		t.Fatal(err)
	}
	forms := func(s *State) (outlet, jacket, winding, bridge float64) {
		capacity := s.Heat.CoolantFlow * x.m.heatCapacity
		motor := s.Motor.CopperLoss + s.Motor.NoLoadLoss
		outlet = d.Water.Temperature + (motor+s.Supply.Heat())/capacity
		jacket = outlet + motor*d.Cooling.JacketToCoolant
		winding = jacket + d.Motor.WindingToJacket*(s.Motor.CopperLoss+(1-d.Thermal.LinerShare)*s.Motor.NoLoadLoss)
		bridge = d.Water.Temperature + s.Supply.Heat()*(1/capacity+d.Cooling.PlateToCoolant) + (s.Supply.Heat()-s.Supply.StandbyLoss)*d.Controller.BridgeToPlate
		return outlet, jacket, winding, bridge
	}
	outlet, jacket, winding, bridge := forms(&own)
	half := 0.5 * (s.Motor.CopperLoss + s.Motor.NoLoadLoss) / (s.Heat.CoolantFlow * x.m.heatCapacity)
	for _, k := range []struct {
		name                string
		have, closed, other float64
	}{
		{"coolant at its outlet", y[x.at.jacketCoolant], outlet, s.Heat.CoolantOutlet},
		{"jacket", y[x.at.jacket], jacket, s.Heat.JacketTemperature + half},
		{"winding", y[x.at.winding], winding, s.Motor.WindingTemperature + half - d.Thermal.LinerShare*d.Motor.WindingToJacket*s.Motor.NoLoadLoss},
		{"bridge", y[x.at.junction], bridge, s.Heat.BridgeTemperature + 0.5*s.Supply.Heat()/(s.Heat.CoolantFlow*x.m.heatCapacity) - d.Controller.BridgeToPlate*s.Supply.StandbyLoss},
	} {
		rise := k.have - d.Water.Temperature
		if math.Abs(k.have-k.closed) > 0.0005*rise {
			t.Errorf("%s settles at %.4f K, by the closed form at %.4f K, a rise of %.3f K", k.name, k.have, k.closed, rise)
		}
		if math.Abs(k.have-k.other) > 0.03*rise {
			t.Errorf("%s settles at %.4f K, by the steady state at %.4f K, a rise of %.3f K", k.name, k.have, k.other, rise)
		}
		t.Logf("%s: %.4f K, %.4f K and %.4f K", k.name, k.have, k.closed, k.other)
	}
	// a long march comes there
	p := March{Legs: []Leg{{Seconds: 4000, Condition: c}}}
	d.Battery.Parallel = 400 // the charge hardly falls
	x = marcher(t, d)
	out := march(t, x, p)
	y, err = x.Steady(p.Legs[0], out.Ending.Charge, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range []int{x.at.winding, x.at.jacket, x.at.junction, x.at.plate} {
		if math.Abs(out.End[k]-y[k]) > 0.02 {
			t.Errorf("node %s is at %.4f K after an hour and steady at %.4f K", x.Nodes[k], out.End[k], y[k])
		}
	}
}

// Common practice, no source: copper loss at rest grows as shaft power to the 4/3, so that from 5 to 11 kW it is 2.86 times,
// and a rise of 23 K becomes 66 K before hotter copper and warmer water are counted.
func TestMarchCopperGrowthLaw(t *testing.T) {
	d := closed(t)
	d.Motor.NoLoadCurrent, d.Shaft.SealTorque, d.Battery.Series, d.Battery.Parallel = 1e-9, 0, 20, 100
	d.Impeller.Diameter, d.Impeller.HubDiameter, d.Nozzle.Diameter = 0.15, 0.06, 0.1
	d.Duty.Thrust = quantity.Some(900)
	x := marcher(t, d)
	x.held = held{winding: 320, magnets: 300, bridge: 310}
	loss := func(w float64) float64 {
		s, err := x.m.Solve(Condition{Demand: ShaftPower, Amount: w})
		if err != nil {
			t.Fatal(err)
		}
		return s.Motor.CopperLoss
	}
	ratio := loss(11000) / loss(5000)
	if math.Abs(ratio-2.86) > 0.03 {
		t.Errorf("copper loss grows %.4g times, want 2.86", ratio)
	}
	if rise := 23 * ratio; math.Abs(rise-66) > 0.7 {
		t.Errorf("a rise of 23 K becomes %.4g K, want 66 K", rise)
	}
}

// The march's battery against the discharge of its own: two ways over the same cells, one over time with the drive
// around it, one over the charge.
func TestMarchEmptyLaw(t *testing.T) {
	d := assumed(t)
	d.Thermal.CellMass = quantity.Some(1e4) // cells that do not warm
	d.Battery.JointResistance = 0           // the one holds the cut-off at the cells, the other at the terminals
	for _, power := range []float64{800, 2000, 3000} {
		x := marcher(t, d)
		leg := Leg{Seconds: 7200, Condition: Condition{Demand: BatteryPower, Amount: power}}
		out := march(t, x, March{Legs: []Leg{{Seconds: 10, Rest: true}, leg, leg}})
		e := d.Battery.Discharge(power, electric.Relaxation{}, electric.CellHeat{Capacity: 1e9, ToAir: 1, Surroundings: d.Battery.Temperature})
		want := e.Time + 10
		if out.Ending.Kind != AtCutOff || e.End != electric.AtCutOff || math.Abs(out.Ending.Time-want) > 5e-4*want {
			t.Errorf("%g W: %s; by the discharge after %.5g s: %s", power, out.Ending, want, e.End)
		}
		t.Logf("%s (%.5g s by the discharge)", out.Ending, want)
		if n := len(out.Rows); n != 0 {
			t.Errorf("%d rows that nobody asked for", n)
		}
	}
}

// What cannot be met ends by name, with the leg and the time at which it was asked for, and keeps what came before.
func TestMarchEndingsExact(t *testing.T) {
	d := assumed(t)
	x := marcher(t, d)
	w := func(p float64) Leg { return Leg{Seconds: 30, Condition: Condition{Demand: BatteryPower, Amount: p}} }
	out := march(t, x, March{Every: 1, Soak: 60, Legs: []Leg{w(500), w(800), w(90000), w(500), w(500)}})
	if out.Ending.Leg != 2 || math.Abs(out.Ending.Time-60) > 1e-9 || out.Ending.Kind != Unmeet || !strings.Contains(out.Ending.String(), "after 60 s in leg 3 of 5: the battery cannot deliver") {
		t.Errorf("ends: %+v", out.Ending)
	}
	if last := out.Rows[len(out.Rows)-1]; math.Abs(last.Time-120) > 1e-6 || last.Leg != 5 || last.Thrust != 0 {
		t.Errorf("the last row of the soak is %+v", last)
	}
	first := march(t, x, March{Every: 1, Legs: []Leg{w(90000)}})
	if first.Ending.Kind == Finished || first.Ending.Time != 0 {
		t.Errorf("a march that cannot begin: %+v", first.Ending)
	}
	if err := x.Run(March{Legs: []Leg{{Seconds: 0}}}, out); err == nil {
		t.Error("a leg of no time is marched")
	}
	if err := x.Run(March{}, out); err == nil {
		t.Error("no legs are marched")
	}
	d.Thermal.HousingTrip = quantity.Some(310)
	x = marcher(t, d)
	blocked := Leg{Seconds: 900, Condition: Condition{Demand: BatteryPower, Amount: 1500}, Fault: Fault{CoolantLost: 1}}
	out = march(t, x, March{Legs: []Leg{blocked}})
	if out.Ending.Kind != Tripped || math.Abs(out.AtEnding[x.at.jacket]-310) > 1e-3 {
		t.Errorf("%s, with the housing at %.5f K", out.Ending, out.AtEnding[x.at.jacket])
	}
	blocked.Fault.Frozen = true
	if out = march(t, x, March{Legs: []Leg{blocked}}); out.Ending.Kind != Finished || !(out.AtEnding[x.at.jacket] > 310) {
		t.Errorf("with a sensor that stands still: %s", out.Ending)
	}
}

// Less coolant and warmer water never make anything cooler, and rows and peaks hang on neither rows nor tolerance.
func TestMarchOrderLaw(t *testing.T) {
	d := assumed(t)
	d.Battery.Parallel = 40
	c := Condition{Demand: BatteryPower, Amount: 1800}
	run := func(water float64, f Fault, tolerance, every float64) (*Marcher, *Marched) {
		d := d
		d.Water.Temperature = water
		x := marcher(t, d)
		return x, march(t, x, March{Every: every, Tolerance: tolerance, Legs: []Leg{{Seconds: 200, Condition: c}, {Seconds: 300, Condition: c, Fault: f}, {Seconds: 200, Rest: true}}})
	}
	x, base := run(288, Fault{}, 0, 1)
	hotter := func(name string, more *Marched) {
		t.Helper()
		for _, k := range []int{x.at.winding, x.at.iron, x.at.magnets, x.at.jacket} {
			if more.Peak[k] < base.Peak[k]-1e-3 {
				t.Errorf("%s makes %s cooler: %.4f K after %.4f K", name, x.Nodes[k], more.Peak[k], base.Peak[k])
			}
		}
	}
	_, warm := run(298, Fault{}, 0, 1)
	hotter("warmer water", warm)
	for _, share := range []float64{0.5, 0.9, 1} {
		_, less := run(288, Fault{CoolantLost: share}, 0, 1)
		hotter("less coolant", less)
	}
	_, off := run(288, Fault{HoseOff: true}, 0, 1)
	hotter("a hose off", off)
	_, fine := run(288, Fault{CoolantLost: 1}, 1e-5, 1)
	_, rough := run(288, Fault{CoolantLost: 1}, 0, 7)
	for k := range fine.Peak {
		if math.Abs(fine.Peak[k]-rough.Peak[k]) > 0.05 {
			t.Errorf("%s peaks at %.4f K, by shorter steps at %.4f K", x.Nodes[k], rough.Peak[k], fine.Peak[k])
		}
	}
	for i, r := range rough.Rows {
		f := fine.Rows[7*i]
		if math.Abs(f.Time-r.Time) > 1e-9 || math.Abs(f.Charge-r.Charge) > 1e-5 || math.Abs(rough.Temperature(i, x.at.winding)-fine.Temperature(7*i, x.at.winding)) > 0.05 {
			t.Fatalf("row %d: %+v and %+v", i, r, f)
		}
	}
}

// At a held throttle without load the motor turns where its voltage is, and its seal warms.
func TestMarchDryLaw(t *testing.T) {
	d := assumed(t)
	d.Battery.Parallel = 40
	x := marcher(t, d)
	wet := Leg{Seconds: 120, Condition: Condition{Demand: BatteryPower, Amount: 1800}}
	dry := wet
	dry.Fault.Dry = true
	out := march(t, x, March{Every: 1, Legs: []Leg{wet, dry}})
	a, b := out.Rows[100], out.Rows[200]
	if b.Thrust != 0 || b.CoolantFlow != 0 || b.BatteryPower > 0.6*a.BatteryPower || b.RotorSpeed <= a.RotorSpeed {
		t.Errorf("dry: %+v, wet: %+v", b, a)
	}
	if out.Temperature(200, x.at.bearings) <= out.Temperature(119, x.at.bearings) {
		t.Error("a dry seal does not warm")
	}
	// a held throttle sags with the battery
	d.Battery.Parallel = 6
	x = marcher(t, d)
	hold := wet
	hold.Seconds, hold.Hold = 900, true
	out = march(t, x, March{Every: 1, Legs: []Leg{hold}})
	if first, last := out.Rows[0], out.Rows[len(out.Rows)-1]; math.Abs(first.BatteryPower-1800) > 1e-3 || last.BatteryPower >= first.BatteryPower {
		t.Errorf("held: %+v, then %+v", first, last)
	}
}

// Whatever the keys of [thermal] are typed as within what is possible, every node is cooled, the coolant stopped or not: a march
// ends by name, with finite temperatures and its energy closed.
func TestMarchPossibleLaw(t *testing.T) {
	s := schema(t)
	rnd := rand.New(rand.NewPCG(7, 11))
	for range 60 {
		d := assumed(t)
		d.Battery.Parallel = 40
		for _, f := range s.Fields() {
			if f.Section != "thermal" || f.Range == nil || f.Kind != quantity.KindNumber && f.Kind != quantity.KindOptional {
				continue
			}
			low, high, u := f.Range.Low, f.Range.High, rnd.Float64()
			v := low + (high-low)*u
			if low > 0 {
				v = low * math.Pow(high/low, u)
			}
			if f.Kind == quantity.KindOptional && rnd.IntN(2) == 0 {
				continue
			}
			s.Set(&d, f, v)
		}
		th := &d.Thermal
		if sum := th.CopperShare + th.IronShare + th.MagnetShare; sum > 0.95 {
			th.CopperShare, th.IronShare, th.MagnetShare = 0.9*th.CopperShare/sum, 0.9*th.IronShare/sum, 0.9*th.MagnetShare/sum
		}
		if sum := th.NoLoadIron + th.NoLoadMagnets; sum > 1 {
			th.NoLoadIron, th.NoLoadMagnets = th.NoLoadIron/sum, th.NoLoadMagnets/sum
		}
		x := marcher(t, d)
		c := Condition{Demand: BatteryPower, Amount: 1800}
		out := march(t, x, March{Every: 10, Soak: 120, Legs: []Leg{{Seconds: 120, Condition: c}, {Seconds: 120, Condition: c, Fault: Fault{CoolantLost: float64(rnd.IntN(2)), Dry: rnd.IntN(4) == 0, HoseOff: rnd.IntN(3) == 0}}}})
		for k, y := range out.Peak {
			if !(y > 200 && y < 5000) {
				t.Fatalf("%s peaks at %g K with %+v", x.Nodes[k], y, *th)
			}
		}
		if e := out.Energy; math.Abs(e.In-e.Out-e.Stored) > 1e-8*(math.Abs(e.In)+math.Abs(e.Out)+math.Abs(e.Stored)) {
			t.Errorf("%.12g J in, %.12g J out, %.12g J stored with %+v", e.In, e.Out, e.Stored, *th)
		}
	}
}

// Folded back, the phase current is what the straight line leaves at the temperature of the moment; a march that would pass the end
// temperature settles between start and end, where the steady state says; a frozen sensor folds nothing; energy closes; and where the
// current asked for lies below what is left nothing bites.
func TestMarchFoldLaw(t *testing.T) {
	d := assumed(t)
	d.Battery.Parallel = 200
	d.Thermal.CellMass = quantity.Some(1e-3) // cells that are warm at once
	d.Controller.PhaseCurrentLimit = quantity.Optional{}
	c := Condition{Demand: BatteryPower, Amount: 2000}
	free := marcher(t, d)
	without := march(t, free, March{Every: 10, Legs: []Leg{{Seconds: 6000, Condition: c, Fault: Fault{CoolantLost: 1}}}})
	start, end := d.Water.Temperature+20, d.Water.Temperature+32
	if without.Peak[free.at.jacket] < end {
		t.Fatalf("without foldback the housing peaks at %g K", without.Peak[free.at.jacket])
	}
	d.Thermal.HousingFoldStart, d.Thermal.HousingFoldEnd = quantity.Some(start), quantity.Some(end)
	x := marcher(t, d)
	leg := Leg{Seconds: 6000, Condition: c, Fault: Fault{CoolantLost: 1}}
	out := march(t, x, March{Every: 10, Legs: []Leg{leg}})
	if out.Ending.Kind != Finished || !out.Folded.Bites || !(out.Folded.Least < 0.95) {
		t.Fatalf("%s, %+v", out.Ending, out.Folded)
	}
	if e := out.Energy; math.Abs(e.In-e.Out-e.Stored) > 1e-9*e.In {
		t.Errorf("%.12g J in, %.12g J out, %.12g J stored", e.In, e.Out, e.Stored)
	}
	if peak := out.Peak[x.at.jacket]; !(peak > start && peak < end) {
		t.Errorf("the housing peaks at %.4g K between %g and %g K", peak, start, end)
	}
	first := out.Rows[0]
	for i, r := range out.Rows {
		jacket := out.Temperature(i, x.at.jacket)
		want := math.Min(1, (end-jacket)/(end-start))
		if math.Abs(r.Fold-want) > 0.03 { // rows lie on straight lines between the ends of steps
			t.Fatalf("at %g s with the housing at %.3f K %.4f of the current is left, want %.4f", r.Time, jacket, r.Fold, want)
		}
		if r.Fold < 0.9 && !(r.Thrust < first.Thrust) {
			t.Errorf("at %g s thrust is %g N, in the beginning %g N", r.Time, r.Thrust, first.Thrust)
		}
	}
	if at := out.Folded.Time; math.Abs(valueOf(out, x.at.jacket, at)-start) > 1.5 {
		t.Errorf("it begins to fold at %g s with the housing at %g K, want %g K", at, valueOf(out, x.at.jacket, at), start)
	}
	y, err := x.Steady(leg, out.Ending.Charge, out.End)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(y[x.at.jacket]-out.End[x.at.jacket]) > 0.3 {
		t.Errorf("after %g s the housing is at %.3f K, steady at %.3f K", leg.Seconds, out.End[x.at.jacket], y[x.at.jacket])
	}
	leg.Fault.Frozen = true
	if frozen := march(t, x, March{Legs: []Leg{leg}}); frozen.Folded.Bites || !(frozen.Peak[x.at.jacket] > end) {
		t.Errorf("with a sensor that stands still: %+v, housing up to %g K", frozen.Folded, frozen.Peak[x.at.jacket])
	}
	d.Controller.PhaseCurrentLimit = quantity.Some(1000) // far above what is asked for: less bites later
	late := march(t, marcher(t, d), March{Legs: []Leg{{Seconds: 6000, Condition: c, Fault: Fault{CoolantLost: 1}}}})
	if !late.Folded.Bites || !(late.Folded.Time > out.Folded.Time+20) {
		t.Errorf("of a limit far above it bites after %+v, of the current asked for after %+v", late.Folded, out.Folded)
	}
}

// valueOf is a node at a time, by the nearest row.
func valueOf(d *Marched, node int, t float64) float64 {
	best := 0
	for i := range d.Rows {
		if math.Abs(d.Rows[i].Time-t) < math.Abs(d.Rows[best].Time-t) {
			best = i
		}
	}
	return d.Temperature(best, node)
}

// Half of the jet's intake closed by weed is the drive with that loss ahead of its pump, at the throttle of before: less thrust, less
// coolant; and the leg after it has its water back.
func TestMarchWeedExact(t *testing.T) {
	d := assumed(t)
	d.Battery.Parallel = 400
	x := marcher(t, d)
	c := Condition{Demand: BatteryPower, Amount: 1500}
	whole := Leg{Seconds: 100, Condition: c}
	weedy := whole
	weedy.Fault.Weed = 0.5
	out := march(t, x, March{Every: 10, Legs: []Leg{whole, weedy, whole}})
	a, b, after := out.Rows[8], out.Rows[15], out.Rows[28]
	if out.Ending.Kind != Finished || !(b.Thrust < 0.97*a.Thrust) || !(b.CoolantFlow < 0.99*a.CoolantFlow) || math.Abs(after.Thrust/a.Thrust-1) > 1e-3 {
		t.Errorf("%s: thrust %g, %g, %g N, coolant %g, %g m³/s", out.Ending, a.Thrust, b.Thrust, after.Thrust, a.CoolantFlow, b.CoolantFlow)
	}
	lossy := x.m
	lossy.held = &held{winding: out.Temperature(15, x.at.winding), magnets: out.Temperature(15, x.at.magnets), bridge: out.Temperature(15, x.at.junction)}
	lossy.Path = x.clean
	ratio := lossy.Path.InletArea / lossy.Path.ThroatArea
	lossy.Path.Intake.DuctLoss += heat.Clog(0.5) * ratio * ratio
	s, err := lossy.Solve(Condition{Demand: RotorSpeed, Amount: b.RotorSpeed})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(s.Thrust/b.Thrust-1) > 1e-6 {
		t.Errorf("%g N on the march, %g N with the loss typed", b.Thrust, s.Thrust)
	}
}
