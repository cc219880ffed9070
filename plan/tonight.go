package plan

import (
	"fmt"
	"math"
	"regexp"
	"sort"
	"strings"

	"jetwright/bench"
	"jetwright/explore"
	"jetwright/physics/strength"
	"jetwright/quantity"
	"jetwright/reckon"
)

// Where an act is done.
const (
	OnBench    = "bench"
	InWorkshop = "workshop"
	AtDesk     = "desk"
)

// Hours of one's own time that acts are taken to need: stated assumptions of our own, shown beside each.
const (
	hoursFirstLadder = 4.0 // set up, zero windows, a ladder, clear away
	hoursStep        = 2.5 // the same with a stand that stands, a few repeats and one step
	hoursMeter       = 2.0 // another scale and meter at one power
	hoursRepeat      = 0.2 // each plateau beyond the first
	hoursSensor      = 1.0 // look, change, check in warm water
	hoursSecond      = 0.5 // read one instrument against another
	hoursTyped       = 0.2 // look up and type what a sheet says
	hoursSpin        = 3   // build the guard, run up in steps, look
	hoursMeasured    = 0.5 // measure one number on the parts
	hoursFreeze      = 0.1
	hoursLimit       = 1.5 // think a broken limit through with rank and limits
)

// changeHours are those of a change, by where it is done.
var changeHours = map[string]struct {
	where string
	hours float64
}{
	"workshop": {InWorkshop, 3},
	"printer":  {InWorkshop, 2.5}, // drawing, cleaning up, fitting; the print runs alone
	"order":    {AtDesk, 2},       // choosing and ordering, fitting it when it comes
	"bench":    {OnBench, 0.5},
}

// Worth of acts that neither narrow nor gain by themselves, as a share of the aim. Our own.
const (
	worthLimit  = 0.01  // a limit that is judged from then on
	worthFreeze = 0.002 // a measurement that can be held against what comes
)

// measurable are numbers that a builder measures on what stands there, with how.
var measurable = map[string]string{
	"intake.throat_area": "cut a paper template of the throat and weigh or count it", "intake.throat_area_ratio": "cut a paper template of the throat and type intake.throat_area",
	"intake.hull_ahead": "measure the wetted hull ahead of the intake", "shaft.seal_torque": "turn the shaft with a spring scale on a lever",
	"shaft.height": "measure the shaft line against the waterline", "motor.winding_resistance": "measure it with 10 A and two multimeters, line to line",
	"motor.speed_constant": "spin the motor with a drill and read its voltage", "motor.no_load_current": "run the motor alone and read current, voltage and speed",
	"battery.cell_resistance": "read the pack's voltage with and without a known load", "battery.charge": "read the pack's voltage at rest",
	"battery.temperature": "put a thermometer on the cells", "battery.wiring_resistance": "read the drop over the cable at a known current",
	"battery.joint_resistance": "read the drop over the joints at a known current", "water.temperature": "put a thermometer in the water",
	"nozzle.diameter": "measure the bore with a bore gauge", "impeller.diameter": "measure the impeller with a caliper", "nozzle.contraction": "measure the land of the outlet",
	"stand.shaft_height": "measure the shaft line against the water on the stand", "cooling.tap_diameter": "measure the hose's bore with a drill shank",
}

// TonightInput is what the acts are chosen from.
type TonightInput struct {
	Limits   []explore.JudgedLimit // at the duty
	Rule     reckon.NextStep
	Reach    *Reach
	Doubts   []RunDoubt
	Strained []reckon.Strain
	First    *reckon.StepLesson // of a first ladder; nil once something was measured
	Step     *reckon.StepLesson // of the next step, or of the one that would be allowed with every channel read
	Fresh    *reckon.StepLesson // of one power read by another scale and meter
	Claims   []reckon.ClaimVerdict
	Tests    []*reckon.Decisive
	Ranking  *reckon.Ranking
	Shares   []Dominant // of the doubt about the duty, before any reading; none after
	Half     float64    // half-width of the aim's interval, a share of it
	Compared []Undecided
	Frozen   string // last revision that is frozen; empty without one
	Changed  int    // keys that differ from it
	Ran      string // revision that ran last and is not frozen
	Readings int
}

// RunDoubt is a channel of a run that is not to be trusted.
type RunDoubt struct {
	Run string
	bench.Doubt
}

// Dominant is a number that the doubt about the aim hangs on.
type Dominant struct {
	Path    string
	Share   float64 // of the variance
	Assumed bool
}

