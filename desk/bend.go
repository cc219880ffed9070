package desk

import (
	"context"
	"math"
	"slices"

	"jetwright/drive"
	"jetwright/project"
	"jetwright/quantity"
)

// BendAnswer is how the drive follows the dimensions of a part, one at a time, nominal: the thrust, or where the thrust is
// given the power at the battery.
type BendAnswer struct {
	Condition drive.Condition
	Thrust    bool // it is thrust that follows
	Curves    []Bend
}

// Bend is one dimension: where it was put, and what followed, SI; NaN where the drive has no state.
type Bend struct {
	Path, Name string
	Unit       quantity.Unit
	X, Y       []float64
	At         int // index of where it stands
}

const (
	bendPoints = 9   // odd, so that where it stands is one of them
	bendReach  = 0.1 // share of the number to either side
	bendMost   = 4   // dimensions that are shown
	bendLeast  = 1e-3
)

// Bends answers how the drive follows the typed numbers of some sections at a condition, those that move it most first. A
// number that moves it by less than a thousandth is left out.
func Bends(ctx context.Context, p *project.Project, c *drive.Condition, sections []string) (*BendAnswer, error) {
	nominal := p.Design.Nominal()
	a := &BendAnswer{Condition: nominal.DutyCondition()}
	if c != nil {
		a.Condition = *c
	}
	a.Thrust = a.Condition.Demand != drive.Thrust
	for _, f := range Sheet(p).Fields {
		if !slices.Contains(sections, f.Part) || f.Kind != "number" || f.Origin != "typed" && f.Origin != "built" || !f.Known || f.Value.Value == 0 || f.Unit.Dim.Point {
			continue
		}
		b := Bend{Path: f.Path, Name: f.Name, Unit: f.Unit, At: bendPoints / 2}
		for i := range bendPoints {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			share := bendReach * (2*float64(i)/(bendPoints-1) - 1)
			x, y := a.bent(p, f, share)
			b.X, b.Y = append(b.X, x), append(b.Y, y)
		}
		if b.moves() >= bendLeast {
			a.Curves = append(a.Curves, b)
		}
	}
	slices.SortStableFunc(a.Curves, func(x, y Bend) int {
		switch {
		case x.moves() > y.moves():
			return -1
		case x.moves() < y.moves():
			return 1
		}
		return 0
	})
	a.Curves = a.Curves[:min(len(a.Curves), bendMost)]
	return a, nil
}

// bent is where a number stands when it is changed by a share of itself, and what follows.
func (a *BendAnswer) bent(p *project.Project, f SheetField, share float64) (x, y float64) {
	x = f.Value.Value * (1 + share)
	key, text, err := MovedBy(p, f.Path, f.Value.Value*share)
	if err != nil {
		return x, math.NaN()
	}
	d, err := p.Design.With(key, text)
	if err != nil {
		return x, math.NaN()
	}
	if v, ok := d.Value(f.Path); ok {
		x = v.Nominal() // as it was rounded, and where its range ended
	}
	m, err := d.Nominal().Resolve()
	if err != nil {
		return x, math.NaN()
	}
	s, err := m.Solve(a.Condition)
	if err != nil {
		return x, math.NaN()
	}
	if a.Thrust {
		return x, s.Thrust
	}
	return x, s.BatteryPower
}

// moves is the span of what follows, as a share of it.
func (b Bend) moves() float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, y := range b.Y {
		if !math.IsNaN(y) {
			low, high = math.Min(low, y), math.Max(high, y)
		}
	}
	if !(high > low) {
		return 0
	}
	return (high - low) / math.Max(math.Abs(high), math.Abs(low))
}
