package desk

import (
	"fmt"
	"math"

	"jetwright/drive"
	"jetwright/explore"
	"jetwright/notice"
	"jetwright/project"
)

// BatteryAnswer is the battery with what stands between it and the controller.
type BatteryAnswer struct {
	Folder    string
	Condition drive.Condition
	Power     float64 // at the terminals, nominal, W: what the design point takes, and what the battery is asked for here
	Series    int
	Parallel  int
	Class     string // of the cells; "as measured" with a table
	Build     []Figure
	Cold      []BatteryRow // by temperature of the cells
	Charges   []BatteryRow // by charge
	Usable    []BatteryUse // by power
	Relaxing  bool
	Recovery  []Figure // voltage under the design point's current after a long load, and at times after it
	Cutoff    float64  // of a cell, V
	Wiring    []Figure
	Untyped   []string // what is not typed of the wiring, so that nothing of it is judged
	Touch     string   // what the full pack is to the touch
	Limits    []Limit
	Draws     int
	Failed    map[string]int
	WaterTemp float64
	Notices   notice.List
	Cautions  []Caution
}

// BatteryRow is the battery at a temperature or a charge, under the design point's power.
type BatteryRow struct {
	At                                       Figure
	Here                                     bool // it is the design's own
	Rest, Resistance, Voltage, Current, Loss Figure
	Weakest, Most                            Figure
	Passes                                   bool
	Lost                                     float64 // share of the draws that do not pass the power
	Use                                      *BatteryUse
}

// BatteryUse is what the battery gives at a constant power.
type BatteryUse struct {
	Power        float64 // W
	Energy, Time Figure
	Charge       Figure // left
	Cells        Figure // temperature in the end
	End          string
}

// coldPoints are the temperatures of cells that are set side by side, K, and chargePoints the charges.
var (
	coldPoints   = []float64{0 + zeroCelsius, 7 + zeroCelsius, 15 + zeroCelsius, 25 + zeroCelsius, 40 + zeroCelsius}
	chargePoints = []float64{1, 0.8, 0.6, 0.4, 0.2, 0.1}
	useShares    = []float64{0.25, 0.5, 0.75, 1, 1.25}
	restTimes    = []float64{0, 10, 60, 300, 1800}
)

// wetVoltage and dryVoltage are direct voltages up to which a circuit counts as low where it is wet and where it is dry, V.
const (
	wetVoltage = 30
	dryVoltage = 60
)

// BatteryIn answers Battery for a folder.
func BatteryIn(folder string, o Options) (*BatteryAnswer, error) {
	return in(folder, func(p *project.Project) (*BatteryAnswer, error) { return Battery(p, o) })
}

// Battery answers what the battery gives, cold and warm, full and nearly empty, and how it is wired.
func Battery(p *project.Project, o Options) (*BatteryAnswer, error) {
	s, err := explore.NewOverTime(p.Design, o.draws(DrawsAPoint), o.seed())
	if err != nil {
		return nil, unsolved(p, err)
	}
	nominal := p.Design.Nominal()
	c := nominal.DutyCondition()
	r := s.Solve(c)
	if r.Err != nil {
		return nil, unsolved(p, r.Err)
	}
	b := &nominal.Battery
	a := &BatteryAnswer{
		Folder: p.Folder, Condition: c, Power: r.Nominal.BatteryPower, Series: b.Series, Parallel: b.Parallel, Class: b.Chemistry,
		Draws: r.Draws, Failed: r.Failed, WaterTemp: nominal.Water.Temperature, Notices: p.Notices, Cautions: motorCautions(&nominal), Cutoff: b.CutOff,
	}
	if len(b.OpenCircuitCharges) > 0 {
		a.Class = "open-circuit voltage as measured"
	}
	a.build(s)
	if err := a.rows(s); err != nil {
		return nil, unsolved(p, err)
	}
	for _, share := range useShares {
		a.Usable = append(a.Usable, usable(s, share*a.Power, func(m *drive.Machine) float64 { return m.Drive.Battery.Temperature }))
	}
	a.recovery(s, r)
	a.wiring(s, r)
	a.touch(&nominal)
	for _, l := range r.Limits(s) {
		if batteryLimits[l.Name] {
			a.Limits = append(a.Limits, shownLimit(l))
		}
	}
	return a, nil
}

