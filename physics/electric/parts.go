// Package electric is the electric side of the drive: battery, wiring, controller, motor.
// Everything is steady: six-step and sinusoidal drive are seen through the direct-current
// motor that does the same.
package electric

import "jetwright/quantity"

// Motor is a brushless motor.
type Motor struct {
	SpeedConstant         quantity.Optional `unit:"rpm/V" doc:"no-load speed per volt of peak line-to-line voltage" range:"0.5 .. 20000" usual:"20 .. 1000"`
	TorqueConstant        quantity.Optional `unit:"N·m/A" doc:"torque per ampere, in the convention of torque_convention" range:"0.0001 .. 50" usual:"0.01 .. 1"`
	TorqueConvention      string            `doc:"ampere of the torque constant: of the equivalent direct-current motor, peak of the phase's sine, or rms" choices:"dc|peak|rms" assume:"dc" source:"own"`
	WindingResistance     float64           `unit:"mΩ" doc:"winding resistance, between what resistance_between names" range:"0.01 .. 100000" usual:"1 .. 300"`
	ResistanceBetween     string            `doc:"between two lines, or one phase of a star" choices:"lines|phase" assume:"lines" source:"own"`
	ResistanceTemperature float64           `unit:"°C" doc:"winding temperature at which the resistance was measured" range:"-40 .. 150" usual:"0 .. 40" assume:"25" source:"own"`
	NoLoadCurrent         float64           `unit:"A" doc:"current without load" range:"0 .. 200" usual:"0.2 .. 20" assume:"2 .. 8" source:"memory"`
	NoLoadVoltage         float64           `unit:"V" doc:"voltage at which the no-load current was measured" range:"0.5 .. 1000" usual:"5 .. 100" assume:"30" source:"own"`
	LinearShare           float64           `unit:"1" doc:"share of the no-load loss that grows with speed; the rest grows with its square" range:"0 .. 1" assume:"0.3 .. 0.8" source:"own"`
	InsulationClass       string            `doc:"thermal class of the winding's insulation" choices:"A|E|B|F|H|N|R" assume:"B" source:"iec-60085"`
	MagnetGrade           string            `doc:"temperature suffix of the magnets; N is none" choices:"N|M|H|SH|UH|EH" assume:"N" source:"own"`
	MagnetRiseShare       float64           `unit:"1" doc:"rise of the magnets over the coolant, as a share of the winding's" range:"0 .. 1" assume:"0.3 .. 0.8" source:"own"`
	MaxSpeed              quantity.Optional `unit:"rpm" doc:"highest motor speed by its maker" range:"50 .. 200000" usual:"1000 .. 30000"`
	WindingToJacket       float64           `unit:"K/W" doc:"thermal resistance from winding to jacket" range:"0.001 .. 5" usual:"0.01 .. 0.5" assume:"0.03 .. 0.12" source:"memory"`
	Length                float64           `unit:"mm" doc:"length of the motor" range:"10 .. 1000" usual:"40 .. 300" assume:"100 .. 160" source:"own"`
	Diameter              float64           `unit:"mm" doc:"diameter of the motor" range:"10 .. 1000" usual:"30 .. 250" assume:"70 .. 120" source:"own"`
	Mass                  quantity.Optional `unit:"kg" doc:"mass of the motor" range:"0.01 .. 500" usual:"0.3 .. 30"`
}

