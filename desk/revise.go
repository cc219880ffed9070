package desk

import (
	"fmt"
	"math"
	"sort"
	"strings"
	"time"

	"jetwright/bench"
	"jetwright/design"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/notice"
	"jetwright/project"
	"jetwright/quantity"
	"jetwright/reckon"
)

// ReviseAnswer is a revision that was frozen.
type ReviseAnswer struct {
	Folder, File string
	Name         string
	Note, Date   string
	Against      string // the revision before it; empty for the first
	Changed      []design.Difference
	Built        bool     // anything of it was measured on finished parts
	Waiting      []string // revisions that runs name and that are not frozen
	Notices      notice.List
}

// Revise freezes the design with a note. As is a number in words, or empty for the next one; again freezes it though
// nothing has changed.
func Revise(p *project.Project, note, as string, again bool, day time.Time) (*ReviseAnswer, error) {
	note = strings.TrimSpace(note)
	if note == "" {
		return nil, notice.List{{Kind: notice.Error, What: "the revision has no note", WayOut: `say in a line what it is about: jetwright revise -m "sharper leading edges"`}}
	}
	frozen, said, err := p.Revisions()
	if err != nil {
		return nil, err
	}
	a := &ReviseAnswer{Folder: p.Folder, Note: note, Date: day.Format("2006-01-02"), Built: p.Design.HasBuilt(), Notices: append(append(notice.List(nil), p.Notices...), said...)}
	n := p.NextRevision(frozen)
	if as != "" {
		k, ok := project.RevisionNumber(as)
		if !ok || k > 99999 {
			return nil, notice.List{{Kind: notice.Error, What: fmt.Sprintf("--as is %q", as), Allowed: "it takes a number such as 003"}}
		}
		n = k
	}
	var last *project.Revision
	for i := range frozen {
		r := &frozen[i]
		if r.Number == n {
			return nil, notice.List{{Kind: notice.Error, Place: quantity.Place{File: r.File}, What: "it is there already, and a revision is never written over; nothing was changed", WayOut: fmt.Sprintf("leave --as out: the next number is %03d", p.NextRevision(frozen))}}
		}
		if r.Number < n && r.Design != nil {
			last = r
		}
	}
	if last != nil {
		a.Against, a.Changed = last.Name, p.Design.Differences(last.Design)
		if len(a.Changed) == 0 && !again {
			return nil, notice.List{{
				Kind: notice.Error, Place: quantity.Place{File: project.DesignFile}, What: "nothing differs from revision " + last.Name + "; nothing was frozen",
				WayOut: "for another print of the same drawing, type what was measured on it under [built], or give --again",
			}}
		}
	}
	if a.File, err = p.Freeze(n, design.Frozen{Note: note, Date: a.Date}); err != nil {
		return nil, err
	}
	a.Name = strings.TrimSuffix(a.File[strings.LastIndexByte(a.File, '/')+1:], ".toml")
	for name, k := range runRevisions(p) {
		if !hasNumber(frozen, k) && k != n {
			a.Waiting = append(a.Waiting, name)
		}
	}
	sort.Strings(a.Waiting)
	return a, nil
}

func hasNumber(list []project.Revision, n int) bool {
	for _, r := range list {
		if r.Number == n {
			return true
		}
	}
	return false
}

// runRevisions are the revisions that runs name, with their numbers.
func runRevisions(p *project.Project) map[string]int {
	out := map[string]int{}
	for i := range p.Runs {
		if n, ok := project.RevisionNumber(p.Runs[i].Revision); ok {
			out[p.Runs[i].Revision] = n
		}
	}
	return out
}

// RevisionsAnswer is what became of a drive, revision by revision.
type RevisionsAnswer struct {
	Folder  string
	List    []RevisionShown
	Now     []design.Difference // of the design against the last frozen revision
	Against string              // that one; empty where none can be read
	Draws   int
	Notices notice.List
}

// RevisionShown is one revision.
type RevisionShown struct {
	Number     int
	Name       string
	File       string // empty where it is not frozen
	Note, Date string
	Changed    []design.Difference // against the frozen one before it
	Against    string
	Readable   bool
	Condition  drive.Condition // its own duty
	Predicted  []Figure        // at its duty
	Why        string          // why nothing is predicted
	Runs       []string
	Plateaus   int
	Measured   *MeasuredSince // against the measured revision before it
}

// MeasuredSince is what was measured of a revision against the one before it that was measured.
type MeasuredSince struct {
	Against   string
	Figures   []reckon.RevisionFigure
	Predicted float64 // difference of thrust at their like powers by the two designs, a share
	Known     bool    // both designs could be asked
}

// revisionFigures are predicted of each revision.
var revisionFigures = []string{"thrust", "battery_power", "static_efficiency", "rotor_speed", "motor.winding_temperature"}

// Revisions answers what each revision changed, what was predicted of it and what was measured.
func Revisions(p *project.Project, o Options) (*RevisionsAnswer, error) {
	evidence, days, faults := gather(p)
	a, err := revisions(p, o, evidence, days)
	if err != nil {
		return nil, err
	}
	a.Notices = append(a.Notices, faults...)
	return a, nil
}

