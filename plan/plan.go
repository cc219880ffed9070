// Package plan makes the plan of a bench day out of a design, what was measured so far, and the stand:
// the ladder with what the scale will show, what stand, rope and scale must hold, where to stop, and
// what to look at before and after. It is arithmetic on what was typed and read, no permission.
package plan

import (
	"fmt"
	"math"

	"jetwright/bench"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/notice"
	"jetwright/quantity"
	"jetwright/reckon"
)

// Input is what a plan is made of.
type Input struct {
	Prior      *explore.Sample // the design as typed and assumed
	Calibrated *explore.Sample // after the readings; nil without any
	Rule       reckon.NextStep
	Plateaus   []bench.Plateau
	Days       []*bench.Reduction
	Seed       uint64
}

// Figure is a number with its 90 % interval, SI, and the name of the unit to show it in.
type Figure struct {
	explore.Figure
	Unit string
}

// Kinds of step.
const (
	Repeat = "repeat" // has settled before
	New    = "new"
	Down   = "down"
)

// Step is a step of the ladder.
type Step struct {
	Kind     string
	Power    float64 // W, at the plan's place
	Pull     Figure  // what the scale will show
	Thrust   Figure
	Rotor    Figure
	Current  Figure // phase current, in the controller's convention
	Voltage  Figure
	Winding  Figure // steady
	Dwell    float64
	Change   float64 // of the pull from the step before, N; 0 for the first
	Division float64 // divisions of the display in it; 0 where no division is typed
	Resolved string  // resolved, coarse, not resolved; empty where no division is typed
	battery  float64 // W, nominal
	coolant  float64 // m³/s
}

// Dwell is how long a step is held and why.
type Dwell struct {
	Time   float64 // s
	Tau    float64 // slowest time constant, s
	From   string  // what it rests on
	Zero   float64 // zero window before and after, s
	Change float64 // from step to step, s
}

// Check is a limit of stand, gear or hardware at the highest step.
type Check struct {
	Name      string
	Unit      string
	Value     float64 // nominal, SI
	Bad       float64 // at the bad end
	Allowed   float64 // at the bad end, factor in it
	AtLeast   bool
	Factor    float64
	State     string // holds, broken, not judged
	NotJudged string
	Note      string
	Source    string
}

// States of a check.
const (
	Holds     = "holds"
	Broken    = "broken"
	NotJudged = "not judged"
)

// Stop is where to stop for a channel.
type Stop struct {
	Channel  string
	Unit     string
	Expected Figure  // at the highest step
	Stop     float64 // SI
	Ends     [2]float64
	Band     bool // Ends hold instead of Stop, about the median of the steps below
	Open     bool // nothing was measured yet: Expected is too open for Ends about it to say anything
	AtLeast  bool
	Why      string
	Sensors  []string // that have read it so far
	Single   bool     // one witness or none
	Second   string   // what a second witness could be
	Beyond   bool     // expected beyond its stop
}

// Word is a sentence under a short name, with a source.
type Word struct {
	Topic, Text, Source string
}

// Plan is the plan of a bench day.
type Plan struct {
	Place     string // of the powers
	First     bool   // no power has settled yet
	From      float64
	Next      reckon.NextStep
	Steps     []Step
	Top       int // highest step
	Ends      string
	Dwell     Dwell
	Whole     float64 // s
	Energy    float64 // out of the battery, J
	Charge    float64 // that the pack holds, J
	Draws     int
	Fitted    bool
	Stand     []Check // stand, rope, tether, scale
	Hardware  []Check // that are broken or near at the highest step
	Judged    int     // hardware limits judged
	Open      []string
	Air       []Word
	Tub       []Word
	Stops     []Stop
	Witnesses []Word // what to have two of
	Before    []Word
	After     []Word
	Safety    []Word
	Notices   notice.List
}

// Make makes the plan. The error says why the drive has no state at any sensible power.
func Make(in Input) (*Plan, error) {
	m := &maker{Input: in, Plan: &Plan{Next: in.Rule}}
	m.sample = in.Prior
	if in.Calibrated != nil && in.Calibrated.Nominal != nil {
		m.sample, m.Fitted = in.Calibrated, true
	}
	m.drive = &in.Prior.Nominal.Drive
	m.Draws = len(m.sample.Machines)
	if m.Draws == 0 {
		m.note(notice.Warning, "without draws the thrust's bad end is its nominal; only the stand's own tolerances count", "leave --nominal away for what has to hold")
	}
	m.dwell()
	if err := m.ladder(); err != nil {
		return nil, err
	}
	m.checks()
	m.air()
	m.tub()
	m.stops()
	m.lists()
	return m.Plan, nil
}

