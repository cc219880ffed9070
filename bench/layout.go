package bench

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"jetwright/notice"
	"jetwright/quantity"
)

// Layout says how the text of a log is read. It is guessed, shown, and can be corrected.
type Layout struct {
	Encoding   string // "utf-8", "utf-16le", "utf-16be", "windows-1252"
	Delimiter  byte
	Decimal    byte // '.' or ','
	HeaderLine int  // line of the column names, from 1; 0 if there is none
	FirstLine  int  // first line of numbers, from 1
	Time       int  // column of the time, from 0; -1 if there is none
	TimeFormat string
	TimeUnit   quantity.Unit // of an elapsed time
	Columns    []Column
}

// Time formats.
const (
	Elapsed   = "elapsed" // a number that counts up
	ClockTime = "clock"   // hours, minutes and seconds of a day
	ISO       = "iso"     // date and time, ISO 8601
)

// Column is one column of a log.
type Column struct {
	Name      string
	Unit      quantity.Unit
	Channel   Channel   // what it is taken for; empty if it is not used
	Text      bool      // holds words, not numbers
	Tolerance Tolerance // as typed; empty if none is
}

// standardGravity turns a pull that is shown as a mass into a force, m/s².
const standardGravity = 9.80665

var massDim = quantity.MustUnit("kg").Dim

// toSI turns a number of the column into SI. A scale that shows a mass is read as the force that
// would hang it there.
func (c *Column) toSI(x float64) float64 {
	u := c.Unit
	if u.Symbol == "" {
		if c.Channel == "" {
			return x
		}
		u = UnitOf(c.Channel)
	}
	x = u.ToSI(x)
	if c.Channel == Thrust && u.Dim == massDim {
		x *= standardGravity
	}
	return x
}

// Encodings of a log's text.
const (
	utf8Name    = "utf-8"
	utf16LE     = "utf-16le"
	utf16BE     = "utf-16be"
	windows1252 = "windows-1252"
)

func wide(encoding string) bool { return encoding == utf16LE || encoding == utf16BE }

// sampleBytes is how much of a log tells its encoding, but for what is no UTF-8.
const sampleBytes = 512

// marked names the encoding of a log as far as its first bytes tell it, and how many of them are a
// byte-order mark. A mark decides; else zero bytes in every other place mean UTF-16; the rest may
// be UTF-8.
func marked(data []byte) (encoding string, mark int64) {
	switch {
	case bytes.HasPrefix(data, []byte{0xef, 0xbb, 0xbf}):
		return utf8Name, 3
	case bytes.HasPrefix(data, []byte{0xff, 0xfe}):
		return utf16LE, 2
	case bytes.HasPrefix(data, []byte{0xfe, 0xff}):
		return utf16BE, 2
	}
	sample := data[:min(len(data), sampleBytes)]
	even, odd := 0, 0
	for i, c := range sample {
		if c == 0 {
			if i%2 == 0 {
				even++
			} else {
				odd++
			}
		}
	}
	switch {
	case odd > len(sample)/4 && even == 0:
		return utf16LE, 0
	case even > len(sample)/4 && odd == 0:
		return utf16BE, 0
	}
	return utf8Name, 0
}

// decode turns the bytes of a log into UTF-8 and names the encoding. What is neither marked nor valid
// UTF-8 is the Windows code page of western Europe.
func decode(data []byte) (text []byte, encoding string) {
	encoding, mark := marked(data)
	switch {
	case wide(encoding):
		return fromUTF16(data[mark:], encoding == utf16BE), encoding
	case mark > 0 || utf8.Valid(data):
		return data[mark:], encoding
	}
	return fromWindows1252(data), windows1252
}

func fromUTF16(data []byte, bigEndian bool) []byte {
	u := make([]uint16, len(data)/2)
	for i := range u {
		a, b := data[2*i], data[2*i+1]
		if bigEndian {
			a, b = b, a
		}
		u[i] = uint16(a) | uint16(b)<<8
	}
	return []byte(string(utf16.Decode(u)))
}

// guessRows is how many lines a guess looks at.
const guessRows = 200

// GuessLayout guesses how a log is read from its first lines. The notices say what could not be
// told; one of kind Error means that there are no numbers in it.
func GuessLayout(name string, data []byte) (Layout, notice.List) {
	text, encoding := decode(data)
	return guess(name, text, encoding)
}

