package shape

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// admesh counts the faults of a binary STL file and repairs them; of a sound file it repairs nothing.
func admesh(t *testing.T, m *Mesh) (volume float64) {
	t.Helper()
	needed(t, "admesh")
	file := filepath.Join(t.TempDir(), "part.stl")
	var b bytes.Buffer
	if err := m.STL(&b, "a test"); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	said, err := exec.Command("admesh", "--nearby", "--remove-unconnected", "--normal-directions", "--normal-values", file).CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, said)
	}
	number := func(pattern string) float64 {
		found := regexp.MustCompile(pattern).FindSubmatch(said)
		if found == nil {
			t.Fatalf("admesh says nothing of %q:\n%s", pattern, said)
		}
		x, err := strconv.ParseFloat(string(found[1]), 64)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	if n := number(`Number of facets\s+:\s+(\d+)`); n != float64(len(m.Triangles)) {
		t.Errorf("admesh reads %v triangles of %d", n, len(m.Triangles))
	}
	for _, line := range []string{"Facets with 1 disconnected edge", "Facets with 2 disconnected edges", "Facets with 3 disconnected edges", "Total disconnected facets"} {
		if n := number(line + `\s+:\s+(\d+)`); n != 0 {
			t.Errorf("admesh, original: %s: %v", line, n)
		}
	}
	for _, line := range []string{"Degenerate facets", "Edges fixed", "Facets removed", "Facets added", "Facets reversed", "Backwards edges"} {
		if n := number(line + `\s+:\s+(\d+)`); n != 0 {
			t.Errorf("admesh: %s: %v\n%s", line, n, said)
		}
	}
	return number(`Volume\s+:\s+([-0-9.e+]+)`)
}

// Every part's STL has no fault for admesh (SEEN: its own report), which finds the volume that we do.
func TestSTLOutside(t *testing.T) {
	for name, p := range someParts() {
		for _, tolerance := range []float64{1e-4, 2e-5} {
			m, f := p.Mesh(tolerance)
			if f != nil {
				t.Fatal(f)
			}
			t.Run(name, func(t *testing.T) {
				near(t, "volume, mm³", admesh(t, m), m.Properties(1).Volume*1e9, m.Properties(1).Volume*1e9*1e-4)
			})
		}
	}
}

// The STL of all parts at 0.02 mm, and how the time grows with the triangles.
func BenchmarkSTL(b *testing.B) {
	for _, tolerance := range []float64{1e-4, 2e-5, 5e-6} {
		b.Run(fmt.Sprintf("%gmm", 1e3*tolerance), func(b *testing.B) {
			triangles := 0
			for b.Loop() {
				triangles = 0
				for _, p := range []mesher{someImpeller(), someStator(), someDuct(), someNozzle()} {
					m, f := p.Mesh(tolerance)
					if f != nil {
						b.Fatal(f)
					}
					if err := m.Closed(); err != nil {
						b.Fatal(err)
					}
					if err := m.STL(io.Discard, "a test"); err != nil {
						b.Fatal(err)
					}
					triangles += len(m.Triangles)
				}
			}
			b.ReportMetric(float64(triangles), "triangles")
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(triangles), "ns/triangle")
		})
	}
}

// assimp reads the 3MF and finds the triangles; ezdxf finds no fault in the drawings.
func TestFilesOutside(t *testing.T) {
	assimp, ezdxf := needed(t, "assimp"), needed(t, "ezdxf")
	folder := t.TempDir()
	save := func(name string, write func(w io.Writer) error) string {
		var b bytes.Buffer
		if err := write(&b); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		file := filepath.Join(folder, name)
		if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		return file
	}
	about := About{Title: "a test", Lines: []string{"not for use without a guard"}}
	for name, p := range someParts() {
		m, f := p.Mesh(1e-4)
		if f != nil {
			t.Fatal(f)
		}
		body := Body3MF{Name: name}
		for _, v := range m.Points {
			body.Points = append(body.Points, v)
		}
		for _, x := range m.Triangles {
			body.Triangles = append(body.Triangles, [3]int{int(x[0]), int(x[1]), int(x[2])})
		}
		file := save(name+".3mf", func(w io.Writer) error { return Write3MF(w, []Body3MF{body}, about) })
		if said := output(t, assimp, "info", file); !regexp.MustCompile(fmt.Sprintf(`Faces:\s+%d\b`, len(m.Triangles))).MatchString(said) {
			t.Errorf("%s: assimp does not find %d triangles: %s", name, len(m.Triangles), said)
		}
		d, err := p.(interface{ Drawing() (*Drawing2D, error) }).Drawing()
		if err != nil {
			t.Fatal(err)
		}
		file = save(name+".dxf", func(w io.Writer) error { return d.WriteDXF(w, about) })
		if said := output(t, ezdxf, "audit", file); !strings.Contains(said, "No errors found") {
			t.Errorf("%s: %s", name, said)
		}
		svg, err := os.ReadFile(save(name+".svg", func(w io.Writer) error { return d.WriteSVG(w, about) }))
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Contains(svg, []byte("not for use without a guard")) || bytes.Contains(svg, []byte("NaN")) {
			t.Errorf("%s.svg", name)
		}
		if err := xml.Unmarshal(svg, new(struct{})); err != nil {
			t.Errorf("%s.svg: %v", name, err)
		}
	}
	for _, r := range []*Row{&someImpeller().Row, &someStator().Row} {
		d, err := r.Sections(true)
		if err != nil {
			t.Fatal(err)
		}
		file := save(r.Name+"-sections.dxf", func(w io.Writer) error { return d.WriteDXF(w, about) })
		if said := output(t, ezdxf, "audit", file); !strings.Contains(said, "No errors found") {
			t.Errorf("%s: %s", r.Name, said)
		}
	}
}
