package reckon

import (
	"fmt"
	"math"
	"sync"

	"gonum.org/v1/gonum/stat/distuv"

	"jetwright/bench"
	"jetwright/drive"
	"jetwright/explore"
)

// What the model may have wrong in the power, as ln(static efficiency). Our own.
const (
	gapJump    = 0.03 // beyond the tested powers at once
	gapGrowth  = 0.05 // for each doubling of the power
	gapFreedom = 6    // of what is known of its size before any ladder: one doubling in nine is twice as large, or half
	breakRate  = 0.1  // how often a one-sided break begins within a doubling of the power
)

// What a ladder must have for its own drift to say how large the discrepancy is.
const (
	driftSteps = 4
	driftRatio = 2.0
	driftApart = 1.05 // between powers that count as two steps
)

// Discrepancy returns the standard deviation that ln(static efficiency) is given beyond
// the tested powers, for what the model may have wrong there, dimensionless.
//
//	s = 0.03 + 0.05·log₂(P/P_highest)  above the highest tested power
//	s = 0                              at and between tested points
//
//	P          power of the claim, W
//	P_highest  highest tested power, at the same place, W
//
// A claim under way from tests at rest is not between tested points: it has at least 0.03. This is its size before any
// ladder has said more (see Gap).
//
// Source: own. Tests: TestDiscrepancyExact.
func Discrepancy(power, highest float64, underWay bool) float64 {
	if power > highest*(1+1e-9) {
		return gapJump + gapGrowth*math.Log2(power/highest)
	}
	if underWay {
		return gapJump
	}
	return 0
}

// driftOf returns the drift of ln(static efficiency) for each doubling of the power that a standard normal coordinate
// stands for: a size that is not known makes it Student's t, of standard deviation 0.05.
//
//	d = 0.05·κ·b,  b normal,  κ² inverse gamma of mean 1 (shape ν/2, scale (ν − 2)/2)  ⇒  d ∝ t_ν
//
//	κ  size of the discrepancy over what is assumed;  ν = 6
//
// Source: own. Tests: TestGapExact.
func driftOf(z float64) float64 {
	return gapGrowth * math.Sqrt(float64(gapFreedom-2)/gapFreedom) * studentsTOf(gapFreedom).at(z)
}

// scores is Student's t as a function of the standard normal number of the same rank, on cubics between exact points with
// exact slopes: quick, and right to 1e-9 within 7.
type scores struct{ x, slope []float64 }

const scoreStep, scoreMost = 1.0 / 32, 7.0

func newScores(freedom float64) *scores {
	t := distuv.StudentsT{Sigma: 1, Nu: freedom}
	n := int(scoreMost / scoreStep)
	s := &scores{make([]float64, n+2), make([]float64, n+2)}
	for i := range s.x {
		z := float64(i) * scoreStep
		// of the lower tail, where probabilities keep their digits
		s.x[i] = -t.Quantile(distuv.UnitNormal.CDF(-z))
		s.slope[i] = distuv.UnitNormal.Prob(z) / t.Prob(s.x[i])
	}
	return s
}

func (s *scores) at(z float64) float64 {
	a := math.Min(math.Abs(z), scoreMost)
	i := int(a / scoreStep)
	u := a/scoreStep - float64(i)
	p, q := s.x[i], s.x[i+1]
	m, n := s.slope[i]*scoreStep, s.slope[i+1]*scoreStep
	x := p + u*(m+u*(3*(q-p)-2*m-n+u*(2*(p-q)+m+n)))
	return math.Copysign(x, z)
}

var scoresBefore, scoresAfter = sync.OnceValue(func() *scores { return newScores(gapFreedom) }), sync.OnceValue(func() *scores { return newScores(gapFreedom + 1) })

// studentsTOf returns the scores of one of the two freedoms that the discrepancy has.
func studentsTOf(freedom float64) *scores {
	if freedom == gapFreedom {
		return scoresBefore()
	}
	return scoresAfter()
}

// size is what is known of the discrepancy's size: given it, a normal discrepancy is Student's t.
type size struct {
	freedom float64
	scale   float64 // of Student's t for a standard deviation of one before any ladder
}

// sizeBefore is the size before any ladder, sizeAfter with a drift that a ladder has shown.
//
//	κ²|d ~ inverse gamma of shape (ν + 1)/2, scale (ν − 2 + (d/0.05)²)/2
func sizeBefore() size { return size{gapFreedom, math.Sqrt(float64(gapFreedom-2) / gapFreedom)} }

