package bench

import (
	"math"
	"math/rand/v2"
	"testing"

	"jetwright/numeric"
)

// persistent is scatter of first order with the standard deviation 1.
type persistent struct {
	rho, x float64
	random *rand.Rand
}

func (p *persistent) next() float64 {
	p.x = p.rho*p.x + math.Sqrt(1-p.rho*p.rho)*p.random.NormFloat64()
	return p.x
}

// On scatter that hangs together a chart that learns as it goes tells no oftener than stated: runs of
// 1000 blocks, each begun without knowledge, at a level on the edge of the band, where it is worst. One that has
// learned tells of a shift within the run length of the integral equation, with a quarter for what it does not know.
func TestChartSynthetic(t *testing.T) {
	const runs, each, band = 300, 1000, 2.0
	for _, rho := range []float64{0, 0.5, 0.9} {
		random := rand.New(rand.NewPCG(1954, uint64(100*rho)))
		for _, length := range []float64{1e4, chartLength} {
			fresh, err := newChart(length)
			if err != nil {
				t.Fatal(err)
			}
			told, watched := 0, 0
			for range runs {
				c := fresh
				p := persistent{rho, random.NormFloat64(), random}
				for range each {
					out, known := c.take(band+p.next(), band)
					if known {
						watched++
					}
					if out {
						told++
						c.Start(0)
					}
				}
			}
			// one edge of two: half of the stated rate
			expected := 0.5 * float64(watched) / length
			t.Logf("ρ = %g, once in %.0g: %d in %d blocks, %.1f stated", rho, length, told, watched, expected)
			if watched < runs*each/4 || float64(told) > expected+3*math.Sqrt(expected)+1 {
				t.Errorf("ρ = %g: %d false alarms in %d blocks, %.1f stated", rho, told, watched, expected)
			}
		}
		// A shift beyond the band of one standard deviation of what is left once its persistence is out.
		c, err := newChart(chartLength)
		if err != nil {
			t.Fatal(err)
		}
		delays, wanted := make([]float64, 200), 0.0
		for i := range delays {
			c := c
			p := persistent{rho, random.NormFloat64(), random}
			for range each {
				c.learn(band + p.next())
			}
			upper, _ := c.ready()
			shift := math.Sqrt(0.5*c.one*(1+upper)) / (1 - upper)
			for {
				delays[i]++
				if told, _ := c.take(band+shift+p.next(), band); told {
					break
				}
			}
		}
		l, err := numeric.CusumRunLength(1, c.K, c.H, 0)
		if err != nil {
			t.Fatal(err)
		}
		wanted = l
		mean, sd := numeric.MeanSD(delays)
		t.Logf("ρ = %g: a shift is told after %.1f blocks (sd %.1f), %.1f by the integral equation", rho, mean, sd, wanted)
		if mean > 1.25*wanted+3*sd/math.Sqrt(float64(len(delays))) {
			t.Errorf("ρ = %g: a shift takes %.1f blocks, %.1f stated", rho, mean, wanted)
		}
	}
}
