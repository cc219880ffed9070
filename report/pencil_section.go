package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"jetwright/drive"
)

// SectionFigure is what stands below a station of the section, such as a velocity and a
// pressure. Stations run from 0, free stream, to 7, vena contracta.
type SectionFigure struct {
	Station int
	Lines   []string
}

// Section is the long section of a drive, drawn to scale.
type Section struct {
	ID      string
	Drive   *drive.Drive
	Figures []SectionFigure
	Style   Style
	Assumed map[string]bool // paths that were not typed, such as "motor.length": drawn dashed
	Marks   []SectionMark   // places that limits of strength are about
}

// SectionSVG draws the long section of a drive with its stations.
func SectionSVG(id string, d *drive.Drive, figures []SectionFigure, s Style) string {
	return Section{ID: id, Drive: d, Figures: figures, Style: s}.SVG()
}

// stationNames say where the stations are.
var stationNames = [8]string{"free stream", "ahead of intake", "intake throat", "pump inlet", "behind impeller", "pump outlet", "nozzle outlet", "narrowest jet"}

const sectionWidth = 1000.0

// shape is the drive in mm. The shaft line is y = 0, the pump inlet x = 0; the water runs to
// the right, y goes up.
type shape struct {
	tip, hub, gap, shell      float64 // diameters of impeller and hub, tip gap, outer diameter behind the stator
	impeller, stator, length  float64 // axial lengths of impeller, stator, nozzle
	nozzle, contracted, raise float64
	intake, ramp, throat      float64 // length, angle in radians, height of the throat
	bend, depth, lip          float64 // radius of the roof, hull below the shaft, x of the aft lip
	shaft, motorX             float64 // shaft diameter, x of the motor's face
	motorLength, motorWidth   float64
	wall, water               float64 // thickness, waterline
	land                      float64
	x4, x5, x6, x7            float64
	left, right               float64

	broken bool            // the shaft is drawn short
	dry    bool            // the still water lies beyond the picture
	made   map[string]bool // drawn from a made-up length
	notes  []string
}

// shapeOf takes the shape from the design; what is missing is made up and remembered.
func shapeOf(d *drive.Drive, assumed map[string]bool) shape {
	s := shape{made: map[string]bool{}}
	mm := func(x float64) float64 { return 1000 * x }
	or := func(x, other float64, paths ...string) float64 {
		missing := !drawable(x) || x <= 0 || x > 1e5
		for _, p := range paths {
			if missing || assumed[p] {
				s.made[p] = true
			}
		}
		if missing {
			return other
		}
		return x
	}
	s.tip = or(mm(d.Impeller.Diameter), 100, "impeller.diameter")
	s.hub = math.Min(or(mm(d.Impeller.HubDiameter), 0.4*s.tip, "impeller.hub_diameter"), 0.96*s.tip)
	s.gap = math.Min(math.Max(0, mm(d.Impeller.TipGap.Or(0))), 0.1*s.tip)
	if !drawable(s.gap) {
		s.gap = 0
	}
	s.shell = math.Max(or(mm(d.Stator.OuterDiameter.Or(d.Impeller.Diameter)), s.tip), 1.02*s.hub)
	s.impeller = or(mm(d.Impeller.Length), 0.6*s.tip, "impeller.length")
	s.stator = or(mm(d.Stator.Length), 0.5*s.tip, "stator.length")
	s.length = or(mm(d.Nozzle.Length), 0.9*s.tip, "nozzle.length")
	s.nozzle = or(mm(d.Nozzle.Diameter), 0.64*s.tip, "nozzle.diameter")
	s.contracted = s.nozzle
	if c := d.Nozzle.Contraction; c > 0.2 && c < 1 {
		s.contracted *= math.Sqrt(c)
	}
	if r := mm(d.Nozzle.HeightOffset); drawable(r) {
		s.raise = math.Max(-3*s.tip, math.Min(3*s.tip, r))
	}
	s.intake = or(mm(d.Intake.Length), 3.2*s.tip, "intake.length")
	s.shaft = math.Min(or(mm(d.Shaft.Diameter), 0.13*s.tip, "shaft.diameter"), 0.9*s.hub)
	s.motorLength = or(mm(d.Motor.Length), 1.3*s.tip, "motor.length")
	s.motorWidth = or(mm(d.Motor.Diameter), 0.9*s.tip, "motor.diameter")
	s.wall = math.Max(0.045*s.tip, 0.004*s.intake)
	s.land = math.Min(0.25*s.length, 0.25*s.nozzle)
	s.x4 = s.impeller
	s.x5 = s.x4 + s.stator
	s.x6 = s.x5 + s.length
	s.x7 = s.x6 + 0.6*s.nozzle
	s.intakeShape(d, or)

	long := or(mm(d.Shaft.Length), s.intake, "shaft.length")
	if most := s.intake + 1.5*s.tip; long > most {
		long, s.broken = most, true
		s.notes = append(s.notes, "the shaft is drawn short")
	}
	s.motorX = -long
	if at := s.roofAt(s.motorX); s.motorX > -s.intake && at+s.wall > -s.motorWidth/2 {
		s.notes = append(s.notes, "motor and intake overlap with these lengths")
	}
	s.water = -mm(d.Shaft.Height)
	if !drawable(s.water) {
		s.water = 0
	}
	s.left = math.Min(-s.intake-0.9*s.tip, s.motorX-s.motorLength-0.25*s.tip)
	s.right = s.x7 + 1.5*s.nozzle
	return s
}

