// Command posterior walks the same posterior with the tool and with SciPy in one run: a second opinion on what readings
// teach, and how long an effective draw takes.
package main

import (
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"time"

	"jetwright/bench"
	"jetwright/design"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/quantity"
	"jetwright/reckon"
	"jetwright/sidebyside/second"
)

// open are the numbers that stay uncertain; all others of the example are typed exactly.
var open = map[string]bool{
	"impeller.efficiency": true, "impeller.head_coefficient": true, "shaft.seal_torque": true, "intake.throat_loss": true, "nozzle.diameter": true,
}

const (
	thrustLimits, powerLimits, speedLimits = 0.02, 0.03, 0.003
	thrustRepeat, powerRepeat, speedRepeat = 0.01, 0.01, 0.01
)

type unknown struct {
	Path      string  `json:"path"`
	Low, High float64 // SI
}

type step struct{ Power, Thrust, Speed float64 }

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
}

func run() error {
	data, err := os.ReadFile(filepath.Join("examples", "rescue-sled", "drive.toml"))
	if err != nil {
		return fmt.Errorf("run this from the top of the project: %w", err)
	}
	d, faults := design.Read("drive.toml", data)
	if err := faults.Fatal(); err != nil {
		return err
	}
	for _, in := range d.Uncertain() {
		if open[in.Path] {
			continue
		}
		text := fmt.Sprintf("%.12g", in.Field.Unit.FromSI(in.Value.Nominal()))
		if in.Field.Unit.Symbol != "1" {
			text += " " + in.Field.Unit.Symbol
		}
		if d, err = d.With(in.Path, text); err != nil {
			return err
		}
	}
	if d, err = d.With("stand.water", "open"); err != nil {
		return err
	}
	var unknowns []unknown
	for _, in := range d.Uncertain() {
		unknowns = append(unknowns, unknown{in.Path, in.Value.Quantile(0), in.Value.Quantile(1)})
	}
	if len(unknowns) != len(open) {
		return fmt.Errorf("%d numbers are uncertain, not %d", len(unknowns), len(open))
	}
	sample, err := explore.New(d, 0, 1)
	if err != nil {
		return err
	}
	// Readings of a drive beside the nominal one, off by fixed shares.
	var steps []step
	var plateaus []bench.Plateau
	off := []float64{0.6, -0.9, 0.3, 1.1, -0.4}
	for i, w := range []float64{800, 1300, 1900, 2700, 3400} {
		s, err := sample.Nominal.Solve(drive.Condition{OnStand: true, Demand: drive.BatteryPower, Amount: w})
		if err != nil {
			return err
		}
		k := step{w, s.Thrust * (1.03 + 0.008*off[i]), s.RotorSpeed * (0.985 + 0.006*off[(i+2)%5])}
		steps = append(steps, k)
		figure := func(c bench.Channel, v, limits, repeat float64, by string) bench.Figure {
			return bench.Figure{Channel: c, Value: v, Limits: limits * v, Repeat: repeat * v, Instrument: by, Cleared: true}
		}
		plateaus = append(plateaus, bench.Plateau{Name: fmt.Sprintf("step %d", i+1), PowerPlace: "battery", Held: quantity.Some(60), Figures: []bench.Figure{
			figure(bench.Power, w, powerLimits, powerRepeat, "meter"), figure(bench.Thrust, k.Thrust, thrustLimits, thrustRepeat, "scale"), figure(bench.RotorSpeed, k.Speed, speedLimits, speedRepeat, "tachometer"),
		}})
	}
	evidence := []reckon.Evidence{{Plateaus: plateaus}}
	best := math.Inf(1)
	var fit *reckon.Fit
	for range 3 {
		began := time.Now()
		f, err := reckon.Calibrate(sample, evidence, reckon.Options{})
		if err != nil {
			return err
		}
		fit = f.Sampled(sample, reckon.Options{})
		best = math.Min(best, time.Since(began).Seconds())
	}
	var theirs answer
	if err := second.SciPy(filepath.Join("posterior", "posterior.py"), map[string]any{
		"drive": second.Plain(sample.Nominal.Drive), "unknowns": unknowns, "steps": steps,
		"limits": []float64{thrustLimits, powerLimits, speedLimits}, "repeat": []float64{thrustRepeat, powerRepeat, speedRepeat},
		"water": map[string]float64{
			"density": sample.Nominal.Water.Density, "kinematic_viscosity": sample.Nominal.Water.KinematicViscosity, "vapour_pressure": sample.Nominal.Water.VapourPressure,
			"air_pressure": sample.Nominal.Water.AirPressure, "specific_heat": sample.Nominal.Water.SpecificHeat,
		},
	}, &theirs); err != nil {
		return err
	}
	worst := 0.0
	fmt.Println("unknown                       this tool        SciPy            apart, in sampling errors")
	for _, l := range fit.Learned {
		t, ok := theirs.Unknowns[l.Path]
		if !ok {
			return fmt.Errorf("SciPy says nothing of %s", l.Path)
		}
		e := math.Hypot(l.After/math.Sqrt(fit.Sampling.Least), t.Error)
		apart := math.Abs(l.Shift-t.Mean) / e
		worst = math.Max(worst, apart)
		fmt.Printf("%-28s  %+.3f ± %.3f  %+.3f ± %.3f  %.1f\n", l.Path, l.Shift, l.After, t.Mean, t.SD, apart)
		if !(math.Abs(l.After/t.SD-1) < 0.25) {
			return errors.New("the two widths differ")
		}
	}
	mine, other := best/fit.Sampling.Least, theirs.Seconds/theirs.Effective
	fmt.Printf("this tool  %.2f s, least effective size %.0f, %.2f ms an effective draw\n", best, fit.Sampling.Least, 1e3*mine)
	fmt.Printf("SciPy      %.1f s, least effective size %.0f, %.0f ms an effective draw\n", theirs.Seconds, theirs.Effective, 1e3*other)
	fmt.Printf("ratio      %.0f\n", other/mine)
	if !(worst < 4) {
		return errors.New("the two differ by more than four sampling errors")
	}
	return nil
}

type answer struct {
	Unknowns  map[string]struct{ Mean, SD, Error float64 }
	Seconds   float64
	Effective float64
}
