package bench

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"strings"
	"testing"

	"jetwright/quantity"
)

// feed is a made-up log of ten rows a second: time, power, rotor speed, winding, pull and words.
type feed struct {
	t    *testing.T
	w    *Watcher
	line int
	at   float64
	rand *rand.Rand
	got  []Alarm
}

func watchLayout() Layout {
	unit := quantity.MustUnit
	return Layout{Delimiter: ',', Decimal: '.', HeaderLine: 1, FirstLine: 2, Time: 0, TimeFormat: Elapsed, TimeUnit: unit("s"), Columns: []Column{
		{Name: "time", Unit: unit("s")},
		{Name: "power", Unit: unit("W"), Channel: Power},
		{Name: "speed", Unit: unit("rpm"), Channel: RotorSpeed},
		{Name: "winding", Unit: unit("°C"), Channel: WindingTemperature},
		{Name: "pull", Unit: unit("N"), Channel: Thrust},
		{Name: "mode", Text: true},
	}}
}

const zeroC = 273.15

func newFeed(t *testing.T, change func(*WatchOptions)) *feed {
	rpm := quantity.MustUnit("rpm")
	o := WatchOptions{
		Layout: watchLayout(), Interval: 0.1, Diameter: 0.1, NozzleArea: 0.003, Density: 1000, Full: 1000,
		Bounds: []Bound{
			{Name: "rotor speed", Channel: RotorSpeed, Allowed: rpm.ToSI(4000)},
			{Name: "winding temperature", Channel: WindingTemperature, Allowed: zeroC + 120, Zero: zeroC + 15},
			{Name: "pull on the rope", Channel: Thrust, Allowed: 4000},
		},
	}
	if change != nil {
		change(&o)
	}
	return &feed{t: t, w: NewWatcher(o), line: 1, rand: rand.New(rand.NewPCG(3, 4))}
}

// text hands a line over as it stands.
func (f *feed) text(line string) {
	f.line++
	f.got = append(f.got, f.w.Line(f.at, f.line, []byte(line))...)
	f.got = append(f.got, f.w.Tick(f.at)...)
}

// run writes rows for some seconds at a power, its speed and pull by their laws at rest.
func (f *feed) run(seconds, power float64, winding func(t float64) string) {
	for range int(math.Round(seconds * 10)) {
		f.at += 0.1
		speed := 1000 * math.Cbrt(power/50)
		pull := 5 + 100*math.Pow(speed/2000, 2)
		f.text(fmt.Sprintf("%.1f,%.1f,%.0f,%s,%.1f,on", f.at, power+2*f.rand.NormFloat64(), speed+3*f.rand.NormFloat64(), winding(f.at), pull+0.3*f.rand.NormFloat64()))
	}
}

func (f *feed) lively(t float64) string {
	return fmt.Sprintf("%.1f", 30+0.01*t+0.2*f.rand.NormFloat64())
}

// one expects exactly one alarm of a kind, and says when it came.
func (f *feed) one(kind string, c Channel, words ...string) Alarm {
	f.t.Helper()
	if len(f.got) != 1 || f.got[0].Kind != kind || f.got[0].Channel != c {
		f.t.Fatalf("got %+v, want one %q of %q", f.got, kind, c)
	}
	for _, w := range words {
		if !strings.Contains(f.got[0].What, w) {
			f.t.Errorf("%q does not say %q", f.got[0].What, w)
		}
	}
	if f.got[0].Do == "" {
		f.t.Error("it does not say what to do")
	}
	return f.got[0]
}

func (f *feed) none() {
	f.t.Helper()
	if len(f.got) > 0 {
		f.t.Fatalf("got %+v", f.got)
	}
}

