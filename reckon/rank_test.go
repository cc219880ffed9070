package reckon

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/diff/fd"

	"jetwright/design"
	"jetwright/drive"
	"jetwright/explore"
)

func ranked(t testing.TB, text, aim string, draws int) *Ranking {
	t.Helper()
	s := sample(t, read(t, text), draws)
	a, err := NewAim(aim, s.Nominal.Drive.Duty.Speed, s.Nominal)
	if err != nil {
		t.Fatal(err)
	}
	r, err := Rank(s, a)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func changeOf(t testing.TB, r *Ranking, path string) Change {
	t.Helper()
	for _, c := range r.Changes {
		if c.Path == path {
			return c
		}
	}
	t.Fatalf("%s is not ranked", path)
	return Change{}
}

// Slopes against gonum's finite differences (a general-purpose library) of the whole model, SEEN; every derivative
// settles or says that it does not.
func TestRankExact(t *testing.T) {
	d := read(t, fmt.Sprintf(board, noCavitation, "open", ""))
	s := sample(t, d, 0)
	for _, name := range []string{AimThrust, AimUnderWay, AimWinding} {
		aim, err := NewAim(name, 3, s.Nominal)
		if err != nil {
			t.Fatal(err)
		}
		r, err := Rank(s, aim)
		if err != nil {
			t.Fatal(err)
		}
		checked := 0
		for _, c := range r.Changes {
			if c.Whole || c.Why != "" {
				continue
			}
			f := func(x float64) float64 {
				m, err := s.Nominal.Changed(func(d *drive.Drive) { design.Schema().Set(d, c.Field, x) })
				if err != nil {
					t.Fatal(err)
				}
				st, err := m.Solve(aim.Condition)
				if err != nil {
					t.Fatal(err)
				}
				return aim.Of(m, &st)
			}
			want := aim.sign * fd.Derivative(f, c.From, &fd.Settings{Formula: fd.Central, Step: 0.02 * math.Abs(c.To-c.From)}) * (c.To - c.From)
			if math.Abs(c.Slope-want) > 1e-3*math.Abs(want)+1e-5*r.Now.Value*1e-2 {
				t.Errorf("%s: the slope of %s is %g a step, gonum has %g", name, c.Path, c.Slope, want)
			}
			if !c.Settled {
				t.Errorf("%s: the slope of %s does not settle", name, c.Path)
			}
			checked++
		}
		if checked < 15 {
			t.Errorf("%s: only %d slopes were checked", name, checked)
		}
	}
}

// What the trade's own laws say of gains. An ideal jet at rest makes T = (2ρA)^⅓·P^⅔ (momentum theory, standard textbook,
// FROM MEMORY): two thirds of a per cent for a per cent of pump efficiency, less what goes into friction that does not
// grow with it. Charge in parallel adds its share of the time; a resistance of four fifths cools by a fifth of its drop.
func TestRankLaw(t *testing.T) {
	text := fmt.Sprintf(board, noCavitation, "open", "")
	r := ranked(t, text, AimThrust, 64)
	c := changeOf(t, r, "impeller.efficiency")
	want := r.Now.Value * (math.Pow(c.To/c.From, 2.0/3) - 1)
	if math.Abs(c.Gain.Value/want-1) > 0.08 {
		t.Errorf("efficiency %g to %g brings %g N, momentum says %g N", c.From, c.To, c.Gain.Value, want)
	}
	if !(c.Gain.Low > 0 && c.Gain.Low < c.Gain.Value && c.Gain.High > c.Gain.Value) || c.Sure != 1 {
		t.Errorf("the interval of a sure gain is %+v, sure %g", c.Gain, c.Sure)
	}
	for i := 1; i < len(r.Changes); i++ {
		a, b := r.Changes[i-1], r.Changes[i]
		if (a.Sure >= supportedFrom) == (b.Sure >= supportedFrom) && a.Gain.Value < b.Gain.Value {
			t.Errorf("%s stands before %s and brings less", a.Path, b.Path)
		}
	}
	for _, u := range r.Unranked {
		if u.Why == "" {
			t.Errorf("%s is left out without a reason", u.Path)
		}
	}
	r = ranked(t, text, AimRunTime, 0)
	c = changeOf(t, r, "battery.parallel")
	if share := c.Gain.Value / r.Now.Value * c.From; share < 1 || share > 1.6 { // more cells also sag less
		t.Errorf("one group more in %g brings %g of its share of the time", c.From, share)
	}
	r = ranked(t, text, AimWinding, 0)
	c = changeOf(t, r, "motor.winding_to_jacket")
	s := sample(t, read(t, text), 0)
	st, err := s.Nominal.Solve(r.Aim.Condition)
	if err != nil {
		t.Fatal(err)
	}
	drop := st.Motor.WindingTemperature - st.Heat.JacketTemperature
	if share := c.Gain.Value / drop; share < 0.2 || share > 0.26 { // a cooler winding also resists less
		t.Errorf("four fifths of the resistance cool by %g of the drop over it", share)
	}
}

// Two changes that need each other: with a speed bound by the pump's placing neither nozzle nor pitch gains, both do.
func TestRankPairsLaw(t *testing.T) {
	text := fmt.Sprintf(board, noCavitation, "open", "")
	s := sample(t, read(t, text), 64)
	aim, err := NewAim(AimThrust, 0, s.Nominal)
	if err != nil {
		t.Fatal(err)
	}
	r, err := Rank(s, aim)
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Pairs) == 0 {
		t.Fatal("no pair is named")
	}
	for _, p := range r.Pairs {
		both, err := s.Nominal.Changed(func(d *drive.Drive) { p.A.apply(d, 1); p.B.apply(d, 1) })
		if err != nil {
			t.Fatal(err)
		}
		st, err := both.Solve(aim.Condition)
		if err != nil {
			t.Fatal(err)
		}
		if got := st.Thrust - r.Now.Value; math.Abs(got-p.Gain.Value) > 1e-5*r.Now.Value {
			t.Errorf("%s with %s bring %g N, not %g N", p.A.Path, p.B.Path, got, p.Gain.Value)
		}
		if sum := p.Alone[0] + p.Alone[1]; !(p.Gain.Value > sum) || !(p.Together.Low > 0) || p.Gain.Value < math.Max(p.Alone[0], p.Alone[1]) {
			t.Errorf("%s with %s are named as a pair with %g N against %g N", p.A.Path, p.B.Path, p.Gain.Value, sum)
		}
	}
}

