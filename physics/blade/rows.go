package blade

import "math"

const (
	rowTolerance  = 1e-12 // relative, of velocities and radii
	rowIterations = 200
	wakeShape     = 1.4 // displacement over momentum thickness of a wake; own
)

// solveRow finds the station behind a row from the one ahead. speed is that of the row.
func (s *Stage) solveRow(r *row, c *Condition, in, out, warm *Station, rs *RowState) Reason {
	n := s.radii
	speed := c.RotorSpeed
	turn := 1.0 // the way the pump turns
	if speed < 0 {
		turn = -1
	}
	hand := -turn
	if !r.rotor {
		speed, hand = 0, turn
	}
	z := float64(r.Blades)
	terms := &s.Pump.Terms
	a, b := &r.at[0], &r.at[1]
	offset := 0.0
	if r.rotor {
		offset = terms.DeviationOffset
	}
	mass := c.Density * c.Flow

	// what the inlet settles
	type inlet struct{ tan, beta, cos, incidence, rough, smooth, w float64 }
	var at [MaxRadii]inlet
	var bal balance
	*out = Station{}
	area := (b.tip*b.tip - b.hub*b.hub) / (a.tip*a.tip - a.hub*a.hub)
	reference := 1 / SmoothPlateFriction(referenceReynolds)
	for j := range n {
		e := &rs.Elements[j]
		*e = Element{InletRadius: in.Radius[j]}
		v := in.Meridional[j]
		t := hand * (in.Tangential[j] - speed*in.Radius[j]) / v
		sec := r.section((in.Radius[j] - a.hub) / (a.tip - a.hub))
		i := &at[j]
		i.tan, i.beta, i.cos = t, math.Atan(t), 1/math.Sqrt(1+t*t)
		i.w = v / i.cos
		i.incidence = i.beta - turn*sec.inlet
		e.Reynolds = i.w * sec.chord / c.Viscosity
		e.RoughnessRatio = r.roughness / AdmissibleRoughness(c.Viscosity, i.w)
		i.smooth = SmoothPlateFriction(e.Reynolds) * reference
		i.rough = PlateFriction(e.Reynolds, sec.chord, r.roughness) * reference
		out.Radius[j] = math.Sqrt(b.hub*b.hub + area*(in.Radius[j]*in.Radius[j]-a.hub*a.hub))
		out.Meridional[j] = v / area
		bal.work[j] = speed
	}
	if warm != nil {
		out.Radius, out.Meridional = warm.Radius, warm.Meridional
	}
	// how the gap's loss lies over the span
	var tipward Profile
	if r.rotor && r.TipGap > 0 {
		sum := 0.0
		for j := range n {
			x := float64(j) / float64(n-1)
			tipward[j] = x * x
			sum += weight(j, n) * tipward[j]
		}
		for j := range n {
			tipward[j] /= sum
		}
	}
	var leak Gap
	var wall [2]float64    // power lost on hub and casing, W
	var extra Profile      // swirl that a design adds where more is lost, m/s
	var blade, tan Profile // swirl off the blade, m/s, and tangent of the flow angle there
	last := math.Inf(1)
	var mix mixer
	mix.start(out, n)
	for round := range rowIterations {
		rs.Iterations = round + 1
		for j := range n {
			e, i := &rs.Elements[j], &at[j]
			r1, r2, v1, v2 := in.Radius[j], out.Radius[j], in.Meridional[j], out.Meridional[j]
			sec := r.section((r2 - b.hub) / (b.tip - b.hub))
			pitch := math.Pi * (r1 + r2) / z
			e.Solidity = sec.chord / pitch
			e.Incidence, e.LeastIncidence = i.incidence, turn*sec.incidence
			if s.aim != nil {
				e.Incidence = s.incidence
			}
			e.LiebleinDeviation = turn*sec.deviation + sec.slope*(e.Incidence-e.LeastIncidence) + offset
			e.CarterDeviation = turn*sec.carterDeviation + sec.slope*(i.beta-turn*sec.carterInlet) + offset
			e.Deviation = e.LiebleinDeviation
			if terms.Deviation == "Carter" {
				e.Deviation = e.CarterDeviation
			}
			t2 := 0.0
			if s.aim == nil {
				t2 = math.Tan(turn*sec.outlet + e.Deviation)
			} else { // the swirl is given, the blade is to be found
				t2 = hand * (s.aim(r.rotor, r2) + extra[j] - speed*r2) / v2
			}
			cos2 := 1 / math.Sqrt(1+t2*t2)
			w2 := v2 / cos2
			e.leaving = math.Atan(t2)
			bladed := speed*r2 + hand*v2*t2
			change := r2*bladed - r1*in.Tangential[j]
			turning := change / (r1 * v1)
			clean := i.w / w2 * suction(i.cos, turning, e.Solidity, 0, 0)
			e.Suction = suction(i.cos, turning, e.Solidity, e.Incidence-e.LeastIncidence, r.form.incidence)
			e.EquivalentDiffusion = i.w / w2 * e.Suction
			e.clean = clean * w2 / i.w
			e.Deceleration = w2 / i.w
			e.DiffusionFactor = DiffusionFactor(i.w, w2, change/((r1+r2)/2), e.Solidity)
			tm := (i.tan*v1 + t2*v2) / (v1 + v2)
			cm := 1 / math.Sqrt(1+tm*tm)
			vm := (v1 + v2) / 2
			meanHead := vm * vm / (cm * cm) / 2
			e.Lift = 2 / e.Solidity * cm * math.Abs(change) / ((r1 + r2) / 2 * vm)

			wake := WakeThickness(clean)
			more := WakeThickness(e.EquivalentDiffusion) - wake
			head2 := w2 * w2 / 2
			k := WakeLoss(1, e.Solidity, cos2) * head2 * terms.ProfileFactor
			l := &e.Loss
			l.Profile = k * wake * i.smooth
			l.Roughness = k * wake * (i.rough - i.smooth)
			l.Incidence = k * more * i.rough
			l.Edges = EdgeLoss(2*r.TrailingRadius, pitch*cos2, wakeShape*(wake+more)*i.rough*sec.chord)*head2 +
				NoseLoss(r.LeadingRadius, sec.chord, e.Solidity, i.cos)*i.w*i.w/2
			l.Secondary = SecondaryDrag(e.Lift) * e.Solidity / cm * meanHead * terms.EndwallFactor
			if j == 0 || j == n-1 {
				along := vm / cm // the hub turns with the blades
				if j > 0 || !r.rotor {
					along = math.Hypot(vm, (in.Tangential[j]+bladed)/2)
				}
				stagger := math.Cos((i.beta + e.leaving) / 2)
				wall[min(j, 1)] = WallPower(c.Density, along, (r1+r2)/2, sec.chord, stagger) * i.rough
			}
			if j == n-1 && tipward[j] > 0 {
				leak = TipLeak(r.Blades, c.Density, r.TipGap, sec.chord, pitch, vm/cm, change/((r1+r2)/2))
			}
			blade[j], tan[j] = bladed, t2
			// how profile loss falls with the velocity behind
			grow := -e.EquivalentDiffusion/v2 - i.w/w2*0.61*i.cos*i.cos/e.Solidity*r2*math.Abs(t2)/(r1*v1)
			bal.gain[j] = -2*(l.Profile+l.Roughness+l.Incidence)/v2 - k*i.rough*wakeSlope(e.EquivalentDiffusion)*grow
		}
		for j := range n { // what tips and walls do to the rest of the span
			l := &rs.Elements[j].Loss
			l.Annulus = (wall[0] + wall[1]) / mass * terms.EndwallFactor
			l.Gap = leak.Power / mass * tipward[j] * terms.GapFactor
			past := math.Min(leak.Flow/mass*tipward[j], 1) // share that goes over the tips and is not turned
			ahead := past * in.Radius[j] / out.Radius[j] * in.Tangential[j]
			bal.swirl[j], bal.lean[j] = (1-past)*speed*out.Radius[j]+ahead, (1-past)*hand*tan[j]
			if s.aim != nil {
				bal.swirl[j], bal.lean[j], bal.gain[j] = (1-past)*blade[j]+ahead, 0, 0
			}
			bal.energy[j] = in.Total[j] - l.Sum() - speed*in.Radius[j]*in.Tangential[j] - bal.gain[j]*out.Meridional[j]
			bal.work[j] = speed * out.Radius[j]
		}
		if s.aim != nil && r.rotor { // where more is lost, more work is asked for, so that the head comes out as asked
			mean := 0.0
			for j := range n {
				mean += weight(j, n) * rs.Elements[j].Loss.Sum()
			}
			for j := range n {
				more := (rs.Elements[j].Loss.Sum() - mean) / (speed * out.Radius[j])
				bal.swirl[j] += more - extra[j]
				extra[j] = more
			}
		}
		moved, reason := solveRadial(out, n, &bal, b, c.Flow)
		if reason != Solved {
			if rs.stalled(n) {
				return Stalled
			}
			return reason
		}
		if math.IsNaN(moved) {
			return NotConverged
		}
		if moved < rowTolerance || moved < 1e-10 && moved >= last {
			break
		}
		if round == rowIterations-1 {
			if rs.stalled(n) {
				return Stalled
			}
			return NotConverged
		}
		last = moved
		if s.aim == nil {
			mix.next(out, n)
		}
	}
	rs.Loss, rs.Torque, rs.GapFlow = Loss{}, 0, leak.Flow
	for j := range n {
		e := &rs.Elements[j]
		e.OutletRadius = out.Radius[j]
		out.Tangential[j] = bal.swirl[j] + bal.lean[j]*out.Meridional[j]
		work := out.Radius[j]*out.Tangential[j] - in.Radius[j]*in.Tangential[j]
		out.Total[j] = in.Total[j] + speed*work - e.Loss.Sum()
		e.Inlet = NewTriangle(in.Meridional[j], in.Tangential[j], speed*in.Radius[j])
		e.Outlet = NewTriangle(out.Meridional[j], out.Tangential[j], speed*out.Radius[j])
		rs.Loss.add(&e.Loss, weight(j, n)*mass)
		rs.Torque += weight(j, n) * mass * work
	}
	if r.rotor && r.TipGap > 0 {
		share := math.Min(r.GapEccentricity/r.TipGap, 1)
		rs.GapNarrow, rs.GapWide = rs.Loss.Gap*(1-share), rs.Loss.Gap*(1+share)
	}
	if rs.stalled(n) && !s.lenient {
		return Stalled
	}
	return Solved
}

