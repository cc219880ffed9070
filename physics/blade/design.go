package blade

import "math"

// Duty is what blades are to be found for.
type Duty struct {
	Head            float64 `unit:"m" doc:"useful head" range:"0.1 .. 500"`
	Total           bool    `doc:"the head is the rise of total pressure with its swirl, as for an impeller alone" assume:"false"`
	KeepChords      bool    `doc:"chords and thicknesses of the impeller stay as they are drawn" assume:"false"`
	Vortex          float64 `unit:"1" doc:"share of the swirl that turns as a solid body at mid span: 0 a free vortex, 1 a forced one" range:"0 .. 1" assume:"0.2" source:"own"`
	Incidence       float64 `unit:"deg" doc:"incidence at the leading edges: by how much the water lies flatter to the circumferential direction than the blade" range:"-5 .. 10" usual:"0 .. 4" assume:"1.5" source:"brennen-1994"`
	Diffusion       float64 `unit:"1" doc:"largest diffusion factor on the impeller" range:"0.2 .. 0.7" assume:"0.45" source:"lieblein-1953"`
	StatorLoad      float64 `unit:"1" doc:"largest diffusion factor on the stator" range:"0.2 .. 0.7" assume:"0.50" source:"lieblein-1953"`
	LeastSolidity   float64 `unit:"1" doc:"solidity that no section goes below" range:"0.2 .. 2" assume:"0.5" source:"own"`
	StatorSolidity  float64 `unit:"1" doc:"solidity that no section of the stator goes below" range:"0.2 .. 2.5" assume:"1" source:"own"`
	LargestSolidity float64 `unit:"1" doc:"solidity that no section goes beyond" range:"0.5 .. 3" assume:"1.8" source:"own"`
	LeastThickness  float64 `unit:"mm" doc:"thickness that the process still makes" range:"0.2 .. 20" assume:"2.4" source:"own"`
	ThicknessRatio  float64 `unit:"1" doc:"thickness over chord where that is more" range:"0.02 .. 0.2" assume:"0.06" source:"own"`
}

// Designed is what a design came to, by its own analysis.
type Designed struct {
	Pump    Pump
	State   State
	Closure float64 `unit:"1" doc:"head of the analysis over the head that was asked for, less one"`
	// Cavitation is that at the design point, at no stated NPSH.
	Cavitation Cavitation `key:"-"`
	// HeadPerDegree is by how much of itself the head rises where the impeller's trailing edge stands a
	// degree steeper.
	HeadPerDegree float64 `unit:"1" doc:"share of the head that one degree at the impeller's trailing edge moves"`
	Rounds        int     `key:"-"`
}

// NoCommonFactor tells that two blade numbers share no factor, so that no two blades pass at once.
func NoCommonFactor(a, b int) bool {
	for b != 0 {
		a, b = b, a%b
	}
	return a == 1
}

// StatorBlades returns the number of stator blades nearest to one asked for that shares no factor with
// the impeller's.
func StatorBlades(impeller, asked int) int {
	if impeller < 1 {
		return asked
	}
	for d := 0; ; d++ {
		if n := asked + d; n > 0 && NoCommonFactor(impeller, n) {
			return n
		}
		if n := asked - d; n > 1 && NoCommonFactor(impeller, n) {
			return n
		}
	}
}

const designSections = 7

