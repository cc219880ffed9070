package design

import (
	"errors"
	"fmt"
	"sort"
	"strings"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"

	"jetwright/notice"
	"jetwright/quantity"
)

// EntryKind is what stands behind a key.
type EntryKind int8

// Kinds of entry. TableHeader is a [section]; items of [[arrays]] are counted, not listed.
const (
	String EntryKind = iota
	Integer
	Float
	Bool
	DateTime
	Array
	InlineTable
	TableHeader
)

// Element is one element of an array.
type Element struct {
	Kind  EntryKind
	Value string
	Place quantity.Place
}

// Entry is one key of a document, with its full dotted path however it was written.
type Entry struct {
	Path       string // "nozzle.diameter", "claim[0].what"
	Kind       EntryKind
	Value      string // decoded text of a string, else the token as typed
	Elements   []Element
	Place      quantity.Place // of the key
	ValuePlace quantity.Place
	Excerpt    string // the line of the key

	start, end int // bytes of the value
	section    string
}

// Document is a TOML file, every byte kept. It is never changed: what sets a value returns
// another document.
type Document struct {
	name    string
	data    []byte
	lines   []int // offset of each line
	entries []Entry
	headers []header
	items   map[string][]header
}

// header is a [table] or an item of an [[array of tables]].
type header struct {
	path       string
	start, end int // bytes of the line, without its end
	bodyEnd    int // end of the last entry below it
	place      quantity.Place
	excerpt    string
}

const byteOrderMark = "\ufeff"

// ParseDocument reads a TOML file. All lines that cannot be read are reported; with a notice of
// kind Error the document holds what could be read and must not be written back.
func ParseDocument(name string, data []byte) (*Document, notice.List) {
	d := &Document{name: name, data: data, items: map[string][]header{}}
	for i, c := range data {
		if i == 0 || data[i-1] == '\n' {
			d.lines = append(d.lines, i)
		}
		_ = c
	}
	if len(d.lines) == 0 {
		d.lines = []int{0}
	}
	var faults notice.List
	if !utf8.Valid(data) {
		i := 0
		for i < len(data) {
			r, n := utf8.DecodeRune(data[i:])
			if r == utf8.RuneError && n <= 1 {
				break
			}
			i += n
		}
		return nil, notice.List{d.fault(i, "the text is not UTF-8", "", "save the file as UTF-8")}
	}
	text := data
	if strings.HasPrefix(string(data), byteOrderMark) {
		// blanks keep every offset where it is
		text = append([]byte("   "), data[len(byteOrderMark):]...)
	}
	// A line that cannot be read is blanked out and the rest is read again, so that every such
	// line is reported.
	const mostFaults = 50
	for range mostFaults {
		at, message, ok := d.read(text)
		if ok {
			break
		}
		n := d.fault(at, "this line cannot be read: "+message, "", "write key = \"value\", or [section]")
		faults = append(faults, n)
		text = d.blank(text, at)
	}
	faults = append(faults, d.duplicates()...)
	if len(faults) == 0 {
		// the library's own decoder has the last word on what is valid
		var any_ map[string]any
		if err := toml.Unmarshal(text, &any_); err != nil {
			var de *toml.DecodeError
			at := 0
			if errors.As(err, &de) {
				row, col := de.Position()
				at = d.offset(row, col)
			}
			faults = append(faults, d.fault(at, "this cannot be read: "+strings.TrimPrefix(err.Error(), "toml: "), "", ""))
		}
	}
	sort.SliceStable(faults, func(a, b int) bool { return faults[a].Place.Line < faults[b].Place.Line })
	return d, faults
}

func (d *Document) fault(offset int, what, allowed, out string) notice.Notice {
	p := d.place(offset)
	return notice.Notice{Kind: notice.Error, Place: p, What: what, Allowed: allowed, WayOut: out, Excerpt: d.Line(p.Line)}
}

// blank replaces the line at an offset by spaces.
func (d *Document) blank(text []byte, offset int) []byte {
	out := append([]byte(nil), text...)
	line := d.place(offset).Line
	start, end := d.lines[line-1], len(out)
	if line < len(d.lines) {
		end = d.lines[line]
	}
	for i := start; i < end; i++ {
		if out[i] != '\n' && out[i] != '\r' {
			out[i] = ' '
		}
	}
	return out
}

