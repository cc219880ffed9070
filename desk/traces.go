package desk

import (
	"fmt"
	"math"
	"sort"

	"jetwright/bench"
	"jetwright/notice"
	"jetwright/project"
)

// Series is a channel of one log over the run's time, SI, not corrected.
type Series struct {
	Channel     bench.Channel
	Source      string // file
	Time, Value []float64
}

// TracesAnswer is every sample of the logs of a run, beside what was found in them. Coarser copies that keep
// every peak are held, so that any window is quickly drawn.
type TracesAnswer struct {
	Day    *ReducedDay
	Span   bench.Span // from the first sample to the last, s
	series []pyramid
}

// pyramid is a series and its coarser copies: each keeps of eight times as many samples the first, the lowest, the
// highest and the last.
type pyramid struct {
	Series
	coarser [][2][]float64
}

const (
	pyramidBlock = 32      // samples of which four are kept
	pyramidLeast = 1 << 12 // samples from which on a coarser copy pays
)

// Traces answers every sample of a run.
func Traces(p *project.Project, run string) (*TracesAnswer, error) {
	day, err := Reduce(p, run)
	if err != nil {
		return nil, err
	}
	if len(day.Days) != 1 {
		return nil, notice.List{{Kind: notice.Error, What: "a run has to be named", Allowed: runList(p)}}
	}
	a := &TracesAnswer{Day: &day.Days[0], Span: bench.Span{From: math.Inf(1), To: math.Inf(-1)}}
	clocks := map[string]bench.SourceClock{}
	for _, c := range a.Day.Clocks {
		clocks[c.Source] = c
	}
	for i := range p.Runs {
		if p.Runs[i].Name != a.Day.Run {
			continue
		}
		sources, _, err := p.Sources(&p.Runs[i])
		if err != nil {
			return nil, err
		}
		for _, s := range sources {
			clock, ok := clocks[s.Log.Name]
			if !ok || clock.Left {
				continue
			}
			a.take(s.Log, clock)
		}
	}
	if len(a.series) == 0 {
		return nil, notice.List{{Kind: notice.Error, What: fmt.Sprintf("no log of the run %s has a channel that is known", a.Day.Run)}}
	}
	return a, nil
}

// take adds the channels of a log.
func (a *TracesAnswer) take(log *bench.Log, clock bench.SourceClock) {
	if log.Rows() == 0 {
		return
	}
	time := make([]float64, log.Rows())
	for i, t := range log.Time {
		time[i] = clock.Run(t)
	}
	a.Span.From, a.Span.To = math.Min(a.Span.From, time[0]), math.Max(a.Span.To, time[len(time)-1])
	for k, c := range log.Layout.Columns {
		if c.Channel == "" || k >= len(log.Values) || len(log.Values[k]) != len(time) {
			continue
		}
		s := pyramid{Series: Series{Channel: c.Channel, Source: log.Name, Time: time, Value: log.Values[k]}}
		for t, v := s.Time, s.Value; len(t) > pyramidLeast; {
			t, v = Thinned(t, v, pyramidBlock)
			s.coarser = append(s.coarser, [2][]float64{t, v})
		}
		a.series = append(a.series, s)
	}
}

// Thinned keeps of every block of samples the first, the lowest, the highest and the last, and what is no number
// where a block holds nothing else.
func Thinned(time, value []float64, block int) (t, v []float64) {
	t, v = make([]float64, 0, 4*(len(time)/block+1)), make([]float64, 0, 4*(len(time)/block+1))
	for from := 0; from < len(time); from += block {
		to := min(from+block, len(time))
		low, high, first, last := -1, -1, -1, -1
		for i := from; i < to; i++ {
			x := value[i]
			if math.IsNaN(x) {
				continue
			}
			if first < 0 {
				first, low, high = i, i, i
			}
			last = i
			if x < value[low] {
				low = i
			}
			if x > value[high] {
				high = i
			}
		}
		if first < 0 {
			t, v = append(t, time[from]), append(v, math.NaN())
			continue
		}
		keep := []int{first, min(low, high), max(low, high), last}
		for j, i := range keep {
			if j == 0 || i > keep[j-1] {
				t, v = append(t, time[i]), append(v, value[i])
			}
		}
	}
	return t, v
}

// samplesAWindow is about how many samples of a channel a window is drawn from at most.
const samplesAWindow = 1 << 13

// Window returns the series between two times, a sample more at either end, as coarse as a drawing allows.
func (a *TracesAnswer) Window(from, to float64) []Series {
	out := make([]Series, len(a.series))
	for k, s := range a.series {
		time, value := cut(s.Time, s.Value, from, to)
		for _, c := range s.coarser {
			if len(time) <= samplesAWindow {
				break
			}
			time, value = cut(c[0], c[1], from, to)
		}
		out[k] = Series{Channel: s.Channel, Source: s.Source, Time: time, Value: value}
	}
	return out
}

func cut(time, value []float64, from, to float64) (t, v []float64) {
	a := max(0, sort.SearchFloat64s(time, from)-1)
	b := min(len(time), sort.SearchFloat64s(time, to)+1)
	if a > b {
		a = b
	}
	return time[a:b], value[a:b]
}
