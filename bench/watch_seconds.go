package bench

import (
	"fmt"
	"math"

	"jetwright/numeric"
	"jetwright/quantity"
)

// close ends a second of the log: means are formed, and what takes more than one row is looked at.
func (w *Watcher) close(at float64) {
	for _, k := range w.twins {
		k.second()
	}
	for _, x := range w.channels {
		if x.count == 0 {
			continue
		}
		copy(x.seconds[1:], x.seconds[:coefSeconds-1])
		x.seconds[0] = x.sum / float64(x.count)
		x.secondsHeld = min(coefSeconds, x.secondsHeld+1)
		x.sum, x.count = 0, 0
	}
	w.readLoad()
	w.takeTare()
	for _, k := range w.twins {
		w.compare(k)
	}
	for _, x := range w.channels {
		w.lost(x, at)
		if x.column >= 0 {
			w.frozen(x, at)
		}
		if isThermal(x.Channel) && x.secondsHeld > 0 {
			w.warm(x, at)
		}
	}
	w.coefficients()
}

func isThermal(c Channel) bool { return !isWitness(c) && c != WaterTemperature }

// loadOf turns a channel's second into what stands for the power.
func loadOf(c Channel, v float64) float64 {
	switch c {
	case RotorSpeed:
		return math.Pow(math.Max(0, v), 3)
	case Thrust, PhaseCurrent:
		return math.Pow(math.Abs(v), 1.5)
	}
	return v
}

// readLoad takes the load of the second.
func (w *Watcher) readLoad() {
	if x := w.of[w.load]; x != nil && x.secondsHeld > 0 {
		copy(w.loadNow[1:], w.loadNow[:2])
		w.loadNow[0] = x.seconds[0]
		if w.load != Power && w.load != BatteryCurrent {
			w.loadNow[0] = loadOf(w.load, x.seconds[0])
		}
		w.loadSeen++
		if w.loadSeen == 1 {
			w.loadNow[1], w.loadNow[2] = w.loadNow[0], w.loadNow[0]
		}
		w.full = math.Max(w.full, median3(w.loadNow))
	}
	if x := w.of[w.other]; x != nil && x.secondsHeld > 0 {
		v := loadOf(w.other, x.seconds[0])
		if w.other == Thrust && w.tareKnown {
			v = loadOf(w.other, x.seconds[0]-w.tare)
		}
		copy(w.otherNow[1:], w.otherNow[:2])
		w.otherNow[0] = v
		w.otherFull = math.Max(w.otherFull, median3(w.otherNow))
	}
}

func median3(v [3]float64) float64 {
	return math.Max(math.Min(v[0], v[1]), math.Min(math.Max(v[0], v[1]), v[2]))
}

// rest is the load below which nothing pulls.
func (w *Watcher) rest() float64 {
	least := restLoad[w.load]
	if w.load != Power && w.load != BatteryCurrent {
		least = loadOf(w.load, least)
	}
	return math.Max(idleShare*w.full, least)
}

// loaded tells whether the drive runs.
func (w *Watcher) loaded() bool { return w.loadSeen > 0 && median3(w.loadNow) > w.rest() }

// takeTare averages what the scale shows at rest; the latest time at rest counts.
func (w *Watcher) takeTare() {
	x := w.of[Thrust]
	if x == nil || w.loadSeen == 0 || x.secondsHeld == 0 {
		return
	}
	if w.loaded() || w.loadNow[0] > w.rest() {
		w.tareSum, w.tareCount, w.restSeconds, w.ran = 0, 0, 0, true
		return
	}
	if w.restSeconds++; w.ran && w.restSeconds <= tareSeconds {
		return // the pull may still swing when the power is off already
	}
	w.tareSum += x.seconds[0]
	if w.tareCount++; w.tareCount >= tareSeconds {
		w.tare, w.tareKnown = w.tareSum/float64(w.tareCount), true
	}
}

