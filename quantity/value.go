package quantity

import (
	"errors"
	"math"
	"strconv"
	"strings"
)

// Spread says what kind of tolerance a Value carries.
type Spread int8

// Kinds of spread.
const (
	SpreadNone     Spread = iota // a definite number
	SpreadRange                  // anywhere between two ends alike
	SpreadStandard               // a standard uncertainty, normally distributed
)

// String returns the kind in words.
func (s Spread) String() string {
	switch s {
	case SpreadRange:
		return "range"
	case SpreadStandard:
		return "standard uncertainty"
	}
	return "exact"
}

// OriginKind says how a Value came to be known.
type OriginKind int8

// Kinds of origin.
const (
	Typed   OriginKind = iota // written by the builder, at Place
	Assumed                   // not written; taken from Source
	Fitted                    // calibrated against the runs that Source names
	Built                     // measured on the finished part, at Place
)

// String returns the kind in one word.
func (k OriginKind) String() string {
	switch k {
	case Assumed:
		return "assumed"
	case Fitted:
		return "fitted"
	case Built:
		return "built"
	}
	return "typed"
}

// Origin says where a Value came from.
type Origin struct {
	Kind   OriginKind
	Place  Place  // where it is written, for Typed and Built
	Source string // key of the source of an assumption, or the runs of a fit
}

// String returns the origin in words: "typed at drive.toml:12:12", "assumed from own".
func (o Origin) String() string {
	switch {
	case o.Source != "":
		return o.Kind.String() + " from " + o.Source
	case o.Place != Place{}:
		return o.Kind.String() + " at " + o.Place.String()
	}
	return o.Kind.String()
}

// Value is a number with its unit, tolerance and origin. It never changes after it is
// made, and two Values are identical if == says so. The zero Value is the exact
// dimensionless number 0.
type Value struct {
	nominal float64 // SI
	a, b    float64 // SI: the ends of a range, or the standard uncertainty in a
	spread  Spread
	unit    Unit
	text    string
	origin  Origin
}

// Exact returns the definite number x, given in SI, that is shown in u. x has to be finite.
// Where no decimal in u is read as x to the last bit, its text is in the SI unit.
func Exact(x float64, u Unit) Value {
	x += 0 // no negative zero
	figure, in := shortestFigure(x, u)
	text := withUnit(figure, in)
	if v, err := ParseIn(text, u); err == nil && v.nominal == x && v.spread == SpreadNone && v.unit == u {
		return v
	}
	return Value{nominal: x, unit: u, text: text}
}

// Between returns the range from low to high, given in SI and in either order, that is
// shown in u. Both ends have to be finite.
func Between(low, high float64, u Unit) Value {
	low, high = low+0, high+0
	if low > high {
		low, high = high, low
	}
	a, inA := shortestFigure(low, u)
	b, inB := shortestFigure(high, u)
	text := a + " .. " + withUnit(b, inB)
	if inA != inB {
		text = withUnit(a, inA) + " .. " + withUnit(b, inB)
	}
	if v, err := ParseIn(text, u); err == nil && v.Low() == low && v.High() == high && v.unit == u {
		return v
	}
	return Value{nominal: low/2 + high/2, a: low, b: high, spread: SpreadRange, unit: u, text: text}
}

// withUnit joins a figure and its unit.
func withUnit(figure string, u Unit) string {
	if u.IsOne() || u.Symbol == "" {
		return figure
	}
	return figure + " " + u.Symbol
}

// Nominal returns the number itself in SI: the middle of a range.
func (v Value) Nominal() float64 { return v.nominal }

// normal90 is the 95 % quantile of the normal distribution.
const normal90 = 1.6448536269514722

// Low returns in SI the lower end: of a range its end, of a standard uncertainty u the
// nominal − 1.645 u, so that 90 % lie between Low and High.
func (v Value) Low() float64 {
	switch v.spread {
	case SpreadRange:
		return v.a
	case SpreadStandard:
		return v.nominal - normal90*v.a
	}
	return v.nominal
}

// High returns in SI the upper end, as Low does the lower.
func (v Value) High() float64 {
	switch v.spread {
	case SpreadRange:
		return v.b
	case SpreadStandard:
		return v.nominal + normal90*v.a
	}
	return v.nominal
}

