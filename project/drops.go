package project

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"time"
	"unicode"

	"jetwright/notice"
)

// Drops are logs that were handed over and wait to be adopted: copies, each in a folder of its own below one that
// goes when Close is called. The zero Drops is empty and ready. Its methods may be called from several goroutines.
type Drops struct {
	mu     sync.Mutex
	folder string
	files  map[string]string
	next   int
}

// Close removes the copies; what was handed over stands where it stood.
func (d *Drops) Close() {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.folder != "" {
		_ = os.RemoveAll(d.folder)
	}
}

// LogName holds a name to be that of a file and of nothing else.
func LogName(name string) (string, error) {
	name = strings.TrimSpace(name)
	if name == "" || name != filepath.Base(name) || strings.HasPrefix(name, ".") || strings.ContainsAny(name, `/\:`) || strings.ContainsFunc(name, unicode.IsControl) || len(name) > 200 {
		return "", notice.List{{Kind: notice.Error, What: fmt.Sprintf("%q is no name for a log", name), Allowed: "a plain file name such as scale.csv"}}
	}
	return name, nil
}

// Take copies a log; the copy is known by the id that is returned.
func (d *Drops) Take(name string, from io.Reader) (id, file string, err error) {
	if name, err = LogName(name); err != nil {
		return "", "", err
	}
	at, id, err := d.room()
	if err != nil {
		return "", "", err
	}
	file = filepath.Join(at, name)
	if err := copied(file, from); err != nil {
		_ = os.RemoveAll(at)
		return "", "", err
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	d.files[id] = file
	return id, file, nil
}

// room makes a folder for one copy.
func (d *Drops) room() (at, id string, err error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.folder == "" {
		if d.folder, err = os.MkdirTemp("", "jetwright-"); err != nil {
			return "", "", err
		}
		d.files = map[string]string{}
	}
	d.next++
	id = strconv.Itoa(d.next)
	at = filepath.Join(d.folder, id)
	return at, id, os.Mkdir(at, 0o700)
}

// copied writes a new file.
func copied(file string, from io.Reader) error {
	out, err := os.OpenFile(file, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	if _, err = io.Copy(out, from); err != nil {
		_ = out.Close()
		return err
	}
	if err := out.Close(); err != nil {
		return err
	}
	long := time.Now().Add(-time.Hour) // the copy is new, the log is not
	return os.Chtimes(file, long, long)
}

// Of returns the copy of an id.
func (d *Drops) Of(id string) (string, bool) {
	d.mu.Lock()
	defer d.mu.Unlock()
	f, ok := d.files[id]
	return f, ok
}

// Forget removes a copy.
func (d *Drops) Forget(id string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if f, ok := d.files[id]; ok {
		_ = os.RemoveAll(filepath.Dir(f))
		delete(d.files, id)
	}
}
