package desk

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"jetwright/design"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/notice"
	"jetwright/project"
	"jetwright/quantity"
)

// ChooseAnswer holds sets of motor, controller and battery against the duty of a design, best first.
type ChooseAnswer struct {
	Folder, File string
	Condition    drive.Condition
	Torque       Figure   // at the impeller's shaft
	RotorSpeed   Figure   // of the impeller
	Power        Figure   // there
	Time         float64  // s that it is held; 0 if it was not said
	Own          []string // kinds that the file does not list, for which the design's own stand
	Sets         []PartSet
	Steps        []drive.Leg // of the duty over time; none if they are not typed
	Draws        int
	Notices      notice.List
	Cautions     []Caution
	WaterTemp    float64
}

// Fit is how a set of parts stands to the duty.
type Fit int8

// Fits, best first. A set is near where its nearest limit has less than a tenth left, or breaks at the
// bad end of its 90 % interval.
const (
	FitsWell Fit = iota
	FitsNear
	FitsNot
	FitsNever // there is no state
)

var fitWords = [...]string{"fits", "near", "does not fit", "no state"}

// String returns the fit in words.
func (f Fit) String() string { return fitWords[f] }

// fitNear is the margin below which a set is near a limit.
const fitNear = 0.1

// PartSet is one set of parts, judged.
type PartSet struct {
	Motor, Controller, Battery string
	Fit                        Fit
	Why                        string     // why there is no state
	First                      SetLimit   // what limits first
	Beyond                     []SetLimit // limits that are broken, the farthest beyond first
	Next                       []SetLimit // the nearest that are kept
	NotJudged                  []SetLimit
	Keeps                      float64    // share of the draws in which every limit that could be judged is kept
	Efficiency                 Figure     // shaft power at the impeller over battery power
	BatteryPower               Figure     // power at the battery's terminals
	Over                       *SetCourse // over the duty's steps; nil where none are typed
	Energy, Usable             float64    // J, of the whole duty and of what the battery gives at that power; 0 without a time
}

// SetLimit is a limit of a set.
type SetLimit struct {
	quantity.Limit
	Shown       Figure
	Margin, Bad float64 // share of the way to the bound that is left, and at the bad end of its 90 % interval
	FirstIn     float64 // share of the draws in which this one is the nearest
}

// Choose answers which sets of the parts in a file fit the design's duty, held for a time in s, or 0.
func Choose(p *project.Project, file string, held float64, o Options) (*ChooseAnswer, error) {
	parts, faults, err := p.Parts(file)
	if err != nil {
		return nil, err
	}
	s, err := explore.New(p.Design, o.draws(DrawsAPoint), o.seed())
	if err != nil {
		return nil, unsolved(p, err)
	}
	nominal := p.Design.Nominal()
	a := &ChooseAnswer{
		Folder: p.Folder, File: file, Condition: nominal.DutyCondition(), Time: held, Draws: len(s.Machines),
		Notices: append(append(notice.List{}, p.Notices...), faults...), WaterTemp: nominal.Water.Temperature,
	}
	a.Cautions = motorCautions(&nominal)
	c := &chooser{held: held, condition: a.Condition}
	c.take(p.Design, parts, a)
	duty, list, err := c.run(s.Nominal, nil)
	if err != nil {
		l, _ := unsolved(p, err).(notice.List)
		if len(l) > 0 {
			l[0].WayOut = "the duty's torque and speed come from the design with its own parts: type a motor and a battery there that pass it, or a smaller duty"
			return nil, l
		}
		return nil, err
	}
	drawn := make([]map[string]drive.Choice, len(s.Machines))
	duties := make([]drive.DutyPoint, len(s.Machines))
	u := c.uniform(len(s.Machines), o.seed())
	explore.Parallel(len(s.Machines), func(i int) {
		if s.Machines[i] == nil {
			return
		}
		d, list, err := c.run(s.Machines[i], u[i])
		if err != nil {
			return
		}
		duties[i], drawn[i] = d, map[string]drive.Choice{}
		for _, x := range list {
			drawn[i][setName(x)] = x
		}
	})
	figure := func(of func(drive.DutyPoint) float64, unit string) Figure {
		var column []float64
		for _, d := range duties {
			if d.Torque > 0 {
				column = append(column, of(d))
			}
		}
		return figureFrom(explore.Interval(of(duty), column), unit)
	}
	a.Torque = figure(func(d drive.DutyPoint) float64 { return d.Torque }, "N·m")
	a.RotorSpeed = figure(func(d drive.DutyPoint) float64 { return d.Speed }, "rpm")
	a.Power = figure(func(d drive.DutyPoint) float64 { return d.Torque * d.Speed }, "W")
	for _, x := range list {
		a.Sets = append(a.Sets, judgeSet(x, drawn))
	}
	c.overDuty(p, a, s.Nominal)
	for i := range a.Sets {
		if x := &a.Sets[i]; x.Over != nil && !x.Over.Keeps() && x.Fit < FitsNot {
			x.Fit = FitsNot
		}
	}
	slices.SortStableFunc(a.Sets, func(x, y PartSet) int {
		round := func(m float64) float64 { return math.Round(100 * m) }
		return cmp.Or(cmp.Compare(x.Fit, y.Fit), cmp.Compare(round(y.First.Bad), round(x.First.Bad)), cmp.Compare(y.Efficiency.Value, x.Efficiency.Value))
	})
	if a.Condition.Demand != drive.Thrust {
		a.Notices = append(a.Notices, notice.Notice{Kind: notice.Remark, What: "the duty is a power at the " + a.Condition.Demand.String() + "; its torque and speed at the impeller are those of the design with its own parts, and every set is held against them"})
	}
	return a, nil
}

