package bench

import (
	"bytes"
	"fmt"
	"math"
	"sort"

	"jetwright/quantity"
)

// Rules of watching. Our own, but for those that doubts.go has.
const (
	gapLeast       = 1.5  // s without a row, from which a log has stopped growing
	gapRows        = 2.0  // usual distances of two rows, the same
	gapCome        = 3.0  // longest distances in which the latest rows came, the same
	gapComeRows    = 20   // rows that this rests on
	gapUnknown     = 10.0 // s, while nothing says how often rows come
	leapLeast      = 10.0 // s by which the time of a log may leap, and
	leapUnlike     = 20.0 // usual distances of two rows, the same
	rateUnlike     = 50.0 // times by which a log's time may run faster or slower than ours; a replay runs faster, too
	rateSeconds    = 1.5  // s that this rests on
	crossSlow      = 0.4  // s between rows, from which one value beyond a bound is enough; else two of three
	lostLeast      = 2.0  // s without a value
	lostMost       = 10.0 // s, however rarely a channel is written
	lostUnlike     = 5.0  // times its longest time between two values
	coarseStep     = 0.5  // K, a temperature whose steps hide its noise
	clippedLost    = 10.0 // s at the end of its range, from which a channel shows no crossing
	coefSeconds    = 5    // s that a coefficient is a mean over, and for which it must have moved
	coefSteady     = 0.025
	coefNear       = 0.15 // of the rotor speed, how far beyond the last step it is held against it
	coefBetween    = 1.4  // speed of the step above over that of the step below, between which a coefficient is interpolated
	coefMoved      = 0.03
	coefChart      = 0.9  // autocorrelation from second to second up to which the chart of a coefficient is enough
	coefLoad       = 0.25 // of the highest earlier power, below which losses at rest move the coefficients
	ownStepSeconds = 15   // s of steady load that make a step of this log
	ownStepsMost   = 64
	warmingMost    = 256  // values that a forecast keeps
	warmingMoved   = 0.05 // share of the load by which a new rise begins
	tareSeconds    = 3    // s at rest that a tare rests on
	spikeMost      = 3.0  // spikes of late, from which a channel is told to spike
	numberMost     = 1e12 // beyond which no figure of a drive is one
	elapsedMost    = 1e6  // s, beyond which an elapsed time is a date
	spikeMemory    = 2000 // rows over which spikes are forgotten
)

// Loads below which a drive is at rest whatever came before, SI.
var restLoad = map[Channel]float64{Power: 20, BatteryCurrent: 1, RotorSpeed: 10, PhaseCurrent: 2}

// Bound is a limit as a plain number on a channel of a log.
type Bound struct {
	Name    string
	Channel Channel
	Allowed float64 // SI, as the channel shows it, all margins taken off
	Zero    float64 // where nothing is used up, SI
	AtLeast bool
}

// Left returns the share of the way from unburdened to the bound that is left.
func (b Bound) Left(value float64) float64 {
	left := b.Allowed - value
	if b.AtLeast {
		left = -left
	}
	if scale := math.Abs(b.Allowed - b.Zero); scale > 0 {
		return left / scale
	}
	return left
}

// EarlierStep is a step that was held before, with its rotor speed in rad/s.
type EarlierStep struct {
	Speed float64
	Coefficients
}

// WatchOptions say what a growing log does not.
type WatchOptions struct {
	Layout     Layout
	Interval   float64 // usual time between two rows, s; 0 if it is not known
	Gap        float64 // s without a row that is let pass; by the interval if 0
	Bounds     []Bound
	Steps      []EarlierStep
	Full       float64 // highest power of the steps, W; 0 if there is none
	Convention string  // of the phase current

	Diameter, NozzleArea, Density float64 // of the drive, SI
	Along                         float64 // thrust over the pull that is shown, by the rope's angle and an arm's lever; 1 if 0
}

// Kinds of alarm besides those of a doubt.
const (
	Crossed    = "limit crossed"
	Moved      = "coefficient moved"
	Lost       = "lost"
	Stalled    = "log stopped growing"
	Gone       = "log gone"
	Unreadable = "unreadable line"
	ClockOff   = "clock of the log is off"
)

