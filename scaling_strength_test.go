package house

import (
	"testing"

	"jetwright/physics/strength"
	"jetwright/quantity"
)

type strengthIn struct {
	Tip       float64 `unit:"m" doc:"tip"`
	Hub       float64 `unit:"m" doc:"hub"`
	Bore      float64 `unit:"m" doc:"bore"`
	Length    float64 `unit:"m" doc:"length"`
	Chord     float64 `unit:"m" doc:"chord"`
	Thickness float64 `unit:"m" doc:"thickness"`
	Water     float64 `unit:"kg/m³" doc:"water"`
	Density   float64 `unit:"kg/m³" doc:"density"`
	Modulus   float64 `unit:"Pa" doc:"modulus"`
	Flow      float64 `unit:"m³/s" doc:"flow"`
	Torque    float64 `unit:"N·m" doc:"torque"`
	Speed     float64 `unit:"rad/s" doc:"speed"`
	Force     float64 `unit:"N" doc:"force"`
	Mass      float64 `unit:"kg" doc:"mass"`
	Grade     float64 `unit:"m/s" doc:"balance grade"`
	Strength  float64 `unit:"Pa" doc:"strength"`
}

type strengthOut struct {
	Thrust     float64 `unit:"N" doc:"thrust of the impeller"`
	Axial      float64 `unit:"N·m" doc:"moment"`
	Tangential float64 `unit:"N·m" doc:"moment"`
	Bending    float64 `unit:"Pa" doc:"bending"`
	Pull       float64 `unit:"Pa" doc:"pull"`
	Deflection float64 `unit:"m" doc:"deflection"`
	Frequency  float64 `unit:"rad/s" doc:"frequency"`
	Ring       float64 `unit:"Pa" doc:"ring"`
	Growth     float64 `unit:"m" doc:"growth"`
	Estimated  float64 `unit:"kg" doc:"mass"`
	Carried    float64 `unit:"kg" doc:"water"`
	Critical   float64 `unit:"rad/s" doc:"critical speed"`
	Rayleigh   float64 `unit:"rad/s" doc:"critical speed"`
	Dunkerley  float64 `unit:"rad/s" doc:"critical speed"`
	Shift      float64 `unit:"m" doc:"shift of the shaft"`
	Shaft      float64 `unit:"Pa" doc:"stress of the shaft"`
	Key        float64 `unit:"Pa" doc:"stress of the key"`
	Flat       float64 `unit:"Pa" doc:"pressure on the flat"`
	Seal       float64 `unit:"m/s" doc:"speed of the seal"`
	Unbalance  float64 `unit:"N" doc:"unbalance"`
	Hoop       float64 `unit:"Pa" doc:"hoop"`
	Fragment   float64 `unit:"J" doc:"energy"`
	Punch      float64 `unit:"J" doc:"energy"`
	Life       float64 `unit:"s" doc:"life"`
	Ball       float64 `unit:"N" doc:"load"`
	Vane       float64 `unit:"Pa" doc:"vane"`
	Bolt       float64 `unit:"N" doc:"bolt"`
}

func strengthCase(t *testing.T, s *sizes) any {
	in := strengthIn{0.047, 0.02, 0.006, 0.05, 0.04, 0.004, 1000, 2700, 7e10, 0.03, 8, 400, 50, 0.3, 0.016, 3e8}
	if s != nil {
		rescale(t, &in, *s)
	}
	a := strength.Annulus{Tip: in.Tip, Hub: in.Hub, Density: in.Water, Flow: in.Flow, Torque: in.Torque, Speed: in.Speed}
	b := strength.BladeRoot{Number: 4, Chord: in.Chord, Thickness: in.Thickness, Angle: 0.8, Lean: 0.1}
	hub := strength.Hub{Bore: in.Bore, Radius: in.Hub, Length: in.Length, Density: in.Density, Poisson: 0.3, Modulus: in.Modulus}
	shaft := strength.Shaft{Support: "ahead", BearingSpan: quantity.Some(2 * in.Length), Overhang: quantity.Some(in.Length)}
	around := strength.ShaftAround{Diameter: 2 * in.Bore, Mass: in.Mass, WaterDensity: in.Water}
	rotor := shaft.Rotor(&around, &strength.Material{Modulus: in.Modulus, Density: in.Density})
	load := strength.ShaftLoad{BendingMean: in.Torque, TorqueMean: in.Torque, Axial: in.Force, NotchBending: 2, NotchTorsion: 1.5}
	out := &strengthOut{Thrust: a.ImpellerThrust()}
	out.Axial, out.Tangential = a.RootMoments(4)
	out.Bending, out.Pull = b.BendingStress(out.Axial, out.Tangential), b.PullStress(in.Density, in.Speed, in.Tip, in.Hub)
	out.Deflection, out.Frequency = b.TipDeflection(out.Axial, in.Tip-in.Hub, in.Modulus), b.Frequency(in.Tip-in.Hub, in.Modulus, in.Density, in.Water)
	out.Ring, out.Growth = hub.RingStress(in.Speed, in.Force), hub.Growth(in.Speed, in.Tip)
	out.Estimated = a.EstimatedMass(in.Density, in.Bore, in.Length, strength.BladeShape{Number: 4, Chord: in.Chord, Thickness: in.Thickness})
	out.Carried = a.CarriedWater(0.2, in.Length)
	out.Critical, out.Rayleigh, out.Dunkerley = rotor.Critical(), rotor.RayleighBound(), rotor.DunkerleyBound()
	out.Shift, out.Shaft = shaft.Deflection(in.Force, rotor.Rigidity), load.Stress(2*in.Bore).Mean
	out.Key, _ = strength.KeyStress(in.Torque, 2*in.Bore, in.Thickness, in.Thickness, in.Length)
	out.Flat, out.Seal = strength.FlatPressure(in.Torque, 2*in.Bore, in.Bore/5, in.Length), strength.SealSpeed(2*in.Bore, in.Speed)
	out.Unbalance, out.Hoop = strength.Unbalance(in.Mass, in.Grade, in.Speed), strength.HoopStress(in.Strength, in.Tip, in.Thickness)
	out.Fragment, out.Punch = strength.FragmentEnergy(in.Mass, in.Speed, in.Hub), strength.PunchEnergy(in.Strength, in.Chord, in.Thickness)
	out.Life, out.Ball, out.Vane = strength.BasicLife(3*in.Force, in.Force, in.Speed), strength.BallLoad(in.Force, in.Force, 9*in.Force), a.VaneStress(&b)
	out.Bolt, _ = strength.BoltForces(in.Strength, in.Tip, in.Torque, 6, in.Tip)
	return out
}
