package numeric

import (
	"math"
	"sort"
)

// MeanSD returns the mean and the standard deviation of samples in two passes.
//
//	x̄ = Σx/n,  s = √(Σ(x − x̄)²/(n − 1))
//
// Holds for any samples; s is 0 for fewer than two. A second pass corrects the mean, so that a
// large offset costs few digits.
//
// Source: jcgm-100, 4.2. Tests: TestUnivariatePublished.
func MeanSD(x []float64) (mean, sd float64) {
	if len(x) == 0 {
		return 0, 0
	}
	n := float64(len(x))
	for _, v := range x {
		mean += v
	}
	mean /= n
	rest := 0.0
	for _, v := range x {
		rest += v - mean
	}
	mean += rest / n
	if len(x) < 2 {
		return mean, 0
	}
	sum, odd := 0.0, 0.0
	for _, v := range x {
		d := v - mean
		sum += d * d
		odd += d
	}
	return mean, math.Sqrt(max(0, sum-odd*odd/n) / (n - 1))
}

// Autocorrelation returns the autocorrelation of samples at a lag.
//
//	r_k = Σ (x_i − x̄)(x_{i+k} − x̄) / Σ (x_i − x̄)²
//
// Holds for even spacing; 0 where nothing varies or the lag is as long as the record.
//
// Source: nist-strd. Tests: TestUnivariatePublished.
func Autocorrelation(x []float64, lag int) float64 {
	mean, _ := MeanSD(x)
	top, bottom := 0.0, 0.0
	for i, v := range x {
		d := v - mean
		bottom += d * d
		if i+lag < len(x) {
			top += d * (x[i+lag] - mean)
		}
	}
	if bottom == 0 {
		return 0
	}
	return top / bottom
}

// EffectiveSize returns how many independent samples a series that hangs together is worth.
//
//	n_eff = n/τ,  τ = 1 + 2·Σ_{k=1}^{M} r_k
//
//	r_k  autocorrelation at lag k, freed of its bias of −τ/n
//	M    the first lag with M ≥ 5·τ(M)
//
// Holds for evenly spaced samples over many correlation times; for an AR(1) series it tends to
// n·(1 − φ)/(1 + φ). It is never taken above n, so that a short record claims nothing from
// chance, and never below 1.
//
// Source: sokal-1997. Tests: TestEffectiveSizeExact.
func EffectiveSize(x []float64) float64 {
	n := len(x)
	if n < 3 {
		return float64(n)
	}
	mean, _ := MeanSD(x)
	d := make([]float64, n)
	zero := 0.0
	for i, v := range x {
		d[i] = v - mean
		zero += d[i] * d[i]
	}
	if zero == 0 {
		return float64(n)
	}
	tau := 1.0
	for k := 1; k < n/2; k++ {
		sum := 0.0
		for i := 0; i+k < n; i++ {
			sum += d[i] * d[i+k]
		}
		tau += 2 * (sum/zero + tau/float64(n)) * (1 - float64(k)/float64(n))
		if float64(k) >= 5*tau {
			break
		}
	}
	return max(1, min(float64(n), float64(n)/max(tau, 1)))
}

// Median returns the median of samples, which are left as they are; NaN are passed over. It is
// not ok without samples.
func Median(x []float64) (m float64, ok bool) {
	s := make([]float64, 0, len(x))
	for _, v := range x {
		if v == v {
			s = append(s, v)
		}
	}
	if len(s) == 0 {
		return 0, false
	}
	sort.Float64s(s)
	return Quantile(s, 0.5), true
}

// RobustSD returns the scatter of samples about their median, insensitive to the odd wild one.
//
//	s = 1.4826·median|x − median(x)|
//
// Holds for scatter that is normal but for under half of wild samples.
//
// Source: memory. Tests: TestRobustSDExact.
func RobustSD(x []float64) float64 {
	m, ok := Median(x)
	if !ok {
		return 0
	}
	d := make([]float64, 0, len(x))
	for _, v := range x {
		if v == v {
			d = append(d, math.Abs(v-m))
		}
	}
	mad, _ := Median(d)
	return 1.4826 * mad
}

// Settled returns how many samples at the beginning are to be cut, so that the mean of the rest
// has the least standard error.
//
//	c = argmin Σ_{i≥c} (x_i − x̄_c)² / (n − c)²
//
// Holds for a start that decays onto a steady level; a cut in the second half of the record means
// that nothing settled.
//
// Source: white-1997. Tests: TestSettledExact.
func Settled(x []float64) int {
	n := len(x)
	sum, square, best, cut := 0.0, 0.0, math.Inf(1), 0
	mean, sd := MeanSD(x)
	rounding := 1e-12 * sd * sd / float64(max(1, n))
	for c := n - 1; c >= 0; c-- {
		d := x[c] - mean
		sum += d
		square += d * d
		m := float64(n - c)
		if n-c < 5 {
			continue
		}
		if v := max(0, square-sum*sum/m) / (m * m); v <= best+rounding { // of equals the longest rest
			best, cut = v, c
		}
	}
	return cut
}
