package electric

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"jetwright/quantity"
)

// The copper loss of a motor state follows the winding's temperature by the factors of IEC 60028's
// 0.00393 at 20 °C (SEEN; the factors COMPUTED): 60 °C 1.1572 … 155 °C 1.5306, whatever the
// temperature at which the resistance was measured. Twice the phase's resistance lies between lines.
func TestCopperLossPublished(t *testing.T) {
	for _, measured := range []float64{20, 25, 60} {
		m, ctl, b := board()
		m.ResistanceTemperature = measured + zeroCelsius
		c, err := NewChain(m, ctl, b)
		if err != nil {
			t.Fatal(err)
		}
		m.ResistanceBetween = "phase"
		star, err := NewChain(m, ctl, b)
		if err != nil {
			t.Fatal(err)
		}
		at := func(celsius float64) MotorState { return c.Motor(9, 350, celsius+zeroCelsius, 290) }
		cold := at(20)
		for _, r := range []struct{ celsius, factor float64 }{{60, 1.1572}, {80, 1.2358}, {100, 1.3144}, {120, 1.3930}, {155, 1.5306}} {
			s := at(r.celsius)
			near(t, "factor", s.CopperLoss/cold.CopperLoss, r.factor, 1e-4)
			i := s.DCEquivalentCurrent
			near(t, "I²·R", at(measured).CopperLoss, i*i*0.011, 1e-12)
			loss, alpha, reference := c.Copper(i)
			near(t, "by the closed form's terms", loss*(1+alpha*(r.celsius+zeroCelsius-reference)), s.CopperLoss, 1e-12)
			starLoss, _, _ := star.Copper(i)
			near(t, "phase against lines", starLoss, 2*loss, 1e-12)
		}
	}
}

// The phase currents of a state, against the waveforms themselves: a sine whose three phases make
// the air gap's power with induced voltages of amplitude K·ω/√3, and a flat top of 120° that carries
// the equivalent direct current.
func TestPhaseCurrentsExact(t *testing.T) {
	m, ctl, b := board()
	ctl.Commutation = "sinusoidal"
	sine, err := NewChain(m, ctl, b)
	if err != nil {
		t.Fatal(err)
	}
	ctl.Commutation = "six-step"
	steps, err := NewChain(m, ctl, b)
	if err != nil {
		t.Fatal(err)
	}
	const torque, omega, points = 9, 350, 3600
	s, f := sine.Motor(torque, omega, 298.15, 290), steps.Motor(torque, omega, 298.15, 290)
	k := ConstantFromSpeed(rpm(100))
	gap := torque*omega + sine.NoLoadLoss(omega)
	var power, squareSine, squareFlat float64
	for i := range points {
		a := (float64(i) + 0.5) * 2 * math.Pi / points
		power += 3 * s.PhaseCurrentPeak * math.Sin(a) * k * omega / math.Sqrt(3) * math.Sin(a) / points
		squareSine += math.Pow(s.PhaseCurrentPeak*math.Sin(a), 2) / points
		if math.Abs(math.Sin(a)) > 0.5 { // 30° to 150° of each half wave
			squareFlat += f.PhaseCurrentPeak * f.PhaseCurrentPeak / points
		}
	}
	near(t, "power of the three phases", power, gap, 1e-12)
	near(t, "rms of the sine", s.PhaseCurrentRMS, math.Sqrt(squareSine), 1e-12)
	near(t, "rms of the flat top", f.PhaseCurrentRMS, math.Sqrt(squareFlat), 1e-12)
	near(t, "two phases of six-step carry the power", f.PhaseCurrentPeak*k*omega, gap, 1e-12)
	near(t, "copper loss of the sine", s.CopperLoss, 3*s.PhaseCurrentRMS*s.PhaseCurrentRMS*0.0055, 1e-12)
	near(t, "copper loss of six-step", f.CopperLoss, 3*f.PhaseCurrentRMS*f.PhaseCurrentRMS*0.0055, 1e-12)
}

