package drive

import (
	"errors"
	"math"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"jetwright/quantity"
)

// typed returns the small board with every key of the electric side that may be left out.
func typed(t testing.TB) Drive {
	d := assumed(t)
	some := quantity.Some
	m, c, b := &d.Motor, &d.Controller, &d.Battery
	m.NoLoadVoltages, m.NoLoadCurrents = []float64{12, 24, 36}, []float64{2.6, 3.4, 4.3}
	m.ACFactor, m.PolePairs, m.PhaseInductance = some(1.1), some(7), some(15e-6)
	m.MagnetCoefficient = some(-0.0012)
	m.WetGap, m.RotorDiameter, m.RotorLength = some(0.0012), some(0.06), some(0.04)
	c.DeadTime, c.CapacitorResistance, c.CapacitorToAir = some(400e-9), some(0.005), some(1.5)
	c.OnResistanceCoefficient = some(0.005)
	c.CapacitorLimit, c.CapacitorCurrentLimit, c.WeakeningCurrent = some(378.15), some(120), some(80)
	b.LowChargeFactor, b.ColdLaw = some(1.6), "arrhenius"
	b.CableArea, b.CableLength, b.CableLimit, b.ConnectorResistance = some(25e-6), some(0.8), some(378.15), some(0.0006)
	b.FuseRating, b.ChargeImbalance, b.ResistanceImbalance = some(250), some(0.03), some(0.15)
	return d
}

// With every key typed battery power is shaft power and every electric loss to 1e-12, the whole ledger
// closes as it does without them, every figure is finite, and what fails ends in a named reason.
func TestTypedStateClosesLaw(t *testing.T) {
	base, s := typed(t), schema(t)
	solved := 0
	rapid.Check(t, func(t *rapid.T) {
		d, c := draw(t, base, s)
		m, err := d.Resolve()
		var st State
		if err == nil {
			st, err = m.Solve(c)
		}
		if err != nil {
			var u *Unmet
			if !errors.As(err, &u) || u.Reason == NotConverged {
				t.Fatalf("%+v: %v", c, err)
			}
			return
		}
		solved++
		if math.Abs(st.PowerResidual) > 1e-9 || math.Abs(st.DemandResidual) > 1e-9 {
			t.Fatalf("%+v: residuals power %g, demand %g", c, st.PowerResidual, st.DemandResidual)
		}
		electric := st.ShaftPower + st.Motor.CopperLoss + st.Motor.NoLoadLoss + st.Supply.Heat() + st.Supply.WiringLoss
		if math.Abs(electric-st.BatteryPower) > 1e-12*(math.Abs(st.ShaftPower)+st.BatteryPower) {
			t.Fatalf("%+v: %g W of %g W", c, electric, st.BatteryPower)
		}
		finite(t, "", reflect.ValueOf(st))
		sum := 0.0
		for _, e := range st.Ledger() {
			sum += e.Power
		}
		if math.Abs(sum/st.BatteryPower-1) > 1e-9 {
			t.Fatalf("the ledger sums to %g of %g W", sum, st.BatteryPower)
		}
	})
	if solved < 50 {
		t.Errorf("only %d drives have a state", solved)
	}
}

