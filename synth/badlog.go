package synth

import (
	"encoding/binary"
	"math"
	"math/rand/v2"
	"strconv"
	"time"
	"unicode/utf16"
	"unicode/utf8"
)

// badColumn is one column of numbers on its way into a log.
type badColumn struct {
	ColumnTruth
	digits int
	step   int64     // in units of the last digit
	values []float64 // as the sensor gives them, then as the ills leave them
	shown  []int64   // in units of the last digit
}

// badFile is one log on its way.
type badFile struct {
	FileTruth
	place   int // in the list of instruments
	maker   instrument
	run     []float64 // run time of each row
	clock   []int64   // ms, of each row
	columns []badColumn
	states  []string // words in a last column, if there are

	german     bool
	preface    []string
	timeName   string
	timeUnit   string
	unitLeft   string // around a unit in a name
	unitRight  string
	end, other string

	date     []byte // as written last, and the days that it lies after the first
	dateDays int
	midnight int64 // ms from midnight to run time 0

	order []int32 // rows as they are written
	// the ills of the text
	quoted, quotedNames          bool
	thousands                    string
	nul, blank, comment          int
	mixed, words, empty          float64
	truncated, unitsLine         bool
	trailing, trailingNames      bool
	restart                      int32 // row before which the header stands again, −1: none
	nulMade, mixedMade, wordMade int
	emptyMade                    int
	text                         *rand.Rand // draws of the text ills
}

// names of channels in two languages, invented: every log has an umlaut in one of its German ones.
var badNames = map[string][2]string{
	Pull:                {"pull", "Prüfkraft"},
	Pull2:               {"pull second scale", "Prüfkraft zweite Waage"},
	BatteryVoltage:      {"battery voltage", "Batteriespannung"},
	BatteryCurrent:      {"battery current", "Batteriestrom"},
	PhaseCurrent:        {"phase current", "Phasenstrom"},
	RotorSpeed:          {"rotor speed", "Läuferdrehzahl"},
	WindingTemperature:  {"winding temp", "Temperatur Wicklung"},
	BridgeTemperature:   {"bridge temp", "Temperatur Brücke"},
	Throttle:            {"throttle", "Gasgriff"},
	WindingTemperature2: {"winding probe", "Fühler Wicklung"},
	WaterTemperature:    {"water temp", "Temperatur Wasser"},
	ShuntPower:          {"shunt power", "Zählerleistung"},
	ShuntVoltage:        {"shunt voltage", "Zählerspannung"},
	ShuntCurrent:        {"shunt current", "Zählerstrom"},
}

