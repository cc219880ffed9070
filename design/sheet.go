package design

import (
	"fmt"
	"strconv"
	"strings"

	"jetwright/drive"
	"jetwright/notice"
	"jetwright/quantity"
)

// Sheet is the part of a document that a schema describes, read: values by path, with
// where they stand.
type Sheet struct {
	schema *quantity.Schema
	cells  map[string]cell
	order  []string
	tried  map[string]bool // paths that stand in the text, read or not
}

// cell is one typed key.
type cell struct {
	field   quantity.Field
	number  quantity.Value   // of a number or an optional number
	list    []quantity.Value // of a list of quantities
	text    string           // of a choice or words
	count   int
	flag    bool
	place   quantity.Place
	excerpt string
}

// Value returns a typed number.
func (s *Sheet) Value(path string) (quantity.Value, bool) {
	c, ok := s.cells[path]
	if !ok || (c.field.Kind != quantity.KindNumber && c.field.Kind != quantity.KindOptional) {
		return quantity.Value{}, false
	}
	return c.number, true
}

// Text returns a typed choice or words.
func (s *Sheet) Text(path string) (string, bool) {
	c, ok := s.cells[path]
	if !ok || (c.field.Kind != quantity.KindText) {
		return "", false
	}
	return c.text, true
}

// Count returns a typed whole number.
func (s *Sheet) Count(path string) (int, bool) {
	c, ok := s.cells[path]
	if !ok || c.field.Kind != quantity.KindWhole {
		return 0, false
	}
	return c.count, true
}

// Has tells whether a path was typed.
func (s *Sheet) Has(path string) bool { _, ok := s.cells[path]; return ok }

// Place returns where a path was typed.
func (s *Sheet) Place(path string) quantity.Place { return s.cells[path].place }

// Excerpt returns the line a path was typed on.
func (s *Sheet) Excerpt(path string) string { return s.cells[path].excerpt }

// Bind reads the entries of a document by a schema. Every fault is reported, not only the
// first: keys that the schema does not know, values that are not quantities of the right
// dimension, values outside of what is possible.
//
// With a section the entries are those below a prefix such as "reading[2]." and the schema is
// that of a struct with this one section; the sheet's paths are then the bare keys. Without
// one, paths below the prefix are those of the schema. Entries that skip names are left out.
func Bind(doc *Document, prefix, section string, schema *quantity.Schema, skip func(path string) bool) (*Sheet, notice.List) {
	s := &Sheet{schema: schema, cells: map[string]cell{}, tried: map[string]bool{}}
	var faults notice.List
	if section != "" {
		section += "."
	}
	for _, e := range doc.Entries() {
		path, ok := strings.CutPrefix(e.Path, prefix)
		if !ok || path == "" || (skip != nil && skip(e.Path)) || e.Kind == TableHeader {
			continue
		}
		f, known := schema.Lookup(section + path)
		f.Path = strings.TrimPrefix(f.Path, section)
		if !known {
			faults = append(faults, unknownKey(schema, section, path, e))
			continue
		}
		s.tried[f.Path] = true
		c, fault := readCell(f, e)
		if fault != nil {
			faults = append(faults, *fault)
			continue
		}
		if old, twice := s.cells[f.Path]; twice {
			faults = append(faults, at(e, e.Place, f.Path, fmt.Sprintf("%s is typed twice, once by an old name", f.Path),
				"", fmt.Sprintf("keep one of the two; the other stands on line %d", old.place.Line)))
			continue
		}
		s.cells[f.Path] = c
		s.order = append(s.order, f.Path)
	}
	return s, faults
}

func at(e Entry, p quantity.Place, path, what, allowed, out string) notice.Notice {
	return notice.Notice{Kind: notice.Error, Place: p, Path: path, What: what, Allowed: allowed, WayOut: out, Excerpt: e.Excerpt}
}

func unknownKey(schema *quantity.Schema, section, path string, e Entry) notice.Notice {
	out := ""
	if near := schema.Nearest(section + path); len(near) > 0 {
		out = "did you mean " + strings.TrimPrefix(near[0], section) + "?"
	} else {
		out = "docs/keys.md lists every key"
		if section != "" && strings.HasSuffix(e.Place.File, "run.toml") {
			out = "docs/keys-run.md lists every key"
		}
	}
	return at(e, e.Place, path, fmt.Sprintf("unknown key %s", path), "", out)
}

