package desk

import (
	"math"
	"strconv"
	"strings"

	"jetwright/design"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/notice"
	"jetwright/project"
	"jetwright/quantity"
)

// SheetAnswer is every number of a design, as a builder may change it.
type SheetAnswer struct {
	Folder  string
	Fields  []SheetField
	Notices notice.List
}

// SheetField is one number or word of a design.
type SheetField struct {
	Path, Part, Name string
	Doc              string
	Kind             string // "number", "whole", "flag", "words", "text" or "list"
	Text             string // as typed, or as assumed; empty if nothing stands for it
	Origin           string // "typed", "assumed", "built" or "left out"
	Drawn            string // text as drawn, where a built one overlays it
	Place            string // where it is typed
	Source           string // of what is assumed
	Unit             quantity.Unit
	Choices          []string
	Allowed          string // what is possible, in its unit
	Assumed          string // what stands for it if it is not typed
	Required         bool
	Value            Figure // of numbers that are known
	Known            bool
	Step             float64 // SI, for changing it by hand
	Uncertain        bool
}

var kindNames = map[quantity.FieldKind]string{
	quantity.KindNumber: "number", quantity.KindOptional: "number", quantity.KindWhole: "whole", quantity.KindFlag: "flag", quantity.KindList: "list",
}

// Sheet answers what a design's numbers are and where they come from.
func Sheet(p *project.Project) *SheetAnswer {
	a := &SheetAnswer{Folder: p.Folder, Notices: p.Notices}
	d := p.Design
	for _, f := range design.Schema().Fields() {
		a.Fields = append(a.Fields, sheetField(d, f))
	}
	for _, e := range d.Document().Entries() {
		if !strings.HasPrefix(e.Path, "coolant[") {
			continue
		}
		if f, ok := d.Field(e.Path); ok {
			f.Path = e.Path
			a.Fields = append(a.Fields, sheetField(d, f))
		}
	}
	return a
}

func sheetField(d *design.Design, f quantity.Field) SheetField {
	out := SheetField{Path: f.Path, Part: f.Section, Name: strings.ReplaceAll(f.Key, "_", " "), Doc: f.Doc, Kind: kindNames[f.Kind], Unit: f.Unit, Choices: f.Choices, Required: f.Required(), Origin: "left out"}
	if strings.HasPrefix(f.Path, "coolant[") {
		out.Part, _, _ = strings.Cut(f.Path, ".")
	}
	if out.Kind == "" {
		out.Kind = "text"
		if len(f.Choices) > 0 {
			out.Kind = "words"
		}
	}
	if f.Range != nil {
		out.Allowed = f.Range.Text(f.Unit)
	}
	if v, ok := f.Assumed(); ok {
		out.Assumed = v.String()
	} else {
		out.Assumed = f.AssumeText
	}
	built, hasBuilt := typedText(d, "built."+f.Path)
	drawn, hasDrawn := typedText(d, f.Path)
	switch {
	case hasBuilt:
		out.Text, out.Origin, out.Drawn = built, "built", drawn
	case hasDrawn:
		out.Text, out.Origin = drawn, "typed"
	case out.Assumed != "":
		out.Text, out.Origin, out.Source = out.Assumed, "assumed", f.Source
	}
	if place, ok := d.TypedAt(f.Path); ok {
		out.Place = place.String()
	}
	if v, ok := d.Value(f.Path); ok {
		out.Value = Figure{Path: f.Path, Doc: f.Doc, Value: v.Nominal(), Low: v.Low(), High: v.High(), Unit: f.Unit}
		out.Known, out.Uncertain = true, !v.IsExact()
		out.Step = v.Step()
	}
	return out
}

// MovedBy returns the text of a number moved by an amount (SI), in the notation it stands in, and the key it stands at:
// what was measured on the part goes before what was drawn. It stops where the range of what is possible ends.
func MovedBy(p *project.Project, path string, by float64) (key, text string, err error) {
	return moved(p, path, by, 0.1)
}

// NudgedBy returns the text and the key of a number moved by so many of its steps.
func NudgedBy(p *project.Project, path string, steps float64) (key, text string, err error) {
	step := 1.0
	if v, known := p.Design.Value(path); known {
		step = v.Step()
	}
	return moved(p, path, steps*step, 1)
}

