package drive

import (
	"math"
	"slices"

	"jetwright/physics/electric"
	"jetwright/physics/heat"
	"jetwright/physics/jet"
)

// State is everything that the drive does at a condition, SI, solved as one.
type State struct {
	Speed                     float64 `unit:"m/s" doc:"craft speed through the water"`
	Thrust                    float64 `unit:"N" doc:"gross thrust"`
	NetThrust                 float64 `unit:"N" doc:"thrust left for the craft after thrust deduction; at rest and on the stand the gross thrust"`
	BatteryPower              float64 `unit:"W" doc:"power at the battery's terminals"`
	ControllerPower           float64 `unit:"W" doc:"power at the controller's output"`
	ShaftPower                float64 `unit:"W" doc:"power at the motor shaft"`
	RotorSpeed                float64 `unit:"rpm" doc:"rotor speed of the impeller"`
	MotorSpeed                float64 `unit:"rpm" doc:"speed of the motor"`
	MotorTorque               float64 `unit:"N·m" doc:"torque at the motor shaft"`
	SealLoss                  float64 `unit:"W" doc:"power lost in seals and wet bearings"`
	ReductionLoss             float64 `unit:"W" doc:"power lost in the reduction"`
	StaticEfficiency          float64 `unit:"1" doc:"static efficiency from battery power: share of it that an ideal jet through the nozzle would need for the thrust"`
	StaticEfficiencyShaft     float64 `unit:"1" doc:"static efficiency from shaft power"`
	PropulsiveEfficiency      float64 `unit:"1" doc:"thrust times speed over battery power, zero at rest"`
	PropulsiveEfficiencyShaft float64 `unit:"1" doc:"thrust times speed over shaft power, zero at rest"`
	CurrentCoefficient        float64 `unit:"A·s²" doc:"rms phase current over rotor speed in rev/s squared"`
	Jet                       jet.State
	Motor                     electric.MotorState
	Supply                    electric.SupplyState
	Heat                      heat.State
	Coolant                   heat.CoolantState // zero where no [[coolant]] is typed
	Blades                    BladeState        // zero where no blades are typed
	DemandResidual            float64           `unit:"1" doc:"how far the solved demand is from what was asked, relative"`
	PowerResidual             float64           `unit:"1" doc:"battery power less thrust power and every named loss, relative"`
}

// HasCoolant tells whether the coolant's way is typed part by part, so that its figures are there.
func (s *State) HasCoolant() bool { return s.Coolant.Lowest != 0 }

// Entry is one line of the watt ledger.
type Entry struct {
	Name  string
	Path  string  // of the figure in the State
	Power float64 // W; what is taken back is negative
}

// Ledger follows every watt from the battery's terminals to thrust: the entries sum to the
// battery power. Each loss comes from its own formula, none as a remainder.
func (s State) Ledger() []Entry { return s.ledger(nil) }

// ledger is Ledger in the room of a list that is there.
func (s *State) ledger(list []Entry) []Entry {
	j := &s.Jet
	list = append(list[:0], []Entry{
		{"wiring", "supply.wiring_loss", s.Supply.WiringLoss},
		{"bridge, conduction", "supply.conduction_loss", s.Supply.ConductionLoss},
		{"bridge, switching", "supply.switching_loss", s.Supply.SwitchingLoss},
		{"bridge, dead time", "supply.dead_time_loss", s.Supply.DeadTimeLoss},
		{"input capacitors", "supply.capacitor_loss", s.Supply.CapacitorLoss},
		{"electronics", "supply.standby_loss", s.Supply.StandbyLoss},
		{"winding", "motor.copper_loss", s.Motor.CopperLoss},
		{"iron, windage, bearings", "motor.no_load_loss", s.Motor.NoLoadLoss},
		{"reduction", "reduction_loss", s.ReductionLoss},
		{"seals", "seal_loss", s.SealLoss},
		{"pump", "jet.pump_loss", j.PumpLoss},
		{"pump, off its best point", "jet.pump_off_design_loss", j.PumpOffDesignLoss},
		{"cavitation", "jet.cavitation_loss", j.CavitationLoss},
		{"intake", "jet.intake_loss", j.IntakeLoss},
		{"duct", "jet.duct_loss", j.DuctLoss},
		{"nozzle", "jet.nozzle_loss", j.NozzleLoss},
		{"lift of the jet", "jet.lift_loss", j.LiftLoss},
		{"coolant", "jet.coolant_loss", j.CoolantLoss},
		{"left in the jet", "jet.jet_loss", j.JetLoss},
		{"taken back from the hull's wake", "jet.wake_gain", -j.WakeGain},
		{"thrust times speed", "jet.thrust_power", j.ThrustPower},
	}...)
	if s.HasBlades() {
		const pump = 10 // and what it loses off its best point
		list = slices.Replace(list, pump, pump+2, s.Blades.ledger()...)
	}
	if s.Coolant.PumpPower > 0 {
		list = slices.Insert(list, 6, Entry{"coolant's own pump", "coolant.pump_power", s.Coolant.PumpPower})
	}
	return list
}

// PowerBalance returns battery power less thrust power and every named loss, over the
// battery power, dimensionless: it closes to the tolerance of the solve.
//
//	P_battery = T·V + Σ losses
//
//	T·V  thrust power, W
//
// Holds for every solved state.
//
// Source: own. Tests: TestStateClosesLaw.
func (s *State) PowerBalance() float64 {
	j := &s.Jet
	sum := s.Supply.WiringLoss + s.Supply.ConductionLoss + s.Supply.SwitchingLoss + s.Supply.StandbyLoss +
		s.Supply.DeadTimeLoss + s.Supply.CapacitorLoss + s.Coolant.PumpPower +
		s.Motor.CopperLoss + s.Motor.NoLoadLoss + s.ReductionLoss + s.SealLoss +
		j.PumpLoss + j.PumpOffDesignLoss + j.CavitationLoss + j.IntakeLoss + j.DuctLoss + j.NozzleLoss +
		j.LiftLoss + j.CoolantLoss + j.JetLoss - j.WakeGain + j.ThrustPower
	return (s.BatteryPower - sum) / math.Abs(s.BatteryPower)
}
