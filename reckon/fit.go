// Package reckon holds what was measured against what was predicted: it calibrates the
// model, extrapolates with an interval, examines promises and judges them, and says how far
// the next test may go. Measurement and model meet here and nowhere else.
package reckon

import (
	"fmt"
	"math"
	"strings"
	"sync"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"jetwright/bench"
	"jetwright/design"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/notice"
	"jetwright/numeric"
)

// Prior standard deviations of the calibration: how far the pump and motor models may stand
// beside their assumed ranges, as natural logarithms. Our own.
const (
	priorLnHead           = 0.10
	priorLnPower          = 0.10
	priorLnTorqueConstant = 0.05
)

// TubShare is the most that jet-driven water moving in a tub or pool takes from measured thrust.
const TubShare = 0.08

// steadyHold is the least time in s that a temperature must have been held for to be taken as
// steady; our own, until the drive's time constants are known.
const steadyHold = 180

// modelScatter is how far the model may stand beside a reduced figure at one plateau and not at
// the next, as a share: a mean over minutes is known better than any one-dimensional jet is. In
// K for temperatures. Our own.
const (
	modelScatter            = 0.005
	modelScatterTemperature = 0.5
)

// fitTolerance is how near to the most probable point the search comes, in prior standard deviations; what is left of
// every number is far within its interval.
const fitTolerance = 1e-3

// drawnTolerance is how near a draw comes to the point that it stands for, in prior standard deviations.
const drawnTolerance = 0.2

// drawTolerance is the share of the demand to which a draw's states are met while it is moved; its
// residuals are settled to half of their scatter, which is half a per cent itself.
const drawTolerance = 1e-4

// Evidence is what was measured on one set-up.
type Evidence struct {
	Plateaus []bench.Plateau
	Adjust   func(*drive.Drive) // what of stand and water was different in this run; may be nil
	Version  *design.Version    // the earlier drive that ran; nil where it is the design's
	Earlier  string             // its name, such as "revision 003"
}

// Options of a fit.
type Options struct {
	Draws      int     // posterior draws, explore.DefaultDraws if 0
	Seed       uint64  // explore.DefaultSeed if 0
	Nominal    bool    // the best point alone, without draws
	Sampled    bool    // the posterior walked, not taken as normal
	PriorScale float64 // on every prior standard deviation; 1 if 0
	Place      string  // taken for powers that do not say theirs: battery, controller or shaft

	start     []float64                // of the search
	bare      bool                     // nobody asks what was learned
	leave     func(power float64) bool // plateaus that are left out, by their power at the battery in W; may be nil
	known     []float64                // coordinates of the drive itself that are told, for comparing
	effective float64                  // size of a sampled answer; sampledEffective if 0
}

// coordinate is one standardised unknown: standard normal before the measurement.
type coordinate struct {
	name     string
	physical bool // belongs to the drive, not to the instruments
	earlier  bool // belongs to an earlier drive alone
}

// model maps coordinates to residuals.
type model struct {
	design    *design.Design
	inputs    []design.Input
	evidence  []Evidence
	coords    []coordinate
	place     string
	scale     float64
	nInputs   int
	current   bool           // phase current was read
	shared    map[string]int // instrument and channel → coordinate
	prepared  [][]prepared   // evidence × plateau
	tub       int            // coordinate, −1 if every run was in open water
	drift     int            // coordinate, −1 if the ladder cannot show it
	highest   float64        // tested power at the battery, W
	steps     int            // different powers of the ladder
	ratio     float64        // highest over lowest of them
	known     []float64      // coordinates of the drive itself that are told
	friction  int
	gravity   float64
	residuals int
	plateaus  int
	versionOf []*version // by evidence; nil where the drive is the design's
	base      *base      // where derivatives were last taken
	outside   []Doubt    // readings that the design alone excludes
	pool      sync.Pool  // of states
	machines  sync.Pool  // of pairs of machines
}

