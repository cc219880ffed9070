package heat

import (
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"jetwright/numeric"
	"jetwright/quantity"
)

// Trace is a temperature over time, with the heat that drove it if that is known.
type Trace struct {
	Times        []float64 // s, rising
	Temperatures []float64 // any zero
	Heat         []float64 // W at each time, straight between; nil where nothing but the start drives the change
	Scatter      float64   // standard deviation of a reading, if known; 0 takes it from what is left over
	Step         float64   // smallest step of the instrument
}

// Shape is what is fitted to a trace.
type Shape struct {
	Terms int  // time constants, 1 to 3
	Still bool // without heat only: the trace ends at nothing but zero, no constant
	Moved bool // with heat only: it did not begin at rest, so that each term has a start of its own
}

// Term is one exponential of a response.
type Term struct {
	TimeConstant float64           `unit:"s" doc:"time constant"`
	Error        float64           `unit:"s" doc:"standard error of the time constant, as if all were linear"`
	Low          quantity.Optional `unit:"s" doc:"lowest time constant that fits (5 %); not set if nothing bounds it"`
	High         quantity.Optional `unit:"s" doc:"highest time constant that fits (95 %); not set if nothing bounds it: the record is too short for it"`
	Amplitude    float64           `unit:"1" doc:"without heat: its share at the start, in the trace's unit; with heat: its rise by watt"`
	AmplitudeErr float64           `unit:"1" doc:"standard error of the amplitude"`
	Start        float64           `unit:"1" doc:"with heat, where it did not begin at rest: its share at the start, in the trace's unit"`
}

// Response is a fit of exponentials to a trace. Terms are in the order of their time constants.
type Response struct {
	Base       float64 // constant: without heat where the trace ends, with heat where it would stay without any
	BaseError  float64
	Terms      []Term
	Scatter    float64       // standard deviation of what is left over
	Parameters []float64     // base if any, amplitudes, starts if any, ln of the time constants, as found
	Covariance *mat.SymDense // of the parameters
	Variance   float64       // of a reading, as the errors take it
	Span       float64       // s of the trace
}

// Determined tells whether every time constant is bounded on both sides by the trace itself, to within a factor of
// three. What is not determined must not be drawn out beyond the trace.
func (r *Response) Determined() bool {
	for _, t := range r.Terms {
		if !t.Low.Set || !t.High.Set || t.High.Value > 3*t.Low.Value {
			return false
		}
	}
	return true
}

// Errors of a trace.
var (
	ErrTrace = errors.New("a trace has times that rise, one temperature for each, and a heat for each or none, all finite")
	ErrShape = errors.New("a response has 1 to 3 terms")
)

// Rules of the fit. Our own.
const (
	responseGrid   = 14                 // time constants that a search begins with
	responseStarts = 4                  // best of their combinations that are followed
	responseZ      = 1.6448536269514722 // 90 % of a normal
	profileEnough  = 1e-8               // share of the sum of squares that no longer matters in a profile, whose bound is some per cent above the least
	responseFar    = 100.0              // spans beyond which a time constant is said to be unbounded
)

// responder is a fit under way.
type responder struct {
	t, y, p       []float64
	shape         Shape
	columns       int // linear ones
	phi, dphi     [][]float64
	decay, ddecay [][]float64
	rise          [][]float64 // 1 − decay
	taus          []float64
	filled        bool
	scale         []float64 // τ over the span, by which columns are multiplied in a search
	span          float64
	// In a search a column is (1 − e^(−t/τ))·τ/span in place of e^(−t/τ), and heat's likewise: a time constant
	// without end then makes a straight line, not a second constant.
	scaled bool
}

// apart tells whether the exponentials stand beside a constant.
func (r *responder) apart() bool { return r.p != nil || !r.shape.Still }

func newResponder(tr Trace, s Shape) *responder {
	r := &responder{t: tr.Times, y: tr.Temperatures, p: tr.Heat, shape: s, columns: s.Terms, taus: make([]float64, s.Terms), scale: make([]float64, s.Terms), span: tr.Times[len(tr.Times)-1] - tr.Times[0]}
	if tr.Heat != nil || !s.Still {
		r.columns++
	}
	if tr.Heat != nil && s.Moved {
		r.columns += s.Terms
	}
	for range s.Terms {
		r.phi, r.dphi = append(r.phi, make([]float64, len(r.t))), append(r.dphi, make([]float64, len(r.t)))
		r.decay, r.ddecay = append(r.decay, make([]float64, len(r.t))), append(r.ddecay, make([]float64, len(r.t)))
		r.rise = append(r.rise, make([]float64, len(r.t)))
	}
	return r
}

