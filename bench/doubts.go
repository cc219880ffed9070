package bench

import (
	"fmt"
	"math"
	"sort"

	"jetwright/numeric"
	"jetwright/quantity"
)

// Rules of doubt. Our own, but for the ten seconds and the tenth of the power.
const (
	frozenLeast   = 10.0 // s without any change
	frozenMoved   = 0.10 // share by which the load moves meanwhile
	frozenAlone   = 3.5  // times any other standstill of a temperature whose instrument's steps hide its noise
	frozenRare    = 5.0  // and times the length below which nine tenths of its time are spent
	strayFits     = 2.1  // times the scatter of a temperature about what its load makes of it
	straySteps    = 1.0  // and steps of its instrument by which a frozen one strays from there
	loadedShare   = 0.1  // of its highest value, above which a channel shows load
	frozenCoarse  = 30.0 // s, of a temperature that is watched where the steps of the instrument hide its noise
	frozenUnlike  = 3.0  // times the length of time for which the channel usually stands still
	stuckRows     = 50   // values that are the same
	stuckUnlike   = 10.0 // times the length of its long standstills
	clippedLeast  = 2.0  // s at the very end of the range
	clippedRows   = 10
	spikesLeast   = 3    // rows
	spikesFar     = 0.1  // of the channel's range, by which spikes that are blamed must jump
	spikeShare    = 0.01 // of the rows, from which a spiking channel's figures are not used
	driftShare    = 0.01 // of a channel's highest value, by which its zero may move
	driftEvidence = 5.0  // and times the standard uncertainty of that move
	disagreeShare = 3.0  // times the standard uncertainty of a difference
)

// constant is a stretch in which a channel shows one and the same value.
type constant struct {
	from, to int // rows, both within
	value    float64
	span     Span
	atRest   bool
}

// standstill is how long a channel stands still: the stretches of 2 s or more one by one, and
// the time spent in stretches of every length.
type standstill struct {
	long []constant
	time [64]float64 // s spent in stretches of up to 2^(k/3) ms
}

// bin returns where a length of standstill counts.
func bin(length float64) int {
	if !(length > 1e-3) {
		return 0
	}
	return min(63, int(math.Ceil(3*math.Log2(length/1e-3))))
}

// standstills looks for unchanged values. At rest everything may stand still, so long stretches
// at rest say nothing of what is usual.
func (x *channel) standstills(atRest func(Span) bool) *standstill {
	s := &standstill{}
	var c constant
	open, last, lastBin := false, -1.0, 0
	end := func() {
		if !open {
			return
		}
		n := c.span.Length()
		if n >= clippedLeast {
			c.atRest = atRest(c.span)
			s.long = append(s.long, c)
			if !c.atRest {
				s.time[bin(n)] += n
			}
			return
		}
		if math.Abs(n-last) > 1e-6 {
			last, lastBin = n, bin(n)
		}
		s.time[lastBin] += n
	}
	before := -1
	for i, v := range x.raw {
		if v != v {
			continue
		}
		// Where nothing was written nothing is known to have stood still.
		gap := before >= 0 && x.time[i]-x.time[before] > math.Max(10*x.interval, 2)
		before = i
		if open && v == c.value && !gap {
			c.to, c.span.To = i, x.time[i]
			continue
		}
		if open && !gap {
			c.span.To = x.time[i] // it stood there until it was seen elsewhere
		}
		end()
		c, open = constant{from: i, to: i, value: v, span: Span{x.time[i], x.time[i]}}, true
	}
	end()
	return s
}

// usual returns the length of standstill below which the given share of the time is spent.
func (s *standstill) usual(share float64) float64 {
	total := 0.0
	for _, v := range s.time {
		total += math.Max(0, v)
	}
	sum := 0.0
	for k, v := range s.time {
		if sum += math.Max(0, v); sum >= share*total && total > 0 {
			return 1e-3 * math.Exp2((float64(k)-0.5)/3)
		}
	}
	return 0
}

// without returns what is known of standing still outside of a span.
func (s *standstill) without(span Span) *standstill {
	out := &standstill{time: s.time}
	for _, c := range s.long {
		if !c.span.Overlaps(span) {
			out.long = append(out.long, c)
		} else if !c.atRest {
			out.time[bin(c.span.Length())] -= c.span.Length()
		}
	}
	return out
}

// longest is the length of the longest standstill under load, s.
func (s *standstill) longest(load []float64, step, idle float64) float64 {
	most := 0.0
	for _, o := range s.long {
		if loadedTime(load, o.span, step, idle) > 0.5*o.span.Length() {
			most = math.Max(most, o.span.Length())
		}
	}
	return most
}

