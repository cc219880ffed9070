package project

import (
	"fmt"
	"math"
	"path/filepath"
	"sort"
	"strings"
	"time"
	"unicode"

	"jetwright/bench"
	"jetwright/design"
	"jetwright/notice"
	"jetwright/quantity"
)

// keyNeeds are the keys of a [[log]] that say something of a channel.
var keyNeeds = []struct {
	key      string
	channels []bench.Channel
}{
	{"power_place", []bench.Channel{bench.Power, bench.BatteryCurrent}},
	{"phase_current_convention", []bench.Channel{bench.PhaseCurrent}},
	{"thrust_by", []bench.Channel{bench.Thrust}},
	{"power_by", []bench.Channel{bench.Power, bench.BatteryCurrent, bench.BatteryVoltage}},
	{"winding_by", []bench.Channel{bench.WindingTemperature}},
	{"bridge_by", []bench.Channel{bench.BridgeTemperature}},
	{"case_by", []bench.Channel{bench.CaseTemperature}},
	{"rope_angle", []bench.Channel{bench.Thrust}},
	{"pulley_loss", []bench.Channel{bench.Thrust}},
	{"adjusted_at_gravity", []bench.Channel{bench.Thrust}},
	{"calibration", []bench.Channel{bench.Thrust}},
}

// consistent holds what is typed of a log against itself and against the logs before it.
func (l *Log) consistent(before []Log) notice.List {
	var list notice.List
	say := func(kind notice.Kind, key, what, allowed, out string) {
		list = append(list, l.notice(kind, key, what, allowed, out))
	}
	at := func(k int, kind notice.Kind, what, allowed, out string) {
		p := l.listed[k].Place
		list = append(list, notice.Notice{Kind: kind, Place: p, Path: "channels", Excerpt: l.doc.Line(p.Line), What: what, Allowed: allowed, WayOut: out})
	}
	for i := range before {
		if b := &before[i]; b.File == l.File {
			say(notice.Error, "file", fmt.Sprintf("%s is read by two [[log]]; the other begins on line %d", l.File, b.Place.Line), "", "take one of them out")
		}
	}
	y := &l.Layout
	if len(y.Columns) == 0 {
		say(notice.Error, "channels", "it lists no column of "+l.File, "", `list them in their order, as in channels = ["time [s]", "pull [kgf] = thrust", "status"]`)
		return list
	}
	if y.HeaderLine >= y.FirstLine {
		key := "first_line"
		if !l.sheet.Has(key) {
			key = "header_line"
		}
		say(notice.Error, key, fmt.Sprintf("first_line is %d and header_line %d: the numbers cannot begin before their names end", y.FirstLine, y.HeaderLine), fmt.Sprintf("first_line of %d or more", y.HeaderLine+1), "")
	}
	if name, typed := l.sheet.Text("time"); typed && y.Time < 0 {
		n := l.notice(notice.Error, "time", fmt.Sprintf("no column of channels is called %q", name), "the columns are "+columnNames(y.Columns), "")
		list = append(list, n)
	}
	has := map[bench.Channel]bool{}
	for k, c := range y.Columns {
		if c.Channel == "" {
			continue
		}
		has[c.Channel] = true
		if k == y.Time {
			at(k, notice.Error, fmt.Sprintf("%q is the time and cannot be the %s as well", c.Name, c.Channel), "", "correct time, or take the channel off")
		}
		want := bench.UnitOf(c.Channel)
		weight := c.Channel == bench.Thrust && c.Unit.Dim == quantity.MustUnit("kg").Dim
		if dim := c.Unit.Dim; c.Unit.Symbol != "" && dim != want.Dim && !weight {
			also := ""
			if c.Channel == bench.Thrust {
				also = " or, for a scale that shows masses, kgf or kg"
			}
			at(k, notice.Error, fmt.Sprintf("%q is in %s, which is no unit of %s", c.Name, c.Unit.Symbol, c.Channel), "a unit such as "+want.Symbol+also, "")
		}
		if c.Channel == bench.Thrust && !weight && l.sheet.Has("adjusted_at_gravity") {
			shown := c.Unit.Symbol
			if shown == "" {
				shown = want.Symbol
			}
			if shown != "kgf" {
				say(notice.Error, "adjusted_at_gravity", fmt.Sprintf("it is for a scale that shows masses; %q is in %s, a force", c.Name, shown), "a column in kgf or kg", "take adjusted_at_gravity out, or correct the unit in channels")
			}
		}
	}
	for _, n := range keyNeeds {
		typed := l.sheet.Has(n.key) || n.key == "calibration" && len(l.source.Corrections.Loads) > 0
		if typed && !hasAny(has, n.channels) {
			w := l.notice(notice.Warning, n.key, fmt.Sprintf("%s says nothing here: no column of %s is %s", n.key, l.File, channelList(n.channels)), "", "put it under the [[log]] that has one, or name the column's channel in channels")
			if n.key == "calibration" {
				w.Place, w.Path = l.source.Corrections.Place, n.key
				w.Excerpt = l.doc.Line(w.Place.Line)
			}
			list = append(list, w)
		}
	}
	place, convention := y.Said()
	if typed, ok := l.sheet.Text("power_place"); ok && place != "" && typed != place {
		say(notice.Warning, "power_place", fmt.Sprintf("power_place is %q, and the power's column is named %q; it is taken at the %s", typed, nameOf(y.Columns, bench.Power), typed), "", "correct the one that is wrong")
	}
	if typed, ok := l.sheet.Text("phase_current_convention"); ok && convention != "" && typed != convention {
		say(notice.Warning, "phase_current_convention", fmt.Sprintf("phase_current_convention is %q, and the column is named %q; it is taken as %s", typed, nameOf(y.Columns, bench.PhaseCurrent), typed), "", "correct the one that is wrong")
	}
	if typed, ok := l.sheet.Text("sha256"); ok && (len(typed) != 64 || strings.Trim(strings.ToLower(typed), "0123456789abcdef") != "") {
		say(notice.Error, "sha256", fmt.Sprintf("%.20q is no SHA-256", typed), "64 hexadecimal digits, as run add writes them", "leave it out if it is not known")
	}
	return list
}

