package numeric

import (
	"errors"
	"math"
	"testing"
)

func TestPolylineExact(t *testing.T) {
	p, err := NewPolyline([]float64{0, 1, 3}, []float64{2, 4, 0})
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		x, y, slope float64
		outside     bool
	}{{0, 2, 2, false}, {0.5, 3, 2, false}, {1, 4, 2, false}, {2, 2, -2, false}, {3, 0, -2, false}, {-1, 0, 2, true}, {4, -2, -2, true}} {
		y, slope, outside := p.At(row.x)
		if y != row.y || slope != row.slope || outside != row.outside {
			t.Errorf("at %g: %g, %g, %v, want %+v", row.x, y, slope, outside, row)
		}
	}
	for _, bad := range [][2][]float64{{{0}, {1}}, {{0, 1}, {1}}, {{0, 0}, {1, 2}}, {{0, 1}, {1, math.NaN()}}, {{0, math.Inf(1)}, {1, 2}}, {{0, 1}, {1, math.Inf(-1)}}} {
		if _, err := NewPolyline(bad[0], bad[1]); !errors.Is(err, ErrTooFew) && !errors.Is(err, ErrNotRising) {
			t.Errorf("%v is a line", bad)
		}
	}
}
