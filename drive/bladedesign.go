package drive

import (
	"math"
	"sync"

	"jetwright/physics/blade"
	"jetwright/quantity"
)

// DesignedBlades are blades that were found for a duty, with how they were found.
type DesignedBlades struct {
	Pump    blade.Pump
	Duty    BladeDuty
	Speed   float64 // rotor speed, rad/s
	Flow    float64 // m³/s
	State   blade.State
	Reason  string // of blades that came out as stalled; empty for sound ones
	Closure float64
	// PerDegree is the share of the head that a degree at each edge moves, as in BladeWork.PerDegree.
	PerDegree  [4]float64
	Least      float64 // share of the flow down to which they have a state at this rotor speed; 1 of blades that are not sound
	Cavitation blade.Cavitation
	Available  float64 // net positive suction head that the drive has there, m
	Asked      int     // stator blades that were asked for
}

// Cavitates tells that the head falls with cavitation where the blades are to work.
func (d *DesignedBlades) Cavitates() bool { return d.Available < d.Cavitation.BreakdownNPSH }

// MayCavitate tells that the head falls there, or may within the scatter of the method.
func (d *DesignedBlades) MayCavitate() bool {
	return d.Available < d.Cavitation.BreakdownNPSH*math.Pow(1-breakdownScatter, -4.0/3)
}

// breakdownScatter is a standard deviation of the suction specific speed at breakdown; common practice, as that of terms.breakdown_factor.
const breakdownScatter = 0.2

// Work returns the blades as found, for showing: without curve, cavitation and what a map adds.
func (d *DesignedBlades) Work() *BladeWork { return &BladeWork{Pump: d.Pump, State: d.State} }

// UsualBladeDuty returns what a design of blades asks for where nobody says otherwise; its head is left open.
func UsualBladeDuty() BladeDuty {
	var d BladeDuty
	s := BladeDutySchema()
	for _, f := range s.Fields() {
		if v, ok := f.Assumed(); ok && f.Kind == quantity.KindNumber {
			s.Set(&d, f, v.Nominal())
		}
	}
	return d
}

// statorRoom is how far behind where the impeller's blades reach furthest a stator is set that nobody placed, m.
const statorRoom = 6e-3

// BladeDutySchema is that of what a design of blades asks for.
var BladeDutySchema = sync.OnceValue(func() *quantity.Schema {
	s, err := quantity.SchemaOf(BladeDuty{})
	if err != nil {
		panic("the duty's tags do not make a schema: " + err.Error()) // held by the blades' TestSchemas
	}
	return s
})

// NoBlades is that a duty has no blades, and why.
type NoBlades struct {
	Head, Flow, RotorSpeed float64 // SI
	Hub, Gap               float64 // m, as the drive has them
	Reason                 string
	Instead                []OtherBlades // what would be enough, the least change first
}

// OtherBlades are sound blades for the same head and flow where something else is changed.
type OtherBlades struct {
	RotorSpeed float64 // rad/s
	Hub        float64 // diameter, m
	Gap        float64 // tip gap, m
	Filled     bool    // the surfaces
	Found      *DesignedBlades
}

func (n *NoBlades) Error() string { return "no blades are found: " + n.Reason }

// roomForFlow is the share of the flow down to which blades have to have a state that are named in the place of others: what the tolerances of
// nozzle and angles may take; own.
const roomForFlow = 0.94

// boredGap is the tip gap that a casing bored after printing holds, m; common practice, no source.
const boredGap = 0.3e-3

