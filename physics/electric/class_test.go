package electric

import (
	"math"
	"testing"

	"jetwright/quantity"
)

// Two of a motor, end to end on one shaft, have twice the torque for twice the loss: √2 times the constant by root
// of loss at twice the mass. A motor of the class that is twice as heavy is larger in all directions and does
// better than that: 1.26 times for its diameter. Its loss without load is that of its mass, whatever it is wound for.
func TestMotorClassLaw(t *testing.T) {
	if r := ClassWindingToJacket(3); math.Abs(r-(0.03+0.12)/2) > 1e-12 {
		t.Errorf("%g K/W at 3 kg, not the middle of what is assumed of a motor", r)
	}
	for _, m := range []float64{0.3, 1, 2.8, 9, 40} {
		if got, pair := ClassQuality(2*m)/ClassQuality(m), math.Sqrt2; got <= pair || math.Abs(got/math.Pow(2, 2.5/3)-1) > 1e-12 {
			t.Errorf("%g kg: %g against %g of two in line", m, got, pair)
		}
		// between the growth of a surface and that of a surface over its way
		if r := ClassWindingToJacket(m) / ClassWindingToJacket(2*m); r <= math.Cbrt(2) || r >= math.Cbrt(4) {
			t.Errorf("%g kg: the way of the heat is %g of that of twice the mass", m, r)
		}
		for _, k := range []float64{5, 15, 40} {
			chain, err := NewChain(classMotor(m, k), Controller{Commutation: "sinusoidal", ModulationLimit: 1}, flat())
			if err != nil {
				t.Fatal(err)
			}
			if got := chain.Quality(298.15) / ClassQuality(m); math.Abs(got-1) > 1e-12 {
				t.Errorf("%g kg, %g rad/s/V: quality %g of the class's", m, k, got)
			}
			// at 450 rad/s it loses 35 W a kg, less what the current without load makes of heat in the winding
			if got := chain.NoLoadLoss(450) / m; got < 30 || got > 35.2 {
				t.Errorf("%g kg, %g rad/s/V: %g W a kg without load", m, k, got)
			}
		}
	}
}

// classMotor is a motor of the class, of a mass in kg and a speed constant in rad/s/V.
func classMotor(mass, k float64) Motor {
	constant := ConstantFromSpeed(k)
	quality := constant / ClassQuality(mass)
	return Motor{
		SpeedConstant: quantity.Some(k), WindingResistance: quality * quality, ResistanceTemperature: 298.15,
		NoLoadCurrent: ClassNoLoadCurrent(mass, k), NoLoadVoltage: 450 / k, LinearShare: 1, InsulationClass: "B", MagnetGrade: "N",
	}
}
