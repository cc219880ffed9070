package project

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
)

func put(t testing.TB, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func got(t testing.TB, path string) string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// A file that changes between the first and the last look at it is named, however it changes; one that
// stands still is read.
func TestReadWhole(t *testing.T) {
	path := filepath.Join(t.TempDir(), "log.csv")
	old := time.Now().Add(-time.Hour)
	add := func(text string) {
		f, err := os.OpenFile(path, os.O_APPEND|os.O_WRONLY, 0o644)
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
	for want, meanwhile := range map[string]func(){
		"grew from 8 to 12 bytes":         func() { add("2,3\n") },
		"shrank from 8 to 4 bytes":        func() { put(t, path, "0,1\n") },
		"was written to":                  func() { put(t, path, "0,2\n1,3\n") },
		"moved or deleted":                func() { _ = os.Remove(path) },
		"another file has taken its plac": func() { put(t, path+".next", "0,1\n1,2\n"); _ = os.Rename(path+".next", path) },
		"other bytes stand there at a second look": func() { // a disk that keeps time coarsely
			info, err := os.Stat(path)
			if err != nil {
				t.Fatal(err)
			}
			put(t, path, "0,2\n1,3\n")
			if err := os.Chtimes(path, info.ModTime(), info.ModTime()); err != nil {
				t.Fatal(err)
			}
		},
	} {
		put(t, path, "0,1\n1,2\n")
		at := old
		if strings.HasPrefix(want, "other bytes") {
			at = time.Now().Add(time.Hour) // fresh, however slow the test is
		}
		if err := os.Chtimes(path, at, at); err != nil {
			t.Fatal(err)
		}
		_, _, err := readWhole(path, meanwhile)
		var moving errMoving
		if !errors.As(err, &moving) || !strings.Contains(err.Error(), want) {
			t.Errorf("want %q, got %v", want, err)
		}
	}
	put(t, path, "0,1\n1,2\n")
	data, written, err := readWhole(path, func() {})
	if err != nil || string(data) != "0,1\n1,2\n" || time.Since(written) > time.Minute {
		t.Errorf("%q, %v, %v", data, written, err)
	}
	if _, _, err := readWhole(filepath.Dir(path), nil); err == nil || !strings.Contains(err.Error(), "folder") {
		t.Errorf("a folder: %v", err)
	}
}

// A log whose first and then last row are written anew again and again while it is adopted is adopted as it
// stood at one moment, or refused: the last row is never newer than the first, nor older by two.
func TestAdoptWhileWritten(t *testing.T) {
	p, folder := scene(t)
	log := filepath.Join(t.TempDir(), "log.csv")
	const head = "time [s],power [W]\n"
	row := func(n int) string { return fmt.Sprintf("%06d,1000\n", n) }
	whole := head + row(0) + strings.Repeat("0000.5,1000\n", 50000) + row(0)
	put(t, log, whole)
	done, ended := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(ended)
		f, err := os.OpenFile(log, os.O_WRONLY, 0)
		if err != nil {
			t.Error(err)
			return
		}
		defer f.Close()
		for n := 1; ; n++ {
			select {
			case <-done:
				return
			case <-time.After(time.Millisecond):
			}
			_, _ = f.WriteAt([]byte(row(n)), int64(len(head)))
			_, _ = f.WriteAt([]byte(row(n)), int64(len(whole)-len(row(0))))
		}
	}()
	refused := 0
	for i := range 30 {
		run := fmt.Sprintf("run-%d", i)
		_, err := p.Adopt(run, []string{log}, nil)
		there := filepath.Join(folder, RunsFolder, run)
		if err != nil {
			refused++
			if !strings.Contains(err.Error(), "changes while it is read") {
				t.Fatal(err)
			}
			if _, err := os.Stat(there); err == nil {
				t.Fatal("a refused log left a folder")
			}
			continue
		}
		c := got(t, filepath.Join(there, "log.csv"))
		first, err1 := strconv.Atoi(c[len(head) : len(head)+6])
		last, err2 := strconv.Atoi(c[len(c)-len(row(0)) : len(c)-len(row(0))+6])
		if err1 != nil || err2 != nil || last > first || last < first-1 {
			t.Fatalf("its first row is of %d and its last of %d", first, last)
		}
	}
	close(done)
	<-ended
	t.Logf("%d of 30 were refused", refused)
}

// A log that is adopted keeps its length and its digest; one that is edited afterwards is told of, and read.
func TestAdoptedChanges(t *testing.T) {
	p, folder := scene(t)
	log := filepath.Join(t.TempDir(), "esc.csv")
	ahead := time.Now().Add(time.Hour) // fresh, however slow the test is
	rows := "time [s],power [W]\n0,1.0\n1,2.0\n2,3.0\n"
	put(t, log, rows)
	if err := os.Chtimes(log, ahead, ahead); err != nil {
		t.Fatal(err)
	}
	a, err := p.Adopt("day", []string{log}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(a) != 1 || len(a[0].Notices) == 0 || !strings.Contains(a[0].Notices.Error(), "if a program still writes it, the run holds its first 3 rows") {
		t.Errorf("a log of this moment is taken without a word: %+v", a[0].Notices)
	}
	in := filepath.Join(folder, RunsFolder, "day", "esc.csv")
	said := func() string {
		t.Helper()
		p, err := Open(folder)
		if err != nil {
			t.Fatal(err)
		}
		for i := range p.Runs {
			if p.Runs[i].Name == "day" {
				_, faults, err := p.Sources(&p.Runs[i])
				if err != nil {
					return err.Error()
				}
				return faults.Error()
			}
		}
		t.Fatal("the run is gone")
		return ""
	}
	if s := said(); s != "" {
		t.Errorf("it is as it was, and it says %q", s)
	}
	put(t, in, strings.Replace(rows, "3.0", "9.0", 1))
	if s := said(); !strings.Contains(s, "run.toml:12:10: esc.csv changed since it was adopted: it has as many bytes, and others") {
		t.Errorf("edited: %q", s)
	}
	put(t, in, rows+"3,4.0\n")
	if s := said(); !strings.Contains(s, "run.toml:11:9: esc.csv changed since it was adopted: it had 37 bytes and has 43") {
		t.Errorf("longer: %q", s)
	}
	put(t, in, "")
	if s := said(); !strings.Contains(s, "run.toml:2:8: esc.csv is empty; it had 37 bytes when it was adopted") {
		t.Errorf("empty: %q", s)
	}
	sheet := filepath.Join(folder, RunsFolder, "day", RunFile)
	put(t, in, rows+"3,4.0\n")
	put(t, sheet, strings.NewReplacer("bytes =", "#", "sha256 =", "#").Replace(got(t, sheet)))
	if s := said(); s != "" {
		t.Errorf("without what is to be compared it says %q", s)
	}
}

// What another program wrote since a file was read is not written over.
func TestEditedMeanwhile(t *testing.T) {
	p, folder := scene(t)
	path := filepath.Join(folder, DesignFile)
	edited := got(t, path) + "# a thought that must not be lost\n"
	put(t, path, edited)
	if err := p.Set("nozzle.diameter", "59 mm"); err == nil || !strings.Contains(err.Error(), "another program changed it") {
		t.Errorf("it was written over: %v", err)
	}
	if got(t, path) != edited {
		t.Error("the edit is lost")
	}
	o := output{path: filepath.Join(folder, "new.toml"), data: []byte("a"), guarded: true}
	put(t, o.path, "b")
	if err := replace(o); err == nil || got(t, o.path) != "b" {
		t.Errorf("a file that came in between was written over: %v", err)
	}
}

// A file that is written over stays what it was: a link, private, protected, a pipe.
func TestReplaceKeeps(t *testing.T) {
	folder := t.TempDir()
	real, link := filepath.Join(folder, "real.txt"), filepath.Join(folder, "link.txt")
	put(t, real, "old")
	if err := os.Chmod(real, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("real.txt", link); err != nil {
		t.Fatal(err)
	}
	if err := Save(link, []byte("new")); err != nil {
		t.Fatal(err)
	}
	info, err := os.Lstat(link)
	if err != nil || info.Mode()&os.ModeSymlink == 0 || got(t, real) != "new" {
		t.Errorf("the link is no link any more: %v, %v", info, err)
	}
	if info, err := os.Stat(real); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("a private file became %v, %v", info.Mode(), err)
	}
	if err := os.Chmod(real, 0o444); err != nil {
		t.Fatal(err)
	}
	if err := Save(real, []byte("newer")); err == nil || !strings.Contains(err.Error(), "write-protected") || got(t, real) != "new" {
		t.Errorf("a protected file: %v", err)
	}
	pipe := filepath.Join(folder, "pipe")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	read := make(chan string, 1)
	go func() {
		b, _ := os.ReadFile(pipe)
		read <- string(b)
	}()
	if err := Save(pipe, []byte("poured")); err != nil {
		t.Error(err)
	} else if s := <-read; s != "poured" {
		t.Errorf("the pipe gave %q", s)
	}
	if info, err := os.Lstat(pipe); err != nil || info.Mode()&os.ModeNamedPipe == 0 {
		t.Errorf("the pipe was replaced: %v, %v", info, err)
	}
	entries, err := os.ReadDir(folder)
	if err != nil || len(entries) != 3 {
		t.Errorf("something is left behind: %v, %v", entries, err)
	}
}
