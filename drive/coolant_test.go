package drive

import (
	"errors"
	"math"
	"strings"
	"testing"

	"jetwright/notice"
	"jetwright/physics/heat"
	"jetwright/quantity"

	"pgregory.net/rapid"
)

// wet is the small board with its coolant's way typed.
func wet(t testing.TB) Drive {
	d := assumed(t)
	d.Cooling.First = "controller"
	hose := heat.Hose{Length: 0.5, Bore: 0.007, Roughness: 3e-6, Loss: 2, HighPoint: 0.1}
	d.Coolant = []heat.Part{
		{Kind: heat.KindTap, Tap: heat.Tap{Station: "nozzle inlet", Takes: "stagnation"}},
		{Kind: heat.KindHose, Hose: hose},
		{Kind: heat.KindPlate, Plate: heat.Channel{Shape: "rectangular", Width: 0.01, Depth: 0.004, Length: 0.8, Passages: 1, Turns: 4, TurnLoss: 1.5, Loss: 2, Roughness: 5e-6, Heated: 0.6, HighPoint: 0.1}},
		{Kind: heat.KindHose, Hose: hose},
		{Kind: heat.KindJacket, Jacket: heat.Channel{Shape: "ring", Width: 0.09, Depth: 0.002, Length: 0.1, Passages: 1, Loss: 2, Roughness: 5e-6, Heated: 0.5, HighPoint: 0.1}},
		{Kind: heat.KindHose, Hose: hose},
		{Kind: heat.KindOutlet, Outlet: heat.Outlet{Bore: 0.007, Height: 0.06}},
	}
	return d
}

// One narrow place of K − 1 and its outlet, at a tap that stands against the flow, give the machine that [cooling] gives with K.
func TestOnePlaceIsCoolingExact(t *testing.T) {
	d := assumed(t)
	d.Cooling.TapDiameter, d.Cooling.LossCoefficient = 0.006, 17
	typed := d
	typed.Coolant = []heat.Part{
		{Kind: heat.KindTap, Tap: heat.Tap{Station: "nozzle inlet", Takes: "stagnation"}},
		{Kind: heat.KindFitting, Fitting: heat.Fitting{Bore: 0.006, Loss: 16}},
		{Kind: heat.KindOutlet, Outlet: heat.Outlet{Bore: 0.006, Height: -0.1}},
	}
	for _, c := range []Condition{d.DutyCondition(), {Demand: BatteryPower, Amount: 900}, {Demand: ShaftPower, Amount: 3000, Speed: 3}} {
		a, b := solve(t, d, c), solve(t, typed, c)
		for _, x := range []struct {
			name string
			a, b float64
		}{
			{"thrust", a.Thrust, b.Thrust},
			{"battery power", a.BatteryPower, b.BatteryPower},
			{"rotor speed", a.RotorSpeed, b.RotorSpeed},
			{"coolant flow", a.Heat.CoolantFlow, b.Heat.CoolantFlow},
			{"coolant loss", a.Jet.CoolantLoss, b.Jet.CoolantLoss},
			{"winding", a.Motor.WindingTemperature, b.Motor.WindingTemperature},
			{"bridge", a.Heat.BridgeTemperature, b.Heat.BridgeTemperature},
			{"outlet", a.Heat.CoolantOutlet, b.Heat.CoolantOutlet},
		} {
			if math.Abs(x.a/x.b-1) > 1e-6 { // round Reynolds number 10 a loss is smoothed, (10/Re)²/4 of which is left
				t.Errorf("%s is %.9g by [cooling], %.9g typed", x.name, x.a, x.b)
			}
		}
		if a.HasCoolant() || !b.HasCoolant() {
			t.Error("figures of the coolant's parts where none are typed, or none where they are")
		}
	}
}

// Stations give the pressures that Bernoulli does.
func TestStationPressureExact(t *testing.T) {
	d := wet(t)
	d.Nozzle.Loss, d.Nozzle.Contraction = 0.03, 0.98
	m, err := d.Resolve()
	if err != nil {
		t.Fatal(err)
	}
	s, err := m.Solve(d.DutyCondition())
	if err != nil {
		t.Fatal(err)
	}
	kinetic := m.Water.Density / 2 * s.Jet.JetVelocity * s.Jet.JetVelocity
	exit := s.Jet.NozzleFlow / m.Path.ExitArea // coolant has left already
	for _, x := range []struct {
		station, takes string
		want           float64
	}{
		{"nozzle inlet", "stagnation", s.Jet.TapPressure},
		{"nozzle inlet", "static", s.Jet.TapPressure - m.Water.Density/2*exit*exit},
		{"nozzle outlet", "stagnation", kinetic},
		{"nozzle outlet", "static", s.Jet.NozzlePressure},
	} {
		if got := kinetic * m.stationPressure(x.station, x.takes); math.Abs(got/x.want-1) > 1e-9 {
			t.Errorf("%s at the %s: %g Pa, want %g", x.takes, x.station, got, x.want)
		}
	}
	if math.Abs(s.Coolant.Pressure/s.Jet.TapPressure-1) > 1e-9 {
		t.Errorf("the state says %g Pa", s.Coolant.Pressure)
	}
}

