package craft

import (
	"math"

	"jetwright/numeric"
	"jetwright/quantity"
)

// Reason says why there is no hull, or no drag. The list is closed.
type Reason int8

// Reasons.
const (
	Solved  Reason = iota
	Lacking        // mass, rider, length, beam or centre of gravity is not known
	Behind         // the centre of gravity lies behind the transom or ahead of the bow
	Hollow         // the bottom falls from keel to chine
	Sinks          // craft and rider sink even with the rider prone
	BadTow         // the towed pulls are no curve
	NoForm         // the form gives no finite drag in the pre-planing range
)

var reasons = [...]string{
	"solved", "mass, rider, length, beam or centre of gravity is missing", "the centre of gravity does not lie between transom and bow",
	"the bottom is hollow", "craft and rider sink even with the rider prone", "the towed pulls are no curve of rising speeds",
	"the form gives no finite drag in the pre-planing range",
}

// Error words it.
func (r Reason) Error() string { return reasons[r] }

// Outside is in what a state lies outside of the ranges of its methods, a set.
type Outside uint16

// What may lie outside.
const (
	OutsideTrim       Outside = 1 << iota // of 2° to 15°
	OutsideSpeed                          // of a speed coefficient of 0.60 to 13
	OutsideWetted                         // of a wetted length of 4 beams
	OutsideLength                         // of the keel that there is
	OutsideDeadrise                       // of 0 to 30°
	OutsideForm                           // of the forms of the pre-planing regression
	OutsideTow                            // of the speeds towed at
	OutsideDepth                          // of deep water, near the speed of the waves
	OutsideFloat                          // of a craft that floats its rider
	OutsideDisplacing                     // of any method: below the pre-planing range
	OutsideBalance                        // of any trim: it is taken at the steepest that is looked at
)

var outsideWords = [...]string{
	"trim outside 2° to 15°", "speed coefficient outside 0.60 to 13", "wetted length above 4 beams", "wetted keel longer than the craft", "deadrise outside 0° to 30°",
	"form outside the hulls of the pre-planing regression", "beyond the speeds towed at", "shallow water near the speed of its waves", "awash: the craft does not float its rider", "below the pre-planing range",
	"no trim balances the weight: it acts too far aft, or too high above the thrust",
}

// Words lists what lies outside.
func (o Outside) Words() []string {
	var out []string
	for i, w := range outsideWords {
		if o&(1<<i) != 0 {
			out = append(out, w)
		}
	}
	return out
}

// State is the craft at a speed through the water.
type State struct {
	Speed          float64 `unit:"m/s" doc:"speed through the water"`
	Froude         float64 `unit:"1" doc:"volume Froude number: speed over the root of gravity times the displaced volume's cube root; full planing is near 3"`
	Drag           float64 `unit:"N" doc:"drag of hull, appendages and air"`
	HullDrag       float64 `unit:"N" doc:"drag of the hull without appendages"`
	AppendageDrag  float64 `unit:"N" doc:"drag of the appendages"`
	AirDrag        float64 `unit:"N" doc:"drag of the air"`
	Band           float64 `unit:"%" doc:"half-width of the band in which the method's drag lies"`
	Swimming       float64 `unit:"%" doc:"share of swimming, below the pre-planing range, in the drag"`
	PrePlaning     float64 `unit:"%" doc:"share of the pre-planing method in the drag"`
	PlaningShare   float64 `unit:"%" doc:"share of the planing method in the drag"`
	Awash          float64 `unit:"%" doc:"how far craft and prone rider are awash"`
	Towed          float64 `unit:"%" doc:"how far the towed pulls hold"`
	DepthFroude    float64 `unit:"1" doc:"speed over that of the waves of the water's depth; 0 in deep water"`
	Porpoises      bool    // the trim is above where porpoising begins
	PorpoisingTrim quantity.Optional
	Planing        Planing // zero where nothing planes
	Outside        Outside
}

// Extrapolated tells that the drag comes from outside of the ranges of its methods.
func (s *State) Extrapolated() bool { return s.Outside != 0 }

