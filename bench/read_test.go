package bench

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"reflect"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"
	"unicode/utf16"

	"golang.org/x/text/encoding/charmap"
)

// sameNumbers tells whether two columns hold the same bits, what is missing in both aside.
func sameNumbers(a, b []float64) bool {
	if len(a) != len(b) || (a == nil) != (b == nil) {
		return false
	}
	for i := range a {
		if math.Float64bits(a[i]) != math.Float64bits(b[i]) && !(math.IsNaN(a[i]) && math.IsNaN(b[i])) {
			return false
		}
	}
	return true
}

// sameLogs fails if two readings of a log differ in anything.
func sameLogs(t *testing.T, what string, a, b *Log, said, saidToo string) {
	t.Helper()
	ok := sameNumbers(a.Time, b.Time) && len(a.Values) == len(b.Values) && reflect.DeepEqual(a.Missing, b.Missing) && reflect.DeepEqual(a.Left, b.Left) && reflect.DeepEqual(a.Resets, b.Resets) && reflect.DeepEqual(a.skipped, b.skipped)
	for k := range a.Values {
		ok = ok && sameNumbers(a.Values[k], b.Values[k])
	}
	if !ok || said != saidToo {
		t.Errorf("%s: %d and %d rows, missing %v and %v, left %+v and %+v\n%s\n%s", what, a.Rows(), b.Rows(), a.Missing, b.Missing, a.Left, b.Left, said, saidToo)
	}
}

// oddLog is a log with something odd in many of its lines.
func oddLog(seed uint64) string {
	random := rand.New(rand.NewPCG(seed, 7))
	delimiter := []string{",", ";", "\t", "|", " "}[random.IntN(5)]
	end := []string{"\n", "\r\n"}[random.IntN(2)]
	pick := func(s ...string) string { return s[random.IntN(len(s))] }
	var b strings.Builder
	b.WriteString(strings.Join([]string{"time", "pull_kg", "power_kW", "rpm", "state"}, delimiter) + end)
	rows := 5 + random.IntN(60)
	for i := range rows {
		switch random.IntN(25) {
		case 0:
			b.WriteString(pick("# a comment", "", "   ", "\x00\x00", "time"+delimiter+"pull_kg", "words", delimiter+delimiter, "\r") + end)
		case 1:
			i -= random.IntN(3)
		}
		fields := []string{fmt.Sprintf("%.2f", 0.5*float64(i))}
		for range 3 {
			x := random.NormFloat64() * math.Pow(10, float64(random.IntN(9)-2))
			s := strconv.FormatFloat(x, 'f', random.IntN(8), 64)
			switch random.IntN(14) {
			case 0:
				s = pick("", "nan", "-", "\"5.5\"", "1'234", "0x10", "é", "1e400", "-0", "+.5", "5.", " 7 ", "1.2.3", "1e3", "-", "+", ".")
			case 1:
				s = strconv.FormatFloat(x, 'g', 17, 64)
			case 2:
				s = strconv.FormatFloat(x, 'e', 8, 64)
			}
			fields = append(fields, s)
		}
		fields = append(fields, pick("on", "off", "°", "hot"))
		if random.IntN(30) == 0 {
			fields = fields[:1+random.IntN(4)]
		}
		b.WriteString(strings.Join(fields, delimiter))
		if i < rows-1 || random.IntN(2) == 0 {
			b.WriteString(end)
		}
	}
	return b.String()
}

// The short way for plain rows, and the blocks that a log is read in, change nothing of what is read.
func TestBlocksLaw(t *testing.T) {
	for seed := range uint64(1500) {
		data := []byte(oddLog(seed))
		l, faults := GuessLayout("x", data)
		if faults.Fatal() != nil {
			continue
		}
		long, said := readLongWay(t, data, l)
		whole, faults := ReadLog("x", data, l)
		sameLogs(t, fmt.Sprintf("seed %d, the short way", seed), long, whole, said, fmt.Sprint(faults))
		in := InMemory("x", data)
		in.block = 16 + int(seed%97)
		parts, faults, err := in.Read(l)
		if err != nil {
			t.Fatal(err)
		}
		sameLogs(t, fmt.Sprintf("seed %d, blocks of %d", seed, in.block), whole, parts, said, fmt.Sprint(faults))
	}
}

// readLongWay reads a log line by line, without the short way for plain rows.
func readLongWay(t *testing.T, data []byte, l Layout) (*Log, string) {
	t.Helper()
	text, _ := decode(data)
	f := &flow{
		Input: Input{Name: "x", block: len(text) + 1}, from: bytes.NewReader(text), size: int64(len(text)), skip: l.FirstLine - 1,
		log: &Log{Name: "x", Layout: l, Values: make([][]float64, len(l.Columns)), Missing: make([]int, len(l.Columns))},
	}
	f.plan = newRowPlan(&l, func(Column) bool { return true })
	f.plan.plain = false
	f.work()
	log, faults := f.join()
	return log, fmt.Sprint(faults)
}