// batteryLimits are the limits that Battery shows.
var batteryLimits = map[string]bool{
	"battery current": true, "cell current": true, "battery voltage under load": true, "weakest cell under load": true,
	"full battery on the controller": true, "full battery to the touch": true, "battery cable": true, "current through the fuse": true,
	"fuse against its cable": true, "short circuit on the fuse": true, "current through the connectors": true,
	"voltage left by the pre-charge": true, "energy in the pre-charge resistor": true, "inrush of the input capacitors": true,
	"ripple of the input capacitors": true, "capacitor temperature": true, "capacitors for the hours they are to last": true,
}

// Fine tells whether every limit shown was judged and none is broken.
func (a *BatteryAnswer) Fine() bool {
	for _, l := range a.Limits {
		if l.State == explore.Broken || l.State == explore.NotJudged {
			return false
		}
	}
	return true
}

// each is a figure of every drawn machine, with its 90 % interval; what is not finite is left out.
func each(s *explore.Sample, doc, unit string, of func(*drive.Machine) float64) Figure {
	drawn := make([]float64, len(s.Machines))
	explore.Parallel(len(drawn), func(i int) {
		drawn[i] = math.NaN()
		if s.Machines[i] != nil {
			drawn[i] = of(s.Machines[i])
		}
	})
	f := figureFrom(explore.Interval(of(s.Nominal), finiteOnly(drawn)), unit)
	f.Doc = doc
	return f
}

func finiteOnly(list []float64) []float64 {
	var out []float64
	for _, x := range list {
		if !math.IsNaN(x) && !math.IsInf(x, 0) {
			out = append(out, x)
		}
	}
	return out
}

func (a *BatteryAnswer) build(s *explore.Sample) {
	add := func(doc, unit string, of func(*drive.Machine) float64) {
		a.Build = append(a.Build, each(s, doc, unit, of))
	}
	add("full", "V", func(m *drive.Machine) float64 { return m.Drive.Battery.FullVoltage() })
	add("at rest, at its charge", "V", func(m *drive.Machine) float64 { return m.Chain.OpenCircuit() })
	add("charge", "%", func(m *drive.Machine) float64 { return m.Drive.Battery.Charge })
	add("temperature of the cells", "°C", func(m *drive.Machine) float64 { return m.Drive.Battery.Temperature })
	add("capacity", "Ah", func(m *drive.Machine) float64 {
		return m.Drive.Battery.CellCapacity * float64(m.Drive.Battery.Parallel)
	})
	add("resistance of the pack", "mΩ", func(m *drive.Machine) float64 { return m.Chain.PackResistance() })
	add("mass of the cells", "kg", func(m *drive.Machine) float64 {
		b := &m.Drive.Battery
		return m.Drive.Thermal.CellMassOf(b.CellCapacity) * float64(b.Series*b.Parallel)
	})
}

// row is the battery under the design point's power at a charge and a temperature of each machine.
func (a *BatteryAnswer) row(s *explore.Sample, charge, temperature func(*drive.Machine) float64) (BatteryRow, error) {
	var row BatteryRow
	at := func(m *drive.Machine) drive.BatteryAt {
		b, err := m.BatteryAt(a.Power, charge(m), temperature(m))
		if err != nil {
			b.Passes = false
		}
		return b
	}
	own, err := s.Nominal.BatteryAt(a.Power, charge(s.Nominal), temperature(s.Nominal))
	if err != nil {
		return row, err
	}
	row.Passes = own.Passes
	n, lost := 0, 0
	for _, m := range s.Machines {
		if m != nil {
			n++
			if !at(m).Passes {
				lost++
			}
		}
	}
	if n > 0 {
		row.Lost = float64(lost) / float64(n)
	}
	passing := func(of func(drive.BatteryAt) float64) func(*drive.Machine) float64 {
		return func(m *drive.Machine) float64 {
			if b := at(m); b.Passes {
				return of(b)
			}
			return math.NaN()
		}
	}
	row.Rest = each(s, "at rest", "V", func(m *drive.Machine) float64 { return at(m).Rest })
	row.Resistance = each(s, "resistance", "mΩ", func(m *drive.Machine) float64 { return at(m).Resistance })
	row.Most = each(s, "most power above the cut-off", "W", func(m *drive.Machine) float64 { return at(m).Most })
	if row.Passes {
		row.Voltage = each(s, "under load", "V", passing(func(b drive.BatteryAt) float64 { return b.Voltage }))
		row.Current = each(s, "current", "A", passing(func(b drive.BatteryAt) float64 { return b.Current }))
		row.Weakest = each(s, "weakest cell", "V", passing(func(b drive.BatteryAt) float64 { return b.Weakest }))
		row.Loss = each(s, "lost in the pack", "W", passing(func(b drive.BatteryAt) float64 { return b.Current * b.Current * b.Resistance }))
	}
	return row, nil
}

