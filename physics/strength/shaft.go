package strength

import (
	"math"
	"strings"

	"jetwright/quantity"
)

// Factors that a small shop asks for, and what they rest on.
const (
	fatigueFactor  = 1.5 // own: loads are assumed, the notch is looked up
	yieldFactor    = 1.2 // DIN 743 asks for 1.2 (recalled, high)
	whirlFactor    = 2   // shigley-2008: "first critical speeds at least twice the operating speed"
	keyFactor      = 2.5 // as the worked example of wentzell has it
	couplingFactor = 1.5 // own: torque that swings
)

// notches are fatigue stress concentrations in bending and torsion, first estimates (Shigley, table 7-1, recalled, high). Flats, clamps and
// what is glued or pinned are our own: a flat as a keyway, the others as a press fit that frets.
var notches = map[string][2]float64{
	"plain": {1, 1}, "rounded shoulder": {1.7, 1.5}, "sharp shoulder": {2.7, 2.2}, "groove": {5, 3},
	"keyway": {2.14, 3}, "flat": {2.14, 3}, "clamp": {2, 2}, "round": {2, 2},
}

// Section is a place of the shaft that is looked at.
type Section struct {
	Name     string
	Notch    string
	Load     ShaftLoad
	Stress   Stress
	Strength Strength
	Yield    float64 // stress while the impeller stands still and the motor pulls, Pa
}

// Factors returns the safety factors against fatigue in the order Goodman, Gerber, ASME, Soderberg.
func (s *Section) Factors() [4]float64 {
	return [4]float64{s.Strength.Goodman(s.Stress), s.Strength.Gerber(s.Stress), s.Strength.Elliptic(s.Stress), s.Strength.Soderberg(s.Stress)}
}

// ShaftState is what the shaft sees at a state.
type ShaftState struct {
	Torque          float64    `unit:"N·m" doc:"torque at the impeller"`
	Thrust          float64    `unit:"N" doc:"thrust on the impeller"`
	Side            float64    `unit:"N" doc:"force across the shaft that stands still: uneven inflow and weight"`
	Unbalance       float64    `unit:"N" doc:"force across the shaft that turns with it: unbalance"`
	FrontLoad       float64    `unit:"N" doc:"load across the front bearing"`
	AftLoad         float64    `unit:"N" doc:"load across the aft bearing"`
	FrontEquivalent float64    `unit:"N" doc:"equivalent load of the front bearing, thrust included where it takes it"`
	AftEquivalent   float64    `unit:"N" doc:"equivalent load of the aft bearing, thrust included where it takes it"`
	FrontLife       float64    `unit:"h" doc:"life that nine front bearings in ten reach"`
	AftLife         float64    `unit:"h" doc:"life that nine aft bearings in ten reach"`
	Critical        float64    `unit:"rpm" doc:"first critical speed in water"`
	Deflection      float64    `unit:"mm" doc:"how far side force and unbalance move the impeller"`
	Sections        [2]Section `key:"-"`
}

// Places of the shaft.
const (
	atAftBearing = "aft bearing"
	atSeat       = "impeller's seat"
)

// own returns the material of the shaft with what its certificate says.
func (s *Shaft) own() (m Material, named bool) {
	m, named = FindMaterial(s.Material)
	if s.YieldStrength.Set {
		m.Yield = s.YieldStrength.Value
	}
	if s.TensileStrength.Set {
		m.Tensile = s.TensileStrength.Value
	}
	return m, named
}

// fatigue returns the fatigue strength of the shaft's bar in its water; 0 if unknown.
func (s *Shaft) fatigue(m *Material, sea bool) float64 {
	if s.FatigueStrength.Set {
		return s.FatigueStrength.Value
	}
	return m.InWater(sea)
}

// Unbalance returns the force of an impeller's unbalance, in N.
//
//	F = m·G·Ω
//
//	m  mass of the impeller, kg
//	G  balance grade: eccentricity times speed, m/s   [Shaft.BalanceGrade]
//	Ω  speed, rad/s
//
// Holds for a rigid impeller, balanced for this speed.
//
// Source: iso-21940-11. Tests: TestUnbalanceExact.
func Unbalance(mass, grade, speed float64) float64 { return mass * grade * speed }

// Rotor returns the shaft with its impeller as it whirls in water: of the water the shaft moves aside as much as it displaces.
func (s *Shaft) Rotor(a *ShaftAround, m *Material) Rotor {
	d2 := a.Diameter * a.Diameter
	area := math.Pi / 4 * d2
	l, o := s.BearingSpan.Value, s.Overhang.Value
	r := Rotor{
		Length: l + o, Rigidity: m.Modulus * math.Pi / 64 * d2 * d2, Line: (m.Density + a.WaterDensity) * area, Supports: [2]float64{0, l},
		Masses: [2]PointMass{{l + o, a.Mass + a.Carried}, {l + o, 0}},
	}
	if s.Support == "stator" {
		r.Length = l
		r.Masses[0].At, r.Masses[1].At = l-o, l-o
	}
	return r
}

