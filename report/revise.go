package report

import (
	"fmt"
	"math"
	"strings"

	"jetwright/design"
	"jetwright/desk"
	"jetwright/explore"
	"jetwright/quantity"
	"jetwright/reckon"
)

func (p *page) revised(a *desk.ReviseAnswer) {
	p.line("%s is frozen as %s: %s", "drive.toml", a.File, a.Note)
	if a.Against == "" {
		p.line("  it is the first that can be read; nothing stands before it")
	} else {
		p.changed(a.Changed, a.Against)
	}
	p.prose("  ", "  ", `runs of it say revision = "`+a.Name+`" at the top of their run.toml`)
	for _, name := range a.Waiting {
		p.prose("  ", "  ", fmt.Sprintf("runs name revision %s, which is not frozen; a design that is as it ran then is frozen as that with --as %s", name, name))
	}
	p.notices(a.Notices)
}

// changed lists what is drawn and what is built differently.
func (p *page) changed(list []design.Difference, against string) {
	if len(list) == 0 {
		p.line("  nothing differs from %s", against)
		return
	}
	for _, kind := range []struct {
		built bool
		word  string
	}{{false, "drawn"}, {true, "built"}} {
		for _, d := range list {
			if d.Built == kind.built {
				p.prose("  "+kind.word+" against "+against+": ", "    ", d.String())
			}
		}
	}
}

// byShare writes a difference of logarithms as per cent.
func byShare(f explore.Figure) string {
	pc := func(x float64) float64 { return math.Expm1(x) }
	number, low, high := quantity.Figures(pc(f.Value), pc(f.Low), pc(f.High), unitOf("%"))
	if low == "" {
		return fmt.Sprintf("%+.1f %%", 100*pc(f.Value))
	}
	return withSign(number) + " % [" + low + ", " + high + "]"
}

func (p *page) revisions(a *desk.RevisionsAnswer) {
	p.heading("Revisions")
	if a.Draws > 0 {
		p.line("  %s", p.interval(a.Draws))
	}
	for i := range a.List {
		p.revision(&a.List[i])
	}
	if a.Against != "" {
		p.heading("drive.toml now")
		if len(a.Now) == 0 {
			p.line("  as frozen in %s", a.Against)
		} else {
			p.changed(a.Now, a.Against)
			p.line("  not frozen; freeze it with: jetwright revise -m \"what it is about\"")
		}
	}
	p.notices(a.Notices)
}

func (p *page) revision(x *desk.RevisionShown) {
	head := x.Name
	if x.Note != "" {
		head += ", " + x.Note
	}
	if x.Date != "" {
		head += " (" + x.Date + ")"
	}
	p.heading(head)
	switch {
	case x.File == "":
		p.line("  not frozen; its runs name it")
	case !x.Readable:
		p.line("  %s cannot be read", x.File)
	case x.Against == "":
		p.line("  the first that can be read")
	default:
		p.changed(x.Changed, x.Against)
	}
	if x.Why != "" {
		p.prose("  ", "    ", "nothing is predicted: "+x.Why)
	}
	if len(x.Predicted) > 0 {
		var words []string
		for _, f := range x.Predicted {
			words = append(words, revisionWords[f.Path]+" "+p.text(f))
		}
		p.prose("  ", "    ", "predicted at "+desk.Describe(x.Condition)+": "+strings.Join(words, ", "))
	}
	if len(x.Runs) == 0 {
		p.line("  nothing was measured of it")
		return
	}
	p.prose("  ", "    ", fmt.Sprintf("measured: %s of %s", count(x.Plateaus, "plateau"), strings.Join(x.Runs, ", ")))
	if x.Measured != nil {
		p.since(x.Measured)
	}
}

var revisionWords = map[string]string{
	"thrust": "thrust", "battery_power": "battery", "static_efficiency": "static efficiency", "rotor_speed": "rotor", "motor.winding_temperature": "winding",
}

// since says what a revision measured against the one before it.
func (p *page) since(m *desk.MeasuredSince) {
	for i := range m.Figures {
		c := &m.Figures[i]
		lead := fmt.Sprintf("%s against %s: ", c.Name, m.Against)
		if c.Levels == 0 {
			p.prose("  ", "    ", lead+"not compared, "+c.Why)
			continue
		}
		t := lead + byShare(c.Difference)
		if i == 0 {
			t += p.atLevels(c)
			if m.Known {
				t += ", predicted " + byShare(explore.Figure{Value: m.Predicted, Low: m.Predicted, High: m.Predicted})
			}
		}
		p.prose("  ", "    ", t+"; "+settled(c, i == 0))
	}
}

