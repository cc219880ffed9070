package project

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"jetwright/bench"
	"jetwright/design"
	"jetwright/notice"
	"jetwright/quantity"
)

// logSheet is a [[log]] of a run.toml: how a file is read. It was guessed, and may be corrected.
type logSheet struct {
	File       string `doc:"the log, as the instrument wrote it, beside run.toml"`
	Encoding   string `doc:"encoding of its text" choices:"utf-8|utf-16le|utf-16be|windows-1252" assume:"utf-8" source:"own"`
	Delimiter  string `doc:"what stands between two columns" choices:"comma|semicolon|tab|bar|blanks" assume:"comma" source:"own"`
	Decimal    string `doc:"decimal sign" choices:"point|comma" assume:"point" source:"own"`
	HeaderLine int    `unit:"1" doc:"line of the column names, from 1; 0 if there is none" range:"0 .. 100000" assume:"1" source:"own"`
	FirstLine  int    `unit:"1" doc:"first line of numbers, from 1" range:"1 .. 100000" assume:"2" source:"own"`
	Time       string `doc:"name of the column of the time; left out if there is none"`
	TimeFormat string `doc:"how the time is written: seconds and the like that count up, a clock, or date and time by ISO 8601" choices:"elapsed|clock|iso" assume:"elapsed" source:"own"`
	TimeUnit   string `doc:"unit of an elapsed time" choices:"s|ms|min|h|µs" assume:"s" source:"own"`
	Bytes      int    `unit:"1" doc:"length of the file when it was adopted; a file that is another by now is told of" range:"0 .. 1000000000000"`
	SHA256     string `key:"sha256" doc:"its SHA-256 when it was adopted, in hexadecimal digits"`

	StartsAfter            quantity.Optional `unit:"s" doc:"how long after the first row of the run's main log (the one that says how hard the drive ran) this one's first row was written; found from what the two share if left out" range:"-86400 .. 86400"`
	ClockDrift             quantity.Optional `unit:"ppm" doc:"by how much its clock runs fast, beside starts_after" range:"-10000 .. 10000"`
	Lag                    quantity.Optional `unit:"s" doc:"by how much a slow instrument is late, beside starts_after" range:"0 .. 600"`
	PowerPlace             string            `doc:"where its power was read or computed: battery, controller output or motor shaft" choices:"battery|controller|shaft"`
	PhaseCurrentConvention string            `doc:"what its phase current is: rms, peak of the sine, or the current of an equivalent direct-current motor" choices:"rms|peak|dc" assume:"rms" source:"own"`
	ThrustBy               string            `doc:"what the pull was read by" choices:"hanging scale|load cell|spring scale" assume:"hanging scale" source:"own"`
	PowerBy                string            `doc:"what power and battery current were read by" choices:"controller|wattmeter|shunt" assume:"controller" source:"own"`
	WindingBy              string            `doc:"what the winding temperature was read by" choices:"thermistor|thermocouple|infrared|infrared on matt tape" assume:"thermistor" source:"own"`
	BridgeBy               string            `doc:"what the bridge temperature was read by" choices:"thermistor|thermocouple|infrared|infrared on matt tape" assume:"thermistor" source:"own"`
	RopeAngle              quantity.Optional `unit:"deg" doc:"angle of the rope against the thrust, up or sideways, if it is not stand.rope_angle; the pull is taken along the thrust" range:"0 .. 60" usual:"0 .. 20"`
	PulleyLoss             quantity.Optional `unit:"%" doc:"largest share of the pull that a pulley takes going up and gives going down" range:"0 .. 50" usual:"0 .. 10"`
	AdjustedAtGravity      quantity.Optional `unit:"m/s²" doc:"gravity where a scale that shows masses was adjusted, or where the loads of its calibration hung, if it is not the standard one" range:"9.7 .. 9.9"`
	CaseBy                 string            `doc:"what the case temperature was read by" choices:"thermistor|thermocouple|infrared|infrared on matt tape" assume:"infrared" source:"own"`
	Supply                 string            `doc:"what feeds this log's sensors and holds their reference, by a name of your own, such as 5 V of the controller; logs with the same name share its error, and two sensors of theirs count as one witness"`
}

