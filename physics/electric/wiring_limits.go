package electric

import (
	"math"

	"jetwright/quantity"
)

// prechargeLeft is the share of the battery's voltage that may be left when the main switch closes.
const prechargeLeft = 0.05

// ShortCircuit returns the current in A of a battery whose cable is shorted at the controller.
//
//	I = V_oc/(R_pack + R_wiring)
//
//	V_oc  open-circuit voltage of the pack, V
//	R     resistance of pack and wiring, cold, Ω
//
// Holds in the first milliseconds, before cells and cable warm; a short at the pack's terminals gives more.
//
// Source: own. Tests: TestShortCircuitExact.
func (c *Chain) ShortCircuit() float64 { return c.openCircuit / (c.packOhms + c.wiring) }

// FuseCurve returns how long a fuse takes to melt at a current over its rating, in s, by points of its curve.
//
//	straight between points in logarithms; beyond the last t = t_n·(x_n/x)²
//
//	x  current over the rating, -   [Battery.FuseLoads]
//	t  time, s                      [Battery.FuseTimes]
//
// Holds between the points; beyond the last the wire melts before heat leaves it. ok is false below the first: the
// curve does not say that it melts.
//
// Source: memory. Tests: TestFuseCurveExact.
func FuseCurve(loads, times []float64, load float64) (time float64, ok bool) {
	n := len(loads)
	if n == 0 || len(times) != n || load < loads[0] {
		return 0, false
	}
	for i := range n - 1 {
		if load < loads[i+1] {
			u := math.Log(load/loads[i]) / math.Log(loads[i+1]/loads[i])
			return times[i] * math.Pow(times[i+1]/times[i], u), true
		}
	}
	x := loads[n-1] / load
	return times[n-1] * x * x, true
}

// FuseMelts returns how long the battery's fuse takes to melt at a current in A, in s: by its curve, or at more than ten
// times its rating by its melting integral; ok is false where neither says.
//
//	t = FuseCurve(I/I_n), or (I²t)/I² by FuseTime
//
//	I_n   rating, A                  [Battery.FuseRating]
//	I²t   melting integral, A²·s     [Battery.FuseMelting]
//
// Holds as the two do; where both say, the longer counts.
//
// Source: memory. Tests: TestFuseCurveExact.
func (b *Battery) FuseMelts(current float64) (time float64, ok bool) {
	if !b.FuseRating.Set {
		return 0, false
	}
	load := current / b.FuseRating.Value
	time, ok = FuseCurve(b.FuseLoads, b.FuseTimes, load)
	if b.FuseMelting.Set && load >= 10 {
		time, ok = math.Max(time, FuseTime(b.FuseMelting.Value, current)), true
	}
	return time, ok
}

// PreCharge returns the pre-charge of the full battery; ok is false where capacitance or resistor are not typed.
func (c *Chain) PreCharge() (p PreCharge, ok bool) {
	k := &c.controller
	return PreCharge{
		Voltage: float64(c.battery.Series) * c.fullCell, Capacitance: k.Capacitance.Value,
		Resistance: k.PrechargeResistance.Value, Load: k.PrechargeLoad.Or(0),
	}, k.Capacitance.Set && k.PrechargeResistance.Set
}

// Left returns the voltage in V that stands across the main switch a time in s after the pre-charge began.
//
//	V − V_∞·[1 − e^(−t/(R·C))],  V_∞ = V − R·I_L
//
//	V, C, R, I_L  voltage, capacitance, resistor and load   [PreCharge]
//
// Holds as PreCharge.Charge does.
//
// Source: memory. Tests: TestPreChargeInChainExact.
func (p PreCharge) Left(time float64) float64 {
	return p.Voltage + (p.Voltage-p.Resistance*p.Load)*math.Expm1(-time/(p.Resistance*p.Capacitance))
}