// joined makes one standstill of those that are parted by rows without a value alone: what shows the
// same before and after a gap may have stood in it.
func (x *channel) joined(long []constant) []constant {
	out := make([]constant, 0, len(long))
	for _, c := range long {
		if n := len(out); n > 0 && out[n-1].value == c.value && x.nothingBetween(out[n-1].to, c.from) {
			out[n-1].to, out[n-1].span.To = c.to, c.span.To
			continue
		}
		out = append(out, c)
	}
	return out
}

func (x *channel) nothingBetween(from, to int) bool {
	for _, v := range x.raw[from+1 : to] {
		if v == v {
			return false
		}
	}
	return true
}

// frozen finds stretches in which the channel stands still while the load moves.
func (x *channel) frozen(still *standstill, load []float64, step, full float64) []Doubt {
	var out []Doubt
	for _, c := range x.joined(still.long) {
		if c.span.Length() < frozenLeast || c.to-c.from < 3 {
			continue
		}
		// At rest everything may stand still: what counts is the time under load.
		loaded := loadedTime(load, c.span, step, idleShare*full)
		low, high := swing(load, c.span, step)
		moved := high > 0 && high-low >= math.Max(frozenMoved*high, idleShare*full) && x.Channel != WaterTemperature // no load moves the water's
		stuck := !moved && x.stuck(still, c, low, full)
		if !moved && !stuck {
			continue
		}
		// What stands where load alone puts it stands still under load, whatever the power says.
		if _, most := x.ends(); isWitness(x.Channel) && x.Channel != BatteryVoltage && c.value > loadedShare*most {
			loaded = c.span.Length()
		}
		if loaded < frozenLeast/2 {
			continue
		}
		usual, astray, others := 0.0, "", still.without(c.span)
		if coarse := x.jitter < x.resolution/2; coarse && moved && !isWitness(x.Channel) {
			// A temperature of coarse steps stands still by itself.
			usual = others.usual(0.9)
			if !(c.span.Length() > frozenAlone*others.longest(load, step, idleShare*full) && c.span.Length() > frozenRare*usual) {
				far, fits, ok := strays(x.track, load, step, c.span, c.value)
				if !ok || far < strayFits*fits || far < straySteps*x.resolution {
					continue
				}
				astray = fmt.Sprintf("; by its load it should have gone %s away", showDifference(x.Channel, far))
			}
		} else {
			share := 0.5
			if coarse {
				share = 0.9
			}
			usual = others.usual(share)
			if loaded <= frozenUnlike*usual && c.span.Length()-loaded < frozenUnlike*usual {
				continue
			}
		}
		if x.Channel == Thrust && !(low > idleShare*full) && c.value == 0 {
			continue // a scale that shows nothing below its zero
		}
		while := fmt.Sprintf("while the load moves between %.0f %% and %.0f %% of the day's highest", 100*math.Max(0, low)/full, 100*high/full)
		if !moved {
			while = "though its values otherwise differ from one to the next"
		}
		usually := fmt.Sprintf("it usually changes within %.3g s", math.Max(usual, x.interval))
		if usual == 0 && len(still.long) == 1 {
			usually = "it hardly shows any other value"
		}
		out = append(out, Doubt{
			Channel: x.Channel, Source: x.file, Kind: Frozen, Span: c.span, Drops: true,
			Evidence: fmt.Sprintf("it shows %s over %.0f s and %d values %s; %s", show(x.Channel, c.value), c.span.Length(), c.to-c.from+1, while, usually) + astray,
		})
	}
	return out
}

// loadedTime is how long within a span the load was on, s.
func loadedTime(load []float64, s Span, step, idle float64) float64 {
	n := 0
	for i := max(0, int(s.From/step)); i < min(len(load), int(s.To/step)); i++ {
		if load[i] > idle {
			n++
		}
	}
	return float64(n) * step
}

// stuck tells that a channel whose values differ from one to the next, under load, suddenly shows
// one and the same for far longer than chance can make it.
func (x *channel) stuck(still *standstill, c constant, load, full float64) bool {
	if !(load > idleShare*full) {
		return false
	}
	if low, high := x.ends(); c.value == low || c.value == high {
		return false // the end of its range
	}
	return c.to-c.from >= stuckRows && c.span.Length() > stuckUnlike*math.Max(still.without(c.span).usual(0.9), x.interval)
}

