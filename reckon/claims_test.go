package reckon

import (
	"math"
	"strings"
	"testing"

	"jetwright/design"
	"jetwright/drive"
	"jetwright/quantity"
)

// Claims of run time and of speed on days whose truth is known: of those that are clear cut none is closed the wrong way, most
// are closed, and the interval of the run time holds the truth. Predicted before the first run: eight in ten closed, the run time inside
// in 8 days of 10 at least.
func TestTimeAndSpeedLaw(t *testing.T) {
	closed, asked, inside := 0, 0, 0
	for seed := range uint64(10) {
		d, s := someDay(t, world{none: true}, 900+seed)
		j, err := NewJudge(s, d.evidence, Options{Draws: 128})
		if err != nil {
			t.Fatal(err)
		}
		drawn := d.machine
		power := 0.9 * d.highest
		truth := drawn.RunTime(power)
		v := j.Claim(design.Claim{What: "run time", Sense: "at least", Value: truth, Power: power, Place: "battery"})
		if f := v.Cases[0].Calibrated.Figure; f.Low <= truth && truth <= f.High {
			inside++
		}
		under, err := drawn.Solve(drive.Condition{Demand: drive.BatteryPower, Amount: power, Speed: 5})
		if err != nil {
			t.Fatal(err)
		}
		for _, k := range []float64{0.7, 1.4} {
			for _, c := range []design.Claim{
				{What: "run time", Sense: "at least", Value: k * truth, Power: power, Place: "battery"},
				{What: "speed", Sense: "at least", Value: 5, Power: power, Place: "battery", Drag: quantity.Between(0.97*k*under.NetThrust, 1.03*k*under.NetThrust, quantity.MustUnit("N"))},
			} {
				v := j.Claim(c)
				asked++
				switch v.Verdict {
				case Supported, Refuted:
					closed++
					if (v.Verdict == Supported) != (k < 1) {
						t.Errorf("seed %d: %s of %g times the truth is %s", seed, c.What, k, v.Verdict)
					}
					if j.Decisive(v, NextStep{}, 0) != nil {
						t.Error("a closed verdict is asked a test")
					}
				default:
					if x := j.Decisive(v, NextStep{From: d.highest}, 0); x.Found || !strings.Contains(x.Why, map[string]string{"speed": "towed", "run time": "from full to empty"}[c.What]) {
						t.Errorf("%+v", x)
					}
				}
			}
		}
		v = j.Claim(design.Claim{What: "speed", Sense: "at least", Value: 5, Power: power, Place: "battery"})
		if v.Verdict != Open || len(v.Cases) != 0 || !strings.Contains(v.Why, "type drag") {
			t.Errorf("a speed without a drag: %s, %s", v.Verdict, v.Why)
		}
	}
	t.Logf("closed %d of %d, run time inside in %d of 10", closed, asked, inside)
	if closed < 32 || inside < 8 {
		t.Errorf("closed %d of %d, run time inside in %d of 10", closed, asked, inside)
	}
	// For a thrust in place of a power: more time the less power the thrust takes.
	d, s := someDay(t, world{none: true}, 900)
	j, err := NewJudge(s, d.evidence, Options{Draws: 64})
	if err != nil {
		t.Fatal(err)
	}
	last := math.Inf(1)
	for _, thrust := range []float64{100, 150, 200} {
		v := j.Claim(design.Claim{What: "run time", Sense: "at least", Value: 60, Thrust: thrust})
		if len(v.Cases) != 1 || !(v.Cases[0].Calibrated.Figure.Value < last) {
			t.Errorf("at %g N: %+v", thrust, v)
		}
		last = v.Cases[0].Calibrated.Figure.Value
	}
}
