package desk

import (
	"bytes"
	"fmt"
	"slices"
	"sync"
	"time"

	"jetwright/design"
	"jetwright/notice"
	"jetwright/project"
)

// Book is an open bench book: a folder whose design may be changed, undone and compared before it is
// written. What was typed is never lost: a change of the file by someone else is taken in beside it, and
// where both changed the same key the builder is asked. Its methods may be called from several goroutines.
type Book struct {
	folder string

	mu      sync.Mutex
	disk    []byte           // drive.toml as it was last read or written
	base    *design.Design   // what disk says; nil while it cannot be read
	now     *project.Project // with the changes; the last that could be read
	steps   []Step
	done    int            // steps that stand; those behind it can be done again
	good    *design.Design // what disk said when it last could be read
	asked   []Conflict
	faults  notice.List // why drive.toml or a run cannot be read
	version int
	savedAt int         // version at which base became what it is
	readAt  time.Time   // when the file was last read, or written, and could be
	stamp   string      // of runs and revisions as they were read
	kept    int         // changes that lie beside the design, for the case that the program ends
	said    notice.List // of those: what could not be kept or read
}

// Step is one change of one key.
type Step struct {
	Path     string
	Was, Now string // as typed; empty where it was not
	HadWas   bool   // a text stood there before
	HasNow   bool   // a text stands there after
	before   []byte // the whole text
	after    []byte
}

// Conflict is a key that was changed here and in the file.
type Conflict struct {
	Path           string
	Was, File, Own string
	hadWas         bool // a text stood there before either changed it
}

// Page is what a book says of itself.
type Page struct {
	Folder    string
	Version   int  // grows with every change
	Open      bool // the design can be read
	Unsaved   []Step
	Undo      string // path of the step that would be undone; empty if none
	Redo      string
	Conflicts []Conflict
	Faults    notice.List // why the files as they stand cannot be read
	Read      time.Time   // when they last could
	Kept      notice.List // what is said of changes kept from before, or that cannot be kept
	Runs      []string    // that have logs
	Revisions []string    // frozen, and can be read
}

// OpenBook opens a folder. A folder whose files cannot be read is opened as well, and says why.
func OpenBook(folder string) (*Book, error) {
	b := &Book{folder: folder}
	if err := b.open(); err != nil {
		return nil, err
	}
	return b, nil
}

// open reads the folder anew, without changes of its own.
func (b *Book) open() error {
	b.stamp = project.Stamp(b.folder)
	data, err := project.ReadDesign(b.folder)
	if err != nil {
		return err
	}
	b.disk = data
	b.take(data)
	if b.now != nil {
		b.begin(data)
	}
	return nil
}

