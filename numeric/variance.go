package numeric

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Group is what one group of values says: their mean, their standard deviation and how many
// independent ones they are worth.
type Group struct{ Mean, SD, N float64 }

// GroupOf is the group of independent values.
func GroupOf(x []float64) Group {
	m, sd := MeanSD(x)
	return Group{m, sd, float64(len(x))}
}

// Variance is scatter taken apart into that between groups and that within them.
type Variance struct {
	Mean, U, Freedom              float64 // mean of all, its standard uncertainty and degrees of freedom
	BetweenSquare, WithinSquare   float64 // mean squares
	BetweenFreedom, WithinFreedom float64
	F, Probability                float64 // ratio of the mean squares, and how often chance alone makes it as large
	BetweenSpread, WithinSpread   float64 // standard deviations: of the groups' own levels, of one value in its group
	Differ                        bool    // the groups differ by more than chance explains
	PerGroup                      float64 // values in a group, as they count between groups
	pooled                        float64 // standard deviation of all values about one mean
	values, sums                  float64
}

// OneWay takes scatter apart into that between groups and that within them, and gives the mean of all
// its uncertainty by what it finds: where the groups differ, each counts as one value.
//
//	F = (Σ n_j(x̄_j − x̄)²/(J − 1)) / (Σ(n_j − 1)s_j²/(N − J)),  s_B² = (MS_B − MS_W)/n₀,  n₀ = (N − Σn_j²/N)/(J − 1)
//	groups differ:   x̄ = Σw_j·x̄_j/Σw_j,  u² = Σw_j(x̄_j − x̄)²/((J − 1)Σw_j),  w_j = 1/(s_B² + s_W²/n_j),  ν = J − 1
//	they do not:     x̄ = Σn_j·x̄_j/N,  u² = s²/N,  s² of all values about it,  ν = N − 1
//
//	J, N   number of groups and of values
//	alpha  probability of F by chance, at or below which the groups are taken to differ
//
// Holds for independent normal values of one variance within the groups; groups of one size give
// the Guide's formulas. The error says what is missing.
//
// Source: jcgm-100, H.5. Tests: TestOneWayPublished, TestOneWayLaw.
func OneWay(groups []Group, alpha float64) (Variance, error) {
	v, err := OneWayWithin([][]Group{groups}, alpha)
	if err != nil {
		return v, err
	}
	v.Mean = v.sums / v.values
	v.U, v.Freedom = v.pooled/math.Sqrt(v.values), v.values-1
	if !v.Differ {
		return v, nil
	}
	var weight, sum, square float64
	w := func(g Group) float64 {
		return 1 / (v.BetweenSpread*v.BetweenSpread + v.WithinSquare/g.N)
	}
	for _, g := range groups {
		weight += w(g)
		sum += w(g) * g.Mean
	}
	v.Mean = sum / weight
	for _, g := range groups {
		square += w(g) * (g.Mean - v.Mean) * (g.Mean - v.Mean)
	}
	v.U, v.Freedom = math.Sqrt(square/(v.BetweenFreedom*weight)), v.BetweenFreedom
	return v, nil
}

// OneWayWithin does the same for several sets of groups, each about its own mean: repeats at several
// levels say together how groups of one level differ. It gives no mean.
//
// Source: jcgm-100, H.5. Tests: TestOneWayPublished, TestOneWayLaw.
func OneWayWithin(sets [][]Group, alpha float64) (Variance, error) {
	var v Variance
	var between, within, even float64
	for _, groups := range sets {
		var n, sum, squares float64
		for _, g := range groups {
			if !(g.N >= 1) || math.IsInf(g.N, 1) || g.Mean != g.Mean || !(g.SD >= 0) {
				return v, errors.New("each group needs a value or more, a mean and a standard deviation of 0 or more")
			}
			n += g.N
			sum += g.N * g.Mean
			squares += g.N * g.N
			within += (g.N - 1) * g.SD * g.SD
		}
		if len(groups) == 0 {
			continue
		}
		for _, g := range groups {
			between += g.N * (g.Mean - sum/n) * (g.Mean - sum/n)
		}
		even += n - squares/n
		v.BetweenFreedom += float64(len(groups)) - 1
		v.WithinFreedom += n - float64(len(groups))
		v.values += n
		v.sums += sum
	}
	if !(v.BetweenFreedom > 0) || !(v.WithinFreedom > 0) {
		return v, errors.New("it takes two groups, and two values in one of them")
	}
	v.BetweenSquare, v.WithinSquare = between/v.BetweenFreedom, within/v.WithinFreedom
	v.WithinSpread = math.Sqrt(v.WithinSquare)
	v.PerGroup = even / v.BetweenFreedom
	v.pooled = math.Sqrt((between + within) / (v.BetweenFreedom + v.WithinFreedom))
	return v.judged(alpha), nil
}

// judged takes the mean squares apart and tests them.
func (v Variance) judged(alpha float64) Variance {
	v.BetweenSpread = math.Sqrt(max(0, v.BetweenSquare-v.WithinSquare) / v.PerGroup)
	switch {
	case v.WithinSquare > 0:
		v.F = v.BetweenSquare / v.WithinSquare
		v.Probability = distuv.F{D1: v.BetweenFreedom, D2: v.WithinFreedom}.Survival(v.F)
	case v.BetweenSquare > 0:
		v.F = math.Inf(1)
	default:
		v.Probability = 1
	}
	v.Differ = v.Probability <= alpha
	return v
}

// Spent is the same where a fit to the groups' means has used up some degrees of freedom between them. It is not ok
// where none is left. The mean of all is not told.
func (v Variance) Spent(fitted, alpha float64) (Variance, bool) {
	left := v.BetweenFreedom - fitted
	if !(left > 0) {
		return Variance{}, false
	}
	v.BetweenSquare *= v.BetweenFreedom / left
	v.BetweenFreedom, v.Mean, v.U, v.Freedom = left, 0, 0, 0
	return v.judged(alpha), true
}

// repeatsMost is where asking for more repeats ends.
const repeatsMost = 1e6

// RepeatsFor returns how many values of each of two kinds tell a difference of their means. It is not ok
// where a million would not.
//
//	least n with (t_{1−alpha/2}(ν) + t_{power}(ν))·s·√(2/n) ≤ d,  ν = 2(n − 1)
//
//	s      standard deviation of one value
//	d      difference to be told
//	alpha  how often chance alone may look like one;  power  how often it is told where it is there
//
// Holds for independent normal values; within one of the exact count of the non-central t.
//
// Source: cohen-1988, table 2.4.1. Tests: TestRepeatsForPublished.
func RepeatsFor(s, d, alpha, power float64) (n int, ok bool) {
	if !(s >= 0) || !(d > 0) {
		return 0, false
	}
	enough := func(n int) bool {
		t := distuv.StudentsT{Sigma: 1, Nu: float64(2 * (n - 1))}
		return (t.Quantile(1-alpha/2)+t.Quantile(power))*s*math.Sqrt(2/float64(n)) <= d
	}
	low, high := 1, 2
	for !enough(high) {
		if low, high = high, 2*high; high > repeatsMost {
			return 0, false
		}
	}
	for high-low > 1 {
		if m := (low + high) / 2; enough(m) {
			high = m
		} else {
			low = m
		}
	}
	return high, true
}
