package synth

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf16"
	"unicode/utf8"
)

// text decodes a log by what the truth says of it.
func badText(t *testing.T, file FileTruth, data []byte) string {
	t.Helper()
	switch file.Encoding {
	case "utf-8":
		return string(data)
	case "windows-1252":
		letters := make([]rune, len(data))
		for i, b := range data {
			letters[i] = rune(b)
		}
		return string(letters)
	}
	var order binary.ByteOrder = binary.LittleEndian
	if strings.HasPrefix(file.Encoding, "utf-16be") {
		order = binary.BigEndian
	}
	units := make([]uint16, len(data)/2)
	for i := range units {
		units[i] = order.Uint16(data[2*i:])
	}
	if strings.HasSuffix(file.Encoding, "-mark") != (units[0] == 0xfeff) {
		t.Errorf("%s is %s and begins with %x", file.Name, file.Encoding, units[0])
	}
	if units[0] == 0xfeff {
		units = units[1:]
	}
	return string(utf16.Decode(units))
}

// lone makes a day with one ill, and gives its fault, the log and its text.
type lone struct {
	fault IllTruth
	file  FileTruth
	data  []byte
	text  string
	clean string
	truth BadTruth
}

// cleanDays are the clean days that loneIll has made.
var cleanDays = map[uint64]*cleanDay{}

type cleanDay struct {
	files []NamedFile
	truth BadTruth
}

func loneIll(t *testing.T, seed uint64, ill string) lone {
	t.Helper()
	files, truth := Clean(seed).With(ill).Make()
	if len(truth.Faults) != 1 || truth.Faults[0].Name != ill || !slices.Equal(truth.Ills, []string{ill}) {
		t.Fatalf("seed %d with %s has %+v", seed, ill, truth.Faults)
	}
	if cleanDays[seed] == nil {
		clean, cleanTruth := Clean(seed).Make()
		cleanDays[seed] = &cleanDay{clean, cleanTruth}
	}
	clean, cleanTruth := cleanDays[seed].files, cleanDays[seed].truth
	l := lone{fault: truth.Faults[0], truth: truth}
	for i, f := range files {
		if f.Name == l.fault.File {
			l.file, l.data = truth.Files[i], f.Data
			l.text = badText(t, l.file, f.Data)
			l.clean = badText(t, cleanTruth.Files[i], clean[i].Data)
		} else if !bytes.Equal(f.Data, clean[i].Data) {
			t.Errorf("seed %d: %s changed %s too", seed, ill, f.Name)
		}
	}
	if l.data == nil {
		t.Fatalf("seed %d: no file %q", seed, l.fault.File)
	}
	return l
}

// unit is how the unit of the first column stands in its name.
func (l lone) unit() string {
	if u := " [" + l.file.Columns[0].Unit + "]"; strings.Contains(l.text, u) {
		return u
	}
	return " (" + l.file.Columns[0].Unit + ")"
}

// rows are the lines of numbers, in cells; times as the clock shows them, in seconds.
func (l lone) rows(t *testing.T) (clock []float64, cells [][]string) {
	t.Helper()
	for _, line := range strings.FieldsFunc(l.text, func(r rune) bool { return r == '\n' || r == '\r' }) {
		row := strings.Split(line, l.file.Delimiter)
		if len(row) < 1+len(l.file.Columns) || line[0] < '0' || line[0] > '9' {
			continue
		}
		first := strings.ReplaceAll(row[0], ",", ".")
		if _, rest, ok := strings.Cut(first, " "); ok {
			first = rest
		}
		var at float64
		for part := range strings.SplitSeq(first, ":") {
			at = 60*at + number(t, part)
		}
		if l.file.Clock.Form == "elapsed_ms" {
			at /= 1000
		}
		clock, cells = append(clock, at), append(cells, row[1:])
	}
	return clock, cells
}

// shown reads the column of a channel.
func (l lone) shown(t *testing.T, channel string) []float64 {
	t.Helper()
	place := slices.IndexFunc(l.file.Columns, func(c ColumnTruth) bool { return c.Channel == channel })
	_, cells := l.rows(t)
	out := make([]float64, len(cells))
	for i, row := range cells {
		out[i] = number(t, strings.ReplaceAll(row[place], ",", "."))
	}
	return out
}

