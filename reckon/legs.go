package reckon

import (
	"math"

	"jetwright/bench"
	"jetwright/drive"
)

// Rules of cutting a log into legs. Our own.
const (
	logStep   = 5.0  // s, the shortest leg
	mostLegs  = 2000 // of one log
	idlePower = 60   // W, below which a log is taken as at rest: the electronics take some tens
	sameLeg   = 0.02 // of its mean by which the power of a merged leg may wander
)

// LogLegs is what the logs of a day say of power over time, as legs of a few seconds; ok is false where they show no power.
func LogLegs(day *bench.Reduction) (out []drive.Leg, ok bool) {
	var volts, amps, power []float64
	for _, t := range day.Tracks {
		switch t.Channel {
		case bench.BatteryVoltage:
			volts = t.Values
		case bench.BatteryCurrent:
			amps = t.Values
		case bench.Power:
			power = t.Values
		}
	}
	demand := drive.BatteryPower
	if power != nil && (volts == nil || amps == nil) {
		for _, l := range day.Plateaus {
			if d, ok := drive.Place(l.PowerPlace); ok {
				demand = d
			}
		}
	} else if volts != nil && amps != nil {
		power = make([]float64, min(len(volts), len(amps)))
		for i := range power {
			power[i] = volts[i] * amps[i]
		}
	}
	if power == nil {
		return nil, false
	}
	each := max(1, int(math.Ceil(logStep/day.Block)), (len(power)+mostLegs-1)/mostLegs)
	last := 0.0
	for i := 0; i < len(power); i += each {
		sum, n := 0.0, 0.0
		for _, w := range power[i:min(i+each, len(power))] {
			if !math.IsNaN(w) {
				sum, n = sum+w, n+1
			}
		}
		if n > 0 {
			last = sum / n // a gap in the log goes on with the power before it
		}
		seconds := float64(min(each, len(power)-i)) * day.Block
		leg := drive.Leg{Seconds: seconds, Condition: drive.Condition{Demand: demand, Amount: last, OnStand: true}}
		leg.Rest = last < idlePower
		if k := len(out) - 1; k >= 0 && out[k].Rest && leg.Rest {
			out[k].Seconds += seconds
			continue
		}
		out = append(out, leg)
	}
	return out, true
}

// Merged joins legs of nearly one power into one of their mean, so that a march takes few of them.
func Merged(legs []drive.Leg) []drive.Leg {
	var out []drive.Leg
	for _, l := range legs {
		k := len(out) - 1
		if k >= 0 && out[k].Rest == l.Rest && out[k].Condition.Demand == l.Condition.Demand &&
			(l.Rest || math.Abs(l.Condition.Amount-out[k].Condition.Amount) < sameLeg*out[k].Condition.Amount) {
			x := &out[k]
			x.Condition.Amount = (x.Condition.Amount*x.Seconds + l.Condition.Amount*l.Seconds) / (x.Seconds + l.Seconds)
			x.Seconds += l.Seconds
			continue
		}
		out = append(out, l)
	}
	return out
}
