package synth

import (
	"math/rand/v2"
	"slices"
)

// Ills of files: how a log can be hard to read.
const (
	IllQuoted       = "quoted_fields"        // Form: names, all, decimal_comma (1,5 in quotes between commas)
	IllThousands    = "thousands_marks"      // Form: 1'234.5, 1 234,5 (Mark tells which space) or 1.234,5
	IllUTF16Mark    = "utf16_with_mark"      // Form: little_endian, big_endian
	IllUTF16Bare    = "utf16_without_mark"   // Form as above
	IllWindows1252  = "windows_1252"         // umlauts in the names, one byte each
	IllNUL          = "nul_bytes"            // NUL in the place of some characters of a few lines
	IllMixedEnds    = "mixed_line_ends"      // Share of the lines end the other way
	IllTruncated    = "truncated_last_line"  // the file ends inside its last line
	IllHeaderAgain  = "header_repeated"      // after a restart, at From; some seconds before it are missing
	IllClockReset   = "clock_reset"          // after a restart, at From; Form: zero, hour_back
	IllDuplicates   = "duplicated_rows"      // Form: single, block
	IllOutOfOrder   = "rows_out_of_order"    // a row comes 1 to 4 rows late
	IllGaps         = "gaps"                 // Spans without rows
	IllWords        = "words_among_numbers"  // n/a, --- or ERR in the place of a number
	IllEmptyCells   = "empty_cells"          // nothing in the place of a number
	IllTrailing     = "trailing_delimiters"  // Form: rows, all (names too)
	IllUnitsLine    = "units_line"           // units stand in a line below the names
	IllComments     = "comment_lines"        // lines that begin with #
	IllBlank        = "blank_lines"          // lines without anything
	IllDrift        = "drifting_temperature" // an offset that grows evenly from 0 at From to Offset at To
	IllSwapped      = "swapped_temperatures" // winding and bridge stand in each other's column
	IllUnit         = "wrong_unit"           // Form: kgf_as_N, degF_as_degC
	IllElectrical   = "electrical_speed"     // rotor speed times PolePairs
	IllSign         = "wrong_sign"           // the pull turned
	IllSecondScale  = "second_scale_off"     // the second scale shows Gain more than the first; both are looked at
	IllCurrentLow   = "battery_current_low"  // Gain is −0.5 to −0.3
	illSecondChance = 0.5                    // of a day with a second scale that it disagrees, drawn
	secondScale     = 0.2                    // share of days with a second scale, invented
	streamBad       = 2000                   // streams of a bad day; append only, as above
	streamBadLayout = streamBad + 100        // plus the file's place
	streamBadNoise  = streamBad + 200        // plus 20 times the file's place, plus the column's
	streamBadIll    = streamBad + 400        // plus the ill's place in the list
)

// Ill is one kind of trouble and the share of days that have it.
type Ill struct {
	Name  string
	Share float64 // invented
}

// ills in their fixed order; the places are part of the bytes of a seed: append only.
var ills = []Ill{
	{IllQuoted, 0.12},
	{IllThousands, 0.10},
	{IllUTF16Mark, 0.08},
	{IllUTF16Bare, 0.05},
	{IllWindows1252, 0.12},
	{IllNUL, 0.08},
	{IllMixedEnds, 0.08},
	{IllTruncated, 0.15},
	{IllHeaderAgain, 0.10},
	{IllClockReset, 0.08},
	{IllDuplicates, 0.10},
	{IllOutOfOrder, 0.08},
	{IllGaps, 0.20},
	{IllWords, 0.12},
	{IllEmptyCells, 0.12},
	{IllTrailing, 0.10},
	{IllUnitsLine, 0.15},
	{IllComments, 0.15},
	{IllBlank, 0.12},
	{Frozen, 0.20},
	{Clipped, 0.08},
	{Spiking, 0.12},
	{IllDrift, 0.10},
	{IllSwapped, 0.06},
	{IllUnit, 0.08},
	{IllElectrical, 0.12},
	{IllSign, 0.08},
	{IllSecondScale, secondScale * illSecondChance},
	{IllCurrentLow, 0.08},
}

// Ills are all kinds of trouble that a bad day can have, in the order in which they are drawn.
func Ills() []Ill { return slices.Clone(ills) }

// The channels of a bad day beyond those of Day.
const (
	Pull2               = "pull_2"                // the second scale, on the same rope
	WindingTemperature2 = "winding_temperature_2" // the temperature logger's own sensor
	WaterTemperature    = "water_temperature"
	ShuntPower          = "shunt_power" // the wattmeter at the battery
	ShuntVoltage        = "shunt_voltage"
	ShuntCurrent        = "shunt_current"
)

