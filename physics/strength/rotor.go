package strength

import (
	"fmt"
	"math"
	"strconv"

	"jetwright/quantity"
)

// Factors of rotor and casing.
const (
	bladeFactor     = 2.0  // own: on the fatigue strength of a metal blade; a blade that comes off can hurt
	printFactor     = 2.0  // own: beyond half of its static strength a print is broken without further ado
	burstFactor     = 1.5  // own: on speed, so 2.25 on stress
	containFactor   = 3.0  // own: on energy
	leastSeparation = 0.15 // common practice 0.1 to 0.2, no source
	wallFactor      = 1.5  // own, on the yield strength of a metal wall
	printWallFactor = 4.0  // own, on a print's strength across layers: it creeps, warm and wet
	boltFactor      = 2.0  // own, on proof stress or on what pulled an insert out
)

// SpinTest is the usual speed of a spin test over the highest speed in use (recalled, medium).
const SpinTest = 1.2

// RotorAround is the drive around impeller, stator and housing, and what it does at a state.
type RotorAround struct {
	Annulus
	Root      BladeRoot // of the impeller's blades; no chord where nobody typed one
	Body      BladeRoot // of the impeller's blades in their mean, by which they swing and weigh
	Vane      BladeRoot // of the stator's; no number without a stator
	Material  string    // of the impeller
	Stator    string    // its material
	Metal     Material  // of the impeller, as found; filled by Work
	Bore      float64   // radius of the shaft, m
	Length    float64   // of the impeller, m
	FreeSpeed float64   // of the impeller with no load at a full battery, rad/s; 0 where nothing bounds it
	FreeWhy   string    // why nothing does
	Gap       float64   // between tip and casing, m; 0 where nobody typed it
	Off       float64   // how far rotor and casing stand off each other's centre, m
	Shift     float64   // by how much side force and unbalance move the impeller, m
	ShiftWhy  string    // why that is not known
	Pressure  float64   // at the pump's outlet over its surroundings, Pa
	Outlet    float64   // diameter there, m
	Wall      float64   // of the casing, m
	Nozzle    float64   // least wall of stator ring and nozzle, m
	Bolts     float64   // number of them
	Circle    float64   // radius of the circle that they stand on, m
	Sea       bool
}

// RotorState is what impeller, stator and housing see at a state.
type RotorState struct {
	AxialMoment      float64 `unit:"N·m" doc:"moment of a blade's axial force about its root"`
	TangentialMoment float64 `unit:"N·m" doc:"moment of a blade's tangential force about its root"`
	Bending          float64 `unit:"MPa" doc:"bending stress at a blade's root, as of a beam"`
	Pull             float64 `unit:"MPa" doc:"stress at a blade's root from its own turning"`
	Alternating      float64 `unit:"MPa" doc:"alternating stress in the fillet of a blade's root"`
	Mean             float64 `unit:"MPa" doc:"mean stress in the fillet of a blade's root"`
	TipDeflection    float64 `unit:"mm" doc:"how far the tip of a blade bends out of the way"`
	AirFrequency     float64 `unit:"Hz" doc:"first frequency of a blade in air"`
	Frequency        float64 `unit:"Hz" doc:"first frequency of a blade in water"`
	Separation       float64 `unit:"1" doc:"how far that is from the nearest frequency that shakes it, as a share of it"`
	HubStress        float64 `unit:"MPa" doc:"stress at the hub's bore from turning, at the state's speed"`
	Burst            float64 `unit:"rpm" doc:"speed at which turning alone reaches the static strength of root or hub"`
	FreeSpeed        float64 `unit:"rpm" doc:"rotor speed with no load at a full battery"`
	Growth           float64 `unit:"mm" doc:"by how much the tip moves outwards as it turns, swelling included"`
	FragmentMass     float64 `unit:"kg" doc:"mass of a blade"`
	FragmentEnergy   float64 `unit:"J" doc:"energy of a blade that comes off at the speed without load"`
	VaneStress       float64 `unit:"MPa" doc:"bending stress at the ends of a vane"`
	RingTorque       float64 `unit:"N·m" doc:"torque that stator and ring hold"`
}

