package reckon

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"jetwright/bench"
	"jetwright/drive"
	"jetwright/numeric"
	"jetwright/quantity"
)

// Rules of fitting temperatures. Our own.
const (
	warmthRows    = 160    // means that a leg is fitted to, at most
	warmthLeast   = 16     // means that a leg needs
	warmthRise    = 1.0    // K that it must move, and
	warmthSteps   = 4.0    // steps of its instrument
	warmthIdle    = 0.02   // of the day's highest heat over that at rest, below which nothing drives
	warmthFactor  = 10.0   // by which two time constants must be likelier than one (Akaike), and
	warmthShape   = 0.02   // share of the swing that one must leave: below it stands what the heat's own law may err
	warmthMix     = 0.30   // relative standard uncertainty of the loss without load as heat: part of it is bearings'
	warmthCurrent = 0.0115 // relative standard uncertainty of a phase current where no figure says it: limits of 2 %
	warmthLoaded  = 0.1    // of the load's heat above which a record is said to begin under load
	warmthZ       = 1.6448536269514722
)

// Leg is a stretch of one temperature, fitted.
type Leg struct {
	Span     bench.Span
	Response *drive.Response
	Rise     float64           // K/W, all terms; 0 on a cooling leg
	RiseLow  float64           // its 90 % interval, the heat's own doubt included
	RiseHigh quantity.Optional // not set where the record is too short for its slowest constant
	Low      float64           // s, of the slowest time constant
	High     quantity.Optional // s; not set where the record is too short for it
	Told     string            // what the record does not tell; empty if it tells all
}

// Slowest returns the slowest time constant in s.
func (l *Leg) Slowest() float64 { return l.Response.Terms[len(l.Response.Terms)-1].TimeConstant }

// Warmth is how one temperature of a day follows the heat, read from its log.
type Warmth struct {
	Channel bench.Channel
	Source  string
	HeatBy  string // what the heat was worked out from
	Heating *Leg   // nil where it could not be fitted
	Cooling *Leg   // after the load, nothing but the start driving it; nil where it could not be fitted
	Why     string // why there is no heating leg

	bridge       bool
	water        float64 // mean water temperature while it was heated, K, where that was logged
	waterLogged  bool
	copper, idle float64 // heat at the end of the heating leg, W
	relative     float64 // standard uncertainty of the heat that all of the day shares, relative
	machine      *drive.Machine
}

// heatTrack is the heat of a day in blocks.
type heatTrack struct {
	step         float64
	total, still []float64 // W; still is the part without load current
	free         []float64 // W; the part whose share in the rest the design knows least: of a motor that without current, of a bridge that not with its square
	by           string
}

// Warmths fits every temperature of a day that the heat of motor or bridge drives, up to a moment of the run in
// s, or all of it with 0. The heat comes from phase current and rotor speed as logged, with the resistance and
// no-load loss of the machine; the winding's own temperature, where it is logged and stands, makes its
// copper hotter.
//
//	T(t) = c + Σ R_k·∫ P(s)·e^(−(t−s)/τ_k)/τ_k ds,  P = I²·R·[1 + α·(T_w − T_ref)] + P_0(ω)
//
//	R_k, τ_k  rise by watt, K/W, and time constant, s, of one or two terms
//	P         copper and no-load loss, W; of the bridge that of the controller
//
// A second term is taken where one leaves more than 2 % of the swing and two make the record ten times likelier by Akaike's measure. The interval of the rise
// joins that of the fit with the doubt about the heat: current and resistance twice and once, the
// no-load loss with 30 %. The heating leg goes from the day's beginning to the end of its load, or to the first doubt about the channel; the cooling
// leg follows, and has constants of its own where the coolant stops with the jet. What the record begins with is taken as settled under the heat that was
// there. The time constant of one term is that of two heats, with a rise each: of a motor that of the current and the rest, of a bridge that of the current's square and
// the rest, since a law that is wrong by a few per cent between two loads moves a time constant by as much.
//
// Holds while the coolant's flow stays of one kind; a record too short for its slowest constant gives that constant and the rise no upper end.
//
// Source: own, nist-strd. Tests: TestWarmthSynthetic, TestWarmthPredictsSynthetic, TestWarmthShortSynthetic.
func Warmths(day *bench.Reduction, m *drive.Machine, until float64) []Warmth {
	var out []Warmth
	for i := range day.Tracks {
		t := &day.Tracks[i]
		switch t.Channel {
		case bench.WindingTemperature, bench.BridgeTemperature, bench.CaseTemperature:
		default:
			continue
		}
		w := Warmth{Channel: t.Channel, Source: t.Source, bridge: t.Channel == bench.BridgeTemperature, machine: m}
		h, ok := dayHeat(day, m, w.bridge)
		if !ok {
			w.Why = "no log holds a phase current with its rotor speed, so the heat is not known"
			out = append(out, w)
			continue
		}
		w.HeatBy, w.relative = h.by, heatDoubt(day, m, w.bridge)
		w.fit(day, t, &h, until)
		out = append(out, w)
	}
	return out
}

