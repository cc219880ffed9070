package report

import (
	"fmt"
	"html/template"
	"math"
	"strings"

	"jetwright/design"
	"jetwright/desk"
	"jetwright/drive"
	"jetwright/quantity"
)

// degrees writes an angle in rad as a number of degrees.
func degrees(x float64) string { return fixed(x*180/math.Pi, 1) }

// fixed writes a number with that many places, without a minus sign before zero.
func fixed(x float64, places int) string {
	if math.IsNaN(x) {
		return "–"
	}
	s := fmt.Sprintf("%.*f", places, x)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	return s
}

func (p *page) blades(a *desk.BladesAnswer) {
	if a.Designed != nil {
		p.bladesDesigned(a)
		return
	}
	p.bladesDuty(a)
	p.picture(titled{bladeCurveSVG(a, p.Style), bladeCurveCaption(a)})
	if p.web {
		p.heading("The blades, drawn")
	}
	for _, k := range bladesPictures(a.Work, p.Style) {
		p.picture(k)
	}
	p.bladesRows(a)
	p.bladesLosses(a)
	p.bladesSwirl(a)
	p.bladesCavitation(a)
	p.bladesCurve(a)
	p.bladesTrust(a)
}

// picture sets a picture where there is a page to set it on.
func (p *page) picture(k titled) {
	if p.web {
		p.blocks = append(p.blocks, block{Figure: &picture{SVG: template.HTML(k.svg), Caption: k.caption}}) // the pencil escapes every text that it sets; see TestPageEscapes
	}
}

// bladesRoom is what there is to know about the blades of a drive.
func (p *page) bladesRoom(a *desk.BladesRoomAnswer) {
	if a.Own != nil {
		p.blades(a.Own)
	} else {
		p.heading("The blades are not drawn yet")
		p.prose("  ", "  ", fmt.Sprintf("the pump's curve is %s; what blades do, where they lose and when they cavitate is worked out from their sections. Missing in drive.toml: %s", gradeWords[a.Grade], strings.Join(a.Missing, ", ")))
		next := "type them there, and under [stator] if there is one"
		if a.Found != nil {
			next += ", or begin with the sections below, which the duty asks for: copied under [impeller] and [stator] they are the pump from then on"
		}
		if a.WhyNot == "" {
			next += "; jetwright blades " + a.Folder + " --design --write types them"
		}
		p.prose("  ", "  ", "next: "+next)
	}
	if a.WhyNot != "" {
		p.heading("No blades at the speed of the design point")
		p.prose("  ", "  ", a.WhyNot)
		if a.Found != nil {
			p.prose("  ", "  ", "those below are for "+a.Instead)
		}
	}
	if a.Found != nil {
		p.bladesDesigned(a.Found)
	}
	p.notices(a.Notices)
}

// gradeWords say where the curve of a pump without blades comes from.
var gradeWords = map[string]string{drive.GradeEstimated: "estimated from a guessed best efficiency", drive.GradeTable: "the typed table"}

// bladesFigures are the figures of the state that a pump is known by.
var bladesFigures = []struct{ label, path string }{
	{"rotor speed", "rotor_speed"},
	{"flow", "jet.flow"},
	{"head that is useful to the jet", "jet.head"},
	{"power at the impeller", "jet.impeller_power"},
	{"torque at the impeller", "jet.impeller_torque"},
	{"pump efficiency", "jet.pump_efficiency"},
	{"flow coefficient Q/(ΩD³)", "jet.flow_coefficient"},
	{"head coefficient gH/(ΩD)²", "jet.head_coefficient"},
	{"specific speed Ω√Q/(gH)^0.75", "jet.specific_speed"},
	{"tip speed", "jet.tip_speed"},
}