// intakeShape finds how deep the hull lies below the shaft and where the aft lip is: a ramp
// of the design's angle with two bends has to climb from the hull to the pump within the
// intake's length.
func (s *shape) intakeShape(d *drive.Drive, or func(x, other float64, paths ...string) float64) {
	typed := or(d.Intake.RampAngle, 30*math.Pi/180, "intake.ramp_angle")
	s.ramp = math.Max(4*math.Pi/180, math.Min(typed, 80*math.Pi/180))
	climb := func(angle float64) (rise, radius float64) {
		r := math.Min(0.8*s.tip, 0.32*s.intake/math.Sin(angle))
		r = math.Max(r, 1.2*s.wall)
		return math.Tan(angle)*math.Max(0, s.intake-2*r*math.Sin(angle)) + 2*r*(1-math.Cos(angle)), r
	}
	rise, radius := climb(s.ramp)
	if least, most := 1.12*s.tip, 4.5*s.tip; rise < least || rise > most {
		want := math.Max(least, math.Min(most, rise))
		lo, hi := 2*math.Pi/180, 85*math.Pi/180
		for range 60 {
			mid := (lo + hi) / 2
			if h, _ := climb(mid); h < want {
				lo = mid
			} else {
				hi = mid
			}
		}
		s.ramp = lo
		rise, radius = climb(lo)
		s.notes = append(s.notes, fmt.Sprintf("the ramp is drawn at %.0f°: at %.0f° this length would not lead to the pump", lo*180/math.Pi, typed*180/math.Pi))
	}
	s.bend, s.depth = radius, rise-s.tip/2

	width := d.Intake.Width.Or(d.Impeller.Diameter)
	area := d.Intake.ThroatArea.Or(or(d.Intake.ThroatAreaRatio, 1) * math.Pi / 4 * s.tip * s.tip / 1e6)
	s.throat = or(1000*area/width, 0.75*s.tip)
	foot := -s.intake + s.bend*math.Tan(s.ramp/2)
	s.lip = foot + s.throat/math.Sin(s.ramp)
	if last := -0.35 * s.tip; s.lip > last && s.ramp > 0 {
		s.lip = math.Max(last, foot+0.1*s.tip)
		s.throat = (s.lip - foot) * math.Sin(s.ramp)
		s.notes = append(s.notes, "the throat is drawn smaller than its area: there is no room for it ahead of the pump")
	}
}

