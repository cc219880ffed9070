package electric

import "math"

// Gap is the water between a turning rotor and the bore round it.
type Gap struct {
	Radius float64 // of the rotor, m
	Width  float64 // of the gap, radially, m
	Length float64 // m
}

// GapFlow is how the water in a gap moves.
type GapFlow struct {
	Torque   float64 // N·m
	Reynolds float64 // ω·r·s/ν
	Taylor   float64 // Re·√(s/r); vortices begin at about 41
	Regime   string  // laminar, vortices, turbulent
}

// Drag returns the torque that water in the gap puts against a rotor turning at a speed in rad/s,
// and how the water moves, from its density in kg/m³ and kinematic viscosity in m²/s.
//
//	T = max of  4π·ρ·ν·L·ω·r²·(r + s)²/[(r + s)² − r²]   (laminar)
//	            ½π·ρ·ω²·r⁴·L·C,  C = 2.0·(s/r)^0.3·Re^−0.6,  1.03·(s/r)^0.3·Re^−0.5,  0.065·(s/r)^0.3·Re^−0.2
//	Re = ω·r·s/ν
//
//	r, s, L  radius of the rotor, width and length of the gap, m   [Motor.RotorDiameter, Motor.WetGap, Motor.RotorLength]
//	ρ, ν     density, kg/m³, and kinematic viscosity, m²/s
//	ω        speed, rad/s
//
// Holds for smooth coaxial cylinders, Reynolds numbers up to 1e6 and s/r of 0.01 to 0.4, to about
// 20 %, by which published laws differ; magnets that stand out, slots and the end faces add to it. The greatest of the four laws
// is taken, so that nothing jumps where one follows the other.
//
// Source: bilgen-boulos-1973, wendt-1933. Tests: TestGapExact, TestGapPublished, TestGapLaw.
func (g Gap) Drag(density, viscosity, speed float64) GapFlow {
	r1, r2 := g.Radius, g.Radius+g.Width
	f := GapFlow{Reynolds: math.Abs(speed) * r1 * g.Width / viscosity}
	f.Taylor = f.Reynolds * math.Sqrt(g.Width/r1)
	f.Torque = 4 * math.Pi * density * viscosity * g.Length * speed * r1 * r1 * r2 * r2 / (r2*r2 - r1*r1)
	f.Regime = "laminar"
	if f.Reynolds == 0 {
		return f
	}
	law := gapLaws[0]
	for _, l := range gapLaws[1:] {
		if f.Reynolds > l.from {
			law = l
		}
	}
	full := 0.5 * math.Pi * density * speed * math.Abs(speed) * r1 * r1 * r1 * r1 * g.Length
	if t := full * law.factor * math.Pow(g.Width/r1, 0.3) * math.Pow(f.Reynolds, law.power); math.Abs(t) > math.Abs(f.Torque) {
		f.Torque, f.Regime = t, law.regime
	}
	return f
}

// gapLaws are the laws of the torque coefficient, each with the Reynolds number from which it is the
// greatest of them: where it crosses the one before.
var gapLaws = [...]struct {
	factor, power float64
	regime        string
	from          float64
}{
	{2, -0.6, "vortices", 0},
	{1.03, -0.5, "vortices", math.Pow(2/1.03, 1/0.1)},
	{0.065, -0.2, "turbulent", math.Pow(1.03/0.065, 1/0.3)},
}