// Magnets, winding and current agree with each other: the constant is that at the magnets' temperature
// shown, and the winding's temperature the one that its loss leads to.
func TestMagnetsSettleExact(t *testing.T) {
	d := assumed(t)
	d.Motor.MagnetCoefficient = quantity.Some(-0.0012)
	d.Motor.MagnetGrade, d.Motor.InsulationClass = "SH", "H"
	m, err := d.Resolve()
	if err != nil {
		t.Fatal(err)
	}
	c := Condition{Demand: ShaftPower, Amount: 3500}
	s, err := m.Solve(c)
	if err != nil {
		t.Fatal(err)
	}
	k := m.Chain.Constant() * (1 - 0.0012*(s.Motor.MagnetTemperature-293.15))
	drag := s.Motor.NoLoadLoss / s.MotorSpeed
	if e := k*s.Motor.DCEquivalentCurrent/(s.MotorTorque+drag) - 1; math.Abs(e) > 1e-11 {
		t.Errorf("torque over current is off the constant by %g", e)
	}
	carried := s.Heat.CoolantFlow*m.heatCapacity + d.Cooling.StillLoss
	coolant := d.Water.Temperature + s.Supply.Heat()/carried
	lead := coolant + (m.Drive.Motor.WindingToJacket+m.Drive.Cooling.JacketToCoolant+0.5/carried)*(s.Motor.CopperLoss+s.Motor.NoLoadLoss)
	if e := lead - s.Motor.WindingTemperature; math.Abs(e) > 1e-6 {
		t.Errorf("the winding's loss leads to %.9g K, shown is %.9g K", lead, s.Motor.WindingTemperature)
	}
	if s.Motor.MagnetTemperature < 300 {
		t.Fatalf("the magnets stay at %g K", s.Motor.MagnetTemperature)
	}
	cold := solve(t, assumed(t), c)
	if s.BatteryPower <= cold.BatteryPower || s.Motor.DCEquivalentCurrent <= cold.Motor.DCEquivalentCurrent {
		t.Errorf("warm magnets take %g W, magnets that do not change %g W", s.BatteryPower, cold.BatteryPower)
	}
}

// Switches, their loss and their temperature agree with each other; a bridge that runs away is shown
// where its loss at the bound leads, and its limit is broken.
func TestBridgeSettlesExact(t *testing.T) {
	for _, first := range []string{"controller", "motor"} {
		d := assumed(t)
		d.Cooling.First = first
		d.Controller.OnResistanceCoefficient = quantity.Some(0.006)
		s := solve(t, d, Condition{Demand: ShaftPower, Amount: 3500})
		i := s.Motor.DCEquivalentCurrent
		want := 2 * i * i * d.Controller.OnResistance * (1 + 0.006*(s.Heat.BridgeTemperature-298.15))
		if e := s.Supply.ConductionLoss/want - 1; math.Abs(e) > 1e-10 {
			t.Errorf("%s first: the conduction loss is off its temperature by %g", first, e)
		}
		d.Controller.BridgeToPlate = 9
		s = solve(t, d, Condition{Demand: ShaftPower, Amount: 3500})
		i = s.Motor.DCEquivalentCurrent
		bound := d.Controller.BridgeLimit
		want = 2 * i * i * d.Controller.OnResistance * (1 + 0.006*(bound-298.15))
		if e := s.Supply.ConductionLoss/want - 1; math.Abs(e) > 1e-10 || s.Heat.BridgeTemperature <= bound {
			t.Errorf("%s first: a bridge that runs away has %g K, its loss is off by %g", first, s.Heat.BridgeTemperature, e)
		}
	}
}

// A state with every key typed allocates nothing, and begun near it is the same state.
func TestTypedSolveLaw(t *testing.T) {
	m, err := typed(t).Resolve()
	if err != nil {
		t.Fatal(err)
	}
	c := Condition{Demand: BatteryPower, Amount: 2500}
	want, err := m.Solve(c)
	if err != nil {
		t.Fatal(err)
	}
	if n := testing.AllocsPerRun(50, func() {
		if _, err := m.Solve(c); err != nil {
			t.Fatal(err)
		}
	}); n != 0 {
		t.Errorf("%g allocations", n)
	}
	got, err := m.SolveNear(c, 1.1*want.RotorSpeed, 0)
	if err != nil || math.Abs(got.Thrust/want.Thrust-1) > 1e-11 {
		t.Errorf("begun near: %g N, %v, want %g N", got.Thrust, err, want.Thrust)
	}
}

// What is typed is judged among the limits.
func TestTypedLimitsShown(t *testing.T) {
	m, err := typed(t).Resolve()
	if err != nil {
		t.Fatal(err)
	}
	s, err := m.Solve(Condition{Demand: BatteryPower, Amount: 2500})
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, l := range m.Limits(nil, s) {
		seen[l.Name] = l.NotJudged == ""
	}
	for _, name := range []string{"ripple of the input capacitors", "capacitor temperature", "battery cable", "current through the fuse", "weakest cell under load"} {
		if !seen[name] {
			t.Errorf("%s is not judged", name)
		}
	}
}

