package report

import (
	"fmt"
	"math"
	"strings"

	"jetwright/desk"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/reckon"
)

// cavitates is the share of the head from which it is said that the calibrated drive cavitates at a row.
const cavitates = 0.02

// verdictOrder is the order in which rows are counted.
var verdictOrder = []reckon.Verdict{reckon.Supported, reckon.Open, reckon.Unlikely, reckon.Refuted}

// demandText is a row's condition.
func (s Style) demandText(c drive.Condition) string {
	unit := "W"
	switch c.Demand {
	case drive.RotorSpeed:
		unit = "rpm"
	case drive.Thrust:
		unit = "N"
	}
	t := s.rounded(c.Amount, unit)
	if c.Speed > 0 {
		t += ", " + s.rounded(c.Speed, "m/s")
	}
	return t
}

func (p *page) simulated(t *reckon.SimulatedTable, fitted bool) {
	p.heading("Table: " + t.Claim.File + ", " + t.Claim.From + ", point by point")
	if t.Why != "" {
		p.prose("  ", "    ", "not compared: "+t.Why)
		return
	}
	var counts []string
	for _, v := range verdictOrder {
		if n := t.Counts[v]; n > 0 {
			counts = append(counts, fmt.Sprintf("%s at %d", v, n))
		}
	}
	if len(counts) > 0 {
		sense := t.Claim.Sense
		if sense == "about" {
			sense = fmt.Sprintf("about, ± %.3g %%,", 100*t.Claim.Tolerance)
		}
		p.prose("  thrust, "+sense+" over "+count(len(t.Points), "row")+": ", "    ", strings.Join(counts, ", "))
	}
	beside := "the calibrated drive"
	if !fitted {
		beside = "the design as assumed, since nothing was measured"
	}
	p.prose("  ", "    ", "predicted by "+beside+"; ratio is the table's figure over it; brackets hold the 90 % interval, beyond the tested powers with the discrepancy")
	var names []string
	seen := map[string]string{}
	for i := range t.Points {
		for _, f := range t.Points[i].Figures {
			if seen[f.Name] == "" {
				seen[f.Name] = f.Unit
				names = append(names, f.Name)
			}
		}
	}
	driven := "driven at"
	if len(t.Points) > 0 {
		driven = t.Points[0].Condition.Demand.String()
	}
	p.simulatedRows(t, driven, names)
	var wet []string
	for i := range t.Points {
		if x := &t.Points[i]; x.Cavitation > cavitates {
			wet = append(wet, fmt.Sprintf("line %d (%.0f %%)", x.Line, 100*x.Cavitation))
		}
	}
	for _, tr := range t.Trends {
		p.prose("  "+tr.Name+": ", "    ", p.trend(tr, t))
	}
	if len(t.Trends) == 0 {
		p.prose("  ", "    ", "fewer than three rows, or powers less than 1.3 apart: whether a gap is constant or grows is not told")
	}
	if len(wet) > 0 {
		p.prose("  ", "    ", "the drive loses head to cavitation at "+strings.Join(wet, ", "))
	}
}

// simulatedRows is a table of the thrust, or of the first figure where there is none, and one of the ratios of the rest.
func (p *page) simulatedRows(t *reckon.SimulatedTable, driven string, names []string) {
	if len(names) == 0 {
		names = []string{""}
	}
	first := names[0]
	var rows, ratios [][]string
	for i := range t.Points {
		x := &t.Points[i]
		r := []string{fmt.Sprint(x.Line), p.demandText(x.Condition), "", "", "", string(x.Verdict)}
		if len(x.Figures) == 0 {
			r[5] = x.Why
		}
		k := []string{r[0], r[1]}
		for _, n := range names {
			text := ""
			for _, f := range x.Figures {
				if f.Name == n {
					text = p.rounded(f.Claimed, f.Unit) + ", " + ratio(f.Ratio)
					if n == first {
						r[2], r[3], r[4] = p.rounded(f.Claimed, f.Unit), p.text(from(f.Predicted, unitOf(f.Unit))), ratio(f.Ratio)
					}
				}
			}
			if n != first {
				k = append(k, text)
			}
		}
		rows, ratios = append(rows, r), append(ratios, k)
	}
	p.grid([]string{"line", driven, first, "predicted", "ratio", "verdict"}, rows, 1)
	if len(names) > 1 {
		head := []string{"line", driven}
		for _, n := range names[1:] {
			head = append(head, n+", ratio")
		}
		p.grid(head, ratios, 1)
	}
}

