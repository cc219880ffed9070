package bench

import (
	"fmt"
	"math"

	"jetwright/notice"
	"jetwright/quantity"
)

// part is a stretch of a log on one clock: all of it, or what lies between two beginnings of the
// instrument.
type part struct {
	source, number int
	from, to       int // rows
	clock          LogClock
	placed         bool
	made           map[Channel][]float64 // channels as they stand for the load
}

// restartGap is how long an instrument is taken to have stood still when it began anew and nothing
// says how long it did, s. Our own.
const restartGap = 10.0

// time returns the times of a part, as logged or, once it is placed, on the run's clock.
func (p *part) time(l *Log, run bool) []float64 {
	t := l.Time[p.from:p.to]
	if !run || p.clock.Offset == 0 && p.clock.Drift == 0 && p.clock.Lag == 0 {
		return t
	}
	out := make([]float64, len(t))
	for i, at := range t {
		out[i] = p.clock.Run(at)
	}
	return out
}

// stands returns a channel of a part as it stands for the load; nil if it has none.
func (p *part) stands(l *Log, k int) []float64 {
	c := clockPairs[k].channel
	if x, have := p.made[c]; have {
		return x
	}
	var out []float64
	if x, ok := l.Column(c); ok {
		out = lively(l.Time[p.from:p.to], c, withoutSpikes(l.Time[p.from:p.to], c, x[p.from:p.to]))
		if f := clockPairs[k].load; f != nil {
			turned := make([]float64, len(out))
			for i, v := range out {
				turned[i] = f(v)
			}
			out = turned
		}
	}
	p.made[c] = out
	return out
}

// setClocks sets the clock of every part of every log against that of the first.
func (r *reducer) setClocks() error {
	r.out.Clocks = make([]SourceClock, len(r.sources))
	r.parts = make([][]*part, len(r.sources))
	for i := range r.sources {
		l := r.sources[i].Log
		r.out.Clocks[i].Source = l.Name
		bounds := append(append([]int{0}, l.Resets...), l.Rows())
		for k := 0; k+1 < len(bounds); k++ {
			r.parts[i] = append(r.parts[i], &part{source: i, number: k, from: bounds[k], to: bounds[k+1], made: map[Channel][]float64{}})
		}
	}
	first := longest(r.parts[r.first])
	first.placed = true
	first.clock.Offset = r.sources[r.first].Log.Time[first.from]
	r.grow(first)
	if !(r.out.Duration > 0) {
		l := r.sources[r.first].Log
		return r.fault(r.sources[r.first].Place, "the time of "+l.Name+" stands still", "", "look at time and time_format in run.toml")
	}
	for i := range r.sources {
		if i == r.first {
			if s := &r.sources[i]; s.Offset.Set && s.Offset.Value != 0 && len(r.sources) > 1 {
				r.warn(s.offsetPlace(), fmt.Sprintf("starts_after of %s says nothing: it says best how hard the drive ran, and its first row begins the run", s.Log.Name), "type it under the other logs, against the first row of this one")
			}
			continue
		}
		s, p := &r.sources[i], longest(r.parts[i])
		if s.Offset.Set {
			p = r.parts[i][0]
			c := LogClock{Typed: true, Shared: "typed", Drift: s.Drift.Value, Lag: s.Lag.Value, UOffset: 0.5 * s.Log.interval()}
			c.Offset = -(1 + c.Drift) * s.Offset.Value // its first row was written that long after the run's
			p.clock, p.placed = c, true
		} else if tried, ok := r.place(p, []*part{first}); !ok {
			if err := r.unplaced(i, tried); err != nil {
				return err
			}
		}
	}
	r.otherParts()
	r.begin()
	return nil
}

// offsetPlace is where starts_after was typed.
func (s *Source) offsetPlace() quantity.Place {
	if s.OffsetPlace.Line > 0 {
		return s.OffsetPlace
	}
	return s.Place
}

// apart names a log whose typed clock puts it wholly beside the run.
func (r *reducer) apart(i int, t []float64) error {
	s := &r.sources[i]
	if i == r.first || !s.Offset.Set || len(t) == 0 {
		return nil
	}
	least, most := math.Inf(1), math.Inf(-1)
	for _, x := range t {
		if x == x {
			least, most = math.Min(least, x), math.Max(most, x)
		}
	}
	if !(least > r.out.Duration || most < 0) {
		return nil
	}
	first := r.sources[r.first].Log
	return r.fault(s.offsetPlace(), fmt.Sprintf("starts_after puts %s from %.4g s to %.4g s of the run, which lasts from 0 s to %.4g s by %s: they share no moment", s.Log.Name, least, most, r.out.Duration, first.Name),
		fmt.Sprintf("between %.4g s and %.4g s", -(most-least), r.out.Duration), "correct it, or leave it out to have it found from what the two share")
}

