package reckon

import (
	"fmt"
	"math"
	"sort"

	"gonum.org/v1/gonum/stat/distuv"

	"jetwright/design"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/numeric"
)

// SimulatedRow is a row of a simulation's table: figures in SI by the name of their column.
type SimulatedRow struct {
	Line    int
	Figures map[string]float64
}

// SimulatedFigure is a figure of a row beside the calibrated prediction.
type SimulatedFigure struct {
	Name, Unit string
	Claimed    float64
	Predicted  explore.Figure // discrepancy in it
	Ratio      explore.Figure // claimed over predicted
}

// SimulatedPoint is a row, judged.
type SimulatedPoint struct {
	Line        int
	Condition   drive.Condition
	Power       float64 // at the battery by the calibrated drive, W
	Figures     []SimulatedFigure
	Verdict     Verdict // on the thrust; empty where the row has none
	Why         string
	Probability float64
	Discrepancy float64
	Cavitation  float64 // share of the head that the calibrated drive loses to it there
}

// SimulatedTrend is how claimed over predicted goes with the power.
type SimulatedTrend struct {
	Name   string
	Level  explore.Figure // logarithm of claimed over predicted, in the middle of the powers
	Slope  explore.Figure // its change with each doubling of the power
	Middle float64        // W at the battery
	Kind   string         // agrees, constant, grows, falls
}

// Kinds of trend.
const (
	TrendAgrees   = "agrees"
	TrendConstant = "constant"
	TrendGrows    = "grows"
	TrendFalls    = "falls"
)

// SimulatedTable is a simulation's whole table against the calibrated drive.
type SimulatedTable struct {
	Claim   design.ClaimTable
	Points  []SimulatedPoint
	Trends  []SimulatedTrend
	Counts  map[Verdict]int
	Without int    // rows at which the calibrated drive has no state
	Why     string // why it is not compared
}

// trendFrom is the ratio of powers from which a trend is told. Our own.
const trendFrom = 1.3

// simulated are the columns that are compared, with what they are of a state; efficiency is the exponent of static efficiency
// in the figure at a power.
var simulated = []struct {
	name, unit string
	of         func(*drive.Machine, *drive.State) float64
	efficiency float64
}{
	{"thrust", "N", func(_ *drive.Machine, s *drive.State) float64 { return s.Thrust }, 2.0 / 3},
	{"shaft power", "W", func(_ *drive.Machine, s *drive.State) float64 { return s.ShaftPower }, 0},
	{"rotor speed", "rpm", func(_ *drive.Machine, s *drive.State) float64 { return s.RotorSpeed }, 0},
	{"torque", "N·m", func(_ *drive.Machine, s *drive.State) float64 { return s.Jet.ImpellerTorque }, 0},
	{"flow", "L/s", func(_ *drive.Machine, s *drive.State) float64 { return s.Jet.Flow }, 1.0 / 3},
	{"head", "m", func(_ *drive.Machine, s *drive.State) float64 { return s.Jet.Head }, 2.0 / 3},
}

// Simulation holds a table against the calibrated drive, row by row.
//
//	r = ln(claimed/predicted) = a + b·log₂(P/P_mid)
//
//	P      power at the battery of the calibrated drive at the row;  P_mid  geometric mean of the rows
//	a, b   by least squares in every drawn drive, so that what its rows share is in their intervals
//
// A gap is constant where b may be zero and a may not: an efficiency, an area, a place of power. It grows or falls where b
// may not be zero. Discrepancy moves the rows of a draw together. A row is driven by its power, else by its rotor speed.
//
// Source: own. Tests: TestSimulationLaw.
func (j *Judge) Simulation(t design.ClaimTable, rows []SimulatedRow) SimulatedTable {
	out := SimulatedTable{Claim: t, Counts: map[Verdict]int{}}
	s := j.calibrated("")
	if w, ok := t.OtherWater(); ok {
		var err error
		if s, err = s.Adjusted(w.Apply); err != nil {
			out.Why = "the drive has no design point in the table's water: " + err.Error()
			return out
		}
	}
	u := explore.Uniform(max(len(s.Machines), 1), gapNumbers, j.seed+78)
	var powers []float64
	logs := make([]map[string][]float64, 0, len(rows)) // of each row, by figure and draw
	for _, row := range rows {
		c, driver, why := drivenAt(t, row)
		if why != "" {
			out.Why = fmt.Sprintf("line %d: %s", row.Line, why)
			return out
		}
		p := SimulatedPoint{Line: row.Line, Condition: c}
		nominal, err := s.Nominal.Solve(c)
		if err != nil {
			p.Why = err.Error()
			out.Without++
			out.Points = append(out.Points, p)
			continue
		}
		p.Power, p.Cavitation = nominal.BatteryPower, 1-nominal.Jet.CavitationFactor
		gap := j.beyond(c, s, j.drifts(""), "")
		p.Discrepancy = gap.whole()
		states := solveStates(s.Machines, c, nominal.RotorSpeed)
		drawn := map[string][]float64{}
		for _, f := range simulated {
			claimed, ok := row.Figures[f.name]
			if !ok || f.name == driver || !(claimed > 0) || !(f.of(s.Nominal, &nominal) > 0) {
				continue
			}
			column := make([]float64, len(states)) // logarithms of what is predicted
			var shown []float64
			var kept []simulatedDraw
			for i, st := range states {
				column[i] = math.NaN()
				if st == nil {
					continue
				}
				if v := f.of(s.Machines[i], st); v > 0 {
					k := simulatedDraw{plain: gap.drawn(v, f.efficiency, i, u[i], false), wide: gap.drawn(v, f.efficiency, i, u[i], true)}
					column[i] = math.Log(k.plain.value)
					if k.plain.scale > 0 {
						column[i] += k.plain.scale * studentsTAt(distuv.UnitNormal.Quantile(u[i][0]), k.plain.freedom)
					}
					shown, kept = append(shown, math.Exp(column[i])), append(kept, k)
				}
			}
			x := SimulatedFigure{Name: f.name, Unit: f.unit, Claimed: claimed, Predicted: explore.Interval(f.of(s.Nominal, &nominal), shown)}
			x.Ratio = explore.Figure{Value: claimed / x.Predicted.Value, Low: claimed / x.Predicted.High, High: claimed / x.Predicted.Low}
			p.Figures = append(p.Figures, x)
			drawn[f.name] = column
			if f.name == "thrust" {
				p.judge(t, claimed, x.Predicted, kept, len(states))
				out.Counts[p.Verdict]++
			}
		}
		out.Points = append(out.Points, p)
		powers, logs = append(powers, p.Power), append(logs, drawn)
	}
	out.trends(powers, logs, len(s.Machines))
	return out
}

