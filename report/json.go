// Package report writes answers: as text for a terminal, as JSON, as pictures and as one HTML page.
// The pencil that draws is here as well. Rounding by interval
// and the choice of units happen here and nowhere else.
package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"jetwright/bench"
	"jetwright/desk"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/notice"
	"jetwright/plan"
	"jetwright/quantity"
	"jetwright/reckon"
)

// Style says how answers are shown.
type Style struct {
	Inch   bool // inches, pounds and degrees Fahrenheit in text; JSON keys stay as they are
	Colour bool
}

// inch names the unit that takes the place of a metric one.
var inch = map[string]string{
	"mm": "in", "m": "ft", "cm²": "in²", "m/s": "mph", "N": "lbf", "kgf": "lbf", "W": "hp", "kPa": "psi", "L/s": "gpm",
	"m³/s": "gpm", "°C": "°F", "kg": "lb", "N·m": "lbf·ft", "km": "mi",
}

func (s Style) unit(u quantity.Unit) quantity.Unit {
	if u.Symbol == "m³/s" && !s.Inch {
		if v, ok := quantity.LookupUnit("L/s"); ok {
			return v
		}
	}
	if s.Inch {
		if name, ok := inch[u.Symbol]; ok {
			if v, ok := quantity.LookupUnit(name); ok {
				return v
			}
		}
	}
	return u
}

// text writes a figure in the style's units.
func (s Style) text(f desk.Figure) string {
	return quantity.FormatInterval(f.Value, f.Low, f.High, s.unit(f.Unit))
}

// object is a JSON object that keeps its order.
type object []member

type member struct {
	key   string
	value any
}

func (o *object) add(key string, value any) { *o = append(*o, member{key, value}) }

// write appends the members in order, indented.
func (o object) write(b *bytes.Buffer, indent int) error {
	if len(o) == 0 {
		b.WriteString("{}")
		return nil
	}
	b.WriteByte('{')
	for i, m := range o {
		if i > 0 {
			b.WriteByte(',')
		}
		newline(b, indent+1)
		if err := writeValue(b, m.key, indent+1); err != nil {
			return err
		}
		b.WriteString(": ")
		if err := writeValue(b, m.value, indent+1); err != nil {
			return err
		}
	}
	newline(b, indent)
	b.WriteByte('}')
	return nil
}

func newline(b *bytes.Buffer, indent int) {
	b.WriteByte('\n')
	for range indent {
		b.WriteString("  ")
	}
}

// writeValue appends any value; objects and lists of them go their own way, since the standard
// encoder would copy them once a level.
func writeValue(b *bytes.Buffer, v any, indent int) error {
	switch x := v.(type) {
	case object:
		return x.write(b, indent)
	case json.RawMessage:
		b.Write(x)
		return nil
	case []object:
		if len(x) == 0 {
			b.WriteString("[]")
			return nil
		}
		b.WriteByte('[')
		for i, o := range x {
			if i > 0 {
				b.WriteByte(',')
			}
			newline(b, indent+1)
			if err := o.write(b, indent+1); err != nil {
				return err
			}
		}
		newline(b, indent)
		b.WriteByte(']')
		return nil
	case []string:
		if x == nil {
			b.WriteString("[]")
			return nil
		}
	}
	if writePlain(b, v) {
		return nil
	}
	enc := json.NewEncoder(b)
	enc.SetEscapeHTML(false)
	enc.SetIndent(strings.Repeat("  ", indent), "  ")
	if err := enc.Encode(v); err != nil {
		return err
	}
	b.Truncate(b.Len() - 1)
	return nil
}

// writePlain appends what most values are, as the standard encoder would, without making one for each.
func writePlain(b *bytes.Buffer, v any) bool {
	switch x := v.(type) {
	case string:
		for _, r := range x {
			if r < ' ' || r == '"' || r == '\\' || r >= 0x7f && r < 0xa0 || r == '\u2028' || r == '\u2029' || r == utf8.RuneError {
				return false
			}
		}
		b.WriteByte('"')
		b.WriteString(x)
		b.WriteByte('"')
	case float64:
		a := math.Abs(x)
		if a != 0 && !(a >= 1e-6 && a < 1e21) {
			return false
		}
		b.Write(strconv.AppendFloat(b.AvailableBuffer(), x, 'f', -1, 64))
	case int:
		b.Write(strconv.AppendInt(b.AvailableBuffer(), int64(x), 10))
	case bool:
		b.Write(strconv.AppendBool(b.AvailableBuffer(), x))
	case nil:
		b.WriteString("null")
	default:
		return false
	}
	return true
}

