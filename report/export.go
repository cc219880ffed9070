package report

import (
	"fmt"
	"math"
	"path/filepath"

	"jetwright/desk"
	"jetwright/quantity"
)

// export writes what an export writes, part by part and file by file.
func (p *page) export(a *desk.ExportAnswer) {
	p.heading("Parts: " + a.Label.Words())
	p.line("  no chord leaves its surface by more than %s; z is the axis, from intake to jet", p.placed(a.Tolerance, "mm", 3))
	weighed := false
	var rows [][]string
	for _, x := range a.Parts {
		q := x.Properties
		mass := "–"
		if q.Mass > 0 {
			mass, weighed = fmt.Sprintf("%.1f g", 1e3*q.Mass), true
		}
		rows = append(rows, []string{
			x.Name, p.placed(x.Size[0], "mm", 1) + " × " + p.placed(x.Size[1], "mm", 1) + " × " + p.placed(x.Size[2], "mm", 1),
			fmt.Sprintf("%.2f cm³", 1e6*q.Volume), fmt.Sprintf("%.1f cm²", 1e4*q.Area), mass, p.placed(q.Centre[2], "mm", 2),
			fmt.Sprintf("%.0f", 1e9*q.Inertia[2]), fmt.Sprint(x.Triangles),
		})
	}
	p.grid([]string{"", "size", "volume", "surface", "mass", "centre at z", "about z, g·mm²", "triangles"}, rows, 3, 4, 5, 6, 7, 8)
	if !weighed {
		p.prose("  ", "  ", "masses and moments of inertia are left out: type process.density, that of the part as made, filling and all")
	}
	for _, x := range a.Parts {
		if x.Name == "impeller" && x.Properties.Mass > 0 && !a.MassTyped {
			p.prose("  ", "  ", fmt.Sprintf("the checks of shaft and bearings estimate the impeller's mass: type impeller.mass = \"%.3g g\" for the one of these shapes", 1e3*x.Properties.Mass))
		}
		if x.Allowed > 0 {
			p.prose("  ", "  ", fmt.Sprintf("the %s as drawn is out of balance by %.2f g·mm; at %.0f rpm grade G 6.3 allows %.2f g·mm (ISO 21940-11), which what is printed has to be balanced to", x.Name, 1e6*x.Unbalance, quantity.MustUnit("rpm").FromSI(x.Speed), 1e6*x.Allowed))
		}
	}
	if a.Built {
		p.prose("  ", "  ", "the shapes are as drawn; what [built] says of finished parts is left out")
	}
	if a.Stretch != [3]float64{1, 1, 1} {
		p.prose("  ", "  ", fmt.Sprintf("meshes are stretched by %.4f, %.4f and %.4f along x, y and z for what the process shrinks; figures and solids are those of the finished part", a.Stretch[0], a.Stretch[1], a.Stretch[2]))
	}
	what := "Would be written to "
	if a.Written {
		what = "Written to "
	}
	p.heading(what + filepath.ToSlash(a.Out))
	rows = nil
	total := 0
	for _, f := range a.Files {
		rows = append(rows, []string{f.Name, kilobytes(f.Size), f.What})
		total += f.Size
	}
	rows = append(rows, []string{"together", kilobytes(total), ""})
	p.grid(nil, rows, 2)
}

func kilobytes(n int) string { return fmt.Sprintf("%.1f kB", float64(n)/1000) }

func (s Style) exportObject(a *desk.ExportAnswer) object {
	parts, files := []object{}, []object{}
	for _, x := range a.Parts {
		q := x.Properties
		o := object{
			{"name", x.Name},
			{"volume_cm3", round(1e6*q.Volume, 7)},
			{"area_cm2", round(1e4*q.Area, 7)},
			{"triangles", x.Triangles},
			{"size_mm", millis(x.Size)},
			{"centre_mm", millis(q.Centre)},
		}
		if q.Mass > 0 {
			o.add("mass_g", round(1e3*q.Mass, 6))
			o.add("inertia_g_mm2", inertias(q.Inertia))
		}
		if x.Allowed > 0 {
			o.add("unbalance_g_mm", round(1e6*x.Unbalance, 4))
			o.add("unbalance_allowed_g_mm", round(1e6*x.Allowed, 4))
		}
		parts = append(parts, o)
	}
	for _, f := range a.Files {
		files = append(files, object{{"name", f.Name}, {"bytes", f.Size}, {"what", f.What}})
	}
	return object{
		{"folder", a.Folder},
		{"out", filepath.ToSlash(a.Out)},
		{"written", a.Written},
		{"label", a.Label.Words()},
		{"tolerance_mm", round(1e3*a.Tolerance, 6)},
		{"stretch", a.Stretch},
		{"parts", parts},
		{"files", files},
		{"notices", notices(a.Notices)},
		{"cautions", cautionTexts(a.Cautions)},
	}
}

func millis(v [3]float64) [3]float64 {
	for i := range v {
		v[i] = math.Round(1e9*v[i]) / 1e6
	}
	return v
}

// inertias names the moments and products of inertia, in g·mm².
func inertias(x [6]float64) object {
	out := object{}
	for i, n := range [6]string{"xx", "yy", "zz", "xy", "yz", "zx"} {
		out.add(n, math.Round(1e13*x[i])/1e4)
	}
	return out
}
