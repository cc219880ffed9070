package desk

import (
	"fmt"
	"path/filepath"

	"jetwright/bench"
	"jetwright/notice"
	"jetwright/quantity"
)

// Watches are the logs of one drive that are watched together, each by its own layout. The log that says best how
// hard the drive runs is told what the others show.
type Watches struct {
	List   []*Watching
	joined bool
	main   int
	taken  map[bench.Channel]joint
}

// joint is a channel that the main log is told of.
type joint struct{ from, seen int }

// OpenWatches begins to watch logs with the limits of a folder; ask.Log is not used.
func OpenWatches(ask WatchAsk, logs []string) (*Watches, error) {
	s := &Watches{taken: map[bench.Channel]joint{}}
	seen := map[string]bool{}
	for _, log := range logs {
		clean := filepath.Clean(log)
		if seen[clean] {
			s.Close()
			return nil, notice.List{{Kind: notice.Error, Place: quantity.Place{File: log}, What: "this log is named twice", WayOut: "name every log once"}}
		}
		seen[clean] = true
		ask.Log = log
		w, err := OpenWatch(ask)
		if err != nil {
			s.Close()
			return nil, err
		}
		s.List = append(s.List, w)
	}
	return s, nil
}

// Close ends the watch.
func (s *Watches) Close() {
	for _, w := range s.List {
		w.Close()
	}
}

// Answers are what is watched by what, a log each, once all logs could be read.
func (s *Watches) Answers() []*WatchAnswer {
	if !s.joined {
		return nil
	}
	out := make([]*WatchAnswer, len(s.List))
	for i, w := range s.List {
		out[i] = w.Answer
	}
	return out
}

// Over tells that no more can come from any log.
func (s *Watches) Over() bool {
	for _, w := range s.List {
		if !w.Over() {
			return false
		}
	}
	return true
}

// Poll takes what has come and returns reasons to stop, with the name of the log where there are several.
func (s *Watches) Poll(now float64) ([]bench.Alarm, error) {
	var alarms []bench.Alarm
	for k := range s.List { // the main log comes last, so that it knows what the others show
		i := (s.main + 1 + k) % len(s.List)
		if s.joined && i == s.main {
			s.tell()
		}
		more, err := s.List[i].Poll(now)
		if err != nil {
			return alarms, err
		}
		alarms = append(alarms, s.named(i, more)...)
	}
	if !s.joined {
		s.join()
	}
	return alarms, nil
}

func (s *Watches) named(i int, alarms []bench.Alarm) []bench.Alarm {
	for k := range alarms {
		if len(s.List) > 1 {
			alarms[k].Log = s.Name(i)
		}
	}
	return alarms
}

// Name is how a log is called.
func (s *Watches) Name(i int) string {
	if log := s.List[i].ask.Log; log != "-" {
		return filepath.Base(log)
	}
	return "standard input"
}

// Finish ends a watch whose time is over.
func (s *Watches) Finish(now float64) ([]bench.Alarm, error) {
	var alarms []bench.Alarm
	for i, w := range s.List {
		more, err := w.Finish(now)
		if err != nil {
			return alarms, err
		}
		alarms = append(alarms, s.named(i, more)...)
	}
	if !s.joined {
		s.join()
	}
	return alarms, nil
}

// join tells the main log which channels the others hold, once all can be read, and settles who watches what.
func (s *Watches) join() {
	for _, w := range s.List {
		if w.Answer == nil {
			return
		}
	}
	s.joined = true
	for i, w := range s.List {
		if w.w.Rank() < s.List[s.main].w.Rank() {
			s.main = i
		}
	}
	main := s.List[s.main]
	holds := map[bench.Channel]bool{}
	for _, c := range main.w.Channels() {
		holds[c] = true
	}
	for i, w := range s.List {
		a := w.Answer
		if i != s.main {
			a.Coefficients = nil
			for _, c := range w.w.Channels() {
				if holds[c] {
					a.Notices = append(a.Notices, notice.Notice{
						Kind: notice.Remark, Place: quantity.Place{File: a.Log}, What: fmt.Sprintf("the %s stands in another log as well; each is held against its limits, and the coefficients rest on that of %s", c, s.Name(s.main)),
					})
					continue
				}
				holds[c] = true
				s.taken[c] = joint{from: i}
				main.w.Join(c, w.watches(c))
			}
		}
		a.Last = i == len(s.List)-1
		for k := range a.Limits {
			for j, o := range s.List {
				if l := &a.Limits[k]; !l.Watched && j != i && o.Answer.Limits[k].Watched {
					l.Elsewhere = s.Name(j)
				}
			}
		}
	}
	main.Answer.Coefficients = watchedCoefficients(func(c bench.Channel) bool {
		return holds[c] || c == bench.Power && main.w.Watches(bench.Power)
	})
	if last := s.List[len(s.List)-1].Answer; last != main.Answer { // what nobody watches is said once, at the end
		for _, c := range main.Answer.Coefficients {
			if !c.Watched {
				last.Coefficients = append(last.Coefficients, c)
			}
		}
	}
}

// watches tells whether a limit rests on a channel.
func (w *Watching) watches(c bench.Channel) bool {
	for _, l := range w.Answer.Limits {
		if l.Watched && l.Channel == c {
			return true
		}
	}
	return false
}

// tell hands the main log what came in the others.
func (s *Watches) tell() {
	for c, j := range s.taken {
		if v, seen := s.List[j.from].w.Latest(c); seen > j.seen {
			j.seen = seen
			s.taken[c] = j
			s.List[s.main].w.Take(c, v)
		}
	}
}
