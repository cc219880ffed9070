package desk

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"jetwright/design"
	"jetwright/plan"
	"jetwright/project"
)

// standOf plans the scene with runs and keys changed; runs not named are taken away.
func standOf(t *testing.T, runs []string, keys map[string]string, o Options) *StandAnswer {
	t.Helper()
	folder := filepath.Join(t.TempDir(), "sled")
	if err := project.New(folder, "rescue-sled"); err != nil {
		t.Fatal(err)
	}
	list, err := os.ReadDir(filepath.Join(folder, "runs"))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range list {
		keep := false
		for _, r := range runs {
			keep = keep || r == e.Name()
		}
		if !keep {
			if err := os.RemoveAll(filepath.Join(folder, "runs", e.Name())); err != nil {
				t.Fatal(err)
			}
		}
	}
	for path, value := range keys {
		if value == "" { // not typed at all
			file := filepath.Join(folder, project.DesignFile)
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			line := regexp.MustCompile(`(?m)^` + path[strings.Index(path, ".")+1:] + ` .*\n`)
			if err := os.WriteFile(file, line.ReplaceAll(text, nil), 0o600); err != nil {
				t.Fatal(err)
			}
			continue
		}
		if err := SetIn(folder, path, value); err != nil {
			t.Fatal(err)
		}
	}
	a, err := StandIn(folder, o)
	if err != nil {
		t.Fatal(err)
	}
	sound(t, a)
	return a
}

// sound holds every plan to what all have in common.
func sound(t *testing.T, a *StandAnswer) {
	t.Helper()
	if text := fmt.Sprintf("%v", *a.Plan); strings.Contains(text, "NaN") || strings.Contains(text, "Inf") {
		t.Error("a plan holds what is no number")
	}
	up := map[float64]plan.Step{}
	for i, s := range a.Steps {
		for name, f := range map[string]plan.Figure{"pull": s.Pull, "rotor speed": s.Rotor, "current": s.Current, "voltage": s.Voltage, "winding": s.Winding} {
			if f.Low > f.Value || f.Value > f.High {
				t.Errorf("step %d: %s is %+v", i+1, name, f)
			}
		}
		switch {
		case s.Kind == plan.Down:
			if u, ok := up[s.Power]; !ok || u.Pull.Value > s.Pull.Value {
				t.Errorf("step %d comes down at %g W, whose pull going up is %g N of %g N", i+1, s.Power, u.Pull.Value, s.Pull.Value)
			}
		case i > 0 && (s.Power <= a.Steps[i-1].Power || s.Pull.Value <= a.Steps[i-1].Pull.Value):
			t.Errorf("step %d does not rise: %g W after %g W", i+1, s.Power, a.Steps[i-1].Power)
		}
		if s.Kind == plan.New && i > 0 && s.Power > 1.25*a.Steps[i-1].Power*(1+1e-9) {
			t.Errorf("step %d is %g W after %g W", i+1, s.Power, a.Steps[i-1].Power)
		}
		if s.Kind != plan.Down {
			up[s.Power] = s
		}
	}
	if want := 2*a.Dwell.Zero + float64(len(a.Steps))*(a.Dwell.Time+a.Dwell.Change); math.Abs(a.Whole-want) > 1e-9 || a.Dwell.Time < 3*a.Dwell.Tau+60 {
		t.Errorf("the day takes %g s of %g s, with %+v", a.Whole, want, a.Dwell)
	}
	if len(a.Stops) != 9 || len(a.Before) < 8 || len(a.Safety) < 7 || len(a.Sources) < 4 {
		t.Errorf("%d stops, %d checks, %d cautions, %d sources", len(a.Stops), len(a.Before), len(a.Safety), len(a.Sources))
	}
}

// While the winding's sensor is in doubt the ladder repeats and goes no further.
func TestStandStaysBelow(t *testing.T) {
	a := standOf(t, []string{"2026-05-03-ladder", "2026-05-16-logs"}, nil, Options{Draws: 64})
	top := a.Steps[a.Top]
	if a.First || !a.Fitted || top.Kind != plan.Repeat || top.Power > a.From || top.Power < 0.98*a.From {
		t.Errorf("the highest step is %+v of %g W", top, a.From)
	}
	if !strings.Contains(a.Dwell.From, "2026-05-16-logs") {
		t.Errorf("the dwell rests on %s", a.Dwell.From)
	}
	for _, c := range a.Plan.Stand {
		if c.State != plan.Holds || c.Bad < c.Value {
			t.Errorf("%+v", c)
		}
	}
}