var delimiters = map[string]byte{"comma": ',', "semicolon": ';', "tab": '\t', "bar": '|', "blanks": ' '}

// LogSchema declares the keys of a [[log]], but for its list of channels.
func LogSchema() *quantity.Schema { return logSchema() }

var logSchema = sync.OnceValue(func() *quantity.Schema { return mustSchema(struct{ Log logSheet }{}) })

// Log is a log of a run: its file and how it is read.
type Log struct {
	File   string
	Layout bench.Layout
	Place  quantity.Place
	source bench.Source // what was typed of its clock and instruments
	size   int          // in bytes, with
	digest string       // its SHA-256, when it was adopted
	sheet  *design.Sheet
	doc    *design.Document
	listed []design.Element // its channels as typed
}

// Typed is what was typed of a log's clock and instruments.
func (l Log) Typed() bench.Source { return l.source }

// Stand is what a run's uncertainties need to know of the stand.
func (r *Run) Stand() bench.Setup { return r.setup }

// readLogs reads the [[log]] items of a run.
func readLogs(doc *design.Document) ([]Log, notice.List) {
	var logs []Log
	var faults notice.List
	for i := range doc.Count("log") {
		prefix := fmt.Sprintf("log[%d].", i)
		s, more := design.Bind(doc, prefix, "log", LogSchema(), func(path string) bool {
			return path == prefix+"channels" || path == prefix+"calibration" || path == prefix+"calibrations" || path == prefix+"trust"
		})
		faults = append(faults, more...)
		place, excerpt := doc.ItemPlace("log", i)
		l := Log{Place: place, sheet: s, doc: doc}
		l.File, _ = s.Text("file")
		word := func(key, otherwise string) string {
			if t, ok := s.Text(key); ok {
				return t
			}
			return otherwise
		}
		count := func(key string, otherwise int) int {
			if n, ok := s.Count(key); ok {
				return n
			}
			return otherwise
		}
		fault := func(p quantity.Place, line, what, out string) {
			faults = append(faults, notice.Notice{Kind: notice.Error, Place: p, Excerpt: line, What: what, WayOut: out})
		}
		if l.File == "" || strings.ContainsAny(l.File, `/\`) {
			fault(place, excerpt, "the log does not name a file beside run.toml", `type file = "scale.csv"`)
			continue
		}
		l.Layout = bench.Layout{
			Encoding: word("encoding", "utf-8"), Delimiter: delimiters[word("delimiter", "comma")], Decimal: '.', HeaderLine: count("header_line", 1), FirstLine: count("first_line", 2),
			Time: -1, TimeFormat: word("time_format", bench.Elapsed), TimeUnit: quantity.MustUnit(word("time_unit", "s")),
		}
		if word("decimal", "point") == "comma" {
			l.Layout.Decimal = ','
		}
		for _, e := range doc.Entries() {
			if e.Path != prefix+"channels" {
				continue
			}
			for _, el := range e.Elements {
				c, ok := readColumn(el.Value)
				if !ok || el.Kind != design.String {
					fault(el.Place, doc.Line(el.Place.Line), fmt.Sprintf("%q does not say a column's channel", el.Value), `write "column name [unit] = thrust", with a tolerance as in "= thrust ± 0.5 % ± 0.1 kgf" if it is known, or "column name" for one that is not used`)
					continue
				}
				if c.Name == word("time", "") && l.Layout.Time < 0 {
					l.Layout.Time = len(l.Layout.Columns)
				}
				l.Layout.Columns, l.listed = append(l.Layout.Columns, c), append(l.listed, el)
			}
		}
		l.source = typedSource(s, place, l.Layout.Columns)
		more = readCalibration(doc, prefix, &l.source.Corrections)
		faults = append(faults, more...)
		l.source.Calibrations, more = readCalibrations(doc, prefix, l.Layout.Columns)
		faults = append(faults, more...)
		l.source.Trusted, more = readTrusted(doc, prefix)
		faults = append(faults, more...)
		if more.Fatal() == nil {
			faults = append(faults, l.consistent(logs)...)
		}
		logs = append(logs, l)
	}
	return logs, faults
}

// typedSource is what was typed of a log's clock and instruments.
func typedSource(s *design.Sheet, place quantity.Place, columns []bench.Column) bench.Source {
	out := bench.Source{Place: place, Instruments: map[bench.Channel]string{}, Tolerances: map[bench.Channel]bench.Tolerance{}}
	number := func(key string) quantity.Optional {
		if v, ok := s.Value(key); ok {
			return quantity.Some(v.Nominal())
		}
		return quantity.Optional{}
	}
	out.Offset, out.Drift, out.Lag = number("starts_after"), number("clock_drift"), number("lag")
	if out.Offset.Set {
		out.OffsetPlace = s.Place("starts_after")
	}
	out.PowerPlace, _ = s.Text("power_place")
	out.Supply, _ = s.Text("supply")
	out.Convention, _ = s.Text("phase_current_convention")
	for key, channels := range map[string][]bench.Channel{
		"thrust_by": {bench.Thrust}, "power_by": {bench.Power, bench.BatteryCurrent}, "winding_by": {bench.WindingTemperature},
		"bridge_by": {bench.BridgeTemperature}, "case_by": {bench.CaseTemperature},
	} {
		if t, ok := s.Text(key); ok {
			for _, c := range channels {
				out.Instruments[c] = t
			}
		}
	}
	if v, ok := s.Value("rope_angle"); ok {
		out.Corrections.RopeAngle, out.Corrections.URopeAngle = v.Nominal(), v.StandardUncertainty()
	}
	if v, ok := s.Value("pulley_loss"); ok {
		out.Corrections.Pulley = v.High()
	}
	if v, ok := s.Value("adjusted_at_gravity"); ok {
		out.Corrections.Gravity, out.Corrections.UGravity = v.Nominal(), v.StandardUncertainty()
	}
	for _, c := range columns {
		if c.Channel != "" && c.Tolerance.Text != "" {
			out.Tolerances[c.Channel] = c.Tolerance
		}
	}
	return out
}

// notice is said at a key of the log, or at its [[log]] if that was not typed.
func (l *Log) notice(kind notice.Kind, key, what, allowed, out string) notice.Notice {
	n := notice.Notice{Kind: kind, Place: l.Place, What: what, Allowed: allowed, WayOut: out}
	if l.sheet.Has(key) {
		n.Place, n.Path = l.sheet.Place(key), key
	}
	n.Excerpt = l.doc.Line(n.Place.Line)
	return n
}

// readCalibration reads the loads that were hung on a scale and what it showed.
func readCalibration(doc *design.Document, prefix string, c *bench.Corrections) notice.List {
	var faults notice.List
	newton := quantity.MustUnit("N")
	for _, e := range doc.Entries() {
		if e.Path != prefix+"calibration" {
			continue
		}
		c.Place = e.Place
		var taken []design.Element
		for _, el := range e.Elements {
			load, reading, both := strings.Cut(el.Value, "=")
			x, err1 := quantity.ParseIn(strings.TrimSpace(load), newton)
			y, err2 := quantity.ParseIn(strings.TrimSpace(reading), newton)
			if !both || err1 != nil || err2 != nil || el.Kind != design.String {
				faults = append(faults, notice.Notice{
					Kind: notice.Error, Place: el.Place, Path: "calibration", Excerpt: doc.Line(el.Place.Line), What: fmt.Sprintf("%q is no load with its reading", el.Value),
					WayOut: `type what hung on the scale and what it showed, as in "20 kgf = 20.1 kgf"`,
				})
				continue
			}
			c.Loads, c.Readings = append(c.Loads, x.Nominal()), append(c.Readings, y.Nominal())
			taken = append(taken, el)
		}
		if a, b, ok := falling(c.Loads, c.Readings); ok {
			faults = append(faults, notice.Notice{
				Kind: notice.Error, Place: taken[b].Place, Path: "calibration", Excerpt: doc.Line(taken[b].Place.Line), What: fmt.Sprintf("%q and %q: of these two loads in order the readings go against the others", taken[a].Value, taken[b].Value),
				Allowed: "a heavier load shows more at every load", WayOut: "hang these two again, or correct what was typed",
			})
		}
	}
	return faults
}

// calibrationsForm is how the points of a channel are typed.
const calibrationsForm = `type the channel and, for each point, its true value and what was shown, as in "winding temperature: 0 °C = 0.4 °C, 100 °C = 98.9 °C"`

// readCalibrations reads the points at which the instruments of a log's channels were calibrated, but for
// the pull's.
func readCalibrations(doc *design.Document, prefix string, columns []bench.Column) (map[bench.Channel]bench.Points, notice.List) {
	out := map[bench.Channel]bench.Points{}
	var faults notice.List
	for _, e := range doc.Entries() {
		if e.Path != prefix+"calibrations" {
			continue
		}
		if len(e.Elements) == 0 {
			faults = append(faults, notice.Notice{Kind: notice.Error, Place: e.Place, Path: "calibrations", Excerpt: e.Excerpt, What: "calibrations holds no channel", WayOut: calibrationsForm})
		}
		for _, el := range e.Elements {
			fault := func(what, allowed, wayOut string) {
				faults = append(faults, notice.Notice{Kind: notice.Error, Place: el.Place, Path: "calibrations", Excerpt: e.Excerpt, What: what, Allowed: allowed, WayOut: wayOut})
			}
			name, list, both := strings.Cut(el.Value, ":")
			c := bench.Channel(strings.TrimSpace(name))
			switch {
			case !both || el.Kind != design.String:
				fault(fmt.Sprintf("%q is no calibration of a channel", el.Value), "", calibrationsForm)
				continue
			case c == bench.Thrust:
				fault("the pull has a key of its own", "", `type calibration = ["0 kgf = 0.02 kgf", "20 kgf = 20.1 kgf", "40 kgf = 40.25 kgf"]`)
				continue
			case !slices.Contains(channelsKnown, c):
				fault(fmt.Sprintf("%q is no channel", c), channelNames(), "")
				continue
			case !slices.ContainsFunc(columns, func(x bench.Column) bool { return x.Channel == c }):
				fault(fmt.Sprintf("no column of this log is the %s", c), "", "type it under the [[log]] that holds the channel")
				continue
			case len(out[c].True) > 0:
				fault(fmt.Sprintf("the %s is calibrated twice", c), "", "type all its points in one line")
				continue
			}
			p := bench.Points{Place: el.Place}
			for _, point := range strings.Split(list, ",") {
				is, shown, both := strings.Cut(point, "=")
				x, err1 := quantity.ParseIn(strings.TrimSpace(is), bench.UnitOf(c))
				y, err2 := quantity.ParseIn(strings.TrimSpace(shown), bench.UnitOf(c))
				if !both || err1 != nil || err2 != nil {
					fault(fmt.Sprintf("%q is no true value of the %s with what was shown", strings.TrimSpace(point), c), "", calibrationsForm)
					continue
				}
				p.True, p.UTrue = append(p.True, x.Nominal()), append(p.UTrue, x.StandardUncertainty())
				p.Shown, p.UShown = append(p.Shown, y.Nominal()), append(p.UShown, y.StandardUncertainty())
			}
			if len(p.True) > 0 {
				if why := p.Fault(); why != nil {
					fault(fmt.Sprintf("the calibration of the %s cannot be used: %v", c, why), "", calibrationsForm)
					continue
				}
				out[c] = p
			}
		}
	}
	return out, faults
}

// readTrusted reads the channels that are used although they are in doubt.
func readTrusted(doc *design.Document, prefix string) (map[bench.Channel]bool, notice.List) {
	out := map[bench.Channel]bool{}
	var faults notice.List
	for _, e := range doc.Entries() {
		if e.Path != prefix+"trust" {
			continue
		}
		for _, el := range e.Elements {
			if !slices.Contains(channelsKnown, bench.Channel(el.Value)) || el.Kind != design.String {
				faults = append(faults, notice.Notice{
					Kind: notice.Error, Place: el.Place, Path: "trust", Excerpt: doc.Line(el.Place.Line), What: fmt.Sprintf("%q is no channel", el.Value), Allowed: channelNames(),
				})
				continue
			}
			out[bench.Channel(el.Value)] = true
		}
	}
	return out, faults
}

// Sources reads the logs of a run.
func (p *Project) Sources(r *Run) ([]bench.Source, notice.List, error) {
	var out []bench.Source
	var faults notice.List
	for i := range r.Logs {
		l := &r.Logs[i]
		log, more, err := p.read(r, l)
		if err != nil {
			return nil, nil, err
		}
		faults = append(faults, more...)
		s := l.source
		s.Log = log
		out = append(out, s)
	}
	return out, faults, nil
}

// read reads a log of a run.
func (p *Project) read(r *Run, l *Log) (*bench.Log, notice.List, error) {
	unreadable := func(err error) error {
		return unread(l.notice(notice.Error, "file", "", "", "put it back beside run.toml, or take its [[log]] out"), "the log "+l.File, err)
	}
	in, err := openStill(filepath.Join(p.Folder, RunsFolder, r.Name, l.File))
	if err != nil {
		return nil, nil, unreadable(err)
	}
	defer in.close()
	file := filepath.ToSlash(filepath.Join(RunsFolder, r.Name, l.File))
	input := in.input(file, p.Progress)
	var log *bench.Log
	var faults notice.List
	h, failed := input.Heading(l.Layout)
	if failed == nil {
		log, faults, failed = input.ReadChannels(l.Layout)
	}
	digest, err := in.settled()
	if err = cmp.Or(err, failed); err != nil {
		return nil, nil, unreadable(err)
	}
	against := l.against(file, in.size, digest, h)
	if err := against.Fatal(); err != nil {
		return nil, nil, err // the rest follows from it
	}
	if err := faults.Fatal(); err != nil {
		return nil, nil, err
	}
	faults = append(append(against, faults...), l.dated(r, log)...)
	log.Name = l.File
	return log, faults, nil
}

// Reduce turns the logs of a run into plateaus. The error names what stands in the way.
func (p *Project) Reduce(r *Run) (*bench.Reduction, error) {
	sources, faults, err := p.Sources(r)
	if err != nil {
		return nil, err
	}
	out, err := bench.Reduce(sources, bench.ReduceOptions{Run: r.Name, Place: r.Place, Zeros: r.Zeros, ZeroPlaces: r.zeroPlaces, Setup: r.setup, Level: r.Level, Motion: r.Motion})
	if err != nil {
		var list notice.List
		if errors.As(err, &list) { // what is doubtful in the logs may well be the reason
			return nil, append(faults, list...)
		}
		return nil, err
	}
	out.Notices = append(faults, out.Notices...)
	return out, nil
}

// readZeros reads the zero windows typed at the top of a run.toml.
func readZeros(doc *design.Document) ([]bench.Span, []quantity.Place, notice.List) {
	var spans []bench.Span
	var places []quantity.Place
	var faults notice.List
	second := quantity.MustUnit("s")
	for _, e := range doc.Entries() {
		if e.Path != zeroKey {
			continue
		}
		if len(e.Elements) == 0 {
			faults = append(faults, notice.Notice{Kind: notice.Error, Place: e.Place, Path: zeroKey, Excerpt: e.Excerpt, What: "zero holds no window", WayOut: `type zero = ["0 s .. 20 s"]`})
		}
		for _, el := range e.Elements {
			v, err := quantity.ParseIn(el.Value, second)
			if err != nil || el.Kind != design.String || !(v.High() > v.Low()) {
				faults = append(faults, notice.Notice{
					Kind: notice.Error, Place: el.Place, Path: zeroKey, Excerpt: doc.Line(el.Place.Line), What: fmt.Sprintf("%q is no stretch of time", el.Value), WayOut: `type zero = ["0 s .. 20 s", "900 s .. 920 s"], on the clock of the run's main log`,
				})
				continue
			}
			spans, places = append(spans, bench.Span{From: v.Low(), To: v.High()}), append(places, el.Place)
		}
	}
	return spans, places, faults
}

