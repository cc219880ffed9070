package electric

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"jetwright/quantity"
)

// Offer is what a seller's sheets say of the parts to choose from, each with a name.
type Offer struct {
	Motors      []MotorSheet
	Controllers []ControllerSheet
	Batteries   []BatterySheet // none: the duty's voltage stands for a stiff supply
	Reductions  []Reduction    // none: the motor turns the impeller straight
}

// MotorSheet is a motor with the name that it is sold by.
type MotorSheet struct {
	Name  string
	Motor Motor
}

// ControllerSheet is a controller with its name.
type ControllerSheet struct {
	Name       string
	Controller Controller
}

// BatterySheet is a pack with its name.
type BatterySheet struct {
	Name    string
	Battery Battery
	Heat    CellHeat // of a cell, for the energy that is usable; capacity 0 leaves the cells at their temperature
}

// Reduction stands between motor and impeller.
type Reduction struct {
	Ratio      float64 // motor revolutions per impeller revolution
	Efficiency float64 // 0 to 1
}

// Motor returns torque in N·m and speed in rad/s at the motor for those at the impeller.
//
//	T_m = T/(r·η),  ω_m = ω·r
//
//	r  motor revolutions per impeller revolution
//	η  efficiency
//
// Holds for power that flows from motor to impeller.
//
// Source: own. Tests: TestReductionExact.
func (r Reduction) Motor(torque, speed float64) (motorTorque, motorSpeed float64) {
	return torque / (r.Ratio * r.Efficiency), speed * r.Ratio
}

// DutyPoint is something that the drive has to do, at the impeller's shaft. Two of torque, speed and
// power are enough.
type DutyPoint struct {
	Name          string
	Torque, Speed float64 // N·m, rad/s; 0 if the other two say it
	Power         float64 // W; 0 if the other two say it
	Voltage       float64 // V, of a stiff supply where no battery is offered
	Time          float64 // s; 0 if it does not count
}

// fill works out what two of three numbers leave open.
func (d DutyPoint) fill() (DutyPoint, error) {
	switch {
	case d.Torque > 0 && d.Speed > 0:
		if p := d.Torque * d.Speed; d.Power > 0 && math.Abs(d.Power/p-1) > 0.02 {
			return d, fmt.Errorf("duty %q: %.4g N·m at %.4g rad/s are %.4g W, and %.4g W are asked for", d.Name, d.Torque, d.Speed, p, d.Power)
		}
		d.Power = d.Torque * d.Speed
	case d.Power > 0 && d.Speed > 0:
		d.Torque = d.Power / d.Speed
	case d.Power > 0 && d.Torque > 0:
		d.Speed = d.Power / d.Torque
	default:
		return d, fmt.Errorf("duty %q: two of torque, speed and power are needed, all above 0", d.Name)
	}
	for _, x := range []float64{d.Torque, d.Speed, d.Power, d.Voltage, d.Time} {
		if math.IsNaN(x) || math.IsInf(x, 0) || x < 0 {
			return d, fmt.Errorf("duty %q: a number is negative or not finite", d.Name)
		}
	}
	return d, nil
}

// Around is what carries the heat away.
type Around struct {
	Coolant         float64 // K
	JacketToCoolant float64 // K/W
	PlateToCoolant  float64 // K/W
	Bounds          Bounds  // the builder's own
}

// Finding is one limit of a choice at the duty that comes nearest to it.
type Finding struct {
	Duty  string
	Limit quantity.Limit
	Text  string // a sentence: the figure, its bound, and why it matters
}

// Choice is one set of parts against the duty.
type Choice struct {
	Motor, Controller, Battery string
	Reduction                  Reduction
	Fits                       bool      // every limit that could be judged is kept at every duty
	First                      Finding   // what limits first, nearest to its bound or farthest beyond it
	Findings                   []Finding // all that were judged, nearest first
	NotJudged                  []Finding // what could not be judged, and why
	Impossible                 string    // why there is no state at all; empty if there is
	Efficiency                 float64   // shaft energy over battery energy of the duty, 0 without a state
	Energy                     float64   // at the battery's terminals for the whole duty, J
	Usable                     float64   // what the battery gives at the duty's highest power, J; 0 without a battery
	Points                     []MapPoint
}

