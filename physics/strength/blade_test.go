package strength

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"jetwright/quantity"
)

// A plate is a rectangle; the lens is summed strip by strip.
func TestSectionExact(t *testing.T) {
	plate := BladeRoot{Chord: 0.04, Thickness: 0.003, Plate: true}
	near(t, "plate area", plate.Area(), 0.04*0.003, 1e-12)
	near(t, "plate modulus", plate.Modulus(), 0.04*0.003*0.003/6, 1e-12)
	near(t, "plate moment", plate.Moment(), 0.04*math.Pow(0.003, 3)/12, 1e-12)
	lens := BladeRoot{Chord: 0.04, Thickness: 0.003}
	var area, moment, across float64
	const n = 40000
	for i := range n {
		x := (float64(i)+0.5)/n*0.04 - 0.02
		h := 0.003 * (1 - math.Pow(x/0.02, 2))
		dx := 0.04 / n
		area += h * dx
		moment += h * h * h / 12 * dx
		across += h * x * x * dx
	}
	near(t, "lens area", lens.Area(), area, 1e-6)
	near(t, "lens moment", lens.Moment(), moment, 1e-6)
	near(t, "lens modulus", lens.Modulus(), moment/0.0015, 1e-6)
	near(t, "lens across", lensSection.edge*0.003*0.04*0.04, across/0.02, 1e-6)
}

// A rectangular root under a force F at arm L: σ = 6·F·L/(c·t²).
func TestRootStressExact(t *testing.T) {
	const f, l, c, h = 40.0, 0.015, 0.04, 0.003
	b := BladeRoot{Chord: c, Thickness: h, Plate: true}
	near(t, "flat chord, axial force", b.BendingStress(f*l, 0), 6*f*l/(c*h*h), 1e-12)
	b.Angle = math.Pi / 2
	near(t, "upright chord, tangential force", b.BendingStress(0, f*l), 6*f*l/(c*h*h), 1e-12)
	near(t, "upright chord, axial force", b.BendingStress(f*l, 0), 6*f*l/(h*c*c), 1e-9)
}

// The moments are the sums of force by arm over the span: pressure on rings, and a free vortex whose torque is the torque.
func TestRootMomentsExact(t *testing.T) {
	a := someAnnulus()
	const n, blades = 20000, 4
	var axial, tangential, torque float64
	c := a.Whirl() * a.MeanRadius()
	through := a.Flow / (math.Pi * (a.Tip*a.Tip - a.Hub*a.Hub))
	for i := range n {
		r := a.Hub + (a.Tip-a.Hub)*(float64(i)+0.5)/n
		dr := (a.Tip - a.Hub) / n
		axial += a.PressureRise() * 2 * math.Pi * r * dr * (r - a.Hub) / blades
		force := a.Density * through * c / r * 2 * math.Pi * r * dr
		tangential += force * (r - a.Hub) / blades
		torque += force * r
	}
	near(t, "torque", torque, a.Torque, 1e-9)
	x, y := a.RootMoments(blades)
	near(t, "axial", x, axial, 1e-7)
	near(t, "tangential", y, tangential, 1e-7)
}

// A blade of one section pulls as the integral of its mass by radius.
func TestPullStressExact(t *testing.T) {
	b := BladeRoot{Chord: 0.04, Thickness: 0.003}
	const n = 20000
	sum := 0.0
	for i := range n {
		r := 0.02 + 0.027*(float64(i)+0.5)/n
		sum += 1200 * 500 * 500 * r * 0.027 / n
	}
	near(t, "straight", b.PullStress(1200, 500, 0.047, 0.020), sum, 1e-9)
	b.Lean = 0.2
	bend := sum * b.Area() * math.Tan(0.2) * 0.0135 / b.Modulus()
	near(t, "leaning", b.PullStress(1200, 500, 0.047, 0.020), sum+bend, 1e-9)
}

// A cantilever under an even load q: y = q·L⁴/(8·E·I) with M = q·L²/2.
func TestTipDeflectionExact(t *testing.T) {
	b := BladeRoot{Chord: 0.04, Thickness: 0.003, Plate: true}
	const q, l, e = 1200.0, 0.03, 2e9
	near(t, "tip", b.TipDeflection(q*l*l/2, l, e), q*math.Pow(l, 4)/(8*e*b.Moment()), 1e-12)
}

