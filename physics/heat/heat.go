// Package heat is the first network of heat: coolant tapped from the nozzle, the winding
// behind its jacket, the bridge on its plate. Temperatures are steady ones; a two-node model
// says how long the way there takes.
package heat

import (
	"math"

	"jetwright/quantity"
)

// Cooling is the water circuit: tapped ahead of the nozzle, through hoses, plate and jacket,
// and out to the side.
type Cooling struct {
	TapDiameter      float64           `unit:"mm" doc:"bore of the tap, or of the narrowest hose" range:"0.5 .. 40" usual:"2 .. 15" assume:"5 .. 8" source:"own"`
	LossCoefficient  float64           `unit:"1" doc:"loss of the whole circuit on the velocity head in the tap's bore" range:"1 .. 10000" usual:"3 .. 200" assume:"8 .. 40" source:"own"`
	First            string            `doc:"which part the coolant meets first" choices:"controller|motor" assume:"controller" source:"own"`
	PlateToCoolant   float64           `unit:"K/W" doc:"thermal resistance from the controller's plate to the coolant" range:"0.0001 .. 2" usual:"0.001 .. 0.2" assume:"0.005 .. 0.03" source:"own"`
	JacketToCoolant  float64           `unit:"K/W" doc:"thermal resistance from the motor's jacket to the coolant" range:"0.0001 .. 2" usual:"0.001 .. 0.2" assume:"0.005 .. 0.03" source:"own"`
	StillLoss        float64           `unit:"W/K" doc:"heat that motor and controller lose to their surroundings without any coolant, by difference of temperature" range:"0.01 .. 100" usual:"0.2 .. 20" assume:"1 .. 4" source:"own"`
	WaterResistivity quantity.Optional `unit:"Ω·m" doc:"resistivity of the coolant, for the current that it carries where insulation fails; by the kind of water if left out" range:"0.1 .. 1000000" usual:"0.15 .. 1000"`
	OutletLimit      float64           `unit:"°C" doc:"highest temperature of the coolant at its outlet" range:"20 .. 99" usual:"30 .. 80" assume:"60" source:"own"`
}

// State is the circuit at an operating point.
type State struct {
	CoolantFlow       float64 `unit:"L/min" doc:"coolant flow"`
	CoolantOutlet     float64 `unit:"°C" doc:"coolant at its outlet, steady"`
	BridgeTemperature float64 `unit:"°C" doc:"transistors of the controller, steady"`
	JacketTemperature float64 `unit:"°C" doc:"jacket of the motor, steady"`
}

// Flow returns the coolant flow in m³/s that a pressure at the tap drives.
//
//	Q = A·√(2·Δp/(ρ·K))
//
//	A   area of the tap's bore, m²        [Cooling.TapDiameter]
//	Δp  stagnation pressure at the tap, Pa
//	ρ   density, kg/m³
//	K   loss coefficient of the circuit, -  [Cooling.LossCoefficient]
//
// Holds for turbulent flow; narrow and long hoses are laminar at low power and pass less.
//
// Source: own. Tests: TestFlowExact.
func (c Cooling) Flow(pressure, density float64) float64 {
	return math.Pi / 4 * c.TapDiameter * c.TapDiameter * math.Sqrt(2*pressure/(density*c.LossCoefficient))
}

// Load is the heat that the circuit has to carry.
type Load struct {
	CoolantFlow   float64 // m³/s
	Carried       float64 // heat carried away by degree: coolant and still air together, W/K
	Inlet         float64 // coolant at the tap, K
	Motor         float64 // heat of the motor, W
	Controller    float64 // heat of the controller, W
	BridgeToPlate float64 // K/W
}

// Steady returns the steady temperatures of the circuit.
//
//	T_out = T_in + P/C,  T_part = T_in + P·(R + 1/(2C))
//
//	C  heat carried away by degree, W/K
//	P  heat of a part, W
//	R  thermal resistance between part and coolant, K/W
//
// Holds in the steady state; along a part the coolant is taken at the mean of inlet and outlet.
//
// Source: incropera-2007. Tests: TestSteadyExact.
func (c Cooling) Steady(l Load) State {
	s := Streams{
		Flow: l.CoolantFlow, Carried: l.Carried, PlateRate: l.Carried, JacketRate: l.Carried,
		PlateToCoolant: c.PlateToCoolant, JacketToCoolant: c.JacketToCoolant, ToJacket: 1,
	}
	if c.First == "motor" {
		s.ToJacket, s.ToPlate = 0, 1
	}
	return s.Steady(l)
}

