package heat

import (
	"math"

	"jetwright/quantity"
)

// MotorParts is what the motor is made of, as far as heat is concerned: an outer rotor or an inner one, with a
// stator whose teeth carry the winding.
type MotorParts struct {
	Mass            float64           `unit:"kg" doc:"mass of the motor with its jacket" range:"0.01 .. 500" usual:"0.3 .. 30" assume:"2.0 .. 4.5" source:"own"`
	Length          float64           `unit:"mm" doc:"length of the motor" range:"10 .. 1000" usual:"40 .. 300" assume:"100 .. 160" source:"own"`
	Diameter        float64           `unit:"mm" doc:"diameter of the motor" range:"10 .. 1000" usual:"30 .. 250" assume:"70 .. 120" source:"own"`
	CopperShare     float64           `unit:"1" doc:"share of the motor's mass that is copper" range:"0.01 .. 0.7" usual:"0.08 .. 0.4" assume:"0.14 .. 0.24" source:"own"`
	IronShare       float64           `unit:"1" doc:"share of the motor's mass that is iron of the stator" range:"0.01 .. 0.8" usual:"0.15 .. 0.6" assume:"0.28 .. 0.42" source:"own"`
	MagnetShare     float64           `unit:"1" doc:"share of the motor's mass that turns with the magnets, their carrier included" range:"0.01 .. 0.6" usual:"0.05 .. 0.4" assume:"0.12 .. 0.25" source:"own"`
	EndTurnShare    float64           `unit:"1" doc:"share of the copper that lies outside of the slots" range:"0.01 .. 0.9" usual:"0.1 .. 0.7" assume:"0.25 .. 0.45" source:"own"`
	StackShare      float64           `unit:"1" doc:"length of the stator's iron over that of the motor" range:"0.05 .. 1" usual:"0.2 .. 0.9" assume:"0.4 .. 0.65" source:"own"`
	WindingToJacket quantity.Optional `unit:"K/W" doc:"thermal resistance from winding to jacket; from slots, liner and joint if left out" range:"0.001 .. 5" usual:"0.01 .. 0.5"`
	LinerShare      float64           `unit:"1" doc:"share of the resistance from winding to jacket that lies between copper and iron" range:"0.05 .. 0.98" usual:"0.3 .. 0.95" assume:"0.55 .. 0.85" source:"own"`
	SlotSurface     float64           `unit:"cm²" doc:"surface of all slots' walls together" range:"1 .. 100000" usual:"50 .. 3000" assume:"500 .. 1000" source:"own"`
	SlotHalfWidth   float64           `unit:"mm" doc:"half the width of a slot: the way of the heat through the winding" range:"0.1 .. 50" usual:"0.5 .. 10" assume:"2 .. 4" source:"own"`
	FillFactor      float64           `unit:"1" doc:"copper's share of a slot's area" range:"0.05 .. 0.9" usual:"0.2 .. 0.7" assume:"0.35 .. 0.50" source:"memory"`
	LinerThickness  float64           `unit:"mm" doc:"thickness of the slot liner" range:"0.01 .. 5" usual:"0.05 .. 1" assume:"0.15 .. 0.30" source:"memory"`
	AirGap          float64           `unit:"mm" doc:"gap between stator and magnets" range:"0.05 .. 20" usual:"0.2 .. 3" assume:"0.5 .. 1.0" source:"own"`
	BearingMass     float64           `unit:"kg" doc:"mass of bearings, seal and the shaft between them" range:"0.001 .. 100" usual:"0.02 .. 5" assume:"0.15 .. 0.40" source:"own"`
	BearingToJacket float64           `unit:"K/W" doc:"thermal resistance from bearings and seal to the jacket" range:"0.001 .. 100" usual:"0.05 .. 10" assume:"0.3 .. 1.0" source:"own"`
	SealToWater     float64           `unit:"K/W" doc:"thermal resistance from bearings and seal along the shaft to the water outside" range:"0.001 .. 1000" usual:"0.1 .. 50" assume:"1 .. 5" source:"own"`
	MountArea       float64           `unit:"cm²" doc:"cross-section of all mounts of the motor together" range:"0.01 .. 10000" usual:"1 .. 200" assume:"8 .. 20" source:"own"`
	MountLength     float64           `unit:"mm" doc:"way of the heat through a mount to the hull" range:"0.1 .. 1000" usual:"2 .. 100" assume:"10 .. 30" source:"own"`
}

