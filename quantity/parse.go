package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// ParseError says why a text is not a number with its unit, and how to write it.
type ParseError struct {
	Start, End int    // bytes of the text that are wrong: text[Start:End]
	What       string // what is wrong
	Allowed    string // what would be right; may be empty
	WayOut     string // what to do; may be empty
}

// Error writes the parts in one line.
func (e *ParseError) Error() string {
	text := e.What
	if e.Allowed != "" {
		text += "; " + e.Allowed
	}
	if e.WayOut != "" {
		text += "; " + e.WayOut
	}
	return text
}

// maxText is the longest text that is read as a number, in bytes.
const maxText = 200

// Parse reads a number with its unit and tolerance, in one of the three notations that
// the package comment shows. A number without unit is dimensionless. °C and °F are
// points on the temperature scale, K is a difference of temperatures. An error is a
// *ParseError.
func Parse(text string) (Value, error) {
	r := reader{text: text}
	t, fault := r.read()
	if fault != nil {
		return Value{}, fault
	}
	return t.value(&r)
}

// ParseIn is Parse where a quantity of the dimension of unit is expected. The text may
// use any unit of that dimension and has to have one, unless unit is [One]. Where a
// temperature is expected, K is a point as well; where a difference of temperatures is
// expected, °C and °F are refused. An error is a *ParseError.
func ParseIn(text string, unit Unit) (Value, error) {
	r := reader{text: text, want: &unit}
	t, fault := r.read()
	if fault != nil {
		return Value{}, fault
	}
	return t.value(&r)
}

// readTyped reads what ParseIn reads and returns the digits as they stand.
func readTyped(text string, unit Unit) (typed, error) {
	r := reader{text: text, want: &unit}
	t, fault := r.read()
	if fault != nil {
		return typed{}, fault
	}
	return t, nil
}

// notation is one of the ways to write a number.
type notation int8

const (
	notationExact    notation = iota
	notationLimits            // 64 ± 0.2
	notationRange             // 0.60 .. 0.78
	notationStandard          // 0.520(12)
)

// typed is a number as it stands in the text.
type typed struct {
	kind                  notation
	first                 decimal // the number, or the low end
	second                decimal // tolerance, high end, or standard uncertainty
	firstUnit, secondUnit Unit
	relative              bool   // the tolerance is a share of the number
	rest                  string // of the text, from the sign of a relative tolerance on
}

// reader reads one text.
type reader struct {
	text string
	pos  int
	want *Unit // the unit expected, nil if any will do

	// What stands where, for messages.
	firstEnd               int
	secondStart, secondEnd int
}

// fail makes the error for text[start:end].
func (r *reader) fail(start, end int, what, allowed, wayOut string) *ParseError {
	return &ParseError{Start: start, End: min(end, len(r.text)), What: what, Allowed: allowed, WayOut: wayOut}
}

// show quotes a piece of the text, cut where it is long.
func show(s string) string {
	s = strings.TrimSpace(s)
	if utf8.RuneCountInString(s) > 40 {
		s = string([]rune(s)[:40]) + "…"
	}
	return strconv.Quote(s)
}

// example is a number in the unit expected, for messages.
func (r *reader) example() string {
	if r.want == nil {
		return `"64 mm", "64 mm ± 0.2 mm", "0.60 .. 0.78" or "0.520(12)"`
	}
	return strconv.Quote(withUnit("12.5", *r.want))
}

