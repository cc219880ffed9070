package design

import (
	"fmt"
	"strings"
	"sync"

	"jetwright/drive"
	"jetwright/notice"
	"jetwright/quantity"
)

// claimSheet is a [[claim]] as it is typed.
type claimSheet struct {
	What               string            `doc:"what is claimed: thrust, power for a thrust, static efficiency, rotor speed, winding or bridge temperature, speed, run time" choices:"thrust|power|static efficiency|rotor speed|winding temperature|bridge temperature|speed|run time"`
	Sense              string            `doc:"whether the value is the least, the most or about what is claimed" choices:"at least|at most|about"`
	Value              string            `doc:"the claimed figure with its unit"`
	Tolerance          quantity.Optional `unit:"%" doc:"tolerance of an about" range:"0.1 .. 100" usual:"1 .. 30"`
	Power              quantity.Optional `unit:"W" doc:"power at which it is claimed" range:"1 .. 200000" usual:"100 .. 30000"`
	Thrust             quantity.Optional `unit:"N" doc:"thrust at which a power is claimed" range:"1 .. 50000" usual:"10 .. 5000"`
	Place              string            `doc:"where the power is meant: battery, controller output or motor shaft" choices:"battery|controller|shaft"`
	Speed              quantity.Optional `unit:"m/s" doc:"speed through the water; at rest if left out" range:"0 .. 40" usual:"0 .. 20"`
	Drag               quantity.Optional `unit:"N" doc:"drag of the craft at a claimed speed, as towed" range:"0.1 .. 50000" usual:"10 .. 5000"`
	Water              string            `doc:"water that the claim holds for; the design's own if left out" choices:"fresh|sea"`
	From               string            `doc:"where the claim comes from: simulation, seller, own" choices:"simulation|seller|own|other"`
	Flow               quantity.Optional `unit:"L/s" doc:"flow that a simulation gives" range:"0.01 .. 10000"`
	Head               quantity.Optional `unit:"m" doc:"pump head that a simulation gives" range:"0.01 .. 1000"`
	RotorSpeed         quantity.Optional `unit:"rpm" doc:"rotor speed that it is claimed for" range:"1 .. 100000"`
	MeshStudy          bool              `doc:"whether a mesh study was made"`
	CavitationModelled bool              `doc:"whether cavitation was modelled"`
	Note               string            `doc:"anything worth remembering"`
	Table              string            `doc:"file with a simulation's whole table in place of one value: columns by meaning and unit, such as shaft power [kW], rotor speed [rpm], thrust [N], torque [N·m], flow [L/s], speed [m/s]"`
}

// units of claimed figures.
var claimUnits = map[string]string{
	"thrust": "N", "power": "W", "static efficiency": "1", "rotor speed": "rpm",
	"winding temperature": "°C", "bridge temperature": "°C", "speed": "m/s", "run time": "s",
}

// ClaimSchema returns the declaration of the keys of a [[claim]].
func ClaimSchema() *quantity.Schema { return claimSchema() }

var claimSchema = sync.OnceValue(func() *quantity.Schema {
	s, err := quantity.SchemaOf(struct{ Claim claimSheet }{})
	if err != nil {
		panic("the claim's tags do not make a schema: " + err.Error()) // held by TestSchema
	}
	return s
})

// Claim is a promise: a figure at a condition, in a sense. SI.
type Claim struct {
	Index              int
	Place_             quantity.Place // where it was typed
	What, Sense        string
	Value              float64
	Text               string // as typed
	Tolerance          float64
	Power, Thrust      float64 // 0 if not given
	Place              string
	Speed              float64
	Drag               quantity.Value // of the craft at a claimed speed; zero if not given
	Water, From        string
	Flow, Head         quantity.Optional
	RotorSpeed         quantity.Optional
	MeshStudy          *bool
	CavitationModelled *bool
	Note               string
}

