package blade

import (
	"math"
	"math/rand/v2"
	"testing"
)

func mapped(t testing.TB) (*Map, Designed) {
	t.Helper()
	d := designed(t)
	m, reason := NewMap(&d.Pump, fresh, 7, UsualParameters())
	if reason != Solved {
		t.Fatal(reason)
	}
	return m, d
}

// At its own flows the map is what was solved, with slopes of its cubics; outside it goes on straight; losses and power
// close; a typed door of the drive can take it.
func TestMapExact(t *testing.T) {
	m, d := mapped(t)
	s, _ := NewStage(&d.Pump, 7)
	c := m.With(nil, NominalTerms())
	var door interface {
		Head(float64) (float64, float64)
		Power(float64) float64
		Losses(float64) (float64, float64)
		Outside(float64) bool
	} = c
	var p Point
	for i, phi := range m.flows {
		x := fresh
		x.Flow *= phi / m.design
		var st State
		if reason := s.Solve(x, &st); reason != Solved {
			t.Fatal(reason)
		}
		c.At(phi, &p)
		near(t, "ψ", p.HeadCoefficient, st.HeadCoefficient, 1e-9)
		near(t, "η", phi*p.HeadCoefficient/p.PowerCoefficient, st.Efficiency, 1e-9)
		near(t, "given", p.GivenAngle, st.Swirl.GivenAngle, 1e-9)
		l := st.Impeller.Loss.Gap / (fresh.Density * math.Pow(fresh.RotorSpeed, 3) * math.Pow(0.14, 5))
		near(t, "gap", p.Loss.Gap, l, 1e-9)
		near(t, "closure", p.Loss.Sum()+p.Friction+p.Leakage+p.Mixing+p.Swirl+phi*p.HeadCoefficient, p.PowerCoefficient, 1e-9)
		npsh, _ := c.Breakdown(phi)
		near(t, "breakdown", npsh, p.BreakdownNPSH, 1e-15)
		momentum, left := c.SwirlLeft(phi)
		near(t, "momentum", momentum, p.SwirlMomentum, 1e-15)
		near(t, "left", left, p.Swirl, 1e-15)
		if eta := phi * p.HeadCoefficient / p.PowerCoefficient; eta > c.Best()*(1+1e-12) {
			t.Errorf("an efficiency of %v beyond the best, %v", eta, c.Best())
		}
		best, off := door.Losses(phi)
		near(t, "losses", phi*p.HeadCoefficient+best+off, door.Power(phi), 1e-12)
		if off < -1e-12 {
			t.Errorf("a loss of %v beyond the best point at flow %d", off, i)
		}
	}
	low, high := c.Ends()
	if door.Outside(low) || door.Outside(high) || !door.Outside(0.99*low) || !door.Outside(1.01*high) {
		t.Error("the ends of the map are not its ends")
	}
	for _, phi := range []float64{0.8 * low, low, 1.02 * low, m.design, 0.97 * high, 1.1 * high} {
		const e = 1e-6
		a, _ := door.Head(phi - e)
		b, _ := door.Head(phi + e)
		_, slope := door.Head(phi)
		if math.Abs((b-a)/(2*e)-slope) > 1e-4*math.Abs(slope) {
			t.Errorf("slope %v at %v, by difference %v", slope, phi, (b-a)/(2*e))
		}
	}
	if len(m.Holes) == 0 {
		t.Error("no end of the pump is named")
	}
	for _, h := range m.Holes {
		if !(h.Low < h.High) || h.Reason == Solved {
			t.Errorf("a hole %+v", h)
		}
	}
	if n := testing.AllocsPerRun(100, func() { c.At(m.design, &p); door.Head(m.design) }); n != 0 {
		t.Errorf("a query allocates %v times", n)
	}
}

// Against full solves: between its flows within 2 ‰ of the design head; with parameters within half of their usual
// tolerance drawn at once, within 2 % of the design head in nine of ten draws and 4 % in all.
func TestMapAgainstSolvesLaw(t *testing.T) {
	m, d := mapped(t)
	t.Logf("%d solves; between flows the head is off by %.2e, the power by %.2e of the design's; holes %+v", m.Solves, m.Error.Head, m.Error.Power, m.Holes)
	if !(m.Error.Head < 2e-3 && m.Error.Power < 2e-3) {
		t.Errorf("the map is off by %+v between its flows", m.Error)
	}
	half := []float64{0.5 * degree, 0.5 * degree, 0.2e-3, 0.4, 0.2e-3, 0.02, 0.1, 0.5 * degree, 0.5 * degree, 0.2}
	random := rand.New(rand.NewPCG(8, 8))
	var worst float64
	bad, tries := 0, 0
	for range 60 {
		changes := make([]float64, len(half))
		p, c := d.Pump, fresh
		for k, q := range m.Parameters {
			changes[k] = half[k] * (2*random.Float64() - 1)
			if q.Path == "rotor_speed" {
				c.RotorSpeed *= math.Exp(changes[k])
				c.Flow *= math.Exp(changes[k])
			} else {
				*parameters[q.Path](&p) += changes[k]
			}
		}
		q := 0.9 + 0.2*random.Float64()
		c.Flow *= q
		s, reason := NewStage(&p, 7)
		if reason != Solved {
			t.Fatal(reason)
		}
		var st State
		if s.Solve(c, &st) != Solved {
			continue
		}
		var at Point
		m.With(changes, NominalTerms()).At(q*m.design, &at)
		e := math.Abs(at.HeadCoefficient-st.HeadCoefficient) / d.State.HeadCoefficient
		tries++
		if e > 0.02 {
			bad++
		}
		worst = math.Max(worst, e)
	}
	t.Logf("of %d draws of all parameters %d are off by more than 2 %% of the design head, the worst by %.2f %%", tries, bad, 100*worst)
	if tries < 40 || bad > tries/10 || worst > 0.04 {
		t.Errorf("%d of %d draws are off by more than 2 %%, the worst by %.2f %%", bad, tries, 100*worst)
	}
}

