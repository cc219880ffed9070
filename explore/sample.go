// Package explore asks the same question of many drives: drawn within tolerance, swept,
// searched. A tolerance has no arithmetic: every interval comes from solving the plain
// model many times.
package explore

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"sort"
	"sync"

	"gonum.org/v1/gonum/stat/distuv"

	"jetwright/design"
	"jetwright/drive"
	"jetwright/numeric"
	"jetwright/quantity"
)

// DefaultDraws is how many drives a result with intervals rests on.
const DefaultDraws = 512

// DefaultSeed makes draws the same from run to run.
const DefaultSeed = 20260503

// Sample is a design drawn many times within its tolerances: the nominal machine and the
// drawn ones. A drawn drive that cannot be worked out is counted by its reason.
type Sample struct {
	Design   *design.Design
	Nominal  *drive.Machine
	Inputs   []design.Input
	U        [][]float64      // draws × inputs, each in (0, 1)
	Machines []*drive.Machine // per draw, nil if it could not be worked out
	Failed   map[string]int
}

// New draws a design n times, numbers that only limits depend on included; n = 0 gives the nominal machine alone. The error says why the
// nominal drive cannot be worked out.
func New(d *design.Design, n int, seed uint64) (*Sample, error) {
	return sample(d, slices.Concat(d.Uncertain(), d.Holding()), n, seed)
}

// NewOverTime is New with the numbers drawn as well that only temperatures over time depend on. What New draws is
// drawn the same.
func NewOverTime(d *design.Design, n int, seed uint64) (*Sample, error) {
	return sample(d, slices.Concat(d.Uncertain(), d.OverTime()), n, seed)
}

// NewRiding is NewOverTime with the numbers drawn as well that only rides depend on.
func NewRiding(d *design.Design, n int, seed uint64) (*Sample, error) {
	return sample(d, slices.Concat(d.Uncertain(), d.OverTime(), d.Riding()), n, seed)
}

func sample(d *design.Design, inputs []design.Input, n int, seed uint64) (*Sample, error) {
	nominal, err := d.Nominal().Resolve()
	if err != nil {
		return nil, err
	}
	s := &Sample{Design: d, Nominal: nominal, Inputs: inputs, Failed: map[string]int{}}
	if n <= 0 {
		return s, nil
	}
	s.U = Uniform(n, len(s.Inputs), seed)
	s.Machines = make([]*drive.Machine, n)
	var mu sync.Mutex
	Parallel(n, func(i int) {
		m, err := d.DrawOf(s.Inputs, s.U[i]).Resolve()
		if err != nil {
			mu.Lock()
			s.Failed[Kind(err)]++
			mu.Unlock()
			return
		}
		s.Machines[i] = m
	})
	return s, nil
}

// First returns the sample with its first n draws alone, or all where there are fewer.
func (s *Sample) First(n int) *Sample {
	if n >= len(s.Machines) {
		return s
	}
	out := *s
	out.Machines, out.Failed = s.Machines[:n], map[string]int{}
	if len(s.U) >= n {
		out.U = s.U[:n]
	}
	return &out
}

// Adjusted returns the sample with every drive changed and worked out again, as for a run in
// other water.
func (s *Sample) Adjusted(change func(*drive.Drive)) (*Sample, error) {
	out := &Sample{Design: s.Design, Inputs: s.Inputs, U: s.U, Machines: make([]*drive.Machine, len(s.Machines)), Failed: map[string]int{}}
	again := func(m *drive.Machine) (*drive.Machine, error) {
		d := m.Drive
		change(&d)
		return d.Resolve()
	}
	var err error
	if out.Nominal, err = again(s.Nominal); err != nil {
		return nil, err
	}
	var mu sync.Mutex
	Parallel(len(s.Machines), func(i int) {
		if s.Machines[i] == nil {
			return
		}
		m, err := again(s.Machines[i])
		if err != nil {
			mu.Lock()
			out.Failed[Kind(err)]++
			mu.Unlock()
			return
		}
		out.Machines[i] = m
	})
	return out, nil
}

