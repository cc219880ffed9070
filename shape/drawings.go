package shape

import (
	"fmt"
	"math"
	"slices"
)

// layers are those of every drawing of the parts.
func (d *Drawing2D) usual() {
	d.Layer(Layer{Name: "outline", Colour: 7})
	d.Layer(Layer{Name: "thin", Colour: 5})
	d.Layer(Layer{Name: "centre", Colour: 1, Dashed: true})
	d.Layer(Layer{Name: "dimension", Colour: 3})
}

const textHeight = 2.5e-3

// dimension draws a dimension between two points, its line moved by an offset to the left of the way from the first to the second.
func (d *Drawing2D) dimension(a, b [2]float64, offset float64, text string) {
	dx, dy := b[0]-a[0], b[1]-a[1]
	l := math.Hypot(dx, dy)
	if l == 0 {
		return
	}
	dx, dy = dx/l, dy/l
	nx, ny := -dy, dx
	side := math.Copysign(1, offset)
	at := func(p [2]float64, n, along float64) [2]float64 {
		return [2]float64{p[0] + nx*n + dx*along, p[1] + ny*n + dy*along}
	}
	p, q := at(a, offset, 0), at(b, offset, 0)
	d.Polyline("dimension", [][2]float64{at(a, side*0.5e-3, 0), at(a, offset+side*1e-3, 0)}, false)
	d.Polyline("dimension", [][2]float64{at(b, side*0.5e-3, 0), at(b, offset+side*1e-3, 0)}, false)
	d.Polyline("dimension", [][2]float64{p, q}, false)
	for _, end := range []struct {
		at  [2]float64
		way float64
	}{{p, 1}, {q, -1}} {
		d.Polyline("dimension", [][2]float64{at(end.at, 0.6e-3, end.way*2.2e-3), end.at, at(end.at, -0.6e-3, end.way*2.2e-3)}, false)
	}
	angle := math.Atan2(dy, dx)
	long := 0.62 * textHeight * float64(len([]rune(text)))
	if angle > math.Pi/2+1e-9 || angle <= -math.Pi/2+1e-9 { // to be read from below or from the right
		angle += math.Pi
		d.Text("dimension", at(q, -0.8e-3, -(l-long)/2), textHeight, angle, text)
		return
	}
	d.Text("dimension", at(p, 0.8e-3, (l-long)/2), textHeight, angle, text)
}

func number4(x float64) string { return fmt.Sprintf("%.4g", 1e3*x) }

// mirrored draws an outline of the long section on both sides of the axis.
func (d *Drawing2D) mirrored(layer string, outline []spin, closed bool) {
	up, down := make([][2]float64, len(outline)), make([][2]float64, len(outline))
	for i, c := range outline {
		r := c.r
		up[i], down[i] = [2]float64{c.z, r}, [2]float64{c.z, -r}
	}
	d.Polyline(layer, up, closed)
	d.Polyline(layer, down, closed)
}

// across draws a diameter at z, with its dimension line there.
func (d *Drawing2D) across(z, r, offset float64, what string) {
	d.dimension([2]float64{z, -r}, [2]float64{z, r}, offset, "Ø"+number4(2*r)+what)
}

// meridional draws a row's blades as they reach along the axis: the edges turned into the plane of the drawing.
func (d *Drawing2D) meridional(r *Row) *Fault {
	for _, up := range []float64{1, -1} {
		var low, high [][2]float64
		for i := range 41 {
			h := float64(i) / 40
			a, b, fault := r.ReachAt(h)
			if fault != nil {
				return fault
			}
			low, high = append(low, [2]float64{a, up * r.radius(h, a)}), append(high, [2]float64{b, up * r.radius(h, b)})
		}
		for i := len(high) - 1; i >= 0; i-- {
			low = append(low, high[i])
		}
		d.Polyline("outline", low, true)
	}
	return nil
}

// axis draws the axis from one place to another.
func (d *Drawing2D) axis(a, b float64) {
	d.Polyline("centre", [][2]float64{{a - 4e-3, 0}, {b + 4e-3, 0}}, false)
}

