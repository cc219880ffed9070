package blade

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"jetwright/physics/jet"
	"jetwright/quantity"
)

type nasa struct {
	TipRadius   float64   `json:"tip_radius_mm"`
	HubRadius   float64   `json:"hub_radius_mm"`
	TipSpeed    float64   `json:"tip_speed_m_s"`
	Blades      int       `json:"blades"`
	Span        []float64 `json:"span"`
	InletAngle  []float64 `json:"inlet_angle_deg"`
	OutletAngle []float64 `json:"outlet_angle_deg"`
	Chord       float64   `json:"chord_mm"`
	Thickness   float64   `json:"thickness_mm"`
	EdgeRadius  float64   `json:"edge_radius_mm"`
	TipGap      float64   `json:"tip_gap_mm"`
	Flow        float64   `json:"design_flow_coefficient"`
	Prediction  struct {
		Head       float64 `json:"head_coefficient"`
		Carter     float64 `json:"head_coefficient_by_carter"`
		Efficiency float64 `json:"blade_efficiency"`
		Stall      float64 `json:"stall_flow_coefficient"`
		NPSH       float64 `json:"breakdown_npsh_m"`
	} `json:"prediction"`
}

// NASA's nine-inch rotor in water, SEEN (report's summary): head-rise coefficient 0.427 by design and 0.391 measured at a flow
// coefficient of 0.466, efficiency 0.928 by design and 0.955 measured, stall below 0.380, head lost from H_sv = 115 ft (35.05 m),
// blade cavitation number 0.27. Its blade tables could not be read: testdata holds a geometry made to the summary's figures, on which
// the head is 0.427 by construction, and what was predicted before this test was written. What the comparison says:
//
//   - head 0.427 against 0.391: 9 % too high, 1.15 of the method's standard deviation of 8 %. Held to two of them.
//   - efficiency 0.894 against 0.955: 6 points too low, 1.2 of 5 points. Held to two.
//   - stall called at 0.485 against 0.380: 28 % too early. A tip diffusion factor of 0.66 lies beyond what the correlations carry.
//     This is no agreement; what is held is that the error is on the safe side.
//   - breakdown at 40.7 m against 35.05 m: suction specific speed 11 % too low, half of 20 %. Held to two standard deviations.
//
// And a hub ratio of 0.8 in smooth metal says little about 0.4 printed.
func TestNineInchRotorPublished(t *testing.T) {
	raw, err := os.ReadFile("testdata/nasa-nine-inch.json")
	if err != nil {
		t.Fatal(err)
	}
	var n nasa
	if err = json.Unmarshal(raw, &n); err != nil {
		t.Fatal(err)
	}
	p := blank()
	tip, hub := n.TipRadius*1e-3, n.HubRadius*1e-3
	p.Channel = Channel{HubRadius: []float64{hub}, TipRadius: []float64{tip}}
	p.Stator.Blades = 0
	r := &p.Impeller
	r.Blades, r.Span, r.Chord, r.Thickness = n.Blades, n.Span, []float64{n.Chord * 1e-3}, []float64{n.Thickness * 1e-3}
	r.Form, r.Surface, r.RoughnessPlace = "double arc", "machined", 0.5
	r.LeadingRadius, r.TrailingRadius, r.TipGap, r.GapEccentricity = n.EdgeRadius*1e-3, n.EdgeRadius*1e-3, n.TipGap*1e-3, 0
	for i := range n.Span {
		r.InletAngle, r.OutletAngle = append(r.InletAngle, n.InletAngle[i]*degree), append(r.OutletAngle, n.OutletAngle[i]*degree)
	}
	area := math.Pi * (tip*tip - hub*hub)
	at := func(phi float64) Condition {
		return Condition{RotorSpeed: n.TipSpeed / tip, Flow: phi * n.TipSpeed * area, Density: 998.2, Viscosity: 1.004e-6, Gravity: 9.80665}
	}
	var st State
	solve := func(phi float64, lenient bool, correlation string) Reason {
		p.Terms.Deviation = correlation
		s, reason := NewStage(&p, 13)
		if reason != Solved {
			t.Fatal(reason)
		}
		s.lenient = lenient
		return s.Solve(at(phi), &st)
	}
	coefficient := func() float64 { return st.TotalHead * 9.80665 / (n.TipSpeed * n.TipSpeed) }
	if reason := solve(n.Flow, true, "Carter"); reason != Solved {
		t.Fatal(reason)
	}
	carter := coefficient()
	if reason := solve(n.Flow, true, "Lieblein"); reason != Solved {
		t.Fatal(reason)
	}
	head, efficiency := coefficient(), st.BladeEfficiency
	npsh := st.Cavitation(Inlet{}, 1, nil).BreakdownNPSH
	stall := 0.0
	for phi := 0.56; phi > 0.3 && stall == 0; phi -= 0.0025 {
		if solve(phi, false, "Lieblein") == Stalled {
			stall = phi
		}
	}
	t.Logf("head %.4f (Carter %.4f; design 0.427, measured 0.391), efficiency %.3f (0.928, 0.955), stall %.3f (0.380), breakdown %.1f m (35.05 m)",
		head, carter, efficiency, stall, npsh)
	// the program still says what was written down before the comparison
	near(t, "head as predicted", head, n.Prediction.Head, 2e-3)
	near(t, "head by Carter as predicted", carter, n.Prediction.Carter, 3e-3)
	near(t, "efficiency as predicted", efficiency, n.Prediction.Efficiency, 2e-3)
	near(t, "stall as predicted", stall, n.Prediction.Stall, 1e-2)
	near(t, "breakdown as predicted", npsh, n.Prediction.NPSH, 5e-3)
	// against the measurement
	near(t, "head", head, 0.391, 2*0.08)
	within(t, "efficiency", efficiency-0.955, -2*0.05, 2*0.05)
	near(t, "suction specific speed at breakdown", math.Pow(npsh/35.05, -0.75), 1, 2*0.20)
	within(t, "stall, on the safe side", stall, 0.380, 1)
}