// Kind names the kind of a solve's error for counting.
func Kind(err error) string {
	var u *drive.Unmet
	if errors.As(err, &u) {
		return u.Reason.String()
	}
	return "other"
}

// Parallel calls f for 0 … n−1 on as many goroutines as there are processors.
func Parallel(n int, f func(i int)) { numeric.Parallel(n, f) }

// Uniform returns n points in (0, 1)^k of a Latin hypercube: each input is cut into n equal
// slices and each slice is used once. It is the same for a given seed. (It was held against
// scrambled Halton points at 28 inputs and 512 draws and won; see TestLatinHypercubeAgainstHalton.)
func Uniform(n, k int, seed uint64) [][]float64 {
	rng := rand.New(rand.NewPCG(seed, 0x6a6574))
	flat := make([]float64, n*k)
	u := make([][]float64, n)
	for i := range u {
		u[i] = flat[i*k : (i+1)*k]
	}
	perm := make([]int, n)
	for j := range k {
		for i := range perm {
			perm[i] = i
		}
		rng.Shuffle(n, func(a, b int) { perm[a], perm[b] = perm[b], perm[a] })
		for i := range n {
			x := rng.Float64()
			u[i][j] = (float64(perm[i]) + math.Max(x, 1e-9)) / float64(n)
		}
	}
	return u
}

// Normal returns n points of k independent standard normal numbers, from the same Latin
// hypercube as Uniform.
func Normal(n, k int, seed uint64) [][]float64 {
	z := Uniform(n, k, seed)
	for _, row := range z {
		for j, x := range row {
			row[j] = distuv.UnitNormal.Quantile(x)
		}
	}
	return z
}

// Result is one condition asked of a sample.
type Result struct {
	Condition drive.Condition
	Nominal   drive.State
	Err       error         // why the nominal drive has no state
	States    []drive.State // of the draws that have one
	Rows      []int         // which draw each state belongs to
	Failed    map[string]int
	Draws     int
}

// DrawTolerance is the share of the demand to which a drawn drive's state is met; what is read
// off the draws is a quantile.
const DrawTolerance = 1e-9

// NearOf returns a rotor speed that drawn drives are near to at a condition, rad/s: that of the first
// that has a state there. A thrust may be met on either side of its peak, so there it is 0.
func NearOf(draws []*drive.Machine, c drive.Condition) float64 {
	if c.Demand == drive.Thrust {
		return 0
	}
	for _, m := range draws {
		if m != nil {
			if s, err := m.Solve(c); err == nil {
				return s.RotorSpeed
			}
		}
	}
	return 0
}

// Solve asks a condition of the nominal machine and of every draw. When only draws fail,
// their reasons are counted; when the nominal drive fails, Err says why.
func (s *Sample) Solve(c drive.Condition) *Result {
	return s.SolveEach(func(*drive.Machine) drive.Condition { return c })
}

// SolveEach asks a condition that may depend on the machine, such as its own duty.
func (s *Sample) SolveEach(at func(*drive.Machine) drive.Condition) *Result {
	r := &Result{Condition: at(s.Nominal), Draws: len(s.Machines), Failed: map[string]int{}}
	r.Nominal, r.Err = s.Nominal.Solve(r.Condition)
	states := make([]drive.State, len(s.Machines))
	errs := make([]error, len(s.Machines))
	near := 0.0
	if r.Err == nil && r.Condition.Demand != drive.Thrust {
		near = r.Nominal.RotorSpeed
	}
	Parallel(len(s.Machines), func(i int) {
		if s.Machines[i] != nil {
			states[i], errs[i] = s.Machines[i].SolveNear(at(s.Machines[i]), near, DrawTolerance)
		}
	})
	for i := range states {
		switch {
		case s.Machines[i] == nil:
		case errs[i] != nil:
			r.Failed[Kind(errs[i])]++
		default:
			states[len(r.Rows)] = states[i]
			r.Rows = append(r.Rows, i)
		}
	}
	for k, n := range s.Failed {
		r.Failed[k] += n
	}
	r.States = states[:len(r.Rows)]
	return r
}

