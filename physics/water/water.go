// Package water holds the properties of water and the air above it, as a drive meets them:
// liquid fresh and sea water at air pressure, 0 to 40 °C.
package water

import (
	"math"

	"jetwright/quantity"
)

// StandardGravity is g in m/s², by definition (CGPM 1901).
const StandardGravity = 9.80665

// StandardPressure is the standard atmosphere in Pa, by definition.
const StandardPressure = 101325

// zeroCelsius is 0 °C in K, by definition.
const zeroCelsius = 273.15

// standardSalinity is the salt of standard sea water in kg/kg (TEOS-10 reference composition).
const standardSalinity = 0.03516504

// Water is the water that a drive runs in and the air above it.
type Water struct {
	Kind        string            `doc:"fresh water, or sea water of standard salinity" choices:"fresh|sea" assume:"fresh" source:"own"`
	Temperature float64           `unit:"°C" doc:"water temperature" range:"-2 .. 40" usual:"0 .. 35" assume:"5 .. 25" source:"own"`
	Altitude    float64           `unit:"m" doc:"altitude of the water's surface, for the air pressure" range:"-430 .. 5000" usual:"-400 .. 3000" assume:"0 .. 300" source:"own"`
	AirPressure quantity.Optional `unit:"kPa" doc:"air pressure at the surface; from the altitude if left out" range:"50 .. 115" usual:"85 .. 106"`
}

// Properties are the properties of a Water, SI.
type Properties struct {
	Density            float64 `unit:"kg/m³" doc:"density"`
	DynamicViscosity   float64 `unit:"Pa·s" doc:"dynamic viscosity"`
	KinematicViscosity float64 `unit:"m²/s" doc:"kinematic viscosity"`
	VapourPressure     float64 `unit:"Pa" doc:"vapour pressure"`
	AirPressure        float64 `unit:"Pa" doc:"air pressure at the surface"`
	SpecificHeat       float64 `unit:"J/(kg·K)" doc:"specific heat"`
}

// Properties works out the properties.
func (w Water) Properties() Properties {
	p := Properties{AirPressure: w.AirPressure.Or(AirPressure(w.Altitude))}
	if w.Kind == "sea" {
		p.Density = SeaDensity(w.Temperature)
		p.KinematicViscosity = SeaViscosity(w.Temperature)
		p.DynamicViscosity = p.KinematicViscosity * p.Density
		p.VapourPressure = SeaVapourPressure(w.Temperature)
		p.SpecificHeat = seaSpecificHeat
		return p
	}
	p.Density = FreshDensity(w.Temperature)
	p.DynamicViscosity = FreshViscosity(w.Temperature, p.Density)
	p.KinematicViscosity = p.DynamicViscosity / p.Density
	p.VapourPressure = VapourPressure(w.Temperature)
	p.SpecificHeat = freshSpecificHeat
	return p
}

// Specific heats in J/(kg·K): fresh water from 4205 at 5 °C to 4179 at 40 °C, sea water 3988
// to 3999 (ITTC and TEOS-10 tables); the middle is within 0.4 %.
const (
	freshSpecificHeat = 4190
	seaSpecificHeat   = 3993
)

// polynomial evaluates c₀ + c₁x + c₂x² + …
func polynomial(x float64, c []float64) float64 {
	s := 0.0
	for i := len(c) - 1; i >= 0; i-- {
		s = s*x + c[i]
	}
	return s
}

var freshDensityFit = []float64{
	998.2072 - 5.3812474762734056e-05, -4.128722134906835, -2.1079696744553953, 0.2988561579239202,
	-0.06585154611561647, 0.015960338151526133, -0.0033796654208399788, 0.00036187479736387494,
}

// FreshDensity returns the density of fresh water at air pressure in kg/m³.
//
//	ρ = Σ cᵢ·xⁱ,  x = (t − 20 °C)/20 K
//
//	t  temperature (argument in K)
//
// Our own fit to the ITTC table, 5 to 80 °C, within 6e-5 kg/m³ of every row; between the rows
// within 0.004 kg/m³ of Kell's formula of 1975. Holds from 0 to 80 °C.
//
// Source: ittc-water-2011. Tests: TestFreshDensityPublished, TestDensityBetweenRowsPublished.
func FreshDensity(temperature float64) float64 {
	return polynomial((temperature-zeroCelsius-20)/20, freshDensityFit)
}

var seaDensityFit = []float64{
	1026.0210 + 1.588419468182785e-05, -3.2952951824938936, -1.0409518704260348,
	0.0960330284016887, -0.01754415586979112, 0.0061415293702171934,
}

// SeaDensity returns the density of standard sea water in kg/m³.
//
//	ρ = Σ cᵢ·xⁱ,  x = (t − 15 °C)/15 K
//
//	t  temperature (argument in K)
//
// Our own fit to the ITTC table, 1 to 30 °C, within 2e-5 kg/m³ of every row. The table stands
// for twice the air pressure; at air pressure itself the density is 0.004 % less. Holds from 0
// to 35 °C at a salinity of 35.165 g/kg.
//
// Source: ittc-water-2011. Tests: TestSeaPublished.
func SeaDensity(temperature float64) float64 {
	return polynomial((temperature-zeroCelsius-15)/15, seaDensityFit)
}

