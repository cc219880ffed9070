package numeric

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// system is equations for the tests.
type system struct {
	rate  func(dst, y []float64, t float64)
	slope func(dst, y []float64, t float64)
	plain bool
}

func (s system) Rate(dst, y []float64, t float64)  { s.rate(dst, y, t) }
func (s system) Slope(dst, y []float64, t float64) { s.slope(dst, y, t) }
func (s system) Linear() bool                      { return s.plain }

// The conditions of order 4 of the weights, of order 3 of the embedded ones, stage order 2, and an
// amplification that dies at infinity and nowhere on the imaginary axis is above 1.
func TestStiffExact(t *testing.T) {
	c := stiffTimes
	var ac, ac2, aac [StiffStages]float64
	for i := range StiffStages {
		sum := 0.0
		for j := range StiffStages {
			sum += stiffA[i][j]
			ac[i] += stiffA[i][j] * c[j]
			ac2[i] += stiffA[i][j] * c[j] * c[j]
		}
		if math.Abs(sum-c[i]) > 1e-14 || math.Abs(ac[i]-c[i]*c[i]/2) > 1e-14 {
			t.Errorf("stage %d: %g for %g, %g", i, sum, c[i], ac[i])
		}
	}
	for i := range StiffStages {
		for j := range StiffStages {
			aac[i] += stiffA[i][j] * ac[j]
		}
	}
	total := func(b [StiffStages]float64, f func(i int) float64) float64 {
		s := 0.0
		for i, w := range b {
			s += w * f(i)
		}
		return s
	}
	for name, b := range map[string][StiffStages]float64{"weights": stiffA[StiffStages-1], "embedded": stiffEmbedded} {
		conditions := []float64{
			total(b, func(int) float64 { return 1 }) - 1,
			total(b, func(i int) float64 { return c[i] }) - 1.0/2,
			total(b, func(i int) float64 { return c[i] * c[i] }) - 1.0/3,
			total(b, func(i int) float64 { return ac[i] }) - 1.0/6,
			total(b, func(i int) float64 { return c[i] * c[i] * c[i] }) - 1.0/4,
			total(b, func(i int) float64 { return c[i] * ac[i] }) - 1.0/8,
			total(b, func(i int) float64 { return ac2[i] }) - 1.0/12,
			total(b, func(i int) float64 { return aac[i] }) - 1.0/24,
		}
		n := len(conditions)
		if name == "embedded" {
			n = 4
		}
		for i, x := range conditions[:n] {
			if math.Abs(x) > 1e-14 {
				t.Errorf("%s, condition %d: off by %g", name, i+1, x)
			}
		}
	}
	grow := func(z complex128) complex128 {
		var k [StiffStages]complex128
		for i := range StiffStages {
			y := complex(1, 0)
			for j := range i {
				y += complex(stiffA[i][j], 0) * k[j]
			}
			k[i] = z * y / (1 - complex(stiffA[i][i], 0)*z)
		}
		y := complex(1, 0)
		for i, w := range stiffA[StiffStages-1] {
			y += complex(w, 0) * k[i]
		}
		return y
	}
	if r := grow(-1e9); math.Abs(real(r)) > 1e-7 {
		t.Errorf("at infinity %g is left", r)
	}
	for w := 1e-3; w < 1e5; w *= 1.02 {
		if r := grow(complex(0, w)); math.Hypot(real(r), imag(r)) > 1+1e-12 {
			t.Errorf("at %gi it grows to %g", w, r)
		}
	}
}

