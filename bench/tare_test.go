package bench

import (
	"math"
	"strings"
	"testing"

	"jetwright/numeric"
)

// Somebody leans on the rope in one of six zero windows: the tare of the whole run stays where it is, where a
// line through all windows alike is turned, and the window is named. Without that nothing is named.
func TestTareRobustSynthetic(t *testing.T) {
	for _, lean := range []float64{0, 4} {
		for seed := range uint64(8) {
			d := usual()
			d.seed, d.hold = 300+seed, 40
			d.powers = []float64{600, 0, 1100, 0, 1700, 0, 2400, 0}
			at := d.zero + (1+2*float64(seed%3))*d.hold // one of the windows between
			d.after = func(run float64, c Channel, v float64) float64 {
				if c == Thrust && run > at && run < at+d.hold {
					return v + lean
				}
				return v
			}
			r, err := Reduce(d.sources(), ReduceOptions{Run: "day"})
			if err != nil {
				t.Fatal(err)
			}
			if len(r.Zeros) < 5 {
				t.Fatalf("seed %d: %d windows", seed, r.Tare.Windows)
			}
			named := 0
			for _, n := range r.Notices {
				if strings.Contains(n.What, "off the line of the other") {
					named++
				}
			}
			var x, y, w []float64
			for _, z := range r.Zeros {
				x, y, w = append(x, 0.5*(z.From+z.To)), append(y, z.Pull), append(w, 1/(z.U*z.U))
			}
			plain, err := numeric.StraightLine(x, y, w)
			if err != nil {
				t.Fatal(err)
			}
			worst, worstPlain := 0.0, 0.0
			for _, at := range []float64{0, r.Duration} {
				want := d.tare + d.tareDrift*at
				worst = math.Max(worst, math.Abs(r.Tare.Start+r.Tare.Drift*at-want))
				worstPlain = math.Max(worstPlain, math.Abs(plain.A+plain.B*at-want))
			}
			t.Logf("%g N, seed %d: off by %.3f N, by the plain line %.3f N; %d named", lean, seed, worst, worstPlain, named)
			switch {
			case lean == 0 && (named > 0 || worst != worstPlain):
				t.Errorf("seed %d: sound windows: %d named, off by %.3f N", seed, named, worst)
			case lean > 0 && (named != 1 || worst > 0.25 || // half a step of the scale
				worst > 0.5*worstPlain):
				t.Errorf("seed %d: %d windows named, off by %.3f N, by the plain line %.3f N", seed, named, worst, worstPlain)
			}
		}
	}
}
