package report

import (
	"math"
	"strings"
	"testing"
)

// The lines of x² + y² are circles: every point of one lies on it, it is closed, and a square with a missing
// corner leaves a gap and nothing else.
func TestContourCircle(t *testing.T) {
	var x []float64
	for i := range 41 {
		x = append(x, -2+0.1*float64(i))
	}
	z := make([][]float64, len(x))
	for j := range z {
		for i := range x {
			z[j] = append(z[j], x[i]*x[i]+x[j]*x[j])
		}
	}
	runs := contour(x, x, z, 1.5)
	if len(runs) != 1 || runs[0][0] != runs[0][len(runs[0])-1] {
		t.Fatalf("a circle is %d lines", len(runs))
	}
	length := 0.0
	for i, q := range runs[0] {
		if r := math.Hypot(q.x, q.y); math.Abs(r-math.Sqrt(1.5)) > 0.003 {
			t.Errorf("a point lies at a radius of %g", r)
		}
		if i > 0 {
			length += math.Hypot(q.x-runs[0][i-1].x, q.y-runs[0][i-1].y)
		}
	}
	if want := 2 * math.Pi * math.Sqrt(1.5); math.Abs(length/want-1) > 0.003 {
		t.Errorf("the line is %g long, the circle %g", length, want)
	}
	z[20][32] = math.NaN() // beside (1.2, 0)
	runs = contour(x, x, z, 1.5)
	if len(runs) != 1 || runs[0][0] == runs[0][len(runs[0])-1] {
		t.Errorf("with a gap: %d lines", len(runs))
	}
	if len(contour(x, x, z, 9)) != 0 {
		t.Error("a height that is not there has a line")
	}
}

// A saddle gives two lines that do not cross.
func TestContourSaddle(t *testing.T) {
	runs := contour([]float64{0, 1}, []float64{0, 1}, [][]float64{{1, 0}, {0, 1}}, 0.4)
	if len(runs) != 2 {
		t.Fatalf("%d lines", len(runs))
	}
	for _, r := range runs { // the high corners hang together: each line cuts off one low corner
		if len(r) != 2 || math.Abs(math.Abs(r[0].x-r[1].x)-0.4) > 1e-12 {
			t.Errorf("a line is %v", r)
		}
	}
}

// Texts are escaped, and what has no grid is a picture all the same.
func TestContoursEscape(t *testing.T) {
	c := Contours{ID: "m", Title: "a < b", XLabel: "x & y", YLabel: "z", X: []float64{1, 2}, Y: []float64{1, 2}, Z: [][]float64{{0, 1}, {1, 2}}, Levels: []float64{0.5}, LevelText: percent, Bounds: []Bound{{Name: "<b>", Y: []float64{1, 1e300}}}}
	s := c.SVG()
	if strings.Contains(s, "<b>") || strings.Contains(s, "NaN") || !strings.Contains(s, "a &lt; b") {
		t.Error("texts are not escaped")
	}
	c.X = nil
	if !strings.Contains(c.SVG(), "no data") {
		t.Error("a picture without a grid does not say so")
	}
}
