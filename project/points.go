package project

import (
	"cmp"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"

	"jetwright/notice"
	"jetwright/quantity"
)

// pointColumns are the columns of a file of section points: in space, the axis of the drive along z, or on a section laid flat.
var pointColumns = []column{{"section", ""}, {"radius", "mm"}, {"along", "mm"}, {"downstream", "mm"}, {"x", "mm"}, {"y", "mm"}, {"z", "mm"}}

// pointsMost is how many points a file may have.
const pointsMost = 200_000

// SectionPoints are the points of one section's outline, laid flat.
type SectionPoints struct {
	Number float64 // as the file numbers it
	Line   int     // of its first point
	Radius float64 // of the surface that it lies on, m; at its middle where that is a cone
	Widens float64 // by how much of itself the radius grows from the first of its points along the axis to the last
	Points [][2]float64
	Space  [][3]float64 // the points as they were, m; nil where they came laid flat
	Lines  []int
}

// ReadSections reads the points of blade sections from a CSV file. A section that lies in space is laid flat about the axis in a way that
// keeps angles.
func ReadSections(file string) ([]SectionPoints, notice.List, error) {
	place := quantity.Place{File: filepath.ToSlash(file)}
	data, err := os.ReadFile(file)
	if err != nil {
		return nil, nil, notice.List{{Kind: notice.Error, Place: place, What: "it cannot be read: " + plain(err), WayOut: "name a CSV file with the points of sections"}}
	}
	var flat bool
	rows, _, err := readTable(data, place, pointColumns, "section, x [mm], y [mm], z [mm]", func(seen map[string]bool) string {
		space := seen["x"] && seen["y"] && seen["z"]
		flat = !space
		if space || seen["radius"] && seen["along"] && seen["downstream"] {
			return ""
		}
		return "it takes x, y and z of points in space, or radius, along and downstream of sections laid flat"
	}, func(name string, v float64) bool { return v > 0 || name != "radius" }, pointsMost)
	if err != nil {
		return nil, nil, err
	}
	need := []string{"x", "y", "z"}
	if flat {
		need = []string{"radius", "along", "downstream"}
	}
	var out []SectionPoints
	byNumber := map[float64]int{}
	for _, row := range rows {
		for _, k := range need {
			if _, ok := row.Figures[k]; !ok {
				at := place
				at.Line, at.Column = row.Line, 1
				return nil, nil, notice.List{{Kind: notice.Error, Place: at, What: "the point has no " + k, WayOut: "fill it in, or take the row out"}}
			}
		}
		number, numbered := row.Figures["section"]
		if !numbered && flat {
			number = row.Figures["radius"]
		}
		k, ok := byNumber[number]
		if !ok {
			k = len(out)
			byNumber[number] = k
			out = append(out, SectionPoints{Number: number, Line: row.Line})
		}
		s := &out[k]
		s.Lines = append(s.Lines, row.Line)
		if flat {
			s.Radius = row.Figures["radius"]
			s.Points = append(s.Points, [2]float64{row.Figures["along"], row.Figures["downstream"]})
			continue
		}
		x, y, z := row.Figures["x"], row.Figures["y"], row.Figures["z"]
		if math.Hypot(x, y) == 0 {
			at := place
			at.Line, at.Column = row.Line, 1
			return nil, nil, notice.List{{Kind: notice.Error, Place: at, What: "the point lies on the axis", Allowed: "points of blades, the axis of the drive along z through x = y = 0", WayOut: "move the part so that it turns about z"}}
		}
		s.Space = append(s.Space, [3]float64{x, y, z})
	}
	var notices notice.List
	for k := range out {
		if flat {
			break
		}
		s := &out[k]
		worst := s.layFlat()
		if worst > 0.01*s.Radius {
			notices = append(notices, notice.Notice{
				Kind: notice.Warning, Place: quantity.Place{File: place.File, Line: s.Line, Column: 1}, What: fmt.Sprintf("points of section %v lie up to %.2g mm off one cylinder or cone", s.Number, 1e3*worst),
				Allowed: "points where a cylinder or cone about the axis cuts the blade", WayOut: "cut the blade with a cylinder in CAD; a flat cut bends the section",
			})
		}
	}
	slices.SortStableFunc(out, func(a, b SectionPoints) int { return cmp.Compare(a.Radius, b.Radius) })
	return out, notices, nil
}

// LayFlat lays points in space flat as those of a file are, x, y, z in m with z along the axis.
func LayFlat(space [][3]float64) SectionPoints {
	s := SectionPoints{Space: space}
	s.layFlat()
	return s
}

// layFlat fills in the points laid flat, and returns by how much those in space leave one cylinder or cone, m.
func (s *SectionPoints) layFlat() (worst float64) {
	type polar struct{ theta, r, z float64 }
	var points []polar
	for i, x := range s.Space {
		p := polar{math.Atan2(x[1], x[0]), math.Hypot(x[0], x[1]), x[2]}
		if i > 0 { // on from the point before, past half a turn as well
			last := points[i-1].theta
			p.theta = last + math.Remainder(p.theta-last, 2*math.Pi)
		}
		points = append(points, p)
	}
	low, high := points[0], points[0]
	s.Radius = 0
	for _, p := range points {
		s.Radius += p.r / float64(len(points))
		if p.z < low.z {
			low = p
		}
		if p.z > high.z {
			high = p
		}
	}
	s.Widens = (high.r - low.r) / s.Radius
	// the meridional way on a cone, in proportion to the radius there, so that angles stay
	slope := 0.0
	if high.z > low.z {
		slope = (high.r - low.r) / (high.z - low.z)
	}
	for _, p := range points {
		along := p.z - low.z
		if slope != 0 {
			along = math.Log(1+slope*(p.z-low.z)/low.r) / slope * s.Radius
		}
		worst = max(worst, math.Abs(low.r+slope*(p.z-low.z)-p.r))
		s.Points = append(s.Points, [2]float64{s.Radius * p.theta, along * math.Hypot(1, slope)})
	}
	return worst
}

// SetAll writes values of the design back together, or none of them, with everything around them as it was.
func (p *Project) SetAll(paths, texts []string) error {
	d, err := p.Design.WithAll(paths, texts)
	if err != nil {
		return err
	}
	if err := replace(output{path: filepath.Join(p.Folder, DesignFile), data: d.Document().Bytes(), guarded: true, was: p.Design.Document().Bytes()}); err != nil {
		return err
	}
	p.Design = d
	return nil
}
