package drive

import (
	"math"
	"reflect"
	"slices"
	"sync"

	"jetwright/notice"
	"jetwright/physics/blade"
	"jetwright/physics/jet"
	"jetwright/physics/water"
	"jetwright/quantity"
)

// Grades of the impeller's pump curve.
const (
	GradeEstimated = "estimated"
	GradeTable     = "table"
	GradeBlades    = "blades"
)

// BladeRadii is the number of stream surfaces that the blades of a drive are worked out on.
const BladeRadii = 7

// The map of a pump is made in one water at one tip speed, so that it does not depend on which drive asks first; what the
// Reynolds number of a drive changes is one of its derivatives.
const (
	mapTipSpeed  = 20.0     // m/s
	mapDensity   = 998.2    // kg/m³, fresh water at 20 °C
	mapViscosity = 1.004e-6 // m²/s
	rotorSpeed   = "rotor_speed"
)

// bladedPump is a settled map as the water path asks it: coefficients on the impeller's diameter, not on the casing's.
//
// Its Reynolds number is that of the design point.
type bladedPump struct {
	blade.Curve
	k1, k2, k3, k5 float64 // powers of the map's diameter over the impeller's
}

func (p *bladedPump) scale(ratio float64) {
	p.k1, p.k2, p.k3, p.k5 = ratio, ratio*ratio, ratio*ratio*ratio, math.Pow(ratio, 5)
}

// Head is blade.Curve's on the impeller's diameter.
func (p *bladedPump) Head(phi float64) (head, slope float64) {
	head, slope = p.Curve.Head(phi / p.k3)
	return head * p.k2, slope / p.k1
}

// Power is blade.Curve's on the impeller's diameter.
func (p *bladedPump) Power(phi float64) float64 { return p.Curve.Power(phi/p.k3) * p.k5 }

// Losses are blade.Curve's on the impeller's diameter.
func (p *bladedPump) Losses(phi float64) (best, offDesign float64) {
	best, offDesign = p.Curve.Losses(phi / p.k3)
	return best * p.k5, offDesign * p.k5
}

// Outside is blade.Curve's.
func (p *bladedPump) Outside(phi float64) bool { return p.Curve.Outside(phi / p.k3) }

// Breakdown is blade.Curve's on the impeller's diameter.
func (p *bladedPump) Breakdown(phi float64) (npsh, slope float64) {
	npsh, slope = p.Curve.Breakdown(phi / p.k3)
	return npsh * p.k2, slope / p.k1
}

// SwirlLeft is blade.Curve's on the impeller's diameter.
func (p *bladedPump) SwirlLeft(phi float64) (momentum, power float64) {
	momentum, power = p.Curve.SwirlLeft(phi / p.k3)
	return momentum * p.k2, power * p.k5
}

// Ends are blade.Curve's on the impeller's diameter.
func (p *bladedPump) Ends() (low, high float64) {
	low, high = p.Curve.Ends()
	return low * p.k3, high * p.k3
}

// Pump returns the blades of a drive with their channel: as typed, or the annulus between the impeller's two diameters.
func (d *Drive) Pump() blade.Pump {
	p := blade.Pump{Channel: d.Channel, Impeller: d.ImpellerRow, Stator: d.StatorRow, Terms: d.Terms}
	p.Impeller.Blades, p.Stator.Blades = d.Impeller.Blades, 0
	p.Impeller.TipGap, p.Impeller.GapEccentricity = d.Impeller.TipGap.Value, d.ImpellerTip.GapEccentricity
	if d.StatorBladed {
		p.Stator.Blades = d.Stator.Blades
	}
	if len(p.Channel.HubRadius) == 0 && len(p.Channel.TipRadius) == 0 {
		p.Channel = blade.Channel{HubRadius: []float64{d.Impeller.HubDiameter / 2}, TipRadius: []float64{d.Impeller.Diameter / 2}}
	}
	return p
}

