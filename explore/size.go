package explore

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"jetwright/drive"
	"jetwright/quantity"
)

// Apart is the share by which two proposals differ at least in diameter, rotor speed or loading.
const Apart = 0.15

// Proposals are enough where there are three; four are the most that are told.
const (
	FewestProposals, mostProposals = 3, 4
)

// SizeResult is what a search for drives came to.
type SizeResult struct {
	Need       drive.Need
	LeastPower float64 // at the battery, with which the duty can be met, W
	Power      float64 // that all proposals are judged at, W
	Proposals  []*drive.Sized
	Drawn      int // drives that were drawn and solved
	Meeting    int // of them at Power, those that meet the duty and keep every limit
	Front      int // of these, those that no other is better than in everything
	Unmet      *SizeUnmet
}

// SizeUnmet says why no drive meets a duty.
type SizeUnmet struct {
	Nearest *drive.Sized // the one that misses least; nil if none can be solved at all
	Why     string       // if nothing can be solved: why the drive drawn first cannot
	Missed  []drive.Check
	Enough  []Enough // each alone would do
	Share   float64  // of both thrusts that can be had with everything else as it is; 0 if less than a twentieth
}

// Enough is a bound, and to what it would have to be moved.
type Enough struct {
	What     string
	From, To float64 // SI
	Unit     string
}

// Aims are what a proposal may be better in than another: thrust at rest and under way in N, and the share that
// is left to the winding's bound.
func Aims(s *drive.Sized) [3]float64 {
	return [3]float64{s.Rest.Thrust, s.Way.Thrust, s.WindingMargin()}
}

// Dominates tells that a proposal is as good as another in all aims and better in one.
func Dominates(a, b [3]float64) bool {
	better := false
	for i := range a {
		if a[i] < b[i] {
			return false
		}
		better = better || a[i] > b[i]
	}
	return better
}

// Difference returns by which share two proposals differ most: in impeller diameter, rotor speed at rest, or
// loading, which is the head coefficient there.
//
//	max(x/y, y/x) − 1,  x, y the two figures
//
// Holds for positive figures.
//
// Source: own. Tests: TestSizeLaw.
func Difference(a, b *drive.Sized) float64 {
	most := 0.0
	for _, p := range [][2]float64{
		{a.Drive.Impeller.Diameter, b.Drive.Impeller.Diameter},
		{a.Rest.RotorSpeed, b.Rest.RotorSpeed},
		{a.Rest.Jet.HeadCoefficient, b.Rest.Jet.HeadCoefficient},
	} {
		most = max(most, p[0]/p[1]-1, p[1]/p[0]-1)
	}
	return most
}

// place is a form in the unit cube: diameter and power in logarithms.
type place [4]float64

// sizer looks for drives of one need.
type sizer struct {
	need      drive.Need
	low, high drive.Form
	drawn     int
}

// smallLosses in W are what seals and electronics may take of a small drive.
const smallLosses = 300

// mostPower in W is the most that a design may have at the battery.
const mostPower = 200e3

func newSizer(n drive.Need) *sizer {
	s := &sizer{need: n}
	s.low, s.high = n.Bounds()
	ideal := n.IdealPower()
	s.low.Power, s.high.Power = 1.1*ideal, min(12*ideal+smallLosses, mostPower, n.BatteryPower.Or(math.Inf(1)))
	s.low.Power = min(s.low.Power, s.high.Power)
	return s
}

func (s *sizer) form(x place) drive.Form {
	between := func(a, b, t float64) float64 { return a + (b-a)*t }
	return drive.Form{
		Diameter:    s.low.Diameter * math.Pow(s.high.Diameter/s.low.Diameter, x[0]),
		NozzleRatio: between(s.low.NozzleRatio, s.high.NozzleRatio, x[1]),
		Place:       between(s.low.Place, s.high.Place, x[2]),
		Power:       s.low.Power * math.Pow(s.high.Power/s.low.Power, x[3]),
	}
}

type sized struct {
	at place
	*drive.Sized
}