// swing returns the least and greatest load of a span, over means of a second, but for the twentieth
// at either end: a burst moves no load.
func swing(load []float64, s Span, step float64) (low, high float64) {
	var means []float64
	wide := max(1, int(1/step+0.5))
	from, to := max(0, int(s.From/step)), min(len(load), int(s.To/step))
	for i := from; i+wide <= to; i++ {
		sum, n := 0.0, 0.0
		for _, v := range load[i : i+wide] {
			if v == v {
				sum += v
				n++
			}
		}
		if n > 0 {
			means = append(means, sum/n)
		}
	}
	if len(means) == 0 {
		return 0, 0
	}
	sort.Float64s(means)
	return numeric.Quantile(means, 0.05), numeric.Quantile(means, 0.95)
}

// ends returns the least and greatest value, spikes left out.
func (x *channel) ends() (low, high float64) {
	if x.haveEnds {
		return x.low, x.high
	}
	defer func() { x.low, x.high, x.haveEnds = low, high, true }()
	low, high = math.Inf(1), math.Inf(-1)
	spike := 0
	for i, v := range x.raw {
		if spike < len(x.spikes) && x.spikes[spike] == i {
			spike++
			continue
		}
		if v == v {
			low, high = math.Min(low, v), math.Max(high, v)
		}
	}
	return low, high
}

// clipped finds stretches at the very end of the channel's range, in a channel that otherwise
// never stands still. At rest every channel may stand still.
func (x *channel) clipped(still *standstill, loaded func(Span) float64) []Doubt {
	if !(x.jitter > 0) || x.resolution > 0 && x.jitter < x.resolution/2 {
		return nil
	}
	low, high := x.ends()
	var out []Doubt
	for _, c := range still.long {
		if c.value != low && c.value != high || c.value == 0 || c.to-c.from+1 < clippedRows || c.span.Length() < clippedLeast {
			continue
		}
		if c.span.Length() <= frozenUnlike*still.without(c.span).usual(0.5) {
			continue
		}
		if l := loaded(c.span); l < clippedLeast || l <= frozenUnlike*still.without(c.span).usual(0.5) {
			continue
		}
		end := "highest"
		if c.value == low {
			end = "lowest"
		}
		out = append(out, Doubt{
			Channel: x.Channel, Source: x.file, Kind: Clipped, Span: c.span, Drops: true,
			Evidence: fmt.Sprintf("it stands at %s, the %s value it ever shows, over %.3g s and %d values, though it otherwise changes from value to value",
				show(x.Channel, c.value), end, c.span.Length(), c.to-c.from+1),
		})
	}
	return out
}

// spiking tells of values that jump away and back.
func (x *channel) spiking() []Doubt {
	if len(x.spikes) < spikesLeast {
		return nil // one or two are left out of the means, and no sensor is blamed for them
	}
	far := 0.0
	for _, i := range x.spikes {
		w, _ := numeric.Median(x.raw[max(0, i-20):min(len(x.raw), i+21)])
		far = math.Max(far, math.Abs(x.raw[i]-w))
	}
	share := float64(len(x.spikes)) / float64(x.values)
	if low, high := x.ends(); far < spikesFar*(high-low) && share < spikeShare {
		return nil
	}
	d := Doubt{
		Channel: x.Channel, Source: x.file, Kind: Spiking, Drops: share > spikeShare,
		Span: Span{x.time[x.spikes[0]], x.time[x.spikes[len(x.spikes)-1]]},
	}
	rest := "they are left out of every mean"
	if d.Drops {
		rest = "too many to trust the rest"
	}
	d.Evidence = fmt.Sprintf("%d of %d values jump away from their neighbours and back, by up to %s; %s", len(x.spikes), x.values, showDifference(x.Channel, far), rest)
	return []Doubt{d}
}

// drifts names channels whose zero has moved between the first and the last stretch at rest: what
// shows nothing without load must show the same nothing before and after.
func (r *reducer) drifts() {
	if len(r.out.Zeros) < 2 {
		return
	}
	before, after := r.out.Zeros[0].Span, r.out.Zeros[len(r.out.Zeros)-1].Span
	for _, x := range r.channels {
		switch {
		case x.derived:
			continue
		case x.Channel != BatteryCurrent && x.Channel != PhaseCurrent && x.Channel != RotorSpeed && x.Channel != Power:
			continue // the pull's drift is taken out as tare; temperatures move by themselves
		}
		from, to := r.window(before)
		a, _ := finite(x.track, from, to)
		from, to = r.window(after)
		b, _ := finite(x.track, from, to)
		if len(a) < segmentLeast || len(b) < segmentLeast {
			continue
		}
		ma, mb := meanOf(a), meanOf(b)
		_, top := x.ends()
		u := math.Hypot(math.Hypot(ma.scatter().U, mb.scatter().U), x.resolution/math.Sqrt(6))
		if d := mb.value - ma.value; math.Abs(d) > driftShare*top && math.Abs(d) > driftEvidence*u {
			r.out.Doubts = append(r.out.Doubts, Doubt{
				Channel: x.Channel, Source: x.file, Kind: Drifting, Span: Span{before.To, after.From}, Trusted: r.sources[x.source].Trusted[x.Channel],
				Evidence: fmt.Sprintf("at rest it shows %s before and %s after the ladder, which is %.1f %% of its highest value and %.0f times what its scatter explains",
					show(x.Channel, ma.value), show(x.Channel, mb.value), 100*math.Abs(d)/top, math.Abs(d)/u),
			})
		}
	}
}