// ControllerParts is what the controller is made of.
type ControllerParts struct {
	JunctionCapacity float64 `unit:"J/K" doc:"heat capacity of the transistors and their pads together" range:"0.001 .. 10000" usual:"0.1 .. 200" assume:"3 .. 15" source:"own"`
	PlateMass        float64 `unit:"kg" doc:"mass of the plate that the transistors are cooled by" range:"0.001 .. 100" usual:"0.05 .. 5" assume:"0.3 .. 0.8" source:"own"`
	CapacitorMass    float64 `unit:"kg" doc:"mass of the capacitors" range:"0.0001 .. 50" usual:"0.01 .. 2" assume:"0.05 .. 0.20" source:"own"`
	BridgeToPlate    float64 `unit:"K/W" doc:"thermal resistance from the transistors, all together, to the plate" range:"0.001 .. 10" usual:"0.005 .. 0.5" assume:"0.02 .. 0.08" source:"memory"`
	CapacitorToPlate float64 `unit:"K/W" doc:"thermal resistance from the capacitors to the plate" range:"0.01 .. 1000" usual:"0.2 .. 50" assume:"2 .. 8" source:"own"`
	CapacitorToAir   float64 `unit:"K/W" doc:"thermal resistance from the capacitors to the air about them" range:"0.01 .. 1000" usual:"1 .. 100" assume:"6 .. 15" source:"own"`
}

// PackParts is what the battery is made of.
type PackParts struct {
	Cells         float64 `unit:"1" doc:"number of cells" range:"1 .. 100000" usual:"4 .. 1000" assume:"56" source:"own"`
	CellMass      float64 `unit:"g" doc:"mass of one cell" range:"1 .. 20000" usual:"40 .. 1500" assume:"66 .. 72" source:"memory"`
	Surface       float64 `unit:"cm²" doc:"surface of the pack that touches air" range:"1 .. 1000000" usual:"200 .. 20000" assume:"1200 .. 2500" source:"own"`
	ContactArea   float64 `unit:"cm²" doc:"cross-section of the printed mounts under the pack" range:"0.01 .. 100000" usual:"1 .. 1000" assume:"20 .. 60" source:"own"`
	ContactLength float64 `unit:"mm" doc:"way of the heat through those mounts to the hull" range:"0.1 .. 1000" usual:"2 .. 100" assume:"5 .. 15" source:"own"`
}

// HullParts is the compartment that all of it stands in.
type HullParts struct {
	AirVolume       float64 `unit:"L" doc:"air in the compartment" range:"0.01 .. 100000" usual:"1 .. 500" assume:"10 .. 40" source:"own"`
	WallArea        float64 `unit:"cm²" doc:"wall of the compartment with water behind it" range:"1 .. 10000000" usual:"500 .. 50000" assume:"2000 .. 6000" source:"own"`
	WallThickness   float64 `unit:"mm" doc:"thickness of that wall" range:"0.1 .. 200" usual:"1 .. 50" assume:"3 .. 8" source:"own"`
	StillLoss       float64 `unit:"W/K" doc:"heat that motor and controller lose to the air about them, by difference of temperature" range:"0.01 .. 100" usual:"0.2 .. 20" assume:"1 .. 4" source:"own"`
	MotorStillShare float64 `unit:"1" doc:"share of that which the motor loses" range:"0 .. 1" assume:"0.5 .. 0.8" source:"own"`
}