// Undecided is a difference between revisions that the bench has not resolved.
type Undecided struct {
	Was, Is string
	reckon.RevisionFigure
}

// Act is one thing to do.
type Act struct {
	Where   string // bench, workshop, desk
	What    string
	Hours   float64
	Brings  float64 // share of the aim: gained, or gone from the half-width of its interval
	PerHour float64
	First   bool   // before everything else: something is unsafe, or nothing further is learned while it stands
	Why     string // in one sentence
	How     string // command or hint
	chore   bool   // minutes at the desk, of a worth that is stated and not worked out
}

// tonightActs is how many acts are told.
const tonightActs = 3

// Tonight returns the three next acts, and how many were looked at. What is unsafe or holds everything up goes first; the rest goes by what
// it teaches or brings for an hour: a gain of the aim, or what goes from the half-width of its interval, both as shares of the
// aim.
func Tonight(in TonightInput) (acts []Act, looked int) {
	t := &tonight{TonightInput: in}
	t.broken()
	t.blind()
	t.unjudged()
	t.unproven()
	t.benchDays()
	t.claims()
	t.revisions()
	t.workshop()
	t.desk()
	t.gathered()
	for i := range t.acts {
		if t.acts[i].Hours > 0 {
			t.acts[i].PerHour = t.acts[i].Brings / t.acts[i].Hours
		}
	}
	sort.SliceStable(t.acts, func(a, b int) bool {
		x, y := &t.acts[a], &t.acts[b]
		if x.First != y.First {
			return x.First
		}
		if x.First {
			return false // in the order in which they were found: broken, blind, not judged
		}
		return x.PerHour > y.PerHour
	})
	return t.acts[:min(len(t.acts), tonightActs)], len(t.acts)
}

type tonight struct {
	TonightInput
	acts []Act
}

func (t *tonight) add(a Act) { t.acts = append(t.acts, a) }

func shareText(x float64) string { return fmt.Sprintf("%.2g %%", 100*x) }

// broken puts a broken limit before all else.
func (t *tonight) broken() {
	var names, moves []string
	worst := -1
	for i, l := range t.Limits {
		if l.State != explore.Broken {
			continue
		}
		names = append(names, l.Name)
		if worst < 0 {
			worst, moves = i, l.Moves
		}
	}
	if worst < 0 {
		return
	}
	l := t.Limits[worst]
	unit, _ := quantity.LookupUnit(l.Unit)
	what := "bring the " + l.Name + " back within its bound"
	if len(names) > 1 {
		what += fmt.Sprintf(", then %s", strings.Join(names[1:min(len(names), 4)], ", "))
	}
	how := "jetwright limits"
	if len(moves) > 0 {
		how = "moved by " + strings.Join(moves, ", ") + "; jetwright limits after each"
	}
	bound := "allowed is at most "
	if l.Sense == quantity.AtLeast {
		bound = "allowed is at least "
	}
	t.add(Act{
		Where: AtDesk, What: what, Hours: hoursLimit, First: true, How: how,
		Why: fmt.Sprintf("at the design point it is at %s and at %s at the bad end, %s%s, and nothing is gained by measuring a drive that may not run there", quantity.Format(l.Value, unit), quantity.Format(l.Worst, unit), bound, quantity.Format(l.Allowed, unit)),
	})
}

// blind is what a limit rests on and nobody can trust: the next step waits for it.
func (t *tonight) blind() {
	if t.Rule.Allowed || t.Readings == 0 {
		return
	}
	waits := fmt.Sprintf("no step beyond %.0f W is allowed while a limit rests on it", t.Rule.From)
	if t.Step != nil {
		waits += fmt.Sprintf(", and that step would narrow the aim from ± %.1f to ± %.1f %%", 100*t.Step.Before, 100*t.Step.After)
	}
	named := map[bench.Channel]bool{}
	for _, d := range t.Doubts {
		if d.Trusted || named[d.Channel] || !missing(t.Rule.Missing, d.Channel) {
			continue
		}
		named[d.Channel] = true
		t.add(Act{
			Where: InWorkshop, What: fmt.Sprintf("mend the sensor of the %s (%s): plug, cable, the sensor itself, and a check in warm water", d.Channel, d.Source), Hours: hoursSensor, First: true, How: "then repeat the highest settled step: jetwright stand",
			Why: fmt.Sprintf("it was %s from %.0f s to %.0f s of %s; %s", d.Kind, d.Span.From, d.Span.To, d.Run, waits),
		})
	}
	var unread []string
	for _, name := range t.Rule.Missing {
		known := false
		for c := range named {
			known = known || strings.HasPrefix(name, string(c)) || watches(name, c)
		}
		if !known {
			unread = append(unread, name)
		}
	}
	if len(unread) > 0 {
		t.add(Act{
			Where: InWorkshop, What: "make these readable at every step: " + strings.Join(unread, ", "), Hours: hoursSensor, First: true, How: "then repeat the highest settled step: jetwright stand",
			Why: "they were not read, or not by anything that clears a limit, at the highest step; " + waits,
		})
	}
	if len(t.Rule.Missing) == 0 && t.Step == nil && len(t.Rule.Reasons) > 0 {
		t.add(Act{Where: OnBench, What: "repeat the lowest step and hold it until nothing moves", Hours: hoursStep, First: true, How: "jetwright stand", Why: t.Rule.Reasons[0]})
	}
}

