package report

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"math"
	"strings"

	"jetwright/desk"
	"jetwright/plan"
	"jetwright/quantity"
)

// planned makes a figure of the desk's kind.
func planned(f plan.Figure) desk.Figure {
	return desk.Figure{Value: f.Value, Low: f.Low, High: f.High, Unit: quantity.MustUnit(f.Unit)}
}

// about writes a figure to three digits, for sums that are not that exact.
func (s Style) about(x float64, unit string) string {
	u := s.unit(quantity.MustUnit(unit))
	v := u.FromSI(x)
	digits := 0
	if v != 0 {
		digits = 2 - int(math.Floor(math.Log10(math.Abs(v))))
	}
	if digits < 0 {
		p := math.Pow10(-digits)
		v, digits = math.Round(v/p)*p, 0
	}
	return strings.TrimSpace(fmt.Sprintf("%.*f %s", digits, v, u.Symbol))
}

func minutes(t float64) string {
	m := int(math.Ceil(t/60 - 1e-9))
	if m < 60 {
		return fmt.Sprintf("%d min", m)
	}
	return fmt.Sprintf("%d h %02d min", m/60, m%60)
}

// standParts are the parts of a plan in their order, the same for a terminal and a page.
var standParts = []struct {
	id, title string
	write     func(*page, *desk.StandAnswer)
}{
	{"ladder", "The ladder", (*page).standLadder},
	{"holds", "What must hold at the highest step", (*page).standHolds},
	{"stops", "Where to stop", (*page).standStops},
	{"safety", "Safety", func(p *page, a *desk.StandAnswer) { p.words(a.Safety) }},
	{"before", "Before the run", func(p *page, a *desk.StandAnswer) { p.words(a.Before) }},
	{"during", "During and after", func(p *page, a *desk.StandAnswer) { p.words(a.After) }},
	{"water", "Air and water", (*page).standWater},
	{"sources", "Sources", (*page).standSources},
}

// stand writes the plan of a bench day.
func (p *page) stand(a *desk.StandAnswer) {
	p.heading("Plan of a bench day: " + a.Name)
	for _, l := range standShort(a, p.Style) {
		p.prose("  "+l.Topic+": ", "    ", l.Text)
	}
	for _, part := range standParts {
		p.heading(part.title)
		part.write(p, a)
	}
	p.notices(a.Notices)
}

// standShort is what a hurried reader needs.
func standShort(a *desk.StandAnswer, s Style) []plan.Word {
	top := a.Steps[a.Top]
	base := "the design as typed and assumed, since no reading stands"
	if a.Fitted {
		base = fmt.Sprintf("the drive calibrated by %s", count(a.Settled, "reading"))
	}
	out := []plan.Word{{Topic: "day", Text: fmt.Sprintf("%s up to %s at the %s and %d down, %s in all with zero windows of %.0f s before and after; %.0f Wh out of the battery. It rests on %s.",
		count(a.Top+1, "step"), s.about(top.Power, "W"), a.Place, len(a.Steps)-a.Top-1, minutes(a.Whole), a.Dwell.Zero, a.Energy/3600, base)}}
	out = append(out, plan.Word{Topic: "end", Text: a.Ends + "."})
	if !a.Next.Allowed && len(a.Next.Reasons) > 0 && !a.First {
		out = append(out, plan.Word{Topic: "no step up", Text: strings.Join(a.Next.Reasons, "; ") + ". Clear that with the repeats of this day and ask jetwright reckon before any step up."})
	}
	if a.First && a.Settled > 0 {
		out = append(out, plan.Word{Topic: "readings", Text: strings.Join(a.Next.Reasons, "; ") + "."})
	}
	var broken, open []string
	for _, list := range [][]plan.Check{a.Stand, a.Hardware} {
		for _, c := range list {
			switch c.State {
			case plan.Broken:
				broken = append(broken, c.Name)
			case plan.NotJudged:
				open = append(open, c.Name)
			}
		}
	}
	text := "stand, rope, tether and scale hold at the highest step with every tolerance at its bad end."
	if a.Draws == 0 {
		text = "stand, rope, tether and scale hold at the highest step at the nominal thrust; leave --nominal away for the bad end."
	}
	if len(broken) > 0 {
		text = "BROKEN at the highest step: " + strings.Join(broken, ", ") + "; nothing runs before that is dealt with."
	}
	if len(open) > 0 {
		if len(broken) == 0 {
			text = strings.Replace(text, "stand, rope, tether and scale hold", "what could be judged holds", 1)
		}
		text += " Not judged: " + strings.Join(open, ", ") + "; type the keys below, or judge them by hand before the run."
	}
	return append(out, plan.Word{Topic: "holds", Text: text})
}