// offset turns a line and a byte column from 1 into an offset.
func (d *Document) offset(line, column int) int {
	if line < 1 || line > len(d.lines) {
		return 0
	}
	return min(d.lines[line-1]+max(column-1, 0), len(d.data))
}

// place turns an offset into a place, its column in characters.
func (d *Document) place(offset int) quantity.Place {
	offset = min(offset, len(d.data))
	line := sort.SearchInts(d.lines, offset+1) // lines[line-1] ≤ offset
	line = max(line, 1)
	start := d.lines[line-1]
	prefix := string(d.data[start:offset])
	if start == 0 {
		prefix = strings.TrimPrefix(prefix, byteOrderMark)
	}
	return quantity.Place{File: d.name, Line: line, Column: utf8.RuneCountInString(prefix) + 1}
}

// Name returns the document's file name.
func (d *Document) Name() string { return d.name }

// Bytes returns the document as it is written.
func (d *Document) Bytes() []byte { return d.data }

// Line returns a line, from 1, without its end.
func (d *Document) Line(n int) string {
	if n < 1 || n > len(d.lines) {
		return ""
	}
	end := len(d.data)
	if n < len(d.lines) {
		end = d.lines[n]
	}
	return strings.TrimPrefix(strings.TrimRight(string(d.data[d.lines[n-1]:end]), "\r\n"), byteOrderMark)
}

// Entries returns every key in the order of the text, and every [section].
func (d *Document) Entries() []Entry { return d.entries }

// Count returns how many items an array of tables has.
func (d *Document) Count(array string) int { return len(d.items[array]) }

// ItemPlace returns where an item of an array of tables begins, and its line.
func (d *Document) ItemPlace(array string, i int) (quantity.Place, string) {
	if i < 0 || i >= len(d.items[array]) {
		return quantity.Place{File: d.name}, ""
	}
	h := d.items[array][i]
	return h.place, h.excerpt
}

// read walks the expressions of a text; if one cannot be read it returns where and why.
func (d *Document) read(text []byte) (at int, message string, ok bool) {
	d.entries, d.headers, d.items = nil, nil, map[string][]header{}
	var p unstable.Parser
	p.Reset(text)
	section, count := "", map[string]int{}
	for p.NextExpression() {
		e := p.Expression()
		switch e.Kind {
		case unstable.Table, unstable.ArrayTable:
			path, start, _ := keyOf(e.Key(), section, count, true)
			h := d.header(path, start)
			if e.Kind == unstable.ArrayTable {
				n := count[path]
				count[path]++
				d.items[path] = append(d.items[path], h)
				section = fmt.Sprintf("%s[%d]", path, n)
				h.path = section
			} else {
				section = path
				d.entries = append(d.entries, Entry{Path: path, Kind: TableHeader, Place: h.place, ValuePlace: h.place, Excerpt: h.excerpt, start: h.start, end: h.end, section: path})
			}
			d.headers = append(d.headers, h)
		case unstable.KeyValue:
			d.keyValue(e, section, section, text)
			if n := len(d.headers); n > 0 {
				d.headers[n-1].bodyEnd = max(d.headers[n-1].bodyEnd, valueEnd(e, text))
			}
		}
	}
	if err := p.Error(); err != nil {
		var pe *unstable.ParserError
		if errors.As(err, &pe) {
			where := 0
			if len(pe.Highlight) > 0 {
				where = int(p.Range(pe.Highlight).Offset)
			}
			return where, strings.TrimPrefix(pe.Message, "toml: "), false
		}
		return 0, err.Error(), false
	}
	return 0, "", true
}

func (d *Document) header(path string, keyStart int) header {
	p := d.place(keyStart)
	start := d.lines[p.Line-1]
	for start < keyStart && d.data[start] != '[' {
		start++
	}
	end := start
	for end < len(d.data) && d.data[end] != '\n' && d.data[end] != '\r' {
		end++
	}
	return header{path: path, start: start, end: end, bodyEnd: end, place: d.place(start), excerpt: d.Line(p.Line)}
}