// watches tells whether a name of the next step's rules is that of a channel.
func watches(name string, c bench.Channel) bool {
	return name == "rope pull" && c == bench.Thrust || strings.HasPrefix(name, "bridge") && c == bench.BridgeTemperature
}

func missing(names []string, c bench.Channel) bool {
	for _, n := range names {
		if strings.HasPrefix(n, string(c)) || watches(n, c) {
			return true
		}
	}
	return false
}

// typeable finds the key that a limit waits for.
var typeable = regexp.MustCompile(`no ([a-z_]+\.[a-z_]+) is typed|type ([a-z_]+\.[a-z_]+)`)

// unjudged is limits that a typed number would judge; what can hurt people goes first.
func (t *tonight) unjudged() {
	var keys, names []string
	hazard := false
	for _, l := range t.Limits {
		if l.State != explore.NotJudged {
			continue
		}
		m := typeable.FindStringSubmatch(l.NotJudged)
		if m == nil {
			continue
		}
		key := m[1] + m[2]
		if !contains(keys, key) {
			keys = append(keys, key)
		}
		names = append(names, l.Name)
		hazard = hazard || l.Hazard
	}
	if len(keys) == 0 {
		return
	}
	why := fmt.Sprintf("%s cannot be judged without", strings.Join(names, ", "))
	if hazard {
		why += "; among them is what can hurt people, and no bench day begins before it is judged"
	} else {
		why += ", and what is not judged is not fine"
	}
	t.add(Act{Where: AtDesk, What: "type " + strings.Join(keys, ", "), Hours: hoursTyped * float64(len(keys)), Brings: worthLimit * float64(len(keys)), First: hazard, Why: why, How: fmt.Sprintf("jetwright set %s \"…\"", keys[0]), chore: !hazard})
}

// unproven is a spin test of an impeller that nothing here proves.
func (t *tonight) unproven() {
	for _, l := range t.Limits {
		test, ok := strings.CutPrefix(l.NotJudged, "unproven: ")
		if !ok || l.Name != strength.LimitOverspeed {
			continue
		}
		t.add(Act{
			Where: InWorkshop, What: test, Hours: hoursSpin, Brings: worthLimit, First: true, How: `jetwright set impeller.proof_speed "… rpm"`,
			Why: "nothing proves a printed impeller but a test: out of the water it runs up at once, and a blade that comes off goes where it likes; nobody in its plane, throttle from afar, and roots looked at after each step",
		})
	}
}

// gathered makes one act of what takes minutes at the desk, so that chores leave room for work.
func (t *tonight) gathered() {
	var all, rest []Act
	for _, a := range t.acts {
		if a.chore {
			all = append(all, a)
		} else {
			rest = append(rest, a)
		}
	}
	if len(all) < 2 {
		return
	}
	var one Act
	var whats, whys, hows []string
	for _, a := range all {
		whats, whys, hows = append(whats, a.What), append(whys, a.Why), append(hows, a.How)
		one.Hours, one.Brings = one.Hours+a.Hours, one.Brings+a.Brings
	}
	one.Where, one.What, one.Why, one.How = AtDesk, strings.Join(whats, "; "), strings.Join(whys, "; "), strings.Join(hows, "; ")
	t.acts = append(rest, one)
}

func contains(list []string, x string) bool {
	for _, y := range list {
		if y == x {
			return true
		}
	}
	return false
}

