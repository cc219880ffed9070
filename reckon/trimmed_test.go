package reckon

import (
	"strings"
	"testing"

	"jetwright/bench"
	"jetwright/design"
)

// A verdict is closed only where it stands without the readings that contradict the rest. Predicted before the first run: on
// days with one pull read 15 % off, either way, at least one verdict in ten is opened by that, and of those that stay closed
// at most one in twenty is wrong.
func TestTrimmedLaw(t *testing.T) {
	opened, closed, wrong := 0, 0, 0
	for seed := range uint64(16) {
		d, s := someDay(t, world{}, 700+seed)
		clean, err := NewJudge(s, d.evidence, Options{Draws: 128})
		if err != nil {
			t.Fatal(err)
		}
		if clean.trimmed[""] != nil {
			t.Errorf("seed %d: sound readings are left out: %+v", seed, clean.trimmed[""].Left)
		}
		last := &d.evidence[0].Plateaus[len(d.evidence[0].Plateaus)-1-int(seed/2%2)]
		for i := range last.Figures {
			if last.Figures[i].Channel == bench.Thrust {
				last.Figures[i].Value *= 0.85 + 0.3*float64(seed%2)
			}
		}
		j, err := NewJudge(s, d.evidence, Options{Draws: 128})
		if err != nil {
			t.Fatal(err)
		}
		x := j.trimmed[""]
		if x == nil || x.Fit == nil || len(x.Left) != 1 || x.Left[0].Name != last.Name || x.Left[0].Channel != bench.Thrust {
			t.Errorf("seed %d: left out %+v", seed, x)
			continue
		}
		if n := (NextStep{Allowed: true, Power: 5000}).Contradicted(j.Fit().Doubts); n.Allowed || !strings.Contains(strings.Join(n.Reasons, " "), last.Name) {
			t.Errorf("seed %d: a contradicted pull allows a next step: %+v", seed, n)
		}
		for _, k := range []float64{0.7, 0.8, 0.85, 0.9, 0.95, 1.05, 1.1, 1.15, 1.2, 1.3} {
			c := design.Claim{What: "thrust", Sense: "at least", Value: k * d.thrust, Power: d.ratio * d.highest, Place: "battery", Tolerance: 0.1}
			v := j.Claim(c)
			if strings.Contains(v.Why, "hangs on the thrust of "+last.Name) {
				opened++
			}
			if v.Verdict == Supported || v.Verdict == Refuted {
				closed++
				if (v.Verdict == Supported) != (k <= 1) {
					wrong++
				}
				if !strings.Contains(v.Why, "stands without") {
					t.Errorf("seed %d: %s by %q, which does not say that a reading was left out", seed, v.Verdict, v.Why)
				}
			}
		}
	}
	t.Logf("of 160 verdicts %d are opened by the reading, %d stay closed, of which %d wrong", opened, closed, wrong)
	if opened < 16 || 20*wrong > closed {
		t.Errorf("opened %d, closed %d, wrong %d", opened, closed, wrong)
	}
}

// Readings that all contradict each other close nothing.
func TestTrimmedTooMuch(t *testing.T) {
	d, s := someDay(t, world{}, 712)
	for i := range d.evidence[0].Plateaus {
		for k := range d.evidence[0].Plateaus[i].Figures {
			if f := &d.evidence[0].Plateaus[i].Figures[k]; f.Channel == bench.Thrust || f.Channel == bench.RotorSpeed {
				f.Value *= 1 + 0.2*float64(1-2*(i%2))
			}
		}
	}
	j, err := NewJudge(s, d.evidence, Options{Draws: 64})
	if err != nil {
		t.Fatal(err)
	}
	v := j.Claim(design.Claim{What: "thrust", Sense: "at least", Value: 3 * d.thrust, Power: d.highest, Place: "battery", Tolerance: 0.1})
	if v.Verdict != Open || !strings.Contains(v.Why, "contradict") && !strings.Contains(v.Why, "nobody would assume") {
		t.Errorf("%s: %s", v.Verdict, v.Why)
	}
}