// channelsKnown are the channels that a column may be.
var channelsKnown = []bench.Channel{
	bench.Thrust, bench.Power, bench.RotorSpeed, bench.PhaseCurrent, bench.BatteryVoltage, bench.BatteryCurrent,
	bench.WindingTemperature, bench.BridgeTemperature, bench.CaseTemperature, bench.WaterTemperature,
}

func channelNames() string {
	names := make([]string, len(channelsKnown))
	for i, c := range channelsKnown {
		names[i] = string(c)
	}
	return strings.Join(names, ", ")
}

// readColumn reads "name [unit] = channel"; unit and channel may be left out.
func readColumn(text string) (bench.Column, bool) {
	var c bench.Column
	name, channel, _ := strings.Cut(text, " = ")
	name = strings.TrimSpace(name)
	channel, tolerance, _ := strings.Cut(strings.ReplaceAll(channel, "+/-", "±"), "±")
	if i := strings.LastIndexByte(name, '['); i > 0 && strings.HasSuffix(name, "]") {
		u, ok := quantity.LookupUnit(name[i+1 : len(name)-1])
		if !ok {
			return c, false
		}
		name, c.Unit = strings.TrimSpace(name[:i]), u
	}
	c.Name = name
	switch channel = strings.TrimSpace(channel); channel {
	case "":
		return c, name != ""
	case "words":
		c.Text = true
		return c, name != ""
	}
	for _, k := range channelsKnown {
		if string(k) == channel {
			c.Channel = k
			return c, name != "" && readTolerance(&c, tolerance)
		}
	}
	return c, false
}

