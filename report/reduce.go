package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"jetwright/bench"
	"jetwright/desk"
	"jetwright/quantity"
)

// reducedColumns are the channels that the table of plateaus shows, in its order.
var reducedColumns = []bench.Channel{
	bench.Power, bench.Thrust, bench.RotorSpeed, bench.PhaseCurrent, bench.BatteryVoltage,
	bench.WindingTemperature, bench.BridgeTemperature, bench.CaseTemperature,
}

// reduced writes the plateaus of every run.
func (p *page) reduced(a *desk.ReduceAnswer) {
	for i := range a.Days {
		p.reducedDay(&a.Days[i])
		p.warm(a.Days[i].Warm)
	}
	p.notices(a.Notices)
}

// lookedLine says what was looked at before a run; empty if nothing was written down.
func lookedLine(d *desk.ReducedDay) string {
	if len(d.Before) == 0 {
		return ""
	}
	words := make([]string, len(d.Before))
	for i, l := range d.Before {
		words[i] = strings.ReplaceAll(l.Key, "_", " ") + " "
		if l.Text != "" {
			words[i] += l.Text
		} else {
			words[i] += l.Value.String()
		}
	}
	return "before the run: " + strings.Join(words, ", ")
}

func (p *page) reducedDay(d *desk.ReducedDay) {
	p.heading(fmt.Sprintf("%s: %s over %.0f s", d.Run, count(len(d.Plateaus), "plateau"), d.Duration))
	if d.Revision != "" || d.Parts != "" {
		ran := "revision " + d.Revision
		if d.Revision == "" {
			ran = "revision not said"
		}
		if d.Parts != "" {
			ran += "; " + d.Parts
		}
		p.prose("  ", "    ", ran)
	}
	for _, l := range dayLines(d.Reduction, p.Style) {
		p.prose("  ", "    ", l)
	}
	if l := lookedLine(d); l != "" {
		p.prose("  ", "    ", l)
	}
	p.heading("Plateaus, brackets hold the 90 % interval")
	shown := map[bench.Channel]bool{}
	for _, pl := range d.Plateaus {
		for _, f := range pl.Figures {
			shown[f.Channel] = true
		}
	}
	head := []string{"", "from .. to s", ""}
	for _, c := range reducedColumns {
		if shown[c] {
			head = append(head, strings.TrimSuffix(string(c), " temperature"))
		}
	}
	var rows [][]string
	var notes []string
	for i, pl := range d.Plateaus {
		row := []string{fmt.Sprint(i + 1), fmt.Sprintf("%.1f .. %.1f", pl.Span.From, pl.Span.To), pl.Direction}
		if pl.Unsettled != "" {
			row[2] += "!"
			notes = append(notes, fmt.Sprintf("%d! had not settled: %s; it feeds no limit and no fit", i+1, pl.Unsettled))
		}
		for _, c := range reducedColumns {
			if !shown[c] {
				continue
			}
			f, ok := pl.Figure(c)
			if !ok {
				cell := "-"
				for _, x := range pl.Doubts {
					if x.Channel == c && x.Drops {
						cell = x.Kind
					}
				}
				row = append(row, cell)
				continue
			}
			t := p.text(figureOf(f, bench.UnitOf(c)))
			if f.Unsettled {
				t += " ~"
			}
			row = append(row, t)
		}
		rows = append(rows, row)
	}
	p.grid(head, rows)
	for _, pl := range d.Plateaus {
		for _, f := range pl.Figures {
			if f.Unsettled {
				notes = append(notes, "~ was still moving over the last third of the plateau; such a temperature feeds no steady limit")
				break
			}
		}
		if len(notes) > 0 && strings.HasPrefix(notes[len(notes)-1], "~") {
			break
		}
	}
	for _, n := range notes {
		p.prose("  ", "    ", n)
	}
	p.line("  power is at the %s; budgets are shown by --plateau N", placesOf(d.Plateaus))
	if l := drawnLine(d.Plateaus); l != "" {
		p.prose("  ", "    ", l)
	}
	p.heading("Similarity coefficients")
	rows = nil
	for i, c := range d.Coefficients {
		rows = append(rows, []string{
			fmt.Sprint(i + 1), coefficient(c.Thrust, c.ThrustSpread), coefficient(c.Power, c.PowerSpread), coefficient(c.Current, c.CurrentSpread),
			coefficient(c.StaticEfficiency, c.EfficiencySpread),
		})
	}
	p.grid([]string{"", "T/(ρn²D⁴)", "P/(ρn³D⁵)", "I/n² A·s²", "static eff."}, rows, 2, 3, 4, 5)
	p.line("  ± 90 %% without the instruments' limits, which move all plateaus together")
	p.heading("Channels in doubt")
	if len(d.Doubts) == 0 {
		p.line("  none")
	}
	for _, x := range d.Doubts {
		p.prose("  ", "    ", doubtLine(x))
	}
	p.notices(d.Notices)
}

