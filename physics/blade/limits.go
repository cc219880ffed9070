package blade

import (
	"fmt"

	"jetwright/notice"
	"jetwright/quantity"
)

// Limits appends the limits of the blades at a flow coefficient, for a rotor diameter in m, a speed in rad/s, gravity in m/s²
// and the NPSH that there is at the highest blade tip in m.
func (c *Curve) Limits(dst []quantity.Limit, phi, diameter, speed, gravity, npsh float64) []quantity.Limit {
	var p Point
	c.At(phi, &p)
	dst = append(dst, quantity.Limit{
		Name: "loading of the impeller's blades", Part: "impeller", Unit: "1",
		Value: p.Diffusion, Allowed: wakeEnd, Zero: 1, Factor: 1, Source: "lieblein-1959",
		Why:   "beyond it the water begins to leave the blades: largest velocity on a blade over that behind it",
		Moves: []string{"impeller.chord", "impeller.blades", "nozzle.diameter"},
	})
	if p.StatorDiffusion > 0 {
		dst = append(dst, quantity.Limit{
			Name: "loading of the stator's blades", Part: "stator", Unit: "1",
			Value: p.StatorDiffusion, Allowed: wakeEnd, Zero: 1, Factor: 1, Source: "lieblein-1959",
			Why:   "beyond it the water begins to leave the blades: largest velocity on a blade over that behind it",
			Moves: []string{"stator.chord", "stator.blades", "stator.inlet_angle"},
		})
	}
	low, high := c.Ends()
	word := "at more"
	flow := quantity.Limit{
		Name: "pump flow against its curve", Part: "impeller", Unit: "1", Value: phi, Zero: (low + high) / 2, Allowed: high, Factor: 1, Source: "own",
		Why:   "at more flow nothing was worked out, and the curve is only drawn on",
		Moves: []string{"nozzle.diameter", "impeller.inlet_angle"},
	}
	if phi < flow.Zero {
		word = "at less"
		flow.Sense, flow.Allowed = quantity.AtLeast, low
		flow.Why = word + " flow nothing was worked out, and the curve is only drawn on"
	}
	for _, h := range c.holes {
		if beyond := h.Low >= high*(1-1e-9); beyond == (flow.Sense == quantity.AtMost) {
			flow.Why = word + " flow " + h.Reason.Error()
		}
	}
	head := speed * speed * diameter * diameter / gravity
	return append(dst, flow, quantity.Limit{
		Name: "suction head against breakdown", Part: "impeller", Unit: "m", Sense: quantity.AtLeast,
		Value: npsh, Allowed: p.BreakdownNPSH * head, Factor: 1, Source: "dixon-hall-2010",
		Why:   "with less the blades lose head to cavitation; the figure scatters by some 27 %",
		Moves: []string{"impeller.diameter", "nozzle.diameter", "shaft.height"},
	})
}

// Doubts says where a state leans on something doubtful. section names the part that each row stands in.
func (st *State) Doubts(section [2]string) []notice.Notice {
	var out []notice.Notice
	say := func(path, what, allowed, way string) {
		out = append(out, notice.Notice{Kind: notice.Warning, Path: path, What: what, Allowed: allowed, WayOut: way})
	}
	for i, r := range []*RowState{&st.Impeller, &st.Stator} {
		if r.Iterations == 0 {
			continue
		}
		if r.StalledShare > 0 {
			say(section[i], fmt.Sprintf("sections that carry %.0f %% of the flow have stalled", 100*r.StalledShare), "none; from 25 % on the row counts as stalled", "more chord or more blades there, or less turning")
		}
		least, most, rough := r.Elements[0], r.Elements[0], r.Elements[0]
		for j := range st.Radii {
			e := r.Elements[j]
			if e.Reynolds < least.Reynolds {
				least = e
			}
			if e.DiffusionFactor > most.DiffusionFactor {
				most = e
			}
			if e.RoughnessRatio > rough.RoughnessRatio {
				rough = e
			}
		}
		if least.Reynolds < 1e5 {
			say(section[i], fmt.Sprintf("the Reynolds number on the chord falls to %.2g, where blades may be laminar for a stretch", least.Reynolds), "1e5 or more", "")
		}
		if most.DiffusionFactor > 0.6 {
			say(section[i], fmt.Sprintf("the diffusion factor reaches %.2f at a radius of %s mm", most.DiffusionFactor, mm(most.InletRadius)), "0.6 or less", "more chord or more blades there")
		}
		if rough.RoughnessRatio > 2 {
			say(section[i]+".surface", fmt.Sprintf("the surface is %.0f times as rough as a blade may be here; that costs %.0f W", rough.RoughnessRatio, r.Loss.Roughness), "as good as smooth", "sand and fill the blades, the leading third of the back first")
		}
	}
	return out
}
