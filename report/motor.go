package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"jetwright/desk"
	"jetwright/drive"
)

// MotorSVG is the picture of motor and controller over speed and torque, with the running line.
func MotorSVG(a *desk.MotorAnswer, s Style) string { return motorPicture(a, s, false) }

func motorPicture(a *desk.MotorAnswer, s Style, bare bool) string {
	rpm, torque := s.unit(unitOf("rpm")), s.unit(unitOf("N·m"))
	m := a.Map
	c := Contours{
		Bare: bare, ID: "motor-map", Title: "Efficiency of motor and controller", XLabel: "motor speed, " + rpm.Symbol, YLabel: "torque at the motor shaft, " + torque.Symbol,
		LevelText: percent,
		Line:      Curve{Name: "the jet at rest, low to full throttle"},
	}
	for _, w := range m.Speeds {
		c.X = append(c.X, rpm.FromSI(w))
	}
	best := 0.0
	for i, t := range m.Torques {
		c.Y = append(c.Y, torque.FromSI(t))
		row := make([]float64, len(m.Speeds))
		for j, p := range m.Points[i] {
			row[j] = p.MotorAndController
			if p.MotorAndController == 0 {
				row[j] = math.NaN()
			}
			if drawable(row[j]) {
				best = math.Max(best, row[j])
			}
		}
		c.Z = append(c.Z, row)
	}
	c.Levels = efficiencyLevels(best)
	bound := func(name string, list []float64, soft bool) {
		if list == nil {
			return
		}
		b := Bound{Name: name, Soft: soft}
		for _, t := range list {
			b.Y = append(b.Y, torque.FromSI(t))
		}
		c.Bounds = append(c.Bounds, b)
	}
	bound("voltage", m.Voltage, m.Weakened != nil)
	bound("voltage, field weakened", m.Weakened, false)
	bound("phase current", m.PhaseCurrent, false)
	bound("battery current", m.BatteryCurrent, false)
	for _, st := range m.Running {
		c.Line.X, c.Line.Y = append(c.Line.X, rpm.FromSI(st.MotorSpeed)), append(c.Line.Y, torque.FromSI(st.MotorTorque))
	}
	dot := func(st drive.State, label, kind string) {
		c.Marks = append(c.Marks, Mark{X: rpm.FromSI(st.MotorSpeed), Y: torque.FromSI(st.MotorTorque), Label: label, Kind: kind})
	}
	dot(m.Duty, "design point, "+s.rounded(m.Duty.BatteryPower, "W"), "plateau")
	if n := len(m.Running); n > 0 {
		dot(m.Running[n-1], "end, "+s.rounded(m.Running[n-1].BatteryPower, "W"), "reading")
	}
	c.About = fmt.Sprintf("%s over %s and %s: lines of equal efficiency up to %s, the running line of the jet at rest, and limits of voltage and current.",
		c.Title, c.XLabel, c.YLabel, percent(best))
	return c.SVG()
}

// rounded writes a figure that carries no interval, to three digits.
func (s Style) rounded(x float64, unit string) string { return s.roundedTo(x, unit, 3) }

// rough writes an estimate, to two digits.
func (s Style) rough(x float64, unit string) string { return s.roundedTo(x, unit, 2) }

func (s Style) roundedTo(x float64, unit string, digits int) string {
	u := s.unit(unitOf(unit))
	number := strconv.FormatFloat(round(u.FromSI(x), digits), 'f', -1, 64)
	if u.IsOne() {
		return number
	}
	return number + " " + u.Symbol
}

// mapNote says what the map holds for.
func (p *page) mapNote(a *desk.MotorAnswer) string {
	m := a.Map
	t := fmt.Sprintf("nominal values, over the controller's input; the map has its winding at %s, that of the design point, and water at %s; the running line has its own steady temperatures",
		p.rounded(m.Winding, "°C"), p.rounded(m.Coolant, "°C"))
	if m.AtBound {
		t = strings.Replace(t, "that of the design point", "the bound of its insulation, which the design point goes beyond", 1)
	}
	switch {
	case m.Weakens:
		t += "; where the voltage does not suffice the field is weakened, with the losses of the current against the magnets"
	case m.Weakened != nil:
		t += "; where the field is weakened the current against the magnets is not counted among the losses: this controller does not weaken it (controller.weakening_current)"
	}
	return t
}

func (p *page) motor(a *desk.MotorAnswer) {
	p.motorConstants(a)
	p.motorLosses(a)
	p.heading("Along the running line, at rest from low to full throttle")
	p.prose("  ", "  ", p.mapNote(a))
	p.running(a)
	p.runningEnd(a)
}

