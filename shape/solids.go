package shape

import (
	"fmt"
	"math"
	"slices"
)

// Points of the true surface that a blade's patches go through.
const (
	boxChord = 33
	boxSpan  = 41
	boxThick = 13
	boxFlare = 8 // steps within the height of a flare
)

// stations are the places of the span that patches go through: even ones, and close ones where the blade flares; as parameters from
// 0 to 1.
func (r *Row) stations(from, to float64) []float64 {
	at := steps(boxSpan)
	hub, _ := r.Hub.At(r.Start)
	tip, _ := r.Tip.At(r.Start)
	if share := r.Flare / (tip - hub); share > 0 {
		step := share / boxFlare
		for h := from; h < 2*share; h += step {
			at = append(at, (h-from)/(to-from))
			if r.FlareTip {
				at = append(at, (1-h-from)/(to-from))
			}
		}
	}
	slices.Sort(at)
	least := 0.3 / boxSpan
	if r.Flare > 0 {
		least = min(least, 0.7*r.Flare/(tip-hub)/(to-from)/boxFlare)
	}
	out := at[:1]
	for _, t := range at[1:] {
		if t-out[len(out)-1] >= least && 1-t >= least {
			out = append(out, t)
		}
	}
	return append(out, 1)
}

// steps are n parameters from 0 to 1.
func steps(n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = float64(i) / float64(n-1)
	}
	return out
}

// Box lays the grids of a blade on its true surface, from one place of the span to another, below 0 and above 1 to run into the
// walls. turn is the angle that the blade is turned by; mirror is for the other hand.
func (r *Row) Box(from, to, turn float64, mirror bool) (Box, *Fault) {
	b := Box{Chord: steps(boxChord), Span: r.stations(from, to), Thickness: steps(boxThick)}
	n, m, l := boxChord-1, len(b.Span)-1, boxThick-1
	grid := func(rows, columns int) [][]Vec {
		g := make([][]Vec, rows)
		for i := range g {
			g[i] = make([]Vec, columns)
		}
		return g
	}
	b.First, b.Second = grid(boxChord, m+1), grid(boxChord, m+1)
	b.Lead, b.Trail = grid(boxThick, m+1), grid(boxThick, m+1)
	for j, t := range b.Span {
		s, fault := r.Section(from + (to-from)*t)
		if fault != nil {
			return b, fault
		}
		space := func(at [2]float64) Vec {
			c := s.place(at[0], at[1])
			c.theta += turn
			p := c.space()
			if mirror {
				p[1] = -p[1]
			}
			return p
		}
		flat := func(piece int, u float64) [2]float64 {
			x, y := s.half.at(piece, u)
			return [2]float64{x, y}
		}
		left := func(i int) [2]float64 { return flat(leftSide, 1-b.Chord[i]) }
		right := func(i int) [2]float64 { return flat(rightSide, b.Chord[i]) }
		lead := func(k int) [2]float64 { return flat(leadingEdge, b.Thickness[k]) }
		trail := func(k int) [2]float64 { return flat(trailingEdge, 1-b.Thickness[k]) }
		for i := range b.Chord {
			b.First[i][j], b.Second[i][j] = space(left(i)), space(right(i))
		}
		for k := range b.Thickness {
			b.Lead[k][j], b.Trail[k][j] = space(lead(k)), space(trail(k))
		}
		if j != 0 && j != m {
			continue
		}
		// the end's face lies on the stream surface between its four borders
		end := grid(boxChord, boxThick)
		line := func(a, c [2]float64, t float64) [2]float64 {
			return [2]float64{a[0] + (c[0]-a[0])*t, a[1] + (c[1]-a[1])*t}
		}
		for i, u := range b.Chord {
			for k, t := range b.Thickness {
				p := line(left(i), right(i), t)
				a, z := lead(k), trail(k)
				a0, z0 := line(left(0), right(0), t), line(left(n), right(n), t)
				for c := range 2 {
					p[c] += (1-u)*(a[c]-a0[c]) + u*(z[c]-z0[c])
				}
				end[i][k] = space(p)
			}
			// borders are met exactly
			end[i][0], end[i][l] = b.First[i][j], b.Second[i][j]
		}
		for k := range b.Thickness {
			end[0][k], end[n][k] = b.Lead[k][j], b.Trail[k][j]
		}
		if j == 0 {
			b.Root = end
		} else {
			b.Tip = end
		}
	}
	return b, nil
}

