package electric

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"jetwright/quantity"
)

func near(t *testing.T, name string, got, want, tolerance float64) {
	t.Helper()
	if math.Abs(got-want) > tolerance*math.Abs(want) {
		t.Errorf("%s = %.9g, want %.9g within %.0e", name, got, want, tolerance)
	}
}

func rpm(x float64) float64 { return x * 2 * math.Pi / 60 }

// The three conventions at 100 rpm/V: 0.0954930, 0.0826993 and 0.1169545 N·m/A (COMPUTED; the
// constants 9.5493 and 8.27 SEEN in a motor maker's article). And a published motor, K_T 0.55
// N·m/A rms with K_E 0.318 V rms per rad/s, SEEN: the ratio is √3 to 0.14 %, not 1.
func TestMotorConstantsPublished(t *testing.T) {
	k := ConstantFromSpeed(rpm(100))
	near(t, "dc", k, 0.0954930, 1e-6)
	near(t, "peak", k/peakPerDC, 0.0826993, 1e-6)
	near(t, "rms", k/rmsPerDC, 0.1169545, 1e-6)
	near(t, "dc back", ConstantFromTorque(0.0954930, "dc"), k, 1e-6)
	near(t, "peak back", ConstantFromTorque(0.0826993, "peak"), k, 1e-6)
	near(t, "rms back", ConstantFromTorque(0.1169545, "rms"), k, 1e-6)
	// K_E in volts rms line to line per rad/s is K/√2; K_T rms is K/√(2/3).
	constant := ConstantFromTorque(0.55, "rms")
	near(t, "K_T/K_E of the published motor", 0.55/(constant/math.Sqrt2), math.Sqrt(3), 1e-12)
	near(t, "K_E of the published motor", constant/math.Sqrt2, 0.318, 2e-3)
}

// Torque times speed is the power in the air gap in each convention, and copper loss is the same
// however it is counted.
func TestConventionsLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kv := rapid.Float64Range(1, 100).Draw(t, "K_v")
		torque, omega, r := rapid.Float64Range(0.1, 50).Draw(t, "T"), rapid.Float64Range(1, 1000).Draw(t, "ω"), rapid.Float64Range(1e-3, 1).Draw(t, "R")
		k := ConstantFromSpeed(kv)
		dc := torque / k
		peak, rms := peakPerDC*dc, rmsPerDC*dc
		gap := torque * omega
		if p := dc * k * omega; math.Abs(p/gap-1) > 1e-12 {
			t.Fatalf("dc power %g, want %g", p, gap)
		}
		// sinusoidal: three phases, phase voltage amplitude K·ω/√3, in phase with the current
		if p := 1.5 * peak * k * omega / math.Sqrt(3); math.Abs(p/gap-1) > 1e-12 {
			t.Fatalf("peak power %g, want %g", p, gap)
		}
		if p := 3 * rms * k * omega / math.Sqrt(6); math.Abs(p/gap-1) > 1e-12 {
			t.Fatalf("rms power %g, want %g", p, gap)
		}
		copper := dc * dc * r
		if a, b := 1.5*peak*peak*r/2, 3*rms*rms*r/2; math.Abs(a/copper-1) > 1e-12 || math.Abs(b/copper-1) > 1e-12 {
			t.Fatalf("copper loss %g by peak, %g by rms, want %g", a, b, copper)
		}
		for _, c := range []string{"dc", "peak", "rms"} {
			per := map[string]float64{"dc": 1, "peak": peakPerDC, "rms": rmsPerDC}[c]
			m := Motor{SpeedConstant: quantity.Some(kv), TorqueConstant: quantity.Some(k / per), TorqueConvention: c}
			if math.Abs(m.ConstantRatio()-1) > 1e-12 {
				t.Fatalf("%s: ratio %g", c, m.ConstantRatio())
			}
		}
	})
}

// Factors of copper against 20 °C, COMPUTED from IEC 60028's 0.00393 (SEEN): 60 °C 1.1572, 80 °C
// 1.2358, 100 °C 1.3144, 120 °C 1.3930, 155 °C 1.5306; from any other reference they divide.
func TestCopperPublished(t *testing.T) {
	factor := func(c float64) float64 { return 1 + CopperAlpha(293.15)*(c-20) }
	for _, r := range []struct{ c, f float64 }{{60, 1.1572}, {80, 1.2358}, {100, 1.3144}, {120, 1.3930}, {155, 1.5306}} {
		near(t, "factor", factor(r.c), r.f, 1e-4)
		near(t, "from 25 °C", 1+CopperAlpha(298.15)*(r.c-25), factor(r.c)/factor(25), 1e-12)
	}
}

