package report

import (
	"fmt"
	"math"

	"jetwright/bench"
	"jetwright/desk"
)

// taught is the section of the page on what the readings taught: before and after, what is left of each reading, each step
// predicted from those below it, and what would teach more.
func (b *binder) taught() []block {
	f := b.a.Fit
	if f == nil {
		return nil
	}
	var out []block
	for _, k := range b.taken(func(p *page) { p.fit(f) }, false) {
		if k.Lead == "Stays as assumed or typed:" {
			_, kept := learned(f)
			k = block{Text: fmt.Sprintf("%s of the drive stay as assumed or typed; the readings say little of them. The command reckon lists them.", capital(count(len(kept), "number")))}
		}
		out = append(out, k)
	}
	if svg, ok := b.priorPosterior(); ok {
		out = append(out, b.figure(svg, "What the readings taught, in standard deviations of what was assumed: the thin bar holds 90 % before any reading, the thick one after, with the middle marked. Unknowns that the readings left as they were are not drawn."))
	}
	if svg, ok := b.rests(); ok {
		out = append(out, b.figure(svg, "What is left of each reading: how far it lies from what the other readings and the design say of it, in standard deviations of the difference. Of sound readings nine in ten lie within the band; the numbers are those of the table of readings."))
	}
	out = append(out, b.taken(func(p *page) { p.highest(b.a.Highest) }, true)...)
	if svg, ok := b.fromBelow(); ok {
		out = append(out, b.figure(svg, "Each step predicted from the steps below it alone, as it would have been on that day: the middle and the 90 % interval of what the scale would show, over what it did show. One bar in ten may miss zero."))
	}
	return append(out, b.taken(func(p *page) { p.teaching(b.a.Teaching) }, true)...)
}

// priorRows is how many unknowns the picture of before and after holds.
const priorRows = 14

// priorPosterior draws the unknowns that moved or narrowed.
func (b *binder) priorPosterior() (svg string, ok bool) {
	list, _ := learned(b.a.Fit)
	if len(list) == 0 {
		return "", false
	}
	if len(list) > priorRows {
		list = list[:priorRows]
	}
	const width, names, right, row, top = 760.0, 290.0, 24.0, 24.0, 30.0
	most := z90
	for _, l := range list {
		most = math.Max(most, math.Abs(l.Shift)+z90*l.After)
	}
	most = math.Ceil(2*most) / 2
	at := func(z float64) float64 { return names + (width-names-right)*(z+most)/(2*most) }
	p := newPencil("prior-posterior", width, top+row*float64(len(list))+44)
	bottom := top + row*float64(len(list))
	for z := -math.Floor(most); z <= most; z++ {
		p.line(at(z), top-6, at(z), bottom, stroke(faintColour, 1, ""))
		p.text(at(z), bottom+18, axisNumber(z), lettering{anchor: "middle"})
	}
	p.line(names, bottom, width-right, bottom, stroke(inkColour, 1.4, ""))
	p.text(at(0), bottom+36, "standard deviations of what was assumed", lettering{anchor: "middle", colour: greyColour})
	p.line(names, 12, names+30, 12, stroke(greyColour, 2, ""))
	p.text(names+36, 16, "before", lettering{})
	p.rect(box{names + 110, 8, 30, 8}, fmt.Sprintf(`fill="%s"`, blueColour))
	p.text(names+146, 16, "after", lettering{})
	for i, l := range list {
		y := top + row*(float64(i)+0.5)
		p.text(names-10, y+4, shortened(l.Path, 12, names-18), lettering{anchor: "end"})
		p.line(at(-z90), y, at(z90), y, stroke(greyColour, 2, ""))
		low, high := at(l.Shift-z90*l.After), at(l.Shift+z90*l.After)
		p.rect(box{low, y - 4, high - low, 8}, fmt.Sprintf(`fill="%s"`, blueColour))
		p.line(at(l.Shift), y-7, at(l.Shift), y+7, stroke(inkColour, 2.2, ""))
	}
	return p.svg("What the readings taught of each unknown", fmt.Sprintf("%d unknowns before and after the readings", len(list))), true
}

