package bench

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"math/bits"
	"slices"
	"strconv"
	"unicode/utf8"
)

// shownFaults is how many unreadable rows are shown.
const shownFaults = 5

// rowPlan says what is done with each column of a row.
type rowPlan struct {
	layout  *Layout
	columns []columnPlan
	plain   bool // rows may go the short way
}

type columnPlan struct {
	kind    columnKind
	kept    bool // its numbers are kept
	scaling      // to SI
	column  *Column
}

type columnKind uint8

const (
	skipped columnKind = iota // nothing of it is read: words, or not wanted
	numbers
	elapsedTime
	clockTime
)

// scaling turns a number of a column into SI, with the very roundings of Unit.ToSI.
type scaling struct {
	way        scalingWay
	by, offset float64
}

type scalingWay uint8

const (
	asItIs scalingWay = iota
	multiplied
	divided
	asMass // a scale that shows a mass: by the column itself
)

func (p *columnPlan) toSI(x float64) float64 {
	switch p.way {
	case multiplied:
		return p.by*x + p.offset
	case divided:
		return x/p.by + p.offset
	case asMass:
		return p.column.toSI(x)
	}
	return x
}

func newRowPlan(l *Layout, wanted func(Column) bool) *rowPlan {
	p := &rowPlan{layout: l, columns: make([]columnPlan, len(l.Columns)), plain: l.Delimiter != l.Decimal && l.Time < len(l.Columns)}
	for k := range l.Columns {
		c := &p.columns[k]
		c.column, c.kept = &l.Columns[k], wanted(l.Columns[k])
		switch {
		case k == l.Time && l.TimeFormat == Elapsed:
			c.kind = elapsedTime
			c.scaling = scalingOf(l.TimeUnit.Scale, l.TimeUnit.Offset)
		case k == l.Time:
			c.kind = clockTime
		case c.kept && !c.column.Text:
			c.kind = numbers
			c.scaling = c.column.scaling()
		}
	}
	return p
}

// scaling returns what toSI does.
func (c *Column) scaling() scaling {
	u := c.Unit
	if u.Symbol == "" {
		if c.Channel == "" {
			return scaling{}
		}
		u = UnitOf(c.Channel)
	}
	if c.Channel == Thrust && u.Dim == massDim {
		return scaling{way: asMass}
	}
	return scalingOf(u.Scale, u.Offset)
}

func scalingOf(scale, offset float64) scaling {
	if scale < 1 {
		if inverse := 1 / scale; inverse == math.Trunc(inverse) && !math.IsInf(inverse, 0) {
			return scaling{divided, inverse, offset}
		}
	}
	return scaling{multiplied, scale, offset}
}

// rowReader reads rows; each goroutine has its own.
type rowReader struct {
	*rowPlan
	out    [][]float64 // places of a chunk by column; nil if it is not kept
	times  []float64
	fields [][]byte
}

func newRowReader(p *rowPlan) *rowReader {
	return &rowReader{rowPlan: p, out: make([][]float64, len(p.columns))}
}

// read reads the lines of a block, and tells whether they are UTF-8 if that is to be checked.
func (r *rowReader) read(b *block, out *Log, checked bool) bool {
	c, l := b.chunk, r.layout
	c.odd = make([]oddField, len(l.Columns))
	r.times = out.Time[c.at : c.at+c.lines]
	for k, v := range out.Values {
		r.out[k] = nil
		if v != nil {
			r.out[k] = v[c.at : c.at+c.lines]
		}
	}
	// Beyond its end the text has an end of line, and room for what is looked at eight bytes at once.
	end := len(b.text)
	text := append(b.text, "\n                               "...)
	for i, row := 0, 0; i < end; row++ {
		if r.plain {
			if next := r.row(text, i, c.read); next > 0 {
				c.read++
				i = next
				continue
			}
		}
		line := text[i:end:end]
		k := bytes.IndexByte(line, '\n')
		if k >= 0 {
			line = line[:k:k]
		}
		i += len(line) + 1
		if checked && !utf8.Valid(line) {
			return false
		}
		if k < 0 && r.short(line) {
			c.tail = bytes.Clone(line)
			break
		}
		r.line(c, out, line, row)
	}
	for k, p := range r.columns { // what is kept of a column, and never read
		if p.kept && p.kind != numbers {
			for i := range r.out[k][:c.read] {
				r.out[k][i] = math.NaN()
			}
		}
	}
	c.countMissing(out)
	return true
}

