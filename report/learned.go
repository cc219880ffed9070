package report

import (
	"fmt"
	"math"
	"strings"

	"jetwright/bench"
	"jetwright/desk"
	"jetwright/explore"
	"jetwright/quantity"
	"jetwright/reckon"
)

func (p *page) fit(f *reckon.Fit) {
	if f == nil {
		return
	}
	p.heading("Calibrated model")
	p.prose("  ", "  ", fmt.Sprintf("the readings tell %s apart; what they do not tell stays at its assumption", count(f.Numbers, "number")))
	var rows [][]string
	for _, c := range f.Combination {
		u, _ := quantity.LookupUnit(c.Unit)
		rows = append(rows, []string{c.Name, p.text(from(c.Before, u)), p.text(from(c.After, u))})
	}
	if f.Numbers > 0 {
		p.grid([]string{"", "before", "after"}, rows)
	}
	rows = nil
	for i, d := range f.Directions {
		rows = append(rows, []string{fmt.Sprint(i + 1), p.direction(d), fmt.Sprintf("%.1f %%", 100*d.After)})
	}
	if len(rows) > 0 {
		p.grid([]string{"", "told apart, best first", "doubt left"}, rows, 3)
	}
	for _, k := range f.Pairs {
		p.prose("  ", "    ", pairText(k))
	}
	list, kept := learned(f)
	rows = nil
	for _, l := range list {
		rows = append(rows, []string{l.Path, p.text(from(l.Prior, l.Unit)), p.text(from(l.Posterior, l.Unit)), fmt.Sprintf("%.0f %%", 100*l.After), moves(l.Shift)})
	}
	if len(rows) > 0 {
		p.grid([]string{"learned something of", "before", "after", "doubt left", "moved, σ"}, rows, 4, 5)
	}
	if len(kept) > 0 {
		p.prose("  stays as assumed or typed: ", "    ", strings.Join(kept, ", "))
	}
	p.line("  misfit: χ² %.2f over %s", f.ChiSquare, count(f.Residuals, "figure"))
	p.prose("  beyond the tested powers: ", "    ", gapText(f.Gap))
	p.sampling(f.Sampling)
}

// direction names a combination; the parts of one that has a name of its own follow it.
func (s Style) direction(d reckon.Direction) string {
	if !d.Named {
		return d.Name
	}
	var words []string
	for _, k := range d.Parts {
		words = append(words, k.Path)
	}
	return d.Name + ", by " + strings.Join(words, ", ")
}

// pairText says what two unknowns are to each other.
func pairText(k reckon.Pair) string {
	sum := "sum"
	if k.Correlation > 0 {
		sum = "difference"
	}
	if k.Tied {
		return fmt.Sprintf("cannot be told apart: %s and %s (correlation %s): of their %s %.0f %% of the doubt is left, of each alone %.0f %% and %.0f %%",
			k.A, k.B, signed(k.Correlation), sum, 100*k.Sum, 100*k.AfterA, 100*k.AfterB)
	}
	return fmt.Sprintf("no two unknowns are tied beyond a correlation of 0.9; the closest are %s and %s (%s)", k.A, k.B, signed(k.Correlation))
}

func signed(x float64) string { return strings.Replace(fmt.Sprintf("%+.2f", x), "-", "−", 1) }

// gapText says how large the discrepancy is and how that is known.
func gapText(g reckon.Gap) string {
	const usual = "ln(static efficiency) is given a standard deviation of 0.03 at once and 0.05 for each doubling of the power"
	if !g.Learned {
		return usual + "; the readings say nothing of that size, since " + g.Why
	}
	percent := func(x float64) string { return strings.Replace(fmt.Sprintf("%+.1f", 100*x), "-", "−", 1) }
	drift := percent(g.Drift.Value) + " %"
	if g.Drift.Low < g.Drift.High {
		drift = fmt.Sprintf("%s %% [%s, %s]", percent(g.Drift.Value), percent(g.Drift.Low), percent(g.Drift.High))
	}
	return fmt.Sprintf("%s steps over a factor of %.1f show a drift of the static efficiency beside the model of %s for each doubling, which is carried on; %s, before the ladder; with it %.2f times that",
		fmt.Sprint(g.Steps), g.Ratio, drift, usual, g.Size)
}

