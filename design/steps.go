package design

import (
	"fmt"
	"math"
	"strings"

	"jetwright/drive"
	"jetwright/notice"
	"jetwright/quantity"
)

// stepsKey is the list of a duty's steps. It is text and no number, so it stands beside the schema.
const stepsKey = "duty.steps"

// StepsDoc says what the steps of a duty are, for the table of keys.
const StepsDoc = "what the drive does over time: each step a duration and what it is at, such as \"60 s at 3 kW\", \"2 min at 4 kW shaft\", \"30 s at 400 N and 4 m/s\", \"5 min at 80 %\" of throttle, \"30 s at 4000 rpm\", \"5 min rest\". A power without a place is that of power_place, else at the battery; without a speed it is the duty's"

// longestStep is the longest step of a duty, s.
const longestStep = 86400

// Steps returns the steps of the duty as typed; none if they were not.
func (d *Design) Steps() []drive.Leg { return d.steps }

// readSteps reads the list of steps.
func (d *Design) readSteps() notice.List {
	return d.readTexts(stepsKey, "step", "the steps of a duty are a list with at least one step", `write steps = ["60 s at 3 kW", "30 s at 4 kW", "5 min rest"]`, func(text string, at quantity.Place) (what, allowed string) {
		leg, what, allowed := d.ReadStep(text)
		if leg.At = at; what == "" {
			d.steps = append(d.steps, leg)
		}
		return what, allowed
	})
}

// readTexts reads a list of texts at a key, one by one.
func (d *Design) readTexts(key, kind, none, out string, read func(text string, at quantity.Place) (what, allowed string)) notice.List {
	var faults notice.List
	for _, e := range d.doc.Entries() {
		if e.Path != key {
			continue
		}
		fail := func(at quantity.Place, what, allowed string) {
			faults = append(faults, notice.Notice{Kind: notice.Error, Place: at, Path: key, What: what, Allowed: allowed, WayOut: out, Excerpt: d.doc.Line(at.Line)})
		}
		if e.Kind != Array || len(e.Elements) == 0 {
			fail(e.ValuePlace, none, "")
			continue
		}
		for _, el := range e.Elements {
			if el.Kind != String {
				section, _, _ := strings.Cut(key, ".")
				fail(el.Place, "a "+kind+" of a "+section+" is text in quotes", "")
				continue
			}
			if what, allowed := read(el.Value, el.Place); what != "" {
				fail(el.Place, what, allowed)
			}
		}
	}
	return faults
}

// ReadStep reads one step of a duty; what says what is wrong with it, empty if nothing is.
func (d *Design) ReadStep(text string) (leg drive.Leg, what, allowed string) {
	leg.Text = text
	duration, rest, found := strings.Cut(text, " at ")
	if before, ok := strings.CutSuffix(strings.TrimSpace(text), "rest"); ok {
		leg.Rest = true
		duration, _ = strings.CutSuffix(strings.TrimSpace(before), " at")
	} else if !found {
		return leg, fmt.Sprintf("step %q does not say what it is at", text), `a duration, "at", and a power, thrust, rotor speed or throttle; or a duration and "rest"`
	}
	v, err := quantity.ParseIn(strings.TrimSpace(duration), quantity.MustUnit("s"))
	if err != nil {
		return leg, fmt.Sprintf("step %q: %v", text, err), "a duration such as 60 s or 2 min"
	}
	if leg.Seconds = v.Nominal(); !(leg.Seconds > 0 && leg.Seconds <= longestStep) {
		return leg, fmt.Sprintf("step %q lasts %s", text, strings.TrimSpace(duration)), "above 0 s, at most a day"
	}
	c := &leg.Condition
	c.Speed = d.nominal.Duty.Speed
	if leg.Rest {
		return leg, "", ""
	}
	amount, speed, two := strings.Cut(rest, " and ")
	if two {
		v, err := quantity.ParseIn(strings.TrimSpace(speed), quantity.MustUnit("m/s"))
		if err != nil {
			return leg, fmt.Sprintf("step %q: %v", text, err), "a speed such as 4 m/s"
		}
		if c.Speed = v.Nominal(); !(c.Speed >= 0 && c.Speed <= 40) {
			return leg, fmt.Sprintf("step %q goes at %s", text, strings.TrimSpace(speed)), "0 .. 40 m/s"
		}
	}
	what, allowed = d.readAmount("step", text, strings.TrimSpace(amount), c)
	return leg, what, allowed
}

