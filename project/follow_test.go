package project

import (
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func texts(lines []TailLine) string {
	var s []string
	for _, l := range lines {
		s = append(s, string(l.Text))
	}
	return strings.Join(s, "|")
}

// A growing file is handed out by whole lines; one that is cut short, replaced or gone is named and
// begun anew.
func TestFollow(t *testing.T) {
	path := filepath.Join(t.TempDir(), "log.csv")
	put := func(flag int, text string) {
		t.Helper()
		f, err := os.OpenFile(path, os.O_CREATE|os.O_WRONLY|flag, 0o644)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := f.WriteString(text); err != nil {
			t.Fatal(err)
		}
		if err := f.Close(); err != nil {
			t.Fatal(err)
		}
	}
	put(os.O_APPEND, "\ufefftime,power\n0,1\n1,")
	tail, err := Follow(path)
	if err != nil {
		t.Fatal(err)
	}
	defer tail.Close()
	expect := func(want string, past bool, number int, gone string) {
		t.Helper()
		lines, why := tail.Poll()
		if texts(lines) != want || !strings.Contains(why, gone) || (gone == "") != (why == "") {
			t.Errorf("got %q, %q, want %q, %q", texts(lines), why, want, gone)
		}
		for i, l := range lines {
			if l.Past != past || l.Number != number+i {
				t.Errorf("line %+v, want past %v, number %d", l, past, number+i)
			}
		}
	}
	if string(tail.Head()) != "\ufefftime,power\n0,1\n1," {
		t.Errorf("head %q", tail.Head())
	}
	expect("time,power|0,1", true, 1, "")
	expect("", false, 0, "")
	put(os.O_APPEND, "20\n2,30\n3")
	expect("1,20|2,30", false, 3, "")
	put(os.O_APPEND, ",40\n")
	expect("3,40", false, 5, "")
	put(os.O_TRUNC, "time,power\n9,1\n")
	expect("", false, 0, "cut short")
	expect("time,power|9,1", false, 1, "")
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	expect("", false, 0, "moved or deleted")
	expect("", false, 0, "")
	put(os.O_APPEND, "time,power\n")
	lines, gone := tail.Poll()
	more, _ := tail.Poll()
	if gone == "" && len(lines) == 0 || texts(append(lines, more...)) != "time,power" {
		t.Errorf("a file that came back: %q, %q, %q", texts(lines), gone, texts(more))
	}
}

// Of a long file the end alone is handed out, and its lines bear their own numbers.
func TestFollowLong(t *testing.T) {
	path := filepath.Join(t.TempDir(), "log.csv")
	const n = 20000
	if err := os.WriteFile(path, []byte(strings.Repeat("0123456789\n", n)), 0o644); err != nil {
		t.Fatal(err)
	}
	tail, err := follow(path, 1<<16)
	if err != nil {
		t.Fatal(err)
	}
	defer tail.Close()
	lines, _ := tail.Poll()
	if len(lines) < 5000 || len(lines) > 6000 || lines[len(lines)-1].Number != n || string(lines[0].Text) != "0123456789" {
		t.Errorf("%d lines, the first is %+v, the last is %+v", len(lines), lines[0], lines[len(lines)-1])
	}
}

// A stream ends once, and what has no end of line is no line.
func TestFollowStream(t *testing.T) {
	r, w := io.Pipe()
	tail := FollowStream(r)
	go func() {
		_, _ = io.WriteString(w, "a\nb\nhalf")
		_ = w.Close()
	}()
	var got []TailLine
	gone := ""
	for gone == "" {
		var lines []TailLine
		lines, gone = tail.Poll()
		got = append(got, lines...)
	}
	if texts(got) != "a|b" || got[1].Number != 2 || !strings.Contains(gone, "ended") {
		t.Errorf("%q, %q", texts(got), gone)
	}
	if _, again := tail.Poll(); again != "" {
		t.Errorf("it ends twice: %q", again)
	}
}

// What cannot be followed is named.
func TestFollowFaults(t *testing.T) {
	for _, path := range []string{filepath.Join(t.TempDir(), "nothere.csv"), t.TempDir()} {
		if _, err := Follow(path); err == nil || !strings.Contains(err.Error(), path) {
			t.Errorf("%s: %v", path, err)
		}
	}
}