// roof is the upper wall of the intake from the hull to the pump.
func (s *shape) roof() []point {
	var out []point
	const n = 12
	for i := 0; i <= n; i++ {
		a := s.ramp * float64(i) / n
		out = append(out, point{-s.intake + s.bend*math.Sin(a), -s.depth + s.bend*(1-math.Cos(a))})
	}
	for i := n; i >= 0; i-- {
		a := s.ramp * float64(i) / n
		out = append(out, point{-s.bend * math.Sin(a), s.tip/2 - s.bend*(1-math.Cos(a))})
	}
	return out
}

// floor is the lower wall of the intake from the aft lip to the pump.
func (s *shape) floor() []point {
	reach := -s.lip
	return curveThrough(point{s.lip, -s.depth}, point{s.lip + 0.4*reach*math.Cos(s.ramp), -s.depth + math.Min(0.4*reach*math.Sin(s.ramp), 0.7*(s.depth-s.tip/2))},
		point{-0.45 * reach, -s.tip / 2}, point{0, -s.tip / 2}, 24)
}

// pumpWall is the upper (1) or lower (−1) wall from pump inlet to nozzle outlet.
func (s *shape) pumpWall(side float64) []point {
	r := s.tip/2 + s.gap
	out := []point{{0, side * r}, {s.x4, side * r}, {s.x5, side * (s.shell/2 + s.gap)}}
	const n = 24
	for i := 1; i <= n; i++ {
		t := float64(i) / n
		f := t * t * (3 - 2*t)
		out = append(out, point{s.x5 + t*(s.length-s.land), s.raise*f + side*(s.shell/2+s.gap+(s.nozzle/2-s.shell/2-s.gap)*f)})
	}
	return append(out, point{s.x6, s.raise + side*s.nozzle/2})
}

// roofAt is the height of the roof at x.
func (s *shape) roofAt(x float64) float64 { return heightAt(s.roof(), x) }

func heightAt(pts []point, x float64) float64 {
	for i := 1; i < len(pts); i++ {
		if a, b := pts[i-1], pts[i]; x >= a.x && x <= b.x && b.x > a.x {
			return a.y + (x-a.x)/(b.x-a.x)*(b.y-a.y)
		}
	}
	if x < pts[0].x {
		return pts[0].y
	}
	return pts[len(pts)-1].y
}

// curveThrough is a cubic with its control points, as a polyline.
func curveThrough(a, b, c, d point, n int) []point {
	out := make([]point, 0, n+1)
	for i := 0; i <= n; i++ {
		t := float64(i) / float64(n)
		u := 1 - t
		out = append(out, point{
			u*u*u*a.x + 3*u*u*t*b.x + 3*u*t*t*c.x + t*t*t*d.x,
			u*u*u*a.y + 3*u*u*t*b.y + 3*u*t*t*c.y + t*t*t*d.y,
		})
	}
	return out
}

// beside moves a polyline sideways, to its left for a positive distance.
func beside(pts []point, distance float64) []point {
	out := make([]point, len(pts))
	for i, q := range pts {
		a, b := pts[max(0, i-1)], pts[min(len(pts)-1, i+1)]
		l := math.Hypot(b.x-a.x, b.y-a.y)
		if l == 0 {
			l = 1
		}
		out[i] = point{q.x - distance*(b.y-a.y)/l, q.y + distance*(b.x-a.x)/l}
	}
	return out
}

// drafter draws a shape.
type drafter struct {
	*pencil
	shape
	drive        *drive.Drive
	style        Style
	scale        float64 // px per mm
	x0, y0       float64 // the pump inlet on the shaft line, px
	hull, bottom float64 // px
	top          float64 // of the housing, px
}

func (g *drafter) at(x, y float64) point { return point{g.x0 + g.scale*x, g.y0 - g.scale*y} }

