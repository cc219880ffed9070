package quantity

import (
	"math"
	"slices"
	"strings"
	"unicode/utf8"
)

// Dim is the dimension of a unit: the powers of the base units in it. Angle counts
// radians (of an angle or of a rotation), so that a speed of rotation is not taken for a
// frequency; a torque in N·m has none. Point marks a point on a temperature scale, as
// against a difference of temperatures.
type Dim struct {
	Length, Mass, Time, Current, Temperature, Angle int8
	Point                                           bool
}

// String names the kind of quantity in words ("length", "speed of rotation"), or lists
// the powers of base units where it has no name here.
func (d Dim) String() string {
	if name, ok := dimNames[d]; ok {
		return name
	}
	var parts []string
	for _, b := range [...]struct {
		symbol string
		power  int8
	}{{"m", d.Length}, {"kg", d.Mass}, {"s", d.Time}, {"A", d.Current}, {"K", d.Temperature}, {"rad", d.Angle}} {
		switch {
		case b.power == 1:
			parts = append(parts, b.symbol)
		case b.power != 0:
			parts = append(parts, b.symbol+superscript(int(b.power)))
		}
	}
	return "quantity in " + strings.Join(parts, "·")
}

// superscript writes a small whole number raised.
func superscript(n int) string {
	var b strings.Builder
	if n < 0 {
		b.WriteRune('⁻')
		n = -n
	}
	digits := []rune("⁰¹²³⁴⁵⁶⁷⁸⁹")
	if n >= 100 {
		b.WriteRune(digits[n/100])
	}
	if n >= 10 {
		b.WriteRune(digits[n/10%10])
	}
	b.WriteRune(digits[n%10])
	return b.String()
}

// difference returns the dimension of a difference of two quantities of dimension d.
func (d Dim) difference() Dim {
	d.Point = false
	return d
}

// Unit is a unit of measure. A figure x in it is Scale·x + Offset in SI; only points on
// a temperature scale have an Offset.
type Unit struct {
	Symbol        string
	Scale, Offset float64
	Dim           Dim
}

// One is the unit of dimensionless numbers.
var One = Unit{Symbol: "1", Scale: 1}

// ToSI returns in SI what x is in u.
func (u Unit) ToSI(x float64) float64 {
	// The inverse of a scale such as 0.001 or 1/60 is a whole number, exact where the
	// scale is not.
	if u.Scale < 1 {
		if inverse := 1 / u.Scale; inverse == math.Trunc(inverse) && !math.IsInf(inverse, 0) {
			return x/inverse + u.Offset
		}
	}
	return u.Scale*x + u.Offset
}

// FromSI returns in u what x is in SI.
func (u Unit) FromSI(x float64) float64 {
	x -= u.Offset
	if u.Scale < 1 {
		if inverse := 1 / u.Scale; inverse == math.Trunc(inverse) && !math.IsInf(inverse, 0) {
			return x * inverse
		}
	}
	return x / u.Scale
}

// IsOne tells whether u is the plain unit of dimensionless numbers, which is not written.
func (u Unit) IsOne() bool { return u.Dim == Dim{} && u.Scale == 1 && u.Offset == 0 }

// difference returns the unit in which a difference of two figures in u is measured.
func (u Unit) difference() Unit {
	u.Offset, u.Dim.Point = 0, false
	return u
}

// power returns k if a figure in u is 10^k in SI and nothing more.
func (u Unit) power() (k int, ok bool) {
	if u.Offset != 0 || !(u.Scale > 1e-16 && u.Scale < 1e16) {
		return 0, false
	}
	if u.Scale == 1 {
		return 0, true
	}
	k = int(math.Round(math.Log10(u.Scale)))
	return k, math.Pow10(k) == u.Scale
}

// fits tells whether a figure in u can stand where one in want is expected. K stands
// for a point where a point is expected.
func (u Unit) fits(want Unit) bool {
	return u.Dim == want.Dim || want.Dim.Point && u.isKelvin()
}

// isKelvin tells whether u is K, read as a difference.
func (u Unit) isKelvin() bool {
	return u.Dim == Dim{Temperature: 1} && u.Scale == 1
}

