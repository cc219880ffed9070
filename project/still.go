package project

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"hash"
	"io"
	"os"
	"sync"
	"time"

	"jetwright/bench"
	"jetwright/notice"
	"jetwright/quantity"
)

// freshest is how long ago a file must have been written so that its time tells of a later change: some
// disks keep time by two seconds.
const freshest = 3 * time.Second

// errMoving is a file that changes while it is read.
type errMoving struct{ what string }

func (e errMoving) Error() string { return "it changes while it is read: " + e.what }

// still is a file that is read in blocks, as often as is needed and never whole, and that has to stand still
// meanwhile: what was read is what it held at one moment, or settled and copyTo return an errMoving. What is no file
// on a disk, such as a pipe, can be read once only, and is held.
type still struct {
	path    string
	file    *os.File
	before  os.FileInfo // nil if it is held
	from    io.ReaderAt
	size    int64 // bytes
	written time.Time

	mu     sync.Mutex
	sum    hash.Hash // SHA-256 of its first bytes, as they were read first
	summed int64     // how many
}

// openStill opens a file to be read as it stands now.
func openStill(path string) (*still, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	info, err := f.Stat()
	if err == nil && info.IsDir() {
		err = errors.New("it is a folder")
	}
	if err == nil && info.Mode().IsRegular() {
		return &still{path: path, file: f, before: info, from: f, size: info.Size(), written: info.ModTime(), sum: sha256.New()}, nil
	}
	var data []byte
	if err == nil {
		data, err = io.ReadAll(f)
	}
	if err != nil {
		_ = f.Close()
		return nil, err
	}
	return &still{path: path, file: f, from: bytes.NewReader(data), size: int64(len(data)), written: time.Now(), sum: sha256.New()}, nil
}

func (s *still) close() { _ = s.file.Close() }

// ReadAt reads a block. Blocks in their order from the beginning are summed as they pass.
func (s *still) ReadAt(block []byte, at int64) (int, error) {
	n, err := s.from.ReadAt(block, at)
	s.mu.Lock()
	defer s.mu.Unlock()
	if known := s.summed - at; known >= 0 && known < int64(n) {
		_, _ = s.sum.Write(block[known:n]) // a hash takes all
		s.summed = at + int64(n)
	}
	return n, err
}

// blocks hands a file from a place to its end to a writer.
func (s *still) blocks(from io.ReaderAt, at int64, to io.Writer) (int64, error) {
	// A bare writer: what io.Discard reads by itself is not read in blocks of this length.
	return io.CopyBuffer(struct{ io.Writer }{to}, io.NewSectionReader(from, at, s.size-at), make([]byte, min(1<<20, s.size-at)+1))
}

// settled ends the first reading and returns the SHA-256 of what was read, in hexadecimal digits.
func (s *still) settled() (digest string, err error) {
	if _, err := s.blocks(s, s.summed, io.Discard); err != nil { // what nobody asked for
		return "", err
	}
	digest = hex.EncodeToString(s.sum.Sum(nil))
	if err := s.same(s.summed); err != nil {
		return "", err
	}
	if time.Since(s.written) < freshest { // its time alone does not tell: look again
		if err := s.again(io.Discard); err != nil {
			return "", err
		}
	}
	return digest, nil
}

// again hands all of a settled file to a writer, and tells whether it is what was read first.
func (s *still) again(to io.Writer) error {
	sum := sha256.New()
	n, err := s.blocks(s.from, 0, io.MultiWriter(sum, to))
	if err != nil {
		return err
	}
	if err := s.same(n); err != nil {
		return err
	}
	if !bytes.Equal(sum.Sum(nil), s.sum.Sum(nil)) {
		return errMoving{"other bytes stand there at a second look"}
	}
	return nil
}

// copyTo copies a settled file. An error of reading it is a notice.List; another one is of the writer. Told, which
// may be nil, is told how many bytes are copied.
func (s *still) copyTo(to io.Writer, told func(done int)) error {
	w := &outlet{Writer: to, told: told}
	switch err := s.again(w); {
	case w.err != nil:
		return w.err
	case err != nil:
		return unread(notice.Notice{Place: quantity.Place{File: s.path}}, "the log", err)
	}
	return nil
}

// outlet is a writer that tells how far it is, and remembers what stopped it.
type outlet struct {
	io.Writer
	done int
	told func(done int)
	err  error
}

func (o *outlet) Write(b []byte) (int, error) {
	n, err := o.Writer.Write(b)
	o.done, o.err = o.done+n, err
	if o.told != nil {
		o.told(o.done)
	}
	return n, err
}

// same tells whether a file of which so many bytes were read is as it was when it was opened, and still the one
// of its name.
func (s *still) same(read int64) error {
	if s.before == nil {
		return nil
	}
	before := s.before
	after, err := s.file.Stat()
	if err != nil {
		return err
	}
	switch now, err := os.Stat(s.path); {
	case err != nil:
		return errMoving{"it was moved or deleted"}
	case !os.SameFile(now, before):
		return errMoving{"another file has taken its place"}
	case after.Size() > before.Size():
		return errMoving{fmt.Sprintf("it grew from %d to %d bytes", before.Size(), after.Size())}
	case after.Size() < before.Size():
		return errMoving{fmt.Sprintf("it shrank from %d to %d bytes", before.Size(), after.Size())}
	case read != before.Size():
		return errMoving{fmt.Sprintf("%d of its %d bytes could be read", read, before.Size())}
	case !after.ModTime().Equal(before.ModTime()):
		return errMoving{"it was written to"}
	}
	return nil
}

// input is a log to be parsed; progress, which may be nil, is told under a name how far it is read.
func (s *still) input(name string, progress func(file string, done, total int)) bench.Input {
	in := bench.Input{Name: name, From: s, Size: s.size}
	if progress != nil {
		in.Progress = func(done, total int) { progress(name, done, total) }
	}
	return in
}
