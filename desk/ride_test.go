package desk

import (
	"math"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"jetwright/drive"
	"jetwright/project"
)

func pond(t testing.TB) *project.Project {
	t.Helper()
	p, err := project.Open(filepath.Join("..", "examples", "pond-board"))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// digits counts the figures of a number that mean something.
func digits(x float64) int {
	s := strings.TrimLeft(strings.ReplaceAll(strconv.FormatFloat(math.Abs(x), 'f', -1, 64), ".", ""), "0")
	return len(strings.TrimRight(s, "0"))
}

// Drag from outside of the ranges of its methods never has three digits, in no interval's end either.
func TestExtrapolatedDragLaw(t *testing.T) {
	for _, o := range []Options{{Nominal: true}, {Draws: 24}} {
		a, err := OnWater(pond(t), RideFlags{}, o)
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for _, c := range a.Curve {
			if !c.Craft.Extrapolated() {
				continue
			}
			n++
			for _, x := range []float64{c.Drag.Value, c.Drag.Low, c.Drag.High} {
				if digits(x) > 2 {
					t.Errorf("%v N at %g m/s", x, c.Speed)
				}
			}
		}
		if n == 0 {
			t.Error("nothing is extrapolated")
		}
	}
	for _, x := range []float64{0.0123456, 0.126, 1.06, 9.96, 123.4, -87654} {
		if y := TwoDigits(x); digits(y) > 2 || math.Abs(y-x) > 0.05*math.Abs(x) {
			t.Errorf("%g becomes %g", x, y)
		}
	}
}

// A ride's answer hangs together: intervals hold their nominal, what gets onto the plane has a time and a rider who is lighter than the edge, the
// foremost stance climbs best, less charge never climbs better, and the account closes.
func TestRideAnswerLaw(t *testing.T) {
	a, err := OnWater(pond(t), RideFlags{}, Options{Draws: 24})
	if err != nil {
		t.Fatal(err)
	}
	for name, f := range map[string]Figure{"margin": a.Margin, "hump": a.HumpSpeed, "top": a.FromRest, "edge": a.EdgeRider, "plane": a.ToPlane, "way": a.Distance} {
		if !(f.Low <= f.Value && f.Value <= f.High) || f.Low == f.High {
			t.Errorf("%s: %+v", name, f)
		}
	}
	if a.State != ClimbsSurely || !(a.EdgeRider.Value > a.SureRider.Value && a.SureRider.Value > a.Craft.RiderMass.Value) || math.IsInf(a.ToPlane.High, 1) {
		t.Error(a.State, a.EdgeRider, a.SureRider, a.ToPlane)
	}
	if n := len(a.Stances); n != 3 || a.Stances[2].Margin <= a.Stances[0].Margin {
		t.Errorf("stances %+v", a.Stances)
	}
	for i := 1; i < len(a.Climbs); i++ {
		if a.Climbs[i].Margin.Value > a.Climbs[i-1].Margin.Value+1e-9 {
			t.Error("less charge climbs better")
		}
	}
	if math.Abs(a.Closure) > 1e-9 {
		t.Error("the account is off by", a.Closure)
	}
	for _, l := range a.Legs {
		if !l.Begun || l.Reached < 0.9 {
			t.Errorf("%+v", l)
		}
	}
	if a.BestPlaning == nil || a.BestPlaning.Range.Value < 0.99*a.Cruises[len(a.Cruises)-1].Range.Value {
		t.Error("the best range is not the best")
	}
}

// A battery that cannot feed the climb is no climb, whatever the margin is with a full one; a leg that does not get to its speed is
// named, and is not counted as done; a speed is held for some time or not at all.
func TestRideShortLaw(t *testing.T) {
	p := pond(t)
	d, err := p.Design.With("battery.charge", "3 %")
	if err != nil {
		t.Fatal(err)
	}
	p.Design = d
	a, err := OnWater(p, RideFlags{}, Options{Nominal: true})
	if err != nil {
		t.Fatal(err)
	}
	if a.Margin.Value < SureMargin || !math.IsInf(a.ToPlane.Value, 1) {
		t.Fatalf("a margin of %g and %g s to plane: the case is lost", a.Margin.Value, a.ToPlane.Value)
	}
	if a.State == ClimbsSurely || a.Fine() || a.Over != 0 || !strings.Contains(warned(a), "the climb does not end on the plane") {
		t.Errorf("with 3 %% of charge it %s; %s", a.State, warned(a))
	}
	for _, c := range a.Cruises {
		if c.Time.Value == 0 {
			t.Errorf("%g m/s is held for no time", c.Speed)
		}
	}
	a, err = OnWater(pond(t), RideFlags{Power: "2 kW", Legs: []string{"to the plane", "200 m at 7 m/s", "1 min rest"}}, Options{Nominal: true})
	if err != nil {
		t.Fatal(err)
	}
	if w := warned(a); !strings.Contains(w, `leg 1, "to the plane", gets to`) || !strings.Contains(w, `leg 2, "200 m at 7 m/s", gets to`) || strings.Contains(w, "leg 3") {
		t.Error(w)
	}
	if e := a.Course.Ending.String(); !strings.Contains(e, "1 of them short") {
		t.Error(e)
	}
}

// A power of an everyday size is written without a power of ten.
func TestPushTextExact(t *testing.T) {
	for watts, want := range map[float64]string{11000: "11000 W shaft power", 14000: "14000 W shaft power", 12347: "12350 W shaft power", 3728.9: "3729 W shaft power", 950.25: "950.2 W shaft power"} {
		if got := PushText(drive.Push{Demand: drive.ShaftPower, Amount: watts}); got != want {
			t.Errorf("%g W is written %s, not %s", watts, got, want)
		}
	}
}

// Of a craft that does not plane neither a trim nor a range on the plane is told.
func TestExplainSwimmingExact(t *testing.T) {
	p := pond(t)
	d, err := p.Design.With("craft.rider_mass", "260 kg")
	if err != nil {
		t.Fatal(err)
	}
	p.Design = d
	for _, path := range []string{"ride.trim", "ride.range"} {
		if a, err := Explain(p, path, Options{Nominal: true}); err == nil || !strings.Contains(err.Error(), "does not get onto the plane") {
			t.Errorf("%s: %+v, %v", path, a, err)
		}
	}
}

func warned(a *RideAnswer) string {
	var out []string
	for _, n := range a.Notices {
		out = append(out, n.What)
	}
	return strings.Join(out, "; ")
}

// The standard ride of an issue's figure: 128 drawn drives.
func BenchmarkStandardRide(b *testing.B) {
	p := pond(b)
	for b.Loop() {
		if _, err := OnWater(p, RideFlags{}, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
