package heat

import (
	"math"

	"jetwright/quantity"
)

// Build is what the drive is made of, as far as temperatures over time go. What is left out follows from
// what the other parts say, or from shares of the motor's mass.
type Build struct {
	MotorDensity     float64           `unit:"kg/m³" doc:"mass of the motor over the volume of its length and diameter, where no motor.mass is typed" range:"500 .. 9000" usual:"2500 .. 6000" assume:"3200 .. 4800" source:"own"`
	CopperShare      float64           `unit:"1" doc:"share of the motor's mass that is copper" range:"0.01 .. 0.5" usual:"0.08 .. 0.4" assume:"0.14 .. 0.24" source:"own"`
	IronShare        float64           `unit:"1" doc:"share of the motor's mass that is iron of the stator" range:"0.01 .. 0.6" usual:"0.15 .. 0.55" assume:"0.28 .. 0.42" source:"own"`
	MagnetShare      float64           `unit:"1" doc:"share of the motor's mass that turns with the magnets, their carrier included; what is left of the mass is the housing" range:"0.01 .. 0.4" usual:"0.05 .. 0.35" assume:"0.12 .. 0.25" source:"own"`
	EndTurnShare     float64           `unit:"1" doc:"share of the copper that lies outside of the slots" range:"0.01 .. 0.9" usual:"0.1 .. 0.7" assume:"0.25 .. 0.45" source:"own"`
	StackShare       float64           `unit:"1" doc:"length of the stator's iron over that of the motor" range:"0.05 .. 0.95" usual:"0.2 .. 0.9" assume:"0.4 .. 0.65" source:"own"`
	LinerShare       float64           `unit:"1" doc:"share of motor.winding_to_jacket that lies between copper and iron" range:"0.05 .. 0.98" usual:"0.3 .. 0.95" assume:"0.55 .. 0.85" source:"own"`
	AirGap           float64           `unit:"mm" doc:"gap between stator and magnets" range:"0.05 .. 20" usual:"0.2 .. 3" assume:"0.5 .. 1.0" source:"own"`
	NoLoadIron       float64           `unit:"1" doc:"share of the no-load loss that is made in the stator's iron" range:"0 .. 0.95" usual:"0.4 .. 0.9" assume:"0.6 .. 0.85" source:"own"`
	NoLoadMagnets    float64           `unit:"1" doc:"share of the no-load loss that is made in the magnets; the rest is made in the bearings" range:"0 .. 0.5" usual:"0 .. 0.3" assume:"0.02 .. 0.10" source:"own"`
	SealShare        float64           `unit:"1" doc:"share of the loss of seals and wet bearings that warms the motor's end of the shaft; water takes the rest" range:"0 .. 1" assume:"0.1 .. 0.4" source:"own"`
	BearingMass      float64           `unit:"kg" doc:"mass of the motor's bearings, its seal and the shaft between them" range:"0.001 .. 100" usual:"0.02 .. 5" assume:"0.15 .. 0.40" source:"own"`
	BearingToJacket  float64           `unit:"K/W" doc:"thermal resistance from bearings and seal to the jacket" range:"0.001 .. 100" usual:"0.05 .. 10" assume:"0.3 .. 1.0" source:"own"`
	SealToWater      float64           `unit:"K/W" doc:"thermal resistance from bearings and seal along the shaft to the water outside" range:"0.001 .. 1000" usual:"0.1 .. 50" assume:"1 .. 5" source:"own"`
	MountMaterial    string            `doc:"what the motor's mounts are made of; printed plastic insulates" choices:"PLA|PETG|ASA|nylon|aluminium" assume:"PETG" source:"own"`
	MountArea        float64           `unit:"cm²" doc:"cross-section of all mounts of the motor together" range:"0.01 .. 10000" usual:"1 .. 200" assume:"8 .. 20" source:"own"`
	MountLength      float64           `unit:"mm" doc:"way of the heat through a mount to the hull" range:"0.1 .. 1000" usual:"2 .. 100" assume:"10 .. 30" source:"own"`
	JunctionCapacity float64           `unit:"J/K" doc:"heat capacity of the controller's transistors and their pads together" range:"0.001 .. 10000" usual:"0.1 .. 200" assume:"3 .. 15" source:"own"`
	PlateMass        float64           `unit:"kg" doc:"mass of the plate that the transistors are cooled by" range:"0.001 .. 100" usual:"0.05 .. 5" assume:"0.3 .. 0.8" source:"own"`
	CapacitorMass    float64           `unit:"kg" doc:"mass of the controller's capacitors" range:"0.0001 .. 50" usual:"0.01 .. 2" assume:"0.05 .. 0.20" source:"own"`
	CapacitorToPlate float64           `unit:"K/W" doc:"thermal resistance from the capacitors to the plate" range:"0.01 .. 1000" usual:"0.2 .. 50" assume:"2 .. 8" source:"own"`
	CapacitorToAir   float64           `unit:"K/W" doc:"thermal resistance from the capacitors to the air about them; controller.capacitor_to_air goes before it" range:"0.01 .. 1000" usual:"1 .. 100" assume:"6 .. 15" source:"own"`
	CellMass         quantity.Optional `unit:"g" doc:"mass of one cell; 17 g for each ampere-hour if left out, as cylindrical cells weigh" range:"1 .. 20000" usual:"40 .. 1500"`
	PackSurface      quantity.Optional `unit:"cm²" doc:"surface of the pack that touches air; that of a cube of its cells if left out" range:"1 .. 1000000" usual:"200 .. 20000"`
	PackContact      float64           `unit:"cm²" doc:"cross-section of the mounts under the pack" range:"0.01 .. 100000" usual:"1 .. 1000" assume:"20 .. 60" source:"own"`
	PackContactWay   float64           `unit:"mm" doc:"way of the heat through those mounts to the hull" range:"0.1 .. 1000" usual:"2 .. 100" assume:"5 .. 15" source:"own"`
	AirVolume        float64           `unit:"L" doc:"air in the compartment" range:"0.01 .. 100000" usual:"1 .. 500" assume:"10 .. 40" source:"own"`
	WallArea         float64           `unit:"cm²" doc:"wall of the compartment with water behind it" range:"1 .. 10000000" usual:"500 .. 50000" assume:"2000 .. 6000" source:"own"`
	WallThickness    float64           `unit:"mm" doc:"thickness of that wall" range:"0.1 .. 200" usual:"1 .. 50" assume:"3 .. 8" source:"own"`
	AirFilm          float64           `unit:"W/(m²·K)" doc:"heat transfer to still air at a difference of 20 K, radiation included" range:"0.5 .. 60" usual:"3 .. 20" assume:"6 .. 12" source:"memory"`
	MotorStillShare  float64           `unit:"1" doc:"share of cooling.still_loss that the motor loses; the controller loses the rest" range:"0.01 .. 0.99" assume:"0.5 .. 0.8" source:"own"`
	FlowExponent     float64           `unit:"1" doc:"how the resistances of plate and jacket to the coolant fall with its flow: 0.33 laminar, 0.8 turbulent" range:"0 .. 1" assume:"0.33 .. 0.8" source:"incropera-2007"`
	CoolantVolume    float64           `unit:"mL" doc:"water in plate, jacket and the hoses between" range:"1 .. 100000" usual:"5 .. 2000" assume:"40 .. 150" source:"own"`
	Start            quantity.Optional `unit:"°C" doc:"temperature of motor, controller and compartment at the start; that of the water if left out" range:"-30 .. 70" usual:"-5 .. 45"`
	HousingTrip      quantity.Optional `unit:"°C" doc:"temperature of the motor's housing at which the controller stops the motor; it never does if left out" range:"20 .. 200" usual:"40 .. 110"`
	PlateTrip        quantity.Optional `unit:"°C" doc:"temperature of the controller's plate at which it stops the motor; it never does if left out" range:"20 .. 150" usual:"40 .. 100"`
	HousingFoldStart quantity.Optional `unit:"°C" doc:"temperature of the motor's housing from which on the controller folds its phase current back, in a straight line to nothing at housing_fold_end; it does not if left out" range:"20 .. 200" usual:"40 .. 100"`
	HousingFoldEnd   quantity.Optional `unit:"°C" doc:"temperature of the motor's housing at which nothing is left of the phase current" range:"20 .. 250" usual:"50 .. 120"`
	PlateFoldStart   quantity.Optional `unit:"°C" doc:"temperature of the controller's plate from which on it folds its phase current back, in a straight line to nothing at plate_fold_end; it does not if left out" range:"20 .. 150" usual:"40 .. 90"`
	PlateFoldEnd     quantity.Optional `unit:"°C" doc:"temperature of the controller's plate at which nothing is left of the phase current" range:"20 .. 200" usual:"50 .. 110"`
	CellLimit        float64           `unit:"°C" doc:"highest temperature of the cells under load" range:"20 .. 90" usual:"45 .. 75" assume:"55 .. 60" source:"memory"`
	GreaseLimit      float64           `unit:"°C" doc:"highest lasting temperature of the bearings' grease" range:"40 .. 250" usual:"80 .. 180" assume:"100 .. 120" source:"memory"`
	SealLimit        float64           `unit:"°C" doc:"highest lasting temperature of the seal's rubber" range:"40 .. 250" usual:"70 .. 200" assume:"90 .. 100" source:"memory"`
	MountLimit       quantity.Optional `unit:"°C" doc:"temperature at which the mounts soften; by mount_material if left out" range:"30 .. 500" usual:"45 .. 200"`
}