// Alarm is a reason to stop.
type Alarm struct {
	Kind    string
	Channel Channel
	What    string // with its figures
	Do      string
	Time    float64 // of the log, s
	Log     string  // its name, where several are watched
}

// CoefficientNow is a similarity coefficient as it stands against earlier steps.
type CoefficientNow struct {
	Name          string
	Value, Half   float64 // Half: of the 90 % interval of its own scatter
	Reference     float64
	ReferenceHalf float64
	Set, Compared bool
	SecondsMoved  int
	OnlyFalls     bool
	value         func(Coefficients) quantity.Optional
	spread        func(Coefficients) float64
	chart         chart
}

// Change is the relative change against the reference.
func (c CoefficientNow) Change() float64 { return c.Value/c.Reference - 1 }

// DoubtNow is a channel that is in doubt now.
type DoubtNow struct {
	Channel Channel
	Kind    string
	Since   float64 // s of the log
}

// Nearest is the bound that is nearest, with the share left.
type Nearest struct {
	Bound
	Value, Left float64
	Set         bool
}

// BoundForecast is when a thermal bound will be met.
type BoundForecast struct {
	Bound
	Forecast
	Left float64 // share of the way to the bound that is left now
	Set  bool
}

// WatchStatus is what a watched log says now.
type WatchStatus struct {
	Time         float64 // s, as the log has it; from the first row that was watched for a clock or a date
	Rows         int
	Power        quantity.Optional
	Pull         quantity.Optional
	TareKnown    bool
	Speed        quantity.Optional
	Coefficients []CoefficientNow
	Nearest      Nearest
	Thermal      BoundForecast // of the thermal bound that comes first
	Doubts       []DoubtNow
}

// watched is one channel as it is followed.
type watched struct {
	Channel
	column int
	bound  bool // a limit rests on it

	value, at   float64
	seen        int
	recent      [3]float64 // latest first
	longest     float64    // between two values, s
	resolution  float64    // smallest step: by what it changed by, at first by the decimals that are written
	smallest    float64    // change that was seen
	changes     int
	low, high   float64
	jump        float64 // usual change from value to value
	window      [5]float64
	spikes      float64
	since       float64 // it has stood still from then
	rows        int     // for so many values
	loaded      int     // s of that under load
	loadLow     float64
	loadHigh    float64
	still       standstill
	doubt       string
	doubtSince  float64
	sum         float64 // over the running second
	count       int
	seconds     [coefSeconds]float64 // means of the latest seconds, latest first
	secondsHeld int
	rise        rise
	crossed     []bool  // by bound: an alarm was given
	joined      bool    // another log holds it
	next        float64 // its value that waits for a row
}

// rise is a temperature since the load last moved, thinned as it grows.
type rise struct {
	t, y    []float64
	stride  int
	part    int
	ts, ys  float64
	loadWas float64
}

// Watcher follows one growing log. It has no clock and reads nothing: lines and the time of their
// coming are handed to it, and it hands back reasons to stop. Its memory does not grow.
type Watcher struct {
	WatchOptions
	Learning bool // rows teach and alarm nobody

	channels    []*watched
	of          map[Channel]*watched
	load        Channel
	other       Channel // that witnesses for the load
	started     bool
	lastTime    float64 // as written
	shift       float64 // of midnights
	time        float64 // s, as the log has it; from the first row for a clock or a date
	first       float64 // of the log's time, where this one is zero
	origin      float64 // time of the first row that was watched, s
	rows        int
	nextClose   float64
	arrived     float64              // when the latest row came
	came        [gapComeRows]float64 // distances in which the latest rows came, s
	cameRows    int
	rateNow     float64 // our time and the log's when they were compared last, s
	rateTime    float64
	live        bool // the latest row was not a past one
	began       bool
	advanced    float64 // when the time of the log last moved on
	full        float64
	otherFull   float64
	loadNow     [3]float64
	otherNow    [3]float64
	loadSeen    int
	tare        float64
	tareKnown   bool
	tareSum     float64
	tareCount   int
	restSeconds int
	ran         bool // it was loaded before
	coefs       []CoefficientNow
	twins       []*twin
	own         []EarlierStep
	ownNow      ownStep
	active      map[string]bool
	fields      [][]byte
	values      []float64
	alarms      []Alarm
}

// ownStep is a step of this log in the making.
type ownStep struct {
	seconds int
	sum     EarlierStep
}

