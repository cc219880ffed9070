package design

import (
	"strings"

	"jetwright/drive"
	"jetwright/notice"
)

// ofStrength tells that only limits of strength depend on a number.
func (d *Design) ofStrength(in Input) bool {
	if drive.StrengthPart(in.Field) != "" {
		return true
	}
	switch in.Path {
	case "duct.wall", "nozzle.wall", "stator.wall", "impeller.root_flare", "stator.root_flare", "impeller.flat_depth", "impeller.keyway_width", "impeller.keyway_depth", "flange.bolt_circle":
		return true
	case "shaft.diameter":
		return d.nominal.ShaftBuild.Material != ""
	case "impeller.length":
		return d.nominal.ShaftBuild.Material != "" || d.nominal.ImpellerRow.Material != ""
	case "impeller.gap_eccentricity":
		return d.nominal.ImpellerRow.Material != ""
	case "impeller.tip_gap":
		return d.nominal.ImpellerRow.Material != "" && !d.Bladed()
	}
	return false
}

// idleMaking tells that a number of how a part is made does not enter any limit.
func (d *Design) idleMaking(path string) bool {
	if !ofMaking(path) {
		return false
	}
	n := &d.nominal
	switch path {
	case "duct.wall":
		return n.Housing.Material == "" || n.ImpellerRow.Material == ""
	case "nozzle.wall", "stator.wall":
		return n.Housing.Material == ""
	case "impeller.root_flare":
		return n.ImpellerRow.Material == "" || n.ImpellerBuild.RootThickness.Set || !d.Bladed()
	case "stator.root_flare":
		return n.StatorRow.Material == "" || n.StatorBuild.RootThickness.Set || !d.Bladed() || !n.StatorBladed
	case "impeller.flat_depth", "impeller.keyway_width", "impeller.keyway_depth":
		return n.ShaftBuild.Material == ""
	case "flange.bolt_circle":
		return !n.Housing.BoltDiameter.Set
	}
	return true
}

// idleStrength tells that a number of how the drive is made does not enter, since the part that it belongs to is not judged.
func (d *Design) idleStrength(path string) bool {
	f, ok := Schema().Lookup(path)
	if !ok {
		return false
	}
	n := &d.nominal
	switch drive.StrengthPart(f) {
	case "shaft":
		switch path {
		case "shaft.aft_pressure":
			return n.ShaftBuild.Material == "" || n.ShaftBuild.AftBearing != "plain"
		case "shaft.bearing_life":
			return n.ShaftBuild.Material == "" || !n.ShaftBuild.FrontRating.Set
		}
		return n.ShaftBuild.Material == ""
	case "impeller":
		if path == "impeller.water_share" {
			return n.ShaftBuild.Material == ""
		}
		return n.ImpellerRow.Material == ""
	}
	return false
}

// checkStrength says what is doubtful about how the drive is made.
func (d *Design) checkStrength(say func(kind notice.Kind, path, what, allowed, out string)) {
	n := &d.nominal
	for _, m := range n.Materials() {
		if m.Text != "" && !m.Known {
			say(notice.Warning, m.Path, m.Path+" = "+quote(m.Text)+" names no material with data here, so that nothing made of it is judged", "one of "+strings.Join(drive.MaterialNames(), ", "), m.WayOut)
		}
	}
	s := &n.ShaftBuild
	if s.Support == "stator" && s.BearingSpan.Set && s.Overhang.Set && s.Overhang.Value >= s.BearingSpan.Value {
		say(notice.Error, "shaft.overhang", "the impeller does not stand between its bearings: the overhang is not less than the bearing span", "with support = \"stator\" the overhang is counted forward from the bearing in the stator's hub", "")
	}
	if d.typed.Has("shaft.diameter") && d.known("impeller.hub_diameter") && n.Shaft.Diameter >= n.Impeller.HubDiameter {
		say(notice.Error, "shaft.diameter", "the shaft is not thinner than the impeller's hub", "usually a quarter to half of it", "")
	}
}

func quote(s string) string { return "\"" + s + "\"" }
