package synth

import (
	"math"
	"math/rand/v2"
	"slices"
)

// misery lays the ills on the logs of a day.
type misery struct {
	day      BadDay
	bench    badBench
	trace    *badTrace
	files    []*badFile
	truth    *BadTruth
	faults   []*IllTruth
	restarts map[*badFile]restart
	later    []func() // what is known once the bytes are written
}

// restart is the moment at which an instrument began anew.
type restart struct {
	at, lost float64
	row      int32 // the first row after it
}

// draws gives the stream of an ill; its first number tells the file.
func (d BadDay) draws(ill string) *rand.Rand {
	place := slices.IndexFunc(ills, func(i Ill) bool { return i.Name == ill })
	return rand.New(rand.NewPCG(d.Seed, streamBadIll+uint64(place)))
}

// unitForm is which unit is wrong.
func (d BadDay) unitForm() string {
	return []string{"kgf_as_N", "degF_as_degC"}[d.draws(IllUnit).IntN(2)]
}

// encodings are the ills of which a file can have only one; a second one goes to the next file,
// and is left out where all have one. It gives the ill of each file.
func (d BadDay) encodings(files int) []string {
	out := make([]string, files)
	for _, ill := range []string{IllUTF16Mark, IllUTF16Bare, IllWindows1252} {
		if !d.has(ill) {
			continue
		}
		first := d.draws(ill).IntN(files)
		for k := range files {
			if place := (first + k) % files; out[place] == "" {
				out[place] = ill
				break
			}
		}
	}
	return out
}

// umlauts is the file that is in Windows-1252, −1 for none.
func (d BadDay) umlauts(files int) int { return slices.Index(d.encodings(files), IllWindows1252) }

// on tells whether an ill is there, and gives its stream and its file.
func (m *misery) on(ill string) (*rand.Rand, *badFile, bool) {
	if !m.day.has(ill) {
		return nil, nil, false
	}
	r := m.day.draws(ill)
	return r, m.files[r.IntN(len(m.files))], true
}

// fault records an ill of a file, over all of it.
func (m *misery) fault(ill string, f *badFile) *IllTruth {
	t := &IllTruth{Name: ill, File: f.Name, Span: Span{f.run[0], f.run[len(f.run)-1]}}
	m.faults = append(m.faults, t)
	return t
}

// sick records an ill of a channel.
func (m *misery) sick(ill string, f *badFile, c *badColumn) *IllTruth {
	c.Healthy = false
	t := m.fault(ill, f)
	t.Channel, t.Unit = c.Channel, c.Unit
	return t
}

// pick draws one of the channels that the day's logs have.
func (m *misery) pick(r *rand.Rand, channels ...string) (*badFile, *badColumn) {
	var files []*badFile
	var columns []*badColumn
	for _, f := range m.files {
		for _, name := range channels {
			if c := f.column(name); c != nil {
				files, columns = append(files, f), append(columns, c)
			}
		}
	}
	i := r.IntN(len(columns))
	return files[i], columns[i]
}

func draw(r *rand.Rand, lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }

// either draws a sign.
func either(r *rand.Rand) float64 { return float64(2*r.IntN(2) - 1) }

// lay puts all ills of the day on its logs.
func (m *misery) lay() {
	m.restarts = map[*badFile]restart{}
	m.channels()
	for _, f := range m.files {
		f.show()
	}
	m.freeze()
	m.rows()
	m.layouts()
	for _, f := range m.files {
		f.text = rand.New(rand.NewPCG(m.day.Seed, streamBad+40+uint64(f.place)))
	}
}

