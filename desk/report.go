package desk

import (
	_ "embed"
	"encoding/json"
	"path/filepath"
	"sort"
	"strings"
	"sync"

	"jetwright/bench"
	"jetwright/design"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/project"
	"jetwright/quantity"
	"jetwright/reckon"
)

// ReportAnswer is all that the page about a drive holds.
type ReportAnswer struct {
	*ReckonAnswer
	Name     string             // of the folder
	Curves   []Curve            // one for each place at which powers were read, that of the highest reading first
	Powers   []Powers           // of each plateau
	Sources  []Source           // that the figures rest on
	Steps    []*reckon.LeaveOut // each step of the ladder predicted from those below it
	Heat     *HeatAnswer
	Ride     *RideAnswer // nil where the craft is not typed
	Motor    *MotorAnswer
	Blades   *BladesRoomAnswer // nil without own blades
	Ranking  *reckon.Ranking
	Battery  *BatteryAnswer
	Strength *StrengthAnswer
	Warm     map[string]*WarmDay // how temperatures followed the heat, by run
}

// Curve is thrust at rest over the power at one place.
type Curve struct {
	Place  string // battery, controller or shaft
	Unsaid bool   // readings among its own do not say where their power was read
	Points []CurvePoint
	Claims []ClaimMark
	Absent []string // claims that cannot be put beside it, with the reason
}

// CurvePoint is the thrust at one power, before any reading and calibrated.
type CurvePoint struct {
	Power         float64 // W
	Before, After Figure
	Without       Figure // calibrated, nothing new assumed beyond the tested powers
	HasBefore     bool   // most drives have a state there
	HasAfter      bool
}

// ClaimMark is a claim as a point beside a curve.
type ClaimMark struct {
	Claim   design.Claim
	Place   string // that it was claimed at, or is taken to be
	Claimed Figure // power at that place
	Power   Figure // at the curve's place
	Thrust  Figure
	Moved   bool // the power is the calibrated drive's own, since the claim's is at another place
}

// Powers are what a plateau's power is at the battery and at the shaft by the calibrated
// drive; without a fit or without a state they have no value.
type Powers struct {
	Battery, Shaft Figure
	Known          bool
}

// Source is an entry of the bibliography.
type Source struct {
	Key, Author, Title, Year, Note string
}

// curvePoints is about how many powers a curve has.
const curvePoints = 16

// Reckoned is a report without temperatures over time and without the motor's map.
func Reckoned(p *project.Project, o Options) (*ReportAnswer, error) {
	r, err := Reckon(p, o)
	if err != nil {
		return nil, err
	}
	a := &ReportAnswer{ReckonAnswer: r, Name: folderName(p.Folder)}
	for _, place := range readingPlaces(r) {
		a.Curves = append(a.Curves, a.curve(place))
	}
	for _, pl := range r.Plateaus {
		a.Powers = append(a.Powers, a.powers(pl.Plateau))
	}
	a.Sources = sourcesOf(r)
	best := a.judge.Calibrated(a.readingPlace())
	name, speed := usualAim(&best.Nominal.Drive)
	if a.Ranking, err = rank(best, name, speed); err != nil {
		a.Ranking = nil
		a.Notices = append(a.Notices, asWarnings(err, "changes are not ranked")...)
	}
	return a, nil
}

// Report answers with everything that the page about a drive shows.
func Report(p *project.Project, o Options) (*ReportAnswer, error) {
	sampled := o
	sampled.Sampled = !o.Nominal && !o.Gaussian
	a, err := Reckoned(p, sampled)
	if err != nil {
		return nil, err
	}
	if !o.Nominal {
		a.Steps = a.judge.EachFromBelow(reckon.Options{Draws: DrawsAPoint})
	}
	if a.Heat, err = Heat(p, HeatFlags{}, Options{Nominal: o.Nominal, Draws: min(o.draws(reportMarches), reportMarches), Seed: o.Seed}); err != nil {
		a.Heat = nil
		a.Notices = append(a.Notices, asWarnings(err, "temperatures over time are left out")...)
	}
	if nominal := p.Design.Nominal(); len(nominal.Craft.Lacks()) == 0 {
		if a.Ride, err = OnWater(p, RideFlags{}, Options{Nominal: o.Nominal, Draws: min(o.draws(reportMarches), reportMarches), Seed: o.Seed}); err != nil {
			a.Ride = nil
			a.Notices = append(a.Notices, asWarnings(err, "the ride is left out")...)
		}
	}
	a.Warm = map[string]*WarmDay{}
	for _, day := range a.Days {
		if m, err := dayMachine(p, day.Run); err == nil {
			a.Warm[day.Run] = warmDay(p, day, m)
		}
	}
	if a.Motor, err = Motor(p, Options{Nominal: o.Nominal, Draws: min(o.draws(DrawsAPoint), DrawsAPoint), Seed: o.Seed}); err != nil {
		return nil, err
	}
	if a.Strength, err = Strength(p, Options{Nominal: o.Nominal, Draws: min(o.draws(DrawsAPoint), DrawsAPoint), Seed: o.Seed}); err != nil {
		return nil, err
	}
	if a.Battery, err = Battery(p, Options{Nominal: o.Nominal, Draws: min(o.draws(reportMarches), reportMarches), Seed: o.Seed}); err != nil {
		return nil, err
	}
	if p.Design.Bladed() {
		if a.Blades, err = BladesRoom(p, Options{Nominal: o.Nominal, Draws: min(o.draws(DrawsAPoint), DrawsAPoint), Seed: o.Seed}); err != nil {
			a.Blades = nil
			a.Notices = append(a.Notices, asWarnings(err, "the blades are left out")...)
		}
	}
	return a, nil
}

