package bench

import (
	"math"
	"strings"
	"testing"

	"jetwright/quantity"
)

func at(c float64) float64 { return c + 273.15 }

// points of an instrument, as typed.
func points(pairs ...float64) Points {
	var p Points
	for i := 0; i < len(pairs); i += 2 {
		p.True, p.Shown = append(p.True, pairs[i]), append(p.Shown, pairs[i+1])
		p.UTrue, p.UShown = append(p.UTrue, 0), append(p.UShown, 0)
	}
	return p
}

// One point takes an offset out; two a gain as well, with the uncertainty by hand and the open bend; more
// the curve. Beyond them there is no value.
func TestCorrectExact(t *testing.T) {
	one, err := points(at(0), at(0.4)).Correct(at(50), 0.5, 0.1, 2)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "offset", one.Value, at(49.6))
	near(t, "its uncertainty", one.U, 0.5)
	two := points(at(0), at(0.4), at(100), at(98.9))
	two.UTrue = []float64{0.1, 0.3}
	c, err := two.Correct(at(49.65), 0.5, 0.1, 2)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "half-way", c.Value, at(50))
	gain := 0.985
	near(t, "its uncertainty", c.U, 0.5*math.Hypot(math.Hypot(0.5/gain, 0.1), math.Hypot(0.5/gain, 0.3)))
	near(t, "open half-way", c.Open, 2)
	c, _ = two.Correct(at(98.9), 0.5, 0.1, 2)
	near(t, "at a point", c.Value, at(100))
	near(t, "its uncertainty", c.U, math.Hypot(0.5/gain, 0.3))
	if math.Abs(c.Open) > 1e-9 {
		t.Errorf("open at a point: %g", c.Open)
	}
	for _, beyond := range []float64{-12, 112} {
		if _, err := two.Correct(at(beyond), 0.5, 0.1, 2); err == nil {
			t.Errorf("%g °C is beyond 0 .. 100 °C", beyond)
		}
	}
	many := points(at(0), at(0.4), at(25), at(25.025), at(50), at(49.65), at(100), at(98.9))
	many.UTrue[2] = 0.2
	c, err = many.Correct(at(74.275), 0.5, 0.1, 2)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "on a line", c.Value, at(75))
	// Of the curve at 75 of 0, 25, 50 and 100: 1/4 + (75 − 43.75)²/5468.75.
	near(t, "points on the line, in steps", c.U, math.Hypot(0.2, 0.1/0.985*math.Sqrt(1+0.25+31.25*31.25/5468.75)))
	if !math.IsInf(c.Freedom, 1) || c.Curved || c.Open != 0 {
		t.Errorf("points on a line known to 0.2 K: %+v", c)
	}
	if _, err := many.Correct(at(130), 0.5, 0.1, 2); err == nil {
		t.Error("130 °C has a value")
	}
	for _, p := range []Points{points(0, 100, 100, 0), points(0, 5, 0, 6), points(0, 9, 5, 5, 9, 0)} {
		if c, err := p.Correct(5, 0.1, 0.1, 1); err == nil {
			t.Errorf("what was shown does not rise, and 5 is taken for %+v", c)
		}
	}
}

