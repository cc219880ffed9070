package electric

import "jetwright/quantity"

// classTemperature is the highest temperature of an insulation class in °C (IEC 60085).
var classTemperature = map[string]float64{"A": 105, "E": 120, "B": 130, "F": 155, "H": 180, "N": 200, "R": 220}

// magnetTemperature is the guide temperature of a neodymium magnet's suffix in °C; makers agree up
// to SH (seen in their tables), UH and EH are recalled.
var magnetTemperature = map[string]float64{"N": 80, "M": 100, "H": 120, "SH": 150, "UH": 180, "EH": 200}

const zeroCelsius = 273.15

// MagnetBound returns the guide temperature of a magnet's suffix in K.
//
//	t = 80, 100, 120, 150, 180, 200 °C for N, M, H, SH, UH, EH
//
// Holds as a guide only: shape and circuit of the magnet decide.
//
// Source: memory. Tests: TestMagnetBoundPublished.
func MagnetBound(grade string) float64 { return magnetTemperature[grade] + zeroCelsius }

// WindingBound returns the highest temperature of the winding's insulation class in K.
func (c *Chain) WindingBound() float64 {
	return classTemperature[c.motor.InsulationClass] + zeroCelsius
}

// touchVoltage is the direct voltage above which a circuit counts as hazardous where it is dry, V.
const touchVoltage = 60

// Bounds are the builder's own bounds where they have typed some.
type Bounds struct {
	WindingTemperature, MagnetTemperature, BridgeTemperature quantity.Optional
}

// Limits appends the limits of the electric side: of a motor and a supply state, the bridge's
// temperature, and the water's, from which temperatures rise, in K.
func (c *Chain) Limits(dst []quantity.Limit, m MotorState, s SupplyState, at Temperatures, b Bounds) []quantity.Limit {
	hot := func(name, part string, value, allowed float64, why, source string, moves ...string) {
		zero := at.Water
		if allowed <= zero {
			zero = 0 // a bound that the water itself breaks: nothing but absolute zero is below it for sure
		}
		dst = append(dst, quantity.Limit{Name: name, Part: part, Unit: "°C", Value: value, Allowed: allowed, Zero: zero, Factor: 1, Why: why, Source: source, Moves: moves})
	}
	hot("winding temperature", "motor", m.WindingTemperature, b.WindingTemperature.Or(c.WindingBound()),
		"insulation ages and fails; every 10 K halve its life as a rule of thumb", "iec-60085", "motor.winding_resistance", "motor.winding_to_jacket", "cooling.tap_diameter", "motor.speed_constant")
	hot("magnet temperature", "motor", m.MagnetTemperature, b.MagnetTemperature.Or(c.motor.MagnetBound()),
		"magnets lose strength for good; the suffix is a guide only, shape and circuit decide", "memory", "motor.magnet_grade", "motor.winding_to_jacket", "cooling.tap_diameter")
	hot("bridge temperature", "controller", at.Bridge, b.BridgeTemperature.Or(c.controller.BridgeLimit),
		"transistors fail, mostly short, and the motor brakes or burns", "own", "controller.on_resistance", "controller.bridge_to_plate", "cooling.tap_diameter")
	amps := func(name, part string, value float64, limit quantity.Optional, key, why string, moves ...string) {
		l := quantity.Limit{Name: name, Part: part, Unit: "A", Value: value, Allowed: limit.Value, Factor: 1, Why: why, Source: "own", Moves: moves}
		if !limit.Set {
			l.NotJudged = "no " + key + " is typed"
		}
		dst = append(dst, l)
	}
	phase, name := c.PhaseCurrent(&m)
	amps(name, "controller", phase, c.controller.PhaseCurrentLimit, "controller.phase_current_limit",
		"the controller holds the torque back, or its bridge fails", "motor.speed_constant", "impeller.head_coefficient", "shaft.reduction")
	amps("battery current", "controller", s.BatteryCurrent, c.controller.BatteryCurrentLimit, "controller.battery_current_limit",
		"the controller holds the power back, or its capacitors and connectors overheat", "battery.series")
	amps("cell current", "battery", s.CellCurrent, c.battery.CellCurrentLimit, "battery.cell_current_limit",
		"cells overheat", "battery.parallel", "battery.series")
	n := float64(c.battery.Series)
	rest := c.openCircuit
	if rest <= n*c.battery.CutOff {
		rest = n * c.fullCell // a battery that is below its cut-off at rest is measured from a full one
	}
	dst = append(dst, quantity.Limit{
		Name: "battery voltage under load", Part: "battery", Unit: "V", Sense: quantity.AtLeast, Value: s.BatteryVoltage, Allowed: n * c.battery.CutOff, Zero: rest, Factor: 1,
		Why: "the controller cuts off in mid-run, and cells age", Source: "own", Moves: []string{"battery.parallel", "battery.cell_resistance", "battery.charge"},
	}, quantity.Limit{
		Name: "share of the battery voltage used", Part: "controller", Unit: "1", Value: s.Modulation, Allowed: c.controller.ModulationLimit, Factor: 1,
		Why: "beyond it the voltage does not reach for this speed and torque", Source: "own", Moves: []string{"motor.speed_constant", "battery.series", "impeller.head_coefficient"},
	})
	speed := quantity.Limit{
		Name: "motor speed", Part: "motor", Unit: "rpm", Value: at.MotorSpeed, Allowed: c.motor.MaxSpeed.Value, Factor: 1,
		Why: "rotor and bearings were not made for more", Source: "own", Moves: []string{"impeller.diameter", "shaft.reduction"},
	}
	if !c.motor.MaxSpeed.Set {
		speed.NotJudged = "no motor.max_speed is typed"
	}
	full := quantity.Limit{
		Name: "full battery on the controller", Part: "controller", Unit: "V", Value: n * c.fullCell, Allowed: c.controller.MaxVoltage.Value, Factor: 1,
		Why: "the controller's parts break down at once", Source: "own", Moves: []string{"battery.series"},
	}
	if !c.controller.MaxVoltage.Set {
		full.NotJudged = "no controller.max_voltage is typed"
	}
	dst = append(dst, speed, full, quantity.Limit{
		Name: "full battery to the touch", Part: "battery", Unit: "V", Value: n * c.fullCell, Allowed: touchVoltage, Hazard: true, Factor: 1,
		Why: "above 60 V DC a circuit is hazardous even dry; in water the dry limits do not hold at all", Source: "iec-60364-7-702", Moves: []string{"battery.series"},
	})
	dst = c.typedLimits(c.weakeningLimits(dst, m, at), s, at)
	return c.wiringLimits(c.motorCableLimit(c.magnetLimit(dst, m), m), s, at)
}