// Figure is a number with its 90 % interval, SI. Without draws low and high are the value.
type Figure struct {
	Value, Low, High float64
}

// Interval shares.
const (
	LowShare, HighShare = 0.05, 0.95
)

// Figure returns a figure of the states with its 90 % interval.
func (r *Result) Figure(f func(*drive.State) float64) Figure {
	return Interval(f(&r.Nominal), r.Column(f))
}

// Column returns a figure of every drawn state.
func (r *Result) Column(f func(*drive.State) float64) []float64 {
	x := make([]float64, len(r.States))
	for i := range r.States {
		x[i] = f(&r.States[i])
	}
	return x
}

// Interval returns a nominal value with the 90 % interval of drawn ones. The interval is
// widened to hold the nominal value if that lies outside of it, as it can for a limit that
// bends one-sidedly.
func Interval(nominal float64, drawn []float64) Figure {
	if len(drawn) == 0 {
		return Figure{nominal, nominal, nominal}
	}
	x := append([]float64(nil), drawn...)
	sort.Float64s(x)
	f := Figure{nominal, numeric.Quantile(x, LowShare), numeric.Quantile(x, HighShare)}
	f.Low, f.High = math.Min(f.Low, nominal), math.Max(f.High, nominal)
	return f
}

// Share is what one input contributes to the doubt about a result.
type Share struct {
	Path  string
	Share float64 // of the variance
}

// heldShare is the relative spread below which a figure counts as held by its condition.
const heldShare = 1e-9

// Contributions returns, largest first, the first-order share of every input in the variance
// of a figure, by rank regression on the draws, and the share that the regression leaves
// unexplained.
func (r *Result) Contributions(s *Sample, f func(*drive.State) float64) (shares []Share, rest float64) {
	n := len(s.Inputs)
	if k := len(s.Design.Uncertain()); n == k+len(s.Design.Holding()) {
		n = k // no figure depends on the others
	}
	places := make([]int, n)
	for j := range places {
		places[j] = j
	}
	return s.contributions(r.Rows, r.Column(f), places)
}

// Contributions is Result.Contributions of any figure: a column of it by the draws that the rows name, and the inputs that enter.
func (s *Sample) Contributions(rows []int, column []float64, enters func(path string) bool) (shares []Share, rest float64) {
	var places []int
	for j, in := range s.Inputs {
		if enters(in.Path) {
			places = append(places, j)
		}
	}
	return s.contributions(rows, column, places)
}

// contributions are those of the inputs at some places.
func (s *Sample) contributions(rows []int, column []float64, places []int) (shares []Share, rest float64) {
	if len(column) < 2*len(places)+2 || len(places) == 0 {
		return nil, 1
	}
	columns := make([][]float64, len(places))
	for j, place := range places {
		columns[j] = make([]float64, len(rows))
		for i, row := range rows {
			columns[j][i] = s.U[row][place]
		}
	}
	low, high, size := math.Inf(1), math.Inf(-1), 0.0
	for _, v := range column {
		low, high, size = math.Min(low, v), math.Max(high, v), math.Max(size, math.Abs(v))
	}
	if !(high-low > heldShare*size) {
		return nil, 1 // the condition holds this figure; what is left is rounding
	}
	x, rest, err := numeric.RankShares(columns, column)
	if err != nil {
		return nil, 1
	}
	for j, place := range places {
		shares = append(shares, Share{s.Inputs[place].Path, x[j]})
	}
	sort.SliceStable(shares, func(a, b int) bool { return shares[a].Share > shares[b].Share })
	return shares, rest
}

// JudgedLimit is a limit held against the spread.
type JudgedLimit struct {
	quantity.Limit
	State  LimitState
	Worst  float64 // the bad end: of the 90 % interval, or for a hazard the worst draw
	Margin float64 // share left at the nominal, of the way from unburdened to the bound
	Bad    float64 // share left at the bad end
}

// LimitState is one of four words.
type LimitState int8

// The four states; the order is the order of severity, in which not judged stands with broken.
const (
	Broken LimitState = iota
	NotJudged
	Near
	Clear
)

