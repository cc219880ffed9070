package reckon

import (
	"fmt"
	"math"
	"sort"

	"gonum.org/v1/gonum/mat"

	"jetwright/bench"
	"jetwright/design"
	"jetwright/drive"
)

// Lesson is a measurement that is not there yet, with what it is expected to teach of the aim.
type Lesson struct {
	Name    string
	How     string  // what is read, and how well
	Hours   float64 // of work, assumed
	Half    float64 // expected half-width of the aim's 90 % interval, of its value
	Gain    float64 // share of the half-width that it takes away
	PerHour float64
	Parts   string // the pair of unknowns that it tells apart, where it does
}

// Teaching is what further measurements are expected to teach.
type Teaching struct {
	Aim     string  // in words
	Half    float64 // half-width of its 90 % interval as it stands, of its value
	Lessons []Lesson
	Pair    Pair // that is tied most
	Why     string
}

// What a measurement costs and how well it is done; our own assumptions.
const (
	hoursTap, hoursNozzle, hoursTorque, hoursTow, hoursMeter, hoursWeights, hoursStep = 2.0, 4.0, 6.0, 5.0, 1.0, 0.5, 0.5

	limitsTap, limitsTorque, limitsTow, limitsMeter, limitsWeights = 0.015, 0.02, 0.05, 0.01, 0.003

	nozzleSmaller = 0.94 // bore of the second nozzle over that of the first
	towSpeed      = 2.0  // m/s
	partsBy       = 0.2  // by which a pair's correlation must fall to count as told apart
)

// trial is a measurement in the coordinates of the reckoning.
type trial struct {
	lesson Lesson
	rows   []trialRow
	shared []float64 // standard uncertainty that the rows of one new instrument share, by row; 0 where it is known already
	step   float64   // highest tested power afterwards over that before
}

// trialRow is a figure's derivative by all coordinates, and its own standard uncertainty, both relative.
type trialRow struct {
	slope []float64
	own   float64
}

// Teach says what each further measurement is expected to teach of the thrust at a condition: by how much the 90 % interval of
// the aim shrinks, whatever is read.
//
//	C′ = C − C·hᵀ·(h·C·hᵀ + R)⁻¹·h·C,  half = z₉₀·√(a·C·aᵀ + s²)
//
//	C     covariance of the unknowns after the readings;  h  derivatives of the new figures;  R  their own covariance
//	a     derivatives of the logarithm of the aim;  s  discrepancy of it at its power
//
// Holds where figures are straight over what is left of the unknowns' doubt; there the gain does not hang on what will be read.
//
// Source: lindley-1956. Tests: TestTeachLaw.
func (j *Judge) Teach(claims []design.Claim) *Teaching {
	t := &Teaching{}
	f := j.Fit()
	if f == nil {
		t.Why = "nothing was read yet; the first step of power with thrust and rotor speed teaches most"
		return t
	}
	m := f.model
	hard, ok := m.hardestPlateau()
	if !ok {
		t.Why = "no plateau stands"
		return t
	}
	aim, words := j.aim(claims, f)
	t.Aim = words
	ln := func(s *drive.State) float64 { return s.Thrust }
	_, slopes, err := m.slopes(f.best, nil, func([]float64) drive.Condition { return aim }, []func(*drive.State) float64{ln})
	if err != nil {
		t.Why = "the calibrated drive has no state at the aim: " + err.Error()
		return t
	}
	a := slopes[0]
	gap := j.beyond(aim, f.Sample(j.Prior), f.drifts, j.placeOfFit())
	if m.drift >= 0 {
		const h = 1e-4
		at := f.best[m.drift]
		a[m.drift] = thrustExponent * gap.doublings * (driftOf(at+h) - driftOf(at)) / h
	}
	fresh := func(doublings float64) float64 {
		g := gap
		if !g.untested {
			g = beyondAt(math.Exp2(doublings), 1, aim.Speed > 0, f.drifts)
		}
		if g.deviation == 0 {
			return 0
		}
		k := sizeBefore()
		if len(f.drifts) > 0 {
			k = sizeAfter(f.bestDrift)
		}
		if g.untested {
			return thrustExponent * g.deviation
		}
		return thrustExponent * g.deviation * k.standardDeviation()
	}
	const z90 = 1.6448536269514722
	half := func(c mat.Symmetric, doublings float64) float64 {
		v := mat.NewVecDense(len(a), a)
		s := fresh(doublings)
		return z90 * math.Sqrt(mat.Inner(v, c, v)+s*s)
	}
	cov := f.solution.Covariance
	t.Half = half(cov, gap.doublings)
	if len(f.Pairs) > 0 {
		t.Pair = f.Pairs[0]
	}
	for _, k := range m.trials(f, hard) {
		after, ok := updated(cov, k)
		if !ok {
			continue
		}
		ahead := gap.doublings
		if k.step > 1 && ahead > 0 {
			ahead = math.Max(0, ahead-math.Log2(k.step))
		}
		l := k.lesson
		l.Half = half(after, ahead)
		l.Gain = 1 - l.Half/t.Half
		l.PerHour = l.Gain / l.Hours
		if t.Pair.A != "" {
			x, y := m.coordinateOf(t.Pair.A), m.coordinateOf(t.Pair.B)
			r := after.At(x, y) / math.Sqrt(after.At(x, x)*after.At(y, y))
			if math.Abs(t.Pair.Correlation)-math.Abs(r) > partsBy || after.At(x, x) < told && after.At(y, y) < told {
				l.Parts = fmt.Sprintf("%s from %s", t.Pair.A, t.Pair.B)
			}
		}
		t.Lessons = append(t.Lessons, l)
	}
	sort.SliceStable(t.Lessons, func(x, y int) bool { return t.Lessons[x].PerHour > t.Lessons[y].PerHour })
	return t
}