func (p *page) words(list []plan.Word) {
	for _, w := range list {
		p.prose("  "+w.Topic+": ", "    ", w.Text)
	}
}

func (p *page) standLadder(a *desk.StandAnswer) {
	if a.Draws > 0 {
		p.line("  brackets hold the 90 %% interval; pull is what the scale will show, friction, moving water and the scale's own error in it")
	} else {
		p.line("  nominal values, no intervals; pull is what the scale will show, half of what friction and moving water may take in it")
	}
	var rows [][]string
	for i, s := range a.Steps {
		division := ""
		if s.Resolved != "" {
			division = fmt.Sprintf("%.0f, %s", s.Division, s.Resolved)
		}
		rows = append(rows, []string{
			fmt.Sprint(i + 1), s.Kind, p.about(s.Power, "W"), p.text(planned(s.Pull)), p.text(planned(s.Rotor)), p.text(planned(s.Current)),
			p.text(planned(s.Voltage)), p.text(planned(s.Winding)), division,
		})
	}
	head := []string{"", "", "power", "pull", "rotor speed", "phase current", "battery voltage", "winding, steady", "divisions in the step"}
	if a.Steps[0].Resolved == "" {
		head = head[:len(head)-1]
		for i := range rows {
			rows[i] = rows[i][:len(head)]
		}
	}
	p.grid(head, rows, 1, 3)
	if a.Steps[0].Resolved == "" {
		p.line("  whether the display resolves the steps: not judged; type stand.scale_division")
	}
	p.prose("  ", "    ", fmt.Sprintf("Hold each step %.0f s: three times %.0f s, %s, and 60 s to average.", a.Dwell.Time, a.Dwell.Tau, a.Dwell.From))
	switch {
	case a.First:
		p.prose("  ", "    ", "Nothing has settled yet: each step is at most 1.25 times the one before, and only if that one settled and its coefficients held still.")
	case a.Next.Allowed:
		p.prose("  ", "    ", fmt.Sprintf("Repeats have settled before, the highest at %s; each new step is at most %.2f times the one before, and only if that one settled and its coefficients held still.", p.about(a.From, "W"), a.Next.Factor))
	default:
		p.prose("  ", "    ", fmt.Sprintf("Repeats have settled before, the highest at %s; there is no new step.", p.about(a.From, "W")))
	}
}

// checkCells are name, nominal, bad end, allowed and state of a check.
func (s Style) checkCells(c plan.Check) []string {
	if c.State == plan.NotJudged {
		return []string{c.State, c.Name, "", "", "", c.NotJudged}
	}
	sign := "at most "
	if c.AtLeast {
		sign = "at least "
	}
	allowed := sign + s.about(c.Allowed, c.Unit)
	if c.Factor > 1 {
		allowed += fmt.Sprintf(" (factor %.3g)", c.Factor)
	}
	return []string{c.State, c.Name, s.about(c.Value, c.Unit), s.about(c.Bad, c.Unit), allowed, c.Note}
}

func (p *page) standHolds(a *desk.StandAnswer) {
	var rows [][]string
	for _, list := range [][]plan.Check{a.Stand, a.Hardware} {
		for _, c := range list {
			rows = append(rows, p.checkCells(c))
		}
	}
	p.grid([]string{"", "limit", "nominal", "bad end", "bound at the bad end", ""}, rows)
	clear := a.Judged - len(a.Hardware)
	text := fmt.Sprintf("Of %d limits of the hardware %d are clear there", a.Judged, clear)
	if len(a.Open) > 0 {
		text += "; not judged: " + strings.Join(a.Open, ", ")
	}
	p.prose("  ", "    ", text+". Factors are stated, no probability.")
}

