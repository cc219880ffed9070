package desk

import (
	"math"
	"testing"

	"jetwright/drive"
	"jetwright/explore"
	"jetwright/project"
)

func strengthOf(t *testing.T, scene string, o Options) *StrengthAnswer {
	t.Helper()
	p, err := project.Open("../examples/" + scene)
	if err != nil {
		t.Fatal(err)
	}
	a, err := Strength(p, o)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// Every figure has an interval that holds it, bounds hold the critical speed, and of a print's blades nothing is clear that a test alone
// can show.
func TestStrength(t *testing.T) {
	for _, scene := range []string{"rescue-sled", "lake-sled"} {
		a := strengthOf(t, scene, Options{Draws: 64})
		if len(a.Shaft) < 9 || len(a.Rotor) < 14 || len(a.Limits) < 12 || a.Fine {
			t.Errorf("%s: %d figures of the shaft, %d of the rotor, %d limits, fine %v", scene, len(a.Shaft), len(a.Rotor), len(a.Limits), a.Fine)
		}
		for _, f := range append(a.Shaft, a.Rotor...) {
			if !(f.Low <= f.Value && f.Value <= f.High) || math.IsNaN(f.High) || math.IsInf(f.High, 0) {
				t.Errorf("%s: %s is %g in [%g, %g]", scene, f.Path, f.Value, f.Low, f.High)
			}
		}
		w := a.Work
		if c := w.State.Shaft.Critical; !(w.Dunkerley <= c && c <= w.Rayleigh) {
			t.Errorf("%s: %g lies outside of %g and %g", scene, c, w.Dunkerley, w.Rayleigh)
		}
		unproven := 0
		for _, l := range a.Limits {
			if (l.Name == "blade root stress" || l.Name == "overspeed in air") && l.State == explore.NotJudged {
				unproven++
			}
			if !drive.HoldsTogether(l.Name) {
				t.Errorf("%s is no limit of strength", l.Name)
			}
		}
		if unproven != 2 {
			t.Errorf("%s: %d limits of the printed blades are not judged", scene, unproven)
		}
	}
}

// What strength alone depends on moves no figure of a state, and what dominates a figure is told without it.
func TestHoldingMovesNoStateLaw(t *testing.T) {
	p, err := project.Open("../examples/rescue-sled")
	if err != nil {
		t.Fatal(err)
	}
	held := p.Design.Holding()
	if len(held) < 8 {
		t.Fatalf("%d numbers of strength are drawn", len(held))
	}
	u := make([]float64, len(held))
	for i := range u {
		u[i] = 0.97
	}
	moved := p.Design.Nominal()
	p.Design.DrawInto(&moved, held, u)
	plain := p.Design.Nominal()
	a, b := solved(t, plain), solved(t, moved)
	if a != b {
		t.Error("a state moved with numbers of strength")
	}
	for _, in := range p.Design.Uncertain() {
		for _, h := range held {
			if in.Path == h.Path {
				t.Errorf("%s is drawn twice", in.Path)
			}
		}
	}
}

func solved(t *testing.T, d drive.Drive) drive.State {
	t.Helper()
	m, err := d.Resolve()
	if err != nil {
		t.Fatal(err)
	}
	s, err := m.Solve(d.DutyCondition())
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// A metal impeller that is typed in full is judged, with every tolerance at its bad end.
func TestMetalImpellerIsJudged(t *testing.T) {
	p, err := project.Open("../examples/rescue-sled")
	if err != nil {
		t.Fatal(err)
	}
	d, err := p.Design.With("impeller.material", `"6061-T6, milled"`)
	if err != nil {
		t.Fatal(err)
	}
	s, err := explore.New(d, 64, 1)
	if err != nil {
		t.Fatal(err)
	}
	nominal := d.Nominal()
	for _, l := range s.Solve(nominal.DutyCondition()).Limits(s) {
		switch l.Name {
		case "blade root stress", "overspeed in air", "containment of a blade":
			if l.State == explore.NotJudged || l.Bad > l.Margin || !l.Hazard {
				t.Errorf("%s is %v: %s; %g left, %g at its bad end", l.Name, l.State, l.NotJudged, l.Margin, l.Bad)
			}
		}
	}
}