// track returns the first track of a channel.
func track(day *bench.Reduction, c bench.Channel) *bench.Track {
	for i := range day.Tracks {
		if day.Tracks[i].Channel == c {
			return &day.Tracks[i]
		}
	}
	return nil
}

// rmsOf turns a phase current as logged into rms.
func rmsOf(day *bench.Reduction) float64 {
	for _, p := range day.Plateaus {
		f, ok := p.Figure(bench.PhaseCurrent)
		if g, _ := p.PhaseCurrentRMS(); ok && f.Value > 0 {
			return g.Value / f.Value
		}
	}
	return 1
}

// sound returns the values of a track without those in doubt.
func sound(day *bench.Reduction, t *bench.Track) []float64 {
	out := append([]float64(nil), t.Values...)
	for _, d := range day.Doubts {
		if d.Channel != t.Channel || d.Source != "" && d.Source != t.Source || d.Trusted {
			continue
		}
		for i := range out {
			if at := t.Begin + (float64(i)+0.5)*t.Step; at >= d.Span.From-t.Step && at <= d.Span.To+t.Step {
				out[i] = math.NaN()
			}
		}
	}
	return out
}

// dcOfRMS turns a phase current, rms, into that of the equivalent direct-current motor.
var dcOfRMS = math.Sqrt(1.5)

// dayHeat works the heat out, block by block.
func dayHeat(day *bench.Reduction, m *drive.Machine, bridge bool) (heatTrack, bool) {
	i, n := track(day, bench.PhaseCurrent), track(day, bench.RotorSpeed)
	if i == nil || n == nil {
		return heatTrack{}, false
	}
	rms := rmsOf(day)
	current, speed := filled(sound(day, i)), filled(sound(day, n))
	var winding []float64
	if t := track(day, bench.WindingTemperature); t != nil {
		winding = filled(sound(day, t))
	}
	h := heatTrack{step: i.Step, by: "phase current and rotor speed as logged, with the design's resistance and no-load loss"}
	if bridge {
		h.by = "phase current as logged, with the design's losses of the controller"
	}
	for k := range min(len(current), len(speed)) {
		dc := current[k] * rms * dcOfRMS
		if bridge {
			still, all := m.Chain.ControllerHeat(0), m.Chain.ControllerHeat(dc)
			square := 0.5 * (m.Chain.ControllerHeat(2*dc) - 2*all + still) // of a + b·I + c·I²
			h.total, h.still, h.free = append(h.total, all), append(h.still, still), append(h.free, all-square)
			continue
		}
		loss, alpha, reference := m.Chain.Copper(dc)
		hot := 0.0
		if k < len(winding) && winding[k] > 0 {
			hot = alpha * (winding[k] - reference)
		}
		idle := m.Chain.NoLoadLoss(math.Max(0, speed[k]) * m.Drive.Shaft.Reduction)
		h.total, h.still, h.free = append(h.total, loss*(1+hot)+idle), append(h.still, idle), append(h.free, idle)
	}
	return h, len(h.total) > warmthLeast
}

// filled carries the last value over what is missing; before the first it is that first one, and all 0 where there is none.
func filled(x []float64) []float64 {
	last := 0.0
	for _, v := range x {
		if v == v {
			last = v
			break
		}
	}
	for i, v := range x {
		if v == v {
			last = v
		}
		x[i] = last
	}
	return x
}

// heatDoubt is the relative standard uncertainty of the heat that all of a day shares.
func heatDoubt(day *bench.Reduction, m *drive.Machine, bridge bool) float64 {
	current := warmthCurrent
	for _, p := range day.Plateaus {
		if f, ok := p.Figure(bench.PhaseCurrent); ok && f.Value > 0 {
			current = f.Limits / math.Sqrt(3) / f.Value
		}
	}
	if bridge {
		return math.Hypot(current, 0.25) // the design's losses of a bridge are mostly assumed
	}
	return math.Hypot(2*current, 0.02)
}