func hasAny(has map[bench.Channel]bool, channels []bench.Channel) bool {
	for _, c := range channels {
		if has[c] {
			return true
		}
	}
	return false
}

func channelList(channels []bench.Channel) string {
	words := make([]string, len(channels))
	for i, c := range channels {
		words[i] = string(c)
	}
	return strings.Join(words, " or ")
}

func nameOf(columns []bench.Column, c bench.Channel) string {
	for _, k := range columns {
		if k.Channel == c {
			return k.Name
		}
	}
	return ""
}

func columnNames(columns []bench.Column) string {
	words := make([]string, len(columns))
	for i, c := range columns {
		words[i] = fmt.Sprintf("%q", c.Name)
	}
	return strings.Join(words, ", ")
}

// falling names a load of a calibration whose reading goes against the others: of two loads in order, the
// heavier one must show more at all of them, or less at all of them.
func falling(loads, readings []float64) (lighter, heavier int, ok bool) {
	order := make([]int, len(loads))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return loads[order[a]] < loads[order[b]] })
	if len(order) < 2 {
		return 0, 0, false
	}
	first, last := order[0], order[len(order)-1]
	up := readings[last] >= readings[first] // a scale may hang the other way round
	for i := 1; i < len(order); i++ {
		a, b := order[i-1], order[i]
		if d := readings[b] - readings[a]; loads[b] > loads[a] && (d == 0 || (d > 0) != up) {
			return a, b, true
		}
	}
	return 0, 0, false
}

// badShare is the share of the first rows that may hold no number before the layout is taken to be wrong.
const badShare = 0.5