// fill works the exponentials and their derivatives by ln τ out for time constant k.
func (r *responder) fill(k int, tau float64) {
	if r.filled && r.taus[k] == tau {
		return
	}
	r.taus[k], r.scale[k] = tau, tau/r.span
	t0 := r.t[0]
	for i, t := range r.t {
		a := (t - t0) / tau
		e := math.Exp(-a)
		r.decay[k][i], r.ddecay[k][i], r.rise[k][i] = e, a*e, -math.Expm1(-a)
	}
	if r.p == nil {
		return
	}
	phi, d := 0.0, 0.0
	r.phi[k][0], r.dphi[k][0] = 0, 0
	for i := 1; i < len(r.t); i++ {
		dt := r.t[i] - r.t[i-1]
		a := dt / tau
		e, rest := math.Exp(-a), -math.Expm1(-a)
		de := e * a // by ln τ
		slope := (r.p[i] - r.p[i-1]) / dt
		d = d*e + (phi-r.p[i-1])*de + slope*tau*(de-rest)
		phi = phi*e + r.p[i-1]*rest + slope*(dt-tau*rest)
		r.phi[k][i], r.dphi[k][i] = phi, d
	}
}

func (r *responder) fillAll(logs []float64) {
	for k, x := range logs {
		r.fill(k, math.Exp(x))
	}
	r.filled = true
}

// column is linear column j at row i, and its derivative by the ln τ it belongs to, k; −1 for the constant.
func (r *responder) column(j, i int) (x, d float64, k int) {
	if r.apart() {
		if j == 0 {
			return 1, 0, -1
		}
		j--
	}
	k = j % r.shape.Terms
	switch {
	case r.p != nil && j < r.shape.Terms:
		x, d = r.phi[k][i], r.dphi[k][i]
	case r.scaled && r.apart():
		x, d = r.rise[k][i], -r.ddecay[k][i]
	default:
		x, d = r.decay[k][i], r.ddecay[k][i]
	}
	if r.scaled && r.apart() {
		x, d = x*r.scale[k], (x+d)*r.scale[k]
	}
	return x, d, k
}

// plain turns linear parameters of a search into those of the formula, at the present time constants.
func (r *responder) plain(p []float64) {
	if !r.apart() {
		return
	}
	n := r.shape.Terms
	for j := 1; j < r.columns; j++ {
		k := (j - 1) % n
		p[j] *= r.scale[k]
		if r.p == nil || j > n {
			p[0] += p[j]
			p[j] = -p[j]
		}
	}
}

// linear solves the linear parameters at the present time constants by normal equations, good enough for a start, and
// returns the sum of squares.
func (r *responder) linear(dst []float64) (float64, bool) {
	n := r.columns
	lu := numeric.NewLU(n)
	m := lu.Matrix()
	row := make([]float64, n)
	for j := range dst {
		dst[j] = 0
	}
	for i, y := range r.y {
		for j := range row {
			row[j], _, _ = r.column(j, i)
			dst[j] += row[j] * y
			for k := range j + 1 {
				m[j*n+k] += row[j] * row[k]
			}
		}
	}
	for j := range n {
		for k := range j {
			m[k*n+j] = m[j*n+k]
		}
	}
	if !lu.Factor() {
		return 0, false
	}
	lu.Solve(dst)
	sum := 0.0
	for i, y := range r.y {
		for j, b := range dst {
			x, _, _ := r.column(j, i)
			y -= b * x
		}
		sum += y * y
	}
	return sum, finite(sum)
}

// problem is the fit with time constant held at its place fixed, or none with −1.
func (r *responder) problem(fixed int, at float64) numeric.Problem {
	n, c := r.shape.Terms, r.columns
	logs := make([]float64, n)
	free := n
	if fixed >= 0 {
		free--
	}
	take := func(p []float64) {
		k := c
		for i := range logs {
			if i == fixed {
				logs[i] = at
				continue
			}
			logs[i] = p[k]
			k++
		}
		r.fillAll(logs)
	}
	return numeric.Problem{
		Parameters: c + free, Residuals: len(r.y),
		Residual: func(dst, p []float64) error {
			take(p)
			for i, y := range r.y {
				s := -y
				for j := range c {
					x, _, _ := r.column(j, i)
					s += p[j] * x
				}
				dst[i] = s
			}
			return nil
		},
		Jacobian: func(dst *mat.Dense, p []float64) error {
			take(p)
			for i := range r.y {
				for k := range free {
					dst.Set(i, c+k, 0)
				}
				for j := range c {
					x, d, k := r.column(j, i)
					dst.Set(i, j, x)
					if k < 0 || k == fixed {
						continue
					}
					if fixed >= 0 && k > fixed {
						k--
					}
					dst.Set(i, c+k, dst.At(i, c+k)+p[j]*d)
				}
			}
			return nil
		},
	}
}

