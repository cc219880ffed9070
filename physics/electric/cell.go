package electric

import (
	"errors"
	"math"

	"jetwright/numeric"
)

// Errors of a battery's tables.
var (
	ErrOpenCircuitTable = errors.New("the table of the open-circuit voltage needs two or more charges and as many voltages, both rising")
	ErrResistanceTable  = errors.New("a table of the cell's resistance needs two or more points that rise and as many positive factors, and a factor above 0 where it is used")
)

// fullCell is the voltage of a full lithium cell, V.
const fullCell = 4.2

// cellClass is a generic class of cells: open-circuit voltage by tenths of charge, and the voltage
// that it is charged to. Recalled, confidence medium, ± 0.04 V; see Battery.OpenCircuitOffset.
type cellClass struct {
	table [11]float64
	full  float64
}

var cellClasses = map[string]*cellClass{
	"nickel-rich":    {[11]float64{2.95, 3.38, 3.50, 3.58, 3.64, 3.70, 3.79, 3.88, 3.97, 4.06, 4.18}, fullCell},
	"cobalt-oxide":   {[11]float64{3.27, 3.69, 3.73, 3.77, 3.80, 3.84, 3.87, 3.95, 4.02, 4.11, 4.19}, fullCell},
	"iron-phosphate": {[11]float64{2.80, 3.20, 3.25, 3.28, 3.30, 3.31, 3.32, 3.33, 3.335, 3.345, 3.42}, 3.65},
	"titanate":       {[11]float64{1.90, 2.15, 2.20, 2.22, 2.25, 2.28, 2.32, 2.37, 2.43, 2.52, 2.70}, 2.8},
}

// OpenCircuitVoltage returns the open-circuit voltage of a nickel-rich lithium cell in V.
//
//	V = monotone cubic through 2.95 3.38 3.50 3.58 3.64 3.70 3.79 3.88 3.97 4.06 4.18 V at 0, 0.1 … 1
//
//	charge  share of the capacity that is left, 0 to 1  [Battery.Charge]
//
// Holds for nickel-rich cells at rest, ± 0.04 V; other classes have their own tables (Battery.Chemistry),
// and a table that was measured goes before them.
//
// Source: memory. Tests: TestOpenCircuitExact.
func OpenCircuitVoltage(charge float64) float64 { return cellClasses["nickel-rich"].voltage(charge) }

// voltage is the monotone cubic through the table.
func (k *cellClass) voltage(charge float64) float64 {
	const n = len(k.table) - 1
	x := charge * float64(n)
	i := min(max(int(x), 0), n-1)
	u := x - float64(i)
	y0, y1 := k.table[i], k.table[i+1]
	d0, d1 := k.slope(i), k.slope(i+1)
	u2, u3 := u*u, u*u*u
	return y0*(2*u3-3*u2+1) + d0*(u3-2*u2+u) + y1*(3*u2-2*u3) + d1*(u3-u2)
}

// slope is the harmonic mean of the neighbouring steps, which keeps the cubic monotone.
func (k *cellClass) slope(i int) float64 {
	const n = len(k.table) - 1
	step := func(j int) float64 { return k.table[j+1] - k.table[j] }
	switch i {
	case 0:
		return step(0)
	case n:
		return step(n - 1)
	}
	a, b := step(i-1), step(i)
	return 2 * a * b / (a + b)
}

// cell is a battery's cell worked out: class and tables.
type cell struct {
	class            *cellClass
	rest             *numeric.PCHIP // voltage against charge, nil for the class's
	byHeat, byCharge *numeric.PCHIP // factors on the resistance, nil for the laws
	coldFactor, low  float64
	arrhenius        bool
}