// across returns the forces across the shaft at the impeller: what stands still and what turns.
func (s *Shaft) across(a *ShaftAround) (side, unbalance float64) {
	return s.SideForce*a.Thrust + a.Mass*a.Gravity, Unbalance(a.Mass, s.BalanceGrade, a.Speed)
}

// Shift returns how far the forces across the shaft move the impeller, in m; see Deflection.
//
//	y = y(F_s + F_u),  F_s = k·T + m·g
//
//	F_u   force of the unbalance, N                        [Shaft.BalanceGrade]
//	T, k  thrust on the impeller, N, and the share of it that uneven inflow turns across   [Shaft.SideForce]
//	m·g   weight of the impeller, N                        [Impeller.Mass]
//
// Holds as Deflection does.
//
// Source: own. Tests: TestDeflectionExact.
func (s *Shaft) Shift(a *ShaftAround) float64 {
	m, _ := s.own()
	side, unbalance := s.across(a)
	return s.Deflection(side+unbalance, s.Rotor(a, &m).Rigidity)
}

// WhirlingRotor is Rotor with the shaft's own material.
func (s *Shaft) WhirlingRotor(a *ShaftAround) Rotor {
	m, _ := s.own()
	return s.Rotor(a, &m)
}

// Work works the shaft out at a state. It takes bearing span and overhang.
func (s *Shaft) Work(a *ShaftAround) ShaftState {
	m, _ := s.own()
	st := ShaftState{Torque: a.Torque, Thrust: a.Thrust}
	st.Side, st.Unbalance = s.across(a)
	still, stillSeat := s.Bending(st.Side, a.Length)
	turning, turningSeat := s.Bending(st.Unbalance, a.Length)
	torque := a.Torque
	if s.Support == "stator" {
		torque = 0
	}
	st.Sections[0] = s.section(atAftBearing, s.AftNotch, still, turning, torque, a, &m)
	st.Sections[1] = s.section(atSeat, a.Seat, stillSeat, turningSeat, a.Torque, a, &m)
	st.FrontLoad, st.AftLoad = s.Reactions(st.Side + st.Unbalance)
	st.FrontEquivalent, st.AftEquivalent = s.bearing(st.FrontLoad, a.Thrust, "front"), s.bearing(st.AftLoad, a.Thrust, "aft")
	st.FrontLife = BasicLife(s.FrontRating.Value, st.FrontEquivalent, a.Speed)
	st.AftLife = BasicLife(s.AftRating.Value, st.AftEquivalent, a.Speed)
	if m.Modulus > 0 {
		r := s.Rotor(a, &m)
		st.Critical = r.Critical()
		st.Deflection = s.Shift(a)
	}
	return st
}

// bearing returns the equivalent load of one of the bearings.
func (s *Shaft) bearing(radial, thrust float64, which string) float64 {
	static := s.FrontStatic
	if which == "aft" {
		static = s.AftStatic
	}
	if which != s.ThrustBearing {
		return radial
	}
	return BallLoad(radial, thrust, static.Or(math.Inf(1)))
}

func (s *Shaft) section(name, notch string, still, turning, torque float64, a *ShaftAround, m *Material) Section {
	k, ok := notches[notch]
	if !ok {
		k = notches["keyway"]
	}
	x := Section{Name: name, Notch: notch, Load: ShaftLoad{
		BendingAlternating: still, BendingMean: turning, TorqueMean: torque, TorqueAlternating: s.TorqueRipple * torque, Axial: a.Thrust,
		NotchBending: k[0], NotchTorsion: k[1],
	}}
	x.Stress = x.Load.Stress(a.Diameter)
	x.Strength = Strength{Fatigue: Endurance(s.Surface, s.fatigue(m, a.Sea), m.Tensile, a.Diameter), Tensile: m.Tensile, Yield: m.Yield}
	jam := x.Load
	jam.NotchBending, jam.NotchTorsion = 1, 1 // a ductile shaft yields at its notch and goes on
	jam.BendingMean, jam.BendingAlternating, jam.TorqueAlternating, jam.Axial = still, 0, 0, 0
	if torque != 0 {
		jam.TorqueMean = a.Jam
	}
	x.Yield = jam.Stress(a.Diameter).Mean
	return x
}

// Missing returns what has to be typed before the shaft can be judged, empty if nothing.
func (s *Shaft) Missing() string {
	var list []string
	if s.Material == "" {
		list = append(list, "shaft.material")
	} else if _, named := s.own(); !named {
		return unknownMaterial("shaft.material", s.Material)
	}
	if !s.BearingSpan.Set {
		list = append(list, "shaft.bearing_span")
	}
	if !s.Overhang.Set {
		list = append(list, "shaft.overhang")
	}
	return typeThese(list)
}

