package drive

import (
	"math"
	"testing"

	"jetwright/numeric"
)

// rough is an hour of twenty legs, every other one at rest or at little power.
func rough() March {
	p := March{Every: 1}
	for i := range 20 {
		w := 700.0
		if i%2 == 0 {
			w = 1500 + 60*float64(i)
		}
		p.Legs = append(p.Legs, Leg{Seconds: 180, Condition: Condition{Demand: BatteryPower, Amount: w}, Rest: i%5 == 3})
	}
	return p
}

func marcher(t testing.TB, d Drive) *Marcher {
	t.Helper()
	m, err := d.Resolve()
	if err != nil {
		t.Fatal(err)
	}
	x, err := NewMarcher(m)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func march(t testing.TB, x *Marcher, p March) *Marched {
	t.Helper()
	var out Marched
	if err := x.Run(p, &out); err != nil {
		t.Fatal(err)
	}
	return &out
}

// Heat made is heat stored and heat gone, whatever the duty, the faults and the end.
func TestMarchEnergyLaw(t *testing.T) {
	d := assumed(t)
	d.Battery.Parallel = 40
	x := marcher(t, d)
	duties := map[string]March{"an hour": rough()}
	for name, f := range map[string]Fault{"blocked": {CoolantLost: 1}, "a third": {CoolantLost: 0.667}, "hose off": {HoseOff: true}, "dry": {Dry: true}} {
		p := March{Every: 5, Soak: 600}
		p.Legs = []Leg{{Seconds: 300, Condition: Condition{Demand: BatteryPower, Amount: 2500}}, {Seconds: 300, Condition: Condition{Demand: BatteryPower, Amount: 2500}, Fault: f}}
		duties[name] = p
	}
	for name, p := range duties {
		out := march(t, x, p)
		if out.Ending.Kind != Finished {
			t.Errorf("%s: %s", name, out.Ending)
		}
		e := out.Energy
		if off := math.Abs(e.In - e.Out - e.Stored); off > 1e-9*e.In {
			t.Errorf("%s: %.9g J in, %.9g J out, %.9g J stored: %.3g off", name, e.In, e.Out, e.Stored, off/e.In)
		}
		t.Logf("%s: %d steps, %d calls, %s, winding %.2f °C", name, out.Steps, out.Calls, out.Ending, out.Peak[x.at.winding]-273.15)
	}
}

// A record that is given again takes no further memory.
func TestMarchAllocationLaw(t *testing.T) {
	d := assumed(t)
	d.Battery.Parallel = 40
	x := marcher(t, d)
	p := rough()
	var out Marched
	run := func() {
		if err := x.Run(p, &out); err != nil {
			t.Fatal(err)
		}
	}
	run()
	if n := testing.AllocsPerRun(2, run); n > 2 { // the feed, as a function
		t.Errorf("%g allocations a march of %d steps", n, out.Steps)
	}
}

func BenchmarkMarchHour(b *testing.B) {
	d := assumed(b)
	d.Battery.Parallel = 40
	x := marcher(b, d)
	p := rough()
	var out Marched
	b.ReportAllocs()
	for range b.N {
		if err := x.Run(p, &out); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(out.Steps), "steps")
	b.ReportMetric(float64(out.Calls), "calls")
}

func BenchmarkMarchHour128(b *testing.B) {
	d := assumed(b)
	d.Battery.Parallel = 40
	p := rough()
	b.ReportAllocs()
	for range b.N {
		numeric.Parallel(128, func(i int) {
			d := d
			d.Motor.WindingResistance *= 0.9 + 0.2*float64(i)/127
			var out Marched
			if err := marcher(b, d).Run(p, &out); err != nil {
				b.Error(err)
			}
		})
	}
}
