package report

import (
	"fmt"
	"math"
	"strings"

	"jetwright/desk"
	"jetwright/drive"
	"jetwright/quantity"
)

// twoDigits writes a figure to two digits in the style's units: what a method says outside of its range is worth no more.
func (s Style) twoDigits(f desk.Figure) string {
	u := s.unit(f.Unit)
	digits := func(x float64) string {
		v := desk.TwoDigits(u.FromSI(x))
		places := 0
		if v != 0 && !math.IsInf(v, 0) {
			places = max(0, 1-int(math.Floor(math.Log10(math.Abs(v))+1e-9)))
		}
		return fmt.Sprintf("%.*f", places, v)
	}
	if f.Low == f.High {
		return digits(f.Value) + " " + u.Symbol
	}
	return fmt.Sprintf("%s %s [%s, %s]", digits(f.Value), u.Symbol, digits(f.Low), digits(f.High))
}

// drag writes a drag; one from outside of the ranges of its methods to two digits.
func (s Style) drag(f desk.Figure, extrapolated bool) string {
	if extrapolated {
		return "about " + s.twoDigits(f)
	}
	return s.sure(f)
}

// marginText writes a margin over the hump.
func marginText(f desk.Figure) string {
	if f.Low == f.High {
		return fmt.Sprintf("%.0f %%", 100*f.Value)
	}
	return fmt.Sprintf("%.0f %% [%.0f, %.0f]", 100*f.Value, 100*f.Low, 100*f.High)
}

func percentOf(share float64) string { return fmt.Sprintf("%.0f %%", 100*share) }

// sure writes a figure; one that hardly anything moves stands alone to three digits.
func (s Style) sure(f desk.Figure) string {
	if f.High-f.Low <= 0.01*math.Abs(f.Value) {
		return s.about(f.Value, f.Unit.Symbol)
	}
	return s.text(f)
}

// way writes a way in metres or kilometres.
func (s Style) way(f desk.Figure) string {
	if f.Value >= 1000 {
		f.Unit = quantity.MustUnit("km")
	}
	return s.sure(f)
}

// ride writes what the drive does on the water.
func (p *page) ride(a *desk.RideAnswer) {
	p.heading("Ride of " + a.Name)
	p.rideVerdict(a)
	p.picture(titled{rideChart("ride-room", a, p.Style).SVG(), "Net thrust at several powers against the drag of craft and rider."})
	p.rideHump(a)
	p.rideStances(a)
	p.rideCurve(a)
	p.rideRange(a)
	p.rideClimbs(a)
	p.rideLegs(a)
	p.rideAccount(a)
	p.rideDoubts(a)
	if len(a.Assumed) > 0 {
		p.heading("Assumed")
		var keys []string
		for _, in := range a.Assumed {
			if strings.HasPrefix(in.Path, "craft.") {
				keys = append(keys, in.Path)
			}
		}
		p.prose("  ", "    ", fmt.Sprintf("%s of the craft: %s. A pull by a spring scale at two or three speeds (tow_speeds, tow_pulls) narrows most; then the rider's place on the deck.", count(len(keys), "number"), strings.Join(keys, ", ")))
	}
	p.notices(a.Notices)
	p.cautions(a.Cautions)
}

