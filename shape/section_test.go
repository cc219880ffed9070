package shape

import (
	"bytes"
	"encoding/binary"
	"math"
	"sort"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"
)

// Area and second moments of a NACA four-digit section 12 % thick against direct integration of its polynomial (COMPUTED by Gauss and Legendre;
// the polynomial FROM MEMORY of the NACA's report on the family).
func TestSectionAreaPublished(t *testing.T) {
	const chord, thick = 0.1, 0.012
	y := func(x float64) float64 {
		return 5 * thick * (0.2969*math.Sqrt(x/chord) - 0.126*x/chord - 0.3516*math.Pow(x/chord, 2) + 0.2843*math.Pow(x/chord, 3) - 0.1036*math.Pow(x/chord, 4))
	}
	integral := func(f func(x float64) float64) float64 { // x = c·q², so that the root is smooth
		return quad.Fixed(func(q float64) float64 { return f(chord*q*q) * 2 * chord * q }, 0, 1, 60, nil, 0)
	}
	area := integral(func(x float64) float64 { return 2 * y(x) })
	middle := integral(func(x float64) float64 { return 2 * x * y(x) }) / area
	across := integral(func(x float64) float64 { return 2. / 3 * math.Pow(y(x), 3) })
	along := integral(func(x float64) float64 { return 2 * x * x * y(x) }) - area*middle*middle
	const n = 4000
	var outline [][2]float64
	for i := range 2*n - 1 {
		k := float64(i-n+1) / n
		h, ok := HalfThickness("four-digit", k*k)
		if !ok {
			t.Fatal("no such form")
		}
		outline = append(outline, [2]float64{chord * k * k, -math.Copysign(thick/2*h, k)})
	}
	outline = append(outline, [2]float64{chord, 0})
	// turned and moved, as a blade's section stands
	s, c := math.Sincos(0.7)
	moved := make([][2]float64, len(outline))
	for i, p := range outline {
		moved[i] = [2]float64{0.3 + c*p[0] - s*p[1], -0.2 + s*p[0] + c*p[1]}
	}
	if AreaOf(moved).Area < 0 {
		t.Fatal("the outline runs the wrong way")
	}
	a := AreaOf(moved)
	near(t, "area", a.Area/area, 1, 1e-6)
	near(t, "middle", math.Hypot(a.Centre[0]-(0.3+c*middle), a.Centre[1]-(-0.2+s*middle)), 0, 1e-9)
	near(t, "least second moment", a.Least/across, 1, 1e-5)
	near(t, "most second moment", a.Most/along, 1, 1e-5)
	near(t, "principal axis", math.Abs(math.Remainder(a.PrincipalAngle-0.7, math.Pi)), 0, 1e-6)
}

// A rectangle and a triangle, closed forms.
func TestSectionAreaExact(t *testing.T) {
	a := AreaOf([][2]float64{{1, 2}, {4, 2}, {4, 7}, {1, 7}})
	near(t, "area", a.Area, 15, 1e-12)
	near(t, "xx", a.XX, 3*125./12, 1e-10)
	near(t, "yy", a.YY, 5*27./12, 1e-10)
	near(t, "xy", a.XY, 0, 1e-10)
	b := AreaOf([][2]float64{{0, 0}, {3, 0}, {0, 6}})
	near(t, "triangle", b.XX, 3*216./36, 1e-10)
	near(t, "triangle, mixed", b.XY, -9.*36/72, 1e-10)
}

// The forms reach their full thickness once and close behind; the ordinates are the tables' own (FROM MEMORY).
func TestFormsPublished(t *testing.T) {
	for form, at := range map[string]map[float64]float64{
		"65-series":  {0.4: 4.996, 0.1: 3.040, 0.7: 3.156, 0.05: 2.177},
		"C4":         {0.3: 5.00, 0.1: 4.02, 0.7: 3.37, 0.05: 3.08},
		"four-digit": {0.3: 5.002, 0.1: 3.902}, // of NACA 0010
	} {
		for x, want := range at {
			y, ok := HalfThickness(form, x)
			if !ok {
				t.Fatal(form)
			}
			near(t, form, 5*y, want, 0.02)
		}
		if y, _ := HalfThickness(form, 1); y > 0.02 {
			t.Errorf("%s ends %.3g thick", form, y)
		}
	}
}