func (p *page) bladesDuty(a *desk.BladesAnswer) {
	p.heading("Pump at the design point: " + desk.Describe(a.Condition))
	p.line("  %s", p.interval(a.Draws))
	p.failed(a.Failed, a.Draws)
	var rows [][]string
	for _, f := range bladesFigures {
		rows = append(rows, []string{f.label, p.text(a.State.Of(f.path))})
	}
	p.grid([]string{"", "value"}, rows)
	w := a.Work
	p.prose("  ", "  ", fmt.Sprintf("specific speed in rpm, m³/s and m: %.0f; good full-size pumps of this flow and specific speed reach %.0f to %.0f %% (formulas stretched down to this flow); the diameter is %.2f times that of the best fans and pumps of this specific speed",
		52.92*w.Omega(), 100*min(w.Band[0], w.Band[1]), 100*max(w.Band[0], w.Band[1]), w.Cordier))
}

// bladesRows are the sections, row by row.
func (p *page) bladesRows(a *desk.BladesAnswer) {
	w := a.Work
	for i, r := range w.Rows() {
		name := [2]string{"Impeller", "Stator"}[i]
		p.heading(fmt.Sprintf("%s: %d blades, section by section", name, r.Row.Blades))
		p.line("  angles from the circumferential direction, °; nominal, solved in full on %d radii", w.State.Radii)
		var angles, loads [][]string
		for j := range w.State.Radii {
			e := &r.State.Elements[j]
			radius := p.placed(e.InletRadius, "mm", 1)
			blade, water := w.BladeAngles(i, j)
			angles = append(angles, []string{
				radius, degrees(blade[0]), degrees(water[0]), degrees(e.Incidence), degrees(e.LeastIncidence),
				degrees(blade[1]), degrees(water[1]), degrees(e.LiebleinDeviation), degrees(e.CarterDeviation),
			})
			loads = append(loads, []string{
				radius, fixed(e.Solidity, 2), fixed(e.DiffusionFactor, 2), fixed(e.EquivalentDiffusion, 2), fixed(e.Deceleration, 2), fixed(e.Lift, 2),
				fixed(e.Reynolds/1e3, 0), fixed(e.RoughnessRatio, 1),
			})
		}
		p.grid([]string{"radius", "blade in", "water in", "incidence", "of least loss", "blade out", "water out", "deviation, Lieblein", "Carter"}, angles, 1, 2, 3, 4, 5, 6, 7, 8, 9)
		p.grid([]string{"radius", "solidity", "diffusion factor", "fastest over outlet", "outlet over inlet", "lift", "Reynolds, thousands", "rough over smooth"}, loads, 1, 2, 3, 4, 5, 6, 7, 8)
		var tri [][]string
		for _, t := range w.Triangles(i) {
			e := t.Element
			tri = append(tri, []string{
				t.Name, p.speed(e.Inlet.BladeSpeed), p.speed(e.Inlet.Meridional), p.speed(e.Inlet.Tangential), p.speed(e.Inlet.Relative),
				p.speed(e.Outlet.Meridional), p.speed(e.Outlet.Tangential), p.speed(e.Outlet.Relative),
			})
		}
		p.line("  velocity triangles, %s", p.unit(unitOf("m/s")).Symbol)
		p.grid([]string{"", "blade", "meridional in", "swirl in", "relative in", "meridional out", "swirl out", "relative out"}, tri, 2, 3, 4, 5, 6, 7, 8)
	}
	p.prose("  ", "  ", "fastest over outlet: largest velocity on the blade over that behind it; beyond 2 the water begins to leave the blade. rough over smooth: sand roughness over what a blade may have here to be as good as smooth; deviation and diffusion factor are those of the water as it leaves the impeller's blades, the water and triangles behind have what runs over the tips mixed in")
	p.prose("  ", "  ", fmt.Sprintf("a degree steeper moves the head by %s at the impeller's trailing edge, by %s at its leading edge%s: that is what printing has to hold",
		percentSigned(w.PerDegree[1]), percentSigned(w.PerDegree[0]), statorDegrees(w)))
}