// The scatter of the method: a factor on the head, an offset of the best efficiency, a factor on the suction specific speed.
func TestMapTermsExact(t *testing.T) {
	m, _ := mapped(t)
	plain := m.With(nil, NominalTerms())
	terms := NominalTerms()
	terms.HeadFactor, terms.EfficiencyOffset, terms.BreakdownFactor = 1.08, -0.05, 1.2
	other := m.With(nil, terms)
	near(t, "best efficiency", other.best, plain.best-0.05, 1e-12)
	var a, b Point
	plain.At(m.design, &a)
	other.At(m.design, &b)
	near(t, "head", b.HeadCoefficient, 1.08*a.HeadCoefficient, 1e-12)
	near(t, "efficiency", b.HeadCoefficient/b.PowerCoefficient, a.HeadCoefficient/a.PowerCoefficient*(1-0.05/plain.best), 1e-12)
	near(t, "suction specific speed", math.Pow(b.BreakdownNPSH/a.BreakdownNPSH, -0.75), 1.2, 1e-12)
	near(t, "closure", b.Loss.Sum()+b.Friction+b.Leakage+b.Mixing+b.Swirl+m.design*b.HeadCoefficient, b.PowerCoefficient, 1e-12)
}

func BenchmarkMap(b *testing.B) {
	d := designed(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, reason := NewMap(&d.Pump, fresh, 7, UsualParameters()); reason != Solved {
			b.Fatal(reason)
		}
	}
}

func BenchmarkSolve(b *testing.B) {
	d := designed(b)
	s, _ := NewStage(&d.Pump, 7)
	var st State
	b.ReportAllocs()
	for b.Loop() {
		s.Solve(fresh, &st)
	}
}

func BenchmarkCurveAt(b *testing.B) {
	m, _ := mapped(b)
	c := m.With(nil, NominalTerms())
	var p Point
	b.ReportAllocs()
	for b.Loop() {
		c.At(m.design*1.03, &p)
	}
}

func BenchmarkCurveHead(b *testing.B) {
	m, _ := mapped(b)
	c := m.With(nil, NominalTerms())
	b.ReportAllocs()
	for b.Loop() {
		c.Head(m.design * 1.03)
	}
}

func BenchmarkSettle(b *testing.B) {
	m, _ := mapped(b)
	x := make([]float64, len(m.Parameters))
	for i := range x {
		x[i] = 1e-4
	}
	var c Curve
	terms := NominalTerms()
	b.ReportAllocs()
	for b.Loop() {
		m.Settle(&c, x, terms)
	}
}

// Where the blades stop working as soon as one is changed, the map still comes about: changes are taken the other way or from
// the next flow, and are counted.
func TestMapAtItsEnds(t *testing.T) {
	p := blank()
	p.Channel = Channel{HubRadius: []float64{0.022}, TipRadius: []float64{0.054}}
	for _, r := range []*Row{&p.Impeller, &p.Stator} {
		r.Surface, r.LeadingRadius, r.TrailingRadius = "printed", 1e-3, 0.8e-3
	}
	p.Impeller.Blades, p.Stator.Blades, p.Impeller.TipGap = 4, 7, 0.6e-3
	c := fresh
	c.RotorSpeed = 471
	maps, borrowed := 0, 0
	for _, flow := range []float64{0.045, 0.055, 0.065, 0.075} {
		for _, head := range []float64{3, 5, 7} {
			c.Flow = flow
			d := duty
			d.Head, d.LeastThickness = head, 3e-3
			x, reason := Design(p, d, c, 9)
			if reason != Solved {
				continue
			}
			m, reason := NewMap(&x.Pump, c, 7, UsualParameters())
			if reason != Solved {
				t.Errorf("%v m³/s, %v m: %v", flow, head, reason)
				continue
			}
			maps++
			borrowed += m.Borrowed
			if m.Error.Head > 5e-3 {
				t.Errorf("%v m³/s, %v m: the map is off by %v", flow, head, m.Error)
			}
		}
	}
	t.Logf("%d maps, %d changes borrowed", maps, borrowed)
	if maps < 8 {
		t.Errorf("only %d of 12 duties give a map", maps)
	}
}

// Every number that a map can know the change by has a step, and no other.
func TestStepOfExact(t *testing.T) {
	p := designed(t).Pump
	for _, path := range Parameters() {
		step, ok := StepOf(path)
		if !ok || !(step > 0) {
			t.Errorf("%s has no step", path)
		}
		if x := p.Number(path); (x == nil) != (path == "rotor_speed") {
			t.Errorf("%s has no place in a pump", path)
		}
	}
	if _, ok := StepOf("impeller.blades"); ok || p.Number("impeller.blades") != nil {
		t.Error("a whole number has a step")
	}
}