// begin takes a design that was read for the first time, and what was kept beside it.
func (b *Book) begin(data []byte) {
	b.stands(b.now.Design)
	kept, said := project.ReadUnsaved(b.folder)
	b.said = said
	if len(kept) == 0 {
		return
	}
	own := make([]Step, len(kept))
	for i, x := range kept {
		own[i] = Step{Path: x.Path, HadWas: x.Was != nil, HasNow: x.Now != nil}
		if x.Was != nil {
			own[i].Was = *x.Was
		}
		if x.Now != nil {
			own[i].Now = *x.Now
		}
	}
	b.put(b.now, data, own)
	b.restore(own)
	if n := len(b.changes()); n > 0 {
		b.said = append(b.said, notice.Notice{Kind: notice.Remark, What: fmt.Sprintf("%s not saved before the program ended stand here again", counted(n, "change")), WayOut: "save them, or undo them"})
	}
	b.kept = len(kept)
	b.keep()
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// restore makes steps of changes that stand again, so that they can be undone one by one.
func (b *Book) restore(own []Step) {
	text := b.base
	for _, s := range own {
		next, err := changed(text, s.Path, s.Now, s.HasNow)
		if err != nil {
			continue
		}
		step := Step{Path: s.Path, before: text.Document().Bytes(), after: next.Document().Bytes()}
		step.Was, step.HadWas = typedText(text, s.Path)
		step.Now, step.HasNow = typedText(next, s.Path)
		b.steps = append(b.steps, step)
		text = next
	}
	b.done = len(b.steps)
}

// keep writes the changes that are not saved beside the design, so that they outlive the program.
func (b *Book) keep() {
	list := b.ownChanges()
	if len(list) == 0 && b.kept == 0 {
		return
	}
	out := make([]project.Unsaved, len(list))
	for i, s := range list {
		out[i].Path = s.Path
		if s.HadWas {
			out[i].Was = &list[i].Was
		}
		if s.HasNow {
			out[i].Now = &list[i].Now
		}
	}
	if err := project.WriteUnsaved(b.folder, out); err != nil {
		b.said = notice.List{{Kind: notice.Warning, What: "changes are not kept for the case that the program ends: " + noticesOf(err)[0].What, WayOut: "save them soon"}}
		return
	}
	b.kept = len(list)
}

// read reads the folder with a text, as long as nothing that belongs to it is a link out of the folder.
func (b *Book) read(text []byte) (*project.Project, error) {
	if err := b.within(); err != nil {
		return nil, err
	}
	p, err := project.OpenText(b.folder, text)
	if err != nil {
		return nil, err
	}
	var tables []string
	for _, t := range p.Design.Tables() {
		tables = append(tables, t.File)
	}
	return p, b.within(tables...)
}

// within is an error where something of the folder, or a further file of it, is a link out of it.
func (b *Book) within(files ...string) error {
	if out := project.Outside(b.folder, files...); len(out) > 0 {
		return out
	}
	return nil
}

// take reads the folder with a text and keeps it if it can be read.
func (b *Book) take(text []byte) bool {
	b.version++
	p, err := b.read(text)
	if err != nil {
		b.faults = noticesOf(err)
		return false
	}
	if b.now != nil {
		p.Design.KeepBladesOf(b.now.Design)
	}
	b.now, b.faults = p, nil
	return true
}

// NoticesOf words any error as notices.
func NoticesOf(err error) notice.List { return noticesOf(err) }

func noticesOf(err error) notice.List {
	switch e := err.(type) {
	case notice.List:
		return e
	case notice.Notice:
		return notice.List{e}
	}
	return notice.List{{Kind: notice.Error, What: err.Error()}}
}

// Folder returns where the book lies.
func (b *Book) Folder() string { return b.folder }

// Project returns the folder with the changes that stand, and the version it belongs to. Without a design that
// could ever be read it is an error.
func (b *Book) Project() (*project.Project, int, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.now == nil {
		return nil, b.version, b.faults
	}
	return b.now, b.version, nil
}

// Saved returns the folder with the design as the file has it, and the version at which it was read; nil while
// that cannot be read.
func (b *Book) Saved() (*project.Project, int) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.base == nil || b.now == nil {
		return nil, b.version
	}
	return b.now.With(b.base), b.savedAt
}

// Frozen returns the folder with the design of a frozen revision.
func (b *Book) Frozen(name string) (*project.Project, error) {
	p, _, err := b.Project()
	if err != nil {
		return nil, err
	}
	list, _, err := p.Revisions()
	if err != nil {
		return nil, err
	}
	for _, r := range list {
		if r.Name == name && r.Design != nil {
			return p.With(r.Design), nil
		}
	}
	return nil, notice.List{{Kind: notice.Error, What: fmt.Sprintf("there is no revision %q that can be read", name)}}
}

// Page says how the book stands.
func (b *Book) Page() Page {
	b.mu.Lock()
	defer b.mu.Unlock()
	p := Page{Folder: b.folder, Version: b.version, Open: b.now != nil, Conflicts: b.questions(), Faults: b.faults, Read: b.readAt, Kept: b.said}
	if b.done > 0 {
		p.Undo = b.steps[b.done-1].Path
	}
	if b.done < len(b.steps) {
		p.Redo = b.steps[b.done].Path
	}
	p.Unsaved = b.changes()
	if b.now != nil {
		for _, r := range b.now.Runs {
			if len(r.Logs) > 0 {
				p.Runs = append(p.Runs, r.Name)
			}
		}
		if list, _, err := b.now.Revisions(); err == nil {
			for _, r := range list {
				if r.Design != nil {
					p.Revisions = append(p.Revisions, r.Name)
				}
			}
		}
	}
	return p
}

// questions are what is still asked, as both texts stand now; a key that reads the same in both is asked about no more.
func (b *Book) questions() []Conflict {
	if b.now == nil || b.base == nil {
		return slices.Clone(b.asked)
	}
	var out []Conflict
	for _, c := range b.asked {
		own, has := typedText(b.now.Design, c.Path)
		file, had := typedText(b.base, c.Path)
		if own != file || has != had {
			c.Own, c.File = own, file
			out = append(out, c)
		}
	}
	return out
}

// stands notes what the file says at this version.
func (b *Book) stands(d *design.Design) {
	b.base, b.good, b.savedAt, b.readAt = d, d, b.version, time.Now()
}

// changes are the keys whose text differs from the file's as it last could be read, in the order of their first change.
func (b *Book) changes() []Step {
	if b.now == nil || b.good == nil {
		return nil
	}
	var out []Step
	seen := map[string]bool{}
	for _, s := range b.steps {
		if seen[s.Path] {
			continue
		}
		seen[s.Path] = true
		was, had := typedText(b.good, s.Path)
		now, has := typedText(b.now.Design, s.Path)
		if was != now || had != has {
			out = append(out, Step{Path: s.Path, Was: was, Now: now, HadWas: had, HasNow: has})
		}
	}
	return out
}

