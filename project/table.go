package project

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"jetwright/design"
	"jetwright/notice"
	"jetwright/quantity"
)

// column is what a column of a table may mean, with the unit that its own has to be of; one without is a plain number.
type column struct{ Name, Unit string }

// tableColumns are the columns of a simulation's table.
var tableColumns = []column{
	{"speed", "m/s"},
	{"power", "W"},
	{"battery power", "W"},
	{"controller power", "W"},
	{"shaft power", "W"},
	{"rotor speed", "rpm"},
	{"thrust", "N"},
	{"torque", "N·m"},
	{"flow", "L/s"},
	{"head", "m"},
}

// tableMost is how many rows a table may have.
const tableMost = 2000

// SimulationTable is a simulation's table as it was read, SI.
type SimulationTable struct {
	File    string
	Rows    []SimulationRow
	Notices notice.List
}

// SimulationRow is one point of it: its line, and its figures by the name of their column.
type SimulationRow struct {
	Line    int
	Figures map[string]float64
}

// Table reads the file of a claimed table. What is wrong in it is named by line and column.
func (p *Project) Table(t design.ClaimTable) (*SimulationTable, error) {
	place := quantity.Place{File: filepath.ToSlash(t.File)}
	data, err := os.ReadFile(filepath.Join(p.Folder, filepath.FromSlash(t.File)))
	if err != nil {
		return nil, notice.List{{Kind: notice.Error, Place: t.Place_, What: "the table " + t.File + " cannot be read: " + plain(err), WayOut: "it is looked for in the drive's folder"}}
	}
	out := &SimulationTable{File: t.File}
	rows, left, err := readTable(data, place, tableColumns, "shaft power [kW]; rotor speed [rpm]; thrust [N]", func(seen map[string]bool) string {
		driven := seen["power"] || seen["battery power"] || seen["controller power"] || seen["shaft power"] || seen["rotor speed"]
		if driven && (seen["thrust"] || seen["torque"] || seen["flow"] || seen["head"]) {
			return ""
		}
		return "it takes a column that says how hard the drive runs, a power or the rotor speed, and one that says what it does, such as thrust"
	}, func(name string, v float64) bool {
		return v > 0 || v == 0 && (name == "speed" || name == "torque" || name == "head")
	}, tableMost)
	if err != nil {
		return nil, err
	}
	if len(left) > 0 {
		out.Notices = append(out.Notices, notice.Notice{Kind: notice.Remark, Place: quantity.Place{File: out.File}, What: "columns that are not compared: " + strings.Join(left, ", "), Allowed: allowed(tableColumns)})
	}
	for _, r := range rows {
		out.Rows = append(out.Rows, SimulationRow(r))
	}
	return out, nil
}

// tableRow is a row of numbers: its line, and its figures in SI by the name of their column.
type tableRow struct {
	Line    int
	Figures map[string]float64
}

// readTable reads a table of numbers whose head names columns with their units. Lines that begin with # say nothing. enough tells what the
// columns that are there still lack, good whether a number may stand in a column; left are the columns that are not known. The error
// is a notice at its line and column.
func readTable(data []byte, place quantity.Place, columns []column, example string, enough func(seen map[string]bool) string, good func(name string, v float64) bool, most int) (out []tableRow, left []string, err error) {
	fail := func(line, column int, what, allowed, way string) error {
		at := place
		at.Line, at.Column = line, column
		return notice.List{{Kind: notice.Error, Place: at, What: what, Allowed: allowed, WayOut: way}}
	}
	if !utf8.Valid(data) {
		return nil, nil, fail(1, 1, "it is not UTF-8", "", "save it as CSV in UTF-8")
	}
	text := strings.TrimPrefix(string(data), "\ufeff")
	head, skip := headOf(text, columns)
	if head == "" {
		return nil, nil, fail(1, 1, "no line names its columns with their units", allowed(columns), "begin it with a line such as: "+example)
	}
	delimiter := delimiterOf(head)
	r := csv.NewReader(strings.NewReader(text))
	r.Comma, r.Comment, r.FieldsPerRecord, r.TrimLeadingSpace = delimiter, '#', -1, true
	var names []string
	var units []quantity.Unit
	for {
		row, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			var pe *csv.ParseError
			if errors.As(err, &pe) {
				return nil, nil, fail(pe.Line, pe.Column, pe.Err.Error(), "", "look at the quotes of that line")
			}
			return nil, nil, fail(1, 1, err.Error(), "", "")
		}
		line, _ := r.FieldPos(0)
		if line < skip || blankRow(row) {
			continue
		}
		if names == nil {
			at := func(k int, what, allowed, way string) error {
				l, c := r.FieldPos(k)
				return fail(l, c, what, allowed, way)
			}
			if names, units, left, err = columnsOf(row, columns, at); err != nil {
				return nil, nil, err
			}
			seen := map[string]bool{}
			for _, n := range names {
				seen[n] = true
			}
			if lacks := enough(seen); lacks != "" {
				return nil, nil, at(0, lacks, allowed(columns), "")
			}
			continue
		}
		x := tableRow{Line: line, Figures: map[string]float64{}}
		for k, name := range names {
			if name == "" || k >= len(row) || strings.TrimSpace(row[k]) == "" {
				continue
			}
			l, c := r.FieldPos(k)
			v, err := numberIn(row[k], delimiter)
			if err != nil {
				return nil, nil, fail(l, c, fmt.Sprintf("%s is %q, which is no number", name, row[k]), "", "write a number, or leave it empty")
			}
			if !good(name, v) {
				return nil, nil, fail(l, c, fmt.Sprintf("%s is %s", name, row[k]), "it is positive", "take the row out, or correct it")
			}
			x.Figures[name] = units[k].ToSI(v)
		}
		out = append(out, x)
		if len(out) > most {
			return nil, nil, fail(line, 1, fmt.Sprintf("it has more than %d rows", most), "", "keep the points that matter")
		}
	}
	if len(out) == 0 {
		return nil, nil, fail(1, 1, "it has no row of numbers", "", "")
	}
	return out, left, nil
}

