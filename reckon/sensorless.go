package reckon

import (
	"math"

	"jetwright/bench"
	"jetwright/drive"
	"jetwright/quantity"
)

// Rules of the winding's temperature without a sensor, and of a sensor behind a housing. Our own.
const (
	sensorlessPower = 0.005 // relative standard uncertainty by which a power is off at one load against another
	sensorlessLoss  = 0.30  // of the losses of bridge and no load that the design says, standard
)

// Housed is how a case temperature follows the winding's.
type Housed struct {
	Share, ShareErr float64           // of the winding's rise that the case shows in the end
	Lag             float64           // s
	Low             quantity.Optional // 90 % interval of the lag
	High            quantity.Optional
	Span            bench.Span
}

// CaseLag fits how the case follows the winding, where a day logs both; ok is false where it does not, or where
// neither moves.
//
//	T_case(t) = c + g·∫ T_w(s)·e^(−(t−s)/τ)/τ ds
//
//	g  share of the winding's rise that the case shows in the end
//	τ  lag, s
//
// Holds while the winding is what heats the case and the coolant's flow stays of one kind.
//
// Source: own. Tests: TestCaseLagSynthetic.
func CaseLag(day *bench.Reduction) (Housed, bool) {
	w, c := track(day, bench.WindingTemperature), track(day, bench.CaseTemperature)
	if w == nil || c == nil {
		return Housed{}, false
	}
	tw, tc := sound(day, w), sound(day, c)
	n := min(len(tw), len(tc))
	for k := range n {
		if tw[k] != tw[k] && k > warmthLeast || tc[k] != tc[k] && k > warmthLeast {
			n = k
			break
		}
	}
	every := max(1, n/warmthRows)
	tr := drive.Trace{Step: c.Digit}
	first := math.NaN()
	for k := 0; k+every <= n; k += every {
		sw, sc, count := 0.0, 0.0, 0.0
		for j := k; j < k+every; j++ {
			if tw[j] == tw[j] && tc[j] == tc[j] {
				sw, sc, count = sw+tw[j], sc+tc[j], count+1
			}
		}
		if count == 0 {
			continue
		}
		if first != first {
			first = sw / count
		}
		tr.Times = append(tr.Times, (float64(k)+0.5*float64(every))*c.Step)
		tr.Temperatures, tr.Heat = append(tr.Temperatures, sc/count), append(tr.Heat, sw/count-first)
	}
	if len(tr.Times) < warmthLeast {
		return Housed{}, false
	}
	r, err := drive.FitResponse(tr, drive.Shape{Terms: 1})
	if err != nil || !(r.Terms[0].Amplitude > 2*r.Terms[0].AmplitudeErr) {
		return Housed{}, false
	}
	x := r.Terms[0]
	return Housed{x.Amplitude, x.AmplitudeErr, x.TimeConstant, x.Low, x.High, bench.Span{From: tr.Times[0], To: tr.Times[len(tr.Times)-1]}}, true
}

// Sensorless is the winding's temperature at a plateau from what its resistance makes of voltage and current.
type Sensorless struct {
	Plateau          int // by its place in the day, from 0
	Value, Low, High float64
	Sensor           bench.Figure // what the sensor shows there
	HasSensor        bool
	Power            float64 // relative error of its power against the anchor's that moves it by 10 K
	Magnets          float64 // K that it moves by where the magnets warm by 1 K: their strength falls by a tenth of a per cent by kelvin
	Resistance       float64 // relative error by which the resistance between two lines, read after the stop, gives the temperature within 10 K
}

// magnetsFall is how much weaker a kelvin makes magnets, relative, where no coefficient is typed: neodymium's 0.09 to 0.12 % by kelvin, recalled.
const magnetsFall = 0.0011

