package quantity

import "strconv"

// Place is a position in a text file. Line and Column count from 1, Column in
// characters; a zero Line means that there is none.
type Place struct {
	File         string
	Line, Column int
}

// String returns file:line:column, or an empty string for the zero Place.
func (p Place) String() string {
	if p.Line == 0 {
		return p.File
	}
	return p.File + ":" + strconv.Itoa(p.Line) + ":" + strconv.Itoa(p.Column)
}
