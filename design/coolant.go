package design

import (
	"fmt"
	"strconv"
	"strings"
	"sync"

	"jetwright/drive"
	"jetwright/notice"
	"jetwright/quantity"
)

// CoolantSchema returns the declaration of the keys of a [[coolant]]: those of every kind stand in a section of its name.
func CoolantSchema() *quantity.Schema { return coolantSchema() }

var coolantSchema = sync.OnceValue(func() *quantity.Schema {
	s, err := quantity.SchemaOf(drive.CoolantPart{})
	if err != nil {
		panic("the coolant's tags do not make a schema: " + err.Error()) // held by TestSchema
	}
	return s
})

// CoolantKinds are the kinds of [[coolant]].
func CoolantKinds() []string {
	f, _ := CoolantSchema().Lookup("kind")
	return f.Choices
}

const coolantArray = "coolant"

// ofCoolant tells whether a path belongs to a [[coolant]], or was meant to.
func ofCoolant(path string) bool {
	return path == coolantArray || strings.HasPrefix(path, coolantArray+"[") || strings.HasPrefix(path, coolantArray+".")
}

func coolantPath(i int, key string) string { return fmt.Sprintf("%s[%d].%s", coolantArray, i, key) }

// Field returns the declaration of a key by its path: one of the drive, or of a [[coolant]] such as coolant[1].bore.
func (d *Design) Field(path string) (quantity.Field, bool) {
	if !ofCoolant(path) {
		return Schema().Lookup(path)
	}
	rest, ok := strings.CutPrefix(path, coolantArray+"[")
	number, key, ok2 := strings.Cut(rest, "].")
	i, err := strconv.Atoi(number)
	if !ok || !ok2 || err != nil || i < 0 || i >= len(d.nominal.Coolant) {
		return quantity.Field{}, false
	}
	return coolantField(i, d.nominal.Coolant[i].Kind, key)
}

// coolantField is a key of the i-th part by its whole path.
func coolantField(i int, kind, key string) (quantity.Field, bool) {
	s := CoolantSchema()
	f, ok := s.Lookup(key)
	if !ok || f.Section != "" {
		f, ok = s.Lookup(kind + "." + key)
	}
	if !ok {
		return f, false
	}
	f.Path = coolantPath(i, strings.TrimPrefix(f.Path, kind+"."))
	return f, true
}

// readCoolant reads what is typed below every [[coolant]].
func (d *Design) readCoolant() notice.List {
	var faults notice.List
	schema := CoolantSchema()
	for _, e := range d.doc.Entries() {
		if e.Path == coolantArray || strings.HasPrefix(e.Path, coolantArray+".") {
			what := "coolant is not a list of parts"
			if e.Kind == TableHeader {
				what = "[" + e.Path + "] is one part alone"
			}
			faults = append(faults, at(e, e.Place, e.Path, what, "the coolant is a list of parts in the order of flow", `write [[coolant]] in double brackets above each part`))
			break
		}
	}
	count := map[string]int{}
	for i := range d.doc.Count(coolantArray) {
		prefix := coolantPath(i, "")
		head, excerpt := d.doc.ItemPlace(coolantArray, i)
		common := func(path string) bool {
			f, ok := schema.Lookup(strings.TrimPrefix(path, prefix))
			return ok && f.Section == ""
		}
		own, wrong := Bind(d.doc, prefix, "", schema, func(path string) bool { return !common(path) })
		kind, typed := own.Text("kind")
		if !typed && !own.tried["kind"] {
			wrong = append(wrong, notice.Notice{
				Kind: notice.Error, Place: head, Excerpt: excerpt, Path: prefix + "kind", What: "it does not say what it is",
				Allowed: "it takes " + oneOf(CoolantKinds()), WayOut: `type kind = "hose"`,
			})
		}
		count[kind]++
		part := drive.CoolantPart{Kind: kind}
		part.Name, _ = own.Text("name")
		part.From, _ = own.Text("from")
		part.To, _ = own.Text("to")
		sheets := []*Sheet{own}
		if typed {
			keys, more := Bind(d.doc, prefix, kind, schema, common)
			for j := range more {
				if strings.HasPrefix(more[j].What, "unknown key") {
					more[j].Allowed = "the keys of a " + kind + " are " + strings.Join(coolantKeys(kind), ", ")
					if strings.Contains(more[j].WayOut, ".") && !strings.HasPrefix(more[j].WayOut, "docs/") {
						more[j].WayOut = ""
					}
				}
			}
			wrong = append(wrong, more...)
			sheets = append(sheets, keys)
		}
		label := fmt.Sprintf("%s %d of the coolant", orElse(kind, "part"), count[kind])
		if kind == "" {
			label = fmt.Sprintf("part %d of the coolant", i+1)
		}
		if part.Name != "" {
			label = fmt.Sprintf("%s %q of the coolant", orElse(kind, "part"), part.Name)
		}
		for _, n := range wrong {
			n.What = label + ": " + n.What
			if !strings.HasPrefix(n.Path, prefix) {
				n.Path = prefix + n.Path
			}
			faults = append(faults, n)
		}
		for _, s := range sheets {
			for path := range s.tried {
				d.typed.tried[prefix+path] = true
			}
			for path, c := range s.cells {
				c.field.Path = prefix + path
				d.typed.cells[prefix+path] = c
			}
		}
		d.nominal.Coolant = append(d.nominal.Coolant, part)
	}
	return faults
}