// A day without a fault raises nothing, whatever the steps; the tare is taken off.
func TestWatchQuietLaw(t *testing.T) {
	f := newFeed(t, nil)
	f.run(20, 0, f.lively)
	for _, p := range []float64{200, 400, 800, 1000, 600, 200, 0} {
		f.run(40, p, f.lively)
	}
	f.none()
	s := f.w.Status()
	if !s.TareKnown || math.Abs(s.Pull.Value) > 0.5 || !s.Nearest.Set || len(s.Doubts) > 0 {
		t.Errorf("%+v", s)
	}
}

// A limit crossed is told within half a second, one wild value is none, and going back makes it
// possible again.
func TestWatchCrossed(t *testing.T) {
	f := newFeed(t, nil)
	f.run(10, 400, f.lively)
	f.at += 0.1
	f.text(fmt.Sprintf("%.1f,400,9000,30.1,105,on", f.at)) // one wild value
	f.run(5, 400, f.lively)
	f.none()
	begin := f.at
	f.run(2, 3500, f.lively) // 4121 rpm
	a := f.one(Crossed, RotorSpeed, "rotor speed", "4000 rpm", "at most")
	if a.Time-begin > 0.5 {
		t.Errorf("it took %g s", a.Time-begin)
	}
	f.run(5, 400, f.lively)
	f.got = nil
	f.run(2, 3500, f.lively)
	f.one(Crossed, RotorSpeed)
}

// A temperature that stands still while the load moves by more than a tenth is frozen after ten
// seconds; so is one that suddenly never changes under steady load. At rest it may stand.
func TestWatchFrozen(t *testing.T) {
	still := func(float64) string { return "31.5" }
	f := newFeed(t, nil)
	f.run(30, 400, f.lively)
	begin := f.at
	f.run(4, 400, still)
	f.run(8, 600, still)
	if a := f.one(Frozen, WindingTemperature, "31.5", "while the load went", "a limit rests on it"); a.Time-begin > 12.1 {
		t.Errorf("it took %g s", a.Time-begin)
	}
	if s := f.w.Status(); len(s.Doubts) != 1 || s.Doubts[0].Kind != Frozen {
		t.Errorf("doubts %+v", s.Doubts)
	}
	f.got = nil
	f.run(5, 600, f.lively)
	if s := f.w.Status(); len(s.Doubts) != 0 {
		t.Errorf("it changes again and is still in doubt: %+v", s.Doubts)
	}

	f = newFeed(t, nil)
	f.run(60, 400, f.lively)
	f.run(12, 400, still)
	f.one(Frozen, WindingTemperature, "otherwise change")

	f = newFeed(t, nil)
	f.run(60, 0, still)
	f.none()
}

// A coarse thermometer, in whole degrees, may stand longer.
func TestWatchCoarse(t *testing.T) {
	f := newFeed(t, nil)
	whole := func(at float64) string { return fmt.Sprintf("%.0f", 20+at/20) }
	f.run(15, 0, whole)
	for _, p := range []float64{300, 500, 700, 900} {
		f.run(18, p, whole)
	}
	f.none()
	f.run(40, 300, func(float64) string { return "25" })
	f.run(30, 900, func(float64) string { return "25" })
	f.one(Frozen, WindingTemperature)
}

// A channel that goes silent while rows come is lost; words and dashes for missing values are known.
func TestWatchLost(t *testing.T) {
	f := newFeed(t, nil)
	f.run(10, 400, f.lively)
	begin := f.at
	f.run(2, 400, func(float64) string { return "" })
	f.run(2, 400, func(float64) string { return "-" })
	if a := f.one(Lost, WindingTemperature, "no value"); a.Time-begin > 3.2 {
		t.Errorf("it took %g s", a.Time-begin)
	}
	f = newFeed(t, nil)
	f.run(15, 400, func(float64) string { return "NaN" })
	f.one(Lost, WindingTemperature, "no value yet")
}

