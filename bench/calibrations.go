package bench

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"jetwright/numeric"
	"jetwright/quantity"
)

// Points are what an instrument showed at known values of what it reads, SI. Where no standard
// uncertainty of a value or of what was shown is typed it is 0.
type Points struct {
	True, UTrue   []float64
	Shown, UShown []float64
	Place         quantity.Place
}

// Corrected is a reading with its instrument's calibration taken into account.
type Corrected struct {
	Value   float64 // SI
	U       float64 // standard uncertainty that the calibration gives it, SI
	Freedom float64
	Open    float64 // half-width of limits that two points leave open, SI
	Curved  bool
}

// Correct returns what a reading is worth by the points at which its instrument was calibrated. u is
// the standard uncertainty of one reading where a point does not type its own, steps that part of it which comes
// of the smallest step, limits the half-width of what the instrument's class allows.
//
//	one point:     x = y − (y₁ − x₁),  u² = u(y₁)² + u(x₁)²
//	two points:    x = x₁ + λ·(x₂ − x₁),  λ = (y − y₁)/(y₂ − y₁),  u² = (1 − λ)²·u₁² + λ²·u₂²,
//	               u_i² = (u(y_i)/b)² + u(x_i)²,  b = (y₂ − y₁)/(x₂ − x₁),  open ± 4·|λ·(1 − λ)|·a
//	three or more: a line or a parabola and its inverse, u² = u_c² + max u(x_i)², and the scatter
//	               about it is at least that of the steps
//
//	x, y  true value and reading;  x_i, y_i  of the points, SI
//	a     half-width of the class's limits, SI;  u_c  of the curve and one reading about it, SI
//
// One point tells an offset alone, and the instrument's limits stay beside it. Two points leave a bend
// open, which vanishes at both and half-way stays within the instrument's limits. Holds within the
// points and beyond them by a tenth of their range; an offset holds anywhere. The error says
// why there is no value.
//
// Source: jcgm-100, 5.1.2 and H.3; own. Tests: TestCorrectExact, TestCalibrationsSynthetic.
func (p Points) Correct(shown, u, steps, limits float64) (Corrected, error) {
	reading := func(i int) float64 {
		if p.UShown[i] > 0 {
			return p.UShown[i]
		}
		return u
	}
	switch len(p.True) {
	case 0:
		return Corrected{}, errors.New("there is no point")
	case 1:
		return Corrected{Value: shown - p.Shown[0] + p.True[0], U: math.Hypot(reading(0), p.UTrue[0]), Freedom: math.Inf(1)}, nil
	case 2:
		gain := (p.Shown[1] - p.Shown[0]) / (p.True[1] - p.True[0])
		if !(gain > 0) || math.IsInf(gain, 1) {
			return Corrected{}, errTurned
		}
		part := (shown - p.Shown[0]) / (p.Shown[1] - p.Shown[0])
		if !(part >= -numeric.CalibratedEdge && part <= 1+numeric.CalibratedEdge) {
			return Corrected{}, errors.New("the reading lies beyond the calibrated values")
		}
		first, second := math.Hypot(reading(0)/gain, p.UTrue[0]), math.Hypot(reading(1)/gain, p.UTrue[1])
		return Corrected{
			Value: p.True[0] + part*(p.True[1]-p.True[0]), U: math.Hypot((1-part)*first, part*second), Freedom: math.Inf(1), Open: 4 * math.Abs(part*(1-part)) * limits,
		}, nil
	}
	curve, err := numeric.Calibrate(p.True, p.Shown)
	if err != nil {
		return Corrected{}, err
	}
	if !(curve.Slope() > 0) {
		return Corrected{}, errTurned
	}
	// Readings that happen to lie on the curve are no better than one reading is.
	least, standard := steps, 0.0
	for i := range p.True {
		least, standard = math.Max(least, p.UShown[i]), math.Max(standard, p.UTrue[i])
	}
	freedom := float64(max(1, curve.Freedom))
	if curve.Spread < least {
		curve.Spread, freedom = least, math.Inf(1)
	}
	value, own, err := curve.True(shown)
	if err != nil {
		return Corrected{}, err
	}
	return Corrected{Value: value, U: math.Hypot(own, standard), Freedom: freedom, Curved: len(curve.Coefficients) > 2}, nil
}

// Fault says why the points cannot be used at all; nil if they can.
func (p Points) Fault() error {
	if len(p.True) < 2 {
		return nil
	}
	_, err := p.Correct(p.Shown[0], 0, 0, 0)
	return err
}

var errTurned = errors.New("what was shown does not rise with the true values; type true = shown")

// points are those of a channel, if there are any.
func (r *reducer) points(x *channel) (Points, bool) {
	if x.derived || x.Channel == Thrust {
		return Points{}, false
	}
	p, ok := r.sources[x.source].Calibrations[x.Channel]
	return p, ok && len(p.True) > 0
}

