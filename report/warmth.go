package report

import (
	"fmt"
	"strings"

	"jetwright/desk"
	"jetwright/quantity"
	"jetwright/reckon"
)

// openEnd writes an interval whose upper end may be missing.
func openEnd(low float64, high quantity.Optional, digits int) string {
	if !high.Set {
		return fmt.Sprintf("[%v, no upper end]", round(low, digits))
	}
	return fmt.Sprintf("[%v, %v]", round(low, digits), round(high.Value, digits))
}

// legText tells of a fitted leg.
func legText(l *reckon.Leg) string {
	var times []string
	for _, t := range l.Response.Terms {
		x := fmt.Sprintf("%v s", round(t.TimeConstant, 3))
		if !t.High.Set {
			x = fmt.Sprintf("%v s or more", round(t.Low.Or(0), 2))
		}
		times = append(times, x+" "+openEnd(t.Low.Or(0), t.High, 3))
	}
	return strings.Join(times, " and ")
}

func (s Style) temperature(t reckon.Temperature) string {
	u := s.unit(unitOf("°C"))
	show := func(x float64) string { return fmt.Sprintf("%.0f", u.FromSI(x)) }
	if !t.High.Set {
		return fmt.Sprintf("at least %s %s", show(t.Low), u.Symbol)
	}
	return fmt.Sprintf("%s %s [%s, %s]", show(t.Value), u.Symbol, show(t.Low), show(t.High.Value))
}

// warm is the short part of a day on temperatures.
func (p *page) warm(w *desk.WarmDay) {
	if w == nil || len(w.List) == 0 {
		return
	}
	p.heading("How temperatures follow the heat")
	for _, x := range w.List {
		name := fmt.Sprintf("%s (%s): ", x.Channel, x.Source)
		if x.Heating == nil {
			p.prose("  "+name, "    ", "not fitted: "+x.Why)
		} else {
			l := x.Heating
			t := fmt.Sprintf("%v K/W %s, time constant %s, from %.0f s to %.0f s", round(l.Rise, 3), openEnd(l.RiseLow, l.RiseHigh, 3), legText(l), l.Span.From, l.Span.To)
			if !l.RiseHigh.Set {
				t = fmt.Sprintf("at least %v K/W, time constant %s, from %.0f s to %.0f s", round(l.RiseLow, 3), legText(l), l.Span.From, l.Span.To)
			}
			if l.Told != "" {
				t += "; " + l.Told
			}
			p.prose("  "+name, "    ", t)
		}
		if c := x.Cooling; c != nil {
			t := "cooling after the load: time constant " + legText(c)
			if c.Told != "" {
				t += "; " + c.Told
			}
			p.prose("    ", "    ", t)
		}
	}
	for _, x := range w.List {
		if x.HeatBy != "" {
			p.prose("  ", "    ", "the heat is worked out from "+x.HeatBy+"; a rise by watt is worth no more than that")
			break
		}
	}
	var rows [][]string
	for _, x := range w.Predicted {
		if !x.HasDay {
			continue
		}
		summer := "the day's water is not known"
		if x.Known {
			summer = p.temperature(x.Summer)
		}
		rows = append(rows, []string{string(x.Channel), p.rounded(x.Power, "W"), p.temperature(x.Day), summer})
	}
	if len(rows) > 0 {
		own := "in the day's water"
		if w.Water > 0 {
			own += ", " + p.rounded(w.Water, "°C")
		}
		p.grid([]string{"settles at", "power at rest", own, "in water at " + p.rounded(desk.SummerWater, "°C")}, rows)
		p.prose("  ", "    ", "steady temperatures, as long as the load is held; beyond the day's highest power by the law of rest, current with the power to 2/3; what the coolant's flow gains there is left out")
	}
	if h := w.Housed; w.HasHoused {
		p.prose("  ", "    ", fmt.Sprintf("the case shows %.0f %% of the winding's rise, %v s late %s: a sensor there sees a winding that burns too late", 100*h.Share, round(h.Lag, 3), openEnd(h.Low.Or(0), h.High, 3)))
	}
	p.sensorless(w)
	for _, x := range w.Shared {
		p.prose("  ", "    ", sharedText(x))
	}
}

// sensorlessWide is the width in K beyond which an estimate is no second witness.
const sensorlessWide = 30