// What is no number, no time, or ends too early is told with line and column.
func TestWatchUnreadable(t *testing.T) {
	for line, words := range map[string]string{
		"9.0,400,2000,3x,100,on": `column 4, "winding", is no number`,
		"9.0,400,20":             `ends before column 4, "winding"`,
		"#reset":                 `column "time" holds no time`,
	} {
		f := newFeed(t, nil)
		f.run(1, 400, f.lively)
		f.text(line)
		f.one(Unreadable, "", "line 12", words)
	}
}

// A log that grows no more, by the clock that is handed in; one whose own time stands; one that ends.
func TestWatchStalled(t *testing.T) {
	f := newFeed(t, nil)
	if a := f.w.Tick(100); len(a) > 0 {
		t.Errorf("nothing has come and it raises %+v", a)
	}
	f.run(5, 400, f.lively)
	f.got = append(f.got, f.w.Tick(f.at+1.4)...)
	f.none()
	f.got = append(f.got, f.w.Tick(f.at+1.6)...)
	f.got = append(f.got, f.w.Tick(f.at+1.7)...)
	f.one(Stalled, "", "no new line for 1.6 s")

	f = newFeed(t, nil)
	f.run(5, 400, f.lively)
	stood := f.at
	for range 25 {
		f.at += 0.1
		f.text(fmt.Sprintf("%.1f,400,2000,31,105,on", stood))
	}
	f.one(Stalled, "", "its time has stood")

	f = newFeed(t, func(o *WatchOptions) { o.Gap = 4 })
	f.run(5, 400, f.lively)
	f.got = append(f.got, f.w.Tick(f.at+3.9)...)
	f.none()
	f.got = append(f.got, f.w.Ended("it is over")...)
	f.one(Gone, "", "it is over")
}

// A coefficient that leaves the earlier steps by more than 3 % is told; steps at other speeds say nothing.
func TestWatchMoved(t *testing.T) {
	learn := newFeed(t, nil)
	learn.run(10, 0, learn.lively)
	learn.run(20, 400, learn.lively)
	learn.none()
	speed := learn.w.of[RotorSpeed].seconds[0]
	now := learn.w.similarity(0)
	if !now.Thrust.Set || !now.Power.Set || !now.StaticEfficiency.Set {
		t.Fatalf("%+v", now)
	}
	f := newFeed(t, func(o *WatchOptions) {
		moved := now
		moved.Power.Value *= 1.06
		o.Steps = []EarlierStep{{Speed: speed, Coefficients: moved}, {Speed: 2 * speed, Coefficients: Coefficients{Power: quantity.Some(1)}}}
	})
	f.run(10, 0, f.lively)
	f.run(20, 400, f.lively)
	if a := f.one(Moved, "", "power coefficient", "3 % is let pass"); !strings.Contains(a.What, "-5.") && !strings.Contains(a.What, "-6.") {
		t.Error(a.What)
	}
}

// Earlier steps hold thrusts: what an arm or a slanting rope shows is turned into one before it is held against them.
func TestWatchAlongExact(t *testing.T) {
	thrust := func(along float64) float64 {
		f := newFeed(t, func(o *WatchOptions) { o.Along = along })
		f.run(10, 0, f.lively)
		f.run(20, 400, f.lively)
		return f.w.similarity(0).Thrust.Value
	}
	if plain, half := thrust(0), thrust(0.5); !(plain > 0) || math.Abs(half/plain-0.5) > 1e-12 {
		t.Errorf("a thrust of half the pull has the coefficient %g of %g", half, plain)
	}
}

// Past rows teach the tare and alarm nobody.
func TestWatchLearning(t *testing.T) {
	f := newFeed(t, nil)
	f.w.Learning = true
	f.run(10, 0, f.lively)
	f.run(5, 4000, f.lively)
	f.none()
	f.w.Learning = false
	f.run(1, 4000, f.lively)
	f.one(Crossed, RotorSpeed)
	if !f.w.Status().TareKnown {
		t.Error("no tare was learnt")
	}
}