// carried is a component that several figures share besides their instrument's limits.
type carried struct {
	coordinate int
	u          float64 // SI, with its sign
}

// prepared is a plateau with all that does not depend on the coordinates looked up once.
type prepared struct {
	plateau bench.Plateau
	demand  bench.Figure
	kind    drive.Demand
	error   int       // coordinate of the demand's instrument
	scatter int       // coordinate of the demand's own scatter
	stream  int       // coordinate of the speed of the water past the stand, −1 if it stands
	tub     bool      // the jet may drive the water round, and nobody measured how fast
	rolls   float64   // mass on the carriage's rollers, kg; 0 where an arm hangs on a pivot
	carried []carried // by the demand
	rows    []row

	left      bool    // left out of the fit, to be predicted
	power     float64 // at the battery as read, W; 0 without thrust and power
	doublings float64 // of the power over the highest tested one, 0 or less
}

// row is a figure that the model has to meet.
type row struct {
	figure  bench.Figure
	error   int     // coordinate of its instrument
	repeat  float64 // scatter of the figure and of the model at it, SI
	carried []carried
}

func newModel(prior *explore.Sample, evidence []Evidence, o Options) *model {
	d := prior.Design
	m := &model{
		design: d, inputs: d.Uncertain(), evidence: evidence, place: o.Place, scale: o.PriorScale, known: o.known,
		shared: map[string]int{}, tub: -1, friction: -1, gravity: prior.Nominal.Path.Medium.Gravity,
	}
	if m.scale == 0 {
		m.scale = 1
	}
	for _, in := range m.inputs {
		m.coords = append(m.coords, coordinate{name: in.Path, physical: true})
	}
	m.nInputs = len(m.inputs)
	for _, name := range []string{"pump head, beside its range", "pump power, beside its range"} {
		m.coords = append(m.coords, coordinate{name: name, physical: true})
	}
	for _, e := range evidence {
		for _, p := range e.Plateaus {
			if _, ok := p.Figure(bench.PhaseCurrent); ok {
				m.current = true
			}
		}
	}
	if m.current {
		m.coords = append(m.coords, coordinate{name: "motor torque constant, beside its range", physical: true})
	}
	add := func(name string) int {
		m.coords = append(m.coords, coordinate{name: name, physical: false})
		return len(m.coords) - 1
	}
	stands := make([]drive.Stand, len(evidence))
	for i, e := range evidence {
		at := d.Nominal()
		if e.Adjust != nil {
			e.Adjust(&at)
		}
		stands[i] = at.Stand
		for _, p := range e.Plateaus {
			if m.tub < 0 && mayMove(at.Stand, p) {
				m.tub = add("water moving in the tub or pool")
			}
		}
	}
	m.friction = add("carriage friction")
	m.addVersions(add)
	for i, e := range evidence {
		var list []prepared
		for _, p := range e.Plateaus {
			demand, ok := demandChannel(p)
			rows := m.rows(p)
			if !ok || len(rows) == 0 {
				continue
			}
			x := prepared{plateau: p, demand: demand, kind: drive.RotorSpeed, error: m.instrument(demand, add), scatter: add("scatter of " + p.Name), stream: -1}
			if w := p.Stream; w.Known {
				key := p.Run + ", speed of the water past the stand"
				if _, ok := m.shared[key]; !ok {
					m.shared[key] = add(key)
				}
				x.stream = m.shared[key]
			}
			x.tub = mayMove(stands[i], p)
			if stands[i].Kind != "pivot" {
				x.rolls = stands[i].CarriageLoad
			}
			if demand.Channel == bench.Power {
				place := p.PowerPlace
				if place == "" {
					place = m.place
				}
				x.kind, _ = drive.Place(place)
			}
			x.carried = m.carriedBy(demand, add)
			for _, f := range rows {
				x.rows = append(x.rows, row{f, m.instrument(f, add), withModel(f), m.carriedBy(f, add)})
			}
			x.power = m.powerOf(prior, &x)
			x.left = o.leave != nil && o.leave(x.power)
			if !x.left {
				m.residuals += len(rows)
			}
			m.plateaus++
			list = append(list, x)
		}
		m.prepared = append(m.prepared, list)
	}
	m.addDrift(add)
	return m
}