func (s LimitState) String() string {
	return [...]string{"broken", "not judged", "near", "clear"}[s]
}

// nearShare is the share that must be left for a limit to be clear.
const nearShare = 0.10

// Limits judges every limit at a result: broken if the nominal is beyond it, near if the bad
// end of the 90 % interval is, or less than a tenth is left. What can hurt people is broken if
// it is beyond its bound with every tolerance at its bad end. Nearest first.
func (r *Result) Limits(s *Sample) []JudgedLimit {
	if r.Err != nil {
		return nil
	}
	nominal := s.Nominal.Limits(nil, r.Nominal)
	drawn := make([][]float64, len(nominal)) // margins
	worst := make([][]float64, len(nominal)) // values
	var buf []quantity.Limit
	for i := range r.States {
		buf = s.Machines[r.Rows[i]].Limits(buf[:0], r.States[i])
		for k := range buf {
			if k < len(nominal) && buf[k].NotJudged == "" {
				drawn[k] = append(drawn[k], buf[k].Margin())
				worst[k] = append(worst[k], buf[k].Value)
			}
		}
	}
	out := make([]JudgedLimit, len(nominal))
	for k, l := range nominal {
		margins, values := drawn[k], worst[k]
		if l.Hazard && l.NotJudged == "" {
			if bad, ok := r.corner(s, k, margins); ok {
				margins, values = append(margins, bad.Margin()), append(values, bad.Value)
			}
		}
		out[k] = judge(l, margins, values)
	}
	sort.SliceStable(out, func(a, b int) bool {
		ra, rb := rank(out[a]), rank(out[b])
		if ra != rb {
			return ra < rb
		}
		return out[a].Bad < out[b].Bad
	})
	return out
}

// rank puts what is broken and what was not judged before the rest.
func rank(l JudgedLimit) int {
	if l.State == Broken {
		return 0
	}
	if l.State == NotJudged {
		return 1
	}
	return 2
}

func judge(l quantity.Limit, margins, values []float64) JudgedLimit {
	j := JudgedLimit{Limit: l, Margin: l.Margin(), Worst: l.Value}
	if l.NotJudged != "" {
		j.State = NotJudged
		return j
	}
	j.Bad = j.Margin
	if len(margins) > 0 {
		x := append([]float64(nil), margins...)
		sort.Float64s(x)
		share := LowShare
		if l.Hazard {
			share = 0
		}
		j.Bad = math.Min(j.Margin, numeric.Quantile(x, share))
		v := append([]float64(nil), values...)
		sort.Float64s(v)
		if l.Sense == quantity.AtMost {
			j.Worst = math.Max(l.Value, numeric.Quantile(v, 1-share))
		} else {
			j.Worst = math.Min(l.Value, numeric.Quantile(v, share))
		}
	}
	switch {
	case j.Margin < 0:
		j.State = Broken
	case l.Hazard && j.Bad < 0:
		j.State = Broken
	case j.Bad < 0 || j.Margin < nearShare:
		j.State = Near
	default:
		j.State = Clear
	}
	return j
}

// corner returns the limits at the bad corner of one of them: every input at the end of its
// tolerance at which the draws say that this limit's margin is smallest.
func (r *Result) corner(s *Sample, k int, margins []float64) (quantity.Limit, bool) {
	n := len(s.Inputs)
	if len(margins) != len(r.Rows) || n == 0 {
		return quantity.Limit{}, false
	}
	const end = 1e-4
	u := make([]float64, n)
	for j := range u {
		sum := 0.0
		for i, row := range r.Rows {
			sum += (s.U[row][j] - 0.5) * margins[i]
		}
		u[j] = end
		if sum < 0 {
			u[j] = 1 - end
		}
	}
	m, err := s.Design.DrawOf(s.Inputs, u).Resolve()
	if err != nil {
		return quantity.Limit{}, false
	}
	state, err := m.Solve(r.Condition)
	if err != nil {
		return quantity.Limit{}, false
	}
	l := m.Limits(nil, state)
	return l[k], true
}