// FitResponse fits exponentials to a trace.
//
//	without heat: T(t) = c + Σ A_k·e^(−t/τ_k)
//	with heat:    T(t) = c + Σ R_k·∫ P(s)·e^(−(t−s)/τ_k)/τ_k ds  [+ Σ B_k·e^(−t/τ_k)]
//
//	c    constant; A_k, B_k shares at the start, in the trace's unit
//	R_k  rise by watt of a term, K/W; their sum is the thermal resistance
//	τ_k  time constants, s
//	P    heat, W, straight between its values
//
// The best of a grid of time constants, with the linear parameters solved at each, are followed by
// Levenberg and Marquardt's method with exact derivatives. The interval of each time constant is that of its
// profile: those at which the squares of the best fit with that time constant held stay within the 90 % bound. Neighbours that err
// alike widen it. A time constant that the record is too short for has no upper end, and is itself at most a hundred records long.
//
// Holds for a linear chain of heat capacities whose cooling stays.
//
// Source: own, nist-strd. Tests: TestResponseNISTPublished, TestResponsePublished, TestResponseDrivenExact.
func FitResponse(tr Trace, s Shape) (*Response, error) {
	n := len(tr.Times)
	if s.Terms < 1 || s.Terms > 3 {
		return nil, ErrShape
	}
	if len(tr.Temperatures) != n || tr.Heat != nil && len(tr.Heat) != n || n < 3 {
		return nil, ErrTrace
	}
	least := math.Inf(1)
	for i := range n {
		if !finite(tr.Times[i]) || !finite(tr.Temperatures[i]) || tr.Heat != nil && !finite(tr.Heat[i]) || i > 0 && !(tr.Times[i] > tr.Times[i-1]) {
			return nil, ErrTrace
		}
		if i > 0 {
			least = math.Min(least, tr.Times[i]-tr.Times[i-1])
		}
	}
	r := newResponder(tr, s)
	if n < r.columns+s.Terms {
		return nil, numeric.ErrTooFewPoints
	}
	span := tr.Times[n-1] - tr.Times[0]
	r.scaled = true
	best, err := r.search(least, span)
	if err != nil {
		return nil, err
	}
	return r.report(tr, best, span)
}

// search begins at the best of a grid.
func (r *responder) search(least, span float64) (*numeric.Solution, error) {
	type start struct {
		squares float64
		p       []float64
	}
	var starts []start
	low, high := math.Log(math.Min(0.5*least, span/50)), math.Log(4*span)
	low = math.Max(low, math.Log(span/5000))
	logs := make([]float64, r.shape.Terms)
	linear := make([]float64, r.columns)
	var walk func(k, from int)
	walk = func(k, from int) {
		if k == len(logs) {
			r.fillAll(logs)
			if sum, ok := r.linear(linear); ok {
				starts = append(starts, start{sum, append(append([]float64(nil), linear...), logs...)})
			}
			return
		}
		for g := from; g < responseGrid; g++ {
			logs[k] = low + (high-low)*float64(g)/(responseGrid-1)
			walk(k+1, g+1)
		}
	}
	walk(0, 0)
	slices.SortStableFunc(starts, func(a, b start) int {
		switch {
		case a.squares < b.squares:
			return -1
		case a.squares > b.squares:
			return 1
		}
		return 0
	})
	var best *numeric.Solution
	failed := numeric.ErrSingular
	for i, st := range starts {
		if i == responseStarts {
			break
		}
		rough := r.problem(-1, 0)
		rough.Enough = profileEnough
		sol, err := numeric.LevenbergMarquardt(rough, st.p)
		far := math.Log(responseFar * span)
		if err != nil || slices.Max(sol.Parameters[r.columns:]) > far {
			sol, err = r.held(st.p, far)
		}
		if err != nil {
			failed = err
			continue
		}
		if best == nil || sol.SumOfSquares < best.SumOfSquares {
			best = sol
		}
	}
	if best == nil {
		return nil, failed
	}
	if fine, err := numeric.LevenbergMarquardt(r.problem(-1, 0), best.Parameters); err == nil && fine.SumOfSquares <= best.SumOfSquares && slices.Max(fine.Parameters[r.columns:]) <= math.Log(responseFar*span) {
		best = fine
	}
	return best, nil
}

// held fits with the slowest time constant at the far end, where the trace is too short to bend for it.
func (r *responder) held(start []float64, far float64) (*numeric.Solution, error) {
	c, n := r.columns, r.shape.Terms
	k := n - 1 // a start has them in their order
	p := slices.Delete(slices.Clone(start), c+k, c+k+1)
	sol, err := numeric.LevenbergMarquardt(r.problem(k, far), p)
	if err != nil {
		return nil, err
	}
	sol.Parameters = slices.Insert(sol.Parameters, c+k, far)
	return sol, nil
}

