package heat

import (
	"math"
	"math/rand/v2"
	"testing"

	"jetwright/quantity"
)

// middle fills a tagged struct with the middle of what it assumes.
func middle(t testing.TB, ptr any) {
	t.Helper()
	schema, err := quantity.SchemaOf(ptr)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range schema.Fields() {
		if f.Kind == quantity.KindText {
			schema.SetText(ptr, f, f.AssumeText)
		} else if v, ok := f.Assumed(); ok {
			schema.Set(ptr, f, v.Nominal())
		}
	}
}

func parts(t testing.TB) Parts {
	t.Helper()
	var p Parts
	middle(t, &p)
	return p
}

// Between its limits a winding conducts as what lies between its wires does (f = 0), as copper (f = 1),
// and at f = ½ with perfect copper three times as well.
func TestSlotConductivityExact(t *testing.T) {
	near(t, "no copper", SlotConductivity(0, 400, 0.2), 0.2, 1e-15)
	near(t, "all copper", SlotConductivity(1, 400, 0.2), 400, 1e-10)
	near(t, "half", SlotConductivity(0.5, 1e12, 0.2), 0.6, 1e-10)
	r := SlotResistance(MotorParts{LinerThickness: 2e-4, SlotHalfWidth: 3e-3, SlotSurface: 0.04, FillFactor: 0}, Materials{LinerConductivity: 0.1, CopperConductivity: 400, ResinConductivity: 0.2})
	near(t, "liner and layer", r, (2e-3+5e-3)/0.04, 1e-12)
}

// The heat of the steady state leaves where it can, and with nothing but the coolant cooling it the
// coolant has all of it.
func TestDefaultExact(t *testing.T) {
	p := parts(t)
	n := Default(p)
	s := system(t, n)
	r := NewRunner(s)
	power := s.Powers()
	for name, w := range map[string]float64{SourceCopper: 180, SourceEndTurns: 90, SourceIron: 60, SourceMagnets: 5, SourceFriction: 15, SourceBridge: 110, SourceStandby: 10, SourceRipple: 2, SourceCells: 60} {
		i, ok := s.Source(name)
		if !ok {
			t.Fatal(name)
		}
		power[i] = w
	}
	y, err := r.Steady(power, nil, nil, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	temps, ok := s.Read(y)
	if !ok {
		t.Fatal("a node is missing")
	}
	t.Logf("%+v", temps)
	in, out := r.account(func() (f []float64) {
		for _, k := range s.free {
			f = append(f, y[k])
		}
		return f
	}(), 0)
	near(t, "heat out", out, in, 1e-6*in)
	if !(temps.Winding > temps.Iron && temps.Iron > temps.Jacket && temps.Jacket > temps.JacketCoolant && temps.JacketCoolant > temps.PlateCoolant && temps.Junction > temps.Plate) {
		t.Error("heat does not go from the parts into the coolant")
	}
	// a typed resistance from winding to jacket, liner and joint in a row, and no other way out
	p.Motor.WindingToJacket = quantity.Some(0.08)
	p.Hull.StillLoss = 1e-9
	n = Default(p)
	const least = 1e-9
	for _, name := range []string{"winding to end turns", "magnets to iron", "bearings and seal to jacket", "jacket to mounts", "capacitor to air"} {
		for i, x := range n.Conductances {
			if x.Name == name {
				n.Conductances[i].Value = least
			}
		}
	}
	s = system(t, n)
	power = s.Powers()
	at, _ := s.Source(SourceCopper)
	power[at] = 200
	for i := range n.Sources {
		n.Sources[i].Alpha = 0
	}
	s = system(t, n)
	if y, err = NewRunner(s).Steady(power, nil, nil, nil, 0); err != nil {
		t.Fatal(err)
	}
	temps, _ = s.Read(y)
	rise := 200 / (p.Coolant.Flow * p.Density * p.SpecificHeat)
	near(t, "coolant", temps.JacketCoolant, p.Water+rise, 1e-4)
	near(t, "jacket", temps.Jacket, p.Water+rise+200*p.Coolant.JacketToCoolant, 1e-4)
	near(t, "winding", temps.Winding, temps.Jacket+200*0.08, 1e-4)
}

// Any drive within what is assumed makes a network that holds, whatever comes first.
func TestDefaultLaw(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 1))
	for range 300 {
		p := parts(t)
		schema, err := quantity.SchemaOf(&p)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range schema.Fields() {
			if f.Kind == quantity.KindNumber && f.Range != nil {
				b := f.Range
				if f.Usual != nil {
					b = f.Usual
				}
				lo, hi := math.Max(b.Low, 1e-9), b.High
				if f.Unit.Dim.Temperature == 1 || f.Assume != nil {
					lo, hi = f.Assume.Low, f.Assume.High
				}
				schema.Set(&p, f, lo+(hi-lo)*rnd.Float64())
			}
		}
		if rnd.IntN(2) == 0 {
			p.Coolant.First = "motor"
		}
		s, err := NewSystem(Default(p))
		if err != nil {
			t.Fatal(err)
		}
		power := s.Powers()
		for i := range power {
			power[i] = 40 * rnd.Float64()
		}
		var rec Record
		if err := NewRunner(s).Run(&Duty{Legs: []Leg{{Duration: 600, Power: power}, {Duration: 600, Power: power, Flow: []float64{0}}}}, &rec); err != nil {
			t.Fatal(err)
		}
		closes(t, &rec)
	}
}

