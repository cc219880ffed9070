package reckon

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"jetwright/drive"
	"jetwright/explore"
)

// base is a point at which every plateau was solved, with what is needed to tell states beside it: how rotor speeds
// move with the coordinates, and how the figures of a state follow its demand.
type base struct {
	y       []float64
	states  []drive.State
	targets []float64   // demands met there
	moves   [][]float64 // plateau × coordinate: derivative of ln of the rotor speed
	follows []follow    // by plateau
}

// follow is how the figures of a state follow its demand: the derivatives of the figures by ln of it.
type follow struct {
	thrust, rotor, current, voltage float64 // of the figures' logarithms
	winding, bridge                 float64 // K
}

// Rules of states that are told from states beside them. Our own.
const (
	followStep = 2e-3 // of the demand, over which its derivatives are taken
	followMost = 0.10 // of ln of the demand, by which a state is carried on to it
)

// apart returns how figures follow the demand from two states that differ by a step of it.
func apart(a, b *drive.State, step float64) follow {
	l := func(x, y float64) float64 { return math.Log(y/x) / step }
	return follow{
		thrust: l(a.Thrust, b.Thrust), rotor: l(a.RotorSpeed, b.RotorSpeed), current: l(a.Motor.PhaseCurrentRMS, b.Motor.PhaseCurrentRMS),
		voltage: l(a.Supply.BatteryVoltage, b.Supply.BatteryVoltage), winding: (b.Motor.WindingTemperature - a.Motor.WindingTemperature) / step,
		bridge: (b.Heat.BridgeTemperature - a.Heat.BridgeTemperature) / step,
	}
}

// carry moves the figures that readings are held against to a demand beside that of the state.
func (f follow) carry(s *drive.State, by float64) {
	s.Thrust *= math.Exp(f.thrust * by)
	s.RotorSpeed *= math.Exp(f.rotor * by)
	s.Motor.PhaseCurrentRMS *= math.Exp(f.current * by)
	s.Supply.BatteryVoltage *= math.Exp(f.voltage * by)
	s.Motor.WindingTemperature += f.winding * by
	s.Heat.BridgeTemperature += f.bridge * by
}

// demandOf reads the figure off a state that a condition prescribes.
func demandOf(s *drive.State, kind drive.Demand) float64 {
	switch kind {
	case drive.BatteryPower:
		return s.BatteryPower
	case drive.ControllerPower:
		return s.ControllerPower
	case drive.ShaftPower:
		return s.ShaftPower
	case drive.RotorSpeed:
		return s.RotorSpeed
	}
	return s.Thrust
}

// each visits the plateaus in their order with the machine of their run at a point.
func (m *model) each(y []float64, f func(at int, x *prepared, machine *drive.Machine) error) error {
	d := m.drive(y)
	var shared *drive.Machine
	at := -1
	for e, ev := range m.evidence {
		machine := shared
		if machine == nil || ev.Adjust != nil || ev.Version != nil {
			var err error
			if machine, err = m.machine(e, d, y); err != nil {
				return err
			}
			if ev.Adjust == nil && ev.Version == nil {
				shared = machine
			}
		}
		for i := range m.prepared[e] {
			at++
			if err := f(at, &m.prepared[e][i], machine); err != nil {
				return err
			}
		}
	}
	return nil
}

// settleBase solves every plateau at a point to the last digit, and again beside its demand.
func (m *model) settleBase(y []float64) (*base, error) {
	b := &base{
		y: append([]float64(nil), y...), states: make([]drive.State, m.plateaus), targets: make([]float64, m.plateaus),
		moves: make([][]float64, m.plateaus), follows: make([]follow, m.plateaus),
	}
	err := m.each(y, func(at int, x *prepared, machine *drive.Machine) error {
		if x.left {
			return nil
		}
		c := x.condition(y)
		hint := 0.0
		if m.base != nil {
			hint = m.base.states[at].RotorSpeed
		}
		s, err := machine.SolveNear(c, hint, 0)
		if err != nil {
			return err
		}
		b.states[at], b.targets[at], b.moves[at] = s, c.Amount, make([]float64, len(m.coords))
		c.Amount *= math.Exp(-followStep) // downward, where there is a state
		if beside, err := machine.SolveNear(c, s.RotorSpeed, 0); err == nil {
			b.follows[at] = apart(&s, &beside, -followStep)
		}
		return nil
	})
	return b, err
}