// BladeMissing returns what has to be typed before the blades can be judged, empty if nothing.
func (r *RotorAround) BladeMissing() string {
	var list []string
	if r.Material == "" {
		list = append(list, "impeller.material")
	} else if _, ok := FindMaterial(r.Material); !ok {
		return unknownMaterial("impeller.material", r.Material)
	}
	if r.Root.Chord == 0 {
		list = append(list, "impeller.root_chord")
	}
	if r.Root.Thickness == 0 {
		list = append(list, "impeller.root_thickness")
	}
	if len(list) == 0 && r.Bore >= r.Hub {
		return "the shaft is not thinner than the hub: type shaft.diameter"
	}
	return typeThese(list)
}

// Work works impeller and stator out at a state.
func (p *Impeller) Work(r *RotorAround) RotorState {
	m, _ := FindMaterial(r.Material)
	r.Metal = m
	var st RotorState
	b := &r.Root
	st.RingTorque = math.Abs(r.Torque)
	st.FreeSpeed = r.FreeSpeed
	if r.Vane.Number > 0 && r.Vane.Chord > 0 && r.Vane.Thickness > 0 {
		st.VaneStress = r.Annulus.VaneStress(&r.Vane)
	}
	if r.BladeMissing() != "" {
		return st
	}
	length := r.Tip - r.Hub
	st.AxialMoment, st.TangentialMoment = r.RootMoments(b.Number)
	st.Bending = b.BendingStress(st.AxialMoment, st.TangentialMoment)
	st.Pull = b.PullStress(m.Density, r.Speed, r.Tip, r.Hub)
	fillet := p.RootStress(st.Bending, st.Pull)
	st.Alternating, st.Mean = fillet.Alternating, fillet.Mean
	sin, cos := math.Sincos(b.Angle)
	st.TipDeflection = r.Body.TipDeflection(math.Abs(st.AxialMoment*cos+st.TangentialMoment*sin), length, m.Modulus)
	st.AirFrequency = p.FrequencyFactor * r.Body.Frequency(length, m.Modulus, m.Density, 0)
	st.Frequency = p.FrequencyFactor * r.Body.Frequency(length, m.Modulus, m.Density, r.Density)
	st.Separation = Separation(st.Frequency, r.Speed, r.Vane.Number)
	hub := Hub{Bore: r.Bore, Radius: r.Hub, Length: r.Length, Density: m.Density, Poisson: m.Poisson, Modulus: m.Modulus}
	st.FragmentMass = m.Density * r.Body.Area() * length
	centre := (r.Tip + r.Hub) / 2
	pull := float64(b.Number) * st.FragmentMass * r.Speed * r.Speed * centre
	st.HubStress = hub.RingStress(r.Speed, pull)
	st.Burst = p.BurstSpeed(&m, r.Speed, st.Pull, st.HubStress)
	st.Growth = hub.Growth(r.Speed, r.Tip) + p.Swelling.Or(m.Swells)*r.Tip
	st.FragmentEnergy = FragmentEnergy(st.FragmentMass, r.FreeSpeed, centre)
	return st
}

// RootStress returns alternating and mean stress in the fillet of a blade's root, in Pa.
//
//	σ_a = k·s·σ_b,  σ_m = k·(σ_b + σ_c)
//
//	σ_b, σ_c  stresses of a beam under the mean load and of the blade's turning, Pa
//	k         stress in the fillet over that of a beam, -            [Impeller.RootNotch]
//	s         swing of the load over its mean, -                     [Impeller.LoadSwing]
//
// Holds for a steady speed; each start and stop adds a swing of the whole. A metal is held by Goodman's line to half of its fatigue strength in
// its water or of a typed one [Impeller.FatigueStrength]; a print is at best not judged.
//
// Source: own. Tests: TestRootStressesExact.
func (p *Impeller) RootStress(bending, pull float64) Stress {
	return Stress{p.RootNotch * p.LoadSwing * bending, p.RootNotch * (bending + pull)}
}

