package drive

import (
	"errors"
	"math"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"jetwright/quantity"
)

// schema of the parts, read once.
func schema(t testing.TB) *quantity.Schema {
	t.Helper()
	s, err := quantity.SchemaOf(Drive{})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// assumed returns a drive with every assumption at its middle, and the typed numbers of a
// small board.
func assumed(t testing.TB) Drive {
	t.Helper()
	var d Drive
	s := schema(t)
	for _, f := range s.Fields() {
		switch {
		case f.Kind == quantity.KindText:
			s.SetText(&d, f, f.AssumeText)
		case f.Assume != nil:
			s.Set(&d, f, (f.Assume.Low+f.Assume.High)/2)
		}
	}
	d.Duty.Thrust = quantity.Some(360)
	d.Impeller.Diameter, d.Impeller.HubDiameter, d.Nozzle.Diameter = 0.098, 0.041, 0.062
	d.Motor.SpeedConstant = quantity.Some(100 * 2 * math.Pi / 60)
	d.Motor.WindingResistance = 0.011
	d.Battery.Series, d.Battery.Parallel, d.Battery.CellCapacity = 13, 10, 5*3600
	return d
}

func solve(t testing.TB, d Drive, c Condition) State {
	t.Helper()
	m, err := d.Resolve()
	if err != nil {
		t.Fatal(err)
	}
	s, err := m.Solve(c)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// draw makes a random drive round the board: every assumption within its range, sizes from
// half to twice, and a demand that the battery can be expected to meet.
func draw(t *rapid.T, base Drive, s *quantity.Schema) (Drive, Condition) {
	d := base
	for _, f := range s.Fields() {
		if f.Kind == quantity.KindNumber && f.Assume != nil && f.Assume.High > f.Assume.Low {
			s.Set(&d, f, rapid.Float64Range(f.Assume.Low, f.Assume.High).Draw(t, f.Path))
		}
	}
	size := rapid.Float64Range(0.5, 2).Draw(t, "size")
	d.Impeller.Diameter *= size
	d.Impeller.HubDiameter = d.Impeller.Diameter * rapid.Float64Range(0.25, 0.65).Draw(t, "hub")
	d.Nozzle.Diameter = d.Impeller.Diameter * rapid.Float64Range(0.45, 0.85).Draw(t, "nozzle")
	d.Duty.Thrust.Value *= rapid.Float64Range(0.3, 1).Draw(t, "thrust") * size * size
	d.Motor.SpeedConstant.Value *= rapid.Float64Range(0.5, 2).Draw(t, "speed constant") / size
	d.Motor.WindingResistance *= rapid.Float64Range(0.5, 2).Draw(t, "resistance")
	d.Battery.Parallel = int(float64(d.Battery.Parallel)*size*size + 1)
	c := Condition{Speed: rapid.SampledFrom([]float64{0, 0, 2, 5, 9}).Draw(t, "speed"), OnStand: rapid.Bool().Draw(t, "stand")}
	c.Demand = rapid.SampledFrom([]Demand{BatteryPower, ControllerPower, ShaftPower, Thrust, RotorSpeed, Throttle}).Draw(t, "demand")
	share := rapid.Float64Range(0.05, 0.6).Draw(t, "share")
	open := 13 * 3.8
	switch c.Demand {
	case Thrust:
		c.Amount = share * d.Duty.Thrust.Value * 1.5
	case RotorSpeed:
		c.Amount = share * open * d.Motor.SpeedConstant.Value
	case Throttle:
		c.Amount = share
	default:
		c.Amount = share * 400 * float64(d.Battery.Parallel)
	}
	return d, c
}

// Of random drives within the assumed ranges and half to twice the size at least 99 % have a
// state with residuals below 1e-9; the rest ends in a named reason. Every watt is accounted for.
func TestStateClosesLaw(t *testing.T) {
	base, s := assumed(t), schema(t)
	reasons := map[string]int{}
	solved, tried := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		d, c := draw(t, base, s)
		tried++
		m, err := d.Resolve()
		var st State
		if err == nil {
			st, err = m.Solve(c)
		}
		if err != nil {
			var u *Unmet
			if !errors.As(err, &u) || u.Reason == NotConverged || u.Error() == "" {
				t.Fatalf("%+v: %v", c, err)
			}
			reasons[u.Reason.String()]++
			return
		}
		solved++
		if math.Abs(st.PowerResidual) > 1e-9 || math.Abs(st.DemandResidual) > 1e-9 || math.Abs(st.Jet.PowerBalance()) > 1e-9 {
			t.Fatalf("%+v: residuals power %g, demand %g, water %g", c, st.PowerResidual, st.DemandResidual, st.Jet.PowerBalance())
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
	t.Logf("%d of %d have a state; the rest: %v", solved, tried, reasons)
	if float64(solved) < 0.99*float64(tried)-3 {
		t.Errorf("only %d of %d random drives have a state: %v", solved, tried, reasons)
	}
}

func finite(t *rapid.T, path string, v reflect.Value) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			finite(t, path+"."+v.Type().Field(i).Name, v.Field(i))
		}
	case reflect.Float64:
		if x := v.Float(); math.IsNaN(x) || math.IsInf(x, 0) {
			t.Fatalf("%s is %g", path, x)
		}
	}
}