// A log of many blocks reads as it was written, in every encoding, and its last byte is told.
func TestEncodingsInBlocks(t *testing.T) {
	const rows = 30000
	var b strings.Builder
	b.WriteString("time [s],thrust [N],mode\n")
	for i := range rows {
		word := "run"
		if i == rows-2 { // far behind what a guess looks at
			word = "glüht"
		}
		fmt.Fprintf(&b, "%.2f,%.3f,%s\n", 0.01*float64(i), 0.125*float64(i%4000), word)
	}
	utf16Bytes := func(order func(u uint16) []byte) []byte {
		var out []byte
		for _, u := range utf16.Encode([]rune(b.String())) {
			out = append(out, order(u)...)
		}
		return out
	}
	latin, err := charmap.Windows1252.NewEncoder().String(b.String())
	if err != nil {
		t.Fatal(err)
	}
	for name, data := range map[string][]byte{
		"utf-8": []byte(b.String()), "windows-1252": []byte(latin),
		"utf-16le": utf16Bytes(func(u uint16) []byte { return []byte{byte(u), byte(u >> 8)} }),
		"utf-16be": utf16Bytes(func(u uint16) []byte { return []byte{byte(u >> 8), byte(u)} }),
	} {
		in := InMemory(name, data)
		in.block = 5000
		var most atomic.Int64
		in.Progress = func(done, total int) {
			if total != len(data) || done > total {
				t.Errorf("%s: %d of %d bytes, truly %d", name, done, total, len(data))
			}
			most.Store(max(most.Load(), int64(done)))
		}
		log, faults, err := in.Adopt()
		if err != nil || faults.Fatal() != nil || log.Rows() != rows || log.Layout.Encoding != name || most.Load() != int64(len(data)) {
			t.Fatalf("%s: %v, %v, layout %+v, %d of %d bytes told", name, err, faults, log.Layout, most.Load(), len(data))
		}
		for i, x := range log.Values[1] {
			if x != 0.125*float64(i%4000) || math.Abs(log.Time[i]-0.01*float64(i)) > 1e-9 {
				t.Fatalf("%s, row %d: %g s, %g N", name, i, log.Time[i], x)
			}
		}
	}
}

// broken gives no more after some bytes.
type broken struct {
	io.ReaderAt
	after int64
}

var errDisk = errors.New("the disk fell out")

func (b broken) ReadAt(p []byte, at int64) (int, error) {
	if at+int64(len(p)) > b.after {
		return 0, errDisk
	}
	return b.ReaderAt.ReadAt(p, at)
}

// What cannot be read to its end is no log.
func TestReadErrors(t *testing.T) {
	data := bigLog(2)
	in := InMemory("x", data)
	in.From, in.block = broken{in.From, int64(len(data) / 2)}, 10000
	l, _ := GuessLayout("x", data)
	if log, _, err := in.Read(l); !errors.Is(err, errDisk) || log != nil {
		t.Errorf("%v", err)
	}
	in.From = broken{InMemory("x", data).From, 10}
	if log, _, err := in.Adopt(); !errors.Is(err, errDisk) || log != nil {
		t.Errorf("%v", err)
	}
}

// counted counts what is read.
type counted struct {
	io.ReaderAt
	bytes int64
}

func (c *counted) ReadAt(p []byte, at int64) (int, error) {
	n, err := c.ReaderAt.ReadAt(p, at)
	c.bytes += int64(n)
	return n, err
}

// The heading of a log is read from as many of its lines as the layout needs, and from all if they end before.
func TestHeadingOfLargeLog(t *testing.T) {
	const notes = 20000
	var b strings.Builder
	for i := range notes {
		fmt.Fprintf(&b, "# note %d of the instrument\n", i)
	}
	b.WriteString("time [s],thrust [N]\n")
	for i := range 500000 {
		fmt.Fprintf(&b, "%d,%d\n", i, i%7)
	}
	in := InMemory("x", []byte(b.String()))
	from := &counted{ReaderAt: in.From}
	in.From = from
	l := Layout{Delimiter: ',', Decimal: '.', HeaderLine: notes + 1, FirstLine: notes + 2, TimeFormat: Elapsed, Columns: make([]Column, 2)}
	h, err := in.Heading(l)
	if err != nil || h.Header != "time [s],thrust [N]" || len(h.Columns) != 2 || h.First != "0,0" || h.Rows != headingRows || h.Times != headingRows || h.Values[1] != headingRows || h.Lines < l.FirstLine {
		t.Errorf("%+v, %v", h, err)
	}
	if from.bytes > in.Size/2 {
		t.Errorf("%d of %d bytes were read", from.bytes, in.Size)
	}
	l.FirstLine = 10 * notes * notes
	if h, err := in.Heading(l); err != nil || h.Lines != notes+1+500000 || h.Rows != 0 {
		t.Errorf("a first line behind the end: %d lines, %d rows, %v", h.Lines, h.Rows, err)
	}
	in.From = broken{from, in.Size / 2}
	if _, err := in.Heading(l); !errors.Is(err, errDisk) {
		t.Errorf("%v", err)
	}
}

