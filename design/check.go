package design

import (
	"fmt"

	"jetwright/notice"
	"jetwright/quantity"
)

// check holds numbers against each other: what is impossible is an error, what is merely
// unlike any drive of this kind a warning.
func (d *Design) check() notice.List {
	var l notice.List
	say := func(kind notice.Kind, path, what, allowed, out string) {
		n := notice.Notice{Kind: kind, Path: path, What: what, Allowed: allowed, WayOut: out, Place: d.placeOf(path)}
		n.Excerpt = d.excerptOf(path)
		l = append(l, n)
	}
	fail := func(path, what, allowed, out string) { say(notice.Error, path, what, allowed, out) }
	n := d.nominal
	mm := func(x float64) string { return show(x, quantity.MustUnit("mm")) }
	// A check speaks only where the numbers that it compares could be read; the rest of what is
	// wrong is said at the same time.
	hub, tip, bore := d.known("impeller.hub_diameter"), d.known("impeller.diameter"), d.known("nozzle.diameter")
	if hub && tip && n.Impeller.HubDiameter >= n.Impeller.Diameter {
		fail("impeller.hub_diameter", fmt.Sprintf("the hub of %s is not smaller than the impeller of %s", mm(n.Impeller.HubDiameter), mm(n.Impeller.Diameter)),
			"hub_diameter is usually 0.3 to 0.6 of diameter", "")
	}
	outlet := n.Stator.OuterDiameter.Or(n.Impeller.Diameter)
	if bore && (tip || n.Stator.OuterDiameter.Set) && n.Nozzle.Diameter >= outlet {
		fail("nozzle.diameter", fmt.Sprintf("the nozzle of %s is not smaller than the pump's outlet of %s", mm(n.Nozzle.Diameter), mm(outlet)),
			"a nozzle is usually 0.5 to 0.8 of the pump's outlet", "")
	}
	if hub && n.Stator.OuterDiameter.Set && n.Stator.OuterDiameter.Value <= n.Impeller.HubDiameter {
		fail("stator.outer_diameter", fmt.Sprintf("the stator's outer diameter of %s is not larger than the hub of %s", mm(n.Stator.OuterDiameter.Value), mm(n.Impeller.HubDiameter)), "", "")
	}
	if g := n.Impeller.TipGap; !hub || !tip {
		// nothing to hold the gap against
	} else if g.Set && g.Value >= 0.5*(n.Impeller.Diameter-n.Impeller.HubDiameter) {
		fail("impeller.tip_gap", fmt.Sprintf("the tip gap of %s leaves no blade", mm(g.Value)), "", "")
	} else if g.Set && g.Value > 0.03*n.Impeller.Diameter {
		say(notice.Warning, "impeller.tip_gap", fmt.Sprintf("the tip gap of %s is more than 3 %% of the impeller", mm(g.Value)), "the assumed efficiencies hold for gaps of 1 to 3 % of the blade height", "")
	}
	d.checkPair("intake.grid_bar", "intake.grid_gap", "a grid takes both", say)
	d.checkDuty(fail)
	d.checkMotor(say)
	d.checkNoLoad(say)
	d.checkBattery(say)
	d.checkTable(fail)
	d.checkThermal(fail, say)
	d.checkCoolant(say)
	d.checkBlades(say)
	d.checkCraft(say)
	d.checkStrength(say)
	for _, f := range Schema().Fields() {
		v, ok := d.values[f.Path]
		if !ok || f.Usual == nil || v.Origin().Kind == quantity.Assumed {
			continue
		}
		if v.Nominal() < f.Usual.Low || v.Nominal() > f.Usual.High {
			say(notice.Warning, f.Path, fmt.Sprintf("%s is %s", f.Path, v.String()),
				fmt.Sprintf("usual is %s .. %s", show(f.Usual.Low, f.Unit), show(f.Usual.High, f.Unit)), "look at the unit")
		}
	}
	return l
}

// known tells that a number could be read, or is assumed.
func (d *Design) known(path string) bool {
	_, ok := d.values[path]
	return ok
}

func (d *Design) checkDuty(fail func(path, what, allowed, out string)) {
	duty := d.nominal.Duty
	switch {
	case duty.Thrust.Set && duty.Power.Set:
		fail("duty.power", "the duty gives a thrust and a power", "one of them is the design point and the other follows", "keep one; what you expect of the other is a [[claim]]")
	case !duty.Thrust.Set && !duty.Power.Set && !d.typed.tried["duty.thrust"] && !d.typed.tried["duty.power"]:
		fail("duty.thrust", "the duty gives neither thrust nor power", "", `type thrust = "… N", or power = "… W" with power_place, under [duty]`)
	}
	if d.typed.tried["duty.power"] && !d.typed.tried["duty.power_place"] {
		fail("duty.power", "the duty's power does not say its place", "power at the battery, the controller's output and the shaft are three figures", `type power_place = "battery", "controller" or "shaft"`)
	}
}

