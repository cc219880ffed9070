package project

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"

	"jetwright/bench"
	"jetwright/design"
	"jetwright/notice"
	"jetwright/quantity"
)

// logSheet is a [[log]] of a run.toml: how a file is read. It was guessed, and may be corrected.
type logSheet struct {
	File       string `doc:"the log, as the instrument wrote it, beside run.toml"`
	Encoding   string `doc:"encoding of its text" choices:"utf-8|utf-16le|utf-16be|windows-1252" assume:"utf-8" source:"own"`
	Delimiter  string `doc:"what stands between two columns" choices:"comma|semicolon|tab|bar|blanks" assume:"comma" source:"own"`
	Decimal    string `doc:"decimal sign" choices:"point|comma" assume:"point" source:"own"`
	HeaderLine int    `unit:"1" doc:"line of the column names, from 1; 0 if there is none" range:"0 .. 100000" assume:"1" source:"own"`
	FirstLine  int    `unit:"1" doc:"first line of numbers, from 1" range:"1 .. 100000" assume:"2" source:"own"`
	Time       string `doc:"name of the column of the time; left out if there is none"`
	TimeFormat string `doc:"how the time is written: seconds and the like that count up, a clock, or date and time by ISO 8601" choices:"elapsed|clock|iso" assume:"elapsed" source:"own"`
	TimeUnit   string `doc:"unit of an elapsed time" choices:"s|ms|min|h|µs" assume:"s" source:"own"`
}

var delimiters = map[string]byte{"comma": ',', "semicolon": ';', "tab": '\t', "bar": '|', "blanks": ' '}

// LogSchema declares the keys of a [[log]], but for its list of channels.
func LogSchema() *quantity.Schema { return logSchema() }

var logSchema = sync.OnceValue(func() *quantity.Schema { return mustSchema(struct{ Log logSheet }{}) })

// Log is a log of a run: its file and how it is read.
type Log struct {
	File   string
	Layout bench.Layout
	Place  quantity.Place
}

