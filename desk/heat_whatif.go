package desk

import (
	"math"
	"sort"

	"jetwright/drive"
	"jetwright/explore"
	"jetwright/quantity"
)

// hardest is the place of the step that takes most power, by the nominal march; the last of equals.
func hardest(n *drive.Marched) (leg int, power float64) {
	leg = -1
	for _, r := range n.Rows {
		if r.Leg < n.Ending.Legs && r.ControllerPower > 0 && r.ControllerPower >= power*(1-1e-3) {
			leg, power = r.Leg, math.Max(power, r.ControllerPower)
		}
	}
	return leg, power
}

// whatIfs marches what may go wrong: the duty up to its hardest step, and then that step under the fault.
func (a *HeatAnswer) whatIfs(warm *explore.Sample, base *spreadOf, names map[string]bool) {
	at, _ := hardest(&base.nominal)
	if at < 0 {
		return // nothing runs at all
	}
	thermal := warm.Nominal.Drive.Thermal
	tripless := !thermal.HousingTrip.Set && !thermal.PlateTrip.Set && !thermal.Folds()
	closed := len(warm.Nominal.Drive.Coolant) > 0 && warm.Nominal.CoolantTable().Layout.Closed
	for _, w := range WhatIfs {
		if closed && w.Closed != "" {
			w.Means = w.Closed
		}
		if len(names) > 0 && !names[w.Name] {
			continue
		}
		if n := len(a.Courses); w.Name == "sensor frozen" && tripless && len(names) == 0 {
			for _, c := range a.Courses[:n] {
				if c.Name == "coolant blocked" {
					c.Name, c.Means = w.Name, "as with coolant blocked, since neither a trip nor a foldback is typed that it could keep asleep"
					a.Courses = append(a.Courses, c)
				}
			}
			continue
		}
		before := append([]drive.Leg(nil), a.Steps[:at+1]...)
		for i := range before {
			before[i].Fault.NoTrip = true // trips are sought, not used
		}
		last := before[at]
		last.Seconds = faultTime
		from := 0.0
		for _, l := range before {
			from += l.Seconds
		}
		p := drive.March{Soak: soakTime}
		switch w.Name {
		case "warm water":
			p.Legs, from = a.Steps, -1
		case "throttle held":
			last.Seconds, last.Hold = holdTime, true
			p.Legs, from = []drive.Leg{last}, 0
		case "coolant clogged":
			last.Fault.CoolantLost = 2.0 / 3
		case "coolant blocked":
			last.Fault.CoolantLost, last.Fault.NoTrip = 1, false
		case "sensor frozen":
			last.Fault.CoolantLost, last.Fault.Frozen = 1, true
		case "hose off":
			last.Fault.HoseOff, last.Fault.NoTrip = true, false
		case "weed at intake":
			last.Fault.Weed = 0.5
		case "pump dry":
			last.Fault.Dry = true
		}
		if p.Legs == nil {
			p.Legs = append(before, last)
		}
		if w.Name == "coolant blocked" || w.Name == "sensor frozen" && a.blocked.Legs == nil {
			a.blocked = drive.March{Legs: append([]drive.Leg(nil), p.Legs...), Soak: p.Soak}
			f := &a.blocked.Legs[len(p.Legs)-1].Fault
			f.Frozen, f.NoTrip = false, false
		}
		m, err := marched(warm, p)
		if err != nil {
			a.Courses = append(a.Courses, Course{Name: w.Name, Means: w.Means, Water: a.WarmWater, Why: err.Error()})
			continue
		}
		c := m.course(w.Name, w.Means, from, warm)
		if from > 0 {
			c.Seconds = last.Seconds
		}
		a.Courses = append(a.Courses, c)
	}
}

// trips seeks what a sensor has to be set to: by what it shows, a reaction time before the first limit behind it is
// reached, in every course without a trip.
func (a *HeatAnswer) trips(m *drive.Machine) {
	for _, t := range []struct{ sensor, key string }{{"jacket", "thermal.housing_trip"}, {"plate", "thermal.plate_trip"}} {
		trip := Trip{Sensor: t.sensor, Key: t.key, Value: math.Inf(1)}
		for _, c := range a.Courses {
			var sensor *NodeCourse
			for k := range c.Nodes {
				if c.Nodes[k].Name == t.sensor {
					sensor = &c.Nodes[k]
				}
			}
			if sensor == nil || c.Name == "pump dry" {
				continue
			}
			if c.FaultAt < 0 {
				if sensor.Peak.High > trip.Normal.High {
					trip.Normal = sensor.Peak
				}
			}
			for _, l := range c.Limits {
				if l.Sensor == t.sensor && l.Sensed < trip.Value {
					trip.Value, trip.For, trip.In, trip.Reached = l.Sensed, l.Name, c.Name, true
				}
			}
		}
		if trip.Reached {
			trip.Value -= a.overshoot(m, trip)
		}
		trip.Serves = trip.Value > trip.Normal.High
		a.Trips = append(a.Trips, trip)
	}
}

// overshoot is by how much in K a trip has to come sooner, so that what soaks back after the stop keeps below the limits
// too: by the nominal drive whose coolant stops.
func (a *HeatAnswer) overshoot(m *drive.Machine, trip Trip) float64 {
	const turns = 8
	down := 0.0
	for range turns {
		d := m.Drive
		at := quantity.Some(trip.Value - down)
		d.Thermal.HousingTrip, d.Thermal.PlateTrip = quantity.Optional{}, quantity.Optional{}
		if trip.Sensor == drive.NodeJacket {
			d.Thermal.HousingTrip = at
		} else {
			d.Thermal.PlateTrip = at
		}
		machine, err := d.Resolve()
		if err != nil {
			return down
		}
		x, err := drive.NewMarcher(machine)
		if err != nil {
			return down
		}
		var out drive.Marched
		if x.Run(a.blocked, &out) != nil || out.Ending.Kind != drive.Tripped {
			return down
		}
		over := 0.0
		for _, l := range x.Limits {
			if l.Sensor == trip.Sensor {
				over = math.Max(over, out.Peak[x.Node(l.Node)]-l.Allowed)
			}
		}
		if over <= 0 {
			return down
		}
		down += over + 0.2
	}
	return down
}

// valueAt reads a node's temperature at a time of a march, in straight lines between its rows.
func valueAt(d *drive.Marched, node int, t float64) float64 {
	k := sort.Search(len(d.Rows), func(i int) bool { return d.Rows[i].Time >= t })
	switch {
	case len(d.Rows) == 0:
		return math.Inf(1)
	case k == 0:
		return d.Temperature(0, node)
	case k == len(d.Rows):
		return d.Temperature(k-1, node)
	}
	a, b := d.Rows[k-1].Time, d.Rows[k].Time
	x, y := d.Temperature(k-1, node), d.Temperature(k, node)
	return x + (t-a)/(b-a)*(y-x)
}