// short tells that a line that has no end lacks some of its columns too.
func (r *rowReader) short(line []byte) bool {
	line = bytes.TrimRight(line, "\r")
	if bytes.IndexByte(line, 0) >= 0 || len(bytes.TrimSpace(line)) == 0 || line[0] == '#' {
		return false // it has another fault
	}
	r.fields = cut(r.fields[:0], line, r.layout.Delimiter)
	return len(r.fields) < len(r.layout.Columns)
}

// line reads one line, whatever stands in it.
func (r *rowReader) line(c *chunk, out *Log, line []byte, row int) {
	l := r.layout
	line = bytes.TrimRight(line, "\r")
	switch {
	case bytes.IndexByte(line, 0) >= 0: // what a disk that was pulled too early leaves, in the place of anything
		c.faults = append(c.faults, rowFault{row: row, reason: leftNUL})
		return
	case len(bytes.TrimSpace(line)) == 0:
		c.blank = append(c.blank, row)
		return
	case line[0] == '#':
		c.faults = append(c.faults, rowFault{row: row, reason: leftComment})
		return
	}
	r.fields = cut(r.fields[:0], line, l.Delimiter)
	fields := r.fields
	t, ok := float64(c.read), true
	if l.Time >= 0 {
		if ok = l.Time < len(fields); ok {
			t, ok = l.readTime(trim(fields[l.Time]))
		}
	}
	if !ok {
		f := rowFault{row: row, reason: leftNoTime}
		if l.headerAgain(fields) {
			f.reason = leftHeader
		} else if c.texts < shownFaults {
			f.text = fmt.Sprintf("%.40q", line)
			c.texts++
		}
		c.faults = append(c.faults, f)
		return
	}
	at := c.at + c.read
	c.read++
	out.Time[at] = t
	for k := range r.columns {
		p := &r.columns[k]
		if !p.kept {
			continue
		}
		x := math.NaN()
		if k < len(fields) && p.kind == numbers {
			field := trim(fields[k])
			if v, ok := parse(field, l.Decimal); ok {
				x = p.toSI(v)
			} else if len(field) > 0 {
				if o := &c.odd[k]; o.count == 0 {
					*o = oddField{row: row, at: placeOf(line, fields, k), text: fmt.Sprintf("%.20q", field)}
				}
				c.odd[k].count++
			}
		}
		out.Values[k][at] = x
	}
}

// placeOf returns the byte at which a field of a line begins.
func placeOf(line []byte, fields [][]byte, k int) int {
	at := 0
	for i, f := range fields[:k+1] {
		at += bytes.Index(line[at:], f)
		if i < k {
			at += len(f)
		}
	}
	return at
}

