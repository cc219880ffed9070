package drive

import (
	"fmt"
	"math"
	"slices"

	"jetwright/physics/blade"
	"jetwright/physics/electric"
	"jetwright/physics/jet"
	"jetwright/physics/water"
	"jetwright/quantity"
)

// Need is what a drive is to be sized for. Bounds that are not set leave it free.
type Need struct {
	Thrust         float64 // gross thrust at rest, N
	WayThrust      float64 // gross thrust at Speed, N
	Speed          float64 // m/s
	Diameter       float64 // largest impeller that fits, m
	BatteryPower   quantity.Optional
	BatteryCurrent quantity.Optional
	PhaseCurrent   quantity.Optional // peak
	MotorSpeed     quantity.Optional
	MotorMass      quantity.Optional
	Base           Drive // water, height, cells in series and whatever else is not sized
}

// Form is what may be chosen freely of a drive that is to be sized.
type Form struct {
	Power       float64 // at the battery, W
	Diameter    float64 // of the impeller, m
	NozzleRatio float64 // nozzle over impeller diameter
	Place       float64 // specific diameter over that of Cordier's line at the same specific speed
}

// Ranges that forms are looked for in.
const (
	fastestJet                   = 25.0 // m/s at rest, which sets the smallest impeller that is looked at
	leastNozzle, largestNozzle   = 0.40, 0.95
	leftOfCordier, rightOfIt     = 0.75, 1.10 // specific diameter over that of the line: waterjet pumps lie about it and left of it
	leastSpecific, mostSpecific  = 1.0, 6.0   // specific speeds that the fits of attainable efficiency are used for
	hubRatio                     = 0.42       // hub over tip: axial pumps have 0.4 to 0.5 (brennen-1994, second-hand)
	throatRatio                  = 0.8        // inlet velocity ratio under way that the throat is drawn for; separation begins below 0.65
	leastThroat, largestThroat   = 0.6, 1.1   // throat over pump inlet area
	windingReserve               = 0.10       // share that is left to the winding's bound
	voltageUsed                  = 0.88       // of the usable battery voltage at the assumed charge, so that a lower charge still reaches
	massByPower                  = 0.5e-3     // kg of motor by W at the battery where no mass is given; our own
	usualCell, cellUsed          = 20.0, 0.8  // A of a cell whose limit is not typed, and the share of it that is used
	sagUsed                      = 0.6        // of the way from the open circuit to the cells' cut-off
	printedEfficiency            = 0.45 / 0.78
	resistanceBand, noLoadBand   = 0.25, 0.4
	electricShare                = 0.9 // of the battery's power at the shaft, for the first guess
	mostBattery, mostPhaseMargin = 1.25, 1.3
)

// EfficiencyBand returns the band of efficiency that a pump of this kind and size may be expected to have before
// anyone has tested it, dimensionless.
//
//	η_high = min(Bulten, Gülich, Cordier),  η_low = η_high·0.45/0.78
//
//	Bulten   jet.AttainableEfficiencyBulten at flow in m³/s and specific speed
//	Gülich   jet.AttainableEfficiencyGuelich at the same
//	Cordier  blade.CordierEfficiency at the specific diameter
//
// The high end is the least of three fits of what good pumps reach; the low one stands to it as the ends of what this
// program assumes of home-made pumps stand to each other (our own).
//
// Holds as the fits do, specific speed 1 to 6; below 0.1 m³/s they are extrapolated.
//
// Source: bulten-2006, guelich-2010, wright-gerhart-2010, own. Tests: TestEfficiencyBandPublished.
func EfficiencyBand(flow, specificSpeed, specificDiameter float64) (low, high float64) {
	high = min(jet.AttainableEfficiencyBulten(flow, specificSpeed), jet.AttainableEfficiencyGuelich(flow, specificSpeed), blade.CordierEfficiency(specificDiameter))
	return high * printedEfficiency, high
}

// Sized is a drive that was drawn for a need, with what it does at rest and under way at the same battery power.
// Its typed numbers are rounded to what a builder would type.
type Sized struct {
	Form
	Drive                     Drive
	EfficiencyLow, Efficiency float64 // ends of the pump's band
	MotorMass                 float64 // kg
	Rest, Way                 State
	Checks                    []Check // thrusts and limits, each at the condition where less is left, least left first
	Why                       string  // why there is no state; empty if there is one
}

// Check is something that a sized drive has to keep.
type Check struct {
	quantity.Limit
	Way   bool    // it is nearest under way; else at rest
	Slack float64 // what is left beyond what sizing asks to be left; negative where it is not met
}

// Worst returns the least slack.
func (s *Sized) Worst() float64 {
	if s.Why != "" {
		return -10
	}
	return s.Checks[0].Slack
}