// NewWatcher begins to watch.
func NewWatcher(o WatchOptions) *Watcher {
	w := &Watcher{WatchOptions: o, of: map[Channel]*watched{}, active: map[string]bool{}, full: o.Full}
	for k, c := range o.Layout.Columns {
		if c.Channel == "" || c.Text || k == o.Layout.Time {
			continue
		}
		if first := w.of[c.Channel]; first != nil {
			w.addTwin(first, k)
			continue
		}
		w.add(c.Channel, k)
	}
	if w.of[Power] == nil && w.of[BatteryVoltage] != nil && w.of[BatteryCurrent] != nil {
		w.add(Power, -1)
	}
	for _, c := range loadRank {
		if w.of[c] != nil {
			w.load = c
			break
		}
	}
	for _, c := range []Channel{RotorSpeed, Thrust, PhaseCurrent, Power} {
		if w.of[c] != nil && c != w.load {
			w.other = c
			break
		}
	}
	if w.load != Power {
		w.full = 0
	}
	for _, b := range o.Bounds {
		if x := w.of[b.Channel]; x != nil {
			x.bound = true
			if x.column < 0 {
				w.of[BatteryVoltage].bound, w.of[BatteryCurrent].bound = true, true
			}
		}
	}
	w.values = make([]float64, len(o.Layout.Columns))
	w.coefs = []CoefficientNow{
		{Name: "thrust coefficient", value: func(c Coefficients) quantity.Optional { return c.Thrust }, spread: func(c Coefficients) float64 { return c.ThrustSpread }},
		{Name: "power coefficient", value: func(c Coefficients) quantity.Optional { return c.Power }, spread: func(c Coefficients) float64 { return c.PowerSpread }},
		{Name: "phase current coefficient", value: func(c Coefficients) quantity.Optional { return c.Current }, spread: func(c Coefficients) float64 { return c.CurrentSpread }},
		{Name: "static efficiency", OnlyFalls: true, value: func(c Coefficients) quantity.Optional { return c.StaticEfficiency }, spread: func(c Coefficients) float64 { return c.EfficiencySpread }},
	}
	if fresh, err := newChart(chartLength); err == nil {
		for i := range w.coefs {
			w.coefs[i].chart = fresh
		}
		for _, k := range w.twins {
			k.chart = fresh
		}
	}
	return w
}

func (w *Watcher) add(c Channel, column int) {
	x := &watched{Channel: c, column: column, low: math.Inf(1), high: math.Inf(-1), resolution: math.Inf(1), smallest: math.Inf(1), crossed: make([]bool, len(w.Bounds))}
	x.rise.stride = 1
	w.channels = append(w.channels, x)
	w.of[c] = x
}

// Watches tells whether the log holds a channel.
func (w *Watcher) Watches(c Channel) bool { return w.of[c] != nil }

// GapAllowed is how long the log may stand without a new row, s: by the distances of its rows in its own
// time, but no longer than the rows that came make likely, since a log's time may be in another unit than is
// thought.
func (w *Watcher) GapAllowed() float64 {
	if w.Gap > 0 {
		return w.Gap
	}
	longest := 0.0
	for _, d := range w.came[:min(w.cameRows, gapComeRows)] {
		longest = math.Max(longest, d)
	}
	byTime, byComing := math.Max(gapLeast, gapRows*w.Interval), math.Max(gapLeast, gapCome*longest)
	switch {
	case w.Interval > 0 && w.cameRows >= gapComeRows:
		return math.Min(byTime, byComing)
	case w.Interval > 0:
		return byTime
	case w.cameRows >= 3:
		return byComing
	}
	return gapUnknown
}

// raise adds an alarm once; it may come again when what it is about was well in between.
func (w *Watcher) raise(key string, a Alarm) {
	if w.Learning || w.active[key] {
		return
	}
	w.active[key] = true
	a.Time = w.time
	w.alarms = append(w.alarms, a)
}

func (w *Watcher) well(key string) {
	if w.active[key] {
		delete(w.active, key)
	}
}

// taken hands the alarms out.
func (w *Watcher) taken() []Alarm {
	if len(w.alarms) == 0 {
		return nil
	}
	out := w.alarms
	w.alarms = nil
	return out
}

