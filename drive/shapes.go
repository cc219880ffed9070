package drive

import (
	"fmt"
	"math"

	"jetwright/notice"
	"jetwright/physics/blade"
	"jetwright/shape"
)

// Shapes are the parts of a drive as geometry, in one place on one axis. Stator is nil without one.
type Shapes struct {
	Impeller *shape.Impeller
	Stator   *shape.Stator
	Duct     *shape.Duct
	Nozzle   *shape.Nozzle
	Left     bool    // hand of rotation
	Run      float64 // how far blades run into hub and ring where they are solids of their own, m
	Notices  notice.List
}

// Shapes works out the parts' geometry. The error is a *shape.Fault.
func (d *Drive) Shapes() (*Shapes, error) {
	if d.Impeller.Grade != GradeBlades {
		return nil, &shape.Fault{Path: "impeller.inlet_angle", What: "no blade sections are used", Allowed: "inlet_angle, outlet_angle, chord and thickness under [impeller]", WayOut: "find sections for the duty with: jetwright blades --design"}
	}
	s := &Shapes{Left: d.HubMaking.Hand == "left", Run: d.Process.RootRun}
	p := d.Pump()
	hub := shape.Wall{Z: p.Channel.Axial, R: p.Channel.HubRadius}
	casing := shape.Wall{Z: p.Channel.Axial, R: p.Channel.TipRadius}
	gap := d.Impeller.TipGap.Value
	if len(d.Channel.TipRadius) == 0 { // the tips are drawn, the casing stands a gap away
		casing = casing.Plus(gap)
	}
	row := func(name string, r *blade.Row, turn, flare float64, tip shape.Wall) shape.Row {
		return shape.Row{
			Name: name, Blades: r.Blades, Span: r.Span, Inlet: r.InletAngle, Outlet: r.OutletAngle, Chord: r.Chord, Thickness: r.Thickness, Form: r.Form,
			LeadingRadius: s.edge(name, "leading", r.LeadingRadius, d), TrailingRadius: s.edge(name, "trailing", r.TrailingRadius, d),
			Start: r.Start, Sweep: r.Sweep, Lean: r.Lean, Turn: turn, Hub: hub, Tip: tip, Flare: flare, FlareTip: turn > 0,
		}
	}
	imp := &shape.Impeller{Row: row("impeller", &p.Impeller, -1, d.HubMaking.RootFlare, casing.Plus(-gap)), LeastWall: d.Process.MinimumWall, Hole: d.Process.HoleCompensation}
	_, end, f := imp.Row.Reach()
	if f != nil {
		return nil, f
	}
	ring := end + 1e-3 // where the casing ends
	if d.StatorBladed {
		st := &shape.Stator{
			Row: row("stator", &p.Stator, 1, d.StatorMaking.RootFlare, casing), Wall: d.StatorMaking.Wall, ConeRadius: d.StatorMaking.ConeRadius,
			Hole: d.Process.HoleCompensation,
		}
		front, rear, f := st.Row.Reach()
		if f != nil {
			return nil, f
		}
		if f := follow(imp, st, d.HubMaking.Clearance); f != nil {
			return nil, f
		}
		st.Front = front - 1e-3
		st.Rear = st.Front + d.Stator.Length
		if st.Rear < rear+1e-3 {
			return nil, &shape.Fault{
				Path: "stator.length", What: fmt.Sprintf("a stator %s long is shorter than its blades, which stand from %s to %s along the axis", milli(d.Stator.Length), milli(front), milli(rear)),
				Allowed: milli(rear-front+2e-3) + " or more, a millimetre beyond the blades at either end",
			}
		}
		hubEnd, _ := hub.At(st.Rear)
		st.ConeLength = d.StatorMaking.ConeLength.Or(3 * hubEnd)
		st.ConeRadius = min(st.ConeRadius, hubEnd)
		ring = st.Front
		s.Stator = st
	}
	imp.Rear = ring - d.HubMaking.Clearance
	if s.Stator == nil {
		imp.Rear = ring
	}
	imp.Front = imp.Rear - d.Impeller.Length
	radius, _ := hub.At(imp.Front)
	imp.NoseLength = d.HubMaking.NoseLength.Or(1.2 * radius)
	imp.Bore = d.bore()
	imp.NoseRadius = d.HubMaking.NoseRadius.Or(min(radius, imp.Bore.Reach()+d.Process.MinimumWall))
	if imp.Bore.Form == "clamp" {
		imp.NoseRadius = max(imp.NoseRadius, imp.Bore.Diameter/2+d.HubMaking.ClampWall+d.Process.MinimumWall)
	}
	s.Impeller = imp
	front := imp.Front - d.DuctMaking.Ahead
	outer, _ := casing.At(front)
	for _, z := range []float64{imp.Front, ring, ring + d.Stator.Length} {
		r, _ := casing.At(z)
		outer = max(outer, r)
	}
	outer += max(d.DuctMaking.Wall, d.StatorMaking.Wall, d.NozzleMaking.Wall)
	flange := d.flange(outer)
	s.Duct = &shape.Duct{Front: front, Rear: ring, Inner: casing, Wall: d.DuctMaking.Wall, Flange: flange, Hole: d.Process.HoleCompensation}
	at := ring
	if s.Stator != nil {
		s.Stator.Flange, at = flange, s.Stator.Rear
	}
	inlet, _ := casing.At(at)
	n := &shape.Nozzle{
		Front: at, Length: d.Nozzle.Length, Inlet: inlet, Outlet: d.Nozzle.Diameter / 2, Land: d.NozzleMaking.Land, Wall: d.NozzleMaking.Wall, Flange: flange,
		TapHeight: d.NozzleMaking.TapHeight, Hole: d.Process.HoleCompensation,
	}
	if len(d.Coolant) == 0 && d.Cooling.TapDiameter > 0 {
		n.TapBore = d.Cooling.TapDiameter
	}
	entry := flange.Thickness + 2e-3
	if n.TapBore > 0 {
		n.TapBoss = d.NozzleMaking.TapBoss.Or(n.TapBore + 2*d.NozzleMaking.Wall)
		entry += n.TapBoss
	}
	n.Entry = d.NozzleMaking.Entry.Or(entry)
	s.Nozzle = n
	s.walls(d)
	if f := s.holes(d.Process.HoleCompensation, d.Process.MinimumWall); f != nil {
		return nil, f
	}
	return s, nil
}

