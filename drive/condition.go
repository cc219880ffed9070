package drive

import (
	"fmt"
	"math"
	"strings"
)

// Demand is the kind of figure that a condition prescribes.
type Demand int8

// Demands. The three powers are at three places and never the same.
const (
	BatteryPower    Demand = iota // W at the battery's terminals
	ControllerPower               // W at the controller's output
	ShaftPower                    // W at the motor shaft
	Thrust                        // gross thrust, N
	RotorSpeed                    // of the impeller, rad/s
	Throttle                      // share of the usable bus voltage, 0 to 1; beyond 1 the field is weakened
)

var demandWords = [...]string{"battery power", "controller power", "shaft power", "thrust", "rotor speed", "throttle"}

func (d Demand) String() string { return demandWords[d] }

// Place returns the demand for a power at a place as the design file words it: battery,
// controller or shaft.
func Place(word string) (Demand, bool) {
	switch word {
	case "battery":
		return BatteryPower, true
	case "controller":
		return ControllerPower, true
	case "shaft":
		return ShaftPower, true
	}
	return 0, false
}

// Condition is where and how hard the drive runs. The water belongs to the Drive.
type Condition struct {
	Speed   float64 // through the water, m/s
	Demand  Demand
	Amount  float64 // of the demand, SI
	OnStand bool    // shaft height from the stand; else from the craft
}

// show writes an amount of a demand for a message.
func (d Demand) show(x float64) string {
	switch d {
	case Thrust:
		return fourDigits(x) + " N"
	case RotorSpeed:
		return fourDigits(x*60/(2*math.Pi)) + " rpm"
	case Throttle:
		return fmt.Sprintf("%.3g %%", 100*x)
	}
	if math.Abs(x) >= 1000 {
		return fmt.Sprintf("%.3g kW", x/1000)
	}
	return fmt.Sprintf("%.3g W", x)
}

// fourDigits writes a number with four digits that count, and without an exponent.
func fourDigits(x float64) string {
	if x != 0 && !math.IsInf(x, 0) && !math.IsNaN(x) {
		place := math.Pow(10, math.Floor(math.Log10(math.Abs(x)))-3)
		if place >= 1 {
			return fmt.Sprintf("%.0f", math.Round(x/place)*place)
		}
	}
	return fmt.Sprintf("%.4g", x)
}

// Reason says why a drive has no state at a condition. The list is closed.
type Reason int8

// Reasons.
const (
	Solved           Reason = iota
	BeyondBattery           // the battery cannot deliver it
	BeyondCavitation        // the pump's head breaks down before it
	NoFlow                  // the pump cannot lift the water to the nozzle
	NoPressure              // no pressure above vapour is left at the impeller
	BelowIdle               // less than what the electronics take at rest
	NotConverged            // iterations used up
	BadDesignPoint          // the pump's design point cannot be placed
	BadTable                // the pump table has no curve in it
	BadBlades               // the blades have no state at any flow
	BadCondition            // the condition is not a finite number or not positive
)

var reasonWords = [...]string{
	"solved", "battery", "cavitation", "no flow", "no inlet pressure",
	"below idle", "not converged", "no design point", "pump table", "blades", "condition",
}

// String returns the reason in a word or two, for counting by kind.
func (r Reason) String() string { return reasonWords[r] }

// Unmet is the error of a solve: what could not be met, and what can.
type Unmet struct {
	Reason    Reason
	Condition Condition
	Most      float64 // largest amount of the demand that has a state, 0 if not known
	Charge    float64 // of the battery, 0 to 1
	Detail    string
}

// WayOut says what could be changed; empty where nothing general can be said.
func (u *Unmet) WayOut() string {
	switch u.Reason {
	case BeyondBattery:
		return "ask for less, or give the battery more cells, charge or current"
	case BeyondCavitation, NoPressure:
		return "ask for less, or give the impeller more pressure ahead of it: look at impeller.diameter, impeller.suction_specific_speed_3, shaft.height and the intake"
	case NoFlow:
		return "ask for more speed, or look at shaft.height, impeller.diameter and nozzle.diameter"
	case BelowIdle:
		return "ask for more"
	}
	return ""
}

// Error words it for the builder.
func (u *Unmet) Error() string {
	c := u.Condition
	asked := c.Demand.show(c.Amount)
	at := ""
	if c.Speed != 0 {
		at = fmt.Sprintf(" at %.3g m/s", c.Speed)
	}
	most := ""
	if u.Most > 0 {
		most = ": " + c.Demand.show(u.Most) + " at most"
	}
	switch u.Reason {
	case BeyondBattery:
		if most != "" {
			most += fmt.Sprintf(" at %.3g %% charge", 100*u.Charge)
		}
		if c.Demand == BatteryPower {
			return "the battery cannot deliver " + asked + most
		}
		return "the battery cannot deliver what " + asked + " of " + c.Demand.String() + at + " takes" + most
	case BeyondCavitation:
		return "cavitation breaks the pump's head down before " + asked + at + most
	case NoFlow:
		return "the pump cannot lift the water to the nozzle for " + asked + at
	case NoPressure:
		return "no pressure above vapour is left at the impeller for " + asked + at + most
	case BelowIdle:
		return asked + " of " + c.Demand.String() + at + " is less than the drive takes to turn at all"
	case BadDesignPoint:
		return strings.TrimSpace("the pump's design point cannot be placed: " + u.Detail)
	case BadBlades:
		return "the blades work at no flow: " + u.Detail
	case BadTable, BadCondition:
		return u.Detail
	}
	return "no operating point found for " + asked + at + " within the iterations allowed"
}
