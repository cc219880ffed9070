package desk

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"jetwright/design"
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
	Flows     []FlowAt    // what flow coefficient the nozzle holds at other craft speeds, from the same battery power
	Draws     int
	Failed    map[string]int
	Notices   notice.List
	Cautions  []Caution

	Designed *drive.DesignedBlades // of blades --design; nil otherwise
	Holds    []Hold                // of blades --design: what making has to hold
	Also     []Typed               // of blades --design: what else of the drive has to be changed
}

// FlowAt is the flow coefficient at a craft speed.
type FlowAt struct{ Speed, FlowCoefficient float64 }

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

// Hold is a number of the blades as made that the head hangs on.
type Hold struct {
	Input
	Row       string  // impeller or stator
	Edge      int     // of an angle: its place in drive.BladeWork.PerDegree; −1 of anything else
	Low, High float64 // SI, as typed or assumed
}

// holds lists what making blades has to hold, from what is typed or assumed of it.
func holds(d *design.Design, found *drive.DesignedBlades) []Hold {
	var out []Hold
	rows := []string{"impeller", "stator"}
	if found.Pump.Stator.Blades == 0 {
		rows = rows[:1]
	}
	add := func(path, row string, edge int, v quantity.Value) {
		f, _ := d.Field(path)
		out = append(out, Hold{Input{path, v.String(), f.Doc}, row, edge, v.Low(), v.High()})
	}
	for i, row := range rows {
		for j, key := range []string{"inlet_angle_offset", "outlet_angle_offset"} {
			if v, ok := d.Value(row + "." + key); ok {
				add(row+"."+key, row, 2*i+j, v)
			}
		}
	}
	const gap = "impeller.tip_gap"
	v, ok := d.Value(gap)
	if f, known := d.Field(gap); !ok && known {
		low, high := drive.TipGapAssumed()
		v, ok = quantity.Between(low, high, f.Unit), true
	}
	if as := found.Pump.Impeller.TipGap; ok && as < v.Low() { // found for another
		v = quantity.Exact(as, v.Unit())
	}
	if ok {
		add(gap, "impeller", -1, v)
	}
	for _, row := range rows {
		for _, key := range []string{"leading_radius", "trailing_radius"} {
			if v, ok := d.Value(row + "." + key); ok {
				add(row+"."+key, row, -1, v)
			}
		}
	}
	return out
}

// BladesRoomAnswer is what there is to know about a drive's blades: the pump from its own, where there are any, and the sections that the duty
// asks for.
type BladesRoomAnswer struct {
	Folder  string
	Grade   string        // where the pump's curve comes from
	Own     *BladesAnswer // nil without
	Missing []string      // keys that own blades still lack
	Found   *BladesAnswer // nil where none are found
	WhyNot  string        // why there are none as the drive is
	Instead string        // with what they are found all the same
	Notices notice.List
}

// BladesRoom answers with a drive's blades and with those that its duty asks for.
func BladesRoom(p *project.Project, o Options) (*BladesRoomAnswer, error) {
	a := &BladesRoomAnswer{Folder: p.Folder, Grade: p.Design.Nominal().Impeller.Grade, Notices: p.Notices}
	var err error
	if p.Design.Bladed() {
		if a.Own, err = Blades(p, o); err != nil {
			return nil, err
		}
	} else {
		for _, key := range []string{"impeller.inlet_angle", "impeller.outlet_angle", "impeller.chord", "impeller.thickness"} {
			if _, ok := p.Design.TypedAt(key); !ok {
				a.Missing = append(a.Missing, key)
			}
		}
	}
	a.Found, err = bladesDesigned(p, UsualBlades())
	var none *drive.NoBlades
	if errors.As(err, &none) {
		n := noneFound(none)
		a.WhyNot = n.What + "; " + n.WayOut
		if len(none.Instead) > 0 {
			nominal := p.Design.Nominal()
			o := &none.Instead[0]
			a.Instead = otherWays(none)[0]
			a.Found = &BladesAnswer{Folder: p.Folder, Condition: nominal.DutyCondition(), Designed: o.Found, Holds: holds(p.Design, o.Found), Also: alsoTyped(none, o)}
		}
		return a, nil
	}
	if err != nil {
		a.Found, a.WhyNot = nil, noticesOf(err)[0].What
	}
	return a, nil
}

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
	if top := a.Work.OtherSpeed; !math.IsNaN(top) {
		for _, v := range []float64{top / 2, top} {
			if v == c.Speed || v == 0 && top > 0 {
				continue
			}
			if at, err := s.Nominal.Solve(drive.Condition{Speed: v, Demand: drive.BatteryPower, Amount: r.Nominal.BatteryPower}); err == nil {
				a.Flows = append(a.Flows, FlowAt{v, at.Jet.FlowCoefficient})
			}
			if top == 0 {
				break
			}
		}
	}
	for _, path := range scatterPaths {
		if v, known := p.Design.Value(path); known {
			f, _ := p.Design.Field(path)
			a.Scatter = append(a.Scatter, Input{path, v.String(), f.Doc})
		}
	}
	return a, nil
}

// BladesAsked says how sections are to be found; what is not a number is left as usual.
type BladesAsked struct {
	Vortex     float64 // share of the swirl that turns as a solid body
	RotorSpeed float64 // rad/s, in the place of the design point's; 0 for that
	Diffusion  float64 // largest diffusion factor on impeller and stator
	Thickness  float64 // m, that no section goes below; twice the least wall of the process as usual
}

// UsualBlades asks for sections as usual.
func UsualBlades() BladesAsked {
	return BladesAsked{Vortex: math.NaN(), Diffusion: math.NaN(), Thickness: math.NaN()}
}