// A thermometer, a voltage and a current that show too much are corrected on every plateau, the power that
// voltage and current make as well, each by lines that all plateaus share; where the points do not reach the value stays and says so.
func TestCalibrationsSynthetic(t *testing.T) {
	d := still()
	d.after = func(_ float64, c Channel, v float64) float64 {
		switch c {
		case WindingTemperature:
			return at(0.6) + 1.03*(v-273.15)
		case BatteryVoltage:
			return 1.02*v + 0.3
		case BatteryCurrent:
			return 0.97 * v
		}
		return v
	}
	s := d.sources()
	plain, err := Reduce(d.sources(), ReduceOptions{Run: "day"})
	if err != nil {
		t.Fatal(err)
	}
	s[1].Calibrations = map[Channel]Points{
		WindingTemperature: points(at(0), at(0.6), at(50), at(52.1)),
		BatteryVoltage:     points(40, 41.1, 50, 51.3, 58, 59.46),
		BatteryCurrent:     points(0, 0, 20, 19.4, 40, 38.8), // up to 44 A
	}
	r, err := Reduce(s, ReduceOptions{Run: "day"})
	if err != nil {
		t.Fatal(err)
	}
	get := func(r *Reduction, i int, c Channel) Figure {
		f, ok := r.Plateaus[i].Figure(c)
		if !ok {
			t.Fatalf("no %s", c)
		}
		return f
	}
	shown := get(plain, 1, WindingTemperature).Value
	f := get(r, 1, WindingTemperature)
	near(t, "winding", f.Value-273.15, (shown-at(0.6))/1.03)
	lineOf(t, f, "bend of the winding temperature")
	if c := lineOf(t, f, "calibration of the winding temperature"); c.Shared == "" || !strings.Contains(c.Note, "two points") || f.Assumed || lineOf(t, f, "instrument").U != 0 {
		t.Errorf("%+v of %+v", c, f)
	}
	within(t, "power", get(r, 1, Power).Value, 1100, 2)
	within(t, "voltage", get(r, 1, BatteryVoltage).Value, 50-1100/1500.0, 0.06)
	w, v := get(r, 1, Power), get(r, 1, BatteryVoltage)
	near(t, "voltage's share of the power", lineOf(t, w, "calibration of the battery voltage").U/w.Value, lineOf(t, v, "calibration of the battery voltage").U/v.Value)
	if lineOf(t, w, "calibration of the battery voltage").Shared != lineOf(t, v, "calibration of the battery voltage").Shared {
		t.Error("power and voltage do not share the voltage's calibration")
	}
	// 3100 W are 65 A, beyond what was calibrated.
	f = get(r, 4, BatteryCurrent)
	near(t, "current beyond", f.Value, get(plain, 4, BatteryCurrent).Value)
	if !f.Uncalibrated || !strings.Contains(lineOf(t, f, "instrument").Note, "not applied") {
		t.Errorf("a current beyond its points says nothing: %+v", f)
	}
	said := 0
	for _, n := range r.Notices {
		if strings.Contains(n.What, "calibration of the battery current is not applied") {
			said++
		}
	}
	if said != 1 {
		t.Errorf("%d warnings: %v", said, r.Notices)
	}
	// A second thermometer that shows right agrees with the first by its calibration only.
	for _, calibrated := range []bool{false, true} {
		s := d.sources()
		l := s[1].Log
		right := &Log{Name: "right.csv", Time: l.Time, Layout: Layout{Columns: []Column{{Name: "T", Unit: quantity.MustUnit("°C"), Channel: WindingTemperature}, l.Layout.Columns[2]}}, Missing: []int{0, 0}}
		high := make([]float64, l.Rows())
		for i, v := range l.Values[3] {
			high[i] = at((v-at(0.6))/1.03) + 12
		}
		right.Values = [][]float64{high, l.Values[2]}
		s = append(s, Source{Log: right})
		if calibrated {
			s[2].Calibrations = map[Channel]Points{WindingTemperature: points(at(0), at(12), at(50), at(62), at(25), at(37))}
			s[1].Calibrations = map[Channel]Points{WindingTemperature: points(at(0), at(0.6), at(50), at(52.1), at(25), at(26.35))}
		}
		r, err := Reduce(s, ReduceOptions{Run: "day"})
		if err != nil {
			t.Fatal(err)
		}
		disagree := false
		for _, x := range r.Doubts {
			disagree = disagree || x.Kind == Disagreeing
		}
		if disagree == calibrated {
			t.Errorf("calibrated %v: disagreeing %v", calibrated, disagree)
		}
	}
}
