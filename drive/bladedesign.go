package drive

import (
	"math"

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
	// PerDegree is the share of the head that a degree at the impeller's trailing edge moves.
	PerDegree  float64
	Cavitation blade.Cavitation
	Asked      int // stator blades that were asked for
}

// Work returns the blades as found, for showing: without curve, cavitation and what a map adds.
func (d *DesignedBlades) Work() *BladeWork { return &BladeWork{Pump: d.Pump, State: d.State} }

// UsualBladeDuty returns what a design of blades asks for where nobody says otherwise; its head is left open.
func UsualBladeDuty() BladeDuty {
	var d BladeDuty
	s, err := quantity.SchemaOf(d)
	if err != nil {
		panic("the duty's tags do not make a schema: " + err.Error()) // held by the blades' TestSchemas
	}
	for _, f := range s.Fields() {
		if v, ok := f.Assumed(); ok && f.Kind == quantity.KindNumber {
			s.Set(&d, f, v.Nominal())
		}
	}
	return d
}

// statorRoom is how far behind the impeller's trailing edges a stator is set that nobody placed, m.
const statorRoom = 6e-3

// DesignBlades finds the sections of impeller and stator for the state at the drive's duty: its flow, head and rotor speed. Channel,
// blade numbers, form, edges, gap and surface are the drive's. The number of stator blades is moved to the next one that
// shares no factor with the impeller's. The error is an *Unmet.
func (m *Machine) DesignBlades(duty BladeDuty, statorStart bool) (*DesignedBlades, error) {
	s, err := m.Solve(m.Drive.DutyCondition())
	if err != nil {
		return nil, err
	}
	p := m.Drive.Pump()
	p.Terms = blade.NominalTerms()
	p.Terms.Deviation = m.Drive.Terms.Deviation
	if !m.Drive.Impeller.TipGap.Set {
		low, high := TipGapAssumed()
		p.Impeller.TipGap = (low + high) / 2
	}
	out := &DesignedBlades{Duty: duty, Speed: s.RotorSpeed, Flow: s.Jet.Flow, Asked: m.Drive.Stator.Blades}
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
		if reason != blade.Solved && reason != blade.Stalled {
			return nil, &Unmet{Reason: BadBlades, Condition: m.Drive.DutyCondition(), Detail: reason.Error()}
		}
		out.Pump, out.State, out.Closure, out.PerDegree, out.Cavitation, out.Reason = d.Pump, d.State, d.Closure, d.HeadPerDegree, d.Cavitation, ""
		if reason == blade.Stalled {
			out.Reason = reason.Error()
		}
		end := math.Ceil((d.Pump.Impeller.End()+statorRoom)*1e3) / 1e3
		if statorStart || p.Stator.Start == end {
			break
		}
		p.Stator.Start = end
	}
	return out, nil
}
