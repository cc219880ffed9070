package explore

import (
	"math"
	"math/rand/v2"
	"testing"

	"jetwright/design"
	"jetwright/drive"
	"jetwright/quantity"
)

// baseDrive is what sizing begins from.
func baseDrive(t testing.TB, text string) drive.Drive {
	d, faults := design.Read("base", []byte(text))
	if err := faults.Fatal(); err != nil {
		t.Fatal(err)
	}
	return d.Nominal()
}

const sizeBase = `
[duty]
power = "1 kW"
power_place = "battery"
[impeller]
diameter = "100 mm"
hub_diameter = "40 mm"
[nozzle]
diameter = "60 mm"
[motor]
speed_constant = "100 rpm/V"
winding_resistance = "10 mΩ"
[battery]
series = 16
parallel = 10
cell_capacity = "4 Ah"
[limits]
suction_specific_speed = 3.5
`

func surf(t testing.TB) drive.Need {
	return drive.Need{Thrust: 380, WayThrust: 230, Speed: 7.5, Diameter: 0.108, Base: baseDrive(t, sizeBase)}
}

// held holds proposals to what is promised of them: each meets the duty and keeps every limit at one power, none is better than
// another in everything, and each pair stands apart.
func held(t *testing.T, r *SizeResult) {
	t.Helper()
	for i, p := range r.Proposals {
		if p.Worst() < 0 || p.Rest.Thrust < r.Need.Thrust || p.Way.Thrust < r.Need.WayThrust || p.Power != r.Power {
			t.Errorf("proposal %d misses %s by %g", i, p.Checks[0].Name, -p.Worst())
		}
		if p.Drive.Impeller.Diameter > r.Need.Diameter+1e-12 || r.Need.BatteryPower.Set && p.Power > r.Need.BatteryPower.Value {
			t.Errorf("proposal %d does not fit", i)
		}
		for j, q := range r.Proposals {
			if i == j {
				continue
			}
			if Dominates(Aims(p), Aims(q)) {
				t.Errorf("proposal %d is better than %d in everything: %v, %v", i, j, Aims(p), Aims(q))
			}
			if d := Difference(p, q); d < Apart || math.Abs(d-Difference(q, p)) > 1e-12 {
				t.Errorf("proposals %d and %d differ by %g", i, j, d)
			}
		}
	}
}

// A duty that can be met gets three proposals or more, the same every time, and a search that draws at random finds nothing that is
// better by a hundredth in everything.
func TestSizeLaw(t *testing.T) {
	n := surf(t)
	r := Size(n)
	if r.Unmet != nil || len(r.Proposals) < FewestProposals {
		t.Fatalf("%d proposals, %+v", len(r.Proposals), r.Unmet)
	}
	held(t, &r)
	again := Size(n)
	for i, p := range r.Proposals {
		if again.Proposals[i].Form != p.Form || again.Drawn != r.Drawn {
			t.Error("the search differs from run to run")
		}
	}
	rng := rand.New(rand.NewPCG(1, 9))
	low, high := n.Bounds()
	forms := make([]drive.Form, 3000)
	for i := range forms {
		between := func(a, b float64) float64 { return a + (b-a)*rng.Float64() }
		forms[i] = drive.Form{Power: r.Power, Diameter: between(low.Diameter, high.Diameter), NozzleRatio: between(low.NozzleRatio, high.NozzleRatio), Place: between(low.Place, high.Place)}
	}
	drawn := make([]*drive.Sized, len(forms))
	Parallel(len(forms), func(i int) { drawn[i] = n.Draw(forms[i]) })
	for _, s := range drawn {
		if s.Worst() < 0 {
			continue
		}
		for i, p := range r.Proposals {
			a, b := Aims(s), Aims(p)
			if a[0] > 1.01*b[0] && a[1] > 1.01*b[1] && a[2] > b[2]+0.01 {
				t.Errorf("a drive drawn at random (%+v) is better than proposal %d in everything: %v, %v", s.Form, i, a, b)
			}
		}
	}
	// no drive drawn at random meets the duty with clearly less than the least power
	for i := range forms {
		forms[i].Power = 0.95 * r.LeastPower
	}
	Parallel(len(forms), func(i int) { drawn[i] = n.Draw(forms[i]) })
	for _, s := range drawn {
		if s.Worst() >= 0 {
			t.Errorf("%+v meets the duty with %g W, where %g W are called the least", s.Form, s.Power, r.LeastPower)
		}
	}
}

