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