// PhaseCurrent returns the phase current in A in the convention of the controller's limit, and what the limit is called.
func (c *Chain) PhaseCurrent(m *MotorState) (current float64, name string) {
	switch c.controller.PhaseCurrentConvention {
	case "rms":
		return m.PhaseCurrentRMS, "phase current, rms"
	case "dc":
		return m.Carried(), "phase current, direct-current equivalent"
	}
	return m.PhaseCurrentPeak, "phase current, peak"
}

// weakeningLimits appends the limits of a controller that weakens the field.
func (c *Chain) weakeningLimits(dst []quantity.Limit, m MotorState, at Temperatures) []quantity.Limit {
	if !c.Weakens() {
		return dst
	}
	free := quantity.Limit{
		Name: "voltage of a motor that runs free", Part: "controller", Unit: "V", Value: c.ConstantAt(m.MagnetTemperature) * at.MotorSpeed, Allowed: c.controller.MaxVoltage.Value, Factor: 1,
		Why: "a controller that loses its hold in weakening gets all the voltage of the magnets, and the motor brakes hard", Source: "own", Moves: []string{"motor.speed_constant", "impeller.head_coefficient"},
	}
	if !c.controller.MaxVoltage.Set {
		free.NotJudged = "no controller.max_voltage is typed"
	}
	return append(dst, quantity.Limit{
		Name: "current against the magnets", Part: "controller", Unit: "A", Value: m.DirectCurrent, Allowed: c.weakening, Factor: 1,
		Why: "with no more of it the voltage does not reach for a higher speed", Source: "own", Moves: []string{"controller.weakening_current", "motor.speed_constant", "battery.series"},
	}, free)
}

