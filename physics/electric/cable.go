package electric

import "math"

// cableResistivity is ρ of flexible cable by its nominal area at 20 °C, Ω·m: the
// greatest resistance of class 5 times its area (IEC 60228), which scatters by 2 %.
const cableResistivity = 1.95e-8

// cableBound is where a cable's resistance stops rising if no limit of its insulation is typed, K.
const cableBound = 473.15

// GaugeArea returns the copper area in m² of an American wire gauge; 0, −1, −2 and −3 are 1/0 to 4/0.
//
//	A = π/4·(0.127 mm)²·92^[(36 − n)/19.5]
//
//	n  gauge number
//
// Holds by definition; strands may be a few per cent less.
//
// Source: memory. Tests: TestGaugePublished.
func GaugeArea(gauge int) float64 {
	const d = 0.127e-3
	return math.Pi / 4 * d * d * math.Pow(92, float64(36-gauge)/19.5)
}

// Cable is a pair of flexible copper conductors, out and back, side by side in still air.
type Cable struct {
	Area, Length float64 // of a conductor, m²; one way, m
	Air          float64 // round it, K
	Bound        float64 // of its insulation, K: there its resistance stops rising
	conductance  float64 // from a metre of conductor to the air, W/(m·K)
}

// NewCable makes a cable from its copper area in m², length one way in m, and the temperatures
// round it and of its insulation's bound in K.
func NewCable(area, length, air, bound float64) Cable {
	c := Cable{Area: area, Length: length, Air: air, Bound: bound}
	// The coefficient of the surface changes slowly: it is taken at half the way to the bound.
	bare, over := c.diameters()
	surface := air + math.Max(10, math.Min(40, 0.5*(bound-air)))
	const insulation = 0.2 // W/(m·K), of PVC and silicone
	h := SurfaceTransfer(over, surface, air)
	c.conductance = 1 / (math.Log(over/bare)/(2*math.Pi*insulation) + 1/(math.Pi*over*h))
	return c
}

// diameters are those of the strand and over its insulation: a fill of 0.65, and a wall of
// 0.8 mm that grows by 4 % of the strand.
func (c Cable) diameters() (bare, over float64) {
	bare = math.Sqrt(4 * c.Area / (0.65 * math.Pi))
	return bare, bare + 2*(0.8e-3+0.04*bare)
}

// Resistance returns the resistance of the cable out and back in Ω at a conductor temperature in K.
//
//	R = 2·L·ρ/A·[1 + α₂₀·(t − 20 °C)],  ρ = 1.95e-8 Ω·m
//
//	L  length one way, m      [Battery.CableLength]
//	A  nominal copper area, m²  [Battery.CableArea]
//	t  conductor temperature, K
//
// Holds for flexible plain copper to 2 %; ρ is that of class 5 by nominal area, not that of the metal.
//
// Source: iec-60228, iec-60028. Tests: TestCablePublished.
func (c Cable) Resistance(temperature float64) float64 {
	return 2 * c.Length * cableResistivity / c.Area * (1 + annealedCopper*(temperature-copperZero))
}

// CableAreaForDrop returns the copper area in m² of a flexible cable that drops a voltage in V out and
// back, at a current in A, a length one way in m and a conductor temperature in K.
//
//	A = 2·L·I·ρ·[1 + α₂₀·(t − 20 °C)]/ΔU,  ρ = 1.95e-8 Ω·m
//
//	L, I  length one way, m, and current, A
//	ΔU    voltage that may be lost, V
//	t     conductor temperature, K
//
// Holds as Cable.Resistance does. The US small-craft rule, circular mils = 10.75·I·L/E in feet, is the
// same with 1.787e-8 Ω·m. An area that drops little may still be too hot: Ampacity says.
//
// Source: iec-60228, abyc-e11. Tests: TestCableDropPublished.
func CableAreaForDrop(current, length, drop, temperature float64) float64 {
	return 2 * length * current * cableResistivity * (1 + annealedCopper*(temperature-copperZero)) / drop
}

