// Package desk holds one function for each question that a builder can ask. A question loads
// a folder, solves, spreads, and attaches limits, notices and sources; the answer is plain
// data, the same for every door.
package desk

import (
	"errors"
	"math"
	"slices"
	"sync"

	"jetwright/design"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/notice"
	"jetwright/project"
	"jetwright/quantity"
)

// Options are common to all questions.
type Options struct {
	Nominal bool // no intervals
	Sampled bool // reckonings walk the posterior instead of taking it as normal
	// Gaussian keeps the page of Report from walking it too: quicker by seconds.
	Gaussian bool
	Draws    int // 0: explore.DefaultDraws, or DrawsAPoint in predictions
	Seed     uint64
}

// DrawsAPoint is how many drives each point of a prediction rests on.
const DrawsAPoint = 128

func (o Options) draws(usual int) int {
	switch {
	case o.Nominal:
		return 0
	case o.Draws > 0:
		return o.Draws
	}
	return usual
}

func (o Options) seed() uint64 {
	if o.Seed != 0 {
		return o.Seed
	}
	return explore.DefaultSeed
}

// Figure is a number with its 90 % interval, SI, and the unit to show it in.
type Figure struct {
	Path             string
	Doc              string
	Value, Low, High float64
	Unit             quantity.Unit
}

// StateSchema declares every figure of a state.
func StateSchema() *quantity.Schema { return stateSchema() }

var stateSchema = sync.OnceValue(func() *quantity.Schema {
	s, err := quantity.SchemaOf(drive.State{})
	if err != nil {
		panic("the state's tags do not make a schema: " + err.Error()) // held by TestStateSchema
	}
	return s
})

// Figures is a state with intervals: its figures by path, in the order of their declaration.
type Figures struct {
	List []Figure
	at   map[string]int
}

// Of returns a figure by its path, such as "jet.head".
func (f Figures) Of(path string) Figure { return f.List[f.at[path]] }

// Lookup returns a figure by its path where there is one.
func (f Figures) Lookup(path string) (Figure, bool) {
	i, ok := f.at[path]
	if !ok {
		return Figure{}, false
	}
	return f.List[i], true
}

// Has tells whether there are any figures.
func (f Figures) Has() bool { return len(f.List) > 0 }

// spread reads every figure of a result.
func spread(r *explore.Result) Figures {
	fields := shownFields(&r.Nominal)
	out := Figures{List: make([]Figure, len(fields)), at: make(map[string]int, len(fields))}
	explore.Parallel(len(fields), func(i int) {
		f := fields[i]
		iv := r.Figure(reader(f))
		out.List[i] = Figure{Path: f.Path, Doc: f.Doc, Value: iv.Value, Low: iv.Low, High: iv.High, Unit: f.Unit}
	})
	for i, f := range fields {
		out.at[f.Path] = i
	}
	return out
}

// shownFields are the figures that a state has: those of the coolant's parts and of the blades only where they are typed.
func shownFields(s *drive.State) []quantity.Field {
	return fieldsShown()[at(s.HasCoolant())|at(s.HasBlades())<<1]
}

func at(have bool) int {
	if have {
		return 1
	}
	return 0
}

// fieldsShown are they without and with the coolant's parts, then the blades.
var fieldsShown = sync.OnceValue(func() (out [4][]quantity.Field) {
	for i := range out {
		out[i] = slices.DeleteFunc(slices.Clone(StateSchema().Fields()), func(f quantity.Field) bool {
			return f.Section == "coolant" && i&1 == 0 || f.Section == "blades" && i&2 == 0
		})
	}
	return out
})

func reader(f quantity.Field) func(*drive.State) float64 {
	read := StateSchema().Reader(f)
	return func(s *drive.State) float64 { return read(s) }
}

// Share is what one input contributes to the doubt about a figure.
type Share struct {
	Path    string
	Share   float64 // of the variance
	Assumed bool
	Text    string // the input's value as typed or assumed
	Doc     string
	Source  string
}

// shares returns the inputs that contribute at least a hundredth, and what is left.
func shares(s *explore.Sample, r *explore.Result, of func(*drive.State) float64) ([]Share, float64) {
	list, rest := r.Contributions(s, of)
	inputs := map[string]design.Input{}
	for _, in := range s.Inputs {
		inputs[in.Path] = in
	}
	var out []Share
	for _, c := range list {
		in := inputs[c.Path]
		out = append(out, Share{Path: c.Path, Share: c.Share, Assumed: in.Assumed, Text: in.Value.String(), Doc: in.Field.Doc, Source: in.Field.Source})
	}
	return out, rest
}

// Limit is one limit, judged.
type Limit struct {
	explore.JudgedLimit
	Shown Figure // nominal, bad end
}