// Duties at random: proposals that keep what is promised, or a reason with figures; what is called enough is enough, and clearly less
// is not.
func TestRandomDutiesLaw(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	met, many, moved := 0, 0, 0
	const duties = 11
	for k := range duties {
		n := surf(t)
		n.Thrust = 60 * math.Pow(25, rng.Float64())
		n.Speed = 1 + 11*rng.Float64()
		n.WayThrust = n.Thrust * (0.2 + 0.6*rng.Float64())
		n.Diameter = 0.05 + 0.15*rng.Float64()
		n.Base.Battery.Series = 6 + rng.IntN(20)
		switch k % 5 {
		case 1:
			n.BatteryPower = quantity.Some(3 * n.IdealPower() * (0.5 + rng.Float64()))
		case 2:
			n.MotorMass = quantity.Some(0.2 + 3*rng.Float64())
		case 3:
			n.MotorSpeed = quantity.Some(200 + 500*rng.Float64())
		}
		r := Size(n)
		held(t, &r)
		if u := r.Unmet; u != nil {
			if len(r.Proposals) > 0 || len(u.Missed) == 0 && u.Nearest != nil {
				t.Errorf("duty %d: %d proposals beside a reason, %d missed", k, len(r.Proposals), len(u.Missed))
			}
			for _, c := range u.Missed {
				if !(c.Slack < 0) || math.IsInf(c.Slack, 0) {
					t.Errorf("duty %d: %s misses by %g", k, c.Name, -c.Slack)
				}
			}
			if len(u.Enough) > 0 && moved < 2 {
				moved++
				e := u.Enough[0]
				to := func(x float64) bool {
					m := n
					switch e.What {
					case ImpellerDiameter:
						m.Diameter = x
					case "battery power":
						m.BatteryPower.Value = x
					case "motor mass":
						m.MotorMass.Value = x
					case "motor speed":
						m.MotorSpeed.Value = x
					default:
						return x > e.To*0.99
					}
					return Size(m).Unmet == nil
				}
				if !to(1.005*e.To) || e.To > 1.08*e.From && to(min(e.From+0.85*(e.To-e.From), e.To/1.06)) {
					t.Errorf("duty %d: %s from %g to %g is called enough", k, e.What, e.From, e.To)
				}
			}
			continue
		}
		met++
		if len(r.Proposals) >= FewestProposals {
			many++
		}
		if len(r.Proposals) == 0 {
			t.Errorf("duty %d can be met with %g W and has no proposal", k, r.LeastPower)
		}
	}
	t.Logf("of %d duties %d can be met, %d of them with three proposals or more", duties, met, many)
	if met < 4 || many < met/2 {
		t.Errorf("only %d can be met, %d of them in three ways", met, many)
	}
}

// Three aims: better in one and worse in another is no dominance, and nothing dominates itself.
func TestDominatesExact(t *testing.T) {
	a := [3]float64{400, 250, 0.4}
	for _, c := range []struct {
		b    [3]float64
		want bool
	}{{a, false}, {[3]float64{399, 250, 0.4}, true}, {[3]float64{399, 251, 0.4}, false}, {[3]float64{401, 250, 0.3}, false}} {
		if Dominates(a, c.b) != c.want {
			t.Errorf("%v over %v", a, c.b)
		}
	}
}

func BenchmarkSize(b *testing.B) {
	n := surf(b)
	for b.Loop() {
		if r := Size(n); r.Unmet != nil {
			b.Fatal("unmet")
		}
	}
}

func BenchmarkSizeUnmet(b *testing.B) {
	n := surf(b)
	n.BatteryPower = quantity.Some(3000)
	for b.Loop() {
		if r := Size(n); r.Unmet == nil {
			b.Fatal("met")
		}
	}
}
