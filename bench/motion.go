package bench

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/mat"

	"jetwright/numeric"
	"jetwright/quantity"
)

// Motion is what a stand that floats or gives way did while plateaus were held.
type Motion struct {
	SpeedChange float64    // by how much its speed along the pull differs at most between the beginning and the end of a plateau, m/s
	Mass, UMass float64    // that moves with it, and its standard uncertainty, kg
	Pitch       float64    // by how much at most it pitches against the rope, rad
	Period      [2]float64 // least and greatest period of its swing, s; found if both are 0
	Stream      Stream
}

// Stream is water that runs past a stand: its speed is that of the drive through the water.
type Stream struct {
	Known     bool
	Low, High float64 // m/s, positive from ahead as under way
}

// Level is how the water rose and fell over a run.
type Level struct {
	Times, Heights []float64 // s of the run's time, rising, and m over any fixed mark
	UHeight        float64   // standard uncertainty of a height, m
	Pull, UPull    float64   // by how much the pull that is shown grows for a rise of the water, and its standard uncertainty, N/m
	Place          quantity.Place
}

// Rise returns how far the water stands over its first level, m: straight between the times, and as at the
// nearest of them before and after.
func (l Level) Rise(at float64) float64 {
	n := len(l.Times)
	if n == 0 || at <= l.Times[0] {
		return 0
	}
	for i := 1; i < n; i++ {
		if at <= l.Times[i] {
			part := (at - l.Times[i-1]) / (l.Times[i] - l.Times[i-1])
			return l.Heights[i-1] - l.Heights[0] + part*(l.Heights[i]-l.Heights[i-1])
		}
	}
	return l.Heights[n-1] - l.Heights[0]
}

// InertiaForce returns what the mean pull over a plateau is off, in N, where what moves is faster at its end
// than at its beginning.
//
//	F = m·Δv/τ
//
//	m   mass that moves, with the water that moves with it, kg
//	Δv  change of its speed along the pull, m/s
//	τ   length of the plateau, s
//
// Exact, since the mean of m·dv/dt over the plateau is that; how the speed changes between does not matter.
//
// Source: own. Tests: TestMotionExact.
func InertiaForce(mass, change, duration float64) float64 { return mass * change / duration }

// PitchUncertainty returns the standard uncertainty in N of a pull along the thrust, where the stand may
// pitch to either side of the rope's angle.
//
//	u = F·√(sin²α·a²/3 + cos²α·a⁴/20)
//
//	F  pull along the rope, N;  α  angle of the rope against the thrust, rad
//	a  half-width of the limits of the pitch, rad
//
// The root mean square of F·cos(α + θ) − F·cos α to second order, θ evenly within ± a. A float that
// is pulled trims and stays trimmed, so it moves all plateaus together. Holds to 1 % up to 0.3 rad.
//
// Source: own. Tests: TestMotionExact.
func PitchUncertainty(pull, angle, pitch float64) float64 {
	s, c := math.Sincos(angle)
	return math.Abs(pull) * math.Sqrt(s*s*pitch*pitch/3+c*c*math.Pow(pitch, 4)/20)
}

// BuoyancyPull returns by how much the pull of an arm on a pivot grows for a rise of the water, in N/m.
//
//	k = ρ·g·A·x/b
//
//	ρ  density of the water, kg/m³;  g  gravity, m/s²
//	A  area that arm and drive cut out of the water's surface, m²
//	x  horizontal distance of its middle from the pivot, m, positive where lift adds to the pull
//	b  height between pivot and rope, m
//
// Holds for straight sides over the rise. A carriage's rollers take all lift, and its rope feels none.
//
// Source: own. Tests: TestMotionExact.
func BuoyancyPull(density, gravity, area, lever, rope float64) float64 {
	return density * gravity * area * lever / rope
}

