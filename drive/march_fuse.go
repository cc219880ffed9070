package drive

// Fused is how far a march has gone towards melting the battery's fuse.
type Fused struct {
	Share   float64 // of its melting time, each stretch by the time of its own current; 1 is molten
	Over    float64 // s beyond the first current of its curve
	Most    float64 // current, A
	Melts   Reached // when the share reaches 1
	Current float64 // A at that moment
}

// fuse adds what a stretch of a march uses of the fuse's melting time. It cools in no pause, which is on the safe side for
// who wants to arrive.
//
//	Σ Δt·½·[1/t(I_a) + 1/t(I_b)] ≥ 1
//
//	t(I)  melting time by the fuse's curve, s
//
// Source: own.
func (m *Machine) fuse(f *Fused, a, b *Row, from float64) {
	if len(m.Drive.Battery.FuseLoads) == 0 {
		return
	}
	rate := func(current float64) float64 {
		f.Most = max(f.Most, current)
		if t, ok := m.Drive.Battery.FuseMelts(current); ok {
			return 1 / t
		}
		return 0
	}
	before, after := rate(a.BatteryCurrent), rate(b.BatteryCurrent)
	dt := b.Time - a.Time
	if dt <= 0 || before+after == 0 {
		return
	}
	f.Over += dt
	more := dt * 0.5 * (before + after)
	if f.Share < 1 && f.Share+more >= 1 {
		f.Melts, f.Current = Reached{Time: from + a.Time + dt*(1-f.Share)/more, Leg: a.Leg, Ever: true}, b.BatteryCurrent
	}
	f.Share += more
}