// Token returns the unit as it ends a JSON key or a column name: "N", "m_s" (m/s),
// "m3_s", "Nm" (N·m), "ohm", "degC", "percent", and "" for a dimensionless number. No
// two units share a token.
func (u Unit) Token() string {
	switch u.Symbol {
	case "1", "":
		return ""
	case "%":
		return "percent"
	case "%/K":
		return "percent_K"
	}
	var b strings.Builder
	rest, per := strings.CutPrefix(u.Symbol, "1/")
	if per {
		b.WriteString("per_")
	}
	for _, r := range rest {
		switch r {
		case '/':
			b.WriteByte('_')
		case '·', '(', ')':
		case '²':
			b.WriteByte('2')
		case '³':
			b.WriteByte('3')
		case 'µ':
			b.WriteByte('u')
		case 'Ω':
			b.WriteString("ohm")
		case '°':
			b.WriteString("deg")
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// LookupUnit returns the unit of that symbol. Besides the symbols of the table it reads
// ASCII and workshop spellings (degC, ohm, N.m, N*m, Nm, m3/h, m^3/h, um, l/s, RPM) and
// both micro signs.
func LookupUnit(symbol string) (Unit, bool) {
	if i, ok := unitIndex[symbol]; ok {
		return unitTable[i].Unit, true
	}
	var buffer [maxSymbol]byte
	n, ok := plainSymbol(&buffer, symbol)
	if !ok {
		return Unit{}, false
	}
	i, ok := unitIndex[string(buffer[:n])]
	if !ok {
		return Unit{}, false
	}
	return unitTable[i].Unit, true
}

// MustUnit is LookupUnit for symbols that stand in the code. It panics if there is no
// such unit.
func MustUnit(symbol string) Unit {
	u, ok := LookupUnit(symbol)
	if !ok {
		panic("quantity: no unit " + symbol)
	}
	return u
}

// Units returns every unit, in the order of the table.
func Units() []Unit {
	units := make([]Unit, len(unitTable))
	for i := range unitTable {
		units[i] = unitTable[i].Unit
	}
	return units
}

// NearestUnits returns up to three units whose spelling is close to symbol, nearest
// first.
func NearestUnits(symbol string) []Unit {
	return nearestUnits(symbol, nil)
}

// nearestUnits prefers units of the wanted dimension among equally near ones.
func nearestUnits(symbol string, want *Unit) []Unit {
	if len(symbol) > maxSymbol {
		return nil
	}
	var buffer [maxSymbol]byte
	plain := symbol
	if n, ok := plainSymbol(&buffer, symbol); ok {
		plain = string(buffer[:n])
	}
	folded := strings.ToLower(plain)
	rank := make(map[int]int)
	for spelling, i := range unitIndex {
		r := 4 * editDistance(folded, strings.ToLower(spelling))
		if r == 0 && len(spelling) != len(plain) {
			r = 1
		}
		if letters := utf8.RuneCountInString(folded); r >= 4 && letters < 2 || r > 4*max(1, letters/3) {
			continue
		}
		if want != nil && !unitTable[i].fits(*want) {
			r += 2
		}
		if spelling != unitTable[i].Symbol {
			r++
		}
		if old, ok := rank[i]; !ok || r < old {
			rank[i] = r
		}
	}
	switch symbol {
	case "C", "c":
		rank[unitIndex["°C"]] = -1
	case "F", "f":
		rank[unitIndex["°F"]] = -1
	}
	order := make([]int, 0, len(rank))
	for i := range rank {
		order = append(order, i)
	}
	slices.SortFunc(order, func(a, b int) int {
		if rank[a] != rank[b] {
			return rank[a] - rank[b]
		}
		return a - b
	})
	// A spelling that differs in capitals only leaves no doubt.
	if len(order) > 0 && rank[order[0]] < 4 {
		order = slices.DeleteFunc(order, func(i int) bool { return rank[i] >= 4 })
	}
	units := make([]Unit, 0, 3)
	for _, i := range order[:min(3, len(order))] {
		units = append(units, unitTable[i].Unit)
	}
	return units
}

// maxSymbol is the longest spelling of a unit that is looked at, in bytes.
const maxSymbol = 48

// plainSymbol writes symbol into buffer in the plain form that unitIndex holds: µ as u,
// Ω as ohm, ° as deg, raised digits as digits, every sign of multiplication as one
// point, no blanks around signs, no parentheses, no ^.
func plainSymbol(buffer *[maxSymbol]byte, symbol string) (int, bool) {
	if len(symbol) > maxSymbol {
		return 0, false
	}
	n := 0
	join := false // a point is due before the next letter
	for _, r := range symbol {
		s := ""
		switch r {
		case '·', '⋅', '•', '∙', '*', '.', ' ', '\t', '\u00a0', '\u2009', '\u202f':
			join = n > 0 && buffer[n-1] != '/'
			continue
		case '(', ')', '^':
			continue
		case '/':
			s, join = "/", false
		case '²':
			s, join = "2", false
		case '³':
			s, join = "3", false
		case '¹':
			s = "1"
		case '⁻', '−':
			s = "-"
		case 'µ', 'μ':
			s = "u"
		case 'Ω', '\u2126':
			s = "ohm"
		case '°', 'º':
			s = "deg"
		case '℃':
			s = "degC"
		case '℉':
			s = "degF"
		}
		if join {
			if n == maxSymbol {
				return 0, false
			}
			buffer[n] = '.'
			n++
			join = false
		}
		if s != "" {
			if n+len(s) > maxSymbol {
				return 0, false
			}
			n += copy(buffer[n:], s)
			continue
		}
		if n+utf8.RuneLen(r) > maxSymbol {
			return 0, false
		}
		n += utf8.EncodeRune(buffer[n:], r)
	}
	return n, n > 0
}

// siUnit returns the unit of the table that is SI itself for a dimension.
func siUnit(d Dim) (Unit, bool) {
	for i := range unitTable {
		if u := unitTable[i].Unit; u.Dim == d && u.Scale == 1 && u.Offset == 0 {
			return u, true
		}
	}
	if d == (Dim{Temperature: 1, Point: true}) {
		return kelvinPoint, true
	}
	return Unit{}, false
}

// kelvinPoint is K where a point on the temperature scale is meant.
var kelvinPoint = Unit{Symbol: "K", Scale: 1, Dim: Dim{Temperature: 1, Point: true}}

// UnitsLike returns the symbols of all units of a dimension, that of u first.
func UnitsLike(u Unit) []string {
	out := []string{u.Symbol}
	for i := range unitTable {
		if k := unitTable[i].Unit; k.Dim == u.Dim && k.Symbol != u.Symbol {
			out = append(out, k.Symbol)
		}
	}
	return out
}
