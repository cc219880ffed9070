package drive

import (
	"reflect"

	"jetwright/quantity"
)

// What follows is how the parts are made. No figure of a state rests on it: it is read by the export of shapes, and of some of it by the
// limits of strength.

// HubMaking is the impeller's hub and what its blades stand on it by.
type HubMaking struct {
	Hand        string            `doc:"hand of rotation: right turns clockwise seen from behind, left the other way round" choices:"right|left" assume:"right" source:"own"`
	Bore        quantity.Optional `unit:"mm" doc:"bore for the shaft; the shaft's diameter if left out" range:"0 .. 400" usual:"4 .. 60"`
	BoreForm    string            `doc:"how the shaft drives the hub: round (glued or pinned), keyway, flat, or clamp (a slotted collar that is squeezed)" choices:"round|keyway|flat|clamp" assume:"flat" source:"own"`
	KeywayWidth quantity.Optional `unit:"mm" doc:"width of the keyway; by the bore if left out" range:"0.5 .. 100" usual:"2 .. 18"`
	KeywayDepth quantity.Optional `unit:"mm" doc:"depth of the keyway from the bore's top; by the bore if left out" range:"0.2 .. 60" usual:"1 .. 5"`
	FlatDepth   quantity.Optional `unit:"mm" doc:"what the flat takes off the bore's diameter; a tenth of it if left out" range:"0.1 .. 100" usual:"0.5 .. 4"`
	ClampLength float64           `unit:"mm" doc:"length of the slotted collar of a clamp" range:"2 .. 200" usual:"6 .. 30" assume:"12" source:"own"`
	ClampWall   float64           `unit:"mm" doc:"wall of the slotted collar of a clamp" range:"0.5 .. 50" usual:"2 .. 6" assume:"3" source:"own"`
	ClampSlot   float64           `unit:"mm" doc:"width of a slot of the collar of a clamp" range:"0.2 .. 20" usual:"0.8 .. 3" assume:"1.5" source:"own"`
	NoseLength  quantity.Optional `unit:"mm" doc:"length of the nose ahead of the hub; 0.6 of the hub's diameter if left out" range:"0 .. 1000" usual:"5 .. 150"`
	NoseRadius  quantity.Optional `unit:"mm" doc:"radius of the flat in front of the nose; as small as bore and least wall allow if left out" range:"0 .. 400" usual:"1 .. 60"`
	Clearance   float64           `unit:"mm" doc:"axial gap between the hubs of impeller and stator" range:"0.1 .. 100" usual:"0.5 .. 5" assume:"1.5" source:"own"`
	RootFlare   float64           `unit:"mm" doc:"height over which each side of a blade thickens towards the hub, by half of it" range:"0 .. 50" usual:"0.5 .. 6" assume:"1" source:"own"`
}

// StatorMaking is the stator's ring and cone.
type StatorMaking struct {
	Wall       float64           `unit:"mm" doc:"wall of the stator's outer ring" range:"0.5 .. 100" usual:"2 .. 8" assume:"3.5" source:"own"`
	ConeLength quantity.Optional `unit:"mm" doc:"length of the cone behind the stator's hub; 1.5 times the hub's diameter if left out" range:"0 .. 2000" usual:"10 .. 200"`
	ConeRadius float64           `unit:"mm" doc:"radius of the cone's end" range:"0 .. 400" usual:"0.5 .. 10" assume:"2" source:"own"`
	RootFlare  float64           `unit:"mm" doc:"height over which each side of a blade thickens towards hub and ring, by half of it" range:"0 .. 50" usual:"0.5 .. 6" assume:"1" source:"own"`
}

// NozzleMaking is the nozzle's wall and its tap.
type NozzleMaking struct {
	Wall      float64           `unit:"mm" doc:"wall of the nozzle" range:"0.5 .. 100" usual:"2 .. 8" assume:"3.5" source:"own"`
	Entry     quantity.Optional `unit:"mm" doc:"straight length ahead of the contraction; what flange and tap need if left out" range:"0 .. 1000" usual:"2 .. 60"`
	Land      float64           `unit:"mm" doc:"straight length at the outlet" range:"0 .. 500" usual:"3 .. 40" assume:"8" source:"own"`
	TapBoss   quantity.Optional `unit:"mm" doc:"diameter of the boss round the coolant's tap; the tap and twice the wall if left out" range:"1 .. 200" usual:"6 .. 30"`
	TapHeight float64           `unit:"mm" doc:"height of the boss of the coolant's tap above the wall" range:"0.5 .. 200" usual:"3 .. 20" assume:"6" source:"own"`
}