func (s Style) stopCells(x plan.Stop) []string {
	u := quantity.MustUnit(x.Unit)
	stop := "above " + s.about(x.Stop, x.Unit)
	switch {
	case x.Band && x.Open:
		stop = fmt.Sprintf("%.0f %% off the steps below", 100*(x.Ends[1]-1))
	case x.Band:
		stop = fmt.Sprintf("outside %#.3g .. %#.3g", u.FromSI(x.Expected.Value*x.Ends[0]), u.FromSI(x.Expected.Value*x.Ends[1]))
	case x.AtLeast:
		stop = "below " + s.about(x.Stop, x.Unit)
	}
	if x.Beyond {
		stop += " !"
	}
	expected := s.text(planned(x.Expected))
	if x.Band {
		expected = fmt.Sprintf("%#.3g", u.FromSI(x.Expected.Value))
		if x.Open {
			expected = "about " + fmt.Sprintf("%#.2g", u.FromSI(x.Expected.Value))
		}
	}
	sensor := strings.Join(x.Sensors, ", ")
	if x.Single {
		sensor += " (single witness)"
	}
	return []string{x.Channel, expected, stop, x.Why, sensor}
}

func (p *page) standStops(a *desk.StandAnswer) {
	var rows [][]string
	beyond := false
	for _, x := range a.Stops {
		rows = append(rows, p.stopCells(x))
		beyond = beyond || x.Beyond
	}
	p.grid([]string{"channel", "at the highest step", "stop", "since", "read by"}, rows)
	if beyond {
		p.line("  ! the end of what is expected lies beyond the stop: come up to it slowly")
	}
	p.prose("  ", "    ", "Stop too when any figure leaves the interval of its step without a reason: off first, look then.")
	if len(a.Witnesses) > 0 {
		var two []string
		for _, w := range a.Witnesses {
			two = append(two, w.Topic+" ("+w.Text+")")
		}
		p.prose("  have two of: ", "    ", strings.Join(two, "; ")+".")
	}
}

func (p *page) standWater(a *desk.StandAnswer) {
	p.words(a.Air)
	p.words(a.Tub)
}

func (p *page) standSources(a *desk.StandAnswer) {
	p.prose("  ", "    ", "What is named own or memory in the JSON is our own figure, or trade practice recalled.")
	for _, x := range a.Sources {
		if x.Key == "own" || x.Key == "memory" {
			continue
		}
		text := x.Title
		if x.Note != "" {
			text += " (" + x.Note + ")"
		}
		p.prose("  - ", "    ", text)
	}
}

// standObject is the plan as JSON.
func (s Style) standObject(a *desk.StandAnswer) object {
	words := func(list []plan.Word) []object {
		out := []object{}
		for _, w := range list {
			out = append(out, object{{"topic", w.Topic}, {"text", w.Text}, {"source", w.Source}})
		}
		return out
	}
	named := func(o *object, name string, f plan.Figure) {
		d := planned(f)
		o.add(key(name, d.Unit), s.figure(d))
	}
	steps := []object{}
	for _, x := range a.Steps {
		o := object{{"kind", x.Kind}, {"power_W", s.exact(x.Power, "W")}}
		named(&o, "pull", x.Pull)
		named(&o, "thrust", x.Thrust)
		named(&o, "rotor_speed", x.Rotor)
		named(&o, "phase_current", x.Current)
		named(&o, "battery_voltage", x.Voltage)
		named(&o, "winding_temperature", x.Winding)
		o.add("dwell_s", s.exact(x.Dwell, "s"))
		if x.Resolved != "" {
			o.add("divisions", x.Division)
			o.add("resolution", x.Resolved)
		}
		steps = append(steps, o)
	}
	checks := func(list []plan.Check) []object {
		out := []object{}
		for _, c := range list {
			o := object{{"name", c.Name}, {"state", c.State}}
			if c.State == plan.NotJudged {
				o.add("not_judged", c.NotJudged)
			} else {
				u := quantity.MustUnit(c.Unit)
				o.add(key("nominal", u), s.exact(c.Value, c.Unit))
				o.add(key("bad_end", u), s.exact(c.Bad, c.Unit))
				o.add(key("allowed", u), s.exact(c.Allowed, c.Unit))
				o.add("factor", max(c.Factor, 1))
				o.add("note", c.Note)
			}
			o.add("source", c.Source)
			out = append(out, o)
		}
		return out
	}
	sources := []object{}
	for _, x := range a.Sources {
		sources = append(sources, object{{"key", x.Key}, {"title", x.Title}, {"note", x.Note}})
	}
	return object{
		{"interval", "90 %"},
		{"draws", a.Draws},
		{"calibrated", a.Fitted},
		{"place", a.Place},
		{"first_ladder", a.First},
		{"steps", steps},
		{"ends", a.Ends},
		{"dwell", object{{"time_s", s.exact(a.Dwell.Time, "s")}, {"time_constant_s", s.exact(a.Dwell.Tau, "s")}, {"from", a.Dwell.From}, {"zero_window_s", s.exact(a.Dwell.Zero, "s")}}},
		{"whole_time_s", s.exact(a.Whole, "s")},
		{"energy_Wh", s.exact(a.Energy, "Wh")},
		{"stand", checks(a.Stand)},
		{"hardware", checks(a.Hardware)},
		{"hardware_not_judged", a.Open},
		{"air", words(a.Air)},
		{"water", words(a.Tub)},
		{"stops", s.stopObjects(a.Stops)},
		{"have_two_of", words(a.Witnesses)},
		{"before", words(a.Before)},
		{"during_and_after", words(a.After)},
		{"safety", words(a.Safety)},
		{"sources", sources},
		{"notices", notices(a.Notices)},
	}
}

