package strength

import "math"

// Annulus is the water's way past the blades at a state.
type Annulus struct {
	Tip, Hub float64 // radii, m
	Density  float64 // of the water, kg/m³
	Flow     float64 // m³/s
	Torque   float64 // on the impeller, N·m
	Speed    float64 // rad/s
}

// MeanRadius returns the radius in m that halves an annulus.
//
//	r = √((R² + r_h²)/2)
//
//	R, r_h  radii of tip and hub, m
//
// Holds by definition.
//
// Source: own. Tests: TestMeanLineExact.
func (a *Annulus) MeanRadius() float64 { return math.Sqrt((a.Tip*a.Tip + a.Hub*a.Hub) / 2) }

// Whirl returns the tangential velocity of the water behind the impeller at the mean radius, in m/s.
//
//	c = T/(ρ·Q·r)
//
//	T  torque on the impeller, N·m
//	ρ  density, kg/m³
//	Q  flow, m³/s
//	r  mean radius, m
//
// Holds for water that comes without whirl. All of the torque is taken to turn water, friction of discs too: the safe side.
//
// Source: dixon-hall-2010. Tests: TestMeanLineExact.
func (a *Annulus) Whirl() float64 { return a.Torque / (a.Density * a.Flow * a.MeanRadius()) }

// PressureRise returns the rise of static pressure across the impeller at the mean radius, in Pa.
//
//	Δp = ρ·(Ω·r·c − c²/2)
//
//	Ω  speed, rad/s
//	r  mean radius, m
//	c  tangential velocity behind, m/s
//
// Holds for an axial velocity that stays as it is, without loss in the impeller: the safe side.
//
// Source: dixon-hall-2010. Tests: TestMeanLineExact.
func (a *Annulus) PressureRise() float64 {
	c := a.Whirl()
	return a.Density * (a.Speed*a.MeanRadius()*c - c*c/2)
}

// ImpellerThrust returns the thrust of the impeller on its shaft, in N.
//
//	F = Δp·π·R²
//
//	Δp  rise of static pressure across the impeller, Pa
//	R   tip radius, m
//
// Holds for a hub whose faces see the pressures ahead and behind: an upper bound where a seal or the stator's hub shields the rear
// one. It is not the drive's thrust, most of which the nozzle's and the duct's walls give or take.
//
// Source: own. Tests: TestMeanLineExact.
func (a *Annulus) ImpellerThrust() float64 { return a.PressureRise() * math.Pi * a.Tip * a.Tip }

// EstimatedMass returns the mass of an impeller from its sizes, in kg.
//
//	m = ρ·[π·(r_h² − r_s²)·L + Z·c·t·(R − r_h)·2/3]
//
//	ρ    density of its material, kg/m³
//	r_s  radius of the shaft, m
//	L    length, m
//	Z    number of blades
//	c, t chord and largest thickness, m
//
// Holds as an estimate for a solid hub, ± 30 %; a hollow one is lighter.
//
// Source: own. Tests: TestEstimatedMassExact.
func (a *Annulus) EstimatedMass(density, shaftRadius, length float64, b BladeShape) float64 {
	return density * (math.Pi*(a.Hub*a.Hub-shaftRadius*shaftRadius)*length + float64(b.Number)*b.Chord*b.Thickness*(a.Tip-a.Hub)*sectionFill)
}

// sectionFill is the area of a blade's section over chord times largest thickness: that of a lens.
const sectionFill = 2.0 / 3

// BladeShape is a blade as a beam: numbers of its root, or of its mean.
type BladeShape struct {
	Number           int
	Chord, Thickness float64 // m
}

// CarriedWater returns the mass of water that moves aside with an impeller, in kg.
//
//	m = k·ρ·π·(R² − r_h²)·L
//
//	k  share of the water between the blades   [Impeller.WaterShare]
//	L  length of the impeller, m
//
// Holds as an order of size: tests of marine propellers put a tenth to a third of the propeller's mass to it (recalled, medium), and a
// polymer impeller is as light as its water.
//
// Source: own. Tests: TestEstimatedMassExact.
func (a *Annulus) CarriedWater(share, length float64) float64 {
	return share * a.Density * math.Pi * (a.Tip*a.Tip - a.Hub*a.Hub) * length
}
