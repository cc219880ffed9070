// Package notice holds everything that the program tells the builder and that is
// not a result: errors, warnings, cautions. A message is a value with a place, what
// is wrong, what is allowed and a way out. How it is worded:
//
//   - What begins with a small letter, names the thing as the builder wrote it and
//     gives the number that is wrong.
//   - Allowed says what would be right, with its number.
//   - WayOut says what to do, as an instruction, and is empty rather than trivial.
package notice

import (
	"fmt"
	"strings"

	"jetwright/quantity"
)

// Kind ranks a notice.
type Kind int8

// Kinds of notice, most severe first.
const (
	Error   Kind = iota // the input cannot be used
	Warning             // it can be used, but a result leans on something doubtful
	Caution             // somebody can be hurt
	Remark              // worth knowing
)

func (k Kind) String() string {
	return [...]string{"error", "warning", "caution", "remark"}[k]
}

// Notice is one message.
type Notice struct {
	Kind    Kind
	Place   quantity.Place // where: file, line, column; zero if it belongs to no text
	Path    string         // what it is about: "nozzle.diameter", may be empty
	What    string
	Allowed string
	WayOut  string
	Excerpt string // the line of text it points at, without its line end
}

// Error makes a Notice usable as an error: one line, place first.
func (n Notice) Error() string {
	var b strings.Builder
	if p := n.Place.String(); p != "" {
		b.WriteString(p + ": ")
	}
	b.WriteString(n.What)
	if n.Allowed != "" {
		b.WriteString("; " + n.Allowed)
	}
	if n.WayOut != "" {
		b.WriteString("; " + n.WayOut)
	}
	return b.String()
}

// Render writes a notice as text for a terminal: the line as in Error, then the
// excerpt with a caret below the column.
func (n Notice) Render() string {
	s := n.Error()
	if n.Kind != Error {
		s = n.Kind.String() + ": " + s
	}
	if n.Excerpt == "" || n.Place.Line == 0 {
		return s
	}
	pad := make([]rune, 0, n.Place.Column)
	for i, r := range []rune(n.Excerpt) {
		if i >= n.Place.Column-1 {
			break
		}
		if r != '\t' {
			r = ' '
		}
		pad = append(pad, r)
	}
	num := fmt.Sprintf("%5d | ", n.Place.Line)
	return s + "\n" + num + n.Excerpt + "\n" + strings.Repeat(" ", len(num)-2) + "| " + string(pad) + "^"
}

// List is several notices that are reported at once. As an error it holds at least
// one Notice of kind Error.
type List []Notice

// Error joins the notices, a line each.
func (l List) Error() string {
	lines := make([]string, len(l))
	for i, n := range l {
		lines[i] = n.Error()
	}
	return strings.Join(lines, "\n")
}

// Fatal returns the list as an error if it holds a notice of kind Error, else nil.
func (l List) Fatal() error {
	for _, n := range l {
		if n.Kind == Error {
			return l
		}
	}
	return nil
}
