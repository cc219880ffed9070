package bench

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"gonum.org/v1/gonum/stat"

	"jetwright/notice"
	"jetwright/numeric"
	"jetwright/quantity"
)

// ReduceOptions say what a run's logs do not.
type ReduceOptions struct {
	Run    string
	Place  quantity.Place // of the run, for what is said of it as a whole
	Zeros  []Span         // typed zero windows, run's time in s; found if there are none
	Setup  Setup
	Level  Level
	Motion Motion
	Block  float64 // s, blockLeast if 0

	ZeroPlaces []quantity.Place // where Zeros were typed; may be left out
}

// reducer is a reduction in the making.
type reducer struct {
	ReduceOptions
	sources  []Source
	channels []*channel
	load     *channel                     // how hard the drive ran
	first    int                          // source with the run's clock
	parts    [][]*part                    // of each log
	curves   map[int]*numeric.Calibration // of the scales, by source
	blocks   int
	full     float64 // greatest load
	levels   []stretch
	tareAt   float64                  // moment about which level and drift of the tare are independent, s
	uTareAt  float64                  // standard uncertainty of the tare there, N
	tareRise func(at float64) float64 // what the tare's line makes of the water level, m
	out      *Reduction
}

// blocksMost is the most blocks that a run may have: eleven days at 0.2 s.
const blocksMost = 5e6

// turnedLeast is the least correlation by which a pull is taken to be shown the other way round.
const turnedLeast = 0.55

// loadRank orders the channels by how well they say how hard the drive ran.
var loadRank = []Channel{Power, BatteryCurrent, RotorSpeed, PhaseCurrent}

// Reduce turns the logs of a run into plateaus, with what is known of each figure and what is not
// to be trusted. The error is a notice.List that names what stands in the way and what would help.
//
// One clock comes from the log that says how hard the drive ran. Samples are averaged over
// blocks of 0.2 s, the levels are found exactly on the blocks, their edges refined on the
// samples; the tare is a straight line through the zero windows; the carriage's friction comes
// from steps up and down.
func Reduce(sources []Source, o ReduceOptions) (*Reduction, error) {
	if o.Block == 0 {
		o.Block = blockLeast
	}
	r := &reducer{ReduceOptions: o, sources: sources, out: &Reduction{Run: o.Run, Level: o.Level, Motion: o.Motion}, curves: map[int]*numeric.Calibration{}}
	if err := r.pickFirst(); err != nil {
		return nil, err
	}
	if err := r.setClocks(); err != nil {
		return nil, err
	}
	if err := r.average(); err != nil {
		return nil, err
	}
	if err := r.findLevels(); err != nil {
		return nil, err
	}
	r.doubt()
	r.zeros()
	r.drifts()
	r.plateaus()
	r.beyondCalibrations()
	r.disagreements()
	if len(r.out.Plateaus) == 0 {
		return r.out, r.noPlateau()
	}
	r.friction()
	r.repeats()
	return r.out, nil
}

// fault is an error of the run.
func (r *reducer) fault(place quantity.Place, what, allowed, out string) error {
	return notice.List{{Kind: notice.Error, Place: place, What: what, Allowed: allowed, WayOut: out}}
}

func (r *reducer) warn(place quantity.Place, what, out string) {
	r.out.Notices = append(r.out.Notices, notice.Notice{Kind: notice.Warning, Place: place, What: what, WayOut: out})
}

// has tells whether a log holds any number of a channel.
func (s *Source) has(c Channel) bool {
	for k, col := range s.Log.Layout.Columns {
		if col.Channel == c && s.Log.Missing[k] < s.Log.Rows() {
			return true
		}
	}
	return false
}

// pickFirst takes the log that best says how hard the drive ran; its clock is the run's.
func (r *reducer) pickFirst() error {
	best := 0
	r.first = -1
	for i := range r.sources {
		s := &r.sources[i]
		score := 0
		switch {
		case s.has(BatteryVoltage) && s.has(BatteryCurrent), s.has(Power):
			score = 4
		case s.has(RotorSpeed):
			score = 3
		case s.has(PhaseCurrent), s.has(BatteryCurrent):
			score = 2
		}
		if score > best {
			best, r.first = score, i
		}
	}
	if r.first < 0 {
		return r.fault(r.Place, "no log says how hard the drive ran", "power, battery voltage and current, rotor speed or phase current",
			"name the channel of a column in run.toml, as in \"column [W] = power\", or type readings with: jetwright run note")
	}
	return nil
}

