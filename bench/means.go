package bench

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"jetwright/numeric"
	"jetwright/quantity"
)

// Rules of means. Our own.
const (
	steadyChange = 0.3   // K over the last third of a plateau, from which a temperature had not settled
	driftUnknown = 0.003 // of the day's highest pull, the drift of a tare that was seen only once, as limits
	gapMost      = 5.0   // s without a value of the load, that a settled plateau may have
	robustLeast  = 5     // zero windows, from which one that is off shows
	robustOff    = 0.3   // weight below which a zero window is off
	robustFar    = 4.0   // and standard uncertainties by which it must be
)

// window returns the blocks that lie wholly within a span.
func (r *reducer) window(s Span) (from, to int) {
	return int(math.Ceil(s.From/r.Block - 1e-9)), int(math.Floor(s.To/r.Block + 1e-9))
}

// mean is a mean over blocks with what its scatter says.
type mean struct {
	value, sd float64 // sd of the blocks
	n         float64 // blocks
	effective float64 // of the worth of so many independent ones
}

func meanOf(values []float64) mean {
	m, sd := numeric.MeanSD(values)
	return mean{m, sd, float64(len(values)), numeric.EffectiveSize(values)}
}

// scatter is the component of a mean's own scatter.
//
//	u = s/√n_e,  n_e = n/(1 + 2·Σ ρ_k)
//
//	s    standard deviation of the blocks
//	n_e  number of independent blocks that would say as much
//	ρ_k  autocorrelation at lag k
//
// Source: jcgm-100, 4.2.3; sokal-1997. Tests: TestReduceSynthetic.
func (m mean) scatter() Component {
	return Component{
		Name: "scatter", U: m.sd / math.Sqrt(m.effective), Freedom: math.Max(1, m.effective-1),
		Note: fmt.Sprintf("%.0f blocks worth %.0f independent ones", m.n, m.effective),
	}
}

// resolutionComponent is what the smallest step of an instrument adds to a mean. Scatter of half a
// step or more carries the mean between the steps; less leaves it where it stands.
func (x *channel) resolutionComponent(m mean, perBlock float64) (Component, bool) {
	if !(x.resolution > 0) {
		return Component{}, false
	}
	u := x.resolution / math.Sqrt(12)
	note := fmt.Sprintf("steps of %s, hardly moved by noise", showDifference(x.Channel, x.resolution))
	if m.sd*math.Sqrt(math.Max(1, perBlock)) >= x.resolution/2 {
		u /= math.Sqrt(m.effective)
		note = fmt.Sprintf("steps of %s, carried by noise", showDifference(x.Channel, x.resolution))
	}
	return Component{Name: "resolution", Rectangle: true, U: u, Freedom: math.Inf(1), Note: note}, true
}

// zeros finds the windows in which nothing pulled, and the tare.
func (r *reducer) zeros() {
	t := r.of(Thrust)
	var spans []Span
	if len(r.Zeros) > 0 {
		spans = r.Zeros
	} else {
		for _, l := range r.levels {
			if l.idle {
				s := Span{float64(l.from) * r.Block, math.Min(float64(l.to)*r.Block, r.out.Duration)}
				if s.Length() >= zeroLeast {
					spans = append(spans, s)
				}
			}
		}
	}
	if t == nil {
		for _, s := range spans {
			r.out.Zeros = append(r.out.Zeros, Zero{Span: s, Typed: len(r.Zeros) > 0})
		}
		r.warn(r.Place, "no log holds the pull; the run teaches nothing about thrust", "adopt the scale's log with: jetwright run add, or name its column in run.toml: \"name [kgf] = thrust\"")
		return
	}
	var x, y, w []float64
	refused := 0
	for i, s := range spans {
		z := Zero{Span: s, Typed: len(r.Zeros) > 0}
		if z.Typed {
			if why := r.notZero(s); why != "" {
				refused++
				place := r.Place
				if i < len(r.ZeroPlaces) {
					place = r.ZeroPlaces[i]
				}
				r.warn(place, fmt.Sprintf("the zero window from %.4g s to %.4g s is not used: %s", s.From, s.To, why), "correct zero at the top of run.toml, or leave it out to have the windows found")
				continue
			}
		}
		if drops(r.doubted(t, s)) {
			continue // a scale that lies tells no tare
		}
		from, to := r.window(s)
		if !z.Typed { // the pull may still swing when the power is off already
			v, at := finite(t.track, from, to)
			if len(v) < segmentLeast {
				continue
			}
			cut := zeroCut(v, t.resolution, from == 0)
			v = v[cut.from:cut.to]
			if cut.from > 0 {
				z.From = float64(at[cut.from]) * r.Block
			}
			if cut.to < len(at) {
				z.To = float64(at[cut.to]) * r.Block
			}
			if len(v) < segmentLeast || z.Length() < zeroLeast {
				continue
			}
			from, to = r.window(z.Span)
		}
		v, _ := finite(t.track, from, to)
		if len(v) < 3 {
			continue
		}
		m := meanOf(v)
		z.Pull = m.value
		u := m.scatter().U
		if swung, _, ok := r.swung(t, from, to); ok {
			z.Pull, u = swung.value, swung.scatter().U
		}
		if c, ok := t.resolutionComponent(m, r.Block/t.interval); ok {
			u = math.Hypot(u, c.U)
		}
		z.U = u
		r.out.Zeros = append(r.out.Zeros, z)
		if !(u > 0) {
			u = 1e-6
		}
		middle := 0.5 * (z.From + z.To)
		x, y, w = append(x, middle), append(y, z.Pull-r.Level.Pull*r.Level.Rise(middle)), append(w, 1/(u*u))
	}
	r.tare(x, y, w, refused)
}

