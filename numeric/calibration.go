package numeric

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Calibration is what an instrument shows over what was put on it, as a straight line or a parabola.
type Calibration struct {
	Coefficients []float64 // of the load's powers, constant first
	covariance   *mat.SymDense
	Spread       float64 // standard deviation of one reading about the curve
	Freedom      int
	Low, High    float64 // least and greatest load that was put on
	middle       float64 // loads are counted from here and in this unit, so that powers stay tame
	unit         float64
	bent         *Calibration // the parabola that the loads do not tell from the line; nil if there is none
}

// curveProbability is how rare a bend must be by chance before the parabola is taken.
const curveProbability = 0.05

// Calibrate fits readings over loads: a straight line, or a parabola where the loads tell one.
//
//	y = b₀ + b₁·x + b₂·x²,  b₂ kept if F = (SS₁ − SS₂)/(SS₂/(n − 3)) passes F_{0.95}(1, n − 3)
//
// Holds within the loads that were put on. The error says what is missing.
//
// Source: jcgm-100, H.3. Tests: TestCalibrationPublished.
func Calibrate(loads, readings []float64) (*Calibration, error) {
	n := len(loads)
	if n != len(readings) || n < 3 {
		return nil, errors.New("a calibration needs three loads or more, each with its reading")
	}
	c := &Calibration{Low: math.Inf(1), High: math.Inf(-1)}
	for _, x := range loads {
		c.Low, c.High = math.Min(c.Low, x), math.Max(c.High, x)
	}
	if !(c.High > c.Low) {
		return nil, errors.New("all loads of a calibration are the same")
	}
	c.middle, c.unit = 0.5*(c.Low+c.High), 0.5*(c.High-c.Low)
	line, err := c.fit(loads, readings, 1)
	if err != nil {
		return nil, err
	}
	if n > 4 {
		if curve, err := c.fit(loads, readings, 2); err == nil {
			f := (line - curve) / (curve / float64(n-3))
			if curve == 0 || f > (distuv.F{D1: 1, D2: float64(n - 3)}).Quantile(1-curveProbability) {
				return c, nil
			}
			bent := *c
			defer func() { c.bent = &bent }()
		}
		if _, err := c.fit(loads, readings, 1); err != nil {
			return nil, err
		}
	}
	return c, nil
}

// fit fits a polynomial and returns the sum of its squared residuals.
func (c *Calibration) fit(loads, readings []float64, degree int) (float64, error) {
	n := len(loads)
	a := mat.NewDense(n, degree+1, nil)
	for i, x := range loads {
		for j, p := range c.powers(x, degree) {
			a.Set(i, j, p)
		}
	}
	var b mat.VecDense
	if err := b.SolveVec(a, mat.NewVecDense(n, readings)); err != nil {
		return 0, err
	}
	c.Coefficients = append([]float64(nil), b.RawVector().Data...)
	ss := 0.0
	for i, x := range loads {
		r := readings[i] - c.At(x)
		ss += r * r
	}
	c.Freedom = n - degree - 1
	c.Spread = 0
	if c.Freedom > 0 {
		c.Spread = math.Sqrt(ss / float64(c.Freedom))
	}
	normal := mat.NewSymDense(degree+1, nil)
	normal.SymOuterK(1, a.T())
	var chol mat.Cholesky
	if !chol.Factorize(normal) {
		return 0, errors.New("the loads do not tell the curve")
	}
	c.covariance = mat.NewSymDense(degree+1, nil)
	if err := chol.InverseTo(c.covariance); err != nil {
		return 0, err
	}
	return ss, nil
}

func (c *Calibration) powers(load float64, degree int) []float64 {
	x := (load - c.middle) / c.unit
	p := []float64{1, x, x * x}
	return p[:degree+1]
}

// At returns what is shown at a load.
func (c *Calibration) At(load float64) float64 {
	y := 0.0
	for j, p := range c.powers(load, len(c.Coefficients)-1) {
		y += c.Coefficients[j] * p
	}
	return y
}

// slope is the derivative of what is shown by the load.
func (c *Calibration) slope(load float64) float64 {
	s := c.Coefficients[1]
	if len(c.Coefficients) > 2 {
		s += 2 * c.Coefficients[2] * (load - c.middle) / c.unit
	}
	return s / c.unit
}

