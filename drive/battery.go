package drive

import (
	"errors"

	"jetwright/physics/electric"
)

// BatteryAt is the battery alone at a power, a charge and a temperature of its cells.
type BatteryAt struct {
	Rest       float64 // open-circuit voltage of the pack, V
	Resistance float64 // of the pack, whole, Ω
	Voltage    float64 // under the power, V
	Current    float64 // A
	Weakest    float64 // cell, V
	Most       float64 // power at which the weakest cell is at its cut-off, W; 0 if it is so at rest
	BrownOut   float64 // power beyond which the voltage breaks down, W
	Passes     bool    // the power is passed at all
}

// BatteryAt works the battery out at a power in W at its terminals, a charge from 0 to 1, and a temperature of its
// cells in K. The error is of a table that ends before.
func (m *Machine) BatteryAt(power, charge, temperature float64) (BatteryAt, error) {
	c := m.Chain
	var b BatteryAt
	if err := c.Recharge(charge, temperature); err != nil {
		return b, err
	}
	b.Rest, b.Resistance = c.OpenCircuit(), c.PackResistance()
	b.Most, b.BrownOut = c.PowerAtCutOff(), electric.MostPower(b.Rest, b.Resistance)
	if b.Voltage, b.Current, b.Passes = electric.ConstantPower(b.Rest, b.Resistance, power); b.Passes {
		b.Weakest = c.WeakestCell(b.Voltage, b.Current)
	}
	return b, nil
}

// Usable takes a power in W from the battery from its charge on, its cells at a temperature in K in air as warm, until
// something ends it.
func (m *Machine) Usable(power, temperature float64) electric.Discharge {
	b := m.Drive.Battery
	b.Temperature = temperature
	if b.Charge <= 0 {
		return electric.Discharge{End: electric.Empty, Temperature: temperature}
	}
	capacity, toAir := m.Drive.Thermal.Cell(b.Series*b.Parallel, b.CellCapacity)
	return b.Discharge(power, b.Relaxation(), electric.CellHeat{Capacity: capacity, ToAir: toAir, Surroundings: temperature})
}

// Recovery is the voltage of the pack in V a time in s after a long load at a current in A has stopped, at the battery's
// charge and temperature; below 0 s it is that under the load.
func (m *Machine) Recovery(current, time float64) float64 {
	b := &m.Drive.Battery
	rest, whole := m.Chain.OpenCircuit(), m.Chain.PackResistance()
	if time < 0 {
		return rest - current*whole
	}
	return rest - current*(whole-b.JointResistance)*(1-b.Relaxation().Share(time))
}

// LeastParallel is the least number of cells side by side with which a march is done, searched for up to four times what the
// drive has; 0 if that does not do. The error is why none can be marched.
func (d Drive) LeastParallel(p March) (int, error) {
	p.Every, p.Soak = 0, 0
	does := func(n int) (bool, error) {
		e := d
		e.Battery.Parallel = n
		m, err := e.Resolve()
		var u *Unmet
		if errors.As(err, &u) {
			return false, nil
		}
		if err != nil {
			return false, err
		}
		x, err := NewMarcher(m)
		if errors.As(err, &u) {
			return false, nil
		}
		if err != nil {
			return false, err
		}
		var out Marched
		if err := x.Run(p, &out); err != nil {
			return false, err
		}
		return out.Ending.Kind == Finished, nil
	}
	low, high := d.Battery.Parallel, 4*d.Battery.Parallel
	if ok, err := does(high); err != nil || !ok {
		return 0, err
	}
	for high-low > 1 {
		mid := (low + high) / 2
		ok, err := does(mid)
		if err != nil {
			return 0, err
		}
		if ok {
			high = mid
		} else {
			low = mid
		}
	}
	return high, nil
}

// Discharge is what a battery gives at a constant power until something ends it.
type Discharge = electric.Discharge

// PreChargeState is what a pre-charge comes to.
type PreChargeState = electric.PreChargeState

// FuseLasting is the current in A that a fuse of a rating carries for good; see electric.FuseLasting.
func FuseLasting(rating float64) float64 { return electric.FuseLasting(rating) }

// BleedTime is how long capacitors take to empty; see electric.BleedTime.
func BleedTime(resistance, capacitance, from, to float64) float64 {
	return electric.BleedTime(resistance, capacitance, from, to)
}

// TransistorRMS is what each of a bridge's switches carries; see electric.TransistorRMS.
func TransistorRMS(phase float64) float64 { return electric.TransistorRMS(phase) }

// SkinStrand is the diameter in m of a round strand whose resistance a frequency in Hz raises by a hundredth, at a temperature
// in K; see electric.SkinFactor.
func SkinStrand(frequency, temperature float64) float64 {
	return electric.SkinStrand(frequency, temperature, 0.01)
}

// CableForDrop is the copper area in m² of a flexible cable that drops a voltage; see electric.CableAreaForDrop.
func CableForDrop(current, length, drop, temperature float64) float64 {
	return electric.CableAreaForDrop(current, length, drop, temperature)
}
