package jet

import "jetwright/quantity"

// rampSeparation is the inlet velocity ratio (throat velocity over craft speed) below which
// the flow leaves the intake ramp (23rd ITTC citing Bulten, second-hand; 0.7 in a flush
// intake of 2025).
const rampSeparation = 0.65

// Bounds are what the limits of the water path are held against, where the builder has
// typed bounds of their own.
type Bounds struct {
	SuctionSpecificSpeed quantity.Optional
	CavitationLoss       float64 // share of the head
}

// Limits appends the limits of the water path for a state.
func (p *Path) Limits(dst []quantity.Limit, s State, b Bounds) []quantity.Limit {
	if p.Blades == nil || b.SuctionSpecificSpeed.Set { // blades say what suction head they need
		dst = append(dst, quantity.Limit{
			Name: "suction specific speed", Part: "impeller", Unit: "1",
			Value: s.SuctionSpecificSpeed, Allowed: b.SuctionSpecificSpeed.Or(p.Suction3(s.FlowCoefficient)), Factor: 1,
			Why: "beyond it cavitation takes more than 3 % of the head, and soon all of the thrust that more power should bring", Source: "brennen-1994",
			Moves: []string{"impeller.diameter", "nozzle.diameter", "impeller.head_coefficient", "shaft.height", "intake.throat_loss"},
		})
	}
	dst = append(dst,
		quantity.Limit{
			Name: "head lost to cavitation", Part: "impeller", Unit: "%",
			Value: 1 - s.CavitationFactor, Allowed: b.CavitationLoss, Factor: 1,
			Why: "thrust falls behind the power that is put in", Source: "own",
			Moves: []string{"impeller.diameter", "nozzle.diameter", "shaft.height"},
		},
		quantity.Limit{
			Name: "craft speed over throat velocity", Part: "intake", Unit: "1",
			Value: s.ThroatVelocityRatio, Allowed: 1 / rampSeparation, Factor: 1,
			Why: "beyond it the flow leaves the intake ramp and the pump is fed unevenly", Source: "bulten-2006",
			Moves: []string{"intake.throat_area", "nozzle.diameter"},
		},
		quantity.Limit{
			Name: "pressure at the highest blade tip", Part: "impeller", Unit: "m", Sense: quantity.AtLeast,
			Value: s.NPSHAvailable, Allowed: 1, Zero: p.Medium.AirPressure / (p.Medium.Density * p.Medium.Gravity), Factor: 1,
			Why: "with less than a metre of water above vapour pressure the intake itself cavitates", Source: "own",
			Moves: []string{"intake.throat_area", "intake.throat_loss", "shaft.height"},
		},
	)
	flow := quantity.Limit{
		Name: "pump flow against its curve", Part: "impeller", Unit: "1", Factor: 1,
		Why: "outside it the pump curve is extrapolated", Source: "own", Moves: []string{"nozzle.diameter", "impeller.design_flow_ratio"},
	}
	switch pump := p.Pump.(type) {
	case *EstimatedPump:
		q := s.FlowCoefficient / pump.FlowCoefficient
		flow.Value, flow.Allowed = q, 1.5
		if q < 1 {
			flow.Sense, flow.Allowed, flow.Zero = quantity.AtLeast, 0.5, 1
		} else {
			flow.Zero = 1
		}
	case *TablePump:
		flow.Value, flow.Zero, flow.Allowed = s.FlowCoefficient, (pump.low+pump.high)/2, pump.high
		if s.FlowCoefficient < flow.Zero {
			flow.Sense, flow.Allowed = quantity.AtLeast, pump.low
		}
	case BladedPump:
		return dst // the blades say it themselves
	default:
		flow.NotJudged = "the pump map does not say over which flows it holds"
	}
	return append(dst, flow)
}
