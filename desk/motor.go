package desk

import (
	"fmt"
	"math"
	"strings"

	"jetwright/drive"
	"jetwright/explore"
	"jetwright/notice"
	"jetwright/project"
	"jetwright/quantity"
)

// MotorAnswer is motor and controller: constants, losses at the design point, and efficiency over speed
// and torque with the jet's running line.
type MotorAnswer struct {
	Folder    string
	Condition drive.Condition
	Typed     []TypedConstant // as they stand in the design
	Constants []Constant
	Quality   Figure      // K over the root of the resistance between lines, at the temperature where it was measured
	Ratio     float64     // typed torque constant over that of the speed constant; 1 where one is typed
	Magnets   string      // what is known of the magnets' strength
	Copper    string      // what phases, switches and strands carry
	Losses    []MotorLoss // at the design point
	Weakening Figure      // current against the magnets at the design point; its high end is 0 where no draw has one
	Split     []Figure    // parts of the no-load loss at the design point's speed; none with one no-load point
	Told      string      // what the no-load points could not tell
	Map       *drive.MotorMap
	Crossings []drive.Crossing // limits that the running line meets before its end, the first one first
	Draws     int
	Failed    map[string]int
	Notices   notice.List
	Cautions  []Caution
	WaterTemp float64
}

// TypedConstant is a constant as the builder typed it.
type TypedConstant struct{ Path, Text, Convention string }

// Constant is the motor constant in one convention.
type Constant struct {
	Figure
	How string // conversion from the motor constant K
}

// MotorLoss is one loss between the battery's terminals and the motor shaft.
type MotorLoss struct {
	Name string
	Figure
	Share float64 // of the battery power, nominal
}

// motorPaths are the losses that Motor shows, by their paths in the state.
var motorPaths = map[string]bool{
	"supply.wiring_loss": true, "supply.conduction_loss": true, "supply.switching_loss": true, "supply.dead_time_loss": true,
	"supply.capacitor_loss": true, "supply.standby_loss": true, "motor.copper_loss": true, "motor.no_load_loss": true,
}

// Motor answers what motor and controller are and do.
func Motor(p *project.Project, o Options) (*MotorAnswer, error) {
	s, err := explore.New(p.Design, o.draws(DrawsAPoint), o.seed())
	if err != nil {
		return nil, unsolved(p, err)
	}
	return motorOf(p, s)
}

// motorOf answers from a sample that is there already.
func motorOf(p *project.Project, s *explore.Sample) (*MotorAnswer, error) {
	nominal := p.Design.Nominal()
	c := nominal.DutyCondition()
	r := s.Solve(c)
	if r.Err != nil {
		return nil, unsolved(p, r.Err)
	}
	m := s.Nominal
	a := &MotorAnswer{
		Folder: p.Folder, Condition: c, Draws: r.Draws, Failed: r.Failed, Notices: p.Notices,
		Cautions: motorCautions(&nominal), WaterTemp: nominal.Water.Temperature, Ratio: nominal.Motor.ConstantRatio(),
	}
	for _, path := range []string{"motor.speed_constant", "motor.torque_constant"} {
		if v, ok := p.Design.Value(path); ok {
			t := TypedConstant{Path: path, Text: v.String()}
			if path == "motor.torque_constant" {
				t.Convention = nominal.Motor.TorqueConvention
			}
			a.Typed = append(a.Typed, t)
		}
	}
	low, high := quantiles(s, func(m *drive.Machine) float64 { return m.Chain.Constant() })
	for i, k := range drive.Conventions(m.Chain.Constant()) {
		unit, _ := quantity.LookupUnit(k.Unit)
		f := Figure{Path: "motor", Doc: k.Name, Value: k.Value, Low: k.Value, High: k.Value, Unit: unit}
		if r.Draws > 0 {
			f.Low, f.High = drive.Conventions(low)[i].Value, drive.Conventions(high)[i].Value
			if k.Inverse {
				f.Low, f.High = f.High, f.Low
			}
		}
		a.Constants = append(a.Constants, Constant{f, k.How})
	}
	quality := func(m *drive.Machine) float64 { return m.Chain.Quality(m.Drive.Motor.ResistanceTemperature) }
	a.Quality = Figure{Path: "motor", Doc: "torque for one watt in the winding", Value: quality(m), Low: quality(m), High: quality(m), Unit: quantity.MustUnit("N·m")}
	if r.Draws > 0 {
		a.Quality.Low, a.Quality.High = quantiles(s, quality)
	}
	state := spread(r)
	a.Magnets = magnetText(m, &r.Nominal)
	a.Copper = copperText(m, &r.Nominal)
	a.Weakening = state.Of("motor.direct_current")
	battery := r.Nominal.BatteryPower
	for _, e := range r.Nominal.Ledger() {
		if motorPaths[e.Path] && e.Power != 0 {
			a.Losses = append(a.Losses, MotorLoss{e.Name, state.Of(e.Path), e.Power / battery})
		}
	}
	var err error
	if a.Map, err = m.Map(); err != nil {
		return nil, unsolved(p, err)
	}
	a.Crossings = m.Crossings(a.Map.Running)
	a.split(r.Nominal.MotorSpeed)
	return a, nil
}

