package reckon

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"jetwright/bench"
	"jetwright/drive"
	"jetwright/explore"
)

// StepLesson is what a measurement is expected to teach of a figure.
type StepLesson struct {
	Aim           drive.Condition // of the figure
	Power         float64         // of the measurement, W
	Place         string
	Repeats       int
	Before, After float64 // half-width of the figure's 90 % interval, a share of it; discrepancy in it
	model         float64 // standard deviation of the logarithm that the drives leave, after the measurement
	found         float64 // standard deviation of where the middle is expected to come to lie
	gap           float64 // that of the discrepancy after the measurement
}

// Narrowing is the share of the interval that is expected to go.
func (l *StepLesson) Narrowing() float64 {
	if !(l.Before > 0) {
		return 0
	}
	return 1 - l.After/l.Before
}

// lessonDraws is how many drives a lesson takes at least.
const lessonDraws = 40

// taught are the channels that teach of a drive, with their figures of a state.
var taught = []struct {
	channel bench.Channel
	of      func(*drive.State) float64
}{
	{bench.Thrust, func(s *drive.State) float64 { return s.Thrust }},
	{bench.RotorSpeed, func(s *drive.State) float64 { return s.RotorSpeed }},
	{bench.PhaseCurrent, func(s *drive.State) float64 { return s.Motor.PhaseCurrentRMS }},
	{bench.BatteryVoltage, func(s *drive.State) float64 { return s.Supply.BatteryVoltage }},
}

// lesson is what is asked.
type lesson struct {
	aim    drive.Condition
	of     func(*drive.State) float64
	factor float64 // of the figure's logarithm for one of static efficiency
	power  float64
	place  string
	like   bench.Plateau // read by the instruments that the measurement will be read by
	n      int
	gaps   [2]float64 // standard deviation of ln(static efficiency) before and after
	aims   []float64  // the aim's figure of every drive, where it is there already
	fresh  bool       // thrust and power are read by other instruments than before
	scale  string     // those instruments, by their names in the table of instruments
	meter  string
}

// teach expects what a measurement teaches, on the drives that are left.
//
//	var(q|m) = var(q) − bᵀ·(C + N)⁻¹·b,  half = 1.645·√(var + (e·s)²)
//
//	q  logarithm of the figure over the drives;  m  logarithms of what will be read over what the highest plateau read
//	C  covariance of m, b that of m with q, both over the drives
//	N  scatter of the reading over n repeats and of that plateau, that of their powers on all, and the model's own
//	e  exponent of static efficiency in the figure;  s  discrepancy
//
// The same instruments read again are off by the same: they teach of the change from the highest plateau and not of its
// level. Holds where figures are nearly straight in what is not known, as over the drives that readings leave. That repeats
// make earlier scatter smaller is left out, which makes the expectation a cautious one.
//
// Source: own. Tests: TestStepTeachesLaw, TestStepTeachesExact.
func teach(s *explore.Sample, q lesson) (StepLesson, bool) {
	p, ok := prepare(s, q)
	if !ok {
		return StepLesson{}, false
	}
	return p.expect(q.n)
}

// paired is the drives' figures at a measurement beside the aim's figure.
type paired struct {
	lesson
	y        []float64 // logarithms of the aim's figure
	x        [][]float64
	slopes   []float64 // of each channel over the power, logarithms
	channels []bench.Figure
}

// prepare asks every drive for the aim's figure and for what will be read.
func prepare(s *explore.Sample, q lesson) (*paired, bool) {
	p := &paired{lesson: q}
	demand, _ := drive.Place(orElse(q.place, "battery"))
	at := drive.Condition{OnStand: true, Demand: demand, Amount: q.power}
	base, err := s.Nominal.Solve(at)
	if err != nil {
		return nil, false
	}
	more := at
	more.Amount *= 1.01
	beyond, err := s.Nominal.Solve(more)
	if err != nil {
		more.Amount = at.Amount * 0.99
		if beyond, err = s.Nominal.Solve(more); err != nil {
			return nil, false
		}
	}
	step := math.Log(more.Amount / at.Amount)
	read, ok := ReadingCondition(q.like, orElse(q.place, "battery"))
	if q.fresh {
		read, ok = at, true
	}
	if !ok {
		return nil, false
	}
	states, earlier := solveStates(s.Machines, at, base.RotorSpeed), solveStates(s.Machines, read, base.RotorSpeed)
	var of []func(*drive.State) float64
	for _, t := range taught {
		f, ok := q.like.Figure(t.channel)
		if q.fresh {
			if t.channel != bench.Thrust {
				continue
			}
			f, ok = bench.Figure{Channel: bench.Thrust, Value: 1}, true
		}
		if !ok || !(f.Value > 0) || !(t.of(&base) > 0) {
			continue
		}
		p.channels, of = append(p.channels, f), append(of, t.of)
		p.slopes = append(p.slopes, math.Log(t.of(&beyond)/t.of(&base))/step)
	}
	if len(of) == 0 {
		return nil, false
	}
	aims := q.aims
	if aims == nil {
		aims = solveAll(s.Machines, q.aim, q.of)
	}
	p.x = make([][]float64, len(of))
	for i := range aims {
		if states[i] == nil || earlier[i] == nil || !(aims[i] > 0) {
			continue
		}
		p.y = append(p.y, math.Log(aims[i]))
		for k := range of {
			m := of[k](states[i]) / of[k](earlier[i])
			if q.fresh {
				m = of[k](states[i])
			}
			p.x[k] = append(p.x[k], math.Log(m))
		}
	}
	return p, len(p.y) >= lessonDraws
}

