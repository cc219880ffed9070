package drive

import (
	"math"
	"strings"

	"jetwright/physics/blade"
)

// BladeEffect is what a step of one number of the blades does to the pump at a state's flow and rotor speed, both solved in full.
type BladeEffect struct {
	Amount     float64 // of the step, SI; of a list at every section
	Unit       string  // of the amount: deg, mm, or 1 for a share
	Words      string  // in the place of an amount: another choice, a blade more
	Head       float64 // change over the head, -
	Power      float64 // change over the power at the impeller shaft, -
	Efficiency float64 // change of the efficiency, -
	Breakdown  float64 // change of the NPSH below which the head falls, over it, -
	Reason     string  // why there is no state; empty if there is one
}

// bladeLists are the lists that are changed all along the span by a number of their own.
var bladeLists = map[string]struct {
	key, unit string
	step      float64
}{
	"inlet_angle": {"inlet_angle_offset", "deg", math.Pi / 180}, "outlet_angle": {"outlet_angle_offset", "deg", math.Pi / 180},
	"chord": {"chord_factor", "1", 0.05}, "thickness": {"thickness_factor", "1", 0.05},
}

// BladeEffects works out what steps of a key do; none for a key that is no number of the blades, or without blades.
func (m *Machine) BladeEffects(s *State, path string) []BladeEffect {
	if m.blades == nil {
		return nil
	}
	part, key, _ := strings.Cut(path, ".")
	pump := m.Drive.Pump()
	row := func(p *blade.Pump) *blade.Row {
		if part == "stator" {
			return &p.Stator
		}
		return &p.Impeller
	}
	if part == "stator" && pump.Stator.Blades == 0 {
		return nil
	}
	c := m.bladeCondition(s.Jet.RotorSpeed, s.Jet.Flow)
	solve := func(p *blade.Pump, st *blade.State) blade.Reason {
		stage, reason := blade.NewStage(p, BladeRadii)
		if reason != blade.Solved {
			return reason
		}
		return stage.Solve(c, st)
	}
	var base, st blade.State
	if solve(&pump, &base) != blade.Solved {
		return nil
	}
	breakdown := func(x *blade.State) float64 { return x.Cavitation(blade.Inlet{}, 1, nil).BreakdownNPSH }
	var out []BladeEffect
	try := func(e BladeEffect, change func(*blade.Pump)) {
		p := pump
		change(&p)
		if reason := solve(&p, &st); reason != blade.Solved {
			e.Reason = reason.Error()
		} else {
			e.Head, e.Power, e.Efficiency, e.Breakdown = st.Head/base.Head-1, st.ShaftPower/base.ShaftPower-1, st.Efficiency-base.Efficiency, breakdown(&st)/breakdown(&base)-1
		}
		out = append(out, e)
	}
	by := func(number string, step float64, unit string) {
		for _, x := range []float64{step, -step} {
			try(BladeEffect{Amount: x, Unit: unit}, func(p *blade.Pump) { *p.Number(number) += x })
		}
	}
	if l, ok := bladeLists[key]; ok && (part == "impeller" || part == "stator") {
		by(part+"."+l.key, l.step, l.unit)
		return out
	}
	if pump.Number(path) != nil {
		step, _ := blade.StepOf(path)
		unit := "1"
		switch {
		case strings.HasSuffix(path, "angle_offset"), strings.HasSuffix(path, "deviation_offset"):
			step, unit = math.Pi/180, "deg"
		case strings.HasSuffix(path, "_radius"), strings.HasSuffix(path, "tip_gap"):
			unit = "mm"
		}
		by(path, step, unit)
		return out
	}
	choose := func(words []string, now string, set func(*blade.Pump, string)) {
		for _, w := range words {
			if w != now {
				try(BladeEffect{Words: w}, func(p *blade.Pump) { set(p, w) })
			}
		}
	}
	switch path {
	case "impeller.blades", "stator.blades":
		try(BladeEffect{Words: "a blade more"}, func(p *blade.Pump) { row(p).Blades++ })
		try(BladeEffect{Words: "a blade less"}, func(p *blade.Pump) { row(p).Blades-- })
	case "impeller.surface", "stator.surface":
		choose([]string{"printed", "sanded", "filled", "machined"}, row(&pump).Surface, func(p *blade.Pump, w string) { row(p).Surface = w })
	case "impeller.form", "stator.form":
		choose([]string{"65-series", "C4", "double arc", "plate"}, row(&pump).Form, func(p *blade.Pump, w string) { row(p).Form = w })
	case "terms.deviation":
		choose([]string{"Lieblein", "Carter"}, pump.Terms.Deviation, func(p *blade.Pump, w string) { p.Terms.Deviation = w })
	}
	return out
}
