package strength

import "math"

// HoopStress returns the stress around a thin wall under pressure, in Pa.
//
//	σ = p·D/(2·t)
//
//	p  pressure inside over outside, Pa
//	D  inner diameter, m
//	t  wall, m
//
// Holds for t below a tenth of D; a thicker wall sees a little more at its inner face.
//
// Source: shigley-2008, eq. 3-53. Tests: TestHoopStressExact.
func HoopStress(pressure, diameter, wall float64) float64 { return pressure * diameter / (2 * wall) }

// FragmentEnergy returns the energy of a blade that comes off, in J.
//
//	E = ½·m·(Ω·r)²
//
//	m  mass of the blade, kg
//	Ω  speed, rad/s
//	r  radius of its centre of mass, m
//
// Holds for the flight along the tangent; the turning of the blade about itself adds little.
//
// Source: own. Tests: TestFragmentEnergyExact.
func FragmentEnergy(mass, speed, radius float64) float64 {
	v := speed * radius
	return mass * v * v / 2
}

// PunchEnergy returns the energy in J that punches a piece out of a wall.
//
//	E = ½·τ·P·t²,  τ = 0.6·R_m
//
//	R_m  tensile strength of the wall, Pa
//	P    perimeter of what strikes it, m
//	t    wall, m
//
// Holds for a tough metal: the shear force falls straight to nothing over the thickness; what bends and tears besides is left out, the safe side. A
// brittle wall shatters long before.
//
// Source: own. Tests: TestPunchEnergyExact.
func PunchEnergy(tensile, perimeter, wall float64) float64 {
	return shearShare * tensile * perimeter * wall * wall / 2
}

const shearShare = 0.6 // of the tensile strength, trade practice

// proofs are the stresses up to which bolts do not stretch for good, Pa: 0.2 % proof of stainless steel, proof stress of carbon steel (ISO 3506-1 and
// ISO 898-1, recalled, high).
var proofs = map[string]float64{
	"A2-50": 210 * mega, "A2-70": 450 * mega, "A4-70": 450 * mega, "A4-80": 600 * mega, "4.6": 225 * mega, "5.8": 380 * mega, "8.8": 580 * mega, "10.9": 830 * mega,
}

// pitches are those of coarse threads by nominal diameter, m (ISO 261, recalled, high).
var pitches = [...][2]float64{
	{2e-3, 0.4e-3},
	{2.5e-3, 0.45e-3},
	{3e-3, 0.5e-3},
	{4e-3, 0.7e-3},
	{5e-3, 0.8e-3},
	{6e-3, 1e-3},
	{8e-3, 1.25e-3},
	{10e-3, 1.5e-3},
	{12e-3, 1.75e-3},
	{16e-3, 2e-3},
	{20e-3, 2.5e-3},
	{24e-3, 3e-3},
	{30e-3, 3.5e-3},
}

// BoltArea returns the area of a bolt that carries, in m².
//
//	A = π/4·(d − 0.9382·p)²
//
//	d  nominal diameter, m   [Housing.BoltDiameter]
//	p  pitch of the coarse thread of the nearest size, m
//
// Holds for metric threads.
//
// Source: memory. Tests: TestBoltAreaPublished.
func BoltArea(diameter float64) float64 {
	pitch := 0.0
	best := math.Inf(1)
	for _, row := range pitches {
		if off := math.Abs(row[0] - diameter); off < best {
			best, pitch = off, row[1]
		}
	}
	d := diameter - 0.9382*pitch
	return math.Pi / 4 * d * d
}

// BoltForces returns what each bolt of a ring carries, in N: along it and across it.
//
//	F = p·π·D²/(4·n),  Q = T/(n·r)
//
//	p  pressure inside over outside, Pa
//	D  inner diameter, m
//	n  number of bolts
//	T  torque that stator and ring hold, N·m
//	r  radius of the bolts' circle, m
//
// Holds as an upper bound: the water's own momentum in the nozzle takes part of the pressure's force back, and friction under the heads part of the torque.
//
// Source: own. Tests: TestBoltForcesExact.
func BoltForces(pressure, diameter, torque, bolts, radius float64) (along, across float64) {
	return math.Max(0, pressure) * math.Pi / 4 * diameter * diameter / bolts, math.Abs(torque) / (bolts * radius)
}

// VaneStress returns the bending stress at the ends of a stator's vane, in Pa.
//
//	σ = F·L/(12·W),  F = 2·T/(Z·(R + h))
//
//	T     torque that the vanes take out of the water, N·m
//	Z     number of vanes
//	R, h  radii of casing and hub, m
//	L     R − h, m
//	W     section modulus of the vane about its chord, m³
//
// Holds for a vane that casing and hub hold alike, under an even load; one that is held at one end alone sees six times as much.
//
// Source: shigley-2008, table A-9. Tests: TestVaneStressExact.
func (a *Annulus) VaneStress(vane *BladeRoot) float64 {
	force := 2 * math.Abs(a.Torque) / (float64(vane.Number) * (a.Tip + a.Hub))
	return force * (a.Tip - a.Hub) / 12 / vane.Modulus()
}