func figureFrom(f explore.Figure, unit string) Figure {
	return Figure{Value: f.Value, Low: f.Low, High: f.High, Unit: quantity.MustUnit(unit)}
}

func setName(c drive.Choice) string { return c.Motor + "\x00" + c.Controller + "\x00" + c.Battery }

// chooser holds the parts, read, and the duty.
type chooser struct {
	held                          float64
	condition                     drive.Condition
	motors, controllers, packages []design.Part
}

// take fills kinds that the file leaves out with the design's own.
func (c *chooser) take(d *design.Design, parts *design.Parts, a *ChooseAnswer) {
	own := func(list []design.Part, kind string) []design.Part {
		if len(list) > 0 {
			return list
		}
		a.Own = append(a.Own, kind)
		return []design.Part{{Name: "the design's own", Design: d}}
	}
	c.motors, c.controllers, c.packages = own(parts.Motors, "motor"), own(parts.Controllers, "controller"), own(parts.Batteries, "battery")
}

// each calls f with every part, in one order.
func (c *chooser) each(f func(kind int, p design.Part)) {
	for kind, list := range [][]design.Part{c.motors, c.controllers, c.packages} {
		for _, p := range list {
			f(kind, p)
		}
	}
}

// uniform draws for every uncertain number of every part, each part from its own.
func (c *chooser) uniform(n int, seed uint64) [][]float64 {
	k := 0
	c.each(func(_ int, p design.Part) { k += len(p.Design.Uncertain()) })
	return explore.Uniform(n, k, seed+1)
}

// run holds every set against the duty of one machine; u draws the parts, nil takes their nominals.
func (c *chooser) run(m *drive.Machine, u []float64) (drive.DutyPoint, []drive.Choice, error) {
	st, err := m.Solve(c.condition)
	if err != nil {
		return drive.DutyPoint{}, nil, err
	}
	duty, around := m.ChoiceDuty("duty", st, c.held)
	var offer drive.Offer
	offer.Reductions = append(offer.Reductions, m.ChoiceReduction())
	at := 0
	c.each(func(kind int, p design.Part) {
		d := p.Design.Nominal()
		if u != nil {
			n := len(p.Design.Uncertain())
			d = p.Design.Draw(u[at : at+n])
			at += n
		}
		switch kind {
		case 0:
			offer.Motors = append(offer.Motors, drive.MotorSheet{Name: p.Name, Motor: d.Motor})
		case 1:
			offer.Controllers = append(offer.Controllers, drive.ControllerSheet{Name: p.Name, Controller: d.Controller})
		default:
			offer.Batteries = append(offer.Batteries, drive.BatterySheet{Name: p.Name, Battery: d.Battery})
		}
	})
	list, err := drive.Choose(offer, []drive.DutyPoint{duty}, around)
	return duty, list, err
}