// notZero says why a typed window cannot be one without pull.
func (r *reducer) notZero(s Span) string {
	if s.From < 0 || s.To > r.out.Duration+r.Block {
		return fmt.Sprintf("the run lasts from 0 s to %.4g s", r.out.Duration)
	}
	from, to := r.window(s)
	v, _ := finite(r.load.track, from, to)
	if m, ok := numeric.Median(v); ok && m > idleShare*r.full {
		return fmt.Sprintf("the %s is at %.0f %% of its highest there", r.load.Channel, 100*m/r.full)
	}
	return ""
}

// zeroCut returns the part of a zero window that is at rest.
func zeroCut(v []float64, resolution float64, atStart bool) stretch {
	s := stretch{from: 0, to: len(v)}
	if !atStart {
		if s.from = settle(v, resolution); s.from > len(v)/2 {
			s.from = 0 // that is no swing dying away but the tare's own drift
		}
	}
	backwards := make([]float64, 0, len(v))
	for i := len(v) - 1; i >= s.from; i-- {
		backwards = append(backwards, v[i])
	}
	if k := settle(backwards, resolution); k <= len(backwards)/2 && len(backwards)-k > segmentLeast {
		s.to -= k
	}
	return s
}

// tare lays a straight line through the zero windows.
func (r *reducer) tare(x, y, w []float64, refused int) {
	t := &r.out.Tare
	t.Windows = len(x)
	values, _ := finite(r.of(Thrust).track, 0, r.blocks)
	top := 0.0
	for _, v := range values {
		top = math.Max(top, math.Abs(v))
	}
	switch {
	case len(x) == 0 && refused > 0:
		r.warn(r.Place, "no zero window is left: nothing says what the scale shows without pull", "")
		return
	case len(x) == 0:
		r.warn(r.Place, "no zero window was found: nothing says what the scale shows without pull",
			`leave 20 s at rest before and after the ladder; if there were such stretches, type zero = ["0 s .. 20 s"] at the top of run.toml`)
		return
	case len(x) == 1:
		t.Known, t.Start, t.UStart = true, y[0], 1/math.Sqrt(w[0])
		there := r.Level.Rise(x[0])
		r.tareRise = func(float64) float64 { return there }
		t.UDrift = driftUnknown * top / math.Sqrt(3) / math.Max(r.out.Duration, 1)
		r.tareAt, r.uTareAt = x[0], t.UStart
		r.warn(r.Place, fmt.Sprintf("only one zero window stands, at %.0f s; the drift of the tare is unknown and taken within ± %.2g %% of the highest pull over the run", x[0], 100*driftUnknown),
			"leave 20 s at rest after the ladder as well")
	default:
		x, y, w = r.soundZeros(x, y, w)
		line, err := numeric.StraightLine(x, y, w)
		if err != nil {
			r.warn(r.Place, "the tare cannot be told: "+err.Error(), "")
			return
		}
		grow := 1.0
		if line.Freedom > 0 {
			grow = math.Sqrt(math.Max(1, line.ChiSquare/float64(line.Freedom)))
		}
		t.Known, t.Start, t.Drift, t.UStart, t.UDrift = true, line.A, line.B, grow*line.SA, grow*line.SB
		// About this moment level and drift of the line are independent.
		if line.SB > 0 {
			r.tareAt = -line.Covariance / (line.SB * line.SB)
		}
		_, u := line.At(r.tareAt)
		r.uTareAt = grow * u
		rise := make([]float64, len(x))
		for i := range x {
			rise[i] = r.Level.Rise(x[i])
		}
		if same, err := numeric.StraightLine(x, rise, w); err == nil { // the same line through the levels
			r.tareRise = func(at float64) float64 { return same.A + same.B*at }
		}
	}
}