// The 6/11-blade waterjet pump of 2024 (PMC11516003), SECOND-HAND: 300 mm, tip gap 0.001 D, 1450 rpm, 0.46 m³/s, 12.7 m; NPSH at
// 3 % loss of head 6.27 to 8.18 m. Its blades are not published: ours are designed for its duty with a hub ratio of 0.45, our
// assumption. What can be held is what such a pump may be: its efficiency against the bands of Bulten (0.861, SECOND-HAND) and
// Gülich (0.880, FROM MEMORY, medium) within two standard deviations of 5 points, and the line of Cordier (specific diameter
// 1.74 at Ω_s 2.76, FROM MEMORY), which waterjets stand left of.
//
// Cavitation does not agree: head is called lost at S = 2.5, the pump lost it at 3.84 to 4.69, which is more than two standard
// deviations of 20 % off. The blade cavitation number of 0.28 and its growth with incidence are hard on a pump of this kind
// (0.15 would fit it); it was not moved to fit. What is held is that the error is on the safe side. And a degree moves 2.5 % of
// the head here, less than the usual 3 to 9 %, since the pump is heavily loaded.
func TestWaterjetPumpPublished(t *testing.T) {
	p := blank()
	p.Channel = Channel{HubRadius: []float64{0.45 * 0.15}, TipRadius: []float64{0.15}}
	p.Impeller.Blades, p.Stator.Blades, p.Stator.Start = 6, 11, 0.2
	p.Impeller.TipGap, p.Impeller.GapEccentricity = 0.3e-3, 0
	for _, r := range []*Row{&p.Impeller, &p.Stator} {
		r.Surface, r.LeadingRadius, r.TrailingRadius = "machined", 0.5e-3, 0.5e-3
	}
	c := Condition{RotorSpeed: 1450 * math.Pi / 30, Flow: 0.46, Density: 998.2, Viscosity: 1.004e-6, Gravity: 9.80665}
	d := duty
	d.Head, d.Vortex, d.LeastSolidity = 12.7, 0.2, 0.9
	x, reason := Design(p, d, c, 9)
	if reason != Solved {
		t.Fatal(reason)
	}
	st := &x.State
	cav := st.Cavitation(Inlet{NPSH: 7.2}, 1, nil)
	t.Logf("head %.3f m, efficiency %.3f, NPSH at breakdown %.2f m (S %.2f), head per degree %.1f %%", st.Head, st.Efficiency, cav.BreakdownNPSH, cav.BreakdownSpeed, 100*x.HeadPerDegree)
	near(t, "head", st.Head, 12.7, 5e-3)
	near(t, "flow coefficient", st.FlowCoefficient, 0.11220, 1e-4)
	near(t, "head coefficient", st.HeadCoefficient, 0.06002, 1e-3)
	within(t, "efficiency", st.Efficiency, 0.861-0.10, 0.880+0.10)
	within(t, "suction specific speed at breakdown, on the safe side", cav.BreakdownSpeed, 2, 4.69)
	within(t, "specific diameter over Cordier's", 0.3*math.Pow(9.80665*12.7, 0.25)/math.Sqrt(0.46)/CordierDiameter(2.762), 0.7, 1.05)
	within(t, "head per degree", x.HeadPerDegree, 0.02, 0.09)
}

