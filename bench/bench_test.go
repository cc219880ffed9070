package bench

import (
	"math"
	"strings"
	"testing"

	"jetwright/notice"
	"jetwright/quantity"
)

func near(t *testing.T, name string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-9*math.Abs(want) {
		t.Errorf("%s = %.12g, want %.12g", name, got, want)
	}
}

// typed is a reading's values for a test.
type typed map[string]string

var units = map[string]string{
	"thrust": "N", "power": "W", "rotor_speed": "rpm", "phase_current": "A", "battery_voltage": "V", "battery_current": "A", "winding_temperature": "°C", "bridge_temperature": "°C", "case_temperature": "°C", "held": "s",
}

func (v typed) Value(key string) (quantity.Value, bool) {
	text, ok := v[key]
	if !ok || units[key] == "" {
		return quantity.Value{}, false
	}
	x, err := quantity.ParseIn(text, quantity.MustUnit(units[key]))
	if err != nil {
		panic(err)
	}
	return x, true
}

func (v typed) Text(key string) (string, bool) {
	t, ok := v[key]
	return t, ok && units[key] == ""
}

func TestFrictionForceExact(t *testing.T) {
	near(t, "F", FrictionForce(100, 10), 0.0105*3.5*1000)
}

// A rectangle of half-width a has a standard uncertainty of a/√3; scatter adds in squares.
func TestFigureUncertaintyExact(t *testing.T) {
	near(t, "rectangle", Figure{Limits: 3}.StandardUncertainty(), math.Sqrt(3))
	near(t, "with scatter", Figure{Limits: 3, Repeat: 1}.StandardUncertainty(), 2)
	near(t, "typed standard", Figure{Limits: 3, Repeat: 4, Standard: true}.StandardUncertainty(), 5)
}

func TestSimilarityExact(t *testing.T) {
	n := 50.0
	p := Plateau{Convention: "peak", Figures: []Figure{
		{Channel: Thrust, Value: 400, Repeat: 4},
		{Channel: Power, Value: 5e3, Repeat: 100},
		{Channel: RotorSpeed, Value: 2 * math.Pi * n, Repeat: 0},
		{Channel: PhaseCurrent, Value: 100 * math.Sqrt2, Repeat: 0},
	}}
	c := Similarity(p, 0.1, 0.004, 1000)
	near(t, "K_T", c.Thrust.Value, 400/(1000*2500*1e-4))
	near(t, "K_P", c.Power.Value, 5e3/(1000*125000*1e-5))
	near(t, "K_I", c.Current.Value, 100.0/2500)
	near(t, "η_s", c.StaticEfficiency.Value, 8000/(2*2*5e3))
	near(t, "spread of K_T", c.ThrustSpread, 0.01)
	near(t, "spread of η_s", c.EfficiencySpread, math.Hypot(0.015, 0.02))
	p.Figures = p.Figures[:1]
	if c := Similarity(p, 0.1, 0.004, 1000); c.Thrust.Set || c.Power.Set || c.StaticEfficiency.Set {
		t.Errorf("coefficients out of nothing: %+v", c)
	}
}

