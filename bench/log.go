package bench

import (
	"bytes"
	"fmt"
	"math"
	"runtime"
	"sort"
	"strings"
	"sync/atomic"

	"jetwright/notice"
	"jetwright/numeric"
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
	Missing []int  // by column
	Left    []Left // rows that are not used, by reason
	Resets  []int  // rows at which the instrument's clock began anew, in order
	skipped []int  // lines without a row, in order
}

// Left is why rows of a log are not used, how many and where first.
type Left struct {
	Reason string
	Rows   int
	Line   int // of the first
}

// Reasons why rows are not used.
const (
	leftNoTime    = "they hold no time that can be read"
	leftHeader    = "they are the header again"
	leftComment   = "they are comments"
	leftNUL       = "they are damaged (NUL bytes)"
	leftCut       = "the last line is cut off"
	leftDuplicate = "they repeat the row before"
)

// leave counts a row that is not used.
func (l *Log) leave(reason string, line int) {
	for i := range l.Left {
		if l.Left[i].Reason == reason {
			l.Left[i].Rows++
			l.Left[i].Line = min(l.Left[i].Line, line)
			return
		}
	}
	l.Left = append(l.Left, Left{reason, 1, line})
}

// lineOf returns the line of a row as it was read.
func (l *Log) lineOf(row int) int {
	line := l.Layout.FirstLine + row
	for _, s := range l.skipped {
		if s > line {
			break
		}
		line++
	}
	return line
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
	blank  []int      // lines without anything, counted within the chunk
	faults []rowFault // rows that are not used
	odd    []oddField // by column: what is neither a number nor empty
}

// oddField is the first field of a column that is no number, and how many there are.
type oddField struct {
	row, at, count int // row within the chunk; byte within its line
	text           string
}

// rowFault is a row that is not used.
type rowFault struct {
	row    int // line within its chunk
	reason string
	text   string // of the first few
}

// chunkBytes is about how much of a log is read in one go.
const chunkBytes = 8 << 20

// shownFaults is how many unreadable rows are shown.
const shownFaults = 5

// ReadLog reads the numbers of a log by a layout. Rows without a time are left out and named;
// columns of words are kept as missing. The log is read by all processors.
func ReadLog(name string, data []byte, l Layout) (*Log, notice.List) {
	return readLog(name, data, l, func(Column) bool { return true }, nil)
}

// ReadLogProgress is ReadLog that says how many of the log's bytes are read, from any goroutine.
func ReadLogProgress(name string, data []byte, l Layout, progress func(done, total int)) (*Log, notice.List) {
	return readLog(name, data, l, func(Column) bool { return true }, progress)
}

// ReadChannels reads the columns of a log that are taken for a channel; the others are left empty.
func ReadChannels(name string, data []byte, l Layout) (*Log, notice.List) {
	return readLog(name, data, l, func(c Column) bool { return c.Channel != "" && !c.Text }, nil)
}

func readLog(name string, data []byte, l Layout, wanted func(Column) bool, progress func(done, total int)) (*Log, notice.List) {
	text, _ := decode(data)
	for line := 1; line < l.FirstLine; line++ {
		i := bytes.IndexByte(text, '\n')
		if i < 0 {
			text = nil
			break
		}
		text = text[i+1:]
	}
	n := max(1, min(runtime.GOMAXPROCS(0), len(text)/(1<<16)), len(text)/chunkBytes)
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
	var done atomic.Int64
	numeric.Parallel(n, func(i int) {
		readChunk(texts[i], &l, out, &parts[i], i == n-1)
		if progress != nil {
			progress(int(done.Add(int64(len(texts[i])))), len(text))
		}
	})
	return join(out, parts)
}

