package reckon

import (
	"math"
	"math/rand/v2"
	"os"
	"sort"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"jetwright/bench"
	"jetwright/design"
	"jetwright/explore"
	"jetwright/numeric"
)

// someDay draws the first day of a seed that has a state everywhere.
func someDay(t testing.TB, w world, seed uint64) (day, *explore.Sample) {
	rng := rand.New(rand.NewPCG(seed, 0xda75))
	for {
		if d, ok := w.drawDay(t, rng); ok {
			return d, daySample(t, d)
		}
	}
}

// The sampled answer reaches the effective size that is asked for, its chains agree, it is the same whenever it is asked, and it
// agrees with importance weighting of the prior where one reading of little weight lets that be done.
func TestSampledLaw(t *testing.T) {
	d, s := someDay(t, world{}, 3)
	f, err := Calibrate(s, d.evidence, Options{Draws: 128})
	if err != nil {
		t.Fatal(err)
	}
	g := f.Sampled(s, Options{Draws: 128, effective: 300})
	k := g.Sampling
	t.Logf("%d chains of %d points, %d evaluations; least effective size %.0f of %s, tails %.0f; R-hat %.4f of %s; %d of %d intervals differ", k.Chains, k.Points, k.Evaluations, k.Least, k.LeastOf, k.Tails, k.RHat, k.RHatOf, len(k.Differing()), len(k.Compared))
	if !k.Enough || k.Least < 300 || k.RHat > 1.05 || len(k.Unknowns) != len(f.names) {
		t.Errorf("%+v", k)
	}
	again := f.Sampled(s, Options{Draws: 128, effective: 300})
	for i := range g.points {
		for j := range g.points[i] {
			if g.points[i][j] != again.points[i][j] {
				t.Fatal("the same seed gives other points")
			}
		}
	}
	// One typed reading of thrust and power: weights of prior draws are even enough.
	one := []Evidence{{Plateaus: []bench.Plateau{reading(300, 3500, "battery")}}}
	for i := range one[0].Plateaus[0].Figures {
		one[0].Plateaus[0].Figures[i].Repeat *= 10
	}
	if f, err = Calibrate(s, one, Options{Draws: 64}); err != nil {
		t.Fatal(err)
	}
	g = f.Sampled(s, Options{Draws: 4096, effective: 1000})
	m := f.model
	rng := rand.New(rand.NewPCG(9, 10))
	const n = 40000
	points, weights := make([][]float64, n), make([]float64, n)
	for i := range points {
		points[i] = make([]float64, len(m.coords))
		for j := range points[i] {
			points[i][j] = rng.NormFloat64()
		}
	}
	explore.Parallel(n, func(i int) {
		r := make([]float64, m.residuals)
		if m.evaluate(r, points[i]) == nil {
			sum := 0.0
			for _, v := range r {
				sum += v * v
			}
			weights[i] = math.Exp(-0.5 * sum)
		}
	})
	for j, name := range f.names {
		var w, sum, square, both float64
		for i, y := range points {
			w += weights[i]
			sum += weights[i] * y[j]
			square += weights[i] * weights[i]
		}
		mean := sum / w
		for i, y := range points {
			both += weights[i] * weights[i] * (y[j] - mean) * (y[j] - mean)
		}
		var own float64
		for _, y := range g.points {
			own += y[j] / float64(len(g.points))
		}
		e := math.Hypot(math.Sqrt(both)/w, 1/math.Sqrt(g.Sampling.Least))
		if !(math.Abs(own-mean) <= 4*e) {
			t.Errorf("%s: mean %.3f, by weights %.3f, together uncertain by %.3f", name, own, mean, e)
		}
	}
}

