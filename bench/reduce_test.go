package bench

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"jetwright/quantity"
)

// day is a made-up bench day: two logs with known truth. Powers are levels in W, negative ones
// reached going down.
type day struct {
	seed                  uint64
	powers                []float64
	hold                  float64
	zero                  float64 // s at rest before and after
	offset, drift         float64 // of the scale's clock
	tare, tareDrift       float64 // N, N/s
	friction              float64 // N
	scaleRate, rate       float64 // Hz
	columns               int     // further columns of the controller, to fill it
	noiseThrust, noiseAll float64 // share of the level
	after                 func(run float64, channel Channel, value float64) float64
}

func usual() day {
	return day{
		seed: 5, powers: []float64{600, 1100, 1700, 2400, 3100, -1700, -600}, hold: 60, zero: 25,
		offset: 14.2, drift: 80e-6, tare: 2.4, tareDrift: 2e-3, friction: 3, scaleRate: 5, rate: 20, noiseThrust: 0.01, noiseAll: 0.004,
	}
}

func (d day) length() float64 { return 2*d.zero + float64(len(d.powers))*d.hold }

// truth returns power, thrust and friction's sign at a moment of the run.
func (d day) truth(t float64) (power, thrust, sign float64) {
	const ramp = 4.0
	last := 0.0
	at := d.zero
	power, sign = 0, 0
	for _, p := range append(append([]float64{}, d.powers...), 0) {
		if t >= at {
			s := math.Min(1, (t-at)/ramp)
			power = last + (math.Abs(p)-last)*s
			if sign = 1; math.Abs(p) < last {
				sign = -1
			}
		}
		last = math.Abs(p)
		at += d.hold
	}
	return power, 1.4 * math.Pow(power, 2.0/3.0), sign
}

// red is noise that hangs together over tau s.
type red struct {
	random *rand.Rand
	keep   float64
	x      float64
}

func newRed(random *rand.Rand, rate, tau float64) *red {
	return &red{random: random, keep: math.Exp(-1 / (rate * tau))}
}

func (r *red) next() float64 {
	r.x = r.keep*r.x + math.Sqrt(1-r.keep*r.keep)*r.random.NormFloat64()
	return r.x
}

func step(x, d float64) float64 { return d * math.Round(x/d) }

func (d day) sources() []Source {
	random := rand.New(rand.NewPCG(d.seed, 77))
	column := func(name string, c Channel) Column {
		return Column{Name: name, Unit: quantity.MustUnit(units[strings.ReplaceAll(string(c), " ", "_")]), Channel: c}
	}
	shown := func(t float64, c Channel, v float64) float64 {
		if d.after != nil {
			return d.after(t, c, v)
		}
		return v
	}
	controller := &Log{Name: "controller.csv", Layout: Layout{Columns: []Column{column("V", BatteryVoltage), column("I", BatteryCurrent), column("n", RotorSpeed), column("T", WindingTemperature)}}}
	for range d.columns {
		controller.Layout.Columns = append(controller.Layout.Columns, column("x", PhaseCurrent))
	}
	controller.Values = make([][]float64, len(controller.Layout.Columns))
	controller.Missing = make([]int, len(controller.Values))
	n := int(d.length() * d.rate)
	wobble, surge := newRed(random, d.rate, 0.4), newRed(random, d.scaleRate, 0.4)
	warm := 15.0
	for i := range n {
		t := float64(i) / d.rate
		p, _, _ := d.truth(t)
		p *= 1 + d.noiseAll*wobble.next()
		v := 50 - p/1500
		warm += (15 + p/150 - warm) / (40 * d.rate)
		controller.Time = append(controller.Time, t)
		for k, c := range controller.Layout.Columns {
			x := 0.0
			switch c.Channel {
			case BatteryVoltage:
				x = step(v, 0.1)
			case BatteryCurrent:
				x = step(p/v, 0.1)
			case RotorSpeed:
				x = 25 * math.Cbrt(p) * (1 + 0.001*random.NormFloat64())
			case WindingTemperature:
				x = 273.15 + step(warm+0.03*random.NormFloat64(), 0.1)
			default:
				x = 2 * math.Pow(p, 2.0/3.0) * (1 + 0.002*random.NormFloat64())
			}
			controller.Values[k] = append(controller.Values[k], shown(t, c.Channel, x))
		}
	}
	scale := &Log{Name: "scale.csv", Layout: Layout{Columns: []Column{column("pull", Thrust)}}, Values: make([][]float64, 1), Missing: []int{0}}
	for i := range int((d.length() + 10) * d.scaleRate) {
		run := float64(i)/d.scaleRate - 5
		_, f, sign := d.truth(run)
		f *= 1 + d.noiseThrust*surge.next()
		x := f - sign*d.friction*math.Min(1, f/10) + d.tare + d.tareDrift*run
		log := d.offset + (1+d.drift)*run
		scale.Time = append(scale.Time, log)
		scale.Values[0] = append(scale.Values[0], shown(run, Thrust, step(x+0.1*random.NormFloat64(), 0.05*9.80665)))
	}
	first := scale.Time[0]
	for i := range scale.Time {
		scale.Time[i] -= first
	}
	return []Source{{Log: scale}, {Log: controller}}
}

