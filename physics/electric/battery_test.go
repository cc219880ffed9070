package electric

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"jetwright/quantity"
)

// Arrhenius meets the cold factor at 7 °C and 1 at 25 °C; its logarithm is straight in 1/T; and the two
// laws part as the card says: 5 % at −10 °C, within 1.5 % between 0 and 30 °C, for a factor of 1.5.
func TestArrheniusExact(t *testing.T) {
	near(t, "25 °C", ArrheniusFactor(1.5, 298.15), 1, 1e-14)
	near(t, "7 °C", ArrheniusFactor(1.5, 280.15), 1.5, 1e-12)
	slope := func(a, b float64) float64 {
		return math.Log(ArrheniusFactor(1.5, a)/ArrheniusFactor(1.5, b)) / (1/a - 1/b)
	}
	near(t, "straight", slope(260, 280), slope(285, 310), 1e-10)
	apart := func(c float64) float64 {
		return ArrheniusFactor(1.5, c+zeroCelsius)/math.Pow(1.5, (25-c)/18) - 1
	}
	for c := 0.0; c <= 30; c++ {
		if math.Abs(apart(c)) > 0.015 {
			t.Errorf("at %g °C the two laws are %.2f %% apart", c, 100*apart(c))
		}
	}
	if a := apart(-10); a < 0.045 || a > 0.055 {
		t.Errorf("at −10 °C the two laws are %.2f %% apart", 100*a)
	}
}

func TestLowChargeExact(t *testing.T) {
	near(t, "10 %", LowChargeFactor(1.8, 0.1), 1.8, 1e-14)
	near(t, "18 %", LowChargeFactor(1.8, 0.18), 1+0.8/math.E, 1e-12)
	if f := LowChargeFactor(1.8, 0.6); f > 1.002 {
		t.Errorf("at 60 %% the factor is %g", f)
	}
	b := Battery{Series: 10, Parallel: 2, CellResistance: 0.02, ColdFactor: 1, Temperature: 298.15, Charge: 0.1, LowChargeFactor: quantity.Some(1.8)}
	near(t, "in the pack", b.Resistance(), 5*0.02*1.8, 1e-12)
	b.ResistanceCharges, b.ChargeFactors = []float64{0, 0.2, 1}, []float64{3, 1.5, 1}
	b.Charge = 0.2
	near(t, "as measured", b.Resistance(), 5*0.02*1.5, 1e-12)
	b.ResistanceTemperatures, b.TemperatureFactors = []float64{273.15, 298.15}, []float64{2, 1}
	b.Temperature = 273.15
	near(t, "and in the cold", b.Resistance(), 5*0.02*1.5*2, 1e-12)
}

func TestFullVoltageExact(t *testing.T) {
	for class, full := range map[string]float64{"": 42, "nickel-rich": 42, "cobalt-oxide": 42, "iron-phosphate": 36.5, "titanate": 28} {
		near(t, class, Battery{Series: 10, Chemistry: class}.FullVoltage(), full, 1e-12)
	}
}

// Every class's voltage goes through its table, rises all the way and stays below the full cell; a
// measured table goes before it and has its own errors.
func TestCellClassesExact(t *testing.T) {
	for name, k := range cellClasses {
		last := 0.0
		for c := 0.0; c <= 1.00001; c += 0.001 {
			v := k.voltage(c)
			if v < last || v > k.full {
				t.Fatalf("%s: %g V at %g after %g V", name, v, c, last)
			}
			last = v
		}
		for i, v := range k.table {
			near(t, name, k.voltage(float64(i)/10), v, 1e-12)
		}
		m, ctl, b := board()
		b.Chemistry = name
		c, err := NewChain(m, ctl, b)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "in the chain", c.OpenCircuit(), 14*k.voltage(0.8), 1e-12)
	}
	m, ctl, b := board()
	b.OpenCircuitCharges, b.OpenCircuitVoltages = []float64{0, 0.5, 0.8, 1}, []float64{3, 3.6, 3.9, 4.15}
	c, err := NewChain(m, ctl, b)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "measured", c.OpenCircuit(), 14*3.9, 1e-12)
	for _, bad := range [][2][]float64{{{0, 1}, {3, 3}}, {{0, 1}, {3}}, {{0.5, 0.2}, {3, 4}}, {{0.5}, {3}}, {nil, {3, 4}}} {
		b.OpenCircuitCharges, b.OpenCircuitVoltages = bad[0], bad[1]
		if _, err := NewChain(m, ctl, b); !errors.Is(err, ErrOpenCircuitTable) {
			t.Errorf("%v: %v", bad, err)
		}
	}
	b.OpenCircuitCharges, b.OpenCircuitVoltages = nil, nil
	b.ResistanceTemperatures, b.TemperatureFactors = []float64{298, 300}, []float64{1, 3}
	b.Temperature = 290
	if _, err := NewChain(m, ctl, b); !errors.Is(err, ErrResistanceTable) {
		t.Errorf("a table carried on below 0: %v", err)
	}
}

