package report

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// The colours of all pictures: dark on white, told apart by lightness too.
const (
	inkColour   = "#1b1d1f"
	greyColour  = "#4d5357"
	faintColour = "#c9ced1"
	waterColour = "#d9ebf3"
	blueColour  = "#0b4f86"
	rustColour  = "#9c3d0a"
)

// fontStack is the sans-serif font of the reader's system.
const fontStack = "Segoe UI, Helvetica Neue, Helvetica, Arial, Liberation Sans, system-ui, sans-serif"

// PencilCSS fits the pictures into a page. They look right without it too: it lets them
// shrink with the column, keeps them whole in print, and has the browser print their tints.
const PencilCSS = `svg.pencil { max-width: 100%; height: auto; display: block; break-inside: avoid; print-color-adjust: exact; -webkit-print-color-adjust: exact; }
`

// box is a rectangle on the paper.
type box struct{ x, y, w, h float64 }

func (a box) overlap(b box) float64 {
	w := math.Min(a.x+a.w, b.x+b.w) - math.Max(a.x, b.x)
	h := math.Min(a.y+a.h, b.y+b.h) - math.Max(a.y, b.y)
	if w <= 0 || h <= 0 {
		return 0
	}
	return w * h
}

// outside is the area of a box that lies outside of another.
func (a box) outside(b box) float64 { return a.w*a.h - a.overlap(b) }

// point is a place on the paper, in px.
type point struct{ x, y float64 }

// pencil draws one picture. Labels that must not collide are kept in taken; thin things that
// they had better not cover are kept in thin.
type pencil struct {
	b     bytes.Buffer
	id    string
	w, h  float64
	field box
	taken []box
	thin  []point
	hatch map[string]bool
}

func newPencil(id string, w, h float64) *pencil {
	p := &pencil{id: pictureID(id), w: w, h: h, hatch: map[string]bool{}}
	p.b.Grow(1 << 14)
	p.field = box{2, 2, w - 4, h - 4}
	return p
}

// pictureID makes a word fit for an id; different words stay different.
func pictureID(id string) string {
	if id == "" {
		return "picture"
	}
	var b strings.Builder
	for _, r := range id {
		if r == '-' || r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' {
			b.WriteRune(r)
		} else {
			fmt.Fprintf(&b, "_%x_", r)
		}
	}
	return b.String()
}

// svg closes the picture. The size that a file is shown at is that of the view box.
func (p *pencil) svg(title, about string) string {
	if strings.TrimSpace(title) == "" {
		title = "picture"
	}
	if strings.TrimSpace(about) == "" {
		about = title
	}
	var out strings.Builder
	out.Grow(p.b.Len() + 1000)
	fmt.Fprintf(&out, `<svg xmlns="http://www.w3.org/2000/svg" class="pencil" id="%s" viewBox="0 0 %s %s" width="%s" height="%s" role="img" aria-labelledby="%s-title %s-desc" font-family="%s" font-size="12" fill="%s">`+"\n",
		p.id, px(p.w), px(p.h), px(p.w), px(p.h), p.id, p.id, fontStack, inkColour)
	fmt.Fprintf(&out, "<title id=\"%s-title\">%s</title>\n<desc id=\"%s-desc\">%s</desc>\n", p.id, escaped(title), p.id, escaped(about))
	fmt.Fprintf(&out, "<rect width=\"%s\" height=\"%s\" fill=\"#fff\"/>\n", px(p.w), px(p.h))
	out.Write(p.b.Bytes())
	out.WriteString("</svg>\n")
	return out.String()
}

// escaped makes text safe in XML, in elements and attributes alike.
func escaped(s string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(s)) // a builder takes everything
	return b.String()
}

// drawable tells whether a number can be put on paper.
func drawable(xs ...float64) bool {
	for _, x := range xs {
		if math.IsNaN(x) || math.Abs(x) > 1e100 {
			return false
		}
	}
	return true
}

// px prints a coordinate with two decimals at most.
func px(x float64) string { return string(appendPx(nil, x)) }

func appendPx(dst []byte, x float64) []byte {
	if math.IsNaN(x) {
		x = 0 // callers leave out what is not a number; this keeps a slip from breaking the file
	}
	n := int64(math.Round(100 * math.Max(-1e6, math.Min(1e6, x))))
	if n < 0 {
		dst, n = append(dst, '-'), -n
	}
	dst = strconv.AppendInt(dst, n/100, 10)
	if r := n % 100; r != 0 {
		dst = append(dst, '.', byte('0'+r/10))
		if r%10 != 0 {
			dst = append(dst, byte('0'+r%10))
		}
	}
	return dst
}

