package house

import (
	"fmt"
	"math"
	"testing"

	"jetwright/bench"
	"jetwright/physics/craft"
	"jetwright/physics/electric"
	"jetwright/physics/heat"
	"jetwright/physics/jet"
	"jetwright/quantity"
)

// sizes are the factors by which the metre, the kilogram, the second, the ampere and the kelvin
// are changed.
type sizes struct{ metre, kilogram, second, ampere, kelvin float64 }

func (s sizes) of(d quantity.Dim) float64 {
	return math.Pow(s.metre, float64(d.Length)) * math.Pow(s.kilogram, float64(d.Mass)) * math.Pow(s.second, float64(d.Time)) *
		math.Pow(s.ampere, float64(d.Current)) * math.Pow(s.kelvin, float64(d.Temperature))
}

// rescale multiplies every number of a tagged struct by the factor of its dimension.
func rescale(t *testing.T, ptr any, s sizes) {
	t.Helper()
	schema, err := quantity.SchemaOf(ptr)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range schema.Fields() {
		if f.Kind != quantity.KindNumber && f.Kind != quantity.KindOptional {
			continue
		}
		if x, ok := schema.Get(ptr, f); ok {
			schema.Set(ptr, f, x*s.of(f.Unit.Dim))
		}
	}
}

// scaled is a formula, or a whole part, whose inputs and outputs carry units. Ask it in other
// units and every output has to follow its own.
type scaled struct {
	name string
	ask  func(s *sizes) any // pointer to a tagged struct of outputs; with s its inputs are rescaled
	rest float64            // relative, that a search may leave; 0 for formulas
}

// waterInputs are the parts of a water path.
type waterInputs struct {
	Intake   jet.Intake
	Impeller jet.Impeller
	Nozzle   jet.Nozzle
	Medium   jet.Medium
	Speed    float64 `unit:"m/s" doc:"speed"`
	Height   float64 `unit:"m" doc:"height of the shaft"`
	Rotor    float64 `unit:"rad/s" doc:"rotor speed"`
}

func water(t *testing.T, speed float64, s *sizes) any {
	in := waterInputs{
		Intake:   jet.Intake{HullAhead: 0.8, Width: quantity.Some(0.09), ThroatArea: quantity.Some(0.007), ThroatLoss: 0.3, IngestedLoss: 0.2, DuctLoss: 0.05},
		Impeller: jet.Impeller{Diameter: 0.09, HubDiameter: 0.04, SuctionSpecificSpeed3: 3, CavitationExponent: 5},
		Nozzle:   jet.Nozzle{Diameter: 0.058, Loss: 0.03, Contraction: 0.98, Angle: 0.1, HeightOffset: 0.05},
		Medium:   jet.Medium{Density: 1000, Viscosity: 1.1e-6, VapourPressure: 1500, AirPressure: 1e5, Gravity: 9.8},
		Speed:    speed, Height: -0.02, Rotor: 380,
	}
	if s != nil {
		rescale(t, &in, *s)
	}
	p := jet.NewPath(in.Intake, in.Impeller, jet.Stator{}, in.Nozzle, in.Medium)
	p.CoolantShare = 0.01
	p.Pump = &jet.EstimatedPump{FlowCoefficient: 0.11, HeadCoefficient: 0.045, ShutoffRatio: 2.1, CurveExponent: 1.4, Efficiency: 0.6}
	w := p.Way(in.Speed, in.Height)
	v, reason := p.Balance(&w, in.Rotor, 0)
	if reason != jet.Solved {
		t.Fatal(reason)
	}
	st, reason := p.State(&w, in.Rotor, v)
	if reason != jet.Solved {
		t.Fatal(reason)
	}
	return &st
}

func motor(t *testing.T, s *sizes) any {
	in := struct {
		Motor   electric.Motor
		Torque  float64 `unit:"N·m" doc:"torque"`
		Speed   float64 `unit:"rad/s" doc:"speed"`
		Winding float64 `unit:"K" doc:"winding"`
		Coolant float64 `unit:"K" doc:"coolant"`
	}{
		Motor:  electric.Motor{SpeedConstant: quantity.Some(10), WindingResistance: 0.01, ResistanceTemperature: 298, NoLoadCurrent: 4, NoLoadVoltage: 30, LinearShare: 0.4, MagnetRiseShare: 0.5},
		Torque: 8, Speed: 390, Winding: 350, Coolant: 290,
	}
	if s != nil {
		rescale(t, &in, *s)
	}
	c, err := electric.NewChain(in.Motor, electric.Controller{}, electric.Battery{Series: 10, Parallel: 1, ColdFactor: 1, Charge: 0.5})
	if err != nil {
		t.Fatal(err)
	}
	st := c.Motor(in.Torque, in.Speed, in.Winding, in.Coolant)
	return &st
}

