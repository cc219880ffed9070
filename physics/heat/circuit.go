package heat

import (
	"fmt"
	"math"
	"slices"

	"jetwright/numeric"
	"jetwright/quantity"
)

// Tap is where the coolant is taken from the water path: its pressure is that of the water there, at rest
// before it flows.
type Tap struct {
	Name       string            `key:"-"`
	PerKinetic float64           `unit:"1" doc:"pressure at the tap over that of the jet's speed, ρv²/2: a little above 1 for a tap that stands against the flow ahead of the nozzle, less for a hole in the wall" range:"-2 .. 3" usual:"0.2 .. 1.3" assume:"0.9 .. 1.05" source:"own"`
	Pressure   quantity.Optional `unit:"kPa" doc:"measured pressure at the tap over that of the air; instead of pressure_per_kinetic" range:"-100 .. 1000" usual:"0 .. 300"`
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

// Transfer is the exchange of heat in a channel.
type Transfer struct {
	Reynolds    float64 `unit:"1" doc:"Reynolds number"`
	Nusselt     float64 `unit:"1" doc:"mean Nusselt number"`
	Coefficient float64 `unit:"W/(m²·K)" doc:"heat transfer coefficient"`
	Conductance float64 `unit:"W/K" doc:"between wall and coolant where it is, coefficient times surface"`
	Units       float64 `unit:"1" doc:"number of transfer units"`
	Carried     float64 `unit:"W/K" doc:"heat from a wall of one temperature by degree above the coolant's inlet"`
	Mixed       float64 `unit:"W/K" doc:"conductance from the wall to coolant as warm as it leaves that carries as much: what a network's conductance to its coolant node has to be"`
}

// Transfer returns the exchange of heat of a channel at a flow in m³/s.
//
//	Nu laminar: of the shape at walls of one temperature, with the entry's share (Hausen)
//	Nu turbulent: Gnielinski, times 1 + (D_h/L)^⅔ for the entry; between Re 2300 and 4000 as friction goes over
//	carried = C·(1 − e^(−NTU)),  NTU = Nu·k/D_h·A/C,  mixed = C·(e^NTU − 1)
//
//	C  mass flow times specific heat, W/K
//	A  surface that gives heat, m²
//
// Holds for walls of one temperature. Without flow nothing is carried, and the coefficient is that of
// laminar flow.
//
// Source: incropera-2007, shah-london-1978. Tests: TestChannelExact, TestChannelLaw.
func (c *Channel) Transfer(flow float64, w Fluid) Transfer {
	a, d := c.Section()
	_, re := c.inside(flow, w)
	pr := w.Prandtl()
	base := 3.66
	if c.Shape != "round" {
		base = ShahLondonWall(c.ratio())
	}
	nu := base + entry(d/c.Length*math.Min(re, turbulentStart)*pr)
	if re > laminarEnd {
		at := math.Max(re, turbulentStart)
		full := Gnielinski(at, pr, Colebrook(at, c.Roughness/d)) * (1 + math.Pow(d/c.Length, 2.0/3))
		u := math.Min(1, (re-laminarEnd)/(turbulentStart-laminarEnd))
		nu += u * u * (3 - 2*u) * (full - nu)
	}
	t := Transfer{Reynolds: re, Nusselt: nu, Coefficient: nu * w.Conductivity / d}
	t.Conductance = t.Coefficient * c.Heated * 4 * a / d * c.Length * float64(max(1, c.Passages))
	if rate := w.Density * math.Abs(flow) * w.SpecificHeat; rate > 0 {
		t.Units = t.Conductance / rate
		t.Carried = rate * Effectiveness(t.Units)
		t.Mixed = rate * math.Expm1(math.Min(t.Units, mixedEnd))
		return t
	}
	t.Mixed = t.Conductance
	return t
}

// mixedEnd is the number of transfer units beyond which coolant is as warm as the wall, to eight digits.
const mixedEnd = 20

// Curve is the conductance of a network from the channel's wall to its coolant node, by the coolant's flow
// in W/K: Transfer's Mixed. The steady network then carries what Transfer says to the last digit.
func (c *Channel) Curve(w Fluid) func(flow float64) float64 {
	return func(flow float64) float64 { return c.Transfer(flow/(w.Density*w.SpecificHeat), w).Mixed }
}

// plumbing is a circuit by numbers.
type plumbing struct {
	places  []string
	at      map[string]int
	fixed   []float64 // pressure of each place, NaN where it is to be found
	air     []bool    // an outlet to the air
	from    []int
	to      []int
	outlets map[int]*Outlet
}

// Solve returns the state of the circuit at an operating point. The error is a notice.List with everything
// that is wrong with the circuit, or an *Unsolved.
//
//	Σ Q = 0 at every junction,  P_from − P_to = Σ Δp(Q) along every line,  P = p + ρ·g·z
//
// Flows and pressures are found together by Newton's method, whose matrix is symmetric; since
// every loss rises with its flow there is one answer. An outlet to the air sucks none in: where water
// would come back through it, or the pressure does not lift the water over a high point, the line is shut and says so.
//
// Source: todini-pilati-1988. Tests: TestCircuitExact, TestCircuitLaw, TestPipePublished.
func (c *Circuit) Solve(o Operating, w Fluid) (CircuitState, error) {
	var s CircuitState
	p, err := c.number(o, w)
	if err != nil {
		return s, err
	}
	shut := make([]string, len(c.Lines))
	flow := make([]float64, len(c.Lines))
	pressure := make([]float64, len(p.places))
	perMetre := w.Density * o.Gravity
	c.drive(&s, p, o, perMetre)
	for i, l := range c.Lines { // what is not filled does not flow
		if top, ok := highest(l); ok && len(c.Taps) > 0 && top*perMetre > s.Driving*(1+1e-12) {
			shut[i] = fmt.Sprintf("the water is not lifted to its highest point at %.0f mm; the pressure lifts it to %.0f mm", 1000*top, 1000*s.Dynamic)
		}
	}
	for turn := 0; ; turn++ {
		if err := c.newton(p, w, shut, flow, pressure); err != nil {
			return s, err
		}
		again := false
		for i := range c.Lines {
			if shut[i] != "" {
				continue
			}
			for _, end := range [2]struct {
				place int
				flow  float64
			}{{p.from[i], flow[i]}, {p.to[i], -flow[i]}} {
				if p.air[end.place] && end.flow > 0 {
					shut[i] = fmt.Sprintf("the pressure does not reach the outlet %q", p.places[end.place])
					again = true
				}
			}
		}
		if !again {
			break
		}
	}
	for i, l := range c.Lines {
		ls := LineState{Name: l.Name, Flow: flow[i], Shut: shut[i]}
		at := pressure[p.from[i]]
		ls.Lowest = math.Inf(1)
		for _, e := range l.Elements {
			d, _ := e.drop(flow[i], w)
			v, re := e.inside(flow[i], w)
			if z, _, ok := e.high(); ok {
				ls.Lowest = math.Min(ls.Lowest, o.AirPressure+math.Min(at, at-d)-perMetre*z-0.5*w.Density*v*v)
			}
			at -= d
			ls.Elements = append(ls.Elements, ElementState{Name: e.label(), Velocity: v, Reynolds: re, Drop: d})
		}
		if math.IsInf(ls.Lowest, 1) {
			ls.Lowest = o.AirPressure + math.Min(at, pressure[p.from[i]])
		}
		ls.Boils = ls.Lowest < o.Vapour
		s.Lines = append(s.Lines, ls)
		if len(c.Taps) == 0 {
			for _, e := range l.Elements {
				if _, ok := e.(*Pump); ok {
					s.Flow += math.Abs(flow[i])
					break
				}
			}
		}
	}
	for i := range c.Taps {
		k := p.at[c.Taps[i].Name]
		for j := range c.Lines {
			if p.from[j] == k {
				s.Flow += flow[j]
			}
			if p.to[j] == k {
				s.Flow -= flow[j]
			}
		}
	}
	return s, nil
}

func highest(l Line) (top float64, ok bool) {
	top = math.Inf(-1)
	for _, e := range l.Elements {
		if z, _, has := e.high(); has {
			top, ok = math.Max(top, z), true
		}
	}
	return top, ok
}

// drive works out what drives the circuit and what has to be lifted.
func (c *Circuit) drive(s *CircuitState, p *plumbing, o Operating, perMetre float64) {
	most := math.Inf(-1)
	for _, t := range c.Taps {
		most = math.Max(most, p.fixed[p.at[t.Name]])
	}
	if len(c.Taps) == 0 {
		most = 0
	}
	top, climbs := 0.0, 0.0
	for _, l := range c.Lines {
		rise := 0.0
		for _, e := range l.Elements {
			if x, ok := e.(*Pump); ok {
				most += x.Shutoff
			}
			z, r, ok := e.high()
			if ok {
				top = math.Max(top, z)
				rise += r
			}
		}
		if z, ok := highest(l); ok {
			climbs = math.Max(climbs, math.Max(rise, z))
		}
	}
	for i := range c.Outlets {
		top = math.Max(top, c.Outlets[i].Height)
	}
	s.Driving = most
	s.Filling = perMetre * top
	s.AirLock = perMetre * math.Max(climbs, top)
	s.Dynamic = most / perMetre
	s.Fills = most > 0 && most >= s.Filling
	s.Clears = most > 0 && most >= s.AirLock
}

// number checks the circuit and numbers its places.
func (c *Circuit) number(o Operating, w Fluid) (*plumbing, error) {
	var f faults
	p := &plumbing{at: map[string]int{}, outlets: map[int]*Outlet{}}
	place := func(name string) int {
		if i, ok := p.at[name]; ok {
			return i
		}
		p.at[name] = len(p.places)
		p.places = append(p.places, name)
		p.fixed = append(p.fixed, math.NaN())
		p.air = append(p.air, false)
		return len(p.places) - 1
	}
	if !(o.Kinetic >= 0 && o.Kinetic <= largest) || !(o.Gravity > 0) || !(o.AirPressure > 0) || !finite(o.AirPressure*o.Gravity) {
		f.add("circuit", fmt.Sprintf("the circuit is asked at a kinetic pressure of %g Pa, gravity %g m/s² and air of %g Pa", o.Kinetic, o.Gravity, o.AirPressure), "kinetic pressure 0 or above, gravity and air above 0", "")
	}
	for _, x := range [...]float64{w.Density, w.Viscosity, w.Conductivity, w.SpecificHeat} {
		if !finite(x) || x <= 0 {
			f.add("circuit", fmt.Sprintf("the coolant has a property of %g", x), "density, viscosity, conductivity and specific heat above 0", "")
		}
	}
	var names []string
	for i := range c.Taps {
		t := &c.Taps[i]
		names = append(names, t.Name)
		pressure := t.Pressure.Or(t.PerKinetic * o.Kinetic)
		if !sane(pressure) {
			f.add("tap."+t.Name, fmt.Sprintf("tap %q has a pressure of %g Pa", t.Name, pressure), "a finite number, at most 1e12", "")
		}
		p.fixed[place(t.Name)] = pressure
	}
	for i := range c.Outlets {
		x := &c.Outlets[i]
		names = append(names, x.Name)
		path := "outlet " + x.Name
		f.size(path, "bore", x.Bore, narrowest, widest, "m")
		f.real(path, "height", x.Height)
		k := place(x.Name)
		p.fixed[k] = w.Density * o.Gravity * math.Max(0, x.Height)
		p.air[k] = x.Height > 0
		p.outlets[k] = x
	}
	f.unique("tap or outlet", names)
	names = nil
	var parts []string
	for _, l := range c.Lines {
		names = append(names, l.Name)
		path := "line." + l.Name
		if l.From == "" || l.To == "" {
			f.add(path, fmt.Sprintf("line %q goes from %q to %q", l.Name, l.From, l.To), "names of a tap, an outlet or a junction", "")
		}
		if l.From == l.To {
			f.add(path, fmt.Sprintf("line %q ends where it begins, at %q", l.Name, l.From), "two places; a closed loop is two lines", "")
		}
		if len(l.Elements) == 0 {
			f.add(path, fmt.Sprintf("line %q has nothing in it", l.Name), "at least a hose or a fitting", "")
		}
		p.from, p.to = append(p.from, place(l.From)), append(p.to, place(l.To))
		for _, e := range l.Elements {
			parts = append(parts, e.label())
			kind := "hose"
			switch e.(type) {
			case *Fitting:
				kind = "fitting"
			case *Channel:
				kind = "channel"
			case *Pump:
				kind = "pump"
			}
			e.check(&f, fmt.Sprintf("%s %q in line %q", kind, e.label(), l.Name))
		}
	}
	f.unique("line", names)
	f.unique("element", parts)
	if len(c.Lines) == 0 {
		f.add("circuit", "the circuit has no line", "at least one line from a tap to an outlet, or a closed loop", "")
	}
	ends := make([]int, len(p.places))
	for i := range p.from {
		ends[p.from[i]]++
		ends[p.to[i]]++
	}
	for i, n := range ends {
		known := !math.IsNaN(p.fixed[i])
		if n == 0 && known {
			f.add("circuit", fmt.Sprintf("no line goes to %q", p.places[i]), "a tap or an outlet on some line", "")
		}
		if n == 1 && !known {
			f.add("circuit", fmt.Sprintf("%q is on one line only and is neither tap nor outlet: water goes nowhere from there", p.places[i]), "a name that another line shares, or a tap or an outlet of that name", "")
		}
	}
	c.driven(&f, p)
	if len(f.List) > 0 {
		return nil, f.List
	}
	return p, nil
}

// driven holds every part of the circuit that hangs together to being driven by something, and gives a
// closed loop a place to count pressure from.
func (c *Circuit) driven(f *faults, p *plumbing) {
	group := make([]int, len(p.places))
	for i := range group {
		group[i] = i
	}
	for more := true; more; {
		more = false
		for i := range p.from {
			a, b := group[p.from[i]], group[p.to[i]]
			if a != b {
				low := min(a, b)
				group[p.from[i]], group[p.to[i]] = low, low
				more = true
			}
		}
	}
	for root, g := range group {
		if g != root {
			continue
		}
		taps, outs, pumps := 0, 0, 0
		var lines []string
		for i := range c.Taps {
			if group[p.at[c.Taps[i].Name]] == g {
				taps++
			}
		}
		for k := range p.outlets {
			if group[k] == g {
				outs++
			}
		}
		for i, l := range c.Lines {
			if group[p.from[i]] != g {
				continue
			}
			lines = append(lines, l.Name)
			for _, e := range l.Elements {
				if _, ok := e.(*Pump); ok {
					pumps++
				}
			}
		}
		if len(lines) == 0 {
			continue
		}
		slices.Sort(lines)
		if taps == 0 && pumps == 0 {
			f.add("circuit", fmt.Sprintf("nothing drives the water in %q: there is neither tap nor pump", lines), "a tap with pressure, or a pump", "")
		}
		if taps+outs == 1 && pumps == 0 && taps == 1 {
			f.add("circuit", fmt.Sprintf("the water of %q has no way out", lines), "an outlet, or a second tap at another pressure", "")
		}
		if taps+outs == 0 {
			p.fixed[root] = 0
		}
	}
}

// newton finds flows and pressures with lines that are shut left out.
func (c *Circuit) newton(p *plumbing, w Fluid, shut []string, flow, pressure []float64) error {
	place := make([]int, len(p.places))
	n := 0
	reach := make([]bool, len(p.places)) // hangs on a known pressure by lines that are open
	for i, x := range p.fixed {
		reach[i] = !math.IsNaN(x)
	}
	for more := true; more; {
		more = false
		for i := range c.Lines {
			if shut[i] == "" && reach[p.from[i]] != reach[p.to[i]] {
				reach[p.from[i]], reach[p.to[i]], more = true, true, true
			}
		}
	}
	for i, x := range p.fixed {
		place[i] = -1
		pressure[i] = 0
		if !math.IsNaN(x) {
			pressure[i] = x
		} else if reach[i] {
			place[i] = n
			n++
		}
	}
	live := make([]bool, len(c.Lines))
	for i := range c.Lines {
		live[i] = shut[i] == "" && reach[p.from[i]]
		flow[i] = 0
	}
	drop := func(i int, q float64) (d, slope float64) {
		for _, e := range c.Lines[i].Elements {
			a, b := e.drop(q, w)
			d += a
			slope += b
		}
		// the jet out of an outlet keeps its speed
		for _, end := range [2]int{p.from[i], p.to[i]} {
			if x, ok := p.outlets[end]; ok {
				a, b := local(1, q, area(x.Bore), x.Bore, w)
				d += a
				slope += b
			}
		}
		return d, slope
	}
	lu := numeric.NewLU(n)
	right := make([]float64, n)
	next := make([]float64, len(c.Lines))
	drops, slopes := make([]float64, len(c.Lines)), make([]float64, len(c.Lines))
	at := func(flow []float64) {
		for i := range c.Lines {
			if live[i] {
				drops[i], slopes[i] = drop(i, flow[i])
			}
		}
	}
	at(flow)
	for turn := range 300 {
		m := lu.Matrix()
		clear(m)
		clear(right)
		for i := range c.Lines {
			if !live[i] {
				continue
			}
			d := drops[i]
			g := 1 / slopes[i]
			free := flow[i] - g*d // flow at no difference of pressure
			a, b := place[p.from[i]], place[p.to[i]]
			if a >= 0 {
				m[a*n+a] += g
				right[a] -= free
				if b >= 0 {
					m[a*n+b] -= g
				} else {
					right[a] += g * pressure[p.to[i]]
				}
			}
			if b >= 0 {
				m[b*n+b] += g
				right[b] += free
				if a >= 0 {
					m[b*n+a] -= g
				} else {
					right[b] += g * pressure[p.from[i]]
				}
			}
		}
		if n > 0 {
			if !lu.Factor() {
				return &Unsolved{Reason: FlowNotSettled, Node: c.Lines[0].Name}
			}
			lu.Solve(right)
			for i, k := range place {
				if k >= 0 {
					pressure[i] = right[k]
				}
			}
		}
		moved, scale := 0.0, 0.0
		for i := range c.Lines {
			if !live[i] {
				continue
			}
			next[i] = flow[i] + (pressure[p.from[i]]-pressure[p.to[i]]-drops[i])/slopes[i]
			moved, scale = math.Max(moved, math.Abs(next[i]-flow[i])), math.Max(scale, math.Abs(next[i]))
		}
		// The work of all losses falls along the way: where it rises again, its lowest place is sought.
		along := func(u float64) float64 { // of the work along the way
			sum := 0.0
			for i := range c.Lines {
				if live[i] {
					d := drops[i]
					if u != 1 {
						d, _ = drop(i, flow[i]+u*(next[i]-flow[i]))
					}
					sum += (d - (pressure[p.from[i]] - pressure[p.to[i]])) * (next[i] - flow[i])
				}
			}
			return sum
		}
		begin := 0.0
		for i := range c.Lines {
			if live[i] {
				begin -= slopes[i] * (next[i] - flow[i]) * (next[i] - flow[i])
			}
		}
		at(next)
		if end := along(1); turn > 0 && end > -0.5*begin && begin < 0 {
			lo, hi := 0.0, 1.0
			for range 30 {
				if mid := 0.5 * (lo + hi); along(mid) > 0 {
					hi = mid
				} else {
					lo = mid
				}
			}
			for i := range next {
				next[i] = flow[i] + 0.5*(lo+hi)*(next[i]-flow[i])
			}
			at(next)
		}
		copy(flow, next)
		if !finite(moved) {
			break
		}
		if moved <= 1e-12*scale || moved < 1e-18 {
			return nil
		}
	}
	return &Unsolved{Reason: FlowNotSettled, Node: c.Lines[0].Name}
}
