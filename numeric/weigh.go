package numeric

import (
	"math"
	"math/rand/v2"
	"sort"
)

// Rules of weighing. Our own but for heavyTail.
const (
	heavyTail   = 0.5 // of the weights' Pareto tail, from which their variance has no end
	weighStep   = 0.7 // share of what is lacking that is drawn before it is looked again
	weighPoints = 0.1 // share of the points that the tail is fitted to
)

// Weigh draws points by a map and weighs each, in streams that are independent of each other.
//
//	z_i = T(v_i),  w_i ∝ p(z_i)/q(z_i),  h̄ = Σ w̄_i·h(z_i),  n_e = Σ w̄_i·(h_i − h̄)²/Σ w̄_i²·(h_i − h̄)²
//
//	v     standard normal numbers;  T, ln(p/q)  Carry
//	w̄_i   weights that sum to one;  n_e  effective size of h: a coordinate for Bulk, whether it lies below a quantile for Tail
//
// Points are then chosen from each stream in proportion to their weights, evenly (systematic resampling), so that all count alike; a
// heavy point stands there more than once. It is not ok where the highest weights fall off so slowly that their variance has
// no end (generalised Pareto, shape above one half): then walk. Deterministic by seed, whatever the number of processors.
//
// Source: vehtari-2024, hosking-wallis-1987. Tests: TestLeapLaw, TestWeighExact, TestWeighHeavy.
func Weigh(c Chains) (out *Sampled, ok bool) {
	if c.Chains == 0 {
		c.Chains = 4
	}
	c.Most = max(c.Most, c.Draws)
	type stream struct {
		rng     *rand.Rand
		z       [][]float64
		weights []float64 // logarithms
	}
	streams := make([]stream, c.Chains)
	for i := range streams {
		streams[i].rng = rand.New(rand.NewPCG(c.Seed, 0x3e19+uint64(i)))
	}
	out = &Sampled{Weighted: true}
	target := c.Draws
	for range sampleRounds {
		Parallel(c.Chains, func(i int) {
			s := &streams[i]
			u := make([]float64, c.Dimension)
			for len(s.z) < target {
				z := make([]float64, c.Dimension)
				for j := range u {
					u[j] = s.rng.NormFloat64()
				}
				w := c.Carry(i, u, z)
				if math.IsNaN(w) || math.IsInf(w, 1) {
					w = math.Inf(-1)
				}
				s.z, s.weights = append(s.z, z), append(s.weights, w)
			}
		})
		var z [][]float64
		var logs []float64
		for _, s := range streams {
			z, logs = append(z, s.z...), append(logs, s.weights...)
		}
		w, whole := normalised(logs)
		out.Evaluations = len(z)
		if !whole {
			return out, false
		}
		out.Diagnoses = make([]Diagnosis, c.Dimension)
		Parallel(c.Dimension, func(j int) { out.Diagnoses[j] = diagnoseWeighted(z, w, j) })
		least := math.Inf(1)
		for _, d := range out.Diagnoses {
			least = math.Min(least, math.Min(d.Bulk, d.Tail))
		}
		out.Shape = tailShape(w)
		out.Reached = least >= c.Effective
		if out.Reached || target >= c.Most || c.Effective == 0 {
			break
		}
		// Most of what the least of them lacks: heavy points come late, so that a small sample says too little.
		grow := math.Min(4, math.Max(1.05, 1+weighStep*(c.Effective/math.Max(least, 1)-1)))
		target = min(c.Most, int(float64(target)*grow)+1)
	}
	out.Points = make([][][]float64, c.Chains)
	for i := range streams {
		s := &streams[i]
		w, whole := normalised(s.weights)
		if !whole {
			return out, false
		}
		for _, k := range resampled(w, len(w), s.rng.Float64()) {
			out.Points[i] = append(out.Points[i], s.z[k])
		}
	}
	Parallel(c.Dimension, func(j int) { out.Diagnoses[j].RHat = Diagnose(out.Column(j)).RHat })
	return out, out.Shape < heavyTail
}

// normalised turns logarithms into weights that sum to one; not whole where none is finite.
func normalised(logs []float64) (w []float64, whole bool) {
	top := math.Inf(-1)
	for _, x := range logs {
		top = math.Max(top, x)
	}
	if math.IsInf(top, -1) {
		return nil, false
	}
	w = make([]float64, len(logs))
	sum := 0.0
	for i, x := range logs {
		w[i] = math.Exp(x - top)
		sum += w[i]
	}
	for i := range w {
		w[i] /= sum
	}
	return w, true
}

// diagnoseWeighted says what weighted points are worth for a coordinate.
func diagnoseWeighted(z [][]float64, w []float64, j int) Diagnosis {
	size := func(h func(x float64) float64) (mean, sd, size float64) {
		for i, x := range z {
			mean += w[i] * h(x[j])
		}
		a, b := 0.0, 0.0
		for i, x := range z {
			d := h(x[j]) - mean
			a += w[i] * d * d
			b += w[i] * w[i] * d * d
		}
		if !(b > 0) {
			return mean, 0, float64(len(z))
		}
		return mean, math.Sqrt(a), a / b
	}
	d := Diagnosis{RHat: 1, Tail: math.Inf(1)}
	d.Mean, d.SD, d.Bulk = size(func(x float64) float64 { return x })
	d.Size = d.Bulk
	order := make([]int, len(z))
	for i := range order {
		order[i] = i
	}
	sort.Slice(order, func(a, b int) bool { return z[order[a]][j] < z[order[b]][j] })
	for _, p := range []float64{0.05, 0.95} {
		sum, q := 0.0, z[order[len(order)-1]][j]
		for _, i := range order {
			if sum += w[i]; sum >= p {
				q = z[i][j]
				break
			}
		}
		_, _, n := size(func(x float64) float64 {
			if x <= q {
				return 1
			}
			return 0
		})
		d.Tail = math.Min(d.Tail, n)
	}
	return d
}

// resampled returns n indices, each as often as its weight says, to less than one.
func resampled(w []float64, n int, start float64) []int {
	out := make([]int, 0, n)
	sum, i := w[0], 0
	for k := range n {
		at := (float64(k) + start) / float64(n)
		for sum < at && i < len(w)-1 {
			i++
			sum += w[i]
		}
		out = append(out, i)
	}
	return out
}

// tailShape is the shape of a generalised Pareto distribution fitted to the highest weights; −Inf where they are all one.
func tailShape(w []float64) float64 {
	x := append([]float64(nil), w...)
	sort.Float64s(x)
	n := int(weighPoints * float64(len(x)))
	if n < 5 {
		return math.Inf(-1)
	}
	a0, a1 := paretoMoments(x[len(x)-n:], x[len(x)-n-1])
	if !(a0 > 1e-13*x[len(x)-1]) || !(a0 > 2*a1) {
		return math.Inf(-1)
	}
	k, _ := paretoOf(a0, a1)
	return -k
}