// maker is a plan in the making.
type maker struct {
	Input
	*Plan
	sample *explore.Sample // that the day's figures are asked of
	drive  *drive.Drive    // nominal, as typed and assumed
	demand drive.Demand
	top    *explore.Result // the highest step, of all draws
}

func (m *maker) note(kind notice.Kind, what, out string) {
	m.Notices = append(m.Notices, notice.Notice{Kind: kind, What: what, WayOut: out})
}

// dwell finds how long a step is held: out of a temperature that was seen to settle, or out of the
// two-node network.
func (m *maker) dwell() {
	tau, from, longer := 0.0, "", 0.0
	for _, day := range m.Days {
		for _, track := range day.Tracks {
			if track.Channel != bench.WindingTemperature && track.Channel != bench.BridgeTemperature && track.Channel != bench.CaseTemperature {
				continue
			}
			for _, p := range day.Plateaus {
				if doubted(p, track) {
					continue
				}
				t, y := stretch(track, p.Span)
				x, least, ok := fitRise(t, y)
				longer = math.Max(longer, least)
				if ok && x > tau {
					tau, from = x, fmt.Sprintf("the slowest settling seen, of the %s in %s from %.0f s to %.0f s", track.Channel, day.Run, p.Span.From, p.Span.To)
				}
			}
		}
	}
	// A fit over the whole day, which knows the heat and how sure it is, goes before the settling of one plateau.
	for _, day := range m.Days {
		for _, w := range reckon.Warmths(day, m.Prior.Nominal, 0) {
			l := w.Heating
			if l == nil {
				continue
			}
			if !l.High.Set {
				m.note(notice.Warning, fmt.Sprintf("%s in %s: %s", w.Channel, day.Run, l.Told), "hold a step longer, or take the winding's last temperatures as still rising")
				continue
			}
			if x := l.High.Value; l.Told == "" && x > tau && x <= l.Span.Length() {
				tau, from = x, fmt.Sprintf("the slow end of the slowest time constant fitted, of the %s in %s: %.3g s [%.3g, %.3g]", w.Channel, day.Run, l.Slowest(), l.Low, x)
			}
		}
	}
	if tau <= longer || tau == 0 {
		cw, ch, mass, typed := capacities(m.drive)
		high := func(path string, value float64) float64 {
			if v, ok := m.Prior.Design.Value(path); ok {
				return v.High()
			}
			return value
		}
		jacket := high("cooling.jacket_to_coolant", m.drive.Cooling.JacketToCoolant)
		if s, err := m.Prior.Nominal.Solve(m.drive.DutyCondition()); err == nil && s.Coolant.JacketTransfer > 0 {
			jacket = s.Coolant.JacketCoolant // typed as a part
		}
		model := SlowestTime(high("motor.winding_to_jacket", m.drive.Motor.WindingToJacket), jacket, cw, ch)
		word := "assumed from its length and diameter"
		if typed {
			word = "as typed"
		}
		why := "no log shows a temperature settle"
		if longer > 0 {
			why = fmt.Sprintf("a log shows a temperature that takes longer than %.0f s to settle and was not held so long", longer)
		}
		if tau = math.Max(model, longer); model < longer {
			from = "at least, since " + why
		} else {
			from = fmt.Sprintf("the two-node model of the motor with resistances and capacities at their slow end (%.1f kg %s); %s", mass, word, why)
		}
	}
	m.Dwell = Dwell{Tau: tau, From: from, Zero: zeroWindow, Change: change, Time: dwellRound * math.Ceil((steadyTimes*tau+averaging)/dwellRound)}
}

// doubted tells whether a track's channel is in doubt over a plateau.
func doubted(p bench.Plateau, t bench.Track) bool {
	for _, d := range p.Doubts {
		if d.Channel == t.Channel && (d.Source == "" || d.Source == t.Source) {
			return true
		}
	}
	return false
}

// stretch cuts a span out of a track.
func stretch(t bench.Track, s bench.Span) (time, value []float64) {
	if t.Step <= 0 {
		return nil, nil
	}
	for i, v := range t.Values {
		at := t.Begin + (float64(i)+0.5)*t.Step
		if at >= s.From && at <= s.To {
			time, value = append(time, at-s.From), append(value, v)
		}
	}
	return time, value
}

