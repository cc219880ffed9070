package drive

import (
	"math"
	"math/rand/v2"
	"testing"

	"jetwright/physics/blade"
	"jetwright/physics/jet"
	"jetwright/quantity"
)

// The three fits at a flow of 0.05 m³/s and a specific speed of 4 on Cordier's line: Bulten 0.7690 (SECOND-HAND),
// Gülich 0.82 (FROM MEMORY, medium), Wright and Gerhart 0.798 at D_s 1.4705 (FROM MEMORY, high); values COMPUTED. At a small
// specific diameter the last is the least.
func TestEfficiencyBandPublished(t *testing.T) {
	low, high := EfficiencyBand(0.05, 4, 1.4705)
	nearly(t, "high", high, 0.7690, 1e-4)
	nearly(t, "low", low, 0.7690*0.45/0.78, 1e-4)
	_, high = EfficiencyBand(0.05, 4, 1.2)
	nearly(t, "left of the line", high, 0.149+0.625*1.2-0.125*1.44, 1e-12)
}

// What published waterjet pumps have for specific diameter, over Cordier's line: D 0.300 m, 1450 rpm, 0.46 m³/s, 12.7 m
// (SECOND-HAND, PMC11516003); Ω_s 2.95, D_s 1.36 (SECOND-HAND, the AxWJ-2 pump); D 0.180 m, 1450 rpm, 2.76 m, and 304 N through a nozzle
// of 100 mm (SECOND-HAND, Chen et al. 2025), which is 48.9 L/s by momentum. All lie within the band that sizing looks in.
func TestPlaceOnCordiersLinePublished(t *testing.T) {
	const g = 9.80665
	place := func(d, rpm, q, h float64) float64 {
		omega := jet.SpecificSpeed(rpm*math.Pi/30, q, g, h)
		return d * math.Pow(g*h, 0.25) / math.Sqrt(q) / blade.CordierDiameter(omega)
	}
	flow := math.Sqrt(303.78 * math.Pi / 4 * 0.01 / 998.2)
	nearly(t, "flow by momentum", flow, 0.0489, 1e-3)
	for name, x := range map[string]float64{
		"0.300 m": place(0.300, 1450, 0.46, 12.7), "AxWJ-2": 1.36 / blade.CordierDiameter(2.95), "0.180 m": place(0.180, 1450, flow, 2.76),
	} {
		if x < leftOfCordier || x > rightOfIt {
			t.Errorf("%s lies at %.3f of the line", name, x)
		}
	}
}

func sizeNeed(t testing.TB) Need {
	t.Helper()
	d := assumed(t)
	d.Duty = Duty{Power: quantity.Some(3000), PowerPlace: "battery"}
	d.Battery.Parallel = 1
	d.Battery.CellCurrentLimit = quantity.Some(20)
	d.Limits.SpecificSuction, d.Limits.RotorSpeed = quantity.Some(3.5), quantity.Optional{}
	return Need{Thrust: 380, WayThrust: 210, Speed: 7, Diameter: 0.105, Base: d}
}

// The power of an ideal jet. At rest a handbook has T = (ρA)^(1/3)·(2P)^(2/3); under way Froude has η = 2/(1 + w/V). SEEN in
// any text on propulsion; numbers COMPUTED.
func TestIdealPowerPublished(t *testing.T) {
	n := sizeNeed(t)
	n.WayThrust = 1
	rho := n.Base.Water.Properties().Density
	area := math.Pi / 4 * largestNozzle * largestNozzle * n.Diameter * n.Diameter
	nearly(t, "at rest", jet.StaticThrust(rho, area, 1, n.IdealPower(), 0), n.Thrust, 1e-12)
	n.Thrust, n.WayThrust = 1, 210
	w := n.Speed/2 + math.Sqrt(n.Speed*n.Speed/4+n.WayThrust/(rho*area))
	nearly(t, "Froude", n.WayThrust*n.Speed/(2/(1+w/n.Speed)), n.IdealPower(), 1e-12)
}