func longest(parts []*part) *part {
	best := parts[0]
	for _, p := range parts {
		if p.to-p.from > best.to-best.from {
			best = p
		}
	}
	return best
}

// begin counts the run's time from the first row of the log that gives its clock.
func (r *reducer) begin() {
	least, most := math.Inf(1), math.Inf(-1)
	for _, p := range r.parts[r.first] {
		if p.placed {
			for _, t := range p.time(r.sources[r.first].Log, true) {
				least, most = math.Min(least, t), math.Max(most, t)
			}
		}
	}
	for i := range r.parts {
		for _, p := range r.parts[i] {
			if p.placed {
				p.clock.Offset += (1 + p.clock.Drift) * least
			}
		}
		for _, p := range r.parts[i] {
			if p.placed {
				r.out.Clocks[i].LogClock = p.clock
				break
			}
		}
	}
	r.out.Clocks[r.first].Shared, r.out.Clocks[r.first].Typed = OwnClock, true
	r.out.Duration = most - least
}

// withoutSpikes leaves out values that jump away and back.
func withoutSpikes(t []float64, c Channel, x []float64) []float64 {
	look := newChannel(c, 0, "", t, x)
	if len(look.spikes) == 0 {
		return x
	}
	out := append([]float64(nil), x...)
	for _, i := range look.spikes {
		out[i] = math.NaN()
	}
	return out
}

// grow lets the run last as long as a part.
func (r *reducer) grow(p *part) {
	for _, t := range p.time(r.sources[p.source].Log, true) {
		r.out.Duration = math.Max(r.out.Duration, t)
	}
}

// answerUnknown is how well it is known that one quantity answers another at once, s: friction holds a
// pull back, the water comes round, and instruments lag. Standard uncertainty; our own.
const answerUnknown = 0.08

// pairEnough is the correlation from which no closer pair of channels is looked for. Our own.
const pairEnough = 0.6

// place finds the clock of a part from what it shares with one that is placed.
func (r *reducer) place(p *part, others []*part) (tried, ok bool) {
	own := r.sources[p.source].Log
	attempt := func(o *part, a, b int) bool {
		l := r.sources[o.source].Log
		x, y := o.stands(l, a), p.stands(own, b)
		if x == nil || y == nil {
			return false
		}
		tried = true
		tx, ty := o.time(l, true), p.time(own, false)
		find := FindClock
		if a == b {
			find = FindClockLag
		}
		found, err := find(tx, x, ty, y)
		if clockPairs[b].channel == Thrust && (err != nil || found.Correlation < turnedLeast) { // a pull may be shown the other way round
			turned := make([]float64, len(y))
			for i, v := range y {
				turned[i] = -v
			}
			if other, fault := find(tx, x, ty, turned); fault == nil && other.Correlation > math.Max(turnedLeast, found.Correlation) {
				found, err = other, nil
			}
		}
		if err != nil {
			return false
		}
		found.Shared = string(clockPairs[b].channel)
		if a != b {
			found.UOffset = math.Hypot(found.UOffset, answerUnknown)
			found.Shared += " against " + string(clockPairs[a].channel)
		}
		if !p.placed || found.Correlation > p.clock.Correlation {
			p.clock, p.placed = found, true
		}
		return found.Correlation > pairEnough
	}
	for _, o := range others {
		for k := range clockPairs {
			if attempt(o, k, k) {
				return tried, true
			}
		}
	}
	for _, o := range others {
		for b := range clockPairs {
			for a := range clockPairs {
				if a != b && attempt(o, a, b) {
					return tried, true
				}
			}
		}
	}
	if p.placed {
		return true, true
	}
	for _, o := range others {
		if r.placeSlow(p, o) {
			return true, true
		}
	}
	return tried, false
}

// slowChannels are what two logs may share that the load moves late; slowBlock is how long they are
// averaged over, s, so that their own noise does not hide their ways. Our own.
var slowChannels = []Channel{WindingTemperature, BridgeTemperature, CaseTemperature}

const (
	slowBlock  = 5.0
	slowShared = 0.65 // least correlation of their changes: everything warms up alike
)

