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
	NoLoadVoltages        []float64         `unit:"V" doc:"no-load points, two or more: their voltages; they go before no_load_current, no_load_voltage and linear_share" range:"0.5 .. 1000" usual:"2 .. 100"`
	NoLoadCurrents        []float64         `unit:"A" doc:"no-load points: their currents, of the equivalent direct-current motor" range:"0 .. 200" usual:"0.2 .. 20"`
	NoLoadSpeeds          []float64         `unit:"rpm" doc:"no-load points: their motor speeds; from voltage and motor constant if left out" range:"10 .. 200000" usual:"200 .. 30000"`
	NoLoadAccuracy        quantity.Optional `unit:"%" doc:"standard uncertainty of a no-load loss, for telling its parts apart; 2 % if left out" range:"0.01 .. 50" usual:"0.5 .. 5"`
	ACFactor              quantity.Optional `unit:"1" doc:"winding resistance at the running frequency over that with direct current, for skin and proximity; 1 if left out" range:"1 .. 10" usual:"1 .. 1.5"`
	PolePairs             quantity.Optional `unit:"1" doc:"pole pairs" range:"1 .. 100" usual:"2 .. 30"`
	PhaseInductance       quantity.Optional `unit:"µH" doc:"inductance of one phase of a star, half of that between two lines" range:"0.1 .. 100000" usual:"3 .. 500"`
	CableArea             quantity.Optional `unit:"mm²" doc:"copper area of one of the three cables between controller and motor, for how hot it gets; its resistance belongs to winding_resistance, measured at the controller's end" range:"0.05 .. 500" usual:"2.5 .. 70"`
	CableLimit            quantity.Optional `unit:"°C" doc:"highest conductor temperature of those cables' insulation" range:"40 .. 300" usual:"70 .. 200"`
	CableSurroundings     quantity.Optional `unit:"°C" doc:"temperature around those cables; that of the cells if left out" range:"-30 .. 120" usual:"0 .. 60"`
	InsulationClass       string            `doc:"thermal class of the winding's insulation" choices:"A|E|B|F|H|N|R" assume:"B" source:"iec-60085"`
	MagnetGrade           string            `doc:"temperature suffix of the magnets; N is none" choices:"N|M|H|SH|UH|EH" assume:"N" source:"own"`
	MagnetMaterial        string            `doc:"class of the magnets: what their strength loses by degree is then assumed of it, where no magnet_coefficient is typed; magnet_grade holds for neodymium alone" choices:"neodymium|samarium-cobalt|ferrite"`
	MagnetRiseShare       float64           `unit:"1" doc:"rise of the magnets over the coolant, as a share of the winding's" range:"0 .. 1" assume:"0.3 .. 0.8" source:"own"`
	MagnetCoefficient     quantity.Optional `unit:"%/K" doc:"change of the magnets' strength, and with it of the motor constant, by degree: about -0.12 for neodymium, -0.04 for samarium-cobalt, -0.2 for ferrite; no change if left out" range:"-0.25 .. 0" usual:"-0.22 .. -0.02"`
	ConstantTemperature   quantity.Optional `unit:"°C" doc:"temperature of the magnets at which the motor constant holds; 20 °C if left out" range:"-40 .. 150" usual:"0 .. 60"`
	MagnetSheet           string            `doc:"grade whose remanence, coercivity and coefficients stand for what is not typed of them, at the lower ends of a maker's table" choices:"N42|N42M|N42H|N42SH|Sm2Co17|ferrite"`
	MagnetRemanence       quantity.Optional `unit:"T" doc:"remanence of the magnets at 20 °C, by their sheet; with magnet_coercivity and permeance, or magnet_sheet and permeance, what they lose for good is judged" range:"0.1 .. 1.6" usual:"0.3 .. 1.45"`
	MagnetCoercivity      quantity.Optional `unit:"kA/m" doc:"intrinsic coercivity of the magnets at 20 °C, by their sheet: its least value" range:"50 .. 4000" usual:"200 .. 2800"`
	CoercivityCoefficient quantity.Optional `unit:"%/K" doc:"change of the coercivity by degree, by the magnets' sheet; that of magnet_sheet or magnet_material if left out: -0.65 for neodymium, -0.22 for samarium-cobalt, 0.3 for ferrite" range:"-1 .. 0.6" usual:"-0.8 .. 0.4"`
	Permeance             quantity.Optional `unit:"1" doc:"permeance coefficient of the magnets in the motor, B over µ0·H at their working point: about thickness over gap" range:"0.2 .. 50" usual:"1 .. 12"`
	WetGap                quantity.Optional `unit:"mm" doc:"radial gap between rotor and stator that is full of water; a dry gap if left out" range:"0.05 .. 50" usual:"0.3 .. 5"`
	RotorDiameter         quantity.Optional `unit:"mm" doc:"diameter of the rotor's face at the wet gap" range:"5 .. 1000" usual:"20 .. 250"`
	RotorLength           quantity.Optional `unit:"mm" doc:"length of the rotor along the wet gap" range:"5 .. 1000" usual:"20 .. 300"`
	MaxSpeed              quantity.Optional `unit:"rpm" doc:"highest motor speed by its maker" range:"50 .. 200000" usual:"1000 .. 30000"`
	WindingToJacket       float64           `unit:"K/W" doc:"thermal resistance from winding to jacket" range:"0.001 .. 5" usual:"0.01 .. 0.5" assume:"0.03 .. 0.12" source:"memory"`
	Length                float64           `unit:"mm" doc:"length of the motor" range:"10 .. 1000" usual:"40 .. 300" assume:"100 .. 160" source:"own"`
	Diameter              float64           `unit:"mm" doc:"diameter of the motor" range:"10 .. 1000" usual:"30 .. 250" assume:"70 .. 120" source:"own"`
	Mass                  quantity.Optional `unit:"kg" doc:"mass of the motor" range:"0.01 .. 500" usual:"0.3 .. 30"`
}

