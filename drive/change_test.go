package drive

import (
	"math"
	"testing"
)

// Changing nothing is nothing, whatever pump the machine has, calibrated or not.
func TestChangedExact(t *testing.T) {
	for _, calibrated := range []bool{false, true} {
		d := assumed(t)
		if calibrated {
			d.Calibration = Calibration{LnHead: 0.03, LnPower: -0.02, LnTorqueConstant: 0.01}
		}
		m, err := d.Resolve()
		if err != nil {
			t.Fatal(err)
		}
		same, err := m.Changed(func(*Drive) {})
		if err != nil {
			t.Fatal(err)
		}
		c := d.DutyCondition()
		a, err1 := m.Solve(c)
		b, err2 := same.Solve(c)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		if a != b {
			t.Errorf("calibrated %v: nothing was changed, and the state differs: %g N and %g N, %g W and %g W", calibrated, a.Thrust, b.Thrust, a.BatteryPower, b.BatteryPower)
		}
	}
}

// Affinity laws (standard textbook; FROM MEMORY, e.g. Karassik): a pump scaled in diameter, with its whole water path, has
// at one rotor speed flow ∝ D³ and head ∝ D². A pump kept beside another nozzle stays on its curve.
func TestChangedLaw(t *testing.T) {
	m, err := assumed(t).Resolve()
	if err != nil {
		t.Fatal(err)
	}
	const k = 1.03
	big, err := m.Changed(func(d *Drive) {
		d.Impeller.Diameter *= k
		d.Impeller.HubDiameter *= k
		d.Nozzle.Diameter *= k
		d.Intake.ThroatArea.Value *= k * k
	})
	if err != nil {
		t.Fatal(err)
	}
	c := Condition{Demand: RotorSpeed, Amount: 250}
	a, err1 := m.Solve(c)
	b, err2 := big.Solve(c)
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	if r := b.Jet.Flow / a.Jet.Flow / (k * k * k); math.Abs(r-1) > 0.003 { // cavitation and the coolant's bore do not scale
		t.Errorf("flow over D³ moved by %g", r)
	}
	if r := b.Jet.Head / a.Jet.Head / (k * k); math.Abs(r-1) > 0.003 {
		t.Errorf("head over D² moved by %g", r)
	}
	wide, err := m.Changed(func(d *Drive) { d.Nozzle.Diameter *= 1.05 })
	if err != nil {
		t.Fatal(err)
	}
	s, err := wide.Solve(c)
	if err != nil {
		t.Fatal(err)
	}
	psi, _ := m.Path.Pump.Head(s.Jet.FlowCoefficient)
	if r := s.Jet.HeadCoefficient / s.Jet.CavitationFactor / psi; math.Abs(r-1) > 1e-6 || s.Jet.FlowCoefficient <= a.Jet.FlowCoefficient {
		t.Errorf("with a wider nozzle the pump left its curve by %g, or passes no more", r-1)
	}
}

// Without resistance a cell gives all its charge at its open-circuit voltage: time × power is that energy.
func TestRunTimeExact(t *testing.T) {
	d := assumed(t)
	b := &d.Battery
	b.OpenCircuitCharges, b.OpenCircuitVoltages = []float64{0, 1}, []float64{3.59999, 3.60001}
	b.CellResistance, b.JointResistance, b.OpenCircuitOffset, b.CutOff = 1e-12, 0, 0, 2
	m, err := d.Resolve()
	if err != nil {
		t.Fatal(err)
	}
	want := b.Charge * b.CellCapacity * float64(b.Parallel*b.Series) * 3.6 / 1500
	if got := m.RunTime(1500); math.Abs(got/want-1) > 1e-4 {
		t.Errorf("run time %g s, want %g s", got, want)
	}
}