func (r *reader) read() (typed, *ParseError) {
	if len(r.text) > maxText {
		return typed{}, r.fail(0, len(r.text), fmt.Sprintf("a number of %d characters", len(r.text)),
			fmt.Sprintf("at most %d", maxText), "")
	}
	r.skipSpace()
	start := r.pos
	if start == len(r.text) {
		return typed{}, r.fail(0, len(r.text), "no number", "a number such as "+r.example(), "")
	}
	var t typed
	standard, isStandard := decimal{}, false
	var fault *ParseError
	if t.first, standard, isStandard, fault = r.number(); fault != nil {
		return typed{}, fault
	}
	r.firstEnd = r.pos
	firstUnit, hasFirst, fault := r.unit()
	if fault != nil {
		return typed{}, fault
	}
	signStart := r.pos
	sign := r.sign()
	if sign == '…' {
		return typed{}, r.fail(signStart, r.pos, "more than two points between the ends of a range", `two points, as in "0.60 .. 0.78"`, "")
	}
	if isStandard {
		if sign != 0 {
			return typed{}, r.fail(signStart, len(r.text), "two tolerances on one number",
				`one of "64 ± 0.2", "63.8 .. 64.2", "64.0(2)"`, "leave one out")
		}
		t.kind, t.second = notationStandard, standard
	}
	secondUnit, hasSecond := Unit{}, false
	if sign != 0 {
		t.kind = notationLimits
		if sign == '.' {
			t.kind = notationRange
		}
		r.skipSpace()
		r.secondStart = r.pos
		if t.second, _, isStandard, fault = r.number(); fault != nil {
			return typed{}, fault
		}
		if isStandard {
			return typed{}, r.fail(r.secondStart, r.pos, "a tolerance on a tolerance",
				`one of "64 ± 0.2", "63.8 .. 64.2", "64.0(2)"`, "leave the digits in parentheses out")
		}
		r.secondEnd = r.pos
		if secondUnit, hasSecond, fault = r.unit(); fault != nil {
			return typed{}, fault
		}
		if r.pos != len(r.text) {
			return typed{}, r.fail(r.pos, len(r.text), "more behind the tolerance: "+show(r.text[r.pos:]),
				`one of "64 ± 0.2", "63.8 .. 64.2", "64.0(2)"`, "leave one out")
		}
	}

	// Which unit goes with which figure.
	switch {
	case hasFirst && hasSecond:
	case hasFirst && t.kind == notationRange:
		return typed{}, r.fail(r.secondStart, r.secondEnd, "the upper end has no unit",
			"the unit behind the upper end, or behind both",
			"write "+strconv.Quote(r.text[start:signStart]+".. "+r.text[r.secondStart:r.secondEnd]+" "+firstUnit.Symbol))
	case hasFirst:
		secondUnit = firstUnit
	case hasSecond:
		firstUnit = secondUnit
		if t.kind == notationLimits && secondUnit.Dim == dimensionless && !secondUnit.IsOne() &&
			(r.want == nil || r.want.Symbol != secondUnit.Symbol) {
			return typed{}, r.fail(r.secondStart, len(r.text),
				fmt.Sprintf("%s may be a share of the number or go with both figures", show(r.text[r.secondStart:])),
				"a number with its own unit before a tolerance in "+secondUnit.Symbol,
				`write "0.60 ± 0.03", "60 % ± 3 %" or "400 N ± 5 %"`)
		}
	default:
		if r.want != nil && !r.want.IsOne() {
			return typed{}, r.fail(start, len(r.text), fmt.Sprintf("%s has no unit", show(r.text[start:])),
				r.want.Dim.String()+", in "+r.want.Symbol+" or another unit of it",
				"write "+strconv.Quote(strings.TrimSpace(r.text[start:])+" "+r.want.Symbol))
		}
		firstUnit, secondUnit = One, One
	}
	t.firstUnit, t.secondUnit = firstUnit, secondUnit
	return t, r.units(&t, start, signStart)
}

// units checks that the units fit each other and what is expected, and says of K whether
// it is a point.
func (r *reader) units(t *typed, start, signStart int) *ParseError {
	if fault := r.expected(t.firstUnit, start, signStart); fault != nil {
		return fault
	}
	point := r.want != nil && r.want.Dim.Point
	switch t.kind {
	case notationLimits:
		if t.secondUnit.Dim == dimensionless && t.firstUnit.Dim != dimensionless {
			if t.secondUnit.IsOne() {
				return r.fail(r.secondStart, len(r.text), "the tolerance has no unit", "", "write it in "+t.firstUnit.Symbol)
			}
			if t.firstUnit.Dim.Point {
				return r.fail(r.secondStart, len(r.text), "a share of a temperature means nothing: its zero is arbitrary",
					"a tolerance in K", `write it as in "30 °C ± 2 K"`)
			}
			t.relative, t.rest = true, " "+strings.TrimSpace(r.text[signStart:])
		} else if t.secondUnit.Dim.difference() != t.firstUnit.Dim.difference() {
			return r.fail(r.secondEnd, len(r.text),
				fmt.Sprintf("the tolerance is in %s, the number in %s", t.secondUnit.Symbol, t.firstUnit.Symbol),
				"a tolerance in "+t.firstUnit.difference().Symbol, "")
		}
		if t.second.mant < 0 {
			return r.fail(r.secondStart, r.secondEnd, "the tolerance is negative: "+r.text[r.secondStart:r.secondEnd],
				"a tolerance of 0 or more", "leave its minus sign out")
		}
	case notationRange:
		if t.firstUnit.Dim.Point || t.secondUnit.Dim.Point {
			point = true
		}
		if fault := r.expected(t.secondUnit, r.secondEnd, len(r.text)); fault != nil {
			return fault
		}
		if t.firstUnit.Dim.difference() != t.secondUnit.Dim.difference() {
			return r.fail(r.secondEnd, len(r.text),
				fmt.Sprintf("the ends are in %s and %s", t.firstUnit.Symbol, t.secondUnit.Symbol),
				"both ends in units of "+t.firstUnit.Dim.String(), "")
		}
	}
	if point {
		if t.firstUnit.isKelvin() {
			t.firstUnit = kelvinPoint
		}
		if t.kind == notationRange && t.secondUnit.isKelvin() {
			t.secondUnit = kelvinPoint
		}
	}
	return nil
}

