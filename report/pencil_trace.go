package report

import (
	"fmt"
	"math"
)

// TracePanel is one channel over time. A value that is not a number breaks the line.
type TracePanel struct {
	Name, Unit  string
	Time, Value []float64 // seconds; display unit
	Means       []TraceMean
	Doubted     []Span
}

// TraceMean is the mean over a plateau, drawn as a short thick line.
type TraceMean struct {
	From, To         float64
	Value, Low, High float64
	Label            string
}

// Span is a stretch of time. Kinds are "plateau", "unsettled", "zero" and "doubt".
type Span struct {
	From, To    float64
	Label, Kind string
}

// Traces is a log: panels above each other over one time axis.
type Traces struct {
	ID, Title, About string
	Panels           []TracePanel
	Spans            []Span  // across all panels
	Width            float64 // px; 760 if zero
	From, To         float64 // window that is drawn, s; all of it where they are equal
}

const (
	panelHeight = 84.0
	panelGap    = 26.0
)

// SVG draws the log.
func (t Traces) SVG() string {
	width := t.Width
	if !(width >= 240 && width < 1e5) {
		width = 760
	}
	time, ranges := t.extents()
	if time.empty() {
		return nothing(t.ID, t.Title, t.About, width)
	}
	time = time.opened()
	if t.From < t.To {
		time = extent{t.From, t.To}
	}
	left := 30.0
	for i, e := range ranges {
		ranges[i] = e.padded()
		ticks, step := niceTicks(ranges[i], 4)
		for _, v := range ticks {
			left = math.Max(left, 16+textWidth(tickText(v, step), 12))
		}
	}
	top := 8.0
	if t.Title != "" {
		top = 32
	}
	rows, strip := t.flags(axis{time, left, width - 14})
	bands := top
	top += strip
	n := float64(len(t.Panels))
	height := top + n*(panelHeight+panelGap) + 42
	bottom := height - 42
	p := newPencil(t.ID, width, height)
	if t.Title != "" {
		p.text(8, 20, shortened(t.Title, 14, width-16), lettering{size: 14, bold: true})
	}
	ax := axis{time, left, width - 14}
	p.add(`<defs><clipPath id="%s-clip"><rect x="%s" y="0" width="%s" height="%s"/></clipPath></defs>`, p.id, px(left), px(ax.to-ax.from), px(height))
	t.spans(p, ax, bands, top, bottom, rows)
	step := clockStep(time.high-time.low, int(math.Max(2, (ax.to-ax.from)/75)))
	marks := ticksOf(time, step)
	for i, panel := range t.Panels {
		y := top + float64(i)*(panelHeight+panelGap) + panelGap - 4
		panel.draw(p, ax, axis{ranges[i], y + panelHeight, y}, marks)
	}
	clear := math.Inf(-1)
	for _, s := range marks {
		x, label := ax.at(s), clockText(s, step, time.high-time.low)
		p.line(x, bottom-4, x, bottom+1, stroke(inkColour, 1.2, ""))
		if half := textWidth(label, 12) / 2; x-half > clear {
			p.text(x, bottom+15, label, lettering{anchor: "middle"})
			clear = x + half + 4
		}
	}
	p.text((ax.from+ax.to)/2, bottom+33, clockLabel(time.high-time.low), lettering{anchor: "middle", colour: greyColour})
	return p.svg(t.Title, t.about())
}

func (t Traces) about() string {
	if t.About != "" {
		return t.About
	}
	s := "log over time"
	for i, p := range t.Panels {
		if i == 0 {
			s += ": "
		} else {
			s += ", "
		}
		s += p.Name
	}
	return s
}

// extents reads all samples once.
func (t Traces) extents() (time extent, values []extent) {
	time = noExtent()
	values = make([]extent, len(t.Panels))
	for i, p := range t.Panels {
		e, span := noExtent(), noExtent()
		n := min(len(p.Time), len(p.Value))
		for j, v := range p.Value[:n] {
			// comparisons fail for what is not a number
			if s := p.Time[j]; v > -1e100 && v < 1e100 && s > -1e100 && s < 1e100 {
				if v < e.low {
					e.low = v
				}
				if v > e.high {
					e.high = v
				}
				if s < span.low {
					span.low = s
				}
				if s > span.high {
					span.high = s
				}
			}
		}
		time.show(span.low, span.high)
		for _, m := range p.Means {
			if interval(m.From, m.To) && drawable(m.Value) {
				e.show(m.Value, m.Low, m.High)
				time.show(m.From, m.To)
			}
		}
		values[i] = e
	}
	return time, values
}

// padded leaves a little air above and below.
func (e extent) padded() extent {
	e = e.opened()
	air := 0.06 * (e.high - e.low)
	return extent{e.low - air, e.high + air}
}

