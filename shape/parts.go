package shape

import (
	"fmt"
	"math"
)

// Bore is the hole in a hub that the shaft goes through, and how the shaft drives the hub.
type Bore struct {
	Diameter             float64 // 0 for none
	Form                 string  // round, keyway, flat or clamp
	KeyWidth, KeyDepth   float64 // the depth from the bore's top
	FlatDepth            float64 // what the flat takes off the diameter
	ClampLength          float64 // of the slotted collar ahead of the hub
	ClampWall, ClampSlot float64
}

const clampSlots = 4

// contour is the bore's edge in a face square to the axis; empty for a round one.
func (b *Bore) contour(tolerance float64) []polarPoint {
	r := b.Diameter / 2
	switch b.Form {
	case "keyway":
		half := math.Asin(b.KeyWidth / 2 / r)
		deep := r + b.KeyDepth
		out := arc(r, half, 2*math.Pi-half, tolerance)
		corner := math.Atan2(b.KeyWidth/2, deep)
		far := math.Hypot(b.KeyWidth/2, deep)
		return append(out, polarPoint{2*math.Pi - corner, far}, polarPoint{2*math.Pi + corner, far})
	case "flat":
		half := math.Acos((r - b.FlatDepth) / r)
		return arc(r, half, 2*math.Pi-half, tolerance)
	case "clamp":
		return b.clampContour(tolerance)
	}
	return nil
}

// Reach is how far from the axis the bore goes.
func (b *Bore) Reach() float64 {
	if b.Form == "keyway" {
		return math.Hypot(b.KeyWidth/2, b.Diameter/2+b.KeyDepth)
	}
	return b.Diameter / 2
}

// fault tells what is wrong with a bore in a hub of a radius, with the wall that has to be left.
func (b *Bore) fault(path string, hub, wall float64) *Fault {
	if b.Diameter == 0 {
		return nil
	}
	if b.Diameter >= 2*hub {
		return &Fault{
			Path: path + ".bore", What: fmt.Sprintf("a bore of %s is larger than the hub, %s", mm(b.Diameter), mm(2*hub)),
			Allowed: "a bore of " + mm(2*(hub-wall)) + " or less, so that a wall is left", WayOut: "a thinner shaft or a larger hub",
		}
	}
	if b.Form == "keyway" && b.KeyWidth >= b.Diameter {
		return &Fault{Path: path + ".keyway_width", What: fmt.Sprintf("a keyway of %s is wider than the bore, %s", mm(b.KeyWidth), mm(b.Diameter)), Allowed: "about a third of the bore"}
	}
	if b.Form == "flat" && b.FlatDepth >= b.Diameter/2 {
		return &Fault{Path: path + ".flat_depth", What: fmt.Sprintf("a flat %s deep takes half of the bore of %s", mm(b.FlatDepth), mm(b.Diameter)), Allowed: "about a tenth of the bore"}
	}
	if left := hub - b.Reach(); left < wall {
		return &Fault{
			Path: path + ".bore", What: fmt.Sprintf("between bore and hub %s are left at the thinnest", mm(left)), Allowed: "the process's least wall, " + mm(wall),
			WayOut: "a thinner shaft, a shallower keyway or a larger hub",
		}
	}
	return nil
}

// Impeller is the rotor: blades on a hub with a nose, and a bore.
type Impeller struct {
	Row        Row
	Front      float64 // where the hub begins behind its nose
	Rear       float64 // where the hub ends
	NoseLength float64
	NoseRadius float64 // of the flat at its front
	Bore       Bore
	LeastWall  float64
	Hole       float64 // what holes are made wider by, on the diameter
}

// Flange is a flange with a circle of bolts.
type Flange struct {
	Radius, Thickness float64
	BoltCircle        float64 // radius
	Bolts             int
	BoltHole          float64 // diameter
}

// Stator is the row behind the impeller: blades between hub and outer ring, a cone behind the hub, flanges on the ring.
type Stator struct {
	Row         Row
	Front, Rear float64
	ConeLength  float64
	ConeRadius  float64 // where the cone ends
	Wall        float64
	Flange      Flange
	Hole        float64
}

// Duct is the casing that the impeller turns in.
type Duct struct {
	Front, Rear float64
	Inner       Wall
	Wall        float64
	Flange      Flange
	Hole        float64
}