type bridge struct {
	Resistance float64 `unit:"Ω" doc:"resistance"`
	Current    float64 `unit:"A" doc:"current"`
	Frequency  float64 `unit:"Hz" doc:"frequency"`
	Voltage    float64 `unit:"V" doc:"voltage"`
	Time       float64 `unit:"s" doc:"time"`
	Fixed      float64 `unit:"W" doc:"power"`
	ByVolt     float64 `unit:"A" doc:"power by volt"`
}

type bridgeOut struct {
	Conduction float64 `unit:"W" doc:"loss"`
	Switching  float64 `unit:"W" doc:"loss"`
	Voltage    float64 `unit:"V" doc:"voltage"`
}

func bridgeCase(t *testing.T, s *sizes) any {
	in := bridge{0.01, 80, 2e4, 50, 2e-7, 800, 0.5}
	if s != nil {
		rescale(t, &in, *s)
	}
	v, ok := electric.LoadVoltage(in.Voltage, in.Resistance, in.Fixed, in.ByVolt)
	if !ok {
		t.Fatal("no voltage")
	}
	return &bridgeOut{electric.ConductionLoss(in.Resistance, in.Current), electric.SwitchingLoss(in.Frequency, in.Voltage, in.Current, in.Time), v}
}

type moreIn struct {
	Radius      float64 `unit:"m" doc:"rotor"`
	Gap         float64 `unit:"m" doc:"gap"`
	Length      float64 `unit:"m" doc:"length"`
	Density     float64 `unit:"kg/m³" doc:"density"`
	Viscosity   float64 `unit:"m²/s" doc:"viscosity"`
	Speed       float64 `unit:"rad/s" doc:"speed"`
	Flux        float64 `unit:"V·s" doc:"flux"`
	Ohms        float64 `unit:"Ω" doc:"resistance"`
	Henry       float64 `unit:"H" doc:"inductance"`
	Torque      float64 `unit:"N·m" doc:"torque"`
	Volts       float64 `unit:"V" doc:"voltage"`
	Amps        float64 `unit:"A" doc:"current"`
	Frequency   float64 `unit:"Hz" doc:"frequency"`
	Dead        float64 `unit:"s" doc:"dead time"`
	Capacitance float64 `unit:"µF" doc:"capacitance"`
	Power       float64 `unit:"W" doc:"power"`
	Surround    float64 `unit:"K" doc:"temperature"`
	Thermal     float64 `unit:"K/W" doc:"thermal resistance"`
}

type moreOut struct {
	Drag    float64 `unit:"N·m" doc:"torque of the gap"`
	Direct  float64 `unit:"A" doc:"weakening current"`
	Copper  float64 `unit:"W" doc:"copper loss"`
	Ripple  float64 `unit:"A" doc:"ripple"`
	Core    float64 `unit:"K" doc:"capacitor"`
	Dead    float64 `unit:"W" doc:"dead time's loss"`
	Energy  float64 `unit:"J" doc:"energy of a pre-charge"`
	Time    float64 `unit:"s" doc:"time of a pre-charge"`
	Most    float64 `unit:"W" doc:"most power"`
	Current float64 `unit:"A" doc:"current of a power"`
}

// moreCase is the gap, weakening, capacitors and the battery at constant power.
func moreCase(t *testing.T, s *sizes) any {
	in := moreIn{0.04, 0.002, 0.06, 1000, 1e-6, 400, 0.006, 0.006, 3e-5, 5, 14, 1e4, 2e4, 8e-7, 3e-3, 2000, 300, 1.5}
	if s != nil {
		rescale(t, &in, *s)
	}
	m := electric.SurfaceMachine{Flux: in.Flux, Resistance: in.Ohms, Inductance: in.Henry, PolePairs: 7}
	a, why := m.Run(in.Torque, in.Speed, in.Volts, in.Amps)
	if why != electric.Reached || !a.Weakened {
		t.Fatal(why)
	}
	ripple := electric.CapacitorRipple(a.Current, 0.8, 0.9)
	charge := electric.PreCharge{Voltage: in.Volts, Capacitance: in.Capacitance, Resistance: in.Ohms}.Charge(0.05)
	_, amps, ok := electric.ConstantPower(in.Volts, in.Ohms, in.Power)
	if !ok {
		t.Fatal("no state")
	}
	return &moreOut{
		Drag:   electric.Gap{Radius: in.Radius, Width: in.Gap, Length: in.Length}.Drag(in.Density, in.Viscosity, in.Speed).Torque,
		Direct: a.Direct, Copper: a.CopperLoss, Ripple: ripple,
		Core: electric.CapacitorCore(in.Surround, ripple, in.Ohms, in.Thermal), Dead: electric.DeadTimeLoss(in.Frequency, in.Volts, a.Current, in.Dead),
		Energy: charge.Energy, Time: charge.Time, Most: electric.MostPower(in.Volts, in.Ohms), Current: amps,
	}
}

