package blade

import "math"

// FromAxis turns an angle from the circumferential direction into one from the axis, and back, in rad.
//
//	β = π/2 − angle
//
// Holds by definition. This is the one place where the two ways of measuring meet.
//
// Source: own. Tests: TestFromAxisExact.
func FromAxis(angle float64) float64 { return math.Pi/2 - angle }

// Triangle is a velocity triangle: what a row sees of the water at one radius, SI.
type Triangle struct {
	Meridional    float64 `unit:"m/s" doc:"meridional velocity"`
	Tangential    float64 `unit:"m/s" doc:"tangential velocity, positive the way the rotor turns"`
	BladeSpeed    float64 `unit:"m/s" doc:"speed of the row at this radius"`
	Relative      float64 `unit:"m/s" doc:"velocity relative to the row"`
	RelativeAngle float64 `unit:"deg" doc:"angle of the relative velocity from the circumferential direction"`
	AbsoluteAngle float64 `unit:"deg" doc:"angle of the absolute velocity from the circumferential direction"`
}

// NewTriangle works out a velocity triangle from meridional, tangential and blade speed in m/s.
func NewTriangle(meridional, tangential, blade float64) Triangle {
	return Triangle{
		Meridional: meridional, Tangential: tangential, BladeSpeed: blade,
		Relative:      math.Hypot(meridional, tangential-blade),
		RelativeAngle: FromAxis(math.Atan(math.Abs(tangential-blade) / meridional)),
		AbsoluteAngle: FromAxis(math.Atan(math.Abs(tangential) / meridional)),
	}
}
