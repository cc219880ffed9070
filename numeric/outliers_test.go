package numeric

import (
	"bufio"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// column reads a column of a file of numbers, headers skipped.
func column(t *testing.T, file string, k int) []float64 {
	t.Helper()
	f, err := os.Open(filepath.Join("testdata", "data", file))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var out []float64
	for s := bufio.NewScanner(f); s.Scan(); {
		fields := strings.Split(strings.TrimSpace(s.Text()), ",")
		if k < len(fields) {
			if x, err := strconv.ParseFloat(strings.TrimSpace(fields[k]), 64); err == nil {
				out = append(out, x)
			}
		}
	}
	return out
}

func nearTo(t *testing.T, name string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.12g, want %.12g", name, got, want)
	}
}

// Grubbs' example (isotope masses, 245.57 is the outlier) and Rosner's 54 values, NIST e-Handbook:
// data SEEN; statistics and bounds COMPUTED with SciPy, as the handbook prints them.
func TestOutliersPublished(t *testing.T) {
	x := []float64{199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57}
	i, g, c, err := Grubbs(x, 0.05, false)
	if err != nil || i != 7 {
		t.Fatalf("outlier %d, %v", i, err)
	}
	nearTo(t, "G", g, 2.468764611, 1e-9)
	nearTo(t, "one-sided bound", c, 2.031652, 1e-6)
	_, _, c, _ = Grubbs(x, 0.05, true)
	nearTo(t, "two-sided bound", c, 2.126645, 1e-6)
	if _, _, _, err := Grubbs(x[:2], 0.05, true); err == nil {
		t.Error("two values have an outlier")
	}
	data := column(t, "ehandbook_rosner.txt", 0)
	if len(data) != 54 {
		t.Fatalf("%d values", len(data))
	}
	out, r, lambda := Rosner(data, 10, 0.05)
	for k, want := range []float64{3.118906, 2.942973, 3.179424} {
		nearTo(t, "R", r[k], want, 5e-7)
	}
	for k, want := range []float64{3.158794, 3.151430, 3.143890} {
		nearTo(t, "λ", lambda[k], want, 5e-7)
	}
	if len(out) != 3 { // though the first two alone would pass: they mask each other
		t.Errorf("%d outliers", len(out))
	}
}

// Stack loss, 21 days of a plant: R's MASS 7.3 rlm at a tight stop (COMPUTED).
func TestHuberPublished(t *testing.T) {
	y := column(t, "stackloss.csv", 3)
	x := mat.NewDense(len(y), 4, nil)
	for i := range y {
		x.Set(i, 0, 1)
	}
	for k := range 3 {
		for i, v := range column(t, "stackloss.csv", k) {
			x.Set(i, k+1, v)
		}
	}
	b, w, s, err := Huber(x, y)
	if err != nil {
		t.Fatal(err)
	}
	for k, want := range []float64{-41.02648537, 0.82938577, 0.92605942, -0.12784632} {
		nearTo(t, "coefficient", b[k], want, 2e-6*math.Abs(want))
	}
	nearTo(t, "scale", s, 2.440489, 2e-6)
	for i, want := range map[int]float64{2: 0.785797, 3: 0.504856, 20: 0.368084} {
		nearTo(t, "weight", w[i], want, 2e-6)
	}
}

// Two load-cell calibrations of the NIST e-Handbook (the first is Pontius of its reference sets):
// data SEEN; figures COMPUTED with SciPy, the first inverse as the handbook prints it.
func TestCalibrationPublished(t *testing.T) {
	c, err := Calibrate(column(t, "ehandbook_load_cell_cal.csv", 1), column(t, "ehandbook_load_cell_cal.csv", 0))
	if err != nil {
		t.Fatal(err)
	}
	if len(c.Coefficients) != 3 {
		t.Fatalf("a bend with a lack of fit of F = 215 is taken for a line: %v", c.Coefficients)
	}
	nearTo(t, "spread", c.Spread, 2.05177424e-4, 1e-12)
	load, u, err := c.Load(1.239722)
	if err != nil {
		t.Fatal(err)
	}
	const t975 = 2.026192463 // 37 degrees of freedom
	nearTo(t, "load", load, 1705105.57, 0.01)
	nearTo(t, "lower", load-t975*u, 1704513.37, 1)
	nearTo(t, "upper", load+t975*u, 1705697.76, 1)

	small, err := Calibrate(column(t, "ehandbook_loadcell.csv", 0), column(t, "ehandbook_loadcell.csv", 1))
	if err != nil {
		t.Fatal(err)
	}
	nearTo(t, "spread of the small one", small.Spread, 3.76402942e-5, 1e-12)
	load, _, err = small.Load(1.344)
	if err != nil {
		t.Fatal(err)
	}
	nearTo(t, "load of the small one", load, 13.4137844, 1e-6)

	// Where nothing bends the line stays a line.
	x := []float64{0, 10, 20, 30, 40, 50}
	y := []float64{0.01, 10.02, 19.99, 30.01, 39.98, 50.01}
	line, err := Calibrate(x, y)
	if err != nil || len(line.Coefficients) != 2 {
		t.Errorf("%v, %v", line, err)
	}
	if _, _, err := line.Load(90); err == nil {
		t.Error("a reading far beyond the loads has a load")
	}
	if _, err := Calibrate(x[:2], y[:2]); err == nil {
		t.Error("two loads make a calibration")
	}
}