// expected checks a unit against the one that is wanted.
func (r *reader) expected(u Unit, start, end int) *ParseError {
	if r.want == nil || u.fits(*r.want) {
		return nil
	}
	want := *r.want
	if want.Dim == dimDifference && u.Dim.Point {
		return r.fail(start, end, fmt.Sprintf("%s is a temperature, expected is a difference of temperatures", u.Symbol),
			"a difference in K", `write a difference in K, as in "5 K": 1 K is 1 degree Celsius or 1.8 degrees Fahrenheit apart`)
	}
	wayOut := ""
	for _, pair := range [...][2]Dim{{dimRotation, dimFrequency}, {dimFrequency, dimRotation}} {
		if want.Dim == pair[0] && u.Dim == pair[1] {
			wayOut = "write a speed of rotation in rpm or rad/s, a frequency in Hz or 1/s"
		}
	}
	if u.IsOne() {
		return r.fail(start, end, "a number without unit", want.Dim.String()+", in "+want.Symbol+" or another unit of it", wayOut)
	}
	allowed := want.Dim.String() + ", in " + want.Symbol + " or another unit of it"
	if want.IsOne() {
		allowed = "a number without unit, or in %"
	}
	return r.fail(start, end, fmt.Sprintf("%s is a unit of %s", u.Symbol, u.Dim), allowed, wayOut)
}

// skipSpace goes on to the next sign.
func (r *reader) skipSpace() {
	for r.pos < len(r.text) {
		c, size := utf8.DecodeRuneInString(r.text[r.pos:])
		if !unicode.IsSpace(c) {
			return
		}
		r.pos += size
	}
}