// WithResistance adds the relative standard uncertainty of the winding's resistance, as the design types it.
func (w *Warmth) WithResistance(relative float64) {
	if !w.bridge {
		w.relative = math.Hypot(w.relative, relative)
		if w.Heating != nil {
			w.finish(w.Heating)
		}
	}
}

func (w *Warmth) fit(day *bench.Reduction, t *bench.Track, h *heatTrack, until float64) {
	y := sound(day, t)
	n := min(len(y), len(h.total))
	if until > 0 {
		n = min(n, int(until/t.Step))
	}
	begin := 0
	for begin < n && y[begin] != y[begin] {
		begin++
	}
	stop := begin // end of the sound stretch, and of the load within it
	gap := 0
	for k := begin; k < n; k++ {
		if y[k] == y[k] {
			stop, gap = k+1, 0
		} else if gap++; float64(gap)*t.Step > 5 {
			break
		}
	}
	top := 0.0
	for _, p := range h.total[begin:stop] {
		top = math.Max(top, p)
	}
	rest := h.total[begin]
	loaded := begin
	for k := begin; k < stop; k++ {
		if h.total[k] > rest+warmthIdle*(top-rest) {
			loaded = k + 1
		}
	}
	// where the water is logged its drift is taken off
	var water []float64
	if x := track(day, bench.WaterTemperature); x != nil {
		water = filled(sound(day, x))
		sum := 0.0
		for k := begin; k < loaded && k < len(water); k++ {
			sum += water[k]
		}
		if loaded > begin && len(water) >= stop {
			w.water, w.waterLogged = sum/float64(loaded-begin), w.water > 0 || sum > 0
		}
	}
	less := func(k int) float64 {
		if w.waterLogged {
			return water[k] - w.water
		}
		return 0
	}
	var free []float64 // of the heat of the last leg, the part whose share is freed
	leg := func(from, to int, driven bool) (drive.Trace, bool) {
		free = nil
		every := max(1, (to-from)/warmthRows)
		tr := drive.Trace{Step: t.Digit}
		low, high := math.Inf(1), math.Inf(-1)
		for k := from; k+every <= to; k += every {
			sum, heat, idle, count := 0.0, 0.0, 0.0, 0.0
			for j := k; j < k+every; j++ {
				heat += h.total[j]
				idle += h.free[j]
				if y[j] == y[j] {
					sum, count = sum+y[j]-less(j), count+1
				}
			}
			if count == 0 {
				continue
			}
			tr.Times = append(tr.Times, t.Begin+(float64(k)+0.5*float64(every))*t.Step)
			tr.Temperatures = append(tr.Temperatures, sum/count)
			if driven {
				tr.Heat = append(tr.Heat, heat/float64(every))
				free = append(free, idle/float64(every))
			}
			low, high = math.Min(low, sum/count), math.Max(high, sum/count)
		}
		return tr, len(tr.Times) >= warmthLeast && high-low >= math.Max(warmthRise, warmthSteps*tr.Step)
	}
	if tr, ok := leg(begin, loaded, true); !ok {
		w.Why = fmt.Sprintf("it moves by less than %.0f K, or for too short a time, while the drive is loaded and nothing is in doubt", warmthRise)
	} else if r, err := driven(tr, free, w.resting()); err != nil {
		w.Why = "no rise fits it: " + err.Error()
	} else {
		w.Heating = &Leg{Span: bench.Span{From: tr.Times[0], To: tr.Times[len(tr.Times)-1]}, Response: r}
		tail := max(begin, loaded-max(1, (loaded-begin)/5))
		for k := tail; k < loaded; k++ {
			w.idle += h.still[k] / float64(loaded-tail)
			w.copper += (h.total[k] - h.still[k]) / float64(loaded-tail)
		}
		w.finish(w.Heating)
	}
	if tr, ok := leg(min(loaded+int(2/t.Step), stop), stop, false); ok {
		if r, err := respond(tr, false); err == nil {
			w.Cooling = &Leg{Span: bench.Span{From: tr.Times[0], To: tr.Times[len(tr.Times)-1]}, Response: r}
			w.finish(w.Cooling)
		}
	}
}

// resting is the heat without load and speed, W: what a controller's own electronics make.
func (w *Warmth) resting() float64 {
	if w.bridge {
		return w.machine.Chain.ControllerHeat(0)
	}
	return 0
}

