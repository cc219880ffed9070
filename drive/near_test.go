package drive

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Begun near or far, to a tolerance or to the end, the same state is found.
func TestSolveNearLaw(t *testing.T) {
	m, err := assumed(t).Resolve()
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		c := Condition{OnStand: true, Demand: BatteryPower, Amount: rapid.Float64Range(300, 5000).Draw(t, "power")}
		want, err := m.Solve(c)
		if err != nil {
			t.Fatal(err)
		}
		near := want.RotorSpeed * rapid.Float64Range(0.7, 1.4).Draw(t, "near")
		tolerance := rapid.SampledFrom([]float64{0, 1e-12, 1e-9, 1e-6}).Draw(t, "tolerance")
		got, err := m.SolveNear(c, near, tolerance)
		if err != nil {
			t.Fatalf("from %g rad/s to %g: %v", near, tolerance, err)
		}
		if off := math.Abs(got.Thrust/want.Thrust - 1); off > 2*tolerance+1e-11 {
			t.Fatalf("thrust is off by %g at a tolerance of %g", off, tolerance)
		}
	})
}
