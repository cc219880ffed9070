package design

import (
	"math"
	"strings"
	"testing"
)

const versioned = `
[duty]
thrust = "300 N"
[intake]
[impeller]
diameter = "94 mm"
hub_diameter = "40 mm"
[nozzle]
diameter = "60 mm ± 0.2 mm"
[motor]
speed_constant = "100 rpm/V"
winding_resistance = "20 mΩ"
[battery]
series = 12
parallel = 8
cell_capacity = "5 Ah"
`

// What makes another drive and what does not.
func TestVersionParts(t *testing.T) {
	was := read(t, versioned)
	for _, c := range []struct{ name, old, now, parts, own string }{
		{"nothing", "", "", "", ""},
		{"the duty", `"300 N"`, `"350 N"`, "", ""},
		{"the stand", "[duty]", "[stand]\nwater = \"pool\"\n[duty]", "", ""},
		{"a promise", "", "\n[[claim]]\nwhat = \"thrust\"\nsense = \"at least\"\nvalue = \"500 N\"\npower = \"6 kW\"\n", "", ""},
		{"what was assumed is typed", "[impeller]", "[impeller]\nefficiency = \"60 % ± 2 %\"", "", ""},
		{"measured on the finished part", "", "\n[built]\nnozzle.diameter = \"60.1 mm ± 0.02 mm\"\n", "", ""},
		{"the finished part is another", "", "\n[built]\nnozzle.diameter = \"58.1 mm ± 0.02 mm\"\n", "nozzle", "nozzle.diameter"},
		{"another nozzle", `"60 mm ± 0.2 mm"`, `"56 mm ± 0.2 mm"`, "nozzle", "nozzle.diameter"},
		{"another impeller", `"94 mm"`, `"98 mm"`, "impeller", "impeller.efficiency"},
		{"another pack", "parallel = 8", "parallel = 10", "battery", "battery.cell_resistance"},
	} {
		text := strings.Replace(versioned, c.old, c.now, 1)
		if c.old == "" {
			text = versioned + c.now
		}
		now := read(t, text)
		v := now.Version(was)
		if c.parts == "" {
			if v != nil {
				t.Errorf("%s makes another drive: %+v", c.name, v.Changed)
			}
			continue
		}
		if v == nil || strings.Join(v.PartList(), " ") != c.parts || !strings.Contains(" "+strings.Join(v.Own, " ")+" ", " "+c.own+" ") {
			t.Errorf("%s: %+v", c.name, v)
		}
	}
}

// A later drive with all scores at zero gives the earlier one as it is typed; what both share moves with the later one, what the earlier
// has alone does not, and a changed part keeps three quarters of the variance.
func TestVersionDrawExact(t *testing.T) {
	was := read(t, versioned)
	now := read(t, strings.Replace(strings.Replace(versioned, `"60 mm ± 0.2 mm"`, `"56 mm ± 0.2 mm"`, 1), "[nozzle]", "[nozzle]\nangle = \"3 deg\"", 1))
	v := now.Version(was)
	shared, own := make([]float64, len(now.Uncertain())), make([]float64, len(v.Own))
	nominal := now.Nominal()
	d := v.Draw(&nominal, shared, own)
	if a, b := d.Nozzle.Diameter, was.Nominal().Nozzle.Diameter; math.Abs(a-b) > 1e-12 || d.Nozzle.Angle != was.Nominal().Nozzle.Angle || math.Abs(d.Impeller.Efficiency-nominal.Impeller.Efficiency) > 1e-12 {
		t.Errorf("nozzle %g m, want %g", a, b)
	}
	score := func(path string) *float64 {
		for j, in := range now.Uncertain() {
			if in.Path == path {
				return &shared[j]
			}
		}
		t.Fatal(path)
		return nil
	}
	*score("impeller.efficiency"), *score("nozzle.diameter"), *score("nozzle.loss") = 1, 1, 1
	d = v.Draw(&nominal, shared, own)
	x, _ := now.Value("impeller.efficiency")
	if phi := 0.8413447460685429; math.Abs(d.Impeller.Efficiency-x.Quantile(phi)) > 1e-9 { // Φ(1), any table of the normal distribution
		t.Errorf("efficiency %g, want %g", d.Impeller.Efficiency, x.Quantile(phi))
	}
	if math.Abs(d.Nozzle.Diameter-0.060) > 1e-9 {
		t.Errorf("the earlier nozzle moves with the later one: %g m", d.Nozzle.Diameter)
	}
	y, _ := now.Value("nozzle.loss")
	if want := y.Quantile(0.5 * math.Erfc(-math.Sqrt(0.75)/math.Sqrt2)); math.Abs(d.Nozzle.Loss-want) > 1e-12 {
		t.Errorf("loss %g, want %g", d.Nozzle.Loss, want)
	}
}
