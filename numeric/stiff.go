package numeric

import (
	"errors"
	"math"
)

// Stiff is a set of equations M·dy/dt = f(t, y) with a mass for each unknown. An unknown of mass
// zero is algebraic: its row says 0 = f.
type Stiff interface {
	// Rate writes f.
	Rate(dst, y []float64, t float64)
	// Slope writes the derivatives of f by y, row by row.
	Slope(dst, y []float64, t float64)
	// Linear tells that f is linear in y, so that a stage needs no second look.
	Linear() bool
}

// StiffStages is how many stages a step has. The first is the end of the step before.
const StiffStages = 6

// The method is ARK4(3)6L[2]SA, implicit part: order 4 with an error estimate of order 3, L-stable,
// the last stage is the end of the step. All order conditions are tested.
const stiffGamma = 0.25

var (
	stiffTimes = [StiffStages]float64{0, 1.0 / 2, 83.0 / 250, 31.0 / 50, 17.0 / 20, 1}
	stiffA     = [StiffStages][StiffStages]float64{
		{},
		{1.0 / 4, 1.0 / 4},
		{8611.0 / 62500, -1743.0 / 31250, 1.0 / 4},
		{5012029.0 / 34652500, -654441.0 / 2922500, 174375.0 / 388108, 1.0 / 4},
		{15267082809.0 / 155376265600, -71443401.0 / 120774400, 730878875.0 / 902184768, 2285395.0 / 8070912, 1.0 / 4},
		{82889.0 / 524892, 0, 15625.0 / 83664, 69875.0 / 102672, -2260.0 / 8211, 1.0 / 4},
	}
	stiffEmbedded = [StiffStages]float64{4586570599.0 / 29645900160, 0, 178811875.0 / 945068544, 814220225.0 / 1159782912, -3700637.0 / 11593932, 61727.0 / 225920}
)

// ErrStiffStart tells that the algebraic unknowns could not be solved at the start of a piece.
var ErrStiffStart = errors.New("the algebraic unknowns cannot be solved at the start")

// StiffStepper steps a Stiff. It allocates only when it is made.
type StiffStepper struct {
	// Floor is the change of an unknown below which a stage of equations that are not linear
	// has been solved, in the unknown's unit.
	Floor float64

	n          int
	mass       []float64
	lu         *LU
	slope      []float64
	haveSlope  bool
	factored   float64 // step that lu was split for; 0 for none
	k          [StiffStages][]float64
	y          [StiffStages][]float64
	work, sum  []float64
	t, h       float64
	algebraic  []int
	small      *LU
	smallRight []float64
	Factored   int // how often the matrix was split
}

// NewStiffStepper makes room for unknowns of the given masses.
func NewStiffStepper(mass []float64) *StiffStepper {
	n := len(mass)
	s := &StiffStepper{Floor: 1e-10, n: n, mass: append([]float64(nil), mass...), lu: NewLU(n), slope: make([]float64, n*n), work: make([]float64, n), sum: make([]float64, n)}
	for i := range s.k {
		s.k[i], s.y[i] = make([]float64, n), make([]float64, n)
	}
	for i, m := range mass {
		if m == 0 {
			s.algebraic = append(s.algebraic, i)
		}
	}
	s.small, s.smallRight = NewLU(len(s.algebraic)), make([]float64, len(s.algebraic))
	return s
}

// SetMass changes the masses; what is algebraic has to stay so.
func (s *StiffStepper) SetMass(mass []float64) {
	copy(s.mass, mass)
	s.Forget()
}

// Forget tells that the slopes have changed.
func (s *StiffStepper) Forget() { s.haveSlope, s.factored = false, 0 }

// Time is the time that has been reached.
func (s *StiffStepper) Time() float64 { return s.t }

// Start puts the stepper at a point at which something jumped: the algebraic unknowns are solved
// anew, and so are the slopes of all.
func (s *StiffStepper) Start(p Stiff, t float64, y []float64) error {
	s.t = t
	s.Forget()
	last := s.y[StiffStages-1]
	copy(last, y[:s.n])
	na := len(s.algebraic)
	for turn := 0; na > 0; turn++ {
		p.Rate(s.work, last, t)
		if !s.splitAlgebraic(p, last, t) {
			return ErrStiffStart
		}
		for i, row := range s.algebraic {
			s.smallRight[i] = -s.work[row]
		}
		s.small.Solve(s.smallRight)
		moved := 0.0
		for i, row := range s.algebraic {
			last[row] += s.smallRight[i]
			moved = math.Max(moved, math.Abs(s.smallRight[i]))
		}
		if p.Linear() && turn > 0 || moved < s.Floor {
			break
		}
		if turn > 60 || math.IsNaN(moved) || math.IsInf(moved, 0) {
			return ErrStiffStart
		}
	}
	s.slopes(p)
	return nil
}

