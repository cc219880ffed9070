package report

import (
	"fmt"
	"math"
	"strings"

	"jetwright/bench"
	"jetwright/desk"
	"jetwright/drive"
	"jetwright/quantity"
)

// z90 is the half-width of a 90 % interval in standard deviations.
const z90 = 1.6448536269514722

func unitOf(symbol string) quantity.Unit {
	u, _ := quantity.LookupUnit(symbol)
	return u
}

// shown is an amount in the unit that the style shows it in.
func (s Style) shown(x float64, u quantity.Unit) float64 { return s.unit(u).FromSI(x) }

// bare is a figure without its interval, rounded as if it had it.
func (s Style) bare(f desk.Figure) string {
	text, _, _ := strings.Cut(s.text(f), " [")
	return text
}

// stationPaths are the figures of a state that stand below the stations of the section.
var stationPaths = [8][]string{
	0: {"speed"},
	1: {"jet.ingested_velocity"},
	2: {"jet.throat_velocity"},
	3: {"jet.axial_velocity", "jet.inlet_pressure"},
	5: {"jet.outlet_pressure"},
	6: {"jet.nozzle_velocity", "jet.nozzle_pressure"},
	7: {"jet.jet_velocity"},
}

func stationFigures(f desk.Figures, s Style) []SectionFigure {
	if !f.Has() {
		return nil
	}
	var out []SectionFigure
	for k, paths := range stationPaths {
		at := SectionFigure{Station: k}
		for _, p := range paths {
			at.Lines = append(at.Lines, s.bare(f.Of(p)))
		}
		if len(paths) > 0 {
			out = append(out, at)
		}
	}
	return out
}

// ledgerSVG draws the watt ledger of an answer, in watts whatever the style.
func ledgerSVG(id string, a *desk.DutyAnswer) string {
	var bars []LedgerBar
	for _, l := range a.Ledger {
		kind := "loss"
		switch {
		case l.Path == "jet.thrust_power":
			kind = "thrust"
		case l.Value < 0:
			kind = "gain"
		}
		bars = append(bars, LedgerBar{Name: l.Name, Text: (Style{}).text(l.Figure), Watts: l.Value, Kind: kind})
	}
	total := 0.0
	if a.State.Has() {
		total = a.State.Of("battery_power").Value
	}
	return LedgerSVG(id, bars, total)
}

// DutySVG is the picture of a drive at its design point: the long section with the watt ledger
// below.
func DutySVG(a *desk.DutyAnswer, s Style) string {
	return stacked("drive", "The drive at "+desk.Describe(a.Condition),
		Section{ID: "section", Drive: a.Drive, Figures: stationFigures(a.State, s), Style: s, Assumed: a.Untyped, Marks: strengthMarks(a.Limits, s)}.SVG(), ledgerSVG("ledger", a))
}

// stacked sets finished pictures below each other in one.
func stacked(id, title string, pictures ...string) string {
	type part struct {
		svg  string
		w, h float64
	}
	var parts []part
	width, height := 0.0, 0.0
	for _, svg := range pictures {
		p := part{svg: svg}
		_, box, _ := strings.Cut(svg, `viewBox="0 0 `)
		if _, err := fmt.Sscanf(box, "%g %g", &p.w, &p.h); err != nil {
			continue
		}
		parts = append(parts, p)
		width, height = math.Max(width, p.w), height+p.h+12
	}
	p := newPencil(id, width, height)
	y := 0.0
	for _, k := range parts {
		p.b.WriteString(strings.Replace(k.svg, "<svg ", fmt.Sprintf(`<svg x="%s" y="%s" `, px((width-k.w)/2), px(y)), 1))
		y += k.h + 12
	}
	return p.svg(title, title)
}

func markOf(p bench.Plateau) string {
	switch {
	case p.Unsettled != "":
		return "unsettled"
	case p.Span.Length() > 0:
		return "plateau"
	}
	return "reading"
}

// placed names a place of power within a sentence.
var placed = map[string]string{"battery": "at the battery", "controller": "at the controller's output", "shaft": "at the motor shaft"}

// thrust draws thrust against power, a picture for each place at which power was read.
func (b *binder) thrust() []block {
	var out []block
	for i, c := range b.a.Curves {
		chart, caption := b.thrustChart(c, i)
		out = append(out, b.figure(chart.SVG(), caption))
	}
	return out
}