// draw draws the drives of many places.
func (s *sizer) draw(list []place) []sized {
	out := make([]sized, len(list))
	Parallel(len(list), func(i int) { out[i] = sized{list[i], s.need.Draw(s.form(list[i]))} })
	s.drawn += len(list)
	return out
}

// grid is a full grid in the unit cube with so many points an axis; one point is the given middle.
func grid(n [4]int, middle place) []place {
	list := []place{middle}
	for k, m := range n {
		if m < 2 {
			continue
		}
		var next []place
		for _, p := range list {
			for i := range m {
				p[k] = float64(i) / float64(m-1)
				next = append(next, p)
			}
		}
		list = next
	}
	return list
}

// nearer puts what misses least first, and of those that meet everything the one with the least power.
func nearer(a, b sized) int {
	wa, wb := a.Worst(), b.Worst()
	if wa >= 0 && wb >= 0 {
		return cmp.Compare(a.Power, b.Power)
	}
	return cmp.Compare(min(wb, 0), min(wa, 0))
}

// least looks for the drive that misses least, and if the duty can be met for the one that meets it with the least
// power: on a grid, then by steps that are halved from its best places.
func (s *sizer) least() sized {
	return s.from(s.draw(grid([4]int{5, 7, 3, 6}, place{})), 5, false)
}

// meets tells whether the duty can be met, looking about a place that is known to be near as well.
func (s *sizer) meets(near place) bool {
	return s.from(s.draw(append(grid([4]int{4, 6, 3, 4}, place{}), near)), 3, true).Worst() >= 0
}

// from goes on from the best of drawn drives; any says that the first one that meets the duty will do.
func (s *sizer) from(all []sized, starts int, any bool) sized {
	slices.SortStableFunc(all, nearer)
	best := all[0]
	for _, at := range all[:min(starts, len(all))] {
		if any && best.Worst() >= 0 {
			break
		}
		at = s.descend(at, []int{0, 1, 2, 3}, 0.125, 1.0/256, nearer)
		if nearer(at, best) < 0 {
			best = at
		}
	}
	return best
}

// descend steps along axes while that is better, then halves the step.
func (s *sizer) descend(at sized, axes []int, step, smallest float64, order func(a, b sized) int) sized {
	for step >= smallest {
		var list []place
		for _, k := range axes {
			for _, sign := range []float64{-1, 1} {
				p := at.at
				p[k] = min(1, max(0, p[k]+sign*step))
				list = append(list, p)
				for _, l := range axes { // what more power loses in one limit another axis may win back
					if l == k || k != 3 {
						continue
					}
					for _, other := range []float64{-1, 1} {
						q := p
						q[l] = min(1, max(0, q[l]+other*step))
						list = append(list, q)
					}
				}
			}
		}
		best := at
		for _, x := range s.draw(list) {
			if order(x, best) < 0 {
				best = x
			}
		}
		if order(best, at) < 0 {
			at = best
			continue
		}
		step /= 2
	}
	return at
}

// front returns those that meet everything and that no other dominates, and how many meet everything.
func front(all []sized) (list []sized, meeting int) {
	seen := map[[3]float64]bool{}
	var good []sized
	for _, x := range all {
		if x.Worst() < 0 {
			continue
		}
		key := [3]float64{x.Drive.Impeller.Diameter, x.Drive.Nozzle.Diameter, x.Drive.Impeller.HeadCoefficient}
		if !seen[key] {
			seen[key] = true
			good = append(good, x)
		}
	}
	for i, x := range good {
		beaten := false
		for j, y := range good {
			if i != j && Dominates(Aims(y.Sized), Aims(x.Sized)) {
				beaten = true
				break
			}
		}
		if !beaten {
			list = append(list, x)
		}
	}
	return list, len(good)
}

