package electric

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"jetwright/numeric"
)

// NoLoadPoint is a motor running free: voltage, current and speed of the equivalent
// direct-current motor.
type NoLoadPoint struct {
	Voltage float64 // V
	Current float64 // A
	Speed   float64 // rad/s
}

// noLoadPowers are the powers of the speed that the parts of the no-load loss grow with.
var noLoadPowers = [3]string{"hysteresis and bearings, with the speed", "eddy currents, with its square", "windage, with its cube"}

// NoLoadSplit is the no-load loss split into what grows with the speed (hysteresis, dry
// friction), with its square (eddy currents, viscous friction) and with its cube (windage).
type NoLoadSplit struct {
	Terms       [3]float64 // W·s, W·s², W·s³ by rad/s: P = t₁·ω + t₂·ω² + t₃·ω³
	Uncertainty [3]float64 // standard uncertainties of the terms that were fitted
	Fitted      [3]bool    // terms that the points can tell; the others are in them, not zero
	Low, High   float64    // speeds of the points, rad/s
	Residual    float64    // root mean square of what is left, relative
	// Told says in words what the points could not tell; empty if they told all three.
	Told string
}

// Errors of no-load points.
var (
	ErrNoLoadPoints = errors.New("two or more no-load points at different speeds are needed")
	ErrNoLoadLoss   = errors.New("a no-load point has no loss: its voltage does not cover its current times the winding resistance, or a number is not positive")
)

// SplitNoLoad splits no-load points into parts, given the winding resistance between lines in Ω
// and the relative standard uncertainty of a loss.
//
//	V·I − I²·R = t₁·ω + t₂·ω² + t₃·ω³,  t ≥ 0, least squares of relative residuals
//
//	V, I  voltage and current without load, V, A   [Motor.NoLoadVoltages, Motor.NoLoadCurrents]
//	ω     motor speed, rad/s                       [Motor.NoLoadSpeeds]
//	t     parts of the loss
//
// Holds between the slowest and the fastest point. A term is fitted only where the points carry
// it: two points or speeds less than 1.5 times apart never split off the cube, and a term that
// is not twice its uncertainty is left out and said; its loss is then in the others.
//
// Source: own. Tests: TestSplitNoLoadExact, TestSplitNoLoadLaw, TestSplitNoLoadHonest.
func SplitNoLoad(points []NoLoadPoint, resistance, accuracy float64) (NoLoadSplit, error) {
	s := NoLoadSplit{Low: math.Inf(1)}
	loss := make([]float64, len(points))
	for i, p := range points {
		loss[i] = p.Current * (p.Voltage - p.Current*resistance)
		if !(loss[i] > 0) || !(p.Speed > 0) || math.IsInf(loss[i], 0) || math.IsInf(p.Speed, 0) {
			return s, fmt.Errorf("point %d: %w", i+1, ErrNoLoadLoss)
		}
		s.Low, s.High = math.Min(s.Low, p.Speed), math.Max(s.High, p.Speed)
	}
	distinct := 0
	for i, p := range points {
		fresh := true
		for _, q := range points[:i] {
			fresh = fresh && math.Abs(p.Speed-q.Speed) > 0.02*p.Speed
		}
		if fresh {
			distinct++
		}
	}
	if distinct < 2 {
		return s, ErrNoLoadPoints
	}
	span := s.High / s.Low
	var best *noLoadFit
	for mask := 1; mask < 8; mask++ {
		f := fitNoLoad(points, loss, mask, s.High)
		if f == nil || f.terms > distinct || mask&4 != 0 && (distinct < 3 || span < 1.5) {
			continue
		}
		f.doubt(accuracy, len(points))
		if f.terms > 1 && !f.told() {
			continue
		}
		if best == nil || f.better(best, accuracy) {
			best = f
		}
	}
	if best == nil {
		return s, ErrNoLoadPoints
	}
	for k := range 3 {
		scale := math.Pow(s.High, float64(k+1))
		s.Terms[k], s.Uncertainty[k] = best.t[k]/scale, best.u[k]/scale
		s.Fitted[k] = best.mask&(1<<k) != 0
		if !s.Fitted[k] {
			if s.Told != "" {
				s.Told += "; "
			}
			s.Told += noLoadPowers[k]
		}
	}
	if s.Told != "" {
		s.Told = fmt.Sprintf("%d points over a factor of %.2g in speed show no share of its own for %s; what there is of it is in the rest", len(points), span, s.Told)
	}
	s.Residual = math.Sqrt(best.squares / float64(len(points)))
	return s, nil
}

// noLoadFit is one choice of terms. Speeds are scaled by the highest, so that t is in watts there.
type noLoadFit struct {
	mask, terms int
	t, u        [3]float64
	squares     float64
	covariance  *mat.SymDense // for a scatter of 1
}

