package plan

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"jetwright/bench"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/notice"
	"jetwright/reckon"
)

// Rules of a ladder; the factor of a step is the next-step rule's.
const (
	firstShare   = 0.08 // of the duty's power, where a first ladder begins at the lowest
	firstCount   = 20   // divisions of the display that the first pull has
	firstPull    = 20.0 // N, where no division is typed
	newMost      = 8    // new steps on one day, beyond a first ladder
	firstMost    = 14   // steps of a first ladder
	drawsAStep   = 128
	thrustPower  = 2.0 / 3 // thrust goes with efficiency to this power at a given power
	downSteps    = 3
	downFrom     = 6 // steps up from which on three come down, else two
	pullUnknowns = 4
)

// Powers returns the powers of a ladder in W that goes up from one power to another.
//
//	P_{i+1} = min(f·P_i, P_top), rounded down
//
//	f      largest factor of a step, -
//	P_top  power to end at, W
//
// Rounding is to 10 W, above 1 kW to 50 W, and never up, so that no step is larger than f allows; the
// last is P_top itself. Holds for f above 1; at most so many steps are returned.
//
// Source: own. Tests: TestPowersExact, TestPowersLaw.
func Powers(from, top, factor float64, most int) []float64 {
	var out []float64
	p := from
	for len(out) < most && p < top*(1-1e-9) {
		next := math.Min(factor*p, top)
		if next < top {
			next = roundDown(next)
		}
		if next <= p {
			next = math.Min(factor*p, top) // too fine to round
		}
		out = append(out, next)
		p = next
	}
	return out
}

// roundDown rounds a power down to what a hand sets.
func roundDown(p float64) float64 {
	step := 10.0
	switch {
	case p >= 1000:
		step = 50
	case p < 100:
		step = 1
	}
	return step * math.Floor(p/step*(1+1e-12))
}

// repeats are the shares of the highest settled power at which a ladder repeats what has settled, so
// that days can be told from each other: even powers of 1.25.
var repeats = []float64{0.262144, 0.4096, 0.64}

// condition at a power on the stand.
func (m *maker) at(power float64) drive.Condition {
	return drive.Condition{Demand: m.demand, Amount: power, OnStand: true}
}

// powerOf reads the power of a state at the plan's place.
func (m *maker) powerOf(s *drive.State) float64 {
	switch m.demand {
	case drive.ShaftPower:
		return s.ShaftPower
	case drive.ControllerPower:
		return s.ControllerPower
	}
	return s.BatteryPower
}

// target is the power that the ladder is to end at: what the duty takes, or what the battery gives.
func (m *maker) target() (power float64, why string, err error) {
	n := m.sample.Nominal
	c := n.Drive.DutyCondition()
	c.OnStand = c.Speed == 0 // a duty under way is run on the stand at the power that it takes there
	s, err := n.Solve(c)
	if err == nil {
		power = m.powerOf(&s)
		if _, err = n.Solve(m.at(power)); err == nil {
			return power, "the duty's power", nil
		}
	}
	var u *drive.Unmet
	if !errors.As(err, &u) {
		return 0, "", err
	}
	// nearly all that the battery gives at rest
	power = 1e6
	var last error
	for range 200 {
		if _, last = n.Solve(m.at(power)); last == nil {
			return power, "what the battery gives at rest", nil
		}
		power *= 0.93
	}
	return 0, "", last
}

// ladder sets the steps and asks the drive at each.
func (m *maker) ladder() error {
	m.Place = m.Next.Place
	if m.Place == "" {
		m.Place = "battery"
	}
	m.demand, _ = drive.Place(m.Place)
	top, what, err := m.target()
	if err != nil {
		return err
	}
	if r := roundDown(top); r > 0 {
		top = r
	}
	m.From = m.Next.From
	m.First = !(m.From > 0)
	reach, err := Next(m.Input)
	if err != nil {
		return err
	}
	if reach != nil && reach.By != "" && reach.Power > 0 && reach.Power < top {
		top, what = reach.Power, "the largest power that keeps every limit, held back by the "+reach.By
	}
	var up []Step
	if m.First {
		start, err := m.lowest(top)
		if err != nil {
			return err
		}
		up = append(up, Step{Kind: New, Power: start})
		for _, p := range Powers(start, top, reckon.SettledStep, firstMost-1) {
			up = append(up, Step{Kind: New, Power: p})
		}
		if last := up[len(up)-1].Power; last < top*(1-1e-9) {
			m.Ends = fmt.Sprintf("the ladder ends after %d steps, short of %s of %.0f W; the rest is for another day", len(up), what, top)
		} else {
			m.Ends = fmt.Sprintf("the ladder ends at %s", what)
		}
	} else {
		for _, share := range repeats {
			if p := roundDown(share * m.From); p > 0 {
				if _, err := m.sample.Nominal.Solve(m.at(p)); err == nil {
					up = append(up, Step{Kind: Repeat, Power: p})
				}
			}
		}
		highest := roundDown(m.From)
		if !(highest > 0) {
			highest = m.From
		}
		up = append(up, Step{Kind: Repeat, Power: highest})
		switch {
		case !m.Next.Allowed:
			m.Ends = "no step goes beyond the highest settled power until what holds the next step up is cleared"
		case reach != nil && reach.Power == 0:
			m.Ends = fmt.Sprintf("no step goes beyond the highest settled power: it is held back by the %s, %s", reach.By, reach.Why)
		case top <= highest*(1+1e-9):
			m.Ends = fmt.Sprintf("the highest settled power covers %s; no step goes beyond it", what)
		case m.Next.Factor < reckon.SettledStep:
			up = append(up, Step{Kind: New, Power: math.Min(m.Next.Factor*highest, top)})
			m.Ends = "one careful step beyond the highest settled power, and no further on this day"
		default:
			for _, p := range Powers(highest, top, m.Next.Factor, newMost) {
				up = append(up, Step{Kind: New, Power: p})
			}
			m.Ends = fmt.Sprintf("the ladder ends at %s", what)
		}
	}
	if up, err = m.within(up); err != nil {
		return err
	}
	m.Steps = up
	m.Top = len(up) - 1
	for i := range m.Steps {
		if err := m.ask(i, 1); err != nil {
			return err
		}
	}
	m.down()
	m.times()
	return nil
}