// lost looks whether a channel still shows values while rows come.
func (w *Watcher) lost(x *watched, at float64) {
	if x.column < 0 || w.rows < 2 {
		return
	}
	allowed := lostMost
	if x.seen >= 5 {
		allowed = math.Max(lostLeast, math.Min(lostMost, lostUnlike*x.longest))
	}
	allowed = math.Max(allowed, gapRows*w.Interval)
	silent := at - w.origin
	if x.seen > 0 {
		silent = at - x.at
	}
	if silent < allowed {
		if x.doubt == Lost {
			x.doubt = ""
		}
		return
	}
	w.suspect(x, Lost, at-silent)
	if x.bound && !x.joined { // whoever watches its own log says so
		what := fmt.Sprintf("the %s has shown no value for %.1f s; a limit rests on it", x.Channel, silent)
		if x.seen == 0 {
			what = fmt.Sprintf("the %s has shown no value yet; a limit rests on it", x.Channel)
		}
		w.raise("lost "+string(x.Channel), Alarm{Kind: Lost, Channel: x.Channel, What: what, Do: "take the power off; look at the sensor, its plug and its cable"})
	}
}

func (w *Watcher) suspect(x *watched, kind string, since float64) {
	if x.doubt != kind {
		x.doubt, x.doubtSince = kind, since
	}
}

// frozen looks whether a channel stands still while the load moves, or for far longer than chance
// can make it; and whether it stands at the end of its range.
func (w *Watcher) frozen(x *watched, at float64) {
	load, full, rest := median3(w.loadNow), w.full, w.rest()
	if x.Channel == w.load || x.Channel == BatteryCurrent || x.Channel == BatteryVoltage && w.load == Power && w.of[Power].column < 0 {
		load, full = median3(w.otherNow), w.otherFull // it cannot witness against itself
		rest = math.Max(idleShare*full, loadOf(w.other, restLoad[w.other]))
		if w.other == "" {
			return
		}
	}
	if load > rest {
		x.loaded++
	}
	x.loadLow, x.loadHigh = math.Min(x.loadLow, load), math.Max(x.loadHigh, load)
	length := at - x.since
	silent := x.seen == 0 || at-x.at > math.Max(lostLeast, 2*x.longest)
	key := "frozen " + string(x.Channel)
	if length < clippedLeast || silent {
		if x.doubt == Frozen || x.doubt == Clipped {
			x.doubt = ""
		}
		w.well(key)
		return
	}
	usual50, usual90 := x.still.usual(0.5), x.still.usual(0.9)
	kind := ""
	threshold := math.Max(frozenLeast, frozenUnlike*usual50)
	interval := math.Max(w.Interval, 0.01)
	if !isWitness(x.Channel) && (x.resolution >= coarseStep && !math.IsInf(x.resolution, 1) || usual50 > math.Max(1, 3*interval)) {
		threshold = math.Max(frozenCoarse, frozenUnlike*usual90)
	}
	moved := x.loadHigh > 0 && x.loadHigh-x.loadLow >= math.Max(frozenMoved*x.loadHigh, rest)
	zero := x.Channel == Thrust && x.value == 0 && !(x.loadLow > rest)
	fine := usual90 > 0 && x.rows >= stuckRows
	ends := isWitness(x.Channel) && (x.value == x.low || x.value == x.high) // a temperature has no end
	switch {
	case length >= threshold && x.rows > 3 && float64(x.loaded) >= frozenLeast/2 && moved && !zero:
		kind = Frozen
	case length >= frozenLeast && fine && x.loadLow > rest && !ends && length > stuckUnlike*math.Max(usual90, interval):
		kind = Frozen
	case ends && fine && x.value != 0 && x.rows >= clippedRows && float64(x.loaded) >= clippedLeast &&
		length > stuckUnlike*math.Max(usual90, interval) && x.jump > 0.5*x.resolution:
		kind = Clipped
	}
	if kind == "" {
		return
	}
	w.suspect(x, kind, x.since)
	if !x.bound || kind == Clipped && length < clippedLost {
		return
	}
	what := fmt.Sprintf("the %s is frozen: it has shown %s for %.0f s", x.Channel, show(x.Channel, x.value), length)
	if moved {
		what += fmt.Sprintf(" while the load went from %.0f %% to %.0f %% of its highest", 100*math.Max(0, x.loadLow)/full, 100*x.loadHigh/full)
	} else {
		what += ", though its values otherwise change within " + fmt.Sprintf("%.2g s", math.Max(usual90, interval))
	}
	if kind == Clipped {
		what = fmt.Sprintf("the %s stands at the end of its range, %s, for %.0f s", x.Channel, show(x.Channel, x.value), length)
	}
	w.raise(key, Alarm{Kind: kind, Channel: x.Channel, What: what + "; a limit rests on it", Do: "take the power off; look at the sensor, its plug and its cable; a sensor that fails looks calm"})
}