// From readings that are watched the ladder goes on by the rule, to the duty's power or to a limit.
func TestStandGoesOn(t *testing.T) {
	a := standOf(t, []string{"2026-05-03-ladder"}, map[string]string{"duty.thrust": "420 N", "stand.ballast": "700 kg", "stand.rope_strength": "1500 kgf", "stand.tether_slack": "5 mm"}, Options{Draws: 64})
	if !a.Next.Allowed {
		t.Fatalf("the readings allow no step: %v", a.Next.Reasons)
	}
	if a.Steps[a.Top].Kind != plan.New || a.Steps[a.Top].Power <= a.From {
		t.Errorf("the highest step is %+v; %s", a.Steps[a.Top], a.Ends)
	}
}

// Without a reading the ladder starts low, and the pull to be shown is below the thrust going up.
func TestStandFirstLadder(t *testing.T) {
	a := standOf(t, nil, nil, Options{Draws: 64})
	if !a.First || a.Fitted || a.Steps[0].Power > 0.1*a.Steps[a.Top].Power {
		t.Errorf("the first ladder goes from %g W to %g W", a.Steps[0].Power, a.Steps[a.Top].Power)
	}
	for _, s := range a.Steps {
		if s.Kind != plan.Down && s.Pull.Value >= s.Thrust.Value {
			t.Errorf("at %g W the scale shows %g N of %g N", s.Power, s.Pull.Value, s.Thrust.Value)
		}
	}
	open := standOf(t, nil, map[string]string{"stand.water": "open"}, Options{Draws: 64})
	if open.Steps[3].Pull.Value <= a.Steps[3].Pull.Value {
		t.Error("in open water the scale shows no more than in a pool")
	}
	for _, w := range open.Tub {
		if w.Topic == "water that moves" || w.Topic == "warming" {
			t.Errorf("open water: %s", w.Text)
		}
	}
}

// More ballast never ends the ladder sooner, tolerances count at their bad end, and what ends it is named.
func TestStandBallastLaw(t *testing.T) {
	last := 0.0
	for _, ballast := range []string{"60 kg", "120 kg", "200 kg", "200 kg ± 60 kg"} {
		a := standOf(t, nil, map[string]string{"stand.ballast": ballast}, Options{Draws: 32})
		top := a.Steps[a.Top].Power
		if strings.Contains(ballast, "±") {
			if top >= last {
				t.Errorf("ballast that may be less holds %g W, as if it were not", top)
			}
		} else if top < last {
			t.Errorf("%s ends at %g W, less at %g W", ballast, top, last)
		}
		last = top
		if !strings.Contains(a.Ends, "sliding of the stand") {
			t.Errorf("%s: %s", ballast, a.Ends)
		}
	}
}

// Stands of every kind have a plan; an arm shows its lever in the pull.
func TestStandKinds(t *testing.T) {
	level := standOf(t, nil, nil, Options{Nominal: true})
	for _, keys := range []map[string]string{
		{"stand.kind": "pivot", "stand.pivot_height": "300 mm", "stand.rope_height": "1020 mm"},
		{"stand.anchor": "ground", "stand.rope_angle": "5 deg"},
		{"stand.friction": "0.5", "stand.cover_plate": "no", "stand.intake_depth": "1.4 m"},
	} {
		a := standOf(t, nil, keys, Options{Nominal: true})
		if keys["stand.kind"] == "pivot" { // both arms are 720 mm, and nothing rubs
			if a.Steps[0].Pull.Value <= level.Steps[0].Pull.Value {
				t.Errorf("an arm shows %g N, a carriage %g N", a.Steps[0].Pull.Value, level.Steps[0].Pull.Value)
			}
		}
		if keys["stand.cover_plate"] == "no" && a.Air[0].Topic != plan.AirUnlikely {
			t.Errorf("a deep intake: %+v", a.Air[0])
		}
	}
}

// A duty under way is planned at its power, and its first ladder starts low as well.
func TestStandUnderWay(t *testing.T) {
	a := standOf(t, nil, map[string]string{"duty.speed": "5 m/s", "duty.thrust": "180 N", "stand.ballast": "900 kg", "stand.tether_slack": "2 mm"}, Options{Draws: 32})
	if first, top := a.Steps[0].Power, a.Steps[a.Top].Power; first > 0.1*top {
		t.Errorf("the first ladder goes from %g W to %g W: %s", first, top, a.Ends)
	}
}

