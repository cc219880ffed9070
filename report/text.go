package report

import (
	"fmt"
	"io"
	"math"
	"sort"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"

	"jetwright/bench"
	"jetwright/design"
	"jetwright/desk"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/notice"
	"jetwright/plan"
	"jetwright/quantity"
	"jetwright/reckon"
)

// proseWidth is how wide running text is set.
const proseWidth = 96

// Text writes an answer for a terminal.
func Text(w io.Writer, answer any, s Style) error {
	p := &page{Style: s}
	if err := p.write(answer); err != nil {
		return err
	}
	_, err := io.WriteString(w, p.b.String())
	return err
}

// write writes an answer of any kind.
func (p *page) write(answer any) error {
	switch a := answer.(type) {
	case *desk.DutyAnswer:
		p.duty(a)
		p.limits(a.Limits, a.WaterTemp, a.Fine)
		p.doubt(a)
		p.notices(a.Notices)
		p.cautions(a.Cautions)
	case *desk.MotorAnswer:
		p.motor(a)
		p.notices(a.Notices)
		p.cautions(a.Cautions)
	case *desk.StrengthAnswer:
		p.strength(a)
		p.notices(a.Notices)
		p.cautions(a.Cautions)
	case *desk.BladesAnswer:
		p.blades(a)
		p.notices(a.Notices)
		p.cautions(a.Cautions)
	case *desk.SectionsAnswer:
		p.sections(a)
		p.notices(a.Notices)
	case *desk.BladesWritten:
		p.line("%s/drive.toml holds the sections now: %s", a.Folder, strings.Join(a.Keys, ", "))
		p.notices(a.Notices)
	case *desk.BladesRoomAnswer:
		p.bladesRoom(a)
	case *desk.ExportAnswer:
		p.export(a)
		p.notices(a.Notices)
		p.cautions(a.Cautions)
	case *desk.ChooseAnswer:
		p.choose(a)
		p.notices(a.Notices)
		p.cautions(a.Cautions)
	case *desk.SizeAnswer:
		p.size(a)
		p.notices(a.Notices)
		if len(a.Cautions) > 0 {
			p.cautions(a.Cautions)
		}
	case *desk.PredictAnswer:
		p.predict(a)
		p.notices(a.Notices)
		p.cautions(a.Cautions)
	case *desk.AuditAnswer:
		p.audits(a.Audits)
		p.notices(a.Notices)
	case *desk.ReckonAnswer:
		p.reckon(a)
	case *desk.NoteAnswer:
		p.note(a)
	case *desk.ExplainAnswer:
		p.explain(a)
	case *desk.NewAnswer:
		p.line("%s holds the scene %s; edit %s/drive.toml, then: jetwright limits %s", a.Folder, a.Scene, a.Folder, a.Folder)
	case *desk.AddAnswer:
		p.added(a)
	case *desk.ReduceAnswer:
		p.reduced(a)
	case *desk.BudgetAnswer:
		p.budget(a)
	case *desk.StandAnswer:
		p.stand(a)
	case *desk.HeatAnswer:
		p.heat(a)
	case *desk.RideAnswer:
		p.ride(a)
	case *desk.WatchAnswer:
		p.watched(a)
	case *desk.CoolantAnswer:
		p.coolant(a)
	case *desk.RankAnswer:
		p.rank(a)
	case *desk.ReviseAnswer:
		p.revised(a)
	case *desk.RevisionsAnswer:
		p.revisions(a)
	case *desk.TonightAnswer:
		p.tonight(a)
	case *desk.BatteryAnswer:
		p.battery(a)
	case *desk.SetAnswer:
		p.line("%s = %s", a.Path, a.Value)
	default:
		return fmt.Errorf("no text for %T", answer)
	}
	return nil
}

// page collects the text of an answer, or its blocks for a web page.
type page struct {
	Style
	b      strings.Builder
	web    bool
	blocks []block
}

