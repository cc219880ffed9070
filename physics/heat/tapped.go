package heat

import "math"

// TapCost is what the coolant costs the drive.
type TapCost struct {
	ThrustLost   float64 `unit:"N" doc:"thrust that the tapped water would have given through the nozzle, less what it gives at its outlet"`
	MomentumDrag float64 `unit:"N" doc:"drag of taking that water along: it is brought to the craft's speed"`
	PowerLost    float64 `unit:"W" doc:"hydraulic power that the tapped water has had from the pump"`
}

// NewTapCost returns what tapped water costs, with flow in m³/s and speeds in m/s; aft is how much of
// the outlet's speed points aft.
//
//	ΔT = ρ·Q_c·(v_j − v_a),  D = ρ·Q_c·(V − v_a),  P = Q_c·Δp
//
//	Q_c  coolant flow, m³/s
//	v_j  jet speed; V craft speed; v_a part of the outlet's speed that points aft, m/s
//	Δp   pressure that the pump has given to it, Pa
//
// The first is against a pump that passes the same water, the second against a jet that has the same
// flow. Holds for water that meets no free stream on its way out.
//
// Source: own. Tests: TestTapCostExact.
func NewTapCost(density, flow float64, speeds TapSpeeds, pressure float64) TapCost {
	m := density * flow
	return TapCost{ThrustLost: m * (speeds.Jet - speeds.Aft), MomentumDrag: m * (speeds.Craft - speeds.Aft), PowerLost: flow * pressure}
}

// TapSpeeds are the speeds that a tap's cost goes by, m/s.
type TapSpeeds struct{ Jet, Craft, Aft float64 }

// WaterPath is the water in a hose as a conductor between live metal and the sea.
type WaterPath struct {
	Length      float64 `unit:"mm" doc:"length of the hose between the wet metal and the sea" range:"1 .. 50000" usual:"100 .. 3000" assume:"500 .. 1200" source:"own"`
	Bore        float64 `unit:"mm" doc:"bore of that hose" range:"0.5 .. 60" usual:"3 .. 20" assume:"6 .. 8" source:"own"`
	Resistivity float64 `unit:"Ω·m" doc:"resistivity of the water: sea 0.19 to 0.30, fresh 10 to 200, distilled above 10000" range:"0.1 .. 1000000" usual:"0.15 .. 1000" assume:"0.2 .. 0.25" source:"memory"`
}

// Resistance returns the resistance of the water column in Ω.
//
//	R = ϱ·L/A
//
//	ϱ  resistivity, Ω·m  [WaterPath.Resistivity]
//	L  length, m         [WaterPath.Length]
//	A  area of the bore, m²  [WaterPath.Bore]
//
// Holds for a full hose of a wall that does not conduct; the spread into the sea adds little.
//
// Source: own. Tests: TestWaterPathExact.
func (p WaterPath) Resistance() float64 { return p.Resistivity * p.Length / area(p.Bore) }

// Leak returns the current in A that a voltage in V drives through the water column, if insulation between
// the live part and the wet metal has failed. A caution, and no measure of what is safe: a swimmer at the outlet, a second
// way through the hull or a film of salt carry current as well, and no contact is safe in water.
//
//	I = U/R
//
//	U  voltage, V; R resistance of the water column, Ω
//
// Holds for steady current; electrodes take a volt or two off a low voltage.
//
// Source: own. Tests: TestWaterPathExact.
func (p WaterPath) Leak(voltage float64) float64 { return voltage / p.Resistance() }

// KeelPlate is a plate in the hull that gives the heat of a closed loop to the water outside.
type KeelPlate struct {
	Length        float64 `unit:"mm" doc:"length of the plate along the flow" range:"5 .. 5000" usual:"50 .. 1000" assume:"200 .. 400" source:"own"`
	Width         float64 `unit:"mm" doc:"width of the plate" range:"5 .. 5000" usual:"30 .. 600" assume:"80 .. 150" source:"own"`
	Thickness     float64 `unit:"mm" doc:"thickness of the plate" range:"0.1 .. 100" usual:"1 .. 15" assume:"2 .. 4" source:"own"`
	Conductivity  float64 `unit:"W/(m·K)" doc:"thermal conductivity of the plate" range:"0.1 .. 420" usual:"10 .. 400" assume:"130 .. 190" source:"incropera-2007"`
	StillTransfer float64 `unit:"W/(m²·K)" doc:"heat transfer to the water outside at rest" range:"10 .. 5000" usual:"100 .. 1000" assume:"150 .. 400" source:"memory"`
}

// Outside returns the thermal conductance from the plate's inner face to the water outside in W/K, at a craft speed in m/s.
//
//	G = A/(t/k + 1/h),  h = h_still + Nu·k_w/L
//
//	A  area; t thickness; L length of the plate, m², m
//	k, k_w  conductivity of plate and water, W/(m·K)
//	Nu  of a flat plate
//
// Holds for a plate flush with the hull whose boundary layer begins at its edge: ahead of it the hull's
// layer has grown, so that under way it is on the high side by up to a third.
//
// Source: incropera-2007. Tests: TestKeelPlateExact.
func (p KeelPlate) Outside(speed float64, w Fluid) float64 {
	nu := FlatPlate(w.Density*math.Abs(speed)*p.Length/w.Viscosity, w.Prandtl())
	h := p.StillTransfer + nu*w.Conductivity/p.Length
	return p.Length * p.Width / (p.Thickness/p.Conductivity + 1/h)
}