// placeSlow finds the clock of a part that holds temperatures alone from one that both hold.
func (r *reducer) placeSlow(p, o *part) bool {
	own, l := r.sources[p.source].Log, r.sources[o.source].Log
	for _, c := range slowChannels {
		y, have := own.Column(c)
		x, too := l.Column(c)
		if !have || !too {
			continue
		}
		tx, ty := o.time(l, true), p.time(own, false)
		x, y = x[o.from:o.to], y[p.from:p.to]
		x = lively(l.Time[o.from:o.to], c, withoutSpikes(l.Time[o.from:o.to], c, x))
		y = lively(own.Time[p.from:p.to], c, withoutSpikes(own.Time[p.from:p.to], c, y))
		mx, my := averaged(tx, x), averaged(ty, y)
		found, err := FindClock(mx[0], mx[1], my[0], my[1])
		if err != nil || found.Correlation < slowShared {
			continue
		}
		found.Shared = string(c)
		p.clock, p.placed = found, true
		return true
	}
	return false
}

// averaged returns times and values as means over the blocks of a slow channel.
func averaged(t, x []float64) (out [2][]float64) {
	t, x = present(t, x)
	if len(t) < 2 {
		return out
	}
	n := int(slowBlock * float64(len(t)-1) / (t[len(t)-1] - t[0]))
	out[0], out[1] = thinned(t, x, n)
	return out
}

// unplaced says that the clock of a log cannot be found. A log without anything that the load moves
// is left out; any other stops the reduction.
func (r *reducer) unplaced(i int, tried bool) error {
	s, first := &r.sources[i], r.sources[r.first].Log
	typed := `type starts_after = "12.4 s" under its [[log]]: how long after the first row of ` + first.Name + " its first row was written"
	if !s.witnesses() {
		r.warn(s.Place, fmt.Sprintf("%s is left out: it holds nothing that rises and falls with the load, so its clock cannot be found", s.Log.Name), typed)
		r.out.Clocks[i].Left = true
		return nil
	}
	what := fmt.Sprintf("the clock of %s cannot be found: it shares no channel with %s that rises and falls with the load", s.Log.Name, first.Name)
	if tried {
		what = fmt.Sprintf("the clock of %s cannot be found: nothing in it moves together with %s", s.Log.Name, first.Name)
	}
	if f, g := first.Layout.TimeFormat, s.Log.Layout.TimeFormat; f == g && (f == ClockTime || f == ISO) {
		typed += fmt.Sprintf(" (by their own clocks, if they were set alike, %.1f s)", s.Log.Start-first.Start)
	}
	return r.fault(s.Place, what, "", typed)
}

// otherParts sets what an instrument wrote before or after it began anew: by what it shares with any
// other log. The log that says how hard the drive ran otherwise goes on after a gap, or ends before
// one; any other is left out there.
func (r *reducer) otherParts() {
	for i := range r.parts {
		l := r.sources[i].Log
		for k, p := range r.parts[i] {
			if p.placed || r.out.Clocks[i].Left {
				continue
			}
			var others []*part
			for j := range r.parts {
				for _, o := range r.parts[j] {
					if o.placed && j != i {
						others = append(others, o)
					}
				}
			}
			if _, ok := r.place(p, others); ok {
				continue
			}
			if i != r.first || p.to-p.from < 2 {
				r.lost(l, p, "left out: nothing says when it was written")
				continue
			}
			p.clock, p.placed = LogClock{Shared: "the part beside it"}, true
			if k > 0 && r.parts[i][k-1].placed {
				t := r.parts[i][k-1].time(l, true)
				p.clock.Offset = l.Time[p.from] - t[len(t)-1] - restartGap
			} else {
				next := longest(r.parts[i])
				p.clock.Offset = l.Time[p.to-1] - next.time(l, true)[0] + restartGap
			}
			r.lost(l, p, fmt.Sprintf("set %.0f s from the part beside it: nothing says how long the instrument stood still", restartGap))
		}
	}
}

func (r *reducer) lost(l *Log, p *part, what string) {
	r.out.Notices = append(r.out.Notices, notice.Notice{
		Kind: notice.Warning, Place: quantity.Place{File: l.Name, Line: l.lineOf(p.from), Column: 1}, What: fmt.Sprintf("what %s holds from here (%d rows) is %s", l.Name, p.to-p.from, what),
	})
}

// runTime returns the run's time of every row of a log; rows that could not be placed stand far
// before it.
func (r *reducer) runTime(i int) []float64 {
	l := r.sources[i].Log
	if i == r.first && len(r.parts[i]) == 1 {
		return l.Time
	}
	t := make([]float64, l.Rows())
	for _, p := range r.parts[i] {
		for k := p.from; k < p.to; k++ {
			if t[k] = -1e12; p.placed {
				t[k] = p.clock.Run(l.Time[k])
			}
		}
	}
	return t
}

// interval is the usual time between two rows, s.
func (l *Log) interval() float64 {
	return (l.Time[l.Rows()-1] - l.Time[0]) / float64(max(1, l.Rows()-1))
}
