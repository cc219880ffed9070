// Package project is the folder on disk: the design, its runs and revisions. It is the only
// room that knows files; whatever it writes is written whole or not at all.
package project

import (
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
	"sort"
	"strings"
	"sync"
	"unicode"

	"jetwright/bench"
	"jetwright/design"
	"jetwright/examples"
	"jetwright/notice"
	"jetwright/quantity"
)

// File names within a folder.
const (
	DesignFile = "drive.toml"
	RunsFolder = "runs"
	RunFile    = "run.toml"
)

// Project is a folder as it was read.
type Project struct {
	Folder  string
	Design  *design.Design
	Runs    []Run
	Notices notice.List // what was doubtful in any of its files

	// Progress may be nil; it is told how many bytes of a log of a run are read, from any goroutine.
	Progress func(file string, done, total int)
}

// Run is one bench day: what was set up, and the readings typed in.
type Run struct {
	Name     string
	Revision string
	Parts    string        // that ran, by their marks
	Setup    *design.Sheet // what of stand and water was different; paths of the drive
	Place    quantity.Place
	Plateaus []bench.Plateau // readings typed by hand
	Logs     []Log
	Zeros    []bench.Span // typed zero windows, s
	Level    bench.Level  // of the water, as typed
	Motion   bench.Motion // of stand and water while steps were held
	Before   []Looked     // what was looked at before anything turned
	setup    bench.Setup

	date       string
	datePlace  quantity.Place
	zeroPlaces []quantity.Place
}

// Open reads a folder. Everything wrong with its files is reported at once, as a notice.List.
func Open(folder string) (*Project, error) {
	data, err := ReadDesign(folder)
	if err != nil {
		return nil, err
	}
	return OpenText(folder, data)
}

// ReadDesign reads the text of a folder's design.
func ReadDesign(folder string) ([]byte, error) {
	data, err := os.ReadFile(filepath.Join(folder, DesignFile))
	if err != nil {
		return nil, explain(folder, err)
	}
	return data, nil
}

// OpenText reads a folder with a text of the design that has not been written yet.
func OpenText(folder string, data []byte) (*Project, error) {
	d, faults := design.Read(DesignFile, data)
	p := &Project{Folder: folder, Design: d}
	names, err := runNames(folder)
	if err != nil {
		return nil, explain(folder, err)
	}
	for _, name := range names {
		file := filepath.Join(RunsFolder, name, RunFile)
		data, err := os.ReadFile(filepath.Join(folder, file))
		if errors.Is(err, fs.ErrNotExist) {
			faults = append(faults, notice.Notice{
				Kind: notice.Warning, Place: quantity.Place{File: filepath.ToSlash(filepath.Join(RunsFolder, name))},
				What: "this run has no " + RunFile + " and is left out", WayOut: "type a reading with: jetwright run note --run " + name,
			})
			continue
		}
		if err != nil {
			return nil, explain(folder, err)
		}
		run, more := readRun(name, filepath.ToSlash(file), data, d)
		faults = append(faults, more...)
		if run != nil {
			p.Runs = append(p.Runs, *run)
		}
	}
	if err := faults.Fatal(); err != nil {
		return nil, err
	}
	p.Notices = faults
	return p, nil
}

// explain words what the operating system says.
func explain(folder string, err error) error {
	n := notice.Notice{Kind: notice.Error, Place: quantity.Place{File: folder}}
	switch {
	case errors.Is(err, fs.ErrNotExist):
		n.What, n.WayOut = "there is no "+DesignFile+" here", "go to a drive's folder, name it, or start one with: jetwright new FOLDER"
	case errors.Is(err, fs.ErrPermission):
		n.What, n.WayOut = "it may not be read or written: "+err.Error(), "look at the folder's permissions"
	default:
		n.What = err.Error()
	}
	return notice.List{n}
}

