package drive

import (
	"math"
	"testing"

	"jetwright/physics/electric"
	"jetwright/quantity"
)

// The battery alone at a state's power, charge and temperature is that state's; colder it sags more, and less charge
// leaves less; at the most that it gives the weakest cell is at its cut-off; and the machine is as it was.
func TestBatteryAtLaw(t *testing.T) {
	d := typed(t)
	m, err := d.Resolve()
	if err != nil {
		t.Fatal(err)
	}
	s := solve(t, d, d.DutyCondition())
	b, err := m.BatteryAt(s.BatteryPower, d.Battery.Charge, d.Battery.Temperature)
	if err != nil || !b.Passes {
		t.Fatal(err)
	}
	if math.Abs(b.Voltage/s.Supply.BatteryVoltage-1) > 1e-10 || math.Abs(b.Current/s.Supply.BatteryCurrent-1) > 1e-10 {
		t.Errorf("alone %g V and %g A, in the state %g V and %g A", b.Voltage, b.Current, s.Supply.BatteryVoltage, s.Supply.BatteryCurrent)
	}
	if loss := b.Current * b.Current * b.Resistance; math.Abs(loss/s.Supply.BatteryInternalLoss-1) > 1e-10 {
		t.Errorf("it loses %g W, in the state %g W", loss, s.Supply.BatteryInternalLoss)
	}
	last, lastEnergy := 0.0, 0.0
	for _, k := range []float64{263.15, 273.15, 280.15, 298.15, 313.15} {
		x, err := m.BatteryAt(s.BatteryPower, d.Battery.Charge, k)
		if err != nil || !x.Passes || x.Voltage <= last {
			t.Fatalf("%g K: %+v after %g V (%v)", k, x, last, err)
		}
		last = x.Voltage
		u := m.Usable(s.BatteryPower, k)
		if u.Energy <= lastEnergy {
			t.Fatalf("%g K: %g J usable after %g J", k, u.Energy, lastEnergy)
		}
		lastEnergy = u.Energy
	}
	at, err := m.BatteryAt(b.Most, d.Battery.Charge, d.Battery.Temperature)
	if err != nil || math.Abs(at.Weakest-d.Battery.CutOff) > 1e-9 {
		t.Errorf("at the most the weakest cell has %g V, cut off at %g V (%v)", at.Weakest, d.Battery.CutOff, err)
	}
	if x, err := m.BatteryAt(1.001*b.BrownOut, d.Battery.Charge, d.Battery.Temperature); err != nil || x.Passes {
		t.Error("beyond the brown-out a power is passed")
	}
	empty := d
	empty.Battery.Charge = 0
	if e, err := empty.Resolve(); err == nil {
		if u := e.Usable(500, 298.15); u.End != electric.Empty || u.Energy != 0 {
			t.Errorf("an empty battery ends by %s with %g J", u.End, u.Energy)
		}
	}
	if m.Chain.PackResistance() != b.Resistance {
		t.Error("asking has changed the machine")
	}
}

// With the number that is given the march is done and with one less it is not; the recovery is that of the march's law.
func TestLeastParallelLaw(t *testing.T) {
	d := assumed(t)
	p := March{Legs: []Leg{{Seconds: 2400, Condition: Condition{Demand: BatteryPower, Amount: 2500}}}}
	ends := func(n int) EndKind {
		e := d
		e.Battery.Parallel = n
		return march(t, marcher(t, e), p).Ending.Kind
	}
	if ends(d.Battery.Parallel) == Finished {
		t.Fatal("the drive lasts as it is")
	}
	n, err := d.LeastParallel(p)
	if err != nil || n <= d.Battery.Parallel || ends(n) != Finished || ends(n-1) == Finished {
		t.Errorf("%d cells side by side: %v, with one less %v (%v)", n, ends(n), ends(n-1), err)
	}
	p.Legs[0].Seconds = 80000
	if n, err := d.LeastParallel(p); n != 0 || err != nil {
		t.Errorf("a day of it lasts with %d (%v)", n, err)
	}
	d.Battery.RelaxationFastShare, d.Battery.RelaxationFastTime = quantity.Some(0.3), quantity.Some(20)
	m, err := d.Resolve()
	if err != nil {
		t.Fatal(err)
	}
	rest, ohms := m.Chain.OpenCircuit(), m.Chain.PackResistance()-d.Battery.JointResistance
	for _, c := range []struct{ time, want float64 }{{-1, rest - 50*(ohms+d.Battery.JointResistance)}, {0, rest - 50*0.3*ohms}, {20, rest - 50*0.3*ohms/math.E}} {
		if v := m.Recovery(50, c.time); math.Abs(v-c.want) > 1e-9 {
			t.Errorf("%g s after %g V, by hand %g V", c.time, v, c.want)
		}
	}
}
