package quantity

import (
	"math"
	"strconv"
)

// decimal is a decimal number as it was typed: mant·10^exp. Limits such as 64 ± 0.2 are
// worked out in it, so that they are the decimals that a builder would write.
type decimal struct {
	mant int64
	exp  int
}

// maxDigits is the number of significant digits that a typed number may have.
const maxDigits = 18

var powersOfTen = [...]float64{
	1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11,
	1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
}

// float returns the float64 nearest to d.
func (d decimal) float() float64 {
	if -1<<53 <= d.mant && d.mant <= 1<<53 {
		switch { // both operands are exact, so one operation rounds correctly
		case d.exp == 0:
			return float64(d.mant)
		case 0 < d.exp && d.exp <= 22:
			return float64(d.mant) * powersOfTen[d.exp]
		case -22 <= d.exp && d.exp < 0:
			return float64(d.mant) / powersOfTen[-d.exp]
		}
	}
	var buffer [40]byte
	text := strconv.AppendInt(buffer[:0], d.mant, 10)
	text = append(text, 'e')
	text = strconv.AppendInt(text, int64(d.exp), 10)
	x, _ := strconv.ParseFloat(string(text), 64) // an overflow is ±Inf and is refused by finite
	return x
}

// finite returns d as a float64 and whether it is one that keeps its digits: neither
// too large for a float64 nor so small that digits are lost.
func (d decimal) finite() (float64, bool) {
	x := d.float()
	return x, usable(x, d.mant == 0)
}

// usable tells whether x is finite, and not vanished unless it stands for zero.
func usable(x float64, zero bool) bool {
	a := math.Abs(x)
	return zero && x == 0 || a >= 1e-300 && a <= 1e300
}

// shift returns d·10^k.
func (d decimal) shift(k int) decimal { return decimal{d.mant, d.exp + k} }

// neg returns −d.
func (d decimal) neg() decimal { return decimal{-d.mant, d.exp} }

// add returns d + e, and false if that needs more than maxDigits digits.
func (d decimal) add(e decimal) (decimal, bool) {
	if d.mant == 0 {
		return e, true
	}
	if e.mant == 0 {
		return d, true
	}
	if d.exp < e.exp {
		d, e = e, d
	}
	for d.exp > e.exp {
		if d.mant > math.MaxInt64/20 || d.mant < -math.MaxInt64/20 {
			return decimal{}, false
		}
		d.mant *= 10
		d.exp--
	}
	if e.mant > math.MaxInt64/2 || e.mant < -math.MaxInt64/2 {
		return decimal{}, false
	}
	return decimal{d.mant + e.mant, d.exp}, true
}

// times returns d·n for a whole n, and false on overflow.
func (d decimal) times(n int64) (decimal, bool) {
	if d.mant == 0 || n == 0 {
		return decimal{0, d.exp}, true
	}
	p := d.mant * n
	if p/n != d.mant || d.mant == math.MinInt64 || n == math.MinInt64 {
		return decimal{}, false
	}
	return decimal{p, d.exp}, true
}

// abs returns |d|.
func (d decimal) abs() decimal {
	if d.mant < 0 {
		return d.neg()
	}
	return d
}

// digits returns the number of significant digits of d.
func (d decimal) digits() int {
	n := 1
	for m := d.abs().mant; m >= 10; m /= 10 {
		n++
	}
	return n
}
