//go:build unix

package heat

import (
	"math"
	"math/rand/v2"
	"syscall"
	"testing"

	"jetwright/numeric"
	"jetwright/quantity"
)

// processor is the processor time that this process has had, in s: on a machine that is shared the clock
// on the wall says little.
func processor() float64 {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return math.NaN()
	}
	return float64(u.Utime.Sec+u.Stime.Sec) + 1e-6*float64(u.Utime.Usec+u.Stime.Usec)
}

func BenchmarkFeed(b *testing.B) {
	s := system(b, Default(parts(b)))
	f := dear(s)
	n := Now{Temperatures: make([]float64, len(s.Names)), Heat: make([]float64, len(s.Names))}
	for range b.N {
		f(&n)
	}
}

// One hour, twenty legs, a row each second, the feed asked at every step.
func BenchmarkHour(b *testing.B) {
	s := system(b, Default(parts(b)))
	r := NewRunner(s)
	d := ride(s, dear(s))
	var rec Record
	b.ReportAllocs()
	from := processor()
	for range b.N {
		if err := r.Run(&d, &rec); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric((processor()-from)*1e3/float64(b.N), "processor-ms/op")
	b.ReportMetric(float64(rec.Steps), "steps")
	b.ReportMetric(float64(rec.Calls), "calls")
}

// The same hour of 128 draws of the parts, on all processors.
func BenchmarkHour128(b *testing.B) {
	schema, err := quantity.SchemaOf(&Parts{})
	if err != nil {
		b.Fatal(err)
	}
	middle, fields := parts(b), schema.Fields()
	b.ReportAllocs()
	from := processor()
	defer func() { b.ReportMetric((processor()-from)*1e3/float64(b.N), "processor-ms/op") }()
	for range b.N {
		numeric.Parallel(128, func(i int) {
			rnd := rand.New(rand.NewPCG(uint64(i), 5))
			p := middle
			for _, f := range fields {
				if f.Kind == quantity.KindNumber && f.Assume != nil {
					schema.Set(&p, f, f.Assume.Low+(f.Assume.High-f.Assume.Low)*rnd.Float64())
				}
			}
			s, err := NewSystem(Default(p))
			if err != nil {
				b.Error(err)
				return
			}
			d := ride(s, dear(s))
			var rec Record
			if err := NewRunner(s).Run(&d, &rec); err != nil {
				b.Error(err)
			}
		})
	}
}

func BenchmarkSteady(b *testing.B) {
	s := system(b, Default(parts(b)))
	r := NewRunner(s)
	b.ReportAllocs()
	for range b.N {
		if _, err := r.Steady(nil, nil, nil, nil, 0); err != nil {
			b.Fatal(err)
		}
	}
}