// inside counts how many figures of a channel lie within their interval.
func (d day) check(t *testing.T, r *Reduction, z float64) (inside, all int) {
	t.Helper()
	if len(r.Plateaus) != len(d.powers) {
		for _, p := range r.Plateaus {
			t.Logf("%s %.1f .. %.1f %s", p.Name, p.Span.From, p.Span.To, p.Unsettled)
		}
		t.Fatalf("seed %d: %d plateaus for %d levels", d.seed, len(r.Plateaus), len(d.powers))
	}
	for i, p := range r.Plateaus {
		at := d.zero + float64(i)*d.hold
		if p.Span.From < at+3 || p.Span.From > at+4+d.hold/3 || math.Abs(p.Span.To-at-d.hold) > 1.5 {
			t.Errorf("seed %d: plateau %d from %.2f to %.2f s, held from %.0f to %.0f s", d.seed, i+1, p.Span.From, p.Span.To, at+4, at+d.hold)
		}
		want := math.Abs(d.powers[i])
		if f, ok := p.Figure(Power); ok {
			all++
			if math.Abs(f.Value-want) < z*f.Repeat {
				inside++
			} else {
				t.Logf("seed %d plateau %d: power %.2f ± %.2f, true %.2f", d.seed, i+1, f.Value, f.Repeat, want)
			}
		}
		f, ok := p.Figure(Thrust)
		if !ok {
			t.Fatalf("seed %d: plateau %d has no thrust", d.seed, i+1)
		}
		all++
		if pull := 1.4 * math.Pow(want, 2.0/3.0); math.Abs(f.Value-pull) < z*f.ownUncertainty() {
			inside++
		} else {
			t.Logf("seed %d plateau %d: thrust %.2f ± %.2f, true %.2f", d.seed, i+1, f.Value, f.ownUncertainty(), 1.4*math.Pow(want, 2.0/3.0))
		}
	}
	return inside, all
}

