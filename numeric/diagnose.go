package numeric

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/stat/distuv"
)

// Diagnosis is what the points of several chains are worth for one figure.
type Diagnosis struct {
	Mean, SD   float64
	RHat       float64 // 1 where the chains agree; below 1.01 is usual
	Bulk, Tail float64 // effective sizes for the middle and for the 5 % and 95 % quantiles
	Size       float64 // effective size for the mean itself; its sampling error is SD/√Size
}

// Error returns the sampling error of the mean.
func (d Diagnosis) Error() float64 { return d.SD / math.Sqrt(d.Size) }

// Diagnose holds chains of one figure against each other.
//
//	R̂ = √(((N − 1)/N·W + B/N)/W),  greater of that of ranks and that of ranks of distances from the median
//	n_e = M·N/(1 + 2·Σ ρ_t),  ρ_t = 1 − (W − mean of s²·ρ_t of each chain)/var⁺
//
//	M, N  number of half chains and of points in each
//	W, B  variance within half chains and, times N, between their means; var⁺ = ((N − 1)·W + B)/N
//	ρ_t   autocorrelation at lag t, summed in pairs while they stay positive and fall (Geyer)
//
// Chains are split into halves and values replaced by normal scores of their ranks; Tail takes the indicators of the two
// quantiles, Size the values themselves. Where a figure does not move R̂ is 1 and the sizes count every point.
//
// Holds for chains of equal length of 8 points or more.
//
// Source: vehtari-2021. Tests: TestDiagnosePublished, TestDiagnoseLaw.
func Diagnose(chains [][]float64) Diagnosis {
	halves := split(chains)
	var all []float64
	for _, h := range halves {
		all = append(all, h...)
	}
	var d Diagnosis
	d.Mean, d.SD = MeanSD(all)
	if !(d.SD > 0) {
		n := float64(len(all))
		return Diagnosis{d.Mean, 0, 1, n, n, n}
	}
	sorted := append([]float64(nil), all...)
	sort.Float64s(sorted)
	middle := Quantile(sorted, 0.5)
	folded := make([]float64, len(all))
	for i, x := range all {
		folded[i] = math.Abs(x - middle)
	}
	scores := like(halves, normalScores(all))
	d.RHat = math.Max(rHat(scores), rHat(like(halves, normalScores(folded))))
	d.Bulk = effective(scores)
	d.Size = effective(halves)
	d.Tail = math.Inf(1)
	for _, p := range []float64{0.05, 0.95} {
		q := Quantile(sorted, p)
		below := make([]float64, len(all))
		for i, x := range all {
			if x <= q {
				below[i] = 1
			}
		}
		d.Tail = math.Min(d.Tail, effective(like(halves, below)))
	}
	return d
}

// split cuts chains into halves; of an odd number the middle point is left out.
func split(chains [][]float64) [][]float64 {
	var out [][]float64
	for _, c := range chains {
		h := len(c) / 2
		out = append(out, c[:h], c[len(c)-h:])
	}
	return out
}

// like cuts values as the chains are cut.
func like(chains [][]float64, values []float64) [][]float64 {
	out := make([][]float64, len(chains))
	at := 0
	for i, c := range chains {
		out[i] = values[at : at+len(c)]
		at += len(c)
	}
	return out
}

// normalScores are the quantiles of the normal distribution that the ranks stand for.
func normalScores(x []float64) []float64 {
	r := Ranks(x)
	for i, v := range r {
		r[i] = distuv.UnitNormal.Quantile((v - 0.375) / (float64(len(x)) + 0.25))
	}
	return r
}

// moments of chains: means, variances, W and var⁺.
func chainMoments(chains [][]float64) (means, variances []float64, within, plus float64) {
	n := float64(len(chains[0]))
	for _, c := range chains {
		m, sd := MeanSD(c)
		means, variances = append(means, m), append(variances, sd*sd)
		within += sd * sd / float64(len(chains))
	}
	_, between := MeanSD(means)
	return means, variances, within, (n-1)/n*within + between*between
}

func rHat(chains [][]float64) float64 {
	_, _, within, plus := chainMoments(chains)
	if within == 0 {
		if plus == 0 {
			return 1
		}
		return math.Inf(1)
	}
	return math.Sqrt(plus / within)
}

// effective is the effective size by Geyer's pairs, summed while they stay positive and made to fall.
func effective(chains [][]float64) float64 {
	n, m := len(chains[0]), len(chains)
	total := float64(n * m)
	means, _, within, plus := chainMoments(chains)
	if plus == 0 {
		return total
	}
	rho := func(t int) float64 {
		sum := 0.0
		for c, x := range chains {
			for i := t; i < n; i++ {
				sum += (x[i] - means[c]) * (x[i-t] - means[c])
			}
		}
		return 1 - (within-sum/(float64(n)-1)/float64(m))/plus
	}
	time, last := 0.0, math.Inf(1)
	for t := 0; t+1 < n-2; t += 2 {
		first := 1.0
		if t > 0 {
			first = rho(t)
		}
		pair := first + rho(t+1)
		if pair < 0 {
			break
		}
		last = math.Min(last, pair)
		time += 2 * last
	}
	// Chains that swing to and fro say more than independent points, but no more than this is believed.
	return total / math.Max(time-1, 1/math.Log10(total))
}
