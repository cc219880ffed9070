// Package bench turns what was measured into plateaus: figures with their uncertainty, what
// they were read by and how long they were held. It knows no drive: what a measurement means
// for a design is reckoned elsewhere.
package bench

import (
	"math"
	"strings"

	"gonum.org/v1/gonum/mat"

	"jetwright/notice"
	"jetwright/quantity"
)

// Sheet is one reading as it is typed: a line off a scale and a screen. Every figure may be
// left out but for one that says how hard the drive ran and one that says what it did.
type Sheet struct {
	At                     string            `doc:"when it was read, in any words"`
	Thrust                 quantity.Optional `unit:"N" doc:"pull on the scale, tare taken off" range:"0 .. 50000" usual:"2 .. 5000"`
	ThrustBy               string            `doc:"what the pull was read by" choices:"hanging scale|load cell|spring scale" assume:"hanging scale" source:"own"`
	Power                  quantity.Optional `unit:"W" doc:"power" range:"1 .. 200000" usual:"50 .. 30000"`
	Place                  string            `doc:"where the power was read or computed: battery, controller output or motor shaft" choices:"battery|controller|shaft"`
	PowerBy                string            `doc:"what the power was read by" choices:"controller|wattmeter|shunt" assume:"controller" source:"own"`
	RotorSpeed             quantity.Optional `unit:"rpm" doc:"rotor speed of the impeller" range:"1 .. 100000" usual:"300 .. 15000"`
	PhaseCurrent           quantity.Optional `unit:"A" doc:"phase current" range:"0 .. 5000" usual:"1 .. 800"`
	PhaseCurrentConvention string            `doc:"what the phase current is: rms, peak of the sine, or the current of an equivalent direct-current motor" choices:"rms|peak|dc" assume:"rms" source:"own"`
	BatteryVoltage         quantity.Optional `unit:"V" doc:"battery voltage under load" range:"1 .. 1500" usual:"10 .. 120"`
	BatteryCurrent         quantity.Optional `unit:"A" doc:"battery current" range:"0 .. 5000" usual:"1 .. 600"`
	WindingTemperature     quantity.Optional `unit:"°C" doc:"motor winding temperature" range:"-40 .. 400" usual:"-5 .. 200"`
	WindingBy              string            `doc:"what the winding temperature was read by" choices:"thermistor|thermocouple|infrared|infrared on matt tape" assume:"thermistor" source:"own"`
	BridgeTemperature      quantity.Optional `unit:"°C" doc:"controller transistor temperature" range:"-40 .. 300" usual:"-5 .. 130"`
	BridgeBy               string            `doc:"what the bridge temperature was read by" choices:"thermistor|thermocouple|infrared|infrared on matt tape" assume:"thermistor" source:"own"`
	CaseTemperature        quantity.Optional `unit:"°C" doc:"motor case temperature" range:"-40 .. 300" usual:"-5 .. 150"`
	CaseBy                 string            `doc:"what the case temperature was read by" choices:"thermistor|thermocouple|infrared|infrared on matt tape" assume:"infrared" source:"own"`
	WaterTemperature       quantity.Optional `unit:"°C" doc:"water temperature" range:"-2 .. 45" usual:"0 .. 35"`
	Held                   quantity.Optional `unit:"s" doc:"how long the power was held before the figures were read" range:"0 .. 100000" usual:"1 .. 7200"`
	Direction              string            `doc:"whether the step was reached going up or down" choices:"up|down"`
	Note                   string            `doc:"anything worth remembering"`
}

// Instrument is what is assumed of an instrument when no tolerance is typed beside a figure.
type Instrument struct {
	Name        string
	Relative    float64 // half-width of its limits as a share of the reading
	Absolute    float64 // half-width of its limits, SI
	OfFullScale float64 // half-width of its limits as a share of full scale
	Repeat      float64 // standard deviation of one reading at the same true value, share of it
	RepeatAbs   float64 // the same, SI
	Note        string
	Source      string
}

