// Command heat runs random networks of heat with the tool and with SciPy's stiff solvers in one run: a
// second opinion on the temperatures, and how long each takes.
package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"time"

	"jetwright/physics/heat"
	"jetwright/sidebyside/second"
)

const (
	networks = 100
	every    = 10.0 // s
	tight    = 1e-7 // K a step, for agreement
	usual    = 1e-3 // K a step, for time
)

// made is a network with its run, as the script gets it.
type made struct {
	Network heat.Network
	Legs    []heat.Leg
}

// random makes a network of 4 to 20 nodes with time constants from hundredths of a second to hours.
func random(r *rand.Rand) made {
	var n heat.Network
	size := 4 + r.IntN(17)
	name := func(i int) string { return fmt.Sprintf("node %d", i) }
	n.Nodes = append(n.Nodes, heat.Node{Name: "water", Fixed: true, Start: 285})
	for i := range size {
		n.Nodes = append(n.Nodes, heat.Node{Name: name(i), Capacity: math.Exp(12*r.Float64() - 3), Start: 285 + 10*r.Float64()})
		to := "water"
		if i > 0 {
			to = name(r.IntN(i))
		}
		n.Conductances = append(n.Conductances, heat.Conductance{Name: fmt.Sprint("tree ", i), From: name(i), To: to, Value: math.Exp(5*r.Float64() - 1)})
		if i > 1 {
			x := heat.Conductance{Name: fmt.Sprint("loop ", i), From: name(i), To: name(r.IntN(i - 1)), Value: math.Exp(4*r.Float64() - 2)}
			if r.IntN(4) == 0 {
				x.Law, x.Reference, x.Exponent = heat.ByDifference, 20, 0.25
			}
			n.Conductances = append(n.Conductances, x)
		}
		if r.IntN(2) == 0 {
			n.Sources = append(n.Sources, heat.Source{Name: fmt.Sprint("heat ", i), Node: name(i), Power: 30 * r.Float64(), Alpha: 0.002 * r.Float64(), Reference: 293})
		}
	}
	n.Streams = []heat.Stream{{Name: "coolant", Flow: 5 + 40*r.Float64(), Path: []string{"water", name(1), name(2), name(3)}}}
	m := made{Network: n}
	for range 4 {
		leg := heat.Leg{Duration: 60 + math.Floor(300*r.Float64()), Flow: []float64{n.Streams[0].Flow * (0.5 + r.Float64())}}
		for _, s := range n.Sources {
			leg.Power = append(leg.Power, s.Power*1.5*r.Float64())
		}
		m.Legs = append(m.Legs, leg)
	}
	return m
}

type answer struct {
	Solver  string
	Rows    [][][]float64 // of each network, tight
	Seconds []float64     // of each network, at the usual tolerance
}

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
}

func run() error {
	r := rand.New(rand.NewPCG(20, 26))
	var list []made
	for range networks {
		list = append(list, random(r))
	}
	ours := make([]heat.Record, networks)
	seconds := make([]float64, networks)
	for i, m := range list {
		s, err := heat.NewSystem(m.Network)
		if err != nil {
			return err
		}
		runner := heat.NewRunner(s)
		if err := runner.Run(&heat.Duty{Legs: m.Legs, Every: every, Tolerance: tight}, &ours[i]); err != nil {
			return fmt.Errorf("network %d: %w", i, err)
		}
		best := math.Inf(1)
		var rec heat.Record
		for range 9 {
			from := time.Now()
			if err := runner.Run(&heat.Duty{Legs: m.Legs, Every: every, Tolerance: usual}, &rec); err != nil {
				return err
			}
			best = math.Min(best, time.Since(from).Seconds())
		}
		seconds[i] = best
	}
	var answers []answer
	if err := second.SciPy(filepath.Join("heat", "heat.py"), map[string]any{"networks": list, "every": every, "usual": usual}, &answers); err != nil {
		return err
	}
	fmt.Printf("this tool   %8.3f ms a network (median of %d), %.3f ms the longest\n", 1e3*median(seconds), networks, 1e3*slices.Max(seconds))
	failed := false
	for _, a := range answers {
		worst, where := 0.0, 0
		for i, rows := range a.Rows {
			if len(rows) != len(ours[i].Times) {
				return fmt.Errorf("%s: network %d has %d rows, not %d", a.Solver, i, len(rows), len(ours[i].Times))
			}
			for j, row := range rows {
				for k, x := range row {
					if e := math.Abs(x - ours[i].Row(j)[k]); !(e <= worst) {
						worst, where = e, i
					}
				}
			}
		}
		ratios := make([]float64, networks)
		for i, t := range a.Seconds {
			ratios[i] = t / seconds[i]
		}
		fmt.Printf("%-8s    %8.3f ms a network, ratio %.0f (median; %.0f to %.0f); worst difference %.1e K (network %d)\n", a.Solver, 1e3*median(a.Seconds), median(ratios), slices.Min(ratios), slices.Max(ratios), worst, where)
		failed = failed || !(worst < 1e-4)
	}
	if failed {
		return fmt.Errorf("the two differ by more than 1e-4 K")
	}
	return nil
}

func median(x []float64) float64 {
	y := slices.Clone(x)
	slices.Sort(y)
	return 0.5 * (y[(len(y)-1)/2] + y[len(y)/2])
}