// mayMove tells whether the jet may have driven the water round while a plateau was held: in a tub or pool,
// where nobody measured how fast the water runs past the drive.
func mayMove(s drive.Stand, p bench.Plateau) bool { return s.Water != "open" && !p.Stream.Known }

// instrument returns the coordinate of a figure's instrument, which all figures of it share.
func (m *model) instrument(f bench.Figure, add func(string) int) int {
	key := string(f.Channel) + " by " + f.Instrument
	if _, ok := m.shared[key]; !ok {
		m.shared[key] = add(key)
	}
	return m.shared[key]
}

// carriedBy returns what a reduced figure shares besides its instrument: tare, friction.
func (m *model) carriedBy(f bench.Figure, add func(string) int) []carried {
	var out []carried
	for _, c := range f.Budget {
		if c.Shared == "" || c.Shared == f.SharedName() || c.U == 0 {
			continue
		}
		if _, ok := m.shared[c.Shared]; !ok {
			m.shared[c.Shared] = add(c.Shared)
		}
		u := c.U
		if c.Against {
			u = -u
		}
		out = append(out, carried{m.shared[c.Shared], u})
	}
	return out
}

// withModel returns the scatter of a figure with that of the model, SI. A typed reading's scatter
// is that of one look at a screen, beside which the model's is small.
func withModel(f bench.Figure) float64 {
	if f.Budget == nil {
		return f.Repeat
	}
	switch f.Channel {
	case bench.WindingTemperature, bench.BridgeTemperature:
		return math.Hypot(f.Repeat, modelScatterTemperature)
	}
	return math.Hypot(f.Repeat, modelScatter*f.Value)
}

// demandChannel is the figure that says how hard the drive ran.
func demandChannel(p bench.Plateau) (bench.Figure, bool) {
	if f, ok := p.Figure(bench.Power); ok {
		return f, true
	}
	return p.Figure(bench.RotorSpeed)
}

// rows are the figures of a plateau that the model has to meet.
func (m *model) rows(p bench.Plateau) []bench.Figure {
	demand, ok := demandChannel(p)
	if !ok || p.Unsettled != "" {
		return nil
	}
	var rows []bench.Figure
	for _, f := range p.Figures {
		if f.Channel == demand.Channel {
			continue
		}
		switch f.Channel {
		case bench.Thrust, bench.RotorSpeed, bench.BatteryVoltage:
			rows = append(rows, f)
		case bench.PhaseCurrent:
			rms, _ := p.PhaseCurrentRMS()
			rows = append(rows, rms)
		case bench.WindingTemperature, bench.BridgeTemperature:
			if f.Cleared && !f.Unsettled && p.Held.Or(0) >= steadyHold {
				rows = append(rows, f)
			}
		}
	}
	return rows
}

// drive draws the drive of a point in coordinates.
func (m *model) drive(y []float64) drive.Drive {
	if m.known != nil {
		y = m.known
	}
	u := make([]float64, m.nInputs)
	for j := range u {
		u[j] = design.Rank(m.scale * y[j])
	}
	d := m.design.Draw(u)
	k := m.nInputs
	d.Calibration.LnHead = priorLnHead * m.scale * y[k]
	d.Calibration.LnPower = priorLnPower * m.scale * y[k+1]
	if m.current {
		d.Calibration.LnTorqueConstant = priorLnTorqueConstant * m.scale * y[k+2]
	}
	return d
}

// error of an instrument at a coordinate: its limits as a rectangle, or a typed standard
// uncertainty as a normal.
func instrumentError(f bench.Figure, z float64) float64 {
	if f.Standard {
		return f.Limits * z
	}
	return f.Limits * (2*distuv.UnitNormal.CDF(z) - 1)
}

