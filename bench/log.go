package bench

import (
	"bytes"
	"fmt"
	"math"
	"runtime"
	"strconv"

	"jetwright/notice"
	"jetwright/quantity"
)

// Log is a log that has been read: one time in s from its first row, and the numbers of its
// columns in SI. What an instrument left out, or wrote as words, is missing: NaN in Values, which
// is where it ends; nothing that is worked out from a log is NaN.
type Log struct {
	Name    string
	Layout  Layout
	Start   float64   // of the first row, in s: of the day for a clock, since 1970 for a date, as typed for an elapsed time
	Time    []float64 // s from the first row
	Values  [][]float64
	Missing []int // by column
}

// Rows returns the number of rows.
func (l *Log) Rows() int { return len(l.Time) }

// Column returns the numbers of a channel.
func (l *Log) Column(c Channel) ([]float64, bool) {
	for k, col := range l.Layout.Columns {
		if col.Channel == c {
			return l.Values[k], true
		}
	}
	return nil, false
}

// chunk is one part of a log, read by one goroutine.
type chunk struct {
	at     int // first row of the log that is kept for it
	read   int // rows that were read
	lines  int
	faults []rowFault
	odd    []oddField // by column: what is neither a number nor empty
}

// oddField is the first field of a column that is no number, and how many there are.
type oddField struct {
	row, at, count int // row within the chunk; byte within its line
	text           string
}

// rowFault is a row that could not be read.
type rowFault struct {
	row  int // within its chunk
	what string
}

// shownFaults is how many unreadable rows are named one by one.
const shownFaults = 5

// ReadLog reads the numbers of a log by a layout. Rows without a time are left out and named;
// columns of words are kept as missing. The log is read by all processors.
func ReadLog(name string, data []byte, l Layout) (*Log, notice.List) {
	return readLog(name, data, l, func(Column) bool { return true })
}

// ReadChannels reads the columns of a log that are taken for a channel; the others are left empty.
func ReadChannels(name string, data []byte, l Layout) (*Log, notice.List) {
	return readLog(name, data, l, func(c Column) bool { return c.Channel != "" && !c.Text })
}

func readLog(name string, data []byte, l Layout, wanted func(Column) bool) (*Log, notice.List) {
	text, _ := decode(data)
	for line := 1; line < l.FirstLine; line++ {
		i := bytes.IndexByte(text, '\n')
		if i < 0 {
			text = nil
			break
		}
		text = text[i+1:]
	}
	n := max(1, min(runtime.GOMAXPROCS(0), len(text)/(1<<16)))
	parts := make([]chunk, n)
	texts := make([][]byte, n)
	lines := 0
	from := 0
	for i := range n {
		to := len(text)
		if i < n-1 {
			to = from + (len(text)-from)/(n-i)
			if k := bytes.IndexByte(text[to:], '\n'); k >= 0 {
				to += k + 1
			} else {
				to = len(text)
			}
		}
		texts[i] = text[from:to]
		from = to
		parts[i].at = lines
		lines += bytes.Count(texts[i], []byte{'\n'}) + 1
	}
	// Every part is read into its own place of the final columns, so that they are held once.
	out := &Log{Name: name, Layout: l, Time: make([]float64, lines), Values: make([][]float64, len(l.Columns)), Missing: make([]int, len(l.Columns))}
	for k := range out.Values {
		if wanted(l.Columns[k]) {
			out.Values[k] = make([]float64, lines)
		}
	}
	parallel(n, func(i int) { readChunk(texts[i], &l, out, &parts[i]) })
	return join(out, parts)
}