// guess guesses from text that was an encoding.
func guess(name string, text []byte, encoding string) (Layout, notice.List) {
	l := Layout{Encoding: encoding, Decimal: '.', Time: -1}
	lines := firstLines(text, guessRows)
	fault := func(line int, what, out string) (Layout, notice.List) {
		return l, notice.List{{Kind: notice.Error, Place: quantity.Place{File: name, Line: max(line, 1), Column: 1}, What: what, WayOut: out}}
	}
	if len(bytes.TrimSpace(text)) == 0 {
		return fault(1, "the log is empty", "look whether the instrument wrote it")
	}
	quoted := bytes.IndexByte(text[:min(len(text), 1<<16)], '"') >= 0
	best := -1.0
	for _, d := range []byte{';', '\t', ',', '|', ' '} {
		for _, decimal := range []byte{'.', ','} {
			if d == decimal && !quoted {
				continue // but for numbers in quotes
			}
			if score, first := grade(lines, d, decimal); score > best {
				best, l.Delimiter, l.Decimal, l.FirstLine = score, d, decimal, first+1
			}
		}
	}
	if best <= 0 {
		line := 1
		for i, s := range lines {
			if strings.TrimSpace(s) != "" {
				line = i + 1
			}
		}
		return fault(line, "there are no two rows of numbers in it; a header alone teaches nothing", "export the log again as CSV with its data")
	}
	row := split(lines[l.FirstLine-1], l.Delimiter)
	l.Columns = make([]Column, len(row))
	for i := l.FirstLine - 2; i >= 0; i-- {
		head := split(lines[i], l.Delimiter)
		// Rows may end in a delimiter that the header lacks, or lack one that it has.
		spare := len(head)+1 == len(row) && strings.TrimSpace(row[len(row)-1]) == ""
		if len(head) == len(row) || spare || len(head) == len(row)+1 && strings.TrimSpace(head[len(head)-1]) == "" {
			l.HeaderLine = i + 1
			if spare {
				row = row[:len(head)]
				l.Columns = l.Columns[:len(head)]
			}
			for k := range l.Columns {
				l.Columns[k].Name, l.Columns[k].Unit = nameAndUnit(head[k])
			}
			l.unitsBelow(lines, i, len(row))
			break
		}
		if strings.TrimSpace(lines[i]) != "" {
			break
		}
	}
	for k := range l.Columns {
		if l.Columns[k].Name == "" {
			l.Columns[k].Name = fmt.Sprintf("column %d", k+1)
		}
	}
	l.guessTime(lines)
	for k := range l.Columns {
		c := &l.Columns[k]
		c.Text = k != l.Time && wordy(lines[l.FirstLine-1:], l, k)
		if k != l.Time && !c.Text {
			c.Channel = channelNamed(c.Name, c.Unit)
		}
	}
	notes := append(l.unreadTimes(name, lines), l.customaryUnits(name)...)
	if l.Time < 0 {
		notes = append(notes, notice.Notice{
			Kind: notice.Warning, Place: quantity.Place{File: name, Line: l.FirstLine, Column: 1}, What: "no column rises as a time does",
			WayOut: "name it in run.toml: time = \"…\", or give the period of a row",
		})
	}
	return l, notes
}

// unreadTimes names columns that are called a time and were not taken for it.
func (l *Layout) unreadTimes(name string, lines []string) notice.List {
	if l.Time >= 0 && timeNamed(l.Columns[l.Time].Name) {
		return nil
	}
	var list notice.List
	for k, c := range l.Columns {
		fields := split(lines[l.FirstLine-1], l.Delimiter)
		if !timeNamed(c.Name) || k >= len(fields) || strings.Contains(strings.ToLower(c.Name), "temp") {
			continue
		}
		instead := "no other column is"
		if l.Time >= 0 {
			instead = fmt.Sprintf("%q is taken instead", l.Columns[l.Time].Name)
		}
		list = append(list, notice.Notice{
			Kind: notice.Warning, Place: quantity.Place{File: name, Line: l.FirstLine, Column: 1},
			What:   fmt.Sprintf("the column %q does not rise as a time, or is written as %q, which is not understood; %s", c.Name, clean(fields[k]), instead),
			WayOut: "times are read as seconds, hh:mm:ss, 2026-05-16 10:14:22 or 16.05.2026 10:14:22",
		})
	}
	return list
}