func (a *BatteryAnswer) rows(s *explore.Sample) error {
	ownCharge := func(m *drive.Machine) float64 { return m.Drive.Battery.Charge }
	ownHeat := func(m *drive.Machine) float64 { return m.Drive.Battery.Temperature }
	for _, k := range coldPoints {
		row, err := a.row(s, ownCharge, func(*drive.Machine) float64 { return k })
		if err != nil {
			a.Notices = append(a.Notices, notice.Notice{Kind: notice.Warning, Path: "battery.resistance_temperatures", What: fmt.Sprintf("at %.0f °C: %v", k-zeroCelsius, err)})
			continue
		}
		row.At = figure("cells", "°C", k)
		u := usable(s, a.Power, func(*drive.Machine) float64 { return k })
		row.Use = &u
		a.Cold = append(a.Cold, row)
	}
	for _, q := range chargePoints {
		row, err := a.row(s, func(*drive.Machine) float64 { return q }, ownHeat)
		if err != nil {
			a.Notices = append(a.Notices, notice.Notice{Kind: notice.Warning, Path: "battery.resistance_charges", What: fmt.Sprintf("at %.0f %% charge: %v", 100*q, err)})
			continue
		}
		row.At = figure("charge", "%", q)
		a.Charges = append(a.Charges, row)
	}
	return nil
}

// usable is what the battery gives at a power from its charge on, its cells beginning at a temperature.
func usable(s *explore.Sample, power float64, temperature func(*drive.Machine) float64) BatteryUse {
	u := BatteryUse{Power: power}
	own := s.Nominal.Usable(power, temperature(s.Nominal))
	u.End = own.End.String()
	drawn := make([]drive.Discharge, len(s.Machines))
	explore.Parallel(len(drawn), func(i int) {
		if s.Machines[i] != nil {
			drawn[i] = s.Machines[i].Usable(power, temperature(s.Machines[i]))
		}
	})
	of := func(unit string, f func(drive.Discharge) float64) Figure {
		var column []float64
		for i, d := range drawn {
			if s.Machines[i] != nil {
				column = append(column, f(d))
			}
		}
		return figureFrom(explore.Interval(f(own), column), unit)
	}
	u.Energy = of("Wh", func(d drive.Discharge) float64 { return d.Energy })
	u.Time = of("min", func(d drive.Discharge) float64 { return d.Time })
	u.Charge = of("%", func(d drive.Discharge) float64 { return d.Charge })
	u.Cells = of("°C", func(d drive.Discharge) float64 { return d.Temperature })
	return u
}

// recovery is the voltage under the design point's current, and at times after it.
func (a *BatteryAnswer) recovery(s *explore.Sample, r *explore.Result) {
	a.Relaxing = s.Nominal.Chain.Relaxing()
	if !a.Relaxing {
		return
	}
	current := r.Nominal.Supply.BatteryCurrent
	a.Recovery = append(a.Recovery, each(s, "under load", "V", func(m *drive.Machine) float64 { return m.Recovery(current, -1) }))
	for _, t := range restTimes {
		a.Recovery = append(a.Recovery, each(s, after(t), "V", func(m *drive.Machine) float64 { return m.Recovery(current, t) }))
	}
}

func after(t float64) string {
	switch {
	case t == 0:
		return "as it stops"
	case t < 120:
		return fmt.Sprintf("%.0f s after", t)
	}
	return fmt.Sprintf("%.0f min after", t/60)
}

