package drive

import (
	"jetwright/physics/electric"
)

// The parts to choose from, the duty and what comes out, as the electric side has them.
type (
	Offer           = electric.Offer
	MotorSheet      = electric.MotorSheet
	ControllerSheet = electric.ControllerSheet
	BatterySheet    = electric.BatterySheet
	DutyPoint       = electric.DutyPoint
	Around          = electric.Around
	Choice          = electric.Choice
)

// Choose holds every set of offered parts against the duty points; see electric.Choose.
func Choose(o Offer, duty []DutyPoint, a Around) ([]Choice, error) {
	return electric.Choose(o, duty, a)
}

// ChoiceDuty is what a solved state asks of any motor: torque and speed at the impeller's shaft, held
// for a time in s (0: not said), and what carries the heat away there. The coolant's own rise counts
// as a resistance of half of it, for motor and controller alike; that one warms the water of
// the other is left out.
func (m *Machine) ChoiceDuty(name string, s State, time float64) (DutyPoint, Around) {
	d := &m.Drive
	carried := s.Heat.CoolantFlow*m.heatCapacity + d.Cooling.StillLoss
	return DutyPoint{Name: name, Torque: s.MotorTorque * d.Shaft.Reduction * m.transmission, Speed: s.RotorSpeed, Time: time},
		Around{
			Coolant:         d.Water.Temperature,
			JacketToCoolant: d.Cooling.JacketToCoolant + 0.5/carried,
			PlateToCoolant:  d.Cooling.PlateToCoolant + 0.5/carried,
			Bounds:          electric.Bounds{WindingTemperature: d.Limits.WindingTemperature, MagnetTemperature: d.Limits.MagnetTemperature, BridgeTemperature: d.Limits.BridgeTemperature},
		}
}

// ChoiceReduction is the reduction that the design has, for every set of parts.
func (m *Machine) ChoiceReduction() electric.Reduction {
	return electric.Reduction{Ratio: m.Drive.Shaft.Reduction, Efficiency: m.transmission}
}

// MagnetCoefficients is the range of a class of magnets; see electric.MagnetCoefficients.
func MagnetCoefficients(material string) (low, high float64, ok bool) {
	return electric.MagnetCoefficients(material)
}