// A typed tolerance of workmanship narrows the step; that of a dimension does not. What cannot be is left out.
func TestRankSteps(t *testing.T) {
	const text = `
[duty]
thrust = "600 N"
[intake]
throat_loss = "0.30 .. 0.34"
[impeller]
diameter = "104 mm"
hub_diameter = "44 mm"
tip_gap = "0.5 mm"
[nozzle]
diameter = "66 mm ± 0.1 mm"
loss = "0 .. 0"
[motor]
torque_constant = "0.09 N·m/A"
winding_resistance = "9 mΩ"
[battery]
series = 14
parallel = 16
cell_capacity = "5 Ah"
`
	d := read(t, text)
	s := sample(t, d, 0)
	list, left := moves(d, s.Nominal)
	seen := map[string]int{}
	for _, m := range list {
		seen[m.Path]++
		switch m.Path {
		case "intake.throat_loss":
			if !m.Narrowed || math.Abs(m.To-0.30) > 1e-9 {
				t.Errorf("the lip goes to %g, narrowed %v", m.To, m.Narrowed)
			}
		case "nozzle.diameter":
			if m.Narrowed || math.Abs(math.Abs(m.To/m.From-1)-0.02) > 1e-9 {
				t.Errorf("the bore goes from %g to %g", m.From, m.To)
			}
		}
		if m.How == "" || m.Why == "" || m.Work == "" {
			t.Errorf("%s does not say how or why", m.Path)
		}
	}
	if seen["nozzle.diameter"] != 2 || seen["nozzle.loss"] != 0 || seen["motor.speed_constant"] != 0 || seen["motor.torque_constant"] != 2 || seen["shaft.reduction"] != 0 {
		t.Errorf("moves are %v", seen)
	}
	gap := false
	for _, u := range left {
		gap = gap || u.Path == "impeller.tip_gap"
	}
	if !gap {
		t.Error("the tip gap is left out without a word")
	}
	for _, l := range levers {
		if f, ok := design.Schema().Lookup(l.path); !ok || f.Path != l.path {
			t.Errorf("%s is no key", l.path)
		}
	}
}

// tableBoard is the board with a typed pump table.
const tableBoard = `
[duty]
thrust = "600 N"
[intake]
[impeller]
diameter = "104 mm"
hub_diameter = "44 mm"
grade = "table"
table_rotor_speed = "4500 rpm"
table_flow = ["0 L/s", "15 L/s", "30 L/s", "42 L/s", "52 L/s"]
table_head = ["21 m", "18 m", "14.5 m", "11 m", "6 m"]
table_power = ["5.2 kW", "5.6 kW", "6.3 kW", "6.8 kW", "6.6 kW"]
[nozzle]
diameter = "66 mm"
[motor]
speed_constant = "100 rpm/V"
winding_resistance = "9 mΩ"
[battery]
series = 14
parallel = 16
cell_capacity = "5 Ah"
`

func BenchmarkRankTable(b *testing.B) {
	s := sample(b, read(b, tableBoard), explore.DefaultDraws)
	aim, err := NewAim(AimThrust, 0, s.Nominal)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := Rank(s, aim); err != nil {
			b.Fatal(err)
		}
	}
}
