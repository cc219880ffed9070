package heat

import (
	"math"

	"jetwright/physics/water"
)

// Fluid is the coolant at its temperature.
type Fluid struct {
	Density      float64 `unit:"kg/m³" doc:"density"`
	Viscosity    float64 `unit:"Pa·s" doc:"dynamic viscosity"`
	Conductivity float64 `unit:"W/(m·K)" doc:"thermal conductivity"`
	SpecificHeat float64 `unit:"J/(kg·K)" doc:"specific heat"`
}

// NewFluid is a water as coolant.
func NewFluid(w water.Water) Fluid {
	p := w.Properties()
	return Fluid{p.Density, p.DynamicViscosity, WaterConductivity(w.Temperature), p.SpecificHeat}
}

// Prandtl returns the Prandtl number of the coolant, dimensionless.
//
//	Pr = c_p·µ/k
//
//	c_p  specific heat, J/(kg·K); µ dynamic viscosity, Pa·s; k conductivity, W/(m·K)
//
// Holds by definition.
//
// Source: incropera-2007. Tests: TestWaterConductivityPublished.
func (f Fluid) Prandtl() float64 { return f.SpecificHeat * f.Viscosity / f.Conductivity }

// WaterConductivity returns the thermal conductivity of water in W/(m·K).
//
//	k = 0.59794 + 0.03570·x − 0.00541·x² + 0.00039·x³,  x = (t − 20 °C)/20 K
//
//	t  temperature (argument in K)
//
// Our own fit to the ITTC table's IAPWS values from 5 to 80 °C, within 0.0002 W/(m·K) of every row. Sea
// water conducts 1 to 2 % less.
//
// Source: ittc-water-2011. Tests: TestWaterConductivityPublished.
func WaterConductivity(temperature float64) float64 {
	x := (temperature - 293.15) / 20
	return 0.59794 + x*(0.03570+x*(-0.00541+x*0.00039))
}

// Reynolds number below which flow is laminar, and above which it is turbulent; between them friction and
// heat transfer go over smoothly from one to the other.
const (
	laminarEnd     = 2300
	turbulentStart = 4000
)

// LaminarDrop returns the loss of pressure of laminar flow in a round pipe in Pa.
//
//	Δp = 128·µ·L·Q/(π·D⁴)
//
//	µ  dynamic viscosity, Pa·s
//	L  length, m
//	Q  flow, m³/s
//	D  bore, m
//
// Hagen and Poiseuille. Holds below a Reynolds number of 2300 beyond the entry length.
//
// Source: cengel-cimbala. Tests: TestPipePublished.
func LaminarDrop(viscosity, length, flow, bore float64) float64 {
	return 128 * viscosity * length * flow / (math.Pi * math.Pow(bore, 4))
}

// Haaland returns Darcy's friction factor of turbulent flow by Haaland, dimensionless.
//
//	1/√f = −1.8·log₁₀[((ε/D)/3.7)^1.11 + 6.9/Re]
//
//	ε/D  relative roughness, -
//	Re   Reynolds number, -
//
// Holds above Re 4000, within 2 % of Colebrook.
//
// Source: cengel-cimbala. Tests: TestFrictionPublished.
func Haaland(reynolds, roughness float64) float64 {
	x := -1.8 * math.Log10(math.Pow(roughness/3.7, 1.11)+6.9/reynolds)
	return 1 / (x * x)
}

// SwameeJain returns Darcy's friction factor of turbulent flow by Swamee and Jain, dimensionless.
//
//	f = 0.25/{log₁₀[(ε/D)/3.7 + 5.74/Re^0.9]}²
//
//	ε/D  relative roughness, -
//	Re   Reynolds number, -
//
// Holds from Re 5000 and ε/D 1e-6 to 0.05, within 3 % of Colebrook.
//
// Source: cengel-cimbala. Tests: TestFrictionPublished.
func SwameeJain(reynolds, roughness float64) float64 {
	x := math.Log10(roughness/3.7 + 5.74/math.Pow(reynolds, 0.9))
	return 0.25 / (x * x)
}

// Petukhov returns Darcy's friction factor of a smooth pipe, dimensionless.
//
//	f = (0.790·ln Re − 1.64)^−2
//
// Holds from Re 3000 to 5e6.
//
// Source: incropera-2007. Tests: TestNusseltPublished.
func Petukhov(reynolds float64) float64 {
	x := 0.790*math.Log(reynolds) - 1.64
	return 1 / (x * x)
}