// lowest is where a first ladder begins: the pull is some divisions of the display, and the power a
// small share of the duty's.
func (m *maker) lowest(top float64) (float64, error) {
	pull := firstPull
	if d := m.drive.Stand.ScaleDivision; d.Set {
		pull = firstCount * d.Value
	}
	n := m.sample.Nominal
	power := firstShare * top
	if s, err := n.Solve(drive.Condition{Demand: drive.Thrust, Amount: pull / m.drive.Stand.PullRatio(), OnStand: true}); err == nil {
		power = math.Max(power, m.powerOf(&s))
	}
	power = math.Min(power, top)
	var err error
	for p := power; p <= top*(1+1e-9); p *= 1.2 {
		if _, err = n.Solve(m.at(p)); err == nil {
			if r := roundDown(p); r > 0 {
				if _, e := n.Solve(m.at(r)); e == nil {
					return r, nil
				}
			}
			return p, nil
		}
	}
	if _, err = n.Solve(m.at(top)); err == nil {
		return top, nil
	}
	return 0, err
}

// within cuts the ladder at the first new step at which a limit is broken that is not at the first
// step, or that the drive has no state at.
func (m *maker) within(up []Step) ([]Step, error) {
	always := map[string]bool{}
	for i := range up {
		r := m.sample.Solve(m.at(up[i].Power))
		if r.Err != nil {
			if i == 0 {
				return nil, r.Err
			}
			m.Ends = "the ladder ends here: " + r.Err.Error()
			return up[:i], nil
		}
		stop := ""
		broken := func(name string) {
			if i == 0 {
				always[name] = true
			} else if !always[name] && stop == "" {
				stop = name
			}
		}
		judged := r.Limits(m.sample)
		for _, l := range judged {
			if l.State == explore.Broken {
				broken(l.Name)
			}
		}
		for _, c := range m.standChecks(r, judged) {
			if c.State == Broken {
				broken(c.Name)
			}
		}
		if stop != "" && up[i].Kind == New && i > 0 {
			m.Ends = fmt.Sprintf("the ladder ends below %.0f W, where a limit is broken: %s", up[i].Power, stop)
			return up[:i], nil
		}
		if up[i].Kind == New && !m.First {
			if k := m.kept(up[i].Power); k.why != "" || k.broken() != nil {
				name := k.why
				if b := k.broken(); b != nil {
					name = b.Name
				}
				if i > 0 && !always[name] {
					m.Ends = fmt.Sprintf("the ladder ends below %.0f W, where a limit would be broken in one of a hundred drives or in the worst case: %s", up[i].Power, name)
					return up[:i], nil
				}
			}
		}
		m.top = r
	}
	return up, nil
}

// friction returns what the carriage holds back at a pull, N: as seen by steps up and down, or as assumed. For a
// standard normal number or a share it gives a draw.
func (m *maker) friction(pull float64) (mid float64, draw func(u float64) float64) {
	if m.drive.Stand.Kind == "pivot" {
		return 0, func(float64) float64 { return 0 }
	}
	var best bench.Friction
	for _, d := range m.Days {
		if d.Friction.Known && (!best.Known || d.Friction.U < best.U) {
			best = d.Friction
		}
	}
	if best.Known {
		force, sd := best.At(pull)
		return math.Max(force, 0), func(u float64) float64 {
			return math.Max(force+sd*distuv.UnitNormal.Quantile(u), 0)
		}
	}
	f := bench.FrictionForce(m.drive.Stand.CarriageLoad, m.sample.Nominal.Path.Medium.Gravity)
	return f / 2, func(u float64) float64 { return f * u }
}

