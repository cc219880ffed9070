package craft

import "math"

// Planing is a hull on a planing bottom at a speed, by Savitsky.
type Planing struct {
	Trim          float64 `unit:"deg" doc:"trim of the keel"`
	WettedRatio   float64 `unit:"1" doc:"mean wetted length over chine beam"`
	KeelLength    float64 `unit:"m" doc:"wetted length of the keel"`
	ChineLength   float64 `unit:"m" doc:"wetted length of the chines"`
	Centre        float64 `unit:"m" doc:"centre of pressure ahead of the transom"`
	DynamicShare  float64 `unit:"1" doc:"share of the lift that the speed makes; buoyancy carries the rest"`
	PressureDrag  float64 `unit:"N" doc:"drag of the pressure on the inclined bottom"`
	FrictionDrag  float64 `unit:"N" doc:"friction on the wetted bottom, as a horizontal drag"`
	SprayDrag     float64 `unit:"N" doc:"friction under the whisker spray, as a horizontal drag"`
	LiftCoeff     float64 `unit:"1" key:"lift_coefficient" doc:"lift coefficient on the beam squared"`
	SpeedCoeff    float64 `unit:"1" key:"speed_coefficient" doc:"speed over the root of gravity times beam"`
	BottomSpeed   float64 `unit:"m/s" doc:"mean speed of the water along the bottom"`
	bottomFlat    float64 // lift coefficient of a flat bottom
	frictionForce float64 // along the bottom, N
}

// FlatLift returns the lift coefficient of the flat bottom that lifts as much as one with deadrise, dimensionless.
//
//	C_Lβ = C_L0 − 0.0065·β·C_L0^0.60
//
//	C_Lβ  lift coefficient of the bottom, Δ/(½·ρ·V²·b²), -
//	β     deadrise in degrees (argument in rad)
//
// Holds for a deadrise of 0 to 30°.
//
// Source: savitsky-1964. Tests: TestSavitskyTablePublished, TestFlatLiftExact.
func FlatLift(lift, deadrise float64) float64 {
	k := 0.0065 * degrees(deadrise)
	if k == 0 {
		return lift
	}
	c := lift + k*math.Pow(lift+math.Pow(math.Abs(k), 2.5), 0.6)
	for range 30 {
		p := k * math.Pow(c, 0.6)
		next := c - (c-p-lift)/(1-0.6*p/c)
		if math.Abs(next-c) < 1e-14*c {
			return next
		}
		c = next
	}
	return c
}

// WettedRatio returns the mean wetted length over the beam at which a flat bottom has a lift, dimensionless.
//
//	C_L0 = τ^1.1·(0.0120·λ^0.5 + 0.0055·λ^2.5/C_V²)
//
//	τ    trim in degrees (argument in rad)
//	C_V  speed coefficient V/√(g·b), -
//
// Holds for C_V 0.60 to 13, a trim of 2° to 15° and λ up to 4; it goes on smoothly and Hull.At says so.
//
// Source: savitsky-1964. Tests: TestSavitskyTablePublished, TestWettedRatioExact.
func WettedRatio(flatLift, trim, speedCoefficient float64) float64 {
	k := flatLift / math.Pow(degrees(trim), 1.1)
	q := 0.0055 / (speedCoefficient * speedCoefficient)
	s := math.Min(k/0.0120, math.Pow(k/q, 0.2)) // from above, where Newton cannot overshoot: s = √λ
	for range 60 {
		s4 := s * s * s * s
		next := s - (0.0120*s+q*s4*s-k)/(0.0120+5*q*s4)
		if math.Abs(next-s) < 1e-14*s {
			s = next
			break
		}
		s = next
	}
	return s * s
}

// PressureCentre returns the centre of pressure over the mean wetted length, ahead of the transom, dimensionless.
//
//	C_p = 0.75 − 1/(5.21·C_V²/λ² + 2.39)
//
//	C_V  speed coefficient, -
//	λ    mean wetted length over beam, -
//
// Holds as WettedRatio does.
//
// Source: savitsky-1964. Tests: TestSavitskyTablePublished.
func PressureCentre(speedCoefficient, wettedRatio float64) float64 {
	r := speedCoefficient / wettedRatio
	return 0.75 - 1/(5.21*r*r+2.39)
}

