package report

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"jetwright/desk"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/quantity"
	"jetwright/reckon"
)

// spoken writes a time as it is spoken: seconds, minutes, hours.
func spoken(t float64) string {
	switch {
	case math.IsInf(t, 1):
		return "never"
	case t < 120:
		return fmt.Sprintf("%.3g s", t)
	case t < 7200:
		return fmt.Sprintf("%.3g min", t/60)
	}
	return fmt.Sprintf("%.3g h", t/3600)
}

// spanOf writes a time with its interval, "never" where its high end has none.
func spanOf(f desk.Figure) string {
	if math.IsInf(f.Low, 1) {
		return "no"
	}
	if math.IsInf(f.Value, 1) {
		return "no; at the soonest " + spoken(f.Low)
	}
	text := spoken(f.Value)
	if f.Low == f.High {
		return text
	}
	return text + " [" + spoken(f.Low) + ", " + spoken(f.High) + "]"
}

func celsius(x float64) desk.Figure {
	return desk.Figure{Value: x, Low: x, High: x, Unit: quantity.MustUnit("°C")}
}

// degrees writes a temperature to the whole degree, for tables.
func (s Style) degrees(x float64) string {
	u := s.unit(quantity.MustUnit("°C"))
	return fmt.Sprintf("%.0f %s", u.FromSI(x), u.Symbol)
}

// holds says what a thermal verdict holds for.
func (s Style) holds(c desk.Course) string {
	text := fmt.Sprintf("water %s, %s", s.text(celsius(c.Water)), spoken(c.Seconds))
	if c.FaultAt <= 0 && c.Ending.Kind != drive.Finished {
		text = fmt.Sprintf("water %s, until it ended after %s", s.text(celsius(c.Water)), spoken(c.Ending.Time))
	}
	if c.FaultAt > 0 {
		text += fmt.Sprintf(" of fault after %s of duty", spoken(c.FaultAt))
	}
	return text
}

// briefly is holds for a table.
func (s Style) briefly(c desk.Course) string {
	if c.FaultAt > 0 {
		return fmt.Sprintf("%s, %s + %s", s.degrees(c.Water), spoken(c.FaultAt), spoken(c.Seconds))
	}
	return fmt.Sprintf("%s, %s", s.degrees(c.Water), spoken(c.Seconds))
}

// heat writes how hot the drive gets.
func (p *page) heat(a *desk.HeatAnswer) {
	p.heading("Heat of " + a.Name)
	p.prose("  ", "    ", fmt.Sprintf("duty, from %s: %s; %s in all", a.From, stepTexts(a.Steps), spoken(a.Seconds)))
	p.line("  %s", p.interval(a.Draws))
	p.failed(a.Failed, a.Draws)
	p.heatLearned(a)
	p.heatNow(a)
	p.heatSteady(a)
	if len(a.Courses) > 0 {
		p.heatCourse(a.Courses[0])
	}
	p.heatWhatIf(a)
	p.heatTrips(a)
	if len(a.Assumed) > 0 {
		p.heading("Assumed")
		var keys []string
		for _, in := range a.Assumed {
			keys = append(keys, in.Path)
		}
		p.prose("  ", "    ", fmt.Sprintf("%s that only temperatures over time depend on: %s. A weighed motor, its housing's and plate's temperature over one warm-up, and what the mounts are made of narrow most.", count(len(keys), "number"), strings.Join(keys, ", ")))
	}
	p.notices(a.Notices)
	p.cautions(a.Cautions)
}

// mostSteps is how many steps of a duty are written out.
const mostSteps = 8

func stepTexts(legs []drive.Leg) string {
	var out []string
	for i, l := range legs {
		if i == mostSteps {
			out = append(out, fmt.Sprintf("and %d more", len(legs)-i))
			break
		}
		if n := len(out); n > 0 && out[n-1] == l.Text {
			continue
		}
		out = append(out, l.Text)
	}
	return strings.Join(out, ", ")
}

// mostTaught is how many numbers that runs have narrowed are written out.
const mostTaught = 6