// Folds tells whether the controller folds its current back with the temperature of housing or plate.
func (b *Build) Folds() bool {
	return b.HousingFoldStart.Set && b.HousingFoldEnd.Set || b.PlateFoldStart.Set && b.PlateFoldEnd.Set
}

// Fold returns the share of its phase current that the controller leaves, with housing and plate at temperatures in K.
//
//	f = min over both of (T_end − T)/(T_end − T_start), within 0 and 1
//
//	T_start, T_end  temperatures between which it folds back, K
//
// Holds for controllers that fold the limit of their current back in a straight line; what they do between two readings of their
// sensor is left out.
//
// Source: own. Tests: TestFoldExact.
func (b *Build) Fold(housing, plate float64) float64 {
	f := 1.0
	for _, x := range [...]struct {
		start, end quantity.Optional
		at         float64
	}{{b.HousingFoldStart, b.HousingFoldEnd, housing}, {b.PlateFoldStart, b.PlateFoldEnd, plate}} {
		if x.start.Set && x.end.Set {
			f = math.Min(f, math.Max(0, (x.end.Value-x.at)/(x.end.Value-x.start.Value)))
		}
	}
	return f
}

// mountMaterial is what mounts are made of: conductivity in W/(m·K), heat capacity in J/(kg·K), density in
// kg/m³, and the temperatures in K between which a loaded part begins to creep. Recalled, confidence medium; metal
// does not soften here.
type mountMaterial struct {
	conductivity, specific, density, low, high float64
}