func runNames(folder string) ([]string, error) {
	entries, err := os.ReadDir(filepath.Join(folder, RunsFolder))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	var names []string
	for _, e := range entries {
		if e.IsDir() {
			names = append(names, e.Name())
		}
	}
	sort.Strings(names)
	return names, nil
}

// runHead is what stands at the top of a run.toml.
type runHead struct {
	Revision string `doc:"revision of the drive that ran"`
	Date     string `doc:"day of the run"`
	Parts    string `doc:"parts that ran, by their marks, such as impeller 7b, nozzle 60 mm print 3"`
	Note     string `doc:"anything worth remembering"`

	LevelPull      quantity.Optional `unit:"N/mm" doc:"by how much the pull that is shown grows for a rise of the water, beside water_level: pour water in at rest and read the scale; of an arm on a pivot it follows from waterline_area and waterline_lever" range:"-10000 .. 10000" usual:"-1 .. 1"`
	WaterlineArea  quantity.Optional `unit:"cm²" doc:"area that arm and drive cut out of the water's surface, beside water_level with an arm on a pivot" range:"0 .. 100000" usual:"5 .. 2000"`
	WaterlineLever quantity.Optional `unit:"mm" doc:"horizontal distance of that area's middle from the pivot, positive where lift adds to the pull" range:"-5000 .. 5000" usual:"-500 .. 500"`
}

// zeroKey holds a list of zero windows at the top of a run.toml.
const zeroKey = "zero"

// Schemas of a run.toml.
var (
	runSchema = sync.OnceValue(func() *quantity.Schema { return mustSchema(struct{ Run runHead }{}) })
	// ReadingSchema declares the keys of a [[reading]].
	ReadingSchema = sync.OnceValue(func() *quantity.Schema { return mustSchema(struct{ Reading bench.Sheet }{}) })
)

func mustSchema(model any) *quantity.Schema {
	s, err := quantity.SchemaOf(model)
	if err != nil {
		panic("tags do not make a schema: " + err.Error()) // held by TestSchemas
	}
	return s
}

// RunSchema declares the keys at the top of a run.toml.
func RunSchema() *quantity.Schema { return runSchema() }

