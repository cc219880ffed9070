package blade

import (
	"fmt"
	"math"
	"strconv"

	"jetwright/notice"
)

// What making and rules ask of blades; common practice, no source.
const (
	leastPassage    = 1.5e-3 // m, clear between two blades
	leastPrintedGap = 0.2e-3 // m, that a printed rotor and casing hold
)

// Faults says everything that is wrong or doubtful with a pump's blades as drawn, with paths as in the design file; whoever
// knows the text adds the place. section is the name of the part each row stands in, impeller first.
func (p *Pump) Faults(channel string, section [2]string) []notice.Notice {
	f := &faults{}
	f.channel(&p.Channel, channel)
	for i, r := range []*Row{&p.Impeller, &p.Stator} {
		if i == 1 && r.Blades == 0 {
			continue
		}
		f.row(r, section[i], i == 0)
	}
	if f.errors > 0 {
		return f.list
	}
	var rows [2]row
	for i, r := range []*Row{&p.Impeller, &p.Stator} {
		if i == 1 && r.Blades == 0 {
			continue
		}
		rows[i] = row{Row: *r, rotor: i == 0}
		if !rows[i].ready(&p.Channel) {
			if rows[i].table[spanPoints-1].thickness > 0 { // the correlations have no value for it: why?
				f.made(&rows[i], section[i])
			}
			if f.errors > 0 {
				return f.list
			}
			f.say(notice.Error, section[i], "the blades of the "+section[i]+" cannot be worked out in this channel", "sections within the channel", "look at channel, start and chord")
			return f.list
		}
		f.made(&rows[i], section[i])
	}
	if p.Stator.Blades > 0 {
		end := func(r *row) float64 {
			return r.Start + r.table[spanPoints/2].chord*math.Cos((r.table[spanPoints/2].inlet+r.table[spanPoints/2].outlet)/2)
		}
		reach := p.Impeller.Reach()
		clear := fmt.Sprintf("set it to %s mm or more", mm(math.Ceil(reach*1e3)/1e3))
		switch e := end(&rows[0]); {
		case p.Stator.Start < e:
			what := fmt.Sprintf("the stator's edge at %s mm stands in the impeller, which ends at %s mm", mm(p.Stator.Start), mm(e))
			if end(&rows[1]) <= p.Impeller.Start {
				what = fmt.Sprintf("the stator at %s mm stands ahead of the impeller at %s mm", mm(p.Stator.Start), mm(p.Impeller.Start))
			}
			f.say(notice.Error, section[1]+".start", what, "a stator behind the impeller", clear)
		case p.Stator.Start < reach && p.Impeller.Sweep == 0 && p.Stator.Sweep == 0: // the method works at mid span; the parts do not
			f.say(notice.Warning, section[1]+".start", fmt.Sprintf("the stator's edge at %s mm stands among the impeller's blades, which reach to %s mm where they go furthest", mm(p.Stator.Start), mm(reach)), "a stator behind the impeller all along the span", clear)
		}
		if !NoCommonFactor(p.Impeller.Blades, p.Stator.Blades) {
			f.say(notice.Warning, section[1]+".blades", fmt.Sprintf("%d impeller and %d stator blades share a factor, so that several pairs pass at once and the torque pulses", p.Impeller.Blades, p.Stator.Blades),
				"numbers without a common factor", fmt.Sprintf("take %d", StatorBlades(p.Impeller.Blades, p.Stator.Blades)))
		}
	}
	return f.list
}

type faults struct {
	list   []notice.Notice
	errors int
}

func (f *faults) say(kind notice.Kind, path, what, allowed, way string) {
	if kind == notice.Error {
		f.errors++
	}
	f.list = append(f.list, notice.Notice{Kind: kind, Path: path, What: what, Allowed: allowed, WayOut: way})
}

func mm(x float64) string { return strconv.FormatFloat(x*1e3, 'g', 4, 64) }

func deg(x float64) string { return strconv.FormatFloat(x/degree, 'f', 1, 64) }

// rising tells whether a list rises strictly.
func rising(x []float64) bool {
	for i := 1; i < len(x); i++ {
		if !(x[i] > x[i-1]) {
			return false
		}
	}
	return true
}