// Inrush returns the peak current in A into the input capacitors of the full battery when it is connected: at once,
// or by the main switch after the pre-charge; ok is false where no capacitance is typed.
//
//	Î = InrushCurrent(V, C, L, R), or V/R without a typed inductance
//
//	V  full battery, or what the pre-charge leaves: 5 % of it where no time is typed, V
//	R  pack, wiring, and the capacitors' own resistance where typed, Ω
//	L  inductance of the loop, H   [Battery.LoopInductance]
//
// Holds as InrushCurrent does; contacts that spark and bounce add to it.
//
// Source: memory. Tests: TestPreChargeInChainExact.
func (c *Chain) Inrush() (peak float64, ok bool) {
	k := &c.controller
	if !k.Capacitance.Set {
		return 0, false
	}
	v := float64(c.battery.Series) * c.fullCell
	if p, ok := c.PreCharge(); ok {
		left := prechargeLeft * v
		if k.PrechargeTime.Set {
			left = p.Left(k.PrechargeTime.Value)
		}
		v = left
	}
	return c.inrushOf(v), true
}

// Unheld returns the peak current in A into the input capacitors of the full battery without a pre-charge.
//
//	Î as Inrush, at the full battery's voltage
//
//	Î  current, A
//
// Holds as Inrush does.
//
// Source: memory. Tests: TestPreChargeInChainExact.
func (c *Chain) Unheld() float64 { return c.inrushOf(float64(c.battery.Series) * c.fullCell) }

func (c *Chain) inrushOf(voltage float64) float64 {
	r := c.packOhms + c.wiring + c.controller.CapacitorResistance.Or(0)
	if l := c.battery.LoopInductance; l.Set {
		return InrushCurrent(voltage, c.controller.Capacitance.Value, l.Value, r)
	}
	return voltage / r
}

// CapacitorCoreAt returns the temperature of the input capacitors' cores in K at a ripple and with the bridge at a
// temperature in K, and their surroundings'; ok is false where resistance or way of the heat are not typed.
//
//	t = CapacitorCore(t_s, I_C, ESR, R)
//
//	t_s  surroundings; the bridge where none are typed, K   [Controller.CapacitorSurroundings]
//
// Holds as CapacitorCore does.
//
// Source: memory. Tests: TestCapacitorCoreExact.
func (c *Chain) CapacitorCoreAt(ripple, bridge float64) (core, surroundings float64, ok bool) {
	k := &c.controller
	surroundings = k.CapacitorSurroundings.Or(bridge)
	if !k.CapacitorResistance.Set || !k.CapacitorToAir.Set {
		return 0, surroundings, false
	}
	return CapacitorCore(surroundings, ripple, k.CapacitorResistance.Value, k.CapacitorToAir.Value), surroundings, true
}

// CapacitorLasts returns how long the input capacitors last at a core temperature in K, in s; ok is false where their life
// or the temperature that it holds at is not typed.
//
//	L = CapacitorLife(L₀, t₀, t)
//
//	L₀, t₀  life at its temperature, by their maker   [Controller.CapacitorLife, Controller.CapacitorLimit]
//
// Holds as CapacitorLife does.
//
// Source: memory. Tests: TestCapacitorLifeExact.
func (c *Chain) CapacitorLasts(core float64) (life float64, ok bool) {
	k := &c.controller
	if !k.CapacitorLife.Set || !k.CapacitorLimit.Set {
		return 0, false
	}
	return CapacitorLife(k.CapacitorLife.Value, k.CapacitorLimit.Value, core), true
}

// MotorCable returns the steady temperature in K of the conductor of a cable between controller and motor at a phase current
// in A rms, and the current at which it settles at its limit, 0 without one; ok is false where no area is typed.
//
//	t = Cable.Temperature(I),  I_max = Cable.Ampacity()
//
//	I  phase current, rms, A
//
// Holds as Cable.Temperature does, for three cables that do not touch; skin effect is left out.
//
// Source: own, abyc-e11. Tests: TestMotorCableExact.
func (c *Chain) MotorCable(phase float64) (temperature, ampacity float64, ok bool) {
	m := &c.motor
	if !m.CableArea.Set {
		return 0, 0, false
	}
	cable := NewCable(m.CableArea.Value, 1, m.CableSurroundings.Or(c.battery.Temperature), m.CableLimit.Or(cableBound))
	temperature, _ = cable.Temperature(phase)
	if m.CableLimit.Set {
		ampacity = cable.Ampacity()
	}
	return temperature, ampacity, true
}

