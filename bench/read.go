package bench

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"runtime"
	"sort"
	"strings"
	"sync"
	"sync/atomic"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"

	"jetwright/notice"
	"jetwright/numeric"
	"jetwright/quantity"
)

// Input is the text of a log, wherever it stands. It is read in blocks by all processors, so that a
// large log is never held whole; only its numbers are.
type Input struct {
	Name     string
	From     io.ReaderAt
	Size     int64                 // bytes
	Progress func(done, total int) // may be nil; told how many bytes are read, from any goroutine

	block int // bytes that are read in one go; blockBytes if 0
}

// InMemory is a log that is held already.
func InMemory(name string, data []byte) Input {
	return Input{Name: name, From: bytes.NewReader(data), Size: int64(len(data))}
}

// ReadLog reads the numbers of a log by a layout. Rows without a time are left out and named;
// columns of words are kept as missing. The log is read by all processors.
func ReadLog(name string, data []byte, l Layout) (*Log, notice.List) {
	return must(InMemory(name, data).Read(l))
}

// ReadLogProgress is ReadLog that says how many of the log's bytes are read, from any goroutine.
func ReadLogProgress(name string, data []byte, l Layout, progress func(done, total int)) (*Log, notice.List) {
	in := InMemory(name, data)
	in.Progress = progress
	return must(in.Read(l))
}

// ReadChannels reads the columns of a log that are taken for a channel; the others are left empty.
func ReadChannels(name string, data []byte, l Layout) (*Log, notice.List) {
	return must(InMemory(name, data).ReadChannels(l))
}

// must takes the error of what is read from memory, where none can come.
func must(l *Log, list notice.List, err error) (*Log, notice.List) {
	if err != nil {
		panic(err)
	}
	return l, list
}

// Read reads a log by a layout as ReadLog does. The error is one of reading From.
func (in Input) Read(l Layout) (*Log, notice.List, error) {
	return in.read(l, func(Column) bool { return true })
}

// ReadChannels reads a log as the function of that name does. The error is one of reading From.
func (in Input) ReadChannels(l Layout) (*Log, notice.List, error) {
	return in.read(l, func(c Column) bool { return c.Channel != "" && !c.Text })
}

// Adopt guesses how a log is read, and reads it; the layout is that of the log. If the notices hold an
// error, there is none. The error is one of reading From.
func (in Input) Adopt() (*Log, notice.List, error) {
	encoding := ""
	for {
		text, found, err := in.head(encoding)
		if err != nil {
			return nil, nil, err
		}
		l, faults := guess(in.Name, text, found)
		if faults.Fatal() != nil {
			return nil, faults, nil
		}
		log, more, err := in.readAs(found, l, func(Column) bool { return true })
		if errors.Is(err, errNotUTF8) { // its first lines were, and a later one is not
			encoding = windows1252
			continue
		}
		if err != nil {
			return nil, nil, err
		}
		return log, append(faults, more...), nil
	}
}

// headBytes is how much of a log is looked at for a guess at first.
const headBytes = 1 << 20

// head returns as many whole lines from the beginning of a log as a guess looks at, as UTF-8, and the
// encoding; that may be given.
func (in Input) head(encoding string) ([]byte, string, error) {
	for n := int64(headBytes); ; n *= 4 {
		data := make([]byte, min(n, in.Size))
		k, err := in.From.ReadAt(data, 0)
		if err != nil && !errors.Is(err, io.EOF) {
			return nil, "", err
		}
		data = data[:k]
		whole := n >= in.Size || err != nil
		if found, _ := marked(data); !whole && !wide(found) {
			data = data[:bytes.LastIndexByte(data, '\n')+1]
		}
		text, found := data, encoding
		if encoding == windows1252 {
			text = fromWindows1252(data)
		} else {
			text, found = decode(data)
		}
		if whole || bytes.Count(text, []byte{'\n'}) > guessRows && len(bytes.TrimSpace(text)) > 0 {
			return text, found, nil
		}
	}
}

func (in Input) read(l Layout, wanted func(Column) bool) (*Log, notice.List, error) {
	sample := make([]byte, min(sampleBytes, in.Size))
	k, err := in.From.ReadAt(sample, 0)
	if err != nil && !errors.Is(err, io.EOF) {
		return nil, nil, err
	}
	encoding, _ := marked(sample[:k])
	log, faults, err := in.readAs(encoding, l, wanted)
	if errors.Is(err, errNotUTF8) {
		log, faults, err = in.readAs(windows1252, l, wanted)
	}
	return log, faults, err
}

// errNotUTF8 tells that a log that was read as UTF-8 is something else.
var errNotUTF8 = errors.New("the text is not UTF-8")