// CoolantParts is the coolant as the network sees it.
type CoolantParts struct {
	First           string  `doc:"which part the coolant meets first" choices:"controller|motor" assume:"controller" source:"own"`
	PlateToCoolant  float64 `unit:"K/W" doc:"thermal resistance from the controller's plate to the coolant" range:"0.0001 .. 2" usual:"0.001 .. 0.2" assume:"0.005 .. 0.03" source:"own"`
	JacketToCoolant float64 `unit:"K/W" doc:"thermal resistance from the motor's jacket to the coolant" range:"0.0001 .. 2" usual:"0.001 .. 0.2" assume:"0.005 .. 0.03" source:"own"`
	Flow            float64 `unit:"L/min" doc:"coolant flow at which those two hold" range:"0.01 .. 1000" usual:"0.3 .. 60" assume:"2 .. 8" source:"own"`
	Exponent        float64 `unit:"1" doc:"how they fall with the flow: 0 for not at all, 0.33 laminar, 0.8 turbulent" range:"0 .. 1" assume:"0.33 .. 0.8" source:"incropera-2007"`
	Volume          float64 `unit:"mL" doc:"water in plate, jacket and hoses between" range:"0 .. 100000" usual:"5 .. 2000" assume:"40 .. 150" source:"own"`
}

// Materials are the properties of what the parts are made of.
type Materials struct {
	Copper              float64 `unit:"J/(kg·K)" doc:"specific heat of copper" range:"300 .. 450" usual:"380 .. 395" assume:"385" source:"incropera-2007"`
	CopperConductivity  float64 `unit:"W/(m·K)" doc:"thermal conductivity of copper" range:"100 .. 430" usual:"360 .. 401" assume:"395" source:"incropera-2007"`
	CopperDensity       float64 `unit:"kg/m³" doc:"density of copper" range:"8000 .. 9100" usual:"8900 .. 8960" assume:"8933" source:"incropera-2007"`
	Iron                float64 `unit:"J/(kg·K)" doc:"specific heat of sheet iron" range:"350 .. 600" usual:"430 .. 490" assume:"440 .. 470" source:"incropera-2007"`
	Aluminium           float64 `unit:"J/(kg·K)" doc:"specific heat of aluminium" range:"800 .. 1000" usual:"870 .. 920" assume:"880 .. 905" source:"incropera-2007"`
	Magnet              float64 `unit:"J/(kg·K)" doc:"specific heat of neodymium magnets and their carrier" range:"300 .. 700" usual:"400 .. 520" assume:"430 .. 500" source:"memory"`
	Capacitor           float64 `unit:"J/(kg·K)" doc:"specific heat of capacitors" range:"500 .. 2500" usual:"800 .. 1600" assume:"900 .. 1300" source:"memory"`
	Cell                float64 `unit:"J/(kg·K)" doc:"specific heat of lithium cells" range:"600 .. 1600" usual:"800 .. 1200" assume:"850 .. 1050" source:"memory"`
	Plastic             float64 `unit:"J/(kg·K)" doc:"specific heat of printed plastic" range:"800 .. 2500" usual:"1100 .. 2000" assume:"1200 .. 1800" source:"memory"`
	PlasticDensity      float64 `unit:"kg/m³" doc:"density of printed plastic" range:"300 .. 2000" usual:"900 .. 1400" assume:"1000 .. 1270" source:"memory"`
	PlasticConductivity float64 `unit:"W/(m·K)" doc:"thermal conductivity of printed plastic" range:"0.02 .. 2" usual:"0.08 .. 0.4" assume:"0.12 .. 0.25" source:"memory"`
	LinerConductivity   float64 `unit:"W/(m·K)" doc:"thermal conductivity of the slot liner, gaps of air included" range:"0.02 .. 2" usual:"0.05 .. 0.4" assume:"0.10 .. 0.20" source:"memory"`
	ResinConductivity   float64 `unit:"W/(m·K)" doc:"thermal conductivity of what lies between the wires: air 0.026, resin 0.2 to 0.3" range:"0.02 .. 3" usual:"0.025 .. 1" assume:"0.06 .. 0.25" source:"memory"`
	AirConductivity     float64 `unit:"W/(m·K)" doc:"thermal conductivity of air" range:"0.015 .. 0.05" usual:"0.023 .. 0.032" assume:"0.028" source:"incropera-2007"`
	AirFilm             float64 `unit:"W/(m²·K)" doc:"heat transfer to still air at a difference of 20 K, radiation included" range:"0.5 .. 60" usual:"3 .. 20" assume:"6 .. 12" source:"memory"`
}

