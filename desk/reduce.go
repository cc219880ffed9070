package desk

import (
	"fmt"
	"math"

	"jetwright/bench"
	"jetwright/drive"
	"jetwright/notice"
	"jetwright/project"
)

// ReduceAnswer is what the logs of the runs say.
type ReduceAnswer struct {
	Folder  string
	Days    []ReducedDay
	Notices notice.List
}

// ReducedDay is a run with the similarity coefficients of its plateaus.
type ReducedDay struct {
	*bench.Reduction
	Revision, Parts string
	Before          []project.Looked     // what was looked at before the run
	Coefficients    []bench.Coefficients // of each plateau, by the numbers of the revision that ran
	Warm            *WarmDay
}

// Budget is what the standard uncertainty of one figure is made of.
type Budget struct {
	Figure     bench.Figure
	U, Freedom float64
	Half       float64 // half-width of the 90 % interval, SI
	Low, High  float64 // ends of the 90 % interval by drawing every component by its own distribution, SI
	Draws      int     // that they rest on; 0 where they could not be drawn and are those of the budget
	Tolerance  float64 // half a unit of the first digit of U, SI
	Holds      bool    // both ends of the budget's interval are within that of the drawn ones
	Shares     []float64
}

// DrawnTogether holds the 90 % intervals of a channel's budgets against those of the whole day drawn
// together.
func DrawnTogether(plateaus []bench.Plateau, c bench.Channel) []bench.Validation {
	return bench.Validate(plateaus, c, 0.90, 1)
}

// simulatedMost is at how many draws the interval of a budget ends, if it does not stand still before.
const simulatedMost = 200000

// BudgetsOf returns the budgets of a plateau's figures.
func BudgetsOf(p bench.Plateau) []Budget {
	var out []Budget
	for _, f := range p.Figures {
		b := Budget{Figure: f}
		b.U, b.Freedom = bench.Combined(f.Budget)
		b.Half = bench.CoverageFactor(0.90, b.Freedom) * b.U
		drawn, err := bench.DrawBudget(f.Budget, bench.DrawOptions{Share: 0.90, Seed: 1, Most: simulatedMost})
		if err == nil {
			b.Low, b.High = f.Value+drawn.Low, f.Value+drawn.High
			b.Draws, b.Holds, b.Tolerance = drawn.Draws, drawn.Holds(-b.Half, b.Half), drawn.Tolerance
		} else {
			b.Low, b.High = f.Value-b.Half, f.Value+b.Half
		}
		for _, c := range f.Budget {
			share := 0.0
			if b.U > 0 {
				share = c.U * c.U / (b.U * b.U)
			}
			b.Shares = append(b.Shares, share)
		}
		out = append(out, b)
	}
	return out
}

// BudgetAnswer is the budget of every figure of one plateau.
type BudgetAnswer struct {
	Run     string
	Plateau bench.Plateau
	Budgets []Budget
}

// BudgetIn answers what the figures of one plateau are worth, by its number in its run, from 1.
// Without a run the folder must have one run with logs.
func BudgetIn(folder, run string, number int) (*BudgetAnswer, error) {
	a, err := ReduceIn(folder, run)
	if err != nil {
		return nil, err
	}
	return a.Budget(number)
}

// Budget answers what the figures of one plateau are worth, by its number in its run, from 1, if one run
// was reduced.
func (a *ReduceAnswer) Budget(number int) (*BudgetAnswer, error) {
	if len(a.Days) > 1 {
		return nil, notice.List{{Kind: notice.Error, What: fmt.Sprintf("%d runs have logs", len(a.Days)), WayOut: "name the plateau's run with --run"}}
	}
	d := a.Days[0]
	p, ok := d.Plateau(number)
	if !ok {
		return nil, notice.List{{Kind: notice.Error, What: fmt.Sprintf("there is no plateau %d", number), Allowed: fmt.Sprintf("the run %s has plateaus 1 to %d", d.Run, len(d.Plateaus))}}
	}
	return &BudgetAnswer{Run: d.Run, Plateau: p, Budgets: BudgetsOf(p)}, nil
}

// Plateau returns a plateau by its number in its run, from 1.
func (d *ReducedDay) Plateau(n int) (bench.Plateau, bool) {
	if n < 1 || n > len(d.Plateaus) {
		return bench.Plateau{}, false
	}
	return d.Plateaus[n-1], true
}

// dayMachine is the nominal drive as it was set up in a run.
func dayMachine(p *project.Project, run string) (*drive.Machine, error) {
	d := p.Design.Nominal()
	for i := range p.Runs {
		if r := &p.Runs[i]; r.Name == run && r.Setup != nil {
			r.Setup.Apply(&d)
		}
	}
	return d.Resolve()
}

// Reduce answers what was really measured: the plateaus of one run, or of all that have logs.
func Reduce(p *project.Project, run string) (*ReduceAnswer, error) {
	a := &ReduceAnswer{Folder: p.Folder, Notices: p.Notices}
	known := false
	for i := range p.Runs {
		r := &p.Runs[i]
		if run != "" && r.Name != run {
			continue
		}
		known = true
		if len(r.Logs) == 0 {
			continue
		}
		day, err := p.Reduce(r)
		if err != nil {
			return nil, err
		}
		d := ReducedDay{Reduction: day, Revision: r.Revision, Parts: r.Parts, Before: r.Before}
		machine, err := dayMachine(p, r.Name)
		if err != nil {
			return nil, unsolved(p, err)
		}
		for _, pl := range day.Plateaus {
			d.Coefficients = append(d.Coefficients, bench.Similarity(pl, machine.Drive.Impeller.Diameter, machine.Path.NozzleArea, machine.Water.Density))
		}
		d.Warm = warmDay(p, day, machine)
		a.Days = append(a.Days, d)
	}
	switch {
	case run != "" && !known:
		return nil, notice.List{{Kind: notice.Error, What: fmt.Sprintf("there is no run %q", run), Allowed: runList(p), WayOut: "name one of them with --run"}}
	case len(a.Days) == 0:
		return nil, notice.List{{Kind: notice.Error, What: "no run has a log to reduce", WayOut: "adopt logs with: jetwright run add scale.csv controller.csv"}}
	}
	return a, nil
}

func runList(p *project.Project) string {
	if len(p.Runs) == 0 {
		return "the folder has no runs yet"
	}
	s := "runs are "
	for i, r := range p.Runs {
		if i > 0 {
			s += ", "
		}
		s += r.Name
	}
	return s
}

// Half returns the half-width of a figure's 90 % interval, SI.
func Half(f bench.Figure) float64 {
	if f.Budget == nil {
		return bench.CoverageFactor(0.90, math.Inf(1)) * f.StandardUncertainty()
	}
	u, freedom := bench.Combined(f.Budget)
	return bench.CoverageFactor(0.90, freedom) * u
}

// ReduceIn answers Reduce for a folder.
func ReduceIn(folder, run string) (*ReduceAnswer, error) { return ReduceInProgress(folder, run, nil) }

// ReduceInProgress is ReduceIn that says how far a log is read, from any goroutine; progress may be nil.
func ReduceInProgress(folder, run string, progress func(file string, done, total int)) (*ReduceAnswer, error) {
	return in(folder, func(p *project.Project) (*ReduceAnswer, error) {
		p.Progress = progress
		return Reduce(p, run)
	})
}