// The truth of made-up days lies within the intervals that their reduction gives, as often as
// the intervals say: tare and its drift, friction, clocks, scatter that hangs together.
func TestReduceSynthetic(t *testing.T) {
	inside, all, clocks, days := 0, 0, 0, 40
	zOffset, zDrift := 0.0, 0.0
	for seed := range uint64(days) {
		random := rand.New(rand.NewPCG(seed, 1))
		d := usual()
		d.seed = seed
		d.offset = 120 * (random.Float64() - 0.5)
		d.drift = 2e-4 * (random.Float64() - 0.5)
		d.tare, d.tareDrift, d.friction = 8*random.Float64()-4, 8e-3*(random.Float64()-0.5), 5*random.Float64()
		d.hold = 30 + 60*random.Float64()
		r, err := Reduce(d.sources(), ReduceOptions{Run: "day"})
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if len(r.Doubts) > 0 {
			t.Errorf("seed %d: sound channels are doubted: %+v", seed, r.Doubts)
		}
		if len(r.Zeros) != 2 {
			t.Errorf("seed %d: zero windows %+v", seed, r.Zeros)
		}
		if f := r.Friction; !f.Known || math.Abs(f.Force-d.friction) > 3.5*f.U {
			t.Errorf("seed %d: friction %+v, true %.2f", seed, f, d.friction)
		}
		if e := r.Tare.Start - d.tare; math.Abs(e) > 3.5*r.Tare.UStart {
			t.Errorf("seed %d: tare %+v, true %.2f %+.4f", seed, r.Tare, d.tare, d.tareDrift)
		}
		// Of both logs the first row counts; the scale's was written 5 s before the controller's.
		c := r.Clocks[0]
		middle := d.length() / 2
		if e := c.Log(middle) - (1+d.drift)*(middle+5); math.Abs(e) < 2*c.UOffset+0.05 {
			clocks++
		} else {
			t.Logf("seed %d: clock errs by %.3f s, u %.3f", seed, e, c.UOffset)
		}
		zOffset += math.Pow((c.Log(middle)-(1+d.drift)*(middle+5))/c.UOffset, 2) / float64(days)
		zDrift += math.Pow((c.Drift-d.drift)/c.UDrift, 2) / float64(days)
		i, n := d.check(t, r, 1.96)
		inside, all = inside+i, all+n
	}
	t.Logf("%d of %d within 95 %% intervals, %d of %d clocks", inside, all, clocks, days)
	if share := float64(inside) / float64(all); share < 0.90 || share > 0.99 {
		t.Errorf("%.1f %% of the figures lie within their 95 %% intervals", 100*share)
	}
	t.Logf("offset errs by %.2f and drift by %.2f of their standard uncertainties", math.Sqrt(zOffset), math.Sqrt(zDrift))
	if zOffset > 1.6*1.6 || zDrift > 1.5*1.5 {
		t.Error("the clocks' standard uncertainties are too small")
	}
	if clocks < days*9/10 {
		t.Errorf("%d of %d clocks within their interval", clocks, days)
	}
}

// A channel that lies is named with its time and is not used there; a sound one is left alone.
func TestDoubtsSynthetic(t *testing.T) {
	for _, c := range []struct {
		name    string
		channel Channel
		kind    string
		span    Span
		drops   bool
		after   func(d day) func(run float64, channel Channel, value float64) float64
	}{
		{"frozen temperature", WindingTemperature, Frozen, Span{235, 470}, true, func(d day) func(float64, Channel, float64) float64 {
			held := math.NaN()
			return func(run float64, c Channel, v float64) float64 {
				if c != WindingTemperature || run < 235 {
					return v
				}
				if math.IsNaN(held) {
					held = v
				}
				return held
			}
		}},
		{"current frozen for 14 s over a step", BatteryCurrent, Frozen, Span{200, 214}, true, func(d day) func(float64, Channel, float64) float64 {
			held := math.NaN()
			return func(run float64, c Channel, v float64) float64 {
				if c != BatteryCurrent || run < 200 || run >= 214 {
					return v
				}
				if math.IsNaN(held) {
					held = v
				}
				return held
			}
		}},
		{"scale at the end of its range", Thrust, Clipped, Span{268.6, 325.5}, true, func(d day) func(float64, Channel, float64) float64 {
			return func(run float64, c Channel, v float64) float64 {
				if c == Thrust {
					return math.Min(v, 28.5*9.80665)
				}
				return v
			}
		}},
		{"a few spikes", RotorSpeed, Spiking, Span{30, 440}, false, func(d day) func(float64, Channel, float64) float64 {
			return func(run float64, c Channel, v float64) float64 {
				if c == RotorSpeed && math.Mod(run, 40) > 39.94 {
					return v + 400
				}
				return v
			}
		}},
	} {
		d := usual()
		d.after = c.after(d)
		r, err := Reduce(d.sources(), ReduceOptions{Run: "day"})
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if len(r.Doubts) != 1 {
			t.Fatalf("%s: doubts %+v", c.name, r.Doubts)
		}
		x := r.Doubts[0]
		if x.Channel != c.channel || x.Kind != c.kind || x.Drops != c.drops || x.Evidence == "" {
			t.Errorf("%s: %+v", c.name, x)
		}
		if tol := 12.0; math.Abs(x.Span.From-c.span.From) > tol || math.Abs(x.Span.To-c.span.To) > tol {
			t.Errorf("%s: from %.1f to %.1f s, true %.1f to %.1f s", c.name, x.Span.From, x.Span.To, c.span.From, c.span.To)
		}
		for _, p := range r.Plateaus {
			f, have := p.Figure(c.channel)
			if overlaps := p.Span.Overlaps(x.Span); have == (overlaps && c.drops) {
				t.Errorf("%s: %s has its %s: %v", c.name, p.Name, c.channel, have)
			}
			if have && c.kind == Spiking && math.Abs(f.Value/25-math.Cbrt(math.Abs(d.powers[0]))) > 20 {
				t.Errorf("%s: %s shows %.4g", c.name, p.Name, f.Value)
			}
		}
	}
}

