package reckon

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"jetwright/bench"
	"jetwright/design"
	"jetwright/drive"
)

// The normal distribution's own conditional variance (any textbook, FROM MEMORY): what is left of y after x is read with
// noise is var(y) − cov²/(var(x) + noise²).
func TestStepTeachesExact(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 14))
	p := paired{x: make([][]float64, 1), slopes: []float64{0.5}, channels: []bench.Figure{{Channel: bench.Thrust, Value: 100, Repeat: 2}}}
	p.like = bench.Plateau{Figures: []bench.Figure{{Channel: bench.Power, Value: 1000, Repeat: 30}}}
	p.factor, p.gaps = 2.0/3, [2]float64{0.09, 0.03}
	for range 5000 {
		a, b := rng.NormFloat64(), rng.NormFloat64()
		p.y, p.x[0] = append(p.y, 0.05*a), append(p.x[0], 0.04*a+0.03*b)
	}
	l, ok := p.expect(4)
	if !ok {
		t.Fatal("no lesson")
	}
	noise := 0.02*0.02*1.25 + 2*modelScatter*modelScatter + 0.25*0.03*0.03*1.25
	vy, vx, c := covariance(p.y, p.y), covariance(p.x[0], p.x[0]), covariance(p.x[0], p.y)
	left := vy - c*c/(vx+noise)
	want := 1.6448536269514722 * math.Sqrt(left+math.Pow(0.03*2/3, 2))
	if math.Abs(l.After/want-1) > 1e-12 {
		t.Errorf("half-width after %g, want %g", l.After, want)
	}
	if want := 1.6448536269514722 * math.Sqrt(vy+math.Pow(0.09*2/3, 2)); math.Abs(l.Before/want-1) > 1e-12 {
		t.Errorf("half-width before %g, want %g", l.Before, want)
	}
	if l.Narrowing() <= 0 || l.Narrowing() >= 1 {
		t.Errorf("narrowing %g", l.Narrowing())
	}
}

// What a step is expected to teach against what it teaches when it is made: 24 drives with drawn instruments, read up to one
// power, then a quarter higher by the same instruments. Predicted before it was run: the widths after it lie within a
// quarter of each other on average, the expectation on the wide side. The second half did not hold: since the size of the
// discrepancy is learned from the ladder, with a break that goes one way, the expectation is about a twentieth too narrow.
func TestStepTeachesLaw(t *testing.T) {
	d := read(t, fmt.Sprintf(board, noCavitation, "open", ""))
	rng := rand.New(rand.NewPCG(20260602, 1))
	prior := sample(t, d, 256)
	powers := []float64{1500, 2400, 3800, 6000, 7500}
	aim := drive.Condition{Demand: drive.BatteryPower, Amount: 12000}
	expected, made, before, n := 0.0, 0.0, 0.0, 0.0
	width := func(j *Judge) float64 {
		_, after := j.Thrust(aim, "", 256)
		return (after.Figure.High - after.Figure.Low) / (2 * after.Figure.Value)
	}
	for n < 24 {
		tr, ok := drawTruth(d, rng, powers, "battery", true)
		if !ok {
			continue
		}
		judge := func(p []bench.Plateau) *Judge {
			j, err := NewJudge(prior, []Evidence{{Plateaus: p}}, Options{Draws: 256})
			if err != nil {
				t.Fatal(err)
			}
			return j
		}
		first := judge(tr.plateau[:4])
		l, ok := first.StepTeaches(aim, Measurement{Power: powers[4], Place: "battery"})
		if !ok {
			t.Fatal("no lesson")
		}
		expected, before, made = expected+l.After, before+l.Before, made+width(judge(tr.plateau))
		n++
	}
	t.Logf("half-widths: before %.2f %%, expected after %.2f %%, after %.2f %%", 100*before/n, 100*expected/n, 100*made/n)
	if r := expected / made; r < 0.85 || r > 1.15 {
		t.Errorf("expected over made is %.2f", r)
	}
	if expected >= before {
		t.Error("a step beyond is expected to teach nothing")
	}
}