// readTolerance reads "0.5 %", "0.1 kgf" or both with a ± between them.
func readTolerance(c *bench.Column, text string) bool {
	if strings.TrimSpace(text) == "" {
		return true
	}
	for _, part := range strings.Split(text, "±") {
		v, err := quantity.Parse(strings.TrimSpace(part))
		if err != nil || !v.IsExact() || v.Nominal() < 0 || v.Unit().Offset != 0 {
			return false
		}
		of := c.Unit.Dim
		of.Point = false // a temperature is off by a difference
		switch share := quantity.MustUnit("%").Dim; {
		case v.Dim() == share && c.Unit.Dim != share:
			c.Tolerance.Relative += v.Nominal()
		case v.Dim() == of, c.Channel == bench.Thrust && c.Unit.Symbol == "":
			c.Tolerance.Absolute += v.Nominal()
		default:
			return false
		}
	}
	c.Tolerance.Text = "± " + strings.TrimSpace(text)
	return true
}

// columnText writes a column as readColumn reads it.
func columnText(c bench.Column) string {
	t := c.Name
	if c.Unit.Symbol != "" {
		t += " [" + c.Unit.Symbol + "]"
	}
	switch {
	case c.Text:
		t += " = words"
	case c.Channel != "":
		t += " = " + string(c.Channel)
		if c.Tolerance.Text != "" {
			t += " " + c.Tolerance.Text
		}
	}
	return t
}

