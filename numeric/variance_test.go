package numeric

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// JCGM 100:2008, H.5: a reference voltage on ten days, five readings a day. Daily means and
// standard deviations FROM MEMORY (they give every figure that the Guide prints); digits beyond those COMPUTED.
func TestOneWayPublished(t *testing.T) {
	means := []float64{172, 116, 13, 144, 106, 31, 60, 125, 163, 41} // µV above 10 V
	sds := []float64{60, 77, 111, 101, 67, 93, 80, 73, 88, 86}
	var days []Group
	for i := range means {
		days = append(days, Group{means[i], sds[i], 5})
	}
	v, err := OneWay(days, 0.05)
	if err != nil {
		t.Fatal(err)
	}
	nearTo(t, "H.5 mean", v.Mean, 97.1, 1e-9) // published 10.000 097 V
	nearTo(t, "H.5 s of the means", math.Sqrt(v.BetweenSquare/5), 57.0895, 5e-5)
	nearTo(t, "H.5 s_a", math.Sqrt(v.BetweenSquare), 127.656, 5e-4)
	nearTo(t, "H.5 s_b", v.WithinSpread, 84.887, 5e-4)
	nearTo(t, "H.5 F", v.F, 2.26152, 5e-6)
	nearTo(t, "F.95(9, 40)", distuv.F{D1: 9, D2: 40}.Quantile(0.95), 2.12403, 5e-6)
	nearTo(t, "H.5 between days", v.BetweenSpread, 42.639, 5e-4)
	if !v.Differ || v.BetweenFreedom != 9 || v.WithinFreedom != 40 {
		t.Errorf("days do not differ: %+v", v)
	}
	nearTo(t, "H.5 u", v.U, 18.0533, 5e-5) // published 18 µV with 9 degrees of freedom
	nearTo(t, "H.5 ν", v.Freedom, 9, 0)
	pooled, err := OneWay(days, 0.025) // at 2.5 % the Guide finds no difference
	if err != nil {
		t.Fatal(err)
	}
	if pooled.Differ {
		t.Error("at 2.5 % the days differ")
	}
	nearTo(t, "H.5 u, pooled", pooled.U, 13.3232, 5e-5)
	nearTo(t, "H.5 ν, pooled", pooled.Freedom, 49, 0)

	// Rail, six rails by three travel times: R's nlme, run with its data (COMPUTED); its book
	// prints 24.805 and 4.0208.
	rails := byGroup(column(t, "nlme_rail.csv", 0), column(t, "nlme_rail.csv", 1))
	v, err = OneWay(rails, 0.05)
	if err != nil {
		t.Fatal(err)
	}
	nearTo(t, "Rail mean", v.Mean, 66.5, 1e-9)
	nearTo(t, "Rail u", v.U, 10.1710373, 5e-8)
	nearTo(t, "Rail between", v.BetweenSpread, 24.80546531, 5e-8) // found there by a search
	nearTo(t, "Rail within", v.WithinSpread, 4.02077936, 5e-9)
	nearTo(t, "Rail mean square between", v.BetweenSquare, 1862.1, 5e-9)
	nearTo(t, "Rail mean square within", v.WithinSquare, 16.16667, 5e-6)
	nearTo(t, "Rail F", v.F, 115.1814, 5e-5)

	// Resistivity of silicon, five instruments by five: NIST StRD SiRstv, certified values SEEN.
	v, err = OneWay(byGroup(column(t, "strd_sirstv.csv", 0), column(t, "strd_sirstv.csv", 1)), 0.05)
	if err != nil {
		t.Fatal(err)
	}
	nearTo(t, "SiRstv mean square between", v.BetweenSquare, 1.27865654e-2, 1e-13)
	nearTo(t, "SiRstv mean square within", v.WithinSquare, 1.0831828e-2, 1e-13)
	nearTo(t, "SiRstv F", v.F, 1.18046237440255, 1e-11)
	nearTo(t, "SiRstv residual", v.WithinSpread, 0.104076068334656, 1e-13)
	if v.Differ {
		t.Error("the instruments of SiRstv differ")
	}

	// Chick weights by six feeds, groups of 10 to 14: R's datasets, data FROM MEMORY; they give the
	// sums of squares, F and probability that R's own documentation prints.
	var feeds []Group
	for _, x := range [][]float64{
		{179, 160, 136, 227, 217, 168, 108, 124, 143, 140},
		{309, 229, 181, 141, 260, 203, 148, 169, 213, 257, 244, 271},
		{243, 230, 248, 327, 329, 250, 193, 271, 316, 267, 199, 171, 158, 248},
		{423, 340, 392, 339, 341, 226, 320, 295, 334, 322, 297, 318},
		{325, 257, 303, 315, 380, 153, 263, 242, 206, 344, 258},
		{368, 390, 379, 260, 404, 318, 352, 359, 216, 222, 283, 332},
	} {
		feeds = append(feeds, GroupOf(x))
	}
	v, err = OneWay(feeds, 0.05)
	if err != nil {
		t.Fatal(err)
	}
	nearTo(t, "feeds, between", v.BetweenSquare*v.BetweenFreedom, 231129, 0.5)
	nearTo(t, "feeds, within", v.WithinSquare*v.WithinFreedom, 195556, 0.5)
	nearTo(t, "feeds, F", v.F, 15.37, 0.006)
	nearTo(t, "feeds, probability", v.Probability, 5.94e-10, 0.006e-10)

	for _, bad := range [][]Group{nil, {{1, 1, 5}}, {{1, 0, 1}, {2, 0, 1}}, {{1, 1, 0}, {1, 1, 3}}, {{math.NaN(), 1, 3}, {1, 1, 3}}} {
		if v, err := OneWay(bad, 0.05); err == nil {
			t.Errorf("%v gives %+v", bad, v)
		}
	}
}

