// Package drive couples the parts: water path, shaft, motor, controller, battery and
// cooling are solved as one. A Drive and a Condition go in, a State comes out, or a named
// reason why there is none.
package drive

import (
	"jetwright/physics/blade"
	"jetwright/physics/craft"
	"jetwright/physics/electric"
	"jetwright/physics/heat"
	"jetwright/physics/jet"
	"jetwright/physics/strength"
	"jetwright/physics/water"
	"jetwright/quantity"
)

// Drive is one definite machine in its water: plain SI numbers, every one known. Its
// sections and fields are the sections and keys of the design file.
type Drive struct {
	Duty       Duty
	Intake     jet.Intake
	Impeller   jet.Impeller
	Stator     jet.Stator
	Nozzle     jet.Nozzle
	Shaft      Shaft
	Motor      electric.Motor
	Controller electric.Controller
	Battery    electric.Battery
	Cooling    heat.Cooling
	Coolant    []heat.Part `key:"-"` // the coolant's way part by part; none where [cooling] alone says it
	Craft      craft.Craft
	Stand      Stand
	Water      water.Water
	Limits     Bounds
	Thermal    heat.Build
	Elements   []HeatElement `key:"-"` // of the network of heat, in the place of the default's

	// The blades; read where the impeller's grade says so.
	Channel      blade.Channel
	ImpellerRow  blade.Row `section:"impeller"`
	ImpellerTip  blade.Tip `section:"impeller"`
	StatorRow    blade.Row `section:"stator"`
	StatorBladed bool      `key:"-"` // the stator has sections, too
	Terms        blade.Terms

	// How the parts are made, for the export of shapes.
	HubMaking    HubMaking    `section:"impeller"`
	StatorMaking StatorMaking `section:"stator"`
	NozzleMaking NozzleMaking `section:"nozzle"`
	DuctMaking   DuctMaking   `section:"duct"`
	FlangeMaking FlangeMaking `section:"flange"`
	Process      Process

	// What holds it together; only limits depend on it.
	ShaftBuild    strength.Shaft    `section:"shaft"`
	ImpellerBuild strength.Impeller `section:"impeller"`
	StatorBuild   strength.Stator   `section:"stator"`
	Housing       strength.Housing

	// Calibration is what measurement has taught; a drive as typed has none of it.
	Calibration Calibration `key:"-"`

	laid *laidCoolants // tables of the coolant that were worked out before; nil keeps none
	maps *bladeMaps    // of its blades that were made before; nil keeps none
}

// Calibration moves the drive by what was measured, as logarithms of factors: 0 is as
// designed. They act after the pump has been placed at its design point.
type Calibration struct {
	LnHead           float64 // on the pump's head coefficient at a flow coefficient
	LnPower          float64 // on the power it takes for the same hydraulic power
	LnTorqueConstant float64 // on the motor's torque per ampere
}

// Duty is what the drive is designed for: the condition at which the pump has its design
// point, and the condition that the limits are judged at.
type Duty struct {
	Speed      float64           `unit:"m/s" doc:"speed through the water at the design point; 0 is at rest" range:"0 .. 40" usual:"0 .. 20" assume:"0" source:"own"`
	Thrust     quantity.Optional `unit:"N" doc:"gross thrust at the design point" range:"1 .. 50000" usual:"30 .. 5000"`
	Power      quantity.Optional `unit:"W" doc:"power at the design point, at the place that power_place names" range:"10 .. 200000" usual:"300 .. 30000"`
	PowerPlace string            `doc:"where the power is meant: at the battery's terminals, at the controller's output, or at the motor shaft" choices:"battery|controller|shaft"`
	RotorSpeed quantity.Optional `unit:"rpm" doc:"rotor speed at the design point; from the head coefficient if left out" range:"50 .. 60000" usual:"1000 .. 12000"`
	TopSpeed   quantity.Optional `unit:"m/s" doc:"highest craft speed that predictions go up to" range:"0.1 .. 40" usual:"2 .. 20"`
}