func (f *faults) channel(c *Channel, path string) {
	if len(c.HubRadius) == 0 || len(c.TipRadius) == 0 {
		f.say(notice.Error, path, "the channel has no hub or no tip radius", "one number or one for each point along the axis", "type hub_radius and tip_radius")
		return
	}
	if !rising(c.Axial) {
		f.say(notice.Error, path+".axial", "the points along the axis do not rise", "points in order from the intake", "")
	}
	for _, l := range []struct {
		name string
		list []float64
	}{{"hub_radius", c.HubRadius}, {"tip_radius", c.TipRadius}} {
		if len(l.list) > 1 && len(l.list) != len(c.Axial) {
			f.say(notice.Error, path+"."+l.name, fmt.Sprintf("%s has %d numbers for %d points along the axis", l.name, len(l.list), len(c.Axial)), fmt.Sprintf("1 or %d numbers", len(c.Axial)), "")
		}
	}
	if f.errors > 0 {
		return
	}
	for i := range max(len(c.HubRadius), len(c.TipRadius)) {
		hub, tip := c.HubRadius[min(i, len(c.HubRadius)-1)], c.TipRadius[min(i, len(c.TipRadius)-1)]
		if !(hub > 0 && tip > hub) {
			f.say(notice.Error, path+".hub_radius", fmt.Sprintf("at point %d the hub's radius %s mm leaves no channel inside the tip's %s mm", i+1, mm(hub), mm(tip)), "a hub inside the tip", "")
		}
	}
}

func (f *faults) row(r *Row, part string, rotor bool) {
	if rotor && r.Blades < 2 {
		f.say(notice.Error, part+".blades", fmt.Sprintf("%d blades", r.Blades), "2 blades or more", "")
	}
	if !rising(r.Span) || len(r.Span) > 0 && (r.Span[0] < 0 || r.Span[len(r.Span)-1] > 1) {
		f.say(notice.Error, part+".span", "the sections' places do not rise from 0 to 1", "0 at the hub to 1 at the tip, rising", "")
	}
	for _, l := range []struct {
		name string
		list []float64
	}{{"inlet_angle", r.InletAngle}, {"outlet_angle", r.OutletAngle}, {"chord", r.Chord}, {"thickness", r.Thickness}} {
		if n := len(l.list); n == 0 || n > 1 && n != len(r.Span) {
			f.say(notice.Error, part+"."+l.name, fmt.Sprintf("%s has %d numbers for %d sections", l.name, n, len(r.Span)), fmt.Sprintf("1 or %d numbers", len(r.Span)), "")
		}
		for i, x := range l.list {
			if !(x > 0) || math.IsInf(x, 0) {
				f.say(notice.Error, part+"."+l.name, fmt.Sprintf("%s of section %d is %v", l.name, i+1, x), "a positive number", "")
			}
		}
	}
	if _, ok := forms[r.Form]; !ok {
		f.say(notice.Error, part+".form", fmt.Sprintf("there is no section form %q", r.Form), "65-series, C4, double arc or plate", "")
	}
	if !rotor {
		return
	}
	switch least := r.TipGap - r.GapEccentricity; {
	case r.TipGap > 0 && least <= 0:
		f.say(notice.Error, part+".tip_gap", fmt.Sprintf("a gap of %s mm that stands off centre by %s mm touches", mm(r.TipGap), mm(r.GapEccentricity)), "a gap wider than it stands off centre", "widen the gap or centre the rotor better")
	case r.Surface == "printed" && least < leastPrintedGap:
		f.say(notice.Warning, part+".tip_gap", fmt.Sprintf("%s mm are left where the gap is narrowest, which no printer holds", mm(least)), fmt.Sprintf("%s mm or more where it is printed", mm(leastPrintedGap)), "widen the gap, or turn and bore rotor and casing after printing")
	}
}

