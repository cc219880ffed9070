package bench

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"

	"golang.org/x/text/encoding/charmap"
	"pgregory.net/rapid"

	"jetwright/notice"
)

// dialect is one way in which an instrument writes the same log.
type dialect struct {
	name string
	data []byte
}

// dialects write thrust 120.5 N and 121.25 N, power 1500 W and 1510 W at 0 and 0.5 s (and so on),
// each in its own way.
func dialects(t testing.TB) []dialect {
	t.Helper()
	row := func(i int) (float64, float64, float64) {
		return 0.5 * float64(i), 120.5 + 0.75*float64(i), 1500 + 10*float64(i)
	}
	write := func(head, format string, fields func(s, f, p float64) []any) string {
		var b strings.Builder
		b.WriteString(head)
		for i := range 6 {
			fmt.Fprintf(&b, format, fields(row(i))...)
		}
		return b.String()
	}
	comma := func(s string) string { return strings.ReplaceAll(s, ".", ",") }
	plain := write("time,thrust [N],power [W]\n", "%g,%g,%g\n", func(s, f, p float64) []any { return []any{s, f, p} })
	german := "Gerät: Waage\r\nDatum: 3. Mai\r\n\r\n" + "Zeit [s];Zug [kgf];Leistung [kW]\r\n" + comma(write("", "%.2f;%.6f;%.3f\r\n", func(s, f, p float64) []any { return []any{s, f / 9.80665, p / 1000} }))
	latin, err := charmap.Windows1252.NewEncoder().String(german)
	if err != nil {
		t.Fatal(err)
	}
	var wide bytes.Buffer
	for _, u := range utf16.Encode([]rune(plain)) {
		wide.Write([]byte{byte(u), byte(u >> 8)})
	}
	return []dialect{
		{"comma", []byte(plain)},
		{"semicolon, decimal comma, preamble, code page", []byte(latin)},
		{"byte-order mark, tabs, milliseconds", []byte("\ufeff" + write("time_ms\tforce (N)\tpower (W)\n", "%g\t%g\t%g\n", func(s, f, p float64) []any { return []any{1000 * s, f, p} }))},
		{"UTF-16 without a mark", wide.Bytes()},
		{"clock", []byte(write("clock,pull N,power W\n", "23:59:%04.1f,%g,%g\n", func(s, f, p float64) []any { return []any{57 + s, f, p} }))},
		{"ISO time, units in a line of their own, quotes", []byte(write("\"stamp\",\"load\",\"power\"\n\"\",\"N\",\"W\"\n", "\"2026-05-03T10:00:%06.3fZ\",\"%g\",\"%g\"\n", func(s, f, p float64) []any { return []any{5 + s, f, p} }))},
		{"blanks", []byte(write("t thrust_N power_W\n", "%8g %9g %9g\n", func(s, f, p float64) []any { return []any{s, f, p} }))},
	}
}

// Every dialect reads as the same numbers.
func TestDialects(t *testing.T) {
	for _, d := range dialects(t) {
		l, faults := GuessLayout(d.name, d.data)
		if err := faults.Fatal(); err != nil || len(faults) > 0 {
			t.Errorf("%s: %v", d.name, faults)
			continue
		}
		log, faults := ReadLog(d.name, d.data, l)
		if len(faults) > 0 || log.Rows() != 6 {
			t.Errorf("%s: %d rows, %v; layout %+v", d.name, log.Rows(), faults, l)
			continue
		}
		f, haveF := log.Column(Thrust)
		p, haveP := log.Column(Power)
		if !haveF || !haveP {
			t.Errorf("%s: channels %+v", d.name, l.Columns)
			continue
		}
		for i := range 6 {
			if math.Abs(log.Time[i]-0.5*float64(i)) > 1e-6 || math.Abs(f[i]-(120.5+0.75*float64(i))) > 1e-4 || math.Abs(p[i]-(1500+10*float64(i))) > 1e-6 {
				t.Errorf("%s, row %d: %g s, %g N, %g W", d.name, i, log.Time[i], f[i], p[i])
			}
		}
	}
}