func (p *page) line(format string, args ...any) {
	if p.web {
		p.paragraph("", fmt.Sprintf(format, args...))
		return
	}
	fmt.Fprintf(&p.b, format+"\n", args...)
}

func (p *page) heading(title string) {
	if p.web {
		p.blocks = append(p.blocks, block{Heading: title})
		return
	}
	if p.b.Len() > 0 {
		p.b.WriteByte('\n')
	}
	if p.Colour {
		title = text.Bold.Sprint(title)
	}
	p.line("%s", title)
}

// prose wraps running text with a hanging indent.
func (p *page) prose(first, rest, words string) {
	if p.web {
		p.paragraph(first, words)
		return
	}
	width := proseWidth - len([]rune(rest))
	for i, l := range strings.Split(text.WrapSoft(words, width), "\n") {
		if i == 0 {
			p.line("%s%s", first, strings.TrimRight(l, " "))
		} else {
			p.line("%s%s", rest, strings.TrimRight(l, " "))
		}
	}
}

// grid renders rows below a head. Columns named in right are set flush right.
func (p *page) grid(head []string, rows [][]string, right ...int) {
	if p.web {
		p.blocks = append(p.blocks, block{Table: newGrid(head, rows, right...)})
		return
	}
	t := table.NewWriter()
	st := table.StyleLight
	st.Options = table.OptionsNoBordersAndSeparators
	st.Box.PaddingLeft, st.Box.PaddingRight = "", "  "
	st.Format.Header = text.FormatDefault
	st.Options.SeparateHeader = false
	t.SetStyle(st)
	var cfg []table.ColumnConfig
	for _, c := range right {
		cfg = append(cfg, table.ColumnConfig{Number: c, Align: text.AlignRight, AlignHeader: text.AlignRight})
	}
	t.SetColumnConfigs(cfg)
	row := func(cells []string) table.Row {
		r := make(table.Row, len(cells))
		for i, c := range cells {
			r[i] = c
		}
		return r
	}
	if head != nil {
		t.AppendHeader(row(head))
	}
	for _, r := range rows {
		t.AppendRow(row(r))
	}
	for _, l := range strings.Split(t.Render(), "\n") {
		p.line("  %s", strings.TrimRight(l, " "))
	}
}

// interval says what the brackets mean.
func (p *page) interval(draws int) string {
	if draws == 0 {
		return "nominal values, no intervals"
	}
	return fmt.Sprintf("brackets hold the 90 %% interval of %d drives drawn within the tolerances", draws)
}

var dutyFigures = []struct{ label, path string }{
	{"thrust", "thrust"},
	{"power at the battery", "battery_power"},
	{"power at the controller's output", "controller_power"},
	{"power at the motor shaft", "shaft_power"},
	{"rotor speed", "rotor_speed"},
	{"flow", "jet.flow"},
	{"pump head", "jet.head"},
	{"jet velocity", "jet.jet_velocity"},
	{"static efficiency at the battery", "static_efficiency"},
	{"static efficiency at the shaft", "static_efficiency_shaft"},
	{"propulsive efficiency at the battery", "propulsive_efficiency"},
	{"pump efficiency", "jet.pump_efficiency"},
	{"suction specific speed", "jet.suction_specific_speed"},
	{"NPSH at the highest blade tip", "jet.npsh_available"},
	{"pressure at the pump outlet", "jet.outlet_pressure"},
	{"phase current, rms", "motor.phase_current_rms"},
	{"battery current", "supply.battery_current"},
	{"battery voltage", "supply.battery_voltage"},
	{"winding, steady", "motor.winding_temperature"},
	{"bridge, steady", "heat.bridge_temperature"},
}

func (p *page) duty(a *desk.DutyAnswer) {
	p.state(a)
	p.ledger(a)
}

