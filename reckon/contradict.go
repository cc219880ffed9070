package reckon

import (
	"fmt"

	"jetwright/bench"
	"jetwright/drive"
	"jetwright/notice"
	"jetwright/physics/jet"
)

// Contradictions refuses readings that no jet through this nozzle can have made: a static
// efficiency above one at the place where the power was read, even at the good end of their
// limits.
func Contradictions(m *drive.Machine, evidence []Evidence) error {
	var faults notice.List
	for _, e := range evidence {
		for _, p := range e.Plateaus {
			t, haveT := p.Figure(bench.Thrust)
			w, haveP := p.Figure(bench.Power)
			if !haveT || !haveP {
				continue
			}
			u := func(f bench.Figure) float64 { return 2 * f.StandardUncertainty() }
			least := t.Value - u(t)
			if least <= 0 {
				continue
			}
			eta := jet.StaticEfficiency(least, m.Water.Density, m.Path.NozzleArea, w.Value+u(w))
			if eta <= 1 {
				continue
			}
			shown := jet.StaticEfficiency(t.Value, m.Water.Density, m.Path.NozzleArea, w.Value)
			faults = append(faults, notice.Notice{
				Kind: notice.Error, Place: p.Place, Path: "reading",
				What:    fmt.Sprintf("%s contradicts momentum: %.4g N from %.4g W through this nozzle is a static efficiency of %.2f", p.Name, t.Value, w.Value, shown),
				Allowed: "even an ideal jet stays at 1",
				WayOut:  "look at the units of thrust and power, the tare, and nozzle.diameter",
			})
		}
	}
	return faults.Fatal()
}
