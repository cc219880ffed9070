package reckon

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"jetwright/bench"
	"jetwright/numeric"
	"jetwright/quantity"
)

// Rules of the next step at rest.
const (
	SettledStep  = 1.25
	cautiousStep = 1.10
	MovedShare   = 0.03
)

// NextStep says how far the next test at rest may go.
type NextStep struct {
	Allowed bool
	Power   float64 // W, at Place
	Place   string
	Factor  float64
	From    float64 // highest settled power, W
	Reasons []string
	Watch   []string // channels to watch
	Missing []string // channels that a limit rests on and that nothing watches
}

// Ladder is a plateau with its similarity coefficients, lowest power first.
type Ladder struct {
	Plateau      bench.Plateau
	Coefficients bench.Coefficients
	Earlier      string // the earlier drive that was measured; empty where it is the design's
	Changed      string // parts that have changed since
}

// Coefficients returns the plateaus of the evidence with their similarity coefficients, by
// rising power or rotor speed.
func Coefficients(evidence []Evidence, diameter, nozzleArea, density float64) []Ladder {
	var l []Ladder
	for _, e := range evidence {
		diameter, nozzleArea, changed := diameter, nozzleArea, ""
		if e.Version != nil {
			was := e.Version.Was.Nominal()
			diameter, nozzleArea = was.Impeller.Diameter, math.Pi/4*was.Nozzle.Diameter*was.Nozzle.Diameter
			changed = strings.Join(e.Version.PartList(), ", ")
		}
		for _, p := range e.Plateaus {
			l = append(l, Ladder{p, bench.Similarity(p, diameter, nozzleArea, density), e.Earlier, changed})
		}
	}
	sort.SliceStable(l, func(a, b int) bool {
		x, _ := demandChannel(l[a].Plateau)
		y, _ := demandChannel(l[b].Plateau)
		if (x.Channel == bench.Power) != (y.Channel == bench.Power) {
			return x.Channel != bench.Power // steps without a power first
		}
		return x.Value < y.Value
	})
	return l
}

// pick is a coefficient and its scatter.
type pick struct {
	name   string
	value  func(bench.Coefficients) quantity.Optional
	spread func(bench.Coefficients) float64
}

var picks = []pick{
	{"thrust coefficient", func(c bench.Coefficients) quantity.Optional { return c.Thrust }, func(c bench.Coefficients) float64 { return c.ThrustSpread }},
	{"power coefficient", func(c bench.Coefficients) quantity.Optional { return c.Power }, func(c bench.Coefficients) float64 { return c.PowerSpread }},
	{"phase current coefficient", func(c bench.Coefficients) quantity.Optional { return c.Current }, func(c bench.Coefficients) float64 { return c.CurrentSpread }},
}

// efficiencyPick stands in for them where no rotor speed was read.
var efficiencyPick = pick{
	"static efficiency", func(c bench.Coefficients) quantity.Optional { return c.StaticEfficiency },
	func(c bench.Coefficients) float64 { return c.EfficiencySpread },
}

// moved names the coefficients of the last step that left the steps below (their median) by
// 3 % and by more than their own 90 % interval.
func moved(l []Ladder) []string {
	if len(l) < 2 {
		return nil
	}
	top := l[len(l)-1].Coefficients
	list := picks
	if !top.Thrust.Set && !top.Power.Set {
		list = []pick{efficiencyPick}
	}
	var names []string
	for _, p := range list {
		if !p.value(top).Set {
			continue
		}
		var below []float64
		spread := 0.0
		for _, s := range l[:len(l)-1] {
			if v := p.value(s.Coefficients); v.Set {
				below = append(below, v.Value)
				spread += p.spread(s.Coefficients) * p.spread(s.Coefficients)
			}
		}
		if len(below) == 0 {
			continue
		}
		sort.Float64s(below)
		n := float64(len(below))
		change := p.value(top).Value/numeric.Quantile(below, 0.5) - 1
		own := p.spread(top)
		const z90 = 1.6448536269514722
		if math.Abs(change) > MovedShare && math.Abs(change) > z90*math.Sqrt(own*own+spread/(n*n)) {
			names = append(names, fmt.Sprintf("the %s moved by %+.1f %% at the highest step", p.name, 100*change))
		}
	}
	return names
}

// atOnePlace leaves the steps whose power was read where that of the highest step was: powers
// at two places are no ladder. Without any power all steps stay.
func atOnePlace(l []Ladder) []Ladder {
	place, any_ := "", false
	for i := len(l) - 1; i >= 0 && !any_; i-- {
		if _, ok := l[i].Plateau.Figure(bench.Power); ok {
			place, any_ = l[i].Plateau.PowerPlace, true
		}
	}
	if !any_ {
		return l
	}
	var out []Ladder
	for _, s := range l {
		if _, ok := s.Plateau.Figure(bench.Power); ok && s.Plateau.PowerPlace == place {
			out = append(out, s)
		}
	}
	return out
}

