package design

import (
	"fmt"
	"slices"
	"sort"
	"strings"
	"sync"

	"jetwright/drive"
	"jetwright/notice"
	"jetwright/quantity"
)

// Schema returns the one declaration of every number in a drive.
func Schema() *quantity.Schema { return driveSchema() }

var driveSchema = sync.OnceValue(func() *quantity.Schema {
	s, err := quantity.SchemaOf(drive.Drive{})
	if err != nil {
		panic("the parts' tags do not make a schema: " + err.Error()) // held by TestSchema
	}
	return s
})

// Input is a number of the design that is not exact: typed with a tolerance, or assumed.
type Input struct {
	Path    string
	Field   quantity.Field
	Value   quantity.Value
	Assumed bool

	part int // number of the [[coolant]] it belongs to, from 1; 0 of the drive's own
}

// Design is the text of a drive.toml and what it says. It is never changed: With returns
// another.
type Design struct {
	doc       *Document
	typed     *Sheet
	built     *Sheet
	values    map[string]quantity.Value // of every number that is known, as built
	nominal   drive.Drive
	uncertain []Input
	assumed   []Input
	slow      []Input // uncertain, and only temperatures over time depend on them
	ridden    []Input // uncertain, and only rides depend on them
	held      []Input // uncertain, and only limits depend on them
	steps     []drive.Leg
	legs      []drive.RideLeg
	claims    []Claim
	tables    []ClaimTable
	notices   notice.List
}

// Read reads a drive.toml. All that is wrong with it is reported at once; with a notice of
// kind Error among them the design is nil. Warnings come along with a usable design.
func Read(name string, data []byte) (*Design, notice.List) {
	doc, faults := ParseDocument(name, data)
	if doc == nil {
		return nil, faults
	}
	d, more := build(doc)
	faults = append(faults, more...)
	sortNotices(faults)
	if faults.Fatal() != nil {
		return nil, faults
	}
	d.notices = faults
	return d, faults
}

func sortNotices(l notice.List) {
	sort.SliceStable(l, func(a, b int) bool {
		if l[a].Place.Line != l[b].Place.Line {
			return l[a].Place.Line < l[b].Place.Line
		}
		return l[a].Place.Column < l[b].Place.Column
	})
}

func build(doc *Document) (*Design, notice.List) { return buildWith(doc, false) }

// buildFrozen builds a design out of a frozen copy.
func buildFrozen(doc *Document) (*Design, notice.List) { return buildWith(doc, true) }

func buildWith(doc *Document, frozen bool) (*Design, notice.List) {
	schema := Schema()
	var faults notice.List
	d := &Design{doc: doc, values: map[string]quantity.Value{}}
	d.typed, faults = Bind(doc, "", "", schema, func(path string) bool {
		return strings.HasPrefix(path, "built.") || strings.HasPrefix(path, "claim[") || path == "built" || path == "claim" || path == stepsKey || path == legsKey || path == elementsKey || ofCoolant(path) || frozen && (path == revisionKey || strings.HasPrefix(path, revisionKey+"."))
	})
	var more notice.List
	d.built, more = Bind(doc, "built.", "", schema, nil)
	faults = append(faults, more...)
	claims, tables, more := readClaims(doc)
	d.claims, d.tables = claims, tables
	faults = append(faults, more...)
	more = d.readCoolant()
	faults = append(faults, more...)
	missing := d.place(schema)
	d.placeCoolant()
	d.rest()
	if faults.Fatal() == nil && missing.Fatal() == nil {
		faults = append(faults, d.layCoolant()...)
	}
	if len(doc.Entries()) == 0 {
		missing = notice.List{{
			Kind: notice.Error, Place: quantity.Place{File: doc.Name(), Line: 1, Column: 1},
			What: "the design is empty", WayOut: "start from a worked example with: jetwright new FOLDER",
		}}
	}
	faults = append(faults, missing...)
	faults = append(faults, d.readSteps()...)
	faults = append(faults, d.readLegs()...)
	faults = append(faults, d.readElements()...)
	faults = append(faults, d.check()...)
	if d.Bladed() && faults.Fatal() == nil {
		d.nominal.KeepBlades(d.bladePaths())
	}
	return d, faults
}

// drawingOnly are numbers that only a drawing needs, or only the plan of a bench day, which takes
// their ends itself: they are assumed and listed, but nothing is drawn from them, since no figure
// of a state and no limit depends on them.
var drawingOnly = map[string]bool{
	"intake.length": true, "intake.ramp_angle": true, "impeller.length": true, "stator.length": true, "nozzle.length": true,
	"shaft.length": true, "shaft.diameter": true, "motor.length": true, "motor.diameter": true, "impeller.tip_gap": true, "impeller.gap_eccentricity": true, "motor.mass": true,
	"stand.tether_strength": true, "stand.tether_slack": true, "stand.tether_length": true, "stand.water_volume": true, "stand.tub_width": true,
	"stand.wall_behind": true, "stand.wall_beside": true, "stand.intake_depth": true, "stand.cover_reach": true, "stand.scale_division": true,
}

