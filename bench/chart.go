package bench

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"jetwright/numeric"
)

// Rules of a chart. Our own, but for the reference value, which is the usual one.
const (
	chartReference = 0.5  // standard deviations: quickest for a shift of one
	chartLength    = 1e6  // blocks between false alarms: eleven days of seconds
	chartFar       = 16   // blocks over which scatter that hangs together shows
	chartLeast     = 30   // changes over so many blocks that the scatter must be known from
	chartWorth     = 10.0 // and independent values that they are worth
	chartMost      = 6000 // changes after which old ones are forgotten
	chartMargin    = 2.0  // standard errors by which the autocorrelation may be larger than it looks
	chartWild      = 4.0  // standard deviations at which one block counts no further
	chartPersists  = 0.98 // autocorrelation beyond which nothing is told
)

// chart watches block means of one thing that should stay within a band about zero, though its scatter
// hangs together from block to block. It learns how, takes that out, and sums what is left.
type chart struct {
	numeric.Cusum
	one, far   float64           // mean squares of the changes over one and chartFar blocks
	ones, fars float64           // how many they are of
	last       [chartFar]float64 // latest first
	held       int

	rho, sigma float64 // that are used: of when both sums were last zero
}

// newChart returns a chart that tells once in so many blocks if all is well.
func newChart(length float64) (chart, error) {
	h, err := numeric.CusumDecision(chartReference, length, true)
	return chart{Cusum: numeric.Cusum{K: chartReference, H: h}}, err
}

// pause forgets what stood before: what is watched has moved on purpose.
func (c *chart) pause() {
	c.held = 0
	c.Start(0)
}

// persistence is the autocorrelation from block to block, and its upper end.
//
//	(1 − ρ^m)/(1 − ρ) = D_m/D₁,  D_m mean square of the changes over m blocks,  u(ρ) = √((1 − ρ²)/n)
//
// Changes say it without knowing the level, which may lie anywhere in the band. Holds for scatter of first
// order; 0 where neighbours are less alike than chance makes them.
//
// Source: own. Tests: TestChartSynthetic.
func (c *chart) persistence() (rho, upper float64) {
	low, high := 0.0, chartPersists
	for range 30 {
		m := 0.5 * (low + high)
		sixteenth := m * m
		sixteenth *= sixteenth
		sixteenth *= sixteenth
		sixteenth *= sixteenth
		if (1-sixteenth)*c.one < (1-m)*c.far {
			low = m
		} else {
			high = m
		}
	}
	rho = 0.5 * (low + high)
	return rho, math.Min(chartPersists, rho+chartMargin*math.Sqrt((1-rho*rho)/c.fars))
}

// ready tells whether enough is known of the scatter, and how far it hangs together at most.
func (c *chart) ready() (rho float64, ok bool) {
	if c.fars < chartLeast || !(c.one > 0) {
		return 0, false
	}
	rho, upper := c.persistence()
	return upper, c.fars*(1-rho)/(1+rho) >= chartWorth
}

// take adds a block's mean and tells whether it has left the band; it is not known while too little is learned.
//
//	z = (d ∓ b − ρ(d₋₁ ∓ b))/σ,  σ² = D₁(1 + ρ)/2
//
//	d, d₋₁  this mean and the one before;  b  half-width of the band
//	ρ, D₁   autocorrelation from block to block and mean square of its changes, from the blocks before
//
// z goes to the sums as the normal number that is as rare as it is among the few that σ was learned
// from, and not beyond 4, so that no single block tells.
//
// Source: hawkins-1987, page-1954. Tests: TestChartSynthetic.
func (c *chart) take(d, band float64) (told, known bool) {
	// The very shift that is to be told must not count as scatter: while a sum rises nothing new is taken.
	if c.Up == 0 && c.Down == 0 {
		if rho, ok := c.ready(); ok {
			c.rho, c.sigma = rho, math.Sqrt(0.5*c.one*(1+rho))
		}
	}
	known = c.sigma > 0
	if known {
		rho := c.rho
		value, half := d, band
		if c.held > 0 {
			value -= rho * c.last[0]
			half *= 1 - rho
		} else { // the first one is free of those before
			k := math.Sqrt(1 - rho*rho)
			value, half = k*value, k*half
		}
		told = c.AddWithin(c.usual((value-half)/c.sigma), c.usual((value+half)/c.sigma))
	}
	c.learn(d)
	return told, known
}

// learn takes a block's mean for what it says of the scatter alone.
func (c *chart) learn(d float64) {
	if c.held > 0 {
		c.ones = math.Min(c.ones+1, chartMost)
		c.one += (tame(d-c.last[0], c.one, c.ones) - c.one) / c.ones
	}
	if c.held >= chartFar {
		c.fars = math.Min(c.fars+1, chartMost)
		c.far += (tame(d-c.last[chartFar-1], c.far, c.fars) - c.far) / c.fars
	}
	copy(c.last[1:], c.last[:chartFar-1])
	c.last[0] = d
	c.held++
}

// tame is the square of a change, no wilder than chartWild once a few are known.
func tame(change, square, n float64) float64 {
	if most := chartWild * chartWild * square; n > chartLeast && change*change > most {
		return most
	}
	return change * change
}

// usual turns a number of Student's distribution into the normal one that is as rare.
func (c *chart) usual(x float64) float64 {
	if nu := c.ones / 2; nu < 500 {
		x = math.Copysign(distuv.UnitNormal.Quantile(distuv.StudentsT{Sigma: 1, Nu: nu}.CDF(-math.Abs(x))), x)
	}
	return math.Max(-chartWild, math.Min(chartWild, x))
}
