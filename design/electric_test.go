package design

import (
	"strings"
	"testing"

	"jetwright/notice"
)

// What is typed of the electric side and cannot be used, or is not used, is said with its place; and what
// goes before a number takes that number off the lists.
func TestElectricChecks(t *testing.T) {
	motor := func(lines string) string { return strings.Replace(small, "[motor]\n", "[motor]\n"+lines, 1) }
	controller := func(lines string) string {
		return strings.Replace(small, "[battery]\n", "[controller]\n"+lines+"[battery]\n", 1)
	}
	battery := func(lines string) string { return strings.Replace(small, "[battery]\n", "[battery]\n"+lines, 1) }
	for _, c := range []struct {
		text, want string
		kind       notice.Kind
	}{
		{motor("no_load_voltages = [\"10 V\", \"20 V\"]\n"), "0 no-load currents for 2 voltages", notice.Error},
		{motor("no_load_currents = [\"1 A\"]\n"), "have no voltages", notice.Error},
		{motor("no_load_voltages = [\"10 V\", \"20 V\"]\nno_load_currents = [\"1 A\", \"1.4 A\"]\nno_load_speeds = [\"100 rpm\"]\n"), "1 no-load speeds for 2 voltages", notice.Error},
		{motor("no_load_voltages = [\"10 V\"]\nno_load_currents = [\"1 A\"]\n"), "two or more no-load points", notice.Error},
		{motor("no_load_voltages = [\"10 V\", \"20 V\", \"30 V\"]\nno_load_currents = [\"1 A\", \"9 A\", \"2 A\"]\n"), "off a loss of speed", notice.Warning},
		{motor("no_load_voltages = [\"10 V\", \"20 V\"]\nno_load_currents = [\"1 A\", \"1.4 A\"]\nno_load_current = \"2 A\"\n"), "no_load_current is not used", notice.Warning},
		{motor("no_load_voltages = [\"10 V\", \"20 V\"]\nno_load_currents = [\"1 A\", \"1.4 A\"]\n"), "windage, with its cube", notice.Remark},
		{motor("pole_pairs = 7\n"), "motor.phase_inductance is not typed", notice.Warning},
		{motor("wet_gap = \"1 mm\"\n"), "wet gap is not used", notice.Warning},
		{battery("open_circuit_charges = [\"0 %\", \"100 %\"]\nopen_circuit_voltages = [\"3 V\"]\n"), "has 1 values", notice.Error},
		{battery("open_circuit_charges = [\"0 %\", \"100 %\"]\nopen_circuit_voltages = [\"4 V\", \"3 V\"]\n"), "voltage rises with charge", notice.Error},
		{battery("resistance_charges = [\"50 %\", \"10 %\"]\ncharge_factors = [1, 2]\n"), "not larger than the one before", notice.Error},
		{battery("resistance_temperatures = [\"5 °C\"]\ntemperature_factors = [1.5]\n"), "two or more", notice.Error},
		{battery("cable_area = \"16 mm²\"\n"), "battery.cable_length is not typed", notice.Warning},
		{battery("cable_area = \"16 mm²\"\ncable_length = \"1 m\"\nwiring_resistance = \"3 mΩ\"\n"), "wiring_resistance is not used", notice.Warning},
		{battery("connector_resistance = \"1 mΩ\"\n"), "no cable_area is typed", notice.Warning},
		{battery("resistance_charges = [\"10 %\", \"50 %\"]\ncharge_factors = [2, 1]\nlow_charge_factor = 2\n"), "low_charge_factor is not used", notice.Warning},
		{controller("weakening_current = \"60 A\"\n"), "motor.pole_pairs or motor.phase_inductance is not typed", notice.Warning},
		{controller("weakening_current = \"60 A\"\ncommutation = \"six-step\"\n"), "driven six-step", notice.Warning},
		{controller("weakening_current = \"60 kg\"\n"), "is a unit of mass", notice.Error},
		{controller("weakening_current = \"-5 A\"\n"), "0.1 A .. 5000 A", notice.Error},
		{controller("precharge_resistance = \"47 Ω\"\n"), "controller.capacitance is not typed", notice.Warning},
		{controller("capacitance = \"4700 µF\"\nprecharge_time = \"1 s\"\n"), "controller.precharge_resistance is not typed", notice.Warning},
		{controller("capacitance = \"4700 V\"\n"), "is a unit of voltage", notice.Error},
		{battery("relaxation_fast_share = 0.2\n"), "battery.relaxation_fast_time is not typed", notice.Warning},
		{battery("relaxation_slow_time = \"300 s\"\n"), "battery.relaxation_slow_share is not typed", notice.Warning},
		{battery("relaxation_fast_share = 0.6\nrelaxation_fast_time = \"10 s\"\nrelaxation_slow_share = 0.5\nrelaxation_slow_time = \"300 s\"\n"), "1.1 of the cell's resistance", notice.Error},
		{battery("fuse_rating = \"200 A\"\nfuse_loads = [\"135 %\", \"200 %\"]\nfuse_times = [\"5 s\"]\n"), "has 1 values", notice.Error},
		{battery("fuse_rating = \"200 A\"\nfuse_loads = [\"135 %\", \"200 %\"]\nfuse_times = [\"5 s\", \"600 s\"]\n"), "times fall", notice.Error},
		{battery("fuse_melting = \"40000 A²·s\"\n"), "battery.fuse_rating is not typed", notice.Warning},
		{battery("fuse_melting = \"40000 A\"\n"), "is a unit of current", notice.Error},
		{motor("magnet_material = \"samarium-cobalt\"\nmagnet_grade = \"H\"\n"), "suffixes are those of neodymium", notice.Warning},
		{motor("magnet_material = \"iron\"\n"), "neodymium", notice.Error},
		{motor("magnet_coercivity = \"900 T\"\n"), "is a unit of flux density", notice.Error},
	} {
		_, faults := Read("drive.toml", []byte(c.text))
		found := false
		for _, n := range faults {
			if strings.Contains(n.What+" "+n.Allowed, c.want) {
				found = true
				if n.Kind != c.kind || n.Place.Line < 2 {
					t.Errorf("%q: kind %v at line %d", c.want, n.Kind, n.Place.Line)
				}
			}
		}
		if !found {
			t.Errorf("%q is not said of\n%s\n%v", c.want, c.text, faults)
		}
	}
	d, faults := Read("drive.toml", []byte(motor("no_load_voltages = [\"10 V\", \"20 V\"]\nno_load_currents = [\"1 A\", \"1.4 A\"]\n")))
	if err := faults.Fatal(); err != nil {
		t.Fatal(err)
	}
	for _, in := range d.Uncertain() {
		if in.Path == "motor.linear_share" {
			t.Error("the share of the loss is still drawn, though points say it")
		}
	}
}