// DefaultTolerance is what "about" means unless it is typed.
const DefaultTolerance = 0.10

// Low returns the lower end of what the claim's value means, SI.
func (c Claim) Low() float64 { return c.Value * (1 - c.Tolerance) }

// High returns the upper end.
func (c Claim) High() float64 { return c.Value * (1 + c.Tolerance) }

// Simulated tells that the claim comes from a flow simulation.
func (c Claim) Simulated() bool {
	return c.From == "simulation" || c.Flow.Set || c.Head.Set || c.MeshStudy != nil || c.CavitationModelled != nil
}

// OtherWater is water that a claim holds for, where it is not the design's own.
type OtherWater struct{ kind string }

// Apply puts a drive into the water.
func (w OtherWater) Apply(d *drive.Drive) { d.Water.Kind = w.kind }

// OtherWater returns the water of the claim if it names one.
func (c Claim) OtherWater() (OtherWater, bool) { return OtherWater{c.Water}, c.Water != "" }

// ClaimTable is a promise of a whole table: every row a claim of its own.
type ClaimTable struct {
	Claim
	File string // within the folder
}

// tableBeside are keys that a table has in its rows.
var tableBeside = []string{"what", "value", "power", "thrust", "speed", "drag", "flow", "head", "rotor_speed"}

// readTable reads a claim that is a table.
func readTable(doc *Document, i int, s *Sheet) (ClaimTable, notice.List) {
	t := ClaimTable{Claim: Claim{Index: i, Tolerance: DefaultTolerance, What: "thrust", Sense: "about"}}
	t.Place_, _ = doc.ItemPlace("claim", i)
	var faults notice.List
	t.File, _ = s.Text("table")
	if strings.TrimSpace(t.File) == "" || strings.ContainsAny(t.File, "\\") || strings.HasPrefix(t.File, "/") || strings.Contains(t.File, "..") {
		faults = append(faults, notice.Notice{Kind: notice.Error, Place: s.Place("table"), Excerpt: s.Excerpt("table"), Path: "table", What: fmt.Sprintf("table is %q", t.File), Allowed: "it names a file within the drive's folder", WayOut: `type table = "simulation.csv"`})
	}
	for _, key := range tableBeside {
		if s.Has(key) {
			faults = append(faults, notice.Notice{Kind: notice.Error, Place: s.Place(key), Excerpt: s.Excerpt(key), Path: key, What: key + " stands beside a table", Allowed: "a table has it in its rows", WayOut: "take it out, or make it a [[claim]] of its own"})
		}
	}
	text := func(path, otherwise string) string {
		if v, ok := s.Text(path); ok && v != "" {
			return v
		}
		return otherwise
	}
	t.Sense, t.Place, t.Water, t.From, t.Note = text("sense", "about"), text("place", ""), text("water", ""), text("from", "simulation"), text("note", "")
	if v, ok := s.Value("tolerance"); ok {
		t.Tolerance = v.Nominal()
	}
	if cell, ok := s.cells["mesh_study"]; ok {
		t.MeshStudy = &cell.flag
	}
	if cell, ok := s.cells["cavitation_modelled"]; ok {
		t.CavitationModelled = &cell.flag
	}
	return t, faults
}

func readClaims(doc *Document) ([]Claim, []ClaimTable, notice.List) {
	var claims []Claim
	var tables []ClaimTable
	var faults notice.List
	for i := 0; i < doc.Count("claim"); i++ {
		prefix := fmt.Sprintf("claim[%d].", i)
		s, more := Bind(doc, prefix, "claim", ClaimSchema(), nil)
		faults = append(faults, more...)
		if s.tried["table"] {
			t, more := readTable(doc, i, s)
			faults = append(faults, more...)
			tables = append(tables, t)
			continue
		}
		c, more := readClaim(doc, i, s)
		faults = append(faults, more...)
		claims = append(claims, c)
	}
	return claims, tables, faults
}