// bad returns the stand with every number at the end of its tolerance at which it holds least. Of heights and the
// rope's angle that end hangs on each other and on what is judged: all their corners are returned.
func (m *maker) bad() []drive.Stand {
	s := m.drive.Stand
	design := m.Prior.Design
	low := func(path string, x *float64) {
		if v, ok := design.Value(path); ok {
			*x = v.Low()
		}
	}
	low("stand.ballast", &s.Ballast.Value)
	low("stand.carriage_load", &s.CarriageLoad)
	low("stand.base_length", &s.BaseLength.Value)
	low("stand.base_width", &s.BaseWidth.Value)
	low("stand.friction", &s.Friction.Value)
	low("stand.rope_strength", &s.RopeStrength.Value)
	low("stand.scale_range", &s.ScaleRange.Value)
	low("stand.tether_length", &s.TetherLength.Value)
	if v, ok := design.Value("stand.tether_slack"); ok {
		s.TetherSlack.Value = v.High()
	}
	if _, ok := s.Jet(); ok && !s.JetHeight.Set { // it follows from two others
		depth, _ := design.Value("stand.water_depth")
		shaft, _ := design.Value("stand.shaft_height")
		up, down := s, s
		up.JetHeight = quantity.Some(depth.High() + shaft.High())
		down.JetHeight = quantity.Some(depth.Low() + shaft.Low())
		return m.cornered([]drive.Stand{up, down})
	}
	return m.cornered([]drive.Stand{s})
}

// cornered puts what has two bad ends at each of them.
func (m *maker) cornered(stands []drive.Stand) []drive.Stand {
	for _, key := range []struct {
		path string
		of   func(s *drive.Stand) *quantity.Optional
	}{
		{"stand.jet_height", func(s *drive.Stand) *quantity.Optional { return &s.JetHeight }},
		{"stand.rope_height", func(s *drive.Stand) *quantity.Optional { return &s.RopeHeight }},
		{"stand.pivot_height", func(s *drive.Stand) *quantity.Optional { return &s.PivotHeight }},
		{"stand.rope_angle", func(s *drive.Stand) *quantity.Optional { return &s.RopeAngle }},
	} {
		v, ok := m.Prior.Design.Value(key.path)
		if !ok || v.Low() == v.High() {
			continue
		}
		var both []drive.Stand
		for _, s := range stands {
			for _, end := range []float64{v.Low(), v.High()} {
				key.of(&s).Value = end
				both = append(both, s)
			}
		}
		stands = both
	}
	return stands
}

// standChecks holds stand and gear at a step with every tolerance at its bad end: the thrust at the
// greatest of all drawn drives, and before any reading also at the bad corner of what was assumed.
func (m *maker) standChecks(r *explore.Result, judged []explore.JudgedLimit) []Check {
	var out []Check
	nominal := r.Nominal
	worst := nominal
	for i := range r.States {
		worst.Thrust = math.Max(worst.Thrust, r.States[i].Thrust)
		worst.MotorTorque = math.Max(worst.MotorTorque, r.States[i].MotorTorque)
	}
	if !m.Fitted {
		for _, l := range judged {
			if l.Name == "pull on the rope" && l.NotJudged == "" && m.drive.Stand.PullRatio() > 0 {
				worst.Thrust = math.Max(worst.Thrust, l.Worst/m.drive.Stand.PullRatio())
			}
		}
	}
	gravity := m.sample.Nominal.Path.Medium.Gravity
	corners := m.bad()
	s := corners[0] // in which all that has one bad end is at it
	plain := m.drive.Stand.Limits(nil, nominal, gravity, m.drive.Shaft.Reduction)
	var bad []quantity.Limit
	ratio := 0.0
	for _, corner := range corners {
		ratio = math.Max(ratio, corner.PullRatio())
		here := corner.Limits(nil, worst, gravity, m.drive.Shaft.Reduction)
		if bad == nil {
			bad = here
		}
		for i := range here {
			if here[i].Value*bad[i].Allowed > bad[i].Value*here[i].Allowed {
				bad[i] = here[i]
			}
		}
	}
	for i, l := range bad {
		c := Check{Name: l.Name, Unit: l.Unit, Value: plain[i].Value, Bad: l.Value, Allowed: l.Allowed, Factor: l.Factor, NotJudged: l.NotJudged, Source: l.Source}
		switch l.Name {
		case "sliding of the stand":
			if f, ok := s.FrictionRange(); ok {
				c.Note = fmt.Sprintf("friction %.2f", f.Low)
				if !s.Friction.Set {
					c.Note += ", the low end of " + s.FrictionPair
				}
			}
		case "overturning of the stand":
			c.Note = "about the edge that the jet tips it over"
			if s.Anchor == "ground" {
				c.Note = "couple of rope and jet, or the jet alone when the rope parts"
			}
		default:
			c.Note = "jet 10° aside, rotor torque not taken back"
		}
		out = append(out, c.judged())
	}
	pull := worst.Thrust * ratio
	plainPull := nominal.Thrust * m.drive.Stand.PullRatio()
	rope := Check{Name: "pull on the rope", Unit: "N", Value: plainPull, Bad: pull, Allowed: s.RopeStrength.Value / drive.RopeFactor, Factor: drive.RopeFactor, Note: "maker's breaking load, with knots", Source: "cordage-holtzman"}
	if !s.RopeStrength.Set {
		rope.NotJudged = "type stand.rope_strength"
	}
	scale := Check{Name: "pull on the scale", Unit: "N", Value: plainPull, Bad: pull, Allowed: stopShare * s.ScaleRange.Value, Factor: 1 / stopShare, Note: "a tenth of the range kept", Source: "own"}
	if !s.ScaleRange.Set {
		scale.NotJudged = "type stand.scale_range"
	}
	tether := Check{Name: "second tether, as it stops the drive", Unit: "N", Factor: tetherFactor, Note: "stiff end; knots take half", Source: "own"}
	if s.TetherStrength.Set && s.TetherSlack.Set && s.TetherLength.Set {
		strength, _ := m.Prior.Design.Value("stand.tether_strength")
		tether.Value = TetherForce(nominal.Thrust, m.drive.Stand.TetherSlack.Value, m.drive.Stand.TetherStrength.Value, m.drive.Stand.TetherLength.Value)
		// a stronger rope of the same make is stiffer: force at the strong end, bound at the weak one
		tether.Bad = TetherForce(worst.Thrust, s.TetherSlack.Value, strength.High(), s.TetherLength.Value)
		tether.Allowed = strength.Low() / tetherFactor
	} else {
		tether.NotJudged = "type stand.tether_strength, stand.tether_slack, stand.tether_length"
	}
	return append(out, rope.judged(), scale.judged(), tether.judged())
}