// Controller turns battery voltage into phase currents.
type Controller struct {
	Commutation             string            `doc:"how the phases are driven" choices:"six-step|sinusoidal" assume:"sinusoidal" source:"own"`
	OnResistance            float64           `unit:"mΩ" doc:"resistance of one switch when on and hot, parallel transistors together" range:"0.01 .. 1000" usual:"0.1 .. 20" assume:"0.4 .. 1.5" source:"memory"`
	OnResistanceCoefficient quantity.Optional `unit:"%/K" doc:"rise of a switch's resistance by degree of its temperature: 0.3 to 0.7 % for silicon; on_resistance is then that at on_resistance_temperature, and no longer that of the hot switch" range:"0 .. 0.8" usual:"0.3 .. 0.7"`
	OnResistanceTemperature quantity.Optional `unit:"°C" doc:"temperature at which on_resistance holds; 25 °C if left out, counted with on_resistance_coefficient" range:"-40 .. 100" usual:"20 .. 100"`
	SwitchingFrequency      float64           `unit:"kHz" doc:"switching frequency" range:"0.5 .. 1000" usual:"4 .. 100" assume:"12 .. 24" source:"own"`
	SwitchingTime           float64           `unit:"ns" doc:"rise and fall time of a switch together" range:"1 .. 100000" usual:"20 .. 2000" assume:"100 .. 400" source:"own"`
	StandbyPower            float64           `unit:"W" doc:"power of the electronics themselves" range:"0 .. 500" usual:"0.5 .. 50" assume:"5 .. 20" source:"own"`
	DeadTime                quantity.Optional `unit:"ns" doc:"dead time at each switching, when both switches of a leg are off; not counted if left out" range:"1 .. 20000" usual:"100 .. 3000"`
	DiodeVoltage            quantity.Optional `unit:"V" doc:"voltage over a switch's reverse path during the dead time; 0.9 V if left out" range:"0.1 .. 5" usual:"0.5 .. 2"`
	CapacitorResistance     quantity.Optional `unit:"mΩ" doc:"series resistance (ESR) of the input capacitors, all together; their heat is not counted if left out" range:"0.01 .. 10000" usual:"0.2 .. 50"`
	CapacitorCurrentLimit   quantity.Optional `unit:"A" doc:"ripple current of the input capacitors, all together, rms, by their maker" range:"0.1 .. 5000" usual:"5 .. 500"`
	CapacitorToAir          quantity.Optional `unit:"K/W" doc:"thermal resistance from the input capacitors' cores, all together, to their surroundings" range:"0.01 .. 200" usual:"0.2 .. 20"`
	CapacitorSurroundings   quantity.Optional `unit:"°C" doc:"temperature around the input capacitors; that of the bridge if left out" range:"-20 .. 150" usual:"20 .. 90"`
	CapacitorLimit          quantity.Optional `unit:"°C" doc:"highest core temperature of the input capacitors by their maker" range:"50 .. 175" usual:"85 .. 135"`
	CapacitorLife           quantity.Optional `unit:"h" doc:"life of the input capacitors at capacitor_limit, by their maker" range:"100 .. 1000000" usual:"1000 .. 20000"`
	CapacitorService        quantity.Optional `unit:"h" doc:"hours under load that the input capacitors are to last" range:"1 .. 1000000" usual:"100 .. 20000"`
	Capacitance             quantity.Optional `unit:"µF" doc:"input capacitors, all together, for what happens when the battery is connected" range:"1 .. 1000000" usual:"200 .. 20000"`
	PrechargeResistance     quantity.Optional `unit:"Ω" doc:"resistor through which the input capacitors are charged before the main switch closes; none if left out" range:"0.1 .. 100000" usual:"5 .. 1000"`
	PrechargeTime           quantity.Optional `unit:"s" doc:"time for which that resistor charges them before the main switch closes" range:"0.001 .. 600" usual:"0.2 .. 10"`
	PrechargeEnergy         quantity.Optional `unit:"J" doc:"energy that the pre-charge resistor takes up at once, by its maker" range:"0.1 .. 100000" usual:"5 .. 500"`
	PrechargeLoad           quantity.Optional `unit:"A" doc:"what the controller draws while it is pre-charged; nothing if left out" range:"0 .. 10" usual:"0 .. 0.3"`
	BleedResistance         quantity.Optional `unit:"kΩ" doc:"resistance that empties the input capacitors once the battery is off" range:"0.01 .. 1000" usual:"0.5 .. 100"`
	BatteryCurrentLimit     quantity.Optional `unit:"A" doc:"limit of battery current" range:"1 .. 5000" usual:"10 .. 600"`
	PhaseCurrentLimit       quantity.Optional `unit:"A" doc:"limit of phase current, in the convention of phase_current_convention" range:"1 .. 5000" usual:"10 .. 1000"`
	PhaseCurrentConvention  string            `doc:"what the limit of phase current means: rms, peak of the sine, or the current of the equivalent direct-current motor" choices:"dc|peak|rms" assume:"peak" source:"own"`
	WeakeningCurrent        quantity.Optional `unit:"A" doc:"highest current against the magnets, peak of a phase, with which the controller weakens the field where the voltage does not suffice; takes pole_pairs and phase_inductance of the motor, and sines; the field is not weakened if left out" range:"0.1 .. 5000" usual:"5 .. 300"`
	MaxVoltage              quantity.Optional `unit:"V" doc:"highest battery voltage of the controller" range:"5 .. 1500" usual:"20 .. 130"`
	ModulationLimit         float64           `unit:"1" doc:"usable share of the battery voltage" range:"0.3 .. 1.2" usual:"0.8 .. 1" assume:"0.93 .. 0.98" source:"own"`
	BridgeToPlate           float64           `unit:"K/W" doc:"thermal resistance from the transistors, all together, to the plate" range:"0.001 .. 10" usual:"0.005 .. 0.5" assume:"0.02 .. 0.08" source:"memory"`
	BridgeLimit             float64           `unit:"°C" doc:"highest temperature of the transistors" range:"30 .. 175" usual:"60 .. 150" assume:"85" source:"own"`
}

