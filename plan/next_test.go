package plan

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"jetwright/design"
	"jetwright/explore"
	"jetwright/quantity"
	"jetwright/reckon"
)

// tender is a design made for these checks alone; its stand holds.
const tender = `
[duty]
thrust = "420 N"
[intake]
[impeller]
diameter = "110 mm"
hub_diameter = "45 mm"
[nozzle]
diameter = "70 mm"
[motor]
speed_constant = "90 rpm/V"
winding_resistance = "8 mΩ"
magnet_grade = "SH"
[controller]
phase_current_limit = "%s"
phase_current_convention = "rms"
[battery]
series = 14
parallel = 14
cell_capacity = "5 Ah"
[stand]
water = "open"
rope_strength = "%s"
scale_range = "200 kgf"
anchor = "stand"
jet_height = "-400 mm"
rope_height = "200 mm"
ballast = "900 kg"
base_length = "3 m"
base_width = "1.5 m"
friction_pair = "rubber on wet concrete"
`

func nextOf(t *testing.T, current, rope string, draws int, from float64) (*Reach, *explore.Sample) {
	t.Helper()
	d, faults := design.Read("drive.toml", []byte(fmt.Sprintf(tender, current, rope)))
	if err := faults.Fatal(); err != nil {
		t.Fatal(err)
	}
	s, err := explore.New(d, draws, explore.DefaultSeed)
	if err != nil {
		t.Fatal(err)
	}
	r, err := Next(Input{Prior: s, Rule: reckon.NextStep{Allowed: true, From: from, Power: 1.25 * from, Factor: 1.25, Place: "battery"}})
	if err != nil {
		t.Fatal(err)
	}
	return r, s
}

// The rules hold where no limit does. Where one does, the largest power is the one at which one drive of a hundred is at
// it: 8192 other draws say so, whether the 99 % came from a fitted tail or from draws.
func TestNextLaw(t *testing.T) {
	free, _ := nextOf(t, "600 A", "3000 kgf", 512, 3000)
	if free.By != "" || free.Power != 3750 || len(free.Tight) == 0 || len(free.Stops) == 0 {
		t.Errorf("without a limit in the way: %+v", free)
	}
	for _, draws := range []int{512, 4096} {
		r, s := nextOf(t, "105 A", "3000 kgf", draws, 3000)
		if !strings.HasPrefix(r.By, "phase current") || !(r.Power > 3000 && r.Power < 3750) {
			t.Fatalf("%d draws: held back by %q at %g W", draws, r.By, r.Power)
		}
		tail := strings.Contains(r.Sure, "tail")
		if tail != (draws < 4096) {
			t.Errorf("%d draws: the 99 %% rest on %s", draws, r.Sure)
		}
		other, err := explore.New(s.Design, 8192, 77)
		if err != nil {
			t.Fatal(err)
		}
		m := &maker{Plan: &Plan{}}
		x := other.Solve(m.at(r.Power))
		beyond := 0
		for i := range x.States {
			if x.States[i].Motor.PhaseCurrentRMS > 105 {
				beyond++
			}
		}
		if share := float64(beyond) / float64(len(x.States)); share < 0.005 || share > 0.018 {
			t.Errorf("%d draws: at %g W %.2f %% of the drives are beyond", draws, r.Power, 100*share)
		}
		if len(r.Stops) == 0 || r.Tight[0].Worse < 0 || r.Tight[0].Worse > 0.01 {
			t.Errorf("nearest limit at the step: %+v", r.Tight)
		}
	}
}

// What can hurt people is held at its worst case: the greatest thrust of every draw, with the rope's factor. Where even the
// settled power breaks a limit there is no step, and where the rules allow none nothing is said.
func TestNextHazards(t *testing.T) {
	strong, s := nextOf(t, "600 A", "440 kgf", 512, 3000)
	if strong.By != "pull on the rope" {
		t.Fatalf("held back by %q: %+v", strong.By, strong)
	}
	m := &maker{Plan: &Plan{}}
	x := s.Solve(m.at(strong.Power))
	allowed := quantity.MustUnit("kgf").ToSI(440) / 10
	for i := range x.States {
		if x.States[i].Thrust > allowed*(1+1e-9) {
			t.Fatalf("a drive pulls %g N where %g N are allowed", x.States[i].Thrust, allowed)
		}
	}
	none, _ := nextOf(t, "60 A", "3000 kgf", 512, 3000)
	if none.Power != 0 || !strings.HasPrefix(none.By, "phase current") || none.Why == "" || len(none.Stops) > 0 {
		t.Errorf("beyond it already: %+v", none)
	}
	if r, err := Next(Input{Prior: s, Rule: reckon.NextStep{}}); r != nil || err != nil {
		t.Errorf("no step allowed: %+v %v", r, err)
	}
	few, _ := nextOf(t, "105 A", "3000 kgf", 100, 3000)
	many, _ := nextOf(t, "105 A", "3000 kgf", 512, 3000)
	if math.Abs(few.Power/many.Power-1) > 0.1 || strings.Contains(few.Sure, "tail") {
		t.Errorf("100 draws: %g W by %s, 512 draws %g W", few.Power, few.Sure, many.Power)
	}
}
