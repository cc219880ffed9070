package jet

import (
	"math"

	"jetwright/numeric"
)

// Reason says why a water path has no state. The list is closed.
type Reason int8

// Reasons.
const (
	Solved        Reason = iota
	NoFlow               // the pump cannot lift the water to the nozzle at this rotor speed
	NoPressure           // the intake leaves no pressure above vapour at the highest blade tip
	NotBracketed         // no flow between none and the largest that the pump can pass
	NotConverged         // iterations used up
	TableUnusable        // the pump table has no curve in it
)

// Error words the reason.
func (r Reason) Error() string {
	switch r {
	case Solved:
		return "solved"
	case NoFlow:
		return "the pump cannot lift the water to the nozzle at this rotor speed"
	case NoPressure:
		return "the intake leaves no pressure above vapour at the highest blade tip"
	case NotBracketed:
		return "no flow balances pump and nozzle"
	case NotConverged:
		return "the flow balance did not settle"
	case TableUnusable:
		return "the pump table needs a rotor speed and at least three points of flow, head and power with flows rising and an efficiency between 0 and 1"
	}
	return "unknown reason"
}

// Medium is what the water path needs to know of water and air, SI.
type Medium struct {
	Density        float64 `unit:"kg/m³" doc:"density"`
	Viscosity      float64 `unit:"m²/s" doc:"kinematic viscosity"`
	VapourPressure float64 `unit:"Pa" doc:"vapour pressure"`
	AirPressure    float64 `unit:"Pa" doc:"air pressure at the surface"`
	Gravity        float64 `unit:"m/s²" doc:"gravity"`
}

// Path is a water path with all that does not depend on the condition worked out once. It is
// a value: copying it is cheap and it is never changed.
type Path struct {
	Intake   Intake
	Impeller Impeller
	Nozzle   Nozzle
	Medium   Medium
	Pump     PumpMap
	Blades   BladedPump // the pump once more where it is worked out from its blades; nil elsewhere

	NozzleArea, JetArea    float64 // stations 6 and 7, m²
	ThroatArea, InletArea  float64 // stations 2 and 3 (pipe ahead of the hub), m²
	AnnulusArea, ExitArea  float64 // impeller annulus, and annulus at station 5, m²
	CaptureWidth           float64 // m
	CosAngle               float64
	CoolantShare           float64           // coolant flow over nozzle flow
	Coolant                *numeric.Polyline // coolant flow by jet velocity over jet velocity, m³/s by m/s; nil where CoolantShare says it
	headUnit, flowUnit     float64           // D²/g and D³
	throatShare, pipeShare float64           // 1/area
	grid                   float64           // loss coefficient of the intake's grid on the throat's velocity head
	s3squared              float64
}

// NewPath works out a water path. Coolant is tapped between pump and nozzle:
// coolantShare is its flow over that of the nozzle (both go with the root of the same
// pressure). The pump is left nil: whoever knows the design point sets it.
func NewPath(in Intake, im Impeller, st Stator, nz Nozzle, m Medium) Path {
	p := Path{Intake: in, Impeller: im, Nozzle: nz, Medium: m}
	circle := func(d float64) float64 { return math.Pi / 4 * d * d }
	p.NozzleArea = circle(nz.Diameter)
	p.JetArea = nz.Contraction * p.NozzleArea
	p.InletArea = circle(im.Diameter)
	p.AnnulusArea = circle(im.Diameter) - circle(im.HubDiameter)
	p.ExitArea = circle(st.OuterDiameter.Or(im.Diameter)) - circle(im.HubDiameter)
	p.ThroatArea = in.ThroatArea.Or(in.ThroatAreaRatio * p.InletArea)
	p.CaptureWidth = captureWidthFactor * in.Width.Or(im.Diameter)
	p.CosAngle = math.Cos(nz.Angle)
	p.headUnit = im.Diameter * im.Diameter / m.Gravity
	p.flowUnit = im.Diameter * im.Diameter * im.Diameter
	p.throatShare, p.pipeShare = 1/p.ThroatArea, 1/p.InletArea
	p.grid = p.Intake.GridLoss()
	p.s3squared = im.SuctionSpecificSpeed3 * im.SuctionSpecificSpeed3
	return p
}

// Way is a condition as the water path sees it, with its constants worked out once.
type Way struct {
	Speed  float64 // through the water, m/s
	Height float64 // shaft line above the water surface, m
	layer  float64 // δ·V·width, m³/s
	lift   float64 // height the jet is lifted above the surface, m
	atmos  float64 // (p_air − p_v)/(ρg) less the height of the highest blade tip, m
}