// Nozzle leads the water from the stator to the jet: a straight entry with the tap of the coolant, a contraction and a straight land.
type Nozzle struct {
	Front, Length    float64
	Inlet, Outlet    float64 // radii
	Entry, Land      float64 // lengths
	Wall             float64
	Flange           Flange
	TapBore, TapBoss float64 // diameters; no tap without a bore
	TapHeight        float64 // of the boss above the wall
	Hole             float64
}

// gapTolerance is how far the facets of tips, casing and bore may leave their circles: the gap between tips and casing, and the play of a shaft, are smaller
// than a chord tolerance that does for the rest.
const gapTolerance = 4e-6

const margin = 1e-3 // m of wall that is left before and behind a blade's root

// zeroTolerance is the fault of a chord tolerance that no mesh can have.
func zeroTolerance(tolerance float64) *Fault {
	if tolerance >= 1e-6 && tolerance <= 2e-3 {
		return nil
	}
	return &Fault{Path: "process.chord_tolerance", What: fmt.Sprintf("a chord tolerance of %s", mm(tolerance)), Allowed: "0.001 to 2 mm", WayOut: "0.02 mm is finer than a printer's layer"}
}

// fits tells whether a row's outlines lie within a wall with a margin, and the wall is straight there.
func (r *Row) fits(loop []cylindrical, low, high float64, on, longer string) *Fault {
	a, b := extent(loop)
	const near = 5e-5 // an outline of more points reaches a little further
	if a < low+margin-near || b > high-margin+near {
		return &Fault{
			Path: longer, What: fmt.Sprintf("the blades of the %s stand from %s to %s on its %s, which reaches from %s to %s", r.Name, mm(a), mm(b), on, mm(low), mm(high)),
			Allowed: fmt.Sprintf("from %s to %s or more, a millimetre beyond the blades", mm(a-margin), mm(b+margin)), WayOut: "lengthen " + longer + ", shorten the chord there, or move the row",
		}
	}
	return nil
}

// anglesFor chooses the angles that a body is cut at.
func anglesFor(radius, tolerance float64, blades int, narrow float64, rings []*ring) lines {
	n := sidesFor(radius, tolerance)
	if narrow > 0 {
		n = max(n, int(math.Ceil(4*math.Pi/narrow)))
	}
	if blades > 0 {
		n = (n + blades - 1) / blades * blades
	}
	return bestPhase(n, rings)
}

// loopRing is an outline before it is laid, to choose angles by.
func loopRing(loop []cylindrical) *ring {
	out := &ring{}
	for _, c := range loop {
		out.at = append(out.at, corner{u: c.theta, v: c.z})
	}
	return out
}

// outline is the hub's outline: bore, rear, blades' wall, nose. It tells after which corner the blades' wall stands.
func (p *Impeller) outline(tolerance float64) (list []spin, wall int) {
	bore := p.Bore
	bore.Diameter += p.Hole
	r := 0.0
	var contour []polarPoint
	if p.Bore.Diameter > 0 {
		r, contour = bore.Diameter/2, bore.contour(min(tolerance, gapTolerance))
	}
	tip := p.Front - p.NoseLength
	list = append(list, spin{z: tip, r: r, contour: contour}, spin{z: p.Rear, r: r, contour: contour})
	rear, _ := p.Row.Hub.At(p.Rear)
	front, _ := p.Row.Hub.At(p.Front)
	list = append(list, spin{z: p.Rear, r: rear})
	kinks := p.Row.Hub.within(p.Front, p.Rear)
	for i := len(kinks) - 1; i >= 0; i-- {
		x, _ := p.Row.Hub.At(kinks[i])
		list = append(list, spin{z: kinks[i], r: x})
	}
	list = append(list, spin{z: p.Front, r: front})
	// a quarter of an ellipse
	n := max(4, sidesFor(max(p.NoseLength, front), tolerance)/4)
	for i := 1; i < n; i++ {
		sin, cos := math.Sincos(math.Pi / 2 * float64(i) / float64(n))
		list = append(list, spin{z: p.Front - p.NoseLength*sin, r: p.NoseRadius + (front-p.NoseRadius)*cos})
	}
	if p.NoseLength > 0 && (p.NoseRadius > 0 || p.Bore.Diameter > 0) {
		list = append(list, spin{z: tip, r: p.NoseRadius})
	}
	return list, 2
}

