package blade

import "math"

// Inlet is what the water ahead of the impeller holds against cavitation: NPSH at the highest blade tip, in
// m, so that submergence, craft speed, temperature and altitude are in it already.
type Inlet struct {
	NPSH float64 `unit:"m" doc:"net positive suction head at the highest blade tip"`
}

// RadiusCavitation is how near to cavitation a blade is on one stream surface, where it passes the top.
type RadiusCavitation struct {
	Radius    float64 `unit:"mm" doc:"radius at the leading edge"`
	Number    float64 `unit:"1" doc:"blade cavitation number: static pressure over vapour pressure, over the head of the relative velocity"`
	Onset     float64 `unit:"1" doc:"blade cavitation number below which bubbles appear on the blade"`
	Breakdown float64 `unit:"1" doc:"blade cavitation number below which the head falls"`
}

// Cavitation is how near the pump is to cavitation.
type Cavitation struct {
	OnsetNPSH            float64 `unit:"m" doc:"net positive suction head below which bubbles appear somewhere"`
	BreakdownNPSH        float64 `unit:"m" doc:"net positive suction head below which the head falls"`
	BreakdownSpeed       float64 `unit:"1" doc:"suction specific speed at breakdown"`
	SuctionSpecificSpeed float64 `unit:"1" doc:"suction specific speed at the NPSH there is"`
	EyeFlow              float64 `unit:"1" doc:"flow coefficient V/U at the tip of the inlet"`
	BestEyeFlow          float64 `unit:"1" doc:"flow coefficient V/U at the tip at which the inlet would reach most at this blade cavitation number"`
}

// breakdownNumber is the blade cavitation number at which the head falls, at the incidence of least loss: 0.2 to
// 0.4 by Dixon's book (from memory), here their geometric mean.
const breakdownNumber = 0.28284271247461906

// BladeCavitationNumber returns what pressure is left on a blade, dimensionless.
//
//	σ = (p₁ − p_v)/(½ρw₁²) = [2g·(NPSH + z) − v₁²]/w₁²
//
//	NPSH  net positive suction head at the highest blade tip, m
//	z     depth below that tip, m
//	v₁    velocity of the water ahead of the blade, m/s
//	w₁    the same relative to the blade, m/s
//	g     gravity, m/s²
//
// Holds by definition.
//
// Source: brennen-1994. Tests: TestBladeCavitationNumberPublished.
func BladeCavitationNumber(npsh, depth, velocity, relative, gravity float64) float64 {
	return (2*gravity*(npsh+depth) - velocity*velocity) / (relative * relative)
}

// OnsetNumber returns the blade cavitation number at which the lowest pressure on a blade reaches vapour
// pressure, dimensionless.
//
//	σ_i = (w_max/w₁)² − 1
//
//	w_max/w₁  largest velocity on the blade over that ahead of it, -   [Element.Suction]
//
// Holds for smooth clean blades in water with enough nuclei; blunt edges, rough surfaces and the vortex in the
// tip gap begin earlier.
//
// Source: brennen-1994, lieblein-1959. Tests: TestOnsetNumberExact.
func OnsetNumber(suction float64) float64 { return suction*suction - 1 }

// BreakdownNumber returns the blade cavitation number at which the head falls, dimensionless.
//
//	σ_b = 0.283·[(w_max/w₁)² − 1]/[(w_max/w₁)₀² − 1]
//
//	w_max/w₁     largest velocity on the blade over that ahead of it, -
//	(w_max/w₁)₀  the same at the incidence of least loss, -
//
// 0.283 is the geometric mean of 0.2 and 0.4; that it grows with the suction peak is our own. It scatters: one
// standard deviation of the suction specific speed at breakdown is 20 %.
//
// Source: dixon-hall-2010, ex. 7.2, own. Tests: TestBreakdownNumberExact.
func BreakdownNumber(suction, clean float64) float64 {
	return breakdownNumber * OnsetNumber(suction) / OnsetNumber(clean)
}

// BestEyeFlow returns the flow coefficient V/U at the tip at which an inlet reaches the largest suction specific
// speed for a blade cavitation number, dimensionless.
//
//	φ² = σ/(2(1 + σ))
//
//	σ  blade cavitation number, -
//
// Holds for inflow along the axis.
//
// Source: dixon-hall-2010, ex. 7.2. Tests: TestBestEyeFlowPublished.
func BestEyeFlow(number float64) float64 { return math.Sqrt(number / (2 * (1 + number))) }

// BreakdownSuctionSpecificSpeed returns the suction specific speed that an inlet reaches at a flow coefficient
// and a blade cavitation number, dimensionless.
//
//	S = √(π·φ·k)/[½(σ(1 + φ²) + φ²)]^(3/4)
//
//	φ  flow coefficient V/U at the tip, -
//	k  1 − (hub/tip)², -
//	σ  blade cavitation number at the tip, -
//
// Holds for inflow along the axis.
//
// Source: brennen-1994, eq. 5.9. Tests: TestBestEyeFlowPublished.
func BreakdownSuctionSpecificSpeed(flow, hubRatio, number float64) float64 {
	f2 := flow * flow
	return math.Sqrt(math.Pi*flow*(1-hubRatio*hubRatio)) / math.Pow((number*(1+f2)+f2)/2, 0.75)
}

// needs returns the NPSH at the highest tip that a blade cavitation number asks for on a surface, m.
func (st *State) needs(j int, number float64) float64 {
	e := &st.Impeller.Elements[j]
	v2 := e.Inlet.Meridional*e.Inlet.Meridional + e.Inlet.Tangential*e.Inlet.Tangential
	return (v2+number*e.Inlet.Relative*e.Inlet.Relative)/(2*st.condition.Gravity) - (st.Stations[0].Radius[st.Radii-1] - e.InletRadius)
}

// Cavitation works out how near a solved pump is to cavitation, and by radius into dst if that is long enough.
// The factor is on the suction specific speed at breakdown [Terms.BreakdownFactor].
func (st *State) Cavitation(in Inlet, factor float64, dst []RadiusCavitation) Cavitation {
	var c Cavitation
	n := st.Radii
	g := st.condition.Gravity
	depth := st.Stations[0].Radius[n-1]
	for j := range n {
		e := &st.Impeller.Elements[j]
		onset, breakdown := OnsetNumber(e.Suction), BreakdownNumber(e.Suction, e.clean)
		c.OnsetNPSH = math.Max(c.OnsetNPSH, st.needs(j, onset))
		c.BreakdownNPSH = math.Max(c.BreakdownNPSH, st.needs(j, breakdown))
		if j < len(dst) {
			v := math.Hypot(e.Inlet.Meridional, e.Inlet.Tangential)
			dst[j] = RadiusCavitation{
				Radius: e.InletRadius, Onset: onset, Breakdown: breakdown,
				Number: BladeCavitationNumber(in.NPSH, depth-e.InletRadius, v, e.Inlet.Relative, g),
			}
		}
	}
	c.BreakdownNPSH *= math.Pow(factor, -4.0/3)
	speed := math.Abs(st.RotorSpeed) * math.Sqrt(st.Flow)
	c.BreakdownSpeed = speed / math.Pow(g*c.BreakdownNPSH, 0.75)
	if in.NPSH > 0 {
		c.SuctionSpecificSpeed = speed / math.Pow(g*in.NPSH, 0.75)
	}
	tip := &st.Impeller.Elements[n-1]
	c.EyeFlow = tip.Inlet.Meridional / math.Abs(tip.Inlet.BladeSpeed)
	c.BestEyeFlow = BestEyeFlow(BreakdownNumber(tip.Suction, tip.clean))
	return c
}