type heatIn struct {
	Cooling    heat.Cooling
	Pressure   float64 `unit:"Pa" doc:"pressure"`
	Density    float64 `unit:"kg/m³" doc:"density"`
	Carried    float64 `unit:"W/K" doc:"carried"`
	Inlet      float64 `unit:"K" doc:"inlet"`
	Motor      float64 `unit:"W" doc:"motor"`
	Controller float64 `unit:"W" doc:"controller"`
	Bridge     float64 `unit:"K/W" doc:"bridge"`
	Copper     float64 `unit:"W" doc:"copper loss"`
	Reference  float64 `unit:"K" doc:"reference"`
	Tolerance  float64 `unit:"K" doc:"one over alpha"`
}

type heatOut struct {
	State   heat.State
	Winding float64 `unit:"K" doc:"winding"`
}

func heatCase(t *testing.T, s *sizes) any {
	in := heatIn{heat.Cooling{TapDiameter: 0.006, LossCoefficient: 20, PlateToCoolant: 0.01, JacketToCoolant: 0.02}, 5e4, 1000, 90, 288, 300, 80, 0.05, 200, 298, 255}
	if s != nil {
		rescale(t, &in, *s)
	}
	w, ok := heat.SteadyWinding(heat.Winding{Coolant: in.Inlet, Resistance: in.Bridge, OtherHeat: in.Motor, CopperAtReference: in.Copper, Alpha: 1 / in.Tolerance, Reference: in.Reference})
	if !ok {
		t.Fatal("no steady temperature")
	}
	return &heatOut{in.Cooling.Steady(heat.Load{CoolantFlow: in.Cooling.Flow(in.Pressure, in.Density), Carried: in.Carried, Inlet: in.Inlet, Motor: in.Motor, Controller: in.Controller, BridgeToPlate: in.Bridge}), w}
}

type ladderIn struct {
	Thrust   float64 `unit:"N" doc:"thrust"`
	Power    float64 `unit:"W" doc:"power"`
	Speed    float64 `unit:"rad/s" doc:"speed"`
	Current  float64 `unit:"A" doc:"current"`
	Diameter float64 `unit:"m" doc:"diameter"`
	Area     float64 `unit:"m²" doc:"area"`
	Density  float64 `unit:"kg/m³" doc:"density"`
}

type ladderOut struct {
	bench.Coefficients
	Thrust float64 `unit:"N" doc:"thrust back" key:"static_thrust"`
}

func ladderCase(t *testing.T, s *sizes) any {
	in := ladderIn{300, 3500, 370, 90, 0.09, 0.0027, 1000}
	if s != nil {
		rescale(t, &in, *s)
	}
	p := bench.Plateau{Figures: []bench.Figure{
		{Channel: bench.Thrust, Value: in.Thrust},
		{Channel: bench.Power, Value: in.Power},
		{Channel: bench.RotorSpeed, Value: in.Speed},
		{Channel: bench.PhaseCurrent, Value: in.Current},
	}}
	c := bench.Similarity(p, in.Diameter, in.Area, in.Density)
	return &ladderOut{c, jet.StaticThrust(in.Density, in.Area, c.StaticEfficiency.Value, in.Power, 0)}
}

// planingIn is a hull that planes.
type planingIn struct {
	Craft  craft.Craft
	Medium craft.Medium
	Speed  float64 `unit:"m/s" doc:"speed"`
	Air    float64 `unit:"N" doc:"drag of the air"`
}