// file lays out a log and fills it with what a healthy instrument would show.
func (b badBench) file(d BadDay, tr *badTrace, place int) *badFile {
	in := b.instruments[place]
	r := rand.New(rand.NewPCG(d.Seed, streamBadLayout+uint64(place)))
	f := &badFile{place: place, maker: in, restart: -1}
	german := r.IntN(2) == 0
	f.german = german || d.umlauts(len(b.instruments)) == place
	f.Kind, f.Rate, f.Encoding = in.kind, in.rate, "utf-8"
	stems := map[string][]string{
		kindScale:      {"scale.csv", "zug.csv", "PULL03.TXT"},
		kindController: {"controller.csv", "regler.csv", "DRIVE012.CSV"},
		kindLogger:     {"temperature.csv", "waerme.csv", "PROBE7.TXT"},
		kindMeter:      {"watt.csv", "leistung.csv", "SHUNT01.TXT"},
	}
	f.Name = stems[in.kind][r.IntN(3)]
	points, commas := []string{",", ";", "\t"}[r.IntN(3)], []string{";", ";", "\t"}[r.IntN(3)]
	f.Decimal, f.Delimiter = ".", points
	if comma := r.IntN(4) > 0; f.german && comma {
		f.Decimal, f.Delimiter = ",", commas
	}
	f.end, f.other = "\n", "\r\n"
	if r.IntN(2) == 0 {
		f.end, f.other = f.other, f.end
	}
	round := r.IntN(2) == 0
	f.unitLeft, f.unitRight = " [", "]"
	if round {
		f.unitLeft, f.unitRight = " (", ")"
	}
	f.Clock = ClockTruth{Offset: in.offset, Drift: in.drift, Lag: in.lag}
	milli, date := r.IntN(4) == 0, r.IntN(2) == 0
	language := 0
	if f.german {
		language = 1
	}
	switch {
	case in.elapsed && milli:
		f.Clock.Form, f.timeName, f.timeUnit = "elapsed_ms", [2]string{"time", "Zeit"}[language], "ms"
	case in.elapsed:
		f.Clock.Form, f.timeName, f.timeUnit = "elapsed_s", [2]string{"time", "Zeit"}[language], "s"
	case date:
		f.Clock.Form, f.timeName = "date_time", [2]string{"date and time", "Datum und Uhrzeit"}[language]
	default:
		f.Clock.Form, f.timeName = "time_of_day", [2]string{"clock", "Uhrzeit"}[language]
	}
	words := [3]string{"Riverbank log, issue 2", "serial no 0417", "written by the bench"}
	if f.german {
		words = [3]string{"Uferschreiber, Ausgabe 2", "Seriennummer 0417", "vom Prüfstand geschrieben"}
	}
	lines := r.IntN(4)
	if in.kind == kindController { // rarely says who it is
		lines = max(0, lines-2)
	}
	f.preface = words[:lines]
	pullUnit := r.IntN(4)
	status := r.IntN(5) < 2 && in.kind == kindScale
	shuffle := r.Uint64()

	// the rows: the time of a row is what the row says
	first := int64(math.Round(1000 * in.clock(in.begin)))
	if in.elapsed {
		first = max(first, 0)
	}
	count := int((in.end-in.begin)*in.rate) + 2
	f.run, f.clock = make([]float64, 0, count), make([]int64, 0, count)
	for k := range count {
		ms := first + int64(math.Round(1000*float64(k)/in.rate))
		t := in.run(float64(ms) / 1000)
		if t > in.end {
			break
		}
		f.run, f.clock = append(f.run, t), append(f.clock, ms)
	}
	f.Rows = len(f.run)

	// where each row lies on the grid
	at, share := make([]int32, f.Rows), make([]float64, f.Rows)
	for k, t := range f.run {
		x := (t - tr.begin) / badGrid
		i := min(max(int(x), 0), len(tr.states)-2)
		at[k], share[k] = int32(i), x-float64(i)
	}
	degree := "°C"
	if r.IntN(3) == 0 {
		degree = "degC"
	}
	add := func(channel, unit string, digits int, step int64, scale, gain, tare, white float64, signal []float64) {
		c := badColumn{digits: digits, step: step, values: make([]float64, f.Rows)}
		c.ColumnTruth = ColumnTruth{Channel: channel, Carries: channel, Name: badNames[channel][language], Unit: unit, TrueUnit: unit, Gain: gain, Tare: tare, Healthy: true}
		noise := rand.New(rand.NewPCG(d.Seed, streamBadNoise+uint64(20*place+len(f.columns))))
		for k, i := range at {
			v := signal[i] + share[k]*(signal[i+1]-signal[i])
			c.values[k] = scale * ((1+gain)*v + tare + white*noise.NormFloat64())
		}
		f.columns = append(f.columns, c)
	}
	day, c := b.day, b.corrections
	battery := func(i int) float64 { return tr.states[i].battery * (1 + tr.powerShare[i]) }
	switch in.kind {
	case kindScale:
		most := 1.0
		for _, v := range tr.tension {
			most = math.Max(most, v)
		}
		omega := 0.0
		if c.FloatPeriod > 0 {
			omega = 2 * math.Pi / c.FloatPeriod
		}
		signal := tr.signal(in.lag, func(i int) float64 {
			t := tr.time(i)
			force := tr.tension[i] * (1 + 2./3*tr.powerShare[i] + tr.surgeShare[i] + c.FloatAmplitude*math.Sin(omega*t+c.FloatPhase)) * (1 + c.GravityGain.True)
			x := tr.tension[i] / most
			return b.response(force) + c.Hysteresis.True*4*x*(1-x)*(1-tr.direction[i])/2 +
				(c.TareDrift.True+c.LevelForce.True*c.LevelChange.True)*t/day.Length()
		})
		unit := []string{"N", "kgf", "kg", "g"}[pullUnit]
		if d.has(IllUnit) && d.unitForm() == "kgf_as_N" {
			unit = "kgf"
		}
		digits, step, scale := 1, int64(1), 1.0
		switch unit {
		case "kgf", "kg":
			digits, step, scale = 2, 1, 1/gravity
		case "g":
			digits, step, scale = 0, 10, 1000/gravity
		}
		add(Pull, unit, digits, step, scale, 0, c.Tare.True, 0.3, signal)
		f.columns[0].Gain, f.columns[0].Tare = c.ScaleGain.True, c.Tare.True
		if b.second {
			second := tr.signal(in.lag, func(i int) float64 {
				return tr.tension[i] * (1 + 2./3*tr.powerShare[i] + tr.surgeShare[i] + c.FloatAmplitude*math.Sin(omega*tr.time(i)+c.FloatPhase))
			})
			add(Pull2, unit, digits, step, scale, b.secondGain, b.secondTare, 0.3, second)
		}
		if status {
			f.states = []string{"steady", "moving"}
			if f.german {
				f.states = []string{"ruhig", "bewegt"}
			}
		}
	case kindController:
		amps := tr.signal(0, func(i int) float64 { return batteryCurrent(battery(i)) })
		add(BatteryVoltage, "V", 1, 1, 1, b.voltageGain, 0, 0.03, tr.signal(0, func(i int) float64 { return openVoltage - batteryOhm*amps[i] }))
		add(BatteryCurrent, "A", 1, 1, 1, b.currentGain, 0, 0.2, amps)
		add(PhaseCurrent, "A", 1, 1, 1, b.currentGain, 0, 0.2, tr.signal(0, func(i int) float64 { return tr.states[i].phase * (1 + tr.phaseShare[i]) }))
		add(RotorSpeed, "rpm", 0, 1, 1, 0, 0, 0, tr.signal(0, func(i int) float64 {
			return 60 * tr.states[i].speed * (1 + tr.powerShare[i]/3 + tr.speedShare[i])
		}))
		add(WindingTemperature, degree, 1, 1, 1, 0, 0, 0.05, tr.signal(0, func(i int) float64 { return tr.states[i].winding }))
		add(BridgeTemperature, degree, 1, 5, 1, 0, 0, 0.1, tr.signal(0, func(i int) float64 { return tr.states[i].bridgeTemperature }))
		add(Throttle, "%", 1, 1, 1, 0, 0, 0, tr.signal(0, func(i int) float64 {
			wanted, _ := day.wanted(tr.time(i))
			return 100 * math.Cbrt(wanted/throttleFull)
		}))
		for k, v := range f.columns[2].values {
			f.columns[2].values[k] = math.Abs(v) // an rms value has no sign
		}
	case kindLogger:
		add(WindingTemperature2, degree, 1, 1, 1, 0, 0, 0.1, tr.signal(in.lag, func(i int) float64 { return tr.states[i].winding }))
		add(WaterTemperature, degree, 1, 1, 1, 0, 0, 0.05, tr.signal(0, func(int) float64 { return day.WaterTemperature }))
	case kindMeter:
		// its shunt and its voltage tap see the power as the controller does, through its own lag
		amps := tr.signal(in.lag, func(i int) float64 { return batteryCurrent(battery(i)) })
		add(ShuntPower, "W", 1, 1, 1, b.meterGain, 0, 1, tr.signal(0, func(i int) float64 { return amps[i] * (openVoltage - batteryOhm*amps[i]) }))
		add(ShuntVoltage, "V", 2, 1, 1, 0, 0, 0.01, tr.signal(0, func(i int) float64 { return openVoltage - batteryOhm*amps[i] }))
		add(ShuntCurrent, "A", 2, 1, 1, b.meterGain, 0, 0.03, amps)
	}
	order := rand.New(rand.NewPCG(shuffle, streamBad))
	order.Shuffle(len(f.columns), func(i, j int) { f.columns[i], f.columns[j] = f.columns[j], f.columns[i] })
	f.order = make([]int32, f.Rows)
	for k := range f.order {
		f.order[k] = int32(k)
	}
	return f
}