// at draws drives at one power: a grid, then twice as fine about every one that no other dominates, and again.
func (s *sizer) at(power float64, from place) (list []sized, meeting int) {
	s.low.Power, s.high.Power = power, power
	from[3] = 0
	all := s.draw(append(grid([4]int{9, 12, 5, 1}, place{}), from))
	step := place{1.0 / 8, 1.0 / 11, 1.0 / 4}
	for range 3 {
		list, _ = front(all)
		if len(list) == 0 { // nothing yet but the place that meets the duty with less power
			list = []sized{{at: from}}
		}
		for k := range 3 {
			step[k] /= 2
		}
		var next []place
		for _, x := range thinned(list, 60) {
			for k := range 3 {
				for _, sign := range []float64{-1, 1} {
					p := x.at
					p[k] = min(1, max(0, p[k]+sign*step[k]))
					next = append(next, p)
				}
			}
		}
		all = append(all, s.draw(next)...)
	}
	return front(all)
}

// thinned keeps at most n, evenly.
func thinned(list []sized, n int) []sized {
	if len(list) <= n {
		return list
	}
	out := make([]sized, n)
	for i := range out {
		out[i] = list[i*len(list)/n]
	}
	return out
}

// choose picks proposals off a front: the best in each aim and the most even one, as far as they stand apart; where
// that gives fewer than three, those that stand farthest apart.
func choose(list []sized) []*drive.Sized {
	if len(list) == 0 {
		return nil
	}
	var low, high [3]float64
	for i, x := range list {
		a := Aims(x.Sized)
		for k := range a {
			if i == 0 {
				low[k], high[k] = a[k], a[k]
			}
			low[k], high[k] = min(low[k], a[k]), max(high[k], a[k])
		}
	}
	share := func(x sized, k int) float64 {
		if high[k] == low[k] {
			return 1
		}
		return (Aims(x.Sized)[k] - low[k]) / (high[k] - low[k])
	}
	even := func(x sized) float64 { return min(share(x, 0), share(x, 1), share(x, 2)) }
	roles := []func(sized) float64{even}
	for k := range 3 {
		roles = append(roles, func(x sized) float64 { return share(x, k) + 0.05*even(x) })
	}
	var best []sized
	for first := range roles { // the order in which the roles are filled decides what is left for the next
		var picked []sized
		for i := range roles {
			score := roles[(first+i)%len(roles)]
			take, at := -1.0, -1
			for j, x := range list {
				if v := score(x); v > take && apart(x, picked) {
					take, at = v, j
				}
			}
			if at >= 0 && len(picked) < mostProposals {
				picked = append(picked, list[at])
			}
		}
		if len(picked) > len(best) {
			best = picked
		}
	}
	if len(best) < FewestProposals {
		for i := range list {
			picked := []sized{list[i]}
			for len(picked) < FewestProposals {
				take, at := 0.0, -1
				for j, x := range list {
					d := math.Inf(1)
					for _, y := range picked {
						d = min(d, Difference(x.Sized, y.Sized))
					}
					if d >= Apart && d > take {
						take, at = d, j
					}
				}
				if at < 0 {
					break
				}
				picked = append(picked, list[at])
			}
			if len(picked) > len(best) {
				best = picked
			}
		}
	}
	slices.SortStableFunc(best, func(a, b sized) int { return cmp.Compare(b.Rest.Thrust, a.Rest.Thrust) })
	out := make([]*drive.Sized, len(best))
	for i, x := range best {
		out[i] = x.Sized
	}
	return out
}

func apart(x sized, list []sized) bool {
	for _, y := range list {
		if Difference(x.Sized, y.Sized) < Apart {
			return false
		}
	}
	return true
}

// reserves are the powers that proposals are looked for at, over the least one, until there are three: more power leaves more
// room for thrust, less of it more to cavitation and heat.
var reserves = []float64{1.1, 1.2, 1.35, 1.5, 1.7, 1.05, 1.02}

// Size looks for drives that meet a need. The search is the same from run to run.
func Size(n drive.Need) SizeResult {
	s := newSizer(n)
	r := SizeResult{Need: n}
	best := s.least()
	if best.Worst() < 0 {
		r.Drawn = s.drawn
		r.Unmet = unmet(n, best)
		return r
	}
	r.LeastPower = best.Power
	top := s.high.Power
	from := best.at
	tried := map[float64]bool{}
	for _, k := range reserves {
		power := min(twoDigits(k*r.LeastPower), top)
		if tried[power] {
			continue
		}
		tried[power] = true
		list, meeting := s.at(power, from)
		if found := choose(list); len(found) > len(r.Proposals) || r.Power == 0 {
			r.Proposals, r.Power, r.Meeting, r.Front = found, power, meeting, len(list)
		}
		if len(r.Proposals) >= FewestProposals {
			break
		}
	}
	r.Drawn = s.drawn
	return r
}