func sizeAfter(drift float64) size {
	d := drift / gapGrowth
	return size{gapFreedom + 1, math.Sqrt((gapFreedom - 2 + d*d) / (gapFreedom + 1))}
}

// standardDeviation of the discrepancy for one of one before any ladder.
func (s size) standardDeviation() float64 { return s.scale * math.Sqrt(s.freedom/(s.freedom-2)) }

// Gap is the discrepancy as the ladder leaves it.
type Gap struct {
	Learned bool
	Why     string         // why the ladder says nothing of it
	Steps   int            // different powers of the ladder
	Ratio   float64        // highest over lowest of them
	Drift   explore.Figure // of ln(static efficiency) beside the model for each doubling of the power
	Size    float64        // standard deviation over the one assumed
}

// ladderSteps counts the powers of a ladder that differ and says how far apart the ends are.
func ladderSteps(powers []float64) (steps int, ratio float64) {
	low, high := math.Inf(1), 0.0
	var kept []float64
	for _, w := range powers {
		low, high = math.Min(low, w), math.Max(high, w)
		known := false
		for _, k := range kept {
			known = known || w < k*driftApart && k < w*driftApart
		}
		if !known {
			kept = append(kept, w)
		}
	}
	if high == 0 {
		return 0, 0
	}
	return len(kept), high / low
}

// powerOf is a plateau's power at the battery as read, W; 0 without thrust and power.
func (m *model) powerOf(prior *explore.Sample, x *prepared) float64 {
	if x.kind == drive.RotorSpeed || !x.holds(bench.Thrust) {
		return 0
	}
	if x.kind != drive.BatteryPower {
		if s, err := prior.Nominal.Solve(drive.Condition{OnStand: true, Demand: x.kind, Amount: x.demand.Value}); err == nil {
			return s.BatteryPower
		}
	}
	return x.demand.Value
}

// addDrift gives the ladder's own drift a coordinate where the ladder can show it.
func (m *model) addDrift(add func(string) int) {
	m.drift = -1
	var powers []float64
	m.allOf(func(_ int, x *prepared) {
		if x.power > 0 && !x.left {
			powers = append(powers, x.power)
			m.highest = math.Max(m.highest, x.power)
		}
	})
	m.steps, m.ratio = ladderSteps(powers)
	if m.steps < driftSteps || m.ratio < driftRatio {
		return
	}
	m.drift = add("drift of the static efficiency along the ladder")
	m.allOf(func(_ int, x *prepared) {
		if x.power > 0 {
			x.doublings = math.Log2(x.power / m.highest)
		}
	})
}

// holds tells whether a plateau has a row of a channel.
func (x *prepared) holds(c bench.Channel) bool {
	for _, r := range x.rows {
		if r.figure.Channel == c {
			return true
		}
	}
	return false
}

// thrustExponent is how thrust at a power follows the static efficiency.
const thrustExponent = 2.0 / 3.0

// drifted returns by what the ladder's drift changes the thrust of a plateau.
func (m *model) drifted(x *prepared, drift float64) float64 {
	if x.doublings == 0 {
		return 1
	}
	return math.Exp(thrustExponent * drift * x.doublings)
}

// driftAt is the drift at a point; 0 where the ladder cannot show it.
func (m *model) driftAt(y []float64) float64 {
	if m.drift < 0 {
		return 0
	}
	return driftOf(y[m.drift])
}

// Drifted returns by what the ladder's drift changes the calibrated thrust at a power at the battery in W: of the most
// probable drive, and of each drawn one. Beyond the tested powers it is carried on.
func (f *Fit) Drifted(power float64) (best float64, draws []float64) {
	best, draws = 1, make([]float64, len(f.Draws))
	doublings := 0.0
	if f.model.drift >= 0 && power > 0 {
		doublings = math.Log2(power / f.model.highest)
		best = math.Exp(thrustExponent * f.bestDrift * doublings)
	}
	for i := range draws {
		draws[i] = 1
		if i < len(f.drifts) {
			draws[i] = math.Exp(thrustExponent * f.drifts[i] * doublings)
		}
	}
	return best, draws
}