// benchDays are a first ladder, the next step, and other instruments.
func (t *tonight) benchDays() {
	if t.Readings == 0 {
		if t.First != nil {
			t.add(Act{
				Where: OnBench, What: "run a first ladder, a scale and the controller's screen are enough", Hours: hoursFirstLadder, Brings: t.First.Before - t.First.After, How: "jetwright stand",
				Why: fmt.Sprintf("nothing was measured, and one settled power is expected to narrow the aim from ± %.0f to ± %.0f %%", 100*t.First.Before, 100*t.First.After),
			})
		}
		return
	}
	if t.Rule.Allowed && t.Reach != nil && t.Reach.Power > 0 && t.Step != nil {
		why := fmt.Sprintf("%.0f W has settled and %.0f W keeps every limit that is judged; it is expected to narrow the aim from ± %.1f to ± %.1f %%", t.Rule.From, t.Reach.Power, 100*t.Step.Before, 100*t.Step.After)
		t.add(Act{Where: OnBench, What: fmt.Sprintf("the next step, %.0f W (%s), after repeats of what has settled", t.Reach.Power, placeOr(t.Reach.Place)), Hours: hoursStep, Brings: t.Step.Before - t.Step.After, How: "jetwright stand", Why: why})
	}
	if t.Reach != nil && t.Reach.By != "" {
		t.add(Act{
			Where: AtDesk, What: "find what moves the " + t.Reach.By + ", which holds the next step back", Hours: hoursLimit, Brings: heldBack(t.Reach, t.Step), How: "jetwright limits, jetwright rank",
			Why: fmt.Sprintf("the rules allow %.0f W and it stops at %.0f W: %s", t.Reach.Rule, t.Reach.Power, t.Reach.Why),
		})
	}
	if t.Fresh != nil && t.Fresh.Before > t.Fresh.After {
		t.add(Act{
			Where: OnBench, What: fmt.Sprintf("read the highest settled power, %.0f W, by a calibrated shunt and a load cell beside what has read so far", t.Fresh.Power), Hours: hoursMeter, Brings: t.Fresh.Before - t.Fresh.After, How: "jetwright run note --power-by shunt --thrust-by \"load cell\"",
			Why: fmt.Sprintf("what the instruments may be off is in every reading alike, and no repeat takes it out; others are expected to narrow the aim from ± %.1f to ± %.1f %%", 100*t.Fresh.Before, 100*t.Fresh.After),
		})
	}
	if len(t.Strained) > 0 {
		s := t.Strained[0]
		t.add(Act{
			Where: OnBench, What: "hold one instrument against another: " + s.Name, Hours: hoursSecond, First: true, How: "jetwright reckon",
			Why: fmt.Sprintf("the readings can only be met with it %.0f standard deviations off, so that a unit, a place of power or an instrument is wrong and no verdict is closed", math.Abs(s.Shift)),
		})
	}
}

// heldBack is what would be learned of the way that a limit bars.
func heldBack(r *Reach, l *reckon.StepLesson) float64 {
	if l == nil || !(r.Rule > 0) {
		return 0
	}
	return (l.Before - l.After) * (1 - r.Power/r.Rule)
}

func placeOr(place string) string {
	if place == "" {
		return "battery"
	}
	return place
}

// claims are tests that close a verdict.
func (t *tonight) claims() {
	for i, v := range t.Claims {
		if i >= len(t.Tests) || t.Tests[i] == nil || !t.Tests[i].Found {
			continue
		}
		d := t.Tests[i]
		doubt := 0.0
		if len(v.Cases) > 0 {
			if f := v.Cases[0].Calibrated.Figure; f.Value > 0 {
				doubt = (f.High - f.Low) / (2 * f.Value)
			}
		}
		hours := hoursStep + hoursRepeat*float64(d.Repeats-1)
		by := ""
		if d.Fresh {
			by = " by a load cell and a calibrated shunt"
		}
		t.add(Act{
			Where: OnBench, What: fmt.Sprintf("%d at %.0f W (%s)%s, to close the claim of %s", d.Repeats, d.Power, placeOr(d.Place), by, v.Claim.What), Hours: hours, Brings: d.Chance * doubt, How: "jetwright stand",
			Why: fmt.Sprintf("the claim on line %d is %s, and that is the least power at which it is expected to be closed, in %.0f of 100 cases", v.Claim.Place_.Line, v.Verdict, 100*d.Chance),
		})
		a := &t.acts[len(t.acts)-1]
		a.What = strings.Replace(a.What, fmt.Sprintf("%d at", d.Repeats), plateaus(d.Repeats)+" at", 1)
	}
}

