package desk

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"

	"jetwright/drive"
	"jetwright/notice"
	"jetwright/project"
	"jetwright/quantity"
	"jetwright/shape"
)

// shapesFolder is where in the drive's folder an export goes.
const shapesFolder = "shapes"

// ExportFlags are what an export is asked for, as typed.
type ExportFlags struct {
	Out       string   // folder; shapes in the drive's own if empty
	Parts     []string // all of them if empty
	Formats   []string // all of them if empty
	Tolerance string   // of chords, with its unit; the design's if empty
	Mirror    bool     // the other hand of rotation
	Plan      bool     // only say what would be written
}

// ExportAnswer is what an export writes.
type ExportAnswer struct {
	Folder    string
	Out       string
	Label     ExportLabel
	Tolerance float64 // of chords, m
	Parts     []ExportedPart
	Files     []ExportedFile
	Stretch   [3]float64 // of meshes, for the printer's shrinkage
	Written   bool
	Built     bool // finished parts were measured; the shapes are as drawn all the same
	MassTyped bool // the impeller's mass stands in the design
	Notices   notice.List
	Cautions  []Caution
}

// ExportLabel is what every file carries.
type ExportLabel struct {
	Drive    string
	Revision string // "revision 003", or what it is that is not frozen
	Hand     string // right-handed or left-handed
	Grade    string // of the model behind the blades
}

// guard is carried by every file and drawing.
const guard = "not for use without a guard"

// Words are the label as a sentence.
func (l *ExportLabel) Words() string {
	return fmt.Sprintf("%s, %s, %s, %s; %s", l.Drive, l.Revision, l.Hand, l.Grade, guard)
}

// ExportedPart is a part with its mass properties, as it is drawn, without what is added for the printer.
type ExportedPart struct {
	Name       string
	Triangles  int
	Properties shape.Properties // the mass is 0 without a density
	Size       [3]float64       // of the box round it, m
	Unbalance  float64          // of a rotor, kg·m
	Allowed    float64          // of that, kg·m; 0 where none is judged
	Speed      float64          // that it is allowed at, rad/s
}

// ExportedFile is one file.
type ExportedFile struct {
	Name, What string
	Size       int
	data       []byte
}

// exportPart is a part that can be meshed.
type exportPart struct {
	name string
	of   interface {
		Mesh(tolerance float64) (*shape.Mesh, *shape.Fault)
		Solids(run float64, mirror bool) ([]shape.Solid, error)
		Drawing() (*shape.Drawing2D, error)
	}
	row   *shape.Row // of parts with blades
	mesh  *shape.Mesh
	print *shape.Mesh // the same for the printer
	err   error
}

// settle turns a mesh to the hand that is asked for; what was built is for a rotor that turns counterclockwise seen from behind.
func (x *exportPart) settle(left bool) error {
	if x.err == nil && !left {
		x.mesh = x.mesh.Transformed(shape.Vec{1, -1, 1})
	}
	return x.err
}

// partsOf are the parts that are named, in their order; a stator that is not there is left out.
func partsOf(s *drive.Shapes, names []string) []exportPart {
	var out []exportPart
	for _, name := range ExportParts() {
		if !slices.Contains(names, name) {
			continue
		}
		switch name {
		case "impeller":
			out = append(out, exportPart{name: name, of: s.Impeller, row: &s.Impeller.Row})
		case "stator":
			if s.Stator != nil {
				out = append(out, exportPart{name: name, of: s.Stator, row: &s.Stator.Row})
			}
		case "duct":
			out = append(out, exportPart{name: name, of: s.Duct})
		case "nozzle":
			out = append(out, exportPart{name: name, of: s.Nozzle})
		}
	}
	return out
}

// PartName is a part that can be looked at.
type PartName struct{ Name, Title string }

// shownTolerance is how far the mesh of a part on the page may leave its surface, m.
const shownTolerance = 0.1e-3

// Solids are the parts that a drive has as shapes.
func Solids(p *project.Project) ([]PartName, error) {
	d := p.Design.AsDrawn()
	s, err := d.Shapes()
	if err != nil {
		return nil, misshapen(p, err)
	}
	titles := map[string]string{"impeller": "impeller", "stator": "stator with ring and cone", "duct": "casing", "nozzle": "nozzle"}
	var out []PartName
	for _, x := range partsOf(s, ExportParts()) {
		out = append(out, PartName{x.name, titles[x.name]})
	}
	return out, nil
}

