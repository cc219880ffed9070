// Package synth makes bench days of an electric water-jet drive whose truth is known: the raw
// logs that a pull scale and a controller would have written over one day in a pool, and the
// record of what was really so. Logs read by the program can so be held against the truth.
//
// It is for tests and for the maker of demo logs. It imports nothing of this module: its jet is
// written down a second time, from first principles, so that a fault of the program's formulas
// cannot hide in both. The instruments and the layouts of their files are invented.
//
// All times are the run's, in seconds, 0 at the controller's first row. All numbers are SI, but
// where a name or a comment says otherwise.
package synth

import (
	"fmt"
	"math"
	"math/rand/v2"
	"time"
)

// Step is one rung of the ladder: a ramp to a battery power, then a hold.
type Step struct {
	BatteryPower float64 // W
	Hold         float64 // s
	Ramp         float64 // s to reach it, linear in power
}

// Wander is slow noise: a first-order autoregression around the true value.
type Wander struct {
	Share float64 // standard deviation as a share of the value
	Time  float64 // s, correlation time
}

// Noise is all that trembles. The wanders are of the drive, the white noises of the
// instruments. Their mean is nothing, and the truth leaves them out.
type Noise struct {
	Thrust       Wander  // the surging of the craft on its rope
	Power        Wander  // battery power, seen in battery current and voltage
	Speed        Wander  // rotor speed
	PhaseCurrent Wander  // phase current
	Pull         float64 // N, white
	SpeedRPM     float64 // rpm, white
	Current      float64 // A, white, on both currents
	Voltage      float64 // V, white
	Winding      float64 // K, white
	Bridge       float64 // K, white
}

// Resolution is the step in which each instrument shows its value; 0 shows six decimals.
type Resolution struct {
	PullKgf  float64 // kgf
	SpeedRPM float64 // rpm
	Current  float64 // A
	Voltage  float64 // V
	Winding  float64 // K
	Bridge   float64 // K
	Throttle float64 // %
}

// Gains are the instruments' errors of scale: what is shown is (1 + gain) times what is so.
type Gains struct {
	Scale   float64 `json:"scale"`   // on the pull, not on the tare
	Current float64 `json:"current"` // on battery and phase current alike
	Voltage float64 `json:"voltage"` // on the battery voltage
}

// The channels a fault can sit on.
const (
	Pull               = "pull"
	BatteryVoltage     = "battery_voltage"
	BatteryCurrent     = "battery_current"
	PhaseCurrent       = "phase_current"
	RotorSpeed         = "rotor_speed"
	WindingTemperature = "winding_temperature"
	BridgeTemperature  = "bridge_temperature"
	Throttle           = "throttle"
	CaseTemperature    = "case_temperature" // with a housing only
)

// The kinds of fault.
const (
	Frozen  = "frozen"  // shows the last value before it for as long as it lasts
	Clipped = "clipped" // shows nothing above Level
	Spiking = "spiking" // adds Level to a Share of the rows
)

// Fault spoils what one channel shows, for a span of run time.
type Fault struct {
	Channel string  `json:"channel"`
	Kind    string  `json:"kind"`
	From    float64 `json:"from_s"`
	To      float64 `json:"to_s"`
	Level   float64 `json:"level,omitempty"` // in the unit of the column
	Share   float64 `json:"share,omitempty"` // of rows that spike
}

// Day is what was done on one day on the bench, and all that was wrong with the instruments.
type Day struct {
	Seed  uint64    // the same day with the same seed gives the same bytes
	Start time.Time // the controller's clock at run time 0

	ZeroBegin float64 // s without demand before the first ramp
	Steps     []Step
	EndRamp   float64 // s from the last step down to nothing
	ZeroEnd   float64 // s without demand at the end

	ControllerRate   float64 // Hz; 0 means 20
	ScaleRate        float64 // Hz; 0 means 5
	ScaleStart       float64 // s of the scale's own elapsed time at its first row
	ScaleClockOffset float64 // s: scale time = offset + (1 + drift·1e-6)·run time
	ScaleClockDrift  float64 // 1e-6
	ScaleLag         float64 // s, first-order lag of the scale; 0 means none

	Tare      float64 // N shown without pull at run time 0
	TareDrift float64 // N by which that has moved at the end of the run, evenly in time
	Friction  float64 // N: the scale sees less going up and more going down
	CoFlow    float64 // share of the thrust lost to the pool's circulating water, all day

	WaterTemperature float64 // °C
	Housing          Housing // between winding and water; none leaves the winding in the water's hands
	Gains            Gains
	Noise            Noise
	Resolution       Resolution
	Faults           []Fault
}

