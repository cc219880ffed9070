package plan

import (
	"math"
	"strings"
	"testing"

	"jetwright/bench"
	"jetwright/explore"
	"jetwright/quantity"
	"jetwright/reckon"
)

func limitOf(name string, state explore.LimitState, notJudged string, hazard bool) explore.JudgedLimit {
	return explore.JudgedLimit{Limit: quantity.Limit{Name: name, Unit: "N", Value: 300, Allowed: 200, NotJudged: notJudged, Hazard: hazard, Moves: []string{"nozzle.diameter"}}, State: state, Worst: 320}
}

func changeBy(path, work string, gain, sure float64) reckon.Change {
	return reckon.Change{Move: reckon.Move{Path: path, Work: work, How: "change " + path}, Gain: explore.Figure{Value: gain, Low: gain / 2, High: 2 * gain}, Sure: sure}
}

// What is broken goes before what is blind, that before hazards that nobody judges, all of it before what pays; what pays
// goes by the hour; no more than three are told, each with where, why and hours.
func TestTonightLaw(t *testing.T) {
	rank := &reckon.Ranking{Now: explore.Figure{Value: 400}}
	rank.Aim.Unit = "N"
	rank.Changes = []reckon.Change{changeBy("intake.throat_loss", "workshop", 8, 1), changeBy("nozzle.diameter", "workshop", 40, 0.5), changeBy("controller.switching_frequency", "bench", 2, 1)}
	lesson := &reckon.StepLesson{Before: 0.06, After: 0.05}
	in := TonightInput{
		Limits: []explore.JudgedLimit{limitOf("winding temperature", explore.Broken, "", false), limitOf("pull on the rope", explore.NotJudged, "no stand.rope_strength is typed", true), limitOf("shaft stress", explore.NotJudged, "shaft strength is not worked out", false)},
		Rule:   reckon.NextStep{From: 2000, Missing: []string{"winding temperature", "rope pull"}, Reasons: []string{"x"}},
		Doubts: []RunDoubt{{Run: "may", Doubt: bench.Doubt{Channel: bench.WindingTemperature, Kind: "frozen", Span: bench.Span{From: 10, To: 90}, Drops: true}}},
		Step:   lesson, Ranking: rank, Readings: 4,
	}
	acts, looked := Tonight(in)
	if len(acts) != 3 || looked < 5 {
		t.Fatalf("%d acts of %d", len(acts), looked)
	}
	for i, words := range []string{"bring the winding temperature back", "mend the sensor of the winding temperature", "rope pull"} {
		if !acts[i].First || !strings.Contains(acts[i].What, words) {
			t.Errorf("act %d is %+v", i+1, acts[i])
		}
	}
	for _, a := range acts {
		if a.Where == "" || a.Why == "" || !(a.Hours > 0) || strings.Contains(a.Why, "NaN") {
			t.Errorf("%+v", a)
		}
	}
	// the same without what is broken or blind
	in.Limits, in.Doubts = in.Limits[2:], nil
	in.Rule = reckon.NextStep{Allowed: true, From: 2000, Power: 2500, Place: "battery"}
	in.Reach = &Reach{Rule: 2500, Power: 2500, Place: "battery"}
	in.Fresh = &reckon.StepLesson{Before: 0.06, After: 0.03, Power: 2000}
	acts, _ = Tonight(in)
	for i := 1; i < len(acts); i++ {
		if acts[i].First || acts[i].PerHour > acts[i-1].PerHour {
			t.Errorf("act %d brings more for an hour than the one before: %+v", i+1, acts)
		}
	}
	if want := 0.03 / hoursMeter; math.Abs(acts[0].PerHour-want) > 1e-12 || acts[0].Where != OnBench {
		t.Errorf("first is %+v", acts[0])
	}
	for _, a := range acts {
		if strings.Contains(a.What, "nozzle.diameter") {
			t.Error("a change that gains in half of the drives is proposed")
		}
	}
	// nothing was measured: a ladder, and what dominates and can be measured
	acts, _ = Tonight(TonightInput{First: &reckon.StepLesson{Before: 0.2, After: 0.1}, Half: 0.2, Shares: []Dominant{{"intake.throat_area", 0.3, false}, {"impeller.efficiency", 0.6, true}}})
	if len(acts) != 2 || !strings.Contains(acts[0].What, "paper template") || !strings.Contains(acts[1].What, "first ladder") {
		t.Errorf("a fresh folder: %+v", acts)
	}
	// a limit holds the next step back; a difference waits for repeats; a design that ran is not frozen
	in.Reach = &Reach{Rule: 2500, Power: 2100, By: "phase current", Why: "so and so"}
	in.Compared = []Undecided{{"004", "005", reckon.RevisionFigure{Difference: explore.Figure{Value: 0.02}, Told: 0.03, Repeats: 4}}}
	in.Ran, in.Ranking = "005", nil
	acts, looked = Tonight(in)
	said := ""
	for _, a := range acts {
		said += a.What + "; "
	}
	if looked < 5 || len(acts) != 3 {
		t.Errorf("%d looked at, told: %s", looked, said)
	}
	if acts, _ = Tonight(TonightInput{Readings: 3, Rule: reckon.NextStep{Reasons: []string{"the only step was still moving"}}}); len(acts) == 0 || acts[0].Why != "the only step was still moving" {
		t.Errorf("nothing settled: %+v", acts)
	}
}