// Faults tells what is wrong with the impeller before it is made.
func (p *Impeller) fault() *Fault {
	hub := math.Inf(1)
	for _, z := range []float64{p.Front, p.Rear} {
		r, _ := p.Row.Hub.At(z)
		hub = min(hub, r)
	}
	if f := p.Bore.fault("impeller", hub, p.LeastWall); f != nil {
		return f
	}
	if front, _ := p.Row.Hub.At(p.Front); p.NoseRadius > front {
		f := &Fault{Path: "impeller.nose_radius", What: fmt.Sprintf("the nose, %s across at its front, is wider than the hub, %s", mm(2*p.NoseRadius), mm(2*front)), Allowed: "a nose no wider than the hub"}
		if p.Bore.Form == "clamp" {
			f.WayOut = "a thinner collar of the clamp, a thinner shaft or a larger hub"
		}
		return f
	}
	if b := &p.Bore; b.Diameter > 0 && b.Form == "clamp" {
		if b.ClampWall < p.LeastWall {
			return &Fault{Path: "impeller.clamp_wall", What: fmt.Sprintf("the clamp's collar has a wall of %s", mm(b.ClampWall)), Allowed: "the process's least wall, " + mm(p.LeastWall) + ", or more"}
		}
		if b.ClampSlot > b.Diameter/4 {
			return &Fault{Path: "impeller.clamp_slot", What: fmt.Sprintf("%d slots of %s leave too little of a collar on a bore of %s", clampSlots, mm(b.ClampSlot), mm(b.Diameter)), Allowed: mm(b.Diameter/4) + " or less"}
		}
		if room := p.NoseRadius - b.Diameter/2 - b.ClampWall; room < 0.1e-3 {
			return &Fault{Path: "impeller.nose_radius", What: fmt.Sprintf("the clamp's collar, %s across, stands on a nose of %s", mm(b.Diameter+2*b.ClampWall), mm(2*p.NoseRadius)), Allowed: "a nose that is wider by 0.2 mm or more", WayOut: "a blunter nose, a thinner collar or a larger hub"}
		}
	}
	if p.Bore.Diameter > 0 && p.NoseRadius-p.Bore.Reach() < p.LeastWall*(1-1e-9) {
		return &Fault{Path: "impeller.nose_radius", What: fmt.Sprintf("the nose ends at a radius of %s round a bore that reaches to %s", mm(p.NoseRadius), mm(p.Bore.Reach())), Allowed: mm(p.Bore.Reach()+p.LeastWall) + " or more", WayOut: "a blunter nose"}
	}
	return nil
}

// Mesh makes the impeller as one closed mesh.
func (p *Impeller) Mesh(tolerance float64) (*Mesh, *Fault) {
	for _, f := range []*Fault{zeroTolerance(tolerance), p.fault()} {
		if f != nil {
			return nil, f
		}
	}
	s, f := p.Row.cut(tolerance)
	if f != nil {
		return nil, f
	}
	root, tip := s.loop(0, 0), s.loop(len(s.sections)-1, 0)
	if f := p.Row.fits(root, p.Front, p.Rear, "hub", "impeller.length"); f != nil {
		return nil, f
	}
	if f := p.Row.apart(s); f != nil {
		return nil, f
	}
	outline, wall := p.outline(tolerance)
	low, high := extent(tip)
	cap := wallSpins(p.Row.Tip, low-margin, high+margin)
	wall, end := within(outline, wall, root)
	most := outer(p.Row.Tip, low-margin, high+margin)
	b := &body{l: anglesFor(most, min(tolerance, gapTolerance), p.Row.Blades, min(angular(root), angular(tip)), []*ring{loopRing(root), loopRing(tip), {at: corners(outline[0].contour)}})}
	hub, tips := surfaceOf(outline[wall:end+1]...), surfaceOf(cap...)
	var holes []*ring
	for i := range p.Row.Blades {
		turn := 2 * math.Pi * float64(i) / float64(p.Row.Blades)
		h := b.hole(s.loop(0, turn), hub)
		c := b.hole(s.loop(len(s.sections)-1, turn), tips)
		b.skin(h, s.rows(turn), c)
		if ok, _ := b.l.fill(&b.m, tips, []*ring{c}, false); !ok {
			return nil, &Fault{Path: "impeller.thickness", What: "the tip of the impeller's blade crosses itself", Allowed: "a section whose outline does not"}
		}
		holes = append(holes, h)
	}
	if p.Bore.Diameter > 0 && p.Bore.Form == "clamp" {
		c := &outline[0]
		c.made = b.contourRing(c.z, c.contour)
		bore := p.Bore
		bore.Diameter += p.Hole
		if c.face = b.clamp(&bore, c.made, c.z, min(tolerance, gapTolerance)); c.face == nil {
			return nil, &Fault{Path: "impeller.clamp_slot", What: "the fingers of the clamp have no sound shape", Allowed: "narrower slots or a thicker collar"}
		}
	}
	if edge, at := b.revolve(outline, map[int][]*ring{wall: holes}, map[int]int{wall: end}); edge >= 0 {
		return nil, &Fault{Path: "impeller.blades", What: fmt.Sprintf("the blades cross one another or the hub's end at %s along the axis", mm(at)), Allowed: "a passage between any two"}
	}
	return &b.m, nil
}

