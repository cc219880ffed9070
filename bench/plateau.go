package bench

import (
	"fmt"
	"math"

	"jetwright/notice"
	"jetwright/quantity"
)

// Values gives a typed reading's values by key, as the design document reads them.
type Values interface {
	Value(key string) (quantity.Value, bool)
	Text(key string) (string, bool)
}

// Setup is what a reading's uncertainty needs to know of the stand.
type Setup struct {
	FullScale quantity.Optional // of the scale, N
	Division  quantity.Optional // of the scale, N
	Lever     quantity.Optional // thrust over the pull along it of an arm on a pivot; 1 if not set
	ULever    float64           // standard uncertainty of it
}

// infraredWord is how a reading of bare metal by infrared is named.
const infraredWord = "infrared"

// FromReading makes a plateau of one typed reading. The figures keep the tolerance typed
// beside them; where none is typed the table of instruments gives it, marked as assumed.
// The notices say what the reading lacks.
func FromReading(name string, place quantity.Place, v Values, s Setup) Plateau {
	p := Plateau{Name: name, Place: place}
	text := func(key, otherwise string) string {
		if t, ok := v.Text(key); ok && t != "" {
			return t
		}
		return otherwise
	}
	p.PowerPlace = text("place", "")
	p.Direction = text("direction", "")
	p.Convention = text("phase_current_convention", "rms")
	if h, ok := v.Value("held"); ok {
		p.Held = quantity.Some(h.Nominal())
	}
	add := func(c Channel, key, instrument string) {
		x, ok := v.Value(key)
		if !ok {
			return
		}
		p.Figures = append(p.Figures, figure(c, x, instrument, s))
	}
	add(Thrust, "thrust", text("thrust_by", "hanging scale"))
	add(Power, "power", text("power_by", "controller"))
	add(RotorSpeed, "rotor_speed", "controller speed")
	add(PhaseCurrent, "phase_current", "controller")
	add(BatteryVoltage, "battery_voltage", "controller voltage")
	add(BatteryCurrent, "battery_current", "controller")
	add(WindingTemperature, "winding_temperature", text("winding_by", "thermistor"))
	add(BridgeTemperature, "bridge_temperature", text("bridge_by", "thermistor"))
	add(CaseTemperature, "case_temperature", text("case_by", infraredWord))
	add(WaterTemperature, "water_temperature", "thermistor")
	p.powerFromCurrent()
	p.Notices = p.missing()
	return p
}

// figure makes a figure of a typed value.
func figure(c Channel, x quantity.Value, instrument string, s Setup) Figure {
	row, _ := InstrumentNamed(instrument)
	f := Figure{
		Channel: c, Value: x.Nominal(), Instrument: instrument, Place: x.Origin().Place, Text: x.String(),
		Repeat: math.Hypot(row.Repeat*x.Nominal(), row.RepeatAbs), Cleared: instrument != infraredWord,
	}
	if row.RepeatAbs > 0 {
		f.Repeat = row.RepeatAbs
	}
	if c == Thrust && s.Division.Set {
		f.Repeat = math.Hypot(f.Repeat, s.Division.Value/math.Sqrt(12))
	}
	switch {
	case x.Spread() == quantity.SpreadStandard:
		f.Limits, f.Standard = x.StandardUncertainty(), true
	case !x.IsExact():
		f.Limits = math.Max(x.High()-x.Nominal(), x.Nominal()-x.Low())
	default:
		f.Assumed = true
		f.Limits = row.Relative*math.Abs(x.Nominal()) + row.Absolute
		if row.OfFullScale > 0 {
			full := s.FullScale.Or(2 * x.Nominal())
			f.Limits += row.OfFullScale * full
		}
	}
	return f
}

// powerFromCurrent adds the battery power where voltage and current were read and no power: it errs with the voltmeter.
func (p *Plateau) powerFromCurrent() {
	v, haveV := p.Figure(BatteryVoltage)
	i, haveI := p.Figure(BatteryCurrent)
	if _, have := p.Figure(Power); have || !haveV || !haveI {
		return
	}
	w := Figure{
		Channel: Power, Value: v.Value * i.Value, Instrument: i.Instrument, Assumed: i.Assumed && v.Assumed, Cleared: true,
		Limits: i.Limits * v.Value, Standard: i.Standard, Repeat: math.Hypot(v.Repeat*i.Value, i.Repeat*v.Value),
		Place: i.Place, Text: v.Text + " × " + i.Text,
	}
	w.Budget = []Component{
		{Name: "scatter", U: w.Repeat, Freedom: math.Inf(1)},
		{Name: instrumentWord + " of the " + string(BatteryVoltage), Rectangle: !v.Standard, U: v.half() * i.Value / math.Sqrt(3), Freedom: math.Inf(1), Shared: v.SharedName()},
		{Name: instrumentWord, Rectangle: !i.Standard, U: w.half() / math.Sqrt(3), Freedom: math.Inf(1), Shared: w.SharedName()},
	}
	p.Figures = append(p.Figures, w)
	if p.PowerPlace == "" {
		p.PowerPlace = "battery"
	}
}

// half is the half-width of a rectangle as wide as a figure's limits.
func (f Figure) half() float64 {
	if f.Standard {
		return math.Sqrt(3) * f.Limits
	}
	return f.Limits
}

// missing says what a reading lacks and what that costs.
func (p *Plateau) missing() notice.List {
	var l notice.List
	say := func(kind notice.Kind, what, out string) {
		l = append(l, notice.Notice{Kind: kind, Place: p.Place, What: p.Name + ": " + what, WayOut: out})
	}
	_, thrust := p.Figure(Thrust)
	power, haveP := p.Figure(Power)
	_, speed := p.Figure(RotorSpeed)
	if !haveP && !speed {
		say(notice.Error, "neither power nor rotor speed is given", "type power = \"1450 W\" with its place, or rotor_speed")
	}
	if !thrust {
		say(notice.Warning, "no thrust is given; it teaches nothing about thrust", "")
	}
	if haveP && power.Value <= 0 {
		say(notice.Error, fmt.Sprintf("power is %.4g W; it must be positive", power.Value), "")
	}
	if haveP && p.PowerPlace == "" {
		say(notice.Warning, "the power does not say its place; it is judged for battery, controller and shaft", "type place = \"battery\", \"controller\" or \"shaft\"")
	}
	if !p.Held.Set {
		say(notice.Warning, "nothing says how long it was held", "type held = \"60 s\"")
	}
	for _, f := range p.Figures {
		if !f.Cleared {
			say(notice.Caution, fmt.Sprintf("%s was read by infrared: bare metal mostly shows what it reflects, far below its own temperature", f.Channel),
				"stick matt tape on the spot, or read it by a thermistor; until then it clears no limit")
		}
	}
	return l
}