// driven fits what heat drives. What the record begins with is taken as settled under the heat of its beginning: a controller that was switched on
// for minutes is warm from its own electronics. free is the part of the heat whose share in the rest is freed for the time constant.
// A record that begins under load began cold.
func driven(tr drive.Trace, free []float64, idle float64) (*drive.Response, error) {
	rest, still := tr.Heat[0], free[0]
	if rest > idle+warmthLoaded*(slices.Max(tr.Heat)-idle) {
		rest, still = idle, math.Min(idle, still)
	}
	heat, part := make([]float64, len(tr.Heat)), make([]float64, len(free))
	for i := range heat {
		heat[i], part[i] = tr.Heat[i]-rest, free[i]-still
	}
	tr.Heat = heat
	r, err := respond(tr, true)
	if err != nil {
		return nil, err
	}
	freed(tr, part, r)
	// the base is that without any heat: c − P₀·ΣR
	n := len(r.Terms)
	move := mat.NewDense(len(r.Parameters), len(r.Parameters), nil)
	for i := range r.Parameters {
		move.Set(i, i, 1)
	}
	for k := 1; k <= n; k++ {
		move.Set(0, k, -rest)
		r.Parameters[0] -= rest * r.Parameters[k]
		r.Base -= rest * r.Terms[k-1].Amplitude
	}
	var half, whole mat.Dense
	half.Mul(move, r.Covariance)
	whole.Mul(&half, move.T())
	for i := range r.Parameters {
		for j := range i + 1 {
			r.Covariance.SetSym(i, j, 0.5*(whole.At(i, j)+whole.At(j, i)))
		}
	}
	r.BaseError = math.Sqrt(math.Max(0, r.Covariance.At(0, 0)))
	return r, nil
}

// respond fits one term, and two where the record asks for them.
func respond(tr drive.Trace, driven bool) (*drive.Response, error) {
	one, err := drive.FitResponse(tr, drive.Shape{Terms: 1})
	if err != nil {
		return nil, err
	}
	if swing := slices.Max(tr.Temperatures) - slices.Min(tr.Temperatures); !driven || one.Scatter < warmthShape*swing {
		return one, nil
	}
	two, err := drive.FitResponse(tr, drive.Shape{Terms: 2})
	if err != nil {
		return one, nil
	}
	n := float64(len(tr.Times))
	// neighbours that err alike count for less
	if rho := numeric.Autocorrelation(residuals(tr, two), 1); rho > 0 {
		n *= (1 - math.Min(rho, 0.95)) / (1 + math.Min(rho, 0.95))
	}
	for _, t := range two.Terms {
		if !(t.Amplitude > 0) {
			return one, nil
		}
	}
	if n*math.Log(one.Scatter/two.Scatter) > 2+math.Log(warmthFactor) {
		return two, nil
	}
	return one, nil
}

// residuals are what a driven fit leaves.
func residuals(tr drive.Trace, r *drive.Response) []float64 {
	out := make([]float64, len(tr.Times))
	phi := make([]float64, len(r.Terms))
	for i := range tr.Times {
		y := r.Base
		for k, t := range r.Terms {
			if i > 0 {
				dt := tr.Times[i] - tr.Times[i-1]
				keep := math.Exp(-dt / t.TimeConstant)
				slope := (tr.Heat[i] - tr.Heat[i-1]) / dt
				phi[k] = phi[k]*keep + tr.Heat[i-1]*(1-keep) + slope*(dt-t.TimeConstant*(1-keep))
			}
			y += t.Amplitude * phi[k]
		}
		out[i] = tr.Temperatures[i] - y
	}
	return out
}

// finish fills in the rise, the intervals and what the record does not tell.
func (w *Warmth) finish(l *Leg) {
	r := l.Response
	last := r.Terms[len(r.Terms)-1]
	l.Low, l.High = last.Low.Or(0), last.High
	open := !last.High.Set
	if l == w.Heating {
		l.Rise = 0
		for _, t := range r.Terms {
			l.Rise += t.Amplitude
		}
		u := math.Hypot(w.riseError(), w.relative*l.Rise)
		if total := w.copper + w.idle; total > 0 && !w.bridge {
			u = math.Hypot(u, warmthMix*w.idle/total*l.Rise)
		}
		l.RiseLow, l.RiseHigh = math.Max(0, l.Rise-warmthZ*u), quantity.Some(l.Rise+warmthZ*u)
		if open {
			// the least rise that fits: what was reached
			l.RiseLow, l.RiseHigh = w.reached(l), quantity.Optional{}
		}
	}
	l.Told = ""
	if open {
		l.Told = fmt.Sprintf("the record of %.0f s is too short for its slowest time constant: at least %.0f s, with no upper end", r.Span, l.Low)
	} else if l.High.Value > 3*math.Max(l.Low, 1e-9) {
		l.Told = fmt.Sprintf("the record of %.0f s tells its slowest time constant poorly", r.Span)
	}
}

