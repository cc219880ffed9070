package reckon

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"sort"
	"strconv"
	"sync"

	"gonum.org/v1/gonum/stat/distuv"

	"jetwright/bench"
	"jetwright/design"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/numeric"
	"jetwright/physics/jet"
	"jetwright/quantity"
)

// Verdict is one of five words on a claim.
type Verdict string

// Verdicts.
const (
	Supported Verdict = "supported"
	Unlikely  Verdict = "unlikely"
	Refuted   Verdict = "refuted"
	Open      Verdict = "open"
)

// Probabilities at which the verdicts change.
const (
	supportedFrom = 0.90
	unlikelyTo    = 0.25
	refutedTo     = 0.05
)

// figureOf says how a claimed figure is read off a state, how it is written and how it moves
// with the static efficiency: figure ∝ efficiency^power.
type figureOf struct {
	of       func(*drive.State) float64
	unit     string
	exponent float64
}

// claimable are the figures that a claim can be judged on.
var claimable = map[string]figureOf{
	"thrust":              {func(s *drive.State) float64 { return s.Thrust }, "N", 2.0 / 3.0},
	"power":               {nil, "W", -1},
	"static efficiency":   {func(s *drive.State) float64 { return s.StaticEfficiency }, "1", 1},
	"rotor speed":         {func(s *drive.State) float64 { return s.RotorSpeed }, "rpm", 0},
	"winding temperature": {func(s *drive.State) float64 { return s.Motor.WindingTemperature }, "°C", 0},
	"bridge temperature":  {func(s *drive.State) float64 { return s.Heat.BridgeTemperature }, "°C", 0},
	"run time":            {nil, "min", 0},                                                       // at a power; see questionOf
	"speed":               {func(s *drive.State) float64 { return s.NetThrust }, "N", 2.0 / 3.0}, // by the net thrust there, against the drag
}

// runTimeDraws are the draws that a claim of run time rests on: each takes a discharge of its own.
const runTimeDraws = 128

// question is what a claim asks of a drive.
type question struct {
	of       func(*drive.Machine, *drive.State) float64
	exponent float64
	drag     quantity.Value // that a net thrust is held against; zero where there is none
	most     int            // draws; all where 0
}

// questionOf is what a claim asks, with its power at a place.
func questionOf(c design.Claim, place string) question {
	g := claimable[c.What]
	q := question{exponent: g.exponent}
	of := g.of
	switch c.What {
	case "power":
		of = powerAt(place)
	case "static efficiency":
		of = func(s *drive.State) float64 { return s.StaticEfficiency * s.BatteryPower / powerAt(place)(s) }
	case "run time":
		q.of = func(m *drive.Machine, s *drive.State) float64 { return m.RunTime(s.BatteryPower) }
		q.most = runTimeDraws
		if c.Power == 0 {
			q.exponent = 1 // the power for a thrust goes with one over the static efficiency
		}
		return q
	case "speed":
		q.drag = c.Drag
	}
	q.of = func(_ *drive.Machine, s *drive.State) float64 { return of(s) }
	return q
}

// Predicted is a calibrated figure at a claim's condition, with its 90 % interval, and the
// probability that the claim holds.
type Predicted struct {
	Figure      explore.Figure
	Probability float64
	Without     int // draws without a state there
	Draws       int
	Reason      string // most frequent reason of those
}

// Case is a claim judged for one reading of what was left unsaid.
type Case struct {
	ReadingPlace string // taken for readings that do not say theirs; empty if all do
	ClaimPlace   string
	Condition    drive.Condition
	Calibrated   Predicted
	Before       Predicted // by the assumptions alone, before any reading
	WidePrior    Predicted // with every prior standard deviation doubled
	WideGap      Predicted // with the discrepancy doubled
	Discrepancy  float64   // standard deviation of ln(static efficiency) there
	Doublings    float64   // of the power over the highest tested one
	Verdict      Verdict
	Why          string
	Needs        Needs
}

// Needs is what would have to be true.
type Needs struct {
	Efficiency float64 // static efficiency at the claim's place, 0 if the claim is not about thrust and power
	Place      string
	Shown      explore.Figure // static efficiency of the best reading
	ShownPlace string
	ShownBy    string
	Text       string
}