// Colebrook returns Darcy's friction factor of turbulent flow, dimensionless.
//
//	1/√f = −2·log₁₀[(ε/D)/3.7 + 2.51/(Re·√f)]
//
//	ε/D  relative roughness, -
//	Re   Reynolds number, -
//
// Solved by Newton's method from Haaland's value to rounding. Holds above Re 4000.
//
// Source: cengel-cimbala. Tests: TestFrictionPublished, TestFrictionLaw.
func Colebrook(reynolds, roughness float64) float64 {
	f, _ := colebrook(reynolds, roughness)
	return f
}

// colebrook is Colebrook and its derivative by the Reynolds number.
func colebrook(reynolds, roughness float64) (f, slope float64) {
	const middling, perDecade = 7, 2 / math.Ln10
	x := float64(middling) // 1/√f; it lies between 3 and 12, and each turn doubles the digits
	a, b := roughness/3.7, 2.51/reynolds
	for range 12 {
		in := a + b*x
		step := (x + perDecade*math.Log(in)) / (1 + perDecade*b/in)
		x -= step
		if math.Abs(step) < 1e-9*x {
			break
		}
	}
	k := 2 * b / ((a + b*x) * math.Ln10)
	return 1 / (x * x), -2 * k * x / (reynolds * (1 + k)) / (x * x * x)
}

// Friction returns Darcy's friction factor at any Reynolds number, dimensionless.
//
//	f = 64/Re below Re 2300, Colebrook above 4000, between them f_l + s·(f_t − f_l)
//
//	s  u²·(3 − 2u), u = (Re − 2300)/1700
//
// Holds for developed flow in a round bore; where flow changes over it is a path between two laws and
// not a law, good to perhaps a quarter.
//
// Source: cengel-cimbala, own. Tests: TestFrictionLaw.
func Friction(reynolds, roughness float64) float64 {
	f, _ := friction(reynolds, roughness, 64)
	return f
}

// friction is Friction of a passage whose laminar friction factor is laminar/Re, and its derivative by the Reynolds number.
func friction(reynolds, roughness, laminar float64) (f, slope float64) {
	f, slope = laminar/reynolds, -laminar/(reynolds*reynolds)
	if reynolds <= laminarEnd {
		return f, slope
	}
	full, its := colebrook(reynolds, roughness)
	if reynolds >= turbulentStart {
		return full, its
	}
	const width = turbulentStart - laminarEnd
	u := (reynolds - laminarEnd) / width
	s, ds := u*u*(3-2*u), 6*u*(1-u)/width
	return f + s*(full-f), slope + s*(its-slope) + ds*(full-f)
}

// Gnielinski returns the Nusselt number of turbulent flow in a pipe, dimensionless.
//
//	Nu = (f/8)·(Re − 1000)·Pr/[1 + 12.7·√(f/8)·(Pr^⅔ − 1)]
//
//	f   Darcy's friction factor, -
//	Re  Reynolds number; Pr Prandtl number, -
//
// Holds for Pr 0.5 to 2000 and Re 3000 to 5e6, within some 10 %.
//
// Source: incropera-2007. Tests: TestNusseltPublished.
func Gnielinski(reynolds, prandtl, friction float64) float64 {
	e := friction / 8
	return e * (reynolds - 1000) * prandtl / (1 + 12.7*math.Sqrt(e)*(math.Pow(prandtl, 2.0/3)-1))
}

// DittusBoelter returns the Nusselt number of turbulent flow in a smooth pipe, dimensionless.
//
//	Nu = 0.023·Re^0.8·Pr^n,  n = 0.4 where the water is heated, 0.3 where it is cooled
//
//	Re  Reynolds number; Pr Prandtl number, -
//
// Holds for Pr 0.6 to 160, Re above 1e4 and ten bores of length. A second opinion on Gnielinski.
//
// Source: incropera-2007. Tests: TestNusseltPublished.
func DittusBoelter(reynolds, prandtl float64, heated bool) float64 {
	n := 0.3
	if heated {
		n = 0.4
	}
	return 0.023 * math.Pow(reynolds, 0.8) * math.Pow(prandtl, n)
}

// Hausen returns the mean Nusselt number of laminar flow in a pipe of one temperature with an entry,
// dimensionless.
//
//	Nu = 3.66 + 0.0668·Gz/(1 + 0.04·Gz^⅔),  Gz = (D/L)·Re·Pr
//
//	D/L  bore over length, -
//	Re   Reynolds number; Pr Prandtl number, -
//
// Holds below Re 2300 where the flow is developed or Pr is large.
//
// Source: incropera-2007. Tests: TestNusseltPublished.
func Hausen(reynolds, prandtl, boreOverLength float64) float64 {
	return 3.66 + entry(boreOverLength*reynolds*prandtl)
}

// entry is what the entry of a laminar flow adds to its Nusselt number.
func entry(graetz float64) float64 {
	return 0.0668 * graetz / (1 + 0.04*math.Cbrt(graetz*graetz))
}