func (p *page) speed(x float64) string { return fixed(p.unit(unitOf("m/s")).FromSI(x), 1) }

func percentSigned(x float64) string {
	if math.IsNaN(x) {
		return "no known share"
	}
	if math.Abs(x) < 0.5e-3 {
		return "0.0 %"
	}
	return fmt.Sprintf("%+.1f %%", 100*x)
}

func statorDegrees(w *drive.BladeWork) string {
	if w.Pump.Stator.Blades == 0 {
		return ""
	}
	return fmt.Sprintf(", by %s at the stator's leading and %s at its trailing edge", percentSigned(w.PerDegree[2]), percentSigned(w.PerDegree[3]))
}

// bladeLosses are the losses of the blades by their paths in the state, as they are stacked.
var bladeLosses = []struct{ label, path string }{
	{"friction and wakes of smooth blades", "blades.profile_loss"},
	{"rough surfaces", "blades.roughness_loss"},
	{"incidence", "blades.incidence_loss"},
	{"blunt edges", "blades.edge_loss"},
	{"tip gap", "blades.gap_loss"},
	{"hub and casing", "blades.wall_loss"},
	{"secondary flow", "blades.secondary_loss"},
	{"discs and tip faces", "blades.friction_loss"},
	{"back through seals", "blades.leakage_loss"},
	{"uneven velocity behind", "blades.mixing_loss"},
	{"swirl left", "blades.swirl_loss"},
}

func (p *page) bladesLosses(a *desk.BladesAnswer) {
	p.heading("Losses of the pump")
	power := a.State.Of("jet.impeller_power").Value
	useful := a.State.Of("jet.hydraulic_power")
	rows := [][]string{{"in the water", p.text(useful), fmt.Sprintf("%.1f %%", 100*useful.Value/power)}}
	for _, l := range bladeLosses {
		f := a.State.Of(l.path)
		rows = append(rows, []string{l.label, p.text(f), fmt.Sprintf("%.1f %%", 100*f.Value/power)})
	}
	if f := a.State.Of("jet.cavitation_loss"); f.High > 0 {
		rows = append(rows, []string{"cavitation", p.text(f), fmt.Sprintf("%.1f %%", 100*f.Value/power)})
	}
	p.grid([]string{"", "power", "of the impeller's"}, rows, 3)
	w := a.Work
	if w.Pump.Impeller.TipGap > 0 {
		p.prose("  ", "  ", fmt.Sprintf("of the gap's loss: %s if it were everywhere as narrow as at its narrowest, %s as wide as at its widest",
			p.rounded(w.State.Impeller.GapNarrow*gapShare(a), "W"), p.rounded(w.State.Impeller.GapWide*gapShare(a), "W")))
	}
	if math.Abs(w.Installed-1) > 5e-4 {
		p.prose("  ", "  ", fmt.Sprintf("these losses carry impeller.installed_factor, for the uneven water behind the intake, and what was measured, spread over all of them; the blades alone, as solved below for the swirl, take %s, with an efficiency of %.1f %%",
			p.rounded(w.State.ShaftPower, "W"), 100*w.State.Efficiency))
	}
}

// gapShare is the gap's loss in the state over that of the blades alone.
func gapShare(a *desk.BladesAnswer) float64 {
	return a.State.Of("blades.gap_loss").Value / a.Work.State.Impeller.Loss.Gap
}

