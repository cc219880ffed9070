package strength

import "math"

// BladeRoot is a blade where it leaves its hub, and how far it reaches.
type BladeRoot struct {
	Number           int
	Chord, Thickness float64 // at the root, m
	Angle            float64 // of the chord from the circumferential direction, rad
	Lean             float64 // of the stacking line from the radius, rad
	Plate            bool    // a bent plate, else a section that is thick in its middle
}

// Fullness of sections: area over chord times thickness; section modulus about the chord over c·t²; second moment over c·t³; modulus about the normal
// over t·c². For a plate those of a rectangle, else those of a lens bounded by two parabolas.
type fullness struct{ area, modulus, moment, edge float64 }

var (
	plateSection = fullness{1, 1.0 / 6, 1.0 / 12, 1.0 / 6}
	lensSection  = fullness{sectionFill, 8.0 / 105, 4.0 / 105, 1.0 / 15}
)

func (b *BladeRoot) section() fullness {
	if b.Plate {
		return plateSection
	}
	return lensSection
}

// Area returns the area of a blade's section, in m².
//
//	A = 2/3·c·t  lens,  A = c·t  plate
//
//	c, t  chord and largest thickness, m
//
// Holds for a section bounded by two parabolas; of usual profiles it is 0.65 to 0.75.
//
// Source: own. Tests: TestSectionExact.
func (b *BladeRoot) Area() float64 { return b.section().area * b.Chord * b.Thickness }

// Modulus returns the section modulus of a blade about its chord, in m³.
//
//	W = 8/105·c·t²  lens,  W = c·t²/6  plate
//
//	c, t  chord and largest thickness, m
//
// Holds for an uncambered section; camber stiffens it.
//
// Source: own. Tests: TestSectionExact, TestRootStressExact.
func (b *BladeRoot) Modulus() float64 {
	return b.section().modulus * b.Chord * b.Thickness * b.Thickness
}

// Moment returns the second moment of area of a blade about its chord, in m⁴.
//
//	I = 4/105·c·t³  lens,  I = c·t³/12  plate
//
//	c, t  chord and largest thickness, m
//
// Holds for an uncambered section; camber stiffens it.
//
// Source: own. Tests: TestSectionExact.
func (b *BladeRoot) Moment() float64 {
	return b.section().moment * b.Chord * b.Thickness * b.Thickness * b.Thickness
}

// RootMoments returns the moments of a blade's load about its root, in N·m: of its axial and of its tangential force.
//
//	M_a = 2π·Δp/Z·[(R³ − h³)/3 − h·(R² − h²)/2],  M_t = T·(R − h)²/(Z·(R² − h²))
//
//	Δp    rise of static pressure across the blades, Pa
//	T     torque of all blades, N·m
//	R, h  radii of tip and hub, m
//	Z     number of blades
//
// Holds for a mean line: a pressure that is the same at all radii, and water that leaves as a free vortex. How the load is spread along the
// chord, and what the uneven inflow adds, it does not know.
//
// Source: own. Tests: TestRootMomentsExact.
func (a *Annulus) RootMoments(number int) (axial, tangential float64) {
	r, h, z := a.Tip, a.Hub, float64(number)
	axial = 2 * math.Pi * a.PressureRise() / z * ((r*r*r-h*h*h)/3 - h*(r*r-h*h)/2)
	return axial, math.Abs(a.Torque) * (r - h) / (z * (r + h))
}

// RootAngle returns the angle of a chord at the hub from the circumferential direction, in rad, from the water's way alone.
//
//	tan β = c_m/(Ω·h − c_h/2),  c_h = c·r/h
//
//	c_m   axial velocity, m/s
//	Ω     speed, rad/s
//	h, r  radii of hub and mean line, m
//	c     tangential velocity behind at the mean radius, m/s
//
// Holds for a chord along the mean of the water's directions ahead and behind; beyond a right angle where the hub turns too slowly for the load.
//
// Source: dixon-hall-2010. Tests: TestMeanLineExact.
func (a *Annulus) RootAngle() float64 {
	axial := a.Flow / (math.Pi * (a.Tip*a.Tip - a.Hub*a.Hub))
	return math.Atan2(axial, a.Speed*a.Hub-a.Whirl()*a.MeanRadius()/a.Hub/2)
}