func (r *responder) report(tr Trace, sol *numeric.Solution, span float64) (*Response, error) {
	n, c, rows := r.shape.Terms, r.columns, len(r.y)
	out := &Response{Scatter: sol.ResidualSD, Span: span}
	free := float64(rows - c - n)
	left := make([]float64, rows)
	if err := r.problem(-1, 0).Residual(left, sol.Parameters); err != nil {
		return nil, err
	}
	variance := tr.Scatter * tr.Scatter
	if variance == 0 {
		if free > 0 {
			variance = sol.SumOfSquares / free
		}
		variance = math.Max(variance, tr.Step*tr.Step/12)
		rho := math.Max(0, math.Min(0.95, numeric.Autocorrelation(left, 1)))
		variance *= (1 + rho) / (1 - rho)
	}
	r.scaled = false
	r.fillAll(sol.Parameters[c:])
	plain := slices.Clone(sol.Parameters)
	r.plain(plain)
	jac := mat.NewDense(rows, c+n, nil)
	full := r.problem(-1, 0)
	if err := full.Jacobian(jac, plain); err != nil {
		return nil, err
	}
	// Squares are flat at their least and say nothing about the last digits of the parameters; a step of Gauss and
	// Newton, square to the residuals, does.
	for turn := 0; turn < 8 && slices.Max(plain[c:]) < math.Log(span); turn++ {
		if err := full.Residual(left, plain); err != nil {
			return nil, err
		}
		step, err := numeric.Linear(jac, left)
		if err != nil {
			break
		}
		for j, d := range step.Parameters {
			plain[j] -= d
		}
		if err := full.Jacobian(jac, plain); err != nil {
			return nil, err
		}
	}
	cov, err := numeric.Covariance(jac)
	if err != nil {
		return nil, err
	}
	cov.ScaleSym(variance, cov)
	out.Parameters, out.Covariance, out.Variance = plain, cov, variance
	r.scaled = true
	errorOf := func(j int) float64 { return math.Sqrt(cov.At(j, j)) }
	first := 0
	if r.p != nil || !r.shape.Still {
		out.Base, out.BaseError = plain[0], errorOf(0)
		first = 1
	}
	order := make([]int, n)
	for k := range order {
		order[k] = k
	}
	slices.SortFunc(order, func(a, b int) int {
		if sol.Parameters[c+a] < sol.Parameters[c+b] {
			return -1
		}
		return 1
	})
	for _, k := range order {
		tau := math.Exp(sol.Parameters[c+k])
		t := Term{TimeConstant: tau, Error: tau * errorOf(c+k), Amplitude: plain[first+k], AmplitudeErr: errorOf(first + k)}
		if r.p != nil && r.shape.Moved {
			t.Start = plain[first+n+k]
		}
		bound := sol.SumOfSquares + responseZ*responseZ*variance
		t.Low = r.profile(sol, k, -1, errorOf(c+k), bound, span)
		t.High = r.profile(sol, k, 1, errorOf(c+k), bound, span)
		out.Terms = append(out.Terms, t)
	}
	return out, nil
}

// profile goes out from the best time constant k until its best fit crosses the bound.
func (r *responder) profile(sol *numeric.Solution, k int, way, size, bound, span float64) quantity.Optional {
	c, n := r.columns, r.shape.Terms
	from := sol.Parameters[c+k]
	start := make([]float64, 0, c+n-1)
	start = append(start, sol.Parameters[:c]...)
	for i := range n {
		if i != k {
			start = append(start, sol.Parameters[c+i])
		}
	}
	squares := func(at float64) float64 { // best with ln τ_k held
		held := r.problem(k, at)
		held.Enough = profileEnough
		s, err := numeric.LevenbergMarquardt(held, start)
		if err != nil {
			return math.Inf(1)
		}
		copy(start, s.Parameters)
		return s.SumOfSquares
	}
	far := math.Log(responseFar * span)
	if way < 0 {
		far = math.Log(span * 1e-6)
	}
	step := math.Max(size, 1e-9)
	if !finite(step) || step > 0.5 {
		step = 0.5
	}
	in, outside := from, from
	for {
		outside = in + way*step
		if (outside-far)*way >= 0 {
			return quantity.Optional{}
		}
		if squares(outside) > bound {
			break
		}
		in = outside
		step = math.Min(1.6*step, 0.5)
	}
	for range 14 {
		mid := 0.5 * (in + outside)
		if squares(mid) > bound {
			outside = mid
		} else {
			in = mid
		}
	}
	return quantity.Some(math.Exp(0.5 * (in + outside)))
}
