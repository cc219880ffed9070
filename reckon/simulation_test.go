package reckon

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"jetwright/design"
	"jetwright/drive"
)

// A table made by a drive that was also measured, bent in known ways: as it is it agrees; with one factor on thrust the gap is
// constant; with a loss left out that grows with the power it grows; and each row has its verdict. Eight drives; what the readings
// leave open may hide a gap, so seven of eight must be called rightly.
func TestSimulationLaw(t *testing.T) {
	d := read(t, fmt.Sprintf(board, noCavitation, "open", ""))
	rng := rand.New(rand.NewPCG(20260603, 9))
	prior := sample(t, d, 192)
	powers := []float64{1500, 2400, 3800, 6000, 9000}
	right := map[string]int{}
	n := 0
	for n < 8 {
		tr, ok := drawTruth(d, rng, powers, "battery", true)
		if !ok {
			continue
		}
		j, err := NewJudge(prior, []Evidence{{Plateaus: tr.plateau}}, Options{Draws: 192})
		if err != nil {
			t.Fatal(err)
		}
		table := func(bend func(power, thrust float64) float64) SimulatedTable {
			var rows []SimulatedRow
			for i, w := range powers {
				s, err := tr.machine.Solve(drive.Condition{Demand: drive.BatteryPower, Amount: w})
				if err != nil {
					t.Fatal(err)
				}
				rows = append(rows, SimulatedRow{Line: i + 2, Figures: map[string]float64{"battery power": w, "thrust": bend(w, s.Thrust), "rotor speed": s.RotorSpeed, "flow": s.Jet.Flow}})
			}
			return j.Simulation(design.ClaimTable{Claim: design.Claim{What: "thrust", Sense: "about", Tolerance: 0.1}}, rows)
		}
		kind := func(x SimulatedTable) string {
			if x.Why != "" || len(x.Trends) < 2 || x.Trends[0].Name != "thrust" || len(x.Points) != len(powers) {
				t.Fatalf("%+v", x)
			}
			return x.Trends[0].Kind
		}
		same := table(func(_, t float64) float64 { return t })
		if kind(same) == TrendAgrees {
			right[TrendAgrees]++
		}
		for _, p := range same.Points {
			if p.Verdict == Refuted {
				t.Errorf("the drive's own table is refuted at %g W", p.Condition.Amount)
			}
		}
		high := table(func(_, t float64) float64 { return 1.25 * t })
		if kind(high) == TrendConstant {
			right[TrendConstant]++
		}
		if high.Counts[Refuted]+high.Counts[Unlikely] < len(powers)-1 {
			t.Errorf("a quarter too much is judged %v", high.Counts)
		}
		if l := high.Trends[0].Level; l.Low > math.Log(1.25) || l.High < math.Log(1.25)-0.02 && l.High < 0.15 {
			t.Errorf("the level of a quarter too much is %+v", l)
		}
		grows := table(func(w, t float64) float64 { return t * (1 + 0.09*math.Log2(w/1500)) })
		if kind(grows) == TrendGrows {
			right[TrendGrows]++
		}
		if kind(table(func(w, t float64) float64 { return t * (1 - 0.07*math.Log2(w/1500)) })) == TrendFalls {
			right[TrendFalls]++
		}
		n++
	}
	for _, k := range []string{TrendAgrees, TrendConstant, TrendGrows, TrendFalls} {
		if right[k] < 7 {
			t.Errorf("%s: called rightly %d times of %d", k, right[k], n)
		}
	}
}

// A row is driven by its power at its place, else by the rotor speed; a power that nobody places is not compared; beyond the
// battery there is no state, and the rest is there.
func TestSimulationConditions(t *testing.T) {
	d := read(t, fmt.Sprintf(board, noCavitation, "open", ""))
	j, err := NewJudge(sample(t, d, 64), nil, Options{Draws: 64})
	if err != nil {
		t.Fatal(err)
	}
	about := design.Claim{What: "thrust", Sense: "about", Tolerance: 0.1}
	row := func(f map[string]float64) []SimulatedRow { return []SimulatedRow{{Line: 2, Figures: f}} }
	x := j.Simulation(design.ClaimTable{Claim: about}, row(map[string]float64{"power": 3000, "thrust": 400}))
	if x.Why == "" {
		t.Errorf("a power without a place is compared: %+v", x)
	}
	at := about
	at.Place = "shaft"
	x = j.Simulation(design.ClaimTable{Claim: at}, row(map[string]float64{"power": 3000, "thrust": 400}))
	if x.Why != "" || x.Points[0].Condition.Demand != drive.ShaftPower || len(x.Trends) != 0 || x.Points[0].Verdict == "" {
		t.Errorf("%+v", x)
	}
	x = j.Simulation(design.ClaimTable{Claim: about}, row(map[string]float64{"rotor speed": 300, "thrust": 400, "torque": 8, "speed": 2}))
	if c := x.Points[0].Condition; c.Demand != drive.RotorSpeed || c.Speed != 2 || len(x.Points[0].Figures) != 2 {
		t.Errorf("%+v", x)
	}
	x = j.Simulation(design.ClaimTable{Claim: about}, []SimulatedRow{{2, map[string]float64{"battery power": 3000, "thrust": 400}}, {3, map[string]float64{"battery power": 1e6, "thrust": 4000}}})
	if x.Without != 1 || len(x.Points) != 2 || x.Points[1].Why == "" || x.Points[1].Verdict != "" {
		t.Errorf("%+v", x)
	}
}