// condition returns a plateau as a condition with the true demand that the coordinates say.
func (x *prepared) condition(y []float64) drive.Condition {
	shown := x.demand.Value - instrumentError(x.demand, y[x.error])
	for _, c := range x.carried {
		shown -= c.u * y[c.coordinate]
	}
	truth := shown * math.Exp(-x.demand.Repeat/x.demand.Value*y[x.scatter])
	c := drive.Condition{OnStand: true, Demand: x.kind, Amount: truth}
	if x.stream >= 0 {
		w := x.plateau.Stream
		c.Speed = w.Low + (w.High-w.Low)*distuv.UnitNormal.CDF(y[x.stream])
	}
	return c
}

// evaluate writes the residuals, each in units of its own scatter, from states that are solved to the last digit. A point
// without a state is an error.
func (m *model) evaluate(dst, y []float64) error {
	states := m.borrow()
	defer m.pool.Put(states)
	err := m.each(y, func(at int, x *prepared, machine *drive.Machine) error {
		if x.left {
			return nil
		}
		var err error
		(*states)[at], err = machine.SolveBeside(x.condition(y), m.hint(at), 0)
		return err
	})
	if err != nil {
		return err
	}
	m.compare(dst, y, *states)
	return nil
}

// evaluateNear is evaluate from states that are told from those at the point where derivatives were last taken.
func (m *model) evaluateNear(dst, y []float64) error {
	states := m.borrow()
	defer m.pool.Put(states)
	if err := m.nearBase(*states, y, m.base, drawTolerance); err != nil {
		return err
	}
	m.compare(dst, y, *states)
	return nil
}

func (m *model) borrow() *[]drive.State {
	states, _ := m.pool.Get().(*[]drive.State)
	if states == nil {
		list := make([]drive.State, m.plateaus)
		states = &list
	}
	return states
}

// compare writes the residuals of states.
func (m *model) compare(dst, y []float64, states []drive.State) {
	at := 0
	drift := m.driftAt(y)
	m.allOf(func(state int, x *prepared) {
		if x.left {
			return
		}
		for i := range x.rows {
			r := &x.rows[i]
			dst[at] = (m.shown(x, r, &states[state], y, drift) - r.figure.Value) / r.repeat
			at++
		}
	})
}

// allOf visits all plateaus in their order.
func (m *model) allOf(f func(at int, x *prepared)) {
	at := 0
	for e := range m.prepared {
		for i := range m.prepared[e] {
			f(at, &m.prepared[e][i])
			at++
		}
	}
}

// shown is what the instrument of a row shows at a state, its scatter aside.
func (m *model) shown(x *prepared, r *row, s *drive.State, y []float64, drift float64) float64 {
	shown := m.predicted(x, r.figure, s, y, drift) + instrumentError(r.figure, y[r.error])
	for _, c := range r.carried {
		shown += c.u * y[c.coordinate]
	}
	return shown
}

// drivenBy tells whether a plateau's true demand depends on a coordinate.
func (x *prepared) drivenBy(j int) bool {
	if j == x.error || j == x.scatter || j == x.stream {
		return true
	}
	for _, c := range x.carried {
		if c.coordinate == j {
			return true
		}
	}
	return false
}

// predicted is what the instrument would show at a state, without its own error.
func (m *model) predicted(x *prepared, f bench.Figure, s *drive.State, y []float64, drift float64) float64 {
	switch f.Channel {
	case bench.Thrust:
		t := s.Thrust * m.drifted(x, drift)
		if x.tub {
			t *= 1 - TubShare*distuv.UnitNormal.CDF(y[m.tub])
		}
		if !f.FrictionTaken && (f.Assumed || f.Budget != nil) { // a tolerance typed beside a reading covers the carriage as well
			t += m.carriage(x, y)
		}
		return t
	case bench.RotorSpeed:
		return s.RotorSpeed
	case bench.PhaseCurrent:
		return s.Motor.PhaseCurrentRMS
	case bench.BatteryVoltage:
		return s.Supply.BatteryVoltage
	case bench.WindingTemperature:
		return s.Motor.WindingTemperature
	case bench.BridgeTemperature:
		return s.Heat.BridgeTemperature
	}
	return f.Value
}

