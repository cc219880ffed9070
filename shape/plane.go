package shape

import (
	"cmp"
	"math"
	"slices"
	"sort"
)

// A surface of revolution is triangulated in its own plane of angle u and v, the position along the axis or, on a flat face,
// the radius. The plane is cut into strips by lines of constant angle, narrow enough for the chord tolerance; what is
// left of a strip round the holes falls into polygons, and those into triangles. Points where a hole's edge crosses a line are put
// into the hole's ring first, so that whatever stands on that ring has them as well.

// lines are the angles at which the plane is cut.
type lines struct {
	n     int
	phase float64
}

func (l lines) step() float64 { return 2 * math.Pi / float64(l.n) }

func (l lines) angle(k int) float64 { return l.phase + float64(k)*l.step() }

// of returns the strip that an angle lies in, from 0 to n−1.
func (l lines) of(u float64) int {
	k := int(math.Floor((u - l.phase) / l.step()))
	return ((k % l.n) + l.n) % l.n
}

// corner is a point of a ring.
type corner struct {
	u, v float64
	id   int32
	line int  // the line it lies on, from 0 to n−1; −1 for none
	base bool // it was there before the lines were put in
	bend bool // it lies where the surface bends
}

// ring is a closed row of corners in the plane: a hole that comes back to where it began, or an edge that runs round the axis.
type ring struct {
	at    []corner
	round float64 // 2π or −2π for one that runs round the axis
}

// next returns corner i+1 with its angle carried on past the end.
func (r *ring) next(i int) corner {
	if i+1 < len(r.at) {
		return r.at[i+1]
	}
	c := r.at[0]
	c.u += r.round
	return c
}

// reversed returns the ring run through the other way.
func (r *ring) reversed() *ring {
	out := &ring{at: slices.Clone(r.at), round: -r.round}
	slices.Reverse(out.at)
	return out
}

// surface carries a plane onto the body. Where it is flat, v is the radius and the edges of holes are straight in space.
type surface struct {
	point func(u, v float64) Vec
	flat  bool
	scale float64   // radius by which angles are stretched for the shape of triangles
	bends []float64 // v between its ends at which it bends
}

// crossing is the v at which the edge from a to b meets angle u.
func (s *surface) crossing(a, b corner, u float64) float64 {
	if s.flat { // straight in space: in polar coordinates
		sa, ca := math.Sincos(a.u - u)
		sb, cb := math.Sincos(b.u - u)
		xa, ya, xb, yb := a.v*ca, a.v*sa, b.v*cb, b.v*sb
		return xa + (xb-xa)*ya/(ya-yb)
	}
	return a.v + (b.v-a.v)*(u-a.u)/(b.u-a.u)
}

// lay marks the corners of a ring that lie on lines and puts corners in where its edges cross them.
func (l lines) lay(m *Mesh, r *ring, s *surface) {
	const near = 1e-9
	for i := range r.at {
		c := &r.at[i]
		c.base = true
		c.line = -1
		for _, v := range s.bends {
			if math.Abs(c.v-v) < near {
				c.v, c.bend = v, true
			}
		}
		x := (c.u - l.phase) / l.step()
		if k := math.Round(x); math.Abs(x-k) < near {
			c.line = ((int(k) % l.n) + l.n) % l.n
			c.u = l.angle(int(k))
		}
	}
	out := make([]corner, 0, 2*len(r.at))
	for i, a := range r.at {
		b := r.next(i)
		out = append(out, a)
		first := len(out)
		x, y := (a.u-l.phase)/l.step(), (b.u-l.phase)/l.step()
		put := func(k int) {
			u := l.angle(k)
			out = append(out, corner{u: u, v: s.crossing(a, b, u), line: ((k % l.n) + l.n) % l.n})
		}
		if x < y {
			for k := int(math.Floor(x+near)) + 1; float64(k) < y-near; k++ {
				put(k)
			}
		} else {
			for k := int(math.Ceil(x-near)) - 1; float64(k) > y+near; k-- {
				put(k)
			}
		}
		for _, v := range s.bends {
			if (a.v-v)*(b.v-v) < 0 {
				out = append(out, corner{u: a.u + (b.u-a.u)*(v-a.v)/(b.v-a.v), v: v, line: -1, bend: true})
			}
		}
		added := out[first:]
		if len(s.bends) > 0 {
			slices.SortStableFunc(added, func(p, q corner) int {
				return cmp.Compare(math.Abs(p.u-a.u)+math.Abs(p.v-a.v), math.Abs(q.u-a.u)+math.Abs(q.v-a.v))
			})
		}
		for k := range added {
			added[k].id = m.add(s.point(added[k].u, added[k].v))
		}
	}
	r.at = out
}

