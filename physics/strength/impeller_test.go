package strength

import (
	"math"
	"testing"
)

func someAnnulus() Annulus {
	return Annulus{Tip: 0.047, Hub: 0.020, Density: 1000, Flow: 0.030, Torque: 8.0, Speed: 400}
}

// The momentum that the mean line gives the water is the torque; with a free vortex the pressure's rise follows Euler's head less the
// velocity of the whirl.
func TestMeanLineExact(t *testing.T) {
	a := someAnnulus()
	r := math.Sqrt((0.047*0.047 + 0.020*0.020) / 2)
	near(t, "radius", a.MeanRadius(), r, 1e-12)
	c := a.Whirl()
	near(t, "torque", 1000*0.030*c*r, 8, 1e-12)
	euler := 8.0 * 400 / (1000 * 0.030) // J/kg
	near(t, "pressure", a.PressureRise(), 1000*(euler-c*c/2), 1e-12)
	near(t, "thrust", a.ImpellerThrust(), a.PressureRise()*math.Pi*0.047*0.047, 1e-12)
}

func TestEstimatedMassExact(t *testing.T) {
	a := someAnnulus()
	b := BladeShape{Number: 4, Chord: 0.04, Thickness: 0.003}
	hub := math.Pi * (0.02*0.02 - 0.006*0.006) * 0.05
	near(t, "mass", a.EstimatedMass(2700, 0.006, 0.05, b), 2700*(hub+4*0.04*0.003*0.027*2/3), 1e-12)
	near(t, "water", a.CarriedWater(0.25, 0.05), 0.25*1000*math.Pi*(0.047*0.047-0.02*0.02)*0.05, 1e-12)
}

func TestInWaterExact(t *testing.T) {
	m, ok := FindMaterial("6061-T6")
	if !ok {
		t.Fatal("no 6061")
	}
	near(t, "sea", m.InWater(true), 0.25*96.5e6, 1e-12)
	near(t, "fresh", m.InWater(false), 0.5*96.5e6, 1e-12)
	pla, _ := FindMaterial("PLA")
	near(t, "print", pla.InWater(true), 3.15e6, 1e-12)
}

func TestRuleOfThumbExact(t *testing.T) {
	m, _ := FindMaterial("PETG")
	near(t, "in plane", m.RuleOfThumb(false), 4.2e6, 1e-12)
	near(t, "across", m.RuleOfThumb(true), 2.1e6, 1e-12)
}

// A text names a material by a word of its own, the longest one winning.
func TestFindMaterialExact(t *testing.T) {
	for text, want := range map[string]string{
		"PETG, layers of 0.12 mm": "printed PETG", "Ti-6Al-4V": "titanium grade 5", "stainless 316L bar": "stainless steel 1.4401 (316)", "PA12-CF": "printed nylon with carbon fibre",
		"SLS PA12": "sintered PA12", "plaster": "", "": "", "6061": "aluminium 6061-T6", "Ni-Al bronze": "nickel-aluminium bronze, cast", "steel": "", "13160": "",
	} {
		m, ok := FindMaterial(text)
		if m.Name != want || ok != (want != "") {
			t.Errorf("%q is %q", text, m.Name)
		}
	}
	seen := map[string]string{}
	for _, m := range materials {
		for _, w := range m.Words {
			if seen[w] != "" {
				t.Errorf("%q names %s and %s", w, seen[w], m.Name)
			}
			seen[w] = m.Name
		}
		if m.Modulus <= 0 || m.Density <= 0 || m.Tensile < m.Yield || m.Source == "" || m.HowKnown == "" {
			t.Errorf("%s lacks a value: %+v", m.Name, m)
		}
		if m.Printed != (m.Across > 0) || m.Printed != (m.Softens > 0) {
			t.Errorf("%s: a print says what it is across layers and where it softens", m.Name)
		}
	}
}
