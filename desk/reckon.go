package desk

import (
	"errors"
	"fmt"
	"sync"

	"jetwright/bench"
	"jetwright/design"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/notice"
	"jetwright/plan"
	"jetwright/project"
	"jetwright/quantity"
	"jetwright/reckon"
)

// AuditAnswer is every promise examined before any test.
type AuditAnswer struct {
	Folder  string
	Audits  []reckon.Audit
	Notices notice.List
}

// Audit answers whether the promises can be true at all.
func Audit(p *project.Project, o Options) (*AuditAnswer, error) {
	s, err := explore.New(p.Design, 0, o.seed())
	if err != nil {
		return nil, unsolved(p, err)
	}
	if err := beyondBattery(p, s.Nominal); err != nil {
		return nil, err
	}
	a := &AuditAnswer{Folder: p.Folder, Notices: p.Notices}
	for _, c := range p.Design.Claims() {
		a.Audits = append(a.Audits, reckon.Examine(s, c))
	}
	if len(a.Audits) == 0 {
		a.Notices = append(a.Notices, noClaim())
	}
	return a, nil
}

func noClaim() notice.Notice {
	return notice.Notice{Kind: notice.Remark, What: "the design holds no promise to examine", WayOut: "type a [[claim]] into " + project.DesignFile}
}

// PlateauAnswer is a plateau beside its prediction.
type PlateauAnswer struct {
	Plateau      bench.Plateau
	Coefficients bench.Coefficients
	Before       map[bench.Channel]Figure // by the design as assumed
	After        map[bench.Channel]Figure // by the calibrated model
	Why          string                   // why there is no prediction
}

// ReckonAnswer is the measurement against the promise.
type ReckonAnswer struct {
	*DutyAnswer
	Days     []*bench.Reduction // what the logs of each run say
	Plateaus []PlateauAnswer
	Fit      *reckon.Fit
	Claims   []reckon.ClaimVerdict
	Audits   []reckon.Audit
	Next     reckon.NextStep
	Reach    *plan.Reach // how far the step goes with every limit kept; nil where the rules allow none
	Tables   []reckon.SimulatedTable
	Tests    []*reckon.Decisive // of each claim: the cheapest test that closes it; nil where it is closed
	Highest  *reckon.LeaveOut   // the highest step predicted from those below
	Teaching *reckon.Teaching   // what further measurements are expected to teach

	judge *reckon.Judge
}