// blades are a row's blades as solids of their own, which run into hub and, where they stand on it, the ring.
func (r *Row) blades(run float64, mirror bool) ([]Solid, error) {
	hub, _ := r.Hub.At(r.Start)
	tip, _ := r.Tip.At(r.Start)
	from, to := -run/(tip-hub), 1.0
	if r.FlareTip {
		to = 1 + run/(tip-hub)
	}
	var out []Solid
	for i := range r.Blades {
		b, fault := r.Box(from, to, 2*math.Pi*float64(i)/float64(r.Blades), mirror)
		if fault != nil {
			return nil, fault
		}
		s, err := SolidOfGrids(fmt.Sprintf("%s blade %d", r.Name, i+1), b)
		if err != nil {
			return nil, err
		}
		out = append(out, s)
	}
	return out, nil
}

// straight are the pieces of an outline of straight stretches.
func straight(outline []spin) []Piece {
	out := make([]Piece, len(outline))
	for i, c := range outline {
		out[i] = Piece{Z: c.z, R: c.r}
	}
	return out
}

// outline is the bore's outline in the plane; it is symmetric, so that the other hand has the same.
func (b *Bore) outline() []Corner {
	r := b.Diameter / 2
	centre := [2]float64{}
	at := func(theta float64) [2]float64 { return [2]float64{r * math.Cos(theta), r * math.Sin(theta)} }
	switch b.Form {
	case "keyway":
		half, deep := math.Asin(b.KeyWidth/2/r), r+b.KeyDepth
		return []Corner{{At: at(half), Centre: &centre}, {At: at(-half)}, {At: [2]float64{deep, -b.KeyWidth / 2}}, {At: [2]float64{deep, b.KeyWidth / 2}}}
	case "flat":
		half := math.Acos((r - b.FlatDepth) / r)
		return []Corner{{At: at(half), Centre: &centre}, {At: at(-half)}}
	}
	return RoundOpening(centre, r)
}

// Solids makes the impeller as closed solids: the hub, its blades, which run a way into it, and the fingers of a clamp.
func (p *Impeller) Solids(run float64, mirror bool) ([]Solid, error) {
	if f := p.fault(); f != nil {
		return nil, f
	}
	front, _ := p.Row.Hub.At(p.Front)
	tip := p.Front - p.NoseLength
	profile := []Piece{{Z: tip}, {Z: p.Rear}}
	wall := wallSpins(p.Row.Hub, p.Front, p.Rear)
	slices.Reverse(wall)
	profile = append(profile, straight(wall)...)
	if p.NoseLength > 0 {
		nose := Piece{Z: tip, R: p.NoseRadius}
		const n = 24
		for i := 1; i < n; i++ {
			sin, cos := math.Sincos(math.Pi / 2 * float64(i) / n)
			nose.Through = append(nose.Through, [2]float64{p.Front - p.NoseLength*sin, p.NoseRadius + (front-p.NoseRadius)*cos})
		}
		profile = append(profile, nose)
	}
	var holes []Opening
	bore := p.Bore
	bore.Diameter += p.Hole
	if p.Bore.Diameter > 0 {
		holes = append(holes, Opening{Outline: bore.outline(), From: p.Rear, To: tip})
	}
	hub, err := SolidOfRevolution("impeller hub", profile, holes)
	if err != nil {
		return nil, err
	}
	out := []Solid{hub}
	blades, err := p.Row.blades(run, mirror)
	if err != nil {
		return nil, err
	}
	out = append(out, blades...)
	if p.Bore.Diameter > 0 && p.Bore.Form == "clamp" {
		for i := range clampSlots {
			s, err := SolidOfGrids(fmt.Sprintf("impeller clamp finger %d", i+1), bore.fingerBox(i, tip+run, tip-bore.ClampLength))
			if err != nil {
				return nil, err
			}
			out = append(out, s)
		}
	}
	return out, nil
}

// fingerBox lays the grids of a clamp's finger: chord round the axis, span along it, thickness along the radius.
func (b *Bore) fingerBox(i int, from, to float64) Box {
	out := Box{Chord: steps(33), Span: steps(2), Thickness: steps(5)}
	inner := b.Diameter / 2
	outer := inner + b.ClampWall
	point := func(c, s, t float64) Vec {
		r := inner + (outer-inner)*t
		a, e := b.finger(i, r)
		return polar(r, a+(e-a)*c, from+(to-from)*s)
	}
	grid := func(u, v []float64, at func(u, v float64) Vec) [][]Vec {
		g := make([][]Vec, len(u))
		for i, x := range u {
			for _, y := range v {
				g[i] = append(g[i], at(x, y))
			}
		}
		return g
	}
	out.First = grid(out.Chord, out.Span, func(c, s float64) Vec { return point(c, s, 0) })
	out.Second = grid(out.Chord, out.Span, func(c, s float64) Vec { return point(c, s, 1) })
	out.Lead = grid(out.Thickness, out.Span, func(t, s float64) Vec { return point(0, s, t) })
	out.Trail = grid(out.Thickness, out.Span, func(t, s float64) Vec { return point(1, s, t) })
	out.Root = grid(out.Chord, out.Thickness, func(c, t float64) Vec { return point(c, 0, t) })
	out.Tip = grid(out.Chord, out.Thickness, func(c, t float64) Vec { return point(c, 1, t) })
	return out
}