// shown is the span as the picture calls it and whether it can be drawn.
func (s Span) shown(ax axis) (a, b float64, label string, ok bool) {
	if !drawable(s.From, s.To) || s.To <= s.From || s.To < ax.low || s.From > ax.high {
		return 0, 0, "", false
	}
	label = s.Label
	if label == "" {
		label = map[string]string{"zero": "zero", "unsettled": "not settled", "doubt": "doubted"}[s.Kind]
	}
	return ax.at(math.Max(s.From, ax.low)), ax.at(math.Min(s.To, ax.high)), label, true
}

// flags gives every span's label a row in the strip above the panels; −1 is no room.
func (t Traces) flags(ax axis) (rows []int, height float64) {
	var taken [3][]box
	for _, s := range t.Spans {
		a, b, label, ok := s.shown(ax)
		row := -1
		if ok && label != "" {
			w := textWidth(label, 12) + 6
			at := box{math.Max(ax.from-w/2, math.Min(ax.to-w/2, (a+b)/2-w/2)), 0, w, 1}
			for r := 0; r < len(taken) && row < 0; r++ {
				free := true
				for _, o := range taken[r] {
					free = free && at.overlap(o) == 0
				}
				if free {
					row = r
					taken[r] = append(taken[r], at)
					height = math.Max(height, float64(r+1)*16)
				}
			}
		}
		rows = append(rows, row)
	}
	if height > 0 {
		height += 4
	}
	return rows, height
}

// spans draws the bands across all panels and their labels on top.
func (t Traces) spans(p *pencil, ax axis, top, from, to float64, rows []int) {
	for i, s := range t.Spans {
		a, b, label, ok := s.shown(ax)
		if !ok {
			continue
		}
		band := box{a, from, math.Max(1.2, b-a), to - from - 4}
		colour := inkColour
		switch s.Kind {
		case "zero":
			p.rect(band, `fill="`+p.hatching("zero", 45, 7, 0.6, "#9aa2a6", "", false)+`"`)
			colour = greyColour
		case "unsettled":
			p.rect(band, `fill="`+p.hatching("unsettled", 90, 6, 0.6, "#d4a58c", "#fbf3ee", false)+`" `+stroke(rustColour, 1.2, "2 3"))
			colour = rustColour
		case "doubt":
			p.rect(band, `fill="`+p.hatching("doubt", 45, 8, 0.6, "#a9a9a9", "", true)+`"`)
		default:
			p.rect(band, `fill="#e3eef5"`)
			p.add(`<path d="M%s %sV%sM%s %sV%s" fill="none" %s/>`, px(a), px(from), px(to-4), px(b), px(from), px(to-4), stroke("#8fb3c9", 1.2, ""))
		}
		if rows[i] < 0 {
			continue
		}
		y := top + 12 + 16*float64(rows[i])
		if rows[i] == 0 && from-y > 16 || rows[i] == 1 && from-y > 16 {
			p.line((a+b)/2, y+4, (a+b)/2, from, stroke("#8b9296", 1.2, "1 2"))
		}
		p.text((a+b)/2, y, label, lettering{anchor: "middle", bold: s.Kind == "plateau", colour: colour, halo: true})
	}
}