func (p *page) bladesSwirl(a *desk.BladesAnswer) {
	w := a.Work
	p.heading("Swirl")
	s := w.State.Swirl
	p.prose("  ", "    ", fmt.Sprintf("the impeller gives %s° off the axis and %s, the stator takes %s of it back, %s° and %s are left",
		degrees(s.GivenAngle), p.rounded(s.Given, "W"), p.rounded(s.Recovered, "W"), degrees(s.LeftAngle), p.rounded(s.Left, "W")))
	var rows [][]string
	for i, c := range w.Swirl {
		if i > 0 && w.Pump.Stator.Blades == 0 {
			break
		}
		name := c.Name
		switch {
		case w.Pump.Stator.Blades == 0:
			name = "as drawn, without a stator"
		case i == 2:
			name = fmt.Sprintf("stator turned %s° further", degrees(drive.FurtherTurned))
		}
		if c.Reason != 0 {
			rows = append(rows, []string{name, c.Reason.Error(), "", "", "", "", "", ""})
			continue
		}
		rows = append(rows, []string{
			name, p.rounded(c.Head, "m"), fmt.Sprintf("%.1f %%", 100*c.Efficiency), degrees(c.Swirl.LeftAngle) + "°", p.rounded(c.Swirl.Left, "W"),
			degrees(c.Jet.Angle) + "°", p.rounded(c.Jet.Power, "W"), p.rounded(c.Jet.Thrust, "N"),
		})
	}
	p.grid([]string{"", "head", "efficiency", "left", "power left", "at the jet's rim", "power in the jet", "thrust lost in the jet"}, rows, 2, 3, 4, 5, 6, 7, 8)
	if a.Draws > 0 {
		p.prose("  ", "    ", fmt.Sprintf("as drawn within the tolerances: %s given, %s and %s left; beyond the head that it has cost it takes %s of thrust",
			p.text(a.State.Of("blades.given_angle")), p.text(a.State.Of("blades.left_angle")), p.text(a.State.Of("blades.swirl_loss")), p.text(a.State.Of("blades.swirl_thrust"))))
	}
	p.prose("  ", "  ", "the blades alone at the same flow and rotor speed; the head is without the swirl that is left. "+
		"The thrust lost is that of the turning jet at the same total pressure; the head has paid for most of it already")
}

func (p *page) bladesCavitation(a *desk.BladesAnswer) {
	w := a.Work
	p.heading("Cavitation")
	var rows [][]string
	for _, r := range []struct{ label, path string }{
		{"suction head there is at the highest blade tip", "jet.npsh_available"},
		{"below it bubbles appear on smooth, clean blades", "blades.onset_npsh"},
		{"below it the head falls", "blades.breakdown_npsh"},
		{"suction specific speed", "jet.suction_specific_speed"},
		{"the same at which the head falls", "blades.suction_specific_speed_3"},
		{"head that cavitation leaves", "jet.cavitation_factor"},
	} {
		rows = append(rows, []string{r.label, p.text(a.State.Of(r.path))})
	}
	p.grid([]string{"", "value"}, rows)
	rows = nil
	for _, r := range w.ByRadius {
		rows = append(rows, []string{p.placed(r.Radius, "mm", 1), fixed(r.Number, 2), fixed(r.Onset, 2), fixed(r.Breakdown, 2)})
	}
	p.line("  blade cavitation number by radius, where a blade passes the top")
	p.grid([]string{"radius", "there is", "bubbles below", "head falls below"}, rows, 1, 2, 3, 4)
	p.prose("  ", "  ", fmt.Sprintf("flow coefficient V/U at the tip of the inlet %.3f; an eye for the largest suction specific speed at this blade cavitation number would have %.3f", w.Cavitation.EyeFlow, w.Cavitation.BestEyeFlow))
}

// placed writes a figure for columns, with that many decimal places in its unit, and as fine in the unit that the style shows.
func (s Style) placed(x float64, unit string, places int) string {
	u, places := s.finer(unit, places)
	return fixed(u.FromSI(x), places) + " " + u.Symbol
}

// finer is the unit that the style shows in the place of one, with as many decimal places as are as fine.
func (s Style) finer(unit string, places int) (quantity.Unit, int) {
	from := unitOf(unit)
	u := s.unit(from)
	return u, max(0, places+int(math.Ceil(math.Log10(from.FromSI(1)/u.FromSI(1)))))
}

