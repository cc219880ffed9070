package electric

import "math"

// ClassQuality returns the motor constant by the root of its copper loss, K/√R, of a class of motors in N·m/√W:
// permanent magnets, a winding in iron teeth, a water jacket, 0.3 to 40 kg.
//
//	K/√R = 0.32·m^(5/6)
//
//	K  motor constant, N·m/A (V·s)
//	R  resistance between two lines, Ω
//	m  mass of the motor, kg
//
// Motors of one shape and one copper temperature make a torque that grows with the 2.5th power of their length
// for the same root of loss, and so with the 5/6th of their mass. The factor is our own and scatters by a fifth
// either way between makes; flat motors with many poles reach twice as much.
//
// Source: own. Tests: TestMotorClassLaw.
func ClassQuality(mass float64) float64 { return 0.32 * math.Pow(mass, 5.0/6.0) }

// ClassNoLoadCurrent returns the current of such a motor without load in A.
//
//	I₀ = 0.078·m·K_v
//
//	m    mass of the motor, kg
//	K_v  speed constant, rad/s/V
//
// It is a loss of 35 W a kg at 4300 rpm that grows with the speed, whatever the voltage. Our own; it scatters by
// two fifths either way.
//
// Source: own. Tests: TestMotorClassLaw.
func ClassNoLoadCurrent(mass, speedConstant float64) float64 { return 0.078 * mass * speedConstant }

// ClassWindingToJacket returns the thermal resistance from winding to jacket of such a motor in K/W.
//
//	R = 0.075·(3/m)^(1/2)
//
//	m  mass of the motor, kg
//
// The surface that the heat goes through grows with the mass to the power of 2/3, its way through the winding with 1/3 and
// that through the liner not at all. At 3 kg it is the middle of what is assumed of any motor; it scatters by three
// fifths either way, as that does. Our own.
//
// Source: own. Tests: TestMotorClassLaw.
func ClassWindingToJacket(mass float64) float64 { return 0.075 * math.Sqrt(3/mass) }
