package strength

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
)

// PointMass sits on a rotor.
type PointMass struct{ At, Mass float64 } // m, kg

// Rotor is a straight shaft of one diameter on rigid bearings with masses on it.
type Rotor struct {
	Length   float64      // m
	Rigidity float64      // E·I, N·m²
	Line     float64      // mass by length, the water that it moves included, kg/m
	Supports [2]float64   // m
	Masses   [2]PointMass // those of no mass do not count
}

const (
	mostNodes = 24
	finest    = 8 // parts of the length that an element is at most
	unknowns  = 2 * mostNodes
	bandAbove = 3
)

// beam is a rotor cut into elements: stiffness and mass, upper bands.
type beam struct {
	nodes     int
	x         [mostNodes]float64
	stiffness [unknowns * (bandAbove + 1)]float64
	mass      [unknowns * (bandAbove + 1)]float64
	held      [2]int // unknowns
}

func (b *beam) n() int { return 2 * b.nodes }

func (b *beam) band(data []float64) blas64.SymmetricBand {
	return blas64.SymmetricBand{Uplo: blas.Upper, N: b.n(), K: bandAbove, Data: data[:b.n()*(bandAbove+1)], Stride: bandAbove + 1}
}

// cut lays the nodes: at ends, bearings and masses, and between them no further apart than an eighth of the length.
func (r *Rotor) cut(b *beam) {
	at := [6]float64{0, r.Length, r.Supports[0], r.Supports[1], r.Masses[0].At, r.Masses[1].At}
	marks := at[:]
	sort.Float64s(marks)
	b.nodes = 1
	b.x[0] = marks[0]
	for _, m := range marks[1:] {
		from := b.x[b.nodes-1]
		gap := m - from
		if gap <= 1e-9*r.Length {
			continue
		}
		parts := int(math.Ceil(gap/r.Length*finest - 1e-9))
		for k := 1; k <= parts && b.nodes < mostNodes; k++ {
			b.x[b.nodes] = from + gap*float64(k)/float64(parts)
			b.nodes++
		}
	}
}

// beam assembles stiffness and mass of cubic beam elements.
func (r *Rotor) beam(b *beam) {
	*b = beam{}
	r.cut(b)
	add := func(band []float64, i, j int, v float64) {
		if i <= j {
			band[i*(bandAbove+1)+j-i] += v
		}
	}
	for e := range b.nodes - 1 {
		l := b.x[e+1] - b.x[e]
		k, m := r.Rigidity/(l*l*l), r.Line*l/420
		ks := [4][4]float64{{12, 6 * l, -12, 6 * l}, {6 * l, 4 * l * l, -6 * l, 2 * l * l}, {-12, -6 * l, 12, -6 * l}, {6 * l, 2 * l * l, -6 * l, 4 * l * l}}
		ms := [4][4]float64{{156, 22 * l, 54, -13 * l}, {22 * l, 4 * l * l, 13 * l, -3 * l * l}, {54, 13 * l, 156, -22 * l}, {-13 * l, -3 * l * l, -22 * l, 4 * l * l}}
		for i := range 4 {
			for j := range 4 {
				add(b.stiffness[:], 2*e+i, 2*e+j, k*ks[i][j])
				add(b.mass[:], 2*e+i, 2*e+j, m*ms[i][j])
			}
		}
	}
	for _, p := range r.Masses {
		add(b.mass[:], 2*b.node(p.At), 2*b.node(p.At), p.Mass)
	}
	for i, at := range r.Supports {
		b.held[i] = 2 * b.node(at)
		b.hold(b.held[i])
	}
}

// factored assembles a rotor and factors its stiffness; ok is false where it has none.
func (r *Rotor) factored(b *beam) (k blas64.TriangularBand, ok bool) {
	r.beam(b)
	return lapack64.Pbtrf(b.band(b.stiffness[:]))
}

func (b *beam) node(at float64) int {
	best := 0
	for i := range b.nodes {
		if math.Abs(b.x[i]-at) < math.Abs(b.x[best]-at) {
			best = i
		}
	}
	return best
}

// hold takes an unknown out: it stays zero.
func (b *beam) hold(at int) {
	for i := max(0, at-bandAbove); i <= at; i++ {
		b.stiffness[i*(bandAbove+1)+at-i], b.mass[i*(bandAbove+1)+at-i] = 0, 0
	}
	for k := range bandAbove + 1 {
		b.stiffness[at*(bandAbove+1)+k], b.mass[at*(bandAbove+1)+k] = 0, 0
	}
	b.stiffness[at*(bandAbove+1)] = 1
}

// times returns dst = M·x.
func (b *beam) times(dst, x []float64) {
	blas64.Sbmv(1, b.band(b.mass[:]), blas64.Vector{N: b.n(), Inc: 1, Data: x}, 0, blas64.Vector{N: b.n(), Inc: 1, Data: dst})
}

// solve overwrites x with K⁻¹·x for a factored stiffness.
func (b *beam) solve(k blas64.TriangularBand, x []float64) {
	lapack64.Pbtrs(k, blas64.General{Rows: b.n(), Cols: 1, Stride: 1, Data: x[:b.n()]})
}