// reached is the rise by watt that the record itself shows at its end, less its doubt.
func (w *Warmth) reached(l *Leg) float64 {
	r := l.Response
	at := 0.0
	for _, t := range r.Terms {
		at += t.Amplitude * -math.Expm1(-r.Span/t.TimeConstant)
	}
	return math.Max(0, at*(1-warmthZ*w.relative))
}

// riseError is the standard error of the rise by watt, as the fit has it.
func (w *Warmth) riseError() float64 {
	r := w.Heating.Response
	v := 0.0
	for i := range r.Terms {
		for j := range r.Terms {
			v += r.Covariance.At(1+i, 1+j)
		}
	}
	return math.Sqrt(math.Max(0, v))
}

// Temperature is a temperature with its 90 % interval, K.
type Temperature struct {
	Value, Low float64
	High       quantity.Optional // not set where the record was too short to say
}

// Steady returns where the temperature settles at a phase current in A rms and a rotor speed in rad/s, with the
// relative standard uncertainty of that current against the day's own, in water warmer by a difference in K
// than the day's; ok is false where no heating leg was fitted, or where its copper would heat itself without end.
//
//	T = (c + ΔT + R·[P_cu·(1 − α·T_ref) + P_0])/(1 − R·P_cu·α)
//
//	R     rise by watt, K/W;  P_cu  copper loss at T_ref, W;  P_0  no-load loss, W
//
// The interval holds the fit's own doubt, the scatter, the current's, and that the no-load loss, whose
// heat is partly the bearings', may have another share there than in the day. What the current's gain and the
// resistance make wrong in the same way at both is in the rise already and does not count again.
//
// Holds for the day's coolant flow; a channel other than the winding takes the day's copper as hot as the design says at
// its own temperature.
//
// Source: own. Tests: TestWarmthPredictsSynthetic.
func (w *Warmth) Steady(phase, speed, doubt, warmer float64) (t Temperature, ok bool) {
	if w.Heating == nil {
		return t, false
	}
	r := w.Heating.Response
	rise := w.Heating.Rise
	dc := phase * dcOfRMS
	var copper, alpha, reference, idle float64
	if w.bridge {
		idle = w.machine.Chain.ControllerHeat(0)
		copper = w.machine.Chain.ControllerHeat(dc) - idle
	} else {
		copper, alpha, reference = w.machine.Chain.Copper(dc)
		idle = w.machine.Chain.NoLoadLoss(speed * w.machine.Drive.Shaft.Reduction)
	}
	gain := rise * copper * alpha
	if gain >= 1 {
		return t, false
	}
	base := r.Base + warmer
	t.Value = (base + rise*(copper*(1-alpha*reference)+idle)) / (1 - gain)
	hot := copper * (1 + alpha*(t.Value-reference))
	heat := hot + idle
	// gradient by base and amplitudes is 1 and the heat
	v := r.Covariance.At(0, 0)
	for i := range r.Terms {
		v += 2 * heat * r.Covariance.At(0, 1+i)
		for j := range r.Terms {
			v += heat * heat * r.Covariance.At(1+i, 1+j)
		}
	}
	then := w.copper + w.idle
	mix := 0.0
	if then > 0 {
		mix = warmthMix * rise * (idle - w.idle*heat/then)
		if w.bridge {
			mix = warmthMix * rise * (idle - w.idle*heat/then) / 2
		}
	}
	two := 2.0
	u := math.Sqrt(math.Max(0, v) + mix*mix + square(two*doubt*rise*hot) + r.Variance)
	u /= 1 - gain
	t.Low, t.High = t.Value-warmthZ*u, quantity.Some(t.Value+warmthZ*u)
	if !w.Heating.High.Set {
		t.High = quantity.Optional{}
		t.Low = math.Min(t.Low, base+w.Heating.RiseLow*heat)
	}
	return t, true
}

func square(x float64) float64 { return x * x }
