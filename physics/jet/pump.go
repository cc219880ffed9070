package jet

import (
	"math"

	"jetwright/numeric"
)

// PumpMap is a pump without scale, as flow coefficient φ = Q/(ΩD³) against head
// coefficient ψ = gH/(ΩD)² and power coefficient π = P/(ρΩ³D⁵), before cavitation. An
// estimated curve, a typed table and a map worked out from blades all come in by this
// door. Its methods are pure and do not allocate.
type PumpMap interface {
	// Head returns ψ and dψ/dφ.
	Head(flowCoefficient float64) (head, slope float64)
	// Power returns π, the power at the impeller.
	Power(flowCoefficient float64) float64
	// Losses returns, in the unit of π and each from its own formula, what the pump
	// loses at its best efficiency and what it loses beyond that off its best point.
	// Power = φ·ψ + best + offDesign.
	Losses(flowCoefficient float64) (best, offDesign float64)
	// Outside tells that a flow coefficient lies outside what the map rests on.
	Outside(flowCoefficient float64) bool
}

// BladedPump is a pump that is worked out from its blades: it says itself where cavitation breaks its head down, what
// swirl it leaves, and between which flows it holds. Its head is without the swirl's power.
type BladedPump interface {
	PumpMap
	// Breakdown returns the NPSH at which the head falls, over (ΩD)²/g, and its slope over φ.
	Breakdown(flowCoefficient float64) (npsh, slope float64)
	// SwirlLeft returns the swirl times radius behind the pump over ΩD², and its power over ρΩ³D⁵.
	SwirlLeft(flowCoefficient float64) (momentum, power float64)
	// Ends returns the flow coefficients between which the map holds.
	Ends() (low, high float64)
}

// EstimatedPump is a pump of which only the kind is known: a head curve through the design
// point, and a straight power curve that puts the best efficiency there.
//
//	ψ = ψ_d·[h₀ − (h₀−1)·q^b],  π = (ψ_d·φ_d/η)·[1 + c·(1−q)],  q = φ/φ_d,  c = (h₀−1)·b − 1
//
//	φ_d, ψ_d  design flow and head coefficient, -
//	h₀        head at no flow over design head, -     [Impeller.ShutoffRatio]
//	b         exponent of the head curve, -           [Impeller.CurveExponent]
//	η         best efficiency, installed, -           [Impeller.Efficiency, Impeller.InstalledFactor]
//
// Holds between about half and one and a half times the design flow; stall is not in it.
//
// Source: own. Tests: TestEstimatedPumpExact, TestPumpLossesLaw.
type EstimatedPump struct {
	FlowCoefficient, HeadCoefficient        float64 // at the design point
	ShutoffRatio, CurveExponent, Efficiency float64
}

// Head returns the head coefficient and its slope, both dimensionless.
//
//	ψ = ψ_d·[h₀ − (h₀−1)·q^b]
//
//	q  flow over design flow, -
//
// Holds as EstimatedPump says.
//
// Source: own. Tests: TestEstimatedPumpExact, TestPumpLossesLaw.
func (p *EstimatedPump) Head(phi float64) (head, slope float64) {
	q := phi / p.FlowCoefficient
	t := (p.ShutoffRatio - 1) * math.Exp(p.CurveExponent*math.Log(q))
	return p.HeadCoefficient * (p.ShutoffRatio - t), -p.HeadCoefficient * p.CurveExponent * t / phi
}

// Power returns the power coefficient at the impeller, dimensionless.
//
//	π = (ψ_d·φ_d/η)·[1 + c·(1−q)],  c = (h₀−1)·b − 1
//
//	q  flow over design flow, -
//
// Holds as EstimatedPump says.
//
// Source: own. Tests: TestEstimatedPumpExact, TestPumpLossesLaw.
func (p *EstimatedPump) Power(phi float64) float64 {
	c := (p.ShutoffRatio-1)*p.CurveExponent - 1
	return p.HeadCoefficient * p.FlowCoefficient / p.Efficiency * (1 + c*(1-phi/p.FlowCoefficient))
}

