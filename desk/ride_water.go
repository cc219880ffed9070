package desk

import (
	"math"
	"slices"

	"jetwright/drive"
	"jetwright/explore"
	"jetwright/quantity"
)

// onWater is a ride of the nominal drive and of every draw.
type onWater struct {
	sample  *explore.Sample
	push    drive.Push
	speeds  []float64
	pushes  []drive.Push
	charges []float64
	cruises []float64
	voyage  drive.Voyage
	marcher *drive.Marcher

	start   []drive.Under // of the nominal climb
	nominal afloat
	drawn   []*afloat
	failed  int
}

// afloat is what one drive does on the water.
type afloat struct {
	balance      drive.Balance
	edge, sure   float64
	chart        *drive.RideMap  // of full power
	powers       []drive.Balance // full power first
	climb, given []float64       // by charge
	cruise       []drive.Cruise  // by speed; zero where it cannot be held
	lasts        []float64       // s
	best         drive.Cruise    // planing
	bestLasts    float64         // s
	quick        float64         // to the plane, s; +Inf for never
	climbed      drive.RideLegDone
	climbEnd     drive.Ending
	out          drive.Ridden
	limits       []drive.HeatLimit
}

// How finely a ride is looked at.
const (
	rideSpeeds  = 60
	ridePowers  = 20 // of the picture, nominal
	drawnPowers = 5
	rideRows    = 300.0
)

var rideCharges = []float64{1, 0.5, 0.3, 0.2, 0.1}

func newWater(s *explore.Sample, push drive.Push, b drive.Balance, legs []drive.RideLeg) *onWater {
	w := &onWater{sample: s, push: push, voyage: drive.Voyage{Legs: legs}}
	top := 1.25 * math.Max(b.Held.Speed, b.PlaneSpeed)
	for i := range rideSpeeds {
		w.speeds = append(w.speeds, top*float64(i+1)/rideSpeeds)
	}
	w.pushes = []drive.Push{push}
	for i := range drawnPowers {
		w.pushes = append(w.pushes, drive.Push{Demand: push.Demand, Amount: push.Amount * float64(i+1) / (drawnPowers + 1)})
	}
	for _, c := range rideCharges {
		w.charges = append(w.charges, c*s.Nominal.Drive.Battery.Charge)
	}
	for i := range 8 {
		w.cruises = append(w.cruises, b.Held.Speed*float64(i+3)/10)
	}
	total := 0.0
	for _, l := range legs {
		switch {
		case l.Seconds > 0:
			total += l.Seconds
		case l.Sail.Metres > 0:
			total += l.Sail.Metres / math.Max(0.5, l.Sail.Hold)
		default:
			total += 1800
		}
	}
	w.voyage.Every = math.Max(1, math.Ceil(total/rideRows))
	return w
}

// ride rides the nominal drive and every drawn one. The error is why the nominal one cannot be marched.
func (w *onWater) ride(r *drive.Ride) error {
	var err error
	if w.marcher, err = w.one(r, &w.nominal); err != nil {
		return err
	}
	w.drawn = make([]*afloat, len(w.sample.Machines))
	explore.Parallel(len(w.drawn), func(i int) {
		m := w.sample.Machines[i]
		if m == nil {
			return
		}
		ride, err := m.Afloat()
		if err != nil {
			return
		}
		x := new(afloat)
		if _, err := w.one(ride, x); err == nil && x.balance.Why == "" {
			w.drawn[i] = x
		}
	})
	for _, x := range w.drawn {
		if x == nil {
			w.failed++
		}
	}
	return nil
}