// WeakestCell returns the voltage in V of the weakest cell from voltage and current of the pack, V, A.
//
//	V = V_pack/N_s − ΔV − ΔR·I
//
//	ΔV  open-circuit voltage that the weakest group lacks, V   [Battery.ChargeImbalance]
//	ΔR  resistance that it has above the mean, Ω              [Battery.ResistanceImbalance]
//
// Holds where the joints are shared alike; without imbalances typed it is the mean cell.
//
// Source: own. Tests: TestWeakestCellExact.
func (c *Chain) WeakestCell(voltage, current float64) float64 {
	return voltage/float64(c.battery.Series) - c.weakCharge - c.weakOhm*current
}

// typedLimits appends the limits of what only some designs type: capacitors, cable, fuse, weakest
// cells. A design that types none of it is not told that they were not judged.
func (c *Chain) typedLimits(dst []quantity.Limit, s SupplyState, at Temperatures) []quantity.Limit {
	b, k := &c.battery, &c.controller
	if k.CapacitorCurrentLimit.Set {
		dst = append(dst, quantity.Limit{
			Name: "ripple of the input capacitors", Part: "controller", Unit: "A", Value: s.CapacitorRipple, Allowed: k.CapacitorCurrentLimit.Value, Factor: 1,
			Why: "capacitors overheat, dry out and burst", Source: "kolar-2006", Moves: []string{"motor.speed_constant", "battery.series"},
		})
	}
	if k.CapacitorLimit.Set {
		l := quantity.Limit{
			Name: "capacitor temperature", Part: "controller", Unit: "°C", Allowed: k.CapacitorLimit.Value, Zero: at.Water, Factor: 1,
			Why: "every 10 K halve a capacitor's life; too hot it bursts", Source: "memory", Moves: []string{"controller.capacitor_resistance", "controller.capacitor_to_air", "motor.speed_constant"},
		}
		if l.Allowed <= l.Zero {
			l.Zero = 0
		}
		core, _, ok := c.CapacitorCoreAt(s.CapacitorRipple, at.Bridge)
		switch {
		case ok:
			l.Value = core
		case !k.CapacitorResistance.Set:
			l.NotJudged = "no controller.capacitor_resistance is typed"
		default:
			l.NotJudged = "no controller.capacitor_to_air is typed"
		}
		dst = append(dst, l)
	}
	if t, ok := c.CableTemperature(s.BatteryCurrent); ok {
		l := quantity.Limit{
			Name: "battery cable", Part: "battery", Unit: "°C", Value: t, Allowed: b.CableLimit.Value, Zero: c.cableAir, Factor: 1,
			Why: "insulation melts, and a short battery burns", Source: "own", Moves: []string{"battery.cable_area"},
		}
		if !b.CableLimit.Set {
			l.NotJudged = "no battery.cable_limit is typed"
		} else if l.Allowed <= l.Zero {
			l.Zero = 0
		}
		dst = append(dst, l)
	}
	if b.FuseRating.Set {
		dst = append(dst, quantity.Limit{
			Name: "current through the fuse", Part: "battery", Unit: "A", Value: s.BatteryCurrent, Allowed: FuseLasting(b.FuseRating.Value), Factor: 1,
			Why: "the fuse ages and opens in mid-run; it lasts at three quarters of its rating", Source: "memory", Moves: []string{"battery.fuse_rating", "battery.series"},
		})
	}
	if b.ChargeImbalance.Set || b.ResistanceImbalance.Set {
		n := float64(b.Series)
		rest := c.openCircuit/n - c.weakCharge
		l := quantity.Limit{
			Name: "weakest cell under load", Part: "battery", Unit: "V", Sense: quantity.AtLeast, Value: c.WeakestCell(s.BatteryVoltage, s.BatteryCurrent), Allowed: b.CutOff, Zero: rest, Factor: 1,
			Why: "the cell monitor cuts off at its weakest group, long before the pack's voltage shows it", Source: "own", Moves: []string{"battery.charge", "battery.parallel", "battery.cell_resistance"},
		}
		if rest <= b.CutOff {
			l.Zero = c.fullCell
		}
		dst = append(dst, l)
	}
	return dst
}

// Temperatures and speed that the limits need from the rest of the drive.
type Temperatures struct {
	Water, Bridge float64 // K
	MotorSpeed    float64 // rad/s
}
