package drive

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"jetwright/quantity"
)

func heavyStand() Stand {
	return Stand{
		Kind: "carriage", Anchor: "stand", Water: "tub", CarriageLoad: 40, Ballast: quantity.Some(160),
		JetHeight: quantity.Some(0.35), BaseLength: quantity.Some(1.2), BaseWidth: quantity.Some(0.8), FrictionPair: "rubber on wet concrete",
	}
}

func standLimits(s Stand, at State) map[string]quantity.Limit {
	out := map[string]quantity.Limit{}
	for _, l := range s.Limits(nil, at, 10, 1) {
		out[l.Name] = l
	}
	return out
}

// By hand, with g = 10 m/s²: 200 kg press 2000 N; at 300 N of thrust 0.35 m above the ground the moment is
// 105 N·m of 2000·1.2/2/2 = 600 N·m; the feet hold 0.30·2000/2 = 300 N; to the side act
// 300·sin 10°·0.35 + 8 = 26.233 N·m of 2000·0.8/2/2 = 400 N·m.
func TestStandByHand(t *testing.T) {
	l := standLimits(heavyStand(), State{Thrust: 300, MotorTorque: 8})
	for name, want := range map[string][2]float64{
		"overturning of the stand": {105, 600}, "sliding of the stand": {300, 300}, "overturning of the stand to its side": {26.2330577, 400},
	} {
		if got := l[name]; math.Abs(got.Value-want[0]) > 1e-6 || math.Abs(got.Allowed-want[1]) > 1e-9 || got.NotJudged != "" || !got.Hazard || got.Factor != 2 {
			t.Errorf("%s is %+v, by hand %v", name, got, want)
		}
	}
	// with the scale on a post 1.1 m up, the rope 0.75 m above the jet and rising by 30°: 225 N·m, 2000 − 173.2 N
	s := heavyStand()
	s.Anchor, s.RopeHeight, s.RopeAngle = "ground", quantity.Some(1.1), quantity.Some(math.Pi/6)
	l = standLimits(s, State{Thrust: 300})
	if got := l["overturning of the stand"]; math.Abs(got.Value-225) > 1e-9 || math.Abs(got.Allowed-548.0384758) > 1e-6 {
		t.Errorf("with a couple: %+v", got)
	}
	if got := l["sliding of the stand"]; math.Abs(got.Allowed-274.0192379) > 1e-6 {
		t.Errorf("with a lifting rope: %+v", got)
	}
}

// What is not typed is asked for by its key, and nothing else is.
func TestStandAsks(t *testing.T) {
	for name, want := range map[string]string{
		"overturning of the stand":             "type stand.jet_height, stand.ballast, stand.base_length",
		"sliding of the stand":                 "type stand.ballast, stand.friction_pair or stand.friction",
		"overturning of the stand to its side": "type stand.jet_height, stand.ballast, stand.base_width",
	} {
		if got := standLimits(Stand{Water: "pool", Anchor: "stand"}, State{Thrust: 1})[name].NotJudged; got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
	s := heavyStand()
	s.JetHeight, s.WaterDepth, s.ShaftHeight = quantity.Optional{}, quantity.Some(0.6), -0.2
	if h, ok := s.Jet(); !ok || math.Abs(h-0.4) > 1e-12 {
		t.Errorf("the jet is %g m up, %v", h, ok)
	}
	s.Water = "pool" // whose water may stand below the base
	if got := standLimits(s, State{})["overturning of the stand"].NotJudged; !strings.Contains(got, "jet_height") {
		t.Errorf("a pool's base: %q", got)
	}
}

// A level rope on a carriage shows the thrust; an arm whose rope is tied twice as far from the pivot
// as the jet shows half of it.
func TestPullRatioExact(t *testing.T) {
	s := heavyStand()
	if got := s.PullRatio(); got != 1 {
		t.Errorf("a level rope shows %g", got)
	}
	s.RopeAngle = quantity.Some(math.Pi / 3)
	if got := s.PullRatio(); math.Abs(got-2) > 1e-12 {
		t.Errorf("a steep rope shows %g", got)
	}
	s.RopeAngle, s.Kind = quantity.Optional{}, "pivot"
	if got := s.PullRatio(); got != 1 {
		t.Errorf("a pivot of unknown height shows %g", got)
	}
	s.PivotHeight, s.RopeHeight = quantity.Some(0.85), quantity.Some(1.85)
	if got := s.PullRatio(); math.Abs(got-0.5) > 1e-12 {
		t.Errorf("a pivot shows %g", got)
	}
	s.RopeHeight = s.PivotHeight // a rope at the pivot holds nothing
	if got := s.PullRatio(); got != 1 {
		t.Errorf("a rope at the pivot shows %g", got)
	}
}

// More thrust never leaves more; more ballast or a longer base never less; nothing is ever NaN.
func TestStandLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		s := heavyStand()
		s.JetHeight, s.RopeHeight = quantity.Some(f("jet", -2, 2)), quantity.Some(f("rope", -1, 3))
		s.Ballast, s.BaseLength, s.BaseWidth = quantity.Some(f("ballast", 0, 3000)), quantity.Some(f("length", 0.1, 5)), quantity.Some(f("width", 0.1, 5))
		s.RopeAngle, s.PivotHeight = quantity.Some(f("angle", -0.7, 0.7)), quantity.Some(f("pivot", -1, 3))
		s.Anchor = rapid.SampledFrom([]string{"stand", "ground"}).Draw(t, "anchor")
		s.Kind = rapid.SampledFrom([]string{"carriage", "pivot"}).Draw(t, "kind")
		thrust := f("thrust", 1, 3000)
		heavier := s
		heavier.Ballast.Value += f("more", 0, 500)
		heavier.BaseLength.Value += f("longer", 0, 2)
		base, loaded, held := standLimits(s, State{Thrust: thrust}), standLimits(s, State{Thrust: thrust * 1.25}), standLimits(heavier, State{Thrust: thrust})
		for name, l := range base {
			if math.IsNaN(l.Margin()) || l.NotJudged != "" {
				t.Fatalf("%s: %+v", name, l)
			}
			if (loaded[name].Allowed - loaded[name].Value) > (l.Allowed-l.Value)+1e-9 {
				t.Fatalf("%s: more thrust leaves more", name)
			}
			if (held[name].Allowed - held[name].Value) < (l.Allowed-l.Value)-1e-9 {
				t.Fatalf("%s: more ballast or base leaves less", name)
			}
		}
		if r := s.PullRatio(); !(r > 0) || math.IsInf(r, 0) {
			t.Fatalf("the pull is %g of the thrust", r)
		}
	})
}
