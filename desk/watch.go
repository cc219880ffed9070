package desk

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"sort"
	"strings"

	"jetwright/bench"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/notice"
	"jetwright/project"
	"jetwright/quantity"
	"jetwright/reckon"
)

// WatchAsk says what is to be watched.
type WatchAsk struct {
	Folder string
	Log    string // a file, or - for a stream
	Stream io.Reader
	Run    string  // whose run.toml says how the log is read; guessed if empty
	Gap    float64 // s without a row that is let pass; by the log's own rate if 0
	Keep   bool    // go on after a STOP
}

// Alarm is a reason to stop.
type Alarm = bench.Alarm

// WatchedLimit is a limit of the design and what watches it.
type WatchedLimit struct {
	Name    string
	Channel bench.Channel // empty if none could
	Unit    quantity.Unit
	AtLeast bool
	Watched bool
	Stated  float64 // as the design says it, in the channel's convention, SI
	Bad     float64 // at the bad end of what the design leaves open
	Stop    float64 // less what the instrument may be off
	Why     string  // why nobody watches it

	Elsewhere string // the log that watches it, where several are watched
}

// WatchAnswer is what is watched by what.
type WatchAnswer struct {
	Folder, Log, Run string
	Guessed          bool
	Layout           bench.Layout
	Interval         float64 // usual time between two rows, s; 0 if unknown
	Gap              float64 // s
	Convention       string
	ConventionTyped  bool
	Limits           []WatchedLimit
	Coefficients     []WatchedCoefficient
	Steps            int    // earlier steps that coefficients are held against
	StepsPlace       string // where their power was read
	Notices          notice.List
	Last             bool // no other log comes behind it; what nobody watches is said here
}

// WatchedCoefficient is a similarity coefficient and what it lacks.
type WatchedCoefficient struct {
	Name    string
	Watched bool
	Why     string
}

// Watching is a log that is being watched.
type Watching struct {
	Answer *WatchAnswer // set once the log could be read

	ask    WatchAsk
	p      *project.Project
	run    *project.Run
	log    *project.Log
	tail   *project.Tail
	w      *bench.Watcher
	head   []byte
	waits  []project.TailLine
	begun  float64
	asked  bool
	grown  bool
	over   bool
	source bench.Source
}

// Times that a beginning may take, s.
const (
	layoutWait  = 10.0 // until a log can be read
	growWait    = 10.0 // until it grows
	layoutRows  = 6    // rows that a guess rests on
	layoutHurry = 2.0  // s, after which two rows are enough
	layoutBytes = 1 << 18
)

// OpenWatch begins to watch a log with the limits of a folder.
func OpenWatch(ask WatchAsk) (*Watching, error) {
	p, err := project.Open(ask.Folder)
	if err != nil {
		return nil, err
	}
	w := &Watching{ask: ask, p: p}
	if ask.Run != "" {
		if err := w.pickLog(); err != nil {
			return nil, err
		}
	}
	if ask.Log == "-" {
		w.tail = project.FollowStream(ask.Stream)
	} else if w.tail, err = project.Follow(ask.Log); err != nil {
		return nil, err
	}
	head := w.tail.Head()
	w.head = append(w.head, head[:bytes.LastIndexByte(head, '\n')+1]...) // what has no end yet comes again, whole
	return w, nil
}