// channels spoils what the sensors give.
func (m *misery) channels() {
	scale, controller := m.files[0], m.files[1]
	if m.day.has(IllUnit) {
		r := m.day.draws(IllUnit)
		if m.day.unitForm() == "kgf_as_N" {
			c := scale.column(Pull)
			c.Unit = "N"
			t := m.sick(IllUnit, scale, c)
			t.Form, t.TrueUnit = "kgf_as_N", c.TrueUnit
		} else {
			r.IntN(2)
			c := controller.column([]string{WindingTemperature, BridgeTemperature}[r.IntN(2)])
			c.TrueUnit = "°F"
			for k, v := range c.values {
				c.values[k] = 1.8*v + 32
			}
			t := m.sick(IllUnit, controller, c)
			t.Form, t.TrueUnit = "degF_as_degC", c.TrueUnit
		}
	}
	scaled := func(ill string, f *badFile, channel string, by float64) *IllTruth {
		c := f.column(channel)
		for k := range c.values {
			c.values[k] *= by
		}
		return m.sick(ill, f, c)
	}
	if r, _, ok := m.on(IllCurrentLow); ok {
		gain := -draw(r, 0.3, 0.5)
		scaled(IllCurrentLow, controller, BatteryCurrent, 1+gain).Gain = gain
		c := controller.column(BatteryCurrent)
		c.Gain = (1+c.Gain)*(1+gain) - 1
	}
	if r, _, ok := m.on(IllElectrical); ok {
		pairs := 2 + r.IntN(6)
		scaled(IllElectrical, controller, RotorSpeed, float64(pairs)).PolePairs = pairs
	}
	if _, _, ok := m.on(IllSign); ok {
		scaled(IllSign, scale, Pull, -1)
	}
	if r, _, ok := m.on(IllSecondScale); ok {
		gain := either(r) * draw(r, 0.05, 0.2)
		scaled(IllSecondScale, scale, Pull2, 1+gain).Gain = gain
		c := scale.column(Pull2)
		c.Gain, c.Tare = (1+c.Gain)*(1+gain)-1, c.Tare*(1+gain)
	}
	if r, _, ok := m.on(IllDrift); ok {
		f, c := m.pick(r, WindingTemperature, BridgeTemperature, WindingTemperature2)
		span := Span{draw(r, 0, 0.5) * m.truth.Length, m.truth.Length}
		offset := either(r) * draw(r, 3, 15)
		per := 1.0
		if c.TrueUnit == "°F" {
			per = 1.8
		}
		for k, t := range f.run {
			c.values[k] += per * offset * math.Max(0, (t-span.From)/(span.To-span.From))
		}
		t := m.sick(IllDrift, f, c)
		t.Span, t.Offset = span, offset
	}
	if m.day.has(IllSwapped) {
		one, other := controller.column(WindingTemperature), controller.column(BridgeTemperature)
		one.values, other.values = other.values, one.values
		one.TrueUnit, other.TrueUnit = other.TrueUnit, one.TrueUnit
		one.Carries, other.Carries = other.Carries, one.Carries
		other.Healthy = false
		m.sick(IllSwapped, controller, one).SwappedWith = other.Channel
	}
	if r, _, ok := m.on(Clipped); ok {
		f, c := m.pick(r, Pull, PhaseCurrent, BatteryCurrent, RotorSpeed, ShuntCurrent)
		t := m.sick(Clipped, f, c)
		t.Level = draw(r, 0.75, 0.95) * c.most()
		for k, v := range c.values {
			if math.Abs(v) <= t.Level {
				continue
			}
			c.values[k] = math.Copysign(t.Level, v)
			if t.Rows == 0 {
				t.From = f.run[k]
			}
			t.To = f.run[k]
			t.Rows++
		}
	}
	if r, _, ok := m.on(Spiking); ok {
		f, c := m.pick(r, Pull, BatteryVoltage, PhaseCurrent, BatteryCurrent, RotorSpeed, WindingTemperature, BridgeTemperature, ShuntPower, WindingTemperature2)
		t := m.sick(Spiking, f, c)
		t.Share, t.Level = draw(r, 0.001, 0.008), draw(r, 0.3, 1.5)*c.most()
		way := r.IntN(3) // up, down, both
		middle := len(c.values) / 2
		for k := range c.values {
			if r.Float64() >= t.Share && (k != middle || t.Rows > 0) {
				continue
			}
			level := t.Level
			if way == 1 || way == 2 && r.IntN(2) == 0 {
				level = -level
			}
			c.values[k] += level
			t.Rows++
		}
		t.Form = []string{"up", "down", "both"}[way]
	}
}

// freeze holds what a channel shows.
func (m *misery) freeze() {
	r, _, ok := m.on(Frozen)
	if !ok {
		return
	}
	d := m.bench.day
	f, c := m.pick(r, Pull, BatteryCurrent, PhaseCurrent, RotorSpeed, WindingTemperature, WindingTemperature, WindingTemperature, BridgeTemperature, ShuntPower, WindingTemperature2)
	length := draw(r, 10, 120)
	// over a ramp that moves the power by a tenth, but one time in six anywhere
	var ramps []int
	for k := 1; k < len(d.Steps); k++ {
		from, to := d.Steps[k-1].BatteryPower, d.Steps[k].BatteryPower
		if math.Abs(to-from) >= 0.12*math.Max(from, to) {
			ramps = append(ramps, k)
		}
	}
	k := ramps[r.IntN(len(ramps))] // the second step is always one
	end := d.Hold(k).From
	begin := end - d.Steps[k].Ramp
	span := Span{From: begin - draw(r, 0.5, math.Max(0.6, length-(end-begin)-0.5))}
	if r.IntN(6) == 0 {
		span.From = draw(r, d.ZeroBegin, d.Length()-length-1)
	}
	span.From = math.Max(span.From, 1)
	span.To = math.Min(span.From+length, d.Length())
	t := m.sick(Frozen, f, c)
	t.Span = span
	low, high := m.trace.over(span)
	if high > 0 {
		t.PowerChange = (high - low) / high
	}
	t.PowerMoved = t.PowerChange >= 0.1
	first := -1
	for k, at := range f.run {
		if at < span.From || at > span.To {
			continue
		}
		if first < 0 {
			first = max(0, k-1)
			t.Level = float64(c.shown[first]) / math.Pow10(c.digits)
		}
		t.Hidden = math.Max(t.Hidden, math.Abs(float64(c.shown[k]-c.shown[first]))/math.Pow10(c.digits))
		c.shown[k] = c.shown[first]
		t.Rows++
	}
}

