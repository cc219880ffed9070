package bench

import (
	"fmt"
	"math"
)

// twin is a second column of a channel that is watched: the two should agree.
type twin struct {
	first     *watched
	column    int
	sum       float64 // over the running second
	count     int
	apart     float64 // second less first, over the latest second
	fresh     bool    // both had values in it
	zero      float64 // of two pulls at rest
	zeroCount int
	chart     chart
}

func (w *Watcher) addTwin(first *watched, column int) {
	w.twins = append(w.twins, &twin{first: first, column: column})
}

func (k *twin) value(v float64) {
	if v == v {
		k.sum += v
		k.count++
	}
}

// second ends a second, before the first column's is ended.
func (k *twin) second() {
	k.fresh = k.count > 0 && k.first.count > 0
	if k.fresh {
		k.apart = k.sum/float64(k.count) - k.first.sum/float64(k.first.count)
	}
	k.sum, k.count = 0, 0
}

// compare charts how far two columns of a channel are apart, while the load stands, against what the limits
// of two usual instruments explain. Of two pulls what they differ by at rest is taken off.
func (w *Watcher) compare(k *twin) {
	x := k.first
	resting := w.loadSeen > 0 && !w.loaded() && w.loadNow[0] <= w.rest()
	if !k.fresh || w.loadSeen > 0 && !resting && !w.steady() {
		k.chart.pause()
		return
	}
	apart := k.apart
	if x.Channel == Thrust {
		if resting || w.loadSeen == 0 {
			if w.restSeconds > tareSeconds {
				n := math.Min(float64(k.zeroCount+1), 10)
				k.zero += (apart - k.zero) / n
				k.zeroCount++
			}
			k.chart.pause()
			return
		}
		if k.zeroCount < tareSeconds {
			return
		}
		apart -= k.zero
	}
	half, _ := (&Source{}).Half(x.Channel, x.seconds[0], Setup{})
	band := 2 * half
	told, _ := k.chart.take(apart, band)
	c := &k.chart
	c.Up, c.Down = math.Min(c.Up, c.H+c.K), math.Min(c.Down, c.H+c.K)
	key := "apart " + string(x.Channel)
	if c.Up == 0 && c.Down == 0 {
		w.well(key)
		if x.doubt == Disagreeing {
			x.doubt = ""
		}
	}
	if !told {
		return
	}
	since := max(c.Rising, c.Falling)
	if x.doubt == "" {
		w.suspect(x, Disagreeing, w.time-float64(since))
	}
	if !x.bound {
		return
	}
	a, b := w.Layout.Columns[x.column].Name, w.Layout.Columns[k.column].Name
	w.raise(key, Alarm{
		Kind: Disagreeing, Channel: x.Channel,
		What: fmt.Sprintf("the %s stands in %q and in %q, and they have been apart for %d s, by %s now, where limits of two such instruments explain %s; a limit rests on it",
			x.Channel, a, b, since, showDifference(x.Channel, apart), showDifference(x.Channel, band)),
		Do: "take the power off; look at both sensors and their cables, and hold them against a third",
	})
}
