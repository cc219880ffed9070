package numeric

import "math"

// Polyline is straight pieces between points. Unlike a cubic it keeps an order: where all points of one lie above those of
// another at the same places, so does the line.
type Polyline struct{ x, y []float64 }

// NewPolyline makes a line through points whose x rise strictly.
func NewPolyline(x, y []float64) (*Polyline, error) {
	if len(x) < 2 || len(y) != len(x) {
		return nil, ErrTooFew
	}
	for i := range x {
		if i > 0 && !(x[i] > x[i-1]) || math.IsInf(x[i]-x[0], 0) || math.IsNaN(y[i]-y[i]) {
			return nil, ErrNotRising
		}
	}
	return &Polyline{append([]float64(nil), x...), append([]float64(nil), y...)}, nil
}

// Piece returns the number of the piece between rising points that x lies in: that of the point before it. What lies outside is in
// the first or the last piece. There must be two points.
func Piece(points []float64, x float64) int {
	low, high := 0, len(points)-1
	for high-low > 1 {
		if mid := int(uint(low+high) >> 1); points[mid] < x {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// At returns value and slope, and whether x lies outside the points, where the last piece goes on.
//
//	y = y₀ + s·(x − x₀),  s = (y₁ − y₀)/(x₁ − x₀)
//
//	x₀, y₀, x₁, y₁  ends of the piece
//
// Holds between the first and the last point; at a point the slope is that of the piece before it.
//
// Source: own. Tests: TestPolylineExact.
func (p *Polyline) At(x float64) (y, slope float64, outside bool) {
	n := len(p.x)
	i := Piece(p.x, x)
	slope = (p.y[i+1] - p.y[i]) / (p.x[i+1] - p.x[i])
	return p.y[i] + slope*(x-p.x[i]), slope, x < p.x[0] || x > p.x[n-1]
}
