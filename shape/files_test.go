package shape

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// needed finds a tool of Debian's. Where ./check says that such tools are needed its absence is a fault.
func needed(t testing.TB, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		if os.Getenv("JETWRIGHT_GEOMETRY") == "needed" {
			t.Fatalf("%s is not found, and the tests of files need it", name)
		}
		t.Skipf("%s is not found", name)
	}
	return path
}

func output(t testing.TB, name string, args ...string) string {
	t.Helper()
	out, err := exec.Command(name, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s %s: %v\n%s", filepath.Base(name), strings.Join(args, " "), err, out)
	}
	return string(out)
}

// cuboid is a body of twelve triangles.
func cuboid(name string, x, y, z float64) Body3MF {
	b := Body3MF{Name: name}
	for i := range 8 {
		b.Points = append(b.Points, [3]float64{x * float64(i&1), y * float64(i>>1&1), z * float64(i>>2)})
	}
	for _, q := range [][4]int{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		b.Triangles = append(b.Triangles, [3]int{q[0], q[1], q[2]}, [3]int{q[0], q[2], q[3]})
	}
	return b
}

var label = About{Title: "a <test> & more", Lines: []string{"revision 003", "turns \"left\"", "not for use without a guard"}}

// COMPUTED: a 3MF file is read back part by part as it was written, units and names with it, the same bytes each time; and assimp, a
// general-purpose reader of many formats, finds the same bodies.
func TestThreeMFPublished(t *testing.T) {
	bodies := []Body3MF{cuboid("hub & nose", 0.02, 0.03, 0.04), cuboid("ring", 0.001, 0.001, 0.00012346)}
	var file, again bytes.Buffer
	if err := errors.Join(Write3MF(&file, bodies, label), Write3MF(&again, bodies, label)); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(file.Bytes(), again.Bytes()) {
		t.Error("written twice it differs")
	}
	z, err := zip.NewReader(bytes.NewReader(file.Bytes()), int64(file.Len()))
	if err != nil {
		t.Fatal(err)
	}
	part, err := z.Open("3D/3dmodel.model")
	if err != nil {
		t.Fatal(err)
	}
	text, _ := io.ReadAll(part)
	var model struct {
		Unit     string `xml:"unit,attr"`
		Metadata []struct {
			Name string `xml:"name,attr"`
			Text string `xml:",chardata"`
		} `xml:"metadata"`
		Objects []struct {
			Name     string `xml:"name,attr"`
			Vertices []struct {
				X, Y, Z float64
				XAttr   float64 `xml:"x,attr"`
				ZAttr   float64 `xml:"z,attr"`
			} `xml:"mesh>vertices>vertex"`
			Triangles []struct {
				V1 int `xml:"v1,attr"`
			} `xml:"mesh>triangles>triangle"`
		} `xml:"resources>object"`
		Items []struct {
			ID string `xml:"objectid,attr"`
		} `xml:"build>item"`
	}
	if err := xml.Unmarshal(text, &model); err != nil {
		t.Fatal(err)
	}
	if model.Unit != "millimeter" || len(model.Objects) != 2 || len(model.Items) != 2 || model.Objects[0].Name != "hub & nose" || len(model.Objects[1].Triangles) != 12 || len(model.Objects[1].Vertices) != 8 {
		t.Errorf("read back: %+v", model)
	}
	if v := model.Objects[1].Vertices[7]; v.XAttr != 1 || v.ZAttr != 0.1235 {
		t.Errorf("a corner at %v, %v mm", v.XAttr, v.ZAttr)
	}
	if model.Metadata[0].Text != label.Title || !strings.Contains(model.Metadata[1].Text, "without a guard") {
		t.Errorf("what it says of itself: %+v", model.Metadata)
	}
	path := filepath.Join(t.TempDir(), "x.3mf")
	if err := os.WriteFile(path, file.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	info := output(t, needed(t, "assimp"), "info", path)
	for _, want := range []string{"Meshes:             2", "Faces:              24"} {
		if !strings.Contains(info, want) {
			t.Errorf("assimp finds no %q:\n%s", want, info)
		}
	}
}

func TestThreeMFFaults(t *testing.T) {
	hollow := cuboid("hollow", 1, 1, 1)
	hollow.Triangles = nil
	astray := cuboid("astray", 1, 1, 1)
	astray.Triangles[3][1] = 8
	for want, bodies := range map[string][]Body3MF{"no body": nil, "hollow has no triangles": {hollow}, "triangle 3 of astray has no point 8": {astray}} {
		var b bytes.Buffer
		if err := Write3MF(&b, bodies, label); err == nil || !strings.Contains(err.Error(), want) || b.Len() > 0 {
			t.Errorf("%s: %v after %d bytes", want, err, b.Len())
		}
	}
	if err := Write3MF(full{}, []Body3MF{cuboid("a", 1, 1, 1)}, label); !errors.Is(err, errFull) {
		t.Errorf("a full disk: %v", err)
	}
	d := drawn()
	if err := d.WriteDXF(full{}, label); !errors.Is(err, errFull) {
		t.Errorf("a full disk: %v", err)
	}
}

var errFull = errors.New("no space left")

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errFull }