// pickLog finds the log of the run that says how this one is read.
func (w *Watching) pickLog() error {
	for i := range w.p.Runs {
		if w.p.Runs[i].Name == w.ask.Run {
			w.run = &w.p.Runs[i]
		}
	}
	if w.run == nil {
		return notice.List{{Kind: notice.Error, What: fmt.Sprintf("there is no run %q", w.ask.Run), Allowed: runList(w.p), WayOut: "name one of them with --run, or leave it out to have the layout guessed"}}
	}
	var names []string
	for i := range w.run.Logs {
		l := &w.run.Logs[i]
		names = append(names, l.File)
		if l.File == filepath.Base(w.ask.Log) {
			w.log = l
		}
	}
	if w.log == nil && len(w.run.Logs) == 1 {
		w.log = &w.run.Logs[0]
	}
	if w.log == nil {
		return notice.List{{
			Kind: notice.Error, Place: w.run.Place, What: fmt.Sprintf("the run %s does not say how %s is read", w.run.Name, w.ask.Log),
			Allowed: "its logs are " + strings.Join(names, ", "), WayOut: "name the log as it is there, or leave --run out to have the layout guessed",
		}}
	}
	return nil
}

// Close ends the watch.
func (w *Watching) Close() { w.tail.Close() }

// Status says how the log stands.
func (w *Watching) Status() bench.WatchStatus {
	if w.w == nil {
		return bench.WatchStatus{}
	}
	return w.w.Status()
}

// Over tells that no more can come: the stream has ended.
func (w *Watching) Over() bool { return w.over }

// Begun tells whether a row has come since the watch began.
func (w *Watching) Begun() bool { return w.grown }

// Poll takes what has come and returns reasons to stop; now is in s on a clock that runs on. An error
// says that the log cannot be read at all.
func (w *Watching) Poll(now float64) ([]bench.Alarm, error) {
	if !w.asked {
		w.begun, w.asked = now, true
	}
	lines, gone := w.tail.Poll()
	if w.w == nil {
		w.waits = append(w.waits, lines...)
		if w.tail.Stream() || len(w.head) < layoutBytes {
			for _, l := range lines {
				if !l.Past {
					w.head = append(append(w.head, l.Text...), '\n')
				}
			}
		}
		if len(lines) == 0 && gone == "" && now-w.begun < layoutHurry {
			return nil, nil
		}
		ready, err := w.ready(now, gone != "")
		if err != nil || !ready {
			return nil, err
		}
		lines, w.waits = w.waits, nil
	}
	var alarms []bench.Alarm
	for _, l := range lines {
		if l.Number < w.Answer.Layout.FirstLine {
			continue
		}
		w.w.Learning = l.Past
		w.grown = w.grown || !l.Past
		alarms = append(alarms, w.w.Line(now, l.Number, l.Text)...)
		if len(alarms) > 0 && !w.ask.Keep {
			return alarms, nil
		}
	}
	w.w.Learning = false
	switch {
	case gone != "":
		w.over = w.tail.Stream()
		alarms = append(alarms, w.w.Ended(gone)...)
	case w.grown:
		stalled := w.w.Tick(now)
		for i := range stalled {
			if half := w.tail.Partial(); stalled[i].Kind == bench.Stalled && len(bytes.TrimSpace(half)) > 0 {
				stalled[i].What += fmt.Sprintf("; of the next line %.40q has come, without its end", half)
			}
		}
		alarms = append(alarms, stalled...)
	case now-w.begun > growWait:
		w.grown = true
		alarms = append(alarms, w.w.Ended(fmt.Sprintf("no new line has come for %.0f s", now-w.begun))...)
	}
	return alarms, nil
}

// Finish ends a watch whose time is over. A log that never grew was not watched.
func (w *Watching) Finish(now float64) ([]bench.Alarm, error) {
	if w.w == nil {
		if ready, err := w.ready(now, true); err != nil || !ready {
			return nil, err
		}
	}
	if w.grown {
		return nil, nil
	}
	return w.w.Ended(fmt.Sprintf("no new line has come for %.0f s: nothing was watched", now-w.begun)), nil
}

