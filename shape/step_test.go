package shape

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// volumes are those of the solids that Open CASCADE finds in a STEP file, in mm³, in the file's order.
func volumes(t testing.TB, step []byte) []float64 {
	t.Helper()
	gmsh := needed(t, "gmsh")
	folder := t.TempDir()
	path := filepath.Join(folder, "x.step")
	script := filepath.Join(folder, "x.geo")
	geo := fmt.Sprintf(`SetFactory("OpenCASCADE"); Geometry.OCCTargetUnit="MM"; Merge "%s"; v() = Volume "*"; Printf("solids %%g", #v());
For i In {0:#v()-1}
m = Mass Volume{v(i)};
Printf("volume %%.12g", m);
EndFor`, path)
	if err := errors.Join(os.WriteFile(path, step, 0o644), os.WriteFile(script, []byte(geo), 0o644)); err != nil {
		t.Fatal(err)
	}
	out := output(t, gmsh, "-parse_and_exit", script)
	var list []float64
	for _, m := range regexp.MustCompile(`volume (\S+)`).FindAllStringSubmatch(out, -1) {
		v, err := strconv.ParseFloat(m[1], 64)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, v)
	}
	if !strings.Contains(out, fmt.Sprintf("solids %d", len(list))) {
		t.Fatalf("the count of solids is not that of volumes:\n%s", out)
	}
	return list
}

func stepOf(t testing.TB, bodies ...Solid) []byte {
	t.Helper()
	var b, again bytes.Buffer
	if err := errors.Join(WriteSTEP(&b, bodies, label), WriteSTEP(&again, bodies, label)); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(b.Bytes(), again.Bytes()) {
		t.Error("written twice it differs")
	}
	return b.Bytes()
}

// box is a body of grids from a map of chord, span and thickness, each from 0 to 1, into space.
func box(n, m, l int, at func(c, s, t float64) Vec) Box {
	b := Box{Chord: even(n), Span: even(m), Thickness: even(l)}
	grid := func(u, v []float64, at func(u, v float64) Vec) [][]Vec {
		out := make([][]Vec, len(u))
		for i := range u {
			for j := range v {
				out[i] = append(out[i], at(u[i], v[j]))
			}
		}
		return out
	}
	b.First = grid(b.Chord, b.Span, func(u, v float64) Vec { return at(u, v, 0) })
	b.Second = grid(b.Chord, b.Span, func(u, v float64) Vec { return at(u, v, 1) })
	b.Lead = grid(b.Thickness, b.Span, func(u, v float64) Vec { return at(0, v, u) })
	b.Trail = grid(b.Thickness, b.Span, func(u, v float64) Vec { return at(1, v, u) })
	b.Root = grid(b.Chord, b.Thickness, func(u, v float64) Vec { return at(u, 0, v) })
	b.Tip = grid(b.Chord, b.Thickness, func(u, v float64) Vec { return at(u, 1, v) })
	return b
}

func even(n int) []float64 {
	out := make([]float64, n+1)
	for i := range out {
		out[i] = float64(i) / float64(n)
	}
	return out
}