func (m *model) coordinateOf(name string) int {
	for i, c := range m.coords {
		if c.name == name {
			return i
		}
	}
	return 0
}

func (j *Judge) placeOfFit() string {
	for _, p := range j.Places {
		if j.Fits[p] != nil {
			return p
		}
	}
	return ""
}

// aim is the condition of the first claim on thrust, or one and a half times the highest tested power at rest.
func (j *Judge) aim(claims []design.Claim, f *Fit) (drive.Condition, string) {
	for _, c := range claims {
		if c.What != "thrust" || !(c.Power > 0) {
			continue
		}
		place := c.Place
		if place == "" {
			place = "battery"
		}
		at := j.condition(c, place)
		words := fmt.Sprintf("thrust at %.0f W at the %s", c.Power, place)
		if c.Speed > 0 {
			words += fmt.Sprintf(" and %.3g m/s", c.Speed)
		}
		return at, words + ", as claimed"
	}
	power := 1.5 * j.highestBattery(f.Machine, j.placeOfFit())
	return drive.Condition{Demand: drive.BatteryPower, Amount: power}, fmt.Sprintf("thrust at %.0f W at the battery, one and a half times the highest tested power", power)
}

// hardestPlateau is the plateau with the highest power.
func (m *model) hardestPlateau() (best *prepared, ok bool) {
	m.allOf(func(_ int, x *prepared) {
		if !x.left && (best == nil || x.power > best.power) {
			best = x
		}
	})
	return best, best != nil
}

// trials are the measurements that may be made next.
func (m *model) trials(f *Fit, hard *prepared) []trial {
	var out []trial
	state := func(of ...func(*drive.State) float64) []func(*drive.State) float64 { return of }
	// rows of new instruments at the hardest step, adjusted or at another condition
	add := func(l Lesson, limits float64, adjust func(*drive.Drive), at func(c drive.Condition) drive.Condition, of []func(*drive.State) float64) {
		_, slopes, err := m.slopes(f.best, adjust, func(y []float64) drive.Condition {
			c := hard.condition(y)
			if at != nil {
				c = at(c)
			}
			return c
		}, of)
		if err != nil {
			return
		}
		t := trial{lesson: l, step: 1}
		for _, s := range slopes {
			t.rows = append(t.rows, trialRow{s, modelScatter})
			t.shared = append(t.shared, limits/math.Sqrt(3))
		}
		out = append(out, t)
	}
	add(Lesson{Name: "pressure at a tap ahead of the nozzle", Hours: hoursTap, How: "at the hardest step, limits of 1.5 %"}, limitsTap, nil, nil,
		state(func(s *drive.State) float64 { return s.Jet.TapPressure }))
	add(Lesson{Name: "shaft torque", Hours: hoursTorque, How: "by the motor's reaction on an arm at the hardest step, limits of 2 %"}, limitsTorque, nil, nil,
		state(func(s *drive.State) float64 { return s.MotorTorque }))
	if hard.kind == drive.BatteryPower {
		add(Lesson{Name: "a power meter between controller and motor", Hours: hoursMeter, How: "at the hardest step, limits of 1 %"}, limitsMeter, nil, nil,
			state(func(s *drive.State) float64 { return s.ControllerPower }))
	} else {
		add(Lesson{Name: "a power meter at the battery", Hours: hoursMeter, How: "at the hardest step, limits of 1 %"}, limitsMeter, nil, nil,
			state(func(s *drive.State) float64 { return s.BatteryPower }))
	}
	add(Lesson{Name: "towing", Hours: hoursTow, How: "pull at 2 m/s and the power of the hardest step, limits of 5 %"}, limitsTow, nil,
		func(c drive.Condition) drive.Condition { c.Speed, c.OnStand = towSpeed, false; return c },
		state(func(s *drive.State) float64 { return s.Thrust }))
	m.again(f, hard, &out)
	return out
}