// ShahLondon returns the Nusselt number of laminar flow in a rectangular channel of even heat,
// dimensionless.
//
//	Nu = 8.235·(1 − 2.0421α + 3.0853α² − 2.4765α³ + 1.0578α⁴ − 0.1861α⁵)
//
//	α  short side over long side, -
//
// Holds for developed flow.
//
// Source: shah-london-1978. Tests: TestNusseltPublished.
func ShahLondon(ratio float64) float64 {
	return 8.235 * (1 + ratio*(-2.0421+ratio*(3.0853+ratio*(-2.4765+ratio*(1.0578-ratio*0.1861)))))
}

// ShahLondonWall returns the Nusselt number of laminar flow in a rectangular channel with walls of one
// temperature, dimensionless.
//
//	Nu = 7.541·(1 − 2.610α + 4.970α² − 5.119α³ + 2.702α⁴ − 0.548α⁵)
//
//	α  short side over long side, -
//
// Holds for developed flow.
//
// Source: shah-london-1978. Tests: TestNusseltPublished.
func ShahLondonWall(ratio float64) float64 {
	return 7.541 * (1 + ratio*(-2.610+ratio*(4.970+ratio*(-5.119+ratio*(2.702-ratio*0.548)))))
}

// RectangularFriction returns Darcy's friction factor times Reynolds number of laminar flow in a rectangular
// channel, dimensionless; both go by the hydraulic diameter.
//
//	f·Re = 96·(1 − 1.3553α + 1.9467α² − 1.7012α³ + 0.9564α⁴ − 0.2537α⁵)
//
//	α  short side over long side, -
//
// Holds for developed flow.
//
// Source: shah-london-1978. Tests: TestNusseltPublished.
func RectangularFriction(ratio float64) float64 {
	return 96 * (1 + ratio*(-1.3553+ratio*(1.9467+ratio*(-1.7012+ratio*(0.9564-ratio*0.2537)))))
}

// SiederTate returns the mean Nusselt number of a short laminar pipe, dimensionless, corrected for the
// viscosity at the wall.
//
//	Nu = 1.86·Gz^⅓·(µ/µ_w)^0.14
//
//	Gz  (D/L)·Re·Pr, -
//	µ/µ_w  viscosity in the water over that at the wall, -
//
// Holds for Nu above 3.66 and µ/µ_w from 0.0044 to 9.75.
//
// Source: incropera-2007. Tests: TestNusseltPublished.
func SiederTate(graetz, viscosityRatio float64) float64 {
	return 1.86 * math.Cbrt(graetz) * math.Pow(viscosityRatio, 0.14)
}

// FlatPlate returns the mean Nusselt number of water along a plate, dimensionless.
//
//	Nu = 0.664·Re^½·Pr^⅓ below Re 5e5, (0.037·Re^0.8 − 871)·Pr^⅓ above
//
//	Re  Reynolds number on the plate's length; Pr Prandtl number, -
//
// Holds for Pr above 0.6 and Re to 1e8.
//
// Source: incropera-2007. Tests: TestNusseltPublished.
func FlatPlate(reynolds, prandtl float64) float64 {
	if reynolds < 5e5 {
		return 0.664 * math.Sqrt(reynolds) * math.Cbrt(prandtl)
	}
	return (0.037*math.Pow(reynolds, 0.8) - 871) * math.Cbrt(prandtl)
}

// Effectiveness returns the share of the largest possible rise that water takes along a wall of one
// temperature, dimensionless.
//
//	ε = 1 − e^(−NTU),  NTU = h·A/(ṁ·c_p)
//
// Holds where the wall has one temperature.
//
// Source: incropera-2007. Tests: TestExchangePublished.
func Effectiveness(transferUnits float64) float64 { return -math.Expm1(-transferUnits) }

// TransferUnits returns the number of transfer units of a share of the largest possible rise, dimensionless.
//
//	NTU = −ln(1 − ε)
//
// Holds for ε from 0 to below 1.
//
// Source: incropera-2007. Tests: TestExchangePublished.
func TransferUnits(effectiveness float64) float64 { return -math.Log1p(-effectiveness) }

// JointResistance returns the thermal resistance of a joint between two faces in K/W.
//
//	R = R″/A
//
//	R″  resistance of a unit of area, m²·K/W: grease or foil 0.07e-4, thin epoxy 0.2e-4 to 0.9e-4, dry
//	    milled aluminium about 1e-4, pad of 1 mm 3.3e-4
//	A   area, m²
//
// Holds where the heat goes evenly through the face.
//
// Source: incropera-2007. Tests: TestJointPublished.
func JointResistance(unit, area float64) float64 { return unit / area }
