package electric

import "math"

// Relaxation is how a cell's resistance builds up after a change of current: a part at once, and
// two parts behind a resistance and a capacity each. The zero value has all of it at once.
type Relaxation struct {
	FastShare float64 // of the cell's resistance, that comes up within tens of seconds
	FastTime  float64 // its time constant, s
	SlowShare float64 // that comes up within minutes
	SlowTime  float64 // its time constant, s
}

// Relaxation returns what is typed of it; a share without its time constant does not count.
func (b *Battery) Relaxation() Relaxation {
	var r Relaxation
	if b.RelaxationFastShare.Set && b.RelaxationFastTime.Set {
		r.FastShare, r.FastTime = b.RelaxationFastShare.Value, b.RelaxationFastTime.Value
	}
	if b.RelaxationSlowShare.Set && b.RelaxationSlowTime.Set {
		r.SlowShare, r.SlowTime = b.RelaxationSlowShare.Value, b.RelaxationSlowTime.Value
	}
	return r
}

// Share returns the share of the cell's whole resistance that shows a time in s after the current
// began, dimensionless. After the current ends the rest of the sag goes away by the same law.
//
//	g(t) = 1 − a·e^(−t/τ_a) − b·e^(−t/τ_b)
//
//	a, τ_a  fast share and its time constant, -, s   [Battery.RelaxationFastShare, Battery.RelaxationFastTime]
//	b, τ_b  slow share and its time constant, -, s   [Battery.RelaxationSlowShare, Battery.RelaxationSlowTime]
//
// Holds at a constant current, charge and temperature. Battery.CellResistance is the whole, which a
// steady state has.
//
// Source: cell-2025, memory. Tests: TestRelaxationExact, TestDischargeExact.
func (r Relaxation) Share(time float64) float64 {
	g := 1.0
	if r.FastShare > 0 {
		g -= r.FastShare * math.Exp(-time/r.FastTime)
	}
	if r.SlowShare > 0 {
		g -= r.SlowShare * math.Exp(-time/r.SlowTime)
	}
	return g
}

// CellHeat is the heat of one cell.
type CellHeat struct {
	Capacity     float64 `unit:"J/K" doc:"heat capacity of one cell: about 1000 J/(kg·K) times its mass" range:"1 .. 100000" usual:"30 .. 5000"`
	ToAir        float64 `unit:"K/W" doc:"thermal resistance from one cell to its surroundings" range:"0.001 .. 1000" usual:"0.2 .. 50"`
	Surroundings float64 `unit:"°C" doc:"temperature around the cells" range:"-30 .. 70" usual:"0 .. 45"`
	Entropic     float64 // V/K: change of the open-circuit voltage with temperature; 0 leaves that heat out
}

// DischargeEnd says what ends a discharge. The list is closed.
type DischargeEnd int8

// Ends.
const (
	AtCutOff      DischargeEnd = iota // the weakest cell is at its cut-off
	BrownOut                          // the power is more than the pack passes at any voltage
	Empty                             // no charge is left
	BadDischarge                      // a number is not positive or not finite
	BadResistance                     // a table of the resistance gives none at the charge or temperature reached
)

var dischargeWords = [...]string{"cut-off of the weakest cell", "brown-out", "empty", "the numbers do not make a discharge", "the resistance's table ends before"}

// String returns the end in words.
func (e DischargeEnd) String() string { return dischargeWords[e] }

// Discharge is what a battery gives at a constant power until something ends it.
type Discharge struct {
	End                DischargeEnd
	Energy             float64 // at the terminals, J
	Time               float64 // s
	Charge             float64 // left, 0 to 1
	Temperature        float64 // of the cells in the end, K
	Heat               float64 // in cells and joints, J
	Stored             float64 // taken from the cells at open-circuit voltage, J
	Polarisation       float64 // left in the relaxation, J
	FirstVoltage, Last float64 // at the terminals, V
	MostCurrent        float64 // of the pack, A
}

// pack is what a step of the discharge needs.
type pack struct {
	b            Battery
	c            cell
	power        float64
	relax        Relaxation
	heat         CellHeat
	charge       float64 // A·s of the pack
	series       float64
	lack, excess float64 // of the weakest group: charge, share of resistance
}