// The same state is reached from whichever figure is demanded.
func TestDemandsAgreeLaw(t *testing.T) {
	base, s := assumed(t), schema(t)
	rapid.Check(t, func(t *rapid.T) {
		d, _ := draw(t, base, s)
		m, err := d.Resolve()
		if err != nil {
			t.Skip(err)
		}
		v := rapid.Float64Range(0, 8).Draw(t, "V")
		first, err := m.Solve(Condition{Speed: v, Demand: RotorSpeed, Amount: rapid.Float64Range(0.2, 0.5).Draw(t, "share") * 49 * d.Motor.SpeedConstant.Value})
		if err != nil || first.Thrust <= 0.01*first.Jet.NozzleFlow*first.Jet.JetVelocity*1000 || first.ShaftPower <= 0 || first.Jet.CavitationFactor < 0.99 {
			t.Skip("no ordinary state")
		}
		for _, c := range []Condition{
			{Demand: BatteryPower, Amount: first.BatteryPower},
			{Demand: ControllerPower, Amount: first.ControllerPower},
			{Demand: ShaftPower, Amount: first.ShaftPower},
			{Demand: Thrust, Amount: first.Thrust},
			{Demand: Throttle, Amount: first.Supply.Modulation / d.Controller.ModulationLimit},
		} {
			c.Speed = v
			st, err := m.Solve(c)
			if err != nil {
				t.Fatalf("%v: %v", c.Demand, err)
			}
			if math.Abs(st.RotorSpeed/first.RotorSpeed-1) > 1e-9 {
				t.Fatalf("%v of %g gave %g rad/s, not %g", c.Demand, c.Amount, st.RotorSpeed, first.RotorSpeed)
			}
		}
	})
}

// A typed design point is where the pump runs at the duty: best efficiency at the stated
// ratio to the duty's flow, and the duty's thrust met.
func TestDesignPointExact(t *testing.T) {
	d := assumed(t)
	d.Impeller.DesignFlowRatio = 1
	d.Impeller.SuctionSpecificSpeed3 = 1000
	m, err := d.Resolve()
	if err != nil {
		t.Fatal(err)
	}
	s, err := m.Solve(d.DutyCondition())
	if err != nil {
		t.Fatal(err)
	}
	if e := s.Thrust/360 - 1; math.Abs(e) > 1e-9 {
		t.Errorf("thrust misses the duty by %g", e)
	}
	if e := s.Jet.PumpEfficiency/(d.Impeller.Efficiency*d.Impeller.InstalledFactor) - 1; math.Abs(e) > 1e-9 {
		t.Errorf("pump efficiency misses its best by %g", e)
	}
	if e := s.Jet.HeadCoefficient/d.Impeller.HeadCoefficient - 1; math.Abs(e) > 1e-9 {
		t.Errorf("head coefficient misses the design by %g", e)
	}
	for _, place := range []struct {
		word string
		of   func(State) float64
	}{{"battery", func(s State) float64 { return s.BatteryPower }}, {"controller", func(s State) float64 { return s.ControllerPower }}, {"shaft", func(s State) float64 { return s.ShaftPower }}} {
		e := d
		e.Duty.Thrust = quantity.Optional{}
		e.Duty.Power, e.Duty.PowerPlace = quantity.Some(place.of(s)), place.word
		again := solve(t, e, e.DutyCondition())
		if r := again.Thrust/360 - 1; math.Abs(r) > 1e-8 {
			t.Errorf("the same duty as power at the %s misses its thrust by %g", place.word, r)
		}
	}
	e := d
	e.Duty.RotorSpeed = quantity.Some(1.1 * s.RotorSpeed)
	if r := solve(t, e, e.DutyCondition()).RotorSpeed/(1.1*s.RotorSpeed) - 1; math.Abs(r) > 1e-9 {
		t.Errorf("a typed rotor speed is missed by %g", r)
	}
}

