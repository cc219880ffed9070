package drive

import (
	"math"

	"jetwright/quantity"
)

// StandFactor is what a stand must hold over what pulls on it, with people near it. A factor of 1.5
// serves a static load and 2 where people are near: trade practice, recalled (medium).
const StandFactor = 2

// strayAngle is how far the jet may point beside the base's length, rad: 10°, our own.
const strayAngle = 10 * math.Pi / 180

// frictionPairs are static coefficients of what feet stand on, wet. Rubber on wet concrete is
// second-hand: 0.45 to 0.75 sliding in one table, 0.30 in another; the rest is recalled (medium).
var frictionPairs = map[string]quantity.Bounds{
	"rubber on wet concrete": {Low: 0.30, High: 0.75},
	"wood on wet concrete":   {Low: 0.25, High: 0.55},
	"steel on wet concrete":  {Low: 0.20, High: 0.45},
	"wood on wet wood":       {Low: 0.20, High: 0.40},
	"steel on wet steel":     {Low: 0.10, High: 0.30},
}

// FrictionRange returns the ends of the friction coefficient of the feet; ok is false where
// neither a coefficient nor a pair is typed.
func (s Stand) FrictionRange() (b quantity.Bounds, ok bool) {
	if s.Friction.Set {
		return quantity.Bounds{Low: s.Friction.Value, High: s.Friction.Value}, true
	}
	b, ok = frictionPairs[s.FrictionPair]
	return b, ok
}

// leastLever is the least lever of a rope at a pivot, m: less holds nothing, and is a slip of the pen.
const leastLever = 1e-3

// PullRatio returns pull on rope and scale over thrust.
//
//	F/T = 1/cos β  (carriage),  F/T = |h_p − h_j|/(|h_p − h_r|·cos β)  (pivot)
//
//	F    pull along the rope, N
//	T    thrust, N
//	β    rise of the rope, rad                       [Stand.RopeAngle]
//	h_p  height of the pivot, m                      [Stand.PivotHeight]
//	h_j  height of the jet's axis, m                 [Stand.JetHeight]
//	h_r  height at which the rope is tied, m         [Stand.RopeHeight]
//
// Holds at rest without friction, for a rope tied straight above or below the pivot; a pivot of which
// a height is not typed, or with the rope at its own height, counts with a lever of 1.
//
// Source: own. Tests: TestPullRatioExact, TestStandLaw.
func (s Stand) PullRatio() float64 {
	lever := 1.0
	jet, known := s.Jet()
	if s.Kind == "pivot" && known && s.PivotHeight.Set && s.RopeHeight.Set {
		if b := math.Abs(s.PivotHeight.Value - s.RopeHeight.Value); b > leastLever {
			if a := math.Abs(s.PivotHeight.Value - jet); a > 0 {
				lever = a / b
			}
		}
	}
	return lever / math.Cos(s.RopeAngle.Or(0))
}

// Jet returns the height of the jet's axis above the ground under the base: as typed, or in a tub on
// the same ground from the water's depth and the shaft line's height over the water.
func (s Stand) Jet() (height float64, ok bool) {
	switch {
	case s.JetHeight.Set:
		return s.JetHeight.Value, true
	case s.Water == "tub" && s.WaterDepth.Set:
		return s.WaterDepth.Value + s.ShaftHeight, true
	}
	return 0, false
}

// TippingMoment returns the moment in N·m that a jet puts on the base of a stand.
//
//	M = T·|h_j|  (rope and scale on the stand),  M = T·max(|h_j|, |h_r − h_j|)  (on the ground)
//
//	T    thrust, N
//	h_j  height of the jet's axis above the ground, m   [Stand.JetHeight]
//	h_r  height of the rope above the ground, m         [Stand.RopeHeight]
//
// Holds for a tub that is no part of the stand. What rope and scale do inside of the stand cancels
// out; with the far end on the ground the rope makes a couple with the jet, and the first form
// stays for the moment when it parts.
//
// Source: own. Tests: TestStandByHand, TestStandLaw.
func TippingMoment(thrust, jetHeight, ropeHeight float64, ground bool) float64 {
	arm := math.Abs(jetHeight)
	if ground {
		arm = math.Max(arm, math.Abs(ropeHeight-jetHeight))
	}
	return thrust * arm
}