func (p *page) bladesCurve(a *desk.BladesAnswer) {
	w := a.Work
	p.heading("Curve at " + p.rounded(w.State.RotorSpeed, "rpm") + ", and what the nozzle asks for")
	var rows [][]string
	const every = 4
	for i := 0; i < len(w.Curve); i += every {
		c := w.Curve[i]
		rows = append(rows, []string{
			p.placed(c.Flow, "L/s", 1), p.placed(c.Head, "m", 2), p.placed(c.Asked, "m", 2), p.rounded(c.Power, "W"), fmt.Sprintf("%.1f %%", 100*c.Efficiency), p.placed(c.Onset, "m", 1), p.placed(c.Breakdown, "m", 1),
		})
	}
	for _, f := range a.Flows {
		p.prose("  ", "    ", fmt.Sprintf("%s the nozzle holds the flow coefficient at %s: %+.0f %% of that here", p.atSpeed(f.Speed), fixed(f.FlowCoefficient, 4), 100*(f.FlowCoefficient/a.State.Of("jet.flow_coefficient").Value-1)))
	}
	p.grid([]string{"flow", "head", "asked for", "power", "efficiency", "bubbles below", "head falls below"}, rows, 1, 2, 3, 4, 5, 6, 7)
	for _, h := range p.holeTexts(a) {
		p.prose("  - ", "    ", h)
	}
}

// holeTexts words the flows at which the blades have no state.
func (s Style) holeTexts(a *desk.BladesAnswer) []string {
	out := []string{}
	for _, h := range a.Holes() {
		where := "below " + s.rounded(h.High, "L/s")
		if h.Above {
			where = "above " + s.rounded(h.Low, "L/s")
		}
		out = append(out, where+": "+h.Why)
	}
	return out
}

// bladesTrust says how far the figures can be trusted.
func (p *page) bladesTrust(a *desk.BladesAnswer) {
	w := a.Work
	p.heading("How far to trust it")
	p.prose("  - ", "    ", fmt.Sprintf("against water: one standard deviation of this kind of method is 8 %% of head, 5 points of efficiency, 1.5° of outlet angle and 20 %% of suction specific speed at breakdown (common practice); drawn: %s", scatterText(a)))
	// held by TestNineInchRotorPublished and TestWaterjetPumpPublished
	p.prose("  - ", "    ", fmt.Sprintf("the method was held against two pumps in water: of a smooth nine-inch axial rotor of hub ratio 0.8 it calls the head 9 %% too high, the efficiency 6 points too low and stall 28 %% too early, of a waterjet pump it calls the head lost to cavitation far too early; that says little about %s blades and a hub ratio of %.2g",
		w.Pump.Impeller.Surface, w.State.Impeller.Elements[0].InletRadius/w.State.Impeller.Elements[w.State.Radii-1].InletRadius))
	p.prose("  - ", "    ", fmt.Sprintf("of its own: the map is %.2g %% of head and %.2g %% of power off a full solve here, at most %.2g %% and %.2g %% of the design's between its flows; made with %d solves",
		100*math.Abs(w.HeadOff), 100*math.Abs(w.PowerOff), 100*w.HeadError, 100*w.PowerError, w.Solves))
	p.prose("  - ", "    ", fmt.Sprintf("the two routes to the head, work less losses and pressures, agree within %.1g of it", math.Max(math.Abs(w.State.HeadByPressure()/w.State.TotalHead-1), 1e-16)))
	p.prose("  - ", "    ", fmt.Sprintf("the curve holds at this rotor speed; at half of it the lower Reynolds number takes %.1f %% of head and %.1f points of efficiency, which is left out", -100*w.HalfSpeed[0], -100*w.HalfSpeed[1]))
	for _, n := range w.Doubts {
		t := n.What
		if n.Allowed != "" {
			t += " (" + n.Allowed + ")"
		}
		p.prose("  - ", "    ", n.Path+": "+t)
	}
	p.prose("  ", "  ", "the map that state, spread, fit and ranking work with, against full solves of the blades:")
	var rows [][]string
	for i := range w.Checks {
		c := &w.Checks[i]
		if c.Reason != "" {
			rows = append(rows, []string{p.checkText(c), "no state: " + c.Reason, ""})
			continue
		}
		rows = append(rows, []string{p.checkText(c), offText(c.Head), offText(c.Power)})
	}
	p.grid([]string{"at", "head off", "power off"}, rows, 2, 3)
}