// Hull is a Craft worked out in its water. It is never changed after it is made.
type Hull struct {
	Craft Craft
	m     Medium

	mass, weight, volume, beam, length, deadrise, centre, height float64
	tanBeta, cosBeta, deadriseLift                               float64
	thrustAngle, thrustHeight                                    float64
	roughness                                                    float64
	smooth                                                       func(float64) float64
	spray                                                        bool

	surface  float64 // wetted, over ∇^⅔
	residual *numeric.PCHIP
	formOut  float64 // how far the form is outside, 0 to 1
	emerges  float64 // speed at which the lift of the speed carries what the volume does not, m/s; 0 where it floats
	body     float64 // drag area of what is awash, m²

	towAt *numeric.Polyline // logarithm of the factor on the water's drag, by the logarithm of the speed
	pulls *numeric.Polyline // logarithm of the pull itself
	first float64           // speeds towed at
	last  float64
}

// What the hull takes of constants of its own, each with a range that the bands hold.
const (
	bodyDensity   = 985.0 // kg/m³ of a rider with air in the lungs: 945 to 1020; memory, medium
	bodyImmersed  = 0.92  // share of a prone rider's body that may be under water
	bodyArea      = 0.07  // drag area of a rider of 75 kg lying awash, m²; own: a towed swimmer has some 0.05
	emergingTrim  = 10.0  // degrees at which an awash board is driven up
	plane0        = 1.4   // volume Froude numbers between which the planing method takes over
	plane1        = 2.0
	onPlane       = 2.5
	bandSwimming  = 0.25
	bandPre       = 0.15
	bandPlaning   = 0.10 // of measured planing hulls about the method, memory, medium
	bandForm      = 0.20 // added where all is outside
	bandPlaneOut  = 0.30
	bandAwash     = 0.50
	bandDepth     = 0.35
	bandTowed     = 0.03
	towReach      = 0.25 // share of the end speeds over which towed pulls fade
	swimmingSteep = 4    // power of the speed with which the drag of waves falls below the pre-planing range
)

// rise goes from 0 at 0 to 1 at 1, smooth at both.
func rise(x float64) float64 {
	switch {
	case x <= 0:
		return 0
	case x >= 1:
		return 1
	}
	return x * x * (3 - 2*x)
}

// beyond is how far a number lies outside two ends: 0 inside, 1 once it is half as far out again.
func beyond(x, low, high float64) float64 {
	if x < low {
		return rise((low - x) / (0.5 * low))
	}
	return rise((x - high) / (0.5 * high))
}

// NewHull works a craft out in its water.
func NewHull(c Craft, m Medium) (*Hull, Reason) {
	if len(c.Lacks()) > 0 {
		return nil, Lacking
	}
	h := &Hull{
		Craft: c, m: m, mass: c.TotalMass(), beam: c.Beam.Value, length: c.Length.Value, deadrise: c.Deadrise, centre: c.GravityCentre.Value, height: c.GravityHeight,
		thrustAngle: c.ThrustAngle, thrustHeight: c.ThrustHeight, roughness: c.Roughness, spray: true, smooth: FrictionITTC,
	}
	switch {
	case !(h.centre > 0 && h.centre < h.length):
		return nil, Behind
	case h.deadrise < 0:
		return nil, Hollow
	case c.Sinks(m.Density):
		return nil, Sinks
	}
	switch c.FrictionLine {
	case "schoenherr":
		h.smooth = FrictionSchoenherr
	case "plate":
		h.smooth = FrictionPlate
	}
	h.weight, h.volume = h.mass*m.Gravity, h.mass/m.Density
	h.tanBeta, h.cosBeta, h.deadriseLift = math.Tan(h.deadrise), math.Cos(h.deadrise), 0.0065*degrees(h.deadrise)
	if r := h.layForm(); r != Solved {
		return nil, r
	}
	if v := c.Volume; v.Set && v.Value < h.volume {
		ratio := math.Min(h.length/h.beam, 4)
		lift := 0.5 * m.Density * h.beam * h.beam * 0.0120 * math.Sqrt(ratio) * math.Pow(emergingTrim, 1.1)
		h.emerges = math.Sqrt(h.weight * (1 - v.Value/h.volume) / lift)
		h.body = bodyArea * math.Pow(c.RiderMass.Value/75, 2.0/3)
	}
	return h, h.layTow()
}

// Sinks tells whether craft and rider sink even with the rider prone and all but the head under water.
//
//	m_c + m_r > ρ·(∇_c + 0.92·m_r/985)
//
//	m_c, m_r  mass of craft and rider, kg;  ∇_c volume of the craft, m³   [Craft.Volume]
//	ρ         density of the water, kg/m³
//
// The body's density is that with air in the lungs, recalled. Where no volume is typed it is not known, and false.
//
// Source: memory. Tests: TestAwashLaw.
func (c *Craft) Sinks(density float64) bool {
	return c.Volume.Set && c.Mass.Set && c.RiderMass.Set && c.TotalMass() > c.Carries(density)
}

