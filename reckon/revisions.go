package reckon

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"gonum.org/v1/gonum/stat/distuv"

	"jetwright/bench"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/numeric"
	"jetwright/quantity"
)

// Side is what was measured of one revision.
type Side struct {
	Name     string
	Plateaus []bench.Plateau
	Repeats  []bench.Repeats        // of its days
	Diameter float64                // of its impeller, m; 0 if not known
	Stands   map[string]drive.Stand // of its runs
}

// RevisionFigure is one measured figure of a revision against that of another.
type RevisionFigure struct {
	Name       string
	Difference explore.Figure // of the logarithm: a share, near enough
	Levels     int            // powers at which both were held
	Low, High  float64        // of those powers, W
	Place      string
	Counts     [2]int  // plateaus of each that count
	Resolved   bool    // the interval does not hold zero
	Told       float64 // least difference that these plateaus tell, a share
	Each       float64 // standard deviation of one plateau against another at its load, share
	EachFrom   string  // what that rests on
	Shared     float64 // standard uncertainty of what the instruments share, which no repeat takes away
	Repeats    int     // plateaus of each at one power that would tell this difference four times of five; 0 if none would
	Days       bool    // repeats are days: the figure differs from day to day by more than its plateaus
	Why        string  // why it cannot be compared, or why no repeat settles it
}

// likePower is the factor within which two powers count as alike. Our own.
const likePower = 1.15

// compared figures are products of powers of what was read.
var comparedFigures = []struct {
	name      string
	diameter  float64 // exponent
	exponents map[bench.Channel]float64
}{
	{"thrust at a like power", 0, map[bench.Channel]float64{bench.Thrust: 1, bench.Power: -2.0 / 3}},
	{"thrust coefficient T/(ρn²D⁴)", -4, map[bench.Channel]float64{bench.Thrust: 1, bench.RotorSpeed: -2}},
	{"power coefficient P/(ρn³D⁵)", -5, map[bench.Channel]float64{bench.Power: 1, bench.RotorSpeed: -3}},
	{"phase current/n²", 0, map[bench.Channel]float64{bench.PhaseCurrent: 1, bench.RotorSpeed: -2}},
}

// Compare holds what was measured of a revision against what was measured of the one before it.
//
//	d = Σ c_i·ln q_i,  u²(d) = cᵀ·S·c + max(Σ c_i²·u_i², s²·Σ c_i²)
//
//	q_i  the figure of plateau i: a product of powers of what was read
//	c_i  1/(m·n) for each of the n plateaus of the later revision at one of m like powers, −1/(m·n) for those of the earlier
//	S    relative covariance of what instruments, tare and friction share among plateaus
//	u_i  the plateau's own relative standard uncertainty
//	s    standard deviation of one plateau against another at its load, from repeats on the bench where there are any
//
// What both share, such as one scale's limits, cancels; carriage friction that was not taken out, and water that the jet
// may move, count as in the calibration. Where a revision was measured on several days that differ by more
// than that, how they differ is added. Powers are alike within 15 %; thrust is brought to one power by the law at rest, T ∝ P^⅔.
//
// Source: jcgm-100, own. Tests: TestCompareSynthetic, TestCompareLaw.
func Compare(was, is Side) []RevisionFigure {
	var out []RevisionFigure
	for _, f := range comparedFigures {
		out = append(out, compare(was, is, f.name, f.diameter, f.exponents))
	}
	return out
}

// held is a plateau that counts in a comparison.
type held struct {
	side    int
	power   float64
	plateau bench.Plateau
	log     float64
	c       float64
	level   int
	stand   [2]float64 // relative standard uncertainty of the thrust by carriage and by moving water, which all share
}