func (w *onWater) one(r *drive.Ride, x *afloat) (*drive.Marcher, error) {
	w.still(r, x)
	x.sure = r.EdgeRider(w.push, SureMargin)
	x.chart = r.Map(w.speeds, w.pushes[:1])
	for _, p := range w.pushes {
		x.powers = append(x.powers, r.Balance(p))
	}
	bound := math.Inf(1)
	if s, err := r.Solve(drive.Condition{Speed: x.balance.HumpSpeed, Demand: w.push.Demand, Amount: w.push.Amount}); err == nil {
		bound = s.BatteryPower
	}
	for _, c := range w.charges {
		margin, given, err := -1.0, 0.0, error(nil)
		if !math.IsInf(bound, 0) {
			if margin, given, err = r.ClimbAt(c, x.balance.HumpSpeed, bound); err != nil {
				margin, given = -1, 0
			}
		}
		x.climb, x.given = append(x.climb, margin), append(x.given, given)
	}
	hold := func(v float64) (drive.Cruise, float64) {
		c, err := r.Cruise(v, false)
		if err != nil {
			return drive.Cruise{}, 0
		}
		return c, r.RunTime(c.Drive.BatteryPower)
	}
	for _, v := range w.cruises {
		c, t := hold(v)
		x.cruise, x.lasts = append(x.cruise, c), append(x.lasts, t)
	}
	m, err := drive.NewMarcher(r.Machine)
	if err != nil {
		return nil, err
	}
	x.limits = m.Limits
	climb := drive.RideLeg{ToPlane: true}
	climb.Condition = drive.Condition{Demand: w.push.Demand, Amount: w.push.Amount}
	if err := m.Sail(drive.Voyage{Legs: []drive.RideLeg{climb}}, &x.out); err != nil {
		return nil, err
	}
	x.climbed, x.climbEnd = x.out.Done[0], x.out.Ending
	if w.sample.Nominal == r.Machine {
		w.start = slices.Clone(x.out.Trace)
	}
	return m, m.Sail(w.voyage, &x.out)
}

// still is what takes no march.
func (w *onWater) still(r *drive.Ride, x *afloat) {
	x.balance = r.Balance(w.push)
	x.edge = r.EdgeRider(w.push, 0)
	x.quick, _ = r.QuickToPlane(w.push)
	if _, x.best, _ = r.BestRange(x.balance.Held.Speed); x.best.Speed > 0 {
		x.bestLasts = r.RunTime(x.best.Drive.BatteryPower)
	}
}

// figure gathers a figure of the nominal ride and of the drawn ones.
func (w *onWater) figure(unit string, of func(*afloat) float64) Figure {
	return figureOf(of(&w.nominal), columnOf(w.drawn, of), unit)
}

// share is that of the draws of which something is true; of the nominal ride without any.
func (w *onWater) share(of func(*afloat) bool) float64 {
	n, yes := 0, 0
	for _, x := range w.drawn {
		if x == nil {
			continue
		}
		if n++; of(x) {
			yes++
		}
	}
	if n == 0 {
		if of(&w.nominal) {
			return 1
		}
		return 0
	}
	return float64(yes) / float64(n)
}

// soonest gathers a figure that may be infinite.
func (w *onWater) soonest(unit string, of func(*afloat) float64) Figure {
	return soonestOf(of(&w.nominal), columnOf(w.drawn, of), unit)
}