// overTime tells that only temperatures over time depend on a number: nothing steady is drawn from it.
func overTime(path string) bool {
	switch path {
	case "motor.length", "motor.diameter", "motor.mass":
		return true
	}
	return strings.HasPrefix(path, "thermal.") || strings.HasPrefix(path, "battery.relaxation_")
}

// afloat tells that only rides depend on a number.
func afloat(path string) bool {
	return strings.HasPrefix(path, "craft.") && path != "craft.thrust_deduction"
}

// idle tells that a number does not enter, given the rest of the design.
func (d *Design) idle(path string) bool {
	n := &d.nominal
	table := n.Impeller.Grade == "table"
	switch path {
	case "impeller.head_coefficient":
		return table || d.Bladed() || n.Duty.RotorSpeed.Set
	case "impeller.shutoff_ratio", "impeller.curve_exponent", "impeller.design_flow_ratio", "impeller.efficiency":
		return table || d.Bladed()
	case "impeller.installed_factor":
		return table
	case "impeller.suction_specific_speed_3":
		return d.Bladed()
	case "shaft.reduction_efficiency":
		v, ok := d.values["shaft.reduction"]
		return ok && v.IsExact() && v.Nominal() == 1
	case "intake.throat_area_ratio":
		return n.Intake.ThroatArea.Set
	case "intake.grid_form":
		return !d.hasGrid()
	case "motor.no_load_current", "motor.no_load_voltage", "motor.linear_share":
		return len(n.Motor.NoLoadVoltages) > 0
	case "battery.wiring_resistance":
		return n.Battery.CableArea.Set && n.Battery.CableLength.Set
	case "battery.cold_factor":
		return len(n.Battery.ResistanceTemperatures) > 0
	case "water.altitude":
		return n.Water.AirPressure.Set
	}
	return d.idleBlades(path) || d.idleCoolant(path) || d.idleStrength(path) || d.idleMaking(path)
}

// hasGrid tells whether a grid across the intake is typed; the ramp's angle enters its loss.
func (d *Design) hasGrid() bool {
	return d.nominal.Intake.GridBar.Set && d.nominal.Intake.GridGap.Set
}

// Idle tells that a number does not enter into any figure, given the rest of the design. The pitch of an estimated
// pump always does: with a typed rotor speed it is what follows.
func (d *Design) Idle(path string) bool {
	if path == "impeller.head_coefficient" {
		return d.nominal.Impeller.Grade == "table" || d.Bladed()
	}
	return d.idle(path)
}

// rest takes what does not enter off the lists.
func (d *Design) rest() {
	var uncertain, assumed []Input
	for _, in := range d.uncertain {
		switch {
		case d.idle(in.Path):
		case overTime(in.Path):
			d.slow = append(d.slow, in)
		case afloat(in.Path):
			d.ridden = append(d.ridden, in)
		case d.ofStrength(in):
			d.held = append(d.held, in)
		case !drawingOnly[in.Path], in.Path == "intake.ramp_angle" && d.hasGrid(), in.Path == "impeller.tip_gap" && d.Bladed():
			uncertain = append(uncertain, in)
		}
	}
	for _, in := range d.assumed {
		if !d.idle(in.Path) && !strings.HasPrefix(in.Path, "thermal.") && !afloat(in.Path) {
			assumed = append(assumed, in)
		}
	}
	d.uncertain, d.assumed = uncertain, assumed
}