// Constant power at 50 V behind 50 mΩ, COMPUTED from the handbook's I = [V − √(V² − 4·R·P)]/(2·R) and V²/(4·R) (FROM
// MEMORY): 12 500 W at most, at 25 V; 4.5 kW at 100 A and 45 V. A chain's own state has the same, and no state beyond.
func TestConstantPowerExact(t *testing.T) {
	near(t, "most", MostPower(50, 0.05), 12500, 1e-14)
	v, i, ok := ConstantPower(50, 0.05, 4500)
	if !ok {
		t.Fatal("no state")
	}
	near(t, "voltage", v, 45, 1e-14)
	near(t, "current", i, 100, 1e-14)
	v, i, ok = ConstantPower(50, 0.05, 12500)
	if !ok {
		t.Fatal("no state at the most")
	}
	near(t, "voltage at the most", v, 25, 1e-12)
	near(t, "current at the most", i, 500, 1e-12)
	if _, _, ok := ConstantPower(50, 0.05, 12500.1); ok {
		t.Error("a state beyond the most")
	}
	rest := 50.0 / 14
	k, err := NewChain(func() (Motor, Controller, Battery) {
		m, _, _ := board()
		return m, Controller{}, Battery{
			Series: 14, Parallel: 1, CellResistance: 0.05 / 14, ColdFactor: 1, Temperature: 298.15, Charge: 0.5,
			OpenCircuitCharges: []float64{0, 1}, OpenCircuitVoltages: []float64{rest - 1e-12, rest + 1e-12},
		}
	}())
	if err != nil {
		t.Fatal(err)
	}
	if s, reason := k.Supply(&MotorState{ElectricPower: 4500}); reason != Solved || math.Abs(s.BatteryVoltage-45) > 1e-9 || math.Abs(s.BatteryCurrent-100) > 1e-9 {
		t.Errorf("in a state %g V and %g A (%v)", s.BatteryVoltage, s.BatteryCurrent, reason)
	}
	if _, reason := k.Supply(&MotorState{ElectricPower: 12500.1}); reason != BeyondBattery {
		t.Errorf("in a state beyond the most: %v", reason)
	}
	near(t, "current by the other form", i, (50-math.Sqrt(50*50-4*0.05*12500))/(2*0.05), 1e-12)
}

// steadyHeat is a cell that keeps its temperature.
func steadyHeat(t float64) CellHeat { return CellHeat{Capacity: 1e12, ToAir: 1, Surroundings: t} }

// flat is a pack whose open-circuit voltage hardly moves with charge.
func flat() Battery {
	return Battery{
		Series: 10, Parallel: 4, CellCapacity: 18000, CellResistance: 0.02, ColdFactor: 1.5, Temperature: 298.15, Charge: 1, CutOff: 1,
		OpenCircuitCharges: []float64{0, 1}, OpenCircuitVoltages: []float64{3.6, 3.6 + 1e-9}, JointResistance: 0.01,
	}
}

func TestRelaxationExact(t *testing.T) {
	r := Relaxation{FastShare: 0.2, FastTime: 10, SlowShare: 0.1, SlowTime: 300}
	near(t, "at once", r.Share(0), 0.7, 1e-14)
	near(t, "10 s", r.Share(10), 1-0.2/math.E-0.1*math.Exp(-1.0/30), 1e-14)
	near(t, "for good", r.Share(1e6), 1, 1e-14)
	near(t, "none", Relaxation{}.Share(5), 1, 0)
}