func byGroup(key, x []float64) []Group {
	values := map[float64][]float64{}
	var order []float64
	for i, k := range key {
		if values[k] == nil {
			order = append(order, k)
		}
		values[k] = append(values[k], x[i])
	}
	var out []Group
	for _, k := range order {
		out = append(out, GroupOf(values[k]))
	}
	return out
}

// Over groups of unequal size that do differ, 90 % intervals of the mean hold nine times of ten, and
// the two spreads come out; where they do not, F passes its bound once in twenty.
func TestOneWayLaw(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 5))
	const sets = 4000
	sizes := []int{3, 5, 8, 4, 6, 12}
	for _, between := range []float64{0, 3} {
		in, differ, b2, w2 := 0, 0, 0.0, 0.0
		for range sets {
			var groups []Group
			for _, n := range sizes {
				level := 10 + between*random.NormFloat64()
				x := make([]float64, n)
				for i := range x {
					x[i] = level + random.NormFloat64()
				}
				groups = append(groups, GroupOf(x))
			}
			v, err := OneWay(groups, 0.05)
			if err != nil {
				t.Fatal(err)
			}
			if v.Differ {
				differ++
			}
			k := distuv.StudentsT{Sigma: 1, Nu: v.Freedom}.Quantile(0.95)
			if math.Abs(v.Mean-10) < k*v.U {
				in++
			}
			b2 += v.BetweenSpread * v.BetweenSpread / sets
			w2 += v.WithinSquare / sets
		}
		share := float64(in) / sets
		t.Logf("between %g: covered %.3f, differ %.3f, spreads² %.3f and %.3f", between, share, float64(differ)/sets, b2, w2)
		nearTo(t, "covered", share, 0.90, 0.02)
		nearTo(t, "within", w2, 1, 0.02)
		if between == 0 {
			nearTo(t, "differ by chance", float64(differ)/sets, 0.05, 0.014) // 4 standard errors
			continue
		}
		nearTo(t, "between", b2, 9, 9*4*math.Sqrt(2.0/5/sets))
	}
}

// How many of each kind tell a difference of 0.5 and 0.8 standard deviations at 5 % four times of five:
// 64 and 26, Cohen (1988), FROM MEMORY, high; of one, 17.
func TestRepeatsForPublished(t *testing.T) {
	for d, want := range map[float64]int{0.5: 64, 0.8: 26, 1: 17} {
		if n, ok := RepeatsFor(1, d, 0.05, 0.8); !ok || n != want {
			t.Errorf("%d for %g, want %d", n, d, want)
		}
	}
	if n, ok := RepeatsFor(1, 1e-6, 0.05, 0.8); ok {
		t.Errorf("%d are enough", n)
	}
	if n, ok := RepeatsFor(0, 1, 0.05, 0.8); !ok || n != 2 {
		t.Errorf("%d where nothing scatters", n)
	}
}
