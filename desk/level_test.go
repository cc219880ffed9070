package desk

import (
	"math"
	"testing"

	"jetwright/bench"
	"jetwright/drive"
	"jetwright/project"
)

// A level that fell by 20 mm in the mean of the plateaus leaves the shaft line as much higher over the water;
// where nothing was different nothing is adjusted.
func TestLevelReachesReckoningExact(t *testing.T) {
	if adjusted(&project.Run{}, []bench.Plateau{{}, {}}) != nil {
		t.Error("a run like the design is adjusted")
	}
	d := drive.Drive{}
	d.Stand.ShaftHeight = -0.15
	adjusted(&project.Run{}, []bench.Plateau{{Rise: -0.01}, {Rise: -0.03}})(&d)
	if math.Abs(d.Stand.ShaftHeight+0.13) > 1e-12 {
		t.Errorf("the shaft line is at %g m, want −0.13 m", d.Stand.ShaftHeight)
	}
}
