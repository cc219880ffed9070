package strength

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Shigley (Budynas and Nisbett), 9th ed., example 7-5: inputs and 6EIl SEEN, results FROM MEMORY (high): Rayleigh 124.7 rad/s, the two
// single masses 231.4 and 140.9 rad/s. The exact first frequency of the two masses, 124.68 rad/s, is COMPUTED in the reference.
// Dunkerley from the two single ones.
func TestCriticalPublished(t *testing.T) {
	const gravity = 386.1 * inch
	d := inch
	r := Rotor{
		Length: 31 * inch, Rigidity: 30e6 * psi * math.Pi / 64 * d * d * d * d, Supports: [2]float64{0, 31 * inch},
		Masses: [2]PointMass{{7 * inch, 35 * pound / gravity}, {20 * inch, 55 * pound / gravity}},
	}
	near(t, "exact", r.Critical(), 124.68, 2e-4)
	near(t, "Rayleigh", r.RayleighBound(), 124.7, 1.5e-3)
	near(t, "Dunkerley", r.DunkerleyBound(), 1/math.Sqrt(1/(231.4*231.4)+1/(140.9*140.9)), 1e-3)
	one := r
	one.Masses[1].Mass = 0
	near(t, "first alone", one.Critical(), 231.4, 1e-3)
	one = r
	one.Masses[0].Mass = 0
	near(t, "second alone", one.Critical(), 140.9, 1e-3)
	// the bare shaft, 520.4 rad/s FROM MEMORY (high), 0.282 lbf/in³
	bare := r
	bare.Masses = [2]PointMass{}
	bare.Line = 0.282 * pound / (inch * inch * inch) / gravity * math.Pi / 4 * d * d
	near(t, "bare", bare.Critical(), 520.4, 1e-3)
}

// Closed forms: a uniform shaft on two bearings, (π/l)²·√(EI/m′); one on bearings at the ends with nothing but a mass in the middle,
// √(48·EI/(m·l³)); an overhung mass, √(3·EI/(m·o²·(l + o))).
func TestCriticalExact(t *testing.T) {
	const ei, line, l, m = 210.0, 1.3, 0.6, 2.0
	r := Rotor{Length: l, Rigidity: ei, Line: line, Supports: [2]float64{0, l}}
	near(t, "uniform", r.Critical(), math.Pi*math.Pi/(l*l)*math.Sqrt(ei/line), 1e-4)
	r = Rotor{Length: l, Rigidity: ei, Supports: [2]float64{0, l}, Masses: [2]PointMass{{l / 2, m}, {}}}
	near(t, "mass in the middle", r.Critical(), math.Sqrt(48*ei/(m*l*l*l)), 1e-9)
	const o = 0.17
	r = Rotor{Length: l + o, Rigidity: ei, Supports: [2]float64{0, l}, Masses: [2]PointMass{{l + o, m}, {}}}
	near(t, "overhung mass", r.Critical(), math.Sqrt(3*ei/(m*o*o*(l+o))), 1e-9)
}

// An overhung shaft with its own mass, with a mass at its end and without: roots of the 6 × 6 determinant of two exact Euler beams (pinned, joined over
// the bearing, free or with a mass), COMPUTED beside this program in plain Python by bisection: 515.6233 and 1568.7333 rad/s.
func TestCriticalBeamExact(t *testing.T) {
	const d, l, o = 0.012, 0.12, 0.15
	r := Rotor{
		Length: l + o, Rigidity: 207e9 * math.Pi / 64 * d * d * d * d, Line: 8800 * math.Pi / 4 * d * d, Supports: [2]float64{0, l},
		Masses: [2]PointMass{{l + o, 0.35}, {l + o, 0}},
	}
	near(t, "with a mass", r.Critical(), 515.6233, 1e-5)
	r.Masses[0].Mass = 0
	near(t, "bare", r.Critical(), 1568.7333, 1e-4)
}

// A shaft's deflection under a force at the impeller is what the mass there makes of it: ω² = F/(m·y).
func TestDeflectionExact(t *testing.T) {
	for _, support := range []string{"ahead", "stator"} {
		s := someShaft(support, 0.3, 0.11)
		a := ShaftAround{Diameter: 0.014, Mass: 0.7, Gravity: 9.8, Speed: 300}
		m, _ := s.own()
		r := s.Rotor(&a, &m)
		r.Line = 0
		y := s.Deflection(10, r.Rigidity)
		near(t, support, r.Critical(), math.Sqrt(10/(0.7*y)), 1e-9)
		side, unbalance := s.across(&a)
		near(t, "shift", s.Shift(&a), s.Deflection(side+unbalance, r.Rigidity), 1e-12)
	}
}

// Dunkerley's figure is never above the exact one, Rayleigh's never below; more mass or a longer overhang never raises it.
func TestCriticalBoundsLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := someShaft(rapid.SampledFrom([]string{"ahead", "stator"}).Draw(t, "support"), rapid.Float64Range(0.1, 0.6).Draw(t, "span"), rapid.Float64Range(0.01, 0.09).Draw(t, "overhang"))
		a := ShaftAround{Diameter: rapid.Float64Range(0.006, 0.03).Draw(t, "d"), Mass: rapid.Float64Range(0.02, 4).Draw(t, "mass"), Carried: 0.1, WaterDensity: 1000}
		m, _ := s.own()
		r := s.Rotor(&a, &m)
		exact, low, high := r.Critical(), r.DunkerleyBound(), r.RayleighBound()
		if !(low <= exact*(1+1e-9) && exact <= high*(1+1e-9)) {
			t.Errorf("Dunkerley %g, exact %g, Rayleigh %g", low, exact, high)
		}
		r.Masses[0].Mass *= 1.3
		if heavier := r.Critical(); heavier > exact*(1+1e-9) {
			t.Errorf("heavier: %g after %g", heavier, exact)
		}
	})
}

func BenchmarkCritical(b *testing.B) {
	s := someShaft("ahead", 0.1, 0.15)
	a := ShaftAround{Diameter: 0.014, Mass: 0.7, Carried: 0.1, WaterDensity: 1000}
	m, _ := s.own()
	r := s.Rotor(&a, &m)
	b.ReportAllocs()
	for b.Loop() {
		r.Critical()
	}
}