// Reckon answers what the readings say of the design and of the promises.
func Reckon(p *project.Project, o Options) (*ReckonAnswer, error) {
	draws := o.draws(explore.DefaultDraws)
	var evidence []reckon.Evidence
	var days []*bench.Reduction
	var faults notice.List
	var reduced sync.WaitGroup
	reduced.Go(func() { evidence, days, faults = gather(p) }) // logs and design know nothing of each other
	defer reduced.Wait()
	s, err := explore.New(p.Design, draws, o.seed())
	if err != nil {
		return nil, unsolved(p, err)
	}
	d, err := duty(p, s)
	if err != nil {
		return nil, err
	}
	a := &ReckonAnswer{DutyAnswer: d}
	reduced.Wait()
	a.Days = days
	a.Notices = append(a.Notices, faults...)
	suspicions := reckon.Suspicions(s.Nominal, evidence)
	a.Notices = append(a.Notices, suspicions...)
	if err := reckon.Contradictions(s.Nominal, evidence); err != nil {
		return nil, with(err, suspicions)
	}
	if err := beyondBattery(p, s.Nominal); err != nil {
		return nil, err
	}
	judge, err := reckon.NewJudge(s, evidence, reckon.Options{Draws: draws, Seed: o.seed(), Nominal: o.Nominal, Sampled: o.Sampled})
	if err != nil {
		return nil, with(notice.List{{Kind: notice.Error, What: err.Error(), WayOut: "look at the readings' units and places of power, and at the numbers typed in the design"}}, suspicions)
	}
	a.judge, a.Fit = judge, judge.Fit()
	if a.Fit != nil {
		a.Notices = append(a.Notices, a.Fit.Notices...)
	} else {
		a.Notices = append(a.Notices, notice.Notice{Kind: notice.Warning, What: "no reading was typed; claims are judged by the assumptions alone", WayOut: "type one with: jetwright run note"})
	}
	for _, c := range p.Design.Claims() {
		a.Claims = append(a.Claims, judge.Claim(c))
		a.Audits = append(a.Audits, reckon.Examine(s, c))
	}
	if err := a.simulations(p); err != nil {
		return nil, err
	}
	if len(a.Claims) == 0 && len(a.Tables) == 0 {
		a.Notices = append(a.Notices, noClaim())
	}
	a.Highest = judge.Highest
	if a.Fit != nil && !o.Nominal {
		a.Teaching = judge.Teach(p.Design.Claims())
	}
	nominal := p.Design.Nominal()
	for i, e := range evidence {
		// Readings are many; each rests on as many drives as a point of a prediction.
		each := o.draws(DrawsAPoint)
		before, err := e.Before(s.First(each), o.seed())
		if err != nil {
			return nil, unsolved(p, err)
		}
		var after *explore.Sample
		if a.Fit != nil {
			if after, err = a.Fit.SampleOf(i, s); err != nil {
				return nil, unsolved(p, err)
			}
			after = after.First(each)
		}
		for _, pl := range e.Plateaus {
			a.Notices = append(a.Notices, infrared(pl, before.Nominal.Drive.Water.Temperature)...)
			a.Plateaus = append(a.Plateaus, beside(before, after, a.Fit, pl))
		}
	}
	a.Next = reckon.Next(reckon.Coefficients(evidence, nominal.Impeller.Diameter, s.Nominal.Path.NozzleArea, s.Nominal.Water.Density))
	if a.Fit != nil {
		a.Next = a.Next.Contradicted(a.Fit.Doubts)
	}
	return a, a.further(p, s, o)
}

// simulations holds every claimed table against the calibrated drive.
func (a *ReckonAnswer) simulations(p *project.Project) error {
	var faults notice.List
	for _, t := range p.Design.Tables() {
		read, err := p.Table(t)
		if err != nil {
			var l notice.List
			if !errors.As(err, &l) {
				return err
			}
			faults = append(faults, l...)
			continue
		}
		a.Notices = append(a.Notices, read.Notices...)
		rows := make([]reckon.SimulatedRow, len(read.Rows))
		for i, r := range read.Rows {
			rows[i] = reckon.SimulatedRow{Line: r.Line, Figures: r.Figures}
		}
		a.Tables = append(a.Tables, a.judge.Simulation(t, rows))
	}
	return faults.Fatal()
}

// further holds the next step against the limits, and looks for the test that would close each claim.
func (a *ReckonAnswer) further(p *project.Project, s *explore.Sample, o Options) error {
	in := plan.Input{Prior: s, Rule: a.Next, Days: a.Days, Seed: o.seed()}
	if a.Fit != nil {
		in.Calibrated = a.Fit.Sample(s)
	}
	var err error
	if a.Reach, err = plan.Next(in); err != nil {
		return unsolved(p, err)
	}
	most := 0.0
	if a.Reach != nil {
		most = a.Reach.Power
	}
	best := a.judge.Calibrated("")
	name, speed := usualAim(&best.Nominal.Drive)
	if aim, err := reckon.NewAim(name, speed, best.Nominal); err == nil && most > 0 {
		if l, ok := a.judge.StepTeaches(aim.Condition, reckon.Measurement{Power: most, Place: a.Reach.Place}); ok {
			a.Reach.Teach = &l
		}
	}
	for _, v := range a.Claims {
		a.Tests = append(a.Tests, a.judge.Decisive(v, a.Next, most))
	}
	return nil
}

// with adds to what stops a reckoning what may lie behind it.
func with(err error, more notice.List) error {
	var l notice.List
	if !errors.As(err, &l) || len(more) == 0 {
		return err
	}
	return append(append(notice.List(nil), l...), more...)
}

