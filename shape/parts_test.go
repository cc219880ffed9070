package shape

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

const deg = math.Pi / 180

func rad(list ...float64) []float64 {
	out := make([]float64, len(list))
	for i, x := range list {
		out[i] = x * deg
	}
	return out
}

func mms(list ...float64) []float64 {
	out := make([]float64, len(list))
	for i, x := range list {
		out[i] = x / 1000
	}
	return out
}

// someImpeller is an impeller of invented numbers.
func someImpeller() *Impeller {
	return &Impeller{
		Row: Row{
			Name: "impeller", Blades: 5, Span: []float64{0, 0.25, 0.5, 0.75, 1}, Inlet: rad(41.5, 32.4, 26.4, 22.3, 19.3), Outlet: rad(88, 54, 42, 35.5, 28),
			Chord: mms(38, 41, 38, 37, 37), Thickness: mms(2.8, 2.8, 2.6, 2.4, 2.4), Form: "double arc", LeadingRadius: 0.6e-3, TrailingRadius: 0.5e-3,
			Turn: -1, Hub: Wall{R: mms(16)}, Tip: Wall{R: mms(42)}, Flare: 1e-3,
		},
		Front: -4e-3, Rear: 38e-3, NoseLength: 18e-3, NoseRadius: 9.7e-3, Bore: Bore{Diameter: 12e-3, Form: "keyway", KeyWidth: 4e-3, KeyDepth: 1.8e-3}, LeastWall: 1.2e-3,
	}
}

func someFlange() Flange {
	return Flange{Radius: 58e-3, Thickness: 5e-3, BoltCircle: 52e-3, Bolts: 6, BoltHole: 4.5e-3}
}

func someStator() *Stator {
	return &Stator{
		Row: Row{
			Name: "stator", Blades: 7, Span: []float64{0, 0.25, 0.5, 0.75, 1}, Inlet: rad(48, 55, 59.6, 61.6, 61.6), Outlet: rad(98, 99, 100, 101, 102),
			Chord: mms(28, 33, 36, 38, 40), Thickness: mms(2.4), Form: "double arc", LeadingRadius: 0.6e-3, TrailingRadius: 0.5e-3,
			Start: 42e-3, Turn: 1, Hub: Wall{R: mms(16)}, Tip: Wall{R: mms(42.35)}, Flare: 1e-3, FlareTip: true,
		},
		Front: 40e-3, Rear: 84e-3, ConeLength: 40e-3, ConeRadius: 2e-3, Wall: 3.5e-3, Flange: someFlange(),
	}
}

func someDuct() *Duct {
	return &Duct{Front: -30e-3, Rear: 40e-3, Inner: Wall{R: mms(42.35)}, Wall: 3.5e-3, Flange: someFlange()}
}

func someNozzle() *Nozzle {
	return &Nozzle{Front: 84e-3, Length: 80e-3, Inlet: 42.35e-3, Outlet: 35e-3, Entry: 22e-3, Land: 10e-3, Wall: 3.5e-3, Flange: someFlange(), TapBore: 6e-3, TapBoss: 12e-3, TapHeight: 6e-3}
}

type mesher interface {
	Mesh(tolerance float64) (*Mesh, *Fault)
}

func someParts() map[string]mesher {
	flat, clamp, round := someImpeller(), someImpeller(), someImpeller()
	flat.Bore.Form, flat.Bore.FlatDepth = "flat", 1.2e-3
	round.Bore.Form = "round"
	clamp.Bore = Bore{Diameter: 12e-3, Form: "clamp", ClampLength: 12e-3, ClampWall: 3e-3, ClampSlot: 1.5e-3}
	// hub and casing that widen and narrow, bending under the blades
	mixed, after := someImpeller(), someStator()
	mixed.Row.Hub = Wall{Z: mms(-40, 2, 14, 26, 60), R: mms(13, 15, 18, 19, 20)}
	mixed.Row.Tip = Wall{Z: mms(-40, 4, 9, 60), R: mms(40, 42, 44, 44)}
	mixed.Row.Lean, mixed.Row.Sweep = 4*deg, 3*deg
	after.Row.Hub, after.Row.Tip = Wall{Z: mms(30, 50, 60, 90), R: mms(18, 18, 16, 12)}, Wall{Z: mms(30, 55, 90), R: mms(44, 43, 41)}
	return map[string]mesher{"mixed": mixed, "after": after, "impeller": someImpeller(), "flat": flat, "clamp": clamp, "round": round, "stator": someStator(), "duct": someDuct(), "nozzle": someNozzle()}
}

