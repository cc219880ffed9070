package bench

import (
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"jetwright/numeric"
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
	var widths, told []float64
	clocks, clocksIn := 0, 0
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
		for _, f := range truth.Files {
			if f.Kind != "scale" || slices.Contains(truth.Ills, synth.IllClockReset) || !strings.HasPrefix(f.Clock.Form, "elapsed") {
				continue
			}
			for _, c := range r.Clocks {
				if c.Source != f.Name || c.Left {
					continue
				}
				// Both logs count from their own first rows; the truth says where a row of the scale stands.
				clocks++
				if e := clockError(truth, f, c, files); math.Abs(e) < 2*c.UOffset+0.2 {
					clocksIn++
				} else {
					t.Logf("seed %d: %v: the scale's clock errs by %.3f s, u %.3f, drift %.0f ± %.0f ppm, true %.0f", seed, truth.Ills, e, c.UOffset, 1e6*c.Drift, 1e6*c.UDrift, f.Clock.Drift)
				}
			}
		}
		if clean, err := cleanHalf(seed, truth); err == nil {
			told = append(told, clean...)
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
			widths = append(widths, CoverageFactor(0.90, nu)*u)
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
	wide, _ := numeric.Median(widths)
	narrow, _ := numeric.Median(told)
	t.Logf("median half-width %.2f N, %.2f N where nothing ails the day; scale's clock within on %d of %d days", wide, narrow, clocksIn, clocks)
	t.Logf("%d days: %d not reduced, %d of %d covered, %d steps without a pull, frozen %d of %d, healthy accused %d", days, failed, covered, counted, missing, found, frozen, accused)
	// The band of a binomial at 90 % that holds 99 % of such counts.
	band := 2.576 * math.Sqrt(0.9*0.1/float64(counted))
	if share := float64(covered) / float64(counted); share < 0.9-band || share > 0.9+band+0.03 {
		t.Errorf("%.1f %% of the days are covered by 90 %% intervals", 100*share)
	}
	if wide > 1.5*narrow {
		t.Errorf("the median half-width is %.2f times that of days without ills", wide/narrow)
	}
	if failed*100 > 4*days || found*100 < 85*frozen || accused*100 > days+100 || clocksIn*100 < 90*clocks {
		t.Error("too many days are not reduced, frozen sensors missed, healthy ones accused or clocks off")
	}
}

// clockError is by how much the clock of a scale's log is off in the middle of the day, lag and all, s.
func clockError(truth synth.BadTruth, f synth.FileTruth, c SourceClock, files []synth.NamedFile) float64 {
	var first, main float64
	for _, x := range files {
		l, _ := GuessLayout(x.Name, x.Data)
		log, _ := ReadLog(x.Name, x.Data, l)
		if x.Name == f.Name {
			first = log.Start
		} else if strings.Contains(kindOf(truth, x.Name), "controller") {
			main = log.Start
		}
	}
	_ = main
	run := truth.Length / 2
	// shown = offset + (1 + drift)·run, and the scale is late by its lag
	shown := f.Clock.Offset + (1+1e-6*f.Clock.Drift)*(run+f.Clock.Lag) - first
	return c.Run(shown) - run
}

func kindOf(truth synth.BadTruth, name string) string {
	for _, f := range truth.Files {
		if f.Name == name {
			return f.Kind
		}
	}
	return ""
}

// cleanHalf is the half-width of the same day's pull without ills, as a reducer that was told of them
// would have it.
func cleanHalf(seed uint64, truth synth.BadTruth) ([]float64, error) {
	if seed%5 != 0 { // a fifth of the days says the median as well
		return nil, nil
	}
	files, clean := synth.Clean(seed).Make()
	r, err := badDay(files, clean)
	if err != nil {
		return nil, err
	}
	var out []float64
	s := clean.Steps[int(seed)%len(clean.Steps)]
	for _, p := range r.Plateaus {
		if p.Span.From > s.To-2 || p.Span.To < s.From+2 {
			continue
		}
		if f, ok := p.Figure(Thrust); ok {
			u, nu := Combined(f.Budget)
			out = append(out, CoverageFactor(0.90, nu)*u)
		}
	}
	return out, nil
}

var badChannel = map[Channel]string{
	Thrust: synth.Pull, BatteryVoltage: synth.BatteryVoltage, BatteryCurrent: synth.BatteryCurrent, PhaseCurrent: synth.PhaseCurrent, RotorSpeed: synth.RotorSpeed,
	WindingTemperature: synth.WindingTemperature, BridgeTemperature: synth.BridgeTemperature,
}