// gather makes evidence of the runs: readings typed by hand and plateaus out of logs. A run whose
// logs cannot be reduced is named and counts by its readings alone.
func gather(p *project.Project) (out []reckon.Evidence, days []*bench.Reduction, faults notice.List) {
	versions := versionsOf(p)
	for i := range p.Runs {
		r := &p.Runs[i]
		e := reckon.Evidence{Plateaus: r.Plateaus}
		if len(r.Logs) > 0 {
			day, err := p.Reduce(r)
			if err != nil {
				faults = append(faults, asWarnings(err, "its logs are left out")...)
			} else {
				days = append(days, day)
				faults = append(faults, day.Notices...)
				faults = append(faults, doubtNotices(r, day)...)
				e.Plateaus = append(append([]bench.Plateau(nil), r.Plateaus...), day.Plateaus...)
			}
		}
		if len(e.Plateaus) == 0 {
			continue
		}
		e.Adjust = adjusted(r, e.Plateaus)
		var said notice.List
		e.Version, e.Earlier, said = versions.of(r)
		faults = append(faults, said...)
		out = append(out, e)
	}
	return out, days, faults
}

// adjusted is what of the drive was different in a run: what was typed of stand and water, and the height of
// the shaft line over a water level that moved, in the middle of its plateaus.
func adjusted(r *project.Run, plateaus []bench.Plateau) func(*drive.Drive) {
	rise := 0.0
	for _, p := range plateaus {
		rise += p.Rise / float64(len(plateaus))
	}
	typed := r.Setup != nil && !r.Setup.Empty()
	if !typed && rise == 0 {
		return nil
	}
	return func(d *drive.Drive) {
		if typed {
			r.Setup.Apply(d)
		}
		d.Stand.ShaftHeight -= rise
	}
}

// asWarnings turns what stops a reduction into warnings of the reckoning.
func asWarnings(err error, then string) notice.List {
	var l notice.List
	if !errors.As(err, &l) {
		return notice.List{{Kind: notice.Warning, What: err.Error()}}
	}
	out := append(notice.List(nil), l...)
	for i := range out {
		if out[i].Kind == notice.Error {
			out[i].Kind = notice.Warning
			out[i].What += "; " + then
		}
	}
	return out
}

// doubtNotices name the channels of a day that are not to be trusted.
func doubtNotices(r *project.Run, day *bench.Reduction) notice.List {
	var l notice.List
	for _, d := range day.Doubts {
		n := notice.Notice{
			Kind: notice.Warning, Place: r.Place,
			What: fmt.Sprintf("the %s of %s is %s from %.0f s to %.0f s: %s", d.Channel, d.Source, d.Kind, d.Span.From, d.Span.To, d.Evidence),
		}
		if d.Drops {
			n.WayOut = "its figures there are not used; look at the sensor, its plug and its cable before the next run"
		}
		l = append(l, n)
	}
	return l
}

// beyondBattery refuses claims at a power that the battery of the design cannot give.
func beyondBattery(p *project.Project, m *drive.Machine) error {
	var faults notice.List
	for _, c := range p.Design.Claims() {
		place := c.Place
		if place == "" {
			place = "battery"
		}
		demand, _ := drive.Place(place)
		if c.Power <= 0 {
			continue
		}
		_, err := m.Solve(drive.Condition{Speed: c.Speed, Demand: demand, Amount: c.Power})
		var u *drive.Unmet
		if errors.As(err, &u) && u.Reason == drive.BeyondBattery {
			faults = append(faults, notice.Notice{
				Kind: notice.Error, Place: c.Place_, Path: "claim", What: "the claim lies beyond the battery: " + u.Error(),
				WayOut: "look at the claim's power and its place, and at [battery]", Excerpt: p.Design.Document().Line(c.Place_.Line),
			})
		}
	}
	return faults.Fatal()
}