func plateaus(n int) string {
	if n == 1 {
		return "one plateau"
	}
	return fmt.Sprintf("%d plateaus", n)
}

// revisions are differences that repeats would settle, and what is not frozen.
func (t *tonight) revisions() {
	for _, u := range t.Compared {
		if u.Resolved || u.Repeats == 0 || u.Days || u.Repeats > 30 {
			continue
		}
		size := math.Abs(u.Difference.Value)
		t.add(Act{
			Where: OnBench, What: fmt.Sprintf("%s of revision %s and as many of %s at one power", plateaus(u.Repeats), u.Is, u.Was), Hours: hoursStep + 2*hoursRepeat*float64(u.Repeats), Brings: size, How: "jetwright revisions",
			Why: fmt.Sprintf("%s against %s differs by %s and the bench has resolved %s; so many repeats tell it four times of five", u.Is, u.Was, shareText(size), shareText(u.Told)),
		})
	}
	switch {
	case t.Ran != "":
		t.add(Act{
			Where: AtDesk, What: "freeze the design that ran as revision " + t.Ran, Hours: hoursFreeze, Brings: worthFreeze, chore: true, How: fmt.Sprintf("jetwright revise -m \"as it ran\" --as %s", t.Ran),
			Why: "its readings are there and the numbers of that day are not frozen, so that nothing later can be held against them",
		})
	case t.Frozen != "" && t.Changed > 0:
		t.add(Act{
			Where: AtDesk, What: "freeze the design as it is now", Hours: hoursFreeze, Brings: worthFreeze, chore: true, How: `jetwright revise -m "what it is about"`,
			Why: fmt.Sprintf("%d keys differ from revision %s, and what is measured next belongs to numbers that nobody has kept", t.Changed, t.Frozen),
		})
	}
}

// workshop are changes that gain in nearly every drive.
func (t *tonight) workshop() {
	if t.Ranking == nil || !(t.Ranking.Now.Value > 0) {
		return
	}
	for i := range t.Ranking.Changes {
		c := &t.Ranking.Changes[i]
		at, known := changeHours[c.Work]
		if c.Why != "" || !known || c.Sure < 0.9 || !(c.Gain.Value > 0) || c.Nearer.After < 0 && c.Nearer.Limit.Name != "" {
			continue
		}
		unit, _ := quantity.LookupUnit(t.Ranking.Aim.Unit)
		number, low, high := quantity.Figures(c.Gain.Value, c.Gain.Low, c.Gain.High, unit)
		brings := "+" + number + " " + unit.Symbol
		if low != "" {
			brings += " [" + low + ", " + high + "]"
		}
		why := fmt.Sprintf("%s brings %s", c.Path, brings)
		if c.Sure < 1 {
			why += fmt.Sprintf(" and gains in %.0f of 100 drives", 100*c.Sure)
		} else {
			why += " and gains in every drive that the readings leave"
			if t.Readings == 0 {
				why = strings.Replace(why, "that the readings leave", "within the tolerances", 1)
			}
		}
		t.add(Act{Where: at.where, What: c.How, Hours: at.hours, Brings: c.Gain.Value / t.Ranking.Now.Value, Why: why, How: "jetwright rank"})
	}
}

// desk is what can be looked up, measured on the table and typed.
func (t *tonight) desk() {
	for _, s := range t.Shares {
		how, ok := measurable[s.Path]
		if !ok || s.Share < 0.01 {
			continue
		}
		word := "is typed with a tolerance"
		if s.Assumed {
			word = "is assumed"
		}
		t.add(Act{
			Where: InWorkshop, What: how + ", and type " + s.Path, Hours: hoursMeasured, Brings: t.Half * (1 - math.Sqrt(math.Max(0, 1-s.Share))), How: fmt.Sprintf("jetwright set %s \"…\"", s.Path),
			Why: fmt.Sprintf("%s %s and makes %s of the doubt about the aim", s.Path, word, shareText(s.Share)),
		})
	}
	if len(t.Claims) == 0 && t.Readings > 0 {
		t.add(Act{Where: AtDesk, What: "type what was promised as a [[claim]]", Hours: hoursTyped, Brings: worthFreeze, chore: true, How: "in drive.toml", Why: "the readings could judge a promise and there is none in the design"})
	}
}