// ofTheDrive leaves the steps of the drive as it is; it says so where there are only steps of an earlier one.
func ofTheDrive(l []Ladder) (kept []Ladder, why []string) {
	for _, s := range l {
		if s.Earlier == "" {
			kept = append(kept, s)
		}
	}
	if len(kept) == 0 && len(l) > 0 {
		top := l[len(l)-1]
		why = []string{fmt.Sprintf("nothing of the drive as it is now was measured, only %s, and since then these have changed: %s; begin with the lowest power at which scale and sensors respond", top.Earlier, top.Changed)}
	}
	return kept, why
}

// settled leaves the steps that had settled, their temperatures too; it says which higher ones
// are left out.
func settled(l []Ladder) (kept []Ladder, why []string) {
	for _, s := range l {
		reason := s.Plateau.Unsettled
		for _, c := range []bench.Channel{bench.WindingTemperature, bench.BridgeTemperature} {
			if f, ok := s.Plateau.Figure(c); ok && f.Unsettled && reason == "" {
				reason = "the " + string(c) + " was still moving"
			}
		}
		if reason == "" {
			kept = append(kept, s)
			why = nil // steps below the highest settled one do not matter
			continue
		}
		why = append(why, fmt.Sprintf("%s had not settled (%s) and is no step to go on from; hold it longer", s.Plateau.Name, reason))
	}
	return kept, why
}

// doubtOf returns a doubt about a channel in any step of the run that the highest step is of.
func doubtOf(l []Ladder, run string, c bench.Channel) (bench.Doubt, bool) {
	for _, s := range l {
		if s.Plateau.Run != run {
			continue
		}
		for _, d := range s.Plateau.Doubts {
			if d.Channel == c && !d.Trusted && (d.Drops || d.Kind == bench.Disagreeing || d.Kind == bench.Drifting) {
				return d, true
			}
		}
	}
	return bench.Doubt{}, false
}

// watched are the channels that a limit rests on.
var watched = []struct {
	name    string
	channel bench.Channel
}{
	{"winding temperature", bench.WindingTemperature},
	{"bridge (transistor) temperature", bench.BridgeTemperature},
	{"phase current", bench.PhaseCurrent},
	{"battery voltage", bench.BatteryVoltage},
	{"rope pull", bench.Thrust},
}

// Next applies the rules of the next step at rest: at most 1.25 times the highest settled
// power; 1.1 times where a coefficient moved, only one reading stands, or nothing says how
// long a reading was held; none while a channel that a limit rests on is unwatched or doubted.
func Next(l []Ladder) NextStep {
	var n NextStep
	if l, n.Reasons = ofTheDrive(l); len(n.Reasons) > 0 {
		return n
	}
	l = atOnePlace(l)
	all := l
	l, unsettled := settled(l)
	if len(l) == 0 && len(unsettled) > 0 {
		n.Reasons = append(unsettled, "no step had settled; hold the lowest one until nothing moves")
		return n
	}
	if len(l) == 0 {
		n.Reasons = []string{"no reading stands; begin with the lowest power at which scale and sensors respond"}
		return n
	}
	top := l[len(l)-1].Plateau
	power, ok := top.Figure(bench.Power)
	if !ok {
		n.Reasons = []string{"the highest step has no power; the rule of the next step needs it"}
		return n
	}
	n.From, n.Place, n.Factor = power.Value, top.PowerPlace, SettledStep
	n.Allowed = true
	n.Reasons = append(n.Reasons, unsettled...)
	cautious := func(why string) {
		n.Factor = cautiousStep
		n.Reasons = append(n.Reasons, why)
	}
	for _, why := range moved(l) {
		cautious(why)
	}
	if len(l) == 1 {
		cautious("only one reading stands, so nothing shows that the coefficients hold still")
	}
	for _, s := range l {
		if !s.Plateau.Held.Set {
			cautious("nothing says how long " + s.Plateau.Name + " was held")
			break
		}
	}
	for _, w := range watched {
		f, have := top.Figure(w.channel)
		d, doubted := doubtOf(all, top.Run, w.channel)
		switch {
		case doubted:
			n.Missing = append(n.Missing, w.name)
			n.Reasons = append(n.Reasons, fmt.Sprintf("the %s is in doubt: %s from %.0f s to %.0f s of %s; a limit rests on it", w.name, d.Kind, d.Span.From, d.Span.To, top.Run))
			n.Allowed = false
		case !have:
			n.Missing = append(n.Missing, w.name)
			n.Reasons = append(n.Reasons, "the "+w.name+" was not read at the highest step: a limit rests on it and nothing watches it")
			n.Allowed = false
		case !f.Cleared:
			n.Missing = append(n.Missing, w.name)
			n.Reasons = append(n.Reasons, "the "+w.name+" was read by infrared on bare metal, which clears no limit")
			n.Allowed = false
		default:
			n.Watch = append(n.Watch, w.name)
		}
	}
	if n.Allowed {
		n.Power = n.Factor * n.From
		if n.Factor == SettledStep {
			n.Reasons = append(n.Reasons, "the coefficients hold still over the steps, and every channel that a limit rests on is watched")
		}
	} else {
		n.Factor = 0
	}
	return n
}