// Along a ladder at rest the similarity coefficients hold still without cavitation, and thrust
// grows as shaft power to the 2/3.
func TestSimilarityLaw(t *testing.T) {
	d := assumed(t)
	d.Impeller.SuctionSpecificSpeed3 = 1000
	d.Shaft.SealTorque = 0
	m, err := d.Resolve()
	if err != nil {
		t.Fatal(err)
	}
	var first State
	for i, p := range []float64{800, 1600, 2400, 3600} {
		s, err := m.Solve(Condition{Demand: ShaftPower, Amount: p, OnStand: true})
		if err != nil {
			t.Fatal(err)
		}
		if i == 0 {
			first = s
			continue
		}
		for _, k := range []struct {
			name string
			a, b float64
		}{
			{"T/(ρn²D⁴)", s.Jet.ThrustCoefficient, first.Jet.ThrustCoefficient},
			{"P/(ρn³D⁵)", s.Jet.PowerCoefficient, first.Jet.PowerCoefficient},
			{"static efficiency", s.StaticEfficiencyShaft, first.StaticEfficiencyShaft},
			{"T ~ P^(2/3)", s.Thrust, first.Thrust * math.Pow(p/800, 2.0/3)},
		} {
			if math.Abs(k.a/k.b-1) > 1e-8 {
				t.Errorf("%s moves from %.9g to %.9g at %g W", k.name, k.b, k.a, p)
			}
		}
	}
}

// Beyond what the parts can do the solve ends in a named reason with the most there is.
func TestUnmetReasons(t *testing.T) {
	d := assumed(t)
	m, err := d.Resolve()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		c    Condition
		want Reason
	}{
		{Condition{Demand: BatteryPower, Amount: 1e6}, BeyondBattery},
		{Condition{Demand: ShaftPower, Amount: 1e6}, BeyondBattery},
		{Condition{Demand: Thrust, Amount: 1e5}, BeyondCavitation},
		{Condition{Demand: BatteryPower, Amount: -5}, BadCondition},
		{Condition{Demand: BatteryPower, Amount: math.NaN()}, BadCondition},
		{Condition{Demand: BatteryPower, Amount: 1e-3}, BelowIdle},
	} {
		_, err := m.Solve(c.c)
		var u *Unmet
		_ = errors.As(err, &u)
		if u == nil || u.Reason != c.want {
			t.Errorf("%v of %g: %v, want %v", c.c.Demand, c.c.Amount, err, c.want)
			continue
		}
		if c.want == BeyondBattery || c.want == BeyondCavitation {
			if u.Most <= 0 || u.Most >= c.c.Amount {
				t.Errorf("%v: the most is %g", err, u.Most)
				continue
			}
			top := c.c
			top.Amount = 0.999 * u.Most
			if _, err := m.Solve(top); err != nil && c.want == BeyondBattery {
				t.Errorf("just below the most of %g: %v", u.Most, err)
			}
		}
	}
}

// More nozzle never passes less water at a rotor speed, and a higher shaft never has more
// suction head.
func TestMoreAreaLaw(t *testing.T) {
	base, s := assumed(t), schema(t)
	rapid.Check(t, func(t *rapid.T) {
		d, _ := draw(t, base, s)
		m, err := d.Resolve()
		if err != nil {
			t.Skip(err)
		}
		c := Condition{Demand: RotorSpeed, Amount: 0.8 * m.Design.RotorSpeed}
		a, err := m.Solve(c)
		if err != nil || a.Jet.CavitationFactor < 0.995 {
			t.Skip("no ordinary state")
		}
		// the same pump with a wider nozzle
		wide := *m
		wide.Path.Nozzle.Diameter *= 1.01
		wide.Path.NozzleArea *= 1.0201
		wide.Path.JetArea *= 1.0201
		b, err := wide.Solve(c)
		if err != nil {
			t.Skip(err)
		}
		if b.Jet.NozzleFlow < a.Jet.NozzleFlow {
			t.Fatalf("a wider nozzle passes %g after %g m³/s", b.Jet.NozzleFlow, a.Jet.NozzleFlow)
		}
		high := d
		high.Shaft.Height += 0.1
		hm, err := high.Resolve()
		if err != nil {
			t.Skip(err)
		}
		h, err := hm.Solve(c)
		if err == nil && h.Jet.NPSHAvailable > a.Jet.NPSHAvailable+1e-9 && h.Jet.Flow >= a.Jet.Flow {
			t.Fatalf("a higher shaft has %g m of suction head after %g m", h.Jet.NPSHAvailable, a.Jet.NPSHAvailable)
		}
	})
}