// Controller turns battery voltage into phase currents.
type Controller struct {
	Commutation            string            `doc:"how the phases are driven" choices:"six-step|sinusoidal" assume:"sinusoidal" source:"own"`
	OnResistance           float64           `unit:"mΩ" doc:"resistance of one switch when on and hot, parallel transistors together" range:"0.01 .. 1000" usual:"0.1 .. 20" assume:"0.4 .. 1.5" source:"memory"`
	SwitchingFrequency     float64           `unit:"kHz" doc:"switching frequency" range:"0.5 .. 1000" usual:"4 .. 100" assume:"12 .. 24" source:"own"`
	SwitchingTime          float64           `unit:"ns" doc:"rise and fall time of a switch together" range:"1 .. 100000" usual:"20 .. 2000" assume:"100 .. 400" source:"own"`
	StandbyPower           float64           `unit:"W" doc:"power of the electronics themselves" range:"0 .. 500" usual:"0.5 .. 50" assume:"5 .. 20" source:"own"`
	BatteryCurrentLimit    quantity.Optional `unit:"A" doc:"limit of battery current" range:"1 .. 5000" usual:"10 .. 600"`
	PhaseCurrentLimit      quantity.Optional `unit:"A" doc:"limit of phase current, in the convention of phase_current_convention" range:"1 .. 5000" usual:"10 .. 1000"`
	PhaseCurrentConvention string            `doc:"what the limit of phase current means: rms, peak of the sine, or the current of the equivalent direct-current motor" choices:"dc|peak|rms" assume:"peak" source:"own"`
	MaxVoltage             quantity.Optional `unit:"V" doc:"highest battery voltage of the controller" range:"5 .. 1500" usual:"20 .. 130"`
	ModulationLimit        float64           `unit:"1" doc:"usable share of the battery voltage" range:"0.3 .. 1.2" usual:"0.8 .. 1" assume:"0.93 .. 0.98" source:"own"`
	BridgeToPlate          float64           `unit:"K/W" doc:"thermal resistance from the transistors, all together, to the plate" range:"0.001 .. 10" usual:"0.005 .. 0.5" assume:"0.02 .. 0.08" source:"memory"`
	BridgeLimit            float64           `unit:"°C" doc:"highest temperature of the transistors" range:"30 .. 175" usual:"60 .. 150" assume:"85" source:"own"`
}

// Battery is a pack of lithium cells with its wiring.
type Battery struct {
	Series            int               `unit:"1" doc:"cells in series" range:"1 .. 400" usual:"4 .. 32"`
	Parallel          int               `unit:"1" doc:"cells in parallel" range:"1 .. 400" usual:"1 .. 40"`
	CellCapacity      float64           `unit:"Ah" doc:"capacity of one cell" range:"0.05 .. 1000" usual:"1 .. 150"`
	CellResistance    float64           `unit:"mΩ" doc:"direct-current resistance of one cell at 25 °C" range:"0.05 .. 1000" usual:"0.5 .. 60" assume:"12 .. 30" source:"memory"`
	ColdFactor        float64           `unit:"1" doc:"cell resistance at 7 °C over that at 25 °C" range:"1 .. 5" usual:"1.1 .. 3" assume:"1.3 .. 1.9" source:"memory"`
	Temperature       float64           `unit:"°C" doc:"temperature of the cells" range:"-30 .. 70" usual:"0 .. 45" assume:"7 .. 25" source:"own"`
	Charge            float64           `unit:"%" doc:"charge of the battery" range:"0 .. 100" usual:"10 .. 100" assume:"60 .. 95" source:"own"`
	OpenCircuitOffset float64           `unit:"V" doc:"offset of a cell's open-circuit voltage from the table" range:"-0.5 .. 0.5" assume:"-0.04 .. 0.04" source:"memory"`
	JointResistance   float64           `unit:"mΩ" doc:"resistance of all joints and bars in the pack" range:"0 .. 1000" usual:"0.2 .. 20" assume:"1 .. 4" source:"own"`
	WiringResistance  float64           `unit:"mΩ" doc:"resistance from battery to controller and back, with connectors and fuse" range:"0 .. 1000" usual:"0.2 .. 30" assume:"1 .. 5" source:"own"`
	CutOff            float64           `unit:"V" doc:"cut-off voltage of a cell" range:"1.5 .. 4" usual:"2.4 .. 3.6" assume:"3.0 .. 3.2" source:"own"`
	CellCurrentLimit  quantity.Optional `unit:"A" doc:"continuous current of one cell by its maker" range:"0.05 .. 2000" usual:"2 .. 400"`
}
