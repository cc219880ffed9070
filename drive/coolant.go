package drive

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"jetwright/notice"
	"jetwright/physics/heat"
	"jetwright/physics/water"
	"jetwright/quantity"
)

// Coolant returns what the coolant does for plate and jacket at a velocity of the jet and of the craft in m/s: flow, rates and
// resistances. This is the one place where the drive meets its coolant, typed part by part or by [cooling] alone.
func (m *Machine) Coolant(jetVelocity, craftSpeed float64) heat.Streams {
	if m.coolant != nil {
		return m.coolant.At(jetVelocity, craftSpeed)
	}
	c := &m.Drive.Cooling
	flow := m.Path.CoolantShare * m.Path.JetArea * jetVelocity
	carried := flow*m.heatCapacity + c.StillLoss
	s := heat.Streams{
		Flow: flow, Tapped: flow, Carried: carried, PlateRate: carried, JacketRate: carried,
		PlateToCoolant: c.PlateToCoolant, JacketToCoolant: c.JacketToCoolant,
	}
	if m.controllerTop {
		s.ToJacket = 1
	} else {
		s.ToPlate = 1
	}
	return s
}

// CoolantTable returns the typed circuit of the coolant; nil where none is typed.
func (m *Machine) CoolantTable() *heat.Table { return m.coolant }

// CoolantPart is a part of the coolant's way as it is typed.
type CoolantPart = heat.Part

// Kinds of part that a design asks for by name.
const (
	CoolantTap    = heat.KindTap
	CoolantHose   = heat.KindHose
	CoolantPlate  = heat.KindPlate
	CoolantJacket = heat.KindJacket
)

// CoolantFaults returns what is wrong with the parts of the coolant, each with the index of its part.
func (d *Drive) CoolantFaults() []heat.Fault {
	if len(d.Coolant) == 0 {
		return nil
	}
	l, faults := heat.NewLayout(d.Coolant)
	if len(faults) > 0 {
		return faults
	}
	_, err := heat.NewTable(l, d.coolantSetting())
	var list notice.List
	switch {
	case err == nil:
	case errors.As(err, &list):
		for _, n := range list {
			f := heat.Fault{What: n.What, Allowed: n.Allowed, WayOut: n.WayOut}
			for i := range l.Parts {
				if strings.Contains(n.What, strconv.Quote(l.Parts[i].Name)) {
					f.Part = i
				}
			}
			faults = append(faults, f)
		}
	default:
		faults = append(faults, heat.Fault{What: "the coolant cannot be worked out: " + err.Error()})
	}
	return faults
}

func (d *Drive) coolantSetting() heat.Setting {
	return heat.Setting{Water: d.Water, Gravity: water.StandardGravity, StillLoss: d.Cooling.StillLoss, Cooling: d.Cooling}
}

// WithCoolant returns the machine with another circuit, its pump as it was placed. The error is a notice.List, an *Unmet, or one of heat.
func (m *Machine) WithCoolant(parts []heat.Part) (*Machine, error) {
	out := *m
	out.Drive.Coolant = parts
	if err := out.layCoolant(); err != nil {
		return nil, err
	}
	return &out, nil
}

// layCoolant works out the circuit that is typed.
func (m *Machine) layCoolant() error {
	parts := append([]heat.Part(nil), m.Drive.Coolant...)
	for i := range parts {
		if t := &parts[i].Tap; parts[i].Kind == heat.KindTap && t.Station != "" && !t.Pressure.Set {
			t.PerKinetic = m.stationPressure(t.Station, t.Takes)
		}
	}
	l, faults := heat.NewLayout(parts)
	if len(faults) > 0 {
		var list notice.List
		for _, f := range faults {
			list = append(list, notice.Notice{Kind: notice.Error, Path: "coolant", What: f.What, Allowed: f.Allowed, WayOut: f.WayOut})
		}
		return list
	}
	t, err := m.Drive.laid.table(parts, m.Drive.Water, func() (*heat.Table, error) { return heat.NewTable(l, m.Drive.coolantSetting()) })
	var unsolved *heat.Unsolved
	if errors.As(err, &unsolved) {
		return &Unmet{Reason: NotConverged, Condition: m.Drive.DutyCondition()}
	}
	if err != nil {
		return err
	}
	t = t.With(m.Drive.coolantSetting())
	m.coolant = t
	m.Chain.Aside(t.PumpPower())
	m.Path.CoolantShare = 0
	m.Path.Coolant = t.Curve()
	return nil
}