// Parts are the few numbers that a network of the whole drive is made from.
type Parts struct {
	Motor      MotorParts
	Controller ControllerParts
	Pack       PackParts
	Hull       HullParts
	Coolant    CoolantParts
	Materials  Materials

	Water              float64 `unit:"°C" doc:"water outside" range:"-2 .. 40" usual:"0 .. 35" assume:"5 .. 25" source:"own"`
	Start              float64 `unit:"°C" doc:"temperature that everything begins at" range:"-30 .. 70" usual:"-5 .. 45" assume:"5 .. 25" source:"own"`
	Density            float64 `unit:"kg/m³" doc:"density of the coolant" range:"900 .. 1100" usual:"990 .. 1030" assume:"998" source:"ittc-water-2011"`
	SpecificHeat       float64 `unit:"J/(kg·K)" doc:"specific heat of the coolant" range:"3000 .. 4400" usual:"3900 .. 4220" assume:"4190" source:"ittc-water-2011"`
	ResistanceAlpha    float64 `unit:"1/K" doc:"growth of the winding's resistance" range:"0 .. 0.01" usual:"0.003 .. 0.0045" assume:"0.00393" source:"iec-60028"`
	ResistanceReferred float64 `unit:"°C" doc:"temperature at which the copper losses of a run are given" range:"-40 .. 150" usual:"0 .. 40" assume:"20" source:"iec-60028"`
}

// Names in the network of the whole drive.
const (
	NodeWater, NodeWinding, NodeEndTurns, NodeIron, NodeMagnets            = "water", "winding", "end turns", "iron", "magnets"
	NodeJacket, NodeBearings, NodeJunction, NodePlate                      = "jacket", "bearings and seal", "junction", "plate"
	NodeCapacitor, NodePlateCoolant, NodeJacketCoolant                     = "capacitor", "coolant at the plate", "coolant at the jacket"
	NodeCells, NodeAir, NodeMounts                                         = "cells", "compartment air", "mounts"
	StreamCoolant                                                          = "coolant"
	SourceCopper, SourceEndTurns, SourceIron, SourceMagnets                = "copper in the slots", "copper in the end turns", "iron loss", "loss in the magnets"
	SourceFriction, SourceBridge, SourceStandby, SourceRipple, SourceCells = "friction", "bridge", "standby", "ripple", "cells"
)

// SlotConductivity returns the thermal conductivity of a winding across its wires in W/(m·K).
//
//	k = k_r·[(1 + f)·k_c + (1 − f)·k_r]/[(1 − f)·k_c + (1 + f)·k_r]
//
//	f    fill factor: copper's share of the area, -    [MotorParts.FillFactor]
//	k_c  conductivity of copper, W/(m·K)
//	k_r  conductivity of what lies between, W/(m·K)    [Materials.ResinConductivity]
//
// The lower bound of Hashin and Shtrikman for round wires, which measured windings lie near. Holds for
// f from 0 to 0.9.
//
// Source: memory. Tests: TestSlotConductivityExact.
func SlotConductivity(fill, copper, between float64) float64 {
	return between * ((1+fill)*copper + (1-fill)*between) / ((1-fill)*copper + (1+fill)*between)
}

// SlotResistance returns the thermal resistance in K/W from the mean of the winding in its slots to the iron.
//
//	R = [t/k_l + a/(3·k)]/A
//
//	t    thickness of the liner, m               [MotorParts.LinerThickness]
//	k_l  its conductivity, W/(m·K)               [Materials.LinerConductivity]
//	a    half the width of a slot, m             [MotorParts.SlotHalfWidth]
//	k    conductivity of the winding, W/(m·K)
//	A    surface of the slots' walls, m²         [MotorParts.SlotSurface]
//
// Holds for heat made evenly in a layer cooled at both faces: its mean lies q·a/(3k) above the face.
//
// Source: incropera-2007. Tests: TestSlotConductivityExact.
func SlotResistance(p MotorParts, m Materials) float64 {
	k := SlotConductivity(p.FillFactor, m.CopperConductivity, m.ResinConductivity)
	return (p.LinerThickness/m.LinerConductivity + p.SlotHalfWidth/(3*k)) / p.SlotSurface
}

