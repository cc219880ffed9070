package reckon

import (
	"math"
	"os"
	"strings"
	"testing"

	"jetwright/design"
)

// lake is the scene with blades of its own.
func lake(t testing.TB, replace ...string) *design.Design {
	t.Helper()
	text, err := os.ReadFile("../examples/lake-sled/drive.toml")
	if err != nil {
		t.Fatal(err)
	}
	return read(t, strings.NewReplacer(replace...).Replace(string(text)))
}

// What a ranking says of a change of blades is what a drive typed so gives, made and solved anew.
func TestRankBladesExact(t *testing.T) {
	s := sample(t, lake(t), 0)
	aim, err := NewAim(AimThrust, 0, s.Nominal)
	if err != nil {
		t.Fatal(err)
	}
	r, err := Rank(s, aim)
	if err != nil {
		t.Fatal(err)
	}
	checked := map[string]bool{}
	for i := range r.Changes {
		c := &r.Changes[i]
		part, _, _ := strings.Cut(c.Path, ".")
		if c.Why != "" || part != "impeller" && part != "stator" {
			continue
		}
		d := s.Nominal.Drive
		c.apply(&d, 1)
		d.KeepBlades(nil)
		m, err := d.Resolve()
		if err != nil {
			t.Fatal(err)
		}
		st, err := m.Solve(r.Aim.Condition)
		if err != nil {
			t.Fatal(err)
		}
		gain := r.Aim.Of(m, &st) - r.Now.Value
		// coarse changes are maps of their own; the others go along the map's derivative, which may bend over a step
		allowed := 2e-5 * r.Now.Value
		if !c.Coarse {
			allowed = 0.15*math.Abs(gain) + 2e-3*r.Now.Value
		}
		if math.Abs(gain-c.Gain.Value) > allowed {
			t.Errorf("%s %v %g to %g: %.4g N, worked out anew %.4g N", c.Path, c.Words, c.From, c.To, c.Gain.Value, gain)
		}
		checked[c.Path] = true
	}
	for _, path := range []string{"impeller.outlet_angle[0]", "impeller.outlet_angle[2]", "impeller.outlet_angle[4]", "impeller.tip_gap", "impeller.surface", "impeller.trailing_radius", "stator.blades", "impeller.blades", "impeller.outlet_angle_offset", "stator.surface"} {
		if !checked[path] {
			t.Errorf("%s is not ranked", path)
		}
	}
}

// Common sense of blades: less gap, smoother surfaces and thinner trailing edges bring thrust for the same power, and blade numbers that are
// offered share no factor.
func TestRankBladesLaw(t *testing.T) {
	s := sample(t, lake(t, `surface      = "sanded"`, `surface      = "printed"`), 24)
	aim, err := NewAim(AimThrust, 0, s.Nominal)
	if err != nil {
		t.Fatal(err)
	}
	r, err := Rank(s, aim)
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{"impeller.tip_gap", "impeller.surface", "impeller.trailing_radius"} {
		if c := changeOf(t, r, path); !(c.Gain.Low > 0) || c.Sure < 0.95 {
			t.Errorf("%s brings %+v, sure %g", path, c.Gain, c.Sure)
		}
	}
	if c := changeOf(t, r, "impeller.surface"); c.Words != [2]string{"printed", "filled"} {
		t.Errorf("the surface goes from %v", c.Words)
	}
	list, left := moves(s.Design, s.Nominal)
	for _, m := range list {
		if m.Path == "stator.blades" && !(m.To == 6 || m.To == 8) || m.Path == "impeller.blades" && !(m.To == 4 || m.To == 6) {
			t.Errorf("%s from %g to %g", m.Path, m.From, m.To)
		}
	}
	for _, u := range left {
		if strings.Contains(u.Path, "blades") || u.Path == "impeller.tip_gap" {
			t.Errorf("%s is left out: %s", u.Path, u.Why)
		}
	}
	for _, l := range bladeLevers {
		if f, ok := design.Schema().Lookup(l.path); !ok || f.Path != l.path {
			t.Errorf("%s is no key", l.path)
		}
	}
}
