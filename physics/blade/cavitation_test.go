package blade

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The nine-inch rotor of NASA (Miller and Crouse) lost head at H_sv = 115 ft and a blade cavitation number of 0.27: SEEN.
// With V/U = 0.466 and that number at the tip its tip speed is 35.5 m/s, COMPUTED apart from this code.
func TestBladeCavitationNumberPublished(t *testing.T) {
	const ft = 0.3048
	u := 116.4 * ft
	v := 0.466 * u
	near(t, "σ", BladeCavitationNumber(115*ft, 0, v, math.Hypot(u, v), 9.80665), 0.27, 5e-3)
}

func TestOnsetNumberExact(t *testing.T) {
	near(t, "twice the velocity", OnsetNumber(2), 3, 0)
	if OnsetNumber(1) != 0 {
		t.Error("a blade without suction cavitates")
	}
}

func TestBreakdownNumberExact(t *testing.T) {
	near(t, "least loss", BreakdownNumber(1.3, 1.3), math.Sqrt(0.2*0.4), 1e-14)
	near(t, "twice the peak", BreakdownNumber(math.Sqrt(3), math.Sqrt2), 2*math.Sqrt(0.2*0.4), 1e-12)
}

// Dixon and Hall, ex. 7.2: 25 L/s at 1450 rpm, S = 3, hub ratio 0.3. Inputs SEEN in a public companion script, answers
// COMPUTED: σ_b 0.30294, φ 0.34096. And S_max for hub ratio 0.4, COMPUTED: 3.621, 3.206, 2.898, 2.464 at σ_b 0.2, 0.25, 0.3, 0.4.
func TestBestEyeFlowPublished(t *testing.T) {
	phi := BestEyeFlow(0.30294)
	near(t, "φ", phi, 0.34096, 2e-5)
	near(t, "S", BreakdownSuctionSpecificSpeed(phi, 0.3, 0.30294), 3, 1e-4)
	for _, c := range [][2]float64{{0.2, 3.621}, {0.25, 3.206}, {0.3, 2.898}, {0.4, 2.464}} {
		near(t, "S_max", BreakdownSuctionSpecificSpeed(BestEyeFlow(c[0]), 0.4, c[0]), c[1], 2e-4)
		for _, off := range []float64{0.8, 1.25} {
			if BreakdownSuctionSpecificSpeed(off*BestEyeFlow(c[0]), 0.4, c[0]) >= c[1] {
				t.Errorf("σ %v: another flow coefficient reaches more", c[0])
			}
		}
	}
}

// A pump never loses head before bubbles appear, more NPSH raises every cavitation number, and at the NPSH of breakdown
// some surface stands at its own breakdown number.
func TestCavitationLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, c := drawn(t)
		s, _ := NewStage(&p, 7)
		var st State
		if s.Solve(c, &st) != Solved {
			return
		}
		var a, b [7]RadiusCavitation
		x := st.Cavitation(Inlet{NPSH: 10}, 1, a[:])
		y := st.Cavitation(Inlet{NPSH: x.BreakdownNPSH}, 1, b[:])
		if !(x.BreakdownNPSH > 0) || !(x.SuctionSpecificSpeed > 0) || x.BreakdownNPSH != y.BreakdownNPSH {
			t.Fatalf("%+v", x)
		}
		least := math.Inf(1)
		for j := range 7 {
			least = math.Min(least, b[j].Number-b[j].Breakdown)
			if (a[j].Number > b[j].Number) != (10 > x.BreakdownNPSH) {
				t.Fatalf("cavitation numbers %v and %v at NPSH 10 and %v m", a[j].Number, b[j].Number, x.BreakdownNPSH)
			}
		}
		if math.Abs(least) > 1e-9 {
			t.Fatalf("at breakdown the nearest surface is %g off its number", least)
		}
		z := st.Cavitation(Inlet{NPSH: 10}, 1.2, nil)
		if math.Abs(z.BreakdownSpeed/x.BreakdownSpeed-1.2) > 1e-12 {
			t.Fatalf("a factor of 1.2 gives %v", z.BreakdownSpeed/x.BreakdownSpeed)
		}
	})
}