// readRun reads a run.toml: its head, what of [stand] and [water] was different, and its readings.
func readRun(name, file string, data []byte, d *design.Design) (*Run, notice.List) {
	doc, faults := design.ParseDocument(file, data)
	if doc == nil {
		return nil, faults
	}
	setup := func(path string) bool { return strings.HasPrefix(path, "stand.") || strings.HasPrefix(path, "water.") }
	reading := func(path string) bool {
		return strings.HasPrefix(path, "reading[") || strings.HasPrefix(path, "log[") || strings.HasPrefix(path, "motion.") || strings.HasPrefix(path, "before.") || path == zeroKey || path == levelKey
	}
	r := &Run{Name: name, Place: quantity.Place{File: file}}
	head, more := design.Bind(doc, "", "run", RunSchema(), func(path string) bool { return setup(path) || reading(path) })
	faults = append(faults, more...)
	r.Revision, _ = head.Text("revision")
	r.Parts, _ = head.Text("parts")
	r.date, _ = head.Text("date")
	r.datePlace = head.Place("date")
	r.Setup, more = design.Bind(doc, "", "", design.Schema(), func(path string) bool { return !setup(path) })
	faults = append(faults, more...)
	var s bench.Setup
	kind, jetKnown := "", false
	if d != nil {
		drive := d.Nominal()
		r.Setup.Apply(&drive)
		s.FullScale, s.Division = drive.Stand.ScaleRange, drive.Stand.ScaleDivision
		kind = drive.Stand.Kind
		_, jetKnown = drive.Stand.Jet()
	}
	r.Zeros, r.zeroPlaces, more = readZeros(doc)
	faults = append(faults, more...)
	r.Motion, more = readMotion(doc)
	faults = append(faults, more...)
	r.Before, more = readBefore(doc)
	faults = append(faults, more...)
	typedStand := func(key string) (quantity.Value, bool) {
		if v, ok := r.Setup.Value("stand." + key); ok || d == nil {
			return v, ok
		}
		return d.Value("stand." + key)
	}
	heights, pivoted := armHeights(kind, jetKnown, typedStand)
	r.Level, more = readLevel(doc, head, kind, heights, pivoted)
	faults = append(faults, more...)
	if pivoted {
		lever, u, err := heights.lever()
		if err != nil {
			faults = append(faults, notice.Notice{Kind: notice.Warning, Place: r.Place, What: "the lever of the stand's arm is not applied: " + err.Error(), WayOut: "look at pivot_height, rope_height and jet_height of [stand]"})
		} else {
			s.Lever, s.ULever = quantity.Some(lever), u
		}
	}
	r.setup = s
	for i := 0; i < doc.Count("reading"); i++ {
		sheet, more := design.Bind(doc, fmt.Sprintf("reading[%d].", i), "reading", ReadingSchema(), nil)
		faults = append(faults, more...)
		place, excerpt := doc.ItemPlace("reading", i)
		p := bench.FromReading(fmt.Sprintf("%s, reading %d", name, i+1), place, sheet, s)
		p.Run = name
		p.Stream = r.Motion.Stream
		if _, pulls := p.Figure(bench.Thrust); pulls && s.Lever.Set {
			p.Notices = append(p.Notices, notice.Notice{
				Kind: notice.Warning, Place: place, What: fmt.Sprintf("%s: its thrust is taken as typed; the lever of the arm is for logs only", p.Name),
				WayOut: fmt.Sprintf("type the pull on the scale times %.4f", s.Lever.Value),
			})
		}
		for k := range p.Notices {
			p.Notices[k].Excerpt = excerpt
		}
		if more.Fatal() == nil {
			faults = append(faults, p.Notices...)
		}
		r.Plateaus = append(r.Plateaus, p)
	}
	r.Logs, more = readLogs(doc)
	faults = append(faults, more...)
	if kind == "pivot" && !pivoted && len(r.Logs) > 0 {
		faults = append(faults, notice.Notice{
			Kind: notice.Warning, Place: r.Place, What: "the arm hangs on a pivot, but its lever is not known: the pull on the rope is taken for the thrust", WayOut: "type pivot_height, rope_height and jet_height under [stand]",
		})
	}
	// The rope's angle is the stand's, unless a log says its own.
	angle, typed := r.Setup.Value("stand.rope_angle")
	if !typed && d != nil {
		angle, typed = d.Value("stand.rope_angle")
	}
	for i := range r.Logs {
		if c := &r.Logs[i].source.Corrections; typed && c.RopeAngle == 0 && c.URopeAngle == 0 {
			c.RopeAngle, c.URopeAngle = math.Abs(angle.Nominal()), angle.StandardUncertainty()
		}
	}
	return r, faults
}

// New starts a folder from a scene. Nothing that is there is overwritten.
func New(folder, scene string) error {
	entries, err := os.ReadDir(folder)
	if err == nil && len(entries) > 0 {
		return notice.List{{Kind: notice.Error, Place: quantity.Place{File: folder}, What: "the folder is not empty", WayOut: "name a new folder"}}
	}
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return explain(folder, err)
	}
	root, err := fs.Sub(examples.Scenes, scene)
	if err != nil {
		return err
	}
	if _, err := fs.Stat(root, DesignFile); err != nil {
		return notice.List{{Kind: notice.Error, What: "there is no scene " + scene, Allowed: "scenes are " + strings.Join(Scenes(), ", ")}}
	}
	undos := []func(){}
	var outputs []output
	err = fs.WalkDir(root, ".", func(path string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		to := filepath.Join(folder, filepath.FromSlash(path))
		if e.IsDir() {
			undo, err := makeFolders(to)
			if err != nil {
				return unmade(to, err)
			}
			undos = append(undos, undo)
			return nil
		}
		data, err := fs.ReadFile(root, path)
		outputs = append(outputs, output{path: to, data: data})
		return err
	})
	if err == nil {
		err = replace(outputs...)
	}
	if err != nil {
		for i := range undos {
			undos[len(undos)-1-i]()
		}
	}
	return err
}