// JSON writes an answer as indented JSON, keys ending in their unit.
func JSON(answer any, s Style) ([]byte, error) {
	o, err := s.object(answer)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	b.Grow(1 << 16)
	if err := o.write(&b, 0); err != nil {
		return nil, err
	}
	b.WriteByte('\n')
	return b.Bytes(), nil
}

func (s Style) object(answer any) (object, error) {
	switch a := answer.(type) {
	case *desk.DutyAnswer:
		return s.duty(a), nil
	case *desk.MotorAnswer:
		return s.motorObject(a), nil
	case *desk.StrengthAnswer:
		return s.strengthObject(a), nil
	case *desk.BladesWritten:
		return object{{"folder", a.Folder}, {"written", a.Keys}, {"notices", notices(a.Notices)}}, nil
	case *desk.BladesAnswer:
		return s.bladesObject(a), nil
	case *desk.SectionsAnswer:
		return s.sectionsObject(a), nil
	case *desk.ExportAnswer:
		return s.exportObject(a), nil
	case *desk.ChooseAnswer:
		return s.chooseObject(a), nil
	case *desk.SizeAnswer:
		return s.sizeObject(a), nil
	case *desk.PredictAnswer:
		return s.predict(a), nil
	case *desk.AuditAnswer:
		return object{{"audit", s.audits(a.Audits)}, {"notices", notices(a.Notices)}}, nil
	case *desk.ReckonAnswer:
		return s.reckon(a), nil
	case *desk.NoteAnswer:
		return object{{"run", a.Run}, {"reading", s.plateau(desk.PlateauAnswer{Plateau: a.Plateau})}, {"notices", notices(a.Notices)}}, nil
	case *desk.ExplainAnswer:
		return s.explain(a), nil
	case *desk.NewAnswer:
		return object{{"folder", a.Folder}, {"scene", a.Scene}}, nil
	case *desk.AddAnswer:
		return added(a), nil
	case *desk.ReduceAnswer:
		return s.reducedAnswer(a), nil
	case *desk.BudgetAnswer:
		return s.budget(a), nil
	case *desk.StandAnswer:
		return s.standObject(a), nil
	case *desk.HeatAnswer:
		return s.heatObject(a), nil
	case *desk.RideAnswer:
		return s.rideObject(a), nil
	case *desk.CoolantAnswer:
		return s.coolantObject(a), nil
	case *desk.SheetAnswer:
		return s.sheetObject(a), nil
	case *desk.Page:
		return bookObject(a), nil
	case *Places:
		return placesObject(a), nil
	case *desk.RankAnswer:
		return s.rankObject(a), nil
	case *desk.ReviseAnswer:
		return s.reviseObject(a), nil
	case *desk.RevisionsAnswer:
		return s.revisionsObject(a), nil
	case *desk.TonightAnswer:
		return s.tonightObject(a), nil
	case *desk.BatteryAnswer:
		return s.batteryObject(a), nil
	case *desk.SetAnswer:
		return object{{"path", a.Path}, {"value", a.Value}}, nil
	}
	return nil, fmt.Errorf("no JSON for %T", answer)
}

// figure is {"value", "low", "high", "text"}, the numbers in the unit of the key.
func (s Style) figure(f desk.Figure) object {
	u := f.Unit
	o := object{{"value", json.RawMessage(quantity.AppendJSON(nil, f.Value, u))}, {"low", json.RawMessage(quantity.AppendJSON(nil, f.Low, u))}, {"high", json.RawMessage(quantity.AppendJSON(nil, f.High, u))}}
	o.add("text", s.text(f))
	return o
}

// key joins a name with its unit.
func key(name string, u quantity.Unit) string {
	if t := u.Token(); t != "" {
		return name + "_" + t
	}
	return name
}

func (s Style) exact(x float64, unit string) object {
	u, _ := quantity.LookupUnit(unit)
	return s.figure(desk.Figure{Value: x, Low: x, High: x, Unit: u})
}

