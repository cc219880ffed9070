package heat

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func near(t *testing.T, name string, got, want, tolerance float64) {
	t.Helper()
	if math.Abs(got-want) > tolerance {
		t.Errorf("%s = %.8g, want %.8g within %.1e", name, got, want, tolerance)
	}
}

func TestFlowExact(t *testing.T) {
	c := Cooling{TapDiameter: 0.006, LossCoefficient: 16}
	near(t, "Q", c.Flow(8000, 1000), math.Pi/4*36e-6*1, 1e-15) // 16 velocity heads at 1 m/s are 8 kPa
}

func TestSteadyExact(t *testing.T) {
	c := Cooling{First: "controller", PlateToCoolant: 0.01, JacketToCoolant: 0.02}
	l := Load{Carried: 100, Inlet: 290, Motor: 400, Controller: 100, BridgeToPlate: 0.05}
	s := c.Steady(l)
	near(t, "outlet", s.CoolantOutlet, 295, 1e-12)
	near(t, "bridge", s.BridgeTemperature, 290+100*0.06+0.5, 1e-12)
	near(t, "jacket", s.JacketTemperature, 291+400*0.02+2, 1e-12)
	c.First = "motor"
	s = c.Steady(l)
	near(t, "bridge behind the motor", s.BridgeTemperature, 294+6+0.5, 1e-12)
	near(t, "jacket first", s.JacketTemperature, 290+8+2, 1e-12)
}

// The closed form is the temperature at which heat made is heat taken away.
func TestSteadyWindingExact(t *testing.T) {
	w := Winding{Coolant: 290, Resistance: 0.1, OtherHeat: 60, CopperAtReference: 300, Alpha: 0.0039, Reference: 298.15}
	temp, ok := SteadyWinding(w)
	if !ok {
		t.Fatal("no steady temperature")
	}
	heat := w.OtherHeat + w.CopperAtReference*(1+w.Alpha*(temp-w.Reference))
	near(t, "balance", w.Coolant+w.Resistance*heat, temp, 1e-10)
	w.CopperAtReference = 1 / (w.Resistance * w.Alpha)
	if _, ok := SteadyWinding(w); ok {
		t.Error("a loss that grows faster than its cooling settled")
	}
}

// Worked example of A. M. Johnson, Carnegie Mellon University (CC BY 4.0), SEEN: peak winding
// temperature 183.180 °C, first above 130 °C at 10.75 s and above 155 °C at 18.25 s, with Euler
// steps of 0.25 s. Continuous current for 155 °C 3.262 A COMPUTED with the same data.
func TestTwoNodePublished(t *testing.T) {
	const zero = 273.15
	n := TwoNode{
		WindingCapacity: 4.12 / 0.74, HousingCapacity: 968 / 8.96, WindingToHousing: 0.74, HousingToAmbient: 8.96,
		Resistance: 0.836, ResistanceAt: zero + 25, Alpha: 0.0039, Ambient: zero + 25,
	}
	current := 24.0 / 80 / 0.0261
	w, h := n.Ambient, n.Ambient
	peak, at130, at155 := 0.0, 0.0, 0.0
	for i := 0; i < 400; i++ {
		c := current
		if float64(i)*0.25 >= 30 {
			c = 0
		}
		w, h = n.Step(w, h, c, 0.25)
		at := float64(i+1) * 0.25
		peak = math.Max(peak, w-zero)
		if at130 == 0 && w > zero+130 {
			at130 = at
		}
		if at155 == 0 && w > zero+155 {
			at155 = at
		}
	}
	near(t, "peak", peak, 183.180, 1e-3)
	near(t, "130 °C", at130, 10.75, 1e-9)
	near(t, "155 °C", at155, 18.25, 1e-9)
	near(t, "continuous current", n.ContinuousCurrent(zero+155), 3.262, 1e-3)
}

// Bare aluminium of emissivity 0.2 at 80 °C in 7 °C surroundings shows about 27 °C at a setting of
// 0.95. COMPUTED from the radiation balance; common practice, no source, for the emissivities.
func TestInfraredReadingPublished(t *testing.T) {
	near(t, "shown", InfraredReading(353.15, 280.15, 0.2, 0.95)-273.15, 27, 1.0)
	near(t, "matt tape", InfraredReading(353.15, 280.15, 0.95, 0.95), 353.15, 1e-9)
}

// Reading and surface invert each other; bright metal hotter than its surroundings shows too little.
func TestInfraredLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		surface, around := rapid.Float64Range(275, 420).Draw(t, "T"), rapid.Float64Range(270, 310).Draw(t, "T_s")
		e, set := rapid.Float64Range(0.05, 0.95).Draw(t, "ε"), rapid.Float64Range(0.9, 1).Draw(t, "ε_set")
		shown := InfraredReading(surface, around, e, set)
		back, ok := SurfaceFromInfrared(shown, around, e, set)
		if !ok || math.Abs(back-surface) > 1e-6 {
			t.Fatalf("%g K shows %g K, read back %g K", surface, shown, back)
		}
		if surface > around+1 && e < set-0.01 && shown >= surface {
			t.Fatalf("%g K at emissivity %g shows %g K", surface, e, shown)
		}
	})
	if _, ok := SurfaceFromInfrared(200, 300, 0.1, 0.95); ok {
		t.Error("a reading colder than anything reflected was taken")
	}
}
