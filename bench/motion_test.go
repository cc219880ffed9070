package bench

import (
	"math"
	"math/rand/v2"
	"testing"

	"jetwright/numeric"
	"jetwright/quantity"
)

func lineOf(t *testing.T, f Figure, name string) Component {
	t.Helper()
	for _, c := range f.Budget {
		if c.Name == name {
			return c
		}
	}
	t.Fatalf("the budget has no %s: %+v", name, f.Budget)
	return Component{}
}

// still is a day without noise, friction or tare.
func still() day {
	d := usual()
	d.noiseThrust, d.noiseAll, d.friction, d.tare, d.tareDrift = 0, 0, 0, 0, 0
	return d
}

func TestMotionExact(t *testing.T) {
	near(t, "inertia", InertiaForce(120, 0.05, 60), 0.1)
	// 5° about a rope at 4°: the root mean square by quadrature of the exact cosine.
	const deg = math.Pi / 180
	for _, c := range []struct{ angle, pitch, share float64 }{{0, 5, 0.002}, {4, 5, 0.002}, {10, 1, 0.002}, {0, 17, 0.01}, {10, 17, 0.01}} {
		sum, n := 0.0, 20000
		for i := range n {
			th := c.pitch * deg * (2*(float64(i)+0.5)/float64(n) - 1)
			d := 300 * (math.Cos(c.angle*deg+th) - math.Cos(c.angle*deg))
			sum += d * d / float64(n)
		}
		within(t, "pitch", PitchUncertainty(300, c.angle*deg, c.pitch*deg), math.Sqrt(sum), c.share*math.Sqrt(sum))
	}
	// A tube of 40 cm² 0.1 m beside the pivot, rope 0.8 m over it: 1000·10·0.004·0.1/0.8 N/m.
	near(t, "buoyancy", BuoyancyPull(1000, 10, 0.004, 0.1, 0.8), 5)
	lever, u, err := ArmLever(2, 1.2, 0.4, 0.002, 0, 0)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "lever", lever, 0.5)
	near(t, "its uncertainty by the pivot", u, 0.5*(1/0.8-1/1.6)*0.002)
	// by differences, all three together
	lever, u, _ = ArmLever(1, 1.5, 0.2, 0.003, 0.004, 0.005) // the rope is tied over the pivot
	near(t, "lever on the other side", lever, 0.5/0.8)
	sum := 0.0
	for _, d := range [][3]float64{{1e-6 * 3, 0, 0}, {0, 1e-6 * 4, 0}, {0, 0, 1e-6 * 5}} {
		moved, _, _ := ArmLever(1+d[0], 1.5+d[1], 0.2+d[2], 0, 0, 0)
		sum += (moved - lever) * (moved - lever) * 1e6
	}
	within(t, "its uncertainty", u, math.Sqrt(sum), 1e-5*u)
	if _, _, err := ArmLever(1, 1, 0.2, 0, 0, 0); err == nil {
		t.Error("a rope tied at the pivot holds something")
	}
}

// Inertia, pitch and lever have their lines, and the lever turns the pull on the rope into thrust.
func TestMotionLinesExact(t *testing.T) {
	reduce := func(o ReduceOptions) Figure {
		o.Run = "day"
		r, err := Reduce(still().sources(), o)
		if err != nil {
			t.Fatal(err)
		}
		f, _ := r.Plateaus[4].Figure(Thrust)
		return f
	}
	plain := reduce(ReduceOptions{})
	f := reduce(ReduceOptions{Motion: Motion{SpeedChange: 0.3, Mass: 120, UMass: 50, Pitch: 0.1}})
	within(t, "pull", f.Value, plain.Value, 1e-4*plain.Value) // friction is weighed anew
	c := lineOf(t, f, "inertia")
	length := math.Hypot(120, 50) * 0.3 / (c.U * math.Sqrt(3))
	if length < 50 || length > 60 || c.Shared != "" || !c.Rectangle {
		t.Errorf("inertia over %.1f s of a step of 60 s that takes 4 s to reach: %+v", length, c)
	}
	within(t, "pitch", lineOf(t, f, "pitch of the stand").U, plain.Value*0.01/math.Sqrt(20), 0.001)
	f = reduce(ReduceOptions{Setup: Setup{Lever: quantity.Some(0.5), ULever: 0.005}})
	within(t, "thrust by the lever", f.Value, plain.Value/2, 1e-4*plain.Value)
	within(t, "its line", lineOf(t, f, "lever").U, 0.01*f.Value, 0.02*0.01*f.Value) // beside a friction of about nothing
	near(t, "scale's limits by the lever", lineOf(t, f, "instrument").U, lineOf(t, plain, "instrument").U/2)
	near(t, "tare by the lever", lineOf(t, f, "tare").U, lineOf(t, plain, "tare").U/2)
}

