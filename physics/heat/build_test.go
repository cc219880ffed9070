package heat

import (
	"math"
	"testing"

	"jetwright/quantity"
)

// built is a build with every assumption at its middle.
func built(t testing.TB) Build {
	t.Helper()
	var b Build
	s, err := quantity.SchemaOf(&b)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range s.Fields() {
		switch {
		case f.AssumeText != "" && f.Kind == quantity.KindText:
			s.SetText(&b, f, f.AssumeText)
		case f.Assume != nil && f.Kind == quantity.KindNumber:
			s.Set(&b, f, (f.Assume.Low+f.Assume.High)/2)
		}
	}
	return b
}

func givenParts() Given {
	return Given{
		Length: 0.13, Diameter: 0.09, WindingToJacket: 0.07, BridgeToPlate: 0.05, Cells: 120, CellCapacity: 4.2 * 3600,
		Cooling: Cooling{First: "controller", PlateToCoolant: 0.015, JacketToCoolant: 0.02, StillLoss: 2.5},
		Flow:    8e-5, Density: 999, SpecificHeat: 4190, Water: 287,
	}
}

// What follows from few numbers: masses, the pack's surface, materials at the middle of their ranges.
func TestBuildExact(t *testing.T) {
	b, g := built(t), givenParts()
	p := b.Parts(g)
	near := func(name string, have, want float64) {
		t.Helper()
		if math.Abs(have-want) > 1e-12*math.Abs(want) {
			t.Errorf("%s is %.15g, want %.15g", name, have, want)
		}
	}
	near("mass of the motor", p.Motor.Mass, 4000*math.Pi/4*0.09*0.09*0.13)
	near("mass of a cell", p.Pack.CellMass, 4.2*0.017)
	side := math.Cbrt(120 * 4.2 * 0.017 / 2700 / 0.6)
	near("surface of the pack", p.Pack.Surface, 6*side*side)
	g.MotorMass, b.CellMass = quantity.Some(3.3), quantity.Some(0.069)
	near("mass as typed", b.Parts(g).Motor.Mass, 3.3)
	near("mass of a cell as typed", b.Parts(g).Pack.CellMass, 0.069)
	low, high, ok := b.Softening()
	near("softening of PETG from", low, 65+273.15)
	near("to", high, 75+273.15)
	b.MountMaterial = "aluminium"
	if _, _, metal := b.Softening(); !ok || metal {
		t.Error("plastic softens and metal does not")
	}
	b.MountLimit = quantity.Some(341)
	if low, high, ok = b.Softening(); low != 341 || high != 341 || !ok {
		t.Errorf("softening as typed is %g to %g K", low, high)
	}
	usual := parts(t).Materials
	s, err := quantity.SchemaOf(&usual)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range s.Fields() {
		want, _ := s.Get(&usual, f)
		have, _ := s.Get(&usualMaterials, f)
		near(f.Path, have, want)
	}
}

