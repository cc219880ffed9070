package bench

import "math"

// Several logs of one drive are watched by a watcher each. The one that knows best how hard the drive runs is
// told what the others show, so that coefficients and doubts rest on all of them.

// Rank tells how well the log says how hard the drive runs; the lowest is best.
func (w *Watcher) Rank() int {
	for i, c := range loadRank {
		if w.of[c] != nil {
			return i
		}
	}
	return len(loadRank)
}

// Join adds a channel that another log holds, and tells whether a limit rests on it there. Its values come by
// Take.
func (w *Watcher) Join(c Channel, bound bool) {
	if w.of[c] != nil {
		return
	}
	w.add(c, len(w.values))
	x := w.of[c]
	x.bound, x.joined, x.next = bound, true, math.NaN()
	w.values = append(w.values, math.NaN())
	if w.other == "" && (c == RotorSpeed || c == Thrust || c == PhaseCurrent) {
		w.other = c
	}
}

// Take takes a value of a joined channel, SI; it stands beside the row that comes next.
func (w *Watcher) Take(c Channel, v float64) {
	if x := w.of[c]; x != nil && x.joined && math.Abs(v) < numberMost {
		x.next = v
	}
}

// Latest returns the latest value of a channel, SI, and how many there were.
func (w *Watcher) Latest(c Channel) (v float64, seen int) {
	if x := w.of[c]; x != nil {
		return x.value, x.seen
	}
	return 0, 0
}

// Channels are the channels of the log itself that are watched.
func (w *Watcher) Channels() []Channel {
	var out []Channel
	for _, x := range w.channels {
		if !x.joined && x.column >= 0 {
			out = append(out, x.Channel)
		}
	}
	return out
}
