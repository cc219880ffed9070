package drive

import (
	"math"

	"jetwright/physics/blade"
	"jetwright/physics/strength"
)

// StrengthState is what the parts of the drive see at a state.
type StrengthState struct {
	Shaft strength.ShaftState
	Rotor strength.RotorState
}

// StrengthWork is what holds the drive together at a state, with what a list of limits does not show.
type StrengthWork struct {
	State          StrengthState
	ShaftWhy       string // why the shaft is not worked out; empty if it is
	BladeWhy       string // the same of the blades
	Sections       []ShaftSection
	Dunkerley      float64 // bounds of the first critical speed, rad/s
	Rayleigh       float64
	NeededFront    float64 // dynamic load rating that the front bearing needs for the life asked for, N
	NeededAft      float64 // 0 where it is no ball bearing
	Mass, Carried  float64 // of the impeller and of the water that it moves aside, kg
	MassEstimated  bool
	DrawnMass      float64 // of the impeller as it is drawn for export, kg; 0 where it cannot be drawn
	Materials      []UsedMaterial
	Sectioned      bool    // the blades were solved section by section
	SectionAxial   float64 // moment of a blade's axial and tangential force about its root by that, over those of the mean line
	SectionTangent float64
	Reversed       bool    // the blade is wider than long
	SpinTest       float64 // speed of a spin test, rad/s
	Chord          float64 // of the blade in its mean, m
}

// ShaftSection is a place of the shaft with its factors.
type ShaftSection struct {
	strength.Section
	Factors [4]float64 // Goodman, Gerber, ASME, Soderberg
}

// UsedMaterial is a part's material as it is taken.
type UsedMaterial struct {
	Part, Text string
	Known      bool
	strength.Material
	Wet float64 // fatigue strength in the drive's water, as typed or by the table, Pa; 0 if unknown
	Own bool    // it is the builder's own figure
}

// HoldsTogether tells that a limit is one of strength.
func HoldsTogether(name string) bool { return strength.Holds(name) }

// StrengthAt works strength out at a state, for its figures alone.
func (m *Machine) StrengthAt(s *State) StrengthState {
	shaft := m.shaftAround(s)
	rotor := m.rotorAround(s, &shaft)
	var out StrengthState
	if m.Drive.ShaftBuild.Missing() == "" {
		out.Shaft = m.Drive.ShaftBuild.Work(&shaft)
	}
	out.Rotor = m.Drive.ImpellerBuild.Work(&rotor)
	return out
}

// StrengthWorkAt works strength out at a state.
func (m *Machine) StrengthWorkAt(s *State) *StrengthWork {
	shaft := m.shaftAround(s)
	rotor := m.rotorAround(s, &shaft)
	build := &m.Drive.ShaftBuild
	w := &StrengthWork{State: m.StrengthAt(s), ShaftWhy: build.Missing(), BladeWhy: rotor.BladeMissing()}
	_, w.MassEstimated = m.impellerMass(&rotor.Annulus)
	w.Mass, w.Carried = shaft.Mass, shaft.Carried
	w.DrawnMass = m.drawnMass()
	if w.ShaftWhy == "" {
		for _, x := range w.State.Shaft.Sections {
			w.Sections = append(w.Sections, ShaftSection{x, x.Factors()})
		}
		r := build.WhirlingRotor(&shaft)
		w.Dunkerley, w.Rayleigh = r.DunkerleyBound(), r.RayleighBound()
		turns := build.BearingLife * s.RotorSpeed / (2 * math.Pi)
		w.NeededFront = strength.NeededRating(w.State.Shaft.FrontEquivalent, turns, strength.BasicReliability)
		if build.AftBearing == "ball" {
			w.NeededAft = strength.NeededRating(w.State.Shaft.AftEquivalent, turns, strength.BasicReliability)
		}
	}
	w.Reversed = rotor.Body.Chord > rotor.Tip-rotor.Hub
	w.Chord = rotor.Body.Chord
	w.SpinTest = strength.SpinTest * rotor.FreeSpeed
	w.materials(m, shaft.Sea)
	m.sectionMoments(w, s, &rotor)
	return w
}

// massTolerance is how far the mesh that a mass is taken from may leave the surface, m.
const massTolerance = 0.2e-3

// drawnMass returns the mass of the impeller as it is drawn for export, of its process's density or its material's; 0 where it
// cannot be drawn.
func (m *Machine) drawnMass() float64 {
	d := &m.Drive
	material, ok := strength.FindMaterial(d.ImpellerRow.Material)
	if m.blades == nil || !ok {
		return 0
	}
	s, err := d.Shapes()
	if err != nil {
		return 0
	}
	mesh, fault := s.Impeller.Mesh(massTolerance)
	if fault != nil {
		return 0
	}
	return mesh.Properties(d.Process.Density.Or(material.Density)).Mass
}

func (w *StrengthWork) materials(m *Machine, sea bool) {
	own := map[string]float64{"shaft": m.Drive.ShaftBuild.FatigueStrength.Or(0), "impeller": m.Drive.ImpellerBuild.FatigueStrength.Or(0)}
	for _, x := range m.Drive.Materials() {
		if x.Text == "" {
			continue
		}
		u := UsedMaterial{Part: x.Path[:len(x.Path)-len(".material")], Text: x.Text, Known: x.Known}
		u.Material, _ = strength.FindMaterial(x.Text)
		u.Wet = u.InWater(sea)
		if f := own[u.Part]; f > 0 {
			u.Wet, u.Own = f, true
		}
		w.Materials = append(w.Materials, u)
	}
}

// sectionMoments sums the load of a blade over the stream surfaces of the blades solved in full, where there are blades.
func (m *Machine) sectionMoments(w *StrengthWork, s *State, r *strength.RotorAround) {
	if m.blades == nil || w.BladeWhy != "" {
		return
	}
	pump := m.Drive.Pump()
	stage, reason := blade.NewStage(&pump, BladeRadii)
	var st blade.State
	if reason != blade.Solved || stage.Solve(m.bladeCondition(s.Jet.RotorSpeed, s.Jet.Flow), &st) != blade.Solved {
		return
	}
	axial, tangential := st.RootMoments(r.Hub, m.Water.Density, r.Root.Number)
	w.Sectioned = true
	w.SectionAxial, w.SectionTangent = axial/w.State.Rotor.AxialMoment, tangential/w.State.Rotor.TangentialMoment
}