// rows are the sections between hub and tip.
func (s *stack) rows(turn float64) [][]Vec {
	var out [][]Vec
	for k := 1; k < len(s.sections)-1; k++ {
		var row []Vec
		for _, c := range s.loop(k, turn) {
			row = append(row, c.space())
		}
		out = append(out, row)
	}
	return out
}

// corners are a contour's points to choose angles by.
func corners(contour []polarPoint) []corner {
	var out []corner
	for _, p := range contour {
		out = append(out, corner{u: p.theta, v: p.r})
	}
	return out
}

// within finds the corners of an outline, from one on, between which a root stands.
func within(outline []spin, from int, root []cylindrical) (a, b int) {
	low, high := extent(root)
	low, high = low-margin/2, high+margin/2 // an outline near a corner lies on both sides of it
	a, b = from, from+1
	for i := from; i+1 < len(outline); i++ {
		p, q := min(outline[i].z, outline[i+1].z), max(outline[i].z, outline[i+1].z)
		if outline[i].z > outline[i+1].z { // from the rear to the front
			if p <= high && high <= q {
				a = i
			}
			if p <= low && low <= q {
				return a, i + 1
			}
		} else {
			if p <= low && low <= q {
				a = i
			}
			if p <= high && high <= q {
				return a, i + 1
			}
		}
	}
	return a, b
}

// flanged puts flanges on a wall: the outline of the body between the two, outside, from the rear to the front; and which corners
// stand before the faces that bolts go through, from the outside in pairs.
func flanged(inner []spin, outer func(z float64) float64, f Flange, front, rear bool) (list []spin, faces []int) {
	list = append(list, inner...)
	a, b := inner[0].z, inner[len(inner)-1].z
	if rear && f.Thickness > 0 {
		faces = append(faces, len(list)-1)
		list = append(list, spin{z: b, r: f.Radius}, spin{z: b - f.Thickness, r: f.Radius})
		faces = append(faces, len(list)-1)
		list = append(list, spin{z: b - f.Thickness, r: outer(b - f.Thickness)})
	} else {
		list = append(list, spin{z: b, r: outer(b)})
	}
	for i := len(inner) - 2; i > 0; i-- {
		if z := inner[i].z; z > a+f.Thickness && z < b-f.Thickness {
			list = append(list, spin{z: z, r: outer(z)})
		}
	}
	if front && f.Thickness > 0 {
		list = append(list, spin{z: a + f.Thickness, r: outer(a + f.Thickness)})
		faces = append(faces, len(list)-1)
		list = append(list, spin{z: a + f.Thickness, r: f.Radius}, spin{z: a, r: f.Radius})
		faces = append(faces, len(list)-1)
	} else {
		list = append(list, spin{z: a, r: outer(a)})
	}
	return list, faces
}