var mountMaterials = map[string]mountMaterial{
	"PLA":       {0.16, 1600, 1240, 323.15, 333.15},
	"PETG":      {0.18, 1250, 1270, 338.15, 348.15},
	"ASA":       {0.17, 1350, 1070, 358.15, 373.15},
	"nylon":     {0.24, 1600, 1130, 343.15, 373.15},
	"aluminium": {160, 895, 2700, 0, 0},
}

// Softening returns the temperatures in K between which the motor's mounts begin to soften; ok is false for
// metal.
//
//	PLA 50 to 60 °C, PETG 65 to 75 °C, ASA 85 to 100 °C, nylon 70 to 100 °C
//
// Holds for solid, unfilled prints under a lasting load of some MPa; fibres and annealing raise it, thin
// walls and humidity lower it.
//
// Source: memory. Tests: TestBuildExact.
func (b Build) Softening() (low, high float64, ok bool) {
	if b.MountLimit.Set {
		return b.MountLimit.Value, b.MountLimit.Value, true
	}
	m := mountMaterials[b.MountMaterial]
	return m.low, m.high, m.low > 0
}

// cellMassByCapacity is the mass of a cylindrical cell over its capacity in kg/(A·s): 70 g of 4.2 Ah, recalled.
const cellMassByCapacity = 0.017 / 3600

