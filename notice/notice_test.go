package notice

import (
	"errors"
	"strings"
	"testing"

	"jetwright/quantity"
)

// A notice is one line with its place first; rendered, it shows the line with a caret below
// the column, counted in characters and through tabs.
func TestRender(t *testing.T) {
	n := Notice{
		Place: quantity.Place{File: "drive.toml", Line: 12, Column: 10}, What: "wärmer is no unit", Allowed: "write mm", WayOut: "look at the unit",
		Excerpt: "\tbore = \"6 wärmer\"",
	}
	if got, want := n.Error(), "drive.toml:12:10: wärmer is no unit; write mm; look at the unit"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	lines := strings.Split(n.Render(), "\n")
	if len(lines) != 3 {
		t.Fatalf("%q", lines)
	}
	bar := strings.IndexByte(lines[1], '|')
	if strings.IndexByte(lines[2], '|') != bar {
		t.Errorf("the bars do not stand below each other: %q", lines)
	}
	if got := lines[2][bar+2:]; got != "\t        ^" {
		t.Errorf("the caret stands behind %q", got)
	}
	n.Kind, n.Excerpt = Warning, ""
	if got := n.Render(); !strings.HasPrefix(got, "warning: drive.toml:12:10") || strings.Contains(got, "\n") {
		t.Errorf("%q", got)
	}
}

// A list is an error only if one of its notices is.
func TestFatal(t *testing.T) {
	l := List{{Kind: Warning, What: "a"}, {Kind: Remark, What: "b"}}
	if l.Fatal() != nil {
		t.Error("warnings are fatal")
	}
	l = append(l, Notice{Kind: Error, What: "c"})
	err := l.Fatal()
	var back List
	if !errors.As(err, &back) || len(back) != 3 || err.Error() != "a\nb\nc" {
		t.Errorf("%v", err)
	}
}