// StandardUncertainty returns the standard uncertainty in SI, 0 for an exact number.
//
//	u = (b − a)/√12
//
//	a, b  ends of a range
//
// Holds for a range; a standard uncertainty is returned as it was typed.
//
// Source: jcgm-100, 4.3.7. Tests: TestStandardUncertaintyExact.
func (v Value) StandardUncertainty() float64 {
	switch v.spread {
	case SpreadRange:
		return (v.b - v.a) / (2 * math.Sqrt(3))
	case SpreadStandard:
		return v.a
	}
	return 0
}

// IsExact tells whether v is one definite number.
func (v Value) IsExact() bool { return v.Low() == v.High() }

// Spread returns the kind of tolerance that v carries.
func (v Value) Spread() Spread { return v.spread }

// Unit returns the unit that v was typed or made in.
func (v Value) Unit() Unit {
	if v.unit == (Unit{}) {
		return One
	}
	return v.unit
}

// Dim returns the dimension of v.
func (v Value) Dim() Dim { return v.unit.Dim }

// Origin returns where v came from.
func (v Value) Origin() Origin { return v.origin }

// WithOrigin returns v with another origin.
func (v Value) WithOrigin(o Origin) Value {
	v.origin = o
	return v
}

// Quantile returns in SI the number below which v lies with probability p: for a range
// all numbers between the ends are equally likely, a standard uncertainty is normal. p
// lies between 0 and 1, both excluded; a normal spread has no number at 0 and 1, there
// the last one inside is given.
//
//	x = a + p·(b − a)        or        x = x₀ + u·Φ⁻¹(p)
//
//	a, b  ends of a range
//	x₀    nominal, u its standard uncertainty
//	Φ⁻¹   inverse of the standard normal distribution
//
// Holds for 0 < p < 1.
//
// Source: jcgm-101, 6.4.2 and 6.4.7. Tests: TestQuantileExact, TestQuantilePublished, TestQuantileLaw.
func (v Value) Quantile(p float64) float64 {
	switch v.spread {
	case SpreadRange:
		return v.a*(1-p) + v.b*p
	case SpreadStandard:
		const tiny = 0x1p-53
		p = min(max(p, tiny), 1-tiny)
		return v.nominal - v.a*math.Sqrt2*math.Erfcinv(2*p)
	}
	return v.nominal
}

// String returns v as it was typed; a number that was not typed in its shortest form that
// is read as the same number.
func (v Value) String() string {
	if v.text == "" {
		return withUnit(strconv.FormatFloat(v.nominal, 'g', -1, 64), v.unit)
	}
	return v.text
}

// Text returns v in another unit of the same dimension, in the notation it was typed in
// and with the digits that the typed ones are worth: "64 mm ± 0.2 mm" in inches is
// "2.520 in ± 0.008 in". A percent tolerance stays. Where u does not fit, or is the unit
// typed, Text is String.
func (v Value) Text(u Unit) string {
	from := v.Unit()
	if u.Dim.difference() != from.Dim.difference() || from.Dim.Point != u.Dim.Point && !(from.Dim.Point && u.isKelvin()) {
		return v.String()
	}
	if u.Symbol == from.Symbol {
		return v.String()
	}
	typed, err := readTyped(v.String(), from)
	if err != nil {
		return withUnit(strconv.FormatFloat(u.FromSI(v.nominal), 'g', 6, 64), u)
	}
	switch {
	case typed.kind == notationRange:
		place := min(typed.first.placeIn(from, u), typed.second.placeIn(from, u))
		low, high := placed(u.FromSI(v.a), place), placed(u.FromSI(v.b), place)
		return low + " .. " + withUnit(high, u)
	case typed.kind == notationLimits && typed.relative:
		number := placed(u.FromSI(v.nominal), typed.first.placeIn(from, u))
		return withUnit(number, u) + typed.rest
	case typed.kind == notationLimits:
		tolerance := (v.b - v.a) / 2 / u.Scale
		d := u.difference()
		if u.Dim.Point {
			d = kelvinPoint.difference()
			tolerance = (v.b - v.a) / 2
		}
		place := min(typed.first.placeIn(from.difference(), d), typed.second.placeIn(typed.secondUnit.difference(), d))
		return withUnit(placed(u.FromSI(v.nominal), place), u) + " ± " + withUnit(placed(tolerance, place), d)
	case typed.kind == notationStandard:
		uncertainty := v.a / u.Scale
		if uncertainty == 0 {
			return withUnit(placed(u.FromSI(v.nominal), typed.first.placeIn(from, u))+"(0)", u)
		}
		place := exponentOf(uncertainty) - 1
		if math.Round(uncertainty/math.Pow10(place)) >= 100 {
			place++
		}
		// Digits in parentheses count units of the last place, which a plain figure has
		// only up to the ones.
		place = min(place, 0)
		last := strconv.FormatFloat(math.Round(uncertainty/math.Pow10(place)), 'f', 0, 64)
		if len(last) > 15 {
			return v.String() // more digits than are read again; the unit typed is the one for it
		}
		return withUnit(placed(u.FromSI(v.nominal), place)+"("+last+")", u)
	}
	return withUnit(placed(u.FromSI(v.nominal), typed.first.placeIn(from, u)), u)
}

