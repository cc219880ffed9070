package bench

import (
	"bytes"
	"testing"

	"jetwright/synth"
)

// watchBytes hands a whole log over line by line, at the pace of its own rows.
func watchBytes(t *testing.T, name string, data []byte) (*Watcher, []Alarm) {
	t.Helper()
	l, faults := GuessLayout(name, data)
	if err := faults.Fatal(); err != nil {
		t.Fatal(err)
	}
	log, faults := ReadLog(name, data, l)
	if err := faults.Fatal(); err != nil {
		t.Fatal(err)
	}
	o := WatchOptions{Layout: l, Interval: log.interval(), Diameter: 0.094, NozzleArea: 0.0028, Density: 1000}
	for _, c := range channelOrder {
		o.Bounds = append(o.Bounds, Bound{Name: string(c), Channel: c, Allowed: 1e9}, Bound{Name: string(c), Channel: c, Allowed: -1e9, AtLeast: true})
	}
	w := NewWatcher(o)
	var alarms []Alarm
	row := 0
	for i, line := range bytes.Split(data, []byte{'\n'}) {
		if i+1 < l.FirstLine {
			continue
		}
		now := o.Interval * float64(row)
		row++
		alarms = append(alarms, w.Line(now, i+1, line)...)
		alarms = append(alarms, w.Tick(now)...)
	}
	return w, alarms
}

// Days of the generator without a fault raise nothing, with a bound on every channel and coefficients held
// against the day's own steps; a winding that freezes is told, and no other channel.
func TestWatchGeneratedSynthetic(t *testing.T) {
	const days = 25
	late, worst := 0, 0.0
	for seed := range uint64(days) {
		d := synth.Random(seed)
		files, _ := d.Make()
		for name, data := range map[string][]byte{"scale.csv": files.Scale, "controller.csv": files.Controller} {
			w, alarms := watchBytes(t, name, data)
			for _, a := range alarms {
				t.Errorf("seed %d, %s: a sound log raises %+v", seed, name, a)
			}
			if s := w.Status(); len(s.Doubts) > 0 {
				t.Errorf("seed %d, %s: a sound log is in doubt: %+v", seed, name, s.Doubts)
			}
		}
		span := d.Hold(1 + int(seed)%3)
		from := 0.5 * (span.From + span.To)
		d.Faults = []synth.Fault{{Channel: synth.WindingTemperature, Kind: synth.Frozen, From: from, To: d.Length()}}
		files, _ = d.Make()
		_, alarms := watchBytes(t, "controller.csv", files.Controller)
		if len(alarms) != 1 || alarms[0].Kind != Frozen || alarms[0].Channel != WindingTemperature {
			t.Errorf("seed %d: a frozen winding raises %+v", seed, alarms)
			continue
		}
		after := alarms[0].Time - from
		worst = max(worst, after)
		if after > 12 {
			late++
		}
	}
	t.Logf("the slowest frozen winding was told after %.1f s; %d of %d took more than 12 s", worst, late, days)
	if late > days/5 {
		t.Errorf("%d of %d frozen windings were told later than after 12 s", late, days)
	}
}