// Instruments is the one table of default limits. They are assumptions and are listed as such.
var Instruments = []Instrument{
	{Name: "controller", Relative: 0.05, Repeat: 0.01, Note: "current or power off a controller's screen", Source: "own"},
	{Name: "controller voltage", Relative: 0.01, Repeat: 0.003, Note: "voltage off a controller's screen", Source: "own"},
	{Name: "controller speed", Relative: 0.005, Repeat: 0.003, Note: "rotor speed off a controller's screen", Source: "own"},
	{Name: "wattmeter", Relative: 0.02, Repeat: 0.005, Note: "in-line wattmeter", Source: "own"},
	{Name: "shunt", Relative: 0.01, Repeat: 0.005, Note: "calibrated shunt and multimeter", Source: "own"},
	{Name: "hanging scale", OfFullScale: 0.005, Repeat: 0.01, Note: "0.5 % of full scale unless its class is typed as a tolerance", Source: "oiml-r76"},
	{Name: "load cell", OfFullScale: 0.002, Repeat: 0.01, Note: "load cell with a display", Source: "own"},
	{Name: "spring scale", OfFullScale: 0.02, Repeat: 0.02, Note: "spring scale", Source: "own"},
	{Name: "thermistor", Absolute: 2, RepeatAbs: 0.5, Source: "own"},
	{Name: "thermocouple", Absolute: 2, RepeatAbs: 0.5, Source: "own"},
	{Name: "infrared on matt tape", Absolute: 3, RepeatAbs: 0.5, Note: "2 K and the tape's own emissivity", Source: "own"},
	{Name: "infrared", Absolute: 2, RepeatAbs: 1, Note: "2 K, and on bare metal mostly what is reflected: such a reading clears no limit", Source: "own"},
}

// InstrumentNamed returns the row of the table.
func InstrumentNamed(name string) (Instrument, bool) {
	for _, i := range Instruments {
		if i.Name == name {
			return i, true
		}
	}
	return Instrument{}, false
}

// Rolling friction of the carriage: catalogue coefficient on the load it carries, and how
// much more an installed carriage has.
const (
	FrictionLow, FrictionHigh           = 0.001, 0.02
	InstalledFactorLow, InstalledFactor = 2.0, 5.0
)

// FrictionForce returns the half-width in N of what carriage friction adds to or takes from a pull.
//
//	F = µ·k·m·g
//
//	µ  catalogue coefficient at the middle of 0.001 .. 0.02, -
//	k  installed over catalogue friction at the middle of 2 .. 5, -
//	m  mass on the rollers, kg
//	g  gravity, m/s²
//
// Holds for roller and ball carriages; measure it by pulling the carriage with a spring scale.
//
// Source: own. Tests: TestFrictionForceExact.
func FrictionForce(load, gravity float64) float64 {
	return 0.5 * (FrictionLow + FrictionHigh) * 0.5 * (InstalledFactorLow + InstalledFactor) * load * gravity
}

// Channel names what a figure is of.
type Channel string

// Channels.
const (
	Thrust             Channel = "thrust"
	Power              Channel = "power"
	RotorSpeed         Channel = "rotor speed"
	PhaseCurrent       Channel = "phase current"
	BatteryVoltage     Channel = "battery voltage"
	BatteryCurrent     Channel = "battery current"
	WindingTemperature Channel = "winding temperature"
	BridgeTemperature  Channel = "bridge temperature"
	CaseTemperature    Channel = "case temperature"
	WaterTemperature   Channel = "water temperature"
)