func TestBadSameSeedSameBytesLaw(t *testing.T) {
	for seed := range uint64(20) {
		one, truth := Bad(seed).Make()
		two, again := Bad(seed).Make()
		a, err := json.Marshal(truth)
		if err != nil {
			t.Fatal(err)
		}
		b, _ := json.Marshal(again)
		if !bytes.Equal(a, b) {
			t.Errorf("seed %d has two truths", seed)
		}
		for i := range one {
			if one[i].Name != two[i].Name || !bytes.Equal(one[i].Data, two[i].Data) {
				t.Errorf("seed %d: %s differs", seed, one[i].Name)
			}
		}
	}
}

// The count of an ill over 400 seeds lies within four standard deviations of its share.
func TestBadSharesLaw(t *testing.T) {
	const days = 400
	count := map[string]int{}
	for seed := range uint64(days) {
		for _, ill := range Bad(seed).Ills {
			count[ill]++
		}
	}
	for _, ill := range Ills() {
		if ill.Share < 0.05 || ill.Share > 0.25 {
			t.Errorf("%s is on %g of the days", ill.Name, ill.Share)
		}
		if sd := math.Sqrt(days * ill.Share * (1 - ill.Share)); math.Abs(float64(count[ill.Name])-days*ill.Share) > 4*sd {
			t.Errorf("%s is on %d of %d days, not about %g", ill.Name, count[ill.Name], days, days*ill.Share)
		}
	}
}

func TestBadTruthLaw(t *testing.T) {
	for seed := range uint64(100) {
		day := Bad(seed)
		files, truth := day.Make()
		_, clean := Clean(seed).Make()
		if !slices.Equal(day.Ills, truth.Ills) {
			t.Errorf("seed %d drew %q and has %q", seed, day.Ills, truth.Ills)
		}
		if len(clean.Ills)+len(clean.Faults) > 0 || len(files) != len(clean.Files) {
			t.Errorf("seed %d: the clean day is %+v", seed, clean.Faults)
		}
		// the clean day is the same day
		if !slices.Equal(truth.Steps, clean.Steps) || !slices.Equal(truth.Effects, clean.Effects) || truth.Length != clean.Length || truth.ThrustConstant != clean.ThrustConstant {
			t.Errorf("seed %d: the clean day is another one", seed)
		}
		a, _ := json.Marshal(truth.Corrections)
		b, _ := json.Marshal(clean.Corrections)
		if !bytes.Equal(a, b) {
			t.Errorf("seed %d: the corrections differ", seed)
		}
		for i, f := range truth.Files {
			if f.Clock != clean.Files[i].Clock || f.Rate != clean.Files[i].Rate || f.Name != clean.Files[i].Name {
				t.Errorf("seed %d: %+v is not %+v", seed, f, clean.Files[i])
			}
		}
		// spans lie within the day
		within := func(what string, s Span, lo, hi float64) {
			if !(s.From >= lo-1e-9 && s.To >= s.From && s.To <= hi+1e-9) {
				t.Errorf("seed %d: %s lies at %+v in %g to %g", seed, what, s, lo, hi)
			}
		}
		at := truth.ZeroBegin.To
		for _, s := range truth.Steps {
			within("a step", s.Span, at, truth.Length)
			at = s.To
		}
		within("the first zero", truth.ZeroBegin, 0, truth.Length)
		within("the last zero", truth.ZeroEnd, at, truth.Length)
		for _, f := range truth.Faults {
			within(f.Name, f.Span, truth.Begin, truth.End)
			for _, s := range f.Spans {
				within(f.Name, s, 0, truth.Length)
				if length := s.To - s.From; length < 3 || length > 40 {
					t.Errorf("seed %d: a gap of %g s", seed, length)
				}
			}
			if f.Name == Frozen && (f.To-f.From < 9.99 || f.To-f.From > 120) {
				t.Errorf("seed %d: frozen at %+v", seed, f.Span)
			}
			if f.Channel != "" && slices.Contains(truth.Healthy, f.Channel) {
				t.Errorf("seed %d: %s is healthy and has %s", seed, f.Channel, f.Name)
			}
		}
		// energy closes
		for _, s := range truth.Steps {
			near(t, "battery less losses", s.BatteryPower-s.CopperLoss-s.IronLoss-s.BridgeLoss-s.NoLoadLoss, s.ShaftPower, 1e-6*s.BatteryPower)
			near(t, "volts times amperes", s.BatteryVoltage*s.BatteryCurrent, s.BatteryPower, 1e-6*s.BatteryPower)
			near(t, "torque times speed", s.ShaftTorque*s.RotorSpeed*2*math.Pi/60, s.ShaftPower, 1e-4*s.ShaftPower)
			if s.StaticEfficiency <= 0.2 || s.StaticEfficiency > 0.8 {
				t.Errorf("seed %d: a static efficiency of %g", seed, s.StaticEfficiency)
			}
			c := truth.Corrections
			friction := c.CarriageFriction.True
			if s.Direction == "down" {
				friction = -friction
			}
			// the turning of the friction takes half a second of the hold
			near(t, "carriage pull", s.CarriagePull, (1-s.CoFlow)*s.Thrust-friction, 0.02*s.Thrust*c.CoFlow.True+0.05*math.Abs(friction)+1e-6)
		}
		// the builder's limits hold what is so
		c := truth.Corrections
		for name, h := range map[string]Held{"angle": c.RopeAngle, "pulley": c.PulleyFriction, "gravity": c.GravityGain, "gain": c.ScaleGain, "curve": c.ScaleCurve, "carriage": c.CarriageFriction, "hysteresis": c.Hysteresis, "tare": c.Tare, "drift": c.TareDrift, "level": c.LevelChange, "force": c.LevelForce, "co-flow": c.CoFlow} {
			if math.Abs(h.True-h.Known) > h.Within+1e-12 {
				t.Errorf("seed %d: the %s is known as %+v", seed, name, h)
			}
		}
	}
}

