package drive

import (
	"jetwright/physics/heat"
	"jetwright/quantity"
)

// HeatLimit is a temperature that a node of the network should not reach.
type HeatLimit struct {
	Name, Part, Node string
	Allowed          float64 // K
	Tolerance        float64 // K that the bound itself may be off, either way
	Why, Source      string
	Sensor           string // node that a sensor can stand on, for a trip; empty where none helps
}

// HeatLimits returns every temperature that a march is held against.
func (m *Machine) HeatLimits() []HeatLimit {
	d := &m.Drive
	th := &d.Thermal
	magnets := d.Motor.MagnetBound()
	out := []HeatLimit{
		{"winding temperature", "motor", heat.NodeWinding, m.windingBound, 5, "insulation ages and fails; every 10 K halve its life as a rule of thumb", "iec-60085", heat.NodeJacket},
		{"end turns of the winding", "motor", heat.NodeEndTurns, m.windingBound, 5, "the winding is hottest where no iron cools it", "iec-60085", heat.NodeJacket},
		{"magnet temperature", "motor", heat.NodeMagnets, d.Limits.MagnetTemperature.Or(magnets), 10, "magnets lose strength for good; the suffix is a guide only, shape and circuit decide", "memory", heat.NodeJacket},
		{"grease of the bearings", "motor", heat.NodeBearings, th.GreaseLimit, 10, "grease thins, runs out and burns; the bearing follows", "memory", heat.NodeJacket},
		{"seal", "motor", heat.NodeBearings, th.SealLimit, 10, "rubber hardens and water gets at bearings and winding", "memory", heat.NodeJacket},
		{"bridge temperature", "controller", heat.NodeJunction, m.bridgeBound, 5, "transistors fail, mostly short, and the motor brakes or burns", "own", heat.NodePlate},
		{"capacitor temperature", "controller", heat.NodeCapacitor, d.Controller.CapacitorLimit.Or(capacitorBound), 5, "every 10 K halve a capacitor's life; too hot it bursts", "memory", heat.NodePlate},
		{"cell temperature", "battery", heat.NodeCells, th.CellLimit, 2, "cells age, and past some 80 °C they can heat themselves on to fire", "memory", ""},
		{"coolant at its outlet", "cooling", m.outlet(), d.Cooling.OutletLimit, 2, "hoses soften, and steam stops the flow", "own", heat.NodeJacket},
	}
	if low, high, ok := th.Softening(); ok {
		out = append(out, HeatLimit{mountsName, "thermal", heat.NodeJacket, (low + high) / 2, (high - low) / 2, mountsWhy, "memory", heat.NodeJacket})
	}
	return out
}

const (
	mountsName = "mounts of the motor"
	mountsWhy  = "printed plastic creeps under load, and the shaft line goes out of true"
)

// mountsLimit appends the limit of printed mounts at the steady jacket that they stand on.
func (m *Machine) mountsLimit(dst []quantity.Limit, s State) []quantity.Limit {
	low, high, ok := m.Drive.Thermal.Softening()
	if !ok {
		return dst
	}
	l := quantity.Limit{
		Name: mountsName, Part: "thermal", Unit: "°C", Value: s.Heat.JacketTemperature, Allowed: (low + high) / 2, Zero: m.Drive.Water.Temperature, Factor: 1,
		Why: mountsWhy, Source: "memory", Moves: []string{"thermal.mount_material", "cooling.jacket_to_coolant", "cooling.tap_diameter"},
	}
	if l.Allowed <= l.Zero {
		l.Zero = 0
	}
	return append(dst, l)
}

// capacitorBound is the core temperature that input capacitors stand where no limit is typed, K: 105 °C is what their makers
// mostly rate them for.
const capacitorBound = 105 + zeroCelsius

// outlet is the node from which the coolant leaves.
func (m *Machine) outlet() string {
	top := m.controllerTop
	if m.coolant != nil {
		top = m.coolant.PlateFirst()
	}
	if top {
		return heat.NodeJacketCoolant
	}
	return heat.NodePlateCoolant
}

// HeatElement is an element of the network of heat that is typed.
type HeatElement = heat.Replacement

// HeatNodes are the nodes of the network of heat that an element may be typed for.
func HeatNodes() []string { return heat.BuildNodes() }

// Names of the network's nodes, for whoever shows them.
const (
	NodeWater, NodeWinding, NodeMagnets = heat.NodeWater, heat.NodeWinding, heat.NodeMagnets
	NodeJacket, NodeJunction, NodePlate = heat.NodeJacket, heat.NodeJunction, heat.NodePlate
	NodeCapacitor, NodeCells, NodeAir   = heat.NodeCapacitor, heat.NodeCells, heat.NodeAir
)