// bladeMap is a map with the drive's numbers that it was made for.
type bladeMap struct {
	shape  blade.Pump // as typed; the numbers that the map knows the change by are those it was made at
	size   float64    // impeller diameter, m
	hub    float64    // its hub's, m
	once   sync.Once
	map_   *blade.Map
	reason blade.Reason
}

// bladeMaps are the maps of a design's blades that were made, the one that was asked for last first.
type bladeMaps struct {
	paths  []string // of the numbers that a map knows the change by, the rotor speed last
	own    *bladeMap
	before []*bladeMap // that designs before this one had; they serve none but the very same blades
	mu     sync.Mutex
	list   []*bladeMap
}

// mostMaps is how many maps are kept: a ranking changes one number after another about one design.
const mostMaps = 96

// KeepBlades lets the drive, and all that are copied from it, share the map of its blades, which knows the change by the numbers
// with these paths. The map is made when a drive is first worked out.
func (d *Drive) KeepBlades(paths []string) {
	d.maps = &bladeMaps{}
	for _, p := range paths {
		if _, ok := blade.StepOf(p); ok {
			d.maps.paths = append(d.maps.paths, p)
		}
	}
	d.maps.paths = append(d.maps.paths, rotorSpeed)
	d.maps.own = d.newBladeMap()
	d.maps.list = []*bladeMap{d.maps.own}
}

func (d *Drive) newBladeMap() *bladeMap {
	return &bladeMap{shape: d.shape(), size: d.Impeller.Diameter, hub: d.Impeller.HubDiameter}
}

// KeepBladesOf takes the map over that another drive has of the very same blades, made or to be made, so that a change of anything else solves
// no blades again. Both keep their blades.
func (d *Drive) KeepBladesOf(o *Drive) {
	if d.maps == nil || o.maps == nil || d.maps == o.maps || !slices.Equal(d.maps.paths, o.maps.paths) {
		return
	}
	o.maps.mu.Lock()
	before := slices.Concat([]*bladeMap{o.maps.own}, o.maps.before)
	o.maps.mu.Unlock()
	own := d.maps.own
	for i, m := range before {
		if m.size == own.size && m.hub == own.hub && reflect.DeepEqual(m.shape, own.shape) {
			d.maps.own, d.maps.list[0] = m, m
			before = slices.Delete(before, i, i+1)
			break
		}
	}
	d.maps.before = before[:min(len(before), mostBefore)]
}

// mostBefore is how many blades of before are kept, for changes that are undone.
const mostBefore = 12

// BladesKnow tells that the map of a machine's blades knows the change by a number, so that changing it is no new map.
func (m *Machine) BladesKnow(path string) bool {
	return m.blades != nil && m.Drive.maps != nil && slices.Contains(m.Drive.maps.paths, path)
}

// Bladed tells that the pump of a machine is worked out from its blades.
func (m *Machine) Bladed() bool { return m.blades != nil }

// NoCommonFactor tells that two blade numbers share no factor; see blade.NoCommonFactor.
func NoCommonFactor(a, b int) bool { return blade.NoCommonFactor(a, b) }

// shape is the pump by which maps are told apart: the sizes that a map is scaled by do not enter, nor what acts on the map
// after it is made.
func (d *Drive) shape() blade.Pump {
	p := d.Pump()
	p.Channel = d.Channel
	p.Impeller.GapEccentricity = 0
	n := blade.NominalTerms()
	p.Terms.HeadFactor, p.Terms.EfficiencyOffset, p.Terms.BreakdownFactor, p.Terms.AngleScatter = n.HeadFactor, n.EfficiencyOffset, n.BreakdownFactor, n.AngleScatter
	return p
}