// KeepCoolant lets the drive, and all that are copied from it, share the tables of their coolant: where no number that the circuit
// hangs on differs from one of those worked out last, its table is taken and not made again. What is worked out is the same to the
// last bit.
func (d *Drive) KeepCoolant() { d.laid = &laidCoolants{} }

// mostLaid is how many tables are kept: a fit moves one number after another about a point that stays.
const mostLaid = 24

// laidCoolants are the tables worked out last, the latest first.
type laidCoolants struct {
	mu   sync.Mutex
	list []laidCoolant
}

type laidCoolant struct {
	parts []heat.Part
	water water.Water
	table *heat.Table
}

// table returns the table of parts in a water, made where it is not there.
func (l *laidCoolants) table(parts []heat.Part, w water.Water, make func() (*heat.Table, error)) (*heat.Table, error) {
	if l == nil {
		return make()
	}
	l.mu.Lock()
	for i := range l.list {
		if x := l.list[i]; x.water == w && slices.Equal(x.parts, parts) {
			copy(l.list[1:i+1], l.list[:i])
			l.list[0] = x
			l.mu.Unlock()
			return x.table, nil
		}
	}
	l.mu.Unlock()
	t, err := make()
	if err != nil {
		return nil, err
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	if len(l.list) < mostLaid {
		l.list = append(l.list, laidCoolant{})
	}
	copy(l.list[1:], l.list)
	l.list[0] = laidCoolant{parts, w, t}
	return t, nil
}

// stationPressure is the pressure of a tap over that of the jet's speed, counted from the water's surface.
//
//	stagnation: 1 + ζ ahead of the nozzle, 1 at its outlet;  static: less v²/v₇² there
//
//	ζ   nozzle loss coefficient
//	v   mean velocity at the station; v₇ of the jet
//
// The height that the jet is lifted above the surface is left out: the pressure is on the low side by it.
func (m *Machine) stationPressure(station, takes string) float64 {
	total, ratio := 1.0, m.Path.JetArea/m.Path.NozzleArea
	if station == "nozzle inlet" {
		total, ratio = 1+m.Drive.Nozzle.Loss, m.Path.JetArea/m.Path.ExitArea
	}
	if takes == "static" {
		return total - ratio*ratio
	}
	return total
}

// coolantLimits appends what a typed circuit is held to.
func (m *Machine) coolantLimits(dst []quantity.Limit, s State) []quantity.Limit {
	t := m.coolant
	if t == nil {
		return dst
	}
	high, narrow := m.coolantMoves()
	fills := quantity.Limit{
		Name: "pressure that fills the coolant", Part: "coolant", Unit: "kPa", Value: s.Coolant.Pressure, Allowed: t.Filling, Sense: quantity.AtLeast, Factor: 1,
		Zero: math.Max(s.Coolant.Pressure, 2*t.Filling+1), Why: "below it no coolant flows at all, until somebody fills the hoses by hand", Source: "own", Moves: high,
	}
	lock := quantity.Limit{
		Name: "pressure that clears air out", Part: "coolant", Unit: "kPa", Value: s.Coolant.Pressure, Allowed: t.AirLock, Sense: quantity.AtLeast, Factor: 1,
		Zero: math.Max(s.Coolant.Pressure, 2*t.AirLock+1), Why: "air in a falling hose holds the water back, and the parts get no coolant", Source: "own", Moves: high,
	}
	flow := quantity.Limit{
		Name: "coolant flow", Part: "coolant", Unit: "L/min", Value: s.Heat.CoolantFlow, Allowed: m.leastFlow(s), Sense: quantity.AtLeast, Factor: 1,
		Zero: math.Max(s.Heat.CoolantFlow, 2*m.leastFlow(s)), Why: "with less the coolant is warmer than its bound at the outlet", Source: "own", Moves: narrow,
	}
	boils := quantity.Limit{
		Name: "pressure at the coolant's high point", Part: "coolant", Unit: "kPa", Value: s.Coolant.Lowest, Allowed: t.Operating.Vapour, Sense: quantity.AtLeast, Factor: 1,
		Zero: t.Operating.AirPressure, Why: "below the vapour's pressure the stream breaks", Source: "own", Moves: high,
	}
	return append(dst, fills, lock, flow, boils)
}

// coolantMoves are the keys of the part that lies highest and of the one that is narrowest.
func (m *Machine) coolantMoves() (high, narrow []string) {
	top := math.Inf(-1)
	for i := range m.coolant.Layout.Parts {
		p := &m.coolant.Layout.Parts[i]
		z, key := math.Inf(-1), "high_point"
		switch p.Kind {
		case heat.KindHose:
			z = p.Hose.HighPoint
		case heat.KindPlate:
			z = p.Plate.HighPoint
		case heat.KindJacket:
			z = p.Jacket.HighPoint
		case heat.KindKeel:
			z = p.Keel.HighPoint
		case heat.KindOutlet:
			z, key = p.Outlet.Height, "height"
		}
		if z > top {
			top, high = z, []string{fmt.Sprintf("coolant[%d].%s", i, key)}
		}
	}
	if i := m.coolant.Layout.Narrowest(); i >= 0 {
		key := "width"
		if k := m.coolant.Layout.Parts[i].Kind; k == heat.KindHose || k == heat.KindFitting {
			key = "bore"
		}
		narrow = []string{fmt.Sprintf("coolant[%d].%s", i, key)}
	}
	return high, narrow
}

// leastFlow is the flow at which the coolant leaves at its bound, m³/s.
//
//	Q = (ΣP/(T_max − T_in) − still loss)/(ρ·c)
//
//	ΣP  heat of motor and controller, W
func (m *Machine) leastFlow(s State) float64 {
	heats := s.Motor.CopperLoss + s.Motor.NoLoadLoss + s.Supply.Heat()
	span := m.Drive.Cooling.OutletLimit - m.Drive.Water.Temperature
	if span <= 0 {
		return math.Max(s.Heat.CoolantFlow, 1e-9) * 1e3
	}
	return math.Max(0, (heats/span-m.Drive.Cooling.StillLoss)/m.heatCapacity)
}

// Clogged returns the machine with the narrowest place of its coolant's way left open to a share of its area, and that place's name:
// a part, or the tap of [cooling].
func (m *Machine) Clogged(open float64) (*Machine, string, error) {
	if m.coolant == nil {
		out := *m
		out.Drive.Cooling.LossCoefficient += heat.Clog(open)
		out.Path.CoolantShare = out.coolantShare()
		return &out, "tap of [cooling]", nil
	}
	i := m.coolant.Layout.Narrowest()
	if i < 0 {
		return m, "", nil
	}
	out, err := m.WithCoolant(heat.Clogged(m.Drive.Coolant, i, open))
	return out, m.coolant.Layout.Parts[i].Name, err
}

// PowerAtRest returns the battery power in W at which the jet has a velocity in m/s, at rest. The error is an *Unmet.
//
//	v₇(Ω) = v,  P = P_battery(Ω)
//
//	Ω  rotor speed, rad/s
//
// Holds where the battery can give it.
//
// Source: own. Tests: TestPowerAtRestExact.
func (m *Machine) PowerAtRest(velocity float64) (float64, error) {
	c := Condition{Demand: RotorSpeed, Amount: 2 * velocity / m.Path.Impeller.Diameter}
	if m.Design.RotorSpeed > 0 {
		c.Amount = m.Design.RotorSpeed * velocity * m.Path.JetArea / m.Design.Flow
	}
	for range 60 {
		s, err := m.Solve(c)
		if err != nil {
			return 0, err
		}
		if math.Abs(s.Jet.JetVelocity/velocity-1) < 1e-9 {
			return s.BatteryPower, nil
		}
		c.Amount *= velocity / s.Jet.JetVelocity // the two go about together
	}
	return 0, &Unmet{Reason: NotConverged, Condition: c}
}

// WaterPath is the coolant as a conductor between a part's wet metal and the sea.
type WaterPath struct {
	Part       string  // its name
	Resistance float64 // Ω; infinite where no coolant leads to the sea
	Current    float64 // A at the full pack's voltage, if insulation fails
	Voltage    float64 // V
}

// Least resistivities of water that are usual, Ω·m: what is not known is taken at its bad end.
const seaResistivity, freshResistivity = 0.19, 10.0

// WaterPaths returns what the coolant conducts from plate and jacket, where they are typed.
func (d *Drive) WaterPaths() []WaterPath {
	if len(d.Coolant) == 0 {
		return nil
	}
	l, faults := heat.NewLayout(d.Coolant)
	if len(faults) > 0 {
		return nil
	}
	resistivity := freshResistivity
	if d.Water.Kind == "sea" {
		resistivity = seaResistivity
	}
	resistivity = d.Cooling.WaterResistivity.Or(resistivity)
	var out []WaterPath
	for i := range l.Parts {
		if k := l.Parts[i].Kind; k == heat.KindPlate || k == heat.KindJacket {
			p := WaterPath{Part: l.Parts[i].Name, Resistance: l.WayToSea(k, resistivity), Voltage: d.Battery.FullVoltage()}
			p.Current = p.Voltage / p.Resistance
			out = append(out, p)
		}
	}
	return out
}