// heatLearned writes measured against network.
func (p *page) heatLearned(a *desk.HeatAnswer) {
	l := a.Learned
	if l == nil {
		return
	}
	p.heading("Measured against the network, at the end of each plateau")
	var rows [][]string
	agree, agreeAfter := 0, 0
	for _, r := range l.Rows {
		row := []string{r.Plateau, p.text(r.Power), strings.TrimSuffix(string(r.Channel), " temperature"), p.text(r.Measured), p.text(r.Designed), string(r.Verdict)}
		if l.Used {
			row = append(row, p.text(r.Learned), string(r.LearnedAgrees))
		}
		rows = append(rows, row)
		if r.Verdict == reckon.Agree {
			agree++
		}
		if r.LearnedAgrees == reckon.Agree {
			agreeAfter++
		}
	}
	head := []string{"", "power", "temperature", "measured", "as designed", "verdict"}
	if l.Used {
		head = append(head, "as learned", "verdict")
	}
	p.grid(head, rows)
	for _, x := range l.Left {
		p.prose("  ", "    ", "not used: "+x)
	}
	if !l.Used {
		p.prose("  ", "    ", fmt.Sprintf("%d of %d agree; nothing is learned: %s. What follows is as designed.", agree, len(l.Rows), l.Why))
		return
	}
	text := fmt.Sprintf("%d of %d agree as designed, %d as learned. The runs tell about %s apart; ", agree, len(l.Rows), agreeAfter, count(int(math.Round(l.Told)), "number"))
	var parts []string
	for i, t := range l.Numbers {
		if i == mostTaught {
			parts = append(parts, fmt.Sprintf("and %d more", len(l.Numbers)-i))
			break
		}
		u := t.Input.Field.Unit
		parts = append(parts, fmt.Sprintf("%s %s, was %s", t.Input.Path, p.text(desk.Figure{Value: t.Value, Low: t.Low, High: t.High, Unit: u}), p.text(desk.Figure{Value: 0.5 * (t.BeforeLow + t.BeforeHigh), Low: t.BeforeLow, High: t.BeforeHigh, Unit: u})))
	}
	if len(parts) == 0 {
		text += "no single one of the design's is narrowed by more than a seventh: what they tell are sums of several. "
	} else {
		text += "narrowed most: " + strings.Join(parts, "; ") + ". "
	}
	p.prose("  ", "    ", text+"All that they do not tell stays as typed or assumed. What follows is worked out with what was learned; --as-designed leaves it out.")
}

func (p *page) heatNow(a *desk.HeatAnswer) {
	if a.Now == nil {
		return
	}
	n := a.Now
	held := "nothing says how long it was held"
	if n.Held > 0 {
		held = "held " + spoken(n.Held)
	}
	p.heading(fmt.Sprintf("Now: %s at %s", n.Reading, desk.Describe(n.Condition)))
	p.line("  water %s, %s; begun as cold as the water", p.text(celsius(n.Water)), held)
	if n.Why != "" {
		p.prose("  ", "    ", "not predicted: "+n.Why)
	}
	var rows [][]string
	for _, l := range n.Lines {
		then, steady := "", ""
		if l.HasThen {
			then = p.text(l.Then)
		}
		if n.Why == "" {
			steady = p.text(l.Steady)
		}
		rows = append(rows, []string{string(l.Channel), p.text(l.Measured), then, steady})
	}
	p.grid([]string{"", "measured", "by the network then", "steady"}, rows)
}

func (p *page) heatSteady(a *desk.HeatAnswer) {
	p.heading("Steady: " + a.SteadyAt)
	if a.SteadyWhy != "" {
		p.prose("  ", "    ", "there is none: "+a.SteadyWhy)
		return
	}
	if len(a.Courses) > 0 {
		p.prose("  ", "    ", fmt.Sprintf("water %s, held for as long as it takes; the charge stands still, though the battery may be empty before", p.text(celsius(a.Courses[0].Water))))
	}
	var rows [][]string
	for _, n := range a.Steady {
		if n.Name == drive.NodeWater {
			continue
		}
		bound := ""
		if n.Allowed > 0 {
			bound = p.degrees(n.Allowed)
		}
		rows = append(rows, []string{n.Name, p.text(n.Figure), bound})
	}
	p.grid([]string{"", "temperature", "nearest bound"}, rows)
}

