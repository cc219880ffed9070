package blade

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"jetwright/notice"
)

func TestFaults(t *testing.T) {
	good := designed(t).Pump
	ask := func(p Pump) []notice.Notice { return p.Faults("channel", [2]string{"impeller", "stator"}) }
	for _, n := range ask(good) {
		if n.Kind == notice.Error {
			t.Errorf("a sound pump has the fault %v", n)
		}
	}
	for _, c := range []struct {
		name, path, says string
		spoil            func(p *Pump)
	}{
		{"crossing", "impeller.blades", "cross", func(p *Pump) { p.Impeller.Blades = 60 }},
		{"touching", "impeller.tip_gap", "touches", func(p *Pump) { p.Impeller.GapEccentricity = 0.6e-3 }},
		{"too narrow to print", "impeller.tip_gap", "no printer", func(p *Pump) { p.Impeller.Surface, p.Impeller.TipGap = "printed", 0.3e-3 }},
		{"ahead", "stator.start", "ahead of the impeller", func(p *Pump) { p.Stator.Start = -0.2 }},
		{"inside", "stator.start", "stands in the impeller", func(p *Pump) { p.Stator.Start = 0.005 }},
		{"inside off mid span", "stator.start", "stands among the impeller's blades", func(p *Pump) { p.Stator.Start = (p.Impeller.End() + p.Impeller.Reach()) / 2 }},
		{"hub outside", "channel.hub_radius", "no channel", func(p *Pump) { p.Channel.HubRadius = []float64{0.08} }},
		{"lists", "impeller.chord", "2 numbers for 7 sections", func(p *Pump) { p.Impeller.Chord = []float64{0.05, 0.06} }},
		{"none", "stator.outlet_angle", "0 numbers", func(p *Pump) { p.Stator.OutletAngle = nil }},
		{"falling", "impeller.span", "do not rise", func(p *Pump) { p.Impeller.Span = []float64{0, 0.2, 0.1, 0.5, 0.6, 0.8, 1} }},
		{"edges", "stator.thickness", "thicker than the blade", func(p *Pump) { p.Stator.TrailingRadius = 3e-3 }},
		{"factors", "stator.blades", "share a factor", func(p *Pump) { p.Stator.Blades = 10 }},
		{"one blade", "impeller.blades", "1 blades", func(p *Pump) { p.Impeller.Blades = 1 }},
		{"sweep", "impeller", "sweep 30.0°", func(p *Pump) { p.Impeller.Sweep = 30 * degree }},
		{"form", "impeller.form", "no section form", func(p *Pump) { p.Impeller.Form = "brick" }},
		{"not a number", "impeller.inlet_angle", "NaN", func(p *Pump) { p.Impeller.InletAngle = []float64{math.NaN()} }},
	} {
		p := good
		c.spoil(&p)
		found := false
		for _, n := range ask(p) {
			found = found || n.Path == c.path && strings.Contains(n.What, c.says)
		}
		if !found {
			t.Errorf("%s: no notice on %s says %q: %v", c.name, c.path, c.says, ask(p))
		}
	}
}

func TestWorks(t *testing.T) {
	d := designed(t)
	s, _ := NewStage(&d.Pump, 7)
	if ok, reason := s.Works(fresh); !ok {
		t.Errorf("a designed pump does not work: %v", reason)
	}
	// blades that turn the water far beyond the axis stall at every flow
	p := d.Pump
	p.Impeller.OutletAngle = []float64{150 * degree}
	s, reason := NewStage(&p, 7)
	if reason != Solved {
		t.Fatal(reason)
	}
	ok, reason := s.Works(fresh)
	if ok || reason == Solved {
		t.Errorf("blades at 150° are said to work: %v", reason)
	}
}