// ratio writes a ratio with its interval to two decimals, three where it is that narrow.
func ratio(f explore.Figure) string {
	digits := 2
	if f.High-f.Low < 0.02 {
		digits = 3
	}
	if f.High == f.Low {
		return fmt.Sprintf("%.*f", digits, f.Value)
	}
	return fmt.Sprintf("%.*f [%.*f, %.*f]", digits, f.Value, digits, f.Low, digits, f.High)
}

// trend says how a gap goes with the power, and what makes one go so.
func (s Style) trend(r reckon.SimulatedTrend, t *reckon.SimulatedTable) string {
	level := "at " + s.rounded(r.Middle, "W") + " at the battery the table is " + byShare(r.Level)
	slope := byShare(r.Slope) + " for each doubling of the power"
	switch r.Kind {
	case reckon.TrendGrows:
		out := "the gap GROWS with the power, " + slope + "; " + level
		if r.Name == "thrust" {
			out += "; what takes more the harder it runs is not in the table: cavitation, intake loss, drawn air, sag"
			if c := t.Claim.CavitationModelled; c != nil && !*c {
				out += " (cavitation was not modelled)"
			}
		}
		return out
	case reckon.TrendFalls:
		out := "the table FALLS behind with the power, " + slope + "; " + level
		if r.Name == "thrust" {
			out += "; it has losses that grow and that the drive does not show"
		}
		return out
	case reckon.TrendConstant:
		out := "the gap is CONSTANT: " + level + ", and by no clear amount more for each doubling of the power (" + byShare(r.Slope) + ")"
		if r.Name == "thrust" {
			out += "; one factor makes it: an efficiency, an area, a power meant at another place"
		}
		return out
	}
	return "no clear gap: " + level + ", and " + slope
}

func (s Style) tables(list []reckon.SimulatedTable) []object {
	out := []object{}
	pc := func(f explore.Figure) object {
		x := func(v float64) float64 { return round(100*math.Expm1(v), 4) }
		return object{{"value", x(f.Value)}, {"low", x(f.Low)}, {"high", x(f.High)}, {"text", byShare(f)}}
	}
	for i := range list {
		t := &list[i]
		o := object{{"table", t.Claim.File}, {"place", t.Claim.Place_.String()}, {"from", t.Claim.From}, {"sense", t.Claim.Sense}}
		if t.Why != "" {
			o.add("why_not_compared", t.Why)
			out = append(out, o)
			continue
		}
		counts := object{}
		for _, v := range verdictOrder {
			counts.add(string(v), t.Counts[v])
		}
		o.add("verdicts", counts)
		points := []object{}
		for k := range t.Points {
			x := &t.Points[k]
			p := object{{"line", x.Line}, {"condition", s.condition(x.Condition)}}
			if len(x.Figures) == 0 {
				p.add("why_not", x.Why)
				points = append(points, p)
				continue
			}
			p.add("battery_power_W", s.exact(x.Power, "W"))
			for _, f := range x.Figures {
				u := unitOf(f.Unit)
				name := snake(f.Name)
				p.add(key(name, u), s.exact(f.Claimed, f.Unit))
				p.add(key(name+"_predicted", u), s.figure(from(f.Predicted, u)))
				p.add(name+"_ratio", s.figure(desk.Figure{Value: f.Ratio.Value, Low: f.Ratio.Low, High: f.Ratio.High, Unit: unitOf("1")}))
			}
			if x.Verdict != "" {
				p.add("verdict", string(x.Verdict))
				p.add("probability", round(x.Probability, 4))
			}
			p.add("head_lost_to_cavitation", round(x.Cavitation, 4))
			p.add("discrepancy", round(x.Discrepancy, 4))
			points = append(points, p)
		}
		o.add("points", points)
		trends := []object{}
		for _, r := range t.Trends {
			trends = append(trends, object{{"figure", r.Name}, {"kind", r.Kind}, {"level_pct", pc(r.Level)}, {"each_doubling_pct", pc(r.Slope)}, {"middle_battery_power_W", round(r.Middle, 4)}, {"text", s.trend(r, t)}})
		}
		o.add("trends", trends)
		out = append(out, o)
	}
	return out
}