// motorCableLimit appends the limit of the cables between controller and motor, where typed.
func (c *Chain) motorCableLimit(dst []quantity.Limit, m MotorState) []quantity.Limit {
	t, _, ok := c.MotorCable(m.PhaseCurrentRMS)
	if !ok {
		return dst
	}
	l := quantity.Limit{
		Name: "motor cables", Part: "motor", Unit: "°C", Value: t, Allowed: c.motor.CableLimit.Value, Zero: c.motor.CableSurroundings.Or(c.battery.Temperature), Factor: 1,
		Why: "insulation melts, and a short between phases takes the bridge with it", Source: "own", Moves: []string{"motor.cable_area", "motor.speed_constant"},
	}
	if !c.motor.CableLimit.Set {
		l.NotJudged = "no motor.cable_limit is typed"
	} else if l.Allowed <= l.Zero {
		l.Zero = 0
	}
	return append(dst, l)
}

// wiringLimits appends the limits of fuse, connectors, pre-charge and the capacitors' life, where typed.
func (c *Chain) wiringLimits(dst []quantity.Limit, s SupplyState, at Temperatures) []quantity.Limit {
	b, k := &c.battery, &c.controller
	add := func(l quantity.Limit, moves ...string) {
		l.Factor, l.Moves = 1, moves
		dst = append(dst, l)
	}
	if b.ConnectorCurrentLimit.Set {
		add(quantity.Limit{
			Name: "current through the connectors", Part: "battery", Unit: "A", Value: s.BatteryCurrent, Allowed: b.ConnectorCurrentLimit.Value,
			Why: "contacts heat, corrode and melt together or open under load", Source: "own",
		}, "battery.connector_current_limit", "battery.series")
	}
	if b.FuseRating.Set && c.cable.Length > 0 && b.CableLimit.Set {
		add(quantity.Limit{
			Name: "fuse against its cable", Part: "battery", Unit: "A", Value: b.FuseRating.Value, Allowed: c.Ampacity(),
			Why: "a fuse that carries more than the cable lets the cable burn first; local codes go first", Source: "abyc-e11",
		}, "battery.fuse_rating", "battery.cable_area")
	}
	if b.FuseBreaking.Set {
		add(quantity.Limit{
			Name: "short circuit on the fuse", Part: "battery", Unit: "A", Value: c.ShortCircuit(), Allowed: b.FuseBreaking.Value, Hazard: true,
			Why: "a fuse that cannot break the current of a short goes on as an arc, and burns", Source: "own",
		}, "battery.fuse_breaking", "battery.parallel")
	}
	if p, ok := c.PreCharge(); ok {
		if k.PrechargeTime.Set {
			add(quantity.Limit{
				Name: "voltage left by the pre-charge", Part: "controller", Unit: "V", Value: p.Left(k.PrechargeTime.Value), Allowed: prechargeLeft * p.Voltage,
				Why: "the main switch closes on capacitors that are not full: it sparks and welds; common practice is a twentieth", Source: "own",
			}, "controller.precharge_time", "controller.precharge_resistance", "controller.precharge_load")
		}
		if k.PrechargeEnergy.Set {
			add(quantity.Limit{
				Name: "energy in the pre-charge resistor", Part: "controller", Unit: "J", Value: p.Charge(prechargeLeft).Energy, Allowed: k.PrechargeEnergy.Value,
				Why: "the resistor takes as much heat as the capacitors take charge, within a second, and burns open", Source: "memory",
			}, "controller.precharge_energy", "battery.series")
		}
	}
	if b.InrushLimit.Set {
		l := quantity.Limit{
			Name: "inrush of the input capacitors", Part: "battery", Unit: "A", Allowed: b.InrushLimit.Value,
			Why: "the contact sparks, pits and welds when the battery is connected", Source: "memory",
		}
		var ok bool
		if l.Value, ok = c.Inrush(); !ok {
			l.NotJudged = "no controller.capacitance is typed"
		}
		add(l, "controller.precharge_resistance", "battery.inrush_limit")
	}
	if k.CapacitorService.Set {
		l := quantity.Limit{
			Name: "capacitors for the hours they are to last", Part: "controller", Unit: "°C", Zero: at.Water,
			Why: "hotter, capacitors dry out before their time, their resistance rises, and in the end they burst", Source: "memory",
		}
		core, _, ok := c.CapacitorCoreAt(s.CapacitorRipple, at.Bridge)
		switch {
		case !ok:
			l.NotJudged = "no controller.capacitor_resistance or capacitor_to_air is typed"
		case !k.CapacitorLife.Set || !k.CapacitorLimit.Set:
			l.NotJudged = "no controller.capacitor_life or capacitor_limit is typed"
		default:
			l.Value, l.Allowed = core, CapacitorCoreFor(k.CapacitorLife.Value, k.CapacitorLimit.Value, k.CapacitorService.Value)
			if l.Allowed <= l.Zero {
				l.Zero = 0
			}
		}
		add(l, "controller.capacitor_life", "controller.capacitor_resistance", "controller.capacitor_to_air")
	}
	return dst
}