func (s Style) atLevels(c *reckon.RevisionFigure) string {
	place := ""
	if c.Place != "" {
		place = " " + placed[c.Place]
	}
	if c.Levels == 1 {
		return fmt.Sprintf(" at about %s%s", s.rounded(c.Low, "W"), place)
	}
	return fmt.Sprintf(" over %d powers from %s to %s%s", c.Levels, s.rounded(c.Low, "W"), s.rounded(c.High, "W"), place)
}

// settled says whether a difference is larger than the bench resolves, and what would settle it.
func settled(c *reckon.RevisionFigure, whole bool) string {
	told := fmt.Sprintf("%.1f %%", 100*c.Told)
	if c.Resolved {
		return "larger than what the bench resolves, " + told
	}
	t := "no larger than what the bench resolves, " + told
	switch {
	case c.Why != "":
		t += "; " + c.Why
	case c.Days:
		t += fmt.Sprintf("; %s of each would tell it four times of five", count(c.Repeats, "day"))
	default:
		t += fmt.Sprintf("; %s of each at one power would tell it four times of five", count(c.Repeats, "plateau"))
	}
	if whole {
		t += fmt.Sprintf(" (one plateau is %.1f %% off the next, by %s)", 100*c.Each, c.EachFrom)
	}
	return t
}

func differences(list []design.Difference) []object {
	out := []object{}
	for _, d := range list {
		kind := "drawn"
		if d.Built {
			kind = "built"
		}
		out = append(out, object{{"kind", kind}, {"path", d.Path}, {"was", d.Was}, {"is", d.Is}})
	}
	return out
}

func (s Style) reviseObject(a *desk.ReviseAnswer) object {
	return object{
		{"file", a.File},
		{"revision", a.Name},
		{"note", a.Note},
		{"date", a.Date},
		{"against", a.Against},
		{"changed", differences(a.Changed)},
		{"has_built", a.Built},
		{"named_by_runs_and_not_frozen", append([]string{}, a.Waiting...)},
		{"notices", notices(a.Notices)},
	}
}

func (s Style) revisionsObject(a *desk.RevisionsAnswer) object {
	list := []object{}
	for i := range a.List {
		x := &a.List[i]
		o := object{{"revision", x.Name}, {"file", x.File}, {"note", x.Note}, {"date", x.Date}, {"readable", x.Readable}, {"against", x.Against}, {"changed", differences(x.Changed)}}
		if x.Why != "" {
			o.add("why_not_predicted", x.Why)
		}
		if len(x.Predicted) > 0 {
			o.add("condition", s.condition(x.Condition))
			var f object
			for _, y := range x.Predicted {
				_, name, nested := cut(y.Path)
				if !nested {
					name = y.Path
				}
				f.add(key(name, y.Unit), s.figure(y))
			}
			o.add("predicted", f)
		}
		o.add("runs", append([]string{}, x.Runs...))
		o.add("plateaus", x.Plateaus)
		if m := x.Measured; m != nil {
			o.add("measured", sinceObject(m))
		}
		list = append(list, o)
	}
	return object{{"revisions", list}, {"now_against", a.Against}, {"now_changed", differences(a.Now)}, {"draws", a.Draws}, {"notices", notices(a.Notices)}}
}

func sinceObject(m *desk.MeasuredSince) object {
	pc := func(x float64) float64 { return round(100*math.Expm1(x), 4) }
	figures := []object{}
	for i := range m.Figures {
		c := &m.Figures[i]
		o := object{{"figure", c.Name}}
		if c.Levels == 0 {
			o.add("why_not", c.Why)
			figures = append(figures, o)
			continue
		}
		o.add("difference_pct", object{{"value", pc(c.Difference.Value)}, {"low", pc(c.Difference.Low)}, {"high", pc(c.Difference.High)}, {"text", byShare(c.Difference)}})
		o.add("levels", c.Levels)
		o.add("power_from_W", round(c.Low, 4))
		o.add("power_to_W", round(c.High, 4))
		o.add("power_place", c.Place)
		o.add("plateaus", []int{c.Counts[0], c.Counts[1]})
		o.add("resolved", c.Resolved)
		o.add("told_from_pct", round(100*c.Told, 3))
		o.add("one_plateau_against_another_pct", round(100*c.Each, 3))
		o.add("by", c.EachFrom)
		if c.Repeats > 0 {
			o.add("repeats_to_settle", c.Repeats)
			o.add("repeats_are_days", c.Days)
		}
		if c.Why != "" {
			o.add("why_no_repeat_settles", c.Why)
		}
		figures = append(figures, o)
	}
	out := object{{"against", m.Against}, {"figures", figures}}
	if m.Known {
		out.add("thrust_predicted_pct", pc(m.Predicted))
	}
	return out
}
