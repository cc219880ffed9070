package report

import (
	"fmt"
	"math"
	"strings"

	"github.com/jedib0t/go-pretty/v6/text"

	"jetwright/bench"
	"jetwright/desk"
	"jetwright/quantity"
)

// watched says what is watched by what, and what nobody watches.
func (p *page) watched(a *desk.WatchAnswer) {
	p.heading(fmt.Sprintf("Watching %s", a.Log))
	p.prose("  ", "    ", "this drives nothing and is no emergency stop: it reads what another program writes, late by what that program "+
		"holds back. A second person keeps the hand on the switch.")
	how := "its layout is guessed"
	if !a.Guessed {
		how = "its layout is that of runs/" + a.Run + "/run.toml"
	}
	if a.Interval > 0 {
		how += fmt.Sprintf("; a row is expected every %.3g s", a.Interval)
	}
	how += fmt.Sprintf("; %.3g s without a new line are a STOP", a.Gap)
	switch {
	case a.Gap > 2 && a.Interval > 1:
		how += ", which is late: let the program write a row a second or more"
	case a.Interval == 0:
		how += " until its rows tell how often they come"
	}
	p.prose("  ", "    ", how)
	var taken, unused []string
	for k, c := range a.Layout.Columns {
		switch {
		case k == a.Layout.Time:
			taken = append(taken, fmt.Sprintf("%q is the time", c.Name))
		case c.Channel != "" && !c.Text:
			unit := c.Unit.Symbol
			if unit == "" {
				unit = bench.UnitOf(c.Channel).Symbol
			}
			taken = append(taken, fmt.Sprintf("%q is the %s in %s", c.Name, c.Channel, unit))
		default:
			unused = append(unused, fmt.Sprintf("%q", c.Name))
		}
	}
	p.prose("  ", "    ", "columns: "+strings.Join(taken, ", "))
	if len(unused) > 0 {
		p.prose("  ", "    ", "not used: "+strings.Join(unused, ", "))
	}
	p.heading("Limits watched, each at the bad end of its tolerance and less what the instrument may be off")
	var rows [][]string
	for _, l := range a.Limits {
		if !l.Watched {
			continue
		}
		u := p.unit(l.Unit)
		by := string(l.Channel)
		if l.Channel == bench.PhaseCurrent {
			by += ", " + a.Convention
			if !a.ConventionTyped {
				by += " assumed"
			}
		}
		word := "above"
		if l.AtLeast {
			word = "below"
		}
		rows = append(rows, []string{l.Name, by, word, watchNumber(l.Stop, u), "design " + watchNumber(l.Stated, u)})
	}
	if len(rows) == 0 {
		p.line("  none")
	} else {
		p.grid([]string{"limit", "watched by", "", "STOP at", ""}, rows)
	}
	var held []string
	for _, c := range a.Coefficients {
		if c.Watched {
			held = append(held, c.Name)
		}
	}
	if len(held) > 0 {
		against := fmt.Sprintf("within 3 %% of %s at a like rotor speed", count(a.Steps, "earlier step"))
		if a.Steps == 0 {
			against = "within 3 % of earlier steps of this log at a like rotor speed, since the folder has none"
		} else if a.StepsPlace != "" {
			against += ", power at the " + a.StepsPlace
		}
		p.prose("  ", "    ", strings.Join(held, ", ")+": "+against+", once speed and power hold still")
	}
	if !a.Last {
		p.notices(a.Notices)
		p.line("")
		return
	}
	p.heading("NOBODY WATCHES")
	for _, l := range a.Limits {
		if !l.Watched && l.Elsewhere == "" {
			p.prose("  - ", "    ", l.Name+": "+l.Why)
		}
	}
	for _, c := range a.Coefficients {
		if !c.Watched {
			p.prose("  - ", "    ", c.Name+": "+c.Why)
		}
	}
	p.notices(a.Notices)
	p.line("")
}