// Magnet returns the motor's magnets as typed, or by their grade; ok is false where remanence, coercivity or permeance is not
// known, or no coefficient of the coercivity.
func (c *Chain) Magnet() (g Magnet, ok bool) {
	m := &c.motor
	g, graded := MagnetNamed(m.MagnetSheet)
	class, known := magnetClasses[m.MagnetMaterial]
	if !graded {
		g.CoercivityCoefficient = class.coercivity
	}
	g.Remanence, g.Coercivity = m.MagnetRemanence.Or(g.Remanence), m.MagnetCoercivity.Or(g.Coercivity)
	g.CoercivityCoefficient = m.CoercivityCoefficient.Or(g.CoercivityCoefficient)
	if c.magnet != 0 || !graded {
		g.RemanenceCoefficient = c.magnet // that of the motor constant
	}
	return g, g.Remanence > 0 && g.Coercivity > 0 && m.Permeance.Set && (known || graded || m.CoercivityCoefficient.Set)
}

// MagnetsLost returns the temperature in K above which the magnets lose strength for good in a state's current; ok is false where
// there is no such temperature, known where their sheet is not typed.
//
//	t = Irreversible(p, B_r·p/[µ₀·(p + 1)]·L·Î/λ)
//
//	p, B_r  permeance coefficient, and remanence, T   [Motor.Permeance, Motor.MagnetRemanence]
//	L·Î/λ   flux of a phase by its current over that of the magnets, -
//
// Holds as Magnet.Irreversible and Magnet.FieldAgainst do.
//
// Source: magnet-table, own. Tests: TestFieldAgainstMagnetExact.
func (c *Chain) MagnetsLost(m MotorState) (temperature float64, ok, known bool) {
	g, known := c.Magnet()
	if !known {
		return 0, false, false
	}
	p := c.motor.Permeance.Value
	winding := g.FieldAgainst(p, copperZero, c.windingShare(m)) - g.FieldAgainst(p, copperZero, 0)
	temperature, ok = g.Irreversible(p, winding)
	return temperature, ok, true
}

// windingShare is the flux of a phase by its current over that of the magnets: 0 where pole pairs or inductance are not typed.
func (c *Chain) windingShare(m MotorState) float64 {
	machine, ok := c.SurfaceMachine(m.WindingTemperature, m.MagnetTemperature)
	if !ok {
		return 0
	}
	return machine.Inductance * m.PhaseCurrentPeak / machine.Flux
}

// magnetLimit appends the limit of what magnets lose for good, where their sheet is typed.
func (c *Chain) magnetLimit(dst []quantity.Limit, m MotorState) []quantity.Limit {
	if !c.motor.MagnetRemanence.Set && !c.motor.MagnetCoercivity.Set && !c.motor.Permeance.Set && c.motor.MagnetSheet == "" {
		return dst
	}
	l := quantity.Limit{
		Name: "field against the magnets", Part: "motor", Unit: "kA/m", Factor: 1,
		Why: "beyond its knee a magnet loses strength for good; the winding's field counts where pole_pairs and phase_inductance are typed", Source: "magnet-table",
		Moves: []string{"motor.magnet_coercivity", "motor.permeance", "motor.winding_to_jacket", "cooling.tap_diameter"},
	}
	g, ok := c.Magnet()
	switch {
	case ok:
		p := c.motor.Permeance.Value
		l.Value, l.Allowed = g.FieldAgainst(p, m.MagnetTemperature, c.windingShare(m)), g.FieldBorne(m.MagnetTemperature)
	case c.motor.MagnetRemanence.Set && c.motor.MagnetCoercivity.Set && c.motor.Permeance.Set:
		l.NotJudged = "no motor.coercivity_coefficient, magnet_sheet or magnet_material is typed"
	default:
		l.NotJudged = "motor.permeance, and magnet_sheet or magnet_remanence and magnet_coercivity, are not all typed"
	}
	return append(dst, l)
}