// The linear share of the no-load loss doubles with the speed, the rest quadruples, and the drag
// stays finite and continuous down to standstill.
func TestNoLoadShareExact(t *testing.T) {
	for _, share := range []float64{0, 0.3, 1} {
		m, ctl, b := board()
		m.LinearShare = share
		c, err := NewChain(m, ctl, b)
		if err != nil {
			t.Fatal(err)
		}
		omega := (30 - 4*0.011) * rpm(100)
		near(t, "loss at twice the speed", c.NoLoadLoss(2*omega), (4*30-16*0.011)*(2*share+4*(1-share)), 1e-12)
		k := ConstantFromSpeed(rpm(100))
		near(t, "current at standstill", c.Current(1, 0), (1+share*(4*30-16*0.011)/omega)/k, 1e-12)
		near(t, "current beside standstill", c.Current(1, 1e-9), c.Current(1, 0), 1e-9)
	}
}

func TestMagnetTemperatureExact(t *testing.T) {
	m, ctl, b := board()
	m.MagnetRiseShare = 0.4
	c, err := NewChain(m, ctl, b)
	if err != nil {
		t.Fatal(err)
	}
	s := c.Motor(9, 350, 390, 290)
	near(t, "magnets", s.MagnetTemperature, 330, 1e-12)
	near(t, "winding", s.WindingTemperature, 390, 1e-12)
}

// Fourteen by four cells of 20 mΩ are 70 mΩ: 100 A drop 7 V and make 700 W in the pack, and no more
// than V²/4R leaves it. COMPUTED; nothing but the pack resists here.
func TestPackUnderLoadPublished(t *testing.T) {
	m, _, _ := board()
	b := Battery{Series: 14, Parallel: 4, CellResistance: 0.020, ColdFactor: 1.6, Temperature: 298.15, Charge: 0.5}
	c, err := NewChain(m, Controller{}, b)
	if err != nil {
		t.Fatal(err)
	}
	rest := 14 * 3.70
	near(t, "at rest", c.OpenCircuit(), rest, 1e-12)
	s, reason := c.Supply(&MotorState{ElectricPower: (rest - 7) * 100})
	if reason != Solved {
		t.Fatal("beyond the battery")
	}
	near(t, "current", s.BatteryCurrent, 100, 1e-12)
	near(t, "voltage", s.BatteryVoltage, rest-7, 1e-12)
	near(t, "heat of the pack", s.BatteryInternalLoss, 700, 1e-12)
	near(t, "cell", s.CellCurrent, 25, 1e-12)
	most := rest * rest / (4 * 0.070)
	if _, reason := c.Supply(&MotorState{ElectricPower: most * (1 - 1e-9)}); reason != Solved {
		t.Error("just below V²/4R nothing was found")
	}
	if _, reason := c.Supply(&MotorState{ElectricPower: most * (1 + 1e-9)}); reason != BeyondBattery {
		t.Error("beyond V²/4R a state was found")
	}
	b.OpenCircuitOffset = -0.04
	if c, err = NewChain(m, Controller{}, b); err != nil {
		t.Fatal(err)
	}
	near(t, "with every cell lower", c.OpenCircuit(), 14*3.66, 1e-12)
}