// openings are a flange's bolt holes between the faces of an outline.
func (f *Flange) openings(outline []spin, faces []int, hole float64) []Opening {
	var out []Opening
	for i := 0; i+1 < len(faces); i += 2 {
		a, b := outline[faces[i]].z, outline[faces[i+1]].z
		for k := range f.Bolts {
			s, c := math.Sincos(2 * math.Pi * (float64(k) + 0.5) / float64(f.Bolts))
			out = append(out, Opening{Outline: RoundOpening([2]float64{f.BoltCircle * c, f.BoltCircle * s}, (f.BoltHole+hole)/2), From: max(a, b), To: min(a, b)})
		}
	}
	return out
}

// Solids makes the stator as closed solids: the hub with its cone, the ring, and the blades, which run a way into both.
func (p *Stator) Solids(run float64, mirror bool) ([]Solid, error) {
	hub, err := SolidOfRevolution("stator hub", straight(p.hub()), nil)
	if err != nil {
		return nil, err
	}
	outline, faces := p.ring()
	ring, err := SolidOfRevolution("stator ring", straight(outline), p.Flange.openings(outline, faces, p.Hole))
	if err != nil {
		return nil, err
	}
	blades, err := p.Row.blades(run, mirror)
	if err != nil {
		return nil, err
	}
	return append([]Solid{hub, ring}, blades...), nil
}

// Solids makes the casing as a closed solid.
func (p *Duct) Solids(_ float64, _ bool) ([]Solid, error) {
	outline, faces := p.outline()
	s, err := SolidOfRevolution("casing", straight(outline), p.Flange.openings(outline, faces, p.Hole))
	return []Solid{s}, err
}

// Solids makes the nozzle as a closed solid.
func (p *Nozzle) Solids(_ float64, _ bool) ([]Solid, error) {
	if f := p.fault(); f != nil {
		return nil, f
	}
	end, land := p.Front+p.Length, p.Front+p.Length-p.Land
	entry := p.Front + p.Entry
	curve := func(from, to, wall float64) Piece {
		out := Piece{Z: to, R: p.bore(to-p.Front) + wall}
		const n = 40
		for i := 1; i < n; i++ {
			z := from + (to-from)*float64(i)/n
			out.Through = append(out.Through, [2]float64{z, p.bore(z-p.Front) + wall})
		}
		return out
	}
	list := []Piece{{Z: p.Front, R: p.Inlet}, {Z: entry, R: p.Inlet}, curve(entry, land, 0)}
	if p.Land > 0 {
		list = append(list, Piece{Z: end, R: p.Outlet})
	}
	list = append(list, Piece{Z: end, R: p.Outlet + p.Wall})
	if p.Land > 0 {
		list = append(list, Piece{Z: land, R: p.Outlet + p.Wall})
	}
	list = append(list, curve(land, entry, p.Wall))
	f := p.Flange
	if f.Thickness > 0 {
		list = append(list, Piece{Z: p.Front + f.Thickness, R: p.Inlet + p.Wall}, Piece{Z: p.Front + f.Thickness, R: f.Radius}, Piece{Z: p.Front, R: f.Radius})
	} else {
		list = append(list, Piece{Z: p.Front, R: p.Inlet + p.Wall})
	}
	var holes []Opening
	if f.Thickness > 0 {
		outline := []spin{{z: p.Front}, {z: p.Front + f.Thickness}}
		holes = f.openings(outline, []int{0, 1}, p.Hole)
	}
	s, err := SolidOfRevolution("nozzle", list, holes)
	if err != nil {
		return nil, err
	}
	if p.TapBore > 0 {
		if err := s.tap(p.tapPlace(), p.TapBoss/2, (p.TapBore+p.Hole)/2, p.Inlet, p.Inlet+p.Wall, p.Inlet+p.Wall+p.TapHeight); err != nil {
			return nil, err
		}
	}
	return []Solid{s}, nil
}

