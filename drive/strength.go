package drive

import (
	"math"
	"reflect"

	"jetwright/physics/blade"
	"jetwright/physics/strength"
	"jetwright/quantity"
)

// annulus is the water's way past the impeller's blades at a state.
func (m *Machine) annulus(s *State) strength.Annulus {
	d := &m.Drive
	return strength.Annulus{
		Tip: d.Impeller.Diameter / 2, Hub: d.Impeller.HubDiameter / 2, Density: m.Water.Density,
		Flow: s.Jet.Flow, Torque: s.Jet.ImpellerTorque, Speed: s.RotorSpeed,
	}
}

// impellerMass returns the mass of the impeller; estimated tells that nobody typed it.
func (m *Machine) impellerMass(a *strength.Annulus) (mass float64, estimated bool) {
	d := &m.Drive
	if d.ImpellerBuild.Mass.Set {
		return d.ImpellerBuild.Mass.Value, false
	}
	material, ok := strength.FindMaterial(d.ImpellerRow.Material)
	if !ok {
		material.Density = unknownDensity
	}
	return a.EstimatedMass(material.Density, d.Shaft.Diameter/2, d.Impeller.Length, m.bladeMean()), true
}

// unknownDensity is that of an impeller of which no material is typed, kg/m³: a metal's, so that its unbalance is not taken too small.
const unknownDensity = 8000

// bladeMean is a blade of the impeller as a plate: mean of its sections, or without sections what they usually are.
func (m *Machine) bladeMean() strength.BladeShape {
	d := &m.Drive
	b := strength.BladeShape{Number: d.Impeller.Blades, Chord: 0.45 * d.Impeller.Diameter, Thickness: 0.035 * d.Impeller.Diameter}
	if r := &d.ImpellerRow; m.blades != nil {
		b.Chord, b.Thickness = mean(r.Chord)*r.ChordFactor, mean(r.Thickness)*r.ThicknessFactor
	}
	return b
}

func mean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}

// shaftAround is the drive around the shaft at a state.
func (m *Machine) shaftAround(s *State) strength.ShaftAround {
	d := &m.Drive
	a := m.annulus(s)
	mass, _ := m.impellerMass(&a)
	around := strength.ShaftAround{
		Diameter: d.Shaft.Diameter, Speed: s.RotorSpeed, Torque: s.Jet.ImpellerTorque, Thrust: a.ImpellerThrust(),
		Mass: mass, Carried: a.CarriedWater(d.ImpellerBuild.WaterShare, d.Impeller.Length), Length: d.Impeller.Length,
		WaterDensity: m.Water.Density, Gravity: m.Path.Medium.Gravity, Sea: d.Water.Kind == "sea",
	}
	bore := d.bore()
	around.Seat, around.KeyWidth, around.KeyHeight, around.FlatDepth = bore.Form, bore.KeyWidth, 2*bore.KeyDepth, bore.FlatDepth
	if most := d.Controller.PhaseCurrentLimit; most.Set {
		if now, _ := m.Chain.PhaseCurrent(&s.Motor); now > 0 {
			around.Jam = math.Abs(s.MotorTorque) * most.Value / now * d.Shaft.Reduction * m.transmission
		}
	}
	return around
}

// bodyShare is the mean thickness of a blade over that of its root with its fillets, where no sections are typed: our own.
const bodyShare = 0.65

// root is a blade at its root: as typed for strength, else by the first of its sections where the pump is worked out from them, which a flare thickens.
func root(row *blade.Row, sections bool, number int, flare float64, chord, thickness quantity.Optional) strength.BladeRoot {
	b := strength.BladeRoot{Number: number}
	if sections {
		b.Lean, b.Plate = row.Lean, row.Form == "plate"
		b.Chord, b.Thickness = row.Chord[0]*row.ChordFactor, row.Thickness[0]*row.ThicknessFactor+flare
	}
	b.Chord, b.Thickness = chord.Or(b.Chord), thickness.Or(b.Thickness)
	return b
}

// FreeSpeed returns the speed of the impeller with no load at a full battery, in rad/s; why says why nothing bounds it.
//
//	Ω = U_full/(K·r)
//
//	U_full  voltage of the full battery, V   [Battery.Series]
//	K       constant of the motor with its magnets as warm as they are, V·s
//	r       motor revolutions per impeller revolution   [Shaft.Reduction]
//
// Holds as an upper bound: losses without load take some per cent. Where the controller weakens the field nothing here bounds it.
//
// Source: own. Tests: TestFreeSpeedExact.
func (m *Machine) FreeSpeed(s *State) (speed float64, why string) {
	if m.Chain.Weakens() {
		return 0, "the controller weakens the field, so that nothing here bounds the speed without load"
	}
	return m.Drive.Battery.FullVoltage() / m.Chain.ConstantAt(s.Motor.MagnetTemperature) / m.Drive.Shaft.Reduction, ""
}

