package desk

import (
	"testing"

	"jetwright/bench"
)

// Two sensors of one quantity are told of where one error can make both wrong: one supply by its typed name, or one log.
func TestSharedSensorsExact(t *testing.T) {
	track := func(c bench.Channel, source, supply string) bench.Track {
		return bench.Track{Channel: c, Source: source, Supply: supply}
	}
	w := bench.WindingTemperature
	for _, c := range []struct {
		tracks []bench.Track
		want   int
	}{
		{[]bench.Track{track(w, "a.csv", ""), track(w, "b.csv", "")}, 0},
		{[]bench.Track{track(w, "a.csv", "5 V"), track(w, "b.csv", "5 V")}, 1},
		{[]bench.Track{track(w, "a.csv", "5 V"), track(w, "b.csv", "own")}, 0},
		{[]bench.Track{track(w, "a.csv", ""), track(w, "a.csv", "")}, 1},
		{[]bench.Track{track(w, "a.csv", "5 V"), track(bench.BridgeTemperature, "b.csv", "5 V")}, 0},
	} {
		if got := shared(&bench.Reduction{Tracks: c.tracks}); len(got) != c.want {
			t.Errorf("%+v: %+v", c.tracks, got)
		}
	}
}