func (p *page) state(a *desk.DutyAnswer) {
	p.heading("State at the design point: " + desk.Describe(a.Condition))
	p.line("  %s", p.interval(a.Draws))
	p.failed(a.Failed, a.Draws)
	var rows [][]string
	for _, f := range dutyFigures {
		if !a.State.Has() {
			break
		}
		g := a.State.Of(f.path)
		if f.path == "propulsive_efficiency" && a.Condition.Speed == 0 {
			continue
		}
		rows = append(rows, []string{f.label, p.text(g)})
	}
	p.grid(nil, rows)
}

// ledgerLines are the lines of the watt ledger that are worth showing.
func ledgerLines(a *desk.DutyAnswer) []desk.LedgerLine {
	var out []desk.LedgerLine
	for _, l := range a.Ledger {
		if math.Abs(l.Value) >= 0.0005*math.Abs(a.State.Of("battery_power").Value) || l.Path == "jet.thrust_power" {
			out = append(out, l)
		}
	}
	return out
}

func (p *page) ledger(a *desk.DutyAnswer) {
	p.heading("Where the watts go, battery to thrust")
	var rows [][]string
	for _, l := range ledgerLines(a) {
		rows = append(rows, []string{l.Name, p.text(l.Figure), shareText(l.Share)})
	}
	p.grid([]string{"", "power", "share"}, rows, 3)
	p.line("  losses under 0.05 %% are left out; the balance closes to %.0e of the battery power", math.Max(math.Abs(a.State.Of("power_residual").Value), 1e-16))
}

func (p *page) failed(failed map[string]int, draws int) {
	if len(failed) == 0 {
		return
	}
	var kinds []string
	for k, n := range failed {
		kinds = append(kinds, fmt.Sprintf("%d for %s", n, k))
	}
	sort.Strings(kinds)
	p.line("  of %d drawn drives some have no state here: %s", draws, strings.Join(kinds, ", "))
}

// limitCells are the state of a limit, its name, value, bound, what is left, and why it was not
// judged.
func (s Style) limitCells(l desk.Limit) []string {
	state := l.State.String()
	if l.NotJudged != "" {
		return []string{state, l.Name, "", "", "", l.NotJudged}
	}
	sign := "at most "
	if l.Sense == quantity.AtLeast {
		sign = "at least "
	}
	allowed := quantity.Format(l.Allowed, s.unit(l.Shown.Unit))
	if l.Factor > 1 {
		allowed += fmt.Sprintf(" (factor %.3g)", l.Factor)
	}
	margin := fmt.Sprintf("%.0f %%", 100*l.Margin)
	if l.Bad != l.Margin {
		margin += fmt.Sprintf(" [%.0f %%]", 100*l.Bad)
	}
	return []string{state, l.Name, s.text(l.Shown), sign + allowed, margin, ""}
}

func (p *page) limits(list []desk.Limit, waterTemp float64, fine bool) {
	p.heading("Limits, nearest first")
	celsius, _ := quantity.LookupUnit("°C")
	t := desk.Figure{Value: waterTemp, Low: waterTemp, High: waterTemp, Unit: celsius}
	p.line("  temperatures are steady ones, for water at %s; left is the share of the way to the bound, at the bad end in brackets", p.text(t))
	var rows [][]string
	for _, l := range list {
		cells := p.limitCells(l)
		if p.Colour && (l.State == explore.Broken || l.State == explore.NotJudged) {
			cells[0] = text.Bold.Sprint(cells[0])
		}
		rows = append(rows, cells)
	}
	p.grid([]string{"", "limit", "value", "bound", "left", "why not"}, rows)
	switch {
	case fine:
		p.line("  fine: every limit was judged and none is broken")
	default:
		p.line("  not fine: a limit is broken or was not judged")
	}
	for _, l := range list {
		if l.State == explore.Broken && l.NotJudged == "" {
			p.prose("  ", "    ", l.Name+": "+l.Why+"; moved by "+strings.Join(l.Moves, ", "))
		}
	}
}

// doubtRows is how many inputs the doubt is broken down to.
const doubtRows = 8