// fill writes down what the rides gave.
func (a *RideAnswer) fill(w *onWater, r *drive.Ride, b drive.Balance, legs []drive.RideLeg) {
	a.Failed = alsoLost(a.Failed, w.failed, "no ride")
	out := b.Hump.Extrapolated()
	a.PlaneSpeed = w.figure("m/s", func(x *afloat) float64 { return x.balance.PlaneSpeed })
	a.HumpSpeed = w.figure("m/s", func(x *afloat) float64 { return x.balance.HumpSpeed })
	a.Margin = w.figure("%", func(x *afloat) float64 { return x.balance.Margin })
	a.HumpThrust = w.figure("N", func(x *afloat) float64 { return x.balance.HumpThrust })
	a.HumpDrag = coarse(w.figure("N", func(x *afloat) float64 { return x.balance.Hump.Drag }), out)
	a.HumpMethods, a.HumpOutside = methodWords(&b.Hump), b.Hump.Outside.Words()
	a.FromRest = w.figure("m/s", func(x *afloat) float64 { return x.balance.FromRest.Speed })
	a.Held = w.figure("m/s", func(x *afloat) float64 { return x.balance.Held.Speed })
	a.HeldState = b.Held.Craft
	a.EdgeRider = w.figure("kg", func(x *afloat) float64 { return x.edge })
	a.SureRider = w.figure("kg", func(x *afloat) float64 { return x.sure })
	a.Over = w.share(func(x *afloat) bool { return x.balance.Over() && x.climbed.Reached })
	given := 0 // of the charges, the one there is
	switch n := &w.nominal; {
	case b.Margin <= 0, !n.climbed.Reached && n.climb[given] <= 0:
		a.State = ClimbsNot
	case b.Margin < SureMargin, a.Margin.Low <= 0, !n.climbed.Reached:
		a.State = ClimbsMaybe
	default:
		a.State = ClimbsSurely
	}
	// the climb at full power, marched: what gets there later with the wind in its back is no climb
	planed := func(of func(drive.RideLegDone) float64) func(*afloat) float64 {
		return func(x *afloat) float64 {
			if x.climbed.Reached {
				return of(x.climbed)
			}
			return math.Inf(1)
		}
	}
	a.ToPlane = w.soonest("s", planed(func(d drive.RideLegDone) float64 { return d.End }))
	a.PlaneWay = w.soonest("m", planed(func(d drive.RideLegDone) float64 { return d.Distance }))
	for i, v := range w.speeds {
		c := w.nominal.chart
		p := RidePoint{Speed: v, Craft: c.Craft[i], Solved: c.Solved[0][i], Methods: methodWords(&c.Craft[i])}
		p.Smooth = w.figure("N", func(x *afloat) float64 { return x.chart.Craft[i].Drag })
		p.Drag = coarse(p.Smooth, c.Craft[i].Extrapolated())
		if p.Solved {
			p.Thrust = w.figure("N", func(x *afloat) float64 {
				if x.chart.Solved[0][i] {
					return x.chart.Thrust[0][i]
				}
				return c.Thrust[0][i]
			})
		}
		a.Curve = append(a.Curve, p)
	}
	for k := 1; k <= len(w.pushes); k++ {
		j := k % len(w.pushes) // full power last
		p := RidePower{Push: w.pushes[j]}
		p.FromRest = w.figure("m/s", func(x *afloat) float64 { return x.powers[j].FromRest.Speed })
		p.Planes = w.share(func(x *afloat) bool { return x.powers[j].Over() })
		a.Powers = append(a.Powers, p)
	}
	var pushes []drive.Push
	for i := range ridePowers {
		pushes = append(pushes, drive.Push{Demand: w.push.Demand, Amount: 1.25 * w.push.Amount * float64(i+1) / ridePowers})
	}
	a.Thrusts = r.Map(w.speeds, pushes)
	for i := range w.cruises {
		if w.nominal.cruise[i].Speed > 0 && w.nominal.lasts[i] > 0 {
			c := w.cruise(i)
			w.toEnd(&c)
			a.Cruises = append(a.Cruises, c)
		}
	}
	a.bests(w, r, b)
	for i, c := range w.charges {
		a.Climbs = append(a.Climbs, RideClimb{
			Charge: c, Power: w.figure("W", func(x *afloat) float64 { return x.given[i] }), Margin: w.figure("%", func(x *afloat) float64 { return x.climb[i] }),
		})
	}
	a.lastClimb(r, b, w)
	a.Doubts = w.doubts()
	a.march(w, legs)
}

func (w *onWater) cruise(i int) RideCruise {
	held := func(of func(*afloat) float64) func(*afloat) float64 {
		return func(x *afloat) float64 {
			if x.cruise[i].Speed == 0 {
				return of(&w.nominal)
			}
			return of(x)
		}
	}
	c := RideCruise{Cruise: w.nominal.cruise[i], Planes: w.nominal.cruise[i].Speed >= w.nominal.balance.PlaneSpeed}
	c.Power = w.figure("W", held(func(x *afloat) float64 { return x.cruise[i].Drive.BatteryPower }))
	c.Time = w.figure("s", held(func(x *afloat) float64 { return x.lasts[i] }))
	c.Range = w.figure("km", held(func(x *afloat) float64 { return x.lasts[i] * math.Max(0, x.cruise[i].Ground) }))
	return c
}

