package bench

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/mat"

	"jetwright/numeric"
)

// Rules of following. Our own.
const (
	followLeast = 60   // s of the day, outside of the stretch, that tell how a temperature follows its load
	followBlock = 1.0  // s, means that are compared
	followMost  = 2000 // means that are looked at
	followWide  = 5    // means in a row that must stray together
)

// followTimes are the time constants in s that a temperature may follow its load with, two at a time.
var followTimes = []float64{2, 6, 18, 54, 162, 486}

// strays tells by how much a value that stands still parts from where the load would have taken it:
// the temperature outside of the stretch is fitted by the load, delayed with two time constants, and
// a straight line in time; usual is the scatter of that fit over means of the same width.
//
//	T(t) = a + b·t + Σ_k c_k·u_k(t),  τ_k·du_k/dt = u − u_k
//
//	u    load as a share of its highest
//	τ_k  time constants, s
func strays(values, load []float64, step float64, span Span, value float64) (far, usual float64, ok bool) {
	per := max(1, int(math.Ceil(followBlock/step-1e-9)), (len(values)+followMost-1)/followMost)
	block := float64(per) * step
	n := len(values) / per
	t, y, u := make([]float64, 0, n), make([]float64, 0, n), make([]float64, 0, n)
	last := 0.0
	for k := 0; k+per <= len(values); k += per {
		sum, count, push, pushes := 0.0, 0.0, 0.0, 0.0
		for i := k; i < k+per; i++ {
			if v := values[i]; v == v {
				sum, count = sum+v, count+1
			}
			if v := load[i]; v == v {
				push, pushes = push+v, pushes+1
			}
		}
		if pushes > 0 {
			last = push / pushes
		}
		mean := math.NaN()
		if count > 0 {
			mean = sum / count
		}
		t, y, u = append(t, float64(k)*step+0.5*block), append(y, mean), append(u, last)
	}
	var out []int
	for k := range t {
		if y[k] == y[k] && (t[k] < span.From-block || t[k] > span.To+block) {
			out = append(out, k)
		}
	}
	if float64(len(out))*block < followLeast {
		return 0, 0, false
	}
	late := make([][]float64, len(followTimes))
	for j, tau := range followTimes {
		late[j] = make([]float64, len(t))
		keep := math.Exp(-block / tau)
		s := u[0]
		for k := range t {
			s = keep*s + (1-keep)*u[k]
			late[j][k] = s
		}
	}
	best := math.Inf(1)
	var fitted []float64
	for a := range late {
		for b := a + 1; b < len(late); b++ {
			columns := [][]float64{late[a], late[b]}
			design := mat.NewDense(len(out), 4, nil)
			want := mat.NewVecDense(len(out), nil)
			for i, k := range out {
				design.SetRow(i, []float64{1, t[k] / t[len(t)-1], columns[0][k], columns[1][k]})
				want.SetVec(i, y[k])
			}
			var x mat.VecDense
			if err := x.SolveVec(design, want); err != nil {
				continue
			}
			p := make([]float64, len(t))
			rest := 0.0
			for k := range t {
				p[k] = x.AtVec(0) + x.AtVec(1)*t[k]/t[len(t)-1] + x.AtVec(2)*columns[0][k] + x.AtVec(3)*columns[1][k]
			}
			for _, k := range out {
				rest += (y[k] - p[k]) * (y[k] - p[k])
			}
			if rest < best {
				best, fitted = rest, p
			}
		}
	}
	if fitted == nil {
		return 0, 0, false
	}
	// Means of several in a row, within and without.
	var usuals []float64
	for i := 0; i+followWide <= len(out); i++ {
		sum := 0.0
		for _, k := range out[i : i+followWide] {
			sum += y[k] - fitted[k]
		}
		usuals = append(usuals, math.Abs(sum/followWide))
	}
	sort.Float64s(usuals)
	usual = numeric.Quantile(usuals, 0.95)
	for k := range t {
		if t[k]-block < span.From || k+followWide > len(t) || t[k+followWide-1]+block > span.To {
			continue
		}
		sum := 0.0
		for i := k; i < k+followWide; i++ {
			sum += value - fitted[i]
		}
		far = math.Max(far, math.Abs(sum/followWide))
	}
	return far, usual, true
}
