package desk

import (
	"jetwright/bench"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/project"
	"jetwright/quantity"
	"jetwright/reckon"
)

// readingCondition is what a reading prescribes; a power without a place is taken at the battery.
func readingCondition(p bench.Plateau) (drive.Condition, bool) {
	return reckon.ReadingCondition(p, "battery")
}

// nowNodes are the nodes that channels of temperature show.
var nowNodes = []struct {
	channel bench.Channel
	node    string
}{{bench.WindingTemperature, drive.NodeWinding}, {bench.CaseTemperature, drive.NodeJacket}, {bench.BridgeTemperature, drive.NodeJunction}}

// now puts the newest reading that shows a temperature beside what the network says of it.
func (a *HeatAnswer) now(p *project.Project, s *explore.Sample) {
	evidence, _, _ := gather(p)
	for i := len(evidence) - 1; i >= 0; i-- {
		e := evidence[i]
		for k := len(e.Plateaus) - 1; k >= 0; k-- {
			pl := e.Plateaus[k]
			c, ok := readingCondition(pl)
			if ok && shows(pl) {
				a.Now = nowOf(pl, c, e, s)
				return
			}
		}
	}
}

func shows(p bench.Plateau) bool {
	for _, f := range p.Figures {
		for _, n := range nowNodes {
			if f.Channel == n.channel {
				return true
			}
		}
	}
	return false
}

func nowOf(pl bench.Plateau, c drive.Condition, e reckon.Evidence, s *explore.Sample) *HeatNow {
	c.OnStand = true
	n := &HeatNow{Run: pl.Run, Reading: pl.Name, Condition: c, Held: pl.Held.Or(pl.Span.Length()), Water: s.Nominal.Drive.Water.Temperature}
	if e.Adjust != nil || e.Version != nil {
		other, err := e.Before(s, explore.DefaultSeed)
		if err != nil {
			n.Why = err.Error()
			return n
		}
		s = other
		n.Water = s.Nominal.Drive.Water.Temperature
	}
	celsius := quantity.MustUnit("°C")
	for _, f := range pl.Figures {
		for _, k := range nowNodes {
			if f.Channel == k.channel {
				half := 0.0
				if u, freedom := bench.Combined(f.Budget); u > 0 {
					half = bench.CoverageFactor(0.90, freedom) * u
				}
				n.Lines = append(n.Lines, NowLine{Channel: f.Channel, Node: k.node, Measured: Figure{Value: f.Value, Low: f.Value - half, High: f.Value + half, Unit: celsius}})
			}
		}
	}
	leg := drive.Leg{Seconds: n.Held, Condition: c, Fault: drive.Fault{Frozen: true}}
	steady := make([][]float64, len(s.Machines))
	then := make([][]float64, len(s.Machines))
	one := func(m *drive.Machine) (then, steady []float64, x *drive.Marcher) {
		x, err := drive.NewMarcher(m)
		if err != nil {
			return nil, nil, nil
		}
		if n.Held > 0 {
			var out drive.Marched
			if x.Run(drive.March{Legs: []drive.Leg{leg}}, &out) == nil && out.Ending.Kind == drive.Finished {
				then = out.End
			}
		}
		steady, _ = x.Steady(leg, m.Drive.Battery.Charge, nil)
		return then, steady, x
	}
	t, y, x := one(s.Nominal)
	if y == nil {
		n.Why = "the nominal drive has no steady state at it"
		return n
	}
	explore.Parallel(len(s.Machines), func(i int) {
		if s.Machines[i] != nil {
			then[i], steady[i], _ = one(s.Machines[i])
		}
	})
	for i := range n.Lines {
		l := &n.Lines[i]
		k := x.Node(l.Node)
		column := func(nominal []float64, rows [][]float64) Figure {
			var drawn []float64
			for _, r := range rows {
				if r != nil {
					drawn = append(drawn, r[k])
				}
			}
			iv := explore.Interval(nominal[k], drawn)
			return Figure{Value: iv.Value, Low: iv.Low, High: iv.High, Unit: celsius}
		}
		l.Steady = column(y, steady)
		if l.HasThen = t != nil; l.HasThen {
			l.Then = column(t, then)
		}
	}
	return n
}