// WindingMargin returns the share that is left to the winding's bound, the lesser of rest and way.
func (s *Sized) WindingMargin() float64 {
	for i := range s.Checks {
		if s.Checks[i].Name == windingLimit {
			return s.Checks[i].Margin()
		}
	}
	return math.Inf(-1)
}

// Names of what sizing asks for by itself.
const (
	RestThrust     = "thrust at rest"
	UnderWayThrust = "thrust under way"
	SpecificSpeed  = "specific speed of the pump"
	windingLimit   = "winding temperature"
)

// neat rounds to a number of significant digits.
func neat(x float64, digits int) float64 {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return x
	}
	p := digits - 1 - int(math.Floor(math.Log10(math.Abs(x))))
	if p < 0 {
		k := math.Pow10(-p)
		return math.Round(x/k) * k
	}
	k := math.Pow10(p)
	return math.Round(x*k) / k
}

// inUnit rounds an SI number in a unit to a step of that unit.
func inUnit(x float64, unit string, round func(float64) float64) float64 {
	u := quantity.MustUnit(unit)
	return u.ToSI(round(u.FromSI(x)))
}

func steps(step float64) func(float64) float64 {
	return func(x float64) float64 { return math.Round(x/step) * step }
}

func digits(n int) func(float64) float64 { return func(x float64) float64 { return neat(x, n) } }

// Draw draws the drive of a form and judges it.
func (n *Need) Draw(f Form) *Sized {
	s := &Sized{Form: f, Drive: n.Base}
	d := &s.Drive
	medium := d.Water.Properties()
	g := water.StandardGravity
	d.Impeller.Diameter = inUnit(f.Diameter, "mm", math.Round)
	d.Impeller.HubDiameter = inUnit(hubRatio*f.Diameter, "mm", math.Round)
	d.Nozzle.Diameter = inUnit(f.NozzleRatio*f.Diameter, "mm", steps(0.5))
	s.Power = inUnit(f.Power, "W", digits(3))
	// the jet at rest, by momentum and energy
	area := func(x float64) float64 { return math.Pi / 4 * x * x }
	inlet, nozzle := area(d.Impeller.Diameter), d.Nozzle.Contraction*area(d.Nozzle.Diameter)
	throat, pump := inlet, 0.6
	flow, head, psi := 0.0, 0.0, 0.0
	for range 12 {
		loss := d.Nozzle.Loss + d.Intake.ThroatLoss*nozzle*nozzle/(throat*throat) + d.Intake.DuctLoss*nozzle*nozzle/(inlet*inlet)
		jetVelocity := math.Cbrt(2 * electricShare * s.Power * pump / ((1 + loss) * medium.Density * nozzle))
		flow, head = nozzle*jetVelocity, (1+loss)*jetVelocity*jetVelocity/(2*g)
		specific := d.Impeller.Diameter * math.Pow(g*head, 0.25) / math.Sqrt(flow)
		omega := blade.CordierSpeed(specific / f.Place)
		s.EfficiencyLow, s.Efficiency = EfficiencyBand(flow, omega, specific)
		if !(s.EfficiencyLow > 0.05) {
			s.Why = fmt.Sprintf("no pump turns %.3g L/s and %.3g m of head with an impeller of %.3g mm: it would need a specific speed of %.2g", 1000*flow, head, 1000*d.Impeller.Diameter, omega)
			return s
		}
		pump = (s.EfficiencyLow + s.Efficiency) / 2 * d.Impeller.InstalledFactor
		rotor := omega * math.Pow(g*head, 0.75) / math.Sqrt(flow)
		psi = g * head / (rotor * rotor * d.Impeller.Diameter * d.Impeller.Diameter)
		throat = inlet
		if n.Speed > 0 {
			throat = min(max(flow/(throatRatio*n.Speed), leastThroat*inlet), largestThroat*inlet)
		}
	}
	s.EfficiencyLow, s.Efficiency = math.Round(100*s.EfficiencyLow)/100, math.Round(100*s.Efficiency)/100
	d.Impeller.Efficiency = (s.EfficiencyLow + s.Efficiency) / 2
	d.Impeller.HeadCoefficient = neat(psi, 3)
	d.Intake.ThroatArea = quantity.Some(inUnit(throat, "cm²", digits(3)))
	d.Duty = Duty{Power: quantity.Some(s.Power), PowerPlace: "battery", TopSpeed: quantity.Optional{Value: n.Speed, Set: n.Speed > 0}}
	if low := 0.005; d.Impeller.HeadCoefficient < low {
		s.Why = "no pump of this kind has so little loading"
		return s
	}
	n.drawElectric(s, psi, head)
	return s
}

