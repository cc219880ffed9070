package desk

import (
	"fmt"
	"math"

	"jetwright/drive"
	"jetwright/explore"
	"jetwright/notice"
	"jetwright/project"
	"jetwright/quantity"
)

// BladesAnswer is the pump worked out from its blades at the design point.
type BladesAnswer struct {
	Folder    string
	Condition drive.Condition
	State     Figures
	Work      *drive.BladeWork // nominal, solved in full
	Scatter   []Input
	Bands     []BladeBand // at each point of the work's curve
	Draws     int
	Failed    map[string]int
	Notices   notice.List
	Cautions  []Caution

	Designed *drive.DesignedBlades // of blades --design; nil otherwise
}

// BladeBand is what holds nine in ten of the drawn pumps at a flow and the nominal rotor speed, tolerances and scatter of the method
// in it. It has no value where fewer than that have a state there.
type BladeBand struct{ Head, Efficiency explore.Figure }

// bandFrom is the share of the drawn pumps that a band has to rest on.
const bandFrom = 0.9

func bladeBands(w *drive.BladeWork, s *explore.Sample) []BladeBand {
	out := make([]BladeBand, len(w.Curve))
	none := explore.Figure{Value: math.NaN(), Low: math.NaN(), High: math.NaN()}
	for i, c := range w.Curve {
		var heads, efficiencies []float64
		drawn := 0
		for _, m := range s.Machines {
			if m == nil {
				continue
			}
			drawn++
			if h, e, ok := m.PumpAt(w.State.RotorSpeed, c.Flow); ok {
				heads, efficiencies = append(heads, h), append(efficiencies, e)
			}
		}
		out[i] = BladeBand{none, none}
		if drawn > 0 && float64(len(heads)) >= bandFrom*float64(drawn) {
			out[i] = BladeBand{explore.Interval(c.Head, heads), explore.Interval(c.Efficiency, efficiencies)}
		}
	}
	return out
}

// Input is a number of the design as it is used, in words.
type Input struct{ Path, Text, Doc string }

// scatterPaths are the numbers by which the method's own scatter enters.
var scatterPaths = []string{"terms.head_factor", "terms.efficiency_offset", "terms.breakdown_factor", "terms.angle_scatter"}

// Blades answers what the blades do at the design point.
func Blades(p *project.Project, o Options) (*BladesAnswer, error) {
	if !p.Design.Bladed() {
		return nil, noBlades(p)
	}
	s, err := explore.New(p.Design, o.draws(DrawsAPoint), o.seed())
	if err != nil {
		return nil, unsolved(p, err)
	}
	return bladesOf(p, s)
}

func noBlades(p *project.Project) error {
	n := notice.Notice{
		Kind: notice.Error, Place: quantity.Place{File: project.DesignFile}, What: "no blade sections are typed",
		Allowed: "inlet_angle, outlet_angle, chord and thickness under [impeller], and under [stator] if there is one",
		WayOut:  "find sections for the duty with: jetwright blades " + p.Folder + " --design",
	}
	return notice.List{n}
}

// bladesOf answers from a sample that is there already.
func bladesOf(p *project.Project, s *explore.Sample) (*BladesAnswer, error) {
	nominal := p.Design.Nominal()
	c := nominal.DutyCondition()
	r := s.Solve(c)
	if r.Err != nil {
		return nil, unsolved(p, r.Err)
	}
	a := &BladesAnswer{
		Folder: p.Folder, Condition: c, State: spread(r), Draws: r.Draws, Failed: r.Failed, Notices: p.Notices, Cautions: bladeCautions(&nominal),
	}
	var ok bool
	if a.Work, ok = s.Nominal.BladeWorkAt(&r.Nominal); !ok {
		low, high := s.Nominal.Path.Blades.Ends()
		return nil, unsolved(p, fmt.Errorf("the blades have no state at the flow coefficient %.3g that this nozzle asks for: they work from %.3g to %.3g", r.Nominal.Jet.FlowCoefficient, low, high))
	}
	a.Bands = bladeBands(a.Work, s)
	for _, path := range scatterPaths {
		if v, known := p.Design.Value(path); known {
			f, _ := p.Design.Field(path)
			a.Scatter = append(a.Scatter, Input{path, v.String(), f.Doc})
		}
	}
	return a, nil
}

// BladesDesigned finds sections for the duty: vortex says how the swirl lies over the span, NaN for the usual.
func BladesDesigned(p *project.Project, vortex float64) (*BladesAnswer, error) {
	nominal := p.Design.Nominal()
	m, err := nominal.Resolve()
	if err != nil {
		return nil, unsolved(p, err)
	}
	duty := drive.UsualBladeDuty()
	if !math.IsNaN(vortex) {
		duty.Vortex = vortex
	}
	_, placed := p.Design.TypedAt("stator.start")
	d, err := m.DesignBlades(duty, placed)
	if err != nil {
		return nil, unsolved(p, err)
	}
	return &BladesAnswer{Folder: p.Folder, Condition: nominal.DutyCondition(), Designed: d, Notices: p.Notices, Cautions: bladeCautions(&nominal)}, nil
}

// bladeCautions are those that matter beside blades.
func bladeCautions(d *drive.Drive) []Caution {
	var out []Caution
	for _, c := range cautions(d) {
		switch c.Topic {
		case "rotating parts", "rules":
			out = append(out, c)
		}
	}
	return out
}

// BladeHole is a stretch of flows in m³/s, at the rotor speed of the curve, in which the blades have no state.
type BladeHole struct {
	Low, High float64
	Above     bool // the flows of the curve lie below it
	Why       string
}

// Holes are the flows at which the blades have no state.
func (a *BladesAnswer) Holes() []BladeHole {
	w := a.Work
	unit := w.State.RotorSpeed * w.Diameter * w.Diameter * w.Diameter
	var out []BladeHole
	for _, h := range w.Holes {
		out = append(out, BladeHole{
			Low: unit * h.Low, High: unit * h.High, Why: h.Reason.Error(),
			Above: h.Low > w.State.FlowCoefficient || unit*h.Low >= 0.999*w.Curve[len(w.Curve)-1].Flow,
		})
	}
	return out
}

// BladesIn answers Blades for a folder.
func BladesIn(folder string, o Options) (*BladesAnswer, error) {
	return in(folder, func(p *project.Project) (*BladesAnswer, error) { return Blades(p, o) })
}

// BladesDesignedIn answers BladesDesigned for a folder.
func BladesDesignedIn(folder string, vortex float64) (*BladesAnswer, error) {
	return in(folder, func(p *project.Project) (*BladesAnswer, error) { return BladesDesigned(p, vortex) })
}