// checks takes stand, gear and hardware at the highest step.
func (m *maker) checks() {
	judged := m.top.Limits(m.sample)
	m.Stand = m.standChecks(m.top, judged)
	for _, l := range judged {
		if l.Part == "stand" {
			continue
		}
		if l.State == explore.NotJudged {
			m.Open = append(m.Open, l.Name)
			continue
		}
		m.Judged++
		if l.State == explore.Clear {
			continue
		}
		c := Check{Name: l.Name, Unit: l.Unit, Value: l.Value, Bad: l.Worst, Allowed: l.Allowed, AtLeast: l.Sense == 1, Factor: l.Factor, Note: l.Why, Source: l.Source}
		c.State = "near"
		if l.State == explore.Broken {
			c.State = Broken
		}
		m.Hardware = append(m.Hardware, c)
	}
}

// judged gives a check its state.
func (c Check) judged() Check {
	switch {
	case c.NotJudged != "":
		c.State = NotJudged
		c.Value, c.Bad, c.Allowed, c.Note = 0, 0, 0, ""
	case c.Bad > c.Allowed:
		c.State = Broken
	default:
		c.State = Holds
	}
	return c
}

// air judges the air's path to the intake.
func (m *maker) air() {
	say := func(topic, text, source string) { m.Air = append(m.Air, Word{topic, text, source}) }
	path := m.sample.Nominal.Path
	st := m.top.Nominal.Jet
	diameter := math.Sqrt(4 * path.ThroatArea / math.Pi)
	asked := Submergence(diameter, st.ThroatVelocity, path.Medium.Gravity)
	s := m.drive.Stand
	depth := s.IntakeDepth
	if v, ok := m.Prior.Design.Value("stand.intake_depth"); ok {
		depth.Value = v.Low()
	}
	reach := 0.0
	if s.CoverPlate == "yes" {
		if v, ok := m.Prior.Design.Value("stand.cover_reach"); ok {
			reach = v.Low()
		}
	}
	if !depth.Set {
		say(NotJudged, "type stand.intake_depth, and stand.cover_plate with stand.cover_reach", "own")
	} else {
		way, grade := AirGrade(depth.Value, reach, asked)
		text := fmt.Sprintf("the air's way to the intake is %.0f mm: %.0f mm of water", 1e3*way, 1e3*depth.Value)
		switch {
		case s.CoverPlate == "yes" && s.CoverReach.Set:
			text += fmt.Sprintf(" and %.0f mm along the cover plate", 1e3*reach)
		case s.CoverPlate == "yes":
			text += "; type stand.cover_reach for the way along the cover plate"
		default:
			text += ", no cover plate"
		}
		say(grade, text, "own")
		if grade != AirUnlikely && s.CoverPlate != "yes" {
			say("advice", "lay a plate or a raft of foam board on the water over the intake, reaching as far as the tub allows to every side; it lengthens the air's way and breaks the vortex", "own")
		} else if grade != AirUnlikely {
			say("advice", "a larger plate or raft, or a deeper intake, lengthens the air's way; film the water over the intake", "own")
		}
	}
	say("for context", fmt.Sprintf("the formula of pump intakes (ANSI/HI 9.8, second-hand) asks for %.1f m over an opening of %.0f mm at %.1f m/s; it comes from far larger and slower intakes", asked, 1e3*diameter, st.ThroatVelocity), "hi-9-8")
	say("sign", "drawn air shows as rotor speed and noise that rise while pull and current fall: a step back in power, then off", "own")
}

