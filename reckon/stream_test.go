package reckon

import (
	"fmt"
	"testing"

	"jetwright/bench"
	"jetwright/drive"
	"jetwright/explore"
)

// A reading taken while water ran past the drive says that at rest it gives more; where the speed is not known
// the answer at rest spans both, and is no narrower.
func TestStreamLaw(t *testing.T) {
	d := read(t, fmt.Sprintf(board, noCavitation, "open", ""))
	s := sample(t, d, 256)
	rest := func(w bench.Stream) explore.Figure {
		p := reading(300, 3500, "battery")
		p.Run, p.Stream = "day", w
		f, err := Calibrate(s, []Evidence{{Plateaus: []bench.Plateau{p}}}, Options{})
		if err != nil {
			t.Fatal(err)
		}
		return f.Ask(drive.Condition{Demand: drive.BatteryPower, Amount: 3500, OnStand: true}, func(s *drive.State) float64 { return s.Thrust })
	}
	still, running, open := rest(bench.Stream{}), rest(bench.Stream{Known: true, Low: 0.5, High: 0.5}), rest(bench.Stream{Known: true, High: 0.5})
	t.Logf("at rest %.1f N [%.1f, %.1f] from a reading at rest, %.1f N [%.1f, %.1f] at 0.5 m/s, %.1f N [%.1f, %.1f] at 0 to 0.5 m/s",
		still.Value, still.Low, still.High, running.Value, running.Low, running.High, open.Value, open.Low, open.High)
	if running.Value < 1.01*still.Value {
		t.Errorf("water at 0.5 m/s takes nothing: %.1f N and %.1f N", still.Value, running.Value)
	}
	if open.Value < still.Value || open.Value > running.Value || open.High-open.Low < still.High-still.Low {
		t.Errorf("an open speed gives %.1f N [%.1f, %.1f]", open.Value, open.Low, open.High)
	}
	c, ok := ReadingCondition(bench.Plateau{Figures: reading(300, 3500, "battery").Figures, Stream: bench.Stream{Known: true, Low: 0.2, High: 0.4}}, "battery")
	if !ok || c.Speed < 0.3-1e-12 || c.Speed > 0.3+1e-12 {
		t.Errorf("the condition of a reading: %+v", c)
	}
}
