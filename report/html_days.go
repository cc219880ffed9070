package report

import (
	"fmt"
	"math"
	"strconv"

	"jetwright/bench"
	"jetwright/desk"
)

// panelsAPicture is how many channels one picture of a log has at most, so that it fits on a page.
const panelsAPicture = 7

// share parts n things as evenly as can be into lots of at most so many; it returns the first
// lot.
func share(n, most int) int {
	lots := (n + most - 1) / most
	return (n + lots - 1) / lots
}

// days are the logs of every run: tracks, clocks, tare, plateaus, doubts.
func (b *binder) days() []block {
	var out []block
	for i, d := range b.a.Days {
		if d != nil {
			out = append(out, b.day(d, i+1)...)
		}
	}
	if len(out) == 0 {
		text := "No logs were reduced"
		if len(b.a.Plateaus) > 0 {
			text += "; what stands below rests on readings that were typed in"
		}
		return []block{{Text: text + "."}}
	}
	return out
}

// clockWord writes a time of the run as minutes and seconds, or hours, minutes and seconds.
func clockWord(t float64) string {
	if !drawable(t) {
		return "not known"
	}
	sign := ""
	if t < 0 {
		sign, t = "−", -t
	}
	n := int(math.Round(t))
	if n < 3600 {
		return sign + strconv.Itoa(n/60) + ":" + twoDigits(n%60)
	}
	return sign + strconv.Itoa(n/3600) + ":" + twoDigits(n/60%60) + ":" + twoDigits(n%60)
}

func spanWord(s bench.Span) string { return clockWord(s.From) + " to " + clockWord(s.To) }

func (b *binder) day(d *bench.Reduction, n int) []block {
	p := &page{Style: b.Style, web: true}
	p.heading("Run " + d.Run)
	for i, t := range b.traces(d, n) {
		caption := fmt.Sprintf("Logs of %s over the run's time, as means over %s. ", d.Run, fmt.Sprintf("%.3g s", d.Block))
		if i > 0 {
			caption = fmt.Sprintf("Logs of %s, further channels. ", d.Run)
		}
		caption += "Shaded and numbered: plateaus, with the mean of each as a thick line; striped with a dotted edge: not settled; striped: nothing pulled; cross-hatched: doubted."
		p.blocks = append(p.blocks, b.figure(t.SVG(), caption))
	}
	for _, l := range dayLines(d, b.Style) {
		p.paragraph("", l+".")
	}
	if len(d.Plateaus) > 0 {
		p.blocks = append(p.blocks, b.dayTables(d)...)
		if l := drawnLine(d.Plateaus); l != "" {
			p.paragraph("", l+".")
		}
		for _, pl := range d.Plateaus {
			for _, x := range pl.Notices {
				p.paragraph("", x.Error())
			}
		}
	} else {
		p.paragraph("", "No plateau was found.")
	}
	if len(d.Doubts) > 0 {
		var rows [][]string
		for _, x := range d.Doubts {
			used := "still used"
			if x.Drops {
				used = "not used"
			}
			rows = append(rows, []string{string(x.Channel), x.Source, x.Kind, spanWord(x.Span), x.Evidence, used})
		}
		g := newGrid([]string{"doubted channel", "log", "what is wrong", "when", "evidence", "its figures are"}, rows)
		p.blocks = append(p.blocks, block{Table: g})
	}
	p.blocks = append(p.blocks, b.taken(func(q *page) { q.notices(d.Notices) }, false)...)
	return p.blocks
}

// channelsATable is how many channels a table of plateaus has beside each other, so that it fits
// on a page.
const channelsATable = 7

// dayTables are the plateaus of a day: when and how long, then their figures.
func (b *binder) dayTables(d *bench.Reduction) []block {
	var channels []bench.Channel
	seen := map[bench.Channel]bool{}
	var rows [][]string
	for i, pl := range d.Plateaus {
		for _, f := range pl.Figures {
			if !seen[f.Channel] {
				seen[f.Channel] = true
				channels = append(channels, f.Channel)
			}
		}
		held, settled := "", "yes"
		if pl.Held.Set {
			held = fmt.Sprintf("%.0f s", pl.Held.Value)
		}
		if pl.Unsettled != "" {
			settled = "no: " + pl.Unsettled
		}
		rows = append(rows, []string{fmt.Sprintf("%d · %s", i+1, pl.Name), spanWord(pl.Span), held, pl.Direction, settled})
	}
	out := []block{{Table: newGrid([]string{"plateau", "when", "held", "reached going", "settled"}, rows)}}
	place, same := powerPlace(d.Plateaus)
	for len(channels) > 0 {
		k := share(len(channels), channelsATable)
		head := []string{"plateau"}
		for _, c := range channels[:k] {
			name := string(c)
			if c == bench.Power && same && place != "" {
				name += ", " + place
			}
			head = append(head, name)
		}
		rows = nil
		for i, pl := range d.Plateaus {
			r := []string{strconv.Itoa(i + 1)}
			for _, c := range channels[:k] {
				t := ""
				for _, x := range pl.Doubts {
					if x.Channel == c && x.Drops {
						t = x.Kind
					}
				}
				if f, ok := pl.Figure(c); ok {
					t = b.text(figureOf(f, bench.UnitOf(c)))
					if f.Unsettled {
						t += ", still moving"
					}
					if c == bench.Power && !same && pl.PowerPlace != "" {
						t += ", " + pl.PowerPlace
					}
				}
				r = append(r, t)
			}
			rows = append(rows, r)
		}
		g := newGrid(head, rows)
		if len(out) == 1 {
			g.Caption = "Figures of the plateaus; brackets hold the 90 % interval."
		}
		out = append(out, block{Table: g})
		channels = channels[k:]
	}
	return out
}