func (p *page) sensorless(w *desk.WarmDay) {
	if len(w.Sensorless) == 0 {
		return
	}
	var cells []string
	widest, off := 0.0, 0
	for _, x := range w.Sensorless {
		t := fmt.Sprintf("plateau %d %s", x.Plateau+1, p.temperature(reckon.Temperature{Value: x.Value, Low: x.Low, High: quantity.Some(x.High)}))
		if x.HasSensor {
			t += fmt.Sprintf(" (sensor %s)", p.rounded(x.Sensor.Value, "°C"))
			if x.Sensor.Value < x.Low || x.Sensor.Value > x.High {
				off++
			}
		}
		cells = append(cells, t)
		widest = max(widest, x.High-x.Low)
	}
	t := "the winding without its sensor, by its resistance out of voltage, current and speed: " + strings.Join(cells, "; ")
	switch {
	case off > 0:
		t += fmt.Sprintf("; %d of them leave the sensor outside their interval", off)
	case widest > sensorlessWide:
		best := w.Sensorless[0]
		for _, x := range w.Sensorless {
			if x.Power > best.Power {
				best = x
			}
		}
		t += fmt.Sprintf("; so wide that it is no second witness. For ± 10 K at plateau %d powers, current and speed would have to agree with those of the first load within %s, and the magnets' temperature be known: each kelvin of theirs counts as %v K of the winding, also within one held power. The resistance between two lines, read within a minute of the stop beside a cold reading of the same day, tells as much with an error of %s", best.Plateau+1, inPercent(best.Power), round(best.Magnets, 2), inPercent(best.Resistance))
	default:
		t += "; it agrees with the sensor where there is one"
	}
	p.prose("  ", "    ", t)
}

// inPercent writes a share to two digits.
func inPercent(x float64) string { return fmt.Sprintf("%v %%", round(100*x, 2)) }

func sharedText(x desk.SharedSensors) string {
	if x.Supply != "" {
		return fmt.Sprintf("%s: %s have one supply (%s), so that one error can make both wrong; they count as one witness", x.Channel, strings.Join(x.Sources, " and "), x.Supply)
	}
	return fmt.Sprintf("%s stands twice in %s: two sensors on one logger share its error and count as one witness", x.Channel, x.Sources[0])
}

func inCelsius(x float64) float64 { return round(x-273.15, 4) }

func warmObject(w *desk.WarmDay) object {
	o := object{}
	channels := []object{}
	leg := func(l *reckon.Leg) object {
		terms := []object{}
		for _, t := range l.Response.Terms {
			k := object{{"time_constant_s", round(t.TimeConstant, 4)}, {"low_s", round(t.Low.Or(0), 4)}}
			if t.High.Set {
				k.add("high_s", round(t.High.Value, 4))
			} else {
				k.add("high_s", nil)
			}
			terms = append(terms, k)
		}
		out := object{{"from_s", round(l.Span.From, 5)}, {"to_s", round(l.Span.To, 5)}, {"terms", terms}, {"scatter_K", round(l.Response.Scatter, 3)}}
		if l.Rise > 0 {
			out.add("rise_K_per_W", round(l.Rise, 4))
			out.add("rise_low_K_per_W", round(l.RiseLow, 4))
			if l.RiseHigh.Set {
				out.add("rise_high_K_per_W", round(l.RiseHigh.Value, 4))
			} else {
				out.add("rise_high_K_per_W", nil)
			}
		}
		if l.Told != "" {
			out.add("not_told", l.Told)
		}
		return out
	}
	for _, x := range w.List {
		k := object{{"channel", string(x.Channel)}, {"source", x.Source}, {"heat_by", x.HeatBy}}
		if x.Heating != nil {
			k.add("heating", leg(x.Heating))
		} else {
			k.add("why_not", x.Why)
		}
		if x.Cooling != nil {
			k.add("cooling", leg(x.Cooling))
		}
		channels = append(channels, k)
	}
	o.add("channels", channels)
	temperature := func(t reckon.Temperature) object {
		k := object{{"value", inCelsius(t.Value)}, {"low", inCelsius(t.Low)}}
		if t.High.Set {
			k.add("high", inCelsius(t.High.Value))
		} else {
			k.add("high", nil)
		}
		return k
	}
	steps := []object{}
	for _, x := range w.Predicted {
		if !x.HasDay {
			continue
		}
		k := object{{"channel", string(x.Channel)}, {"power_W", round(x.Power, 5)}, {"day_degC", temperature(x.Day)}}
		if x.Known {
			k.add("water_25_degC", temperature(x.Summer))
		}
		steps = append(steps, k)
	}
	if w.Water > 0 {
		o.add("water_degC", celsius(w.Water))
	}
	o.add("settles", steps)
	if h := w.Housed; w.HasHoused {
		k := object{{"share", round(h.Share, 4)}, {"share_u", round(h.ShareErr, 2)}, {"lag_s", round(h.Lag, 4)}, {"lag_low_s", round(h.Low.Or(0), 4)}}
		if h.High.Set {
			k.add("lag_high_s", round(h.High.Value, 4))
		}
		o.add("winding_through_case", k)
	}
	without := []object{}
	for _, x := range w.Sensorless {
		k := object{{"plateau", x.Plateau + 1}, {"winding_degC", temperature(reckon.Temperature{Value: x.Value, Low: x.Low, High: quantity.Some(x.High)})}}
		if x.HasSensor {
			k.add("sensor_degC", inCelsius(x.Sensor.Value))
		}
		k.add("power_error_for_10_K", round(x.Power, 3))
		k.add("winding_K_per_magnet_K", round(x.Magnets, 3))
		without = append(without, k)
	}
	o.add("winding_without_sensor", without)
	share := []object{}
	for _, x := range w.Shared {
		share = append(share, object{{"channel", string(x.Channel)}, {"sources", x.Sources}, {"supply", x.Supply}, {"text", sharedText(x)}})
	}
	o.add("one_witness", share)
	return o
}