func (b *binder) thrustChart(c desk.Curve, index int) (chart Chart, caption string) {
	newton, watt := unitOf("N"), unitOf("W")
	chart = Chart{
		ID: fmt.Sprintf("thrust-%d", index+1), FromZero: true, Height: 370,
		XLabel: "power " + placed[c.Place] + ", " + b.unit(watt).Symbol, YLabel: "thrust at rest, " + b.unit(newton).Symbol,
	}
	before, after := Curve{Name: "before any reading", Dashed: true}, Curve{Name: "calibrated"}
	alone := Curve{Name: "without discrepancy", Dashed: true} // an outline: its upper side from right to left, then its lower one
	none := math.NaN()
	fitted := b.a.Fit != nil
	for _, p := range c.Points {
		put := func(k *Curve, f desk.Figure, ok bool) {
			k.X = append(k.X, b.shown(p.Power, watt))
			if !ok {
				k.Y, k.Low, k.High = append(k.Y, none), append(k.Low, none), append(k.High, none)
				return
			}
			k.Y, k.Low, k.High = append(k.Y, b.shown(f.Value, newton)), append(k.Low, b.shown(f.Low, newton)), append(k.High, b.shown(f.High, newton))
		}
		put(&before, p.Before, p.HasBefore)
		put(&after, p.After, p.HasAfter)
		if p.HasAfter && p.After.High-p.After.Low > 1.02*(p.Without.High-p.Without.Low) {
			alone.X = append(append([]float64{b.shown(p.Power, watt)}, alone.X...), b.shown(p.Power, watt))
			alone.Y = append(append([]float64{b.shown(p.Without.High, newton)}, alone.Y...), b.shown(p.Without.Low, newton))
		}
	}
	if fitted {
		chart.Curves = []Curve{after, before}
		if len(alone.X) > 2 && b.a.Draws > 0 {
			chart.Curves = append(chart.Curves, alone)
		}
	} else {
		before.Name, before.Dashed = "predicted", false
		chart.Curves = []Curve{before}
	}
	var top struct{ power, thrust float64 }
	for i, pl := range b.a.Plateaus {
		w, haveW := pl.Plateau.Figure(bench.Power)
		t, haveT := pl.Plateau.Figure(bench.Thrust)
		place := pl.Plateau.PowerPlace
		if place == "" {
			place = "battery"
		}
		if !haveW || !haveT || place != c.Place {
			continue
		}
		chart.Marks = append(chart.Marks, b.mark(figureOf(w, watt), figureOf(t, newton), fmt.Sprint(i+1), markOf(pl.Plateau)))
		if pl.Plateau.Unsettled == "" && w.Value > top.power {
			top.power, top.thrust = w.Value, t.Value
		}
	}
	if below := b.foretold(c.Place); len(below) > 0 && index == 0 {
		defer func() { caption += " The squares are the highest step as predicted from the steps below it." }()
		chart.Marks = append(below, chart.Marks...)
	}
	stray := b.strays(c.Place)
	chart.Marks = append(chart.Marks, stray...)
	caption = fmt.Sprintf("Thrust at rest against power %s. ", placed[c.Place])
	switch {
	case index > 0:
		caption = fmt.Sprintf("The same against power %s, with the readings whose power was read there. ", placed[c.Place])
	case b.a.Draws == 0:
		caption = fmt.Sprintf("Thrust at rest against power %s, nominal values without intervals. ", placed[c.Place])
	case fitted:
		caption += "Bands hold the 90 % interval of " + fmt.Sprint(min(max(b.a.Draws, 1), desk.DrawsAPoint)) + " drives: hatched before any reading, plain after calibration; beyond the tested powers the calibrated band is widened by the discrepancy as for the claims, and the inner lines hold what the drive and its instruments alone leave open. "
	default:
		caption += "The band holds the 90 % interval; nothing was read yet. "
	}
	if len(chart.Marks) > len(stray) && index == 0 {
		caption += "Points are numbered as in the table of readings, with the instruments' limits in thrust and power. The calibrated curve is what the jet makes; a scale may show less, where water moves in a tub or pool and the carriage drags. "
	}
	if len(stray) > 0 {
		caption += "Steps of the logs that had not settled are drawn without a number; nothing rests on them. "
	}
	if top.power > 0 {
		law := Curve{Name: "2/3 law", Dashed: true}
		for _, p := range c.Points {
			law.X = append(law.X, b.shown(p.Power, watt))
			law.Y = append(law.Y, b.shown(top.thrust*math.Pow(p.Power/top.power, 2.0/3), newton))
		}
		chart.Curves = append(chart.Curves, law)
	}
	if top.power > 0 && index == 0 {
		caption += "The 2/3 law carries the highest settled reading on at its own static efficiency. "
	}
	if c.Unsaid {
		caption += "Readings that do not say where their power was read are drawn as if at the battery. "
	}
	for i, m := range c.Claims {
		label := "claim"
		if len(b.a.Claims) > 1 {
			label = fmt.Sprintf("claim %d", claimNumber(b.a, m)+1)
		}
		label += ": " + m.Claim.Sense + " " + m.Claim.Text
		if m.Claim.Place == "" {
			label += " if " + placed[m.Place]
		}
		chart.Marks = append(chart.Marks, b.mark(m.Power, m.Thrust, label, "claim"))
		if m.Moved && i == firstMoved(c) {
			caption += fmt.Sprintf("A claim for power at another place stands where the calibrated drive takes its power here: %s %s are %s %s. ",
				b.text(m.Claimed), placed[m.Place], b.text(m.Power), placed[c.Place])
		}
	}
	for _, k := range b.tableCurves(c.Place) {
		chart.Curves = append(chart.Curves, k)
		caption += k.Name + " is the simulation's table"
		if c.Place == "battery" {
			caption += "; rows for power at another place, or for a rotor speed, stand at the power that the calibrated drive takes at the battery there"
		}
		caption += ". "
	}
	if len(c.Absent) > 0 && index == 0 {
		caption += "Not in this picture: " + strings.Join(c.Absent, "; ") + ". "
	}
	return chart, strings.TrimSpace(caption)
}