func (s Style) stopObjects(list []plan.Stop) []object {
	out := []object{}
	for _, x := range list {
		u := quantity.MustUnit(x.Unit)
		f := planned(x.Expected)
		o := object{{"channel", x.Channel}, {key("expected", f.Unit), s.figure(f)}}
		switch {
		case x.Band:
			o.add("low", x.Ends[0])
			o.add("high", x.Ends[1])
		case x.AtLeast:
			o.add(key("stop_below", u), s.exact(x.Stop, x.Unit))
		default:
			o.add(key("stop_above", u), s.exact(x.Stop, x.Unit))
		}
		o.add("why", x.Why)
		o.add("sensors", x.Sensors)
		o.add("single_witness", x.Single)
		o.add("expected_beyond_stop", x.Beyond)
		out = append(out, o)
	}
	return out
}

//go:embed stand.html.tmpl
var standText string

var standTemplate = template.Must(template.Must(pageTemplate.Clone()).New("stand").Parse(standText))

// standSheet is the page of a plan.
type standSheet struct {
	sheet
	Lists []section // to be ticked off or read aloud
	Long  bool      // more steps than the usual type leaves room for on one side
}

// StandHTML writes the plan of a bench day as one page that prints on one side of A4.
func StandHTML(w io.Writer, a *desk.StandAnswer, s Style) error {
	s.Colour = false
	sheet := standSheet{Long: len(a.Steps) > 9, sheet: sheet{Title: a.Name, Duty: fmt.Sprintf("%s at the %s at the highest step", s.about(a.Steps[a.Top].Power, "W"), a.Place), CSS: template.CSS(PencilCSS)}}
	for _, l := range standShort(a, s) {
		sheet.Short = append(sheet.Short, block{Lead: capital(l.Topic) + ":", Text: l.Text})
	}
	setAll(sheet.Short)
	for _, part := range standParts {
		p := &page{Style: s, web: true}
		part.write(p, a)
		setAll(p.blocks)
		k := section{part.id, part.title, p.blocks}
		switch part.id {
		case "before", "during", "safety", "water", "sources":
			sheet.Lists = append(sheet.Lists, k)
		default:
			sheet.Sections = append(sheet.Sections, k)
		}
	}
	if len(a.Notices) > 0 {
		p := &page{Style: s, web: true}
		p.notices(a.Notices)
		setAll(p.blocks)
		sheet.Lists = append(sheet.Lists, section{"notices", "Worth knowing", p.blocks[1:]})
	}
	var out strings.Builder
	if err := standTemplate.Execute(&out, sheet); err != nil {
		return err
	}
	_, err := io.WriteString(w, out.String())
	return err
}
