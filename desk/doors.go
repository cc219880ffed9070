package desk

import (
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"jetwright/bench"
	"jetwright/design"
	"jetwright/drive"
	"jetwright/notice"
	"jetwright/project"
	"jetwright/quantity"
	"jetwright/reckon"
)

// New starts a folder from a scene.
func New(folder, scene string) error { return project.New(folder, scene) }

// NewAnswer is a folder that was started.
type NewAnswer struct{ Folder, Scene string }

// SetAnswer is a value that was written.
type SetAnswer struct{ Path, Value string }

// in opens a folder and asks it.
func in[A any](folder string, ask func(*project.Project) (A, error)) (A, error) {
	p, err := project.Open(folder)
	if err != nil {
		var none A
		return none, err
	}
	return ask(p)
}

// LimitsIn answers Limits for a folder.
func LimitsIn(folder string, o Options) (*DutyAnswer, error) {
	return in(folder, func(p *project.Project) (*DutyAnswer, error) { return Limits(p, o) })
}

// LimitsAtIn answers LimitsAt for a folder; what is asked for as typed.
func LimitsAtIn(folder string, f PredictFlags, o Options) (*DutyAnswer, error) {
	return in(folder, func(p *project.Project) (*DutyAnswer, error) {
		c, err := OneCondition(p, f)
		if err != nil {
			return nil, err
		}
		return LimitsAt(p, c, o)
	})
}

// OneCondition reads a single condition; what it leaves out is that of the design point. It is nil where it
// leaves out everything.
func OneCondition(p *project.Project, f PredictFlags) (*drive.Condition, error) {
	if f.Place == "" {
		f.Place = "battery"
	}
	at, err := ReadPredictAt(f)
	if err != nil {
		return nil, err
	}
	if len(at.Demands) > 1 || len(at.Speeds) > 1 {
		return nil, notice.List{{Kind: notice.Error, What: "more than one condition is asked for", Allowed: "one power, thrust, rotor speed or throttle, and one speed"}}
	}
	if len(at.Demands)+len(at.Speeds) == 0 {
		return nil, nil
	}
	nominal := p.Design.Nominal()
	c := nominal.DutyCondition()
	if len(at.Demands) == 1 {
		c.Demand, c.Amount = at.Demands[0].Demand, at.Demands[0].Amount
	}
	if len(at.Speeds) == 1 {
		c.Speed = at.Speeds[0]
	}
	return &c, nil
}

// PredictIn answers Predict for a folder.
func PredictIn(folder string, at PredictAt, o Options) (*PredictAnswer, error) {
	return in(folder, func(p *project.Project) (*PredictAnswer, error) { return Predict(p, at, o) })
}

// AuditIn answers Audit for a folder.
func AuditIn(folder string, o Options) (*AuditAnswer, error) {
	return in(folder, func(p *project.Project) (*AuditAnswer, error) { return Audit(p, o) })
}

// ReckonIn answers Reckon for a folder.
func ReckonIn(folder string, o Options) (*ReckonAnswer, error) {
	return in(folder, func(p *project.Project) (*ReckonAnswer, error) { return Reckon(p, o) })
}

// ExplainIn answers Explain for a folder.
func ExplainIn(folder, path string, o Options) (*ExplainAnswer, error) {
	return in(folder, func(p *project.Project) (*ExplainAnswer, error) { return Explain(p, path, o) })
}

// SetIn writes one value of a folder's design.
func SetIn(folder, path, text string) error {
	p, err := project.Open(folder)
	if err != nil {
		return err
	}
	return p.Set(path, text)
}

// ReportIn answers Report for a folder.
func ReportIn(folder string, o Options) (*ReportAnswer, error) {
	return in(folder, func(p *project.Project) (*ReportAnswer, error) { return Report(p, o) })
}

// Save writes a file whole or not at all.
func Save(path string, data []byte) error { return project.Save(path, data) }

// File is a file that the program made.
type File = project.File

// SaveIn writes files into a folder, each whole or not at all.
func SaveIn(folder string, files []File) error { return project.SaveIn(folder, files) }

// Refuted tells whether a claim was refuted.
func (a *ReckonAnswer) Refuted() bool {
	for _, c := range a.Claims {
		if c.Verdict == reckon.Refuted {
			return true
		}
	}
	return false
}

// Typed is a key of a reading with its value as typed.
type Typed struct{ Key, Value string }

// NoteIn types a reading into a folder's run; without a name the run is that of the day.
func NoteIn(folder, run string, given []Typed) (*NoteAnswer, error) {
	if len(given) == 0 {
		return nil, notice.List{{Kind: notice.Error, What: "the reading is empty", WayOut: `give at least a power with its place, or a rotor speed: --power "1.2 kW" --place battery --thrust "16.4 kgf"`}}
	}
	p, err := project.Open(folder)
	if err != nil {
		return nil, err
	}
	if run == "" {
		run = time.Now().Format("2006-01-02")
	}
	pairs := make([]project.Pair, len(given))
	for i, g := range given {
		pairs[i] = project.Pair{Key: g.Key, Value: g.Value}
	}
	return Note(p, run, pairs)
}