// customaryUnits gives a column that says no unit the one that its channel is usually written in,
// and says so.
func (l *Layout) customaryUnits(name string) notice.List {
	var list notice.List
	for k := range l.Columns {
		c := &l.Columns[k]
		if c.Channel == "" || c.Unit.Symbol != "" {
			continue
		}
		c.Unit = UnitOf(c.Channel)
		what := fmt.Sprintf("the column %q says no unit; its %s is taken in %s", c.Name, c.Channel, c.Unit.Symbol)
		kind := notice.Remark
		if c.Channel == Thrust || c.Channel == Power {
			kind = notice.Warning // a scale may well show kgf, a controller kW
		}
		list = append(list, notice.Notice{
			Kind: kind, Place: quantity.Place{File: name, Line: max(l.HeaderLine, 1), Column: 1}, What: what,
			WayOut: fmt.Sprintf("if it is another, write it into channels in run.toml, as in \"%s [%s] = %s\"", c.Name, map[Channel]string{Thrust: "kgf", Power: "kW"}[c.Channel]+map[bool]string{true: "", false: c.Unit.Symbol}[c.Channel == Thrust || c.Channel == Power], c.Channel),
		})
	}
	return list
}

// unitsBelow takes units from a line of their own between names and numbers.
func (l *Layout) unitsBelow(lines []string, header, n int) {
	if header == 0 || l.Columns[0].Unit.Symbol != "" {
		return
	}
	names := split(lines[header-1], l.Delimiter)
	if len(names) != n {
		return
	}
	units := split(lines[header], l.Delimiter)
	known, filled := 0, 0
	for _, u := range units {
		if clean(u) == "" {
			continue
		}
		filled++
		if _, ok := quantity.LookupUnit(clean(u)); ok {
			known++
		}
	}
	// Nothing but units, however few, or units for half of the columns.
	if known*2 < n && (known == 0 || known < filled) {
		return
	}
	for k := range l.Columns {
		l.Columns[k].Name = clean(names[k])
		l.Columns[k].Unit, _ = quantity.LookupUnit(clean(units[k]))
	}
	l.HeaderLine = header
}

func firstLines(text []byte, n int) []string {
	var out []string
	for len(text) > 0 && len(out) < n {
		i := bytes.IndexByte(text, '\n')
		if i < 0 {
			out = append(out, strings.TrimRight(string(text), "\r"))
			break
		}
		out = append(out, strings.TrimRight(string(text[:i]), "\r"))
		text = text[i+1:]
	}
	return out
}

// split cuts a line; blanks count as one delimiter, and what stands in quotes is one field.
func split(line string, delimiter byte) []string {
	if delimiter == ' ' {
		return strings.Fields(line)
	}
	if strings.IndexByte(line, '"') < 0 {
		return strings.Split(line, string(delimiter))
	}
	var fields []string
	quoted, from := false, 0
	for i := range len(line) {
		switch {
		case line[i] == '"':
			quoted = !quoted
		case line[i] == delimiter && !quoted:
			fields = append(fields, line[from:i])
			from = i + 1
		}
	}
	return append(fields, line[from:])
}

func clean(s string) string { return strings.Trim(strings.TrimSpace(s), `"'[]()`) }

// grade says how well a delimiter and a decimal sign make rows of numbers: the number of fields that
// are numbers over all stretches of two rows or more of one width, and where the first of them
// begins. A header that is repeated or a comment parts two stretches and no more.
func grade(lines []string, delimiter, decimal byte) (score float64, first int) {
	start, width, count, numbers := 0, 0, 0, 0.0
	sums, begins := map[int]float64{}, map[int]int{}
	finish := func() {
		if count < 2 || !(numbers > 0) {
			return
		}
		s := numbers
		if width == 1 {
			s *= 0.1 // one column alone is what any wrong delimiter makes
		}
		if _, have := begins[width]; !have {
			begins[width] = start
		}
		if sums[width] += s; sums[width] > score {
			score, first = sums[width], begins[width]
		}
	}
	for i, line := range lines {
		if strings.TrimSpace(line) == "" {
			continue // some write an empty line behind every row
		}
		fields := split(line, delimiter)
		n, worth := 0, 0.0
		for _, f := range fields {
			f = clean(f)
			if _, ok := number(f, decimal); ok || timeLike(f) {
				n++
				if worth++; withoutThousands(f, decimal) != f {
					worth -= 0.1 // 37,111 is more often 37 and a bit
				}
			}
		}
		if inside := count > 0 && len(fields) == width && n > 0; !inside {
			finish()
			count, numbers = 0, 0
			if n == 0 || n*2 < len(fields) {
				continue // a stretch begins with a row that is mostly numbers
			}
		}
		if count == 0 {
			start, width = i, len(fields)
		}
		count++
		numbers += worth
	}
	finish()
	return score, first
}