// UnitOf is the unit that a channel is usually written and shown in.
func UnitOf(c Channel) quantity.Unit {
	for _, w := range channelWords {
		if w.channel == c {
			return quantity.MustUnit(w.unit)
		}
	}
	return quantity.Unit{}
}

func show(c Channel, si float64) string {
	u := UnitOf(c)
	return fmt.Sprintf("%.5g %s", u.FromSI(si), u.Symbol)
}

// showDifference shows a difference of two values.
func showDifference(c Channel, si float64) string {
	u := UnitOf(c)
	symbol := u.Symbol
	if symbol == "°C" {
		symbol = "K"
	}
	return fmt.Sprintf("%.3g %s", u.FromSI(si)-u.FromSI(0), symbol)
}

// disagreeing compares two witnesses of one channel over the plateaus.
// worth says what a mean over a span is worth and the half-width of its limits.
func disagreeing(a, b *channel, spans []Span, step float64, worth func(x *channel, s Span, mean float64) (value, half float64)) (Doubt, bool) {
	var xs, ys, wx, wy []float64
	worst, at := 0.0, 0
	for k, s := range spans {
		if s.Length() <= 0 {
			continue
		}
		va, _ := finite(a.track, int(s.From/step)+1, int(s.To/step))
		vb, _ := finite(b.track, int(s.From/step)+1, int(s.To/step))
		if len(va) < 3 || len(vb) < 3 {
			continue
		}
		ma, sa := numeric.MeanSD(va)
		mb, sb := numeric.MeanSD(vb)
		ma, ha := worth(a, s, ma)
		mb, hb := worth(b, s, mb)
		ua := math.Hypot(ha/math.Sqrt(3), sa/math.Sqrt(numeric.EffectiveSize(va)))
		ub := math.Hypot(hb/math.Sqrt(3), sb/math.Sqrt(numeric.EffectiveSize(vb)))
		if z := math.Abs(ma-mb) / math.Hypot(ua, ub); z > worst {
			worst, at = z, k
		}
		xs, ys = append(xs, ma), append(ys, mb)
		wx, wy = append(wx, 1/(ua*ua)), append(wy, 1/(ub*ub))
	}
	if worst <= disagreeShare {
		return Doubt{}, false
	}
	va, _ := finite(a.track, int(spans[at].From/step)+1, int(spans[at].To/step))
	vb, _ := finite(b.track, int(spans[at].From/step)+1, int(spans[at].To/step))
	ma, _ := numeric.MeanSD(va)
	mb, _ := numeric.MeanSD(vb)
	ma, _ = worth(a, spans[at], ma)
	mb, _ = worth(b, spans[at], mb)
	d := Doubt{
		Channel: a.Channel, Source: a.file, Kind: Disagreeing, Span: Span{spans[0].From, spans[len(spans)-1].To},
		Evidence: fmt.Sprintf("%s and %s differ by %.1f times what their limits explain: %s against %s from %.0f s to %.0f s",
			witness(a), witness(b), worst, show(a.Channel, ma), show(b.Channel, mb), spans[at].From, spans[at].To),
	}
	if len(xs) >= 3 {
		if line, err := numeric.York(xs, ys, wx, wy); err == nil {
			sort.Float64s(xs)
			low, _ := line.At(xs[0])
			high, _ := line.At(xs[len(xs)-1])
			d.Evidence += fmt.Sprintf("; by the line through all plateaus the second is off by %s at the lowest and by %s at the highest",
				showDifference(a.Channel, low-xs[0]), showDifference(a.Channel, high-xs[len(xs)-1]))
		}
	}
	return d, true
}

func witness(x *channel) string {
	if x.derived {
		return "voltage times current of " + x.file
	}
	return x.file
}
