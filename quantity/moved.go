package quantity

import (
	"math"
	"strconv"
)

// Step returns a handy step for changing v by hand, in SI: one, two or five units of a decimal place, at most
// a hundredth of the number. A number of zero steps by a tenth of its tolerance, or of its unit.
func (v Value) Step() float64 {
	u := v.Unit().difference()
	size := math.Abs(u.FromSI(v.nominal))
	if v.Unit().Dim.Point {
		size = 100 // a degree at a time, wherever the scale begins
	}
	if size == 0 {
		size = 10 * u.FromSI(math.Max(v.High()-v.nominal, v.nominal-v.Low()))
	}
	if size == 0 {
		size = 10
	}
	size /= 100
	unit := math.Pow10(exponentOf(size))
	for _, round := range []float64{5, 2, 1} {
		if round*unit <= size*(1+1e-12) {
			return u.ToSI(round * unit)
		}
	}
	return u.ToSI(unit)
}

// Moved returns the text of v with the number at another place, in the notation and unit it was typed in: the
// tolerance stays, both ends of a range move. The number is rounded to the place of step (SI), or of what was
// typed where that is finer.
func (v Value) Moved(to, step float64) string {
	u := v.Unit()
	by := to - v.nominal
	typed, err := readTyped(v.String(), u)
	if err != nil {
		return withUnit(strconv.FormatFloat(u.FromSI(to), 'g', 6, 64), u)
	}
	place := math.MaxInt
	if step > 0 {
		place = exponentOf(u.difference().FromSI(step) * (1 + 1e-9))
	}
	first := min(place, typed.first.placeIn(u, u))
	switch typed.kind {
	case notationRange:
		first = min(first, typed.second.placeIn(u, u))
		return placed(u.FromSI(v.a+by), first) + " .. " + withUnit(placed(u.FromSI(v.b+by), first), u)
	case notationLimits:
		number := withUnit(placed(u.FromSI(to), first), u)
		if typed.relative {
			return number + typed.rest
		}
		d := typed.secondUnit
		if d == (Unit{}) || d.IsOne() {
			d = u.difference()
		}
		second := typed.second.placeIn(d, d)
		half := (v.b - v.a) / 2
		return number + " ± " + withUnit(placed(half/d.Scale, second), d)
	case notationStandard:
		// digits in parentheses count units of the last place typed
		at := typed.first.placeIn(u, u)
		last := strconv.FormatFloat(math.Round(v.a/u.Scale/math.Pow10(at)), 'f', 0, 64)
		return withUnit(placed(u.FromSI(to), at)+"("+last+")", u)
	}
	return withUnit(placed(u.FromSI(to), first), u)
}