// Six transistors: Î 150 A, R 2 mΩ, m 0.9, cos φ 0.95 give 9.707 W and 1.543 W a path, 67.5 W
// together. COMPUTED; the transistor term SEEN in a maker's forum quoting the note.
func TestSixTransistorPublished(t *testing.T) {
	a, r := TransistorConduction(0.002, 150, 0.9, 0.95)
	near(t, "active", a, 9.707, 1e-4)
	near(t, "reverse", r, 1.543, 3e-4)
	near(t, "six", 6*(a+r), 67.5, 1e-12)
	near(t, "as one", ConductionLoss(0.002, 150/peakPerDC), 67.5, 1e-12)
	m, ctl, b := board() // and in a state at that current
	ctl.Commutation, ctl.OnResistance = "sinusoidal", 0.002
	c, err := NewChain(m, ctl, b)
	if err != nil {
		t.Fatal(err)
	}
	s := c.Motor(c.Constant()*150/peakPerDC-c.NoLoadLoss(300)/300, 300, 298.15, 290)
	u, _ := c.Supply(&s)
	near(t, "the state's current", s.PhaseCurrentPeak, 150, 1e-12)
	near(t, "the state's", u.ConductionLoss, 67.5, 1e-12)
}

func TestSwitchingExact(t *testing.T) {
	near(t, "P", SwitchingLoss(20e3, 50, math.Pi*100, 200e-9), 6*20e3*50*100*100e-9, 1e-12)
}

func TestOpenCircuitExact(t *testing.T) {
	for i, v := range cellClasses["nickel-rich"].table {
		near(t, "V", OpenCircuitVoltage(float64(i)/10), v, 1e-12)
	}
	last := 0.0
	for c := 0.0; c <= 1; c += 0.001 {
		v := OpenCircuitVoltage(c)
		if v < last {
			t.Fatalf("the voltage falls at %g", c)
		}
		last = v
	}
}

func TestPackResistanceExact(t *testing.T) {
	b := Battery{Series: 14, Parallel: 4, CellResistance: 0.020, ColdFactor: 1.6, Temperature: 298.15}
	near(t, "25 °C", b.Resistance(), 0.070, 1e-12) // 14s4p of 20 mΩ
	b.Temperature = 280.15
	near(t, "7 °C", b.Resistance(), 0.070*1.6, 1e-12)
	b.JointResistance = 0.003
	near(t, "joints", b.Resistance(), 0.070*1.6+0.003, 1e-12)
}

// What the load draws at the voltage is what the battery passes there; beyond V²/4R nothing does.
func TestLoadVoltageLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v, r := rapid.Float64Range(20, 100).Draw(t, "V"), rapid.Float64Range(0.005, 0.3).Draw(t, "R")
		k := rapid.Float64Range(0, 2).Draw(t, "k")
		most := (v - r*k) * (v - r*k) / (4 * r)
		p := rapid.Float64Range(0, 1.2).Draw(t, "share") * most
		u, ok := LoadVoltage(v, r, p, k)
		if math.Abs(p/most-1) > 1e-9 && (p > most) == ok {
			t.Fatalf("%g W of at most %g W: %v", p, most, ok)
		}
		if !ok {
			return
		}
		i := (v - u) / r
		if math.Abs(i*u-(p+k*u)) > 1e-9*(p+k*u)+1e-7 {
			t.Fatalf("%g V passes %g W, the load draws %g W", u, i*u, p+k*u)
		}
		if u < (v-r*k)/2-1e-9 {
			t.Fatalf("the unstable voltage %g of %g", u, v)
		}
	})
}

func board() (Motor, Controller, Battery) {
	return Motor{SpeedConstant: quantity.Some(rpm(100)), WindingResistance: 0.011, ResistanceTemperature: 298.15, NoLoadCurrent: 4, NoLoadVoltage: 30, LinearShare: 0.5, InsulationClass: "B", MagnetGrade: "N", MagnetRiseShare: 0.5},
		Controller{OnResistance: 0.001, SwitchingFrequency: 18e3, SwitchingTime: 250e-9, StandbyPower: 10, ModulationLimit: 0.95, BridgeLimit: 358.15},
		Battery{Series: 14, Parallel: 10, CellCapacity: 18000, CellResistance: 0.02, ColdFactor: 1.6, Temperature: 290, Charge: 0.8, JointResistance: 0.002, WiringResistance: 0.003, CutOff: 3.1}
}