// soundZeros leaves out zero windows that stand off the line which outliers pull less: of many windows one in which
// somebody leant on the rope must not turn the tare of the whole run. Fewer than robustLeast do not say which of
// them is off.
func (r *reducer) soundZeros(x, y, w []float64) (kx, ky, kw []float64) {
	n := len(x)
	if n < robustLeast {
		return x, y, w
	}
	design := mat.NewDense(n, 2, nil)
	u := make([]float64, n)
	for i := range x {
		design.SetRow(i, []float64{1, x[i]}) // all alike: the one that is off may look the surest
		u[i] = 1 / math.Sqrt(w[i])
	}
	usual, _ := numeric.Median(u)
	line, weights, _, err := numeric.Huber(design, y)
	if err != nil {
		return x, y, w
	}
	var said []string
	for i := range w {
		off := y[i] - line[0] - line[1]*x[i]
		if weights[i] > robustOff || math.Abs(off) < robustFar*math.Max(u[i], usual) {
			kx, ky, kw = append(kx, x[i]), append(ky, y[i]), append(kw, w[i])
			continue
		}
		said = append(said, fmt.Sprintf("the zero window at %.0f s stands %.3g N off the line of the other %d; the tare does not rest on it", x[i], off, n-1))
	}
	if len(kx) < robustLeast-1 {
		return x, y, w // too few are left to call the others off
	}
	for _, what := range said {
		r.warn(r.Place, what, "look whether something pulled or lay on the rope then")
	}
	r.out.Tare.Windows = len(kx)
	return kx, ky, kw
}

// pullTare returns the tare at a moment and its two components.
func (r *reducer) pullTare(at float64) (tare float64, c []Component) {
	t := &r.out.Tare
	if !t.Known {
		row, _ := InstrumentNamed("hanging scale")
		u := row.OfFullScale * r.Setup.FullScale.Or(0) / math.Sqrt(3)
		if u == 0 {
			values, _ := finite(r.of(Thrust).track, 0, r.blocks)
			m, _ := numeric.MeanSD(values)
			u = 2 * row.OfFullScale * m / math.Sqrt(3)
		}
		return 0, []Component{{Name: "tare", U: u, Freedom: math.Inf(1), Shared: r.Run + ", tare", Note: "no zero window: taken as the scale's limits"}}
	}
	c = []Component{{
		Name: "tare", U: r.uTareAt, Freedom: math.Inf(1), Shared: r.Run + ", tare",
		Note: fmt.Sprintf("from %d zero windows", t.Windows),
	}}
	if t.UDrift > 0 {
		c = append(c, Component{Name: "tare drift", U: t.UDrift * math.Abs(at-r.tareAt), Freedom: math.Inf(1), Shared: r.Run + ", tare drift", Against: at < r.tareAt})
	}
	level := r.Level.Pull * r.Level.Rise(at)
	if line, ok := r.levelLine(at); ok {
		c = append(c, line)
	}
	if t.Windows == 1 {
		return t.Start + level, c
	}
	return t.Start + t.Drift*at + level, c
}