// A supply state agrees with its own formulas, with the whole circuit up to the cells, and with
// the voltage at the controller that halving finds.
func TestSupplyLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, ctl, b := board()
		ctl.SwitchingTime = rapid.Float64Range(50e-9, 2e-6).Draw(t, "t")
		ctl.SwitchingFrequency = rapid.Float64Range(4e3, 50e3).Draw(t, "f")
		b.WiringResistance = rapid.Float64Range(0, 0.02).Draw(t, "R_w")
		c, err := NewChain(m, ctl, b)
		if err != nil {
			t.Fatal(err)
		}
		s := c.Motor(rapid.Float64Range(0.1, 25).Draw(t, "T"), rapid.Float64Range(1, 450).Draw(t, "ω"), 330, 285)
		u, reason := c.Supply(&s)
		if reason != Solved {
			return
		}
		same := func(name string, got, want float64) {
			if math.Abs(got-want) > 1e-9*math.Abs(want) {
				t.Fatalf("%s = %.12g, want %.12g", name, got, want)
			}
		}
		same("conduction", u.ConductionLoss, 3*s.PhaseCurrentRMS*s.PhaseCurrentRMS*ctl.OnResistance)
		same("switching", u.SwitchingLoss, SwitchingLoss(ctl.SwitchingFrequency, u.ControllerVoltage, s.PhaseCurrentPeak, ctl.SwitchingTime))
		same("standby", u.StandbyLoss, ctl.StandbyPower)
		same("modulation", u.Modulation, s.TerminalVoltage/u.ControllerVoltage)
		same("cells", u.CellCurrent*float64(b.Parallel), u.BatteryCurrent)
		same("power of the cells", u.BatteryPower+u.BatteryInternalLoss, c.OpenCircuit()*u.BatteryCurrent)
		surplus := func(v float64) float64 { // what reaches the controller at a voltage, over what it draws there
			drawn := s.ElectricPower + u.ConductionLoss + ctl.StandbyPower + SwitchingLoss(ctl.SwitchingFrequency, v, s.PhaseCurrentPeak, ctl.SwitchingTime)
			return v*(c.OpenCircuit()-v)/(b.Resistance()+b.WiringResistance) - drawn
		}
		// From the middle of the parabola, where the surplus is largest, to the open circuit.
		hi := c.OpenCircuit()
		lo := 0.5 * (hi - (b.Resistance()+b.WiringResistance)*SwitchingLoss(ctl.SwitchingFrequency, 1, s.PhaseCurrentPeak, ctl.SwitchingTime))
		for range 100 {
			if mid := 0.5 * (lo + hi); surplus(mid) > 0 {
				lo = mid
			} else {
				hi = mid
			}
		}
		if math.Abs(u.ControllerVoltage-hi) > 1e-6 {
			t.Fatalf("controller at %.9g V, by halving %.9g V", u.ControllerVoltage, hi)
		}
	})
}

// limit finds a limit by its name.
func limit(t testing.TB, limits []quantity.Limit, name string) quantity.Limit {
	t.Helper()
	for _, l := range limits {
		if l.Name == name {
			return l
		}
	}
	t.Fatalf("there is no limit %q", name)
	return quantity.Limit{}
}

// Thermal classes of IEC 60085, SEEN in two tables; magnet suffixes up to SH SEEN in makers' tables,
// UH and EH FROM MEMORY (high; one vendor's page has the two swapped). What the builder types goes first.
func TestTemperatureBoundsPublished(t *testing.T) {
	bounds := func(class, grade string, b Bounds) (winding, magnet, bridge float64) {
		m, ctl, pack := board()
		m.InsulationClass, m.MagnetGrade = class, grade
		c, err := NewChain(m, ctl, pack)
		if err != nil {
			t.Fatal(err)
		}
		s := c.Motor(9, 350, 390, 290)
		u, _ := c.Supply(&s)
		limits := c.Limits(nil, s, u, Temperatures{Water: 288, Bridge: 321, MotorSpeed: 350}, b)
		for name, value := range map[string]float64{"winding temperature": 390, "magnet temperature": 340, "bridge temperature": 321} {
			l := limit(t, limits, name)
			near(t, name, l.Value, value, 1e-12)
			near(t, name+", from the water on", l.Zero, 288, 1e-12)
		}
		return limit(t, limits, "winding temperature").Allowed - zeroCelsius, limit(t, limits, "magnet temperature").Allowed - zeroCelsius, limit(t, limits, "bridge temperature").Allowed - zeroCelsius
	}
	for class, want := range map[string]float64{"A": 105, "E": 120, "B": 130, "F": 155, "H": 180, "N": 200, "R": 220} {
		winding, _, bridge := bounds(class, "N", Bounds{})
		near(t, "class "+class, winding, want, 1e-12)
		near(t, "bridge", bridge, 85, 1e-12)
	}
	for grade, want := range map[string]float64{"N": 80, "M": 100, "H": 120, "SH": 150, "UH": 180, "EH": 200} {
		_, magnet, _ := bounds("B", grade, Bounds{})
		near(t, "suffix "+grade, magnet, want, 1e-12)
	}
	winding, magnet, bridge := bounds("B", "N", Bounds{quantity.Some(373.15), quantity.Some(343.15), quantity.Some(353.15)})
	near(t, "typed winding", winding, 100, 1e-12)
	near(t, "typed magnet", magnet, 70, 1e-12)
	near(t, "typed bridge", bridge, 80, 1e-12)
}