// Default makes the network of the whole drive. Its sources have no power: each leg of a run gives them.
// Every element may be replaced by its name.
//
// The coolant at a part is one node, as warm as it leaves the part; Cooling.Steady takes the mean of inlet
// and outlet, so that the network is warmer by half of what the coolant gains at that part.
func Default(p Parts) Network {
	var n Network
	volumetric := p.Density * p.SpecificHeat
	mo, co, pa, hu, cl, ma := p.Motor, p.Controller, p.Pack, p.Hull, p.Coolant, p.Materials
	node := func(name string, capacity float64) {
		n.Nodes = append(n.Nodes, Node{Name: name, Capacity: capacity, Start: p.Start})
	}
	n.Nodes = append(n.Nodes, Node{Name: NodeWater, Fixed: true, Start: p.Water})
	copper := mo.Mass * mo.CopperShare
	iron, magnets := mo.Mass*mo.IronShare, mo.Mass*mo.MagnetShare
	jacket := mo.Mass - copper - iron - magnets
	mounts := mo.MountArea * mo.MountLength * ma.PlasticDensity * ma.Plastic
	node(NodeWinding, copper*(1-mo.EndTurnShare)*ma.Copper)
	node(NodeEndTurns, copper*mo.EndTurnShare*ma.Copper)
	node(NodeIron, iron*ma.Iron)
	node(NodeMagnets, magnets*ma.Magnet)
	node(NodeJacket, jacket*ma.Aluminium)
	node(NodeBearings, mo.BearingMass*ma.Iron)
	node(NodeJunction, co.JunctionCapacity)
	node(NodePlate, co.PlateMass*ma.Aluminium)
	node(NodeCapacitor, co.CapacitorMass*ma.Capacitor)
	node(NodePlateCoolant, 0.5*cl.Volume*volumetric)
	node(NodeJacketCoolant, 0.5*cl.Volume*volumetric)
	node(NodeCells, float64(pa.Cells)*pa.CellMass*ma.Cell)
	node(NodeAir, hu.AirVolume*airHeat)
	node(NodeMounts, mounts)

	join := func(from, to string, value float64) {
		n.Conductances = append(n.Conductances, Conductance{Name: from + " to " + to, From: from, To: to, Value: value})
	}
	inSlots, joint := SlotResistance(mo, ma), 0.0
	if mo.WindingToJacket.Set {
		inSlots = mo.WindingToJacket.Value * mo.LinerShare
	}
	joint = inSlots * (1 - mo.LinerShare) / mo.LinerShare
	stack := mo.Length * mo.StackShare
	section := copper * (1 - mo.EndTurnShare) / (ma.CopperDensity * stack) // of all wires in the slots together
	join(NodeWinding, NodeIron, 1/inSlots)
	join(NodeWinding, NodeEndTurns, 2*ma.CopperConductivity*section/(stack/2)) // at both ends, from the middle of each half and as far again outside
	join(NodeEndTurns, NodeJacket, ma.AirFilm*math.Pi*mo.Diameter*(mo.Length-stack))
	join(NodeIron, NodeJacket, 1/joint)
	join(NodeMagnets, NodeIron, 2*ma.AirConductivity*math.Pi*0.7*mo.Diameter*stack/mo.AirGap) // turning air carries about twice what still air does
	join(NodeMagnets, NodeBearings, 1/mo.BearingToJacket)
	join(NodeBearings, NodeJacket, 1/mo.BearingToJacket)
	join(NodeBearings, NodeWater, 1/mo.SealToWater)
	half := 2 * ma.PlasticConductivity * mo.MountArea / mo.MountLength
	join(NodeJacket, NodeMounts, half)
	join(NodeMounts, NodeWater, half)
	join(NodeJunction, NodePlate, 1/co.BridgeToPlate)
	join(NodeCapacitor, NodePlate, 1/co.CapacitorToPlate)
	join(NodeCapacitor, NodeAir, 1/co.CapacitorToAir)
	join(NodeCells, NodeWater, ma.PlasticConductivity*pa.ContactArea/pa.ContactLength)
	join(NodeJacket, NodeAir, hu.StillLoss*hu.MotorStillShare)
	join(NodePlate, NodeAir, hu.StillLoss*(1-hu.MotorStillShare))
	join(NodeAir, NodeWater, hu.WallArea/(1/ma.AirFilm+hu.WallThickness/ma.PlasticConductivity))
	n.Conductances = append(n.Conductances, Conductance{
		Name: NodeCells + " to " + NodeAir, From: NodeCells, To: NodeAir,
		Value: ma.AirFilm * pa.Surface, Law: ByDifference, Reference: 20, Exponent: 0.25,
	})
	rate := cl.Flow * volumetric
	wet := func(from, to string, resistance float64) {
		n.Conductances = append(n.Conductances, Conductance{
			Name: from + " to " + to, From: from, To: to, Value: 0.98 / resistance, Still: 0.02 / resistance,
			Law: ByFlow, Stream: StreamCoolant, Reference: rate, Exponent: cl.Exponent,
		})
	}
	wet(NodePlate, NodePlateCoolant, cl.PlateToCoolant)
	wet(NodeJacket, NodeJacketCoolant, cl.JacketToCoolant)
	path := []string{NodeWater, NodePlateCoolant, NodeJacketCoolant}
	if cl.First == "motor" {
		path[1], path[2] = path[2], path[1]
	}
	n.Streams = []Stream{{Name: StreamCoolant, Flow: rate, Path: path}}

	alpha := p.ResistanceAlpha
	n.Sources = []Source{
		{Name: SourceCopper, Node: NodeWinding, Alpha: alpha, Reference: p.ResistanceReferred},
		{Name: SourceEndTurns, Node: NodeEndTurns, Alpha: alpha, Reference: p.ResistanceReferred},
		{Name: SourceIron, Node: NodeIron},
		{Name: SourceMagnets, Node: NodeMagnets},
		{Name: SourceFriction, Node: NodeBearings},
		{Name: SourceBridge, Node: NodeJunction},
		{Name: SourceStandby, Node: NodePlate},
		{Name: SourceRipple, Node: NodeCapacitor},
		{Name: SourceCells, Node: NodeCells},
	}
	return n
}