// carriage returns what friction adds to the pull: it holds back on the way up, and holds
// the pull on the way down; without a direction it may do either. An arm on a pivot has no rollers.
func (m *model) carriage(x *prepared, y []float64) float64 {
	f := bench.FrictionForce(x.rolls, m.gravity)
	u := distuv.UnitNormal.CDF(y[m.friction])
	switch x.plateau.Direction {
	case "up":
		return -f * u
	case "down":
		return f * u
	}
	return f * (2*u - 1)
}

// Fit is a calibrated model: the most probable drive, and drives drawn from what the
// measurement leaves open.
type Fit struct {
	Best        drive.Drive
	Machine     *drive.Machine
	Draws       []*drive.Machine // nil where a draw cannot be worked out
	Gap         Gap
	ChiSquare   float64 // of the residuals at the best point
	Residuals   int
	Learned     []Learned
	Strained    []Strain // unknowns that the readings pull further than anything assumed of them
	Numbers     int      // how many combinations the data told apart
	Directions  []Direction
	Pairs       []Pair // that cannot be told apart; the closest one where there is none
	Combination []Combination
	Doubts      []Doubt   // readings that contradict the others and the design together, furthest first
	Excluded    []Doubt   // readings that the design alone excludes
	Sampling    *Sampling // of a sampled answer; nil for the Gaussian one
	Notices     notice.List

	names     []string  // of the coordinates
	physicals int       // the first of them, which belong to the drive
	best      []float64 // the most probable point
	model     *model
	solution  *numeric.MAPSolution

	tellings     []telling
	tellingDraws [][]float64 // telling × draw
	points       [][]float64 // of the draws
	bestDrift    float64
	drifts       []float64 // by draw, for each doubling; nil where the ladder says nothing
}

// Strain is an unknown of the drive or an instrument that the readings pull away from all that was
// assumed of it.
type Strain struct {
	Name  string
	Shift float64 // in prior standard deviations
}

// strainMost is how far an unknown may be pulled, in prior standard deviations, before a reading is
// more likely to be wrong than the assumption.
const strainMost = 4

// Calibrate fits the drive to the evidence. The error names what no drive within reach can do.
//
//	minimise ½·Σ r² + ½·Σ y²
//
//	r  residuals, measured against predicted in units of their own scatter
//	y  standardised unknowns: every toleranced or assumed number of the design, the pump's
//	   head and power and the motor's constant beside their ranges, and the instruments'
//	   limits, which all figures of one instrument share
//
// The posterior is taken as normal in y; each point drawn from it is then moved until the whole
// model meets the readings as its linear image does, so that an instrument's limits stay limits.
// Points are pushed through the whole model, so that cavitation keeps its long lower tail. What
// the data do not tell stays at its assumption.
//
// Source: own. Tests: TestCalibrateLaw, TestVerdictGridLaw.
func Calibrate(prior *explore.Sample, evidence []Evidence, o Options) (*Fit, error) {
	if o.Draws == 0 {
		o.Draws = explore.DefaultDraws
	}
	if o.Nominal {
		o.Draws = 0
	}
	if o.Seed == 0 {
		o.Seed = explore.DefaultSeed
	}
	return newModel(prior, evidence, o).fit(prior, o)
}

