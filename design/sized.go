package design

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"jetwright/drive"
	"jetwright/notice"
	"jetwright/quantity"
)

// sizedKeys are the keys that sizing types, with the flag that moves it where there is one.
var sizedKeys = map[string]string{
	"duty.speed": "--under-way", "duty.thrust": "--thrust", "duty.power": "--battery-power", "duty.power_place": "", "duty.rotor_speed": "", "duty.top_speed": "--under-way",
	"impeller.diameter": "--diameter", "impeller.hub_diameter": "", "impeller.grade": "", "impeller.head_coefficient": "", "impeller.efficiency": "", "impeller.tip_gap": "--wall",
	"impeller.table_rotor_speed": "", "impeller.table_flow": "", "impeller.table_head": "", "impeller.table_power": "", "impeller.table_from": "",
	"nozzle.diameter": "", "intake.throat_area": "", "intake.throat_area_ratio": "",
	"motor.speed_constant": "", "motor.torque_constant": "", "motor.torque_convention": "", "motor.winding_resistance": "", "motor.resistance_between": "", "motor.no_load_current": "",
	"motor.no_load_voltage": "", "motor.no_load_voltages": "", "motor.no_load_currents": "", "motor.no_load_speeds": "", "motor.winding_to_jacket": "", "motor.mass": "--motor-mass", "motor.max_speed": "--motor-speed",
	"controller.battery_current_limit": "--battery-current", "controller.phase_current_limit": "--phase-current", "controller.phase_current_convention": "--phase-current", "controller.max_voltage": "",
	"battery.series": "--voltage", "battery.parallel": "",
}

// Usual cells and the bound on cavitation that sizing takes where nothing is typed.
const usualCells = "[battery]\ncell_capacity = \"4 Ah\"\ncell_current_limit = \"20 A\"\n[limits]\nsuction_specific_speed = 3.5\n"

// usualNotes say why.
var usualNotes = map[string]string{
	"battery.cell_capacity":         "a usual cell of 21 mm by 70 mm; type your own",
	"battery.cell_current_limit":    "likewise",
	"limits.suction_specific_speed": "waterjet pumps are designed for 3.5 (bulten-2006); the head is down 3 % at about 4",
}

// KnownKeys reads a file with keys of drive.toml that stand as they are typed when a drive is sized. Everything
// wrong with it is said at once; a file of no name is empty.
func KnownKeys(name string, data []byte) (*Document, notice.List) {
	doc, faults := ParseDocument(name, data)
	if doc == nil {
		return nil, faults
	}
	_, more := Bind(doc, "", "", Schema(), func(path string) bool {
		_, sized := sizedKeys[path]
		return sized
	})
	faults = append(faults, more...)
	for _, e := range doc.entries {
		if flag, sized := sizedKeys[e.Path]; sized && e.Kind != TableHeader {
			n := notice.Notice{Kind: notice.Error, Place: e.Place, Path: e.Path, Excerpt: e.Excerpt, What: e.Path + " is what sizing finds", WayOut: "take it out"}
			if flag != "" {
				n.WayOut += "; its bound is " + flag
			}
			faults = append(faults, n)
		}
	}
	sortNotices(faults)
	return doc, faults
}

// SizedBase returns the design that sizing begins from: known keys, usual cells, and what the schema assumes. What
// is sized holds numbers that the search writes over.
func SizedBase(known *Document, series int) (*Design, notice.List) {
	var s drive.Sized
	s.Power, s.MotorMass, s.EfficiencyLow, s.Efficiency = 1000, 1, 0.45, 0.78
	d := &s.Drive
	d.Impeller.Diameter, d.Impeller.HubDiameter, d.Impeller.HeadCoefficient, d.Nozzle.Diameter = 0.1, 0.04, 0.045, 0.06
	d.Intake.ThroatArea = quantity.Some(0.0078)
	d.Motor.SpeedConstant, d.Motor.WindingResistance, d.Motor.NoLoadCurrent, d.Motor.NoLoadVoltage, d.Motor.WindingToJacket = quantity.Some(10), 0.02, 1, 10, 0.1
	d.Battery.Series, d.Battery.Parallel = series, 1
	return Read(known.Name(), SizedText(&s, nil, known))
}

// line is a key with its value as typed, and a word on it.
type line struct{ section, key, value, note string }

