package report

import (
	"math"
	"testing"

	"jetwright/bench"
	"jetwright/desk"
)

// Whatever logs a run was reduced from, its tables are logs that are read, a row a plateau, and hold no
// figure that is none.
func FuzzTables(f *testing.F) {
	f.Add([]byte("time [s],power [W],pull [N]\n0,0,1\n1,0,1\n2,0,1\n3,50,9\n4,50,9\n20,50,9\n21,50,9\n22,51,9\n23,50,9\n24,49,9\n25,50,9\n26,50,9\n27,50,9\n30,50,9\n"))
	f.Add([]byte("t [s];power at the shaft [W];phase current as peak [A];rpm;winding temp [°C]\n0;0,5;0;0;15\n0,5;100;4;900;15\n40;101;4;901;16\n80;300;9;1300;17\n120;301;9;1301;17,5\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		l, faults := bench.GuessLayout("x", data)
		if faults.Fatal() != nil {
			return
		}
		log, faults := bench.ReadLog("x", data, l)
		if faults.Fatal() != nil {
			return
		}
		place, convention := l.Said()
		r, err := bench.Reduce([]bench.Source{{Log: log, PowerPlace: place, Convention: convention}}, bench.ReduceOptions{Run: "x"})
		if err != nil || r == nil {
			return
		}
		d := &desk.ReducedDay{Reduction: r, Coefficients: make([]bench.Coefficients, len(r.Plateaus))}
		for name, table := range map[string][]byte{"channels": ChannelsCSV(d), "plateaus": PlateausCSV(d)} {
			back, faults := bench.GuessLayout(name, table)
			if faults.Fatal() != nil {
				if name == "plateaus" && settledRows(r) < 2 {
					continue // a single row of numbers teaches nothing
				}
				t.Fatalf("the %s cannot be read back: %v\n%s", name, faults, table)
			}
			log, faults := bench.ReadLog(name, table, back)
			if err := faults.Fatal(); err != nil {
				if name == "plateaus" {
					continue
				}
				t.Fatalf("the %s cannot be read back: %v\n%s", name, err, table)
			}
			for _, v := range log.Values {
				for _, x := range v {
					if math.IsInf(x, 0) {
						t.Fatalf("the %s hold what has no end\n%s", name, table)
					}
				}
			}
			if name == "plateaus" && len(log.Left) == 0 && log.Rows() != len(r.Plateaus) {
				t.Fatalf("%d plateaus are read back as %d rows\n%s", len(r.Plateaus), log.Rows(), table)
			}
		}
	})
}

// settledRows counts the plateaus whose row holds no words but yes.
func settledRows(r *bench.Reduction) int {
	n := 0
	for _, p := range r.Plateaus {
		if p.Unsettled == "" {
			n++
		}
	}
	return n
}