// clockPairs are what two logs may share, the closest kin first: how a channel stands for the load.
var clockPairs = []struct {
	channel Channel
	load    func(float64) float64
}{
	{Power, nil},
	{RotorSpeed, func(x float64) float64 { return x * x }},
	{PhaseCurrent, nil},
	{BatteryCurrent, nil},
	{Thrust, nil},
	{BatteryVoltage, func(x float64) float64 { return -x }},
}

// witnesses tells whether a log holds anything that the load moves at once.
func (s *Source) witnesses() bool {
	for _, p := range clockPairs {
		if s.has(p.channel) {
			return true
		}
	}
	return false
}

// lively leaves out stretches in which a channel that otherwise differs from value to value shows one
// and the same for long: a frozen channel tells no time.
func lively(t []float64, c Channel, x []float64) []float64 {
	if !standsLong(t, x) {
		return x
	}
	look := &channel{Channel: c, time: t, raw: x, interval: (t[len(t)-1] - t[0]) / float64(max(1, len(t)-1))}
	still := look.standstills(func(Span) bool { return false })
	low, high := look.ends()
	out := x
	for _, s := range still.long {
		if s.value < low+0.1*(high-low) { // at rest it may well stand still
			continue
		}
		if s.span.Length() < frozenLeast || s.to-s.from < stuckRows || s.span.Length() < stuckUnlike*math.Max(still.without(s.span).usual(0.9), look.interval) {
			continue
		}
		if &out[0] == &x[0] {
			out = append([]float64(nil), x...)
		}
		for i := s.from; i <= s.to; i++ {
			out[i] = math.NaN()
		}
	}
	return out
}

// standsLong tells whether any value but zero stands for ten seconds.
func standsLong(t, x []float64) bool {
	from := 0
	for i := 1; i < len(x); i++ {
		if x[i] != x[from] {
			from = i
		} else if x[i] != 0 && t[i]-t[from] >= frozenLeast {
			return true
		}
	}
	return false
}

// average reads every channel and averages it over blocks.
func (r *reducer) average() error {
	type job struct {
		source, column int
	}
	var jobs []job
	times := make([][]float64, len(r.sources))
	for i := range r.sources {
		l := r.sources[i].Log
		if r.out.Clocks[i].Left {
			continue
		}
		times[i] = r.runTime(i)
		if err := r.apart(i, times[i]); err != nil {
			return err
		}
		for k, col := range l.Layout.Columns {
			if col.Channel != "" && !col.Text && l.Missing[k] < l.Rows() {
				jobs = append(jobs, job{i, k})
			}
		}
	}
	r.channels = make([]*channel, len(jobs))
	numeric.Parallel(len(jobs), func(j int) {
		l := r.sources[jobs[j].source].Log
		r.channels[j] = newChannel(l.Layout.Columns[jobs[j].column].Channel, jobs[j].source, l.Name, times[jobs[j].source], l.Values[jobs[j].column])
	})
	step := r.Block
	for _, x := range r.channels {
		if r.setsLevels(x.Channel) {
			step = math.Max(step, 1.001*x.interval)
		}
	}
	r.Block = step
	r.out.Block = step
	if r.out.Duration/step > blocksMost {
		first := r.sources[r.first].Log
		return r.fault(r.sources[r.first].Place, fmt.Sprintf("%s spans %.3g days in %d rows", first.Name, r.out.Duration/86400, first.Rows()), "a day or so", "look at time, time_format and time_unit in run.toml")
	}
	r.blocks = int(math.Ceil((r.out.Duration + 1e-9) / step))
	numeric.Parallel(len(r.channels), func(j int) { r.channels[j].blocks(step, r.blocks) })
	r.derivePower()
	r.turnPull()
	sort.SliceStable(r.channels, func(a, b int) bool { return channelRank(r.channels[a].Channel) < channelRank(r.channels[b].Channel) })
	for _, c := range loadRank {
		if r.load = r.of(c); r.load != nil {
			break
		}
	}
	if r.load == nil {
		return r.fault(r.Place, "no log says how hard the drive ran over its length", "", "look at channels in run.toml")
	}
	for _, x := range r.channels {
		r.out.Tracks = append(r.out.Tracks, Track{Channel: x.Channel, Source: witness(x), Begin: 0, Step: step, Values: x.track, Digit: x.resolution, Supply: r.sources[x.source].Supply})
	}
	return nil
}