func compare(was, is Side, name string, diameter float64, exponents map[bench.Channel]float64) RevisionFigure {
	out := RevisionFigure{Name: name}
	all, why := heldAt(was, is, &out, exponents)
	if why != "" {
		out.Why = why
		return out
	}
	if diameter != 0 {
		if !(was.Diameter > 0) || !(is.Diameter > 0) {
			out.Why = "an impeller's diameter is not known"
			return out
		}
		for i := range all {
			all[i].log += diameter * math.Log([]float64{was.Diameter, is.Diameter}[all[i].side])
		}
	}
	d, squares := 0.0, 0.0
	for _, h := range all {
		d += h.c * h.log
		squares += h.c * h.c
		out.Counts[h.side]++
	}
	total, own := uncertainty(all, exponents)
	shared := math.Max(0, total-own)
	out.Shared = math.Sqrt(shared)
	out.Each = math.Sqrt(own / squares)
	out.EachFrom = "the scatter within plateaus alone: no load was held often enough to tell how far one plateau is from the next"
	for _, r := range append(slices.Clone(was.Repeats), is.Repeats...) {
		if r.Known && r.Each >= out.Each && exponents[bench.Thrust] != 0 {
			out.Each, out.EachFrom = r.Each, fmt.Sprintf("%d plateaus at %d loads that were held more than once", r.Plateaus, r.Levels)
		}
	}
	own = math.Max(own, out.Each*out.Each*squares)
	z := distuv.UnitNormal.Quantile(explore.HighShare)
	between, freedom, runs := dayToDay(all, exponents)
	if freedom > 0 && between > 0 {
		own += between * between * (1/float64(runs[0]) + 1/float64(runs[1]))
		out.Days = between > out.Each
		if out.Days {
			out.Each = math.Hypot(between, out.Each)
			out.EachFrom = fmt.Sprintf("%d days, which differ by more than their plateaus", runs[0]+runs[1])
			z = distuv.StudentsT{Sigma: 1, Nu: float64(freedom)}.Quantile(explore.HighShare)
		}
	}
	u := math.Sqrt(shared + own)
	out.Difference = explore.Figure{Value: d, Low: d - z*u, High: d + z*u}
	out.Resolved = math.Abs(d) > z*u
	out.Told = z * u
	if out.Resolved {
		return out
	}
	if math.Abs(d) <= z*out.Shared {
		out.Why = "no number of repeats tells it apart from what instruments and stand may be off"
		return out
	}
	n, ok := numeric.RepeatsFor(out.Each, math.Abs(d), 0.05, 0.8)
	if !ok {
		out.Why = "no number of repeats that anyone would make tells it"
		return out
	}
	out.Repeats = n
	return out
}

// heldAt picks the plateaus of both sides at like powers and weighs them.
func heldAt(was, is Side, out *RevisionFigure, exponents map[bench.Channel]float64) ([]held, string) {
	var all []held
	places := [2]map[string]bool{{}, {}}
	for k, s := range []Side{was, is} {
		for _, p := range s.Plateaus {
			w, ok := p.Figure(bench.Power)
			if !ok || !(w.Value > 0) || p.Unsettled != "" {
				continue
			}
			h := held{side: k, power: w.Value, plateau: p}
			for c, e := range exponents {
				f, ok := p.Figure(c)
				if c == bench.PhaseCurrent {
					f, ok = p.PhaseCurrentRMS()
				}
				if !ok || !(f.Value > 0) {
					h.power = 0
					break
				}
				if c == bench.Thrust {
					f.Value += h.onStand(f, s.Stands[p.Run])
				}
				if !(f.Value > 0) {
					h.power = 0
					break
				}
				h.log += e * math.Log(f.Value)
			}
			if h.power > 0 {
				places[k][p.PowerPlace] = true
				all = append(all, h)
			}
		}
	}
	for k, s := range []Side{was, is} {
		if len(places[k]) == 0 {
			return nil, "revision " + s.Name + " has no settled plateau with what it takes"
		}
	}
	for _, place := range []string{"battery", "controller", "shaft", ""} {
		if places[0][place] && places[1][place] {
			out.Place = place
			all = slices.DeleteFunc(all, func(h held) bool { return h.plateau.PowerPlace != place })
			return levels(all, out)
		}
	}
	return nil, "their powers were read at different places"
}

// onStand returns what the stand is taken to hold back of a thrust in N, and notes how well that is known.
func (h *held) onStand(f bench.Figure, s drive.Stand) (more float64) {
	if !f.FrictionTaken && (f.Assumed || f.Budget != nil) && s.Kind != "pivot" {
		friction := bench.FrictionForce(s.CarriageLoad, quantity.MustUnit("kgf").ToSI(1))
		switch h.plateau.Direction {
		case "up":
			more, h.stand[0] = friction/2, friction/math.Sqrt(12)/f.Value
		case "down":
			more, h.stand[0] = -friction/2, -friction/math.Sqrt(12)/f.Value
		default:
			h.stand[0] = friction / math.Sqrt(3) / f.Value
		}
	}
	if s.Water != "" && mayMove(s, h.plateau) {
		more += TubShare / 2 * f.Value
		h.stand[1] = TubShare / math.Sqrt(12)
	}
	return more
}

