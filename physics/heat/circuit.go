package heat

import (
	"fmt"
	"math"

	"jetwright/quantity"
)

// Tap is where the coolant is taken from the water path: its pressure is that of the water there, at rest
// before it flows.
type Tap struct {
	Name       string            `key:"-"`
	PerKinetic float64           `key:"pressure_per_kinetic" unit:"1" doc:"pressure at the tap over that of the jet's speed, ρv²/2: a little above 1 for a tap that stands against the flow ahead of the nozzle, less for a hole in the wall" range:"-2 .. 3" usual:"0.2 .. 1.3" assume:"0.9 .. 1.05" source:"own"`
	Pressure   quantity.Optional `unit:"kPa" doc:"pressure at the tap over that of the air where the jet does not make it, such as mains water on the stand; none of it is taken from the jet" range:"-100 .. 1000" usual:"0 .. 300"`
	Station    string            `doc:"where the tap sits, whose pressure then follows from the jet; instead of pressure_per_kinetic" choices:"nozzle inlet|nozzle outlet"`
	Takes      string            `doc:"what a tap at a station takes: stagnation pressure, standing against the flow, or static pressure, a flush hole in the wall" choices:"stagnation|static" assume:"stagnation" source:"own"`
}

// Outlet is where the coolant leaves, to the air or under water.
type Outlet struct {
	Name   string  `key:"-"`
	Bore   float64 `unit:"mm" doc:"bore of the outlet" range:"0.5 .. 60" usual:"3 .. 20" assume:"6 .. 10" source:"own"`
	Height float64 `unit:"mm" doc:"height of the outlet over the water's surface; below 0 it is under water" range:"-3000 .. 3000" usual:"-300 .. 600" assume:"20 .. 120" source:"own"`
}

// Hose is a round way from part to part.
type Hose struct {
	Name      string            `key:"-"`
	Length    float64           `unit:"mm" doc:"length of the hose" range:"1 .. 50000" usual:"100 .. 3000" assume:"500 .. 1200" source:"own"`
	Bore      float64           `unit:"mm" doc:"bore of the hose" range:"0.5 .. 60" usual:"3 .. 20" assume:"6 .. 8" source:"own"`
	Roughness float64           `unit:"µm" doc:"roughness of its wall" range:"0 .. 2000" usual:"0.5 .. 50" assume:"1.5 .. 10" source:"memory"`
	Loss      float64           `unit:"1" doc:"loss of bends, barbs and entries on it, on the velocity head in its bore" range:"0 .. 1000" usual:"0 .. 30" assume:"1 .. 4" source:"memory"`
	HighPoint float64           `unit:"mm" doc:"height of its highest point over the water's surface" range:"-3000 .. 3000" usual:"-300 .. 1000" assume:"50 .. 200" source:"own"`
	Rise      quantity.Optional `unit:"mm" doc:"all its climbs together, where it goes up and down; each fall between may hold air" range:"0 .. 30000" usual:"0 .. 2000"`
	Open      quantity.Optional `unit:"1" doc:"share of the bore's area that weed and sand have left open at one place" range:"0.001 .. 1"`
}

// Fitting is a local loss.
type Fitting struct {
	Name string            `key:"-"`
	Bore float64           `unit:"mm" doc:"bore that the loss goes by" range:"0.5 .. 60" usual:"3 .. 20" assume:"6 .. 8" source:"own"`
	Loss float64           `unit:"1" doc:"loss on the velocity head in that bore" range:"0.001 .. 10000" usual:"0.05 .. 50" assume:"0.5 .. 2" source:"memory"`
	Open quantity.Optional `unit:"1" doc:"share of the bore's area that weed and sand have left open" range:"0.001 .. 1"`
}