// A tolerance typed beside a figure goes before the table; the table is marked as assumed.
func TestFromReading(t *testing.T) {
	s := Setup{FullScale: quantity.Some(1000), Division: quantity.Some(0.5)}
	p := FromReading("r", quantity.Place{}, typed{"power": "2 kW", "place": "shaft", "thrust": "200 N", "held": "60 s"}, s)
	w, _ := p.Figure(Power)
	near(t, "controller power ± 5 %", w.Limits, 100)
	f, _ := p.Figure(Thrust)
	near(t, "scale ± 0.5 % of full scale", f.Limits, 5)
	if !w.Assumed || !f.Assumed || p.PowerPlace != "shaft" {
		t.Errorf("not as typed: %+v", p)
	}
	p = FromReading("r", quantity.Place{}, typed{"power": "2 kW ± 1 %", "thrust": "200(4) N"}, s)
	w, _ = p.Figure(Power)
	near(t, "typed limits", w.Limits, 20)
	f, _ = p.Figure(Thrust)
	near(t, "typed standard uncertainty", f.Limits, 4)
	if w.Assumed || f.Assumed || !f.Standard {
		t.Errorf("typed tolerances were lost: %+v", p)
	}
	// by hand, with a scatter of the table's share either: standard uncertainties of 0.5 V and 0.3 A make √((0.5·40)² + (0.3·50)²) = 25 W
	limits := func(w Figure) float64 { u := w.StandardUncertainty(); return math.Sqrt(u*u - w.Repeat*w.Repeat) }
	p = FromReading("r", quantity.Place{}, typed{"battery_voltage": "50.0(5) V", "battery_current": "40.0(3) A"}, s)
	w, _ = p.Figure(Power)
	near(t, "the power of two standard uncertainties", limits(w), 25)
	p = FromReading("r", quantity.Place{}, typed{"battery_voltage": "50.0(5) V", "battery_current": "40 A ± 1 A"}, s)
	w, _ = p.Figure(Power)
	near(t, "the power of a standard uncertainty beside limits", limits(w), math.Hypot(0.5*40, 50/math.Sqrt(3)))
	p = FromReading("r", quantity.Place{}, typed{"battery_voltage": "50 V", "battery_current": "40 A", "thrust": "200 N"}, s)
	w, ok := p.Figure(Power)
	near(t, "V·I", w.Value, 2000)
	near(t, "limits of V·I", limits(w), math.Hypot(0.5*40, 2*50)/math.Sqrt(3))
	near(t, "its own share", w.ownUncertainty(), w.Repeat)
	v, _ := p.Figure(BatteryVoltage)
	if shared := w.Budget[1].Shared; shared != v.SharedName() {
		t.Errorf("the power errs with %q, the voltage with %q", shared, v.SharedName())
	}
	if !ok || p.PowerPlace != "battery" {
		t.Error("voltage and current make no battery power")
	}
}

// What a reading lacks is said; without power and speed it cannot be used.
func TestReadingLacks(t *testing.T) {
	says := func(p Plateau, words string, kind notice.Kind) bool {
		for _, n := range p.Notices {
			if strings.Contains(n.What, words) && n.Kind == kind {
				return true
			}
		}
		return false
	}
	p := FromReading("r", quantity.Place{}, typed{"thrust": "200 N"}, Setup{})
	if !says(p, "neither power nor rotor speed", notice.Error) {
		t.Errorf("%v", p.Notices)
	}
	p = FromReading("r", quantity.Place{}, typed{"power": "2 kW", "case_temperature": "27 °C"}, Setup{})
	for _, words := range []string{"no thrust", "does not say its place", "how long it was held"} {
		if !says(p, words, notice.Warning) {
			t.Errorf("%q is not said: %v", words, p.Notices)
		}
	}
	if !says(p, "infrared", notice.Caution) {
		t.Error("an infrared reading passes without a word")
	}
	if f, _ := p.Figure(CaseTemperature); f.Cleared {
		t.Error("an infrared reading of bare metal clears a limit")
	}
	p = FromReading("r", quantity.Place{}, typed{"power": "2 kW", "case_temperature": "27 °C", "case_by": "infrared on matt tape"}, Setup{})
	if f, _ := p.Figure(CaseTemperature); !f.Cleared {
		t.Error("an infrared reading of matt tape clears no limit")
	}
}

// The tare is a straight line at the middle of each block; without one the pull stays as it was shown.
func TestWithoutTareExact(t *testing.T) {
	track := Track{Channel: Thrust, Step: 0.2, Values: []float64{10, math.NaN(), 12}}
	r := Reduction{Tare: Tare{Known: true, Start: 3, Drift: 0.5}}
	got := r.WithoutTare(track)
	if math.Abs(got[0]-(10-3-0.05)) > 1e-12 || got[1] == got[1] || math.Abs(got[2]-(12-3-0.25)) > 1e-12 || track.Values[0] != 10 {
		t.Errorf("got %v", got)
	}
	r.Tare.Known = false
	if got := r.WithoutTare(track); got[0] != 10 || got[2] != 12 {
		t.Errorf("without a tare: %v", got)
	}
}