// made looks at a row that can be worked out: passages, edges, and what the correlations rest on.
func (f *faults) made(r *row, part string) {
	narrow, at := math.Inf(1), 0.0
	var steep, thin, open, weak bool
	for i := range r.table {
		e := &r.table[i]
		h := float64(i) / (spanPoints - 1)
		radius := r.at[0].hub + (r.at[0].tip-r.at[0].hub)*h
		pitch := 2 * math.Pi * radius / float64(r.Blades)
		for _, angle := range [2]float64{e.inlet, e.outlet} {
			if x := pitch*math.Cos(angle) - e.thickness; x < narrow {
				narrow, at = x, h
			}
		}
		if s := e.chord / pitch; s < 0.4 || s > 2 {
			open = true
		}
		if x := e.thickness / e.chord; x < 0.03 || x > 0.14 {
			thin = true
		}
		steep = steep || math.Abs(e.inlet) > 70*degree
		weak = weak || math.Abs(e.outlet) >= math.Abs(e.inlet)
		if x := 2 * math.Max(r.LeadingRadius, r.TrailingRadius); x > e.thickness && i%(spanPoints/2) == 0 {
			f.say(notice.Error, part+".thickness", fmt.Sprintf("at %d %% of the span edges of %s mm are thicker than the blade, %s mm", int(100*h+0.5), mm(x), mm(e.thickness)), "edges no thicker than the blade", "thin the edges or thicken the section")
		}
	}
	switch {
	case narrow < 0:
		f.say(notice.Error, part+".blades", fmt.Sprintf("the blades cross at %d %% of the span: they overlap by %s mm", int(100*at+0.5), mm(-narrow)), "a passage of "+mm(leastPassage)+" mm or more", "fewer or thinner blades, or steeper angles there")
	case narrow < leastPassage:
		f.say(notice.Warning, part+".blades", fmt.Sprintf("the passage at %d %% of the span is %s mm wide: sand and weed stay in it", int(100*at+0.5), mm(narrow)), mm(leastPassage)+" mm or more", "fewer or thinner blades")
	}
	beyond := func(bad bool, what, allowed string) {
		if bad {
			f.say(notice.Warning, part, what, allowed, "take the result with more doubt than its scatter says")
		}
	}
	beyond(steep, "leading edges lie flatter than 20° to the circumferential direction, where deviation and incidence are extrapolated", "20° or more")
	beyond(open, "the solidity lies outside what the correlations rest on", "0.4 to 2")
	beyond(thin, "thickness over chord lies outside what the correlations rest on", "0.03 to 0.14")
	beyond(weak, "sections do not turn the water: the trailing edge lies as flat as the leading edge or flatter", "a trailing edge steeper to the circumferential direction")
	beyond(math.Max(math.Abs(r.Sweep), math.Abs(r.Lean)) > 15*degree, fmt.Sprintf("sweep %s° and lean %s° do not enter the method", deg(r.Sweep), deg(r.Lean)), "15° or less")
}

// Works tells whether the blades have a state at any flow between 0.3 and 2 of that of their design incidence, and if not,
// the reason that stands most often.
func (s *Stage) Works(c Condition) (bool, Reason) {
	flow, ok := s.DesignFlow(c.RotorSpeed)
	if !ok {
		return false, Stalled
	}
	var counts [reasons]int
	var st State
	for q := 0.3; q <= 2; q += 0.1 {
		c.Flow = q * flow
		r := s.Solve(c, &st)
		if r == Solved {
			return true, Solved
		}
		counts[r]++
	}
	most := NotConverged
	for r := range counts {
		if counts[r] > counts[most] {
			most = Reason(r)
		}
	}
	return false, most
}

// SwirlCase is the pump with its stator as drawn, without it, or turned further.
type SwirlCase struct {
	Name       string
	Reason     Reason
	Head       float64 `unit:"m" doc:"useful head"`
	Efficiency float64 `unit:"1" doc:"useful head times flow over shaft power"`
	Swirl      Swirl
	Jet        JetSwirl
}

// SwirlCases works the pump out with its stator, without it, and with its trailing edges turned an angle further, for a jet
// of a radius in m.
func (p *Pump) SwirlCases(c Condition, radii int, further, jet float64) [3]SwirlCase {
	out := [3]SwirlCase{{Name: "with the stator"}, {Name: "without"}, {Name: "turned further"}}
	for i := range out {
		q := *p
		switch i {
		case 1:
			q.Stator.Blades = 0
		case 2:
			q.Stator.OutletAngleOffset += further
		}
		s, reason := NewStage(&q, radii)
		if reason == Solved {
			var st State
			if reason = s.Solve(c, &st); reason == Solved {
				out[i].Head, out[i].Efficiency, out[i].Swirl = st.Head, st.Efficiency, st.Swirl
				out[i].Jet, _ = SwirlInJet(c.Density, c.Flow, st.Swirl.Momentum, jet)
			}
		}
		out[i].Reason = reason
	}
	return out
}