// moved moves a number and rounds it to the place of a share of its step.
func moved(p *project.Project, path string, by, share float64) (key, text string, err error) {
	fail := func(what, out string) (string, string, error) {
		return "", "", notice.List{{Kind: notice.Error, Path: path, What: what, WayOut: out}}
	}
	f, ok := p.Design.Field(path)
	if !ok {
		return fail("there is no number "+path, "")
	}
	if math.IsNaN(by) || math.IsInf(by, 0) {
		return fail("it cannot be moved that far", "")
	}
	key = path
	if _, built := typedText(p.Design, "built."+path); built {
		key = "built." + path
	}
	v, known := p.Design.Value(path)
	if n, counted := countOf(p.Design, f); counted {
		v, known = quantity.Exact(n, f.Unit), true
	}
	if !known {
		return fail("nothing stands for "+path+" that could be moved", "type its first value")
	}
	to := v.Nominal() + by
	if r := f.Range; r != nil {
		to = min(max(to, r.Low+v.Nominal()-v.Low()), r.High+v.Nominal()-v.High())
	}
	if f.Kind == quantity.KindWhole {
		return key, strconv.Itoa(int(math.Round(to))), nil
	}
	return key, v.Moved(to, v.Step()*share), nil
}

// countOf is the whole number that stands for a field, typed or assumed.
func countOf(d *design.Design, f quantity.Field) (float64, bool) {
	if f.Kind != quantity.KindWhole {
		return 0, false
	}
	if text, typed := typedText(d, f.Path); typed {
		n, err := strconv.Atoi(text)
		return float64(n), err == nil
	}
	if f.Assume != nil {
		return f.Assume.Low, true
	}
	return 0, false
}

// WithWater returns the project in other water: kind or temperature, by its path.
func WithWater(p *project.Project, path, text string) (*project.Project, error) {
	if path != "water.temperature" && path != "water.kind" {
		return nil, notice.List{{Kind: notice.Error, Path: path, What: path + " is not a condition", Allowed: "water.temperature or water.kind"}}
	}
	d, err := p.Design.With(path, text)
	if err != nil {
		return nil, err
	}
	return p.With(d), nil
}

// Conditioned returns the project in the water that is set beside its drawing, and the condition that is asked for there.
func Conditioned(p *project.Project, water map[string]string, f PredictFlags) (*project.Project, *drive.Condition, error) {
	for path, text := range water {
		if text == "" {
			continue
		}
		var err error
		if p, err = WithWater(p, path, text); err != nil {
			return nil, nil, err
		}
	}
	c, err := OneCondition(p, f)
	return p, c, err
}

// DriveOf returns the drive of a project with every number at its nominal.
func DriveOf(p *project.Project) *drive.Drive {
	d := p.Design.Nominal()
	return &d
}

// Untyped returns the paths of a design that nobody typed.
func Untyped(p *project.Project) map[string]bool { return untyped(p.Design) }

// PowerCurve answers thrust over power at the speed of a condition, at the place at which its power is; up to
// what the duty takes or, if that is more, the condition itself.
func PowerCurve(p *project.Project, c drive.Condition, o Options) (*PredictAnswer, error) {
	s, err := explore.New(p.Design, o.draws(DrawsAPoint), o.seed())
	if err != nil {
		return nil, unsolved(p, err)
	}
	nominal := p.Design.Nominal()
	demand := c.Demand
	if demand != drive.ShaftPower && demand != drive.ControllerPower {
		demand = drive.BatteryPower
	}
	a := &PredictAnswer{Folder: p.Folder, Notices: p.Notices, Draws: len(s.Machines)}
	for _, w := range ladder(topPower(s.Nominal, &nominal, demand)) {
		at := drive.Condition{Demand: demand, Amount: w, Speed: c.Speed}
		r := s.Solve(at)
		pt := Point{Condition: at, Failed: r.Failed, Draws: r.Draws}
		if r.Err != nil {
			pt.Why = r.Err.Error()
		} else {
			pt.State = spread(r)
		}
		a.Points = append(a.Points, pt)
	}
	return a, nil
}