func (p *page) motorConstants(a *desk.MotorAnswer) {
	p.heading("Motor constant, in every convention")
	for _, t := range a.Typed {
		c := ""
		if t.Convention != "" {
			c = ", in the " + t.Convention + " convention"
		}
		p.line("  %s = %s%s", t.Path, t.Text, c)
	}
	if len(a.Typed) == 2 {
		p.prose("  ", "  ", fmt.Sprintf("the torque constant is %.3f of what the speed constant gives; the speed constant goes before it", a.Ratio))
	}
	var rows [][]string
	for _, c := range a.Constants {
		rows = append(rows, []string{c.Doc, p.text(c.Figure), c.How})
	}
	p.grid([]string{"convention", "value", "from K"}, rows)
	p.prose("  ", "  ", "K is volt peak between two lines by radian per second, and N·m by ampere of the equivalent direct-current motor; for a sine, its ampere is 1.155 A peak and 0.816 A rms of a phase")
	p.line("  torque for one watt in the winding, K/√R: %s", p.text(a.Quality))
	p.prose("  ", "    ", a.Magnets)
}

func (p *page) motorLosses(a *desk.MotorAnswer) {
	p.heading("Losses at the design point: " + desk.Describe(a.Condition))
	p.line("  %s", p.interval(a.Draws))
	p.failed(a.Failed, a.Draws)
	var rows [][]string
	for _, l := range a.Losses {
		rows = append(rows, []string{l.Name, p.text(l.Figure), fmt.Sprintf("%.1f %%", 100*l.Share)})
	}
	p.grid([]string{"", "power", "of the battery's"}, rows, 3)
	if f := a.Weakening; f.High > 0 {
		p.line("  the field is weakened by %s against the magnets, peak of a phase; its loss is in the winding's", p.text(f))
	}
	p.prose("  ", "  ", a.Copper)
	for _, f := range a.Split {
		p.line("  of iron, windage, bearings %s %s", p.text(f), f.Doc)
	}
	if a.Told != "" {
		p.prose("  ", "  ", a.Told)
	}
}

// runningRows is about how many states of the running line are listed.
const runningRows = 8

func (p *page) running(a *desk.MotorAnswer) {
	var rows [][]string
	n := len(a.Map.Running)
	step := max(1, n/runningRows)
	for i := n - 1; i >= 0; i -= step {
		s := a.Map.Running[i]
		in := s.BatteryPower - s.Supply.WiringLoss
		row := []string{
			p.rounded(s.BatteryPower, "W"), p.rounded(s.Thrust, "N"), p.rounded(s.MotorSpeed, "rpm"), p.rounded(s.MotorTorque, "N·m"),
			fmt.Sprintf("%.1f %%", 100*s.ShaftPower/s.ControllerPower), fmt.Sprintf("%.1f %%", 100*s.ShaftPower/in),
			p.rounded(s.Motor.PhaseCurrentRMS, "A"), p.rounded(s.Motor.WindingTemperature, "°C"), fmt.Sprintf("%.0f %%", 100*s.Supply.Modulation),
		}
		if a.Map.Weakens {
			row = append(row, p.rounded(s.Motor.DirectCurrent, "A"))
		}
		rows = append([][]string{row}, rows...)
	}
	head := []string{"battery power", "thrust", "motor speed", "torque", "motor", "motor, controller", "phase, rms", "winding", "voltage used"}
	if a.Map.Weakens {
		head = append(head, "against magnets")
	}
	p.grid(head, rows, 5, 6, 9)
}

func (p *page) runningEnd(a *desk.MotorAnswer) {
	b := a.Map.Best
	if b.Torque > 0 {
		p.prose("  ", "    ", fmt.Sprintf("best within voltage: %.1f %% at %s and %s; at the design point motor and controller have %.1f %%",
			100*b.MotorAndController, p.rounded(b.Speed, "rpm"), p.rounded(b.Torque, "N·m"), 100*dutyEfficiency(a)))
	}
	p.prose("  ", "    ", "the line ends at "+a.LineEnd())
	texts := a.CrossingTexts()
	if len(texts) == 0 {
		p.line("  no limit that could be judged is met along it")
	} else {
		p.line("  limits met along it, the first one first (steady, water at %s):", p.rounded(a.WaterTemp, "°C"))
	}
	for _, t := range texts {
		p.prose("  - ", "    ", t)
	}
}

func dutyEfficiency(a *desk.MotorAnswer) float64 {
	d := a.Map.Duty
	return d.ShaftPower / (d.BatteryPower - d.Supply.WiringLoss)
}