// Every watt is accounted for with a typed circuit at rest and under way, open and closed, and a state allocates nothing.
func TestTypedCoolantClosesLaw(t *testing.T) {
	open, closed := wet(t), wet(t)
	keel := heat.Keel{
		Channel: heat.Channel{Shape: "rectangular", Width: 0.012, Depth: 0.005, Length: 1.5, Passages: 1, Loss: 2, Roughness: 5e-6, Heated: 0.5, HighPoint: 0.1},
		Plate:   heat.KeelPlate{Length: 0.3, Width: 0.12, Thickness: 0.003, Conductivity: 160, StillTransfer: 250},
	}
	closed.Coolant = append(append([]heat.Part{{Kind: heat.KindPump, Pump: heat.Pump{Shutoff: 30e3, MaxFlow: 2e-4, Power: 14}}}, open.Coolant[1:6]...), heat.Part{Kind: heat.KindKeel, Keel: keel})
	warm := 0.0
	for _, d := range []Drive{open, closed} {
		m, err := d.Resolve()
		if err != nil {
			t.Fatal(err)
		}
		rapid.Check(t, func(t *rapid.T) {
			c := Condition{Demand: BatteryPower, Amount: rapid.Float64Range(30, 5000).Draw(t, "power"), Speed: rapid.Float64Range(0, 6).Draw(t, "speed")}
			s, err := m.Solve(c)
			var u *Unmet
			if errors.As(err, &u) && u.Reason != NotConverged {
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(s.PowerResidual) > 1e-9 || math.Abs(s.DemandResidual) > 1e-9 {
				t.Fatalf("off by %g and %g", s.PowerResidual, s.DemandResidual)
			}
			sum := 0.0
			for _, e := range s.Ledger() {
				sum += e.Power
			}
			if math.Abs(sum/s.BatteryPower-1) > 1e-9 {
				t.Fatalf("the ledger sums to %g W of %g W", sum, s.BatteryPower)
			}
			heats := s.Motor.CopperLoss + s.Motor.NoLoadLoss + s.Supply.Heat()
			at := m.Coolant(s.Jet.JetVelocity, c.Speed)
			if out := d.Water.Temperature + heats*(at.Return+1/at.Carried); math.Abs(out-s.Heat.CoolantOutlet) > 1e-6 {
				t.Fatalf("the coolant leaves at %g K with %g W in it, want %g", s.Heat.CoolantOutlet, heats, out)
			}
			// the winding's loss is that of its own temperature, behind the jacket
			if jacket := s.Heat.JacketTemperature + (s.Motor.CopperLoss+s.Motor.NoLoadLoss)*d.Motor.WindingToJacket; math.Abs(jacket-s.Motor.WindingTemperature) > 1e-3 && s.Motor.WindingTemperature < m.windingBound {
				t.Fatalf("the winding is at %g K, its jacket says %g", s.Motor.WindingTemperature, jacket)
			}
		})
		s, err := m.Solve(Condition{Demand: BatteryPower, Amount: 3000})
		if err != nil {
			t.Fatal(err)
		}
		if s.Heat.CoolantOutlet <= d.Water.Temperature || s.Heat.CoolantOutlet < warm {
			t.Error("a keel plate at rest leaves the coolant no warmer than fresh water does")
		}
		warm = s.Heat.CoolantOutlet
		if n := testing.AllocsPerRun(20, func() { _, _ = m.Solve(Condition{Demand: BatteryPower, Amount: 3000}) }); n != 0 {
			t.Errorf("a state allocates %g times", n)
		}
	}
}

// The power found is the one at which the jet has that speed.
func TestPowerAtRestExact(t *testing.T) {
	d := wet(t)
	m, err := d.Resolve()
	if err != nil {
		t.Fatal(err)
	}
	v := m.CoolantTable().Filled
	if want := math.Sqrt(2 * 9.80665 * 0.1 / (1 + d.Nozzle.Loss)); math.Abs(v/want-1) > 1e-4 {
		t.Errorf("filled at %g m/s, want %g", v, want)
	}
	w, err := m.PowerAtRest(v)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range []float64{0.97, 1.12} {
		s, err := m.Solve(Condition{Demand: BatteryPower, Amount: x * w})
		if err != nil {
			t.Fatal(err)
		}
		if (s.Heat.CoolantFlow > 0) != (x > 1) {
			t.Errorf("at %g W, with %g W to fill, %g m³/s flow", x*w, w, s.Heat.CoolantFlow)
		}
		broken := 0
		for _, l := range m.Limits(nil, s) {
			if l.Part == "coolant" && l.Margin() < 0 {
				broken++
			}
		}
		if (broken > 0) != (x < 1) {
			t.Errorf("%d limits of the coolant are broken at %g of the power that fills it", broken, x)
		}
	}
}

// More bore is never less coolant at a given power, a clogged place never more, and never a cooler winding.
func TestCloggedLaw(t *testing.T) {
	base := wet(t)
	rapid.Check(t, func(t *rapid.T) {
		d := base
		d.Coolant = append([]heat.Part(nil), base.Coolant...)
		bore := rapid.Float64Range(0.002, 0.012).Draw(t, "bore")
		d.Coolant[1].Hose.Bore = bore
		c := Condition{Demand: RotorSpeed, Amount: rapid.Float64Range(60, 420).Draw(t, "rotor speed")}
		m, err := d.Resolve()
		if err != nil {
			t.Fatal(err)
		}
		clean, err := m.Solve(c)
		if err != nil {
			return
		}
		clogged, place, err := m.Clogged(rapid.Float64Range(0.02, 0.98).Draw(t, "open"))
		if err != nil || place == "" {
			t.Fatal(place, err)
		}
		s, err := clogged.Solve(c)
		if err != nil {
			return
		}
		if s.Heat.CoolantFlow > clean.Heat.CoolantFlow*(1+1e-3) {
			t.Fatalf("clogged %g m³/s flow, clean %g", s.Heat.CoolantFlow, clean.Heat.CoolantFlow)
		}
		wide := append([]heat.Part(nil), d.Coolant...)
		wide[1].Hose.Bore *= rapid.Float64Range(1.05, 2).Draw(t, "more")
		w, err := m.WithCoolant(wide)
		if err != nil {
			t.Fatal(err)
		}
		if s, err = w.Solve(c); err == nil && s.Heat.CoolantFlow < clean.Heat.CoolantFlow*(1-1e-3) {
			t.Fatalf("with more bore %g m³/s flow, with less %g", s.Heat.CoolantFlow, clean.Heat.CoolantFlow)
		}
	})
}

// A circuit that cannot be is named by its part, and never becomes a machine.
func TestCoolantFaults(t *testing.T) {
	d := wet(t)
	if f := d.CoolantFaults(); f != nil {
		t.Error(f)
	}
	d.Coolant[3].Hose.Bore = 0
	f := d.CoolantFaults()
	if len(f) != 1 || f[0].Part != 3 || !strings.Contains(f[0].What, "hose") || !strings.Contains(f[0].What, "bore of 0") {
		t.Errorf("a hose of no bore: %+v", f)
	}
	if _, err := d.Resolve(); err == nil {
		t.Error("a hose of no bore is a machine")
	}
	d.Coolant = d.Coolant[1:]
	var list notice.List
	if _, err := d.Resolve(); !errors.As(err, &list) || !strings.Contains(err.Error(), "tap") {
		t.Errorf("without a tap: %v", err)
	}
	d = wet(t)
	d.Water.Kind, d.Battery.Series = "sea", 12
	w := d.WaterPaths()
	one := 0.19 * 0.5 / (math.Pi / 4 * 49e-6)
	if len(w) != 2 || math.Abs(w[0].Resistance/(1/(1/one+1/(2*one)))-1) > 1e-5 || math.Abs(w[0].Current*w[0].Resistance/d.Battery.FullVoltage()-1) > 1e-12 {
		t.Errorf("%+v; one hose is %g Ω", w, one)
	}
	d.Cooling.WaterResistivity = quantity.Some(1.9)
	if x := d.WaterPaths(); math.Abs(x[0].Resistance/w[0].Resistance-10) > 1e-3 {
		t.Errorf("ten times the resistivity gives %g Ω, not ten times %g", x[0].Resistance, w[0].Resistance)
	}
}

func BenchmarkCoolantState(b *testing.B) {
	for _, x := range []struct {
		name string
		of   func(testing.TB) Drive
	}{{"cooling", assumed}, {"typed", wet}} {
		b.Run(x.name, func(b *testing.B) {
			m, err := x.of(b).Resolve()
			if err != nil {
				b.Fatal(err)
			}
			b.ReportAllocs()
			for b.Loop() {
				if _, err := m.Solve(Condition{Demand: BatteryPower, Amount: 3000}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