func solid(t testing.TB, s Solid, err error) Solid {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Closed forms, COMPUTED: Open CASCADE, a general-purpose kernel of geometry, reads as many solids as were written and finds their volumes.
func TestSTEPPublished(t *testing.T) {
	const mm = 1e-3
	type body struct {
		name  string
		solid Solid
		want  float64 // mm³
		off   float64
	}
	var list []body
	add := func(name string, want, off float64, s Solid, err error) {
		list = append(list, body{name, solid(t, s, err), want, off})
	}
	revolve := func(name string, want, off float64, holes []Opening, p ...Piece) {
		s, err := SolidOfRevolution(name, p, holes)
		add(name, want, off, s, err)
	}
	revolve("cylinder", math.Pi*20*20*50, 1e-9, nil, Piece{Z: 0, R: 0}, Piece{Z: 0, R: 20 * mm}, Piece{Z: 50 * mm, R: 20 * mm}, Piece{Z: 50 * mm, R: 0})
	revolve("cylinder, drawn the other way", math.Pi*20*20*50, 1e-9, nil, Piece{Z: 50 * mm, R: 0}, Piece{Z: 50 * mm, R: 20 * mm}, Piece{Z: 0, R: 20 * mm}, Piece{Z: 0, R: 0})
	revolve("cone", math.Pi*20*20*50/3, 1e-9, nil, Piece{Z: 0, R: 0}, Piece{Z: 0, R: 20 * mm}, Piece{Z: 50 * mm, R: 0})
	revolve("cone that widens", math.Pi*20*20*50/3, 1e-9, nil, Piece{Z: 0, R: 0}, Piece{Z: 50 * mm, R: 20 * mm}, Piece{Z: 50 * mm, R: 0})
	revolve("ring", math.Pi*(45*45-42*42)*30, 1e-9, nil, Piece{Z: 0, R: 42 * mm}, Piece{Z: 0, R: 45 * mm}, Piece{Z: 30 * mm, R: 45 * mm}, Piece{Z: 30 * mm, R: 42 * mm})
	ring := func(n int, r float64) [][2]float64 {
		var out [][2]float64
		for i := 1; i < n; i++ {
			s, c := math.Sincos(math.Pi * float64(i) / float64(n))
			out = append(out, [2]float64{-r * c, r * s})
		}
		return out
	}
	revolve("sphere", 4*math.Pi*15*15*15/3, 1e-6, nil, Piece{Z: -15 * mm, R: 0}, Piece{Z: 15 * mm, R: 0, Through: ring(60, 15*mm)}, Piece{Z: 0, R: 0})
	// a flange with seven bolt holes, a hub with a bore that has a keyway, a blind hole with a flat
	var bolts []Opening
	for k := range 7 {
		s, c := math.Sincos(2 * math.Pi * float64(k) / 7)
		bolts = append(bolts, Opening{Outline: RoundOpening([2]float64{50 * mm * c, 50 * mm * s}, 3*mm), From: 8 * mm, To: 0})
	}
	revolve("flange with bolt holes", math.Pi*(60*60-40*40)*8-7*math.Pi*9*8, 1e-9, bolts, Piece{Z: 0, R: 40 * mm}, Piece{Z: 0, R: 60 * mm}, Piece{Z: 8 * mm, R: 60 * mm}, Piece{Z: 8 * mm, R: 40 * mm})
	centre := [2]float64{}
	half, r := 2*mm, 6*mm
	x := math.Sqrt(r*r - half*half)
	key := []Corner{{At: [2]float64{x, half}, Centre: &centre}, {At: [2]float64{-r, 0}, Centre: &centre}, {At: [2]float64{x, -half}}, {At: [2]float64{8 * mm, -half}}, {At: [2]float64{8 * mm, half}}}
	a := math.Asin(half / r)
	keyed := math.Pi*36 - (36*a - 36*math.Sin(a)*math.Cos(a)) + (8-x/mm)*4
	revolve("hub with keyway", (math.Pi*400-keyed)*40, 1e-9, []Opening{{Outline: key, From: 40 * mm, To: 0}}, Piece{Z: 0, R: 0}, Piece{Z: 0, R: 20 * mm}, Piece{Z: 40 * mm, R: 20 * mm}, Piece{Z: 40 * mm, R: 0})
	flat := math.Acos(4.0 / 6)
	d := []Corner{{At: [2]float64{4 * mm, math.Sqrt(20) * mm}, Centre: &centre}, {At: [2]float64{-6 * mm, 0}, Centre: &centre}, {At: [2]float64{4 * mm, -math.Sqrt(20) * mm}}}
	segment := 36*flat - 36*math.Sin(flat)*math.Cos(flat)
	revolve("blind bore with a flat", math.Pi*400*40-(math.Pi*36-segment)*25, 1e-9, []Opening{{Outline: d, From: 0, To: 25 * mm}}, Piece{Z: 0, R: 0}, Piece{Z: 0, R: 20 * mm}, Piece{Z: 40 * mm, R: 20 * mm}, Piece{Z: 40 * mm, R: 0})
	boxed := func(name string, want, off float64, b Box) {
		s, err := SolidOfGrids(name, b)
		add(name, want, off, s, err)
	}
	boxed("cuboid", 20*30*4, 1e-9, box(1, 1, 1, func(c, s, t float64) Vec { return Vec{20 * mm * c, 30 * mm * s, 4 * mm * t} }))
	boxed("cuboid, mirrored", 20*30*4, 1e-9, box(4, 3, 2, func(c, s, t float64) Vec { return Vec{20 * mm * c, -30 * mm * s, 4 * mm * t} }))
	// a piece of a tube, twisted along z: the twist keeps its volume
	boxed("twisted piece of a tube", 0.5*0.2*(42*42-20*20)*30, 2e-6, box(40, 12, 6, func(c, s, t float64) Vec {
		return polar((20+22*s)*mm, 0.2*t+1.1*c, 30*mm*c)
	}))
	var bodies []Solid
	for _, k := range list {
		bodies = append(bodies, k.solid)
	}
	got := volumes(t, stepOf(t, bodies...))
	if len(got) != len(list) {
		t.Fatalf("%d solids were written, %d are read", len(list), len(got))
	}
	for i, k := range list {
		if math.Abs(got[i]/k.want-1) > k.off {
			t.Errorf("%s: %.9g mm³, closed form %.9g (%.2g off)", k.name, got[i], k.want, got[i]/k.want-1)
		}
	}
}

// An interpolated patch goes through its points, its borders are the curves through the border points, and a cubic is met
// exactly.
func TestInterpolateExact(t *testing.T) {
	u, v := []float64{0, 0.1, 0.35, 0.5, 0.8, 1}, []float64{0, 0.2, 0.6, 0.7, 1}
	at := func(u, v float64) Vec { return Vec{u, v*v*v - u*v, u*u*u - 2*v*v + u*u*v} }
	grid := make([][]Vec, len(u))
	for i := range u {
		for j := range v {
			grid[i] = append(grid[i], at(u[i], v[j]))
		}
	}
	p, err := InterpolatePatch(grid, u, v)
	if err != nil {
		t.Fatal(err)
	}
	border := make([]Vec, len(u))
	for i := range u {
		border[i] = grid[i][len(v)-1]
	}
	c, err := InterpolateCurve(border, u)
	if err != nil {
		t.Fatal(err)
	}
	for i := range 41 {
		for j := range 41 {
			x, y := float64(i)/40, float64(j)/40
			if d := p.At(x, y).Minus(at(x, y)).Norm(); d > 1e-12 {
				t.Fatalf("%v off at %v, %v", d, x, y)
			}
		}
		x := float64(i) / 40
		if d := p.At(x, 1).Minus(c.At(x)).Norm(); d > 1e-14 {
			t.Fatalf("the border is %v off its curve at %v", d, x)
		}
	}
	for i := range c.Control {
		if d := c.Control[i].Minus(p.Control[i][len(p.Control[i])-1]).Norm(); d > 1e-14 {
			t.Errorf("control point %d of the border is %v off", i, d)
		}
	}
}

func TestSTEPFaults(t *testing.T) {
	torn := box(3, 3, 3, func(c, s, t float64) Vec { return Vec{c, s, t} })
	torn.Tip[2][0] = torn.Tip[2][0].Plus(Vec{0, 0, 0.001})
	back := box(3, 3, 3, func(c, s, t float64) Vec { return Vec{c, s, t} })
	back.Chord[1] = 0.9
	tube := []Piece{{Z: 0, R: 0.02}, {Z: 0, R: 0.03}, {Z: 0.01, R: 0.03}, {Z: 0.01, R: 0.02}}
	for want, make := range map[string]func() (Solid, error){
		"1 mm apart at the tip of the first side": func() (Solid, error) { return SolidOfGrids("blade", torn) },
		"does not lie beyond the one before":      func() (Solid, error) { return SolidOfGrids("blade", back) },
		"encloses nothing":                        func() (Solid, error) { return SolidOfRevolution("a", tube[:2], nil) },
		"r -1 mm": func() (Solid, error) {
			return SolidOfRevolution("a", append(tube[:3:3], Piece{Z: 0.01, R: -0.001}), nil)
		},
		"where no flat face is": func() (Solid, error) {
			return SolidOfRevolution("a", tube, []Opening{{Outline: RoundOpening([2]float64{0.01, 0}, 0.001), From: 0.01}})
		},
		"leads away from the material": func() (Solid, error) {
			return SolidOfRevolution("a", tube, []Opening{{Outline: RoundOpening([2]float64{0.025, 0}, 0.001), From: 0.01, To: 0.02}})
		},
	} {
		if _, err := make(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", want, err)
		}
	}
	if err := WriteSTEP(io.Discard, nil, label); err == nil {
		t.Error("nothing was written as a part")
	}
	s, err := SolidOfRevolution("a", tube, nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := WriteSTEP(full{}, []Solid{s}, label); !errors.Is(err, errFull) {
		t.Errorf("a full disk: %v", err)
	}
	if got := quoted("Ø 3 mm 'left' \\ 漢"); got != `'\X2\00D8\X0\ 3 mm ''left'' \\ \X2\6F22\X0\'` {
		t.Errorf("a text is written as %s", got)
	}
	for x, want := range map[float64]string{0: "0.", 1: "1.", -0.5: "-0.5", 1e-20: "1.E-20", 1.5e300: "1.5E+300"} {
		if number(x) != want {
			t.Errorf("%v is written as %s", x, number(x))
		}
	}
}
