package bench

import (
	"math"
	"math/rand/v2"
	"testing"
)

// A body of one time constant, without noise, reaches the bound when its closed form says; one that
// settles below never does; a straight rise is a straight line.
func TestWarmingExact(t *testing.T) {
	at := func(f func(float64) float64, n int) (x, y []float64) {
		for i := range n {
			x, y = append(x, float64(i)), append(y, f(float64(i)))
		}
		return x, y
	}
	const end, rise, tau, n = 440.0, 150.0, 90.0, 61
	body := func(t float64) float64 { return end - rise*math.Exp(-t/tau) }
	x, y := at(body, n)
	const bound = 428.15
	want := tau*math.Log(rise/(end-bound)) - (n - 1)
	f, ok := Warming(x, y, bound, 0)
	if !ok || !f.Bends || !f.Reaches.Set || math.Abs(f.Reaches.Value/want-1) > 0.01 || f.Early.Value > 1.001*want || !f.Late.Set || f.Late.Value < 0.999*want {
		t.Errorf("got %+v, want %g s", f, want)
	}
	if math.Abs(f.Settles.Value-end) > 0.5 {
		t.Errorf("it settles at %g, want %g", f.Settles.Value, end)
	}
	f, ok = Warming(x, y, end+20, 0)
	if !ok || f.Reaches.Set || f.Early.Set || f.Late.Set || !(f.High.Value < end+20) {
		t.Errorf("a body that settles below its bound: %+v", f)
	}
	x, y = at(func(t float64) float64 { return 300 + 0.5*t }, 40)
	f, ok = Warming(x, y, 400, 0)
	if want := 200.0 - 39; !ok || f.Bends || math.Abs(f.Reaches.Value-want) > 1e-6*want {
		t.Errorf("a straight rise: %+v", f)
	}
	if _, ok := Warming(x[:5], y[:5], 400, 0); ok {
		t.Error("five values are forecast from")
	}
}

// With noise and steps, what is said beforehand holds: the bound is not reached before the early time
// nor after the late one, in nine of ten.
func TestWarmingLaw(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	early, late, runs := 0, 0, 0
	for range 400 {
		end, rise, tau := 400+80*random.Float64(), 60+60*random.Float64(), 40+200*random.Float64()
		bound := end - rise*(0.05+0.25*random.Float64())
		crosses := tau * math.Log(rise/(end-bound))
		n := int(crosses * (0.2 + 0.6*random.Float64()))
		if n < 15 {
			continue
		}
		var x, y []float64
		for i := range n {
			v := end - rise*math.Exp(-float64(i)/tau) + 0.3*random.NormFloat64()
			x, y = append(x, float64(i)), append(y, math.Round(v*10)/10)
		}
		f, ok := Warming(x, y, bound, 0.1)
		if !ok {
			t.Fatal("no forecast")
		}
		runs++
		left := crosses - float64(n-1)
		if !f.Early.Set || f.Early.Value > left {
			early++
		}
		if f.Late.Set && f.Late.Value < left {
			late++
		}
	}
	t.Logf("of %d rises %d came before the early time, %d after the late one", runs, early, late)
	if early+late > runs/8 {
		t.Errorf("of %d rises %d came before the early time, %d after the late one", runs, early, late)
	}
}
