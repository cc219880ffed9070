package report

import (
	"fmt"
	"strings"

	"jetwright/desk"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/quantity"
)

// sizeDuty words what was asked for.
func (s Style) sizeDuty(a *desk.SizeAnswer) string {
	return fmt.Sprintf("%s at rest and %s at %s", s.rounded(a.Need.Thrust, "N"), s.rounded(a.Need.WayThrust, "N"), s.rounded(a.Need.Speed, "m/s"))
}

// sizeRoom words what the drives have to fit into.
func (s Style) sizeRoom(a *desk.SizeAnswer) string {
	n := &a.Need
	t := fmt.Sprintf("an impeller of %s at most (%s less %s of wall and gap on each side); %d cells in series, %s half full, %s full; %s water at %s",
		s.rounded(n.Diameter, "mm"), s.rounded(a.Outside, "mm"), s.rounded(a.Wall, "mm"), a.Series, s.rounded(a.HalfFull, "V"), s.rounded(a.Full, "V"), n.Base.Water.Kind, s.rounded(n.Base.Water.Temperature, "°C"))
	for _, b := range s.sizeBounds(a) {
		t += "; " + b.name + " at most " + s.rounded(b.Value, b.unit)
	}
	return t
}

type sizeBound struct {
	quantity.Optional
	name, key, unit string
}

func (s Style) sizeBounds(a *desk.SizeAnswer) []sizeBound {
	n := &a.Need
	var out []sizeBound
	for _, b := range []sizeBound{
		{n.BatteryPower, "battery power", "battery_power", "W"},
		{n.BatteryCurrent, "battery current", "battery_current", "A"},
		{n.PhaseCurrent, "phase current", "phase_current_peak", "A"},
		{n.MotorSpeed, "motor speed", "motor_speed", "rpm"},
		{n.MotorMass, "motor mass", "motor_mass", "kg"},
	} {
		if b.Set {
			out = append(out, b)
		}
	}
	return out
}

func (p *page) size(a *desk.SizeAnswer) {
	if a.Result.Unmet != nil {
		p.sizeUnmet(a)
		return
	}
	p.heading("Drives for " + p.sizeDuty(a))
	p.prose("  ", "  ", "for "+p.sizeRoom(a))
	p.prose("  ", "  ", fmt.Sprintf("the least power at the battery that does it is about %s; all are judged at %s, at rest and under way alike, so that what one gives more of costs it something else: of %d drives drawn and solved, %d meet the duty there and keep every limit, and no other is better in everything than %d",
		p.rounded(a.Result.LeastPower, "W"), p.rounded(a.Result.Power, "W"), a.Result.Drawn, a.Result.Meeting, a.Result.Front))
	p.line("  %s", p.interval(a.Draws))
	p.sizeTable(a)
	p.prose("  ", "  ", "thrust is gross thrust, as everywhere; left to the winding is the share of the way from the water to its bound, steady, the lesser of rest and way, at the bad end in brackets; what has no word to it is at rest")
	if least := leastMeets(a); a.Draws > 0 && least < 0.9 {
		p.prose("  ", "  ", fmt.Sprintf("meet both is the share of drawn drives that give both thrusts, %.0f %% at the least: a pump that nobody has tested may be as good or as bad as its band; ask for more than you need, or measure", 100*least))
	}
	for i := range a.Proposals {
		p.sizeProposal(a, &a.Proposals[i])
	}
	p.sizeShared(a)
	switch {
	case a.Folder != "":
		p.heading("Written")
		for _, x := range a.Proposals {
			p.line("  %s/%s/drive.toml", a.Folder, x.Name)
		}
		p.line("  then: jetwright limits %s/%s", a.Folder, a.Proposals[0].Name)
		p.line("        jetwright limits %s/%s --power %q --speed %q", a.Folder, a.Proposals[0].Name, metric(a.Result.Power, "W"), metric(a.Need.Speed, "m/s"))
	case len(a.Proposals) > 0:
		p.heading("Nothing was written")
		p.line("  name a new folder to have each as a drive of its own: jetwright size sled --thrust …")
	}
}

// metric writes a number in a unit as it can be typed.
func metric(x float64, unit string) string { return Style{}.rounded(x, unit) }

