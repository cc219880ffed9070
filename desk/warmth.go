package desk

import (
	"math"

	"jetwright/bench"
	"jetwright/drive"
	"jetwright/project"
	"jetwright/reckon"
)

// WarmDay is how the temperatures of a day follow the heat.
type WarmDay struct {
	List       []reckon.Warmth
	Predicted  []WarmStep
	Housed     reckon.Housed
	HasHoused  bool
	Sensorless []reckon.Sensorless
	Shared     []SharedSensors
	Water      float64 // of the day, K; 0 where nobody typed or logged it
}

// WarmStep is where a temperature settles at a power at rest.
type WarmStep struct {
	Channel bench.Channel
	Source  string
	Power   float64 // W, at the day's place
	Day     reckon.Temperature
	Summer  reckon.Temperature // in water at SummerWater
	HasDay  bool
	Known   bool // the day's water is known, so that SummerWater is a difference
}

// SharedSensors are two logs of one quantity that one error can make wrong together.
type SharedSensors struct {
	Channel bench.Channel
	Sources []string
	Supply  string
}

// SummerWater is the water that temperatures are shown for beside the day's own, K.
const SummerWater = 25 + 273.15

// nextDoubt is the relative standard uncertainty of a current that the law of rest carries to another power.
const nextDoubt = 0.01

// warmDay fits a day's temperatures.
func warmDay(p *project.Project, day *bench.Reduction, m *drive.Machine) *WarmDay {
	w := &WarmDay{List: reckon.Warmths(day, m, 0)}
	relative := 0.0
	if v, ok := p.Design.Value("motor.winding_resistance"); ok && v.Nominal() > 0 {
		relative = v.StandardUncertainty() / v.Nominal()
	}
	top := -1
	power := 0.0
	for i, pl := range day.Plateaus {
		if f, ok := pl.Figure(bench.Power); ok && f.Value > power {
			top, power = i, f.Value
		}
	}
	water := m.Drive.Water.Temperature
	known := false
	if top >= 0 {
		if f, ok := day.Plateaus[top].Figure(bench.WaterTemperature); ok {
			water, known = f.Value, true
		} else if _, typed := p.Design.TypedAt("water.temperature"); typed {
			known = true
		}
	}
	if known {
		w.Water = water
	}
	for i := range w.List {
		x := &w.List[i]
		x.WithResistance(relative)
		if top < 0 {
			continue
		}
		f, okI := day.Plateaus[top].PhaseCurrentRMS()
		n, okN := day.Plateaus[top].Figure(bench.RotorSpeed)
		if !okI || !okN || x.Heating == nil {
			continue
		}
		for _, share := range []float64{1, reckon.SettledStep} {
			s := WarmStep{Channel: x.Channel, Source: x.Source, Power: share * power, Known: known}
			doubt := nextDoubt
			if share == 1 {
				doubt = 0
			}
			current, speed := f.Value*math.Pow(share, 2.0/3), n.Value*math.Cbrt(share)
			s.Day, s.HasDay = x.Steady(current, speed, doubt, 0)
			if s.HasDay && known {
				s.Summer, _ = x.Steady(current, speed, doubt, SummerWater-water)
			}
			w.Predicted = append(w.Predicted, s)
		}
	}
	w.Housed, w.HasHoused = reckon.CaseLag(day)
	// the coldest loaded plateau anchors: between the water and what the winding's sensor or the fit makes of it
	if len(day.Plateaus) > 0 {
		anchor, u := water, 5.0
		if f, ok := day.Plateaus[0].Figure(bench.WindingTemperature); ok && f.Value > 0 {
			anchor, u = f.Value, math.Max(1, f.StandardUncertainty())
		}
		w.Sensorless = reckon.WithoutSensor(day, m, anchor, u)
	}
	w.Shared = shared(day)
	return w
}

// shared names the sensors of one quantity that have one supply, or stand in one log.
func shared(day *bench.Reduction) []SharedSensors {
	var out []SharedSensors
	for i, a := range day.Tracks {
		for _, b := range day.Tracks[:i] {
			if a.Channel != b.Channel {
				continue
			}
			switch {
			case a.Supply != "" && a.Supply == b.Supply:
				out = append(out, SharedSensors{a.Channel, []string{b.Source, a.Source}, a.Supply})
			case a.Source == b.Source:
				out = append(out, SharedSensors{a.Channel, []string{b.Source}, ""})
			}
		}
	}
	return out
}