// WithoutSensor estimates the winding's temperature of every plateau from battery voltage and current, phase current and
// rotor speed. The first loaded plateau anchors the motor constant: there the winding is taken at a temperature in K that is
// known otherwise, with its standard uncertainty; it has no estimate of its own.
//
//	V_m = (P_b − P_bridge − P_0)/I,  K = (V_m1 − I₁·R₁)/ω₁,  R = (V_m − K·ω)/I,  T = T_ref + (R/R_ref − 1)/α
//
//	V_m, I  voltage and current of the equivalent direct-current motor, V, A; P_b battery power, W
//	K       motor constant, V·s, from plateau 1
//	P_0     part of the no-load loss that the current does not carry, W: taken as half of it ± half
//
// Each load's power may be off by 0.5 % against the anchor's, and the losses of bridge and no load by 30 % of their
// change. The winding's loss is a few per cent of the power, so the interval is often tens of kelvin wide: such an estimate
// is no second witness, and says so by its width. What it would take is given beside it: how well powers would have to agree for
// ± 10 K, by how much magnets that warm by one kelvin move it, which within one held power is what cannot be told from a warmer winding, and how well the
// resistance between two lines would have to be read after the stop.
//
//	δ = 10 K·α·R_ref·I/V_m,  dT/dT_m = k·K·ω/(α·R_ref·I),  δ_R = 10 K·α·R_ref/R
//
//	k  relative loss of strength of the magnets by kelvin, 1/K
//
// Holds with sinusoidal drive below the voltage's limit.
//
// Source: own. Tests: TestWithoutSensorSynthetic.
func WithoutSensor(day *bench.Reduction, m *drive.Machine, anchor, uAnchor float64) []Sensorless {
	type point struct {
		place                         int
		volt, current, speed          float64
		power, uVolt, uCurrent, drawn float64
	}
	var list []point
	for i, p := range day.Plateaus {
		w, okP := p.Figure(bench.Power)
		f, okI := p.PhaseCurrentRMS()
		n, okN := p.Figure(bench.RotorSpeed)
		if !okP || !okI || !okN || !(f.Value > 0) || p.PowerPlace != "" && p.PowerPlace != "battery" {
			continue
		}
		x := point{place: i, current: f.Value * dcOfRMS, speed: n.Value * m.Drive.Shaft.Reduction, power: w.Value}
		losses := m.Chain.ControllerHeat(x.current) + 0.5*m.Chain.NoLoadLoss(x.speed)
		x.volt = (w.Value - losses) / x.current
		x.drawn = losses
		x.uCurrent = f.Repeat / f.Value
		x.uVolt = math.Hypot(w.Repeat/w.Value, sensorlessPower) * w.Value / x.current
		list = append(list, x)
	}
	if len(list) < 2 {
		return nil
	}
	one := list[0]
	loss, alpha, reference := m.Chain.Copper(1) // of one ampere: the resistance
	cold := loss * (1 + alpha*(anchor-reference))
	k := (one.volt - one.current*cold) / one.speed
	var out []Sensorless
	for _, x := range list[1:] {
		r := (x.volt - k*x.speed) / x.current
		ratio := x.speed / one.speed
		// of the voltage: its own doubt, the anchor's carried along, and the losses' change
		u := square(x.uVolt) + square(one.uVolt*ratio) + square(sensorlessLoss*(x.drawn/x.current-one.drawn/one.current*ratio)) +
			square(k*x.speed*math.Hypot(x.uCurrent, one.uCurrent)) + square(one.current*ratio*loss*alpha*uAnchor)
		uT := math.Sqrt(u) / x.current / (loss * alpha)
		t := reference + (r/loss-1)/alpha
		s := Sensorless{Plateau: x.place, Value: t, Low: t - warmthZ*uT, High: t + warmthZ*uT}
		s.Power = 10 * alpha * loss * x.current / x.volt
		fall := math.Abs(m.Drive.Motor.MagnetCoefficient.Or(magnetsFall))
		s.Magnets = fall * k * x.speed / (alpha * loss * x.current)
		s.Resistance = 10 * alpha * loss / r
		s.Sensor, s.HasSensor = day.Plateaus[x.place].Figure(bench.WindingTemperature)
		out = append(out, s)
	}
	return out
}
