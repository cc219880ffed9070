package bench

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
)

// Two loggers sample forty sinusoids: one at 100 Hz, the other at 80 Hz with a clock 2.347 s and
// 85 ppm off, gain 1.7 and offset 3. The answer is exact by design (analytic, COMPUTED).
func TestClockPublished(t *testing.T) {
	var truth struct {
		FsA, FsB, T, Offset, Drift float64
		FreqHz                     []float64 `json:"freq_hz"`
		Phase                      []float64
	}
	raw, err := os.ReadFile(filepath.Join("testdata", "clock_alignment_analytic.json"))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(raw, &truth); err != nil {
		t.Fatal(err)
	}
	signal := func(at float64) float64 {
		s := 0.0
		for i, f := range truth.FreqHz {
			s += math.Sin(2*math.Pi*f*at + truth.Phase[i])
		}
		return s
	}
	sd := math.Sqrt(float64(len(truth.FreqHz)) / 2)
	for _, c := range []struct{ noise, offset, drift float64 }{
		{0, 0.2e-3, 1e-6}, {0.05, 1e-3, 5e-6}, {0.2, 6e-3, 20e-6},
	} {
		random := rand.New(rand.NewPCG(17, 4))
		var ta, a, tb, b []float64
		for i := range int(truth.T * truth.FsA) {
			at := float64(i) / truth.FsA
			ta, a = append(ta, at), append(a, signal(at)+c.noise*sd*random.NormFloat64())
		}
		for i := range int(truth.T * truth.FsB) {
			at := float64(i) / truth.FsB
			tb, b = append(tb, truth.Offset+(1+truth.Drift)*at), append(b, 3+1.7*(signal(at)+c.noise*sd*random.NormFloat64()))
		}
		got, err := FindClock(ta, a, tb, b)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("noise %g: %.5f s, %.2f ppm, u %.2g s, %.2g ppm, %d windows", c.noise, got.Offset, 1e6*got.Drift, got.UOffset, 1e6*got.UDrift, got.Windows)
		middle := truth.T / 2
		if e := got.Log(middle) - truth.Offset - (1+truth.Drift)*middle; math.Abs(e) > c.offset || math.Abs(e) > 4*got.UOffset+1e-4 {
			t.Errorf("noise %g: the clock errs by %.3g s in the middle, u %.2g", c.noise, e, got.UOffset)
		}
		if e := got.Drift - truth.Drift; math.Abs(e) > c.drift || math.Abs(e) > 4*got.UDrift+1e-6 {
			t.Errorf("noise %g: the drift errs by %.3g ppm, u %.2g ppm", c.noise, 1e6*e, 1e6*got.UDrift)
		}
	}
}

// Logs that share nothing get no clock.
func TestClockLaw(t *testing.T) {
	for seed := range uint64(10) {
		random := rand.New(rand.NewPCG(seed, 8))
		var ta, a, tb, b []float64
		x, y := 0.0, 0.0
		for i := range 6000 {
			x = 0.99*x + random.NormFloat64()
			y = 0.99*y + random.NormFloat64()
			ta, a = append(ta, float64(i)*0.1), append(a, x)
			tb, b = append(tb, float64(i)*0.1), append(b, y)
		}
		if c, err := FindClock(ta, a, tb, b); err == nil {
			t.Errorf("seed %d: two signals without anything in common were given the clock %+v", seed, c)
		}
	}
}

// A signal that comes through a lag of first order is late by its offset and its lag together, however
// steep its steps.
func TestClockLagExact(t *testing.T) {
	for _, lag := range []float64{0, 0.2, 0.4, 0.6} {
		random := rand.New(rand.NewPCG(23, 5))
		const offset, drift, fine = 4.2, 60e-6, 0.01
		var level, seen float64
		var ta, a, tb, b []float64
		wanted := 0.0
		for i := range 60000 {
			at := fine * float64(i)
			if i%4000 == 0 {
				wanted = 40 + 10*random.Float64()
			}
			level += math.Max(-0.15, math.Min(0.15, wanted-level)) // ramps of a second or less
			if lag == 0 {
				seen = level
			} else {
				seen += fine / lag * (level - seen)
			}
			if i%2 == 0 {
				ta, a = append(ta, at), append(a, level+0.03*random.NormFloat64())
			}
			if i%2 == 1 {
				tb, b = append(tb, offset+(1+drift)*at), append(b, seen+0.03*random.NormFloat64())
			}
		}
		got, err := FindClockLag(ta, a, tb, b)
		if err != nil {
			t.Fatal(err)
		}
		e := got.Log(300) - offset - (1+drift)*(300+lag)
		t.Logf("lag %.1f s: off by %.3f s, u %.3f s", lag, e, got.UOffset)
		if math.Abs(e) > 2*got.UOffset || got.UOffset > 0.1 {
			t.Errorf("lag %.1f s: the clock errs by %.3f s, u %.3f s", lag, e, got.UOffset)
		}
	}
}

// Two logs that share a tap and are read 50 times a second or more are set to each other within 20 ms,
// and the error lies within what is stated, at the noise of a pack's voltage.
func TestClockSharedTapExact(t *testing.T) {
	within, n := 0, 0
	for seed := range uint64(8) {
		random := rand.New(rand.NewPCG(seed, 41))
		const offset, drift, fine = -7.3, -80e-6, 0.005
		lag := 0.15 * random.Float64()
		every := 2 + random.IntN(3) // 100, 67 and 50 Hz
		var ta, a, tb, b []float64
		level, wanted, seen, wander := 48.0, 48.0, 48.0, 0.0
		for i := range 120000 {
			at := fine * float64(i)
			if i%8000 == 4000 {
				wanted = 44 + 4*random.Float64()
			}
			level += math.Max(-0.02, math.Min(0.02, wanted-level))
			wander += -fine/0.5*wander + 0.02*math.Sqrt(2*fine/0.5)*random.NormFloat64()
			now := level + wander
			seen += (1 - math.Exp(-fine/math.Max(lag, 1e-3))) * (now - seen)
			if i%every == 0 {
				ta, a = append(ta, at), append(a, math.Round(10*(now+0.03*random.NormFloat64()))/10)
			}
			if i%4 == 1 {
				tb, b = append(tb, offset+(1+drift)*at), append(b, math.Round(100*(seen+0.01*random.NormFloat64()))/100)
			}
		}
		got, err := FindClockLag(ta, a, tb, b)
		if err != nil {
			t.Fatal(err)
		}
		e := got.Log(300) - offset - (1+drift)*(300+lag)
		t.Logf("lag %.3f s: off by %.4f s, u %.4f s", lag, e, got.UOffset)
		n++
		if math.Abs(e) < 1.96*got.UOffset {
			within++
		}
		if 1.96*got.UOffset > 0.020 || math.Abs(e) > 0.020 {
			t.Errorf("seed %d: the clock errs by %.4f s, u %.4f s", seed, e, got.UOffset)
		}
	}
	if within < n-1 {
		t.Errorf("%d of %d errors lie within their 95 %% intervals", within, n)
	}
}
