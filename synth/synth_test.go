package synth

import (
	"bytes"
	"encoding/json"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode/utf8"
)

// typed is the first ladder of examples/rescue-sled as its builder typed it.
var typed = []struct {
	power, pull, speed, phase, voltage, winding, bridge, hold float64
}{
	{630, 9.20, 1960, 33, 47.7, 19, 18, 60},
	{1180, 14.65, 2440, 50, 47.5, 21, 18, 90},
	{1830, 20.10, 2850, 66, 46.9, 24, 19, 60},
	{2660, 26.15, 3240, 85, 46.1, 28, 20, 90},
	{3380, 30.55, 3510, 99, 45.8, 32, 21, 120},
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s is %.6g, not %.6g within %.2g", what, got, want, tolerance)
	}
}

func typedDay() Day {
	var steps []Step
	for _, r := range typed {
		steps = append(steps, Step{r.power, r.hold, 6})
	}
	d := Quiet(steps...)
	d.CoFlow = sceneCoFlow         // and in the same pool
	d.Friction = Ladder().Friction // the pull was read on a carriage that drags
	return d
}

// scaleRows reads the scale log back: its own time, pull in kgf, status.
func scaleRows(t *testing.T, log []byte) (elapsed, pull []float64, status []string) {
	t.Helper()
	for _, line := range strings.Split(strings.TrimSuffix(string(log), "\r\n"), "\r\n")[5:] {
		cells := strings.Split(strings.ReplaceAll(line, ",", "."), ";")
		if len(cells) != 3 {
			t.Fatalf("a row of the scale log is %q", line)
		}
		elapsed, pull, status = append(elapsed, number(t, cells[0])), append(pull, number(t, cells[1])), append(status, cells[2])
	}
	return elapsed, pull, status
}