// Choose holds every set of the offered parts against the duty and ranks them: those that fit first,
// of these the one with most left to its nearest limit, and by efficiency where that is the same to a
// hundredth; then those that break a limit, the least beyond it first; then those without a state.
// It judges steady temperatures, whatever the time of a duty: a short one leaves more.
func Choose(o Offer, duty []DutyPoint, a Around) ([]Choice, error) {
	if len(o.Motors) == 0 || len(o.Controllers) == 0 || len(duty) == 0 {
		return nil, fmt.Errorf("a choice needs a motor, a controller and a duty; there are %d, %d and %d", len(o.Motors), len(o.Controllers), len(duty))
	}
	points := make([]DutyPoint, len(duty))
	for i, d := range duty {
		var err error
		if points[i], err = d.fill(); err != nil {
			return nil, err
		}
		if len(o.Batteries) == 0 && points[i].Voltage == 0 {
			return nil, fmt.Errorf("duty %q: without a battery it needs a voltage", d.Name)
		}
	}
	reductions := o.Reductions
	if len(reductions) == 0 {
		reductions = []Reduction{{1, 1}}
	}
	for _, r := range reductions {
		if !(r.Ratio > 0) || !(r.Efficiency > 0 && r.Efficiency <= 1) || math.IsInf(r.Ratio, 0) {
			return nil, fmt.Errorf("a reduction of %g with an efficiency of %g is none", r.Ratio, r.Efficiency)
		}
	}
	batteries := o.Batteries
	if len(batteries) == 0 {
		batteries = []BatterySheet{{}}
	}
	var out []Choice
	for _, m := range o.Motors {
		for _, k := range o.Controllers {
			for _, b := range batteries {
				for _, r := range reductions {
					c := Choice{Motor: m.Name, Controller: k.Name, Battery: b.Name, Reduction: r}
					c.judge(m.Motor, k.Controller, b, len(o.Batteries) > 0, points, a)
					out = append(out, c)
				}
			}
		}
	}
	slices.SortStableFunc(out, func(x, y Choice) int { return cmp.Or(cmp.Compare(x.class(), y.class()), x.against(&y)) })
	return out, nil
}

// class is 0 for what fits, 1 for what breaks a limit, 2 for what has no state.
func (c *Choice) class() int {
	switch {
	case c.Impossible != "":
		return 2
	case !c.Fits:
		return 1
	}
	return 0
}

// against puts the wider margin first, and the better efficiency where the margins are alike.
func (c *Choice) against(d *Choice) int {
	near := func(x *Choice) float64 { return math.Round(100 * x.First.Limit.Margin()) }
	if c.Impossible != "" || d.Impossible != "" {
		return 0
	}
	return cmp.Or(cmp.Compare(near(d), near(c)), cmp.Compare(d.Efficiency, c.Efficiency))
}

func (c *Choice) judge(m Motor, k Controller, b BatterySheet, battery bool, duty []DutyPoint, a Around) {
	if !battery {
		b.Battery = Battery{Series: 1, Parallel: 1, ColdFactor: 1, Temperature: warmCell, Charge: 0.5}
	}
	chain, err := NewChain(m, k, b.Battery)
	if err != nil {
		c.Impossible = err.Error()
		return
	}
	shaft, highest := 0.0, 0.0
	worst := map[string]Finding{}
	var names []string
	for _, d := range duty {
		if !battery {
			chain.openCircuit, chain.packOhms, chain.wiring = d.Voltage, 0, 0
		}
		torque, speed := c.Reduction.Motor(d.Torque, d.Speed)
		p, bridge := chain.steadyPoint(torque, speed, a)
		c.Points = append(c.Points, p)
		if p.Reason != Solved {
			c.Impossible = fmt.Sprintf("%s: the battery passes %.3g W at most, the motor alone takes %.3g W", d.Name, MostPower(chain.openCircuit, chain.packOhms+chain.wiring), p.State.ElectricPower)
			return
		}
		shaft += d.Power * d.Time
		c.Energy += p.Supply.BatteryPower * d.Time
		highest = math.Max(highest, p.Supply.BatteryPower)
		at := Temperatures{Water: a.Coolant, MotorSpeed: speed, Bridge: bridge}
		limits := chain.Limits(nil, p.State, p.Supply, at, a.Bounds)
		for _, l := range limits {
			if !battery && (l.Part == "battery" || l.Name == "full battery on the controller") {
				continue
			}
			f := Finding{Duty: d.Name, Limit: l}
			old, seen := worst[l.Name]
			if !seen {
				names = append(names, l.Name)
			}
			if !seen || l.NotJudged == "" && l.Margin() < old.Limit.Margin() {
				worst[l.Name] = f
			}
		}
	}
	c.Efficiency = efficiency(c.Points, duty, shaft, c.Energy)
	if battery && c.Energy > 0 {
		heat := b.Heat
		if heat.Capacity == 0 {
			heat = CellHeat{Capacity: 1e12, ToAir: 1, Surroundings: b.Battery.Temperature}
		}
		c.Usable = b.Battery.Discharge(highest, b.Battery.Relaxation(), heat).Energy
		name := "energy for the duty"
		names = append(names, name)
		worst[name] = Finding{Duty: "all", Limit: quantity.Limit{
			Name: name, Part: "battery", Unit: "Wh", Value: c.Energy, Allowed: c.Usable, Factor: 1,
			Why: "the battery is at its cut-off before the duty is done", Source: "own", Moves: []string{"battery.parallel", "battery.charge"},
		}}
	}
	for _, n := range names {
		f := worst[n]
		f.Text = sentence(f)
		if f.Limit.NotJudged != "" {
			c.NotJudged = append(c.NotJudged, f)
		} else {
			c.Findings = append(c.Findings, f)
		}
	}
	slices.SortStableFunc(c.Findings, func(x, y Finding) int { return cmp.Compare(x.Limit.Margin(), y.Limit.Margin()) })
	if len(c.Findings) > 0 {
		c.First = c.Findings[0]
	}
	c.Fits = c.First.Limit.Margin() >= 0
}

