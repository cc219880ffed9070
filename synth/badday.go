package synth

import (
	"math"
	"math/rand/v2"
)

// What bad days are made of. All invented; "drawn" ones are the ends of even draws.
const (
	badGrid       = 0.1   // s, time step of the simulation; ladder times lie on it
	windingStep   = 0.02  // K by which the winding warms before the drive is solved anew
	coFlowTime    = 20.0  // s, so that a tub's co-flow has grown over the first minute
	scaleFull     = 600.0 // N, full load of the scale
	powerWander   = 0.006 // share, seen in thrust, speed and both powers
	powerTime     = 0.8   // s
	surgeWander   = 0.009 // share, of the pull alone
	surgeTime     = 0.4   // s
	speedWander   = 0.002 // share, of the speed alone
	speedTime     = 0.5   // s
	phaseWander   = 0.007 // share, of the phase current alone
	phaseTime     = 0.3   // s
	thrustSpread  = 0.06  // drawn: share by which this drive's thrust constant differs
	clockOffset   = 120.0 // drawn: s
	clockDrift    = 150.0 // drawn: ppm
	lagMost       = 1.0   // drawn: s
	effectChance  = 0.4   // share of days with rope angle, pulley, hysteresis, curved scale, co-flow, each
	floatChance   = 0.15  // share of days on a floating stand
	levelChance   = 0.15  // share of days with a water level that changes
	loggerChance  = 0.25  // share of days with a temperature logger
	meterChance   = 0.25  // share of days with a wattmeter
	pointsChance  = 0.5   // share of days with calibration points
	pointsScatter = 0.25  // N, standard deviation of their readings
)

// controllerRates are drawn from, in Hz: half of the days have 10 or less, few have many rows.
var controllerRates = []float64{
	5, 5, 5, 5, 5, 5, 5, 8, 8, 8, 8, 8,
	10, 10, 10, 10, 10, 10, 10, 10, 10, 10, 10, 10, 10, 10, 10, 10, 10, 10,
	20, 20, 20, 20, 20, 20, 25, 50, 50, 100,
}

// The kinds of log.
const (
	kindScale      = "scale"
	kindController = "controller"
	kindLogger     = "temperature_logger"
	kindMeter      = "wattmeter"
)

// instrument is one log's maker.
type instrument struct {
	kind               string
	rate               float64 // Hz
	begin              float64 // run time at its first row, about
	end                float64 // run time after which it writes nothing
	offset, drift, lag float64 // s, ppm, s
	elapsed            bool    // clock form: seconds since it began, or time of day
}

// clock is what the instrument's clock shows at a run time, and run undoes it.
func (in instrument) clock(t float64) float64 { return in.offset + (1+in.drift*1e-6)*t }
func (in instrument) run(c float64) float64   { return (c - in.offset) / (1 + in.drift*1e-6) }

// badBench is the drive, its ladder, its physical effects and its instruments.
type badBench struct {
	day         Day // ladder, friction, water
	thrust      float64
	effects     []string
	corrections Corrections
	instruments []instrument
	second      bool // a second scale

	// errors of scale of healthy instruments
	voltageGain, currentGain, meterGain, secondGain, secondTare float64
}

// known is a number that the builder knows within limits, drawn evenly.
func known(r *rand.Rand, is, within float64) Held {
	return Held{is, is + within*(2*r.Float64()-1), within}
}

