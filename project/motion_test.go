package project

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"jetwright/bench"
	"jetwright/design"
)

func example(t testing.TB) *design.Design {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "examples", "rescue-sled", "drive.toml"))
	if err != nil {
		t.Fatal(err)
	}
	d, faults := design.Read("drive.toml", data)
	if err := faults.Fatal(); err != nil {
		t.Fatal(err)
	}
	return d
}

const wholeRun = `water_level = ["0 s = 300 mm", "900 s = 280 mm ± 2 mm"]
waterline_area = "40 cm²"
waterline_lever = "100 mm ± 10 mm"
[stand]
kind = "pivot"
pivot_height = "2 m ± 3 mm"
rope_height = "1.2 m"
jet_height = "400 mm"
[motion]
water_speed = "0 .. 0.1 m/s"
speed_change = "0.05 m/s"
moving_mass = "120 kg ± 30 kg"
pitch = "3 deg"
swing_period = "6 s"
[[reading]]
power = "1 kW"
place = "shaft"
held = "60 s"
thrust = "15 kgf"
[[log]]
file = "controller.csv"
time = "t"
channels = ["t [s]", "T [°C] = winding temperature", "U [V] = battery voltage", "F [kgf] = thrust"]
calibrations = ["winding temperature: 0 °C ± 0.1 °C = 0.4 °C, 100 °C(5) = 98.9 °C", "battery voltage: 50 V = 50.3 V"]
`

// What moves, floats, rises and was calibrated reaches the reduction, in SI.
func TestRunMotion(t *testing.T) {
	text := strings.Replace(wholeRun, "100 °C(5)", "100 °C ± 0.5 °C", 1)
	r, faults := readRun("day", "run.toml", []byte(text), example(t))
	if err := faults.Fatal(); err != nil {
		t.Fatal(err)
	}
	close := func(name string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-9*math.Max(1, math.Abs(want)) {
			t.Errorf("%s = %.12g, want %.12g", name, got, want)
		}
	}
	m := r.Motion
	close("speed", m.Stream.High, 0.1)
	close("change", m.SpeedChange, 0.05)
	close("mass", m.Mass, 120)
	close("its uncertainty", m.UMass, 30/math.Sqrt(3))
	close("pitch", m.Pitch, 3*math.Pi/180)
	close("period from", m.Period[0], 4.8)
	close("period to", m.Period[1], 7.2)
	if !m.Stream.Known || !r.Plateaus[0].Stream.Known {
		t.Error("the water's speed is lost")
	}
	close("lever", r.Stand().Lever.Value, 0.5)
	close("its uncertainty", r.Stand().ULever, 0.5*(1/0.8-1/1.6)*0.003/math.Sqrt(3))
	close("level", r.Level.Rise(450), -0.01)
	close("its uncertainty", r.Level.UHeight, 0.002/math.Sqrt(3))
	close("pull for a rise", r.Level.Pull, 9930*0.004*0.1/0.8)
	if r.Level.UPull < 0.1*r.Level.Pull/math.Sqrt(3) || r.Level.UPull > 0.12*r.Level.Pull/math.Sqrt(3) { // the lever's 10 % and a little
		t.Errorf("its uncertainty is %g of %g N/m", r.Level.UPull, r.Level.Pull)
	}
	c := r.Logs[0].Typed().Calibrations
	w := c[bench.WindingTemperature]
	if len(w.True) != 2 || len(c[bench.BatteryVoltage].True) != 1 || w.Place.Line != 24 || w.Place.Column < 10 {
		t.Fatalf("calibrations %+v", c)
	}
	close("true", w.True[1], 373.15)
	close("shown", w.Shown[1], 372.05)
	close("known to", w.UTrue[1], 0.5/math.Sqrt(3))
	if !strings.Contains(faults.Error(), "lever of the arm is for logs only") {
		t.Errorf("a typed thrust on a pivot passes without a word: %v", faults)
	}
}

// What is wrong is said with its place and the way out.
func TestRunMotionFaults(t *testing.T) {
	head := "[[log]]\nfile = \"a.csv\"\nchannels = [\"T [°C] = winding temperature\"]\n"
	for _, c := range []struct{ text, says string }{
		{head + `calibrations = ["winding: 0 °C = 1 °C"]`, "run.toml:4:17: \"winding\" is no channel"},
		{head + `calibrations = ["rotor speed: 100 rpm = 101 rpm"]`, "no column of this log is the rotor speed"},
		{head + `calibrations = ["thrust: 0 kgf = 1 kgf"]`, "calibration = ["},
		{head + `calibrations = ["winding temperature: 0 °C = 1 V"]`, "is no true value of the winding temperature"},
		{head + `calibrations = ["winding temperature: 0 °C = 90 °C, 100 °C = 2 °C"]`, "does not rise"},
		{head + `calibrations = ["winding temperature: 0 °C = 1 °C", "winding temperature: 5 °C = 6 °C"]`, "run.toml:4:53: the winding temperature is calibrated twice"},
		{head + `calibrations = ["winding temperature"]`, "is no calibration of a channel"},
		{head + `calibrations = []`, "holds no channel"},
		{`water_level = ["0 s = 300 mm"]`, "one height says nothing"},
		{`water_level = ["0 s = 300 mm", "0 s = 200 mm"]`, "run.toml:1:32: \"0 s = 200 mm\" does not come after"},
		{`water_level = ["0 s = 300 mm", "9 kg = 200 mm"]`, "is no time with the height"},
		{"[motion]\nspeed_change = \"0.1 m/s\"", "which mass gathers speed"},
		{"[motion]\nmoving_mass = \"10 kg\"", "gathers no speed"},
		{"[motion]\nwater_speed = \"-0.1 m/s\"", "water_speed"},
		{"[motion]\npich = \"3 deg\"", "pitch"},
		{"[stand]\nkind = \"pivot\"\n" + head, "its lever is not known"},
		{"water_level = [\"0 s = 300 mm\", \"9 s = 200 mm\"]\n[stand]\nkind = \"pivot\"\n", "what a rise of the water does"},
		{"[stand]\nkind = \"pivot\"\npivot_height = \"1 m\"\nrope_height = \"1 m\"\njet_height = \"0 m\"\n", "at the height of the pivot"},
	} {
		_, faults := readRun("day", "run.toml", []byte(c.text+"\n"), example(t))
		said := ""
		for _, f := range faults {
			said += f.Error() + " " + f.WayOut + "\n"
		}
		if !strings.Contains(said, c.says) {
			t.Errorf("%q: says %q, want %q", c.text, said, c.says)
		}
	}
}

