package project

import (
	"bufio"
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"

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
	from := max(0, t.info.Size()-past)
	if from > 0 { // lines are numbered from the first
		if _, err = f.Seek(0, io.SeekStart); err == nil {
			t.line, err = countLines(io.LimitReader(f, from))
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

func countLines(r io.Reader) (int, error) {
	n := 0
	buffer := make([]byte, 1<<16)
	for {
		k, err := r.Read(buffer)
		n += bytes.Count(buffer[:k], []byte{'\n'})
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
	t := &Tail{line: 1, stream: make(chan []byte, 4096)}
	go func() {
		defer close(t.stream)
		in := bufio.NewReaderSize(r, 1<<16)
		for {
			line, err := in.ReadBytes('\n')
			if err != nil {
				return // what has no end is no line
			}
			t.stream <- line
		}
	}()
	return t
}

// Head is the first part of a file as it was when it was begun to be followed.
func (t *Tail) Head() []byte { return t.head }

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
	for len(b) > 0 {
		i := bytes.IndexByte(b, '\n')
		if i < 0 {
			t.partial = append(t.partial, b...)
			return
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
		case line, more := <-t.stream:
			if !more {
				if !t.ended {
					gone = "the log has ended: standard input was closed"
				}
				t.ended = true
				return lines, gone
			}
			line = bytes.TrimSuffix(line, []byte{'\n'})
			if t.line == 1 {
				line = bytes.TrimPrefix(line, byteOrderMark)
			}
			lines = append(lines, TailLine{Number: t.line, Text: line})
			t.line++
		default:
			return lines, ""
		}
	}
	return lines, ""
}