// bottom works out the bottom at a trim, rad, for a lift coefficient that is known.
func (h *Hull) bottom(p *Planing, speed, flat, trim float64) {
	sin, cos := math.Sincos(trim)
	b := h.beam
	*p = Planing{Trim: trim, LiftCoeff: h.weight / (0.5 * h.m.Density * speed * speed * b * b), SpeedCoeff: speed / math.Sqrt(h.m.Gravity*b), bottomFlat: flat}
	l := WettedRatio(flat, trim, p.SpeedCoeff)
	p.WettedRatio = l
	tau := math.Pow(degrees(trim), 1.1)
	dynamic := 0.0120 * math.Sqrt(l) * tau
	p.DynamicShare = dynamic / flat
	p.Centre = PressureCentre(p.SpeedCoeff, l) * l * b
	half := b * h.tanBeta * cos / (2 * math.Pi * sin) // b·tan β/(2π·tan τ)
	p.KeelLength, p.ChineLength = l*b+half, l*b-half
	dynamic -= h.deadriseLift * math.Pow(dynamic, 0.6)
	p.BottomSpeed = speed * math.Sqrt(math.Max(1-dynamic/(l*cos), 0.05)) // a share that no real trim comes near to
	re := p.BottomSpeed * l * b / h.m.Viscosity
	p.frictionForce = 0.5 * h.m.Density * p.BottomSpeed * p.BottomSpeed * l * b * b * h.Friction(re, l*b) / h.cosBeta
	p.FrictionDrag = p.frictionForce / cos
	p.PressureDrag = h.weight * sin / cos
}

// moment is what turns the bow down about the centre of gravity, N·m, with the spray and a drag of the air.
func (h *Hull) moment(p *Planing, spray, air float64) float64 {
	sin, cos := math.Sincos(p.Trim)
	c := h.centre - p.Centre
	a := h.height - b4(h.beam)*h.tanBeta
	f := h.height*math.Cos(h.thrustAngle) - h.thrustHeight
	return h.weight*((1-sin*math.Sin(p.Trim+h.thrustAngle))*c/cos-f*sin) + (p.frictionForce+spray)*(a-f) - air*f
}

func b4(beam float64) float64 { return 0.25 * beam }

// WhiskerSpray returns the drag of the spray that lies on the bottom ahead of the stagnation line, as a force along the bottom, N.
//
//	tan α = (π/2)·tan τ/tan β,  θ = 2α/cos β,  Δλ = cos θ/(4·sin 2α·cos β)
//	R = ½·ρ·V²·Δλ·b²·C_f,  Re on b/(4·sin 2α·cos β);  C_f = 1.328/√Re below Re 1.5e6, else 0.074/Re^0.2 − 4800/Re
//
//	τ, β  trim and deadrise, rad
//	V     speed, m/s;  b beam, m
//
// A flat bottom has none, and for θ above 90° it points ahead and is left out: at 90° it vanishes by itself.
//
// Source: savitsky-2007. Tests: TestWhiskerSprayPublished.
func (h *Hull) WhiskerSpray(speed, trim float64) float64 {
	extent, length, ok := whisker(trim, h.deadrise)
	if !ok {
		return 0
	}
	re := speed * length * h.beam / h.m.Viscosity
	cf := 1.328 / math.Sqrt(re)
	if re >= 1.5e6 {
		cf = 0.074/math.Pow(re, 0.2) - 4800/re
	}
	return 0.5 * h.m.Density * speed * speed * extent * h.beam * h.beam * cf
}

// whisker is the spray's extent Δλ and its length over the beam.
func whisker(trim, deadrise float64) (extent, length float64, ok bool) {
	if deadrise <= 0 {
		return 0, 0, false
	}
	alpha := math.Atan(math.Pi / 2 * math.Tan(trim) / math.Tan(deadrise))
	theta := 2 * alpha / math.Cos(deadrise)
	if theta >= math.Pi/2 {
		return 0, 0, false
	}
	length = 1 / (4 * math.Sin(2*alpha) * math.Cos(deadrise))
	return math.Cos(theta) * length, length, true
}