// channelOrder is the order in which channels are told: what was put in, what came out, what it did
// to the drive.
var channelOrder = []Channel{Power, Thrust, RotorSpeed, PhaseCurrent, BatteryVoltage, BatteryCurrent, WindingTemperature, BridgeTemperature, CaseTemperature, WaterTemperature}

func channelRank(c Channel) int { return slices.Index(channelOrder, c) }

// setsLevels tells whether a channel takes part in finding the levels, which needs a value of it
// in every block.
func (r *reducer) setsLevels(c Channel) bool {
	switch c {
	case Thrust, RotorSpeed, Power:
		return true
	case BatteryCurrent:
		return r.of(Power) == nil
	case PhaseCurrent:
		return r.of(Power) == nil && r.of(BatteryCurrent) == nil && r.of(RotorSpeed) == nil
	}
	return false
}

func isWitness(c Channel) bool {
	switch c {
	case WindingTemperature, BridgeTemperature, CaseTemperature, WaterTemperature:
		return false
	}
	return true
}

// of returns the first channel of a kind.
func (r *reducer) of(c Channel) *channel {
	for _, x := range r.channels {
		if x.Channel == c {
			return x
		}
	}
	return nil
}

// derivePower adds the battery power where voltage and current were logged; a power that was
// logged as well goes before it and is checked against it.
func (r *reducer) derivePower() {
	v, i := r.of(BatteryVoltage), r.of(BatteryCurrent)
	if v == nil || i == nil {
		return
	}
	p := &channel{Channel: Power, source: i.source, file: i.file, interval: math.Max(v.interval, i.interval), derived: true, values: i.values}
	p.track = make([]float64, r.blocks)
	// A voltage that is written less often stands until it is written again.
	last, since := math.NaN(), 0
	for k := range p.track {
		if v.track[k] == v.track[k] {
			last, since = v.track[k], k
		}
		p.track[k] = math.NaN()
		if float64(k-since)*r.Block <= math.Max(2*v.interval, r.Block) {
			p.track[k] = last * i.track[k]
		}
	}
	p.time, p.raw = i.time, i.raw // edges are refined on the current
	r.channels = append(r.channels, p)
}

// turnPull turns a pull that falls with the load, as a scale that hangs the other way round shows it.
func (r *reducer) turnPull() {
	load := (*channel)(nil)
	for _, c := range loadRank {
		if load = r.of(c); load != nil {
			break
		}
	}
	if load == nil {
		return
	}
	for _, x := range r.channels {
		if x.Channel != Thrust {
			continue
		}
		var a, b []float64
		for k := range x.track {
			if v, w := x.track[k], load.track[k]; v == v && w == w {
				a, b = append(a, v), append(b, w)
			}
		}
		if len(a) < 10 || stat.Correlation(a, b, nil) > -0.7 {
			continue
		}
		raw := make([]float64, len(x.raw))
		for k, v := range x.raw {
			raw[k] = -v
		}
		x.raw = raw
		for k := range x.track {
			x.track[k] = -x.track[k]
		}
		r.warn(r.sources[x.source].Place, fmt.Sprintf("the pull of %s falls as the load rises; its sign is turned", x.file), "look how the scale hangs")
	}
}

// findLevels finds the levels of the load.
func (r *reducer) findLevels() error {
	var witnesses []*channel
	for _, x := range []*channel{r.load, r.of(RotorSpeed), r.of(Thrust)} {
		if x != nil && (len(witnesses) == 0 || x != witnesses[0]) {
			witnesses = append(witnesses, x)
		}
	}
	levels, err := stretches(r.load, witnesses)
	if err != nil {
		return r.fault(r.Place, "the levels cannot be found: "+err.Error(), "", "")
	}
	r.levels = levels
	values, _ := finite(r.load.track, 0, r.blocks)
	for _, v := range values {
		r.full = math.Max(r.full, v)
	}
	if !(r.full > 0) {
		return r.fault(r.Place, fmt.Sprintf("the %s never rises above zero", r.load.Channel), "", "look at the channels and units in run.toml")
	}
	return nil
}