// controllerRows reads the controller log back: run time, then the columns as they stand.
func controllerRows(t *testing.T, d Day, log []byte) (run []float64, cells [][]string) {
	t.Helper()
	midnight := d.Start.Truncate(24 * time.Hour)
	for _, line := range strings.Split(strings.TrimSuffix(string(log), "\n"), "\n")[1:] {
		c := strings.Split(line, ",")
		if len(c) != 8 {
			t.Fatalf("a row of the controller log is %q", line)
		}
		at, err := time.Parse("15:04:05.000", c[0])
		if err != nil {
			t.Fatal(err)
		}
		clock := midnight.Add(at.Sub(at.Truncate(24 * time.Hour)))
		run, cells = append(run, clock.Sub(d.Start).Seconds()), append(cells, c)
	}
	return run, cells
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func mean(xs, ys []float64, from, to float64) float64 {
	var sum, n float64
	for i, x := range xs {
		if x >= from && x <= to {
			sum += ys[i]
			n++
		}
	}
	return sum / n
}

// The scene's own ladder is invented, so that this holds two inventions together, no evidence.
func TestTypedLadder(t *testing.T) {
	_, truth := typedDay().Make()
	for i, r := range typed {
		s := truth.Steps[i]
		near(t, "power", s.BatteryPower, r.power, 1e-6)
		near(t, "pull", s.Pull/gravity, r.pull, 0.015*r.pull)
		near(t, "speed", s.RotorSpeed, r.speed, 0.015*r.speed)
		near(t, "phase current", s.PhaseCurrent, r.phase, 0.015*r.phase)
		near(t, "voltage", s.BatteryVoltage, r.voltage, 0.015*r.voltage)
		near(t, "winding", s.WindingTemperature, r.winding, 1.5)
		near(t, "bridge", s.BridgeTemperature, r.bridge, 1)
		t.Logf("%4.0f W: pull %+.2f %%, speed %+.2f %%, phase %+.2f %%, voltage %+.2f %%, winding %+.1f K, bridge %+.1f K", r.power,
			100*(s.Pull/gravity/r.pull-1), 100*(s.RotorSpeed/r.speed-1), 100*(s.PhaseCurrent/r.phase-1), 100*(s.BatteryVoltage/r.voltage-1),
			s.WindingTemperature-r.winding, s.BridgeTemperature-r.bridge)
	}
}

func TestEnergyClosesLaw(t *testing.T) {
	for _, d := range []Day{Ladder(), typedDay(), Random(1), Random(2)} {
		tr := d.simulate()
		for i, s := range tr.states {
			losses := s.copper + s.iron + s.bridge + s.noLoad
			near(t, "battery less losses", s.voltage*s.current-losses, s.shaft, 1e-9*(1+s.battery))
			near(t, "motor power", 2*math.Pi*s.speed*s.phase*torqueConstant, s.shaft+s.noLoad, 1e-9*(1+s.battery))
			wanted, _ := d.wanted(tr.time(i))
			near(t, "battery", s.battery, math.Max(wanted, bridgeIdle), 1e-7)
			if t.Failed() {
				t.Fatalf("at %v s: %+v", tr.time(i), s)
			}
		}
	}
}

// An ideal jet spends less than this one, and the water cannot gain from the motor's losses.
func TestEfficiencyLaw(t *testing.T) {
	_, truth := Ladder().Make()
	for _, s := range truth.Steps {
		if atShaft := s.StaticEfficiency * s.BatteryPower / s.ShaftPower; !(0.3 < s.StaticEfficiency && s.StaticEfficiency < atShaft && atShaft < 0.7) {
			t.Errorf("static efficiency %v at the battery, %v at the shaft", s.StaticEfficiency, atShaft)
		}
	}
	// a jet of 1 m³/s through 1 m² carries ρ newton and half as many watt
	a := math.Pi / 4 * nozzleDiameter * nozzleDiameter
	near(t, "loss-free jet", staticEfficiency(density*a*25, density*a*125/2), 1, 1e-12)
}

func TestSameSeedSameBytesLaw(t *testing.T) {
	for _, make := range []func() Day{Ladder, func() Day { return Random(7) }} {
		a, truthA := make().Make()
		b, truthB := make().Make()
		if !bytes.Equal(a.Scale, b.Scale) || !bytes.Equal(a.Controller, b.Controller) {
			t.Error("the same seed gave other bytes")
		}
		ja, err := json.Marshal(truthA)
		if err != nil {
			t.Fatal(err)
		}
		if jb, _ := json.Marshal(truthB); !bytes.Equal(ja, jb) {
			t.Error("the same seed gave another truth")
		}
		other := make()
		other.Seed++
		if c, _ := other.Make(); bytes.Equal(a.Scale, c.Scale) || bytes.Equal(a.Controller, c.Controller) {
			t.Error("another seed gave the same bytes")
		}
	}
}

// A fault on one channel leaves all others as they were.
func TestFaultAloneLaw(t *testing.T) {
	d := Random(3)
	clean, _ := d.Make()
	d.Faults = []Fault{{Channel: RotorSpeed, Kind: Spiking, From: 0, To: d.Length(), Level: 500, Share: 0.1}}
	spoilt, _ := d.Make()
	if !bytes.Equal(clean.Scale, spoilt.Scale) {
		t.Error("a fault of the controller moved the scale")
	}
	_, a := controllerRows(t, d, clean.Controller)
	_, b := controllerRows(t, d, spoilt.Controller)
	spikes := 0
	for i := range a {
		if a[i][4] != b[i][4] {
			spikes++
			near(t, "spike", number(t, b[i][4])-number(t, a[i][4]), 500, 1e-9)
		}
		a[i][4], b[i][4] = "", ""
		if strings.Join(a[i], ",") != strings.Join(b[i], ",") {
			t.Fatalf("row %d: %q became %q", i, a[i], b[i])
		}
	}
	near(t, "share of spikes", float64(spikes)/float64(len(a)), 0.1, 0.02)
}

func TestClippedLaw(t *testing.T) {
	d := Ladder()
	d.Faults = []Fault{{Channel: Pull, Kind: Clipped, From: 0, To: d.Length(), Level: 25}}
	files, _ := d.Make()
	_, pull, _ := scaleRows(t, files.Scale)
	at := 0
	for _, p := range pull {
		if p > 25 {
			t.Fatalf("%v kgf is above the clip", p)
		}
		if p == 25 {
			at++
		}
	}
	if at < 1000 {
		t.Errorf("only %d rows are clipped", at)
	}
}

func TestFileFormsExact(t *testing.T) {
	d := Ladder()
	files, _ := d.Make()

	if utf8.Valid(files.Scale) || !bytes.Contains(files.Scale, []byte("Uferl\xe4ufer")) || !bytes.Contains(files.Scale, []byte("20 \xb0C")) {
		t.Error("the scale log is not in Windows-1252")
	}
	if n := bytes.Count(files.Scale, []byte("\n")); n != bytes.Count(files.Scale, []byte("\r\n")) || n != bytes.Count(files.Scale, []byte("\r")) || !bytes.HasSuffix(files.Scale, []byte("\r\n")) {
		t.Error("the scale log's lines do not end in CRLF")
	}
	lines := strings.Split(string(files.Scale), "\r\n")
	if lines[4] != "Zeit (s);Zug (kgf);Status" || strings.Contains(strings.Join(lines[:4], ""), ";") {
		t.Errorf("the scale log begins %q", lines[:5])
	}
	row := regexp.MustCompile(`^\d+,\d\d;-?\d+,\d[05];(ruhig|bewegt)$`)
	for _, l := range lines[5 : len(lines)-1] {
		if !row.MatchString(l) {
			t.Fatalf("a row of the scale log is %q", l)
		}
	}
	elapsed, _, status := scaleRows(t, files.Scale)
	near(t, "first row", elapsed[0], 3.1, 1e-9)
	near(t, "rate", float64(len(elapsed)-1)/(elapsed[len(elapsed)-1]-elapsed[0]), 5, 1e-6)
	if words := strings.Join(status, " "); !strings.Contains(words, "ruhig") || !strings.Contains(words, "bewegt") {
		t.Error("the status never changes")
	}

	if !utf8.Valid(files.Controller) || bytes.Contains(files.Controller, []byte("\r")) || bytes.Contains(files.Controller, []byte(";")) || !bytes.HasSuffix(files.Controller, []byte("\n")) {
		t.Error("the controller log is not plain UTF-8 with LF and commas")
	}
	lines = strings.Split(string(files.Controller), "\n")
	if lines[0] != "clock,battery voltage [V],battery current [A],phase current [A],rotor speed [rpm],winding temp [degC],bridge temp [degC],throttle [%]" {
		t.Errorf("the controller log begins %q", lines[0])
	}
	if !strings.HasPrefix(lines[1], "10:14:22.350,") || !strings.HasPrefix(lines[2], "10:14:22.400,") {
		t.Errorf("the clock begins %q, %q", lines[1], lines[2])
	}
	row = regexp.MustCompile(`^\d\d:\d\d:\d\d\.\d{3},\d+\.\d,-?\d+\.\d,\d+\.\d,\d+,\d+\.\d,\d+\.[05],\d+\.\d$`)
	for _, l := range lines[1 : len(lines)-1] {
		if !row.MatchString(l) {
			t.Fatalf("a row of the controller log is %q", l)
		}
	}
}

func TestFrozenLaw(t *testing.T) {
	d := Ladder()
	files, truth := d.Make()
	if len(truth.Faults) != 1 || truth.Faults[0] != d.Faults[0] {
		t.Fatalf("the truth has the faults %+v", truth.Faults)
	}
	f := truth.Faults[0]
	if f.From <= truth.Steps[3].From || f.From >= truth.Steps[3].To || f.To != truth.Length {
		t.Errorf("the sensor freezes from %v to %v s", f.From, f.To)
	}
	run, cells := controllerRows(t, d, files.Controller)
	before, within, last := map[string]bool{}, map[string]bool{}, ""
	for i, at := range run {
		if v := cells[i][5]; at >= f.From {
			within[v] = true
		} else {
			before[v], last = true, v
		}
	}
	if len(within) != 1 || !within[last] {
		t.Errorf("the frozen sensor shows %v after %q", within, last)
	}
	if len(before) < 50 {
		t.Errorf("before it froze the sensor showed only %d values", len(before))
	}
	if truth.Steps[5].WindingTemperature < number(t, last)+3 {
		t.Error("the winding did not warm behind the frozen sensor")
	}
}

func TestSpansLaw(t *testing.T) {
	for _, d := range []Day{Ladder(), Random(4), Random(5)} {
		_, truth := d.Make()
		at := truth.ZeroBegin.To
		near(t, "first zero", truth.ZeroBegin.From, 0, 0)
		for i, s := range truth.Steps {
			near(t, "begin of the hold", s.From, at+d.Steps[i].Ramp, 1e-9)
			near(t, "end of the hold", s.To, s.From+d.Steps[i].Hold, 1e-9)
			near(t, "mean power", s.BatteryPower, d.Steps[i].BatteryPower, 1e-6*s.BatteryPower)
			for _, instant := range []float64{s.From, (s.From + s.To) / 2, s.To} {
				p, _ := d.wanted(instant)
				near(t, "power in the hold", p, d.Steps[i].BatteryPower, 1e-6)
			}
			up := i == 0 || d.Steps[i].BatteryPower > d.Steps[i-1].BatteryPower
			if up != (s.Direction == "up") {
				t.Errorf("step %d goes %s", i, s.Direction)
			}
			at = s.To
		}
		near(t, "second zero", truth.ZeroEnd.From, at+d.EndRamp, 1e-9)
		near(t, "end", truth.ZeroEnd.To, truth.Length, 1e-9)
	}
}

// Going up the scale sees less than the jet makes, going down more, at rest its tare.
func TestFrictionSignLaw(t *testing.T) {
	d := Ladder()
	files, truth := d.Make()
	elapsed, pull, _ := scaleRows(t, files.Scale)
	run := make([]float64, len(elapsed))
	for i, e := range elapsed {
		run[i] = d.RunTime(e)
	}
	tare := func(s Span) float64 { return truth.TareBegin + truth.TareSlope*(s.From+s.To)/2 }
	for _, s := range truth.Steps {
		want := (1-truth.CoFlow)*s.Thrust - d.Friction
		if s.Direction == "down" {
			want = (1-truth.CoFlow)*s.Thrust + d.Friction
		}
		near(t, "true pull", s.Pull, want, 0.1)
		shown := gravity * mean(run, pull, s.From+2, s.To)
		near(t, "shown pull", (shown-tare(s.Span))/(1+truth.Gains.Scale), s.Pull, 0.005*s.Pull)
	}
	near(t, "tare before", gravity*mean(run, pull, truth.ZeroBegin.From, truth.ZeroBegin.To), tare(truth.ZeroBegin), 0.1)
	near(t, "tare after", gravity*mean(run, pull, truth.ZeroEnd.From+2, truth.ZeroEnd.To), tare(truth.ZeroEnd), 0.1)
	if truth.CoFlow != sceneCoFlow {
		t.Errorf("the ladder's pool takes %g of the thrust", truth.CoFlow)
	}
}

func TestCoFlowExact(t *testing.T) {
	d := Quiet(Step{1000, 60, 5})
	_, still := d.Make()
	d.CoFlow = 0.04
	_, moving := d.Make()
	near(t, "thrust", moving.Steps[0].Thrust, still.Steps[0].Thrust, 1e-9)
	near(t, "pull", moving.Steps[0].Pull, 0.96*still.Steps[0].Pull, 1e-9)
}

// What the controller shows, freed of its gains, is the truth.
func TestGainsLaw(t *testing.T) {
	for _, d := range []Day{Ladder(), Random(11)} {
		files, truth := d.Make()
		run, cells := controllerRows(t, d, files.Controller)
		column := func(c int) []float64 {
			out := make([]float64, len(cells))
			for i := range cells {
				out[i] = number(t, cells[i][c])
			}
			return out
		}
		voltage, current, phase, speed := column(1), column(2), column(3), column(4)
		for _, s := range truth.Steps {
			near(t, "voltage", mean(run, voltage, s.From, s.To)/(1+truth.Gains.Voltage), s.BatteryVoltage, 0.02)
			near(t, "current", mean(run, current, s.From, s.To)/(1+truth.Gains.Current), s.BatteryCurrent, 0.006*s.BatteryCurrent)
			near(t, "phase current", mean(run, phase, s.From, s.To)/(1+truth.Gains.Current), s.PhaseCurrent, 0.006*s.PhaseCurrent)
			near(t, "speed", mean(run, speed, s.From, s.To), s.RotorSpeed, 0.003*s.RotorSpeed)
		}
	}
}

// The scale's clock runs by offset and drift against the run: the edge between two steps is in
// the scale log where ScaleTime says, and both logs cover the run.
func TestClockLaw(t *testing.T) {
	near(t, "scale time", Ladder().ScaleTime(1000), 37.2+1000.06, 1e-9)
	days := []Day{Ladder()}
	for seed := range uint64(8) {
		days = append(days, Random(seed))
	}
	for _, d := range days {
		near(t, "there and back", d.RunTime(d.ScaleTime(123.4)), 123.4, 1e-9)
		files, truth := d.Make()
		elapsed, pull, _ := scaleRows(t, files.Scale)
		run, _ := controllerRows(t, d, files.Controller)
		if d.RunTime(elapsed[0]) > truth.ZeroBegin.To-15 || d.RunTime(elapsed[len(elapsed)-1]) < truth.Length {
			t.Errorf("the scale log covers %v to %v s of the run", d.RunTime(elapsed[0]), d.RunTime(elapsed[len(elapsed)-1]))
		}
		near(t, "first row", run[0], 0, 1e-9)
		near(t, "last row", run[len(run)-1], truth.Length, 0.051)
		// where the last ramp has come down by half of the thrust
		last := truth.Steps[len(truth.Steps)-1]
		tr := d.simulate()
		var want float64
		for i := range tr.states {
			if at := tr.time(i); at > last.To && tr.states[i].thrust < last.Thrust/2 {
				want = at
				break
			}
		}
		for i, e := range elapsed {
			if e > d.ScaleTime(last.To) && pull[i]*gravity-d.Tare-d.TareDrift < last.Thrust/2 {
				near(t, "the edge on the scale's clock", e, d.ScaleTime(want), 0.8)
				break
			}
		}
	}
}

// The clocks exactly, on perfect instruments: every row of the scale shows the pull of its run time.
func TestClockExact(t *testing.T) {
	d := Quiet(Step{1500, 60, 5}, Step{800, 40, 5})
	d.ScaleClockOffset, d.ScaleClockDrift = 12.34, 5000
	files, _ := d.Make()
	elapsed, pull, _ := scaleRows(t, files.Scale)
	tr := d.simulate()
	for i, e := range elapsed {
		at := (e - 12.34) / 1.005
		near(t, "pull", pull[i]*gravity, tr.at(at, func(i int) float64 { return tr.states[i].thrust }), 1e-5)
	}
}

func TestRandomWithinBoundsLaw(t *testing.T) {
	for seed := range uint64(300) {
		d := Random(seed)
		ups := 0
		for i, s := range d.Steps {
			if i == 0 || s.BatteryPower > d.Steps[i-1].BatteryPower {
				ups++
			}
			if s.Hold < 40 || s.Hold > 180 || s.BatteryPower < 100 || s.BatteryPower > 6000 {
				t.Errorf("seed %d: step %+v", seed, s)
			}
		}
		if downs := len(d.Steps) - ups; ups < 4 || ups > 7 || downs < 1 || downs > 3 {
			t.Errorf("seed %d: %d steps up, %d down", seed, ups, downs)
		}
		if math.Abs(d.ScaleClockOffset) > 60 || math.Abs(d.ScaleClockDrift) > 100 || d.Friction < 0 || d.Friction > 6 ||
			math.Abs(d.Gains.Scale) > 0.004 || math.Abs(d.Gains.Current) > 0.04 || math.Abs(d.Gains.Voltage) > 0.008 || len(d.Faults) > 0 {
			t.Errorf("seed %d: %+v", seed, d)
		}
	}
}

func TestTruthKeys(t *testing.T) {
	_, truth := Ladder().Make()
	text, err := json.Marshal(truth)
	if err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"thrust_N", "battery_power_W", "from_s", "to_s", "rotor_speed_rpm", "scale_clock_offset_s", "scale_clock_drift_ppm", "tare_slope_N_per_s", "static_efficiency_at_battery"} {
		if !bytes.Contains(text, []byte(`"`+key+`":`)) {
			t.Errorf("the truth has no %s", key)
		}
	}
	var back Truth
	if err := json.Unmarshal(text, &back); err != nil || len(back.Steps) != len(truth.Steps) || back.Steps[2] != truth.Steps[2] {
		t.Errorf("the truth does not come back from its text: %v", err)
	}
}

func TestImpossibleDayPanics(t *testing.T) {
	for _, d := range []Day{
		Quiet(Step{1000, 0, 5}),
		{Steps: []Step{{1000, 60, 5}}, Faults: []Fault{{Channel: "mood", Kind: Frozen}}},
		{Steps: []Step{{1000, 60, 5}}, Faults: []Fault{{Channel: Pull, Kind: "bored"}}},
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%+v was made", d)
				}
			}()
			d.Make()
		}()
	}
}

func BenchmarkMake(b *testing.B) {
	for b.Loop() {
		Ladder().Make()
	}
}
