package reckon

import (
	"fmt"
	"math"

	"jetwright/bench"
	"jetwright/drive"
	"jetwright/notice"
	"jetwright/numeric"
	"jetwright/physics/jet"
)

// Contradictions refuses readings that no jet through this nozzle can have made: a static
// efficiency above one at the place where the power was read, even at the good end of their
// limits.
func Contradictions(m *drive.Machine, evidence []Evidence) error {
	var faults notice.List
	for _, e := range evidence {
		m := e.Machine(m)
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

// Suspicions names readings that are most likely in another unit, of another shaft or on each
// other's place: they stand off the design by just that.
func Suspicions(m *drive.Machine, evidence []Evidence) notice.List {
	var list notice.List
	for _, e := range evidence {
		for _, run := range byRun(e.Plateaus) {
			list = append(list, suspect(e.Machine(m), run)...)
		}
	}
	return list
}

// byRun parts plateaus by their run.
func byRun(plateaus []bench.Plateau) [][]bench.Plateau {
	var out [][]bench.Plateau
	for _, p := range plateaus {
		if k := len(out) - 1; k >= 0 && out[k][0].Run == p.Run {
			out[k] = append(out[k], p)
			continue
		}
		out = append(out, []bench.Plateau{p})
	}
	return out
}

// unitSlips are factors by which a figure is off if its unit was mistaken.
var unitSlips = []struct {
	channel bench.Channel
	factor  float64
	words   string
}{
	{bench.Thrust, 1 / 9.80665, "kgf taken for N"},
	{bench.Thrust, 9.80665, "N taken for kgf"},
	{bench.Thrust, 1 / 4.4482216, "lbf taken for N"},
	{bench.Thrust, 0.45359237, "lbf taken for kgf"},
	{bench.Power, 1e-3, "kW taken for W"},
	{bench.Power, 1e3, "W taken for kW"},
}

// Rules of suspicion. Our own.
const (
	slipFar  = 1.9  // by which the steps must be off before a slip is looked for
	slipNear = 0.25 // within which they must agree with the slip
)

func suspect(m *drive.Machine, run []bench.Plateau) notice.List {
	ratios := map[bench.Channel][]float64{}
	above := 0.0
	windings, bridges, windingsOff, bridgesOff := 0.0, 0.0, 0.0, 0.0
	temperatures := 0
	for _, p := range run {
		c, ok := ReadingCondition(p, "battery")
		if !ok {
			continue
		}
		s, err := m.Solve(c)
		if err != nil {
			continue
		}
		if f, ok := p.Figure(bench.Thrust); ok && f.Value > 0 {
			ratios[bench.Thrust] = append(ratios[bench.Thrust], f.Value/s.Thrust)
		}
		if n, ok := p.Figure(bench.RotorSpeed); ok && n.Value > 0 && c.Demand != drive.RotorSpeed {
			ratios[bench.RotorSpeed] = append(ratios[bench.RotorSpeed], n.Value/s.RotorSpeed)
			if v, ok := p.Figure(bench.BatteryVoltage); ok && v.Value > 0 {
				above = math.Max(above, n.Value*m.Drive.Shaft.Reduction*m.Chain.Constant()/v.Value)
			}
		}
		w, haveW := p.Figure(bench.WindingTemperature)
		b, haveB := p.Figure(bench.BridgeTemperature)
		if haveW && haveB {
			rise := func(t float64) float64 { return t - m.Drive.Water.Temperature }
			sw, sb := s.Motor.WindingTemperature, s.Heat.BridgeTemperature
			windings += math.Abs(rise(w.Value) - rise(sw))
			bridges += math.Abs(rise(b.Value) - rise(sb))
			windingsOff += math.Abs(rise(w.Value) - rise(sb))
			bridgesOff += math.Abs(rise(b.Value) - rise(sw))
			temperatures++
		}
	}
	var list notice.List
	say := func(what, out string) {
		list = append(list, notice.Notice{Kind: notice.Warning, Place: run[0].Place, What: run[0].Run + ": " + what, WayOut: out})
	}
	middle := func(x []float64) float64 { m, _ := numeric.Median(x); return m }
	if t := ratios[bench.Thrust]; len(t) > 0 {
		k := middle(t)
		best, words := slipNear, ""
		for _, u := range unitSlips {
			if u.channel != bench.Thrust || k < slipFar && k > 1/slipFar {
				continue
			}
			if d := math.Abs(math.Log(k / u.factor)); d < best {
				best, words = d, u.words
			}
		}
		if words != "" {
			say(fmt.Sprintf("the pull is %.3g times what the design makes, which is just what %s would do", k, words), "look at the unit of the pull in run.toml")
		}
	}
	if n := ratios[bench.RotorSpeed]; len(n) > 0 {
		k := middle(n)
		if whole := math.Round(k); whole >= 2 && math.Abs(k/whole-1) < 0.15 && (above > 1.05 || above == 0) {
			say(fmt.Sprintf("the rotor speed is %.2f times what the design turns and %.2f times what the motor turns without load: it looks like turns of the field with %.0f pole pairs", k, above, whole),
				"divide it by the pole pairs in the instrument, and log again")
		} else if above > 1.05 {
			say(fmt.Sprintf("the rotor speed is %.2f times what the motor turns without load at that voltage", above), "look at the unit of the rotor speed, and at motor.speed_constant")
		}
	}
	for _, c := range []struct {
		channel bench.Channel
		of      func(*drive.State) float64
	}{
		{bench.WindingTemperature, func(s *drive.State) float64 { return s.Motor.WindingTemperature }},
		{bench.BridgeTemperature, func(s *drive.State) float64 { return s.Heat.BridgeTemperature }},
	} {
		list = append(list, suspectTemperature(m, run, c.channel, c.of)...)
	}
	if temperatures > 1 && windingsOff+bridgesOff < 0.35*(windings+bridges) && windings+bridges > 6*float64(temperatures) {
		say("winding and bridge temperatures fit each other's prediction far better than their own: they look swapped", "look at the sensors' plugs, or swap the two channels in run.toml")
	}
	return list
}

// heldLong is how long a step must have been held before its temperature is looked at, s; our own.
const heldLong = 60

// suspectTemperature names a temperature that is in another unit, or that does not rise although the
// losses say that it must.
func suspectTemperature(m *drive.Machine, run []bench.Plateau, c bench.Channel, of func(*drive.State) float64) notice.List {
	var shown, made []float64
	for _, p := range run {
		f, ok := p.Figure(c)
		at, known := ReadingCondition(p, "battery")
		if !ok || !known || p.Held.Or(0) < heldLong {
			continue
		}
		s, err := m.Solve(at)
		if err != nil {
			continue
		}
		shown, made = append(shown, f.Value), append(made, of(&s))
	}
	if len(shown) < 2 {
		return nil
	}
	var list notice.List
	say := func(what, out string) {
		list = append(list, notice.Notice{Kind: notice.Warning, Place: run[0].Place, What: run[0].Run + ": the " + string(c) + " " + what, WayOut: out})
	}
	lowest, highest := 0, 0
	off, offFahrenheit := 0.0, 0.0
	for i := range made {
		if made[i] < made[lowest] {
			lowest = i
		}
		if made[i] > made[highest] {
			highest = i
		}
		off += math.Abs(shown[i]-made[i]) / float64(len(made))
		offFahrenheit += math.Abs(273.15+(shown[i]-273.15-32)/1.8-made[i]) / float64(len(made))
	}
	const far, near = 25.0, 12.0 // K
	if off > far && offFahrenheit < near {
		say("reads like degrees Fahrenheit taken for Celsius", "look at its unit in run.toml")
		return list
	}
	rise, must := shown[highest]-shown[lowest], made[highest]-made[lowest]
	if must > 6 && rise < 0.12*must {
		say(fmt.Sprintf("rose by %.1f K from the lowest to the highest step, where the losses make %.0f K", rise, must), "look whether the sensor sits where it should, and read it with a second one")
	}
	return list
}
