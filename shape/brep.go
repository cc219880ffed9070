package shape

import (
	"errors"
	"fmt"
	"math"
)

// Solid is a closed body bounded by faces that meet in edges, as CAD programs hold it. It is made by SolidOfGrids and
// SolidOfRevolution and written by WriteSTEP.
type Solid struct {
	Name     string
	vertices []Vec
	edges    []edge
	faces    []face
}

// edge runs along its curve from one vertex to another: straight, round an axis, or along a spline.
type edge struct {
	from, to int
	circle   *circle
	spline   *Curve
}

// circle runs round its axis by the right hand.
type circle struct {
	centre, axis, towards Vec // towards: from the centre, where the angle is zero
	radius                float64
}

// face lies on its surface; its loops run counter-clockwise seen from outside, the outer one first.
type face struct {
	plane    *frame
	cylinder *circle // a circle of it
	cone     *circle // its circle at the narrower end, with
	widening float64 // the half angle by which it widens along the axis
	turned   *Curve  // swept round the z axis
	patch    *Patch
	outward  bool // the surface's own normal points out of the body
	loops    [][]use
}

type frame struct{ origin, normal, towards Vec }

// use is an edge run through from its beginning to its end, or backwards.
type use struct {
	edge int
	back bool
}

func (s *Solid) vertex(p Vec) int {
	s.vertices = append(s.vertices, p)
	return len(s.vertices) - 1
}

func (s *Solid) edge(e edge) int {
	s.edges = append(s.edges, e)
	return len(s.edges) - 1
}

// Box are the six faces of a body with eight corners, each as a grid of points. First and Second are the two large sides, indexed by
// [chord][span]; Lead and Trail join them where the chord begins and ends, [thickness][span], thickness from First to Second; Root
// and Tip where the span begins and ends, [chord][thickness]. Grids that meet share their border points. Chord, Span and Thickness are
// the parameters of the points, ascending from 0 to 1.
type Box struct {
	First, Second, Lead, Trail, Root, Tip [][]Vec
	Chord, Span, Thickness                []float64
}