func chain(t testing.TB) Chain {
	t.Helper()
	c, err := NewChain(board())
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Without load at the no-load point the motor draws just its no-load current, and its loss
// there is the power that it was measured with.
func TestNoLoadExact(t *testing.T) {
	c := chain(t)
	omega := (30 - 4*0.011) * rpm(100)
	near(t, "current", c.Current(0, omega), 4, 1e-12)
	near(t, "loss", c.NoLoadLoss(omega), 4*30-16*0.011, 1e-12)
	s := c.Motor(0, omega, 298.15, 290)
	near(t, "voltage", s.TerminalVoltage, 30, 1e-12)
	near(t, "power", s.ElectricPower, 120, 1e-12)
	if i := c.Current(0, 0); !(i > 0 && i < 4) {
		t.Errorf("at standstill the drag takes %g A", i)
	}
}

// Power closes on both sides: electric power is shaft power, no-load and copper loss and
// equals voltage times current; battery power is all that comes after the terminals.
func TestMotorClosesLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, ctl, b := board()
		m.LinearShare = rapid.Float64Range(0, 1).Draw(t, "f")
		ctl.Commutation = rapid.SampledFrom([]string{"six-step", "sinusoidal"}).Draw(t, "commutation")
		m.ResistanceBetween = rapid.SampledFrom([]string{"lines", "phase"}).Draw(t, "between")
		c, err := NewChain(m, ctl, b)
		if err != nil {
			t.Fatal(err)
		}
		torque, omega := rapid.Float64Range(0, 25).Draw(t, "T"), rapid.Float64Range(1, 450).Draw(t, "ω")
		s := c.Motor(torque, omega, rapid.Float64Range(280, 420).Draw(t, "T_w"), 285)
		if math.Abs(s.TerminalVoltage*s.DCEquivalentCurrent/s.ElectricPower-1) > 1e-12 {
			t.Fatalf("V·I = %g W, electric power %g W", s.TerminalVoltage*s.DCEquivalentCurrent, s.ElectricPower)
		}
		u, reason := c.Supply(&s)
		if reason != Solved {
			return
		}
		spent := u.WiringLoss + u.ConductionLoss + u.SwitchingLoss + u.StandbyLoss + s.ElectricPower
		if math.Abs(spent/u.BatteryPower-1) > 1e-12 {
			t.Fatalf("battery power %g W, spent %g W", u.BatteryPower, spent)
		}
		if e := u.BatteryVoltage + u.BatteryCurrent*c.packOhms - c.openCircuit; math.Abs(e) > 1e-8 {
			t.Fatalf("the battery's voltages miss by %g V", e)
		}
	})
}

// Every limit judges or says why not, and what is typed is judged.
func TestLimits(t *testing.T) {
	m, ctl, b := board()
	for _, typed := range []bool{false, true} {
		if typed {
			m.MaxSpeed, ctl.MaxVoltage = quantity.Some(rpm(8000)), quantity.Some(63)
			ctl.PhaseCurrentLimit, ctl.BatteryCurrentLimit, b.CellCurrentLimit = quantity.Some(300), quantity.Some(200), quantity.Some(25)
		}
		c, err := NewChain(m, ctl, b)
		if err != nil {
			t.Fatal(err)
		}
		s := c.Motor(10, 400, 380, 290)
		u, _ := c.Supply(&s)
		open := 0
		for _, l := range c.Limits(nil, s, u, Temperatures{Water: 288, Bridge: 320, MotorSpeed: 400}, Bounds{}) {
			if l.NotJudged != "" {
				open++
			}
			if l.Why == "" || l.Source == "" || l.Part == "" {
				t.Errorf("%s lacks a reason, a source or a part", l.Name)
			}
			switch l.Name {
			case "winding temperature":
				near(t, "class B", l.Allowed, 130+273.15, 1e-12)
			case "full battery to the touch":
				near(t, "full", l.Value, 58.8, 1e-12)
				if !l.Hazard {
					t.Error("the touch voltage is no hazard")
				}
			}
		}
		if typed == (open > 0) {
			t.Errorf("typed %v: %d limits are not judged", typed, open)
		}
	}
}

func TestNewChainErrors(t *testing.T) {
	m, ctl, b := board()
	m.SpeedConstant = quantity.Optional{}
	if _, err := NewChain(m, ctl, b); err != ErrNoConstant {
		t.Errorf("no constant: %v", err)
	}
	m, _, _ = board()
	m.NoLoadCurrent, m.WindingResistance = 100, 1
	if _, err := NewChain(m, ctl, b); err != ErrNoLoad {
		t.Errorf("no voltage left: %v", err)
	}
}

func BenchmarkMotorAndSupply(b *testing.B) {
	c := chain(b)
	b.ReportAllocs()
	for b.Loop() {
		s := c.Motor(10, 400, 330, 290)
		c.Supply(&s)
	}
}

// The guess of the controller's heat is above the solved one, by no more than the sag's share.
func TestControllerHeatLaw(t *testing.T) {
	c := chain(t)
	for _, torque := range []float64{0.5, 5, 15} {
		s := c.Motor(torque, 380, 320, 290)
		u, reason := c.Supply(&s)
		if reason != Solved {
			t.Fatal("beyond the battery")
		}
		heat := u.ConductionLoss + u.SwitchingLoss + u.StandbyLoss
		guess := c.ControllerHeat(s.DCEquivalentCurrent)
		if most := heat + u.SwitchingLoss*(c.OpenCircuit()/u.ControllerVoltage-1) + 1e-9; guess < heat || guess > most {
			t.Errorf("guess %g W, solved %g W, at most %g W", guess, heat, most)
		}
	}
}