// What is no log is named, and what is missing in one does not hide the rest.
func TestLogFaults(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"nothing", "", "empty"},
		{"a header only", "time,thrust\n", "no two rows of numbers"},
		{"one line", "time,thrust\n0,1\n", "no two rows of numbers"},
		{"words", "once upon a time\nthere was a jet\n", "no two rows of numbers"},
	} {
		if _, faults := GuessLayout(c.name, []byte(c.text)); faults.Fatal() == nil || !strings.Contains(faults.Error(), c.want) {
			t.Errorf("%s: %v", c.name, faults)
		}
	}
	text := "time,thrust [N],state\n0,1,run\n1,NaN,run\nx,3,run\n3,oops,run\n4,5,stop\n"
	l, faults := GuessLayout("gaps", []byte(text))
	if faults.Fatal() != nil {
		t.Fatal(faults)
	}
	log, faults := ReadLog("gaps", []byte(text), l)
	if log.Rows() != 4 || len(faults) != 2 || faults[0].Place.Line != 4 || faults[0].Kind != notice.Warning {
		t.Errorf("%d rows, %v", log.Rows(), faults)
	}
	if log.Missing[1] != 2 || !l.Columns[2].Text {
		t.Errorf("missing %v, columns %+v", log.Missing, l.Columns)
	}
	midnight := "clock,thrust [N]\n23:59:59,1\n00:00:01,2\n00:00:03,3\n"
	l, _ = GuessLayout("midnight", []byte(midnight))
	l.Time, l.TimeFormat = 0, ClockTime // the guess cannot know that a clock that steps back went past midnight
	log, faults = ReadLog("midnight", []byte(midnight), l)
	if log.Time[2] != 4 || len(faults) != 0 {
		t.Errorf("past midnight: %v, %v", log.Time, faults)
	}
}

// The exact path for short decimals gives the bits of strconv.ParseFloat.
func TestParseLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringMatching(`[+-]?[0-9]{0,12}(\.[0-9]{0,9})?`).Draw(t, "number")
		got, ok := parse([]byte(s), '.')
		want, err := strconv.ParseFloat(s, 64)
		if ok != (err == nil) || ok && math.Float64bits(got) != math.Float64bits(want) {
			t.Fatalf("%q: %v %v, want %v %v", s, got, ok, want, err)
		}
		if c, okc := parse([]byte(strings.Replace(s, ".", ",", 1)), ','); okc != ok || ok && c != got {
			t.Fatalf("%q with a comma: %v %v", s, c, okc)
		}
	})
}

// Words and NaN among numbers are left out and named, with the place of the first.
func TestOddFields(t *testing.T) {
	data := []byte("time [s],pull [N],power [W]\n0,1,NaN\n1,n/a,5\n2,1e400,\n3,inf,3\n4,\"2\",7\n5,8,8\n6,8,9\n")
	l, faults := GuessLayout("odd.csv", data)
	if faults.Fatal() != nil {
		t.Fatal(faults)
	}
	log, faults := ReadLog("odd.csv", data, l)
	if faults.Fatal() != nil || log.Rows() != 7 || log.Missing[1] != 3 || log.Missing[2] != 2 || log.Values[1][4] != 2 {
		t.Fatalf("%v, missing %v, %v", faults, log.Missing, log.Values)
	}
	said := faults.Error()
	for _, words := range []string{`odd.csv:3:3: 3 values of "pull" are no numbers, the first is "n/a"`, `odd.csv:2:5: 1 value of "power" is no number: "NaN"`} {
		if !strings.Contains(said, words) {
			t.Errorf("%q is not said in %q", words, said)
		}
	}
}

// Rows that are not used are counted with reason and place, and what an instrument does when it
// begins anew is met.
func TestRowsNotUsed(t *testing.T) {
	text := "time [s],pull [N]\n" +
		"0,1\n1,2\n1,2\n# a comment\n2,3\ntime [s],pull [N]\n4,5\n3,4\n5,6\n6,7\n6.5,\x00 7\nwords,1\n7,8\n0,1\n1,2\n2,3\n3"
	l, faults := GuessLayout("r.csv", []byte(text))
	if faults.Fatal() != nil {
		t.Fatal(faults)
	}
	log, faults := ReadLog("r.csv", []byte(text), l)
	if err := faults.Fatal(); err != nil {
		t.Fatal(err)
	}
	want := []Left{{leftComment, 1, 5}, {leftHeader, 1, 7}, {leftNUL, 1, 12}, {leftNoTime, 1, 13}, {leftCut, 1, 18}, {leftDuplicate, 1, 4}}
	if !slices.Equal(log.Left, want) {
		t.Errorf("left out %+v, want %+v", log.Left, want)
	}
	if !slices.Equal(log.Time, []float64{0, 1, 2, 3, 4, 5, 6, 7, 0, 1, 2}) || !slices.Equal(log.Resets, []int{8}) || !slices.Equal(log.Values[1], []float64{1, 2, 3, 4, 5, 6, 7, 8, 1, 2, 3}) {
		t.Errorf("times %v, values %v, resets %v", log.Time, log.Values[1], log.Resets)
	}
	for _, words := range []string{"r.csv:15:1: the clock steps back from 7 s to 0 s", "1 rows stand out of order", "the last line is cut off", `"words,1" on line 13`} {
		if !strings.Contains(faults.Error(), words) {
			t.Errorf("%q is not said in %q", words, faults.Error())
		}
	}
	// Whole seconds over rows written faster are no duplicates.
	text = "time [s],pull [N]\n0,1\n0,1\n1,1\n1,1\n2,1\n2,1\n3,1\n"
	l, _ = GuessLayout("c.csv", []byte(text))
	if log, _ := ReadLog("c.csv", []byte(text), l); !slices.Equal(log.Time, []float64{0, 0.5, 1, 1.5, 2, 2.5, 3}) {
		t.Errorf("coarse times %v", log.Time)
	}
	for s, want := range map[string]float64{"1'234.5": 1234.5, "1 234": 1234, "12,345.6": 12345.6, "-1’234’567.25": -1234567.25, "1,234": 1234} {
		if x, ok := number(s, '.'); !ok || x != want {
			t.Errorf("%q is read as %g, %v", s, x, ok)
		}
	}
	for s, want := range map[string]float64{"1.234,5": 1234.5, "1.234": 1234, "1 234,5": 1234.5, "12,5": 12.5} {
		if x, ok := number(s, ','); !ok || x != want {
			t.Errorf("%q is read as %g, %v", s, x, ok)
		}
	}
	for _, s := range []string{"1,23", "1'23.4", "12,34,567", "1.2.3"} {
		if x, ok := number(s, '.'); ok {
			t.Errorf("%q is read as %g", s, x)
		}
	}
}