func typeThese(list []string) string {
	if len(list) == 0 {
		return ""
	}
	return "type " + strings.Join(list, ", ")
}

func unknownMaterial(path, text string) string {
	return path + " = " + quoted(text) + " names no material with data here"
}

func quoted(s string) string { return "\"" + s + "\"" }

// Names of the limits that a shaft has in every drive.
const (
	LimitShaftFatigue  = "fatigue of the shaft"
	LimitShaftJam      = "shaft with the impeller jammed"
	LimitShaftCritical = "shaft's critical speed"
	LimitBearingLife   = "bearing load for its life"
)

// Limits appends the limits of the shaft at a state.
func (s *Shaft) Limits(dst []quantity.Limit, a *ShaftAround) []quantity.Limit {
	missing := s.Missing()
	var st ShaftState
	if missing == "" {
		st = s.Work(a)
	}
	add := func(l quantity.Limit, why string) {
		l.Part = "shaft"
		if l.Factor == 0 {
			l.Factor = 1
		}
		if l.NotJudged = missing; missing == "" {
			l.NotJudged = why
		}
		if l.NotJudged != "" {
			l.Value, l.Allowed = 0, 0
		}
		dst = append(dst, l)
	}
	fatigue := quantity.Limit{
		Name: LimitShaftFatigue, Unit: "MPa", Factor: fatigueFactor, Source: "shigley-2008",
		Why: "cracks grow from the notch until the shaft breaks and lets the impeller go", Moves: []string{"shaft.diameter", "shaft.overhang", "shaft.material", "shaft.aft_notch"},
	}
	why := ""
	if missing == "" {
		x := s.worst(&st)
		fatigue.Value, fatigue.Allowed = x.Strength.Equivalent(x.Stress), x.Strength.Fatigue/fatigueFactor
		fatigue.Why = "cracks grow from the notch at the " + x.Name + " until the shaft breaks and lets the impeller go"
		if x.Strength.Fatigue == 0 {
			why = "no shaft.fatigue_strength is typed, and none is known of this material"
		}
	}
	add(fatigue, why)
	jam := quantity.Limit{
		Name: LimitShaftJam, Unit: "MPa", Factor: yieldFactor, Source: "memory", Why: "a stone between blade and duct stops the impeller, and the motor twists the shaft with all it can",
		Moves: []string{"shaft.diameter", "controller.phase_current_limit", "shaft.material"},
	}
	why = ""
	if a.Jam == 0 {
		why = "no controller.phase_current_limit is typed, so that nothing bounds the torque"
	} else if missing == "" {
		x := st.Sections[1]
		if st.Sections[0].Yield > x.Yield {
			x = st.Sections[0]
		}
		jam.Value, jam.Allowed = x.Yield, x.Strength.Yield/yieldFactor
	}
	add(jam, why)
	add(quantity.Limit{
		Name: LimitShaftCritical, Unit: "rpm", Factor: whirlFactor, Source: "shigley-2008", Value: a.Speed, Allowed: st.Critical / whirlFactor,
		Why: "a shaft that whirls wears out bearings and seal and lets the blades rub; housings that give way bring it nearer", Moves: []string{"shaft.diameter", "shaft.overhang", "shaft.bearing_span", "impeller.mass"},
	}, "")
	life := quantity.Limit{
		Name: LimitBearingLife, Unit: "N", Source: "iso-281", Moves: []string{"shaft.front_rating", "shaft.aft_rating", "shaft.overhang", "shaft.bearing_life"},
		Why: "a seized bearing stalls the motor under current; water in the grease ends it long before",
	}
	why = s.missingBearings()
	if missing == "" && why == "" {
		life.Value, life.Allowed = st.FrontEquivalent, s.FrontRating.Value/NeededRating(1, s.revolutions(a), BasicReliability)
		if s.AftBearing == "ball" {
			if most := s.AftRating.Value / NeededRating(1, s.revolutions(a), BasicReliability); st.AftEquivalent*life.Allowed > life.Value*most {
				life.Value, life.Allowed = st.AftEquivalent, most
			}
		}
	}
	add(life, why)
	if missing == "" {
		dst = s.typedLimits(dst, a, &st)
	}
	return dst
}

// BasicReliability is that of a basic rating life.
const BasicReliability = 0.9

// revolutions are those of the life that is asked for.
func (s *Shaft) revolutions(a *ShaftAround) float64 { return s.BearingLife * a.Speed / (2 * math.Pi) }

// worst returns the section that is nearest to its fatigue strength.
func (s *Shaft) worst(st *ShaftState) *Section {
	a, b := &st.Sections[0], &st.Sections[1]
	if a.Strength.Equivalent(a.Stress) > b.Strength.Equivalent(b.Stress) {
		return a
	}
	return b
}