// readAs reads a log in an encoding, or ends with errNotUTF8.
func (in Input) readAs(encoding string, l Layout, wanted func(Column) bool) (*Log, notice.List, error) {
	sample := make([]byte, min(sampleBytes, in.Size))
	k, err := in.From.ReadAt(sample, 0)
	if err != nil && !errors.Is(err, io.EOF) {
		return nil, nil, err
	}
	_, mark := marked(sample[:k])
	f := &flow{
		Input: in, from: io.NewSectionReader(in.From, mark, in.Size-mark), size: in.Size - mark, skip: l.FirstLine - 1,
		checked: encoding == utf8Name && mark == 0, windows: encoding == windows1252,
		log: &Log{Name: in.Name, Layout: l, Values: make([][]float64, len(l.Columns)), Missing: make([]int, len(l.Columns))},
	}
	f.done.Store(mark)
	if wide(encoding) {
		order := unicode.LittleEndian
		if encoding == utf16BE {
			order = unicode.BigEndian
		}
		f.from = transform.NewReader(io.NewSectionReader(in.From, mark, f.size&^1), unicode.UTF16(order, unicode.IgnoreBOM).NewDecoder())
		f.size /= 2
	}
	if f.block == 0 {
		f.block = blockBytes
	}
	f.plan = newRowPlan(&l, wanted)
	workers := min(runtime.GOMAXPROCS(0), int(f.size/int64(f.block))+1)
	numeric.Parallel(workers, func(int) { f.work() })
	if f.err != nil {
		return nil, nil, f.err
	}
	if in.Progress != nil && in.Size > 0 {
		in.Progress(int(in.Size), int(in.Size))
	}
	log, list := f.join()
	return log, list, nil
}

// blockBytes is about how much of a log is read in one go. Where one block ends and the next begins
// hangs on the log alone, and nothing that is said of it hangs on that.
const blockBytes = 1 << 19

// flow hands out the text of a log in blocks of whole lines, and holds what was read of them.
type flow struct {
	Input
	from    io.Reader // of the text, but for the Windows code page, which is turned by block
	size    int64     // of the text, about
	checked bool      // that it is UTF-8
	windows bool
	plan    *rowPlan
	log     *Log

	mu     sync.Mutex // over what follows
	carry  []byte     // the beginning of a line whose end was not read yet
	skip   int        // lines before the first row
	ended  bool
	err    error
	read   int64 // bytes of the text
	lines  int   // handed out
	chunks []*chunk

	growing sync.RWMutex // held while the columns of the log are written to, or are moved to a larger place
	room    int          // rows that they have room for
	done    atomic.Int64 // bytes of the log
}

// chunk is one block of a log, read by one goroutine.
type chunk struct {
	at      int // first row of the log that is kept for it
	read    int // rows that were read
	lines   int
	blank   []int      // lines without anything, counted within the chunk
	faults  []rowFault // rows that are not used
	texts   int        // of them shown
	odd     []oddField // by column: what is neither a number nor empty
	missing []int      // by column
	tail    []byte     // the last line of the log if it lacks its end and some of its columns
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

// block is the text of a chunk.
type block struct {
	*chunk
	buffer []byte
	text   []byte // whole lines; the last one of a log may lack its end
	bytes  int64
}

// next fills a block with whole lines, and tells whether there were any.
func (f *flow) next(b *block) bool {
	f.mu.Lock()
	defer f.mu.Unlock()
	for f.err == nil && !f.ended {
		was := f.read
		text := f.fill(b)
		if f.err != nil {
			return false
		}
		for f.skip > 0 && len(text) > 0 {
			i := bytes.IndexByte(text, '\n')
			if i < 0 {
				i = len(text) - 1
			}
			if f.checked && !utf8.Valid(text[:i+1]) {
				f.err = errNotUTF8
				return false
			}
			text = text[i+1:]
			f.skip--
		}
		if b.bytes = f.read - was; len(text) == 0 {
			continue
		}
		b.text = text
		b.chunk = &chunk{at: f.lines, lines: bytes.Count(text, []byte{'\n'})}
		if text[len(text)-1] != '\n' {
			b.chunk.lines++
		}
		f.chunks = append(f.chunks, b.chunk)
		if f.lines += b.chunk.lines; f.lines > f.room {
			f.grow()
		}
		return true
	}
	return false
}

// fill reads whole lines into the buffer of a block; fewer than were asked for are the last.
func (f *flow) fill(b *block) []byte {
	want := max(f.block, 2*len(f.carry))
	for {
		b.buffer = append(b.buffer[:0], f.carry...)
		have := len(b.buffer)
		if cap(b.buffer) < want+spare {
			b.buffer = append(make([]byte, 0, want+spare), b.buffer...)
		}
		n, err := io.ReadFull(f.from, b.buffer[have:want])
		b.buffer = b.buffer[:have+n]
		f.read += int64(n)
		switch {
		case errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF):
			f.ended, f.carry = true, nil
			return b.buffer
		case err != nil:
			f.err = err
			return nil
		}
		i := bytes.LastIndexByte(b.buffer[have:], '\n') // there is none in what was carried over
		if i >= 0 {
			f.carry = append(f.carry[:0], b.buffer[have+i+1:]...)
			return b.buffer[:have+i+1]
		}
		f.carry = append(f.carry[:0], b.buffer...)
		want *= 2 // a very long line
	}
}