func axisNumber(z float64) string {
	if z < 0 {
		return fmt.Sprintf("−%.0f", -z)
	}
	return fmt.Sprintf("%.0f", z)
}

// rests draws what is left of every reading, a small chart for each channel.
func (b *binder) rests() (svg string, ok bool) {
	watt := unitOf("W")
	number := map[string]int{}
	for i, pl := range b.a.Plateaus {
		number[pl.Plateau.Run+"\n"+pl.Plateau.Name] = i
	}
	var order []bench.Channel
	charts := map[bench.Channel]*Chart{}
	low, high := math.Inf(1), 0.0
	rests := b.a.Fit.Rests()
	for _, r := range rests {
		if r.Power > 0 {
			low, high = math.Min(low, r.Power), math.Max(high, r.Power)
		}
	}
	for _, r := range rests {
		i, known := number[r.Run+"\n"+r.Name]
		if !known || !(r.Power > 0) {
			continue
		}
		c := charts[r.Channel]
		if c == nil {
			c = &Chart{Title: string(r.Channel), XLabel: "power at the battery, " + b.unit(watt).Symbol, YLabel: "standard deviations", Height: ladderHeight}
			c.Curves = []Curve{{
				X: []float64{b.shown(0.95*low, watt), b.shown(1.05*high, watt)}, Y: []float64{math.NaN(), math.NaN()}, Low: []float64{-z90, -z90}, High: []float64{z90, z90},
			}}
			charts[r.Channel] = c
			order = append(order, r.Channel)
		}
		c.Marks = append(c.Marks, Mark{X: b.shown(r.Power, watt), Y: r.Sigmas, Label: fmt.Sprint(i + 1), Kind: markOf(b.a.Plateaus[i].Plateau)})
	}
	if len(order) == 0 {
		return "", false
	}
	var list []Chart
	for _, c := range order {
		list = append(list, *charts[c])
	}
	return SmallMultiples("rests", "", "how far each reading lies from what the rest says of it", list, 2), true
}

// fromBelow draws each step's thrust as predicted from the steps below.
func (b *binder) fromBelow() (svg string, ok bool) {
	watt := unitOf("W")
	c := Chart{ID: "from-below", Height: 280, XLabel: "power at the battery, " + b.unit(watt).Symbol, YLabel: "predicted over read, %"}
	number := map[string]int{}
	for i, pl := range b.a.Plateaus {
		number[pl.Plateau.Run+"\n"+pl.Plateau.Name] = i + 1
	}
	for _, s := range b.a.Steps {
		for _, r := range s.Thrust() {
			over := func(x float64) float64 { return 100 * (x/r.Read - 1) }
			c.Marks = append(c.Marks, Mark{
				X: b.shown(r.Power, watt), Y: over(r.Predicted.Value), YLow: over(r.Predicted.Low), YHigh: over(r.Predicted.High),
				Label: fmt.Sprint(number[r.Run+"\n"+r.Name]), Kind: "foretold",
			})
			c.Curves = []Curve{{X: []float64{0, b.shown(r.Power, watt)}, Y: []float64{0, 0}, Name: "read"}}
		}
	}
	if len(c.Marks) == 0 {
		return "", false
	}
	return c.SVG(), true
}

// foretold are the marks of the highest step as predicted from below, for the picture of thrust.
func (b *binder) foretold(place string) []Mark {
	if b.a.Highest == nil || place != "battery" {
		return nil
	}
	newton, watt := unitOf("N"), unitOf("W")
	var out []Mark
	for _, r := range b.a.Highest.Thrust() {
		w := desk.Figure{Value: r.Power, Low: r.Power, High: r.Power, Unit: watt}
		out = append(out, b.mark(w, from(r.Predicted, newton), "", "foretold"))
	}
	return out
}