// toEnd rides the nominal drive at a speed from rest until something ends it, heat and all.
func (w *onWater) toEnd(c *RideCruise) {
	leg := drive.RideLeg{ToEnd: true}
	leg.Condition, leg.Sail = drive.Condition{Demand: w.push.Demand, Amount: w.push.Amount}, &drive.Sail{Hold: c.Speed}
	var out drive.Ridden
	if w.marcher.Sail(drive.Voyage{Legs: []drive.RideLeg{leg}}, &out) != nil {
		return
	}
	if out.Done[0].Speed < 0.999*c.Speed {
		c.Ends = "not reached from rest"
		return
	}
	c.Ends, c.Lasts, c.Way = endWords[out.Ending.Kind], out.Ending.Time, out.Distance
	for k, l := range w.marcher.Limits {
		if t := out.Reached[k]; t.Ever && (c.Limit == "" || t.Time < c.LimitAt) {
			c.Limit, c.LimitAt = l.Name, t.Time
		}
	}
}

// bests are the speeds of the longest way over the ground.
func (a *RideAnswer) bests(w *onWater, r *drive.Ride, b drive.Balance) {
	any, planing, ok := r.BestRange(b.Held.Speed)
	if !ok {
		return
	}
	lasts := func(c drive.Cruise) bool { return c.Speed > 0 && r.RunTime(c.Drive.BatteryPower) > 0 }
	one := func(c drive.Cruise) *RideCruise {
		t := r.RunTime(c.Drive.BatteryPower)
		exact := func(x float64, unit string) Figure {
			return Figure{Value: x, Low: x, High: x, Unit: quantity.MustUnit(unit)}
		}
		return &RideCruise{Cruise: c, Planes: c.Speed >= b.PlaneSpeed, Power: exact(c.Drive.BatteryPower, "W"), Time: exact(t, "s"), Range: exact(t*math.Max(0, c.Ground), "km")}
	}
	if lasts(any) {
		a.Best = one(any)
	}
	if lasts(planing) {
		a.BestPlaning = one(planing)
		w.toEnd(a.BestPlaning)
	}
}

// lastClimb seeks the charge below which the nominal drive no longer climbs.
func (a *RideAnswer) lastClimb(r *drive.Ride, b drive.Balance, w *onWater) {
	s, err := r.Solve(drive.Condition{Speed: b.HumpSpeed, Demand: w.push.Demand, Amount: w.push.Amount})
	if err != nil || !b.Over() {
		return
	}
	low, high := 0.0, r.Drive.Battery.Charge
	for range 20 {
		mid := 0.5 * (low + high)
		if m, _, err := r.ClimbAt(mid, b.HumpSpeed, s.BatteryPower); err == nil && m > 0 {
			high = mid
		} else {
			low = mid
		}
	}
	a.LastClimb = high
}

// march writes down what the legs came to.
func (a *RideAnswer) march(w *onWater, legs []drive.RideLeg) {
	n := &w.nominal.out
	for i, l := range legs {
		done := func(of func(drive.RideLegDone) float64) func(*afloat) float64 {
			return func(x *afloat) float64 { return of(x.out.Done[i]) }
		}
		a.Legs = append(a.Legs, RideLegAnswer{
			Text: l.Text, Begun: n.Done[i].Begun, Reached: w.share(func(x *afloat) bool { return x.out.Done[i].Reached }),
			Time:     w.figure("s", done(func(d drive.RideLegDone) float64 { return d.End - d.Start })),
			Distance: w.figure("m", done(func(d drive.RideLegDone) float64 { return d.Distance })),
			Speed:    w.figure("m/s", done(func(d drive.RideLegDone) float64 { return d.Speed })),
			Energy:   w.figure("Wh", done(func(d drive.RideLegDone) float64 { return d.Energy })),
		})
	}
	m := &spreadOf{march: drive.March{Legs: []drive.Leg{{Seconds: n.Ending.Time}}}, nominal: n.Marched, marcher: w.marcher}
	for _, x := range w.drawn {
		if x == nil {
			m.drawn, m.limits = append(m.drawn, nil), append(m.limits, nil)
			continue
		}
		m.drawn, m.limits = append(m.drawn, &x.out.Marched), append(m.limits, x.limits)
	}
	c := m.course("the ride", a.LegsFrom, -1, w.sample)
	a.Course, a.Start, a.Account, a.Battery, a.Closure = &c, w.start, n.Account, n.Battery, n.Closes()
	a.Distance = w.figure("km", func(x *afloat) float64 { return x.out.Distance })
}
