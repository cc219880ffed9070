package shape

import (
	"fmt"
	"math"
)

// Vec is a point or direction in space.
type Vec [3]float64

// Plus returns v + w.
func (v Vec) Plus(w Vec) Vec { return Vec{v[0] + w[0], v[1] + w[1], v[2] + w[2]} }

// Minus returns v − w.
func (v Vec) Minus(w Vec) Vec { return Vec{v[0] - w[0], v[1] - w[1], v[2] - w[2]} }

// Times returns v·k.
func (v Vec) Times(k float64) Vec { return Vec{v[0] * k, v[1] * k, v[2] * k} }

// Dot returns the inner product.
func (v Vec) Dot(w Vec) float64 { return v[0]*w[0] + v[1]*w[1] + v[2]*w[2] }

// Cross returns the vector product.
func (v Vec) Cross(w Vec) Vec {
	return Vec{v[1]*w[2] - v[2]*w[1], v[2]*w[0] - v[0]*w[2], v[0]*w[1] - v[1]*w[0]}
}

// Norm returns the length of v.
func (v Vec) Norm() float64 { return math.Sqrt(v.Dot(v)) }

// Unit returns v over its length.
func (v Vec) Unit() Vec { return v.Times(1 / v.Norm()) }

// polar is the point at radius r, angle θ and z.
func polar(r, theta, z float64) Vec {
	s, c := math.Sincos(theta)
	return Vec{r * c, r * s, z}
}

// Mesh is a body bounded by triangles; seen from outside their corners run counterclockwise.
type Mesh struct {
	Points    []Vec
	Triangles [][3]int32
}

func (m *Mesh) add(p Vec) int32 {
	m.Points = append(m.Points, p)
	return int32(len(m.Points) - 1)
}

// tri adds a triangle, the other way round with flip.
func (m *Mesh) tri(a, b, c int32, flip bool) {
	if flip {
		b, c = c, b
	}
	m.Triangles = append(m.Triangles, [3]int32{a, b, c})
}

// quad adds two triangles over the corners a b c d, cut along the shorter diagonal.
func (m *Mesh) quad(a, b, c, d int32, flip bool) {
	p := m.Points
	if p[a].Minus(p[c]).Norm() <= p[b].Minus(p[d]).Norm() {
		m.tri(a, b, c, flip)
		m.tri(a, c, d, flip)
	} else {
		m.tri(a, b, d, flip)
		m.tri(b, c, d, flip)
	}
}

// Properties are what a body weighs and how its mass lies.
type Properties struct {
	Volume  float64    `unit:"cm³" doc:"volume"`
	Area    float64    `unit:"cm²" doc:"surface"`
	Mass    float64    `unit:"g" doc:"mass"`
	Centre  Vec        `key:"-"` // centre of mass, m
	Inertia [6]float64 `key:"-"` // about axes through the centre of mass, kg·m²: xx, yy, zz, xy, yz, zx, the products with their minus
}

