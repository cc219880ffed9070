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
	"time"

	"github.com/google/renameio/v2"

	"jetwright/notice"
	"jetwright/quantity"
)

// output is a file that is to be written. One that was read before is guarded: if it holds
// something else by now, it is not written over.
type output struct {
	path    string
	data    []byte
	guarded bool
	was     []byte // what it held when it was read; nil if it was not there
}

// replace writes files together, each whole or not at all: all of them are written beside their places
// and are safe on the disk before the first one takes its place. If one cannot be written, every place
// holds what it held.
func replace(outputs ...output) error {
	pending := make([]*renameio.PendingFile, 0, len(outputs))
	room := 0
	for _, o := range outputs {
		room += len(o.data)
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
		if _, err := f.Write(o.data); err != nil {
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
		return unwritten(o, len(o.data), err)
	}
	_, err = f.Write(o.data)
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err != nil {
		return unwritten(o, len(o.data), err)
	}
	return nil
}

// unchanged tells whether a guarded file still holds what was read.
func (o output) unchanged() error {
	if !o.guarded {
		return nil
	}
	now, err := os.ReadFile(o.path)
	if errors.Is(err, fs.ErrNotExist) && o.was == nil || err == nil && o.was != nil && bytes.Equal(now, o.was) {
		return nil
	}
	return notice.List{{
		Kind: notice.Error, Place: quantity.Place{File: o.path}, What: "another program changed it in the meantime; it stays as that program left it, and nothing was written",
		WayOut: "save and close it there, then give the command again",
	}}
}

// unwritten words why a file could not be written; room is what all that belongs to it takes.
func unwritten(o output, room int, err error) error {
	n := notice.Notice{
		Kind: notice.Error, Place: quantity.Place{File: o.path}, What: fmt.Sprintf("it cannot be written, and nothing was changed: %s; %s were to go there", plain(err), amount(len(o.data))),
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

// freshest is how long ago a file must have been written so that its time tells of a later change: some
// disks keep time by two seconds.
const freshest = 3 * time.Second

// errMoving is a file that changes while it is read.
type errMoving struct{ what string }

func (e errMoving) Error() string { return "it changes while it is read: " + e.what }

// readWhole reads a file as it stood at one moment, and tells when it was last written. A file that
// changes meanwhile is an errMoving. Meanwhile, which may be nil, is called after the reading and is for tests.
func readWhole(path string, meanwhile func()) (data []byte, written time.Time, err error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, written, err
	}
	defer f.Close()
	before, err := f.Stat()
	if err != nil {
		return nil, written, err
	}
	if before.IsDir() {
		return nil, written, errors.New("it is a folder")
	}
	if !before.Mode().IsRegular() {
		data, err = io.ReadAll(f)
		return data, time.Now(), err
	}
	data = make([]byte, before.Size())
	n, err := io.ReadFull(f, data)
	if data = data[:n]; err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
		return nil, written, err
	}
	if meanwhile != nil {
		meanwhile()
	}
	if err := sameStill(path, f, before, len(data)); err != nil {
		return nil, written, err
	}
	if time.Since(before.ModTime()) < freshest { // its time alone does not tell: look again
		again := make([]byte, 1<<20)
		for at := 0; at < len(data); {
			n, err := f.ReadAt(again[:min(len(again), len(data)-at)], int64(at))
			if err != nil && !errors.Is(err, io.EOF) {
				return nil, written, err
			}
			if n == 0 || !bytes.Equal(again[:n], data[at:at+n]) {
				return nil, written, errMoving{"other bytes stand there at a second look"}
			}
			at += n
		}
		if err := sameStill(path, f, before, len(data)); err != nil {
			return nil, written, err
		}
	}
	return data, before.ModTime(), nil
}

// sameStill tells whether an open file is as it was, and still the one of its name.
func sameStill(path string, f *os.File, before os.FileInfo, read int) error {
	after, err := f.Stat()
	if err != nil {
		return err
	}
	switch now, err := os.Stat(path); {
	case err != nil:
		return errMoving{"it was moved or deleted"}
	case !os.SameFile(now, before):
		return errMoving{"another file has taken its place"}
	case after.Size() > before.Size():
		return errMoving{fmt.Sprintf("it grew from %d to %d bytes", before.Size(), after.Size())}
	case after.Size() < before.Size():
		return errMoving{fmt.Sprintf("it shrank from %d to %d bytes", before.Size(), after.Size())}
	case int64(read) != before.Size():
		return errMoving{fmt.Sprintf("%d of its %d bytes could be read", read, before.Size())}
	case !after.ModTime().Equal(before.ModTime()):
		return errMoving{"it was written to"}
	}
	return nil
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
