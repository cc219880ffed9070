package electric

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"jetwright/quantity"
)

// weakening is the small board with a controller that weakens the field by up to a current, A.
func weakening(t testing.TB, current float64) Chain {
	m, ctl, b := board()
	ctl.Commutation = "sinusoidal"
	m.PolePairs, m.PhaseInductance = quantity.Some(7), quantity.Some(15e-6)
	ctl.WeakeningCurrent = quantity.Some(current)
	ctl.CapacitorResistance = quantity.Some(0.004)
	c, err := NewChain(m, ctl, b)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// faster is a speed in rad/s at which a share more voltage is needed than there is.
func faster(c *Chain, torque, share float64) float64 {
	low, high := 1.0, 5000.0
	for range 60 {
		w := 0.5 * (low + high)
		s := c.Motor(torque, w, 330, 290)
		u, reason := c.Supply(&s)
		if reason != Solved || c.Throttle(&s, &u) > share {
			high = w
		} else {
			low = w
		}
	}
	return low
}

// The current against the magnets of a state is the one that the machine in its rotor's axes takes at the very
// bus voltage of the state, by the root of a quadratic (SurfaceMachine.Run) and not by this search; and power into the
// motor is the mean of voltage times current of three phases, sampled over a turn of the field.
func TestWeakenedStateExact(t *testing.T) {
	c := weakening(t, 300)
	for _, torque := range []float64{0.5, 4, 9} {
		for _, share := range []float64{1.02, 1.1, 1.3} {
			w := faster(&c, torque, share)
			s := c.Motor(torque, w, 330, 290)
			u, reason := c.Supply(&s)
			if reason != Solved || s.DirectCurrent <= 0 {
				t.Fatalf("%g N·m, %g: %v, %g A", torque, share, reason, s.DirectCurrent)
			}
			m, _ := c.SurfaceMachine(330, s.MagnetTemperature)
			a, why := m.Run(torque+c.drag(w), w, PhaseVoltage(u.ControllerVoltage, c.controller.ModulationLimit, false), math.Inf(1))
			if why != Reached {
				t.Fatal(why)
			}
			near(t, "i_d", s.DirectCurrent, -a.Direct, 1e-8)
			near(t, "current", s.PhaseCurrentPeak, a.Current, 1e-9)
			near(t, "copper", s.CopperLoss, a.CopperLoss, 1e-9)
			near(t, "its part", s.WeakeningLoss(), 1.5*m.Resistance*a.Direct*a.Direct, 1e-8)
			const points = 720
			sum := 0.0
			for n := range points {
				x := 2 * math.Pi * float64(n) / points
				for leg := range 3 {
					y := x + 2*math.Pi*float64(leg)/3
					i := a.Direct*math.Cos(y) - a.Quadrature*math.Sin(y)
					v := a.DirectVoltage*math.Cos(y) - a.QuadratureVoltage*math.Sin(y)
					sum += i * v / points
				}
			}
			near(t, "power in three phases", s.ElectricPower, sum, 1e-9)
			near(t, "conduction", u.ConductionLoss, 3*c.onResistance(298.15)*s.PhaseCurrentRMS*s.PhaseCurrentRMS, 1e-12)
			near(t, "power factor", c.ripple(&s, u.Modulation, s.reached()), CapacitorRipple(s.PhaseCurrentRMS, peakPerDC*u.Modulation, a.PowerFactor), 1e-7)
		}
	}
}

// Weakened or not the power closes; the voltage is at the usable share and not beyond while the current for it lasts, and
// beyond it with all of that current where it does not; below that the state is the one without; the throttle rises
// with speed through the change, the current with it from nothing; and asked twice the same state comes.
func TestWeakenedStateLaw(t *testing.T) {
	c := weakening(t, 90)
	plain := c.Unweakened()
	limit := c.controller.ModulationLimit
	var seen [3]int
	rapid.Check(t, func(t *rapid.T) {
		torque, w := rapid.Float64Range(0, 12).Draw(t, "T"), rapid.Float64Range(10, 900).Draw(t, "ω")
		s := c.Motor(torque, w, 330, 290)
		u, reason := c.Supply(&s)
		p := plain.Motor(torque, w, 330, 290)
		q, why := plain.Supply(&p)
		if reason != Solved {
			return
		}
		lost := s.CopperLoss + s.NoLoadLoss + u.ConductionLoss + u.SwitchingLoss + u.DeadTimeLoss + u.CapacitorLoss + u.StandbyLoss + u.WiringLoss
		if math.Abs((torque*w+lost)/u.BatteryPower-1) > 1e-12 {
			t.Fatalf("%g W at the shaft and %g W lost of %g W", torque*w, lost, u.BatteryPower)
		}
		switch {
		case why == Solved && q.Modulation <= limit:
			seen[0]++
			if s != p || u != q {
				t.Fatalf("with voltage to spare the state differs")
			}
		case u.Modulation <= limit:
			seen[1]++
			if u.Modulation != limit || s.DirectCurrent > 90*(1+1e-12) || s.DirectCurrent <= 0 {
				t.Fatalf("%g of the voltage with %g A", u.Modulation, s.DirectCurrent)
			}
			if why == Solved && u.BatteryPower <= q.BatteryPower {
				t.Fatal("weakening costs nothing")
			}
		default:
			seen[2]++
			x, e := s.reactance, s.TerminalVoltage-s.ohms*s.DCEquivalentCurrent
			most := math.Min(90, peakPerDC*x*e/(x*x+s.ohms*s.ohms))
			if math.Abs(s.DirectCurrent/most-1) > 1e-12 {
				t.Fatalf("%g of the voltage with %g of %g A", u.Modulation, s.DirectCurrent, most)
			}
		}
		again, _ := c.Supply(&s)
		if math.Abs(again.BatteryPower/u.BatteryPower-1) > 1e-12 {
			t.Fatal("asked twice it differs")
		}
	})
	for i, n := range seen {
		if n == 0 {
			t.Errorf("case %d was never met", i)
		}
	}
	last, lastCurrent := 0.0, 0.0
	top := faster(&c, 6, 1.6)
	for n := range 400 {
		w := top * float64(n+1) / 400
		s := c.Motor(6, w, 330, 290)
		u, reason := c.Supply(&s)
		if reason != Solved {
			break
		}
		if x := c.Throttle(&s, &u); x <= last {
			t.Fatalf("the throttle falls at %g rad/s", w)
		} else {
			last = x
		}
		if s.DirectCurrent < lastCurrent || s.DirectCurrent > lastCurrent+10 {
			t.Fatalf("%g A after %g A at %g rad/s", s.DirectCurrent, lastCurrent, w)
		}
		lastCurrent = s.DirectCurrent
	}
	if lastCurrent < 80 {
		t.Errorf("only %g A at the end", lastCurrent)
	}
}

// A controller that does not make sines, or a motor without inductance, does not weaken; one that does is held against
// its current and against the voltage of the magnets alone: K·ω, FROM MEMORY, what a motor that runs free gives.
func TestWeakeningLimits(t *testing.T) {
	m, ctl, b := board()
	ctl.WeakeningCurrent = quantity.Some(60)
	for _, word := range []string{"six-step", "sinusoidal"} {
		ctl.Commutation = word
		c, err := NewChain(m, ctl, b)
		if err != nil {
			t.Fatal(err)
		}
		if c.Weakens() {
			t.Errorf("%s without inductance weakens", word)
		}
	}
	c := weakening(t, 60)
	c.controller.MaxVoltage = quantity.Some(60)
	w := faster(&c, 5, 1.1)
	s := c.Motor(5, w, 330, 290)
	u, _ := c.Supply(&s)
	found := 0
	for _, l := range c.Limits(nil, s, u, Temperatures{Water: 288, Bridge: 310, MotorSpeed: w}, Bounds{}) {
		switch l.Name {
		case "current against the magnets":
			near(t, l.Name, l.Value, s.DirectCurrent, 0)
			near(t, "bound", l.Allowed, 60, 0)
			found++
		case "voltage of a motor that runs free":
			near(t, l.Name, l.Value, c.Constant()*w, 1e-12)
			near(t, "bound", l.Allowed, 60, 0)
			found++
		}
	}
	if found != 2 {
		t.Errorf("%d of two limits", found)
	}
	if n := testing.AllocsPerRun(100, func() {
		s := c.Motor(5, w, 330, 290)
		c.Supply(&s)
	}); n != 0 {
		t.Errorf("%g allocations", n)
	}
}