func planingCase(t *testing.T, s *sizes) any {
	in := planingIn{
		Craft: craft.Craft{
			Mass: quantity.Some(40), RiderMass: quantity.Some(80), Length: quantity.Some(2), Beam: quantity.Some(0.6), Deadrise: 0.2, GravityCentre: quantity.Some(0.8), GravityHeight: 0.12,
			ThrustHeight: 0.04, ThrustAngle: 0.05, EntranceAngle: 0.4, TransomRatio: 0.9, Roughness: 3e-5, DragArea: quantity.Some(0.84),
		},
		Medium: craft.Medium{Density: 1000, Viscosity: 1.1e-6, AirDensity: 1.2, Gravity: 9.8}, Speed: 8, Air: 30,
	}
	if s != nil {
		rescale(t, &in, *s)
	}
	h, r := craft.NewHull(in.Craft, in.Medium)
	if r != craft.Solved {
		t.Fatal(r)
	}
	p, ok := h.Plane(in.Speed, in.Air)
	if !ok {
		t.Fatal("no trim")
	}
	return &p
}

// Formulas whose constants carry units are exempt, each for its reason.
var exempt = map[string]string{
	"water: densities, viscosities, vapour and air pressure": "fits to tables in kelvin and pascal",
	"electric.OpenCircuitVoltage":                            "a table of cell voltages",
	"electric.CopperAlpha":                                   "copper's own coefficient, 0.00393/K at 20 °C",
	"electric.Battery.Resistance":                            "the cold factor's 18 K",
	"electric.Cable":                                         "copper's resistivity and coefficient, and air",
	"heat.InfraredReading":                                   "a sum of fourth powers, which scales by itself; its temperatures are points",
	"heat: natural convection, films of still air":           "a hundredth of a kelvin, and air",
	"strength.Endurance":                                     "Shigley's fits of surface and size in MPa and mm",
	"strength: tables":                                       "materials, keys, threads, seals and ball bearings by size",
	"craft.PrePlaning":                                       "the friction of its hulls of 100,000 lb is taken off",
	"jet.AttainableEfficiency":                               "statistics of pumps with a flow in m³/s",
}

// TestUnitsHeldByScaling changes the sizes of the units: a formula that forgot a density, or has a
// typed-in gravity, gives outputs that do not follow.
func TestUnitsHeldByScaling(t *testing.T) {
	cases := []scaled{
		{"water path at rest", func(s *sizes) any { return water(t, 0, s) }, 0},
		{"water path under way", func(s *sizes) any { return water(t, 5, s) }, 0},
		{"motor", func(s *sizes) any { return motor(t, s) }, 0},
		{"bridge and battery", func(s *sizes) any { return bridgeCase(t, s) }, 0},
		{"gap, weakening, capacitors, constant power", func(s *sizes) any { return moreCase(t, s) }, 0},
		{"heat", func(s *sizes) any { return heatCase(t, s) }, 0},
		{"planing hull", func(s *sizes) any { return planingCase(t, s) }, 1e-8},
		{"similarity", func(s *sizes) any { return ladderCase(t, s) }, 0},
		{"coolant's circuit", func(s *sizes) any { return circuitIn(t, s) }, 1e-7},
		{"shaft, blades and casing", func(s *sizes) any { return strengthCase(t, s) }, 1e-7},
		{"a node of heat", func(s *sizes) any { return nodeIn(t, s) }, 1e-7},
	}
	for _, c := range cases {
		for i, s := range []sizes{{1.7, 1, 1, 1, 1}, {1, 0.6, 1, 1, 1}, {1, 1, 1.3, 1, 1}, {1, 1, 1, 2.1, 1}, {1, 1, 1, 1, 1.9}, {1.3, 2.2, 0.7, 0.4, 1.2}} {
			if c.name == "motor" {
				s.kelvin = 1 // copper's coefficient is exempt
			}
			want, got := c.ask(nil), c.ask(&s)
			rescale(t, want, s)
			schema, err := quantity.SchemaOf(want)
			if err != nil {
				t.Fatal(err)
			}
			n := 0
			for _, f := range schema.Fields() {
				w, ok := schema.Get(want, f)
				g, _ := schema.Get(got, f)
				if !ok {
					continue
				}
				n++
				if math.Abs(g-w) > math.Max(1e-9, c.rest)*math.Abs(w)+1e-13*s.of(f.Unit.Dim) {
					t.Errorf("%s, sizes %d: %s is %g, its unit says %g", c.name, i, f.Path, g, w)
				}
			}
			if n == 0 {
				t.Fatalf("%s has no outputs", c.name)
			}
		}
	}
	for name, why := range exempt {
		if why == "" {
			t.Error(fmt.Errorf("%s is exempt without a reason", name))
		}
	}
}
