package report

import (
	"fmt"
	"strings"

	"jetwright/desk"
	"jetwright/explore"
	"jetwright/quantity"
	"jetwright/reckon"
)

// rankShown is how many changes a picture has, and rankPage how many rows the page.
const rankShown = 16

// aimOf words an aim with what is held.
func (s Style) aimOf(a *reckon.Aim) string {
	held := s.rounded(a.Condition.Amount, "W") + " at the battery"
	switch a.Name {
	case reckon.AimUnderWay:
		return "thrust at " + s.rounded(a.Speed, "m/s") + ", from " + held
	case reckon.AimRunTime:
		return "run time at " + s.rounded(a.Condition.Amount, "N") + s.under(a) + ", from the charge of the design"
	case reckon.AimWinding:
		return "coolest winding, steady, at " + s.rounded(a.Condition.Amount, "N") + s.under(a)
	case reckon.AimTopSpeed:
		return "speed from rest on the water, from " + held
	case reckon.AimHump:
		return "margin of thrust over drag on the way onto the plane, from " + held
	case reckon.AimPlane:
		return "shortest time to plane, battery and winding as at the start, from " + held
	case reckon.AimRange:
		return "range over the ground at the best speed on the plane"
	}
	return "thrust at rest, from " + held
}

func (s Style) under(a *reckon.Aim) string {
	if a.Speed > 0 {
		return " and " + s.rounded(a.Speed, "m/s")
	}
	return " at rest"
}

// aimUnit is the unit of the aim's figure; gains of a temperature are differences.
func aimUnit(a *reckon.Aim) quantity.Unit {
	if a.Unit == "K" {
		return unitOf("°C")
	}
	return unitOf(a.Unit)
}

func (s Style) gain(f explore.Figure, a *reckon.Aim) string {
	u := unitOf(a.Unit)
	if a.Unit != "K" {
		u = s.unit(u)
	}
	number, from, to := quantity.Figures(f.Value, f.Low, f.High, u)
	if from == "" {
		return withSign(number) + " " + u.Symbol
	}
	return withSign(number) + " " + u.Symbol + " [" + from + ", " + to + "]"
}

func withSign(number string) string {
	if number == "0" || strings.HasPrefix(number, "-") || strings.HasPrefix(number, "−") {
		return number
	}
	return "+" + number
}

// step is what is changed to what.
func (s Style) step(m *reckon.Move) string {
	u := s.unit(m.Field.Unit)
	if m.Words[1] != "" {
		return m.Words[0] + " to " + m.Words[1]
	}
	if m.Whole {
		return fmt.Sprintf("%.0f to %.0f", m.From, m.To)
	}
	digits := func(x float64) string { return fmt.Sprintf("%.4g", u.FromSI(x)) }
	t := digits(m.From) + " to " + digits(m.To)
	if u.Symbol != "" && u.Symbol != "1" {
		t += " " + u.Symbol
	}
	return t
}

func nearer(c *reckon.Change) string {
	n := &c.Nearer
	if n.Limit.Name == "" {
		return ""
	}
	t := fmt.Sprintf("%s: %.1f to %.1f %% left", n.Limit.Name, 100*n.Before, 100*n.After)
	switch {
	case n.After < 0 && n.Before >= 0:
		t += ", BROKEN"
	case n.After < 0:
		t += ", broken before"
	}
	return t
}

func (p *page) rank(a *desk.RankAnswer) {
	r := a.Ranking
	p.heading("Changes, by what they bring")
	p.ranked(r, a.Fitted)
	p.notices(a.Notices)
	p.cautions(a.Cautions)
}