func shownLimit(l explore.JudgedLimit) Limit {
	u, _ := quantity.LookupUnit(l.Unit)
	return Limit{l, Figure{Path: l.Part, Doc: l.Name, Value: l.Value, Low: math.Min(l.Value, l.Worst), High: math.Max(l.Value, l.Worst), Unit: u}}
}

// DutyAnswer is the state at the design point with its limits.
type DutyAnswer struct {
	Folder      string
	Condition   drive.Condition
	Drive       *drive.Drive    // nominal
	Untyped     map[string]bool // paths of the design that stand at their assumption
	Why         string          // why there is no state, empty if there is one
	State       Figures
	Ledger      []LedgerLine
	Limits      []Limit
	Fine        bool // every limit was judged and none is broken
	Aim         string
	Shares      []Share
	Unexplained float64
	Assumptions []design.Input
	Draws       int
	Failed      map[string]int
	Notices     notice.List
	Cautions    []Caution
	WaterTemp   float64
}

// LedgerLine is one line of the watt ledger with its interval.
type LedgerLine struct {
	Name string
	Figure
	Share float64 // of the battery power, nominal
}

// Limits answers what breaks first at the design point.
func Limits(p *project.Project, o Options) (*DutyAnswer, error) { return LimitsAt(p, nil, o) }

// LimitsAt answers what breaks first at a condition; without one at the design point.
func LimitsAt(p *project.Project, c *drive.Condition, o Options) (*DutyAnswer, error) {
	s, err := explore.New(p.Design, o.draws(explore.DefaultDraws), o.seed())
	if err != nil {
		return nil, unsolved(p, err)
	}
	if c == nil {
		return duty(p, s)
	}
	if _, err := s.Nominal.Solve(*c); err != nil {
		return nil, notice.List{{Kind: notice.Error, What: "the drive has no state at " + describe(*c) + ": " + err.Error(), WayOut: wayOut(err)}}
	}
	return dutyAt(p, s, *c)
}

// wayOut is what could be changed where a drive has no state.
func wayOut(err error) string {
	var unmet *drive.Unmet
	if errors.As(err, &unmet) {
		return unmet.WayOut()
	}
	return ""
}

func unsolved(p *project.Project, err error) error {
	n := notice.Notice{Kind: notice.Error, Place: quantity.Place{File: project.DesignFile}, What: err.Error(), WayOut: wayOut(err)}
	for _, path := range []string{"duty.thrust", "duty.power"} {
		if place, ok := p.Design.TypedAt(path); ok {
			n.Place, n.Excerpt = place, p.Design.Document().Line(place.Line)
			n.What = "the drive has no state at its design point: " + n.What
		}
	}
	return notice.List{n}
}

// duty answers from a sample that is there already.
func duty(p *project.Project, s *explore.Sample) (*DutyAnswer, error) {
	nominal := p.Design.Nominal()
	return dutyAt(p, s, nominal.DutyCondition())
}

func dutyAt(p *project.Project, s *explore.Sample, c drive.Condition) (*DutyAnswer, error) {
	nominal := p.Design.Nominal()
	r := s.Solve(c)
	a := &DutyAnswer{Folder: p.Folder, Condition: c, Draws: r.Draws, Failed: r.Failed, Assumptions: p.Design.Assumptions(), Notices: p.Notices}
	a.WaterTemp = nominal.Water.Temperature
	a.Drive, a.Untyped = &nominal, untyped(p.Design)
	a.Cautions = cautions(&nominal)
	if r.Err != nil {
		return nil, unsolved(p, r.Err)
	}
	a.State = spread(r)
	for _, e := range r.Nominal.Ledger() {
		f := a.State.Of(e.Path)
		if e.Path == "jet.wake_gain" {
			f.Value, f.Low, f.High = -f.Value, -f.High, -f.Low
		}
		a.Ledger = append(a.Ledger, LedgerLine{Name: e.Name, Figure: f, Share: f.Value / r.Nominal.BatteryPower})
	}
	a.Fine = true
	for _, l := range r.Limits(s) {
		a.Limits = append(a.Limits, shownLimit(l))
		a.Fine = a.Fine && l.State != explore.Broken && l.State != explore.NotJudged
	}
	aim := "thrust"
	of := func(st *drive.State) float64 { return st.Thrust }
	if c.Demand == drive.Thrust {
		aim = "battery_power"
		of = func(st *drive.State) float64 { return st.BatteryPower }
	}
	a.Aim = aim
	a.Shares, a.Unexplained = shares(s, r, of)
	return a, nil
}

// untyped returns the paths of a design that nobody typed.
func untyped(d *design.Design) map[string]bool {
	out := map[string]bool{}
	for _, f := range design.Schema().Fields() {
		if _, ok := d.TypedAt(f.Path); !ok {
			out[f.Path] = true
		}
	}
	return out
}