// SolidOfGrids joins six interpolated patches to a body, a blade for instance. Grids that do not meet are an error that says where.
func SolidOfGrids(name string, b Box) (Solid, error) {
	s := Solid{Name: name}
	n, m, l := len(b.Chord)-1, len(b.Span)-1, len(b.Thickness)-1
	if n < 1 || m < 1 || l < 1 {
		return s, fmt.Errorf("%s: a body of grids needs two points or more each way", name)
	}
	sides := []struct {
		name string
		grid [][]Vec
		u, v []float64
	}{
		{"first side", b.First, b.Chord, b.Span},
		{"second side", b.Second, b.Chord, b.Span},
		{"leading edge", b.Lead, b.Thickness, b.Span},
		{"trailing edge", b.Trail, b.Thickness, b.Span},
		{"root", b.Root, b.Chord, b.Thickness},
		{"tip", b.Tip, b.Chord, b.Thickness},
	}
	patches := make([]Patch, len(sides))
	size := 0.0
	for i, k := range sides {
		var err error
		if patches[i], err = InterpolatePatch(k.grid, k.u, k.v); err != nil {
			return s, fmt.Errorf("%s, %s: %w", name, k.name, err)
		}
		size = math.Max(size, k.grid[0][0].Minus(k.grid[len(k.grid)-1][len(k.grid[0])-1]).Norm())
	}
	meet := func(what string, a, b Vec) error {
		if d := a.Minus(b).Norm(); !(d <= 1e-9*size) {
			return fmt.Errorf("%s: the grids are %.3g mm apart at the %s", name, 1e3*d, what)
		}
		return nil
	}
	var err error
	for i := range n + 1 {
		err = errors.Join(err, meet("root of the first side", b.First[i][0], b.Root[i][0]), meet("root of the second side", b.Second[i][0], b.Root[i][l]),
			meet("tip of the first side", b.First[i][m], b.Tip[i][0]), meet("tip of the second side", b.Second[i][m], b.Tip[i][l]))
	}
	for j := range m + 1 {
		err = errors.Join(err, meet("leading edge of the first side", b.First[0][j], b.Lead[0][j]), meet("leading edge of the second side", b.Second[0][j], b.Lead[l][j]),
			meet("trailing edge of the first side", b.First[n][j], b.Trail[0][j]), meet("trailing edge of the second side", b.Second[n][j], b.Trail[l][j]))
	}
	for k := range l + 1 {
		err = errors.Join(err, meet("leading edge of the root", b.Lead[k][0], b.Root[0][k]), meet("leading edge of the tip", b.Lead[k][m], b.Tip[0][k]),
			meet("trailing edge of the root", b.Trail[k][0], b.Root[n][k]), meet("trailing edge of the tip", b.Trail[k][m], b.Tip[n][k]))
	}
	if err != nil {
		return s, err
	}
	var corner [2][2][2]int // [chord][span][thickness]
	for i := range 2 {
		for j := range 2 {
			corner[i][j][0], corner[i][j][1] = s.vertex(b.First[i*n][j*m]), s.vertex(b.Second[i*n][j*m])
		}
	}
	along := func(from, to int, points []Vec, at []float64) int {
		c, failed := InterpolateCurve(points, at)
		err = errors.Join(err, failed)
		return s.edge(edge{from: from, to: to, spline: &c})
	}
	columns := func(g [][]Vec, j int) []Vec { return turned(g)[j] }
	var chord, span, thick [2][2]int // [span][thickness], [chord][thickness], [chord][span]
	for a := range 2 {
		large := [][][]Vec{b.First, b.Second}[a]
		narrow := [][][]Vec{b.Lead, b.Trail}[a]
		for c := range 2 {
			chord[c][a] = along(corner[0][c][a], corner[1][c][a], columns(large, c*m), b.Chord)
			span[c][a] = along(corner[c][0][a], corner[c][1][a], large[c*n], b.Span)
			thick[a][c] = along(corner[a][c][0], corner[a][c][1], columns(narrow, c*m), b.Thickness)
		}
	}
	if err != nil {
		return s, err
	}
	middle := func(i int) Vec { return patches[i].At(0.5, 0.5) }
	add := func(i int, across Vec, bottom, right, top, left int) {
		u, v := patches[i].slopes(0.5, 0.5)
		out := u.Cross(v).Dot(across) > 0
		loop := []use{{bottom, false}, {right, false}, {top, true}, {left, true}}
		if !out {
			loop = reversed(loop)
		}
		s.faces = append(s.faces, face{patch: &patches[i], outward: out, loops: [][]use{loop}})
	}
	for a := range 2 {
		sign := float64(1 - 2*a)
		add(a, middle(0).Minus(middle(1)).Times(sign), chord[0][a], span[1][a], chord[1][a], span[0][a])
		add(2+a, middle(2).Minus(middle(3)).Times(sign), thick[a][0], span[a][1], thick[a][1], span[a][0])
		add(4+a, middle(4).Minus(middle(5)).Times(sign), chord[a][0], thick[1][a], chord[a][1], thick[0][a])
	}
	return s, nil
}

func reversed(loop []use) []use {
	out := make([]use, len(loop))
	for i, u := range loop {
		out[len(loop)-1-i] = use{u.edge, !u.back}
	}
	return out
}

// Piece is a stretch of the profile of a body of revolution from the end of the one before to a point: straight, or through further
// points as a smooth curve.
type Piece struct {
	Z, R    float64      // its end, m
	Through [][2]float64 // points z, r between, in order; none for a straight one
}

// Opening is a hole along the axis, as wide at its bottom as at its mouth: a bore, with a keyway or a flat where it has one, or a
// bolt hole. Its outline runs counter-clockwise seen from behind, from corner to corner, each stretch straight or, with a centre, an arc.
type Opening struct {
	Outline []Corner
	From    float64 // z of the flat face that it opens in
	To      float64 // z of the flat face where it comes out; where there is none it ends there with a flat bottom
}