// BendingStress returns the bending stress at a blade's root, in Pa.
//
//	σ = (M_a·cos β + M_t·sin β)/W + |M_a·sin β − M_t·cos β|/W_e
//
//	M_a, M_t  moments of axial and tangential force about the root, N·m
//	β         angle of the chord from the circumferential direction, rad   [Impeller.RootAngle]
//	W, W_e    section moduli about the chord and across it, m³             [Impeller.RootChord], [Impeller.RootThickness]
//
// Holds for a beam; both parts are added although they do not meet in one point. A blade that is wider than long is a plate, and carries
// more than this in its middle.
//
// Source: own. Tests: TestRootStressExact.
func (b *BladeRoot) BendingStress(axial, tangential float64) float64 {
	sin, cos := math.Sincos(b.Angle)
	edge := b.section().edge * b.Thickness * b.Chord * b.Chord
	return math.Abs(axial*cos+tangential*sin)/b.Modulus() + math.Abs(axial*sin-tangential*cos)/edge
}

// PullStress returns the stress at a blade's root from its own turning, in Pa.
//
//	σ = ρ·Ω²·(R² − h²)/2·[1 + A·tan γ·((R − h)/2)/W]
//
//	ρ     density of the blade, kg/m³
//	Ω     speed, rad/s
//	R, h  radii of tip and hub, m
//	γ     lean of the blade from the radius, rad
//	A, W  area and section modulus of the root, m², m³
//
// Holds for a blade with the same section all along: thinner tips pull less.
//
// Source: own. Tests: TestPullStressExact.
func (b *BladeRoot) PullStress(density, speed, tip, hub float64) float64 {
	pull := density * speed * speed * (tip*tip - hub*hub) / 2
	return pull * (1 + b.Area()*math.Abs(math.Tan(b.Lean))*(tip-hub)/2/b.Modulus())
}

// TipDeflection returns how far a blade's tip bends out of the way, in m.
//
//	y = M·L²/(4·E·I)
//
//	M  moment at the root about the chord, N·m
//	L  length of the blade, m
//	E  modulus, Pa
//	I  second moment of area, m⁴
//
// Holds for a beam under a load that is even along it.
//
// Source: shigley-2008, table A-9. Tests: TestTipDeflectionExact.
func (b *BladeRoot) TipDeflection(moment, length, modulus float64) float64 {
	return moment * length * length / (4 * modulus * b.Moment())
}

const firstBending = 1.8751040687 // root of cos x·cosh x = −1

// Frequency returns the first bending frequency of a blade, in Hz.
//
//	f = 1.8751²/(2π)·√(E·I/((ρ·A + m_w)·L⁴)),  m_w = π/4·ρ_w·c²·κ,  κ = 2·L/(2·L + 0.7·c)
//
//	E        modulus, Pa
//	I, A     second moment and area of the section, m⁴, m²
//	ρ, ρ_w   density of blade and water, kg/m³; ρ_w = 0 in air
//	L, c     length and chord, m
//	         a factor for taper, twist and the hub's giving way is put on the result   [Impeller.FrequencyFactor]
//	κ        share of a long strip's water that a short plate moves, counted with its mirror image in the hub
//
// Holds for an even cantilever in open water; neighbours within a chord and a duct within a tenth of it add water. κ follows a table of rectangular
// plates (recalled, medium) within 2.5 %. Wider than long it is a first guess.
//
// Source: memory. Tests: TestFrequencyExact, TestPlateWaterPublished.
func (b *BladeRoot) Frequency(length, modulus, density, water float64) float64 {
	line := density*b.Area() + math.Pi/4*water*b.Chord*b.Chord*PlateWater(2*length/b.Chord)
	return firstBending * firstBending / (2 * math.Pi) * math.Sqrt(modulus*b.Moment()/(line*length*length*length*length))
}