// offText writes what a map is off.
func offText(x float64) string {
	if math.Abs(x) < 0.5e-4 {
		return "0.00 %"
	}
	return fmt.Sprintf("%+.2f %%", 100*x)
}

// checkText is the place at which a map is held against a full solve.
func (s Style) checkText(c *drive.MapCheck) string {
	f, ok := design.Schema().Lookup(c.Path)
	if c.Water > 0 {
		return "water of " + s.text(celsius(c.Water))
	}
	if !ok {
		return c.What
	}
	sign := "+"
	if c.Amount < 0 {
		sign = "-"
	}
	if f.Unit.IsOne() {
		return fmt.Sprintf("%s: %s %s%.3g", c.What, c.Path, sign, math.Abs(c.Amount))
	}
	return c.What + ": " + c.Path + " " + sign + quantity.Format(math.Abs(c.Amount), s.unit(f.Unit))
}

func scatterText(a *desk.BladesAnswer) string {
	var out []string
	for _, s := range a.Scatter {
		if s.Path == "terms.angle_scatter" {
			continue
		}
		out = append(out, s.Path+" = "+s.Text)
	}
	return strings.Join(out, ", ")
}

func (p *page) bladesDesigned(a *desk.BladesAnswer) {
	d := a.Designed
	p.heading("Blades for the design point: " + desk.Describe(a.Condition))
	p.line("  %s at %s and %s", p.rounded(d.Duty.Head, "m"), p.rounded(d.Flow, "L/s"), p.rounded(d.Speed, "rpm"))
	if d.Reason != "" {
		p.prose("  ", "  ", "these blades are not sound: "+d.Reason+". A lower head (a larger nozzle), a higher rotor speed or more solidity would ease them")
	}
	p.prose("  ", "  ", fmt.Sprintf("its own analysis meets the head within %.1g %%; against water %s is to be expected within ± 8 %% (one standard deviation), efficiency %.0f %% within ± 5 points",
		math.Max(100*math.Abs(d.Closure), 1e-4), p.rounded(d.State.Head, "m"), 100*d.State.Efficiency))
	if n := d.Pump.Stator.Blades; n > 0 {
		t := fmt.Sprintf("%d impeller and %d stator blades share no factor: one pair at a time passes, and the torque does not pulse", d.Pump.Impeller.Blades, n)
		if n != d.Asked {
			t += fmt.Sprintf("; %d were asked for, which share one", d.Asked)
		}
		p.prose("  ", "  ", t)
	}
	if d.Reason == "" {
		down := fmt.Sprintf("down to %.0f %% of this flow, and stall or run back below", 100*d.Least)
		if d.Least <= 0.5 {
			down = "at half of this flow still"
		}
		p.prose("  ", "  ", "at this speed they have a state "+down)
	}
	p.prose("  ", "  ", fmt.Sprintf("swirl: a share of %.2g turns as a solid body, the rest as a free vortex; loading up to a diffusion factor of %.2g on the impeller and %.2g on the stator, sections no thinner than %s", d.Duty.Vortex, d.Duty.Diffusion, d.Duty.StatorLoad, p.placed(d.Duty.LeastThickness, "mm", 1)))
	reached := [2]float64{}
	for i, r := range d.Work().Rows() {
		for j := range d.State.Radii {
			reached[i] = math.Max(reached[i], r.State.Elements[j].DiffusionFactor)
		}
	}
	if reached[0] > d.Duty.Diffusion+0.005 || reached[1] > d.Duty.StatorLoad+0.005 {
		p.prose("  ", "  ", fmt.Sprintf("where the largest solidity of %.2g stops the chords the diffusion factor reaches %.2f on the impeller and %.2f on the stator", d.Duty.LargestSolidity, reached[0], reached[1]))
	}
	cavitation := "the head falls with cavitation below"
	if d.Cavitates() {
		cavitation = "these blades cavitate: the head falls below"
	}
	p.prose("  ", "  ", fmt.Sprintf("%s an NPSH of %s, S = %.2f, within ± 20 %%; the drive has %s", cavitation, p.rounded(d.Cavitation.BreakdownNPSH, "m"), d.Cavitation.BreakdownSpeed, p.rounded(d.Available, "m")+cavitatesText(d)))
	p.bladesHeld(a)
	p.heading("To type into drive.toml")
	var lines []string
	for i, r := range []*drive.BladeRow{&d.Pump.Impeller, &d.Pump.Stator} {
		if r.Blades == 0 {
			continue
		}
		if i > 0 {
			lines = append(lines, "")
		}
		lines = append(lines, "["+rowKeys[i]+"]", fmt.Sprintf("blades = %d", r.Blades))
		for _, k := range a.Also {
			if key, ok := strings.CutPrefix(k.Key, rowKeys[i]+"."); ok {
				lines = append(lines, key+" = "+k.Value)
			}
		}
		if i == 1 {
			lines = append(lines, "start = "+p.sectionText([]float64{r.Start}, unitOf("mm"), 1))
		}
		for _, l := range desk.SectionLists(r) {
			lines = append(lines, fmt.Sprintf("%-12s = [%s]", l.Key, p.sectionText(l.List, l.Unit, l.Places)))
		}
	}
	p.verbatim(lines)
}

