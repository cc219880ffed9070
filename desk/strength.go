package desk

import (
	"fmt"
	"sync"

	"jetwright/drive"
	"jetwright/explore"
	"jetwright/notice"
	"jetwright/project"
	"jetwright/quantity"
)

// StrengthAnswer is what holds the drive together, at the design point.
type StrengthAnswer struct {
	Folder    string
	Condition drive.Condition
	Work      *drive.StrengthWork // nominal
	Shaft     []Figure            // what the shaft sees; none where it is not worked out
	Rotor     []Figure            // what impeller, stator and casing see
	Limits    []Limit
	Draws     int
	Failed    map[string]int
	Notices   notice.List
	Cautions  []Caution
	Fine      bool
	WaterTemp float64
}

var strengthSchema = sync.OnceValue(func() *quantity.Schema {
	s, err := quantity.SchemaOf(drive.StrengthState{})
	if err != nil {
		panic("the strength's tags do not make a schema: " + err.Error()) // held by TestStrength
	}
	return s
})

// StrengthIn answers Strength for a folder.
func StrengthIn(folder string, o Options) (*StrengthAnswer, error) {
	return in(folder, func(p *project.Project) (*StrengthAnswer, error) { return Strength(p, o) })
}

// Strength answers what shaft, impeller, stator and casing see and stand.
func Strength(p *project.Project, o Options) (*StrengthAnswer, error) {
	s, err := explore.New(p.Design, o.draws(explore.DefaultDraws), o.seed())
	if err != nil {
		return nil, unsolved(p, err)
	}
	nominal := p.Design.Nominal()
	c := nominal.DutyCondition()
	r := s.Solve(c)
	if r.Err != nil {
		return nil, unsolved(p, r.Err)
	}
	a := &StrengthAnswer{
		Folder: p.Folder, Condition: c, Work: s.Nominal.StrengthWorkAt(&r.Nominal), Draws: r.Draws, Failed: r.Failed, Notices: p.Notices,
		Fine: true, WaterTemp: nominal.Water.Temperature,
	}
	a.Cautions = strengthCautions(&nominal, a.Work.Materials)
	drawn := make([]drive.StrengthState, len(r.States))
	explore.Parallel(len(r.States), func(i int) { drawn[i] = s.Machines[r.Rows[i]].StrengthAt(&r.States[i]) })
	for _, f := range strengthSchema().Fields() {
		read := strengthSchema().Reader(f)
		value := read(&a.Work.State)
		if value == 0 {
			continue // not worked out
		}
		var all []float64
		for i := range drawn {
			all = append(all, read(&drawn[i]))
		}
		iv := explore.Interval(value, all)
		g := Figure{Path: f.Path, Doc: f.Doc, Value: value, Low: iv.Low, High: iv.High, Unit: f.Unit}
		if f.Section == "shaft" {
			a.Shaft = append(a.Shaft, g)
		} else {
			a.Rotor = append(a.Rotor, g)
		}
	}
	for _, l := range r.Limits(s) {
		if !drive.HoldsTogether(l.Name) {
			continue
		}
		a.Limits = append(a.Limits, shownLimit(l))
		a.Fine = a.Fine && l.State != explore.Broken && l.State != explore.NotJudged
	}
	return a, nil
}

// strengthCautions are those of rotating parts.
func strengthCautions(d *drive.Drive, used []drive.UsedMaterial) []Caution {
	var warm []Caution
	for _, m := range used {
		if m.Softens > 0 && m.Softens < sunWarm {
			warm = append(warm, Caution{"warm", fmt.Sprintf("%s (%s) softens at about %.0f °C: a dark hull or car in the sun gets there, and what has crept once stands at other angles and gaps; figures here are for the water's own temperature. Keep it shaded, and look at gap and roots after a hot day.", m.Name, m.Part, m.Softens-zeroCelsius), "memory"})
			break
		}
	}
	list := append([]Caution{
		{"never without a guard", "nothing here proves a blade: these are loads of a mean line on beams. Run every new impeller up behind a guard that a blade does not go through, nobody in its plane, throttle from afar; look for white marks and cracks at the roots after each step, and throw away what has one.", "own"},
		{"in air", "out of the water nothing loads the impeller, and it runs up at once to the speed without load: never power it on the bench or as the craft leaps, unless it has come through a spin test beyond that speed.", "own"},
	}, warm...)
	return append(list, only(cautions(d), "rotating parts", "rules")...)
}

// sunWarm is what lies in the sun may reach, K: 80 °C, common practice.
const sunWarm = 80 + zeroCelsius

// only returns the cautions of some topics.
func only(list []Caution, topics ...string) []Caution {
	var out []Caution
	for _, c := range list {
		for _, t := range topics {
			if c.Topic == t {
				out = append(out, c)
			}
		}
	}
	return out
}