// What a healthy instrument shows of a step is what the truth and the corrections say.
func TestBadCleanShowsTruthLaw(t *testing.T) {
	for seed := range uint64(16) {
		files, truth := Clean(seed).Make()
		c := truth.Corrections
		var most float64
		for _, s := range truth.Steps {
			most = math.Max(most, s.Pull)
		}
		for i, file := range truth.Files {
			l := lone{file: file, text: badText(t, file, files[i].Data), truth: truth}
			clock, _ := l.rows(t)
			if len(clock) != file.Rows {
				t.Fatalf("seed %d: %s has %d rows, not %d", seed, file.Name, len(clock), file.Rows)
			}
			start := badStart(seed)
			run := make([]float64, len(clock))
			for k, at := range clock {
				if !strings.HasPrefix(file.Clock.Form, "elapsed") {
					at -= float64(start.Hour()*3600+start.Minute()*60+start.Second()) + float64(start.Nanosecond())/1e9
				}
				run[k] = (at - file.Clock.Offset) / (1 + file.Clock.Drift*1e-6)
			}
			for _, column := range file.Columns {
				if column.Channel == Throttle || column.Channel == BridgeTemperature {
					continue
				}
				ys := l.shown(t, column.Channel)
				for _, s := range truth.Steps {
					shown := mean(run, ys, s.From+8, s.To)
					switch column.Channel {
					case BatteryVoltage, ShuntVoltage:
						near(t, column.Channel, shown, (1+column.Gain)*s.BatteryVoltage, 0.1)
					case BatteryCurrent, ShuntCurrent:
						near(t, column.Channel, shown, (1+column.Gain)*s.BatteryCurrent, 0.006*s.BatteryCurrent+0.1)
					case ShuntPower:
						near(t, column.Channel, shown, (1+column.Gain)*s.BatteryPower, 0.006*s.BatteryPower+1)
					case RotorSpeed:
						near(t, column.Channel, shown, s.RotorSpeed, 0.003*s.RotorSpeed)
					case Pull:
						per := map[string]float64{"N": 1, "kgf": gravity, "kg": gravity, "g": gravity / 1000}[column.Unit]
						middle := (s.From + 8 + s.To) / 2
						felt := s.Pull * (1 + c.GravityGain.True)
						want := (1+c.ScaleGain.True)*felt + c.ScaleCurve.True*felt*(1-felt/c.ScaleFull) +
							c.Tare.True + (c.TareDrift.True+c.LevelForce.True*c.LevelChange.True)*middle/truth.Length
						if s.Direction == "down" {
							want += c.Hysteresis.True * 4 * s.Pull / most * (1 - s.Pull/most)
						}
						near(t, column.Channel, shown*per, want, 1+0.006*want+0.6*c.FloatAmplitude*want)
					case WindingTemperature:
						last := mean(run, ys, s.To-1, s.To)
						near(t, column.Channel, last, s.WindingTemperature, 0.4)
					}
				}
			}
		}
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
}

// Each ill alone changes one log only, and can be seen in its bytes.
func TestBadIllsSeenLaw(t *testing.T) {
	lines := func(s string) []string { return strings.Split(strings.ReplaceAll(s, "\r\n", "\n"), "\n") }
	seen := map[string]func(l lone) bool{
		IllQuoted: func(l lone) bool { return strings.Contains(l.text, `"`) },
		IllThousands: func(l lone) bool {
			marked := regexp.MustCompile(regexp.QuoteMeta(l.file.Delimiter) + "[1-9]" + regexp.QuoteMeta(l.fault.Mark) + `\d{3}[;,\t\r\n]`)
			return l.fault.Mark != "" && len(marked.FindAllString(l.text, -1)) > l.file.Rows/2 && !marked.MatchString(l.clean)
		},
		IllUTF16Mark: func(l lone) bool {
			return bytes.HasPrefix(l.data, []byte{0xff, 0xfe}) || bytes.HasPrefix(l.data, []byte{0xfe, 0xff})
		},
		IllUTF16Bare: func(l lone) bool {
			return len(l.data)%2 == 0 && bytes.Count(l.data, []byte{0}) > len(l.data)*2/5 && l.text == l.clean
		},
		IllWindows1252: func(l lone) bool {
			return bytes.IndexByte(l.data, 0xfc)+bytes.IndexByte(l.data, 0xe4) > -2 && !utf8.Valid(l.data)
		},
		IllNUL: func(l lone) bool { return strings.Contains(l.text, "\x00") && l.fault.Rows > 0 },
		IllMixedEnds: func(l lone) bool {
			crlf := strings.Count(l.text, "\r\n")
			return crlf > 0 && strings.Count(l.text, "\n") > crlf
		},
		IllTruncated: func(l lone) bool {
			return !strings.HasSuffix(l.text, "\n") && strings.HasPrefix(l.clean, l.text) && len(l.clean)-len(l.text) < 120
		},
		IllHeaderAgain: func(l lone) bool { return strings.Count(l.text, l.file.Columns[0].Name+l.unit()) == 2 },
		IllClockReset: func(l lone) bool {
			clock, _ := l.rows(t)
			back := 0
			for i := range clock[1:] {
				if clock[i+1] < clock[i] {
					back++
				}
			}
			return back == 1 && l.fault.ClockBack > 1
		},
		IllDuplicates: func(l lone) bool {
			seen := map[string]int{}
			for _, line := range lines(l.text) {
				seen[line]++
			}
			more := 0
			for _, n := range seen {
				more += n - 1
			}
			return more == l.fault.Rows
		},
		IllOutOfOrder: func(l lone) bool {
			clock, _ := l.rows(t)
			back := 0
			for i := range clock[1:] {
				if clock[i+1] < clock[i] {
					back++
				}
			}
			return back == l.fault.Rows
		},
		IllGaps: func(l lone) bool {
			clock, _ := l.rows(t)
			long := 0
			for i := range clock[1:] {
				if clock[i+1]-clock[i] > 2.4 {
					long++
				}
			}
			return long == len(l.fault.Spans)
		},
		IllWords: func(l lone) bool {
			return strings.Count(l.text, "n/a")+strings.Count(l.text, "---")+strings.Count(l.text, "ERR") == l.fault.Rows && l.fault.Rows > 0
		},
		IllEmptyCells: func(l lone) bool {
			n := 0
			for _, line := range lines(l.text) {
				for _, cell := range strings.Split(line, l.file.Delimiter) {
					if line != "" && cell == "" {
						n++
					}
				}
			}
			return n == l.fault.Rows && n > 0
		},
		IllTrailing: func(l lone) bool {
			return strings.Count(l.text, l.file.Delimiter+"\n")+strings.Count(l.text, l.file.Delimiter+"\r\n") >= l.file.Rows
		},
		IllUnitsLine: func(l lone) bool {
			for i, line := range lines(l.text) {
				if strings.Contains(line, l.file.Columns[0].Name) {
					next := lines(l.text)[i+1]
					return !strings.Contains(line, "[") && !strings.Contains(line, "(") && slices.Contains(strings.Split(next, l.file.Delimiter), l.file.Columns[0].Unit)
				}
			}
			return false
		},
		IllComments: func(l lone) bool {
			n := 0
			for _, line := range lines(l.text) {
				if strings.HasPrefix(line, "#") {
					n++
				}
			}
			return n == l.fault.Rows
		},
		IllBlank: func(l lone) bool { return len(lines(l.text))-len(lines(l.clean)) == l.fault.Rows && l.fault.Rows > 1 },
		Frozen: func(l lone) bool {
			ys := l.shown(t, l.fault.Channel)
			run, longest := 0, 0
			for i, y := range ys {
				if run++; i > 0 && y != ys[i-1] {
					run = 1
				}
				longest = max(longest, run)
			}
			return longest >= l.fault.Rows && l.fault.Rows >= 8
		},
		Clipped: func(l lone) bool {
			ys := l.shown(t, l.fault.Channel)
			var most float64
			for _, y := range ys {
				most = math.Max(most, math.Abs(y))
			}
			n := 0
			for _, y := range ys {
				if math.Abs(y) == most {
					n++
				}
			}
			return n >= l.fault.Rows && n > 1
		},
		Spiking: func(l lone) bool {
			was := lone{file: l.file, text: l.clean, truth: l.truth}.shown(t, l.fault.Channel)
			n := 0
			for i, y := range l.shown(t, l.fault.Channel) {
				if math.Abs(y-was[i]) > 0.9*l.fault.Level {
					n++
				}
			}
			return n == l.fault.Rows && n > 0
		},
		IllDrift: func(l lone) bool {
			was := lone{file: l.file, text: l.clean, truth: l.truth}.shown(t, l.fault.Channel)
			is := l.shown(t, l.fault.Channel)
			return math.Abs(is[len(is)-1]-was[len(was)-1]-l.fault.Offset) < 0.6 && is[0] == was[0]
		},
		IllSwapped: func(l lone) bool {
			was := lone{file: l.file, text: l.clean, truth: l.truth}
			a, b := l.shown(t, WindingTemperature), was.shown(t, BridgeTemperature)
			return math.Abs(a[len(a)-1]-b[len(b)-1]) < 0.4
		},
		IllUnit: func(l lone) bool {
			is := l.shown(t, l.fault.Channel)
			if l.fault.Form == "kgf_as_N" {
				return l.fault.Unit == "N" && slices.Max(is) < 80
			}
			was := lone{file: l.file, text: l.clean, truth: l.truth}.shown(t, l.fault.Channel)
			return math.Abs(is[100]-(1.8*was[100]+32)) < 0.8
		},
		IllElectrical: func(l lone) bool {
			was := lone{file: l.file, text: l.clean, truth: l.truth}.shown(t, l.fault.Channel)
			return math.Abs(slices.Max(l.shown(t, RotorSpeed))/slices.Max(was)-float64(l.fault.PolePairs)) < 0.01
		},
		IllSign: func(l lone) bool {
			ys := l.shown(t, Pull)
			return slices.Max(ys) < -0.3*slices.Min(ys)
		},
		IllSecondScale: func(l lone) bool {
			ratio := slices.Max(l.shown(t, Pull2)) / slices.Max(l.shown(t, Pull))
			return math.Abs(ratio-1-l.fault.Gain) < 0.05
		},
		IllCurrentLow: func(l lone) bool {
			was := lone{file: l.file, text: l.clean, truth: l.truth}.shown(t, l.fault.Channel)
			return math.Abs(slices.Max(l.shown(t, BatteryCurrent))/slices.Max(was)-1-l.fault.Gain) < 0.02
		},
	}
	for _, ill := range Ills() {
		look := seen[ill.Name]
		if look == nil {
			t.Errorf("nobody looks for %s", ill.Name)
			continue
		}
		for seed := range uint64(8) {
			if ill.Name == IllSecondScale {
				// a day without a second scale gets one, so that its clean day has a column less
				files, truth := Clean(seed).With(ill.Name).Make()
				l := lone{fault: truth.Faults[0], file: truth.Files[0], text: badText(t, truth.Files[0], files[0].Data), truth: truth}
				if !look(l) {
					t.Errorf("seed %d: %s is not to be seen: %+v", seed, ill.Name, l.fault)
				}
				continue
			}
			if l := loneIll(t, seed, ill.Name); !look(l) {
				t.Errorf("seed %d: %s is not to be seen: %+v in %s %s", seed, ill.Name, l.fault, l.file.Name, l.file.Clock.Form)
			}
		}
	}
}

// A channel that is frozen is mostly frozen while the power moves.
func TestBadFrozenLaw(t *testing.T) {
	moved, still := 0, 0
	for seed := range uint64(60) {
		_, truth := Clean(seed).With(Frozen).Make()
		if truth.Faults[0].PowerMoved {
			moved++
		} else {
			still++
		}
	}
	if moved < 45 || still == 0 {
		t.Errorf("the power moved on %d days and stood on %d", moved, still)
	}
}

// All ills at once leave logs and a truth, and what two of the codes cannot share is left out.
func TestBadAllAtOnceLaw(t *testing.T) {
	var names []string
	for _, ill := range Ills() {
		names = append(names, ill.Name)
	}
	for seed := range uint64(40) {
		files, truth := Clean(seed).With(names...).Make()
		if missing := len(names) - len(truth.Ills); missing != 3-min(3, len(files)) {
			t.Errorf("seed %d: %d ills are missing with %d files", seed, missing, len(files))
		}
	}
	defer func() {
		if recover() == nil {
			t.Error("an unknown ill was laid")
		}
	}()
	Clean(1).With("mood")
}

func TestBadTruthKeys(t *testing.T) {
	_, truth := Bad(7).Make()
	text, err := json.Marshal(truth)
	if err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"ills", "thrust_N", "pull_N", "carriage_pull_N", "battery_power_W", "from_s", "rotor_speed_rpm", "offset_s", "drift_ppm", "lag_s", "rope_angle_deg", "calibration_points", "healthy_channels", "rate_Hz"} {
		if !bytes.Contains(text, []byte(`"`+key+`":`)) {
			t.Errorf("the truth has no %s", key)
		}
	}
	var back BadTruth
	if err := json.Unmarshal(text, &back); err != nil || !slices.Equal(back.Steps, truth.Steps) {
		t.Errorf("the truth does not come back from its text: %v", err)
	}
}

// A day is some 10 minutes of some 6000 rows, as its callers count on.
func TestBadSizeLaw(t *testing.T) {
	var rows, lengths []float64
	for seed := range uint64(200) {
		b := Bad(seed).bench()
		rows, lengths = append(rows, b.day.Length()*b.instruments[1].rate), append(lengths, b.day.Length())
	}
	slices.Sort(rows)
	slices.Sort(lengths)
	t.Logf("controller rows: median %.0f, most %.0f; length: median %.0f s, %.0f to %.0f s", rows[100], rows[199], lengths[100], lengths[0], lengths[199])
	if rows[100] < 4000 || rows[100] > 8000 || lengths[199] > 1200 {
		t.Errorf("the median day has %.0f rows, the longest %.0f s", rows[100], lengths[199])
	}
}

func BenchmarkBad(b *testing.B) {
	var seed uint64
	for b.Loop() {
		Bad(seed).Make()
		seed++
	}
}
