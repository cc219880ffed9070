package desk

import (
	"math"
	"strconv"
	"strings"

	"jetwright/drive"
	"jetwright/notice"
	"jetwright/project"
	"jetwright/quantity"
)

// SectionList is a list that a row of sections is typed by, in SI; Places are the decimal places that it is typed with in its unit.
type SectionList struct {
	Key    string
	Unit   quantity.Unit
	List   []float64
	Places int
}

// SectionLists are the lists that a row is typed by.
func SectionLists(r *drive.BladeRow) []SectionList {
	one, deg, mm := quantity.MustUnit("1"), quantity.MustUnit("deg"), quantity.MustUnit("mm")
	return []SectionList{{"span", one, r.Span, 3}, {"inlet_angle", deg, r.InletAngle, 2}, {"outlet_angle", deg, r.OutletAngle, 2}, {"chord", mm, r.Chord, 2}, {"thickness", mm, r.Thickness, 2}}
}

// SectionText writes numbers as they stand in a drive.toml, with commas between.
func SectionText(list []float64, u quantity.Unit, places int) string {
	var out []string
	ten := math.Pow(10, float64(places))
	for _, x := range list {
		n := strconv.FormatFloat(math.Round(u.FromSI(x)*ten)/ten, 'f', -1, 64)
		if !u.IsOne() {
			n = `"` + n + " " + u.Symbol + `"`
		}
		out = append(out, n)
	}
	return strings.Join(out, ", ")
}

// BladesWritten is what stands in a drive.toml now.
type BladesWritten struct {
	Folder  string
	Keys    []string
	Notices notice.List // of the design as it is now
}

// WriteBlades types sections that were found into the folder's design, all or none.
func WriteBlades(p *project.Project, a *BladesAnswer) (*BladesWritten, error) {
	d := a.Designed
	if d.Reason != "" {
		return nil, notice.List{{Kind: notice.Error, What: "these blades are not sound and are not written: " + d.Reason, WayOut: "look at them without --write"}}
	}
	var paths, texts []string
	put := func(path, text string) { paths, texts = append(paths, path), append(texts, text) }
	if _, typed := p.Design.TypedAt("impeller.grade"); typed {
		put("impeller.grade", drive.GradeBlades)
	}
	for i, r := range []*drive.BladeRow{&d.Pump.Impeller, &d.Pump.Stator} {
		if r.Blades == 0 {
			continue
		}
		part := []string{"impeller", "stator"}[i]
		put(part+".blades", strconv.Itoa(r.Blades))
		if i == 1 {
			put("stator.start", strings.Trim(SectionText([]float64{r.Start}, quantity.MustUnit("mm"), 1), `"`))
		}
		for _, l := range SectionLists(r) {
			put(part+"."+l.Key, "["+SectionText(l.List, l.Unit, l.Places)+"]")
		}
	}
	if err := p.SetAll(paths, texts); err != nil {
		return nil, err
	}
	return &BladesWritten{Folder: p.Folder, Keys: paths, Notices: p.Design.Notices()}, nil
}

// WriteBladesIn finds sections for a folder's duty and types them into its design.
func WriteBladesIn(folder string, asked BladesAsked) (*BladesWritten, error) {
	return in(folder, func(p *project.Project) (*BladesWritten, error) {
		a, err := BladesDesigned(p, asked)
		if err != nil {
			return nil, err
		}
		return WriteBlades(p, a)
	})
}
