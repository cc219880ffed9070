package blade

import "math"

// mixer speeds up the search for a station behind a row (Anderson's mixing over the last few rounds). It
// works on the velocities, relative, and the radii, relative; what it proposes is kept within a fifth of
// what the equilibrium says, and where it would not, the plain step is taken.
type mixer struct {
	kept             int
	at, point, step  [2 * MaxRadii]float64 // last start, last start that was kept, and its step
	points, residues [mixed][2 * MaxRadii]float64
	turn             int
	has              bool
}

const mixed = 4

func pack(x *[2 * MaxRadii]float64, s *Station, n int) {
	copy(x[:n], s.Meridional[:n])
	copy(x[n:2*n], s.Radius[:n])
}

// start tells where the search begins.
func (m *mixer) start(s *Station, n int) { pack(&m.at, s, n) }

// next takes the equilibrium that came out of the last start and moves it to a better start.
func (m *mixer) next(s *Station, n int) {
	var out, f [2 * MaxRadii]float64
	pack(&out, s, n)
	size := 2 * n
	for i := range size {
		f[i] = out[i] - m.at[i]
	}
	if m.has {
		k := m.turn % mixed
		for i := range size {
			m.points[k][i] = m.at[i] - m.point[i]
			m.residues[k][i] = f[i] - m.step[i]
		}
		m.turn++
		m.kept = min(m.kept+1, mixed)
	}
	m.point, m.step, m.has = m.at, f, true
	if m.kept > 0 {
		var a [mixed][mixed + 1]float64
		for k := range m.kept {
			for l := range m.kept {
				for i := range size {
					w := 1 / (out[i] * out[i])
					a[k][l] += m.residues[k][i] * m.residues[l][i] * w
				}
			}
			for i := range size {
				a[k][mixed] += m.residues[k][i] * f[i] / (out[i] * out[i])
			}
			a[k][k] *= 1 + 1e-12
		}
		if g, ok := small(&a, m.kept); ok {
			good := true
			var better [2 * MaxRadii]float64
			for i := range size {
				x := out[i]
				for k := range m.kept {
					x -= g[k] * (m.points[k][i] + m.residues[k][i])
				}
				better[i] = x
				good = good && math.Abs(x-out[i]) < 0.2*out[i]
			}
			for i := n + 1; i < size; i++ {
				good = good && better[i] > better[i-1]
			}
			if good {
				copy(s.Meridional[:n], better[:n])
				copy(s.Radius[:n], better[n:size])
			}
		}
	}
	pack(&m.at, s, n)
}

// small solves up to four equations by elimination with pivoting.
func small(a *[mixed][mixed + 1]float64, n int) (x [mixed]float64, ok bool) {
	for c := range n {
		p := c
		for r := c + 1; r < n; r++ {
			if math.Abs(a[r][c]) > math.Abs(a[p][c]) {
				p = r
			}
		}
		if !(math.Abs(a[p][c]) > 0) {
			return x, false
		}
		a[c], a[p] = a[p], a[c]
		for r := c + 1; r < n; r++ {
			f := a[r][c] / a[c][c]
			for k := c; k < n; k++ {
				a[r][k] -= f * a[c][k]
			}
			a[r][mixed] -= f * a[c][mixed]
		}
	}
	for c := n - 1; c >= 0; c-- {
		x[c] = a[c][mixed]
		for k := c + 1; k < n; k++ {
			x[c] -= a[c][k] * x[k]
		}
		x[c] /= a[c][c]
	}
	return x, true
}