func (s Style) condition(c drive.Condition) object {
	o := object{{"speed_m_s", s.exact(c.Speed, "m/s")}, {"demand", c.Demand.String()}}
	switch c.Demand {
	case drive.BatteryPower:
		o.add("battery_power_W", s.exact(c.Amount, "W"))
	case drive.ControllerPower:
		o.add("controller_power_W", s.exact(c.Amount, "W"))
	case drive.ShaftPower:
		o.add("shaft_power_W", s.exact(c.Amount, "W"))
	case drive.Thrust:
		o.add("thrust_N", s.exact(c.Amount, "N"))
	case drive.RotorSpeed:
		o.add("rotor_speed_rpm", s.exact(c.Amount, "rpm"))
	case drive.Throttle:
		o.add("throttle", s.exact(c.Amount, "1"))
	}
	o.add("on_stand", c.OnStand)
	return o
}

// state writes every figure of a state below its part.
func (s Style) state(f desk.Figures) object {
	var o object
	parts := map[string]*object{}
	var order []string
	for _, g := range f.List {
		part, name, nested := cut(g.Path)
		if !nested {
			o.add(key(g.Path, g.Unit), s.figure(g))
			continue
		}
		if parts[part] == nil {
			parts[part] = &object{}
			order = append(order, part)
		}
		parts[part].add(key(name, g.Unit), s.figure(g))
	}
	for _, p := range order {
		o.add(p, *parts[p])
	}
	return o
}

func cut(path string) (part, name string, nested bool) {
	for i := range path {
		if path[i] == '.' {
			return path[:i], path[i+1:], true
		}
	}
	return "", path, false
}

func (s Style) limits(list []desk.Limit) []object {
	out := make([]object, len(list))
	for i, l := range list {
		margin := desk.Figure{Value: l.Margin, Low: min(l.Bad, l.Margin), High: l.Margin}
		margin.Unit, _ = quantity.LookupUnit("1")
		o := object{{"name", l.Name}, {"part", l.Part}, {"state", l.State.String()}, {"margin", s.figure(margin)}, {"left", s.left(l)}, {"why", l.Why}}
		if l.NotJudged != "" {
			o.add("not_judged", l.NotJudged)
		} else {
			o.add(key("value", l.Shown.Unit), s.figure(l.Shown))
			o.add(key("allowed", l.Shown.Unit), s.figure(desk.Figure{Value: l.Allowed, Low: l.Allowed, High: l.Allowed, Unit: l.Shown.Unit}))
		}
		o.add("hazard", l.Hazard)
		if l.Factor > 1 {
			o.add("factor", l.Factor)
		}
		o.add("moved_by", l.Moves)
		out[i] = o
	}
	return out
}

// shareText is a share of the battery's power as the ledger shows it.
func shareText(x float64) string { return fmt.Sprintf("%.1f %%", math.Round(1000*x)/10+0) } // no minus before nothing

// left is how much of a limit is left, in percent; at its bad end too where that differs.
func (s Style) left(l desk.Limit) string {
	if l.NotJudged != "" {
		return ""
	}
	text := fmt.Sprintf("%.0f %%", 100*l.Margin)
	if bad := fmt.Sprintf("%.0f %%", 100*min(l.Bad, l.Margin)); bad != text {
		text += ", at worst " + bad
	}
	return text
}

func notices(l notice.List) []object {
	out := []object{}
	for _, n := range l {
		o := object{{"kind", n.Kind.String()}, {"what", n.What}}
		if p := n.Place.String(); p != "" {
			o.add("place", p)
		}
		if n.Path != "" {
			o.add("path", n.Path)
		}
		if n.Allowed != "" {
			o.add("allowed", n.Allowed)
		}
		if n.WayOut != "" {
			o.add("way_out", n.WayOut)
		}
		out = append(out, o)
	}
	return out
}

func shares(list []desk.Share) []object {
	out := []object{}
	for _, x := range list {
		out = append(out, object{{"path", x.Path}, {"share", x.Share}, {"assumed", x.Assumed}, {"value", x.Text}, {"source", x.Source}})
	}
	return out
}

