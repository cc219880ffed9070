package synth

import "math"

// The jet, its motor and its battery. The lengths are the scene's; the constants marked fitted
// were fitted to the scene's typed readings (its first ladder, five steps), all others are
// invented. None of them is looked up from, or shared with, the program under test.
const (
	density        = 999.0                      // kg/m³, fresh water at 15 °C
	rotorDiameter  = 0.094                      // m, the scene's impeller
	nozzleDiameter = 0.060                      // m, the scene's nozzle
	gravity        = 9.80665                    // m/s², turns newton into kgf
	sceneCoFlow    = 0.03                       // share of the thrust that the scene's pool takes by circulating, invented
	thrustConstant = 1.1307 / (1 - sceneCoFlow) // kT, fitted to pulls in that pool
	powerConstant  = 2.0662                     // kP, fitted
	torqueConstant = 0.0861                     // N·m per ampere rms; 135 rpm/V would give 0.0866 for sine waves; fitted
	noLoadTorque   = 0.2815                     // N·m, bearings and seal, fitted
	noLoadOnset    = 1.0                        // rev/s, below which the no-load torque fades to nothing, invented
	windingOhm     = 0.0045                     // ohm a phase, half of the scene's 9 milliohm line to line
	windingOhmAt   = 21.0                       // °C at which windingOhm holds
	copperPerK     = 0.0039                     // 1/K, rise of the resistance
	ironPerTurn    = 0.6759                     // W/(rev/s), fitted
	ironPerTurn2   = 0.00575                    // W/(rev/s)², fitted
	bridgeIdle     = 5.84                       // W, also what the controller draws at rest, fitted
	bridgePerA     = 0.1436                     // W/A, fitted
	bridgePerA2    = 0.0003015                  // W/A², fitted
	openVoltage    = 48.23                      // V, fitted
	batteryOhm     = 0.0342                     // ohm with its wiring, fitted
	windingPerW    = 0.0889                     // K/W above the water, fitted
	bridgePerW     = 0.2494                     // K/W above the water, fitted
	windingTime    = 45.0                       // s, invented
	bridgeTime     = 25.0                       // s, invented
)

// state is the whole drive at one instant, free of noise and of every instrument.
type state struct {
	battery, voltage, current    float64 // W, V, A
	speed                        float64 // rev/s
	thrust, shaft, torque        float64 // N, W, N·m at the rotor
	phase                        float64 // A rms
	copper, iron, bridge, noLoad float64 // W
	winding, bridgeTemperature   float64 // °C
	housing                      float64 // °C; the water's without one
}

// load works out the drive at a rotor speed n and a winding temperature.
//
// A rotor in a pool at rest throws water back at a speed that grows with n, and as much more of
// it: thrust goes with n², power with n³. The rest is bookkeeping from the rotor to the battery:
//
//	thrust  = kT·ρ·n²·D⁴
//	shaft   = kP·ρ·n³·D⁵
//	phase   = (shaft/(2πn) + no-load torque) / torque constant
//	battery = shaft + no-load + 3·phase²·R + iron(n) + bridge(phase)
//
// It also gives the slope of the battery power over n.
func load(n, winding float64) (s state, slope float64) {
	const d4 = rotorDiameter * rotorDiameter * rotorDiameter * rotorDiameter
	const perN2 = powerConstant * density * d4 * rotorDiameter / (2 * math.Pi)
	r := windingOhm * (1 + copperPerK*(winding-windingOhmAt))
	fade := math.Exp(-n / noLoadOnset)
	drag := noLoadTorque * (1 - fade)
	s.speed, s.winding = n, winding
	s.thrust = thrustConstant * density * n * n * d4
	s.torque = perN2 * n * n
	s.shaft = 2 * math.Pi * n * s.torque
	s.noLoad = 2 * math.Pi * n * drag
	s.phase = (s.torque + drag) / torqueConstant
	s.copper = 3 * s.phase * s.phase * r
	s.iron = ironPerTurn*n + ironPerTurn2*n*n
	s.bridge = bridgeIdle + bridgePerA*s.phase + bridgePerA2*s.phase*s.phase
	s.battery = s.shaft + s.noLoad + s.copper + s.iron + s.bridge
	torqueSlope := 2*perN2*n + noLoadTorque/noLoadOnset*fade
	slope = (bridgePerA+2*(bridgePerA2+3*r)*s.phase)*torqueSlope/torqueConstant +
		ironPerTurn + 2*ironPerTurn2*n + 2*math.Pi*(s.torque+drag+n*torqueSlope)
	return s, slope
}

// demand solves the drive for a battery power, starting from a guess of the rotor speed. The
// water in the rotor is taken to answer at once. A demand below what the controller draws at
// rest leaves the rotor standing.
func demand(power, winding, guess float64) state {
	if power <= bridgeIdle {
		s, _ := load(0, winding)
		return s.withBattery()
	}
	lo, hi := 0.0, 200.0 // rev/s
	n := math.Max(guess, 1)
	for range 200 {
		s, slope := load(n, winding)
		miss := s.battery - power
		if miss > 0 {
			hi = n
		} else {
			lo = n
		}
		next := n - miss/slope
		if next <= lo || next >= hi {
			next = (lo + hi) / 2
		}
		if math.Abs(next-n) < 1e-12*(1+n) {
			break
		}
		n = next
	}
	s, _ := load(n, winding)
	return s.withBattery()
}

// withBattery fills in voltage and current.
func (s state) withBattery() state {
	s.current = batteryCurrent(s.battery)
	s.voltage = openVoltage - batteryOhm*s.current
	return s
}

// batteryCurrent is the smaller root of power = (open voltage − R·I)·I.
func batteryCurrent(power float64) float64 {
	return (openVoltage - math.Sqrt(openVoltage*openVoltage-4*batteryOhm*power)) / (2 * batteryOhm)
}

// warm moves both temperatures on by dt: each goes towards the water's, the winding towards its
// housing's, plus what its losses hold up, by a first-order rise.
func (s state) warm(water, housing, dt float64) (winding, bridge float64) {
	winding = s.winding + (housing+windingPerW*(s.copper+s.iron)-s.winding)*(1-math.Exp(-dt/windingTime))
	bridge = s.bridgeTemperature + (water+bridgePerW*s.bridge-s.bridgeTemperature)*(1-math.Exp(-dt/bridgeTime))
	return winding, bridge
}

// staticEfficiency is the power that a loss-free jet at rest would need for the thrust, over
// the power spent: T = ρAv² and ½ρAv³ give T^1.5/(2√(ρA)).
func staticEfficiency(thrust, power float64) float64 {
	const area = math.Pi / 4 * nozzleDiameter * nozzleDiameter
	return thrust * math.Sqrt(thrust) / (2 * math.Sqrt(density*area)) / power
}