// Critical returns the lowest critical speed of a rotor, in rad/s.
//
//	K·φ = ω²·M·φ
//
//	K, M  stiffness and mass of cubic beam elements, no longer than an eighth of the shaft, with the masses on it
//	φ     deflections and slopes, zero deflection at the bearings
//
// Holds for a straight shaft of one diameter on rigid bearings, slender against shear; the turning of the masses (gyroscopic
// effect) is left out, which lowers the figure for a thin impeller. Housings that give way lower it in truth. Not a number where the
// rotor has no rigidity or no mass.
//
// Source: shigley-2008, chapter 7-6. Tests: TestCriticalPublished, TestCriticalExact, TestCriticalBeamExact, TestCriticalBoundsLaw.
func (r *Rotor) Critical() float64 {
	var b beam
	k, ok := r.factored(&b)
	if !ok {
		return math.NaN()
	}
	n := b.n()
	var x, m [unknowns]float64
	for i := range n {
		x[i] = 1 + 0.37*float64(i%5)
	}
	x[b.held[0]], x[b.held[1]] = 0, 0
	last := 0.0
	for range 200 {
		b.times(m[:n], x[:n])
		copy(x[:n], m[:n])
		b.solve(k, x[:n])
		// Rayleigh's quotient of the new shape: xᵀ·K·x = xᵀ·m
		top := dot(x[:n], m[:n])
		b.times(m[:n], x[:n])
		squared := top / dot(x[:n], m[:n])
		if !(squared > 0) {
			return math.NaN()
		}
		if math.Abs(squared-last) <= 1e-13*squared {
			return math.Sqrt(squared)
		}
		last = squared
		scale := 1 / math.Sqrt(dot(x[:n], x[:n]))
		for i := range n {
			x[i] *= scale
		}
	}
	return math.Sqrt(last)
}

// RayleighBound returns a critical speed that is never below the lowest one, in rad/s.
//
//	ω² = g·Σ m·y/Σ m·y²
//
//	y  deflection under the weights, those beyond the bearings turned about, m
//
// Holds for any rotor: a shape that is not the true one is stiffer.
//
// Source: shigley-2008, eq. 7-23. Tests: TestCriticalPublished, TestCriticalBoundsLaw.
func (r *Rotor) RayleighBound() float64 {
	var b beam
	k, ok := r.factored(&b)
	if !ok {
		return math.NaN()
	}
	n := b.n()
	low, high := math.Min(r.Supports[0], r.Supports[1]), math.Max(r.Supports[0], r.Supports[1])
	var up, f, y, m [unknowns]float64
	for i := range b.nodes {
		switch x := b.x[i]; {
		case x < low-1e-12 || x > high+1e-12:
			up[2*i] = -1
		default:
			up[2*i] = 1
		}
	}
	b.times(f[:n], up[:n])
	copy(y[:n], f[:n])
	b.solve(k, y[:n])
	b.times(m[:n], y[:n])
	return math.Sqrt(dot(y[:n], f[:n]) / dot(y[:n], m[:n]))
}

// DunkerleyBound returns a critical speed that is never above the lowest one, in rad/s.
//
//	1/ω² = Σ 1/ω_i² = tr(K⁻¹·M)
//
//	ω_i  critical speeds, rad/s
//
// Holds for any rotor: all modes are in the sum, and only the first is asked for.
//
// Source: shigley-2008, eq. 7-32. Tests: TestCriticalPublished, TestCriticalBoundsLaw.
func (r *Rotor) DunkerleyBound() float64 {
	var b beam
	k, ok := r.factored(&b)
	if !ok {
		return math.NaN()
	}
	n := b.n()
	sum := 0.0
	var x, e [unknowns]float64
	for i := range n {
		clear(e[:n])
		e[i] = 1
		b.times(x[:n], e[:n])
		b.solve(k, x[:n])
		sum += x[i]
	}
	return 1 / math.Sqrt(sum)
}

func dot(a, b []float64) float64 {
	s := 0.0
	for i := range a {
		s += a[i] * b[i]
	}
	return s
}

// Deflection returns how far a force across the shaft moves the impeller, in m.
//
//	y = F·o²·(L + o)/(3·E·I)  overhung,  y = F·o²·(L − o)²/(3·E·I·L)  aft bearing behind the impeller
//
//	F    force, N
//	o    distance from the aft bearing to the impeller, m   [Shaft.Overhang]
//	L    distance between the bearings, m                   [Shaft.BearingSpan]
//	E·I  rigidity, N·m²
//
// Holds for rigid bearings without play.
//
// Source: shigley-2008, table A-9. Tests: TestDeflectionExact.
func (s *Shaft) Deflection(force, rigidity float64) float64 {
	l, o := s.BearingSpan.Value, s.Overhang.Value
	if s.Support == "stator" {
		return force * o * o * (l - o) * (l - o) / (3 * rigidity * l)
	}
	return force * o * o * (l + o) / (3 * rigidity)
}