func readClaim(doc *Document, i int, s *Sheet) (Claim, notice.List) {
	c := Claim{Index: i, Tolerance: DefaultTolerance}
	head, excerpt := doc.ItemPlace("claim", i)
	c.Place_ = head
	var faults notice.List
	lack := func(path, what, allowed, out string) {
		n := notice.Notice{Kind: notice.Error, Place: head, Excerpt: excerpt, Path: path, What: what, Allowed: allowed, WayOut: out}
		if s.Has(path) {
			n.Place, n.Excerpt = s.Place(path), s.Excerpt(path)
		}
		faults = append(faults, n)
	}
	text := func(path string) string { t, _ := s.Text(path); return t }
	number := func(path string) quantity.Optional {
		if v, ok := s.Value(path); ok {
			return quantity.Some(v.Nominal())
		}
		return quantity.Optional{}
	}
	c.What, c.Sense, c.Place, c.Water, c.From, c.Note = text("what"), text("sense"), text("place"), text("water"), text("from"), text("note")
	if !s.tried["what"] {
		lack("what", "the claim does not say what is claimed", "", `type what = "thrust"`)
	}
	if !s.tried["sense"] {
		lack("sense", "the claim does not say in which sense", "", `type sense = "at least", "at most" or "about"`)
	}
	unit, known := claimUnits[c.What]
	switch raw := text("value"); {
	case raw == "" && !s.tried["value"]:
		lack("value", "the claim has no value", "", `type value = "… `+unit+`"`)
	case known:
		v, err := quantity.ParseIn(raw, quantity.MustUnit(unit))
		if err != nil {
			what, allowed, out := err.Error(), "", ""
			if pe, ok := err.(*quantity.ParseError); ok {
				what, allowed, out = pe.What, pe.Allowed, pe.WayOut
			}
			lack("value", "value: "+what, allowed, out)
			break
		}
		c.Value, c.Text = v.Nominal(), raw
		if !v.IsExact() && c.Sense == "about" {
			c.Tolerance = (v.High() - v.Low()) / (2 * v.Nominal())
		}
		if c.Value <= 0 {
			lack("value", fmt.Sprintf("value is %s", raw), "a claimed figure is positive", "")
		}
	}
	if t := number("tolerance"); t.Set {
		c.Tolerance = t.Value
	}
	c.Power, c.Thrust, c.Speed = number("power").Value, number("thrust").Value, number("speed").Value
	if v, ok := s.Value("drag"); ok {
		c.Drag = v
	}
	c.Flow, c.Head, c.RotorSpeed = number("flow"), number("head"), number("rotor_speed")
	if cell, ok := s.cells["mesh_study"]; ok {
		c.MeshStudy = &cell.flag
	}
	if cell, ok := s.cells["cavitation_modelled"]; ok {
		c.CavitationModelled = &cell.flag
	}
	if c.What != "speed" && s.Has("drag") {
		lack("drag", fmt.Sprintf("drag stands beside a claim of %s", c.What), "only a claim of speed is held against a drag", "take it out")
	}
	if known && len(faults) == 0 {
		switch c.What {
		case "power":
			if c.Thrust == 0 {
				lack("thrust", "a claim of power does not say for which thrust", "", `type thrust = "… N"`)
			}
		case "speed":
			if s.Has("speed") {
				lack("speed", "a claim of speed has a speed beside it", "", "the claimed value is the speed; take speed out")
			}
			if c.Power == 0 {
				lack("power", "the claim does not say at which power", "", `type power = "… W" and its place`)
			}
		case "run time":
			if (c.Power == 0) == (c.Thrust == 0) {
				lack("power", "a claim of run time does not say at which power or which thrust", "one of them", `type power = "… W" and its place, or thrust = "… N"`)
			}
		default:
			if c.Power == 0 {
				lack("power", "the claim does not say at which power", "", `type power = "… W" and its place`)
			}
		}
	}
	return c, faults
}