// Shaft carries the power from motor to impeller.
type Shaft struct {
	SealTorque          float64 `unit:"N·m" doc:"drag of seals and wet bearings, as a torque at the impeller shaft" range:"0 .. 50" usual:"0 .. 2" assume:"0.05 .. 0.30" source:"own"`
	Reduction           float64 `unit:"1" doc:"motor revolutions per impeller revolution" range:"0.1 .. 20" usual:"0.5 .. 6" assume:"1" source:"own"`
	ReductionEfficiency float64 `unit:"1" doc:"efficiency of the reduction; not used where the reduction is 1" range:"0.3 .. 1" usual:"0.85 .. 1" assume:"0.94 .. 0.98" source:"own"`
	Length              float64 `unit:"mm" doc:"shaft length between motor and impeller" range:"10 .. 5000" usual:"50 .. 1200" assume:"200 .. 350" source:"own"`
	Diameter            float64 `unit:"mm" doc:"shaft diameter" range:"2 .. 200" usual:"6 .. 50" assume:"10 .. 16" source:"own"`
	Height              float64 `unit:"mm" doc:"height of the shaft line above the still waterline on the craft, negative below" range:"-5000 .. 2000" usual:"-600 .. 200" assume:"-80 .. 20" source:"own"`
}

// Stand is the thrust stand: a carriage on rollers, or an arm on a pivot, that pulls a scale by
// a rope. Heights are above the ground that the stand's base stands on.
type Stand struct {
	Water          string            `doc:"where the stand stands: tub, pool or open water" choices:"tub|pool|open" assume:"tub" source:"own"`
	ShaftHeight    float64           `unit:"mm" doc:"height of the shaft line above the water on the stand, negative below" range:"-5000 .. 500" usual:"-800 .. 0" assume:"-250 .. -100" source:"own"`
	ScaleRange     quantity.Optional `unit:"kgf" doc:"full scale of the scale" range:"0.1 .. 100000" usual:"10 .. 1000"`
	ScaleDivision  quantity.Optional `unit:"kgf" doc:"division of the scale's display" range:"0.00001 .. 100" usual:"0.005 .. 1"`
	CarriageLoad   float64           `unit:"kg" doc:"mass that the carriage's rollers carry" range:"0 .. 5000" usual:"5 .. 500" assume:"30 .. 80" source:"own"`
	RopeStrength   quantity.Optional `unit:"kgf" doc:"breaking load of the rope, as its maker states it, without knots" range:"1 .. 1000000" usual:"100 .. 20000"`
	Kind           string            `doc:"how the drive hangs: on a carriage with rollers, or on an arm that swings about a pivot" choices:"carriage|pivot" assume:"carriage" source:"own"`
	Anchor         string            `doc:"what holds the far end of rope and scale: the stand's own frame, or the ground, a wall or a post" choices:"stand|ground" assume:"stand" source:"own"`
	JetHeight      quantity.Optional `unit:"mm" doc:"height of the jet's axis above the ground under the base, negative below it; in a tub on the same ground it follows from water_depth and shaft_height" range:"-5000 .. 5000" usual:"-1500 .. 1500"`
	RopeHeight     quantity.Optional `unit:"mm" doc:"height of the rope above the ground under the base, where it is tied to carriage or arm" range:"-2000 .. 10000" usual:"0 .. 2500"`
	RopeAngle      quantity.Optional `unit:"deg" doc:"rise of the rope from carriage or arm to its far end, against the horizontal" range:"-60 .. 60" usual:"-10 .. 10"`
	PivotHeight    quantity.Optional `unit:"mm" doc:"height of the arm's pivot above the ground under the base" range:"-2000 .. 10000" usual:"0 .. 3000"`
	Ballast        quantity.Optional `unit:"kg" doc:"mass of the stand with its ballast, without what rollers or pivot carry" range:"0 .. 50000" usual:"20 .. 2000"`
	BaseLength     quantity.Optional `unit:"mm" doc:"length of the base along the jet, between its outermost feet" range:"50 .. 20000" usual:"400 .. 4000"`
	BaseWidth      quantity.Optional `unit:"mm" doc:"width of the base across the jet, between its outermost feet" range:"50 .. 20000" usual:"300 .. 3000"`
	FrictionPair   string            `doc:"what the feet stand on; wet, since beside water it will be" choices:"rubber on wet concrete|wood on wet concrete|steel on wet concrete|wood on wet wood|steel on wet steel"`
	Friction       quantity.Optional `unit:"1" doc:"friction coefficient of the feet, as measured by pulling the stand; goes before friction_pair" range:"0.01 .. 2" usual:"0.1 .. 0.9"`
	TetherStrength quantity.Optional `unit:"kgf" doc:"breaking load of the second, slack tether, as its maker states it, without knots" range:"1 .. 1000000" usual:"100 .. 20000"`
	TetherSlack    quantity.Optional `unit:"mm" doc:"way that carriage or arm runs before the second tether is taut" range:"0 .. 5000" usual:"5 .. 300"`
	TetherLength   quantity.Optional `unit:"mm" doc:"length of the second tether" range:"50 .. 50000" usual:"300 .. 10000"`
	WaterVolume    quantity.Optional `unit:"L" doc:"water in the tub or pool" range:"10 .. 100000000" usual:"200 .. 500000"`
	WaterDepth     quantity.Optional `unit:"mm" doc:"depth of the water below the stand" range:"50 .. 100000" usual:"300 .. 5000"`
	TubWidth       quantity.Optional `unit:"mm" doc:"width of the tub or pool across the jet" range:"100 .. 100000" usual:"400 .. 20000"`
	WallBehind     quantity.Optional `unit:"mm" doc:"distance from the nozzle to the wall that the jet runs against" range:"10 .. 1000000" usual:"500 .. 30000"`
	WallBeside     quantity.Optional `unit:"mm" doc:"distance from the jet's axis to the nearest wall beside it" range:"10 .. 1000000" usual:"150 .. 10000"`
	IntakeDepth    quantity.Optional `unit:"mm" doc:"depth of the intake's upper edge below the still water" range:"-500 .. 20000" usual:"50 .. 1500"`
	CoverPlate     string            `doc:"whether a plate or raft covers the water above the intake" choices:"yes|no" assume:"no" source:"own"`
	CoverReach     quantity.Optional `unit:"mm" doc:"least distance along the cover plate from the intake's edge to the plate's edge" range:"0 .. 20000" usual:"50 .. 3000"`
}

// Bounds are the builder's own limits, where they differ from those of the parts.
type Bounds struct {
	WindingTemperature quantity.Optional `unit:"°C" doc:"highest winding temperature; by insulation class if left out" range:"20 .. 300" usual:"60 .. 200"`
	MagnetTemperature  quantity.Optional `unit:"°C" doc:"highest magnet temperature; by magnet grade if left out" range:"20 .. 300" usual:"50 .. 180"`
	BridgeTemperature  quantity.Optional `unit:"°C" doc:"highest temperature of the controller's transistors" range:"20 .. 200" usual:"50 .. 150"`
	SpecificSuction    quantity.Optional `unit:"1" key:"suction_specific_speed" doc:"highest suction specific speed; where the head is down 3 % if left out" range:"0.5 .. 50" usual:"2 .. 8"`
	RotorSpeed         quantity.Optional `unit:"rpm" doc:"highest rotor speed of the impeller" range:"50 .. 100000" usual:"1000 .. 15000"`
	CavitationLoss     float64           `unit:"%" doc:"largest share of the head that cavitation may take" range:"0.1 .. 90" usual:"1 .. 30" assume:"3" source:"brennen-1994"`
}