// allowed names columns with their units.
func allowed(columns []column) string {
	var words []string
	for _, c := range columns {
		words = append(words, c.text())
	}
	return "columns are " + strings.Join(words, ", ")
}

func (c column) text() string {
	if c.Unit == "" {
		return c.Name
	}
	return c.Name + " [" + c.Unit + "]"
}

// headOf returns the first line that names a known column, and its number.
func headOf(text string, columns []column) (head string, line int) {
	for i, l := range strings.Split(text, "\n") {
		if strings.HasPrefix(strings.TrimSpace(l), "#") {
			continue
		}
		low := strings.ToLower(l)
		for _, c := range columns {
			if c.Unit != "" && (strings.Contains(low, c.Name+" [") || strings.Contains(low, c.Name+"[")) {
				return l, i + 1
			}
		}
	}
	return "", 0
}

func delimiterOf(head string) rune {
	best, most := ',', 0
	for _, d := range []rune{';', '\t', ','} {
		if n := strings.Count(head, string(d)); n > most {
			best, most = d, n
		}
	}
	return best
}

func blankRow(row []string) bool {
	for _, c := range row {
		if strings.TrimSpace(c) != "" {
			return false
		}
	}
	return true
}

// numberIn reads a number; where columns are not parted by commas a comma may be the decimal sign.
func numberIn(text string, delimiter rune) (float64, error) {
	text = strings.TrimSpace(text)
	if delimiter != ',' && !strings.Contains(text, ".") {
		text = strings.Replace(text, ",", ".", 1)
	}
	v, err := strconv.ParseFloat(text, 64)
	if err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
		err = strconv.ErrRange
	}
	return v, err
}

// columnsOf reads the names and units of a head; left are those that are not known.
func columnsOf(row []string, columns []column, fail func(k int, what, allowed, way string) error) (names []string, units []quantity.Unit, left []string, err error) {
	names, units = make([]string, len(row)), make([]quantity.Unit, len(row))
	seen := map[string]bool{}
	for k, cell := range row {
		name, rest, bracket := strings.Cut(cell, "[")
		name = strings.Join(strings.Fields(strings.ToLower(name)), " ")
		known := slices.IndexFunc(columns, func(c column) bool { return c.Name == name })
		if known < 0 {
			if name != "" {
				left = append(left, strings.TrimSpace(cell))
			}
			continue
		}
		want := columns[known].Unit
		u := quantity.One
		if want != "" {
			symbol := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(rest), "]"))
			if !bracket || symbol == "" {
				return nil, nil, nil, fail(k, name+" has no unit", "", "write "+name+" ["+want+"]")
			}
			var ok bool
			if u, ok = quantity.LookupUnit(symbol); !ok || u.Dim != quantity.MustUnit(want).Dim {
				return nil, nil, nil, fail(k, fmt.Sprintf("%q is no unit of %s", symbol, name), "a unit such as "+want, "")
			}
		}
		if seen[name] {
			return nil, nil, nil, fail(k, "two columns are "+name, "", "keep one of them")
		}
		seen[name], names[k], units[k] = true, name, u
	}
	return names, units, left, nil
}
