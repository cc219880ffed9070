package quantity

import (
	"math"
	"strconv"
)

// FormatInterval writes a result with its interval, all given in SI, in unit u:
// "412 N [405, 419]". The width of the interval decides the digits: its half has one or
// two significant ones, and the number is rounded to the same place. Without an interval
// (low equals high) the number has three significant digits, four if it begins with 1.
func FormatInterval(nominal, low, high float64, u Unit) string {
	number, from, to := Figures(nominal, low, high, u)
	number = withUnit(number, u)
	if from == "" {
		return number
	}
	return number + " [" + from + ", " + to + "]"
}

// FormatNumber is FormatInterval without unit and interval: "412".
func FormatNumber(nominal, low, high float64, u Unit) string {
	number, _, _ := Figures(nominal, low, high, u)
	return number
}

// Format writes a result without interval, given in SI: "412 N".
func Format(x float64, u Unit) string { return FormatInterval(x, x, x, u) }

// Figures returns number, low end and high end as FormatInterval shows them, without
// the unit; the ends are empty where there is no interval to show.
//
// What is not finite is "not known".
func Figures(nominal, low, high float64, u Unit) (number, from, to string) {
	n, a, b := u.FromSI(nominal), u.FromSI(low), u.FromSI(high)
	if a > b {
		a, b = b, a
	}
	size := max(math.Abs(n), math.Abs(a), math.Abs(b))
	half := (b - a) / 2
	if bad(n) {
		return "not known", "", ""
	}
	if bad(size) || bad(half) || half <= 0 {
		return plainFigure(n), "", ""
	}
	place := placeOf(half)
	// Digits beyond the seventh are noise of the calculation.
	place = max(place, exponentOf(size)-6)
	number, from, to = figure(n, place, size), figure(a, place, size), figure(b, place, size)
	if from == to {
		return plainFigure(n), "", ""
	}
	return number, from, to
}

func bad(x float64) bool { return math.IsNaN(x) || math.IsInf(x, 0) }

// plainFigure writes x with three significant digits, or four if it begins with 1.
func plainFigure(x float64) string {
	if x == 0 {
		return "0"
	}
	place := exponentOf(x) - 2
	if leading := math.Abs(x) / math.Pow10(place+2); leading < 2 {
		place--
	}
	// Rounding may have carried into the next digit: 9.996 is 10.00.
	if e := exponentOf(rounded(x, place)); e > exponentOf(x) {
		place = e - 3
	}
	return figure(x, place, math.Abs(x))
}

// placeOf returns the decimal place to which a half-width is rounded: two significant
// digits if it begins with 1 to 3.5, else one.
func placeOf(half float64) int {
	e := exponentOf(half)
	if leading := half / math.Pow10(e); leading < 3.55 || leading >= 9.5 {
		if leading >= 9.5 {
			e++
		}
		return e - 1
	}
	return e
}

// exponentOf returns the power of ten of the first digit of x, which is not 0.
func exponentOf(x float64) int {
	var buffer [32]byte
	text := strconv.AppendFloat(buffer[:0], math.Abs(x), 'e', -1, 64)
	for i, c := range text {
		if c == 'e' {
			e, _ := strconv.Atoi(string(text[i+1:]))
			return e
		}
	}
	return 0
}

// rounded returns x rounded to a decimal place.
func rounded(x float64, place int) float64 {
	if place > 0 {
		p := math.Pow10(place)
		return math.Round(x/p) * p
	}
	if place < -300 {
		return x
	}
	r, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'f', -place, 64), 64)
	return r
}

// figure writes x to a decimal place: as a plain decimal if size, the largest number
// beside it, lies between 1e-4 and 1e6, else with the exponent of size.
func figure(x float64, place int, size float64) string {
	if size != 0 && (size < 1e-4 || size >= 1e6) {
		e := exponentOf(rounded(size, place))
		if rounded(size, place) == 0 {
			e = exponentOf(size)
		}
		mantissa := placed(scaled(x, -e), place-e)
		if zero(mantissa) {
			return "0"
		}
		return mantissa + "e" + strconv.Itoa(e)
	}
	return placed(x, place)
}

// scaled returns x·10^k, also where 10^k itself is not a float64.
func scaled(x float64, k int) float64 {
	for k > 300 {
		x, k = x*1e300, k-300
	}
	for k < -300 {
		x, k = x/1e300, k+300
	}
	if k < 0 {
		return x / math.Pow10(-k)
	}
	return x * math.Pow10(k)
}

// placed writes x as a plain decimal, rounded to a decimal place. There is no −0.
func placed(x float64, place int) string {
	var text string
	if place > 0 {
		text = strconv.FormatFloat(rounded(x, place), 'f', 0, 64)
	} else {
		text = strconv.FormatFloat(x, 'f', -place, 64)
	}
	if text[0] == '-' && zero(text) {
		return text[1:]
	}
	return text
}

// zero tells whether a figure has no digit but 0.
func zero(figure string) bool {
	for _, c := range figure {
		if '1' <= c && c <= '9' {
			return false
		}
	}
	return true
}

// AppendIntervalJSON appends {"value":…,"low":…,"high":…} in unit u, unrounded, for
// numbers in SI. They have to be finite.
func AppendIntervalJSON(dst []byte, nominal, low, high float64, u Unit) []byte {
	dst = append(dst, `{"value":`...)
	dst = AppendJSON(dst, nominal, u)
	dst = append(dst, `,"low":`...)
	dst = AppendJSON(dst, low, u)
	dst = append(dst, `,"high":`...)
	dst = AppendJSON(dst, high, u)
	return append(dst, '}')
}

// AppendJSON appends the figure that x, in SI, has in unit u as a JSON number, unrounded.
// x has to be finite.
func AppendJSON(dst []byte, x float64, u Unit) []byte {
	if k, ok := u.power(); ok {
		return append(dst, shiftedFigure(x, k)...)
	}
	if text, ok := figureFor(x, u); ok {
		return append(dst, text...)
	}
	return strconv.AppendFloat(dst, u.FromSI(x)+0, 'g', -1, 64)
}