// solveStates returns the state of every machine at a condition, nil where there is none.
func solveStates(machines []*drive.Machine, at drive.Condition, near float64) []*drive.State {
	out := make([]*drive.State, len(machines))
	explore.Parallel(len(machines), func(i int) {
		if machines[i] == nil {
			return
		}
		if s, err := machines[i].SolveNear(at, near, explore.DrawTolerance); err == nil {
			out[i] = &s
		}
	})
	return out
}

// expect works out the lesson of so many repeats.
func (p *paired) expect(repeats int) (StepLesson, bool) {
	n := max(repeats, 1)
	l := StepLesson{Aim: p.aim, Power: p.power, Place: p.place, Repeats: n}
	k := len(p.x)
	c, b := mat.NewSymDense(k, nil), mat.NewVecDense(k, nil)
	power := powerNoise(p.like, n)
	if p.fresh {
		power = freshNoise(p.meter, n)
	}
	for i := range k {
		b.SetVec(i, covariance(p.x[i], p.y))
		for j := i; j < k; j++ {
			v := covariance(p.x[i], p.x[j]) + p.slopes[i]*p.slopes[j]*power*power
			if i == j {
				u := math.Hypot(repeated(p.channels[i], n), modelScatter*math.Sqrt2)
				if p.fresh {
					u = math.Hypot(freshNoise(p.scale, n), modelScatter)
				}
				v += u * u
			}
			c.SetSym(i, j, v)
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(c) {
		return l, false
	}
	var w mat.VecDense
	if err := chol.SolveVecTo(&w, b); err != nil {
		return l, false
	}
	whole := covariance(p.y, p.y)
	left := math.Min(whole, math.Max(0, whole-mat.Dot(b, &w)))
	const z90 = 1.6448536269514722
	e := math.Abs(p.factor)
	l.model, l.found, l.gap = math.Sqrt(left), math.Sqrt(whole-left), e*p.gaps[1]
	l.Before, l.After = z90*math.Hypot(math.Sqrt(whole), e*p.gaps[0]), z90*math.Hypot(l.model, l.gap)
	return l, true
}

// repeated is the relative scatter of the mean of n readings of a figure against one of them.
func repeated(f bench.Figure, n int) float64 {
	own := f.Repeat / f.Value
	return own * math.Sqrt(1+1/float64(n))
}

func powerNoise(p bench.Plateau, n int) float64 {
	f, ok := p.Figure(bench.Power)
	if !ok || !(f.Value > 0) {
		return 0.01
	}
	return repeated(f, n)
}

// freshNoise is the relative standard uncertainty of the mean of n readings by an instrument that has read nothing yet; a
// full scale is taken as twice the reading.
func freshNoise(instrument string, n int) float64 {
	row, _ := bench.InstrumentNamed(instrument)
	return math.Hypot((row.Relative+2*row.OfFullScale)/math.Sqrt(3), row.Repeat/math.Sqrt(float64(n)))
}

func covariance(x, y []float64) float64 {
	n := float64(len(x))
	mx, my := 0.0, 0.0
	for i := range x {
		mx += x[i] / n
		my += y[i] / n
	}
	sum := 0.0
	for i := range x {
		sum += (x[i] - mx) * (y[i] - my)
	}
	return sum / (n - 1)
}

func orElse(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

// top is the plateau with the most power at the place of the highest tested one, by whose instruments the next will be read.
func (j *Judge) top() (bench.Plateau, bool) {
	var best bench.Plateau
	most := 0.0
	for _, e := range j.Evidence {
		for _, p := range e.Plateaus {
			if w, ok := p.Figure(bench.Power); ok && p.PowerPlace == j.highestAt && w.Value > most {
				best, most = p, w.Value
			}
		}
	}
	return best, most > 0
}

// Measurement is a step that is to be made.
type Measurement struct {
	Power   float64 // W
	Place   string
	Repeats int
	// Scale and Meter name other instruments than those that have read so far, in the table of instruments; empty for the same.
	Scale, Meter string
}

// StepTeaches expects what a measurement teaches of the thrust at a condition. The same instruments as those of the highest plateau
// teach of the change from there; others of the level as well, and before any reading there are only those. It is not ok
// where too few drives have a state.
func (j *Judge) StepTeaches(aim drive.Condition, m Measurement) (StepLesson, bool) {
	q := lesson{aim: aim, of: claimable["thrust"].of, factor: claimable["thrust"].exponent, power: m.Power, place: m.Place, n: m.Repeats}
	if m.Scale != "" && m.Meter != "" {
		q.fresh, q.scale, q.meter = true, m.Scale, m.Meter
	} else {
		var ok bool
		if q.like, ok = j.top(); !ok {
			return StepLesson{}, false
		}
	}
	s := j.calibrated("")
	return teach(s, j.gapped(s, q))
}

// gapped gives a lesson its discrepancies: beyond the highest tested power before, beyond the measurement's after.
func (j *Judge) gapped(s *explore.Sample, q lesson) lesson {
	gap := j.beyond(q.aim, s, j.drifts(""), "")
	q.gaps[0] = gap.whole()
	q.gaps[1] = q.gaps[0]
	at, err1 := s.Nominal.Solve(q.aim)
	demand, _ := drive.Place(orElse(q.place, "battery"))
	test, err2 := s.Nominal.Solve(drive.Condition{OnStand: true, Demand: demand, Amount: q.power})
	if err1 == nil && err2 == nil {
		gap = beyondAt(at.BatteryPower, test.BatteryPower, q.aim.Speed > 0, gap.drifts)
		q.gaps[1] = math.Min(q.gaps[0], gap.whole())
	}
	return q
}