// Whatever is drawn, nothing panics and nothing is without a number: a state or a named reason.
func TestAnythingLaw(t *testing.T) {
	counts := map[Reason]int{}
	rapid.Check(t, func(t *rapid.T) {
		f := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		p := blank()
		p.Channel = Channel{HubRadius: []float64{f("hub", 1e-3, 0.1)}, TipRadius: []float64{f("tip", 5e-3, 0.2)}}
		p.Impeller.Blades, p.Stator.Blades = rapid.IntRange(0, 30).Draw(t, "blades"), rapid.IntRange(0, 30).Draw(t, "vanes")
		for _, r := range []*Row{&p.Impeller, &p.Stator} {
			r.InletAngle, r.OutletAngle = []float64{f("in", 0.02, 3.1)}, []float64{f("out", 0.02, 3.1)}
			r.Chord, r.Thickness = []float64{f("chord", 2e-3, 0.5)}, []float64{f("thick", 1e-4, 0.1)}
			r.TipGap, r.TrailingRadius = f("gap", 0, 0.02), f("edge", 2e-5, 0.02)
		}
		p.Faults("channel", [2]string{"impeller", "stator"})
		c := fresh
		c.RotorSpeed, c.Flow = f("speed", -2000, 2000), f("flow", 0, 1)
		s, reason := NewStage(&p, 7)
		if reason != Solved {
			counts[reason]++
			return
		}
		var st State
		reason = s.Solve(c, &st)
		counts[reason]++
		if reason != Solved {
			if reason.Error() == "unknown reason" {
				t.Fatal(reason)
			}
			return
		}
		cav := st.Cavitation(Inlet{NPSH: 10}, 1, nil)
		for _, x := range []float64{st.Head, st.TotalHead, st.ShaftPower, st.Torque, st.Impeller.Loss.Sum(), st.Stator.Loss.Sum(), st.Swirl.LeftAngle, cav.OnsetNPSH, cav.BreakdownNPSH} {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				t.Fatalf("%v in a state: %+v", x, st.Impeller.Loss)
			}
		}
	})
	t.Logf("anything drawn: %v", counts)
}

// The stator gives more useful head than none at all, and one that turns further leaves swirl the other way.
func TestSwirlCasesLaw(t *testing.T) {
	d := designed(t)
	cases := d.Pump.SwirlCases(fresh, 9, 8*degree, 0.05)
	for _, c := range cases {
		if c.Reason != Solved {
			t.Fatalf("%s: %v", c.Name, c.Reason)
		}
	}
	with, without, over := cases[0], cases[1], cases[2]
	t.Logf("with %.2f m, without %.2f m, over-turned %.2f m; left %.1f°, %.1f°, %.1f°; thrust lost %.2f, %.2f, %.2f N",
		with.Head, without.Head, over.Head, with.Swirl.LeftAngle/degree, without.Swirl.LeftAngle/degree, over.Swirl.LeftAngle/degree, with.Jet.Thrust, without.Jet.Thrust, over.Jet.Thrust)
	if !(with.Head > without.Head) || !(with.Efficiency > without.Efficiency) || !(over.Swirl.LeftAngle < -2*degree) || !(math.Abs(with.Swirl.LeftAngle) < degree) ||
		!(without.Swirl.LeftAngle > 5*degree) || without.Swirl.Recovered != 0 || !(with.Jet.Thrust < over.Jet.Thrust && over.Jet.Thrust < without.Jet.Thrust) {
		t.Errorf("%+v", cases)
	}
	near(t, "given is the same", with.Swirl.Given, without.Swirl.Given, 1e-9)
	near(t, "balance", with.Swirl.Recovered+with.Swirl.Left, with.Swirl.Given, 1e-12)
}

