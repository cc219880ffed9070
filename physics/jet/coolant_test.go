package jet

import (
	"math"
	"testing"

	"jetwright/numeric"
)

// A curve that is a straight share of the nozzle's flow gives the state of that share to rounding; one that bends
// closes every watt as well.
func TestCoolantCurveExact(t *testing.T) {
	im := Impeller{Diameter: 0.1, HubDiameter: 0.04, SuctionSpecificSpeed3: 4, CavitationExponent: 8}
	p := NewPath(Intake{ThroatAreaRatio: 1, ThroatLoss: 0.3, IngestedLoss: 0.2, DuctLoss: 0.05}, im, Stator{}, Nozzle{Diameter: 0.06, Contraction: 0.98, Loss: 0.03},
		Medium{Density: 1000, Viscosity: 1e-6, VapourPressure: 1600, AirPressure: 101325, Gravity: 9.80665})
	p.Pump = &EstimatedPump{FlowCoefficient: 0.09, HeadCoefficient: 0.05, ShutoffRatio: 2, CurveExponent: 1.5, Efficiency: 0.6}
	way := p.Way(0, 0)
	state := func(p Path) State {
		v, reason := p.Balance(&way, 350, 0)
		if reason != Solved {
			t.Fatal(reason)
		}
		s, reason := p.State(&way, 350, v)
		if reason != Solved {
			t.Fatal(reason)
		}
		if math.Abs(s.PowerBalance()) > 1e-12 {
			t.Errorf("the power is off by %g", s.PowerBalance())
		}
		return s
	}
	share, curve := p, p
	share.CoolantShare = 0.02
	curve.Coolant, _ = numeric.NewPolyline([]float64{0, 50}, []float64{0.02 * p.JetArea, 0.02 * p.JetArea})
	a, b := state(share), state(curve)
	for _, x := range [][2]float64{{a.Flow, b.Flow}, {a.GrossThrust, b.GrossThrust}, {a.CoolantLoss, b.CoolantLoss}, {a.ImpellerPower, b.ImpellerPower}} {
		if math.Abs(x[0]/x[1]-1) > 1e-12 {
			t.Errorf("by a share %g, by a curve %g", x[0], x[1])
		}
	}
	if q := curve.CoolantFlow(11); math.Abs(q-share.CoolantFlow(11)) > 1e-15 {
		t.Errorf("coolant %g m³/s", q)
	}
	curve.Coolant, _ = numeric.NewPolyline([]float64{0, 5, 8, 50}, []float64{0, 0, 0.01 * p.JetArea, 0.03 * p.JetArea})
	bent := state(curve)
	if bent.Flow <= bent.NozzleFlow || bent.Flow >= a.Flow {
		t.Errorf("the bent curve passes %g m³/s", bent.Flow)
	}
}