func (s *StiffStepper) splitAlgebraic(p Stiff, y []float64, t float64) bool {
	p.Slope(s.slope, y, t)
	m := s.small.Matrix()
	na := len(s.algebraic)
	for i, row := range s.algebraic {
		for j, col := range s.algebraic {
			m[i*na+j] = s.slope[row*s.n+col]
		}
	}
	return s.small.Factor()
}

// slopes fills the last stage's dy/dt: of the algebraic unknowns by what their equation has to
// keep, with f taken as not depending on time by itself.
func (s *StiffStepper) slopes(p Stiff) {
	k, y := s.k[StiffStages-1], s.y[StiffStages-1]
	p.Rate(s.work, y, s.t)
	for i, m := range s.mass {
		k[i] = 0
		if m != 0 {
			k[i] = s.work[i] / m
		}
	}
	if len(s.algebraic) == 0 || !s.splitAlgebraic(p, y, s.t) {
		return
	}
	for i, row := range s.algebraic {
		sum := 0.0
		for j, v := range k {
			sum -= s.slope[row*s.n+j] * v
		}
		s.smallRight[i] = sum
	}
	s.small.Solve(s.smallRight)
	for i, row := range s.algebraic {
		k[row] = s.smallRight[i]
	}
}

// Values are the unknowns at the time that has been reached, and Slopes their dy/dt.
func (s *StiffStepper) Values() []float64 { return s.y[StiffStages-1] }

// Slopes are dy/dt at the time that has been reached.
func (s *StiffStepper) Slopes() []float64 { return s.k[StiffStages-1] }

// Begin turns the end of the last step into the beginning of the next one, which Try may then try
// as often as wanted.
func (s *StiffStepper) Begin() {
	s.y[0], s.y[StiffStages-1] = s.y[StiffStages-1], s.y[0]
	s.k[0], s.k[StiffStages-1] = s.k[StiffStages-1], s.k[0]
}

// Try takes a step from where Begin stood and returns the largest estimated error of an unknown; ok is
// false where a stage was not solved. Neither time nor beginning moves before Accept.
func (s *StiffStepper) Try(p Stiff, h float64) (worst float64, ok bool) { return s.try(p, h, false) }

// Again takes the step of the last Try once more, after f has changed a little.
func (s *StiffStepper) Again(p Stiff) (worst float64, ok bool) { return s.try(p, s.h, true) }

func (s *StiffStepper) try(p Stiff, h float64, again bool) (worst float64, ok bool) {
	n := s.n
	s.h = h
	linear := p.Linear()
	if !linear && !again || !s.haveSlope {
		p.Slope(s.slope, s.y[0], s.t)
		s.haveSlope, s.factored = true, 0
	}
	if s.factored != h {
		m := s.lu.Matrix()
		hg := h * stiffGamma
		for i, v := range s.slope {
			m[i] = -hg * v
		}
		for i, v := range s.mass {
			m[i*n+i] += v
		}
		if !s.lu.Factor() {
			return 0, false
		}
		s.Factored++
		s.factored = h
	}
	for stage := 1; stage < StiffStages; stage++ {
		copy(s.sum, s.y[0])
		row := &stiffA[stage]
		for j := range stage {
			if w := h * row[j]; w != 0 {
				for i, v := range s.k[j] {
					s.sum[i] += w * v
				}
			}
		}
		if !s.stage(p, stage, linear, again) {
			return 0, false
		}
	}
	for i := range n {
		e := 0.0
		for j := range StiffStages {
			e += (stiffA[StiffStages-1][j] - stiffEmbedded[j]) * s.k[j][i]
		}
		e = math.Abs(h * e)
		if e > worst || e != e {
			worst = e
		}
		if e != e {
			return e, false
		}
	}
	return worst, true
}

// stage solves M·k = f(sum + h·γ·k) for k.
func (s *StiffStepper) stage(p Stiff, stage int, linear, again bool) bool {
	t, hg := s.t+stiffTimes[stage]*s.h, s.h*stiffGamma
	k, y := s.k[stage], s.y[stage]
	if linear { // f(sum) at k = 0; the matrix does the rest exactly
		p.Rate(k, s.sum, t)
		s.lu.Solve(k)
		for i, v := range k {
			y[i] = s.sum[i] + hg*v
		}
		return true
	}
	if !again {
		copy(k, s.k[stage-1])
	}
	before := math.Inf(1)
	for turn := range 25 {
		for i, v := range k {
			y[i] = s.sum[i] + hg*v
		}
		p.Rate(s.work, y, t)
		for i, m := range s.mass {
			s.work[i] -= m * k[i]
		}
		s.lu.Solve(s.work)
		moved := 0.0
		for i, v := range s.work {
			k[i] += v
			moved = math.Max(moved, math.Abs(hg*v))
		}
		if math.IsNaN(moved) || moved > 2*before {
			return false
		}
		rate := moved / before // what the next turn would move is the rate's share of this one
		before = moved
		if moved <= s.Floor || turn > 0 && rate < 0.5 && 2*rate*moved <= 0.1*s.Floor {
			for i, v := range k {
				y[i] = s.sum[i] + hg*v
			}
			return true
		}
	}
	return false
}