func milli(x float64) string { return fmt.Sprintf("%.4g mm", 1e3*x) }

// edge is an edge's radius as the process can make it.
func (s *Shapes) edge(part, which string, radius float64, d *Drive) float64 {
	least := d.Process.MinimumEdge / 2
	if radius >= least {
		return radius
	}
	s.Notices = append(s.Notices, notice.Notice{
		Kind: notice.Warning, Path: part + "." + which + "_radius", What: fmt.Sprintf("the %s edge of the %s, %s thick, is thinner than the process makes; the shapes have %s", which, part, milli(2*radius), milli(2*least)),
		Allowed: "process.minimum_edge or more", WayOut: fmt.Sprintf("type %s_radius = \"%s\", so that the losses are those of the part", which, milli(least)),
	})
	return least
}

// follow tells whether the stator's blades stand clear behind the impeller's at every radius.
func follow(a *shape.Impeller, b *shape.Stator, clearance float64) *shape.Fault {
	worst, where := math.Inf(1), 0.0
	for i := range 9 {
		h := float64(i) / 8
		_, end, f := a.Row.ReachAt(h)
		if f != nil {
			return f
		}
		start, _, f := b.Row.ReachAt(h)
		if f != nil {
			return f
		}
		if x := start - end; x < worst {
			worst, where = x, h
		}
	}
	least := clearance + 2e-3 // and a millimetre of hub beyond the blades of either
	if _, end, f := a.Row.Reach(); f == nil {
		if start, _, f := b.Row.Reach(); f == nil {
			root, _, _ := b.Row.ReachAt(0)
			worst = min(worst, min(start, root)-rootEnd(a, end))
		}
	}
	if worst >= least-1e-9 {
		return nil
	}
	need := math.Ceil((b.Row.Start+least-worst)*1e4) / 1e4
	how := fmt.Sprintf("stand %s behind the impeller's", milli(worst))
	if worst < 0 {
		how = fmt.Sprintf("begin %s before the impeller's end", milli(-worst))
	}
	return &shape.Fault{
		Path: "stator.start", What: fmt.Sprintf("the stator's blades %s where they come nearest, at %.0f %% of the span", how, 100*where),
		Allowed: fmt.Sprintf("%s or more: the hubs' clearance and a millimetre of hub beyond the blades on both", milli(least)), WayOut: fmt.Sprintf("set stator.start to %s, or shorten the chords there", milli(need)),
	}
}

// rootEnd is where the impeller's blades end on the hub.
func rootEnd(a *shape.Impeller, end float64) float64 {
	if _, x, f := a.Row.ReachAt(0); f == nil {
		return x
	}
	return end
}

// bore is the hub's bore as typed, or by the shaft.
func (d *Drive) bore() shape.Bore {
	m := &d.HubMaking
	b := shape.Bore{Diameter: m.Bore.Or(d.Shaft.Diameter), Form: m.BoreForm, ClampLength: m.ClampLength, ClampWall: m.ClampWall, ClampSlot: m.ClampSlot}
	w, t := keyway(b.Diameter)
	b.KeyWidth, b.KeyDepth = m.KeywayWidth.Or(w), m.KeywayDepth.Or(t)
	b.FlatDepth = m.FlatDepth.Or(0.1 * b.Diameter)
	return b
}