// levelLine is the line of a budget for the water level: how far it stands off the line that the zero
// windows lay through it, since they take out the rest.
//
//	u² = (Δh·u_k)² + (k·u_h)²,  Δh = h(t) − h_tare(t)
//
//	h  rise of the water, m;  h_tare  the tare's own line through it at the zero windows, m
//	k  pull for a rise, N/m
//
// Source: own; jcgm-100, 5.1.2. Tests: TestWaterLevelExact.
func (r *reducer) levelLine(at float64) (Component, bool) {
	l := r.Level
	if r.tareRise == nil || len(l.Times) == 0 || l.Pull == 0 && l.UPull == 0 {
		return Component{}, false
	}
	off := l.Rise(at) - r.tareRise(at)
	return Component{
		Name: "water level", U: math.Hypot(off*l.UPull, l.Pull*l.UHeight), Freedom: math.Inf(1), Shared: r.Run + ", water level", Against: off < 0,
		Note: fmt.Sprintf("%+.2g N: it stood %+.2g mm off what the zero windows take out", l.Pull*off, 1000*off),
	}, true
}

// plateaus makes a plateau of every level that was held long enough.
func (r *reducer) plateaus() {
	last, direction := -1.0, "" // a log that begins under load does not say how it came there
	n := 0
	for _, l := range r.levels {
		if l.idle {
			last, direction = 0, ""
			continue
		}
		// What was joined or split by a hair keeps its direction; a ramp is no level to come from.
		if float64(l.to-l.from)*r.Block >= zeroLeast {
			switch {
			case last < 0:
			case l.level > last*(1+2*sameLevel):
				direction = "up"
			case l.level < last*(1-2*sameLevel):
				direction = "down"
			}
			last = l.level
		}
		l = l.trimmed(4 * segmentLeast)
		s := Span{refine(r.load, l.from, r.Block), refine(r.load, l.to, r.Block)}
		if l.from == 0 {
			s.From = 0
		}
		if l.to == r.blocks {
			s.To = r.out.Duration
		}
		if s.Length() < plateauLeast {
			continue
		}
		from, to := r.window(s)
		if v, _ := finite(r.load.track, from, to); numeric.RobustSD(v) > restless*l.level {
			continue
		}
		n++
		p := r.plateau(s, direction)
		p.Name = fmt.Sprintf("%s, plateau %d", r.Run, n)
		p.Direction = direction
		if len(p.Figures) == 0 {
			continue
		}
		r.out.Plateaus = append(r.out.Plateaus, p)
	}
}

// plateau reduces one stretch.
func (r *reducer) plateau(held Span, direction string) Plateau {
	p := Plateau{Run: r.Run, Place: r.sources[r.first].Place, Held: quantity.Some(held.Length()), Span: held}
	p.PowerPlace, p.Convention = r.sources[r.first].PowerPlace, "rms"
	p.Stream, p.Rise = r.Motion.Stream, r.Level.Rise(0.5*(held.From+held.To))
	judged := []*channel{r.load, r.of(RotorSpeed), r.of(Thrust)}
	from, to := r.window(held)
	first := from
	for _, x := range judged {
		if x == nil || drops(r.doubted(x, held)) {
			continue
		}
		v, at := finite(x.track, from, to)
		if cut := settle(v, x.resolution); cut > 0 {
			first = max(first, at[cut])
		}
	}
	if first-from > (to-from)/2 {
		p.Unsettled = fmt.Sprintf("it was still settling after half of its %.0f s", held.Length())
		first = from
	}
	if gap := r.gap(from, to); gap.Length() > gapMost {
		p.Unsettled = fmt.Sprintf("the log holds nothing from %.0f s to %.0f s", gap.From, gap.To)
	}
	p.Span.From = math.Max(held.From, float64(first)*r.Block)
	for _, x := range judged {
		if x == nil || drops(r.doubted(x, p.Span)) || p.Unsettled != "" {
			continue
		}
		v, at := finite(x.track, first, to)
		level, _ := numeric.MeanSD(v)
		if x.Channel == Thrust {
			tare, _ := r.pullTare(0.5 * (p.Span.From + p.Span.To))
			level -= tare
		}
		change, u := trend(v, at)
		if math.Abs(change) > trendShare*math.Abs(level) && math.Abs(change) > trendEvidence*u {
			p.Unsettled = fmt.Sprintf("the %s still moved by %+.1f %% over %.0f s", x.Channel, 100*change/level, p.Span.Length())
		}
	}
	if p.Unsettled == "" {
		p.Moving = r.moving(held, from+int(movingSkip/r.Block), to)
	}
	seen := map[Channel]bool{}
	for _, x := range r.channels {
		doubts := r.doubted(x, p.Span)
		if !seen[x.Channel] {
			p.Doubts = append(p.Doubts, doubts...)
		}
		if seen[x.Channel] || drops(doubts) {
			continue
		}
		f, ok := r.figure(x, p.Span, first, to, direction)
		if !ok {
			continue
		}
		seen[x.Channel] = true
		p.Figures = append(p.Figures, f)
		switch x.Channel {
		case Power:
			p.PowerPlace = r.sources[x.source].PowerPlace
			if x.derived {
				p.PowerPlace = "battery"
			}
		case PhaseCurrent:
			if c := r.sources[x.source].Convention; c != "" {
				p.Convention = c
			}
		}
	}
	return p
}

