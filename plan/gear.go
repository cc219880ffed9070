package plan

import (
	"fmt"
	"math"
)

// tetherStretch is a low-stretch rope's elongation at its breaking load, at its stiff end, since a stiff
// tether stops harder; 3 to 15 %, recalled (low).
const tetherStretch = 0.03

// tetherFactor is the tether's breaking load over the force that it stops with: knots take half, and a
// factor of 2 on what is left.
const tetherFactor = 4

// TetherForce returns the force in N in a second tether when the first rope has parted and the thrust
// runs the carriage out to the end of the slack.
//
//	F = T + √(T² + 2·k·T·s),  k = F_b/(e·L)
//
//	T    thrust, N; it goes on
//	s    slack, m                                             [Stand.TetherSlack]
//	k    stiffness of the tether, N/m
//	F_b  its breaking load, N                                 [Stand.TetherStrength]
//	L    its length, m                                        [Stand.TetherLength]
//	e    elongation at the breaking load, 0.03 at the stiff end
//
// Derivation: the work T·(s + F/k) of the thrust over slack and stretch ends in the tether's ½F²/k.
//
// Holds for a straight force-elongation line and fixed points that do not give; without slack it is 2T.
//
// Source: own. Tests: TestTetherByHand, TestTetherLaw.
func TetherForce(thrust, slack, strength, length float64) float64 {
	k := strength / (tetherStretch * length)
	return thrust + math.Sqrt(thrust*thrust+2*k*thrust*slack)
}

// Balance returns the specific unbalance in m (the same figure in kg·m per kg) that a balance grade
// allows at a rotor speed.
//
//	e = G/Ω
//
//	G  balance grade as a velocity, m/s: 6.3 mm/s for pump impellers
//	Ω  rotor speed, rad/s
//
// Holds for rigid rotors.
//
// Source: iso-21940-11. Tests: TestBalancePublished.
func Balance(grade, rotorSpeed float64) float64 { return grade / rotorSpeed }

// GuardRow is a row of the safety distances through an opening.
type GuardRow struct {
	Opening float64 // largest dimension that decides, m
	Slot    float64 // safety distance through a slot, m
	Square  float64
	Round   float64
}

// GuardTable is table 4 of ISO 13857 for people of 14 years and above, reach through regular openings.
// Slots up to 30 mm wide and not longer than 65 mm need 200 mm only. SEEN in a consultant's copy of the
// table; above 40 mm all need 850 mm.
var GuardTable = []GuardRow{
	{0.004, 0.002, 0.002, 0.002},
	{0.006, 0.010, 0.005, 0.005},
	{0.008, 0.020, 0.015, 0.005},
	{0.010, 0.080, 0.025, 0.020},
	{0.012, 0.100, 0.080, 0.080},
	{0.020, 0.120, 0.120, 0.120},
	{0.030, 0.850, 0.120, 0.120},
	{0.040, 0.850, 0.200, 0.120},
	{0.120, 0.850, 0.850, 0.850},
}

// GuardDistance returns how far in m a slot must be from what moves behind it, and false for a slot
// through which more than an arm goes.
func GuardDistance(slot float64) (float64, bool) {
	for _, r := range GuardTable {
		if slot <= r.Opening {
			return r.Slot, true
		}
	}
	return 0, false
}

// Divisions of the display that a change of pull must have to be read to a tenth of itself, and to be
// seen at all; our own.
const (
	divisionsFine   = 10
	divisionsCoarse = 4
)

// Resolution says how many divisions of the display a change of pull has.
//
//	n = ΔF/d
//
//	ΔF  change of pull from step to step, N
//	d   division of the display, N            [Stand.ScaleDivision]
//
// From ten on a step is read to a tenth of itself, from four on it is seen. Holds for a display that
// does not jump.
//
// Source: own. Tests: TestResolutionExact.
func Resolution(change, division float64) (n float64, word string) {
	n = math.Abs(change) / division
	switch {
	case n >= divisionsFine:
		return n, "resolved"
	case n >= divisionsCoarse:
		return n, "coarse"
	}
	return n, "not resolved"
}

// StopAt returns where to stop on the way to a limit.
//
//	x = z + 0.9·(a − z)
//
//	z  figure at which nothing is used up
//	a  the limit
//
// Holds for limits on either side. A tenth is kept for the time that a hand takes.
//
// Source: own. Tests: TestStopAtExact.
func StopAt(zero, allowed float64) float64 { return zero + stopShare*(allowed-zero) }

// stopShare is the share of the way to a limit at which to stop.
const stopShare = 0.9

// guardWords words the safety distances for a builder.
func guardWords() string {
	mm := func(x float64) string { return fmt.Sprintf("%.0f mm", 1e3*x) }
	row := func(i int) string {
		return fmt.Sprintf("slots up to %s at least %s from what moves", mm(GuardTable[i].Opening), mm(GuardTable[i].Slot))
	}
	return row(2) + ", " + fmt.Sprintf("up to %s %s, up to %s %s, wider ones up to %s %s", mm(GuardTable[4].Opening), mm(GuardTable[4].Slot),
		mm(GuardTable[5].Opening), mm(GuardTable[5].Slot), mm(GuardTable[8].Opening), mm(GuardTable[8].Slot))
}
