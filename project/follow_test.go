package project

import (
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf16"
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

// UTF-16 is handed out as UTF-8, however it is torn, also from the middle of a long file and after it began
// anew in another encoding.
func TestFollowWide(t *testing.T) {
	wide := func(s string, bigEndian bool) string {
		var b []byte
		for _, u := range utf16.Encode([]rune(s)) {
			if bigEndian {
				b = append(b, byte(u>>8), byte(u))
			} else {
				b = append(b, byte(u), byte(u>>8))
			}
		}
		return string(b)
	}
	line := "temp °C Ω 𝛥 ਊ,1.5\n" // the last but one holds a line end's byte twice
	for _, bigEndian := range []bool{false, true} {
		path := filepath.Join(t.TempDir(), "log.csv")
		text := wide("\ufeff"+strings.Repeat(line, 3000), bigEndian)
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		tail, err := follow(path, 1<<12)
		if err != nil {
			t.Fatal(err)
		}
		defer tail.Close()
		if h := string(tail.Head()); !strings.HasPrefix(h, line) {
			t.Errorf("its head is %.30q", h)
		}
		lines, _ := tail.Poll()
		if n := len(lines); n < 50 || n > 200 || lines[n-1].Number != 3000 || string(lines[0].Text)+"\n" != line {
			t.Errorf("%d lines, the first is %+v", n, lines[0])
		}
		f, err := os.OpenFile(path, os.O_APPEND|os.O_WRONLY, 0)
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for _, b := range []byte(wide(strings.Repeat(line, 5), bigEndian)) {
			if _, err := f.Write([]byte{b}); err != nil {
				t.Fatal(err)
			}
			more, _ := tail.Poll()
			for _, l := range more {
				n++
				if string(l.Text)+"\n" != line || l.Number != 3000+n {
					t.Errorf("%+v", l)
				}
			}
		}
		if n != 5 {
			t.Errorf("%d lines of 5 came", n)
		}
		_ = f.Close()
		if err := os.WriteFile(path, []byte("plain,2\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		_, gone := tail.Poll()
		lines, _ = tail.Poll()
		if gone == "" || texts(lines) != "plain,2" {
			t.Errorf("%q, %q", gone, texts(lines))
		}
	}
}

// Whatever bytes a log holds and however they come, its lines come once, in order, and are UTF-8 where they were
// UTF-16.
func FuzzFollow(f *testing.F) {
	f.Add([]byte("time,power\n0,1\n1,2\n"), uint8(3))
	f.Add([]byte("\xff\xfet\x00\n\x00\x3d\xd8"), uint8(1))
	f.Add([]byte{0, 't', 0, '\n', 0}, uint8(2))
	f.Add([]byte("\n\n\r\n"), uint8(0))
	f.Fuzz(func(t *testing.T, data []byte, step uint8) {
		tail := &Tail{line: 1}
		var lines []TailLine
		for at := 0; at < len(data); {
			n := min(len(data)-at, 1+int(step)%7)
			tail.take(append([]byte(nil), data[at:at+n]...), &lines)
			at += n
		}
		for i, l := range lines {
			if l.Number != i+1 || strings.ContainsRune(string(l.Text), '\n') {
				t.Fatalf("line %d is %+v", i+1, l)
			}
		}
		if whole := tell(data); !whole.on && len(data) >= wideTold {
			want := strings.Count(string(data), "\n")
			if len(lines) != want {
				t.Fatalf("%d lines of %d", len(lines), want)
			}
		} else if whole.on {
			text := string(whole.utf8(append([]byte(nil), data...)))
			if len(lines) != strings.Count(text, "\n") {
				t.Fatalf("%d lines of %q", len(lines), text)
			}
		}
	})
}
