package numeric

import (
	"errors"
	"math"
	"sort"

	"gonum.org/v1/gonum/mat"
)

// Quantile returns a quantile of sorted samples, between two samples by a straight line.
//
//	h = (n − 1)·p,  q = x_⌊h⌋ + (h − ⌊h⌋)·(x_⌊h⌋₊₁ − x_⌊h⌋)
//
//	n  number of samples (at least one)
//	p  share, 0 to 1
//
// Holds for sorted samples (Hyndman and Fan's type 7).
//
// Source: memory. Tests: TestQuantileExact.
func Quantile(sorted []float64, p float64) float64 {
	h := float64(len(sorted)-1) * p
	i := int(h)
	if i >= len(sorted)-1 {
		return sorted[len(sorted)-1]
	}
	return sorted[i] + (h-float64(i))*(sorted[i+1]-sorted[i])
}

// Ranks returns the ranks of samples, from 1; equal samples share the mean of theirs.
func Ranks(x []float64) []float64 {
	n := len(x)
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return x[order[a]] < x[order[b]] })
	out := make([]float64, n)
	for i := 0; i < n; {
		j := i
		for j < n && x[order[j]] == x[order[i]] {
			j++
		}
		for k := i; k < j; k++ {
			out[order[k]] = float64(i+j+1) / 2
		}
		i = j
	}
	return out
}

// ErrNoRanks says that ranks explain nothing: too few samples, or an output that does not vary.
var ErrNoRanks = errors.New("too few samples, or an output that does not vary")

// RankShares returns what share of an output's variance of ranks each input explains, and the
// share that is left. Shares sum to the regression's R²; an input that does not vary has none.
//
//	share_j = β_j·ρ_j,  Σ share_j = R²,  rest = 1 − R²
//
//	β_j  coefficient of the standardised ranks of input j in the regression on all
//	ρ_j  correlation of its ranks with the output's
//
// Holds for outputs that rise or fall with each input; what bends back is left in the rest. Shares of
// nearly independent inputs are not negative but for the scatter of the samples.
//
// Source: memory. Tests: TestRankSharesExact, TestRankSharesLaw.
func RankShares(inputs [][]float64, output []float64) (shares []float64, rest float64, err error) {
	n := len(output)
	shares = make([]float64, len(inputs))
	y, ok := standardised(Ranks(output))
	if !ok {
		return shares, 1, ErrNoRanks
	}
	var columns [][]float64
	var at []int
	for j, in := range inputs {
		if x, ok := standardised(Ranks(in)); ok {
			columns = append(columns, x)
			at = append(at, j)
		}
	}
	k := len(columns)
	if n < k+2 || k == 0 {
		return shares, 1, ErrNoRanks
	}
	gram := mat.NewSymDense(k, nil)
	rho := mat.NewVecDense(k, nil)
	for a := range k {
		for b := a; b < k; b++ {
			gram.SetSym(a, b, dot(columns[a], columns[b]))
		}
		rho.SetVec(a, dot(columns[a], y))
	}
	var chol mat.Cholesky
	if !chol.Factorize(gram) {
		return shares, 1, ErrSingular
	}
	var beta mat.VecDense
	if err := chol.SolveVecTo(&beta, rho); err != nil {
		return shares, 1, ErrSingular
	}
	rest = 1
	for a, j := range at {
		shares[j] = beta.AtVec(a) * rho.AtVec(a)
		rest -= shares[j]
	}
	return shares, math.Max(rest, 0), nil
}

// standardised takes the mean off and scales to unit length.
func standardised(x []float64) ([]float64, bool) {
	mean := 0.0
	for _, v := range x {
		mean += v / float64(len(x))
	}
	out := make([]float64, len(x))
	for i, v := range x {
		out[i] = v - mean
	}
	norm := math.Sqrt(squares(out))
	if !(norm > 1e-9*math.Sqrt(float64(len(x)))) {
		return nil, false
	}
	for i := range out {
		out[i] /= norm
	}
	return out, true
}