// A cantilever's first frequency is 0.5596·√(E·I/(µ·L⁴)) (handbooks, FROM MEMORY, high); the root satisfies cos x·cosh x = −1.
func TestFrequencyExact(t *testing.T) {
	if r := math.Cos(firstBending)*math.Cosh(firstBending) + 1; math.Abs(r) > 1e-8 {
		t.Errorf("the root leaves %g", r)
	}
	b := BladeRoot{Chord: 0.04, Thickness: 0.003, Plate: true}
	const l, e, rho = 0.03, 70e9, 2700.0
	near(t, "air", b.Frequency(l, e, rho, 0), 0.5596*math.Sqrt(e*b.Moment()/(rho*b.Area()*math.Pow(l, 4))), 1e-4)
	// water by its added mass
	ratio := b.Frequency(l, e, rho, 1000) / b.Frequency(l, e, rho, 0)
	added := math.Pi / 4 * 1000 * 0.04 * 0.04 * 1.5 / (1.5 + 0.7) / (rho * b.Area())
	near(t, "water", ratio, 1/math.Sqrt(1+added), 1e-12)
}

// Added mass of rectangular plates by the ratio of their sides, a classification society's table FROM MEMORY (medium).
func TestPlateWaterPublished(t *testing.T) {
	for _, c := range [][2]float64{{1, 0.579}, {1.25, 0.642}, {1.5, 0.690}, {2, 0.757}, {3, 0.830}, {4, 0.872}, {5, 0.897}, {8, 0.934}, {10, 0.947}} {
		near(t, "plate", PlateWater(c[0]), c[1], 0.025)
	}
}

func TestSeparationExact(t *testing.T) {
	const n = 60 * 2 * math.Pi // 60 Hz
	near(t, "vanes", Separation(400, n, 7), 20.0/420, 1e-9)
	near(t, "second", Separation(150, n, 7), 0.25, 1e-9)
	near(t, "no vanes", Separation(400, n, 0), 400.0/120-1, 1e-9)
}

// Closed forms of turning discs: a bore that vanishes doubles the stress of a solid disc, (3 + ν)/8·ρ·Ω²·b²; a thin ring has ρ·Ω²·r²; a
// ring pulled evenly at its outer face has the stress of Lamé.
func TestRingStressExact(t *testing.T) {
	h := Hub{Bore: 1e-9, Radius: 0.05, Length: 0.04, Density: 7800, Poisson: 0.3, Modulus: 200e9}
	w2 := 700.0 * 700 * 7800
	near(t, "pin hole", h.RingStress(700, 0), 2*(3+0.3)/8*w2*0.05*0.05, 1e-6)
	h.Bore = 0.04999
	near(t, "thin ring", h.RingStress(700, 0), w2*0.05*0.05, 1e-3)
	h.Bore = 0.02
	pull := 2 * math.Pi * 0.05 * 0.04 * 3e6 // 3 MPa outwards
	near(t, "pull", h.RingStress(700, pull)-h.RingStress(700, 0), 2*3e6*0.05*0.05/(0.05*0.05-0.02*0.02), 1e-9)
}

// A thin ring grows by ρ·Ω²·r³/E; a blade by its own pull, summed.
func TestGrowthExact(t *testing.T) {
	h := Hub{Bore: 0.04999, Radius: 0.05, Length: 0.04, Density: 1200, Poisson: 0.35, Modulus: 2e9}
	ring := 1200 * 500 * 500 * math.Pow(0.05, 3) / 2e9
	near(t, "ring", h.Growth(500, 0.05), ring, 1e-3)
	sum := 0.0
	const n = 4000
	for i := range n {
		r := 0.05 + 0.03*(float64(i)+0.5)/n
		sum += 1200 * 500 * 500 * (0.08*0.08 - r*r) / 2 / 2e9 * 0.03 / n
	}
	near(t, "blade", h.Growth(500, 0.08)-h.Growth(500, 0.05), sum, 1e-6)
}

func TestHoopStressExact(t *testing.T) {
	near(t, "hoop", HoopStress(1e5, 0.09, 0.003), 1.5e6, 1e-12)
}

func TestFragmentEnergyExact(t *testing.T) {
	near(t, "energy", FragmentEnergy(0.01, 700, 0.035), 0.5*0.01*24.5*24.5, 1e-12)
}