// Way works out a condition: speed through the water in m/s (either sign) and height of the
// shaft line above the water surface in m.
func (p *Path) Way(speed, height float64) Way {
	w := Way{Speed: speed, Height: height}
	if v := math.Abs(speed); v > 0 && p.Intake.HullAhead > 0 {
		w.layer = BoundaryLayerThickness(p.Intake.HullAhead, v, p.Medium.Viscosity) * v * p.CaptureWidth
	}
	if z := height + p.Nozzle.HeightOffset; z > 0 {
		w.lift = z
	}
	w.atmos = (p.Medium.AirPressure-p.Medium.VapourPressure)/(p.Medium.Density*p.Medium.Gravity) -
		(height + p.Impeller.Diameter/2)
	return w
}

// demand is what the water path asks of the pump at a jet velocity, with derivatives by it.
type demand struct {
	flow, dflow  float64 // through the pump, m³/s
	head, dhead  float64 // between stations 3 and 5, m
	npsh, dnpsh  float64 // at the highest blade tip, m
	intake, duct float64 // heads lost, m
	in           ingestion
}

// ask works out the system's demand.
//
//	H = (1+ζ)·v₇²/(2g) + z + h_intake + h_duct − c_e²·V²/(2g)
func (p *Path) ask(w *Way, jet float64) demand {
	g2 := 2 * p.Medium.Gravity
	var d demand
	d.flow, d.dflow = p.pumped(jet)
	d.in = ingest(d.flow, w.layer)
	cm, dcm := d.in.cm, d.in.dcm*d.dflow
	throat, dthroat := d.flow*p.throatShare, d.dflow*p.throatShare
	vin, dvin := cm*w.Speed, dcm*w.Speed
	d.intake = IntakeLossHead(p.Intake, throat, vin, p.Medium.Gravity) + p.grid*throat*throat/g2
	dintake := 2 * (p.Intake.ThroatLoss*(throat-vin)*(dthroat-dvin) + p.Intake.IngestedLoss*vin*dvin + p.grid*throat*dthroat) / g2
	pipe := d.flow * p.pipeShare
	d.duct = p.Intake.DuctLoss * pipe * pipe / g2
	dduct := 2 * p.Intake.DuctLoss * pipe * d.dflow * p.pipeShare / g2
	ram := d.in.ce2 * w.Speed * w.Speed / g2
	dram := d.in.dce2 * d.dflow * w.Speed * w.Speed / g2
	d.head = (1+p.Nozzle.Loss)*jet*jet/g2 + w.lift + d.intake + d.duct - ram
	d.dhead = 2*(1+p.Nozzle.Loss)*jet/g2 + dintake + dduct - dram
	d.npsh = w.atmos + ram - d.intake - d.duct
	d.dnpsh = dram - dintake - dduct
	return d
}

// pumped returns the flow through the pump in m³/s, coolant included, and its derivative by jet velocity.
func (p *Path) pumped(jet float64) (flow, slope float64) {
	if p.Coolant != nil {
		y, dy, _ := p.Coolant.At(jet)
		return (p.JetArea + y) * jet, p.JetArea + y + dy*jet
	}
	slope = p.JetArea * (1 + p.CoolantShare)
	return slope * jet, slope
}

// CoolantFlow returns the flow in m³/s that leaves with the coolant at a jet velocity in m/s.
//
//	Q_c = share·A₇·v₇, or c(v₇)·v₇ with the circuit's own curve c
//
//	v₇  jet velocity, m/s
//
// Holds for coolant tapped between pump and nozzle.
//
// Source: own. Tests: TestCoolantCurveExact.
func (p *Path) CoolantFlow(jet float64) float64 {
	if p.Coolant != nil {
		y, _, _ := p.Coolant.At(jet)
		return y * jet
	}
	return p.CoolantShare * p.JetArea * jet
}

