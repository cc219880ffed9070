package numeric

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"
)

// Chains asks for points of a distribution by walks that are independent of each other.
type Chains struct {
	Dimension int
	Centre    []float64  // of the normal distribution that it is near to
	Root      mat.Matrix // lower Cholesky factor of that one's covariance
	Widen     float64    // of its standard deviations, 1 if 0
	Chains    int        // 4 if 0
	Warm      int        // first points that are dropped
	Draws     int        // points kept by each chain at first
	Most      int        // and at most
	Effective float64    // effective size of every coordinate, for its middle, at which it ends; 0 ends at Draws
	Seed      uint64
	// Density is the logarithm of the distribution up to a constant, −Inf where it has no point. Chains
	// ask at the same time, each by its number.
	Density func(chain int, z []float64) float64
	// Carry, in the place of Density, Centre and Root, takes standard normal numbers to a point that is near to a draw and returns the
	// logarithm of how much more likely the point is than as a draw. It must be smooth, and the same whatever the chain.
	Carry func(chain int, u, z []float64) float64
}

// Sampled are the points of all chains and what they are worth.
type Sampled struct {
	Points      [][][]float64 // chain × point × coordinate
	Diagnoses   []Diagnosis   // by coordinate
	Evaluations int
	Reached     bool    // every coordinate has the effective size that was asked for
	Weighted    bool    // drawn and weighed, not walked
	Shape       float64 // of the Pareto tail of the weights; they have a variance below one half
}

// sampleRounds is how many times the chains are prolonged until they say enough.
const sampleRounds = 40

// Sample walks by elliptical slices round a normal distribution that is near, or in the coordinates of a map that straightens:
// every step is taken, there is nothing to tune, and directions that the data do not touch are drawn afresh each time.
//
//	z = c + L·u,  w(u) = ln p(z) + ½·|u|²,  u′ = u·cos θ + v·sin θ,  w(u′) > w(u) + ln q
//
//	p     the density asked for;  c, L  centre and Cholesky factor of the normal distribution
//	v, q  standard normal numbers and one in (0, 1), drawn anew each step
//	θ     drawn in a whole turn, then in what the last refusal left of it on the side of u
//
// Holds for any density that is finite somewhere near the centre; far from normal it takes more points for the same effective
// size, which Diagnoses says. Deterministic by seed, whatever the number of processors.
//
// Source: murray-2010, nishihara-2014. Tests: TestSampleNormalPublished, TestSampleEightSchoolsPublished, TestSampleLaw.
func Sample(c Chains) *Sampled {
	if c.Chains == 0 {
		c.Chains = 4
	}
	if c.Widen == 0 {
		c.Widen = 1
	}
	c.Most = max(c.Most, c.Draws)
	walkers := make([]*walker, c.Chains)
	for i := range walkers {
		walkers[i] = newWalker(&c, i)
	}
	out := &Sampled{Points: make([][][]float64, c.Chains)}
	target := c.Draws
	for round := range sampleRounds {
		Parallel(c.Chains, func(i int) {
			w := walkers[i]
			if round == 0 {
				for range c.Warm {
					w.step()
				}
			}
			for len(out.Points[i]) < target {
				w.step()
				out.Points[i] = append(out.Points[i], append([]float64(nil), w.z...))
			}
		})
		out.Diagnoses = make([]Diagnosis, c.Dimension)
		Parallel(c.Dimension, func(j int) { out.Diagnoses[j] = Diagnose(out.Column(j)) })
		least := math.Inf(1)
		for _, d := range out.Diagnoses {
			least = math.Min(least, d.Bulk)
		}
		out.Reached = least >= c.Effective
		if out.Reached || target >= c.Most || c.Effective == 0 {
			break
		}
		// As many more as the least of them lacks, with a tenth to spare.
		grow := 2.0
		if least > 0 {
			grow = math.Min(4, math.Max(1.05, 1.05*c.Effective/least))
		}
		target = min(c.Most, int(float64(target)*grow)+1)
	}
	for _, w := range walkers {
		out.Evaluations += w.evaluations
	}
	return out
}

// Column returns a coordinate of all points, by chain.
func (s *Sampled) Column(j int) [][]float64 {
	return s.Of(func(z []float64) float64 { return z[j] })
}

// Of returns a figure of all points, by chain.
func (s *Sampled) Of(f func(z []float64) float64) [][]float64 {
	out := make([][]float64, len(s.Points))
	for i, chain := range s.Points {
		out[i] = make([]float64, len(chain))
		for k, z := range chain {
			out[i][k] = f(z)
		}
	}
	return out
}

// walker is one chain.
type walker struct {
	c           *Chains
	number      int
	rng         *rand.Rand
	u, v, next  []float64 // whitened
	z, trial    []float64
	weight      float64
	evaluations int
	rows        [][]float64 // of the Cholesky factor, widened
}

func newWalker(c *Chains, number int) *walker {
	k := c.Dimension
	w := &walker{
		c: c, number: number, rng: rand.New(rand.NewPCG(c.Seed, 0x77a1+uint64(number))),
		u: make([]float64, k), v: make([]float64, k), next: make([]float64, k), z: make([]float64, k), trial: make([]float64, k),
	}
	if c.Carry == nil {
		w.rows = make([][]float64, k)
	}
	for i := range w.rows {
		w.rows[i] = make([]float64, i+1)
		for j := range w.rows[i] {
			w.rows[i][j] = c.Widen * c.Root.At(i, j)
		}
	}
	// A start that is spread as widely as the distribution lets R-hat see chains that do not meet.
	const starts = 100
	w.weight = math.Inf(-1)
	for i := range starts {
		shrink := math.Pow(0.9, float64(i))
		for j := range w.u {
			w.u[j] = shrink * w.rng.NormFloat64()
		}
		if w.weight = w.at(w.u, w.z); !math.IsInf(w.weight, -1) {
			return w
		}
	}
	for j := range w.u {
		w.u[j] = 0
	}
	w.weight = w.at(w.u, w.z)
	return w
}

// at writes the point of whitened coordinates and returns its weight.
func (w *walker) at(u, z []float64) float64 {
	if w.c.Carry != nil {
		w.evaluations++
		if p := w.c.Carry(w.number, u, z); !math.IsNaN(p) {
			return p
		}
		return math.Inf(-1)
	}
	square := 0.0
	for i, row := range w.rows {
		z[i] = w.c.Centre[i] + dot(row, u[:i+1])
		square += u[i] * u[i]
	}
	w.evaluations++
	p := w.c.Density(w.number, z)
	if math.IsNaN(p) {
		return math.Inf(-1)
	}
	return p + 0.5*square
}

// step goes on by one elliptical slice.
func (w *walker) step() {
	for j := range w.v {
		w.v[j] = w.rng.NormFloat64()
	}
	level := w.weight + math.Log(1-w.rng.Float64())
	angle := 2 * math.Pi * w.rng.Float64()
	low, high := angle-2*math.Pi, angle
	for high-low > 1e-12 {
		sin, cos := math.Sincos(angle)
		for j := range w.u {
			w.next[j] = w.u[j]*cos + w.v[j]*sin
		}
		if p := w.at(w.next, w.trial); p > level {
			w.u, w.next = w.next, w.u
			w.z, w.trial = w.trial, w.z
			w.weight = p
			return
		}
		if angle < 0 {
			low = angle
		} else {
			high = angle
		}
		angle = low + (high-low)*w.rng.Float64()
	}
}