// The chance of closing a verdict against plain draws of the outcome; what is closed is asked no test; what no test at rest
// can settle is said with its reason.
func TestDecisiveLaw(t *testing.T) {
	c := design.Claim{What: "thrust", Sense: "at least", Value: 400, Tolerance: 0.1}
	logs := []float64{math.Log(395), math.Log(405)}
	rng := rand.New(rand.NewPCG(5, 5))
	for _, l := range []StepLesson{{model: 0.01, found: 0.05, gap: 0.01}, {model: 0.03, found: 0.02}, {model: 0.001, found: 0.2, gap: 0}} {
		for _, sense := range []string{"at least", "at most", "about"} {
			c.Sense = sense
			got, held := closes(c, logs, l)
			mean := (logs[0] + logs[1]) / 2
			const n = 20000
			closed, supported := 0.0, 0.0
			for range n {
				x := math.Exp(mean + l.found*rng.NormFloat64())
				p, wide := holds(c, x, math.Hypot(l.model, l.gap), math.Inf(1)), holds(c, x, math.Hypot(l.model, 2*l.gap), math.Inf(1))
				if p >= supportedFrom {
					supported++
				}
				if p >= supportedFrom || p <= refutedTo && wide <= refutedTo {
					closed++
				}
			}
			if math.Abs(got-closed/n) > 0.02 || math.Abs(held-supported/n) > 0.02 {
				t.Errorf("%s, %+v: chance %.3f and %.3f, drawn %.3f and %.3f", sense, l, got, held, closed/n, supported/n)
			}
		}
	}
	d := read(t, fmt.Sprintf(board, noCavitation, "open", ""))
	prior := sample(t, d, 128)
	tr, ok := drawTruth(d, rand.New(rand.NewPCG(11, 2)), []float64{1500, 2400, 3800, 6000}, "battery", true)
	if !ok {
		t.Fatal("no drive")
	}
	j, err := NewJudge(prior, []Evidence{{Plateaus: tr.plateau}}, Options{Draws: 128})
	if err != nil {
		t.Fatal(err)
	}
	next := NextStep{Allowed: true, From: 6000, Power: 7500, Place: "battery"}
	truth, err := tr.machine.Solve(drive.Condition{Demand: drive.BatteryPower, Amount: 7000})
	if err != nil {
		t.Fatal(err)
	}
	ask := func(value, speed float64, place string) (ClaimVerdict, *Decisive) {
		v := j.Claim(design.Claim{What: "thrust", Sense: "at least", Value: value, Power: 7000, Place: place, Speed: speed, Tolerance: 0.1})
		return v, j.Decisive(v, next, 7500)
	}
	if v, x := ask(0.5*truth.Thrust, 0, "battery"); v.Verdict != Supported || x != nil {
		t.Errorf("a claim that holds by far is %s and asks for a test %+v", v.Verdict, x)
	}
	found := false
	for _, f := range []float64{0.94, 0.96, 0.98, 1, 1.02, 1.04} {
		v, x := ask(f*truth.Thrust, 0, "battery")
		if (v.Verdict == Supported || v.Verdict == Refuted) != (x == nil) {
			t.Errorf("%s with test %+v", v.Verdict, x)
		}
		if x == nil {
			continue
		}
		if x.Found != (x.Why == "") || x.Found && (x.Chance < decisiveChance || x.Power > 7500*(1+1e-9) || x.Repeats < 1 || x.Held > x.Chance) {
			t.Errorf("%+v", x)
		}
		found = found || x.Found
	}
	if !found {
		t.Error("no claim about the truth has a decisive test")
	}
	if v, x := ask(truth.Thrust, 0, ""); v.Verdict == Open && (x.Found || !strings.Contains(x.Why, "place of power")) {
		t.Errorf("without a place: %+v", x)
	}
	if _, x := ask(0.72*truth.Thrust, 4, "battery"); x != nil && !x.Found && !strings.Contains(x.Why, "towed") {
		t.Errorf("under way: %+v", x)
	}
	empty, err := NewJudge(prior, nil, Options{Draws: 128})
	if err != nil {
		t.Fatal(err)
	}
	middle, err := prior.Nominal.Solve(drive.Condition{Demand: drive.BatteryPower, Amount: 7000})
	if err != nil {
		t.Fatal(err)
	}
	v := empty.Claim(design.Claim{What: "thrust", Sense: "at least", Value: middle.Thrust, Power: 7000, Place: "battery", Tolerance: 0.1})
	if x := empty.Decisive(v, NextStep{}, 0); x == nil || !strings.Contains(x.Why, "first reading") {
		t.Errorf("without a reading: %+v", x)
	}
}
