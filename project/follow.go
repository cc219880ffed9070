package project

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
	"unicode/utf16"

	"jetwright/notice"
	"jetwright/quantity"
)

// How much of a log that is there already is read when it is begun to be followed.
const (
	headBytes = 1 << 18 // for the guess of its layout
	pastBytes = 1 << 23 // of its end, to learn from: a quarter of an hour at 100 rows a second
)

// TailLine is one whole line of a growing log, with its number from 1.
type TailLine struct {
	Number int
	Text   []byte
	Past   bool // it was there before the log was followed
}

// Tail follows a growing log: a file that another program appends to, or a stream.
type Tail struct {
	path    string
	file    *os.File
	info    os.FileInfo
	head    []byte
	partial []byte
	buffer  []byte
	line    int // of the next line, from 1
	cut     bool
	past    bool
	missing bool
	stream  chan []byte
	ended   bool
	text    wide // how its bytes are text
	told    bool // that is known
	first   []byte
}

// lineMost is the most bytes that a line may have; what is longer is handed out as it stands, and cannot be read.
const lineMost = 1 << 20

// wide turns UTF-16 into UTF-8 as it comes in pieces; the zero value hands bytes on as they are.
type wide struct {
	on, bigEndian bool
	half          []byte // of a character whose rest has not come
}

// wideTold is how many bytes tell whether a log is UTF-16.
const wideTold = 4

// tell looks at the beginning of a log: a byte-order mark, or two characters of plain ASCII.
func tell(b []byte) wide {
	switch {
	case bytes.HasPrefix(b, []byte{0xff, 0xfe}):
		return wide{on: true}
	case bytes.HasPrefix(b, []byte{0xfe, 0xff}):
		return wide{on: true, bigEndian: true}
	case len(b) < wideTold:
	case b[0] != 0 && b[1] == 0 && b[2] != 0 && b[3] == 0:
		return wide{on: true}
	case b[0] == 0 && b[1] != 0 && b[2] == 0 && b[3] != 0:
		return wide{on: true, bigEndian: true}
	}
	return wide{}
}

// utf8 returns what is whole of the bytes that came so far.
func (w *wide) utf8(b []byte) []byte {
	if !w.on {
		return b
	}
	b = append(w.half, b...)
	n := len(b) &^ 1
	u := make([]uint16, 0, n/2)
	for i := 0; i < n; i += 2 {
		x, y := b[i], b[i+1]
		if w.bigEndian {
			x, y = y, x
		}
		u = append(u, uint16(x)|uint16(y)<<8)
	}
	if k := len(u); k > 0 && u[k-1]&0xfc00 == 0xd800 { // the first half of a pair
		u, n = u[:k-1], n-2
	}
	w.half = append([]byte(nil), b[n:]...)
	return []byte(string(utf16.Decode(u)))
}

var byteOrderMark = []byte{0xef, 0xbb, 0xbf}

// Follow begins to follow a file. Its last lines are handed out first, as past ones.
func Follow(path string) (*Tail, error) { return follow(path, pastBytes) }

func follow(path string, past int64) (*Tail, error) {
	fault := func(err error, out string) error {
		return notice.List{{Kind: notice.Error, Place: quantity.Place{File: path}, What: "the log cannot be read: " + plain(err), WayOut: out}}
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, fault(err, "name the file that the logging program writes, or - for standard input")
	}
	t := &Tail{path: path, file: f, line: 1, past: true, buffer: make([]byte, 1<<16)}
	if t.info, err = f.Stat(); err == nil && t.info.IsDir() {
		err = errors.New("it is a folder")
	}
	if err != nil {
		_ = f.Close()
		return nil, fault(err, "name a file")
	}
	head := make([]byte, headBytes)
	n, err := io.ReadFull(f, head)
	if err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
		_ = f.Close()
		return nil, fault(err, "")
	}
	t.head = head[:n]
	t.text, t.told = tell(t.head), n >= wideTold
	from := max(0, t.info.Size()-past)
	if whole := t.text; whole.on {
		t.head = bytes.TrimPrefix(whole.utf8(t.head), byteOrderMark)
		from &^= 1
	}
	if from > 0 { // lines are numbered from the first
		if _, err = f.Seek(0, io.SeekStart); err == nil {
			t.line, err = countLines(io.LimitReader(f, from), t.text)
		}
		t.line++
		t.cut = true
	} else {
		_, err = f.Seek(0, io.SeekStart)
	}
	if err != nil {
		_ = f.Close()
		return nil, fault(err, "")
	}
	return t, nil
}

