package electric

import (
	"math"
	"strings"
	"testing"

	"jetwright/quantity"
)

func TestReductionExact(t *testing.T) {
	torque, speed := Reduction{2.5, 0.95}.Motor(10, 300)
	near(t, "power", torque*speed*0.95, 3000, 1e-12)
	near(t, "speed", speed, 750, 1e-15)
}

// offer is a small market: two motors, two controllers, two packs.
func offer() Offer {
	m, ctl, b := board()
	m.MaxSpeed = quantity.Some(rpm(7000))
	m.WindingToJacket, ctl.BridgeToPlate = 0.05, 0.04
	ctl.PhaseCurrentLimit, ctl.BatteryCurrentLimit, ctl.MaxVoltage = quantity.Some(300), quantity.Some(200), quantity.Some(63)
	b.CellCurrentLimit = quantity.Some(30)
	hot, weak, small := m, ctl, b
	hot.WindingResistance, hot.WindingToJacket = 0.04, 0.2
	weak.PhaseCurrentLimit = quantity.Some(80)
	small.Parallel = 3
	return Offer{
		Motors:      []MotorSheet{{"hot", hot}, {"cool", m}},
		Controllers: []ControllerSheet{{"weak", weak}, {"strong", ctl}},
		Batteries:   []BatterySheet{{"small", small, CellHeat{}}, {"large", b, CellHeat{Capacity: 70, ToAir: 10, Surroundings: 290}}},
	}
}

func around() Around { return Around{Coolant: 288, JacketToCoolant: 0.02, PlateToCoolant: 0.02} }

// The one set that keeps every limit comes first; each of the others says what limits it first: the
// phase current of the weak controller, the winding of the hot motor, the energy or cells of the small pack.
func TestChooseFits(t *testing.T) {
	duty := []DutyPoint{{Name: "push", Torque: 8, Speed: 350, Time: 900}, {Name: "cruise", Torque: 4, Power: 1000, Time: 1200}}
	list, err := Choose(offer(), duty, around())
	if err != nil {
		t.Fatal(err)
	}
	if len(list) != 8 {
		t.Fatalf("%d choices of 2 × 2 × 2", len(list))
	}
	best := list[0]
	if best.Motor != "cool" || best.Controller != "strong" || best.Battery != "large" || !best.Fits {
		t.Errorf("first comes %s, %s, %s: %s", best.Motor, best.Controller, best.Battery, best.First.Text)
	}
	shaft := 8.0*350*900 + 1000*1200
	near(t, "efficiency", best.Efficiency, shaft/best.Energy, 1e-12)
	if !(best.Usable > best.Energy) || len(best.Points) != 2 {
		t.Errorf("usable %g J of %g J, %d points", best.Usable, best.Energy, len(best.Points))
	}
	for i, c := range list {
		t.Logf("%s, %s, %s: %v: %s %s", c.Motor, c.Controller, c.Battery, c.Fits, c.First.Text, c.Impossible)
		if i > 0 && c.class() < list[i-1].class() {
			t.Error("a worse class stands before a better one")
		}
		for j := 1; j < len(c.Findings); j++ {
			if c.Findings[j].Limit.Margin() < c.Findings[j-1].Limit.Margin() {
				t.Error("findings are not nearest first")
			}
		}
		if c.Controller == "weak" && c.Motor == "cool" && c.Battery == "large" && (c.Fits || c.First.Limit.Name != "phase current, peak" || c.First.Duty != "push") {
			t.Errorf("the weak controller is first limited by %s", c.First.Text)
		}
		if c.Motor == "hot" && c.Controller == "strong" && c.Battery == "large" && (c.Fits || c.First.Limit.Name != "winding temperature") {
			t.Errorf("the hot motor is first limited by %s %s", c.First.Text, c.Impossible)
		}
		if c.Battery == "small" && c.Fits {
			t.Errorf("the small pack fits: %s", c.First.Text)
		}
	}
}

// A reduction lets a fast motor do a slow duty: with it the torque fits, without it the current does not.
func TestChooseReduction(t *testing.T) {
	o := offer()
	o.Motors, o.Controllers, o.Batteries = o.Motors[1:], o.Controllers[1:], o.Batteries[1:]
	o.Reductions = []Reduction{{1, 1}, {2.2, 0.96}}
	list, err := Choose(o, []DutyPoint{{Name: "slow", Torque: 30, Speed: 150}}, around())
	if err != nil {
		t.Fatal(err)
	}
	if list[0].Reduction.Ratio != 2.2 || !list[0].Fits || list[1].Fits {
		t.Errorf("first comes %g: %s; then %s", list[0].Reduction.Ratio, list[0].First.Text, list[1].First.Text)
	}
}

// Without a battery the duty's voltage is a stiff supply, and no limit of a battery is judged; a speed
// beyond the voltage is said.
func TestChooseStiffSupply(t *testing.T) {
	o := offer()
	o.Batteries = nil
	list, err := Choose(o, []DutyPoint{{Name: "at 48 V", Torque: 8, Speed: 480, Voltage: 48}}, around())
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range list {
		for _, f := range c.Findings {
			if f.Limit.Part == "battery" {
				t.Errorf("%s is judged without a battery", f.Limit.Name)
			}
		}
		if c.Fits || c.Points[0].Supply.BatteryVoltage != 48 {
			t.Errorf("480 rad/s at %g V fits", c.Points[0].Supply.BatteryVoltage)
		}
	}
	slow, err := Choose(o, []DutyPoint{{Name: "at 48 V", Torque: 8, Speed: 300, Voltage: 48}}, around())
	if err != nil || !slow[0].Fits {
		t.Errorf("300 rad/s: %s, %v", slow[0].First.Text, err)
	}
}

// What cannot be asked has a sentence that says why, and a set without a state has its reason.
func TestChooseErrors(t *testing.T) {
	good := []DutyPoint{{Name: "push", Torque: 8, Speed: 350}}
	for want, ask := range map[string]func() error{
		"two of torque, speed and power": func() error {
			_, err := Choose(offer(), []DutyPoint{{Name: "x", Torque: 8}}, around())
			return err
		},
		"are asked for": func() error {
			_, err := Choose(offer(), []DutyPoint{{Name: "x", Torque: 8, Speed: 350, Power: 9000}}, around())
			return err
		},
		"needs a motor": func() error { _, err := Choose(Offer{}, good, around()); return err },
		"needs a voltage": func() error {
			o := offer()
			o.Batteries = nil
			_, err := Choose(o, good, around())
			return err
		},
		"is none": func() error {
			o := offer()
			o.Reductions = []Reduction{{2, 1.5}}
			_, err := Choose(o, good, around())
			return err
		},
		"not finite": func() error {
			_, err := Choose(offer(), []DutyPoint{{Name: "x", Torque: 8, Speed: 350, Time: math.Inf(1)}}, around())
			return err
		},
	} {
		if err := ask(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q is not in: %v", want, err)
		}
	}
	o := offer()
	o.Motors[0].Motor.SpeedConstant = quantity.Optional{}
	list, err := Choose(o, []DutyPoint{{Name: "far too much", Torque: 200, Speed: 400}}, around())
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range list {
		if c.Impossible == "" || c.Motor == "cool" && !strings.Contains(c.Impossible, "at most") || c.Motor == "hot" && c.Impossible != ErrNoConstant.Error() {
			t.Errorf("%s: %q", c.Motor, c.Impossible)
		}
	}
}
