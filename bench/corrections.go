package bench

import (
	"fmt"
	"math"

	"jetwright/numeric"
	"jetwright/quantity"
)

// Corrections are what stands between what a scale shows and the pull along the thrust, each with
// what is known of it.
type Corrections struct {
	RopeAngle, URopeAngle float64        // of the rope against the thrust, rad, and its standard uncertainty
	Pulley                float64        // largest share of the pull that a pulley takes or gives
	Gravity, UGravity     float64        // where the scale was adjusted, m/s²; 0 if nothing is known of it
	Loads, Readings       []float64      // of a calibration, N
	Place                 quantity.Place // of the calibration
}

// Empty tells whether there is nothing to correct.
func (c Corrections) Empty() bool {
	return c.RopeAngle == 0 && c.URopeAngle == 0 && c.Pulley == 0 && c.Gravity == 0 && len(c.Loads) == 0
}

// correctPull turns what a scale shows, with its tare, into the pull along the thrust, and gives
// each correction its line in the budget.
//
//	T = [c(y) − c(y₀)]·(g/g₀)·cos α·b/a,  u_α = T·tan α·u(α),  u_g = T·u(g)/g,  u_l = T·u(b/a)/(b/a)
//
//	y, y₀  shown under load and without, N;  c  load by the scale's own calibration
//	g, g₀  gravity where a scale of masses was adjusted and the standard one, m/s²
//	α      angle of the rope against the thrust, rad
//	b/a    lever of the rope over that of the jet where an arm hangs on a pivot, else 1
//
// A pulley takes from the pull going up and gives going down, by no more than its share. Holds for
// small angles known to a degree or so; at zero angle the second order, T·u(α)²/2, stands in.
//
// Source: own; jcgm-100, 5.1.2. Tests: TestCorrectionsExact.
func (r *reducer) correctPull(f *Figure, x *channel, shown, tare float64, direction string) (calibrated bool) {
	c := r.sources[x.source].Corrections
	pull := shown - tare
	if curve := r.calibration(x); curve != nil {
		a, ua, errA := curve.Load(shown)
		b, _, errB := curve.Load(tare)
		if errA != nil || errB != nil {
			r.warn(c.Place, fmt.Sprintf("%s: the calibration of the scale does not reach a reading of %.4g N; it is not applied there", f.Text, shown), "calibrate up to the highest pull")
		} else {
			pull, calibrated = a-b, true
			f.Budget = append(f.Budget, Component{
				Name: "scale calibration", U: ua, Freedom: float64(max(1, curve.Freedom)), Shared: x.file + ", calibration",
				Note: fmt.Sprintf("%+.3g N, by %d loads on a %s", pull-(shown-tare), len(c.Loads), shape(curve)),
			})
			if h := numeric.Reversibility(c.Loads, c.Readings); h > 0 {
				f.Budget = append(f.Budget, Component{
					Name: "reversibility of the scale", Rectangle: true, U: h / (2 * math.Sqrt(3)), Freedom: math.Inf(1), Shared: x.file + ", reversibility", Against: direction == "down",
					Note: fmt.Sprintf("%.3g N between loading and unloading", h),
				})
			}
		}
	}
	if c.Gravity > 0 {
		k := c.Gravity / standardGravity
		pull *= k
		f.Budget = append(f.Budget, Component{
			Name: "gravity", U: math.Abs(pull) * c.UGravity / c.Gravity, Freedom: math.Inf(1), Shared: x.file + ", gravity", Note: fmt.Sprintf("times %.5f", k),
		})
	}
	if c.RopeAngle != 0 || c.URopeAngle != 0 {
		along := pull * math.Cos(c.RopeAngle)
		u := math.Abs(pull) * math.Hypot(math.Sin(c.RopeAngle)*c.URopeAngle, c.URopeAngle*c.URopeAngle/2)
		f.Budget = append(f.Budget, Component{
			Name: "rope angle", U: u, Freedom: math.Inf(1), Shared: x.file + ", rope angle", Note: fmt.Sprintf("%+.3g N", along-pull),
		})
		pull = along
	}
	if r.Motion.Pitch > 0 {
		f.Budget = append(f.Budget, Component{
			Name: "pitch of the stand", U: PitchUncertainty(shownAlong(pull, c.RopeAngle), c.RopeAngle, r.Motion.Pitch), Freedom: math.Inf(1), Shared: r.Run + ", pitch",
			Note: fmt.Sprintf("up to %.2g deg either way", r.Motion.Pitch*180/math.Pi),
		})
	}
	if lever := r.Setup.Lever.Or(1); lever != 1 || r.Setup.ULever > 0 {
		pull *= lever
		for i := range f.Budget { // what came before is of the rope
			f.Budget[i].U *= lever
		}
		f.Budget = append(f.Budget, Component{
			Name: "lever", U: math.Abs(pull) * r.Setup.ULever / lever, Freedom: math.Inf(1), Shared: r.Run + ", lever", Note: fmt.Sprintf("times %.4f", lever),
		})
	}
	if c.Pulley > 0 {
		f.Budget = append(f.Budget, Component{
			Name: pulleyLine, Rectangle: true, U: c.Pulley * math.Abs(pull) / math.Sqrt(3), Freedom: math.Inf(1), Shared: x.file + ", pulley", Against: direction == "down",
			Note: fmt.Sprintf("up to %.3g N, turning with the direction", c.Pulley*math.Abs(pull)),
		})
	}
	f.Value = pull
	return calibrated
}