// heatTimes is how many times a table of a course has.
const heatTimes = 7

// heatNodes are the nodes that a table of a course shows.
var heatNodes = []struct{ node, short string }{
	{drive.NodeWinding, "winding"}, {drive.NodeMagnets, "magnets"}, {drive.NodeJacket, "housing"}, {drive.NodeJunction, "bridge"}, {drive.NodePlate, "plate"}, {drive.NodeCells, "cells"}, {drive.NodeAir, "air"},
}

// tableRows picks rows of a course: even ones over the duty, its end, and the end of the soak.
func tableRows(c desk.Course) []int {
	if len(c.Times) == 0 {
		return nil
	}
	last := len(c.Times) - 1
	var out []int
	add := func(t float64) {
		k := 0
		for k < last && c.Times[k] < t-1e-9 {
			k++
		}
		if len(out) == 0 || out[len(out)-1] != k {
			out = append(out, k)
		}
	}
	end := c.Ending.Time
	for i := range heatTimes - 1 {
		add(end * float64(i) / (heatTimes - 2))
	}
	add(c.Times[last])
	return out
}

func (p *page) heatCourse(c desk.Course) {
	p.heading("Over time: " + p.holds(c))
	p.prose("  ", "    ", c.Ending.String()+ended(c)+"; energy at the battery's terminals "+p.text(c.Energy))
	head := []string{"time", "charge", "battery", "thrust"}
	for _, n := range heatNodes {
		head = append(head, n.short)
	}
	if c.Folds {
		head = append(head, "current left")
	}
	var rows [][]string
	for _, i := range tableRows(c) {
		r := c.Rows[i]
		row := []string{spoken(r.Time), fmt.Sprintf("%.0f %%", 100*r.Charge), fmt.Sprintf("%.1f V", r.BatteryVoltage), p.about(r.Thrust, "N")}
		for _, n := range heatNodes {
			for _, k := range c.Nodes {
				if k.Name == n.node {
					row = append(row, p.degrees(k.Value[i]))
				}
			}
		}
		if c.Folds {
			row = append(row, fmt.Sprintf("%.0f %%", 100*r.Fold))
		}
		rows = append(rows, row)
	}
	p.grid(head, rows, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12)
	if c.Folds {
		p.prose("  ", "    ", capital(p.folded(c))+".")
	}
	if c.Soak > 0 {
		p.line("  the last row is %s after the motor stopped", spoken(c.Times[len(c.Times)-1]-c.Ending.Time))
	}
	p.heading("Limits over time, nearest first: " + p.holds(c))
	p.heatLimits(c)
}

// folded says what the controller's foldback takes over a course.
func (p *page) folded(c desk.Course) string {
	if math.IsInf(c.FoldTime.Value, 1) {
		return "foldback bites in some of the drawn drives only, at the soonest after " + spoken(c.FoldTime.Low) + ", and leaves " + p.text(c.FoldLeast) + " of the phase current asked for at least"
	}
	return "foldback bites after " + spanOf(c.FoldTime) + " and leaves " + p.text(c.FoldLeast) + " of the phase current asked for at least"
}

// ended says how the draws ended where that differs.
func ended(c desk.Course) string {
	if len(c.Ends) < 2 {
		return ""
	}
	var parts []string
	for _, k := range slices.Sorted(maps.Keys(c.Ends)) {
		parts = append(parts, fmt.Sprintf("%d %s", c.Ends[k], k))
	}
	return fmt.Sprintf(" (of %d drawn drives: %s)", c.Draws, strings.Join(parts, ", "))
}

func (p *page) heatLimits(c desk.Course) {
	var rows [][]string
	for _, l := range c.Limits {
		bound := p.degrees(l.Allowed)
		if l.Tolerance > 0 {
			bound += fmt.Sprintf(" ± %.0f K", l.Tolerance)
		}
		reached := spanOf(l.Time)
		if l.Share > 0 && l.Share < 1 {
			reached += fmt.Sprintf(", %.0f %% of draws", math.Max(1, 100*l.Share))
		}
		rows = append(rows, []string{l.State.String(), l.Name, p.text(l.Peak), bound, reached, l.Source})
	}
	p.grid([]string{"", "limit", "peak", "bound", "reached after", "source"}, rows)
	for _, l := range c.Limits {
		if l.State == explore.Broken {
			p.prose("  ", "    ", l.Name+": "+l.Why)
		}
	}
}

