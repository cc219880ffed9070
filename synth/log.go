package synth

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"time"
)

// Each noise has its own stream of the generator, so that one more fault or another rate leaves
// the other channels as they were. The numbers are part of the bytes of a seed: append only.
const (
	streamDay = iota + 1
	streamThrust
	streamPull
	streamPower
	streamSpeed
	streamPhase
	streamSpeedWhite
	streamBatteryCurrentWhite
	streamPhaseWhite
	streamVoltageWhite
	streamWindingWhite
	streamBridgeWhite
	streamCaseWhite
	streamFaults = 1000 // plus the fault's place in the list
)

// scaleTail is how long the scale runs on after the controller.
const scaleTail = 3 // s

// throttleFull is the battery power at which the throttle is open, invented; the throttle goes
// with the rotor speed asked for, the cube root of power.
const throttleFull = 7000 // W

// stream is one source of standard normal numbers.
func (d Day) stream(number uint64) *rand.Rand { return rand.New(rand.NewPCG(d.Seed, number)) }

// wanderer gives a wander's share at instants dt apart.
func wanderer(w Wander, r *rand.Rand, dt float64) func() float64 {
	keep := 0.0
	if w.Time > 0 {
		keep = math.Exp(-dt / w.Time)
	}
	x := r.NormFloat64()
	return func() float64 {
		now := w.Share * x
		x = keep*x + math.Sqrt(1-keep*keep)*r.NormFloat64()
		return now
	}
}

// channel shows values of one column: fault, resolution, digits.
type channel struct {
	step   float64
	faults []Fault
	draws  []*rand.Rand
	last   float64 // what was shown last
	shown  bool    // that there is a last
}

func (d Day) channel(name string, step float64) *channel {
	c := &channel{step: step}
	for i, f := range d.Faults {
		if f.Channel == name {
			c.faults = append(c.faults, f)
			c.draws = append(c.draws, d.stream(streamFaults+uint64(i)))
		}
	}
	return c
}

// show gives the number and the text that the instrument shows for a value at a run time.
func (c *channel) show(t, value float64) (float64, string) {
	frozen := false
	for i, f := range c.faults {
		if t < f.From || t > f.To {
			continue
		}
		switch f.Kind {
		case Frozen:
			frozen = true
		case Clipped:
			value = math.Min(value, f.Level)
		case Spiking:
			if c.draws[i].Float64() < f.Share {
				value += f.Level
			}
		}
	}
	digits := 6
	if c.step > 0 {
		value = math.Round(value/c.step) * c.step
		digits = max(0, int(math.Ceil(-math.Log10(c.step)-1e-9)))
	}
	if frozen && c.shown {
		value = c.last
	}
	c.last, c.shown = value, true
	text := strconv.FormatFloat(value, 'f', digits, 64)
	if strings.Trim(text, "-0.") == "" {
		text = strings.TrimPrefix(text, "-")
	}
	return value, text
}

// scaleLog is the log of the pull scale: words before the table, semicolons, decimal commas,
// Windows-1252, its own clock.
func (d Day) scaleLog(tr trace) []byte {
	// what hangs on the scale, on the grid, through its lag
	surge := wanderer(d.Noise.Thrust, d.stream(streamThrust), grid)
	follow := 1.0
	if d.ScaleLag > 0 {
		follow = 1 - math.Exp(-grid/d.ScaleLag)
	}
	felt := make([]float64, len(tr.states))
	var now float64
	for i, s := range tr.states {
		now += follow * ((1-d.CoFlow)*s.thrust*(1+surge()) - tr.friction[i] - now)
		felt[i] = now
	}

	var text strings.Builder
	line := func(format string, values ...any) { fmt.Fprintf(&text, format+"\r\n", values...) }
	line("Seilwaage Uferläufer 2, Ausgabe 1.4")
	line("Seriennummer: UL2-00417")
	line("Datum: %s", d.Start.Format("02.01.2006"))
	line("Einheit: kgf, Teilung 0,05, abgeglichen bei 20 °C")
	line("Zeit (s);Zug (kgf);Status")
	white := d.stream(streamPull)
	pull := d.channel(Pull, d.Resolution.PullKgf)
	slope := d.tareSlope()
	before := math.NaN()
	for k := 0; ; k++ {
		// the row's time is what the row says, so it is rounded first
		elapsed := math.Round((d.ScaleStart+float64(k)/d.ScaleRate)*100) / 100
		t := d.RunTime(elapsed)
		if t > d.Length()+scaleTail {
			break
		}
		newton := (1+d.Gains.Scale)*tr.at(t, func(i int) float64 { return felt[i] }) +
			d.Tare + slope*t + d.Noise.Pull*white.NormFloat64()
		value, shown := pull.show(t, newton/gravity)
		status := "ruhig"
		if math.Abs(value-before) > 0.2 {
			status = "bewegt"
		}
		before = value
		row := strconv.FormatFloat(elapsed, 'f', 2, 64) + ";" + shown
		line("%s;%s", strings.ReplaceAll(row, ".", ","), status)
	}
	return windows1252(text.String())
}

