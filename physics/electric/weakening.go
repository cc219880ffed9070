package electric

import "math"

// Unreached says why a motor does not give a torque at a speed. The list is closed.
type Unreached int8

// Reasons.
const (
	Reached       Unreached = iota
	BeyondVoltage           // no current against the magnets makes the voltage suffice
	BeyondCurrent           // the current that it takes is more than the limit
)

var unreachedWords = [...]string{"reached", "beyond the voltage", "beyond the current"}

// String returns the reason in words.
func (u Unreached) String() string { return unreachedWords[u] }

// SurfaceMachine is a motor with magnets on its surface in the axes of its rotor: one inductance for
// both, all of one phase of a star and in peak values.
type SurfaceMachine struct {
	Flux       float64 // of the magnets through a phase, peak, V·s by electrical rad/s
	Resistance float64 // of a phase, Ω
	Inductance float64 // of a phase, H
	PolePairs  float64
}

// SurfaceMachine returns the motor in its rotor's axes at a winding and a magnet temperature in K; ok is
// false where pole pairs or inductance are not typed.
func (c *Chain) SurfaceMachine(winding, magnet float64) (m SurfaceMachine, ok bool) {
	if !c.motor.PolePairs.Set || !c.motor.PhaseInductance.Set {
		return SurfaceMachine{}, false
	}
	p := c.motor.PolePairs.Value
	return SurfaceMachine{
		Flux:       c.ConstantAt(magnet) / (math.Sqrt(3) * p),
		Resistance: c.resistance / 2 * (1 + c.alpha*(winding-c.motor.ResistanceTemperature)),
		Inductance: c.motor.PhaseInductance.Value, PolePairs: p,
	}, true
}

// PhaseVoltage returns the highest peak of the phase voltage's fundamental in V that a bus voltage
// in V gives.
//
//	sinusoidal: U = m·V/√3;  six-step: U = m·2·V/π
//
//	V  bus voltage, V
//	m  usable share, -   [Controller.ModulationLimit]
//
// Holds for space-vector modulation, and for the full block of 180°. Flat tops of 120°, which is what
// six-step commutation with a chopping leg makes, are the equivalent direct-current motor of
// FlatTopTorque.
//
// Source: memory. Tests: TestPhaseVoltageExact.
func PhaseVoltage(bus, share float64, sixStep bool) float64 {
	if sixStep {
		return share * 2 * bus / math.Pi
	}
	return share * bus / math.Sqrt(3)
}

// Axes is a machine at an operating point: currents and voltages in the rotor's axes, peak.
type Axes struct {
	Direct, Quadrature               float64 // currents, A; a direct one below 0 weakens the magnets
	DirectVoltage, QuadratureVoltage float64 // V
	Voltage, Current                 float64 // magnitudes, V and A
	CopperLoss                       float64 // W
	AirGapPower                      float64 // torque times speed, W
	PowerFactor                      float64
	Weakened                         bool
}

// at works the voltages out at currents and an electrical speed in rad/s.
func (m SurfaceMachine) at(direct, quadrature, electrical float64) Axes {
	a := Axes{Direct: direct, Quadrature: quadrature, Weakened: direct < 0}
	x := electrical * m.Inductance
	a.DirectVoltage = m.Resistance*direct - x*quadrature
	a.QuadratureVoltage = m.Resistance*quadrature + x*direct + electrical*m.Flux
	a.Voltage, a.Current = math.Hypot(a.DirectVoltage, a.QuadratureVoltage), math.Hypot(direct, quadrature)
	a.CopperLoss = 1.5 * m.Resistance * a.Current * a.Current
	a.AirGapPower = 1.5 * electrical * m.Flux * quadrature
	if s := a.Voltage * a.Current; s > 0 {
		a.PowerFactor = (a.DirectVoltage*direct + a.QuadratureVoltage*quadrature) / s
	}
	return a
}

// Run returns the machine at a torque in N·m in its air gap and a speed in rad/s, under a limit of
// the phase voltage in V and of the phase current in A, both peak. Where the voltage does not
// suffice, it takes the least current against the magnets that makes it suffice.
//
//	i_q = T/(1.5·p·λ),  u_d = R·i_d − ω·L·i_q,  u_q = R·i_q + ω·(L·i_d + λ),  u_d² + u_q² ≤ U²
//	i_d = 0, or the root nearest to 0 of  Z²·i_d² + 2·X·E·i_d + (X·i_q)² + (R·i_q + E)² − U² = 0
//
//	p, λ, R, L  pole pairs, flux, resistance, inductance
//	ω           electrical speed, p times the motor's, rad/s;  X = ω·L, E = ω·λ, Z² = R² + X²
//
// Holds below saturation, for magnets on the rotor's surface. It ends in a state, or in
// BeyondVoltage or BeyondCurrent. A controller that loses its control in weakening leaves the motor
// to brake hard, and its voltage may rise over what the controller bears.
//
// Source: memory. Tests: TestWeakeningExact, TestWeakeningLaw.
func (m SurfaceMachine) Run(torque, speed, voltage, current float64) (Axes, Unreached) {
	w := m.PolePairs * speed
	iq := torque / (1.5 * m.PolePairs * m.Flux)
	a := m.at(0, iq, w)
	if a.Voltage > voltage {
		x, e := w*m.Inductance, w*m.Flux
		z2 := m.Resistance*m.Resistance + x*x
		rest := (x*iq)*(x*iq) + (m.Resistance*iq+e)*(m.Resistance*iq+e) - voltage*voltage
		d := x*x*e*e - z2*rest
		if d < 0 || x*e <= 0 {
			return a, BeyondVoltage
		}
		a = m.at(-rest/(x*e+math.Sqrt(d)), iq, w)
	}
	if a.Current > current*(1+1e-12) {
		return a, BeyondCurrent
	}
	return a, Reached
}

