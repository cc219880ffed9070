package plan

import (
	"fmt"
	"math"
)

// balanceGrade is G 6.3, usual for pump impellers, m/s.
const balanceGrade = 6.3e-3

// lists writes what is looked at before and after, and what keeps people whole.
func (m *maker) lists() {
	d := m.drive
	gap := "write the four down; the least is not under half of the mean"
	if g := d.Impeller.TipGap; g.Set {
		gap = fmt.Sprintf("drawn %.2f mm; write the four down; none touches when the shaft is pushed aside", 1e3*g.Value)
	}
	rotor := m.Steps[m.Top].Rotor.High
	unbalance := Balance(balanceGrade, rotor)
	m.Before = []Word{
		{"gap", "feeler gauge between blade tip and wall at four positions: " + gap, "own"},
		{"run-out", "dial gauge on shaft and impeller, turned by hand: less than a third of the gap, nothing rubs", "own"},
		{"balance", fmt.Sprintf("impeller on two edges or a balancer: at most %.0f g·mm for each kg of rotor at %.0f rpm (grade G 6.3)", 1e6*unbalance, math.Round(rotor*30/math.Pi)), "iso-21940-11"},
		{"rotation sense", "a touch of the lowest throttle under water with everyone clear: water leaves by the nozzle and the rope comes taut; never in air, where the rotor runs up", "own"},
		{"leak test", "motor and controller boxes under 0.2 bar of air in water for five minutes, no bubbles, no loss", "own"},
		{"insulation", "phases to water and to housing with a 250 V or 500 V tester, the controller unplugged first: above 1 MΩ dry, and again after ten minutes under water", "memory"},
		{"coolant", "seen flowing from its outlet before every step up; no flow, no step", "own"},
		{"kill", "tried by a second person, who then keeps it: at the lowest step the rotor must stop at once; no kill, no day", "own"},
		{"rope", "no nylon; splices rather than knots; the second tether tied, slack, to another fixed point", "cordage-holtzman"},
		{"zero", fmt.Sprintf("%.0f s of logs with nothing pulling, before and after; a known weight on the rope once", m.Dwell.Zero), "own"},
		{"clocks", "all loggers started before the first zero; three sharp pulls on the rope mark all of them", "own"},
		{"water", "temperature, level mark, where the stand stands and which parts ran: into run.toml; what was measured of this list, and who tried the kill, under its [before]", "own"},
	}
	m.After = []Word{
		{"every step", "hold; read; say the next power aloud; step up only when pull, speed and temperatures stand still, coolant flows, and the coefficients are within 3 % of the steps below", "own"},
		{"down", "the same powers again, slower to judge than up: the difference is the carriage's friction", "own"},
		{"off", "back to nothing, zero window, battery unplugged before anyone reaches in; the controller's capacitors hold their charge", "own"},
		{"logs", "adopt them the same day: jetwright run add, jetwright reduce, jetwright reckon", "own"},
	}
	full := d.Battery.FullVoltage()
	touch := fmt.Sprintf("a full pack of %.0f V is low only for dry hands on dry ground; near water that does not count: no joints under water, residual-current device on everything that hangs on the mains, chargers away from the tub", full)
	if full > 60 {
		touch = fmt.Sprintf("a full pack of %.0f V is hazardous even dry (above 60 V DC), and near water no dry limit counts: no joints under water, residual-current device on everything that hangs on the mains, chargers away from the tub", full)
	}
	m.Safety = []Word{
		{"first of all", "local codes and licensed practice go before anything printed here; this is arithmetic on what was typed, no permission", "own"},
		{"people", "nobody in the water, and nobody within reach of intake or jet while armed; say armed and safe aloud; two people, one with nothing to do but the kill", "own"},
		{"intake and rotor", "hair tied and covered, no cords, scarves, gloves, straps or loose sleeves near shaft and intake: no grid keeps hair out", "iso-13857"},
		{"guards", "after ISO 13857 (14 years and above): " + guardWords(), "iso-13857"},
		{"rope and scale", "neither may fly: nobody in line with the rope or in its bight, on both sides; scale tethered on its own; a rope that parts whips back nearly its whole length", "west-pi-sa015"},
		{"lithium", "pack where it may burn, outdoors and dry, off the stand; water and distance ready, people upwind; a pack that was wet, hit or hot is out of use and may catch fire hours later", "memory"},
		{"current near water", touch, "iec-60364-7-702"},
		{"temperatures", "infrared only on matt tape: bare metal shows what it reflects", "own"},
		{"noise and jet", "ears covered where one must shout; the jet lifts what lies in the tub: clear it first", "own"},
	}
}