// tableCurves are the thrusts at rest of simulations' tables over the power at a place.
func (b *binder) tableCurves(place string) []Curve {
	var out []Curve
	for i := range b.a.Tables {
		t := &b.a.Tables[i]
		k := Curve{Name: t.Claim.File, Dashed: true}
		for j := range t.Points {
			p := &t.Points[j]
			demand, _ := drive.Place(place)
			power := p.Power
			if p.Condition.Demand == demand {
				power = p.Condition.Amount
			} else if place != "battery" {
				continue
			}
			for _, f := range p.Figures {
				if f.Name == "thrust" && p.Condition.Speed == 0 && power > 0 {
					k.X, k.Y = append(k.X, b.shown(power, unitOf("W"))), append(k.Y, b.shown(f.Claimed, unitOf("N")))
				}
			}
		}
		if len(k.X) > 1 {
			out = append(out, k)
		}
	}
	return out
}

// strays are the steps of the logs that had not settled and are not among the readings.
func (b *binder) strays(place string) []Mark {
	known := map[string]bool{}
	for _, pl := range b.a.Plateaus {
		known[pl.Plateau.Run+"\n"+pl.Plateau.Name] = true
	}
	var out []Mark
	for _, d := range b.a.Days {
		if d == nil {
			continue
		}
		for _, p := range d.Plateaus {
			w, haveW := p.Figure(bench.Power)
			t, haveT := p.Figure(bench.Thrust)
			if p.Unsettled == "" || !haveW || !haveT || known[p.Run+"\n"+p.Name] || p.PowerPlace != place && (p.PowerPlace != "" || place != "battery") {
				continue
			}
			out = append(out, b.mark(figureOf(w, unitOf("W")), figureOf(t, unitOf("N")), "", "unsettled"))
		}
	}
	return out
}

func claimNumber(a *desk.ReportAnswer, m desk.ClaimMark) int {
	for i, v := range a.Claims {
		if v.Claim.Index == m.Claim.Index && v.Claim.Place_ == m.Claim.Place_ {
			return i
		}
	}
	return 0
}

func firstMoved(c desk.Curve) int {
	for i, m := range c.Claims {
		if m.Moved {
			return i
		}
	}
	return -1
}

func (b *binder) mark(x, y desk.Figure, label, kind string) Mark {
	return Mark{
		X: b.shown(x.Value, x.Unit), XLow: b.shown(x.Low, x.Unit), XHigh: b.shown(x.High, x.Unit),
		Y: b.shown(y.Value, y.Unit), YLow: b.shown(y.Low, y.Unit), YHigh: b.shown(y.High, y.Unit),
		Label: label, Kind: kind,
	}
}