// Figure is one measured number.
type Figure struct {
	Channel       Channel
	Value         float64 // SI
	Limits        float64 // half-width of the instrument's limits, SI; shared by all figures of one instrument and channel
	Repeat        float64 // standard uncertainty of this figure alone, SI
	Standard      bool    // Limits is a typed standard uncertainty, not a half-width
	Instrument    string
	Assumed       bool           // Limits come from the table, not from what was typed
	Place         quantity.Place // where it was typed
	Text          string         // as typed
	Cleared       bool           // a reading that may clear a limit
	Unsettled     bool           // still moving when the plateau ended
	FrictionTaken bool           // the carriage's friction is taken out
	Uncalibrated  bool           // its instrument's calibration does not reach it and is not applied
	Budget        []Component    // what its standard uncertainty is made of; nil for a typed reading
}

// Component is one contribution to a standard uncertainty.
type Component struct {
	Name      string  // such as "scatter", "resolution", "tare", "instrument"
	U         float64 // standard uncertainty, SI
	Freedom   float64 // degrees of freedom; +Inf where it is not from a sample
	Shared    string  // what moves it together with other figures; empty if it is this figure's alone
	Against   bool    // it moves this figure the other way
	Rectangle bool    // anywhere within limits of √3·U, as a tolerance or a step is
	Note      string
}

// StandardUncertainty returns the standard uncertainty of the figure, SI: its instrument's
// limits as a rectangle, and its own scatter.
//
//	u = √(a²/3 + s²)
//
//	a  half-width of the limits, SI
//	s  standard deviation of one reading, SI
//
// A figure from a log has a budget, and its uncertainty is that of all its components.
//
// Holds for independent contributions.
//
// Source: jcgm-100, 4.3.7. Tests: TestFigureUncertaintyExact.
func (f Figure) StandardUncertainty() float64 {
	if f.Budget != nil {
		u, _ := Combined(f.Budget)
		return u
	}
	if f.Standard {
		return math.Hypot(f.Limits, f.Repeat)
	}
	return math.Sqrt(f.Limits*f.Limits/3 + f.Repeat*f.Repeat)
}

// Plateau is a stretch in which nothing changed, or a single reading, which is a plateau of
// one: figures by channel.
type Plateau struct {
	Name       string
	Run        string
	Place      quantity.Place
	PowerPlace string // battery, controller, shaft; empty if it does not say
	Figures    []Figure
	Held       quantity.Optional // s
	Direction  string
	Convention string  // of the phase current
	Span       Span    // of the run's time; empty for a typed reading
	Unsettled  string  // why it had not settled; empty if it had
	Moving     Moving  // how the pull changed for its rotor speed while it was held
	Stream     Stream  // water that ran past the stand
	Rise       float64 // of the water over its first level, m; 0 where no level is typed
	Doubts     []Doubt
	Notices    notice.List
}

// Moving is how much the pull for a rotor speed changed from the first seconds of a plateau to its end:
// water that a jet sets moving in a tub or pool takes from the pull as it comes round.
type Moving struct {
	Known  bool
	Change float64 // share of the pull
	U      float64 // standard uncertainty of it
}

// Figure returns the figure of a channel.
func (p Plateau) Figure(c Channel) (Figure, bool) {
	for _, f := range p.Figures {
		if f.Channel == c {
			return f, true
		}
	}
	return Figure{}, false
}

// Coefficients are what stays the same along a ladder at rest until something moves it:
// cavitation, drawn air, sag or a sensor that lies.
type Coefficients struct {
	Thrust           quantity.Optional `unit:"1" doc:"T/(ρn²D⁴)"`
	Power            quantity.Optional `unit:"1" doc:"P/(ρn³D⁵), power at the place it was read"`
	Current          quantity.Optional `unit:"A·s²" doc:"rms phase current over n²"`
	StaticEfficiency quantity.Optional `unit:"1" doc:"T^1.5/(2√(ρA₆)P), power at the place it was read"`
	// relative standard uncertainties without the instruments' limits
	EfficiencySpread float64 `unit:"1" doc:"scatter of the static efficiency"`
	ThrustSpread     float64 `unit:"1" doc:"scatter of the thrust coefficient"`
	PowerSpread      float64 `unit:"1" doc:"scatter of the power coefficient"`
	CurrentSpread    float64 `unit:"1" doc:"scatter of the current coefficient"`
}