// Channel is a way for heat into the coolant: a jacket, a plate, a ring gap, a serpentine.
type Channel struct {
	Name      string            `key:"-"`
	Shape     string            `doc:"cross-section of a passage: round by width, rectangular by width and depth, or a ring gap of the diameter width and the gap depth" choices:"round|rectangular|ring" assume:"rectangular" source:"own"`
	Width     float64           `unit:"mm" doc:"bore of a round passage, width of a rectangular one, mean diameter of a ring gap" range:"0.2 .. 1000" usual:"2 .. 150" assume:"8 .. 12" source:"own"`
	Depth     float64           `unit:"mm" doc:"depth of a rectangular passage, or of a ring gap" range:"0.1 .. 200" usual:"0.5 .. 20" assume:"3 .. 5" source:"own"`
	Length    float64           `unit:"mm" doc:"length of one passage, all its turns together" range:"1 .. 50000" usual:"50 .. 5000" assume:"600 .. 1200" source:"own"`
	Passages  int               `unit:"1" doc:"passages side by side" range:"1 .. 1000" usual:"1 .. 50" assume:"1" source:"own"`
	Turns     float64           `unit:"1" doc:"turns of a serpentine" range:"0 .. 1000" usual:"0 .. 40" assume:"4" source:"own"`
	TurnLoss  float64           `unit:"1" doc:"loss of a turn on the velocity head in the passage" range:"0 .. 20" usual:"0.2 .. 4" assume:"1.2 .. 2.2" source:"memory"`
	Loss      float64           `unit:"1" doc:"loss of entry and exit on the velocity head in the passage" range:"0 .. 1000" usual:"0.5 .. 20" assume:"1.5 .. 3" source:"memory"`
	Roughness float64           `unit:"µm" doc:"roughness of its wall" range:"0 .. 2000" usual:"0.5 .. 50" assume:"2 .. 15" source:"memory"`
	Heated    float64           `unit:"1" doc:"share of the wall that gives heat" range:"0.01 .. 1" usual:"0.2 .. 1" assume:"0.4 .. 0.8" source:"own"`
	HighPoint float64           `unit:"mm" doc:"height of its highest point over the water's surface" range:"-3000 .. 3000" usual:"-300 .. 1000" assume:"0 .. 120" source:"own"`
	Open      quantity.Optional `unit:"1" doc:"share of a passage's area that weed and sand have left open at one place" range:"0.001 .. 1"`
}

// Pump is a small pump of a closed loop, or one that helps.
type Pump struct {
	Name    string  `key:"-"`
	Shutoff float64 `unit:"kPa" doc:"pressure of the pump without flow" range:"0.1 .. 2000" usual:"5 .. 200" assume:"20 .. 40" source:"own"`
	MaxFlow float64 `unit:"L/min" doc:"flow of the pump without pressure" range:"0.05 .. 500" usual:"1 .. 60" assume:"8 .. 16" source:"own"`
	Power   float64 `unit:"W" doc:"electric power that the pump takes from the battery while the drive is switched on" range:"0 .. 5000" usual:"1 .. 300" assume:"8 .. 25" source:"own"`
}

// Element is a part of a line: Hose, Fitting, Channel or Pump.
type Element interface {
	label() string
	check(f *faults, path string)
	// drop is the loss of pressure at a flow and its derivative; a pump's is negative.
	drop(flow float64, w Fluid) (pressure, slope float64)
	// speed and Reynolds number in the element.
	inside(flow float64, w Fluid) (speed, reynolds float64)
	// high is the height of its highest point and all its climbs; ok is false where it has none.
	high() (point, rise float64, ok bool)
}

// Line is elements in a row from one place to another: a tap, an outlet, or a junction, which is any other name.
type Line struct {
	Name     string
	From, To string
	Elements []Element
}

// Circuit is the way of the coolant: any graph of lines. Without tap and outlet it is a closed loop.
type Circuit struct {
	Taps    []Tap
	Outlets []Outlet
	Lines   []Line
}

// Operating is what drives a circuit.
type Operating struct {
	Kinetic     float64 // pressure of the jet's speed, ρv²/2, Pa
	Gravity     float64 // m/s²
	AirPressure float64 // Pa
	Vapour      float64 // vapour pressure, Pa
}

// ElementState is an element at an operating point.
type ElementState struct {
	Name     string  `doc:"name of the element"`
	Velocity float64 `unit:"m/s" doc:"mean velocity in it"`
	Reynolds float64 `unit:"1" doc:"Reynolds number in it"`
	Drop     float64 `unit:"kPa" doc:"pressure lost in it; a pump's is negative"`
}

// LineState is a line at an operating point.
type LineState struct {
	Name     string         `doc:"name of the line"`
	Flow     float64        `unit:"L/min" doc:"flow from its beginning to its end"`
	Elements []ElementState `doc:"its elements"`
	Shut     string         `doc:"why nothing flows, if so"`
	Lowest   float64        `unit:"kPa" doc:"lowest absolute pressure at a high point of it"`
	Boils    bool           `doc:"that is below the vapour's pressure: the stream breaks"`
}

// CircuitState is a circuit at an operating point.
type CircuitState struct {
	Flow    float64     `unit:"L/min" doc:"flow out of all taps together, or of the pumps in a closed loop"`
	Driving float64     `unit:"kPa" doc:"pressure that drives the flow: the highest tap's, and all pumps' without flow"`
	Filling float64     `unit:"kPa" doc:"pressure that lifts the water over the highest point for the first time"`
	AirLock float64     `unit:"kPa" doc:"pressure that drives the water through if every fall behind a climb holds air"`
	Dynamic float64     `unit:"m" doc:"height that the driving pressure lifts water to"`
	Fills   bool        `doc:"the driving pressure fills the circuit"`
	Clears  bool        `doc:"it drives out air from every fall as well"`
	Lines   []LineState `key:"-"`
}