func (p *page) doubt(a *desk.DutyAnswer) {
	if len(a.Shares) > 0 {
		p.heading("What dominates the doubt about " + strings.ReplaceAll(a.Aim, "_", " "))
		var rows [][]string
		for i, s := range a.Shares {
			if i == doubtRows || s.Share < 0.005 {
				break
			}
			origin := "typed"
			if s.Assumed {
				origin = "assumed, " + s.Source
			}
			rows = append(rows, []string{fmt.Sprintf("%.0f %%", 100*s.Share), s.Path, s.Text, origin})
		}
		p.grid([]string{"share", "number", "value", "origin"}, rows, 1)
		p.line("  left unexplained by rank regression: %.0f %%", 100*a.Unexplained)
	}
	if len(a.Assumptions) > 0 {
		p.heading("Assumed, since it is not typed")
		share := map[string]float64{}
		for _, s := range a.Shares {
			share[s.Path] = s.Share
		}
		list := append([]design.Input(nil), a.Assumptions...)
		sort.SliceStable(list, func(i, j int) bool { return share[list[i].Path] > share[list[j].Path] })
		var rows [][]string
		for _, in := range list {
			s := ""
			if x, ok := share[in.Path]; ok {
				s = "under 1 %"
				if x >= 0.005 {
					s = fmt.Sprintf("%.0f %%", 100*x)
				}
			}
			rows = append(rows, []string{in.Path, in.Value.String(), s, in.Field.Source})
		}
		p.grid([]string{"number", "assumed", "share of the doubt", "source"}, rows, 3)
	}
}

func (p *page) notices(list notice.List) {
	if len(list) == 0 {
		return
	}
	p.heading("Worth knowing")
	seen := map[string]bool{}
	for _, n := range list {
		t := n.Error()
		if n.Kind != notice.Remark {
			t = n.Kind.String() + ": " + t
		}
		if seen[t] {
			continue
		}
		seen[t] = true
		p.prose("  ", "    ", t)
	}
}

func (p *page) cautions(list []desk.Caution) {
	p.heading("Cautions")
	for _, c := range list {
		p.prose("  "+c.Topic+": ", "    ", c.Text)
	}
}

func (p *page) predict(a *desk.PredictAnswer) {
	p.heading("Prediction")
	p.line("  %s", p.interval(a.Draws))
	var rows [][]string
	var notes []string
	for _, pt := range a.Points {
		speed, _ := quantity.LookupUnit("m/s")
		u := p.unit(speed)
		v := fmt.Sprintf("%.3g %s", u.FromSI(pt.Condition.Speed), u.Symbol)
		if pt.Condition.Speed == 0 {
			v = "rest"
		}
		if pt.Why != "" {
			rows = append(rows, []string{v, "", "", "", "", "", "", ""})
			notes = append(notes, v+": "+pt.Why)
			continue
		}
		f := func(path string) string { return p.text(pt.State.Of(path)) }
		efficiency := f("static_efficiency")
		rows = append(rows, []string{v, f("battery_power"), f("shaft_power"), f("thrust"), f("rotor_speed"), efficiency, f("propulsive_efficiency"), f("jet.suction_specific_speed")})
		if len(pt.Failed) > 0 {
			n := 0
			for _, k := range pt.Failed {
				n += k
			}
			notes = append(notes, fmt.Sprintf("%s, %s: %d of %d drawn drives have no state there (%s)", v, f("battery_power"), n, pt.Draws, kinds(pt.Failed)))
		}
	}
	p.grid([]string{"speed", "battery power", "shaft power", "thrust", "rotor speed", "static eff.", "propulsive eff.", "suction spec. speed"}, rows)
	p.line("  efficiencies are for battery power; thrust is gross thrust")
	for _, n := range notes {
		p.prose("  ", "    ", n)
	}
}

func kinds(m map[string]int) string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	sort.Strings(out)
	return strings.Join(out, ", ")
}