// missingWords are what instruments write where they have no value.
var missingWords = [][]byte{[]byte("-"), []byte("--"), []byte("---"), []byte("nan"), []byte("na"), []byte("n/a"), []byte("null")}

// Line takes one whole line of the log, its number from 1, and the time of its coming in s of any
// clock that runs on.
func (w *Watcher) Line(now float64, number int, line []byte) []Alarm {
	line = bytes.TrimRight(line, "\r\n")
	if len(bytes.TrimSpace(line)) == 0 {
		return w.taken()
	}
	l := &w.Layout
	unreadable := func(what string) []Alarm {
		w.raise("unreadable", Alarm{Kind: Unreadable, What: fmt.Sprintf("line %d: %s", number, what), Do: "stop the drive; look whether the instrument or its cable restarted, then start the watch anew"})
		return w.taken()
	}
	w.fields = cut(w.fields[:0], line, l.Delimiter)
	if l.headerAgain(w.fields) {
		return unreadable("it is the header again: the instrument began anew")
	}
	t := now
	if l.Time >= 0 {
		ok := l.Time < len(w.fields)
		if ok {
			t, ok = l.readTime(trim(w.fields[l.Time]))
		}
		if !ok || !(math.Abs(t) < numberMost) {
			return unreadable(fmt.Sprintf("column %q holds no time: %.40q", l.Columns[l.Time].Name, line))
		}
	}
	for k := range w.values {
		w.values[k] = math.NaN()
	}
	for _, x := range w.channels {
		if x.joined {
			w.values[x.column], x.next = x.next, math.NaN()
			continue
		}
		if x.column < 0 {
			continue
		}
		c := &l.Columns[x.column]
		if x.column >= len(w.fields) {
			return unreadable(fmt.Sprintf("it ends before column %d, %q: %.40q", x.column+1, c.Name, line))
		}
		field := trim(w.fields[x.column])
		if v, ok := parse(field, l.Decimal); ok && math.Abs(v) < numberMost {
			w.values[x.column] = c.toSI(v)
			x.decimals(field, l.Decimal, c)
		} else if len(field) > 0 && !isMissing(field) {
			return unreadable(fmt.Sprintf("column %d, %q, is no number: %.20q", x.column+1, c.Name, field))
		}
	}
	for _, k := range w.twins {
		if k.column >= len(w.fields) {
			continue
		}
		if v, ok := parse(trim(w.fields[k.column]), l.Decimal); ok && math.Abs(v) < numberMost {
			w.values[k.column] = l.Columns[k.column].toSI(v)
		}
	}
	w.well("unreadable")
	return w.Row(now, t, w.values)
}

func isMissing(field []byte) bool {
	for _, m := range missingWords {
		if bytes.EqualFold(field, m) {
			return true
		}
	}
	return false
}

// decimals takes the smallest step of a channel from how it is written.
func (x *watched) decimals(field []byte, decimal byte, c *Column) {
	n := 0
	if i := bytes.IndexByte(field, decimal); i >= 0 {
		n = len(field) - i - 1
	}
	if x.changes >= 8 {
		return
	}
	if step := math.Abs(c.toSI(math.Pow10(-min(n, 15))) - c.toSI(0)); step < x.resolution {
		x.resolution = step
	}
}