func area(bore float64) float64 { return math.Pi / 4 * bore * bore }

// Clog returns the loss of a place that is partly closed, on the velocity head in the free bore,
// dimensionless.
//
//	K = [1/(C_c·s) − 1]²,  C_c = 0.62 + 0.38·s³
//
//	s  share of the area that is open, -
//
// Holds for a sharp narrow place and a stream that spreads behind it (Borda and Carnot); 0 for s = 1.
//
// Source: cengel-cimbala, memory. Tests: TestClogExact.
func Clog(open float64) float64 {
	x := 1/((0.62+0.38*open*open*open)*open) - 1
	return x * x
}

// local is a loss coefficient in a bore: K·ρ/2·v·|v|, smoothed where the Reynolds number is below 10.
func local(k, flow, a, bore float64, w Fluid) (pressure, slope float64) {
	still := 10 * w.Viscosity / (w.Density * bore) * a // the flow of Reynolds number 10
	r := math.Sqrt(flow*flow + still*still)
	c := 0.5 * w.Density * k / (a * a)
	return c * flow * r, c * (r + flow*flow/r)
}

// pipe is the friction of a passage: its flow, area, hydraulic diameter; laminar is f·Re.
func pipe(flow, a, diameter, length, roughness, laminar float64, w Fluid) (pressure, slope float64) {
	q := math.Abs(flow)
	re := w.Density * q / a * diameter / w.Viscosity
	c := 0.5 * w.Viscosity * length / (diameter * diameter) / a // Δp = c·f·Re·Q
	if re <= laminarEnd {
		return c * laminar * flow, c * laminar
	}
	f, df := friction(re, roughness/diameter, laminar)
	return c * f * re * flow, c * re * (2*f + re*df)
}

func (h *Hose) label() string { return h.Name }

func (h *Hose) drop(flow float64, w Fluid) (float64, float64) {
	p, s := pipe(flow, area(h.Bore), h.Bore, h.Length, h.Roughness, 64, w)
	lp, ls := local(h.Loss+Clog(h.Open.Or(1)), flow, area(h.Bore), h.Bore, w)
	return p + lp, s + ls
}

func (h *Hose) inside(flow float64, w Fluid) (float64, float64) {
	v := flow / area(h.Bore)
	return v, w.Density * math.Abs(v) * h.Bore / w.Viscosity
}

func (h *Hose) high() (float64, float64, bool) { return h.HighPoint, h.Rise.Value, true }

func (h *Hose) check(f *faults, path string) {
	f.size(path, "bore", h.Bore, narrowest, widest, "m")
	f.size(path, "length", h.Length, shortest, longest, "m")
	f.notBelow(path, "roughness", h.Roughness)
	f.notBelow(path, "loss", h.Loss)
	f.real(path, "high point", h.HighPoint)
	if h.Rise.Set {
		f.notBelow(path, "rise", h.Rise.Value)
	}
	f.open(path, h.Open)
}

func (x *Fitting) label() string { return x.Name }

func (x *Fitting) drop(flow float64, w Fluid) (float64, float64) {
	return local(x.Loss+Clog(x.Open.Or(1)), flow, area(x.Bore), x.Bore, w)
}

func (x *Fitting) inside(flow float64, w Fluid) (float64, float64) {
	v := flow / area(x.Bore)
	return v, w.Density * math.Abs(v) * x.Bore / w.Viscosity
}

func (x *Fitting) high() (float64, float64, bool) { return 0, 0, false }

func (x *Fitting) check(f *faults, path string) {
	f.size(path, "bore", x.Bore, narrowest, widest, "m")
	f.size(path, "loss", x.Loss, 1e-6, largestSize, "")
	f.open(path, x.Open)
}

func (p *Pump) label() string { return p.Name }

func (p *Pump) drop(flow float64, _ Fluid) (float64, float64) {
	u := flow / p.MaxFlow
	if u < 0 { // turned backwards it holds what it can
		return p.Shutoff * (u - 1), p.Shutoff / p.MaxFlow
	}
	return -p.Shutoff * (1 - u*u), p.Shutoff * 2 * math.Max(u, 1e-3) / p.MaxFlow
}

func (p *Pump) inside(float64, Fluid) (float64, float64) { return 0, 0 }