// Drawing draws the impeller's long section with its dimensions, and the bore seen from the front.
func (p *Impeller) Drawing() (*Drawing2D, error) {
	if f := p.fault(); f != nil {
		return nil, f
	}
	d := &Drawing2D{}
	d.usual()
	if err := p.long(d); err != nil {
		return nil, err
	}
	tip := p.Front - p.NoseLength
	d.axis(tip, p.Rear)
	hub, _ := p.Row.Hub.At(p.Rear)
	outer, _ := p.Row.Tip.At(p.Row.Start)
	at, end, f := p.Row.ReachAt(1)
	if f != nil {
		return nil, f
	}
	d.across(p.Rear, hub, -8e-3, " hub")
	d.across(end, outer, end-p.Rear-16e-3, "")
	d.dimension([2]float64{tip, -outer}, [2]float64{p.Front, -outer}, -6e-3, number4(p.NoseLength))
	d.dimension([2]float64{p.Front, -outer}, [2]float64{p.Rear, -outer}, -6e-3, number4(p.Rear-p.Front))
	d.dimension([2]float64{at, outer}, [2]float64{end, outer}, 5e-3, number4(end-at))
	if p.Bore.Diameter > 0 {
		bore := p.Bore
		bore.Diameter += p.Hole
		x := tip - 30e-3 - p.NoseRadius
		r := bore.Diameter / 2
		d.Circle("outline", [2]float64{x, 0}, p.NoseRadius)
		contour := bore.contour(1e-5)
		if len(contour) == 0 {
			d.Circle("outline", [2]float64{x, 0}, r)
		} else {
			var line [][2]float64
			for _, c := range contour { // the keyway upward
				line = append(line, [2]float64{x + c.r*math.Sin(c.theta), c.r * math.Cos(c.theta)})
			}
			d.Polyline("outline", line, true)
		}
		text := fmt.Sprintf("bore Ø%s", number4(bore.Diameter))
		switch bore.Form {
		case "keyway":
			text += fmt.Sprintf(", keyway %s wide, %s from the bore's far side to its bottom", number4(bore.KeyWidth), number4(bore.Diameter+bore.KeyDepth))
		case "flat":
			text += fmt.Sprintf(", %s across the flat", number4(bore.Diameter-bore.FlatDepth))
		case "clamp":
			text += fmt.Sprintf(", collar Ø%s, %s long, %d slots of %s", number4(bore.Diameter+2*bore.ClampWall), number4(bore.ClampLength), clampSlots, number4(bore.ClampSlot))
		}
		d.Text("dimension", [2]float64{x - p.NoseRadius, -outer - 16e-3}, textHeight, 0, text)
	}
	return d, nil
}

// long draws the impeller's long section.
func (p *Impeller) long(d *Drawing2D) error {
	outline, _ := p.outline(2e-5)
	d.mirrored("outline", outline, true)
	if p.Bore.Form == "clamp" && p.Bore.Diameter > 0 {
		tip, r := p.Front-p.NoseLength, (p.Bore.Diameter+p.Hole)/2
		d.mirrored("outline", []spin{{z: tip, r: r}, {z: tip, r: r + p.Bore.ClampWall}, {z: tip - p.Bore.ClampLength, r: r + p.Bore.ClampWall}, {z: tip - p.Bore.ClampLength, r: r}}, true)
	}
	if f := d.meridional(&p.Row); f != nil {
		return f
	}
	return nil
}

// Drawing draws the stator's long section with its dimensions.
func (p *Stator) Drawing() (*Drawing2D, error) {
	d := &Drawing2D{}
	d.usual()
	if err := p.long(d); err != nil {
		return nil, err
	}
	end := p.Rear + p.ConeLength
	d.axis(p.Front, end)
	hub, _ := p.Row.Hub.At(p.Front)
	inner, _ := p.Row.Tip.At(p.Front)
	d.across(p.Front, hub, 6e-3, "")
	d.across(p.Front, inner, 14e-3, "")
	low := -max(p.Flange.Radius, inner+p.Wall)
	d.dimension([2]float64{p.Front, low}, [2]float64{p.Rear, low}, -6e-3, number4(p.Rear-p.Front))
	d.dimension([2]float64{p.Rear, low}, [2]float64{end, low}, -6e-3, number4(p.ConeLength))
	d.flange(&p.Flange, end)
	return d, nil
}