// ready finds out how the log is read, as soon as there are rows enough.
func (w *Watching) ready(now float64, ended bool) (bool, error) {
	last := ended || now-w.begun > layoutWait
	a := &WatchAnswer{Folder: w.ask.Folder, Log: w.ask.Log, Run: w.ask.Run, Notices: append(notice.List(nil), w.p.Notices...)}
	if a.Log == "-" {
		a.Log = "standard input"
	}
	head := w.head[:bytes.LastIndexByte(w.head, '\n')+1]
	if w.log != nil {
		a.Layout, w.source = w.log.Layout, w.log.Typed()
		fits := w.log.Fits(a.Log, head)
		if err := fits.Fatal(); err != nil {
			return false, err
		}
		a.Notices = append(a.Notices, fits...)
	} else {
		layout, faults := bench.GuessLayout(a.Log, head)
		rows := bytes.Count(head, []byte{'\n'}) - layout.FirstLine + 1
		if err := faults.Fatal(); err != nil {
			if last {
				return false, err
			}
			return false, nil
		}
		if rows < layoutRows && !last && now-w.begun < layoutHurry {
			return false, nil
		}
		a.Guessed, a.Layout, a.Notices = true, layout, append(a.Notices, faults...)
		w.source = bench.Source{}
		w.source.PowerPlace, w.source.Convention = layout.Said()
	}
	if a.Layout.Time >= 0 {
		if log, faults := bench.ReadChannels(a.Log, head, a.Layout); faults.Fatal() == nil {
			a.Interval = usualInterval(log.Time)
		} else if !last && w.log == nil {
			return false, nil
		}
	}
	known := 0
	for _, c := range a.Layout.Columns {
		if c.Channel != "" && !c.Text {
			known++
		}
	}
	if known == 0 {
		return false, notice.List{{Kind: notice.Error, Place: quantity.Place{File: a.Log, Line: max(a.Layout.HeaderLine, 1), Column: 1}, What: "no column of the log is taken for a channel, so it can show no limit", WayOut: "give its columns names such as \"rotor speed [rpm]\", or adopt a part of it with jetwright run add, correct run.toml and name that run with --run"}}
	}
	o, err := Watch(w.p, w.run, a, &w.source)
	if err != nil {
		return false, err
	}
	o.Gap = w.ask.Gap
	w.w = bench.NewWatcher(o)
	a.Gap = w.w.GapAllowed()
	w.Answer = a
	return true, nil
}

// usualInterval is the usual time between two rows: the median, as a log may hold pauses, or the mean where
// most rows share their time with the one before.
func usualInterval(t []float64) float64 {
	n := len(t) - 1
	steps := make([]float64, n)
	for i := range steps {
		steps[i] = t[i+1] - t[i]
	}
	sort.Float64s(steps)
	if m := steps[n/2]; m > 0 {
		return m
	}
	return math.Max(0, t[n]-t[0]) / float64(n)
}