// begunAnew gives the restart of a log, one for all ills that come with it.
func (m *misery) begunAnew(f *badFile) restart {
	if x, ok := m.restarts[f]; ok {
		return x
	}
	r := rand.New(rand.NewPCG(m.day.Seed, streamBad+30+uint64(f.place)))
	x := restart{at: draw(r, 0.3, 0.7) * m.truth.Length, lost: draw(r, 2, 15)}
	f.order = slices.DeleteFunc(f.order, func(k int32) bool { return f.run[k] > x.at-x.lost && f.run[k] < x.at })
	x.row = f.order[len(f.order)-1]
	for _, k := range f.order {
		if f.run[k] >= x.at {
			x.row = k
			break
		}
	}
	x.at = f.run[x.row]
	m.restarts[f] = x
	return x
}

// rows takes rows away, moves and doubles them.
func (m *misery) rows() {
	if r, f, ok := m.on(IllGaps); ok {
		t := m.fault(IllGaps, f)
		count := 1 + r.IntN(4)
		room := (m.truth.Length - 20) / float64(count) // each gap has a room of its own
		for g := range count {
			gap := draw(r, 3, math.Min(40, room-5))
			from := 10 + float64(g)*room + draw(r, 1, room-gap-2)
			t.Spans = append(t.Spans, Span{from, from + gap})
		}
		before := len(f.order)
		f.order = slices.DeleteFunc(f.order, func(k int32) bool {
			return slices.ContainsFunc(t.Spans, func(s Span) bool { return f.run[k] > s.From && f.run[k] < s.To })
		})
		t.Span = Span{t.Spans[0].From, t.Spans[count-1].To}
		t.Rows = before - len(f.order)
	}
	if _, f, ok := m.on(IllHeaderAgain); ok {
		x := m.begunAnew(f)
		t := m.fault(IllHeaderAgain, f)
		t.From, t.To, t.Lost = x.at, x.at, x.lost
		f.restart = x.row
	}
	if r, f, ok := m.on(IllClockReset); ok {
		x := m.begunAnew(f)
		t := m.fault(IllClockReset, f)
		t.From, t.Lost, t.Form = x.at, x.lost, "zero"
		back := f.clock[x.row]
		switch hour := r.IntN(2) == 0; {
		case f.maker.elapsed:
		case hour:
			t.Form, back = "hour_back", 3600000
		default: // to midnight, which is the nothing of a time of day
			back += sinceMidnight(badStart(m.day.Seed))
		}
		for k := x.row; int(k) < len(f.clock); k++ {
			f.clock[k] -= back
		}
		t.ClockBack = float64(back) / 1000
	}
	if r, f, ok := m.on(IllOutOfOrder); ok {
		t := m.fault(IllOutOfOrder, f)
		t.Share = draw(r, 0.002, 0.01)
		t.Rows = max(3, int(t.Share*float64(len(f.order))))
		room := len(f.order) / t.Rows
		for g := range t.Rows {
			late := 1 + r.IntN(4)
			at := g*room + r.IntN(room-6)
			k := f.order[at]
			copy(f.order[at:at+late], f.order[at+1:at+late+1])
			f.order[at+late] = k
		}
	}
	if r, f, ok := m.on(IllDuplicates); ok {
		t := m.fault(IllDuplicates, f)
		var order []int32
		if t.Form = "single"; r.IntN(3) == 0 {
			t.Form, t.Rows = "block", 5+r.IntN(46)
			at := r.IntN(len(f.order) - t.Rows)
			block := slices.Clone(f.order[at : at+t.Rows])
			order = slices.Insert(f.order, at+t.Rows, block...)
			t.Span = Span{f.run[block[0]], f.run[block[t.Rows-1]]}
			t.From, t.To = min(t.From, t.To), max(t.From, t.To)
		} else {
			t.Share = draw(r, 0.002, 0.02)
			order = make([]int32, 0, len(f.order)*21/20+8)
			for n, k := range f.order {
				order = append(order, k)
				if r.Float64() < t.Share || n == len(f.order)/2 {
					order = append(order, k)
					t.Rows++
				}
			}
		}
		f.order = order
	}
}

