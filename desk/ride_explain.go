package desk

import (
	"math"
	"slices"
	"strings"

	"jetwright/design"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/notice"
	"jetwright/project"
)

// rideFigure is a figure of a ride that may be explained.
type rideFigure struct {
	path, doc, unit string
	cards           []string
	of              func(*afloat) float64
}

var rideFigures = []rideFigure{
	{"ride.margin", "least margin of net thrust over drag on the way onto the plane, at full power", "%", []string{"craft.Hull.At", "craft.BlountFox", "craft.PrePlaning", "craft.Hull.PlaneSpeed"}, func(x *afloat) float64 { return x.balance.Margin }},
	{"ride.hump_speed", "speed at which that margin is least", "m/s", []string{"craft.Hull.At"}, func(x *afloat) float64 { return x.balance.HumpSpeed }},
	{"ride.hump_drag", "drag at that speed", "N", []string{"craft.Hull.At", "craft.Hull.Plane", "craft.BlountFox", "craft.PrePlaning"}, func(x *afloat) float64 { return x.balance.Hump.Drag }},
	{"ride.plane_speed", "speed from which the craft is said to plane", "m/s", []string{"craft.Hull.PlaneSpeed"}, func(x *afloat) float64 { return x.balance.PlaneSpeed }},
	{"ride.speed_from_rest", "speed that the craft comes to from rest, at full power", "m/s", []string{"craft.Hull.At", "craft.Hull.Plane", "craft.Hull.Friction", "craft.Hull.Air"}, func(x *afloat) float64 { return x.balance.FromRest.Speed }},
	{"ride.trim", "trim at that speed", "deg", []string{"craft.Hull.Plane", "craft.PorpoisingTrim"}, trimFromRest},
	{"ride.time_to_plane", "time from rest onto the plane at full power, battery and winding as at the start", "s", []string{"drive.Ride.QuickToPlane"}, func(x *afloat) float64 { return x.quick }},
	{"ride.range", "way over the ground at the best speed on the plane, until the battery ends", "km", []string{"drive.Machine.RunTime"}, func(x *afloat) float64 { return x.best.Ground * x.bestLasts }},
	{"ride.edge_rider", "rider with whom no margin is left", "kg", []string{"craft.Hull.At"}, func(x *afloat) float64 { return x.edge }},
}

// trimFromRest is +Inf of a craft that swims: no method here tells its trim.
func trimFromRest(x *afloat) float64 {
	if c := &x.balance.FromRest.Craft; c.PlaningShare > 0 {
		return c.Planing.Trim
	}
	return math.Inf(1)
}

// lookupRide finds a figure of a ride.
func lookupRide(path string) (rideFigure, bool) {
	for _, f := range rideFigures {
		if f.path == path {
			return f, true
		}
	}
	return rideFigure{}, false
}

// RidePaths are the paths of a ride's figures.
func RidePaths() []string {
	var out []string
	for _, f := range rideFigures {
		out = append(out, f.path)
	}
	return out
}

// thermalOnly are numbers that no balance on the water depends on.
func thermalOnly(d *design.Design) map[string]bool {
	out := map[string]bool{}
	for _, in := range d.OverTime() {
		out[in.Path] = true
	}
	return out
}

// afloatOf works out what is explained of a drive on the water.
func (w *onWater) afloatOf(m *drive.Machine) *afloat {
	r, err := m.Afloat()
	if err != nil {
		return nil
	}
	x := new(afloat)
	w.still(r, x)
	if x.balance.Why != "" {
		return nil
	}
	return x
}

// lookAfloat draws a design and works out what is explained of it.
func lookAfloat(p *project.Project, o Options) (*onWater, error) {
	nominal := p.Design.Nominal()
	if lacks := nominal.Craft.Lacks(); len(lacks) > 0 {
		return nil, rideLacks(p.Design, lacks)
	}
	s, err := explore.NewRiding(p.Design, o.draws(explore.DefaultDraws), o.seed())
	if err != nil {
		return nil, unsolved(p, err)
	}
	w := &onWater{sample: s, push: drive.Push{Demand: drive.BatteryPower, Amount: topPower(s.Nominal, &nominal, drive.BatteryPower)}, drawn: make([]*afloat, len(s.Machines))}
	x := w.afloatOf(s.Nominal)
	if x == nil {
		return nil, notice.List{{Kind: notice.Error, Path: "craft", What: "there is no balance of thrust and drag", WayOut: "ask: jetwright ride"}}
	}
	w.nominal = *x
	explore.Parallel(len(w.drawn), func(i int) {
		if s.Machines[i] != nil {
			w.drawn[i] = w.afloatOf(s.Machines[i])
		}
	})
	return w, nil
}