// near works out the states of all plateaus at a point near a base: each at the rotor speed that it must be near
// to, and carried on to its demand. What is too far for that is searched.
func (m *model) nearBase(states []drive.State, y []float64, b *base, tolerance float64) error {
	return m.each(y, func(at int, x *prepared, machine *drive.Machine) error {
		if x.left {
			return nil
		}
		c := x.condition(y)
		if c.Demand == drive.RotorSpeed {
			s, err := machine.Solve(c)
			states[at] = s
			return err
		}
		ln := math.Log(b.states[at].RotorSpeed)
		for j, k := range b.moves[at] {
			ln += k * (y[j] - b.y[j])
		}
		turning := c
		turning.Demand, turning.Amount = drive.RotorSpeed, math.Exp(ln)
		s, err := machine.Solve(turning)
		if err == nil {
			by := math.Log(c.Amount / demandOf(&s, c.Demand))
			if math.Abs(by) <= followMost {
				b.follows[at].carry(&s, by)
				states[at] = s
				return nil
			}
		}
		states[at], err = machine.SolveNear(c, turning.Amount, tolerance)
		return err
	})
}

// jacobian takes one-sided differences, coordinate by coordinate, on all processors, each plateau held at its rotor
// speed and carried back to its demand, so that a derivative costs one balance of pump and nozzle and no search. What belongs to the
// instruments costs none. A step of 1e-5 leaves derivatives good to about 1e-5, those by the demand to 1e-3 of themselves.
func (m *model) jacobian(dst *mat.Dense, y []float64) error {
	b, err := m.settleBase(y)
	if err != nil {
		return err
	}
	m.base = b
	return m.derivatives(dst, y, b)
}

// along takes the differences of jacobian in the directions of columns, on one processor.
func (m *model) along(dst *mat.Dense, y []float64, directions *mat.Dense) error {
	const h = 1e-5
	b, err := m.settleBase(y)
	if err != nil {
		return err
	}
	zero, up := make([]float64, m.residuals), make([]float64, m.residuals)
	m.compare(zero, y, b.states)
	_, n := directions.Dims()
	at, moved := make([]float64, len(y)), make([]drive.State, len(b.states))
	for d := range n {
		for j := range at {
			at[j] = y[j] + h*directions.At(j, d)
		}
		err := m.each(at, func(k int, x *prepared, machine *drive.Machine) error {
			if x.left {
				return nil
			}
			c := x.condition(at)
			turning := c
			if c.Demand != drive.RotorSpeed {
				turning.Demand, turning.Amount = drive.RotorSpeed, b.states[k].RotorSpeed
			}
			s, err := machine.Solve(turning)
			if err != nil {
				return err
			}
			if c.Demand != drive.RotorSpeed {
				b.follows[k].carry(&s, math.Log(c.Amount/demandOf(&s, c.Demand)))
			}
			moved[k] = s
			return nil
		})
		if err != nil {
			return err
		}
		m.compare(up, at, moved)
		for i := range up {
			dst.Set(i, d, (up[i]-zero[i])/h)
		}
	}
	return nil
}

// derivatives takes the differences of jacobian round a base.
func (m *model) derivatives(dst *mat.Dense, y []float64, b *base) error {
	const h = 1e-5
	zero := make([]float64, m.residuals)
	m.compare(zero, y, b.states)
	errs := make([]error, len(y))
	explore.Parallel(len(y), func(j int) {
		at := append([]float64(nil), y...)
		at[j] += h
		moved := append([]drive.State(nil), b.states...)
		if (m.coords[j].physical || m.coords[j].earlier) && m.known == nil {
			errs[j] = m.each(at, func(k int, x *prepared, machine *drive.Machine) error {
				if x.left {
					return nil
				}
				c := x.condition(at)
				if c.Demand != drive.RotorSpeed {
					c.Demand, c.Amount = drive.RotorSpeed, b.states[k].RotorSpeed
				}
				s, err := machine.Solve(c)
				if err != nil {
					return err
				}
				if x.kind != drive.RotorSpeed {
					b.follows[k].carry(&s, math.Log(b.targets[k]/demandOf(&s, x.kind)))
				}
				moved[k] = s
				return nil
			})
		} else {
			errs[j] = m.carryAll(moved, at, b, j)
		}
		if errs[j] != nil {
			return
		}
		for k := range moved {
			if b.moves[k] == nil {
				continue // left out
			}
			b.moves[k][j] = math.Log(moved[k].RotorSpeed/b.states[k].RotorSpeed) / h
		}
		up := make([]float64, m.residuals)
		m.compare(up, at, moved)
		for i := range up {
			dst.Set(i, j, (up[i]-zero[i])/h)
		}
	})
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// carryAll moves states whose demand one coordinate of an instrument moves.
func (m *model) carryAll(states []drive.State, y []float64, b *base, j int) error {
	at := -1
	for e := range m.prepared {
		for i := range m.prepared[e] {
			at++
			x := &m.prepared[e][i]
			if x.left || !x.drivenBy(j) {
				continue
			}
			if j == x.stream { // the speed of the water is no demand
				return m.each(y, func(k int, x *prepared, machine *drive.Machine) error {
					if x.stream != j || x.left {
						return nil
					}
					var err error
					states[k], err = machine.SolveNear(x.condition(y), b.states[k].RotorSpeed, 0)
					return err
				})
			}
			b.follows[at].carry(&states[at], math.Log(x.condition(y).Amount/b.targets[at]))
		}
	}
	return nil
}