// bestPhase chooses the phase of n lines so that no corner of the rings comes close to one.
func bestPhase(n int, rings []*ring) lines {
	l := lines{n: n}
	step := l.step()
	var at []float64
	for _, r := range rings {
		for _, c := range r.at {
			x := math.Mod(c.u, step)
			if x < 0 {
				x += step
			}
			at = append(at, x)
		}
	}
	if len(at) == 0 {
		return l
	}
	sort.Float64s(at)
	gap, where := at[0]+step-at[len(at)-1], (at[0]+at[len(at)-1]+step)/2
	for i := 1; i < len(at); i++ {
		if g := at[i] - at[i-1]; g > gap {
			gap, where = g, (at[i]+at[i-1])/2
		}
	}
	l.phase = math.Mod(where, step)
	return l
}

// chain is a piece of a ring within a strip, from one of its sides to one of them.
type chain struct {
	at       []corner
	from, to bool // true: on the right side
	used     bool
}

// end is where a chain meets a side.
type end struct {
	v     float64
	chain int
	start bool
}

// fill triangulates what lies to the left of all rings. flip turns the triangles over. It fails where rings cross one
// another, at the v it names.
func (l lines) fill(m *Mesh, s *surface, rings []*ring, flip bool) (ok bool, at float64) {
	strips := make([][]chain, l.n)
	for _, r := range rings {
		first := slices.IndexFunc(r.at, func(c corner) bool { return c.line >= 0 })
		if first < 0 {
			return false, r.at[0].v
		}
		n := len(r.at)
		run := []corner{r.at[first]}
		for i := 1; i <= n; i++ {
			k := first + i
			c := r.at[k%n]
			if k >= n {
				c.u += r.round
			}
			run = append(run, c)
			if c.line < 0 {
				continue
			}
			strip := l.of((run[0].u + run[1].u) / 2)
			strips[strip] = append(strips[strip], chain{at: run, from: run[0].line != strip, to: c.line != strip})
			run = []corner{c}
		}
	}
	var poly []corner
	var ends [2][]end
	crossings := map[crossing]int32{}
	for k := range strips {
		chains := strips[k]
		for side := range 2 {
			ends[side] = ends[side][:0]
		}
		for i := range chains {
			c := &chains[i]
			a, b := 0, 0
			if c.from {
				a = 1
			}
			if c.to {
				b = 1
			}
			ends[a] = append(ends[a], end{c.at[0].v, i, true})
			ends[b] = append(ends[b], end{c.at[len(c.at)-1].v, i, false})
		}
		for side := range 2 {
			e := ends[side]
			sort.Slice(e, func(i, j int) bool { return e[i].v < e[j].v })
			for i := range e { // up the right side from an end to a start, down the left one
				if len(e)%2 != 0 || e[i].start != ((i%2 == 1) == (side == 1)) {
					return false, e[i].v
				}
			}
		}
		follow := func(i int) int {
			c := &chains[i]
			side := 0
			if c.to {
				side = 1
			}
			e := ends[side]
			j := slices.IndexFunc(e, func(x end) bool { return x.chain == i && !x.start })
			if side == 1 {
				return e[j+1].chain
			}
			return e[j-1].chain
		}
		for i := range chains {
			if chains[i].used {
				continue
			}
			poly = poly[:0]
			for j := i; !chains[j].used; j = follow(j) {
				chains[j].used = true
				poly = append(poly, shifted(chains[j].at, l.angle(k), l.step())...)
			}
			for _, piece := range s.parted(m, poly, crossings) {
				if !s.clip(m, piece, flip) {
					return false, piece[0].v
				}
			}
		}
	}
	return true, 0
}