// fault tells what is wrong with a flange round a body of an outer radius.
func (f *Flange) fault(path string, outer, wall float64) *Fault {
	if f.Thickness == 0 {
		return nil
	}
	low, high := outer+wall+f.BoltHole/2, f.Radius-wall-f.BoltHole/2
	if f.Bolts > 0 && !(f.BoltCircle >= low-1e-9 && f.BoltCircle <= high+1e-9) {
		return &Fault{
			Path: path + ".bolt_circle", What: fmt.Sprintf("bolts of %s on a circle of %s do not fit a flange of %s round a body of %s", mm(f.BoltHole), mm(2*f.BoltCircle), mm(2*f.Radius), mm(2*outer)),
			Allowed: fmt.Sprintf("%s to %s, with a wall of %s on both sides", mm(2*low), mm(2*max(low, high)), mm(wall)), WayOut: "a larger flange or smaller bolts",
		}
	}
	if chord := 2 * f.BoltCircle * math.Sin(math.Pi/float64(max(f.Bolts, 1))); f.Bolts > 1 && chord < f.BoltHole+wall {
		return &Fault{Path: path + ".bolts", What: fmt.Sprintf("%d bolts stand %s apart, with holes of %s", f.Bolts, mm(chord), mm(f.BoltHole)), Allowed: "fewer bolts or a larger circle"}
	}
	return nil
}

// room tells whether a body of a length has room for so many flanges.
func (f *Flange) room(path string, length float64, flanges int) *Fault {
	if need := float64(flanges) * (f.Thickness + margin); f.Thickness > 0 && length < need {
		return &Fault{
			Path: path, What: fmt.Sprintf("%s have no room for flanges of %s", mm(length), mm(f.Thickness)), Allowed: mm(need) + " or more", WayOut: "thinner flanges or a longer part",
		}
	}
	return nil
}

// boltLoops are the bolts' edges in a face, counterclockwise in the plane of angle and radius.
func (f *Flange) boltLoops(hole, tolerance float64) [][]polarPoint {
	r := (f.BoltHole + hole) / 2
	n := max(12, sidesFor(r, tolerance))
	var out [][]polarPoint
	for i := range f.Bolts {
		s, c := math.Sincos(2 * math.Pi * (float64(i) + 0.5) / float64(f.Bolts))
		x, y := f.BoltCircle*c, f.BoltCircle*s
		var loop []polarPoint
		for k := range n {
			s, c := math.Sincos(-2 * math.Pi * float64(k) / float64(n))
			px, py := x+r*c, y+r*s
			loop = append(loop, polarPoint{math.Atan2(y, x) + angleBetween(x, y, px, py), math.Hypot(px, py)})
		}
		out = append(out, loop)
	}
	return out
}

func angleBetween(ax, ay, bx, by float64) float64 { return math.Atan2(ax*by-ay*bx, ax*bx+ay*by) }

// bolts drills a flange's holes between two faces and returns the rings for each.
func (b *body) bolts(loops [][]polarPoint, high, low float64) (top, bottom []*ring) {
	for _, loop := range loops {
		var r [2]*ring
		for i, z := range [2]float64{high, low} {
			r[i] = &ring{}
			for _, p := range loop {
				r[i].at = append(r[i].at, corner{u: p.theta, v: p.r, id: b.m.add(polar(p.r, p.theta, z))})
			}
			b.l.lay(&b.m, r[i], flatFace(z))
		}
		b.tube(r[0], r[1])
		top, bottom = append(top, r[0]), append(bottom, r[1])
	}
	return top, bottom
}

// drill drills the bolts through the flanges of an outline: faces are the corners before their faces, in pairs.
func (b *body) drill(outline []spin, faces []int, loops [][]polarPoint, holes map[int][]*ring) {
	for i := 0; i+1 < len(faces); i += 2 {
		p, q := faces[i], faces[i+1]
		if outline[p].z < outline[q].z {
			p, q = q, p
		}
		top, bottom := b.bolts(loops, outline[p].z, outline[q].z)
		holes[p], holes[q] = top, bottom
	}
}

func boltRings(loops [][]polarPoint) (out []*ring, narrow float64) {
	for _, l := range loops {
		r := &ring{at: corners(l)}
		out = append(out, r)
		low, high := math.Inf(1), math.Inf(-1)
		for _, c := range r.at {
			low, high = min(low, c.u), max(high, c.u)
		}
		narrow = high - low
	}
	return out, narrow
}

// ring is the outline of the stator's outer ring, and after which corner the blades' wall stands.
func (p *Stator) ring() (list []spin, faces []int) {
	inner := wallSpins(p.Row.Tip, p.Front, p.Rear)
	return flanged(inner, func(z float64) float64 { r, _ := p.Row.Tip.At(z); return r + p.Wall }, p.Flange, true, true)
}