// ask puts a step to the drives; sign is 1 going up and −1 going down.
func (m *maker) ask(i int, sign float64) error {
	s := &m.Steps[i]
	r := m.sample.First(drawsAStep).Solve(m.at(s.Power))
	if r.Err != nil {
		return r.Err
	}
	figure := func(unit string, of func(*drive.State) float64) Figure { return Figure{r.Figure(of), unit} }
	s.Thrust = figure("N", func(x *drive.State) float64 { return x.Thrust })
	s.Rotor = figure("rpm", func(x *drive.State) float64 { return x.RotorSpeed })
	s.Current = figure("A", m.current)
	s.Voltage = figure("V", func(x *drive.State) float64 { return x.Supply.BatteryVoltage })
	s.Winding = figure("°C", func(x *drive.State) float64 { return x.Motor.WindingTemperature })
	s.battery, s.coolant = r.Nominal.BatteryPower, r.Nominal.Heat.CoolantFlow
	sd := 0.0
	if m.Fitted {
		sd = thrustPower * reckon.Discrepancy(s.Power, m.From, false)
	}
	stand := m.drive.Stand
	ratio := stand.PullRatio()
	tub := reckon.TubShare
	if stand.Water == "open" {
		tub = 0
	}
	scale, _ := bench.InstrumentNamed("hanging scale")
	limits := scale.OfFullScale * stand.ScaleRange.Or(2*r.Nominal.Thrust*ratio)
	mid, friction := m.friction(r.Nominal.Thrust)
	u := explore.Uniform(len(r.States), pullUnknowns, m.Seed)
	drawn := make([]float64, len(r.States))
	for k := range r.States {
		t := r.States[k].Thrust * math.Exp(sd*distuv.UnitNormal.Quantile(u[k][0]))
		drawn[k] = math.Max(ratio*(t*(1-tub*u[k][1])-sign*friction(u[k][2]))+limits*(2*u[k][3]-1), 0)
	}
	pull := math.Max(ratio*(r.Nominal.Thrust*(1-tub/2)-sign*mid), 0)
	s.Pull = Figure{explore.Interval(pull, drawn), "N"}
	if sd > 0 && len(drawn) > 0 {
		for k := range drawn {
			drawn[k] = r.States[k].Thrust * math.Exp(sd*distuv.UnitNormal.Quantile(u[k][0]))
		}
		s.Thrust.Figure = explore.Interval(r.Nominal.Thrust, drawn)
	}
	if i > 0 {
		s.Change = s.Pull.Value - m.Steps[i-1].Pull.Value
	}
	if d := stand.ScaleDivision; d.Set && s.Kind != Down {
		change := s.Change
		if i == 0 {
			change = s.Pull.Value
		}
		s.Division, s.Resolved = Resolution(change, d.Value)
	}
	return nil
}

// current reads the phase current in the controller's convention.
func (m *maker) current(s *drive.State) float64 {
	switch m.drive.Controller.PhaseCurrentConvention {
	case "rms":
		return s.Motor.PhaseCurrentRMS
	case "dc":
		return s.Motor.DCEquivalentCurrent
	}
	return s.Motor.PhaseCurrentPeak
}

// down takes two or three of the powers again on the way down, which shows the friction.
func (m *maker) down() {
	n := m.Top + 1
	if n < 3 {
		return
	}
	k := 2
	if n >= downFrom {
		k = downSteps
	}
	seen := map[int]bool{}
	for j := k; j >= 1; j-- {
		i := j * m.Top / (k + 1)
		if i >= m.Top || seen[i] {
			continue
		}
		seen[i] = true
		m.Steps = append(m.Steps, Step{Kind: Down, Power: m.Steps[i].Power})
		if m.ask(len(m.Steps)-1, -1) != nil {
			m.Steps = m.Steps[:len(m.Steps)-1] // the same power had a state going up
		}
	}
}

// times sums up the day.
func (m *maker) times() {
	m.Whole = 2 * m.Dwell.Zero
	for i := range m.Steps {
		m.Steps[i].Dwell = m.Dwell.Time
		m.Whole += m.Dwell.Time + m.Dwell.Change
		m.Energy += m.Steps[i].battery * m.Dwell.Time
	}
	const cellVoltage = 3.6 // V, mean over a discharge
	b := m.drive.Battery
	m.Charge = float64(b.Series) * float64(b.Parallel) * b.CellCapacity * b.Charge * cellVoltage
	if m.Energy > 0.8*m.Charge {
		then := "the voltage will sag along the ladder"
		if m.Energy > m.Charge {
			then = "it is empty before the ladder ends"
		}
		m.note(notice.Warning, fmt.Sprintf("the day takes %.0f Wh and the pack holds about %.0f Wh at %.0f %% charge; %s", m.Energy/3600, m.Charge/3600, 100*b.Charge, then),
			"charge between the steps, with the drive disarmed, or cut the ladder in two days")
	}
}