// drawnLine holds the intervals of the pull against the whole day drawn together.
func drawnLine(plateaus []bench.Plateau) string {
	list := desk.DrawnTogether(plateaus, bench.Thrust)
	if len(list) == 0 {
		return ""
	}
	named := map[string][]string{}
	least, most, draws := math.Inf(1), 0.0, 0
	for _, v := range list {
		named[v.Verdict] = append(named[v.Verdict], strconv.Itoa(v.Plateau+1))
		draws = max(draws, v.Draws)
		if v.Verdict == bench.Differs {
			least, most = math.Min(least, v.Share()), math.Max(most, v.Share())
		}
	}
	out := fmt.Sprintf("the whole day drawn together %d times, every part by its own distribution: ", draws)
	if len(named[bench.Agrees]) == len(list) {
		return out + "the intervals of the pull agree with their budgets to two digits"
	}
	var parts []string
	if x := named[bench.Differs]; x != nil {
		width := fmt.Sprintf("%.3f to %.3f", least, most)
		if most-least < 0.001 {
			width = fmt.Sprintf("%.3f", most)
		}
		where := plural(len(x), "plateau") + " " + strings.Join(x, ", ")
		if len(x) == len(list) {
			where = "every plateau"
		}
		parts = append(parts, fmt.Sprintf("the pull's interval differs from its budget beyond two digits on %s and is %s of its width; the drawn one is the better there", where, width))
	}
	if x := named[bench.Agrees]; x != nil {
		parts = append(parts, fmt.Sprintf("it agrees on %s", strings.Join(x, ", ")))
	}
	if x := named[bench.Open]; x != nil {
		parts = append(parts, fmt.Sprintf("the draws do not tell on %s", strings.Join(x, ", ")))
	}
	return out + strings.Join(parts, "; ")
}

func plural(n int, word string) string {
	if n == 1 {
		return word
	}
	return word + "s"
}

// doubtLine says which channel is in doubt, when and by what evidence.
func doubtLine(x bench.Doubt) string {
	s := fmt.Sprintf("%s (%s) is %s from %.1f s to %.1f s: %s", x.Channel, x.Source, x.Kind, x.Span.From, x.Span.To, x.Evidence)
	switch {
	case x.Trusted:
		s += "; it is used all the same, as run.toml says"
	case x.Drops:
		s += "; its figures there are not used"
	}
	return s
}

// coefficient writes a coefficient with its 90 % interval, rounded by it.
func coefficient(o quantity.Optional, spread float64) string {
	if !o.Set {
		return "-"
	}
	half := z90 * spread * math.Abs(o.Value)
	if half == 0 {
		return fmt.Sprintf("%.4g", o.Value)
	}
	digits := int(math.Max(0, math.Min(8, math.Ceil(-math.Log10(half)))))
	if half*math.Pow10(digits) < 3 {
		digits++
	}
	return fmt.Sprintf("%.*f ± %.*f", digits, o.Value, digits, half)
}