// again are measurements with the instruments that are there: a second nozzle, a step up, and the instruments themselves against
// something better.
func (m *model) again(f *Fit, hard *prepared, out *[]trial) {
	repeat := func(l Lesson, step float64, adjust func(*drive.Drive)) {
		var of []func(*drive.State) float64
		var rows []*row
		for i := range hard.rows {
			r := &hard.rows[i]
			switch r.figure.Channel {
			case bench.Thrust:
				of = append(of, func(s *drive.State) float64 { return s.Thrust })
			case bench.RotorSpeed:
				of = append(of, func(s *drive.State) float64 { return s.RotorSpeed })
			default:
				continue
			}
			rows = append(rows, r)
		}
		if len(of) == 0 {
			return
		}
		_, slopes, err := m.slopes(f.best, adjust, func(y []float64) drive.Condition {
			c := hard.condition(y)
			c.Amount *= step
			return c
		}, of)
		if err != nil {
			return
		}
		t := trial{lesson: l, step: step}
		for i, s := range slopes {
			r := rows[i]
			value := r.figure.Value
			const h = 1e-4
			s[r.error] += (instrumentError(r.figure, f.best[r.error]+h) - instrumentError(r.figure, f.best[r.error])) / h / value
			own := math.Hypot(r.repeat/value, hard.demand.Repeat/hard.demand.Value)
			if r.figure.Channel == bench.Thrust && m.drift >= 0 && step > 1 {
				s[m.drift] += thrustExponent * math.Log2(step) * (driftOf(f.best[m.drift]+h) - driftOf(f.best[m.drift])) / h
				own = math.Hypot(own, thrustExponent*Discrepancy(step, 1, false))
			}
			t.rows, t.shared = append(t.rows, trialRow{s, own}), append(t.shared, 0)
		}
		*out = append(*out, t)
	}
	repeat(Lesson{Name: "a second nozzle, 6 % smaller", Hours: hoursNozzle, How: "the hardest step again, with the same instruments"}, 1,
		func(d *drive.Drive) { d.Nozzle.Diameter *= nozzleSmaller })
	repeat(Lesson{Name: "one step of power more", Hours: hoursStep, How: "1.25 times the highest, with the same instruments, if the rules of the next step allow it"}, SettledStep, nil)
	known := func(l Lesson, r bench.Figure, coordinate int, limits float64) {
		if !(r.Value > 0) || !(r.Limits > 0) {
			return
		}
		s := make([]float64, len(m.coords))
		const h = 1e-4
		s[coordinate] = (instrumentError(r, f.best[coordinate]+h) - instrumentError(r, f.best[coordinate])) / h / r.Value
		*out = append(*out, trial{lesson: l, rows: []trialRow{{s, limits / math.Sqrt(3)}}, shared: []float64{0}, step: 1})
	}
	for i := range hard.rows {
		if r := &hard.rows[i]; r.figure.Channel == bench.Thrust {
			known(Lesson{Name: "the scale under known weights", Hours: hoursWeights, How: "near the highest pull, to 0.3 %"}, r.figure, r.error, limitsWeights)
		}
	}
	if hard.demand.Channel == bench.Power {
		known(Lesson{Name: "the power meter against a better one", Hours: hoursMeter, How: "a shunt and a voltmeter at the same place, limits of 1 %"}, hard.demand, hard.error, limitsMeter)
	}
}

// updated is the covariance after a trial.
func updated(cov *mat.SymDense, t trial) (*mat.SymDense, bool) {
	k := cov.SymmetricDim()
	n := len(t.rows)
	h := mat.NewDense(n, k, nil)
	for i, r := range t.rows {
		h.SetRow(i, r.slope)
	}
	var ch, s mat.Dense
	ch.Mul(cov, h.T())
	s.Mul(h, &ch)
	inner := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			v := s.At(i, j) + t.shared[i]*t.shared[j]
			if i == j {
				v += t.rows[i].own * t.rows[i].own
			}
			inner.SetSym(i, j, v)
		}
	}
	var root mat.Cholesky
	if !root.Factorize(inner) {
		return nil, false
	}
	var x mat.Dense
	if err := root.SolveTo(&x, ch.T()); err != nil {
		return nil, false
	}
	var less mat.Dense
	less.Mul(&ch, &x)
	out := mat.NewSymDense(k, nil)
	for i := range k {
		for j := i; j < k; j++ {
			out.SetSym(i, j, cov.At(i, j)-less.At(i, j))
		}
	}
	return out, true
}