func (p *page) rideVerdict(a *desk.RideAnswer) {
	mass := a.Craft.Mass.Value + a.Craft.RiderMass.Value
	who := fmt.Sprintf("%s with craft and rider, %s, at full power: %s (%s)", p.about(mass, "kg"), a.Craft.Posture, desk.PushText(a.Push), a.PushFrom)
	p.prose("  ", "    ", who)
	p.line("  %s", p.interval(a.Draws))
	p.failed(a.Failed, a.Draws)
	words := "it " + a.State + ": the least margin of thrust over drag up to " + p.sure(a.PlaneSpeed) + " is " + marginText(a.Margin)
	if a.Draws > 0 {
		words += fmt.Sprintf("; %s of the drawn drives get there", percentOf(a.Over))
	}
	switch {
	case math.IsInf(a.ToPlane.Value, 1) && a.Margin.Value > 0:
		words += ". The battery or the heat ends the climb before it is on the plane"
	case a.State == desk.ClimbsMaybe:
		words += ". Below 15 % a wave, a weed or a cold battery decides: it may not get on plane"
	}
	p.prose("  ", "    ", words+".")
	if a.Known && !a.Floats {
		p.prose("  ", "    ", "It does not float its rider: the ride starts prone and awash, and what it drags there is known by half only.")
	}
	if a.Wind() {
		p.prose("  ", "    ", fmt.Sprintf("Wind against the way out %s, current along it %s.", p.about(a.Craft.Wind, "m/s"), p.about(a.Craft.Current, "m/s")))
	}
}

func (p *page) rideHump(a *desk.RideAnswer) {
	p.heading("Over the hump, and at the top")
	rows := [][]string{
		{"least thrust over drag on the way", "at " + p.sure(a.HumpSpeed)},
		{"  net thrust there", p.sure(a.HumpThrust)},
		{"  drag there", p.drag(a.HumpDrag, len(a.HumpOutside) > 0) + ", " + a.HumpMethods},
		{"on the plane from", p.sure(a.PlaneSpeed)},
	}
	if !math.IsInf(a.ToPlane.Value, 1) {
		rows = append(rows, []string{"time to plane", spanOf(a.ToPlane)}, []string{"way to plane", p.wayOf(a.PlaneWay)})
	} else if a.Planes() {
		rows = append(rows, []string{"time to plane", spanOf(a.ToPlane)})
	}
	rows = append(rows, []string{"speed from rest", p.sure(a.FromRest)})
	if a.Held.Value > a.FromRest.Value*1.01 {
		rows = append(rows, []string{"speed that is held once it is reached", p.sure(a.Held)})
	}
	if trim := trimText(&a.HeldState); trim != "" {
		rows = append(rows, []string{"trim at the top", trim + ", wetted keel " + p.about(a.HeldState.Planing.KeelLength, "m")})
	}
	rows = append(rows, []string{"rider at the edge: no margin", p.sure(a.EdgeRider)}, []string{"heaviest rider with a margin of 15 %", p.sure(a.SureRider)})
	p.grid(nil, rows)
	if len(a.HumpOutside) > 0 {
		p.prose("  ", "    ", "Drag at the hump is extrapolated ("+strings.Join(a.HumpOutside, "; ")+"), in a wider band.")
	}
}

// wayOf writes a way that may never come.
func (p *page) wayOf(f desk.Figure) string {
	if math.IsInf(f.High, 1) {
		return fmt.Sprintf("%s; some never", p.about(f.Value, "m"))
	}
	return p.sure(f)
}

// trimText writes the trim of a craft that planes at least in part; of one that swims no method here tells it.
func trimText(s *drive.CraftState) string {
	if s.PlaningShare == 0 {
		return ""
	}
	return fmt.Sprintf("%.1f°", degreesOf(s.Planing.Trim))
}

func degreesOf(x float64) float64 { return x * 180 / math.Pi }

func (p *page) rideStances(a *desk.RideAnswer) {
	if len(a.Stances) == 0 {
		return
	}
	p.heading("Trim is the rider's: the weight within its band")
	var rows [][]string
	for _, s := range a.Stances {
		rows = append(rows, []string{s.Name, p.about(s.Centre, "m"), fmt.Sprintf("%.0f %%", 100*s.Margin), trimText(&s.Hump), p.about(s.Top.Speed, "m/s"), trimText(&s.Top)})
	}
	p.grid([]string{"stance", "ahead of the transom", "margin", "trim at the hump", "speed from rest", "trim there"}, rows, 2, 3, 4, 5, 6)
}

// rideTableEvery is how many speeds of the curve stand for one of the table.
const rideTableEvery = 5