// Two witnesses of one thing that differ by more than their limits explain are named.
func TestDisagreeingSynthetic(t *testing.T) {
	for _, c := range []struct {
		off  float64
		want bool
	}{{1, false}, {9, true}} {
		d := usual()
		s := d.sources()
		l := s[1].Log
		second := make([]float64, l.Rows())
		for i, v := range l.Values[3] {
			second[i] = v + c.off
		}
		l.Layout.Columns = append(l.Layout.Columns, l.Layout.Columns[3])
		l.Values, l.Missing = append(l.Values, second), append(l.Missing, 0)
		r, err := Reduce(s, ReduceOptions{Run: "day"})
		if err != nil {
			t.Fatal(err)
		}
		found := false
		for _, x := range r.Doubts {
			found = found || x.Kind == Disagreeing && x.Channel == WindingTemperature && strings.Contains(x.Evidence, "differ by")
		}
		if found != c.want {
			t.Errorf("off by %g K: named %v: %+v", c.off, found, r.Doubts)
		}
	}
}

// What goes wrong on real days is met or named: each case states what the reduction must then say.
func TestOddDaysSynthetic(t *testing.T) {
	thrustOf := func(r *Reduction, k int) float64 { f, _ := r.Plateaus[k].Figure(Thrust); return f.Value }
	const third = 199.42 // N at 1700 W
	for _, c := range []struct {
		name  string
		make_ func() ([]Source, ReduceOptions)
		check func(t *testing.T, r *Reduction)
	}{
		{"the pull hangs the other way round", func() ([]Source, ReduceOptions) {
			d := usual()
			d.after = func(_ float64, c Channel, v float64) float64 {
				if c == Thrust {
					return -v
				}
				return v
			}
			return d.sources(), ReduceOptions{}
		}, func(t *testing.T, r *Reduction) {
			if math.Abs(thrustOf(r, 2)-third) > 2 || !says(r, "sign is turned") {
				t.Errorf("pull %.1f N, %v", thrustOf(r, 2), r.Notices)
			}
		}},
		{"the scale stops halfway", func() ([]Source, ReduceOptions) {
			s := usual().sources()
			cutRows(s[0].Log, 0, s[0].Log.Rows()/2)
			return s, ReduceOptions{}
		}, func(t *testing.T, r *Reduction) {
			if _, ok := r.Plateaus[6].Figure(Thrust); ok || math.Abs(thrustOf(r, 2)-third) > 5 {
				t.Errorf("pull %.1f N", thrustOf(r, 2))
			}
		}},
		{"the scale freezes halfway for good", func() ([]Source, ReduceOptions) {
			s := usual().sources()
			v := s[0].Log.Values[0]
			for i := len(v) / 2; i < len(v); i++ {
				v[i] = v[len(v)/2]
			}
			return s, ReduceOptions{}
		}, func(t *testing.T, r *Reduction) {
			if len(r.Doubts) != 1 || r.Doubts[0].Kind != Frozen || len(r.Zeros) != 1 || math.Abs(thrustOf(r, 2)-third) > 5 || math.Abs(r.Clocks[0].Run(0)+5) > 0.3 {
				t.Errorf("pull %.1f N, doubts %+v, zero windows %+v, clock %+v", thrustOf(r, 2), r.Doubts, r.Zeros, r.Clocks[0])
			}
		}},
		{"the scale freezes within a plateau", func() ([]Source, ReduceOptions) {
			s := usual().sources()
			v := s[0].Log.Values[0]
			from := int((5 + 25 + 4*60 + 15) * 5) // in the fifth plateau
			for i := from; i < from+200; i++ {
				v[i] = v[from]
			}
			return s, ReduceOptions{}
		}, func(t *testing.T, r *Reduction) {
			_, ok := r.Plateaus[4].Figure(Thrust)
			if ok || len(r.Doubts) != 1 || math.Abs(r.Doubts[0].Span.Length()-40) > 3 {
				t.Errorf("its pull is used: %v, doubts %+v", ok, r.Doubts)
			}
		}},
		{"the log begins under load", func() ([]Source, ReduceOptions) {
			s := usual().sources()
			l := s[1].Log
			cutRows(l, int((25+4*60+10)*20), l.Rows())
			return s, ReduceOptions{}
		}, func(t *testing.T, r *Reduction) {
			if r.Plateaus[0].Direction != "" || r.Plateaus[1].Direction != "down" || r.Friction.Known {
				t.Errorf("%q, then %q, friction %+v", r.Plateaus[0].Direction, r.Plateaus[1].Direction, r.Friction)
			}
		}},
		{"a second scale shows half", func() ([]Source, ReduceOptions) {
			s := usual().sources()
			l := s[0].Log
			half := make([]float64, l.Rows())
			for i, v := range l.Values[0] {
				half[i] = v / 2
			}
			l.Layout.Columns = append(l.Layout.Columns, l.Layout.Columns[0])
			l.Values, l.Missing = append(l.Values, half), append(l.Missing, 0)
			return s, ReduceOptions{}
		}, func(t *testing.T, r *Reduction) {
			if len(r.Doubts) != 1 || r.Doubts[0].Kind != Disagreeing || r.Doubts[0].Channel != Thrust {
				t.Errorf("doubts %+v", r.Doubts)
			}
		}},
		{"voltage in a log of its own freezes", func() ([]Source, ReduceOptions) {
			s := usual().sources()
			l := s[1].Log
			own := *l
			own.Name, own.Layout.Columns, own.Values, own.Missing = "voltage.csv", l.Layout.Columns[:1], [][]float64{append([]float64(nil), l.Values[0]...)}, []int{0}
			for i := own.Rows() / 3; i < own.Rows(); i++ {
				own.Values[0][i] = own.Values[0][own.Rows()/3]
			}
			l.Layout.Columns, l.Values, l.Missing = l.Layout.Columns[1:], l.Values[1:], l.Missing[1:]
			return []Source{s[0], s[1], {Log: &own, Offset: quantity.Some(0)}}, ReduceOptions{}
		}, func(t *testing.T, r *Reduction) {
			for _, p := range r.Plateaus {
				if _, ok := p.Figure(Power); ok && p.Span.From > 200 {
					t.Errorf("%s has a power out of a frozen voltage", p.Name)
				}
			}
			if len(r.Doubts) == 0 {
				t.Error("no doubt")
			}
		}},
		{"a typed zero window under load, and one outside", func() ([]Source, ReduceOptions) {
			return usual().sources(), ReduceOptions{Zeros: []Span{{40, 60}, {9000, 9100}, {2, 20}}}
		}, func(t *testing.T, r *Reduction) {
			if len(r.Zeros) != 1 || !says(r, "is not used: the power is at") || !says(r, "is not used: the run lasts") {
				t.Errorf("%+v, %v", r.Zeros, r.Notices)
			}
		}},
		{"a thermometer that shares nothing", func() ([]Source, ReduceOptions) {
			s := usual().sources()
			l := &Log{Name: "pond.csv", Layout: Layout{Columns: []Column{{Name: "pond", Unit: quantity.MustUnit("°C"), Channel: WaterTemperature}}}, Missing: []int{0}, Values: make([][]float64, 1)}
			for i := range 40 {
				l.Time, l.Values[0] = append(l.Time, float64(10*i)), append(l.Values[0], 288.15)
			}
			return append(s, Source{Log: l}), ReduceOptions{}
		}, func(t *testing.T, r *Reduction) {
			if len(r.Plateaus) != 7 || !says(r, "pond.csv is left out") {
				t.Errorf("%d plateaus, %v", len(r.Plateaus), r.Notices)
			}
		}},
		{"the current's zero drifts", func() ([]Source, ReduceOptions) {
			d := usual()
			d.after = func(run float64, c Channel, v float64) float64 {
				if c == BatteryCurrent {
					return v + 1.1*run/470
				}
				return v
			}
			return d.sources(), ReduceOptions{}
		}, func(t *testing.T, r *Reduction) {
			if len(r.Doubts) != 1 || r.Doubts[0].Kind != Drifting || r.Doubts[0].Channel != BatteryCurrent {
				t.Errorf("doubts %+v", r.Doubts)
			}
		}},
		{"a frozen sensor that is trusted", func() ([]Source, ReduceOptions) {
			s := usual().sources()
			v := s[1].Log.Values[3]
			for i := len(v) / 2; i < len(v); i++ {
				v[i] = v[len(v)/2]
			}
			s[1].Trusted = map[Channel]bool{WindingTemperature: true}
			return s, ReduceOptions{}
		}, func(t *testing.T, r *Reduction) {
			if _, ok := r.Plateaus[6].Figure(WindingTemperature); !ok || len(r.Doubts) != 1 || !r.Doubts[0].Trusted {
				t.Errorf("used %v, doubts %+v", ok, r.Doubts)
			}
		}},
		{"a minute without rows", func() ([]Source, ReduceOptions) {
			s := usual().sources()
			l := s[1].Log
			from, to := int((25+2*60+15)*20), int((25+2*60+55)*20)
			for k := range l.Values {
				l.Values[k] = append(l.Values[k][:from:from], l.Values[k][to:]...)
			}
			l.Time = append(l.Time[:from:from], l.Time[to:]...)
			return s, ReduceOptions{}
		}, func(t *testing.T, r *Reduction) {
			if !strings.Contains(r.Plateaus[2].Unsettled, "holds nothing from") {
				t.Errorf("%+v", r.Plateaus[2].Unsettled)
			}
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, o := c.make_()
			r, err := Reduce(s, o)
			if err != nil {
				t.Fatal(err)
			}
			c.check(t, r)
		})
	}
}

