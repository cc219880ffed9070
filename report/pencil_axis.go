package report

import (
	"math"
	"strconv"
	"strings"
)

// extent is a range of numbers that grows by what it is shown.
type extent struct{ low, high float64 }

func noExtent() extent { return extent{math.Inf(1), math.Inf(-1)} }

func (e *extent) show(xs ...float64) {
	for _, x := range xs {
		if drawable(x) {
			e.low, e.high = math.Min(e.low, x), math.Max(e.high, x)
		}
	}
}

func (e extent) empty() bool { return !(e.low <= e.high) }

// opened is the range made wide enough to draw in.
func (e extent) opened() extent {
	if e.empty() {
		return extent{0, 1}
	}
	size := math.Max(math.Abs(e.low), math.Abs(e.high))
	if e.high-e.low > 1e-9*size && e.high-e.low > 1e-90 {
		return e
	}
	if size < 1e-90 {
		return extent{-1, 1}
	}
	return extent{e.low - 0.1*size, e.high + 0.1*size}
}

// niceStep is the least step of 1, 2 or 5 times a power of ten that cuts a range into at
// most so many parts.
func niceStep(span float64, parts int) float64 {
	raw := span / math.Max(1, float64(parts))
	ten := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, m := range []float64{1, 2, 5} {
		if m*ten >= raw*(1-1e-9) {
			return m * ten
		}
	}
	return 10 * ten
}

// niceTicks are the multiples of a nice step within a range, and the step.
func niceTicks(e extent, parts int) ([]float64, float64) {
	step := niceStep(e.high-e.low, parts)
	return ticksOf(e, step), step
}

func ticksOf(e extent, step float64) []float64 {
	var out []float64
	for k := math.Ceil(e.low/step - 1e-6); k <= e.high/step+1e-6 && len(out) < 200; k++ {
		out = append(out, k*step)
	}
	return out
}

// rounded is the range moved outwards to whole ticks.
func (e extent) rounded(parts int) extent {
	e = e.opened()
	step := niceStep(e.high-e.low, parts)
	return extent{step * math.Floor(e.low/step+1e-6), step * math.Ceil(e.high/step-1e-6)}
}

// tickText writes a number at the step of its axis, with a true minus sign and groups of
// three from five digits on.
func tickText(x, step float64) string {
	if math.Abs(x) < step*1e-6 {
		return "0"
	}
	var s string
	if size := math.Abs(x); size >= 1e7 || step < 0.999e-5 {
		s = strconv.FormatFloat(x, 'g', 4, 64)
	} else {
		places := int(math.Max(0, -math.Floor(math.Log10(step)+1e-9)))
		s = grouped(strconv.FormatFloat(x, 'f', places, 64))
	}
	return strings.ReplaceAll(s, "-", "−")
}

// grouped sets a thin space between groups of three digits from five digits on.
func grouped(s string) string {
	whole, rest, _ := strings.Cut(s, ".")
	sign := ""
	if strings.HasPrefix(whole, "-") {
		sign, whole = "-", whole[1:]
	}
	if len(whole) > 4 {
		var b strings.Builder
		for i, r := range whole {
			if i > 0 && (len(whole)-i)%3 == 0 {
				b.WriteRune('\u202f')
			}
			b.WriteRune(r)
		}
		whole = b.String()
	}
	if rest != "" {
		rest = "." + rest
	}
	return sign + whole + rest
}

// axis maps a range onto the paper.
type axis struct {
	extent
	from, to float64
}

func (a axis) at(x float64) float64 {
	return a.from + (x-a.low)/(a.high-a.low)*(a.to-a.from)
}

// clockStep is a step in seconds that suits a clock.
func clockStep(span float64, parts int) float64 {
	if span <= 150 {
		return niceStep(span, parts)
	}
	for _, s := range []float64{15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14400, 21600, 43200, 86400} {
		if span/s <= float64(parts) {
			return s
		}
	}
	return 86400 * niceStep(span/86400, parts)
}

// clockText writes seconds as the axis shows them: seconds, minutes and seconds, or hours
// and minutes.
func clockText(t, step, span float64) string {
	switch {
	case span <= 150:
		return tickText(t, step)
	case span > 1e8:
		return tickText(t, step)
	}
	sign := ""
	if t < 0 {
		sign, t = "−", -t
	}
	n := int(math.Round(t))
	if span <= 7200 {
		return sign + strconv.Itoa(n/60) + ":" + twoDigits(n%60)
	}
	return sign + strconv.Itoa(n/3600) + ":" + twoDigits(n/60%60)
}

func clockLabel(span float64) string {
	switch {
	case span <= 150 || span > 1e8:
		return "time, s"
	case span <= 7200:
		return "time, min:s"
	}
	return "time, h:min"
}

func twoDigits(n int) string {
	s := strconv.Itoa(n)
	if n < 10 {
		s = "0" + s
	}
	return s
}