// warm keeps a temperature's rise since the load last moved.
func (w *Watcher) warm(x *watched, at float64) {
	r := &x.rise
	load := median3(w.loadNow)
	if len(r.t) == 0 && r.part == 0 {
		r.loadWas = load
	}
	if math.Abs(load-r.loadWas) > math.Max(warmingMoved*math.Max(load, r.loadWas), w.rest()) {
		*r = rise{t: r.t[:0], y: r.y[:0], stride: 1, loadWas: load}
	}
	r.ts += at - 0.5
	r.ys += x.seconds[0]
	if r.part++; r.part < r.stride {
		return
	}
	r.t, r.y = append(r.t, r.ts/float64(r.part)), append(r.y, r.ys/float64(r.part))
	r.ts, r.ys, r.part = 0, 0, 0
	if len(r.t) < warmingMost {
		return
	}
	for i := range len(r.t) / 2 {
		r.t[i], r.y[i] = 0.5*(r.t[2*i]+r.t[2*i+1]), 0.5*(r.y[2*i]+r.y[2*i+1])
	}
	r.t, r.y = r.t[:len(r.t)/2], r.y[:len(r.y)/2]
	r.stride *= 2
}

// coefficients holds the latest seconds against earlier steps.
func (w *Watcher) coefficients() {
	for i := range w.coefs {
		w.coefs[i].Set, w.coefs[i].Compared = false, false
	}
	n := w.of[RotorSpeed]
	steady := w.loaded() && median3(w.loadNow) >= coefLoad*w.fullOfSteps() && w.steady()
	if !steady || n == nil {
		for i := range w.coefs {
			w.coefs[i].chart.pause()
		}
		w.endStep()
		return
	}
	var each [coefSeconds]Coefficients
	for s := range each {
		each[s] = w.similarity(s)
	}
	speed := 0.0
	for s := range coefSeconds {
		speed += n.seconds[s] / coefSeconds
	}
	now := EarlierStep{Speed: speed}
	for i := range w.coefs {
		c := &w.coefs[i]
		var v [coefSeconds]float64
		set := true
		for s := range each {
			o := c.value(each[s])
			v[s] = o.Value
			set = set && o.Set
		}
		if !set {
			c.SecondsMoved = 0
			c.chart.pause()
			continue
		}
		m, sd := numeric.MeanSD(v[:])
		const t90 = 2.1318 // of four degrees of freedom
		c.Set, c.Value, c.Half = true, m, t90*sd/math.Sqrt(coefSeconds)
		c.Reference, c.ReferenceHalf, c.Compared = w.reference(c, speed)
		if !w.moved(c, v[0]) {
			continue
		}
		w.raise("moved "+c.Name, Alarm{
			Kind: Moved, What: fmt.Sprintf("the %s stands %+.1f %% off the steps before at this speed (%.4g against %.4g), for %d s; %.0f %% is let pass", c.Name, 100*c.Change(), c.Value, c.Reference, c.SecondsMoved, 100*coefMoved),
			Do: "take the power off; look for drawn air, weed, cavitation, a rope that touches, or a sensor that lies",
		})
	}
	now.Coefficients = each[0]
	w.takeStep(now)
}

// steady tells whether load and speed have stood for some seconds.
func (w *Watcher) steady() bool {
	for _, c := range []Channel{w.load, RotorSpeed} {
		if x := w.of[c]; x != nil {
			low, high := x.secondsRange()
			within := coefSteady
			if c != RotorSpeed {
				within *= 3 // a power goes by the third power of the speed
			}
			if x.secondsHeld < coefSeconds || high-low > within*math.Abs(high) {
				return false
			}
		}
	}
	return true
}