// place puts every number into the nominal drive: as built, else as typed, else assumed. A
// number that has to be typed and is not is a fault.
func (d *Design) place(schema *quantity.Schema) notice.List {
	var faults notice.List
	for _, f := range schema.Fields() {
		c, typed := d.typed.cells[f.Path]
		if b, ok := d.built.cells[f.Path]; ok {
			c, typed = b, true
			if f.Kind == quantity.KindNumber || f.Kind == quantity.KindOptional {
				c.number = c.number.WithOrigin(quantity.Origin{Kind: quantity.Built, Place: c.place})
			}
		}
		switch f.Kind {
		case quantity.KindNumber, quantity.KindOptional:
			v := c.number
			if !typed {
				if f.Assume == nil {
					if f.Kind == quantity.KindNumber && !d.typed.tried[f.Path] {
						faults = append(faults, d.missing(f))
					}
					continue
				}
				v = quantity.Exact(f.Assume.Low, f.Unit)
				if f.Assume.High != f.Assume.Low {
					v = quantity.Between(f.Assume.Low, f.Assume.High, f.Unit)
				}
				if x, _ := f.Assumed(); x.Spread() == quantity.SpreadStandard {
					v = x
				}
				v = v.WithOrigin(quantity.Origin{Kind: quantity.Assumed, Source: f.Source})
				d.assumed = append(d.assumed, Input{Path: f.Path, Field: f, Value: v, Assumed: true})
			}
			d.values[f.Path] = v
			schema.Set(&d.nominal, f, v.Nominal())
			if !v.IsExact() {
				d.uncertain = append(d.uncertain, Input{Path: f.Path, Field: f, Value: v, Assumed: !typed})
			}
		case quantity.KindList:
			var list []float64
			for _, v := range c.list {
				list = append(list, v.Nominal())
			}
			schema.SetList(&d.nominal, f, list)
		case quantity.KindText:
			word := c.text
			if !typed {
				word = f.AssumeText
			}
			schema.SetText(&d.nominal, f, word)
		case quantity.KindWhole:
			n := c.count
			if !typed {
				if f.Assume == nil {
					if !d.typed.tried[f.Path] {
						faults = append(faults, d.missing(f))
					}
					continue
				}
				n = int(f.Assume.Low)
			}
			schema.Set(&d.nominal, f, float64(n))
		case quantity.KindFlag:
			schema.SetFlag(&d.nominal, f, c.flag)
		}
	}
	d.placeMagnets(schema)
	d.placeBlades(schema)
	d.placeCraft(schema)
	return faults
}

// placeMagnets assumes the coefficient of the magnets' class where the class is typed and the coefficient is not.
func (d *Design) placeMagnets(schema *quantity.Schema) {
	const path = "motor.magnet_coefficient"
	low, high, ok := drive.MagnetCoefficients(d.nominal.Motor.MagnetMaterial)
	f, known := schema.Lookup(path)
	if !ok || !known || d.nominal.Motor.MagnetCoefficient.Set || d.typed.tried[path] {
		return
	}
	f.Source = "magnet-table"
	v := quantity.Between(low, high, f.Unit).WithOrigin(quantity.Origin{Kind: quantity.Assumed, Source: f.Source})
	in := Input{Path: path, Field: f, Value: v, Assumed: true}
	d.values[path] = v
	schema.Set(&d.nominal, f, v.Nominal())
	d.assumed, d.uncertain = append(d.assumed, in), append(d.uncertain, in)
}

func (d *Design) missing(f quantity.Field) notice.Notice {
	n := notice.Notice{Kind: notice.Error, Path: f.Path, What: f.Path + " is missing", Allowed: "it is the " + f.Doc}
	n.Place = quantity.Place{File: d.doc.Name(), Line: 1, Column: 1}
	section := f.Section
	for _, e := range d.doc.Entries() {
		if e.Kind == TableHeader && e.Path == section {
			n.Place, n.Excerpt = e.Place, e.Excerpt
		}
	}
	n.WayOut = fmt.Sprintf("type %s = \"… %s\" under [%s]", f.Key, f.Unit.Symbol, section)
	if f.Kind == quantity.KindWhole {
		n.WayOut = fmt.Sprintf("type %s = … under [%s]", f.Key, section)
	}
	return n
}

// Nominal returns the drive with every number at its nominal.
func (d *Design) Nominal() drive.Drive { return d.nominal }

// AsDrawn returns the nominal drive as it was drawn, without what was measured on finished parts: the next part is made by it.
func (d *Design) AsDrawn() drive.Drive {
	if !d.HasBuilt() {
		return d.nominal
	}
	out := &Design{doc: d.doc, typed: d.typed, built: &Sheet{schema: d.built.schema, cells: map[string]cell{}, tried: map[string]bool{}}, values: map[string]quantity.Value{}}
	out.place(Schema())
	out.nominal.Coolant = d.nominal.Coolant
	return out.nominal
}

// Uncertain returns the numbers that are not exact, in the order in which Draw takes them.
func (d *Design) Uncertain() []Input { return d.uncertain }

// OverTime returns the numbers that are not exact and that only temperatures over time depend on.
func (d *Design) OverTime() []Input { return d.slow }

// Riding returns the numbers that are not exact and that only rides depend on.
func (d *Design) Riding() []Input { return d.ridden }

// Holding returns the numbers that are not exact and that no figure of a state depends on, only limits: how the drive is made.
func (d *Design) Holding() []Input { return d.held }

// Assumptions returns the numbers that were not typed, exact ones included.
func (d *Design) Assumptions() []Input { return d.assumed }

// Draw returns the drive with every number of Uncertain at the quantile given for it, each in (0, 1).
func (d *Design) Draw(u []float64) drive.Drive { return d.DrawOf(d.uncertain, u) }