func (p *page) rideCurve(a *desk.RideAnswer) {
	p.heading("Thrust and drag over speed, full power")
	var rows [][]string
	out := map[string]bool{}
	var outs []string
	for i := rideTableEvery - 1; i < len(a.Curve); i += rideTableEvery {
		c := a.Curve[i]
		thrust := "none"
		if c.Solved {
			thrust = p.sure(c.Thrust)
		}
		rows = append(rows, []string{p.about(c.Speed, "m/s"), thrust, p.drag(c.Drag, c.Craft.Extrapolated()), fmt.Sprintf("± %.0f %%", 100*c.Craft.Band), trimText(&c.Craft), c.Methods})
		for _, w := range c.Craft.Outside.Words() {
			if !out[w] {
				out[w] = true
				outs = append(outs, w)
			}
		}
	}
	p.grid([]string{"speed", "net thrust", "drag", "method's band", "trim", "by"}, rows, 1, 4, 5)
	p.prose("  ", "    ", "Swimming below a volume Froude number of 1, pre-planing (a regression) from 1 to 2, planing (Savitsky, with the hump's factor) from 1.4 on, shared in between. \"About\" is outside of a method's range, in a wider band: "+strings.Join(outs, "; ")+".")
	p.heading("Speed at a power")
	rows = rows[:0]
	for _, x := range a.Powers {
		speed := p.sure(x.FromRest)
		rows = append(rows, []string{desk.PushText(x.Push), speed, percentOf(x.Planes)})
	}
	p.grid([]string{"power", "speed from rest", "of draws on the plane"}, rows, 3)
}

func (p *page) rideRange(a *desk.RideAnswer) {
	p.heading("Range at a speed that is held, until the battery ends")
	var rows [][]string
	for _, c := range a.Cruises {
		rows = append(rows, []string{p.about(c.Speed, "m/s"), p.about(c.Ground, "m/s"), p.rests(c.Power, &c), p.rests(c.Range, &c), spanOf(c.Time), planes(c.Planes), cruiseEnd(c)})
	}
	p.grid([]string{"speed", "over the ground", "battery power", "range", "time", "", "with heat counted, nominal"}, rows, 1, 2)
	var best []string
	for _, b := range []struct {
		c    *desk.RideCruise
		name string
	}{{a.BestPlaning, "furthest on the plane"}, {a.Best, "furthest of all"}} {
		if b.c != nil {
			best = append(best, fmt.Sprintf("%s: %s, %s in %s", b.name, p.about(b.c.Speed, "m/s"), p.rests(b.c.Range, b.c), spoken(b.c.Time.Value)))
		}
	}
	if len(best) > 0 {
		best[len(best)-1] += ". "
	}
	p.prose("  ", "    ", strings.Join(best, "; ")+"Ranges with intervals are the battery's alone, its cells as warm as typed; the last column counts the start from rest and the heat. Be back with a third of it.")
}

// rests writes a figure of a cruise: to two digits where its drag is extrapolated.
func (p *page) rests(f desk.Figure, c *desk.RideCruise) string {
	if c.Craft.Extrapolated() {
		return p.twoDigits(f)
	}
	return p.sure(f)
}

// cruiseEnd says what ends a cruise with heat counted, and which limit is reached before.
func cruiseEnd(c desk.RideCruise) string {
	if c.Ends == "" {
		return ""
	}
	if c.Lasts == 0 {
		return c.Ends
	}
	text := fmt.Sprintf("%s after %s", c.Ends, spoken(c.Lasts))
	if c.Limit != "" {
		text += fmt.Sprintf("; %s at its bound after %s", c.Limit, spoken(c.LimitAt))
	}
	return text
}

func planes(yes bool) string {
	if yes {
		return "planing"
	}
	return ""
}