// Limits appends the limit of the coolant.
func (c Cooling) Limits(dst []quantity.Limit, s State, water float64) []quantity.Limit {
	return append(dst, quantity.Limit{
		Name: "coolant at its outlet", Part: "cooling", Unit: "°C", Value: s.CoolantOutlet, Allowed: c.OutletLimit, Zero: water, Factor: 1,
		Why: "hoses soften, and steam stops the flow", Source: "own", Moves: []string{"cooling.tap_diameter", "cooling.loss_coefficient"},
	})
}

// SteadyWinding returns the steady temperature of a winding in K whose copper loss grows
// with it; ok is false where the loss grows faster than the cooling takes it away.
//
//	T = [T_c + R·(P + I²R_ref·(1 − α·T_ref))]/(1 − R·I²R_ref·α)
//
//	T_c     coolant, K
//	R       thermal resistance from winding to coolant, K/W
//	P       heat that does not depend on the temperature, W
//	I²R_ref copper loss at the reference temperature, W
//	α       coefficient of resistance at the reference temperature, 1/K
//
// Holds in the steady state.
//
// Source: own. Tests: TestSteadyWindingExact.
func SteadyWinding(w Winding) (temperature float64, ok bool) {
	gain := w.Resistance * w.CopperAtReference * w.Alpha
	if gain >= 1 {
		return 0, false
	}
	return (w.Coolant + w.Resistance*(w.OtherHeat+w.CopperAtReference*(1-w.Alpha*w.Reference))) / (1 - gain), true
}

// Winding is what SteadyWinding needs to know.
type Winding struct {
	Coolant           float64 // K
	Resistance        float64 // thermal, winding to coolant, K/W
	OtherHeat         float64 // W
	CopperAtReference float64 // W
	Alpha, Reference  float64 // 1/K, K
}

// TwoNode is a winding in its housing: two heat capacities and two thermal resistances.
type TwoNode struct {
	WindingCapacity, HousingCapacity   float64 // J/K
	WindingToHousing, HousingToAmbient float64 // K/W
	Resistance, ResistanceAt, Alpha    float64 // Ω at a temperature in K, 1/K
	Ambient                            float64 // K
}

// Step returns winding and housing temperatures in K a time step later, by Euler's explicit step.
//
//	dT_w/dt = [I²R·(1 + α(T_w − T_R)) − (T_w − T_h)/R₁]/C_w
//	dT_h/dt = [(T_w − T_h)/R₁ − (T_h − T_amb)/R₂]/C_h
//
//	I        current through the resistance, A
//	R₁, R₂   winding to housing, housing to ambient, K/W
//	C_w, C_h heat capacities, J/K
//
// Holds for steps well below the winding's time constant R₁·C_w; above twice of it the step is unstable.
//
// Source: johnson-cmu. Tests: TestTwoNodePublished.
func (n TwoNode) Step(winding, housing, current, dt float64) (float64, float64) {
	q := (winding - housing) / n.WindingToHousing
	heat := current * current * n.Resistance * (1 + n.Alpha*(winding-n.ResistanceAt))
	return winding + dt*(heat-q)/n.WindingCapacity, housing + dt*(q-(housing-n.Ambient)/n.HousingToAmbient)/n.HousingCapacity
}

// ContinuousCurrent returns the current in A at which the winding settles at a temperature in K.
//
//	I = √{(T − T_amb)/[(R₁ + R₂)·R·(1 + α(T − T_R))]}
//
//	T  winding temperature, K (above ambient)
//
// Holds in the steady state.
//
// Source: johnson-cmu. Tests: TestTwoNodePublished.
func (n TwoNode) ContinuousCurrent(winding float64) float64 {
	return math.Sqrt((winding - n.Ambient) / ((n.WindingToHousing + n.HousingToAmbient) * n.Resistance * (1 + n.Alpha*(winding-n.ResistanceAt))))
}