// give returns the head that the pump makes at a rotor speed for a demand, with its
// derivative by jet velocity and what cavitation leaves of it. Without pressure above
// vapour nothing is left.
func (p *Path) give(omega float64, d *demand) (head, slope, factor float64) {
	phi := d.flow / (omega * p.flowUnit)
	psi, dpsi := p.Pump.Head(phi)
	unit := omega * omega * p.headUnit
	head = unit * psi
	slope = unit * dpsi * d.dflow / (omega * p.flowUnit)
	if d.npsh <= 0 {
		return 0, 0, 0
	}
	// ln(S/S₃), from the squares, so that one root and one logarithm serve
	gn := p.Medium.Gravity * d.npsh
	m := p.Impeller.CavitationExponent
	if p.Blades != nil {
		need, dneed := p.Blades.Breakdown(phi)
		if need <= 0 {
			return head, slope, 1 // nothing to break down
		}
		x := 0.03 * math.Exp(m*0.75*math.Log(unit*need/d.npsh))
		factor = math.Exp(-x)
		slope = factor * (slope - head*x*m*0.75*(dneed/need*d.dflow/(omega*p.flowUnit)-d.dnpsh/d.npsh))
		return factor * head, slope, factor
	}
	x := 0.03 * math.Exp(m*0.5*math.Log(omega*omega*d.flow/(gn*math.Sqrt(gn)*p.s3squared)))
	factor = math.Exp(-x)
	slope = factor * (slope - head*x*m*(0.5*d.dflow/d.flow-0.75*d.dnpsh/d.npsh))
	return factor * head, slope, factor
}

const balanceTolerance = 2e-14

// newtonTurns is how many steps Newton is given before the bracket is halved at every turn.
const newtonTurns = 25

// Balance returns the jet velocity in m/s at which pump and nozzle agree at a rotor speed in
// rad/s, starting from a guess (0 if there is none).
//
//	H_pump(Q, Ω) = H_demand(Q),  Q = A₇·v₇·(1 + coolant share)
//
//	Ω   rotor speed, rad/s (positive)
//	v₇  jet velocity at the vena contracta, m/s
//
// The demand rises with the flow and the pump's head falls, so there is one answer; it is
// found by Newton steps kept inside a bracket, to 2e-14 of the head's parts. A pump table
// with a stall hump may have more than one: the one nearest the guess is found.
//
// Source: ittc-waterjet-2005. Tests: TestBalanceLaw, TestPathSmoothThroughRestLaw.
func (p *Path) Balance(w *Way, omega, guess float64) (float64, Reason) {
	if guess <= 0 {
		guess = 0.5 * omega * p.Impeller.Diameter
	}
	low, high := 0.0, math.Inf(1)
	v := guess
	for turn := range 120 {
		d := p.ask(w, v)
		h, dh, _ := p.give(omega, &d)
		f := h - d.head
		scale := math.Abs(h) + (1+p.Nozzle.Loss)*v*v/(2*p.Medium.Gravity) + math.Abs(d.head)
		if math.Abs(f) <= balanceTolerance*scale {
			return v, Solved
		}
		if f > 0 {
			low = v
		} else {
			high = v
		}
		next := v - f/(dh-d.dhead)
		// Where the pump's head breaks down steeply Newton's steps may go to and fro across the bend.
		slow := turn >= newtonTurns && !math.IsInf(high, 1)
		if slow || !(next > low && next < high) {
			if math.IsInf(high, 1) {
				next = 2 * v
			} else {
				next = 0.5 * (low + high)
			}
		}
		if math.Abs(next-v) <= 1e-15*v {
			return next, Solved
		}
		if next < 1e-9*guess {
			return 0, NoFlow
		}
		if next > 1e6*guess {
			return 0, NotBracketed
		}
		v = next
	}
	return 0, NotConverged
}

// ShaftPower returns the power at the impeller in W that a rotor speed in rad/s takes at a
// jet velocity in m/s.
//
//	P = π(φ)·ρ·Ω³·D⁵
//
//	π  power coefficient of the pump map, -
//	ρ  density, kg/m³
//	Ω  rotor speed, rad/s
//	D  impeller tip diameter, m   [Impeller.Diameter]
//
// Cavitation leaves the power as it is (our own assumption): head is lost, torque is not.
//
// Source: own. Tests: TestLedgerClosesLaw.
func (p *Path) ShaftPower(omega, jet float64) float64 {
	flow, _ := p.pumped(jet)
	phi := flow / (omega * p.flowUnit)
	return p.Pump.Power(phi) * p.Medium.Density * omega * omega * omega * p.flowUnit * p.Impeller.Diameter * p.Impeller.Diameter
}

