// Package jet is the water path of the drive in one dimension: hull boundary layer,
// intake, pump, nozzle, jet. Stations follow the ITTC waterjet procedures: 0 free
// stream, 1 ahead of the intake, 2 intake throat, 3 pump inlet, 4 between impeller and
// stator, 5 pump outlet, 6 nozzle outlet, 7 vena contracta.
//
// One set of formulas serves rest and way; nothing in it asks whether the craft moves.
// The only switch is physical: a nozzle above the water has to lift its jet there, a
// nozzle below it gets no head for free, since its jet leaves against the water's own
// pressure.
package jet

import "jetwright/quantity"

// Intake takes the water in through the hull and leads it to the pump. Stations 1 to 3.
type Intake struct {
	HullAhead       float64           `unit:"m" doc:"wetted hull length ahead of the intake, over which the boundary layer grows" range:"0 .. 20" usual:"0.05 .. 6" assume:"0.5 .. 1.2" source:"own"`
	Width           quantity.Optional `unit:"mm" doc:"clear width of the intake opening; the impeller diameter if left out" range:"5 .. 2000" usual:"40 .. 400"`
	ThroatArea      quantity.Optional `unit:"cm²" doc:"area of the intake throat, square to the flow at the aft lip" range:"1 .. 10000" usual:"20 .. 600"`
	ThroatAreaRatio float64           `unit:"1" doc:"throat area over pump inlet pipe area, used where no throat area is typed" range:"0.3 .. 4" usual:"0.6 .. 1.8" assume:"0.9 .. 1.15" source:"own"`
	ThroatLoss      float64           `unit:"1" doc:"loss coefficient K on the square of throat velocity less ingested velocity" range:"0 .. 3" usual:"0.02 .. 1" assume:"0.1 .. 0.6" source:"own"`
	IngestedLoss    float64           `unit:"1" doc:"loss coefficient ε on the ingested velocity head" range:"0 .. 1" usual:"0.02 .. 0.5" assume:"0.10 .. 0.30" source:"bulten-2006"`
	DuctLoss        float64           `unit:"1" doc:"loss coefficient of duct and shaft on the pump inlet velocity head" range:"0 .. 5" usual:"0.01 .. 1" assume:"0.03 .. 0.12" source:"own"`
	RampAngle       float64           `unit:"deg" doc:"angle between hull and intake ramp" range:"5 .. 90" usual:"15 .. 45" assume:"25 .. 35" source:"own"`
	GridBar         quantity.Optional `unit:"mm" doc:"width of the bars of the grid across the intake, seen by the water; no grid if left out" range:"0.3 .. 60" usual:"2 .. 12"`
	GridGap         quantity.Optional `unit:"mm" doc:"clear gap between the bars of the grid" range:"2 .. 500" usual:"8 .. 60"`
	GridForm        string            `doc:"section of the grid's bars: square edges, round nose, round, or round nose and faired tail" choices:"square|round nose|round|faired" assume:"square" source:"baselt-2022"`
	Length          float64           `unit:"mm" doc:"length of the intake from ramp tangency to pump inlet" range:"20 .. 5000" usual:"100 .. 1200" assume:"250 .. 400" source:"own"`
}

