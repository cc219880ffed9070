// Package blade is the pump worked out from its blades: velocity triangles on several stream
// surfaces, simple radial equilibrium with losses between them, published correlations for
// what a blade section turns and loses, and the map of head, power, cavitation and swirl over
// flow that the rest of the drive works with.
//
// Blade angles come in from the circumferential direction; inside, the correlations' own angles from the
// axis are used (FromAxis). The tangential direction counts positive the way a positive rotor
// speed turns. Station 3 is ahead of the impeller, 4 between impeller and stator, 5 behind.
package blade

import (
	"math"

	"jetwright/quantity"
)

// Channel is the annulus that the rows stand in: straight walls between its points along the axis.
type Channel struct {
	Axial     []float64 `unit:"mm" doc:"position of the channel's points along the axis, from the intake, rising" range:"-5000 .. 5000"`
	HubRadius []float64 `unit:"mm" doc:"hub radius at each point of the channel; one number if it is the same all along" range:"1 .. 450"`
	TipRadius []float64 `unit:"mm" doc:"casing radius at each point of the channel; one number if it is the same all along" range:"5 .. 500"`
}

// Row is one row of blades, impeller or stator; how many blades it has and its gap are keys of the drive. A list with one number holds over the whole span.
type Row struct {
	Blades            int               `key:"-"` // typed as the drive's own key
	Start             float64           `unit:"mm" doc:"position of the leading edge at mid span along the axis" range:"-5000 .. 5000" assume:"0" source:"own"`
	Span              []float64         `unit:"1" doc:"where the sections stand, from 0 at the hub to 1 at the tip, rising" range:"0 .. 1"`
	InletAngle        []float64         `unit:"deg" doc:"angle of the camber line at the leading edge from the circumferential direction" range:"1 .. 179" usual:"8 .. 90"`
	OutletAngle       []float64         `unit:"deg" doc:"angle of the camber line at the trailing edge from the circumferential direction" range:"1 .. 179" usual:"8 .. 110"`
	Chord             []float64         `unit:"mm" doc:"chord of each section" range:"2 .. 2000" usual:"15 .. 300"`
	Thickness         []float64         `unit:"mm" doc:"largest thickness of each section" range:"0.1 .. 100" usual:"1 .. 12"`
	Form              string            `doc:"form of the sections: 65-series, C4, double circular arc, or a plate bent to an arc" choices:"65-series|C4|double arc|plate" assume:"double arc" source:"own"`
	LeadingRadius     float64           `unit:"mm" doc:"radius of the leading edge as made" range:"0.02 .. 20" usual:"0.1 .. 2" assume:"0.4 .. 1.2" source:"own"`
	TrailingRadius    float64           `unit:"mm" doc:"radius of the trailing edge as made" range:"0.02 .. 20" usual:"0.1 .. 2" assume:"0.4 .. 1.0" source:"own"`
	Sweep             float64           `unit:"deg" doc:"angle of the leading edge to the radius, seen from the side" range:"-70 .. 70" usual:"-15 .. 15" assume:"0" source:"own"`
	Lean              float64           `unit:"deg" doc:"angle of the stacking line to the radius, seen along the axis" range:"-70 .. 70" usual:"-15 .. 15" assume:"0" source:"own"`
	TipGap            float64           `key:"-"` // of the impeller, m: radial, mean around the circumference
	GapEccentricity   float64           `key:"-"` // of the impeller, m [Tip]
	Surface           string            `doc:"how the surface was left" choices:"printed|sanded|filled|machined" assume:"printed" source:"own"`
	RoughnessPlace    float64           `unit:"1" doc:"where the roughness lies in its surface's range, 0 at the smooth end, 1 at the rough end" range:"0 .. 1" assume:"0 .. 1" source:"own"`
	Roughness         quantity.Optional `unit:"µm" doc:"equivalent sand roughness; from the surface if left out" range:"0.01 .. 2000" usual:"1 .. 300"`
	InletAngleOffset  float64           `unit:"deg" doc:"what the leading edge as made stands steeper to the circumferential direction than drawn" range:"-20 .. 20" usual:"-3 .. 3" assume:"-0.5 .. 0.5" source:"own"`
	OutletAngleOffset float64           `unit:"deg" doc:"what the trailing edge as made stands steeper to the circumferential direction than drawn" range:"-20 .. 20" usual:"-3 .. 3" assume:"-0.5 .. 0.5" source:"own"`
	ChordFactor       float64           `unit:"1" doc:"chord as made over chord as drawn" range:"0.5 .. 1.5" usual:"0.95 .. 1.05" assume:"1" source:"own"`
	ThicknessFactor   float64           `unit:"1" doc:"thickness as made over thickness as drawn" range:"0.3 .. 3" usual:"0.8 .. 1.3" assume:"1" source:"own"`
	Material          string            `doc:"what the blades are made of, in words"`
}

