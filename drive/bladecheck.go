package drive

import (
	"math"

	"jetwright/physics/blade"
)

// MapCheck is the map that a drive works with held against a full solve of its blades at one place.
type MapCheck struct {
	What        string
	Water       float64 // temperature of other water, K; 0 in the drive's own
	Path        string  // of the number that is moved alone
	Amount      float64 // by so much, SI
	Head, Power float64 // what the map is off the full solve, over it
	Reason      string  // why there is no full solve; empty if there is one
}

// What a map is held against, about the state: shares of the flow, of the rotor speed at the same flow coefficient, temperatures of
// the water in K. The map of a drive is settled for its water; its rotor speed is that of the design point.
var (
	checkedFlows = []struct {
		name  string
		share float64
	}{{"flow 5 % less", 0.95}, {"flow 10 % more", 1.1}, {"flow 20 % more", 1.2}}
	checkedSpeeds = []struct {
		name  string
		share float64
	}{{"half the rotor speed", 0.5}, {"a quarter more rotor speed", 1.25}}
	checkedWaters = []float64{277.15, 301.15}
)

// mapChecks holds the map against full solves about a state.
func (m *Machine) mapChecks(pump *blade.Pump, c blade.Condition) []MapCheck {
	b := *m.blades
	made := m.bladeMap.map_
	d := m.Path.Impeller.Diameter
	held := func(what string, p *blade.Pump, c blade.Condition, changes []float64) MapCheck {
		out := MapCheck{What: what}
		var st blade.State
		stage, reason := blade.NewStage(p, BladeRadii)
		if reason == blade.Solved {
			reason = stage.Solve(c, &st)
		}
		if reason != blade.Solved {
			out.Reason = reason.Error()
			return out
		}
		made.Settle(&b.Curve, changes, blade.NominalTerms())
		phi := c.Flow / (c.RotorSpeed * d * d * d)
		u2 := c.RotorSpeed * c.RotorSpeed * d * d
		psi, _ := b.Head(phi)
		out.Head = psi*u2/c.Gravity/st.Head - 1
		out.Power = b.Power(phi)*c.Density*u2*c.RotorSpeed*d*d*d/st.ShaftPower - 1
		return out
	}
	out := []MapCheck{held("here", pump, c, m.bladeChanges)}
	for _, k := range checkedFlows {
		at := c
		at.Flow *= k.share
		out = append(out, held(k.name, pump, at, m.bladeChanges))
	}
	for _, k := range checkedSpeeds {
		at := c
		at.RotorSpeed *= k.share
		at.Flow *= k.share
		out = append(out, held(k.name, pump, at, m.bladeChanges))
	}
	moved := make([]float64, len(m.bladeChanges))
	for _, k := range checkedWaters {
		w := m.Drive.Water
		w.Temperature = k
		at, p := c, w.Properties()
		at.Density, at.Viscosity = p.Density, p.KinematicViscosity
		copy(moved, m.bladeChanges)
		moved[len(moved)-1] -= math.Log(p.KinematicViscosity / c.Viscosity) // the rotor speed stands for the Reynolds number
		x := held("", pump, at, moved)
		x.Water = k
		out = append(out, x)
	}
	if m.Drive.maps == nil || len(m.bladeChanges) == 1 {
		return out
	}
	// every number that the map knows, two of its steps either way, and all a step at once
	worst := MapCheck{}
	all := *pump
	copy(moved, m.bladeChanges)
	together := append([]float64(nil), m.bladeChanges...)
	for k, path := range m.Drive.maps.paths {
		step, _ := blade.StepOf(path)
		if pump.Number(path) == nil {
			continue
		}
		*all.Number(path) += step
		together[k] += step
		for _, by := range []float64{2 * step, -2 * step} {
			p := *pump
			*p.Number(path) += by
			copy(moved, m.bladeChanges)
			moved[k] += by
			if x := held("the worst of the toleranced numbers, moved alone", &p, c, moved); x.Reason == "" && math.Abs(x.Head) > math.Abs(worst.Head) {
				worst = x
				worst.Path, worst.Amount = path, by
			}
		}
	}
	if worst.Path != "" {
		out = append(out, worst)
	}
	return append(out, held("all toleranced numbers moved at once", &all, c, together))
}