// wallSpins are the corners of a wall from one place to another.
func wallSpins(w Wall, from, to float64) []spin {
	var out []spin
	for _, z := range append(append([]float64{from}, w.within(from, to)...), to) {
		r, _ := w.At(z)
		out = append(out, spin{z: z, r: r})
	}
	return out
}

// hub is the outline of the stator's hub with its cone.
func (p *Stator) hub() []spin {
	wall := wallSpins(p.Row.Hub, p.Front, p.Rear)
	list := []spin{{z: p.Front}, {z: p.Rear + p.ConeLength}}
	if p.ConeLength > 0 && p.ConeRadius > 0 {
		list = append(list, spin{z: p.Rear + p.ConeLength, r: p.ConeRadius})
	}
	for i := len(wall) - 1; i >= 0; i-- {
		list = append(list, wall[i])
	}
	return list
}

// outer is the largest radius of a wall between two places.
func outer(w Wall, a, b float64) float64 {
	most := 0.0
	for _, s := range wallSpins(w, a, b) {
		most = max(most, s.r)
	}
	return most
}

// Mesh makes the stator as one closed mesh.
func (p *Stator) Mesh(tolerance float64) (*Mesh, *Fault) {
	for _, f := range []*Fault{zeroTolerance(tolerance), p.Flange.room("stator.length", p.Rear-p.Front, 2), p.Flange.fault("flange", outer(p.Row.Tip, p.Front, p.Rear)+p.Wall, p.Wall/2)} {
		if f != nil {
			return nil, f
		}
	}
	s, f := p.Row.cut(tolerance)
	if f != nil {
		return nil, f
	}
	last := len(s.sections) - 1
	root, tip := s.loop(0, 0), s.loop(last, 0)
	for i, l := range [][]cylindrical{root, tip} {
		if f := p.Row.fits(l, p.Front, p.Rear, [2]string{"hub", "outer ring"}[i], "stator.length"); f != nil {
			return nil, f
		}
	}
	if f := p.Row.apart(s); f != nil {
		return nil, f
	}
	hub := p.hub()
	ringOutline, faces := p.ring()
	wall, end := within(hub, 2, root)
	inner, innerEnd := within(ringOutline, 0, tip)
	loops := p.Flange.boltLoops(p.Hole, tolerance)
	rings, narrow := boltRings(loops)
	least := min(angular(root), angular(tip))
	if narrow > 0 {
		least = min(least, narrow)
	}
	b := &body{l: anglesFor(max(p.Flange.Radius, outer(p.Row.Tip, p.Front, p.Rear)+p.Wall), tolerance, p.Row.Blades, least, append(rings, loopRing(root), loopRing(tip)))}
	on, under := surfaceOf(hub[wall:end+1]...), surfaceOf(ringOutline[inner:innerEnd+1]...)
	var low, high []*ring
	for i := range p.Row.Blades {
		turn := 2 * math.Pi * float64(i) / float64(p.Row.Blades)
		a, c := b.hole(s.loop(0, turn), on), b.hole(s.loop(last, turn), under)
		b.skin(a, s.rows(turn), c)
		low, high = append(low, a), append(high, c)
	}
	crossed := func(at float64) *Fault {
		return &Fault{Path: "stator.blades", What: fmt.Sprintf("the blades cross one another or an end of the stator at %s along the axis", mm(at)), Allowed: "a passage between any two"}
	}
	if edge, at := b.revolve(hub, map[int][]*ring{wall: low}, map[int]int{wall: end}); edge >= 0 {
		return nil, crossed(at)
	}
	holes := map[int][]*ring{inner: high}
	b.drill(ringOutline, faces, loops, holes)
	if edge, at := b.revolve(ringOutline, holes, map[int]int{inner: innerEnd}); edge >= 0 {
		return nil, crossed(at)
	}
	return &b.m, nil
}

// outline is the duct's outline.
func (p *Duct) outline() (list []spin, faces []int) {
	return flanged(wallSpins(p.Inner, p.Front, p.Rear), func(z float64) float64 { r, _ := p.Inner.At(z); return r + p.Wall }, p.Flange, true, true)
}