// A class of magnets assumes its coefficient, with its range and source; one that is typed goes before it.
func TestMagnetClassAssumed(t *testing.T) {
	typed := func(lines string) *Design {
		d, faults := Read("drive.toml", []byte(strings.Replace(small, "[motor]\n", "[motor]\n"+lines, 1)))
		if err := faults.Fatal(); err != nil {
			t.Fatal(err)
		}
		return d
	}
	for material, want := range map[string][2]float64{"neodymium": {-0.0013, -0.0009}, "samarium-cobalt": {-0.0005, -0.0003}, "ferrite": {-0.0021, -0.0018}} {
		d := typed("magnet_material = \"" + material + "\"\n")
		v, ok := d.Value("motor.magnet_coefficient")
		if !ok || v.Low() != want[0] || v.High() != want[1] || v.Origin().Source != "magnet-table" || !d.Nominal().Motor.MagnetCoefficient.Set {
			t.Errorf("%s: %v", material, v)
		}
		listed, drawn := false, false
		for _, in := range d.Assumptions() {
			listed = listed || in.Path == "motor.magnet_coefficient" && in.Assumed
		}
		for _, in := range d.Uncertain() {
			drawn = drawn || in.Path == "motor.magnet_coefficient"
		}
		if !listed || !drawn {
			t.Errorf("%s: listed %v, drawn %v", material, listed, drawn)
		}
	}
	d := typed("magnet_material = \"ferrite\"\nmagnet_coefficient = \"-0.19 %/K\"\n")
	if v, _ := d.Value("motor.magnet_coefficient"); v.Nominal() != -0.0019 {
		t.Errorf("typed and not used: %v", v)
	}
	if typed("").Nominal().Motor.MagnetCoefficient.Set {
		t.Error("a coefficient of magnets that nobody named")
	}
}
