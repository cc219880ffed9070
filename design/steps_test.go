package design

import (
	"math"
	"strings"
	"testing"

	"jetwright/drive"
)

// Steps are read to their condition; what is wrong with one is said at its own place.
func TestStepsExact(t *testing.T) {
	d := &Design{}
	d.nominal.Duty.Speed = 1.5
	for _, c := range []struct {
		text    string
		seconds float64
		demand  drive.Demand
		amount  float64
		speed   float64
		rest    bool
	}{
		{"60 s at 3 kW", 60, drive.BatteryPower, 3000, 1.5, false},
		{"2 min at 4.5 kW shaft", 120, drive.ShaftPower, 4500, 1.5, false},
		{"0.5 h at 900 W controller and 0 m/s", 1800, drive.ControllerPower, 900, 0, false},
		{"30 s at 400 N and 4 m/s", 30, drive.Thrust, 400, 4, false},
		{"5 min at 80 %", 300, drive.Throttle, 0.8, 1.5, false},
		{"30 s at 4000 rpm", 30, drive.RotorSpeed, 4000 * math.Pi / 30, 1.5, false},
		{"5 min rest", 300, 0, 0, 1.5, true},
		{"5 min at rest", 300, 0, 0, 1.5, true},
	} {
		leg, what, _ := d.ReadStep(c.text)
		if what != "" {
			t.Errorf("%s: %s", c.text, what)
			continue
		}
		got := leg.Condition
		if leg.Seconds != c.seconds || leg.Rest != c.rest || got.Demand != c.demand || math.Abs(got.Amount-c.amount) > 1e-9*c.amount || got.Speed != c.speed {
			t.Errorf("%s: %+v", c.text, leg)
		}
	}
	d.nominal.Duty.PowerPlace = "shaft"
	if leg, _, _ := d.ReadStep("60 s at 3 kW"); leg.Condition.Demand != drive.ShaftPower {
		t.Error("a power without a place is not that of power_place")
	}
	for text, want := range map[string]string{
		"": "what it is at", "60 s": "what it is at", "60 at 3 kW": "step", "60 s at": "what it is at", "60 s at 3": "no power",
		"-5 s at 3 kW": "lasts", "2000 h rest": "lasts", "60 s at 0 W": "is at", "60 s at -3 kW": "is at", "60 s at 120 %": "is at",
		"60 s at 400 N shaft": "names a place", "60 s at 3 kW and 90 m/s": "goes at", "60 s at 3 kW and 4 kg": "step", "NaN s at 3 kW": "step", "60 s at inf W": "step",
	} {
		if _, what, _ := d.ReadStep(text); !strings.Contains(what, want) {
			t.Errorf("%q: %q", text, what)
		}
	}
}

func FuzzStep(f *testing.F) {
	for _, s := range []string{"60 s at 3 kW", "2 min at 4 kW shaft and 3 m/s", "5 min rest", "1 s at 1 %", " at  and ", "rest", "at rest"} {
		f.Add(s)
	}
	d := &Design{}
	f.Fuzz(func(t *testing.T, text string) {
		leg, what, _ := d.ReadStep(text)
		if what != "" {
			return
		}
		c := leg.Condition
		if !(leg.Seconds > 0 && leg.Seconds <= longestStep) || !leg.Rest && !(c.Amount > 0 && c.Amount <= 2e5 && c.Speed >= 0 && c.Speed <= 40) {
			t.Errorf("%q is read as %+v", text, leg)
		}
	})
}
