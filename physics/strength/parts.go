// Package strength is what holds the drive together: shaft, bearings, blades, hub, casing. Loads in, stresses, frequencies and
// lives out, each by a closed form of the textbooks or, for the whirling shaft, by beam elements. It knows no pump: the drive hands
// it torque, thrust and speed of a state.
//
// A mean-line load says how large the load of a blade is, not how it is spread; what a blade stands in the end is shown by a
// test behind a guard.
package strength

import "jetwright/quantity"

// Shaft is how the shaft is made and held.
type Shaft struct {
	Material        string            `doc:"what the shaft is made of, by number or trade name, such as 1.4462, 316 or 6061-T6"`
	YieldStrength   quantity.Optional `unit:"MPa" doc:"yield strength of the shaft by its certificate; goes before the table" range:"5 .. 3000" usual:"100 .. 1500"`
	TensileStrength quantity.Optional `unit:"MPa" doc:"tensile strength of the shaft by its certificate; goes before the table" range:"10 .. 3500" usual:"200 .. 1800"`
	FatigueStrength quantity.Optional `unit:"MPa" doc:"alternating stress that a plain, polished bar of the shaft's material stands for ever in the water it runs in; goes before the table" range:"1 .. 1500" usual:"30 .. 600"`
	Surface         string            `doc:"how the shaft's surface was made" choices:"ground|machined|hot rolled" assume:"machined" source:"shigley-2008"`
	Support         string            `doc:"where the aft bearing stands: ahead of the impeller, which then overhangs, or behind it in the stator's hub" choices:"ahead|stator" assume:"ahead" source:"own"`
	BearingSpan     quantity.Optional `unit:"mm" doc:"distance between the shaft's two bearings" range:"5 .. 3000" usual:"20 .. 800"`
	Overhang        quantity.Optional `unit:"mm" doc:"distance from the aft bearing to the middle of the impeller" range:"1 .. 2000" usual:"10 .. 400"`
	AftNotch        string            `doc:"how the shaft is shaped at the aft bearing: plain, a shoulder with a sharp or a rounded corner, a groove for a ring" choices:"plain|rounded shoulder|sharp shoulder|groove" assume:"sharp shoulder" source:"shigley-2008"`
	SeatLength      quantity.Optional `unit:"mm" doc:"length of key or flat that carries" range:"1 .. 500" usual:"5 .. 80"`
	KeyYield        quantity.Optional `unit:"MPa" doc:"yield strength of the softest of key, shaft and hub at the seat" range:"1 .. 2000" usual:"20 .. 800"`
	SeatTorque      quantity.Optional `unit:"N·m" doc:"torque that the seat has held in a test, or that its maker states; the only way for a clamp" range:"0.1 .. 20000" usual:"2 .. 500"`
	ThrustBearing   string            `doc:"which bearing takes the thrust" choices:"front|aft" assume:"front" source:"own"`
	FrontRating     quantity.Optional `unit:"kN" doc:"dynamic load rating C of the front bearing, a deep-groove ball bearing" range:"0.05 .. 1000" usual:"1 .. 60"`
	FrontStatic     quantity.Optional `unit:"kN" doc:"static load rating C0 of the front bearing" range:"0.02 .. 1000" usual:"0.5 .. 40"`
	AftBearing      string            `doc:"kind of the aft bearing: ball, or plain and wetted by the water" choices:"ball|plain" assume:"ball" source:"own"`
	AftRating       quantity.Optional `unit:"kN" doc:"dynamic load rating C of the aft bearing, where it is a deep-groove ball bearing" range:"0.05 .. 1000" usual:"1 .. 60"`
	AftStatic       quantity.Optional `unit:"kN" doc:"static load rating C0 of the aft bearing" range:"0.02 .. 1000" usual:"0.5 .. 40"`
	AftLength       quantity.Optional `unit:"mm" doc:"length of the aft bearing, where it is plain" range:"1 .. 1000" usual:"10 .. 120"`
	AftPressure     float64           `unit:"MPa" doc:"load over length times diameter that the plain aft bearing stands in water" range:"0.02 .. 50" usual:"0.1 .. 5" assume:"0.3 .. 0.6" source:"memory"`
	BearingLife     float64           `unit:"h" doc:"life that nine bearings in ten are asked to reach" range:"1 .. 100000" usual:"20 .. 5000" assume:"200" source:"own"`
	Seal            string            `doc:"seal of the shaft" choices:"nitrile lip|fluororubber lip|face|packing"`
	CouplingTorque  quantity.Optional `unit:"N·m" doc:"torque that the maker of the coupling states" range:"0.1 .. 20000" usual:"2 .. 500"`
	CouplingSpeed   quantity.Optional `unit:"rpm" doc:"highest speed that the maker of the coupling states" range:"100 .. 100000" usual:"2000 .. 25000"`
	SideForce       float64           `unit:"1" doc:"force across the shaft from uneven inflow, over the thrust on the impeller" range:"0 .. 1" usual:"0.005 .. 0.3" assume:"0.02 .. 0.10" source:"own"`
	TorqueRipple    float64           `unit:"1" doc:"swing of the torque as blades pass intake and vanes, over its mean" range:"0 .. 1" usual:"0.01 .. 0.5" assume:"0.05 .. 0.20" source:"own"`
	BalanceGrade    float64           `unit:"mm/s" doc:"balance grade G of the impeller: eccentricity of its mass times speed" range:"0.1 .. 4000" usual:"1 .. 100" assume:"6.3 .. 40" source:"own"`
}