// readCell reads one entry by its field.
func readCell(f quantity.Field, e Entry) (cell, *notice.Notice) {
	c := cell{field: f, place: e.ValuePlace, excerpt: e.Excerpt}
	fault := func(what, allowed, out string) (cell, *notice.Notice) {
		n := at(e, e.ValuePlace, f.Path, what, allowed, out)
		return c, &n
	}
	switch f.Kind {
	case quantity.KindNumber, quantity.KindOptional:
		v, n := readQuantity(f, e.Kind, e.Value, e)
		if n != nil {
			return c, n
		}
		c.number = v
	case quantity.KindList:
		if e.Kind != Array {
			return fault(f.Path+" is one value", "it takes a list: ["+strconv.Quote("1 "+f.Unit.Symbol)+", …]", "")
		}
		for _, el := range e.Elements {
			v, n := readQuantity(f, el.Kind, el.Value, Entry{ValuePlace: el.Place, Excerpt: e.Excerpt})
			if n != nil {
				return c, n
			}
			c.list = append(c.list, v)
		}
	case quantity.KindText:
		if e.Kind != String {
			return fault(f.Path+" is not words in quotes", "write it in quotes", "")
		}
		c.text = e.Value
		if len(f.Choices) == 0 {
			return c, nil
		}
		for _, w := range f.Choices {
			if strings.EqualFold(w, strings.TrimSpace(e.Value)) {
				c.text = w
				return c, nil
			}
		}
		return fault(fmt.Sprintf("%s is %q", f.Path, e.Value), "it takes "+oneOf(f.Choices), "")
	case quantity.KindWhole:
		n, err := strconv.Atoi(strings.TrimSpace(strings.ReplaceAll(e.Value, "_", "")))
		if err != nil || (e.Kind != Integer && e.Kind != String) {
			return fault(fmt.Sprintf("%s is %s", f.Path, e.Value), "it takes a whole number", "")
		}
		if f.Range != nil && (float64(n) < f.Range.Low || float64(n) > f.Range.High) {
			return fault(fmt.Sprintf("%s is %d", f.Path, n), fmt.Sprintf("it must lie in %g .. %g", f.Range.Low, f.Range.High), "")
		}
		c.count = n
	case quantity.KindFlag:
		if e.Kind != Bool {
			return fault(f.Path+" is "+e.Value, "it takes true or false", "")
		}
		c.flag = e.Value == "true"
	}
	return c, nil
}

func oneOf(words []string) string {
	q := make([]string, len(words))
	for i, w := range words {
		q[i] = strconv.Quote(w)
	}
	if len(q) > 1 {
		return strings.Join(q[:len(q)-1], ", ") + " or " + q[len(q)-1]
	}
	return strings.Join(q, "")
}

// readQuantity reads a number with its unit and tolerance, and holds it against the range of
// what is possible.
func readQuantity(f quantity.Field, kind EntryKind, text string, e Entry) (quantity.Value, *notice.Notice) {
	fault := func(p quantity.Place, what, allowed, out string) (quantity.Value, *notice.Notice) {
		n := at(e, p, f.Path, what, allowed, out)
		return quantity.Value{}, &n
	}
	if kind == Integer || kind == Float {
		if f.Unit.Dim != (quantity.Dim{}) {
			return fault(e.ValuePlace, fmt.Sprintf("%s = %s has no unit", f.Path, text), fmt.Sprintf("write %s = \"%s %s\"", lastKey(f.Path), text, f.Unit.Symbol), "")
		}
	} else if kind != String {
		return fault(e.ValuePlace, f.Path+" is not a quantity", fmt.Sprintf("write it in quotes with its unit, such as \"%s\"", example(f)), "")
	}
	v, err := quantity.ParseIn(text, f.Unit)
	if err != nil {
		p := e.ValuePlace
		what, allowed, out := err.Error(), "", ""
		if pe, ok := err.(*quantity.ParseError); ok {
			if kind == String {
				p.Column += 1 + len([]rune(text[:clamp(pe.Start, len(text))]))
			}
			what, allowed, out = f.Path+": "+pe.What, pe.Allowed, pe.WayOut
		}
		return fault(p, what, allowed, out)
	}
	if b := f.Range; b != nil {
		bad := v.Low()
		if v.Low() >= b.Low {
			bad = v.High()
		}
		if v.Low() < b.Low || v.High() > b.High {
			return fault(e.ValuePlace, fmt.Sprintf("%s reaches %s", f.Path, show(bad, f.Unit)),
				fmt.Sprintf("it must lie in %s .. %s", show(b.Low, f.Unit), show(b.High, f.Unit)), "")
		}
	}
	return v.WithOrigin(quantity.Origin{Kind: quantity.Typed, Place: e.ValuePlace}), nil
}

func clamp(i, n int) int { return max(0, min(i, n)) }

func lastKey(path string) string { return path[strings.LastIndexByte(path, '.')+1:] }

func example(f quantity.Field) string {
	if f.AssumeText != "" {
		return f.AssumeText + " " + f.Unit.Symbol
	}
	return "1 " + f.Unit.Symbol
}

// show writes an SI number in a unit for a message.
func show(x float64, u quantity.Unit) string {
	s := strconv.FormatFloat(u.FromSI(x), 'g', 6, 64)
	if u.Symbol == "" || u.Symbol == "1" {
		return s
	}
	return s + " " + u.Symbol
}

// Apply sets every typed number and word of the sheet on a drive, at its nominal. The sheet's
// schema must be that of a drive.
func (s *Sheet) Apply(d *drive.Drive) {
	for _, path := range s.order {
		c := s.cells[path]
		switch c.field.Kind {
		case quantity.KindNumber, quantity.KindOptional:
			s.schema.Set(d, c.field, c.number.Nominal())
		case quantity.KindText:
			s.schema.SetText(d, c.field, c.text)
		case quantity.KindWhole:
			s.schema.Set(d, c.field, float64(c.count))
		}
	}
}

// Empty tells that nothing was typed.
func (s *Sheet) Empty() bool { return len(s.order) == 0 }