// wiring is what stands between battery and controller, as far as it is typed.
func (a *BatteryAnswer) wiring(s *explore.Sample, r *explore.Result) {
	d := &s.Nominal.Drive
	b, k := &d.Battery, &d.Controller
	current := func(m *drive.Machine) float64 { return r.Nominal.Supply.BatteryCurrent }
	add := func(doc, unit string, of func(*drive.Machine) float64) {
		a.Wiring = append(a.Wiring, each(s, doc, unit, of))
	}
	lacks := func(text string) { a.Untyped = append(a.Untyped, text) }
	a.Wiring = append(a.Wiring, figureFrom(r.Figure(func(s *drive.State) float64 { return s.Supply.BatteryCurrent }), "A"))
	a.Wiring[0].Doc = "current at the design point"
	drop := figureFrom(r.Figure(func(s *drive.State) float64 { return s.Supply.BatteryVoltage - s.Supply.ControllerVoltage }), "V")
	drop.Doc = "lost in the wiring there"
	a.Wiring = append(a.Wiring, drop)
	add("short circuit at the controller", "A", func(m *drive.Machine) float64 { return m.Chain.ShortCircuit() })
	if _, ok := s.Nominal.Chain.CableTemperature(1); ok {
		add("cable, conductor at the design point's current", "°C", func(m *drive.Machine) float64 {
			t, _ := m.Chain.CableTemperature(current(m))
			return t
		})
		if b.CableLimit.Set {
			add("cable, current at which it settles at its limit", "A", func(m *drive.Machine) float64 { return m.Chain.Ampacity() })
		} else {
			lacks("the cable's limit (battery.cable_limit)")
		}
		add("cable, copper area that would lose 1 % of the voltage there", "mm²", func(m *drive.Machine) float64 {
			b := &m.Drive.Battery
			return drive.CableForDrop(current(m), b.CableLength.Value, 0.01*m.Chain.OpenCircuit(), b.CableSurroundings.Or(b.Temperature))
		})
	} else {
		lacks("the cable (battery.cable_area, cable_length, cable_limit)")
	}
	a.fuse(s, add, lacks)
	if !b.ConnectorCurrentLimit.Set {
		lacks("connectors (battery.connector_current_limit)")
	}
	if k.Capacitance.Set {
		what := "inrush when the battery is connected"
		if k.PrechargeResistance.Set {
			add("inrush without the pre-charge", "A", func(m *drive.Machine) float64 { return m.Chain.Unheld() })
			add("pre-charge, energy in its resistor", "J", func(m *drive.Machine) float64 { return preCharge(m).Energy })
			add("pre-charge, power in its resistor in the first moment", "W", func(m *drive.Machine) float64 { return preCharge(m).PeakPower })
			if preCharge(s.Nominal).Possible {
				add("pre-charge, time until a twentieth of the voltage is left", "s", func(m *drive.Machine) float64 {
					if p := preCharge(m); p.Possible {
						return p.Time
					}
					return math.NaN()
				})
			} else {
				a.Notices = append(a.Notices, notice.Notice{
					Kind: notice.Warning, Path: "controller.precharge_load", What: "the pre-charge never ends: its load alone keeps more than a twentieth of the voltage across the resistor",
					WayOut: "less precharge_resistance, or less precharge_load",
				})
			}
			what = "inrush after the pre-charge"
		}
		add(what, "A", func(m *drive.Machine) float64 {
			x, _ := m.Chain.Inrush()
			return x
		})
		if k.BleedResistance.Set {
			add("time until the capacitors are down to a tenth, battery off", "s", func(m *drive.Machine) float64 {
				k := &m.Drive.Controller
				return drive.BleedTime(k.BleedResistance.Value, k.Capacitance.Value, 1, 0.1)
			})
		}
	} else {
		lacks("inrush and pre-charge (controller.capacitance, precharge_resistance, precharge_time)")
	}
	ripple := figureFrom(r.Figure(func(s *drive.State) float64 { return s.Supply.CapacitorRipple }), "A")
	ripple.Doc = "ripple of the input capacitors, rms"
	a.Wiring = append(a.Wiring, ripple)
	core := func(m *drive.Machine, st *drive.State) (float64, bool) {
		t, _, ok := m.Chain.CapacitorCoreAt(st.Supply.CapacitorRipple, st.Heat.BridgeTemperature)
		return t, ok
	}
	if _, ok := core(s.Nominal, &r.Nominal); !ok {
		lacks("the capacitors (controller.capacitor_resistance, capacitor_to_air, capacitor_limit, capacitor_life)")
		return
	}
	column := func(doc, unit string, of func(m *drive.Machine, st *drive.State) float64) {
		var drawn []float64
		for n, i := range r.Rows {
			drawn = append(drawn, of(s.Machines[i], &r.States[n]))
		}
		f := figureFrom(explore.Interval(of(s.Nominal, &r.Nominal), drawn), unit)
		f.Doc = doc
		a.Wiring = append(a.Wiring, f)
	}
	column("their cores, steady", "°C", func(m *drive.Machine, st *drive.State) float64 {
		t, _ := core(m, st)
		return t
	})
	if _, ok := s.Nominal.Chain.CapacitorLasts(0); ok {
		column("their life at that, under load; makers promise 15 years, 131 000 h, at most", "h", func(m *drive.Machine, st *drive.State) float64 {
			t, _ := core(m, st)
			x, _ := m.Chain.CapacitorLasts(t)
			return x
		})
	}
}