// Plane returns the hull planing in balance: the trim at which lift, weight, friction, spray, thrust and the air's drag in N turn
// it neither way.
//
//	Δ·{[1 − sin τ·sin(τ + ε)]·c/cos τ − f·sin τ} + (D_f + D_s)·(a − f) − D_a·f = 0
//	D = Δ·tan τ + (D_f + D_s)/cos τ
//
//	Δ    weight, N;  τ trim;  ε angle of the thrust to the keel          [Craft.ThrustAngle]
//	c    centre of gravity ahead of the centre of pressure, m            [Craft.GravityCentre]
//	f    thrust line below the centre of gravity, m                      [Craft.ThrustHeight]
//	a    centre of gravity above the bottom's mean height b·tan β/4, m   [Craft.GravityHeight]
//	D_f  friction ½·ρ·V_m²·λ·b²·C_f/cos β;  D_s spray;  D_a air, which acts at the height of the weight
//
// The trim is sought between 0.05° and 60°, where the moment changes its sign; outside 2° to 15° Hull.At says so. A trim that is found nowhere
// there gives false: the weight lies behind all that could carry it.
//
// Source: savitsky-1964, savitsky-2007, own. Tests: TestSavitskyExamplePublished, TestPersonalCraftPublished, TestPlaneLaw.
func (h *Hull) Plane(speed, air float64) (Planing, bool) {
	var p Planing
	q := 0.5 * h.m.Density * speed * speed * h.beam * h.beam
	flat := FlatLift(h.weight/q, h.deadrise)
	at := func(x float64) float64 {
		trim := math.Exp(x)
		h.bottom(&p, speed, flat, trim)
		spray := 0.0
		if h.spray {
			spray = h.WhiskerSpray(speed, trim)
		}
		p.SprayDrag = spray / math.Cos(trim)
		return h.moment(&p, spray, air) / (h.weight * h.beam)
	}
	low, high := math.Log(0.05*math.Pi/180), math.Log(60*math.Pi/180)
	// a first look from a usual trim outward; the moment grows with the trim
	x := math.Log(4 * math.Pi / 180)
	y := at(x)
	var yLow, yHigh float64
	if y > 0 {
		high, yHigh = x, y
		for step := 0.25; ; step *= 2 {
			next := math.Max(high-step, low)
			if v := at(next); v <= 0 {
				low, yLow = next, v
				break
			} else if next == low {
				return p, false
			} else {
				high, yHigh = next, v
			}
		}
	} else {
		low, yLow = x, y
		for step := 0.25; ; step *= 2 {
			next := math.Min(low+step, high)
			if v := at(next); v > 0 {
				high, yHigh = next, v
				break
			} else if next == high {
				return p, false
			} else {
				low, yLow = next, v
			}
		}
	}
	side := 0
	for range 80 { // false position that halves the end it keeps
		x = (low*yHigh - high*yLow) / (yHigh - yLow)
		if !(x > low && x < high) {
			x = 0.5 * (low + high)
		}
		y = at(x)
		if math.Abs(y) < 1e-13 || high-low < 1e-13 {
			break
		}
		if y > 0 {
			high, yHigh = x, y
			if side == 1 {
				yLow /= 2
			}
			side = 1
		} else {
			low, yLow = x, y
			if side == -1 {
				yHigh /= 2
			}
			side = -1
		}
	}
	return p, true
}

// Drag is all of the planing hull's drag, N.
//
//	D = Δ·tan τ + (D_f + D_s)/cos τ
//
//	as in Hull.Plane
//
// Holds as Hull.Plane does.
//
// Source: savitsky-1964, savitsky-2007. Tests: TestPlaneLaw.
func (p *Planing) Drag() float64 { return p.PressureDrag + p.FrictionDrag + p.SprayDrag }

// BlountFox returns the factor on a planing hull's drag near the hump, dimensionless.
//
//	M = 0.98 + 2·(LCG/b)^1.45·e^(−2(F − 0.85)) − 3·(LCG/b)·e^(−3(F − 0.85))
//
//	LCG/b  centre of gravity ahead of the transom over the beam, -
//	F      volume Froude number V/√(g·∇^⅓), -
//
// Holds from F = 1.0 on; its constants are recalled.
//
// Source: blount-fox-1976. Tests: TestBlountFoxPublished.
func BlountFox(centreRatio, froude float64) float64 {
	return 0.98 + 2*math.Pow(centreRatio, 1.45)*math.Exp(-2*(froude-0.85)) - 3*centreRatio*math.Exp(-3*(froude-0.85))
}

// PorpoisingTrim returns the trim in rad above which a planing hull begins to porpoise.
//
//	τ = 0.1197·β^0.7651·exp(15.7132·√(C_L/2)·β^−0.2629)
//
//	β    deadrise in degrees (argument in rad)
//	C_L  lift coefficient on the beam squared, -
//
// A fit of the curves of Savitsky's paper, 10° to 20° of deadrise and √(C_L/2) 0.1 to 0.35, recalled; outside it is a hint
// only. A flat bottom has no such limit here: ok is false.
//
// Source: celano-1998. Tests: TestPorpoisingPublished.
func PorpoisingTrim(liftCoefficient, deadrise float64) (trim float64, ok bool) {
	if deadrise <= 0 {
		return 0, false
	}
	b := degrees(deadrise)
	return 0.1197 * math.Pow(b, 0.7651) * math.Exp(15.7132*math.Sqrt(liftCoefficient/2)*math.Pow(b, -0.2629)) * math.Pi / 180, true
}

func degrees(x float64) float64 { return x * 180 / math.Pi }
