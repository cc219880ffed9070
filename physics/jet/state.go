package jet

import "math"

// State is what the water path does at a condition. SI; heads in m.
type State struct {
	RotorSpeed              float64 `unit:"rpm" doc:"rotor speed of the impeller"`
	Flow                    float64 `unit:"m³/s" doc:"flow through the pump, coolant included"`
	NozzleFlow              float64 `unit:"m³/s" doc:"flow through the nozzle"`
	JetVelocity             float64 `unit:"m/s" doc:"mean velocity at the vena contracta, station 7"`
	NozzleVelocity          float64 `unit:"m/s" doc:"mean velocity at the nozzle outlet, station 6"`
	ThroatVelocity          float64 `unit:"m/s" doc:"mean velocity in the intake throat, station 2"`
	AxialVelocity           float64 `unit:"m/s" doc:"mean axial velocity in the impeller annulus, station 3"`
	IngestedVelocity        float64 `unit:"m/s" doc:"momentum mean velocity of the ingested stream, station 1"`
	MomentumCoefficient     float64 `unit:"1" doc:"momentum coefficient of the ingested stream"`
	EnergyCoefficient       float64 `unit:"1" doc:"energy coefficient of the ingested stream"`
	ThroatVelocityRatio     float64 `unit:"1" doc:"craft speed over throat velocity (reciprocal of the inlet velocity ratio, finite at rest)"`
	JetVelocityRatio        float64 `unit:"1" doc:"craft speed over jet velocity"`
	Head                    float64 `unit:"m" doc:"pump head between stations 3 and 5"`
	IntakeLossHead          float64 `unit:"m" doc:"head lost in the intake, its grid included"`
	DuctLossHead            float64 `unit:"m" doc:"head lost in the duct"`
	NozzleLossHead          float64 `unit:"m" doc:"head lost in the nozzle"`
	InletPressure           float64 `unit:"kPa" doc:"static pressure at the pump inlet over air pressure, station 3, shaft height"`
	OutletPressure          float64 `unit:"kPa" doc:"static pressure at the pump outlet over air pressure, station 5, shaft height"`
	NozzlePressure          float64 `unit:"kPa" doc:"static pressure at the nozzle outlet over its surroundings, station 6"`
	TapPressure             float64 `unit:"kPa" doc:"stagnation pressure at a tap ahead of the nozzle over its surroundings"`
	GrossThrust             float64 `unit:"N" doc:"gross thrust: change of momentum of the water"`
	FlowCoefficient         float64 `unit:"1" doc:"flow coefficient Q/(ΩD³)"`
	HeadCoefficient         float64 `unit:"1" doc:"head coefficient gH/(ΩD)²"`
	SpecificSpeed           float64 `unit:"1" doc:"specific speed Ω√Q/(gH)^0.75"`
	PumpEfficiency          float64 `unit:"1" doc:"pump efficiency, impeller shaft to total head"`
	NPSHAvailable           float64 `unit:"m" doc:"net positive suction head at the highest blade tip"`
	SuctionSpecificSpeed    float64 `unit:"1" doc:"suction specific speed Ω√Q/(g·NPSH)^0.75"`
	ThomaNumber             float64 `unit:"1" doc:"Thoma number NPSH/H"`
	CavitationFactor        float64 `unit:"1" doc:"share of the head that cavitation leaves"`
	TipSpeed                float64 `unit:"m/s" doc:"tip speed of the impeller"`
	ThrustCoefficient       float64 `unit:"1" doc:"thrust coefficient T/(ρn²D⁴)"`
	PowerCoefficient        float64 `unit:"1" doc:"power coefficient P/(ρn³D⁵), power at the impeller"`
	ImpellerPower           float64 `unit:"W" doc:"power at the impeller, torque times speed"`
	ImpellerTorque          float64 `unit:"N·m" doc:"torque at the impeller"`
	HydraulicPower          float64 `unit:"W" doc:"power in the water, flow times head"`
	PumpLoss                float64 `unit:"W" doc:"pump loss at its best efficiency"`
	PumpOffDesignLoss       float64 `unit:"W" doc:"pump loss beyond that, off its best point"`
	CavitationLoss          float64 `unit:"W" doc:"power lost to cavitation"`
	IntakeLoss              float64 `unit:"W" doc:"power lost in the intake, its grid included"`
	DuctLoss                float64 `unit:"W" doc:"power lost in the duct"`
	NozzleLoss              float64 `unit:"W" doc:"power lost in the nozzle"`
	LiftLoss                float64 `unit:"W" doc:"power that lifts the jet above the water"`
	CoolantLoss             float64 `unit:"W" doc:"power that leaves with the coolant"`
	JetLoss                 float64 `unit:"W" doc:"power left behind in the jet, seen from the water at rest"`
	WakeGain                float64 `unit:"W" doc:"power taken back from the hull's boundary layer"`
	ThrustPower             float64 `unit:"W" doc:"thrust times speed"`
	BoundaryLayerFlowHeight float64 `unit:"1" doc:"boundary layer thickness over height of the ingested stream"`
}