// grow makes room in the columns for the rows that were handed out and, as far as their length
// tells, for all that come.
func (f *flow) grow() {
	rows := f.lines
	if !f.ended {
		rows = int(1.02*float64(f.lines)*float64(f.size)/float64(f.read)) + f.lines/16 + 16
	}
	f.growing.Lock()
	defer f.growing.Unlock()
	// Columns that lie a multiple of 4096 bytes apart would crowd each other out of the cache.
	stride := (rows+511)/512*512 + 40
	columns := 1
	for _, p := range f.plan.columns {
		if p.kept {
			columns++
		}
	}
	all := make([]float64, columns*stride)
	hugePages(all)
	move := func(x []float64) []float64 {
		y := all[:rows:rows]
		all = all[stride:]
		copy(y, x)
		return y
	}
	f.log.Time = move(f.log.Time)
	for k, p := range f.plan.columns {
		if p.kept {
			f.log.Values[k] = move(f.log.Values[k])
		}
	}
	f.room = rows
}

// work reads blocks until there are no more.
func (f *flow) work() {
	b := &block{buffer: make([]byte, 0, min(int64(f.block), f.size)+spare)}
	r := newRowReader(f.plan)
	for f.next(b) {
		if f.windows {
			b.text = fromWindows1252(b.text)
		}
		f.growing.RLock()
		valid := r.read(b, f.log, f.checked)
		f.growing.RUnlock()
		if !valid {
			f.mu.Lock()
			f.err = errNotUTF8
			f.mu.Unlock()
			return
		}
		if f.Progress != nil {
			f.Progress(int(min(f.done.Add(b.bytes), f.Size)), int(f.Size))
		}
	}
}

// join closes the gaps between the chunks of a log, and looks it over.
func (f *flow) join() (*Log, notice.List) {
	out := f.log
	var faults notice.List
	l, name := &out.Layout, out.Name
	rows, line := 0, l.FirstLine
	var shown []string
	for _, c := range f.chunks {
		if c.tail != nil {
			if rows+c.read > 0 {
				c.faults = append(c.faults, rowFault{row: c.lines - 1, reason: leftCut})
			} else {
				newRowReader(f.plan).line(c, out, c.tail, c.lines-1)
			}
		}
		if rows != c.at {
			copy(out.Time[rows:], out.Time[c.at:c.at+c.read])
			for _, v := range out.Values {
				if v != nil {
					copy(v[rows:], v[c.at:c.at+c.read])
				}
			}
		}
		rows += c.read
		for k, n := range c.missing {
			out.Missing[k] += n
		}
		for _, b := range c.blank {
			out.skipped = append(out.skipped, line+b)
		}
		for _, r := range c.faults {
			out.skipped = append(out.skipped, line+r.row)
			out.leave(r.reason, line+r.row)
			if r.text != "" && len(shown) < shownFaults {
				shown = append(shown, fmt.Sprintf("%s on line %d", r.text, line+r.row))
			}
		}
		line += c.lines
	}
	sort.Ints(out.skipped)
	out.Time = out.Time[:rows]
	if l.Time < 0 { // rows count as seconds, whatever block they were read in
		for i := range out.Time {
			out.Time[i] = float64(i)
		}
	}
	for k, v := range out.Values {
		if v != nil {
			out.Values[k] = v[:rows]
		}
	}
	faults = append(faults, out.oddFields(f.chunks)...)
	if len(out.Time) < 2 {
		faults = append(faults, notice.Notice{
			Kind: notice.Error, Place: quantity.Place{File: name, Line: l.FirstLine, Column: 1}, What: fmt.Sprintf("the log has %d rows with a time", len(out.Time)),
			Allowed: "two or more", WayOut: "look at time and first_line in run.toml",
		})
		return out, faults
	}
	out.setTimes()
	faults = append(faults, out.order()...)
	return out, append(out.leftRows(shown), faults...)
}

// oddFields names what stands in columns of numbers and is none.
func (l *Log) oddFields(chunks []*chunk) notice.List {
	var list notice.List
	for k, c := range l.Layout.Columns {
		first, count, line := notice.Notice{}, 0, l.Layout.FirstLine
		for _, p := range chunks {
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

func fromWindows1252(data []byte) []byte {
	text, err := charmap.Windows1252.NewDecoder().Bytes(data)
	if err != nil {
		return bytes.ToValidUTF8(data, []byte("?"))
	}
	return text
}

// countMissing counts what is missing in each column of a chunk.
func (c *chunk) countMissing(out *Log) {
	c.missing = make([]int, len(out.Values))
	for k, v := range out.Values {
		if v == nil {
			continue
		}
		n := 0
		for _, x := range v[c.at : c.at+c.read] {
			if math.IsNaN(x) {
				n++
			}
		}
		c.missing[k] = n
	}
}