// ClaimVerdict is a claim with its cases and the verdict that holds over all of them.
type ClaimVerdict struct {
	Claim   design.Claim
	Unit    string
	Verdict Verdict
	Why     string
	Cases   []Case
}

// Judge is the calibrated models that claims are judged by: a fit for each place that
// readings without a place may have meant.
type Judge struct {
	Design    *design.Design
	Prior     *explore.Sample
	Evidence  []Evidence
	Fits      map[string]*Fit // by place taken for unstated powers; "" if every reading says its own
	wideFits  map[string]*Fit
	trimmed   map[string]*Trimmed // without readings that contradict the rest; nil where none does
	Places    []string
	Highest   *LeaveOut // the highest step predicted from those below; nil without readings
	highest   bench.Figure
	highestAt string
	seed      uint64
}

var places = []string{"battery", "controller", "shaft"}

// NewJudge calibrates. Without any evidence claims are judged by the assumptions alone.
func NewJudge(prior *explore.Sample, evidence []Evidence, o Options) (*Judge, error) {
	j := &Judge{Design: prior.Design, Prior: prior, Evidence: evidence, Fits: map[string]*Fit{}, wideFits: map[string]*Fit{}, trimmed: map[string]*Trimmed{}, seed: o.Seed}
	if j.seed == 0 {
		j.seed = explore.DefaultSeed
	}
	j.Places = []string{""}
	most := 0.0
	for _, e := range evidence {
		for _, p := range e.Plateaus {
			if f, ok := p.Figure(bench.Power); ok {
				if p.PowerPlace == "" {
					j.Places = places
				}
				if w := j.atBattery(f.Value, p.PowerPlace); w > most {
					most = w
					j.highest, j.highestAt = f, p.PowerPlace
				}
			}
		}
	}
	if len(evidence) == 0 {
		return j, nil
	}
	var first error
	draws := o.Draws
	if draws == 0 {
		draws = explore.DefaultDraws
	}
	for _, place := range j.Places {
		o.Place, o.PriorScale, o.Draws = place, 1, draws
		broad := o
		broad.PriorScale = 2
		broad.Draws, broad.bare = max(draws/4, 1), true // it is shown beside the verdict and decides nothing
		fit, err := Calibrate(prior, evidence, o)
		if err != nil {
			if first == nil {
				first = err
			}
			continue
		}
		broad.start = append([]float64(nil), fit.best...)
		for i := range fit.physicals {
			broad.start[i] /= broad.PriorScale
		}
		var wide *Fit
		var beside sync.WaitGroup
		beside.Go(func() {
			var err error
			if wide, err = Calibrate(prior, evidence, broad); err != nil {
				wide = fit
			}
		})
		if j.Highest == nil && !o.Nominal {
			j.Highest = LeaveHighestOut(prior, evidence, fit, o)
		}
		j.trimmed[place] = trim(prior, evidence, fit, o)
		beside.Wait()
		if o.Sampled {
			fit = fit.Sampled(prior, o)
		}
		j.Fits[place], j.wideFits[place] = fit, wide
	}
	if len(j.Fits) == 0 {
		return nil, first
	}
	return j, nil
}

// atBattery is a power at a place as battery power of the design, for comparing powers that
// were read at different places.
func (j *Judge) atBattery(power float64, place string) float64 {
	demand, ok := drive.Place(place)
	if !ok || demand == drive.BatteryPower {
		return power
	}
	if s, err := j.Prior.Nominal.Solve(drive.Condition{Demand: demand, Amount: power, OnStand: true}); err == nil {
		return s.BatteryPower
	}
	return power
}

// Fit returns the calibrated model that is shown first: the one of the stated places, or of
// the battery where none is stated.
func (j *Judge) Fit() *Fit {
	for _, p := range j.Places {
		if f := j.Fits[p]; f != nil {
			return f
		}
	}
	return nil
}