// Shear force falling straight from τ·P·t to nothing over t.
func TestPunchEnergyExact(t *testing.T) {
	sum := 0.0
	const n = 1000
	for i := range n {
		x := 0.005 * (float64(i) + 0.5) / n
		sum += 0.6 * 300e6 * 0.09 * (0.005 - x) * 0.005 / n
	}
	near(t, "energy", PunchEnergy(300e6, 0.09, 0.005), sum, 1e-9)
}

// Stress areas of ISO 898-1, FROM MEMORY (high), mm².
func TestBoltAreaPublished(t *testing.T) {
	for _, c := range [][2]float64{{3, 5.03}, {4, 8.78}, {5, 14.2}, {6, 20.1}, {8, 36.6}, {10, 58.0}, {12, 84.3}, {16, 157}} {
		near(t, "area", BoltArea(c[0]/1000)*1e6, c[1], 3e-3)
	}
}

func TestBoltForcesExact(t *testing.T) {
	along, across := BoltForces(50e3, 0.09, 8, 6, 0.055)
	near(t, "along", along, 50e3*math.Pi/4*0.0081/6, 1e-12)
	near(t, "across", across, 8/(6*0.055), 1e-12)
	if along, _ := BoltForces(-50e3, 0.09, 8, 6, 0.055); along != 0 {
		t.Errorf("suction pulls at the bolts with %g N", along)
	}
}

// A beam held at both ends under an even load has F·L/12 there.
func TestVaneStressExact(t *testing.T) {
	a := someAnnulus()
	v := BladeRoot{Number: 7, Chord: 0.035, Thickness: 0.0025}
	force := 2 * 8.0 / (7 * 0.067)
	near(t, "vane", a.VaneStress(&v), force*0.027/12/v.Modulus(), 1e-12)
}

func someRotor(material string) RotorAround {
	return RotorAround{
		Annulus: someAnnulus(), Material: material, Stator: material, Bore: 0.006, Length: 0.05, FreeSpeed: 700, Gap: 0.0006, Off: 0.0001, Shift: 0.00005,
		Root: BladeRoot{Number: 4, Chord: 0.045, Thickness: 0.009, Angle: 0.9}, Body: BladeRoot{Number: 4, Chord: 0.045, Thickness: 0.005},
		Vane: BladeRoot{Number: 7, Chord: 0.035, Thickness: 0.0025}, Pressure: 50e3, Outlet: 0.094,
	}
}

func someImpeller() Impeller {
	return Impeller{RootNotch: 1.5, LoadSwing: 0.3, FrequencyFactor: 1, WaterShare: 0.2, Layers: "across"}
}

// Whatever is typed of a print, short of a test of its own, its root is never clear, and neither is its overspeed.
func TestPrintNeverClearLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := someRotor(rapid.SampledFrom([]string{"PLA", "PETG", "SLS PA12", "ASA", "resin", "PA6-CF"}).Draw(t, "material"))
		r.Torque = rapid.Float64Range(0.01, 60).Draw(t, "torque")
		r.Root.Thickness = rapid.Float64Range(0.001, 0.02).Draw(t, "thickness")
		p := someImpeller()
		p.Layers = rapid.SampledFrom([]string{"along", "across"}).Draw(t, "layers")
		for _, l := range p.Limits(nil, &r, &Housing{}) {
			if (l.Name == LimitBladeRoot || l.Name == LimitOverspeed) && l.NotJudged == "" && l.Margin() >= 0 {
				t.Errorf("%s of %s has %g left", l.Name, r.Material, l.Margin())
			}
			if math.IsNaN(l.Margin()) || math.IsInf(l.Margin(), 0) {
				t.Errorf("%s has no margin", l.Name)
			}
		}
	})
}

// A metal impeller is judged; more load is never less stress, and a proof speed goes before the burst speed.
func TestMetalRotorLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := someRotor("6061-T6")
		r.Torque = rapid.Float64Range(0.1, 9).Draw(t, "torque") // beyond it the water would whirl faster than the blades run
		p := someImpeller()
		of := func(r RotorAround, name string) float64 {
			for _, l := range p.Limits(nil, &r, &Housing{}) {
				if l.Name == name {
					if l.NotJudged != "" {
						t.Fatalf("%s is not judged: %s", name, l.NotJudged)
					}
					return l.Margin()
				}
			}
			t.Fatalf("no %s", name)
			return 0
		}
		more := r
		more.Torque *= 1.1
		if a, b := of(r, LimitBladeRoot), of(more, LimitBladeRoot); b >= a {
			t.Errorf("margin %g at more load after %g", b, a)
		}
		thick := r
		thick.Root.Thickness *= 1.2
		if a, b := of(r, LimitBladeRoot), of(thick, LimitBladeRoot); b <= a {
			t.Errorf("margin %g of a thicker root after %g", b, a)
		}
		if of(r, LimitOverspeed) < 0 {
			t.Errorf("a solid aluminium impeller of 94 mm bursts below 10000 rpm")
		}
	})
}