// against holds what is typed of a log against its file: its bytes, their digest and its first lines.
func (l *Log) against(file string, bytes int64, digest string, h bench.Heading) notice.List {
	var list notice.List
	say := func(kind notice.Kind, key, what, allowed, out string) {
		list = append(list, l.notice(kind, key, what, allowed, out))
	}
	size, sized := l.sheet.Count("bytes")
	sum, summed := l.sheet.Text("sha256")
	if bytes == 0 {
		then := ""
		if sized {
			then = fmt.Sprintf("; it had %d bytes when it was adopted", size)
		}
		say(notice.Error, "file", l.File+" is empty"+then, "", "put the instrument's file back beside run.toml, or take its [[log]] out")
		return list
	}
	const changed = "put the instrument's file back, or take bytes and sha256 out of this [[log]] if the change is meant"
	switch {
	case sized && int64(size) != bytes:
		say(notice.Warning, "bytes", fmt.Sprintf("%s changed since it was adopted: it had %d bytes and has %d; it is read as it is now", l.File, size, bytes), "", changed)
	case summed && !strings.EqualFold(sum, digest):
		say(notice.Warning, "sha256", fmt.Sprintf("%s changed since it was adopted: it has as many bytes, and others; it is read as it is now", l.File), "", changed)
	}
	y := &l.Layout
	if typed, ok := l.sheet.Text("encoding"); ok && h.Encoding != "" && typed != h.Encoding || ok && h.Encoding == "" && strings.HasPrefix(typed, "utf-16") {
		is := h.Encoding
		if is == "" {
			is = "utf-8"
		}
		say(notice.Warning, "encoding", fmt.Sprintf("encoding is %q; %s is written as %s, and is read so", typed, l.File, is), fmt.Sprintf("encoding = %q", is), "")
	}
	for _, x := range []struct {
		key  string
		line int
	}{{"header_line", y.HeaderLine}, {"first_line", y.FirstLine}} {
		if x.line > h.Lines {
			say(notice.Error, x.key, fmt.Sprintf("%s is %d, and %s has %d lines", x.key, x.line, l.File, h.Lines), l.would(h, x.key), "")
		}
	}
	if len(list) > 0 && list.Fatal() != nil {
		return list
	}
	wrong := l.unreadable(h)
	list = append(list, wrong...)
	if len(wrong) > 0 {
		return list // the rest follows from it
	}
	return append(list, l.headed(file, h)...)
}

// Fits holds a log's layout against the first lines of another log that is to be read by it, such as one
// that still grows. Without a row of numbers nothing is said.
func (l Log) Fits(name string, head []byte) notice.List {
	h := l.Layout.Heading(head)
	if h.Rows == 0 || l.Layout.HeaderLine > h.Lines {
		return nil
	}
	l.File = filepath.Base(name)
	if list := l.unreadable(h); len(list) > 0 {
		return list
	}
	return l.headed(name, h)
}

// would says what a key would be if the log were read by itself.
func (l *Log) would(h bench.Heading, key string) string {
	if !h.GuessKnown {
		return ""
	}
	is := map[string]string{}
	for _, p := range pairs(Log{Layout: l.Layout}) {
		is[p.Key] = p.Value
	}
	for _, p := range pairs(Log{Layout: h.Guess}) {
		if p.Key == key && p.Value != is[key] {
			value := p.Value
			if p.Kind != design.Integer {
				value = design.Quoted(value)
			}
			return fmt.Sprintf("by itself the file reads with %s = %s", key, value)
		}
	}
	return ""
}

