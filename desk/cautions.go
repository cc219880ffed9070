package desk

import (
	"fmt"
	"math"

	"jetwright/drive"
)

// Caution is something that can hurt somebody, said where it matters.
type Caution struct {
	Topic  string
	Text   string
	Source string
}

// cautions returns the usual cautions for a drive on a stand; what does not apply is left out.
func cautions(d *drive.Drive) []Caution {
	full := d.Battery.FullVoltage()
	c := []Caution{
		{"rotating parts", "nobody in the water or within reach of intake or jet while the drive is armed; hair, cord and clothing clear of shaft and intake; an unproven impeller runs behind a guard (safety distances: ISO 13857). Have a second person on the kill switch.", "iso-13857"},
		{"rope and scale", "a rope under load whips back when it parts, and takes the scale with it: stand out of its line, tether scale and carriage with a second, slack line, knot nothing that can be spliced.", "cordage-holtzman"},
		{"lithium battery", "a damaged or wet lithium pack can burn without warning, and again after it seemed out: charge and store it where that may happen, never below 0 °C, and keep people upwind.", "memory"},
		{"winding and sensors", "a temperature sensor that fails looks calm: watch a second one, and stop when phase current or the coefficients move without a reason.", "own"},
	}
	if full > 60 {
		c = append(c, Caution{"voltage", "the full pack stands above 60 V DC, where it is hazardous even dry; near water the dry limits do not apply at all. The controller's capacitors hold their charge: wait, or discharge them.", "iec-60364-7-702"})
	} else {
		c = append(c, Caution{"voltage", "below 60 V DC counts as low only for dry hands and dry ground; near and in water that limit does not apply. The controller's capacitors hold their charge: wait, or discharge them.", "iec-60364-7-702"})
	}
	for _, w := range d.WaterPaths() {
		c = append(c, Caution{"coolant as a conductor", waterPath(w), "own"})
	}
	return append(c, Caution{"rules", "these are the usual cautions, no permission: local codes and licensed practice go before anything printed here.", "own"})
}

// waterPath words what the coolant conducts.
func waterPath(w drive.WaterPath) string {
	const last = " It is no measure of what is safe: a swimmer at the outlet is a way as well, and no live part may touch the coolant's metal."
	if math.IsInf(w.Resistance, 1) {
		return fmt.Sprintf("no coolant leads from %q to the sea, but damp and salt do: if insulation fails there the full pack's %.3g V stand on wet metal.", w.Part, w.Voltage) + last
	}
	if w.Resistance < 1 {
		return fmt.Sprintf("no length of hose lies between %q and the sea, a keel plate counted as sea: if insulation fails there the full pack's %.3g V drive a current through the water that only the pack limits.", w.Part, w.Voltage) + last
	}
	return fmt.Sprintf("the coolant in the hoses is a way for current from %q to the sea, %s: if insulation fails there the full pack's %.3g V drive %s through it.",
		w.Part, ohms(w.Resistance), w.Voltage, amperes(w.Current)) + last
}

func ohms(x float64) string { return about(x, []string{"Ω", "kΩ", "MΩ", "GΩ"}, 1) }

func amperes(x float64) string { return about(x, []string{"nA", "µA", "mA", "A"}, 1e-9) }

// about writes a number to two figures with the prefix that fits; first is what the first unit is.
func about(x float64, units []string, first float64) string {
	x /= first
	unit := units[0]
	for _, u := range units[1:] {
		if x < 1000 {
			break
		}
		x /= 1000
		unit = u
	}
	digits := 0
	if x >= 100 {
		x = math.Round(x/10) * 10
	} else if x < 10 {
		digits = 1
	}
	return fmt.Sprintf("about %.*f %s", digits, x, unit)
}