// PlateWater returns the mass of water that moves with a rectangular plate over that of the cylinder about its shorter side, dimensionless.
//
//	κ = x/(x + 0.7)
//
//	x  longer over shorter side, -; below 1 it goes on
//
// Holds for x from 1 to 10 within 2.5 % of the table it was fitted to.
//
// Source: memory. Tests: TestPlateWaterPublished.
func PlateWater(ratio float64) float64 { return ratio / (ratio + 0.7) }

// Separation returns how far a blade's frequency is from the nearest frequency that shakes it, as a share of that, dimensionless.
//
//	s = min_k |f/(k·n) − 1|,  k = 1, 2, Z
//
//	f  frequency of the blade in water, Hz
//	n  revolutions by second, Hz
//	Z  number of vanes, of which a blade meets each once in a revolution
//
// Holds for inflow that is uneven once or twice around, as behind an intake; what is uneven more often, and the vanes' second multiple, shake less and are left out. A tenth to a fifth is kept by common practice.
//
// Source: own. Tests: TestSeparationExact.
func Separation(frequency, speed float64, vanes int) float64 {
	least := math.Inf(1)
	n := speed / (2 * math.Pi)
	for _, k := range [...]int{1, 2, vanes} {
		if k > 0 {
			least = math.Min(least, math.Abs(frequency/(float64(k)*n)-1))
		}
	}
	return least
}

// RingStress returns the largest stress in a turning hub with blades on it, in Pa: at its bore, around it.
//
//	σ = ρ·Ω²/4·[(3 + ν)·b² + (1 − ν)·a²] + 2·q·b²/(b² − a²),  q = Z·F/(2π·b·l)
//
//	ρ, ν  density, kg/m³, and Poisson's ratio of the hub
//	Ω     speed, rad/s
//	a, b  radii of bore and hub, m
//	q     pull of the blades by the hub's outer face, Pa: Z blades with F each on the length l
//
// Holds for a hub that is flat against its diameter; a long one has some per cent more.
//
// Source: shigley-2008, eq. 3-55. Tests: TestRingStressExact.
func (h *Hub) RingStress(speed, pull float64) float64 {
	a, b := h.Bore, h.Radius
	own := h.Density * speed * speed / 4 * ((3+h.Poisson)*b*b + (1-h.Poisson)*a*a)
	q := pull / (2 * math.Pi * b * h.Length)
	return own + 2*q*b*b/(b*b-a*a)
}

// Hub carries the blades.
type Hub struct {
	Bore, Radius, Length float64 // radii and length, m
	Density, Poisson     float64
	Modulus              float64 // Pa
}

// Growth returns by how much the tip of a blade moves outwards as it turns, in m.
//
//	u = ρ·Ω²·b/(4·E)·[(1 − ν)·b² + (3 + ν)·a²] + ρ·Ω²/(2·E)·[R²·(R − b) − (R³ − b³)/3]
//
//	ρ, E, ν  density, modulus, Poisson's ratio
//	Ω        speed, rad/s
//	a, b, R  radii of bore, hub and tip, m
//
// Holds for an elastic hub without the pull of its blades, and a blade with the same section all along.
//
// Source: own. Tests: TestGrowthExact.
func (h *Hub) Growth(speed, tip float64) float64 {
	a, b, w := h.Bore, h.Radius, h.Density*speed*speed/h.Modulus
	return w*b/4*((1-h.Poisson)*b*b+(3+h.Poisson)*a*a) + w/2*(tip*tip*(tip-b)-(tip*tip*tip-b*b*b)/3)
}
