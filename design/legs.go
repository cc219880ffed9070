package design

import (
	"fmt"
	"strings"

	"jetwright/drive"
	"jetwright/notice"
	"jetwright/quantity"
)

// legsKey is the list of a ride's legs: text, as the steps of a duty are.
const legsKey = "craft.ride"

// LegsDoc says what the legs of a ride are, for the table of keys.
const LegsDoc = "a ride, leg by leg: \"to the plane\", a time or a way at a speed that is held or at a power, \"rest\", \"to the end\" of the battery, such as \"to the plane\", \"5 min at full power\", \"2 km at 7 m/s\", \"2 km back at 7 m/s\", \"1 min rest\", \"to the end at 6 m/s\". \"back\" turns wind and current round; a leg that holds a speed gets there at full power"

// Legs returns the legs of the ride as typed; none if they were not.
func (d *Design) Legs() []drive.RideLeg { return d.legs }

func (d *Design) readLegs() notice.List {
	return d.readTexts(legsKey, "leg", "a ride is a list with at least one leg", legsOut, func(text string, at quantity.Place) (what, allowed string) {
		leg, what, allowed := d.ReadLeg(text)
		if leg.At = at; what == "" {
			d.legs = append(d.legs, leg)
		}
		return what, allowed
	})
}

const legsOut = `write ride = ["to the plane", "2 km at 7 m/s", "2 km back at 7 m/s", "to the end at 6 m/s"]`

// ReadLeg reads one leg of a ride; what says what is wrong with it, empty if nothing is. A leg without a push of its own has a
// condition of amount 0: full power.
func (d *Design) ReadLeg(text string) (leg drive.RideLeg, what, allowed string) {
	leg.Text = text
	leg.Sail = &drive.Sail{}
	words := strings.Join(strings.Fields(text), " ")
	head, tail, _ := strings.Cut(words, " at ")
	if before, ok := strings.CutSuffix(words, "rest"); ok {
		head, _ = strings.CutSuffix(strings.TrimSpace(before), " at")
		leg.Rest = true
	}
	if before, ok := strings.CutSuffix(head, " back"); ok {
		head, leg.Sail.Back = before, true
	}
	const usual = `a time, a way, "to the plane" or "to the end"; then "at" and a speed, a power or "full power"; or "rest"`
	switch head = strings.TrimSpace(head); head {
	case "to the plane":
		leg.ToPlane = true
	case "to the end":
		leg.ToEnd = true
	default:
		if v, err := quantity.ParseIn(head, quantity.MustUnit("s")); err == nil {
			leg.Seconds = v.Nominal()
		} else if v, err := quantity.ParseIn(head, quantity.MustUnit("m")); err == nil {
			leg.Sail.Metres = v.Nominal()
		} else {
			return leg, fmt.Sprintf("leg %q: %q is no time and no way", text, head), usual
		}
		if !(leg.Seconds > 0 && leg.Seconds <= longestStep || leg.Sail.Metres > 0 && leg.Sail.Metres <= 1e6) {
			return leg, fmt.Sprintf("leg %q lasts %s", text, head), "above 0, at most a day or 1000 km"
		}
	}
	switch {
	case leg.Rest && leg.Seconds == 0:
		return leg, fmt.Sprintf("leg %q rests for no time", text), "a time, such as 1 min rest"
	case leg.Rest:
		return leg, "", ""
	case tail == "" && leg.ToPlane, tail == "full power":
		return leg, "", ""
	case tail == "":
		return leg, fmt.Sprintf("leg %q does not say what it is at", text), usual
	}
	if v, err := quantity.ParseIn(tail, quantity.MustUnit("m/s")); err == nil {
		if leg.Sail.Hold = v.Nominal(); !(leg.Sail.Hold > 0 && leg.Sail.Hold <= 30) {
			return leg, fmt.Sprintf("leg %q goes at %s", text, tail), "above 0, at most 30 m/s"
		}
		if leg.ToPlane {
			return leg, fmt.Sprintf("leg %q holds a speed", text), `"to the plane" takes a power; the speed is held by the leg after it`
		}
		return leg, "", ""
	}
	what, allowed = d.readAmount("leg", text, tail, &leg.Condition)
	if what != "" {
		allowed = "a speed such as 6 m/s, full power, or a power " + allowed
	}
	return leg, what, allowed
}

// SectionPlace is where a section stands in the text, or the text's beginning.
func (d *Design) SectionPlace(section string) quantity.Place {
	for _, e := range d.doc.Entries() {
		if e.Kind == TableHeader && e.Path == section {
			return e.Place
		}
	}
	return quantity.Place{File: d.doc.Name(), Line: 1, Column: 1}
}