// tapPlace is where the tap's axis stands along the axis of the drive.
func (p *Nozzle) tapPlace() float64 { return p.Front + p.Flange.Thickness + margin + p.TapBoss/2 }

// tap puts a boss with a hole through the wall on a body of revolution, along y at z: it stands on the cylinder of radius outer and reaches
// up to top, the hole goes through to the cylinder of radius inner.
func (s *Solid) tap(z, boss, bore, inner, outer, top float64) error {
	wall := func(radius float64, outward bool) (int, error) {
		for i := range s.faces {
			f := &s.faces[i]
			if f.cylinder == nil || f.outward != outward || math.Abs(f.cylinder.radius-radius) > 1e-12 || f.cylinder.axis[2] == 0 {
				continue
			}
			low, high, up := math.Inf(1), math.Inf(-1), false
			for _, u := range f.loops[0] {
				e := s.edges[u.edge]
				for _, v := range [2]int{e.from, e.to} {
					low, high = min(low, s.vertices[v][2]), max(high, s.vertices[v][2])
				}
				if c := e.circle; c != nil { // the middle of the arc lies on the side of y
					up = up || c.axis.Cross(c.towards)[1] > 0
				}
			}
			if up && low < z-boss && high > z+boss {
				return i, nil
			}
		}
		return 0, fmt.Errorf("no wall of a radius of %s stands round the tap at %s", mm(radius), mm(z))
	}
	shell, err := wall(outer, true)
	if err != nil {
		return err
	}
	lining, err := wall(inner, false)
	if err != nil {
		return err
	}
	// a rim runs counterclockwise seen from above, where y comes toward the eye: in z and x
	rim := func(radius float64, height func(x float64) float64, flat bool) (edges, ends [2]int) {
		at := func(phi float64) Vec {
			sin, cos := math.Sincos(phi)
			return Vec{radius * sin, height(radius * sin), z + radius*cos}
		}
		ends[0], ends[1] = s.vertex(at(0)), s.vertex(at(math.Pi))
		for k := range 2 {
			e := edge{from: ends[k], to: ends[1-k]}
			if flat {
				sign := float64(1 - 2*k)
				e.circle = &circle{Vec{0, height(0), z}, Vec{0, 1, 0}, Vec{0, 0, sign}, radius}
			} else {
				const n = 32
				var points []Vec
				for i := range n + 1 {
					points = append(points, at(math.Pi*(float64(k)+float64(i)/n)))
				}
				points[0], points[n] = s.vertices[ends[k]], s.vertices[ends[1-k]]
				c, failed := InterpolateCurve(points, steps(n+1))
				if failed != nil {
					err = failed
				}
				e.spline = &c
			}
			edges[k] = s.edge(e)
		}
		return edges, ends
	}
	on := func(r float64) func(float64) float64 {
		return func(x float64) float64 { return math.Sqrt(r*r - x*x) }
	}
	level := func(float64) float64 { return top }
	foot, footEnds := rim(boss, on(outer), false)
	crown, crownEnds := rim(boss, level, true)
	mouth, mouthEnds := rim(bore, level, true)
	throat, throatEnds := rim(bore, on(inner), false)
	if err != nil {
		return err
	}
	forward := func(e [2]int) []use { return []use{{e[0], false}, {e[1], false}} }
	sleeve := func(radius float64, low, lowEnds, high, highEnds [2]int, outward bool) {
		var post [2]int
		for k := range 2 {
			post[k] = s.edge(edge{from: lowEnds[k], to: highEnds[k]})
		}
		for k := range 2 {
			loop := []use{{low[k], false}, {post[1-k], false}, {high[k], true}, {post[k], true}}
			if !outward {
				loop = reversed(loop)
			}
			s.faces = append(s.faces, face{cylinder: &circle{Vec{0, 0, z}, Vec{0, 1, 0}, Vec{0, 0, 1}, radius}, outward: outward, loops: [][]use{loop}})
		}
	}
	sleeve(boss, foot, footEnds, crown, crownEnds, true)
	sleeve(bore, throat, throatEnds, mouth, mouthEnds, false)
	s.faces = append(s.faces, face{plane: &frame{Vec{0, top, z}, Vec{0, 1, 0}, Vec{0, 0, 1}}, outward: true, loops: [][]use{forward(crown), reversed(forward(mouth))}})
	// seen from outside a hole in the shell runs clockwise; the lining is seen from below
	s.faces[shell].loops = append(s.faces[shell].loops, reversed(forward(foot)))
	s.faces[lining].loops = append(s.faces[lining].loops, forward(throat))
	return nil
}
