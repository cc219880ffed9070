package bench

import (
	"bytes"
	"errors"
	"io"
	"strings"
)

// Heading is what the first lines of a log show when they are read by a layout, to be held against
// what the layout says.
type Heading struct {
	Encoding   string // of the text; empty if it is plain ASCII, which reads alike
	Lines      int    // of the file, with one that has no end; of a long one, those that were looked at
	Header     string // line of the column names as it stands
	Columns    []Column
	First      string // first line of numbers as it stands
	FirstCut   []string
	Rows       int   // lines of numbers that were looked at
	Times      int   // those with a time that can be read
	Values     []int // by column, those with a number
	Filled     []int // by column, those with anything
	Guess      Layout
	GuessKnown bool // the log read by itself gives a layout
}

// headingBytes and headingRows are how much of a log its heading rests on.
const (
	headingBytes = 1 << 18
	headingRows  = 200
)

// Heading reads the first lines of a log by a layout.
func (l *Layout) Heading(data []byte) Heading {
	h, err := InMemory("", data).Heading(*l)
	if err != nil {
		panic(err) // none comes from memory
	}
	return h
}

// Heading reads the first lines of a log by a layout, and no more of it than that takes. The error is one of
// reading From.
func (in Input) Heading(l Layout) (Heading, error) {
	need := max(l.FirstLine, l.HeaderLine) + headingRows
	for n := int64(headingBytes); ; n *= 4 {
		data := make([]byte, min(n, in.Size))
		k, err := in.From.ReadAt(data, 0)
		if err != nil && !errors.Is(err, io.EOF) {
			return Heading{}, err
		}
		data = data[:k]
		if n >= in.Size || err != nil {
			return l.heading(data), nil
		}
		if bytes.Count(data, []byte{'\n'}) > need {
			return l.heading(data[:bytes.LastIndexByte(data, '\n')+1]), nil
		}
	}
}

// heading reads the first lines of a log.
func (l *Layout) heading(sample []byte) Heading {
	h := Heading{Values: make([]int, len(l.Columns)), Filled: make([]int, len(l.Columns))}
	h.Lines = bytes.Count(sample, []byte{'\n'})
	if n := len(sample); n > 0 && !bytes.HasSuffix(sample, []byte{'\n'}) && !bytes.HasSuffix(sample, []byte{'\n', 0}) {
		h.Lines++
	}
	text, encoding := decode(sample)
	if h.Encoding = encoding; encoding == "utf-8" && !bytes.ContainsFunc(text, func(r rune) bool { return r > 127 }) {
		h.Encoding = ""
	}
	guess, faults := GuessLayout("", sample)
	h.Guess, h.GuessKnown = guess, faults.Fatal() == nil
	lines := firstLines(text, l.FirstLine-1+headingRows)
	if l.HeaderLine > 0 && l.HeaderLine <= len(lines) {
		h.Header = lines[l.HeaderLine-1]
		for _, name := range l.fieldsOf(h.Header) {
			var c Column
			c.Name, c.Unit = nameAndUnit(name)
			h.Columns = append(h.Columns, c)
		}
	}
	var fields [][]byte
	for i := max(l.FirstLine-1, 0); i < len(lines); i++ {
		line := []byte(lines[i])
		if len(bytes.TrimSpace(line)) == 0 || line[0] == '#' || bytes.IndexByte(line, 0) >= 0 {
			continue
		}
		if h.Rows++; h.Rows == 1 {
			h.First, h.FirstCut = lines[i], l.fieldsOf(lines[i])
		}
		fields = cut(fields[:0], line, l.Delimiter)
		for k := range l.Columns {
			if k >= len(fields) {
				break
			}
			field := trim(fields[k])
			if k == l.Time {
				if _, ok := l.readTime(field); ok {
					h.Times++
				}
			}
			if len(field) > 0 && !isMissing(field) {
				h.Filled[k]++
				if _, ok := parse(field, l.Decimal); ok {
					h.Values[k]++
				}
			}
		}
	}
	return h
}

// fieldsOf cuts a line; a delimiter behind the last column begins no other.
func (l *Layout) fieldsOf(line string) []string {
	f := split(line, l.Delimiter)
	if n := len(f); n == len(l.Columns)+1 && strings.TrimSpace(f[n-1]) == "" {
		f = f[:n-1]
	}
	return f
}