// Mesh makes the duct as a closed mesh.
func (p *Duct) Mesh(tolerance float64) (*Mesh, *Fault) {
	most := outer(p.Inner, p.Front, p.Rear) + p.Wall
	for _, f := range []*Fault{zeroTolerance(tolerance), p.Flange.room("duct.ahead", p.Rear-p.Front, 2), p.Flange.fault("flange", most, p.Wall/2)} {
		if f != nil {
			return nil, f
		}
	}
	list, faces := p.outline()
	loops := p.Flange.boltLoops(p.Hole, tolerance)
	rings, narrow := boltRings(loops)
	b := &body{l: anglesFor(max(most, p.Flange.Radius), min(tolerance, gapTolerance), 0, narrow, rings)}
	holes := map[int][]*ring{}
	b.drill(list, faces, loops, holes)
	if edge, at := b.revolve(list, holes, nil); edge >= 0 {
		return nil, &Fault{Path: "duct.bolts", What: fmt.Sprintf("the bolts' holes cross at a radius of %s", mm(at)), Allowed: "holes within the flange"}
	}
	return &b.m, nil
}

// bore is the nozzle's inner radius at a way from its front: straight, a cubic without slope at its ends, straight.
//
//	r = r₁ − (r₁ − r₂)·(3x² − 2x³),  x = (z − entry)/(length − entry − land)
//
//	r₁, r₂  radii of inlet and outlet, m
func (p *Nozzle) bore(z float64) float64 {
	x := (z - p.Entry) / (p.Length - p.Entry - p.Land)
	x = min(max(x, 0), 1) // the straight entry and land
	return p.Inlet - (p.Inlet-p.Outlet)*x*x*(3-2*x)
}

// curve are the corners of the nozzle's inner wall.
func (p *Nozzle) curve(tolerance float64) []spin {
	at := func(z float64) Vec { return Vec{p.bore(z), 0, z} }
	good := func(a, b float64) bool {
		for _, x := range [3]float64{0.25, 0.5, 0.75} {
			if apart(at(a+(b-a)*x), at(a), at(b)) > tolerance {
				return false
			}
		}
		return true
	}
	var out []spin
	add := func(z float64) { out = append(out, spin{z: p.Front + z, r: p.bore(z)}) }
	add(0)
	if p.Inlet != p.Outlet {
		for i := range 4 {
			step := (p.Length - p.Entry - p.Land) / 4
			halved(p.Entry+float64(i)*step, p.Entry+float64(i+1)*step, 8, good, add)
		}
	}
	if p.Land > 0 {
		add(p.Length - p.Land)
	}
	add(p.Length)
	return out
}

func (p *Nozzle) fault() *Fault {
	if left := p.Length - p.Entry - p.Land; left <= 0 {
		return &Fault{
			Path: "nozzle.length", What: fmt.Sprintf("a nozzle %s long has no room for a contraction beside an entry of %s and a land of %s", mm(p.Length), mm(p.Entry), mm(p.Land)),
			Allowed: mm(p.Entry+p.Land+math.Abs(p.Inlet-p.Outlet)) + " or more", WayOut: "lengthen the nozzle, or shorten entry or land",
		}
	}
	if p.TapBore > 0 {
		if p.TapBoss < p.TapBore+p.Wall {
			return &Fault{Path: "nozzle.tap_boss", What: fmt.Sprintf("a boss of %s round a tap of %s", mm(p.TapBoss), mm(p.TapBore)), Allowed: mm(p.TapBore+2*p.Wall) + " or more"}
		}
		if need := p.Flange.Thickness + p.TapBoss + 2*margin; p.Entry < need-1e-9 {
			return &Fault{Path: "nozzle.entry", What: fmt.Sprintf("the straight entry of %s has no room for the flange and the boss of the coolant's tap", mm(p.Entry)), Allowed: mm(need) + " or more"}
		}
	}
	if f := p.Flange.room("nozzle.entry", p.Entry, 1); f != nil {
		return f
	}
	return p.Flange.fault("flange", p.Inlet+p.Wall, p.Wall/2)
}

// outline is the nozzle's outline. entry is the corner before the inner wall of the entry, shell the one before the outer.
func (p *Nozzle) outline(tolerance float64) (list []spin, faces []int, entry, shell int) {
	inner := p.curve(tolerance)
	list, faces = flanged(inner, func(z float64) float64 { return p.bore(z-p.Front) + p.Wall }, p.Flange, true, false)
	for i := range list {
		if list[i].z == p.Front+p.Entry && i >= len(inner) {
			shell = i
		}
	}
	return list, faces, 0, shell
}