// What the derivatives of the base stand for in weak directions moves the logarithm of a point's weight by far less than weights
// differ, and no way more than the other. Predicted before the first run: by 0.05 and a tenth of how they differ.
func TestSlopesLaw(t *testing.T) {
	for seed := range uint64(3) {
		d, s := someDay(t, world{}, 30+seed)
		f, err := Calibrate(s, d.evidence, Options{Nominal: true})
		if err != nil {
			t.Fatal(err)
		}
		m := f.model
		quick, _ := m.leaper(f.solution, weakShare)
		whole, _ := m.leaper(f.solution, 0)
		rng := rand.New(rand.NewPCG(seed, 4))
		u, y := make([]float64, len(m.coords)), make([]float64, len(m.coords))
		var apart, weights []float64
		for range 60 {
			for j := range u {
				u[j] = rng.NormFloat64()
			}
			a, ok := quick.Leap(y, u)
			b, also := whole.Leap(y, u)
			if ok != also {
				t.Errorf("seed %d: found by one alone", seed)
			}
			if ok {
				apart, weights = append(apart, a-b), append(weights, b)
			}
		}
		mean, sd := numeric.MeanSD(apart)
		_, all := numeric.MeanSD(weights)
		t.Logf("seed %d: apart by %.4f ± %.4f, weights by %.2f", seed, mean, sd, all)
		if sd > 0.15*all || sd > 0.1 || len(apart) < 50 {
			t.Errorf("seed %d: apart by %.4f ± %.4f, weights by %.2f", seed, mean, sd, all)
		}
	}
}

// The sampled reckoning against days whose truth is known, and its predictions beside the quick ones. Predicted before the
// first run: ranks uniform, 90 % inside. Without JETWRIGHT_SLOW two days show that both answers say the same.
func TestSampledDaysLaw(t *testing.T) {
	for seed := range uint64(2) {
		d, _ := someDay(t, world{}, 80+seed)
		quick, _, _ := predictDay(t, d, Options{Draws: 512, Seed: 1})
		walked, f, ok := predictDay(t, d, Options{Draws: 512, Seed: 1, Sampled: true, effective: 250})
		half := (quick.Figure.High - quick.Figure.Low) / 2
		t.Logf("quick %.1f N [%.1f, %.1f], sampled %.1f N [%.1f, %.1f], %d of %d intervals differ", quick.Figure.Value, quick.Figure.Low, quick.Figure.High,
			walked.Figure.Value, walked.Figure.Low, walked.Figure.High, len(f.Sampling.Differing()), len(f.Sampling.Compared))
		if !ok || !(math.Abs(quick.Figure.Low-walked.Figure.Low) < 0.25*half && math.Abs(quick.Figure.High-walked.Figure.High) < 0.25*half) {
			t.Errorf("quick %+v, sampled %+v", quick.Figure, walked.Figure)
		}
	}
	if os.Getenv("JETWRIGHT_SLOW") == "" {
		return
	}
	r := runDays(t, world{}, 200, 3, Options{Draws: 256, Sampled: true, effective: 250}, false)
	coverage := r.log(t, "sampled, drawn from all that is assumed, seed 3", 256)
	if low, high := shareBand(r.days, 0.86, 0.94); coverage < low || coverage > high {
		t.Errorf("%.3f inside", coverage)
	}
	if p, worst := r.uniform(256); p < 0.01 {
		t.Errorf("ranks of %s are not uniform: p = %.3g, corrected for %d unknowns", worst, p, len(r.ranks))
	}
}

func TestQuantileErrorLaw(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	const sets, n = 2000, 512
	var sum, square, told float64
	for range sets {
		x := make([]float64, n)
		for i := range x {
			x[i] = rng.NormFloat64()
		}
		sort.Float64s(x)
		q := x[n/20]
		sum += q / sets
		square += q * q / sets
		told += quantileError(x, 0.05, n) / sets
	}
	if sd := math.Sqrt(square - sum*sum); math.Abs(told/sd-1) > 0.1 {
		t.Errorf("told %.4f, seen %.4f", told, sd)
	}
}

// The scores against their closed forms: a normal prediction's CRPS, and an interval of known width.
func TestScoresExact(t *testing.T) {
	const n = 20000
	x := make([]float64, n)
	for i := range x {
		x[i] = distuv.UnitNormal.Quantile((float64(i) + 0.5) / n)
	}
	for _, at := range []float64{0, 0.7, -2} {
		want := at*(2*distuv.UnitNormal.CDF(at)-1) + 2*distuv.UnitNormal.Prob(at) - 1/math.Sqrt(math.Pi)
		if got := crps(x, at); math.Abs(got-want) > 1e-3 {
			t.Errorf("at %g: %.5f, closed form %.5f", at, got, want)
		}
	}
	f := explore.Figure{Value: 5, Low: 4, High: 6}
	for _, c := range []struct{ x, want float64 }{{5, 2}, {4, 2}, {3.9, 4}, {6.2, 6}} {
		if got := intervalScore(f, c.x); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("at %g: %.6f, want %.6f", c.x, got, c.want)
		}
	}
}

