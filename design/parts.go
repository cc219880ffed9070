package design

import (
	"fmt"
	"strings"

	"jetwright/notice"
	"jetwright/quantity"
)

// Part is a motor, a controller or a battery from a file of parts to choose from: a design of which
// this one section is the part's.
type Part struct {
	Name   string
	Design *Design
	Place  quantity.Place
}

// Parts are what a file of parts offers; a kind that it does not list is empty.
type Parts struct {
	Motors, Controllers, Batteries []Part
}

// partKinds are the arrays of a file of parts, which are named as the sections of a design.
var partKinds = []string{"motor", "controller", "battery"}

// ReadParts reads a file of parts for a design: [[motor]], [[controller]] and [[battery]], each with a name
// and the keys of that section of a drive.toml. What a part leaves out is assumed as in a drive.toml. All that
// is wrong with it is reported at once.
func (d *Design) ReadParts(name string, data []byte) (*Parts, notice.List) {
	doc, faults := ParseDocument(name, data)
	if doc == nil {
		return nil, faults
	}
	faults = append(faults, strayParts(doc)...)
	out := &Parts{}
	total := 0
	for _, kind := range partKinds {
		seen := map[string]quantity.Place{}
		for i := range doc.Count(kind) {
			total++
			p, more := d.part(doc, kind, i)
			if old, twice := seen[p.Name]; twice && p.Name != "" {
				more = append(more, notice.Notice{
					Kind: notice.Error, Place: p.Place, Path: kind + ".name", What: fmt.Sprintf("two of [[%s]] are named %q", kind, p.Name),
					WayOut: fmt.Sprintf("give each a name of its own; the other stands on line %d", old.Line),
				})
			}
			seen[p.Name] = p.Place
			faults = append(faults, more...)
			switch kind {
			case "motor":
				out.Motors = append(out.Motors, p)
			case "controller":
				out.Controllers = append(out.Controllers, p)
			default:
				out.Batteries = append(out.Batteries, p)
			}
		}
	}
	if total == 0 && len(faults) == 0 {
		faults = append(faults, notice.Notice{
			Kind: notice.Error, Place: quantity.Place{File: name, Line: 1, Column: 1}, What: "the file offers no part",
			Allowed: "it takes [[motor]], [[controller]] and [[battery]], each with a name and the keys of that section of drive.toml",
			WayOut:  "copy one from: jetwright new FOLDER (parts.toml)",
		})
	}
	sortNotices(faults)
	if faults.Fatal() != nil {
		return nil, faults
	}
	return out, faults
}

// strayParts reports what stands outside of the three arrays.
func strayParts(doc *Document) notice.List {
	var faults notice.List
	said := map[string]bool{}
	for _, e := range doc.Entries() {
		head, _, _ := strings.Cut(e.Path, ".")
		kind, _, item := strings.Cut(head, "[")
		known := false
		for _, k := range partKinds {
			known = known || k == kind
		}
		if item && known || said[head] {
			continue
		}
		said[head] = true
		n := notice.Notice{Kind: notice.Error, Place: e.Place, Path: e.Path, Excerpt: e.Excerpt, What: head + " is nothing that a file of parts holds", Allowed: "it takes [[motor]], [[controller]] and [[battery]]"}
		if item {
			n.What = "[[" + kind + "]] is nothing that a file of parts holds"
			n.Place, n.Excerpt = doc.ItemPlace(kind, 0)
		}
		if known {
			n.What, n.WayOut = fmt.Sprintf("[%s] is one table", kind), fmt.Sprintf("write [[%s]]: there may be several", kind)
		}
		faults = append(faults, n)
	}
	return faults
}

// part reads an item of an array by laying it over the design in the place of its own section.
func (d *Design) part(doc *Document, kind string, item int) (Part, notice.List) {
	prefix := fmt.Sprintf("%s[%d].", kind, item)
	p := Part{}
	head := ""
	p.Place, head = doc.ItemPlace(kind, item)
	sheet, faults := Bind(doc, prefix, kind, Schema(), func(path string) bool { return path == prefix+"name" })
	for _, e := range doc.Entries() {
		if e.Path == prefix+"name" && e.Kind == String {
			p.Name = strings.TrimSpace(e.Value)
		}
	}
	if p.Name == "" {
		faults = append(faults, notice.Notice{
			Kind: notice.Error, Place: p.Place, Path: kind + ".name", Excerpt: head, What: fmt.Sprintf("this [[%s]] has no name", kind),
			WayOut: `type name = "…", by which the answer calls it`,
		})
	}
	out := &Design{doc: doc, values: map[string]quantity.Value{}}
	out.typed = &Sheet{schema: d.typed.schema, cells: map[string]cell{}, tried: map[string]bool{}}
	out.built = &Sheet{schema: d.built.schema, cells: map[string]cell{}, tried: map[string]bool{}}
	lay := func(dst, src *Sheet) {
		for path, c := range src.cells {
			if !strings.HasPrefix(path, kind+".") {
				dst.cells[path] = c
			}
		}
		for path := range src.tried {
			if !strings.HasPrefix(path, kind+".") {
				dst.tried[path] = true
			}
		}
	}
	lay(out.typed, d.typed)
	lay(out.built, d.built)
	for path, c := range sheet.cells {
		c.field.Path = kind + "." + path
		out.typed.cells[c.field.Path] = c
	}
	for path := range sheet.tried {
		out.typed.tried[kind+"."+path] = true
	}
	for _, n := range append(out.place(Schema()), out.check()...) {
		if !strings.HasPrefix(n.Path, kind+".") {
			continue
		}
		if n.Excerpt == "" || n.Place.Line <= 1 && !out.typed.Has(n.Path) {
			n.Place, n.Excerpt = p.Place, head
		}
		n.WayOut = strings.ReplaceAll(n.WayOut, "["+kind+"]", "[["+kind+"]]")
		faults = append(faults, n)
	}
	p.Design = out
	return p, faults
}