// y' = −50·(y − cos t) − sin t has the solution cos t + c·e^(−50t): the error falls by 2⁴ where the
// step is halved, and the second unknown, algebraic, stays its square.
func TestStiffOrderExact(t *testing.T) {
	p := system{
		rate: func(d, y []float64, t float64) {
			d[0] = -50*(y[0]-math.Cos(t)) - math.Sin(t)
			d[1] = y[0]*y[0] - y[1]
		},
		slope: func(d, y []float64, _ float64) { d[0], d[1], d[2], d[3] = -50, 0, 2*y[0], -1 },
	}
	var errs []float64
	for _, n := range []int{40, 80, 160} {
		s := NewStiffStepper([]float64{1, 0})
		s.Floor = 1e-14
		if err := s.Start(p, 0, []float64{1.5, 7}); err != nil {
			t.Fatal(err)
		}
		if v := s.Values(); math.Abs(v[1]-2.25) > 1e-12 {
			t.Fatalf("the algebraic unknown starts at %g", v[1])
		}
		if k := s.Slopes(); math.Abs(k[1]-2*1.5*k[0]) > 1e-9 {
			t.Fatalf("its slope starts at %g", k[1])
		}
		worst := 0.0
		for range n {
			s.Begin()
			if _, ok := s.Try(p, 1/float64(n)); !ok {
				t.Fatal("a step was not solved")
			}
			s.Accept()
			y := math.Cos(s.Time()) + 0.5*math.Exp(-50*s.Time())
			v := s.Values()
			worst = math.Max(worst, math.Max(math.Abs(v[0]-y), math.Abs(v[1]-v[0]*v[0])))
		}
		errs = append(errs, worst)
	}
	for i := 1; i < len(errs); i++ {
		if order := math.Log2(errs[i-1] / errs[i]); order < 3.6 || order > 5 {
			t.Errorf("order %.2f from errors %g", order, errs)
		}
	}
}

// Robertson's reaction at t = 40: 0.7158270687, 9.185534765e-6, 0.2841637457. FROM MEMORY (medium), and
// COMPUTED the same with SciPy's Radau at a tolerance of 1e-12.
func TestRobertsonPublished(t *testing.T) {
	p := system{
		rate: func(d, y []float64, _ float64) {
			a, b, c := 0.04*y[0], 1e4*y[1]*y[2], 3e7*y[1]*y[1]
			d[0], d[1], d[2] = -a+b, a-b-c, c
		},
		slope: func(d, y []float64, _ float64) {
			copy(d, []float64{-0.04, 1e4 * y[2], 1e4 * y[1], 0.04, -1e4*y[2] - 6e7*y[1], -1e4 * y[1], 0, 6e7 * y[1], 0})
		},
	}
	s := NewStiffStepper([]float64{1, 1, 1})
	s.Floor = 1e-15
	if err := s.Start(p, 0, []float64{1, 0, 0}); err != nil {
		t.Fatal(err)
	}
	const tolerance = 1e-11
	h, steps := 1e-6, 0
	for begun := false; s.Time() < 40; {
		h = math.Min(h, 40-s.Time())
		if !begun {
			s.Begin()
		}
		worst, ok := s.Try(p, h)
		if begun = !ok || worst > tolerance; begun {
			h *= 0.5
			continue
		}
		s.Accept()
		steps++
		h *= math.Min(3, 0.85*math.Pow(tolerance/(worst+1e-300), 0.25))
	}
	v := s.Values()
	for i, want := range []float64{0.7158270687, 9.185534765e-6, 0.2841637457} {
		if math.Abs(v[i]/want-1) > 2e-9 {
			t.Errorf("y%d = %.12g, want %.10g (%d steps)", i+1, v[i], want, steps)
		}
	}
}