// Properties integrates over the closed mesh; with respect to the mesh itself it is exact.
//
//	V = Σ a·(b×c)/6,  ∫x dV = Σ V_i·(a+b+c)/4,  ∫x² dV = Σ V_i·[(a+b+c)² + a² + b² + c²]/20
//
//	a, b, c  corners of a triangle seen from a point near the middle
//	V_i      volume of the tetrahedron on it, with its sign
//
// Holds for a closed mesh with outward triangles; density in kg/m³.
//
// Source: own. Tests: TestPropertiesExact, TestPropertiesLaw.
func (m *Mesh) Properties(density float64) Properties {
	var out Properties
	if len(m.Points) == 0 {
		return out
	}
	var middle Vec
	for _, p := range m.Points {
		middle = middle.Plus(p)
	}
	middle = middle.Times(1 / float64(len(m.Points)))
	var first Vec
	var square, mixed Vec // ∫x², ∫xy
	for _, t := range m.Triangles {
		a, b, c := m.Points[t[0]].Minus(middle), m.Points[t[1]].Minus(middle), m.Points[t[2]].Minus(middle)
		n := b.Minus(a).Cross(c.Minus(a))
		out.Area += n.Norm() / 2
		v := a.Dot(n) / 6
		out.Volume += v
		s := a.Plus(b).Plus(c)
		for i := range 3 {
			j := (i + 1) % 3
			first[i] += v * s[i] / 4
			square[i] += v * (s[i]*s[i] + a[i]*a[i] + b[i]*b[i] + c[i]*c[i]) / 20
			mixed[i] += v * (s[i]*s[j] + a[i]*a[j] + b[i]*b[j] + c[i]*c[j]) / 20
		}
	}
	out.Mass = density * out.Volume
	if out.Volume == 0 {
		return out
	}
	c := first.Times(1 / out.Volume)
	out.Centre = c.Plus(middle)
	for i := range 3 {
		j := (i + 1) % 3
		square[i] -= out.Volume * c[i] * c[i]
		mixed[i] -= out.Volume * c[i] * c[j]
	}
	for i := range 3 {
		out.Inertia[i] = density * (square[(i+1)%3] + square[(i+2)%3])
		out.Inertia[3+i] = -density * mixed[i]
	}
	return out
}

// Bounds returns the least and the greatest corner of the box round the mesh.
func (m *Mesh) Bounds() (low, high Vec) {
	for i := range 3 {
		low[i], high[i] = math.Inf(1), math.Inf(-1)
	}
	for _, p := range m.Points {
		for i := range 3 {
			low[i], high[i] = min(low[i], p[i]), max(high[i], p[i])
		}
	}
	return low, high
}

// Closed tells whether every edge lies between exactly two triangles that run along it in opposite ways, and every
// triangle has three corners; the error says what does not.
func (m *Mesh) Closed() error {
	type edge struct{ a, b int32 }
	seen := make(map[edge]int8, 3*len(m.Triangles))
	for _, t := range m.Triangles {
		for i := range 3 {
			a, b := t[i], t[(i+1)%3]
			if a == b {
				return fmt.Errorf("a triangle has a corner twice, at %s", millimetres(m.Points[a]))
			}
			if seen[edge{a, b}]++; seen[edge{a, b}] > 1 {
				return fmt.Errorf("two triangles lie on the same side of an edge at %s", millimetres(m.Points[a]))
			}
		}
	}
	for e := range seen {
		if seen[edge{e.b, e.a}] != 1 {
			return fmt.Errorf("the mesh is open at %s", millimetres(m.Points[e.a]))
		}
	}
	return nil
}

func millimetres(p Vec) string {
	return fmt.Sprintf("x %.3f, y %.3f, z %.3f mm", 1e3*p[0], 1e3*p[1], 1e3*p[2])
}

// Transformed returns the mesh with each axis stretched by a factor; an odd number of negative ones turns the triangles
// round, so that they still face outward.
func (m *Mesh) Transformed(k Vec) *Mesh {
	out := &Mesh{Points: make([]Vec, len(m.Points)), Triangles: make([][3]int32, len(m.Triangles))}
	for i, p := range m.Points {
		out.Points[i] = Vec{p[0] * k[0], p[1] * k[1], p[2] * k[2]}
	}
	turn := k[0]*k[1]*k[2] < 0
	for i, t := range m.Triangles {
		if turn {
			t[1], t[2] = t[2], t[1]
		}
		out.Triangles[i] = t
	}
	return out
}

// Fault is why a shape cannot be made: what is wrong with its number, where on the part, what would be right. Path is that of
// a field of the part, such as "impeller.bore"; it may be empty.
type Fault struct{ Path, What, Allowed, WayOut string }

// Error is the fault in one line.
func (f *Fault) Error() string {
	s := f.What
	if f.Allowed != "" {
		s += "; right would be " + f.Allowed
	}
	return s
}

func mm(x float64) string { return fmt.Sprintf("%.4g mm", 1e3*x) }
