package shape

import (
	"math"
	"slices"
)

// spin is a corner of the outline of a body of revolution. The outline runs so that the body lies to its left, z to the right
// and r upward.
type spin struct {
	z, r    float64
	contour []polarPoint // of a bore that is not round, in its place; empty for a circle
	made    *ring        // the contour, where it was made before
	face    *ring        // its edge in the flat face, where that is another
}

// polarPoint is a point of a bore's contour; the angle rises round the axis.
type polarPoint struct{ theta, r float64 }

// body is a mesh under work, with the angles that its surfaces of revolution are cut at.
type body struct {
	m Mesh
	l lines
}

// sidesFor is into how many sides a circle of radius r is cut so that no chord leaves it by more than the tolerance.
func sidesFor(r, tolerance float64) int {
	if tolerance >= r {
		return 8
	}
	return max(8, int(math.Ceil(math.Pi/math.Acos(1-tolerance/r))))
}

// circle adds a ring round the axis, with its corners on the lines.
func (b *body) circle(z, r float64) *ring {
	out := &ring{round: 2 * math.Pi}
	for k := range b.l.n {
		u := b.l.angle(k)
		out.at = append(out.at, corner{u: u, v: z, id: b.m.add(polar(r, u, z)), line: k})
	}
	return out
}

// contourRing adds a ring along a bore's contour in a flat face.
func (b *body) contourRing(z float64, contour []polarPoint) *ring {
	out := &ring{round: 2 * math.Pi}
	for _, p := range contour {
		out.at = append(out.at, corner{u: p.theta, v: p.r, id: b.m.add(polar(p.r, p.theta, z))})
	}
	b.l.lay(&b.m, out, flatFace(z))
	return out
}

// flatFace is the surface of a face square to the axis.
func flatFace(z float64) *surface {
	return &surface{flat: true, point: func(u, v float64) Vec { return polar(v, u, z) }}
}

// cone is the surface between two corners of an outline that is no flat face; v is z.
func cone(a, b spin) *surface {
	slope := (b.r - a.r) / (b.z - a.z)
	return &surface{scale: (a.r + b.r) / 2, point: func(u, v float64) Vec { return polar(a.r+slope*(v-a.z), u, v) }}
}

// surfaceOf is the surface along corners of an outline: a flat face, a cone, or several cones that bend into one another.
func surfaceOf(list ...spin) *surface {
	a, b := list[0], list[len(list)-1]
	if a.z == b.z {
		return flatFace(a.z)
	}
	s := cone(a, b)
	if len(list) == 2 {
		return s
	}
	list = slices.Clone(list)
	if a.z > b.z {
		slices.Reverse(list)
	}
	w := Wall{}
	for _, c := range list {
		w.Z, w.R = append(w.Z, c.z), append(w.R, c.r)
	}
	s.bends = w.Z[1 : len(w.Z)-1]
	s.point = func(u, v float64) Vec {
		r, _ := w.At(v)
		return polar(r, u, v)
	}
	return s
}

// withV returns a ring round the axis with every corner at one v.
func withV(r *ring, v float64) *ring {
	out := &ring{at: slices.Clone(r.at), round: r.round}
	for i := range out.at {
		out.at[i].v = v
	}
	return out
}