// windows1252 writes text in the code page of old desks. Letters of Western Europe are their
// own number in it.
func windows1252(s string) []byte {
	out := make([]byte, 0, len(s))
	for _, r := range s {
		if r > 0xff || r >= 0x80 && r < 0xa0 {
			panic(fmt.Sprintf("synth: no byte for %q", r))
		}
		out = append(out, byte(r))
	}
	return out
}

// controllerLog is the log of the controller: commas, decimal points, UTF-8, time of day.
func (d Day) controllerLog(tr trace) []byte {
	dt := 1 / d.ControllerRate
	power := wanderer(d.Noise.Power, d.stream(streamPower), dt)
	speed := wanderer(d.Noise.Speed, d.stream(streamSpeed), dt)
	phase := wanderer(d.Noise.PhaseCurrent, d.stream(streamPhase), dt)
	type column struct {
		*channel
		white *rand.Rand
		sd    float64
	}
	columns := []column{
		{d.channel(BatteryVoltage, d.Resolution.Voltage), d.stream(streamVoltageWhite), d.Noise.Voltage},
		{d.channel(BatteryCurrent, d.Resolution.Current), d.stream(streamBatteryCurrentWhite), d.Noise.Current},
		{d.channel(PhaseCurrent, d.Resolution.Current), d.stream(streamPhaseWhite), d.Noise.Current},
		{d.channel(RotorSpeed, d.Resolution.SpeedRPM), d.stream(streamSpeedWhite), d.Noise.SpeedRPM},
		{d.channel(WindingTemperature, d.Resolution.Winding), d.stream(streamWindingWhite), d.Noise.Winding},
		{d.channel(BridgeTemperature, d.Resolution.Bridge), d.stream(streamBridgeWhite), d.Noise.Bridge},
		{d.channel(Throttle, d.Resolution.Throttle), nil, 0},
	}
	head := "clock,battery voltage [V],battery current [A],phase current [A],rotor speed [rpm],winding temp [degC],bridge temp [degC],throttle [%]"
	if d.Housing.Time > 0 {
		columns = append(columns, column{d.channel(CaseTemperature, d.Resolution.Winding), d.stream(streamCaseWhite), d.Noise.Winding})
		head += ",case temp [degC]"
	}
	var out bytes.Buffer
	out.Grow(int(d.Length()*d.ControllerRate+2) * 56)
	out.WriteString(head + "\n")
	for k := 0; ; k++ {
		// the row's time is what the row says: the clock shows whole milliseconds
		ms := math.Round(float64(k) * dt * 1000)
		t := ms / 1000
		if t > d.Length() {
			break
		}
		of := func(f func(s state) float64) float64 {
			return tr.at(t, func(i int) float64 { return f(tr.states[i]) })
		}
		watt := of(func(s state) float64 { return s.battery }) * (1 + power())
		ampere := batteryCurrent(watt)
		wanted, _ := d.wanted(t)
		turning := of(func(s state) float64 { return 60 * s.speed })
		values := []float64{
			(1 + d.Gains.Voltage) * (openVoltage - batteryOhm*ampere),
			(1 + d.Gains.Current) * ampere,
			(1 + d.Gains.Current) * of(func(s state) float64 { return s.phase }) * (1 + phase()),
			turning * (1 + speed()),
			of(func(s state) float64 { return s.winding }),
			of(func(s state) float64 { return s.bridgeTemperature }),
			100 * math.Cbrt(wanted/throttleFull),
		}
		if d.Housing.Time > 0 {
			values = append(values, of(func(s state) float64 { return s.housing }))
		}
		out.WriteString(d.Start.Add(time.Duration(ms) * time.Millisecond).Format("15:04:05.000"))
		for i, c := range columns {
			value := values[i]
			if c.white != nil {
				value += c.sd * c.white.NormFloat64()
			}
			switch {
			case i == 2:
				value = math.Abs(value) // an rms value has no sign
			case i == 3 && turning == 0:
				value = 0 // a standing rotor gives no pulses to miscount
			}
			_, shown := c.show(t, value)
			out.WriteString("," + shown)
		}
		out.WriteString("\n")
	}
	return out.Bytes()
}