// Scenes returns the names of the scenes that New copies.
func Scenes() []string {
	entries, _ := fs.ReadDir(examples.Scenes, ".")
	var names []string
	for _, e := range entries {
		if e.IsDir() {
			names = append(names, e.Name())
		}
	}
	return names
}

// Save writes a file that the program made, such as a report, whole or not at all.
func Save(path string, data []byte) error { return replace(output{path: path, data: data}) }

// File is a file that the program made, by its name.
type File struct {
	Name string
	Data []byte
}

// SaveIn writes files into a folder, all of them or none. A folder that is missing is made.
func SaveIn(folder string, files []File) error {
	if info, err := os.Stat(folder); err == nil && !info.IsDir() {
		return notice.List{{Kind: notice.Error, Place: quantity.Place{File: folder}, What: "it is a file; nothing was written", WayOut: "name a folder"}}
	}
	undo, err := makeFolders(folder)
	if err != nil {
		return unmade(folder, err)
	}
	outputs := make([]output, len(files))
	for i, f := range files {
		outputs[i] = output{path: filepath.Join(folder, f.Name), data: f.Data}
	}
	if err := replace(outputs...); err != nil {
		undo()
		return err
	}
	return nil
}

// unmade words why a folder could not be made.
func unmade(folder string, err error) error {
	return notice.List{{Kind: notice.Error, Place: quantity.Place{File: folder}, What: "the folder cannot be made, and nothing was written: " + plain(err), WayOut: "name another place, or look at the permissions of the folder above it"}}
}

func plain(err error) string {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return pe.Err.Error()
	}
	var le *os.LinkError
	if errors.As(err, &le) {
		return le.Err.Error()
	}
	return err.Error()
}

// Pair is a key and its value as typed.
type Pair struct{ Key, Value string }