// SizedText writes the drive.toml of a sized drive: what it was sized for as a comment, what sizing found with where it
// comes from, and the known keys as they were typed.
func SizedText(s *drive.Sized, head []string, known *Document) []byte {
	d := &s.Drive
	var lines []line
	add := func(section, key, value, note string) { lines = append(lines, line{section, key, value, note}) }
	quoted := func(section, key string, x float64, unit, spread, note string) {
		add(section, key, Quoted(plainNumber(x, unit)+unitText(unit)+spread), note)
	}
	quoted("duty", "power", s.Power, "W", "", "at rest; the same power under way")
	add("duty", "power_place", `"battery"`, "")
	if d.Duty.TopSpeed.Set {
		quoted("duty", "top_speed", d.Duty.TopSpeed.Value, "m/s", "", "the speed that it was sized for")
	}
	quoted("intake", "throat_area", d.Intake.ThroatArea.Value, "cm²", "", "inlet velocity ratio of about 0.8 under way, 0.6 to 1.1 of the pump's inlet")
	quoted("impeller", "diameter", d.Impeller.Diameter, "mm", " ± 0.3 mm", "as a printer holds it")
	quoted("impeller", "hub_diameter", d.Impeller.HubDiameter, "mm", "", "0.42 of the tip, as axial pumps have it (brennen-1994)")
	quoted("impeller", "tip_gap", 0.0005, "mm", " ± 0.3 mm", "assumed of a printed part")
	quoted("impeller", "head_coefficient", d.Impeller.HeadCoefficient, "1", " ± "+strconv.FormatFloat(0.14*d.Impeller.HeadCoefficient, 'f', 4, 64), "± 14 %, a standard deviation of 8 %, about Cordier's line (wright-gerhart-2010)")
	add("impeller", "efficiency", Quoted(fmt.Sprintf("%.2f .. %.2f", s.EfficiencyLow, s.Efficiency)), "up to the least of the fits of bulten-2006, guelich-2010 and wright-gerhart-2010")
	quoted("nozzle", "diameter", d.Nozzle.Diameter, "mm", " ± 0.3 mm", "by momentum, from the thrusts and the power")
	quoted("motor", "speed_constant", d.Motor.SpeedConstant.Value, "rpm/V", "", "so that the battery reaches with a reserve at the charge assumed")
	quoted("motor", "winding_resistance", d.Motor.WindingResistance, "mΩ", " ± 25 %", "line to line; of a class of water-jacketed motors by their mass, own")
	quoted("motor", "no_load_current", d.Motor.NoLoadCurrent, "A", " ± 40 %", "likewise")
	quoted("motor", "no_load_voltage", d.Motor.NoLoadVoltage, "V", "", "")
	quoted("motor", "winding_to_jacket", d.Motor.WindingToJacket, "K/W", " ± 60 %", "likewise")
	quoted("motor", "mass", s.MotorMass, "kg", "", "")
	if d.Motor.MaxSpeed.Set {
		quoted("motor", "max_speed", d.Motor.MaxSpeed.Value, "rpm", "", "as given")
	}
	if k := &d.Controller; k.MaxVoltage.Set {
		quoted("controller", "battery_current_limit", k.BatteryCurrentLimit.Value, "A", "", "at the least, unless it was given")
		quoted("controller", "phase_current_limit", k.PhaseCurrentLimit.Value, "A", "", "likewise")
		add("controller", "phase_current_convention", `"peak"`, "")
		quoted("controller", "max_voltage", k.MaxVoltage.Value, "V", "", "at the least, for the full battery")
	}
	add("battery", "series", strconv.Itoa(d.Battery.Series), "")
	add("battery", "parallel", strconv.Itoa(d.Battery.Parallel), "four fifths of the cells' current, six tenths of the way to their cut-off at most")
	typed := map[string]bool{}
	take := func(doc *Document, note func(path string) string) {
		for _, e := range doc.Entries() {
			section, key, ok := strings.Cut(e.Path, ".")
			if e.Kind == TableHeader || !ok || typed[e.Path] {
				continue
			}
			typed[e.Path] = true
			add(section, key, string(doc.data[e.start:e.end]), note(e.Path))
		}
	}
	take(known, func(string) string { return "as given" })
	usual, _ := ParseDocument("usual", []byte(usualCells))
	take(usual, func(path string) string { return usualNotes[path] })
	var b strings.Builder
	for _, h := range head {
		b.WriteString(strings.TrimRight("# "+h, " ") + "\n")
	}
	done := map[string]bool{}
	for _, section := range append(Schema().Sections(), sectionsOf(lines)...) {
		var in []line
		width, value := 0, 0
		for _, l := range lines {
			if l.section == section {
				in = append(in, l)
				width = max(width, len([]rune(l.key)))
				value = max(value, len([]rune(l.value)))
			}
		}
		if len(in) == 0 || done[section] {
			continue
		}
		done[section] = true
		b.WriteString("\n[" + section + "]\n")
		for _, l := range in {
			text := fmt.Sprintf("%-*s = %s", width, l.key, l.value)
			if l.note != "" {
				text = fmt.Sprintf("%-*s = %-*s  # %s", width, l.key, value, l.value, l.note)
			}
			b.WriteString(text + "\n")
		}
	}
	for _, c := range s.Checks {
		if c.Name != drive.RestThrust && c.Name != drive.UnderWayThrust {
			continue
		}
		b.WriteString("\n[[claim]]  # what it was sized for; a test will tell\nwhat  = \"thrust\"\nsense = \"at least\"\n")
		fmt.Fprintf(&b, "value = %s\npower = %s\nplace = \"battery\"\n", Quoted(plainNumber(c.Allowed, "N")+" N"), Quoted(plainNumber(s.Power, "W")+" W"))
		if c.Name == drive.UnderWayThrust {
			fmt.Fprintf(&b, "speed = %s\n", Quoted(plainNumber(s.Way.Speed, "m/s")+" m/s"))
		}
		b.WriteString("from  = \"own\"\nnote  = \"sized from duty\"\n")
	}
	return []byte(b.String())
}

func sectionsOf(lines []line) []string {
	var out []string
	for _, l := range lines {
		if !slices.Contains(out, l.section) {
			out = append(out, l.section)
		}
	}
	return out
}

// plainNumber writes an SI number in a unit with no more than six digits.
func plainNumber(x float64, unit string) string {
	text := strconv.FormatFloat(quantity.MustUnit(unit).FromSI(x), 'g', 6, 64)
	if v, err := strconv.ParseFloat(text, 64); err == nil {
		text = strconv.FormatFloat(v, 'f', -1, 64)
	}
	return text
}

func unitText(unit string) string {
	if unit == "1" {
		return ""
	}
	return " " + unit
}