func (p *Stator) long(d *Drawing2D) error {
	d.mirrored("outline", p.hub(), true)
	ring, _ := p.ring()
	d.mirrored("outline", ring, true)
	if f := d.meridional(&p.Row); f != nil {
		return f
	}
	return nil
}

// flange draws the flange's dimensions behind z.
func (d *Drawing2D) flange(f *Flange, z float64) {
	if f.Thickness == 0 {
		return
	}
	d.across(z, f.BoltCircle, -14e-3, fmt.Sprintf(" circle, %d × Ø%s", f.Bolts, number4(f.BoltHole)))
	d.across(z, f.Radius, -22e-3, fmt.Sprintf(" flange, %s thick", number4(f.Thickness)))
}

// Drawing draws the casing's long section with its dimensions.
func (p *Duct) Drawing() (*Drawing2D, error) {
	d := &Drawing2D{}
	d.usual()
	if err := p.long(d); err != nil {
		return nil, err
	}
	d.axis(p.Front, p.Rear)
	inner, _ := p.Inner.At(p.Front)
	d.across(p.Front, inner, 6e-3, "")
	low := -max(p.Flange.Radius, inner+p.Wall)
	d.dimension([2]float64{p.Front, low}, [2]float64{p.Rear, low}, -6e-3, number4(p.Rear-p.Front))
	d.flange(&p.Flange, p.Rear)
	return d, nil
}

func (p *Duct) long(d *Drawing2D) error {
	outline, _ := p.outline()
	d.mirrored("outline", outline, true)
	return nil
}

// Drawing draws the nozzle's long section with its dimensions.
func (p *Nozzle) Drawing() (*Drawing2D, error) {
	if f := p.fault(); f != nil {
		return nil, f
	}
	d := &Drawing2D{}
	d.usual()
	if err := p.long(d); err != nil {
		return nil, err
	}
	end := p.Front + p.Length
	d.axis(p.Front, end)
	d.across(p.Front, p.Inlet, 6e-3, "")
	d.across(end, p.Outlet, -6e-3, "")
	low := -max(p.Flange.Radius, p.Inlet+p.Wall)
	d.dimension([2]float64{p.Front, low}, [2]float64{p.Front + p.Entry, low}, -6e-3, number4(p.Entry))
	d.dimension([2]float64{end - p.Land, low}, [2]float64{end, low}, -6e-3, number4(p.Land))
	d.dimension([2]float64{p.Front, low}, [2]float64{end, low}, -14e-3, number4(p.Length))
	d.flange(&p.Flange, end)
	if p.TapBore > 0 {
		z, top := p.tapPlace(), p.Inlet+p.Wall+p.TapHeight
		d.Text("dimension", [2]float64{z + p.TapBoss/2 + 1e-3, top}, textHeight, 0, fmt.Sprintf("tap Ø%s in a boss Ø%s", number4(p.TapBore+p.Hole), number4(p.TapBoss)))
	}
	return d, nil
}

func (p *Nozzle) long(d *Drawing2D) error {
	outline, _, _, _ := p.outline(2e-5)
	d.mirrored("outline", outline, true)
	if p.TapBore > 0 {
		z, top, bore := p.tapPlace(), p.Inlet+p.Wall+p.TapHeight, (p.TapBore+p.Hole)/2
		d.Polyline("outline", [][2]float64{{z - p.TapBoss/2, p.Inlet + p.Wall}, {z - p.TapBoss/2, top}, {z + p.TapBoss/2, top}, {z + p.TapBoss/2, p.Inlet + p.Wall}}, false)
		for _, x := range []float64{z - bore, z + bore} {
			d.Polyline("outline", [][2]float64{{x, p.Inlet}, {x, top}}, false)
		}
	}
	return nil
}