// readAmount reads how hard the drive pushes, as part of a text of a kind.
func (d *Design) readAmount(kind, text, amount string, c *drive.Condition) (what, allowed string) {
	place := d.nominal.Duty.PowerPlace
	placed := false
	if i := strings.LastIndexByte(amount, ' '); i > 0 {
		if _, ok := drive.Place(amount[i+1:]); ok {
			amount, place, placed = strings.TrimSpace(amount[:i]), amount[i+1:], true
		}
	}
	for _, k := range []struct {
		unit   string
		demand drive.Demand
		most   float64
	}{{"W", drive.BatteryPower, 2e5}, {"N", drive.Thrust, 5e4}, {"rpm", drive.RotorSpeed, 60000 * math.Pi / 30}, {"%", drive.Throttle, 1}} {
		v, err := quantity.ParseIn(amount, quantity.MustUnit(k.unit))
		if err != nil {
			continue
		}
		if c.Demand, c.Amount = k.demand, v.Nominal(); !(c.Amount > 0 && c.Amount <= k.most) {
			return fmt.Sprintf("%s %q is at %s", kind, text, amount), fmt.Sprintf("above 0, at most %s", show(k.most, quantity.MustUnit(k.unit)))
		}
		switch {
		case k.demand == drive.BatteryPower:
			if demand, ok := drive.Place(place); ok {
				c.Demand = demand
			}
		case placed:
			return fmt.Sprintf("%s %q names a place, which only a power has", kind, text), ""
		}
		return "", ""
	}
	return fmt.Sprintf("%s %q: %q is no power, thrust, rotor speed or throttle", kind, text, amount), "such as 3 kW, 400 N, 4000 rpm or 80 %, with its unit"
}

// checkThermal holds the shares of the motor's mass against each other.
func (d *Design) checkThermal(fail func(path, what, allowed, out string), say func(kind notice.Kind, path, what, allowed, out string)) {
	t := d.nominal.Thermal
	if sum := t.CopperShare + t.IronShare + t.MagnetShare; sum > 0.95 {
		fail(d.firstTyped("thermal.iron_share", "thermal.copper_share", "thermal.magnet_share"), fmt.Sprintf("copper, iron and magnets are %.3g of the motor's mass", sum), "together at most 0.95: what is left is the housing", "look at copper_share, iron_share and magnet_share")
	}
	if sum := t.NoLoadIron + t.NoLoadMagnets; sum > 1 {
		fail(d.firstTyped("thermal.no_load_iron", "thermal.no_load_magnets"), fmt.Sprintf("no_load_iron and no_load_magnets are %.3g of the no-load loss", sum), "together at most 1: what is left is made in the bearings", "")
	}
	u := quantity.MustUnit("°C")
	for _, x := range []struct {
		part       string
		start, end quantity.Optional
	}{{"housing", t.HousingFoldStart, t.HousingFoldEnd}, {"plate", t.PlateFoldStart, t.PlateFoldEnd}} {
		start, end := "thermal."+x.part+"_fold_start", "thermal."+x.part+"_fold_end"
		switch {
		case x.start.Set && !x.end.Set:
			say(notice.Warning, start, start+" stands without "+end+": nothing is folded back", "both: where the current begins to fold back, and where nothing is left of it", "type "+end)
		case x.end.Set && !x.start.Set:
			say(notice.Warning, end, end+" stands without "+start+": nothing is folded back", "both: where the current begins to fold back, and where nothing is left of it", "type "+start)
		case x.start.Set && x.end.Value < x.start.Value+1:
			fail(end, fmt.Sprintf("%s is %s and %s %s", end, quantity.Format(x.end.Value, u), start, quantity.Format(x.start.Value, u)), "the end at least 1 K above the start", "")
		}
	}
}

// firstTyped is the first of some paths that was typed, or the first of them.
func (d *Design) firstTyped(paths ...string) string {
	for _, p := range paths {
		if _, ok := d.TypedAt(p); ok {
			return p
		}
	}
	return paths[0]
}