func placesOf(plateaus []bench.Plateau) string {
	var places []string
	seen := map[string]bool{}
	for _, p := range plateaus {
		place := p.PowerPlace
		if place == "" {
			place = "place that nothing says; type power_place under its [[log]]"
		}
		if !seen[place] {
			seen[place] = true
			places = append(places, place)
		}
	}
	return strings.Join(places, " or ")
}

// dayLines say how the clocks were set, what the scale shows without pull and what the carriage
// holds back.
func dayLines(d *bench.Reduction, s Style) []string {
	var out []string
	for _, c := range d.Clocks {
		if c.Shared == bench.OwnClock {
			out = append(out, fmt.Sprintf("%s gives the run's clock, from its first row", c.Source))
		}
	}
	for _, c := range d.Clocks {
		switch {
		case c.Shared == bench.OwnClock:
		case c.Left:
			out = append(out, c.Source+" is left out, since its clock cannot be found")
		case c.Typed:
			out = append(out, fmt.Sprintf("%s was set to it as typed: its first row stands at %.2f s", c.Source, c.Run(0)))
		default:
			out = append(out, fmt.Sprintf("%s was set to it by its %s: its first row stands at %.2f s ± %.2g s, its clock runs %+.0f ± %.0f ppm (standard uncertainties; a lag of the instrument is part of the offset)",
				c.Source, c.Shared, c.Run(0), c.UOffset, 1e6*c.Drift, 1e6*c.UDrift))
		}
	}
	newton := s.unit(bench.UnitOf(bench.Thrust))
	pull := func(x float64) string { return fmt.Sprintf("%.3g %s", newton.FromSI(x), newton.Symbol) }
	var zeros []string
	for _, z := range d.Zeros {
		how := ""
		if z.Typed {
			how = ", typed"
		}
		zeros = append(zeros, fmt.Sprintf("%.0f s to %.0f s: %s ± %s%s", z.From, z.To, pull(z.Pull), pull(z.U), how))
	}
	if len(zeros) > 0 && d.Tare.Windows > 0 {
		line := "tare in " + count(len(zeros), "zero window") + " (" + strings.Join(zeros, "; ") + ")"
		if d.Tare.Windows > 1 {
			line += fmt.Sprintf(", drifting by %s over the run; both are taken out", pull(d.Tare.Drift*d.Duration))
		}
		out = append(out, line)
	}
	if l := d.Level; len(l.Times) > 0 {
		line := fmt.Sprintf("the water level changed by %+.3g mm over the run", 1000*l.Rise(d.Duration))
		if l.Pull != 0 || l.UPull > 0 {
			line += fmt.Sprintf("; a rise of 10 mm adds %s ± %s to what the scale shows, which is taken out", pull(0.01*l.Pull), pull(0.01*l.UPull))
		} else {
			line += "; what it did to the scale is in the zero windows"
		}
		out = append(out, line)
	}
	if w := d.Motion.Stream; w.Known {
		out = append(out, fmt.Sprintf("water ran past the drive at %.2g to %.2g m/s, so no step was at rest; it bends no pull here and is the drive's speed in the reckoning, without the drag of what else hangs in the water", w.Low, w.High))
	}
	if f := d.Friction; f.Known && f.Share > 0 {
		out = append(out, fmt.Sprintf("friction %s ± %s and %.2g %% ± %.1g %% of the pull, from %s down against those up, which tell what grows from what does not; it is taken out",
			pull(f.Force), pull(f.U), 100*f.Share, 100*f.UShare, count(f.Steps, "step")))
	} else if d.Friction.Known {
		out = append(out, fmt.Sprintf("carriage friction %s ± %s, from %s down against those up; it is taken out", pull(d.Friction.Force), pull(d.Friction.U), count(d.Friction.Steps, "step")))
	} else {
		out = append(out, "carriage friction is not known: no step down within the range of three settled steps up; it stays an assumption")
	}
	if r := d.Repeats; r.Known {
		line := fmt.Sprintf("%s share their load with another one: ", count(r.Plateaus, "plateau"))
		if r.Spread > 0 {
			line += fmt.Sprintf("the pull differs by %.2g %% (standard deviation) more than scatter within them explains (F = %.3g); it is a part of every pull's budget", 100*r.Spread, r.F)
		} else {
			line += fmt.Sprintf("the pull differs no more than scatter within them and what they share explain (F = %.3g, by chance alone %.2g)", r.F, r.Probability)
		}
		var needs []string
		for _, change := range []float64{0.01, 0.02, 0.05} {
			if n, ok := r.Resolve(change); ok && n <= 100 {
				needs = append(needs, fmt.Sprintf("%d a side tell %.0f %%", n, 100*change))
			}
		}
		if len(needs) > 0 {
			line += "; to tell a change of the drive by its pull, four times of five: " + strings.Join(needs, ", ")
		}
		out = append(out, line)
	}
	if m := bench.MovingWater(d.Plateaus); m.Known {
		verdict := "no sign of water moving with the jet"
		switch {
		case m.Change < -2*m.U:
			verdict = "the water moves with the jet, and the first seconds lie nearer to open water"
		case m.Change > 2*m.U:
			verdict = "the pull grew, which moving water does not do: look at tare, warming and the battery"
		}
		out = append(out, fmt.Sprintf("test of moving water: from its first seconds to the last third of a plateau the pull for the rotor speed changed by %+.2f %% ± %.2f %%; %s. It bends no figure here",
			100*m.Change, 100*m.U, verdict))
	}
	return out
}