// drivenAt is the condition of a row, and the column that drives it.
func drivenAt(t design.ClaimTable, row SimulatedRow) (c drive.Condition, driver, why string) {
	c.Speed = row.Figures["speed"]
	for _, place := range places {
		if w, ok := row.Figures[place+" power"]; ok {
			c.Demand, _ = drive.Place(place)
			c.Amount = w
			return c, place + " power", ""
		}
	}
	if w, ok := row.Figures["power"]; ok {
		if t.Place == "" {
			return c, "", `the column "power" does not say where the power is meant: name it battery power, controller power or shaft power, or type place beside the table`
		}
		c.Demand, _ = drive.Place(t.Place)
		c.Amount = w
		return c, t.Place + " power", ""
	}
	if n, ok := row.Figures["rotor speed"]; ok {
		c.Demand, c.Amount = drive.RotorSpeed, n
		return c, "rotor speed", ""
	}
	return c, "", "it has neither power nor rotor speed"
}

// simulatedDraw is a drawn figure with the error that is left to it, once as expected and once with the discrepancy
// doubled.
type simulatedDraw struct{ plain, wide gapped }

// judge gives the verdict on a row's thrust.
func (p *SimulatedPoint) judge(t design.ClaimTable, claimed float64, f explore.Figure, drawn []simulatedDraw, draws int) {
	c := t.Claim
	c.Value = claimed
	x, wide := Predicted{Figure: f, Draws: draws, Without: draws - len(drawn)}, Predicted{Draws: draws}
	if draws == 0 {
		x.Probability, wide.Probability = holds(c, f.Value, p.Discrepancy, math.Inf(1)), holds(c, f.Value, 2*p.Discrepancy, math.Inf(1))
	}
	for _, k := range drawn {
		x.Probability += holds(c, k.plain.value, k.plain.scale, k.plain.freedom) / float64(draws)
		wide.Probability += holds(c, k.wide.value, k.wide.scale, k.wide.freedom) / float64(draws)
	}
	p.Probability = x.Probability
	p.Verdict, p.Why = decide(c, x, wide)
}

// trends fits how claimed over predicted goes with the power.
func (t *SimulatedTable) trends(powers []float64, logs []map[string][]float64, draws int) {
	for _, f := range simulated {
		var x, nominal []float64
		var columns [][]float64
		low, high, middle := math.Inf(1), 0.0, 0.0
		k := 0
		for i := range t.Points {
			if t.Points[i].Power == 0 {
				continue
			}
			for _, g := range t.Points[i].Figures {
				if g.Name != f.name {
					continue
				}
				x = append(x, math.Log2(powers[k]))
				nominal = append(nominal, math.Log(g.Ratio.Value))
				column := make([]float64, draws)
				for d, v := range logs[k][f.name] {
					column[d] = math.Log(g.Claimed) - v
				}
				columns = append(columns, column)
				low, high = math.Min(low, powers[k]), math.Max(high, powers[k])
			}
			k++
		}
		if len(x) < 3 || high < trendFrom*low {
			continue
		}
		for _, v := range x {
			middle += v / float64(len(x))
		}
		line := func(y func(k int) float64) (a, b float64) {
			sxx, sxy := 0.0, 0.0
			for k := range x {
				a += y(k) / float64(len(x))
				sxx += (x[k] - middle) * (x[k] - middle)
				sxy += (x[k] - middle) * y(k)
			}
			return a, sxy / sxx
		}
		a, b := line(func(k int) float64 { return nominal[k] })
		var levels, slopes []float64
		for d := range draws {
			l, s := line(func(k int) float64 { return columns[k][d] })
			if !math.IsNaN(l) {
				levels, slopes = append(levels, l), append(slopes, s)
			}
		}
		r := SimulatedTrend{Name: f.name, Level: span(a, levels), Slope: span(b, slopes), Middle: math.Exp2(middle), Kind: TrendAgrees}
		apart := func(f explore.Figure) bool { return f.Low > 0 || f.High < 0 }
		switch {
		case apart(r.Slope) && r.Slope.Value > 0:
			r.Kind = TrendGrows
		case apart(r.Slope):
			r.Kind = TrendFalls
		case apart(r.Level):
			r.Kind = TrendConstant
		}
		t.Trends = append(t.Trends, r)
	}
}

// span is the 90 % interval of drawn figures, or the nominal alone.
func span(nominal float64, drawn []float64) explore.Figure {
	if len(drawn) == 0 {
		return explore.Figure{Value: nominal, Low: nominal, High: nominal}
	}
	x := append([]float64(nil), drawn...)
	sort.Float64s(x)
	return explore.Figure{Value: nominal, Low: numeric.Quantile(x, explore.LowShare), High: numeric.Quantile(x, explore.HighShare)}
}
