package desk

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"jetwright/project"
	"jetwright/shape"
)

// pointsFile writes sections of a row laid flat, moved by some angle, as a file of points.
func pointsFile(t *testing.T, row shape.Row, hub, tip float64, spans []float64, steeper float64) string {
	t.Helper()
	var b strings.Builder
	b.WriteString("# from CAD\nsection; radius [mm]; along [mm]; downstream [mm]\n")
	for k, h := range spans {
		s, fault := row.Section(h)
		if fault != nil {
			t.Fatal(fault)
		}
		sin, cos := math.Sincos(steeper * row.Turn)
		for _, p := range s.Unrolled(40) {
			fmt.Fprintf(&b, "%d; %.6f; %.6f; %.6f\n", k+1, 1e3*(hub+h*(tip-hub)), 1e3*(p[0]*cos-p[1]*sin), 1e3*(p[0]*sin+p[1]*cos))
		}
	}
	path := filepath.Join(t.TempDir(), "points.csv")
	if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// Blades that came out a degree steeper than drawn are read as that, written under [built], and read again as drawn there. A part without
// sections gets them from the points.
func TestSectionsRead(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "lake")
	if err := New(folder, "lake-sled"); err != nil {
		t.Fatal(err)
	}
	p, err := project.Open(folder)
	if err != nil {
		t.Fatal(err)
	}
	d := p.Design.Nominal()
	row, drawn, err := rowOf(p, &d, "impeller")
	if err != nil || !drawn {
		t.Fatal(drawn, err)
	}
	hub, _ := row.Hub.At(row.Start)
	tip, _ := row.Tip.At(row.Start)
	path := pointsFile(t, row, hub, tip, []float64{0.04, 0.5, 0.9}, math.Pi/180)
	a, err := Sections(p, SectionsFlags{File: path, Part: "impeller", Write: true})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range a.Sections {
		f := &s.Fitted
		if math.Abs(f.Inlet-s.Drawn.Inlet-math.Pi/180) > 5e-4 || math.Abs(f.Outlet-s.Drawn.Outlet-math.Pi/180) > 5e-4 || math.Abs(f.Chord-s.Drawn.Chord) > 1e-5 || math.Abs(f.Thickness-s.Drawn.Thickness) > 1e-5 || f.Misfit > 2e-6 {
			t.Errorf("section %v: %+v of %+v", s.Number, f, s.Drawn)
		}
	}
	if !a.Written {
		t.Error("nothing was written")
	}
	now, err := project.Open(folder)
	if err != nil {
		t.Fatal(err)
	}
	text := string(now.Design.Document().Bytes())
	if !strings.Contains(text, "[built.impeller]") || !strings.Contains(text, "inlet_angle_offset") {
		t.Errorf("the design holds no [built]:\n%s", text)
	}
	is := now.Design.Nominal()
	for i, x := range is.Pump().Impeller.InletAngle {
		if y := d.Pump().Impeller.InletAngle[i]; math.Abs(x-y-math.Pi/180) > 1e-3 {
			t.Errorf("section %d as built is %.2f°, drawn %.2f°", i, x*180/math.Pi, y*180/math.Pi)
		}
	}
	// read again, they are what [built] says
	if a, err = Sections(now, SectionsFlags{File: path, Part: "impeller"}); err != nil {
		t.Fatal(err)
	}
	for _, s := range a.Sections {
		if math.Abs(s.Fitted.Inlet-s.Drawn.Inlet) > 1e-3 {
			t.Errorf("section %v, read again, is %.3f° off", s.Number, (s.Fitted.Inlet-s.Drawn.Inlet)*180/math.Pi)
		}
	}

	bare := filepath.Join(t.TempDir(), "sled")
	if err := New(bare, "rescue-sled"); err != nil {
		t.Fatal(err)
	}
	q, err := project.Open(bare)
	if err != nil {
		t.Fatal(err)
	}
	e := q.Design.Nominal()
	path = pointsFile(t, row, e.Impeller.HubDiameter/2, e.Impeller.Diameter/2, []float64{0, 0.3, 0.6, 1}, 0)
	if a, err = Sections(q, SectionsFlags{File: path, Part: "impeller", Write: true}); err != nil {
		t.Fatal(err)
	}
	if e = q.Design.Nominal(); a.Keys[0] != "impeller.span" || len(e.Pump().Impeller.InletAngle) != 4 {
		t.Errorf("sections of a part without any: %v %v", a.Keys, a.Texts)
	}
}