// Housing stands between winding and water: it goes towards the water's temperature plus what the winding's
// heat holds up there, and the winding rises over it. With one the controller logs a case temperature too.
type Housing struct {
	PerW float64 // K/W above the water
	Time float64 // s; 0 is no housing
}

// Thermal is what the temperatures of a day follow: rises by watt of copper and iron loss, or of the
// bridge's, and first-order times. The winding's rise over the water is that over the housing and the housing's.
type Thermal struct {
	WindingPerW, WindingTime float64 // over the housing, or over the water without one
	HousingPerW, HousingTime float64
	BridgePerW, BridgeTime   float64
}

// Thermal returns what the day's temperatures follow.
func (d Day) Thermal() Thermal {
	return Thermal{windingPerW, windingTime, d.Housing.PerW, d.Housing.Time, bridgePerW, bridgeTime}
}

// Files are the two logs as their instruments wrote them.
type Files struct {
	Scale      []byte
	Controller []byte
}

// Span is a stretch of run time.
type Span struct {
	From float64 `json:"from_s"`
	To   float64 `json:"to_s"`
}

// StepTruth is what was so in one hold: means over the span, temperatures at its end, without
// noise and instrument errors.
type StepTruth struct {
	Span
	Direction          string  `json:"direction"` // up or down
	BatteryPower       float64 `json:"battery_power_W"`
	BatteryVoltage     float64 `json:"battery_voltage_V"`
	BatteryCurrent     float64 `json:"battery_current_A"`
	Thrust             float64 `json:"thrust_N"` // what the jet makes in still water
	Pull               float64 `json:"pull_N"`   // what the rope brings to the scale, before tare and gain
	RotorSpeed         float64 `json:"rotor_speed_rpm"`
	ShaftPower         float64 `json:"shaft_power_W"` // into the rotor
	ShaftTorque        float64 `json:"shaft_torque_N_m"`
	PhaseCurrent       float64 `json:"phase_current_rms_A"`
	CopperLoss         float64 `json:"copper_loss_W"`
	IronLoss           float64 `json:"iron_loss_W"`
	BridgeLoss         float64 `json:"bridge_loss_W"`
	NoLoadLoss         float64 `json:"no_load_loss_W"`
	WindingTemperature float64 `json:"winding_temperature_degC"`
	BridgeTemperature  float64 `json:"bridge_temperature_degC"`
	StaticEfficiency   float64 `json:"static_efficiency_at_battery"` // mean thrust over the nozzle area
}

// Truth is what was really so on a day. The tare line is TareBegin + TareSlope·run time.
type Truth struct {
	Seed             uint64      `json:"seed"`
	Length           float64     `json:"length_s"`
	ZeroBegin        Span        `json:"zero_begin"`
	ZeroEnd          Span        `json:"zero_end"`
	Steps            []StepTruth `json:"steps"`
	ScaleClockOffset float64     `json:"scale_clock_offset_s"`
	ScaleClockDrift  float64     `json:"scale_clock_drift_ppm"`
	ScaleLag         float64     `json:"scale_lag_s"`
	TareBegin        float64     `json:"tare_begin_N"`
	TareSlope        float64     `json:"tare_slope_N_per_s"`
	Friction         float64     `json:"friction_N"`
	CoFlow           float64     `json:"co_flow_share"`
	Gains            Gains       `json:"gains"`
	WaterTemperature float64     `json:"water_temperature_degC"`
	Density          float64     `json:"density_kg_per_m3"`
	RotorDiameter    float64     `json:"rotor_diameter_m"`
	NozzleArea       float64     `json:"nozzle_area_m2"`
	ThrustConstant   float64     `json:"thrust_constant"`
	PowerConstant    float64     `json:"power_constant"`
	TorqueConstant   float64     `json:"torque_constant_N_m_per_A_rms"`
	Faults           []Fault     `json:"faults"`
}