// typedText is the text of a key as typed.
func typedText(d *design.Design, path string) (string, bool) {
	for _, e := range d.Document().Entries() {
		if e.Path == path && e.Kind != design.TableHeader {
			return e.Value, true
		}
	}
	if key := d.KeyOf(path); key != path {
		return typedText(d, key)
	}
	return "", false
}

// Try returns the folder with one key changed, without keeping it.
func (b *Book) Try(path, text string) (*project.Project, error) {
	p, _, err := b.Project()
	if err != nil {
		return nil, err
	}
	d, err := changed(p.Design, path, text, true)
	if err != nil {
		return nil, err
	}
	return p.With(d), nil
}

func changed(d *design.Design, path, text string, has bool) (*design.Design, error) {
	if !has {
		return d.Without(path)
	}
	return d.With(path, text)
}

// Edit changes one key. The error says what is wrong with the text; nothing is changed then.
func (b *Book) Edit(path, text string) error { return b.edit(path, text, true) }

// Clear takes one key out, so that it falls back to what is assumed.
func (b *Book) Clear(path string) error { return b.edit(path, "", false) }

func (b *Book) edit(path, text string, has bool) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.now == nil {
		return b.faults
	}
	d, err := changed(b.now.Design, path, text, has)
	if err != nil {
		return err
	}
	before, after := b.now.Design.Document().Bytes(), d.Document().Bytes()
	if bytes.Equal(before, after) {
		return nil
	}
	s := Step{Path: path, before: before, after: after}
	s.Was, s.HadWas = typedText(b.now.Design, path)
	s.Now, s.HasNow = typedText(d, path)
	if !b.take(after) {
		err := b.faults
		b.faults = nil
		return err
	}
	b.steps = append(b.steps[:b.done:b.done], s)
	b.done++
	b.keep()
	return nil
}

// Undo takes the last change back. It tells whether there was one.
func (b *Book) Undo() (bool, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.done == 0 || b.now == nil {
		return false, nil
	}
	s := b.steps[b.done-1]
	if err := b.swap(s.after, s.before, s.Path, s.Was, s.HadWas); err != nil {
		return false, err
	}
	b.done--
	b.keep()
	return true, nil
}

// Redo does the change again that was taken back last.
func (b *Book) Redo() (bool, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.done == len(b.steps) || b.now == nil {
		return false, nil
	}
	s := b.steps[b.done]
	if err := b.swap(s.before, s.after, s.Path, s.Now, s.HasNow); err != nil {
		return false, err
	}
	b.done++
	b.keep()
	return true, nil
}

// swap goes from one text to another; where the file changed in between, the key alone is changed.
func (b *Book) swap(from, to []byte, path, text string, has bool) error {
	if !bytes.Equal(b.now.Design.Document().Bytes(), from) {
		d, err := changed(b.now.Design, path, text, has)
		if err != nil {
			return err
		}
		to = d.Document().Bytes()
	}
	if !b.take(to) {
		err := b.faults
		b.faults = nil
		return err
	}
	return nil
}