func (p *page) heatWhatIf(a *desk.HeatAnswer) {
	if len(a.Courses) < 2 {
		return
	}
	p.heading("What if")
	p.prose("  ", "    ", fmt.Sprintf("in water at %s; a fault begins at the end of the hardest step and that step goes on. Times count from the fault. A trip that is typed stops the motor in \"coolant blocked\" and \"hose off\" alone, a foldback acts in all but \"sensor frozen\"; what is not typed does nothing.", p.text(celsius(a.WarmWater))))
	var rows [][]string
	for _, c := range a.Courses[1:] {
		if c.Why != "" {
			rows = append(rows, []string{c.Name, "", "", "", "not worked out: " + c.Why})
			continue
		}
		first, when := "none", ""
		if l := c.Limits[0]; !math.IsInf(l.Time.Low, 1) {
			first, when = l.Name, spanOf(l.Time)
		}
		peak := ""
		for _, n := range c.Nodes {
			if n.Name == drive.NodeWinding {
				peak = p.text(n.Peak)
			}
		}
		end := "done"
		if c.Ending.Kind != drive.Finished {
			end = fmt.Sprintf("%s after %s", endShort(c), spoken(c.Ending.Time))
		}
		if c.Folds {
			end += fmt.Sprintf("; folds to %.0f %%", 100*c.FoldLeast.Value)
		}
		rows = append(rows, []string{c.Name, p.briefly(c), peak, first, when, end})
	}
	p.grid([]string{"", "holds for", "winding, peak", "first limit", "reached after", "end"}, rows)
	for _, c := range a.Courses[1:] {
		means := c.Means
		if c.Folds {
			means += "; " + p.folded(c)
		}
		p.prose("  "+c.Name+": ", "    ", means)
	}
}

func endShort(c desk.Course) string {
	switch c.Ending.Kind {
	case drive.Empty:
		return "empty"
	case drive.AtCutOff:
		return "at the cut-off"
	case drive.Tripped:
		return "stopped"
	case drive.RanAway:
		return "runs away"
	}
	return "cannot be met"
}

func (p *page) heatTrips(a *desk.HeatAnswer) {
	if len(a.Trips) == 0 {
		return
	}
	p.heading("Trips: what a working sensor is to be set to")
	for _, t := range a.Trips {
		name := map[string]string{drive.NodeJacket: "the motor's housing", drive.NodePlate: "the controller's plate"}[t.Sensor]
		p.prose("  "+name+": ", "    ", p.trip(t))
	}
}

func (p *page) trip(t desk.Trip) string {
	switch {
	case !t.Reached:
		return fmt.Sprintf("no limit behind it is reached in what was worked out; anything above %s lets the duty pass (%s)", p.degrees(t.Normal.High), t.Key)
	case t.Serves:
		return fmt.Sprintf("%s or below, so that %s is not passed with \"%s\"; the duty itself reaches %s there (%s)", p.degrees(math.Floor(t.Value-zeroC)+zeroC), t.For, t.In, p.text(t.Normal), t.Key)
	}
	return fmt.Sprintf("none serves: with \"%s\" the %s is passed while the sensor shows %s, which the duty itself reaches (%s); watch the outlet's water, or put the sensor nearer to what is hot", t.In, t.For, p.degrees(t.Value), p.text(t.Normal))
}

const zeroC = 273.15

