package electric

import (
	"math"
	"testing"
)

// 100 rpm/V is 0.0954930 V·s; each line of the table is worked out by hand from it.
func TestConventionTableExact(t *testing.T) {
	k := ConstantFromSpeed(100 * math.Pi / 30)
	want := []float64{100 * math.Pi / 30, 141.4213562373 * math.Pi / 30, 0.0954929659, 0.0675237237, 0.0551328895, 0.0954929659, 0.0826993343, 0.1169545202}
	list := Conventions(k)
	if len(list) != len(want) {
		t.Fatalf("%d conventions", len(list))
	}
	for i, c := range list {
		near(t, c.Name, c.Value, want[i], 1e-9)
	}
	// back through what reads a typed constant
	near(t, "dc", ConstantFromTorque(list[5].Value, "dc"), k, 1e-14)
	near(t, "peak", ConstantFromTorque(list[6].Value, "peak"), k, 1e-14)
	near(t, "rms", ConstantFromTorque(list[7].Value, "rms"), k, 1e-14)
}

// At a torque of K_m the winding loses one watt.
func TestMotorQualityExact(t *testing.T) {
	k, r := 0.08, 0.012
	torque := MotorQuality(k, r)
	i := torque / k
	near(t, "copper loss", i*i*r, 1, 1e-14)
	m, ctl, b := board()
	c, err := NewChain(m, ctl, b)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "of a chain", c.Quality(m.ResistanceTemperature), MotorQuality(c.Constant(), m.lineResistance()*m.ACFactor.Or(1)), 1e-14)
}