// drawElectric draws motor and battery, solves, and judges.
func (n *Need) drawElectric(s *Sized, psi, head float64) {
	d := &s.Drive
	s.MotorMass = n.MotorMass.Or(inUnit(massByPower*s.Power, "kg", digits(2)))
	d.Motor.Mass = quantity.Some(s.MotorMass)
	d.Motor.WindingToJacket = inUnit(electric.ClassWindingToJacket(s.MotorMass), "K/W", digits(2))
	d.Motor.MaxSpeed = n.MotorSpeed
	d.Controller.BatteryCurrentLimit, d.Controller.PhaseCurrentLimit = n.BatteryCurrent, n.PhaseCurrent
	d.Controller.PhaseCurrentConvention = "peak"
	rest := n.restVoltage()
	d.Battery.Parallel = n.parallel(s.Power, rest)
	d.Motor.NoLoadVoltage = inUnit(0.8*rest, "V", math.Round)
	omega := math.Sqrt(water.StandardGravity*head/psi) / d.Impeller.Diameter
	k := omega * d.Shaft.Reduction / (0.8 * rest)
	target := voltageUsed * d.Controller.ModulationLimit
	var m *Machine
	for turn := range 3 {
		// a little faster than needed rather than slower: the voltage must reach
		k = inUnit(k, "rpm/V", func(x float64) float64 { return neat(x+0.3*(x-neat(x, 3)), 3) })
		d.Motor.SpeedConstant = quantity.Some(k)
		quality := electric.ConstantFromSpeed(k) / electric.ClassQuality(s.MotorMass)
		d.Motor.WindingResistance = inUnit(quality*quality, "mΩ", digits(3))
		d.Motor.NoLoadCurrent = inUnit(electric.ClassNoLoadCurrent(s.MotorMass, k), "A", digits(3))
		var err error
		if m, err = d.Resolve(); err != nil {
			s.Why = err.Error()
			return
		}
		if s.Rest, err = m.Solve(d.DutyCondition()); err == nil {
			s.Way, err = m.Solve(n.WayCondition(s.Power))
		}
		if err != nil {
			s.Why = err.Error()
			return
		}
		used := max(s.Rest.Supply.Modulation, s.Way.Supply.Modulation) / target
		if turn == 2 || used > 0.985 && used < 1.015 {
			break
		}
		k *= used
	}
	n.judge(s, m)
}

// parallel returns how many cells in parallel a battery power in W takes, from an open-circuit voltage in V: enough for the
// cells' current, and to stay off their cut-off.
func (n *Need) parallel(power, rest float64) int {
	b := n.Base.Battery
	b.Parallel = 1
	current := power / (0.95 * rest)
	cells := current / (b.CellCurrentLimit.Or(usualCell) * cellUsed)
	sag := sagUsed*(rest-float64(b.Series)*b.CutOff) - (b.JointResistance+b.WiringResistance)*current
	if sag > 0 {
		cells = max(cells, (b.Resistance()-b.JointResistance)*current/sag)
	}
	return int(min(400, max(1, math.Ceil(cells))))
}

// restVoltage is the open-circuit voltage of the base's pack at its charge, V.
func (n *Need) restVoltage() float64 { return n.Base.openCircuit(n.Base.Battery.Charge) }

func (d *Drive) openCircuit(charge float64) float64 {
	b := d.Battery
	b.Charge = charge
	c, err := electric.NewChain(d.Motor, d.Controller, b)
	if err != nil {
		return math.NaN()
	}
	return c.OpenCircuit()
}

// CellsFor returns how many of a drive's cells in series come nearest to a voltage in V with the battery half full.
func (d *Drive) CellsFor(voltage float64) int {
	return int(math.Round(voltage / d.HalfFull() * float64(d.Battery.Series)))
}

// HalfFull returns the open-circuit voltage of the pack in V, half full.
func (d *Drive) HalfFull() float64 { return d.openCircuit(0.5) }

// WayCondition is the condition under way at a battery power in W.
func (n *Need) WayCondition(power float64) Condition {
	return Condition{Speed: n.Speed, Demand: BatteryPower, Amount: power}
}

// SettledByNeed tells of limits that no form can move: what the stand bears is not sized, and the full battery
// follows from the cells that were asked for. Those that were not judged are among them.
func SettledByNeed(l *quantity.Limit) bool {
	return l.NotJudged != "" || l.Part == "stand" || l.Name == "full battery to the touch" || l.Name == "full battery on the controller"
}

