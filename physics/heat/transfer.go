package heat

import "math"

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
