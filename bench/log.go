package bench

import (
	"fmt"
	"math"
	"sort"

	"jetwright/notice"
	"jetwright/quantity"
)

// Log is a log that has been read: one time in s from its first row, and the numbers of its
// columns in SI. What an instrument left out, or wrote as words, is missing: NaN in Values, which
// is where it ends; nothing that is worked out from a log is NaN.
type Log struct {
	Name    string
	Layout  Layout
	Start   float64   // of the first row, in s: of the day for a clock, since 1970 for a date, as typed for an elapsed time
	Time    []float64 // s from the first row
	Values  [][]float64
	Missing []int  // by column
	Left    []Left // rows that are not used, by reason
	Resets  []int  // rows at which the instrument's clock began anew, in order
	skipped []int  // lines without a row, in order
}

// Left is why rows of a log are not used, how many and where first.
type Left struct {
	Reason string
	Rows   int
	Line   int // of the first
}

// Reasons why rows are not used.
const (
	leftNoTime    = "they hold no time that can be read"
	leftHeader    = "they are the header again"
	leftComment   = "they are comments"
	leftNUL       = "they are damaged (NUL bytes)"
	leftCut       = "the last line is cut off"
	leftDuplicate = "they repeat the row before"
)

// leave counts a row that is not used.
func (l *Log) leave(reason string, line int) {
	for i := range l.Left {
		if l.Left[i].Reason == reason {
			l.Left[i].Rows++
			l.Left[i].Line = min(l.Left[i].Line, line)
			return
		}
	}
	l.Left = append(l.Left, Left{reason, 1, line})
}

// lineOf returns the line of a row as it was read.
func (l *Log) lineOf(row int) int {
	line := l.Layout.FirstLine + row
	for _, s := range l.skipped {
		if s > line {
			break
		}
		line++
	}
	return line
}

// Rows returns the number of rows.
func (l *Log) Rows() int { return len(l.Time) }

// Column returns the numbers of a channel.
func (l *Log) Column(c Channel) ([]float64, bool) {
	for k, col := range l.Layout.Columns {
		if col.Channel == c {
			return l.Values[k], true
		}
	}
	return nil, false
}

// headerAgain tells a line that repeats the names of the columns, as after a restart.
func (l *Layout) headerAgain(fields [][]byte) bool {
	same := 0
	for k, f := range fields {
		if k < len(l.Columns) {
			name, _ := nameAndUnit(string(f))
			if name != "" && name == l.Columns[k].Name {
				same++
			}
		}
	}
	return same*2 > len(l.Columns)
}

// setTimes counts times from the first row and carries a clock past midnight.
func (l *Log) setTimes() {
	l.Start = l.Time[0]
	shift, last := 0.0, l.Time[0]
	for i, t := range l.Time {
		if l.Layout.TimeFormat == ClockTime && t+shift < last-43200 {
			shift += 86400
		}
		t += shift
		last = t
		l.Time[i] = t - l.Start
	}
}

// Rules of order. Our own.
const (
	disorderRows = 200  // rows within which rows out of order come back to where they belong
	disorderTime = 30.0 // s by which they may be late
)

// order finds where the clock began anew, puts rows that are a little late in their place, and
// leaves out rows that repeat the one before.
func (l *Log) order() notice.List {
	var list notice.List
	late, firstLate := 0, 0
	most := math.Inf(-1)
	for i, t := range l.Time {
		switch {
		case t >= most:
			most = t
		case most-t <= disorderTime && l.comesBack(i, most):
			if late++; late == 1 {
				firstLate = i
			}
		default:
			l.Resets = append(l.Resets, i)
			most = t
		}
	}
	for _, r := range l.Resets {
		list = append(list, notice.Notice{
			Kind: notice.Warning, Place: quantity.Place{File: l.Name, Line: l.lineOf(r), Column: 1},
			What:   fmt.Sprintf("the clock steps back from %.4g s to %.4g s: the instrument began anew", l.Time[r-1], l.Time[r]),
			WayOut: "what follows is set to the run by what it shares with the other logs; where that cannot be, it is left out",
		})
	}
	if late > 0 {
		list = append(list, notice.Notice{
			Kind: notice.Warning, Place: quantity.Place{File: l.Name, Line: l.lineOf(firstLate), Column: 1}, What: fmt.Sprintf("%d rows stand out of order; they are put in their place by their time", late),
		})
	}
	bounds := append(append([]int{0}, l.Resets...), len(l.Time))
	if late > 0 {
		for b := 0; b+1 < len(bounds); b++ {
			l.sortRows(bounds[b], bounds[b+1])
		}
	}
	l.dropDuplicates()
	return list
}

// comesBack tells whether the time soon is where it was before row i.
func (l *Log) comesBack(i int, most float64) bool {
	for k := i + 1; k < min(len(l.Time), i+disorderRows); k++ {
		if l.Time[k] >= most {
			return true
		}
	}
	return false
}

// sortRows puts rows in the order of their times.
func (l *Log) sortRows(from, to int) {
	index := make([]int, to-from)
	for i := range index {
		index[i] = from + i
	}
	sort.SliceStable(index, func(a, b int) bool { return l.Time[index[a]] < l.Time[index[b]] })
	move := func(x []float64) {
		if x == nil {
			return
		}
		y := make([]float64, len(index))
		for i, k := range index {
			y[i] = x[k]
		}
		copy(x[from:to], y)
	}
	move(l.Time)
	for _, v := range l.Values {
		move(v)
	}
}

// dropDuplicates leaves out rows with the time and all the values of the row before.
func (l *Log) dropDuplicates() {
	same := 0
	for i := 1; i < len(l.Time); i++ {
		if l.Time[i] == l.Time[i-1] {
			same++
		}
	}
	if same*5 > len(l.Time) { // a clock of coarse steps, not rows written twice
		l.spreadTimes()
		return
	}
	at := 0
	resets := l.Resets
	for i := range l.Time {
		if i > 0 && l.sameRow(i, at-1) {
			l.leave(leftDuplicate, l.lineOf(i))
			for k, v := range l.Values {
				if v != nil && v[i] != v[i] {
					l.Missing[k]--
				}
			}
			for k := range resets {
				if resets[k] > at {
					resets[k]--
				}
			}
			continue
		}
		if at != i {
			l.Time[at] = l.Time[i]
			for _, v := range l.Values {
				if v != nil {
					v[at] = v[i]
				}
			}
		}
		at++
	}
	l.Time = l.Time[:at]
	for k, v := range l.Values {
		if v != nil {
			l.Values[k] = v[:at]
		}
	}
}

// spreadTimes spreads rows that share one time evenly to the next: a clock that shows whole seconds
// while rows are written faster.
func (l *Log) spreadTimes() {
	for i := 0; i < len(l.Time); {
		k := i
		for k < len(l.Time) && l.Time[k] == l.Time[i] {
			k++
		}
		if k < len(l.Time) && l.Time[k] > l.Time[i] {
			step := (l.Time[k] - l.Time[i]) / float64(k-i)
			for j := i + 1; j < k; j++ {
				l.Time[j] = l.Time[i] + float64(j-i)*step
			}
		}
		i = k
	}
}

func (l *Log) sameRow(a, b int) bool {
	if l.Layout.Time < 0 || l.Time[a] != l.Time[b] {
		return false
	}
	for _, v := range l.Values {
		if v != nil && v[a] != v[b] && (v[a] == v[a] || v[b] == v[b]) {
			return false
		}
	}
	return true
}