// A pack of constant voltage at constant power has a constant current: time, energy and heat have closed
// forms. With relaxation it begins with the part of the resistance that comes up at once and ends
// with all of it. The heat of the joints warms no cell; the cells' warms them by its own closed form.
func TestDischargeExact(t *testing.T) {
	b := flat()
	const power = 1500
	r := 10.0/4*0.02 + 0.01
	v, i, _ := ConstantPower(36, r, power)
	d := b.Discharge(power, Relaxation{}, steadyHeat(298.15))
	if d.End != Empty || d.Charge != 0 {
		t.Fatalf("%v at %g", d.End, d.Charge)
	}
	near(t, "time", d.Time, 4*18000/i, 1e-8)
	near(t, "energy", d.Energy, power*d.Time, 1e-10)
	near(t, "heat", d.Heat, i*i*r*d.Time, 1e-8)
	near(t, "voltage", d.Last, v, 1e-8)
	near(t, "current", d.MostCurrent, i, 1e-8)
	relax := Relaxation{FastShare: 0.3, FastTime: 20, SlowShare: 0.2, SlowTime: 50} // gone after 1600 s
	d = b.Discharge(power, relax, steadyHeat(298.15))
	first, _, _ := ConstantPower(36, 10.0/4*0.02*0.5+0.01, power)
	near(t, "at once", d.FirstVoltage, first, 1e-8)
	near(t, "in the end", d.Last, v, 1e-6)
	// cells warm: C·dT/dt = P − (T − T_s)/R, an exponential, at a resistance that does not change
	b.ColdFactor = 1
	heat := CellHeat{Capacity: 70, ToAir: 8, Surroundings: 293.15}
	d = b.Discharge(power, Relaxation{}, heat)
	each := i / 4 * i / 4 * 0.02
	end := 293.15 + 8*each
	near(t, "temperature", d.Temperature, end+(298.15-end)*math.Exp(-d.Time/(70*8)), 1e-7)
	// a reversible heat alone: C·dT/dt = −I·T·dV/dT
	heat = CellHeat{Capacity: 70, ToAir: 1e12, Surroundings: 293.15, Entropic: 2e-4}
	with := b.Discharge(power, Relaxation{}, heat)
	heat.Entropic = 0
	without := b.Discharge(power, Relaxation{}, heat)
	if with.Temperature >= without.Temperature {
		t.Errorf("a voltage that rises with heat cools on discharge: %g K, without it %g K", with.Temperature, without.Temperature)
	}
	near(t, "reversible", without.Temperature-with.Temperature, 18000*2e-4*0.5*(with.Temperature+298.15)/70, 0.03)
}

// What ends a discharge is named, and is where its own closed form says: the cut-off where the sagged
// cell meets it, brown-out where four times the power and resistance meet the voltage's square.
func TestDischargeEnds(t *testing.T) {
	b := flat()
	b.OpenCircuitVoltages = []float64{3, 4} // straight in the charge
	b.CutOff = 3.3
	d := b.Discharge(1500, Relaxation{}, steadyHeat(298.15))
	if d.End != AtCutOff {
		t.Fatal(d.End)
	}
	// in the end cells at 3.3 V: pack 33 V less the joints' drop; I from the power
	ocv := 10 * (3 + d.Charge)
	v, i, _ := ConstantPower(ocv, 0.06, 1500)
	near(t, "cell", (v+i*0.01)/10, 3.3, 1e-9)
	b.ChargeImbalance, b.ResistanceImbalance = quantity.Some(0.05), quantity.Some(0.2)
	weak := b.Discharge(1500, Relaxation{}, steadyHeat(298.15))
	if weak.End != AtCutOff || weak.Charge <= d.Charge || weak.Energy >= d.Energy {
		t.Errorf("a weak group ends at %g after %g", weak.Charge, d.Charge)
	}
	near(t, "weakest cell", 3+weak.Charge-0.05-1.2*weakCurrent(t, weak, b)*0.02, 3.3, 1e-8)
	b = flat()
	b.OpenCircuitVoltages, b.CutOff = []float64{1.5, 4}, 0.1
	d = b.Discharge(4000, Relaxation{}, steadyHeat(298.15))
	if d.End != BrownOut {
		t.Fatal(d.End)
	}
	ocv = 10 * (1.5 + 2.5*d.Charge)
	near(t, "brown-out", ocv*ocv, 4*0.06*4000, 1e-6)
	if d := b.Discharge(8000, Relaxation{}, steadyHeat(298.15)); d.End != BrownOut || d.Time != 0 || d.Charge != 1 {
		t.Errorf("more than the pack passes at all: %+v", d)
	}
	for _, bad := range []func() Discharge{
		func() Discharge { return b.Discharge(0, Relaxation{}, steadyHeat(298.15)) },
		func() Discharge { return b.Discharge(math.NaN(), Relaxation{}, steadyHeat(298.15)) },
		func() Discharge {
			return b.Discharge(100, Relaxation{FastShare: 0.6, SlowShare: 0.6}, steadyHeat(298.15))
		},
		func() Discharge { return b.Discharge(100, Relaxation{FastShare: 0.6}, steadyHeat(298.15)) },
		func() Discharge { return b.Discharge(100, Relaxation{}, CellHeat{}) },
	} {
		if d := bad(); d.End != BadDischarge || d.End.String() == "" {
			t.Errorf("%+v", d)
		}
	}
}