// LongSection draws all parts where they stand in the drive; nil ones are left out.
func LongSection(i *Impeller, s *Stator, c *Duct, n *Nozzle) (*Drawing2D, error) {
	d := &Drawing2D{}
	d.usual()
	if err := i.long(d); err != nil {
		return nil, err
	}
	if s != nil {
		if err := s.long(d); err != nil {
			return nil, err
		}
	}
	if err := c.long(d); err != nil {
		return nil, err
	}
	if err := n.long(d); err != nil {
		return nil, err
	}
	front, end := min(c.Front, i.Front-i.NoseLength), n.Front+n.Length
	d.axis(front, end)
	tip, _ := i.Row.Tip.At(i.Row.Start)
	wall, _ := c.Inner.At(i.Row.Start)
	low := -max(c.Flange.Radius, wall+c.Wall)
	d.dimension([2]float64{c.Front, low}, [2]float64{c.Rear, low}, -6e-3, number4(c.Rear-c.Front))
	if s != nil {
		d.dimension([2]float64{s.Front, low}, [2]float64{s.Rear, low}, -6e-3, number4(s.Rear-s.Front))
	}
	d.dimension([2]float64{n.Front, low}, [2]float64{end, low}, -6e-3, number4(n.Length))
	d.across(c.Front, wall, 6e-3, "")
	d.across(end, n.Outlet, -6e-3, "")
	d.Text("dimension", [2]float64{c.Front, low - 18e-3}, textHeight, 0, fmt.Sprintf("impeller Ø%s, tip gap %s", number4(2*tip), number4(wall-tip)))
	return d, nil
}

// Sections draws a row's sections at the places where they are typed, unrolled, side by side: the circumferential direction to the right, the axis
// downstream upward, as a rotor that turns to the right, or to the left if mirrored, has them. They are those of the blade without its flare.
func (r *Row) Sections(mirror bool) (*Drawing2D, error) {
	d := &Drawing2D{}
	d.usual()
	flare := r.Flare
	r = r.Bare()
	x := 0.0
	for _, h := range r.Places() {
		s, f := r.Section(h)
		if f != nil {
			return nil, f
		}
		line := s.Unrolled(48)
		low, high, foot := math.Inf(1), math.Inf(-1), math.Inf(1)
		for i := range line {
			if mirror {
				line[i][0] = -line[i][0]
			}
			low, high, foot = min(low, line[i][0]), max(high, line[i][0]), min(foot, line[i][1])
		}
		for i := range line {
			line[i][0] += x - low
		}
		d.Polyline("outline", line, true)
		var camber [][2]float64
		for i := range 33 {
			c := s.unroll(s.place(s.half.length*float64(i)/32, 0))
			if mirror {
				c[0] = -c[0]
			}
			camber = append(camber, [2]float64{c[0] + x - low, c[1]})
		}
		d.Polyline("centre", camber, false)
		for i, text := range []string{
			fmt.Sprintf("%.0f %% of the span, radius %s", 100*h, number4(s.Radius)), fmt.Sprintf("chord %s, thickness %s", number4(s.Chord), number4(2*s.half.thick)),
			fmt.Sprintf("inlet %.1f°, outlet %.1f°", s.Inlet*180/math.Pi, s.Outlet*180/math.Pi), fmt.Sprintf("edges R%s and R%s", number4(s.Leading), number4(s.Trailing)),
		} {
			d.Text("dimension", [2]float64{x, min(foot, -2e-3) - float64(i+1)*1.7*textHeight}, textHeight, 0, text)
		}
		if h == 0 && flare > 0 {
			d.Text("dimension", [2]float64{x, min(foot, -2e-3) - 5*1.7*textHeight}, textHeight, 0, fmt.Sprintf("thickens below %s above the hub", number4(flare)))
		}
		x += max(high-low, 52e-3) + 8e-3
	}
	return d, nil
}

// Places are where sections are typed on the span; the two ends where one holds throughout.
func (r *Row) Places() []float64 {
	if len(r.Span) == 0 {
		return []float64{0, 1}
	}
	return r.Span
}

// MadePlaces are where a table of sections needs them on the span: where they are typed, and where the blade flares.
func (r *Row) MadePlaces() []float64 {
	out := slices.Clone(r.Places())
	hub, _ := r.Hub.At(r.Start)
	tip, _ := r.Tip.At(r.Start)
	if share := r.Flare / (tip - hub); share > 0 {
		for _, h := range []float64{0.25 * share, 0.5 * share, share} {
			out = append(out, h)
			if r.FlareTip {
				out = append(out, 1-h)
			}
		}
	}
	slices.Sort(out)
	return slices.CompactFunc(out, func(a, b float64) bool { return math.Abs(b-a) < 1e-3 })
}