// ranked is a ranking without its heading.
func (p *page) ranked(r *reckon.Ranking, fitted bool) {
	p.prose("  ", "  ", "aim: "+p.aimOf(&r.Aim)+"; now "+p.text(from(r.Now, aimUnit(&r.Aim))))
	which := "the design as typed and assumed, since nothing was measured"
	if fitted {
		which = "the drive that the readings leave"
	}
	if r.Draws > 0 {
		which += fmt.Sprintf("; brackets hold the 90 %% interval of %d such drives, each with the same change made to it", r.Draws)
	}
	pump := "The pump stays the one there is"
	if r.Bladed {
		pump = "Blades are worked out as they are changed"
	}
	p.prose("  ", "  ", which+". "+pump+"; temperatures are steady ones")
	var rows [][]string
	var bends, wild, narrow, lost []string
	for i := range r.Changes {
		c := &r.Changes[i]
		if c.Why != "" {
			lost = append(lost, c.Path+" "+p.step(&c.Move)+": "+c.Why)
			continue
		}
		sure := ""
		if r.Draws > 0 {
			sure = fmt.Sprintf("%.0f %%", 100*c.Sure)
		}
		mark := ""
		if c.Bends {
			mark, bends = " ~", append(bends, c.Path)
		}
		if !c.Settled && !c.Whole && !c.Coarse {
			mark, wild = mark+" ?", append(wild, c.Path)
		}
		if c.Narrowed {
			narrow = append(narrow, c.Path)
		}
		rows = append(rows, []string{c.Path + mark, p.step(&c.Move), p.gain(c.Gain, &r.Aim), sure, nearer(c), c.How})
	}
	if len(rows) == 0 {
		p.prose("  ", "  ", "no number that counts as changeable moves the aim")
	} else {
		head := []string{"change", "step", "brings", "gains in", "limit that comes nearer most", "how"}
		p.grid(head, rows, 4)
		p.prose("  ", "  ", "gains in is the share of drives in which the change gains; those below nine in ten stand last")
	}
	if len(bends) > 0 {
		p.prose("  ", "  ", "~ the whole step brings something else than its first part promises, a best value lies near: "+strings.Join(bends, ", "))
	}
	if len(narrow) > 0 {
		p.prose("  ", "  ", "step narrowed to half of the tolerance that is typed: "+strings.Join(narrow, ", "))
	}
	if len(wild) > 0 {
		p.prose("  ", "  ", "? the derivative does not settle between two step sizes; only the whole step is told: "+strings.Join(wild, ", "))
	}
	p.pairs(r)
	for _, t := range lost {
		p.prose("  ", "    ", "cannot be: "+t)
	}
	if len(r.StillAt) > 0 {
		var words []string
		for _, m := range r.StillAt {
			words = append(words, m.Path)
		}
		p.prose("  ", "  ", fmt.Sprintf("moves the aim by less than %.1g %s: %s", unitOf(r.Aim.Unit).FromSI(r.Still), unitOf(r.Aim.Unit).Symbol, strings.Join(words, ", ")))
	}
	for _, u := range r.Unranked {
		p.prose("  ", "    ", "not ranked: "+u.Path+", "+u.Why)
	}
}

func (p *page) pairs(r *reckon.Ranking) {
	if len(r.Pairs) == 0 {
		p.prose("  ", "  ", "no two changes bring clearly more together than one by one")
		return
	}
	p.prose("  ", "  ", "Together they bring more than one by one:")
	for i := range r.Pairs {
		x := &r.Pairs[i]
		alone := func(k int) string {
			return p.gain(explore.Figure{Value: x.Alone[k], Low: x.Alone[k], High: x.Alone[k]}, &r.Aim)
		}
		t := fmt.Sprintf("%s %s with %s %s: %s, of which %s only together (alone %s and %s)", x.A.Path, p.step(&x.A), x.B.Path, p.step(&x.B),
			p.gain(x.Gain, &r.Aim), p.gain(x.Together, &r.Aim), alone(0), alone(1))
		if x.OnlyPair {
			t += "; neither gains alone"
		}
		p.prose("  - ", "    ", t)
	}
}

// RankSVG draws the changes that bring most.
func RankSVG(id string, r *reckon.Ranking, s Style) string {
	u := unitOf(r.Aim.Unit)
	if r.Aim.Unit != "K" {
		u = s.unit(u)
	}
	c := Bars{ID: id, Title: "Changes by what they bring", About: "What each change brings to " + s.aimOf(&r.Aim) + ", with its 90 % interval.", XLabel: "brings, " + u.Symbol}
	for i := range r.Changes {
		x := &r.Changes[i]
		if x.Why != "" {
			continue
		}
		if len(c.List) == rankShown {
			break
		}
		c.List = append(c.List, Bar{
			Name: x.Path, Note: s.step(&x.Move), Value: u.FromSI(x.Gain.Value), Low: u.FromSI(x.Gain.Low), High: u.FromSI(x.Gain.High),
			Text: s.gain(x.Gain, &r.Aim), Unsure: r.Draws > 0 && x.Sure < 0.9,
		})
	}
	return c.SVG()
}

