package bench

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Days whose pull differs by 2 % from plateau to plateau, more than any scatter within one says: the spread is found,
// and the 90 % intervals of the pulls hold nine times of ten, where without it they hold far less. Where
// plateaus do not differ, it is told hardly oftener than one day in twenty.
func TestRepeatsSynthetic(t *testing.T) {
	const days = 40
	for _, spread := range []float64{0, 0.02} {
		inside, without, all, told := 0, 0, 0, 0
		square := 0.0
		for seed := range uint64(days) {
			d := usual()
			d.seed = 100 + seed
			d.powers = []float64{600, 1100, 1700, 2400, 3100, -2400, -1700, -1100, -600}
			random := rand.New(rand.NewPCG(seed, 55))
			own := make([]float64, len(d.powers))
			for i := range own {
				own[i] = spread * random.NormFloat64()
			}
			d.after = func(run float64, c Channel, v float64) float64 {
				i := int(math.Floor((run - d.zero) / d.hold))
				if c != Thrust || i < 0 || i >= len(own) {
					return v
				}
				return v * (1 + own[i])
			}
			r, err := Reduce(d.sources(), ReduceOptions{Run: "day"})
			if err != nil {
				t.Fatal(err)
			}
			if !r.Repeats.Known || r.Repeats.Levels != 4 || r.Repeats.Plateaus != 8 || r.Repeats.Freedom != 3 {
				t.Fatalf("seed %d: %+v", seed, r.Repeats)
			}
			if r.Repeats.Spread > 0 {
				told++
			}
			square += r.Repeats.Each * r.Repeats.Each / days
			for i, p := range r.Plateaus {
				f, ok := p.Figure(Thrust)
				if !ok || len(r.Plateaus) != len(d.powers) {
					t.Fatalf("seed %d: %d plateaus", seed, len(r.Plateaus))
				}
				var with, less []Component
				for _, c := range f.Budget {
					if c.Shared == f.SharedName() {
						continue // these days have a true scale
					}
					with = append(with, c)
					if c.Name != "between plateaus" {
						less = append(less, c)
					}
				}
				off := math.Abs(f.Value - 1.4*math.Pow(math.Abs(d.powers[i]), 2.0/3))
				all++
				if u, nu := Combined(with); off < CoverageFactor(0.90, nu)*u {
					inside++
				}
				if u, nu := Combined(less); off < CoverageFactor(0.90, nu)*u {
					without++
				}
			}
		}
		share, bare := float64(inside)/float64(all), float64(without)/float64(all)
		t.Logf("%.0f %% between plateaus: told on %d of %d days, one plateau against another %.2f %%; 90 %% intervals hold %.1f %%, without it %.1f %%",
			100*spread, told, days, 100*math.Sqrt(square), 100*share, 100*bare)
		if spread == 0 {
			if told > 6 { // 2 by chance, and four more
				t.Errorf("told on %d days where nothing differs", told)
			}
			continue
		}
		if told < days*3/4 || share < 0.85 || bare > 0.7 || math.Abs(math.Sqrt(square)-spread) > 0.005 {
			t.Error("the spread between plateaus is not what was put in")
		}
	}
	// Two per cent between plateaus: twice and a half of that is told by four of each.
	r := Repeats{Known: true, Each: 0.02}
	if n, ok := r.Resolve(0.05); !ok || n != 4 {
		t.Errorf("%d plateaus of each", n)
	}
	if _, ok := (Repeats{}).Resolve(0.05); ok {
		t.Error("without repeats something is resolved")
	}
}
