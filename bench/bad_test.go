package bench

import (
	"math"
	"os"
	"slices"
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
	clocks, clocksIn, scales, sharp := 0, 0, 0, 0
	failed, covered, counted, accused, frozen, found, hardly, missing := 0, 0, 0, 0, 0, 0, 0, 0
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
			// A channel that shows within one step of its display what it would have shown hides nothing.
			if f.Hidden < 1.5*displayStep[f.Channel] {
				hardly++
				continue
			}
			frozen++
			hit := false
			for _, d := range r.Doubts {
				// Where the instrument began anew, nothing says where on the run's clock a part of its log stands.
				hit = hit || d.Kind == Frozen && d.Source == f.File && (d.Span.From < f.Span.To && d.Span.To > f.Span.From || slices.Contains(truth.Ills, synth.IllClockReset))
			}
			if hit {
				found++
			} else {
				t.Logf("seed %d: %v: %s frozen from %.1f to %.1f s is missed (moved %.2f)", seed, truth.Ills, f.Channel, f.Span.From, f.Span.To, f.PowerChange)
			}
		}
		for _, d := range r.Doubts {
			if healthy(truth, d) && !slices.Contains(truth.Ills, synth.IllSecondScale) {
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
			if f.Kind == "controller" || slices.Contains(truth.Ills, synth.IllClockReset) {
				continue
			}
			for _, c := range r.Clocks {
				if c.Source != f.Name || c.Left {
					continue
				}
				clocks++
				e := clockError(truth, f, c, files)
				if math.Abs(e) < 1.96*c.UOffset {
					clocksIn++
				} else {
					t.Logf("seed %d: %v: the clock of %s errs by %.3f s, u %.3f, drift %.0f ± %.0f ppm, true %.0f", seed, truth.Ills, f.Name, e, c.UOffset, 1e6*c.Drift, 1e6*c.UDrift, f.Clock.Drift)
				}
				if f.Kind == "scale" && f.Rate >= 5 {
					scales++
					if 1.96*c.UOffset <= 0.2 {
						sharp++
					}
				}
			}
		}
		if clean, err := cleanHalf(seed); err == nil {
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
	t.Logf("median half-width %.2f N, %.2f N where nothing ails the day; %d of %d clocks within their 95 %% intervals; those of %d of %d scales of 5 Hz and more within 0.2 s", wide, narrow, clocksIn, clocks, sharp, scales)
	t.Logf("%d days: %d not reduced, %d of %d covered, %d steps without a pull, frozen %d of %d and %d that hid no more than a step of their display, healthy accused %d", days, failed, covered, counted, missing, found, frozen, hardly, accused)
	// The band of a binomial at 90 % that holds 99 % of such counts.
	band := 2.576 * math.Sqrt(0.9*0.1/float64(counted))
	if share := float64(covered) / float64(counted); share < 0.9-band || share > 0.9+band+0.03 {
		t.Errorf("%.1f %% of the days are covered by 90 %% intervals", 100*share)
	}
	if wide > 1.5*narrow {
		t.Errorf("the median half-width is %.2f times that of days without ills", wide/narrow)
	}
	if found < frozen || accused*1000 > 5*max(days, 200) {
		t.Error("frozen sensors are missed or healthy ones accused")
	}
	if failed*100 > 4*days || clocksIn*100 < 93*clocks {
		t.Error("too many days are not reduced, or clocks off")
	}
}

// clockError is by how much the clock of a log is off against the controller's in the middle of the day,
// lag and all, s: what happens at one moment stands in both at the same time of the run.
func clockError(truth synth.BadTruth, f synth.FileTruth, c SourceClock, files []synth.NamedFile) float64 {
	var main synth.FileTruth
	for _, x := range truth.Files {
		if x.Kind == "controller" {
			main = x
		}
	}
	shown := func(f synth.FileTruth) float64 {
		t := truth.Length/2 + f.Clock.Lag
		t = f.Clock.Offset + (1+1e-6*f.Clock.Drift)*t
		switch f.Clock.Form {
		case "date_time":
			t += truth.Start
		case "time_of_day":
			t += math.Mod(truth.Start, 86400)
		}
		for _, x := range files {
			if x.Name == f.Name {
				l, _ := GuessLayout(x.Name, x.Data)
				log, _ := ReadLog(x.Name, x.Data, l)
				t -= log.Start
			}
		}
		return t
	}
	return c.Run(shown(f)) - shown(main)
}

// cleanHalf is the half-width of the same day's pull without ills, as a reducer that was told of them
// would have it.
func cleanHalf(seed uint64) ([]float64, error) {
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

// displayStep is the step of a column's display in its own unit.
var displayStep = map[string]float64{
	synth.BridgeTemperature: 0.5, synth.WindingTemperature: 0.1, synth.WindingTemperature2: 0.1,
}

// healthy tells whether a doubt accuses a column that nothing ails.
func healthy(truth synth.BadTruth, d Doubt) bool {
	names := map[Channel][]string{
		Thrust: {synth.Pull, synth.Pull2}, BatteryVoltage: {synth.BatteryVoltage, synth.ShuntVoltage}, BatteryCurrent: {synth.BatteryCurrent}, PhaseCurrent: {synth.PhaseCurrent},
		RotorSpeed: {synth.RotorSpeed}, Power: {synth.ShuntPower}, WaterTemperature: {synth.WaterTemperature},
		WindingTemperature: {synth.WindingTemperature, synth.WindingTemperature2}, BridgeTemperature: {synth.BridgeTemperature},
	}
	any, well := false, true // of the columns of that channel in that log
	for _, f := range truth.Files {
		for _, c := range f.Columns {
			if f.Name == d.Source && slices.Contains(names[d.Channel], c.Channel) {
				any = true
				well = well && c.Healthy && !slices.ContainsFunc(truth.Faults, func(x synth.IllTruth) bool { return x.File == f.Name && x.Channel == c.Channel })
			}
		}
	}
	return any && well
}