func (p *page) sizeTable(a *desk.SizeAnswer) {
	head := []string{""}
	for _, x := range a.Proposals {
		head = append(head, x.Name)
	}
	var rows [][]string
	row := func(label string, of func(x *desk.SizeProposal) string) {
		r := []string{label}
		for i := range a.Proposals {
			r = append(r, of(&a.Proposals[i]))
		}
		rows = append(rows, r)
	}
	rest := func(label, path string) {
		row(label, func(x *desk.SizeProposal) string { return p.text(x.Rest.Of(path)) })
	}
	way := func(label, path string) {
		row(label, func(x *desk.SizeProposal) string { return p.text(x.Way.Of(path)) })
	}
	plain := func(label, path string) {
		row(label, func(x *desk.SizeProposal) string {
			g := x.Rest.Of(path)
			return quantity.Format(g.Value, p.unit(g.Unit))
		})
	}
	rest("thrust at rest", "thrust")
	way("thrust under way", "thrust")
	row("left to the winding", func(x *desk.SizeProposal) string { return left(x.Winding) })
	if a.Draws > 0 {
		row("meet both", func(x *desk.SizeProposal) string { return fmt.Sprintf("%.0f %%", 100*x.Meets) })
	}
	row("impeller", func(x *desk.SizeProposal) string { return p.rounded(x.Drive.Impeller.Diameter, "mm") })
	row("nozzle", func(x *desk.SizeProposal) string { return p.rounded(x.Drive.Nozzle.Diameter, "mm") })
	row("intake throat", func(x *desk.SizeProposal) string { return p.rounded(x.Drive.Intake.ThroatArea.Value, "cm²") })
	plain("rotor speed", "rotor_speed")
	row("loading ψ", func(x *desk.SizeProposal) string { return fmt.Sprintf("%.3f", x.Rest.Of("jet.head_coefficient").Value) })
	plain("flow", "jet.flow")
	plain("head", "jet.head")
	row("specific speed", func(x *desk.SizeProposal) string { return fmt.Sprintf("%.2f", x.Rest.Of("jet.specific_speed").Value) })
	row("suction spec. speed", func(x *desk.SizeProposal) string {
		return fmt.Sprintf("%.2f, way %.2f", x.Rest.Of("jet.suction_specific_speed").Value, x.Way.Of("jet.suction_specific_speed").Value)
	})
	row("motor", func(x *desk.SizeProposal) string { return p.rounded(x.Drive.Motor.SpeedConstant.Value, "rpm/V") })
	row("", func(x *desk.SizeProposal) string {
		return p.rounded(x.Drive.Motor.WindingResistance, "mΩ") + ", " + p.rounded(x.Sized.MotorMass, "kg")
	})
	plain("phase current, rms", "motor.phase_current_rms")
	plain("battery current", "supply.battery_current")
	row("cells", func(x *desk.SizeProposal) string {
		return fmt.Sprintf("%d × %d", x.Drive.Battery.Series, x.Drive.Battery.Parallel)
	})
	row("blades for it", func(x *desk.SizeProposal) string {
		switch {
		case x.Blades == nil && len(x.Instead) > 0:
			return "with a change"
		case x.Blades == nil:
			return "none found"
		}
		if x.Blades.MayCavitate() {
			return "may cavitate"
		}
		return "found"
	})
	p.grid(head, rows)
}

// sizeBlades words whether blades do what a proposal's pump is to do.
func (s Style) sizeBlades(x *desk.SizeProposal) string {
	if x.Blades == nil {
		t := "none do it at rest as it is: " + x.WhyNot
		if len(x.Instead) > 0 {
			return t + "; there are some with " + strings.Join(x.Instead, ", or with ")
		}
		return t + "; no larger hub, narrower gap, smoother surface or faster rotor that was tried helps: a larger nozzle or impeller asks for less head"
	}
	return fmt.Sprintf("found for rest, efficiency %.0f %% by their own analysis, without what the intake costs; their head falls below an NPSH of %s, within ± 20 %% of S; the drive has %s%s",
		100*x.Blades.State.Efficiency, s.rounded(x.Blades.Cavitation.BreakdownNPSH, "m"), s.rounded(x.Blades.Available, "m"), cavitatesText(x.Blades))
}