// Adopted is a log that was taken in, with what was guessed of it.
type Adopted struct {
	Log
	Rows     int
	Duration float64 // s
	First    [][]string
	Missing  []int
	Notices  notice.List
}

// shownRows is how many rows of an adopted log are shown.
const shownRows = 4

// Adopt takes logs into a run: each is copied beside run.toml to the byte, and how it is read
// is guessed and written there. A log that is there already is not written over.
// A log is read in blocks, and never held whole. Progress, which may be nil, is told how many bytes of a file are read,
// and then how many of them are copied, from any goroutine.
func (p *Project) Adopt(run string, files []string, progress func(file string, done, total int)) ([]Adopted, error) {
	return p.AdoptAs(run, files, nil, progress)
}

// AdoptAs is Adopt with corrections of what is guessed.
func (p *Project) AdoptAs(run string, files []string, corrections []Correction, progress func(file string, done, total int)) ([]Adopted, error) {
	if err := checkRunName(run); err != nil {
		return nil, err
	}
	folder := filepath.Join(p.Folder, RunsFolder, run)
	path := filepath.Join(folder, RunFile)
	name := filepath.ToSlash(filepath.Join(RunsFolder, run, RunFile))
	text, err := os.ReadFile(path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, explain(p.Folder, err)
	}
	doc, faults := design.ParseDocument(name, p.begun(text))
	if err := faults.Fatal(); err != nil {
		return nil, err
	}
	adopted, _ := readLogs(doc)
	for _, l := range adopted {
		for _, file := range files {
			if filepath.Base(file) == l.File {
				return nil, notice.List{{Kind: notice.Error, Place: l.Place, What: "the run has adopted " + l.File + " already", WayOut: "correct how it is read here, in " + name}}
			}
		}
	}
	var out []Adopted
	opened := map[string]*still{}
	for _, file := range files {
		in, err := openStill(file)
		if err != nil {
			return nil, unread(notice.Notice{Place: quantity.Place{File: file}}, "the log", err)
		}
		defer in.close()
		a, err := adopt(in, progress)
		if err != nil {
			return nil, err
		}
		if _, twice := opened[a.File]; twice {
			return nil, notice.List{{Kind: notice.Error, Place: quantity.Place{File: file}, What: "two logs have this name", WayOut: "give one of them another"}}
		}
		if err := notElsewhere(folder, file, a.Log); err != nil {
			return nil, err
		}
		opened[a.File] = in
		if doc, err = doc.Append("log", pairs(a.Log)); err != nil {
			return nil, err
		}
		out = append(out, a)
	}
	for _, c := range corrections {
		if doc, err = c.write(doc); err != nil {
			return nil, err
		}
	}
	if _, faults := readRun(run, name, doc.Bytes(), p.Design); faults.Fatal() != nil {
		return nil, faults
	}
	undo, err := makeFolders(folder)
	if err != nil {
		return nil, unmade(folder, err)
	}
	var outputs []output
	for _, a := range out {
		to := filepath.Join(folder, a.File)
		if _, err := os.Stat(to); err == nil {
			continue // it stands there already, byte for byte
		}
		o := output{path: to, log: opened[a.File], guarded: true}
		if progress != nil {
			o.told = func(done int) { progress("copy of "+a.File, done, a.size) }
		}
		outputs = append(outputs, o)
	}
	if err := replace(append(outputs, output{path: path, data: doc.Bytes(), guarded: true, was: text})...); err != nil {
		undo()
		return nil, err
	}
	return out, nil
}

