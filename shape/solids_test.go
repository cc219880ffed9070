package shape

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// opened has gmsh, on Open CASCADE, open a STEP file, and returns the volumes of its solids in m³.
func opened(t *testing.T, solids []Solid) []float64 {
	t.Helper()
	needed(t, "gmsh")
	folder := t.TempDir()
	var b bytes.Buffer
	if err := WriteSTEP(&b, solids, About{Title: "a test"}); err != nil {
		t.Fatal(err)
	}
	if b.Len() > 20e6 {
		t.Errorf("%d bytes of STEP", b.Len())
	}
	for name, text := range map[string]string{
		"part.step": b.String(),
		"ask.geo":   "SetFactory(\"OpenCASCADE\");\nGeometry.OCCTargetUnit=\"MM\";\nMerge \"part.step\";\nv() = Volume \"*\";\nFor i In {0:#v()-1}\n m() = Mass Volume{v(i)};\n Printf(\"volume %.12g\", m(0));\nEndFor\n",
	} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	said := output(t, "gmsh", filepath.Join(folder, "ask.geo"), "-parse_and_exit", "-v", "5")
	if strings.Contains(said, "Error") || strings.Contains(said, "Warning") {
		t.Errorf("gmsh: %s", said)
	}
	var out []float64
	for _, m := range regexp.MustCompile(`volume ([-0-9.e+]+)`).FindAllStringSubmatch(said, -1) {
		x, err := strconv.ParseFloat(m[1], 64)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, x*1e-9)
	}
	if len(out) != len(solids) {
		t.Fatalf("gmsh reads %d solids of %d (an open shell is dropped without a word): %s", len(out), len(solids), said)
	}
	return out
}

// bladeMesh is one blade of a row as a closed mesh of its own, between two places of the span.
func bladeMesh(t *testing.T, r Row, from, to, tolerance float64) *Mesh {
	t.Helper()
	// the stream surfaces of its ends
	move := func(h float64) Wall {
		z := append(append(r.Hub.within(-1, 1), r.Tip.within(-1, 1)...), -0.02, 0.1)
		slices.Sort(z)
		w := Wall{}
		for _, x := range slices.Compact(z) {
			w.Z, w.R = append(w.Z, x), append(w.R, r.radius(h, x))
		}
		return w
	}
	st, f := r.cutBetween(from, to, tolerance)
	if f != nil {
		t.Fatal(f)
	}
	root, end := st.loop(0, 0), st.loop(len(st.sections)-1, 0)
	b := &body{l: anglesFor(slices.Max(r.Tip.R), tolerance, 0, min(angular(root), angular(end)), []*ring{loopRing(root), loopRing(end)})}
	face := func(h float64) *surface {
		w := move(h)
		return surfaceOf(wallSpins(w, -0.02, 0.1)...)
	}
	low, high := b.hole(root, face(from)), b.hole(end, face(to))
	b.skin(low, st.rows(0), high)
	if ok, _ := b.l.fill(&b.m, face(from), []*ring{low}, true); !ok {
		t.Fatal("root")
	}
	if ok, _ := b.l.fill(&b.m, face(to), []*ring{high}, false); !ok {
		t.Fatal("tip")
	}
	if err := b.m.Closed(); err != nil {
		t.Fatal(err)
	}
	return &b.m
}

// Each solid that gmsh reads has the volume of its own mesh, closer the finer the mesh.
func TestSolidsOutside(t *testing.T) {
	type solid interface {
		Solids(run float64, mirror bool) ([]Solid, error)
	}
	for name, p := range someParts() {
		t.Run(name, func(t *testing.T) {
			most := 1e-3
			if name == "after" { // where walls bend the patches go round the bend
				most = 2e-3
			}
			for _, mirror := range []bool{false, true} {
				if mirror && name != "impeller" {
					continue
				}
				solids, err := p.(solid).Solids(1e-3, mirror)
				if err != nil {
					t.Fatal(err)
				}
				got := opened(t, solids)
				last := map[string]float64{}
				for _, tolerance := range []float64{2e-4, 5e-5, 1e-5} {
					for i, s := range solids {
						m := meshOf(t, p, s.Name, tolerance)
						if m == nil {
							continue
						}
						q := m.Properties(1)
						off := math.Abs(got[i]/q.Volume - 1)
						// a mesh lies within the tolerance of its surface
						if off > most && tolerance == 1e-5 || off > tolerance*q.Area/q.Volume {
							t.Errorf("%s, mirrored %v: STEP %.9g mm³, mesh at %g mm %.9g mm³", s.Name, mirror, got[i]*1e9, tolerance*1e3, q.Volume*1e9)
						}
						last[s.Name] = off
					}
				}
				for n, off := range last {
					if off > most {
						t.Errorf("%s: %.2g at the finest mesh", n, off)
					}
				}
				if !mirror {
					t.Log(last)
				}
			}
		})
	}
}