func weakCurrent(t *testing.T, d Discharge, b Battery) float64 {
	t.Helper()
	_, i, ok := ConstantPower(10*(3+d.Charge), 0.06, 1500)
	if !ok {
		t.Fatal("no state")
	}
	return i / float64(b.Parallel)
}

// Energy taken from the cells is energy delivered, heat, and what the relaxation holds, to 1e-12; more
// power, more cold or less charge never gives more energy; every figure is finite.
func TestDischargeLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		_, _, b := full("sinusoidal")
		b.Charge = rapid.Float64Range(0.2, 1).Draw(t, "charge")
		b.Temperature = rapid.Float64Range(268, 310).Draw(t, "cells")
		b.CutOff = rapid.Float64Range(2.5, 3.2).Draw(t, "cut-off")
		b.Chemistry = rapid.SampledFrom([]string{"nickel-rich", "cobalt-oxide"}).Draw(t, "class")
		relax := Relaxation{rapid.Float64Range(0, 0.3).Draw(t, "a"), rapid.Float64Range(5, 40).Draw(t, "τa"), rapid.Float64Range(0, 0.25).Draw(t, "b"), rapid.Float64Range(100, 900).Draw(t, "τb")}
		heat := CellHeat{Capacity: 70, ToAir: rapid.Float64Range(2, 50).Draw(t, "R"), Surroundings: b.Temperature, Entropic: rapid.Float64Range(-2e-4, 2e-4).Draw(t, "s")}
		power := rapid.Float64Range(200, 6000).Draw(t, "P")
		d := b.Discharge(power, relax, heat)
		for _, x := range []float64{d.Energy, d.Time, d.Charge, d.Temperature, d.Heat, d.Stored, d.Polarisation, d.FirstVoltage, d.Last, d.MostCurrent} {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				t.Fatalf("%+v", d)
			}
		}
		if math.Abs(d.Stored-d.Energy-d.Heat-d.Polarisation) > 1e-12*d.Stored {
			t.Fatalf("%g J of %g J are missing", d.Stored-d.Energy-d.Heat-d.Polarisation, d.Stored)
		}
		if d.Energy > 0 && math.Abs(d.Energy/(power*d.Time)-1) > 1e-12 {
			t.Fatalf("%g J in %g s at %g W", d.Energy, d.Time, power)
		}
		steady := steadyHeat(b.Temperature)
		most := b.Discharge(power, Relaxation{}, steady).Energy
		if more := b.Discharge(1.1*power, Relaxation{}, steady).Energy; more > most*(1+1e-6) {
			t.Fatalf("%g W give %g J, %g W %g J", power, most, 1.1*power, more)
		}
		colder := b
		colder.Temperature -= 10
		if less := colder.Discharge(power, Relaxation{}, steadyHeat(colder.Temperature)).Energy; less > most*(1+1e-6) {
			t.Fatalf("10 K colder gives %g J after %g J", less, most)
		}
	})
}

func BenchmarkDischarge(b *testing.B) {
	_, _, pack := full("sinusoidal")
	relax := Relaxation{0.2, 20, 0.15, 400}
	heat := CellHeat{Capacity: 70, ToAir: 8, Surroundings: 290}
	b.ReportAllocs()
	for b.Loop() {
		pack.Discharge(3000, relax, heat)
	}
}