// of returns the map for a drive, and the changes of its numbers from those that the map was made at.
func (b *bladeMaps) of(d *Drive) (*bladeMap, []float64) {
	p := d.shape()
	if b == nil {
		b = &bladeMaps{paths: []string{rotorSpeed}}
	}
	changes := make([]float64, len(b.paths))
	same := func(m *bladeMap) bool {
		q := p
		for i, path := range b.paths {
			if x := q.Number(path); x != nil {
				at := *m.shape.Number(path)
				changes[i], *x = *x-at, at
			}
		}
		return reflect.DeepEqual(q, m.shape)
	}
	find := func() *bladeMap {
		b.mu.Lock()
		defer b.mu.Unlock()
		for i, m := range b.list {
			if same(m) {
				copy(b.list[1:i+1], b.list[:i])
				b.list[0] = m
				return m
			}
		}
		m := &bladeMap{shape: p, size: d.Impeller.Diameter, hub: d.Impeller.HubDiameter}
		if len(b.list) == mostMaps {
			b.list = b.list[:mostMaps-1]
		}
		b.list = slices.Insert(b.list, 0, m)
		clear(changes)
		return m
	}
	m := find()
	m.once.Do(func() { m.make(b.paths) })
	return m, changes
}

// make makes the map.
func (m *bladeMap) make(paths []string) {
	p := m.shape
	if len(p.Channel.HubRadius) == 0 && len(p.Channel.TipRadius) == 0 {
		p.Channel = blade.Channel{HubRadius: []float64{m.hub / 2}, TipRadius: []float64{m.size / 2}}
	}
	var params []blade.Parameter
	for _, path := range paths {
		step, _ := blade.StepOf(path)
		params = append(params, blade.Parameter{Path: path, Step: step})
	}
	m.map_, m.reason = newMap(&p, params)
}

func newMap(p *blade.Pump, params []blade.Parameter) (*blade.Map, blade.Reason) {
	s, reason := blade.NewStage(p, BladeRadii)
	if reason != blade.Solved {
		return nil, reason
	}
	c := blade.Condition{RotorSpeed: mapTipSpeed / p.Channel.TipRadius[0], Density: mapDensity, Viscosity: mapViscosity, Gravity: water.StandardGravity}
	flow, ok := s.DesignFlow(c.RotorSpeed)
	if !ok {
		return nil, blade.Stalled
	}
	// the flow of least incidence, or the nearest at which the blades work
	last := blade.Stalled
	for _, share := range []float64{1, 0.9, 1.1, 0.8, 1.2, 0.7, 1.3, 1.4, 0.6, 1.5, 0.5} {
		c.Flow = share * flow
		m, reason := blade.NewMap(p, c, BladeRadii, params)
		if reason == blade.Solved {
			return m, reason
		}
		last = reason
	}
	return nil, last
}

// layBlades makes the pump out of the blades.
func (m *Machine) layBlades() error {
	d := &m.Drive
	made, changes := d.maps.of(d)
	if made.reason != blade.Solved {
		return &Unmet{Reason: BadBlades, Condition: d.DutyCondition(), Detail: made.reason.Error()}
	}
	m.blades = &bladedPump{}
	// the map is scaled with the impeller, so its diameter stays what it was over the impeller's
	m.blades.scale(made.map_.Diameter / made.size)
	m.Path.Pump, m.Path.Blades = m.blades, m.blades
	m.bladeMap, m.bladeChanges = made, changes
	omega := mapTipSpeed / (d.Impeller.Diameter / 2)
	for range 2 { // the Reynolds number is that of the design point
		m.settleBlades(omega)
		at, err := m.Solve(d.DutyCondition())
		if err != nil {
			return nil // what has no state there may have one elsewhere
		}
		omega = at.RotorSpeed
		m.Design = DesignPoint{
			Speed: at.Speed, RotorSpeed: omega, Flow: at.Jet.Flow, Head: at.Jet.Head,
			FlowCoefficient: at.Jet.FlowCoefficient, HeadCoefficient: at.Jet.HeadCoefficient,
		}
	}
	return nil
}