// readChunk reads whole lines.
func readChunk(text []byte, l *Layout, out *Log, c *chunk) {
	var fields [][]byte
	c.odd = make([]oddField, len(l.Columns))
	for row := 0; len(text) > 0; row++ {
		line := text
		if i := bytes.IndexByte(text, '\n'); i >= 0 {
			line, text = text[:i], text[i+1:]
		} else {
			text = nil
		}
		c.lines = row + 1
		line = bytes.TrimRight(line, "\r")
		if len(bytes.TrimSpace(line)) == 0 {
			continue
		}
		fields = cut(fields[:0], line, l.Delimiter)
		t, ok := float64(c.read), true
		if l.Time >= 0 {
			if ok = l.Time < len(fields); ok {
				t, ok = l.readTime(trim(fields[l.Time]))
			}
		}
		if !ok {
			if len(c.faults) < shownFaults+1 {
				c.faults = append(c.faults, rowFault{row, fmt.Sprintf("%.40q holds no time", line)})
			} else {
				c.faults = append(c.faults, rowFault{row: row})
			}
			continue
		}
		at := c.at + c.read
		c.read++
		out.Time[at] = t
		for k := range l.Columns {
			if out.Values[k] == nil {
				continue
			}
			x := math.NaN()
			if k < len(fields) && k != l.Time && !l.Columns[k].Text {
				field := trim(fields[k])
				if v, ok := parse(field, l.Decimal); ok {
					x = v
				} else if len(field) > 0 {
					if o := &c.odd[k]; o.count == 0 {
						*o = oddField{row: row, at: cap(line) - cap(fields[k]), text: fmt.Sprintf("%.20q", field)}
					}
					c.odd[k].count++
				}
			}
			if x == x {
				x = l.Columns[k].toSI(x)
			}
			out.Values[k][at] = x
		}
	}
}

// oddFields names what stands in columns of numbers and is none.
func (l *Log) oddFields(parts []chunk) notice.List {
	var list notice.List
	for k, c := range l.Layout.Columns {
		first, count, line := notice.Notice{}, 0, l.Layout.FirstLine
		for _, p := range parts {
			if len(p.odd) > k && p.odd[k].count > 0 {
				o := p.odd[k]
				if count == 0 {
					first = notice.Notice{Kind: notice.Warning, Place: quantity.Place{File: l.Name, Line: line + o.row, Column: o.at + 1}, What: o.text}
				}
				count += o.count
			}
			line += p.lines
		}
		if count == 0 {
			continue
		}
		values := "1 value of %q is no number: "
		if count > 1 {
			values = fmt.Sprintf("%d values of %%q are no numbers, the first is ", count)
		}
		first.What = fmt.Sprintf(values, c.Name) + first.What
		first.WayOut = "what is no number is left out; if it stands for something, look at decimal and channels in run.toml"
		list = append(list, first)
	}
	return list
}

// readTime reads a time in s.
func (l *Layout) readTime(field []byte) (float64, bool) {
	if l.TimeFormat == Elapsed {
		x, ok := parse(field, l.Decimal)
		return l.TimeUnit.ToSI(x), ok
	}
	x, _, ok := clockOrISO(string(field))
	return x, ok
}

// cut appends the fields of a line.
func cut(dst [][]byte, line []byte, delimiter byte) [][]byte {
	if delimiter == ' ' {
		return append(dst, bytes.Fields(line)...)
	}
	if bytes.IndexByte(line, '"') >= 0 {
		quoted, from := false, 0
		for i, b := range line {
			switch {
			case b == '"':
				quoted = !quoted
			case b == delimiter && !quoted:
				dst = append(dst, line[from:i])
				from = i + 1
			}
		}
		return append(dst, line[from:])
	}
	for {
		i := bytes.IndexByte(line, delimiter)
		if i < 0 {
			return append(dst, line)
		}
		dst = append(dst, line[:i])
		line = line[i+1:]
	}
}

// trim takes blanks and quotes off.
func trim(b []byte) []byte {
	for len(b) > 0 && (b[0] == ' ' || b[0] == '\t' || b[0] == '"') {
		b = b[1:]
	}
	for len(b) > 0 && (b[len(b)-1] == ' ' || b[len(b)-1] == '\t' || b[len(b)-1] == '"') {
		b = b[:len(b)-1]
	}
	return b
}