// badBench draws the bench. Every draw is made on every day, in this order.
func (d BadDay) bench() badBench {
	r := rand.New(rand.NewPCG(d.Seed, streamBad))
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	tenth := func(lo, hi float64) float64 { return math.Round(10*between(lo, hi)) / 10 }
	chance := func(p float64) bool { return r.Float64() < p }
	var b badBench
	b.second = chance(secondScale) // first, as Bad draws it
	b.second = b.second || d.has(IllSecondScale)

	r = rand.New(rand.NewPCG(d.Seed, streamBad+1))
	day := usual()
	day.Seed = d.Seed
	power := between(500, 900)
	for range 4 + r.IntN(4) {
		day.Steps = append(day.Steps, Step{math.Round(power), tenth(35, 95), tenth(4, 8)})
		power += between(350, 750)
	}
	power = day.Steps[len(day.Steps)-1].BatteryPower
	for range 1 + r.IntN(3) {
		power *= between(0.5, 0.8)
		day.Steps = append(day.Steps, Step{math.Round(power), tenth(35, 95), tenth(4, 8)})
	}
	day.ZeroBegin, day.ZeroEnd = tenth(20, 40), tenth(25, 45)
	day.WaterTemperature = between(6, 24)
	b.thrust = 1 + thrustSpread*between(-1, 1)

	// the instruments
	controller := instrument{kind: kindController, elapsed: chance(0.35)}
	controller.rate = controllerRates[r.IntN(len(controllerRates))]
	own := func(kind string, rate, late float64) instrument {
		in := instrument{kind: kind, rate: rate, elapsed: chance(0.5)}
		in.begin = between(-60, late)
		in.offset, in.drift, in.lag = between(-clockOffset, clockOffset), between(-clockDrift, clockDrift), between(0, lagMost)
		if in.elapsed { // a clock of seconds since it began shows none below nothing
			in.offset = math.Abs(in.offset)
			in.begin = math.Max(in.begin, -in.offset/(1+in.drift*1e-6))
		}
		in.end = between(1, 8)
		return in
	}
	scale := own(kindScale, []float64{1, 2, 4, 5, 5, 8, 10, 10}[r.IntN(8)], 12)
	logger := own(kindLogger, 1, 12)
	meter := own(kindMeter, []float64{10, 10, 10, 20, 20, 50}[r.IntN(6)], 12)
	b.instruments = []instrument{scale, controller}
	switch third := r.Float64(); {
	case third < loggerChance:
		b.instruments = append(b.instruments, logger)
	case third < loggerChance+meterChance:
		b.instruments = append(b.instruments, meter)
	}
	for i := range b.instruments {
		in := &b.instruments[i]
		day.ZeroBegin = math.Max(day.ZeroBegin, math.Ceil(in.begin)+20)
	}
	for i := range b.instruments {
		in := &b.instruments[i]
		in.end += day.Length()
		if in.kind == kindController {
			in.end = day.Length()
		}
	}
	b.voltageGain, b.currentGain, b.meterGain = between(-0.008, 0.008), between(-0.04, 0.04), between(-0.01, 0.01)
	b.secondGain, b.secondTare = between(-0.005, 0.005), between(-3, 3)

	// the effects: each is drawn on every day, and there on some
	c := &b.corrections
	effect := func(name string, share float64, h *Held, is Held) bool {
		there := chance(share)
		if there {
			b.effects, *h = append(b.effects, name), is
		}
		return there
	}
	c.RopeAngle = Held{0, 0, 1}
	effect("rope_angle", effectChance, &c.RopeAngle, known(r, between(0, 12), 1))
	c.RopeAngle.Known = math.Max(0, c.RopeAngle.Known)
	effect("pulley_friction", effectChance, &c.PulleyFriction, Held{between(0, 0.02), 0.01, 0.01})
	gravityGain := between(-0.002, 0.002)
	effect("gravity_elsewhere", effectChance, &c.GravityGain, Held{gravityGain, 0, 0.002})
	place := known(r, gravityGain, 0.0003)
	if chance(0.5) && c.GravityGain.Within > 0 { // the builder knows where the scale was calibrated
		c.GravityGain = place
	}
	c.ScaleFull = scaleFull
	c.ScaleGain = Held{between(-0.004, 0.004), 0, 0.004}
	effect("curved_scale", effectChance, &c.ScaleCurve, Held{between(-0.02, 0.02), 0, 0.02})
	c.CarriageFriction = Held{between(0, 6), 3, 3}
	tried := known(r, c.CarriageFriction.True, 0.5)
	if chance(0.3) { // the builder pulled the carriage by hand
		c.CarriageFriction = tried
	}
	c.CarriageFriction.Known = math.Max(0, c.CarriageFriction.Known)
	effect("hysteresis", effectChance, &c.Hysteresis, Held{between(0, 2.5), 1.25, 1.25})
	c.Tare, c.TareDrift = Held{between(-5, 8), 0, 10}, Held{between(-3, 3), 0, 5}
	c.LevelForce = Held{0, 0.06, 0.06}
	force := between(0.02, 0.1)
	if effect("water_level", levelChance, &c.LevelChange, known(r, between(-30, 30), 2)) {
		c.LevelForce.True = force
	}
	if c.CoFlowTime = coFlowTime; !effect("co_flow", effectChance, &c.CoFlow, Held{between(0, 0.05), 0.025, 0.025}) {
		c.CoFlow = Held{0, 0.005, 0.005}
	}
	period, phase := between(3, 12), between(0, 2*math.Pi)
	var amplitude Held
	if effect("floating_stand", floatChance, &amplitude, Held{True: between(0.01, 0.04)}) {
		c.FloatAmplitude, c.FloatPeriod, c.FloatPhase = amplitude.True, period, phase
	}
	c.Calibration = []CalibrationPoint{}
	r = rand.New(rand.NewPCG(d.Seed, streamBad+2))
	if points := 5 + r.IntN(4); chance(pointsChance) {
		for i := range points {
			load := math.Round(450*(float64(i+1)/float64(points))/5) * 5
			reading := b.response(load) + pointsScatter*r.NormFloat64()
			c.Calibration = append(c.Calibration, CalibrationPoint{load, math.Round(reading*10) / 10})
		}
	}
	day.Friction = c.CarriageFriction.True
	b.day = day
	return b
}

