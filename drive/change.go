package drive

import (
	"jetwright/physics/electric"
	"jetwright/physics/jet"
)

// Changed works out the machine with its drive changed and its pump kept: another nozzle, motor or
// battery does not make another impeller. Resolve would place a new pump at the duty. An impeller of
// another diameter is the same one scaled; its head coefficient, design flow and efficiency move by
// the shares by which those numbers were changed. A typed pump table keeps its coefficients.
// Blades are worked out as they are changed: nothing of them was placed at the duty.
//
//	ψ'/ψ = ψ_typed'/ψ_typed,  φ_d'/φ_d = f'/f,  η'/η = (η_typed'·k')/(η_typed·k)
//
//	ψ    head coefficient at the design point, -      [Impeller.HeadCoefficient]
//	φ_d  flow coefficient of best efficiency, -       [Impeller.DesignFlowRatio]
//	η    best efficiency, installed, -                [Impeller.Efficiency, Impeller.InstalledFactor]
//	f, k design flow ratio and installed factor, -
//
// Holds for small changes: another pitch moves more of a pump's map than one point of it.
//
// Source: own. Tests: TestChangedExact, TestChangedLaw.
func (m *Machine) Changed(change func(*Drive)) (*Machine, error) {
	d := m.Drive
	change(&d)
	out := new(Machine)
	if err := d.layOut(out); err != nil {
		return nil, err
	}
	if m.blades != nil {
		return out, out.layBlades()
	}
	out.Design = m.Design
	if _, table := m.Path.Pump.(*jet.TablePump); table {
		out.Path.Pump = m.Path.Pump
		return out, nil
	}
	was, is := &m.Drive.Impeller, &d.Impeller
	out.estimated = m.estimated
	out.estimated.HeadCoefficient *= is.HeadCoefficient / was.HeadCoefficient
	out.estimated.FlowCoefficient *= is.DesignFlowRatio / was.DesignFlowRatio
	out.estimated.Efficiency *= is.Efficiency * is.InstalledFactor / (was.Efficiency * was.InstalledFactor)
	out.Path.Pump = &out.estimated
	return out, nil
}

// RunTime returns for how long in s the battery gives a power in W at its terminals, from its charge down to
// what ends it, with the cells at their temperature throughout.
//
//	t = E/P
//
//	E  energy that the battery gives at that power, J   [Battery.Discharge]
//
// Holds without the cells' own heat, which makes the time a little longer.
//
// Source: own. Tests: TestRunTimeExact.
func (m *Machine) RunTime(power float64) float64 {
	still := electric.CellHeat{Capacity: 1e12, ToAir: 1, Surroundings: m.Drive.Battery.Temperature}
	return m.Drive.Battery.Discharge(power, electric.Relaxation{}, still).Time
}