// CellMassOf returns the mass of one cell in kg from its capacity in A·s where none is typed.
//
//	m = 17 g/Ah · C
//
//	C  capacity of the cell, A·s
//
// Holds within a fifth for cylindrical nickel-rich cells; iron-phosphate weighs about 1.6 times as much.
//
// Source: memory. Tests: TestBuildExact.
func (b Build) CellMassOf(capacity float64) float64 {
	return b.CellMass.Or(cellMassByCapacity * capacity)
}

// Cell returns the heat capacity of one cell in J/K, and the thermal resistance from it to the air about the pack in
// K/W, of a pack of so many cells of a capacity in A·s.
//
//	C = m·c,  R = N/(h·A),  A = 6·[N·m/(0.6·2700 kg/m³)]^(2/3) where none is typed
//
//	m, c  mass of a cell, kg, and specific heat, 950 J/(kg·K)   [Build.CellMass]
//	h, A  film, W/(m²·K), and surface of the pack, m²            [Build.AirFilm, Build.PackSurface]
//
// Holds near a difference of 20 K to still air, without what goes by the pack's mounts.
//
// Source: memory. Tests: TestCellOfPackExact.
func (b Build) Cell(cells int, capacity float64) (heat, toAir float64) {
	mass := b.CellMassOf(capacity)
	side := math.Cbrt(float64(cells) * mass / cellDensity / stacked)
	return mass * usualMaterials.Cell, float64(cells) / (b.AirFilm * b.PackSurface.Or(6*side*side))
}

// Given is what the rest of the drive says of itself for Build.Parts, SI.
type Given struct {
	MotorMass                      quantity.Optional
	Length, Diameter               float64 // of the motor, m
	WindingToJacket, BridgeToPlate float64 // K/W
	CapacitorToAir                 quantity.Optional
	Cells                          int
	CellCapacity                   float64 // A·s
	Cooling                        Cooling
	Flow                           float64 // coolant flow at which the cooling's resistances hold, m³/s
	Density, SpecificHeat          float64 // of the coolant
	Water                          float64 // K
	Typed                          *Table  // the coolant's way, part by part; nil where [cooling] alone says
}

// stacked is how much of a pack's volume its cells fill, and cellDensity that of a cell in kg/m³: recalled.
const (
	stacked     = 0.6
	cellDensity = 2700
)

// Parts makes the numbers of a network out of those of the drive. Materials stand at the middle of what is
// assumed of them.
func (b Build) Parts(g Given) Parts {
	p := Parts{Materials: usualMaterials}
	mass := g.MotorMass.Or(b.MotorDensity * math.Pi / 4 * g.Diameter * g.Diameter * g.Length)
	p.Motor = MotorParts{
		Mass: mass, Length: g.Length, Diameter: g.Diameter, CopperShare: b.CopperShare, IronShare: b.IronShare, MagnetShare: b.MagnetShare,
		EndTurnShare: b.EndTurnShare, StackShare: b.StackShare, WindingToJacket: quantity.Some(g.WindingToJacket), LinerShare: b.LinerShare,
		SlotSurface: 1, SlotHalfWidth: 1, FillFactor: 0.5, LinerThickness: 1, // a resistance that is given goes before them
		AirGap: b.AirGap, BearingMass: b.BearingMass, BearingToJacket: b.BearingToJacket, SealToWater: b.SealToWater,
		MountArea: b.MountArea, MountLength: b.MountLength,
	}
	p.Controller = ControllerParts{
		JunctionCapacity: b.JunctionCapacity, PlateMass: b.PlateMass, CapacitorMass: b.CapacitorMass, BridgeToPlate: g.BridgeToPlate,
		CapacitorToPlate: b.CapacitorToPlate, CapacitorToAir: g.CapacitorToAir.Or(b.CapacitorToAir),
	}
	cell := b.CellMassOf(g.CellCapacity)
	side := math.Cbrt(float64(g.Cells) * cell / cellDensity / stacked)
	p.Pack = PackParts{Cells: float64(g.Cells), CellMass: cell, Surface: b.PackSurface.Or(6 * side * side), ContactArea: b.PackContact, ContactLength: b.PackContactWay}
	p.Hull = HullParts{AirVolume: b.AirVolume, WallArea: b.WallArea, WallThickness: b.WallThickness, StillLoss: g.Cooling.StillLoss, MotorStillShare: b.MotorStillShare}
	p.Coolant = CoolantParts{
		First: g.Cooling.First, PlateToCoolant: g.Cooling.PlateToCoolant, JacketToCoolant: g.Cooling.JacketToCoolant,
		Flow: g.Flow, Exponent: b.FlowExponent, Volume: b.CoolantVolume,
	}
	p.Materials.AirFilm = b.AirFilm
	p.Water, p.Start = g.Water, b.Start.Or(g.Water)
	p.Density, p.SpecificHeat = g.Density, g.SpecificHeat
	return p
}

