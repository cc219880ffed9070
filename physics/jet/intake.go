package jet

import "math"

// boundaryLayerExponent is N of the power-law profile u/V = (y/δ)^(1/N).
const boundaryLayerExponent = 7

// captureWidthFactor is the width of the ingested stream over the width of the intake
// (ITTC 1996 rectangle, second-hand; measured shapes are wider, 1.5 to 1.9).
const captureWidthFactor = 1.3

// BoundaryLayerThickness returns the thickness of the turbulent boundary layer under the
// hull at a distance behind its leading edge, in m.
//
//	δ = 0.37·x·Re^(−1/5),  Re = V·x/ν
//
//	x  distance from the leading edge, m   [Intake.HullAhead]
//	V  speed through the water, m/s
//	ν  kinematic viscosity, m²/s
//
// Holds for a smooth flat plate, turbulent from its edge, Re 5e5 to 1e7. Below it goes on
// smoothly; at V → 0 the thickness grows without bound while δ·V vanishes, which is what
// enters the balance, so speed must be positive here.
//
// Source: memory. Tests: TestBoundaryLayerThicknessPublished.
func BoundaryLayerThickness(distance, speed, viscosity float64) float64 {
	return 0.37 * distance * math.Pow(speed*distance/viscosity, -0.2)
}

// MomentumCoefficient returns the mean momentum of the ingested stream over that of the
// free stream, c_m = (1/(Q·V))·∫u dQ, dimensionless, for a stream as high as h.
//
//	h ≤ δ:  c_m = (N+1)/(N+2)·(h/δ)^(1/N)
//	h > δ:  c_m = (h − 2δ/(N+2))/(h − δ/(N+1))
//
//	h/δ  captured height over boundary layer thickness, - (positive)
//	N    7, exponent of the velocity profile
//
// Holds for a power-law profile from the hull outward. Both branches meet with equal slope.
//
// Source: ittc-waterjet-2005. Tests: TestMomentumCoefficientPublished, TestIngestionLaw.
func MomentumCoefficient(heightRatio float64) float64 {
	const n = boundaryLayerExponent
	if heightRatio <= 1 {
		return (n + 1.0) / (n + 2.0) * math.Pow(heightRatio, 1.0/n)
	}
	return (heightRatio - 2.0/(n+2)) / (heightRatio - 1.0/(n+1))
}

// EnergyCoefficientSquared returns the mean energy of the ingested stream over that of the
// free stream, c_e² = (1/(Q·V²))·∫u² dQ, dimensionless.
//
//	h ≤ δ:  c_e² = (N+1)/(N+3)·(h/δ)^(2/N)
//	h > δ:  c_e² = (h − 3δ/(N+3))/(h − δ/(N+1))
//
//	h/δ  captured height over boundary layer thickness, - (positive)
//	N    7, exponent of the velocity profile
//
// Holds as MomentumCoefficient does.
//
// Source: ittc-waterjet-2005. Tests: TestEnergyCoefficientPublished, TestIngestionLaw.
func EnergyCoefficientSquared(heightRatio float64) float64 {
	const n = boundaryLayerExponent
	if heightRatio <= 1 {
		return (n + 1.0) / (n + 3.0) * math.Pow(heightRatio, 2.0/n)
	}
	return (heightRatio - 3.0/(n+3)) / (heightRatio - 1.0/(n+1))
}

// ingestion is what the hull's boundary layer leaves of the stream: the coefficients and
// their derivatives by flow.
type ingestion struct {
	cm, ce2, dcm, dce2 float64
}

// ingest returns the coefficients for a flow through a captured rectangle. layer is
// δ·V·width, the flow through the layer's thickness at free-stream speed: it vanishes with
// the speed, and the coefficients go to 1 with it, so nothing is singular at rest.
func ingest(flow, layer float64) ingestion {
	const n = boundaryLayerExponent
	const a, b, c = 2.0 / (n + 2), 1.0 / (n + 1), 3.0 / (n + 3)
	full := flow + b*layer // = width·V·h for h > δ
	r := layer / full      // δ/h
	if r <= 1 {
		dr := -r / full
		k := 1 / (1 - b*r)
		return ingestion{
			cm: (1 - a*r) * k, ce2: (1 - c*r) * k,
			dcm: (b - a) * k * k * dr, dce2: (b - c) * k * k * dr,
		}
	}
	s := math.Pow(flow*(n+1)/(layer*n), float64(n)/(n+1))
	cm := MomentumCoefficient(s)
	ce2 := EnergyCoefficientSquared(s)
	return ingestion{cm: cm, ce2: ce2, dcm: cm / ((n + 1) * flow), dce2: 2 * ce2 / ((n + 1) * flow)}
}

// IntakeLossHead returns the head lost between stations 1 and 3 in the intake, in m.
//
//	h = [K·(v₂ − V_in)² + ε·V_in²]/(2g)
//
//	K     loss coefficient on the change of velocity, -     [Intake.ThroatLoss]
//	ε     loss coefficient on the ingested velocity, -      [Intake.IngestedLoss]
//	v₂    mean velocity in the throat, m/s
//	V_in  ingested velocity c_m·V, m/s
//	g     gravity, m/s²
//
// Our own form: at rest it is a loss on the throat velocity, at v₂ = V_in the published loss
// on the ingested velocity, and it is smooth in between. It does not know of separation on
// the ramp (inlet velocity ratio below about 0.65), which the limits watch.
//
// Source: own, bulten-2006. Tests: TestIntakeLossHeadExact, TestPathSmoothThroughRestLaw.
func IntakeLossHead(in Intake, throat, ingested, gravity float64) float64 {
	d := throat - ingested
	return (in.ThroatLoss*d*d + in.IngestedLoss*ingested*ingested) / (2 * gravity)
}

// Kirschmer's shape factors of the bars of a grid.
var gridShape = map[string]float64{"square": 2.42, "round nose": 1.83, "round": 1.79, "faired": 1.67}

// GridLoss returns the loss coefficient of a grid across the intake on the velocity head in the throat,
// dimensionless; zero where no grid is typed.
//
//	ζ = β·(t/e)^(4/3)·sin α
//
//	β  shape of the bars: 2.42 square, 1.83 round nose, 1.79 round, 1.67 faired   [Intake.GridForm]
//	t  width of a bar, m               [Intake.GridBar]
//	e  clear gap between bars, m       [Intake.GridGap]
//	α  angle between bars and stream; that of the ramp, as the bars lie in the hull's plane   [Intake.RampAngle]
//
// The formula gives the difference of level across a rack in an open channel, which is taken for the loss of head;
// it holds for clean bars that the water meets straight on, t/e up to about 0.6. The stream's velocity ahead of the
// grid is taken to be that in the throat. Weed in it is not counted.
//
// Source: baselt-2022. Tests: TestGridLossPublished, TestGridLossLaw.
func (in Intake) GridLoss() float64 {
	if !in.GridBar.Set || !in.GridGap.Set || in.GridGap.Value <= 0 {
		return 0
	}
	return gridShape[in.GridForm] * math.Pow(in.GridBar.Value/in.GridGap.Value, 4.0/3.0) * math.Sin(in.RampAngle)
}