// Design finds angles, chords and thicknesses of a pump's rows for a duty: the swirl behind the impeller as
// asked, with more of it where more is lost, the stator's water along the axis, the same incidence everywhere, loading within its bound.
// The pump says channel, blade numbers, forms, edges, gap and surface; what it says of the sections is not
// read. Where the blades come out as stalled, they are returned with that reason; where the water leaves any that were tried, the reason comes
// without blades. The angles are corrected by the same analysis that judges them, until the head is met to 1e-6.
func Design(p Pump, d Duty, c Condition, radii int) (Designed, Reason) {
	var none Designed
	spans := make([]float64, designSections)
	for i := range spans {
		spans[i] = float64(i) / (designSections - 1)
	}
	start, ok := p.Channel.at(p.Impeller.Start)
	if !ok || p.Impeller.Blades < 1 || !(d.Head > 0) || radii < 7 || radii > MaxRadii || !(c.RotorSpeed > 0) || !(c.Flow > 0) || d.Vortex < 0 || d.Vortex > 1 {
		return none, NoRow
	}
	flat := func(r *Row) {
		r.Span = spans
		r.InletAngle, r.OutletAngle = make([]float64, designSections), make([]float64, designSections)
		r.Chord, r.Thickness = make([]float64, designSections), make([]float64, designSections)
		r.ChordFactor, r.ThicknessFactor, r.InletAngleOffset, r.OutletAngleOffset = 1, 1, 0, 0
	}
	var chord, thick func(float64) float64
	if d.KeepChords {
		chord, thick = along(p.Impeller.Span, p.Impeller.Chord, 1), along(p.Impeller.Span, p.Impeller.Thickness, 1)
		if chord == nil || thick == nil {
			return none, NoRow
		}
	}
	flat(&p.Impeller)
	flat(&p.Stator)
	axial := c.Flow / (math.Pi * (start.tip*start.tip - start.hub*start.hub))
	middle := math.Sqrt((start.tip*start.tip + start.hub*start.hub) / 2)
	shape := func(r float64) float64 { return 1 - d.Vortex + d.Vortex*r*r/(middle*middle) } // of r·v_θ
	momentum := c.Gravity * d.Head / 0.85 / c.RotorSpeed                                    // r·v_θ at mid span
	var largest [2][designSections]float64
	for i, h := range spans {
		r := start.hub + (start.tip-start.hub)*h
		u, t := c.RotorSpeed*r, momentum*shape(r)/r
		first := func(row *Row, in, out, load, least float64) float64 {
			row.InletAngle[i], row.OutletAngle[i] = FromAxis(math.Atan(in/axial)), FromAxis(math.Atan(out/axial)-4*degree)
			return d.fit(row, i, r, math.Hypot(in, axial), math.Hypot(out, axial), in-out, load, least)
		}
		largest[0][i] = first(&p.Impeller, u, u-t, d.Diffusion, d.LeastSolidity)
		largest[1][i] = first(&p.Stator, t, 0, d.StatorLoad, d.StatorSolidity)
	}
	d.straighten(&p.Impeller, largest[0][:])
	d.straighten(&p.Stator, largest[1][:])
	if d.KeepChords {
		for i, h := range spans {
			p.Impeller.Chord[i], p.Impeller.Thickness[i] = chord(h), thick(h)
		}
	}
	var st, seen State
	aim := func(rotor bool, r float64) float64 {
		if rotor {
			return momentum * shape(r) / r
		}
		return 0
	}
	for round := range 40 {
		s, reason := NewStage(&p, radii)
		if reason != Solved {
			return none, reason
		}
		// the water as asked: what blades does it need?
		s.lenient, s.aim, s.incidence = true, aim, d.Incidence
		if reason = s.Solve(c, &st); reason != Solved {
			return none, reason
		}
		correct(&p.Impeller, &s.rows[0], &st.Impeller, radii, d, round < 10 && !d.KeepChords, d.Diffusion, d.LeastSolidity)
		if s.count == 2 {
			correct(&p.Stator, &s.rows[1], &st.Stator, radii, d, round < 10, d.StatorLoad, d.StatorSolidity)
		}
		// those blades: what does the water do?
		if s, reason = NewStage(&p, radii); reason != Solved {
			return none, reason
		}
		s.lenient = true
		if reason = s.Solve(c, &seen); reason != Solved {
			return none, reason
		}
		off := d.of(&seen)/d.Head - 1
		if math.Abs(off) < 1e-6 && round > 11 {
			steeper := p
			steeper.Impeller.OutletAngleOffset = degree
			out := Designed{Pump: p, State: seen, Closure: off, Rounds: round, Cavitation: seen.Cavitation(Inlet{}, p.Terms.BreakdownFactor, nil)}
			if s, reason = NewStage(&steeper, radii); reason != Solved {
				return none, reason
			}
			s.lenient = true
			var other State
			if reason = s.Solve(c, &other); reason != Solved {
				return none, reason
			}
			out.HeadPerDegree = d.of(&other)/d.of(&seen) - 1
			if seen.Impeller.StalledShare >= stalledShare || seen.Stator.StalledShare >= stalledShare {
				return out, Stalled
			}
			return out, Solved
		}
		momentum *= 1 - 0.8*off
	}
	return none, NotConverged
}