// efficiency is that of the energies, or of the mean of the powers where no duty has a time.
func efficiency(points []MapPoint, duty []DutyPoint, shaft, energy float64) float64 {
	if energy > 0 {
		return shaft / energy
	}
	in := 0.0
	for i, p := range points {
		shaft += duty[i].Power
		in += p.Supply.BatteryPower
	}
	return shaft / in
}

// steadyPoint is motor and supply with winding and magnets at the steady temperatures of the load.
// Above their bounds the resistances of winding and switches are those at the bound, and the temperature is
// where they lead.
func (c *Chain) steadyPoint(torque, speed float64, a Around) (p MapPoint, bridge float64) {
	weak := 0.0 // copper loss of the current against the magnets, the winding at its reference
	for range steadyTurns {
		at, shown := c.steadyWinding(torque, speed, weak, a)
		bridge = a.Coolant
		for range steadyTurns {
			last := bridge
			p = c.mapPoint(torque, speed, at, a.Coolant, math.Min(bridge, a.Bounds.BridgeTemperature.Or(c.controller.BridgeLimit)))
			bridge = a.Coolant + p.Supply.Heat()*(c.controller.BridgeToPlate+a.PlateToCoolant)
			if !c.BridgeMatters() || p.Reason != Solved || math.Abs(bridge-last) < 1e-12*bridge {
				break
			}
		}
		p.State.WindingTemperature = shown
		p.State.MagnetTemperature = c.MagnetTemperature(shown, a.Coolant)
		_, alpha, reference := c.Copper(0)
		more := p.State.WeakeningLoss() / (1 + alpha*(at-reference))
		last := weak
		weak = more
		if p.Reason != Solved || math.Abs(more-last) <= 1e-12*(p.State.CopperLoss+more) {
			break
		}
	}
	return p, bridge
}

// steadyWinding is the winding's temperature in K that its resistance is taken at, and the one that its loss leads
// to: the same below the bound.
func (c *Chain) steadyWinding(torque, speed, weak float64, a Around) (at, shown float64) {
	thermal := c.motor.WindingToJacket + a.JacketToCoolant
	bound := a.Bounds.WindingTemperature.Or(c.WindingBound())
	idle := c.NoLoadLoss(speed)
	at, shown = a.Coolant, a.Coolant
	for range steadyTurns {
		copper, alpha, reference := c.Copper(c.CurrentAt(torque, speed, c.MagnetTemperature(at, a.Coolant)))
		copper += weak
		last := at
		gain := thermal * copper * alpha
		shown = (a.Coolant + thermal*(idle+copper*(1-alpha*reference))) / (1 - gain)
		if at = shown; gain >= 1 || shown > bound {
			at = bound
			shown = a.Coolant + thermal*(idle+copper*(1+alpha*(at-reference)))
		}
		if math.Abs(at-last) < 1e-11*at {
			break
		}
	}
	return at, shown
}

// steadyTurns is how often current and magnet temperature are exchanged, at most; see drive.
const steadyTurns = 60

// sentence words a finding.
func sentence(f Finding) string {
	l := f.Limit
	if l.NotJudged != "" {
		return l.Name + " is not judged: " + l.NotJudged
	}
	u, ok := quantity.LookupUnit(l.Unit)
	if !ok {
		u = quantity.One
	}
	show := func(x float64) string {
		if u.IsOne() {
			return fmt.Sprintf("%.3g", x)
		}
		return fmt.Sprintf("%.4g %s", u.FromSI(x), u.Symbol)
	}
	side := "at most"
	if l.Sense == quantity.AtLeast {
		side = "at least"
	}
	verdict := fmt.Sprintf("%.0f %% is left", 100*l.Margin())
	if l.Margin() < 0 {
		verdict = l.Why
	}
	return fmt.Sprintf("%s at %q: %s, %s %s: %s", l.Name, f.Duty, show(l.Value), side, show(l.Allowed), verdict)
}