// number reads a decimal number as instruments write them.
func number(s string, decimal byte) (float64, bool) {
	if s == "" || len(s) > 40 {
		return 0, false
	}
	s = withoutThousands(s, decimal)
	if decimal == ',' {
		if strings.ContainsRune(s, '.') {
			return 0, false
		}
		s = strings.Replace(s, ",", ".", 1)
	}
	x, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) || strings.ContainsAny(s, "xXpP_") {
		return 0, false
	}
	return x, true
}

// thousands are the marks that set off groups of three digits.
var thousands = []string{"'", "’", "\u00a0", "\u202f", " ", ".", ","}

// withoutThousands takes out marks between groups of three digits, as in 1'234.5 or 1.234,5. The mark
// that is the decimal sign is none, and a lone group after a point is no thousand where a point is
// the decimal sign.
func withoutThousands(s string, decimal byte) string {
	for _, mark := range thousands {
		if mark == string(decimal) || !strings.Contains(s, mark) {
			continue
		}
		whole, rest, _ := strings.Cut(s, string(decimal))
		if strings.Contains(rest, mark) {
			return s
		}
		groups := strings.Split(strings.TrimLeft(whole, "+-"), mark)
		if len(groups) < 2 || len(groups[0]) < 1 || len(groups[0]) > 3 {
			return s
		}
		for _, g := range groups[1:] {
			if len(g) != 3 || strings.Trim(g, "0123456789") != "" {
				return s
			}
		}
		return strings.ReplaceAll(whole, mark, "") + s[len(whole):]
	}
	return s
}

// timeLike tells a clock or a date from a number.
func timeLike(s string) bool {
	_, _, ok := clockOrISO(s)
	return ok
}

// clockOrISO reads hh:mm:ss with a fraction, AM and PM too, or a date and time by ISO 8601 or as
// day.month.year, in seconds; a clock counts from midnight, a date from the first of January 1970.
func clockOrISO(s string) (seconds float64, format string, ok bool) {
	days := 0.0
	format = ClockTime
	if len(s) >= 19 && s[4] == '-' && s[7] == '-' && (s[10] == 'T' || s[10] == ' ') {
		y, err1 := strconv.Atoi(s[:4])
		m, err2 := strconv.Atoi(s[5:7])
		d, err3 := strconv.Atoi(s[8:10])
		if err1 != nil || err2 != nil || err3 != nil || m < 1 || m > 12 || d < 1 || d > 31 {
			return 0, "", false
		}
		days = dayNumber(y, m, d)
		format = ISO
		s = s[11:]
		s = strings.TrimSuffix(s, "Z")
		if i := strings.LastIndexAny(s, "+-"); i > 0 {
			s = s[:i] // one instrument keeps one zone; its offset is part of the clock's
		}
	} else if n, rest, ok := dayFirst(s); ok {
		days, format, s = n, ISO, rest
	}
	afternoon := 0.0
	if t := strings.ToUpper(strings.TrimSpace(s)); strings.HasSuffix(t, "AM") || strings.HasSuffix(t, "PM") {
		h, _, _ := strings.Cut(t, ":")
		twelve := strings.TrimSpace(h) == "12"
		switch {
		case strings.HasSuffix(t, "PM") && !twelve:
			afternoon = 43200
		case strings.HasSuffix(t, "AM") && twelve:
			afternoon = -43200
		}
		s = strings.TrimSpace(t[:len(t)-2])
	}
	parts := strings.Split(s, ":")
	if len(parts) == 2 {
		parts = append(parts, "00")
	}
	if len(parts) != 3 || len(parts[0]) > 2 || len(parts[1]) != 2 || len(parts[2]) < 2 {
		return 0, "", false
	}
	h, err1 := strconv.Atoi(parts[0])
	m, err2 := strconv.Atoi(parts[1])
	sec, err3 := strconv.ParseFloat(strings.Replace(parts[2], ",", ".", 1), 64)
	if err1 != nil || err2 != nil || err3 != nil || h < 0 || h > 24 || m < 0 || m > 59 || !(sec >= 0 && sec < 61) {
		return 0, "", false
	}
	return clockSeconds(days, afternoon, h, m, sec), format, true
}

