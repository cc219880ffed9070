package reckon

import (
	"fmt"
	"math"
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

// What was different in a run counts for that run: in open water nothing is taken for water that the jet drives
// round, a speed that was measured stands for it, and an arm on a pivot has no rollers to drag.
func TestStandOfRunLaw(t *testing.T) {
	rest := func(water string, stream bench.Stream, adjust func(*drive.Drive)) explore.Figure {
		p := reading(300, 3500, "battery")
		p.Run, p.Stream, p.Direction = "day", stream, "up"
		for i := range p.Figures {
			p.Figures[i].Assumed = true // what is typed beside a reading covers the carriage as well
		}
		s := sample(t, read(t, fmt.Sprintf(board, noCavitation, water, "")), 64)
		f, err := Calibrate(s, []Evidence{{Plateaus: []bench.Plateau{p}, Adjust: adjust}}, Options{Draws: 64})
		if err != nil {
			t.Fatal(err)
		}
		return f.Ask(drive.Condition{Demand: drive.BatteryPower, Amount: 3500, OnStand: true}, func(s *drive.State) float64 { return s.Thrust })
	}
	open := func(d *drive.Drive) { d.Stand.Water = "open" }
	near := func(what string, got, want explore.Figure) {
		t.Helper()
		if math.Abs(got.Value/want.Value-1) > 1e-6 {
			t.Errorf("%s: %.4f N, not %.4f N", what, got.Value, want.Value)
		}
	}
	tub, lake := rest("tub", bench.Stream{}, nil), rest("open", bench.Stream{}, nil)
	if tub.Value < 1.01*lake.Value {
		t.Errorf("a tub takes nothing: %.1f N and %.1f N", tub.Value, lake.Value)
	}
	near("a run in open water of a stand in a tub", rest("tub", bench.Stream{}, open), lake)
	near("a run in a tub of a stand in open water", rest("open", bench.Stream{}, func(d *drive.Drive) { d.Stand.Water = "tub" }), tub)
	half := bench.Stream{Known: true, Low: 0.5, High: 0.5}
	near("a speed that was measured in a tub", rest("tub", half, nil), rest("open", half, nil))
	if arm := rest("open", bench.Stream{}, func(d *drive.Drive) { d.Stand.Kind = "pivot" }); arm.Value > 0.999*lake.Value {
		t.Errorf("an arm drags like a carriage: %.2f N and %.2f N", arm.Value, lake.Value)
	}
}