// Corner of an outline, and what leads from it to the next: a straight line, or an arc about Centre, counter-clockwise unless Back.
type Corner struct {
	At     [2]float64
	Centre *[2]float64
	Back   bool
}

// RoundOpening is the outline of a round hole.
func RoundOpening(centre [2]float64, radius float64) []Corner {
	return []Corner{{At: [2]float64{centre[0] + radius, centre[1]}, Centre: &centre}, {At: [2]float64{centre[0] - radius, centre[1]}, Centre: &centre}}
}

// SolidOfRevolution sweeps a closed profile round the z axis and opens holes in it. The profile lies in z and r ≥ 0, runs round the
// material either way, and ends where it began.
func SolidOfRevolution(name string, profile []Piece, holes []Opening) (Solid, error) {
	s := Solid{Name: name}
	n := len(profile)
	if n < 3 {
		return s, fmt.Errorf("%s: a profile of %d pieces encloses nothing", name, n)
	}
	area := 0.0
	last := profile[n-1]
	z, r := last.Z, last.R
	for i, p := range profile {
		for _, q := range append(append([][2]float64{}, p.Through...), [2]float64{p.Z, p.R}) {
			if !(q[1] >= 0) || math.IsInf(q[1], 0) || math.IsNaN(q[0]) || math.IsInf(q[0], 0) {
				return s, fmt.Errorf("%s: piece %d of the profile runs to z %v mm, r %v mm", name, i+1, 1e3*q[0], 1e3*q[1])
			}
			area += z*q[1] - q[0]*r
			z, r = q[0], q[1]
		}
	}
	if area == 0 {
		return s, fmt.Errorf("%s: the profile encloses nothing", name)
	}
	if area < 0 { // turned so that the material lies to the left
		back := make([]Piece, n)
		for i, p := range profile {
			before := profile[(i+n-1)%n]
			q := Piece{Z: before.Z, R: before.R}
			for j := len(p.Through) - 1; j >= 0; j-- {
				q.Through = append(q.Through, p.Through[j])
			}
			back[n-1-i] = q
		}
		profile = back
	}
	// the two half circles of each corner of the profile, or the one point on the axis
	type ringOf struct{ vertex, half [2]int }
	rings := make([]ringOf, n)
	for i, p := range profile {
		if p.R == 0 {
			v := s.vertex(Vec{0, 0, p.Z})
			rings[i] = ringOf{vertex: [2]int{v, v}, half: [2]int{-1, -1}}
			continue
		}
		rings[i].vertex = [2]int{s.vertex(Vec{p.R, 0, p.Z}), s.vertex(Vec{-p.R, 0, p.Z})}
		for k := range 2 {
			rings[i].half[k] = s.edge(edge{from: rings[i].vertex[k], to: rings[i].vertex[1-k], circle: &circle{Vec{0, 0, p.Z}, Vec{0, 0, 1}, Vec{1, 0, 0}, p.R}})
		}
	}
	flats := map[float64][]int{} // faces square to the axis, by z
	for i, p := range profile {
		before := profile[(i+n-1)%n]
		a, b := rings[(i+n-1)%n], rings[i]
		dz, dr := p.Z-before.Z, p.R-before.R
		straight := len(p.Through) == 0
		switch {
		case straight && dz == 0 && dr == 0:
			return s, fmt.Errorf("%s: piece %d of the profile has no length", name, i+1)
		case straight && p.R == 0 && before.R == 0:
			continue
		case straight && dz == 0:
			up := 1.0
			if dr < 0 {
				up = -1
			}
			f := face{plane: &frame{Vec{0, 0, p.Z}, Vec{0, 0, up}, Vec{1, 0, 0}}, outward: true}
			outer, inner := b, a
			if dr < 0 {
				outer, inner = a, b
			}
			whole := func(r ringOf, forward bool) []use {
				if forward {
					return []use{{r.half[0], false}, {r.half[1], false}}
				}
				return []use{{r.half[1], true}, {r.half[0], true}}
			}
			f.loops = append(f.loops, whole(outer, up > 0))
			if inner.half[0] >= 0 {
				f.loops = append(f.loops, whole(inner, up < 0))
			}
			flats[p.Z] = append(flats[p.Z], len(s.faces))
			s.faces = append(s.faces, f)
			continue
		}
		// meridians at the angles 0 and π
		var meridian [2]int
		var curve *Curve
		for k := range 2 {
			e := edge{from: a.vertex[k], to: b.vertex[k]}
			if !straight {
				points := make([]Vec, 0, len(p.Through)+2)
				sign := float64(1 - 2*k)
				for _, q := range append(append([][2]float64{{before.Z, before.R}}, p.Through...), [2]float64{p.Z, p.R}) {
					points = append(points, Vec{sign * q[1], 0, q[0]})
				}
				c, err := InterpolateCurve(points, chordal(points))
				if err != nil {
					return s, fmt.Errorf("%s: piece %d of the profile: %w", name, i+1, err)
				}
				e.spline = &c
				if k == 0 {
					curve = &c
				}
			}
			meridian[k] = s.edge(e)
		}
		for k := range 2 {
			var f face
			switch {
			case curve != nil:
				f.turned, f.outward = curve, false
			case dr == 0:
				f.cylinder, f.outward = &circle{Vec{0, 0, before.Z}, Vec{0, 0, 1}, Vec{1, 0, 0}, p.R}, dz < 0
			default:
				narrow, along := before, math.Copysign(1, dz)
				if dr < 0 {
					narrow, along = p, -along
				}
				f.cone, f.widening, f.outward = &circle{Vec{0, 0, narrow.Z}, Vec{0, 0, along}, Vec{1, 0, 0}, narrow.R}, math.Atan2(math.Abs(dr), math.Abs(dz)), dz < 0
			}
			var loop []use
			loop = append(loop, use{meridian[k], false})
			if b.half[k] >= 0 {
				loop = append(loop, use{b.half[k], false})
			}
			loop = append(loop, use{meridian[1-k], true})
			if a.half[k] >= 0 {
				loop = append(loop, use{a.half[k], true})
			}
			f.loops = [][]use{loop}
			s.faces = append(s.faces, f)
		}
	}
	for _, h := range holes {
		if err := s.open(h, flats); err != nil {
			return s, fmt.Errorf("%s: %w", name, err)
		}
	}
	return s, nil
}