// A main log whose instrument began anew goes on where the scale says.
func TestRestartSynthetic(t *testing.T) {
	d := usual()
	s := d.sources()
	l := s[1].Log
	from, to := int((25+3*60+20)*d.rate), int((25+3*60+38)*d.rate) // 18 s are lost in the fourth step
	for k := range l.Values {
		l.Values[k] = append(l.Values[k][:from:from], l.Values[k][to:]...)
	}
	tail := append([]float64(nil), l.Time[to:]...)
	for i := range tail {
		tail[i] -= l.Time[to]
	}
	l.Time, l.Resets = append(l.Time[:from:from], tail...), []int{from}
	r, err := Reduce(s, ReduceOptions{Run: "day"})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(r.Duration-d.length()) > 0.3 {
		t.Errorf("the run lasts %.2f s, truly %.2f s", r.Duration, d.length())
	}
	last := r.Plateaus[len(r.Plateaus)-1]
	if f, ok := last.Figure(Thrust); !ok || math.Abs(f.Value-99.59) > 1.5 || len(r.Zeros) != 2 || !r.Friction.Known {
		t.Errorf("last pull %+v, zero windows %+v, friction %+v", f.Value, r.Zeros, r.Friction)
	}
}

// Units that are not written, masses on a scale, clocks, dates and quotes as instruments write them.
func TestLayoutOddities(t *testing.T) {
	for _, c := range []struct {
		name, text string
		channel    Channel
		want       float64 // second value of the channel, SI
		span       float64 // s over the whole log
		says       string
	}{
		{"a scale in kg", "time [s],pull [kg]\n0,1\n1,2\n2,3\n", Thrust, 2 * 9.80665, 2, ""},
		{"a scale in lb", "time [s],pull [lb]\n0,1\n1,2\n2,3\n", Thrust, 2 * 0.45359237 * 9.80665, 2, ""},
		{"turns without a unit", "time [s],rpm\n0,600\n1,1200\n2,1300\n", RotorSpeed, 40 * math.Pi, 2, "says no unit; its rotor speed is taken in rpm"},
		{"a temperature without a unit", "time [s],motor temp\n0,20\n1,21\n2,22\n", WindingTemperature, 294.15, 2, "taken in °C"},
		{"a pull without a unit", "time [s],thrust\n0,20\n1,21\n2,22\n", Thrust, 21, 2, "taken in N"},
		{"past midnight at once", "clock,rpm\n23:59:58,1\n23:59:59,2\n00:00:01,3\n00:00:02,4\n", RotorSpeed, 2 * math.Pi / 30, 4, ""},
		{"afternoon", "clock,rpm\n11:59:58 AM,1\n12:00:00 PM,2\n01:00:00 PM,3\n", RotorSpeed, 2 * math.Pi / 30, 3602, ""},
		{"day first", "time,rpm\n16.05.2026 10:14:22.5,1\n16.05.2026 10:14:23.0,2\n16.05.2026 10:14:24.0,3\n", RotorSpeed, 2 * math.Pi / 30, 1.5, ""},
		{"ms since 1970", "timestamp,rpm\n1778926462000,1\n1778926462500,2\n1778926463000,3\n", RotorSpeed, 2 * math.Pi / 30, 1, ""},
		{"decimal commas in quotes", "\"time [s]\",\"pull [N]\"\n\"0,0\",\"1,5\"\n\"0,5\",\"2,5\"\n\"1,0\",\"3,5\"\n", Thrust, 2.5, 1, ""},
		{"a date nobody can read", "time,rpm\n5/16/26 10h14,1\n5/16/26 10h15,2\n5/16/26 10h16,3\n", RotorSpeed, 2 * math.Pi / 30, 2, "which is not understood"},
	} {
		l, faults := GuessLayout(c.name, []byte(c.text))
		if err := faults.Fatal(); err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if c.says != "" && !strings.Contains(faults.Error(), c.says) {
			t.Errorf("%s: %q is not said in %q", c.name, c.says, faults.Error())
		}
		log, more := ReadLog(c.name, []byte(c.text), l)
		if err := more.Fatal(); err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		x, ok := log.Column(c.channel)
		if !ok || math.Abs(x[1]-c.want) > 1e-6*math.Abs(c.want) || math.Abs(log.Time[log.Rows()-1]-c.span) > 1e-3 {
			t.Errorf("%s: %v over %g s, columns %+v", c.name, x, log.Time[log.Rows()-1], l.Columns)
		}
	}
	if l, _ := GuessLayout("e", []byte("time [s],erpm\n0,600\n1,1200\n2,1300\n")); l.Columns[1].Channel != "" {
		t.Errorf("turns of the field are taken for %s", l.Columns[1].Channel)
	}
}