// ShaftAround is the drive around a shaft and what it does at a state.
type ShaftAround struct {
	Diameter     float64 // of the shaft, m
	Speed        float64 // rad/s
	Torque       float64 // mean, at the impeller, N·m
	Thrust       float64 // on the impeller, N
	Jam          float64 // torque while the impeller stands and the motor pulls all it can, N·m; 0 if nothing bounds it
	Mass         float64 // of the impeller, kg
	Seat         string  // what drives the hub: round, keyway, flat or clamp
	KeyWidth     float64 // of the key, m
	KeyHeight    float64
	FlatDepth    float64 // what the flat takes off the diameter, m
	Carried      float64 // mass of water that moves aside with the impeller, kg
	Length       float64 // of the impeller along the axis, m
	WaterDensity float64 // kg/m³
	Gravity      float64 // m/s²
	Sea          bool
}

// Impeller is how the impeller is made. Its material is a key of its blades.
type Impeller struct {
	Mass            quantity.Optional `unit:"kg" doc:"mass of the impeller with its hub; estimated from its sizes and material if left out" range:"0.001 .. 500" usual:"0.03 .. 10"`
	WaterShare      float64           `unit:"1" doc:"share of the water between the blades that moves aside with the impeller" range:"0 .. 1.5" usual:"0.05 .. 0.6" assume:"0.1 .. 0.4" source:"own"`
	RootChord       quantity.Optional `unit:"mm" doc:"chord of the blade at its root; from the blade's sections if left out" range:"2 .. 2000" usual:"15 .. 300"`
	RootThickness   quantity.Optional `unit:"mm" doc:"largest thickness of the blade at its root, fillets included; from the blade's sections if left out" range:"0.2 .. 200" usual:"1.5 .. 20"`
	RootAngle       quantity.Optional `unit:"deg" doc:"angle of the chord at the root from the circumferential direction; from the blade's sections, else from the water's way, if left out" range:"5 .. 90" usual:"20 .. 75"`
	RootNotch       float64           `unit:"1" doc:"stress in the fillet at the blade's root over that of a beam" range:"1 .. 5" usual:"1 .. 3" assume:"1.2 .. 1.8" source:"own"`
	LoadSwing       float64           `unit:"1" doc:"swing of a blade's load as it passes the uneven inflow and the vanes, over its mean" range:"0 .. 2" usual:"0.05 .. 1" assume:"0.2 .. 0.5" source:"own"`
	FrequencyFactor float64           `unit:"1" doc:"frequency of the blade over that of an even beam: taper, twist and the hub's giving way" range:"0.3 .. 3" usual:"0.6 .. 1.5" assume:"0.8 .. 1.3" source:"own"`
	Layers          string            `doc:"how a print's layers lie against the pull at the blade's root: along it, as of an impeller printed with its axis upright, or across it" choices:"along|across" assume:"across" source:"own"`
	FatigueStrength quantity.Optional `unit:"MPa" doc:"alternating stress that specimens made as the impeller stood in the water for as long as it is to run, by your own test; goes before the table" range:"0.1 .. 1000" usual:"1 .. 300"`
	Swelling        quantity.Optional `unit:"%" doc:"by how much the impeller grows in water after its gap was measured; 0 for one that was soaked before, the table's for its material if left out" range:"0 .. 10" usual:"0 .. 2"`
	ProofSpeed      quantity.Optional `unit:"rpm" doc:"rotor speed that this very impeller came through unharmed in a spin test behind a guard" range:"50 .. 100000" usual:"2000 .. 20000"`
}

// Stator is how the stator is made. Its material is a key of its vanes.
type Stator struct {
	RootChord     quantity.Optional `unit:"mm" doc:"chord of the vane at its root; from its sections if left out" range:"2 .. 2000" usual:"15 .. 300"`
	RootThickness quantity.Optional `unit:"mm" doc:"largest thickness of the vane at its root; from its sections if left out" range:"0.2 .. 200" usual:"1.5 .. 20"`
}

// Housing is what stands about the impeller: casing, stator's ring and nozzle, bolted together.
type Housing struct {
	Material     string            `doc:"what casing, stator ring and nozzle are made of"`
	BoltDiameter quantity.Optional `unit:"mm" doc:"nominal diameter of a bolt, coarse thread" range:"2 .. 30" usual:"3 .. 8"`
	BoltClass    string            `doc:"property class of the bolts" choices:"A2-50|A2-70|A4-70|A4-80|4.6|5.8|8.8|10.9" assume:"A2-50" source:"own"`
	BoltHold     quantity.Optional `unit:"N" doc:"force at which a bolt or insert came out of the housing's material in a test; no print is trusted without" range:"10 .. 200000" usual:"200 .. 20000"`
}