// moved tells whether a coefficient has left its band about the steps before: by a chart of its seconds. Until
// their scatter is known, and where it hangs together too long for the chart to see a level, also if the mean of five
// seconds and its interval stand outside for five.
func (w *Watcher) moved(c *CoefficientNow, latest float64) bool {
	key := "moved " + c.Name
	if !c.Compared {
		c.SecondsMoved = 0
		c.chart.pause()
		w.well(key)
		return false
	}
	k := &c.chart
	told, known := k.take(latest/c.Reference-1, coefMoved+c.ReferenceHalf/c.Reference)
	k.Up, k.Down = math.Min(k.Up, k.H+k.K), math.Min(k.Down, k.H+k.K) // so that it can come back
	told = told && (!c.OnlyFalls || k.Down > k.H)
	since, clear := k.Falling, k.Down == 0
	if !c.OnlyFalls {
		since, clear = max(since, k.Rising), clear && k.Up == 0
	}
	if known && k.rho <= coefChart {
		c.SecondsMoved = since
		if clear {
			w.well(key)
		}
		return told
	}
	change := c.Change()
	sure := math.Hypot(c.Half/c.Value, c.ReferenceHalf/c.Reference)
	if !(change < -coefMoved-sure || !c.OnlyFalls && change > coefMoved+sure) {
		c.SecondsMoved = 0
		if clear {
			w.well(key)
		}
	} else {
		c.SecondsMoved++
	}
	if told {
		c.SecondsMoved = max(c.SecondsMoved, since)
	}
	return told || c.SecondsMoved >= coefSeconds
}

func (w *Watcher) fullOfSteps() float64 {
	if w.load == Power && w.Full > 0 {
		return w.Full
	}
	return 0
}

func (x *watched) secondsRange() (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, v := range x.seconds[:x.secondsHeld] {
		low, high = math.Min(low, v), math.Max(high, v)
	}
	return low, high
}

// similarity is what one of the latest seconds says.
func (w *Watcher) similarity(s int) Coefficients {
	p := Plateau{Convention: w.Convention}
	for _, c := range []Channel{Thrust, Power, RotorSpeed, PhaseCurrent} {
		x := w.of[c]
		if x == nil || x.secondsHeld < coefSeconds || x.doubt != "" {
			continue
		}
		v := x.seconds[s]
		if c == Thrust {
			if !w.tareKnown {
				continue // the tare would move it
			}
			v = math.Abs(v - w.tare)
			if w.Along > 0 {
				v *= w.Along
			}
		}
		p.Figures = append(p.Figures, Figure{Channel: c, Value: v})
	}
	return Similarity(p, w.Diameter, w.NozzleArea, w.Density)
}

// cluster is the mean of steps at a like speed.
type cluster struct{ speed, value, half, n float64 }

// clusterAt gathers the steps whose speed is like that of the one nearest to a speed, among those that
// are let in.
func clusterAt(list []EarlierStep, c *CoefficientNow, speed float64, in func(EarlierStep) bool) (cluster, bool) {
	nearest, found := 0.0, false
	usable := func(s EarlierStep) bool { v := c.value(s.Coefficients); return v.Set && v.Value > 0 && in(s) }
	for _, s := range list {
		if usable(s) && (!found || math.Abs(s.Speed-speed) < math.Abs(nearest-speed)) {
			nearest, found = s.Speed, true
		}
	}
	var k cluster
	for _, s := range list {
		if usable(s) && math.Abs(s.Speed/nearest-1) <= coefSteady {
			v := c.value(s.Coefficients).Value
			k.n++
			k.speed += s.Speed
			k.value += v
			k.half += warmingZ * c.spread(s.Coefficients) * v
		}
	}
	if !found {
		return k, false
	}
	k.speed, k.value, k.half = k.speed/k.n, k.value/k.n, k.half/k.n
	return k, true
}

// reference is what earlier steps say at a speed: those of a like speed, else between the steps below and
// above, else the last one, with the change from the step before it as what is not known beyond it.
func (w *Watcher) reference(c *CoefficientNow, speed float64) (value, half float64, ok bool) {
	for _, list := range [][]EarlierStep{w.Steps, w.own} {
		if k, found := clusterAt(list, c, speed, func(s EarlierStep) bool { return math.Abs(s.Speed/speed-1) <= coefSteady }); found {
			return k.value, k.half, true
		}
		below, haveBelow := clusterAt(list, c, speed, func(s EarlierStep) bool { return s.Speed <= speed })
		above, haveAbove := clusterAt(list, c, speed, func(s EarlierStep) bool { return s.Speed > speed })
		if haveBelow && haveAbove && above.speed < coefBetween*below.speed {
			share := (speed - below.speed) / (above.speed - below.speed)
			return below.value + share*(above.value-below.value), math.Max(below.half, above.half) + 0.25*math.Abs(above.value-below.value), true
		}
		near, haveNear, up := below, haveBelow, false
		if haveAbove && (!haveBelow || above.speed-speed < speed-below.speed) {
			near, haveNear, up = above, true, true
		}
		if !haveNear || math.Abs(near.speed/speed-1) > coefNear {
			continue
		}
		next, haveNext := clusterAt(list, c, near.speed, func(s EarlierStep) bool {
			if up {
				return s.Speed > (1+coefSteady)*near.speed
			}
			return s.Speed < (1-coefSteady)*near.speed
		})
		if !haveNext || math.Abs(next.speed/near.speed-1) > 2*coefNear {
			continue // a lone step does not say how the coefficient changes
		}
		far := math.Abs(speed-near.speed) / math.Abs(near.speed-next.speed)
		return near.value, near.half + math.Max(1, far)*math.Abs(near.value-next.value), true
	}
	return 0, 0, false
}