// says tells whether any notice of a reduction holds the words.
func says(r *Reduction, words string) bool {
	for _, n := range r.Notices {
		if strings.Contains(n.What, words) {
			return true
		}
	}
	return false
}

// cutRows keeps some rows of a log, and counts its time from the first of them.
func cutRows(l *Log, from, to int) {
	t := l.Time[from]
	l.Time = append([]float64(nil), l.Time[from:to]...)
	for i := range l.Time {
		l.Time[i] -= t
	}
	for k := range l.Values {
		l.Values[k] = l.Values[k][from:to]
	}
}

// Water that comes round after a while shows in the test and bends no other figure.
func TestMovingSynthetic(t *testing.T) {
	for _, loss := range []float64{0, 0.04} {
		d := usual()
		d.hold, d.friction = 90, 0
		d.after = func(run float64, c Channel, v float64) float64 {
			if since := math.Mod(run-d.zero, d.hold); c == Thrust && run > d.zero {
				return v * (1 - loss*(1-math.Exp(-math.Max(0, since-10)/12)))
			}
			return v
		}
		r, err := Reduce(d.sources(), ReduceOptions{Run: "day"})
		if err != nil {
			t.Fatal(err)
		}
		m := MovingWater(r.Plateaus)
		t.Logf("loss %g: %+.4f ± %.4f", loss, m.Change, m.U)
		if !m.Known || math.Abs(m.Change+loss) > 3*m.U+0.15*loss || loss > 0 && m.Change > -2*m.U {
			t.Errorf("loss of %g shows as %+.4f ± %.4f", loss, m.Change, m.U)
		}
	}
}