// ArmLever returns the thrust of an arm on a pivot over the pull along it, and its standard uncertainty.
//
//	T/F = b/a,  b = |h_p − h_r|,  a = |h_p − h_j|,
//	u² = (b/a)²·[((1/b − 1/a)·u_p)² + (u_r/b)² + (u_j/a)²], b and a with their signs
//
//	h_p, h_r, h_j  heights of pivot, rope and jet, m;  u  their standard uncertainties, m
//
// Holds for an arm that hangs straight down while it pulls. The error says that one of the levers is none.
//
// Source: own; jcgm-100, 5.1.2. Tests: TestMotionExact.
func ArmLever(pivot, rope, jet, uPivot, uRope, uJet float64) (lever, u float64, err error) {
	b, a := pivot-rope, pivot-jet
	if math.Abs(b) < leverLeast || math.Abs(a) < leverLeast {
		return 0, 0, errors.New("the rope or the jet is at the height of the pivot")
	}
	lever = math.Abs(b / a)
	return lever, lever * math.Hypot((1/b-1/a)*uPivot, math.Hypot(uRope/b, uJet/a)), nil
}

// leverLeast is the least lever at a pivot, m: less holds nothing, and is a slip of the pen.
const leverLeast = 1e-3

// Rules of a swing. Our own.
const (
	swingPeriods = 3.0  // whole periods that a stretch must hold for a swing to be found
	swingShort   = 5.0  // blocks, the shortest period
	swingShare   = 0.5  // of the scatter that one period must explain
	swingTyped   = 0.25 // the same, where the period is typed
	swingNear    = 0.7  // of that share, at the line next to the best period
)

// sway is a pull that goes to and fro about its mean.
type sway struct {
	period, amplitude float64 // s, SI
}

// swingMean returns the mean of a pull that swings, as over whole periods.
//
//	x(t) = x̄ + a·cos ωt + b·sin ωt + e,  u(x̄) = s_e·√(τ_e·(XᵀX)⁻¹₁₁)
//
//	s_e, τ_e  standard deviation of what is left and how long it hangs together;  X  rows (1, cos ωt, sin ωt) and the derivative by ω
//
// Where the stretch holds whole periods this is the plain mean; where it does not, the part of a period
// left over is taken out. A swing is seen where one period explains half of the scatter
// and the stretch holds three; where its period is typed, a quarter and one.
//
// Source: own. Tests: TestSwingSynthetic, TestSwingLaw.
func swingMean(values []float64, at []int, step float64, typed [2]float64) (mean, sway, bool) {
	n := len(values)
	if n < 2*segmentLeast {
		return mean{}, sway{}, false
	}
	length := float64(at[n-1]-at[0]+1) * step
	low, high, share := swingShort*step, length/swingPeriods, swingShare
	if typed[1] > 0 {
		low, high, share = math.Max(low, typed[0]), math.Min(typed[1], length), swingTyped
	}
	if !(high >= low) {
		return mean{}, sway{}, false
	}
	_, sd := numeric.MeanSD(values)
	total := sd * sd * float64(n-1)
	if !(total > 0) {
		return mean{}, sway{}, false
	}
	omega := strongest(values, at, step, 2*math.Pi/high, 2*math.Pi/low)
	// A line next to the best frequency explains nearly as much.
	if f, ok := fitSwing(values, at, step, omega, false); !ok || f.squares > (1-swingNear*share)*total {
		return mean{}, sway{}, false
	}
	// Between the neighbours of the strongest frequency the best fit is found by halving thirds.
	from, to := math.Max(omega-math.Pi/length, 2*math.Pi/high), math.Min(omega+math.Pi/length, 2*math.Pi/low)
	left := func(w float64) float64 {
		if f, ok := fitSwing(values, at, step, w, false); ok {
			return f.squares
		}
		return math.Inf(1)
	}
	for range 24 {
		a, b := from+(to-from)/3, to-(to-from)/3
		if left(a) < left(b) {
			to = b
		} else {
			from = a
		}
	}
	omega = 0.5 * (from + to)
	f, ok := fitSwing(values, at, step, omega, true)
	if !ok || f.squares > (1-share)*total || n < 8 {
		return mean{}, sway{}, false
	}
	m := mean{value: f.mean, n: float64(n), sd: math.Sqrt(f.squares / float64(n-4))}
	tau := float64(n) / numeric.EffectiveSize(f.rest)
	m.effective = math.Max(1, math.Min(float64(n-4), 1/(f.gain*tau)))
	return m, sway{2 * math.Pi / omega, f.amplitude}, true
}

