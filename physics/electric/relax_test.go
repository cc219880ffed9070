package electric

import (
	"math"
	"testing"

	"jetwright/quantity"
)

// relaxing is the small board with cells that relax, and a weak group of them.
func relaxing(t testing.TB) Chain {
	m, ctl, b := board()
	b.RelaxationFastShare, b.RelaxationFastTime = quantity.Some(0.2), quantity.Some(12)
	b.RelaxationSlowShare, b.RelaxationSlowTime = quantity.Some(0.15), quantity.Some(400)
	b.ResistanceImbalance = quantity.Some(0.3)
	c, err := NewChain(m, ctl, b)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// What a cell holds back, against Euler's own small steps for a current that rises in a straight line; at a constant
// current it settles at share times resistance times current, and pack and weakest cell then stand where the whole
// resistance puts them at once; after the current it goes away by half in 0.693 time constants; its heat is U²/r.
func TestRelaxExact(t *testing.T) {
	c := relaxing(t)
	b := c.battery
	whole := b.CellResistance * c.cell.factor(b.Charge, b.Temperature)
	from, to, time := 20.0, 90.0, 30.0
	var slow Relaxed
	const steps = 200000
	for n := range steps {
		each := (from + (to-from)*(float64(n)+0.5)/steps) / float64(b.Parallel)
		h := time / steps
		slow.Fast += h * (each*0.2*whole - slow.Fast) / 12
		slow.Slow += h * (each*0.15*whole - slow.Slow) / 400
	}
	u := c.Relaxation(Relaxed{}, from, to, time)
	near(t, "fast", u.Fast, slow.Fast, 1e-5)
	near(t, "slow", u.Slow, slow.Slow, 1e-5)
	two := c.Relaxation(c.Relaxation(Relaxed{}, from, 55, time/2), 55, to, time/2)
	near(t, "in two steps", two.Slow, u.Slow, 1e-12)
	if again := c.Relaxation(u, from, to, 0); again != u {
		t.Errorf("in no time %+v becomes %+v", u, again)
	}

	const current = 80.0
	settled := c.Relaxation(Relaxed{}, current, current, 1e6)
	near(t, "settled", settled.Fast+settled.Slow, 0.35*whole*current/float64(b.Parallel), 1e-12)
	near(t, "heat", c.RelaxationLoss(settled), float64(b.Series*b.Parallel)*0.35*whole*math.Pow(current/float64(b.Parallel), 2), 1e-12)
	voltage, weakest := c.openCircuit-current*c.packOhms, c.WeakestCell(c.openCircuit-current*c.packOhms, current)
	d := c
	d.Relax(settled)
	near(t, "pack", d.openCircuit-current*d.packOhms, voltage, 1e-12)
	near(t, "weakest cell", d.WeakestCell(d.openCircuit-current*d.packOhms, current), weakest, 1e-12)
	fresh := c
	fresh.Relax(Relaxed{})
	near(t, "at once", fresh.openCircuit-current*fresh.packOhms, c.openCircuit-current*(c.packOhms-0.35*(c.packOhms-b.JointResistance)), 1e-12)
	half := c.Relaxation(settled, 0, 0, 12*math.Ln2)
	near(t, "after the load", half.Fast, settled.Fast/2, 1e-12)
	if err := d.Recharge(b.Charge, b.Temperature); err != nil || d.openCircuit != c.openCircuit || d.packOhms != c.packOhms {
		t.Error("recharged, something of it is left")
	}
	plain := chain(t)
	if plain.Relaxing() || plain.Relaxation(u, 50, 50, 10) != (Relaxed{}) || plain.RelaxationLoss(u) != 0 {
		t.Error("cells that do not relax hold something back")
	}
	b.RelaxationSlowTime = quantity.Optional{}
	if r := b.Relaxation(); r.SlowShare != 0 || r.FastShare != 0.2 {
		t.Errorf("a share without its time: %+v", r)
	}
}

// At that power the weakest cell stands at its cut-off to the last digit; nothing is left where it is below it at rest; and a
// cut-off below half the voltage leaves the brown-out.
func TestPowerAtCutOffExact(t *testing.T) {
	c := relaxing(t)
	p := c.PowerAtCutOff()
	v, i, ok := ConstantPower(c.OpenCircuit(), c.PackResistance(), p)
	if !ok {
		t.Fatal("it does not pass")
	}
	near(t, "weakest cell", c.WeakestCell(v, i), c.battery.CutOff, 1e-10)
	c.battery.CutOff = 0.5
	near(t, "brown-out", c.PowerAtCutOff(), MostPower(c.OpenCircuit(), c.PackResistance()), 1e-12)
	c.battery.CutOff = 4.3
	near(t, "at rest", c.PowerAtCutOff(), 0, 0)
}