// Most returns the machine at its greatest torque at a speed in rad/s, under limits of the phase
// voltage in V and of the phase current in A, both peak.
//
//	max i_q  with  i_d² + i_q² ≤ I²,  (i_d + X·E/Z²)² + (i_q + R·E/Z²)² ≤ (U/Z)²
//
//	two circles: the answer is the top of one that lies in the other, or where they cross
//
// Holds as Run does; BeyondVoltage where no current drives the machine at that speed.
//
// Source: memory. Tests: TestMostTorqueLaw.
func (m SurfaceMachine) Most(speed, voltage, current float64) (Axes, Unreached) {
	w := m.PolePairs * speed
	x, e := w*m.Inductance, w*m.Flux
	z := math.Hypot(m.Resistance, x)
	if top := m.at(0, current, w); top.Voltage <= voltage {
		return top, Reached
	} else if z == 0 {
		return top, BeyondVoltage
	}
	cd, cq, r := -x*e/(z*z), -m.Resistance*e/(z*z), voltage/z
	if math.Hypot(cd, cq+r) <= current { // the least voltage for its torque lies within the current
		a := m.at(cd, cq+r, w)
		if a.Quadrature < 0 {
			return a, BeyondVoltage
		}
		return a, Reached
	}
	d := math.Hypot(cd, cq)
	if d == 0 || d > current+r || d < math.Abs(current-r) {
		return m.at(0, 0, w), BeyondVoltage
	}
	along := (current*current - r*r + d*d) / (2 * d)
	across := math.Sqrt(math.Max(0, current*current-along*along))
	ud, uq := cd/d, cq/d
	a := m.at(along*ud+across*uq, along*uq-across*ud, w)
	if b := m.at(along*ud-across*uq, along*uq+across*ud, w); b.Quadrature > a.Quadrature {
		a = b
	}
	if a.Quadrature < 0 {
		return a, BeyondVoltage
	}
	return a, Reached
}

// Torque returns the torque in the air gap in N·m of currents in the rotor's axes.
//
//	T = 1.5·p·λ·i_q
//
//	p, λ  pole pairs, flux of the magnets, V·s
//	i_q   quadrature current, peak, A
//
// Holds for magnets on the rotor's surface.
//
// Source: memory. Tests: TestWeakeningExact.
func (m SurfaceMachine) Torque(a Axes) float64 { return 1.5 * m.PolePairs * m.Flux * a.Quadrature }

// FlatTopTorque returns the greatest torque at the shaft in N·m at a speed in rad/s with flat tops
// of 120°, at a bus voltage in V, a current limit in A of the flat top, and temperatures in K.
//
//	T = K·min{I, (m·V − K·ω)/R} − T_0
//
//	m   usable share of the bus voltage, -   [Controller.ModulationLimit]
//	K   motor constant, V·s;  R  resistance between lines, Ω
//	T_0 torque of the no-load loss, N·m
//
// Holds where the phases' inductance commutates quickly; it may come out below 0: the motor does
// not reach the speed.
//
// Source: memory. Tests: TestFlatTopExact.
func (c *Chain) FlatTopTorque(speed, bus, current, winding, magnet float64) float64 {
	k := c.ConstantAt(magnet)
	r := c.resistance * (1 + c.alpha*(winding-c.motor.ResistanceTemperature))
	i := math.Min(current, (c.controller.ModulationLimit*bus-k*speed)/r)
	return k*i - c.drag(speed)
}

// BoundaryPoint is the greatest torque at a speed.
type BoundaryPoint struct {
	Speed    float64 // rad/s
	Torque   float64 // at the shaft, N·m
	Current  float64 // peak phase current, or that of the flat top, A
	Weakened bool
	Why      Unreached // Reached, or why the motor does not drive at that speed; the torque is then 0
}

// Boundary returns the greatest torque at each of the speeds in rad/s, at a bus voltage in V, under a
// limit in A of the peak phase current (of the flat top with six-step commutation), with winding and
// magnets at temperatures in K. A sinusoidal controller weakens the field where pole pairs and
// inductance are typed; without them only the resistance stands between voltage and torque.
func (c *Chain) Boundary(speeds []float64, bus, current, winding, magnet float64) []BoundaryPoint {
	out := make([]BoundaryPoint, len(speeds))
	m, ok := c.SurfaceMachine(winding, magnet)
	if !ok {
		m = SurfaceMachine{
			Flux:       c.ConstantAt(magnet) / math.Sqrt(3),
			Resistance: c.resistance / 2 * (1 + c.alpha*(winding-c.motor.ResistanceTemperature)), PolePairs: 1,
		}
	}
	for i, w := range speeds {
		p := BoundaryPoint{Speed: w}
		if c.sixStep {
			p.Torque = c.FlatTopTorque(w, bus, current, winding, magnet)
			p.Current = (p.Torque + c.drag(w)) / c.ConstantAt(magnet)
		} else {
			a, why := m.Most(w, PhaseVoltage(bus, c.controller.ModulationLimit, false), current)
			p.Torque, p.Current, p.Weakened, p.Why = m.Torque(a)-c.drag(w), a.Current, a.Weakened, why
		}
		if p.Why != Reached || p.Torque < 0 {
			p.Why, p.Torque = BeyondVoltage, 0
		}
		out[i] = p
	}
	return out
}