// tap is the edge of a round hole or boss along the radius, on a cylinder round the axis: counterclockwise in the plane of θ and z.
func tap(z, radius, wall, tolerance float64) []cylindrical {
	n := max(12, sidesFor(radius, tolerance))
	var out []cylindrical
	for k := range n {
		s, c := math.Sincos(2 * math.Pi * (float64(k) + 0.5) / float64(n))
		out = append(out, cylindrical{math.Pi/2 + math.Asin(radius*c/wall), z + radius*s, wall})
	}
	return out
}

// Mesh makes the nozzle as a closed mesh.
func (p *Nozzle) Mesh(tolerance float64) (*Mesh, *Fault) {
	for _, f := range []*Fault{zeroTolerance(tolerance), p.fault()} {
		if f != nil {
			return nil, f
		}
	}
	list, faces, entry, shell := p.outline(tolerance)
	loops := p.Flange.boltLoops(p.Hole, tolerance)
	rings, narrow := boltRings(loops)
	if narrow == 0 {
		narrow = math.Inf(1)
	}
	outside := p.Inlet + p.Wall
	z := p.tapPlace()
	var boss, on, through []cylindrical
	if p.TapBore > 0 {
		boss = tap(z, p.TapBoss/2, outside, tolerance)
		through = tap(z, (p.TapBore+p.Hole)/2, p.Inlet, tolerance)
		on = tap(z, (p.TapBore+p.Hole)/2, outside, tolerance)
		narrow = min(narrow, angular(through))
		rings = append(rings, loopRing(boss), loopRing(through))
	}
	if math.IsInf(narrow, 1) {
		narrow = 0
	}
	b := &body{l: anglesFor(max(outside, p.Flange.Radius), tolerance, 0, narrow, rings)}
	holes := map[int][]*ring{}
	b.drill(list, faces, loops, holes)
	if p.TapBore > 0 {
		// outside: the boss; inside: the hole; between them the boss's face and the hole's wall
		outer, inner := b.hole(boss, surfaceOf(list[shell], list[shell+1])), b.hole(through, surfaceOf(list[entry], list[entry+1]))
		holes[shell], holes[entry] = []*ring{outer}, []*ring{inner}
		top := outside + p.TapHeight
		level := func(loop []cylindrical) *ring {
			out := &ring{}
			for _, c := range loop {
				p := c.space()
				out.at = append(out.at, corner{id: b.m.add(Vec{p[0], top, p[2]}), base: true})
			}
			return out
		}
		rim, lip := level(boss), level(on)
		b.skin(outer, nil, rim)
		// the hole's wall looks the other way
		first := len(b.m.Triangles)
		b.skin(inner, nil, lip)
		for i := first; i < len(b.m.Triangles); i++ {
			t := &b.m.Triangles[i]
			t[1], t[2] = t[2], t[1]
		}
		b.annulus(rim, lip)
	}
	if edge, at := b.revolve(list, holes, nil); edge >= 0 {
		return nil, &Fault{Path: "nozzle.tap_boss", What: fmt.Sprintf("holes of the nozzle cross one another at %s", mm(at)), Allowed: "holes apart from one another"}
	}
	return &b.m, nil
}

// annulus fills a flat face between two rings that run counterclockwise about the same middle, the outer one first.
func (b *body) annulus(outer, inner *ring) {
	n, k := len(outer.at), len(inner.at)
	i, j := 0, 0
	for i < n || j < k { // whichever is behind on its way round goes on
		a, c := outer.at[i%n].id, inner.at[j%k].id
		if j == k || i < n && i*k <= j*n {
			b.m.tri(a, outer.at[(i+1)%n].id, c, false)
			i++
		} else {
			b.m.tri(a, inner.at[(j+1)%k].id, c, false)
			j++
		}
	}
}

// Thinnest returns the least wall of the nozzle, square to it, and how far behind its front it is.
func (p *Nozzle) Thinnest() (wall, z float64) {
	wall = math.Inf(1)
	for i := range 401 {
		at := p.Length * float64(i) / 400
		for k := range 401 { // the nearest point outside
			q := p.Length * float64(k) / 400
			if x := math.Hypot(q-at, p.bore(q)+p.Wall-p.bore(at)); x < wall {
				wall, z = x, at
			}
		}
	}
	return wall, z
}
