package bench

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// Every correction has its figure by hand and its line in the budget.
func TestCorrectionsExact(t *testing.T) {
	base := func(c Corrections) Figure {
		d := usual()
		d.noiseThrust, d.noiseAll, d.friction, d.tareDrift = 0, 0, 0, 0
		s := d.sources()
		s[0].Corrections = c
		r, err := Reduce(s, ReduceOptions{Run: "day"})
		if err != nil {
			t.Fatal(err)
		}
		f, ok := r.Plateaus[4].Figure(Thrust)
		if !ok {
			t.Fatal("no pull")
		}
		return f
	}
	component := func(f Figure, name string) Component {
		for _, c := range f.Budget {
			if c.Name == name {
				return c
			}
		}
		t.Fatalf("the budget has no %s: %+v", name, f.Budget)
		return Component{}
	}
	plain := base(Corrections{})
	friction := 0.0
	for _, c := range plain.Budget {
		if c.Name == "carriage friction" {
			friction = c.U
		}
	}
	_ = friction
	deg := math.Pi / 180
	f := base(Corrections{RopeAngle: 8 * deg, URopeAngle: 1 * deg})
	if k := f.Value / plain.Value; math.Abs(k-math.Cos(8*deg)) > 2e-4 {
		t.Errorf("rope at 8 degrees: factor %.5f, want %.5f", k, math.Cos(8*deg))
	}
	if u, want := component(f, "rope angle").U, plain.Value*math.Hypot(math.Sin(8*deg)*deg, deg*deg/2); math.Abs(u-want) > 0.01*want {
		t.Errorf("its uncertainty %.4g, want %.4g N", u, want)
	}
	f = base(Corrections{Gravity: 9.78, UGravity: 0.01})
	if k := f.Value / plain.Value; math.Abs(k-9.78/9.80665) > 2e-4 {
		t.Errorf("adjusted at 9.78 m/s²: factor %.5f", k)
	}
	if u, want := component(f, "gravity").U, f.Value*0.01/9.78; math.Abs(u-want) > 0.01*want {
		t.Errorf("its uncertainty %.4g, want %.4g N", u, want)
	}
	f = base(Corrections{Pulley: 0.02})
	if u, want := component(f, "pulley").U, 0.02*plain.Value/math.Sqrt(3); math.Abs(u-want) > 0.01*want {
		t.Errorf("pulley %.4g, want %.4g N", u, want)
	}
	// A scale that shows 2 % too much and 3 N without load.
	var loads, readings []float64
	for _, x := range []float64{0, 50, 100, 200, 300, 400} {
		loads, readings = append(loads, x), append(readings, 3+1.02*x)
	}
	f = base(Corrections{Loads: loads, Readings: readings})
	if k := f.Value / plain.Value; math.Abs(k-1/1.02) > 2e-4 {
		t.Errorf("calibrated scale: factor %.5f, want %.5f", k, 1/1.02)
	}
	if c := component(f, "scale calibration"); !strings.Contains(c.Note, "6 loads on a line") || f.Assumed {
		t.Errorf("%+v, assumed %v", c, f.Assumed)
	}
}

// Two loads of many that were hung or read wrongly hide each other from a test for one; both are named,
// and none where all are well.
func TestCalibrationOutliersSynthetic(t *testing.T) {
	for _, wrong := range [][]int{nil, {7, 22}} {
		c := Corrections{}
		random := rand.New(rand.NewPCG(5, 30))
		for i := range 30 {
			load := 15 * float64(i)
			c.Loads, c.Readings = append(c.Loads, load), append(c.Readings, 0.4+1.002*load+0.1*random.NormFloat64())
		}
		for _, i := range wrong {
			c.Readings[i] += 1.5
		}
		d := usual()
		s := d.sources()
		s[0].Corrections = c
		r, err := Reduce(s, ReduceOptions{Run: "day"})
		if err != nil {
			t.Fatal(err)
		}
		said := 0
		for _, n := range r.Notices {
			if strings.Contains(n.What, "off the curve") {
				said++
				known := false
				for _, i := range wrong {
					known = known || strings.Contains(n.What, fmt.Sprintf("at %.4g N", c.Loads[i]))
				}
				if !known {
					t.Errorf("a sound load is named: %s", n.What)
				}
			}
		}
		if said != len(wrong) {
			t.Errorf("%d of %d wrong loads are named", said, len(wrong))
		}
	}
}
