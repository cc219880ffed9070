package report

import (
	"fmt"
	"math"

	"jetwright/drive"
)

// electricBoxes are where motor, battery and controller are drawn, the latter two not to scale.
type electricBoxes struct{ motor, battery, controller box }

// Height from the top, height and width of the boxes that are not to scale, px.
const electricY, electricH, electricW = 14.0, 52.0, 132.0

// electrics sets the battery above the motor's rear, and the controller to the right of it.
func (g *drafter) electrics() electricBoxes {
	const y, h, w = electricY, electricH, electricW
	face, back := g.at(g.motorX, g.motorWidth/2), g.at(g.motorX-g.motorLength, -g.motorWidth/2)
	motor := box{back.x, face.y, face.x - back.x, back.y - face.y}
	battery := box{math.Max(16, motor.x-20), y, w, h}
	battery.x = math.Min(battery.x, g.w-3*w)
	controller := box{math.Max(battery.x+w+70, motor.x+motor.w+24), y, w, h}
	controller.x = math.Min(controller.x, g.w-w-60)
	return electricBoxes{motor, battery, controller}
}

// electric draws the motor to scale, and battery, controller, cables and cooling as a scheme.
func (g *drafter) electric() {
	place := g.electrics()
	motor, battery, controller := place.motor, place.battery, place.controller
	const y, h, w = electricY, electricH, electricW
	g.rect(motor, `class="motor" rx="3" fill="#fff" `+stroke(inkColour, 1.5, g.dash("motor.length", "motor.diameter")))
	g.rect(box{motor.x, motor.y + 0.14*motor.h, 0.16 * motor.w, 0.72 * motor.h}, `fill="`+metalColour+`" `+stroke(hairColour, 1.2, ""))
	mid := motor.y + motor.h/2
	g.text(motor.x+0.58*motor.w, mid-7, shortened("motor", 12, motor.w), lettering{anchor: "middle", bold: true, halo: true})
	size := "Ø " + g.measure(g.motorWidth) + " × " + g.measure(g.motorLength)
	if textWidth(size, 11) < 0.82*motor.w {
		g.text(motor.x+0.58*motor.w, mid+17, size, lettering{size: 12.5, anchor: "middle", halo: true})
	}

	b := g.drive.Battery
	cells := "cells not typed"
	if b.Series > 0 && b.Parallel > 0 {
		cells = fmt.Sprintf("%d × %d cells", b.Series, b.Parallel)
	}
	g.unit(battery, "battery", cells)
	g.unit(controller, "controller", g.drive.Controller.Commutation)
	for _, dy := range []float64{-7, 7} {
		g.line(battery.x+w, y+h/2+dy, controller.x, y+h/2+dy, stroke(inkColour, 1.8, ""))
	}
	g.text((battery.x+w+controller.x)/2, y+h/2-12, "+", lettering{anchor: "middle", bold: true})
	g.text((battery.x+w+controller.x)/2, y+h/2+20, "−", lettering{anchor: "middle", bold: true})

	// three phases, then the hose; the port furthest left takes the highest way
	way := func(k float64) (out, in, level float64) {
		return controller.x + 20 + 9*k, motor.x + motor.w*0.45 + math.Min(9, motor.w*0.12)*k, y + h + 12 + 7*k
	}
	for k := range 3 {
		out, in, level := way(float64(k))
		g.polyline([]point{{out, y + h}, {out, level}, {in, level}, {in, motor.y}}, stroke(inkColour, 1.4, ""))
	}
	words, bore, motorFirst := g.coolantWay()
	if !(bore > 0) {
		return
	}
	out, in, level := way(3.6)
	tap := g.at(g.x5+0.14*g.length, heightAt(g.pumpWall(1), g.x5+0.14*g.length)+g.wall)
	inlet := g.at(0, heightAt(g.pumpWall(1), g.x5+0.14*g.length))
	g.rect(box{tap.x - 3.5, tap.y - 5, 7, inlet.y - tap.y + 5}, `fill="`+jetColour+`" `+stroke(inkColour, 1.2, ""))
	right, cool := controller.x+w, y+h/2
	link := []point{{out, y + h}, {out, level}, {in, level}, {in, motor.y}}
	motorOut := []point{{motor.x + 0.12*motor.w, motor.y}, {motor.x + 0.12*motor.w, motor.y - 26}, {motor.x - 12, motor.y - 26}}
	if motor.x < 70 {
		motorOut = []point{{motor.x + 0.12*motor.w, motor.y}, {motor.x + 0.12*motor.w, motor.y - 30}}
	}
	label := cool
	end := motorOut[len(motorOut)-1]
	if motorFirst {
		_, first, low := way(5.2)
		g.hose([]point{{tap.x, tap.y - 5}, {tap.x, low}, {first, low}, {first, motor.y}})
		g.hose([]point{{in, motor.y}, {in, level}, {out, level}, {out, y + h}})
		end = point{right + 34, cool}
		g.hose([]point{{right, cool}, end})
		label = low
		g.text(end.x+4, end.y+4, "out", lettering{size: 12.5, colour: blueColour})
	} else {
		g.hose([]point{{tap.x, tap.y - 5}, {tap.x, cool}, {right, cool}})
		g.hose(link)
		g.hose(motorOut)
		anchor, dx, dy := "end", -4.0, 4.0
		if len(motorOut) == 2 {
			anchor, dx, dy = "middle", 0, -5
		}
		g.text(end.x+dx, end.y+dy, "out", lettering{size: 12.5, anchor: anchor, colour: blueColour, halo: true})
	}
	s := words + g.measure(1000*bore)
	if x := tap.x + 10; x+textWidth(s, 11) < g.w-4 {
		g.text(x, label+4, s, lettering{size: 11, colour: blueColour})
	}
}