// Losses returns the power lost at best efficiency and the excess off the design point, as
// power coefficients, dimensionless. Both are positive, and the second is zero at the design point.
//
//	best = φ·ψ·(1/η − 1)
//	off  = (ψ_d·φ_d/η)·{1 + c·(1−q) − q·[h₀ − (h₀−1)·q^b]}
//
//	q  flow over design flow, -
//
// Holds as EstimatedPump says.
//
// Source: own. Tests: TestPumpLossesLaw.
func (p *EstimatedPump) Losses(phi float64) (best, offDesign float64) {
	q := phi / p.FlowCoefficient
	unit := p.HeadCoefficient * p.FlowCoefficient
	useful := q * (p.ShutoffRatio - (p.ShutoffRatio-1)*math.Pow(q, p.CurveExponent))
	rise := ((p.ShutoffRatio-1)*p.CurveExponent - 1) * (1 - q)
	return unit * useful * (1/p.Efficiency - 1), unit / p.Efficiency * (1 + rise - useful)
}

// Outside tells that the flow is less than half or more than one and a half times the design flow.
func (p *EstimatedPump) Outside(phi float64) bool {
	q := phi / p.FlowCoefficient
	return q < 0.5 || q > 1.5
}

// TablePump is a typed pump table, scaled by similarity: monotone piecewise cubics through
// its points in coefficients.
type TablePump struct {
	head, power *numeric.PCHIP
	low, high   float64
	best        float64 // best efficiency of the table's points
}

// NewTablePump makes a map of a pump table: flow in m³/s, head in m, power in W at a rotor
// speed in rad/s, for an impeller diameter in m, a density in kg/m³ and gravity in m/s².
// The flows must rise; there must be at least three points and one with useful power.
func NewTablePump(im Impeller, density, gravity float64) (*TablePump, Reason) {
	n := len(im.TableFlow)
	if n < 3 || len(im.TableHead) != n || len(im.TablePower) != n || !im.TableRotorSpeed.Set {
		return nil, TableUnusable
	}
	omega, d := im.TableRotorSpeed.Value, im.Diameter
	phi, psi, pi := make([]float64, n), make([]float64, n), make([]float64, n)
	best := 0.0
	for i := range phi {
		phi[i] = im.TableFlow[i] / (omega * d * d * d)
		psi[i] = gravity * im.TableHead[i] / (omega * omega * d * d)
		pi[i] = im.TablePower[i] / (density * omega * omega * omega * math.Pow(d, 5))
		if pi[i] > 0 {
			best = math.Max(best, phi[i]*psi[i]/pi[i])
		}
	}
	if best <= 0 || best >= 1 {
		return nil, TableUnusable
	}
	head, err := numeric.NewPCHIP(phi, psi)
	if err != nil {
		return nil, TableUnusable
	}
	power, err := numeric.NewPCHIP(phi, pi)
	if err != nil {
		return nil, TableUnusable
	}
	return &TablePump{head: head, power: power, low: phi[0], high: phi[n-1], best: best}, Solved
}

// Head returns the head coefficient and its slope from the table, both dimensionless.
//
//	ψ = ψ(φ), monotone piecewise cubic through the table's points
//
//	φ  flow coefficient, -
//
// Holds between the table's ends; outside it goes on straight and Outside says so.
//
// Source: own. Tests: TestTablePumpExact, TestPumpLossesLaw.
func (p *TablePump) Head(phi float64) (head, slope float64) {
	head, slope, _ = p.head.At(phi)
	return head, slope
}

// Power returns the power coefficient from the table, dimensionless.
//
//	π = π(φ), monotone piecewise cubic through the table's points
//
//	φ  flow coefficient, -
//
// Holds as Head does.
//
// Source: own. Tests: TestTablePumpExact, TestPumpLossesLaw.
func (p *TablePump) Power(phi float64) float64 {
	y, _, _ := p.power.At(phi)
	return y
}

// Losses returns the power lost at the table's best efficiency and the excess off that
// point, as power coefficients, dimensionless.
//
//	best = φ·ψ·(1/η_best − 1),  off = π − φ·ψ/η_best
//
//	η_best  best efficiency among the table's points, -
//
// Holds as Head does.
//
// Source: own. Tests: TestPumpLossesLaw.
func (p *TablePump) Losses(phi float64) (best, offDesign float64) {
	psi, _, _ := p.head.At(phi)
	pi, _, _ := p.power.At(phi)
	return phi * psi * (1/p.best - 1), pi - phi*psi/p.best
}

// Outside tells that the flow lies outside the table.
func (p *TablePump) Outside(phi float64) bool { return phi < p.low || phi > p.high }