// reportMarches is how many drawn drives the page marches through time, what-ifs and all; jetwright heat
// marches more.
const reportMarches = 48

// folderName is the last word of a folder's path, also where it is given as a dot.
func folderName(folder string) string {
	if full, err := filepath.Abs(folder); err == nil {
		return filepath.Base(full)
	}
	return filepath.Base(folder)
}

// unsaidPlace is taken where a power does not say its place.
const unsaidPlace = "battery"

func placeOf(p bench.Plateau) string {
	if p.PowerPlace == "" {
		return unsaidPlace
	}
	return p.PowerPlace
}

// readingPlaces are the places at which powers were read, that of the highest first; the
// battery where there is none.
func readingPlaces(r *ReckonAnswer) []string {
	most := map[string]float64{}
	for _, pl := range r.Plateaus {
		if w, ok := pl.Plateau.Figure(bench.Power); ok {
			most[placeOf(pl.Plateau)] = max(most[placeOf(pl.Plateau)], w.Value)
		}
	}
	if len(most) == 0 {
		return []string{unsaidPlace}
	}
	var list []string
	for place := range most {
		list = append(list, place)
	}
	sort.Slice(list, func(a, b int) bool {
		if most[list[a]] != most[list[b]] {
			return most[list[a]] > most[list[b]]
		}
		return list[a] < list[b]
	})
	return list
}

// readingPlace is what the judge takes for readings that do not say their place.
func (a *ReportAnswer) readingPlace() string {
	for _, place := range []string{"", unsaidPlace} {
		if a.judge.Fits[place] != nil {
			return place
		}
	}
	return ""
}

// curve predicts thrust over power at a place, so far as readings, design point and claims
// reach.
func (a *ReportAnswer) curve(place string) Curve {
	c := Curve{Place: place}
	demand, _ := drive.Place(place)
	top := a.State.Of(map[string]string{"battery": "battery_power", "controller": "controller_power", "shaft": "shaft_power"}[place]).Value
	for _, pl := range a.Plateaus {
		w, ok := pl.Plateau.Figure(bench.Power)
		if !ok || placeOf(pl.Plateau) != place {
			continue
		}
		top = max(top, w.Value)
		c.Unsaid = c.Unsaid || pl.Plateau.PowerPlace == ""
	}
	for _, v := range a.Claims {
		a.markClaim(&c, v)
	}
	for _, m := range c.Claims {
		top = max(top, m.Power.Value)
	}
	newton := quantity.MustUnit("N")
	figure := func(p reckon.Predicted) (Figure, bool) {
		f := Figure{Path: "thrust", Value: p.Figure.Value, Low: p.Figure.Low, High: p.Figure.High, Unit: newton}
		return f, p.Figure.Value > 0 && 2*p.Without <= p.Draws
	}
	for i := 1; i <= curvePoints; i++ {
		// closer together where the curve bends
		x := float64(i) / curvePoints
		pt := CurvePoint{Power: 1.06 * top * x * (0.25 + 0.75*x)}
		before, after := a.judge.Thrust(drive.Condition{Demand: demand, Amount: pt.Power}, a.readingPlace(), DrawsAPoint)
		pt.Before, pt.HasBefore = figure(before)
		pt.After, pt.HasAfter = figure(after)
		pt.HasAfter = pt.HasAfter && a.Fit != nil
		if pt.HasAfter {
			pt.Without, _ = figure(a.judge.ThrustWithout(drive.Condition{Demand: demand, Amount: pt.Power}, a.readingPlace(), DrawsAPoint))
		}
		c.Points = append(c.Points, pt)
	}
	return c
}