// strongest is the angular frequency between two at which a series swings most, 0 if there is none.
func strongest(values []float64, at []int, step, low, high float64) float64 {
	// Padded to four times its length, so that no frequency lies far from a line.
	n := at[len(at)-1] - at[0] + 1
	x := make([]float64, 4*n)
	m, _ := numeric.MeanSD(values)
	for i, v := range values {
		x[at[i]-at[0]] = v - m
	}
	c := fourier.NewFFT(len(x)).Coefficients(nil, x)
	best, omega := 0.0, 0.0
	for k := range c {
		w := 2 * math.Pi * float64(k) / (float64(len(x)) * step)
		if p := real(c[k])*real(c[k]) + imag(c[k])*imag(c[k]); w >= low*(1-1e-9) && w <= high*(1+1e-9) && p > best {
			best, omega = p, w
		}
	}
	if omega == 0 { // a narrow typed band may lie between two lines
		return 0.5 * (low + high)
	}
	return omega
}

type swingFit struct {
	mean, amplitude, squares, gain float64
	rest                           []float64
}

// fitSwing fits a mean and a swing of one frequency, and says what the mean is worth if that is asked for.
func fitSwing(values []float64, at []int, step, omega float64, worth bool) (swingFit, bool) {
	n := len(values)
	rows := mat.NewDense(n, 3, nil)
	for i, k := range at {
		s, c := math.Sincos(omega * step * float64(k-at[0]))
		rows.SetRow(i, []float64{1, c, s})
	}
	normal := mat.NewSymDense(3, nil)
	normal.SymOuterK(1, rows.T())
	var chol mat.Cholesky
	if !chol.Factorize(normal) {
		return swingFit{}, false
	}
	var right, b mat.VecDense
	right.MulVec(rows.T(), mat.NewVecDense(n, values))
	if err := chol.SolveVecTo(&b, &right); err != nil {
		return swingFit{}, false
	}
	f := swingFit{mean: b.AtVec(0), amplitude: math.Hypot(b.AtVec(1), b.AtVec(2)), rest: make([]float64, n)}
	for i, v := range values {
		f.rest[i] = v - rows.At(i, 0)*b.AtVec(0) - rows.At(i, 1)*b.AtVec(1) - rows.At(i, 2)*b.AtVec(2)
		f.squares += f.rest[i] * f.rest[i]
	}
	if !worth {
		return f, true
	}
	// The period was found from the same values: its column counts in what the mean is worth.
	full := mat.NewDense(n, 4, nil)
	length := step * float64(at[n-1]-at[0])
	for i, k := range at {
		t := step * float64(k-at[0])
		full.SetRow(i, []float64{1, rows.At(i, 1), rows.At(i, 2), (b.AtVec(2)*rows.At(i, 1) - b.AtVec(1)*rows.At(i, 2)) * t / (length * math.Hypot(b.AtVec(1), b.AtVec(2)))})
	}
	four := mat.NewSymDense(4, nil)
	four.SymOuterK(1, full.T())
	inverse := mat.NewSymDense(4, nil)
	if !chol.Factorize(four) {
		return swingFit{}, false
	}
	if err := chol.InverseTo(inverse); err != nil {
		return swingFit{}, false
	}
	f.gain = inverse.At(0, 0)
	return f, true
}

// inertia is the line of a budget for a stand that gathers speed.
func (r *reducer) inertia(duration float64) (Component, bool) {
	m := r.Motion
	if !(m.SpeedChange > 0) || !(duration > 0) {
		return Component{}, false
	}
	most := InertiaForce(math.Hypot(m.Mass, m.UMass), m.SpeedChange, duration)
	return Component{
		Name: "inertia", Rectangle: true, U: most / math.Sqrt(3), Freedom: math.Inf(1),
		Note: fmt.Sprintf("up to %.2g N: %.3g kg gaining or losing up to %.2g m/s over %.0f s", most, m.Mass, m.SpeedChange, duration),
	}, true
}