// column finds the column of a channel.
func (f *badFile) column(channel string) *badColumn {
	for i := range f.columns {
		if f.columns[i].Channel == channel {
			return &f.columns[i]
		}
	}
	return nil
}

// most is the largest size of a column's values.
func (c *badColumn) most() float64 {
	var most float64
	for _, v := range c.values {
		most = math.Max(most, math.Abs(v))
	}
	return most
}

// show rounds every value to what the instrument shows.
func (f *badFile) show() {
	for i := range f.columns {
		c := &f.columns[i]
		c.shown = make([]int64, len(c.values))
		per := math.Pow10(c.digits) / float64(c.step)
		for k, v := range c.values {
			c.shown[k] = int64(math.Round(v*per)) * c.step
		}
	}
}

// write gives the bytes of the log.
func (f *badFile) write(start time.Time) []byte {
	out := make([]byte, 0, 2000+len(f.order)*(14+7*len(f.columns)))
	r := f.text
	kind := map[int32][]byte{} // what happens at or before a written row
	place := func(what byte, count int) {
		for range count {
			at := int32(1 + r.IntN(max(1, len(f.order)-2)))
			kind[at] = append(kind[at], what)
		}
	}
	if r != nil {
		place('0', f.nul)
		place('b', f.blank)
		place('#', f.comment)
	}
	endLine := func() {
		if f.mixed > 0 && r.Float64() < f.mixed {
			out = append(out, f.other...)
			f.mixedMade++
			return
		}
		out = append(out, f.end...)
	}
	cell := func(s string, quote bool) {
		if quote {
			out = append(out, '"')
			out = append(out, s...)
			out = append(out, '"')
			return
		}
		out = append(out, s...)
	}
	header := func() {
		name := f.timeName
		if !f.unitsLine && f.timeUnit != "" {
			name += f.unitLeft + f.timeUnit + f.unitRight
		}
		cell(name, f.quotedNames)
		for i := range f.columns {
			out = append(out, f.Delimiter...)
			name := f.columns[i].Name
			if !f.unitsLine {
				name += f.unitLeft + f.columns[i].Unit + f.unitRight
			}
			cell(name, f.quotedNames)
		}
		if f.states != nil {
			out = append(out, f.Delimiter...)
			cell("status", f.quotedNames)
		}
		if f.trailingNames {
			out = append(out, f.Delimiter...)
		}
		endLine()
		if !f.unitsLine {
			return
		}
		cell(f.timeUnit, f.quotedNames)
		for i := range f.columns {
			out = append(out, f.Delimiter...)
			cell(f.columns[i].Unit, f.quotedNames)
		}
		if f.states != nil {
			out = append(out, f.Delimiter...)
			cell("", f.quotedNames)
		}
		if f.trailingNames {
			out = append(out, f.Delimiter...)
		}
		endLine()
	}
	for _, p := range f.preface {
		out = append(out, p...)
		endLine()
	}
	if f.comment > 0 {
		out = append(out, "# bench day of the boat"...)
		endLine()
	}
	header()
	pull, calm := f.column(Pull), 0.0
	if pull != nil {
		calm = 0.01 * pull.most()
	}
	lastRow := 0
	words := [...]string{"n/a", "---", "ERR"}
	anyWord, anyEmpty := len(f.order)/2, len(f.order)/3 // at least these rows have one
	for n, k := range f.order {
		if k == f.restart {
			header()
			f.restart = -1
		}
		spoil := false
		if len(kind) > 0 {
			for _, what := range kind[int32(n)] {
				switch what {
				case 'b':
					endLine()
				case '#':
					out = append(out, "# seen by the builder"...)
					endLine()
				case '0':
					spoil = true
				}
			}
		}
		lastRow = len(out)
		if f.quoted {
			out = append(out, '"')
		}
		out = f.appendClock(out, f.clock[k], start)
		if f.quoted {
			out = append(out, '"')
		}
		word, empty := -1, -1
		if f.words > 0 && (r.Float64() < f.words || n == anyWord) {
			word = r.IntN(len(f.columns))
			f.wordMade++
		}
		if f.empty > 0 && (r.Float64() < f.empty || n == anyEmpty) {
			if empty = r.IntN(len(f.columns)); empty == word {
				empty = -1
			} else {
				f.emptyMade++
			}
		}
		for i := range f.columns {
			c := &f.columns[i]
			out = append(out, f.Delimiter...)
			if f.quoted {
				out = append(out, '"')
			}
			switch i {
			case word:
				out = append(out, words[r.IntN(3)]...)
			case empty:
			default:
				out = appendFixed(out, c.shown[k], c.digits, f.Decimal[0], f.thousands)
			}
			if f.quoted {
				out = append(out, '"')
			}
		}
		if f.states != nil {
			out = append(out, f.Delimiter...)
			word := f.states[0]
			if k > 0 && math.Abs(pull.values[k]-pull.values[k-1]) > calm {
				word = f.states[1]
			}
			cell(word, f.quoted)
		}
		if f.trailing {
			out = append(out, f.Delimiter...)
		}
		if spoil {
			from := lastRow + r.IntN(len(out)-lastRow)
			for i := from; i < min(len(out), from+1+r.IntN(12)); i++ {
				if out[i] < 0x80 {
					out[i] = 0
				}
			}
			if out[from] != 0 { // inside a letter of more bytes
				out[lastRow] = 0
			}
			f.nulMade++
		}
		endLine()
	}
	if f.truncated {
		length := len(out) - lastRow - len(f.end)
		keep := lastRow + 1 + r.IntN(max(1, length-2))
		for keep > lastRow+1 && !utf8.RuneStart(out[keep]) {
			keep--
		}
		out = out[:keep]
	}
	return f.encode(out)
}

