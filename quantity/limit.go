package quantity

import "math"

// Optional is a number that a design may leave out. Set tells whether it is
// known; Value is meaningless unless Set.
type Optional struct {
	Value float64
	Set   bool
}

// Some returns a known number.
func Some(x float64) Optional { return Optional{Value: x, Set: true} }

// Or returns the number if it is known and x otherwise.
func (o Optional) Or(x float64) float64 {
	if o.Set {
		return o.Value
	}
	return x
}

// Sense tells on which side of a Limit the allowed values lie.
type Sense int8

// The two senses of a limit.
const (
	AtMost Sense = iota
	AtLeast
)

// Limit is one bound that a state is held against. The part that it belongs to
// makes it; it holds plain SI numbers of one solved state, and whoever has many
// drawn states judges it (see the words broken, near, clear, not judged).
type Limit struct {
	Name    string  // "winding temperature"
	Part    string  // section of the design file it belongs to: "motor"
	Unit    string  // unit to show it in: "°C"
	Value   float64 // the state's figure, SI
	Allowed float64 // the bound, SI
	Zero    float64 // the figure at which nothing is used up, SI (water temperature for a temperature, 0 for a current)
	Sense   Sense
	Why     string   // what happens beyond it
	Source  string   // key in docs/sources.bib
	Moves   []string // paths that would move it
	Hazard  bool     // can hurt people: judged with every tolerance at its bad end and Factor applied
	Factor  float64  // stated safety factor already contained in Allowed, 1 if none
	// NotJudged says why the limit could not be judged; empty if it was.
	NotJudged string
}

// Margin returns the share of the way from Zero to Allowed that is left: 1 when
// nothing is used, 0 at the bound, negative beyond it. It is dimensionless.
// A limit that was not judged has margin 0.
func (l Limit) Margin() float64 {
	if l.NotJudged != "" {
		return 0
	}
	// The sign is that of the distance to the bound alone; Zero only sets its scale.
	left := l.Allowed - l.Value
	if l.Sense == AtLeast {
		left = -left
	}
	if scale := math.Abs(l.Allowed - l.Zero); scale > 0 {
		return left / scale
	}
	return left
}