// A degree at the impeller's trailing edge is 3 to 9 % of the head: common practice, no source. This duty is loaded lightly, and a
// degree moves 9.8 %, a little more than that; held with a tenth to spare. The closure of a design by its own
// analysis is far inside the 0.5 % that stands beside the ± 8 % against water.
func TestDesignCommonPractice(t *testing.T) {
	d := designed(t)
	within(t, "head per degree", d.HeadPerDegree, 0.03, 0.1)
	within(t, "closure", d.Closure, -0.005, 0.005)
	near(t, "head", d.State.Head, duty.Head, 0.005)
	for j := range d.State.Radii {
		within(t, "stator leaves along the axis, degrees", d.State.Stations[3].Tangential[j]/d.State.Stations[3].Meridional[j]/degree, -1, 1)
	}
	for i := range d.Pump.Impeller.Span {
		if d.Pump.Impeller.Thickness[i] < duty.LeastThickness {
			t.Errorf("section %d is %v m thick", i, d.Pump.Impeller.Thickness[i])
		}
	}
	for _, c := range [][3]int{{5, 10, 11}, {6, 9, 11}, {4, 8, 9}, {5, 8, 8}, {7, 7, 8}} {
		if n := StatorBlades(c[0], c[1]); n != c[2] && (!NoCommonFactor(c[0], n) || n == c[1]) || !NoCommonFactor(c[0], n) {
			t.Errorf("%d stator blades beside %d", n, c[0])
		}
	}
}

// What good pumps reach, as a band: Bulten (SECOND-HAND) and Gülich (FROM MEMORY, medium). Machined pumps that were designed
// here stand within two standard deviations of 5 points about it, and a printed one below the same pump machined by what roughness
// doubles: 3 points or more.
func TestEfficiencyBandPublished(t *testing.T) {
	for _, c := range []struct{ tip, speed, flow, head float64 }{
		{0.054, 471, 0.065, 7}, {0.07, 377, 0.095, 6.2}, {0.11, 260, 0.25, 8}, {0.15, 152, 0.46, 10},
	} {
		p := blank()
		p.Channel = Channel{HubRadius: []float64{0.43 * c.tip}, TipRadius: []float64{c.tip}}
		p.Stator.Start = 1.2 * c.tip
		p.Impeller.TipGap = 0.005 * c.tip
		p.Impeller.Surface, p.Stator.Surface = "machined", "machined"
		at := fresh
		at.RotorSpeed, at.Flow = c.speed, c.flow
		d := duty
		d.Head = c.head
		x, reason := Design(p, d, at, 9)
		if reason != Solved {
			t.Errorf("%v m: %v", c.tip, reason)
			continue
		}
		omega := jet.SpecificSpeed(c.speed, c.flow, at.Gravity, c.head)
		b, g := jet.AttainableEfficiencyBulten(c.flow, omega), jet.AttainableEfficiencyGuelich(c.flow, omega)
		rough := x.Pump
		rough.Impeller.Surface, rough.Stator.Surface = "printed", "printed"
		s, _ := NewStage(&rough, 9)
		s.lenient = true
		var st State
		if reason = s.Solve(at, &st); reason != Solved {
			t.Errorf("%v m, printed: %v", c.tip, reason)
			continue
		}
		t.Logf("tip %v m, Ω_s %.2f: machined %.3f, printed %.3f; Bulten %.3f, Gülich %.3f", c.tip, omega, x.State.Efficiency, st.Efficiency, b, g)
		within(t, "machined", x.State.Efficiency, math.Min(b, g)-0.10, math.Max(b, g)+0.10)
		within(t, "what printing costs", x.State.Efficiency-st.Efficiency, 0.03, 0.3)
	}
}