// Row takes one row: when it came, its own time in s, and its columns in SI, missing ones NaN.
func (w *Watcher) Row(now, t float64, values []float64) []Alarm {
	since := now - w.arrived
	if w.live && !w.Learning {
		w.came[w.cameRows%gapComeRows] = since
		if w.cameRows++; w.cameRows%gapComeRows == 0 {
			w.rate(now, t)
		}
	}
	w.arrived = now
	w.began, w.live = true, !w.Learning
	w.well("stalled")
	w.rows++
	if !w.started {
		w.started, w.first, w.lastTime, w.advanced = true, t, t, now
		if w.Layout.TimeFormat == Elapsed && w.Layout.Time >= 0 && math.Abs(t) < elapsedMost {
			w.first = 0 // told as the log itself has it
		}
		w.origin = t - w.first
		w.nextClose = math.Floor(w.origin) + 1
	}
	if w.Layout.TimeFormat == ClockTime && t+w.shift < w.lastTime-43200 {
		w.shift += 86400
	}
	t += w.shift
	if leap := t - w.lastTime; w.rows > 1 && leap > math.Max(leapLeast, leapUnlike*w.Interval) && leap > 2*since {
		if !w.Learning {
			w.raise("leap", Alarm{Kind: ClockOff, What: fmt.Sprintf("the time of the log leaps by %.4g s while %.2g s passed here", leap, since), Do: "stop the drive; its clock was set or rows are lost: start the watch anew"})
			w.well("leap")
		}
		w.origin += leap
		for _, x := range w.channels { // nothing is lost by a leap
			x.at += leap
			x.since += leap
		}
	}
	if t > w.lastTime {
		w.advanced = now
		w.well("clock")
		w.lastTime = t
	} else if t < w.lastTime-1 { // the instrument began anew
		w.raise("clock", Alarm{Kind: Stalled, What: fmt.Sprintf("the time of the log steps back by %.3g s", w.lastTime-t), Do: "stop the drive; the instrument may have restarted: start the watch anew"})
		w.first -= w.lastTime - t
		w.lastTime, w.shift = t, 0
	}
	w.time = t - w.first
	for w.time >= w.nextClose {
		w.close(w.nextClose)
		w.nextClose++
		if w.time > w.nextClose+30 {
			w.nextClose = math.Floor(w.time) // a long pause is no standstill
		}
	}
	for _, x := range w.channels {
		if x.column >= 0 {
			w.value(x, values[x.column])
		}
	}
	for _, k := range w.twins {
		k.value(values[k.column])
	}
	if p := w.of[Power]; p != nil && p.column < 0 {
		v, i := w.of[BatteryVoltage], w.of[BatteryCurrent]
		if v.seen > 0 && i.seen > 0 && i.at == w.time {
			w.value(p, v.value*i.value)
		}
	}
	return w.taken()
}

// rate looks whether the time of the log runs like ours, every so many rows.
func (w *Watcher) rate(now, t float64) {
	here, there := now-w.rateNow, t-w.rateTime
	was := w.rateNow
	if was > 0 && here < rateSeconds {
		return
	}
	w.rateNow, w.rateTime = now, t
	if was == 0 || w.Layout.Time < 0 || there <= 0 {
		return
	}
	if there <= rateUnlike*here && there >= here/rateUnlike {
		w.well("rate")
		return
	}
	w.raise("rate", Alarm{Kind: ClockOff, What: fmt.Sprintf("the time of the log went on by %.3g s while %.3g s passed here; nothing that takes time is watched by it", there, here), Do: "stop the drive; look at time_unit in run.toml or at the unit in the header, and start the watch anew"})
}

// value takes a channel's value at the time of the row.
func (w *Watcher) value(x *watched, v float64) {
	if v != v {
		return
	}
	if x.seen > 0 {
		x.longest = math.Max(x.longest, w.time-x.at)
	}
	w.well("lost " + string(x.Channel))
	x.sum += v
	x.count++
	if x.column >= 0 {
		x.stand(w.time, v)
		x.spike(v)
	}
	x.recent[2], x.recent[1], x.recent[0] = x.recent[1], x.recent[0], v
	if x.seen == 0 {
		x.recent[1], x.recent[2] = v, v
	}
	x.value, x.at = v, w.time
	x.seen++
	for k := range w.Bounds {
		if w.Bounds[k].Channel == x.Channel {
			w.hold(x, k)
		}
	}
}

// hold holds a channel against a bound.
func (w *Watcher) hold(x *watched, k int) {
	b := &w.Bounds[k]
	beyond := 0
	for _, v := range x.recent {
		if b.Channel == Thrust {
			v = math.Abs(v) // a scale may hang the other way round
		}
		if b.AtLeast && v < b.Allowed || !b.AtLeast && v > b.Allowed {
			beyond++
		}
	}
	latest := x.value
	if b.Channel == Thrust {
		latest = math.Abs(latest)
	}
	needed := 2
	if w.Interval > crossSlow || x.longest > crossSlow {
		needed = 1
	}
	switch {
	case beyond >= needed && b.Left(latest) < 0:
		if !x.crossed[k] {
			x.crossed[k] = !w.Learning
			w.raise("crossed "+b.Name, Alarm{
				Kind: Crossed, Channel: x.Channel, What: fmt.Sprintf("%s: the %s shows %s, %s %s is allowed", b.Name, x.Channel, showShort(x.Channel, x.value), atWord(b.AtLeast), showShort(x.Channel, b.Allowed)),
				Do: crossedDo(x.Channel),
			})
		}
	case beyond == 0 && b.Left(latest) > 0.02:
		if x.crossed[k] {
			x.crossed[k] = false
			w.well("crossed " + b.Name)
		}
	}
}

