package drive

import (
	"math"
	"testing"

	"jetwright/physics/electric"
	"jetwright/quantity"
)

// The limits of the map are where the very states that it is made of break them: a state on the line keeps the
// limit, one a thousandth above breaks it. The phase current's has a closed form.
func TestMapLimitsLaw(t *testing.T) {
	d := assumed(t)
	d.Controller.PhaseCurrentLimit, d.Controller.PhaseCurrentConvention = quantity.Some(180), "rms"
	d.Controller.BatteryCurrentLimit = quantity.Some(150)
	m, err := d.Resolve()
	if err != nil {
		t.Fatal(err)
	}
	a, err := m.Map()
	if err != nil {
		t.Fatal(err)
	}
	at := func(torque, speed float64) electric.MapPoint {
		return m.Chain.EfficiencyMap([]float64{torque}, []float64{speed}, a.Winding, a.Coolant)[0][0]
	}
	magnet := m.Chain.MagnetTemperature(a.Winding, a.Coolant)
	for i, w := range a.Speeds {
		want := 180/math.Sqrt(2.0/3)*m.Chain.ConstantAt(magnet) - m.Chain.NoLoadLoss(w)/w
		if math.Abs(a.PhaseCurrent[i]/want-1) > 1e-9 {
			t.Errorf("at %g rad/s the phase current allows %g N·m, by hand %g", w, a.PhaseCurrent[i], want)
		}
		if b := a.BatteryCurrent[i]; b > 0 {
			if p := at(b, w); p.Supply.BatteryCurrent > 150*(1+1e-9) {
				t.Errorf("on the line of the battery current it is %g A", p.Supply.BatteryCurrent)
			}
			if p := at(1.001*b, w); p.Reason == electric.Solved && p.Supply.BatteryCurrent <= 150 {
				t.Errorf("above the line of the battery current it is %g A", p.Supply.BatteryCurrent)
			}
		}
		v := a.Voltage[i]
		if i > 0 && v > a.Voltage[i-1]+1e-9 {
			t.Errorf("the voltage allows more torque at a higher speed: %g after %g N·m", v, a.Voltage[i-1])
		}
		if p := at(1.001*v+1e-6, w); p.Reason == electric.Solved && p.Voltage == electric.Reached {
			t.Errorf("above the line of the voltage it suffices, at %g rad/s", w)
		}
	}
}

// The running line is the jet's own: each of its states is what Solve gives, thrust and torque rise along it, it
// ends at full throttle or says why not, and the map at the temperature of a state has that state's efficiency.
func TestRunningLineLaw(t *testing.T) {
	m, err := assumed(t).Resolve()
	if err != nil {
		t.Fatal(err)
	}
	a, err := m.Map()
	if err != nil {
		t.Fatal(err)
	}
	if len(a.Running) < runningPoints-2 {
		t.Fatalf("%d states", len(a.Running))
	}
	for i, s := range a.Running {
		if i > 0 && !(s.Thrust > a.Running[i-1].Thrust && s.MotorTorque > a.Running[i-1].MotorTorque) {
			t.Errorf("state %d has %g N after %g N", i, s.Thrust, a.Running[i-1].Thrust)
		}
		p := m.Chain.EfficiencyMap([]float64{s.MotorTorque}, []float64{s.MotorSpeed}, s.Motor.WindingTemperature, m.Drive.Water.Temperature)[0][0]
		if got, want := p.Drive, s.ShaftPower/s.BatteryPower; math.Abs(got/want-1) > 2e-3 {
			t.Errorf("state %d: the map has %g, the state %g", i, got, want)
		}
	}
	if top := a.RunningThrottle[len(a.RunningThrottle)-1]; (top == 1) != (a.Full == "") {
		t.Errorf("the line ends at %g of throttle: %q", top, a.Full)
	}
	if best := a.Best.MotorAndController; !(best > 0.5 && best < 1) {
		t.Errorf("best efficiency %g", best)
	}
}

// Limits that the line meets come in the order of power, and each is kept before and broken after.
func TestCrossingsLaw(t *testing.T) {
	d := assumed(t)
	d.Controller.BatteryCurrentLimit = quantity.Some(60)
	d.Limits.RotorSpeed = quantity.Some(200)
	m, err := d.Resolve()
	if err != nil {
		t.Fatal(err)
	}
	a, err := m.Map()
	if err != nil {
		t.Fatal(err)
	}
	list := m.Crossings(a.Running)
	found := map[string]Crossing{}
	last := 0.0
	for _, c := range list {
		if c.After.BatteryPower < last {
			t.Errorf("%s comes after a later one", c.Limit.Name)
		}
		last = c.After.BatteryPower
		found[c.Limit.Name] = c
	}
	c, ok := found["battery current"]
	if !ok || c.Before.Supply.BatteryCurrent > 60 || c.After.Supply.BatteryCurrent < 60 {
		t.Fatalf("battery current: %v, %g A before, %g A after", ok, c.Before.Supply.BatteryCurrent, c.After.Supply.BatteryCurrent)
	}
	if at := c.Before.Supply.BatteryCurrent + c.Share*(c.After.Supply.BatteryCurrent-c.Before.Supply.BatteryCurrent); math.Abs(at-60) > 1e-9 {
		t.Errorf("it is met at %g A", at)
	}
	if _, ok := found["rotor speed"]; !ok {
		t.Error("the rotor speed is not met")
	}
}
