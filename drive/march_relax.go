package drive

import (
	"math"

	"jetwright/physics/electric"
)

// relax puts the battery into what its cells hold back at a time, with the current since the row before as it was
// there. A steady state that is sought holds nothing back.
func (x *Marcher) relax(time float64, before *Row) electric.Relaxed {
	if x.fixed || !x.m.Chain.Relaxing() {
		return electric.Relaxed{}
	}
	u := x.rested
	if len(x.points) > 0 {
		u = x.m.Chain.Relaxation(before.relaxed, before.BatteryCurrent, before.BatteryCurrent, time-before.Time)
	}
	x.m.Chain.Relax(u)
	return u
}

// relaxed is what the cells hold back in a state, with the current since the row before in a straight line; what
// they lose by it is added to the state's.
func (x *Marcher) relaxed(time float64, before *Row, u electric.Relaxed, s *State) electric.Relaxed {
	if !x.m.Chain.Relaxing() {
		return u
	}
	if len(x.points) > 0 {
		u = x.m.Chain.Relaxation(before.relaxed, before.BatteryCurrent, s.Supply.BatteryCurrent, time-before.Time)
	}
	s.Supply.BatteryInternalLoss += x.m.Chain.RelaxationLoss(u)
	return u
}

// longest is the longest step of a march, s: short against the quicker relaxation, so that what cells hold back
// changes little within a step.
func (x *Marcher) longest() float64 {
	r := x.m.Drive.Battery.Relaxation()
	step := float64(longStep)
	for _, p := range [][2]float64{{r.FastShare, r.FastTime}, {r.SlowShare, r.SlowTime}} {
		if p[0] > 0 {
			step = math.Min(step, p[1]/4)
		}
	}
	return step
}

// short tells that the voltage that a state takes is more than the controller gives of the battery's: it would give
// less than it is asked for.
func (m *Machine) short(s *State) bool {
	const rounding = 1e-9
	return s.Supply.Modulation > m.Drive.Controller.ModulationLimit*(1+rounding)
}