// tub judges what the water does.
func (m *maker) tub() {
	say := func(topic, text, source string) { m.Tub = append(m.Tub, Word{topic, text, source}) }
	s := m.drive.Stand
	st := m.top.Nominal
	water := m.sample.Nominal.Water
	if s.Water != "open" {
		text := fmt.Sprintf("water that the jet drives round takes 0 to %.0f %% of the pull, one-sided", 100*reckon.TubShare)
		if s.WaterVolume.Set && s.WaterDepth.Set && s.TubWidth.Set {
			w, h, v := s.TubWidth.Value, s.WaterDepth.Value, s.WaterVolume.Value
			slow, fast := CoflowSpeed(st.Thrust, water.Density, w, h, v, turnsLossHigh), CoflowSpeed(st.Thrust, water.Density, w, h, v, turnsLossLow)
			loss := func(u float64) float64 {
				return 100 * CoflowLoss(u, st.Jet.JetVelocity, m.drive.Intake.IngestedLoss)
			}
			text += fmt.Sprintf("; by the tub's size the water settles at %.2f to %.2f m/s, which would take %.0f to %.0f %%, within %.0f s", slow, fast, loss(slow), loss(fast), 2*SpinUpTime(st.Thrust, water.Density, v, fast))
			if loss(fast) > 100*reckon.TubShare {
				text += "; that is more than is reckoned with, so a larger tub or open water is wanted"
			}
		} else {
			text += "; type stand.water_volume, stand.water_depth and stand.tub_width for an estimate by its size"
		}
		say("water that moves", text, "own")
		say("test for it", "at one middle power read the pull in the first seconds and again at the end of the step; run it once more with the stand turned by 180° or moved to the other end; one step in open water settles it", "own")
	}
	short := func(topic string, typed bool, value, least float64, why, key, source string) {
		switch {
		case !typed:
			say(topic, fmt.Sprintf("not judged; type %s (at least %.1f m: %s)", key, least, why), source)
		case value < least:
			say(topic, fmt.Sprintf("%.2f m is short of %.1f m: %s", value, least, why), source)
		default:
			say(topic, fmt.Sprintf("%.2f m reaches the %.1f m wanted: %s", value, least, why), source)
		}
	}
	if s.Water != "open" {
		short("wall behind", s.WallBehind.Set, s.WallBehind.Value, 10*m.drive.Nozzle.Diameter, "ten nozzle diameters of clear water behind the jet", "stand.wall_behind", "memory")
	}
	draft := math.Max(-s.ShaftHeight, 0) + m.drive.Impeller.Diameter/2
	short("depth", s.WaterDepth.Set, s.WaterDepth.Value, 2*draft, "twice the draft of the drive, as the IMO guidelines ask of ships at the bollard", "stand.water_depth", "imo-884")
	if s.Water != "open" {
		short("wall beside", s.WallBeside.Set, s.WallBeside.Value, 3*m.drive.Nozzle.Diameter, "a jet along a wall bends to it; three nozzle diameters", "stand.wall_beside", "own")
	}
	coolant := 0.0
	for _, step := range m.Steps {
		coolant += step.coolant * step.Dwell
	}
	text := fmt.Sprintf("about %.0f L of coolant leave over the day; lead its outlet back into the water", 1e3*coolant)
	if s.WaterVolume.Set && s.WaterDepth.Set && s.Water != "open" {
		text += fmt.Sprintf(", or the level falls by %.0f mm", 1e3*coolant*s.WaterDepth.Value/s.WaterVolume.Value)
		rise := Warming(m.Energy, water.Density, water.SpecificHeat, s.WaterVolume.Value)
		say("warming", fmt.Sprintf("the day's %.0f Wh warm the water by at most %.2g K; read it before, half-way and after", m.Energy/3600, math.Max(rise, 0)), "own")
	}
	say("level", text+"; mark it on the wall and read the mark at every zero window", "own")
}
