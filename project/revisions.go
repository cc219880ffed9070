package project

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strconv"
	"strings"

	"jetwright/design"
	"jetwright/notice"
	"jetwright/quantity"
)

// RevisionsFolder holds frozen copies of the design: 001.toml, 002.toml, …
const RevisionsFolder = "revisions"

// Revision is a frozen copy of the design.
type Revision struct {
	Number int
	Name   string // as in its file's name: "012"
	File   string // within the folder
	design.Frozen
	Design *design.Design // nil where the copy cannot be read
	Faults notice.List    // why, or what is doubtful of it
}

// revisionName is a number as a file is named.
func revisionName(n int) string { return fmt.Sprintf("%03d", n) }

// RevisionNumber reads the number of a revision as run.toml or a file's name has it: "003" and "3" are the same.
func RevisionNumber(text string) (n int, ok bool) {
	text = strings.TrimSpace(text)
	n, err := strconv.Atoi(text)
	return n, err == nil && n > 0 && !strings.HasPrefix(text, "+")
}

// Revisions reads the frozen copies, lowest number first. What cannot be read is named and the rest is there; what is no
// revision, or is missing between two, is said.
func (p *Project) Revisions() ([]Revision, notice.List, error) {
	entries, err := os.ReadDir(filepath.Join(p.Folder, RevisionsFolder))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil, nil
	}
	if err != nil {
		return nil, nil, notice.List{{Kind: notice.Error, Place: quantity.Place{File: RevisionsFolder}, What: "it cannot be read: " + plain(err), WayOut: "revisions/ is a folder of frozen copies; look at what stands there and at its permissions"}}
	}
	var list []Revision
	var said notice.List
	taken := map[int]string{}
	for _, e := range entries {
		file := RevisionsFolder + "/" + e.Name()
		if strings.HasPrefix(e.Name(), ".") {
			continue
		}
		base, toml := strings.CutSuffix(e.Name(), ".toml")
		n, numbered := RevisionNumber(base)
		if e.IsDir() || !toml || !numbered {
			said = append(said, notice.Notice{
				Kind: notice.Warning, Place: quantity.Place{File: file}, What: "it is no revision and is left out", Allowed: "a revision is a file named by its number, such as 012.toml", WayOut: "rename it, or keep it elsewhere",
			})
			continue
		}
		if other, twice := taken[n]; twice {
			said = append(said, notice.Notice{
				Kind: notice.Warning, Place: quantity.Place{File: file}, What: fmt.Sprintf("%s has the number %d as well; this one is left out", other, n), WayOut: "give one of them another number",
			})
			continue
		}
		taken[n] = file
		r := Revision{Number: n, Name: base, File: file}
		data, err := os.ReadFile(filepath.Join(p.Folder, filepath.FromSlash(file)))
		if err != nil {
			r.Faults = notice.List{{Kind: notice.Error, Place: quantity.Place{File: file}, What: "it cannot be read: " + plain(err)}}
		} else {
			r.Design, r.Frozen, r.Faults = design.ReadFrozen(file, data)
		}
		if r.Design == nil {
			said = append(said, unreadable(base, r.Faults))
		}
		list = append(list, r)
	}
	sort.Slice(list, func(a, b int) bool { return list[a].Number < list[b].Number })
	for i := 1; i < len(list); i++ {
		if from, to := list[i-1].Number+1, list[i].Number-1; from <= to {
			which := revisionName(from)
			if from < to {
				which += " to " + revisionName(to)
			}
			said = append(said, notice.Notice{
				Kind: notice.Remark, Place: quantity.Place{File: RevisionsFolder}, What: "there is no revision " + which,
			})
		}
	}
	return list, said, nil
}

// unreadable says that a frozen copy cannot be used, by the first of its faults.
func unreadable(name string, faults notice.List) notice.Notice {
	var out notice.Notice
	errors := 0
	for _, f := range faults {
		if f.Kind != notice.Error {
			continue
		}
		if errors++; errors == 1 {
			out = f
		}
	}
	out.Kind = notice.Warning
	more := ""
	if errors > 1 {
		more = fmt.Sprintf(" (and %d faults more)", errors-1)
	}
	out.What = "revision " + name + " is shown without figures: " + out.What + more
	return out
}

// NextRevision is the number that the next frozen copy gets: one more than the highest that is frozen or that a run
// names.
func (p *Project) NextRevision(frozen []Revision) int {
	n := 0
	for _, r := range frozen {
		n = max(n, r.Number)
	}
	for i := range p.Runs {
		if k, ok := RevisionNumber(p.Runs[i].Revision); ok {
			n = max(n, k)
		}
	}
	return n + 1
}

// Freeze writes the design as revision n, whole or not at all. A number that is there is never written over.
func (p *Project) Freeze(n int, f design.Frozen) (file string, err error) {
	data, err := p.Design.Freeze(f)
	if err != nil {
		return "", err
	}
	// What is frozen is what stands on the disk, not what did when the folder was read.
	if now, err := os.ReadFile(filepath.Join(p.Folder, DesignFile)); err != nil || string(now) != string(p.Design.Document().Bytes()) {
		return "", notice.List{{Kind: notice.Error, Place: quantity.Place{File: DesignFile}, What: "another program changed it in the meantime; nothing was frozen", WayOut: "give the command again"}}
	}
	if _, _, faults := design.ReadFrozen(DesignFile, data); faults.Fatal() != nil {
		return "", faults.Fatal()
	}
	folder := filepath.Join(p.Folder, RevisionsFolder)
	undo, err := makeFolders(folder)
	if err != nil {
		return "", unmade(folder, err)
	}
	file = RevisionsFolder + "/" + revisionName(n) + ".toml"
	if err := create(output{path: filepath.Join(p.Folder, filepath.FromSlash(file)), data: data}); err != nil {
		undo()
		return "", err
	}
	return file, nil
}

// create writes a file that must not be there yet: whole beside its place, then linked into it, which fails where the
// name is taken by then.
func create(o output) error {
	taken := func() error {
		return notice.List{{Kind: notice.Error, Place: quantity.Place{File: o.path}, What: "it is there already, and a revision is never written over; nothing was changed", WayOut: "give the command again, or name another number"}}
	}
	if _, err := os.Lstat(o.path); err == nil {
		return taken()
	}
	f, err := os.CreateTemp(filepath.Dir(o.path), ".frozen-*")
	if err != nil {
		return unwritten(o, o.size(), err)
	}
	defer func() { _ = os.Remove(f.Name()) }()
	err = o.writeTo(f)
	if synced := f.Sync(); err == nil {
		err = synced
	}
	if allowed := f.Chmod(0o644); err == nil {
		err = allowed
	}
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err != nil {
		return unwritten(o, o.size(), err)
	}
	err = os.Link(f.Name(), o.path)
	if err != nil && !errors.Is(err, fs.ErrExist) {
		// a disk without links: a name that is made anew, and taken back if it cannot be filled
		err = pour(o)
	}
	if errors.Is(err, fs.ErrExist) {
		return taken()
	}
	if err != nil {
		return unwritten(o, o.size(), err)
	}
	if d, err := os.Open(filepath.Dir(o.path)); err == nil {
		_ = d.Sync()
		_ = d.Close()
	}
	return nil
}

func pour(o output) error {
	f, err := os.OpenFile(o.path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	err = o.writeTo(f)
	if synced := f.Sync(); err == nil {
		err = synced
	}
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err != nil {
		_ = os.Remove(o.path)
	}
	return err
}
