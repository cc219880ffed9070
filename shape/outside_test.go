package shape

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
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