// encode writes text in the code of the log.
func (f *badFile) encode(text []byte) []byte {
	switch f.Encoding {
	case "utf-8":
		return text
	case "windows-1252":
		return windows1252(string(text))
	}
	var order binary.AppendByteOrder = binary.LittleEndian
	if f.Encoding == "utf-16be" || f.Encoding == "utf-16be-mark" {
		order = binary.BigEndian
	}
	out := make([]byte, 0, 2*len(text)+2)
	if f.Encoding == "utf-16le-mark" || f.Encoding == "utf-16be-mark" {
		out = order.AppendUint16(out, 0xfeff)
	}
	for i := 0; i < len(text); {
		if text[i] < utf8.RuneSelf {
			out = order.AppendUint16(out, uint16(text[i]))
			i++
			continue
		}
		letter, size := utf8.DecodeRune(text[i:])
		for _, u := range utf16.Encode([]rune{letter}) {
			out = order.AppendUint16(out, u)
		}
		i += size
	}
	return out
}

// appendClock writes what the clock shows.
func (f *badFile) appendClock(out []byte, ms int64, start time.Time) []byte {
	switch f.Clock.Form {
	case "elapsed_ms":
		return strconv.AppendInt(out, ms, 10)
	case "elapsed_s":
		return appendFixed(out, ms, 3, f.Decimal[0], "")
	}
	const dayLength = 86400000
	if f.midnight == 0 {
		f.midnight = sinceMidnight(start)
	}
	at := f.midnight + ms
	days := 0
	for ; at < 0; at += dayLength {
		days--
	}
	for ; at >= dayLength; at -= dayLength {
		days++
	}
	if f.Clock.Form == "date_time" {
		if f.date == nil || days != f.dateDays {
			layout := "2006-01-02"
			if f.german {
				layout = "02.01.2006"
			}
			f.date, f.dateDays = start.AddDate(0, 0, days).AppendFormat(f.date[:0], layout), days
		}
		out = append(out, f.date...)
		out = append(out, ' ')
	}
	out = append(appendTwo(out, at/3600000), ':')
	out = append(appendTwo(out, at/60000%60), ':')
	out = append(appendTwo(out, at/1000%60), f.Decimal[0])
	return append(out, byte('0'+at/100%10), byte('0'+at/10%10), byte('0'+at%10))
}