func (p *pencil) add(format string, args ...any) {
	fmt.Fprintf(&p.b, format, args...)
	p.b.WriteByte('\n')
}

func (p *pencil) line(x1, y1, x2, y2 float64, attrs string) {
	p.add(`<path d="M%s %sL%s %s" fill="none" %s/>`, px(x1), px(y1), px(x2), px(y2), attrs)
}

func (p *pencil) rect(b box, attrs string) {
	p.add(`<rect x="%s" y="%s" width="%s" height="%s" %s/>`, px(b.x), px(b.y), px(math.Max(0, b.w)), px(math.Max(0, b.h)), attrs)
}

// stroke is the attributes of a line.
func stroke(colour string, width float64, dash string) string {
	s := fmt.Sprintf(`stroke="%s" stroke-width="%s" stroke-linejoin="round"`, colour, px(width))
	if dash != "" {
		s += ` stroke-dasharray="` + dash + `"`
	}
	return s
}

// trail prints points as path data, straight from one to the next.
func trail(pts []point, closed bool) string {
	b := make([]byte, 0, 14*len(pts)+1)
	for i, q := range pts {
		if i == 0 {
			b = append(b, 'M')
		} else {
			b = append(b, 'L')
		}
		b = appendPx(append(appendPx(b, q.x), ' '), q.y)
	}
	if closed && len(pts) > 0 {
		b = append(b, 'Z')
	}
	return string(b)
}

func (p *pencil) polyline(pts []point, attrs string) {
	if len(pts) > 1 {
		p.add(`<path d="%s" fill="none" %s/>`, trail(pts, false), attrs)
	}
}

func (p *pencil) area(pts []point, attrs string) {
	if len(pts) > 2 {
		p.add(`<path d="%s" %s/>`, trail(pts, true), attrs)
	}
}

// arrow draws a line that ends in a slim head.
func (p *pencil) arrow(x1, y1, x2, y2, head float64, colour string, width float64) {
	l := math.Hypot(x2-x1, y2-y1)
	if l == 0 {
		return
	}
	ux, uy := (x2-x1)/l, (y2-y1)/l
	p.line(x1, y1, x2-0.8*head*ux, y2-0.8*head*uy, stroke(colour, width, ""))
	p.area([]point{
		{x2, y2},
		{x2 - head*ux - 0.32*head*uy, y2 - head*uy + 0.32*head*ux},
		{x2 - head*ux + 0.32*head*uy, y2 - head*uy - 0.32*head*ux},
	}, `fill="`+colour+`"`)
}

// hatching defines a pattern of parallel lines once and returns the paint that names it. A
// crossed pattern has a second set square to the first.
func (p *pencil) hatching(name string, angle, pitch, width float64, colour, ground string, crossed bool) string {
	id := p.id + "-" + name
	if !p.hatch[name] {
		p.hatch[name] = true
		lines := fmt.Sprintf(`<path d="M0 0V%s" stroke="%s" stroke-width="%s"/>`, px(pitch), colour, px(2*width))
		if crossed {
			lines += fmt.Sprintf(`<path d="M0 0H%s" stroke="%s" stroke-width="%s"/>`, px(pitch), colour, px(2*width))
		}
		under := ""
		if ground != "" {
			under = fmt.Sprintf(`<rect width="%s" height="%s" fill="%s"/>`, px(pitch), px(pitch), ground)
		}
		p.add(`<defs><pattern id="%s" width="%s" height="%s" patternUnits="userSpaceOnUse" patternTransform="rotate(%s)">%s%s</pattern></defs>`,
			id, px(pitch), px(pitch), px(angle), under, lines)
	}
	return "url(#" + id + ")"
}

// lettering says how a text is set.
type lettering struct {
	size   float64 // 0: 12
	anchor string  // start, middle, end
	bold   bool
	colour string
	halo   bool // a white rim, for text that lies on lines
	turn   float64
}

func (l lettering) font() float64 {
	if l.size == 0 {
		return 12
	}
	return l.size
}

// text sets a line of text with its baseline at y.
func (p *pencil) text(x, y float64, s string, l lettering) {
	if s == "" {
		return
	}
	var b strings.Builder
	fmt.Fprintf(&b, `<text x="%s" y="%s"`, px(x), px(y))
	if l.font() != 12 {
		fmt.Fprintf(&b, ` font-size="%s"`, px(l.font()))
	}
	if l.anchor != "" && l.anchor != "start" {
		fmt.Fprintf(&b, ` text-anchor="%s"`, l.anchor)
	}
	if l.bold {
		b.WriteString(` font-weight="600"`)
	}
	if l.colour != "" {
		fmt.Fprintf(&b, ` fill="%s"`, l.colour)
	}
	if l.halo {
		b.WriteString(` paint-order="stroke" stroke="#fff" stroke-width="3.5" stroke-linejoin="round"`)
	}
	if l.turn != 0 {
		fmt.Fprintf(&b, ` transform="rotate(%s %s %s)"`, px(l.turn), px(x), px(y))
	}
	p.add(`%s>%s</text>`, b.String(), escaped(s))
}