// Watch makes plain bounds of a design's limits for the channels of a log: each at the bad end of what
// the design leaves open, less what the instrument may be off. The answer is filled with them.
func Watch(p *project.Project, run *project.Run, a *WatchAnswer, source *bench.Source) (bench.WatchOptions, error) {
	s, err := explore.New(p.Design, DrawsAPoint, Options{}.seed())
	if err != nil {
		return bench.WatchOptions{}, unsolved(p, err)
	}
	c := p.Design.Nominal()
	r := s.Solve(c.DutyCondition())
	if r.Err != nil {
		return bench.WatchOptions{}, unsolved(p, r.Err)
	}
	setup := bench.Setup{FullScale: c.Stand.ScaleRange, Division: c.Stand.ScaleDivision}
	if run != nil {
		setup = run.Stand()
		run.Setup.Apply(&c)
	}
	o := bench.WatchOptions{
		Layout: a.Layout, Interval: a.Interval, Convention: source.Convention,
		Diameter: s.Nominal.Drive.Impeller.Diameter, NozzleArea: s.Nominal.Path.NozzleArea, Density: s.Nominal.Water.Density,
	}
	if a.Convention, a.ConventionTyped = source.Convention, source.Convention != ""; !a.ConventionTyped {
		a.Convention, o.Convention = "rms", "rms"
	}
	holds := func(c bench.Channel) bool {
		for k, col := range a.Layout.Columns {
			if col.Channel == c && !col.Text && k != a.Layout.Time {
				return true
			}
		}
		return false
	}
	if angle := source.Corrections.RopeAngle; angle != 0 {
		c.Stand.RopeAngle = quantity.Some(angle)
	}
	o.Along = 1 / c.Stand.PullRatio()
	// Limits of the stand are those of the stand that the run has typed.
	stood := func(m *drive.Machine) *drive.Machine {
		if run == nil {
			return m
		}
		own := *m
		run.Setup.Apply(&own.Drive)
		return &own
	}
	limits := func(dst []quantity.Limit, m *drive.Machine, state drive.State) []quantity.Limit {
		m = stood(m)
		return onPull(m.Limits(dst, state), m, state.Thrust)
	}
	nominal := limits(nil, s.Nominal, r.Nominal)
	bad := make([]float64, len(nominal))
	for k, l := range nominal {
		bad[k] = l.Allowed
	}
	var buffer []quantity.Limit
	for i := range r.States {
		buffer = limits(buffer[:0], s.Machines[r.Rows[i]], r.States[i])
		for k := range min(len(buffer), len(nominal)) {
			if nominal[k].Sense == quantity.AtLeast {
				bad[k] = math.Max(bad[k], buffer[k].Allowed)
			} else {
				bad[k] = math.Min(bad[k], buffer[k].Allowed)
			}
		}
	}
	gear := 1.0
	if r.Nominal.RotorSpeed > 0 {
		gear = r.Nominal.MotorSpeed / r.Nominal.RotorSpeed
	}
	for k, l := range nominal {
		channel, scale := channelOfLimit(l.Name, gear, float64(c.Battery.Parallel), a.Convention)
		u, _ := quantity.LookupUnit(l.Unit)
		x := WatchedLimit{Name: l.Name, Channel: channel, Unit: u, AtLeast: l.Sense == quantity.AtLeast, Stated: scale * l.Allowed, Bad: scale * bad[k]}
		switch {
		case l.NotJudged != "":
			x.Why = l.NotJudged
		case channel == "":
			x.Why = "no channel of a log shows it"
		case !holds(channel):
			x.Why = fmt.Sprintf("the log holds no %s", channel)
		default:
			x.Watched = true
			half, _ := source.Half(channel, x.Bad, setup)
			zero := scale * l.Zero
			if x.AtLeast {
				x.Stop = x.Bad + half
			} else {
				x.Stop = x.Bad - half
			}
			if channel == bench.BatteryVoltage && !x.AtLeast {
				zero = l.Value // a full battery uses nothing up
			}
			o.Bounds = append(o.Bounds, bench.Bound{Name: x.Name, Channel: channel, Allowed: x.Stop, Zero: zero, AtLeast: x.AtLeast})
		}
		a.Limits = append(a.Limits, x)
	}
	earlierSteps(p, run, a, source, &o)
	a.Last = true
	a.Coefficients = watchedCoefficients(func(c bench.Channel) bool {
		return holds(c) || c == bench.Power && holds(bench.BatteryVoltage) && holds(bench.BatteryCurrent)
	})
	return o, nil
}

// watchedCoefficients are the similarity coefficients and what each lacks.
func watchedCoefficients(holds func(bench.Channel) bool) []WatchedCoefficient {
	var out []WatchedCoefficient
	for _, w := range []struct {
		name  string
		needs []bench.Channel
	}{
		{"thrust coefficient", []bench.Channel{bench.Thrust, bench.RotorSpeed}},
		{"power coefficient", []bench.Channel{bench.Power, bench.RotorSpeed}},
		{"phase current coefficient", []bench.Channel{bench.PhaseCurrent, bench.RotorSpeed}},
		{"static efficiency", []bench.Channel{bench.Thrust, bench.Power, bench.RotorSpeed}},
	} {
		x := WatchedCoefficient{Name: w.name, Watched: true}
		for _, c := range w.needs {
			if !holds(c) {
				x.Watched, x.Why = false, fmt.Sprintf("the log holds no %s", c)
				break
			}
		}
		out = append(out, x)
	}
	return out
}