func claimText(c design.Claim) string {
	t := c.What + " " + c.Sense + " " + c.Text
	if c.Sense == "about" {
		t += fmt.Sprintf(" (± %.3g %%)", 100*c.Tolerance)
	}
	if (c.What == "power" || c.What == "run time") && c.Thrust > 0 {
		t += fmt.Sprintf(" for %.4g N", c.Thrust)
	} else if c.Power > 0 {
		t += " at " + desk.PlainDigits(c.Power) + " W"
	}
	if c.Power > 0 || c.What == "power" {
		if c.Place != "" {
			t += " at the " + c.Place
		} else {
			t += ", place not said"
		}
	}
	switch {
	case c.What == "speed":
		if c.Drag.Nominal() > 0 {
			t += ", against a drag of " + c.Drag.String()
		}
	case c.Speed > 0:
		t += fmt.Sprintf(", at %.3g m/s", c.Speed)
	default:
		t += ", at rest"
	}
	if c.From != "" {
		t += " (" + c.From + ")"
	}
	return t
}

func (p *page) audits(list []reckon.Audit) {
	for _, a := range list {
		p.heading("Audit of the promise: " + claimText(a.Claim))
		for _, f := range a.Findings {
			p.prose("  "+string(f.Grade)+" · "+f.Topic+": ", "    ", f.Text)
		}
	}
}

// figureOf is a measured figure with the ends of its limits, or its 90 % interval for a
// typed standard uncertainty or a figure out of a log.
func figureOf(f bench.Figure, u quantity.Unit) desk.Figure {
	half := f.Limits
	switch {
	case f.Budget != nil:
		half = desk.Half(f)
	case f.Standard:
		half *= z90
	}
	return desk.Figure{Value: f.Value, Low: f.Value - half, High: f.Value + half, Unit: u, Doc: string(f.Channel)}
}

func (p *page) reckon(a *desk.ReckonAnswer) {
	p.duty(a.DutyAnswer)
	p.plateaus(a)
	p.fit(a.Fit)
	p.highest(a.Highest)
	for i, v := range a.Claims {
		p.claim(v, a.Highest)
		p.decisive(a.Tests, i)
	}
	for i := range a.Tables {
		p.simulated(&a.Tables[i], a.Fit != nil)
	}
	p.audits(a.Audits)
	p.limits(a.Limits, a.WaterTemp, a.Fine)
	p.next(a.Next, a.Reach, a.Highest)
	p.teaching(a.Teaching)
	p.doubt(a.DutyAnswer)
	p.notices(a.Notices)
	p.cautions(a.Cautions)
}

func (p *page) plateaus(a *desk.ReckonAnswer) {
	p.heading("Readings beside the prediction")
	if len(a.Plateaus) == 0 {
		p.line("  none yet; type one with: jetwright run note")
		return
	}
	p.line("  read: with the instrument's limits (* assumed), out of logs, or as volts times amperes, with the 90 %% interval; design: as drawn and assumed; calibrated: after the fit")
	p.line("  calibrated thrust is what the jet makes; the scale may show less, where water moves in a tub or pool and the carriage drags")
	for _, pl := range a.Plateaus {
		p.line("  %s", p.plateauHead(pl.Plateau, pl.Plateau.Name+" ("+pl.Plateau.Place.String()+")"))
		rows := p.plateauRows(pl)
		if len(rows) > 0 {
			p.grid([]string{"", "read", "design", "calibrated"}, rows)
		}
		if pl.Why != "" {
			p.line("    no prediction: %s", pl.Why)
		}
	}
	p.coefficients(a)
}

// plateauHead names a plateau with its power and where that was read.
func (s Style) plateauHead(p bench.Plateau, name string) string {
	place := p.PowerPlace
	if place == "" {
		place = "place not said"
	}
	if w, ok := p.Figure(bench.Power); ok {
		name += ": " + s.text(figureOf(w, bench.UnitOf(bench.Power)))
		if w.Assumed {
			name += "*"
		}
		name += ", " + place
	}
	if p.Unsettled != "" {
		name += "; not settled, so not used: " + p.Unsettled
	}
	return name
}

