package desk

import (
	"fmt"
	"strings"

	"jetwright/design"
	"jetwright/notice"
	"jetwright/project"
	"jetwright/quantity"
)

// versions are the frozen designs of a folder as seen from its design.
type versions struct {
	frozen map[int]*project.Revision
	seen   map[int]*design.Version
	now    *design.Design
}

func versionsOf(p *project.Project) *versions {
	v := &versions{frozen: map[int]*project.Revision{}, seen: map[int]*design.Version{}, now: p.Design}
	list, _, err := p.Revisions()
	if err != nil {
		return v // the runs that name one say so
	}
	for i := range list {
		if list[i].Design != nil {
			v.frozen[list[i].Number] = &list[i]
		}
	}
	return v
}

// changesNamed is how many changes since an earlier drive are named.
const changesNamed = 4

// of returns the drive that a run was made with, where it is another than the design's. A run that names no revision, or one
// that cannot be read, counts for the design as it is.
func (v *versions) of(r *project.Run) (earlier *design.Version, name string, said notice.List) {
	n, ok := project.RevisionNumber(r.Revision)
	if !ok {
		return nil, "", nil
	}
	f := v.frozen[n]
	if f == nil {
		if len(v.frozen) > 0 { // without any, nobody keeps revisions here
			said = append(said, notice.Notice{
				Kind: notice.Warning, Place: quantity.Place{File: r.Place.File}, What: fmt.Sprintf("%s ran revision %s, which is not frozen; it counts as the drive of the design", r.Name, r.Revision),
				WayOut: "freeze a design before it is changed: jetwright revise -m …",
			})
		}
		return nil, "", said
	}
	was, known := v.seen[n]
	if !known {
		was = v.now.Version(f.Design)
		v.seen[n] = was
	}
	if was == nil {
		return nil, "", nil
	}
	name = "revision " + f.Name
	var changes []string
	for i, x := range was.Changed {
		if i == changesNamed {
			changes = append(changes, fmt.Sprintf("and %d more", len(was.Changed)-i))
			break
		}
		changes = append(changes, changeWords(x))
	}
	said = append(said, notice.Notice{
		Kind: notice.Remark, Place: quantity.Place{File: r.Place.File},
		What: fmt.Sprintf("%s ran %s; since then %s: its readings teach what both drives share, and no step of it is one to go on from", r.Name, name, strings.Join(changes, ", ")),
	})
	return was, name, said
}

// changeWords words a change of a key.
func changeWords(x design.Difference) string {
	word := func(s string) string {
		if s == "" {
			return "nothing"
		}
		return s
	}
	path := x.Path
	if x.Built {
		path = "built " + path
	}
	return fmt.Sprintf("%s went from %s to %s", path, word(x.Was), word(x.Is))
}