// usual is a day without steps on instruments as they usually are, without errors of scale.
func usual() Day {
	return Day{
		Start:            time.Date(2026, 5, 16, 10, 14, 22, 350e6, time.UTC),
		ZeroBegin:        30,
		EndRamp:          6,
		ZeroEnd:          40,
		ControllerRate:   20,
		ScaleRate:        5,
		ScaleStart:       3.1,
		ScaleLag:         0.15,
		WaterTemperature: 15,
		Noise: Noise{
			Thrust:       Wander{0.010, 0.4},
			Power:        Wander{0.006, 0.8},
			Speed:        Wander{0.003, 0.5},
			PhaseCurrent: Wander{0.008, 0.3},
			Pull:         0.3,
			SpeedRPM:     2,
			Current:      0.2,
			Voltage:      0.03,
			Winding:      0.05,
			Bridge:       0.1,
		},
		Resolution: Resolution{
			PullKgf:  0.05,
			SpeedRPM: 1,
			Current:  0.1,
			Voltage:  0.1,
			Winding:  0.1,
			Bridge:   0.5,
			Throttle: 0.1,
		},
	}
}

// Quiet is a day of these steps on perfect instruments: no noise, no lag, no tare, no friction,
// clocks that agree, six decimals.
func Quiet(steps ...Step) Day {
	d := usual()
	d.Steps = steps
	d.ScaleStart, d.ScaleLag = 0, 0
	d.Noise, d.Resolution = Noise{}, Resolution{}
	return d
}

// Ladder is the day of the demo: six steps up to 3.5 kW and two down, on instruments within
// their usual limits, with a winding sensor that freezes on the way up.
func Ladder() Day {
	d := usual()
	d.Seed = 20260516
	d.CoFlow = sceneCoFlow
	d.Steps = []Step{
		{700, 90, 5},
		{1200, 90, 4},
		{1800, 60, 5},
		{2400, 120, 5},
		{3000, 120, 6},
		{3500, 200, 6},
		{2400, 90, 7},
		{1200, 60, 8},
	}
	d.ScaleClockOffset, d.ScaleClockDrift = 37.2, 60
	d.Tare, d.TareDrift, d.Friction = 3, 2, 2.5
	d.Gains = Gains{Scale: 0.002, Current: -0.012, Voltage: 0.003}
	fourth := d.Hold(3)
	d.Faults = []Fault{{Channel: WindingTemperature, Kind: Frozen, From: (fourth.From + fourth.To) / 2, To: d.Length()}}
	return d
}

// Random is a day drawn by a seed, for tests of coverage: four to seven steps up, one to three
// down, instruments anywhere within their usual limits, no faults. Where the scale was switched
// on late, the craft waits for it.
func Random(seed uint64) Day {
	r := rand.New(rand.NewPCG(seed, streamDay))
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	d := usual()
	d.Seed = seed
	d.CoFlow = sceneCoFlow
	power := between(500, 900)
	for range 4 + r.IntN(4) {
		d.Steps = append(d.Steps, Step{math.Round(power), math.Round(between(40, 180)), math.Round(between(4, 8))})
		power += between(350, 750)
	}
	power = d.Steps[len(d.Steps)-1].BatteryPower
	for range 1 + r.IntN(3) {
		power *= between(0.5, 0.8)
		d.Steps = append(d.Steps, Step{math.Round(power), math.Round(between(40, 180)), math.Round(between(4, 8))})
	}
	d.ScaleClockOffset, d.ScaleClockDrift = between(-60, 60), between(-100, 100)
	d.ZeroBegin = between(20, 40) + math.Max(0, d.ScaleStart-d.ScaleClockOffset)
	d.ZeroEnd = between(25, 50)
	d.Tare, d.TareDrift, d.Friction = between(-5, 8), between(-3, 3), between(0, 6)
	d.Gains = Gains{Scale: between(-0.004, 0.004), Current: between(-0.04, 0.04), Voltage: between(-0.008, 0.008)}
	return d
}

// Hold is the span in which a step, counted from 0, is held.
func (d Day) Hold(step int) Span {
	at := d.ZeroBegin
	for _, s := range d.Steps[:step] {
		at += s.Ramp
		at += s.Hold
	}
	at += d.Steps[step].Ramp
	return Span{at, at + d.Steps[step].Hold}
}

// Length is the run time of the controller's last row.
func (d Day) Length() float64 {
	end := d.ZeroBegin
	if n := len(d.Steps); n > 0 {
		end = d.Hold(n - 1).To
	}
	return end + d.EndRamp + d.ZeroEnd
}