func (d *Design) checkMotor(say func(kind notice.Kind, path, what, allowed, out string)) {
	m := d.nominal.Motor
	if !m.SpeedConstant.Set && !m.TorqueConstant.Set {
		if d.typed.tried["motor.speed_constant"] || d.typed.tried["motor.torque_constant"] {
			return
		}
		say(notice.Error, "motor.speed_constant", "the motor has no constant", "", `type speed_constant = "… rpm/V", or torque_constant = "… N·m/A" with torque_convention`)
		return
	}
	between := m.WindingResistance
	if m.ResistanceBetween == "phase" {
		between *= 2
	}
	if drop := m.NoLoadCurrent * between; len(m.NoLoadVoltages) == 0 && d.known("motor.winding_resistance") && m.NoLoadVoltage <= drop {
		say(notice.Error, "motor.no_load_voltage", fmt.Sprintf("the no-load voltage does not cover the no-load current times the winding resistance, %.3g V", drop),
			"a motor without load runs at nearly all of its voltage", "look at the units of no_load_current and winding_resistance")
	}
	if m.SpeedConstant.Set && m.TorqueConstant.Set {
		if r := m.ConstantRatio(); r < 0.95 || r > 1.05 {
			say(notice.Warning, "motor.torque_constant", fmt.Sprintf("the typed torque constant is %.2f of what the speed constant gives in the %q convention", r, m.TorqueConvention),
				"they agree within 5 % where the convention is right", "look at torque_convention: dc, peak or rms")
		}
	}
}

// checkNoLoad holds the lists of no-load points against each other, and says what they cannot tell.
func (d *Design) checkNoLoad(say func(kind notice.Kind, path, what, allowed, out string)) {
	m := d.nominal.Motor
	n := len(m.NoLoadVoltages)
	d.checkPair("motor.pole_pairs", "motor.phase_inductance", "the reactive voltage takes both", say)
	if k := d.nominal.Controller; k.WeakeningCurrent.Set {
		const path = "controller.weakening_current"
		switch {
		case k.Commutation == "six-step":
			say(notice.Warning, path, path+" is not used: the phases are driven six-step", "flat tops cannot weaken the field here", `type commutation = "sinusoidal" if the controller makes sines, or leave it out`)
		case !m.PolePairs.Set || !m.PhaseInductance.Set:
			say(notice.Warning, path, path+" is not used: motor.pole_pairs or motor.phase_inductance is not typed", "what a current against the magnets takes off the voltage hangs on both", "type both")
		}
	}
	if m.WetGap.Set && !(m.RotorDiameter.Set && m.RotorLength.Set) {
		say(notice.Warning, "motor.wet_gap", "the wet gap is not used: rotor_diameter or rotor_length is not typed", "its drag takes all three", "type both")
	}
	if n+len(m.NoLoadCurrents)+len(m.NoLoadSpeeds) == 0 {
		return
	}
	switch {
	case n == 0:
		say(notice.Error, "motor.no_load_voltages", "the no-load points have no voltages", "one voltage, one current and, if measured, one speed for each point", `type no_load_voltages = ["… V", "… V"]`)
	case len(m.NoLoadCurrents) != n:
		say(notice.Error, "motor.no_load_currents", fmt.Sprintf("%d no-load currents for %d voltages", len(m.NoLoadCurrents), n), "one for each point", "")
	case len(m.NoLoadSpeeds) != 0 && len(m.NoLoadSpeeds) != n:
		say(notice.Error, "motor.no_load_speeds", fmt.Sprintf("%d no-load speeds for %d voltages", len(m.NoLoadSpeeds), n), "one for each point, or none", "")
	case d.known("motor.winding_resistance") && (m.SpeedConstant.Set || m.TorqueConstant.Set):
		split, err := m.NoLoadSplit()
		if err != nil {
			say(notice.Error, "motor.no_load_voltages", "the no-load points cannot be used: "+err.Error(), "two or more points at different speeds, each with more voltage than its current takes through the winding", "look at the units")
		} else if split.Residual > 0.1 {
			say(notice.Warning, "motor.no_load_currents", fmt.Sprintf("the no-load points lie %.0f %% off a loss of speed, its square and its cube", 100*split.Residual), "points of one motor lie within a few per cent", "look for a reading at another temperature, or before the bearings ran in")
		} else if split.Told != "" {
			say(notice.Remark, "motor.no_load_voltages", split.Told, "beyond the fastest point the loss goes on as the parts that were told", "a point at another speed tells more")
		}
	}
	for _, path := range []string{"motor.no_load_current", "motor.no_load_voltage", "motor.linear_share"} {
		if d.typed.tried[path] {
			say(notice.Warning, path, path+" is not used", "the no-load points go before it", "leave it out, or add it to the points")
		}
	}
}

