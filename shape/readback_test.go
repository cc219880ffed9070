package shape

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// onCylinder is a section on a cylinder, angles in degrees and lengths in millimetres.
func onCylinder(t testing.TB, form string, inlet, outlet, chord, thickness, leading, trailing, turn float64) *Section {
	t.Helper()
	wall := func(r float64) Wall { return Wall{Z: []float64{-1, 1}, R: []float64{r, r}} }
	row := &Row{
		Name: "impeller", Blades: 4, Span: []float64{0, 1}, Inlet: []float64{inlet * math.Pi / 180}, Outlet: []float64{outlet * math.Pi / 180}, Chord: []float64{1e-3 * chord},
		Thickness: []float64{1e-3 * thickness}, Form: form, LeadingRadius: 1e-3 * leading, TrailingRadius: 1e-3 * trailing, Turn: turn, Hub: wall(0.02), Tip: wall(0.05),
	}
	s, fault := row.Section(0.5)
	if fault != nil {
		t.Fatal(fault)
	}
	return s
}

// Points of a section's own outline give its numbers back, wherever it lies and whichever way the blades lead.
func TestFitSectionExact(t *testing.T) {
	const degree = math.Pi / 180
	for _, c := range []struct {
		form                                                     string
		inlet, outlet, chord, thickness, leading, trailing, turn float64
	}{
		{"double arc", 24, 38, 37, 2.4, 0.6, 0.6, -1},
		{"double arc", 61, 100, 30, 2.6, 0.7, 0.5, 1},
		{"plate", 20, 26, 45, 3, 1.0, 0.8, -1},
		{"C4", 30, 52, 40, 4, 0.9, 0.6, -1},
		{"65-series", 45, 88, 38, 3, 0.5, 0.6, -1},
		{"four-digit", 30, 30, 40, 4, 0.8, 0.6, 1},
	} {
		s := onCylinder(t, c.form, c.inlet, c.outlet, c.chord, c.thickness, c.leading, c.trailing, c.turn)
		points := s.Unrolled(40)
		for i := range points {
			points[i][0] += 0.013
			points[i][1] -= 0.004
		}
		rand.New(rand.NewPCG(1, 2)).Shuffle(len(points), func(i, j int) { points[i], points[j] = points[j], points[i] })
		f, fault := FitSection(points, c.form, c.turn)
		if fault != nil {
			t.Errorf("%v: %v", c, fault)
			continue
		}
		if f.Misfit > 1e-6 || math.Abs(f.Inlet-s.Inlet) > 0.02*degree || math.Abs(f.Outlet-s.Outlet) > 0.02*degree || math.Abs(f.Chord-s.Chord) > 5e-6 ||
			math.Abs(f.Thickness-s.Thickness) > 5e-6 || math.Abs(f.Leading-s.Leading) > 1e-5 || math.Abs(f.Trailing-s.Trailing) > 1e-5 {
			t.Errorf("%v comes back as %.3f° to %.3f°, chord %.4f, thickness %.4f, edges %.4f and %.4f mm, misfit %.2g mm", c, f.Inlet/degree, f.Outlet/degree, 1e3*f.Chord, 1e3*f.Thickness, 1e3*f.Leading, 1e3*f.Trailing, 1e3*f.Misfit)
		}
	}
}