// plateauRows are a plateau's channels: as read, by the design, by the calibrated model.
func (s Style) plateauRows(pl desk.PlateauAnswer) [][]string {
	var rows [][]string
	for _, f := range pl.Plateau.Figures {
		b, ok := pl.Before[f.Channel]
		if !ok {
			continue
		}
		if f.Channel == bench.PhaseCurrent {
			f, _ = pl.Plateau.PhaseCurrentRMS()
		}
		mark := ""
		if f.Assumed {
			mark = "*"
		}
		after := ""
		if x, ok := pl.After[f.Channel]; ok {
			after = s.text(x)
		}
		rows = append(rows, []string{string(f.Channel), s.text(figureOf(f, bench.UnitOf(f.Channel))) + mark, s.text(b), after})
	}
	return rows
}

func (p *page) coefficients(a *desk.ReckonAnswer) {
	p.heading("Similarity coefficients along the ladder")
	var rows [][]string
	for _, pl := range a.Plateaus {
		c := pl.Coefficients
		place := pl.Plateau.PowerPlace
		if place == "" {
			place = "not said"
		}
		rows = append(rows, []string{
			pl.Plateau.Name, coefficient(c.Thrust, c.ThrustSpread), coefficient(c.Power, c.PowerSpread), coefficient(c.Current, c.CurrentSpread),
			coefficient(c.StaticEfficiency, c.EfficiencySpread), place,
		})
	}
	p.grid([]string{"", "T/(ρn²D⁴)", "P/(ρn³D⁵)", "I/n² A·s²", "static eff.", "power at"}, rows, 2, 3, 4, 5)
	p.line("  ± 90 %% without the instruments' limits, which move a whole ladder together")
	p.line("  they hold still along a ladder at rest until cavitation, drawn air, sag or a lying sensor moves them")
}

func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

func (p *page) claim(v reckon.ClaimVerdict, highest *reckon.LeaveOut) {
	p.heading("Claim: " + claimText(v.Claim))
	verdict := strings.ToUpper(string(v.Verdict))
	p.prose("  verdict: ", "    ", verdict+", "+v.Why)
	u, _ := quantity.LookupUnit(v.Unit)
	var rows [][]string
	for _, c := range v.Cases {
		where := "claim at the " + c.ClaimPlace
		if c.ReadingPlace != "" {
			where = "readings at the " + c.ReadingPlace + ", " + where
		}
		chance := func(x reckon.Predicted) string { return fmt.Sprintf("%.1f %%", 100*x.Probability) }
		rows = append(rows, []string{where, string(c.Verdict), p.text(from(c.Calibrated.Figure, u)), chance(c.Calibrated), chance(c.WidePrior), chance(c.WideGap), p.text(from(c.Before.Figure, u))})
	}
	if len(rows) > 0 {
		p.grid([]string{"", "verdict", "calibrated", "probability", "prior doubled", "discrepancy doubled", "before any reading"}, rows, 4, 5, 6)
	}
	for i, c := range v.Cases {
		if i == 0 || c.ClaimPlace != v.Cases[i-1].ClaimPlace {
			if c.Needs.Text != "" {
				p.prose("  ", "    ", "it "+c.Needs.Text)
			}
		}
		if c.Calibrated.Without > 0 && i == 0 {
			p.prose("  ", "    ", fmt.Sprintf("%d of %d drawn drives have no state there", c.Calibrated.Without, c.Calibrated.Draws))
		}
	}
	if len(v.Cases) > 0 && v.Cases[0].Discrepancy > 0 {
		p.line("  beyond the tested powers ln(static efficiency) is given a standard deviation of %.3f", v.Cases[0].Discrepancy)
		p.besideExtrapolation(v.Cases[0].Doublings, highest)
	}
}