// doubt looks at every channel by itself: first at what tells the load, so that a load that lies
// accuses nothing else.
func (r *reducer) doubt() {
	found := make([][]Doubt, len(r.channels))
	witness := r.load.track
	look := func(j int) {
		x := r.channels[j]
		atRest := func(s Span) bool { _, high := swing(witness, s, r.Block); return high <= idleShare*r.full }
		still := x.standstills(atRest)
		load := witness
		if r.tellsLoad(x) {
			load = r.otherWitness(x) // it cannot witness against itself
		}
		full := 0.0
		for _, v := range load {
			if v > full {
				full = v
			}
		}
		if full > 0 {
			found[j] = x.frozen(still, load, r.Block, full)
		}
		frozen := found[j]
		for _, d := range x.clipped(still, func(s Span) float64 { return loadedTime(witness, s, r.Block, idleShare*r.full) }) {
			if !slices.ContainsFunc(frozen, func(f Doubt) bool { return f.Span == d.Span }) {
				found[j] = append(found[j], d)
			}
		}
		found[j] = append(found[j], x.spiking()...)
	}
	var others []int
	lies := []float64(nil)
	for j, x := range r.channels {
		switch {
		case x.derived:
		case !r.tellsLoad(x):
			others = append(others, j)
		default:
			look(j)
			if x != r.load && !(r.load.derived && x.Channel == BatteryCurrent && x.source == r.load.source) {
				continue
			}
			for _, d := range found[j] {
				if d.Kind != Frozen {
					continue
				}
				if lies == nil {
					lies = slices.Clone(r.load.track)
				}
				for k := max(0, int(d.Span.From/r.Block)); k < min(len(lies), int(d.Span.To/r.Block)+1); k++ {
					lies[k] = math.NaN()
				}
			}
		}
	}
	if lies != nil {
		witness = lies
	}
	numeric.Parallel(len(others), func(i int) { look(others[i]) })
	for j, f := range found {
		for _, d := range f {
			if d.Trusted = r.sources[r.channels[j].source].Trusted[d.Channel]; d.Trusted {
				d.Drops = false
			}
			r.out.Doubts = append(r.out.Doubts, d)
		}
	}
}

// tellsLoad tells whether a channel is what the load is told by, or says the same.
func (r *reducer) tellsLoad(x *channel) bool {
	return x == r.load || x.Channel == Power || x.Channel == BatteryCurrent
}

// otherWitness is what stands for the power besides the power itself: rotor speed, pull or
// phase current, each by its law at rest; nil if there is none.
func (r *reducer) otherWitness(x *channel) []float64 {
	for _, w := range []struct {
		channel Channel
		power   float64
	}{{RotorSpeed, 3}, {Thrust, 1.5}, {PhaseCurrent, 1.5}} {
		c := r.of(w.channel)
		if c == nil || c == x {
			continue
		}
		out := make([]float64, len(c.track))
		for i, v := range c.track {
			out[i] = math.Pow(math.Max(0, v), w.power)
			if v != v {
				out[i] = v
			}
		}
		return out
	}
	return nil
}

// doubted returns the doubts of a channel of a log within a span.
func (r *reducer) doubted(x *channel, s Span) []Doubt {
	var out []Doubt
	for _, d := range r.out.Doubts {
		mine := d.Channel == x.Channel && d.Source == x.file && !x.derived
		if x.derived {
			for _, part := range []*channel{r.of(BatteryVoltage), r.of(BatteryCurrent)} {
				mine = mine || d.Channel == part.Channel && d.Source == part.file
			}
		}
		if mine && d.Span.Overlaps(s) {
			out = append(out, d)
		}
	}
	return out
}

// drops tells whether one of the doubts forbids the use of a figure.
func drops(doubts []Doubt) bool {
	for _, d := range doubts {
		if d.Drops {
			return true
		}
	}
	return false
}

// noPlateau says why there is none.
func (r *reducer) noPlateau() error {
	longest := 0.0
	for _, l := range r.levels {
		if !l.idle {
			longest = math.Max(longest, float64(l.to-l.from)*r.Block)
		}
	}
	return r.fault(r.Place, fmt.Sprintf("the run %s has no plateau: the %s stood still for %.0f s at most", r.Run, r.load.Channel, longest),
		fmt.Sprintf("%.0f s or more within %.1f %%", plateauLeast, 100*sameLevel), "hold each step for 30 s or more, or type what was read with: jetwright run note")
}

