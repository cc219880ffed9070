package bench

import (
	"fmt"
	"math"
	"sort"

	"jetwright/numeric"
)

// Rules of repeats. Our own, but for the twentieth.
const (
	repeatsAlpha = 0.05 // by chance, at or below which repeats are taken to differ
	repeatsLeast = 2    // degrees of freedom between repeats, from which a spread is told
)

// Repeats is how far the pull differs between plateaus at one and the same load, beyond what their own scatter
// and what they share explain.
type Repeats struct {
	Known       bool
	Plateaus    int     // that share their load with another one
	Levels      int     // loads at which there are such
	Spread      float64 // standard deviation between plateaus, share of the pull; 0 where they differ by no more than chance
	Freedom     float64 // degrees of freedom between them
	F           float64
	Probability float64 // how often chance alone makes F as large
	Each        float64 // standard deviation of the pull of one plateau against another one at its load, share of it
}

// Resolve returns how many plateaus of each of two designs tell a change of pull by a share, four times of five and with one
// false alarm in twenty.
func (r Repeats) Resolve(share float64) (n int, ok bool) {
	if !r.Known {
		return 0, false
	}
	return numeric.RepeatsFor(r.Each, share, repeatsAlpha, 0.8)
}

// loadPower is by which power of the load the pull goes at rest.
var loadPower = map[Channel]float64{Power: 2.0 / 3, BatteryCurrent: 2.0 / 3, RotorSpeed: 2, PhaseCurrent: 1}

// repeats compares settled plateaus at one load and gives every pull what they differ by as a part of its own.
//
//	s_B² = (MS_B − MS_W)/n₀ − ū²,  kept if F = MS_B/MS_W is as rare as one in twenty
//
//	MS_B, MS_W  mean squares between and within plateaus of the pull at the mean load of their level, share of it
//	ū²          what tare, drift and friction, which plateaus share, explain of it
//
// Steps up and down are held against each other only once the carriage's friction is out. Small differences of
// the load are taken out by the law at rest. A friction that was fitted uses up one degree of freedom. Needs two degrees of freedom between plateaus.
//
// Source: jcgm-100, own. Tests: TestRepeatsSynthetic.
func (r *reducer) repeats() {
	type held struct {
		at    int // plateau
		load  float64
		group numeric.Group
	}
	var all []held
	for i, p := range r.out.Plateaus {
		t, haveT := p.Figure(Thrust)
		w, haveP := p.Figure(r.load.Channel)
		if !haveT || !haveP || p.Unsettled != "" || !(t.Value > 0) || !(w.Value > 0) || !r.out.Friction.Known && p.Direction == "down" {
			continue
		}
		n := 1.0
		for _, c := range t.Budget {
			if c.Name == "scatter" {
				n += math.Min(c.Freedom, 1e6)
			}
		}
		u := math.Hypot(t.Repeat/t.Value, loadPower[r.load.Channel]*w.Repeat/w.Value)
		all = append(all, held{i, w.Value, numeric.Group{Mean: t.Value, SD: u * math.Sqrt(n), N: n}})
	}
	sort.SliceStable(all, func(a, b int) bool { return all[a].load < all[b].load })
	covariance := Covariance(r.out.Plateaus, Thrust)
	var sets [][]numeric.Group
	shared, freedom := 0.0, 0.0
	out := &r.out.Repeats
	for from := 0; from < len(all); {
		to := from + 1
		for to < len(all) && all[to].load <= all[from].load*(1+sameLevel) {
			to++
		}
		level := all[from:to]
		from = to
		if len(level) < 2 {
			continue
		}
		n := float64(len(level))
		load, pull := 0.0, 0.0
		for _, x := range level {
			load += x.load / n
		}
		for k := range level {
			level[k].group.Mean *= math.Pow(load/level[k].load, loadPower[r.load.Channel])
			pull += level[k].group.Mean / n
		}
		var set []numeric.Group
		for _, a := range level {
			a.group.Mean /= pull
			set = append(set, a.group)
			for _, b := range level {
				c := covariance.At(a.at, b.at)
				if a.at == b.at {
					f, _ := r.out.Plateaus[a.at].Figure(Thrust)
					c = (c - f.Repeat*f.Repeat) * (n - 1)
				} else {
					c = -c
				}
				shared += c / n / (pull * pull)
			}
		}
		freedom += n - 1
		out.Levels++
		out.Plateaus += len(level)
		sets = append(sets, set)
	}
	v, err := numeric.OneWayWithin(sets, repeatsAlpha)
	if err != nil {
		return
	}
	if r.out.Friction.Known { // which is the one that makes steps up and down most alike
		spent, ok := v.Spent(1, repeatsAlpha)
		if !ok {
			return
		}
		v = spent
	}
	if v.BetweenFreedom < repeatsLeast {
		return
	}
	shared = math.Max(0, shared/freedom)
	out.Known, out.Freedom, out.F, out.Probability = true, v.BetweenFreedom, v.F, v.Probability
	between := v.BetweenSpread*v.BetweenSpread - shared
	// One plateau against another: what they show, and never less than their scatter explains.
	out.Each = math.Sqrt(v.BetweenSpread*v.BetweenSpread + v.WithinSquare/v.PerGroup)
	if !v.Differ || !(between > 0) {
		return
	}
	out.Spread = math.Sqrt(between)
	for i := range r.out.Plateaus {
		p := &r.out.Plateaus[i]
		for k := range p.Figures {
			f := &p.Figures[k]
			if f.Channel != Thrust {
				continue
			}
			f.Budget = append(f.Budget, Component{
				Name: "between plateaus", U: out.Spread * math.Abs(f.Value), Freedom: out.Freedom,
				Note: fmt.Sprintf("%.2g %% between %d plateaus at %d loads, F = %.3g", 100*out.Spread, out.Plateaus, out.Levels, out.F),
			})
			f.setRepeat()
		}
	}
}