// What stands in the way is named with what would help.
func TestReduceFaults(t *testing.T) {
	d := usual()
	never := d
	never.powers = make([]float64, 120)
	for i := range never.powers {
		never.powers[i] = 400 + 1500*float64(i%3)
	}
	never.hold = 4.5 // hardly more than its ramp
	restless := never.sources()
	restless[0].Offset = quantity.Some(-5)
	alone := d.sources()[:1]
	strangers := d.sources()
	random := rand.New(rand.NewPCG(1, 1))
	for i := range strangers[0].Log.Values[0] {
		strangers[0].Log.Values[0][i] = random.NormFloat64()
	}
	for _, c := range []struct {
		name    string
		sources []Source
		says    []string
	}{
		{"no plateau", restless, []string{"no plateau", "hold each step"}},
		{"no load", alone, []string{"how hard the drive ran", "run.toml"}},
		{"nothing shared", strangers, []string{"scale.csv", "nothing in it moves together", "starts_after"}},
	} {
		r, err := Reduce(c.sources, ReduceOptions{Run: "day"})
		if err == nil {
			t.Errorf("%s: no error: %+v", c.name, r.Plateaus)
			continue
		}
		for _, w := range c.says {
			if !strings.Contains(err.Error(), w) {
				t.Errorf("%s: %q is not said in %q", c.name, w, err)
			}
		}
	}
	// A typed offset does without anything shared.
	strangers[0].Offset = quantity.Some(-5)
	if _, err := Reduce(strangers, ReduceOptions{Run: "day"}); err != nil {
		t.Errorf("typed offset: %v", err)
	}
	// Without a zero window the tare is said to be unknown, and widens every pull.
	short := d
	short.zero = 1
	with, err := Reduce(d.sources(), ReduceOptions{Run: "day"})
	if err != nil {
		t.Fatal(err)
	}
	without, err := Reduce(short.sources(), ReduceOptions{Run: "day"})
	if err != nil {
		t.Fatal(err)
	}
	said := false
	for _, n := range without.Notices {
		said = said || strings.Contains(n.What, "no zero window") && strings.Contains(n.WayOut, "zero =")
	}
	a, _ := with.Plateaus[0].Figure(Thrust)
	b, _ := without.Plateaus[0].Figure(Thrust)
	if !said || without.Tare.Known || !(b.StandardUncertainty() > a.StandardUncertainty()) {
		t.Errorf("zero windows missing: said %v, %+v, u %.3g against %.3g", said, without.Tare, b.StandardUncertainty(), a.StandardUncertainty())
	}
}