func appendTwo(out []byte, v int64) []byte { return append(out, byte('0'+v/10%10), byte('0'+v%10)) }

// appendFixed writes v·10^−digits with this decimal sign and this mark between thousands.
func appendFixed(out []byte, v int64, digits int, decimal byte, thousands string) []byte {
	if v < 0 {
		out, v = append(out, '-'), -v
	}
	per := int64(1)
	for range digits {
		per *= 10
	}
	whole, rest := v/per, v%per
	if thousands != "" && whole >= 1000 {
		out = strconv.AppendInt(out, whole/1000, 10)
		out = append(out, thousands...)
		whole %= 1000
		out = append(out, byte('0'+whole/100), byte('0'+whole/10%10), byte('0'+whole%10))
	} else {
		out = strconv.AppendInt(out, whole, 10)
	}
	if digits > 0 {
		out = append(out, decimal)
		for per /= 10; per > 0; per /= 10 {
			out = append(out, byte('0'+rest/per%10))
		}
	}
	return out
}

// Make writes the logs of the day and its truth.
func (d BadDay) Make() ([]NamedFile, BadTruth) {
	b := d.bench()
	tr := b.simulate(d.Seed)
	truth := b.truth(d.Seed, tr)
	files := make([]*badFile, len(b.instruments))
	for i := range files {
		files[i] = b.file(d, tr, i)
	}
	m := misery{day: d, bench: b, trace: tr, files: files, truth: &truth}
	m.lay()
	start := badStart(d.Seed)
	truth.Start = float64(start.UnixMilli()) / 1000
	var out []NamedFile
	for _, f := range files {
		out = append(out, NamedFile{f.Name, f.write(start)})
	}
	m.finish()
	return out, truth
}

// badStart is the controller's clock at run time 0.
func badStart(seed uint64) time.Time {
	r := rand.New(rand.NewPCG(seed, streamBad+3))
	return time.Date(2026, time.Month(4+r.IntN(6)), 1+r.IntN(28), 8+r.IntN(9), r.IntN(60), r.IntN(60), r.IntN(1000)*1e6, time.UTC)
}

// sinceMidnight is a time of day in ms.
func sinceMidnight(t time.Time) int64 {
	return int64(t.Hour()*3600000 + t.Minute()*60000 + t.Second()*1000 + t.Nanosecond()/1e6)
}
