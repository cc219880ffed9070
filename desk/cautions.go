package desk

import (
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
	return append(c, Caution{"rules", "these are the usual cautions, no permission: local codes and licensed practice go before anything printed here.", "own"})
}