// watchNumber writes a bound or a value plainly.
func watchNumber(si float64, u quantity.Unit) string {
	x := u.FromSI(si)
	decimals := max(0, 2-int(math.Floor(math.Log10(math.Max(math.Abs(x), 1)))))
	return fmt.Sprintf("%.*f %s", decimals, x, u.Symbol)
}

// WatchLine is one line on how a watched log stands, what matters most first: a narrow terminal cuts its end.
func WatchLine(st bench.WatchStatus, s Style) string {
	parts := []string{fmt.Sprintf("%.0f s", st.Time)}
	for _, d := range st.Doubts {
		parts = append(parts, fmt.Sprintf("IN DOUBT: %s %s", d.Channel, d.Kind))
	}
	add := func(o quantity.Optional, c bench.Channel, word string) {
		if o.Set {
			parts = append(parts, watchNumber(o.Value, s.unit(bench.UnitOf(c)))+word)
		}
	}
	add(st.Power, bench.Power, "")
	word := ""
	if !st.TareKnown {
		word = ", tare unknown"
	}
	add(st.Pull, bench.Thrust, word)
	add(st.Speed, bench.RotorSpeed, "")
	if n := st.Nearest; n.Set {
		parts = append(parts, fmt.Sprintf("nearest %s, %.0f %% left", n.Name, 100*n.Left))
	}
	if st.Thermal.Set {
		parts = append(parts, thermalText(st.Thermal, s))
	}
	for _, c := range st.Coefficients {
		short := map[string]string{"thrust coefficient": "T/n²", "power coefficient": "P/n³", "phase current coefficient": "I/n²", "static efficiency": "eff."}[c.Name]
		if c.Compared {
			parts = append(parts, fmt.Sprintf("%s %+.1f %%", short, 100*c.Change()))
		} else {
			parts = append(parts, fmt.Sprintf("%s %.3g", short, c.Value))
		}
	}
	return strings.Join(parts, " | ")
}

// thermalText says when a temperature may come to its bound.
func thermalText(b bench.BoundForecast, s Style) string {
	u := s.unit(bench.UnitOf(b.Channel))
	at := b.Name + " " + watchNumber(b.Allowed, u)
	switch f := b.Forecast; {
	case !f.Early.Set && f.High.Set:
		return fmt.Sprintf("%s not in sight, settles at %s at most", at, watchNumber(f.High.Value, u))
	case !f.Early.Set || f.Early.Value >= 7200:
		return at + " not in sight"
	case f.Reaches.Set && f.Late.Set:
		return fmt.Sprintf("%s in %s (%s to %s)", at, span(f.Reaches.Value), span(f.Early.Value), span(f.Late.Value))
	default:
		return fmt.Sprintf("%s not before %s", at, span(f.Early.Value))
	}
}

// span words a length of time.
func span(seconds float64) string {
	switch {
	case seconds < 90:
		return fmt.Sprintf("%.0f s", seconds)
	case seconds < 5400:
		return fmt.Sprintf("%.0f min", seconds/60)
	}
	return fmt.Sprintf("%.0f h", seconds/3600)
}

// WatchStop words an alarm, loudly.
func WatchStop(a bench.Alarm, s Style) string {
	head := fmt.Sprintf("STOP: %s", strings.ToUpper(a.Kind))
	if a.Channel != "" {
		head += ": " + strings.ToUpper(string(a.Channel))
	}
	head += fmt.Sprintf(" (at %.1f s)", a.Time)
	if a.Log != "" {
		head += " in " + a.Log
	}
	if s.Colour {
		head = "\a" + text.Colors{text.Bold, text.ReverseVideo}.Sprint(" "+head+" ")
	}
	p := &page{Style: s}
	p.line("%s", head)
	p.prose("  why: ", "    ", a.What)
	p.prose("  do:  ", "    ", a.Do)
	return p.b.String()
}