// ScaleTime is what the scale's clock shows at a run time.
func (d Day) ScaleTime(run float64) float64 {
	return d.ScaleClockOffset + (1+d.ScaleClockDrift*1e-6)*run
}

// RunTime undoes ScaleTime.
func (d Day) RunTime(scale float64) float64 {
	return (scale - d.ScaleClockOffset) / (1 + d.ScaleClockDrift*1e-6)
}

// wanted is the battery power asked for at a run time, and the direction in which it was last
// changed: 1 up, −1 down, 0 not yet.
func (d Day) wanted(t float64) (power, direction float64) {
	at := d.ZeroBegin
	ramp := func(to, length float64) (float64, bool) {
		if t <= at {
			return power, true
		}
		from := power
		if to != from {
			direction = math.Copysign(1, to-from)
		}
		if t < at+length {
			return from + (to-from)*(t-at)/length, true
		}
		at += length
		power = to
		return to, false
	}
	for _, s := range d.Steps {
		if p, there := ramp(s.BatteryPower, s.Ramp); there {
			return p, direction
		}
		at += s.Hold
	}
	p, _ := ramp(0, d.EndRamp)
	return p, direction
}

// grid is the time step of the simulation.
const grid = 0.02 // s

// turning is the time in which the carriage's friction turns over with the direction.
const turning = 0.5 // s

// trace is the drive over the day on the grid, without noise and instruments.
type trace struct {
	begin    float64
	states   []state
	friction []float64 // N, as subtracted from the pull
}

func (tr trace) time(i int) float64 { return tr.begin + float64(i)*grid }

// at interpolates one value of the trace.
func (tr trace) at(t float64, of func(i int) float64) float64 {
	x := (t - tr.begin) / grid
	i := min(max(int(math.Floor(x)), 0), len(tr.states)-2)
	share := x - float64(i)
	return of(i)*(1-share) + of(i+1)*share
}

// simulate runs the drive through the day.
func (d Day) simulate() trace {
	begin := math.Min(0, d.RunTime(d.ScaleStart)) - 1
	count := int((d.Length()+scaleTail+1-begin)/grid) + 2
	tr := trace{begin: begin, states: make([]state, 0, count), friction: make([]float64, 0, count)}
	s := demand(0, d.WaterTemperature, 0)
	s.bridgeTemperature = d.WaterTemperature + bridgePerW*s.bridge
	housing := d.WaterTemperature
	var sign float64
	for i := 0; tr.time(i) < d.Length()+scaleTail+1; i++ {
		power, direction := d.wanted(tr.time(i))
		winding, bridge := s.winding, s.bridgeTemperature
		if i > 0 {
			winding, bridge = s.warm(d.WaterTemperature, housing, grid)
			if d.Housing.Time > 0 {
				housing += (d.WaterTemperature + d.Housing.PerW*(s.copper+s.iron) - housing) * (1 - math.Exp(-grid/d.Housing.Time))
			}
		}
		s = demand(power, winding, s.speed)
		s.bridgeTemperature, s.housing = bridge, housing
		sign += (direction - sign) * (1 - math.Exp(-grid/turning))
		// a slack rope cannot hold the carriage: friction ends with the pull
		friction := d.Friction * sign
		if pull := (1 - d.CoFlow) * s.thrust; pull < 4*d.Friction {
			friction *= pull / (4 * d.Friction)
		}
		tr.states = append(tr.states, s)
		tr.friction = append(tr.friction, friction)
	}
	return tr
}

// Make writes the logs of the day and its truth. It panics on a day that cannot be: it is only
// called by tests and generators.
func (d Day) Make() (Files, Truth) {
	if d.ControllerRate == 0 {
		d.ControllerRate = 20
	}
	if d.ScaleRate == 0 {
		d.ScaleRate = 5
	}
	d.check()
	tr := d.simulate()
	return Files{Scale: d.scaleLog(tr), Controller: d.controllerLog(tr)}, d.truth(tr)
}