// BurstSpeed returns the speed at which turning alone reaches the static strength of blade root or hub, in rad/s.
//
//	Ω_b = Ω·√min(S_r/(k·σ_c), S/σ_h)
//
//	Ω         speed at which σ_c and σ_h hold, rad/s
//	σ_c, σ_h  stresses of turning at the root and at the hub's bore, Pa
//	k         stress in the fillet over that of a beam, -                     [Impeller.RootNotch]
//	S, S_r    yield strength of hub and root, Pa: of a print whose layers lie across the pull what is left there   [Impeller.Layers]
//
// Holds without the water's load, as in air. A metal is held to it with a factor of 1.5 on speed; a proof speed goes before it, with a factor of
// 1.2 [Impeller.ProofSpeed].
//
// Source: own. Tests: TestBurstSpeedExact.
func (p *Impeller) BurstSpeed(m *Material, speed, pull, hub float64) float64 {
	root := m.Yield
	if m.Printed && p.Layers == "across" {
		root *= m.Across
	}
	return speed * math.Sqrt(math.Min(root/(p.RootNotch*pull), m.Yield/hub))
}

// Names of the limits that impeller and housing have in every drive.
const (
	LimitBladeRoot   = "blade root stress"
	LimitOverspeed   = "overspeed in air"
	LimitContainment = "containment of a blade"
	LimitBladeShaken = "blade's frequency off what shakes it"
	LimitTipGap      = "blade tip to its casing"
)

// unproven is what is said of a print, whatever the figures.
const unproven = "unproven: guarded spin test"

// mpa writes a stress.
func mpa(x float64) string {
	digits := 0
	if a := math.Abs(x) / mega; a < 10 {
		digits = 1
	}
	return strconv.FormatFloat(x/mega, 'f', digits, 64) + " MPa"
}

func rpmText(x float64) string { return fmt.Sprintf("%.0f rpm", math.Ceil(x*30/math.Pi/100)*100) }

// Limits appends the limits of impeller and housing at a state.
func (p *Impeller) Limits(dst []quantity.Limit, r *RotorAround, h *Housing) []quantity.Limit {
	st := p.Work(r)
	missing := r.BladeMissing()
	add := func(l quantity.Limit, why string) {
		if l.NotJudged = missing; missing == "" {
			l.NotJudged = why
		}
		if l.NotJudged != "" {
			l.Value, l.Allowed = 0, 0
		}
		dst = append(dst, l)
	}
	m := &r.Metal
	root, why := p.rootLimit(&st, m, r.Sea)
	add(root, why)
	over, why := p.overspeedLimit(&st, m, r)
	add(over, why)
	contain, why := h.containment(&st, r)
	if r.FreeSpeed == 0 && why == "" {
		why = r.FreeWhy
	}
	add(contain, why)
	add(quantity.Limit{
		Name: LimitBladeShaken, Part: "impeller", Unit: "1", Sense: quantity.AtLeast, Value: st.Separation, Allowed: leastSeparation, Zero: 1, Factor: 1, Source: "own",
		Why: "a blade in tune with vanes or uneven inflow swings up and cracks; the frequency is that of a beam, a first guess", Moves: []string{"impeller.root_thickness", "impeller.thickness", "stator.blades"},
	}, "")
	gap := quantity.Limit{
		Name: LimitTipGap, Part: "impeller", Unit: "mm", Value: st.Growth + r.Shift + r.Off, Allowed: r.Gap, Factor: 1, Source: "own",
		Why: "blades rub: what the shaft bends, the blade grows, swells and stands off the centre closes the gap", Moves: []string{"impeller.tip_gap", "impeller.gap_eccentricity", "impeller.swelling", "shaft.overhang"},
	}
	why = ""
	switch {
	case r.Gap == 0:
		why = "type impeller.tip_gap"
	case gap.Value <= gap.Allowed:
		why = r.ShiftWhy // what the shaft bends would come on top
	}
	add(gap, why)
	return h.typedLimits(dst, r, &st)
}