// checkPair warns where one of two numbers that work together is typed alone.
func (d *Design) checkPair(a, b, why string, say func(kind notice.Kind, path, what, allowed, out string)) {
	for _, p := range [][2]string{{a, b}, {b, a}} {
		if d.typed.Has(p[0]) && !d.typed.tried[p[1]] {
			say(notice.Warning, p[0], p[0]+" is not used: "+p[1]+" is not typed", why, "type "+p[1]+" as well")
		}
	}
}

// checkBattery holds the battery's tables and its cable against each other.
func (d *Design) checkBattery(say func(kind notice.Kind, path, what, allowed, out string)) {
	b := d.nominal.Battery
	table := func(x, y []float64, xPath, yPath string, rising bool) {
		switch {
		case len(x)+len(y) == 0:
		case len(x) != len(y):
			say(notice.Error, yPath, fmt.Sprintf("%s has %d values, %s has %d", yPath, len(y), xPath, len(x)), "one for each", "")
		case len(x) < 2:
			say(notice.Error, xPath, fmt.Sprintf("%s has %d value", xPath, len(x)), "it takes two or more, rising", "")
		default:
			for i := range x[1:] {
				if x[i+1] <= x[i] {
					say(notice.Error, xPath, fmt.Sprintf("value %d of %s is not larger than the one before it", i+2, xPath), "they rise", "")
				}
				if rising && y[i+1] <= y[i] {
					say(notice.Error, yPath, fmt.Sprintf("value %d of %s is not larger than the one before it", i+2, yPath), "voltage rises with charge", "")
				}
			}
		}
	}
	table(b.OpenCircuitCharges, b.OpenCircuitVoltages, "battery.open_circuit_charges", "battery.open_circuit_voltages", true)
	table(b.ResistanceTemperatures, b.TemperatureFactors, "battery.resistance_temperatures", "battery.temperature_factors", false)
	table(b.ResistanceCharges, b.ChargeFactors, "battery.resistance_charges", "battery.charge_factors", false)
	if d.typed.tried["controller.on_resistance_temperature"] {
		d.checkPair("controller.on_resistance_temperature", "controller.on_resistance_coefficient", "without a coefficient the resistance does not change", say)
	}
	for _, k := range []string{"fast", "slow"} {
		d.checkPair("battery.relaxation_"+k+"_share", "battery.relaxation_"+k+"_time", "a share of the resistance comes up with its time constant", say)
	}
	if r := b.Relaxation(); r.FastShare+r.SlowShare > 0.95 {
		say(notice.Error, "battery.relaxation_slow_share", fmt.Sprintf("both shares of the relaxation make %.3g of the cell's resistance", r.FastShare+r.SlowShare), "what is left comes up at once: usually 0.4 to 0.8", "")
	}
	curve := func(x, y []float64, xPath, yPath string) {
		switch {
		case d.typed.tried[xPath] != d.typed.Has(xPath) || d.typed.tried[yPath] != d.typed.Has(yPath): // said already
		case len(x) != len(y):
			say(notice.Error, yPath, fmt.Sprintf("%s has %d values, %s has %d", yPath, len(y), xPath, len(x)), "one for each", "")
		default:
			for i := 1; i < len(x); i++ {
				if x[i] <= x[i-1] || y[i] >= y[i-1] {
					say(notice.Error, xPath, fmt.Sprintf("point %d of the fuse's curve does not follow the one before it", i+1), "currents rise, and times fall", "look at the sheet's curve")
				}
			}
		}
	}
	curve(b.FuseLoads, b.FuseTimes, "battery.fuse_loads", "battery.fuse_times")
	for _, path := range []string{"battery.fuse_loads", "battery.fuse_melting"} {
		if d.typed.Has(path) && !b.FuseRating.Set && !d.typed.tried["battery.fuse_rating"] {
			say(notice.Warning, path, path+" is not used: battery.fuse_rating is not typed", "the curve is over the rating", "type fuse_rating")
		}
	}
	for _, path := range []string{"precharge_resistance", "precharge_time", "precharge_energy", "precharge_load", "bleed_resistance"} {
		of, lacks := "controller."+path, ""
		switch {
		case !d.typed.Has(of):
		case !d.nominal.Controller.Capacitance.Set:
			lacks = "controller.capacitance"
		case !d.nominal.Controller.PrechargeResistance.Set && path != "bleed_resistance":
			lacks = "controller.precharge_resistance"
		}
		if lacks != "" && !d.typed.tried[lacks] {
			say(notice.Warning, of, of+" is not used: "+lacks+" is not typed", "what charges and empties the input capacitors takes both", "type "+lacks)
		}
	}
	if m := d.nominal.Motor; m.MagnetMaterial != "" && m.MagnetMaterial != "neodymium" && d.typed.tried["motor.magnet_grade"] {
		say(notice.Warning, "motor.magnet_grade", "motor.magnet_grade is not used: the magnets are "+m.MagnetMaterial, "suffixes are those of neodymium", "type limits.magnet_temperature by their sheet")
	}
	d.checkPair("battery.cable_area", "battery.cable_length", "a cable takes both", say)
	if b.CableArea.Set && b.CableLength.Set && d.typed.tried["battery.wiring_resistance"] {
		say(notice.Warning, "battery.wiring_resistance", "battery.wiring_resistance is not used", "cable_area and cable_length go before it", "type connectors and fuse as connector_resistance, and leave it out")
	}
	if d.typed.tried["battery.connector_resistance"] && !b.CableArea.Set {
		say(notice.Warning, "battery.connector_resistance", "battery.connector_resistance is not used: no cable_area is typed", "wiring_resistance holds connectors and fuse where no cable is typed", "")
	}
	for _, p := range [][2]string{{"battery.resistance_temperatures", "battery.cold_factor"}, {"battery.resistance_charges", "battery.low_charge_factor"}} {
		if d.typed.tried[p[0]] && d.typed.tried[p[1]] {
			say(notice.Warning, p[1], p[1]+" is not used", p[0]+" goes before it", "keep one of the two")
		}
	}
}