// Points whose axis runs the other way are told.
func TestSectionsTurned(t *testing.T) {
	p := lake(t)
	d := p.Design.Nominal()
	row, _, err := rowOf(p, &d, "impeller")
	if err != nil {
		t.Fatal(err)
	}
	for _, way := range []float64{1, -1} {
		var b strings.Builder
		b.WriteString("section, x [mm], y [mm], z [mm]\n")
		s, fault := row.Section(0.5)
		if fault != nil {
			t.Fatal(fault)
		}
		for _, q := range s.Points(40, way < 0) {
			fmt.Fprintf(&b, "1,%.5f,%.5f,%.5f\n", 1e3*q.Space[0], 1e3*q.Space[1], 1e3*way*q.Space[2])
		}
		file := filepath.Join(t.TempDir(), "points.csv")
		if err := os.WriteFile(file, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
		a, err := Sections(p, SectionsFlags{File: file, Part: "impeller"})
		if err != nil {
			t.Fatal(err)
		}
		if told := strings.Contains(a.Notices.Error(), "ends exchanged"); told != (way < 0) {
			t.Errorf("z along %g: %v", way, a.Notices)
		}
	}
}

// What export writes of blades between a hub and a casing that widen and narrow is read as drawn, turned about the axis and in inches too, and
// a degree more is read as that.
func TestSectionsConeExact(t *testing.T) {
	channel := "[channel]\naxial = [\"-40 mm\", \"0 mm\", \"40 mm\", \"120 mm\"]\nhub_radius = [\"12 mm\", \"14 mm\", \"18 mm\", \"18 mm\"]\ntip_radius = [\"42 mm\", \"42 mm\", \"42 mm\", \"41 mm\"]\n\n[craft]"
	p := lake(t, "[craft]", channel)
	steep := lake(t, "[craft]", channel, `"41.5 deg", "32.4 deg", "26.4 deg", "22.3 deg", "19.3 deg"`, `"42.5 deg", "33.4 deg", "27.4 deg", "23.3 deg", "20.3 deg"`)
	for _, c := range []struct {
		from *project.Project
		more float64 // of the inlet angle, degrees
		off  float64
	}{{p, 0, 0.01}, {steep, 1, 0.03}} {
		for _, part := range []string{"impeller", "stator"} {
			d := c.from.Design.Nominal()
			row, _, err := rowOf(c.from, &d, part)
			if err != nil {
				t.Fatal(err)
			}
			var b strings.Builder
			b.WriteString("section, x [in], y [in], z [in]\n")
			for i, h := range row.Places() {
				s, fault := row.Section(h)
				if fault != nil {
					t.Fatal(fault)
				}
				sin, cos := math.Sincos(2)
				for _, q := range s.Points(40, false) {
					x, y, z := q.Space[0]/0.0254, q.Space[1]/0.0254, q.Space[2]/0.0254
					fmt.Fprintf(&b, "%d,%.7f,%.7f,%.7f\n", i+1, x*cos-y*sin, x*sin+y*cos, z)
				}
			}
			file := filepath.Join(t.TempDir(), "points.csv")
			if err := os.WriteFile(file, []byte(b.String()), 0o644); err != nil {
				t.Fatal(err)
			}
			a, err := Sections(p, SectionsFlags{File: file, Part: part})
			if err != nil {
				t.Fatal(err)
			}
			for i, s := range a.Sections {
				more := c.more
				if part == "stator" {
					more = 0
				}
				if h := row.Places()[i]; math.Abs(s.Span-h) > 1e-4 {
					t.Errorf("%s, section %v lies at %.4f of the span, not at %.4f", part, s.Number, s.Span, h)
				}
				in, out := (s.Fitted.Inlet-s.Drawn.Inlet)*180/math.Pi, (s.Fitted.Outlet-s.Drawn.Outlet)*180/math.Pi
				if math.Abs(in-more) > c.off || math.Abs(out) > c.off || math.Abs(s.Fitted.Chord-s.Drawn.Chord) > 2e-5 || math.Abs(s.Fitted.Thickness-s.Drawn.Thickness) > 2e-5 {
					t.Errorf("%s, section %v: %+.3f° and %+.3f°, %+.3g mm of chord, %+.3g mm of thickness", part, s.Number, in, out, 1e3*(s.Fitted.Chord-s.Drawn.Chord), 1e3*(s.Fitted.Thickness-s.Drawn.Thickness))
				}
			}
		}
	}
}

// What cannot be read is named with its line.
func TestSectionsFaults(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "lake")
	if err := New(folder, "lake-sled"); err != nil {
		t.Fatal(err)
	}
	for text, want := range map[string]string{
		"a,b\n1,2\n":                                                                              "no line names its columns",
		"section, x [mm], y [mm]\n1,2,3\n":                                                        "it takes x, y and z",
		"section, x [mm], y [mm], z [mm]\n1,2,3\n":                                                "points.csv:2:1: the point has no z",
		"section, x [mm], y [mm], z [mm]\n1,0,0,3\n":                                              "points.csv:2:1: the point lies on the axis",
		"section, x [mm], y [mm], z [kg]\n1,0,0,3\n":                                              "is no unit of z",
		"section, radius [mm], along [mm], downstream [mm]\n1,30,0,three\n":                       "points.csv:2:8: downstream is",
		"section, radius [mm], along [mm], downstream [mm]\n1,30,0,1\n1,30,1,1\n":                 "points.csv:2:1: section 1: 2 points of a section",
		"section, radius [mm], along [mm], downstream [mm]\n" + strings.Repeat("1,300,0,1\n", 30): "between hub and tip of the impeller",
	} {
		path := filepath.Join(t.TempDir(), "points.csv")
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		if _, err := SectionsIn(folder, SectionsFlags{File: path, Part: "impeller"}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: want %q, got %v", text, want, err)
		}
	}
	if _, err := SectionsIn(folder, SectionsFlags{File: "x", Part: "hub"}); err == nil || !strings.Contains(err.Error(), "impeller or stator") {
		t.Error(err)
	}
}
