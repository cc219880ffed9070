package design

import (
	"maps"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/stat/distuv"

	"jetwright/drive"
	"jetwright/quantity"
)

// KeptShare is how much of the variance of what is assumed of a part a changed part keeps: a new impeller of the same
// workshop is most likely as good as the old one, but not surely. Our own.
const KeptShare = 0.75

// beside are the sections that are not the drive itself: what is asked of it, and where a run stood.
var beside = map[string]bool{"duty": true, "limits": true, "claim": true, "stand": true, "water": true, "craft": true, "thermal": true, "title": true}

// Version is an earlier design as seen from the one that it became: which of its numbers are the same unknown.
type Version struct {
	Was     *Design
	Changed []Difference    // of the drive itself, as it was against as it is
	Parts   map[string]bool // sections that changed
	Own     []string        // unknowns that the earlier design has for itself, by path

	inputs []versionInput
	learnt []quantity.Field // numbers that were assumed then and are typed now
}

// versionInput says where an uncertain number of the earlier design comes from.
type versionInput struct {
	shared int // unknown of the later design, −1 where it shares none
	own    int // unknown of its own, −1 where it has none
}

// Version compares the drive with an earlier design of it; nil where both are the same drive. A number that was assumed
// then and is typed now, or measured on the finished part within its limits, is better known, and no change; duty, limits, promises, stand and water are none either.
func (d *Design) Version(was *Design) *Version {
	v := &Version{Was: was, Parts: map[string]bool{}}
	assumedThen := map[string]bool{}
	for _, in := range was.uncertain {
		assumedThen[in.Path] = in.Assumed
	}
	learnt := map[string]bool{}
	for _, x := range d.Differences(was) {
		section := sectionOf(x.Path)
		if beside[section] {
			continue
		}
		if f, ok := Schema().Lookup(x.Path); ok && x.Was == "" && (assumedThen[x.Path] || x.Built && d.within(was, x.Path)) {
			if !learnt[x.Path] {
				v.learnt = append(v.learnt, f)
			}
			learnt[x.Path] = true
			continue
		}
		v.Changed = append(v.Changed, x)
		v.Parts[section] = true
	}
	if len(v.Changed) == 0 {
		return nil
	}
	now := map[string]int{}
	for j, in := range d.uncertain {
		now[in.Path] = j
	}
	for _, in := range was.uncertain {
		x := versionInput{-1, -1}
		own := func() {
			x.own = len(v.Own)
			v.Own = append(v.Own, in.Path)
		}
		j, ok := now[in.Path]
		switch {
		case learnt[in.Path]:
		case ok && sameSpread(in.Value, d.uncertain[j].Value):
			x.shared = j
			if in.Assumed && v.Parts[sectionOf(in.Path)] {
				own()
			}
		default:
			own()
		}
		v.inputs = append(v.inputs, x)
	}
	return v
}

// within tells whether a number lies where an earlier design had it, limits and all: it was measured since, not made anew.
func (d *Design) within(was *Design, path string) bool {
	x, ok := d.values[path]
	y, okWas := was.values[path]
	return ok && okWas && y.Low() <= x.Nominal() && x.Nominal() <= y.High()
}

// sectionOf is the table that a key stands in: "motor" of motor.mass, "coolant" of coolant[0].bore.
func sectionOf(path string) string {
	section, _, _ := strings.Cut(path, ".")
	section, _, _ = strings.Cut(section, "[")
	return section
}

func sameSpread(a, b quantity.Value) bool {
	return near(a.Nominal(), b.Nominal()) && near(a.Low(), b.Low()) && near(a.High(), b.High()) && a.Spread() == b.Spread()
}

// Kept is the standard normal score of an unknown of a changed part, of which it keeps KeptShare of the variance.
func Kept(shared, own float64) float64 {
	return math.Sqrt(KeptShare)*shared + math.Sqrt(1-KeptShare)*own
}

// Rank maps a standard normal number to the quantile that Draw takes, kept off the very ends so that every number stays finite.
func Rank(z float64) float64 {
	const end = 1e-12
	return end + (1-2*end)*distuv.UnitNormal.CDF(z)
}

// Draw returns the earlier drive that goes with a drawn later one: shared are the standard normal scores of the later design's uncertain
// numbers, own those of Own. Stand, water, craft and duty are those of the later one.
func (v *Version) Draw(now *drive.Drive, shared, own []float64) drive.Drive {
	u := make([]float64, len(v.inputs))
	for i, x := range v.inputs {
		z := 0.0
		switch {
		case x.shared >= 0 && x.own >= 0:
			z = Kept(shared[x.shared], own[x.own])
		case x.shared >= 0:
			z = shared[x.shared]
		case x.own >= 0:
			z = own[x.own]
		}
		u[i] = Rank(z)
	}
	out := v.Was.Draw(u)
	for _, f := range v.learnt {
		if x, ok := Schema().Get(now, f); ok {
			Schema().Set(&out, f, x)
		}
	}
	out.Stand, out.Water, out.Craft, out.Duty, out.Limits = now.Stand, now.Water, now.Craft, now.Duty, now.Limits
	out.Thermal, out.Calibration = now.Thermal, now.Calibration
	return out
}

// PartList names the changed parts in order.
func (v *Version) PartList() []string {
	return slices.Sorted(maps.Keys(v.Parts))
}