func (d *Design) checkTable(fail func(path, what, allowed, out string)) {
	im := d.nominal.Impeller
	if im.Grade != "table" {
		return
	}
	n := len(im.TableFlow)
	if n < 3 {
		fail("impeller.table_flow", fmt.Sprintf("the pump table has %d flows", n), "it takes three or more, rising", `type table_flow = ["… L/s", …], table_head, table_power and table_rotor_speed`)
		return
	}
	for _, c := range []struct {
		path string
		n    int
	}{{"impeller.table_head", len(im.TableHead)}, {"impeller.table_power", len(im.TablePower)}} {
		if c.n != n {
			fail(c.path, fmt.Sprintf("%s has %d values, table_flow has %d", c.path, c.n, n), "one for each flow", "")
		}
	}
	for i := 1; i < n; i++ {
		if im.TableFlow[i] <= im.TableFlow[i-1] {
			fail("impeller.table_flow", fmt.Sprintf("flow %d of the pump table is not larger than the one before it", i+1), "flows rise", "")
		}
	}
	if !im.TableRotorSpeed.Set {
		fail("impeller.table_rotor_speed", "the pump table has no rotor speed", "", `type table_rotor_speed = "… rpm"`)
	}
}

// placeOf returns where a path stands in the text: as built, as typed, or its section, or the top.
func (d *Design) placeOf(path string) quantity.Place {
	if c, ok := d.built.cells[path]; ok {
		return c.place
	}
	if c, ok := d.typed.cells[path]; ok {
		return c.place
	}
	if e, ok := d.section(path); ok {
		return e.Place
	}
	if f, ok := Schema().Lookup(path); ok {
		for _, e := range d.doc.Entries() {
			if e.Kind == TableHeader && e.Path == f.Section {
				return e.Place
			}
		}
	}
	return quantity.Place{File: d.doc.Name(), Line: 1, Column: 1}
}

func (d *Design) excerptOf(path string) string {
	if c, ok := d.built.cells[path]; ok {
		return c.excerpt
	}
	if c, ok := d.typed.cells[path]; ok {
		return c.excerpt
	}
	if e, ok := d.section(path); ok {
		return e.Excerpt
	}
	return ""
}