// disagreements compares witnesses of one channel.
func (r *reducer) disagreements() {
	spans := make([]Span, 0, len(r.out.Plateaus))
	for _, p := range r.out.Plateaus {
		spans = append(spans, p.Span)
	}
	if len(spans) == 0 {
		return
	}
	for i, a := range r.channels {
		for _, b := range r.channels[i+1:] {
			if a.Channel != b.Channel {
				continue
			}
			if a.Channel == Power && (a.derived || b.derived) {
				logged := a
				if a.derived {
					logged = b
				}
				if r.sources[logged.source].PowerPlace != "battery" {
					continue
				}
			}
			d, ok := disagreeing(a, b, spans, r.Block, r.worth)
			if !ok {
				continue
			}
			r.out.Doubts = append(r.out.Doubts, d)
			for k := range r.out.Plateaus {
				p := &r.out.Plateaus[k]
				p.Doubts = append(p.Doubts, d)
				r.widen(p, a, b)
			}
		}
	}
}

// widen lets a figure be anywhere to a little beyond what another witness shows: nothing says which of
// the two is right.
func (r *reducer) widen(p *Plateau, a, b *channel) {
	from, to := r.window(p.Span)
	va, _ := finite(a.track, from, to)
	vb, _ := finite(b.track, from, to)
	if len(va) == 0 || len(vb) == 0 {
		return
	}
	ma, _ := numeric.MeanSD(va)
	mb, _ := numeric.MeanSD(vb)
	ma, _ = r.worth(a, p.Span, ma)
	mb, _ = r.worth(b, p.Span, mb)
	apart := math.Abs(mb - ma)
	for k := range p.Figures {
		f := &p.Figures[k]
		if f.Channel != a.Channel || f.Budget == nil {
			continue
		}
		f.Budget = append(f.Budget, Component{
			Name: "disagreement", Rectangle: true, U: 1.2 * apart / math.Sqrt(3), Freedom: math.Inf(1), Shared: r.Run + ", " + string(a.Channel) + " of two witnesses", Note: "with " + witness(b),
		})
		f.setRepeat()
	}
}

// atRest is what a pull shows in the zero windows; other channels have no tare.
func (r *reducer) atRest(x *channel) float64 {
	if x.Channel != Thrust {
		return 0
	}
	var all []float64
	for _, z := range r.out.Zeros {
		from, to := r.window(z.Span)
		v, _ := finite(x.track, from, to)
		all = append(all, v...)
	}
	m, _ := numeric.MeanSD(all)
	return m
}

// limits returns the half-width of a channel's limits at a value, and whether they are assumed.
func (r *reducer) limits(x *channel, value float64) (half float64, assumed bool) {
	s := &r.sources[x.source]
	if x.derived {
		lv, li, assumed := r.partLimits(value)
		return lv + li, assumed
	}
	half, assumed = s.Half(x.Channel, value, r.Setup)
	if p, have := r.points(x); have && len(p.True) > 1 && assumed { // the points say more than a class that was assumed
		if _, ok, _ := r.corrected(x, value); ok {
			return 0, false
		}
	}
	return half, assumed
}

// partLimits returns the limits of a power that is voltage times current, by those of either.
func (r *reducer) partLimits(power float64) (byVoltage, byCurrent float64, assumed bool) {
	v, i := r.of(BatteryVoltage), r.of(BatteryCurrent)
	mv, _ := numeric.MeanSD(mustFinite(v.track))
	if !(mv > 0) {
		return 0, 0, true
	}
	mi := power / mv
	lv, av := r.limits(v, mv)
	li, ai := r.limits(i, mi)
	return lv * mi, li * mv, av && ai
}

// Half returns the half-width of the limits of what a channel was read by, at a value, and whether
// they are assumed.
func (s *Source) Half(c Channel, value float64, setup Setup) (half float64, assumed bool) {
	if t, ok := s.Tolerances[c]; ok {
		return t.Relative*math.Abs(value) + t.Absolute, false
	}
	row, _ := InstrumentNamed(s.instrument(c))
	half = row.Relative*math.Abs(value) + row.Absolute
	if row.OfFullScale > 0 {
		half += row.OfFullScale * setup.FullScale.Or(2*math.Abs(value))
	}
	return half, true
}

func mustFinite(track []float64) []float64 {
	v, _ := finite(track, 0, len(track))
	return v
}

// instrument returns what a channel was read by.
func (s *Source) instrument(c Channel) string {
	if name := s.Instruments[c]; name != "" {
		return name
	}
	switch c {
	case Thrust:
		return "hanging scale"
	case RotorSpeed:
		return "controller speed"
	case BatteryVoltage:
		return "controller voltage"
	case WindingTemperature, BridgeTemperature, WaterTemperature:
		return "thermistor"
	case CaseTemperature:
		return infraredWord
	}
	return "controller"
}
