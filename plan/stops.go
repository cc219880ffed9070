package plan

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"jetwright/bench"
	"jetwright/drive"
	"jetwright/quantity"
	"jetwright/reckon"
)

// witness says what reads a channel and what a second one could be.
type witness struct {
	channel bench.Channel
	name    string
	usual   string // what usually reads it, where nothing has yet
	second  string
}

var witnesses = []witness{
	{bench.WindingTemperature, "winding temperature", "thermistor in the winding", "a second thermistor in another slot, on a plug and logger of its own"},
	{bench.BridgeTemperature, "bridge temperature", "the controller's own sensor", "a thermistor under a screw of the bridge's plate"},
	{bench.PhaseCurrent, "phase current", "the controller's own figure", "a clamp meter that reads alternating current at that frequency, on one phase"},
	{bench.BatteryVoltage, "battery voltage", "the controller's own figure", "a multimeter on the battery's terminals, not on the controller's"},
	{bench.RotorSpeed, "rotor speed", "the controller's own figure", "an optical tachometer on a mark on the coupling"},
	{bench.Thrust, "pull", "the scale", "a second scale or load cell in line, or a known weight on the rope before and after"},
}

// sensors returns what has read a channel so far: in the run in which most things did, since the same
// instrument has other names in other runs.
func (m *maker) sensors(c bench.Channel) []string {
	var best []string
	take := func(set map[string]bool) {
		if len(set) > len(best) {
			best = best[:0]
			for s := range set {
				best = append(best, s)
			}
			sort.Strings(best)
		}
	}
	for _, d := range m.Days {
		set := map[string]bool{}
		for _, t := range d.Tracks {
			if t.Channel == c {
				set[cmp.Or(t.Supply, t.Source)] = true // sensors of one supply share its error
			}
		}
		take(set)
	}
	runs := map[string]map[string]bool{}
	for _, p := range m.Plateaus {
		if f, ok := p.Figure(c); ok {
			if runs[p.Run] == nil {
				runs[p.Run] = map[string]bool{}
			}
			runs[p.Run][f.Instrument] = true
		}
	}
	names := make([]string, 0, len(runs))
	for name := range runs {
		names = append(names, name)
	}
	sort.Strings(names)
	for _, name := range names {
		take(runs[name])
	}
	return best
}

// stops says for every channel where to stop.
func (m *maker) stops() {
	top := m.Steps[m.Top]
	limits := map[string]quantity.Limit{}
	for _, l := range m.sample.Nominal.Limits(nil, m.top.Nominal) {
		name := l.Name
		if strings.HasPrefix(name, "phase current") {
			name = "phase current"
		}
		limits[name] = l
	}
	expected := func(unit string, of func(*drive.State) float64) Figure { return Figure{m.top.Figure(of), unit} }
	add := func(w bench.Channel, name, unit string, f Figure, keys ...string) {
		s := Stop{Channel: name, Unit: unit, Expected: f}
		found := false
		for _, key := range keys {
			l, ok := limits[key]
			if !ok || l.NotJudged != "" {
				continue
			}
			at := StopAt(l.Zero, l.Allowed)
			if key == "motor speed" {
				at /= m.drive.Shaft.Reduction
			}
			if key == "pull on the rope" || key == "sliding of the stand" {
				at = l.Allowed // its factor is in it
			}
			if found && (l.Sense == quantity.AtMost) == (at >= s.Stop) {
				continue
			}
			found = true
			s.Stop, s.AtLeast = at, l.Sense == quantity.AtLeast
			s.Why = "0.9 of the way to its limit"
			if key == "pull on the rope" || key == "sliding of the stand" {
				s.Why = fmt.Sprintf("%s, with its factor of %.3g", key, l.Factor)
			}
		}
		if !found {
			s.Stop, s.Why = f.High, "no limit is typed; end of what is expected"
		}
		s.Beyond = !s.AtLeast && f.High > s.Stop*(1+1e-9) || s.AtLeast && f.Low < s.Stop*(1-1e-9)
		m.witness(&s, w)
		m.Stops = append(m.Stops, s)
	}
	add(bench.WindingTemperature, "winding temperature", "°C", top.Winding, "winding temperature")
	m.magnetStop(limits["magnet temperature"])
	add(bench.BridgeTemperature, "bridge temperature", "°C", expected("°C", func(s *drive.State) float64 { return s.Heat.BridgeTemperature }), "bridge temperature")
	add(bench.PhaseCurrent, "phase current, "+m.convention(), "A", top.Current, "phase current")
	add(bench.BatteryVoltage, "battery voltage", "V", top.Voltage, "battery voltage under load")
	add(bench.RotorSpeed, "rotor speed", "rpm", top.Rotor, "rotor speed", "motor speed")
	m.pullStop(add, top)
	for _, k := range []struct {
		name, unit string
		value      float64
		rests      []bench.Channel
	}{
		{"T/(ρn²D⁴)", "1", m.top.Nominal.Jet.ThrustCoefficient * top.Pull.Value / math.Max(m.top.Nominal.Thrust*m.drive.Stand.PullRatio(), 1e-9), []bench.Channel{bench.Thrust, bench.RotorSpeed}},
		{"P/(ρn³D⁵)", "1", m.powerCoefficient(), m.powerRests()},
		{"phase current/n²", "A·s²", m.top.Nominal.CurrentCoefficient, []bench.Channel{bench.PhaseCurrent, bench.RotorSpeed}},
	} {
		s := Stop{
			Channel: k.name, Unit: k.unit, Band: true, Open: !m.Fitted, Ends: [2]float64{1 - reckon.MovedShare, 1 + reckon.MovedShare},
			Expected: Figure{m.top.Figure(func(*drive.State) float64 { return k.value }), k.unit},
			Why:      "against the steps below: cavitation, drawn air, a sensor that lies",
		}
		s.Expected.Low, s.Expected.High = k.value, k.value
		m.witnessAll(&s, k.rests)
		m.Stops = append(m.Stops, s)
	}
	for _, w := range witnesses {
		for _, s := range m.Stops {
			if s.Single && s.Second == w.second && s.Second != "" {
				m.Witnesses = append(m.Witnesses, Word{w.name, w.second, "own"})
			}
		}
	}
}