// chordal are parameters in proportion to the distance between points.
func chordal(points []Vec) []float64 {
	at := make([]float64, len(points))
	for i := 1; i < len(points); i++ {
		at[i] = at[i-1] + points[i].Minus(points[i-1]).Norm()
	}
	for i := range at {
		at[i] /= at[len(at)-1]
	}
	at[len(at)-1] = 1
	return at
}

// flatAt finds the face square to the axis at z that holds a point, and whether it looks along the axis.
func (s *Solid) flatAt(flats map[float64][]int, z, radius float64) (int, bool) {
	for at, list := range flats {
		if math.Abs(at-z) > 1e-9 {
			continue
		}
		for _, k := range list {
			f := &s.faces[k]
			least := 0.0
			most := s.edges[f.loops[0][0].edge].circle.radius
			if len(f.loops) > 1 {
				if c := s.edges[f.loops[1][0].edge].circle; c != nil && c.centre[0] == 0 && c.centre[1] == 0 && s.vertices[s.edges[f.loops[1][0].edge].from][1] == 0 && c.radius < most {
					least = c.radius
				}
			}
			if radius > least && radius < most || radius == 0 && least == 0 {
				return k, f.plane.normal[2] > 0
			}
		}
	}
	return -1, false
}

// open makes a hole between two flat faces, or from one to a flat bottom.
func (s *Solid) open(h Opening, flats map[float64][]int) error {
	n := len(h.Outline)
	if n < 2 || h.From == h.To {
		return errors.New("a hole without an outline or without depth")
	}
	var middle [2]float64
	for _, c := range h.Outline {
		middle[0] += c.At[0] / float64(n)
		middle[1] += c.At[1] / float64(n)
	}
	at := math.Hypot(middle[0], middle[1])
	if at < 1e-4*math.Hypot(h.Outline[0].At[0], h.Outline[0].At[1]) {
		at = 0
	}
	mouth, up := s.flatAt(flats, h.From, at)
	if mouth < 0 {
		return fmt.Errorf("a hole at a radius of %.4g mm opens at z = %.4g mm, where no flat face is", 1e3*at, 1e3*h.From)
	}
	if up != (h.From > h.To) {
		return fmt.Errorf("a hole that opens at z = %.4g mm leads away from the material to %.4g mm", 1e3*h.From, 1e3*h.To)
	}
	end, _ := s.flatAt(flats, h.To, at)
	levels := [2]float64{math.Min(h.From, h.To), math.Max(h.From, h.To)}
	var rim [2][]int // edges at the lower and upper level
	var post []int   // edges between
	var corners [2][]int
	for k := range 2 {
		for _, c := range h.Outline {
			corners[k] = append(corners[k], s.vertex(Vec{c.At[0], c.At[1], levels[k]}))
		}
		for i, c := range h.Outline {
			e := edge{from: corners[k][i], to: corners[k][(i+1)%n]}
			if c.Centre != nil {
				axis := Vec{0, 0, 1}
				if c.Back {
					axis = Vec{0, 0, -1}
				}
				centre := Vec{c.Centre[0], c.Centre[1], levels[k]}
				e.circle = &circle{centre, axis, Vec{c.At[0], c.At[1], levels[k]}.Minus(centre).Unit(), math.Hypot(c.At[0]-c.Centre[0], c.At[1]-c.Centre[1])}
			}
			rim[k] = append(rim[k], s.edge(e))
		}
	}
	for i := range h.Outline {
		post = append(post, s.edge(edge{from: corners[0][i], to: corners[1][i]}))
	}
	for i, c := range h.Outline {
		next := h.Outline[(i+1)%n]
		var f face
		if c.Centre != nil {
			// the surface's normal leads away from the centre: out of the material where the outline goes round it the back way
			f.cylinder, f.outward = &circle{Vec{c.Centre[0], c.Centre[1], levels[0]}, Vec{0, 0, 1}, Vec{1, 0, 0}, s.edges[rim[0][i]].circle.radius}, c.Back
		} else {
			along := Vec{next.At[0] - c.At[0], next.At[1] - c.At[1], 0}.Unit()
			f.plane, f.outward = &frame{Vec{c.At[0], c.At[1], levels[0]}, Vec{-along[1], along[0], 0}, along}, true
		}
		// seen from the hole's inside
		f.loops = [][]use{{{post[i], false}, {rim[1][i], false}, {post[(i+1)%n], true}, {rim[0][i], true}}}
		s.faces = append(s.faces, f)
	}
	loop := func(k int, forward bool) []use {
		out := make([]use, n)
		for i, e := range rim[k] {
			out[i] = use{e, false}
		}
		if !forward {
			out = reversed(out)
		}
		return out
	}
	level := func(z float64) int {
		if z == levels[1] {
			return 1
		}
		return 0
	}
	// the hole goes round clockwise in a face that looks up, and counter-clockwise in one that looks down
	s.faces[mouth].loops = append(s.faces[mouth].loops, loop(level(h.From), !up))
	if end >= 0 {
		s.faces[end].loops = append(s.faces[end].loops, loop(level(h.To), up))
		return nil
	}
	normal := Vec{0, 0, 1}
	if !up {
		normal = Vec{0, 0, -1}
	}
	s.faces = append(s.faces, face{plane: &frame{Vec{middle[0], middle[1], h.To}, normal, Vec{1, 0, 0}}, outward: true, loops: [][]use{loop(level(h.To), up)}})
	return nil
}