// usualMaterials are the middles of what Materials assumes; TestBuildExact holds the two together.
var usualMaterials = Materials{
	Copper: 385, CopperConductivity: 395, CopperDensity: 8933, Iron: 455, Aluminium: 892.5, Magnet: 465, Capacitor: 1100, Cell: 950,
	Plastic: 1500, PlasticDensity: 1135, PlasticConductivity: 0.185, LinerConductivity: 0.15, ResinConductivity: 0.155, AirConductivity: 0.028, AirFilm: 9,
}

// Network makes the network of a build: that of Default, with mounts of their own material, and with the way
// of the coolant in two streams, so that a hose may come off between plate and jacket.
func (b Build) Network(g Given) Network {
	p := b.Parts(g)
	n := Default(p)
	m := mountMaterials[b.MountMaterial]
	half := 2 * m.conductivity * b.MountArea / b.MountLength
	n.SetNode(Node{Name: NodeMounts, Capacity: b.MountArea * b.MountLength * m.density * m.specific, Start: p.Start})
	n.SetConductance(Conductance{Name: NodeJacket + " to " + NodeMounts, From: NodeJacket, To: NodeMounts, Value: half})
	n.SetConductance(Conductance{Name: NodeMounts + " to " + NodeWater, From: NodeMounts, To: NodeWater, Value: half})
	first, second := NodePlateCoolant, NodeJacketCoolant
	part := NodeJacket
	if g.Cooling.First == "motor" {
		first, second, part = second, first, NodePlate
	}
	rate := n.Streams[0].Flow
	n.SetStream(Stream{Name: StreamCoolant, Flow: rate, Path: []string{NodeWater, first}})
	n.SetStream(Stream{Name: StreamOnward, Flow: rate, Path: []string{first, second}})
	for _, c := range n.Conductances {
		if c.Name == part+" to "+second {
			c.Stream = StreamOnward
			n.SetConductance(c)
			break
		}
	}
	n.Sources = nil // the drive gives its heat by its own losses
	if g.Typed != nil {
		b.typed(&n, &g)
	}
	return n
}

// StreamOnward is the coolant between the first part that it meets and the second, in a network of Build.
const StreamOnward = "coolant onward"

// Names in a network of a coolant that is typed part by part.
const (
	StreamBeside = "coolant beside"        // to the second part without having met the first
	StreamLeaves = "coolant past the loop" // from the first part back to the keel plate
	StreamReturn = "coolant back"          // from the second part to the keel plate
	StreamKeel   = "keel plate"            // what the keel plate gives to the water outside, as a stream of that water
	NodeLoop     = "coolant behind the keel plate"
)

// PlateFirst tells whether more of the plate's heat reaches the jacket than of the jacket's the plate: which of the two the
// coolant meets first.
func (t *Table) PlateFirst() bool {
	s := t.At(tableHigh, 0)
	return s.ToJacket > s.ToPlate || s.ToJacket == s.ToPlate && t.setting.Cooling.First != "motor"
}