// settleBlades settles the map at a rotor speed in rad/s. Calibration and installation act on the terms.
//
//	head factor = f·exp(c_H),  η = (η_best + Δη)·k·exp(−c_P)
//
//	f    head factor                  [Terms.HeadFactor]
//	Δη   efficiency offset            [Terms.EfficiencyOffset]
//	k    installed factor             [Impeller.InstalledFactor]
//	c    what was measured            [Calibration]
func (m *Machine) settleBlades(omega float64) {
	d := &m.Drive
	size := d.Impeller.Diameter / m.bladeMap.size
	x := m.bladeChanges
	mapSpeed := m.bladeMap.map_.Condition.RotorSpeed
	x[len(x)-1] = math.Log(omega/mapSpeed*size*size) - math.Log(m.Water.KinematicViscosity/mapViscosity)
	t := d.Terms
	c := &m.blades.Curve
	m.bladeMap.map_.Settle(c, x, blade.NominalTerms())
	best := c.Best()
	t.EfficiencyOffset = (best+t.EfficiencyOffset)*d.Impeller.InstalledFactor*math.Exp(-d.Calibration.LnPower) - best
	t.HeadFactor *= math.Exp(d.Calibration.LnHead)
	m.bladeMap.map_.Settle(c, x, t)
}

// BladeState is what the blades do in a state.
type BladeState struct {
	GivenAngle            float64 `unit:"deg" doc:"mean angle of the water behind the impeller off the axis"`
	LeftAngle             float64 `unit:"deg" doc:"mean angle of the water behind the last row off the axis"`
	SwirlThrust           float64 `unit:"N" doc:"thrust that the swirl left costs the jet beyond the head that it has cost"`
	Diffusion             float64 `unit:"1" doc:"largest velocity on an impeller blade over that behind it"`
	StatorDiffusion       float64 `unit:"1" doc:"the same on the stator; 0 without one"`
	OnsetNPSH             float64 `unit:"m" doc:"net positive suction head below which bubbles appear on the blades"`
	BreakdownNPSH         float64 `unit:"m" doc:"net positive suction head below which the head falls"`
	SuctionSpecificSpeed3 float64 `unit:"1" doc:"suction specific speed at which the head is down 3 %, from the blades"`
	ProfileLoss           float64 `unit:"W" doc:"friction and wakes of smooth sections at the incidence of least loss"`
	RoughnessLoss         float64 `unit:"W" doc:"what rough blade surfaces add"`
	IncidenceLoss         float64 `unit:"W" doc:"what water that meets the edges at another angle adds"`
	EdgeLoss              float64 `unit:"W" doc:"what blunt edges add"`
	GapLoss               float64 `unit:"W" doc:"water over the blade tips"`
	WallLoss              float64 `unit:"W" doc:"friction on hub and casing"`
	SecondaryLoss         float64 `unit:"W" doc:"secondary flow in the passages"`
	FrictionLoss          float64 `unit:"W" doc:"friction on the hub's faces and the blade tips' faces"`
	LeakageLoss           float64 `unit:"W" doc:"flow that runs back through seals"`
	MixingLoss            float64 `unit:"W" doc:"uneven velocity behind the last row"`
	SwirlLoss             float64 `unit:"W" doc:"swirl left behind the last row"`
}

// bladeState fills in what the blades do.
func (m *Machine) bladeState(s *jet.State) BladeState {
	var p blade.Point
	b := m.blades
	b.At(s.FlowCoefficient/b.k3, &p)
	d := m.Path.Impeller.Diameter
	u2 := s.RotorSpeed * s.RotorSpeed * d * d
	head := b.k2 * u2 / m.Path.Medium.Gravity
	w := b.k5 * m.Path.Medium.Density * u2 * s.RotorSpeed * d * d * d
	return BladeState{
		GivenAngle: p.GivenAngle, LeftAngle: p.LeftAngle, SwirlThrust: m.Path.SwirlThrust(s.RotorSpeed, s.JetVelocity),
		Diffusion: p.Diffusion, StatorDiffusion: p.StatorDiffusion,
		OnsetNPSH: p.OnsetNPSH * head, BreakdownNPSH: p.BreakdownNPSH * head, SuctionSpecificSpeed3: m.Path.Suction3(s.FlowCoefficient),
		ProfileLoss: p.Loss.Profile * w, RoughnessLoss: p.Loss.Roughness * w, IncidenceLoss: p.Loss.Incidence * w, EdgeLoss: p.Loss.Edges * w,
		GapLoss: p.Loss.Gap * w, WallLoss: p.Loss.Annulus * w, SecondaryLoss: p.Loss.Secondary * w, FrictionLoss: p.Friction * w,
		LeakageLoss: p.Leakage * w, MixingLoss: p.Mixing * w, SwirlLoss: p.Swirl * w,
	}
}