// Accept moves on to the end of the step that was tried.
func (s *StiffStepper) Accept() { s.t += s.h }

// Integral returns the integral over the step that was tried of what Stages' values are put through,
// by the quadrature of the method: what the equations conserve linearly, it conserves.
//
//	∫g dt = h·Σ bᵢ·g(yᵢ)
//
//	h   the step
//	bᵢ  weights of the stages
//
// Holds at order 4.
//
// Source: kennedy-carpenter-2003. Tests: TestStiffLaw.
func (s *StiffStepper) Integral(g *[StiffStages]float64) float64 {
	sum := 0.0
	for i, v := range g {
		sum += stiffA[StiffStages-1][i] * v
	}
	return s.h * sum
}

// Stage is a stage of the step that was tried: its place within the step from 0 to 1, and the
// unknowns there.
func (s *StiffStepper) Stage(i int) (place float64, y []float64) { return stiffTimes[i], s.y[i] }

// Cubic is one unknown over the step that was tried.
type Cubic struct{ Y0, Y1, S0, S1 float64 } // values at its ends, slopes times the step

// Over returns the cubic of unknown i over the step that was tried, by its values and slopes at both ends.
func (s *StiffStepper) Over(i int) Cubic {
	e := StiffStages - 1
	return Cubic{s.y[0][i], s.y[e][i], s.h * s.k[0][i], s.h * s.k[e][i]}
}

// At returns the value at a place from 0 to 1.
//
//	y = y₀ + u·s₀ + u²·(3Δ − 2s₀ − s₁) + u³·(s₀ + s₁ − 2Δ)
//
//	Δ       y₁ − y₀
//	s₀, s₁  slopes at the ends, times the step
//
// Holds at order 3 between the ends of a step.
//
// Source: own. Tests: TestCubicExact.
func (c Cubic) At(u float64) float64 {
	d := c.Y1 - c.Y0
	return c.Y0 + u*(c.S0+u*(3*d-2*c.S0-c.S1+u*(c.S0+c.S1-2*d)))
}

// turns are the places within 0 and 1 at which the cubic turns, in their order.
func (c Cubic) turns() (at [2]float64, n int) {
	d := c.Y1 - c.Y0
	// slope: a + 2b·u + 3e·u²
	a, b, e := c.S0, 3*d-2*c.S0-c.S1, c.S0+c.S1-2*d
	r := b*b - 3*a*e
	if !(r > 0) {
		return at, 0
	}
	q := -(b + math.Copysign(math.Sqrt(r), b))
	u, v := math.Inf(1), math.Inf(1)
	if e != 0 {
		u = q / (3 * e)
	}
	if q != 0 {
		v = a / q
	}
	for _, x := range [2]float64{math.Min(u, v), math.Max(u, v)} {
		if x > 0 && x < 1 {
			at[n] = x
			n++
		}
	}
	return at, n
}

// Peak returns the highest value from 0 to 1 and its place.
//
//	y(u) at both ends and where dy/du = 0
//
// Holds to rounding.
//
// Source: own. Tests: TestCubicExact.
func (c Cubic) Peak() (value, place float64) {
	value = c.Y0
	if c.Y1 > value {
		value, place = c.Y1, 1
	}
	at, n := c.turns()
	for _, u := range at[:n] {
		if y := c.At(u); y > value {
			value, place = y, u
		}
	}
	return value, place
}

// Rises returns the first place from 0 to 1 at which the cubic comes up to a level from below.
//
//	y(u) = level, u the smallest with y below it just before
//
// Holds to rounding: the turning points of the cubic part it into pieces that rise or fall, and
// the piece is halved down.
//
// Source: own. Tests: TestCubicExact.
func (c Cubic) Rises(level float64) (place float64, ok bool) {
	at, n := c.turns()
	lo := 0.0
	for i := range n + 1 {
		hi := 1.0
		if i < n {
			hi = at[i]
		}
		if c.At(lo) < level && c.At(hi) >= level {
			for range 60 {
				if mid := 0.5 * (lo + hi); c.At(mid) < level {
					lo = mid
				} else {
					hi = mid
				}
			}
			return hi, true
		}
		lo = hi
	}
	return 0, false
}
