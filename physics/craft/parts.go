// Package craft is what the drive pushes: hull, rider and air. It gives the drag of a small board, sled or
// boat from rest to planing, with its trim, and says by which method and how far to trust it.
//
// A craft goes through three kinds of water borne motion, each with a method of its own: it swims, it is driven
// over its own bow wave, it planes. Shares that change smoothly with speed lead from one to the next.
package craft

import "jetwright/quantity"

// Craft is hull and rider as they ride.
type Craft struct {
	Mass            quantity.Optional `unit:"kg" doc:"mass of the craft with battery, without rider" range:"1 .. 5000" usual:"15 .. 400"`
	RiderMass       quantity.Optional `unit:"kg" doc:"mass of the rider" range:"0 .. 1000" usual:"30 .. 200"`
	Length          quantity.Optional `unit:"m" doc:"length of the craft" range:"0.3 .. 30" usual:"1 .. 6"`
	ThrustDeduction float64           `unit:"1" doc:"thrust deduction t: net thrust = (1 − t)·gross thrust, under way on the craft" range:"-0.5 .. 0.5" usual:"-0.1 .. 0.2" assume:"-0.05 .. 0.10" source:"memory"`
	Beam            quantity.Optional `unit:"m" doc:"chine beam: the greatest breadth of the bottom between its edges" range:"0.1 .. 6" usual:"0.3 .. 2.5"`
	Deadrise        float64           `unit:"deg" doc:"rise of the bottom from keel to chine against the horizontal, halfway along the wetted bottom; 0 is flat" range:"-45 .. 45" usual:"0 .. 25" assume:"0 .. 6" source:"own"`
	Volume          quantity.Optional `unit:"L" doc:"volume of the craft that water cannot enter: whether it floats its rider" range:"1 .. 20000" usual:"20 .. 2000"`
	GravityCentre   quantity.Optional `unit:"m" doc:"where craft and rider together weigh on the hull, ahead of the transom; a band for the stances that the rider takes, from the aftmost to the foremost. A rider who stands leans against pull and wind so that it stays where the feet are" range:"-30 .. 30" usual:"0.2 .. 4"`
	GravityHeight   float64           `unit:"m" doc:"height above the keel at which that weight acts on the hull: the deck where the rider stands or kneels, the common centre of gravity where the rider sits or lies" range:"0 .. 3" usual:"0.03 .. 1" assume:"0.08 .. 0.20" source:"own"`
	Posture         string            `doc:"how the rider rides" choices:"standing|crouched|sitting|prone" assume:"standing" source:"own"`
	DragArea        quantity.Optional `unit:"m²" doc:"drag area C_D·A of rider and craft in air; by posture if left out" range:"0 .. 20" usual:"0.05 .. 3"`
	ThrustAngle     float64           `unit:"deg" doc:"angle between the jet's axis and the keel, positive where it pushes the bow up" range:"-30 .. 30" usual:"-10 .. 10" assume:"0" source:"own"`
	ThrustHeight    float64           `unit:"mm" doc:"height of the jet's axis above the keel at the transom" range:"-1000 .. 2000" usual:"-100 .. 400" assume:"20 .. 80" source:"own"`
	IntakePosition  quantity.Optional `unit:"m" doc:"distance of the intake's front edge ahead of the transom" range:"0 .. 20" usual:"0.1 .. 2"`
	EntranceAngle   float64           `unit:"deg" doc:"half the angle that the waterline makes at the bow" range:"2 .. 90" usual:"5 .. 60" assume:"15 .. 35" source:"own"`
	TransomRatio    float64           `unit:"1" doc:"immersed area of the transom at rest over the greatest section's" range:"0 .. 1" usual:"0.2 .. 1" assume:"0.6 .. 1" source:"own"`
	Roughness       float64           `unit:"µm" doc:"roughness of the bottom as grains of sand: varnish 5, fair paint 30, printed layers and gelcoat with scratches 50 to 200" range:"0 .. 5000" usual:"0 .. 500" assume:"5 .. 40" source:"memory"`
	FrictionLine    string            `doc:"line of the friction coefficient: the ITTC's of 1957, Schoenherr's, or a smooth plate's with transition" choices:"ittc-1957|schoenherr|plate" assume:"ittc-1957" source:"ittc-1957"`
	Appendages      float64           `unit:"cm²" doc:"drag area C_D·A of fins and all else that hangs in the water below the bottom" range:"0 .. 5000" usual:"0 .. 200" assume:"0 .. 6" source:"own"`
	AddedMass       float64           `unit:"1" doc:"water that is speeded up with the craft, over its mass" range:"0 .. 1" usual:"0 .. 0.3" assume:"0.02 .. 0.10" source:"own"`
	MethodError     float64           `unit:"1" doc:"where the true drag lies in the band of the method: −1 its lower end, 1 its upper end" range:"-3 .. 3" usual:"-1 .. 1" assume:"-1 .. 1" source:"own"`
	TowSpeeds       []float64         `unit:"m/s" doc:"towing by a spring scale: speeds through the water, rising" range:"0.1 .. 40"`
	TowPulls        []float64         `unit:"N" doc:"towing by a spring scale: steady pull at each speed, rider aboard as ridden" range:"0.1 .. 50000"`
	TowUse          string            `doc:"what the towed pulls do: move the computed curve, or stand in its place between the speeds towed at" choices:"calibrates|replaces" assume:"calibrates" source:"own"`
	TowMass         quantity.Optional `unit:"kg" doc:"mass of craft and rider when towed; as ridden if left out" range:"1 .. 6000" usual:"20 .. 600"`
	TowError        float64           `unit:"%" doc:"error of the towed pulls in common: the scale, its angle, wind and current" range:"-50 .. 50" usual:"-20 .. 20" assume:"-6 .. 6" source:"own"`
	Depth           quantity.Optional `unit:"m" doc:"depth of the water ridden in; deep if left out" range:"0.1 .. 1000" usual:"0.4 .. 200"`
	Wind            float64           `unit:"m/s" doc:"wind against the way out, negative from behind" range:"-40 .. 40" usual:"-15 .. 15" assume:"0" source:"own"`
	Current         float64           `unit:"m/s" doc:"current along the way out, negative against it" range:"-10 .. 10" usual:"-3 .. 3" assume:"0" source:"own"`
}