// cell works the battery's cell out; where a table cannot be used the law stands in for it.
func (b *Battery) cell() (cell, error) {
	c := cell{class: cellClasses[b.Chemistry], coldFactor: b.ColdFactor, low: b.LowChargeFactor.Or(1), arrhenius: b.ColdLaw == "arrhenius"}
	if c.class == nil {
		c.class = cellClasses["nickel-rich"]
	}
	var err error
	if len(b.OpenCircuitCharges)+len(b.OpenCircuitVoltages) > 0 {
		if c.rest, err = numeric.NewPCHIP(b.OpenCircuitCharges, b.OpenCircuitVoltages); err != nil {
			return c, ErrOpenCircuitTable
		}
		for i, v := range b.OpenCircuitVoltages[1:] {
			if v <= b.OpenCircuitVoltages[i] {
				return c, ErrOpenCircuitTable
			}
		}
	}
	factors := func(x, y []float64) (*numeric.PCHIP, error) {
		if len(x)+len(y) == 0 {
			return nil, nil
		}
		for _, f := range y {
			if !(f > 0) {
				return nil, ErrResistanceTable
			}
		}
		p, err := numeric.NewPCHIP(x, y)
		if err != nil {
			return nil, ErrResistanceTable
		}
		return p, nil
	}
	if c.byHeat, err = factors(b.ResistanceTemperatures, b.TemperatureFactors); err != nil {
		return c, err
	}
	c.byCharge, err = factors(b.ResistanceCharges, b.ChargeFactors)
	return c, err
}

// voltage is the open-circuit voltage at a charge, V.
func (c *cell) voltage(charge float64) float64 {
	if c.rest == nil {
		return c.class.voltage(charge)
	}
	v, _, _ := c.rest.At(charge)
	return v
}

// factor is the resistance at a charge and a temperature over that of a charged cell at 25 °C.
func (c *cell) factor(charge, temperature float64) float64 {
	f := 0.0
	switch {
	case c.byHeat != nil:
		f, _, _ = c.byHeat.At(temperature)
	case c.arrhenius:
		f = ArrheniusFactor(c.coldFactor, temperature)
	default:
		f = math.Pow(c.coldFactor, (warmCell-temperature)/coldSpan)
	}
	switch {
	case c.byCharge != nil:
		g, _, _ := c.byCharge.At(charge)
		f *= g
	case c.low != 1:
		f *= LowChargeFactor(c.low, charge)
	}
	return f
}

// warmCell is the temperature that a cell's resistance holds at, and coldSpan how far below it the
// cold factor holds, K.
const (
	warmCell = 298.15
	coldSpan = 18
)

// ArrheniusFactor returns the resistance of a cell at a temperature in K over that at 25 °C, from that
// at 7 °C over that at 25 °C, dimensionless.
//
//	R/R₂₅ = exp[(E/k)·(1/T − 1/T₂₅)],  (E/k) = ln f/(1/T₇ − 1/T₂₅)
//
//	f  resistance at 7 °C over that at 25 °C, -   [Battery.ColdFactor]
//	T  temperature, K
//
// Holds between −20 and 45 °C. An exponential in the temperature itself, which is what stands where
// cold_law does not say otherwise, is 5 % lower at −10 °C for f = 1.5, and within 1.5 % between 0 and 30 °C.
//
// Source: memory. Tests: TestArrheniusExact.
func ArrheniusFactor(coldFactor, temperature float64) float64 {
	return math.Pow(coldFactor, (1/temperature-1/warmCell)/(1/(warmCell-coldSpan)-1/warmCell))
}

// LowChargeFactor returns the resistance of a cell at a charge over that of a charged one, from that
// at 10 % charge, dimensionless.
//
//	R(s)/R = 1 + (f − 1)·exp[−(s − 0.10)/0.08]
//
//	f  resistance at 10 % charge over that of a charged cell, -   [Battery.LowChargeFactor]
//	s  share of the charge that is left, 0 to 1
//
// Holds between 3 and 100 %. That the resistance rises below 30 % is published; the shape is our own.
//
// Source: own, cell-2025. Tests: TestLowChargeExact.
func LowChargeFactor(atTenth, charge float64) float64 {
	return 1 + (atTenth-1)*math.Exp(-(charge-0.10)/0.08)
}

