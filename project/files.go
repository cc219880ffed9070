package project

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"

	"github.com/google/renameio/v2"

	"jetwright/notice"
	"jetwright/quantity"
)

// output is a file that is to be written. One that was read before is guarded: if it holds
// something else by now, it is not written over.
type output struct {
	path    string
	data    []byte
	log     *still         // copied in place of data, if there is one
	told    func(done int) // of it; may be nil
	guarded bool
	was     []byte // what it held when it was read; nil if it was not there
}

// size is how many bytes are to go there.
func (o output) size() int {
	if o.log != nil {
		return int(o.log.size)
	}
	return len(o.data)
}

// writeTo writes what is to go there.
func (o output) writeTo(w io.Writer) error {
	if o.log == nil {
		_, err := w.Write(o.data)
		return err
	}
	return o.log.copyTo(w, o.told)
}

// replace writes files together, each whole or not at all: all of them are written beside their places
// and are safe on the disk before the first one takes its place. If one cannot be written, every place
// holds what it held.
func replace(outputs ...output) error {
	pending := make([]*renameio.PendingFile, 0, len(outputs))
	room := 0
	for _, o := range outputs {
		room += o.size()
	}
	defer func() {
		for _, f := range pending {
			_ = f.Cleanup() // does nothing once the file stands in its place
		}
	}()
	for i := range outputs {
		o := &outputs[i]
		if target, err := filepath.EvalSymlinks(o.path); err == nil {
			o.path = target // the link stays a link
		}
		info, err := os.Stat(o.path)
		switch {
		case err != nil:
		case info.IsDir():
			return notice.List{{Kind: notice.Error, Place: quantity.Place{File: o.path}, What: "it is a folder; nothing was written", WayOut: "name a file"}}
		case !info.Mode().IsRegular():
			return poured(*o)
		case info.Mode().Perm()&0o222 == 0:
			return notice.List{{Kind: notice.Error, Place: quantity.Place{File: o.path}, What: "it is write-protected, and nothing was changed", WayOut: "take the protection off, or name another file"}}
		}
		f, err := renameio.NewPendingFile(o.path, renameio.WithTempDir(filepath.Dir(o.path)), renameio.WithPermissions(0o644), renameio.WithExistingPermissions())
		if err != nil {
			return unwritten(*o, room, err)
		}
		pending = append(pending, f)
		if err := o.writeTo(f); err != nil {
			return unwritten(*o, room, err)
		}
		if err := f.Sync(); err != nil {
			return unwritten(*o, room, err)
		}
	}
	for _, o := range outputs {
		if err := o.unchanged(); err != nil {
			return err
		}
	}
	for i, f := range pending {
		if err := f.CloseAtomicallyReplace(); err != nil {
			return unwritten(outputs[i], room, err)
		}
	}
	for _, o := range outputs {
		if d, err := os.Open(filepath.Dir(o.path)); err == nil {
			_ = d.Sync() // the new name as well; not every system can
			_ = d.Close()
		}
	}
	return nil
}

// poured writes to what is no file on a disk, such as a pipe.
func poured(o output) error {
	f, err := os.OpenFile(o.path, os.O_WRONLY, 0)
	if err != nil {
		return unwritten(o, o.size(), err)
	}
	err = o.writeTo(f)
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err != nil {
		return unwritten(o, o.size(), err)
	}
	return nil
}

// unchanged tells whether a guarded file still holds what was read.
func (o output) unchanged() error {
	if !o.guarded {
		return nil
	}
	if o.was == nil {
		if _, err := os.Stat(o.path); errors.Is(err, fs.ErrNotExist) {
			return nil
		}
	} else if now, err := os.ReadFile(o.path); err == nil && bytes.Equal(now, o.was) {
		return nil
	}
	return notice.List{{
		Kind: notice.Error, Place: quantity.Place{File: o.path}, What: "another program changed it in the meantime; it stays as that program left it, and nothing was written",
		WayOut: "save and close it there, then give the command again",
	}}
}

// unwritten words why a file could not be written; room is what all that belongs to it takes.
func unwritten(o output, room int, err error) error {
	var said notice.List
	if errors.As(err, &said) { // the log that was to go there cannot be read
		return said
	}
	n := notice.Notice{
		Kind: notice.Error, Place: quantity.Place{File: o.path}, What: fmt.Sprintf("it cannot be written, and nothing was changed: %s; %s were to go there", plain(err), amount(o.size())),
		WayOut: "name another place, or look at " + filepath.Dir(o.path),
	}
	switch {
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT):
		n.WayOut = fmt.Sprintf("make room for %s on the disk that holds %s", amount(room), filepath.Dir(o.path))
	case errors.Is(err, syscall.EROFS):
		n.WayOut = "the disk can only be read: name another place, or copy the folder to a disk that can be written"
	case errors.Is(err, fs.ErrPermission):
		n.WayOut = "look at the permissions of " + filepath.Dir(o.path) + ", or name another place"
	case errors.Is(err, syscall.EFBIG):
		n.WayOut = "the system limits how long a file may be there: name another place"
	}
	return notice.List{n}
}

// amount words a number of bytes.
func amount(n int) string {
	if n == 1 {
		return "1 byte"
	}
	return fmt.Sprintf("%d bytes", n)
}

// unread words why a log could not be read.
func unread(n notice.Notice, name string, err error) notice.List {
	n.Kind, n.What = notice.Error, name+" cannot be read: "+plain(err)
	var moving errMoving
	switch {
	case errors.As(err, &moving):
		n.WayOut = "end the program that writes it, or copy it first and take the copy; nothing was taken in"
	case errors.Is(err, fs.ErrPermission):
		n.WayOut = "look at its permissions"
	}
	return notice.List{n}
}