// crossing is where a line meets a bend.
type crossing struct {
	line int
	v    float64
}

// parted cuts a polygon where the surface bends, so that no triangle bridges a bend.
func (s *surface) parted(m *Mesh, poly []corner, crossings map[crossing]int32) [][]corner {
	out := [][]corner{poly}
	for _, v := range s.bends {
		var next [][]corner
		for _, p := range out {
			next = append(next, s.cutAt(m, p, v, crossings)...)
		}
		out = next
	}
	return out
}

// cutAt cuts a polygon at one v.
func (s *surface) cutAt(m *Mesh, poly []corner, v float64, crossings map[crossing]int32) [][]corner {
	var whole []corner
	first := -1
	for i, a := range poly {
		b := poly[(i+1)%len(poly)]
		if a.v == v && first < 0 {
			first = len(whole)
		}
		whole = append(whole, a)
		if (a.v-v)*(b.v-v) < 0 { // along a line of constant angle; the edges of holes have their corner there
			at := crossing{a.line, v}
			id, ok := crossings[at]
			if !ok {
				id = m.add(s.point(a.u, v))
				crossings[at] = id
			}
			if first < 0 {
				first = len(whole)
			}
			whole = append(whole, corner{u: a.u, v: v, id: id, line: a.line, bend: true})
		}
	}
	if first < 0 {
		return [][]corner{poly}
	}
	// runs from one corner on the bend to the next, above it and below
	var runs [2][][]corner
	n := len(whole)
	run := []corner{whole[first]}
	for k := 1; k <= n; k++ {
		c := whole[(first+k)%n]
		run = append(run, c)
		if c.v != v {
			continue
		}
		if len(run) > 2 { // two corners lie along the bend
			side := 0
			if run[1].v < v {
				side = 1
			}
			runs[side] = append(runs[side], run)
		}
		run = []corner{c}
	}
	var on []corner
	for _, c := range whole {
		if c.v == v {
			on = append(on, c)
		}
	}
	slices.SortFunc(on, func(a, b corner) int { return cmp.Compare(a.u, b.u) })
	var out [][]corner
	for side, list := range runs {
		joined, ok := joinRuns(list, on, side == 1)
		if !ok {
			return [][]corner{poly} // holes cross there: clipping will say so
		}
		out = append(out, joined...)
	}
	return out
}

// joinRuns joins runs on one side of a bend into polygons: above it to the right from where one ends to where one begins, below it to the left; by
// way of the corners that lie on it between, which may touch it from the other side.
func joinRuns(list [][]corner, on []corner, below bool) ([][]corner, bool) {
	type mark struct {
		u     float64
		run   int
		start bool
	}
	var marks []mark
	for i, r := range list {
		marks = append(marks, mark{r[0].u, i, true}, mark{r[len(r)-1].u, i, false})
	}
	slices.SortStableFunc(marks, func(a, b mark) int {
		if x := cmp.Compare(a.u, b.u); x != 0 || a.start == b.start {
			return x
		}
		if a.start != below { // an outline that only touches the bend
			return -1
		}
		return 1
	})
	after := make([]int, len(list))
	for i := 0; i+1 < len(marks); i += 2 {
		a, b := marks[i], marks[i+1]
		if below {
			a, b = b, a
		}
		if a.start || !b.start {
			return nil, false
		}
		after[a.run] = b.run
	}
	var out [][]corner
	used := make([]bool, len(list))
	for i := range list {
		var p []corner
		for j := i; !used[j]; j = after[j] {
			used[j] = true
			r, next := list[j], list[after[j]][0]
			last := r[len(r)-1]
			if next.id == last.id {
				r = r[:len(r)-1]
			}
			p = append(p, r...)
			at := len(p)
			for _, c := range on {
				if c.u > min(last.u, next.u) && c.u < max(last.u, next.u) && c.id != last.id && c.id != next.id && (len(p) == at || p[len(p)-1].id != c.id) {
					p = append(p, c)
				}
			}
			if below {
				slices.Reverse(p[at:])
			}
		}
		if len(p) > 2 {
			out = append(out, p)
		}
	}
	return out, true
}