// Save writes the changes into drive.toml, everything around them as it was.
func (b *Book) Save() error {
	if _, err := b.Look(); err != nil {
		return err
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.now == nil {
		return b.faults
	}
	if asked := b.questions(); len(asked) > 0 {
		return notice.List{{
			Kind: notice.Error, Path: asked[0].Path, What: fmt.Sprintf("%s was changed here and in the file", asked[0].Path),
			WayOut: "say which of the two stands; nothing was written",
		}}
	}
	if b.base == nil {
		return notice.List{{Kind: notice.Error, What: "drive.toml as it stands cannot be read, so nothing is written over it", WayOut: "mend it in the text editor; the changes are kept here"}}
	}
	text := b.now.Design.Document().Bytes()
	if bytes.Equal(text, b.disk) {
		return nil
	}
	if err := project.WriteDesign(b.folder, text, b.disk); err != nil {
		return err
	}
	b.version++
	b.disk, b.said = text, nil
	b.stands(b.now.Design)
	b.keep()
	return nil
}

// Look reads the folder again if drive.toml was changed by someone else, and takes that in: keys that were
// changed only there or only here stand as they were changed, those changed in both are asked about. While
// the file cannot be read the last state that could stays. It tells whether anything changed.
func (b *Book) Look() (bool, error) {
	b.mu.Lock()
	defer b.mu.Unlock() // what is read is not older than what was saved
	stamp := project.Stamp(b.folder)
	data, err := project.ReadDesign(b.folder)
	if err != nil {
		told := noticesOf(err)
		if len(b.faults) == len(told) && b.faults[0].What == told[0].What {
			return false, err
		}
		b.version++
		b.faults, b.disk = told, nil
		return true, err
	}
	same := bytes.Equal(data, b.disk) && stamp == b.stamp
	if same {
		return false, nil
	}
	b.stamp = stamp
	p, err := b.read(data)
	if err != nil {
		b.version++
		b.disk, b.base, b.faults = data, nil, noticesOf(err)
		return true, nil
	}
	if b.now == nil { // nothing could be read before
		b.disk = data
		if b.take(data) {
			b.begin(data)
		}
		return true, nil
	}
	b.merge(p, data)
	return true, nil
}

// merge puts the own changes onto a file that was read anew.
func (b *Book) merge(p *project.Project, data []byte) {
	p.Design.KeepBladesOf(b.now.Design)
	b.put(p, data, b.ownChanges())
	b.keep()
}

// put puts changes onto a design that was read anew.
func (b *Book) put(p *project.Project, data []byte, own []Step) {
	b.version++
	b.disk, b.faults, b.asked = data, nil, nil
	b.stands(p.Design)
	d := p.Design
	for _, s := range own {
		file, has := typedText(p.Design, s.Path)
		if has == s.HasNow && file == s.Now {
			continue
		}
		if has != s.HadWas || file != s.Was {
			b.asked = append(b.asked, Conflict{Path: s.Path, Was: s.Was, File: file, Own: s.Now, hadWas: s.HadWas})
		}
		next, err := changed(d, s.Path, s.Now, s.HasNow)
		if err != nil {
			if len(b.asked) == 0 || b.asked[len(b.asked)-1].Path != s.Path {
				b.asked = append(b.asked, Conflict{Path: s.Path, Was: s.Was, File: file, Own: s.Now, hadWas: s.HadWas})
			}
			continue
		}
		d = next
	}
	if !b.take(d.Document().Bytes()) {
		b.now, b.faults = p, nil
	}
}

// ownChanges are the changes as they were made: a key that is still asked about was changed against what stood before the
// file changed too, so that the question comes again however often the folder is read meanwhile.
func (b *Book) ownChanges() []Step {
	list := b.changes()
	for i := range list {
		for _, c := range b.asked {
			if c.Path == list[i].Path {
				list[i].Was, list[i].HadWas = c.Was, c.hadWas
			}
		}
	}
	return list
}

// Settle answers a key that was changed in both places: own keeps what was typed here, else what stands in
// the file is taken.
func (b *Book) Settle(path string, own bool) error {
	b.mu.Lock()
	for i, c := range b.asked {
		if c.Path != path {
			continue
		}
		b.asked = slices.Delete(b.asked, i, i+1)
		b.version++
		file, has := "", false
		if b.base != nil {
			file, has = typedText(b.base, path)
		}
		b.keep()
		b.mu.Unlock()
		if own {
			return nil
		}
		return b.edit(path, file, has)
	}
	b.mu.Unlock()
	return notice.List{{Kind: notice.Error, Path: path, What: "nothing is asked about " + path}}
}

// Note types a reading into a run; without a name the run is that of the day.
func (b *Book) Note(run string, given []Typed) (*NoteAnswer, error) {
	if err := b.within(); err != nil {
		return nil, err
	}
	a, err := NoteIn(b.folder, run, given)
	if err != nil {
		return nil, err
	}
	_, err = b.Look()
	return a, err
}

// Export writes the files of the parts as they stand on the page, into the folder.
func (b *Book) Export() (*ExportAnswer, error) {
	p, _, err := b.Project()
	if err != nil {
		return nil, err
	}
	if err := b.within(shapesFolder); err != nil {
		return nil, err
	}
	return Export(p, ExportFlags{})
}

// Freeze keeps the design as the file has it as a revision, with a note.
func (b *Book) Freeze(note string) (*ReviseAnswer, error) {
	if err := b.within(); err != nil {
		return nil, err
	}
	a, err := ReviseIn(b.folder, note, "", false)
	if err != nil {
		return nil, err
	}
	_, err = b.Look()
	return a, err
}

// Adopt takes logs into a run, with corrections of how they are read.
func (b *Book) Adopt(run string, files []string, corrections []Correction) (*AddAnswer, error) {
	if err := b.within(); err != nil {
		return nil, err
	}
	p, err := project.Open(b.folder)
	if err != nil {
		return nil, err
	}
	if run == "" {
		run = time.Now().Format("2006-01-02")
	}
	logs, err := p.AdoptAs(run, files, corrections, nil)
	if err != nil {
		return nil, err
	}
	_, err = b.Look()
	return &AddAnswer{Folder: b.folder, Run: run, Logs: logs}, err
}