// Load returns the load of a reading and its standard uncertainty: that of the curve there and of
// one reading about it.
//
//	x₀ = y⁻¹(y₀),  u² = (s² + v(x₀))/y′(x₀)²
//
//	s  standard deviation of one reading about the curve,  v  variance of the curve at x₀
//
// Where the loads do not tell a parabola from a line, the line is taken and what lies between them is
// added as limits: no sign of a bend is no proof of none.
//
// Holds within the calibrated loads and down to none; beyond them by a tenth of their range. The error says that no
// load shows the reading.
//
// Source: jcgm-100, H.3. Tests: TestCalibrationPublished.
func (c *Calibration) Load(reading float64) (load, u float64, err error) {
	edge := CalibratedEdge * math.Max(c.High-c.Low, c.High)
	return c.within(reading, math.Min(c.Low, 0)-edge, c.High+edge)
}

// CalibratedEdge is how far beyond the loads a calibration is used, as a share of their range. Our own.
const CalibratedEdge = 0.1

// True is Load for what has no natural zero, such as a temperature: it holds within the calibrated
// values and beyond them by a tenth of their range.
//
//	x₀ = y⁻¹(y₀),  u² = (s² + v(x₀))/y′(x₀)²
//
// Source: jcgm-100, H.3. Tests: TestCalibrationInverseExact.
func (c *Calibration) True(reading float64) (value, u float64, err error) {
	edge := CalibratedEdge * (c.High - c.Low)
	return c.within(reading, c.Low-edge, c.High+edge)
}

// within inverts the curve where the load lies between two ends.
func (c *Calibration) within(reading, low, high float64) (load, u float64, err error) {
	load, err = c.inverse(reading)
	if err != nil {
		return 0, 0, err
	}
	if !(load >= low && load <= high) {
		return 0, 0, errors.New("the reading lies beyond the calibrated loads")
	}
	p := mat.NewVecDense(len(c.Coefficients), c.powers(load, len(c.Coefficients)-1))
	v := mat.Inner(p, c.covariance, p)
	u = c.Spread * math.Sqrt(1+v) / math.Abs(c.slope(load))
	if c.bent != nil {
		if other, err := c.bent.inverse(reading); err == nil {
			u = math.Hypot(u, (other-load)/math.Sqrt(3))
		}
	}
	return load, u, nil
}

// inverse is the load that shows a reading, on the side of a parabola's turn that the middle of the
// loads lies on.
func (c *Calibration) inverse(reading float64) (float64, error) {
	b, rest := c.Coefficients[1], reading-c.Coefficients[0]
	bend := 0.0
	if len(c.Coefficients) > 2 {
		bend = c.Coefficients[2]
	}
	under := b*b + 4*bend*rest
	switch {
	case b == 0 || math.Abs(2*bend) >= math.Abs(b):
		return 0, errors.New("the calibration turns back within its loads")
	case under <= 0:
		return 0, errors.New("no load shows the reading: the calibration turns back before it")
	}
	return c.middle + c.unit*2*rest/(b+math.Copysign(math.Sqrt(under), b)), nil
}

// Slope returns by how much the reading rises for a load, at the middle of the loads.
func (c *Calibration) Slope() float64 { return c.slope(c.middle) }

// Reversibility returns the greatest difference between what is shown at a load reached by loading
// and by unloading, in the order in which loads were put on; 0 where none was reached both ways.
//
//	h = max |ȳ_down(x) − ȳ_up(x)|,  contribution u = h/(2·√3)
//
// Holds for loads that rise to a highest and fall again, once or several times.
//
// Source: iso-376. Tests: TestReversibilityPublished.
func Reversibility(loads, readings []float64) float64 {
	type mean struct{ sum, n float64 }
	up, down := map[float64]mean{}, map[float64]mean{}
	rising := true
	for i, x := range loads {
		if i > 0 && x != loads[i-1] {
			rising = x > loads[i-1]
		}
		side := up
		if !rising {
			side = down
		}
		m := side[x]
		side[x] = mean{m.sum + readings[i], m.n + 1}
	}
	h := 0.0
	for x, u := range up {
		if d, both := down[x]; both {
			h = math.Max(h, math.Abs(d.sum/d.n-u.sum/u.n))
		}
	}
	return h
}