// Carries is the mass that craft and a rider under water to the neck displace, kg.
//
//	m = ρ·(∇_c + 0.92·m_r/985)
//
//	as in Sinks
//
// Holds as Sinks does.
//
// Source: memory. Tests: TestAwashLaw.
func (c *Craft) Carries(density float64) float64 {
	return density * (c.Volume.Value + bodyImmersed*c.RiderMass.Value/bodyDensity)
}

// FloatsRider tells whether the craft floats its rider at rest, and whether that is known.
func (h *Hull) FloatsRider() (floats, known bool) { return h.emerges == 0, h.Craft.Volume.Set }

// layForm lays the drag of the pre-planing range out.
func (h *Hull) layForm() Reason {
	root := math.Cbrt(h.volume)
	f := Form{X: root / h.length, Z: h.volume / (h.beam * h.beam * h.beam), U: math.Sqrt(2 * degrees(h.Craft.EntranceAngle)), W: h.Craft.TransomRatio}
	draft := h.volume / (0.75 * h.length * h.beam) // of a block of three quarters of the waterline's rectangle
	h.surface = WettedSurface(1/f.X, h.beam/draft)
	least := math.Inf(1) // of the regression over a blunt board's drag: where little is left of it, it has lost its hulls
	for i := range preFroude {
		least = math.Min(least, PrePlaning(i, f)/bluntForm[i])
	}
	keep := rise((least - 0.1) / 0.3)
	for _, out := range [...]float64{beyond(degrees(h.Craft.EntranceAngle), 3.7, 28.6), beyond(h.length/h.beam, 2.52, 18.26), beyond(h.beam/draft, 1.7, 9.8), beyond(1/f.X, 3, 12.4)} {
		keep *= 1 - out
	}
	h.formOut = 1 - keep
	x, y := []float64{0, 0.25, 0.5, 0.75}, make([]float64, 4, 15)
	for i, fr := range preFroude {
		r := (1-h.formOut)*PrePlaning(i, f) + h.formOut*bluntForm[i]
		x, y = append(x, fr), append(y, residuary(i, r, f, h.surface))
	}
	for i := range 4 {
		y[i] = y[4] * math.Pow(x[i], swimmingSteep)
	}
	var err error
	if h.residual, err = numeric.NewPCHIP(x, y); err != nil {
		return NoForm
	}
	return Solved
}

// driven is the drag of the hull in the pre-planing range and below it, N.
func (h *Hull) driven(speed, froude float64) float64 {
	r, _, _ := h.residual.At(froude)
	return h.weight * (r + h.Friction(speed*h.length/h.m.Viscosity, h.length)*0.5*h.surface*froude*froude)
}

// Air returns the drag of the air in N at a speed of the air over the craft in m/s, positive from ahead.
//
//	D = ½·ρ_a·C_D·A·w·|w|
//
//	ρ_a   density of the air, kg/m³;  w speed of the air over the craft, m/s
//	C_D·A drag area, m²   [Craft.DragArea]
//
// Holds for a rider; a wind from behind that is faster than the craft pushes.
//
// Source: hoerner-1965. Tests: TestAirDragPublished.
func (h *Hull) Air(over float64) float64 {
	return 0.5 * h.m.AirDensity * h.Craft.DragArea.Value * over * math.Abs(over)
}

// Mass is that of craft and rider with the water that is speeded up with them, kg.
//
//	m' = (m_c + m_r)·(1 + k)
//
//	k  added water over the mass, -   [Craft.AddedMass]
//
// Our own range of k; a long body moving along its length has little.
//
// Source: own. Tests: TestHullScalesExact.
func (h *Hull) Mass() float64 { return h.mass * (1 + h.Craft.AddedMass) }

// SpeedAt is the speed of a volume Froude number, m/s.
//
//	V = F·√(g·∇^⅓)
//
//	F  volume Froude number, -;  ∇ displaced volume at rest, m³
//
// Holds by definition.
//
// Source: own. Tests: TestHullScalesExact.
func (h *Hull) SpeedAt(froude float64) float64 {
	return froude * math.Sqrt(h.m.Gravity*math.Cbrt(h.volume))
}