var seaViscosityFit = []float64{
	0.173281485625428, -0.3864772471926378, 0.048278964145812925, -0.007744405661148344, 0.0015350698208829176, -0.00021990833231585246,
}

// SeaViscosity returns the kinematic viscosity of standard sea water in m²/s.
//
//	ν = 1e-6·exp(Σ cᵢ·xⁱ),  x = (t − 15 °C)/15 K
//
//	t  temperature (argument in K)
//
// Our own fit to the ITTC table, 1 to 30 °C, to the digits of every row. Holds from 0 to 35 °C.
//
// Source: ittc-water-2011. Tests: TestSeaPublished.
func SeaViscosity(temperature float64) float64 {
	return 1e-6 * math.Exp(polynomial((temperature-zeroCelsius-15)/15, seaViscosityFit))
}

// FreshViscosity returns the dynamic viscosity of water in Pa·s, without the critical term.
//
//	µ = 1e-6·µ₀·µ₁,  µ₀ = 100·√T̄/Σ Hᵢ/T̄ⁱ
//	µ₁ = exp[ρ̄·Σᵢ (1/T̄ − 1)ⁱ·Σⱼ Hᵢⱼ·(ρ̄ − 1)ʲ],  T̄ = T/647.096 K,  ρ̄ = ρ/322 kg/m³
//
//	T  temperature, K
//	ρ  density, kg/m³
//
// Holds for water and steam to 900 °C; here for the liquid.
//
// Source: iapws-r12-08, eq. 10 to 12. Tests: TestFreshViscosityPublished.
func FreshViscosity(temperature, density float64) float64 {
	t, d := temperature/647.096, density/322-1
	u := 1/t - 1
	mu0 := 100 * math.Sqrt(t) / (1.67752 + (2.20462+(0.6366564-0.241605/t)/t)/t)
	// columns of H by the power of (1/T̄ − 1)
	h0 := 0.520094 + d*(0.222531+d*(-0.281378+d*(0.161913+d*-0.0325372)))
	h1 := 0.0850895 + d*(0.999115+d*(-0.906851+d*0.257399))
	h2 := -1.08374 + d*(1.88797+d*-0.772479)
	h3 := -0.289555 + d*(1.26613+d*(-0.489837+d*d*(0.0698452+d*d*-0.00435673)))
	h4 := d * d * (-0.257040 + d*d*d*0.00872102)
	h5 := d * (0.120573 + d*d*d*d*d*-0.000593264)
	mu1 := math.Exp((d + 1) * (h0 + u*(h1+u*(h2+u*(h3+u*(h4+u*h5))))))
	return 1e-6 * mu0 * mu1
}

// VapourPressure returns the saturation pressure of fresh water in Pa.
//
//	p = [2C/(−B + √(B² − 4AC))]⁴ MPa,  θ = T + n₉/(T − n₁₀)
//	A = θ² + n₁θ + n₂,  B = n₃θ² + n₄θ + n₅,  C = n₆θ² + n₇θ + n₈
//
//	T  temperature, K
//
// Holds from 0 °C to the critical point; below 0 °C it goes on smoothly.
//
// Source: iapws-if97, eq. 30. Tests: TestVapourPressurePublished.
func VapourPressure(temperature float64) float64 {
	th := temperature - 0.23855557567849/(temperature-0.65017534844798e3)
	a := th*th + 0.11670521452767e4*th - 0.72421316703206e6
	b := -0.17073846940092e2*th*th + 0.12020824702470e5*th - 0.32325550322333e7
	c := 0.14915108613530e2*th*th - 0.48232657361591e4*th + 0.40511340542057e6
	x := 2 * c / (-b + math.Sqrt(b*b-4*a*c))
	return 1e6 * x * x * x * x
}

// SeaVapourPressure returns the vapour pressure of standard sea water in Pa.
//
//	p = p_fresh/[1 + 0.57357·S/(1 − S)]
//
//	S  salinity, 0.03516504 kg/kg
//
// Holds from 0 to 40 °C.
//
// Source: sharqawy-2010. Tests: TestSeaPublished.
func SeaVapourPressure(temperature float64) float64 {
	return VapourPressure(temperature) / (1 + 0.57357*standardSalinity/(1-standardSalinity))
}

// AirPressure returns the pressure of the standard atmosphere at an altitude in m, in Pa.
//
//	p = 101325·(1 − 2.25577e-5·z)^5.25588
//
//	z  altitude, m
//
// Holds from −400 to 11000 m; weather moves it by ± 3 %.
//
// Source: iso-2533. Tests: TestAirPressurePublished.
func AirPressure(altitude float64) float64 {
	return StandardPressure * math.Pow(1-2.25577e-5*altitude, 5.25588)
}
