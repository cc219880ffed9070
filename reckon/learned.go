package reckon

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"gonum.org/v1/gonum/mat"

	"jetwright/design"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/quantity"
)

// Learned is one unknown before and after.
type Learned struct {
	Path          string
	Before, After float64 // standard deviation over the prior's: 1 means nothing was learned
	Shift         float64 // in prior standard deviations

	Prior, Posterior explore.Figure // 90 % intervals in SI; factors for what stands beside a range
	Unit             quantity.Unit
}

// Combination is a figure that the data can tell, with its 90 % interval before and after.
type Combination struct {
	Name          string
	Unit          string
	Before, After explore.Figure
}

// Direction is a combination of unknowns that the readings tell apart from every other: an axis of what is left of the
// prior's doubt.
type Direction struct {
	Name  string  // of the figure that it mostly is, or what it is made of
	Named bool    // a figure of its own
	After float64 // standard deviation left, 1 before the readings
	Parts []Part  // largest first, those that make up most of it

	axis []float64
}

// Part is an unknown's share in a direction; the squares of all weights sum to one.
type Part struct {
	Path   string
	Weight float64
}

// Pair are two unknowns of which the readings tell one combination and not either alone.
type Pair struct {
	A, B        string
	Correlation float64 // after the readings
	Sum         float64 // standard deviation left of what the readings tell of both, 1 before
	AfterA      float64
	AfterB      float64
	Tied        bool // beyond the bound from which they count as one; else it is merely the closest pair
}

// told is the share of the prior variance below which a combination counts as told: its
// standard deviation was at least halved.
const told = 0.25

// Rules of what was learned. Our own.
const (
	tied        = 0.9  // correlation beyond which two unknowns cannot be told apart
	namedShare  = 0.5  // of a direction that a figure's own must make up to give it its name
	partsShare  = 0.9  // of a direction that its parts make up together
	partsMost   = 4    // parts that are named
	learnedStep = 1e-4 // of a coordinate, for derivatives of figures
)

// telling are figures that readings at rest can tell, by the channels that they hang on.
type telling struct {
	name, unit string
	of         func(*drive.State) float64
	shown      bool
}

func (m *model) telling(water float64) []telling {
	has := func(c ...func(r *row) bool) bool {
		for _, f := range c {
			found := false
			for e := range m.prepared {
				for i := range m.prepared[e] {
					for k := range m.prepared[e][i].rows {
						found = found || f(&m.prepared[e][i].rows[k])
					}
				}
			}
			if !found {
				return false
			}
		}
		return true
	}
	channel := func(name string) func(r *row) bool {
		return func(r *row) bool { return string(r.figure.Channel) == name }
	}
	return []telling{
		{"static efficiency at the battery", "1", func(s *drive.State) float64 { return s.StaticEfficiency }, true},
		{"thrust coefficient T/(ρn²D⁴)", "1", func(s *drive.State) float64 { return s.Jet.ThrustCoefficient }, true},
		{"shaft torque per rms ampere", "N·m/A", func(s *drive.State) float64 { return s.MotorTorque / s.Motor.PhaseCurrentRMS }, m.current},
		{"battery resistance", "mΩ", func(s *drive.State) float64 {
			return s.Supply.BatteryInternalLoss / (s.Supply.BatteryCurrent * s.Supply.BatteryCurrent)
		}, has(channel("battery voltage"))},
		{"winding above the water for each watt of the motor's heat", "K/W", func(s *drive.State) float64 {
			return (s.Motor.WindingTemperature - water) / (s.Motor.CopperLoss + s.Motor.NoLoadLoss)
		}, has(channel("winding temperature"))},
		{"bridge above the water for each watt of the controller's heat", "K/W", func(s *drive.State) float64 { return (s.Heat.BridgeTemperature - water) / s.Supply.Heat() }, has(channel("bridge temperature"))},
	}
}

// combine works out the figures that readings at rest can tell, before and after, at the
// hardest plateau.
func (f *Fit) combine(m *model, prior *explore.Sample) {
	c, ok := hardest(m)
	if !ok {
		return
	}
	var list []telling
	for _, g := range m.telling(prior.Nominal.Drive.Water.Temperature) {
		if g.shown {
			list = append(list, g)
		}
	}
	of := make([]func(*drive.State) float64, len(list))
	for i := range list {
		of[i] = list[i].of
	}
	before, after := askAll(prior.Nominal, prior.Machines, c, of), askAll(f.Machine, f.Draws, c, of)
	f.tellings, f.tellingDraws = list, after.draws
	for i, g := range list {
		f.Combination = append(f.Combination, Combination{Name: g.name, Unit: g.unit, Before: before.figures[i], After: after.figures[i]})
	}
}