// keyOf joins the parts of a key below a section. A part that names an array of tables means
// its last item.
func keyOf(it unstable.Iterator, section string, count map[string]int, absolute bool) (path string, start, end int) {
	start = -1
	if !absolute {
		path = section
	}
	for it.Next() {
		k := it.Node()
		if start < 0 {
			start = int(k.Raw.Offset)
		}
		end = int(k.Raw.Offset + k.Raw.Length)
		if n := count[path]; path != "" && absolute && n > 0 {
			path = fmt.Sprintf("%s[%d]", path, n-1)
		}
		if path != "" {
			path += "."
		}
		path += string(k.Data)
	}
	return path, max(start, 0), end
}

var kinds = map[unstable.Kind]EntryKind{
	unstable.String: String, unstable.Integer: Integer, unstable.Float: Float, unstable.Bool: Bool, unstable.Array: Array, unstable.InlineTable: InlineTable,
	unstable.LocalDate: DateTime, unstable.LocalTime: DateTime, unstable.LocalDateTime: DateTime, unstable.DateTime: DateTime,
}

// keyValue lists a key and, for an inline table, the keys within. The bounds of its value are
// found in the text, since the parser does not give those of arrays and tables.
func (d *Document) keyValue(e *unstable.Node, parent, section string, text []byte) {
	path, start, keyEnd := keyOf(e.Key(), parent, nil, false)
	v := e.Value()
	from := valueStart(text, keyEnd)
	to := valueEnd(e, text)
	entry := Entry{
		Path: path, Kind: kinds[v.Kind], Place: d.place(start), ValuePlace: d.place(from), start: from, end: to, section: section,
	}
	entry.Excerpt = d.Line(entry.Place.Line)
	switch v.Kind {
	case unstable.InlineTable:
		entry.Value = string(text[from:to])
		d.entries = append(d.entries, entry)
		d.entries[len(d.entries)-1].Kind = InlineTable
		it := v.Children()
		for it.Next() {
			d.keyValue(it.Node(), path, section, text)
		}
		return
	case unstable.Array:
		entry.Value = string(text[from:to])
		it := v.Children()
		for it.Next() {
			el := it.Node()
			if el.Kind == unstable.Comment {
				continue
			}
			x := Element{Kind: kinds[el.Kind], Value: string(el.Data), Place: d.place(int(el.Raw.Offset))}
			if el.Raw.Length == 0 {
				x.Place = entry.ValuePlace
			}
			entry.Elements = append(entry.Elements, x)
		}
	default:
		entry.Value = string(v.Data)
	}
	d.entries = append(d.entries, entry)
}

// valueStart skips blanks and the equals sign behind a key.
func valueStart(text []byte, at int) int {
	for at < len(text) && (text[at] == ' ' || text[at] == '\t' || text[at] == '=') {
		at++
	}
	return at
}

// valueEnd is the end of a key's value: that of the key-value expression, which is known, less
// blanks behind it.
func valueEnd(e *unstable.Node, text []byte) int {
	_, _, keyEnd := keyOf(e.Key(), "", nil, false)
	v := e.Value()
	if v.Kind != unstable.Array && v.Kind != unstable.InlineTable && v.Raw.Length > 0 {
		return int(v.Raw.Offset + v.Raw.Length)
	}
	return scanValue(text, valueStart(text, keyEnd))
}

// scanValue walks over a value that is known to be valid and returns its end.
func scanValue(text []byte, at int) int {
	depth := 0
	for at < len(text) {
		switch c := text[at]; c {
		case '"', '\'':
			at = scanString(text, at)
			if depth == 0 {
				return at
			}
			continue
		case '[', '{':
			depth++
		case ']', '}':
			depth--
			if depth == 0 {
				return at + 1
			}
			if depth < 0 {
				return at
			}
		case '#':
			if depth == 0 {
				return trimBlank(text, at)
			}
			for at < len(text) && text[at] != '\n' {
				at++
			}
			continue
		case ',', '\n', '\r':
			if depth == 0 {
				return trimBlank(text, at)
			}
		}
		at++
	}
	return trimBlank(text, at)
}