// WindingForMagnets returns the winding temperature in K at which magnets reach a temperature.
//
//	T_w = z + (T_m − z)/f
//
//	T_m  temperature of the magnets, K
//	z    temperature that both rise from, K
//	f    rise of the magnets over that of the winding, -   [Motor.MagnetRiseShare]
//
// Holds in the steady state, for a share that does not change with the load.
//
// Source: own. Tests: TestWindingForMagnetsExact.
func WindingForMagnets(magnets, zero, share float64) float64 { return zero + (magnets-zero)/share }

// magnetStop lowers the winding's stop to where the magnets, which nothing reads, near their limit.
func (m *maker) magnetStop(l quantity.Limit) {
	share := 0.0
	take := func(s *drive.State) {
		if rise := s.Motor.WindingTemperature - l.Zero; rise > 0 {
			share = math.Max(share, (s.Motor.MagnetTemperature-l.Zero)/rise)
		}
	}
	take(&m.top.Nominal)
	for i := range m.top.States {
		take(&m.top.States[i])
	}
	if l.NotJudged != "" || !(share > 0) || l.Allowed <= l.Zero {
		return
	}
	s := &m.Stops[len(m.Stops)-1]
	if at := WindingForMagnets(StopAt(l.Zero, l.Allowed), l.Zero, math.Min(share, 1)); at < s.Stop {
		s.Stop, s.Why = at, "the magnets, which nothing reads, are near their limit"
		s.Beyond = s.Expected.High > s.Stop
	}
}

// pullStop is the stop of the pull: the least of scale, rope and stand.
func (m *maker) pullStop(add func(bench.Channel, string, string, Figure, ...string), top Step) {
	add(bench.Thrust, "pull", "N", top.Pull, "pull on the scale", "pull on the rope")
	s := &m.Stops[len(m.Stops)-1]
	ratio := m.drive.Stand.PullRatio()
	for _, c := range m.Stand {
		if c.State == NotJudged || c.Unit != "N" && c.Unit != "N·m" || c.Bad <= 0 || strings.HasPrefix(c.Name, "second tether") {
			continue
		}
		// what the stand bears at the bad end, as a pull: its loads grow with the thrust
		if at := c.Allowed / c.Bad * m.worstThrust() * ratio; strings.HasSuffix(c.Name, "of the stand") && at < s.Stop {
			s.Stop, s.Why = at, fmt.Sprintf("%s, with its factor of %.3g", c.Name, c.Factor)
		}
	}
	s.Beyond = s.Expected.High > s.Stop
}

// worstThrust is the thrust that the checks took as its bad end.
func (m *maker) worstThrust() float64 {
	worst := m.top.Nominal.Thrust
	for _, c := range m.Stand {
		if c.Name == "sliding of the stand" && c.State != NotJudged {
			return c.Bad
		}
	}
	for i := range m.top.States {
		worst = math.Max(worst, m.top.States[i].Thrust)
	}
	return worst
}

// witness fills in what reads a channel.
func (m *maker) witness(s *Stop, c bench.Channel) {
	for _, w := range witnesses {
		if w.channel != c {
			continue
		}
		s.Sensors = m.sensors(c)
		s.Single = len(s.Sensors) < 2
		if len(s.Sensors) == 0 {
			s.Sensors = []string{w.usual}
		}
		s.Second = w.second
	}
}

// witnessAll fills in what reads channels that a stop rests on together: where one of them has a single witness,
// so has the stop.
func (m *maker) witnessAll(s *Stop, channels []bench.Channel) {
	for _, c := range channels {
		one := Stop{Sensors: m.sensors(c), Single: len(m.sensors(c)) < 2}
		m.witness(&one, c)
		if len(one.Sensors) == 0 {
			one.Sensors = []string{"the controller's own figure"}
		}
		s.Single = s.Single || one.Single
		for _, name := range one.Sensors {
			if !slices.Contains(s.Sensors, name) {
				s.Sensors = append(s.Sensors, name)
			}
		}
	}
}

// powerRests are the channels that the power coefficient rests on: a power that is made of voltage and current rests
// on both.
func (m *maker) powerRests() []bench.Channel {
	if len(m.sensors(bench.BatteryCurrent)) > 0 {
		return []bench.Channel{bench.BatteryVoltage, bench.BatteryCurrent, bench.RotorSpeed}
	}
	return []bench.Channel{bench.Power, bench.RotorSpeed}
}

func (m *maker) convention() string {
	switch c := m.drive.Controller.PhaseCurrentConvention; c {
	case "dc":
		return "direct-current equivalent"
	default:
		return c
	}
}

// powerCoefficient is that of the power at the plan's place.
func (m *maker) powerCoefficient() float64 {
	s := &m.top.Nominal
	rev := s.RotorSpeed / (2 * math.Pi)
	d := m.sample.Nominal.Drive.Impeller.Diameter
	if !(rev > 0) || !(d > 0) {
		return 0
	}
	return m.powerOf(s) / (m.sample.Nominal.Water.Density * rev * rev * rev * math.Pow(d, 5))
}