// unreadable tells that by what is typed the first rows hold no times or numbers, and which key it may be.
func (l *Log) unreadable(h bench.Heading) notice.List {
	y := &l.Layout
	what := ""
	if y.Time >= 0 && float64(h.Times) < badShare*float64(h.Rows) {
		what = fmt.Sprintf("%d of the first %d rows have a time that can be read", h.Times, h.Rows)
	} else {
		for k, c := range y.Columns {
			short := h.Filled[k] == 0 && k >= len(h.FirstCut)
			if c.Channel != "" && (h.Filled[k] > 0 && float64(h.Values[k]) < badShare*float64(h.Filled[k]) || short && h.Rows > 0) {
				what = fmt.Sprintf("%d of the first %d rows have a number in column %d, %q", h.Values[k], h.Rows, k+1, c.Name)
				break
			}
		}
	}
	if h.Rows == 0 {
		what = "there is no row of numbers"
	}
	if what == "" {
		return nil
	}
	shown := ""
	if h.First != "" {
		shown = fmt.Sprintf("; the first, line %d or later, is %.60q", y.FirstLine, h.First)
	}
	var list notice.List
	if h.GuessKnown {
		g := &h.Guess
		differ := []struct {
			key     string
			differs bool
		}{
			{"delimiter", g.Delimiter != y.Delimiter},
			{"decimal", g.Decimal != y.Decimal},
			{"first_line", g.FirstLine > y.FirstLine},
			{"time_format", y.Time >= 0 && g.Time >= 0 && g.TimeFormat != y.TimeFormat},
		}
		for _, d := range differ {
			if d.differs {
				list = append(list, l.notice(notice.Error, d.key, fmt.Sprintf("by what is typed of %s, %s%s", l.File, what, shown), l.would(h, d.key), ""))
			}
		}
	}
	if len(list) == 0 {
		key := "time"
		if !l.sheet.Has(key) {
			key = "first_line"
		}
		list = append(list, l.notice(notice.Error, key, fmt.Sprintf("by what is typed of %s, %s%s", l.File, what, shown), "", "look at time, time_format, first_line and channels"))
	}
	return list
}

// headed holds the columns that are typed against the line of names.
func (l *Log) headed(file string, h bench.Heading) notice.List {
	y := &l.Layout
	var list notice.List
	where := fmt.Sprintf("line %d of %s", y.HeaderLine, l.File)
	n, from := len(h.Columns), where
	if y.HeaderLine == 0 {
		n, from = len(h.FirstCut), fmt.Sprintf("line %d of %s", y.FirstLine, l.File)
	}
	at := func(k int, kind notice.Kind, what, allowed, out string) {
		p := l.listed[k].Place
		list = append(list, notice.Notice{Kind: kind, Place: p, Path: "channels", Excerpt: l.doc.Line(p.Line), What: what, Allowed: allowed, WayOut: out})
	}
	if y.HeaderLine > 0 && n != len(y.Columns) && len(h.FirstCut) == len(y.Columns) {
		list = append(list, l.notice(notice.Error, "header_line", fmt.Sprintf("%s holds %s, %.60q, and channels lists %d", where, counted(n, "column"), h.Header, len(y.Columns)), l.would(h, "header_line"), "type the line that names the columns, or header_line = 0 if there is none"))
		return list
	}
	known := func(name string) int {
		for k, c := range h.Columns {
			if sameName(c, name) {
				return k
			}
		}
		return -1
	}
	for k, c := range y.Columns {
		if y.HeaderLine == 0 || strings.HasPrefix(c.Name, "column ") {
			continue
		}
		if k < n && sameName(h.Columns[k], c.Name) {
			if u := h.Columns[k].Unit; u.Symbol != "" && c.Unit.Symbol != "" && u.Symbol != c.Unit.Symbol && (c.Channel != "" || k == y.Time) && !sameUnit(u, c.Unit) {
				at(k, notice.Warning, fmt.Sprintf("channels says that %q is in %s; %s says %s; it is read in %s", c.Name, c.Unit.Symbol, where, u.Symbol, c.Unit.Symbol), "", "correct it here if the instrument is right")
			}
			continue
		}
		if j := known(c.Name); j >= 0 {
			at(k, notice.Error, fmt.Sprintf("%q stands in column %d of %s, and here as the %s of channels", c.Name, j+1, where, ordinal(k+1)), "", "list the columns in the order of the file")
			continue
		}
		there := "which has no column " + fmt.Sprint(k+1)
		if k < n {
			there = fmt.Sprintf("whose column %d is %q", k+1, h.Columns[k].Name)
		}
		at(k, notice.Error, fmt.Sprintf("there is no column %q in %s, %s", c.Name, where, there), "", "name the columns as the file does, in its order")
	}
	if n != len(y.Columns) && list.Fatal() == nil {
		list = append(list, l.notice(notice.Error, "channels", fmt.Sprintf("%s holds %s, and channels lists %d", from, counted(n, "column"), len(y.Columns)), "", "list every column in its order, also those that are not used"))
	}
	if _, typed := l.sheet.Text("time"); !typed && h.GuessKnown && h.Guess.Time >= 0 && h.Guess.Time < len(y.Columns) {
		name := y.Columns[h.Guess.Time].Name
		list = append(list, l.notice(notice.Warning, "time", fmt.Sprintf("no time is named for %s, and its rows are taken to be a second apart; its column %q rises as a time does", l.File, name), "", fmt.Sprintf("type time = %q with its time_format under this [[log]]", name)))
	}
	return list
}