// what is marched over the charge: time, temperature, two relaxation voltages of a cell, and what
// has come and gone.
const (
	marchTime = iota
	marchTemperature
	marchFast
	marchSlow
	marchEnergy
	marchHeat
	marchStored
	marchPolarisation
	marchSize
)

type march [marchSize]float64

// now is the pack at a charge and a state of the march.
type now struct {
	current, voltage, weakest, rest, ohms, cellOhms, joints float64
	end                                                     DischargeEnd
	ok                                                      bool
}

func (p *pack) at(charge float64, y *march) now {
	var n now
	f := p.c.factor(charge, y[marchTemperature])
	if !(f > 0) {
		return now{end: BadResistance}
	}
	whole := p.b.CellResistance * f
	n.cellOhms = whole * (1 - p.relax.FastShare - p.relax.SlowShare)
	n.joints = p.b.JointResistance
	n.ohms = p.series/float64(p.b.Parallel)*n.cellOhms + n.joints
	n.rest = p.c.voltage(charge) + p.b.OpenCircuitOffset
	source := p.series * (n.rest - y[marchFast] - y[marchSlow])
	v, i, ok := ConstantPower(source, n.ohms, p.power)
	if !ok {
		return now{end: BrownOut}
	}
	n.voltage, n.current, n.ok = v, i, true
	each := i / float64(p.b.Parallel)
	weak := p.c.voltage(charge-p.lack) + p.b.OpenCircuitOffset
	n.weakest = weak - (1+p.excess)*(y[marchFast]+y[marchSlow]+each*n.cellOhms)
	if n.weakest < p.b.CutOff {
		n.end, n.ok = AtCutOff, false
	}
	return n
}

// slope is the march's change by charge taken, in A·s of the pack.
func (p *pack) slope(charge float64, y *march) (march, now) {
	var d march
	n := p.at(charge, y)
	if n.current == 0 {
		return d, n
	}
	cells := p.series * float64(p.b.Parallel)
	each := n.current / float64(p.b.Parallel)
	whole := n.cellOhms / (1 - p.relax.FastShare - p.relax.SlowShare)
	d[marchTime] = 1
	lost := n.cellOhms * each * each
	kept := 0.0
	for _, pair := range [...]struct {
		k           int
		share, time float64
	}{{marchFast, p.relax.FastShare, p.relax.FastTime}, {marchSlow, p.relax.SlowShare, p.relax.SlowTime}} {
		if pair.share == 0 {
			continue
		}
		r, u := pair.share*whole, y[pair.k]
		d[pair.k] = (each*r - u) / pair.time
		lost += u * u / r
		kept += u * (each - u/r) // U·C·dU/dt with C = τ/R
	}
	reversible := -each * y[marchTemperature] * p.heat.Entropic // heat that the cell makes beside its losses
	d[marchTemperature] = (lost + reversible - (y[marchTemperature]-p.heat.Surroundings)/p.heat.ToAir) / p.heat.Capacity
	d[marchEnergy] = p.power
	d[marchHeat] = cells*lost + n.joints*n.current*n.current
	d[marchStored] = p.series * n.rest * n.current
	d[marchPolarisation] = cells * kept
	for k := range d {
		d[k] /= n.current
	}
	return d, n
}