// levels parts plateaus by power and keeps the powers that both sides have.
func levels(all []held, out *RevisionFigure) ([]held, string) {
	sort.SliceStable(all, func(a, b int) bool { return all[a].power < all[b].power })
	var kept []held
	for from := 0; from < len(all); {
		to := from + 1
		for to < len(all) && all[to].power <= likePower*all[from].power {
			to++
		}
		var n [2]float64
		for _, h := range all[from:to] {
			n[h.side]++
		}
		if n[0] > 0 && n[1] > 0 {
			for _, h := range all[from:to] {
				h.c = 1 / n[h.side]
				if h.side == 0 {
					h.c = -h.c
				}
				h.level = out.Levels
				kept = append(kept, h)
			}
			out.Levels++
		}
		from = to
	}
	if len(kept) == 0 {
		return nil, "they were not held at like powers (within 15 %)"
	}
	out.Low, out.High = kept[0].power, kept[len(kept)-1].power
	for i := range kept {
		kept[i].c /= float64(out.Levels)
	}
	return kept, ""
}

// uncertainty returns the variance of the difference, whole and of what each plateau has of its own.
func uncertainty(all []held, exponents map[bench.Channel]float64) (total, own float64) {
	plateaus := make([]bench.Plateau, len(all))
	for i := range all {
		plateaus[i] = all[i].plateau
	}
	stand := [2]float64{}
	for _, h := range all {
		stand[0] += exponents[bench.Thrust] * h.c * h.stand[0]
		stand[1] += exponents[bench.Thrust] * h.c * h.stand[1]
	}
	total = stand[0]*stand[0] + stand[1]*stand[1]
	for c, e := range exponents {
		s := bench.Covariance(plateaus, c)
		for i := range all {
			fi, _ := plateaus[i].Figure(c)
			w := e * all[i].c / fi.Value
			r := w * fi.Repeat
			own += r * r
			for j := range all {
				fj, _ := plateaus[j].Figure(c)
				total += w * e * all[j].c / fj.Value * s.At(i, j)
			}
		}
	}
	return total, own
}

// dayToDay returns by how much runs of one revision differ beyond what their plateaus and instruments explain, where chance
// alone would make as much less often than once in twenty: a standard deviation, its degrees of freedom, and the runs of
// each side.
func dayToDay(all []held, exponents map[bench.Channel]float64) (between float64, freedom int, runs [2]int) {
	type key struct {
		side int
		run  string
	}
	var order []key
	n, inLevel := map[key]float64{}, map[[2]int]float64{}
	for _, h := range all {
		k := key{h.side, h.plateau.Run}
		if n[k]++; n[k] == 1 {
			order = append(order, k)
			runs[k.side]++
		}
		inLevel[[2]int{h.side, h.level}]++
	}
	for _, r := range runs {
		freedom += max(0, r-1)
	}
	if freedom == 0 {
		return 0, 0, runs
	}
	found, explained := 0.0, 0.0
	for _, k := range order {
		if runs[k.side] < 2 {
			continue
		}
		// how far the run's plateaus are off the mean of their level, on average
		off := slices.Clone(all)
		mean := 0.0
		for i := range off {
			off[i].c = 0
		}
		for i, h := range all {
			if h.side != k.side || h.plateau.Run != k.run {
				continue
			}
			off[i].c += 1 / n[k]
			for j, o := range all {
				if o.side == h.side && o.level == h.level {
					off[j].c -= 1 / n[k] / inLevel[[2]int{h.side, h.level}]
				}
			}
		}
		for _, h := range off {
			mean += h.c * h.log
		}
		total, _ := uncertainty(off, exponents)
		found, explained = found+mean*mean, explained+total
	}
	if !(found > explained) || explained > 0 && found/explained*float64(freedom) < (distuv.ChiSquared{K: float64(freedom)}).Quantile(0.95) {
		return 0, freedom, runs
	}
	return math.Sqrt((found - explained) / float64(freedom)), freedom, runs
}