// BadDay is a bench day with trouble. The seed draws the drive, the ladder, the instruments and
// the layouts of their files; the ills are laid over that, each from a stream of its own, so that
// one ill more or less leaves everything else as it was.
type BadDay struct {
	Seed uint64
	Ills []string // what is wrong, in the order of the list of ills
}

// Bad is the day of a seed with the ills that the seed draws.
func Bad(seed uint64) BadDay {
	r := rand.New(rand.NewPCG(seed, streamBad))
	second := r.Float64() < secondScale
	d := BadDay{Seed: seed, Ills: []string{}}
	for _, ill := range ills {
		u := r.Float64()
		if ill.Name == IllSecondScale {
			if second && u < illSecondChance {
				d.Ills = append(d.Ills, ill.Name)
			}
			continue
		}
		if u < ill.Share {
			d.Ills = append(d.Ills, ill.Name)
		}
	}
	return d
}

// Clean is the same day without ills: the same drive, ladder, instruments, noise and physical
// effects, so that what a reducer told of the ills makes of the bad day can be held against it.
func Clean(seed uint64) BadDay { return BadDay{Seed: seed, Ills: []string{}} }

// With is the same day with these ills and no others. It panics on an ill that is not known.
func (d BadDay) With(names ...string) BadDay {
	d.Ills = []string{}
	for _, ill := range ills {
		if slices.Contains(names, ill.Name) {
			d.Ills = append(d.Ills, ill.Name)
		}
	}
	for _, name := range names {
		if !d.has(name) {
			panic("synth: no ill " + name)
		}
	}
	return d
}

// has tells whether an ill is on the day.
func (d BadDay) has(ill string) bool { return slices.Contains(d.Ills, ill) }

// NamedFile is one log as its instrument wrote it.
type NamedFile struct {
	Name string
	Data []byte
}

// Held is a number as it is and as the builder knows it: known ± within, limits that hold the
// true one. Within 0 is known exactly.
type Held struct {
	True   float64 `json:"true"`
	Known  float64 `json:"known"`
	Within float64 `json:"within"`
}

// Corrections are the physical effects between thrust and what the scale shows, true and as the
// builder would know them. They belong to the bench and are there on the clean day too.
//
//	carriage = (1 − co-flow(t))·thrust − friction·direction, friction fading where the pull is slack
//	tension  = carriage/cos(angle)·(1 − pulley·direction)
//	felt     = tension·(1 + amplitude·sin(2πt/period + phase))·(1 + gravity gain)
//	shown    = (1 + gain)·felt + curve·felt·(1 − felt/full) + hysteresis·4x(1−x)·(1 − direction)/2
//	           + tare + tare drift·t/length + level force·level change·t/length
//
// direction is 1 after steps up, −1 after steps down; x is the felt pull over the day's highest.
type Corrections struct {
	RopeAngle        Held               `json:"rope_angle_deg"`        // above the line of thrust
	PulleyFriction   Held               `json:"pulley_friction_share"` // of the tension, on one pulley
	GravityGain      Held               `json:"gravity_gain_share"`    // by a scale calibrated where gravity differs
	ScaleGain        Held               `json:"scale_gain_share"`      // what the calibration points show, with the curve
	ScaleCurve       Held               `json:"scale_curve_share"`     // four times the greatest departure, over the full load
	ScaleFull        float64            `json:"scale_full_N"`          // full load
	CarriageFriction Held               `json:"carriage_friction_N"`
	Hysteresis       Held               `json:"hysteresis_N"`
	Tare             Held               `json:"tare_N"` // at run time 0
	TareDrift        Held               `json:"tare_drift_N"`
	LevelChange      Held               `json:"water_level_change_mm"` // evenly over the day
	LevelForce       Held               `json:"water_level_force_N_per_mm"`
	CoFlow           Held               `json:"co_flow_share"`  // of the thrust, in the end
	CoFlowTime       float64            `json:"co_flow_time_s"` // it grows as 1 − exp(−t/time) from the first ramp on
	FloatAmplitude   float64            `json:"float_amplitude_share"`
	FloatPeriod      float64            `json:"float_period_s"`
	FloatPhase       float64            `json:"float_phase_rad"`
	Calibration      []CalibrationPoint `json:"calibration_points"` // none where the scale was not tried
}

// CalibrationPoint is one load hung on the scale before the day, and what it showed, tared.
type CalibrationPoint struct {
	Load    float64 `json:"load_N"`
	Reading float64 `json:"reading_N"`
}