// nextLimits is how many kept limits of a set are told.
const nextLimits = 3

// judgeSet reads a set at its nominal and in every draw.
func judgeSet(x drive.Choice, drawn []map[string]drive.Choice) PartSet {
	s := PartSet{Motor: x.Motor, Controller: x.Controller, Battery: x.Battery, Why: x.Impossible, Energy: x.Energy, Usable: x.Usable}
	margins, values, first := map[string][]float64{}, map[string][]float64{}, map[string]float64{}
	var powers, efficiencies []float64
	n, without, keeps := 0.0, 0.0, 0.0
	for _, d := range drawn {
		y, ok := d[setName(x)]
		if !ok {
			continue
		}
		n++
		if y.Impossible != "" {
			without++
			continue
		}
		if y.Fits {
			keeps++
		}
		first[y.First.Limit.Name]++
		powers, efficiencies = append(powers, y.Points[0].Supply.BatteryPower), append(efficiencies, y.Efficiency)
		for _, f := range y.Findings {
			margins[f.Limit.Name] = append(margins[f.Limit.Name], f.Limit.Margin())
			values[f.Limit.Name] = append(values[f.Limit.Name], f.Limit.Value)
		}
	}
	if n > 0 {
		s.Keeps = keeps / n
	}
	if x.Impossible != "" {
		s.Fit = FitsNever
		return s
	}
	s.BatteryPower = figureFrom(explore.Interval(x.Points[0].Supply.BatteryPower, powers), "W")
	s.Efficiency = figureFrom(explore.Interval(x.Efficiency, efficiencies), "1")
	limit := func(l quantity.Limit) SetLimit {
		u, _ := quantity.LookupUnit(l.Unit)
		iv := explore.Interval(l.Value, values[l.Name])
		out := SetLimit{Limit: l, Shown: Figure{Doc: l.Name, Value: l.Value, Low: iv.Low, High: iv.High, Unit: u}, Margin: l.Margin()}
		out.Bad = explore.Interval(out.Margin, margins[l.Name]).Low
		if n > 0 {
			out.FirstIn = first[l.Name] / n
		}
		return out
	}
	for i, f := range x.Findings {
		l := limit(f.Limit)
		switch {
		case i == 0:
			s.First = l
		case l.Margin < 0:
			s.Beyond = append(s.Beyond, l)
		case len(s.Next) < nextLimits:
			s.Next = append(s.Next, l)
		}
	}
	for _, f := range x.NotJudged {
		s.NotJudged = append(s.NotJudged, SetLimit{Limit: f.Limit})
	}
	bad := s.First.Bad
	for _, l := range s.Next {
		bad = math.Min(bad, l.Bad)
	}
	switch {
	case !x.Fits:
		s.Fit = FitsNot
	case s.First.Margin < fitNear || bad < 0 || n > 0 && without/n > 0.05:
		s.Fit = FitsNear
	}
	return s
}

// ChooseIn answers Choose for a folder; held is a time as typed, or empty.
func ChooseIn(folder, file, held string, o Options) (*ChooseAnswer, error) {
	seconds := 0.0
	if strings.TrimSpace(held) != "" {
		v, err := quantity.ParseIn(held, quantity.MustUnit("s"))
		if err != nil {
			return nil, notice.List{{Kind: notice.Error, What: fmt.Sprintf("--held %q: %v", held, err), WayOut: `write it with its unit: --held "10 min"`}}
		}
		if seconds = v.Nominal(); !(seconds > 0) {
			return nil, notice.List{{Kind: notice.Error, What: fmt.Sprintf("--held %q is not positive", held)}}
		}
	}
	return in(folder, func(p *project.Project) (*ChooseAnswer, error) { return Choose(p, file, seconds, o) })
}