// powersOfTen are exact in a float64.
var powersOfTen = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22}

// parse reads a decimal number. Short plain decimals go by an exact path: a whole number below 2⁵³
// over a power of ten up to 10²² is rounded once, as strconv.ParseFloat rounds it.
func parse(b []byte, decimal byte) (float64, bool) {
	i, negative := 0, false
	if len(b) > 0 && (b[0] == '-' || b[0] == '+') {
		negative = b[0] == '-'
		i = 1
	}
	var mantissa uint64
	digits, places, seen := 0, -1, 0
	for ; i < len(b); i++ {
		c := b[i]
		switch {
		case c >= '0' && c <= '9':
			mantissa = mantissa*10 + uint64(c-'0')
			seen++
			if mantissa > 0 {
				digits++
			}
			if places >= 0 {
				places++
			}
		case c == decimal && places < 0:
			places = 0
		default:
			return slow(b, decimal)
		}
		if digits > 15 {
			return slow(b, decimal)
		}
	}
	if seen == 0 || places > 22 {
		return slow(b, decimal)
	}
	x := float64(mantissa)
	if places > 0 {
		x /= powersOfTen[places]
	}
	if negative {
		x = -x
	}
	return x, true
}

func slow(b []byte, decimal byte) (float64, bool) { return number(string(b), decimal) }

// join closes the gaps between the parts of a log, and looks it over.
func join(out *Log, parts []chunk) (*Log, notice.List) {
	var faults notice.List
	l, name := &out.Layout, out.Name
	rows, bad, line := 0, 0, l.FirstLine
	for _, p := range parts {
		copy(out.Time[rows:], out.Time[p.at:p.at+p.read])
		for _, v := range out.Values {
			if v == nil {
				continue
			}
			copy(v[rows:], v[p.at:p.at+p.read])
		}
		rows += p.read
		for _, f := range p.faults {
			if bad < shownFaults && f.what != "" {
				faults = append(faults, notice.Notice{Kind: notice.Warning, Place: quantity.Place{File: name, Line: line + f.row, Column: 1}, What: "row left out: " + f.what})
			}
			bad++
		}
		line += p.lines
	}
	out.Time = out.Time[:rows]
	if l.Time < 0 { // rows count as seconds, whatever part they were read in
		for i := range out.Time {
			out.Time[i] = float64(i)
		}
	}
	for k := range out.Values {
		if out.Values[k] != nil {
			out.Values[k] = out.Values[k][:rows]
		}
	}
	faults = append(faults, out.oddFields(parts)...)
	if bad > shownFaults {
		faults = append(faults, notice.Notice{Kind: notice.Warning, Place: quantity.Place{File: name}, What: fmt.Sprintf("%d rows were left out in all", bad)})
	}
	if len(out.Time) < 2 {
		faults = append(faults, notice.Notice{
			Kind: notice.Error, Place: quantity.Place{File: name, Line: l.FirstLine, Column: 1}, What: fmt.Sprintf("the log has %d rows with a time", len(out.Time)),
			Allowed: "two or more", WayOut: "look at time and first_line in run.toml",
		})
		return out, faults
	}
	for k, v := range out.Values {
		for _, x := range v {
			if x != x {
				out.Missing[k]++
			}
		}
	}
	out.Start = out.Time[0]
	back, at := 0, 0
	shift, last := 0.0, out.Time[0]
	for i, t := range out.Time {
		if l.TimeFormat == ClockTime && t+shift < last-43200 {
			shift += 86400 // past midnight
		}
		t += shift
		if t < last {
			back++
			at = i
		}
		last = t
		out.Time[i] = t - out.Start
	}
	if back > 0 {
		faults = append(faults, notice.Notice{Kind: notice.Warning, Place: quantity.Place{File: name, Line: l.FirstLine + at, Column: 1}, What: fmt.Sprintf("the time steps back %s", strconv.Itoa(back)+" times"), WayOut: "look whether two logs were joined"})
	}
	return out, faults
}