// A level that falls evenly goes with the tare's drift whatever it does to the pull; one that falls at
// once does not, and is corrected by what a rise does, with its line.
func TestWaterLevelExact(t *testing.T) {
	const k = 200.0 // N/m
	d := still()
	fall := func(times, heights []float64) Level {
		return Level{Times: times, Heights: heights, Pull: k, UPull: 50}
	}
	near(t, "between", fall([]float64{0, 100}, []float64{0.3, 0.2}).Rise(25), -0.025)
	near(t, "after", fall([]float64{0, 100}, []float64{0.3, 0.2}).Rise(500), -0.1)
	if (Level{}).Rise(5) != 0 {
		t.Error("no level rises")
	}
	value := func(l Level) *Reduction {
		d.after = func(run float64, c Channel, v float64) float64 {
			if c == Thrust {
				return v + k*l.Rise(run)
			}
			return v
		}
		r, err := Reduce(d.sources(), ReduceOptions{Run: "day", Level: l})
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	want, _ := value(Level{}).Plateaus[1].Figure(Thrust)
	even := fall([]float64{0, d.length()}, []float64{0.3, 0.25})
	f, _ := value(even).Plateaus[1].Figure(Thrust)
	within(t, "pull on an even fall", f.Value, want.Value, 0.1)
	within(t, "its line", lineOf(t, f, "water level").U, 0, 0.02)
	// 50 mm spilled within 2 s between the first and the second step.
	at := d.zero + d.hold
	r := value(fall([]float64{0, at - 1, at + 1, d.length()}, []float64{0.3, 0.3, 0.25, 0.25}))
	f, _ = r.Plateaus[1].Figure(Thrust)
	within(t, "pull on a spill", f.Value, want.Value, 0.1)
	// The tare's line runs from 0 to −50 mm between the middles of the zero windows.
	middle, from, to := 0.5*(r.Plateaus[1].Span.From+r.Plateaus[1].Span.To), 0.5*(r.Zeros[0].From+r.Zeros[0].To), 0.5*(r.Zeros[1].From+r.Zeros[1].To)
	off := -0.05 + 0.05*(middle-from)/(to-from)
	c := lineOf(t, f, "water level")
	within(t, "its line", c.U, math.Abs(off)*50, 1e-9)
	near(t, "rise at the plateau", r.Plateaus[1].Rise, -0.05)
	if !c.Against || c.Shared == "" {
		t.Errorf("below the tare's line it moves the other way: %+v", c)
	}
	// Tracks lose tare and level alike.
	for _, x := range r.Tracks {
		if x.Channel == Thrust {
			track := r.WithoutTare(x)
			i := int((d.length() - 10) / x.Step)
			within(t, "track at rest at the end", track[i], 0, 0.5)
		}
	}
}

// A swing of three and a half periods leaves half a period in the plain mean; with it taken out the mean
// stands, and a pull without a swing is left alone.
func TestSwingLaw(t *testing.T) {
	const step, period = 0.2, 8.0
	var v []float64
	var at []int
	for i := range 140 {
		at = append(at, i)
		v = append(v, 300+12*math.Sin(2*math.Pi*step*float64(i)/period))
	}
	plain, _ := numeric.MeanSD(v)
	m, w, ok := swingMean(v, at, step, [2]float64{})
	if !ok || math.Abs(plain-300) < 0.5 {
		t.Fatalf("no swing found, or none that matters: plain %.3f", plain)
	}
	within(t, "mean", m.value, 300, 1e-3)
	within(t, "period", w.period, period, 1e-2)
	within(t, "amplitude", w.amplitude, 12, 1e-2)
	// Less than two periods are no evidence, unless the period is typed.
	if _, _, ok := swingMean(v[:70], at[:70], step, [2]float64{}); ok {
		t.Error("two periods are taken for a swing")
	}
	m, _, ok = swingMean(v[:70], at[:70], step, [2]float64{7, 9})
	if !ok {
		t.Fatal("a typed period is not found")
	}
	within(t, "mean of 1.75 periods", m.value, 300, 1e-2)
	random := rand.New(rand.NewPCG(9, 9))
	found := 0
	for range 200 {
		noise, tau := make([]float64, 150), newRed(random, 5, 0.5+3*random.Float64())
		for i := range noise {
			noise[i] = tau.next()
		}
		index := make([]int, len(noise))
		for i := range index {
			index[i] = i
		}
		if _, _, ok := swingMean(noise, index, step, [2]float64{}); ok {
			found++
		}
	}
	if found > 4 {
		t.Errorf("a swing in %d of 200 stretches without one", found)
	}
}

// On a float whose pull swings, the mean lies within its interval as often as the plain mean of the same
// noise does where nothing swings, and nearer than the plain mean of what swings.
func TestSwingSynthetic(t *testing.T) {
	const step = 0.2
	random := rand.New(rand.NewPCG(31, 7))
	inside, calm, days, plainSquare, square, told := 0, 0, 400, 0.0, 0.0, 0.0
	for range days {
		n := 150 + random.IntN(300)
		period, amplitude, phase := 3+6*random.Float64(), 5+10*random.Float64(), 2*math.Pi*random.Float64()
		noise := newRed(random, 1/step, 0.4)
		v, still, at := make([]float64, n), make([]float64, n), make([]int, n)
		for i := range v {
			at[i] = i
			still[i] = 300 + 2*noise.next()
			v[i] = still[i] + amplitude*math.Sin(2*math.Pi*step*float64(i)/period+phase)
		}
		s := meanOf(still)
		if c := s.scatter(); math.Abs(s.value-300) < CoverageFactor(0.90, c.Freedom)*c.U {
			calm++
		}
		m, _, ok := swingMean(v, at, step, [2]float64{})
		if !ok {
			t.Fatalf("a swing of %.1f N each %.1f s over %.0f s is not seen", amplitude, period, step*float64(n))
		}
		c := m.scatter()
		if math.Abs(m.value-300) < CoverageFactor(0.90, c.Freedom)*c.U {
			inside++
		}
		p := meanOf(v)
		square += (m.value - 300) * (m.value - 300)
		plainSquare += (p.value - 300) * (p.value - 300)
		told += c.U / p.scatter().U / float64(days)
	}
	t.Logf("%d of %d within 90 %%, %d where nothing swings; root mean square %.3f N against %.3f N of the plain mean; %.2f of its uncertainty", inside, days, calm, math.Sqrt(square/float64(days)), math.Sqrt(plainSquare/float64(days)), told)
	if inside < calm-16 || inside > 376 {
		t.Errorf("%d of %d lie within their 90 %% intervals, %d where nothing swings", inside, days, calm)
	}
	if square > plainSquare {
		t.Error("the plain mean is nearer")
	}
}

// Friction of 3 N and 1.5 % of the pull on eight steps: exact pulls give it back, and it is told from one
// that does not grow.
func TestGrowingFrictionExact(t *testing.T) {
	var load, pull, u, sign []float64
	for i, p := range []float64{400, 900, 1600, 2600, 4000, 2600, 1600, 900, 400} {
		s := 1.0
		if i > 4 {
			s = -1
		}
		v := 1.4 * math.Pow(p, 0.65)
		load, pull, u, sign = append(load, math.Log(p)), append(pull, v-s*(3+0.015*v)), append(u, 0.3), append(sign, s)
	}
	f, ok := fitFriction(load, pull, u, sign)
	if !ok || !f.told {
		t.Fatalf("not told: %+v", f)
	}
	near(t, "F", f.force, 3)
	near(t, "k", f.share, 0.015)
	near(t, "at the middle", f.here, 3+0.015*f.middle)
	// Two steps down tell no growth.
	f, ok = fitFriction(load[:7], pull[:7], u[:7], sign[:7])
	if !ok || f.told {
		t.Errorf("two steps down tell it: %+v", f)
	}
	// Taken out, the pull is what it was, up and down, and the lines carry the fit's uncertainty.
	g := Friction{Force: 3, Share: 0.015, UShare: 0.002, middle: 200, uHere: 0.2}
	force, uf := g.At(300)
	near(t, "friction at 300 N", force, 7.5)
	near(t, "its uncertainty", uf, math.Hypot(0.2, 0.2))
	for _, v := range []float64{120, 300} {
		for _, down := range []bool{false, true} {
			s := 1.0
			if down {
				s = -1
			}
			x := Figure{Channel: Thrust, Value: v - s*(3+0.015*v), Limits: 1, Budget: []Component{{Name: "scatter", U: 1}, {Name: pulleyLine, U: 5}}}
			g.take(&x, down, "day")
			near(t, "taken out", x.Value, v)
			near(t, "scatter", x.Budget[0].U, 1/(1-s*0.015))
			near(t, "constant", lineOf(t, x, "carriage friction").U, 0.2/(1-s*0.015))
			c := lineOf(t, x, "friction that grows with the pull")
			near(t, "growing", c.U, math.Abs(v-200)*0.002/(1-s*0.015))
			if c.Against != (down != (v < 200)) || len(x.Budget) != 3 {
				t.Errorf("at %g N, down %v: %+v", v, down, x.Budget)
			}
		}
	}
}

// Over ladders with noise, what grows is told where it is there, hardly ever where it is not, and what is
// taken out lies within its interval.
func TestGrowingFrictionSynthetic(t *testing.T) {
	random := rand.New(rand.NewPCG(4, 4))
	for _, k := range []float64{0, 0.02} {
		told, inside, all := 0, 0, 0
		const ladders = 600
		for range ladders {
			var load, pull, u, sign, clean []float64
			for i, p := range []float64{500, 1000, 1700, 2600, 4000, 2600, 1700, 1000, 500} {
				s := 1.0
				if i > 4 {
					s = -1
				}
				v := 1.4 * math.Pow(p, 0.65)
				load, pull, u, sign, clean = append(load, math.Log(p)), append(pull, v-s*(3+k*v)+0.4*random.NormFloat64()), append(u, 0.4), append(sign, s), append(clean, v)
			}
			f, ok := fitFriction(load, pull, u, sign)
			if !ok {
				t.Fatal("no friction")
			}
			if f.told {
				told++
			}
			if f.told == (k > 0) { // as the truth is
				for _, v := range []float64{clean[0], clean[4]} {
					all++
					if math.Abs(f.here+f.share*(v-f.middle)-3-k*v) < 1.645*math.Hypot(f.uHere, (v-f.middle)*f.uShare) || f.share == 0 && math.Abs(f.force-3) < 1.645*f.uForce {
						inside++
					}
				}
			}
		}
		t.Logf("k = %g: told on %d of %d ladders, %d of %d within 90 %%", k, told, ladders, inside, all)
		if k == 0 && told > ladders*8/100 || k > 0 && told < ladders*9/10 {
			t.Errorf("k = %g is told on %d of %d ladders", k, told, ladders)
		}
		if share := float64(inside) / float64(all); share < 0.86 || share > 0.97 {
			t.Errorf("k = %g: %.1f %% within their 90 %% intervals", k, 100*share)
		}
	}
}

// Whole days with 3 N of friction and 2 % of the pull on a pulley, reduced from their logs: the share is told
// and pulls up and down come back within their intervals.
func TestGrowingFrictionDaySynthetic(t *testing.T) {
	told, inside, all := 0, 0, 0
	const days = 12
	for seed := range uint64(days) {
		d := usual()
		d.seed, d.noiseThrust = seed, 0.004
		d.powers = []float64{600, 1200, 2000, 3000, 4200, -3000, -2000, -1200, -600}
		d.after = func(run float64, c Channel, v float64) float64 {
			if c != Thrust {
				return v
			}
			_, pull, sign := d.truth(run)
			return v - 0.02*sign*pull
		}
		r, err := Reduce(d.sources(), ReduceOptions{Run: "day"})
		if err != nil {
			t.Fatal(err)
		}
		f := r.Friction
		if !(f.Share > 0) {
			t.Logf("seed %d: friction %+v", seed, f)
			continue
		}
		told++
		if math.Abs(f.Share-0.02) > 3.5*f.UShare {
			t.Errorf("seed %d: share %.4f ± %.4f, true 0.02", seed, f.Share, f.UShare)
		}
		i, n := d.check(t, r, 1.96)
		inside, all = inside+i, all+n
	}
	t.Logf("told on %d of %d days, %d of %d figures within their 95 %% intervals", told, days, inside, all)
	if told < days*8/10 || float64(inside) < 0.9*float64(all) {
		t.Error("too few are told, or too few figures come back")
	}
}