// response is what the scale makes of a force, without tare and hysteresis.
func (b badBench) response(force float64) float64 {
	c := b.corrections
	return (1+c.ScaleGain.True)*force + c.ScaleCurve.True*force*(1-force/c.ScaleFull)
}

// badTrace is the drive over the day on the grid: the truth, and what trembles with the drive.
type badTrace struct {
	begin  float64
	states []state

	carriage, tension, coFlow, direction []float64 // without trembling

	powerShare, surgeShare, speedShare, phaseShare []float64 // the trembling, as shares
}

func (tr *badTrace) time(i int) float64 { return tr.begin + float64(i)*badGrid }

// simulate runs the drive through the day.
func (b badBench) simulate(seed uint64) *badTrace {
	d, c := b.day, b.corrections
	begin := 0.0
	for _, in := range b.instruments {
		begin = math.Min(begin, in.begin)
	}
	begin = math.Floor(begin) - 2
	count := int(math.Ceil((d.Length()+10-begin)/badGrid)) + 2
	tr := &badTrace{begin: begin, states: make([]state, count)}
	series := make([]float64, 8*count)
	next := func() []float64 {
		s := series[:count:count]
		series = series[count:]
		return s
	}
	tr.carriage, tr.tension, tr.coFlow, tr.direction = next(), next(), next(), next()
	s := demand(0, d.WaterTemperature, 0)
	s.bridgeTemperature = d.WaterTemperature + bridgePerW*s.bridge
	turn, grow := 1-math.Exp(-badGrid/turning), math.Exp(-badGrid/c.CoFlowTime)
	windingKeep, bridgeKeep := math.Exp(-badGrid/windingTime), math.Exp(-badGrid/bridgeTime)
	perTension := 1 / math.Cos(c.RopeAngle.True*math.Pi/180)
	var sign float64
	still := 1.0                 // of the co-flow, still to come
	var solved, solvedAt float64 // power and winding temperature of the state
	for i := range count {
		power, direction := d.wanted(tr.time(i))
		winding, bridge := s.winding, s.bridgeTemperature
		if i > 0 {
			winding = windingKeep*winding + (1-windingKeep)*(d.WaterTemperature+windingPerW*(s.copper+s.iron))
			bridge = bridgeKeep*bridge + (1-bridgeKeep)*(d.WaterTemperature+bridgePerW*s.bridge)
		}
		if i == 0 || power != solved || math.Abs(winding-solvedAt) > windingStep {
			s = demand(power, winding, s.speed)
			s.thrust *= b.thrust
			solved, solvedAt = power, winding
		}
		s.winding, s.bridgeTemperature = winding, bridge
		sign += (direction - sign) * turn
		if direction != 0 {
			still *= grow
		}
		coFlow := c.CoFlow.True * (1 - still)
		pull, friction := (1-coFlow)*s.thrust, d.Friction*sign
		if pull < 4*d.Friction { // a slack rope cannot hold the carriage
			friction *= pull / (4 * d.Friction)
		}
		tr.states[i] = s
		tr.coFlow[i], tr.direction[i] = coFlow, sign
		tr.carriage[i] = pull - friction
		tr.tension[i] = (pull - friction) * perTension * (1 - c.PulleyFriction.True*sign)
	}
	tremble := func(stream uint64, share, time float64) []float64 {
		out := next()
		w := wanderer(Wander{share, time}, rand.New(rand.NewPCG(seed, streamBad+stream)), badGrid)
		for i := range out {
			out[i] = w()
		}
		return out
	}
	tr.powerShare = tremble(11, powerWander, powerTime)
	tr.surgeShare = tremble(12, surgeWander, surgeTime)
	tr.speedShare = tremble(13, speedWander, speedTime)
	tr.phaseShare = tremble(14, phaseWander, phaseTime)
	return tr
}