// takeStep adds a steady second to the step in the making.
func (w *Watcher) takeStep(now EarlierStep) {
	s := &w.ownNow
	if s.seconds > 0 && math.Abs(now.Speed/s.sum.Speed-1) > coefSteady {
		w.endStep()
	}
	if s.seconds == 0 {
		s.sum = now
		s.seconds = 1
		return
	}
	s.seconds++
	share := 1 / float64(s.seconds)
	mix := func(old *quantity.Optional, o quantity.Optional) {
		switch {
		case !o.Set:
		case !old.Set:
			*old = o
		default:
			old.Value += share * (o.Value - old.Value)
		}
	}
	s.sum.Speed += share * (now.Speed - s.sum.Speed)
	mix(&s.sum.Thrust, now.Thrust)
	mix(&s.sum.Power, now.Power)
	mix(&s.sum.Current, now.Current)
	mix(&s.sum.StaticEfficiency, now.StaticEfficiency)
}

// endStep keeps a step that was held long enough.
func (w *Watcher) endStep() {
	if w.ownNow.seconds >= ownStepSeconds {
		if len(w.own) == ownStepsMost {
			copy(w.own, w.own[1:])
			w.own = w.own[:ownStepsMost-1]
		}
		w.own = append(w.own, w.ownNow.sum)
	}
	w.ownNow = ownStep{}
}

// Status says how the log stands; forecasts are made when it is asked.
func (w *Watcher) Status() WatchStatus {
	s := WatchStatus{Time: w.time, Rows: w.rows, TareKnown: w.tareKnown}
	now := func(c Channel) quantity.Optional {
		x := w.of[c]
		if x == nil || x.seen == 0 || x.doubt == Lost {
			return quantity.Optional{}
		}
		if x.secondsHeld > 0 {
			return quantity.Some(x.seconds[0])
		}
		return quantity.Some(x.value)
	}
	s.Power, s.Pull, s.Speed = now(Power), now(Thrust), now(RotorSpeed)
	if s.Pull.Set && w.tareKnown {
		s.Pull.Value -= w.tare
	}
	for _, c := range w.coefs {
		if c.Set {
			s.Coefficients = append(s.Coefficients, c)
		}
	}
	for k, b := range w.Bounds {
		x := w.of[b.Channel]
		if x == nil || x.seen == 0 || x.doubt == Lost {
			continue
		}
		v := median3(x.recent)
		if b.Channel == Thrust {
			v = math.Abs(v)
		}
		if left := b.Left(v); !s.Nearest.Set || left < s.Nearest.Left {
			s.Nearest = Nearest{Bound: w.Bounds[k], Value: v, Left: left, Set: true}
		}
		if !isThermal(b.Channel) || x.doubt != "" {
			continue
		}
		step := x.resolution
		if math.IsInf(step, 1) {
			step = 0
		}
		f, ok := Warming(x.rise.t, x.rise.y, b.Allowed, step)
		if !ok {
			continue
		}
		next := BoundForecast{b, f, b.Left(v), true}
		if t := &s.Thermal; !t.Set || sooner(next, *t) {
			*t = next
		}
	}
	for _, x := range w.channels {
		if x.doubt != "" {
			s.Doubts = append(s.Doubts, DoubtNow{x.Channel, x.doubt, x.doubtSince})
		} else if x.spikes >= spikeMost {
			s.Doubts = append(s.Doubts, DoubtNow{x.Channel, Spiking, w.time})
		}
	}
	return s
}

// sooner tells which of two forecasts may come true first; where none is in sight, which is nearer.
func sooner(a, b BoundForecast) bool {
	const never = math.MaxFloat64
	if x, y := a.Early.Or(never), b.Early.Or(never); x != y {
		return x < y
	}
	return a.Left < b.Left
}
