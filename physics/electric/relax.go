package electric

import "math"

// Relaxed is what a cell holds back behind its two slow resistances, V: nothing after a long rest.
type Relaxed struct{ Fast, Slow float64 }

// Relaxing tells whether the battery's cells relax: a share with its time constant is typed.
func (c *Chain) Relaxing() bool { return c.relax.FastShare > 0 || c.relax.SlowShare > 0 }

// Relax puts the battery into a state on the way: of its resistance only what comes at once counts with the
// current, and its open-circuit voltage is lower by what the cells hold back. Recharge takes it away again.
//
//	V_s = V_oc − N_s·(U_a + U_b),  R_0 = (1 − a − b)·R
//
//	U_a, U_b  held back by a cell, V
//	a, b      shares of the resistance   [Battery.RelaxationFastShare, Battery.RelaxationSlowShare]
//
// Holds as Relaxation.Share does; a steady state has the whole resistance and nothing held back.
//
// Source: cell-2025, memory. Tests: TestRelaxExact.
func (c *Chain) Relax(u Relaxed) {
	b := &c.battery
	later := c.relax.FastShare + c.relax.SlowShare
	c.packOhms -= later * (c.packOhms - b.JointResistance)
	c.weakOhm -= later * c.weakOhm
	held := u.Fast + u.Slow
	c.openCircuit -= float64(b.Series) * held
	c.weakCharge += b.ResistanceImbalance.Or(0) * held
}

// Relaxation returns what a cell holds back a time in s after it held u back, with the pack's current in A in
// a straight line from one value to another.
//
//	dU/dt = (I_cell·r − U)/τ,  I_cell = I_0 + (I_1 − I_0)·t/T
//	U(T) = r·I_1 + (U(0) − r·I_0)·e^(−T/τ) − r·(I_1 − I_0)·(τ/T)·(1 − e^(−T/τ))
//
//	r  share of the cell's resistance at its charge and temperature, Ω
//	τ  time constant, s   [Battery.RelaxationFastTime, Battery.RelaxationSlowTime]
//
// Holds where charge and temperature change little in the time; the solution is that of the straight line.
//
// Source: own. Tests: TestRelaxExact.
func (c *Chain) Relaxation(u Relaxed, from, to, time float64) Relaxed {
	cells := float64(c.battery.Parallel)
	whole := c.battery.CellResistance * c.cell.factor(c.battery.Charge, c.battery.Temperature)
	part := func(u, share, constant float64) float64 {
		if share == 0 {
			return 0
		}
		r := share * whole / cells
		if time <= 0 {
			return u
		}
		x := time / constant
		return r*to + (u-r*from)*math.Exp(-x) + r*(to-from)*math.Expm1(-x)/x
	}
	return Relaxed{part(u.Fast, c.relax.FastShare, c.relax.FastTime), part(u.Slow, c.relax.SlowShare, c.relax.SlowTime)}
}

// RelaxationLoss returns the heat in W that all cells make behind their slow resistances: under load and after it.
//
//	P = N·Σ U²/r
//
//	N  cells;  U, r  held back by a cell, V, and its resistance, Ω
//
// Holds at the charge and temperature that the chain is at.
//
// Source: own. Tests: TestRelaxExact.
func (c *Chain) RelaxationLoss(u Relaxed) float64 {
	whole := c.battery.CellResistance * c.cell.factor(c.battery.Charge, c.battery.Temperature)
	sum := 0.0
	if c.relax.FastShare > 0 {
		sum += u.Fast * u.Fast / (c.relax.FastShare * whole)
	}
	if c.relax.SlowShare > 0 {
		sum += u.Slow * u.Slow / (c.relax.SlowShare * whole)
	}
	return float64(c.battery.Series) * float64(c.battery.Parallel) * sum
}
