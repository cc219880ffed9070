package electric

import "math"

// Weakens tells whether the controller weakens the field where the voltage does not suffice: a current for
// it, pole pairs and inductance are typed, and the phases are driven by sines.
func (c *Chain) Weakens() bool { return c.weakening > 0 && c.reactance > 0 }

// Unweakened returns the chain with a controller that does not weaken the field.
func (c *Chain) Unweakened() Chain {
	plain := *c
	plain.weakening = 0
	return plain
}

// Throttle returns the voltage that the motor would take with its field as it is, over what the controller gives
// of the battery's, dimensionless: 1 is full voltage, and beyond it the field is weakened.
//
//	τ = √(U² + U_x²)/(m·V)
//
//	U, U_x  voltage of the equivalent direct-current motor, and square to it that of the inductance, V
//	V       voltage at the controller's input, V
//	m       usable share, -   [Controller.ModulationLimit]
//
// Holds for every state; it rises with speed and torque, weakened or not.
//
// Source: own. Tests: TestWeakenedStateLaw.
func (c *Chain) Throttle(m *MotorState, s *SupplyState) float64 {
	if m.DirectCurrent == 0 {
		return s.Modulation / c.controller.ModulationLimit
	}
	return math.Hypot(m.TerminalVoltage, m.ReactiveVoltage) / s.ControllerVoltage / c.controller.ModulationLimit
}

// Carried returns the phase current as that of the equivalent direct-current motor, the current against the magnets
// included, in A.
//
//	√(i² + ¾·i_d²)
//
//	i    current of the equivalent direct-current motor, A
//	i_d  current against the magnets, peak of a phase, A
//
// Holds for every state.
//
// Source: memory. Tests: TestWeakenedStateExact.
func (m *MotorState) Carried() float64 {
	if m.DirectCurrent == 0 {
		return m.DCEquivalentCurrent
	}
	return math.Hypot(m.DCEquivalentCurrent, m.DirectCurrent/peakPerDC)
}

// WeakeningLoss returns the part of the copper loss that the current against the magnets makes, in W.
//
//	P = ¾·R·i_d²
//
//	R    resistance between two lines at the winding's temperature, Ω
//	i_d  current against the magnets, peak of a phase, A
//
// Holds for every state; 0 where the field is not weakened.
//
// Source: memory. Tests: TestWeakenedStateExact.
func (m *MotorState) WeakeningLoss() float64 {
	return 0.75 * m.ohms * m.DirectCurrent * m.DirectCurrent
}

// direct gives a state a current against the magnets, as that of the equivalent direct-current motor, A.
func (m *MotorState) direct(against float64) {
	i := m.DCEquivalentCurrent
	fixed := m.ElectricPower - m.CopperLoss
	m.DirectCurrent = peakPerDC * against
	m.CopperLoss = m.ohms * (i*i + against*against)
	m.ElectricPower = fixed + m.CopperLoss
	all := math.Hypot(i, against)
	m.PhaseCurrentPeak, m.PhaseCurrentRMS = peakPerDC*all, rmsPerDC*all
}

// reached is the voltage at the motor with the field weakened as it is, V, as that of the equivalent direct-current
// motor: of one whose field is not weakened, root of the squares.
func (m *MotorState) reached() float64 {
	switch {
	case m.ReactiveVoltage == 0 && m.DirectCurrent == 0:
		return m.TerminalVoltage
	case m.DirectCurrent == 0:
		return math.Hypot(m.TerminalVoltage, m.ReactiveVoltage)
	}
	j := m.DirectCurrent / peakPerDC
	return math.Hypot(m.TerminalVoltage-m.reactance*j, m.ReactiveVoltage+m.ohms*j)
}

// voltAmperes is the power in the three phases, W.
func (m *MotorState) voltAmperes() float64 {
	j := m.DirectCurrent / peakPerDC
	return m.TerminalVoltage*m.DCEquivalentCurrent + m.ohms*j*j
}

// SupplyAt is Supply with the switches at a temperature in K, where their coefficient is typed. Where the voltage
// does not suffice and the controller weakens the field, the motor's state gets the least current against the
// magnets with which it does:
//
//	√[(U − X·j)² + (X·i + R·j)²] = m·V(j),  j = i_d·√3/2 ≤ X·E/(X² + R²)
//
//	U, E  voltage of the equivalent direct-current motor, and the part of it that is induced, V
//	X, R  2·p·ω·L, and resistance between two lines, Ω
//	i, j  current of the equivalent direct-current motor, and that against the magnets in the same measure, A
//	V(j)  voltage at the controller's input, which falls as j takes power, V
//	m     usable share, -   [Controller.ModulationLimit]
//
// Where the most that is typed does not do, or more would not help, the state has that much and its voltage is beyond
// the usable share. Losses of the weaker field in the iron are left as they were.
//
// Source: memory. Tests: TestWeakenedStateExact, TestWeakenedStateLaw.
func (c *Chain) SupplyAt(m *MotorState, bridge float64) (SupplyState, Reason) {
	if m.DirectCurrent != 0 {
		m.direct(0)
		m.DirectCurrent = 0
	}
	s, reason := c.supplied(m, bridge)
	limit := c.controller.ModulationLimit
	if reason != Solved || c.weakening == 0 || m.reactance == 0 || s.Modulation <= limit {
		return s, reason
	}
	x, r := m.reactance, m.ohms
	most := math.Min(c.weakening/peakPerDC, x*(m.TerminalVoltage-r*m.DCEquivalentCurrent)/(x*x+r*r))
	if !(most > 0) {
		return s, reason
	}
	at := func(j float64) (float64, bool) {
		m.direct(j)
		s, reason = c.supplied(m, bridge)
		return s.Modulation - limit, reason == Solved
	}
	low, high := 0.0, most
	over := s.Modulation - limit
	under, ok := at(high)
	for range weakeningTurns {
		if ok || over < 0 {
			break
		}
		high /= 2
		under, ok = at(high)
	}
	if !ok || under > 0 {
		return s, reason
	}
	// the root lies between: regula falsi that halves the value at an end that stays (Illinois)
	side := 0
	for range weakeningTurns {
		j := high - under*(high-low)/(under-over)
		if !(j > low && j < high) {
			j = 0.5 * (low + high)
		}
		f, fine := at(j)
		if !fine {
			return s, reason
		}
		if math.Abs(f) <= 1e-14 || high-low <= 1e-15*high {
			break
		}
		if f > 0 {
			low, over = j, f
			if side > 0 {
				under /= 2
			}
			side = 1
		} else {
			high, under = j, f
			if side < 0 {
				over /= 2
			}
			side = -1
		}
	}
	s.Modulation = limit // to rounding
	return s, reason
}

// weakeningTurns is how often the current against the magnets is bettered, at most.
const weakeningTurns = 60