// GrossThrust returns the thrust of the jet in N.
//
//	T = ρ·(Q₇·v₇·cos θ − Q·c_m·V)
//
//	ρ    density, kg/m³
//	Q₇   flow through the nozzle, m³/s
//	Q    flow through the intake, coolant included, m³/s
//	v₇   jet velocity, m/s
//	θ    angle of the jet, rad              [Nozzle.Angle]
//	c_m  momentum coefficient, -
//	V    speed through the water, m/s
//
// Coolant is taken in with its momentum and leaves sideways, without thrust.
//
// Source: ittc-waterjet-2005. Tests: TestGrossThrustPublished, TestLedgerClosesLaw.
func (p *Path) GrossThrust(w *Way, jet float64) float64 {
	qn := p.JetArea * jet
	q := qn * (1 + p.CoolantShare)
	if p.Coolant != nil {
		q, _ = p.pumped(jet)
	}
	in := ingest(q, w.layer)
	return p.Medium.Density * (qn*jet*p.CosAngle - q*in.cm*w.Speed)
}

// SwirlThrust returns the thrust in N that swirl left behind the blades costs the jet beyond what it has cost the head.
//
//	ΔT = (π·ρ·L² − P·(Q₇/Q)/v₇)·cos θ
//
//	L   swirl times radius behind the blades, mean over the flow, m²/s
//	P   power in that swirl, which the head is without, W
//	Q₇  flow through the nozzle; Q through the pump
//	v₇  jet velocity, m/s
//	θ   angle of the jet, rad [Nozzle.Angle]
//
// The jet turns as a solid body with that momentum; the low pressure inside it takes πρL² at the same total pressure.
// It may be negative: where little momentum is left in much uneven swirl, the head has paid more. Holds while the
// jet's rim turns slower than the jet runs. 0 where no blades are known.
//
// Source: own. Tests: TestSwirlThrustExact.
func (p *Path) SwirlThrust(omega, jet float64) float64 {
	if p.Blades == nil {
		return 0
	}
	flow, _ := p.pumped(jet)
	momentum, power := p.Blades.SwirlLeft(flow / (omega * p.flowUnit))
	d2 := p.Impeller.Diameter * p.Impeller.Diameter
	l := momentum * omega * d2
	left := power * p.Medium.Density * omega * omega * omega * p.flowUnit * d2
	return (math.Pi*p.Medium.Density*l*l - left*p.JetArea/flow) * p.CosAngle
}

// Suction3 returns the suction specific speed at which the head is down 3 % at a flow coefficient, dimensionless.
//
//	S₃ as typed or assumed; √φ/N_b^(3/4) where the blades are known
//
//	φ    flow coefficient, -
//	N_b  NPSH at breakdown over (ΩD)²/g, - [BladedPump.Breakdown]
//
// Holds by definition.
//
// Source: own. Tests: TestSwirlThrustExact.
func (p *Path) Suction3(phi float64) float64 {
	if p.Blades == nil {
		return p.Impeller.SuctionSpecificSpeed3
	}
	need, _ := p.Blades.Breakdown(phi)
	return math.Sqrt(phi) / math.Pow(need, 0.75)
}

// Head returns the pump head in m and the flow through the pump in m³/s that a jet velocity
// in m/s asks for.
//
//	H = (1+ζ)·v₇²/(2g) + z + h_intake + h_duct − c_e²·V²/(2g)
//
//	ζ    nozzle loss coefficient, -                     [Nozzle.Loss]
//	z    height of the nozzle above the surface, m; 0 below it
//	c_e  energy coefficient of the ingested stream, -
//	V    speed through the water, m/s
//
// Holds by the energy balance between stations 1 and 7.
//
// Source: bulten-2006, eq. 2.56. Tests: TestSystemHeadPublished, TestLedgerClosesLaw.
func (p *Path) Head(w *Way, jet float64) (head, flow float64) {
	d := p.ask(w, jet)
	return d.head, d.flow
}

// NPSH returns the net positive suction head at the highest blade tip in m at a jet velocity
// in m/s; it may be negative.
//
//	NPSH = (p_air − p_v)/(ρg) + c_e²·V²/(2g) − h_intake − h_duct − z_tip
//
//	p_air  air pressure, Pa
//	p_v    vapour pressure, Pa
//	z_tip  height of the highest blade tip above the water surface, m
//
// Holds by definition.
//
// Source: bulten-2006, eq. 2.64. Tests: TestNPSHExact.
func (p *Path) NPSH(w *Way, jet float64) float64 {
	d := p.ask(w, jet)
	return d.npsh
}