// doubt is what the interval of a figure rests on, from a hundredth on.
func (w *onWater) doubt(f rideFigure) ([]Share, float64) {
	var rows []int
	var column []float64
	for i, x := range w.drawn {
		if x == nil {
			continue
		}
		if v := f.of(x); !math.IsInf(v, 0) && !math.IsNaN(v) {
			rows, column = append(rows, i), append(column, v)
		}
	}
	skip := thermalOnly(w.sample.Design)
	list, rest := w.sample.Contributions(rows, column, func(path string) bool { return !skip[path] })
	inputs := map[string]design.Input{}
	for _, in := range w.sample.Inputs {
		inputs[in.Path] = in
	}
	var out []Share
	for _, c := range list {
		if in := inputs[c.Path]; c.Share >= 0.01 {
			out = append(out, Share{Path: c.Path, Share: c.Share, Assumed: in.Assumed, Text: in.Value.String(), Doc: in.Field.Doc, Source: in.Field.Source})
		}
	}
	return out, rest
}

// explainRide explains a figure of the ride.
func explainRide(p *project.Project, f rideFigure, o Options) (*ExplainAnswer, error) {
	w, err := lookAfloat(p, o)
	if err != nil {
		return nil, err
	}
	v := w.soonest(f.unit, f.of)
	if math.IsInf(v.Value, 0) || f.path == "ride.range" && v.Value == 0 {
		return nil, notice.List{{Kind: notice.Error, Path: f.path, What: "it does not get onto the plane: there is no " + f.path, WayOut: "ask: jetwright explain ride.margin"}}
	}
	v.High = math.Min(v.High, math.MaxFloat64)
	if f.path == "ride.hump_drag" {
		v = coarse(v, w.nominal.balance.Hump.Extrapolated())
	}
	v.Path, v.Doc = f.path, f.doc
	a := &ExplainAnswer{Path: f.path, Doc: f.doc, Unit: v.Unit, Figure: &v, Origin: "figure of the ride at " + PushText(w.push)}
	a.Shares, a.Unexplained = w.doubt(f)
	for _, card := range Cards() {
		if slices.Contains(f.cards, card.Name) {
			a.Cards = append(a.Cards, card)
		}
	}
	return a, nil
}

// rideMoves is what a key of the craft contributes to figures of the ride.
func rideMoves(p *project.Project, path string, o Options) []Share {
	if !strings.HasPrefix(path, "craft.") {
		return nil
	}
	if v, ok := p.Design.Value(path); !ok || v.IsExact() {
		return nil
	}
	w, err := lookAfloat(p, o)
	if err != nil {
		return nil
	}
	var out []Share
	for _, name := range []string{"ride.margin", "ride.speed_from_rest", "ride.time_to_plane", "ride.range"} {
		f, _ := lookupRide(name)
		list, _ := w.doubt(f)
		for _, s := range list {
			if s.Path == path {
				out = append(out, Share{Path: name, Share: s.Share, Doc: f.doc})
			}
		}
	}
	return out
}

// Doubt is what the interval of a figure rests on.
type Doubt struct {
	Name   string
	Shares []Share
}

// doubts are those of the ride that its builder decides by.
func (w *onWater) doubts() []Doubt {
	var out []Doubt
	for _, name := range []string{"ride.margin", "ride.speed_from_rest", "ride.range"} {
		f, _ := lookupRide(name)
		if list, _ := w.doubt(f); len(list) > 0 {
			out = append(out, Doubt{strings.ReplaceAll(strings.TrimPrefix(name, "ride."), "_", " "), list[:min(len(list), 5)]})
		}
	}
	return out
}