// Whatever a run.toml holds, its level, motion and calibrations are numbers, or faults that have words.
func FuzzMotion(f *testing.F) {
	f.Add([]byte(wholeRun))
	f.Add([]byte("zero = [\"0 s .. 20 s\"]\nwater_level = [\"0 s = 1 m\", 5]\nlevel_pull = \"0.06 N/mm ± 0.06 N/mm\"\n"))
	f.Add([]byte("[motion]\nwater_speed = \"0.1 .. 0 m/s\"\nswing_period = \"5 .. 9 s\"\n"))
	f.Add([]byte("[[log]]\nfile = \"a\"\nchannels = [\"i [A] = battery current\"]\ncalibrations = [\"battery current: 0 A = 0.3 A,\", \":\", \"battery current:=,=\"]\n"))
	d := example(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		r, faults := readRun("day", "run.toml", data, d)
		for _, n := range faults {
			if n.What == "" {
				t.Fatal("a fault without words")
			}
		}
		if r == nil {
			return
		}
		for _, x := range []float64{r.Level.Rise(10), r.Level.Pull, r.Level.UPull, r.Motion.Mass, r.Motion.Pitch, r.Motion.Stream.High, r.Stand().Lever.Or(1), r.Stand().ULever} {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				t.Fatalf("%+v %+v %+v", r.Level, r.Motion, r.Stand())
			}
		}
		for _, l := range r.Logs {
			for c, p := range l.Typed().Calibrations {
				if v, err := p.Correct(p.Shown[0], 1, 1, 1); err == nil && (math.IsNaN(v.Value) || math.IsNaN(v.U)) {
					t.Fatalf("%s: %+v", c, v)
				}
			}
		}
	})
}

// What is typed under [before] is kept as typed, and what forbids a run is said at its place.
func TestBefore(t *testing.T) {
	r, faults := readRun("day", "run.toml", []byte("[before]\ngap_top = \"0.62 mm\"\ngap_right = \"0.60(2) mm\"\ngap_bottom = \"0.55 mm\"\ngap_left = \"0.58 mm\"\nrun_out = \"0.05 mm\"\nunbalance = \"12 µm\"\nrotation = \"yes\"\ntight = \"yes\"\ninsulation = \"20 MΩ\"\ninsulation_wet = \"5 MOhm\"\ncoolant = \"yes\"\nkill_by = \"Mara\"\nby = \"Jo\"\n"), example(t))
	if len(faults) > 0 || len(r.Before) != 13 {
		t.Fatalf("%v: %+v", faults, r.Before)
	}
	if r.Before[1].Value.Nominal() != 0.0006 || r.Before[1].Value.StandardUncertainty() == 0 || r.Before[11].Text != "Mara" {
		t.Errorf("%+v", r.Before)
	}
	for _, c := range []struct{ text, says, at string }{
		{"gap_top = \"0.9 mm\"\ngap_right = \"0.6 mm\"\ngap_bottom = \"0.2 mm\"\ngap_left = \"0.6 mm\"\nkill_by = \"x\"", "stands off the middle", "4:14"},
		{"gap_top = \"0.3 mm\"\nrun_out = \"0.2 mm\"\nkill_by = \"x\"", "the blades may touch", "3:11"},
		{"insulation = \"0.4 MΩ\"\nkill_by = \"x\"", "below 1 MΩ", "2:14"},
		{"rotation = \"no\"\nkill_by = \"x\"", "turns the wrong way", "2:12"},
		{"tight = \"no\"\nkill_by = \"x\"", "water gets in", "2:9"},
		{"coolant = \"no\"\nkill_by = \"x\"", "no coolant", "2:11"},
		{"coolant = \"yes\"", "nobody who tried the kill", "2:11"},
		{"coolant = \"perhaps\"\nkill_by = \"x\"", "yes", "2:11"},
		{"gap_topp = \"1 mm\"\nkill_by = \"x\"", "gap_top", "2:1"},
	} {
		_, faults := readRun("day", "run.toml", []byte("[before]\n"+c.text+"\n"), example(t))
		if len(faults) != 1 {
			t.Errorf("%q: %v", c.text, faults)
			continue
		}
		f := faults[0]
		if said := f.Error() + " " + f.WayOut + " " + f.Allowed; !strings.Contains(said, c.says) || fmt.Sprintf("%d:%d", f.Place.Line, f.Place.Column) != c.at {
			t.Errorf("%q: says %q at %v, want %q at %s", c.text, said, f.Place, c.says, c.at)
		}
	}
}