// flange is the flange round parts of an outer radius.
func (d *Drive) flange(outer float64) shape.Flange {
	m := &d.FlangeMaking
	f := shape.Flange{Thickness: m.Thickness, Bolts: m.Bolts, BoltHole: m.BoltHole}
	// a bolt's head is about twice as wide as its hole
	f.BoltCircle = m.BoltCircle.Or(2*(outer+m.BoltHole+0.5e-3)) / 2
	f.Radius = m.Diameter.Or(2*(f.BoltCircle+m.BoltHole+0.5e-3)) / 2
	return f
}

// holes tells whether what holes are made wider by leaves them holes, and the bore a wall: half of the least is enough for what is printed
// only to come out narrower.
func (s *Shapes) holes(more, wall float64) *shape.Fault {
	if more == 0 {
		return nil
	}
	fault := func(what, allowed string) *shape.Fault {
		return &shape.Fault{Path: "process.hole_compensation", What: fmt.Sprintf("holes made wider by %s: %s", milli(more), what), Allowed: allowed, WayOut: "it is what a printed hole comes out smaller by on its diameter: some tenths of a millimetre"}
	}
	b := s.Impeller.Bore
	holes := []struct {
		what            string
		diameter, least float64
	}{{"the bore", b.Diameter, 0}, {"a bolt's hole", s.Duct.Flange.BoltHole, 0}, {"the coolant's tap", s.Nozzle.TapBore, 0}}
	switch b.Form {
	case "keyway":
		holes[0].least = b.KeyWidth
	case "flat":
		holes[0].least = 2 * b.FlatDepth
	case "clamp":
		holes[0].least = 4 * b.ClampSlot
	}
	if s.Duct.Flange.Bolts == 0 || s.Duct.Flange.Thickness == 0 {
		holes[1].diameter = 0
	}
	for _, h := range holes {
		if h.diameter > h.least && h.diameter+more <= h.least+0.1e-3 {
			return fault(fmt.Sprintf("%s of %s would be %s", h.what, milli(h.diameter), milli(h.diameter+more)), fmt.Sprintf("%s or more", milli(h.least+0.1e-3-h.diameter)))
		}
	}
	if b.Diameter > 0 && s.Impeller.NoseRadius-b.Reach() > wall/2 { // else the part itself is at fault, and told so where it is made
		b.Diameter += more
		if left := s.Impeller.NoseRadius - b.Reach(); left < wall/2 {
			return fault(fmt.Sprintf("round the bore %s of the nose would be left", milli(left)), milli(more-2*(wall/2-left))+" or less")
		}
	}
	return nil
}

// walls names what is thinner than the process makes it.
func (s *Shapes) walls(d *Drive) {
	least := d.Process.MinimumWall
	thin := func(path, what string, x float64, where string) {
		if x < least*(1-1e-9) {
			s.Notices = append(s.Notices, notice.Notice{
				Kind: notice.Warning, Path: path, What: fmt.Sprintf("%s is %s thick %s, thinner than the process makes sound", what, milli(x), where), Allowed: "process.minimum_wall, " + milli(least) + ", or more",
			})
		}
	}
	rows := []*shape.Row{&s.Impeller.Row}
	if s.Stator != nil {
		rows = append(rows, &s.Stator.Row)
		thin("stator.wall", "the stator's ring", s.Stator.Wall, "all along")
	}
	for _, r := range rows {
		for i, x := range [2]string{"leading", "trailing"} {
			if e := r.Rounder(); e[i] > 0 {
				typed := [2]float64{r.LeadingRadius, r.TrailingRadius}[i]
				s.Notices = append(s.Notices, notice.Notice{
					Kind: notice.Remark, Path: r.Name + "." + x + "_radius", What: fmt.Sprintf("the form of the %s's sections has a rounder %s edge of its own, R %s at the most, than the R %s typed; the shapes have the form's", r.Name, x, milli(e[i]), milli(typed)),
					Allowed: "a radius above the form's own", WayOut: "form = \"double arc\" takes any edge",
				})
			}
		}
		t, h := r.Thinnest()
		thin(r.Name+".thickness", "the "+r.Name+"'s blade", t, fmt.Sprintf("at its thickest place, at %.0f %% of the span", 100*h))
	}
	thin("duct.wall", "the casing", s.Duct.Wall, "all along")
	x, z := s.Nozzle.Thinnest()
	thin("nozzle.wall", "the nozzle", x, fmt.Sprintf("at %s behind its flange", milli(z)))
	f := &s.Duct.Flange
	if f.Bolts > 0 && f.Thickness > 0 {
		thin("flange.diameter", "the flange outside its bolts", f.Radius-f.BoltCircle-f.BoltHole/2, "")
	}
}