// With noise on every point the numbers lie within their standard uncertainties as often as they should, and the misfit is the noise.
func TestFitSectionLaw(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 5))
	between := func(a, b float64) float64 { return a + (b-a)*random.Float64() }
	far, all := 0, 0
	for range 30 {
		inlet, thickness := between(15, 60), between(2, 5)
		s := onCylinder(t, "double arc", inlet, inlet+between(-5, 45), between(25, 60), thickness, thickness*between(0.15, 0.4), thickness*between(0.15, 0.4), -1)
		points := s.Unrolled(60)
		const noise = 20e-6
		for i := range points {
			points[i][0] += noise * random.NormFloat64()
			points[i][1] += noise * random.NormFloat64()
		}
		f, fault := FitSection(points, "double arc", -1)
		if fault != nil {
			t.Errorf("%+v: %v", s, fault)
			continue
		}
		if f.Misfit < 0.7*noise || f.Misfit > 1.3*noise {
			t.Errorf("noise of 20 µm is read as a misfit of %.1f µm", 1e6*f.Misfit)
		}
		for i, d := range []float64{f.Inlet - s.Inlet, f.Outlet - s.Outlet, f.Chord - s.Chord, f.Thickness - s.Thickness} {
			all++
			if math.Abs(d) > 2*f.Errors[i] {
				far++
			}
			if math.Abs(d) > 5*f.Errors[i] {
				t.Errorf("number %d is %.2g off, with a standard uncertainty of %.2g", i, d, f.Errors[i])
			}
		}
	}
	t.Logf("%d of %d numbers lie beyond two standard uncertainties", far, all)
	if far > all/8 {
		t.Errorf("%d of %d numbers lie beyond two standard uncertainties", far, all)
	}
}

// FROM MEMORY: the NACA four-digit section 0010 by its published polynomial, half thickness 5 % at 30 % of the chord. Not told the form,
// the fit finds it, its thickness and where it points; and what is no section shows in the misfit.
func TestFitSectionPublished(t *testing.T) {
	const degree = math.Pi / 180
	var points [][2]float64
	const chord = 0.04
	for i := range 60 {
		x := (1 - math.Cos(math.Pi*(float64(i)+0.5)/60)) / 2
		y := 0.5 * (0.2969*math.Sqrt(x) - 0.1260*x - 0.3516*x*x + 0.2843*x*x*x - 0.1015*x*x*x*x)
		sin, cos := math.Sincos(35 * degree)
		for _, n := range []float64{y, -y} {
			points = append(points, [2]float64{chord * (x*cos - n*sin), chord * (x*sin + n*cos)})
		}
	}
	f, fault := FitSection(points, "", 1)
	if fault != nil {
		t.Fatal(fault)
	}
	t.Logf("%+v", f)
	if f.Form != "four-digit" || math.Abs(f.Thickness/chord-0.1) > 0.001 || math.Abs(f.Inlet-35*degree) > 0.1*degree || math.Abs(f.Outlet-35*degree) > 0.1*degree || f.Misfit > 40e-6 {
		t.Errorf("NACA 0010 at 35° comes back as %+v", f)
	}
	// a plate with a step on one side is no section of any form
	bumpy := onCylinder(t, "plate", 30, 30, 40, 3, 0.8, 0.8, 1).Unrolled(60)
	for i := range 20 {
		bumpy[20+i][0] -= 0.0006 * math.Sin(30*degree)
		bumpy[20+i][1] += 0.0006 * math.Cos(30*degree)
	}
	if f, fault = FitSection(bumpy, "", 1); fault != nil {
		t.Fatal(fault)
	}
	if f.Misfit < 50e-6 || math.Abs(f.Worst) < 250e-6 {
		t.Errorf("a step of 0.6 mm is read as a misfit of %.0f µm, %.0f at the worst", 1e6*f.Misfit, 1e6*f.Worst)
	}
}

func TestFitSectionFaults(t *testing.T) {
	line := make([][2]float64, 40)
	same := make([][2]float64, 40)
	for i := range line {
		line[i] = [2]float64{float64(i), 2 * float64(i)}
	}
	broken := append([][2]float64{{math.NaN(), 0}}, line...)
	for want, p := range map[string][][2]float64{"24 or more": line[:23], "on one line": line, "are one": same, "no number": broken} {
		if _, f := FitSection(p, "", 1); f == nil || !strings.Contains(f.Error(), want) {
			t.Errorf("%s: %v", want, f)
		}
	}
}