// Every outline is closed and smooth: its pieces meet with one tangent, its thickness is that asked for, its edges are circles.
func TestSectionOutlineLaw(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		form := rapid.SampledFrom(Forms()).Draw(rt, "form")
		length := rapid.Float64Range(0.01, 0.2).Draw(rt, "length")
		thick := length * rapid.Float64Range(0.03, 0.16).Draw(rt, "thickness")
		edge := rapid.Float64Range(0.1, 0.95)
		h, f := newHalf(form, length, thick, thick/2*edge.Draw(rt, "leading"), thick/2*edge.Draw(rt, "trailing"))
		if f != nil {
			rt.Skip(f.Error())
		}
		at := func(piece int, u float64) Vec { x, y := h.at(piece, u); return Vec{x, y} }
		for piece := range pieces {
			next := (piece + 1) % pieces
			if d := at(piece, 1).Minus(at(next, 0)).Norm(); d > 1e-9*length {
				rt.Fatalf("%s: pieces %d and %d are %g apart", form, piece, next, d)
			}
			before, after := at(piece, 1).Minus(at(piece, 1-1e-4)).Unit(), at(next, 1e-4).Minus(at(next, 0)).Unit()
			if bend := math.Asin(before.Cross(after).Norm()); bend > 0.03 {
				rt.Fatalf("%s: pieces %d and %d meet at %g°", form, piece, next, bend/deg)
			}
		}
		most := 0.0
		for i := range 2001 {
			_, n := h.at(leftSide, float64(i)/2000)
			most = max(most, n)
		}
		if math.Abs(2*most/thick-1) > 2e-3 {
			rt.Fatalf("%s is %g thick, not %g", form, 2*most, thick)
		}
		for i := range 11 {
			p, q := at(leadingEdge, float64(i)/10), at(trailingEdge, float64(i)/10)
			if math.Abs(p.Minus(Vec{h.edge[0]}).Norm()/h.edge[0]-1) > 1e-9 || math.Abs(q.Minus(Vec{length - h.edge[1]}).Norm()/h.edge[1]-1) > 1e-9 {
				rt.Fatalf("%s: an edge is no circle", form)
			}
		}
	})
}

// On a cylinder the camber line is an arc of the chord; on a cone it leaves the edges at the angles asked for, and the section keeps its shape when
// the cone is unrolled.
func TestSectionExact(t *testing.T) {
	r := someImpeller().Row
	r.Flare = 0
	s, f := r.Section(0.5)
	if f != nil {
		t.Fatal(f)
	}
	a, b := s.unroll(s.place(0, 0)), s.unroll(s.place(s.half.length, 0))
	near(t, "chord", math.Hypot(b[0]-a[0], b[1]-a[1]), 38e-3, 1e-9)
	mid := s.unroll(s.place(s.half.length/2, 0))
	rise := math.Abs((b[0]-a[0])*(mid[1]-a[1])-(b[1]-a[1])*(mid[0]-a[0])) / 38e-3
	near(t, "rise of the arc", rise, 19e-3*math.Tan((42-26.4)*deg/4), 1e-9)
	for _, tip := range []Wall{{Z: []float64{-1, 1}, R: []float64{142e-3 - 0.1, 142e-3 + 0.1 - 0.2 + 0.1}}, {Z: []float64{-0.1, 0.2}, R: []float64{60e-3, 30e-3}}} {
		c := r
		c.Hub, c.Tip = Wall{Z: []float64{-0.1, 0.2}, R: []float64{10e-3, 25e-3}}, tip
		s, f := c.Section(0.7)
		if f != nil {
			t.Fatal(f)
		}
		for _, e := range []struct{ at, want float64 }{{0, s.Inlet}, {s.half.length, s.Outlet}} {
			const d = 1e-6
			p, q := s.place(e.at-d, 0), s.place(e.at+d, 0)
			got := math.Atan2(math.Hypot(q.z-p.z, q.r-p.r), -(q.theta-p.theta)*(p.r+q.r)/2)
			near(t, "angle on a cone", got/deg, e.want/deg, 1e-4)
			x, _ := s.row.Hub.At(p.z)
			y, _ := s.row.Tip.At(p.z)
			near(t, "stream surface", p.r, x+0.7*(y-x), 1e-12)
		}
		// thickness on the unrolled cone
		for _, x := range []float64{0.3, 0.5, 0.8} {
			at := x * s.half.length
			n := s.half.height(at)
			p, q := s.unroll(s.place(at, n)), s.unroll(s.place(at, -n))
			near(t, "thickness on a cone", math.Hypot(p[0]-q[0], p[1]-q[1]), 2*n, 1e-9)
		}
	}
	// sweep and lean
	r.Sweep, r.Lean = 10*deg, 5*deg
	for _, h := range []float64{0, 0.3, 1} {
		s, f := r.Section(h)
		if f != nil {
			t.Fatal(f)
		}
		near(t, "sweep", s.lead, (s.Radius-29e-3)*math.Tan(10*deg), 1e-12)
		near(t, "lean", s.place(s.half.length/2, 0).theta, math.Tan(5*deg)*math.Log(s.Radius/29e-3), 1e-12)
	}
}