// notElsewhere refuses a log whose name is taken in the run by other bytes.
func notElsewhere(folder, file string, l Log) error {
	there, err := openStill(filepath.Join(folder, l.File))
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return explain(folder, err)
	}
	defer there.close()
	same := there.size == int64(l.size)
	if same {
		digest, err := there.settled()
		if err != nil {
			return explain(folder, err)
		}
		same = digest == l.digest
	}
	if !same {
		return notice.List{{Kind: notice.Error, Place: quantity.Place{File: file}, What: "the run has another log of this name, which stays as it is", WayOut: "give this one another name"}}
	}
	return nil
}

// adopt reads a log and guesses how.
func adopt(in *still, progress func(file string, done, total int)) (Adopted, error) {
	var a Adopted
	file := in.path
	log, faults, failed := in.input(file, progress).Adopt()
	digest, err := in.settled()
	if err = cmp.Or(err, failed); err != nil {
		return a, unread(notice.Notice{Place: quantity.Place{File: file}}, "the log", err)
	}
	if err := faults.Fatal(); err != nil {
		return a, err
	}
	a.File, a.size, a.digest = filepath.Base(file), int(in.size), digest
	l := log.Layout
	l.Columns = writable(l.Columns)
	a.Layout, a.Rows, a.Missing, a.Notices = l, log.Rows(), log.Missing, faults
	a.Duration = log.Time[log.Rows()-1]
	if age := max(0, time.Since(in.written)); age < freshest { // a disk elsewhere may be ahead of this clock
		a.Notices = append(a.Notices, notice.Notice{
			Kind: notice.Remark, Place: quantity.Place{File: file}, What: fmt.Sprintf("it was written to %.1f s ago; if a program still writes it, the run holds its first %d rows and no more", age.Seconds(), a.Rows),
			WayOut: "adopt a log when the program that writes it has ended",
		})
	}
	for i := range min(shownRows, log.Rows()) {
		row := make([]string, len(l.Columns))
		for k, c := range l.Columns {
			switch x := log.Values[k][i]; {
			case k == l.Time:
				row[k] = strconv.FormatFloat(log.Time[i], 'g', 6, 64) + " s"
			case x != x:
				row[k] = "-"
			case c.Unit.Symbol != "":
				row[k] = quantity.Format(x, c.Unit)
			default:
				row[k] = strconv.FormatFloat(x, 'g', 6, 64)
			}
		}
		a.First = append(a.First, row)
	}
	return a, nil
}