// cavitatesText says what follows where blades that were found cavitate at their duty, or may.
func cavitatesText(d *drive.DesignedBlades) string {
	says := " there, within that scatter: they may cavitate"
	switch {
	case d.Cavitates():
		says = " there"
	case !d.MayCavitate():
		return " there"
	}
	return says + "; a lower rotor speed (--rotor-speed), a deeper or larger impeller, or less thrust would ease it. The method errs early: it calls the head of a published waterjet pump lost at S = 2.5, measured were 3.8 to 4.7"
}

// sectionText writes numbers as they are typed, in the unit that the style shows.
func (s Style) sectionText(list []float64, unit quantity.Unit, places int) string {
	u, places := s.finer(unit.Symbol, places)
	return desk.SectionText(list, u, places)
}

// rowKeys are the rows as sections of a drive.toml.
var rowKeys = [2]string{"impeller", "stator"}

// verbatim writes lines as they are.
func (p *page) verbatim(lines []string) {
	if p.web {
		p.blocks = append(p.blocks, block{Exact: strings.Join(lines, "\n")})
		return
	}
	for _, l := range lines {
		p.line("%s", strings.TrimRight("  "+l, " "))
	}
}

// edgeNames are the edges in the order of what a degree at each moves.
var edgeNames = [4]string{"impeller, leading edge", "impeller, trailing edge", "stator, leading edge", "stator, trailing edge"}

