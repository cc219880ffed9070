package quantity

import (
	"math"
	"strings"
)

// Exact factors, by definition: the international yard and pound (1959), the standard
// acceleration of gravity (CGPM 1901), the nautical mile (1929), the US gallon (231 in³).
const (
	inch          = 0.0254                     // m
	foot          = 12 * inch                  // m
	pound         = 0.45359237                 // kg
	standardG     = 9.80665                    // m/s²
	poundForce    = pound * standardG          // N
	gallon        = 231 * inch * inch * inch   // m³, US liquid gallon
	horsepower    = 550 * foot * poundForce    // W, mechanical
	metricHorse   = 75 * standardG             // W
	poundPerInch2 = poundForce / (inch * inch) // Pa
	knot          = 1852.0 / 3600              // m/s
	turn          = 2 * math.Pi                // rad
)

// Dimensions of the units below.
var (
	dimensionless  = Dim{}
	dimLength      = Dim{Length: 1}
	dimArea        = Dim{Length: 2}
	dimVolume      = Dim{Length: 3}
	dimPerLength   = Dim{Length: -1}
	dimMass        = Dim{Mass: 1}
	dimTime        = Dim{Time: 1}
	dimFrequency   = Dim{Time: -1}
	dimAngle       = Dim{Angle: 1}
	dimRotation    = Dim{Angle: 1, Time: -1}
	dimSpeed       = Dim{Length: 1, Time: -1}
	dimAcceler     = Dim{Length: 1, Time: -2}
	dimForce       = Dim{Length: 1, Mass: 1, Time: -2}
	dimStiffness   = Dim{Mass: 1, Time: -2}
	dimPressure    = Dim{Length: -1, Mass: 1, Time: -2}
	dimEnergy      = Dim{Length: 2, Mass: 1, Time: -2}
	dimPower       = Dim{Length: 2, Mass: 1, Time: -3}
	dimFlow        = Dim{Length: 3, Time: -1}
	dimMassFlow    = Dim{Mass: 1, Time: -1}
	dimDensity     = Dim{Length: -3, Mass: 1}
	dimInertia     = Dim{Length: 2, Mass: 1}
	dimKinematic   = Dim{Length: 2, Time: -1}
	dimDynamic     = Dim{Length: -1, Mass: 1, Time: -1}
	dimCurrent     = Dim{Current: 1}
	dimCharge      = Dim{Current: 1, Time: 1}
	dimVoltage     = Dim{Length: 2, Mass: 1, Time: -3, Current: -1}
	dimResistance  = Dim{Length: 2, Mass: 1, Time: -3, Current: -2}
	dimResistivity = Dim{Length: 3, Mass: 1, Time: -3, Current: -2}
	dimInductance  = Dim{Length: 2, Mass: 1, Time: -2, Current: -2}
	dimCapacitance = Dim{Length: -2, Mass: -1, Time: 4, Current: 2}
	dimFlux        = Dim{Length: 2, Mass: 1, Time: -2, Current: -1}
	dimFluxDensity = Dim{Mass: 1, Time: -2, Current: -1}
	dimFluxAngle   = Dim{Length: 2, Mass: 1, Time: -2, Current: -1, Angle: -1}
	dimMotorSpeed  = Dim{Length: -2, Mass: -1, Time: 2, Current: 1, Angle: 1}
	dimCurrentArea = Dim{Length: -2, Current: 1}
	dimCurrentTurn = Dim{Time: 2, Current: 1}
	dimFieldLength = Dim{Length: -1, Current: 1}
	dimMelting     = Dim{Time: 1, Current: 2}
	dimPoint       = Dim{Temperature: 1, Point: true}
	dimDifference  = Dim{Temperature: 1}
	dimPerKelvin   = Dim{Temperature: -1}
	dimThermal     = Dim{Length: -2, Mass: -1, Time: 3, Temperature: 1}
	dimConductance = Dim{Length: 2, Mass: 1, Time: -3, Temperature: -1}
	dimCapacity    = Dim{Length: 2, Mass: 1, Time: -2, Temperature: -1}
	dimSpecific    = Dim{Length: 2, Time: -2, Temperature: -1}
	dimConductive  = Dim{Length: 1, Mass: 1, Time: -3, Temperature: -1}
	dimTransfer    = Dim{Mass: 1, Time: -3, Temperature: -1}
	dimHeatFlux    = Dim{Mass: 1, Time: -3}
	dimPerMass     = Dim{Length: 2, Time: -2}
	dimPowerMass   = Dim{Length: 2, Time: -3}
	dimDrag        = Dim{Length: 2, Mass: 1, Time: -1, Angle: -1}
)