// HoldingMoment returns the moment in N·m that the weight of a stand holds before it tips over an edge.
//
//	M = W·L/2
//
//	W  weight with ballast and carriage, less what the rope lifts, N   [Stand.Ballast]
//	L  length of the base between its outermost feet, m                [Stand.BaseLength]
//
// Holds for a centre of gravity over the middle of the base, on firm and level ground.
//
// Source: own. Tests: TestStandByHand, TestStandLaw.
func HoldingMoment(weight, base float64) float64 { return weight * base / 2 }

// HoldingFriction returns the force in N that the feet of a stand hold before they slide.
//
//	F = µ·W
//
//	µ  friction coefficient of the feet, -                             [Stand.Friction]
//	W  weight with ballast and carriage, less what the rope lifts, N   [Stand.Ballast]
//
// Holds for dry friction, until water or moss gets under the feet; the least of a pair is taken.
//
// Source: own. Tests: TestStandByHand, TestStandLaw.
func HoldingFriction(friction, weight float64) float64 { return friction * weight }

// SideMoment returns the moment in N·m that tips a stand over its side.
//
//	M = T·sin(10°)·|h_j| + Q
//
//	T    thrust, N
//	h_j  height of the jet's axis above the ground, m   [Stand.JetHeight]
//	Q    torque at the impeller, N·m
//
// Holds as a bad end: the jet points 10° beside the base, and none of the impeller's torque is taken
// back by the stator.
//
// Source: own. Tests: TestStandByHand, TestStandLaw.
func SideMoment(thrust, jetHeight, torque float64) float64 {
	return thrust*math.Sin(strayAngle)*math.Abs(jetHeight) + math.Abs(torque)
}

// weight returns what presses the feet down, N, at a thrust.
func (s Stand) weight(thrust, gravity float64) float64 {
	w := (s.Ballast.Value + s.CarriageLoad) * gravity
	if s.Anchor == "ground" {
		w -= thrust * math.Max(0, math.Tan(s.RopeAngle.Or(0)))
	}
	return math.Max(w, 0)
}

// Limits appends what holds the stand where it is.
func (s Stand) Limits(dst []quantity.Limit, at State, gravity, reduction float64) []quantity.Limit {
	jet, haveJet := s.Jet()
	friction, haveFriction := s.FrictionRange()
	weight := s.weight(at.Thrust, gravity)
	need := func(missing ...string) string {
		out := ""
		for i := 0; i < len(missing); i += 2 {
			if missing[i+1] != "" {
				continue
			}
			if out != "" {
				out += ", "
			}
			out += missing[i]
		}
		if out == "" {
			return ""
		}
		return "type " + out
	}
	is := func(ok bool) string {
		if ok {
			return "typed"
		}
		return ""
	}
	over := quantity.Limit{
		Name: "overturning of the stand", Part: "stand", Unit: "N·m", Hazard: true, Factor: StandFactor,
		Value: TippingMoment(at.Thrust, jet, s.RopeHeight.Value, s.Anchor == "ground"), Allowed: HoldingMoment(weight, s.BaseLength.Value) / StandFactor,
		Why: "a stand that tips takes rope, scale and cables with it", Source: "memory", Moves: []string{"stand.ballast", "stand.base_length", "stand.jet_height"},
		NotJudged: need("stand.jet_height", is(haveJet), "stand.ballast", is(s.Ballast.Set), "stand.base_length", is(s.BaseLength.Set), "stand.rope_height", is(s.Anchor != "ground" || s.RopeHeight.Set)),
	}
	slide := quantity.Limit{
		Name: "sliding of the stand", Part: "stand", Unit: "N", Hazard: true, Factor: StandFactor,
		Value: at.Thrust, Allowed: HoldingFriction(friction.Low, weight) / StandFactor,
		Why: "a stand that slides takes rope, scale and cables with it", Source: "memory", Moves: []string{"stand.ballast", "stand.friction_pair"},
		NotJudged: need("stand.ballast", is(s.Ballast.Set), "stand.friction_pair or stand.friction", is(haveFriction)),
	}
	side := quantity.Limit{
		Name: "overturning of the stand to its side", Part: "stand", Unit: "N·m", Hazard: true, Factor: StandFactor,
		Value: SideMoment(at.Thrust, jet, at.MotorTorque*reduction), Allowed: HoldingMoment(weight, s.BaseWidth.Value) / StandFactor,
		Why: "a jet that points aside and the torque of the rotor tip a narrow stand", Source: "memory", Moves: []string{"stand.ballast", "stand.base_width"},
		NotJudged: need("stand.jet_height", is(haveJet), "stand.ballast", is(s.Ballast.Set), "stand.base_width", is(s.BaseWidth.Set)),
	}
	return append(dst, over, slide, side)
}