// corrected is what a channel's reading is worth by its calibration; ok is false where it has none, or
// where it does not reach the reading, and why then says so.
func (r *reducer) corrected(x *channel, shown float64) (c Corrected, ok bool, why error) {
	p, have := r.points(x)
	if !have {
		return c, false, nil
	}
	row, _ := InstrumentNamed(r.sources[x.source].instrument(x.Channel))
	step := x.resolution / math.Sqrt(12)
	u := math.Hypot(math.Hypot(row.RepeatAbs, row.Repeat*shown), step)
	if row.RepeatAbs > 0 {
		u = math.Hypot(row.RepeatAbs, step)
	}
	limits, _ := r.sources[x.source].Half(x.Channel, shown, r.Setup)
	c, err := p.Correct(shown, u, step, limits)
	return c, err == nil, err
}

// correctSensor takes a channel's calibration into its figure and its budget. It tells whether the
// points say so much of the instrument that the limits assumed of its class are in them.
func (r *reducer) correctSensor(f *Figure, x *channel, shown float64, from, to int) (told bool) {
	if x.derived {
		r.correctPower(f, from, to)
		return false
	}
	c, ok, why := r.corrected(x, shown)
	f.Uncalibrated = why != nil
	if !ok {
		return false
	}
	f.Value = c.Value
	f.Budget = append(f.Budget, r.calibrationLines(x, shown, c, 1)...)
	p, _ := r.points(x)
	return len(p.True) > 1
}

// beyondCalibrations names the channels whose calibration does not reach what they showed.
func (r *reducer) beyondCalibrations() {
	for _, x := range r.channels {
		p, have := r.points(x)
		if !have {
			continue
		}
		low, high, said, n := math.Inf(1), math.Inf(-1), "", 0
		for i, pl := range r.out.Plateaus {
			if f, ok := pl.Figure(x.Channel); ok && f.Uncalibrated && f.Place == r.sources[x.source].Place {
				low, high, n = math.Min(low, f.Value), math.Max(high, f.Value), n+1
				said += fmt.Sprintf(", %d", i+1)
			}
		}
		if n == 0 {
			continue
		}
		_, _, why := r.corrected(x, high)
		if why == nil {
			_, _, why = r.corrected(x, low)
		}
		r.warn(p.Place, fmt.Sprintf("the calibration of the %s is not applied on plateau %s, where it shows %s to %s: %v", x.Channel, strings.TrimPrefix(said, ", "), show(x.Channel, low), show(x.Channel, high), why),
			"calibrate over all that it shows, each point as true = shown")
	}
}

// calibrationLines are the lines of a budget for a calibration, each times a factor.
func (r *reducer) calibrationLines(x *channel, shown float64, c Corrected, times float64) []Component {
	p, _ := r.points(x)
	how := "an offset by one point, beside which the limits stay"
	switch {
	case len(p.True) == 2:
		how = "by two points"
	case c.Curved:
		how = fmt.Sprintf("by %d points on a parabola", len(p.True))
	case len(p.True) > 2:
		how = fmt.Sprintf("by %d points on a line", len(p.True))
	}
	moved := showDifference(x.Channel, c.Value-shown)
	if c.Value > shown {
		moved = "+" + moved
	}
	name := "calibration of the " + string(x.Channel)
	out := []Component{{Name: name, U: math.Abs(times) * c.U, Freedom: c.Freedom, Shared: x.file + ", " + name, Note: moved + ", " + how}}
	if c.Open > 0 {
		out = append(out, Component{
			Name: "bend of the " + string(x.Channel), Rectangle: true, U: math.Abs(times) * c.Open / math.Sqrt(3), Freedom: math.Inf(1), Shared: x.file + ", bend of the " + string(x.Channel),
			Note: "what two points leave open between and beyond them",
		})
	}
	return out
}

// correctPower takes the calibrations of voltage and current into the power that they make.
//
//	P = P_shown·(v/v_shown)·(i/i_shown)
//
// Holds where both stand still over the plateau, as they do.
func (r *reducer) correctPower(f *Figure, from, to int) {
	v, i := r.of(BatteryVoltage), r.of(BatteryCurrent)
	var lines []func(power float64) []Component
	for _, x := range []*channel{v, i} {
		values, _ := finite(x.track, from, to)
		shown, _ := numeric.MeanSD(values)
		c, ok, _ := r.corrected(x, shown)
		if !ok || shown == 0 || c.Value == 0 {
			continue // the channel's own figure says so
		}
		f.Value *= c.Value / shown
		lines = append(lines, func(power float64) []Component { return r.calibrationLines(x, shown, c, power/c.Value) })
	}
	for _, l := range lines {
		f.Budget = append(f.Budget, l(f.Value)...)
	}
}

// worth is what a channel's mean over a plateau is worth: a pull without its tare, anything else by its
// calibration; half is the half-width of limits that the calibration leaves.
func (r *reducer) worth(x *channel, s Span, mean float64) (value, half float64) {
	if x.Channel == Thrust {
		lever := r.Setup.Lever.Or(1)
		half, _ = r.limits(x, mean-r.atRest(x))
		return lever * (mean - r.atRest(x)), lever * half
	}
	if x.derived {
		from, to := r.window(s)
		f := Figure{Value: mean}
		r.correctPower(&f, from, to)
		u, _ := Combined(f.Budget)
		half, _ = r.limits(x, mean)
		return f.Value, half + math.Sqrt(3)*u
	}
	half, _ = r.limits(x, mean)
	if c, ok, _ := r.corrected(x, mean); ok {
		return c.Value, half + math.Sqrt(3)*c.U + c.Open
	}
	return mean, half
}