// AskBlades reads how sections are to be found, as typed; what is empty is left as usual.
func AskBlades(vortex, rotorSpeed, diffusion, thickness string) (BladesAsked, error) {
	a := UsualBlades()
	schema := drive.BladeDutySchema()
	for _, k := range []struct {
		flag, text, path string
		to               *float64
	}{{"vortex", vortex, "vortex", &a.Vortex}, {"diffusion", diffusion, "diffusion", &a.Diffusion}, {"thickness", thickness, "least_thickness", &a.Thickness}} {
		if k.text == "" {
			continue
		}
		f, _ := schema.Lookup(k.path)
		v, err := quantity.ParseIn(k.text, f.Unit)
		if err == nil && !f.Range.Contains(v.Nominal()) {
			err = errors.New("it lies outside of what is possible")
		}
		if err != nil {
			return a, notice.List{{Kind: notice.Error, What: fmt.Sprintf("--%s %q: %v", k.flag, k.text, err), Allowed: f.Doc + ", " + f.Range.Text(f.Unit)}}
		}
		*k.to = v.Nominal()
	}
	if rotorSpeed != "" {
		at, err := ReadPredictAt(PredictFlags{RotorSpeed: []string{rotorSpeed}, Place: "battery"})
		if err != nil {
			return a, err
		}
		a.RotorSpeed = at.Demands[0].Amount
	}
	return a, nil
}

// BladesDesigned finds sections for the duty.
func BladesDesigned(p *project.Project, asked BladesAsked) (*BladesAnswer, error) {
	a, err := bladesDesigned(p, asked)
	var none *drive.NoBlades
	if !errors.As(err, &none) {
		return a, err
	}
	return nil, notice.List{noneFound(none)}
}

// noneFound says that a duty has no blades, and what would be enough.
func noneFound(none *drive.NoBlades) notice.Notice {
	n := notice.Notice{
		Kind: notice.Error, Place: quantity.Place{File: project.DesignFile},
		What:    fmt.Sprintf("no blades are found for %.3g m at %.3g L/s and %.4g rpm: %s", none.Head, 1e3*none.Flow, none.RotorSpeed*30/math.Pi, none.Reason),
		Allowed: "a head that the blades can give at their speed", WayOut: "ask for less head with a larger nozzle, or for more diameter",
	}
	if len(none.Instead) > 0 {
		n.WayOut = "for the same head and flow there are some with " + strings.Join(otherWays(none), ", or with ") + "; a larger nozzle asks for less head"
	}
	return n
}

// alsoTyped are the keys that blades found with something else changed go with.
func alsoTyped(n *drive.NoBlades, o *drive.OtherBlades) []Typed {
	var out []Typed
	mm := func(x float64) string { return fmt.Sprintf("%q", fmt.Sprintf("%.4g mm", 1e3*x)) }
	if o.Hub != n.Hub {
		out = append(out, Typed{"impeller.hub_diameter", mm(o.Hub)})
	}
	if o.Gap < n.Gap {
		out = append(out, Typed{"impeller.tip_gap", mm(o.Gap)})
	}
	if o.Filled {
		out = append(out, Typed{"impeller.surface", `"filled"`}, Typed{"stator.surface", `"filled"`})
	}
	return out
}

// otherWays words what would be enough for blades.
func otherWays(n *drive.NoBlades) []string {
	var out []string
	for _, o := range n.Instead {
		var parts []string
		if o.RotorSpeed != n.RotorSpeed {
			parts = append(parts, fmt.Sprintf("%.0f rpm (--rotor-speed)", o.RotorSpeed*30/math.Pi))
		}
		if o.Hub != n.Hub {
			parts = append(parts, fmt.Sprintf("a hub of %.0f mm", 1e3*o.Hub))
		}
		if o.Gap < n.Gap {
			parts = append(parts, fmt.Sprintf("a tip gap of %.2g mm", 1e3*o.Gap))
		}
		if o.Filled {
			parts = append(parts, "filled surfaces")
		}
		way := strings.Join(parts, " and ")
		if o.Found.Cavitates() {
			way += " (which cavitate by this method)"
		}
		out = append(out, way)
	}
	return out
}

func bladesDesigned(p *project.Project, asked BladesAsked) (*BladesAnswer, error) {
	nominal := p.Design.Nominal()
	m, err := nominal.Resolve()
	if err != nil {
		return nil, unsolved(p, err)
	}
	duty := drive.UsualBladeDuty()
	duty.LeastThickness = 2 * nominal.Process.MinimumWall
	for _, k := range []struct {
		asked float64
		to    *float64
	}{{asked.Vortex, &duty.Vortex}, {asked.Diffusion, &duty.Diffusion}, {asked.Diffusion, &duty.StatorLoad}, {asked.Thickness, &duty.LeastThickness}} {
		if !math.IsNaN(k.asked) {
			*k.to = k.asked
		}
	}
	_, placed := p.Design.TypedAt("stator.start")
	d, err := m.DesignBlades(duty, placed, asked.RotorSpeed)
	var none *drive.NoBlades
	if errors.As(err, &none) {
		return nil, err
	}
	if err != nil {
		return nil, unsolved(p, err)
	}
	return &BladesAnswer{Folder: p.Folder, Condition: nominal.DutyCondition(), Designed: d, Holds: holds(p.Design, d), Notices: p.Notices, Cautions: bladeCautions(&nominal)}, nil
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
func BladesDesignedIn(folder string, asked BladesAsked) (*BladesAnswer, error) {
	return in(folder, func(p *project.Project) (*BladesAnswer, error) { return BladesDesigned(p, asked) })
}