// The highest step is inside of what the steps below say at least as often as its interval promises, and a ladder whose
// highest step does not belong to it says so.
func TestLeaveHighestOutLaw(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 0xda75))
	days, inside, square := 0, 0, 0.0
	for days < 40 {
		d, ok := world{}.drawDay(t, rng)
		if !ok {
			continue
		}
		s := daySample(t, d)
		o := Options{Draws: 64}
		f, err := Calibrate(s, d.evidence, o)
		if err != nil {
			t.Fatal(err)
		}
		l := LeaveHighestOut(s, d.evidence, f, o)
		rows := l.Thrust()
		if len(rows) != 1 || l.Why != "" {
			t.Fatalf("day %d: %+v", days, l)
		}
		days++
		square += rows[0].Z * rows[0].Z
		if rows[0].Inside {
			inside++
		}
		if days == 1 {
			last := &d.evidence[0].Plateaus[len(d.evidence[0].Plateaus)-1]
			for i := range last.Figures {
				if last.Figures[i].Channel == bench.Thrust {
					last.Figures[i].Value *= 0.7
				}
			}
			if f, err = Calibrate(s, d.evidence, o); err != nil {
				t.Fatal(err)
			}
			off := LeaveHighestOut(s, d.evidence, f, o).Thrust()[0]
			if off.Inside || off.Z > -3 || off.CRPS < rows[0].CRPS {
				t.Errorf("a step that lost three tenths of its thrust: %+v, before %+v", off, rows[0])
			}
		}
	}
	t.Logf("%d of %d highest steps inside, root mean square of z %.2f", inside, days, math.Sqrt(square/float64(days)))
	if least, _ := shareBand(days, 0.86, 1); float64(inside)/float64(days) < least || square/float64(days) > 1.6 {
		t.Errorf("%d of %d inside, mean z² %.2f", inside, days, square/float64(days))
	}
	d, s := someDay(t, world{}, 6)
	d.evidence[0].Plateaus = d.evidence[0].Plateaus[:1]
	f, err := Calibrate(s, d.evidence, Options{Draws: 16})
	if err != nil {
		t.Fatal(err)
	}
	if l := LeaveHighestOut(s, d.evidence, f, Options{Draws: 16}); !strings.Contains(l.Why, "one step") || len(l.Rows) > 0 {
		t.Errorf("one step: %+v", l)
	}
	if len(f.Notices) == 0 || !strings.Contains(f.Notices[0].What, "one plateau stands") {
		t.Errorf("one step: %v", f.Notices)
	}
}

// A reading that does not belong is named with how far it is off, sound ones are not, and readings that no typed tolerance
// allows for are said to be excluded.
func TestDoubtsLaw(t *testing.T) {
	for seed := range uint64(12) {
		d, s := someDay(t, world{}, 40+seed)
		f, err := Calibrate(s, d.evidence, Options{Nominal: true})
		if err != nil {
			t.Fatal(err)
		}
		if len(f.Doubts)+len(f.Excluded) > 0 {
			t.Errorf("seed %d: sound readings are doubted: %+v %+v", seed, f.Doubts, f.Excluded)
		}
		p := &d.evidence[0].Plateaus[1]
		was := 0.0
		for i := range p.Figures {
			if p.Figures[i].Channel == bench.Thrust {
				was = p.Figures[i].Value
				p.Figures[i].Value *= 1.12
			}
		}
		if f, err = Calibrate(s, d.evidence, Options{Nominal: true}); err != nil {
			t.Fatal(err)
		}
		if len(f.Doubts) == 0 || f.Doubts[0].Name != p.Name || f.Doubts[0].Channel != bench.Thrust || f.Doubts[0].Sigmas < 4 || math.Abs(f.Doubts[0].Expected/was-1) > 0.05 {
			t.Errorf("seed %d: a thrust of %.0f N read 12 %% too high: %+v", seed, was, f.Doubts)
		}
	}
	d, s := someDay(t, world{}, 3)
	for i := range d.evidence[0].Plateaus {
		for k := range d.evidence[0].Plateaus[i].Figures {
			if f := &d.evidence[0].Plateaus[i].Figures[k]; f.Channel == bench.RotorSpeed {
				f.Value *= 2.2
			}
		}
	}
	f, err := Calibrate(s, d.evidence, Options{Nominal: true})
	if err == nil && (len(f.Excluded) == 0 || math.Abs(f.Excluded[0].Sigmas) < 4) {
		t.Errorf("rotor speeds 2.2 times too high: %+v", f.Excluded)
	}
	// Without anything that the model predicts nothing is learned, and it is said.
	for i := range d.evidence[0].Plateaus {
		d.evidence[0].Plateaus[i].Figures = d.evidence[0].Plateaus[i].Figures[:1]
	}
	if f, err = Calibrate(s, d.evidence, Options{Draws: 8}); err != nil {
		t.Fatal(err)
	}
	if f.Numbers != 0 || len(f.Notices) != 1 || !strings.Contains(f.Notices[0].What, "nothing is learned") {
		t.Errorf("powers alone: %d numbers, %v", f.Numbers, f.Notices)
	}
}

