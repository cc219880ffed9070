package reckon

import (
	"fmt"
	"strings"
	"testing"

	"jetwright/design"
	"jetwright/quantity"
)

// A claim of speed is held against the drag that was towed, else against the craft's own curve, which what was towed moves; without either it
// stays open.
func TestSpeedAgainstCraftExact(t *testing.T) {
	const craft = "\n[craft]\nmass = \"30 kg\"\nrider_mass = \"70 kg\"\nlength = \"1.9 m\"\nbeam = \"0.66 m\"\ngravity_centre = \"0.75 m .. 0.85 m\"\n"
	claim := design.Claim{What: "speed", Sense: "at least", Value: 6, Power: 3000, Place: "battery"}
	judged := func(more string, c design.Claim) ClaimVerdict {
		t.Helper()
		s := sample(t, read(t, fmt.Sprintf(board, noCavitation, "open", "")+more), 64)
		j, err := NewJudge(s, nil, Options{Draws: 64})
		if err != nil {
			t.Fatal(err)
		}
		return j.Claim(c)
	}
	if v := judged("", claim); v.Verdict != Open || !strings.Contains(v.Why, "tow it at that speed") {
		t.Errorf("without a craft: %s, %s", v.Verdict, v.Why)
	}
	v := judged(craft, claim)
	if d := v.Claim.Drag; !(d.Low() > 100 && d.High() < 350 && d.Low() < d.High()) || !strings.Contains(v.Why, "as computed, not towed") {
		t.Errorf("with a craft: %s, %s, against %s", v.Verdict, v.Why, d)
	}
	towed := judged(craft+"tow_speeds = [\"6 m/s\"]\ntow_pulls = [\"900 N\"]\n", claim)
	if d := towed.Claim.Drag; !(d.Low() > 800 && d.High() < 1000) || towed.Verdict != Refuted {
		t.Errorf("towed with 900 N: %s against %s", towed.Verdict, d)
	}
	claim.Drag = quantity.Between(20, 21, quantity.MustUnit("N"))
	if v := judged(craft, claim); v.Claim.Drag.High() != 21 || strings.Contains(v.Why, "computed") {
		t.Errorf("a typed drag: %s, against %s", v.Why, v.Claim.Drag)
	}
}