func (s *Shaft) missingBearings() string {
	var list []string
	if !s.FrontRating.Set {
		list = append(list, "shaft.front_rating")
	}
	if s.ThrustBearing == "front" && !s.FrontStatic.Set {
		list = append(list, "shaft.front_static")
	}
	switch {
	case s.AftBearing == "plain" && s.ThrustBearing == "aft":
		return "a plain aft bearing takes no thrust: type shaft.thrust_bearing"
	case s.AftBearing == "plain":
		return typeThese(list)
	}
	if !s.AftRating.Set {
		list = append(list, "shaft.aft_rating")
	}
	if s.ThrustBearing == "aft" && !s.AftStatic.Set {
		list = append(list, "shaft.aft_static")
	}
	return typeThese(list)
}

// typedLimits appends the limits of what only some designs type: seat, plain bearing, seal, coupling.
func (s *Shaft) typedLimits(dst []quantity.Limit, a *ShaftAround, st *ShaftState) []quantity.Limit {
	dst = s.seatLimit(dst, a)
	if s.AftBearing == "plain" {
		l := quantity.Limit{
			Name: "load on the plain aft bearing", Part: "shaft", Unit: "MPa", Factor: 1, Allowed: s.AftPressure, Source: "memory",
			Why: "it wears out of round and lets the blades rub", Moves: []string{"shaft.aft_length", "shaft.diameter"},
		}
		if s.AftLength.Set {
			l.Value = st.AftLoad / (s.AftLength.Value * a.Diameter)
		} else {
			l.NotJudged = "no shaft.aft_length is typed"
		}
		dst = append(dst, l)
	}
	if v, ok := sealSpeeds[s.Seal]; ok {
		dst = append(dst, quantity.Limit{
			Name: "rubbing speed of the seal", Part: "shaft", Unit: "m/s", Factor: 1, Value: SealSpeed(a.Diameter, a.Speed), Allowed: v, Source: "own",
			Why: "the lip burns, and water reaches bearing and motor", Moves: []string{"shaft.seal", "shaft.diameter"},
		})
	}
	if s.CouplingTorque.Set {
		dst = append(dst, quantity.Limit{
			Name: "torque on the coupling", Part: "shaft", Unit: "N·m", Factor: couplingFactor, Value: a.Torque * (1 + s.TorqueRipple), Allowed: s.CouplingTorque.Value / couplingFactor, Source: "own",
			Why: "its spider or bellows tears", Moves: []string{"shaft.coupling_torque"},
		})
	}
	if s.CouplingSpeed.Set {
		dst = append(dst, quantity.Limit{
			Name: "speed of the coupling", Part: "shaft", Unit: "rpm", Factor: 1, Value: a.Speed, Allowed: s.CouplingSpeed.Value, Source: "own",
			Why: "its hubs were not made for more", Moves: []string{"shaft.coupling_speed"},
		})
	}
	return dst
}

// seatLimit appends what holds the impeller on the shaft, where something of it is typed.
func (s *Shaft) seatLimit(dst []quantity.Limit, a *ShaftAround) []quantity.Limit {
	if !s.SeatTorque.Set && !s.SeatLength.Set && !s.KeyYield.Set {
		return dst
	}
	l := quantity.Limit{
		Name: "impeller's seat on the shaft", Part: "shaft", Unit: "MPa", Factor: keyFactor, Source: "wentzell",
		Why: "the seat wears loose, and the impeller turns on its shaft", Moves: []string{"shaft.seat_length", "shaft.key_yield", "impeller.bore_form"},
	}
	torque := a.Torque * (1 + s.TorqueRipple)
	if s.SeatTorque.Set {
		l.Unit, l.Value, l.Allowed = "N·m", torque, s.SeatTorque.Value/keyFactor
		return append(dst, l)
	}
	var missing []string
	if a.Seat == "clamp" || a.Seat == "round" {
		missing = append(missing, "shaft.seat_torque")
	} else {
		if !s.SeatLength.Set {
			missing = append(missing, "shaft.seat_length")
		}
		if !s.KeyYield.Set {
			missing = append(missing, "shaft.key_yield")
		}
	}
	if l.NotJudged = typeThese(missing); l.NotJudged != "" {
		return append(dst, l)
	}
	l.Allowed = s.KeyYield.Value / keyFactor
	if a.Seat == "flat" {
		l.Value = FlatPressure(torque, a.Diameter, a.FlatDepth, s.SeatLength.Value)
		return append(dst, l)
	}
	shear, crushing := KeyStress(torque, a.Diameter, a.KeyWidth, a.KeyHeight, s.SeatLength.Value)
	l.Value = math.Max(2*shear, crushing) // shear stands half of what crushing does
	return append(dst, l)
}
