package plan

import "math"

// What drives the water round in a tub, at both ends; our own.
const (
	turnsLossLow, turnsLossHigh = 2.0, 6.0 // loss of the two turns, on the velocity head of the stream
	wallFriction                = 0.005    // skin friction coefficient of the walls
)

// CoflowSpeed returns the speed in m/s that a jet at rest drives the water of a tub round with.
//
//	u = √{T/(ρ·[½·c_f·S + ½·K·A/2])},  A = b·h,  S = (b + 2h)·ℓ,  ℓ = V/A
//
//	T    thrust, N: the momentum that the jet brings in every second
//	b,h  width and depth of the water, m          [Stand.TubWidth, Stand.WaterDepth]
//	V    volume of the water, m³                  [Stand.WaterVolume]
//	c_f  skin friction coefficient of the walls, 0.005
//	K    loss of the two turns at the ends, 2 to 6 on the velocity head
//
// Derivation: the jet's momentum can leave the water by its walls only. One half of the section runs
// with the jet and one half back, at the same mean speed u, so that each turn takes K/2·½ρu² on the
// half section A/2, and the walls take ½ρu²·c_f on the wetted area S; the two sum up to T. The intake
// stands in the stream that comes back.
//
// Holds, within a factor of two or so, for a tub that the jet fills: a few depths wide and long. In
// wide or open water the stream spreads and is slower.
//
// Source: own. Tests: TestCoflowExact, TestCoflowLaw.
func CoflowSpeed(thrust, density, width, depth, volume, turnsLoss float64) float64 {
	area := width * depth
	walls := (width + 2*depth) * volume / area
	return math.Sqrt(thrust / (density * (0.5*wallFriction*walls + 0.5*turnsLoss*area/2)))
}

// SpinUpTime returns the time in s after which the water of a tub runs at 76 % of its final speed.
//
//	τ = ρ·V·u/T
//
//	V  volume of the water, m³       [Stand.WaterVolume]
//	u  speed that it settles at, m/s
//	T  thrust, N
//
// Derivation: ρV·du/dt = T − T·(u/u_∞)², whose solution is u = u_∞·tanh(t/τ).
//
// Holds for a thrust that does not change while the water gathers speed. Before it has passed the
// scale shows what open water would.
//
// Source: own. Tests: TestCoflowExact.
func SpinUpTime(thrust, density, volume, speed float64) float64 {
	return density * volume * speed / thrust
}

// CoflowLoss returns the share of the thrust that water moving into the intake takes at a constant
// power in the water.
//
//	L = 1 − x·(x − r),  x³ − x·(1 − ε)·r² = 1,  r = u/V_j
//
//	u    speed of the water into the intake, m/s
//	V_j  jet velocity in still water, m/s
//	ε    share of the ingested velocity head that the intake loses, -   [Intake.IngestedLoss]
//	x    jet velocity over that in still water, -
//
// Derivation: T = ρA·V·(V − u) and P = ½ρA·V·(V² − (1 − ε)·u²) at the nozzle's area A; the power is kept.
//
// Holds for u below the jet's own velocity, and a pump whose efficiency does not change.
//
// Source: own. Tests: TestCoflowLossCommonPractice, TestCoflowExact, TestCoflowLaw.
func CoflowLoss(speed, jetVelocity, ingestedLoss float64) float64 {
	r := speed / jetVelocity
	k := (1 - ingestedLoss) * r * r
	x := 1.0
	for range 50 {
		next := x - (x*x*x-k*x-1)/(3*x*x-k)
		if math.Abs(next-x) < 1e-14 {
			x = next
			break
		}
		x = next
	}
	return 1 - x*(x-r)
}

// Submergence returns the depth in m that the usual formula of pump intakes asks for against vortices
// that draw air.
//
//	S = D·(1 + 2.3·Fr),  Fr = V/√(g·D)
//
//	D  diameter of the intake opening, m
//	V  mean velocity in it, m/s
//	g  gravity, m/s²
//
// Holds for pump stations with bells of some decimetres and more and velocities to about 2.5 m/s. At
// the size and velocity of a small jet it is far outside of where it comes from and asks for about a
// metre: shown for context, not as a bound.
//
// Source: hi-9-8. Tests: TestSubmergencePublished.
func Submergence(diameter, velocity, gravity float64) float64 {
	return diameter * (1 + 2.3*velocity/math.Sqrt(gravity*diameter))
}

// Warming returns the rise in K of a body of water that takes in the heat of a day.
//
//	ΔT = E/(ρ·c_p·V)
//
//	E    energy out of the battery, J: all of it ends as heat in the water
//	ρ    density, kg/m³
//	c_p  specific heat, J/(kg·K)
//	V    volume, m³                  [Stand.WaterVolume]
//
// Holds without losses to air and walls, so it is the most that can be.
//
// Source: own. Tests: TestWarmingExact.
func Warming(energy, density, specificHeat, volume float64) float64 {
	return energy / (density * specificHeat * volume)
}

// Grades of the air's path to the intake.
const (
	AirUnlikely = "air unlikely"
	AirPossible = "air possible"
	AirLikely   = "air likely"
)

// Shares of the formula's depth at which the grades change; our own.
const (
	pathUnlikely = 1.0
	pathPossible = 0.5
)

// AirGrade grades the path of the air from the surface to the intake against the depth that the
// formula of pump intakes asks for.
//
//	s = (d + r)/S
//
//	d  depth of the intake's upper edge below the still water, m   [Stand.IntakeDepth]
//	r  reach of a cover plate beyond the intake, m                 [Stand.CoverReach]
//	S  depth that the formula asks for, m
//
// From s = 1 on air is unlikely, from 0.5 on possible, below that likely. Holds as a grade only.
//
// Source: own. Tests: TestAirGradeExact, TestAirGradeLaw.
func AirGrade(depth, reach, asked float64) (path float64, grade string) {
	path = math.Max(depth+math.Max(reach, 0), 0)
	switch s := path / asked; {
	case depth <= 0 || s < pathPossible:
		return path, AirLikely
	case s < pathUnlikely:
		return path, AirPossible
	}
	return path, AirUnlikely
}
