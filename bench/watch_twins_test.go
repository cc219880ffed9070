package bench

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"jetwright/numeric"
	"jetwright/quantity"
)

// slowLog is a made-up log of one row a second, with two columns of the winding's temperature, whose scatter
// hangs together from second to second.
type slowLog struct {
	w                  *Watcher
	at                 float64
	pull, first, other persistent
	got                []Alarm
}

func newSlow(rho float64, seed uint64, bound bool) *slowLog {
	random := rand.New(rand.NewPCG(seed, uint64(100*rho)))
	unit := quantity.MustUnit
	l := watchLayout()
	l.Columns[5] = Column{Name: "winding 2", Unit: unit("°C"), Channel: WindingTemperature}
	o := WatchOptions{Layout: l, Interval: 1, Diameter: 0.1, NozzleArea: 0.003, Density: 1000, Full: 1000}
	if bound {
		o.Bounds = []Bound{{Name: "winding temperature", Channel: WindingTemperature, Allowed: zeroC + 120, Zero: zeroC + 15}}
	}
	s := &slowLog{w: NewWatcher(o), pull: persistent{rho: rho, random: random}, first: persistent{rho: rho, random: random}, other: persistent{rho: rho, random: random}}
	s.run(10, 0, 0, 0)
	return s
}

// run writes some seconds at a power; the pull is off by a share and the second winding by some kelvin. It ends with
// the first alarm, and says after how many seconds.
func (s *slowLog) run(seconds int, power, share, kelvin float64) (told int) {
	for i := range seconds {
		s.at++
		speed := 1000 * math.Cbrt(power/50)
		pull := 5 + 100*math.Pow(speed/2000, 2)*(1+share+0.005*s.pull.next())
		line := fmt.Sprintf("%.0f,%.1f,%.0f,%.2f,%.2f,%.2f", s.at, power, speed, 40+0.3*s.first.next(), pull, 40+kelvin+0.3*s.other.next())
		a := s.w.Line(s.at, int(s.at)+1, []byte(line))
		s.got = append(s.got, a...)
		if len(a) > 0 {
			return i + 1
		}
	}
	return 0
}

// Two columns of one temperature that their limits explain raise nothing over hours, however their scatter
// hangs together; nor do coefficients within the 3 % that are let pass. Twice what limits explain, and
// a pull that falls by 6 %, are told within the run length for what they stand beyond the band.
func TestWatchApartSynthetic(t *testing.T) {
	for _, rho := range []float64{0, 0.5, 0.9} {
		var kelvins, falls []float64
		for seed := range uint64(10) {
			s := newSlow(rho, seed, true)
			for range 3 {
				for _, p := range []float64{400, 700, 1000} {
					s.run(300, p, 0.01, 3)
				}
			}
			if len(s.got) > 0 {
				t.Fatalf("ρ = %g, seed %d: a sound log raises %+v", rho, seed, s.got)
			}
			kelvins = append(kelvins, float64(s.run(600, 1000, 0.01, 8)))
			if len(s.got) != 1 || s.got[0].Kind != Disagreeing || s.got[0].Channel != WindingTemperature || !strings.Contains(s.got[0].What, `"winding 2"`) {
				t.Fatalf("ρ = %g, seed %d: %+v", rho, seed, s.got)
			}
			if d := s.w.Status().Doubts; len(d) != 1 || d[0].Kind != Disagreeing {
				t.Errorf("doubts %+v", d)
			}
			s = newSlow(rho, seed, false)
			s.run(300, 400, 0, 8) // no limit rests on it
			for _, p := range []float64{700, 1000, 400} {
				s.run(300, p, 0, 0)
			}
			if len(s.got) > 0 {
				t.Fatalf("ρ = %g, seed %d: a sound log raises %+v", rho, seed, s.got)
			}
			after := s.run(600, 400, -0.06, 0)
			if len(s.got) == 1 && strings.Contains(s.got[0].What, "static efficiency") { // it falls by 9 %
				after += s.run(600, 400, -0.06, 0)
			}
			falls = append(falls, float64(after))
			thrust := false
			for _, a := range s.got {
				thrust = thrust || strings.Contains(a.What, "the thrust coefficient stands -")
				if a.Kind != Moved || strings.Contains(a.What, "power coefficient") {
					t.Fatalf("ρ = %g, seed %d: %+v", rho, seed, s.got)
				}
			}
			if !thrust {
				t.Fatalf("ρ = %g, seed %d: %+v", rho, seed, s.got)
			}
		}
		mk, _ := numeric.MeanSD(kelvins)
		mf, _ := numeric.MeanSD(falls)
		// beyond the band by 4 K and 3 %, in standard deviations of what is left once the persistence is out, with
		// the most by which it may be overrated
		within := func(beyond float64) float64 {
			upper := math.Min(chartPersists, rho+2*chartMargin*math.Sqrt((1-rho*rho)/900))
			shift := math.Min(chartWild, beyond*(1-upper)/math.Sqrt((1-rho)*(1+upper)))
			fresh, err := newChart(chartLength)
			if err != nil {
				t.Fatal(err)
			}
			l, err := numeric.CusumRunLength(shift, fresh.K, fresh.H, 0)
			if err != nil {
				t.Fatal(err)
			}
			return l + 1
		}
		k, f := within(4/(0.3*math.Sqrt2)), within(0.03/0.005)
		t.Logf("ρ = %g: 8 K apart are told after %.1f s (%.1f s stated), a pull down by 6 %% after %.1f s (%.1f s stated)", rho, mk, k, mf, f)
		if mk > k || mf > f {
			t.Errorf("ρ = %g: too late", rho)
		}
	}
}