// Covariances after a measurement against the textbook, and what known weights are said to bring against the reckoning with the
// scale's limits narrowed to theirs.
func TestTeachLaw(t *testing.T) {
	cov := mat.NewSymDense(2, []float64{1, 0.6, 0.6, 2})
	after, ok := updated(cov, trial{rows: []trialRow{{[]float64{1, 0}, 0.5}}, shared: []float64{0}})
	if !ok || math.Abs(after.At(0, 0)-1/(1+1/0.25)) > 1e-12 || math.Abs(after.At(1, 1)-(2-0.36/1.25)) > 1e-12 {
		t.Errorf("after one measurement: %v", mat.Formatted(after))
	}
	for seed := range uint64(4) {
		d, s := someDay(t, world{}, 60+seed)
		judge := func() (*Judge, *Fit) {
			f, err := Calibrate(s, d.evidence, Options{Draws: 64})
			if err != nil {
				t.Fatal(err)
			}
			j := &Judge{Design: d.design, Prior: s, Evidence: d.evidence, Fits: map[string]*Fit{"": f}, Places: []string{""}, seed: 1}
			for _, p := range d.evidence[0].Plateaus {
				if w, ok := p.Figure(bench.Power); ok && w.Value > j.highest.Value {
					j.highest, j.highestAt = w, "battery"
				}
			}
			return j, f
		}
		claims := []design.Claim{{What: "thrust", Sense: "at least", Value: 400, Power: d.highest, Place: "battery"}}
		j, _ := judge()
		before := j.Teach(claims)
		if before.Why != "" || len(before.Lessons) < 7 {
			t.Fatalf("%+v", before)
		}
		var weights Lesson
		for i, l := range before.Lessons {
			if !(l.Gain > -1e-9 && l.Gain < 1) || i > 0 && l.PerHour > before.Lessons[i-1].PerHour {
				t.Errorf("%+v", l)
			}
			if strings.HasPrefix(l.Name, "the scale") {
				weights = l
			}
		}
		for i := range d.evidence[0].Plateaus {
			for k := range d.evidence[0].Plateaus[i].Figures {
				if f := &d.evidence[0].Plateaus[i].Figures[k]; f.Channel == bench.Thrust {
					f.Limits *= limitsWeights / 0.02
				}
			}
		}
		j, _ = judge()
		narrowed := j.Teach(claims)
		t.Logf("seed %d: ± %.2f %%, told ± %.2f %% with known weights, reckoned ± %.2f %%", seed, 100*before.Half, 100*weights.Half, 100*narrowed.Half)
		if !(math.Abs(weights.Half/narrowed.Half-1) < 0.25) {
			t.Errorf("seed %d: told ± %.2f %%, reckoned ± %.2f %%", seed, 100*weights.Half, 100*narrowed.Half)
		}
	}
	// A step of power more is what narrows a prediction far beyond the tested ones.
	d, s := someDay(t, world{}, 60)
	j, err := NewJudge(s, d.evidence, Options{Draws: 64})
	if err != nil {
		t.Fatal(err)
	}
	far := j.Teach([]design.Claim{{What: "thrust", Sense: "at least", Value: 400, Power: 2.2 * d.highest, Place: "battery"}})
	if len(far.Lessons) == 0 || far.Lessons[0].Name != "one step of power more" {
		t.Errorf("far beyond the tested powers: %+v", far.Lessons)
	}
}