// ride is an hour of twenty legs, load and rest in turn.
func ride(s *System, feed func(*Now)) Duty {
	d := Duty{Every: 1, Feed: feed}
	for i := range 20 {
		p := s.Powers()
		load := 0.0
		if i%2 == 0 {
			load = 0.4 + 0.03*float64(i)
		}
		for name, w := range map[string]float64{SourceCopper: 180, SourceEndTurns: 90, SourceIron: 60, SourceFriction: 15, SourceBridge: 110, SourceStandby: 10, SourceRipple: 2, SourceCells: 60} {
			at, _ := s.Source(name)
			p[at] = w * load
		}
		flow := s.Flows()
		flow[0] *= load
		d.Legs = append(d.Legs, Leg{Duration: 180, Power: p, Flow: flow})
	}
	for _, name := range []string{NodeWinding, NodeJunction, NodeCells} {
		d.Bounds = append(d.Bounds, Bound{name, 400})
	}
	return d
}

// dear is a feed that costs about as much as solving the drive does.
func dear(s *System) func(*Now) {
	at, _ := s.Node(NodeJunction)
	return func(n *Now) {
		x := 0.0
		for i := range 700 {
			x += math.Sqrt(n.Temperatures[at] + float64(i))
		}
		n.Heat[at] = 5 + 0.01*n.Temperatures[at] + 1e-12*x
	}
}

// The hot loop allocates nothing, and the same run gives the same figures bit for bit.
func TestRunLaw(t *testing.T) {
	s := system(t, Default(parts(t)))
	r := NewRunner(s)
	d := ride(s, dear(s))
	var a, b Record
	if err := r.Run(&d, &a); err != nil {
		t.Fatal(err)
	}
	if n := testing.AllocsPerRun(2, func() {
		if err := r.Run(&d, &b); err != nil {
			t.Fatal(err)
		}
	}); n > 25 { // the record's rows, the first time
		t.Errorf("%g allocations a run", n)
	}
	if n := testing.AllocsPerRun(2, func() { _ = r.Run(&d, &b) }); n != 0 {
		t.Errorf("%g allocations a run that is given its record again", n)
	}
	for i, x := range a.Temperatures {
		if x != b.Temperatures[i] {
			t.Fatalf("%g and %g", x, b.Temperatures[i])
		}
	}
	closes(t, &a)
	t.Logf("%d steps, %d refused, %d calls", a.Steps, a.Refused, a.Calls)
	// a tighter run says how far the rows are off
	d.Tolerance = 1e-6
	if err := r.Run(&d, &b); err != nil {
		t.Fatal(err)
	}
	worst, where := 0.0, ""
	for i, x := range a.Temperatures {
		if e := math.Abs(x - b.Temperatures[i]); e > worst {
			worst, where = e, s.Names[i%len(s.Names)]
		}
	}
	if worst > 0.02 {
		t.Errorf("%s is %g K off", where, worst)
	}
	t.Logf("rows off by at most %.2g K (%s); the tighter run took %d steps", worst, where, b.Steps)
}
