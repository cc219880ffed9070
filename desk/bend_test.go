package desk

import (
	"context"
	"math"
	"testing"

	"jetwright/drive"
)

// Each point of a curve is the state of the design with that number typed; where it stands the curve goes through the state
// as it is; and with a given thrust it is power that follows.
func TestBendsExact(t *testing.T) {
	b, _ := bookIn(t)
	p, _, err := b.Project()
	if err != nil {
		t.Fatal(err)
	}
	a, err := Bends(context.Background(), p, nil, []string{"nozzle"})
	if err != nil {
		t.Fatal(err)
	}
	if a.Thrust || len(a.Curves) == 0 || a.Curves[0].Path != "nozzle.diameter" {
		t.Fatalf("%+v", a)
	}
	k := a.Curves[0]
	for i, x := range map[int]string{0: "54 mm", 4: "60 mm", 8: "66 mm"} {
		q, err := b.Try("nozzle.diameter", x)
		if err != nil {
			t.Fatal(err)
		}
		s, err := LimitsAt(q, nil, Options{Nominal: true})
		if err != nil {
			t.Fatal(err)
		}
		want := s.State.Of("battery_power").Value
		if math.Abs(k.Y[i]-want) > 1e-9*want {
			t.Errorf("at %s it takes %g W, on the curve %g W at %g m", x, want, k.Y[i], k.X[i])
		}
	}
	// jet theory: at rest and a given thrust a wider nozzle takes less power in the jet (FROM MEMORY, momentum of an ideal jet)
	if !(k.Y[8] < k.Y[4]) {
		t.Errorf("a wider nozzle takes %g W, not less than %g W", k.Y[8], k.Y[4])
	}
	a, err = Bends(context.Background(), p, &drive.Condition{Demand: drive.BatteryPower, Amount: 3000}, []string{"motor"})
	if err != nil {
		t.Fatal(err)
	}
	if !a.Thrust || len(a.Curves) == 0 || len(a.Curves) > bendMost {
		t.Fatalf("%+v", a)
	}
	for i := 1; i < len(a.Curves); i++ {
		if a.Curves[i].moves() > a.Curves[i-1].moves() {
			t.Error("what moves it most does not come first")
		}
	}
	gone, stop := context.WithCancel(context.Background())
	stop()
	if _, err := Bends(gone, p, nil, []string{"nozzle"}); err == nil {
		t.Error("it was worked out though nobody waited")
	}
}