// markClaim puts a claim beside a curve if it is about thrust and power at rest: at the power
// that it says, or, where that is at another place, at what the calibrated drive takes there.
func (a *ReportAnswer) markClaim(c *Curve, v reckon.ClaimVerdict) {
	claim := v.Claim
	thrust, power := claim.Value, claim.Power
	if claim.What == "power" {
		thrust, power = claim.Thrust, claim.Value
	}
	name := claim.What + " " + claim.Sense + " " + claim.Text
	switch {
	case claim.What != "thrust" && claim.What != "power":
		c.Absent = append(c.Absent, name+" is not about thrust and power")
		return
	case claim.Speed > 0:
		c.Absent = append(c.Absent, name+" is claimed under way")
		return
	case thrust <= 0 || power <= 0:
		return
	}
	var places []string
	for _, k := range v.Cases {
		if len(places) == 0 || places[len(places)-1] != k.ClaimPlace {
			places = append(places, k.ClaimPlace)
		}
	}
	for i, place := range places {
		if at := indexOf(places, place); at < i {
			continue
		}
		watt, newton := quantity.MustUnit("W"), quantity.MustUnit("N")
		m := ClaimMark{
			Claim: claim, Place: place, Power: Figure{Value: power, Low: power, High: power, Unit: watt},
			Thrust: Figure{Value: thrust, Low: thrust, High: thrust, Unit: newton},
		}
		if claim.Sense == "about" {
			f := &m.Thrust
			if claim.What == "power" {
				f = &m.Power
			}
			f.Low, f.High = claim.Low(), claim.High()
		}
		m.Claimed = Figure{Value: power, Low: power, High: power, Unit: watt}
		if place != c.Place {
			demand, _ := drive.Place(place)
			x := a.judge.PowersAt([]string{c.Place}, drive.Condition{Demand: demand, Amount: power}, a.readingPlace(), explore.DefaultDraws)[0]
			if !(x.Value > 0) {
				c.Absent = append(c.Absent, name+": the calibrated drive has no state at its power, so its power at the "+c.Place+" is not known")
				continue
			}
			m.Power, m.Moved = Figure{Value: x.Value, Low: x.Low, High: x.High, Unit: watt}, true
		}
		c.Claims = append(c.Claims, m)
	}
}

func indexOf(list []string, word string) int {
	for i, w := range list {
		if w == word {
			return i
		}
	}
	return -1
}

// powers asks the calibrated drive what a plateau's power is at battery and shaft.
func (a *ReportAnswer) powers(p bench.Plateau) Powers {
	var out Powers
	if _, ok := p.Figure(bench.Power); !ok || a.Fit == nil {
		return out
	}
	c, ok := reckon.ReadingCondition(p, unsaidPlace)
	if !ok || c.Demand == drive.RotorSpeed {
		return out
	}
	list := a.judge.PowersAt([]string{"battery", "shaft"}, c, a.readingPlace(), DrawsAPoint)
	if !(list[0].Value > 0 && list[1].Value > 0) {
		return out
	}
	watt := quantity.MustUnit("W")
	figure := func(f explore.Figure) Figure {
		return Figure{Value: f.Value, Low: f.Low, High: f.High, Unit: watt}
	}
	return Powers{Battery: figure(list[0]), Shaft: figure(list[1]), Known: true}
}

// sourcesFile is gathered from docs/sources.bib; a test proves it fresh.
//
//go:embed sources.json
var sourcesFile []byte

// Sources returns the bibliography.
var Sources = sync.OnceValue(func() []Source {
	var s []Source
	if err := json.Unmarshal(sourcesFile, &s); err != nil {
		panic("sources.json does not read: " + err.Error()) // held by TestSourcesFresh
	}
	return s
})

// reportFigures are the figures of a state whose formulas stand behind the page.
var reportFigures = []string{
	"thrust", "battery_power", "shaft_power", "static_efficiency", "jet.flow", "jet.head", "jet.pump_efficiency", "jet.suction_specific_speed",
	"jet.npsh_available", "jet.intake_loss", "jet.cavitation_loss", "motor.phase_current_rms", "motor.copper_loss", "motor.no_load_loss",
	"motor.winding_temperature", "supply.battery_voltage", "supply.conduction_loss", "supply.switching_loss", "heat.bridge_temperature",
}

// sourcesOf returns the sources that a reckoning rests on: of its formulas, of what was
// assumed, of limits, instruments and cautions.
func sourcesOf(r *ReckonAnswer) []Source {
	used := map[string]bool{}
	use := func(text string) {
		for _, word := range strings.Split(text, ",") {
			used[strings.TrimSpace(word)] = true
		}
	}
	cards := map[string]Card{}
	for _, c := range Cards() {
		cards[c.Name] = c
	}
	for _, path := range reportFigures {
		for _, name := range cardsOf[path] {
			use(cards[name].Source)
		}
	}
	for _, in := range r.Assumptions {
		use(in.Field.Source)
	}
	for _, l := range r.Limits {
		use(l.Source)
	}
	for _, c := range r.Cautions {
		use(c.Source)
	}
	for _, pl := range r.Plateaus {
		for _, f := range pl.Plateau.Figures {
			if i, ok := bench.InstrumentNamed(f.Instrument); ok && f.Assumed {
				use(i.Source)
			}
		}
	}
	if r.Fit != nil {
		for _, name := range []string{"reckon.Calibrate", "reckon.Fit.Sampled", "reckon.LeaveHighestOut", "reckon.Judge.Teach"} {
			use(cards[name].Source)
		}
	}
	for _, d := range r.Days {
		if len(d.Clocks) > 0 {
			use(cards["bench.FindClock"].Source)
		}
	}
	var out []Source
	for _, s := range Sources() {
		if used[s.Key] {
			out = append(out, s)
		}
	}
	return out
}