// DuctMaking is the casing that the impeller turns in.
type DuctMaking struct {
	Wall  float64 `unit:"mm" doc:"wall of the casing round the impeller" range:"0.5 .. 100" usual:"2 .. 8" assume:"3.5" source:"own"`
	Ahead float64 `unit:"mm" doc:"length of the casing ahead of the impeller's hub, its nose left out" range:"0 .. 2000" usual:"5 .. 200" assume:"20" source:"own"`
}

// FlangeMaking is the flange by which casing, stator and nozzle are bolted together.
type FlangeMaking struct {
	Diameter   quantity.Optional `unit:"mm" doc:"outer diameter of the flanges; what the bolts need if left out" range:"10 .. 2000" usual:"60 .. 400"`
	Thickness  float64           `unit:"mm" doc:"thickness of each flange; 0 for none" range:"0 .. 100" usual:"3 .. 12" assume:"5" source:"own"`
	Bolts      int               `unit:"1" doc:"bolts on the circle" range:"0 .. 48" usual:"4 .. 12" assume:"6" source:"own"`
	BoltCircle quantity.Optional `unit:"mm" doc:"diameter of the circle that the bolts stand on; what their heads need if left out" range:"10 .. 2000" usual:"60 .. 380"`
	BoltHole   float64           `unit:"mm" doc:"diameter of a bolt's hole; 4.5 mm lets an M4 bolt through (ISO 273, medium)" range:"1 .. 50" usual:"3.4 .. 9" assume:"4.5" source:"memory"`
}

// Process is what makes the parts: the least it can make, and how what it makes differs from what it was given.
type Process struct {
	MinimumWall      float64           `unit:"mm" doc:"least wall that the process makes sound" range:"0.1 .. 50" usual:"0.8 .. 4" assume:"1.2" source:"own"`
	MinimumEdge      float64           `unit:"mm" doc:"least thickness of an edge that the process makes" range:"0.02 .. 20" usual:"0.4 .. 2" assume:"0.8" source:"own"`
	ShrinkageX       float64           `unit:"%" doc:"what the process shrinks parts by along x" range:"-5 .. 10" usual:"-0.5 .. 2" assume:"0" source:"own"`
	ShrinkageY       float64           `unit:"%" doc:"what the process shrinks parts by along y" range:"-5 .. 10" usual:"-0.5 .. 2" assume:"0" source:"own"`
	ShrinkageZ       float64           `unit:"%" doc:"what the process shrinks parts by along z, the axis of the drive" range:"-5 .. 10" usual:"-0.5 .. 2" assume:"0" source:"own"`
	HoleCompensation float64           `unit:"mm" doc:"what holes come out smaller by, on the diameter; they are made wider by it" range:"-2 .. 5" usual:"0 .. 0.6" assume:"0" source:"own"`
	Density          quantity.Optional `unit:"kg/m³" doc:"density of the parts as made; without it no mass is given" range:"10 .. 25000" usual:"900 .. 9000"`
	ChordTolerance   float64           `unit:"mm" doc:"how far a mesh may leave the surface" range:"0.001 .. 2" usual:"0.005 .. 0.2" assume:"0.02" source:"own"`
	RootRun          float64           `unit:"mm" doc:"how far blades run on into hub and ring where they are solids of their own" range:"0.1 .. 20" usual:"0.5 .. 3" assume:"1" source:"own"`
}

// Making tells whether a field of a drive says how a part is made, so that no figure of a state rests on it.
func Making(f quantity.Field) bool {
	switch reflect.TypeFor[Drive]().Field(f.Index[0]).Name {
	case "HubMaking", "StatorMaking", "NozzleMaking", "DuctMaking", "FlangeMaking", "Process":
		return true
	}
	return false
}

// keyway is the parallel key of a shaft by its diameter: width, and depth in the hub, m. FROM MEMORY: DIN 6885-1, which agrees with
// ISO 773 there.
func keyway(bore float64) (width, depth float64) {
	for _, k := range [][3]float64{{8, 2, 1}, {10, 3, 1.4}, {12, 4, 1.8}, {17, 5, 2.3}, {22, 6, 2.8}, {30, 8, 3.3}, {38, 10, 3.3}, {44, 12, 3.3}, {50, 14, 3.8}, {58, 16, 4.3}} {
		if bore <= k[0]*1e-3*(1+1e-9) {
			return k[1] * 1e-3, k[2] * 1e-3
		}
	}
	return 0.28 * bore, 0.075 * bore
}