// Point is one condition of a prediction.
type Point struct {
	Condition drive.Condition
	State     Figures
	Why       string // why there is no state
	Failed    map[string]int
	Draws     int
}

// PredictAnswer is a prediction over power at rest and over craft speed.
type PredictAnswer struct {
	Folder   string
	Points   []Point
	Notices  notice.List
	Cautions []Caution
	Draws    int
}

// PredictAt says what to predict. Empty lists take what Predict chooses.
type PredictAt struct {
	Demands []Demanded
	Place   string    // of the powers that Predict chooses: battery, controller or shaft; battery if empty
	Speeds  []float64 // m/s
}

// Demanded is a figure that a point of a prediction prescribes, SI.
type Demanded struct {
	Demand drive.Demand
	Amount float64
}

// restPoints is the least number of powers at rest that a prediction has unless they are named.
const restPoints = 8

// ladder is powers in round steps up to a top, which is its last.
func ladder(top float64) []float64 {
	unit := math.Pow(10, math.Floor(math.Log10(top/restPoints)))
	step := unit
	for _, round := range []float64{1, 1.5, 2, 2.5, 3, 4, 5, 6, 8} {
		if round*unit <= top/restPoints {
			step = round * unit
		}
	}
	var out []float64
	for i := 1; float64(i)*step < top*(1-0.2*step/top); i++ {
		out = append(out, float64(i)*step)
	}
	return append(out, top)
}

// speedPoints is how many speeds a prediction has unless they are named.
const speedPoints = 5

// Predict answers thrust, power and speed over a range. Without powers or speeds it takes
// eight powers or more at rest, in round steps, up to the duty's battery power or what the battery gives, then five
// speeds up to the duty's at that power.
func Predict(p *project.Project, at PredictAt, o Options) (*PredictAnswer, error) {
	s, err := explore.New(p.Design, o.draws(DrawsAPoint), o.seed())
	if err != nil {
		return nil, unsolved(p, err)
	}
	nominal := p.Design.Nominal()
	a := &PredictAnswer{Folder: p.Folder, Notices: p.Notices, Cautions: cautions(&nominal), Draws: len(s.Machines)}
	for _, c := range conditions(s.Nominal, &nominal, at) {
		r := s.Solve(c)
		pt := Point{Condition: c, Failed: r.Failed, Draws: r.Draws}
		if r.Err != nil {
			pt.Why = r.Err.Error()
		} else {
			pt.State = spread(r)
		}
		a.Points = append(a.Points, pt)
	}
	return a, nil
}

func conditions(m *drive.Machine, d *drive.Drive, at PredictAt) []drive.Condition {
	demand, ok := drive.Place(at.Place)
	if !ok {
		demand = drive.BatteryPower
	}
	if len(at.Demands) > 0 {
		speeds := at.Speeds
		if len(speeds) == 0 {
			speeds = []float64{0}
		}
		var out []drive.Condition
		for _, v := range speeds {
			for _, d := range at.Demands {
				out = append(out, drive.Condition{Speed: v, Demand: d.Demand, Amount: d.Amount})
			}
		}
		return out
	}
	top := topPower(m, d, demand)
	var out []drive.Condition
	if len(at.Speeds) == 0 {
		for _, w := range ladder(top) {
			out = append(out, drive.Condition{Demand: demand, Amount: w})
		}
	}
	speeds := at.Speeds
	if len(speeds) == 0 {
		vmax := d.Duty.TopSpeed.Or(d.Duty.Speed)
		if vmax == 0 {
			vmax = defaultTopSpeed
		}
		for i := 1; i <= speedPoints; i++ {
			speeds = append(speeds, vmax*float64(i)/speedPoints)
		}
	}
	for _, v := range speeds {
		out = append(out, drive.Condition{Speed: v, Demand: demand, Amount: top})
	}
	return out
}

// defaultTopSpeed in m/s is how far predictions go where the duty is at rest and names no
// top speed.
const defaultTopSpeed = 8.0

// topPower is the duty's power at a place, or nearly all that the battery gives at rest if
// that is less.
func topPower(m *drive.Machine, d *drive.Drive, demand drive.Demand) float64 {
	power := 0.0
	if s, err := m.Solve(d.DutyCondition()); err == nil {
		switch demand {
		case drive.ShaftPower:
			power = s.ShaftPower
		case drive.ControllerPower:
			power = s.ControllerPower
		default:
			power = s.BatteryPower
		}
	} else {
		power = d.Duty.Power.Or(1000)
	}
	for range 40 {
		if _, err := m.Solve(drive.Condition{Demand: demand, Amount: power}); err == nil {
			return power
		}
		power *= 0.95
	}
	return power
}
