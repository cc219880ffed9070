package design

import (
	"fmt"
	"strings"

	"jetwright/notice"
)

// revisionKey is the table that a frozen copy has behind the design.
const revisionKey = "revision"

// Frozen is what stands beside the design in a frozen copy of it.
type Frozen struct {
	Note string
	Date string // as 2026-05-16
}

// Freeze returns the text of a frozen copy: the design to the byte, and behind it what is remembered of it, so that
// a line of the copy is the same line of the design.
func (d *Design) Freeze(f Frozen) ([]byte, error) {
	block := "[" + revisionKey + "]" + d.doc.eol() + "note = " + written(f.Note, String) + d.doc.eol() + "date = " + written(f.Date, String)
	doc, err := d.doc.appendBlock(block)
	if err != nil {
		return nil, err
	}
	return doc.Bytes(), nil
}

// ReadFrozen reads a frozen copy of a design.
func ReadFrozen(name string, data []byte) (*Design, Frozen, notice.List) {
	var f Frozen
	doc, faults := ParseDocument(name, data)
	if doc == nil {
		return nil, f, faults
	}
	for _, e := range doc.Entries() {
		switch e.Path {
		case revisionKey + ".note":
			f.Note = e.Value
		case revisionKey + ".date":
			f.Date = e.Value
		}
	}
	d, more := buildFrozen(doc)
	faults = append(faults, more...)
	sortNotices(faults)
	if faults.Fatal() != nil {
		return nil, f, faults
	}
	d.notices = faults
	return d, f, faults
}

// Difference is one key that stands differently in two designs.
type Difference struct {
	Path    string // without built.
	Was, Is string // as typed; empty where it does not stand
	Built   bool   // of the finished part, not of the drawing
}

// Differences lists what is typed differently in a design against another one, in the order of their text. The same
// number in other words is no difference.
func (d *Design) Differences(was *Design) []Difference {
	type typed struct{ text string }
	list := func(d *Design) (order []string, of map[string]typed) {
		of = map[string]typed{}
		for _, e := range d.doc.Entries() {
			if e.Kind == TableHeader || e.Kind == InlineTable || e.Path == revisionKey || strings.HasPrefix(e.Path, revisionKey+".") {
				continue
			}
			order = append(order, e.Path)
			of[e.Path] = typed{e.Value}
		}
		return order, of
	}
	newOrder, is := list(d)
	oldOrder, before := list(was)
	var out []Difference
	add := func(path string) {
		a, b := before[path].text, is[path].text
		plain, built := strings.CutPrefix(path, "built.")
		if strings.Join(strings.Fields(a), " ") == strings.Join(strings.Fields(b), " ") || d.same(was, plain, built) {
			return
		}
		out = append(out, Difference{Path: plain, Was: a, Is: b, Built: built})
	}
	for _, path := range newOrder {
		add(path)
	}
	for _, path := range oldOrder {
		if _, still := is[path]; !still {
			add(path)
		}
	}
	return out
}

// same tells that two designs say the same number of a key.
func (d *Design) same(was *Design, path string, built bool) bool {
	a, b := was.typed, d.typed
	if built {
		a, b = was.built, d.built
	}
	x, okX := a.Value(path)
	y, okY := b.Value(path)
	return okX && okY && sameSpread(x, y)
}

func near(a, b float64) bool {
	const rounding = 1e-12
	return a == b || a-b < rounding*(absolute(a)+absolute(b)) && b-a < rounding*(absolute(a)+absolute(b))
}

func absolute(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}

// HasBuilt tells whether anything was measured on the finished parts.
func (d *Design) HasBuilt() bool { return len(d.built.cells) > 0 }

// String writes a difference: what it was and is.
func (x Difference) String() string {
	switch {
	case x.Was == "":
		return fmt.Sprintf("%s = %s, not typed before", x.Path, x.Is)
	case x.Is == "":
		return fmt.Sprintf("%s = %s is gone", x.Path, x.Was)
	}
	return fmt.Sprintf("%s: %s to %s", x.Path, x.Was, x.Is)
}