// sampling says what a sampled answer is worth and whether the Gaussian one agrees.
func (p *page) sampling(s *reckon.Sampling) {
	if s == nil {
		return
	}
	how := fmt.Sprintf("walked by %d chains of %d points each", s.Chains, s.Points)
	if s.Weighted {
		how = fmt.Sprintf("%d streams of %d points each, weighed (Pareto shape %.2f; below 0.5 is sound)", s.Chains, s.Points, s.Shape)
	}
	p.prose("  sampled: ", "    ", fmt.Sprintf("%s; effective size of every unknown at least %.0f (%s), for the ends of the intervals at least %.0f; R-hat at most %.3f (%s)",
		how, s.Least, s.LeastOf, s.Tails, s.RHat, s.RHatOf))
	differ := s.Differing()
	if len(differ) == 0 {
		p.prose("  ", "    ", fmt.Sprintf("the Gaussian answer agrees: none of %d intervals differs from it by more than sampling explains", len(s.Compared)))
		return
	}
	var words []string
	for _, c := range differ {
		u, _ := quantity.LookupUnit(c.Unit)
		if c.Unit == "" {
			words = append(words, fmt.Sprintf("%s [%.2f, %.2f] σ, Gaussian [%.2f, %.2f] σ", c.Name, c.Sampled.Low, c.Sampled.High, c.Gaussian.Low, c.Gaussian.High))
			continue
		}
		words = append(words, fmt.Sprintf("%s %s, Gaussian %s", c.Name, p.text(from(c.Sampled, u)), p.text(from(c.Gaussian, u))))
	}
	p.prose("  ", "    ", fmt.Sprintf("%d of %d intervals differ from the Gaussian answer by more than sampling explains: %s", len(differ), len(s.Compared), strings.Join(words, "; ")))
}

// highest shows the highest step predicted from those below.
func (p *page) highest(l *reckon.LeaveOut) {
	if l == nil {
		return
	}
	p.heading("The highest step, predicted from those below it")
	p.prose("  ", "  ", l.Sentence())
	var rows [][]string
	for _, r := range l.Rows {
		u := bench.UnitOf(r.Channel)
		in := "inside"
		if !r.Inside {
			in = "outside"
		}
		rows = append(rows, []string{
			r.Name, string(r.Channel), p.bare(desk.Figure{Value: r.Read, Low: r.Predicted.Low, High: r.Predicted.High, Unit: u}), p.text(from(r.Predicted, u)), in,
			strings.Replace(fmt.Sprintf("%+.1f", r.Z), "-", "−", 1), p.apart(r.CRPS, u),
		})
	}
	if len(rows) > 0 {
		p.grid([]string{"", "", "read", "predicted", "", "off, σ", "score (CRPS)"}, rows, 6)
		p.line("  read off the instrument, its limits and scatter in the prediction; the score is small where a narrow prediction is near")
	}
	if l.Lined {
		n, _ := quantity.LookupUnit("N")
		p.prose("  ", "  ", fmt.Sprintf("without any model, a straight line of logarithms through the steps below says %s; read %s", p.text(from(l.Line, n)), p.bare(from(explore.Figure{Value: l.LineOf, Low: l.Line.Low, High: l.Line.High}, n))))
	}
}

// apart writes a difference of two figures of a channel, of temperatures in K.
func (s Style) apart(x float64, u quantity.Unit) string {
	if u.Symbol == "°C" || u.Symbol == "°F" {
		return fmt.Sprintf("%.2g K", x)
	}
	u = s.unit(u)
	return fmt.Sprintf("%.2g %s", x/u.Scale, u.Symbol)
}

