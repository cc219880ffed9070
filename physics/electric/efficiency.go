package electric

import "math"

// MapPoint is motor and supply at a torque and a speed.
type MapPoint struct {
	Torque, Speed float64 // at the shaft, N·m and rad/s
	// Shaft power over that at the controller's output, over that at its input, and over that at
	// the battery's terminals, dimensionless; 0 without a state.
	Motor, MotorAndController, Drive float64
	Winding                          float64 // K
	State                            MotorState
	Supply                           SupplyState
	Reason                           Reason    // why the battery does not pass it
	Voltage                          Unreached // whether the bus voltage suffices; the rest stands all the same
}

// EfficiencyMap works out motor, controller and battery on a grid of speeds in rad/s and torques in
// N·m, a row a torque, with winding and coolant at fixed temperatures in K and switches of the resistance
// that is typed. Points that the battery
// cannot pass have their reason, no efficiency, and the motor's state.
func (c *Chain) EfficiencyMap(torques, speeds []float64, winding, coolant float64) [][]MapPoint {
	rows := make([][]MapPoint, len(torques))
	for i, torque := range torques {
		rows[i] = make([]MapPoint, len(speeds))
		for j, speed := range speeds {
			rows[i][j] = c.mapPoint(torque, speed, winding, coolant, c.controller.OnResistanceTemperature.Or(warmJunction))
		}
	}
	return rows
}

func (c *Chain) mapPoint(torque, speed, winding, coolant, bridge float64) MapPoint {
	p := MapPoint{Torque: torque, Speed: speed, Winding: winding, State: c.Motor(torque, speed, winding, coolant)}
	shaft := torque * speed
	p.Supply, p.Reason = c.SupplyAt(&p.State, bridge)
	if p.State.ElectricPower > 0 {
		p.Motor = shaft / p.State.ElectricPower
	}
	if p.Reason != Solved {
		return p
	}
	if p.Supply.BatteryPower > 0 {
		p.MotorAndController = shaft / (p.Supply.BatteryPower - p.Supply.WiringLoss)
		p.Drive = shaft / p.Supply.BatteryPower
	}
	if p.Supply.Modulation > c.controller.ModulationLimit {
		p.Voltage = BeyondVoltage
	}
	return p
}

// BestTorque returns the torque in N·m at which the motor alone is most efficient at a speed in
// rad/s, with its winding at a temperature in K.
//
//	T = K·√[I_0² + I_0·K·ω/R],  I_0 = P_0/(ω·K)
//
//	P_0  no-load loss at the speed, W; where it is small its part of the loss is half, as copper's is
//	K, R motor constant, V·s, and resistance between lines, Ω
//
// Holds with magnets and winding at fixed temperatures.
//
// Source: own. Tests: TestBestTorqueExact.
func (c *Chain) BestTorque(speed, winding, magnet float64) float64 {
	k := c.ConstantAt(magnet)
	r := c.resistance * (1 + c.alpha*(winding-c.motor.ResistanceTemperature))
	idle := c.drag(speed) / k
	return k * math.Sqrt(idle*idle+idle*k*speed/r)
}