// revolve turns an outline about the axis. holes are rings on the surfaces after the corners they are listed by; they are laid already and
// run counterclockwise in the plane of θ and v. A surface with holes reaches on to the corner that reach names, where it names one. It returns the edge
// whose holes cross one another, and where; −1 if none do.
func (b *body) revolve(outline []spin, holes map[int][]*ring, reach map[int]int) (edge int, at float64) {
	n := len(outline)
	inner := make([]bool, n) // corners within a surface that reaches over them
	for i, to := range reach {
		for k := i + 1; k < to; k++ {
			inner[k] = true
		}
	}
	rings := make([]*ring, n)
	tips := make([]int32, n)
	for i, c := range outline {
		switch {
		case inner[i]:
		case c.made != nil:
			rings[i] = c.made
		case len(c.contour) > 0:
			rings[i] = b.contourRing(c.z, c.contour)
		case c.r > 0:
			rings[i] = b.circle(c.z, c.r)
		default:
			tips[i] = b.m.add(Vec{0, 0, c.z})
		}
	}
	for i := range n {
		if inner[i] {
			continue
		}
		j := (i + 1) % n
		if to, ok := reach[i]; ok {
			j = to
		}
		p, q := outline[i], outline[j]
		switch {
		case rings[i] == nil && rings[j] == nil: // along the axis
		case rings[i] == nil || rings[j] == nil:
			r, tip, flip := rings[i], tips[j], false
			if r == nil {
				r, tip, flip = rings[j], tips[i], true
			}
			for k := range r.at {
				b.m.tri(r.at[k].id, tip, r.at[(k+1)%len(r.at)].id, flip)
			}
		case len(holes[i]) == 0 && (len(p.contour) > 0) == (len(q.contour) > 0):
			x, y := rings[i].at, rings[j].at
			for k := range x {
				k1 := (k + 1) % len(x)
				b.m.quad(x[k].id, x[k1].id, y[k1].id, y[k].id, true)
			}
		default:
			s := surfaceOf(p, q)
			if j > i {
				s = surfaceOf(outline[i : j+1]...)
			}
			v := func(c spin) float64 {
				if s.flat {
					return c.r
				}
				return c.z
			}
			low, high, up := rings[i], rings[j], v(q) > v(p)
			if p.face != nil {
				low = p.face
			}
			if q.face != nil {
				high = q.face
			}
			if len(p.contour) == 0 {
				low = withV(low, v(p))
			}
			if len(q.contour) == 0 {
				high = withV(high, v(q))
			}
			if len(p.contour) > 0 { // the contour is the inner edge
				up = true
			} else if len(q.contour) > 0 {
				up = false
			}
			if !up {
				low, high = high, low
			}
			list := []*ring{low, high.reversed()}
			for _, h := range holes[i] {
				list = append(list, h.reversed())
			}
			if ok, at := b.l.fill(&b.m, s, list, up); !ok {
				return i, at
			}
		}
	}
	return -1, 0
}

// skin joins two rings by rows of points between them: a ring laid on the surface below, whose base corners answer to the points
// of each row, and one above. Seen from above the rings run counterclockwise.
func (b *body) skin(below *ring, rows [][]Vec, above *ring) {
	ids := func(r *ring) [][]int32 { // the corners from each base corner up to the next, that one included
		var out [][]int32
		first := slices.IndexFunc(r.at, func(c corner) bool { return c.base })
		for i := range len(r.at) + 1 {
			c := r.at[(first+i)%len(r.at)]
			if len(out) > 0 {
				out[len(out)-1] = append(out[len(out)-1], c.id)
			}
			if c.base && i < len(r.at) {
				out = append(out, []int32{c.id})
			}
		}
		return out
	}
	whole := make([][][]int32, 0, len(rows)+2)
	whole = append(whole, ids(below))
	for _, row := range rows {
		first := int32(len(b.m.Points))
		b.m.Points = append(b.m.Points, row...)
		var r [][]int32
		for i := range row {
			r = append(r, []int32{first + int32(i), first + int32((i+1)%len(row))})
		}
		whole = append(whole, r)
	}
	whole = append(whole, ids(above))
	for j := 1; j < len(whole); j++ {
		for i := range whole[j] {
			b.zip(whole[j-1][i], whole[j][i])
		}
	}
}

// zip fills what lies between two rows of corners that run alike, the lower one first.
func (b *body) zip(low, high []int32) {
	if len(low) == 2 && len(high) == 2 {
		b.m.quad(low[0], low[1], high[1], high[0], false)
		return
	}
	p := b.m.Points
	for len(low) > 1 || len(high) > 1 {
		switch {
		case len(high) == 1, len(low) > 1 && p[low[1]].Minus(p[high[0]]).Norm() <= p[high[1]].Minus(p[low[0]]).Norm():
			b.m.tri(low[0], low[1], high[0], false)
			low = low[1:]
		default:
			b.m.tri(low[0], high[1], high[0], false)
			high = high[1:]
		}
	}
}

// tube joins two laid rings of the same holes on two surfaces, the other one further along the axis of the hole; the rings run
// counterclockwise about that axis, and the body lies outside of the tube.
func (b *body) tube(near, far *ring) {
	n := len(near.at)
	for i := range n {
		j := (i + 1) % n
		b.m.quad(near.at[i].id, near.at[j].id, far.at[j].id, far.at[i].id, true)
	}
}