// Impeller is the rotor and with it the pump, from station 3 to station 5.
type Impeller struct {
	Diameter              float64           `unit:"mm" doc:"impeller tip diameter" range:"10 .. 1000" usual:"50 .. 300"`
	HubDiameter           float64           `unit:"mm" doc:"hub diameter at the impeller" range:"2 .. 900" usual:"15 .. 150"`
	Blades                int               `unit:"1" doc:"number of impeller blades" range:"1 .. 24" usual:"2 .. 8" assume:"4" source:"own"`
	Length                float64           `unit:"mm" doc:"axial length of the impeller" range:"5 .. 1000" usual:"20 .. 200" assume:"40 .. 80" source:"own"`
	TipGap                quantity.Optional `unit:"mm" doc:"radial gap between blade tip and duct" range:"0 .. 20" usual:"0.1 .. 2"`
	Grade                 string            `doc:"where the pump curve comes from; blades where blade sections are typed and no grade is" choices:"estimated|table|blades" assume:"estimated" source:"own"`
	HeadCoefficient       float64           `unit:"1" doc:"head coefficient ψ = gH/(ΩD)² at the design point" range:"0.005 .. 0.3" usual:"0.02 .. 0.12" assume:"0.035 .. 0.060" source:"own"`
	ShutoffRatio          float64           `unit:"1" doc:"head at no flow over head at the design point" range:"1.05 .. 5" usual:"1.2 .. 3.5" assume:"1.6 .. 2.6" source:"own"`
	CurveExponent         float64           `unit:"1" doc:"exponent of the head curve over flow" range:"0.5 .. 4" usual:"0.8 .. 3" assume:"1 .. 2" source:"own"`
	DesignFlowRatio       float64           `unit:"1" doc:"flow of best efficiency over the duty's flow" range:"0.4 .. 2" usual:"0.7 .. 1.4" assume:"0.9 .. 1.1" source:"own"`
	Efficiency            float64           `unit:"1" doc:"best pump efficiency, shaft to total head" range:"0.05 .. 0.95" usual:"0.3 .. 0.9" assume:"0.45 .. 0.78" source:"own"`
	InstalledFactor       float64           `unit:"1" doc:"installed over isolated pump efficiency: uneven inflow behind the intake" range:"0.3 .. 1.05" usual:"0.8 .. 1" assume:"0.93 .. 1.0" source:"own"`
	SuctionSpecificSpeed3 float64           `unit:"1" doc:"suction specific speed S at which the head is down 3 %" range:"0.5 .. 1000" usual:"2 .. 1000" assume:"3.0 .. 5.0" source:"own"`
	CavitationExponent    float64           `unit:"1" doc:"exponent of the loss of head over suction specific speed" range:"1 .. 40" usual:"2 .. 20" assume:"4 .. 12" source:"own"`
	TableRotorSpeed       quantity.Optional `unit:"rpm" doc:"rotor speed at which the pump table holds" range:"1 .. 100000" usual:"500 .. 20000"`
	TableFlow             []float64         `unit:"L/s" doc:"pump table: flow, rising" range:"0 .. 10000"`
	TableHead             []float64         `unit:"m" doc:"pump table: head between stations 3 and 5" range:"-1000 .. 1000"`
	TablePower            []float64         `unit:"W" doc:"pump table: shaft power at the impeller" range:"0 .. 1e7"`
	TableFrom             string            `doc:"where the pump table comes from, in words"`
}

// Stator takes the swirl out behind the impeller. Its losses are part of the pump's.
type Stator struct {
	OuterDiameter quantity.Optional `unit:"mm" doc:"outer diameter at the pump outlet; the impeller diameter if left out" range:"10 .. 1000" usual:"50 .. 300"`
	Blades        int               `unit:"1" doc:"number of stator blades" range:"0 .. 40" usual:"3 .. 13" assume:"7" source:"own"`
	Length        float64           `unit:"mm" doc:"axial length of the stator" range:"5 .. 1000" usual:"15 .. 200" assume:"30 .. 70" source:"own"`
}

// Nozzle turns pressure into speed. Station 5 is its inlet, 6 its outlet, 7 the narrowest jet.
type Nozzle struct {
	Diameter     float64 `unit:"mm" doc:"bore at the outlet" range:"5 .. 800" usual:"30 .. 250"`
	Loss         float64 `unit:"1" doc:"head lost over velocity head of the jet" range:"0 .. 1" usual:"0.005 .. 0.15" assume:"0.02 .. 0.05" source:"bulten-2006"`
	Contraction  float64 `unit:"1" doc:"area of the jet at its narrowest over area of the outlet" range:"0.5 .. 1" usual:"0.75 .. 1" assume:"0.95 .. 1.00" source:"own"`
	Length       float64 `unit:"mm" doc:"length from pump outlet to nozzle outlet" range:"5 .. 2000" usual:"30 .. 400" assume:"60 .. 120" source:"own"`
	Angle        float64 `unit:"deg" doc:"angle between the jet and the direction of travel" range:"-45 .. 45" usual:"-15 .. 15" assume:"0" source:"own"`
	HeightOffset float64 `unit:"mm" doc:"height of the nozzle centre above the shaft line" range:"-1000 .. 1000" usual:"-100 .. 100" assume:"0" source:"own"`
}
