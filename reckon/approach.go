package reckon

import (
	"errors"
	"math"
	"sync"

	"gonum.org/v1/gonum/mat"

	"jetwright/drive"
	"jetwright/explore"
	"jetwright/numeric"
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
	turnsMost  = 4    // rotor speeds that are tried for that
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

// each visits the plateaus in their order with the machine of their run at a point; f must not keep it.
func (m *model) each(y []float64, f func(at int, x *prepared, machine *drive.Machine) error) error {
	d := m.drive(y)
	room, _ := m.machines.Get().(*[2]drive.Machine)
	if room == nil {
		room = new([2]drive.Machine)
	}
	defer m.machines.Put(room)
	var shared *drive.Machine
	at := -1
	for e, ev := range m.evidence {
		machine := shared
		if machine == nil || ev.Adjust != nil || ev.Version != nil {
			own := ev.Adjust != nil || ev.Version != nil
			into := &room[0]
			if own {
				into = &room[1]
			}
			var err error
			if machine, err = m.machine(e, &d, y, into); err != nil {
				return err
			}
			if !own {
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

// hint is a state that one of a plateau is near to: that at the last base.
func (m *model) hint(at int) *drive.State {
	if m.base == nil {
		return &drive.State{}
	}
	return &m.base.states[at]
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
		s, err := machine.SolveBeside(c, m.hint(at), 0)
		if err != nil {
			return err
		}
		b.states[at], b.targets[at], b.moves[at] = s, c.Amount, make([]float64, len(m.coords))
		c.Amount *= math.Exp(-followStep) // downward, where there is a state
		if beside, err := machine.SolveBeside(c, &s, 0); err == nil {
			b.follows[at] = apart(&s, &beside, -followStep)
		}
		return nil
	})
	return b, err
}

// rotorSpeed is what a plateau must be near to at a point, rad/s.
func (b *base) rotorSpeed(at int, y []float64) float64 {
	ln := math.Log(b.states[at].RotorSpeed)
	for j, k := range b.moves[at] {
		ln += k * (y[j] - b.y[j])
	}
	return math.Exp(ln)
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
		turning := b.rotorSpeed(at, y)
		if b.turn(machine, at, c, &turning, &states[at]) == nil {
			return nil
		}
		var err error
		states[at], err = machine.SolveNear(c, turning, tolerance)
		return err
	})
}

// turn works out a plateau at a rotor speed in rad/s and carries it to its demand; a rotor speed that is too far from it is moved
// until it is near.
func (b *base) turn(machine *drive.Machine, at int, c drive.Condition, turning *float64, into *drive.State) error {
	kind, amount := c.Demand, c.Amount
	c.Demand = drive.RotorSpeed
	for range turnsMost {
		c.Amount = *turning
		s, err := machine.SolveBeside(c, &b.states[at], 0)
		if err != nil {
			return err
		}
		by := math.Log(amount / demandOf(&s, kind))
		if math.Abs(by) <= followMost {
			b.follows[at].carry(&s, by)
			*into = s
			return nil
		}
		*turning *= math.Exp(b.follows[at].rotor * by)
	}
	return errFar
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

// weakShare is the length below which the part of a direction that moves the drive is taken with the derivatives of the base. Our own;
// see TestSlopesLaw.
const weakShare = 0.6

// slopes takes the differences of jacobian in the directions of columns that are always the same.
//
//	J·D = J_p·U·S·Wᵀ + J_i·D_i,  D_p = U·S·Wᵀ
//
//	p, i  coordinates of the drive and of the water past it, and of the instruments;  U, S, W  singular vectors and values
//
// Few directions move the drive, and the drive alone takes states to be solved: one for each singular value that is not weak.
type slopes struct {
	m          *model
	directions *mat.Dense
	strong     *mat.Dense // k × q
	parts      *mat.Dense // q × columns
	weak       *mat.Dense // n × columns: of the base
	others     *mat.Dense // k × columns: of the instruments alone
}

func (m *model) newSlopes(jacobian, directions *mat.Dense, weak float64) *slopes {
	k, n := directions.Dims()
	g := &slopes{m: m, directions: directions, others: mat.DenseCopyOf(directions), weak: mat.NewDense(m.residuals, n, nil)}
	drive := mat.NewDense(k, n, nil)
	moves := make([]bool, k)
	for j, c := range m.coords {
		moves[j] = (c.physical || c.earlier) && m.known == nil
	}
	m.allOf(func(_ int, x *prepared) {
		if x.stream >= 0 {
			moves[x.stream] = true // the speed of the water past the stand
		}
	})
	for j := range moves {
		if moves[j] {
			for d := range n {
				drive.Set(j, d, directions.At(j, d))
				g.others.Set(j, d, 0)
			}
		}
	}
	var svd mat.SVD
	if !svd.Factorize(drive, mat.SVDThin) {
		return nil
	}
	var u, w mat.Dense
	svd.UTo(&u)
	svd.VTo(&w)
	values := svd.Values(nil)
	q := 0
	for q < len(values) && values[q] > weak {
		q++
	}
	part := func(from, to int) *mat.Dense {
		out := mat.NewDense(to-from, n, nil)
		for i := from; i < to; i++ {
			for d := range n {
				out.Set(i-from, d, values[i]*w.At(d, i))
			}
		}
		return out
	}
	if q > 0 {
		g.strong, g.parts = mat.DenseCopyOf(u.Slice(0, k, 0, q)), part(0, q)
	}
	if q < len(values) {
		var far mat.Dense
		far.Mul(jacobian, u.Slice(0, k, q, len(values)))
		g.weak.Mul(&far, part(q, len(values)))
	}
	return g
}

// at writes the residuals at a point and their differences, on one processor. Every plateau stays at the rotor speed that the base tells
// of it, and is carried to its demand as at the base.
func (g *slopes) at(dst *mat.Dense, zero, y []float64) error {
	const h = 1e-5
	m, b := g.m, g.m.base
	borrowed, lent := m.borrow(), m.borrow()
	defer m.pool.Put(borrowed)
	defer m.pool.Put(lent)
	targets, carried, moved := make([]float64, m.plateaus), *borrowed, *lent
	turning := make([]float64, m.plateaus) // rotor speeds
	m.allOf(func(k int, x *prepared) {
		switch {
		case x.left:
		case x.kind == drive.RotorSpeed:
			targets[k] = x.condition(y).Amount
			turning[k] = targets[k]
		default:
			targets[k], turning[k] = x.condition(y).Amount, b.rotorSpeed(k, y)
		}
	})
	err := m.each(y, func(k int, x *prepared, machine *drive.Machine) error {
		if x.left {
			return nil
		}
		return b.turn(machine, k, x.condition(y), &turning[k], &carried[k])
	})
	if err != nil {
		return err
	}
	m.compare(zero, y, carried)
	at, up := make([]float64, len(y)), make([]float64, m.residuals)
	move := func(directions *mat.Dense, d int) {
		for j := range at {
			at[j] = y[j] + h*directions.At(j, d)
		}
	}
	_, n := g.directions.Dims()
	for d := range n {
		move(g.others, d)
		copy(moved, carried)
		m.allOf(func(k int, x *prepared) {
			if !x.left {
				b.follows[k].carry(&moved[k], math.Log(x.condition(at).Amount/targets[k]))
			}
		})
		m.compare(up, at, moved)
		for i := range up {
			dst.Set(i, d, (up[i]-zero[i])/h+g.weak.At(i, d))
		}
	}
	if g.strong == nil {
		return nil
	}
	_, q := g.strong.Dims()
	columns := mat.NewDense(m.residuals, q, nil)
	for d := range q {
		move(g.strong, d)
		err := m.each(at, func(k int, x *prepared, machine *drive.Machine) error {
			if x.left {
				return nil
			}
			c := drive.Condition{OnStand: true, Demand: drive.RotorSpeed, Amount: turning[k], Speed: x.condition(at).Speed}
			s, err := machine.SolveBeside(c, &b.states[k], 0)
			if err == nil {
				b.follows[k].carry(&s, math.Log(targets[k]/demandOf(&s, x.kind)))
				moved[k] = s
			}
			return err
		})
		if err != nil {
			return err
		}
		m.compare(up, at, moved)
		for i := range up {
			columns.Set(i, d, (up[i]-zero[i])/h)
		}
	}
	var strong mat.Dense
	strong.Mul(columns, g.parts)
	dst.Add(dst, &strong)
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
		buffer := m.borrow()
		defer m.pool.Put(buffer)
		moved := *buffer
		copy(moved, b.states)
		if (m.coords[j].physical || m.coords[j].earlier) && m.known == nil {
			errs[j] = m.each(at, func(k int, x *prepared, machine *drive.Machine) error {
				if x.left {
					return nil
				}
				c := x.condition(at)
				if c.Demand != drive.RotorSpeed {
					c.Demand, c.Amount = drive.RotorSpeed, b.states[k].RotorSpeed
				}
				s, err := machine.SolveBeside(c, &b.states[k], 0)
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
					states[k], err = machine.SolveBeside(x.condition(y), &b.states[k], 0)
					return err
				})
			}
			b.follows[at].carry(&states[at], math.Log(x.condition(y).Amount/b.targets[at]))
		}
	}
	return nil
}

// leaper proposes points of the posterior; weak is weakShare but where that is held against none.
func (m *model) leaper(sol *numeric.MAPSolution, weak float64) (*numeric.Leaper, bool) {
	var once sync.Once
	var g *slopes
	return numeric.NewLeaper(sol, m.evaluateNear, func(dst *mat.Dense, r, y []float64, directions *mat.Dense) error {
		once.Do(func() { g = m.newSlopes(sol.Jacobian(), directions, weak) })
		if g == nil {
			return errNoSlopes
		}
		return g.at(dst, r, y)
	})
}

var (
	errNoSlopes = errors.New("the directions have no singular values")
	errFar      = errors.New("no state was found near the base")
)
