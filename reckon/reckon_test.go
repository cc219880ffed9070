package reckon

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"jetwright/bench"
	"jetwright/design"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/notice"
	"jetwright/quantity"
)

// board is a design of which little is typed, so that nearly everything is assumed. It is
// made for these checks alone.
const board = `
[duty]
thrust = "600 N"
[intake]
[impeller]
diameter = "104 mm"
hub_diameter = "44 mm"
%s
[nozzle]
diameter = "66 mm"
[motor]
speed_constant = "100 rpm/V"
winding_resistance = "9 mΩ"
[battery]
series = 14
parallel = 16
cell_capacity = "5 Ah"
[stand]
water = "%s"
%s
`

const (
	noCavitation = "suction_specific_speed_3 = \"500\""
	withClaim    = "\n[[claim]]\nwhat = \"thrust\"\nsense = \"%s\"\nvalue = \"%g N\"\npower = \"%g W\"\n%s\n"
)

func read(t testing.TB, text string) *design.Design {
	t.Helper()
	d, faults := design.Read("drive.toml", []byte(text))
	if err := faults.Fatal(); err != nil {
		t.Fatal(err)
	}
	return d
}

func sample(t testing.TB, d *design.Design, n int) *explore.Sample {
	t.Helper()
	s, err := explore.New(d, n, explore.DefaultSeed)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// reading is a reading of thrust and power with limits of ± 5 % on both.
func reading(thrust, power float64, place string) bench.Plateau {
	return bench.Plateau{
		Name: "the reading", PowerPlace: place, Held: quantity.Some(60),
		Figures: []bench.Figure{
			{Channel: bench.Thrust, Value: thrust, Limits: 0.05 * thrust, Repeat: 0.002 * thrust, Instrument: "hanging scale", Cleared: true},
			{Channel: bench.Power, Value: power, Limits: 0.05 * power, Repeat: 0.002 * power, Instrument: "controller", Cleared: true},
		},
	}
}

func verdict(t *testing.T, resistance, place, claimPlace string) ClaimVerdict {
	t.Helper()
	where := ""
	if claimPlace != "" {
		where = fmt.Sprintf("place = %q", claimPlace)
	}
	text := fmt.Sprintf(board, noCavitation, "open", fmt.Sprintf(withClaim, "at least", 1000.0, 11000.0, where))
	d, err := read(t, text).With("motor.winding_resistance", resistance)
	if err != nil {
		t.Fatal(err)
	}
	j, err := NewJudge(sample(t, d, 512), []Evidence{{Plateaus: []bench.Plateau{reading(450, 5000, place)}}}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	return j.Claim(d.Claims()[0])
}

// common practice, no source: with limits of ± 5 % on a thrust of 450 N and a power of 5 kW, in
// open water and without cavitation, "at least 1000 N at 11 kW" is refuted with both powers
// at the battery (about 761 N, 1.51 times the efficiency needed), unlikely with the reading
// at the battery and the claim at a shaft behind 85 % (a winding of 23 mΩ here), and open
// where no place is stated.
func TestVerdictCommonPractice(t *testing.T) {
	v := verdict(t, "1 mΩ", "battery", "battery")
	if v.Verdict != Refuted {
		t.Errorf("both at the battery: %s (%s), want refuted", v.Verdict, v.Why)
	}
	c := v.Cases[0]
	if f := c.Calibrated.Figure; math.Abs(f.Value/761-1) > 0.02 {
		t.Errorf("predicted %.0f N, want about 761 N", f.Value)
	}
	if r := c.Needs.Efficiency / c.Needs.Shown.Value; math.Abs(r-1.51) > 0.01 {
		t.Errorf("it needs %.3f times the efficiency shown, want 1.51", r)
	}
	if v = verdict(t, "23 mΩ", "battery", "shaft"); v.Verdict != Unlikely {
		t.Errorf("battery and shaft: %s (%s), want unlikely", v.Verdict, v.Why)
	}
	if v = verdict(t, "23 mΩ", "", ""); v.Verdict != Open {
		t.Errorf("places unstated: %s (%s), want open", v.Verdict, v.Why)
	}
	if len(v.Cases) != 9 {
		t.Errorf("%d cases for unstated places, want every pair of three", len(v.Cases))
	}
}

func TestDiscrepancyExact(t *testing.T) {
	for _, c := range []struct {
		p, h float64
		way  bool
		want float64
	}{{1000, 1000, false, 0}, {500, 1000, false, 0}, {2000, 1000, false, 0.08}, {4000, 1000, false, 0.13}, {900, 1000, true, 0.03}, {2000, 1000, true, 0.08}} {
		if got := Discrepancy(c.p, c.h, c.way); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("discrepancy %g at %g of %g (under way %v), want %g", got, c.p, c.h, c.way, c.want)
		}
	}
}

// truth draws a drive from the whole prior, calibration included, and reads it with drawn
// instrument errors.
type truth struct {
	machine *drive.Machine
	plateau []bench.Plateau
}

func drawTruth(d *design.Design, rng *rand.Rand, powers []float64, place string, stated bool) (truth, bool) {
	u := make([]float64, len(d.Uncertain()))
	for i := range u {
		u[i] = rng.Float64()
	}
	dr := d.Draw(u)
	dr.Calibration.LnHead = priorLnHead * rng.NormFloat64()
	dr.Calibration.LnPower = priorLnPower * rng.NormFloat64()
	m, err := dr.Resolve()
	if err != nil {
		return truth{}, false
	}
	return readOff(m, rng, powers, place, stated)
}

// readOff reads a drive at several powers with instruments that are drawn anew.
func readOff(m *drive.Machine, rng *rand.Rand, powers []float64, place string, stated bool) (truth, bool) {
	tr := truth{machine: m}
	scale, meter := 0.02*(2*rng.Float64()-1), 0.05*(2*rng.Float64()-1)
	at, _ := drive.Place(place)
	for i, p := range powers {
		s, err := m.Solve(drive.Condition{Demand: at, Amount: p, OnStand: true})
		if err != nil {
			return truth{}, false
		}
		thrust := s.Thrust * (1 + scale + 0.01*rng.NormFloat64())
		power := p * (1 + meter + 0.01*rng.NormFloat64())
		speed := s.RotorSpeed * (1 + 0.003*rng.NormFloat64())
		pl := bench.Plateau{Name: fmt.Sprintf("reading %d", i+1), Held: quantity.Some(60), Figures: []bench.Figure{
			{Channel: bench.Thrust, Value: thrust, Limits: 0.02 * thrust, Repeat: 0.01 * thrust, Instrument: "hanging scale", Cleared: true},
			{Channel: bench.Power, Value: power, Limits: 0.05 * power, Repeat: 0.01 * power, Instrument: "controller", Cleared: true},
			{Channel: bench.RotorSpeed, Value: speed, Limits: 0.005 * speed, Repeat: 0.003 * speed, Instrument: "controller speed", Cleared: true},
		}}
		if stated {
			pl.PowerPlace = place
		}
		tr.plateau = append(tr.plateau, pl)
	}
	return tr, true
}

// counts of a grid of synthetic claims.
type tally struct {
	claims, supported, supportedTrue, refuted, refutedTrue, clearCut, decided int
}

// grid judges claims against drives whose truth is known: drawn from the full prior with the
// discrepancy, claims from well below to well above the truth.
func grid(t testing.TB, n int, cavitation string, stated bool) tally {
	rng := rand.New(rand.NewPCG(11, 7))
	var c tally
	places := []string{"battery", "shaft"}
	ratios := []float64{0.5, 0.65, 0.78, 0.86, 0.92, 0.97, 1.03, 1.08, 1.15, 1.3, 1.6, 2.0}
	for i := 0; c.claims < n; i++ {
		text := fmt.Sprintf(board, cavitation, "open", "")
		d := read(t, text)
		place := places[rng.IntN(2)]
		powers := [][]float64{{2500}, {1200, 2400, 3600}, {1500, 3000, 4500, 5500}}[rng.IntN(3)]
		tr, ok := drawTruth(d, rng, powers, place, stated)
		if !ok {
			continue
		}
		claimPlace := places[rng.IntN(2)]
		at, _ := drive.Place(claimPlace)
		power := powers[len(powers)-1] * (1.2 + 1.3*rng.Float64())
		s, err := tr.machine.Solve(drive.Condition{Demand: at, Amount: power})
		if err != nil {
			continue
		}
		j, err := NewJudge(sample(t, d, 256), []Evidence{{Plateaus: tr.plateau}}, Options{Draws: 256})
		if err != nil {
			t.Fatalf("claim %d: %v", i, err)
		}
		sd := Discrepancy(s.BatteryPower, j.highestBattery(tr.machine, place), false)
		thrust := s.Thrust * math.Exp(2.0/3.0*sd*rng.NormFloat64())
		for _, ratio := range ratios {
			claim := design.Claim{What: "thrust", Sense: "at least", Value: ratio * thrust, Power: power, Place: claimPlace}
			if !stated {
				claim.Place = ""
			}
			v := j.Claim(claim)
			holds := thrust >= claim.Value
			c.claims++
			switch v.Verdict {
			case Supported:
				c.supported++
				if holds {
					c.supportedTrue++
				}
			case Refuted:
				c.refuted++
				if holds {
					c.refutedTrue++
				}
			}
			if ratio < 0.7 || ratio > 1.5 {
				c.clearCut++
				if v.Verdict == Supported || v.Verdict == Refuted || v.Verdict == Unlikely {
					c.decided++
				}
			}
		}
	}
	return c
}

// band is the largest count of n that a probability p gives in all but one in a thousand cases.
func band(n int, p float64) float64 { return float64(n)*p + 3.1*math.Sqrt(float64(n)*p*(1-p)) }

// Supported claims are true at least nine times in ten and refuted ones at most one time in
// twenty, over claims × readings × places with the truth drawn from the whole prior; with
// places stated and without cavitation nearly all clear-cut claims are decided.
func TestVerdictGridLaw(t *testing.T) {
	n := 208
	if os.Getenv("JETWRIGHT_SLOW") != "" {
		n = 1600
	}
	for _, k := range []struct {
		name, cavitation string
		stated           bool
	}{{"no cavitation, places stated", noCavitation, true}, {"cavitation, places stated", "", true}, {"cavitation, places unstated", "", false}} {
		c := grid(t, n, k.cavitation, k.stated)
		t.Logf("%s: %+v", k.name, c)
		if wrong := float64(c.supported - c.supportedTrue); wrong > band(c.supported, 0.10) {
			t.Errorf("%s: %.0f of %d supported claims are false", k.name, wrong, c.supported)
		}
		if float64(c.refutedTrue) > band(c.refuted, 0.05) {
			t.Errorf("%s: %d of %d refuted claims are true", k.name, c.refutedTrue, c.refuted)
		}
		if k.stated && k.cavitation != "" && float64(c.decided) < 0.8*float64(c.clearCut) {
			t.Errorf("%s: %d of %d clear-cut claims are decided", k.name, c.decided, c.clearCut)
		}
		if c.supported == 0 || c.refuted == 0 {
			t.Errorf("%s: nothing was supported or nothing refuted: %+v", k.name, c)
		}
	}
}

// A calibrated drive meets its readings, and the truth lies in the interval about as often as
// the interval says.
func TestCalibrateLaw(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 5))
	d := read(t, fmt.Sprintf(board, "", "open", ""))
	prior := sample(t, d, 256)
	inside, n := 0, 0
	for n < 40 {
		tr, ok := drawTruth(d, rng, []float64{1500, 3000, 4500}, "battery", true)
		if !ok {
			continue
		}
		f, err := Calibrate(prior, []Evidence{{Plateaus: tr.plateau}}, Options{Draws: 256})
		if err != nil {
			t.Fatal(err)
		}
		c := drive.Condition{Demand: drive.BatteryPower, Amount: 3000, OnStand: true}
		s, err := tr.machine.Solve(c)
		if err != nil {
			t.Fatal(err)
		}
		n++
		x := f.Ask(c, func(s *drive.State) float64 { return s.Thrust })
		if s.Thrust >= x.Low && s.Thrust <= x.High {
			inside++
		}
		if f.Numbers != 2 {
			t.Errorf("thrust, power and speed at rest told %d numbers apart, want 2", f.Numbers)
		}
		if f.ChiSquare > 30 {
			t.Errorf("χ² %g over %d figures", f.ChiSquare, f.Residuals)
		}
	}
	if p := float64(inside) / float64(n); p < 0.78 {
		t.Errorf("the truth lay in the 90 %% interval in %.0f %% of %d cases", 100*p, n)
	}
}

