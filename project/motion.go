package project

import (
	"fmt"
	"math"
	"strings"
	"sync"

	"jetwright/bench"
	"jetwright/design"
	"jetwright/notice"
	"jetwright/quantity"
)

// levelKey holds the heights of the water at the top of a run.toml.
const levelKey = "water_level"

// motionSheet is the [motion] of a run.toml: what stand and water did while steps were held.
type motionSheet struct {
	WaterSpeed  quantity.Optional `unit:"m/s" doc:"speed at which water runs past the drive from ahead while steps are held: current at a dock, drift of a float; it bends no pull and is the speed of the drive in the reckoning, and in a tub or pool stands for the water that the jet drives round" range:"0 .. 5" usual:"0 .. 0.5"`
	SpeedChange quantity.Optional `unit:"m/s" doc:"by how much at most the stand's own speed along the pull differs between the beginning and the end of a step" range:"0 .. 5" usual:"0 .. 0.3"`
	MovingMass  quantity.Optional `unit:"kg" doc:"mass that moves with the stand, with the water that moves with it, beside speed_change" range:"0.1 .. 100000" usual:"10 .. 2000"`
	Pitch       quantity.Optional `unit:"deg" doc:"by how much at most the stand pitches against the rope, either way" range:"0 .. 20" usual:"0 .. 8"`
	SwingPeriod quantity.Optional `unit:"s" doc:"period at which the pull swings, on a float or in swell; found in the pull where a step holds three periods" range:"0.5 .. 120" usual:"1 .. 20"`
}

// MotionSchema declares the keys of [motion].
func MotionSchema() *quantity.Schema { return motionSchema() }

var motionSchema = sync.OnceValue(func() *quantity.Schema { return mustSchema(struct{ Motion motionSheet }{}) })

// periodWithin is how far a period may be from one that is typed without a tolerance, as a share. Our own.
const periodWithin = 0.2

// readMotion reads the [motion] of a run.
func readMotion(doc *design.Document) (bench.Motion, notice.List) {
	var m bench.Motion
	s, faults := design.Bind(doc, "motion.", "motion", MotionSchema(), nil)
	if v, ok := s.Value("water_speed"); ok {
		m.Stream = bench.Stream{Known: true, Low: math.Max(v.Low(), 0), High: v.High()}
	}
	if v, ok := s.Value("pitch"); ok {
		m.Pitch = v.High()
	}
	if v, ok := s.Value("swing_period"); ok {
		m.Period = [2]float64{v.Low(), v.High()}
		if v.IsExact() {
			m.Period = [2]float64{v.Nominal() * (1 - periodWithin), v.Nominal() * (1 + periodWithin)}
		}
	}
	change, haveChange := s.Value("speed_change")
	mass, haveMass := s.Value("moving_mass")
	switch {
	case haveChange && haveMass:
		m.SpeedChange, m.Mass, m.UMass = change.High(), mass.Nominal(), mass.StandardUncertainty()
	case haveChange:
		faults = append(faults, notice.Notice{
			Kind: notice.Error, Place: s.Place("speed_change"), Path: "motion.speed_change", Excerpt: s.Excerpt("speed_change"), What: "nothing says which mass gathers speed", WayOut: `type moving_mass = "120 kg" beside it`,
		})
	case haveMass:
		faults = append(faults, notice.Notice{
			Kind: notice.Warning, Place: s.Place("moving_mass"), Path: "motion.moving_mass", Excerpt: s.Excerpt("moving_mass"), What: "a mass that gathers no speed pulls nothing", WayOut: `type speed_change = "0.05 m/s" beside it`,
		})
	}
	return m, faults
}

// arm is what an arm on a pivot hangs by.
type arm struct{ pivot, rope, jet, uPivot, uRope, uJet float64 }