// Rules of the test of moving water. Our own.
const (
	movingSkip  = 2.5   // s in which rotor and scale still settle
	movingLeast = 0.004 // share of the pull that speed, clock and lag leave open on one plateau
	movingFirst = 6.0   // s after that, before the water has come round
	movingHeld  = 45.0  // s that a plateau must have been held for the test
)

// moving compares the pull for its rotor speed squared over the first seconds of a plateau with that of
// its last third.
//
//	Δ = k̄_end/k̄_first − 1,  k = T/n²
//
//	T  pull, tare taken off, N;  n  rotor speed, rad/s
//
// Holds where nothing else changes meanwhile; a fall by more than its uncertainty says that the water
// moves. It bends no measurement: what it costs is reckoned elsewhere.
//
// Source: own. Tests: TestMovingSynthetic.
func (r *reducer) moving(s Span, from, to int) Moving {
	t, n := r.of(Thrust), r.of(RotorSpeed)
	if t == nil || n == nil || s.Length() < movingHeld || drops(r.doubted(t, s)) || drops(r.doubted(n, s)) {
		return Moving{}
	}
	k := make([]float64, 0, to-from)
	for i := from; i < min(to, r.blocks); i++ {
		at := (float64(i) + 0.5) * r.Block
		tare, _ := r.pullTare(at)
		if v := (t.track[i] - tare) / (n.track[i] * n.track[i]); v == v && !math.IsInf(v, 0) {
			k = append(k, v)
		}
	}
	first := int(movingFirst / r.Block)
	if len(k) < 3*first {
		return Moving{}
	}
	a, b := meanOf(k[:first]), meanOf(k[len(k)-len(k)/3:])
	if !(a.value > 0) {
		return Moving{}
	}
	// The first seconds are too few to say how their scatter hangs together; the rest says it.
	tau := b.n / b.effective
	ua, ub := a.sd*math.Sqrt(tau/a.n), b.scatter().U
	return Moving{true, b.value/a.value - 1, math.Hypot(movingLeast, math.Hypot(ua/a.value, ub/b.value))}
}

// gap is the longest stretch of blocks without a value of the load.
func (r *reducer) gap(from, to int) Span {
	longest, begin := Span{}, -1
	for k := from; k <= to; k++ {
		if k < to && k < r.blocks && r.load.track[k] != r.load.track[k] {
			if begin < 0 {
				begin = k
			}
			continue
		}
		if begin >= 0 {
			if s := (Span{float64(begin) * r.Block, float64(k) * r.Block}); s.Length() > longest.Length() {
				longest = s
			}
			begin = -1
		}
	}
	return longest
}