// readSTL reads a binary STL file back, m.
func readSTL(t *testing.T, data []byte) [][3]Vec {
	t.Helper()
	n := int(binary.LittleEndian.Uint32(data[80:84]))
	if len(data) != 84+50*n {
		t.Fatalf("%d bytes for %d triangles", len(data), n)
	}
	out := make([][3]Vec, n)
	for i := range out {
		for k := range 3 {
			for c := range 3 {
				at := 84 + 50*i + 12 + 12*k + 4*c
				out[i][k][c] = 1e-3 * float64(math.Float32frombits(binary.LittleEndian.Uint32(data[at:at+4])))
			}
		}
	}
	return out
}

// sliced cuts triangles by a cylinder and returns the points of one of the blades on it, unrolled: round the circumference, along the axis.
func sliced(tris [][3]Vec, radius float64, blades int) [][2]float64 {
	var out [][2]float64
	low := math.Inf(1)
	for _, t := range tris {
		for i := range 3 {
			p, q := t[i], t[(i+1)%3]
			a, b := math.Hypot(p[0], p[1])-radius, math.Hypot(q[0], q[1])-radius
			if a*b >= 0 {
				continue
			}
			x, y := 0.0, 1.0
			for range 60 {
				m := (x + y) / 2
				v := p.Plus(q.Minus(p).Times(m))
				if (math.Hypot(v[0], v[1])-radius)*a > 0 {
					x = m
				} else {
					y = m
				}
			}
			v := p.Plus(q.Minus(p).Times(x))
			out = append(out, [2]float64{math.Atan2(v[1], v[0]), v[2]})
			low = min(low, v[2])
		}
	}
	// blades are told apart by following one from its leading edge on: all points less the turn that brings them nearest to it
	sort.Slice(out, func(i, j int) bool { return out[i][1] < out[j][1] })
	at := out[0][0]
	pitch := 2 * math.Pi / float64(blades)
	for i := range out {
		out[i][0] = at + math.Remainder(out[i][0]-at, pitch)
		at += 0.5 * (out[i][0] - at)
		out[i][0] *= radius
	}
	return out
}

// arcThrough fits the circle about which the points of a section lie alike on both sides, away from its edges, and returns the angles of the camber
// line from the circumferential direction at its ends. It knows nothing of how sections are made but that the camber line is an arc.
func arcThrough(t *testing.T, points [][2]float64) (inlet, outlet float64) {
	t.Helper()
	// the two ends: the points furthest apart
	var a, b [2]float64
	far := 0.0
	for _, p := range points {
		for _, q := range [][2]float64{points[0], points[len(points)-1]} {
			if d := math.Hypot(p[0]-q[0], p[1]-q[1]); d > far {
				far, a, b = d, q, p
			}
		}
	}
	if a[1] > b[1] {
		a, b = b, a
	}
	// in the chord's frame the camber line is a low arc: how its middle line bends is a parabola's job, refined to the circle
	ux, uy := (b[0]-a[0])/far, (b[1]-a[1])/far
	type xy struct{ x, y float64 }
	var up, down []xy
	var fit [3]float64 // of the circle: offset, slope, curvature, in the chord's frame
	circle := func(x float64) float64 {
		k := fit[2]
		return fit[0] + fit[1]*x + k*x*x/2 + k*k*k*x*x*x*x/8 + k*k*k*k*k*x*x*x*x*x*x/16
	}
	for range 8 {
		up, down = up[:0], down[:0]
		for _, p := range points {
			x, y := (p[0]-a[0])*ux+(p[1]-a[1])*uy-far/2, -(p[0]-a[0])*uy+(p[1]-a[1])*ux
			if math.Abs(x) > 0.46*far {
				continue
			}
			if y > circle(x) {
				up = append(up, xy{x, y})
			} else {
				down = append(down, xy{x, y})
			}
		}
		sort.Slice(up, func(i, j int) bool { return up[i].x < up[j].x })
		sort.Slice(down, func(i, j int) bool { return down[i].x < down[j].x })
		read := func(l []xy, x float64) float64 {
			i := sort.Search(len(l), func(i int) bool { return l[i].x >= x })
			i = min(max(i, 1), len(l)-1)
			p, q := l[i-1], l[i]
			if q.x == p.x {
				return p.y
			}
			return p.y + (q.y-p.y)*(x-p.x)/(q.x-p.x)
		}
		// where normals of the arc meet both sides
		var s [3][4]float64
		for i := range 81 {
			x := (float64(i)/80 - 0.5) * 0.88 * far
			slope := fit[1] + fit[2]*x/math.Sqrt(1-fit[2]*fit[2]*x*x)
			foot := func(l []xy) (float64, float64) {
				px := x
				for range 30 {
					px = x - slope*(read(l, px)-circle(x))
				}
				return px, read(l, px)
			}
			x1, y1 := foot(up)
			x2, y2 := foot(down)
			mx, my := (x1+x2)/2, (y1+y2)/2
			k := fit[2]
			row := [3]float64{1, mx, mx*mx/2 + k*k*mx*mx*mx*mx/8 + k*k*k*k*mx*mx*mx*mx*mx*mx/16}
			for j := range 3 {
				for l := range 3 {
					s[j][l] += row[j] * row[l]
				}
				s[j][3] += row[j] * my
			}
		}
		for j := range 3 { // Gauss
			for l := j + 1; l < 3; l++ {
				f := s[l][j] / s[j][j]
				for c := range 4 {
					s[l][c] -= f * s[j][c]
				}
			}
		}
		for j := 2; j >= 0; j-- {
			fit[j] = s[j][3]
			for l := j + 1; l < 3; l++ {
				fit[j] -= s[j][l] * fit[l]
			}
			fit[j] /= s[j][j]
		}
	}
	angle := func(x float64) float64 {
		slope := math.Tan(math.Atan(fit[1]) + math.Asin(fit[2]*x)) // of a circle whose middle lies off the chord's
		return math.Atan2(uy+slope*ux, math.Copysign(1, ux)*(ux-slope*uy))
	}
	return angle(-far / 2), angle(far / 2)
}