// checkRunName refuses what is no plain folder name.
func checkRunName(run string) error {
	if run == "" || strings.ContainsAny(run, `/\`) || strings.ContainsFunc(run, unicode.IsControl) || strings.HasPrefix(run, ".") {
		return notice.List{{Kind: notice.Error, What: fmt.Sprintf("%q is no name for a run", run), Allowed: "a run's name is that of its folder, such as 2026-05-03-ladder"}}
	}
	return nil
}

// Note adds a reading to a run, and starts the run if it is new. The file is read back and
// checked before it is written; the plateau is returned as it will be used.
func (p *Project) Note(run string, pairs []Pair) (bench.Plateau, notice.List, error) {
	if err := checkRunName(run); err != nil {
		return bench.Plateau{}, nil, err
	}
	folder := filepath.Join(p.Folder, RunsFolder, run)
	path := filepath.Join(folder, RunFile)
	name := filepath.ToSlash(filepath.Join(RunsFolder, run, RunFile))
	data, err := os.ReadFile(path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return bench.Plateau{}, nil, explain(p.Folder, err)
	}
	doc, faults := design.ParseDocument(name, p.begun(data))
	if err := faults.Fatal(); err != nil {
		return bench.Plateau{}, nil, err
	}
	typed := make([]design.Pair, len(pairs))
	for i, kv := range pairs {
		typed[i] = design.Pair{Key: kv.Key, Value: kv.Value}
	}
	doc, err = doc.Append("reading", typed)
	if err != nil {
		return bench.Plateau{}, nil, err
	}
	r, faults := readRun(run, name, doc.Bytes(), p.Design)
	if err := faults.Fatal(); err != nil {
		return bench.Plateau{}, nil, err
	}
	undo, err := makeFolders(folder)
	if err != nil {
		return bench.Plateau{}, nil, unmade(folder, err)
	}
	if err := replace(output{path: path, data: doc.Bytes(), guarded: true, was: data}); err != nil {
		undo()
		return bench.Plateau{}, nil, err
	}
	last := r.Plateaus[len(r.Plateaus)-1]
	return last, last.Notices, nil
}

// begun is the text of a run.toml; one that is not there yet begins with the revision that the drive is, where it is frozen.
func (p *Project) begun(data []byte) []byte {
	if data != nil {
		return data
	}
	frozen, _, err := p.Revisions()
	if err != nil {
		return nil // the run is new all the same; what reads revisions says what is wrong with them
	}
	for _, r := range slices.Backward(frozen) {
		if r.Design != nil && p.Design.Version(r.Design) == nil {
			return []byte("revision = \"" + r.Name + "\"\n\n")
		}
	}
	return nil
}

// Set writes one value of the design back, with everything around it as it was.
func (p *Project) Set(path, text string) error { return p.SetAll([]string{path}, []string{text}) }

// Stamp tells when anything below runs or revisions was last written, as far as the file system says: it differs
// if something changed.
func Stamp(folder string) string {
	var out strings.Builder
	for _, below := range []string{RunsFolder, "revisions"} {
		_ = filepath.WalkDir(filepath.Join(folder, below), func(path string, e fs.DirEntry, err error) error {
			if err != nil {
				return nil // what cannot be read is found out when it is asked for
			}
			if info, err := e.Info(); err == nil && !e.IsDir() {
				fmt.Fprintf(&out, "%s %d %d\n", path, info.Size(), info.ModTime().UnixNano())
			}
			return nil
		})
	}
	return out.String()
}

// Outside names what of a folder is a link to somewhere beyond it. The command line follows such links; a page that
// others may send questions to does not. Files are further ones that belong to the folder, by their place in it.
func Outside(folder string, files ...string) notice.List {
	home, err := filepath.EvalSymlinks(folder)
	if err != nil {
		return nil // what is not there is found out when it is read
	}
	if home, err = filepath.Abs(home); err != nil {
		return nil
	}
	var out notice.List
	look := func(path string) {
		to, err := filepath.EvalSymlinks(path)
		if err == nil {
			to, err = filepath.Abs(to)
		}
		if err == nil && to != home && !strings.HasPrefix(to, home+string(filepath.Separator)) {
			name, _ := filepath.Rel(folder, path)
			out = append(out, notice.Notice{
				Kind: notice.Error, Place: quantity.Place{File: filepath.ToSlash(name)}, What: "it is a link out of the folder, which the page does not follow",
				WayOut: "copy what it leads to into the folder; the command line follows it as it is",
			})
		}
	}
	for _, name := range append(files, DesignFile, UnsavedFile) {
		look(filepath.Join(folder, filepath.FromSlash(name)))
	}
	for _, below := range []string{RunsFolder, RevisionsFolder} {
		_ = filepath.WalkDir(filepath.Join(folder, below), func(path string, e fs.DirEntry, err error) error {
			if err == nil && e.Type()&fs.ModeSymlink != 0 {
				look(path)
			}
			return nil
		})
	}
	return out
}

// With returns the project with another design, its runs as they were read.
func (p *Project) With(d *design.Design) *Project {
	out := *p
	out.Design = d
	return &out
}

// WriteDesign writes a text of the design, if the file still holds what it held when it was read.
func WriteDesign(folder string, data, was []byte) error {
	return replace(output{path: filepath.Join(folder, DesignFile), data: data, guarded: true, was: was})
}

// makeFolders makes a folder and those above it that are missing; undo takes back what was made.
func makeFolders(folder string) (undo func(), err error) {
	var made []string
	for at := folder; ; at = filepath.Dir(at) {
		if _, err := os.Stat(at); err == nil || filepath.Dir(at) == at {
			break
		}
		made = append(made, at)
	}
	undo = func() {
		for _, f := range made {
			_ = os.Remove(f) // only if it is empty
		}
	}
	if err := os.MkdirAll(folder, 0o755); err != nil {
		undo()
		return nil, err
	}
	return undo, nil
}