// typed puts the coolant's way as typed in the place of that of [cooling].
func (b Build) typed(n *Network, g *Given) {
	t := g.Typed
	first, second := NodePlateCoolant, NodeJacketCoolant
	if !t.PlateFirst() {
		first, second = second, first
	}
	begin := NodeWater
	if t.Layout.Closed {
		begin = NodeLoop
		share := 0.5 * b.CoolantVolume * g.Density * g.SpecificHeat
		n.SetNode(Node{Name: NodeLoop, Capacity: share, Start: b.Start.Or(g.Water)})
		n.SetStream(Stream{Name: StreamLeaves, Path: []string{first, NodeLoop}})
		n.SetStream(Stream{Name: StreamReturn, Path: []string{second, NodeLoop}})
		n.SetStream(Stream{Name: StreamKeel, Path: []string{NodeWater, NodeLoop}})
		// what the plate leads without flow keeps the loop from standing apart
		n.SetConductance(Conductance{Name: NodeLoop + " to " + NodeWater, From: NodeLoop, To: NodeWater, Value: 1e-3})
	}
	n.SetStream(Stream{Name: StreamCoolant, Path: []string{begin, first}})
	n.SetStream(Stream{Name: StreamOnward, Path: []string{first, second}})
	n.SetStream(Stream{Name: StreamBeside, Path: []string{begin, second}})
	for _, x := range [...]struct {
		wall, coolant string
		at            spot
	}{{NodePlate, NodePlateCoolant, t.Layout.plate}, {NodeJacket, NodeJacketCoolant, t.Layout.jacket}} {
		name := x.wall + " to " + x.coolant
		for _, c := range n.Conductances {
			if c.Name != name {
				continue
			}
			c.Stream, c.Beside = StreamCoolant, ""
			if x.coolant == second {
				c.Stream, c.Beside = StreamOnward, StreamBeside
			}
			if x.at.part >= 0 {
				c.Curve = t.Layout.Circuit.Lines[x.at.line].Elements[x.at.element].(*Channel).Curve(t.Fluid)
			}
			n.SetConductance(c)
			break
		}
	}
}

// Flows are the coolant in a network of Build, W/K. Those that a network has not stay zero.
type Flows struct{ Coolant, Onward, Beside, Leaves, Return, Keel float64 }

// Flows returns the coolant's streams at a velocity of the jet and of the craft in m/s, with a share of the coolant left, 1 for
// all, and no coolant past the hose to the second part where that is off; plateFirst is PlateFirst of the network.
//
//	W_1 = ρ·c·Q_1,  W_12 = f·W_1,  W_02 = W_2 − f·W_1,  keel: C_k·(e^(U/C_k) − 1)
//
//	W_1, W_2  past the first part and the second, W/K;  f  share of the first part's heat that reaches the second's inlet
//	W_12      from the first to the second;  W_02  to the second without having met the first
//	U         from the coolant through the keel plate to the water outside, W/K;  C_k  ρ·c·Q there
//
// Holds for the circuit as a whole losing the same share everywhere. A closed loop with a hose off loses all of its water.
//
// Source: own. Tests: TestTypedFlowsExact.
func (t *Table) Flows(jet, craft, left float64, hoseOff, plateFirst bool) (f Flows) {
	if hoseOff && t.Layout.Closed {
		left = 0
	}
	row := t.between(jet)
	per := t.Fluid.Density * t.Fluid.SpecificHeat * left
	s := t.streams(&row, craft)
	plate, jacket := row[colFlow]*per, row[colFlow]*per
	if t.Layout.Has(KindPlate) {
		plate = row[colPlateFlow] * per
	}
	if t.Layout.Has(KindJacket) {
		jacket = row[colJacketFlow] * per
	}
	one, two, share := plate, jacket, s.ToJacket
	if !plateFirst {
		one, two, share = jacket, plate, s.ToPlate
	}
	f.Coolant = one
	f.Onward = math.Min(share*one, two)
	f.Beside = math.Max(0, two-f.Onward)
	if hoseOff {
		f.Onward, f.Beside = 0, 0
	}
	if !t.Layout.Closed {
		return f
	}
	f.Leaves, f.Return = f.Coolant-f.Onward, f.Onward+f.Beside
	if rate := row[colKeelFlow] * per; rate > 0 {
		l := t.Layout
		wall := l.Circuit.Lines[l.keel.line].Elements[l.keel.element].(*Channel).Transfer(row[colKeelFlow]*left, t.Fluid).Conductance
		u := 1 / (1/wall + 1/l.Parts[l.keel.part].Keel.Plate.Outside(craft, t.Fluid))
		f.Keel = rate * math.Expm1(math.Min(u/rate, mixedEnd))
	}
	return f
}