// readChunk reads whole lines.
func readChunk(text []byte, l *Layout, out *Log, c *chunk, last bool) {
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
		if bytes.IndexByte(line, 0) >= 0 { // what a disk that was pulled too early leaves, in the place of anything
			c.faults = append(c.faults, rowFault{row: row, reason: leftNUL})
			continue
		}
		if len(bytes.TrimSpace(line)) == 0 {
			c.blank = append(c.blank, row)
			continue
		}
		if line[0] == '#' {
			c.faults = append(c.faults, rowFault{row: row, reason: leftComment})
			continue
		}
		fields = cut(fields[:0], line, l.Delimiter)
		t, ok := float64(c.read), true
		if l.Time >= 0 {
			if ok = l.Time < len(fields); ok {
				t, ok = l.readTime(trim(fields[l.Time]))
			}
		}
		if text == nil && len(fields) < len(l.Columns) && last && c.read > 0 {
			c.faults = append(c.faults, rowFault{row: row, reason: leftCut})
			continue
		}
		if !ok {
			f := rowFault{row: row, reason: leftNoTime}
			if l.headerAgain(fields) {
				f.reason = leftHeader
			} else if len(c.faults) < shownFaults {
				f.text = fmt.Sprintf("%.40q", line)
			}
			c.faults = append(c.faults, f)
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
	rows, line := 0, l.FirstLine
	var shown []string
	for _, p := range parts {
		copy(out.Time[rows:], out.Time[p.at:p.at+p.read])
		for _, v := range out.Values {
			if v == nil {
				continue
			}
			copy(v[rows:], v[p.at:p.at+p.read])
		}
		rows += p.read
		for _, b := range p.blank {
			out.skipped = append(out.skipped, line+b)
		}
		for _, f := range p.faults {
			out.skipped = append(out.skipped, line+f.row)
			out.leave(f.reason, line+f.row)
			if f.text != "" && len(shown) < shownFaults {
				shown = append(shown, fmt.Sprintf("%s on line %d", f.text, line+f.row))
			}
		}
		line += p.lines
	}
	sort.Ints(out.skipped)
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
	if len(out.Time) < 2 {
		faults = append(faults, notice.Notice{
			Kind: notice.Error, Place: quantity.Place{File: name, Line: l.FirstLine, Column: 1}, What: fmt.Sprintf("the log has %d rows with a time", len(out.Time)),
			Allowed: "two or more", WayOut: "look at time and first_line in run.toml",
		})
		return out, faults
	}
	out.setTimes()
	faults = append(faults, out.order()...)
	for k, v := range out.Values {
		for _, x := range v {
			if x != x {
				out.Missing[k]++
			}
		}
	}
	return out, append(out.leftRows(shown), faults...)
}

// headerAgain tells a line that repeats the names of the columns, as after a restart.
func (l *Layout) headerAgain(fields [][]byte) bool {
	same := 0
	for k, f := range fields {
		if k < len(l.Columns) {
			name, _ := nameAndUnit(string(f))
			if name != "" && name == l.Columns[k].Name {
				same++
			}
		}
	}
	return same*2 > len(l.Columns)
}

// setTimes counts times from the first row and carries a clock past midnight.
func (l *Log) setTimes() {
	l.Start = l.Time[0]
	shift, last := 0.0, l.Time[0]
	for i, t := range l.Time {
		if l.Layout.TimeFormat == ClockTime && t+shift < last-43200 {
			shift += 86400
		}
		t += shift
		last = t
		l.Time[i] = t - l.Start
	}
}

// Rules of order. Our own.
const (
	disorderRows = 200  // rows within which rows out of order come back to where they belong
	disorderTime = 30.0 // s by which they may be late
)

// order finds where the clock began anew, puts rows that are a little late in their place, and
// leaves out rows that repeat the one before.
func (l *Log) order() notice.List {
	var list notice.List
	late, firstLate := 0, 0
	most := math.Inf(-1)
	for i, t := range l.Time {
		switch {
		case t >= most:
			most = t
		case most-t <= disorderTime && l.comesBack(i, most):
			if late++; late == 1 {
				firstLate = i
			}
		default:
			l.Resets = append(l.Resets, i)
			most = t
		}
	}
	for _, r := range l.Resets {
		list = append(list, notice.Notice{
			Kind: notice.Warning, Place: quantity.Place{File: l.Name, Line: l.lineOf(r), Column: 1},
			What:   fmt.Sprintf("the clock steps back from %.4g s to %.4g s: the instrument began anew", l.Time[r-1], l.Time[r]),
			WayOut: "what follows is set to the run by what it shares with the other logs; where that cannot be, it is left out",
		})
	}
	if late > 0 {
		list = append(list, notice.Notice{
			Kind: notice.Warning, Place: quantity.Place{File: l.Name, Line: l.lineOf(firstLate), Column: 1}, What: fmt.Sprintf("%d rows stand out of order; they are put in their place by their time", late),
		})
	}
	bounds := append(append([]int{0}, l.Resets...), len(l.Time))
	if late > 0 {
		for b := 0; b+1 < len(bounds); b++ {
			l.sortRows(bounds[b], bounds[b+1])
		}
	}
	l.dropDuplicates()
	return list
}

// comesBack tells whether the time soon is where it was before row i.
func (l *Log) comesBack(i int, most float64) bool {
	for k := i + 1; k < min(len(l.Time), i+disorderRows); k++ {
		if l.Time[k] >= most {
			return true
		}
	}
	return false
}

// sortRows puts rows in the order of their times.
func (l *Log) sortRows(from, to int) {
	index := make([]int, to-from)
	for i := range index {
		index[i] = from + i
	}
	sort.SliceStable(index, func(a, b int) bool { return l.Time[index[a]] < l.Time[index[b]] })
	move := func(x []float64) {
		if x == nil {
			return
		}
		y := make([]float64, len(index))
		for i, k := range index {
			y[i] = x[k]
		}
		copy(x[from:to], y)
	}
	move(l.Time)
	for _, v := range l.Values {
		move(v)
	}
}

// dropDuplicates leaves out rows with the time and all the values of the row before.
func (l *Log) dropDuplicates() {
	same := 0
	for i := 1; i < len(l.Time); i++ {
		if l.Time[i] == l.Time[i-1] {
			same++
		}
	}
	if same*5 > len(l.Time) { // a clock of coarse steps, not rows written twice
		l.spreadTimes()
		return
	}
	at := 0
	resets := l.Resets
	for i := range l.Time {
		if i > 0 && l.sameRow(i, at-1) {
			l.leave(leftDuplicate, l.lineOf(i))
			for k := range resets {
				if resets[k] > at {
					resets[k]--
				}
			}
			continue
		}
		if at != i {
			l.Time[at] = l.Time[i]
			for _, v := range l.Values {
				if v != nil {
					v[at] = v[i]
				}
			}
		}
		at++
	}
	l.Time = l.Time[:at]
	for k, v := range l.Values {
		if v != nil {
			l.Values[k] = v[:at]
		}
	}
}

// spreadTimes spreads rows that share one time evenly to the next: a clock that shows whole seconds
// while rows are written faster.
func (l *Log) spreadTimes() {
	for i := 0; i < len(l.Time); {
		k := i
		for k < len(l.Time) && l.Time[k] == l.Time[i] {
			k++
		}
		if k < len(l.Time) && l.Time[k] > l.Time[i] {
			step := (l.Time[k] - l.Time[i]) / float64(k-i)
			for j := i + 1; j < k; j++ {
				l.Time[j] = l.Time[i] + float64(j-i)*step
			}
		}
		i = k
	}
}

func (l *Log) sameRow(a, b int) bool {
	if l.Layout.Time < 0 || l.Time[a] != l.Time[b] {
		return false
	}
	for _, v := range l.Values {
		if v != nil && v[a] != v[b] && (v[a] == v[a] || v[b] == v[b]) {
			return false
		}
	}
	return true
}

// leftRows says how many rows are not used, why and where.
func (l *Log) leftRows(shown []string) notice.List {
	var list notice.List
	for _, x := range l.Left {
		what := fmt.Sprintf("1 row is not used: %s", x.Reason)
		if x.Rows > 1 {
			what = fmt.Sprintf("%d rows are not used: %s", x.Rows, x.Reason)
		}
		if x.Reason == leftNoTime && len(shown) > 0 {
			what += ", such as " + strings.Join(shown, ", ")
		}
		kind := notice.Warning
		if x.Reason == leftComment {
			kind = notice.Remark
		}
		list = append(list, notice.Notice{Kind: kind, Place: quantity.Place{File: l.Name, Line: x.Line, Column: 1}, What: what})
	}
	return list
}