// placeIn returns the decimal place in unit to that a figure typed as d in unit from is
// worth. Nobody types ten digits; a longer figure was computed and is worth six.
func (d decimal) placeIn(from, to Unit) int {
	step := d.exp
	if n := d.digits(); n > 9 {
		short := d
		for short.mant%10 == 0 && n > 9 {
			short.mant /= 10
			n--
		}
		if n > 9 {
			step += d.digits() - 6
		}
	}
	if k, ok := from.power(); ok {
		if l, ok := to.power(); ok {
			return step + k - l
		}
	}
	if from.Scale == to.Scale {
		return step
	}
	return exponentOf(math.Pow10(step) * from.Scale / to.Scale)
}

// MarshalJSON writes the nominal and the ends in the unit of v:
// {"value":64,"low":63.8,"high":64.2}.
func (v Value) MarshalJSON() ([]byte, error) {
	for _, x := range [...]float64{v.nominal, v.Low(), v.High()} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return nil, errors.New("quantity: a number that is not finite has no JSON form")
		}
	}
	return AppendIntervalJSON(nil, v.nominal, v.Low(), v.High(), v.Unit()), nil
}

// shortestFigure returns the shortest decimal figure that is read as exactly x (SI) in
// unit u, and the unit it is in: u itself, or the SI unit where no decimal in u gives
// exactly x.
func shortestFigure(x float64, u Unit) (string, Unit) {
	if k, ok := u.power(); ok {
		return shiftedFigure(x, k), u
	}
	if figure, ok := figureFor(x, u); ok {
		return figure, u
	}
	if si, ok := siUnit(u.Dim); ok {
		return shiftedFigure(x, 0), si
	}
	return strconv.FormatFloat(u.FromSI(x), 'g', -1, 64), u
}

// shiftedFigure writes x·10^-k in its shortest form, without rounding.
func shiftedFigure(x float64, k int) string {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return strconv.FormatFloat(x+0, 'g', -1, 64)
	}
	var buffer [32]byte
	text := string(strconv.AppendFloat(buffer[:0], x, 'e', -1, 64))
	mantissa, exponent, _ := strings.Cut(text, "e")
	e, _ := strconv.Atoi(exponent)
	return layOut(mantissa, e-k)
}

// layOut writes a mantissa d.ddd and a power of ten as a plain decimal between 1e-5 and
// 1e15, else with an exponent.
func layOut(mantissa string, e int) string {
	sign := ""
	if strings.HasPrefix(mantissa, "-") {
		sign, mantissa = "-", mantissa[1:]
	}
	digits := strings.TrimRight(strings.Replace(mantissa, ".", "", 1), "0")
	if digits == "" {
		return "0"
	}
	switch {
	case e < -5 || e >= 15:
		if len(digits) > 1 {
			digits = digits[:1] + "." + digits[1:]
		}
		return sign + digits + "e" + strconv.Itoa(e)
	case e < 0:
		return sign + "0." + strings.Repeat("0", -e-1) + digits
	case len(digits) <= e+1:
		return sign + digits + strings.Repeat("0", e+1-len(digits))
	}
	return sign + digits[:e+1] + "." + digits[e+1:]
}

// figureFor looks for the shortest decimal that ToSI turns into exactly x.
func figureFor(x float64, u Unit) (string, bool) {
	near := u.FromSI(x)
	if math.IsNaN(near) || math.IsInf(near, 0) {
		return "", false
	}
	for digits := 15; digits <= 17; digits++ {
		for _, candidate := range [...]float64{near, math.Nextafter(near, math.Inf(1)), math.Nextafter(near, math.Inf(-1))} {
			var buffer [32]byte
			text := string(strconv.AppendFloat(buffer[:0], candidate, 'e', digits-1, 64))
			if back, err := strconv.ParseFloat(text, 64); err != nil || u.ToSI(back) != x {
				continue
			}
			mantissa, exponent, _ := strings.Cut(text, "e")
			e, _ := strconv.Atoi(exponent)
			return layOut(mantissa, e), true
		}
	}
	return "", false
}
