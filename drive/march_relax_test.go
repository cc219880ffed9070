package drive

import (
	"math"
	"testing"

	"jetwright/physics/electric"
	"jetwright/quantity"
)

func relaxingDrive(t testing.TB) Drive {
	d := assumed(t)
	b := &d.Battery
	b.RelaxationFastShare, b.RelaxationFastTime = quantity.Some(0.25), quantity.Some(15)
	b.RelaxationSlowShare, b.RelaxationSlowTime = quantity.Some(0.2), quantity.Some(300)
	d.Thermal.CellMass = quantity.Some(1e4) // cells that do not warm
	b.JointResistance = 0
	return d
}

// A march of cells that relax against their own discharge, which goes over the charge by another method: the cut-off
// comes at the same time, later than with the whole resistance at once; from rest the voltage begins where the
// part that comes at once puts it, and a long constant load comes to where the steady state is.
func TestMarchRelaxExact(t *testing.T) {
	d := relaxingDrive(t)
	plain := d
	plain.Battery.RelaxationFastShare, plain.Battery.RelaxationSlowShare = quantity.Optional{}, quantity.Optional{}
	for _, power := range []float64{2000, 3000} {
		leg := Leg{Seconds: 7200, Condition: Condition{Demand: BatteryPower, Amount: power}}
		out := march(t, marcher(t, d), March{Legs: []Leg{leg}, Every: 1})
		heat := electric.CellHeat{Capacity: 1e9, ToAir: 1, Surroundings: d.Battery.Temperature}
		e := d.Battery.Discharge(power, d.Battery.Relaxation(), heat)
		if out.Ending.Kind != AtCutOff || e.End != electric.AtCutOff || math.Abs(out.Ending.Time/e.Time-1) > 1e-3 {
			t.Errorf("%g W: %s; by the discharge after %.5g s: %s", power, out.Ending, e.Time, e.End)
		}
		at := march(t, marcher(t, plain), March{Legs: []Leg{leg}})
		if at.Ending.Time > out.Ending.Time {
			t.Errorf("all at once the cut-off comes after %g s, later than %g s", at.Ending.Time, out.Ending.Time)
		}
		if first := out.Rows[0].BatteryVoltage; math.Abs(first/e.FirstVoltage-1) > 1e-6 {
			t.Errorf("the load begins at %g V, by the discharge at %g V", first, e.FirstVoltage)
		}
	}
}

// After a stop the voltage comes back in closed form: at once by what the current took, then by what the cells held
// back, with the charge as good as constant; a second load that comes before begins lower than the first.
func TestMarchRecoveryExact(t *testing.T) {
	d := relaxingDrive(t)
	d.Battery.Parallel = 400 // the charge stands still
	d.Battery.CellResistance *= 40
	d.Controller.StandbyPower = 1e-9
	leg := Leg{Seconds: 3000, Condition: Condition{Demand: BatteryPower, Amount: 2000}}
	x := marcher(t, d)
	out := march(t, x, March{Legs: []Leg{leg, {Seconds: 60, Rest: true}, leg}, Every: 5, Soak: 600})
	var stop, after Row
	for i, r := range out.Rows {
		switch {
		case r.Leg == 1 && stop.Time == 0:
			stop = out.Rows[i]
		case r.Leg == 1 && r.Time <= 3030:
			after = r
		}
	}
	if err := x.m.Chain.Recharge(stop.Charge, d.Battery.Temperature); err != nil {
		t.Fatal(err)
	}
	rest := x.m.Chain.OpenCircuit()
	f := d.Battery.Resistance() * float64(d.Battery.Parallel) / float64(d.Battery.Series) // of a cell; no joints
	s := out.Rows[599]                                                                    // in the load, long after its beginning
	each := s.BatteryCurrent / 400
	held := func(time float64) float64 {
		return float64(d.Battery.Series) * each * f * (0.25*math.Exp(-time/15) + 0.2*math.Exp(-time/300))
	}
	for _, p := range []struct {
		row  Row
		time float64
	}{{stop, 0}, {after, after.Time - 3000}} {
		if want := rest - held(p.time); math.Abs(p.row.BatteryVoltage-want) > 2e-3*held(0) {
			t.Errorf("%g s after the stop %.5f V, by the closed form %.5f V", p.time, p.row.BatteryVoltage, want)
		}
	}
	first, second := out.Rows[0], Row{}
	for _, r := range out.Rows {
		if r.Leg == 2 {
			second = r
			break
		}
	}
	if !(second.BatteryVoltage < first.BatteryVoltage) || !(second.BatteryVoltage > s.BatteryVoltage) {
		t.Errorf("the second load begins at %g V, the first at %g V and ended at %g V", second.BatteryVoltage, first.BatteryVoltage, s.BatteryVoltage)
	}
	last := out.Rows[len(out.Rows)-1]
	if last.BatteryVoltage < rest-held(0) || last.BatteryVoltage > rest {
		t.Errorf("after the soak %g V, at rest %g V", last.BatteryVoltage, rest)
	}
}

// At a constant current the fuse melts after the time of its curve, in two stretches with a pause between them after as
// long in sum; below its curve it never does.
func TestMarchFuseLaw(t *testing.T) {
	d := assumed(t)
	d.Battery.Parallel = 400
	d.Battery.CellResistance = 1e-6
	d.Battery.FuseLoads, d.Battery.FuseTimes = []float64{1.1, 2}, []float64{3600, 10}
	leg := Leg{Seconds: 400, Condition: Condition{Demand: BatteryPower, Amount: 2500}}
	current := solve(t, d, leg.Condition).Supply.BatteryCurrent
	d.Battery.FuseRating = quantity.Some(current / 1.5)
	want, ok := d.Battery.FuseMelts(current)
	if !ok || want > 350 || want < 20 {
		t.Fatalf("%g s", want)
	}
	out := march(t, marcher(t, d), March{Legs: []Leg{leg}})
	if f := out.Fuse; !f.Melts.Ever || math.Abs(f.Melts.Time/want-1) > 5e-3 || math.Abs(f.Share/(400/want)-1) > 5e-3 || math.Abs(f.Over-400) > 1e-6 {
		t.Errorf("%+v, by its curve after %g s", f, want)
	}
	half := leg
	half.Seconds = 0.6 * want
	out = march(t, marcher(t, d), March{Legs: []Leg{half, {Seconds: 100, Rest: true}, half}})
	if f := out.Fuse; f.Melts.Leg != 2 || math.Abs(f.Melts.Time/(want+100)-1) > 5e-3 {
		t.Errorf("with a pause %+v, by its curve after %g s", f, want+100)
	}
	d.Battery.FuseRating = quantity.Some(current)
	if f := march(t, marcher(t, d), March{Legs: []Leg{leg}}).Fuse; f.Share != 0 || f.Melts.Ever || math.Abs(f.Most/current-1) > 0.01 {
		t.Errorf("below its curve %+v", f)
	}
}

func BenchmarkMarchHourRelaxing(b *testing.B) {
	d := assumed(b)
	d.Battery.Parallel = 40
	d.Battery.RelaxationFastShare, d.Battery.RelaxationFastTime = quantity.Some(0.25), quantity.Some(15)
	d.Battery.RelaxationSlowShare, d.Battery.RelaxationSlowTime = quantity.Some(0.2), quantity.Some(300)
	x := marcher(b, d)
	p := rough()
	var out Marched
	b.ReportAllocs()
	for range b.N {
		if err := x.Run(p, &out); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(out.Steps), "steps")
}