// TotalMass is craft and rider, kg.
//
//	m = m_c + m_r
//
//	m_c, m_r  mass of craft and of rider, kg   [Craft.Mass] [Craft.RiderMass]
//
// Holds always.
//
// Source: own. Tests: TestAwashLaw.
func (c *Craft) TotalMass() float64 { return c.Mass.Value + c.RiderMass.Value }

// Lacks lists the keys without which there is no drag to work out.
func (c *Craft) Lacks() []string {
	var out []string
	for _, k := range []struct {
		key string
		set bool
	}{{"mass", c.Mass.Set}, {"rider_mass", c.RiderMass.Set}, {"length", c.Length.Set}, {"beam", c.Beam.Set}, {"gravity_centre", c.GravityCentre.Set}} {
		if !k.set {
			out = append(out, "craft."+k.key)
		}
	}
	return out
}

// AirDragArea returns the usual range of the drag area C_D·A in m² of a rider in a posture.
//
//	standing 0.75 .. 0.93,  crouched 0.3 .. 0.5,  sitting 0.5 .. 0.62,  prone 0.10 .. 0.22 m²
//
// Standing is Hoerner's 9 ft² = 0.84 m² and sitting his 6 ft² = 0.56 m², each ± 11 %; crouched is recalled with
// little confidence, prone is our own. A craft of its own size in the wind is to be typed.
//
// Source: hoerner-1965, ch. 3; memory. Tests: TestAirDragPublished.
func AirDragArea(posture string) (low, high float64, ok bool) {
	switch posture {
	case "standing":
		return 0.75, 0.93, true
	case "crouched":
		return 0.30, 0.50, true
	case "sitting":
		return 0.50, 0.62, true
	case "prone":
		return 0.10, 0.22, true
	}
	return 0, 0, false
}

// Medium is the water and the air that a craft moves in, SI.
type Medium struct {
	Density    float64 `unit:"kg/m³" doc:"density of the water"`
	Viscosity  float64 `unit:"m²/s" doc:"kinematic viscosity of the water"`
	AirDensity float64 `unit:"kg/m³" doc:"density of the air"`
	Gravity    float64 `unit:"m/s²" doc:"gravity"`
}