// readLogs reads the [[log]] items of a run.
func readLogs(doc *design.Document) ([]Log, notice.List) {
	var logs []Log
	var faults notice.List
	for i := range doc.Count("log") {
		prefix := fmt.Sprintf("log[%d].", i)
		s, more := design.Bind(doc, prefix, "log", LogSchema(), func(path string) bool { return path == prefix+"channels" })
		faults = append(faults, more...)
		place, excerpt := doc.ItemPlace("log", i)
		l := Log{Place: place}
		l.File, _ = s.Text("file")
		word := func(key, otherwise string) string {
			if t, ok := s.Text(key); ok {
				return t
			}
			return otherwise
		}
		count := func(key string, otherwise int) int {
			if n, ok := s.Count(key); ok {
				return n
			}
			return otherwise
		}
		fault := func(p quantity.Place, line, what, out string) {
			faults = append(faults, notice.Notice{Kind: notice.Error, Place: p, Excerpt: line, What: what, WayOut: out})
		}
		if l.File == "" || strings.ContainsAny(l.File, `/\`) {
			fault(place, excerpt, "the log does not name a file beside run.toml", `type file = "scale.csv"`)
			continue
		}
		l.Layout = bench.Layout{
			Encoding: word("encoding", "utf-8"), Delimiter: delimiters[word("delimiter", "comma")], Decimal: '.', HeaderLine: count("header_line", 1), FirstLine: count("first_line", 2),
			Time: -1, TimeFormat: word("time_format", bench.Elapsed), TimeUnit: quantity.MustUnit(word("time_unit", "s")),
		}
		if word("decimal", "point") == "comma" {
			l.Layout.Decimal = ','
		}
		for _, e := range doc.Entries() {
			if e.Path != prefix+"channels" {
				continue
			}
			for _, el := range e.Elements {
				c, ok := readColumn(el.Value)
				if !ok || el.Kind != design.String {
					fault(el.Place, e.Excerpt, fmt.Sprintf("%q does not say a column's channel", el.Value), `write "column name [unit] = thrust", or "column name" for one that is not used`)
					continue
				}
				if c.Name == word("time", "") {
					l.Layout.Time = len(l.Layout.Columns)
				}
				l.Layout.Columns = append(l.Layout.Columns, c)
			}
		}
		logs = append(logs, l)
	}
	return logs, faults
}

// channelsKnown are the channels that a column may be.
var channelsKnown = []bench.Channel{
	bench.Thrust, bench.Power, bench.RotorSpeed, bench.PhaseCurrent, bench.BatteryVoltage, bench.BatteryCurrent,
	bench.WindingTemperature, bench.BridgeTemperature, bench.CaseTemperature, bench.WaterTemperature,
}

// readColumn reads "name [unit] = channel"; unit and channel may be left out.
func readColumn(text string) (bench.Column, bool) {
	var c bench.Column
	name, channel, _ := strings.Cut(text, " = ")
	name = strings.TrimSpace(name)
	if i := strings.LastIndexByte(name, '['); i > 0 && strings.HasSuffix(name, "]") {
		u, ok := quantity.LookupUnit(name[i+1 : len(name)-1])
		if !ok {
			return c, false
		}
		name, c.Unit = strings.TrimSpace(name[:i]), u
	}
	c.Name = name
	switch channel = strings.TrimSpace(channel); channel {
	case "":
		return c, name != ""
	case "words":
		c.Text = true
		return c, name != ""
	}
	for _, k := range channelsKnown {
		if string(k) == channel {
			c.Channel = k
			return c, name != ""
		}
	}
	return c, false
}

// columnText writes a column as readColumn reads it.
func columnText(c bench.Column) string {
	t := c.Name
	if c.Unit.Symbol != "" {
		t += " [" + c.Unit.Symbol + "]"
	}
	switch {
	case c.Text:
		t += " = words"
	case c.Channel != "":
		t += " = " + string(c.Channel)
	}
	return t
}

// Adopted is a log that was taken in, with what was guessed of it.
type Adopted struct {
	Log
	Rows     int
	Duration float64 // s
	First    [][]string
	Missing  []int
	Notices  notice.List
}

// shownRows is how many rows of an adopted log are shown.
const shownRows = 4

// Adopt takes logs into a run: each is copied beside run.toml to the byte, and how it is read
// is guessed and written there. A log that is there already is not written over.
func (p *Project) Adopt(run string, files []string) ([]Adopted, error) {
	if err := checkRunName(run); err != nil {
		return nil, err
	}
	folder := filepath.Join(p.Folder, RunsFolder, run)
	path := filepath.Join(folder, RunFile)
	name := filepath.ToSlash(filepath.Join(RunsFolder, run, RunFile))
	text, err := os.ReadFile(path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, explain(p.Folder, err)
	}
	doc, faults := design.ParseDocument(name, text)
	if err := faults.Fatal(); err != nil {
		return nil, err
	}
	adopted, _ := readLogs(doc)
	for _, l := range adopted {
		for _, file := range files {
			if filepath.Base(file) == l.File {
				return nil, notice.List{{Kind: notice.Error, Place: l.Place, What: "the run has adopted " + l.File + " already", WayOut: "correct how it is read here, in " + name}}
			}
		}
	}
	var out []Adopted
	contents := map[string][]byte{}
	for _, file := range files {
		a, data, err := adopt(file)
		if err != nil {
			return nil, err
		}
		if _, twice := contents[a.File]; twice {
			return nil, notice.List{{Kind: notice.Error, Place: quantity.Place{File: file}, What: "two logs have this name", WayOut: "give one of them another"}}
		}
		if err := notElsewhere(folder, file, a.File, data); err != nil {
			return nil, err
		}
		contents[a.File] = data
		if doc, err = doc.Append("log", pairs(a.Log)); err != nil {
			return nil, err
		}
		out = append(out, a)
	}
	if _, faults := readRun(run, name, doc.Bytes(), p.Design); faults.Fatal() != nil {
		return nil, faults
	}
	undo, err := makeFolders(folder)
	if err != nil {
		return nil, explain(p.Folder, err)
	}
	var made []string
	fail := func(err error) ([]Adopted, error) {
		for _, f := range made {
			_ = os.Remove(f)
		}
		undo()
		return nil, err
	}
	for _, a := range out {
		to := filepath.Join(folder, a.File)
		if _, err := os.Stat(to); err == nil {
			continue // it stands there already, byte for byte
		}
		if err := write(to, contents[a.File]); err != nil {
			return fail(err)
		}
		made = append(made, to)
	}
	if err := write(path, doc.Bytes()); err != nil {
		return fail(err)
	}
	return out, nil
}

// notElsewhere refuses a log whose name is taken in the run by other bytes.
func notElsewhere(folder, file, name string, data []byte) error {
	there, err := os.ReadFile(filepath.Join(folder, name))
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return explain(folder, err)
	}
	if string(there) != string(data) {
		return notice.List{{Kind: notice.Error, Place: quantity.Place{File: file}, What: "the run has another log of this name, which stays as it is", WayOut: "give this one another name"}}
	}
	return nil
}

// adopt reads a log and guesses how.
func adopt(file string) (Adopted, []byte, error) {
	var a Adopted
	data, err := os.ReadFile(file)
	if err != nil {
		n := notice.Notice{Kind: notice.Error, Place: quantity.Place{File: file}, What: "the log cannot be read: " + plain(err)}
		return a, nil, notice.List{n}
	}
	a.File = filepath.Base(file)
	l, faults := bench.GuessLayout(file, data)
	if err := faults.Fatal(); err != nil {
		return a, nil, err
	}
	log, more := bench.ReadLog(file, data, l)
	faults = append(faults, more...)
	if err := faults.Fatal(); err != nil {
		return a, nil, err
	}
	a.Layout, a.Rows, a.Missing, a.Notices = l, log.Rows(), log.Missing, faults
	a.Duration = log.Time[log.Rows()-1]
	for i := range min(shownRows, log.Rows()) {
		row := make([]string, len(l.Columns))
		for k, c := range l.Columns {
			switch x := log.Values[k][i]; {
			case k == l.Time:
				row[k] = strconv.FormatFloat(log.Time[i], 'g', 6, 64) + " s"
			case x != x:
				row[k] = "-"
			case c.Unit.Symbol != "":
				row[k] = quantity.Format(x, c.Unit)
			default:
				row[k] = strconv.FormatFloat(x, 'g', 6, 64)
			}
		}
		a.First = append(a.First, row)
	}
	return a, data, nil
}

// pairs are the keys of a [[log]].
func pairs(l Log) []design.Pair {
	word := func(b byte) string {
		for w, d := range delimiters {
			if d == b {
				return w
			}
		}
		return "comma"
	}
	decimal := "point"
	if l.Layout.Decimal == ',' {
		decimal = "comma"
	}
	p := []design.Pair{
		{Key: "file", Value: l.File},
		{Key: "encoding", Value: l.Layout.Encoding},
		{Key: "delimiter", Value: word(l.Layout.Delimiter)},
		{Key: "decimal", Value: decimal},
		{Key: "header_line", Value: strconv.Itoa(l.Layout.HeaderLine), Kind: design.Integer},
		{Key: "first_line", Value: strconv.Itoa(l.Layout.FirstLine), Kind: design.Integer},
	}
	if l.Layout.Time >= 0 {
		p = append(p, design.Pair{Key: "time", Value: l.Layout.Columns[l.Layout.Time].Name}, design.Pair{Key: "time_format", Value: l.Layout.TimeFormat})
		if l.Layout.TimeFormat == bench.Elapsed {
			p = append(p, design.Pair{Key: "time_unit", Value: l.Layout.TimeUnit.Symbol})
		}
	}
	columns := make([]string, len(l.Layout.Columns))
	for i, c := range l.Layout.Columns {
		columns[i] = design.Quoted(columnText(c))
	}
	return append(p, design.Pair{Key: "channels", Value: "[" + strings.Join(columns, ", ") + "]", Kind: design.Array})
}