// AddAnswer is what was guessed of logs that a run has adopted.
type AddAnswer struct {
	Folder, Run string
	Logs        []project.Adopted
}

// AddIn adopts logs as a run of a folder; without a name the run is that of the day. Progress, which
// may be nil, is told how far a file is read.
func AddIn(folder, run string, files []string, progress func(file string, done, total int)) (*AddAnswer, error) {
	return in(folder, func(p *project.Project) (*AddAnswer, error) {
		if run == "" {
			run = time.Now().Format("2006-01-02")
		}
		logs, err := p.Adopt(run, files, progress)
		if err != nil {
			return nil, err
		}
		return &AddAnswer{Folder: folder, Run: run, Logs: logs}, nil
	})
}

// ReadingFields are the keys of a reading.
func ReadingFields() []quantity.Field { return project.ReadingSchema().Fields() }

// FlagName is a key as a flag.
func FlagName(f quantity.Field) string { return strings.ReplaceAll(f.Key, "_", "-") }

// FlagHelp words a key for a flag's help.
func FlagHelp(f quantity.Field) string {
	h := f.Doc
	if len(f.Choices) > 0 && !strings.Contains(f.Doc, ":") {
		h += ": " + strings.Join(f.Choices, ", ")
	}
	if f.Unit.Symbol != "" && f.Unit.Symbol != "1" {
		h += " (such as in " + f.Unit.Symbol + ")"
	}
	return h
}

// Paths are all numbers that Explain knows.
func Paths() []string {
	var out []string
	for _, f := range design.Schema().Fields() {
		out = append(out, f.Path)
	}
	for _, f := range StateSchema().Fields() {
		out = append(out, f.Path)
	}
	return out
}

// PredictFlags are what a prediction is asked for, as typed.
type PredictFlags struct {
	Power, Thrust, RotorSpeed, Throttle, Speed []string
	Place                                      string
	Page                                       bool // typed beside the drawing: messages name no flags
}

// ReadPredictAt reads what a prediction is asked for.
func ReadPredictAt(f PredictFlags) (PredictAt, error) {
	var at PredictAt
	demand, ok := drive.Place(f.Place)
	if !ok {
		return at, notice.List{{Kind: notice.Error, What: fmt.Sprintf("--place is %q", f.Place), Allowed: "it takes battery, controller or shaft"}}
	}
	at.Place = f.Place
	read := func(texts []string, flag, unit string, strictly bool) ([]float64, error) {
		flag = "--" + flag
		if f.Page {
			flag = strings.ReplaceAll(flag[2:], "-", " ")
		}
		var out []float64
		for _, t := range texts {
			v, err := quantity.ParseIn(t, quantity.MustUnit(unit))
			if err != nil {
				return nil, notice.List{{Kind: notice.Error, What: fmt.Sprintf("%s %q: %v", flag, t, err)}}
			}
			if v.Nominal() < 0 || strictly && v.Nominal() == 0 {
				return nil, notice.List{{Kind: notice.Error, What: fmt.Sprintf("%s %q is not positive", flag, t)}}
			}
			out = append(out, v.Nominal())
		}
		return out, nil
	}
	for _, k := range []struct {
		texts      []string
		flag, unit string
		demand     drive.Demand
	}{
		{f.Power, "power", "W", demand},
		{f.Thrust, "thrust", "N", drive.Thrust},
		{f.RotorSpeed, "rotor-speed", "rpm", drive.RotorSpeed},
		{f.Throttle, "throttle", "%", drive.Throttle},
	} {
		amounts, err := read(k.texts, k.flag, k.unit, true)
		if err != nil {
			return at, err
		}
		for _, a := range amounts {
			at.Demands = append(at.Demands, Demanded{k.demand, a})
		}
	}
	var err error
	at.Speeds, err = read(f.Speed, "speed", "m/s", false)
	return at, err
}

// Guess says how logs would be read, and writes nothing.
func Guess(files []string) (*AddAnswer, error) {
	logs, err := project.Guess(files, nil)
	if err != nil {
		return nil, err
	}
	for i := range logs {
		for j := range logs[i].Notices {
			at := &logs[i].Notices[j].Place
			at.File = filepath.Base(at.File)
		}
	}
	return &AddAnswer{Logs: logs}, nil
}

// Drops are logs that were handed over and wait to be adopted.
type Drops = project.Drops

// Correction is how one column of a log is to be read in place of how it was guessed.
type Correction = project.Correction

// ChannelUnit is a channel that a column of a log may be, with the units that it may come in.
type ChannelUnit struct {
	Name  string
	Units []string
}

// ChannelUnits are all channels.
func ChannelUnits() []ChannelUnit {
	var out []ChannelUnit
	for _, c := range project.Channels() {
		k := ChannelUnit{Name: string(c)}
		if u := bench.UnitOf(c); u.Symbol != "" {
			k.Units = quantity.UnitsLike(u)
		}
		out = append(out, k)
	}
	return out
}

// ChannelOf is a channel by its name.
func ChannelOf(name string) bench.Channel { return bench.Channel(name) }