// ladderHeight is that of one coefficient's chart.
const ladderHeight = 205

// ladder draws the similarity coefficients over power, or over rotor speed where no power was
// read.
func (b *binder) ladder() []block {
	if len(b.a.Plateaus) == 0 {
		return nil
	}
	place := b.a.Curves[0].Place
	rpm, watt := unitOf("rpm"), unitOf("W")
	byPower := false
	others := 0
	at := func(p bench.Plateau) bool { return p.PowerPlace == place || p.PowerPlace == "" && place == "battery" }
	for _, pl := range b.a.Plateaus {
		if _, ok := pl.Plateau.Figure(bench.Power); ok {
			byPower = true
			if !at(pl.Plateau) {
				others++
			}
		}
	}
	names := [][2]string{{"thrust coefficient", "T/(ρn²D⁴)"}, {"power coefficient", "P/(ρn³D⁵)"}, {"current coefficient", "I/n², A·s²"}, {"static efficiency", placed[place]}}
	xLabel := "power " + placed[place] + ", " + b.unit(watt).Symbol
	if !byPower {
		xLabel = "rotor speed, rpm"
	}
	charts := make([]Chart, len(names))
	for i := range charts {
		charts[i] = Chart{Title: names[i][0], YLabel: names[i][1], XLabel: xLabel, Height: ladderHeight}
	}
	var moved []Chart
	for _, other := range []string{"battery", "shaft"} {
		if other != place {
			moved = append(moved, Chart{Title: "static efficiency", YLabel: placed[other], XLabel: xLabel, Height: ladderHeight})
		}
	}
	for i, pl := range b.a.Plateaus {
		x, ok := pl.Plateau.Figure(bench.Power)
		u := watt
		if byPower && (!ok || !at(pl.Plateau)) {
			continue
		}
		if !byPower {
			if x, ok = pl.Plateau.Figure(bench.RotorSpeed); !ok {
				continue
			}
			u = rpm
		}
		c := pl.Coefficients
		mark := func(chart *Chart, value float64, spread float64) {
			half := z90 * spread * value
			chart.Marks = append(chart.Marks, Mark{X: b.shown(x.Value, u), Y: value, YLow: value - half, YHigh: value + half, Label: fmt.Sprint(i + 1), Kind: markOf(pl.Plateau)})
		}
		for k, q := range []struct {
			v quantity.Optional
			s float64
		}{{c.Thrust, c.ThrustSpread}, {c.Power, c.PowerSpread}, {c.Current, c.CurrentSpread}, {c.StaticEfficiency, c.EfficiencySpread}} {
			if q.v.Set {
				mark(&charts[k], q.v.Value, q.s)
			}
		}
		if w := b.a.Powers[i]; w.Known && c.StaticEfficiency.Set && byPower {
			k := 0
			for _, other := range []struct {
				place string
				power desk.Figure
			}{{"battery", w.Battery}, {"shaft", w.Shaft}} {
				if other.place == place {
					continue
				}
				share := (other.power.High - other.power.Low) / (2 * z90 * other.power.Value)
				mark(&moved[k], c.StaticEfficiency.Value*x.Value/other.power.Value, math.Hypot(c.EfficiencySpread, share))
				k++
			}
		}
	}
	var drawn []Chart
	carried := false
	for i, c := range append(charts, moved...) {
		if len(c.Marks) > 0 {
			drawn = append(drawn, c)
			carried = carried || i >= len(charts)
		}
	}
	if len(drawn) == 0 {
		return nil
	}
	caption := "Coefficients along the ladder, each reading with the 90 % interval of its scatter alone; the scales do not begin at zero. "
	if carried {
		caption += "The static efficiency at a place where power was not read takes it from the calibrated drive, whose interval is in the bar. "
	}
	if others > 0 {
		caption += "Left out here, since power was read at another place: " + count(others, "reading") + ". "
	}
	out := []block{b.figure(SmallMultiples("ladder-figures", "", "similarity coefficients of each reading along the ladder", drawn, 3), strings.TrimSpace(caption))}
	rest := b.taken(func(p *page) { p.coefficients(b.a.ReckonAnswer) }, false)
	for _, k := range rest {
		if k.Table == nil {
			continue
		}
		for i := range k.Table.Rows {
			name := &k.Table.Rows[i].Cells[0]
			name.Text = fmt.Sprintf("%d · %s", i+1, name.Text)
		}
	}
	return append(out, rest...)
}