// rootLimit is that of the blade's root; why says why it is not judged. A print is at best not judged: what data there are come from dry coupons.
func (p *Impeller) rootLimit(st *RotorState, m *Material, sea bool) (l quantity.Limit, why string) {
	l = quantity.Limit{
		Name: LimitBladeRoot, Part: "impeller", Unit: "MPa", Hazard: true, Factor: bladeFactor, Source: "own",
		Why: "a blade that comes off leaves through nozzle or duct wall; never without a guard until it has proved itself", Moves: []string{"impeller.thickness", "impeller.root_thickness", "impeller.material", "impeller.blades"},
	}
	x := Stress{st.Alternating, st.Mean}
	s := Strength{Fatigue: m.InWater(sea), Tensile: m.Tensile, Yield: m.Yield}
	across := m.Printed && p.Layers == "across"
	if across {
		s.Tensile, s.Yield = m.Across*m.Tensile, m.Across*m.Yield
	}
	if p.FatigueStrength.Set {
		s.Fatigue = p.FatigueStrength.Value
	} else if m.Printed {
		l.Factor = printFactor
		if l.Value, l.Allowed = st.Alternating+st.Mean, s.Tensile/printFactor; l.Value > l.Allowed {
			l.Why = "the load reaches what the print stands once; " + l.Why
			return l, "" // broken, and said so
		}
		rule := m.RuleOfThumb(across)
		return l, fmt.Sprintf("%s; ± %s about %s at the root, rule of thumb ± %s", unproven, mpa(st.Alternating), mpa(st.Mean), mpa(rule))
	}
	if s.Fatigue == 0 || s.Tensile == 0 {
		return l, "no fatigue strength is known of " + m.Name + ": type impeller.fatigue_strength"
	}
	l.Value, l.Allowed = s.Equivalent(x), s.Fatigue/bladeFactor
	return l, ""
}

// overspeedLimit holds the speed without load against what the impeller has proved, or a metal one stands.
func (p *Impeller) overspeedLimit(st *RotorState, m *Material, r *RotorAround) (l quantity.Limit, why string) {
	l = quantity.Limit{
		Name: LimitOverspeed, Part: "impeller", Unit: "rpm", Hazard: true, Value: r.FreeSpeed, Factor: burstFactor, Allowed: st.Burst / burstFactor, Source: "own",
		Why: "an impeller that draws air loses its load and runs up; it bursts before anyone lets go of the throttle", Moves: []string{"impeller.proof_speed", "battery.series", "motor.speed_constant"},
	}
	switch {
	case r.FreeSpeed == 0:
		return l, r.FreeWhy
	case p.ProofSpeed.Set:
		l.Factor, l.Allowed, l.Source = SpinTest, p.ProofSpeed.Value/SpinTest, "memory"
	case m.Printed && l.Value <= l.Allowed:
		return l, fmt.Sprintf("%s to %s, its result as impeller.proof_speed", unproven, rpmText(SpinTest*r.FreeSpeed))
	}
	return l, ""
}

// containment holds the energy of a lost blade against what punches the wall.
func (h *Housing) containment(st *RotorState, r *RotorAround) (l quantity.Limit, why string) {
	l = quantity.Limit{
		Name: LimitContainment, Part: "housing", Unit: "J", Hazard: true, Factor: containFactor, Value: st.FragmentEnergy, Source: "own",
		Why: "a blade that comes off goes through the wall about it; a guard stands between it and people, always", Moves: []string{"duct.wall", "housing.material"},
	}
	if h.Material == "" {
		return l, "type housing.material"
	}
	m, ok := FindMaterial(h.Material)
	if !ok {
		return l, unknownMaterial("housing.material", h.Material)
	}
	l.Allowed = PunchEnergy(m.Tensile, 2*(r.Body.Chord+r.Body.Thickness), r.Wall) / containFactor
	if m.Printed {
		if l.Value > l.Allowed {
			return l, ""
		}
		return l, "a printed wall shatters: a guard about it, always"
	}
	return l, ""
}