// armHeights returns the heights of an arm on a pivot, where they are typed: the jet's as the stand knows it.
func armHeights(kind string, jetKnown bool, typed func(key string) (quantity.Value, bool)) (arm, bool) {
	if kind != "pivot" || !jetKnown {
		return arm{}, false
	}
	pivot, ok1 := typed("pivot_height")
	rope, ok2 := typed("rope_height")
	if !ok1 || !ok2 {
		return arm{}, false
	}
	a := arm{pivot: pivot.Nominal(), rope: rope.Nominal(), uPivot: pivot.StandardUncertainty(), uRope: rope.StandardUncertainty()}
	if jet, ok := typed("jet_height"); ok {
		a.jet, a.uJet = jet.Nominal(), jet.StandardUncertainty()
		return a, true
	}
	depth, ok1 := typed("water_depth")
	shaft, ok2 := typed("shaft_height")
	if !ok1 || !ok2 {
		return arm{}, false
	}
	a.jet, a.uJet = depth.Nominal()+shaft.Nominal(), math.Hypot(depth.StandardUncertainty(), shaft.StandardUncertainty())
	return a, true
}

func (a arm) lever() (lever, u float64, err error) {
	return bench.ArmLever(a.pivot, a.rope, a.jet, a.uPivot, a.uRope, a.uJet)
}

// Weight of water for the lift of an arm: from fresh water in summer to the sea's, N/m³.
const waterWeightLow, waterWeightHigh = 9770.0, 10090.0

// readLevel reads how the water rose and fell.
func readLevel(doc *design.Document, head *design.Sheet, kind string, a arm, pivoted bool) (bench.Level, notice.List) {
	var l bench.Level
	var faults notice.List
	second, metre := quantity.MustUnit("s"), quantity.MustUnit("mm")
	for _, e := range doc.Entries() {
		if e.Path != levelKey {
			continue
		}
		l.Place = e.Place
		fault := func(p quantity.Place, what string) {
			faults = append(faults, notice.Notice{
				Kind: notice.Error, Place: p, Path: levelKey, Excerpt: e.Excerpt, What: what, WayOut: `type two times or more on the clock of the run's main log, each with the height over any fixed mark, as in water_level = ["0 s = 300 mm", "900 s = 280 mm"]`,
			})
		}
		for _, el := range e.Elements {
			when, height, both := strings.Cut(el.Value, "=")
			t, err1 := quantity.ParseIn(strings.TrimSpace(when), second)
			h, err2 := quantity.ParseIn(strings.TrimSpace(height), metre)
			if !both || err1 != nil || err2 != nil || el.Kind != design.String {
				fault(el.Place, fmt.Sprintf("%q is no time with the height of the water", el.Value))
				continue
			}
			if n := len(l.Times); n > 0 && !(t.Nominal() > l.Times[n-1]) {
				fault(el.Place, fmt.Sprintf("%q does not come after the time before it", el.Value))
				continue
			}
			l.Times, l.Heights, l.UHeight = append(l.Times, t.Nominal()), append(l.Heights, h.Nominal()), math.Max(l.UHeight, h.StandardUncertainty())
		}
		if len(l.Times) < 2 && faults == nil {
			fault(e.Place, "one height says nothing of a change")
		}
	}
	if len(l.Times) < 2 {
		return bench.Level{}, faults
	}
	area, haveArea := head.Value("waterline_area")
	side, haveSide := head.Value("waterline_lever")
	pull, havePull := head.Value("level_pull")
	switch {
	case havePull:
		l.Pull, l.UPull = pull.Nominal(), pull.StandardUncertainty()
	case pivoted && haveArea && haveSide:
		const weight, uWeight = 0.5 * (waterWeightLow + waterWeightHigh), 0.5 * (waterWeightHigh - waterWeightLow)
		rope := math.Abs(a.pivot - a.rope)
		l.Pull = bench.BuoyancyPull(weight, 1, area.Nominal(), side.Nominal(), rope)
		// each alone, as a product's do
		l.UPull = math.Hypot(math.Hypot(bench.BuoyancyPull(uWeight/math.Sqrt(3), 1, area.Nominal(), side.Nominal(), rope), bench.BuoyancyPull(weight, 1, area.StandardUncertainty(), side.Nominal(), rope)),
			math.Hypot(bench.BuoyancyPull(weight, 1, area.Nominal(), side.StandardUncertainty(), rope), l.Pull*math.Hypot(a.uPivot, a.uRope)/rope))
	case kind == "pivot":
		faults = append(faults, notice.Notice{
			Kind: notice.Warning, Place: l.Place, Path: levelKey, What: "nothing says what a rise of the water does to the pull of the arm: only what goes evenly with time is taken out, by the zero windows",
			WayOut: `type level_pull = "0.06 N/mm ± 0.03 N/mm", or waterline_area and waterline_lever`,
		})
	}
	return l, faults
}
