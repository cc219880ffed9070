package project

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"jetwright/design"
	"jetwright/notice"
)

func tableOf(t testing.TB, text string) (*SimulationTable, error) {
	t.Helper()
	folder := t.TempDir()
	if err := os.WriteFile(filepath.Join(folder, "s.csv"), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return (&Project{Folder: folder}).Table(design.ClaimTable{File: "s.csv"})
}

// One table in four dialects is the same numbers in SI; what is not known is named and left out.
func TestTableDialects(t *testing.T) {
	for name, text := range map[string]string{
		"commas":     "shaft power [kW],rotor speed [rpm],thrust [kgf],mesh\n1.5,2400,20.5,fine\n3,3000,34,fine\n",
		"semicolons": "# by hand\n\nshaft power [kW]; Rotor  Speed [rpm]; thrust [kgf]; mesh\n1,5; 2400; 20,5; fine\n3; 3000; 34; fine\n",
		"tabs":       "\ufeffshaft power [W]\trotor speed [rpm]\tthrust [N]\r\n1500\t2400\t201.036325\r\n3000\t3000\t333.4261\r\n",
		"quotes":     "\"shaft power [kW]\",\"rotor speed [rpm]\",\"thrust [kgf]\"\n\"1.5\",2400,20.5\n,,\n3,3000,34\n",
	} {
		x, err := tableOf(t, text)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if len(x.Rows) != 2 {
			t.Errorf("%s: %d rows", name, len(x.Rows))
			continue
		}
		for column, want := range map[string]float64{"shaft power": 1500, "rotor speed": 2400 * 2 * math.Pi / 60, "thrust": 20.5 * 9.80665} {
			if got := x.Rows[0].Figures[column]; math.Abs(got/want-1) > 1e-9 {
				t.Errorf("%s: %s is %g, want %g", name, column, got, want)
			}
		}
		if mesh := strings.Contains(text, "mesh"); mesh != (len(x.Notices) == 1) {
			t.Errorf("%s: %v", name, x.Notices)
		}
	}
}

// Whatever a file holds, it is a table or a message with its place.
func FuzzTable(f *testing.F) {
	for _, s := range []string{"", "thrust [N]", "power [W],thrust [N]\n1,2\n", "power [W];thrust [N]\n1,5;\"2\n", "speed [m/s]\tflow [L/s]\tpower [kW]\n-1\t2\t3", "power [W],power [W],thrust [N]\n1,2,3", "power [W],thrust [N]\nNaN,Inf\n", "\xff\xfe", "power [],thrust [N]\n1,1"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		x, err := tableOf(t, text)
		if err != nil {
			l, ok := err.(notice.List)
			if !ok || len(l) == 0 || l[0].What == "" || l[0].Place.File == "" {
				t.Fatalf("%q: %v", text, err)
			}
			return
		}
		for _, r := range x.Rows {
			for name, v := range r.Figures {
				if math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
					t.Fatalf("%q: %s is %g on line %d", text, name, v, r.Line)
				}
			}
		}
	})
}
