package blade

import (
	"math"
	"strings"
	"testing"

	"jetwright/quantity"
)

func TestLimits(t *testing.T) {
	m, d := mapped(t)
	c := m.With(nil, NominalTerms())
	by := func(phi, npsh float64) map[string]quantity.Limit {
		out := map[string]quantity.Limit{}
		for _, l := range c.Limits(nil, phi, 0.14, fresh.RotorSpeed, fresh.Gravity, npsh) {
			if l.Factor != 1 || l.Why == "" || l.Source == "" || len(l.Moves) == 0 {
				t.Errorf("%+v", l)
			}
			out[l.Name] = l
		}
		return out
	}
	cav := d.State.Cavitation(Inlet{}, 1, nil)
	at := by(m.design, 2*cav.BreakdownNPSH)
	if len(at) != 4 {
		t.Fatalf("%d limits", len(at))
	}
	near(t, "margin of suction", at["suction head against breakdown"].Margin(), 1, 0.05)
	for name, l := range at {
		if l.Margin() <= 0 {
			t.Errorf("%s is broken at the design flow: %+v", name, l)
		}
	}
	low, _ := c.Ends()
	stall := by(0.9*low, 10)["pump flow against its curve"]
	if stall.Margin() >= 0 || !strings.Contains(stall.Why, "leaves the blades") {
		t.Errorf("%+v", stall)
	}
	_, high := c.Ends()
	if l := by(1.1*high, 10)["pump flow against its curve"]; l.Margin() >= 0 || !strings.HasPrefix(l.Why, "at more flow") {
		t.Errorf("%+v", l)
	}
	if l := by(low, 0.9*cav.BreakdownNPSH)["suction head against breakdown"]; l.Margin() >= 0 {
		t.Errorf("%+v", l)
	}
}

func TestDoubts(t *testing.T) {
	d := designed(t)
	section := [2]string{"impeller", "stator"}
	if list := d.State.Doubts(section); len(list) != 0 {
		t.Errorf("a sound state has doubts: %v", list)
	}
	p := d.Pump
	p.Impeller.Surface = "printed"
	s, _ := NewStage(&p, 9)
	var st State
	c := fresh
	c.Flow *= 0.93
	if reason := s.Solve(c, &st); reason != Solved {
		t.Fatal(reason)
	}
	rough := false
	for _, n := range st.Doubts(section) {
		rough = rough || n.Path == "impeller.surface" && strings.Contains(n.What, "times as rough")
	}
	if !rough {
		t.Errorf("a printed surface near stall gives %v", st.Doubts(section))
	}
	c.Flow, c.RotorSpeed = fresh.Flow*0.03, fresh.RotorSpeed*0.03
	if reason := s.Solve(c, &st); reason != Solved {
		t.Fatal(reason)
	}
	found := false
	for _, n := range st.Doubts(section) {
		found = found || strings.Contains(n.What, "laminar")
	}
	if !found {
		t.Error("a slow pump has no doubt about its Reynolds number")
	}
	if math.IsNaN(st.Head) {
		t.Error("no head")
	}
}