// Tip is how the impeller stands in its casing.
type Tip struct {
	GapEccentricity float64 `unit:"mm" doc:"how far rotor and casing stand off each other's centre" range:"0 .. 10" usual:"0 .. 0.6" assume:"0 .. 0.3" source:"own"`
}

// TipGapAssumed is the gap of a printed rotor in a printed casing that nobody measured, m.
var TipGapAssumed = [2]float64{0.3e-3, 0.9e-3}

// Terms are what a calibration may move, each on one named term of the method, and how far the
// method itself scatters about water: one standard deviation, common practice, no source. The
// scatter is not replaced by the difference between correlations. HeadFactor carries the scatter of
// the head whole: AngleScatter is what a measured outlet angle may differ by, and is not drawn a
// second time.
type Terms struct {
	HeadFactor       float64 `unit:"1" doc:"head in water over head worked out" range:"0.3 .. 2" assume:"1.00(8)" source:"own"`
	EfficiencyOffset float64 `unit:"1" doc:"best efficiency in water less best efficiency worked out; elsewhere in proportion" range:"-0.4 .. 0.3" assume:"0.00(5)" source:"own"`
	BreakdownFactor  float64 `unit:"1" doc:"suction specific speed at breakdown in water over that worked out" range:"0.2 .. 3" assume:"1.00(20)" source:"own"`
	AngleScatter     float64 `unit:"deg" doc:"standard deviation of the outlet flow angle against water" range:"0 .. 10" assume:"1.5" source:"own"`
	DeviationOffset  float64 `unit:"deg" doc:"deviation of the impeller beyond the correlation's" range:"-15 .. 15" assume:"0" source:"own"`
	ProfileFactor    float64 `unit:"1" doc:"profile loss over the correlation's" range:"0.1 .. 10" assume:"1" source:"own"`
	EndwallFactor    float64 `unit:"1" doc:"endwall and secondary loss over the correlation's" range:"0.1 .. 10" assume:"1" source:"own"`
	GapFactor        float64 `unit:"1" doc:"loss by the tip gap over the formula's" range:"0.1 .. 10" assume:"1" source:"own"`
	LeakageShare     float64 `unit:"1" doc:"share of the flow that runs back past the impeller through seals" range:"0 .. 0.3" usual:"0 .. 0.05" assume:"0.00 .. 0.01" source:"own"`
	Deviation        string  `doc:"correlation for what the flow falls short of the blade's angle" choices:"Lieblein|Carter" assume:"Lieblein" source:"aungier-2003"`
}

// NominalTerms are the terms of a method that nobody has calibrated.
func NominalTerms() Terms {
	return Terms{
		HeadFactor: 1, BreakdownFactor: 1, AngleScatter: 1.5 * degree,
		ProfileFactor: 1, EndwallFactor: 1, GapFactor: 1, Deviation: "Lieblein",
	}
}

// Pump is the blades of a drive: impeller and, with Blades above zero, stator.
type Pump struct {
	Channel  Channel
	Impeller Row
	Stator   Row
	Terms    Terms
}

const degree = math.Pi / 180

// surfaceRoughness is the equivalent sand roughness that a surface may have, m: 50 to 200 µm as printed (layer
// lines), the others our own.
var surfaceRoughness = map[string][2]float64{
	"printed": {50e-6, 200e-6}, "sanded": {10e-6, 40e-6}, "filled": {2e-6, 8e-6}, "machined": {0.8e-6, 3e-6},
}

// SandRoughness returns the equivalent sand roughness of a row's surface, in m.
//
//	k = k_low·(k_high/k_low)^p
//
//	k_low, k_high  range of the surface, m: printed 50 to 200 µm, sanded 10 to 40, filled 2 to 8, machined 0.8 to 3
//	p              place in it, -   [Row.RoughnessPlace]
//
// Holds as our own ranges, common practice without a source; a typed roughness goes before them.
//
// Source: own. Tests: TestSandRoughnessExact.
func (r *Row) SandRoughness() float64 {
	if r.Roughness.Set {
		return r.Roughness.Value
	}
	b, ok := surfaceRoughness[r.Surface]
	if !ok {
		b = surfaceRoughness["printed"]
	}
	return b[0] * math.Pow(b[1]/b[0], r.RoughnessPlace)
}

// forms are the section forms: Lieblein's shape factor, his mean line, the growth of loss with incidence, and
// where the camber is largest.
var forms = map[string]form{
	"65-series":  {shape: 1.0, incidence: 0.0117, camber: 0.5},
	"C4":         {shape: 1.1, arc: true, incidence: 0.007, camber: 0.5},
	"double arc": {shape: 0.7, arc: true, incidence: 0.007, camber: 0.5},
	"plate":      {shape: 0.7, arc: true, incidence: 0.0117, camber: 0.5},
}

type form struct {
	shape, incidence, camber float64
	arc                      bool
}