// Claim judges one claim for every reading of what it and the readings leave unsaid.
func (j *Judge) Claim(c design.Claim) ClaimVerdict {
	v := ClaimVerdict{Claim: c}
	g, ok := claimable[c.What]
	if !ok {
		v.Verdict, v.Why = Open, fmt.Sprintf("a claim of %s is not predicted", c.What)
		return v
	}
	v.Unit = g.unit
	claimPlaces := []string{c.Place}
	if c.Place == "" {
		claimPlaces = places
	}
	if c.What == "run time" && c.Power == 0 { // for a thrust no power is claimed
		claimPlaces = []string{"battery"}
	}
	computed := false
	if c.What == "speed" && c.Drag.Nominal() == 0 && c.Sense != "about" {
		if drag, ok := j.craftDrag(c.Value); ok {
			c.Drag, computed = drag, true
			v.Claim = c
		}
	}
	for _, rp := range j.Places {
		if len(j.Evidence) > 0 && j.Fits[rp] == nil {
			continue
		}
		for _, cp := range claimPlaces {
			v.Cases = append(v.Cases, j.judge(c, rp, cp))
		}
	}
	v.Verdict, v.Why = overall(v.Cases)
	if c.What == "speed" && (c.Drag.Nominal() == 0 || c.Sense == "about") && len(v.Cases) > 0 {
		f := v.Cases[0].Calibrated.Figure
		v.Verdict = Open
		v.Why = fmt.Sprintf("the drag of the craft at that speed decides: the net thrust there is %.3g N [%.3g, %.3g]; tow it at that speed and type drag", f.Value, f.Low, f.High)
		if c.Sense == "about" {
			v.Why = "about a speed takes the drag at more than one; claim it at least or at most"
		}
		v.Cases = nil
	}
	if computed {
		v.Why += "; the drag is that of the craft as computed, not towed at that speed"
	}
	return v
}

// craftDragDraws is how many crafts the interval of a computed drag rests on.
const craftDragDraws = 200

// craftDrag is the drag of the design's craft at a speed in m/s with its interval, where the craft is typed: what was towed moves it.
func (j *Judge) craftDrag(speed float64) (quantity.Value, bool) {
	d := j.Prior.Design
	nominal := d.Nominal()
	r, err := nominal.Bare()
	if err != nil {
		return quantity.Value{}, false
	}
	at := func(r *drive.Ride) float64 { s := r.Drag(speed, false); return s.Drag }
	var drawn []float64
	inputs := slices.Concat(d.Uncertain(), d.Riding())
	for _, u := range explore.Uniform(craftDragDraws, len(inputs), j.seed+79) {
		drawing := d.DrawOf(inputs, u)
		if x, err := drawing.Bare(); err == nil {
			drawn = append(drawn, at(x))
		}
	}
	iv := explore.Interval(at(r), drawn)
	digits := 3
	if s := r.Drag(speed, false); s.Extrapolated() {
		digits = 2
	}
	return quantity.Between(rounded(iv.Low, digits), rounded(iv.High, digits), quantity.MustUnit("N")), true
}

// rounded leaves some digits of a number.
func rounded(x float64, digits int) float64 {
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', digits, 64), 64)
	if err != nil {
		return x // not a number, which the caller's interval never is
	}
	return y
}

// overall is the verdict on which all cases agree, or open.
func overall(cases []Case) (Verdict, string) {
	if len(cases) == 0 {
		return Open, "no drive within reach of the design meets the readings"
	}
	first := cases[0]
	same := true
	for _, c := range cases[1:] {
		same = same && c.Verdict == first.Verdict
	}
	if same {
		return first.Verdict, first.Why
	}
	var says string
	for i, c := range cases {
		if i > 0 {
			says += ", "
		}
		says += string(c.Verdict) + " "
		if c.ReadingPlace != "" {
			says += "if the readings' power is at the " + c.ReadingPlace + " and "
		} else {
			says += "if "
		}
		says += "the claim's at the " + c.ClaimPlace
	}
	return Open, "it depends on where the power is meant: " + says
}

// condition of a claim at a place.
func (j *Judge) condition(c design.Claim, place string) drive.Condition {
	at := drive.Condition{Speed: c.Speed}
	if c.What == "speed" {
		at.Speed = c.Value
	}
	if c.What == "power" || c.What == "run time" && c.Power == 0 {
		at.Demand, at.Amount = drive.Thrust, c.Thrust
		return at
	}
	at.Demand, _ = drive.Place(place)
	at.Amount = c.Power
	return at
}

