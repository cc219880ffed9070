package plan

import (
	"math"

	"jetwright/drive"
)

// What is assumed of a motor's heat capacity, at its large end, since a slow motor is the bad end of a
// dwell; our own ranges. The copper's specific heat is a handbook value, recalled (high).
const (
	windingShare       = 0.25  // of the motor's mass; 0.10 to 0.25
	copperHeat         = 385.0 // J/(kg·K)
	housingHeat        = 700.0 // of the rest, iron and aluminium, J/(kg·K); 450 to 700
	envelopeDensity    = 5500. // of a motor's envelope where no mass is typed, kg/m³; 3500 to 5500
	steadyTimes        = 3.0   // time constants to within 5 % of the rise
	averaging          = 60.0  // s at least that a plateau is averaged over once it is steady
	zeroWindow         = 60.0  // s
	change             = 10.0  // s from step to step
	dwellRound         = 10.0  // s
	riseLeast          = 1.0   // K that a rise must have to be fitted
	riseScatter        = 0.20  // most that the fit may leave, as a share of the rise
	shortest, searched = 3.0, 90
)

// SlowestTime returns the slowest time constant in s of a winding in its housing.
//
//	τ = 2/[p − √(p² − 4q)],  p = 1/(R₁C_w) + (1/R₁ + 1/R₂)/C_h,  q = 1/(R₁R₂C_wC_h)
//
//	R₁, R₂    winding to housing, housing to coolant, K/W   [Motor.WindingToJacket, Cooling.JacketToCoolant]
//	C_w, C_h  heat capacities of winding and housing, J/K
//
// Holds for constant losses; copper that heats up makes it longer by its own gain. It is the slow root
// of the two-node network of the package heat.
//
// Source: johnson-cmu. Tests: TestSlowestTimeExact, TestSlowestTimeLaw.
func SlowestTime(r1, r2, cw, ch float64) float64 {
	p := 1/(r1*cw) + (1/r1+1/r2)/ch
	q := 1 / (r1 * r2 * cw * ch)
	// the slow root as q over the fast one, since their difference would lose digits
	fast := (p + math.Sqrt(math.Max(p*p-4*q, 0))) / 2
	return fast / q
}

// capacities returns heat capacities of winding and housing in J/K at their large end, and what they
// rest on.
func capacities(d *drive.Drive) (cw, ch float64, mass float64, typed bool) {
	mass = d.Motor.Mass.Value
	if typed = d.Motor.Mass.Set; !typed {
		mass = envelopeDensity * math.Pi / 4 * d.Motor.Diameter * d.Motor.Diameter * d.Motor.Length
	}
	return windingShare * mass * copperHeat, (1 - 0.10) * mass * housingHeat, mass, typed
}

// FitRise returns the time constant in s of a temperature that settles.
//
//	T(t) = T_∞ − ΔT·exp(−t/τ)
//
//	t   time since the step, s
//	ΔT  rise still to come at t = 0, K
//	τ   time constant, s
//
// For each τ of a fine grid T_∞ and ΔT follow by linear least squares; the τ that leaves least is taken.
// ok is false where the rise is less than 1 K, leaves more than 20 % of itself as scatter, or has not
// bent within the stretch, so that its end is a guess. Values that are no number are passed over.
//
// Holds for one time constant; the slow one of two, where the fast one has passed.
//
// Source: own. Tests: TestFitRiseExact, TestFitRiseSynthetic.
func FitRise(time, temperature []float64) (tau float64, ok bool) {
	tau, _, ok = fitRise(time, temperature)
	return tau, ok
}

// bentShare is the share of a stretch up to which a time constant is seen in it.
const bentShare = 0.7

// fitRise is FitRise; longer is a time that the time constant exceeds, where the rise has not bent yet, else 0.
func fitRise(time, temperature []float64) (tau, longer float64, ok bool) {
	var t, y []float64
	for i, v := range temperature {
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			t, y = append(t, time[i]), append(y, v)
		}
	}
	if len(t) < 8 {
		return 0, 0, false
	}
	span := t[len(t)-1] - t[0]
	if !(span > 0) {
		return 0, 0, false
	}
	left := func(tau float64) (sse, rise float64) {
		n := float64(len(t))
		var se, see, sy, sey float64
		for i := range t {
			e := math.Exp(-(t[i] - t[0]) / tau)
			se, see, sy, sey = se+e, see+e*e, sy+y[i], sey+e*y[i]
		}
		det := n*see - se*se
		if det <= 0 {
			return math.Inf(1), 0
		}
		b := (n*sey - se*sy) / det
		a := (sy - b*se) / n
		for i := range t {
			r := y[i] - a - b*math.Exp(-(t[i]-t[0])/tau)
			sse += r * r
		}
		return sse, -b * (1 - math.Exp(-span/tau))
	}
	low, high := shortest, 2*span
	if high <= low {
		return 0, 0, false
	}
	at := func(k float64) float64 { return low * math.Pow(high/low, k/searched) }
	best, bestK := math.Inf(1), 0.0
	for k := 0.0; k <= searched; k++ {
		if s, _ := left(at(k)); s < best {
			best, bestK = s, k
		}
	}
	a, b := math.Max(bestK-1, 0), math.Min(bestK+1, searched)
	for range 60 { // golden section
		const g = 0.6180339887498949
		c, d := b-g*(b-a), a+g*(b-a)
		sc, _ := left(at(c))
		sd, _ := left(at(d))
		if sc < sd {
			b = d
		} else {
			a = c
		}
	}
	tau = at((a + b) / 2)
	sse, rise := left(tau)
	scatter := math.Sqrt(sse / float64(len(t)))
	if math.Abs(rise) < riseLeast || scatter > riseScatter*math.Abs(rise) || tau <= 1.01*low {
		return tau, 0, false
	}
	if tau > bentShare*span {
		return tau, bentShare * span, false
	}
	return tau, 0, true
}
