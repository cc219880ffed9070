package drive

import (
	"math"

	"jetwright/physics/electric"
	"jetwright/quantity"
)

// MotorMap is motor, controller and battery over torque and speed at the motor's shaft, with the limits
// of current and voltage and the line that the jet runs on at rest.
type MotorMap struct {
	Winding, Coolant float64 // of the map, K; the running line has temperatures of its own
	AtBound          bool    // the winding would settle above its bound at the duty, and is taken there
	Speeds, Torques  []float64
	Points           [][]electric.MapPoint // a row a torque
	// Greatest torque at each speed in N·m; nil where the limit is not typed.
	PhaseCurrent, BatteryCurrent []float64
	Voltage                      []float64 // without weakening the field
	// With it: where the controller does so, by the states themselves, losses counted; else what it would make
	// possible, at the bus voltage of full throttle, and nil where pole pairs, inductance or a limit of phase current are
	// not typed.
	Weakened        []float64
	Weakens         bool    // the controller weakens the field
	Running         []State // at rest, from low to full throttle
	RunningThrottle []float64
	Full            string // why the line ends below full throttle; empty if it does not
	Duty            State  // the design point
	Best            electric.MapPoint
	Split           *electric.NoLoadSplit // of several no-load points, nil with one
}

// Sizes of the map, and of the running line.
const (
	mapSpeeds     = 64
	mapTorques    = 48
	runningPoints = 24
)

// Map works the map out. The error is why the design point has no state.
func (m *Machine) Map() (*MotorMap, error) {
	duty, err := m.Solve(m.Drive.DutyCondition())
	if err != nil {
		return nil, err
	}
	a := &MotorMap{Duty: duty, Coolant: m.Drive.Water.Temperature}
	if a.Winding = duty.Motor.WindingTemperature; a.Winding > m.windingBound {
		a.Winding, a.AtBound = m.windingBound, true
	}
	if len(m.Drive.Motor.NoLoadVoltages) > 0 {
		if s, err := m.Drive.Motor.NoLoadSplit(); err == nil {
			a.Split = &s
		}
	}
	m.running(a)
	topSpeed, topTorque := duty.MotorSpeed, duty.MotorTorque
	for _, s := range a.Running {
		topSpeed, topTorque = math.Max(topSpeed, s.MotorSpeed), math.Max(topTorque, s.MotorTorque)
	}
	topSpeed, topTorque = 1.25*topSpeed, 1.6*topTorque
	for i := range mapSpeeds {
		a.Speeds = append(a.Speeds, topSpeed*float64(i+1)/mapSpeeds)
	}
	for i := range mapTorques {
		a.Torques = append(a.Torques, topTorque*float64(i+1)/mapTorques)
	}
	a.Points = m.Chain.EfficiencyMap(a.Torques, a.Speeds, a.Winding, a.Coolant)
	for _, row := range a.Points {
		for _, p := range row {
			if p.Reason == electric.Solved && p.Voltage == electric.Reached && p.MotorAndController > a.Best.MotorAndController {
				a.Best = p
			}
		}
	}
	m.boundaries(a)
	return a, nil
}

// running solves the line of the jet at rest, up to full throttle or the last that has a state.
func (m *Machine) running(a *MotorMap) {
	const lowest, stride = 0.08, 0.98
	top, ok := m.topThrottle(), false
	for range 150 {
		_, err := m.Solve(Condition{Demand: Throttle, Amount: top})
		if ok = err == nil; ok {
			break
		}
		if a.Full == "" {
			a.Full = err.Error()
		}
		top *= stride
	}
	if !ok {
		return
	}
	for i := range runningPoints {
		x := lowest + (top-lowest)*float64(i)/(runningPoints-1)
		if s, err := m.Solve(Condition{Demand: Throttle, Amount: x}); err == nil {
			a.Running, a.RunningThrottle = append(a.Running, s), append(a.RunningThrottle, x)
		}
	}
}