// PredictSVG is the picture of a prediction: thrust against power, a curve for each craft
// speed that has several powers; or thrust against craft speed where no speed has.
func PredictSVG(a *desk.PredictAnswer, s Style) string {
	newton, watt, speed := unitOf("N"), unitOf("W"), unitOf("m/s")
	place := "battery"
	for i, pt := range a.Points {
		p := map[drive.Demand]string{drive.ShaftPower: "shaft", drive.ControllerPower: "controller"}[pt.Condition.Demand]
		if p == "" || i > 0 && pt.Condition.Demand != a.Points[0].Condition.Demand {
			place = "battery"
			break
		}
		place = p
	}
	path := map[string]string{"battery": "battery_power", "controller": "controller_power", "shaft": "shaft_power"}[place]
	var speeds []float64
	at := map[float64][]desk.Point{}
	for _, pt := range a.Points {
		v := pt.Condition.Speed
		if at[v] == nil {
			speeds = append(speeds, v)
		}
		at[v] = append(at[v], pt)
	}
	chart := Chart{ID: "prediction", Title: "Thrust against power", FromZero: true, YLabel: "thrust, " + s.unit(newton).Symbol, XLabel: "power " + placed[place] + ", " + s.unit(watt).Symbol}
	add := func(k *Curve, x float64, f desk.Figure) {
		k.X, k.Y = append(k.X, x), append(k.Y, s.shown(f.Value, newton))
		k.Low, k.High = append(k.Low, s.shown(f.Low, newton)), append(k.High, s.shown(f.High, newton))
	}
	none := desk.Figure{Value: math.NaN(), Low: math.NaN(), High: math.NaN()}
	for _, v := range speeds {
		if len(at[v]) < 2 {
			continue
		}
		k := Curve{Name: "at rest"}
		if v > 0 {
			u := s.unit(speed)
			k.Name = fmt.Sprintf("at %.3g %s", u.FromSI(v), u.Symbol)
		}
		for _, pt := range at[v] {
			if pt.Why == "" {
				add(&k, s.shown(pt.State.Of(path).Value, watt), pt.State.Of("thrust"))
			}
		}
		chart.Curves = append(chart.Curves, k)
	}
	if len(chart.Curves) == 0 && len(speeds) > 1 {
		chart.Title, chart.XLabel = "Thrust against craft speed", "craft speed, "+s.unit(speed).Symbol
		var k Curve
		k.Name = desk.Describe(drive.Condition{Demand: a.Points[0].Condition.Demand, Amount: a.Points[0].Condition.Amount})
		k.Name = strings.TrimSuffix(k.Name, " at rest")
		for _, v := range speeds {
			pt := at[v][0]
			f := none
			if pt.Why == "" {
				f = pt.State.Of("thrust")
			}
			add(&k, s.shown(v, speed), f)
		}
		chart.Curves = []Curve{k}
	}
	if len(chart.Curves) == 0 {
		for _, pt := range a.Points {
			if pt.Why == "" {
				p, f := pt.State.Of(path), pt.State.Of("thrust")
				x, y := s.unit(watt), s.unit(newton)
				chart.Marks = append(chart.Marks, Mark{X: x.FromSI(p.Value), Y: y.FromSI(f.Value), XLow: x.FromSI(p.Low), XHigh: x.FromSI(p.High), YLow: y.FromSI(f.Low), YHigh: y.FromSI(f.High), Kind: "reading"})
			}
		}
	}
	sortCurves(chart.Curves)
	for i := range chart.Curves {
		if a.Draws == 0 {
			chart.Curves[i].Low, chart.Curves[i].High = nil, nil
		}
	}
	return chart.SVG()
}

// sortCurves puts the points of each curve in the order of their place on the axis.
func sortCurves(list []Curve) {
	for _, k := range list {
		for i := 1; i < len(k.X); i++ {
			for j := i; j > 0 && k.X[j] < k.X[j-1]; j-- {
				for _, v := range [][]float64{k.X, k.Y, k.Low, k.High} {
					v[j], v[j-1] = v[j-1], v[j]
				}
			}
		}
	}
}