func trimBlank(text []byte, at int) int {
	for at > 0 && (text[at-1] == ' ' || text[at-1] == '\t') {
		at--
	}
	return at
}

// scanString returns the end of a string that begins at an offset.
func scanString(text []byte, at int) int {
	q := text[at]
	if at+2 < len(text) && text[at+1] == q && text[at+2] == q {
		for at += 3; at+2 < len(text); at++ {
			if q == '"' && text[at] == '\\' {
				at++
				continue
			}
			if text[at] == q && text[at+1] == q && text[at+2] == q {
				at += 3
				for extra := 0; extra < 2 && at < len(text) && text[at] == q; extra++ {
					at++ // up to two quotes may stand right before the closing three
				}
				return at
			}
		}
		return len(text)
	}
	for at++; at < len(text); at++ {
		if q == '"' && text[at] == '\\' {
			at++
			continue
		}
		if text[at] == q {
			return at + 1
		}
	}
	return len(text)
}

// duplicates reports keys and sections that stand twice.
func (d *Document) duplicates() notice.List {
	var faults notice.List
	seen := map[string]Entry{}
	for _, e := range d.entries {
		id := strings.ToLower(e.Path)
		if first, twice := seen[id]; twice {
			what := e.Path + " stands twice"
			if e.Kind == TableHeader {
				what = "[" + e.Path + "] stands twice"
			}
			if e.Kind == TableHeader == (first.Kind == TableHeader) {
				faults = append(faults, notice.Notice{
					Kind: notice.Error, Place: e.Place, Path: e.Path, What: what,
					WayOut: fmt.Sprintf("keep one of the two; the first is on line %d", first.Place.Line), Excerpt: e.Excerpt,
				})
			}
			continue
		}
		seen[id] = e
	}
	return faults
}