// sizeLimit words a limit of a proposal.
func (s Style) sizeLimit(l desk.SizeLimit) string {
	where := "at rest"
	if l.Way {
		where = "under way"
	}
	return fmt.Sprintf("%s %s %s, %s: %s", l.Name, s.rounded(l.Value, l.Unit), where, s.bound(l.SetLimit), left(l.SetLimit))
}

func (p *page) sizeProposal(a *desk.SizeAnswer, x *desk.SizeProposal) {
	p.heading(fmt.Sprintf("%s: %s impeller, %s nozzle, %s", x.Name, p.rounded(x.Drive.Impeller.Diameter, "mm"), p.rounded(x.Drive.Nozzle.Diameter, "mm"), p.rounded(x.Rest.Of("rotor_speed").Value, "rpm")))
	if len(x.Why) > 0 {
		p.prose("  ", "    ", "apart: "+strings.Join(x.Why, "; "))
	}
	var near []string
	for _, l := range x.Nearest {
		near = append(near, p.sizeLimit(l)+" left")
	}
	p.prose("  ", "    ", "nearest limits: "+strings.Join(near, "; "))
	p.prose("  ", "    ", "thrust deduction: "+"of its thrust under way "+p.text(x.Way.Of("net_thrust"))+" are left for the craft")
	p.prose("  ", "    ", "blades: "+p.sizeBlades(x))
	for _, e := range x.Ends {
		p.prose("  ", "    ", "cannot give "+p.sizeEnd(e))
	}
}

// sizeEnd words where a proposal ends.
func (s Style) sizeEnd(e desk.SizeEnd) string {
	switch e.Kind {
	case desk.EndOfPower:
		return fmt.Sprintf("more than about %s at rest, with %s at the battery: %s ends it there", s.rounded(e.Thrust, "N"), s.rounded(e.Power, "W"), e.Limit)
	case desk.EndOfSpeed:
		return fmt.Sprintf("the %s that are asked for under way beyond %s with %s", s.rounded(e.Thrust, "N"), s.rounded(e.Speed, "m/s"), s.rounded(e.Power, "W"))
	}
	return fmt.Sprintf("more than about %s once the battery is at %.0f %%: its voltage does not reach, or is at its cut-off", s.rounded(e.Power, "W"), 100*desk.LowCharge)
}

func leastMeets(a *desk.SizeAnswer) float64 {
	least := 1.0
	for _, x := range a.Proposals {
		least = min(least, x.Meets)
	}
	return least
}

// sizeShared says what holds for all proposals alike.
func (p *page) sizeShared(a *desk.SizeAnswer) {
	if len(a.Proposals) == 0 {
		return
	}
	p.heading("Of all of them")
	for _, l := range a.Proposals[0].Broken {
		p.prose("  ", "    ", "broken by what was asked for: "+p.sizeLimit(l)+"; "+l.Why)
	}
	p.prose("  ", "    ", "not judged: "+strings.Join(a.Proposals[0].Open, ", "))
	p.prose("  ", "    ", "from statistics: "+"head and efficiency of the pump by its specific speed (Cordier's line and three fits of attainable efficiency), motor by its mass, cells of a usual kind; each with its band, in drive.toml with its source. Cooling and cables are still to be drawn; so are blades (jetwright blades FOLDER --design), which are looked for here with a hub and gap as sized and are the better judge of what the pump can do")
}

func (p *page) sizeUnmet(a *desk.SizeAnswer) {
	u := a.Result.Unmet
	p.heading("No drive does " + p.sizeDuty(a))
	p.prose("  ", "  ", "for "+p.sizeRoom(a))
	if u.Nearest == nil {
		p.prose("  ", "    ", "none of the drives drawn has a state at all; one of them: "+u.Why)
	} else {
		p.prose("  ", "    ", fmt.Sprintf("the one of %d drives that misses least has an impeller of %s, a nozzle of %s and %s at the battery, and misses:",
			a.Result.Drawn, p.rounded(u.Nearest.Drive.Impeller.Diameter, "mm"), p.rounded(u.Nearest.Drive.Nozzle.Diameter, "mm"), p.rounded(u.Nearest.Power, "W")))
		for _, c := range u.Missed {
			p.prose("  - ", "    ", p.missed(c))
		}
	}
	p.heading("In the way")
	p.prose("  ", "    ", "reason: "+sizeReason(u))
	for _, e := range u.Enough {
		p.prose("  - ", "    ", p.enough(a, e))
	}
	if u.Share > 0 {
		p.prose("  ", "    ", "with everything as it is: "+fmt.Sprintf("%s at rest and %s under way, %.0f %% of the duty, can be had", p.rounded(u.Share*a.Need.Thrust, "N"), p.rounded(u.Share*a.Need.WayThrust, "N"), 100*u.Share))
	}
}