func BenchmarkTypedState(b *testing.B) {
	m, err := typed(b).Resolve()
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		if _, err := m.Solve(Condition{Demand: BatteryPower, Amount: 1200 + 20*float64(i%100)}); err != nil {
			b.Fatal(err)
		}
		i++
	}
}

// A drive whose field is weakened: the winding is as hot as its whole copper loss makes it, the march at that
// state's temperatures has its power, throttle goes on rising beyond full voltage, the running line and the map end where
// the current for it is used up, and a jet that the voltage does not suffice for is reached with it.
func TestWeakenedDriveLaw(t *testing.T) {
	d := typed(t)
	d.Motor.MagnetGrade, d.Motor.InsulationClass = "EH", "R"
	m, err := d.Resolve()
	if err != nil {
		t.Fatal(err)
	}
	a, err := m.Map()
	if err != nil {
		t.Fatal(err)
	}
	end := a.Running[len(a.Running)-1]
	if !a.Weakens || math.Abs(end.Motor.DirectCurrent/80-1) > 1e-4 || a.RunningThrottle[len(a.Running)-1] <= 1 {
		t.Fatalf("the line ends at %g of full voltage with %g A", a.RunningThrottle[len(a.Running)-1], end.Motor.DirectCurrent)
	}
	for i := range a.Speeds {
		if a.Weakened[i] < a.Voltage[i]-1e-9 {
			t.Fatalf("weakened %g, without %g N·m", a.Weakened[i], a.Voltage[i])
		}
	}
	c := Condition{Demand: Thrust, Amount: 0.99 * end.Thrust}
	s := solve(t, d, c)
	if s.Motor.DirectCurrent < 20 || s.Supply.Modulation != d.Controller.ModulationLimit {
		t.Fatalf("%g A at %g of the voltage", s.Motor.DirectCurrent, s.Supply.Modulation)
	}
	w := s.Heat.JacketTemperature + d.Motor.WindingToJacket*(s.Motor.CopperLoss+s.Motor.NoLoadLoss)
	if math.Abs(w-s.Motor.WindingTemperature) > 1e-6 {
		t.Errorf("the winding is shown at %g K, its losses lead to %g K", s.Motor.WindingTemperature, w)
	}
	x, err := NewMarcher(m)
	if err != nil {
		t.Fatal(err)
	}
	var out Marched
	if err := x.Run(March{Legs: []Leg{{Seconds: 30, Condition: c}}, Every: 1}, &out); err != nil {
		t.Fatal(err)
	}
	x.held = held{winding: s.Motor.WindingTemperature, magnets: s.Motor.MagnetTemperature, bridge: s.Heat.BridgeTemperature}
	if err := x.m.Chain.Recharge(d.Battery.Charge, d.Battery.Temperature); err != nil {
		t.Fatal(err)
	}
	own, err := x.m.Solve(c)
	if err != nil || math.Abs(own.Motor.DirectCurrent/s.Motor.DirectCurrent-1) > 1e-6 || math.Abs(own.BatteryPower/s.BatteryPower-1) > 1e-9 {
		t.Errorf("on the march %g A and %g W, steady %g A and %g W (%v)", own.Motor.DirectCurrent, own.BatteryPower, s.Motor.DirectCurrent, s.BatteryPower, err)
	}
	if out.Ending.Kind != Finished {
		t.Errorf("the march %s", out.Ending)
	}
	d.Controller.WeakeningCurrent = quantity.Optional{}
	if plain := solve(t, d, c); plain.Supply.Modulation <= d.Controller.ModulationLimit || plain.BatteryPower >= s.BatteryPower {
		t.Errorf("without it %g of the voltage and %g W after %g W", plain.Supply.Modulation, plain.BatteryPower, s.BatteryPower)
	}
}