// figure makes a channel's figure of a plateau.
func (r *reducer) figure(x *channel, s Span, from, to int, direction string) (Figure, bool) {
	f := Figure{Channel: x.Channel, Instrument: r.sources[x.source].instrument(x.Channel), Place: r.sources[x.source].Place}
	if x.derived {
		f.Instrument = r.sources[x.source].instrument(BatteryCurrent)
	}
	if !isWitness(x.Channel) {
		if !r.steadyTemperature(&f, x, &from, to) {
			return f, false
		}
	}
	v, _ := finite(x.track, from, to)
	if len(v) < 2 {
		return f, false
	}
	m := meanOf(v)
	scatter := m.scatter()
	shown := m.value
	if swung, w, ok := r.swung(x, from, to); ok {
		shown, scatter = swung.value, swung.scatter()
		scatter.Note += fmt.Sprintf(", about a swing of ± %s each %.3g s", showDifference(x.Channel, w.amplitude), w.period)
	}
	f.Value = shown
	f.Text = fmt.Sprintf("%s, %.0f s to %.0f s", witness(x), s.From, s.To)
	f.Cleared = f.Instrument != infraredWord
	f.Budget = []Component{scatter}
	if c, ok := x.resolutionComponent(m, r.Block/x.interval); ok {
		f.Budget = append(f.Budget, c)
	}
	if x.derived {
		f.Budget = append(f.Budget, r.derivedResolution(from, to)...)
	}
	f.Limits, f.Assumed = r.limits(x, shown)
	if x.derived { // it errs with the voltmeter
		var byVoltage float64
		byVoltage, f.Limits, f.Assumed = r.partLimits(shown)
		v := r.of(BatteryVoltage)
		meter := Figure{Channel: BatteryVoltage, Instrument: r.sources[v.source].instrument(BatteryVoltage)}
		f.Budget = append(f.Budget, Component{
			Name: instrumentWord + " of the " + string(BatteryVoltage), Rectangle: true, U: byVoltage / math.Sqrt(3), Freedom: math.Inf(1), Shared: meter.SharedName(),
			Note: "limits, shared with the voltage",
		})
	}
	note := "typed"
	if f.Assumed {
		note = "assumed of a " + f.Instrument
	}
	if x.Channel == Thrust {
		tare, c := r.pullTare(0.5 * (s.From + s.To))
		f.Budget = append(f.Budget, c...)
		if c, ok := r.inertia(float64(to-from) * r.Block); ok {
			f.Budget = append(f.Budget, c)
		}
		if r.correctPull(&f, x, shown, tare, direction) && f.Assumed { // the loads say more than a class that was assumed
			f.Limits, f.Assumed, note = 0, false, "in the calibration"
		}
		f.Limits *= r.Setup.Lever.Or(1)
	} else if r.correctSensor(&f, x, shown, from, to) && !f.Assumed && f.Limits == 0 {
		note = "in the calibration"
	}
	if f.Uncalibrated {
		note += "; beyond its calibration, which is not applied"
	}
	f.Budget = append(f.Budget, Component{Name: instrumentWord, Rectangle: true, U: f.Limits / math.Sqrt(3), Freedom: math.Inf(1), Shared: f.SharedName(), Note: "limits, " + note})
	f.setRepeat()
	return f, true
}

// swung is the mean of a pull that swings; other channels hold what the drive takes and feel no swell.
func (r *reducer) swung(x *channel, from, to int) (mean, sway, bool) {
	if x.Channel != Thrust {
		return mean{}, sway{}, false
	}
	v, at := finite(x.track, from, to)
	return swingMean(v, at, r.Block, r.Motion.Period)
}

// derivedResolution is what the steps of voltage and current add to the mean of their product.
func (r *reducer) derivedResolution(from, to int) []Component {
	v, i := r.of(BatteryVoltage), r.of(BatteryCurrent)
	vs, _ := finite(v.track, from, to)
	is, _ := finite(i.track, from, to)
	mv, mi := meanOf(vs), meanOf(is)
	var out []Component
	for _, k := range []struct {
		x     *channel
		m     mean
		times float64
	}{{v, mv, mi.value}, {i, mi, mv.value}} {
		if c, ok := k.x.resolutionComponent(k.m, r.Block/k.x.interval); ok {
			c.Name = "resolution of the " + string(k.x.Channel)
			c.U *= math.Abs(k.times)
			out = append(out, c)
		}
	}
	return out
}

// setRepeat sums what belongs to the figure alone.
func (f *Figure) setRepeat() {
	var own []Component
	for _, c := range f.Budget {
		if c.Shared == "" {
			own = append(own, c)
		}
	}
	f.Repeat, _ = Combined(own)
}

// steadyTemperature narrows a temperature to the last third of the plateau and says whether
// it was still moving there.
func (r *reducer) steadyTemperature(f *Figure, x *channel, from *int, to int) bool {
	third := (to - *from) / 3
	*from = to - third
	v, at := finite(x.track, *from, to)
	if len(v) < 2 {
		// Too rarely written for a third: the last value stands.
		v, at = finite(x.track, to-3*third, to)
		if len(v) < 2 {
			return false
		}
		*from = at[len(at)-2]
		f.Unsettled = true
		return true
	}
	change, _ := trend(v, at)
	f.Unsettled = math.Abs(change) > math.Max(steadyChange, x.resolution/2)
	return true
}