// powerPlace is where the power of all plateaus was read, if it is one place.
func powerPlace(list []bench.Plateau) (place string, same bool) {
	for i, p := range list {
		if i > 0 && p.PowerPlace != place {
			return "", false
		}
		place = p.PowerPlace
	}
	return place, true
}

// traces draws the tracks of a day, some channels a picture. The pull is drawn with the tare
// taken off, as the plateaus have it.
func (b *binder) traces(d *bench.Reduction, n int) []Traces {
	var list []desk.Series
	for _, t := range d.Tracks {
		k := desk.Series{Channel: t.Channel, Source: t.Source, Value: t.Values}
		for i := range t.Values {
			k.Time = append(k.Time, t.Begin+(float64(i)+0.5)*t.Step)
		}
		list = append(list, k)
	}
	spans := spansOf(d)
	panels := b.panels(d, list)
	var out []Traces
	for len(panels) > 0 {
		k := share(len(panels), panelsAPicture)
		out = append(out, Traces{ID: fmt.Sprintf("log-%d-%d", n, len(out)+1), About: "logs of " + d.Run + " over time", Panels: panels[:k], Spans: spans})
		panels = panels[k:]
	}
	return out
}

// TracesSVG draws every channel of a run between two times, one above the other, as wide as the page has room for.
func TracesSVG(a *desk.TracesAnswer, from, to, width float64, s Style) string {
	t := Traces{ID: "traces", About: "logs of " + a.Day.Run + " over time", Panels: s.panels(a.Day.Reduction, a.Window(from, to)), Spans: spansOf(a.Day.Reduction), Width: width, From: from, To: to}
	for i := range t.Panels {
		var kept []TraceMean
		for _, m := range t.Panels[i].Means {
			if m.From < to && m.To > from {
				m.From, m.To = math.Max(m.From, from), math.Min(m.To, to)
				kept = append(kept, m)
			}
		}
		t.Panels[i].Means = kept
	}
	return t.SVG()
}

// spansOf are the stretches of a day that stand out.
func spansOf(d *bench.Reduction) []Span {
	var spans []Span
	for _, z := range d.Zeros {
		spans = append(spans, Span{From: z.From, To: z.To, Kind: "zero"})
	}
	for i, pl := range d.Plateaus {
		kind, label := "plateau", strconv.Itoa(i+1)
		if pl.Unsettled != "" {
			kind, label = "unsettled", label+", not settled"
		}
		spans = append(spans, Span{From: pl.Span.From, To: pl.Span.To, Label: label, Kind: kind})
	}
	return spans
}

// panels are the channels of a day, the tare taken off the pull.
func (s Style) panels(d *bench.Reduction, list []desk.Series) []TracePanel {
	sources := map[bench.Channel]int{}
	for _, t := range list {
		sources[t.Channel]++
	}
	first := map[bench.Channel]bool{}
	var panels []TracePanel
	for _, t := range list {
		u := bench.UnitOf(t.Channel)
		panel := TracePanel{Name: string(t.Channel), Unit: s.unit(u).Symbol, Time: t.Time}
		if sources[t.Channel] > 1 {
			panel.Name += " (" + t.Source + ")"
		}
		tare := t.Channel == bench.Thrust && d.Tare.Known
		if tare {
			panel.Name += ", tare taken off"
		}
		panel.Value = make([]float64, len(t.Value))
		for i, v := range t.Value {
			if tare {
				v -= d.Tare.Start + d.Tare.Drift*t.Time[i]
			}
			panel.Value[i] = s.shown(v, u)
		}
		if !first[t.Channel] {
			first[t.Channel] = true
			for _, pl := range d.Plateaus {
				if f, ok := pl.Figure(t.Channel); ok && pl.Span.Length() > 0 {
					g := figureOf(f, u)
					panel.Means = append(panel.Means, TraceMean{From: pl.Span.From, To: pl.Span.To, Value: s.shown(g.Value, u), Low: s.shown(g.Low, u), High: s.shown(g.High, u), Label: s.bare(g)})
				}
			}
		}
		for _, x := range d.Doubts {
			if x.Channel == t.Channel && (x.Source == t.Source || x.Source == "") {
				panel.Doubted = append(panel.Doubted, Span{From: x.Span.From, To: x.Span.To, Label: x.Kind, Kind: "doubt"})
			}
		}
		panels = append(panels, panel)
	}
	return panels
}
