package bench

import (
	"math"
	"testing"

	"jetwright/synth"
)

// Bench days of the generator, which shares no code with this package, are read from their bytes
// and reduced: levels, clocks, tare, friction and means come out as often within their intervals
// as the intervals say. The instruments' gains, which are their limits' business, are taken out
// before comparing.
func TestReduceGeneratedSynthetic(t *testing.T) {
	const days = 25
	inside, all, friction, tares := 0, 0, 0, 0
	for seed := range uint64(days) {
		d := synth.Random(seed)
		files, truth := d.Make()
		var sources []Source
		for name, data := range map[string][]byte{"scale.csv": files.Scale, "controller.csv": files.Controller} {
			l, faults := GuessLayout(name, data)
			if err := faults.Fatal(); err != nil {
				t.Fatal(err)
			}
			log, faults := ReadLog(name, data, l)
			if err := faults.Fatal(); err != nil {
				t.Fatal(err)
			}
			sources = append(sources, Source{Log: log})
		}
		r, err := Reduce(sources, ReduceOptions{Run: "day"})
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if len(r.Doubts) > 0 {
			t.Errorf("seed %d: sound channels are doubted: %+v", seed, r.Doubts)
		}
		if len(r.Plateaus) != len(truth.Steps) {
			for _, p := range r.Plateaus {
				t.Logf("  %.1f .. %.1f %s", p.Span.From, p.Span.To, p.Unsettled)
			}
			t.Errorf("seed %d: %d plateaus for %d steps %+v", seed, len(r.Plateaus), len(truth.Steps), d.Steps)
			continue
		}
		if !r.Friction.Known || math.Abs(r.Friction.Force/(1+truth.Gains.Scale)-truth.Friction) < 2*r.Friction.U {
			friction++
		} else {
			t.Logf("seed %d: friction %.2f ± %.2f, true %.2f", seed, r.Friction.Force, r.Friction.U, truth.Friction)
		}
		if math.Abs(r.Tare.Start-truth.TareBegin) < 2*r.Tare.UStart {
			tares++
		}
		for i, s := range truth.Steps {
			p := r.Plateaus[i]
			if math.Abs(p.Span.To-s.To) > 2.5 || p.Span.From < s.From-2 || p.Direction != s.Direction {
				t.Errorf("seed %d: plateau %d from %.1f to %.1f s %s, true %.1f to %.1f s %s", seed, i+1, p.Span.From, p.Span.To, p.Direction, s.From, s.To, s.Direction)
			}
			pull := s.Pull
			if r.Friction.Known {
				pull += truth.Friction // what pulls on the carriage
				if s.Direction == "down" {
					pull = s.Pull - truth.Friction
				}
			}
			for _, c := range []struct {
				channel Channel
				want    float64
				gain    float64
			}{
				{Thrust, pull, truth.Gains.Scale},
				{Power, s.BatteryPower, (1+truth.Gains.Current)*(1+truth.Gains.Voltage) - 1},
				{RotorSpeed, s.RotorSpeed * math.Pi / 30, 0},
			} {
				f, ok := p.Figure(c.channel)
				if !ok {
					t.Fatalf("seed %d: plateau %d has no %s", seed, i+1, c.channel)
				}
				all++
				if math.Abs(f.Value/(1+c.gain)-c.want) < 1.645*f.ownUncertainty() {
					inside++
				} else {
					t.Logf("seed %d plateau %d: %s %.5g ± %.2g, true %.5g", seed, i+1, c.channel, f.Value/(1+c.gain), f.ownUncertainty(), c.want)
				}
			}
		}
	}
	t.Logf("%d of %d within 90 %% intervals, friction %d and tare %d of %d", inside, all, friction, tares, days)
	if share := float64(inside) / float64(all); share < 0.83 || share > 0.97 {
		t.Errorf("%.1f %% of the figures lie within their 90 %% intervals", 100*share)
	}
	if friction < days*8/10 || tares < days*8/10 {
		t.Errorf("friction within two standard uncertainties on %d and tare on %d of %d days", friction, tares, days)
	}
}