// stalled tells whether a row has stalled, and notes on how much of its flow.
func (rs *RowState) stalled(n int) bool {
	rs.StalledShare = 0
	for j := range n {
		if rs.Elements[j].EquivalentDiffusion > stallDiffusion {
			rs.StalledShare += weight(j, n)
		}
	}
	return rs.StalledShare >= stalledShare
}

// Solve works out what the blades do at a condition, into st. What st held before is overwritten.
func (s *Stage) Solve(c Condition, st *State) Reason { return s.solve(c, st, nil) }

// solve starts from a state of blades that differ little, if there is one.
func (s *Stage) solve(c Condition, st, warm *State) Reason {
	n := s.radii
	if !(c.Flow > 0) || c.RotorSpeed == 0 || !(c.Density > 0) || !(c.Viscosity > 0) || !(c.Gravity > 0) ||
		math.IsInf(c.Flow+math.Abs(c.RotorSpeed)+c.Density+c.Viscosity+c.Gravity, 0) {
		return NoRow
	}
	*st = State{RotorSpeed: c.RotorSpeed, Flow: c.Flow, Radii: n, Last: 2*s.count - 1, condition: c}
	r := &s.rows[0]
	var w1, w3 *Station
	if warm != nil {
		w1, w3 = &warm.Stations[1], &warm.Stations[3]
	}
	if reason := enter(&st.Stations[0], n, &r.at[0], c.Flow); reason != Solved {
		return reason
	}
	if reason := s.solveRow(r, &c, &st.Stations[0], &st.Stations[1], w1, &st.Impeller); reason != Solved {
		return reason
	}
	if s.count == 2 {
		t := &s.rows[1]
		if reason := carry(&st.Stations[1], &st.Stations[2], n, &t.at[0], &r.at[1], c.Flow); reason != Solved {
			return reason
		}
		if reason := s.solveRow(t, &c, &st.Stations[2], &st.Stations[3], w3, &st.Stator); reason != Solved {
			return reason
		}
	}
	s.sum(c, st)
	return Solved
}