// Every limit holds the figure it names against the number that was typed for it.
func TestLimitFiguresExact(t *testing.T) {
	m, ctl, b := board()
	m.MaxSpeed, ctl.MaxVoltage = quantity.Some(810), quantity.Some(63)
	ctl.PhaseCurrentLimit, ctl.BatteryCurrentLimit, b.CellCurrentLimit = quantity.Some(301), quantity.Some(202), quantity.Some(23)
	for _, p := range []struct {
		convention, name string
		of               func(MotorState) float64
	}{
		{"peak", "phase current, peak", func(s MotorState) float64 { return s.PhaseCurrentPeak }},
		{"rms", "phase current, rms", func(s MotorState) float64 { return s.PhaseCurrentRMS }},
		{"dc", "phase current, direct-current equivalent", func(s MotorState) float64 { return s.DCEquivalentCurrent }},
	} {
		ctl.PhaseCurrentConvention = p.convention
		c, err := NewChain(m, ctl, b)
		if err != nil {
			t.Fatal(err)
		}
		s := c.Motor(10, 400, 380, 290)
		u, reason := c.Supply(&s)
		if reason != Solved {
			t.Fatal("beyond the battery")
		}
		limits := c.Limits(nil, s, u, Temperatures{Water: 288, Bridge: 320, MotorSpeed: 402}, Bounds{})
		for _, w := range []struct {
			name                 string
			value, allowed, zero float64
			sense                quantity.Sense
			hazard               bool
		}{
			{p.name, p.of(s), 301, 0, quantity.AtMost, false},
			{"battery current", u.BatteryCurrent, 202, 0, quantity.AtMost, false},
			{"cell current", u.CellCurrent, 23, 0, quantity.AtMost, false},
			{"battery voltage under load", u.BatteryVoltage, 14 * 3.1, c.OpenCircuit(), quantity.AtLeast, false},
			{"share of the battery voltage used", u.Modulation, 0.95, 0, quantity.AtMost, false},
			{"motor speed", 402, 810, 0, quantity.AtMost, false},
			{"full battery on the controller", 58.8, 63, 0, quantity.AtMost, false},
			{"full battery to the touch", 58.8, 60, 0, quantity.AtMost, true},
		} {
			l := limit(t, limits, w.name)
			near(t, w.name, l.Value, w.value, 1e-12)
			near(t, w.name+", allowed", l.Allowed, w.allowed, 1e-12)
			near(t, w.name+", zero", l.Zero, w.zero, 1e-12)
			if l.Sense != w.sense || l.Hazard != w.hazard || l.Factor != 1 || l.NotJudged != "" {
				t.Errorf("%s: %+v", w.name, l)
			}
		}
	}
}

// A limit's margin is negative exactly where its bound is passed, a battery that is empty at rest
// and a bound that the water itself breaks included.
func TestLimitMarginLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, ctl, b := board()
		b.Charge = rapid.Float64Range(0, 1).Draw(t, "charge")
		b.CutOff = rapid.Float64Range(1.5, 4).Draw(t, "cut-off")
		water := rapid.Float64Range(271, 313).Draw(t, "water")
		bound := rapid.Float64Range(260, 450).Draw(t, "bound")
		c, err := NewChain(m, ctl, b)
		if err != nil {
			t.Fatal(err)
		}
		s := c.Motor(rapid.Float64Range(0, 15).Draw(t, "T"), rapid.Float64Range(1, 400).Draw(t, "ω"), water+rapid.Float64Range(0, 150).Draw(t, "rise"), water)
		u, reason := c.Supply(&s)
		if reason != Solved {
			return
		}
		own := quantity.Some(bound)
		for _, l := range c.Limits(nil, s, u, Temperatures{Water: water, Bridge: water + 20, MotorSpeed: 400}, Bounds{own, own, own}) {
			beyond := l.Value > l.Allowed
			if l.Sense == quantity.AtLeast {
				beyond = l.Value < l.Allowed
			}
			if margin := l.Margin(); l.NotJudged == "" && (margin < 0) != beyond {
				t.Fatalf("%s: %g of %g from %g, margin %g", l.Name, l.Value, l.Allowed, l.Zero, margin)
			}
		}
	})
}

// electricSide is the three parts as a design holds them.
type electricSide struct {
	Motor      Motor
	Controller Controller
	Battery    Battery
}