// of returns the head that the duty speaks of.
func (d *Duty) of(st *State) float64 {
	if d.Total {
		return st.TotalHead
	}
	return st.Head
}

// fit sets the chord of a section so that the loading stays within its bound, and returns the largest that it may have.
func (d *Duty) fit(r *Row, i int, radius, inlet, outlet, change, load, least float64) float64 {
	room := load - 1 + outlet/inlet
	solidity := d.LargestSolidity
	if room > 0 {
		solidity = math.Min(math.Abs(change)/(2*inlet*room), d.LargestSolidity)
	}
	solidity = math.Max(solidity, least)
	pitch := 2 * math.Pi * radius / float64(r.Blades)
	r.Chord[i] = solidity * pitch
	return math.Max(d.LargestSolidity, least) * pitch
}

// straighten gives a row the shortest blades whose chord runs straight from hub to tip and is nowhere below what its sections need,
// but for those that need all they may have: there it is what they may. Thicknesses follow.
func (d *Duty) straighten(r *Row, largest []float64) {
	var free []int
	for i := range r.Chord {
		if r.Chord[i] < largest[i] {
			free = append(free, i)
		}
	}
	line := func(a, b int) (at, slope float64) {
		if a != b {
			slope = (r.Chord[b] - r.Chord[a]) / (r.Span[b] - r.Span[a])
		}
		return r.Chord[a] - slope*r.Span[a], slope
	}
	best, at, slope := math.Inf(1), math.Inf(1), 0.0
	for k, a := range free {
		for _, b := range free[k:] {
			if a == b && len(free) > 1 {
				continue
			}
			x, y := line(a, b)
			holds := true
			for _, i := range free {
				holds = holds && x+y*r.Span[i] >= r.Chord[i]*(1-1e-12)
			}
			if mean := x + y/2; holds && mean < best {
				best, at, slope = mean, x, y
			}
		}
	}
	for i := range r.Chord {
		r.Chord[i] = math.Min(at+slope*r.Span[i], largest[i])
		r.Thickness[i] = math.Max(d.ThicknessRatio*r.Chord[i], d.LeastThickness)
	}
}

// correct sets a row's angles so that its water comes and goes as a solution with given swirl says.
func correct(r *Row, made *row, rs *RowState, n int, d Duty, chords bool, load, least float64) {
	var ahead, x, in, out, w1, w2, change [MaxRadii]float64
	a, b := &made.at[0], &made.at[1]
	for j := range n {
		e := &rs.Elements[j]
		ahead[j] = (e.InletRadius - a.hub) / (a.tip - a.hub)
		x[j] = (e.OutletRadius - b.hub) / (b.tip - b.hub)
		in[j] = FromAxis(FromAxis(e.Inlet.RelativeAngle) - e.Incidence)
		out[j] = FromAxis(e.leaving - e.Deviation)
		w1[j], w2[j] = e.Inlet.Relative, e.Outlet.Relative
		change[j] = e.Outlet.Tangential - e.Inlet.Tangential*e.InletRadius/e.OutletRadius
	}
	at := func(y *[MaxRadii]float64) func(float64) float64 { return along(x[:n], y[:n], 1) }
	fi, fo, f1, f2, fc := along(ahead[:n], in[:n], 1), at(&out), at(&w1), at(&w2), at(&change)
	var largest [designSections]float64
	for i, h := range r.Span {
		r.InletAngle[i], r.OutletAngle[i] = fi(h), fo(h)
		if chords {
			largest[i] = d.fit(r, i, b.hub+(b.tip-b.hub)*h, f1(h), f2(h), fc(h), load, least)
		}
	}
	if chords {
		d.straighten(r, largest[:])
	}
}