func (p *Pump) high() (float64, float64, bool) { return 0, 0, false }

func (p *Pump) check(f *faults, path string) {
	f.size(path, "pressure without flow", p.Shutoff, 1, 1e9, "Pa")
	f.size(path, "largest flow", p.MaxFlow, 1e-9, 10, "m³/s")
}

func (c *Channel) label() string { return c.Name }

// Section returns area and hydraulic diameter of one passage in m² and m.
//
//	D_h = 4·A/U
//
//	A  area, m²; U wetted perimeter, m
//
// Holds by definition; a ring gap is taken as two plates.
//
// Source: incropera-2007. Tests: TestChannelExact.
func (c *Channel) Section() (a, diameter float64) {
	switch c.Shape {
	case "round":
		return area(c.Width), c.Width
	case "ring":
		return math.Pi * c.Width * c.Depth, 2 * c.Depth
	}
	return c.Width * c.Depth, 2 * c.Width * c.Depth / (c.Width + c.Depth)
}

// ratio is the short side over the long one.
func (c *Channel) ratio() float64 {
	if c.Shape == "ring" {
		return 0
	}
	return math.Min(c.Width, c.Depth) / math.Max(c.Width, c.Depth)
}

func (c *Channel) drop(flow float64, w Fluid) (float64, float64) {
	a, d := c.Section()
	laminar := 64.0
	if c.Shape != "round" {
		laminar = RectangularFriction(c.ratio())
	}
	n := float64(max(1, c.Passages))
	p, s := pipe(flow/n, a, d, c.Length, c.Roughness, laminar, w)
	lp, ls := local(c.Loss+c.Turns*c.TurnLoss+Clog(c.Open.Or(1)), flow/n, a, d, w)
	return p + lp, (s + ls) / n
}

func (c *Channel) inside(flow float64, w Fluid) (float64, float64) {
	a, d := c.Section()
	v := flow / float64(max(1, c.Passages)) / a
	return v, w.Density * math.Abs(v) * d / w.Viscosity
}

func (c *Channel) high() (float64, float64, bool) { return c.HighPoint, 0, true }

func (c *Channel) check(f *faults, path string) {
	f.size(path, "width", c.Width, narrowest, 10*widest, "m")
	if c.Shape != "round" {
		f.size(path, "depth", c.Depth, narrowest, widest, "m")
	}
	f.size(path, "length", c.Length, shortest, longest, "m")
	f.notBelow(path, "turns", c.Turns)
	f.notBelow(path, "loss of a turn", c.TurnLoss)
	f.notBelow(path, "loss", c.Loss)
	f.notBelow(path, "roughness", c.Roughness)
	f.real(path, "high point", c.HighPoint)
	if !(c.Heated > 0 && c.Heated <= 1) {
		f.add(path, fmt.Sprintf("%s gives heat on a share of %g of its wall", path, c.Heated), "above 0, at most 1", "")
	}
	if c.Passages < 1 {
		f.add(path, fmt.Sprintf("%s has %d passages", path, c.Passages), "at least one", "")
	}
	switch c.Shape {
	case "round", "rectangular", "ring":
	default:
		f.add(path, fmt.Sprintf("%s has the shape %q", path, c.Shape), "round, rectangular or ring", "")
	}
	f.open(path, c.Open)
}

// Sizes in m beyond which nothing is a hose, and largest numbers of anything else in SI.
const (
	narrowest, widest = 1e-5, 1.0
	shortest, longest = 1e-4, 1e4
	largestSize       = 1e6
)

func (f *faults) size(path, what string, x, low, high float64, unit string) {
	if !(x >= low && x <= high) {
		if unit != "" {
			unit = " " + unit
		}
		f.add(path, fmt.Sprintf("%s has a %s of %g%s", path, what, x, unit), fmt.Sprintf("above 0, from %g to %g", low, high), "")
	}
}

func (f *faults) notBelow(path, what string, x float64) {
	if !(x >= 0 && x <= largestSize) {
		f.add(path, fmt.Sprintf("%s has a %s of %g", path, what, x), "0 or above, at most 1e6", "")
	}
}

func (f *faults) real(path, what string, x float64) {
	if !(math.Abs(x) <= largestSize) {
		f.add(path, fmt.Sprintf("%s has a %s of %g", path, what, x), "a finite number, at most 1e6", "")
	}
}

func (f *faults) open(path string, x quantity.Optional) {
	if x.Set && !(x.Value > 0 && x.Value <= 1) {
		f.add(path, fmt.Sprintf("%s is open on a share of %g of its area", path, x.Value), "above 0, at most 1", "leave the line out if nothing gets through")
	}
}