func (g *drafter) all(pts []point) []point {
	out := make([]point, len(pts))
	for i, q := range pts {
		out[i] = g.at(q.x, q.y)
	}
	return out
}

// dash is the dash of an outline that rests on made-up lengths.
func (g *drafter) dash(paths ...string) string {
	for _, p := range paths {
		if g.made[p] {
			return "5 3"
		}
	}
	return ""
}

// measure writes a length of the design.
func (g *drafter) measure(mm float64) string {
	number, unit := strconv.FormatFloat(mm, 'f', 1, 64), "mm"
	if g.style.Inch {
		places := 2
		if mm < 12.7 {
			places = 3
		}
		number, unit = strconv.FormatFloat(mm/25.4, 'f', places, 64), "in"
	}
	if strings.Contains(number, ".") {
		number = strings.TrimRight(strings.TrimRight(number, "0"), ".")
	}
	return number + " " + unit
}

// SVG draws the section.
func (s Section) SVG() string {
	const title = "Long section of the drive"
	if s.Drive == nil {
		return nothing(s.ID, title, "", sectionWidth)
	}
	g := s.laid()
	g.tint()
	g.walls()
	g.grid()
	g.streams()
	g.rotor()
	g.vanes()
	g.drawBearings()
	g.electric()
	g.dimensions()
	g.stations(s.Figures)
	g.marks(s.Marks)
	g.foot(s.Figures)
	about := fmt.Sprintf("Section along the shaft, to scale, water from left to right: intake of %s with a ramp of %.0f°, impeller %s with hub %s, stator, nozzle %s.",
		g.measure(g.intake), g.ramp*180/math.Pi, g.measure(g.tip), g.measure(g.hub), g.measure(g.nozzle))
	for _, f := range s.Figures {
		if f.Station >= 0 && f.Station < len(stationNames) && len(f.Lines) > 0 {
			about += fmt.Sprintf(" Station %d, %s: %s.", f.Station, stationNames[f.Station], strings.Join(f.Lines, ", "))
		}
	}
	for _, m := range s.Marks {
		about += " Marked, " + m.Text + "."
	}
	return g.svg(title, about)
}

// laid returns the drafter of a section with its scale and place on the paper.
func (s Section) laid() *drafter {
	g := &drafter{pencil: newPencil(s.ID, sectionWidth, 0), shape: shapeOf(s.Drive, s.Assumed), drive: s.Drive, style: s.Style}
	high := math.Max(g.tip/2, g.shell/2) + g.gap + g.wall
	high = math.Max(high, g.raise+g.nozzle/2+g.wall)
	low := math.Max(g.depth, g.nozzle/2-g.raise+g.wall)
	g.scale = math.Min((sectionWidth-24)/(g.right-g.left), 380/(high+low))
	g.scale = math.Min(g.scale, 480/g.motorWidth)
	g.x0 = (sectionWidth-g.scale*(g.right-g.left))/2 - g.scale*g.left
	clear := 186.0 // for boxes, lines and the staircase of bores
	if _, _, motorFirst := g.coolantWay(); motorFirst {
		clear = 204
	}
	g.y0 = math.Max(clear+g.scale*high, 150+g.scale*g.motorWidth/2)
	g.top = g.y0 - g.scale*high
	g.hull = g.y0 + g.scale*g.depth
	g.bottom = math.Max(g.hull+76, g.y0+g.scale*low+40)

	if line := g.y0 - g.scale*g.water; line < 112 || line > g.hull+20 {
		g.dry = true
		word := "below"
		if g.water > 0 {
			word = "above"
		}
		g.notes = append(g.notes, fmt.Sprintf("still water, %s %s the shaft line, is not drawn", g.measure(math.Abs(g.water)), word))
	}
	return g
}

// drafter returns one that has drawn the whole section, so that the paper's height is known.
func (s Section) drafter() *drafter {
	g := s.laid()
	g.foot(s.Figures)
	return g
}
