package drive

import (
	"jetwright/physics/electric"
	"jetwright/physics/jet"
	"jetwright/quantity"
)

// RopeFactor is the breaking load of a knotted line over the pull: a working load of a fifth
// of the breaking load, and knots that take half of it.
const RopeFactor = 10

// Limits appends every limit of the drive at a state, those included that cannot be judged as the drive
// is typed, with the reason: a drive of which they are not known is not fine.
func (m *Machine) Limits(dst []quantity.Limit, s State) []quantity.Limit {
	d := &m.Drive
	dst = m.Path.Limits(dst, s.Jet, jet.Bounds{SuctionSpecificSpeed: d.Limits.SpecificSuction, CavitationLoss: d.Limits.CavitationLoss})
	dst = m.bladeLimits(dst, &s)
	dst = m.Chain.Limits(dst, s.Motor, s.Supply,
		electric.Temperatures{Water: d.Water.Temperature, Bridge: s.Heat.BridgeTemperature, MotorSpeed: s.MotorSpeed},
		electric.Bounds{WindingTemperature: d.Limits.WindingTemperature, MagnetTemperature: d.Limits.MagnetTemperature, BridgeTemperature: d.Limits.BridgeTemperature})
	dst = d.Cooling.Limits(dst, s.Heat, d.Water.Temperature)
	dst = m.mountsLimit(dst, s)
	dst = m.coolantLimits(dst, s)
	dst = append(dst, m.rotorLimit(s), m.scaleLimit(s), m.ropeLimit(s))
	dst = d.Stand.Limits(dst, s, m.Path.Medium.Gravity, d.Shaft.Reduction)
	return m.strengthLimits(dst, &s)
}

func (m *Machine) rotorLimit(s State) quantity.Limit {
	l := quantity.Limit{
		Name: "rotor speed", Part: "impeller", Unit: "rpm", Value: s.RotorSpeed, Factor: 1,
		Why: "the builder's own bound on the impeller", Source: "own", Moves: []string{"impeller.diameter", "impeller.head_coefficient"},
	}
	if !m.Drive.Limits.RotorSpeed.Set {
		l.NotJudged = "no limits.rotor_speed is typed"
	}
	l.Allowed = m.Drive.Limits.RotorSpeed.Value
	return l
}

func (m *Machine) scaleLimit(s State) quantity.Limit {
	l := quantity.Limit{
		Name: "pull on the scale", Part: "stand", Unit: "N", Value: s.Thrust * m.Drive.Stand.PullRatio(), Factor: 1,
		Why: "a scale pulled past its range is damaged and reads low", Source: "own", Moves: []string{"stand.scale_range"},
		Allowed: m.Drive.Stand.ScaleRange.Value,
	}
	if !m.Drive.Stand.ScaleRange.Set {
		l.NotJudged = "no stand.scale_range is typed"
	}
	return l
}

func (m *Machine) ropeLimit(s State) quantity.Limit {
	l := quantity.Limit{
		Name: "pull on the rope", Part: "stand", Unit: "N", Value: s.Thrust * m.Drive.Stand.PullRatio(), Hazard: true, Factor: RopeFactor,
		Why: "a rope that parts under load whips back; a knotted line is worked to a tenth of its breaking load", Source: "cordage-holtzman",
		Moves: []string{"stand.rope_strength"}, Allowed: m.Drive.Stand.RopeStrength.Value / RopeFactor,
	}
	if !m.Drive.Stand.RopeStrength.Set {
		l.NotJudged = "no stand.rope_strength is typed"
	}
	return l
}