var dimNames = map[Dim]string{
	dimensionless:  "dimensionless number",
	dimLength:      "length",
	dimArea:        "area",
	dimVolume:      "volume",
	dimPerLength:   "reciprocal length",
	dimMass:        "mass",
	dimTime:        "time",
	dimFrequency:   "frequency",
	dimAngle:       "angle",
	dimRotation:    "speed of rotation",
	dimSpeed:       "speed",
	dimAcceler:     "acceleration",
	dimForce:       "force",
	dimStiffness:   "force per length",
	dimPressure:    "pressure",
	dimEnergy:      "energy or torque",
	dimPower:       "power",
	dimFlow:        "volume flow",
	dimMassFlow:    "mass flow",
	dimDensity:     "density",
	dimInertia:     "moment of inertia",
	dimKinematic:   "kinematic viscosity",
	dimDynamic:     "viscosity",
	dimCurrent:     "current",
	dimCharge:      "charge",
	dimVoltage:     "voltage",
	dimResistance:  "resistance",
	dimResistivity: "resistivity",
	dimInductance:  "inductance",
	dimCapacitance: "capacitance",
	dimFlux:        "flux linkage or torque constant",
	dimFluxDensity: "flux density",
	dimFluxAngle:   "voltage constant",
	dimMotorSpeed:  "motor speed constant",
	dimCurrentArea: "current density",
	dimCurrentTurn: "current over square of revolutions per second",
	dimFieldLength: "magnetic field strength",
	dimMelting:     "melting integral",
	dimPoint:       "temperature",
	dimDifference:  "temperature difference",
	dimPerKelvin:   "temperature coefficient",
	dimThermal:     "thermal resistance",
	dimConductance: "thermal conductance",
	dimCapacity:    "heat capacity",
	dimSpecific:    "specific heat capacity",
	dimConductive:  "thermal conductivity",
	dimTransfer:    "heat transfer coefficient",
	dimHeatFlux:    "heat flux",
	dimPerMass:     "energy per mass",
	dimPowerMass:   "power per mass",
	dimDrag:        "rotary drag",
}

// unitRow is one line of the table: a unit and further spellings, blank-separated, in
// the plain form of plainSymbol. Spellings with u for µ, ohm for Ω, deg for °, digits for
// raised digits, any sign of multiplication or none come by themselves.
type unitRow struct {
	Unit
	also string
}