// asked are several figures of one condition.
type asked struct {
	figures []explore.Figure
	draws   [][]float64 // figure × draw, NaN where there is no state
}

// askAll is ask for several figures of the same states.
func askAll(nominal *drive.Machine, draws []*drive.Machine, c drive.Condition, of []func(*drive.State) float64) asked {
	a := asked{make([]explore.Figure, len(of)), make([][]float64, len(of))}
	s, err := nominal.Solve(c)
	if err != nil {
		return a
	}
	for i := range of {
		a.draws[i] = make([]float64, len(draws))
	}
	near := explore.NearOf(draws, c)
	explore.Parallel(len(draws), func(k int) {
		var st drive.State
		err := error(nil)
		if draws[k] != nil {
			st, err = draws[k].SolveNear(c, near, explore.DrawTolerance)
		}
		for i := range of {
			a.draws[i][k] = math.NaN()
			if draws[k] != nil && err == nil {
				a.draws[i][k] = of[i](&st)
			}
		}
	})
	for i := range of {
		a.figures[i] = explore.Interval(of[i](&s), finite(a.draws[i]))
	}
	return a
}

func finite(x []float64) []float64 {
	var kept []float64
	for _, v := range x {
		if !math.IsNaN(v) {
			kept = append(kept, v)
		}
	}
	return kept
}

// slopes are the derivatives of logarithms of figures of a state at a condition by all coordinates, at a point. adjust says what of
// the drive is different there; may be nil.
func (m *model) slopes(y []float64, adjust func(*drive.Drive), at func(y []float64) drive.Condition, of []func(*drive.State) float64) ([]float64, [][]float64, error) {
	values := func(y []float64, near float64) ([]float64, float64, error) {
		d := m.drive(y)
		if adjust != nil {
			adjust(&d)
		}
		machine, err := d.Resolve()
		if err != nil {
			return nil, 0, err
		}
		c := at(y)
		if c.Demand == drive.Thrust {
			near = 0
		}
		s, err := machine.SolveNear(c, near, 0)
		if err != nil {
			return nil, 0, err
		}
		out := make([]float64, len(of))
		for i, f := range of {
			out[i] = math.Log(f(&s))
		}
		return out, s.RotorSpeed, nil
	}
	base, near, err := values(y, 0)
	if err != nil {
		return nil, nil, err
	}
	slope := make([][]float64, len(of))
	for i := range slope {
		slope[i] = make([]float64, len(y))
	}
	errs := make([]error, len(y))
	explore.Parallel(len(y), func(j int) {
		moved := append([]float64(nil), y...)
		moved[j] += learnedStep
		up, _, err := values(moved, near)
		if errs[j] = err; err != nil {
			return
		}
		for i := range up {
			slope[i][j] = (up[i] - base[i]) / learnedStep
		}
	})
	for _, err := range errs {
		if err != nil {
			return nil, nil, err
		}
	}
	return base, slope, nil
}

// learn compares prior and posterior of every unknown of the drive, finds the combinations that
// the data told apart, and the pairs that they did not.
func (f *Fit) learn(m *model) {
	cov := f.solution.Covariance
	k := f.physicals
	for j, c := range m.coords[:k] {
		l := Learned{Path: c.name, Before: 1, After: math.Sqrt(cov.At(j, j)), Shift: f.best[j]}
		f.natural(&l, m, j)
		f.Learned = append(f.Learned, l)
	}
	f.pairs(m)
	sort.SliceStable(f.Learned, func(a, b int) bool { return f.Learned[a].After < f.Learned[b].After })
	block := mat.NewSymDense(k, nil)
	for i := range k {
		for j := i; j < k; j++ {
			block.SetSym(i, j, cov.At(i, j))
		}
	}
	var eigen mat.EigenSym
	if !eigen.Factorize(block, true) {
		return
	}
	var vectors mat.Dense
	eigen.VectorsTo(&vectors)
	values := eigen.Values(nil)
	for i, v := range values { // rising
		if v >= told {
			break
		}
		f.Numbers++
		f.Directions = append(f.Directions, direction(m, mat.Col(nil, i, &vectors), math.Sqrt(math.Max(0, v))))
	}
	f.name(m)
}