// atMost writes a power that is not to be gone beyond: its digits are cut off, not rounded.
func atMost(x float64, u quantity.Unit) string {
	shown := u.FromSI(x)
	if !(shown > 0) {
		return quantity.Format(x, u)
	}
	step := math.Pow(10, math.Floor(math.Log10(shown))-2)
	if shown < 200*step { // a leading one has a digit more
		step /= 10
	}
	return quantity.Format(u.ToSI(step*math.Floor(shown/step*(1+1e-12))), u)
}

// nextLine says how far the next test may go: by the rules, and with every limit kept.
func (s Style) nextLine(n reckon.NextStep, r *plan.Reach) string {
	if !n.Allowed || r != nil && r.Power == 0 {
		return "no further step yet"
	}
	if r != nil && r.By != "" {
		w := s.unit(bench.UnitOf(bench.Power))
		return fmt.Sprintf("at most %s (%s): the rules allow %s, but %s holds it back", atMost(r.Power, w), n.Place, atMost(n.Power, w), r.By)
	}
	place := n.Place
	if place == "" {
		place = "same place as before"
	}
	w := s.unit(bench.UnitOf(bench.Power))
	return fmt.Sprintf("at most %s (%s): %.2f times the highest settled power of %s", atMost(n.Power, w), place, n.Factor, quantity.Format(n.From, w))
}

func (p *page) next(n reckon.NextStep, r *plan.Reach, highest *reckon.LeaveOut) {
	p.heading("How far the next test may go, at rest")
	p.line("  %s", p.nextLine(n, r))
	for _, r := range n.Reasons {
		p.prose("  - ", "    ", r)
	}
	if n.Allowed {
		p.besideExtrapolation(1, highest)
	}
	if len(n.Watch) > 0 {
		p.prose("  watch: ", "    ", strings.Join(n.Watch, ", "))
	}
	p.reach(r)
}

func (p *page) note(a *desk.NoteAnswer) {
	p.heading("Noted as " + a.Plateau.Name)
	var rows [][]string
	for _, f := range a.Plateau.Figures {
		how := f.Instrument
		if f.Assumed {
			how += ", limits assumed"
		}
		rows = append(rows, []string{string(f.Channel), p.text(figureOf(f, bench.UnitOf(f.Channel))), how})
	}
	p.grid(nil, rows)
	p.notices(a.Notices)
}

// Condition words a condition, for headings of the doors.
func Condition(c drive.Condition) string { return desk.Describe(c) }

// added shows what was guessed of adopted logs over their first rows.
func (p *page) added(a *desk.AddAnswer) {
	for _, l := range a.Logs {
		p.heading(fmt.Sprintf("%s: %d rows over %.4g s", l.File, l.Rows, l.Duration))
		delimiter := map[byte]string{',': "commas", ';': "semicolons", '\t': "tabs", '|': "bars", ' ': "blanks"}[l.Layout.Delimiter]
		decimal := map[byte]string{'.': "point", ',': "comma"}[l.Layout.Decimal]
		p.line("  %s, columns cut by %s, decimal %s; names on line %d, numbers from line %d", l.Layout.Encoding, delimiter, decimal, l.Layout.HeaderLine, l.Layout.FirstLine)
		head, taken := make([]string, len(l.Layout.Columns)), make([]string, len(l.Layout.Columns))
		for k, c := range l.Layout.Columns {
			head[k] = c.Name
			switch {
			case k == l.Layout.Time:
				taken[k] = "time, " + l.Layout.TimeFormat
			case c.Text:
				taken[k] = "words"
			case c.Channel != "":
				taken[k] = string(c.Channel)
			default:
				taken[k] = "not used"
			}
			if l.Missing[k] > 0 && !c.Text && k != l.Layout.Time {
				taken[k] += fmt.Sprintf(", %d missing", l.Missing[k])
			}
		}
		p.grid(head, append([][]string{taken}, l.First...))
		p.notices(l.Notices)
	}
	p.line("")
	p.line("  these are guesses; correct them in runs/%s/run.toml. The logs were copied as they are.", a.Run)
}