// Battery is a pack of lithium cells with its wiring.
type Battery struct {
	Series                 int               `unit:"1" doc:"cells in series" range:"1 .. 400" usual:"4 .. 32"`
	Parallel               int               `unit:"1" doc:"cells in parallel" range:"1 .. 400" usual:"1 .. 40"`
	CellCapacity           float64           `unit:"Ah" doc:"capacity of one cell" range:"0.05 .. 1000" usual:"1 .. 150"`
	CellResistance         float64           `unit:"mΩ" doc:"direct-current resistance of one cell at 25 °C" range:"0.05 .. 1000" usual:"0.5 .. 60" assume:"12 .. 30" source:"memory"`
	ColdFactor             float64           `unit:"1" doc:"cell resistance at 7 °C over that at 25 °C" range:"1 .. 5" usual:"1.1 .. 3" assume:"1.3 .. 1.9" source:"memory"`
	Temperature            float64           `unit:"°C" doc:"temperature of the cells" range:"-30 .. 70" usual:"0 .. 45" assume:"7 .. 25" source:"own"`
	Charge                 float64           `unit:"%" doc:"charge of the battery" range:"0 .. 100" usual:"10 .. 100" assume:"60 .. 95" source:"own"`
	Chemistry              string            `doc:"class of the cells, for the open-circuit voltage and the full cell" choices:"nickel-rich|cobalt-oxide|iron-phosphate|titanate" assume:"nickel-rich" source:"memory"`
	OpenCircuitCharges     []float64         `unit:"%" doc:"open-circuit voltage as measured, two or more points: their charges, rising; goes before chemistry" range:"0 .. 100"`
	OpenCircuitVoltages    []float64         `unit:"V" doc:"open-circuit voltage as measured: voltages of one cell, rising" range:"0.5 .. 5" usual:"1.5 .. 4.4"`
	ColdLaw                string            `doc:"how the cold factor goes on to other temperatures: exponential in the temperature, or in its reciprocal (Arrhenius), which is steeper in the cold" choices:"exponential|arrhenius" assume:"exponential" source:"own"`
	ResistanceTemperatures []float64         `unit:"°C" doc:"cell resistance against temperature as measured, two or more points: their temperatures, rising; goes before cold_factor" range:"-40 .. 80"`
	TemperatureFactors     []float64         `unit:"1" doc:"cell resistance against temperature as measured: over that at 25 °C" range:"0.1 .. 20" usual:"0.5 .. 6"`
	LowChargeFactor        quantity.Optional `unit:"1" doc:"cell resistance at 10 % charge over that of a charged cell; no change with charge if left out" range:"1 .. 20" usual:"1.1 .. 3"`
	ResistanceCharges      []float64         `unit:"%" doc:"cell resistance against charge as measured, two or more points: their charges, rising; goes before low_charge_factor" range:"0 .. 100"`
	ChargeFactors          []float64         `unit:"1" doc:"cell resistance against charge as measured: over cell_resistance" range:"0.1 .. 20" usual:"0.7 .. 5"`
	ChargeImbalance        quantity.Optional `unit:"%" doc:"charge that the weakest group of cells lacks against the mean" range:"0 .. 50" usual:"0.5 .. 10"`
	ResistanceImbalance    quantity.Optional `unit:"%" doc:"how much the resistance of the weakest group of cells is above the mean" range:"0 .. 300" usual:"2 .. 50"`
	RelaxationFastShare    quantity.Optional `unit:"1" doc:"share of the cell's resistance that comes up within tens of seconds of a load, and goes away after it; all comes at once if left out" range:"0 .. 0.9" usual:"0.05 .. 0.4"`
	RelaxationFastTime     quantity.Optional `unit:"s" doc:"time constant of that share" range:"0.5 .. 300" usual:"2 .. 60"`
	RelaxationSlowShare    quantity.Optional `unit:"1" doc:"share of the cell's resistance that comes up within minutes of a load, and goes away after it" range:"0 .. 0.9" usual:"0.05 .. 0.4"`
	RelaxationSlowTime     quantity.Optional `unit:"s" doc:"time constant of that share" range:"10 .. 10000" usual:"60 .. 2000"`
	OpenCircuitOffset      float64           `unit:"V" doc:"offset of a cell's open-circuit voltage from the table" range:"-0.5 .. 0.5" assume:"-0.04 .. 0.04" source:"memory"`
	JointResistance        float64           `unit:"mΩ" doc:"resistance of all joints and bars in the pack" range:"0 .. 1000" usual:"0.2 .. 20" assume:"1 .. 4" source:"own"`
	WiringResistance       float64           `unit:"mΩ" doc:"resistance from battery to controller and back, with connectors and fuse" range:"0 .. 1000" usual:"0.2 .. 30" assume:"1 .. 5" source:"own"`
	CableArea              quantity.Optional `unit:"mm²" doc:"copper area of a conductor of the battery cable; with cable_length it goes before wiring_resistance" range:"0.05 .. 500" usual:"2.5 .. 120"`
	CableLength            quantity.Optional `unit:"m" doc:"length of the battery cable, one way" range:"0.02 .. 100" usual:"0.1 .. 5"`
	CableSurroundings      quantity.Optional `unit:"°C" doc:"temperature around the battery cable; that of the cells if left out" range:"-30 .. 120" usual:"0 .. 60"`
	CableLimit             quantity.Optional `unit:"°C" doc:"highest conductor temperature of the cable's insulation" range:"40 .. 300" usual:"70 .. 200"`
	ConnectorResistance    quantity.Optional `unit:"mΩ" doc:"resistance of connectors, fuse and switch between battery and controller, all together; counted with cable_area; none if left out" range:"0 .. 1000" usual:"0.1 .. 10"`
	FuseRating             quantity.Optional `unit:"A" doc:"rating of the battery's fuse" range:"0.1 .. 5000" usual:"20 .. 500"`
	FuseLoads              []float64         `unit:"%" doc:"melting curve of the fuse by its sheet, one or more points: currents over its rating, rising" range:"100 .. 100000" usual:"110 .. 2000"`
	FuseTimes              []float64         `unit:"s" doc:"melting curve of the fuse: times, falling; the longest that the sheet allows is on the safe side for the cable" range:"0.0001 .. 100000" usual:"0.001 .. 10000"`
	FuseMelting            quantity.Optional `unit:"A²·s" doc:"melting integral of the fuse, by its sheet, for a short circuit" range:"0.1 .. 100000000" usual:"100 .. 1000000"`
	FuseBreaking           quantity.Optional `unit:"A" doc:"highest direct current that the fuse breaks at the battery's voltage, by its sheet" range:"10 .. 1000000" usual:"500 .. 50000"`
	ConnectorCurrentLimit  quantity.Optional `unit:"A" doc:"lasting current of the weakest connector or switch between battery and controller" range:"1 .. 5000" usual:"10 .. 500"`
	InrushLimit            quantity.Optional `unit:"A" doc:"peak current that connector or switch stands when the battery is connected" range:"1 .. 100000" usual:"50 .. 5000"`
	LoopInductance         quantity.Optional `unit:"µH" doc:"inductance of the loop from battery to input capacitors, about 0.7 µH for each metre of cable; its inrush is not held back by any if left out" range:"0.01 .. 1000" usual:"0.2 .. 5"`
	CutOff                 float64           `unit:"V" doc:"cut-off voltage of a cell" range:"1.5 .. 4" usual:"2.4 .. 3.6" assume:"3.0 .. 3.2" source:"own"`
	CellCurrentLimit       quantity.Optional `unit:"A" doc:"continuous current of one cell by its maker" range:"0.05 .. 2000" usual:"2 .. 400"`
}