// textWidth estimates the width of a text in a common sans-serif font, on the wide side.
func textWidth(s string, size float64) float64 {
	var w float64
	for _, r := range s {
		switch {
		case strings.ContainsRune("ijlItf.,:;'!|()[]/ \u00a0·’", r):
			w += 0.31
		case r == '\u202f' || r == '\u2009':
			w += 0.2
		case strings.ContainsRune("rsczkvxyJ-–*", r):
			w += 0.52
		case strings.ContainsRune("mwMW%@—", r):
			w += 0.9
		case r >= 'A' && r <= 'Z' || strings.ContainsRune("+=<>±−Ω&", r):
			w += 0.7
		case r > 0x2e80:
			w += 1.05
		default:
			w += 0.57
		}
	}
	return 1.05 * w * size
}

// shortened cuts a text to a width.
func shortened(s string, size, width float64) string {
	if textWidth(s, size) <= width {
		return s
	}
	r := []rune(s)
	for len(r) > 0 && textWidth(string(r)+"…", size) > width {
		r = r[:len(r)-1]
	}
	return strings.TrimRight(string(r), " ,") + "…"
}

// wrapped breaks a text into lines of a width.
func wrapped(s string, size, width float64) []string {
	var out []string
	line := ""
	for _, w := range strings.Fields(s) {
		switch next := strings.TrimSpace(line + " " + w); {
		case line != "" && textWidth(next, size) > width:
			out, line = append(out, line), w
		default:
			line = next
		}
	}
	if line != "" {
		out = append(out, line)
	}
	for i := range out {
		out[i] = shortened(out[i], size, width)
	}
	return out
}

// textBox is the room that a text takes.
func textBox(x, y float64, s string, l lettering) box {
	w, f := textWidth(s, l.font()), l.font()
	switch l.anchor {
	case "middle":
		x -= w / 2
	case "end":
		x -= w
	}
	return box{x, y - 0.8*f, w, 1.05 * f}
}

// spot is one place that a label may take.
type spot struct {
	x, y   float64
	anchor string
}

// around lists places round a point, the best ones first.
func around(x, y, gap float64) []spot {
	var out []spot
	for _, k := range []float64{1, 2.4, 4.2} {
		g := gap * k
		out = append(out,
			spot{x + g, y - 0.5*g, "start"}, spot{x - g, y - 0.5*g, "end"}, spot{x + g, y + g + 5, "start"}, spot{x - g, y + g + 5, "end"},
			spot{x, y - g - 2, "middle"}, spot{x, y + g + 10, "middle"}, spot{x + g, y + 4, "start"}, spot{x - g, y + 4, "end"})
	}
	return out
}

// place finds the spot where a label covers least, and takes it. It says no where every spot
// would cover another label or leave the field.
func (p *pencil) place(s string, l lettering, spots []spot) (spot, bool) {
	best, at := math.Inf(1), spot{}
	for i, q := range spots {
		l.anchor = q.anchor
		b := textBox(q.x, q.y, s, l)
		cost := 0.4 * float64(i)
		hard := b.outside(p.field)
		for _, t := range p.taken {
			hard += b.overlap(t)
		}
		if hard > 1 {
			cost += 1e6 + hard
		}
		for _, q := range p.thin {
			if q.x > b.x && q.x < b.x+b.w && q.y > b.y && q.y < b.y+b.h {
				cost += 2
			}
		}
		if cost < best {
			best, at = cost, q
		}
	}
	if best >= 1e6 {
		return at, false
	}
	l.anchor = at.anchor
	p.taken = append(p.taken, textBox(at.x, at.y, s, l))
	return at, true
}

// nothing is the picture of no data.
func nothing(id, title, about string, width float64) string {
	p := newPencil(id, width, 96)
	p.rect(box{8, 8, width - 16, 80}, `fill="none" `+stroke(faintColour, 1.2, "4 4"))
	y := 53.0
	if title != "" {
		p.text(20, 32, shortened(title, 14, width-40), lettering{size: 14, bold: true})
		y = 62
	}
	p.text(width/2, y, "no data", lettering{size: 13, anchor: "middle", colour: greyColour})
	return p.svg(title, about)
}