func (j *Judge) judge(c design.Claim, readingPlace, claimPlace string) Case {
	k := Case{ReadingPlace: readingPlace, ClaimPlace: claimPlace, Condition: j.condition(c, claimPlace)}
	q := questionOf(c, claimPlace)
	before, best, wide, trimmed := j.Prior, j.Prior, j.Prior, j.Prior
	var drifts, wideDrifts []float64
	contradicted := j.trimmed[readingPlace]
	if contradicted != nil && contradicted.Fit != nil {
		trimmed = contradicted.Fit.Sample(j.Prior)
	}
	if fit := j.Fits[readingPlace]; fit != nil {
		best, wide = fit.Sample(j.Prior), j.wideFits[readingPlace].Sample(j.Prior)
		drifts, wideDrifts = fit.drifts, j.wideFits[readingPlace].drifts
	}
	if w, ok := c.OtherWater(); ok {
		for _, s := range []**explore.Sample{&before, &best, &wide, &trimmed} {
			other, err := (*s).Adjusted(w.Apply)
			if err != nil {
				k.Verdict, k.Why = Open, "the drive has no design point in that water: "+err.Error()
				return k
			}
			*s = other
		}
	}
	gap := j.beyond(k.Condition, best, drifts, readingPlace)
	wideGap := gap
	wideGap.drifts = wideDrifts
	k.Discrepancy, k.Doublings = gap.whole(), gap.doublings
	k.Calibrated = j.predict(c, k.Condition, best, q, gap, false)
	k.WideGap = j.predict(c, k.Condition, best, q, gap, true)
	k.WidePrior = j.predict(c, k.Condition, wide, q, wideGap, false)
	alone := q
	alone.exponent = 0
	k.Before = j.predict(c, k.Condition, before, alone, beyond{}, false)
	k.Verdict, k.Why = decide(c, k.Calibrated, k.WideGap)
	if contradicted != nil {
		var without Verdict
		var why string
		if contradicted.Fit != nil {
			gap := j.beyond(k.Condition, trimmed, contradicted.Fit.drifts, readingPlace)
			without, why = decide(c, j.predict(c, k.Condition, trimmed, q, gap, false), j.predict(c, k.Condition, trimmed, q, gap, true))
		}
		k.Verdict, k.Why = contradicted.standing(k.Verdict, k.Why, without, why)
	}
	if fit := j.Fits[readingPlace]; fit != nil && len(fit.Strained) > 0 && k.Verdict != Open {
		k.Why = fmt.Sprintf("it would be %s (%s), but the readings can only be met by what nobody would assume: %s", k.Verdict, k.Why, strainText(fit.Strained))
		k.Verdict = Open
	}
	k.Needs = j.needs(c, claimPlace, readingPlace)
	return k
}

func powerAt(place string) func(*drive.State) float64 {
	switch place {
	case "shaft":
		return func(s *drive.State) float64 { return s.ShaftPower }
	case "controller":
		return func(s *drive.State) float64 { return s.ControllerPower }
	}
	return func(s *drive.State) float64 { return s.BatteryPower }
}

// beyond compares the claim's power with the highest tested one, both at the battery
// by the calibrated drive.
func (j *Judge) beyond(c drive.Condition, s *explore.Sample, drifts []float64, readingPlace string) beyond {
	m := s.Nominal
	power := 0.0
	if st, err := m.Solve(c); err == nil {
		power = st.BatteryPower
	} else if c.Demand != drive.Thrust {
		power = c.Amount
	} else {
		var u *drive.Unmet
		if errors.As(err, &u) && u.Most > 0 {
			top := c
			top.Amount = 0.99 * u.Most
			if st, err := m.Solve(top); err == nil {
				power = st.BatteryPower
			}
		}
	}
	if j.highest.Value == 0 || !(power > 0) {
		return beyond{deviation: gapUntested, doubled: 2 * gapUntested, untested: true}
	}
	return beyondAt(power, j.highestBattery(m, readingPlace), c.Speed > 0, drifts)
}

// highestBattery is the highest tested power at the battery by a drive, W.
func (j *Judge) highestBattery(m *drive.Machine, readingPlace string) float64 {
	place := j.highestAt
	if place == "" {
		place = readingPlace
	}
	demand, _ := drive.Place(place)
	if h, err := m.Solve(drive.Condition{Demand: demand, Amount: j.highest.Value, OnStand: true}); err == nil {
		return h.BatteryPower
	}
	return j.highest.Value
}