// The forecast of a watched winding holds the closed form, and none of its figures is anything but a number.
func TestWatchForecastExact(t *testing.T) {
	const end, rise, tau = 140.0, 110.0, 60.0
	f := newFeed(t, nil)
	f.run(2, 0, func(float64) string { return fmt.Sprintf("%.4f", end-rise) })
	from := f.at
	f.run(60, 800, func(at float64) string { return fmt.Sprintf("%.4f", end-rise*math.Exp(-(at-from)/tau)) })
	s := f.w.Status()
	want := tau*math.Log(rise/(end-120)) - 60
	if !s.Thermal.Set || !s.Thermal.Reaches.Set || math.Abs(s.Thermal.Reaches.Value-want) > 2 || !s.Thermal.Early.Set || s.Thermal.Early.Value > want+2 {
		t.Errorf("want %.1f s: %+v", want, s.Thermal)
	}
	f.none()
}

// However long a log, the watcher's memory stays.
func TestWatchMemoryLaw(t *testing.T) {
	f := newFeed(t, nil)
	f.run(10, 0, f.lively)
	size := func() uint64 {
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return m.HeapAlloc
	}
	f.run(600, 500, f.lively)
	before := size()
	for range 20 {
		f.run(100, 500, f.lively)
		f.run(100, 800, f.lively)
	}
	if after := size(); after > before+1<<20 {
		t.Errorf("%d bytes became %d", before, after)
	}
	if n := len(f.w.own); n > ownStepsMost {
		t.Errorf("%d own steps are kept", n)
	}
	f.none()
}

// Whatever stands in a line, the watcher goes on, and what it says are numbers.
func FuzzWatchLine(f *testing.F) {
	for _, line := range []string{"1.0,400,2000,31.0,100,on", "9,1e300,2,3,4,5", ",,,,,", "1,-5,-5,-300,-5", "5;6;7", "-1e9,0,0,0,0", `"1","2","3","4","5"`} {
		f.Add(line, line)
	}
	f.Fuzz(func(t *testing.T, a, b string) {
		g := newFeed(t, nil)
		g.run(2, 400, g.lively)
		for i := range 30 {
			g.at += 0.1
			for _, line := range []string{a, b} {
				g.text(line)
			}
			if i%10 == 0 {
				g.run(2, 500, g.lively)
			}
		}
		s := g.w.Status()
		for _, x := range []float64{s.Time, s.Power.Value, s.Pull.Value, s.Speed.Value, s.Nearest.Left, s.Nearest.Value, s.Thermal.Early.Value, s.Thermal.Late.Value, s.Thermal.High.Value, s.Thermal.Settles.Value} {
			if x != x || math.IsInf(x, 0) {
				t.Errorf("%q, %q: %+v", a, b, s)
			}
		}
		for _, c := range s.Coefficients {
			if c.Value != c.Value || math.IsInf(c.Value, 0) || c.Compared && c.Change() != c.Change() {
				t.Errorf("%q, %q: %+v", a, b, c)
			}
		}
	})
}