// topThrottle is the greatest throttle: 1, or with the field weakened where that is used up.
func (m *Machine) topThrottle() float64 {
	if !m.Chain.Weakens() {
		return 1
	}
	keeps := func(x float64) bool {
		s, err := m.Solve(Condition{Demand: Throttle, Amount: x})
		return err == nil && s.Supply.Modulation <= m.Drive.Controller.ModulationLimit
	}
	low, high := 1.0, 1.1
	for range 30 {
		if !keeps(high) {
			break
		}
		low, high = high, high*1.1
	}
	for range 20 {
		if mid := 0.5 * (low + high); keeps(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// boundaries works out the greatest torques.
func (m *Machine) boundaries(a *MotorMap) {
	k := &m.Drive.Controller
	phase := k.PhaseCurrentLimit
	full := m.Chain.OpenCircuit()
	if n := len(a.Running); n > 0 {
		full = a.Running[n-1].Supply.ControllerVoltage
	}
	a.Weakens = m.Chain.Weakens()
	plain := m.Chain.Unweakened()
	for _, w := range a.Speeds {
		if phase.Set {
			a.PhaseCurrent = append(a.PhaseCurrent, m.greatest(a, w, func(p electric.MapPoint) bool {
				return phaseAs(k.PhaseCurrentConvention, p.State) <= phase.Value
			}))
		}
		if k.BatteryCurrentLimit.Set {
			a.BatteryCurrent = append(a.BatteryCurrent, m.greatest(a, w, func(p electric.MapPoint) bool {
				return p.Reason == electric.Solved && p.Supply.BatteryCurrent <= k.BatteryCurrentLimit.Value
			}))
		}
		suffices := func(p electric.MapPoint) bool { return p.Reason == electric.Solved && p.Voltage == electric.Reached }
		a.Voltage = append(a.Voltage, greatest(&plain, a, w, suffices))
		if a.Weakens {
			a.Weakened = append(a.Weakened, m.greatest(a, w, suffices))
		}
	}
	if a.Weakens {
		return
	}
	magnet := m.Chain.MagnetTemperature(a.Winding, a.Coolant)
	if _, ok := m.Chain.SurfaceMachine(a.Winding, magnet); !ok || !phase.Set || k.Commutation == "six-step" {
		return // without a limit of current weakening has no end
	}
	most := phase.Value * peakOf(k.PhaseCurrentConvention)
	for _, p := range m.Chain.Boundary(a.Speeds, full, most, a.Winding, magnet) {
		a.Weakened = append(a.Weakened, p.Torque)
	}
}

// phaseAs is the phase current in the convention of its limit, A.
func phaseAs(convention string, s electric.MotorState) float64 {
	switch convention {
	case "rms":
		return s.PhaseCurrentRMS
	case "dc":
		return s.Carried()
	}
	return s.PhaseCurrentPeak
}

// peakOf turns an ampere of a convention into that of a sine's peak.
func peakOf(convention string) float64 {
	switch convention {
	case "rms":
		return math.Sqrt2
	case "dc":
		return 2 / math.Sqrt(3)
	}
	return 1
}

// greatest is the largest torque at a speed that keeps a limit which currents break as torque grows, N·m;
// 0 where even no torque keeps it.
func (m *Machine) greatest(a *MotorMap, speed float64, keeps func(electric.MapPoint) bool) float64 {
	return greatest(&m.Chain, a, speed, keeps)
}

func greatest(c *electric.Chain, a *MotorMap, speed float64, keeps func(electric.MapPoint) bool) float64 {
	at := func(torque float64) bool {
		return keeps(c.EfficiencyMap([]float64{torque}, []float64{speed}, a.Winding, a.Coolant)[0][0])
	}
	if !at(0) {
		return 0
	}
	low, high := 0.0, a.Torques[len(a.Torques)-1]
	for range 40 {
		if !at(high) {
			break
		}
		low, high = high, 2*high
	}
	for range 50 {
		if mid := 0.5 * (low + high); at(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// Crossing is where a limit is met along the running line.
type Crossing struct {
	Limit  quantity.Limit // at the first solved state beyond it
	Before State          // the last state that keeps it
	After  State          // the first that does not
	Share  float64        // of the way from Before to After where the margin is used up
}

// Crossings lists the limits that the running line breaks before its end, the first one first. A limit
// that is broken at every power is met at the line's first state, with a share of 0.
func (m *Machine) Crossings(running []State) []Crossing {
	const rounding = 1e-9 // full throttle stands at its bound, not beyond it
	var out []Crossing
	seen := map[string]float64{} // margin at the state before
	done := map[string]bool{}
	for i, s := range running {
		for _, l := range m.Limits(nil, s) {
			margin := l.Margin()
			if l.NotJudged != "" || done[l.Name] {
				continue
			}
			if margin < -rounding {
				done[l.Name] = true
				c := Crossing{Limit: l, Before: running[max(0, i-1)], After: s}
				if last, ok := seen[l.Name]; ok && last > 0 {
					c.Share = last / (last - margin)
				}
				out = append(out, c)
			}
			seen[l.Name] = margin
		}
	}
	return out
}

// Conventions is the motor constant in every convention of the trade; see electric.Conventions.
func Conventions(constant float64) []electric.Convention { return electric.Conventions(constant) }
