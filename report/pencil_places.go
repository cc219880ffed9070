package report

import "math"

// PartPlace is where a part of the drive lies on the section, px of its view box.
type PartPlace struct {
	Part, Name string
	X, Y, W, H float64
}

// Handle is a point of the section that moves with a dimension of the design.
type Handle struct {
	Path     string
	X, Y     float64 // px
	Upright  bool    // it is moved up and down, else left and right
	PerPixel float64 // change of the dimension for a px to the right or up, SI
}

// Places are what can be chosen and moved on a section.
type Places struct {
	Width, Height float64 // of the view box, px
	Parts         []PartPlace
	Handles       []Handle
}

// Places says where the parts and dimensions of a section lie on its drawing.
func (s Section) Places() Places {
	if s.Drive == nil {
		return Places{}
	}
	g := s.drafter()
	out := Places{Width: sectionWidth, Height: g.h}
	span := func(part, name string, x0, x1, y0, y1 float64) {
		a, b := g.at(x0, math.Max(y0, y1)), g.at(x1, math.Min(y0, y1))
		out.Parts = append(out.Parts, PartPlace{part, name, a.x, a.y, b.x - a.x, b.y - a.y})
	}
	outer := math.Max(g.tip, g.shell)/2 + g.gap + g.wall
	span("intake", "intake", -g.intake, 0, -g.depth-g.wall, outer)
	span("shaft", "shaft", g.motorX, -0.5*math.Min(0.9*g.hub, 0.5*g.intake), -math.Max(g.shaft, 14/g.scale)/2, math.Max(g.shaft, 14/g.scale)/2)
	span("impeller", "impeller", 0, g.x4, -outer, outer)
	span("stator", "stator", g.x4, g.x5, -outer, outer)
	span("nozzle", "nozzle", g.x5, g.x6, -outer, outer)
	out.Parts = append(out.Parts, PartPlace{"water", "water", g.at(g.x6, 0).x, g.at(0, g.raise+g.nozzle/2).y, g.w - 12 - g.at(g.x6, 0).x, g.scale * g.nozzle})
	l := g.electrics()
	place := func(part string, b box) {
		out.Parts = append(out.Parts, PartPlace{part, part, b.x, b.y, b.w, b.h})
	}
	place("motor", l.motor)
	place("battery", l.battery)
	place("controller", l.controller)
	if _, bore, _ := g.coolantWay(); bore > 0 {
		tap := g.at(g.x5+0.14*g.length, 0)
		out.Parts = append(out.Parts, PartPlace{"cooling", "coolant", l.controller.x + l.controller.w, l.controller.y + l.controller.h/2 - 10, tap.x - l.controller.x - l.controller.w + 8, 20})
	}

	mm := 1e-3 / g.scale
	handle := func(path string, x, y float64, upright bool, gain float64) {
		q := g.at(x, y)
		out.Handles = append(out.Handles, Handle{path, q.x, q.y, upright, gain * mm})
	}
	handle("nozzle.diameter", g.x6-0.4*g.land, g.raise+g.nozzle/2, true, 2)
	handle("impeller.diameter", 0.42*g.impeller, g.tip/2, true, 2)
	handle("impeller.hub_diameter", g.x4+0.5*g.stator, g.hub/2, true, 2)
	handle("nozzle.length", g.x6, g.raise-g.nozzle/2, false, 1)
	handle("intake.length", -g.intake, -g.depth, false, -1)
	return out
}