// teaching shows what further measurements are expected to teach.
func (p *page) teaching(t *reckon.Teaching) {
	if t == nil {
		return
	}
	p.heading("What to measure to know more")
	if t.Why != "" {
		p.prose("  ", "  ", t.Why)
		return
	}
	p.prose("  ", "  ", fmt.Sprintf("aim: %s, known to ± %.1f %% (90 %%); what is expected to be left of that, by the covariances, whatever will be read", t.Aim, 100*t.Half))
	var rows [][]string
	for _, l := range t.Lessons {
		gain, hour := fmt.Sprintf("%.1f %%", 100*l.Gain), fmt.Sprintf("%.1f %%", 100*l.PerHour)
		if l.Gain < 0.0005 {
			gain, hour = "under 0.1 %", ""
		}
		rows = append(rows, []string{l.Name, l.How, fmt.Sprintf("± %.1f %%", 100*l.Half), gain, fmt.Sprintf("%.1f", l.Hours), hour, l.Parts})
	}
	p.grid([]string{"measurement", "how", "left", "narrower by", "hours", "for an hour", "tells apart"}, rows, 3, 4, 5, 6)
	p.line("  hours are assumed; what nothing known now can tell, the discrepancy beyond the tested powers, only a step of power narrows")
}

// beside is the line that stands beside every extrapolation.
func (p *page) besideExtrapolation(doublings float64, l *reckon.LeaveOut) {
	if l == nil || !(doublings > 0) {
		return
	}
	p.prose("  ", "    ", l.Sentence())
}

// learned parts the unknowns of a fit into those that the readings moved or narrowed and the
// names of the others.
func learned(f *reckon.Fit) (moved []reckon.Learned, kept []string) {
	for _, l := range f.Learned {
		if l.After < 0.9 || math.Abs(l.Shift) > 0.3 {
			moved = append(moved, l)
		} else {
			kept = append(kept, l.Path)
		}
	}
	return moved, kept
}

// FittedText is a number as the runs leave it.
type FittedText struct{ Path, Text string }

// Fitted are the numbers of the design of which the runs said something, as they leave them.
func Fitted(a *desk.ReportAnswer, s Style) []FittedText {
	if a.Fit == nil {
		return nil
	}
	var out []FittedText
	list, _ := learned(a.Fit)
	for _, l := range list {
		out = append(out, FittedText{l.Path, s.text(from(l.Posterior, l.Unit))})
	}
	return out
}

// JSON of the same.