// draw puts one channel on the paper.
func (t TracePanel) draw(p *pencil, ax, ay axis, marks []float64) {
	top, bottom := ay.to, ay.from
	name := t.Name
	if t.Unit != "" {
		name += ", " + t.Unit
	}
	for _, s := range t.Doubted {
		a, b, label, ok := s.shown(ax)
		if !ok {
			continue
		}
		if label == "" {
			label = "doubted"
		}
		p.rect(box{a, top, math.Max(1.2, b-a), bottom - top}, `fill="`+p.hatching("doubted", 45, 8, 0.6, "#a8adb0", "", true)+`" `+stroke(greyColour, 1.2, "3 2"))
		defer func() {
			if textWidth(label, 11) < b-a+30 {
				p.text(math.Max(ax.from+20, math.Min(ax.to-20, (a+b)/2)), bottom-5, label, lettering{size: 11, anchor: "middle", halo: true})
			}
		}()
	}
	ticks, step := niceTicks(ay.extent, 4)
	for _, v := range ticks {
		y := ay.at(v)
		p.line(ax.from, y, ax.to, y, stroke("#d5dadd", 1.2, "1 3"))
		p.text(ax.from-7, y+4, tickText(v, step), lettering{anchor: "end"})
	}
	p.text(8, top-6, shortened(name, 12, ax.to-16), lettering{bold: true, halo: true})
	p.add(`<path d="M%s %sV%sH%s" fill="none" %s/>`, px(ax.from), px(top), px(bottom), px(ax.to), stroke(greyColour, 1.2, ""))
	for _, s := range marks {
		p.line(ax.at(s), bottom, ax.at(s), bottom-3, stroke(greyColour, 1.2, ""))
	}
	if d := t.path(ax, ay); len(d) > 0 {
		p.add(`<path clip-path="url(#%s-clip)" d="%s" fill="none" %s/>`, p.id, d, stroke(blueColour, 1.2, ""))
	} else if len(t.Means) == 0 {
		p.text((ax.from+ax.to)/2, (top+bottom)/2+4, "no data", lettering{anchor: "middle", colour: greyColour})
	}
	p.field, p.taken, p.thin = box{ax.from, top - 16, ax.to - ax.from, bottom - top + 16}, []box{textBox(8, top-6, name, lettering{})}, nil
	for _, m := range t.Means {
		if !interval(m.From, m.To) || !drawable(m.Value) || m.To < ax.low || m.From > ax.high {
			continue
		}
		a, b, y := ax.at(math.Max(m.From, ax.low)), ax.at(math.Min(m.To, ax.high)), ay.at(m.Value)
		if interval(m.Low, m.High) {
			p.rect(box{a, ay.at(m.High), b - a, ay.at(m.Low) - ay.at(m.High)}, fmt.Sprintf(`fill="%s" fill-opacity="0.22" %s`, rustColour, stroke(rustColour, 1.2, "1.5 2")))
		}
		p.line(a, y, b, y, stroke("#fff", 5.5, ""))
		p.line(a, y, b, y, stroke(rustColour, 3.4, ""))
		p.taken = append(p.taken, box{a, y - 3, b - a, 6})
	}
	for _, m := range t.Means {
		if m.Label == "" || !interval(m.From, m.To) || !drawable(m.Value) || m.To < ax.low || m.From > ax.high {
			continue
		}
		x, y := ax.at((m.From+m.To)/2), ay.at(m.Value)
		l := lettering{size: 11, halo: true, colour: "#6e2a06"}
		if at, ok := p.place(m.Label, l, []spot{{x, y - 8, "middle"}, {x, y + 17, "middle"}, {x, y - 14, "middle"}, {x, y + 23, "middle"}}); ok {
			l.anchor = at.anchor
			p.text(at.x, at.y, m.Label, l)
		}
	}
}

// path draws a channel as path data. Of all samples within one px of width the first, the
// lowest, the highest and the last are kept, so that no peak is lost.
func (t TracePanel) path(ax, ay axis) []byte {
	n := min(len(t.Time), len(t.Value))
	perX := (ax.to - ax.from) / (ax.high - ax.low)
	perY := (ay.to - ay.from) / (ay.high - ay.low)
	out := make([]byte, 0, 1<<14)
	time, values := t.Time[:n], t.Value[:n]
	down := false // the pen is on the paper
	var lastX, lastY float64
	put := func(i int) {
		x := math.Round(10*(ax.from+(time[i]-ax.low)*perX)) / 10
		y := math.Round(10*(ay.from+(values[i]-ay.low)*perY)) / 10
		switch {
		case !down:
			out = append(out, 'M')
		case x == lastX && y == lastY:
			return
		default:
			out = append(out, 'L')
		}
		out = appendPx(append(appendPx(out, x), ' '), y)
		down, lastX, lastY = true, x, y
	}
	first, low, high, last, begun := -1, 0, 0, 0, false
	flush := func() {
		if first < 0 {
			return
		}
		a, b := min(low, high), max(low, high)
		begun = !down
		put(first)
		if a > first {
			put(a)
		}
		if b > a {
			put(b)
		}
		if last > b {
			put(last)
		}
		first = -1
	}
	// the samples of one column lie within [from, to) of time
	var from, to float64
	for i, v := range values {
		s := time[i]
		if !(v > -1e100 && v < 1e100 && s > -1e100 && s < 1e100) {
			flush()
			if down && begun && len(out) > 0 && out[len(out)-1] != 'h' {
				out = dot(out)
			}
			down = false
			continue
		}
		if first >= 0 && s >= from && s < to {
			if v < values[low] {
				low = i
			}
			if v > values[high] {
				high = i
			}
			last = i
			continue
		}
		flush()
		first, low, high, last = i, i, i, i
		column := math.Floor((s - ax.low) * perX)
		from, to = ax.low+column/perX, ax.low+(column+1)/perX
	}
	flush()
	if down && begun {
		out = dot(out)
	}
	return out
}

// dot makes a lone sample visible: a stroke of the least length after it.
func dot(out []byte) []byte { return append(out, 'h', '.', '8') }