// What is not typed is named; a material without data by its text.
func TestRotorMissing(t *testing.T) {
	r := someRotor("")
	r.Root.Chord = 0
	if got := r.BladeMissing(); got != "type impeller.material, impeller.root_chord" {
		t.Errorf("missing %q", got)
	}
	wide := someRotor("PETG")
	wide.Bore = wide.Hub
	if got := wide.BladeMissing(); got != "the shaft is not thinner than the hub: type shaft.diameter" {
		t.Errorf("missing %q", got)
	}
	r.Material = "balsa"
	if got := r.BladeMissing(); got != `impeller.material = "balsa" names no material with data here` {
		t.Errorf("missing %q", got)
	}
}

// A wall, a vane or a gap that cannot be judged is not left out and not called clear: it names what is missing. A gap that closes without
// the shaft's share is broken all the same.
func TestNothingLeftOutLaw(t *testing.T) {
	find := func(r RotorAround, h Housing, name string) quantity.Limit {
		p := someImpeller()
		r.Metal, _ = FindMaterial(r.Material)
		r.Nozzle, r.Wall, r.Bolts, r.Circle = 0.005, 0.006, 6, 0.055
		for _, l := range p.Limits(nil, &r, &h) {
			if l.Name == name {
				return l
			}
		}
		t.Fatalf("no limit %s", name)
		return quantity.Limit{}
	}
	r := someRotor("6061-T6")
	r.Torque = 5
	if l := find(r, Housing{Material: "6082-T6", BoltClass: "A2-50", BoltDiameter: quantity.Some(0.005)}, "stress in the nozzle's wall"); l.NotJudged != "" {
		t.Error(l.NotJudged)
	}
	unknown := Housing{Material: "cheese", BoltClass: "A2-50", BoltDiameter: quantity.Some(0.005)}
	for _, name := range []string{"stress in the nozzle's wall", "bolts of the housing", LimitContainment} {
		if l := find(r, unknown, name); !strings.Contains(l.NotJudged, `housing.material = "cheese"`) {
			t.Errorf("%s: %q", name, l.NotJudged)
		}
	}
	vanes := r
	vanes.Stator = "cheese"
	if l := find(vanes, Housing{}, "stress in the stator's vanes"); !strings.Contains(l.NotJudged, `stator.material = "cheese"`) {
		t.Errorf("vanes: %q", l.NotJudged)
	}
	r.ShiftWhy = "type shaft.overhang"
	if l := find(r, Housing{}, LimitTipGap); l.NotJudged != r.ShiftWhy {
		t.Errorf("the gap without the shaft's bend: %q", l.NotJudged)
	}
	r.Gap = 0.5 * r.Off
	if l := find(r, Housing{}, LimitTipGap); l.NotJudged != "" || l.Margin() >= 0 {
		t.Errorf("a gap that closes: %q, %g left", l.NotJudged, l.Margin())
	}
}

func TestRootStressesExact(t *testing.T) {
	p := someImpeller()
	x := p.RootStress(10e6, 2e6)
	near(t, "alternating", x.Alternating, 1.5*0.3*10e6, 1e-12)
	near(t, "mean", x.Mean, 1.5*12e6, 1e-12)
}

// At the burst speed the stress of turning, which goes with its square, is the strength of whichever gives way first.
func TestBurstSpeedExact(t *testing.T) {
	p := someImpeller()
	m := Material{Yield: 40e6, Printed: true, Across: 0.5}
	w := p.BurstSpeed(&m, 400, 1e6, 0.5e6)
	near(t, "root gives way", 1.5*1e6*(w/400)*(w/400), 20e6, 1e-12)
	p.Layers = "along"
	w = p.BurstSpeed(&m, 400, 0.1e6, 0.5e6)
	near(t, "hub gives way", 0.5e6*(w/400)*(w/400), 40e6, 1e-12)
}