// fitNoLoad solves for the terms of a mask; nil where one comes out negative or they cannot be
// told apart at all.
func fitNoLoad(points []NoLoadPoint, loss []float64, mask int, high float64) *noLoadFit {
	f := &noLoadFit{mask: mask}
	var column [3]int
	for k := range 3 {
		if mask&(1<<k) != 0 {
			column[f.terms] = k
			f.terms++
		}
	}
	if f.terms > len(points) {
		return nil
	}
	x, y := mat.NewDense(len(points), f.terms, nil), make([]float64, len(points))
	for i, p := range points {
		y[i] = 1
		for j := range f.terms {
			x.Set(i, j, math.Pow(p.Speed/high, float64(column[j]+1))/loss[i])
		}
	}
	var normal mat.SymDense
	normal.SymOuterK(1, x.T())
	var chol mat.Cholesky
	if !chol.Factorize(&normal) || chol.Cond() > 1e12 {
		return nil
	}
	f.covariance = new(mat.SymDense)
	if err := chol.InverseTo(f.covariance); err != nil {
		return nil
	}
	sol, err := numeric.Linear(x, y)
	if err != nil {
		return nil
	}
	for j := range f.terms {
		f.t[column[j]] = sol.Parameters[j]
	}
	for i, p := range points {
		model := 0.0
		for k := range 3 {
			model += f.t[k] * math.Pow(p.Speed/high, float64(k+1))
		}
		r := model/loss[i] - 1
		f.squares += r * r
	}
	for j := range f.terms {
		if f.t[column[j]] < 0 {
			return nil
		}
		f.u[column[j]] = math.Sqrt(f.covariance.At(j, j))
	}
	return f
}

// doubt sets the uncertainties from the accuracy of a loss, or from the scatter where that is more.
func (f *noLoadFit) doubt(accuracy float64, n int) {
	s := accuracy
	if n > f.terms {
		s = math.Max(s, math.Sqrt(f.squares/float64(n-f.terms)))
	}
	for k := range 3 {
		f.u[k] *= s
	}
}

// told tells whether every term stands clear of its uncertainty.
func (f *noLoadFit) told() bool {
	for k := range 3 {
		if f.mask&(1<<k) != 0 && f.t[k] < 2*f.u[k] {
			return false
		}
	}
	return true
}

// better compares by what is left, each term costing as much as it would take up by chance
// (twice, as by Akaike), in units of the accuracy.
func (f *noLoadFit) better(g *noLoadFit, accuracy float64) bool {
	a := accuracy * accuracy
	return f.squares/a+2*float64(f.terms) < g.squares/a+2*float64(g.terms)
}

// Loss returns the no-load loss in W at a motor speed in rad/s.
//
//	P = t₁·ω + t₂·ω² + t₃·ω³
//
//	t  terms of the split
//	ω  motor speed, rad/s
//
// Holds between the slowest and the fastest point that the terms rest on; beyond it goes on smoothly.
//
// Source: own. Tests: TestSplitNoLoadExact.
func (s *NoLoadSplit) Loss(speed float64) float64 {
	return speed * (s.Terms[0] + speed*(s.Terms[1]+speed*s.Terms[2]))
}

// noLoadPoints are the points that were typed, with speeds from the motor constant where none are.
func (m Motor) noLoadPoints(resistance, constant float64) ([]NoLoadPoint, error) {
	n := len(m.NoLoadVoltages)
	if len(m.NoLoadCurrents) != n || len(m.NoLoadSpeeds) != 0 && len(m.NoLoadSpeeds) != n {
		return nil, fmt.Errorf("no-load points: %d voltages, %d currents and %d speeds; one of each for a point, or no speeds at all", n, len(m.NoLoadCurrents), len(m.NoLoadSpeeds))
	}
	points := make([]NoLoadPoint, n)
	for i := range points {
		points[i] = NoLoadPoint{Voltage: m.NoLoadVoltages[i], Current: m.NoLoadCurrents[i]}
		if len(m.NoLoadSpeeds) > 0 {
			points[i].Speed = m.NoLoadSpeeds[i]
		} else {
			points[i].Speed = (points[i].Voltage - points[i].Current*resistance) / constant
		}
	}
	return points, nil
}

// noLoadAccuracy is the relative standard uncertainty of a no-load loss where none is typed.
const noLoadAccuracy = 0.02

// NoLoadSplit splits the motor's typed no-load points; the error says what is wrong with them.
func (m Motor) NoLoadSplit() (NoLoadSplit, error) {
	k, err := m.Constants()
	if err != nil {
		return NoLoadSplit{}, err
	}
	r := m.lineResistance()
	points, err := m.noLoadPoints(r, k)
	if err != nil {
		return NoLoadSplit{}, err
	}
	return SplitNoLoad(points, r, m.NoLoadAccuracy.Or(noLoadAccuracy))
}