// typedLimits appends what only some designs type: vanes, walls, bolts.
func (h *Housing) typedLimits(dst []quantity.Limit, r *RotorAround, st *RotorState) []quantity.Limit {
	allowed := func(m *Material) (stress, factor float64, source string) {
		if m.Printed {
			return m.Across * m.Tensile / printWallFactor, printWallFactor, "memory"
		}
		return m.Yield / wallFactor, wallFactor, "own"
	}
	add := func(l quantity.Limit, key, material string) {
		l.Unit = "MPa"
		if m, ok := FindMaterial(material); ok {
			l.Allowed, l.Factor, l.Source = allowed(&m)
		} else {
			l.Value, l.NotJudged, l.Factor, l.Source = 0, unknownMaterial(key, material), 1, "own"
		}
		dst = append(dst, l)
	}
	if r.Stator != "" && st.VaneStress > 0 {
		add(quantity.Limit{
			Name: "stress in the stator's vanes", Part: "stator", Value: st.VaneStress,
			Why: "vanes hold the torque of the impeller, and the hub with its bearing", Moves: []string{"stator.thickness", "stator.root_thickness", "stator.blades"},
		}, "stator.material", r.Stator)
	}
	if h.Material != "" && r.Nozzle > 0 {
		add(quantity.Limit{
			Name: "stress in the nozzle's wall", Part: "nozzle", Value: HoopStress(math.Max(0, r.Pressure), r.Outlet, r.Nozzle),
			Why: "the wall cracks along, between layers first", Moves: []string{"nozzle.wall", "stator.wall", "housing.material"},
		}, "housing.material", h.Material)
	}
	return h.boltLimit(dst, r, st)
}

// boltLimit appends what the bolts hold, where their diameter is typed.
func (h *Housing) boltLimit(dst []quantity.Limit, r *RotorAround, st *RotorState) []quantity.Limit {
	if !h.BoltDiameter.Set || r.Bolts == 0 {
		return dst
	}
	l := quantity.Limit{
		Name: "bolts of the housing", Part: "housing", Unit: "N", Factor: boltFactor, Source: "own",
		Why: "stator and nozzle come off with the jet on them", Moves: []string{"flange.bolts", "housing.bolt_diameter", "flange.bolt_circle"},
	}
	if m, ok := FindMaterial(h.Material); (!ok || m.Printed) && !h.BoltHold.Set {
		l.NotJudged = "type housing.bolt_hold"
		if !ok && h.Material != "" {
			l.NotJudged = unknownMaterial("housing.material", h.Material) + "; or type housing.bolt_hold"
		}
		return append(dst, l)
	}
	along, across := BoltForces(r.Pressure, r.Outlet, st.RingTorque, r.Bolts, r.Circle)
	// √(F² + 3·Q²) against the proof force is the distortion energy in the thread
	l.Value, l.Allowed = math.Sqrt(along*along+3*across*across), proofs[h.BoltClass]*BoltArea(h.BoltDiameter.Value)/boltFactor
	if h.BoltHold.Set && h.BoltHold.Value/boltFactor < l.Allowed {
		l.Allowed = h.BoltHold.Value / boltFactor
	}
	return append(dst, l)
}

// holding are the limits about what breaks, for whoever shows them together.
var holding = map[string]bool{
	LimitShaftFatigue: true, LimitShaftJam: true, LimitShaftCritical: true, LimitBearingLife: true, LimitBladeRoot: true, LimitOverspeed: true,
	LimitContainment: true, LimitBladeShaken: true, LimitTipGap: true,
	"load on the plain aft bearing": true, "rubbing speed of the seal": true, "torque on the coupling": true, "speed of the coupling": true,
	"impeller's seat on the shaft": true, "stress in the stator's vanes": true, "stress in the nozzle's wall": true, "bolts of the housing": true,
}

// Holds tells that a limit is one of strength.
func Holds(name string) bool { return holding[name] }