// The blade angles measured on the exported mesh are those of the design, and the gap is that typed.
func TestBladeAngleExact(t *testing.T) {
	var b bytes.Buffer
	var tris [][3]Vec
	for _, p := range []struct {
		part mesher
		row  *Row
	}{{someStator(), &someStator().Row}, {someImpeller(), &someImpeller().Row}} {
		m, f := p.part.Mesh(2e-5)
		if f != nil {
			t.Fatal(f)
		}
		b.Reset()
		if err := m.STL(&b, "a test"); err != nil {
			t.Fatal(err)
		}
		tris = readSTL(t, b.Bytes())
		for _, h := range []float64{0.2, 0.35, 0.5, 0.75, 0.9} {
			s, f := p.row.Section(h)
			if f != nil {
				t.Fatal(f)
			}
			in, out := arcThrough(t, sliced(tris, s.Radius, p.row.Blades))
			t.Logf("%s, %.2f: %.3f° for %.3f°, %.3f° for %.3f°", p.row.Name, h, in/deg, s.Inlet/deg, out/deg, s.Outlet/deg)
			near(t, "inlet angle", in/deg, s.Inlet/deg, 0.1)
			near(t, "outlet angle", out/deg, s.Outlet/deg, 0.1)
		}
	}
	d, f := someDuct().Mesh(2e-5)
	if f != nil {
		t.Fatal(f)
	}
	b.Reset()
	if err := d.STL(&b, "a test"); err != nil {
		t.Fatal(err)
	}
	// nearest to the axis on the casing, furthest from it on the blades; between corners a facet lies nearer
	inner, outer := math.Inf(1), 0.0
	for _, x := range readSTL(t, b.Bytes()) {
		mid := x[0].Plus(x[1]).Plus(x[2]).Times(1. / 3)
		inner = min(inner, math.Hypot(mid[0], mid[1]))
		for i := range 3 {
			e := x[i].Plus(x[(i+1)%3]).Times(0.5)
			inner = min(inner, math.Hypot(e[0], e[1]))
		}
	}
	least := math.Inf(1)
	for _, x := range tris {
		for i := range 3 {
			outer = max(outer, math.Hypot(x[i][0], x[i][1]))
		}
		if all := min(math.Hypot(x[0][0], x[0][1]), math.Hypot(x[1][0], x[1][1]), math.Hypot(x[2][0], x[2][1])); all > 41.9e-3 { // a facet of a tip
			mid := x[0].Plus(x[1]).Plus(x[2]).Times(1. / 3)
			least = min(least, math.Hypot(mid[0], mid[1]))
		}
	}
	near(t, "gap at its narrowest, mm", 1e3*(inner-outer), 0.35, 0.01)
	near(t, "gap at its widest, mm", 1e3*(42.35e-3-least), 0.35, 0.01)
}