func (d Day) check() {
	bad := func(format string, values ...any) { panic("synth: " + fmt.Sprintf(format, values...)) }
	for i, s := range d.Steps {
		if s.Hold <= 0 || s.Ramp < 0 || s.BatteryPower < 0 || s.BatteryPower > 10e3 {
			bad("step %d cannot be run: %+v", i, s)
		}
	}
	if d.ZeroBegin < 0 || d.ZeroEnd < 0 || d.EndRamp < 0 || d.ControllerRate < 0 || d.ScaleRate < 0 || d.ScaleLag < 0 || d.Friction < 0 {
		bad("a time, a rate or the friction is negative")
	}
	for _, f := range d.Faults {
		switch f.Channel {
		case Pull, BatteryVoltage, BatteryCurrent, PhaseCurrent, RotorSpeed, WindingTemperature, BridgeTemperature, Throttle:
		default:
			bad("no channel %q", f.Channel)
		}
		switch f.Kind {
		case Frozen, Clipped, Spiking:
		default:
			bad("no kind of fault %q", f.Kind)
		}
	}
}

// truth gathers what was so.
func (d Day) truth(tr trace) Truth {
	length := d.Length()
	last := d.ZeroBegin
	if n := len(d.Steps); n > 0 {
		last = d.Hold(n-1).To + d.EndRamp
	}
	t := Truth{
		Seed:             d.Seed,
		Length:           length,
		ZeroBegin:        Span{0, d.ZeroBegin},
		ZeroEnd:          Span{last, length},
		Steps:            []StepTruth{},
		ScaleClockOffset: d.ScaleClockOffset,
		ScaleClockDrift:  d.ScaleClockDrift,
		ScaleLag:         d.ScaleLag,
		TareBegin:        d.Tare,
		TareSlope:        d.tareSlope(),
		Friction:         d.Friction,
		CoFlow:           d.CoFlow,
		Gains:            d.Gains,
		WaterTemperature: d.WaterTemperature,
		Density:          density,
		RotorDiameter:    rotorDiameter,
		NozzleArea:       math.Pi / 4 * nozzleDiameter * nozzleDiameter,
		ThrustConstant:   thrustConstant,
		PowerConstant:    powerConstant,
		TorqueConstant:   torqueConstant,
		Faults:           append([]Fault{}, d.Faults...),
	}
	for k := range d.Steps {
		span := d.Hold(k)
		s := StepTruth{Span: span, Direction: "up"}
		if _, direction := d.wanted((span.From + span.To) / 2); direction < 0 {
			s.Direction = "down"
		}
		mean := func(of func(s state, friction float64) float64) float64 {
			var sum, count float64
			for i := int(math.Ceil((span.From - tr.begin) / grid)); tr.time(i) <= span.To; i++ {
				sum += of(tr.states[i], tr.friction[i])
				count++
			}
			return sum / count
		}
		s.BatteryPower = mean(func(s state, _ float64) float64 { return s.battery })
		s.BatteryVoltage = mean(func(s state, _ float64) float64 { return s.voltage })
		s.BatteryCurrent = mean(func(s state, _ float64) float64 { return s.current })
		s.Thrust = mean(func(s state, _ float64) float64 { return s.thrust })
		s.Pull = mean(func(s state, friction float64) float64 { return (1-d.CoFlow)*s.thrust - friction })
		s.RotorSpeed = mean(func(s state, _ float64) float64 { return 60 * s.speed })
		s.ShaftPower = mean(func(s state, _ float64) float64 { return s.shaft })
		s.ShaftTorque = mean(func(s state, _ float64) float64 { return s.torque })
		s.PhaseCurrent = mean(func(s state, _ float64) float64 { return s.phase })
		s.CopperLoss = mean(func(s state, _ float64) float64 { return s.copper })
		s.IronLoss = mean(func(s state, _ float64) float64 { return s.iron })
		s.BridgeLoss = mean(func(s state, _ float64) float64 { return s.bridge })
		s.NoLoadLoss = mean(func(s state, _ float64) float64 { return s.noLoad })
		s.WindingTemperature = tr.at(span.To, func(i int) float64 { return tr.states[i].winding })
		s.BridgeTemperature = tr.at(span.To, func(i int) float64 { return tr.states[i].bridgeTemperature })
		s.StaticEfficiency = staticEfficiency(s.Thrust, s.BatteryPower)
		t.Steps = append(t.Steps, s)
	}
	return t
}

func (d Day) tareSlope() float64 {
	if length := d.Length(); length > 0 {
		return d.TareDrift / length
	}
	return 0
}