// DrawOf returns the drive with some of its numbers at the quantiles given for them, each in (0, 1), and the others at their nominal.
func (d *Design) DrawOf(inputs []Input, u []float64) drive.Drive {
	out := d.nominal
	out.Coolant = slices.Clone(out.Coolant)
	d.DrawInto(&out, inputs, u)
	return out
}

// DrawInto puts numbers of a drive at the quantiles given for them, each in (0, 1).
func (d *Design) DrawInto(out *drive.Drive, inputs []Input, u []float64) {
	write := Schema().Writer(out)
	for i := range inputs {
		in := &inputs[i]
		if in.part > 0 {
			CoolantSchema().Set(&out.Coolant[in.part-1], in.Field, in.Value.Quantile(u[i]))
			continue
		}
		write.Set(&in.Field, in.Value.Quantile(u[i]))
	}
}

// Value returns a number of the design as it is used: built, typed or assumed.
func (d *Design) Value(path string) (quantity.Value, bool) {
	v, ok := d.values[path]
	return v, ok
}

// Drawn returns a number as it was drawn, where a built one overlays it.
func (d *Design) Drawn(path string) (quantity.Value, bool) { return d.typed.Value(path) }

// TypedAt returns where a key stands in the text, as built or as drawn.
func (d *Design) TypedAt(path string) (quantity.Place, bool) {
	if c, ok := d.built.cells[path]; ok {
		return c.place, true
	}
	c, ok := d.typed.cells[path]
	return c.place, ok
}

// Claims returns the promises of one figure.
func (d *Design) Claims() []Claim { return d.claims }

// Tables returns the promises of whole tables.
func (d *Design) Tables() []ClaimTable { return d.tables }

// Notices returns what was doubtful in the text.
func (d *Design) Notices() notice.List { return d.notices }

// Document returns the text.
func (d *Design) Document() *Document { return d.doc }

// Without returns the design with one key taken out of the text, so that it falls back to what is assumed.
// The error is a notice.List.
func (d *Design) Without(path string) (*Design, error) {
	doc, err := d.doc.Remove(d.KeyOf(path))
	if err != nil {
		return nil, err
	}
	out, faults := Read(doc.Name(), doc.Bytes())
	if err := faults.Fatal(); err != nil {
		return nil, err
	}
	out.KeepBladesOf(d)
	return out, nil
}

// KeepBladesOf takes over what was worked out of another design's blades, where this one has the very same.
func (d *Design) KeepBladesOf(other *Design) {
	if other != nil {
		d.nominal.KeepBladesOf(&other.nominal)
	}
}

// Raw returns the bytes of a key's value as they stand in the text.
func (d *Design) Raw(path string) (string, bool) {
	key := d.KeyOf(path)
	for _, e := range d.doc.Entries() {
		if e.Path == key && e.Kind != TableHeader {
			return string(d.doc.data[e.start:e.end]), true
		}
	}
	return "", false
}

// KeyOf returns the path by which a key stands in the text: one typed by an old name keeps it.
func (d *Design) KeyOf(path string) string {
	c, typed := d.typed.cells[path]
	if !typed {
		return path
	}
	for _, e := range d.doc.Entries() {
		if e.ValuePlace == c.place {
			return e.Path
		}
	}
	return path
}

// With returns the design with one value set by its path, as if it had been typed. The text
// around it stays as it is. The error is a notice.List.
func (d *Design) With(path, text string) (*Design, error) {
	return d.WithAll([]string{path}, []string{text})
}

// WithAll returns the design with values set by their paths together, so that they need only be right with each other.
func (d *Design) WithAll(paths, texts []string) (*Design, error) {
	doc := d.doc
	for i, path := range paths {
		f, ok := d.Field(strings.TrimPrefix(path, "built."))
		if !ok {
			n := notice.Notice{Kind: notice.Error, Path: path, What: "there is no key " + path}
			if near := Schema().Nearest(path); len(near) > 0 && !ofCoolant(path) {
				n.WayOut = "did you mean " + near[0] + "?"
			}
			return nil, notice.List{n}
		}
		kind := String
		switch f.Kind {
		case quantity.KindWhole:
			kind = Integer
		case quantity.KindFlag:
			kind = Bool
		case quantity.KindList:
			kind = Array
		}
		key := path
		if !strings.HasPrefix(path, "built.") {
			key = d.KeyOf(f.Path)
		}
		next, err := doc.Set(key, texts[i], kind)
		if err != nil {
			return nil, err
		}
		doc = next
	}
	out, faults := Read(doc.Name(), doc.Bytes())
	if err := faults.Fatal(); err != nil {
		return nil, err
	}
	out.KeepBladesOf(d)
	return out, nil
}