// IEC 60193, FROM MEMORY (high for the form, medium for V = 0.8): from Re to three times Re a smooth axial pump gains what its
// step-up formula says; here within a factor of two, as only friction moves.
func TestStepUpAgainstBladesPublished(t *testing.T) {
	p := designed(t).Pump
	for _, r := range []*Row{&p.Impeller, &p.Stator} {
		r.Roughness = quantity.Some(1e-9)
	}
	s, reason := NewStage(&p, 9)
	if reason != Solved {
		t.Fatal(reason)
	}
	efficiency := func(factor float64) float64 {
		c := fresh
		c.Viscosity /= factor
		var st State
		if reason := s.Solve(c, &st); reason != Solved {
			t.Fatal(reason)
		}
		return st.Efficiency
	}
	re := 0.14 * fresh.RotorSpeed * 0.07 / fresh.Viscosity
	low, high := efficiency(1), efficiency(3)
	want := StepUp(low, re, 3*re, 0.8)
	t.Logf("from Re %.2g to %.2g the blades gain %.4f, the standard says %.4f", re, 3*re, high-low, want)
	within(t, "gain over the standard's", (high-low)/want, 0.5, 2)
}

// Of duties such as small jets have (flow coefficient Q/(ΩD³) 0.08 to 0.14, head coefficient 0.2 to 0.4 of that, hub ratio 0.35 to 0.5,
// up to 0.4 of the swirl as a solid body) nine of ten get blades; the rest are named. Each closes within 0.5 % by its own analysis.
func TestDesignLaw(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 3))
	f := func(low, high float64) float64 { return low + (high-low)*random.Float64() }
	counts := map[Reason]int{}
	n := 80
	if os.Getenv("JETWRIGHT_SLOW") != "" {
		n = 1000
	}
	for range n {
		p := blank()
		tip := f(0.03, 0.12)
		hub := tip * f(0.35, 0.5)
		p.Channel = Channel{HubRadius: []float64{hub}, TipRadius: []float64{tip}}
		p.Impeller.Blades, p.Stator.Blades, p.Impeller.TipGap = 3+random.IntN(4), 5+random.IntN(5), f(0.003, 0.015)*tip
		scale := tip / 0.07
		for _, r := range []*Row{&p.Impeller, &p.Stator} {
			r.LeadingRadius *= scale
			r.TrailingRadius *= scale
		}
		c, d := fresh, duty
		c.RotorSpeed = f(15, 30) / tip
		d.Vortex, d.Diffusion = f(0, 0.4), 0.45
		d.LeastThickness *= scale
		phi := f(0.08, 0.14)
		psi := f(0.2, 0.4) * phi
		c.Flow, d.Head = phi*c.RotorSpeed*8*tip*tip*tip, psi*c.RotorSpeed*c.RotorSpeed*4*tip*tip/c.Gravity
		x, reason := Design(p, d, c, 7)
		counts[reason]++
		if reason == Solved && !(math.Abs(x.State.Head/d.Head-1) < 0.005) {
			t.Errorf("%v m asked, %v m found", d.Head, x.State.Head)
		}
	}
	for r, k := range counts {
		t.Logf("%d: %v", k, r)
	}
	if counts[Solved]*10 < n*9 {
		t.Errorf("only %d of %d duties get blades", counts[Solved], n)
	}
}

// In a cone as in a cylinder the water meets the blades as asked and leaves the stator along the axis.
func TestDesignInConeLaw(t *testing.T) {
	for _, cone := range []bool{false, true} {
		p := blank()
		if cone {
			p.Channel = Channel{Axial: []float64{-0.05, 0, 0.15}, HubRadius: []float64{0.024, 0.028, 0.04}, TipRadius: []float64{0.072, 0.070, 0.064}}
		}
		d := duty
		d.Incidence = 2 * degree
		x, reason := Design(p, d, fresh, 9)
		if reason != Solved {
			t.Fatalf("cone %v: %v", cone, reason)
		}
		near(t, "head", x.State.Head, d.Head, 1e-5)
		for j := range x.State.Radii {
			within(t, "incidence on the impeller, degrees", x.State.Impeller.Elements[j].Incidence/degree, 1.8, 2.2)
			within(t, "incidence on the stator, degrees", x.State.Stator.Elements[j].Incidence/degree, 1.6, 2.4)
			within(t, "swirl left, degrees", math.Atan(x.State.Stations[3].Tangential[j]/x.State.Stations[3].Meridional[j])/degree, -1, 1)
		}
		if near(t, "the two ways to the head", x.State.HeadByPressure(), x.State.TotalHead, 1e-9); cone {
			first, last := &x.State.Stations[0], &x.State.Stations[3]
			t.Logf("hub %.1f to %.1f mm, tip %.1f to %.1f mm; %d rounds", 1e3*first.Radius[0], 1e3*last.Radius[0], 1e3*first.Radius[8], 1e3*last.Radius[8], x.Rounds)
			if !(last.Radius[0] > first.Radius[0] && last.Radius[8] < first.Radius[8]) {
				t.Error("the cone is no cone")
			}
		}
	}
}