// budget writes what the figures of a plateau are worth.
func (p *page) budget(a *desk.BudgetAnswer) {
	pl := a.Plateau
	p.heading(fmt.Sprintf("%s (%s), %.1f s to %.1f s", pl.Name, pl.Direction, pl.Span.From, pl.Span.To))
	if pl.Unsettled != "" {
		p.prose("  ", "    ", "it had not settled: "+pl.Unsettled)
	}
	for _, b := range a.Budgets {
		f := b.Figure
		u := p.unit(bench.UnitOf(f.Channel))
		p.heading(fmt.Sprintf("%s %s", f.Channel, p.text(figureOf(f, bench.UnitOf(f.Channel)))))
		difference := func(si float64) string { return fmt.Sprintf("%.3g", u.FromSI(si)-u.FromSI(0)) }
		var rows [][]string
		for i, c := range f.Budget {
			freedom := "∞"
			if !math.IsInf(c.Freedom, 1) {
				freedom = fmt.Sprintf("%.0f", c.Freedom)
			}
			shared := "alone"
			if c.Shared != "" {
				shared = "shared"
			}
			rows = append(rows, []string{c.Name, difference(c.U), fmt.Sprintf("%.0f %%", 100*b.Shares[i]), freedom, shared, c.Note})
		}
		symbol := u.Symbol
		if symbol == "°C" {
			symbol = "K"
		}
		p.grid([]string{"", "standard u, " + symbol, "share", "degrees of freedom", "", ""}, rows, 2, 3, 4)
		freedom := "more than 1000"
		if b.Freedom <= 1000 {
			freedom = fmt.Sprintf("%.0f", math.Floor(b.Freedom))
		}
		p.line("  combined %s %s, %s effective degrees of freedom, 90 %% interval ± %s %s", difference(b.U), symbol, freedom, difference(b.Half), symbol)
		drawn := desk.Figure{Value: f.Value, Low: b.Low, High: b.High, Unit: bench.UnitOf(f.Channel)}
		p.line("  every part drawn by its own distribution (%s): %s; %s", drawnWord(f), p.text(drawn), holdsWord(b, difference(b.Tolerance), symbol))
		if f.Unsettled {
			p.line("  it was still moving over the last third of the plateau")
		}
	}
	if len(pl.Doubts) > 0 {
		p.heading("Channels in doubt")
		for _, x := range pl.Doubts {
			p.prose("  ", "    ", doubtLine(x))
		}
	}
}