// IllTruth is one ill as it lies on the day. Times are run times. What does not belong to an ill
// is left out of its JSON.
type IllTruth struct {
	Name        string  `json:"name"`
	File        string  `json:"file,omitempty"`
	Channel     string  `json:"channel,omitempty"`
	Span                // of the trouble, within the day
	Form        string  `json:"form,omitempty"`
	Mark        string  `json:"mark,omitempty"` // thousands mark
	Rows        int     `json:"rows,omitempty"` // rows, lines or cells that have it
	Spans       []Span  `json:"spans,omitempty"`
	Share       float64 `json:"share,omitempty"`
	Level       float64 `json:"level,omitempty"` // of clips and spikes, in Unit
	Offset      float64 `json:"offset_K,omitempty"`
	Gain        float64 `json:"gain_share,omitempty"`
	PolePairs   int     `json:"pole_pairs,omitempty"`
	Lost        float64 `json:"lost_s,omitempty"`       // rows missing before a restart
	ClockBack   float64 `json:"clock_back_s,omitempty"` // by which the clock was set back
	Unit        string  `json:"unit,omitempty"`         // as written in the log
	TrueUnit    string  `json:"true_unit,omitempty"`    // of what the log holds
	Hidden      float64 `json:"hidden,omitempty"`       // most by which a frozen channel shows another value than it would have, in Unit
	PowerMoved  bool    `json:"power_moved"`            // by at least 10 % of its highest, in the span of a frozen channel
	PowerChange float64 `json:"power_change_share"`     // of its highest in the span
	SwappedWith string  `json:"swapped_with,omitempty"` // channel
}

// ClockTruth is the clock of one log against the run's: clock = offset + (1 + drift·1e-6)·run
// time. Clocks of the time of day count from the controller's first row.
type ClockTruth struct {
	Form   string  `json:"form"` // elapsed_s, elapsed_ms, time_of_day, date_time
	Offset float64 `json:"offset_s"`
	Drift  float64 `json:"drift_ppm"`
	Lag    float64 `json:"lag_s"` // first-order, of all its channels
}

// ColumnTruth is one column of numbers of a log.
type ColumnTruth struct {
	Channel  string  `json:"channel"` // what its name says
	Carries  string  `json:"carries"` // the channel that it shows
	Name     string  `json:"name"`
	Unit     string  `json:"unit"`      // as written
	TrueUnit string  `json:"true_unit"` // of the numbers
	Gain     float64 `json:"gain_share"`
	Tare     float64 `json:"tare_N"`
	Healthy  bool    `json:"healthy"`
}

// FileTruth is one log.
type FileTruth struct {
	Name      string        `json:"name"`
	Kind      string        `json:"kind"` // scale, controller, temperature_logger, wattmeter
	Rate      float64       `json:"rate_Hz"`
	Rows      int           `json:"rows"`
	Encoding  string        `json:"encoding"`
	Delimiter string        `json:"delimiter"`
	Decimal   string        `json:"decimal_sign"`
	Clock     ClockTruth    `json:"clock"`
	Columns   []ColumnTruth `json:"columns"` // in the order of the file, without the time
}

// BadStep is what was so in one hold: means over the span, temperatures at its end, without
// noise, float and instrument errors. The Pull of StepTruth is the tension of the rope.
type BadStep struct {
	StepTruth
	CarriagePull float64 `json:"carriage_pull_N"` // what the carriage hands to the rope, in the line of thrust
	CoFlow       float64 `json:"co_flow_share"`
}

// BadTruth is what was really so on a bad day.
type BadTruth struct {
	Seed             uint64      `json:"seed"`
	Ills             []string    `json:"ills"`
	Effects          []string    `json:"effects"`  // physical ones that are there, on the clean day too
	Start            float64     `json:"start_s"`  // the controller's clock at run time 0, since 1970
	Begin            float64     `json:"begin_s"`  // of the earliest log
	Length           float64     `json:"length_s"` // of the controller's
	End              float64     `json:"end_s"`    // of the latest
	ZeroBegin        Span        `json:"zero_begin"`
	ZeroEnd          Span        `json:"zero_end"`
	Steps            []BadStep   `json:"steps"`
	Files            []FileTruth `json:"files"`
	Faults           []IllTruth  `json:"faults"`
	Healthy          []string    `json:"healthy_channels"`
	Corrections      Corrections `json:"corrections"`
	WaterTemperature float64     `json:"water_temperature_degC"`
	Density          float64     `json:"density_kg_per_m3"`
	RotorDiameter    float64     `json:"rotor_diameter_m"`
	NozzleArea       float64     `json:"nozzle_area_m2"`
	ThrustConstant   float64     `json:"thrust_constant"`
	PowerConstant    float64     `json:"power_constant"`
	TorqueConstant   float64     `json:"torque_constant_N_m_per_A_rms"`
}