func (s Style) duty(a *desk.DutyAnswer) object {
	o := object{{"interval", "90 %"}, {"draws", a.Draws}, {"condition", s.condition(a.Condition)}, {"state", s.state(a.State)}}
	ledger := make([]object, len(a.Ledger))
	for i, l := range a.Ledger {
		ledger[i] = object{{"name", l.Name}, {"path", l.Path}, {"power_W", s.figure(l.Figure)}, {"share", l.Share}, {"share_text", shareText(l.Share)}}
	}
	o.add("ledger", ledger)
	o.add("limits", s.limits(a.Limits))
	o.add("fine", a.Fine)
	o.add("draws_without_state", a.Failed)
	o.add("doubt", object{{"of", a.Aim}, {"shares", shares(a.Shares)}, {"unexplained", a.Unexplained}})
	assumed := []object{}
	for _, in := range a.Assumptions {
		assumed = append(assumed, object{{"path", in.Path}, {"value", in.Value.String()}, {"source", in.Field.Source}, {"meaning", in.Field.Doc}})
	}
	o.add("assumptions", assumed)
	o.add("notices", notices(a.Notices))
	o.add("cautions", cautionTexts(a.Cautions))
	return o
}

func cautionTexts(list []desk.Caution) []object {
	out := make([]object, len(list))
	for i, c := range list {
		out[i] = object{{"topic", c.Topic}, {"text", c.Text}, {"source", c.Source}}
	}
	return out
}

// predictFigures are the figures of a point of a prediction, by the path of the state.
var predictFigures = []string{
	"thrust", "net_thrust", "battery_power", "controller_power", "shaft_power", "rotor_speed", "jet.flow", "jet.head", "jet.jet_velocity",
	"static_efficiency", "static_efficiency_shaft", "propulsive_efficiency", "propulsive_efficiency_shaft", "jet.suction_specific_speed", "jet.cavitation_factor", "jet.npsh_available",
	"jet.pump_efficiency", "motor.phase_current_rms", "supply.battery_current", "supply.battery_voltage", "motor.winding_temperature",
}

func (s Style) predict(a *desk.PredictAnswer) object {
	points := []object{}
	for _, p := range a.Points {
		o := object{{"condition", s.condition(p.Condition)}}
		if p.Why != "" {
			o.add("no_state", p.Why)
			points = append(points, o)
			continue
		}
		for _, path := range predictFigures {
			f := p.State.Of(path)
			_, name, _ := cut(path)
			o.add(key(name, f.Unit), s.figure(f))
		}
		o.add("losses", s.losses(p.State))
		if len(p.Failed) > 0 {
			o.add("draws_without_state", p.Failed)
		}
		points = append(points, o)
	}
	return object{{"interval", "90 %"}, {"draws", a.Draws}, {"points", points}, {"notices", notices(a.Notices)}, {"cautions", cautionTexts(a.Cautions)}}
}

// losses are the figures of a state that are watts lost.
func (s Style) losses(f desk.Figures) object {
	var o object
	var with drive.State
	with.Coolant.PumpPower = f.Of("coolant.pump_power").Value // it has a line where there is one
	for _, e := range with.Ledger() {
		g := f.Of(e.Path)
		_, name, _ := cut(e.Path)
		o.add(key(name, g.Unit), s.figure(g))
	}
	return o
}

func (s Style) audits(list []reckon.Audit) []object {
	out := []object{}
	for _, a := range list {
		findings := []object{}
		for _, f := range a.Findings {
			o := object{{"topic", f.Topic}, {"grade", string(f.Grade)}, {"text", f.Text}}
			var figures object
			for _, g := range f.Figures {
				u, _ := quantity.LookupUnit(g.Unit)
				figures.add(key(snake(g.Name), u), s.figure(desk.Figure{Value: g.Value, Low: g.Value, High: g.Value, Unit: u}))
			}
			if figures != nil {
				o.add("figures", figures)
			}
			findings = append(findings, o)
		}
		out = append(out, object{{"claim", claimText(a.Claim)}, {"place", a.Claim.Place_.String()}, {"findings", findings}})
	}
	return out
}

func snake(name string) string {
	b := []byte{}
	for i := range len(name) {
		switch c := name[i]; {
		case c == ' ' || c == ',':
			if len(b) > 0 && b[len(b)-1] != '_' {
				b = append(b, '_')
			}
		case c >= 'A' && c <= 'Z':
			b = append(b, c+'a'-'A')
		case c < 0x80:
			b = append(b, c)
		}
	}
	return string(b)
}