// gapNumbers are how many numbers in (0, 1) the discrepancy of a draw takes: what may come new, and where a break begins
// and how steep it is.
const gapNumbers = 3

// gapped is a drawn figure with what is known of its discrepancy in it, and the scale and the degrees of freedom of
// Student's t that the rest of it has on the figure's logarithm.
type gapped struct{ value, scale, freedom float64 }

// drawn puts a draw's discrepancy to its figure.
func (b *beyond) drawn(v, exponent float64, i int, u []float64, doubled bool) gapped {
	mean, scale, freedom := b.shift(i, doubled)
	if exponent != 0 {
		v *= math.Exp(exponent * (mean - b.breakLoss(u[1], u[2])))
	}
	return gapped{v, scale * math.Abs(exponent), freedom}
}

// gapEach is how many discrepancies each drawn drive gets: they cost no state, and make the ends of intervals steadier.
const gapEach = 8

// predict draws the figure at a condition with its discrepancy.
func (j *Judge) predict(c design.Claim, at drive.Condition, s *explore.Sample, q question, gap beyond, doubled bool) Predicted {
	if q.most > 0 {
		s = s.First(q.most)
	}
	exponent := q.exponent
	nominal, draws := s.Nominal, s.Machines
	p := Predicted{Draws: len(draws)}
	x := solveEach(draws, at, q.of)
	drags := explore.Uniform(max(len(draws), 1), 1, j.seed+78)
	each := 1
	if exponent != 0 && (gap.deviation > 0 || gap.doublings > 0) {
		each = gapEach
	}
	u := explore.Uniform(max(each*len(draws), 1), gapNumbers, j.seed+77)
	drawn := make([]float64, 0, each*len(x))
	hold := 0.0
	for i, v := range x {
		if math.IsNaN(v) {
			p.Without++
			continue
		}
		if q.drag.Nominal() > 0 {
			c.Value = q.drag.Quantile(drags[i][0])
		}
		for _, n := range u[each*i : each*(i+1)] {
			k := gap.drawn(v, exponent, i, n, doubled)
			noise := 0.0
			if k.scale > 0 {
				noise = k.scale * studentsTAt(distuv.UnitNormal.Quantile(n[0]), k.freedom)
			}
			drawn = append(drawn, k.value*math.Exp(noise))
			hold += holds(c, k.value, k.scale, k.freedom) / float64(each)
		}
	}
	if q.drag.Nominal() > 0 {
		c.Value = q.drag.Nominal()
	}
	st, err := nominal.Solve(at)
	switch {
	case err == nil && len(draws) == 0:
		value := q.of(nominal, &st)
		p.Figure = explore.Interval(value, nil)
		_, scale, freedom := beyond{deviation: gap.deviation, doubled: gap.doubled, untested: true}.first(doubled)
		p.Probability = holds(c, value, math.Abs(exponent)*scale, freedom)
	case len(drawn) > 0:
		sort.Float64s(drawn)
		p.Figure = explore.Figure{Value: numeric.Quantile(drawn, 0.5), Low: numeric.Quantile(drawn, explore.LowShare), High: numeric.Quantile(drawn, explore.HighShare)}
	}
	if err != nil {
		p.Reason = err.Error()
	}
	if len(draws) > 0 {
		p.Probability = hold / float64(len(draws))
	}
	return p
}

// holds returns the probability that a figure meets a claim when its logarithm has an error by Student's t of a scale
// and a number of degrees of freedom; normal if those are infinite.
func holds(c design.Claim, v, scale, freedom float64) float64 {
	above := func(bound float64) float64 {
		if v <= 0 || bound <= 0 || scale == 0 {
			if v >= bound {
				return 1
			}
			return 0
		}
		return studentsT(math.Log(v/bound)/scale, freedom)
	}
	switch c.Sense {
	case "at least":
		return above(c.Value)
	case "at most":
		return 1 - above(c.Value)
	}
	return above(c.Low()) - above(c.High())
}