func drawn() *Drawing2D {
	var d Drawing2D
	d.Layer(Layer{Name: "OUTLINE", Colour: 7})
	d.Layer(Layer{Name: "AXIS", Colour: 5, Dashed: true})
	d.Polyline("OUTLINE", [][2]float64{{0, 0}, {0.03, 0}, {0.03, 0.02}, {0, 0.02}}, true)
	d.Polyline("AXIS", [][2]float64{{-0.01, 0}, {0.05, 0}}, false)
	d.Circle("OUTLINE", [2]float64{0.015, 0.01}, 0.004)
	d.Arc("OUTLINE", [2]float64{0.03, 0}, 0.005, 0, math.Pi/2)
	d.Text("OUTLINE", [2]float64{0, 0.03}, 0.0025, 0, "Ø 30 ± 0.1, 24.5° – left")
	return &d
}

// COMPUTED by ezdxf, a general-purpose library of DXF: it audits the file without an error and reads lengths, areas, layers and texts as drawn.
func TestDXFPublished(t *testing.T) {
	var file bytes.Buffer
	if err := drawn().WriteDXF(&file, label); err != nil {
		t.Fatal(err)
	}
	python := needed(t, "/usr/bin/python3")
	if exec.Command(python, "-c", "import ezdxf").Run() != nil {
		needed(t, "ezdxf")
	}
	path := filepath.Join(t.TempDir(), "x.dxf")
	if err := os.WriteFile(path, file.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	got := output(t, python, "-c", `
import sys, ezdxf
from ezdxf.math import area
d = ezdxf.readfile(sys.argv[1])
a = d.audit()
print("errors", len(a.errors), "fixes", len(a.fixes))
for e in d.modelspace():
    k = e.dxftype()
    more = ""
    if k == "POLYLINE":
        more = "%d points, closed %s, area %.6f" % (len(e.vertices), e.is_closed, abs(area([v.dxf.location for v in e.vertices])) if e.is_closed else 0)
    if k == "CIRCLE":
        more = "radius %.6f" % e.dxf.radius
    if k == "ARC":
        more = "from %g to %g" % (e.dxf.start_angle, e.dxf.end_angle)
    if k == "TEXT":
        more = ascii(e.plain_text())
    print(k, e.dxf.layer, more)
print([l.dxf.name + " " + l.dxf.linetype for l in d.layers])
print("extent", d.header["$EXTMIN"][0], d.header["$EXTMAX"][0], "units", d.header.get("$INSUNITS"))
`, path)
	for _, want := range []string{
		"errors 0 fixes 0", "POLYLINE OUTLINE 4 points, closed True, area 600.000000", "POLYLINE AXIS 2 points, closed False", "CIRCLE OUTLINE radius 4.000000",
		"ARC OUTLINE from 0 to 90", `\xd8 30 \xb1 0.1, 24.5\xb0 \\U+2013 left`, "OUTLINE CONTINUOUS", "AXIS DASHDOT", "extent -10.0 50.0",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("ezdxf reads no %q:\n%s", want, got)
		}
	}
}

func TestDXFFaults(t *testing.T) {
	for want, spoil := range map[string]func(*Drawing2D){
		"is no number": func(d *Drawing2D) { d.Polyline("AXIS", [][2]float64{{0, 0}, {math.NaN(), 0}}, false) },
		"no layer":     func(d *Drawing2D) { d.Circle("GHOST", [2]float64{}, 1) },
		"1 points":     func(d *Drawing2D) { d.Polyline("AXIS", [][2]float64{{0, 0}}, false) },
		"radius of 0":  func(d *Drawing2D) { d.Circle("AXIS", [2]float64{}, 0) },
		"other signs":  func(d *Drawing2D) { d.Layer(Layer{Name: "A B"}) },
	} {
		d := drawn()
		spoil(d)
		var b bytes.Buffer
		if err := d.WriteDXF(&b, label); err == nil || !strings.Contains(err.Error(), want) || b.Len() > 0 {
			t.Errorf("%s: %v after %d bytes", want, err, b.Len())
		}
	}
	if err := new(Drawing2D).WriteDXF(io.Discard, label); err == nil {
		t.Error("nothing was written as a drawing")
	}
}