// at returns the byte i places on, 0 behind the end.
func (r *reader) at(i int) byte {
	if r.pos+i < len(r.text) {
		return r.text[r.pos+i]
	}
	return 0
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

// number reads a number, with a standard uncertainty in its last digits if there is one.
func (r *reader) number() (d, standard decimal, isStandard bool, fault *ParseError) {
	start := r.pos
	negative := r.minus()
	if !negative && r.at(0) == '+' {
		r.pos++
	}
	if !isDigit(r.at(0)) {
		return d, standard, false, r.noDigits(start)
	}
	digits := 0
	fraction := false
	for {
		c := r.at(0)
		if isDigit(c) {
			if d.mant > 0 || c != '0' {
				digits++
			}
			if digits <= maxDigits {
				d.mant = d.mant*10 + int64(c-'0')
			}
			if fraction {
				d.exp--
			}
			r.pos++
			continue
		}
		if c == '.' && r.at(1) != '.' && !fraction {
			if !isDigit(r.at(1)) {
				return d, standard, false, r.fail(start, r.pos+1, "no digit behind the point in "+show(r.text[start:r.pos+1]),
					"", "write "+strconv.Quote(r.text[start:r.pos]))
			}
			fraction = true
			r.pos++
			continue
		}
		break
	}
	if fault := r.grouped(start, fraction); fault != nil {
		return d, standard, false, fault
	}
	if digits > maxDigits {
		return d, standard, false, r.fail(start, r.pos, fmt.Sprintf("a number of %d digits", digits),
			fmt.Sprintf("at most %d digits", maxDigits), "round it")
	}
	if r.at(0) == '(' {
		if standard, fault = r.parentheses(d.exp); fault != nil {
			return d, standard, false, fault
		}
		isStandard = true
	}
	if e, ok := r.exponent(); ok {
		d.exp += e
		standard.exp += e
	}
	if negative {
		d.mant = -d.mant
	}
	if _, ok := d.finite(); !ok {
		return d, standard, false, r.size(start, r.pos)
	}
	return d, standard, isStandard, nil
}

// size is the error for a number that a float64 cannot hold with its digits.
func (r *reader) size(start, end int) *ParseError {
	return r.fail(start, end, show(r.text[start:end])+" is too large or too small to calculate with",
		"0, or a size between 1e-300 and 1e300 in SI units", "")
}

// minus takes a minus sign if there is one.
func (r *reader) minus() bool {
	if r.at(0) == '-' {
		r.pos++
		return true
	}
	if strings.HasPrefix(r.text[r.pos:], "−") {
		r.pos += len("−")
		return true
	}
	return false
}

// noDigits is the error for a text without number at a place where one is expected.
func (r *reader) noDigits(start int) *ParseError {
	end := r.pos
	for end < len(r.text) {
		c, size := utf8.DecodeRuneInString(r.text[end:])
		if unicode.IsSpace(c) {
			break
		}
		end += size
	}
	piece := r.text[start:end]
	switch lower := strings.ToLower(strings.TrimLeft(piece, "+-−")); {
	case strings.HasPrefix(lower, "nan") || strings.HasPrefix(lower, "inf") || strings.HasPrefix(lower, "∞"):
		return r.fail(start, end, show(piece)+" is not a number that can be calculated with", "a finite number", "")
	case len(lower) > 1 && (lower[0] == '.' || lower[0] == ',') && isDigit(lower[1]):
		return r.fail(start, end, "no digit before the point in "+show(piece), "",
			"write "+strconv.Quote(strings.TrimSuffix(piece, lower)+"0."+lower[1:]))
	case strings.HasPrefix(lower, ".") && start > 0 && r.text[start-1] == '.':
		return r.fail(start, end, "more than two points between the ends of a range", `two points, as in "0.60 .. 0.78"`, "")
	case piece == "":
		return r.fail(start, len(r.text), "no number behind "+show(r.text[:start]), "a number such as "+r.example(), "")
	}
	return r.fail(start, end, show(piece)+" is not a number", "a number such as "+r.example(), "")
}

// grouped refuses a comma and every way of grouping digits behind the digits just read.
func (r *reader) grouped(start int, fraction bool) *ParseError {
	rest := r.text[r.pos:]
	end := len(r.text)
	for i := r.pos; i < len(r.text); i++ {
		if c := r.text[i]; !isDigit(c) && c != ',' && c != '.' && c != '_' && c != '\'' {
			end = i
			break
		}
	}
	piece := r.text[start:end]
	switch {
	case strings.HasPrefix(rest, ","):
		plain := strings.ReplaceAll(piece, ",", "")
		wayOut := "write a point for the comma"
		if strings.Count(piece, ",") == 1 && !strings.HasSuffix(piece, ",") && !strings.Contains(piece, ".") {
			wayOut = "write " + strconv.Quote(strings.Replace(piece, ",", ".", 1))
			if len(piece)-strings.IndexByte(piece, ',') == 4 {
				wayOut += ", or " + strconv.Quote(plain) + " if thousands are meant"
			}
		}
		return r.fail(start, max(end, r.pos+1), "a comma in the number "+show(piece), "a point as the decimal sign, digits not grouped", wayOut)
	case len(rest) > 1 && (rest[0] == '_' || rest[0] == '\'') && isDigit(rest[1]),
		strings.HasPrefix(rest, "’"),
		len(rest) > 1 && fraction && rest[0] == '.' && isDigit(rest[1]):
		return r.fail(start, max(end, r.pos+1), "grouped digits in the number "+show(piece), "digits without separators", "write the digits without gaps, with one point at most")
	}
	// A gap: "1 000".
	after := strings.TrimLeftFunc(rest, unicode.IsSpace)
	if after != rest && after != "" && isDigit(after[0]) {
		n := 1
		for n < len(after) && isDigit(after[n]) {
			n++
		}
		if !strings.HasPrefix(after, "1/") {
			end := len(r.text) - len(after) + n
			return r.fail(start, end, "a gap in the number "+show(r.text[start:end]), "digits without separators",
				"write "+strconv.Quote(r.text[start:r.pos]+after[:n])+" if one number is meant")
		}
	}
	return nil
}

// parentheses reads the standard uncertainty in the last digits: (12).
func (r *reader) parentheses(exp int) (decimal, *ParseError) {
	start := r.pos
	length := strings.IndexByte(r.text[start:], ')')
	if length < 0 {
		return decimal{}, r.fail(start, len(r.text), "no closing parenthesis in "+show(r.text),
			`a standard uncertainty in the last digits, as in "0.520(12)"`, "")
	}
	digits := r.text[start+1 : start+length]
	d := decimal{exp: exp}
	for i := range len(digits) {
		if !isDigit(digits[i]) {
			d.mant = -1
			break
		}
		d.mant = d.mant*10 + int64(digits[i]-'0')
		if i >= maxDigits {
			d.mant = -1
			break
		}
	}
	if digits == "" || d.mant < 0 {
		return decimal{}, r.fail(start, start+length+1, show(r.text[start:start+length+1])+" is not a standard uncertainty",
			"whole digits that count in the last place", `write 12.5 with a standard uncertainty of 1.2 as "12.5(12)"`)
	}
	r.pos = start + length + 1
	return d, nil
}

// exponent reads e-3 if it follows.
func (r *reader) exponent() (int, bool) {
	if c := r.at(0); c != 'e' && c != 'E' {
		return 0, false
	}
	start := r.pos
	r.pos++
	negative := r.minus()
	if !negative && r.at(0) == '+' {
		r.pos++
	}
	if !isDigit(r.at(0)) {
		r.pos = start
		return 0, false
	}
	e := 0
	for isDigit(r.at(0)) {
		e = min(e*10+int(r.at(0)-'0'), 9999)
		r.pos++
	}
	if negative {
		e = -e
	}
	return e, true
}

// signAt returns the length of the tolerance sign at i, 0 if there is none, and its kind:
// '±', '.', or '…' for what an editor makes of points.
func (r *reader) signAt(i int) (int, rune) {
	for _, s := range [...]struct {
		text string
		kind rune
	}{{"±", '±'}, {"+/-", '±'}, {"+-", '±'}, {"..", '.'}, {"…", '…'}} {
		if strings.HasPrefix(r.text[i:], s.text) {
			return len(s.text), s.kind
		}
	}
	return 0, 0
}

// sign takes a tolerance sign, or returns 0.
func (r *reader) sign() rune {
	n, kind := r.signAt(r.pos)
	r.pos += n
	return kind
}

// unit reads a unit up to the next tolerance sign or the end, and tells whether there is
// one.
func (r *reader) unit() (Unit, bool, *ParseError) {
	r.skipSpace()
	start, end := r.pos, len(r.text)
	for i := start; i < len(r.text); i++ {
		if c := r.text[i]; c == '.' || c == '+' || c >= utf8.RuneSelf {
			if n, _ := r.signAt(i); n > 0 {
				end = i
				break
			}
		}
	}
	r.pos = end
	symbol := strings.TrimRightFunc(r.text[start:end], unicode.IsSpace)
	if symbol == "" {
		return Unit{}, false, nil
	}
	if u, ok := LookupUnit(symbol); ok {
		return u, true, nil
	}
	return Unit{}, false, r.unknownUnit(symbol, start)
}

// unknownUnit is the error for what stands where a unit should, with a guess at what was
// meant.
func (r *reader) unknownUnit(symbol string, start int) *ParseError {
	end := start + len(symbol)
	rangeSign := func(s string) bool {
		for _, sign := range [...]string{"-", "–", "—", "−", "to ", "bis "} {
			if rest, ok := strings.CutPrefix(s, sign); ok {
				rest = strings.TrimLeftFunc(rest, unicode.IsSpace)
				return rest != "" && (isDigit(rest[0]) || rest[0] == '-')
			}
		}
		return false
	}
	for i := range symbol {
		if i == 0 || unicode.IsSpace(rune(symbol[i-1])) {
			if rangeSign(symbol[i:]) {
				return r.fail(start+i, end, show(r.text)+" is not a number", "a range with two points between its ends",
					`write a range as "0.60 .. 0.78"`)
			}
		}
	}
	if strings.HasPrefix(symbol, "(") {
		return r.fail(start, end, "a gap before the standard uncertainty in "+show(r.text), "no gap", `write it as in "0.520(12)"`)
	}
	allowed, wayOut := "", ""
	if near := nearestUnits(symbol, r.want); len(near) > 0 {
		names := make([]string, len(near))
		for i, u := range near {
			names[i] = u.Symbol
		}
		wayOut = "did you mean " + strings.Join(names, " or ") + "?"
	}
	if r.want != nil && !r.want.IsOne() {
		allowed = r.want.Dim.String() + ", in " + r.want.Symbol + " or another unit of it"
	} else if r.want != nil {
		allowed = "a number without unit, or in %"
	}
	return r.fail(start, end, "no unit is called "+show(symbol), allowed, wayOut)
}

// toSI returns d in unit u in SI, and whether it can be calculated with.
func toSI(d decimal, u Unit) (float64, bool) {
	if k, ok := u.power(); ok {
		return d.shift(k).finite()
	}
	x := u.ToSI(d.float())
	return x, usable(x, d.mant == 0 || u.Offset != 0)
}

// inUnit returns d, a difference in unit from, as a decimal in unit to.
func inUnit(d decimal, from, to Unit) (decimal, bool) {
	from, to = from.difference(), to.difference()
	if from.Scale == to.Scale {
		return d, true
	}
	k, ok := from.power()
	l, okTo := to.power()
	return d.shift(k - l), ok && okTo
}

// value makes the Value. Ends are worked out in decimals where the units allow it.
func (t typed) value(r *reader) (Value, error) {
	v := Value{unit: t.firstUnit, text: strings.TrimSpace(r.text)}
	var ok bool
	if v.nominal, ok = toSI(t.first, t.firstUnit); !ok {
		return Value{}, r.size(0, r.firstEnd)
	}
	lowest := v.nominal
	switch t.kind {
	case notationLimits:
		v.spread = SpreadRange
		if v.a, v.b, ok = t.limits(v.nominal); !ok {
			return Value{}, r.size(r.secondStart, r.secondEnd)
		}
		lowest = v.a
	case notationRange:
		v.spread = SpreadRange
		v.a = v.nominal
		if v.b, ok = toSI(t.second, t.secondUnit); !ok {
			return Value{}, r.size(r.secondStart, r.secondEnd)
		}
		if v.a > v.b {
			low, high := strings.TrimSpace(r.text[:r.firstEnd]), r.text[r.secondStart:r.secondEnd]
			if t.firstUnit == t.secondUnit {
				return Value{}, r.fail(0, len(r.text), "the range runs down, from "+low+" to "+high, "the lower end first",
					"write "+strconv.Quote(withUnit(high+" .. "+low, t.firstUnit)))
			}
			return Value{}, r.fail(0, len(r.text), "the range runs down: "+show(r.text), "the lower end first", "change the ends round")
		}
		v.nominal = t.middle(v.a, v.b)
	case notationStandard:
		v.spread = SpreadStandard
		if v.a, ok = toSI(t.second, t.firstUnit.difference()); !ok {
			return Value{}, r.size(0, r.firstEnd)
		}
	}
	if t.firstUnit.Dim.Point && lowest < 0 {
		return Value{}, r.fail(0, len(r.text), show(r.text)+" reaches below absolute zero", "-273.15 °C or more", "")
	}
	return v, nil
}

// limits returns first ± second in SI.
func (t typed) limits(nominal float64) (low, high float64, ok bool) {
	tolerance, exact := t.second, true
	if t.relative {
		k, isPower := t.secondUnit.power()
		tolerance, exact = t.first.abs().times(t.second.mant)
		tolerance.exp += t.second.exp + k
		exact = exact && isPower
	} else {
		tolerance, exact = inUnit(t.second, t.secondUnit, t.firstUnit)
	}
	if exact {
		least, okLeast := t.first.add(tolerance.neg())
		most, okMost := t.first.add(tolerance)
		if okLeast && okMost {
			low, okLeast = toSI(least, t.firstUnit)
			high, okMost = toSI(most, t.firstUnit)
			return low, high, okLeast && okMost
		}
	}
	width := 0.0
	if t.relative {
		width = math.Abs(nominal) * t.second.float() * t.secondUnit.Scale
		ok = !bad(width)
	} else {
		width, ok = toSI(t.second, t.secondUnit.difference())
	}
	low, high = nominal-width, nominal+width
	return low, high, ok && !bad(low) && !bad(high)
}

// middle returns the middle of a range in SI.
func (t typed) middle(a, b float64) float64 {
	if t.firstUnit == t.secondUnit {
		if sum, ok := t.first.add(t.second); ok {
			if twice, ok := sum.times(5); ok {
				if x, ok := toSI(twice.shift(-1), t.firstUnit); ok && a <= x && x <= b {
					return x
				}
			}
		}
	}
	return a/2 + b/2
}