// Two streams carry what the one of Default carries, and mounts of metal lead more heat away than printed ones.
func TestBuildNetworkExact(t *testing.T) {
	b, g := built(t), givenParts()
	p := b.Parts(g)
	two, one := b.Network(g), Default(p)
	one.Sources = nil
	for _, name := range []string{NodeJacket + " to " + NodeMounts, NodeMounts + " to " + NodeWater} {
		for _, c := range two.Conductances {
			if c.Name == name {
				one.SetConductance(c)
			}
		}
	}
	hot := Source{Name: "hot", Node: NodeWinding, Power: 200}
	warm := Source{Name: "warm", Node: NodeJunction, Power: 90}
	var at [2][]float64
	for i, n := range []Network{two, one} {
		n.SetSource(hot)
		n.SetSource(warm)
		y, err := NewRunner(system(t, n)).Steady(nil, nil, nil, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		at[i] = y
	}
	for i := range at[0] {
		if math.Abs(at[0][i]-at[1][i]) > 1e-8 {
			t.Errorf("node %d: %.12g and %.12g K", i, at[0][i], at[1][i])
		}
	}
	b.MountMaterial = "aluminium"
	n := b.Network(g)
	n.SetSource(hot)
	n.SetSource(warm)
	s := system(t, n)
	y, err := NewRunner(s).Steady(nil, nil, nil, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	if k, _ := s.Node(NodeJacket); y[k] >= at[0][k] {
		t.Errorf("the jacket on metal is at %.4g K, on plastic at %.4g K", y[k], at[0][k])
	}
}

// A feed that says stop ends a run there, to a millisecond, with what came before it kept.
func TestStopExact(t *testing.T) {
	s := system(t, built(t).Network(givenParts()))
	r := NewRunner(s)
	k, _ := s.Node(NodeWinding)
	var rec Record
	for _, end := range []float64{0.5, 37.125, 299.9} {
		d := Duty{Legs: []Leg{{Duration: 300}}, Every: 1, Feed: func(n *Now) {
			n.Heat[k] = 150
			n.Stop = n.Time > end
		}}
		err := r.Run(&d, &rec)
		u, ok := err.(*Unsolved)
		if !ok || u.Reason != Stopped || math.Abs(u.Time-end) > 2*stopWithin || u.Time > end {
			t.Fatalf("the run that stops at %g s: %v", end, err)
		}
		if have, want := rec.Energy.In, 150*u.Time; math.Abs(have-want) > 1e-9*want {
			t.Errorf("%.12g J made until %g s, want %.12g", have, end, want)
		}
		closes(t, &rec)
		if n := len(rec.Times); n != int(end)+1 {
			t.Errorf("%d rows until %g s", n, end)
		}
	}
	d := Duty{Legs: []Leg{{Duration: 10}}, Feed: func(n *Now) { n.Stop = true }}
	if u, ok := r.Run(&d, &rec).(*Unsolved); !ok || u.Reason != Stopped || u.Time != 0 {
		t.Errorf("a run that cannot begin: %v", u)
	}
}

// By hand: 120 cells of 71.4 g are 8.568 kg in 5.289 L, a cube of 174.2 mm with 1821 cm²; its cells together have the
// network's own capacity.
func TestCellOfPackExact(t *testing.T) {
	b := Build{AirFilm: 9}
	c, r := b.Cell(120, 4.2*3600)
	if want := 0.0714 * 950; math.Abs(c/want-1) > 1e-12 {
		t.Errorf("%g J/K, by hand %g J/K", c, want)
	}
	if want := 120 / (9 * 0.18213); math.Abs(r/want-1) > 1e-3 {
		t.Errorf("%g K/W, by hand %g K/W", r, want)
	}
	p := b.Parts(Given{Cells: 120, CellCapacity: 4.2 * 3600})
	if math.Abs(p.Pack.Surface*9*r/120-1) > 1e-12 {
		t.Errorf("the network's pack has %g m²", p.Pack.Surface)
	}
	b.PackSurface = quantity.Some(0.3)
	if _, r := b.Cell(120, 4.2*3600); math.Abs(r/(120/(9*0.3))-1) > 1e-12 {
		t.Errorf("with its surface typed %g K/W", r)
	}
}

func TestFoldExact(t *testing.T) {
	var b Build
	if b.Folds() || b.Fold(400, 400) != 1 {
		t.Error("folds though nothing is typed")
	}
	b.HousingFoldStart, b.HousingFoldEnd = quantity.Some(330), quantity.Some(350)
	for _, x := range []struct{ housing, plate, want float64 }{{329, 400, 1}, {330, 400, 1}, {335, 400, 0.75}, {350, 300, 0}, {380, 300, 0}} {
		if f := b.Fold(x.housing, x.plate); math.Abs(f-x.want) > 1e-15 {
			t.Errorf("at %g and %g K %g is left, want %g", x.housing, x.plate, f, x.want)
		}
	}
	b.PlateFoldStart, b.PlateFoldEnd = quantity.Some(320), quantity.Some(330)
	if f := b.Fold(335, 328); math.Abs(f-0.2) > 1e-15 || !b.Folds() {
		t.Errorf("the lesser of both is %g", f)
	}
}

// A way typed in the place of the default's, whichever way round, and one where there was none: by hand in a chain of two, and in the whole network.
func TestReplaceExact(t *testing.T) {
	n := Network{
		Nodes:        []Node{{Name: NodeWater, Fixed: true, Start: 290}, {Name: NodeIron, Capacity: 5, Start: 290}, {Name: NodeWinding, Capacity: 1, Start: 290}},
		Conductances: []Conductance{{Name: "a", From: NodeWinding, To: NodeIron, Value: 1}, {Name: "b", From: NodeIron, To: NodeWater, Value: 1}},
		Sources:      []Source{{Name: "s", Node: NodeWinding, Power: 100}},
	}
	n.Replace(Replacement{Node: NodeIron, To: NodeWinding, Value: 20})
	n.Replace(Replacement{Node: NodeWinding, To: NodeWater, Value: 4})
	n.Replace(Replacement{Node: NodeIron, Value: 7})
	y, err := NewRunner(system(t, n)).Steady(nil, nil, nil, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	if want := 290 + 100/(4+20.0/21); math.Abs(y[2]-want) > 1e-9 || len(n.Conductances) != 3 || n.Nodes[1].Capacity != 7 {
		t.Errorf("the winding is at %g K, want %g K: %+v", y[2], want, n)
	}
	b, g := built(t), givenParts()
	whole := b.Network(g)
	have := map[string]bool{}
	for _, x := range whole.Nodes {
		have[x.Name] = true
	}
	if len(have) != len(BuildNodes()) {
		t.Errorf("%d nodes, %d that may be typed for", len(have), len(BuildNodes()))
	}
	for _, name := range BuildNodes() {
		if !have[name] {
			t.Errorf("%s is no node of the network", name)
		}
	}
	ways := len(whole.Conductances)
	for _, c := range whole.Conductances {
		whole.Replace(Replacement{Node: c.To, To: c.From, Value: 3})
	}
	for _, c := range whole.Conductances {
		if c.Value != 3 || c.Law != Constant {
			t.Errorf("%s stays %g W/K", c.Name, c.Value)
		}
	}
	if len(whole.Conductances) != ways {
		t.Errorf("%d ways of %d", len(whole.Conductances), ways)
	}
}