// layouts changes how the logs are written.
func (m *misery) layouts() {
	for place, ill := range m.day.encodings(len(m.files)) {
		if ill == "" {
			continue
		}
		f, r := m.files[place], m.day.draws(ill)
		r.IntN(2)
		t := m.fault(ill, f)
		switch big := r.IntN(3) == 0; {
		case ill == IllWindows1252:
			f.Encoding = "windows-1252"
		case big:
			t.Form, f.Encoding = "big_endian", "utf-16be"
		default:
			t.Form, f.Encoding = "little_endian", "utf-16le"
		}
		if ill == IllUTF16Mark {
			f.Encoding += "-mark"
		}
	}
	if m.day.has(IllThousands) {
		f, r := m.files[1], m.day.draws(IllThousands)
		t := m.fault(IllThousands, f)
		t.Form = []string{"1'234.5", "1 234,5", "1.234,5"}[r.IntN(3)]
		t.Mark = map[string]string{"1'234.5": "'", "1 234,5": []string{" ", "\u00a0"}[r.IntN(2)], "1.234,5": "."}[t.Form]
		f.thousands = t.Mark
		if f.Decimal = "."; t.Form != "1'234.5" {
			if f.Decimal = ","; f.Delimiter == "," {
				f.Delimiter = ";"
			}
		}
	}
	if r, f, ok := m.on(IllQuoted); ok {
		t := m.fault(IllQuoted, f)
		t.Form = []string{"names", "all", "decimal_comma"}[r.IntN(3)]
		if f.thousands != "" && t.Form == "decimal_comma" {
			t.Form = "all"
		}
		f.quotedNames, f.quoted = true, t.Form != "names"
		if t.Form == "decimal_comma" {
			f.Decimal, f.Delimiter = ",", ","
		}
	}
	if r, f, ok := m.on(IllNUL); ok {
		t := m.fault(IllNUL, f)
		f.nul = 1 + r.IntN(4)
		m.later = append(m.later, func() { t.Rows = f.nulMade })
	}
	if r, f, ok := m.on(IllMixedEnds); ok {
		t := m.fault(IllMixedEnds, f)
		t.Share = draw(r, 0.02, 0.5)
		f.mixed = t.Share
		m.later = append(m.later, func() { t.Rows = f.mixedMade })
	}
	if _, f, ok := m.on(IllTruncated); ok {
		f.truncated = true
		t := m.fault(IllTruncated, f)
		t.Rows = 1
	}
	if r, f, ok := m.on(IllWords); ok {
		t := m.fault(IllWords, f)
		t.Share = draw(r, 0.001, 0.02)
		f.words = t.Share
		m.later = append(m.later, func() { t.Rows = f.wordMade })
	}
	if r, f, ok := m.on(IllEmptyCells); ok {
		t := m.fault(IllEmptyCells, f)
		t.Share = draw(r, 0.001, 0.03)
		f.empty = t.Share
		m.later = append(m.later, func() { t.Rows = f.emptyMade })
	}
	if r, f, ok := m.on(IllTrailing); ok {
		t := m.fault(IllTrailing, f)
		t.Form = []string{"rows", "all"}[r.IntN(2)]
		f.trailing, f.trailingNames = true, t.Form == "all"
	}
	if _, f, ok := m.on(IllUnitsLine); ok {
		f.unitsLine = true
		m.fault(IllUnitsLine, f)
	}
	if r, f, ok := m.on(IllComments); ok {
		f.comment = 1 + r.IntN(5)
		m.fault(IllComments, f).Rows = f.comment + 1
	}
	if r, f, ok := m.on(IllBlank); ok {
		f.blank = 2 + r.IntN(11)
		m.fault(IllBlank, f).Rows = f.blank
	}
}

// finish writes down what was laid and where.
func (m *misery) finish() {
	for _, f := range m.later {
		f()
	}
	t := m.truth
	for _, f := range m.files {
		f.Rows = len(f.order)
		t.Begin, t.End = math.Min(t.Begin, f.run[0]), math.Max(t.End, f.run[len(f.run)-1])
		for i := range f.columns {
			c := f.columns[i].ColumnTruth
			f.Columns = append(f.Columns, c)
			if c.Healthy {
				t.Healthy = append(t.Healthy, c.Channel)
			}
		}
		t.Files = append(t.Files, f.FileTruth)
	}
	for _, ill := range ills {
		for _, fault := range m.faults {
			if fault.Name == ill.Name {
				t.Faults = append(t.Faults, *fault)
				t.Ills = append(t.Ills, ill.Name)
			}
		}
	}
}