// A plateau that still moves is marked.
func TestUnsettledSynthetic(t *testing.T) {
	d := usual()
	d.after = func(run float64, c Channel, v float64) float64 {
		if c == BatteryCurrent && run > 268 && run < 325 {
			return v * (1 - 0.06*(run-268)/57)
		}
		return v
	}
	r, err := Reduce(d.sources(), ReduceOptions{Run: "day"})
	if err != nil {
		t.Fatal(err)
	}
	marked := 0
	for _, p := range r.Plateaus {
		if p.Unsettled != "" {
			marked++
			if p.Span.From < 260 || p.Span.To > 330 {
				t.Errorf("%s is marked: %s", p.Name, p.Unsettled)
			}
		}
	}
	if marked == 0 {
		t.Error("a plateau that fell by 6 % is taken for settled")
	}
	if f, _ := r.Plateaus[3].Figure(WindingTemperature); !f.Unsettled {
		t.Errorf("a winding that warms with a time constant of 40 s had settled after 60 s: %+v", f)
	}
}

// The friction comes out of steps up and down.
func TestFrictionLaw(t *testing.T) {
	var load, pull, u, sign []float64
	for i, p := range []float64{600, 1100, 1700, 2400, 3100, 1700, 600} {
		s := 1.0
		if i > 4 {
			s = -1
		}
		load, pull, u, sign = append(load, math.Log(p)), append(pull, 1.4*math.Pow(p, 0.65)-4*s), append(u, 0.5), append(sign, s)
	}
	f, ok := fitFriction(load, pull, u, sign)
	if !ok || f.told {
		t.Fatalf("no friction, or one that grows: %+v", f)
	}
	near(t, "F", f.force, 4)
	if uf := f.uForce; uf < 0.15 || uf > 0.5 {
		t.Errorf("u = %.3g for pulls good to 0.5 N", uf)
	}
}