// heat is the report's part on temperatures over time.
func (b *binder) heat() []block {
	a := b.a.Heat
	if a == nil || len(a.Courses) == 0 || len(a.Courses[0].Times) == 0 {
		return nil
	}
	base := a.Courses[0]
	out := b.taken(func(p *page) {
		p.prose("Duty:", "", fmt.Sprintf("%s, from %s; %s in all, in water at %s. %s.", stepTexts(a.Steps), a.From, spoken(a.Seconds), p.text(celsius(base.Water)), capital(base.Ending.String())))
	}, false)
	out = append(out, b.taken(func(p *page) { p.heatLearned(a) }, true)...)
	out = append(out, b.heatFigures(a)...)
	out = append(out, b.taken(func(p *page) {
		p.heading("Limits over time, nearest first: " + p.holds(base))
		p.heatLimits(base)
	}, true)...)
	out = append(out, b.taken(func(p *page) { p.heatWhatIf(a) }, true)...)
	out = append(out, b.blocked(a)...)
	return append(out, b.taken(func(p *page) { p.heatTrips(a); p.heading("Cautions where it is hot"); p.cautionsOf(a.Cautions[:2]) }, true)...)
}

// banded says what the bands of a picture of temperatures are.
func banded(a *desk.HeatAnswer) string {
	if a.Draws > 0 {
		return "bands hold the 90 % interval"
	}
	return "the nominal drive alone"
}

// heatFigures are the temperatures over the duty.
func (b *binder) heatFigures(a *desk.HeatAnswer) (out []block) {
	if len(a.Courses) == 0 || len(a.Courses[0].Times) == 0 {
		return nil
	}
	base := a.Courses[0]
	for i, chart := range heatCharts("heat", base, b.Style) {
		what := "Winding, magnets and housing"
		if i == 1 {
			what = "Bridge, capacitors and cells"
		}
		out = append(out, b.figure(chart.SVG(), fmt.Sprintf("%s over the duty and %s of soak-back after it, water %s; %s. A limit far above is not drawn.", what, spoken(base.Soak), b.text(celsius(base.Water)), banded(a))))
	}
	return out
}

// blocked is what the motor does when its coolant stops.
func (b *binder) blocked(a *desk.HeatAnswer) (out []block) {
	for _, c := range a.Courses {
		if c.Name == "coolant blocked" && len(c.Times) > 0 {
			chart := heatCharts("coolant-blocked", c, b.Style)[0]
			out = append(out, b.figure(chart.SVG(), fmt.Sprintf("The motor when the coolant stops after %s, %s; %s. Past a limit the curve says where the arithmetic leads, not what the motor stands.", spoken(c.FaultAt), b.holds(c), banded(a))))
		}
	}
	return out
}

func (p *page) cautionsOf(list []desk.Caution) {
	for _, c := range list {
		p.prose("  "+c.Topic+": ", "    ", c.Text)
	}
}

// HeatSVG draws the temperatures of the duty with their limits.
func HeatSVG(a *desk.HeatAnswer, s Style) string {
	var pictures []string
	for i, c := range a.Courses {
		if i > 0 && len(a.Courses) > 3 && c.Name != "coolant blocked" {
			continue // the duty and what is worst; the others when asked for by name
		}
		for _, chart := range heatCharts(fmt.Sprintf("heat-%d", i+1), c, s) {
			chart.Title += ": " + c.Name + ", " + s.holds(c)
			pictures = append(pictures, chart.SVG())
		}
	}
	return stacked("heat", "Temperatures of "+a.Name, pictures...)
}

