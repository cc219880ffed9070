package project

import (
	"fmt"
	"math"
	"sync"

	"jetwright/design"
	"jetwright/notice"
	"jetwright/quantity"
)

// beforeSheet is the [before] of a run.toml: what was looked at before anything turned.
type beforeSheet struct {
	GapTop        quantity.Optional `unit:"mm" doc:"radial gap between blade tip and duct, measured at the top" range:"0 .. 20" usual:"0.1 .. 2"`
	GapRight      quantity.Optional `unit:"mm" doc:"the same at the right, seen from behind" range:"0 .. 20" usual:"0.1 .. 2"`
	GapBottom     quantity.Optional `unit:"mm" doc:"the same at the bottom" range:"0 .. 20" usual:"0.1 .. 2"`
	GapLeft       quantity.Optional `unit:"mm" doc:"the same at the left" range:"0 .. 20" usual:"0.1 .. 2"`
	RunOut        quantity.Optional `unit:"mm" doc:"run-out of shaft and impeller, by dial gauge, full reading" range:"0 .. 10" usual:"0.01 .. 0.3"`
	Unbalance     quantity.Optional `unit:"µm" doc:"unbalance left, over the rotor's mass: 1 g·mm for each kg is 1 µm" range:"0 .. 10000" usual:"1 .. 50"`
	Rotation      string            `doc:"whether the water left by the nozzle at a touch of the lowest throttle" choices:"yes|no"`
	Tight         string            `doc:"whether motor and controller boxes kept their pressure under water" choices:"yes|no"`
	Insulation    quantity.Optional `unit:"MΩ" doc:"least insulation resistance of the phases to housing, dry, the controller unplugged" range:"0 .. 1000000" usual:"1 .. 1000"`
	InsulationWet quantity.Optional `unit:"MΩ" doc:"least insulation resistance of the phases to the water, after ten minutes in it" range:"0 .. 1000000" usual:"1 .. 1000"`
	Coolant       string            `doc:"whether the coolant was seen to flow from its outlet" choices:"yes|no"`
	KillBy        string            `doc:"second person who tried the kill and kept it"`
	By            string            `doc:"who looked at all this"`
}

// BeforeSchema declares the keys of [before].
func BeforeSchema() *quantity.Schema { return beforeSchema() }

var beforeSchema = sync.OnceValue(func() *quantity.Schema { return mustSchema(struct{ Before beforeSheet }{}) })

// Rules of what is looked at before a run. Our own, but for the insulation, which is recalled.
const (
	runOutShare     = 1.0 / 3 // of the least gap
	gapShare        = 0.5     // of the mean gap, that the least may fall to
	insulationLeast = 1e6     // Ω
)

// Looked is one thing that was looked at before a run.
type Looked struct {
	Key   string         // of [before]
	Doc   string         // what it is
	Value quantity.Value // of what was measured
	Text  string         // of what was said; empty for a measured value
}

// readBefore reads the [before] of a run and says what in it forbids running.
func readBefore(doc *design.Document) ([]Looked, notice.List) {
	s, faults := design.Bind(doc, "before.", "before", BeforeSchema(), nil)
	var out []Looked
	for _, f := range BeforeSchema().Fields() {
		l := Looked{Key: f.Key, Doc: f.Doc}
		if v, ok := s.Value(f.Key); ok {
			l.Value = v
		} else if t, ok := s.Text(f.Key); ok && s.Has(f.Key) {
			l.Text = t
		} else {
			continue
		}
		out = append(out, l)
	}
	if len(out) == 0 {
		return nil, faults
	}
	warn := func(key, what, way string) {
		faults = append(faults, notice.Notice{Kind: notice.Warning, Place: s.Place(key), Path: "before." + key, Excerpt: s.Excerpt(key), What: what, WayOut: way})
	}
	least, sum, n, at := math.Inf(1), 0.0, 0.0, ""
	for _, key := range []string{"gap_top", "gap_right", "gap_bottom", "gap_left"} {
		if v, ok := s.Value(key); ok {
			sum, n = sum+v.Nominal(), n+1
			if v.Nominal() < least {
				least, at = v.Nominal(), key
			}
		}
	}
	if n == 4 && least < gapShare*sum/n {
		warn(at, fmt.Sprintf("the gap of %.2f mm there is under half of the mean of %.2f mm: the rotor stands off the middle", 1e3*least, 1e3*sum/n), "set it straight before it turns under load")
	}
	if v, ok := s.Value("run_out"); ok && n > 0 && v.Nominal() > runOutShare*least {
		warn("run_out", fmt.Sprintf("a run-out of %.2f mm is more than a third of the least gap of %.2f mm: the blades may touch", 1e3*v.Nominal(), 1e3*least), "straighten or bush the shaft, or widen the gap")
	}
	for _, key := range []string{"insulation", "insulation_wet"} {
		if v, ok := s.Value(key); ok && v.Nominal() < insulationLeast {
			warn(key, fmt.Sprintf("an insulation of %.2g MΩ is below 1 MΩ: current finds a way to the water", 1e-6*v.Nominal()), "dry and seal the motor and its leads; no run before")
		}
	}
	for _, c := range [][3]string{
		{"rotation", "the water does not leave by the nozzle: the rotor turns the wrong way", "swap two phases, and try again at the lowest throttle"},
		{"tight", "a box did not keep its pressure: water gets in", "seal it; no run before"},
		{"coolant", "no coolant was seen to flow", "find the air lock or the block; no flow, no run"},
	} {
		if t, ok := s.Text(c[0]); ok && s.Has(c[0]) && t == "no" {
			warn(c[0], c[1], c[2])
		}
	}
	if t, _ := s.Text("kill_by"); t == "" {
		faults = append(faults, notice.Notice{
			Kind: notice.Warning, Place: s.Place(out[0].Key), Path: "before.kill_by", What: "[before] names nobody who tried the kill", WayOut: `let a second person try it and keep it, and type kill_by = "…"`,
		})
	}
	return out, faults
}