// gap says what the ladder has shown of the discrepancy.
func (f *Fit) gap(m *model) {
	g := Gap{Steps: m.steps, Ratio: m.ratio, Size: 1}
	defer func() { f.Gap = g }()
	if m.drift < 0 {
		switch {
		case m.steps == 0:
			g.Why = "no step has both thrust and power"
		case m.steps < driftSteps:
			g.Why = fmt.Sprintf("it takes %d steps of different power and the ladder has %d", driftSteps, m.steps)
		default:
			g.Why = fmt.Sprintf("it takes a ladder over a factor of %.0f in power and this one goes over %.2g", driftRatio, m.ratio)
		}
		return
	}
	g.Learned = true
	square := 0.0
	for _, d := range f.drifts {
		sd := sizeAfter(d).standardDeviation()
		square += sd * sd / float64(len(f.drifts))
	}
	if len(f.drifts) == 0 {
		square = math.Pow(sizeAfter(f.bestDrift).standardDeviation(), 2)
	}
	g.Size = math.Sqrt(square)
	g.Drift = explore.Interval(f.bestDrift, f.drifts)
}

// beyond is the discrepancy of drawn drives at one power.
type beyond struct {
	doublings float64   // of the power over the highest tested one
	drifts    []float64 // by draw; nil where the ladder says nothing
	deviation float64   // standard deviation of what may come new, before any ladder
	doubled   float64   // the same with the whole discrepancy doubled
	untested  bool      // nothing was tested at all
	unbroken  bool      // no break is counted
}

// beyondAt makes the discrepancy at a power.
//
//	δ = d·log₂(P/P_highest) + κ·e − b,  var(κ·e) = s² − (0.05·log₂(P/P_highest))²
//
//	d  drift that the ladder has shown; where it shows none, var(κ·e) = s²
//	b  one-sided break: begins with a rate of 0.1 for each doubling, and from there ln(static efficiency) falls by a share,
//	   anything from none to all, of ln of the power
//
// So that the whole has the standard deviation s before any ladder. The break stands for drawn air, water that comes round and
// cavitation that the model does not have; its own cavitation comes on top, as one-sided.
func beyondAt(power, highest float64, underWay bool, drifts []float64) beyond {
	s := Discrepancy(power, highest, underWay)
	b := beyond{drifts: drifts, deviation: s, doubled: 2 * s}
	b.doublings = math.Log2(power / highest)
	if drifts != nil && b.doublings > 0 {
		known := gapGrowth * b.doublings
		b.deviation = math.Sqrt(math.Max(0, s*s-known*known))
		b.doubled = math.Sqrt(math.Max(0, 4*s*s-known*known))
	}
	return b
}

// gapUntested is the standard deviation where nothing was tested.
const gapUntested = 0.10

// shift returns what is known of ln(static efficiency) of a draw, and the standard deviation and freedom of Student's t of
// what is not.
func (b *beyond) shift(draw int, doubled bool) (mean, scale, freedom float64) {
	sd := b.deviation
	if doubled {
		sd = b.doubled
	}
	if b.untested {
		return 0, sd, math.Inf(1)
	}
	k := sizeBefore()
	if b.drifts != nil {
		d := b.drifts[draw]
		k = sizeAfter(d)
		mean = d * b.doublings
	}
	return mean, sd * k.scale, k.freedom
}

// first is shift for a prediction without draws.
func (b beyond) first(doubled bool) (mean, scale, freedom float64) { return b.shift(0, doubled) }

// whole is the standard deviation of all of it, break aside, over what the ladder leaves.
func (b *beyond) whole() float64 {
	if b.untested || b.deviation == 0 {
		return b.deviation
	}
	if len(b.drifts) == 0 {
		return b.deviation * sizeBefore().standardDeviation()
	}
	n := float64(len(b.drifts))
	sum, square, fresh := 0.0, 0.0, 0.0
	for i, d := range b.drifts {
		_, scale, freedom := b.shift(i, false)
		fresh += scale * scale * freedom / (freedom - 2) / n
		sum += d / n
		square += d * d / n
	}
	return math.Sqrt(fresh + math.Max(0, square-sum*sum)*b.doublings*b.doublings)
}

// breakLoss is by what a break lessens ln(static efficiency), from two numbers in (0, 1).
func (b *beyond) breakLoss(begin, steep float64) float64 {
	if b.untested || b.unbroken || b.doublings <= 0 {
		return 0
	}
	onset := -math.Log(begin) / breakRate
	return steep * math.Ln2 * math.Max(0, b.doublings-onset)
}

// studentsT is the distribution function of Student's t, of the normal one for infinite freedom.
func studentsT(x, freedom float64) float64 {
	if math.IsInf(freedom, 1) {
		return distuv.UnitNormal.CDF(x)
	}
	return distuv.StudentsT{Sigma: 1, Nu: freedom}.CDF(x)
}

// studentsTAt is Student's t of the rank of a standard normal number, that number itself for infinite freedom.
func studentsTAt(z, freedom float64) float64 {
	if math.IsInf(freedom, 1) {
		return z
	}
	return studentsTOf(freedom).at(z)
}