func (s Style) motorObject(a *desk.MotorAnswer) object {
	o := object{{"condition", s.condition(a.Condition)}, {"draws", a.Draws}}
	var typed, constants, losses, split, running []object
	for _, t := range a.Typed {
		k := object{{"path", t.Path}, {"value", t.Text}}
		if t.Convention != "" {
			k.add("convention", t.Convention)
		}
		typed = append(typed, k)
	}
	for _, c := range a.Constants {
		constants = append(constants, object{{"convention", c.Doc}, {key("constant", c.Unit), s.figure(c.Figure)}, {"from_constant", c.How}})
	}
	for _, l := range a.Losses {
		losses = append(losses, object{{"name", l.Name}, {"path", l.Path}, {"power_W", s.figure(l.Figure)}, {"share", l.Share}})
	}
	for _, f := range a.Split {
		split = append(split, object{{"part", f.Doc}, {"power_W", s.figure(f)}})
	}
	o.add("typed", typed)
	o.add("constants", constants)
	if len(a.Typed) == 2 {
		o.add("torque_constant_over_speed_constant", a.Ratio)
	}
	o.add("torque_for_one_watt_N_m", s.figure(a.Quality))
	o.add("magnets", a.Magnets)
	o.add("copper", a.Copper)
	o.add("losses", losses)
	if a.Weakening.High > 0 {
		o.add("current_against_magnets_A", s.figure(a.Weakening))
	}
	o.add("no_load_split", split)
	if a.Told != "" {
		o.add("no_load_not_told", a.Told)
	}
	m := a.Map
	for i, st := range m.Running {
		running = append(running, object{
			{"throttle", m.RunningThrottle[i]},
			{"battery_power_W", round(st.BatteryPower, 5)},
			{"thrust_N", round(st.Thrust, 5)},
			{"motor_speed_rpm", round(unitOf("rpm").FromSI(st.MotorSpeed), 5)},
			{"motor_torque_N_m", round(st.MotorTorque, 5)},
			{"motor_efficiency", round(st.ShaftPower/st.ControllerPower, 5)},
			{"motor_and_controller_efficiency", round(st.ShaftPower/(st.BatteryPower-st.Supply.WiringLoss), 5)},
			{"phase_current_rms_A", round(st.Motor.PhaseCurrentRMS, 5)},
			{"winding_temperature_degC", round(st.Motor.WindingTemperature-273.15, 4)},
			{"voltage_share_used", round(st.Supply.Modulation, 5)},
		})
		if m.Weakens {
			running[len(running)-1].add("current_against_magnets_A", round(st.Motor.DirectCurrent, 5))
		}
	}
	o.add("running_line", running)
	o.add("running_line_ends", a.LineEnd())
	o.add("limits_met", append([]string{}, a.CrossingTexts()...))
	o.add("map", s.mapObject(m))
	o.add("notices", notices(a.Notices))
	o.add("cautions", cautionTexts(a.Cautions))
	return o
}

func (s Style) mapObject(m *drive.MotorMap) object {
	row := func(list []float64, f func(float64) float64) []float64 {
		out := make([]float64, len(list))
		for i, x := range list {
			out[i] = round(f(x), 5)
		}
		return out
	}
	plain := func(x float64) float64 { return x }
	o := object{
		{"winding_degC", round(m.Winding-273.15, 4)},
		{"water_degC", round(m.Coolant-273.15, 4)},
		{"best_motor_and_controller_efficiency", round(m.Best.MotorAndController, 5)},
		{"speeds_rpm", row(m.Speeds, unitOf("rpm").FromSI)},
		{"torques_N_m", row(m.Torques, plain)},
		{"voltage_limit_torque_N_m", row(m.Voltage, plain)},
	}
	for _, l := range []struct {
		key  string
		list []float64
	}{{"voltage_limit_weakened_torque_N_m", m.Weakened}, {"phase_current_limit_torque_N_m", m.PhaseCurrent}, {"battery_current_limit_torque_N_m", m.BatteryCurrent}} {
		if l.list != nil {
			o.add(l.key, row(l.list, plain))
		}
	}
	var grid [][]any
	for _, r := range m.Points {
		var cells []any
		for _, p := range r {
			if p.MotorAndController > 0 {
				cells = append(cells, round(p.MotorAndController, 4))
			} else {
				cells = append(cells, nil) // the battery does not pass it
			}
		}
		grid = append(grid, cells)
	}
	o.add("motor_and_controller_efficiency_by_torque_and_speed", grid)
	return o
}

// round keeps digits of a figure that carries no interval.
func round(x float64, digits int) float64 {
	if x == 0 || !drawable(x) {
		return 0
	}
	ten := math.Pow(10, float64(digits-1)-math.Floor(math.Log10(math.Abs(x))))
	return math.Round(x*ten) / ten
}

// motorMap is the part of the web page.
func (b *binder) motorMap() []block {
	a := b.a.Motor
	if a == nil {
		return nil
	}
	out := append(b.motorFigure(a), b.taken(func(p *page) { p.running(a); p.runningEnd(a) }, false)...)
	return append(out, b.taken(func(p *page) { p.motorConstants(a) }, true)...)
}

// motorFigure is the picture of motor and controller with what it says.
func (b *binder) motorFigure(a *desk.MotorAnswer) []block {
	return []block{b.figure(motorPicture(a, b.Style, true), capital((&page{Style: b.Style}).mapNote(a))+". What lies beyond a limit is hatched.")}
}