// twoDigits rounds up to two significant digits.
func twoDigits(x float64) float64 {
	unit := math.Pow10(int(math.Floor(math.Log10(x))) - 1)
	return math.Ceil(x/unit-1e-9) * unit
}

// ImpellerDiameter is the bound that the room for the pump sets.
const ImpellerDiameter = "impeller diameter"

// most is how far a bound is moved to see whether that would be enough.
const most = 8.0

// unmet says what is in the way of a need that no drive meets.
func unmet(n drive.Need, best sized) *SizeUnmet {
	u := &SizeUnmet{Why: best.Why}
	if best.Why == "" {
		u.Nearest = best.Sized
		for _, c := range best.Checks {
			if c.Slack < 0 {
				u.Missed = append(u.Missed, c)
			}
		}
	}
	meets := func(need drive.Need) bool { return newSizer(need).meets(best.at) }
	// smallest factor that does, to a fiftieth
	factor := func(need func(k float64) drive.Need) (float64, bool) {
		if !meets(need(most)) {
			return 0, false
		}
		low, high := 1.0, most
		for high/low > 1.02 {
			if k := math.Sqrt(low * high); meets(need(k)) {
				high = k
			} else {
				low = k
			}
		}
		return high, true
	}
	try := func(what, unit string, from float64, need func(k float64) drive.Need) {
		if k, ok := factor(need); ok {
			u.Enough = append(u.Enough, Enough{What: what, From: from, To: k * from, Unit: unit})
		}
	}
	try(ImpellerDiameter, "mm", n.Diameter, func(k float64) drive.Need { m := n; m.Diameter *= k; return m })
	var names []string
	var together []func(m *drive.Need, k float64)
	for _, b := range []struct {
		what, unit string
		of         func(*drive.Need) *quantity.Optional
	}{
		{"battery power", "W", func(m *drive.Need) *quantity.Optional { return &m.BatteryPower }},
		{"battery current", "A", func(m *drive.Need) *quantity.Optional { return &m.BatteryCurrent }},
		{"phase current", "A", func(m *drive.Need) *quantity.Optional { return &m.PhaseCurrent }},
		{"motor speed", "rpm", func(m *drive.Need) *quantity.Optional { return &m.MotorSpeed }},
		{"motor mass", "kg", func(m *drive.Need) *quantity.Optional { return &m.MotorMass }},
	} {
		if from := *b.of(&n); from.Set {
			try(b.what, b.unit, from.Value, func(k float64) drive.Need { m := n; b.of(&m).Value *= k; return m })
			names, together = append(names, b.what), append(together, func(m *drive.Need, k float64) { b.of(m).Value *= k })
		}
	}
	if cells := n.Base.Battery.Series; n.BatteryCurrent.Set || n.PhaseCurrent.Set {
		try("voltage", "V", n.Base.HalfFull(), func(k float64) drive.Need {
			m := n
			m.Base.Battery.Series = int(math.Ceil(k * float64(cells)))
			return m
		})
	}
	if len(u.Enough) == 0 && len(names) > 1 {
		try(strings.Join(names, " and ")+" together", "1", 1, func(k float64) drive.Need {
			m := n
			for _, move := range together {
				move(&m, k)
			}
			return m
		})
	}
	slices.SortStableFunc(u.Enough, func(a, b Enough) int { return cmp.Compare(a.To/a.From, b.To/b.From) })
	less := func(k float64) drive.Need { m := n; m.Thrust /= k; m.WayThrust /= k; return m }
	low, high := 1.0, 20.0
	if meets(less(high)) {
		for high/low > 1.02 {
			if k := math.Sqrt(low * high); meets(less(k)) {
				high = k
			} else {
				low = k
			}
		}
		u.Share = 1 / high
	}
	return u
}