// State works out everything at a rotor speed in rad/s and a jet velocity in m/s that
// Balance has found. Every loss comes from its own formula; see PowerBalance for their sum.
func (p *Path) State(w *Way, omega, jet float64) (State, Reason) {
	m := p.Medium
	g := m.Gravity
	d := p.ask(w, jet)
	if d.npsh <= 0 {
		return State{}, NoPressure
	}
	_, _, factor := p.give(omega, &d)
	var s State
	v2 := w.Speed * w.Speed
	s.RotorSpeed = omega
	s.Flow = d.flow
	s.NozzleFlow = p.JetArea * jet
	coolant := s.NozzleFlow * p.CoolantShare
	if p.Coolant != nil {
		coolant = p.CoolantFlow(jet)
	}
	s.JetVelocity = jet
	s.NozzleVelocity = s.NozzleFlow / p.NozzleArea
	s.ThroatVelocity = d.flow * p.throatShare
	s.AxialVelocity = d.flow / p.AnnulusArea
	s.MomentumCoefficient = d.in.cm
	s.EnergyCoefficient = math.Sqrt(d.in.ce2)
	s.IngestedVelocity = d.in.cm * w.Speed
	s.ThroatVelocityRatio = w.Speed / s.ThroatVelocity
	s.JetVelocityRatio = w.Speed / jet
	s.Head = d.head
	s.IntakeLossHead, s.DuctLossHead = d.intake, d.duct
	s.NozzleLossHead = p.Nozzle.Loss * jet * jet / (2 * g)
	ram := d.in.ce2 * v2 / (2 * g)
	inlet := ram - d.intake - d.duct // total head at station 3 over the surface
	pipe := d.flow * p.pipeShare
	s.InletPressure = m.Density * (g*(inlet-w.Height) - pipe*pipe/2)
	exit := d.flow / p.ExitArea
	s.OutletPressure = m.Density * (g*(inlet+s.Head-w.Height) - exit*exit/2)
	s.NozzlePressure = m.Density / 2 * (jet*jet - s.NozzleVelocity*s.NozzleVelocity)
	s.TapPressure = m.Density / 2 * (1 + p.Nozzle.Loss) * jet * jet
	s.GrossThrust = m.Density * (s.NozzleFlow*jet*p.CosAngle - s.Flow*d.in.cm*w.Speed)
	swirl := p.SwirlThrust(omega, jet)
	s.GrossThrust -= swirl
	s.FlowCoefficient = d.flow / (omega * p.flowUnit)
	s.HeadCoefficient = d.head / (omega * omega * p.headUnit)
	s.NPSHAvailable = d.npsh
	s.SuctionSpecificSpeed = SuctionSpecificSpeed(omega, d.flow, g, d.npsh)
	if d.head > 0 {
		s.SpecificSpeed = SpecificSpeed(omega, d.flow, g, d.head)
		s.ThomaNumber = d.npsh / d.head
	}
	s.CavitationFactor = factor
	s.TipSpeed = omega * p.Impeller.Diameter / 2
	s.ImpellerTorque = p.ShaftPower(omega, jet) / omega
	s.ImpellerPower = s.ImpellerTorque * omega
	n := omega / (2 * math.Pi)
	d2 := p.Impeller.Diameter * p.Impeller.Diameter
	s.ThrustCoefficient = s.GrossThrust / (m.Density * n * n * d2 * d2)
	s.PowerCoefficient = s.ImpellerPower / (m.Density * n * n * n * d2 * d2 * p.Impeller.Diameter)
	s.HydraulicPower = m.Density * g * d.flow * d.head
	s.PumpEfficiency = s.HydraulicPower / s.ImpellerPower
	unit := m.Density * omega * omega * omega * p.flowUnit * d2
	best, off := p.Pump.Losses(s.FlowCoefficient)
	s.PumpLoss, s.PumpOffDesignLoss = unit*best, unit*off
	psi, _ := p.Pump.Head(s.FlowCoefficient)
	s.CavitationLoss = m.Density * g * d.flow * omega * omega * p.headUnit * psi * (1 - factor)
	s.IntakeLoss = m.Density * g * d.flow * d.intake
	s.DuctLoss = m.Density * g * d.flow * d.duct
	s.NozzleLoss = m.Density * g * s.NozzleFlow * s.NozzleLossHead
	s.LiftLoss = m.Density * g * s.NozzleFlow * w.lift
	s.CoolantLoss = coolant * (s.TapPressure + m.Density*(g*w.lift+v2/2))
	s.JetLoss = m.Density*s.NozzleFlow*(jet*jet-2*jet*w.Speed*p.CosAngle+v2)/2 + swirl*w.Speed
	s.WakeGain = m.Density * d.flow * (1 - 2*d.in.cm + d.in.ce2) * v2 / 2
	s.ThrustPower = s.GrossThrust * w.Speed
	full := d.flow + w.layer/(boundaryLayerExponent+1)
	s.BoundaryLayerFlowHeight = w.layer / full
	return s, Solved
}

// PowerBalance returns what is left of the impeller's power when thrust power and every
// named loss are taken from it, over that power, dimensionless: it closes to rounding.
//
//	P = T·V + losses − wake gain
//
//	P  power at the impeller, W
//
// Holds for every solved state.
//
// Source: own. Tests: TestLedgerClosesLaw.
func (s State) PowerBalance() float64 {
	spent := s.ThrustPower + s.PumpLoss + s.PumpOffDesignLoss + s.CavitationLoss + s.IntakeLoss + s.DuctLoss +
		s.NozzleLoss + s.LiftLoss + s.CoolantLoss + s.JetLoss - s.WakeGain
	return (s.ImpellerPower - spent) / s.ImpellerPower
}