// Numbers are rounded to the bits of strconv.ParseFloat, hard ones too.
func TestParseHardLaw(t *testing.T) {
	hard := []string{
		"9007199254740991", "9007199254740992", "9007199254740993", "9007199254740995", "900719925474099.3", "9007199254740.993", "0.9007199254740993", "4503599627370496.5", "4503599627370497.5",
		"123456789012345678", "1234567890123456789", "12345678901234567890", "0.000000000000000001", "0.1", "0.3", "2.675", "1.005", "179769313486231570000", "1e22", "1e23", "8.5e22", "2.2250738585072011e-308",
		"2.2250738585072014e-308", "4.9e-324", "2.4703282292062327e-324", "2.4703282292062328e-324", "1.7976931348623157e308", "1.7976931348623159e308", "6631236846766476e-316", "3.2378839133029012895883e-319",
		"-0", "-0.0", "+0", "00000012.50", "1234567", "12345678", "123456789", "1.1234567", "1.12345678", "1.123456789", "1234567.1234567", "12345678.12345678", "", ".", "-", "+", "-.", ".5", "5.", "1..2", "1.2.3", "e5", "1e", "1e+", "5e-1", "5E2", "1-2", "--1",
	}
	random := rand.New(rand.NewPCG(20260503, 1))
	for range 200000 {
		x := random.NormFloat64() * math.Pow(10, float64(random.IntN(30)-12))
		switch random.IntN(4) {
		case 0:
			hard = append(hard, strconv.FormatFloat(x, 'f', random.IntN(18), 64))
		case 1:
			hard = append(hard, strconv.FormatFloat(x, 'g', 1+random.IntN(19), 64))
		case 2:
			x = math.Float64frombits(random.Uint64())
			if math.IsNaN(x) || math.IsInf(x, 0) {
				continue
			}
			hard = append(hard, strconv.FormatFloat(x, 'g', -1, 64))
		default: // half way between two neighbours, as far as the digits go
			k := random.Uint64N(1<<53) | 1<<52
			hard = append(hard, strconv.FormatUint(k, 10)+"."+[]string{"5", "50", "49", "51"}[random.IntN(4)])
		}
	}
	for _, s := range hard {
		if len(s) > 40 {
			continue
		}
		want, err := strconv.ParseFloat(s, 64)
		got, ok := parse([]byte(s), '.')
		if ok != (err == nil) || ok && math.Float64bits(got) != math.Float64bits(want) {
			t.Fatalf("%q: %v %v, want %v %v", s, got, ok, want, err)
		}
		text := []byte(s + ",7\n" + strings.Repeat(" ", spare))
		if x, end := decimalAt(text, 0, '.'); end > 0 && (end != len(s) && err == nil || end == len(s) && math.Float64bits(x) != math.Float64bits(want)) {
			t.Fatalf("%q: %v up to byte %d, want %v", s, x, end, want)
		}
	}
}

// The short way for clocks gives what clockOrISO gives, to the bit.
func TestTimeOfDayLaw(t *testing.T) {
	random := rand.New(rand.NewPCG(20260503, 2))
	short := 0
	for range 200000 {
		s := fmt.Sprintf("%02d:%02d:%02d", random.IntN(26), random.IntN(62), random.IntN(63))
		if k := random.IntN(12); k > 0 {
			s += []string{".", ","}[random.IntN(2)] + fmt.Sprintf("%0*d", k, random.Int64N(int64(math.Pow10(k))))
		}
		if random.IntN(2) == 0 {
			s = fmt.Sprintf("%04d-%02d-%02d%s%s%s", 1900+random.IntN(200), random.IntN(14), random.IntN(33), []string{"T", " "}[random.IntN(2)], s, []string{"", "Z", "+02:00"}[random.IntN(3)])
		}
		if random.IntN(4) == 0 { // one byte of it is another
			b := []byte(s)
			b[random.IntN(len(b))] = "0123456789:.,-+TZ AP"[random.IntN(20)]
			s = string(b)
		}
		want, _, ok := clockOrISO(s)
		if got, okToo := clock([]byte(s)); ok != okToo || ok && math.Float64bits(got) != math.Float64bits(want) {
			t.Fatalf("%q: %v %v, want %v %v", s, got, okToo, want, ok)
		}
		if ok {
			short++
		}
	}
	if short < 50000 {
		t.Errorf("only %d of them are times", short)
	}
}