// decide gives the verdict of one case.
func decide(c design.Claim, p, wide Predicted) (Verdict, string) {
	if p.Draws > 0 && p.Without == p.Draws {
		return Refuted, "the drive has no state there: " + p.Reason
	}
	if c.Sense == "about" {
		width := p.Figure.High - p.Figure.Low
		band := c.High() - c.Low()
		overlap := p.Figure.Low <= c.High() && p.Figure.High >= c.Low()
		if overlap && width > band && p.Probability < supportedFrom {
			return Open, "the interval is wider than the claim's tolerance and overlaps it"
		}
	}
	switch {
	case p.Probability >= supportedFrom:
		return Supported, fmt.Sprintf("probability %s, %d %% or more", percent(p.Probability), 90)
	case p.Probability <= refutedTo && wide.Probability <= refutedTo:
		return Refuted, fmt.Sprintf("probability %s, and %s with the discrepancy doubled", percent(p.Probability), percent(wide.Probability))
	case p.Probability <= unlikelyTo:
		return Unlikely, fmt.Sprintf("probability %s; with the discrepancy doubled %s", percent(p.Probability), percent(wide.Probability))
	}
	return Open, "probability " + percent(p.Probability)
}

// percent writes a probability without pretending that draws can tell 0 or 1.
func percent(p float64) string {
	switch {
	case p < 0.005:
		return "under 0.5 %"
	case p > 0.995:
		return "over 99.5 %"
	}
	return fmt.Sprintf("%.0f %%", 100*p)
}

// needs says what static efficiency the claim rests on, and what the best reading showed.
func (j *Judge) needs(c design.Claim, claimPlace, readingPlace string) Needs {
	var n Needs
	if c.What == "speed" {
		n.Text = "needs a net thrust at that speed of no less than the drag of " + c.Drag.String()
		if c.Sense == "at most" {
			n.Text = "needs a net thrust at that speed of no more than the drag of " + c.Drag.String()
		}
		return n
	}
	if c.What == "run time" {
		n.Text = "counts what the pack gives with its cells at the temperature of the design; what gets too hot before, heat tells"
		return n
	}
	thrust, power := c.Value, c.Power
	if c.What == "power" {
		thrust, power = c.Thrust, c.Value
	}
	if (c.What != "thrust" && c.What != "power") || thrust <= 0 || power <= 0 {
		return n
	}
	m := j.Prior.Nominal
	n.Place = claimPlace
	n.Efficiency = jet.StaticEfficiency(thrust, m.Water.Density, m.Path.NozzleArea, power)
	n.Text = fmt.Sprintf("needs a static efficiency of %.2f at the %s", n.Efficiency, claimPlace)
	best, ok := j.bestReading(readingPlace)
	if ok {
		n.Shown, n.ShownPlace, n.ShownBy = best.figure, best.place, best.name
		n.Text += fmt.Sprintf(" where the best reading shows %.2f [%.2f, %.2f]", best.figure.Value, best.figure.Low, best.figure.High)
		if best.place != claimPlace {
			n.Text += " at the " + best.place
		}
	}
	return n
}

type shownEfficiency struct {
	figure explore.Figure
	place  string
	name   string
}

// bestReading returns the highest static efficiency among the plateaus, at the place where
// its power was read, with a 90 % interval from its own uncertainty.
func (j *Judge) bestReading(readingPlace string) (best shownEfficiency, ok bool) {
	for _, e := range j.Evidence {
		m := e.Machine(j.Prior.Nominal)
		for _, p := range e.Plateaus {
			t, haveT := p.Figure(bench.Thrust)
			w, haveP := p.Figure(bench.Power)
			if !haveT || !haveP || t.Value <= 0 {
				continue
			}
			eta := jet.StaticEfficiency(t.Value, m.Water.Density, m.Path.NozzleArea, w.Value)
			if ok && eta <= best.figure.Value {
				continue
			}
			u := math.Hypot(1.5*t.StandardUncertainty()/t.Value, w.StandardUncertainty()/w.Value)
			place := p.PowerPlace
			if place == "" {
				place = readingPlace
			}
			const z90 = 1.6448536269514722
			best = shownEfficiency{explore.Figure{Value: eta, Low: eta * math.Exp(-z90*u), High: eta * math.Exp(z90*u)}, place, p.Name}
			ok = true
		}
	}
	return best, ok
}