func clockSeconds(days, afternoon float64, h, m int, sec float64) float64 {
	return days*86400 + afternoon + float64(h)*3600 + float64(m)*60 + sec
}

// dayFirst reads a date as day, month and year with points between, as much of Europe writes it.
// Dates with strokes are left alone: nothing tells whether day or month comes first.
func dayFirst(s string) (days float64, rest string, ok bool) {
	date, rest, found := strings.Cut(strings.Replace(s, "T", " ", 1), " ")
	p := strings.Split(date, ".")
	if !found || len(p) != 3 || len(p[2]) != 4 {
		return 0, "", false
	}
	d, err1 := strconv.Atoi(p[0])
	m, err2 := strconv.Atoi(p[1])
	y, err3 := strconv.Atoi(p[2])
	if err1 != nil || err2 != nil || err3 != nil || m < 1 || m > 12 || d < 1 || d > 31 {
		return 0, "", false
	}
	return dayNumber(y, m, d), strings.TrimSpace(rest), true
}

// dayNumber counts days from 1970-01-01 in the Gregorian calendar.
func dayNumber(y, m, d int) float64 {
	if m <= 2 {
		y--
		m += 12
	}
	return float64(365*y + y/4 - y/100 + y/400 + (153*(m-3)+2)/5 + d - 1 - 719468)
}

// nameAndUnit takes a header such as "Thrust [kgf]", "power (W)" or "speed_rpm" apart.
func nameAndUnit(head string) (string, quantity.Unit) {
	head = strings.Trim(strings.TrimSpace(head), `"'`)
	for _, b := range []string{"[]", "()"} {
		i, j := strings.LastIndexByte(head, b[0]), strings.LastIndexByte(head, b[1])
		if i >= 0 && j > i {
			if u, ok := quantity.LookupUnit(strings.TrimSpace(head[i+1 : j])); ok {
				return strings.TrimSpace(head[:i]), u
			}
		}
	}
	for _, sep := range []string{" / ", "/", "_", " in ", " "} {
		if i := strings.LastIndex(head, sep); i > 0 {
			if u, ok := quantity.LookupUnit(strings.TrimSpace(head[i+len(sep):])); ok && u.Symbol != "1" {
				return strings.TrimSpace(head[:i]), u
			}
		}
	}
	return head, quantity.Unit{}
}

// guessTime finds the column that rises as a time does, a named one first.
func (l *Layout) guessTime(lines []string) {
	rows := lines[l.FirstLine-1:]
	named := func(k int) bool { return timeNamed(l.Columns[k].Name) }
	// What is called a time may step back now and then, as instruments that begin anew do.
	try := func(k int, named bool) bool {
		format, rising, last, n, falls := "", true, math.Inf(-1), 0, 0
		for _, line := range rows {
			fields := split(line, l.Delimiter)
			if k >= len(fields) {
				continue
			}
			x, f, ok := 0.0, Elapsed, false
			if x, f, ok = clockOrISO(clean(fields[k])); !ok {
				f = Elapsed
				if x, ok = number(clean(fields[k]), l.Decimal); !ok {
					continue
				}
			}
			if format == "" {
				format = f
			}
			if f == ClockTime && last-x > 43200 {
				last = x // past midnight
			}
			if x < last {
				falls++
			}
			if f != format || falls > 0 && !named {
				rising = false
			}
			last = x
			n++
		}
		if n < 2 || !rising || format == "" || falls > max(2, n/10) || falls >= n/2 {
			return false
		}
		l.Time, l.TimeFormat = k, format
		return true
	}
	// What is called something else is no time, however it rises.
	nameless := func(k int) bool {
		c := l.Columns[k]
		return channelNamed(c.Name, c.Unit) == "" && (c.Unit.Symbol == "" || c.Unit.Dim == quantity.MustUnit("s").Dim)
	}
	for i, pass := range []func(int) bool{named, nameless} {
		for k := range l.Columns {
			if l.Time < 0 && pass(k) {
				try(k, i == 0)
			}
		}
	}
	if l.Time < 0 {
		return
	}
	l.TimeUnit = quantity.MustUnit("s")
	c := l.Columns[l.Time]
	if c.Unit.Symbol != "" && c.Unit.Dim == l.TimeUnit.Dim {
		l.TimeUnit = c.Unit
	} else if n := strings.ToLower(c.Name); strings.Contains(n, "milli") || n == "ms" || strings.HasSuffix(n, "_ms") {
		l.TimeUnit = quantity.MustUnit("ms")
	} else if l.TimeFormat == Elapsed {
		// Seconds since 1970 have ten digits; the same in ms thirteen, in µs sixteen.
		switch x, _ := number(clean(split(rows[0], l.Delimiter)[l.Time]), l.Decimal); {
		case x > 1e11 && x < 1e14:
			l.TimeUnit = quantity.MustUnit("ms")
		case x >= 1e14 && x < 1e17:
			l.TimeUnit = quantity.MustUnit("µs")
		}
	}
}