// meshOf is the mesh of one solid of a part alone; nil where it is the same as another's.
func meshOf(t *testing.T, part mesher, name string, tolerance float64) *Mesh {
	t.Helper()
	bare := func(outline []spin, f *Flange, faces []int, hole float64) *Mesh {
		radius := 0.0
		var loops [][]polarPoint
		for _, c := range outline {
			radius = max(radius, c.r)
		}
		var rings []*ring
		narrow := 0.0
		if f != nil {
			loops = f.boltLoops(hole, tolerance)
			rings, narrow = boltRings(loops)
		}
		b := &body{l: anglesFor(radius, min(tolerance, gapTolerance), 0, narrow, rings)}
		holes := map[int][]*ring{}
		b.drill(outline, faces, loops, holes)
		if edge, _ := b.revolve(outline, holes, nil); edge >= 0 {
			t.Fatal(name)
		}
		return &b.m
	}
	span := func(r *Row) float64 { hub, _ := r.Hub.At(r.Start); tip, _ := r.Tip.At(r.Start); return tip - hub }
	switch p := part.(type) {
	case *Impeller:
		switch name {
		case "impeller hub":
			outline, _ := p.outline(tolerance)
			return bare(outline, nil, nil, 0)
		case "impeller blade 1":
			return bladeMesh(t, p.Row, -1e-3/span(&p.Row), 1, tolerance)
		}
	case *Stator:
		switch name {
		case "stator hub":
			return bare(p.hub(), nil, nil, 0)
		case "stator ring":
			outline, faces := p.ring()
			return bare(outline, &p.Flange, faces, p.Hole)
		case "stator blade 1":
			return bladeMesh(t, p.Row, -1e-3/span(&p.Row), 1+1e-3/span(&p.Row), tolerance)
		}
	default:
		m, f := part.Mesh(tolerance)
		if f != nil {
			t.Fatal(f)
		}
		return m
	}
	return nil
}

// The patches of a blade leave its true surface nowhere by more than a thousandth of a millimetre.
func TestBoxExact(t *testing.T) {
	for _, form := range []string{"double arc", "65-series"} {
		r := someImpeller().Row
		r.Form = form
		b, f := r.Box(-0.04, 1, 0, false)
		if f != nil {
			t.Fatal(f)
		}
		first, err := InterpolatePatch(b.First, b.Chord, b.Span)
		if err != nil {
			t.Fatal(err)
		}
		lead, err := InterpolatePatch(b.Lead, b.Thickness, b.Span)
		if err != nil {
			t.Fatal(err)
		}
		worst := 0.0
		for j := range 40 {
			v := (float64(j) + 0.5) / 40
			s, f := r.Section(-0.04 + 1.04*v)
			if f != nil {
				t.Fatal(f)
			}
			// how far a patch's point lies from the true outline there
			off := func(p Vec, piece int) {
				least := math.Inf(1)
				var last Vec
				for i := range 401 {
					q := s.at(piece, float64(i)/400).space()
					if i > 0 {
						least = min(least, apart(p, last, q))
					}
					last = q
				}
				worst = max(worst, least)
			}
			for i := range 40 {
				u := (float64(i) + 0.5) / 40
				off(first.At(u, v), leftSide)
				off(lead.At(u, v), leadingEdge)
			}
		}
		t.Log(form, fmt.Sprintf("%.3g mm", worst*1e3))
		if worst > 5e-6 {
			t.Errorf("%s: %.3g mm", form, worst*1e3)
		}
	}
}

// Solids, meshes and tables of sections are of the same hand: points of one lie on the other, and off the mirror image.
func TestMirrorLaw(t *testing.T) {
	p := someImpeller()
	m, f := p.Mesh(5e-5)
	if f != nil {
		t.Fatal(f)
	}
	off := func(m *Mesh, q Vec) float64 { // from the nearest triangle, by its corners, sides and plane
		least := math.Inf(1)
		for _, t := range m.Triangles {
			a, b, c := m.Points[t[0]], m.Points[t[1]], m.Points[t[2]]
			if a.Minus(q).Norm() > least+6e-3 {
				continue
			}
			least = min(least, apart(q, a, b), apart(q, b, c), apart(q, c, a))
			n := b.Minus(a).Cross(c.Minus(a))
			if l := n.Norm(); l > 0 {
				n = n.Times(1 / l)
				foot := q.Minus(n.Times(q.Minus(a).Dot(n)))
				if b.Minus(a).Cross(foot.Minus(a)).Dot(n) >= 0 && c.Minus(b).Cross(foot.Minus(b)).Dot(n) >= 0 && a.Minus(c).Cross(foot.Minus(c)).Dot(n) >= 0 {
					least = min(least, foot.Minus(q).Norm())
				}
			}
		}
		return least
	}
	for _, mirror := range []bool{false, true} {
		same, other := m, m.Transformed(Vec{1, -1, 1})
		if mirror {
			same, other = other, same
		}
		b, f := p.Row.Box(0, 1, 0, mirror)
		if f != nil {
			t.Fatal(f)
		}
		s, f := p.Row.Section(0.5)
		if f != nil {
			t.Fatal(f)
		}
		var points []Vec
		for _, i := range []int{3, 16, 29} {
			points = append(points, b.First[i][20], b.Second[i][20])
		}
		for i, q := range s.Points(20, mirror) {
			if i%9 == 0 {
				points = append(points, q.Space)
			}
		}
		wrong := 0.0
		for _, q := range points {
			if d := off(same, q); d > 6e-5 {
				t.Errorf("mirrored %v: a point lies %.3g mm off the mesh", mirror, 1e3*d)
			}
			wrong = max(wrong, off(other, q))
		}
		if wrong < 1e-3 {
			t.Errorf("mirrored %v: the other hand is no further away than %.3g mm", mirror, 1e3*wrong)
		}
	}
	// a rotor that turns the way θ grows pushes water downstream with blades that lead the other way
	s, f := p.Row.Section(0.5)
	if f != nil {
		t.Fatal(f)
	}
	if a, b := s.place(0, 0), s.place(s.half.length, 0); !(b.z > a.z && b.theta < a.theta) {
		t.Error("the blade drives the water ahead")
	}
}