// PlaneSpeed is the speed in m/s from which a craft is said to be on the plane.
//
//	V = 2.5·√(g·∇^⅓)
//
//	∇  displaced volume at rest, m³
//
// Half way from the end of the pre-planing range, at a volume Froude number of 2, to full planing at 3 to 3.5: a convention of
// ours. What is on the plane by it may be slowed to less.
//
// Source: own, radojcic-2014. Tests: TestHullScalesExact.
func (h *Hull) PlaneSpeed() float64 { return h.SpeedAt(onPlane) }

// At returns the craft at a speed through the water with the air over it at a speed, both in m/s.
//
//	D = [(1 − s)·D_pre + s·M·D_plane + D_awash + ½·ρ·V²·A]·(1 + B)^z·k + D_air
//
//	D_pre    drag of PrePlaning, its waves falling with V⁴ below F = 1, with the friction of the craft's own size
//	D_plane  drag of Plane;  M factor of BlountFox
//	s        share of planing, which rises smoothly from 0 at a volume Froude number F of 1.4 to 1 at 2.0
//	D_awash  ½·ρ·V²·C_D·A of a rider lying awash, fading as the speed lifts craft and rider out
//	A        appendages, m²                              [Craft.Appendages]
//	B, z     half-width of the method's band; place in it [Craft.MethodError]
//	k        factor of the towed pulls, 1 without any     [Craft.TowPulls]
//
// Each method's range is its own; outside of it the band widens smoothly and the state says in what. Bands and shares are our own.
//
// Source: own, savitsky-1964, mercier-savitsky-1973, blount-fox-1976. Tests: TestResistanceSmoothLaw, TestTowedExact.
func (h *Hull) At(speed, over float64) State {
	s := h.computed(speed, over)
	water := s.Drag - s.AirDrag
	factor := math.Pow(1+s.Band, h.Craft.MethodError)
	if h.towAt != nil && speed > 0 {
		near := 1 - rise(math.Max((h.first-speed)/(towReach*h.first), (speed-h.last)/(towReach*h.last)))
		s.Towed = near
		if speed < h.first || speed > h.last {
			s.Outside |= OutsideTow
		} else {
			s.Outside &^= OutsideTrim | OutsideSpeed | OutsideWetted | OutsideLength | OutsideForm | OutsideFloat | OutsideDisplacing
		}
		s.Band = near*bandTowed + (1-near)*s.Band
		x := math.Min(math.Max(math.Log(speed), math.Log(h.first)), math.Log(h.last)) // the factor of an end goes on
		ln, _, _ := h.towAt.At(x)
		factor = math.Pow(1+s.Band, h.Craft.MethodError) * math.Exp(ln)
		if h.pulls != nil && speed >= h.first && speed <= h.last {
			pull, _, _ := h.pulls.At(x)
			factor = math.Pow(1+s.Band, h.Craft.MethodError) * (math.Exp(pull)*h.scale() - h.Air(speed)) / water
		}
	}
	s.HullDrag *= factor
	s.AppendageDrag *= factor
	s.Drag = water*factor + s.AirDrag
	return s
}

// computed is At by the methods alone, at the middle of their bands.
func (h *Hull) computed(speed, over float64) State {
	s := State{Speed: speed, AirDrag: h.Air(over)}
	s.Drag = s.AirDrag
	if !(speed > 0) {
		if h.emerges > 0 {
			s.Awash, s.Outside = 1, OutsideFloat
		}
		return s
	}
	s.Froude = speed / math.Sqrt(h.m.Gravity*math.Cbrt(h.volume))
	planing := rise((s.Froude - plane0) / (plane1 - plane0))
	s.PlaningShare = planing
	s.Swimming = (1 - planing) * (1 - rise((s.Froude-0.8)/0.4))
	s.PrePlaning = 1 - planing - s.Swimming
	if planing < 1 {
		s.HullDrag = (1 - planing) * h.driven(speed, s.Froude)
		s.Band = s.Swimming*bandSwimming + s.PrePlaning*(bandPre+bandForm*h.formOut)
		if h.formOut > 0 && s.PrePlaning > 0 {
			s.Outside |= OutsideForm
		}
		if s.Froude < 1 {
			s.Outside |= OutsideDisplacing
		}
	}
	if planing > 0 {
		h.plane(&s, planing)
	}
	s.AppendageDrag = 0.5 * h.m.Density * speed * speed * h.Craft.Appendages
	if h.emerges > 0 {
		s.Awash = 1 - rise((speed/h.emerges-0.6)/0.6)
		if s.Awash > 0 {
			s.Outside |= OutsideFloat
			s.HullDrag += s.Awash * 0.5 * h.m.Density * speed * speed * h.body
			s.Band += s.Awash * bandAwash
		}
	}
	if d := h.Craft.Depth; d.Set {
		s.DepthFroude = speed / math.Sqrt(h.m.Gravity*d.Value)
		x := (s.DepthFroude - 1) / 0.3
		if add := bandDepth * math.Exp(-x*x) * (1 - rise((d.Value/h.length-0.5)/1.5)); add > 0 {
			s.Band += add
			if add > 0.02 {
				s.Outside |= OutsideDepth
			}
		}
	}
	s.Drag += s.HullDrag + s.AppendageDrag
	return s
}

