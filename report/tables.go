package report

import (
	"encoding/csv"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"jetwright/bench"
	"jetwright/desk"
)

// Digits of the greatest figure of a channel, and of a half-width; a mean ends where its half-width does.
const (
	tableDigits = 6
	halfDigits  = 2
)

// ChannelsCSV is what the logs of a run say on one clock: a row a block, its middle as the time, a
// column a channel, with the tare taken off the pull. What is missing is empty.
func ChannelsCSV(d *desk.ReducedDay) []byte {
	head := []string{"time [s]"}
	columns := [][]string{nil}
	rows := 0
	for _, t := range d.Tracks {
		rows = max(rows, len(t.Values))
	}
	for i := range rows {
		columns[0] = append(columns[0], plainNumber((float64(i)+0.5)*d.Block, 3))
	}
	seen := map[bench.Channel]bool{}
	for _, t := range d.Tracks {
		name := tableName(d, t.Channel)
		if seen[t.Channel] {
			name = string(t.Channel) + " of " + t.Source
		}
		values := t.Values
		if t.Channel == bench.Thrust {
			if seen[t.Channel] {
				name += ", tare and all"
			} else {
				values = d.WithoutTare(t)
			}
		}
		seen[t.Channel] = true
		u := bench.UnitOf(t.Channel)
		head = append(head, fmt.Sprintf("%s [%s]", name, u.Symbol))
		shown := make([]float64, len(values))
		for i, x := range values {
			shown[i] = u.FromSI(x)
		}
		columns = append(columns, numbersOf(shown))
	}
	return writeTable(head, columns)
}

// PlateausCSV is a row a plateau: from, to, direction, whether it had settled, and of each channel
// the mean, the half-width of its 90 % interval and what is in doubt of it.
func PlateausCSV(d *desk.ReducedDay) []byte {
	head := []string{"plateau", "time from [s]", "time to [s]", "direction", "settled"}
	columns := make([][]string, len(head))
	var channels []bench.Channel
	for i, p := range d.Plateaus {
		settled := "yes"
		if p.Unsettled != "" {
			settled = "no: " + p.Unsettled
		}
		for k, cell := range []string{strconv.Itoa(i + 1), plainNumber(p.Span.From, 2), plainNumber(p.Span.To, 2), p.Direction, settled} {
			columns[k] = append(columns[k], cell)
		}
		for _, f := range p.Figures {
			if !slices.Contains(channels, f.Channel) {
				channels = append(channels, f.Channel)
			}
		}
		for _, x := range p.Doubts { // a channel of which no figure is left is told as well
			if !slices.Contains(channels, x.Channel) {
				channels = append(channels, x.Channel)
			}
		}
	}
	for _, c := range channels {
		u := bench.UnitOf(c)
		difference := u.Symbol
		if difference == "°C" {
			difference = "K"
		}
		name := tableName(d, c)
		head = append(head, fmt.Sprintf("%s [%s]", name, u.Symbol), fmt.Sprintf("%s half-width [%s]", name, difference), name+" doubt")
		means, halves, doubts := make([]string, len(d.Plateaus)), make([]string, len(d.Plateaus)), make([]string, len(d.Plateaus))
		for i, p := range d.Plateaus {
			var said []string
			if f, ok := p.Figure(c); ok {
				half := u.FromSI(desk.Half(f)) - u.FromSI(0)
				decimals := decimalsOf(half, halfDigits)
				means[i], halves[i] = plainNumber(u.FromSI(f.Value), decimals), plainNumber(half, decimals)
				if f.Unsettled {
					said = append(said, "still moving")
				}
			}
			for _, x := range p.Doubts {
				if x.Channel == c && !slices.Contains(said, x.Kind) {
					said = append(said, x.Kind)
				}
			}
			doubts[i] = strings.Join(said, "; ")
		}
		columns = append(columns, means, halves, doubts)
	}
	return writeTable(head, columns)
}

// tableName names a channel's column, with what a log cannot say by its unit: where the power was read,
// and what the phase current is. Logs that are adopted are read by these words.
func tableName(d *desk.ReducedDay, c bench.Channel) string {
	place, convention := "", ""
	for _, p := range d.Plateaus {
		place, convention = p.PowerPlace, p.Convention
	}
	switch {
	case c == bench.Power && place != "":
		return string(c) + bench.PlaceWords + place
	case c == bench.PhaseCurrent && convention != "":
		return string(c) + bench.ConventionWords + convention
	}
	return string(c)
}

// numbersOf writes a column with as many decimals as its greatest figure bears; what is missing is empty.
func numbersOf(x []float64) []string {
	top := 0.0
	for _, v := range x {
		if v == v {
			top = math.Max(top, math.Abs(v))
		}
	}
	decimals := decimalsOf(top, tableDigits)
	out := make([]string, len(x))
	for i, v := range x {
		out[i] = plainNumber(v, decimals)
	}
	return out
}

// decimalsOf is how many decimals a number bears if it is written with so many digits.
func decimalsOf(x float64, digits int) int {
	if !(x > 0) || math.IsInf(x, 0) {
		return digits - 1
	}
	return max(0, min(9, digits-1-int(math.Floor(math.Log10(x)))))
}

func plainNumber(x float64, decimals int) string {
	if x != x || math.IsInf(x, 0) {
		return ""
	}
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if t := strings.TrimLeft(s, "-0."); t == "" {
		s = strings.TrimPrefix(s, "-")
	}
	return s
}

func writeTable(head []string, columns [][]string) []byte {
	var b strings.Builder
	w := csv.NewWriter(&b)
	_ = w.Write(head) // a Builder takes everything
	row := make([]string, len(columns))
	for i := range columns[0] {
		for k := range columns {
			row[k] = ""
			if i < len(columns[k]) {
				row[k] = columns[k][i]
			}
		}
		_ = w.Write(row)
	}
	w.Flush()
	return []byte(b.String())
}