// holdsWord says whether the interval of the budget stands against drawing.
func holdsWord(b desk.Budget, tolerance, symbol string) string {
	if b.Holds {
		return fmt.Sprintf("the budget's interval holds to ± %s %s", tolerance, symbol)
	}
	return fmt.Sprintf("the budget's ends are off by more than ± %s %s", tolerance, symbol)
}

// drawnWord says how far the shapes are from normal.
func drawnWord(f bench.Figure) string {
	for _, c := range f.Budget {
		if c.Rectangle && c.U > 0.7*f.StandardUncertainty() {
			return "mostly " + c.Name + ", which has ends"
		}
	}
	return "nearly normal"
}

func (s Style) reducedAnswer(a *desk.ReduceAnswer) object {
	days := []object{}
	for i := range a.Days {
		days = append(days, s.day(&a.Days[i]))
	}
	return object{{"interval", "90 %"}, {"runs", days}, {"notices", notices(a.Notices)}}
}

func (s Style) day(d *desk.ReducedDay) object {
	o := object{{"run", d.Run}, {"revision", d.Revision}, {"parts", d.Parts}, {"duration_s", s.exact(d.Duration, "s")}}
	if len(d.Before) > 0 {
		looked := object{}
		for _, l := range d.Before {
			if l.Text != "" {
				looked.add(l.Key, l.Text)
			} else {
				u := l.Value.Unit()
				looked.add(key(l.Key, u), s.figure(desk.Figure{Value: l.Value.Nominal(), Low: l.Value.Low(), High: l.Value.High(), Unit: u}))
			}
		}
		o.add("before", looked)
	}
	clocks := []object{}
	for _, c := range d.Clocks {
		clocks = append(clocks, object{
			{"log", c.Source}, {"set_by", c.Shared}, {"first_row_s", c.Run(0)}, {"first_row_u_s", c.UOffset}, {"drift_ppm", 1e6 * c.Drift}, {"drift_u_ppm", 1e6 * c.UDrift},
		})
	}
	o.add("clocks", clocks)
	zeros := []object{}
	for _, z := range d.Zeros {
		zeros = append(zeros, object{{"from_s", z.From}, {"to_s", z.To}, {"pull_N", z.Pull}, {"u_N", z.U}, {"typed", z.Typed}})
	}
	o.add("zero_windows", zeros)
	o.add("tare", object{{"known", d.Tare.Known}, {"at_begin_N", d.Tare.Start}, {"at_begin_u_N", d.Tare.UStart}, {"drift_N_per_s", d.Tare.Drift}, {"drift_u_N_per_s", d.Tare.UDrift}})
	o.add("carriage_friction", object{{"known", d.Friction.Known}, {"force_N", d.Friction.Force}, {"u_N", d.Friction.U}, {"share_of_pull", d.Friction.Share}, {"share_u", d.Friction.UShare}, {"steps_down", d.Friction.Steps}})
	if l := d.Level; len(l.Times) > 0 {
		o.add("water_level", object{{"change_m", l.Rise(d.Duration)}, {"pull_per_rise_N_per_m", l.Pull}, {"pull_per_rise_u_N_per_m", l.UPull}})
	}
	if w := d.Motion.Stream; w.Known {
		o.add("water_speed", object{{"low_m_per_s", w.Low}, {"high_m_per_s", w.High}})
	}
	drawn := []object{}
	for _, v := range desk.DrawnTogether(d.Plateaus, bench.Thrust) {
		drawn = append(drawn, object{
			{"plateau", v.Plateau + 1},
			{"budget_low_N", v.Low},
			{"budget_high_N", v.High},
			{"drawn_low_N", v.DrawnLow},
			{"drawn_high_N", v.DrawnHigh},
			{"drawn_low_u_N", v.ULow},
			{"drawn_high_u_N", v.UHigh},
			{"tolerance_N", v.Tolerance},
			{"verdict", v.Verdict},
			{"draws", v.Draws},
		})
	}
	o.add("drawn_together", object{{"channel", "thrust"}, {"level", "90 %"}, {"plateaus", drawn}})
	if r := d.Repeats; r.Known {
		o.add("repeats", object{
			{"plateaus", r.Plateaus}, {"loads", r.Levels}, {"spread", r.Spread}, {"degrees_of_freedom", r.Freedom}, {"F", finiteOr(r.F)}, {"probability", r.Probability}, {"one_against_another", r.Each},
		})
	}
	if d.Warm != nil {
		o.add("temperatures_and_heat", warmObject(d.Warm))
	}
	plateaus := []object{}
	for i, p := range d.Plateaus {
		x := s.plateau(desk.PlateauAnswer{Plateau: p, Coefficients: d.Coefficients[i]})
		x.add("direction", p.Direction)
		budgets := object{}
		for _, b := range desk.BudgetsOf(p) {
			budgets.add(snake(string(b.Figure.Channel)), s.budgetOf(b))
		}
		x.add("budgets", budgets)
		plateaus = append(plateaus, x)
	}
	o.add("plateaus", plateaus)
	if m := bench.MovingWater(d.Plateaus); m.Known {
		o.add("moving_water", object{{"change", m.Change}, {"u", m.U}})
	}
	o.add("covariance", object{{"thrust_N2", covariance(d.Plateaus, bench.Thrust)}, {"power_W2", covariance(d.Plateaus, bench.Power)}})
	o.add("doubts", doubts(d.Doubts))
	o.add("notices", notices(d.Notices))
	return o
}