// DesignBlades finds the sections of impeller and stator for the state at the drive's duty: its flow, head and rotor speed; another rotor
// speed where one is given, in rad/s. Channel, blade numbers, form, edges, gap and surface are the drive's. The number of stator blades is moved to the next
// one that shares no factor with the impeller's. The error is an *Unmet, or a *NoBlades.
func (m *Machine) DesignBlades(duty BladeDuty, statorStart bool, rotorSpeed float64) (*DesignedBlades, error) {
	s, err := m.Solve(m.Drive.DutyCondition())
	if err != nil {
		return nil, err
	}
	if rotorSpeed > 0 {
		s.RotorSpeed = rotorSpeed
	}
	found, reason := m.designBlades(duty, statorStart, &s, func(*blade.Pump) {})
	if found != nil {
		return found, nil
	}
	none := &NoBlades{Head: s.Jet.Head, Flow: s.Jet.Flow, RotorSpeed: s.RotorSpeed, Reason: reason.Error()}
	pump := m.Drive.Pump()
	hub := 2 * pump.Channel.HubRadius[0]
	gap := m.Drive.Impeller.TipGap.Or((blade.TipGapAssumed[0] + blade.TipGapAssumed[1]) / 2)
	none.Hub, none.Gap = hub, gap
	cylinder := len(m.Drive.Channel.HubRadius) == 0
	dry := true // those that cavitate only where there are no others: the method errs early there
	try := func(o OtherBlades) bool {
		at := s
		at.RotorSpeed = o.RotorSpeed
		o.Found, _ = m.designBlades(duty, statorStart, &at, func(p *blade.Pump) {
			if cylinder {
				p.Channel.HubRadius = []float64{o.Hub / 2}
			}
			p.Impeller.TipGap = o.Gap
			if o.Filled {
				p.Impeller.Surface, p.Stator.Surface = "filled", "filled"
				p.Impeller.Roughness.Set, p.Stator.Roughness.Set = false, false
			}
		})
		if o.Found == nil || o.Found.Reason != "" || dry && o.Found.Cavitates() || o.Found.Least > roomForFlow {
			return false
		}
		none.Instead = append(none.Instead, o)
		return true
	}
	speeds := func(o OtherBlades) bool {
		for by := 1.05; by < 1.8; by *= 1.05 {
			if o.RotorSpeed = by * s.RotorSpeed; try(o) {
				return true
			}
		}
		return false
	}
	hubs := func(o OtherBlades) bool {
		for by := 1.05; cylinder && by < 1.5; by += 0.05 {
			if o.Hub = math.Round(1e3*by*hub) / 1e3; try(o) {
				return true
			}
		}
		return false
	}
	as := OtherBlades{RotorSpeed: s.RotorSpeed, Hub: hub, Gap: gap}
	better := as
	better.Gap, better.Filled = math.Min(gap, boredGap), true
	bored := as
	bored.Gap = better.Gap
	filled := as
	filled.Filled = true
	for _, dry = range []bool{true, false} {
		if len(none.Instead) > 0 {
			break
		}
		speeds(as)
		hubs(as)
		if bored.Gap < gap {
			try(bored)
		}
		try(filled)
		if len(none.Instead) == 0 && !try(better) {
			hubs(better)
			speeds(better)
		}
	}
	return nil, none
}

// leastFlow is the share of a flow down to which blades have a state, a half at the least.
func leastFlow(p *blade.Pump, c blade.Condition, radii int) float64 {
	s, reason := blade.NewStage(p, radii)
	if reason != blade.Solved {
		return 1
	}
	var st blade.State
	works := func(share float64) bool {
		at := c
		at.Flow *= share
		return s.Solve(at, &st) == blade.Solved
	}
	if !works(1) {
		return 1
	}
	good, bad := 1.0, 0.5
	if works(bad) {
		return bad
	}
	for range 8 {
		if x := (good + bad) / 2; works(x) {
			good = x
		} else {
			bad = x
		}
	}
	return good
}

// designBlades finds blades for a state of a changed pump; nil with the reason where there are none.
func (m *Machine) designBlades(duty BladeDuty, statorStart bool, s *State, change func(*blade.Pump)) (*DesignedBlades, blade.Reason) {
	p := m.Drive.Pump()
	p.Terms = blade.NominalTerms()
	p.Terms.Deviation = m.Drive.Terms.Deviation
	if !m.Drive.Impeller.TipGap.Set {
		low, high := TipGapAssumed()
		p.Impeller.TipGap = (low + high) / 2
	}
	change(&p)
	out := &DesignedBlades{Available: s.Jet.NPSHAvailable, Duty: duty, Speed: s.RotorSpeed, Flow: s.Jet.Flow, Asked: m.Drive.Stator.Blades}
	p.Stator.Blades = 0
	if out.Asked > 0 {
		p.Stator.Blades = blade.StatorBlades(p.Impeller.Blades, out.Asked)
	}
	if !statorStart {
		p.Stator.Start = p.Impeller.Start + m.Drive.Impeller.Length + statorRoom
	}
	duty.Head = s.Jet.Head
	out.Duty = duty
	c := m.bladeCondition(s.RotorSpeed, s.Jet.Flow)
	for range 3 {
		d, reason := blade.Design(p, duty, c, 9)
		// stalled blades are shown; where the water leaves them before there are any, there is nothing to show
		if reason != blade.Solved && (reason != blade.Stalled || d.Pump.Impeller.Blades == 0) {
			return nil, reason
		}
		out.Pump, out.State, out.Closure, out.Cavitation, out.Reason = d.Pump, d.State, d.Closure, d.Cavitation, ""
		if reason == blade.Stalled {
			out.Reason = reason.Error()
		}
		end := math.Ceil((d.Pump.Impeller.Reach()+statorRoom)*1e3) / 1e3
		if statorStart || p.Stator.Start == end {
			break
		}
		p.Stator.Start = end
	}
	out.PerDegree = perDegree(&out.Pump, c, &out.State)
	out.Least = leastFlow(&out.Pump, c, out.State.Radii)
	return out, blade.Solved
}