// fit finds the most probable point and draws round it.
func (m *model) fit(prior *explore.Sample, o Options) (*Fit, error) {
	k := len(m.coords)
	problem := numeric.MAPProblem{
		Dimension: k, Residuals: m.residuals, Start: o.start, Tolerance: fitTolerance,
		Residual: func(dst, y []float64) error { return m.evaluate(dst, y) },
	}
	first := true
	problem.Jacobian = func(dst *mat.Dense, y []float64) error {
		if err := m.jacobian(dst, y); err != nil || !first || o.start != nil {
			return err
		}
		first = false
		zero := make([]float64, m.residuals)
		m.compare(zero, y, m.base.states)
		m.outside = m.excluded(zero, dst)
		return nil
	}
	sol, err := numeric.GaussNewtonMAP(problem)
	if err != nil {
		return nil, fmt.Errorf("the readings cannot be met by any drive within reach of the design: %w", err)
	}
	f := &Fit{Best: m.drive(sol.Z), Residuals: m.residuals, best: sol.Z, model: m, solution: sol}
	for _, c := range m.coords {
		f.names = append(f.names, c.name)
		if c.physical {
			f.physicals++
		}
	}
	for _, r := range sol.Residuals {
		f.ChiSquare += r * r
	}
	f.Notices = misfit(f.ChiSquare, f.Residuals)
	for j, c := range m.coords {
		if math.Abs(sol.Z[j])*m.priorScale(j) > strainMost {
			f.Strained = append(f.Strained, Strain{c.name, sol.Z[j] * m.priorScale(j)})
		}
	}
	f.Notices = append(f.Notices, strained(f.Strained)...)
	f.Excluded, f.Doubts = m.outside, f.doubts()
	f.Notices = append(f.Notices, doubtNotices(f.Doubts, "the other readings and the design", "look at that reading, its unit and its instrument; the figures here still count it, and no verdict is closed that does not stand without it")...)
	if len(f.Excluded) > 0 {
		f.Notices = append(f.Notices, doubtNotices(f.Excluded, "the tolerances of the design", "type what the design does not know with wider limits, or look at the reading; all that follows stands on a design that was not thought possible")...)
	}
	f.Notices = append(f.Notices, m.few()...)
	if f.Machine, err = f.Best.Resolve(); err != nil {
		return nil, err
	}
	z := explore.Normal(o.Draws, k, o.Seed)
	points := make([][]float64, o.Draws)
	leaper, straight := m.leaper(sol, weakShare)
	explore.Parallel(o.Draws, func(i int) {
		points[i] = make([]float64, k)
		if straight && leaper.Point(points[i], z[i], drawnTolerance) {
			return
		}
		points[i] = sol.Draw(z[i])
		sol.Settle(points[i], m.evaluateNear)
	})
	f.drawn(prior, points, o.bare)
	return f, nil
}

// drawn takes points of the posterior and works out all that rests on them.
func (f *Fit) drawn(prior *explore.Sample, points [][]float64, bare bool) {
	m := f.model
	f.points = points
	f.Draws = make([]*drive.Machine, len(points))
	held := m.design.Holding() // the readings say nothing of them
	u := explore.Uniform(len(points), len(held), explore.DefaultSeed)
	explore.Parallel(len(points), func(i int) {
		d := m.drive(points[i])
		m.design.DrawInto(&d, held, u[i])
		f.Draws[i], _ = d.Resolve()
	})
	if m.drift >= 0 {
		f.bestDrift = driftOf(f.best[m.drift])
		f.drifts = make([]float64, len(points))
		for i, y := range points {
			f.drifts[i] = driftOf(y[m.drift])
		}
	}
	f.gap(m)
	if !bare {
		f.combine(m, prior)
		f.learn(m)
	}
}

// priorScale is by how much wider than assumed a coordinate's prior was taken.
func (m *model) priorScale(j int) float64 {
	if m.coords[j].physical {
		return m.scale
	}
	return 1
}

// strained says what the readings pull too far.
func strained(list []Strain) notice.List {
	if len(list) == 0 {
		return nil
	}
	return notice.List{{
		Kind: notice.Warning, What: "the readings can only be met by what nobody would assume: " + strainText(list),
		WayOut: "a reading is more likely to be wrong: look at units, the convention of the phase current, the place of power, and hold one instrument against another; no verdict is closed on them",
	}}
}