func orElse(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

// coolantKeys are the keys of a kind.
func coolantKeys(kind string) []string {
	var out []string
	for _, f := range CoolantSchema().Fields() {
		if f.Section == kind || strings.HasPrefix(f.Section, kind+".") {
			out = append(out, strings.TrimPrefix(f.Path, kind+"."))
		}
	}
	return out
}

// placeCoolant puts every number of the parts into the nominal drive, as typed or assumed.
func (d *Design) placeCoolant() {
	schema := CoolantSchema()
	count := map[string]int{}
	for i := range d.nominal.Coolant {
		part := &d.nominal.Coolant[i]
		count[part.Kind]++
		label := orElse(part.Name, fmt.Sprintf("%s %d", part.Kind, count[part.Kind]))
		for _, f := range schema.Fields() {
			if part.Kind == "" || f.Section != part.Kind && !strings.HasPrefix(f.Section, part.Kind+".") {
				continue
			}
			path := coolantPath(i, strings.TrimPrefix(f.Path, part.Kind+"."))
			c, typed := d.typed.cells[path]
			switch f.Kind {
			case quantity.KindNumber, quantity.KindOptional:
				v := c.number
				if !typed {
					assumed, ok := f.Assumed()
					if !ok {
						continue
					}
					v = assumed
				}
				in := Input{Path: path, Field: f, Value: v, Assumed: !typed, part: i + 1}
				in.Field.Doc = label + ": " + f.Doc
				d.values[path] = v
				schema.Set(part, f, v.Nominal())
				if !typed {
					d.assumed = append(d.assumed, in)
				}
				if !v.IsExact() {
					d.uncertain = append(d.uncertain, in)
				}
			case quantity.KindText:
				word := c.text
				if !typed {
					word = f.AssumeText
				}
				schema.SetText(part, f, word)
			case quantity.KindWhole:
				n := c.count
				if !typed {
					n = int(f.Assume.Low)
				}
				schema.Set(part, f, float64(n))
			}
		}
	}
}

// layCoolant holds the parts against each other.
func (d *Design) layCoolant() notice.List {
	if len(d.nominal.Coolant) == 0 {
		return nil
	}
	d.nominal.KeepCoolant()
	var faults notice.List
	for _, f := range d.nominal.CoolantFaults() {
		n := notice.Notice{Kind: notice.Error, Path: fmt.Sprintf("%s[%d]", coolantArray, f.Part), What: f.What, Allowed: f.Allowed, WayOut: f.WayOut}
		n.Place, n.Excerpt = d.doc.ItemPlace(coolantArray, f.Part)
		faults = append(faults, n)
	}
	return faults
}

// hasCoolant tells whether a part of a kind is typed.
func (d *Design) hasCoolant(kind string) bool {
	for i := range d.nominal.Coolant {
		if d.nominal.Coolant[i].Kind == kind {
			return true
		}
	}
	return false
}

// idleCoolant tells that a number does not enter, given the parts of the coolant that are typed.
func (d *Design) idleCoolant(path string) bool {
	if len(d.nominal.Coolant) == 0 {
		return false
	}
	switch path {
	case "cooling.tap_diameter", "cooling.loss_coefficient":
		return true
	case "cooling.plate_to_coolant":
		return d.hasCoolant(drive.CoolantPlate)
	case "cooling.jacket_to_coolant":
		return d.hasCoolant(drive.CoolantJacket)
	case "cooling.first":
		return d.hasCoolant(drive.CoolantPlate) && d.hasCoolant(drive.CoolantJacket)
	}
	for i := range d.nominal.Coolant {
		p := &d.nominal.Coolant[i]
		switch {
		case p.Kind == drive.CoolantTap && path == coolantPath(i, "pressure_per_kinetic"):
			return p.Tap.Pressure.Set || p.Tap.Station != ""
		case path == coolantPath(i, "depth"):
			return p.Kind == drive.CoolantPlate && p.Plate.Shape == "round" || p.Kind == drive.CoolantJacket && p.Jacket.Shape == "round" || p.Kind == "keel" && p.Keel.Shape == "round"
		}
	}
	return false
}

// checkCoolant warns of what is typed and not used, and of what is unlike any circuit.
func (d *Design) checkCoolant(say func(kind notice.Kind, path, what, allowed, out string)) {
	if len(d.nominal.Coolant) == 0 {
		return
	}
	for _, path := range []string{"cooling.tap_diameter", "cooling.loss_coefficient", "cooling.plate_to_coolant", "cooling.jacket_to_coolant", "cooling.first"} {
		if d.typed.tried[path] && d.idleCoolant(path) {
			say(notice.Warning, path, path+" is not used", "the parts under [[coolant]] go before it", "leave it out")
		}
	}
	for i := range d.nominal.Coolant {
		p := &d.nominal.Coolant[i]
		for _, key := range []string{"pressure_per_kinetic", "depth"} {
			if path := coolantPath(i, key); d.typed.tried[path] && d.idleCoolant(path) {
				say(notice.Warning, path, path+" is not used", "station, pressure or a round shape goes before it", "leave it out")
			}
		}
		if p.Kind == drive.CoolantTap && p.Tap.Station == "" {
			if path := coolantPath(i, "takes"); d.typed.tried[path] {
				say(notice.Warning, path, path+" is not used", "it says what a tap at a station takes", `type station = "nozzle inlet" or "nozzle outlet"`)
			}
		}
		for _, key := range coolantKeys(p.Kind) {
			path := coolantPath(i, key)
			f, _ := coolantField(i, p.Kind, key)
			v, ok := d.values[path]
			if !ok || f.Usual == nil || v.Origin().Kind == quantity.Assumed {
				continue
			}
			if v.Nominal() < f.Usual.Low || v.Nominal() > f.Usual.High {
				say(notice.Warning, path, fmt.Sprintf("%s is %s", path, v.String()),
					fmt.Sprintf("usual is %s .. %s", show(f.Usual.Low, f.Unit), show(f.Usual.High, f.Unit)), "look at the unit")
			}
		}
	}
}

// CoolantWord returns a choice, a count or words of a part of the coolant, by a field that Field gave; ok is false for one of the drive.
func (d *Design) CoolantWord(f quantity.Field) (text string, ok bool) {
	rest, ok := strings.CutPrefix(f.Path, coolantArray+"[")
	number, _, _ := strings.Cut(rest, "]")
	i, err := strconv.Atoi(number)
	if !ok || err != nil || i >= len(d.nominal.Coolant) {
		return "", false
	}
	part := d.nominal.Coolant[i]
	switch f.Kind {
	case quantity.KindText:
		text, _ = CoolantSchema().Text(&part, f)
	case quantity.KindWhole:
		x, _ := CoolantSchema().Get(&part, f)
		text = strconv.Itoa(int(x))
	}
	return text, true
}