// A state in other units is the same state: lengths, masses and times scale, nothing else is hidden in the formulas. The
// roughness is typed here, as the ranges of surfaces are lengths of their own.
func TestUnitsLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, c := drawn(t)
		scale := func(name string) float64 { return math.Exp(rapid.Float64Range(-2, 2).Draw(t, name)) }
		m, kg, sec := scale("metre"), scale("kilogram"), scale("second")
		list := func(x []float64) []float64 {
			y := append([]float64(nil), x...)
			for i := range y {
				y[i] *= m
			}
			return y
		}
		q, d := p, c
		q.Channel = Channel{Axial: list(p.Channel.Axial), HubRadius: list(p.Channel.HubRadius), TipRadius: list(p.Channel.TipRadius)}
		for i, r := range []*Row{&q.Impeller, &q.Stator} {
			from := []*Row{&p.Impeller, &p.Stator}[i]
			from.Roughness.Set, from.Roughness.Value = true, 30e-6
			*r = *from
			r.Chord, r.Thickness = list(r.Chord), list(r.Thickness)
			r.Start *= m
			r.LeadingRadius *= m
			r.TrailingRadius *= m
			r.TipGap *= m
			r.Roughness.Value *= m
		}
		d.RotorSpeed /= sec
		d.Flow *= m * m * m / sec
		d.Density *= kg / (m * m * m)
		d.Viscosity *= m * m / sec
		d.Gravity *= m / (sec * sec)
		s1, r1 := NewStage(&p, 7)
		s2, r2 := NewStage(&q, 7)
		if r1 != Solved || r2 != Solved {
			t.Fatal(r1, r2)
		}
		var a, b State
		if r1, r2 = s1.Solve(c, &a), s2.Solve(d, &b); r1 != r2 {
			t.Fatal(r1, r2)
		}
		watt := kg * m * m / (sec * sec * sec)
		for _, x := range [][3]float64{
			{a.Head, b.Head, m},
			{a.ShaftPower, b.ShaftPower, watt},
			{a.Torque, b.Torque, watt * sec},
			{a.Impeller.Loss.Gap, b.Impeller.Loss.Gap, watt},
			{a.DiscFriction, b.DiscFriction, watt},
			{a.Swirl.Given, b.Swirl.Given, watt},
			{a.Impeller.Loss.Roughness, b.Impeller.Loss.Roughness, watt},
			{a.Cavitation(Inlet{}, 1, nil).BreakdownNPSH, b.Cavitation(Inlet{}, 1, nil).BreakdownNPSH, m},
		} {
			if math.Abs(x[1]-x[0]*x[2]) > 1e-7*math.Abs(x[0]*x[2]) {
				t.Fatalf("%v becomes %v, not %v times it", x[0], x[1], x[2])
			}
		}
	})
}

// Whatever is asked for, a design ends in blades that meet it or in a named reason, and a map of them as well.
func TestDesignAnythingLaw(t *testing.T) {
	counts := map[Reason]int{}
	rapid.Check(t, func(t *rapid.T) {
		random := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 3))
		f := func(low, high float64) float64 { return low + (high-low)*random.Float64() }
		p := blank()
		tip := f(0.02, 0.2)
		p.Channel = Channel{HubRadius: []float64{tip * f(-0.05, 1.05)}, TipRadius: []float64{tip}}
		p.Impeller.Blades, p.Stator.Blades = random.IntN(12), random.IntN(12)
		p.Impeller.TipGap = tip * f(0, 0.05)
		d := duty
		d.Vortex, d.Incidence = f(-0.1, 1.1), f(-0.1, 0.2)
		d.Diffusion, d.LeastSolidity, d.LargestSolidity = f(0, 1), f(0, 2), f(0, 4)
		c := fresh
		c.RotorSpeed = f(-2, 40) / tip
		d.Head, c.Flow = f(-0.02, 0.3)*c.RotorSpeed*c.RotorSpeed*tip*tip/9.81, f(-0.05, 0.7)*c.RotorSpeed*tip*tip*tip
		x, reason := Design(p, d, c, 7)
		counts[reason]++
		if reason != Solved {
			return
		}
		if !(math.Abs(x.State.Head/d.Head-1) < 0.005) || !(math.Abs(x.Closure) < 0.005) || math.IsNaN(x.HeadPerDegree) {
			t.Fatalf("%v m asked, %v m found", d.Head, x.State.Head)
		}
		m, reason := NewMap(&x.Pump, c, 7, UsualParameters()[:2])
		if reason != Solved {
			return
		}
		var at Point
		m.With([]float64{1e-3, 1e-3}, NominalTerms()).At(m.design, &at)
		if math.IsNaN(at.HeadCoefficient + at.PowerCoefficient + at.BreakdownNPSH + at.Loss.Sum() + m.Error.Head) {
			t.Fatalf("%+v", at)
		}
	})
	t.Logf("anything asked: %v", counts)
}