// heatCharts are the pictures of a course: motor, then controller and battery.
func heatCharts(id string, c desk.Course, s Style) []Chart {
	degree := s.unit(quantity.MustUnit("°C"))
	last := 0.0
	if n := len(c.Times); n > 0 {
		last = c.Times[n-1]
	}
	minute, label := 60.0, "time, min"
	if last <= 150 {
		minute, label = 1, "time, s"
	} else if last > 4*3600 {
		minute, label = 3600, "time, h"
	}
	var out []Chart
	for i, part := range []struct {
		title string
		nodes []struct{ node, name string }
	}{
		{"Motor", []struct{ node, name string }{{drive.NodeWinding, "winding"}, {drive.NodeMagnets, "magnets"}, {drive.NodeJacket, "housing"}}},
		{"Controller and battery", []struct{ node, name string }{{drive.NodeJunction, "bridge"}, {drive.NodeCapacitor, "capacitor"}, {drive.NodeCells, "cells"}}},
	} {
		chart := Chart{ID: fmt.Sprintf("%s-%d", id, i+1), Title: part.title, XLabel: label, YLabel: "temperature, " + degree.Symbol, Height: 330}
		top := 0.0
		for _, n := range part.nodes {
			for _, k := range c.Nodes {
				if k.Name != n.node {
					continue
				}
				curve := Curve{Name: n.name}
				for j, t := range c.Times {
					curve.X = append(curve.X, t/minute)
					curve.Y = append(curve.Y, degree.FromSI(k.Value[j]))
					curve.Low = append(curve.Low, degree.FromSI(k.Low[j]))
					curve.High = append(curve.High, degree.FromSI(k.High[j]))
					top = math.Max(top, k.High[j])
				}
				chart.Curves = append(chart.Curves, curve)
			}
		}
		for _, l := range c.Limits {
			for _, n := range part.nodes {
				// a bound far above would press the curves flat
				if l.Node == n.node && l.Allowed < top+(top-c.Water)+20 {
					chart.Curves = append(chart.Curves, Curve{
						Name: "limit: " + l.Name, X: []float64{0, last / minute}, Dashed: true,
						Y: []float64{degree.FromSI(l.Allowed), degree.FromSI(l.Allowed)},
					})
				}
			}
		}
		if c.FaultAt > 0 {
			chart.Moments = append(chart.Moments, Moment{c.FaultAt / minute, c.Name})
		}
		if c.Soak > 0 && c.Ending.Time > c.FaultAt {
			chart.Moments = append(chart.Moments, Moment{c.Ending.Time / minute, "motor stops"})
		}
		if c.Folds && !math.IsInf(c.FoldTime.Value, 1) && c.FoldTime.Value > 0 {
			chart.Moments = append(chart.Moments, Moment{(math.Max(c.FaultAt, 0) + c.FoldTime.Value) / minute, "folds back"})
		}
		out = append(out, chart)
	}
	return out
}

// heatObject is the answer as JSON.
func (s Style) heatObject(a *desk.HeatAnswer) object {
	o := object{{"duty", object{{"from", a.From}, {"steps", stepList(a.Steps)}, {"time_s", s.exact(a.Seconds, "s")}}}, {"draws", a.Draws}}
	if n := a.Now; n != nil {
		var lines []object
		for _, l := range n.Lines {
			x := object{{"channel", string(l.Channel)}, {"measured_degC", s.figure(l.Measured)}}
			if l.HasThen {
				x.add("then_degC", s.figure(l.Then))
			}
			if n.Why == "" {
				x.add("steady_degC", s.figure(l.Steady))
			}
			lines = append(lines, x)
		}
		o.add("now", object{{"run", n.Run}, {"reading", n.Reading}, {"condition", s.condition(n.Condition)}, {"held_s", s.exact(n.Held, "s")}, {"water_degC", s.exact(n.Water, "°C")}, {"temperatures", lines}, {"not_predicted", n.Why}})
	}
	if l := a.Learned; l != nil {
		o.add("learned", s.learnedObject(l))
	}
	var steady []object
	for _, n := range a.Steady {
		steady = append(steady, object{{"node", n.Name}, {"temperature_degC", s.figure(n.Figure)}})
	}
	o.add("steady", object{{"at", a.SteadyAt}, {"nodes", steady}, {"none", a.SteadyWhy}})
	var courses []object
	for i, c := range a.Courses {
		courses = append(courses, s.courseObject(c, i == 0))
	}
	o.add("courses", courses)
	var trips []object
	for _, t := range a.Trips {
		x := object{{"sensor", t.Sensor}, {"key", t.Key}, {"serves", t.Reached && t.Serves}, {"duty_degC", s.figure(t.Normal)}}
		if t.Reached {
			x.add("at_most_degC", s.exact(t.Value, "°C"))
			x.add("limit", t.For)
			x.add("what_if", t.In)
		}
		trips = append(trips, x)
	}
	o.add("trips", trips)
	o.add("notices", notices(a.Notices))
	o.add("cautions", cautionTexts(a.Cautions))
	return o
}

