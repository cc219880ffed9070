package blade

import "math"

// Swirl is the turning of the water behind the blades: what the impeller gives, what the stator takes
// back, what is left.
type Swirl struct {
	Given      float64 `unit:"W" doc:"kinetic power of the swirl behind the impeller"`
	Recovered  float64 `unit:"W" doc:"what the stator takes back of it, its own losses not counted"`
	Left       float64 `unit:"W" doc:"kinetic power of the swirl behind the last row"`
	GivenAngle float64 `unit:"deg" doc:"mean angle of the water behind the impeller off the axis"`
	LeftAngle  float64 `unit:"deg" doc:"mean angle of the water behind the last row off the axis; negative if it is turned beyond the axis"`
	Momentum   float64 `unit:"m²/s" doc:"mean swirl times radius behind the last row, positive the way the rotor turns"`
}

func newSwirl(st *State, c Condition) Swirl {
	n := st.Radii
	mass := c.Density * c.Flow
	turn := 1.0
	if c.RotorSpeed < 0 {
		turn = -1
	}
	var s Swirl
	mean := func(p *Station) (power, angle, momentum float64) {
		var t, v float64
		for j := range n {
			w := weight(j, n)
			power += w * p.Tangential[j] * p.Tangential[j] / 2
			t += w * p.Tangential[j] * turn
			v += w * p.Meridional[j]
			momentum += w * p.Radius[j] * p.Tangential[j] * turn
		}
		return power * mass, math.Atan(t / v), momentum
	}
	s.Given, s.GivenAngle, _ = mean(&st.Stations[1])
	s.Left, s.LeftAngle, s.Momentum = mean(&st.Stations[st.Last])
	s.Recovered = s.Given - s.Left
	return s
}

// JetSwirl is what a swirl left behind the blades does in the jet.
type JetSwirl struct {
	Angle  float64 `unit:"deg" doc:"angle of the water at the jet's rim off the axis"`
	Power  float64 `unit:"W" doc:"kinetic power of the swirl in the jet"`
	Thrust float64 `unit:"N" doc:"thrust lost to the swirl at the same total pressure"`
}

// SwirlInJet works out the swirl in the jet, turning as a solid body there with the angular momentum that
// the blades left.
//
//	w = 2L/R²,  P = ¼ρQ·w²·R²,  tan β = w·R/v,  ΔT = ¼πρ·w²·R⁴ = P/v
//
//	L   swirl times radius, mean over the flow, m²/s   [Swirl.Momentum]
//	R   radius of the jet, m
//	v   mean velocity of the jet along its axis, Q/(πR²), m/s
//	w   angular velocity of the jet, rad/s
//	ρQ  mass flow, kg/s
//
// The thrust is lost to the low pressure inside the turning jet, at the same total pressure and area: what
// the swirl's energy takes from the axial velocity, the low pressure gives back. Holds while the rim turns
// slower than the jet runs; beyond that ok is false.
//
// Source: own. Tests: TestSwirlInJetExact.
func SwirlInJet(density, flow, momentum, radius float64) (j JetSwirl, ok bool) {
	velocity := flow / (math.Pi * radius * radius)
	w := 2 * momentum / (radius * radius)
	rim := w * radius
	if !(math.Abs(rim) < velocity) {
		return JetSwirl{}, false
	}
	j.Angle = math.Atan(rim / velocity)
	j.Power = density * flow * rim * rim / 4
	j.Thrust = j.Power / velocity
	return j, true
}