func preCharge(m *drive.Machine) drive.PreChargeState {
	p, _ := m.Chain.PreCharge()
	return p.Charge(1.0 / 20)
}

// fuse tells what the fuse carries and when it melts.
func (a *BatteryAnswer) fuse(s *explore.Sample, add func(string, string, func(*drive.Machine) float64), lacks func(string)) {
	b, k := &s.Nominal.Drive.Battery, &s.Nominal.Drive.Controller
	if !b.FuseRating.Set {
		lacks("the fuse (battery.fuse_rating, fuse_loads and fuse_times, fuse_melting, fuse_breaking)")
		return
	}
	add("fuse, current that it carries for good", "A", func(m *drive.Machine) float64 { return drive.FuseLasting(m.Drive.Battery.FuseRating.Value) })
	melts := func(doc string, current func(*drive.Machine) float64) {
		if _, ok := b.FuseMelts(current(s.Nominal)); !ok {
			return
		}
		add(doc, "s", func(m *drive.Machine) float64 {
			if t, ok := m.Drive.Battery.FuseMelts(current(m)); ok {
				return t
			}
			return math.NaN()
		})
	}
	melts("fuse, melts at twice its rating after", func(m *drive.Machine) float64 { return 2 * m.Drive.Battery.FuseRating.Value })
	if k.BatteryCurrentLimit.Set {
		melts("fuse, melts at the controller's limit of battery current after", func(m *drive.Machine) float64 { return m.Drive.Controller.BatteryCurrentLimit.Value })
	}
	melts("fuse, melts at the short circuit after", func(m *drive.Machine) float64 { return m.Chain.ShortCircuit() })
	if len(b.FuseLoads) == 0 {
		lacks("the fuse's melting curve (battery.fuse_loads, fuse_times)")
	}
	if !b.FuseBreaking.Set {
		lacks("what the fuse breaks (battery.fuse_breaking)")
	}
}

// touch words what the full pack is to the touch.
func (a *BatteryAnswer) touch(d *drive.Drive) {
	v := d.Battery.FullVoltage()
	switch {
	case v > dryVoltage:
		a.Touch = fmt.Sprintf("full it stands at %.3g V, above the %d V DC up to which a circuit counts as low where everything is dry: no live part may be within reach, and local codes ask for more", v, dryVoltage)
	case v > wetVoltage:
		a.Touch = fmt.Sprintf("full it stands at %.3g V: low where hands and ground are dry (up to %d V DC), not where they are wet (up to %d V DC): beside and in water no live part may be within reach", v, dryVoltage, wetVoltage)
	default:
		a.Touch = fmt.Sprintf("full it stands at %.3g V, within the %d V DC that count as low where it is wet; under water itself, and for whoever swims there, no voltage is promised to be safe", v, wetVoltage)
	}
}