// Whatever is possible by the parts' own ranges gives finite figures or a named reason.
func TestFiniteLaw(t *testing.T) {
	schema, err := quantity.SchemaOf(electricSide{})
	if err != nil {
		t.Fatal(err)
	}
	states, err := quantity.SchemaOf(struct {
		Motor  MotorState
		Supply SupplyState
	}{})
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		var d electricSide
		lists := rapid.Bool().Draw(t, "lists")
		for _, f := range schema.Fields() {
			switch {
			case f.Kind == quantity.KindList:
				if lists { // three points that rise
					a := rapid.Float64Range(f.Range.Low, f.Range.High).Draw(t, f.Path)
					schema.SetList(&d, f, []float64{f.Range.Low + (a-f.Range.Low)/3, (a + f.Range.High) / 2.5, f.Range.High * 1.01})
				}
			case len(f.Choices) > 0:
				schema.SetText(&d, f, rapid.SampledFrom(f.Choices).Draw(t, f.Path))
			case f.Range != nil:
				x := rapid.Float64Range(f.Range.Low, f.Range.High).Draw(t, f.Path)
				if f.Kind == quantity.KindWhole {
					x = math.Round(x)
				}
				schema.Set(&d, f, x)
			default:
				t.Fatalf("%s has no range", f.Path)
			}
		}
		if rapid.Bool().Draw(t, "torque constant alone") {
			d.Motor.SpeedConstant = quantity.Optional{}
		}
		c, err := NewChain(d.Motor, d.Controller, d.Battery)
		for _, named := range []error{ErrNoLoad, ErrNoLoadLoss, ErrNoLoadPoints, ErrOpenCircuitTable, ErrResistanceTable} {
			if errors.Is(err, named) {
				return
			}
		}
		if err != nil {
			t.Fatal(err)
		}
		torque, omega := rapid.Float64Range(0, 500).Draw(t, "T"), rapid.Float64Range(0, 10000).Draw(t, "ω")
		both := struct {
			Motor  MotorState
			Supply SupplyState
		}{Motor: c.Motor(torque, omega, rapid.Float64Range(260, 600).Draw(t, "T_w"), 290)}
		var reason Reason
		both.Supply, reason = c.Supply(&both.Motor)
		for _, f := range states.Fields() {
			if x, _ := states.Get(&both, f); math.IsNaN(x) || math.IsInf(x, 0) {
				t.Fatalf("%s is %g", f.Path, x)
			}
		}
		if reason != Solved {
			return
		}
		for _, l := range c.Limits(nil, both.Motor, both.Supply, Temperatures{Water: 290, Bridge: 320, MotorSpeed: omega}, Bounds{}) {
			if x := l.Margin(); math.IsNaN(x) || math.IsInf(x, 0) {
				t.Fatalf("%s has the margin %g", l.Name, x)
			}
		}
	})
}

// An operating point allocates nothing, solved or not.
func TestOperatingPointAllocatesNothingLaw(t *testing.T) {
	c := chain(t)
	for _, torque := range []float64{10, 1e4} {
		if n := testing.AllocsPerRun(100, func() {
			s := c.Motor(torque, 400, 330, 290)
			c.Supply(&s)
		}); n != 0 {
			t.Errorf("%g N·m: %g allocations", torque, n)
		}
	}
}

// Suffixes of neodymium magnets and their guide temperatures: SEEN in makers' tables up to SH, FROM MEMORY for UH
// and EH.
func TestMagnetBoundPublished(t *testing.T) {
	for grade, want := range map[string]float64{"N": 80, "M": 100, "H": 120, "SH": 150, "UH": 180, "EH": 200} {
		if have := MagnetBound(grade) - 273.15; math.Abs(have-want) > 1e-9 {
			t.Errorf("%s: %g °C, want %g", grade, have, want)
		}
	}
}

// Half a volt is lacking in the weakest group by its charge, and a tenth of a milliohm above the mean by its resistance.
func TestWeakestCellExact(t *testing.T) {
	c := Chain{battery: Battery{Series: 10}, weakCharge: 0.5, weakOhm: 1e-4}
	if have := c.WeakestCell(36, 200); math.Abs(have-3.08) > 1e-12 {
		t.Errorf("%g V, want 3.08 V", have)
	}
	if have := (&Chain{battery: Battery{Series: 10}}).WeakestCell(36, 200); have != 3.6 {
		t.Errorf("%g V, want the mean of 3.6 V", have)
	}
}
