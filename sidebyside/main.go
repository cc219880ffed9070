// Command sidebyside solves the same states with the tool and with SciPy in one run: a second
// opinion on the numbers, and how long each takes.
package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"jetwright/design"
	"jetwright/drive"
	"jetwright/sidebyside/second"
)

type condition struct {
	Speed   float64 `json:"speed"`
	Demand  string  `json:"demand"`
	Amount  float64 `json:"amount"`
	OnStand bool    `json:"on_stand"`

	condition drive.Condition
}

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
}

func run() error {
	data, err := os.ReadFile(filepath.Join("examples", "rescue-sled", "drive.toml"))
	if err != nil {
		return fmt.Errorf("run this from the top of the project: %w", err)
	}
	fmt.Println("the example")
	if err := compare(data); err != nil {
		return err
	}
	if data, err = everyTyped(data); err != nil {
		return err
	}
	fmt.Println("the example with every key of the electric side")
	return compare(data)
}

// everyKey types what the example leaves out.
var everyKey = [][2]string{
	{"motor.no_load_voltages", `["15 V", "30 V"]`},
	{"motor.no_load_currents", `["2.3 A", "3.2 A"]`},
	{"motor.no_load_speeds", `["2000 rpm", "4010 rpm"]`},
	{"motor.ac_factor", "1.12"},
	{"motor.pole_pairs", "7"},
	{"motor.phase_inductance", "22 µH"},
	{"motor.magnet_coefficient", "-0.12 %/K"},
	{"motor.constant_temperature", "25 °C"},
	{"motor.wet_gap", "1.2 mm"},
	{"motor.rotor_diameter", "60 mm"},
	{"motor.rotor_length", "40 mm"},
	{"controller.on_resistance_coefficient", "0.5 %/K"},
	{"controller.dead_time", "400 ns"},
	{"controller.diode_voltage", "0.85 V"},
	{"controller.capacitor_resistance", "4 mΩ"},
	{"battery.cold_law", "arrhenius"},
	{"battery.low_charge_factor", "1.7"},
	{"battery.cable_area", "16 mm²"},
	{"battery.cable_length", "0.9 m"},
	{"battery.cable_limit", "105 °C"},
	{"battery.connector_resistance", "0.6 mΩ"},
}

// everyTyped returns the design's text with every key typed.
func everyTyped(data []byte) ([]byte, error) {
	doc, faults := design.ParseDocument("drive.toml", data)
	if err := faults.Fatal(); err != nil {
		return nil, err
	}
	for _, k := range everyKey {
		kind := design.String
		if k[1][0] == '[' {
			kind = design.Array
		}
		var err error
		if doc, err = doc.Set(k[0], k[1], kind); err != nil {
			return nil, err
		}
	}
	return doc.Bytes(), nil
}

// compare solves the states of a design both ways.
func compare(data []byte) error {
	d, faults := design.Read("drive.toml", data)
	if err := faults.Fatal(); err != nil {
		return err
	}
	m, err := d.Nominal().Resolve()
	if err != nil {
		return err
	}
	var list []condition
	add := func(speed float64, demand drive.Demand, amount float64, stand bool) {
		c := drive.Condition{Speed: speed, Demand: demand, Amount: amount, OnStand: stand}
		list = append(list, condition{speed, demand.String(), amount, stand, c})
	}
	for _, p := range []float64{1000, 2000, 3000, 4000} {
		add(0, drive.BatteryPower, p, false)
	}
	add(0, drive.ShaftPower, 2500, true)
	add(0, drive.Thrust, 250, false)
	for _, v := range []float64{2, 4, 6} {
		add(v, drive.BatteryPower, 3000, false)
	}
	var theirs answers
	if err := second.SciPy("state.py", map[string]any{
		"drive": second.Plain(m.Drive), "conditions": list,
		"water": map[string]float64{
			"density": m.Water.Density, "kinematic_viscosity": m.Water.KinematicViscosity, "vapour_pressure": m.Water.VapourPressure,
			"air_pressure": m.Water.AirPressure, "specific_heat": m.Water.SpecificHeat,
		},
	}, &theirs); err != nil {
		return err
	}
	worst, where := 0.0, ""
	for i, c := range list {
		s, err := m.Solve(c.condition)
		if err != nil {
			return err
		}
		for name, ours := range map[string]float64{
			"thrust": s.Thrust, "battery_power": s.BatteryPower, "shaft_power": s.ShaftPower, "controller_power": s.ControllerPower, "rotor_speed": s.RotorSpeed,
			"flow": s.Jet.Flow, "head": s.Jet.Head, "winding": s.Motor.WindingTemperature, "suction_specific_speed": s.Jet.SuctionSpecificSpeed, "static_efficiency": s.StaticEfficiency,
			"ripple": s.Supply.CapacitorRipple, "modulation": s.Supply.Modulation,
		} {
			if e := math.Abs(theirs.Answers[i][name]/ours - 1); !(e <= worst) {
				worst, where = e, fmt.Sprintf("%s at %g of %s, %g m/s", name, c.Amount, c.Demand, c.Speed)
			}
		}
	}
	b := testing.Benchmark(func(b *testing.B) {
		for i := range b.N {
			if _, err := m.Solve(list[i%len(list)].condition); err != nil {
				b.Fatal(err)
			}
		}
	})
	ns := float64(b.T.Nanoseconds()) / float64(b.N)
	fmt.Printf("worst difference  %.1e (%s)\n", worst, where)
	fmt.Printf("this tool         %.2f µs a state, %d allocations\n", ns/1000, b.AllocsPerOp())
	fmt.Printf("SciPy             %.0f µs a state\n", 1e6*theirs.Seconds)
	fmt.Printf("ratio             %.0f\n", 1e9*theirs.Seconds/ns)
	if !(worst < 1e-6) {
		return fmt.Errorf("the two differ by more than 1e-6")
	}
	return nil
}

type answers struct {
	Answers []map[string]float64 `json:"answers"`
	Seconds float64              `json:"seconds_per_state"`
}