// readTime reads a time in s.
func (l *Layout) readTime(field []byte) (float64, bool) {
	if l.TimeFormat == Elapsed {
		x, ok := parse(field, l.Decimal)
		return l.TimeUnit.ToSI(x), ok
	}
	return clock(field)
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

// spare is how much room a text has beyond its end, for what reads it eight bytes at once.
const spare = 32

// row reads the row that begins at byte i of a text as place at of its columns, and returns where the
// next one begins, or 0 if anything stands in it that line has to see to: it takes rows of all their
// columns, each empty or a number, without quotes or comments. The text ends in an end of line with
// room behind it.
func (r *rowReader) row(text []byte, i, at int) int {
	delimiter, decimal := r.layout.Delimiter, r.layout.Decimal
	blanks := delimiter == ' '
	if text[i] == '#' {
		return 0
	}
	last, empty := len(r.columns)-1, 0
	for k := range r.columns {
		for text[i] == ' ' {
			i++
		}
		c := &r.columns[k]
		from := i
		switch c.kind {
		case skipped, clockTime:
			for ; text[i] != delimiter && text[i] != '\n' && text[i] != '\r'; i++ {
				if b := text[i]; b == '"' || b < ' ' || b >= utf8.RuneSelf {
					return 0
				}
			}
			if c.kind == clockTime {
				t, ok := clock(bytes.TrimRight(text[from:i], " "))
				if !ok {
					return 0
				}
				r.times[at] = t
			} else if i == from {
				if blanks {
					return 0
				}
				empty++
			}
		default:
			x, end := decimalAt(text, i, decimal)
			if end == i {
				// longer ones, and those with an exponent
				for end < len(text) && plainByte(text[end], decimal) {
					end++
				}
				if end > i {
					var ok bool
					if x, ok = parse(text[i:end], decimal); !ok {
						return 0
					}
				} else if c.kind == elapsedTime || blanks {
					return 0
				} else {
					x = math.NaN()
					empty++
				}
			}
			i = end
			if x == x {
				x = c.toSI(x)
			}
			if c.kind == elapsedTime {
				r.times[at] = x
			} else {
				r.out[k][at] = x
			}
		}
		after := i
		for text[i] == ' ' {
			i++
		}
		switch {
		case k < last && blanks && i > after:
		case k < last && !blanks && text[i] == delimiter:
			i++
		case empty > last:
			return 0 // a line without anything
		case k == last && text[i] == '\n':
			return i + 1
		case k == last && text[i] == '\r' && text[i+1] == '\n':
			return i + 2
		default:
			return 0
		}
	}
	return 0
}

// plainByte tells what stands in a number that needs no more than strconv.
func plainByte(b, decimal byte) bool {
	return b-'0' < 10 || b == decimal || b == 'e' || b == 'E' || b == '-' || b == '+'
}

// powersOfTen are exact in a float64.
var powersOfTen = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22}

// decimalAt reads the plain decimal number that begins at byte i of a text and returns where it ends,
// or i if there is none, or one that this cannot round. A whole number up to 2⁵³ over a power of ten
// up to 10²² is rounded once, as strconv.ParseFloat rounds it. Eight bytes are looked at in one go,
// so that what follows the number has to have room for that.
func decimalAt(text []byte, i int, decimal byte) (float64, int) {
	at := i
	negative := text[i] == '-'
	if negative || text[i] == '+' {
		i++
	}
	// Most numbers have one to seven digits before the decimal sign, and no more behind it.
	w := binary.LittleEndian.Uint64(text[i:i+8]) ^ zeros
	other := noDigits(w)
	if other == 0 || other&0x80 != 0 {
		return longDecimalAt(text, at, decimal)
	}
	n := bits.TrailingZeros64(other) &^ 7 // bits of the digits
	whole := eightDigits(w << ((64 - n) & 63))
	i += n / 8
	places := 0
	if text[i] == decimal {
		i++
		w = binary.LittleEndian.Uint64(text[i:i+8]) ^ zeros
		if other = noDigits(w); other == 0 {
			return longDecimalAt(text, at, decimal)
		}
		if n = bits.TrailingZeros64(other) &^ 7; n > 0 {
			places = n / 8
			whole = whole*powersOfTenWhole[places&7] + eightDigits(w<<((64-n)&63))
			i += places
		}
	}
	if text[i]|0x20 == 'e' {
		return 0, at
	}
	x := float64(int64(whole)) / powersOfTen[places&7]
	if negative {
		x = -x
	}
	return x, i
}