// timeNamed tells a column whose name says that it is the time.
func timeNamed(name string) bool {
	n := strings.ToLower(name)
	for _, w := range []string{"time", "zeit", "temps", "tiempo", "tempo", "stamp", "elapsed", "seconds", "clock"} {
		if strings.Contains(n, w) {
			return true
		}
	}
	return n == "t" || n == "ms" || n == "s"
}

// wordy tells that a column holds words.
func wordy(lines []string, l Layout, k int) bool {
	words, numbers := 0, 0
	for _, line := range lines {
		fields := split(line, l.Delimiter)
		if k >= len(fields) || clean(fields[k]) == "" {
			continue
		}
		if _, ok := number(clean(fields[k]), l.Decimal); ok {
			numbers++
		} else {
			words++
		}
	}
	return words > numbers
}

// channelWords are parts of names by which a column is taken for a channel, first match first.
var channelWords = []struct {
	channel Channel
	words   []string
	unit    string
}{
	{WindingTemperature, []string{"motor temp", "motor_temp", "winding", "wicklung", "motortemp"}, "°C"},
	{BridgeTemperature, []string{"fet", "bridge", "mosfet", "esc temp", "controller temp", "brücke"}, "°C"},
	{WaterTemperature, []string{"water temp", "wasser"}, "°C"},
	{CaseTemperature, []string{"case temp", "gehäuse"}, "°C"},
	{PhaseCurrent, []string{"phase current", "motor current", "phase_current", "motor_current", "phasenstrom", "motorstrom"}, "A"},
	{BatteryCurrent, []string{"battery current", "input current", "batt current", "battery_current", "batteriestrom", "current in"}, "A"},
	{BatteryVoltage, []string{"battery voltage", "input voltage", "voltage", "battery_voltage", "spannung"}, "V"},
	{RotorSpeed, []string{"rotor speed", "rpm", "drehzahl", "speed of rotation", "rotor_speed"}, "rpm"},
	{Thrust, []string{"thrust", "pull", "force", "load", "scale", "kraft", "schub", "zug", "weight"}, "N"},
	{Power, []string{"power", "leistung", "watt"}, "W"},
}

// Words in a column's name that say what its unit cannot: where a power was read, and what a
// phase current is.
const (
	PlaceWords      = " at the "
	ConventionWords = " as "
)

// Said returns what the names of a layout's columns say of the power's place and of the phase current.
func (l *Layout) Said() (place, convention string) {
	for _, c := range l.Columns {
		n := strings.ToLower(c.Name)
		switch c.Channel {
		case Power:
			for _, w := range []string{"battery", "controller", "shaft"} {
				if strings.HasSuffix(n, PlaceWords+w) {
					place = w
				}
			}
		case PhaseCurrent:
			for _, w := range []string{"rms", "peak", "dc"} {
				if strings.HasSuffix(n, ConventionWords+w) {
					convention = w
				}
			}
		}
	}
	return place, convention
}

// channelNamed takes a column for a channel by its name, and by its unit where that tells.
func channelNamed(name string, u quantity.Unit) Channel {
	n := strings.ToLower(name)
	if strings.Contains(n, "erpm") || strings.Contains(n, "electrical") {
		return "" // turns of the field, not of the rotor: the pole pairs lie between
	}
	if strings.HasSuffix(n, " half-width") || strings.HasSuffix(n, " doubt") {
		return "" // what is said of a channel, as our own tables say it
	}
	for _, c := range channelWords {
		want := quantity.MustUnit(c.unit)
		if u.Symbol != "" && u.Dim != want.Dim && !(c.channel == Thrust && u.Dim == quantity.MustUnit("kg").Dim) {
			continue
		}
		for _, w := range c.words {
			if strings.Contains(n, w) {
				return c.channel
			}
		}
	}
	return ""
}
