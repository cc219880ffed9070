// Package quantity says what a number is: its unit, its tolerance, where it came from,
// what it may be, and by which path it is named. It knows no physics.
//
// A number is typed as text with its unit. It may carry a tolerance in one of three
// notations, each with one meaning:
//
//	"64 mm ± 0.2 mm"   limits, as a machinist means them: anywhere between 63.8 and
//	                   64.2 mm alike. Also "64 ± 0.2 mm", "400 N ± 5 %", and +/- for ±
//	"0.60 .. 0.78"     a range: the same thing, written by its ends. The unit stands
//	                   after the second end or after both
//	"0.520(12)"        a standard uncertainty in the last digits, as the GUM writes it:
//	                   0.520 with a standard uncertainty of 0.012, normally distributed
//
// The decimal sign is a point; digits are not grouped. An exponent may be typed
// (1.5e3, 1.52(3)e-4).
//
// A [Value] is such a number. It can be parsed, printed and drawn from, and has no
// arithmetic: what depends on uncertain numbers is solved many times with plain ones,
// drawn by [Value.Quantile], so that x − x is 0 and not a new uncertainty.
//
// Inside, every number is in SI base and derived units (m, kg, s, A, K, N, W, Pa, rad,
// rad/s); a [Unit] is met only where text comes in or goes out. A temperature (°C, °F)
// is a point on a scale and is never mixed up with a difference of temperatures, which
// is written in K. A speed of rotation (rpm, rad/s) is never mixed up with a frequency
// (Hz, 1/s): one turn is 2π rad, one cycle is 1.
//
// A [Schema] is read from the struct tags of a part: one declaration of a number from
// which its key in the file, its range, what is assumed when it is not typed and its
// meaning follow.
package quantity
