package design

import (
	"fmt"
	"slices"
	"strings"

	"jetwright/drive"
	"jetwright/notice"
	"jetwright/quantity"
)

// elementsKey is the list of elements of the network of heat that are typed in the place of the default's. It is text, so it stands
// beside the schema.
const elementsKey = "thermal.elements"

// ElementsDoc says what the elements are, for the table of keys.
func ElementsDoc() string {
	return "elements of the network of heat in the place of the default's: a way between two nodes such as \"winding to iron: 0.05 K/W\" or \"cells to water: 3 W/K\", where there is none yet a new one; or a node's heat capacity such as \"plate: 600 J/K\". One number each; it holds at every flow. Nodes are " + strings.Join(drive.HeatNodes(), ", ")
}

// readElements reads the list of elements.
func (d *Design) readElements() notice.List {
	var faults notice.List
	for _, e := range d.doc.Entries() {
		if e.Path != elementsKey {
			continue
		}
		fail := func(at quantity.Place, what, allowed string) {
			faults = append(faults, notice.Notice{Kind: notice.Error, Place: at, Path: elementsKey, What: what, Allowed: allowed, WayOut: `write elements = ["winding to iron: 0.05 K/W", "plate: 600 J/K"]`, Excerpt: d.doc.Line(at.Line)})
		}
		if e.Kind != Array || len(e.Elements) == 0 {
			fail(e.ValuePlace, "the elements of the network are a list with at least one element", "")
			continue
		}
		for _, el := range e.Elements {
			if el.Kind != String {
				fail(el.Place, "an element of the network is text in quotes", "")
				continue
			}
			r, what, allowed := readElement(el.Value)
			if what != "" {
				fail(el.Place, what, allowed)
				continue
			}
			for _, x := range d.nominal.Elements {
				if x.Node == r.Node && x.To == r.To || x.Node == r.To && x.To == r.Node {
					fail(el.Place, fmt.Sprintf("element %q is typed twice", el.Value), "each way and each node once")
				}
			}
			d.nominal.Elements = append(d.nominal.Elements, r)
		}
	}
	return faults
}

// readElement reads one element; what says what is wrong with it, empty if nothing is.
func readElement(text string) (r drive.HeatElement, what, allowed string) {
	name, amount, found := strings.Cut(text, ":")
	if !found {
		return r, fmt.Sprintf("element %q has no colon", text), "a node or two, a colon, and a number with its unit"
	}
	a, b, way := strings.Cut(strings.TrimSpace(name), " to ")
	r.Node, r.To = strings.TrimSpace(a), strings.TrimSpace(b)
	nodes, names := drive.HeatNodes(), []string{r.Node}
	if way {
		names = append(names, r.To)
	}
	for _, n := range names {
		if !slices.Contains(nodes, n) {
			return r, fmt.Sprintf("element %q names %q, which is no node", text, n), "one of " + strings.Join(nodes, ", ")
		}
	}
	if way && r.Node == r.To {
		return r, fmt.Sprintf("element %q joins a node to itself", text), "two nodes"
	}
	units := []string{"J/K"}
	if way {
		units = []string{"K/W", "W/K"}
	} else if r.Node == drive.NodeWater {
		return r, "the water outside is held at its temperature and has no heat capacity here", "another node"
	}
	for _, u := range units {
		v, err := quantity.ParseIn(strings.TrimSpace(amount), quantity.MustUnit(u))
		if err != nil {
			continue
		}
		x := v.Nominal()
		if v.Low() != v.High() {
			return r, fmt.Sprintf("element %q has a tolerance", text), "one number; what has a tolerance is typed by its own key of [thermal]"
		}
		if !(x > 0 && x <= mostElement) || u == "K/W" && !(1/x <= mostElement) {
			return r, fmt.Sprintf("element %q is %s", text, strings.TrimSpace(amount)), "above 0, at most 1e9"
		}
		if r.Value = x; u == "K/W" {
			r.Value = 1 / x
		}
		return r, "", ""
	}
	return r, fmt.Sprintf("element %q: %q is no %s", text, strings.TrimSpace(amount), strings.Join(units, " or ")), "a way takes K/W or W/K, a node J/K"
}

// mostElement is the greatest conductance or capacity that is taken, SI.
const mostElement = 1e9
