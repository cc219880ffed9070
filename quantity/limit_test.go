package quantity

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestMarginExact(t *testing.T) {
	for _, c := range []struct {
		limit Limit
		want  float64
	}{
		{Limit{Value: 293, Zero: 293, Allowed: 393}, 1},
		{Limit{Value: 343, Zero: 293, Allowed: 393}, 0.5},
		{Limit{Value: 393, Zero: 293, Allowed: 393}, 0},
		{Limit{Value: 443, Zero: 293, Allowed: 393}, -0.5},
		{Limit{Value: 10, Zero: 10, Allowed: 2, Sense: AtLeast}, 1},
		{Limit{Value: 4, Zero: 10, Allowed: 2, Sense: AtLeast}, 0.25},
		{Limit{Value: 1, Zero: 10, Allowed: 2, Sense: AtLeast}, -0.125},
		{Limit{Value: 4, Zero: 2, Allowed: 2, Sense: AtLeast}, 2},
		{Limit{Value: 4, Zero: 2, Allowed: 2}, -2},
		{Limit{Value: 443, Zero: 293, Allowed: 393, NotJudged: "no sensor"}, 0},
	} {
		if got := c.limit.Margin(); got != c.want {
			t.Errorf("%+v: %v, want %v", c.limit, got, c.want)
		}
	}
}

// The margin does not depend on the unit that value, zero and bound are measured in, and
// it is negative exactly where the bound is passed.
func TestMarginLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) float64 { return math.Round(rapid.Float64Range(-1000, 1000).Draw(t, name)) }
		l := Limit{Value: draw("value"), Zero: draw("zero"), Allowed: draw("allowed")}
		if l.Zero == l.Allowed {
			return
		}
		if l.Zero > l.Allowed {
			l.Sense = AtLeast
		}
		beyond := l.Value > l.Allowed
		if l.Sense == AtLeast {
			beyond = l.Value < l.Allowed
		}
		if m := l.Margin(); (m < 0) != beyond {
			t.Fatalf("%+v: margin %v", l, m)
		}
		scaled := l
		scaled.Value, scaled.Zero, scaled.Allowed = 8*l.Value, 8*l.Zero, 8*l.Allowed
		if l.Margin() != scaled.Margin() {
			t.Fatalf("%+v: margin %v, scaled %v", l, l.Margin(), scaled.Margin())
		}
	})
}

func TestOptionalExact(t *testing.T) {
	if (Optional{}).Or(3) != 3 || Some(2).Or(3) != 2 || (Optional{Value: 5}).Or(3) != 3 {
		t.Error("an optional number is known only if it is set")
	}
}

func TestPlaceExact(t *testing.T) {
	for place, want := range map[Place]string{
		{}: "", {"drive.toml", 12, 5}: "drive.toml:12:5", {File: "drive.toml"}: "drive.toml",
	} {
		if place.String() != want {
			t.Errorf("%q, want %q", place.String(), want)
		}
	}
}