// What the equations keep, the steps keep: heat in closed random networks, and the integral of what
// flows out of open ones.
func TestStiffLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		n := 2 + r.IntN(6)
		mass, y := make([]float64, n), make([]float64, n)
		a := make([]float64, n*n)
		for i := range mass {
			mass[i] = math.Exp(8 * r.Float64())
			y[i] = 280 + 50*r.Float64()
			for j := range i {
				g := math.Exp(8*r.Float64() - 4)
				a[i*n+j], a[j*n+i] = g, g
				a[i*n+i] -= g
				a[j*n+j] -= g
			}
		}
		a[0] -= 3 // the first node loses heat to zero degrees
		p := system{plain: true, rate: func(d, y []float64, _ float64) {
			for i := range d {
				d[i] = 0
				for j, v := range y {
					d[i] += a[i*n+j] * v
				}
			}
		}, slope: func(d, _ []float64, _ float64) { copy(d, a) }}
		s := NewStiffStepper(mass)
		if err := s.Start(p, 0, y); err != nil {
			t.Fatal(err)
		}
		start, out := 0.0, 0.0
		for i := range y {
			start += mass[i] * y[i]
		}
		var g [StiffStages]float64
		for range 20 {
			s.Begin()
			if _, ok := s.Try(p, math.Exp(8*r.Float64()-4)); !ok {
				t.Fatal("a step was not solved")
			}
			for i := range g {
				_, v := s.Stage(i)
				g[i] = 3 * v[0]
			}
			out += s.Integral(&g)
			s.Accept()
		}
		end := 0.0
		for i, v := range s.Values() {
			end += mass[i] * v
		}
		if math.Abs(start-end-out) > 1e-11*start {
			t.Fatalf("of %g, %g is left and %g went: %g is missing", start, end, out, start-end-out)
		}
	})
}

func TestCubicExact(t *testing.T) {
	f := func(u float64) float64 { return 1 + u*(8+u*(-22+u*13)) }
	slope := func(u float64) float64 { return 8 + u*(-44+u*39) }
	c := Cubic{f(0), f(1), slope(0), slope(1)}
	for u := 0.0; u <= 1; u += 0.125 {
		if math.Abs(c.At(u)-f(u)) > 1e-13 {
			t.Errorf("at %g: %g, want %g", u, c.At(u), f(u))
		}
	}
	top := (44 - math.Sqrt(1936-4*39*8)) / 78
	if y, u := c.Peak(); math.Abs(u-top) > 1e-13 || math.Abs(y-f(top)) > 1e-13 {
		t.Errorf("peak %g at %g, want %g at %g", y, u, f(top), top)
	}
	if u, ok := c.Rises(1.5); !ok || math.Abs(f(u)-1.5) > 1e-13 || u > top {
		t.Errorf("rises to 1.5 at %g, %v", u, ok)
	}
	if u, ok := c.Rises(f(top) + 1e-9); ok {
		t.Errorf("rises above its peak at %g", u)
	}
	// from above it falls below a level and comes up again at the end
	if u, ok := (Cubic{2, 2, -6, 6}).Rises(1.9); !ok || u < 0.5 {
		t.Errorf("comes up at %g, %v", u, ok)
	}
	if _, ok := (Cubic{2, 1, -1, -1}).Rises(1.5); ok {
		t.Error("a fall was taken for a rise")
	}
}

func TestLUExact(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for n := 1; n <= 30; n++ {
		f := NewLU(n)
		a, x, b := make([]float64, n*n), make([]float64, n), make([]float64, n)
		for i := range a {
			a[i] = r.NormFloat64()
		}
		if n > 1 {
			a[0] = 0
		}
		copy(f.Matrix(), a)
		for i := range x {
			x[i] = r.NormFloat64()
		}
		for i := range b {
			for j := range x {
				b[i] += a[i*n+j] * x[j]
			}
		}
		if !f.Factor() {
			t.Fatal("singular")
		}
		f.Solve(b)
		for i := range x {
			if math.Abs(b[i]-x[i]) > 1e-9 {
				t.Errorf("%d unknowns: %g, want %g", n, b[i], x[i])
			}
		}
	}
	f := NewLU(2)
	copy(f.Matrix(), []float64{1, 2, 2, 4})
	if f.Factor() {
		t.Error("a singular matrix was split")
	}
	if !RisingAll(2, []float64{2, -1, -1, 2}) || RisingAll(2, []float64{1, -2, -2, 1}) || RisingAll(1, []float64{0}) {
		t.Error("rising is not told from falling")
	}
}