// coolantWay is what the drawing says of the coolant: by its typed parts, else by [cooling]. A closed loop has no tap to draw.
func (g *drafter) coolantWay() (words string, bore float64, motorFirst bool) {
	c := &g.drive.Cooling
	if len(g.drive.Coolant) == 0 {
		return "cooling, tap Ø ", c.TapDiameter, c.First == "motor"
	}
	plate, jacket, tap := -1, -1, false
	for i, p := range g.drive.Coolant {
		switch p.Kind {
		case drive.CoolantTap:
			tap = true
		case drive.CoolantPlate:
			plate = i
		case drive.CoolantJacket:
			jacket = i
		case drive.CoolantHose:
			if bore == 0 {
				bore = p.Hose.Bore
			}
		}
	}
	motorFirst = c.First == "motor"
	if plate >= 0 && jacket >= 0 {
		motorFirst = jacket < plate
	}
	if !tap {
		bore = 0
	}
	return "cooling, hose Ø ", bore, motorFirst
}

// unit draws a part whose size is not in the design.
func (g *drafter) unit(b box, name, about string) {
	g.rect(b, `rx="3" fill="#fff" `+stroke(inkColour, 1.3, "5 3"))
	x := b.x + b.w/2
	g.text(x, b.y+16, name, lettering{anchor: "middle", bold: true})
	g.text(x, b.y+31, shortened(about, 12.5, b.w-8), lettering{size: 12.5, anchor: "middle"})
	g.text(x, b.y+45, "not to scale", lettering{size: 12.5, anchor: "middle", colour: greyColour})
}

// hose draws a line of coolant with the way that it runs.
func (g *drafter) hose(pts []point) {
	g.polyline(pts, stroke(blueColour, 5, ""))
	g.polyline(pts, `class="stream" `+stroke("#e8f4fa", 2.4, ""))
	for i := len(pts) - 1; i > 0; i-- {
		a, b := pts[i-1], pts[i]
		l := math.Hypot(b.x-a.x, b.y-a.y)
		if l < 20 {
			continue
		}
		ux, uy := (b.x-a.x)/l, (b.y-a.y)/l
		m := point{(a.x+b.x)/2 + 5*ux, (a.y+b.y)/2 + 5*uy}
		g.area([]point{m, {m.x - 10*ux - 5*uy, m.y - 10*uy + 5*ux}, {m.x - 10*ux + 5*uy, m.y - 10*uy - 5*ux}}, `fill="`+blueColour+`"`)
		return
	}
}