// Similarity returns the similarity coefficients of a plateau. Diameter in m, nozzle outlet
// area in m² and density in kg/m³ come in as plain numbers.
//
//	K_T = T/(ρn²D⁴),  K_P = P/(ρn³D⁵),  K_I = I/n²,  η_s = T^1.5/(2√(ρA₆)P)
//
//	n  rotor speed, rev/s
//
// Their scatter is that of the figures, propagated to first order. Holds by definition; a coefficient whose
// figures are missing is not set.
//
// Source: own, jcgm-100. Tests: TestSimilarityExact.
func Similarity(p Plateau, diameter, nozzleArea, density float64) Coefficients {
	var c Coefficients
	t, haveT := p.Figure(Thrust)
	w, haveP := p.Figure(Power)
	n, haveN := p.Figure(RotorSpeed)
	i, haveI := p.Figure(PhaseCurrent)
	x := []float64{t.Value, w.Value, n.Value / (2 * math.Pi), i.Value * conventionToRMS(p.Convention)}
	own := mat.NewDiagDense(4, nil)
	for k, f := range []Figure{t, w, n, i} {
		if f.Value != 0 {
			u := f.ownUncertainty() * x[k] / f.Value
			own.SetDiag(k, u*u)
		}
	}
	derived := func(f func(x []float64) float64) (quantity.Optional, float64) {
		y, u, err := Propagate(f, x, own)
		if err != nil || y == 0 {
			return quantity.Some(y), 0
		}
		return quantity.Some(y), u / math.Abs(y)
	}
	if haveT && haveP && w.Value > 0 && t.Value >= 0 {
		c.StaticEfficiency, c.EfficiencySpread = derived(func(x []float64) float64 {
			return math.Pow(x[0], 1.5) / (2 * math.Sqrt(density*nozzleArea) * x[1])
		})
	}
	if !haveN || n.Value <= 0 {
		return c
	}
	if haveT {
		c.Thrust, c.ThrustSpread = derived(func(x []float64) float64 { return x[0] / (density * x[2] * x[2] * math.Pow(diameter, 4)) })
	}
	if haveP {
		c.Power, c.PowerSpread = derived(func(x []float64) float64 { return x[1] / (density * x[2] * x[2] * x[2] * math.Pow(diameter, 5)) })
	}
	if haveI {
		c.Current, c.CurrentSpread = derived(func(x []float64) float64 { return x[3] / (x[2] * x[2]) })
	}
	return c
}

// ownUncertainty returns the standard uncertainty of a figure but for its instrument's limits, SI.
func (f Figure) ownUncertainty() float64 {
	if f.Budget == nil {
		return f.Repeat
	}
	var own []Component
	for _, c := range f.Budget {
		if !strings.HasPrefix(c.Name, instrumentWord) {
			own = append(own, c)
		}
	}
	u, _ := Combined(own)
	return u
}

// ToRMS returns by what a phase current of a convention is multiplied to be in rms amperes of a sine.
func ToRMS(convention string) float64 { return conventionToRMS(convention) }

// conventionToRMS turns a phase current into rms amperes of a sine.
func conventionToRMS(convention string) float64 {
	switch convention {
	case "peak":
		return 1 / math.Sqrt2
	case "dc":
		return math.Sqrt(2.0 / 3.0)
	}
	return 1
}

// PhaseCurrentRMS returns the figure's phase current in rms amperes, whatever its convention.
func (p Plateau) PhaseCurrentRMS() (Figure, bool) {
	f, ok := p.Figure(PhaseCurrent)
	k := conventionToRMS(p.Convention)
	f.Value *= k
	f.Limits *= k
	f.Repeat *= k
	f.Budget = append([]Component(nil), f.Budget...)
	for i := range f.Budget {
		f.Budget[i].U *= k
	}
	if len(f.Budget) == 0 {
		f.Budget = nil
	}
	return f, ok
}
