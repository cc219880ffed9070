package shape

import (
	"math"
	"slices"
)

// A clamp is a collar ahead of the hub, cut by slots into fingers that a ring squeezes onto the shaft.

// slotHalf is half the angle that a slot takes at a radius.
func (b *Bore) slotHalf(r float64) float64 { return math.Asin(b.ClampSlot / 2 / r) }

// finger returns the angles at which a finger begins and ends at a radius.
func (b *Bore) finger(i int, r float64) (from, to float64) {
	step := 2 * math.Pi / clampSlots
	return float64(i)*step + b.slotHalf(r), float64(i+1)*step - b.slotHalf(r)
}

// arc is part of a circle by its points.
func arc(r, from, to, tolerance float64) []polarPoint {
	k := max(2, int(math.Ceil(float64(sidesFor(r, tolerance))*(to-from)/(2*math.Pi))))
	out := make([]polarPoint, k+1)
	for i := range out {
		out[i] = polarPoint{from + (to-from)*float64(i)/float64(k), r}
	}
	return out
}

// clampContour is the bore of a clamp: round, with points where the slots meet it.
func (b *Bore) clampContour(tolerance float64) []polarPoint {
	var out []polarPoint
	r := b.Diameter / 2
	for i := range clampSlots {
		from, to := b.finger(i, r)
		out = append(out, arc(r, from, to, tolerance)...)
		next, _ := b.finger(i+1, r)
		slot := arc(r, to, next, tolerance)
		out = append(out, slot[1:len(slot)-1]...)
	}
	return out
}

// clamp makes the collar ahead of the face that bore stands in, at z, and returns what is left of that face's inner edge: round the fingers and along
// the slots; nil where the fingers have no sound shape.
func (b *body) clamp(c *Bore, bore *ring, z, tolerance float64) *ring {
	outer := c.Diameter/2 + c.ClampWall
	face := flatFace(z)
	first := func(theta float64) int { // the corner of the bore's edge there
		return slices.IndexFunc(bore.at, func(k corner) bool {
			return k.base && math.Abs(math.Remainder(k.u-theta, 2*math.Pi)) < 1e-9
		})
	}
	out := &ring{round: 2 * math.Pi}
	n := len(bore.at)
	span := func(from, to int, turned float64) []corner { // both ends included
		var list []corner
		for i := from; ; i++ {
			k := bore.at[i%n]
			k.u = turned + math.Remainder(k.u-turned, 2*math.Pi)
			list = append(list, k)
			if i%n == to {
				return list
			}
		}
	}
	type piece struct {
		inner []corner
		ends  [2]int32
	}
	var fingers []piece
	for i := range clampSlots {
		from, to := c.finger(i, c.Diameter/2)
		next, _ := c.finger(i+1, c.Diameter/2)
		a, e, f := first(from), first(to), first(next)
		fingers = append(fingers, piece{span(a, e, (from+to)/2), [2]int32{bore.at[a].id, bore.at[e].id}})
		out.at = append(out.at, fingers[i].inner[0])
		x, y := c.finger(i, outer)
		for _, p := range arc(outer, x, y, tolerance) {
			out.at = append(out.at, corner{u: p.theta, v: p.r, id: b.m.add(polar(p.r, p.theta, z))})
		}
		slot := span(e, f, (to+next)/2)
		out.at = append(out.at, slot[:len(slot)-1]...)
	}
	b.l.lay(&b.m, out, face)
	end := z - c.ClampLength
	for _, f := range fingers {
		at := slices.IndexFunc(out.at, func(k corner) bool { return k.id == f.ends[0] })
		var round []corner
		for i := at; ; i++ {
			k := out.at[i%len(out.at)]
			round = append(round, k)
			if k.id == f.ends[1] {
				break
			}
		}
		over := map[int32]int32{}
		raise := func(list []corner) []corner {
			made := slices.Clone(list)
			for i, k := range list {
				id, ok := over[k.id]
				if !ok {
					p := b.m.Points[k.id]
					id = b.m.add(Vec{p[0], p[1], end})
					over[k.id] = id
				}
				made[i].id = id
			}
			return made
		}
		top, below := raise(round), raise(f.inner)
		wall := func(low, high []corner, flip bool) {
			for i := 1; i < len(low); i++ {
				b.m.quad(high[i-1].id, high[i].id, low[i].id, low[i-1].id, flip)
			}
		}
		wall(round, top, false)
		wall(f.inner, below, true)
		slices.Reverse(top)
		if !flatFace(end).clip(&b.m, append(slices.Clone(below), top[1:len(top)-1]...), false) {
			return nil
		}
	}
	return out
}