// bladesHeld lists the sections that were found with what making has to hold.
func (p *page) bladesHeld(a *desk.BladesAnswer) {
	d := a.Designed
	tolerance := [4]string{}
	for _, h := range a.Holds {
		if half := (h.High - h.Low) / 2; h.Edge >= 0 && half > 0 {
			tolerance[h.Edge] = " ± " + degrees(half)
		}
	}
	w := d.Work()
	hub, tip := d.State.Impeller.Elements[0].InletRadius, d.State.Impeller.Elements[d.State.Radii-1].InletRadius
	for i, r := range w.Rows() {
		p.heading(fmt.Sprintf("%s: %d blades for this duty", rowNames[i], r.Row.Blades))
		var rows [][]string
		for j, at := range r.Row.Span {
			rows = append(rows, []string{
				fixed(at, 2), p.placed(hub+(tip-hub)*at, "mm", 1), degrees(r.Row.InletAngle[j]) + tolerance[2*i], degrees(r.Row.OutletAngle[j]) + tolerance[2*i+1],
				p.placed(r.Row.Chord[j], "mm", 1), p.placed(r.Row.Thickness[j], "mm", 1),
			})
		}
		p.grid([]string{"span", "radius", "angle in, °", "angle out, °", "chord", "thickness"}, rows, 1, 2, 3, 4, 5, 6)
	}
	p.heading("What making them has to hold")
	var rows [][]string
	for _, h := range a.Holds {
		if h.Edge < 0 {
			continue
		}
		per := d.PerDegree[h.Edge]
		within, moves := degrees(h.Low)+" to "+degrees(h.High)+"°", percentSigned(per*h.Low*180/math.Pi)+" to "+percentSigned(per*h.High*180/math.Pi)
		if h.Low == h.High {
			within, moves = "exact, as typed", ""
		}
		rows = append(rows, []string{edgeNames[h.Edge], percentSigned(per), within, moves, h.Path})
	}
	p.grid([]string{"", "head, a degree steeper", "held within", "that is, of the head", "typed as"}, rows, 2)
	p.prose("  ", "  ", fmt.Sprintf("a degree is %s over the last %s of a blade: less than most printers hold without a template. Measure the angles at the edges of the finished part, on several blades, and type what they are off",
		p.placed(10e-3*math.Tan(math.Pi/180), "mm", 2), p.placed(10e-3, "mm", 0)))
	var rest []string
	for _, h := range a.Holds {
		if h.Edge < 0 {
			rest = append(rest, h.Path+" "+p.held(h))
		}
	}
	p.prose("  ", "  ", "assumed or typed besides: "+strings.Join(rest, "; "))
}

// held is the range of a number that making has to hold.
func (s Style) held(h desk.Hold) string {
	if h.Low == h.High {
		return s.placed(h.Low, "mm", 2)
	}
	return s.placed(h.Low, "mm", 2) + " to " + s.placed(h.High, "mm", 2)
}

// effectText is a step of a number of the blades.
func (s Style) effectText(e *drive.BladeEffect) string {
	switch {
	case e.Words != "":
		return e.Words
	case e.Unit == "1":
		return fmt.Sprintf("%+.4g", e.Amount)
	case e.Unit == "deg":
		return fmt.Sprintf("%+.4g°", e.Amount*180/math.Pi)
	}
	sign := "+"
	if e.Amount < 0 {
		sign = "-"
	}
	return sign + s.placed(math.Abs(e.Amount), e.Unit, 1)
}

// effects lists what steps of a key of blades do.
func (p *page) effects(a *desk.ExplainAnswer) {
	p.heading("What it does, at the flow and rotor speed of the design point")
	var rows [][]string
	for i := range a.Effects {
		e := &a.Effects[i]
		if e.Reason != "" {
			rows = append(rows, []string{p.effectText(e), "no state: " + e.Reason, "", "", ""})
			continue
		}
		rows = append(rows, []string{p.effectText(e), percentSigned(e.Head), percentSigned(e.Power), fmt.Sprintf("%+.1f points", 100*e.Efficiency), percentSigned(e.Breakdown)})
	}
	p.grid([]string{"step", "head", "power", "efficiency", "NPSH at which the head falls"}, rows)
	p.prose("  ", "  ", "blades solved in full, of a list at every section alike; drawn to a thrust the rotor turns as much faster or slower as it takes")
}
