package plan

import (
	"testing"

	"jetwright/bench"
)

// Two thermistors on one supply are one witness, whatever logs they are written to.
func TestSharedSupplyIsOneWitness(t *testing.T) {
	day := func(one, other string) *bench.Reduction {
		return &bench.Reduction{Tracks: []bench.Track{
			{Channel: bench.WindingTemperature, Source: "a.csv", Supply: one}, {Channel: bench.WindingTemperature, Source: "b.csv", Supply: other},
		}}
	}
	for _, c := range []struct {
		one, other string
		want       int
	}{{"", "", 2}, {"5 V", "5 V", 1}, {"5 V", "", 2}, {"5 V", "own battery", 2}} {
		m := &maker{Input: Input{Days: []*bench.Reduction{day(c.one, c.other)}}}
		s := Stop{}
		m.witness(&s, bench.WindingTemperature)
		if len(s.Sensors) != c.want || s.Single != (c.want < 2) {
			t.Errorf("%q and %q: %v, single %v", c.one, c.other, s.Sensors, s.Single)
		}
	}
}