// rotorAround is the drive around impeller, stator and housing at a state.
func (m *Machine) rotorAround(s *State, shaft *strength.ShaftAround) strength.RotorAround {
	d := &m.Drive
	r := strength.RotorAround{
		Annulus: m.annulus(s), Material: d.ImpellerRow.Material, Stator: d.StatorRow.Material, Bore: d.Shaft.Diameter / 2, Length: d.Impeller.Length,
		Root: root(&d.ImpellerRow, m.blades != nil, d.Impeller.Blades, d.HubMaking.RootFlare, d.ImpellerBuild.RootChord, d.ImpellerBuild.RootThickness),
		Vane: root(&d.StatorRow, m.blades != nil && d.StatorBladed, d.Stator.Blades, d.StatorMaking.RootFlare, d.StatorBuild.RootChord, d.StatorBuild.RootThickness),
		Gap:  d.Impeller.TipGap.Value, Off: d.ImpellerTip.GapEccentricity, Pressure: s.Jet.OutletPressure, Outlet: d.Stator.OuterDiameter.Or(d.Impeller.Diameter), Sea: shaft.Sea,
		Wall: d.DuctMaking.Wall, Nozzle: math.Min(d.NozzleMaking.Wall, d.StatorMaking.Wall), Bolts: float64(d.FlangeMaking.Bolts),
	}
	r.Circle = d.flange(math.Max(d.Impeller.Diameter, r.Outlet)/2 + math.Max(r.Wall, r.Nozzle)).BoltCircle
	r.Body = r.Root
	if row := &d.ImpellerRow; m.blades != nil {
		r.Body.Chord, r.Body.Thickness = mean(row.Chord)*row.ChordFactor, mean(row.Thickness)*row.ThicknessFactor
	} else {
		r.Body.Thickness *= bodyShare
	}
	switch row := &d.ImpellerRow; {
	case d.ImpellerBuild.RootAngle.Set:
		r.Root.Angle = d.ImpellerBuild.RootAngle.Value
	case m.blades != nil:
		r.Root.Angle = (row.InletAngle[0] + row.OutletAngle[0]) / 2
	default:
		r.Root.Angle = r.RootAngle()
	}
	r.FreeSpeed, r.FreeWhy = m.FreeSpeed(s)
	if r.ShiftWhy = d.ShaftBuild.Missing(); r.ShiftWhy == "" {
		r.Shift = d.ShaftBuild.Shift(shaft)
	}
	return r
}

// strengthLimits appends what may break.
func (m *Machine) strengthLimits(dst []quantity.Limit, s *State) []quantity.Limit {
	shaft := m.shaftAround(s)
	rotor := m.rotorAround(s, &shaft)
	return m.Drive.ImpellerBuild.Limits(m.Drive.ShaftBuild.Limits(dst, &shaft), &rotor, &m.Drive.Housing)
}

// StrengthPart returns the part whose making a field of a drive describes; empty for a field of anything else.
func StrengthPart(f quantity.Field) string {
	switch reflect.TypeFor[Drive]().Field(f.Index[0]).Name {
	case "ShaftBuild":
		return "shaft"
	case "ImpellerBuild":
		return "impeller"
	case "StatorBuild":
		return "stator"
	case "Housing":
		return "housing"
	}
	return ""
}

// NamedMaterial is what a part is made of, as typed.
type NamedMaterial struct {
	Path, Text string
	Known      bool
	WayOut     string
}

// Materials are what the parts of a drive are made of.
func (d *Drive) Materials() []NamedMaterial {
	list := []NamedMaterial{
		{Path: "shaft.material", Text: d.ShaftBuild.Material, WayOut: "or the nearest to it by strength, with yield_strength, tensile_strength and fatigue_strength from the certificate"},
		{Path: "impeller.material", Text: d.ImpellerRow.Material, WayOut: "or the nearest to it by stiffness and density; a fatigue test of your own goes before the table"},
		{Path: "stator.material", Text: d.StatorRow.Material, WayOut: "or the nearest to it by strength"},
		{Path: "housing.material", Text: d.Housing.Material, WayOut: "or the nearest to it by strength"},
	}
	for i := range list {
		_, list[i].Known = strength.FindMaterial(list[i].Text)
	}
	return list
}

// MaterialNames are the materials that there are data of.
func MaterialNames() []string { return strength.MaterialNames() }