// text writes a log as comma-separated values.
func text(l *Log) []byte {
	var b bytes.Buffer
	b.WriteString("time [s]")
	for _, c := range l.Layout.Columns {
		fmt.Fprintf(&b, ",%s [%s]", c.Name, c.Unit.Symbol)
	}
	b.WriteByte('\n')
	for i, t := range l.Time {
		b.Write(strconv.AppendFloat(b.AvailableBuffer(), t, 'f', 3, 64))
		for k, c := range l.Layout.Columns {
			b.WriteByte(',')
			b.Write(strconv.AppendFloat(b.AvailableBuffer(), c.Unit.FromSI(l.Values[k][i]), 'f', 4, 64))
		}
		b.WriteByte('\n')
	}
	return b.Bytes()
}

// BenchmarkLogToPlateaus adopts, aligns and reduces an hour at 100 Hz in 12 columns, 40 MB, beside a scale.
func BenchmarkLogToPlateaus(b *testing.B) {
	d := usual()
	d.hold, d.zero, d.rate, d.columns = 480, 120, 100, 7
	s := d.sources()
	for k := range s[1].Log.Layout.Columns[4:] {
		s[1].Log.Layout.Columns[4+k].Name = []string{"phase current", "further 1", "further 2", "further 3", "further 4", "further 5", "further 6"}[k]
	}
	names := []string{"battery voltage", "battery current", "rotor speed", "winding temp"}
	for k, n := range names {
		s[1].Log.Layout.Columns[k].Name = n
	}
	data := text(s[1].Log)
	scale := s[0]
	b.SetBytes(int64(len(data)))
	b.ResetTimer()
	b.ReportAllocs()
	for range b.N {
		l, faults := GuessLayout("controller.csv", data)
		if faults.Fatal() != nil {
			b.Fatal(faults)
		}
		log, faults := ReadLog("controller.csv", data, l)
		if faults.Fatal() != nil {
			b.Fatal(faults)
		}
		if _, err := Reduce([]Source{scale, {Log: log}}, ReduceOptions{Run: "day"}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkReduce reduces an hour at 100 Hz in 12 columns.
func BenchmarkReduce(b *testing.B) {
	d := usual()
	d.hold, d.zero, d.rate, d.columns = 480, 120, 100, 8
	s := d.sources()
	b.ResetTimer()
	b.ReportAllocs()
	for range b.N {
		if _, err := Reduce(s, ReduceOptions{Run: "day"}); err != nil {
			b.Fatal(err)
		}
	}
}