// direction words an axis by its largest parts.
func direction(m *model, axis []float64, after float64) Direction {
	order := make([]int, len(axis))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return math.Abs(axis[order[a]]) > math.Abs(axis[order[b]]) })
	d := Direction{After: after}
	sum := 0.0
	sign := math.Copysign(1, axis[order[0]])
	for _, j := range order {
		if sum >= partsShare || len(d.Parts) == partsMost {
			break
		}
		sum += axis[j] * axis[j]
		d.Parts = append(d.Parts, Part{m.coords[j].name, sign * axis[j]})
	}
	var words []string
	for i, p := range d.Parts {
		lead := ""
		switch {
		case p.Weight < 0:
			lead = "− "
		case i > 0:
			lead = "+ "
		}
		words = append(words, fmt.Sprintf("%s%.2f %s", lead, math.Abs(p.Weight), p.Path))
	}
	d.Name = strings.Join(words, " ")
	d.axis = axis
	return d
}

// name gives directions the names of figures that they mostly are.
func (f *Fit) name(m *model) {
	c, ok := hardest(m)
	if !ok || len(f.tellings) == 0 || len(f.Directions) == 0 {
		return
	}
	of := make([]func(*drive.State) float64, len(f.tellings))
	for i, g := range f.tellings {
		of[i] = g.of
	}
	_, slopes, err := m.slopes(f.best, nil, func([]float64) drive.Condition { return c }, of)
	if err != nil {
		return
	}
	for i := range f.Directions {
		d := &f.Directions[i]
		most := 0.0
		for g, s := range slopes {
			var along, length float64
			for j := range f.physicals {
				along += s[j] * d.axis[j]
				length += s[j] * s[j]
			}
			if share := along * along / length; share > most && share >= namedShare {
				most, d.Name, d.Named = share, f.tellings[g].name, true
			}
		}
	}
}

// natural writes an unknown's intervals in its own unit.
func (f *Fit) natural(l *Learned, m *model, j int) {
	value := func(z float64) float64 { return math.Exp(priorLnHead * m.scale * z) }
	l.Unit, _ = quantity.LookupUnit("1")
	if j < m.nInputs {
		in := m.inputs[j]
		l.Unit = in.Field.Unit
		value = func(z float64) float64 { return in.Value.Quantile(design.Rank(m.scale * z)) }
	} else if j == m.nInputs+2 {
		value = func(z float64) float64 { return math.Exp(priorLnTorqueConstant * m.scale * z) }
	}
	const z90 = 1.6448536269514722
	l.Prior = explore.Figure{Value: value(0), Low: value(-z90), High: value(z90)}
	drawn := make([]float64, 0, len(f.points))
	for _, y := range f.points {
		drawn = append(drawn, value(y[j]))
	}
	l.Posterior = explore.Interval(value(f.best[j]), drawn)
	for _, g := range []*explore.Figure{&l.Prior, &l.Posterior} {
		if g.Low > g.High {
			g.Low, g.High = g.High, g.Low
		}
	}
}

// pairs finds what the readings tie together: unknowns of the drive with each other and with the instruments.
func (f *Fit) pairs(m *model) {
	cov := f.solution.Covariance
	var closest Pair
	for i := range m.coords {
		for j := i + 1; j < len(m.coords); j++ {
			if !m.coords[i].physical && !m.coords[j].physical {
				continue
			}
			a, b, c := cov.At(i, i), cov.At(j, j), cov.At(i, j)
			if a < told || b < told {
				continue // told alone
			}
			p := Pair{A: m.coords[i].name, B: m.coords[j].name, Correlation: c / math.Sqrt(a*b), AfterA: math.Sqrt(a), AfterB: math.Sqrt(b)}
			p.Sum = math.Sqrt(math.Max(0, a+b-2*math.Abs(c)) / 2)
			p.Tied = math.Abs(p.Correlation) > tied && p.Sum*p.Sum < told
			if p.Tied {
				f.Pairs = append(f.Pairs, p)
			}
			if math.Abs(p.Correlation) > math.Abs(closest.Correlation) {
				closest = p
			}
		}
	}
	sort.SliceStable(f.Pairs, func(a, b int) bool { return math.Abs(f.Pairs[a].Correlation) > math.Abs(f.Pairs[b].Correlation) })
	if len(f.Pairs) == 0 && closest.A != "" {
		f.Pairs = []Pair{closest}
	}
}