// Whatever is drawn: it has a state with finite figures or a reason; it gives no more than momentum and the ideal jet allow, and
// what a handbook has for the thrust at rest from pump efficiency and losses; its pump lies where it was put on
// Cordier's line; its motor belongs to the class; its voltage reaches; it fits.
func TestDrawLaw(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	n := sizeNeed(t)
	low, high := n.Bounds()
	solved := 0
	for range 400 {
		between := func(a, b float64) float64 { return a + (b-a)*rng.Float64() }
		f := Form{
			Diameter: between(low.Diameter, high.Diameter), NozzleRatio: between(low.NozzleRatio, high.NozzleRatio), Place: between(low.Place, high.Place),
			Power: 500 * math.Pow(30, rng.Float64()),
		}
		s := n.Draw(f)
		if s.Why != "" {
			continue
		}
		solved++
		for i, c := range s.Checks {
			if math.IsNaN(c.Slack) || math.IsInf(c.Slack, 0) || i > 0 && c.Slack < s.Checks[i-1].Slack {
				t.Fatalf("%+v: %s has %g left", f, c.Name, c.Slack)
			}
		}
		if d := &s.Drive; d.Impeller.Diameter > n.Diameter || d.Nozzle.Diameter >= d.Impeller.Diameter || d.Impeller.HubDiameter >= d.Impeller.Diameter/2 {
			t.Errorf("%+v: does not fit", f)
		}
		one := n
		one.Thrust, one.WayThrust = s.Rest.Thrust, s.Way.Thrust
		if s.Rest.BatteryPower < one.IdealPower() && s.Way.Thrust > 0 && s.Way.BatteryPower < 0.9*one.IdealPower() {
			t.Errorf("%+v: %g W does what an ideal jet needs %g W for", f, s.Rest.BatteryPower, one.IdealPower())
		}
		j := &s.Rest.Jet
		k := j.Head*2*9.80665/(j.JetVelocity*j.JetVelocity) - 1
		handbook := jet.StaticThrust(s.Drive.Water.Properties().Density, j.NozzleFlow/j.JetVelocity, j.PumpEfficiency, j.ImpellerPower, k)
		if r := s.Rest.Thrust / handbook; r < 0.96 || r > 1.0000001 { // the coolant's flow is pumped and does not push
			t.Errorf("%+v: thrust %g of the handbook's", f, r)
		}
		specific := s.Drive.Impeller.Diameter * math.Pow(9.80665*j.Head, 0.25) / math.Sqrt(j.Flow)
		if r := specific / blade.CordierDiameter(j.SpecificSpeed) / s.Place; j.CavitationFactor > 0.97 && math.Abs(r-1) > 0.06 {
			t.Errorf("%+v: lies at %g of its place on Cordier's line", f, r)
		}
		if used := max(s.Rest.Supply.Modulation, s.Way.Supply.Modulation); used > s.Drive.Controller.ModulationLimit {
			t.Errorf("%+v: uses %g of the voltage", f, used)
		}
		again, err := s.Drive.Resolve()
		if err != nil {
			t.Fatal(err)
		}
		if st, err := again.Solve(s.Drive.DutyCondition()); err != nil || st.Thrust != s.Rest.Thrust {
			t.Errorf("%+v: solved again it gives %g N for %g N (%v)", f, st.Thrust, s.Rest.Thrust, err)
		}
	}
	if solved < 300 {
		t.Errorf("only %d of 400 could be solved", solved)
	}
}

// The number of cells is the nearest, and the voltage half full goes with it.
func TestCellsExact(t *testing.T) {
	n := sizeNeed(t)
	d := n.Base
	one := d.HalfFull() / float64(d.Battery.Series)
	for cells := 1; cells < 40; cells++ {
		if got := d.CellsFor((float64(cells) + 0.4) * one); got != cells {
			t.Errorf("%d cells for %d.4", got, cells)
		}
	}
}

func BenchmarkDraw(b *testing.B) {
	n := sizeNeed(b)
	f := Form{Power: 4500, Diameter: 0.1, NozzleRatio: 0.65, Place: 0.9}
	for b.Loop() {
		if s := n.Draw(f); s.Why != "" {
			b.Fatal(s.Why)
		}
	}
}

func nearly(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
		t.Errorf("%s: %.12g, not %.12g", what, got, want)
	}
}