func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

func ordinal(n int) string {
	end := "th"
	if n%100 < 11 || n%100 > 13 {
		switch n % 10 {
		case 1:
			end = "st"
		case 2:
			end = "nd"
		case 3:
			end = "rd"
		}
	}
	return fmt.Sprint(n) + end
}

// sameUnit tells whether two units measure alike, whatever they are called.
func sameUnit(a, b quantity.Unit) bool {
	return a.Dim == b.Dim && math.Abs(a.ToSI(1)-b.ToSI(1)) <= 1e-12*math.Abs(a.ToSI(1)) && a.ToSI(0) == b.ToSI(0)
}

// sameName tells whether a column of the file is the one that is typed, but for blanks, marks and case.
func sameName(c bench.Column, typed string) bool {
	bare := func(s string) string {
		return strings.ToLower(strings.Map(func(r rune) rune {
			if unicode.IsLetter(r) || unicode.IsDigit(r) {
				return r
			}
			return -1
		}, s))
	}
	with := c.Name + " " + c.Unit.Symbol
	return bare(c.Name) == bare(typed) || bare(with) == bare(typed) || bare(typed) == "" && bare(c.Name) == ""
}

// writable gives columns names that can be written into channels and read again.
func writable(columns []bench.Column) []bench.Column {
	for i := range columns {
		c := &columns[i]
		if back, ok := readColumn(columnText(*c)); !ok || back.Name != c.Name {
			c.Name = strings.TrimSpace(strings.NewReplacer("=", ":", "[", "(", "]", ")").Replace(c.Name))
		}
		if c.Name == "" {
			c.Name = fmt.Sprintf("column %d", i+1)
		}
	}
	return columns
}

// dated holds the day that is typed of a run against the dates that a log writes.
func (l *Log) dated(r *Run, log *bench.Log) notice.List {
	typed, err := time.Parse("2006-01-02", r.date)
	if err != nil || l.Layout.TimeFormat != bench.ISO || l.Layout.Time < 0 || log.Rows() == 0 {
		return nil
	}
	from, to := time.Unix(int64(log.Start), 0).UTC(), time.Unix(int64(log.Start+log.Time[log.Rows()-1]), 0).UTC()
	const day = 24 * time.Hour // clocks stand in other zones
	if from.Before(typed.Add(2*day)) && to.After(typed.Add(-day)) {
		return nil
	}
	return notice.List{{
		Kind: notice.Warning, Place: r.datePlace, Path: "date", Excerpt: l.doc.Line(r.datePlace.Line),
		What: fmt.Sprintf("date is %s; %s was written on %s by its own time", r.date, l.File, from.Format("2006-01-02")), WayOut: "correct the date, or look whether this log belongs to another run",
	}}
}