func TestPartsLaw(t *testing.T) {
	for name, p := range someParts() {
		last := 0.0
		for _, tolerance := range []float64{2e-4, 5e-5, 2e-5} {
			m, f := p.Mesh(tolerance)
			if f != nil {
				t.Fatalf("%s: %v", name, f)
			}
			if err := m.Closed(); err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			q := m.Properties(1000)
			t.Logf("%s at %g: %d triangles, %.4f cm³", name, tolerance, len(m.Triangles), q.Volume*1e6)
			if last != 0 && math.Abs(q.Volume-last) > 5*tolerance*q.Area {
				t.Errorf("%s: volume %g was %g", name, q.Volume, last)
			}
			last = q.Volume
		}
	}
}

// Whatever is asked for, there is a closed mesh with its volume, or a fault with what would be right.
func TestPartsAnyLaw(t *testing.T) {
	made, refused := 0, map[string]int{}
	rapid.Check(t, func(rt *rapid.T) {
		f := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(rt, name) }
		list := func(name string, low, high float64) []float64 {
			return []float64{f(name+" hub", low, high), f(name+" middle", low, high), f(name+" tip", low, high)}
		}
		hub := f("hub", 8e-3, 30e-3)
		tip := hub + f("height", 8e-3, 40e-3)
		wall := func(name string, r, slope float64) Wall {
			w := Wall{Z: []float64{-0.1, f(name+" bend", -0.01, 0.03), f(name+" second bend", 0.031, 0.05), 0.1}}
			for range w.Z {
				w.R = append(w.R, r+f(name, -slope, slope))
			}
			if rapid.Bool().Draw(rt, name+" straight") {
				return Wall{R: []float64{r}}
			}
			return w
		}
		form := rapid.SampledFrom(Forms()).Draw(rt, "form")
		tolerance := math.Exp(f("tolerance", math.Log(2e-5), math.Log(5e-4)))
		row := Row{
			Name: "impeller", Blades: rapid.IntRange(1, 9).Draw(rt, "blades"), Span: []float64{0, f("place", 0.2, 0.8), 1},
			Inlet: list("inlet", 15*deg, 80*deg), Outlet: list("outlet", 20*deg, 110*deg), Chord: list("chord", 10e-3, 45e-3), Thickness: list("thickness", 1.2e-3, 5e-3),
			Form: form, LeadingRadius: f("leading", 0.2e-3, 0.6e-3), TrailingRadius: f("trailing", 0.2e-3, 0.6e-3), Sweep: f("sweep", -20, 20) * deg, Lean: f("lean", -20, 20) * deg,
			Turn: -1, Hub: wall("hub wall", hub, 2e-3), Tip: wall("tip wall", tip, 2e-3), Flare: rapid.SampledFrom([]float64{0, 1e-3, 3e-3}).Draw(rt, "flare"),
		}
		var part mesher
		if rapid.Bool().Draw(rt, "impeller") {
			part = &Impeller{
				Row: row, Front: -12e-3, Rear: 60e-3, NoseLength: f("nose", 2e-3, 30e-3), NoseRadius: f("nose radius", 4e-3, 8e-3), LeastWall: 0.8e-3,
				Bore: Bore{
					Diameter: rapid.SampledFrom([]float64{0, 5e-3, 8e-3}).Draw(rt, "bore"), Form: rapid.SampledFrom([]string{"round", "keyway", "flat", "clamp"}).Draw(rt, "bore form"),
					KeyWidth: 2e-3, KeyDepth: 1e-3, FlatDepth: 0.6e-3, ClampLength: 8e-3, ClampWall: 1.5e-3, ClampSlot: 1e-3,
				},
			}
		} else {
			row.Name, row.Turn, row.FlareTip = "stator", 1, true
			part = &Stator{
				Row: row, Front: -12e-3, Rear: 60e-3, ConeLength: f("cone", 0, 40e-3), ConeRadius: f("cone radius", 0, 6e-3), Wall: 3e-3,
				Flange: Flange{Radius: tip + 18e-3, Thickness: 4e-3, BoltCircle: tip + 11e-3, Bolts: rapid.IntRange(0, 9).Draw(rt, "bolts"), BoltHole: 4e-3},
			}
		}
		m, fault := part.Mesh(tolerance)
		if fault != nil {
			if fault.What == "" || fault.Path == "" {
				rt.Fatalf("a fault without words: %+v", fault)
			}
			refused[fault.Path]++
			return
		}
		made++
		if err := m.Closed(); err != nil {
			rt.Fatal(err)
		}
		q := m.Properties(1)
		if !(q.Volume > 0) || math.IsNaN(q.Centre.Norm()) || math.Abs(q.Centre[0])+math.Abs(q.Centre[1]) > 1e-5+1e-2*tip && row.Blades > 1 {
			rt.Fatalf("%+v", q)
		}
		if low, _ := m.Bounds(); math.IsNaN(low.Norm()) {
			rt.Fatal("no numbers")
		}
	})
	t.Logf("%d made, refused %v", made, refused)
	if made < 20 {
		t.Errorf("only %d were made; refused %v", made, refused)
	}
}