func (s Style) plateau(p desk.PlateauAnswer) object {
	o := object{{"name", p.Plateau.Name}, {"run", p.Plateau.Run}, {"place", p.Plateau.Place.String()}, {"power_place", p.Plateau.PowerPlace}}
	var measured object
	for _, f := range p.Plateau.Figures {
		u := bench.UnitOf(f.Channel)
		g := figureOf(f, u)
		m := s.figure(g)
		m.add("instrument", f.Instrument)
		m.add("tolerance_assumed", f.Assumed)
		if f.Unsettled {
			m.add("unsettled", true)
		}
		measured.add(key(snake(string(f.Channel)), u), m)
	}
	o.add("measured", measured)
	var before, after object
	for _, f := range p.Plateau.Figures {
		if b, ok := p.Before[f.Channel]; ok {
			before.add(key(snake(string(f.Channel)), b.Unit), s.figure(b))
		}
		if b, ok := p.After[f.Channel]; ok {
			after.add(key(snake(string(f.Channel)), b.Unit), s.figure(b))
		}
	}
	if before != nil {
		o.add("predicted", before)
	}
	if after != nil {
		o.add("calibrated", after)
	}
	if p.Why != "" {
		o.add("no_prediction", p.Why)
	}
	c := object{}
	for _, k := range []struct {
		name string
		v    quantity.Optional
		unit string
	}{
		{"thrust_coefficient", p.Coefficients.Thrust, "1"},
		{"power_coefficient", p.Coefficients.Power, "1"},
		{"current_coefficient", p.Coefficients.Current, "A·s²"},
		{"static_efficiency", p.Coefficients.StaticEfficiency, "1"},
	} {
		if k.v.Set {
			u, _ := quantity.LookupUnit(k.unit)
			c.add(key(k.name, u), s.exact(k.v.Value, k.unit))
		}
	}
	o.add("coefficients", c)
	if p.Plateau.Unsettled != "" {
		o.add("unsettled", p.Plateau.Unsettled)
	}
	if p.Plateau.Span.Length() > 0 {
		o.add("from_s", s.exact(p.Plateau.Span.From, "s"))
		o.add("to_s", s.exact(p.Plateau.Span.To, "s"))
	}
	if p.Plateau.Held.Set {
		o.add("held_s", s.exact(p.Plateau.Held.Value, "s"))
	}
	return o
}

func from(f explore.Figure, u quantity.Unit) desk.Figure {
	return desk.Figure{Value: f.Value, Low: f.Low, High: f.High, Unit: u}
}

func (s Style) claims(list []reckon.ClaimVerdict, tests []*reckon.Decisive) []object {
	out := []object{}
	for i, v := range list {
		u, _ := quantity.LookupUnit(v.Unit)
		o := object{{"claim", claimText(v.Claim)}, {"place", v.Claim.Place_.String()}, {"verdict", string(v.Verdict)}, {"why", v.Why}}
		cases := []object{}
		for _, c := range v.Cases {
			k := object{{"reading_place", c.ReadingPlace}, {"claim_place", c.ClaimPlace}, {"verdict", string(c.Verdict)}, {"why", c.Why}, {"condition", s.condition(c.Condition)}}
			s.addPredicted(&k, c, u)
			cases = append(cases, k)
		}
		if len(v.Cases) > 0 {
			s.addPredicted(&o, v.Cases[0], u)
		}
		o.add("cases", cases)
		if i < len(tests) && tests[i] != nil {
			o.add("cheapest_decisive_test", s.decisiveObject(tests[i]))
		}
		out = append(out, o)
	}
	return out
}

func (s Style) addPredicted(o *object, c reckon.Case, u quantity.Unit) {
	o.add("probability", c.Calibrated.Probability)
	o.add("predicted", s.figure(from(c.Calibrated.Figure, u)))
	o.add("before_any_reading", object{{"probability", c.Before.Probability}, {"predicted", s.figure(from(c.Before.Figure, u))}})
	o.add("prior_doubled", object{{"probability", c.WidePrior.Probability}, {"predicted", s.figure(from(c.WidePrior.Figure, u))}})
	o.add("discrepancy_doubled", object{{"probability", c.WideGap.Probability}, {"predicted", s.figure(from(c.WideGap.Figure, u))}})
	o.add("discrepancy", c.Discrepancy)
	o.add("draws", c.Calibrated.Draws)
	o.add("draws_without_state", c.Calibrated.Without)
	if c.Needs.Text != "" {
		one, _ := quantity.LookupUnit("1")
		n := object{{"text", c.Needs.Text}, {"static_efficiency", s.exact(c.Needs.Efficiency, "1")}, {"place", c.Needs.Place}}
		if c.Needs.ShownBy != "" {
			n.add("shown", s.figure(from(c.Needs.Shown, one)))
			n.add("shown_place", c.Needs.ShownPlace)
			n.add("shown_by", c.Needs.ShownBy)
		}
		o.add("needs", n)
	}
}