// pairs are the keys of a [[log]].
func pairs(l Log) []design.Pair {
	word := func(b byte) string {
		for w, d := range delimiters {
			if d == b {
				return w
			}
		}
		return "comma"
	}
	decimal := "point"
	if l.Layout.Decimal == ',' {
		decimal = "comma"
	}
	p := []design.Pair{
		{Key: "file", Value: l.File},
		{Key: "encoding", Value: l.Layout.Encoding},
		{Key: "delimiter", Value: word(l.Layout.Delimiter)},
		{Key: "decimal", Value: decimal},
		{Key: "header_line", Value: strconv.Itoa(l.Layout.HeaderLine), Kind: design.Integer},
		{Key: "first_line", Value: strconv.Itoa(l.Layout.FirstLine), Kind: design.Integer},
	}
	if l.Layout.Time >= 0 {
		p = append(p, design.Pair{Key: "time", Value: l.Layout.Columns[l.Layout.Time].Name}, design.Pair{Key: "time_format", Value: l.Layout.TimeFormat})
		if l.Layout.TimeFormat == bench.Elapsed {
			p = append(p, design.Pair{Key: "time_unit", Value: l.Layout.TimeUnit.Symbol})
		}
	}
	place, convention := l.Layout.Said()
	if place != "" {
		p = append(p, design.Pair{Key: "power_place", Value: place})
	}
	if convention != "" {
		p = append(p, design.Pair{Key: "phase_current_convention", Value: convention})
	}
	p = append(p, design.Pair{Key: "bytes", Value: strconv.Itoa(l.size), Kind: design.Integer}, design.Pair{Key: "sha256", Value: l.digest})
	columns := make([]string, len(l.Layout.Columns))
	for i, c := range l.Layout.Columns {
		columns[i] = design.Quoted(columnText(c))
	}
	return append(p, design.Pair{Key: "channels", Value: "[" + strings.Join(columns, ", ") + "]", Kind: design.Array})
}