// unitTable holds every unit. To add one, add a line.
var unitTable = []unitRow{
	{One, ""},
	{Unit{"%", 1e-2, 0, dimensionless}, "percent pct"},
	{Unit{"ppm", 1e-6, 0, dimensionless}, ""},

	{Unit{"m", 1, 0, dimLength}, ""},
	{Unit{"mm", 1e-3, 0, dimLength}, ""},
	{Unit{"cm", 1e-2, 0, dimLength}, ""},
	{Unit{"µm", 1e-6, 0, dimLength}, ""},
	{Unit{"km", 1e3, 0, dimLength}, ""},
	{Unit{"mi", 5280 * foot, 0, dimLength}, "mile miles"},
	{Unit{"in", inch, 0, dimLength}, "inch inches"},
	{Unit{"ft", foot, 0, dimLength}, "foot feet"},
	{Unit{"m²", 1, 0, dimArea}, ""},
	{Unit{"mm²", 1e-6, 0, dimArea}, ""},
	{Unit{"cm²", 1e-4, 0, dimArea}, ""},
	{Unit{"in²", inch * inch, 0, dimArea}, ""},
	{Unit{"m³", 1, 0, dimVolume}, ""},
	{Unit{"L", 1e-3, 0, dimVolume}, "l"},
	{Unit{"mL", 1e-6, 0, dimVolume}, "ml"},
	{Unit{"cm³", 1e-6, 0, dimVolume}, ""},
	{Unit{"mm³", 1e-9, 0, dimVolume}, ""},
	{Unit{"1/m", 1, 0, dimPerLength}, "m-1"},

	{Unit{"s", 1, 0, dimTime}, "sec"},
	{Unit{"ms", 1e-3, 0, dimTime}, ""},
	{Unit{"µs", 1e-6, 0, dimTime}, ""},
	{Unit{"ns", 1e-9, 0, dimTime}, ""},
	{Unit{"min", 60, 0, dimTime}, ""},
	{Unit{"h", 3600, 0, dimTime}, "hr"},
	{Unit{"1/s", 1, 0, dimFrequency}, "s-1"},
	{Unit{"Hz", 1, 0, dimFrequency}, "hz"},
	{Unit{"kHz", 1e3, 0, dimFrequency}, "khz"},

	{Unit{"rad", 1, 0, dimAngle}, ""},
	{Unit{"deg", turn / 360, 0, dimAngle}, "degree degrees"},
	{Unit{"rad/s", 1, 0, dimRotation}, ""},
	{Unit{"rpm", turn / 60, 0, dimRotation}, "RPM Rpm r/min rev/min 1/min min-1"},
	{Unit{"krpm", 1000 * turn / 60, 0, dimRotation}, ""},

	{Unit{"m/s", 1, 0, dimSpeed}, ""},
	{Unit{"mm/s", 1e-3, 0, dimSpeed}, ""},
	{Unit{"km/h", 1 / 3.6, 0, dimSpeed}, "kmh kph"},
	{Unit{"kn", knot, 0, dimSpeed}, "knot knots kt kts"},
	{Unit{"mph", 5280 * foot / 3600, 0, dimSpeed}, ""},
	{Unit{"ft/s", foot, 0, dimSpeed}, ""},
	{Unit{"m/s²", 1, 0, dimAcceler}, ""},

	{Unit{"kg", 1, 0, dimMass}, ""},
	{Unit{"g", 1e-3, 0, dimMass}, ""},
	{Unit{"lb", pound, 0, dimMass}, "lbs"},
	{Unit{"kg/s", 1, 0, dimMassFlow}, ""},
	{Unit{"kg/m³", 1, 0, dimDensity}, ""},
	{Unit{"g/cm³", 1e3, 0, dimDensity}, ""},
	{Unit{"kg·m²", 1, 0, dimInertia}, ""},
	{Unit{"kg·cm²", 1e-4, 0, dimInertia}, ""},
	{Unit{"g·cm²", 1e-7, 0, dimInertia}, ""},

	{Unit{"N", 1, 0, dimForce}, ""},
	{Unit{"kN", 1e3, 0, dimForce}, ""},
	{Unit{"mN", 1e-3, 0, dimForce}, ""},
	{Unit{"kgf", standardG, 0, dimForce}, "kp"},
	{Unit{"gf", standardG / 1000, 0, dimForce}, ""},
	{Unit{"lbf", poundForce, 0, dimForce}, ""},
	{Unit{"N/m", 1, 0, dimStiffness}, ""},
	{Unit{"N/mm", 1e3, 0, dimStiffness}, ""},
	{Unit{"N·m", 1, 0, dimEnergy}, ""},
	{Unit{"N·mm", 1e-3, 0, dimEnergy}, ""},
	{Unit{"N·cm", 1e-2, 0, dimEnergy}, ""},
	{Unit{"mN·m", 1e-3, 0, dimEnergy}, ""},
	{Unit{"lbf·ft", poundForce * foot, 0, dimEnergy}, "ft.lbf ftlbf lb.ft ft.lb"},
	{Unit{"lbf·in", poundForce * inch, 0, dimEnergy}, "in.lbf in.lb lb.in"},
	{Unit{"N·m·s/rad", 1, 0, dimDrag}, ""},

	{Unit{"Pa", 1, 0, dimPressure}, ""},
	{Unit{"hPa", 1e2, 0, dimPressure}, ""},
	{Unit{"kPa", 1e3, 0, dimPressure}, ""},
	{Unit{"MPa", 1e6, 0, dimPressure}, "N/mm2"},
	{Unit{"GPa", 1e9, 0, dimPressure}, ""},
	{Unit{"bar", 1e5, 0, dimPressure}, ""},
	{Unit{"mbar", 1e2, 0, dimPressure}, ""},
	{Unit{"psi", poundPerInch2, 0, dimPressure}, "PSI"},

	{Unit{"J", 1, 0, dimEnergy}, ""},
	{Unit{"kJ", 1e3, 0, dimEnergy}, ""},
	{Unit{"Wh", 3600, 0, dimEnergy}, "W.h"},
	{Unit{"kWh", 3.6e6, 0, dimEnergy}, "kW.h"},
	{Unit{"W", 1, 0, dimPower}, ""},
	{Unit{"mW", 1e-3, 0, dimPower}, ""},
	{Unit{"kW", 1e3, 0, dimPower}, ""},
	{Unit{"hp", horsepower, 0, dimPower}, "HP"},
	{Unit{"PS", metricHorse, 0, dimPower}, ""},
	{Unit{"W/kg", 1, 0, dimPowerMass}, ""},
	{Unit{"J/kg", 1, 0, dimPerMass}, ""},
	{Unit{"kJ/kg", 1e3, 0, dimPerMass}, ""},
	{Unit{"Wh/kg", 3600, 0, dimPerMass}, ""},

	{Unit{"m³/s", 1, 0, dimFlow}, ""},
	{Unit{"m³/h", 1.0 / 3600, 0, dimFlow}, ""},
	{Unit{"L/s", 1e-3, 0, dimFlow}, "l/s"},
	{Unit{"L/min", 1.0 / 60000, 0, dimFlow}, "l/min lpm LPM"},
	{Unit{"L/h", 1.0 / 3600000, 0, dimFlow}, "l/h"},
	{Unit{"gpm", gallon / 60, 0, dimFlow}, "GPM US.gpm gal/min"},
	{Unit{"m²/s", 1, 0, dimKinematic}, ""},
	{Unit{"mm²/s", 1e-6, 0, dimKinematic}, "cSt"},
	{Unit{"Pa·s", 1, 0, dimDynamic}, ""},
	{Unit{"mPa·s", 1e-3, 0, dimDynamic}, ""},

	{Unit{"A", 1, 0, dimCurrent}, ""},
	{Unit{"mA", 1e-3, 0, dimCurrent}, ""},
	{Unit{"kA", 1e3, 0, dimCurrent}, ""},
	{Unit{"A·s", 1, 0, dimCharge}, ""},
	{Unit{"Ah", 3600, 0, dimCharge}, "A.h"},
	{Unit{"mAh", 3.6, 0, dimCharge}, "mA.h"},
	{Unit{"V", 1, 0, dimVoltage}, ""},
	{Unit{"mV", 1e-3, 0, dimVoltage}, ""},
	{Unit{"Ω", 1, 0, dimResistance}, "Ohm ohms Ohms"},
	{Unit{"mΩ", 1e-3, 0, dimResistance}, "mOhm mohms"},
	{Unit{"µΩ", 1e-6, 0, dimResistance}, "uOhm"},
	{Unit{"kΩ", 1e3, 0, dimResistance}, "kOhm"},
	{Unit{"MΩ", 1e6, 0, dimResistance}, "MOhm"},
	{Unit{"Ω·m", 1, 0, dimResistivity}, ""},
	{Unit{"H", 1, 0, dimInductance}, ""},
	{Unit{"mH", 1e-3, 0, dimInductance}, ""},
	{Unit{"µH", 1e-6, 0, dimInductance}, ""},
	{Unit{"nH", 1e-9, 0, dimInductance}, ""},
	{Unit{"µF", 1e-6, 0, dimCapacitance}, ""},
	{Unit{"nF", 1e-9, 0, dimCapacitance}, ""},
	{Unit{"T", 1, 0, dimFluxDensity}, ""},
	{Unit{"V·s", 1, 0, dimFlux}, "Wb"},
	{Unit{"mV·s", 1e-3, 0, dimFlux}, "mWb"},
	{Unit{"N·m/A", 1, 0, dimFlux}, ""},
	{Unit{"V·s/rad", 1, 0, dimFluxAngle}, ""},
	{Unit{"V/krpm", 60 / (1000 * turn), 0, dimFluxAngle}, "V/kRPM"},
	{Unit{"rad/(V·s)", 1, 0, dimMotorSpeed}, "rad/s/V"},
	{Unit{"rpm/V", turn / 60, 0, dimMotorSpeed}, "RPM/V"},
	{Unit{"A·s²", 1, 0, dimCurrentTurn}, ""},
	{Unit{"A/m", 1, 0, dimFieldLength}, ""},
	{Unit{"kA/m", 1e3, 0, dimFieldLength}, ""},
	{Unit{"A²·s", 1, 0, dimMelting}, "A2s A²s"},
	{Unit{"A/m²", 1, 0, dimCurrentArea}, ""},
	{Unit{"A/mm²", 1e6, 0, dimCurrentArea}, ""},

	{Unit{"°C", 1, 273.15, dimPoint}, "deg.C"},
	{Unit{"°F", 5.0 / 9, 273.15 - 32*5.0/9, dimPoint}, "deg.F"},
	{Unit{"K", 1, 0, dimDifference}, ""},
	{Unit{"1/K", 1, 0, dimPerKelvin}, "K-1"},
	{Unit{"%/K", 1e-2, 0, dimPerKelvin}, "%/degC"},
	{Unit{"ppm/K", 1e-6, 0, dimPerKelvin}, "ppm/degC"},
	{Unit{"K/W", 1, 0, dimThermal}, "degC/W deg.C/W"},
	{Unit{"W/K", 1, 0, dimConductance}, "W/degC"},
	{Unit{"J/K", 1, 0, dimCapacity}, "J/degC"},
	{Unit{"kJ/K", 1e3, 0, dimCapacity}, ""},
	{Unit{"J/(kg·K)", 1, 0, dimSpecific}, "J/kg/K"},
	{Unit{"kJ/(kg·K)", 1e3, 0, dimSpecific}, "kJ/kg/K"},
	{Unit{"W/(m·K)", 1, 0, dimConductive}, "W/m/K"},
	{Unit{"W/(m²·K)", 1, 0, dimTransfer}, "W/m2/K"},
	{Unit{"W/m²", 1, 0, dimHeatFlux}, ""},
}

// unitIndex finds a line of unitTable by every spelling that is read.
var unitIndex = indexUnits(func(string, int, int) {})

// indexUnits gathers the spellings; clash is told of every spelling that two units claim,
// of which the earlier keeps it.
func indexUnits(clash func(spelling string, kept, lost int)) map[string]int {
	index := make(map[string]int, 4*len(unitTable))
	add := func(spelling string, i int) {
		if j, ok := index[spelling]; ok {
			if j != i {
				clash(spelling, j, i)
			}
			return
		}
		index[spelling] = i
	}
	var buffer [maxSymbol]byte
	plain := make([]string, len(unitTable))
	for i, row := range unitTable {
		n, _ := plainSymbol(&buffer, row.Symbol)
		plain[i] = string(buffer[:n])
		add(row.Symbol, i)
		add(plain[i], i)
		for _, spelling := range strings.Fields(row.also) {
			add(spelling, i)
		}
	}
	// N·m is read as Nm too.
	for i := range unitTable {
		add(strings.ReplaceAll(plain[i], ".", ""), i)
	}
	return index
}