// Whatever is typed of the stand, its plan is made of numbers, or refused with words.
func FuzzStand(f *testing.F) {
	const drive = `
[duty]
thrust = "180 N"
[impeller]
diameter = "81 mm"
hub_diameter = "34 mm"
[nozzle]
diameter = "52 mm"
[motor]
speed_constant = "130 rpm/V"
winding_resistance = "22 mΩ"
[battery]
series = 10
parallel = 6
cell_capacity = "4 Ah"
[stand]
`
	f.Add("rope_angle = \"5 deg ± 2 deg\"\nscale_range = \"50 kgf\"\n")
	for _, s := range standSeeds() {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, stand string) {
		d, faults := design.Read("drive.toml", []byte(drive+stand))
		if faults.Fatal() != nil || d == nil {
			return
		}
		a, err := Stand(&project.Project{Folder: "x", Design: d}, Options{Nominal: true})
		if err != nil {
			if err.Error() == "" {
				t.Fatal("an error without words")
			}
			return
		}
		if text := fmt.Sprintf("%v", *a.Plan); strings.Contains(text, "NaN") || strings.Contains(text, "Inf") {
			t.Fatalf("%q: a plan holds what is no number", stand)
		}
	})
}

// standSeeds type every key of the stand at the ends of its range.
func standSeeds() []string {
	var low, high strings.Builder
	for _, f := range design.Schema().Fields() {
		switch {
		case f.Section != "stand":
		case len(f.Choices) > 0:
			fmt.Fprintf(&low, "%s = %q\n", f.Key, f.Choices[0])
			fmt.Fprintf(&high, "%s = %q\n", f.Key, f.Choices[len(f.Choices)-1])
		case f.Range != nil:
			fmt.Fprintf(&low, "%s = %q\n", f.Key, strings.TrimSuffix(fmt.Sprintf("%.9g %s", f.Unit.FromSI(f.Range.Low), f.Unit.Symbol), " 1"))
			fmt.Fprintf(&high, "%s = %q\n", f.Key, strings.TrimSuffix(fmt.Sprintf("%.9g %s", f.Unit.FromSI(f.Range.High), f.Unit.Symbol), " 1"))
		}
	}
	return []string{low.String(), high.String()}
}

// By hand: a shaft line 100 to 250 mm below water of 480 to 520 mm lies 230 to 420 mm above the ground, and 420 mm tip
// the stand. An arm whose pivot stands at 280 to 320 mm pulls hardest on a rope at 650 mm with a jet at −430 mm: by
// 750 mm over 330 mm.
func TestStandCornersByHand(t *testing.T) {
	bad := func(a *StandAnswer, name string) float64 {
		for _, c := range a.Plan.Stand {
			if c.Name == name && c.State != plan.NotJudged {
				return c.Bad
			}
		}
		t.Fatalf("%s is not judged", name)
		return 0
	}
	tub := standOf(t, nil, map[string]string{"stand.water": "tub", "stand.jet_height": "", "stand.water_depth": "500 mm ± 20 mm"}, Options{Nominal: true})
	if lever := bad(tub, "overturning of the stand") / bad(tub, "sliding of the stand"); math.Abs(lever-0.42) > 1e-9 {
		t.Errorf("the stand is tipped by a lever of %g m", lever)
	}
	arm := standOf(t, nil, map[string]string{
		"stand.kind": "pivot", "stand.pivot_height": "300 mm ± 20 mm", "stand.rope_height": "660 mm ± 10 mm", "stand.jet_height": "-420 mm ± 10 mm",
	}, Options{Nominal: true})
	coefficient := func(a *StandAnswer) float64 {
		for _, x := range a.Stops {
			if x.Channel == "T/(ρn²D⁴)" {
				return x.Expected.Value
			}
		}
		return 0
	}
	if c, k := coefficient(arm), coefficient(tub); !(c > 0) || math.Abs(c/k-1) > 0.04 { // a thrust, whatever lever the rope has
		t.Errorf("the thrust coefficient of an arm is %g, of a carriage %g", c, k)
	}
	if ratio := bad(arm, "pull on the rope") / bad(arm, "sliding of the stand"); math.Abs(ratio-0.75/0.33) > 1e-9 {
		t.Errorf("the rope is pulled by %g of the thrust", ratio)
	}
}
