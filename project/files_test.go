package project

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"sync/atomic"
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
func TestStill(t *testing.T) {
	read := func(path string, meanwhile func()) (string, *still, error) {
		in, err := openStill(path)
		if err != nil {
			return "", nil, err
		}
		defer in.close()
		data, err := io.ReadAll(io.NewSectionReader(in, 0, in.size))
		if err != nil {
			t.Fatal(err)
		}
		meanwhile()
		digest, err := in.settled()
		if err == nil && digest != sha(data) {
			t.Errorf("the digest of %q is %s", data, digest)
		}
		return string(data), in, err
	}
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
		_, _, err := read(path, meanwhile)
		var moving errMoving
		if !errors.As(err, &moving) || !strings.Contains(err.Error(), want) {
			t.Errorf("want %q, got %v", want, err)
		}
	}
	put(t, path, "0,1\n1,2\n")
	data, in, err := read(path, func() {})
	if err != nil || data != "0,1\n1,2\n" || time.Since(in.written) > time.Minute {
		t.Errorf("%q, %v, %v", data, in, err)
	}
	if _, err := openStill(filepath.Dir(path)); err == nil || !strings.Contains(err.Error(), "folder") {
		t.Errorf("a folder: %v", err)
	}
}

func sha(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// A log that changes between its reading and its copying is refused in words of the log, whatever its time says, and
// nothing is left of the copy.
func TestCopyWhatWasRead(t *testing.T) {
	folder := t.TempDir()
	path, place := filepath.Join(folder, "log.csv"), filepath.Join(folder, "there.csv")
	rows := strings.Repeat("0,1\n1,2\n", 400000) // more than a block
	put(t, path, rows)
	old := time.Now().Add(-time.Hour)
	if err := os.Chtimes(path, old, old); err != nil {
		t.Fatal(err)
	}
	in, err := openStill(path)
	if err != nil {
		t.Fatal(err)
	}
	defer in.close()
	if digest, err := in.settled(); err != nil || digest != sha([]byte(rows)) {
		t.Fatalf("%s, %v", digest, err)
	}
	done := 0
	copied := output{path: place, log: in, told: func(n int) { done = n }, guarded: true}
	if err := replace(copied); err != nil || got(t, place) != rows || done != len(rows) {
		t.Errorf("%v, told of %d bytes", err, done)
	}
	if err := replace(copied); err == nil || !strings.Contains(err.Error(), "another program changed it") {
		t.Errorf("a copy went over what stands there: %v", err)
	}
	if err := os.Remove(place); err != nil {
		t.Fatal(err)
	}
	put(t, path, rows[:len(rows)-2]+"3\n")
	if err := os.Chtimes(path, old, old); err != nil {
		t.Fatal(err)
	}
	if err := replace(copied); err == nil || !strings.Contains(err.Error(), path+": the log cannot be read: it changes while it is read: other bytes stand there at a second look") {
		t.Errorf("another log was copied than was read: %v", err)
	}
	if entries, err := os.ReadDir(folder); err != nil || len(entries) != 1 {
		t.Errorf("something is left behind: %v, %v", entries, err)
	}
}

// A log is copied to the byte and its digest is that of all its bytes, also of those that the reading of its text
// passes over or goes through twice, and of what comes by a pipe.
func TestAdoptedBytes(t *testing.T) {
	p, folder := scene(t)
	rows := "time [s],power [W]\n" + strings.Repeat("0,1\n1,2\n2,3\n", 200000)
	wide := []byte{0xff, 0xfe}
	for _, c := range []byte(rows) {
		wide = append(wide, c, 0)
	}
	for name, data := range map[string][]byte{
		"plain.csv":  []byte(rows),
		"marked.csv": []byte("\ufeff" + rows),
		"wide.csv":   append(wide, 'x'), // half a character at its end
		"late.csv":   []byte(rows + "3,4,M\xfcller\n"),
		"pipe.csv":   []byte(rows),
	} {
		log := filepath.Join(t.TempDir(), name)
		if name == "pipe.csv" {
			if err := syscall.Mkfifo(log, 0o600); err != nil {
				t.Fatal(err)
			}
			go func() { _ = os.WriteFile(log, data, 0) }()
		} else {
			put(t, log, string(data))
		}
		a, err := p.Adopt(name, []string{log}, nil)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		there := filepath.Join(folder, RunsFolder, name)
		if got(t, filepath.Join(there, name)) != string(data) {
			t.Errorf("%s is not what was copied", name)
		}
		if want := fmt.Sprintf("bytes = %d\nsha256 = %q\n", len(data), sha(data)); a[0].Rows < 600000 || !strings.Contains(got(t, filepath.Join(there, RunFile)), want) {
			t.Errorf("%s: %d rows, want %q in %s", name, a[0].Rows, want, got(t, filepath.Join(there, RunFile)))
		}
	}
}

// A log is never held whole: to adopt one of long words and to read it again takes a fraction of its size in all that
// is ever asked of memory.
func TestLargeLogsStream(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(2)) // each has a block of its own
	p, folder := scene(t)
	log := filepath.Join(t.TempDir(), "long.csv")
	var b strings.Builder
	b.WriteString("time [s],power [W],words\n")
	for i := range 32000 {
		fmt.Fprintf(&b, "%d,%d,%s\n", i, i%500, strings.Repeat("word", 250))
	}
	put(t, log, b.String())
	size := uint64(b.Len())
	asked := func(what string, do func() error) {
		t.Helper()
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		if err := do(); err != nil {
			t.Fatal(err)
		}
		runtime.ReadMemStats(&after)
		if n := after.TotalAlloc - before.TotalAlloc; n > size/2 {
			t.Errorf("%s takes %d bytes for a log of %d", what, n, size)
		}
	}
	asked("adopting", func() error {
		_, err := p.Adopt("day", []string{log}, nil)
		return err
	})
	p, err := Open(folder)
	if err != nil {
		t.Fatal(err)
	}
	var told atomic.Int64 // by any goroutine
	p.Progress = func(file string, done, total int) {
		if file != "runs/day/long.csv" || uint64(total) != size {
			t.Errorf("told of %d bytes of %s", total, file)
		}
		if done == total {
			told.Add(1)
		}
	}
	for i := range p.Runs {
		if p.Runs[i].Name == "day" {
			asked("reading", func() error {
				_, _, err := p.Sources(&p.Runs[i])
				return err
			})
		}
	}
	if told.Load() == 0 {
		t.Error("the end of the log was not told")
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