// judge holds the solved drive against the need.
func (n *Need) judge(s *Sized, m *Machine) {
	s.Checks = s.Checks[:0]
	add := func(l quantity.Limit, way bool, slack float64) {
		for i := range s.Checks {
			if c := &s.Checks[i]; c.Name == l.Name {
				if slack < c.Slack {
					*c = Check{l, way, slack}
				}
				return
			}
		}
		s.Checks = append(s.Checks, Check{l, way, slack})
	}
	thrust := func(name string, got, asked float64, way bool) {
		l := quantity.Limit{Name: name, Part: "duty", Unit: "N", Value: got, Allowed: asked, Sense: quantity.AtLeast, Factor: 1, Why: "the duty asks for it", Source: "own"}
		add(l, way, l.Margin())
	}
	thrust(RestThrust, s.Rest.Thrust, n.Thrust, false)
	thrust(UnderWayThrust, s.Way.Thrust, n.WayThrust, true)
	for way, st := range []*State{&s.Rest, &s.Way} {
		specific := quantity.Limit{
			Name: SpecificSpeed, Part: "impeller", Unit: "1", Value: st.Jet.SpecificSpeed, Allowed: mostSpecific, Factor: 1,
			Why: "beyond it no fit of pump efficiency holds", Source: "bulten-2006",
		}
		if specific.Value < 2 {
			specific.Sense, specific.Allowed, specific.Zero = quantity.AtLeast, leastSpecific, 2
		}
		add(specific, way == 1, specific.Margin())
		for _, l := range m.Limits(nil, *st) {
			if SettledByNeed(&l) {
				continue
			}
			slack := l.Margin()
			if l.Name == windingLimit {
				slack -= windingReserve
			}
			add(l, way == 1, slack)
		}
	}
	for i := range s.Checks {
		if x := s.Checks[i].Slack; math.IsNaN(x) || math.IsInf(x, 0) {
			s.Why = s.Checks[i].Name + " is no number"
			return
		}
	}
	slices.SortStableFunc(s.Checks, func(a, b Check) int {
		switch {
		case a.Slack < b.Slack:
			return -1
		case a.Slack > b.Slack:
			return 1
		}
		return 0
	})
}

// Finish types what of the controller follows from the solved drive: what has to be bought at the least.
func (s *Sized) Finish() {
	k := &s.Drive.Controller
	tens := func(x float64) quantity.Optional { return quantity.Some(10 * math.Ceil(x/10)) }
	if !k.BatteryCurrentLimit.Set {
		k.BatteryCurrentLimit = tens(mostBattery * max(s.Rest.Supply.BatteryCurrent, s.Way.Supply.BatteryCurrent))
	}
	if !k.PhaseCurrentLimit.Set {
		k.PhaseCurrentLimit = tens(mostPhaseMargin * max(s.Rest.Motor.PhaseCurrentPeak, s.Way.Motor.PhaseCurrentPeak))
	}
	if !k.MaxVoltage.Set {
		k.MaxVoltage = quantity.Some(5 * math.Ceil(1.2*s.Drive.Battery.FullVoltage()/5))
	}
}

// Bounds returns the ends of the ranges that forms are looked for in: diameter, nozzle ratio, and place on Cordier's line.
func (n *Need) Bounds() (low, high Form) {
	most := math.Floor(1000*n.Diameter+1e-9) / 1000
	area := n.Thrust / (n.Base.Water.Properties().Density * fastestJet * fastestJet)
	least := math.Sqrt(4*area/math.Pi) / 0.6
	return Form{Diameter: min(max(least, 0.02), 0.9*most), NozzleRatio: leastNozzle, Place: leftOfCordier},
		Form{Diameter: most, NozzleRatio: largestNozzle, Place: rightOfIt}
}

// IdealPower returns the power in W that an ideal jet needs for the harder of the two thrusts through the largest
// nozzle that a need allows: no drive does with less.
//
//	P = T·(V + √(V² + 4T/(ρA)))/4 + T·V/2
//
//	T  thrust, N
//	V  speed, m/s
//	ρ  density, kg/m³
//	A  area of the largest nozzle, m²
//
// The jet's velocity w solves T = ρA·w·(w − V), and its power is ½ρA·w·(w² − V²).
//
// Holds without losses and without the hull's wake, of which a jet may take a few per cent back.
//
// Source: ittc-waterjet-2005. Tests: TestIdealPowerPublished.
func (n *Need) IdealPower() float64 {
	rho := n.Base.Water.Properties().Density
	d := largestNozzle * n.Diameter
	area := math.Pi / 4 * d * d
	power := func(t, v float64) float64 { return t*(v+math.Sqrt(v*v+4*t/(rho*area)))/4 + t*v/2 }
	return math.Max(power(n.Thrust, 0), power(n.WayThrust, n.Speed))
}
