package numeric

import "math"

// LU is a small dense matrix in triangles, rows exchanged by size. It is used again and again
// without allocating.
type LU struct {
	n     int
	a     []float64 // row by row: unit lower triangle below, upper triangle above
	pivot []int32
}

// NewLU makes room for n unknowns.
func NewLU(n int) *LU { return &LU{n: n, a: make([]float64, n*n), pivot: make([]int32, n)} }

// Matrix is the room of the matrix, row by row, to be filled before Factor.
func (f *LU) Matrix() []float64 { return f.a }

// Factor splits what Matrix holds; ok is false where it is singular or not finite.
func (f *LU) Factor() (ok bool) {
	n, a := f.n, f.a
	for k := range n {
		best, at := math.Abs(a[k*n+k]), k
		for i := k + 1; i < n; i++ {
			if v := math.Abs(a[i*n+k]); v > best {
				best, at = v, i
			}
		}
		if !(best > 0) || math.IsInf(best, 0) {
			return false
		}
		f.pivot[k] = int32(at)
		top := a[k*n : k*n+n]
		if at != k {
			other := a[at*n : at*n+n]
			for j := range top {
				top[j], other[j] = other[j], top[j]
			}
		}
		inverse := 1 / top[k]
		for i := k + 1; i < n; i++ {
			row := a[i*n : i*n+n]
			if row[k] == 0 {
				continue
			}
			m := row[k] * inverse
			row[k] = m
			r, t := row[k+1:], top[k+1:]
			for j, v := range t {
				r[j] -= m * v
			}
		}
	}
	return true
}

// Solve overwrites b with the solution.
func (f *LU) Solve(b []float64) {
	n, a := f.n, f.a
	for k, p := range f.pivot {
		if int(p) != k {
			b[k], b[p] = b[p], b[k]
		}
	}
	for i := 1; i < n; i++ {
		s := b[i]
		for j, v := range a[i*n : i*n+i] {
			s -= v * b[j]
		}
		b[i] = s
	}
	for i := n - 1; i >= 0; i-- {
		s := b[i]
		row := a[i*n : i*n+n]
		for j := i + 1; j < n; j++ {
			s -= row[j] * b[j]
		}
		b[i] = s / row[i]
	}
}

// RisingAll tells whether a matrix of positive diagonal and no positive element beside it has an
// inverse without a negative element: then every unknown rises with every right side, and the way
// there is stable. Elimination without exchange keeps every pivot positive just then. The matrix
// is overwritten.
func RisingAll(n int, a []float64) bool {
	for k := range n {
		top := a[k*n : k*n+n]
		if !(top[k] > 0) {
			return false
		}
		for i := k + 1; i < n; i++ {
			row := a[i*n : i*n+n]
			m := row[k] / top[k]
			for j := k + 1; j < n; j++ {
				row[j] -= m * top[j]
			}
		}
	}
	return true
}
