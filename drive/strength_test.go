package drive

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"jetwright/quantity"
)

// atDuty works a drive out and solves it at its design point.
func atDuty(t testing.TB, d Drive) (*Machine, State) {
	t.Helper()
	m, err := d.Resolve()
	if err != nil {
		t.Fatal(err)
	}
	return m, solve(t, d, d.DutyCondition())
}

// A full pack turns a motor without load at its voltage by the speed constant, 100 rpm/V here, and the impeller by the reduction less.
func TestFreeSpeedExact(t *testing.T) {
	d := assumed(t)
	for _, reduction := range []float64{1, 2.5} {
		d.Shaft.Reduction = reduction
		m, s := atDuty(t, d)
		got, why := m.FreeSpeed(&s)
		want := d.Battery.FullVoltage() * 100 * 2 * math.Pi / 60 / reduction
		if why != "" || math.Abs(got-want) > 1e-9*want {
			t.Errorf("%g rad/s (%s), want %g", got, why, want)
		}
	}
}

// The limits of strength leave every figure of a state alone, and stand in the list by the same names whatever is typed of them.
func TestStrengthLimitsLaw(t *testing.T) {
	names := func(d Drive) (list []string, judged int) {
		m, s := atDuty(t, d)
		for _, l := range m.Limits(nil, s) {
			if l.Part == "shaft" || l.Part == "impeller" || l.Part == "housing" {
				list = append(list, l.Name)
				if l.NotJudged == "" {
					judged++
				}
			}
		}
		return list, judged
	}
	bare := assumed(t)
	typed := bare
	typed.ShaftBuild.Material, typed.ShaftBuild.BearingSpan, typed.ShaftBuild.Overhang = "1.4462", quantity.Some(0.1), quantity.Some(0.1)
	typed.ShaftBuild.FrontRating, typed.ShaftBuild.FrontStatic, typed.ShaftBuild.AftRating = quantity.Some(9e3), quantity.Some(5e3), quantity.Some(9e3)
	typed.ImpellerRow.Material, typed.ImpellerBuild.RootChord, typed.ImpellerBuild.RootThickness = "6061-T6", quantity.Some(0.04), quantity.Some(0.006)
	a, judgedBare := names(bare)
	b, judged := names(typed)
	if len(a) != len(b) {
		t.Fatalf("%d names with nothing typed, %d with it: %q, %q", len(a), len(b), a, b)
	}
	for i := range a {
		if a[i] != b[i] {
			t.Errorf("%q stands where %q stood", b[i], a[i])
		}
	}
	if judged < judgedBare+5 {
		t.Errorf("%d limits are judged with shaft and impeller typed, %d without", judged, judgedBare)
	}
}

// Whatever a drive is and does, each limit of strength has a margin that is a number, or says why it is not judged.
func TestStrengthLimitsFiniteLaw(t *testing.T) {
	base := assumed(t)
	base.Controller.PhaseCurrentLimit, base.Impeller.TipGap = quantity.Some(300), quantity.Some(0.5e-3)
	b := &base.ShaftBuild
	b.BearingSpan, b.SeatLength, b.KeyYield = quantity.Some(0.2), quantity.Some(0.02), quantity.Some(200e6)
	b.FrontRating, b.FrontStatic, b.AftRating, b.AftLength, b.Seal = quantity.Some(9e3), quantity.Some(5e3), quantity.Some(9e3), quantity.Some(0.03), "nitrile lip"
	base.ImpellerBuild.RootChord, base.ImpellerBuild.RootThickness = quantity.Some(0.04), quantity.Some(0.006)
	base.StatorBuild.RootChord, base.StatorBuild.RootThickness = quantity.Some(0.03), quantity.Some(0.003)
	base.Housing.BoltDiameter, base.Housing.BoltHold = quantity.Some(0.004), quantity.Some(900)
	s := schema(t)
	judged := 0
	rapid.Check(t, func(t *rapid.T) {
		d, c := draw(t, base, s)
		material := rapid.SampledFrom([]string{"316", "6061-T6", "PETG", "PLA", "7075"})
		d.ShaftBuild.Material, d.ImpellerRow.Material, d.StatorRow.Material, d.Housing.Material = material.Draw(t, "shaft"), material.Draw(t, "impeller"), material.Draw(t, "stator"), material.Draw(t, "housing")
		d.ShaftBuild.Support = rapid.SampledFrom([]string{"ahead", "stator"}).Draw(t, "support")
		d.ShaftBuild.AftBearing = rapid.SampledFrom([]string{"ball", "plain"}).Draw(t, "bearing")
		d.ShaftBuild.Overhang = quantity.Some(rapid.Float64Range(0.01, 0.19).Draw(t, "overhang"))
		d.HubMaking.BoreForm = rapid.SampledFrom([]string{"keyway", "flat", "clamp", "round"}).Draw(t, "bore")
		m, err := d.Resolve()
		if err != nil {
			return
		}
		st, err := m.Solve(c)
		if err != nil {
			return
		}
		for _, l := range m.Limits(nil, st) {
			if !HoldsTogether(l.Name) || l.NotJudged != "" {
				continue
			}
			judged++
			if x := l.Margin(); math.IsNaN(x) || math.IsInf(x, 0) || l.Allowed == 0 || l.Source == "" || l.Why == "" || len(l.Moves) == 0 {
				t.Errorf("%+v", l)
			}
		}
	})
	if judged < 200 {
		t.Errorf("only %d limits were judged", judged)
	}
}

func BenchmarkLimits(b *testing.B) {
	d := assumed(b)
	for _, c := range []struct {
		name   string
		change func(*Drive)
	}{{"bare", func(*Drive) {}}, {"strength", func(d *Drive) {
		d.ShaftBuild.Material, d.ShaftBuild.BearingSpan, d.ShaftBuild.Overhang = "1.4462", quantity.Some(0.1), quantity.Some(0.1)
		d.ImpellerRow.Material, d.ImpellerBuild.RootChord, d.ImpellerBuild.RootThickness = "6061-T6", quantity.Some(0.04), quantity.Some(0.006)
	}}} {
		x := d
		c.change(&x)
		m, s := atDuty(b, x)
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			var buf []quantity.Limit
			for b.Loop() {
				buf = m.Limits(buf[:0], s)
			}
		})
	}
}
