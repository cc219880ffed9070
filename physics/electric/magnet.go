package electric

import "math"

// vacuumPermeability is µ₀ in V·s/(A·m).
const vacuumPermeability = 4e-7 * math.Pi

// magnetReference is the temperature at which a motor constant is taken to hold where none is typed, K.
const magnetReference = 293.15

// MagnetFactor returns the strength of magnets at a temperature in K over that at a reference
// temperature in K, dimensionless. The motor constant goes with it.
//
//	K/K_ref = 1 + α·(t − t_ref)
//
//	α      coefficient of remanence, 1/K          [Motor.MagnetCoefficient]
//	t      temperature of the magnets, K
//	t_ref  temperature at which K_ref holds, K    [Motor.ConstantTemperature]
//
// Holds below the temperature at which strength is lost for good; a circuit of iron near
// saturation changes less.
//
// Source: magnet-table. Tests: TestMagnetPublished.
func MagnetFactor(coefficient, temperature, reference float64) float64 {
	return 1 + coefficient*(temperature-reference)
}

// Magnet is a grade of magnet at 20 °C, from its maker's table.
type Magnet struct {
	Remanence             float64 // T
	Coercivity            float64 // intrinsic, A/m
	RemanenceCoefficient  float64 // 1/K
	CoercivityCoefficient float64 // of the intrinsic coercivity, 1/K
}

// MagnetNamed returns a grade by its name: N42, N42M, N42H, N42SH, Sm2Co17 or ferrite.
func MagnetNamed(name string) (Magnet, bool) {
	g, ok := magnets[name]
	return g, ok
}

// magnets are grades by their names: lower ends of a maker's table. Neodymium as seen there up to
// M; H and SH, samarium-cobalt and ferrite are recalled, and so are their coefficients.
var magnets = map[string]Magnet{
	"N42":     {1.28, 955e3, -0.0012, -0.0076},
	"N42M":    {1.28, 1114e3, -0.0012, -0.0068},
	"N42H":    {1.28, 1353e3, -0.0012, -0.0065},
	"N42SH":   {1.28, 1592e3, -0.0012, -0.0055},
	"Sm2Co17": {1.00, 1433e3, -0.00035, -0.0020},
	"ferrite": {0.40, 240e3, -0.0020, 0.0030},
}

// Irreversible returns the temperature in K above which a magnet loses strength for good, at a
// permeance coefficient and under a demagnetising field of the winding in A/m. ok is false where
// there is no such temperature: the field is too strong at every one, or at none above 20 °C.
//
//	B_r·(1 + α·x)/(µ₀·(p + 1)) + H_w = k·H_c·(1 + β·x),  x = t − 20 °C,  k = 0.9
//
//	B_r, H_c  remanence, T, and intrinsic coercivity, A/m, at 20 °C
//	α, β      their coefficients, 1/K
//	p         permeance coefficient, B/(µ₀·H) of the working point, -
//	H_w       field of the winding against the magnets, A/m
//
// Holds for magnets whose recoil line is straight with a permeability of about 1 up to a knee at a
// share k of the coercivity (recalled). A guide: shape and circuit decide, and a corner of a magnet
// works lower than its middle.
//
// Source: magnet-table, memory. Tests: TestIrreversiblePublished.
func (g Magnet) Irreversible(permeance, windingField float64) (temperature float64, ok bool) {
	own := g.Remanence / (vacuumPermeability * (permeance + 1))
	left := knee*g.Coercivity - own - windingField // of the coercivity at 20 °C
	fall := own*g.RemanenceCoefficient - knee*g.Coercivity*g.CoercivityCoefficient
	if left <= 0 || fall <= 0 {
		return 0, false
	}
	return copperZero + left/fall, true
}

// knee is how far along the intrinsic coercivity a magnet's line stays straight.
const knee = 0.9

// magnetClass is a class of magnets: coefficients of remanence from and to, of coercivity, in 1/K, and the lasting
// temperature in °C where no suffix tells it.
type magnetClass struct {
	low, high, coercivity, bound float64
}

// Neodymium's coefficient is SEEN in a maker's table, the others are recalled.
var magnetClasses = map[string]magnetClass{
	"neodymium":       {-0.0013, -0.0009, -0.0065, 0},
	"samarium-cobalt": {-0.0005, -0.0003, -0.0022, 250},
	"ferrite":         {-0.0021, -0.0018, 0.0030, 250},
}

// MagnetCoefficients returns the range of a class's coefficient of remanence in 1/K; ok is false where there is no such
// class.
//
//	neodymium −0.13 … −0.09 %/K, samarium-cobalt −0.05 … −0.03 %/K, ferrite −0.21 … −0.18 %/K
//
// Holds between −20 °C and what the class stands; grades of high coercivity lie at the smaller end.
//
// Source: magnet-table, memory. Tests: TestMagnetClassPublished.
func MagnetCoefficients(material string) (low, high float64, ok bool) {
	k, ok := magnetClasses[material]
	return k.low, k.high, ok
}

// MagnetBound returns the guide temperature of the motor's magnets in K: by the suffix of neodymium, else by class.
//
//	t = MagnetBound(suffix); 250 °C for samarium-cobalt and ferrite
//
// Holds as a guide only; ferrite loses strength in the cold rather than in the heat.
//
// Source: memory. Tests: TestMagnetClassPublished.
func (m *Motor) MagnetBound() float64 {
	if k := magnetClasses[m.MagnetMaterial]; k.bound > 0 {
		return k.bound + zeroCelsius
	}
	return MagnetBound(m.MagnetGrade)
}

// FieldAgainst returns the field against a magnet in A/m: that of its own in its circuit, and that of the winding.
//
//	H = B_r·(1 + α·x)/[µ₀·(p + 1)] + B_r·p/[µ₀·(p + 1)]·L·Î/λ,  x = t − 20 °C
//
//	B_r, α  remanence at 20 °C, T, and its coefficient, 1/K
//	p       permeance coefficient, -
//	L·Î/λ   flux of a phase by its current over that of the magnets, -
//
// Holds as an upper bound: all of the winding's flux is taken to run against the magnet, its leakage too.
//
// Source: own. Tests: TestFieldAgainstMagnetExact.
func (g Magnet) FieldAgainst(permeance, temperature, windingShare float64) float64 {
	each := g.Remanence / (vacuumPermeability * (permeance + 1))
	return each*(1+g.RemanenceCoefficient*(temperature-copperZero)) + each*permeance*windingShare
}

// FieldBorne returns the field in A/m up to which a magnet comes back whole.
//
//	H = k·H_c·(1 + β·x),  x = t − 20 °C,  k = 0.9
//
//	H_c, β  intrinsic coercivity at 20 °C, A/m, and its coefficient, 1/K
//
// Holds as Irreversible does.
//
// Source: magnet-table, memory. Tests: TestFieldAgainstMagnetExact.
func (g Magnet) FieldBorne(temperature float64) float64 {
	return knee * g.Coercivity * (1 + g.CoercivityCoefficient*(temperature-copperZero))
}