// Discharge takes a constant power in W from the battery, from its charge and temperature, until the
// weakest cell is at its cut-off, the voltage breaks down, or nothing is left.
//
//	ds/dt = −I/Q,  I = P/V,  V = V_s/2 + √(V_s²/4 − P·R_0),  V_s = N_s·(V_oc(s) − U_a − U_b)
//	dU/dt = (I_cell·R_k − U)/τ_k
//	C·dT/dt = I_cell²·R_0 + Σ U²/R_k − I_cell·T·dV_oc/dT − (T − T_s)/R_th
//	weakest cell: V_oc(s − lack) − (1 + excess)·(U_a + U_b + I_cell·R_0) ≥ cut-off
//
//	Q          capacity, A·s              [Battery.CellCapacity, Battery.Parallel]
//	R_0, R_k   parts of the resistance    [Battery.CellResistance, Relaxation]
//	C, R_th    heat of a cell             [CellHeat]
//	lack       [Battery.ChargeImbalance];  excess [Battery.ResistanceImbalance]
//
// Holds while charge, temperature and resistance stay where their tables hold. Resistance follows
// charge and temperature on the way; the open-circuit voltage's own change with temperature enters as
// heat only. The march goes over the charge by Runge and Kutta's fourth order; energy taken from the
// cells is energy delivered, heat and what is left in the relaxation, to rounding.
//
// Source: memory. Tests: TestDischargeExact, TestDischargeLaw.
func (b Battery) Discharge(power float64, relax Relaxation, heat CellHeat) Discharge {
	bad := Discharge{End: BadDischarge, Charge: b.Charge, Temperature: b.Temperature}
	c, err := b.cell()
	for _, x := range []float64{power, b.CellCapacity, heat.Capacity, heat.ToAir, b.Temperature, b.Charge} {
		if !(x > 0) || math.IsInf(x, 0) {
			return bad
		}
	}
	if err != nil || b.Series < 1 || b.Parallel < 1 || relax.FastShare+relax.SlowShare >= 1 ||
		relax.FastShare < 0 || relax.SlowShare < 0 || relax.FastShare > 0 && !(relax.FastTime > 0) || relax.SlowShare > 0 && !(relax.SlowTime > 0) {
		return bad
	}
	p := pack{
		b: b, c: c, power: power, relax: relax, heat: heat,
		charge: b.CellCapacity * float64(b.Parallel), series: float64(b.Series),
		lack: b.ChargeImbalance.Or(0), excess: b.ResistanceImbalance.Or(0),
	}
	var y march
	y[marchTemperature] = b.Temperature
	s := b.Charge
	n := p.at(s, &y)
	d := Discharge{FirstVoltage: n.voltage, Last: n.voltage, Charge: s, Temperature: b.Temperature, End: n.end}
	if !n.ok {
		return d
	}
	// Steps are short against the charge and against the faster relaxation.
	steps := 400.0
	if relax.FastShare > 0 {
		steps = math.Max(steps, 2*p.charge*s/n.current/relax.FastTime)
	}
	if relax.SlowShare > 0 {
		steps = math.Max(steps, 2*p.charge*s/n.current/relax.SlowTime)
	}
	steps = math.Min(steps, 40000)
	step := s / steps
	for s > 0 {
		h := math.Min(step, s)
		next, end, ok := p.step(s, h, y)
		if !ok {
			// halve towards the end: the last step that can be taken whole
			for range 50 {
				h /= 2
				if part, _, fine := p.step(s, h, y); fine {
					s, y = s-h, part
				}
			}
			d.End = end
			break
		}
		if s -= h; s < 1e-12 {
			s = 0
		}
		y = next
		d.End = Empty
		m := p.at(s, &y)
		d.MostCurrent = math.Max(d.MostCurrent, m.current)
	}
	last := p.at(s, &y)
	if last.voltage > 0 {
		d.Last = last.voltage
	}
	d.MostCurrent = math.Max(d.MostCurrent, math.Max(n.current, last.current))
	d.Charge, d.Time, d.Temperature, d.Energy = s, y[marchTime], y[marchTemperature], y[marchEnergy]
	d.Heat, d.Stored, d.Polarisation = y[marchHeat], y[marchStored], y[marchPolarisation]
	return d
}

// step takes a share of the charge; ok is false, with the reason, where the discharge ends in it.
func (p *pack) step(s, h float64, y march) (next march, end DischargeEnd, ok bool) {
	q := h * p.charge
	var k [4]march
	x := y
	for i, part := range [4]float64{0, 0.5, 0.5, 1} {
		if i > 0 {
			for j := range x {
				x[j] = y[j] + part*q*k[i-1][j]
			}
		}
		var n now
		if k[i], n = p.slope(s-part*h, &x); !n.ok {
			return y, n.end, false
		}
	}
	for j := range y {
		next[j] = y[j] + q/6*(k[0][j]+2*k[1][j]+2*k[2][j]+k[3][j])
	}
	n := p.at(s-h, &next)
	return next, n.end, n.ok
}