// BenchmarkWatcher is one row of a log of twelve columns, ten of them watched, with its share of a
// second's work and a status every hundred rows.
func BenchmarkWatcher(b *testing.B) {
	unit := quantity.MustUnit
	l := Layout{Delimiter: ',', Decimal: '.', HeaderLine: 1, FirstLine: 2, TimeFormat: Elapsed, TimeUnit: unit("s"), Columns: []Column{{Name: "time"}}}
	o := WatchOptions{Interval: 0.01, Diameter: 0.1, NozzleArea: 0.003, Density: 1000, Full: 1000}
	for _, c := range channelOrder {
		l.Columns = append(l.Columns, Column{Name: string(c), Unit: UnitOf(c), Channel: c})
		o.Bounds = append(o.Bounds, Bound{Name: string(c), Channel: c, Allowed: 1e9})
	}
	l.Columns = append(l.Columns, Column{Name: "throttle"})
	o.Layout = l
	random := rand.New(rand.NewPCG(5, 6))
	lines := make([][]byte, 4096)
	w := NewWatcher(o)
	write := func(i int) []byte {
		v := func(mean, sd float64) float64 { return mean + sd*random.NormFloat64() }
		warm := 80 - 60*math.Exp(-float64(i)/4000)
		return fmt.Appendf(nil, "%.2f,%.1f,%.2f,%.0f,%.1f,%.2f,%.2f,%.1f,%.1f,%.1f,%.1f,%.1f", 0.01*float64(i), v(900, 3), v(200, 0.5), v(3000, 4), v(60, 0.5), v(46, 0.02), v(20, 0.1),
			v(warm, 0.1), v(warm/2, 0.1), v(warm/2, 0.1), v(15, 0.05), v(50, 0.1))
	}
	n := 0
	for i := range lines {
		lines[i] = write(i)
	}
	b.ReportAllocs()
	for b.Loop() {
		if n%len(lines) == 0 && n > 0 { // go on in time
			b.StopTimer()
			for i := range lines {
				lines[i] = write(n + i)
			}
			b.StartTimer()
		}
		w.Line(0.01*float64(n), n+2, lines[n%len(lines)])
		if n++; n%100 == 0 {
			w.Status()
		}
	}
}

// Whatever a log holds, from its first line to its last, it is watched without an end in what is no number, and a
// channel of another log beside it.
func FuzzWatchLog(f *testing.F) {
	f.Add([]byte("time [s],power [W],rotor speed [rpm],winding temp [°C]\n0,1,2,3\n1,2,3,4\n2,600,1950,200\n"), 9.0)
	f.Add([]byte("Zeit;Zug [kgf]\n0,0;1,5\n0,5;1,5\n-3,0;1e300\n"), -1e300)
	f.Add([]byte("time,rpm\n23:59:59,1\n00:00:01,2\n23:00:00,3\n"), 0.0)
	f.Add([]byte("time,power,rpm\n0,1e11,1e11\n1e11,0,1e-300\n"), 1e-310)
	f.Fuzz(func(t *testing.T, data []byte, joined float64) {
		l, faults := GuessLayout("x", data)
		if faults.Fatal() != nil {
			return
		}
		o := WatchOptions{Layout: l, Interval: 0.1, Convention: "rms", Diameter: 0.08, NozzleArea: 2e-3, Density: 1000}
		for c, allowed := range map[Channel]float64{Power: 5000, RotorSpeed: 500, WindingTemperature: 400, Thrust: 500, BatteryVoltage: 60} {
			o.Bounds = append(o.Bounds, Bound{Name: string(c), Channel: c, Allowed: allowed})
		}
		w := NewWatcher(o)
		w.Join(Thrust, true)
		now := 0.0
		for i, line := range bytes.Split(data, []byte{'\n'}) {
			if i+1 < l.FirstLine {
				continue
			}
			now += 0.1
			w.Take(Thrust, joined)
			for _, a := range append(w.Line(now, i+1, line), w.Tick(now+0.05)...) {
				if a.Kind == "" || a.What == "" || a.Do == "" || a.Time != a.Time || strings.Contains(a.What, "NaN") || strings.Contains(a.What, "Inf") {
					t.Fatalf("%+v", a)
				}
			}
			s := w.Status()
			for _, x := range []float64{s.Time, s.Power.Value, s.Pull.Value, s.Speed.Value, s.Nearest.Left, s.Nearest.Value, s.Thermal.Early.Value, s.Thermal.Late.Value, s.Thermal.High.Value, s.Thermal.Settles.Value, w.GapAllowed()} {
				if x != x || math.IsInf(x, 0) {
					t.Fatalf("line %d: %+v", i+1, s)
				}
			}
			for _, c := range s.Coefficients {
				if c.Value != c.Value || math.IsInf(c.Value, 0) || c.Compared && c.Change() != c.Change() {
					t.Fatalf("line %d: %+v", i+1, c)
				}
			}
		}
	})
}