func (p *page) rideClimbs(a *desk.RideAnswer) {
	p.heading("The climb onto the plane as the battery empties")
	var rows [][]string
	for _, c := range a.Climbs {
		rows = append(rows, []string{percentOf(c.Charge), p.sure(c.Power), marginText(c.Margin)})
	}
	p.grid([]string{"charge", "battery power that is left at the hump", "margin"}, rows, 1)
	switch {
	case a.State == desk.ClimbsNot:
	case a.LastClimb > 0.005:
		p.prose("  ", "    ", fmt.Sprintf("Below a charge of %.0f %% it does not climb any more: who stops then stays off the plane.", 100*a.LastClimb))
	}
}

// lasting writes a time; one that hardly anything moves stands alone.
func lasting(f desk.Figure) string {
	if f.High-f.Low <= 0.01*f.Value {
		return spoken(f.Value)
	}
	return spanOf(f)
}

func (p *page) rideLegs(a *desk.RideAnswer) {
	p.heading("The ride, leg by leg, from " + a.LegsFrom)
	var rows [][]string
	for _, l := range a.Legs {
		if !l.Begun {
			rows = append(rows, []string{l.Text, "not begun"})
			continue
		}
		reached := percentOf(l.Reached)
		rows = append(rows, []string{l.Text, lasting(l.Time), p.way(l.Distance), p.sure(l.Speed), p.sure(l.Energy), reached})
	}
	p.grid([]string{"leg", "time", "way", "speed at its end", "energy", "done"}, rows, 6)
	c := *a.Course
	p.prose("  ", "    ", fmt.Sprintf("%s%s; %s over the ground in %s; energy at the battery's terminals %s.", capital(c.Ending.String()), ended(c), p.sure(a.Distance), spanOf(c.EndTime), p.sure(c.Energy)))
	p.heading("Limits over the ride, nearest first: " + p.holds(c))
	p.heatLimits(c)
}

// rideDoubts says what the intervals rest on.
func (p *page) rideDoubts(a *desk.RideAnswer) {
	if len(a.Doubts) == 0 {
		return
	}
	p.heading("What the intervals rest on")
	var rows [][]string
	for _, d := range a.Doubts {
		var parts []string
		for _, s := range d.Shares {
			parts = append(parts, fmt.Sprintf("%.0f %% %s", 100*s.Share, s.Path))
		}
		rows = append(rows, []string{d.Name, strings.Join(parts, ", ")})
	}
	p.grid(nil, rows)
}

func (p *page) rideAccount(a *desk.RideAnswer) {
	if a.Battery == 0 {
		return
	}
	p.heading("Where the energy of the ride went")
	var rows [][]string
	wh := quantity.MustUnit("Wh")
	for _, e := range a.Account {
		if share := e.Energy / a.Battery; math.Abs(share) >= 0.0005 {
			rows = append(rows, []string{e.Name, p.text(desk.Figure{Value: e.Energy, Low: e.Energy, High: e.Energy, Unit: wh}), shareText(share)})
		}
	}
	p.grid([]string{"", "energy", "share"}, rows, 3)
	p.line("  shares under 0.05 %% are left out; the account closes to %.0e of the battery's energy", math.Max(math.Abs(a.Closure), 1e-16))
}