// revisions answers from what was gathered already.
func revisions(p *project.Project, o Options, evidence []reckon.Evidence, days []*bench.Reduction) (*RevisionsAnswer, error) {
	frozen, said, err := p.Revisions()
	if err != nil {
		return nil, err
	}
	a := &RevisionsAnswer{Folder: p.Folder, Draws: o.draws(DrawsAPoint), Notices: append(append(notice.List(nil), p.Notices...), said...)}
	sides, runs := a.measured(p, evidence, days)
	byNumber := map[int]*project.Revision{}
	numbers := map[int]bool{}
	for i := range frozen {
		byNumber[frozen[i].Number], numbers[frozen[i].Number] = &frozen[i], true
	}
	for n := range sides {
		numbers[n] = true
	}
	var order []int
	for n := range numbers {
		order = append(order, n)
	}
	sort.Ints(order)
	var last *project.Revision
	measured := 0
	for _, n := range order {
		x := RevisionShown{Number: n, Name: fmt.Sprintf("%03d", n), Runs: runs[n]}
		r := byNumber[n]
		if r != nil {
			x.Name, x.File, x.Note, x.Date, x.Readable = r.Name, r.File, r.Note, r.Date, r.Design != nil
		}
		if x.Readable {
			if last != nil {
				x.Against, x.Changed = last.Name, r.Design.Differences(last.Design)
			}
			x.predict(r.Design, o)
			last = r
		}
		if s, ok := sides[n]; ok {
			s.Name = x.Name
			if x.Readable {
				s.Diameter = r.Design.Nominal().Impeller.Diameter
			}
			sides[n] = s
			x.Plateaus = len(s.Plateaus)
			if measured > 0 {
				x.Measured = &MeasuredSince{Against: sides[measured].Name, Figures: reckon.Compare(sides[measured], s)}
				x.Measured.predict(byNumber[measured], r)
			}
			measured = n
		}
		a.List = append(a.List, x)
	}
	if last != nil {
		a.Against, a.Now = last.Name, p.Design.Differences(last.Design)
	}
	if len(frozen) == 0 {
		a.Notices = append(a.Notices, notice.Notice{Kind: notice.Remark, What: "no revision is frozen yet", WayOut: `freeze the design as it is with: jetwright revise -m "what it is about"`})
	}
	return a, nil
}

// measured gathers plateaus by the number of the revision that ran.
func (a *RevisionsAnswer) measured(p *project.Project, evidence []reckon.Evidence, days []*bench.Reduction) (map[int]reckon.Side, map[int][]string) {
	sides, runs := map[int]reckon.Side{}, map[int][]string{}
	number := map[string]int{}
	for i := range p.Runs {
		r := &p.Runs[i]
		n, ok := project.RevisionNumber(r.Revision)
		if !ok {
			what := "the run does not say which revision ran"
			if r.Revision != "" {
				what = fmt.Sprintf("the run's revision is %q, which is no number", r.Revision)
			}
			a.Notices = append(a.Notices, notice.Notice{Kind: notice.Warning, Place: r.Place, What: what + "; it counts for none", WayOut: `type revision = "004" at the top of its run.toml`})
			continue
		}
		number[r.Name] = n
		runs[n] = append(runs[n], r.Name)
	}
	for _, e := range evidence {
		at := p.Design.Nominal()
		if e.Adjust != nil {
			e.Adjust(&at)
		}
		for _, pl := range e.Plateaus {
			if n, ok := number[pl.Run]; ok {
				s := sides[n]
				if s.Stands == nil {
					s.Stands = map[string]drive.Stand{}
				}
				s.Stands[pl.Run] = at.Stand
				s.Plateaus = append(s.Plateaus, pl)
				sides[n] = s
			}
		}
	}
	for _, d := range days {
		if n, ok := number[d.Run]; ok {
			s := sides[n]
			s.Repeats = append(s.Repeats, d.Repeats)
			sides[n] = s
		}
	}
	return sides, runs
}

// predict asks a revision's design for its state at its own duty.
func (x *RevisionShown) predict(d *design.Design, o Options) {
	s, err := explore.New(d, o.draws(DrawsAPoint), o.seed())
	if err != nil {
		x.Why = err.Error()
		return
	}
	x.Condition = d.Nominal().DutyCondition()
	r := s.Solve(x.Condition)
	if r.Err != nil {
		x.Why = r.Err.Error()
		return
	}
	for _, path := range revisionFigures {
		f, _ := StateSchema().Lookup(path)
		iv := r.Figure(reader(f))
		x.Predicted = append(x.Predicted, Figure{Path: path, Doc: f.Doc, Value: iv.Value, Low: iv.Low, High: iv.High, Unit: f.Unit})
	}
}

// predict asks both designs for the thrust at the middle of the powers at which both were measured.
func (m *MeasuredSince) predict(was, is *project.Revision) {
	if was == nil || is == nil || was.Design == nil || is.Design == nil || len(m.Figures) == 0 || m.Figures[0].Levels == 0 {
		return
	}
	c := drive.Condition{OnStand: true, Amount: math.Sqrt(m.Figures[0].Low * m.Figures[0].High)}
	c.Demand, _ = drive.Place(orBattery(m.Figures[0].Place))
	var thrust [2]float64
	for k, d := range []*design.Design{was.Design, is.Design} {
		machine, err := d.Nominal().Resolve()
		if err != nil {
			return
		}
		s, err := machine.Solve(c)
		if err != nil {
			return
		}
		thrust[k] = s.Thrust
	}
	m.Predicted, m.Known = math.Log(thrust[1]/thrust[0]), true
}

func orBattery(place string) string { return placeOf(bench.Plateau{PowerPlace: place}) }

// ReviseIn freezes the design of a folder.
func ReviseIn(folder, note, as string, again bool) (*ReviseAnswer, error) {
	return in(folder, func(p *project.Project) (*ReviseAnswer, error) { return Revise(p, note, as, again, time.Now()) })
}

// RevisionsIn answers Revisions for a folder.
func RevisionsIn(folder string, o Options) (*RevisionsAnswer, error) {
	return in(folder, func(p *project.Project) (*RevisionsAnswer, error) { return Revisions(p, o) })
}