// Thrust, losses and suction head are smooth as the craft begins to move, at a shaft power
// and at a battery power.
func TestSmoothThroughRestLaw(t *testing.T) {
	d := assumed(t)
	m, err := d.Resolve()
	if err != nil {
		t.Fatal(err)
	}
	for _, demand := range []Demand{ShaftPower, BatteryPower, RotorSpeed} {
		amount := 2500.0
		if demand == RotorSpeed {
			amount = 350
		}
		at := func(v float64) [4]float64 {
			s, err := m.Solve(Condition{Speed: v, Demand: demand, Amount: amount})
			if err != nil {
				t.Fatal(err)
			}
			return [4]float64{s.Thrust, s.Jet.IntakeLoss, s.Jet.NPSHAvailable, s.BatteryPower}
		}
		const dv = 1e-3
		down, zero, up := at(-dv), at(0), at(dv)
		for i := range zero {
			slope, bend := math.Abs(up[i]-down[i]), math.Abs(up[i]-2*zero[i]+down[i])
			if bend > 0.05*slope+1e-8*math.Abs(zero[i]) {
				t.Errorf("%v: figure %d bends by %g over a slope of %g at rest", demand, i, bend, slope)
			}
		}
	}
}

func BenchmarkState(b *testing.B) {
	d := assumed(b)
	m, err := d.Resolve()
	if err != nil {
		b.Fatal(err)
	}
	for _, k := range []struct {
		name string
		c    Condition
	}{
		{"battery power", Condition{Demand: BatteryPower}},
		{"shaft power", Condition{Demand: ShaftPower}},
		{"thrust", Condition{Demand: Thrust}},
		{"under way", Condition{Speed: 6, Demand: BatteryPower}},
	} {
		b.Run(k.name, func(b *testing.B) {
			b.ReportAllocs()
			i := 0
			for b.Loop() {
				c := k.c
				c.Amount = 1200 + 25*float64(i%100)
				if c.Demand == Thrust {
					c.Amount = 100 + 2*float64(i%100)
				}
				if _, err := m.Solve(c); err != nil {
					b.Fatal(err)
				}
				i++
			}
		})
	}
}

func BenchmarkResolve(b *testing.B) {
	d := assumed(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := d.Resolve(); err != nil {
			b.Fatal(err)
		}
	}
}

// A winding that cannot settle, or only above its bound, is shown hotter than the bound and
// does not keep the drive from having a state.
func TestWindingBeyondBound(t *testing.T) {
	d := assumed(t)
	d.Motor.WindingToJacket = 3
	s := solve(t, d, Condition{Demand: BatteryPower, Amount: 6000})
	bound := 130 + 273.15
	if s.Motor.WindingTemperature <= bound {
		t.Errorf("the winding is shown at %g K", s.Motor.WindingTemperature)
	}
	d.Motor.WindingToJacket = 0.01
	cool := solve(t, d, Condition{Demand: BatteryPower, Amount: 6000})
	if cool.Motor.WindingTemperature >= bound || cool.Motor.CopperLoss >= s.Motor.CopperLoss {
		t.Errorf("cooled well it is at %g K and loses %g W after %g W", cool.Motor.WindingTemperature, cool.Motor.CopperLoss, s.Motor.CopperLoss)
	}
}

// Bare aluminium of emissivity 0.2 at 80 °C in 7 °C surroundings shows about 27 °C at a setting of
// 0.95: common practice, no source, for the emissivity; COMPUTED from the radiation balance.
func TestBareSurfacePublished(t *testing.T) {
	surface, ok := BareSurface(27+273.15, 7+273.15)
	if !ok || math.Abs(surface-(80+273.15)) > 5 {
		t.Errorf("27 °C shown may be %.1f °C", surface-273.15)
	}
	if _, ok := BareSurface(150, 300); ok {
		t.Error("a reading that no surface can have made was taken")
	}
}