// rideChart is thrust at several powers against drag.
func rideChart(id string, a *desk.RideAnswer, s Style) Chart {
	speed, force := s.unit(quantity.MustUnit("m/s")), s.unit(quantity.MustUnit("N"))
	chart := Chart{ID: id, Title: "Thrust against drag", XLabel: "speed through the water, " + speed.Symbol, YLabel: "force, " + force.Symbol, FromZero: true}
	drag := Curve{Name: "drag"}
	top := 0.0
	for _, c := range a.Curve {
		drag.X, drag.Y = append(drag.X, speed.FromSI(c.Speed)), append(drag.Y, force.FromSI(c.Smooth.Value))
		drag.Low, drag.High = append(drag.Low, force.FromSI(c.Smooth.Low)), append(drag.High, force.FromSI(c.Smooth.High))
		top = math.Max(top, c.Speed)
	}
	chart.Curves = append(chart.Curves, drag)
	full := Curve{Name: "net thrust at " + desk.PushText(a.Push)}
	for _, c := range a.Curve {
		if c.Solved {
			full.X, full.Y = append(full.X, speed.FromSI(c.Speed)), append(full.Y, force.FromSI(c.Thrust.Value))
			full.Low, full.High = append(full.Low, force.FromSI(c.Thrust.Low)), append(full.High, force.FromSI(c.Thrust.High))
		}
	}
	chart.Curves = append(chart.Curves, full)
	for _, k := range []int{3, 7, 11} { // a quarter, a half, three quarters of full power
		if a.Thrusts == nil || k >= len(a.Thrusts.Pushes) {
			continue
		}
		c := Curve{Name: desk.PushText(a.Thrusts.Pushes[k]), Dashed: true}
		for i, v := range a.Thrusts.Speeds {
			if a.Thrusts.Solved[k][i] && a.Thrusts.Thrust[k][i] > 0 {
				c.X, c.Y = append(c.X, speed.FromSI(v)), append(c.Y, force.FromSI(a.Thrusts.Thrust[k][i]))
			}
		}
		if len(c.X) > 1 {
			chart.Curves = append(chart.Curves, c)
		}
	}
	for _, m := range []struct {
		at   float64
		name string
	}{{a.HumpSpeed.Value, "least margin"}, {a.PlaneSpeed.Value, "on the plane"}, {a.FromRest.Value, "from rest"}} {
		if m.at <= top && (m.name != "least margin" || m.at < 0.97*a.PlaneSpeed.Value) {
			chart.Moments = append(chart.Moments, Moment{speed.FromSI(m.at), m.name})
		}
	}
	return chart
}

// traceChart is the speed of the nominal ride over its first part.
func traceChart(id string, a *desk.RideAnswer, s Style) (Chart, bool) {
	speed := s.unit(quantity.MustUnit("m/s"))
	chart := Chart{ID: id, Title: "The start at full power, until the craft planes or levels", XLabel: "time, s", YLabel: "speed through the water, " + speed.Symbol, Height: 280, FromZero: true}
	c := Curve{Name: "speed"}
	for _, t := range a.Start {
		c.X, c.Y = append(c.X, t.Time), append(c.Y, speed.FromSI(t.Speed))
	}
	chart.Curves = append(chart.Curves, c)
	if !math.IsInf(a.ToPlane.Value, 1) {
		chart.Moments = append(chart.Moments, Moment{a.ToPlane.Value, "on the plane"})
	}
	return chart, len(c.X) > 2
}

// RideSVG draws thrust against drag, and the start.
func RideSVG(a *desk.RideAnswer, s Style) string {
	pictures := []string{rideChart("ride-1", a, s).SVG()}
	if c, ok := traceChart("ride-2", a, s); ok {
		pictures = append(pictures, c.SVG())
	}
	return stacked("ride", "Ride of "+a.Name, pictures...)
}

// ride is the report's part on the water.
func (b *binder) ride() []block {
	a := b.a.Ride
	if a == nil {
		return nil
	}
	out := b.taken(func(p *page) { p.rideVerdict(a) }, false)
	between := "the nominal drive alone"
	if a.Draws > 0 {
		between = "bands hold the 90 % interval, the method's own band and the rider's stance included"
	}
	out = append(out, b.figure(rideChart("thrust-over-drag", a, b.Style).SVG(), "Net thrust at several powers against the drag of craft and rider; "+between+". Where drag is above thrust the craft slows."))
	out = append(out, b.taken(func(p *page) { p.rideHump(a); p.rideStances(a) }, true)...)
	out = append(out, b.taken(func(p *page) { p.rideCurve(a); p.rideRange(a); p.rideClimbs(a) }, true)...)
	out = append(out, b.taken(func(p *page) { p.rideLegs(a); p.rideAccount(a); p.rideDoubts(a) }, true)...)
	return append(out, b.taken(func(p *page) { p.heading("Cautions on the water"); p.cautionsOf(a.Cautions) }, true)...)
}