// finiteOr leaves out what is beyond all numbers, as where nothing scatters.
func finiteOr(x float64) any {
	if math.IsInf(x, 0) {
		return nil
	}
	return x
}

// covariance is the covariance of a channel's figures over plateaus, in their order, SI.
func covariance(plateaus []bench.Plateau, c bench.Channel) [][]float64 {
	m := bench.Covariance(plateaus, c)
	out := make([][]float64, len(plateaus))
	for i := range out {
		out[i] = make([]float64, len(plateaus))
		for j := range out[i] {
			out[i][j] = m.At(i, j)
		}
	}
	return out
}

func doubts(list []bench.Doubt) []object {
	out := []object{}
	for _, x := range list {
		out = append(out, object{
			{"channel", string(x.Channel)}, {"log", x.Source}, {"kind", x.Kind}, {"from_s", x.Span.From}, {"to_s", x.Span.To}, {"evidence", x.Evidence}, {"figures_dropped", x.Drops},
		})
	}
	return out
}

// budgetOf writes a budget; uncertainties are SI, degrees of freedom are left out where infinite.
func (s Style) budgetOf(b desk.Budget) object {
	components := []object{}
	for i, c := range b.Figure.Budget {
		x := object{{"name", c.Name}, {"u_SI", c.U}, {"share", b.Shares[i]}}
		if !math.IsInf(c.Freedom, 1) {
			x.add("degrees_of_freedom", c.Freedom)
		}
		if c.Shared != "" {
			x.add("shared", c.Shared)
		}
		if c.Note != "" {
			x.add("note", c.Note)
		}
		components = append(components, x)
	}
	o := object{{"u_SI", b.U}, {"half_width_90_SI", b.Half}, {"simulated_low_SI", b.Low}, {"simulated_high_SI", b.High}, {"draws", b.Draws}, {"budget_holds", b.Holds}, {"components", components}}
	if !math.IsInf(b.Freedom, 1) {
		o.add("effective_degrees_of_freedom", b.Freedom)
	}
	return o
}

func (s Style) budget(a *desk.BudgetAnswer) object {
	o := s.plateau(desk.PlateauAnswer{Plateau: a.Plateau})
	budgets := object{}
	for _, b := range a.Budgets {
		budgets.add(snake(string(b.Figure.Channel)), s.budgetOf(b))
	}
	o.add("budgets", budgets)
	o.add("doubts", doubts(a.Plateau.Doubts))
	return o
}