func showShort(c Channel, si float64) string {
	u := UnitOf(c)
	return fmt.Sprintf("%.4g %s", u.FromSI(si), u.Symbol)
}

func atWord(atLeast bool) string {
	if atLeast {
		return "at least"
	}
	return "at most"
}

func crossedDo(c Channel) string {
	switch c {
	case WindingTemperature, BridgeTemperature, CaseTemperature:
		return "take the power off and keep the cooling water running; do not start again before it is cold"
	case BatteryVoltage:
		return "take the power off; let the battery rest and look at its cells"
	case Thrust:
		return "take the power off; stay out of the line of the rope, and look at rope, knots and scale before the next step"
	}
	return "take the power off; find out why before the next step"
}

// stand follows how long a channel stands still.
func (x *watched) stand(t, v float64) {
	if x.seen > 0 && v == x.value {
		x.rows++
		x.low, x.high = math.Min(x.low, v), math.Max(x.high, v)
		return
	}
	if x.seen > 0 {
		// what stood long at rest says nothing of what is usual
		if n := t - x.since; n < clippedLeast || x.loaded > 0 {
			x.still.time[bin(n)] += n
		}
		if d := math.Abs(v - x.value); d < 0.999*x.smallest {
			x.smallest = d
		}
		if x.changes++; x.changes >= 8 {
			x.resolution = x.smallest
		}
		x.jump += 0.02 * (math.Abs(v-x.value) - x.jump)
	}
	x.since, x.rows, x.loaded = t, 1, 0
	x.loadLow, x.loadHigh = math.Inf(1), math.Inf(-1)
}

// spike looks whether the third last value jumped away from its neighbours and back.
func (x *watched) spike(v float64) {
	copy(x.window[:4], x.window[1:])
	x.window[4] = v
	x.spikes *= 1 - 1.0/spikeMemory
	if x.seen < 30 {
		x.low, x.high = math.Min(x.low, v), math.Max(x.high, v)
		return
	}
	s := x.window
	sort.Float64s(s[:])
	m := x.window[2]
	// neighbours that agree among themselves, and one value far away from them
	a, b, c, d := x.window[0], x.window[1], x.window[3], x.window[4]
	low, high := math.Min(math.Min(a, b), math.Min(c, d)), math.Max(math.Max(a, b), math.Max(c, d))
	far := math.Max(m-high, low-m)
	usual := math.Max(math.Max(x.jump, high-low), math.Min(x.resolution, math.Abs(s[2])*0.01))
	if far > 8*usual && usual >= 0 && far > 0.02*math.Abs(s[2]) {
		x.spikes++
		return
	}
	x.low, x.high = math.Min(x.low, m), math.Max(x.high, m)
}

// Tick looks whether the log still grows; now is on the clock of Line.
func (w *Watcher) Tick(now float64) []Alarm {
	if !w.began {
		return w.taken()
	}
	gap := w.GapAllowed()
	if now-w.arrived > gap {
		w.raise("stalled", Alarm{Kind: Stalled, What: fmt.Sprintf("no new line for %.1f s; its last row stands at %.1f s", now-w.arrived, w.time), Do: "stop the drive: nothing watches it; look at the instrument, its power and its cable"})
	} else if now-w.advanced > math.Max(gap, lostLeast) {
		w.raise("clock", Alarm{Kind: Stalled, What: fmt.Sprintf("its time has stood at %.1f s for %.1f s, though lines still come", w.time, now-w.advanced), Do: "stop the drive: nothing watches it; restart the instrument"})
	}
	return w.taken()
}

// Ended says that no more will come, and why.
func (w *Watcher) Ended(what string) []Alarm {
	w.well("gone")
	w.raise("gone", Alarm{Kind: Gone, What: what, Do: "stop the drive: nothing watches it any more"})
	return w.taken()
}