// plane adds the share of planing.
func (h *Hull) plane(s *State, share float64) {
	p, ok := h.Plane(s.Speed, s.AirDrag)
	if !ok {
		s.Outside |= OutsideBalance
	}
	factor := BlountFox(h.centre/h.beam, s.Froude)
	p.PressureDrag *= factor
	p.FrictionDrag *= factor
	p.SprayDrag *= factor
	s.Planing = p
	s.HullDrag += share * p.Drag()
	t := degrees(p.Trim)
	keep := 1.0
	for _, o := range [...]struct {
		out  float64
		what Outside
	}{
		{beyond(t, 2, 15), OutsideTrim},
		{beyond(p.SpeedCoeff, 0.6, 13), OutsideSpeed},
		{beyond(p.WettedRatio, 0, 4), OutsideWetted},
		{beyond(p.KeelLength, 0, h.length), OutsideLength},
		{beyond(degrees(h.deadrise), 0, 30), OutsideDeadrise},
	} {
		if o.out > 0 {
			s.Outside |= o.what
			keep *= 1 - o.out
		}
	}
	s.Band += share * (bandPlaning + bandPlaneOut*(1-keep))
	if limit, ok := PorpoisingTrim(p.LiftCoeff, h.deadrise); ok {
		s.PorpoisingTrim = quantity.Some(limit)
		s.Porpoises = p.Trim > limit
	}
}

// layTow turns towed pulls into factors.
func (h *Hull) layTow() Reason {
	c := &h.Craft
	n := len(c.TowSpeeds)
	if n == 0 && len(c.TowPulls) == 0 {
		return Solved
	}
	if n != len(c.TowPulls) {
		return BadTow
	}
	towed := h
	if c.TowMass.Set && c.TowMass.Value != h.mass {
		other := *c
		other.RiderMass = quantity.Some(c.TowMass.Value - c.Mass.Value)
		other.TowSpeeds, other.TowPulls, other.Volume = nil, nil, quantity.Optional{}
		var r Reason
		if towed, r = NewHull(other, h.m); r != Solved {
			return r
		}
	}
	var x, factor, pull []float64
	for i, v := range c.TowSpeeds {
		s := towed.computed(v, v)
		water := c.TowPulls[i]*(1+c.TowError) - s.AirDrag
		if !(v > 0 && water > 0) || i > 0 && v <= c.TowSpeeds[i-1] {
			return BadTow
		}
		x = append(x, math.Log(v))
		factor = append(factor, math.Log(water/(s.Drag-s.AirDrag)))
		pull = append(pull, math.Log(c.TowPulls[i]*(1+c.TowError)))
	}
	h.first, h.last = c.TowSpeeds[0], c.TowSpeeds[n-1]
	if n == 1 { // one point is a factor for all
		x, factor, pull = append(x, x[0]+1), append(factor, factor[0]), append(pull, pull[0])
	}
	var err error
	if h.towAt, err = numeric.NewPolyline(x, factor); err != nil {
		return BadTow
	}
	if c.TowUse == "replaces" && n > 1 {
		if h.pulls, err = numeric.NewPolyline(x, pull); err != nil {
			return BadTow
		}
	}
	return Solved
}

// scale is the mass ridden with over that towed.
func (h *Hull) scale() float64 { return h.mass / h.Craft.TowMass.Or(h.mass) }

// Medium is the water and the air that the hull was worked out in.
func (h *Hull) Medium() Medium { return h.m }