// learnedObject is measured against network as JSON.
func (s Style) learnedObject(l *desk.HeatLearned) object {
	rows := []object{}
	for _, r := range l.Rows {
		x := object{
			{"run", r.Run},
			{"plateau", r.Plateau},
			{"channel", string(r.Channel)},
			{"power_W", s.figure(r.Power)},
			{"measured_degC", s.figure(r.Measured)},
			{"as_designed_degC", s.figure(r.Designed)},
			{"as_designed", string(r.Verdict)},
		}
		if l.Used {
			x.add("as_learned_degC", s.figure(r.Learned))
			x.add("as_learned", string(r.LearnedAgrees))
		}
		rows = append(rows, x)
	}
	numbers := []object{}
	for _, t := range l.Numbers {
		u := t.Input.Field.Unit
		numbers = append(numbers, object{{"path", t.Input.Path}, {"unit", u.Symbol}, {"value", s.figure(desk.Figure{Value: t.Value, Low: t.Low, High: t.High, Unit: u})}, {"left_of_uncertainty", round(t.Left, 3)}})
	}
	return object{{"used", l.Used}, {"why_not", l.Why}, {"rows", rows}, {"numbers_told", round(l.Told, 3)}, {"narrowed", numbers}, {"left_out", l.Left}}
}

func stepList(legs []drive.Leg) []string {
	var out []string
	for _, l := range legs {
		out = append(out, l.Text)
	}
	return out
}

func (s Style) courseObject(c desk.Course, rows bool) object {
	o := object{{"name", c.Name}, {"means", c.Means}, {"water_degC", s.exact(c.Water, "°C")}, {"holds_for_s", s.exact(c.Seconds, "s")}}
	if c.Why != "" {
		o.add("not_worked_out", c.Why)
		return o
	}
	if c.FaultAt >= 0 {
		o.add("fault_at_s", s.exact(c.FaultAt, "s"))
	}
	o.add("ending", c.Ending.String())
	o.add("end_time_s", s.figure(c.EndTime))
	o.add("charge_percent", s.figure(c.Charge))
	o.add("battery_energy_Wh", s.figure(c.Energy))
	if c.Folds {
		x := object{{"least_percent", s.figure(c.FoldLeast)}}
		t := object{}
		for _, k := range []struct {
			key string
			v   float64
		}{{"value", c.FoldTime.Value}, {"low", c.FoldTime.Low}, {"high", c.FoldTime.High}} {
			if !math.IsInf(k.v, 1) {
				t.add(k.key, k.v)
			}
		}
		x.add("after_s", t)
		o.add("foldback", x)
	}
	var limits []object
	for _, l := range c.Limits {
		x := object{
			{"name", l.Name},
			{"part", l.Part},
			{"node", l.Node},
			{"state", l.State.String()},
			{"peak_degC", s.figure(l.Peak)},
			{"bound_degC", s.exact(l.Allowed, "°C")},
			{"bound_tolerance_K", l.Tolerance},
			{"source", l.Source},
			{"share_of_draws", l.Share},
		}
		if !math.IsInf(l.Time.Low, 1) {
			t := object{}
			for _, k := range []struct {
				key string
				v   float64
			}{{"value", l.Time.Value}, {"low", l.Time.Low}, {"high", l.Time.High}} {
				if !math.IsInf(k.v, 1) {
					t.add(k.key, k.v)
				}
			}
			x.add("reached_after_s", t)
		}
		limits = append(limits, x)
	}
	o.add("limits", limits)
	if !rows {
		return o
	}
	var list []object
	for i, r := range c.Rows {
		x := object{{"time_s", r.Time}, {"charge_percent", 100 * r.Charge}, {"battery_voltage_V", r.BatteryVoltage}, {"battery_power_W", r.BatteryPower}, {"thrust_N", r.Thrust}}
		if c.Folds {
			x.add("current_left_percent", 100*r.Fold)
		}
		for _, n := range c.Nodes {
			x.add(strings.ReplaceAll(n.Name, " ", "_")+"_degC", s.figure(desk.Figure{Value: n.Value[i], Low: n.Low[i], High: n.High[i], Unit: quantity.MustUnit("°C")}))
		}
		list = append(list, x)
	}
	o.add("rows", list)
	return o
}