func countLines(r io.Reader, text wide) (int, error) {
	n := 0
	buffer := make([]byte, 1<<16)
	for {
		k, err := r.Read(buffer)
		n += bytes.Count(text.utf8(buffer[:k]), []byte{'\n'})
		if errors.Is(err, io.EOF) {
			return n, nil
		}
		if err != nil {
			return n, err
		}
	}
}

// FollowStream begins to follow a stream.
func FollowStream(r io.Reader) *Tail {
	t := &Tail{line: 1, stream: make(chan []byte, 64)}
	go func() {
		defer close(t.stream)
		for {
			b := make([]byte, 1<<14)
			n, err := r.Read(b)
			if n > 0 {
				t.stream <- b[:n]
			}
			if err != nil {
				return // what has no end is no line
			}
		}
	}()
	return t
}

// Head is the first part of a file as it was when it was begun to be followed; UTF-16 is UTF-8 already.
func (t *Tail) Head() []byte { return t.head }

// Partial is what has come of a line that has no end yet.
func (t *Tail) Partial() []byte { return t.partial }

// Stream tells whether it is a stream.
func (t *Tail) Stream() bool { return t.stream != nil }

// Close ends the following of a file.
func (t *Tail) Close() {
	if t.file != nil {
		_ = t.file.Close()
	}
}

// Poll returns what has come since it was asked last, whole lines only, and says why if the log
// came to an end or began anew.
func (t *Tail) Poll() (lines []TailLine, gone string) {
	if t.stream != nil {
		return t.pollStream()
	}
	size := t.read(&lines)
	t.past = false
	info, err := os.Stat(t.path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if !t.missing {
			gone = "the log is gone: it was moved or deleted"
		}
		t.missing = true
	case err != nil:
		gone = "the log can no longer be read: " + plain(err)
	case !os.SameFile(info, t.info):
		gone = "another file has taken the log's place"
		t.again()
	case info.Size() < size:
		gone = "the log was cut short and begins anew"
		t.again()
	}
	return lines, gone
}

// again begins from the first line.
func (t *Tail) again() {
	f, err := os.Open(t.path)
	if err != nil {
		return // the next poll says so
	}
	_ = t.file.Close()
	t.file, t.line, t.partial, t.cut, t.missing = f, 1, nil, false, false
	t.text, t.told, t.first = wide{}, false, nil
	if info, err := f.Stat(); err == nil {
		t.info = info
	}
}

// read takes whole lines of a file and returns how far it has come.
func (t *Tail) read(lines *[]TailLine) int64 {
	for {
		n, err := t.file.Read(t.buffer)
		t.take(t.buffer[:n], lines)
		if n == 0 || err != nil {
			break
		}
	}
	at, err := t.file.Seek(0, io.SeekCurrent)
	if err != nil {
		return 0
	}
	return at
}

// take cuts bytes into lines; what has no end yet waits.
func (t *Tail) take(b []byte, lines *[]TailLine) {
	if !t.told {
		if t.first = append(t.first, b...); len(t.first) < wideTold {
			return
		}
		b, t.first = t.first, nil
		t.text, t.told = tell(b), true
	}
	b = t.text.utf8(b)
	for len(b) > 0 {
		i := bytes.IndexByte(b, '\n')
		if i < 0 {
			if t.partial = append(t.partial, b...); len(t.partial) < lineMost {
				return
			}
			i, b = 0, []byte{'\n'}
		}
		line := append(t.partial, b[:i]...)
		t.partial, b = nil, b[i+1:]
		if t.cut { // the first one is the end of a line that began before
			t.cut = false
			t.line++
			continue
		}
		if t.line == 1 {
			line = bytes.TrimPrefix(line, byteOrderMark)
		}
		*lines = append(*lines, TailLine{Number: t.line, Text: append([]byte(nil), line...), Past: t.past})
		t.line++
	}
}

// linesAtOnce is how many lines of a stream are handed out at once.
const linesAtOnce = 8192

func (t *Tail) pollStream() (lines []TailLine, gone string) {
	for len(lines) < linesAtOnce {
		select {
		case b, more := <-t.stream:
			if !more {
				if !t.ended {
					gone = "the log has ended: standard input was closed"
				}
				t.ended = true
				return lines, gone
			}
			t.take(b, &lines)
		default:
			return lines, ""
		}
	}
	return lines, ""
}