// copperText words what phases, switches and strands carry at a state.
func copperText(m *drive.Machine, s *drive.State) string {
	text := fmt.Sprintf("a phase carries %.3g A rms, each of the six switches %.3g A rms", s.Motor.PhaseCurrentRMS, drive.TransistorRMS(s.Motor.PhaseCurrentRMS))
	if t, most, ok := m.Chain.MotorCable(s.Motor.PhaseCurrentRMS); ok {
		text += fmt.Sprintf("; a motor cable settles at %.0f °C", t-zeroCelsius)
		if most > 0 {
			text += fmt.Sprintf(", and at its limit with %.3g A rms", most)
		}
	}
	if k := &m.Drive.Motor; k.PolePairs.Set {
		f := k.PolePairs.Value * s.MotorSpeed / (2 * math.Pi)
		text += fmt.Sprintf("; at %.0f Hz a round strand of %.2g mm loses 1 %% more by its own skin than with direct current, and strands side by side more (motor.ac_factor)", f, 1000*drive.SkinStrand(f, s.Motor.WindingTemperature))
	}
	return text
}

// magnetText words the strength of the magnets at a state, and where they lose it for good.
func magnetText(m *drive.Machine, s *drive.State) string {
	k := &m.Drive.Motor
	at := s.Motor.MagnetTemperature - zeroCelsius
	text := fmt.Sprintf("the magnets' strength is taken not to change with heat: type motor.magnet_material (neodymium, samarium-cobalt, ferrite) or magnet_coefficient; they are at %.0f °C", at)
	if k.MagnetCoefficient.Set {
		text = fmt.Sprintf("at %.0f °C the magnets, and with them the motor constant, have %.1f %% of their strength at %.0f °C",
			at, 100*m.Chain.ConstantAt(s.Motor.MagnetTemperature)/m.Chain.Constant(), k.ConstantTemperature.Or(20+zeroCelsius)-zeroCelsius)
	}
	if t, ok, known := m.Chain.MagnetsLost(s.Motor); known && ok {
		current := "at this current"
		if !k.PolePairs.Set || !k.PhaseInductance.Set {
			current = "without the winding's own field, for which pole_pairs and phase_inductance are not typed,"
		}
		text += fmt.Sprintf("; %s they lose some of it for good above about %.0f °C", current, t-zeroCelsius)
	} else if known {
		text += "; heat alone does not take it for good, cold and current may"
	}
	return text
}

// split words the parts of the no-load loss at a speed in rad/s.
func (a *MotorAnswer) split(speed float64) {
	if a.Map.Split == nil {
		a.Told = "one no-load point cannot tell what grows with the speed from what grows with its square; type no_load_voltages and no_load_currents of two or more"
		return
	}
	a.Told = a.Map.Split.Told
	names := []string{"grows with the speed: hysteresis, dry friction", "grows with its square: eddy currents, viscous drag", "grows with its cube: windage"}
	power := 1.0
	for i, t := range a.Map.Split.Terms {
		power *= speed
		if a.Map.Split.Fitted[i] {
			half := 1.645 * a.Map.Split.Uncertainty[i] * power
			a.Split = append(a.Split, Figure{Doc: names[i], Value: t * power, Low: math.Max(0, t*power-half), High: t*power + half, Unit: quantity.MustUnit("W")})
		}
	}
}

// quantiles are the ends of the 90 % interval of a figure of the drawn machines; of the nominal one twice
// where there are none.
func quantiles(s *explore.Sample, f func(*drive.Machine) float64) (low, high float64) {
	var drawn []float64
	for _, m := range s.Machines {
		if m != nil {
			drawn = append(drawn, f(m))
		}
	}
	iv := explore.Interval(f(s.Nominal), drawn)
	return iv.Low, iv.High
}

// motorCautions are those that matter beside a motor on its own.
func motorCautions(d *drive.Drive) []Caution {
	return only(cautions(d), "rotating parts", "lithium battery", "winding and sensors", "voltage", "rules")
}

// crossingText words a limit that the running line meets.
func crossingText(c drive.Crossing) string {
	at := c.Before.BatteryPower + c.Share*(c.After.BatteryPower-c.Before.BatteryPower)
	word := "at"
	if c.Share == 0 {
		word = "at or below"
	}
	return fmt.Sprintf("%s %s %.3g kW at the battery: %s", c.Limit.Name, word, at/1000, c.Limit.Why)
}

// CrossingTexts word the limits that the running line meets.
func (a *MotorAnswer) CrossingTexts() []string {
	var out []string
	for _, c := range a.Crossings {
		out = append(out, crossingText(c))
	}
	return out
}

// LineEnd says where the running line ends.
func (a *MotorAnswer) LineEnd() string {
	n := len(a.Map.Running)
	if n == 0 {
		return "the jet has no state at rest: " + a.Map.Full
	}
	top := a.Map.Running[n-1]
	share := 100 * a.Map.RunningThrottle[n-1]
	t := fmt.Sprintf("%.3g kW at the battery, %.0f %% of full throttle", top.BatteryPower/1000, share)
	if d := top.Motor.DirectCurrent; d > 0 {
		t = fmt.Sprintf("%.3g kW at the battery, with the field weakened by %.3g A: without that it would take %.0f %% of the voltage that the controller gives", top.BatteryPower/1000, d, share)
	}
	if a.Map.Full != "" {
		t += "; beyond, " + strings.TrimSpace(a.Map.Full)
	}
	return t
}

// MotorIn answers Motor for a folder.
func MotorIn(folder string, o Options) (*MotorAnswer, error) {
	return in(folder, func(p *project.Project) (*MotorAnswer, error) { return Motor(p, o) })
}