// longDecimalAt is decimalAt for up to 18 digits.
func longDecimalAt(text []byte, i int, decimal byte) (float64, int) {
	at := i
	negative := text[i] == '-'
	if negative || text[i] == '+' {
		i++
	}
	whole, digits, places, seen := uint64(0), 0, 0, false
	for ; ; i++ {
		switch c := text[i]; {
		case c-'0' < 10:
			whole = whole*10 + uint64(c-'0')
			if digits++; digits > 18 {
				return 0, at
			}
			if seen {
				places++
			}
			continue
		case c == decimal && !seen:
			seen = true
			continue
		case digits == 0 || whole > 1<<53 || c|0x20 == 'e':
			return 0, at
		}
		x := float64(whole) / powersOfTen[places]
		if negative {
			x = -x
		}
		return x, i
	}
}

const zeros = 0x3030303030303030 // eight digits less these are 0 … 9

// noDigits marks the highest bit of the first of eight bytes above 9, surely; of later ones, maybe.
func noDigits(w uint64) uint64 { return (w | (w + 0x7676767676767676)) & 0x8080808080808080 }

// eightDigits returns the number that eight bytes of 0 … 9 write, the first digit in the lowest.
func eightDigits(w uint64) uint64 {
	w = w*10 + w>>8 // pairs
	return ((w&0x000000ff000000ff)*0x000f424000000064 + (w>>16&0x000000ff000000ff)*0x0000271000000001) >> 32
}

var powersOfTenWhole = [8]uint64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7}

// parse reads a decimal number to the bits of strconv.ParseFloat, as instruments write it.
func parse(b []byte, decimal byte) (float64, bool) {
	if len(b) == 0 || len(b) > 40 {
		return 0, false
	}
	var buffer [40 + spare]byte
	copy(buffer[:], b)
	if x, end := decimalAt(buffer[:], 0, decimal); end == len(b) {
		return x, true
	}
	for _, c := range b {
		if !plainByte(c, decimal) {
			return number(string(b), decimal)
		}
	}
	if decimal != '.' {
		if i := slices.Index(buffer[:len(b)], decimal); i >= 0 {
			buffer[i] = '.'
		}
	}
	x, err := strconv.ParseFloat(string(buffer[:len(b)]), 64)
	return x, err == nil
}

// clock reads a time of day, or a date with one, as clockOrISO does, and goes a short way for hh:mm:ss
// with a fraction, alone or behind an ISO date.
func clock(b []byte) (float64, bool) {
	days, at, end := 0.0, 0, len(b)
	ok := true
	two := func(i int) int {
		if ok = ok && i+1 < len(b) && b[i]-'0' < 10 && b[i+1]-'0' < 10; !ok {
			return 0
		}
		return 10*int(b[i]-'0') + int(b[i+1]-'0')
	}
	if len(b) >= 19 && b[4] == '-' && b[7] == '-' && (b[10] == 'T' || b[10] == ' ') {
		y, m, d := 100*two(0)+two(2), two(5), two(8)
		ok = ok && m >= 1 && m <= 12 && d >= 1 && d <= 31
		days, at = dayNumber(y, m, d), 11
		if b[end-1] == 'Z' {
			end--
		}
	}
	h, m, s := two(at), two(at+3), two(at+6)
	if ok && at+8 <= end && b[at+2] == ':' && b[at+5] == ':' && h <= 24 && m <= 59 && s < 61 {
		whole, places, i := int64(s), 0, at+8
		if i < end && (b[i] == '.' || b[i] == ',') {
			for i++; i < end && b[i]-'0' < 10 && places < 9; i++ {
				whole = 10*whole + int64(b[i]-'0')
				places++
			}
		}
		if sec := float64(whole) / powersOfTen[places]; i == end && sec < 61 {
			return clockSeconds(days, 0, h, m, sec), true
		}
	}
	x, _, ok := clockOrISO(string(b))
	return x, ok
}