func (s Style) next(n reckon.NextStep, r *plan.Reach) object {
	o := object{{"allowed", n.Allowed && (r == nil || r.Power > 0)}}
	if n.Allowed && (r == nil || r.Power > 0) {
		power := n.Power
		if r != nil {
			power = r.Power
		}
		o.add("power_W", s.exact(power, "W"))
		o.add("place", n.Place)
		o.add("factor", n.Factor)
	}
	if n.From > 0 {
		o.add("from_W", s.exact(n.From, "W"))
	}
	o.add("reasons", n.Reasons)
	o.add("watch", n.Watch)
	o.add("missing", n.Missing)
	s.addReach(&o, r)
	return o
}

func (s Style) reckon(a *desk.ReckonAnswer) object {
	o := object{{"plateaus", []object{}}}
	plateaus := []object{}
	for _, p := range a.Plateaus {
		plateaus = append(plateaus, s.plateau(p))
	}
	o = object{{"interval", "90 %"}, {"plateaus", plateaus}, {"fit", s.fit(a.Fit)}, {"claims", s.claims(a.Claims, a.Tests)}, {"audit", s.audits(a.Audits)}}
	if len(a.Tables) > 0 {
		o.add("tables", s.tables(a.Tables))
	}
	o.add("highest_step", s.highestStep(a.Highest))
	o.add("next_step", s.next(a.Next, a.Reach))
	o.add("teaching", s.teachingObject(a.Teaching))
	for _, m := range s.duty(a.DutyAnswer) {
		if m.key != "interval" {
			o = append(o, m)
		}
	}
	return o
}

func (s Style) explain(a *desk.ExplainAnswer) object {
	o := object{{"path", a.Path}, {"meaning", a.Doc}, {"unit", a.Unit.Symbol}}
	if a.Text != "" {
		o.add("value", a.Text)
	}
	if a.Figure != nil {
		o.add("figure", s.figure(*a.Figure))
	}
	o.add("origin", a.Origin)
	if a.Drawn != "" {
		o.add("drawn", a.Drawn)
	}
	if a.Range != "" {
		o.add("range", a.Range)
	}
	if len(a.Choices) > 0 {
		o.add("choices", a.Choices)
	}
	if a.Source != "" {
		o.add("source", a.Source)
	}
	o.add("formulas", a.Cards)
	if len(a.Shares) > 0 {
		o.add("doubt", object{{"shares", shares(a.Shares)}, {"unexplained", a.Unexplained}})
	}
	if len(a.Moves) > 0 {
		o.add("contributes_to", shares(a.Moves))
	}
	if len(a.Effects) > 0 {
		var list []object
		for i := range a.Effects {
			e := &a.Effects[i]
			x := object{{"step", s.effectText(e)}}
			if e.Reason != "" {
				x.add("why_not", e.Reason)
			} else {
				x = append(x, object{{"head_share", round(e.Head, 5)}, {"power_share", round(e.Power, 5)}, {"efficiency_change", round(e.Efficiency, 5)}, {"breakdown_npsh_share", round(e.Breakdown, 5)}}...)
			}
			list = append(list, x)
		}
		o.add("effects", list)
	}
	return o
}

// added is what was guessed of adopted logs.
func added(a *desk.AddAnswer) object {
	logs := []object{}
	for _, l := range a.Logs {
		columns := []object{}
		for k, c := range l.Layout.Columns {
			columns = append(columns, object{{"name", c.Name}, {"unit", c.Unit.Symbol}, {"channel", string(c.Channel)}, {"words", c.Text}, {"missing", l.Missing[k]}, {"time", k == l.Layout.Time}})
		}
		logs = append(logs, object{
			{"file", l.File},
			{"rows", l.Rows},
			{"duration_s", l.Duration},
			{"encoding", l.Layout.Encoding},
			{"delimiter", string(l.Layout.Delimiter)},
			{"decimal", string(l.Layout.Decimal)},
			{"header_line", l.Layout.HeaderLine},
			{"first_line", l.Layout.FirstLine},
			{"time_format", l.Layout.TimeFormat},
			{"columns", columns},
			{"first_rows", l.First},
			{"notices", notices(l.Notices)},
		})
	}
	return object{{"run", a.Run}, {"logs", logs}}
}