// Quoted writes a basic string as TOML has it.
func Quoted(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\r':
			b.WriteString(`\r`)
		case r == '\t':
			b.WriteString(`\t`)
		case r < 0x20 || r == 0x7f:
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// written is a value as it stands in the text.
func written(value string, kind EntryKind) string {
	if kind == String {
		return Quoted(value)
	}
	return value
}

// Set returns the document with one value replaced in place, its comment and its neighbours
// untouched; a key that is not there is added at the end of its section, and a section that
// is not there at the end. Of a String the value is its text, of other kinds the token.
func (d *Document) Set(path, value string, kind EntryKind) (*Document, error) {
	for _, e := range d.entries {
		if e.Path == path && e.Kind != TableHeader {
			if e.Kind == kind && e.Value == value {
				return d, nil
			}
			return d.splice(e.start, e.end, written(value, kind))
		}
	}
	section, key := "", path
	if i := strings.LastIndexByte(path, '.'); i >= 0 {
		section, key = path[:i], path[i+1:]
	}
	line := bareKey(key) + " = " + written(value, kind)
	if section == "" {
		return d.insertTop(line)
	}
	for _, h := range d.headers {
		if h.path == section {
			return d.splice(h.bodyEnd2(d), h.bodyEnd2(d), d.eol()+line)
		}
	}
	// a section that is written by dotted keys below another, such as [built] nozzle.diameter
	if i := strings.LastIndexByte(section, '.'); i >= 0 {
		for _, h := range d.headers {
			if h.path == section[:i] {
				at := h.bodyEnd2(d)
				return d.splice(at, at, d.eol()+bareKey(section[i+1:])+"."+line)
			}
		}
	}
	if strings.Contains(section, "[") {
		return nil, fmt.Errorf("there is no %s to set %s in", section, key)
	}
	return d.appendBlock("[" + section + "]" + d.eol() + line)
}

// Remove returns the document without a key: its lines go, with the comment behind it. A key that is not
// there changes nothing. A key that shares its line with others cannot go alone.
func (d *Document) Remove(path string) (*Document, error) {
	for _, e := range d.entries {
		if e.Path != path || e.Kind == TableHeader {
			continue
		}
		start := d.lines[e.Place.Line-1]
		end := e.end
		for end < len(d.data) && d.data[end] != '\n' {
			end++
		}
		end = min(end+1, len(d.data))
		lead := d.data[start:d.offset(e.Place.Line, e.Place.Column)]
		rest := strings.TrimSpace(string(d.data[e.end:end]))
		if len(trimmed(lead)) > 0 || rest != "" && !strings.HasPrefix(rest, "#") {
			return nil, notice.List{{
				Kind: notice.Error, Place: e.Place, Path: path, Excerpt: e.Excerpt, What: path + " shares its line with other keys and cannot be taken out alone", WayOut: "take it out in a text editor",
			}}
		}
		return d.splice(start, end, "")
	}
	return d, nil
}

// trimmed is text without blanks and a byte order mark.
func trimmed(b []byte) string {
	return strings.TrimSpace(strings.TrimPrefix(string(b), byteOrderMark))
}

// bodyEnd2 is where a new line goes below a header: behind the last entry's line, comment
// included.
func (h header) bodyEnd2(d *Document) int {
	at := h.bodyEnd
	for at < len(d.data) && d.data[at] != '\n' && d.data[at] != '\r' {
		at++
	}
	return at
}

// insertTop adds a line ahead of the first section.
func (d *Document) insertTop(line string) (*Document, error) {
	end := 0
	for _, e := range d.entries {
		if e.Kind != TableHeader && e.section == "" {
			end = max(end, e.end)
		}
	}
	if end > 0 {
		for end < len(d.data) && d.data[end] != '\n' && d.data[end] != '\r' {
			end++
		}
		return d.splice(end, end, d.eol()+line)
	}
	if len(d.headers) > 0 {
		at := d.headers[0].start
		return d.splice(at, at, line+d.eol())
	}
	return d.appendBlock(line)
}

// Pair is a key and its value: the text of a String, the token of other kinds.
type Pair struct {
	Key, Value string
	Kind       EntryKind
}

// Append returns the document with a new item at the end of an array of tables, its keys in
// order.
func (d *Document) Append(array string, pairs []Pair) (*Document, error) {
	lines := []string{"[[" + array + "]]"}
	for _, p := range pairs {
		lines = append(lines, bareKey(p.Key)+" = "+written(p.Value, p.Kind))
	}
	block := strings.Join(lines, d.eol())
	items := d.items[array]
	if len(items) == 0 {
		return d.appendBlock(block)
	}
	last := items[len(items)-1]
	for _, h := range d.headers {
		if h.start == last.start {
			last = h
		}
	}
	// sub-tables of the last item stand behind it
	end := last.bodyEnd
	for _, h := range d.headers {
		if strings.HasPrefix(h.path, last.path+".") {
			end = max(end, h.bodyEnd)
		}
	}
	for end < len(d.data) && d.data[end] != '\n' && d.data[end] != '\r' {
		end++
	}
	if strings.TrimSpace(string(d.data[end:])) == "" {
		return d.appendBlock(block)
	}
	return d.splice(end, end, d.eol()+d.eol()+block)
}

// appendBlock adds lines at the end, a blank line before them.
func (d *Document) appendBlock(block string) (*Document, error) {
	n := len(d.data)
	lead := ""
	if strings.TrimSpace(strings.TrimPrefix(string(d.data), byteOrderMark)) != "" {
		lead = d.eol()
		if d.data[n-1] != '\n' {
			lead += d.eol()
		}
	}
	return d.splice(n, n, lead+block+d.eol())
}

// eol is the line end that the document uses.
func (d *Document) eol() string {
	if strings.Contains(string(d.data), "\r\n") {
		return "\r\n"
	}
	return "\n"
}

// splice replaces bytes and reads the outcome, which must be a document.
func (d *Document) splice(start, end int, text string) (*Document, error) {
	out := make([]byte, 0, len(d.data)+len(text))
	out = append(out, d.data[:start]...)
	out = append(out, text...)
	out = append(out, d.data[end:]...)
	doc, faults := ParseDocument(d.name, out)
	if err := faults.Fatal(); err != nil {
		return nil, err
	}
	return doc, nil
}

// bareKey writes a key, quoted where it has to be.
func bareKey(k string) string {
	if k == "" {
		return `""`
	}
	for _, r := range k {
		if !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '_' || r == '-') {
			return Quoted(k)
		}
	}
	return k
}
