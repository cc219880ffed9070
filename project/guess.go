package project

import (
	"fmt"
	"slices"

	"jetwright/bench"
	"jetwright/design"
	"jetwright/notice"
	"jetwright/quantity"
)

// Guess says how logs would be read, and writes nothing.
func Guess(files []string, progress func(file string, done, total int)) ([]Adopted, error) {
	var out []Adopted
	for _, file := range files {
		in, err := openStill(file)
		if err != nil {
			return nil, unread(notice.Notice{Place: quantity.Place{File: file}}, "the log", err)
		}
		a, err := adopt(in, progress)
		in.close()
		if err != nil {
			return nil, err
		}
		out = append(out, a)
	}
	return out, nil
}

// Channels are the words by which a column of a log may be read, and the units that each may come in.
func Channels() []bench.Channel { return slices.Clone(channelsKnown) }

// Correction is how one column of a log is to be read in place of how it was guessed.
type Correction struct {
	File    string
	Column  int // from 0
	Channel bench.Channel
	Unit    string
	Words   bool // it holds no numbers
}

// write puts one correction into the text of a run.toml.
func (c Correction) write(doc *design.Document) (*design.Document, error) {
	logs, faults := readLogs(doc)
	if err := faults.Fatal(); err != nil {
		return nil, err
	}
	for i, l := range logs {
		if l.File != c.File {
			continue
		}
		fail := func(what, allowed string) error {
			return notice.List{{Kind: notice.Error, Place: l.Place, What: what, Allowed: allowed}}
		}
		if c.Column < 0 || c.Column >= len(l.Layout.Columns) {
			return nil, fail(fmt.Sprintf("%s has no column %d", c.File, c.Column+1), fmt.Sprintf("columns 1 to %d", len(l.Layout.Columns)))
		}
		columns := slices.Clone(l.Layout.Columns)
		k := &columns[c.Column]
		if c.Channel != "" && !slices.Contains(channelsKnown, c.Channel) {
			return nil, fail(fmt.Sprintf("%q is no channel", c.Channel), channelNames())
		}
		if c.Channel != k.Channel {
			k.Tolerance = bench.Tolerance{}
		}
		k.Channel, k.Text = c.Channel, c.Words
		k.Unit = quantity.Unit{}
		if c.Unit != "" {
			u, ok := quantity.LookupUnit(c.Unit)
			if !ok {
				return nil, fail(fmt.Sprintf("%q is no unit", c.Unit), "a unit such as N, kgf, W, rpm, A, V, °C")
			}
			if c.Channel != "" {
				if want := bench.UnitOf(c.Channel); want.Symbol != "" && want.Dim != u.Dim {
					return nil, fail(fmt.Sprintf("the %s does not come in %s", c.Channel, c.Unit), "a unit such as "+want.Symbol)
				}
			}
			k.Unit = u
		}
		texts := make([]string, len(columns))
		for j, col := range columns {
			texts[j] = design.Quoted(columnText(col))
		}
		list := "["
		for j, t := range texts {
			if j > 0 {
				list += ", "
			}
			list += t
		}
		return doc.Set(fmt.Sprintf("log[%d].channels", i), list+"]", design.Array)
	}
	return nil, notice.List{{Kind: notice.Error, What: "the run has no log " + c.File}}
}