// Readings that agree raise no word; one that does not belong does.
func TestMisfitIsSaid(t *testing.T) {
	d := read(t, fmt.Sprintf(board, noCavitation, "open", ""))
	s := sample(t, d, 32)
	at := func(k float64) *Fit {
		p := []bench.Plateau{reading(200, 1900, "battery"), reading(300, 3500, "battery"), reading(400*k, 5400, "battery")}
		for i := range p {
			for j := range p[i].Figures {
				p[i].Figures[j].Repeat = 0.01 * p[i].Figures[j].Value
			}
		}
		f, err := Calibrate(s, []Evidence{{Plateaus: p}}, Options{Draws: 32})
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	if f := at(1); len(f.Notices) != 0 {
		t.Errorf("readings that agree: %v", f.Notices)
	}
	if f := at(1.4); len(f.Notices) == 0 || f.Notices[0].Kind != notice.Warning {
		t.Errorf("a reading 40 %% too high passes without a word: χ² %g", f.ChiSquare)
	}
}

// In a tub or pool the scale shows less than the jet makes, by 0 to 8 %, never more; in open
// water it does not.
func TestTubOneSided(t *testing.T) {
	thrust := func(water string) explore.Figure {
		d := read(t, fmt.Sprintf(board, noCavitation, water, ""))
		f, err := Calibrate(sample(t, d, 256), []Evidence{{Plateaus: []bench.Plateau{reading(300, 3500, "battery")}}}, Options{})
		if err != nil {
			t.Fatal(err)
		}
		return f.Ask(drive.Condition{Demand: drive.BatteryPower, Amount: 3500, OnStand: true}, func(s *drive.State) float64 { return s.Thrust })
	}
	open, tub, pool := thrust("open"), thrust("tub"), thrust("pool")
	if r := tub.Value / open.Value; r < 1.005 || r > 1.08 {
		t.Errorf("a tub moves the calibrated thrust by a factor of %.3f, want a little above 1", r)
	}
	if tub.Low < open.Low-1 || tub.High < open.High {
		t.Errorf("tub %+v, open water %+v: the tub may only raise it", tub, open)
	}
	if pool != tub {
		t.Errorf("pool %+v, tub %+v", pool, tub)
	}
}

// The carriage holds back on the way up and holds on on the way down, so the same pull means
// more thrust on the way up.
func TestCarriageDirection(t *testing.T) {
	thrust := func(direction string) float64 {
		d := read(t, fmt.Sprintf(board, noCavitation, "open", ""))
		p := reading(300, 3500, "battery")
		p.Figures[0].Assumed, p.Figures[0].Limits, p.Direction = true, 1, direction
		f, err := Calibrate(sample(t, d, 64), []Evidence{{Plateaus: []bench.Plateau{p}}}, Options{Draws: 64})
		if err != nil {
			t.Fatal(err)
		}
		s, err := f.Machine.Solve(drive.Condition{Demand: drive.BatteryPower, Amount: 3500, OnStand: true})
		if err != nil {
			t.Fatal(err)
		}
		return s.Thrust
	}
	up, none, down := thrust("up"), thrust(""), thrust("down")
	if !(up > none+1 && none > down+1) {
		t.Errorf("up %.1f N, unsaid %.1f N, down %.1f N", up, none, down)
	}
}

// What a reading says of one place is not taken for another: the same figures at the shaft are a
// worse drive than at the battery.
func TestPlaceOfPower(t *testing.T) {
	d := read(t, fmt.Sprintf(board, noCavitation, "open", ""))
	s := sample(t, d, 64)
	c := drive.Condition{Demand: drive.BatteryPower, Amount: 4000, OnStand: true}
	thrust := map[string]float64{}
	for _, place := range places {
		f, err := Calibrate(s, []Evidence{{Plateaus: []bench.Plateau{reading(300, 3500, place)}}}, Options{Draws: 64})
		if err != nil {
			t.Fatal(err)
		}
		st, err := f.Machine.Solve(c)
		if err != nil {
			t.Fatal(err)
		}
		thrust[place] = st.Thrust
	}
	if !(thrust["battery"] > thrust["controller"] && thrust["controller"] > thrust["shaft"]) {
		t.Errorf("thrust at one battery power, by the place of the reading: %v", thrust)
	}
}

// The verdicts by their probabilities, with the discrepancy doubled and the wide "about".
func TestDecideExact(t *testing.T) {
	least := design.Claim{Sense: "at least", Value: 100}
	about := design.Claim{Sense: "about", Value: 100, Tolerance: 0.1}
	at := func(p float64, low, high float64) Predicted {
		return Predicted{Probability: p, Draws: 10, Figure: explore.Figure{Value: (low + high) / 2, Low: low, High: high}}
	}
	for _, c := range []struct {
		claim   design.Claim
		p, wide Predicted
		want    Verdict
	}{
		{least, at(0.90, 0, 0), at(0.8, 0, 0), Supported},
		{least, at(0.89, 0, 0), at(0.8, 0, 0), Open},
		{least, at(0.26, 0, 0), at(0.3, 0, 0), Open},
		{least, at(0.25, 0, 0), at(0.3, 0, 0), Unlikely},
		{least, at(0.05, 0, 0), at(0.06, 0, 0), Unlikely},
		{least, at(0.05, 0, 0), at(0.05, 0, 0), Refuted},
		{about, at(0.5, 80, 130), at(0.5, 70, 140), Open},
		{about, at(0.02, 109, 140), at(0.04, 100, 150), Open},    // wider than the tolerance, and it overlaps
		{about, at(0.02, 111, 140), at(0.04, 105, 150), Refuted}, // wider, but beyond it
		{about, at(0.95, 92, 108), at(0.9, 90, 110), Supported},
	} {
		if got, why := decide(c.claim, c.p, c.wide); got != c.want {
			t.Errorf("%+v, %+v: %s (%s), want %s", c.claim, c.p, got, why, c.want)
		}
	}
}

// holds is the normal probability in logarithms for each sense.
func TestHoldsExact(t *testing.T) {
	for _, c := range []struct {
		sense     string
		v, sd     float64
		want, eps float64
	}{
		{"at least", 100, 0, 1, 0},
		{"at least", 99.9, 0, 0, 0},
		{"at most", 99.9, 0, 1, 0},
		{"at least", 100, 0.1, 0.5, 1e-12},
		{"at least", 100 * math.Exp(0.1), 0.1, 0.8413447460685429, 1e-9},
		{"at most", 100 * math.Exp(0.1), 0.1, 1 - 0.8413447460685429, 1e-9},
		{"about", 100, 0, 1, 0},
		{"about", 111, 0, 0, 0},
	} {
		claim := design.Claim{Sense: c.sense, Value: 100, Tolerance: 0.1}
		if got := holds(claim, c.v, c.sd, math.Inf(1)); math.Abs(got-c.want) > c.eps {
			t.Errorf("%s: %g with %g gives %g, want %g", c.sense, c.v, c.sd, got, c.want)
		}
	}
}

func TestNextStepRules(t *testing.T) {
	full := func(power, scale float64) Ladder {
		p := reading(100*math.Pow(power/1000, 2.0/3.0), power, "battery")
		n := 200 * math.Cbrt(power/1000)
		p.Figures = append(p.Figures,
			bench.Figure{Channel: bench.RotorSpeed, Value: n * scale, Repeat: 0.003 * n, Cleared: true},
			bench.Figure{Channel: bench.PhaseCurrent, Value: 50 * n * n / 4e4, Repeat: 0.05 * n * n / 4e4, Cleared: true},
			bench.Figure{Channel: bench.BatteryVoltage, Value: 50, Cleared: true},
			bench.Figure{Channel: bench.WindingTemperature, Value: 300, Cleared: true},
			bench.Figure{Channel: bench.BridgeTemperature, Value: 300, Cleared: true})
		return Ladder{Plateau: p, Coefficients: bench.Similarity(p, 0.1, 0.003, 1000)}
	}
	same := []Ladder{full(1000, 1), full(1500, 1), full(2000, 1)}
	if n := Next(same); !n.Allowed || math.Abs(n.Power-2500) > 1e-9 {
		t.Errorf("a clean ladder: %+v, want 2500 W", n)
	}
	if n := Next([]Ladder{full(1000, 1), full(1500, 1), full(2000, 1.05)}); !n.Allowed || math.Abs(n.Power-2200) > 1e-9 {
		t.Errorf("a moved coefficient: %+v, want 2200 W", n)
	}
	if n := Next(same[2:]); !n.Allowed || math.Abs(n.Power-2200) > 1e-9 {
		t.Errorf("one reading: %+v, want 2200 W", n)
	}
	loose := full(2000, 1)
	loose.Plateau.Held = quantity.Optional{}
	if n := Next([]Ladder{same[0], same[1], loose}); !n.Allowed || math.Abs(n.Power-2200) > 1e-9 {
		t.Errorf("not held: %+v, want 2200 W", n)
	}
	blind := full(2000, 1)
	blind.Plateau.Figures = blind.Plateau.Figures[:5]
	if n := Next([]Ladder{same[0], blind}); n.Allowed || len(n.Missing) != 2 {
		t.Errorf("two channels unwatched: %+v, want none", n)
	}
	shiny := full(2000, 1)
	for i := range shiny.Plateau.Figures {
		if shiny.Plateau.Figures[i].Channel == bench.WindingTemperature {
			shiny.Plateau.Figures[i].Cleared = false
		}
	}
	if n := Next([]Ladder{same[0], same[1], shiny}); n.Allowed {
		t.Errorf("infrared on bare metal: %+v, want none", n)
	}
	other := full(1900, 1)
	other.Plateau.PowerPlace = "shaft"
	other.Coefficients.Power.Value *= 1.2 // another place, another coefficient
	if n := Next([]Ladder{same[0], same[1], other, same[2]}); !n.Allowed || math.Abs(n.Power-2500) > 1e-9 {
		t.Errorf("a power at another place among the steps: %+v, want 2500 W", n)
	}
	if n := Next(nil); n.Allowed {
		t.Error("no reading allows a step")
	}
}

// A promise that breaks momentum, one that asks for more than any pump gives, and a sound
// one, told apart.
func TestExamine(t *testing.T) {
	d := read(t, fmt.Sprintf(board, "", "open", ""))
	s := sample(t, d, 0)
	grade := func(c design.Claim, topic string) Grade {
		for _, f := range Examine(s, c).Findings {
			if f.Topic == topic {
				return f.Grade
			}
		}
		return ""
	}
	c := design.Claim{What: "thrust", Sense: "at least", Value: 600, Power: 9000, Place: "shaft"}
	a := math.Pi / 4 * 0.066 * 0.066
	c.Flow = quantity.Some(math.Sqrt(600 * a / 1000))
	if g := grade(c, "momentum"); g != Sound {
		t.Errorf("a flow that carries the thrust is %q", g)
	}
	c.Flow.Value *= 0.8
	if g := grade(c, "momentum"); g != Breaks {
		t.Errorf("a flow that cannot carry the thrust is %q", g)
	}
	c.Power = 600 * math.Sqrt(600/(1000*a)) / 2 / 0.9 // 90 % static efficiency
	if g := grade(c, "pump efficiency"); g != Breaks {
		t.Errorf("a static efficiency of 0.9 asks of the pump what is %q", g)
	}
	c.Place = ""
	if g := grade(c, "place of power"); g != Unsaid {
		t.Errorf("no place is %q", g)
	}
	no := false
	c.MeshStudy = &no
	if g := grade(c, "mesh"); g != Doubtful {
		t.Errorf("no mesh study is %q", g)
	}
	c.Value, c.Power = 1600, 60000
	if g := grade(c, "cavitation"); g == Sound {
		t.Errorf("1600 N from a 66 mm nozzle is %q", g)
	}
}

func BenchmarkCalibrate(b *testing.B) {
	d := read(b, fmt.Sprintf(board, "", "open", ""))
	s := sample(b, d, 512)
	tr, _ := drawTruth(d, rand.New(rand.NewPCG(1, 2)), []float64{1500, 3000, 4500}, "battery", true)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Calibrate(s, []Evidence{{Plateaus: tr.plateau}}, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

// Readings in another unit, of the field's turns, or on each other's place are named for what they
// look like; sound ones are left alone.
func TestSuspicionsLaw(t *testing.T) {
	d := read(t, fmt.Sprintf(board, noCavitation, "open", ""))
	m := sample(t, d, 0).Nominal
	ladder := func(change func(*bench.Figure)) []Evidence {
		var list []bench.Plateau
		for _, w := range []float64{1000, 2000, 3500} {
			s, err := m.Solve(drive.Condition{OnStand: true, Demand: drive.BatteryPower, Amount: w})
			if err != nil {
				t.Fatal(err)
			}
			p := bench.Plateau{Run: "day", PowerPlace: "battery", Convention: "rms", Held: quantity.Some(200)}
			for c, v := range map[bench.Channel]float64{
				bench.Power: w, bench.Thrust: 0.95 * s.Thrust, bench.RotorSpeed: 1.02 * s.RotorSpeed, bench.BatteryVoltage: s.Supply.BatteryVoltage,
				bench.WindingTemperature: s.Motor.WindingTemperature, bench.BridgeTemperature: s.Heat.BridgeTemperature,
			} {
				f := bench.Figure{Channel: c, Value: v, Repeat: 0.01 * v, Cleared: true}
				change(&f)
				p.Figures = append(p.Figures, f)
			}
			list = append(list, p)
		}
		return []Evidence{{Plateaus: list}}
	}
	scale := func(c bench.Channel, k float64) func(*bench.Figure) {
		return func(f *bench.Figure) {
			if f.Channel == c {
				f.Value *= k
			}
		}
	}
	for _, c := range []struct {
		name   string
		change func(*bench.Figure)
		says   string
	}{
		{"sound", func(*bench.Figure) {}, ""},
		{"a third more", scale(bench.Thrust, 1.33), ""},
		{"kgf as N", scale(bench.Thrust, 1/9.80665), "kgf taken for N"},
		{"lbf as N", scale(bench.Thrust, 1/4.4482216), "lbf taken for N"},
		{"N as kgf", scale(bench.Thrust, 9.80665), "N taken for kgf"},
		{"five pole pairs", scale(bench.RotorSpeed, 5), "5 pole pairs"},
		{"a winding in Fahrenheit", func(f *bench.Figure) {
			if f.Channel == bench.WindingTemperature {
				f.Value = 273.15 + 32 + 1.8*(f.Value-273.15)
			}
		}, "degrees Fahrenheit"},
		{"a winding that does not warm", func(f *bench.Figure) {
			if f.Channel == bench.WindingTemperature {
				f.Value = 290
			}
		}, "where the losses make"},
	} {
		said := Suspicions(m, ladder(c.change))
		if c.says == "" && len(said) > 0 || c.says != "" && (len(said) != 1 || !strings.Contains(said[0].What, c.says)) {
			t.Errorf("%s: %v", c.name, said)
		}
	}
}