func strainText(list []Strain) string {
	var words []string
	for _, s := range list {
		words = append(words, fmt.Sprintf("%s %+.0f standard deviations off", s.Name, s.Shift))
	}
	return strings.Join(words, ", ")
}

// misfitProbability is how rare a misfit must be before it is said.
const misfitProbability = 0.001

// misfit says that the readings are further from the best drive than their scatter explains.
func misfit(chiSquare float64, residuals int) notice.List {
	if residuals == 0 || (distuv.ChiSquared{K: float64(residuals)}).Survival(chiSquare) >= misfitProbability {
		return nil
	}
	return notice.List{{
		Kind:   notice.Warning,
		What:   fmt.Sprintf("the readings lie further from any drive within reach than their scatter explains: χ² %.1f over %d figures", chiSquare, residuals),
		WayOut: "look for a reading or a sensor that does not belong, and for numbers of the design that are typed too narrowly",
	}}
}

// hardest returns the condition of the plateau with the highest power or rotor speed.
func hardest(m *model) (c drive.Condition, ok bool) {
	y := make([]float64, len(m.coords))
	best := 0.0
	for _, list := range m.prepared {
		for i := range list {
			if list[i].demand.Value > best {
				best, ok = list[i].demand.Value, true
				c = list[i].condition(y)
			}
		}
	}
	return c, ok
}

// ask returns a figure at a condition with its 90 % interval over drawn machines. Draws
// without a state are left out.
func ask(nominal *drive.Machine, draws []*drive.Machine, c drive.Condition, of func(*drive.State) float64) explore.Figure {
	return askAll(nominal, draws, c, []func(*drive.State) float64{of}).figures[0]
}

// solveAll returns a figure of every machine, NaN where there is no state; the NaN never
// leaves this package.
func solveAll(draws []*drive.Machine, c drive.Condition, of func(*drive.State) float64) []float64 {
	return solveEach(draws, c, func(_ *drive.Machine, s *drive.State) float64 { return of(s) })
}

// solveEach is solveAll of a figure that takes the machine as well.
func solveEach(draws []*drive.Machine, c drive.Condition, of func(*drive.Machine, *drive.State) float64) []float64 {
	x := make([]float64, len(draws))
	near := explore.NearOf(draws, c)
	explore.Parallel(len(draws), func(i int) {
		x[i] = math.NaN()
		if draws[i] == nil {
			return
		}
		if s, err := draws[i].SolveNear(c, near, explore.DrawTolerance); err == nil {
			x[i] = of(draws[i], &s)
		}
	})
	return x
}

// ReadingCondition returns a plateau as a condition at its figures as read; place is taken
// for a power that does not say its own.
func ReadingCondition(p bench.Plateau, place string) (drive.Condition, bool) {
	f, ok := demandChannel(p)
	if !ok || !(f.Value > 0) {
		return drive.Condition{}, false
	}
	c := drive.Condition{OnStand: true, Amount: f.Value, Demand: drive.RotorSpeed, Speed: 0.5 * (p.Stream.Low + p.Stream.High)}
	if f.Channel == bench.Power {
		if p.PowerPlace != "" {
			place = p.PowerPlace
		}
		c.Demand, _ = drive.Place(place)
	}
	return c, true
}

// Sample returns the calibrated drives as a sample of the design.
func (f *Fit) Sample(prior *explore.Sample) *explore.Sample {
	return &explore.Sample{Design: prior.Design, Nominal: f.Machine, Machines: f.Draws, Failed: map[string]int{}}
}

// Ask returns a figure of the calibrated drive at a condition, with its 90 % interval.
func (f *Fit) Ask(c drive.Condition, of func(*drive.State) float64) explore.Figure {
	return ask(f.Machine, f.Draws, c, of)
}