// pulleyLine names what a pulley takes or gives.
const pulleyLine = "pulley"

// shownAlong undoes the rope's angle.
func shownAlong(along, angle float64) float64 { return along / math.Cos(angle) }

func shape(c *numeric.Calibration) string {
	if len(c.Coefficients) > 2 {
		return "parabola"
	}
	return "line"
}

// Loads from which several that are off are looked for, and how many (rosner-1983).
const (
	rosnerLeast = 25
	rosnerMost  = 4
)

// calibration is the curve of a scale's log, nil if there is none.
func (r *reducer) calibration(x *channel) *numeric.Calibration {
	c := r.sources[x.source].Corrections
	if len(c.Loads) == 0 {
		return nil
	}
	if curve, have := r.curves[x.source]; have {
		return curve
	}
	curve, err := numeric.Calibrate(c.Loads, c.Readings)
	if err == nil && !(curve.Slope() > 0) {
		err = errTurned
	}
	if err != nil {
		r.warn(c.Place, "the calibration cannot be used: "+err.Error(), `type loads and readings, as in calibration = ["0 kgf = 0.02 kgf", "20 kgf = 20.1 kgf", "40 kgf = 40.25 kgf"]`)
		curve = nil
	} else {
		curve.Spread = math.Max(curve.Spread, x.resolution/math.Sqrt(12)) // loads that happen to lie on the curve are no better than one reading is
		rest := make([]float64, len(c.Loads))
		for i := range rest {
			rest[i] = c.Readings[i] - curve.At(c.Loads[i])
		}
		off := func(i int, by string) {
			r.warn(c.Place, fmt.Sprintf("the calibration at %.4g N stands %.3g N off the curve, further than chance puts it (%s)", c.Loads[i], rest[i], by), "hang that load again")
		}
		if len(rest) >= rosnerLeast { // many loads may hide several that are off
			bad, g, bound := numeric.Rosner(rest, rosnerMost, 0.05)
			for k, i := range bad {
				off(i, fmt.Sprintf("Rosner %.2f over %.2f", g[k], bound[k]))
			}
		} else if i, g, bound, err := numeric.Grubbs(rest, 0.05, true); err == nil && g > bound {
			off(i, fmt.Sprintf("Grubbs %.2f over %.2f", g, bound))
		}
	}
	r.curves[x.source] = curve
	return curve
}