// airHeat is the heat capacity of air at 20 °C and standard pressure in J/(m³·K): 1.204 kg/m³ times 1007 J/(kg·K).
const airHeat = 1212

// Temperatures are those of the network of the whole drive.
type Temperatures struct {
	Winding        float64 `unit:"°C" doc:"winding in its slots"`
	EndTurns       float64 `unit:"°C" doc:"end turns of the winding"`
	Iron           float64 `unit:"°C" doc:"iron of the stator"`
	Magnets        float64 `unit:"°C" doc:"magnets"`
	Jacket         float64 `unit:"°C" doc:"jacket of the motor"`
	Bearings       float64 `unit:"°C" doc:"bearings and seal"`
	Junction       float64 `unit:"°C" doc:"transistors of the controller"`
	Plate          float64 `unit:"°C" doc:"plate of the controller"`
	Capacitor      float64 `unit:"°C" doc:"capacitors"`
	PlateCoolant   float64 `unit:"°C" doc:"coolant as it leaves the plate"`
	JacketCoolant  float64 `unit:"°C" doc:"coolant as it leaves the jacket"`
	Cells          float64 `unit:"°C" doc:"cells"`
	CompartmentAir float64 `unit:"°C" doc:"air of the compartment"`
	Mounts         float64 `unit:"°C" doc:"mounts of the motor"`
}

// Read gives the temperatures of a row by name; ok is false where the system has not all of those nodes.
func (s *System) Read(row []float64) (t Temperatures, ok bool) {
	ok = true
	for _, x := range [...]struct {
		name string
		to   *float64
	}{
		{NodeWinding, &t.Winding},
		{NodeEndTurns, &t.EndTurns},
		{NodeIron, &t.Iron},
		{NodeMagnets, &t.Magnets},
		{NodeJacket, &t.Jacket},
		{NodeBearings, &t.Bearings},
		{NodeJunction, &t.Junction},
		{NodePlate, &t.Plate},
		{NodeCapacitor, &t.Capacitor},
		{NodePlateCoolant, &t.PlateCoolant},
		{NodeJacketCoolant, &t.JacketCoolant},
		{NodeCells, &t.Cells},
		{NodeAir, &t.CompartmentAir},
		{NodeMounts, &t.Mounts},
	} {
		i, there := s.at[x.name]
		if ok = ok && there; there {
			*x.to = row[i]
		}
	}
	return t, ok
}