// enter works out even inflow along the axis into the channel.
func enter(st *Station, n int, p *place, flow float64) Reason {
	for j := range n {
		f := float64(j) / float64(n-1)
		st.Radius[j] = math.Sqrt(p.hub*p.hub + f*(p.tip*p.tip-p.hub*p.hub))
		st.Meridional[j] = flow / (math.Pi * (p.tip*p.tip - p.hub*p.hub))
	}
	var b balance
	return settle(st, n, p, flow, func() {}, &b)
}

// carry takes the water from behind one row to ahead of the next: swirl times radius and total pressure
// stay on each stream surface.
func carry(from, to *Station, n int, p, was *place, flow float64) Reason {
	*to = *from
	if *p == *was {
		return Solved
	}
	area := (p.tip*p.tip - p.hub*p.hub) / (was.tip*was.tip - was.hub*was.hub)
	for j := range n {
		to.Radius[j] = math.Sqrt(p.hub*p.hub + area*(from.Radius[j]*from.Radius[j]-was.hub*was.hub))
		to.Meridional[j] = from.Meridional[j] / area
	}
	var b balance
	b.energy = from.Total
	return settle(to, n, p, flow, func() {
		for j := range n {
			b.swirl[j] = from.Radius[j] * from.Tangential[j] / to.Radius[j]
			to.Tangential[j] = b.swirl[j]
		}
	}, &b)
}