func (b *binder) rank() []block {
	r := b.a.Ranking
	if r == nil {
		return nil
	}
	out := []block{b.figure(RankSVG("ranking", r, b.Style), "What the changes that bring most bring to "+b.aimOf(&r.Aim)+". Lines hold the 90 % interval; an open bar may be a loss.")}
	return append(out, b.taken(func(p *page) { p.ranked(r, b.a.Fit != nil) }, false)...)
}

func (s Style) gainObject(f explore.Figure, a *reckon.Aim) object {
	o := s.figure(from(f, unitOf(a.Unit)))
	o[len(o)-1].value = s.gain(f, a)
	return o
}

func (s Style) moveObject(m *reckon.Move) object {
	u := m.Field.Unit
	o := object{{"path", m.Path}, {key("from", u), round(u.FromSI(m.From), 6)}, {key("to", u), round(u.FromSI(m.To), 6)}}
	if m.Words[1] != "" {
		o = object{{"path", m.Path}, {"from", m.Words[0]}, {"to", m.Words[1]}}
	}
	return append(o, object{
		{"text", s.step(m)},
		{"how", m.How},
		{"work", m.Work},
		{"why_this_step", m.Why},
		{"narrowed_by_tolerance", m.Narrowed},
	}...)
}

func (s Style) rankObject(a *desk.RankAnswer) object {
	o := s.rankingObject(a.Ranking, a.Fitted)
	o.add("notices", notices(a.Notices))
	o.add("cautions", cautionTexts(a.Cautions))
	return o
}

func (s Style) rankingObject(r *reckon.Ranking, fitted bool) object {
	u := unitOf(r.Aim.Unit)
	o := object{{"aim", r.Aim.Name}, {"aim_text", s.aimOf(&r.Aim)}, {"condition", s.condition(r.Aim.Condition)}, {key("now", aimUnit(&r.Aim)), s.figure(from(r.Now, aimUnit(&r.Aim)))}, {"calibrated", fitted}, {"draws", r.Draws}}
	list := []object{}
	for i := range r.Changes {
		c := &r.Changes[i]
		x := s.moveObject(&c.Move)
		if c.Why != "" {
			x.add("why_not", c.Why)
			list = append(list, x)
			continue
		}
		x.add(key("gain", u), s.gainObject(c.Gain, &r.Aim))
		if r.Draws > 0 {
			x.add("gains_in_share_of_draws", round(c.Sure, 4))
			x.add("draws_without_state", c.Without)
		}
		if !c.Whole && !c.Coarse {
			x.add(key("gain_by_derivative", u), round(u.FromSI(c.Slope), 6))
			x.add("derivative_settled", c.Settled)
			x.add("bends", c.Bends)
		}
		if n := c.Nearer; n.Limit.Name != "" {
			x.add("nearer", object{{"limit", n.Limit.Name}, {"margin_before", round(n.Before, 4)}, {"margin_after", round(n.After, 4)}})
		}
		list = append(list, x)
	}
	o.add("changes", list)
	pairs := []object{}
	for i := range r.Pairs {
		x := &r.Pairs[i]
		pairs = append(pairs, object{
			{"a", s.moveObject(&x.A)},
			{"b", s.moveObject(&x.B)},
			{key("gain", u), s.gainObject(x.Gain, &r.Aim)},
			{key("only_together", u), s.gainObject(x.Together, &r.Aim)},
			{key("gain_a_alone", u), round(u.FromSI(x.Alone[0]), 6)},
			{key("gain_b_alone", u), round(u.FromSI(x.Alone[1]), 6)},
			{"neither_gains_alone", x.OnlyPair},
		})
	}
	o.add("pairs", pairs)
	still := []string{}
	for _, m := range r.StillAt {
		still = append(still, m.Path)
	}
	o.add("does_not_move_the_aim", still)
	left := []object{}
	for _, x := range r.Unranked {
		left = append(left, object{{"path", x.Path}, {"why", x.Why}})
	}
	o.add("not_ranked", left)
	return o
}
