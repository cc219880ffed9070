package reckon

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"jetwright/bench"
	"jetwright/numeric"
	"jetwright/quantity"
)

// ladderOf makes plateaus of a thrust law with known noise; scale is what its scale is off, shared by both sides.
func ladderOf(rng *rand.Rand, run string, powers []float64, gain, scatter, off float64) []bench.Plateau {
	var out []bench.Plateau
	for i, w := range powers {
		n := 20 * math.Cbrt(w)
		t := 1.5 * math.Pow(w, 2.0/3) * gain * (1 + off) * (1 + scatter*rng.NormFloat64())
		figure := func(c bench.Channel, x, limits, repeat float64, by string) bench.Figure {
			return bench.Figure{Channel: c, Value: x, Limits: limits, Repeat: repeat, Instrument: by, Cleared: true}
		}
		out = append(out, bench.Plateau{
			Name: fmt.Sprintf("%s, %d", run, i+1), Run: run, PowerPlace: "battery", Convention: "rms", Held: quantity.Some(60),
			Figures: []bench.Figure{
				figure(bench.Thrust, t, 0.02*t, scatter*t, "scale"), figure(bench.Power, w, 0.03*w, 0, "meter"), figure(bench.RotorSpeed, n, 0, 0, "counter"),
			},
		})
	}
	return out
}

// Of 800 pairs of days with known differences nine in ten intervals hold the truth, a scale that is off cancels, and
// what is called resolved without a difference is as rare as its interval says.
func TestCompareSynthetic(t *testing.T) {
	rng := rand.New(rand.NewPCG(20260601, 5))
	const trials = 800
	hold, falsely := 0, 0
	powers := []float64{600, 1200, 1900, 2600}
	for i := range trials {
		gain := 1.0
		if i%2 == 0 {
			gain = 1.02
		}
		off := 0.02 * (2*rng.Float64() - 1)
		was := Side{Name: "004", Plateaus: ladderOf(rng, "a", powers, 1, 0.012, off), Diameter: 0.1}
		is := Side{Name: "005", Plateaus: ladderOf(rng, "b", powers, gain, 0.012, off), Diameter: 0.1}
		c := Compare(was, is)[0]
		if c.Why != "" && c.Levels == 0 {
			t.Fatal(c.Why)
		}
		truth := math.Log(gain)
		if c.Difference.Low <= truth && truth <= c.Difference.High {
			hold++
		}
		if gain == 1 && c.Resolved {
			falsely++
		}
		if c.Levels != 4 || c.Counts != [2]int{4, 4} || c.Shared > 1e-9 {
			t.Fatalf("%+v", c)
		}
	}
	if share := float64(hold) / trials; share < 0.87 || share > 0.93 {
		t.Errorf("%.1f %% of the intervals hold the difference", 100*share)
	}
	if share := float64(falsely) / (trials / 2); share < 0.06 || share > 0.14 {
		t.Errorf("%.1f %% of no differences are called resolved", 100*share)
	}
}

// More repeats resolve what fewer do not; the number that is asked for is that of the two-sample power table; other
// scales do not cancel; powers that are not alike are not compared.
func TestCompareLaw(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	same := func(n int) []float64 {
		out := make([]float64, n)
		for i := range out {
			out[i] = 2000
		}
		return out
	}
	exact := func(run string, gain float64, n int) []bench.Plateau {
		list := ladderOf(rng, run, same(n), gain, 0, 0)
		for i := range list {
			list[i].Figures[0].Repeat = 0.015 * list[i].Figures[0].Value
		}
		return list
	}
	few := Compare(Side{Name: "1", Plateaus: exact("a", 1, 2)}, Side{Name: "2", Plateaus: exact("b", 1.01, 2)})[0]
	if few.Resolved || few.Repeats == 0 || math.Abs(few.Difference.Value-math.Log(1.01)) > 1e-12 {
		t.Fatalf("two plateaus each: %+v", few)
	}
	if n, _ := numeric.RepeatsFor(0.015, math.Log(1.01), 0.05, 0.8); n != few.Repeats {
		t.Errorf("%d repeats are asked for, the power table has %d", few.Repeats, n)
	}
	many := Compare(Side{Name: "1", Plateaus: exact("a", 1, few.Repeats)}, Side{Name: "2", Plateaus: exact("b", 1.01, few.Repeats)})[0]
	if !many.Resolved {
		t.Errorf("with the repeats that were asked for: %+v", many)
	}
	other := exact("b", 1.01, 2)
	for i := range other {
		other[i].Figures[0].Instrument = "another scale"
	}
	if c := Compare(Side{Name: "1", Plateaus: exact("a", 1, 2)}, Side{Name: "2", Plateaus: other})[0]; c.Repeats != 0 || c.Why == "" || c.Shared < 0.01 {
		t.Errorf("with two scales: %+v", c)
	}
	apart := ladderOf(rng, "b", []float64{4000}, 1, 0.01, 0)
	if c := Compare(Side{Name: "1", Plateaus: exact("a", 1, 2)}, Side{Name: "2", Plateaus: apart})[0]; c.Why == "" || c.Levels != 0 {
		t.Errorf("2000 W are held against 4000 W: %+v", c)
	}
	if c := Compare(Side{Name: "1", Plateaus: exact("a", 1, 2)}, Side{Name: "2"})[0]; c.Why == "" {
		t.Errorf("nothing was measured of one: %+v", c)
	}
	known := Side{Name: "2", Plateaus: exact("b", 1.01, 2), Repeats: []bench.Repeats{{Known: true, Plateaus: 6, Levels: 2, Each: 0.03}}}
	if c := Compare(Side{Name: "1", Plateaus: exact("a", 1, 2)}, known)[0]; c.Each != 0.03 || c.Told <= few.Told {
		t.Errorf("the bench's repeats do not count: %+v", c)
	}
	days := Side{Name: "2", Plateaus: append(exact("b", 0.95, 3), append(exact("c", 1.05, 3), exact("d", 1.0, 3)...)...)}
	if c := Compare(Side{Name: "1", Plateaus: exact("a", 1, 2)}, days)[0]; !c.Days || c.Resolved || c.Told < 0.05 {
		t.Errorf("days that differ by 5 %%: %+v", c)
	}
}