// ledger lists the losses of the blades; their sum is the pump's.
func (b *BladeState) ledger() []Entry {
	list := []Entry{
		{"blades, friction and wakes", "blades.profile_loss", b.ProfileLoss},
		{"blades, rough surfaces", "blades.roughness_loss", b.RoughnessLoss},
		{"blades, incidence", "blades.incidence_loss", b.IncidenceLoss},
		{"blades, blunt edges", "blades.edge_loss", b.EdgeLoss},
		{"tip gap", "blades.gap_loss", b.GapLoss},
		{"hub and casing", "blades.wall_loss", b.WallLoss},
		{"secondary flow", "blades.secondary_loss", b.SecondaryLoss},
		{"discs and tip faces", "blades.friction_loss", b.FrictionLoss},
		{"back through seals", "blades.leakage_loss", b.LeakageLoss},
		{"uneven velocity", "blades.mixing_loss", b.MixingLoss},
		{"swirl left", "blades.swirl_loss", b.SwirlLoss},
	}
	return list
}

// HasBlades tells whether the pump is worked out from its blades, so that their figures are there.
func (s *State) HasBlades() bool { return s.Blades.Diffusion != 0 }

// bladeLimits appends the limits of the blades.
func (m *Machine) bladeLimits(dst []quantity.Limit, s *State) []quantity.Limit {
	if m.blades == nil {
		return dst
	}
	b := m.blades
	return b.Limits(dst, s.Jet.FlowCoefficient/b.k3, b.k1*m.Path.Impeller.Diameter, s.RotorSpeed, m.Path.Medium.Gravity, s.Jet.NPSHAvailable)
}

// TipGapAssumed returns the ends of the gap of a printed rotor that nobody measured, m.
func TipGapAssumed() (low, high float64) { return blade.TipGapAssumed[0], blade.TipGapAssumed[1] }

// BladePart returns the part whose blades a field of a drive describes, impeller or stator; empty for a field of anything
// else. Channel and terms count with the impeller.
func BladePart(f quantity.Field) string {
	switch reflect.TypeFor[Drive]().Field(f.Index[0]).Name {
	case "StatorRow":
		return "stator"
	case "ImpellerRow", "ImpellerTip", "Channel", "Terms":
		return "impeller"
	}
	return ""
}

// BladeFaults says what is wrong or doubtful with the blades as drawn, with paths as in the design file.
func (d *Drive) BladeFaults() []notice.Notice {
	p := d.Pump()
	list := p.Faults("channel", [2]string{"impeller", "stator"})
	for _, n := range list {
		if n.Kind == notice.Error {
			return list
		}
	}
	s, reason := blade.NewStage(&p, BladeRadii)
	if reason == blade.Solved {
		c := blade.Condition{RotorSpeed: mapTipSpeed / p.Channel.TipRadius[0], Density: mapDensity, Viscosity: mapViscosity, Gravity: water.StandardGravity}
		if _, reason = s.Works(c); reason == blade.Solved {
			return list
		}
	}
	return append(list, notice.Notice{
		Kind: notice.Error, Path: "impeller.inlet_angle", What: "the blades have no state at any flow: " + reason.Error(),
		Allowed: "angles and chords at which the water stays on the blades", WayOut: "begin with the sections that blades --design finds for the duty",
	})
}
