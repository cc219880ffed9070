package shape

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.9g, should be %.9g within %.2g", what, got, want, tolerance)
	}
}

// spun turns an outline without holes.
func spun(t *testing.T, outline []spin, n int) *Mesh {
	t.Helper()
	b := &body{l: lines{n: n}}
	if edge, at := b.revolve(outline, nil, nil); edge >= 0 {
		t.Fatalf("edge %d at %g", edge, at)
	}
	if err := b.m.Closed(); err != nil {
		t.Fatal(err)
	}
	return &b.m
}

// A box is integrated exactly: closed forms.
func TestPropertiesExact(t *testing.T) {
	m := &Mesh{}
	for i := range 8 {
		m.add(Vec{float64(i & 1), float64(i>>1&1) * 2, float64(i>>2&1)*3 + 10})
	}
	for _, f := range [][4]int32{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		m.quad(f[0], f[1], f[2], f[3], false)
	}
	if err := m.Closed(); err != nil {
		t.Fatal(err)
	}
	p := m.Properties(5)
	near(t, "volume", p.Volume, 6, 1e-12)
	near(t, "area", p.Area, 22, 1e-12)
	near(t, "mass", p.Mass, 30, 1e-12)
	near(t, "centre", p.Centre.Minus(Vec{0.5, 1, 11.5}).Norm(), 0, 1e-12)
	for i, want := range []float64{30. / 12 * (4 + 9), 30. / 12 * (9 + 1), 30. / 12 * (1 + 4), 0, 0, 0} {
		near(t, "inertia", p.Inertia[i], want, 1e-11)
	}
	// a prism of n sides: the inertia of a regular polygon about its middle, m·R²/6·(2 + cos 2π/n) (FROM MEMORY)
	n := 7
	q := spun(t, []spin{{z: 0, r: 0}, {z: 2, r: 0}, {z: 2, r: 3}, {z: 0, r: 3}}, n).Properties(1)
	a := 2 * math.Pi / float64(n)
	near(t, "prism", q.Volume, 2*float64(n)/2*9*math.Sin(a), 1e-12)
	near(t, "prism's inertia", q.Inertia[2], q.Volume*9/6*(2+math.Cos(a)), 1e-11)
}

// Cylinder, cone and sphere close in on their closed forms as the square of the step.
func TestRevolveExact(t *testing.T) {
	sphere := func(n int) []spin {
		out := []spin{{z: -1, r: 0}}
		for i := n - 1; i > 0; i-- {
			s, c := math.Sincos(math.Pi * float64(i) / float64(n))
			out = append(out, spin{z: c, r: s})
		}
		out = append(out, spin{z: 1})
		// the outline runs with the body to its left: from the front pole along the axis to the rear one and back over the top
		rev := []spin{out[0], out[len(out)-1]}
		for i := len(out) - 2; i > 0; i-- {
			rev = append(rev, out[i])
		}
		return rev
	}
	for _, c := range []struct {
		name                  string
		outline               func(n int) []spin
		volume, area, inertia float64 // about the axis, of density 1
	}{
		{"cylinder", func(int) []spin { return []spin{{z: 0, r: 0}, {z: 3, r: 0}, {z: 3, r: 2}, {z: 0, r: 2}} }, 12 * math.Pi, 20 * math.Pi, 12 * math.Pi * 2},
		{"cone", func(int) []spin { return []spin{{z: 0, r: 0}, {z: 3, r: 0}, {z: 0, r: 2}} }, 4 * math.Pi, math.Pi*4 + math.Pi*2*math.Sqrt(13), 4 * math.Pi * 4 * 0.3},
		{"sphere", sphere, 4 * math.Pi / 3, 4 * math.Pi, 4 * math.Pi / 3 * 0.4},
		{"ring", func(int) []spin { return []spin{{z: 0, r: 1}, {z: 3, r: 1}, {z: 3, r: 2}, {z: 0, r: 2}} }, 9 * math.Pi, math.Pi * (6 + 12 + 6), 9 * math.Pi * 2.5},
	} {
		last := [3]float64{}
		for _, n := range []int{40, 80, 160} {
			p := spun(t, c.outline(n/2), n).Properties(1)
			now := [3]float64{p.Volume/c.volume - 1, p.Area/c.area - 1, p.Inertia[2]/c.inertia - 1}
			for i := range now {
				if now[i] > 0 || now[i] < -40/float64(n*n) {
					t.Errorf("%s with %d sides, figure %d: off by %.3g", c.name, n, i, now[i])
				}
				if last[i] != 0 {
					near(t, c.name+" closes in", last[i]/now[i], 4, 0.1)
				}
			}
			last = now
		}
	}
}

// Mass properties follow a shift, a turn and a change of size as mechanics says, whatever the body.
func TestPropertiesLaw(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		f := rapid.Float64Range(0.2, 3)
		r0, r1, h := f.Draw(rt, "r0"), f.Draw(rt, "r1"), f.Draw(rt, "h")
		b := &body{l: lines{n: rapid.IntRange(3, 40).Draw(rt, "n"), phase: f.Draw(rt, "phase")}}
		b.revolve([]spin{{z: 0, r: r0 / 2}, {z: h, r: r1 / 2}, {z: h, r: r1}, {z: 0, r: r0}}, nil, nil)
		p := b.m.Properties(2)
		shift := Vec{f.Draw(rt, "x"), -10 * f.Draw(rt, "y"), 100 * f.Draw(rt, "z")}
		moved := &Mesh{Triangles: b.m.Triangles}
		for _, v := range b.m.Points {
			moved.Points = append(moved.Points, v.Plus(shift))
		}
		q := moved.Properties(2)
		if math.Abs(q.Volume/p.Volume-1) > 1e-9 || q.Centre.Minus(shift).Minus(p.Centre).Norm() > 1e-9 || math.Abs(q.Inertia[0]/p.Inertia[0]-1) > 1e-8 {
			rt.Fatalf("moved: %+v, was %+v", q, p)
		}
		k := f.Draw(rt, "k")
		q = b.m.Transformed(Vec{k, -k, k}).Properties(2)
		if math.Abs(q.Volume/p.Volume/k/k/k-1) > 1e-9 || math.Abs(q.Area/p.Area/k/k-1) > 1e-9 || math.Abs(q.Inertia[2]/p.Inertia[2]/math.Pow(k, 5)-1) > 1e-9 {
			rt.Fatalf("mirrored and stretched by %g: %+v, was %+v", k, q, p)
		}
	})
}

// An open mesh and one with a triangle turned over are seen.
func TestClosedExact(t *testing.T) {
	m := spun(t, []spin{{z: 0, r: 0}, {z: 3, r: 0}, {z: 3, r: 2}, {z: 0, r: 2}}, 9)
	open := *m
	open.Triangles = open.Triangles[1:]
	if open.Closed() == nil {
		t.Error("an open mesh is called closed")
	}
	m.Triangles[0][1], m.Triangles[0][2] = m.Triangles[0][2], m.Triangles[0][1]
	if m.Closed() == nil {
		t.Error("a triangle turned over is not seen")
	}
}