// Solid is a part as binary STL to be looked at, as it is drawn.
func Solid(p *project.Project, name string) ([]byte, error) {
	d := p.Design.AsDrawn()
	d.Process.HoleCompensation = 0
	s, err := d.Shapes()
	if err != nil {
		return nil, misshapen(p, err)
	}
	list := partsOf(s, []string{name})
	if len(list) == 0 {
		return nil, notice.List{{Kind: notice.Error, What: fmt.Sprintf("there is no part %q", name), Allowed: "it takes " + strings.Join(ExportParts(), ", ")}}
	}
	meshes(list, shownTolerance)
	if err := list[0].settle(s.Left); err != nil {
		return nil, misshapen(p, err)
	}
	var b bytes.Buffer
	if err := list[0].mesh.STL(&b, name+" to be looked at, "+guard); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// exportFormats are the kinds of file, in the order in which they are written.
var exportFormats = []struct {
	name  string
	write func(a *ExportAnswer, s *drive.Shapes, parts []exportPart) ([]ExportedFile, error)
}{
	{"stl", exportSTL},
	{"3mf", export3MF},
	{"step", exportSTEP},
	{"dxf", exportDXF},
	{"svg", exportSVG},
	{"csv", exportCSV},
}

// ExportFormats are the names of the kinds of file.
func ExportFormats() []string {
	var out []string
	for _, f := range exportFormats {
		out = append(out, f.name)
	}
	return out
}

// ExportParts are the names of the parts.
func ExportParts() []string { return []string{"impeller", "stator", "duct", "nozzle"} }

// residualGrade is the balance quality grade of pump impellers, m/s.
const residualGrade = 6.3e-3

// UnbalanceAllowed returns the residual unbalance that a rotor is allowed, in kg·m.
//
//	U = G·m/Ω
//
//	G  balance quality grade, m/s: 6.3 mm/s for pump impellers
//	m  mass, kg
//	Ω  rotor speed, rad/s
//
// Holds for rigid rotors.
//
// Source: iso-21940-11. Tests: TestUnbalancePublished.
func UnbalanceAllowed(mass, speed float64) float64 { return residualGrade * mass / speed }

// Export works out the parts of a drive and writes them, all files or none.
func Export(p *project.Project, f ExportFlags) (*ExportAnswer, error) {
	d := p.Design.AsDrawn()
	if f.Mirror {
		d.HubMaking.Hand = map[string]string{"right": "left", "left": "right"}[d.HubMaking.Hand]
	}
	a := &ExportAnswer{Folder: p.Folder, Out: f.Out, Tolerance: d.Process.ChordTolerance, Cautions: bladeCautions(&d)}
	if a.Out == "" {
		a.Out = filepath.Join(p.Folder, shapesFolder)
	}
	var faults notice.List
	choose := func(flag string, asked, known []string) []string {
		for _, x := range asked {
			if !slices.Contains(known, x) {
				faults = append(faults, notice.Notice{Kind: notice.Error, What: fmt.Sprintf("--%s has %q", flag, x), Allowed: "it takes " + strings.Join(known, ", ")})
			}
		}
		if len(asked) == 0 {
			return known
		}
		return asked
	}
	parts, formats := choose("parts", f.Parts, ExportParts()), choose("formats", f.Formats, ExportFormats())
	if f.Tolerance != "" {
		v, err := quantity.ParseIn(f.Tolerance, quantity.MustUnit("mm"))
		switch {
		case err != nil:
			faults = append(faults, notice.Notice{Kind: notice.Error, What: fmt.Sprintf("--tolerance %q: %v", f.Tolerance, err)})
		case !(v.Nominal() >= 1e-6 && v.Nominal() <= 2e-3):
			faults = append(faults, notice.Notice{Kind: notice.Error, What: "--tolerance is " + f.Tolerance, Allowed: "it takes 0.001 mm to 2 mm", WayOut: "0.02 mm is finer than a printer's layer"})
		default:
			a.Tolerance = v.Nominal()
		}
	}
	if err := faults.Fatal(); err != nil {
		return nil, err
	}
	a.Label, a.Built = labelOf(p, &d), p.Design.HasBuilt()
	_, a.MassTyped = p.Design.TypedAt("impeller.mass")
	// what is drawn, and what the printer is given: with holes wider by what they come out smaller
	drawn := d
	drawn.Process.HoleCompensation = 0
	s, err := drawn.Shapes()
	if err != nil {
		return nil, misshapen(p, err)
	}
	a.Notices = append(a.Notices, p.Notices...)
	for _, n := range s.Notices {
		a.Notices = append(a.Notices, placed(p, n, n.Path))
	}
	if s.Stator == nil && slices.Contains(f.Parts, "stator") {
		return nil, notice.List{{Kind: notice.Error, Path: "stator.inlet_angle", What: "there is no stator with sections", WayOut: "type inlet_angle, outlet_angle, chord and thickness under [stator]"}}
	}
	pr := &d.Process
	a.Stretch = [3]float64{1 / (1 - pr.ShrinkageX), 1 / (1 - pr.ShrinkageY), 1 / (1 - pr.ShrinkageZ)}
	list := partsOf(s, parts)
	meshes(list, a.Tolerance)
	if pr.HoleCompensation != 0 && (slices.Contains(formats, "stl") || slices.Contains(formats, "3mf")) {
		wide, err := d.Shapes()
		if err != nil {
			return nil, misshapen(p, err)
		}
		wider := partsOf(wide, parts)
		meshes(wider, a.Tolerance)
		for i := range wider {
			if err := wider[i].settle(s.Left); err != nil {
				return nil, misshapen(p, err)
			}
			list[i].print = wider[i].mesh
		}
	}
	for i := range list {
		x := &list[i]
		if err := x.settle(s.Left); err != nil {
			return nil, misshapen(p, err)
		}
		if x.print == nil {
			x.print = x.mesh
		}
		e := ExportedPart{Name: x.name, Triangles: len(x.mesh.Triangles), Properties: x.mesh.Properties(pr.Density.Or(0))}
		low, high := x.mesh.Bounds()
		e.Size = high.Minus(low)
		if x.name == "impeller" && pr.Density.Set {
			c := e.Properties.Centre
			e.Unbalance = e.Properties.Mass * math.Hypot(c[0], c[1])
			now := p.Design.Nominal()
			if m, err := now.Resolve(); err == nil {
				if st, err := m.Solve(now.DutyCondition()); err == nil {
					e.Speed = st.RotorSpeed
					e.Allowed = UnbalanceAllowed(e.Properties.Mass, e.Speed)
				}
			}
		}
		a.Parts = append(a.Parts, e)
	}
	for _, kind := range exportFormats {
		if !slices.Contains(formats, kind.name) {
			continue
		}
		files, err := kind.write(a, s, list)
		if err != nil {
			return nil, misshapen(p, err)
		}
		a.Files = append(a.Files, files...)
	}
	if f.Plan {
		return a, nil
	}
	var out []project.File
	for _, x := range a.Files {
		out = append(out, project.File{Name: x.Name, Data: x.data})
	}
	if err := project.SaveIn(a.Out, out); err != nil {
		return nil, err
	}
	a.Written = true
	return a, nil
}

// ExportIn answers Export for a folder.
func ExportIn(folder string, f ExportFlags) (*ExportAnswer, error) {
	return in(folder, func(p *project.Project) (*ExportAnswer, error) { return Export(p, f) })
}

// meshes makes the meshes of parts, as many at once as there are processors.
func meshes(list []exportPart, tolerance float64) {
	var wait sync.WaitGroup
	free := make(chan struct{}, runtime.GOMAXPROCS(0))
	for i := range list {
		wait.Go(func() {
			free <- struct{}{}
			defer func() { <-free }()
			m, f := list[i].of.Mesh(tolerance)
			if f != nil {
				list[i].err = f
				return
			}
			if err := m.Closed(); err != nil {
				list[i].err = fmt.Errorf("the mesh of the %s is not closed (%w); nothing was written. This is a fault of the program: please report it with the folder", list[i].name, err)
				return
			}
			list[i].mesh = m
		})
	}
	wait.Wait()
}

// labelOf says of which drive and revision the parts are.
func labelOf(p *project.Project, d *drive.Drive) ExportLabel {
	l := ExportLabel{Revision: "not frozen", Hand: d.HubMaking.Hand + "-handed", Grade: "model: " + d.Impeller.Grade}
	if abs, err := filepath.Abs(p.Folder); err == nil {
		l.Drive = filepath.Base(abs)
	}
	frozen, _, err := p.Revisions()
	if err != nil {
		return l
	}
	for i := len(frozen) - 1; i >= 0; i-- {
		if r := &frozen[i]; r.Design != nil {
			l.Revision = "revision " + r.Name
			if len(p.Design.Differences(r.Design)) > 0 {
				l.Revision += " with changes"
			}
			break
		}
	}
	return l
}

// slug is the revision as a file's name has it.
func (l *ExportLabel) slug() string {
	switch {
	case l.Revision == "not frozen":
		return "draft"
	case strings.HasSuffix(l.Revision, " with changes"):
		return strings.TrimSuffix(strings.TrimPrefix(l.Revision, "revision "), " with changes") + "-changed"
	}
	return strings.TrimPrefix(l.Revision, "revision ")
}

// line is what the 80 bytes at the head of an STL file take of a part's label; a long name of a revision is cut, the rest never.
func (l *ExportLabel) line(part string) string {
	most := 80 - len(part) - len(l.Hand) - len(l.Grade) - len(guard) - len("    ")
	revision := l.Revision
	if len(revision) > most {
		revision = l.slug()
	}
	if len(revision) > most {
		revision = strings.ToValidUTF8(revision[:most], "")
	}
	return fmt.Sprintf("%s %s %s %s %s", part, revision, l.Hand, l.Grade, strings.ToUpper(guard))
}

// misshapen words why a shape cannot be made, with its place in the design.
func misshapen(p *project.Project, err error) error {
	var f *shape.Fault
	if !errors.As(err, &f) {
		return err
	}
	n := placed(p, notice.Notice{Kind: notice.Error, Path: f.Path, What: f.What, Allowed: f.Allowed, WayOut: f.WayOut}, f.Path)
	if n.Place.Line == 0 && f.Path != "" { // what is wrong was not typed
		n.Place = quantity.Place{File: project.DesignFile}
		n.What = f.Path + ": " + n.What
	}
	return notice.List{n}
}

// about is what a file says of itself.
func (a *ExportAnswer) about(title string) shape.About {
	l := &a.Label
	return shape.About{Title: l.Drive + ", " + title, Lines: []string{
		l.Revision, l.Hand, l.Grade, strings.ToUpper(guard[:1]) + guard[1:], "Lengths in mm. An unproven impeller runs behind a guard; local codes and licensed practice go before this file.",
	}}
}

// file is one of the export's files, by part and kind.
func (a *ExportAnswer) file(name, ending, what string, data []byte) ExportedFile {
	return ExportedFile{Name: name + "-" + a.Label.slug() + ending, What: what, Size: len(data), data: data}
}

// stretched is a part's mesh as the printer gets it.
func (a *ExportAnswer) stretched(m *shape.Mesh) *shape.Mesh {
	if a.Stretch == [3]float64{1, 1, 1} {
		return m
	}
	return m.Transformed(a.Stretch)
}

// exportSTL writes each part's mesh.
func exportSTL(a *ExportAnswer, _ *drive.Shapes, parts []exportPart) ([]ExportedFile, error) {
	var out []ExportedFile
	for _, x := range parts {
		m := a.stretched(x.print)
		var b bytes.Buffer
		if err := m.STL(&b, a.Label.line(x.name)); err != nil {
			return nil, err
		}
		out = append(out, a.file(x.name, ".stl", fmt.Sprintf("%d triangles", len(m.Triangles)), b.Bytes()))
	}
	return out, nil
}

// export3MF writes each part's mesh with unit and name.
func export3MF(a *ExportAnswer, _ *drive.Shapes, parts []exportPart) ([]ExportedFile, error) {
	var out []ExportedFile
	for _, x := range parts {
		m := a.stretched(x.print)
		body := shape.Body3MF{Name: x.name, Points: make([][3]float64, len(m.Points)), Triangles: make([][3]int, len(m.Triangles))}
		for i, p := range m.Points {
			body.Points[i] = p
		}
		for i, t := range m.Triangles {
			body.Triangles[i] = [3]int{int(t[0]), int(t[1]), int(t[2])}
		}
		var b bytes.Buffer
		if err := shape.Write3MF(&b, []shape.Body3MF{body}, a.about(x.name)); err != nil {
			return nil, err
		}
		out = append(out, a.file(x.name, ".3mf", fmt.Sprintf("%d triangles, with unit and name", len(m.Triangles)), b.Bytes()))
	}
	return out, nil
}

// exportSTEP writes each part as solids.
func exportSTEP(a *ExportAnswer, s *drive.Shapes, parts []exportPart) ([]ExportedFile, error) {
	var out []ExportedFile
	for _, x := range parts {
		solids, err := x.of.Solids(s.Run, !s.Left)
		if err != nil {
			return nil, err
		}
		var b bytes.Buffer
		if err := shape.WriteSTEP(&b, solids, a.about(x.name)); err != nil {
			return nil, err
		}
		what := "1 solid"
		if len(solids) > 1 {
			what = fmt.Sprintf("%d solids that overlap by %s mm: unite them in CAD", len(solids), trimmed(1e3*s.Run))
		}
		out = append(out, a.file(x.name, ".step", what, b.Bytes()))
	}
	return out, nil
}

func trimmed(x float64) string { return strconv.FormatFloat(x, 'g', 4, 64) }

// exportDrawings writes the drawings by a writer: the long section, the parts with their dimensions, the sections unrolled.
func exportDrawings(a *ExportAnswer, s *drive.Shapes, parts []exportPart, ending string, write func(d *shape.Drawing2D, w io.Writer, about shape.About) error) ([]ExportedFile, error) {
	var out []ExportedFile
	add := func(name, what string, d *shape.Drawing2D, err error) error {
		if err != nil {
			return err
		}
		var b bytes.Buffer
		if err := write(d, &b, a.about(what)); err != nil {
			return err
		}
		out = append(out, a.file(name, ending, what, b.Bytes()))
		return nil
	}
	long, err := shape.LongSection(s.Impeller, s.Stator, s.Duct, s.Nozzle)
	if err := add("long-section", "long section of all parts", long, err); err != nil {
		return nil, err
	}
	for _, x := range parts {
		d, err := x.of.Drawing()
		if err := add(x.name, x.name+" with its dimensions", d, err); err != nil {
			return nil, err
		}
		if x.row == nil {
			continue
		}
		d, err = x.row.Sections(!s.Left)
		if err := add(x.name+"-sections", "sections of the "+x.name+"'s blades, unrolled", d, err); err != nil {
			return nil, err
		}
	}
	return out, nil
}

func exportDXF(a *ExportAnswer, s *drive.Shapes, parts []exportPart) ([]ExportedFile, error) {
	return exportDrawings(a, s, parts, ".dxf", (*shape.Drawing2D).WriteDXF)
}

func exportSVG(a *ExportAnswer, s *drive.Shapes, parts []exportPart) ([]ExportedFile, error) {
	return exportDrawings(a, s, parts, ".svg", (*shape.Drawing2D).WriteSVG)
}

// sectionPoints is how many points a side of a section has in a table.
const sectionPoints = 60

// exportCSV writes the points of each section.
func exportCSV(a *ExportAnswer, s *drive.Shapes, parts []exportPart) ([]ExportedFile, error) {
	var out []ExportedFile
	for _, x := range parts {
		if x.row == nil {
			continue
		}
		var b bytes.Buffer
		about := a.about("sections of the " + x.name + "'s blades")
		for _, l := range append([]string{about.Title}, about.Lines...) {
			fmt.Fprintf(&b, "# %s\n", l)
		}
		b.WriteString("# along and downstream lie on the stream surface laid flat, from the leading edge: round the circumference and along the axis; x, y, z stand in space, z along the axis\n")
		if x.row.Flare > 0 {
			fmt.Fprintf(&b, "# sections as made, with the flare of %s mm at the roots, and a few more there\n", trimmed(1e3*x.row.Flare))
		}
		b.WriteString("section,span,radius [mm],along [mm],downstream [mm],x [mm],y [mm],z [mm]\n")
		n := 0
		places := x.row.MadePlaces()
		for i, h := range places {
			c, f := x.row.Section(h)
			if f != nil {
				return nil, f
			}
			for _, p := range c.Points(sectionPoints, !s.Left) {
				n++
				fmt.Fprintf(&b, "%d,%s,%.4f,%.4f,%.4f,%.4f,%.4f,%.4f\n", i+1, trimmed(h), 1e3*c.Radius, 1e3*p.Flat[0], 1e3*p.Flat[1], 1e3*p.Space[0], 1e3*p.Space[1], 1e3*p.Space[2])
			}
		}
		out = append(out, a.file(x.name+"-sections", ".csv", fmt.Sprintf("%d points of %d sections", n, len(places)), b.Bytes()))
	}
	return out, nil
}