// signal is one quantity on the grid, as it comes to an instrument through its first-order lag.
func (tr *badTrace) signal(lag float64, of func(i int) float64) []float64 {
	out := make([]float64, len(tr.states))
	if lag <= 0 {
		for i := range out {
			out[i] = of(i)
		}
		return out
	}
	// exact where the input runs straight from one instant to the next
	keep := math.Exp(-badGrid / lag)
	mid := lag / badGrid * (1 - keep)
	before := of(0)
	now := before
	for i := range out {
		is := of(i)
		now = keep*now + (mid-keep)*before + (1-mid)*is
		out[i], before = now, is
	}
	return out
}

// over gives the lowest and the highest true battery power in a span.
func (tr *badTrace) over(span Span) (low, high float64) {
	low = math.Inf(1)
	from := max(0, int(math.Ceil((span.From-tr.begin)/badGrid-1e-6)))
	for i := from; i < len(tr.states) && tr.time(i) <= span.To+1e-6; i++ {
		low, high = math.Min(low, tr.states[i].battery), math.Max(high, tr.states[i].battery)
	}
	return math.Min(low, high), high
}

// truth gathers what was so, but for the files and the ills.
func (b badBench) truth(seed uint64, tr *badTrace) BadTruth {
	d := b.day
	length := d.Length()
	t := BadTruth{
		Seed:             seed,
		Ills:             []string{},
		Effects:          append([]string{}, b.effects...),
		Length:           length,
		End:              length,
		ZeroBegin:        Span{0, d.ZeroBegin},
		ZeroEnd:          Span{length - d.ZeroEnd, length},
		Files:            []FileTruth{},
		Faults:           []IllTruth{},
		Healthy:          []string{},
		Corrections:      b.corrections,
		WaterTemperature: d.WaterTemperature,
		Density:          density,
		RotorDiameter:    rotorDiameter,
		NozzleArea:       math.Pi / 4 * nozzleDiameter * nozzleDiameter,
		ThrustConstant:   thrustConstant * b.thrust,
		PowerConstant:    powerConstant,
		TorqueConstant:   torqueConstant,
	}
	for k := range d.Steps {
		span := d.Hold(k)
		s := BadStep{StepTruth: StepTruth{Span: span, Direction: "up"}}
		if _, direction := d.wanted((span.From + span.To) / 2); direction < 0 {
			s.Direction = "down"
		}
		from := int(math.Ceil((span.From-tr.begin)/badGrid - 1e-6))
		to := int(math.Floor((span.To-tr.begin)/badGrid + 1e-6))
		share := 1 / float64(to-from+1)
		for i := from; i <= to; i++ {
			x := &tr.states[i]
			s.BatteryPower += share * x.battery
			s.BatteryVoltage += share * x.voltage
			s.BatteryCurrent += share * x.current
			s.Thrust += share * x.thrust
			s.Pull += share * tr.tension[i]
			s.CarriagePull += share * tr.carriage[i]
			s.CoFlow += share * tr.coFlow[i]
			s.RotorSpeed += share * 60 * x.speed
			s.ShaftPower += share * x.shaft
			s.ShaftTorque += share * x.torque
			s.PhaseCurrent += share * x.phase
			s.CopperLoss += share * x.copper
			s.IronLoss += share * x.iron
			s.BridgeLoss += share * x.bridge
			s.NoLoadLoss += share * x.noLoad
		}
		s.WindingTemperature, s.BridgeTemperature = tr.states[to].winding, tr.states[to].bridgeTemperature
		s.StaticEfficiency = staticEfficiency(s.Thrust, s.BatteryPower)
		t.Steps = append(t.Steps, s)
	}
	return t
}