// Resistance returns the pack's resistance in Ω.
//
//	R = (N_s/N_p)·R_cell·k^((25 °C − t)/18 K)·g(s) + R_joints
//
//	N_s, N_p  cells in series and parallel                [Battery.Series, Battery.Parallel]
//	R_cell    resistance of a cell at 25 °C, Ω            [Battery.CellResistance]
//	k         resistance at 7 °C over that at 25 °C, -    [Battery.ColdFactor]
//	t         temperature of the cells                    [Battery.Temperature]
//	g         1, or LowChargeFactor of the charge, or as measured   [Battery.LowChargeFactor, Battery.ChargeFactors]
//	R_joints  joints and bars, Ω                          [Battery.JointResistance]
//
// Holds between −10 and 45 °C and 20 to 100 % charge; below that the cell's resistance rises, which
// LowChargeFactor takes in. cold_law makes the temperature's law that of Arrhenius, and a table that
// was measured goes before both.
//
// Source: memory. Tests: TestPackResistanceExact.
func (b Battery) Resistance() float64 {
	c, _ := b.cell()
	return b.packOhms(c.factor(b.Charge, b.Temperature))
}

// packOhms is the pack's resistance where a cell's is a factor times that at 25 °C.
func (b *Battery) packOhms(factor float64) float64 {
	return float64(b.Series)/float64(b.Parallel)*b.CellResistance*factor + b.JointResistance
}

// FullVoltage returns the voltage of the full pack in V.
//
//	V = N_s·V_full
//
//	V_full  4.2 V; 3.65 V of iron-phosphate and 2.8 V of titanate cells   [Battery.Chemistry]
//
// Holds at the end of charging.
//
// Source: memory. Tests: TestFullVoltageExact.
func (b Battery) FullVoltage() float64 {
	c, _ := b.cell()
	return float64(b.Series) * c.class.full
}

// MostPower returns the greatest power in W that a source passes at any voltage.
//
//	P = V_oc²/(4·R),  at V_oc/2
//
//	V_oc  open-circuit voltage, V
//	R     resistance, Ω
//
// Holds in the steady state; cut-offs and limits of current end it far sooner.
//
// Source: memory. Tests: TestConstantPowerExact.
func MostPower(openCircuit, resistance float64) float64 {
	return openCircuit * openCircuit / (4 * resistance)
}

// ConstantPower returns voltage in V and current in A of a source that delivers a power in W; ok is
// false beyond MostPower, where the voltage breaks down (brown-out).
//
//	V = V_oc/2 + √(V_oc²/4 − P·R),  I = P/V
//
//	V_oc  open-circuit voltage, V
//	P     power at the terminals, W
//	R     resistance, Ω
//
// Holds in the steady state; the higher voltage is the stable one.
//
// Source: memory. Tests: TestConstantPowerExact.
func ConstantPower(openCircuit, resistance, power float64) (voltage, current float64, ok bool) {
	voltage, ok = LoadVoltage(openCircuit, resistance, power, 0)
	if !ok {
		return 0, 0, false
	}
	return voltage, power / voltage, true
}

// PackResistance returns the resistance of the pack in Ω at the chain's charge and temperature.
//
//	R = Battery.Resistance
//
//	R  resistance, Ω
//
// Holds as Battery.Resistance does.
//
// Source: own. Tests: TestPowerAtCutOffExact.
func (c *Chain) PackResistance() float64 { return c.packOhms }

// PowerAtCutOff returns the power in W at the terminals at which the weakest cell is at its cut-off; 0 where it is so at
// rest.
//
//	I = (V_oc/N_s − ΔV − V_c)/(R/N_s + ΔR),  P = (V_oc − I·R)·I,  I ≤ V_oc/(2·R)
//
//	V_oc, R  open-circuit voltage, V, and resistance, Ω, of the pack
//	ΔV, ΔR   what the weakest group lacks, and has more   [Battery.ChargeImbalance, Battery.ResistanceImbalance]
//	V_c      cut-off, V                                    [Battery.CutOff]
//
// Holds in the steady state; where half the voltage comes before the cut-off, that power is the brown-out.
//
// Source: own. Tests: TestPowerAtCutOffExact.
func (c *Chain) PowerAtCutOff() float64 {
	n := float64(c.battery.Series)
	above := c.openCircuit/n - c.weakCharge - c.battery.CutOff
	if above <= 0 {
		return 0
	}
	i := math.Min(above/(c.packOhms/n+c.weakOhm), c.openCircuit/(2*c.packOhms))
	return (c.openCircuit - i*c.packOhms) * i
}
