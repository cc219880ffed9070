package design

import (
	"fmt"
	"slices"
	"sort"

	"jetwright/drive"
	"jetwright/notice"
	"jetwright/quantity"
)

// placeCraft assumes the drag area in air by the rider's posture where none is typed, and joins the towed drags of claims of speed
// with those of the craft.
func (d *Design) placeCraft(schema *quantity.Schema) {
	const path = "craft.drag_area"
	c := &d.nominal.Craft
	f, known := schema.Lookup(path)
	low, high, ok := drive.AirDragArea(c.Posture)
	if known && ok && !c.DragArea.Set && !d.typed.tried[path] {
		f.Source = "hoerner-1965"
		if c.Posture == "crouched" || c.Posture == "prone" {
			f.Source = "memory"
		}
		v := quantity.Between(low, high, f.Unit).WithOrigin(quantity.Origin{Kind: quantity.Assumed, Source: f.Source})
		in := Input{Path: path, Field: f, Value: v, Assumed: true}
		d.values[path] = v
		schema.Set(&d.nominal, f, v.Nominal())
		d.assumed, d.uncertain = append(d.assumed, in), append(d.uncertain, in)
	}
	if len(c.TowSpeeds) != len(c.TowPulls) {
		return // said by checkCraft
	}
	defer func() {
		if len(c.TowSpeeds) > 0 && !c.TowMass.Set && c.Mass.Set && c.RiderMass.Set {
			c.TowMass = quantity.Some(c.TotalMass()) // what is changed later was not towed
		}
	}()
	for _, k := range d.claims {
		if k.What != "speed" || !(k.Drag.Nominal() > 0) || slices.Contains(c.TowSpeeds, k.Value) {
			continue
		}
		i := sort.SearchFloat64s(c.TowSpeeds, k.Value)
		c.TowSpeeds, c.TowPulls = slices.Insert(slices.Clone(c.TowSpeeds), i, k.Value), slices.Insert(slices.Clone(c.TowPulls), i, k.Drag.Nominal())
	}
}

// checkCraft holds the craft's numbers against each other.
func (d *Design) checkCraft(say func(kind notice.Kind, path, what, allowed, out string)) {
	c := &d.nominal.Craft
	m := quantity.MustUnit("m")
	if v, ok := d.values["craft.gravity_centre"]; ok {
		length, usual := c.Length.Value, "0.3 to 0.5 of the length"
		if c.Length.Set {
			usual = fmt.Sprintf("0.3 to 0.5 of the length, here %s .. %s", show(0.3*length, m), show(0.5*length, m))
		}
		band := "it"
		if !v.IsExact() {
			band = fmt.Sprintf("the aft end of its band, %s,", show(v.Low(), m))
		}
		switch {
		case v.Low() <= 0:
			say(notice.Error, "craft.gravity_centre", fmt.Sprintf("the centre of gravity is %s: %s lies behind the transom, where nothing carries it", v.String(), band), "ahead of the transom, which it is measured from; usual is "+usual, "measure from the transom forward, and look at the sign")
		case c.Length.Set && v.High() >= length:
			say(notice.Error, "craft.gravity_centre", fmt.Sprintf("the centre of gravity is %s ahead of the transom and the craft %s long", v.String(), show(length, m)), "between transom and bow; usual is "+usual, "look at the unit")
		}
	}
	if v, ok := d.values["craft.deadrise"]; ok && v.Low() < 0 {
		say(notice.Error, "craft.deadrise", fmt.Sprintf("the deadrise is %s: a bottom that falls from keel to chine", v.String()), "0 for a flat bottom, 1 to 25 deg for a vee; a hollow bottom is not known to any method here", "take the angle from the horizontal up to the bottom, halfway along; for a hollow bottom type 0 deg and tow it")
	}
	if l, b := c.Length, c.Beam; l.Set && b.Set && b.Value > l.Value {
		say(notice.Warning, "craft.beam", fmt.Sprintf("the beam of %s is more than the length of %s", show(b.Value, m), show(l.Value, m)), "boards are 2 to 5 beams long", "look at the units")
	}
	if p, l := c.IntakePosition, c.Length; p.Set && l.Set && p.Value >= l.Value {
		say(notice.Warning, "craft.intake_position", fmt.Sprintf("the intake lies %s ahead of the transom of a craft of %s", show(p.Value, m), show(l.Value, m)), "0.1 m to half of the length", "look at the unit")
	}
	if n, k := len(c.TowSpeeds), len(c.TowPulls); n != k {
		path := "craft.tow_pulls"
		if n == 0 {
			path = "craft.tow_speeds"
		}
		say(notice.Error, path, fmt.Sprintf("%d towed pulls for %d speeds", k, n), "one pull for each speed", "")
	}
	for i := 1; i < len(c.TowSpeeds); i++ {
		if c.TowSpeeds[i] <= c.TowSpeeds[i-1] {
			say(notice.Error, "craft.tow_speeds", fmt.Sprintf("value %d of craft.tow_speeds is not larger than the one before it", i+1), "they rise", "")
		}
	}
	if !c.Volume.Set || !c.Mass.Set || !c.RiderMass.Set {
		return
	}
	water := d.nominal.Water.Properties()
	litres := quantity.MustUnit("L")
	need := c.TotalMass() / water.Density
	switch {
	case c.Sinks(water.Density):
		say(notice.Error, "craft.volume", fmt.Sprintf("craft and rider weigh %.3g kg and sink: %s of hull and a rider who lies in the water to the neck carry %.3g kg", c.TotalMass(), show(c.Volume.Value, litres), c.Carries(water.Density)),
			fmt.Sprintf("about %.3g L float the rider with dry feet; what floats the craft itself, about %.3g L, is the least", 1000*need, 1000*c.Mass.Value/water.Density), "look at the unit, and at what the batteries weigh")
	case c.Volume.Value < need:
		say(notice.Warning, "craft.volume", fmt.Sprintf("%s do not float %.3g kg: the ride starts prone and awash", show(c.Volume.Value, litres), c.TotalMass()), fmt.Sprintf("from about %.3g L on the craft floats its rider", 1000*need), "start where you can stand or swim, or give it more volume")
	}
}