func settle(st *Station, n int, p *place, flow float64, swirl func(), b *balance) Reason {
	last := math.Inf(1)
	for range rowIterations {
		swirl()
		moved, reason := solveRadial(st, n, b, p, flow)
		if reason != Solved {
			return reason
		}
		if moved < rowTolerance || moved < 1e-10 && moved >= last {
			swirl()
			return Solved
		}
		last = moved
	}
	return NotConverged
}

// sum gathers the rows into the pump.
func (s *Stage) sum(c Condition, st *State) {
	n := s.radii
	mass := c.Density * c.Flow
	tip := s.rows[0].at[0].tip
	d := 2 * tip
	st.tip = tip
	g := c.Gravity
	out := &st.Stations[st.Last]
	speed := math.Abs(c.RotorSpeed)
	p := &s.rows[s.count-1].at[1]
	axial := c.Flow / (math.Pi * (p.tip*p.tip - p.hub*p.hub))
	var total, mixing float64
	for j := range n {
		w := weight(j, n)
		total += w * (out.Total[j] - st.Stations[0].Total[j])
		x := out.Meridional[j]*out.cosine[j] - axial
		mixing += w * x * x / 2
	}
	st.Torque = st.Impeller.Torque
	st.EulerHead = c.RotorSpeed * st.Torque / (mass * g)
	st.TotalHead = total / g
	st.Mixing = mass * mixing
	st.Swirl = newSwirl(st, c)
	st.Head = st.TotalHead - (st.Mixing+st.Swirl.Left)/(mass*g)
	r := &s.rows[0]
	hub, edge := r.at[1].hub, r.section(1)
	st.DiscFriction = DiscFriction(c.Density, c.Viscosity, speed, hub, 0.1*hub)
	st.TipFriction = TipLandFriction(r.Blades, c.Density, c.Viscosity, speed*tip, edge.chord, edge.thickness)
	st.Leakage = s.Pump.Terms.LeakageShare * c.RotorSpeed * st.Torque
	st.ShaftPower = c.RotorSpeed*st.Torque + st.DiscFriction + st.TipFriction + st.Leakage
	st.ShaftTorque = st.ShaftPower / c.RotorSpeed
	st.Efficiency = mass * g * st.Head / st.ShaftPower
	st.TotalEfficiency = mass * g * st.TotalHead / st.ShaftPower
	st.BladeEfficiency = st.TotalHead / st.EulerHead
	st.FlowCoefficient = c.Flow / (speed * d * d * d)
	st.HeadCoefficient = g * st.Head / (speed * speed * d * d)
}

// HeadByPressure returns the rise of total pressure across the blades as a head, in m, the other way
// round: static pressures from the radial equilibrium, kinetic pressures from the velocities.
//
//	H = Σ x·[p/ρ + ½v_m² + ½v_θ²]_out/g − the same ahead,  p(r) = p_mid + ρ∫(v_θ²/r + v_m²·sin λ·cos λ·A′/A) dr
//
//	x      share of the flow of each stream surface
//	p_mid  static pressure at mid span: what work and losses on that surface leave
//
// Holds to rounding wherever a state is found, as the losses are gathered elsewhere.
//
// Source: own. Tests: TestHeadRoutesLaw.
func (st *State) HeadByPressure() float64 {
	n := st.Radii
	at := func(s *Station, mid float64) float64 {
		m := n / 2
		var p Profile
		p[m] = mid
		rise := func(j int) float64 {
			dr := s.Radius[j+1] - s.Radius[j]
			return CentrifugalRise(s.Radius[j], s.Radius[j+1], s.Tangential[j], s.Tangential[j+1]) +
				dr/2*(s.bend[j]*s.Meridional[j]*s.Meridional[j]+s.bend[j+1]*s.Meridional[j+1]*s.Meridional[j+1])
		}
		for j := m; j < n-1; j++ {
			p[j+1] = p[j] + rise(j)
		}
		for j := m - 1; j >= 0; j-- {
			p[j] = p[j+1] - rise(j)
		}
		sum := 0.0
		for j := range n {
			sum += weight(j, n) * (p[j] + (s.Meridional[j]*s.Meridional[j]+s.Tangential[j]*s.Tangential[j])/2)
		}
		return sum
	}
	m := n / 2
	kinetic := func(s *Station) float64 {
		return (s.Meridional[m]*s.Meridional[m] + s.Tangential[m]*s.Tangential[m]) / 2
	}
	first, last := &st.Stations[0], &st.Stations[st.Last]
	// along the mid surface: Euler's work less losses
	e := st.condition.RotorSpeed*(st.Stations[1].Radius[m]*st.Stations[1].Tangential[m]-first.Radius[m]*first.Tangential[m]) -
		st.Impeller.Elements[m].Loss.Sum() - st.Stator.Elements[m].Loss.Sum()
	return (at(last, e-kinetic(last)) - at(first, -kinetic(first))) / st.condition.Gravity
}
