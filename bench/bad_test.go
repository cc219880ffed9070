package bench

import (
	"math"
	"os"
	"slices"
	"testing"

	"jetwright/quantity"
	"jetwright/synth"
)

// badDay reads and reduces a day of the generator of bad days as a builder would who has typed what
// is known of rope, pulley, gravity and the scale's calibration.
func badDay(files []synth.NamedFile, truth synth.BadTruth) (*Reduction, error) {
	const deg = math.Pi / 180
	k := truth.Corrections
	var sources []Source
	for _, f := range files {
		l, faults := GuessLayout(f.Name, f.Data)
		if err := faults.Fatal(); err != nil {
			return nil, err
		}
		log, faults := ReadLog(f.Name, f.Data, l)
		if err := faults.Fatal(); err != nil {
			return nil, err
		}
		s := Source{Log: log}
		c := Corrections{
			RopeAngle: k.RopeAngle.Known * deg, URopeAngle: k.RopeAngle.Within * deg / math.Sqrt(3), Pulley: math.Abs(k.PulleyFriction.Known) + k.PulleyFriction.Within,
		}
		if k.GravityGain.Within > 0 || k.GravityGain.Known != 0 {
			c.Gravity = standardGravity / (1 + k.GravityGain.Known)
			c.UGravity = c.Gravity * k.GravityGain.Within / math.Sqrt(3)
		}
		for _, p := range k.Calibration {
			c.Loads, c.Readings = append(c.Loads, p.Load), append(c.Readings, p.Reading)
		}
		if len(c.Loads) < 3 {
			c.Loads, c.Readings = nil, nil
		}
		s.Corrections = c
		sources = append(sources, s)
	}
	return Reduce(sources, ReduceOptions{Run: "day", Setup: Setup{FullScale: quantity.Some(k.ScaleFull)}})
}

// Over bad days of the generator the 90 % intervals of the pull hold as often as they say, counted
// by days, every frozen sensor that the power tells is found, and hardly a healthy one is accused.
func TestBadDaysSynthetic(t *testing.T) {
	days := 100
	if os.Getenv("JETWRIGHT_SLOW") != "" {
		days = 1000
	}
	failed, covered, counted, accused, frozen, found, missing := 0, 0, 0, 0, 0, 0, 0
	for seed := range uint64(days) {
		files, truth := synth.Bad(seed).Make()
		r, err := badDay(files, truth)
		if err != nil {
			failed++
			t.Logf("seed %d: %v: %v", seed, truth.Ills, err)
			continue
		}
		for _, f := range truth.Faults {
			if f.Name != synth.Frozen || !f.PowerMoved || f.Span.To-f.Span.From < 10 {
				continue
			}
			frozen++
			hit := false
			for _, d := range r.Doubts {
				hit = hit || d.Kind == Frozen && d.Span.From < f.Span.To && d.Span.To > f.Span.From
			}
			if hit {
				found++
			} else {
				t.Logf("seed %d: %v: %s frozen from %.1f to %.1f s is missed (moved %.2f)", seed, truth.Ills, f.Channel, f.Span.From, f.Span.To, f.PowerChange)
			}
		}
		for _, d := range r.Doubts {
			if slices.Contains(truth.Healthy, badChannel[d.Channel]) && !slices.Contains(truth.Ills, synth.IllSecondScale) {
				accused++
				t.Logf("seed %d: %v: %s is accused: %s from %.1f to %.1f: %s", seed, truth.Ills, d.Channel, d.Kind, d.Span.From, d.Span.To, d.Evidence)
			}
		}
		hopeless := false
		for _, f := range truth.Faults {
			hopeless = hopeless || f.Name == synth.IllUnit && f.Channel == synth.Pull
		}
		if hopeless {
			continue
		}
		// One step a day, by the seed, so that days count and not plateaus.
		s := truth.Steps[int(seed)%len(truth.Steps)]
		want := (1 - s.CoFlow) * s.Thrust
		ok := false
		for _, p := range r.Plateaus {
			if p.Span.From > s.To-2 || p.Span.To < s.From+2 || p.Unsettled != "" {
				continue
			}
			f, have := p.Figure(Thrust)
			if !have {
				continue
			}
			ok = true
			counted++
			u, nu := Combined(f.Budget)
			if half := CoverageFactor(0.90, nu) * u; math.Abs(f.Value-want) < half {
				covered++
			} else {
				t.Logf("seed %d: %v %v: pull %.2f ± %.2f N, true %.2f N (%s)", seed, truth.Ills, truth.Effects, f.Value, half, want, s.Direction)
			}
			break
		}
		if !ok {
			missing++
			t.Logf("seed %d: %v: no plateau with a pull from %.1f to %.1f s of %d", seed, truth.Ills, s.From, s.To, len(r.Plateaus))
		}
	}
	t.Logf("%d days: %d not reduced, %d of %d covered, %d steps without a pull, frozen %d of %d, healthy accused %d", days, failed, covered, counted, missing, found, frozen, accused)
}

var badChannel = map[Channel]string{
	Thrust: synth.Pull, BatteryVoltage: synth.BatteryVoltage, BatteryCurrent: synth.BatteryCurrent, PhaseCurrent: synth.PhaseCurrent, RotorSpeed: synth.RotorSpeed,
	WindingTemperature: synth.WindingTemperature, BridgeTemperature: synth.BridgeTemperature,
}