// shifted brings a chain to the turn of the strip that begins at an angle.
func shifted(at []corner, low, step float64) []corner {
	turns := math.Round((low + step/2 - (at[0].u+at[1].u)/2) / (2 * math.Pi))
	if turns == 0 {
		return at
	}
	out := slices.Clone(at)
	for i := range out {
		out[i].u += 2 * math.Pi * turns
	}
	return out
}

// plane returns where a corner lies for the shape of triangles.
func (s *surface) plane(c corner) [2]float64 {
	if s.flat {
		sin, cos := math.Sincos(c.u)
		return [2]float64{c.v * sin, c.v * cos}
	}
	return [2]float64{c.u * s.scale, c.v}
}

func turn(a, b, c [2]float64) float64 {
	return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])
}

// clip cuts ears off a polygon that runs counterclockwise, the best shaped first.
func (s *surface) clip(m *Mesh, poly []corner, flip bool) bool {
	n := len(poly)
	if n < 3 {
		return false
	}
	p := make([][2]float64, n)
	ids := make([]int32, n)
	for i, c := range poly {
		p[i], ids[i] = s.plane(c), c.id
	}
	prev, next := make([]int, n), make([]int, n)
	for i := range n {
		prev[i], next[i] = (i+n-1)%n, (i+1)%n
	}
	// how well an ear is shaped: twice its area over the sum of the squares of its sides; 0 for none
	quality := func(i int) float64 {
		a, b, c := p[prev[i]], p[i], p[next[i]]
		area := turn(a, b, c)
		if area <= 0 {
			return 0
		}
		for j := next[next[i]]; j != prev[i]; j = next[j] {
			q := p[j]
			if turn(p[prev[j]], q, p[next[j]]) > 0 {
				continue // only a corner that points inward can lie in an ear
			}
			if turn(a, b, q) >= 0 && turn(b, c, q) >= 0 && turn(c, a, q) >= 0 && q != a && q != b && q != c {
				return 0
			}
		}
		d := func(x, y [2]float64) float64 { return (x[0]-y[0])*(x[0]-y[0]) + (x[1]-y[1])*(x[1]-y[1]) }
		return area / (d(a, b) + d(b, c) + d(c, a))
	}
	good := make([]float64, n)
	for i := range n {
		good[i] = quality(i)
	}
	at := 0
	for left := n; left > 3; left-- {
		best := -1
		i := at
		for range left {
			if good[i] > 0 && (best < 0 || good[i] > good[best]) {
				best = i
			}
			i = next[i]
		}
		if best < 0 {
			for range left { // what blocked an ear may be gone
				if good[i] = quality(i); good[i] > 0 && (best < 0 || good[i] > good[best]) {
					best = i
				}
				i = next[i]
			}
		}
		if best < 0 { // corners in one line are left over
			for range left {
				a, b, c := p[prev[i]], p[i], p[next[i]]
				if math.Abs(turn(a, b, c)) <= 1e-9*math.Hypot(b[0]-a[0], b[1]-a[1])*math.Hypot(c[0]-b[0], c[1]-b[1]) {
					best = i
					break
				}
				i = next[i]
			}
		}
		if best < 0 {
			return false
		}
		a, b := prev[best], next[best]
		m.tri(ids[a], ids[best], ids[b], flip)
		next[a], prev[b] = b, a
		good[a], good[b] = quality(a), quality(b)
		at = a
	}
	m.tri(ids[at], ids[next[at]], ids[next[next[at]]], flip)
	return true
}