// Temperature returns the steady temperature in K of the conductor at a current in A, and the
// temperature at which its resistance is taken: the same below the bound; above it, or where the
// conductor would never settle, the bound, and the first is where the loss there leads.
//
//	t = t_a + I²·R′(t)/G,  R′(t) = ρ/A·[1 + α₂₀·(t − 20 °C)],  G = 1/{ln(D/d)/(2π·k) + 1/(π·D·h)}
//
//	t_a  air, K                                        [Battery.CableSurroundings]
//	I    current, A
//	d, D diameters of the strand and over insulation, m
//	k, h insulation 0.2 W/(m·K); surface, W/(m²·K), by SurfaceTransfer
//
// Holds for a single conductor in still air; in a bundle, a conduit or foam it is hotter, in water colder.
//
// Source: own. Tests: TestAmpacityPublished, TestCableExact.
func (c Cable) Temperature(current float64) (shown, at float64) {
	perMetre := current * current * cableResistivity / c.Area / c.conductance // K at 20 °C
	gain := perMetre * annealedCopper
	if gain < 1 {
		t := (c.Air + perMetre*(1-annealedCopper*copperZero)) / (1 - gain)
		if t <= c.Bound {
			return t, t
		}
	}
	return c.Air + perMetre*(1+annealedCopper*(c.Bound-copperZero)), c.Bound
}

// Ampacity returns the current in A at which the conductor settles at its insulation's bound.
//
//	I = √{(t − t_a)·G/R′(t)}
//
//	t    bound of the insulation, K   [Battery.CableLimit]
//	t_a  air, K
//
// Holds as Temperature does. Tables of local codes go first.
//
// Source: own, abyc-e11. Tests: TestAmpacityPublished.
func (c Cable) Ampacity() float64 {
	if c.Bound <= c.Air {
		return 0
	}
	r := cableResistivity / c.Area * (1 + annealedCopper*(c.Bound-copperZero))
	return math.Sqrt((c.Bound - c.Air) * c.conductance / r)
}

// SurfaceTransfer returns the heat transfer coefficient in W/(m²·K) of a level cylinder of a diameter
// in m in still air, at its surface's and the air's temperature in K, radiation included.
//
//	Nu = {0.60 + 0.387·Ra^(1/6)/[1 + (0.559/Pr)^(9/16)]^(8/27)}²,  h = Nu·k/D + ε·σ·(t_s + t_a)·(t_s² + t_a²)
//
//	Ra   g·ΔT·D³·Pr/(t_f·ν²), air at the mean temperature t_f
//	ε    0.9, of insulation
//
// Holds for Rayleigh numbers up to 1e12; air between 250 and 450 K.
//
// Source: churchill-chu-1975. Tests: TestSurfaceTransferPublished.
func SurfaceTransfer(diameter, surface, air float64) float64 {
	const (
		gravity   = 9.80665
		prandtl   = 0.707
		radiation = 0.9 * 5.670374419e-8
	)
	mean := (surface + air) / 2
	viscosity := 15.89e-6 * math.Pow(mean/300, 1.76)
	conductivity := 26.3e-3 * math.Pow(mean/300, 0.85)
	rayleigh := gravity * math.Abs(surface-air) * diameter * diameter * diameter * prandtl / (mean * viscosity * viscosity)
	root := 0.60 + 0.387*math.Pow(rayleigh, 1.0/6)/math.Pow(1+math.Pow(0.559/prandtl, 9.0/16), 8.0/27)
	return root*root*conductivity/diameter + radiation*(surface+air)*(surface*surface+air*air)
}

// fuseShare is the share of a fuse's rating that a lasting current may take.
const fuseShare = 0.75

// FuseTime returns how long a fuse takes to melt at a current in A, in s, from its melting integral
// in A²·s.
//
//	t = (I²t)/I²
//
//	I²t  melting integral by the fuse's sheet, A²·s
//
// Holds for times so short that no heat leaves the wire, below about 10 ms; slower melting takes the
// sheet's curve.
//
// Source: memory. Tests: TestFuseExact.
func FuseTime(integral, current float64) float64 { return integral / (current * current) }

// FuseLasting returns the current in A that a fuse carries for good.
//
//	I = 0.75·I_n
//
//	I_n  rating, A   [Battery.FuseRating]
//
// Holds at 25 °C; less in a hot box. Common practice for fast fuses.
//
// Source: memory. Tests: TestFuseExact.
func FuseLasting(rating float64) float64 { return fuseShare * rating }