// infrared says what bare metal may be at where it was read by infrared, with the water's
// temperature for what it reflects.
func infrared(p bench.Plateau, surroundings float64) notice.List {
	var l notice.List
	celsius := quantity.MustUnit("°C")
	for _, f := range p.Figures {
		if f.Cleared {
			continue
		}
		if t, ok := drive.BareSurface(f.Value, surroundings); ok && t > f.Value {
			l = append(l, notice.Notice{
				Kind: notice.Caution, Place: f.Place,
				What: fmt.Sprintf("%s: bare aluminium that shows %s by infrared may be at %s (emissivity 0.2, setting 0.95, surroundings at %s)",
					p.Name, quantity.Format(f.Value, celsius), quantity.Format(t, celsius), quantity.Format(surroundings, celsius)),
				WayOut: "stick matt tape on the spot and read again",
			})
		}
	}
	return l
}

// channels that are shown beside a reading, as figures of the state.
var channelPaths = map[bench.Channel]string{
	bench.Thrust: "thrust", bench.RotorSpeed: "rotor_speed", bench.BatteryVoltage: "supply.battery_voltage",
	bench.PhaseCurrent: "motor.phase_current_rms", bench.WindingTemperature: "motor.winding_temperature",
	bench.BridgeTemperature: "heat.bridge_temperature",
}

// beside predicts a reading, before and after calibration.
func beside(s, calibrated *explore.Sample, fit *reckon.Fit, p bench.Plateau) PlateauAnswer {
	a := PlateauAnswer{Plateau: p, Before: map[bench.Channel]Figure{}, After: map[bench.Channel]Figure{}}
	a.Coefficients = bench.Similarity(p, s.Nominal.Drive.Impeller.Diameter, s.Nominal.Path.NozzleArea, s.Nominal.Water.Density)
	c, ok := reckon.ReadingCondition(p, "battery")
	if !ok {
		a.Why = "it has neither power nor rotor speed"
		return a
	}
	before := s.Solve(c)
	if before.Err != nil {
		a.Why = before.Err.Error()
		return a
	}
	var after *explore.Result
	if calibrated != nil {
		after = calibrated.Solve(c)
	}
	for channel, path := range channelPaths {
		if _, have := p.Figure(channel); !have {
			continue
		}
		f, _ := StateSchema().Lookup(path)
		read := reader(f)
		b := before.Figure(read)
		a.Before[channel] = Figure{Path: path, Doc: f.Doc, Value: b.Value, Low: b.Low, High: b.High, Unit: f.Unit}
		if after != nil && after.Err == nil {
			x := after.Figure(read)
			if channel == bench.Thrust {
				best, drawn := fit.Drifted(after.Nominal.BatteryPower)
				column := after.Column(read)
				for k, row := range after.Rows {
					column[k] *= drawn[row]
				}
				x = explore.Interval(best*read(&after.Nominal), column)
			}
			a.After[channel] = Figure{Path: path, Doc: f.Doc, Value: x.Value, Low: x.Low, High: x.High, Unit: f.Unit}
		}
	}
	return a
}

// NoteAnswer is a reading as it was taken in.
type NoteAnswer struct {
	Folder, Run string
	Plateau     bench.Plateau
	Notices     notice.List
}

// Note types a reading into a run.
func Note(p *project.Project, run string, pairs []project.Pair) (*NoteAnswer, error) {
	plateau, notices, err := p.Note(run, pairs)
	if err != nil {
		return nil, err
	}
	return &NoteAnswer{Folder: p.Folder, Run: run, Plateau: plateau, Notices: notices}, nil
}

// ExplainAnswer is one number, whole.
type ExplainAnswer struct {
	Path        string
	Doc         string
	Unit        quantity.Unit
	Key         *design.Input // a key of the design
	Origin      string
	Drawn       string // what was drawn, where a built value overlays it
	Range       string
	Choices     []string
	Text        string
	Figure      *Figure // a figure of the state
	Cards       []Card
	Shares      []Share
	Unexplained float64
	Source      string
	Moves       []Share             // what a key contributes to the aim of the design
	Effects     []drive.BladeEffect // what steps of a key of blades do to the pump
}
