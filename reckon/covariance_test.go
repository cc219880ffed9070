package reckon

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"jetwright/bench"
	"jetwright/drive"
	"jetwright/quantity"
)

// What plateaus share travels into the reckoning: instrument, tare and friction between plateaus, a clock between the figures of
// one, each with its sign. The covariances that the reckoning's unknowns make are those of the plateaus' budgets.
func TestPlateauCovarianceLaw(t *testing.T) {
	var list []bench.Plateau
	for i, w := range []float64{1000, 2000, 3000} {
		thrust, down := 60*math.Pow(w, 2.0/3)/8, i == 2
		budget := func(value, limits, scatter float64, name string, shared ...bench.Component) bench.Figure {
			f := bench.Figure{Value: value, Limits: limits, Repeat: scatter, Instrument: name, Cleared: true, FrictionTaken: true}
			f.Budget = append([]bench.Component{{Name: "scatter", U: scatter}}, shared...)
			return f
		}
		clock := bench.Component{Name: "clock", U: 0.004 * thrust, Shared: fmt.Sprintf("clock of step %d", i)}
		pull := budget(thrust, 0.02*thrust, 0.004*thrust, "scale",
			bench.Component{Name: "tare", U: 1.5, Shared: "tare of the day"}, bench.Component{Name: "friction", U: 2, Shared: "friction of the day", Against: down}, clock)
		pull.Channel = bench.Thrust
		pull.Budget = append(pull.Budget, bench.Component{Name: "instrument", Rectangle: true, U: pull.Limits / math.Sqrt(3), Shared: pull.SharedName()})
		clock.U = 0.005 * w
		power := budget(w, 0.03*w, 0.002*w, "meter", clock)
		power.Channel = bench.Power
		power.Budget = append(power.Budget, bench.Component{Name: "instrument", Rectangle: true, U: power.Limits / math.Sqrt(3), Shared: power.SharedName()})
		list = append(list, bench.Plateau{Name: fmt.Sprintf("step %d", i+1), PowerPlace: "battery", Held: quantity.Some(60), Figures: []bench.Figure{pull, power}})
	}
	d := read(t, fmt.Sprintf(board, noCavitation, "open", ""))
	m := newModel(sample(t, d, 0), []Evidence{{Plateaus: list}}, Options{})
	rng := rand.New(rand.NewPCG(3, 3))
	const n = 200000
	var sums, powers [3]float64
	var between, own [3][3]float64
	y := make([]float64, len(m.coords))
	for range n {
		for j := range y {
			if !m.coords[j].physical {
				y[j] = rng.NormFloat64()
			}
		}
		var pull, power [3]float64
		m.allOf(func(i int, x *prepared) {
			s := drive.State{Thrust: x.rows[0].figure.Value}
			pull[i] = m.shown(x, &x.rows[0], &s, y, 0) - s.Thrust
			power[i] = x.demand.Value - x.condition(y).Amount
		})
		for i := range 3 {
			sums[i] += pull[i] / n
			powers[i] += power[i] / n
			for k := range 3 {
				between[i][k] += pull[i] * pull[k] / n
				own[i][k] += pull[i] * power[k] / n
			}
		}
	}
	want := bench.Covariance(list, bench.Thrust)
	for i := range 3 {
		for k := range 3 {
			c := want.At(i, k)
			if i == k {
				scatter := list[i].Figures[0].Repeat
				c -= scatter * scatter // it is the residual's own
			}
			size := math.Sqrt(want.At(i, i) * want.At(k, k))
			if got := between[i][k] - sums[i]*sums[k]; !(math.Abs(got-c) < 0.02*size) {
				t.Errorf("pulls of steps %d and %d: covariance %.3f, of the plateaus' budgets %.3f", i+1, k+1, got, c)
			}
			shared := 0.0
			if i == k {
				shared = 0.004 * list[i].Figures[0].Value * 0.005 * list[i].Figures[1].Value
			}
			width := math.Sqrt(want.At(i, i)) * 0.018 * list[k].Figures[1].Value
			if got := own[i][k] - sums[i]*powers[k]; !(math.Abs(got-shared) < 0.02*width) {
				t.Errorf("pull of step %d and power of step %d: covariance %.3f, shared %.3f", i+1, k+1, got, shared)
			}
		}
	}
}

// Of a power that is volts times amperes by one voltmeter, the voltage's own error is told from that of the power: seen by the fit, a
// voltage that stands 1 % high makes the power 1 % high.
func TestSharedVoltmeterExact(t *testing.T) {
	s := bench.Setup{}
	p := bench.FromReading("reading 1", quantity.Place{}, voltsAndAmps{"battery_voltage": "50.0(5) V", "battery_current": "40.0(4) A", "thrust": "150 N", "held": "60 s"}, s)
	d := read(t, fmt.Sprintf(board, noCavitation, "open", ""))
	m := newModel(sample(t, d, 0), []Evidence{{Plateaus: []bench.Plateau{p}}}, Options{})
	y := make([]float64, len(m.coords))
	for j, c := range m.coords {
		if c.name == "battery voltage by controller voltage" {
			y[j] = 1
		}
	}
	m.allOf(func(_ int, x *prepared) {
		if got := x.condition(y).Amount; math.Abs(got-(2000-0.5*40)) > 1e-9 {
			t.Errorf("the voltmeter 0.5 V high leaves %.3f W of 2000 W, want 1980", got)
		}
		for i := range x.rows {
			if r := &x.rows[i]; r.figure.Channel == bench.BatteryVoltage {
				st := drive.State{}
				st.Supply.BatteryVoltage = 49
				if got := m.shown(x, r, &st, y, 0); math.Abs(got-49.5) > 1e-9 {
					t.Errorf("it shows %g V at 49 V", got)
				}
			}
		}
	})
}

// voltsAndAmps is a reading as it is typed.
type voltsAndAmps map[string]string

func (v voltsAndAmps) Value(key string) (quantity.Value, bool) {
	text, ok := v[key]
	if !ok {
		return quantity.Value{}, false
	}
	x, err := quantity.Parse(text)
	return x, err == nil
}

func (v voltsAndAmps) Text(key string) (string, bool) {
	t, ok := v[key]
	return t, ok
}