// Limits of a stand that its pull shows.
const (
	slidingName = "sliding of the stand"
	tippingName = "overturning of the stand"
	sideName    = "overturning of the stand to its side"
)

// onPull words what a stand bears as a pull on its rope: its loads grow with the thrust.
func onPull(limits []quantity.Limit, m *drive.Machine, thrust float64) []quantity.Limit {
	for i := range limits {
		l := &limits[i]
		if l.NotJudged != "" || l.Name != slidingName && l.Name != tippingName && l.Name != sideName {
			continue
		}
		if !(l.Value > 0) {
			l.NotJudged = "the jet puts nothing on it"
			continue
		}
		l.Allowed *= thrust * m.Drive.Stand.PullRatio() / l.Value
		l.Unit = "N"
	}
	return limits
}

// channelOfLimit says which channel shows a limit, and by what its bound is multiplied to stand as
// the channel shows it.
func channelOfLimit(name string, gear, parallel float64, convention string) (bench.Channel, float64) {
	switch name {
	case "rotor speed":
		return bench.RotorSpeed, 1
	case "motor speed":
		return bench.RotorSpeed, 1 / gear
	case "pull on the scale", "pull on the rope", slidingName, tippingName, sideName:
		return bench.Thrust, 1
	case "winding temperature":
		return bench.WindingTemperature, 1
	case "bridge temperature":
		return bench.BridgeTemperature, 1
	case "battery current":
		return bench.BatteryCurrent, 1
	case "cell current":
		return bench.BatteryCurrent, math.Max(1, parallel)
	case "battery voltage under load", "full battery on the controller", "full battery to the touch":
		return bench.BatteryVoltage, 1
	}
	for word, as := range map[string]string{"phase current, peak": "peak", "phase current, rms": "rms", "phase current, direct-current equivalent": "dc"} {
		if name == word {
			return bench.PhaseCurrent, bench.ToRMS(as) / bench.ToRMS(convention)
		}
	}
	return "", 1
}

// earlierSteps gathers what was held before, but for the run that is being watched, at the place where
// this log's power is read.
func earlierSteps(p *project.Project, run *project.Run, a *WatchAnswer, source *bench.Source, o *bench.WatchOptions) {
	before := *p
	before.Runs = nil
	for _, r := range p.Runs {
		if run == nil || r.Name != run.Name {
			before.Runs = append(before.Runs, r)
		}
	}
	evidence, _, _ := gather(&before)
	place := source.PowerPlace
	logged := false
	for _, c := range a.Layout.Columns {
		logged = logged || c.Channel == bench.Power
	}
	if !logged {
		place = "battery" // voltage times current
	}
	ladder := reckon.Coefficients(evidence, o.Diameter, o.NozzleArea, o.Density)
	if place == "" && len(ladder) > 0 {
		place = ladder[len(ladder)-1].Plateau.PowerPlace
	}
	for _, s := range ladder {
		speed, ok := s.Plateau.Figure(bench.RotorSpeed)
		if !ok || s.Plateau.Unsettled != "" {
			continue
		}
		k := s.Coefficients
		if s.Plateau.PowerPlace != place {
			k.Power, k.StaticEfficiency = quantity.Optional{}, quantity.Optional{}
		} else if w, ok := s.Plateau.Figure(bench.Power); ok {
			o.Full = math.Max(o.Full, w.Value)
		}
		o.Steps = append(o.Steps, bench.EarlierStep{Speed: speed.Value, Coefficients: k})
	}
	a.Steps, a.StepsPlace = len(o.Steps), place
}