// enough words to what a bound would have to be moved.
func (s Style) enough(a *desk.SizeAnswer, e explore.Enough) string {
	if e.What == explore.ImpellerDiameter {
		return fmt.Sprintf("%s: %s; %s would be enough, which is --diameter %q", e.What, s.rounded(e.From, e.Unit), s.rounded(e.To, e.Unit), s.rounded(e.To+2*a.Wall, "mm"))
	}
	if e.What == "voltage" {
		t := fmt.Sprintf("%s: %s; %s would be enough", e.What, s.rounded(e.From, e.Unit), s.rounded(e.To, e.Unit))
		if full := a.Full * e.To / a.HalfFull; full > 60 {
			t += fmt.Sprintf(", which stands at %s when full: above 60 V DC a circuit is hazardous even dry", s.rounded(full, "V"))
		}
		return t
	}
	if e.Unit == "1" {
		return fmt.Sprintf("%s: %.2f times as much would be enough", e.What, e.To)
	}
	return fmt.Sprintf("%s: %s; %s would be enough, %.0f %% more", e.What, s.rounded(e.From, e.Unit), s.rounded(e.To, e.Unit), 100*(e.To/e.From-1))
}

// sizeReason names what is in the way.
func sizeReason(u *explore.SizeUnmet) string {
	if len(u.Enough) > 0 {
		return u.Enough[0].What
	}
	if u.Nearest == nil {
		return "no state"
	}
	for _, c := range u.Missed {
		if c.Name != drive.RestThrust && c.Name != drive.UnderWayThrust {
			return c.Name + "; no single bound that is moved up to eight times as far is enough"
		}
	}
	return "thrust; no single bound that is moved up to eight times as far is enough"
}

// missed words what the nearest drive misses.
func (s Style) missed(c drive.Check) string {
	where := "at rest"
	if c.Way {
		where = "under way"
	}
	if strings.HasSuffix(c.Name, where) {
		where = ""
	}
	sign := "at most"
	if c.Sense == quantity.AtLeast {
		sign = "at least"
	}
	t := strings.TrimSpace(c.Name+" "+where) + ": " + s.rounded(c.Value, c.Unit) + ", " + sign + " " + s.rounded(c.Allowed, c.Unit)
	if m := c.Margin(); m < 0 {
		return t + fmt.Sprintf(": %.3g %% beyond", -100*m)
	}
	return t + fmt.Sprintf(": %.1f %% left, where sizing leaves %.0f %%", 100*c.Margin(), 100*(c.Margin()-c.Slack))
}

