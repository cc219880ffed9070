package design

import (
	"strings"
	"sync"

	"jetwright/drive"
	"jetwright/notice"
	"jetwright/quantity"
)

// sectionKeys are what makes a row of blades; typing one of them types the row.
var sectionKeys = []string{"inlet_angle", "outlet_angle", "chord", "thickness"}

// hasRow tells whether sections are typed of a part, impeller or stator.
func (d *Design) hasRow(part string) bool {
	for _, k := range sectionKeys {
		if d.typed.tried[part+"."+k] || d.built.tried[part+"."+k] {
			return true
		}
	}
	return false
}

// ofBlades returns the part whose blades a key describes; false for a key of anything else.
func ofBlades(path string) (part string, ok bool) {
	part, known := bladeKeys()[path]
	return part, known
}

var bladeKeys = sync.OnceValue(func() map[string]string {
	out := map[string]string{}
	for _, f := range Schema().Fields() {
		if part := drive.BladePart(f); part != "" {
			out[f.Path] = part
		}
	}
	return out
})

// ofMaking tells whether a key says how a part is made, so that no figure of a state rests on it.
func ofMaking(path string) bool { return makingKeys()[path] }

var makingKeys = sync.OnceValue(func() map[string]bool {
	out := map[string]bool{}
	for _, f := range Schema().Fields() {
		out[f.Path] = drive.Making(f)
	}
	return out
})

// Bladed tells whether the pump is worked out from its blades.
func (d *Design) Bladed() bool { return d.nominal.Impeller.Grade == drive.GradeBlades }

// placeBlades settles where the pump's curve comes from, and assumes the gap of blades that nobody measured.
func (d *Design) placeBlades(schema *quantity.Schema) {
	row := d.hasRow("impeller")
	if row && !d.typed.tried["impeller.grade"] && !d.built.tried["impeller.grade"] {
		d.nominal.Impeller.Grade = drive.GradeBlades
	}
	d.nominal.StatorBladed = d.hasRow("stator") && d.nominal.Stator.Blades > 0
	const path = "impeller.tip_gap"
	f, known := schema.Lookup(path)
	if !d.Bladed() || !known || d.nominal.Impeller.TipGap.Set || d.typed.tried[path] {
		return
	}
	f.Source = "own"
	low, high := drive.TipGapAssumed()
	v := quantity.Between(low, high, f.Unit).WithOrigin(quantity.Origin{Kind: quantity.Assumed, Source: f.Source})
	in := Input{Path: path, Field: f, Value: v, Assumed: true}
	d.values[path] = v
	schema.Set(&d.nominal, f, v.Nominal())
	d.assumed, d.uncertain = append(d.assumed, in), append(d.uncertain, in)
}

// idleBlades tells that a number of blades does not enter.
func (d *Design) idleBlades(path string) bool {
	part, of := ofBlades(path)
	if !of {
		return false
	}
	n := &d.nominal
	switch {
	case path == "impeller.gap_eccentricity" && n.ImpellerRow.Material != "":
		return false // it closes the gap
	case !d.Bladed() || part == "stator" && !n.StatorBladed:
		return true
	case path == "impeller.roughness_place":
		return n.ImpellerRow.Roughness.Set
	case path == "stator.roughness_place":
		return n.StatorRow.Roughness.Set
	}
	return false
}

// checkBlades says what is wrong with the blades, where they are used.
func (d *Design) checkBlades(say func(kind notice.Kind, path, what, allowed, out string)) {
	if !d.Bladed() {
		if d.hasRow("impeller") {
			say(notice.Remark, "impeller.grade", "the blade sections are not used: the pump's curve is "+d.nominal.Impeller.Grade, "", "leave grade out, or type grade = \"blades\"")
		}
		return
	}
	if !d.hasRow("impeller") {
		say(notice.Error, "impeller.grade", "the pump's curve is to come from its blades, and no sections are typed", "", "type inlet_angle, outlet_angle, chord and thickness under [impeller]")
		return
	}
	if !d.known("impeller.diameter") || !d.known("impeller.hub_diameter") {
		return // said already
	}
	for path := range d.typed.tried { // what could not be read is said already
		if _, of := ofBlades(path); of && !d.typed.Has(path) {
			return
		}
	}
	if !d.hasRow("stator") && d.typed.tried["stator.blades"] {
		say(notice.Warning, "stator.blades", "the stator has no sections, so that its blades are left out and all swirl stays in the jet", "", "type inlet_angle, outlet_angle, chord and thickness under [stator]")
	}
	if !d.typed.tried["impeller.blades"] && !d.built.tried["impeller.blades"] {
		say(notice.Warning, "impeller.blades", "the number of blades is assumed", "", "type blades under [impeller]")
	}
	for _, n := range d.nominal.BladeFaults() {
		say(n.Kind, n.Path, n.What, n.Allowed, n.WayOut)
	}
	for _, path := range []string{"impeller.start", "stator.start", "impeller.roughness", "stator.roughness", "impeller.sweep", "impeller.lean", "stator.sweep", "stator.lean"} {
		if v, ok := d.values[path]; ok && !v.IsExact() {
			say(notice.Remark, path, "the tolerance of "+path+" is not drawn", "the map of the blades knows the change by offsets of angle, gap, edges, chord, thickness and roughness_place", "")
		}
	}
}

// bladePaths are the numbers of the blades that are not exact, for the map.
func (d *Design) bladePaths() []string {
	var out []string
	for _, in := range d.uncertain {
		if _, of := ofBlades(in.Path); of || in.Path == "impeller.tip_gap" {
			out = append(out, in.Path)
		}
	}
	return out
}

// section tells whether a path names a whole section.
func (d *Design) section(path string) (Entry, bool) {
	if strings.Contains(path, ".") {
		return Entry{}, false
	}
	for _, e := range d.doc.Entries() {
		if e.Kind == TableHeader && e.Path == path {
			return e, true
		}
	}
	return Entry{}, false
}