func (s Style) fit(f *reckon.Fit) any {
	if f == nil {
		return nil
	}
	o := object{{"numbers_learned", f.Numbers}, {"chi_square", f.ChiSquare}, {"residuals", f.Residuals}}
	combos := []object{}
	for _, c := range f.Combination {
		u, _ := quantity.LookupUnit(c.Unit)
		combos = append(combos, object{{"name", c.Name}, {key("before", u), s.figure(from(c.Before, u))}, {key("after", u), s.figure(from(c.After, u))}})
	}
	o.add("combinations", combos)
	directions := []object{}
	for _, d := range f.Directions {
		parts := []object{}
		for _, k := range d.Parts {
			parts = append(parts, object{{"path", k.Path}, {"weight", k.Weight}})
		}
		directions = append(directions, object{{"name", d.Name}, {"named", d.Named}, {"doubt_left", d.After}, {"parts", parts}})
	}
	o.add("directions", directions)
	pairs := []object{}
	for _, k := range f.Pairs {
		pairs = append(pairs, object{{"a", k.A}, {"b", k.B}, {"correlation", k.Correlation}, {"tied", k.Tied}, {"doubt_left_together", k.Sum}, {"doubt_left_a", k.AfterA}, {"doubt_left_b", k.AfterB}})
	}
	o.add("pairs", pairs)
	learned := []object{}
	for _, l := range f.Learned {
		learned = append(learned, object{{"path", l.Path}, {key("before", l.Unit), s.figure(from(l.Prior, l.Unit))}, {key("after", l.Unit), s.figure(from(l.Posterior, l.Unit))}, {"doubt_left", l.After}, {"shift", l.Shift}})
	}
	o.add("unknowns", learned)
	g := object{{"learned", f.Gap.Learned}, {"steps", f.Gap.Steps}, {"ratio", f.Gap.Ratio}, {"size", f.Gap.Size}, {"text", gapText(f.Gap)}}
	if f.Gap.Learned {
		g.add("drift_per_doubling", object{{"value", f.Gap.Drift.Value}, {"low", f.Gap.Drift.Low}, {"high", f.Gap.Drift.High}})
	} else {
		g.add("why", f.Gap.Why)
	}
	o.add("discrepancy", g)
	doubts := []object{}
	for _, d := range f.Doubts {
		u := bench.UnitOf(d.Channel)
		doubts = append(doubts, object{{"reading", d.Name}, {"run", d.Run}, {"channel", string(d.Channel)}, {key("read", u), s.exact(d.Read, u.Symbol)}, {key("expected", u), s.exact(d.Expected, u.Symbol)}, {"sigmas", d.Sigmas}})
	}
	o.add("contradicting", doubts)
	if c := f.Sampling; c != nil {
		walked, compared := []object{}, []object{}
		for _, w := range c.Unknowns {
			walked = append(walked, object{{"name", w.Name}, {"effective_size", w.Bulk}, {"effective_size_tails", w.Tail}, {"r_hat", w.RHat}})
		}
		for _, k := range c.Compared {
			compared = append(compared, object{
				{"name", k.Name},
				{"differs", k.Differ},
				{"sampling_error", k.Error},
				{"gaussian", object{{"value", k.Gaussian.Value}, {"low", k.Gaussian.Low}, {"high", k.Gaussian.High}}},
				{"sampled", object{{"value", k.Sampled.Value}, {"low", k.Sampled.Low}, {"high", k.Sampled.High}}},
			})
		}
		o.add("sampled", object{
			{"chains", c.Chains},
			{"points_a_chain", c.Points},
			{"least_effective_size", c.Least},
			{"least_effective_size_of", c.LeastOf},
			{"least_effective_size_tails", c.Tails},
			{"r_hat", c.RHat},
			{"r_hat_of", c.RHatOf},
			{"enough", c.Enough},
			{"weighted", c.Weighted},
			{"pareto_shape", finiteOr(c.Shape)},
			{"unknowns", walked},
			{"compared", compared},
		})
	}
	return o
}

func (s Style) highestStep(l *reckon.LeaveOut) any {
	if l == nil {
		return nil
	}
	o := object{{"text", l.Sentence()}, {"steps_below", l.Below}}
	rows := []object{}
	for _, r := range l.Rows {
		u := bench.UnitOf(r.Channel)
		rows = append(rows, object{
			{"reading", r.Name},
			{"run", r.Run},
			{"channel", string(r.Channel)},
			{"power_ratio", r.Ratio},
			{key("read", u), s.exact(r.Read, u.Symbol)},
			{key("predicted", u), s.figure(from(r.Predicted, u))},
			{"z", r.Z},
			{"crps_si", r.CRPS},
			{"interval_score_si", r.Interval},
			{"inside", r.Inside},
		})
	}
	o.add("figures", rows)
	if l.Lined {
		n, _ := quantity.LookupUnit("N")
		o.add("line_thrust_N", s.figure(from(l.Line, n)))
	}
	return o
}

func (s Style) teachingObject(t *reckon.Teaching) any {
	if t == nil {
		return nil
	}
	o := object{{"aim", t.Aim}, {"half_width", t.Half}}
	if t.Why != "" {
		o.add("why_not", t.Why)
	}
	list := []object{}
	for _, l := range t.Lessons {
		list = append(list, object{{"measurement", l.Name}, {"how", l.How}, {"hours", l.Hours}, {"half_width", l.Half}, {"gain", l.Gain}, {"gain_per_hour", l.PerHour}, {"tells_apart", l.Parts}})
	}
	o.add("measurements", list)
	return o
}
