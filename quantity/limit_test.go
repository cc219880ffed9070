package quantity

import (
	"math"
	"testing"
)

// A margin is positive on the allowed side and negative beyond the bound, wherever Zero lies.
func TestMarginExact(t *testing.T) {
	for _, c := range []struct {
		l    Limit
		want float64
	}{
		{Limit{Value: 30, Allowed: 100}, 0.7},
		{Limit{Value: 120, Allowed: 100}, -0.2},
		{Limit{Value: 310, Allowed: 400, Zero: 300}, 0.9},
		{Limit{Value: 310, Allowed: 290, Zero: 300}, -2}, // the water itself is beyond the bound
		{Limit{Value: 45, Allowed: 40, Zero: 50, Sense: AtLeast}, 0.5},
		{Limit{Value: 38, Allowed: 40, Zero: 39, Sense: AtLeast}, -2}, // at rest already below it
		{Limit{Value: 5, Allowed: 7, Zero: 7}, 2},
		{Limit{Value: 5, Allowed: 7, NotJudged: "no bound"}, 0},
	} {
		if got := c.l.Margin(); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%+v: margin %g, want %g", c.l, got, c.want)
		}
	}
}