func FuzzLog(f *testing.F) {
	for _, d := range dialects(f) {
		f.Add(d.data)
	}
	f.Add([]byte("time,a\n0,1\n1,2\n"))
	f.Add([]byte{0xff, 0xfe, 0, 0, 1})
	f.Fuzz(func(t *testing.T, data []byte) {
		l, faults := GuessLayout("x", data)
		if faults.Fatal() != nil {
			return
		}
		log, _ := ReadLog("x", data, l)
		for k, v := range log.Values {
			if len(v) != log.Rows() {
				t.Fatalf("column %d has %d values of %d", k, len(v), log.Rows())
			}
			for _, x := range v {
				if math.IsInf(x, 0) {
					t.Fatal("a log holds an infinite number")
				}
			}
		}
		for _, x := range log.Time {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				t.Fatal("a log holds a time that is none")
			}
		}
	})
}

// Whatever a log holds, its reduction ends in figures or in a named reason.
func FuzzReduce(f *testing.F) {
	d := usual()
	d.powers, d.hold, d.zero, d.rate = []float64{600, 1500}, 20, 10, 2
	f.Add(text(d.sources()[1].Log))
	f.Add([]byte("time [s],power [W],pull [N]\n0,0,1\n1,0,1\n2,0,1\n3,50,9\n4,50,9\n20,50,9\n21,50,9\n22,51,9\n23,50,9\n24,49,9\n25,50,9\n26,50,9\n27,50,9\n30,50,9\n"))
	f.Add([]byte("time [s],power [W]\n0,1\n1e12,2\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		l, faults := GuessLayout("x", data)
		if faults.Fatal() != nil {
			return
		}
		log, faults := ReadLog("x", data, l)
		if faults.Fatal() != nil {
			return
		}
		r, err := Reduce([]Source{{Log: log}}, ReduceOptions{Run: "x"})
		if err != nil {
			if err.Error() == "" {
				t.Fatal("an error without words")
			}
			return
		}
		for _, p := range r.Plateaus {
			for _, x := range p.Figures {
				if math.IsNaN(x.Value) || math.IsNaN(x.StandardUncertainty()) {
					t.Fatalf("%s: %+v", p.Name, x)
				}
			}
		}
		if math.IsNaN(r.Tare.Start) || math.IsNaN(r.Friction.Force) {
			t.Fatalf("%+v %+v", r.Tare, r.Friction)
		}
	})
}

// bigLog is an hour at a rate in Hz with twelve columns.
func bigLog(rate int) []byte {
	var b bytes.Buffer
	b.WriteString("time [s],thrust [N],power [W],rpm,phase current [A],battery voltage [V],battery current [A],motor temp [°C],fet temp [°C],a,b,c\n")
	for i := range 3600 * rate {
		t := float64(i) / float64(rate)
		fmt.Fprintf(&b, "%.3f,%.2f,%.1f,%d,%.2f,%.2f,%.2f,%.1f,%.1f,%d,%.3f,%.2f\n", t, 100+math.Mod(t, 7), 1500+math.Mod(t, 13), 2500+i%17, 60.25, 48.5, 31.5, 25.5, 22.0, i%100, 0.125, -3.5)
	}
	return b.Bytes()
}

func BenchmarkReadLog(b *testing.B) {
	data := bigLog(100)
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		l, faults := GuessLayout("big", data)
		if faults.Fatal() != nil {
			b.Fatal(faults)
		}
		if log, _ := ReadLog("big", data, l); log.Rows() != 360000 {
			b.Fatal(log.Rows())
		}
	}
}
