package desk

import (
	"jetwright/bench"
	"jetwright/explore"
	"jetwright/notice"
	"jetwright/project"
	"jetwright/quantity"
	"jetwright/reckon"
)

// HeatLearned is what the runs' temperatures say of the network of heat.
type HeatLearned struct {
	Rows    []LearnedRow
	Left    []string        // runs that show temperatures and are not used, with why
	Used    bool            // what follows is worked out with what was learned
	Why     string          // why nothing was learned
	Numbers []reckon.Taught // what was narrowed, most first
	Told    float64         // numbers that the runs tell apart
}

// LearnedRow is a temperature at the end of a plateau, measured and by the network.
type LearnedRow struct {
	Run, Plateau  string
	Channel       bench.Channel
	Power         Figure
	Measured      Figure
	Designed      Figure
	Verdict       reckon.HeatVerdict // of the network as designed
	Learned       Figure
	LearnedAgrees reckon.HeatVerdict
}

// heatRuns are the runs of a folder as the network can follow them.
func heatRuns(p *project.Project) (runs []reckon.HeatRun, left []string, faults notice.List) {
	versions := versionsOf(p)
	for i := range p.Runs {
		r := &p.Runs[i]
		if _, earlier, _ := versions.of(r); earlier != "" {
			left = append(left, r.Name+": it ran "+earlier+", which is another drive")
			continue
		}
		if len(r.Plateaus) > 0 {
			x := reckon.ReadingsRun(r.Name, r.Plateaus, "battery")
			x.Adjust = adjusted(r, r.Plateaus)
			if x.Why == "" {
				runs = append(runs, x)
			} else if showsHeat(r.Plateaus) {
				left = append(left, r.Name+": "+x.Why)
			}
		}
		if len(r.Logs) == 0 {
			continue
		}
		day, err := p.Reduce(r)
		if err != nil {
			faults = append(faults, asWarnings(err, "its logs are left out")...)
			continue
		}
		if !showsHeat(day.Plateaus) {
			continue
		}
		legs, ok := reckon.LogLegs(day)
		if !ok {
			left = append(left, r.Name+": its logs show no power over time")
			continue
		}
		x := reckon.HeatRun{Name: r.Name, Legs: reckon.Merged(legs), Adjust: adjusted(r, day.Plateaus), Gain: gainOf(day)}
		x.Rows, x.Start = reckon.RowsOf(day)
		runs = append(runs, x)
	}
	return runs, left, faults
}

// gainOf is the relative standard uncertainty that the powers of a day share.
func gainOf(day *bench.Reduction) float64 {
	gain := 0.01
	for _, p := range day.Plateaus {
		if f, ok := p.Figure(bench.Power); ok && f.Value > 0 {
			if u, _ := bench.Combined(f.Budget); u/f.Value > gain {
				gain = u / f.Value
			}
		}
	}
	return gain
}

func showsHeat(list []bench.Plateau) bool {
	for _, p := range list {
		if shows(p) {
			return true
		}
	}
	return false
}

// learn holds the network against the runs and returns the drives as they have taught it, or the sample itself.
func (a *HeatAnswer) learn(p *project.Project, s *explore.Sample, o Options) *explore.Sample {
	runs, left, faults := heatRuns(p)
	a.Notices = append(a.Notices, faults...)
	if len(runs) == 0 && len(left) == 0 {
		return s
	}
	l := &HeatLearned{Left: left}
	a.Learned = l
	fit, err := reckon.LearnHeat(s, runs, len(s.Machines), o.seed())
	if err != nil {
		l.Why = err.Error()
		return s
	}
	l.Used, l.Why, l.Numbers, l.Told = fit.Used, fit.Why, fit.Numbers, fit.Told
	celsius := quantity.MustUnit("°C")
	for i := range runs {
		r := &runs[i]
		before, err := r.Followed(s)
		if err != nil {
			l.Left = append(l.Left, r.Name+": "+err.Error())
			continue
		}
		after := before
		if fit.Used {
			if after, err = r.Followed(fit.Sample); err != nil {
				after = before
			}
		}
		for k, row := range r.Rows {
			if row.Plateau == "" {
				continue
			}
			half := row.Limits
			if row.Standard {
				half *= 1.645
			}
			x := LearnedRow{
				Run: r.Name, Plateau: row.Plateau, Channel: row.Channel, Power: Figure{Value: row.Power, Low: row.Power, High: row.Power, Unit: quantity.MustUnit("W")},
				Measured: Figure{Value: row.Value, Low: row.Value - half, High: row.Value + half, Unit: celsius},
				Designed: Figure{Value: before[k].Value, Low: before[k].Low, High: before[k].High, Unit: celsius}, Verdict: r.Judge(row, before[k]),
				Learned: Figure{Value: after[k].Value, Low: after[k].Low, High: after[k].High, Unit: celsius}, LearnedAgrees: r.Judge(row, after[k]),
			}
			l.Rows = append(l.Rows, x)
		}
	}
	if fit.Used {
		return fit.Sample
	}
	return s
}