// A parabola is inverted in closed form on the side of the middle of its loads, a temperature's span ends a
// tenth beyond its values, and a reading that none shows has none.
func TestCalibrationInverseExact(t *testing.T) {
	show := func(x float64) float64 { return 0.4 + 0.985*(x-273.15) + 2e-4*(x-273.15)*(x-273.15) + 273.15 }
	var x, y []float64
	for _, c := range []float64{0, 20, 40, 60, 80, 100} {
		x, y = append(x, 273.15+c), append(y, show(273.15+c))
	}
	c, err := Calibrate(x, y)
	if err != nil || len(c.Coefficients) != 3 {
		t.Fatalf("%v, %v", c, err)
	}
	for _, want := range []float64{-9, 0, 33, 99, 109} {
		got, _, err := c.True(show(273.15 + want))
		if err != nil {
			t.Fatalf("%g °C: %v", want, err)
		}
		nearTo(t, "true", got-273.15, want, 1e-9)
	}
	for _, beyond := range []float64{-11, 111} {
		if v, _, err := c.True(show(273.15 + beyond)); err == nil {
			t.Errorf("%g °C is beyond 0 .. 100 °C and is taken for %g", beyond, v-273.15)
		}
	}
	nearTo(t, "slope", c.Slope(), 0.985+2*2e-4*50, 1e-9)
	// y = 10·x − x² turns at 5: no load shows 30.
	turn, err := Calibrate([]float64{0, 1, 2, 3, 4}, []float64{0, 9, 16, 21, 24})
	if err != nil {
		t.Fatal(err)
	}
	if x, _, err := turn.Load(30); err == nil {
		t.Errorf("a reading that none shows has the load %g", x)
	}
	back, err := Calibrate([]float64{0, 2, 4, 6, 8}, []float64{0, 16, 24, 24, 16})
	if err != nil {
		t.Fatal(err)
	}
	if x, _, err := back.Load(20); err == nil {
		t.Errorf("a reading that two loads show has the load %g", x)
	}
}

// Three runs up and down on a made-up scale whose mean of up and down has a slope of exactly 1.002
// and which differs by 0.06 at half load: COMPUTED (analytic); the contribution h/(2·√3) is that of
// ISO 376, FROM MEMORY.
func TestReversibilityPublished(t *testing.T) {
	f, err := os.Open(filepath.Join("testdata", "data", "hysteresis_synthetic.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var loads, readings []float64
	for s := bufio.NewScanner(f); s.Scan(); {
		fields := strings.Split(s.Text(), ",")
		x, err1 := strconv.ParseFloat(fields[2], 64)
		y, err2 := strconv.ParseFloat(fields[3], 64)
		if err1 == nil && err2 == nil {
			loads, readings = append(loads, x), append(readings, y)
		}
	}
	h := Reversibility(loads, readings)
	nearTo(t, "h", h, 0.06, 1e-9)
	nearTo(t, "contribution", h/(2*math.Sqrt(3)), 0.0173205, 1e-7)
	c, err := Calibrate(loads, readings)
	if err != nil {
		t.Fatal(err)
	}
	nearTo(t, "slope", (c.At(50)-c.At(0))/50, 1.002, 2e-4)
	if h := Reversibility([]float64{0, 10, 20}, []float64{0, 10, 20}); h != 0 {
		t.Errorf("loads that only rise have a reversibility of %g", h)
	}
}