func (s Style) sizeObject(a *desk.SizeAnswer) object {
	n := &a.Need
	asked := object{
		{"thrust_N", s.exact(n.Thrust, "N")},
		{"thrust_under_way_N", s.exact(n.WayThrust, "N")},
		{"speed_m_s", s.exact(n.Speed, "m/s")},
		{"outside_diameter_mm", s.exact(a.Outside, "mm")},
		{"wall_mm", s.exact(a.Wall, "mm")},
		{"largest_impeller_mm", s.exact(n.Diameter, "mm")},
		{"cells_in_series", a.Series},
		{"half_full_V", s.exact(a.HalfFull, "V")},
		{"full_V", s.exact(a.Full, "V")},
		{"water", n.Base.Water.Kind},
	}
	for _, b := range s.sizeBounds(a) {
		asked.add(key("largest_"+b.key, quantity.MustUnit(b.unit)), s.exact(b.Value, b.unit))
	}
	o := object{{"duty", asked}, {"drawn", a.Result.Drawn}, {"met", a.Meets()}, {"draws", a.Draws}}
	if u := a.Result.Unmet; u != nil {
		missed, enough := []object{}, []object{}
		for _, c := range u.Missed {
			missed = append(missed, object{{"what", c.Name}, {"under_way", c.Way}, {key("value", unitOf(c.Unit)), s.exact(c.Value, c.Unit)}, {key("allowed", unitOf(c.Unit)), s.exact(c.Allowed, c.Unit)}, {"margin", round(c.Margin(), 4)}})
		}
		for _, e := range u.Enough {
			enough = append(enough, object{{"what", e.What}, {key("given", unitOf(e.Unit)), s.exact(e.From, e.Unit)}, {key("enough", unitOf(e.Unit)), s.exact(e.To, e.Unit)}})
		}
		o.add("unmet", object{{"reason", sizeReason(u)}, {"missed", missed}, {"enough", enough}, {"share_of_thrust", round(u.Share, 3)}})
	} else {
		o.add("least_battery_power_W", s.exact(a.Result.LeastPower, "W"))
		o.add("battery_power_W", s.exact(a.Result.Power, "W"))
		o.add("meeting", a.Result.Meeting)
		o.add("front", a.Result.Front)
	}
	list := []object{}
	for i := range a.Proposals {
		x := &a.Proposals[i]
		d := &x.Drive
		k := object{{"name", x.Name}}
		if a.Folder != "" {
			k.add("folder", a.Folder+"/"+x.Name)
		}
		state := func(f desk.Figures) object {
			var out object
			for _, path := range []string{"thrust", "net_thrust", "rotor_speed", "jet.flow", "jet.head", "jet.head_coefficient", "jet.flow_coefficient", "jet.specific_speed", "jet.suction_specific_speed", "jet.pump_efficiency", "motor.phase_current_rms", "supply.battery_current", "supply.battery_voltage", "motor.winding_temperature"} {
				g := f.Of(path)
				out.add(key(path[strings.LastIndexByte(path, '.')+1:], g.Unit), s.figure(g))
			}
			return out
		}
		k.add("rest", state(x.Rest))
		k.add("under_way", state(x.Way))
		k.add("winding", s.setLimit(x.Winding))
		if a.Draws > 0 {
			k.add("meets_share_of_draws", round(x.Meets, 4))
		}
		k.add("sized", object{
			{"impeller_diameter_mm", s.exact(d.Impeller.Diameter, "mm")},
			{"nozzle_diameter_mm", s.exact(d.Nozzle.Diameter, "mm")},
			{"throat_area_cm2", s.exact(d.Intake.ThroatArea.Value, "cm²")},
			{"head_coefficient", d.Impeller.HeadCoefficient},
			{"speed_constant_rpm_V", s.exact(d.Motor.SpeedConstant.Value, "rpm/V")},
			{"winding_resistance_mohm", s.exact(d.Motor.WindingResistance, "mΩ")},
			{"motor_mass_kg", s.exact(x.Sized.MotorMass, "kg")},
			{"cells_in_parallel", d.Battery.Parallel},
		})
		limits := func(list []desk.SizeLimit) []object {
			out := []object{}
			for _, l := range list {
				m := s.setLimit(l.SetLimit)
				m.add("under_way", l.Way)
				out = append(out, m)
			}
			return out
		}
		k.add("nearest_limits", limits(x.Nearest))
		k.add("broken_by_the_duty", limits(x.Broken))
		k.add("not_judged", append([]string{}, x.Open...))
		k.add("apart", append([]string{}, x.Why...))
		ends := []object{}
		for _, e := range x.Ends {
			ends = append(ends, object{{"text", s.sizeEnd(e)}, {"battery_power_W", s.exact(e.Power, "W")}})
		}
		k.add("cannot_give", ends)
		blades := object{{"found", x.Blades != nil}}
		if b := x.Blades; b != nil {
			blades = append(blades, object{
				{"efficiency", round(b.State.Efficiency, 4)},
				{"breakdown_npsh_m", round(b.Cavitation.BreakdownNPSH, 4)},
				{"npsh_available_m", round(b.Available, 4)},
				{"cavitates", b.Cavitates()},
				{"may_cavitate", b.MayCavitate()},
			}...)
		} else {
			blades.add("why", x.WhyNot)
			blades.add("instead", append([]string{}, x.Instead...))
		}
		k.add("blades", blades)
		list = append(list, k)
	}
	o.add("proposals", list)
	o.add("notices", notices(a.Notices))
	o.add("cautions", cautionTexts(a.Cautions))
	return o
}