// rideObject is the answer as JSON.
func (s Style) rideObject(a *desk.RideAnswer) object {
	drag := func(f desk.Figure, out bool) object {
		o := s.figure(f)
		if out {
			for i := range o {
				if o[i].key == "text" {
					o[i].value = "about " + s.twoDigits(f)
				}
			}
		}
		return o
	}
	o := object{
		{"full_power", object{{"from", a.PushFrom}, {"text", desk.PushText(a.Push)}, {"demand", a.Push.Demand.String()}}},
		{"mass_kg", s.exact(a.Craft.Mass.Value+a.Craft.RiderMass.Value, "kg")},
		{"posture", a.Craft.Posture},
		{"wind_m_s", s.exact(a.Craft.Wind, "m/s")},
		{"current_m_s", s.exact(a.Craft.Current, "m/s")},
		{"draws", a.Draws},
		{"over_the_hump", object{
			{"state", a.State},
			{"margin_percent", s.figure(a.Margin)},
			{"share_of_draws", round(a.Over, 4)},
			{"speed_m_s", s.figure(a.HumpSpeed)},
			{"net_thrust_N", s.figure(a.HumpThrust)},
			{"drag_N", drag(a.HumpDrag, len(a.HumpOutside) > 0)},
			{"by", a.HumpMethods},
			{"outside", a.HumpOutside},
			{"rider_at_the_edge_kg", s.figure(a.EdgeRider)},
			{"rider_with_15_percent_kg", s.figure(a.SureRider)},
		}},
		{"plane_speed_m_s", s.figure(a.PlaneSpeed)},
		{"from_rest_m_s", s.figure(a.FromRest)},
		{"held_m_s", s.figure(a.Held)},
	}
	if a.Known {
		o.add("floats_rider", a.Floats)
	}
	if !math.IsInf(a.ToPlane.Low, 1) {
		o.add("time_to_plane_s", s.maybe(a.ToPlane))
		o.add("way_to_plane_m", s.maybe(a.PlaneWay))
	}
	stances := []object{}
	for _, x := range a.Stances {
		o := object{{"name", x.Name}, {"gravity_centre_m", s.exact(x.Centre, "m")}, {"margin_percent", s.exact(x.Margin, "%")}, {"from_rest_m_s", s.exact(x.Top.Speed, "m/s")}}
		if x.Top.PlaningShare > 0 {
			o.add("trim_deg", s.exact(x.Top.Planing.Trim, "deg"))
		}
		stances = append(stances, o)
	}
	o.add("stances", stances)
	points := []object{}
	for _, c := range a.Curve {
		x := object{{"speed_m_s", s.exact(c.Speed, "m/s")}, {"drag_N", drag(c.Drag, c.Craft.Extrapolated())}, {"band_percent", s.exact(c.Craft.Band, "%")}, {"by", c.Methods}, {"volume_froude_number", round(c.Craft.Froude, 4)}}
		if c.Solved {
			x.add("net_thrust_N", s.figure(c.Thrust))
		}
		if c.Craft.PlaningShare > 0 {
			x.add("trim_deg", s.exact(c.Craft.Planing.Trim, "deg"))
			x.add("wetted_keel_m", s.exact(c.Craft.Planing.KeelLength, "m"))
		}
		if out := c.Craft.Outside.Words(); len(out) > 0 {
			x.add("outside", out)
		}
		points = append(points, x)
	}
	o.add("curve", points)
	if m := a.Thrusts; m != nil {
		rows := []object{}
		for k, p := range m.Pushes {
			forces := []float64{}
			for i, f := range m.Thrust[k] {
				if !m.Solved[k][i] {
					break
				}
				forces = append(forces, round(f, 1))
			}
			rows = append(rows, object{{"power", desk.PushText(p)}, {"net_thrust_N", forces}})
		}
		speeds := []float64{}
		for _, v := range m.Speeds {
			speeds = append(speeds, round(v, 4))
		}
		o.add("map", object{{"speeds_m_s", speeds}, {"powers", rows}})
	}
	powers := []object{}
	for _, x := range a.Powers {
		powers = append(powers, object{{"power", desk.PushText(x.Push)}, {"from_rest_m_s", s.figure(x.FromRest)}, {"share_planing", round(x.Planes, 4)}})
	}
	o.add("powers", powers)
	cruise := func(c *desk.RideCruise) object {
		o := object{{"speed_m_s", s.exact(c.Speed, "m/s")}, {"ground_m_s", s.exact(c.Ground, "m/s")}, {"battery_power_W", s.figure(c.Power)}, {"range_km", s.figure(c.Range)}, {"time_s", s.figure(c.Time)}, {"planing", c.Planes}}
		if c.Ends != "" {
			o = append(o, object{{"ends", c.Ends}}...)
		}
		if c.Lasts > 0 {
			o = append(o, object{{"lasts_s", s.exact(c.Lasts, "s")}, {"way_km", s.exact(c.Way, "km")}}...)
		}
		if c.Limit != "" {
			o = append(o, object{{"limit", c.Limit}, {"limit_after_s", s.exact(c.LimitAt, "s")}}...)
		}
		return o
	}
	cruises := []object{}
	for i := range a.Cruises {
		cruises = append(cruises, cruise(&a.Cruises[i]))
	}
	o.add("cruises", cruises)
	if a.Best != nil {
		o.add("best_range", cruise(a.Best))
	}
	if a.BestPlaning != nil {
		o.add("best_range_planing", cruise(a.BestPlaning))
	}
	climbs := []object{}
	for _, c := range a.Climbs {
		climbs = append(climbs, object{{"charge_percent", s.exact(c.Charge, "%")}, {"battery_power_W", s.figure(c.Power)}, {"margin_percent", s.figure(c.Margin)}})
	}
	o.add("climbs", climbs)
	o.add("last_climb_charge_percent", s.exact(a.LastClimb, "%"))
	legs := []object{}
	for _, l := range a.Legs {
		x := object{{"text", l.Text}, {"begun", l.Begun}}
		if l.Begun {
			x = append(x, object{{"time_s", s.figure(l.Time)}, {"distance_m", s.figure(l.Distance)}, {"end_speed_m_s", s.figure(l.Speed)}, {"battery_energy_Wh", s.figure(l.Energy)}, {"share_done", round(l.Reached, 4)}}...)
		}
		legs = append(legs, x)
	}
	o.add("ride", object{{"from", a.LegsFrom}, {"legs", legs}, {"distance_km", s.figure(a.Distance)}, {"course", s.courseObject(*a.Course, false)}})
	account := []object{}
	for _, e := range a.Account {
		account = append(account, object{{"name", e.Name}, {"path", e.Path}, {"energy_Wh", s.exact(e.Energy, "Wh")}})
	}
	o.add("account", object{{"battery_energy_Wh", s.exact(a.Battery, "Wh")}, {"entries", account}, {"closure", a.Closure}})
	doubts := []object{}
	for _, d := range a.Doubts {
		doubts = append(doubts, object{{"figure", d.Name}, {"shares", shares(d.Shares)}})
	}
	o.add("doubts", doubts)
	o.add("notices", notices(a.Notices))
	o.add("cautions", cautionTexts(a.Cautions))
	return o
}

// maybe is a figure whose ends may never come.
func (s Style) maybe(f desk.Figure) object {
	o := object{}
	for _, k := range []struct {
		key string
		v   float64
	}{{"value", f.Value}, {"low", f.Low}, {"high", f.High}} {
		if !math.IsInf(k.v, 1) {
			o.add(k.key, f.Unit.FromSI(k.v))
		}
	}
	return o
}
